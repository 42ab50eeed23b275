/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to measure next on shore power, by hand: amps are watts / 120, sums are straight. */
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
	suite_add_tcase(suite, all);
	return suite;
}
