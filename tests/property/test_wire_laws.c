/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of the wires of any coach. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "altered.h"
#include "laws.h"
#include "rigbudget/wiring.h"
#include "suites.h"

/* ---- a job on thicker and thicker wire ---- */

static rig_wire_job job_of(const rig_wiring_run *run, const rig_wiring_findings *findings)
{
	return (rig_wire_job){.supply = run->supply,
		.volts_v = run->volts_v,
		.amps_a = run->amps_a.likely,
		.continuous_a = run->continuous_a.likely,
		.power_factor = run->power_factor,
		.length_m = rig_figure_given(run->length_m) ? run->length_m.likely : 0,
		.drop_frac = run->drop_limit_frac,
		.insulation_c = run->insulation_c.likely,
		.terminal_c = rig_figure_given(run->terminal_c) ? run->terminal_c.likely : 0,
		.ambient_c = run->ambient_c.likely,
		.bundle = run->bundle,
		.next_size = findings->next_size,
		.copper = findings->copper};
}

static const char *thicker_is_no_worse(const rig_wire_rating *thin, const rig_wire_rating *thick)
{
	if (!law_at_least(thick->ampacity_a, thin->ampacity_a) ||
		!law_at_least(thick->fuse_limit_a, thin->fuse_limit_a))
		return "a thicker wire may carry less";
	if (!law_at_least(thin->copper_c, thick->copper_c))
		return "a thicker wire is warmer";
	return law_at_least(thin->drop_v, thick->drop_v) ? NULL : "a thicker wire loses more volts";
}

static const char *gauges_are_in_order(const rig_wire_job *job)
{
	rig_wire_rating thin, thick;
	bool any = false;
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++) {
		if (rig_wire_rate(job, rig_conductor_size_at(i)->awg, &thick) != RIG_OK)
			continue;
		const char *broken = any ? thicker_is_no_worse(&thin, &thick) : NULL;
		if (broken != NULL)
			return broken;
		thin = thick;
		any = true;
	}
	return NULL;
}

/* ---- the gauge chosen ---- */

/* A quarter of the continuous amps on top is the table's and the terminals' to bear, not that of
 * heat and bundle: [NFPA-70] 210.19(A)(1). */
static bool will_do(const rig_wire_job *job, const rig_wire_choice *choice, int awg)
{
	rig_wire_rating rating;
	if (rig_wire_rate(job, awg, &rating) != RIG_OK)
		return false;
	const double most_a = job->next_size ? rating.rounded_a : rating.fuse_limit_a;
	const double need_a = choice->need_a * (1 - 1e-9);
	return choice->fuse_a <= most_a * (1 + 1e-9) && rating.table_a >= need_a &&
	       (rating.terminal_a <= 0 || rating.terminal_a >= need_a) &&
	       job->amps_a <= rating.ampacity_a * (1 + 1e-9) &&
	       rating.drop_frac <= job->drop_frac * (1 + 1e-9);
}

static const char *choice_is_the_thinnest(const rig_wire_job *job)
{
	rig_wire_choice choice;
	if (rig_wire_choose(job, &choice) != RIG_OK)
		return NULL;
	const double need_a = rig_fuse_need_a(job->amps_a, job->continuous_a);
	const int thinnest = job->supply == RIG_DC ? 18 : 14;
	if (choice.fuse_a < need_a * (1 - 1e-9))
		return "the fuse chosen is too small for the load";
	if (!will_do(job, &choice, choice.wire.awg))
		return "the wire chosen breaks a rule";
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++) {
		const int awg = rig_conductor_size_at(i)->awg;
		if (awg > choice.wire.awg && awg <= thinnest && will_do(job, &choice, awg))
			return "a thinner wire than the one chosen would do";
	}
	return NULL;
}

