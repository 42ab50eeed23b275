/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/amount.h"

#include <math.h>

#include "suites.h"

/* Rounded by hand. */
static const struct {
	double value;
	int digits;
	const char *text;
} ROUNDED[] = {
	{0.0, 2, "0"},
	{-0.0, 2, "0"},
	{1e-12, 3, "0"},
	{38.2, 2, "38"},
	{38.5, 2, "39"},
	{-38.5, 2, "-39"},
	{99.6, 2, "100"},
	{0.0996, 2, "0.1"},
	{0.456, 2, "0.46"},
	{12.0, 3, "12"},
	{12.34, 3, "12.3"},
	{1234.0, 2, "1,200"},
	{1250.0, 2, "1,300"},
	{1234567.0, 3, "1,230,000"},
	{999.5, 3, "1,000"},
	{-1500.0, 2, "-1,500"},
	{50.04, 3, "50"},
	{50.06, 3, "50.1"},
	{0.0004, 1, "0.0004"},
	{100.0, 1, "100"},
};

START_TEST(numbers_are_rounded_to_digits_that_count)
{
	rig_buffer buffer = {0};
	rig_amount_round(&buffer, ROUNDED[_i].value, ROUNDED[_i].digits);
	ck_assert_str_eq(buffer.text, ROUNDED[_i].text);
	rig_buffer_free(&buffer);
}
END_TEST

START_TEST(what_is_no_number_never_prints_as_one)
{
	rig_arena *arena = rig_arena_new();
	ck_assert_str_eq(rig_amount(arena, NAN, 2, "W"), "not finite W");
	ck_assert_str_eq(rig_amount(arena, INFINITY, 2, ""), "not finite");
	rig_arena_free(arena);
}
END_TEST

START_TEST(ranges_show_both_ends_unless_they_read_the_same)
{
	rig_arena *arena = rig_arena_new();
	const rig_figure wide = rig_figure_range(35.2, 38, 40.4, RIG_FROM_ESTIMATED);
	const rig_figure tight = rig_figure_range(46.1, 46.2, 46.4, RIG_FROM_MEASURED);
	const rig_figure exact = rig_figure_of(1450, RIG_FROM_NAMEPLATE);
	ck_assert_str_eq(rig_amount_range(arena, wide, "W"), "35 to 40 W");
	ck_assert_str_eq(rig_amount_range(arena, tight, "A"), "46 A");
	ck_assert_str_eq(rig_amount_full(arena, wide, "W"), "38 (35 to 40) W");
	ck_assert_str_eq(rig_amount_full(arena, exact, "W"), "1,450 W");
	ck_assert_str_eq(rig_amount_full(arena, tight, "A"), "46 A");
	ck_assert_str_eq(rig_amount_likely(arena, wide, ""), "38");
	rig_arena_free(arena);
}
END_TEST

/* Ice and boiling water; 1 ft = 0.3048 m; a US gallon is 3.785411784 L. [NIST-SP811] */
START_TEST(units_for_people_follow_their_definitions)
{
	rig_arena *arena = rig_arena_new();
	ck_assert_str_eq(rig_amount_temperature(arena, 0, RIG_UNITS_US), "32 \xc2\xb0"
									 "F");
	ck_assert_str_eq(rig_amount_temperature(arena, 100, RIG_UNITS_US), "212 \xc2\xb0"
									   "F");
	ck_assert_str_eq(rig_amount_temperature(arena, -0.2, RIG_UNITS_SI), "0 \xc2\xb0"
									    "C");
	ck_assert_str_eq(rig_amount_length(arena, 3.048, RIG_UNITS_US), "10 ft");
	ck_assert_str_eq(rig_amount_length(arena, 3.048, RIG_UNITS_SI), "3.05 m");
	ck_assert_str_eq(rig_amount_volume(arena, 37.85411784, RIG_UNITS_US), "10 gallons");
	ck_assert_str_eq(rig_amount_volume(arena, 5.0, RIG_UNITS_SI), "5 litres");
	rig_arena_free(arena);
}
END_TEST

Suite *amount_suite(void);
Suite *amount_suite(void)
{
	Suite *suite = suite_create("amount");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, numbers_are_rounded_to_digits_that_count, 0, COUNT(ROUNDED));
	tcase_add_test(all, what_is_no_number_never_prints_as_one);
	tcase_add_test(all, ranges_show_both_ends_unless_they_read_the_same);
	tcase_add_test(all, units_for_people_follow_their_definitions);
	suite_add_tcase(suite, all);
	return suite;
}
