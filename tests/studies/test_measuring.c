/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/measuring.h"

#include <math.h>

#include "suites.h"

static rig_measure input(rig_measure_kind kind, int index, double low, double likely, double high)
{
	return (rig_measure){.kind = kind, .index = index, .outcome = {low, likely, high}};
}

/* A sum of independent parts drawn from triangles: each part's variance over that of the sum. The
 * variance of a triangle of half width h about its tip is h^2 / 6, that of one with its tip at an
 * end and width w is w^2 / 18 (the moments of the triangular distribution, worked by hand). */
START_TEST(shares_of_a_sum_are_those_of_its_variances)
{
	rig_measure inputs[] = {
		input(RIG_MEASURE_AC_LOAD, 0, 90, 100, 110), /* 100 / 6 */
		input(RIG_MEASURE_AC_LOAD, 1, 80, 100, 120), /* 400 / 6 */
		input(RIG_MEASURE_AC_LOAD, 2, 100, 100, 130) /* 900 / 18 = 300 / 6 */
	};
	rig_measure_shares(3, inputs);
	ck_assert_double_eq_tol(inputs[0].share_frac, 100.0 / 800, 1e-12);
	ck_assert_double_eq_tol(inputs[1].share_frac, 400.0 / 800, 1e-12);
	ck_assert_double_eq_tol(inputs[2].share_frac, 300.0 / 800, 1e-12);
}
END_TEST

/* The same against a sum of drawn numbers: 200,000 draws of a fixed sequence, 1 % of the variance.
 */
static double triangle(double low, double likely, double high, double u)
{
	const double at = (likely - low) / (high - low);
	return u < at ? low + sqrt(u * (high - low) * (likely - low))
		      : high - sqrt((1 - u) * (high - low) * (high - likely));
}

static double drawn_variance(const rig_measure *of, int base)
{
	enum { N = 200000 };
	double sum = 0, squares = 0;
	for (int i = 1; i <= N; i++) {
		/* a sequence of van der Corput fills the interval evenly */
		double u = 0, part = 1;
		for (int k = i; k > 0; k /= base) {
			part /= base;
			u += part * (k % base);
		}
		const double x = triangle(of->outcome[0], of->outcome[1], of->outcome[2], u);
		sum += x / N;
		squares += x * x / N;
	}
	return squares - sum * sum;
}

START_TEST(shares_agree_with_drawn_sums)
{
	rig_measure inputs[] = {input(RIG_MEASURE_AC_LOAD, 0, 3, 10, 12),
		input(RIG_MEASURE_DC_LOAD, 1, 1, 2, 9), input(RIG_MEASURE_USE, 2, 5, 5, 11)};
	const double drawn[] = {drawn_variance(&inputs[0], 2), drawn_variance(&inputs[1], 3),
		drawn_variance(&inputs[2], 5)};
	rig_measure_shares(3, inputs);
	for (int i = 0; i < 3; i++)
		ck_assert_double_eq_tol(
			inputs[i].share_frac, drawn[i] / (drawn[0] + drawn[1] + drawn[2]), 0.01);
}
END_TEST

START_TEST(no_doubt_gives_no_shares_and_nothing_to_measure)
{
	rig_measure inputs[] = {
		input(RIG_MEASURE_AC_LOAD, 0, 5, 5, 5), input(RIG_MEASURE_AC_LOAD, 1, 7, 7, 7)};
	rig_measure_shares(2, inputs);
	ck_assert_double_eq(inputs[0].share_frac, 0);
	ck_assert_uint_eq(rig_measure_rank(2, inputs, 3), 0);
	ck_assert_uint_eq(rig_measure_rank(0, NULL, 3), 0);
}
END_TEST

/* What decides comes before what does not; then the share over the effort. */
START_TEST(what_decides_comes_first_then_share_over_effort)
{
	rig_measure inputs[] = {
		{.kind = RIG_MEASURE_CAPACITY, .index = 0, .share_frac = 0.5},
		{.kind = RIG_MEASURE_OPEN_V, .index = -1, .share_frac = 0.3},
		{.kind = RIG_MEASURE_AC_LOAD, .index = 4, .share_frac = 0.06, .decides = true},
		{.kind = RIG_MEASURE_WEATHER, .index = -1, .share_frac = 0.9, .decides = true},
		{.kind = RIG_MEASURE_CORD, .index = -1, .share_frac = 0.01},
	};
	ck_assert_uint_eq(rig_measure_rank(5, inputs, 5), 3);
	ck_assert_int_eq(inputs[0].kind, RIG_MEASURE_AC_LOAD);
	/* six hours of discharging weigh more than two minutes: 0.5 / 10.5 < 0.3 / 1.03 */
	ck_assert_int_eq(inputs[1].kind, RIG_MEASURE_OPEN_V);
	ck_assert_int_eq(inputs[2].kind, RIG_MEASURE_CAPACITY);
	ck_assert_uint_eq(rig_measure_rank(5, inputs, 2), 2);
}
END_TEST

