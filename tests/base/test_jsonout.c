/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/jsonout.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "suites.h"

START_TEST(a_tree_is_built_and_written)
{
	rig_json_maker maker = {0};
	cJSON *top = rig_json_new_object(&maker);
	rig_json_add_text(&maker, top, "name", "Fifth \"wheel\"\n");
	rig_json_add_text(&maker, top, "notes", NULL);
	rig_json_add_truth(&maker, top, "fits", true);
	rig_json_add_number(&maker, top, "watts", 395.21749894136894);
	cJSON *figure = rig_json_add_object(&maker, top, "running_w");
	rig_json_add_number(&maker, figure, "low", 30);
	rig_json_add_number(&maker, figure, "high", 42.5);
	cJSON *loads = rig_json_add_array(&maker, top, "loads");
	cJSON *load = rig_json_add_object(&maker, loads, NULL);
	rig_json_add_text(&maker, load, "id", "fan");
	rig_json_add_null(&maker, load, "count");
	rig_json_add_array(&maker, top, "none");
	rig_json_add_numbers(&maker, top, "hours", 3, (const double[]){0.1, -2, 1e300});
	rig_json_add_item(&maker, top, "raw", cJSON_CreateRaw("1.50"));
	ck_assert(!maker.failed);
	rig_buffer text = {0};
	rig_json_render(top, &text);
	ck_assert_str_eq(text.text, "{\n"
				    "  \"name\": \"Fifth \\\"wheel\\\"\\n\",\n"
				    "  \"notes\": null,\n"
				    "  \"fits\": true,\n"
				    "  \"watts\": 395.21749894136894,\n"
				    "  \"running_w\": {\"low\": 30, \"high\": 42.5},\n"
				    "  \"loads\": [\n"
				    "    {\n"
				    "      \"id\": \"fan\",\n"
				    "      \"count\": null\n"
				    "    }\n"
				    "  ],\n"
				    "  \"none\": [],\n"
				    "  \"hours\": [0.1, -2, 1e+300],\n"
				    "  \"raw\": 1.50\n"
				    "}\n");
	rig_buffer_free(&text);
	cJSON_Delete(top);
}
END_TEST

/* Three values are no pair. */
START_TEST(pairs_in_lists_stand_on_one_line_where_asked)
{
	rig_json_maker maker = {0};
	cJSON *top = rig_json_new_object(&maker);
	cJSON *items = rig_json_add_array(&maker, top, "items");
	for (int n = 2; n <= 3; n++) {
		cJSON *item = rig_json_add_object(&maker, items, NULL);
		for (int k = 0; k < n; k++)
			rig_json_add_number(&maker, item, (const char *[]){"a", "b", "c"}[k], k);
	}
	rig_buffer text = {0};
	rig_json_render_pairs(top, &text);
	ck_assert_str_eq(text.text, "{\n"
				    "  \"items\": [\n"
				    "    {\"a\": 0, \"b\": 1},\n"
				    "    {\n"
				    "      \"a\": 0,\n"
				    "      \"b\": 1,\n"
				    "      \"c\": 2\n"
				    "    }\n"
				    "  ]\n"
				    "}\n");
	rig_buffer_free(&text);
	cJSON_Delete(top);
}
END_TEST

START_TEST(a_maker_that_makes_nothing_adds_nothing_and_does_not_fail)
{
	rig_json_maker maker = {0};
	cJSON *top = rig_json_new_object(&maker);
	maker.unmade = true;
	ck_assert_ptr_null(rig_json_add_object(&maker, top, "a"));
	ck_assert_ptr_null(rig_json_add_array(&maker, top, "b"));
	rig_json_add_number(&maker, top, "c", 1);
	rig_json_add_text(&maker, top, "d", "text");
	rig_json_add_truth(&maker, top, "e", true);
	rig_json_add_null(&maker, top, "f");
	rig_json_add_numbers(&maker, top, "g", 1, (const double[]){1});
	ck_assert_ptr_null(top->child);
	ck_assert(!maker.failed);
	cJSON_Delete(top);
}
END_TEST

START_TEST(an_array_is_the_top_too)
{
	rig_json_maker maker = {0};
	cJSON *top = rig_json_new_array(&maker);
	rig_json_add_truth(&maker, top, NULL, false);
	rig_buffer text = {0};
	rig_json_render(top, &text);
	ck_assert_str_eq(text.text, "[false]\n");
	rig_buffer_free(&text);
	cJSON_Delete(top);
}
END_TEST

static size_t longest_line(const char *text)
{
	size_t longest = 0;
	while (*text != '\0') {
		const size_t length = strcspn(text, "\n");
		longest = length > longest ? length : longest;
		text += length + (text[length] == '\n');
	}
	return longest;
}

/* From one that fits far to one that is far too long, at every length between. */
START_TEST(lines_end_at_column_100_and_lose_nothing)
{
	for (int n = 1; n < 400; n++) {
		rig_json_maker maker = {0};
		cJSON *top = rig_json_new_object(&maker);
		cJSON *array = rig_json_add_array(&maker, top, "w");
		for (int i = 0; i < n; i++)
			rig_json_add_number(&maker, array, NULL, i % 3 == 0 ? i / 7.0 : i);
		rig_buffer text = {0};
		rig_json_render(top, &text);
		ck_assert_uint_le(longest_line(text.text), 100);
		rig_json *json = NULL;
		ck_assert_int_eq(rig_json_read(text.text, text.length, NULL, &json), RIG_OK);
		ck_assert(cJSON_Compare(top, rig_json_root(json), 1));
		rig_json_free(json);
		rig_buffer_free(&text);
		cJSON_Delete(top);
	}
}
END_TEST

