/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "suites.h"

static rig_json *read_right(const char *text)
{
	rig_json *json = NULL;
	ck_assert_int_eq(rig_json_read(text, strlen(text), NULL, &json), RIG_OK);
	ck_assert_ptr_nonnull(json);
	return json;
}

static void check_where(rig_where where, size_t line, size_t column)
{
	ck_assert_uint_eq(where.line, line);
	ck_assert_uint_eq(where.column, column);
	ck_assert_str_eq(where.path, "p");
}

static const cJSON *member(const cJSON *object, const char *key)
{
	const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, key);
	ck_assert_ptr_nonnull(found);
	return found;
}

START_TEST(every_value_and_key_has_its_place)
{
	rig_json *json = read_right("\xEF\xBB\xBF{\n"
				    "  \"n\xC3\xA4me\": \"\xF0\x9F\x98\x80\", \"b\" : [1,\r\n"
				    "\t\t{\"c\":\n"
				    "null}, [], true]\r"
				    ", \"d\": -1e3}");
	const cJSON *root = rig_json_root(json);
	check_where(rig_json_where(json, root, "p"), 1, 1);
	const cJSON *name = member(root, "n\xC3\xA4me");
	check_where(rig_json_where_key(json, name, "p"), 2, 3);
	check_where(rig_json_where(json, name, "p"), 2, 11);
	const cJSON *b = member(root, "b");
	check_where(rig_json_where_key(json, b, "p"), 2, 16);
	check_where(rig_json_where(json, b, "p"), 2, 22);
	check_where(rig_json_where(json, b->child, "p"), 2, 23);
	const cJSON *object = b->child->next;
	check_where(rig_json_where(json, object, "p"), 3, 3);
	check_where(rig_json_where_key(json, object->child, "p"), 3, 4);
	check_where(rig_json_where(json, object->child, "p"), 4, 1);
	check_where(rig_json_where(json, object->next, "p"), 4, 8);
	check_where(rig_json_where(json, object->next->next, "p"), 4, 12);
	check_where(rig_json_where_key(json, member(root, "d"), "p"), 5, 3);
	check_where(rig_json_where(json, member(root, "d"), "p"), 5, 8);
	ck_assert_double_eq(member(root, "d")->valuedouble, -1000);
	ck_assert_str_eq(name->valuestring, "\xF0\x9F\x98\x80");
	rig_json_free(json);
	rig_json_free(NULL);
}
END_TEST

/* The whole fault, with what was found and how to mend it. */
static const struct {
	const char *text, *path, *found, *allowed, *mend;
} WORDS[] = {
	{"{\"a\": 30A}", "", "A", "a number alone", "leave the unit out; the key names it"},
	{"{watts_w: 3}", "", "watts_w", "a key in double quotes", "write \"watts_w\""},
	{"[True]", "", "True", "true, false or null in small letters", "write true"},
	{"[-Infinity]", "", "-Infinity", "a finite number", "write the number, or leave it out"},
	{"[fridge ]", "", "fridge", "a value; text in double quotes", "write \"fridge\""},
	{"['a b', 1]", "", "'a b'", "double quotes \"", "put it in double quotes"},
	{"[007]", "", "007", "no zeros in front", "leave the zeros out"},
	{"[1, ]", "", ",", "a comma only between entries", "delete the comma"},
	{"[\"C:\\Users\"]", "", "\\Users",
		"\\\" \\\\ \\/ \\b \\f \\n \\r \\t or \\u and four digits",
		"write \\\\ for a backslash"},
	{"[\"abcdefghijklmnopqrstuvwxyz", "", "\"abcdefghijklmnopqrstuvw", "\"",
		"put \" where it ends"},
	{"[\xE9]", "", "the byte 0xE9", "UTF-8", "save the file as UTF-8"},
	{"[\x0C]", "", "U+000C", "", "delete it"},
	{"[\"a\" \"b c\"]", "", "\"b c\"", ",", "put a comma after the entry before it"},
	{"", "", "the end of the text", "one JSON value", ""},
	{"{\"a\": [0, {\"b\": 1,\n \"c\": 2, \"b\": 3}]}", "a[1].b", "b", "each key once",
		"delete or rename one; the first is on line 1"},
	{"[{\"x\": [[1e999]]}]", "[0].x[0][0]", "", "at most 1.797e308", ""},
	{"[1 // a", "", "//", "JSON has no comments",
		"delete it; words for people can stand in \"notes\""},
};