START_TEST(the_order_does_not_hang_on_how_they_came_in)
{
	rig_measure one[] = {{.kind = RIG_MEASURE_AC_LOAD, .index = 1, .share_frac = 0.5},
		{.kind = RIG_MEASURE_AC_LOAD, .index = 0, .share_frac = 0.5}};
	rig_measure other[] = {one[1], one[0]};
	rig_measure_rank(2, one, 3);
	rig_measure_rank(2, other, 3);
	ck_assert_int_eq(one[0].index, 0);
	ck_assert_int_eq(other[0].index, 0);
}
END_TEST

/* What decides nothing and says less than a twentieth is not worth a walk; what has no share at all
 * never is. */
static const struct {
	double share_frac;
	bool decides, worth;
} WORTH[] = {{0.05, false, true}, {0.049, false, false}, {0.049, true, true}, {0.001, true, true},
	{0, true, false}, {0, false, false}};

START_TEST(a_share_or_a_verdict_is_worth_measuring)
{
	rig_measure one = {.kind = RIG_MEASURE_AC_LOAD,
		.share_frac = WORTH[_i].share_frac,
		.decides = WORTH[_i].decides};
	ck_assert_uint_eq(rig_measure_rank(1, &one, 3), WORTH[_i].worth ? 1 : 0);
}
END_TEST

/* By hand: an hour of work doubles the effort; a meter makes it 1.5 times, an electrician three
 * times as much. Minutes as a technician takes them (common practice, no source). */
static const struct {
	rig_measure_kind kind;
	double minutes, times;
} EFFORT[] = {
	{RIG_MEASURE_AC_LOAD, 10, 1.5},
	{RIG_MEASURE_DC_LOAD, 10, 1.5},
	{RIG_MEASURE_USE, 2, 1},
	{RIG_MEASURE_LOAD_DAY, 20, 1.5},
	{RIG_MEASURE_FACTOR, 10, 1.5},
	{RIG_MEASURE_LEG, 10, 1.5},
	{RIG_MEASURE_CHARGER, 15, 1.5},
	{RIG_MEASURE_STANDING, 15, 1.5},
	{RIG_MEASURE_CAPACITY, 360, 1.5},
	{RIG_MEASURE_USABLE, 15, 1},
	{RIG_MEASURE_KEEPS, 120, 1.5},
	{RIG_MEASURE_PANEL_W, 10, 1},
	{RIG_MEASURE_PANEL_LOSSES, 20, 1.5},
	{RIG_MEASURE_INVERTER, 10, 1.5},
	{RIG_MEASURE_OPEN_V, 2, 1},
	{RIG_MEASURE_SOURCE, 5, 1},
	{RIG_MEASURE_CORD, 5, 1},
	{RIG_MEASURE_SUPPLY_W, 5, 1},
	{RIG_MEASURE_WIRE_A, 15, 3},
	{RIG_MEASURE_WIRE_M, 15, 1},
	{RIG_MEASURE_WIRE_HEAT, 30, 1},
	{RIG_MEASURE_HEAT_LOSS, 120, 1},
	{RIG_MEASURE_SUN, 0, 1},
	{RIG_MEASURE_WEATHER, 0, 1},
};

START_TEST(effort_grows_by_the_hour_and_by_the_skill)
{
	ck_assert_double_eq_tol(rig_measure_effort(EFFORT[_i].kind),
		(1 + EFFORT[_i].minutes / 60) * EFFORT[_i].times, 1e-12);
}
END_TEST

START_TEST(each_kind_says_how_or_takes_no_time)
{
	const rig_measure_way *way = rig_measure_way_of((rig_measure_kind)_i);
	ck_assert_ptr_nonnull(way->tool);
	ck_assert_ptr_nonnull(way->how);
	ck_assert_int_eq(way->minutes > 0, way->how[0] != '\0');
	ck_assert_int_eq(way->minutes > 0, way->tool[0] != '\0');
	ck_assert_double_ge(rig_measure_effort((rig_measure_kind)_i), 1.0);
}
END_TEST

Suite *measuring_suite(void);
Suite *measuring_suite(void)
{
	Suite *suite = suite_create("measuring");
	TCase *all = tcase_create("all");
	tcase_add_test(all, shares_of_a_sum_are_those_of_its_variances);
	tcase_add_test(all, shares_agree_with_drawn_sums);
	tcase_add_test(all, no_doubt_gives_no_shares_and_nothing_to_measure);
	tcase_add_test(all, what_decides_comes_first_then_share_over_effort);
	tcase_add_test(all, the_order_does_not_hang_on_how_they_came_in);
	tcase_add_loop_test(all, a_share_or_a_verdict_is_worth_measuring, 0, COUNT(WORTH));
	tcase_add_loop_test(all, effort_grows_by_the_hour_and_by_the_skill, 0, COUNT(EFFORT));
	tcase_add_loop_test(all, each_kind_says_how_or_takes_no_time, 0, RIG_N_MEASURES);
	suite_add_tcase(suite, all);
	return suite;
}