START_TEST(a_line_of_exactly_100_columns_counts_characters)
{
	/* 2 + `"w": [""],` is 12 columns with the comma: 88 letters of two bytes fill the line */
	for (int n = 87; n <= 89; n++) {
		rig_buffer word = {0};
		for (int i = 0; i < n; i++)
			rig_buffer_add(&word, "\xC3\xA9");
		rig_json_maker maker = {0};
		cJSON *top = rig_json_new_object(&maker);
		cJSON *array = rig_json_add_array(&maker, top, "w");
		rig_json_add_text(&maker, array, NULL, word.text);
		rig_json_add_null(&maker, top, "n");
		rig_buffer text = {0};
		rig_json_render(top, &text);
		ck_assert((strstr(text.text, "[\"") != NULL) == (n <= 88));
		rig_buffer_free(&word);
		rig_buffer_free(&text);
		cJSON_Delete(top);
	}
}
END_TEST

START_TEST(every_byte_of_a_text_comes_back)
{
	char word[128];
	for (int i = 1; i < 128; i++)
		word[i - 1] = (char)i;
	word[127] = '\0';
	rig_buffer text = {0};
	rig_json_render_text(&text, word);
	rig_json *json = NULL;
	ck_assert_int_eq(rig_json_read(text.text, text.length, NULL, &json), RIG_OK);
	ck_assert_str_eq(rig_json_root(json)->valuestring, word);
	rig_json_free(json);
	rig_buffer_free(&text);
}
END_TEST

START_TEST(a_missing_parent_is_remembered_and_harmless)
{
	rig_json_maker maker = {0};
	ck_assert_ptr_null(rig_json_add_object(&maker, NULL, "a"));
	ck_assert(maker.failed);
	maker.failed = false;
	rig_json_add_item(&maker, NULL, "a", cJSON_CreateTrue());
	ck_assert(maker.failed);
	maker.failed = false;
	cJSON *top = rig_json_new_object(&maker);
	rig_json_add_item(&maker, top, "a", NULL);
	ck_assert(maker.failed);
	ck_assert_ptr_null(top->child);
	cJSON_Delete(top);
}
END_TEST

/* The allocations that are still allowed; cJSON's hooks reach them. */
static int allowed;

static void *some_memory(size_t size)
{
	return allowed-- > 0 ? malloc(size) : NULL;
}

START_TEST(memory_that_is_out_at_any_point_is_told_and_leaks_nothing)
{
	cJSON_InitHooks(&(cJSON_Hooks){some_memory, free});
	int n = 0;
	for (bool failed = true; failed; n++) {
		rig_json_maker maker = {0};
		allowed = n;
		cJSON *top = rig_json_new_object(&maker);
		cJSON *array = rig_json_add_array(&maker, top, "loads");
		rig_json_add_text(&maker, array, NULL, "fan");
		rig_json_add_numbers(&maker, top, "w", 2, (const double[]){1, 2});
		rig_json_add_truth(&maker, top, "fits", true);
		failed = maker.failed;
		cJSON_Delete(top);
	}
	/* 7 values, 1 text and 3 keys */
	ck_assert_int_eq(n - 1, 11);
	const char text[] = "{\"a\": [1, \"b\", {\"c\": null}]}";
	rig_status status = RIG_NO_MEMORY;
	for (n = 0; status == RIG_NO_MEMORY; n++) {
		rig_diags *diags = rig_diags_new();
		rig_json *json = NULL;
		allowed = n;
		status = rig_json_read(text, strlen(text), diags, &json);
		ck_assert(status == RIG_NO_MEMORY || status == RIG_OK);
		ck_assert_uint_eq(rig_diags_count(diags), 0);
		ck_assert((json != NULL) == (status == RIG_OK));
		rig_json_free(json);
		rig_diags_free(diags);
	}
	ck_assert_int_gt(n, 6);
	cJSON_InitHooks(NULL);
}
END_TEST

START_TEST(a_number_that_is_not_finite_is_null)
{
	cJSON *number = cJSON_CreateNumber(INFINITY);
	rig_buffer text = {0};
	rig_json_render(number, &text);
	ck_assert_str_eq(text.text, "null\n");
	rig_buffer_free(&text);
	cJSON_Delete(number);
}
END_TEST

Suite *jsonout_suite(void);
Suite *jsonout_suite(void)
{
	Suite *suite = suite_create("jsonout");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_tree_is_built_and_written);
	tcase_add_test(all, pairs_in_lists_stand_on_one_line_where_asked);
	tcase_add_test(all, a_maker_that_makes_nothing_adds_nothing_and_does_not_fail);
	tcase_add_test(all, an_array_is_the_top_too);
	tcase_add_test(all, lines_end_at_column_100_and_lose_nothing);
	tcase_add_test(all, a_line_of_exactly_100_columns_counts_characters);
	tcase_add_test(all, every_byte_of_a_text_comes_back);
	tcase_add_test(all, a_missing_parent_is_remembered_and_harmless);
	tcase_add_test(all, memory_that_is_out_at_any_point_is_told_and_leaks_nothing);
	tcase_add_test(all, a_number_that_is_not_finite_is_null);
	suite_add_tcase(suite, all);
	return suite;
}