static const char *jobs_hold(const subject *it)
{
	const rig_wiring_options options = {
		it->number % 3 == 0 ? RIG_COPPER_SAE : RIG_COPPER_AWG, it->number % 4 == 0};
	rig_wiring_findings *findings = NULL;
	if (rig_wiring_study(it->coach, &options, &findings) != RIG_OK)
		return NOT_ASKED;
	const char *broken = NOT_ASKED;
	for (size_t i = 0; i < findings->n_runs; i++) {
		const rig_wiring_run *run = &findings->runs[i];
		if (!rig_figure_given(run->amps_a) || (broken != NULL && broken != NOT_ASKED))
			continue;
		const rig_wire_job job = job_of(run, findings);
		broken = gauges_are_in_order(&job);
		if (broken == NULL)
			broken = choice_is_the_thinnest(&job);
	}
	rig_wiring_free(findings);
	return broken;
}

/* ---- a coach rewired with the next thicker gauge ---- */

/* Printed gauges of the table, thickest last. */
static const char *thicker(const char *awg, char text[16])
{
	for (size_t i = 0; awg != NULL && i + 1 < rig_n_conductor_sizes(); i++) {
		char own[16];
		const int here = rig_conductor_size_at(i)->awg;
		const int next = rig_conductor_size_at(i + 1)->awg;
		snprintf(own, sizeof own, here > 0 ? "%d" : "%d/0", here > 0 ? here : 1 - here);
		snprintf(text, 16, next > 0 ? "%d" : "%d/0", next > 0 ? next : 1 - next);
		if (strcmp(own, awg) == 0)
			return text;
	}
	return awg;
}

static const rig_wiring_rule BY_GAUGE[] = {
	RIG_WIRING_DROP, RIG_WIRING_AMPACITY, RIG_WIRING_FUSE_WIRE};

static const char *no_graver(const rig_wiring_findings *one, const rig_wiring_findings *two)
{
	if (one->n_runs != two->n_runs)
		return "thicker wire makes other runs";
	for (size_t i = 0; i < one->n_runs; i++)
		for (int r = 0; r < COUNT(BY_GAUGE); r++)
			if (two->runs[i].state[BY_GAUGE[r]] > one->runs[i].state[BY_GAUGE[r]])
				return "a rule is broken by thicker wire";
	return NULL;
}

static const char *thicker_wire_breaks_no_rule(const subject *it)
{
	altered other;
	rig_wire wires[ALTERED_ITEMS];
	char text[2 * ALTERED_ITEMS][16];
	bool any = false;
	altered_of(&other, it->coach);
	other.coach.wires = wires;
	for (size_t i = 0; i < it->coach->n_wires; i++) {
		wires[i] = it->coach->wires[i];
		wires[i].awg = thicker(wires[i].awg, text[i]);
		any = any || wires[i].awg != it->coach->wires[i].awg;
	}
	for (size_t i = 0; i < it->coach->n_circuits; i++) {
		const char *awg = other.circuits[i].awg;
		other.circuits[i].awg = thicker(awg, text[ALTERED_ITEMS + i]);
		any = any || other.circuits[i].awg != awg;
	}
	rig_wiring_findings *one = NULL, *two = NULL;
	const char *broken = NOT_ASKED;
	if (any && rig_wiring_study(it->coach, NULL, &one) == RIG_OK &&
		rig_wiring_study(&other.coach, NULL, &two) == RIG_OK)
		broken = no_graver(one, two);
	rig_wiring_free(one);
	rig_wiring_free(two);
	return broken;
}

static const law_row WIRES[] = {
	{"wires keep to their order", jobs_hold, 300},
	{"thicker wire breaks no rule", thicker_wire_breaks_no_rule, 300},
};

START_TEST(wires_of_any_coach_obey)
{
	laws_hold(WIRES, COUNT(WIRES), _i);
}
END_TEST

Suite *wire_laws_suite(void);
Suite *wire_laws_suite(void)
{
	Suite *suite = suite_create("wire_laws");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 600);
	tcase_add_loop_test(all, wires_of_any_coach_obey, 0, N_LAW_PARTS);
	suite_add_tcase(suite, all);
	return suite;
}