START_TEST(a_fault_tells_what_stands_there_and_how_to_mend_it)
{
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	const char *text = WORDS[_i].text;
	ck_assert_int_eq(rig_json_read(text, strlen(text), diags, &json), RIG_BAD_INPUT);
	const rig_diag *fault = rig_diags_at(diags, 0);
	ck_assert_str_eq(fault->where.path, WORDS[_i].path);
	ck_assert_str_eq(fault->found, WORDS[_i].found);
	ck_assert_str_eq(fault->allowed, WORDS[_i].allowed);
	ck_assert_str_eq(fault->mend, WORDS[_i].mend);
	rig_diags_free(diags);
}
END_TEST

START_TEST(every_twin_is_told_at_its_own_place)
{
	const char text[] = "{\"a\": 1, \"b\": {\"c\": 1, \"d\": 2, \"c\": 3},\n"
			    "\"a\": 4, \"A\": 5, \"\\u0061\": 6}";
	static const size_t PLACE[][2] = {{1, 32}, {2, 1}, {2, 17}};
	static const char *const PATH[] = {"b.c", "a", "a"};
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	ck_assert_int_eq(rig_json_read(text, strlen(text), diags, &json), RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_faults(diags), 3);
	for (size_t i = 0; i < 3; i++) {
		const rig_diag *twin = rig_diags_at(diags, i);
		ck_assert_uint_eq(twin->where.line, PLACE[i][0]);
		ck_assert_uint_eq(twin->where.column, PLACE[i][1]);
		ck_assert_str_eq(twin->where.path, PATH[i]);
		ck_assert_str_eq(twin->mend, "delete or rename one; the first is on line 1");
	}
	rig_diags_free(diags);
}
END_TEST

/* Texts at a limit and one past it: before, the piece n times, after. */
static const struct {
	const char *before, *piece, *after;
	size_t n;
	size_t line, column; /* of the fault at n + 1 pieces */
	const char *allowed;
} LIMIT[] = {
	{"", "[", "", RIG_JSON_MAX_DEPTH, 1, 65, "at most 64 brackets inside each other"},
	{"", "{\"a\":", "", RIG_JSON_MAX_DEPTH, 1, 321, "at most 64 brackets inside each other"},
	{"[0", "\n,0", "]", RIG_JSON_MAX_VALUES - 2, 400000, 2, "at most 400000 values"},
	{"\"", "a", "\"", RIG_JSON_MAX_TEXT, 1, 1, "at most 3145728 bytes"},
	{"{\"", "\xC3\xA9", "\":1}", RIG_JSON_MAX_TEXT / 2, 1, 2, "at most 3145728 bytes"},
	{"0", " ", "", RIG_JSON_MAX_BYTES - 1, 0, 0, ""},
};

static rig_status read_pieces(int which, size_t n, rig_diags *diags)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, LIMIT[which].before);
	for (size_t i = 0; i < n; i++)
		rig_buffer_add(&text, LIMIT[which].piece);
	rig_buffer_add(&text, LIMIT[which].after);
	rig_json *json = NULL;
	const rig_status status = rig_json_read(text.text, text.length, diags, &json);
	rig_json_free(json);
	rig_buffer_free(&text);
	return status;
}

