/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to measure next on shore power, by hand: amps are watts / 120, sums are straight. */
#include <stdio.h>

#include "read_coach.h"
#include "rigbudget/shed.h"
#include "rigbudget/shore.h"
#include "rigbudget/voltage.h"
#include "rigbudget/wiring.h"
#include "suites.h"

#define HEATER(id, low, likely, high)                                                              \
	"{\"id\": \"" id "\", \"supply\": \"ac\", \"behaviour\": \"resistive\", \"running_w\": "   \
	"{\"low\": " low ", \"likely\": " likely ", \"high\": " high                               \
	", \"from\": \"estimated\"}, \"power_factor\": 1}"
/* Half widths of 120 and 240 W about 1,200 and 1,680 W: 1 and 2 A, variances 1 to 4. 24 A in all,
 * 23 to 25 with the first alone, 22 to 26 with the second: on 30 A neither decides. */
#define TWO                                                                                        \
	"\"loads\": [" HEATER("a", "1080", "1200", "1320") ", " HEATER(                            \
		"b", "1440", "1680", "1920") "]"
/* 29 A in all: 28.5 to 29.5 A with the first alone, 27 to 31 A with the second, which decides
 * on 30.
 */
#define NEAR                                                                                       \
	"\"loads\": [" HEATER("a", "1140", "1200", "1260") ", " HEATER(                            \
		"b", "2040", "2280", "2520") "]"

static const rig_shore_budget *everything_on_30(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_sets; i++)
		if (findings->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			for (size_t k = 0; k < findings->n_supplies; k++)
				if (findings->supplies[k].limit_a == 30.0)
					return &findings->sets[i].budgets[k];
	ck_abort_msg("no 30 A");
	return NULL;
}

START_TEST(draws_share_the_doubt_as_their_variances)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", TWO);
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	const rig_shore_budget *budget = everything_on_30(findings);
	ck_assert_uint_eq(budget->n_measures, 2);
	ck_assert_int_eq(budget->measures[0].index, 1);
	ck_assert_double_eq_tol(budget->measures[0].share_frac, 0.8, 1e-9);
	ck_assert_double_eq_tol(budget->measures[1].share_frac, 0.2, 1e-9);
	ck_assert_double_eq_tol(budget->measures[0].outcome[0], 22.0, 1e-9);
	ck_assert_double_eq_tol(budget->measures[0].outcome[2], 26.0, 1e-9);
	ck_assert(!budget->measures[0].decides && !budget->measures[1].decides);
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(only_the_draw_that_crosses_the_limit_decides)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", NEAR);
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	const rig_shore_budget *budget = everything_on_30(findings);
	ck_assert_uint_ge(budget->n_measures, 1);
	ck_assert_int_eq(budget->measures[0].index, 1);
	ck_assert(budget->measures[0].decides);
	/* 0.5^2 to 2^2: 1 to 16 */
	ck_assert_double_eq_tol(budget->measures[0].share_frac, 16.0 / 17.0, 1e-9);
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

/* All is exact but the volts at the pedestal: they make all of the doubt. A heater holds its
 * resistance, so that volts at the coach are in proportion to those. */
START_TEST(volts_hang_on_the_pedestal_where_all_else_is_known)
{
	rig_file *file = read_coach(
		"{\"cord_a\": 30, \"cord_length_m\": 9, \"cord_awg\": \"10\", \"source_ohm\": 0.1, "
		"\"pedestal_open_v\": {\"low\": 110, \"likely\": 120, \"high\": 126, \"from\": "
		"\"estimated\"}}",
		"\"loads\": [" HEATER("a", "1200", "1200", "1200") "]");
	rig_shore_findings *shore = NULL;
	rig_voltage_findings *volts = NULL;
	const rig_coach *coach = rig_file_completed(file);
	ck_assert_int_eq(rig_shore_study(coach, NULL, &shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, shore, NULL, &volts), RIG_OK);
	for (size_t i = 0; i < volts->n_cases; i++) {
		const rig_voltage_case *at = &volts->cases[i];
		if (shore->supplies[at->supply].adapter || at->all.hot_a[0].likely < 1)
			continue;
		ck_assert_uint_eq(at->n_measures, 1);
		ck_assert_int_eq(at->measures[0].kind, RIG_MEASURE_OPEN_V);
		ck_assert_double_eq_tol(at->measures[0].share_frac, 1.0, 1e-12);
		ck_assert_double_eq_tol(at->measures[0].outcome[0] / at->measures[0].outcome[1],
			110.0 / 120.0, 1e-9);
	}
	rig_voltage_free(volts);
	rig_shore_free(shore);
	rig_file_free(file);
}
END_TEST

