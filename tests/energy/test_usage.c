/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/energy.h"
#include "suites.h"

/* By hand. */
static const struct {
	double running_h;
	int from_hour, to_hour;
	int on_at, off_at; /* an hour within the window, one without; -1: none */
	double on_frac;
} WINDOW[] = {
	{3.0, 18, 22, 21, 22, 0.75},
	{3.0, 18, 22, 18, 17, 0.75},
	{2.0, 22, 2, 1, 2, 0.5},
	{2.0, 20, 24, 23, 0, 0.5},
	{2.0, 0, 4, 3, 4, 0.5},
	{6.0, 7, 7, 3, -1, 0.25},
	{6.0, 0, 24, 12, -1, 0.25},
	{24.0, 0, 24, 0, -1, 1.0},
	{0.0, 9, 10, -1, 9, 0.0},
};

START_TEST(use_is_spread_over_its_window)
{
	double on_frac[24], sum_h = 0;
	ck_assert_int_eq(rig_spread_use(WINDOW[_i].running_h, WINDOW[_i].from_hour,
				 WINDOW[_i].to_hour, on_frac),
		RIG_OK);
	for (int hour = 0; hour < 24; hour++)
		sum_h += on_frac[hour];
	ck_assert_double_eq_tol(sum_h, WINDOW[_i].running_h, 1e-12);
	if (WINDOW[_i].on_at >= 0)
		ck_assert_double_eq_tol(on_frac[WINDOW[_i].on_at], WINDOW[_i].on_frac, 1e-15);
	if (WINDOW[_i].off_at >= 0)
		ck_assert_double_eq(on_frac[WINDOW[_i].off_at], 0);
}
END_TEST

START_TEST(more_use_than_the_window_holds_is_refused)
{
	double on_frac[24] = {[5] = 7};
	ck_assert_int_eq(rig_spread_use(4.5, 18, 22, on_frac), RIG_NO_SOLUTION);
	ck_assert_double_eq(on_frac[5], 7);
}
END_TEST

Suite *usage_suite(void);
Suite *usage_suite(void)
{
	Suite *suite = suite_create("usage");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, use_is_spread_over_its_window, 0, COUNT(WINDOW));
	tcase_add_test(all, more_use_than_the_window_holds_is_refused);
	suite_add_tcase(suite, all);
	return suite;
}