START_TEST(each_limit_is_kept_to_the_last_one)
{
	rig_diags *diags = rig_diags_new();
	const rig_status at_limit = read_pieces(_i, LIMIT[_i].n, diags);
	if (*LIMIT[_i].after == '\0' && *LIMIT[_i].before == '\0')
		ck_assert_str_eq(rig_diags_at(diags, 0)->what, "this bracket is never closed");
	else
		ck_assert_int_eq(at_limit, RIG_OK);
	rig_diags_free(diags);
	diags = rig_diags_new();
	ck_assert_int_eq(read_pieces(_i, LIMIT[_i].n + 1, diags), RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_faults(diags), 1);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.line, LIMIT[_i].line);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.column, LIMIT[_i].column);
	ck_assert_str_eq(rig_diags_at(diags, 0)->allowed, LIMIT[_i].allowed);
	rig_diags_free(diags);
}
END_TEST

START_TEST(deep_nesting_is_refused_at_once)
{
	enum { N = 100000 };
	char *text = malloc(2 * (size_t)N);
	memset(text, '[', N);
	memset(text + N, ']', N);
	rig_json *json = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_json_read(text, 2 * (size_t)N, diags, &json), RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.column, 65);
	rig_diags_free(diags);
	free(text);
}
END_TEST

/* One object of many keys, all different or all the same: a search that compares each with each
 * would take longer than the time that a test has. */
START_TEST(many_keys_are_compared_quickly)
{
	rig_buffer text = {0};
	const int n = 150000;
	for (int i = 0; i < n; i++)
		rig_buffer_format(
			&text, "%s\"load number %06d\":0", i == 0 ? "{" : ",", _i == 0 ? i : 7);
	rig_buffer_add(&text, "}");
	rig_json *json = NULL;
	rig_diags *diags = rig_diags_new();
	const rig_status status = rig_json_read(text.text, text.length, diags, &json);
	ck_assert_int_eq(status, _i == 0 ? RIG_OK : RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_faults(diags), _i == 0 ? 0 : (size_t)n - 1);
	rig_json_free(json);
	rig_diags_free(diags);
	rig_buffer_free(&text);
}
END_TEST

/* Versions of cJSON before 1.7.19 that are not mended refuse numbers of more than 63 characters. */
START_TEST(the_cjson_in_use_reads_long_numbers)
{
	rig_json *json =
		read_right("[-0.00000000000000000000000000000000000000000000000000000000000"
			   "000000000000000000001]");
	ck_assert_double_eq(rig_json_root(json)->child->valuedouble, -1e-80);
	rig_json_free(json);
}
END_TEST

START_TEST(a_text_without_an_end_mark_is_read_to_its_length)
{
	rig_json *json = NULL;
	char *text = malloc(3);
	for (int i = 0; i < 3; i++)
		text[i] = "[1]"[i];
	ck_assert_int_eq(rig_json_read(text, 3, NULL, &json), RIG_OK);
	rig_json_free(json);
	ck_assert_int_eq(rig_json_read(text, 2, NULL, &json), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_json_read(text, 0, NULL, &json), RIG_BAD_INPUT);
	free(text);
}
END_TEST

Suite *json_suite(void);
Suite *json_suite(void)
{
	Suite *suite = suite_create("json");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 30);
	tcase_add_test(all, every_value_and_key_has_its_place);
	tcase_add_loop_test(
		all, a_fault_tells_what_stands_there_and_how_to_mend_it, 0, COUNT(WORDS));
	tcase_add_test(all, every_twin_is_told_at_its_own_place);
	tcase_add_loop_test(all, each_limit_is_kept_to_the_last_one, 0, COUNT(LIMIT));
	tcase_add_test(all, deep_nesting_is_refused_at_once);
	tcase_add_loop_test(all, many_keys_are_compared_quickly, 0, 2);
	tcase_add_test(all, the_cjson_in_use_reads_long_numbers);
	tcase_add_test(all, a_text_without_an_end_mark_is_read_to_its_length);
	suite_add_tcase(suite, all);
	return suite;
}
