/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/csv.h"

#include <math.h>

#include "csv_reader.h"
#include "handmade.h"
#include "suites.h"

static char *one_cell(const char *text)
{
	rig_csv csv = {0};
	rig_csv_text(&csv, text);
	rig_csv_end_row(&csv);
	return csv.out.text;
}

/* Expected by hand from [RFC-4180] section 2, rules 1, 5 to 7. The guard before = + - @ is common
 * practice, no source. */
static const struct {
	const char *text, *line;
} CELL[] = {
	{"plain", "plain\r\n"},
	{"a, b", "\"a, b\"\r\n"},
	{"say \"hi\"", "\"say \"\"hi\"\"\"\r\n"},
	{"=1+1", "'=1+1\r\n"},
	{"+cmd", "'+cmd\r\n"},
	{"-cmd", "'-cmd\r\n"},
	{"@sum", "'@sum\r\n"},
	{" =1", "' =1\r\n"},
	{"=a,\"b\"", "\"'=a,\"\"b\"\"\"\r\n"},
	{"-12.5", "-12.5\r\n"},
	{"+3", "3\r\n"},
	{"1,390", "1390\r\n"},
	{"-1,234,567.5", "-1234567.5\r\n"},
	{"1,39", "\"1,39\"\r\n"},
	{"-5 A", "'-5 A\r\n"},
	{"12 A", "12 A\r\n"},
	{"two\nlines", "two<U+000A>lines\r\n"},
	{"\tx", "<U+0009>x\r\n"},
	{"\xe2\x80\xae=1", "<U+202E>=1\r\n"},
	{"", "\r\n"},
};

START_TEST(a_cell_is_quoted_guarded_and_plain_as_it_must_be)
{
	char *line = one_cell(CELL[_i].text);
	ck_assert_str_eq(line, CELL[_i].line);
	free(line);
}
END_TEST

START_TEST(no_name_breaks_out_of_its_cell)
{
	rig_csv csv = {0};
	rig_csv_text(&csv, "before");
	rig_csv_head(&csv, HOSTILE[_i], "W");
	rig_csv_text(&csv, HOSTILE[_i]);
	rig_csv_number(&csv, 7);
	rig_csv_end_row(&csv);
	csv_sheet *sheet = csv_read(csv.out.text);
	ck_assert_msg(sheet->fault == NULL, "%s", sheet->fault);
	ck_assert_uint_eq(sheet->n_rows, 1);
	ck_assert_uint_eq(sheet->n_columns, 4);
	ck_assert_str_eq(csv_cell(sheet, 0, 0), "before");
	ck_assert_str_eq(csv_cell(sheet, 0, 3), "7");
	csv_free(sheet);
	rig_buffer_free(&csv.out);
}
END_TEST

/* Half of the ninth digit. */
START_TEST(numbers_keep_nine_digits)
{
	static const double VALUES[] = {
		0, 1.0 / 3, -2.0 / 3, 1e-12, 12345.6789012, 1e14, 0.1 + 0.2};
	for (size_t i = 0; i < COUNT(VALUES); i++) {
		rig_csv csv = {0};
		rig_csv_number(&csv, VALUES[i]);
		ck_assert_double_le(
			fabs(strtod(csv.out.text, NULL) - VALUES[i]), 5e-9 * fabs(VALUES[i]));
		ck_assert_uint_le(strlen(csv.out.text), 16);
		rig_buffer_free(&csv.out);
	}
}
END_TEST

Suite *csv_suite(void);
Suite *csv_suite(void)
{
	Suite *suite = suite_create("csv");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_cell_is_quoted_guarded_and_plain_as_it_must_be, 0, COUNT(CELL));
	tcase_add_loop_test(all, no_name_breaks_out_of_its_cell, 0, N_HOSTILE);
	tcase_add_test(all, numbers_keep_nine_digits);
	suite_add_tcase(suite, all);
	return suite;
}
