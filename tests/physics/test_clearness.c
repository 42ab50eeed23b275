/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/clearness.h"

#include "outside.h"
#include "physics/close.h"

/* Quantiles with the exact-mean shape. */
static const outside_series SHAPE = {"weather", "Spread of days about a mean clearness",
	"[HERZOG-1985] and [HOLLANDS-1983] evaluated apart from this code",
	"a unit of the last digit"};
static const outside_series QUANTILES = {"weather", "Quantiles of the clearness of days",
	"[HOLLANDS-1983] evaluated apart from this code", "0.002, digits of the shape"};
static const struct {
	double mean, clearest, herzog_gamma, exact_gamma, share_below_03;
	double quantile[7]; /* at SHARES */
} MONTH[] = {
	{0.40, 0.7354, 0.182, 0.186, 0.350, {.086, .123, .230, .404, .572, .671, .703}},
	{0.50, 0.7646, 2.314, 2.272, 0.188, {.132, .200, .359, .539, .666, .728, .747}},
	{0.70, 0.8182, 8.517, 8.373, 0.0115, {.464, .545, .653, .736, .784, .806, .812}},
	{0.60, 0.7915, 4.575, 4.621, 0.073, {.247, .349, .512, .648, .732, .769, .781}},
};
static const double SHARES[7] = {.05, .10, .25, .50, .75, .90, .95};

START_TEST(the_spread_of_days_agrees_with_the_published_model)
{
	const rig_clearness closed = rig_clearness_herzog(MONTH[_i].mean);
	const double mean = MONTH[_i].mean;
	OUTSIDE(&SHAPE, closed.max_clearness, MONTH[_i].clearest, 0.0001, "clearest day, mean %.2f",
		mean);
	OUTSIDE(&SHAPE, closed.gamma, MONTH[_i].herzog_gamma, 0.001, "gamma, closed form");
	rig_clearness exact;
	ck_assert_int_eq(rig_clearness_of_mean(MONTH[_i].mean, &exact), RIG_OK);
	OUTSIDE(&SHAPE, exact.gamma, MONTH[_i].exact_gamma, 0.001, "gamma, exact mean");
	OUTSIDE(&SHAPE, rig_clearness_share(&exact, 0.3), MONTH[_i].share_below_03, 0.001,
		"share of days below 0.3");
	for (int i = 0; i < COUNT(SHARES); i++)
		OUTSIDE(&QUANTILES, rig_clearness_quantile(&exact, SHARES[i]),
			MONTH[_i].quantile[i], 0.002, "%.2f, mean %.2f", SHARES[i], mean);
}
END_TEST

START_TEST(the_closed_form_nearly_keeps_the_mean)
{
	for (int percent = 30; percent <= 70; percent++) {
		const double mean = percent / 100.0;
		const rig_clearness days = rig_clearness_herzog(mean);
		ck_assert_double_eq_tol(rig_clearness_mean(&days), mean, 0.002);
	}
}
END_TEST

START_TEST(the_exact_shape_keeps_the_mean)
{
	for (int percent = 8; percent <= 85; percent++) {
		const double mean = percent / 100.0;
		rig_clearness days;
		ck_assert_int_eq(rig_clearness_of_mean(mean, &days), RIG_OK);
		CLOSE(rig_clearness_mean(&days), mean, 1e-12);
	}
}
END_TEST

/* Mean and spread by summing the quantiles: the closed forms against the distribution itself. */
static void check_moments(const rig_clearness *days)
{
	enum { N = 20000 };
	double sum = 0, squares = 0;
	for (int i = 0; i < N; i++) {
		const double clearness = rig_clearness_quantile(days, (i + 0.5) / N);
		sum += clearness;
		squares += clearness * clearness;
	}
	const double mean = sum / N;
	/* the midpoint rule over N quantiles */
	ck_assert_double_eq_tol(rig_clearness_mean(days), mean, 1e-5);
	ck_assert_double_eq_tol(rig_clearness_spread(days), sqrt(squares / N - mean * mean), 1e-4);
}

START_TEST(mean_and_spread_are_those_of_the_quantiles)
{
	static const double GAMMA[] = {-40, -3, -1e-4, 0, 1e-6, 5e-4, 2e-3, 1, 4, 60};
	for (int i = 0; i < COUNT(GAMMA); i++)
		check_moments(&(rig_clearness){0.05, 0.8, GAMMA[i]});
}
END_TEST

START_TEST(share_and_quantile_undo_each_other)
{
	static const double GAMMA[] = {-150, -3, 0, 1e-9, 2.3, 150};
	for (int i = 0; i < COUNT(GAMMA); i++) {
		const rig_clearness days = {0.05, 0.75, GAMMA[i]};
		ck_assert_double_eq_tol(rig_clearness_quantile(&days, 0), 0.05, 1e-15);
		ck_assert_double_eq_tol(rig_clearness_quantile(&days, 1), 0.75, 1e-15);
		double last = -1;
		for (int twentieth = 0; twentieth <= 20; twentieth++) {
			const double share = twentieth / 20.0;
			const double clearness = rig_clearness_quantile(&days, share);
			ck_assert_double_ge(clearness, last);
			ck_assert_double_eq_tol(rig_clearness_share(&days, clearness), share, 1e-9);
			last = clearness;
		}
	}
}
END_TEST

