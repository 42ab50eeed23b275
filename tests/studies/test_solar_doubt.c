/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_doubt.h"

#include <math.h>

#include "suites.h"

static rig_figure range(double low, double likely, double high)
{
	return rig_figure_range(low, likely, high, RIG_FROM_MEASURED);
}

/* Independent doubts of a sum add as squares: 3 and 4 make 5, 5 and 12 make 13. */
START_TEST(doubts_of_a_sum_add_as_squares)
{
	solar_sum sum = {0};
	solar_sum_add(&sum, range(97, 100, 105));
	solar_sum_add(&sum, range(6, 10, 22));
	const rig_figure total = solar_sum_figure(&sum);
	ck_assert_double_eq_tol(total.low, 105.0, 1e-12);
	ck_assert_double_eq_tol(total.likely, 110.0, 1e-12);
	ck_assert_double_eq_tol(total.high, 123.0, 1e-12);
	ck_assert_int_eq(total.from, RIG_FROM_COMPUTED);
}
END_TEST

/* 0.1 + 0.2 is not 0.3 in binary: the root of a square must not fall below nothing. */
START_TEST(a_sum_of_what_may_be_nothing_is_not_less_than_nothing)
{
	for (int i = 1; i < 1000; i++) {
		solar_sum sum = {0};
		solar_sum_add(&sum, range(0, i / 7.0, i / 3.0));
		ck_assert_double_ge(solar_sum_figure(&sum).low, 0.0);
		ck_assert_double_le(solar_sum_figure(&sum).high, i / 3.0);
	}
}
END_TEST

START_TEST(one_cause_of_doubt_is_passed_on_unchanged)
{
	const rig_figure part = range(60, 100, 120);
	const rig_figure certain = range(100, 100, 100);
	const rig_figure parts[] = {certain, part, certain};
	const rig_figure whole = solar_combined(3, parts);
	ck_assert_double_eq_tol(whole.low, 60.0, 1e-9);
	ck_assert_double_eq_tol(whole.likely, 100.0, 1e-12);
	ck_assert_double_eq_tol(whole.high, 120.0, 1e-9);
}
END_TEST

/* By hand: two halvings make 2^-sqrt(2) = 0.37521, and two doublings 2^sqrt(2) = 2.66514. */
START_TEST(doubts_of_a_product_add_as_squares_of_logarithms)
{
	const rig_figure parts[] = {range(50, 100, 200), range(50, 100, 200)};
	const rig_figure whole = solar_combined(2, parts);
	ck_assert_double_eq_tol(whole.low, 37.5214, 1e-4);
	ck_assert_double_eq_tol(whole.high, 266.5144, 1e-4);
}
END_TEST

START_TEST(a_part_that_may_be_nothing_lets_the_product_be_nothing)
{
	const rig_figure parts[] = {range(0, 100, 110), range(90, 100, 110)};
	const rig_figure whole = solar_combined(2, parts);
	ck_assert_double_eq(whole.low, 0.0);
	ck_assert(isfinite(whole.high) && whole.high > 110.0);
	const rig_figure none = range(0, 0, 0);
	ck_assert_double_eq(solar_combined(1, &none).high, 0.0);
}
END_TEST

START_TEST(ends_are_put_in_order)
{
	const rig_figure figure = solar_ordered(7, 5, 6);
	ck_assert_double_eq(figure.low, 5.0);
	ck_assert_double_eq(figure.likely, 5.0);
	ck_assert_double_eq(figure.high, 7.0);
}
END_TEST

Suite *solar_doubt_suite(void);
Suite *solar_doubt_suite(void)
{
	Suite *suite = suite_create("solar_doubt");
	TCase *all = tcase_create("all");
	tcase_add_test(all, doubts_of_a_sum_add_as_squares);
	tcase_add_test(all, a_sum_of_what_may_be_nothing_is_not_less_than_nothing);
	tcase_add_test(all, one_cause_of_doubt_is_passed_on_unchanged);
	tcase_add_test(all, doubts_of_a_product_add_as_squares_of_logarithms);
	tcase_add_test(all, a_part_that_may_be_nothing_lets_the_product_be_nothing);
	tcase_add_test(all, ends_are_put_in_order);
	suite_add_tcase(suite, all);
	return suite;
}
