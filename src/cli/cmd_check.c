/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "cli/commands.h"
#include "cli/session.h"

/* The largest receptacle is listed first: the first one that the cord fits without an adapter. */
static const rig_shore_budget *budget_on_own_cord(
	const rig_shore_findings *findings, const rig_shore_set *set)
{
	for (size_t i = 0; i < findings->n_supplies; i++)
		if (!findings->supplies[i].adapter)
			return &set->budgets[i];
	return &set->budgets[0];
}

static const char *element_name(
	const rig_coach *coach, const rig_shore_budget *budget, char *text, size_t room)
{
	if (budget->limiting == RIG_SHORE_CIRCUIT) {
		const rig_circuit *circuit = &coach->circuits[budget->limiting_index];
		snprintf(text, room, "circuit %s",
			circuit->name != NULL ? circuit->name : circuit->id);
	} else if (budget->limiting == RIG_SHORE_LEG) {
		snprintf(text, room, "leg %d", budget->limiting_index + 1);
	} else {
		snprintf(text, room, "%s", rig_shore_element_text(budget->limiting));
	}
	return text;
}

/* One line for a set that is not carried by the coach's own cord; true if it fails the check. */
static bool tell_set(const rig_shore_findings *findings, const rig_shore_set *set)
{
	const rig_shore_budget *budget = budget_on_own_cord(findings, set);
	const bool fails =
		budget->verdict == RIG_SHORE_OVER || budget->verdict == RIG_SHORE_OVER_CONTINUOUS;
	if (budget->verdict == RIG_SHORE_FITS)
		return false;
	char element[128];
	printf("%s: %s: %.0f A asked of %.0f A on %s, continuous loads counted at 125 %%: %s\n",
		fails ? "fails" : "note",
		set->name != NULL ? set->name : "all that draws continuously",
		budget->limiting_flow.loaded_a.likely, budget->limiting_flow.limit_a,
		element_name(findings->coach, budget, element, sizeof element),
		rig_shore_verdict_text(budget->verdict));
	return fails;
}

int run_check(const cli_options *options)
{
	cli_session session = {.tell_remarks = true};
	rig_shore_findings *findings = NULL;
	size_t n_fails = 0;
	int status = session_open(&session, options);
	if (status != EXIT_FINE)
		goto out;
	const rig_shore_options verdicts = {.verdicts_only = true};
	const rig_status result = rig_shore_study(session.coach, &verdicts, &findings);
	if (result != RIG_OK) {
		status = exit_for(result);
		goto out;
	}
	printf("%s reads well: %zu circuits, %zu loads, %zu banks, %zu solar arrays\n",
		options->arguments[0], session.coach->n_circuits, session.coach->n_loads,
		session.coach->n_banks, session.coach->n_arrays);
	for (size_t i = 0; i < findings->n_sets; i++)
		if (findings->sets[i].kind != RIG_SHORE_SET_EVERYTHING)
			n_fails += tell_set(findings, &findings->sets[i]);
	puts(n_fails == 0
			? "What is named to run together holds on the coach's own cord. This is a "
			  "sum\nof figures; it does not judge wiring, terminals or protection."
			: "What fails is a sum of figures; a licensed electrician or a certified\n"
			  "technician judges the installation.");
	status = n_fails == 0 ? EXIT_FINE : EXIT_FAILS;
out:
	rig_shore_free(findings);
	session_close(&session);
	return status;
}
