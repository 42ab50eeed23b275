/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/session.h"
#include "report/shore_words.h"

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
	const rig_shore_budget *budget = &set->budgets[rig_shore_own_supply(findings)];
	const bool fails =
		budget->verdict == RIG_SHORE_OVER || budget->verdict == RIG_SHORE_OVER_CONTINUOUS;
	if (budget->verdict == RIG_SHORE_FITS)
		return false;
	char element[128];
	printf("%s: %s: %.0f A asked of %.0f A on %s, continuous loads counted at 125 %%: %s\n",
		fails ? "fails" : "note",
		set->name != NULL ? set->name : rig_shore_kind_said(set->kind),
		budget->limiting_flow.loaded_a.likely, budget->limiting_flow.limit_a,
		element_name(findings->coach, budget, element, sizeof element),
		rig_shore_verdict_text(budget->verdict));
	return fails;
}

/* That everything at once is too much says nothing, unless there is no smaller set. */
static bool is_judged(const rig_shore_findings *findings, const rig_shore_set *set)
{
	return set->kind != RIG_SHORE_SET_EVERYTHING || findings->n_sets == 1;
}

static void tell_counts(const char *file, const rig_coach *coach)
{
	const struct {
		size_t n;
		const char *one, *many;
	} counts[] = {{coach->n_circuits, "circuit", "circuits"}, {coach->n_loads, "load", "loads"},
		{coach->n_banks, "bank", "banks"},
		{coach->n_arrays, "solar array", "solar arrays"}};
	printf("%s reads well:", strcmp(file, "-") == 0 ? "standard input" : file);
	for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++)
		printf("%s %zu %s", i > 0 ? "," : "", counts[i].n,
			counts[i].n == 1 ? counts[i].one : counts[i].many);
	putchar('\n');
}

static void tell_end(const rig_coach *coach, size_t n_fails)
{
	if (n_fails > 0)
		puts("What fails is a sum of figures; a licensed electrician or a certified\n"
		     "technician judges the installation.");
	else if (coach->n_together > 0)
		puts("What is named to run together holds on the coach's own cord. This is a "
		     "sum\nof figures; it does not judge wiring, terminals or protection.");
	else
		puts("The file names nothing that runs together (`together`). What was tried "
		     "in its\nplace holds on the coach's own cord. This is a sum of figures; it "
		     "does not\njudge wiring, terminals or protection.");
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
	tell_counts(options->arguments[0], session.coach);
	for (size_t i = 0; i < findings->n_sets; i++)
		if (is_judged(findings, &findings->sets[i]))
			n_fails += tell_set(findings, &findings->sets[i]);
	tell_end(session.coach, n_fails);
	status = n_fails == 0 ? EXIT_FINE : EXIT_FAILS;
out:
	rig_shore_free(findings);
	session_close(&session);
	return status;
}