START_TEST(no_day_lies_outside_the_ends)
{
	const rig_clearness days = {0.05, 0.75, 2};
	ck_assert_double_eq(rig_clearness_share(&days, 0.01), 0);
	ck_assert_double_eq(rig_clearness_share(&days, 0.8), 1);
}
END_TEST

START_TEST(without_a_slope_all_days_are_equally_frequent)
{
	/* a uniform distribution from 0.1 to 0.7: mean 0.4, spread 0.6 / sqrt(12) */
	const rig_clearness days = {0.1, 0.7, 0};
	ck_assert_double_eq_tol(rig_clearness_mean(&days), 0.4, 1e-15);
	ck_assert_double_eq_tol(rig_clearness_spread(&days), 0.6 / sqrt(12), 1e-12);
	ck_assert_double_eq_tol(rig_clearness_quantile(&days, 0.25), 0.25, 1e-12);
}
END_TEST

START_TEST(nearly_level_months_lose_no_digits)
{
	/* the first terms of the series around a uniform month; the next are below 1e-14 and 2e-12
	 */
	for (int thousandth = -20; thousandth <= 20; thousandth++) {
		const double z = thousandth / 1000.0;
		const rig_clearness days = {0, 1, z};
		ck_assert_double_eq_tol(
			rig_clearness_mean(&days), 0.5 + z / 12 - z * z * z / 720, 1e-12);
		const double spread = rig_clearness_spread(&days);
		ck_assert_double_eq_tol(
			spread * spread, 1 / 12.0 - z * z / 240 + z * z * z * z / 6048, 1e-11);
	}
}
END_TEST

START_TEST(a_known_spread_is_met_with_the_mean)
{
	for (int mean_percent = 25; mean_percent <= 75; mean_percent += 5)
		for (int spread_percent = 6; spread_percent <= 16; spread_percent += 2) {
			const double mean = mean_percent / 100.0, spread = spread_percent / 100.0;
			rig_clearness days;
			const rig_status status = rig_clearness_of_spread(mean, spread, &days);
			if (status == RIG_NO_SOLUTION) {
				/* only where even the clearest day allowed leaves too little room
				 */
				ck_assert(mean > 0.65 && spread > 0.11);
				continue;
			}
			ck_assert_double_eq_tol(rig_clearness_mean(&days), mean, 1e-9);
			ck_assert_double_eq_tol(rig_clearness_spread(&days), spread, 1e-9);
			ck_assert_double_le(days.max_clearness, 0.9);
		}
}
END_TEST

START_TEST(no_clearest_day_passes_nine_tenths)
{
	/* uniform months from 0.05 to 0.895 and to 0.905: mean the middle, spread range / sqrt(12)
	 */
	rig_clearness days;
	ck_assert_int_eq(rig_clearness_of_spread(0.945 / 2, 0.845 / sqrt(12), &days), RIG_OK);
	ck_assert_double_eq_tol(days.max_clearness, 0.895, 1e-9);
	ck_assert_int_eq(
		rig_clearness_of_spread(0.955 / 2, 0.855 / sqrt(12), &days), RIG_NO_SOLUTION);
}
END_TEST

START_TEST(impossible_months_say_so_and_leave_the_answer_alone)
{
	rig_clearness days = {1, 2, 3};
	ck_assert_int_eq(rig_clearness_of_mean(0.05, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_mean(0.86, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_mean(NAN, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_spread(0.5, 0.4, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_spread(0.5, 1e-6, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_spread(0.04, 0.1, &days), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_clearness_of_spread(0.95, 0.1, &days), RIG_NO_SOLUTION);
	ck_assert_double_eq(days.gamma, 3);
}
END_TEST

Suite *clearness_suite(void);
Suite *clearness_suite(void)
{
	Suite *suite = suite_create("clearness");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, the_spread_of_days_agrees_with_the_published_model, 0, COUNT(MONTH));
	tcase_add_test(all, the_closed_form_nearly_keeps_the_mean);
	tcase_add_test(all, the_exact_shape_keeps_the_mean);
	tcase_add_test(all, mean_and_spread_are_those_of_the_quantiles);
	tcase_add_test(all, share_and_quantile_undo_each_other);
	tcase_add_test(all, no_day_lies_outside_the_ends);
	tcase_add_test(all, without_a_slope_all_days_are_equally_frequent);
	tcase_add_test(all, nearly_level_months_lose_no_digits);
	tcase_add_test(all, a_known_spread_is_met_with_the_mean);
	tcase_add_test(all, no_clearest_day_passes_nine_tenths);
	tcase_add_test(all, impossible_months_say_so_and_leave_the_answer_alone);
	suite_add_tcase(suite, all);
	return suite;
}
