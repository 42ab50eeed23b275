/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The grammar, by the tables in tests/cases/json, which follow [RFC-8259] section by section. */
#include "base/jsonscan.h"

#include <stdlib.h>
#include <string.h>

#include "base/jsonout.h"
#include "rows.h"
#include "suites.h"

/* What was read of a text, as the tables put it: place and words, or the same text as we write it.
 */
static void read_back(const char *text, size_t length, rig_buffer *said)
{
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	const rig_status status = rig_json_read(text, length, diags, &json);
	ck_assert((status == RIG_OK) == (json != NULL));
	ck_assert(status == RIG_OK || status == RIG_BAD_INPUT);
	if (status == RIG_OK)
		rig_json_render(rig_json_root(json), said);
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *fault = rig_diags_at(diags, i);
		rig_buffer_format(said, "%zu:%zu | %s\n", fault->where.line, fault->where.column,
			fault->what);
	}
	rig_json_free(json);
	rig_diags_free(diags);
}

/* All rows that disagree come in one message. */
static void check_row(
	const rows *it, const rig_buffer *said, const char *expected, rig_buffer *wrong)
{
	const size_t length = strlen(expected);
	if (said->length != length + 1 || memcmp(said->text, expected, length) != 0)
		rig_buffer_format(wrong, "\nline %d: %s", it->line, said->text);
}

START_TEST(wrong_texts_are_refused_at_their_place)
{
	rows it = rows_open("cases/json/wrong.txt");
	rig_buffer wrong = {0};
	int n = 0;
	for (; rows_next(&it, 3); n++) {
		rig_buffer said = {0}, expected = {0};
		const size_t length = rows_bytes(it.field[2]);
		read_back(it.field[2], length, &said);
		rig_buffer_format(&expected, "%s | %s", it.field[0], it.field[1]);
		check_row(&it, &said, expected.text, &wrong);
		rig_buffer_free(&said);
		rig_buffer_free(&expected);
	}
	rows_close(&it);
	ck_assert_msg(wrong.length == 0, "%s", wrong.text);
	ck_assert_int_ge(n, 80);
	rig_buffer_free(&wrong);
}
END_TEST

START_TEST(right_texts_are_read_and_written)
{
	rows it = rows_open("cases/json/right.txt");
	rig_buffer wrong = {0};
	int n = 0;
	for (; rows_next(&it, 2); n++) {
		rig_buffer said = {0}, again = {0};
		const size_t length = rows_bytes(it.field[1]);
		rows_bytes(it.field[0]);
		read_back(it.field[1], length, &said);
		check_row(&it, &said, it.field[0], &wrong);
		read_back(said.text, said.length, &again);
		ck_assert_str_eq(said.text, again.text);
		rig_buffer_free(&said);
		rig_buffer_free(&again);
	}
	rows_close(&it);
	ck_assert_msg(wrong.length == 0, "%s", wrong.text);
	ck_assert_int_ge(n, 40);
	rig_buffer_free(&wrong);
}
END_TEST

/* Whatever stands in a text, each of its beginnings and each change of one byte is either read or
 * refused with one place inside it. */
static void check_either(const char *text, size_t length)
{
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	const rig_status status = rig_json_read(text, length, diags, &json);
	if (status == RIG_OK) {
		ck_assert_uint_eq(rig_diags_count(diags), 0);
	} else {
		ck_assert_int_eq(status, RIG_BAD_INPUT);
		ck_assert_uint_ge(rig_diags_count(diags), 1);
		const rig_diag *fault = rig_diags_at(diags, 0);
		ck_assert_uint_ge(fault->where.line, 1);
		ck_assert_uint_le(fault->where.column, length + 1);
	}
	rig_json_free(json);
	rig_diags_free(diags);
}

START_TEST(every_damage_of_one_byte_is_told_or_harmless)
{
	static const char TEXT[] =
		"\xEF\xBB\xBF{\"a\\u00e9\": [1.5e-3, true, null, \"\xE2\x82\xAC\\"
		"uD83D\\uDE00\\n\"],\r\n\"b\": {\"c\": -0, \"d\": false}}\n";
	const size_t length = sizeof TEXT - 1;
	for (size_t i = 0; i <= length; i++) {
		/* In memory of exactly that size, so that the sanitizer sees a step too far. */
		char *text = malloc(i == 0 ? 1 : i);
		memcpy(text, TEXT, i);
		check_either(text, i);
		for (int byte = 0; byte < 256 && i > 0; byte++) {
			text[i - 1] = (char)byte;
			check_either(text, i);
		}
		free(text);
	}
	char *text = malloc(length);
	for (size_t i = 0; i < length; i++) {
		for (int byte = 0; byte < 256; byte++) {
			memcpy(text, TEXT, length);
			text[i] = (char)byte;
			check_either(text, length);
		}
	}
	free(text);
}
END_TEST

Suite *jsonscan_suite(void);
Suite *jsonscan_suite(void)
{
	Suite *suite = suite_create("jsonscan");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_test(all, wrong_texts_are_refused_at_their_place);
	tcase_add_test(all, right_texts_are_read_and_written);
	tcase_add_test(all, every_damage_of_one_byte_is_told_or_harmless);
	suite_add_tcase(suite, all);
	return suite;
}
