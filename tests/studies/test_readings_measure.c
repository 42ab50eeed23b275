/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The draws here are made by hand: what is asked is which of them is to be clamped alone. */
#include "rigbudget/readings.h"
#include "suites.h"

static rig_readings_draw draw(int load, double se_a)
{
	return (rig_readings_draw){.load = load,
		.supply = RIG_AC,
		.se_a = se_a,
		.found_a = rig_figure_range(9, 10, 11, RIG_FROM_COMPUTED),
		.expected_a = rig_figure_range(8, 10, 12, RIG_FROM_COMPUTED)};
}

static size_t measures_of(size_t n, rig_readings_draw *draws, rig_measure measures[])
{
	const rig_readings_findings findings = {.n_draws = n, .draws = draws};
	return rig_readings_measures(&findings, measures);
}

/* By hand, standard errors of 3, 4 and 5 A: 9, 16 and 25 of 50. */
START_TEST(shares_are_those_of_the_variance_and_the_largest_comes_first)
{
	rig_readings_draw draws[] = {draw(4, 3), draw(5, 4), draw(6, 5)};
	rig_measure measures[RIG_MEASURE_SHOWN];
	ck_assert_uint_eq(measures_of(3, draws, measures), 3);
	for (int i = 0; i < 3; i++)
		ck_assert_int_eq(measures[i].index, 6 - i);
	ck_assert_double_eq_tol(measures[0].share_frac, 0.50, 1e-12);
	ck_assert_double_eq_tol(measures[1].share_frac, 0.32, 1e-12);
	ck_assert_double_eq_tol(measures[2].share_frac, 0.18, 1e-12);
	for (int i = 0; i < 3; i++)
		ck_assert_double_eq(measures[0].outcome[i], 9 + i);
}
END_TEST

START_TEST(no_more_than_three_of_many_are_named)
{
	rig_readings_draw draws[8];
	for (int i = 0; i < 8; i++)
		draws[i] = draw(i, 10 + (i * 5) % 8);
	rig_measure measures[RIG_MEASURE_SHOWN];
	ck_assert_uint_eq(measures_of(8, draws, measures), 3);
	/* 10, 15, 12, 17, 14, 11, 16, 13 */
	ck_assert_int_eq(measures[0].index, 3);
	ck_assert_int_eq(measures[1].index, 6);
	ck_assert_int_eq(measures[2].index, 1);
	ck_assert_uint_eq(measures_of(0, draws, measures), 0);
}
END_TEST

/* Against 8 to 12 A expected. */
static const struct {
	double low_a, high_a;
	rig_draw_verdict verdict;
	bool decides;
} DECIDED[] = {
	{9, 11, RIG_DRAW_AGREES, false},
	{9, 11, RIG_DRAW_NOT_IDENTIFIED, true},
	{7, 9, RIG_DRAW_AGREES, true},
	{11, 13, RIG_DRAW_AGREES, true},
	{7, 13, RIG_DRAW_AGREES, true},
	{3, 5, RIG_DRAW_LOW, false},
	{14, 15, RIG_DRAW_HIGH, false},
	/* an end that is touched is not passed */
	{8, 9, RIG_DRAW_AGREES, false},
	{11, 12, RIG_DRAW_AGREES, false},
	{12, 14, RIG_DRAW_HIGH, false},
	{6, 8, RIG_DRAW_LOW, false},
};

START_TEST(a_draw_decides_that_lies_on_both_sides_of_an_end_or_is_not_identified)
{
	rig_readings_draw one = draw(0, 1);
	one.found_a.low = DECIDED[_i].low_a;
	one.found_a.high = DECIDED[_i].high_a;
	one.verdict = DECIDED[_i].verdict;
	rig_measure measures[RIG_MEASURE_SHOWN];
	ck_assert_uint_eq(measures_of(1, &one, measures), 1);
	ck_assert_int_eq(measures[0].decides, DECIDED[_i].decides);
	ck_assert_double_eq(measures[0].share_frac, 1);
}
END_TEST

static const struct {
	int load;
	rig_supply_kind supply;
	rig_measure_kind kind;
	int index;
} KIND[] = {
	{3, RIG_AC, RIG_MEASURE_AC_LOAD, 3},
	{3, RIG_DC, RIG_MEASURE_DC_LOAD, 3},
	{RIG_READINGS_CHARGER, RIG_AC, RIG_MEASURE_CHARGER, RIG_READINGS_CHARGER},
	{RIG_READINGS_INVERTER, RIG_DC, RIG_MEASURE_INVERTER, -1},
};

START_TEST(each_draw_is_measured_as_what_it_is)
{
	rig_readings_draw one = draw(KIND[_i].load, 1);
	one.supply = KIND[_i].supply;
	rig_measure measures[RIG_MEASURE_SHOWN];
	ck_assert_uint_eq(measures_of(1, &one, measures), 1);
	ck_assert_int_eq(measures[0].kind, KIND[_i].kind);
	ck_assert_int_eq(measures[0].index, KIND[_i].index);
}
END_TEST

Suite *readings_measure_suite(void);
Suite *readings_measure_suite(void)
{
	Suite *suite = suite_create("readings_measure");
	TCase *all = tcase_create("all");
	tcase_add_test(all, shares_are_those_of_the_variance_and_the_largest_comes_first);
	tcase_add_test(all, no_more_than_three_of_many_are_named);
	tcase_add_loop_test(all,
		a_draw_decides_that_lies_on_both_sides_of_an_end_or_is_not_identified, 0,
		COUNT(DECIDED));
	tcase_add_loop_test(all, each_draw_is_measured_as_what_it_is, 0, COUNT(KIND));
	suite_add_tcase(suite, all);
	return suite;
}
