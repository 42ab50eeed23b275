/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/figure.h"

#include <stddef.h>

#include "suites.h"

static void check_figure(rig_figure figure, double low, double likely, double high)
{
	ck_assert_double_eq(figure.low, low);
	ck_assert_double_eq(figure.likely, likely);
	ck_assert_double_eq(figure.high, high);
}

START_TEST(an_exact_figure_has_no_width)
{
	const rig_figure figure = rig_figure_of(12.5, RIG_FROM_MEASURED);
	check_figure(figure, 12.5, 12.5, 12.5);
	ck_assert_int_eq(figure.from, RIG_FROM_MEASURED);
	ck_assert_uint_eq(figure.unit, 0);
	ck_assert_ptr_null(figure.source);
	ck_assert(rig_figure_given(figure));
	ck_assert(!rig_figure_given((rig_figure){0}));
}
END_TEST

/* By hand; all values are exact in binary. */
START_TEST(operations_take_the_widest_ends)
{
	const rig_figure a = rig_figure_range(2, 3, 8, RIG_FROM_ESTIMATED);
	const rig_figure b = rig_figure_range(1, 2, 4, RIG_FROM_NAMEPLATE);
	check_figure(rig_figure_add(a, b), 3, 5, 12);
	check_figure(rig_figure_subtract(a, b), -2, 1, 7);
	check_figure(rig_figure_multiply(a, b), 2, 6, 32);
	check_figure(rig_figure_divide(a, b), 0.5, 1.5, 8);
	check_figure(rig_figure_scale(a, 0.5), 1, 1.5, 4);
	check_figure(rig_figure_scale(a, 0), 0, 0, 0);
	ck_assert_int_eq(rig_figure_add(a, b).from, RIG_FROM_COMPUTED);
	ck_assert_int_eq(rig_figure_scale(a, 2).from, RIG_FROM_COMPUTED);
}
END_TEST

static rig_figure (*const OPERATION[])(rig_figure, rig_figure) = {
	rig_figure_add, rig_figure_subtract, rig_figure_multiply, rig_figure_divide};

START_TEST(what_is_absent_makes_the_result_absent)
{
	const rig_figure absent = {0}, given = rig_figure_of(5, RIG_FROM_STATED);
	ck_assert(rig_figure_given(OPERATION[_i](given, given)));
	ck_assert(!rig_figure_given(OPERATION[_i](absent, given)));
	ck_assert(!rig_figure_given(OPERATION[_i](given, absent)));
	check_figure(OPERATION[_i](given, absent), 0, 0, 0);
	ck_assert(!rig_figure_given(rig_figure_scale(absent, 2)));
}
END_TEST

/* Whatever the true operands are within their ranges, the true result is within its range. */
START_TEST(the_result_holds_every_true_value)
{
	const rig_figure a = rig_figure_range(0.3, 0.7, 1.9, RIG_FROM_ESTIMATED);
	const rig_figure b = rig_figure_range(0.1, 0.2, 0.6, RIG_FROM_ESTIMATED);
	const rig_figure wide = OPERATION[_i](a, b);
	for (int i = 0; i <= 20; i++) {
		for (int j = 0; j <= 20; j++) {
			const rig_figure x =
				rig_figure_of(a.low + (a.high - a.low) * i / 20, RIG_FROM_STATED);
			const rig_figure y =
				rig_figure_of(b.low + (b.high - b.low) * j / 20, RIG_FROM_STATED);
			const double value = OPERATION[_i](x, y).likely;
			ck_assert_double_ge(value, wide.low - 1e-15);
			ck_assert_double_le(value, wide.high + 1e-14);
		}
	}
	ck_assert(wide.low < wide.likely && wide.likely < wide.high);
}
END_TEST

START_TEST(every_origin_has_a_word)
{
	for (int from = 0; from < RIG_N_ORIGINS; from++) {
		ck_assert_ptr_nonnull(rig_origin_text((rig_origin)from));
		for (int other = 0; other < from; other++)
			ck_assert_str_ne(rig_origin_text((rig_origin)from),
				rig_origin_text((rig_origin)other));
	}
	ck_assert_str_eq(rig_origin_text(RIG_FROM_MEASURED), "measured");
}
END_TEST

Suite *figure_suite(void);
Suite *figure_suite(void)
{
	Suite *suite = suite_create("figure");
	TCase *all = tcase_create("all");
	tcase_add_test(all, an_exact_figure_has_no_width);
	tcase_add_test(all, operations_take_the_widest_ends);
	tcase_add_loop_test(all, what_is_absent_makes_the_result_absent, 0, COUNT(OPERATION));
	tcase_add_loop_test(all, the_result_holds_every_true_value, 0, COUNT(OPERATION));
	tcase_add_test(all, every_origin_has_a_word);
	suite_add_tcase(suite, all);
	return suite;
}
