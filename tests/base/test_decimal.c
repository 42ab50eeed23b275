/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/decimal.h"

#include <stddef.h>
#include <string.h>

#include "suites.h"

static const struct {
	const char *text;
	double value;
	size_t length;
} READ[] = {
	{"12.5", 12.5, 4},
	{"-0.1", -0.1, 4}, /* the double nearest to it, as written in the source */
	{"+7ft", 7, 2},
	{".5", .5, 2},
	{"3.", 3, 2},
	{"12..13", 12, 2},
	{"1.2.3", 1.2, 3},
	{"1e3", 1, 1},
	{"123456789012345", 123456789012345.0, 15},
	{"1234567890123456", 123456789012345.0, 15},
};

START_TEST(a_number_ends_where_its_digits_do)
{
	double value = 99;
	const char *end = rig_decimal(READ[_i].text, &value);
	ck_assert_ptr_nonnull(end);
	ck_assert_uint_eq((size_t)(end - READ[_i].text), READ[_i].length);
	ck_assert_double_eq(value, READ[_i].value);
}
END_TEST

static const char *const NONE[] = {"", "x", "-", ".", "..5", ",5", "inf", "nan"};

START_TEST(without_a_digit_there_is_no_number)
{
	double value = 99;
	ck_assert_ptr_null(rig_decimal(NONE[_i], &value));
	ck_assert_double_eq(value, 99);
}
END_TEST

Suite *decimal_suite(void);
Suite *decimal_suite(void)
{
	Suite *suite = suite_create("decimal");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_number_ends_where_its_digits_do, 0, COUNT(READ));
	tcase_add_loop_test(all, without_a_digit_there_is_no_number, 0, COUNT(NONE));
	suite_add_tcase(suite, all);
	return suite;
}