/* Drop is in proportion to length: with 3 % at 5 m it is 1.8 % at 3 m and 4.2 % at 7 m. The length
 * is all that is in doubt, and decides. */
START_TEST(a_wire_hangs_on_its_length_where_all_else_is_known)
{
	rig_file *file = read_coach("{\"cord_a\": 30}",
		"\"loads\": [], \"wires\": [{\"id\": \"w\", \"awg\": \"10\", \"amps_a\": 10, "
		"\"fuse_a\": 20, \"ambient_c\": 30, \"insulation_c\": 105, \"volts_v\": 12, "
		"\"length_m\": {\"low\": 3, \"likely\": 5, \"high\": 9, \"from\": "
		"\"estimated\"}}]");
	rig_wiring_findings *findings = NULL;
	ck_assert_int_eq(rig_wiring_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_uint_eq(run->n_measures, 1);
	ck_assert_int_eq(run->measures[0].kind, RIG_MEASURE_WIRE_M);
	ck_assert_double_eq_tol(run->measures[0].share_frac, 1.0, 1e-12);
	ck_assert(run->measures[0].decides);
	ck_assert_double_eq_tol(
		run->measures[0].outcome[2] / run->measures[0].outcome[1], 9.0 / 5.0, 1e-9);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* Of a coach's draws only the roof unit's is in doubt. */
START_TEST(shedding_names_the_only_draw_in_doubt_or_none)
{
	rig_file *file = read_coach("{\"cord_a\": 30, \"cord_length_m\": 9}",
		"\"loads\": [{\"id\": \"air\", \"profile\": \"roof_ac_15k\", \"running_w\": "
		"{\"low\": 1200, \"likely\": 1600, \"high\": 2000, \"from\": \"estimated\"}}, "
		"{\"id\": \"heater\", \"profile\": \"water_heater_element\", \"running_w\": 1440}]"
		", \"energy_management\": {\"order\": [\"heater\", \"air\"], \"limit_a\": 24}");
	rig_shed_options options = rig_shed_defaults();
	options.n_days = options.n_measure_days = 10;
	options.n_order_days = 0;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(rig_file_completed(file), &options, &findings), RIG_OK);
	ck_assert_uint_eq(findings->n_measures, 1);
	ck_assert_int_eq(findings->measures[0].index, 0);
	ck_assert_double_eq_tol(findings->measures[0].share_frac, 1.0, 1e-12);
	/* 22 A fit beside each other, 25.3 A do not: at one end only something is switched off */
	ck_assert(findings->measures[0].decides);
	ck_assert_double_eq(findings->measures[0].outcome[0], 0.0);
	rig_shed_free(findings);
	options.n_measure_days = 11;
	ck_assert_int_eq(
		rig_shed_study(rig_file_completed(file), &options, &findings), RIG_BAD_INPUT);
	rig_file_free(file);
}
END_TEST

static void ask_30(const char *rest, rig_file **file, rig_shore_findings **findings)
{
	*file = read_coach("{\"cord_a\": 30}", rest);
	ck_assert_int_eq(rig_shore_study(rig_file_completed(*file), NULL, findings), RIG_OK);
}

/* A heater by amps at 120 V: what is listed, its outcomes, and whether 30 A lie between them. */
static const struct {
	const char *loads;
	size_t n;
	double outcome_a[3];
	bool decides;
} ENDS[] = {
	{HEATER("a", "3480", "3600", "3600"), 1, {29, 30, 30}, false}, /* a full breaker holds */
	{HEATER("a", "3600", "3720", "3840"), 1, {30, 31, 32}, true},
	{HEATER("a", "3600", "3600", "3720"), 1, {30, 30, 31}, true},
	{HEATER("a", "3720", "3840", "3960"), 1, {31, 32, 33}, false}, /* over either way */
	{HEATER("a", "3600", "3600", "3600"), 0, {0, 0, 0}, false},
};

START_TEST(a_draw_decides_if_the_breaker_lies_between_its_ends)
{
	char rest[400];
	snprintf(rest, sizeof rest, "\"loads\": [%s]", ENDS[_i].loads);
	rig_file *file;
	rig_shore_findings *findings = NULL;
	ask_30(rest, &file, &findings);
	const rig_shore_budget *budget = everything_on_30(findings);
	ck_assert_uint_eq(budget->n_measures, ENDS[_i].n);
	for (size_t i = 0; i < budget->n_measures; i++) {
		const rig_measure *input = &budget->measures[i];
		ck_assert_int_eq(input->kind, RIG_MEASURE_AC_LOAD);
		ck_assert_int_eq(input->index, 0);
		for (int k = 0; k < 3; k++)
			ck_assert_double_eq_tol(input->outcome[k], ENDS[_i].outcome_a[k], 1e-9);
		ck_assert(input->decides == ENDS[_i].decides);
	}
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

/* 30 A on leg 1 and 25 A nobody knows where: 30 A if it stands on leg 2, where most loads leave
 * room, 55 on leg 1, over a breaker of 50. The draws are known, so that is all there is to find
 * out. The other load of unknown leg is off in this set. */
START_TEST(where_a_load_stands_can_be_all_that_is_in_doubt)
{
	rig_file *file = read_coach("{\"cord_a\": 50}",
		"\"circuits\": [{\"id\": \"one\", \"leg\": \"L1\", \"breaker_a\": 50}], \"loads\": "
		"[{\"id\": \"off\", \"supply\": \"ac\", \"behaviour\": \"resistive\", "
		"\"running_w\": "
		"100}, {\"id\": \"on_one\", \"circuit\": \"one\", \"behaviour\": \"resistive\", "
		"\"running_w\": 3600}, {\"id\": \"loose\", \"supply\": \"ac\", \"behaviour\": "
		"\"resistive\", \"running_w\": 3000}], \"together\": [{\"name\": \"Two\", "
		"\"loads\": [\"on_one\", \"loose\"]}]");
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	const rig_shore_budget *budget = &findings->sets[0].budgets[0];
	ck_assert_double_eq(findings->supplies[0].limit_a, 50.0);
	ck_assert(budget->unplaced);
	ck_assert_uint_eq(budget->n_measures, 1);
	const rig_measure *leg = &budget->measures[0];
	ck_assert_int_eq(leg->kind, RIG_MEASURE_LEG);
	ck_assert_int_eq(leg->index, 2);
	ck_assert_double_eq_tol(leg->outcome[0], 30, 1e-9);
	ck_assert_double_eq_tol(leg->outcome[1], 30, 1e-9);
	ck_assert_double_eq_tol(leg->outcome[2], 55, 1e-9);
	ck_assert(leg->decides);
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

Suite *shore_doubt_suite(void);
Suite *shore_doubt_suite(void)
{
	Suite *suite = suite_create("shore_doubt");
	TCase *all = tcase_create("all");
	tcase_add_test(all, draws_share_the_doubt_as_their_variances);
	tcase_add_test(all, only_the_draw_that_crosses_the_limit_decides);
	tcase_add_test(all, volts_hang_on_the_pedestal_where_all_else_is_known);
	tcase_add_test(all, a_wire_hangs_on_its_length_where_all_else_is_known);
	tcase_add_test(all, shedding_names_the_only_draw_in_doubt_or_none);
	tcase_add_loop_test(
		all, a_draw_decides_if_the_breaker_lies_between_its_ends, 0, COUNT(ENDS));
	tcase_add_test(all, where_a_load_stands_can_be_all_that_is_in_doubt);
	suite_add_tcase(suite, all);
	return suite;
}
