/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/root.h"

#include "physics/close.h"

static double shifted_cube(double x, const void *context)
{
	return x * x * x - *(const double *)context;
}

static double steep(double x, const void *context)
{
	return expm1(50 * x) - *(const double *)context;
}

static double flat_then_step(double x, const void *context)
{
	return x < *(const double *)context ? -1 : 1;
}

static double not_a_number(double x, const void *context)
{
	(void)context;
	return x > 0.5 ? NAN : 1;
}

START_TEST(roots_are_found_to_rounding)
{
	static const double VALUE[] = {-27, -1, 1e-9, 0.3, 2, 1e6};
	for (int i = 0; i < COUNT(VALUE); i++) {
		double root;
		ck_assert_int_eq(rig_root(shifted_cube, &VALUE[i], -1000, 1000, &root), RIG_OK);
		ck_assert_double_eq_tol(root, cbrt(VALUE[i]), 1e-14 * fabs(cbrt(VALUE[i])));
		/* and with the ends the other way round */
		ck_assert_int_eq(rig_root(shifted_cube, &VALUE[i], 1000, -1000, &root), RIG_OK);
		ck_assert_double_eq_tol(root, cbrt(VALUE[i]), 1e-14 * fabs(cbrt(VALUE[i])));
	}
	const double wanted = 1e-3;
	double root;
	ck_assert_int_eq(rig_root(steep, &wanted, -1, 10, &root), RIG_OK);
	CLOSE(root, log1p(wanted) / 50, 1e-12);
}
END_TEST

typedef struct {
	double value;
	int *n_calls;
} counted;

static double counted_cube(double x, const void *context)
{
	const counted *cube = context;
	++*cube->n_calls;
	return x * x * x - cube->value;
}

START_TEST(smooth_functions_take_few_steps)
{
	/* halving alone would need 53 */
	for (int percent = 1; percent < 90; percent++) {
		const double value = percent / 100.0;
		int n_calls = 0;
		const counted cube = {value, &n_calls};
		double root;
		ck_assert_int_eq(rig_root(counted_cube, &cube, 0, 1, &root), RIG_OK);
		CLOSE(root, cbrt(value), 1e-14);
		ck_assert_int_le(n_calls, 20);
		ck_assert_int_eq(rig_root(counted_cube, &cube, 1, 0, &root), RIG_OK);
		CLOSE(root, cbrt(value), 1e-14);
	}
}
END_TEST

START_TEST(a_step_is_bracketed)
{
	const double at = 1.0 / 3;
	double root;
	ck_assert_int_eq(rig_root(flat_then_step, &at, -5, 40, &root), RIG_OK);
	ck_assert_double_eq_tol(root, at, 1e-14);
}
END_TEST

START_TEST(an_end_may_be_the_root)
{
	const double eight = 8;
	double root;
	ck_assert_int_eq(rig_root(shifted_cube, &eight, 2, 5, &root), RIG_OK);
	ck_assert_double_eq(root, 2);
	ck_assert_int_eq(rig_root(shifted_cube, &eight, 1, 2, &root), RIG_OK);
	ck_assert_double_eq(root, 2);
}
END_TEST

START_TEST(no_change_of_sign_is_no_solution)
{
	const double eight = 8;
	double root = 99;
	ck_assert_int_eq(rig_root(shifted_cube, &eight, 3, 5, &root), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_root(not_a_number, NULL, 0, 1, &root), RIG_NO_SOLUTION);
	ck_assert_double_eq(root, 99);
}
END_TEST

Suite *root_suite(void);
Suite *root_suite(void)
{
	Suite *suite = suite_create("root");
	TCase *all = tcase_create("all");
	tcase_add_test(all, roots_are_found_to_rounding);
	tcase_add_test(all, smooth_functions_take_few_steps);
	tcase_add_test(all, a_step_is_bracketed);
	tcase_add_test(all, an_end_may_be_the_root);
	tcase_add_test(all, no_change_of_sign_is_no_solution);
	suite_add_tcase(suite, all);
	return suite;
}
