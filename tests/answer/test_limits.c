/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Coaches at the ends of what a file may say, put to every question: an answer without a figure
 * that is not finite, or a refusal that says why. */
#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "rigbudget/answer.h"
#include "suites.h"

enum { MOST_LOADS = 2000 };

static rig_answer_options short_options(void)
{
	rig_answer_options options = rig_answer_defaults();
	options.n_days = 2;
	options.n_trips = 4;
	options.n_side_trips = 0;
	return options;
}

static void check_numbers(const cJSON *node, const char *what)
{
	ck_assert_msg(!cJSON_IsNumber(node) || isfinite(node->valuedouble), "%s", what);
	for (const cJSON *child = node->child; child != NULL; child = child->next)
		check_numbers(child, what);
}

/* The words that printf has for what is no number stand alone: "in", "infinite" do not count. */
static bool has_word(const char *text, const char *word)
{
	const size_t length = strlen(word);
	for (const char *at = strstr(text, word); at != NULL; at = strstr(at + 1, word)) {
		const bool begins = at == text || strchr(" (-=\"\n,:>", at[-1]) != NULL;
		if (begins && strchr(" )\"\n,;:.<%", at[length]) != NULL)
			return true;
	}
	return false;
}

static void check_document(const rig_document *document, const char *what)
{
	char *text = NULL;
	char *html = NULL;
	char *json = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	ck_assert_int_eq(rig_document_html(document, &html), RIG_OK);
	ck_assert_int_eq(rig_document_json(document, &json), RIG_OK);
	ck_assert_msg(!has_word(text, "nan") && !has_word(text, "inf"), "%s", what);
	ck_assert_msg(!has_word(text, "not finite") && !has_word(html, "not finite"), "%s", what);
	ck_assert_msg(!has_word(html, "nan") && !has_word(html, "inf"), "%s", what);
	cJSON *tree = cJSON_Parse(json);
	ck_assert_msg(tree != NULL, "%s", what);
	check_numbers(tree, what);
	cJSON_Delete(tree);
	free(text);
	free(html);
	free(json);
}

static void check_questions(const char *coach)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	rig_file_parse(coach, strlen(coach), diags, &file);
	ck_assert_msg(file != NULL, "%s: %s %s", rig_diags_at(diags, 0)->what,
		rig_diags_at(diags, 0)->where.path, rig_diags_at(diags, 0)->found);
	for (size_t i = 0; i < rig_n_questions(); i++) {
		const rig_answer_options options = short_options();
		const char *question = rig_question_at(i)->name;
		rig_document *document = NULL;
		const size_t n_before = rig_diags_faults(diags);
		const rig_status status = rig_answer(file, question, &options, diags, &document);
		if (status == RIG_OK)
			check_document(document, question);
		else
			ck_assert_msg((status == RIG_BAD_INPUT || status == RIG_NOT_FOUND) &&
					      rig_diags_faults(diags) > n_before,
				"%s: %s", question, rig_status_text(status));
		rig_document_free(document);
	}
	rig_diags_free(diags);
	rig_file_free(file);
}

/* What a coach is besides its place. */
static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"L\", \"shore\": {\"cord_a\": 30},"
	"\"place\": {\"latitude_deg\": %s, \"longitude_deg\": %s},"
	"\"banks\": [{\"id\": \"b\", \"role\": \"house\", \"chemistry\": \"agm\","
	"\"capacity_ah\": %s}], \"solar\": [{\"id\": \"p\", \"bank\": \"b\", \"watts_w\": %s}],"
	"\"loads\": [{\"id\": \"k\", \"supply\": \"ac\", \"running_w\": %s},"
	"{\"id\": \"d\", \"supply\": \"dc\", \"running_w\": %s, \"daily_use_h\": %s}]}";

/* Poles, polar circles in midnight sun and in the long night, date line; the least and the most of
 * each figure that the file may state. */
static const struct {
	const char *latitude, *longitude, *capacity, *panel, *ac_w, *dc_w, *daily_h;
} ENDS[] = {
	{"90", "0", "100", "200", "900", "20", "8"},
	{"-90", "0", "100", "200", "900", "20", "8"},
	{"66.57", "180", "100", "200", "900", "20", "8"},
	{"-66.57", "-180", "100", "200", "900", "20", "8"},
	{"78.2", "15.6", "100", "200", "900", "20", "8"},
	{"0", "0", "100", "200", "900", "20", "8"},
	{"35", "-111", "100", "200", "0", "0", "0"},
	{"35", "-111", "1", "1", "0", "0", "24"},
	{"35", "-111", "2000", "1000", "20000", "20000", "24"},
	{"35", "-111", "1", "1000", "20000", "1e-300", "24"},
	{"35", "-111", "2000", "1", "5e-324", "20000", "1e-9"},
};

START_TEST(the_ends_of_the_allowed_give_finite_answers)
{
	char text[1024];
	snprintf(text, sizeof text, COACH, ENDS[_i].latitude, ENDS[_i].longitude, ENDS[_i].capacity,
		ENDS[_i].panel, ENDS[_i].ac_w, ENDS[_i].dc_w, ENDS[_i].daily_h);
	check_questions(text);
}
END_TEST

static const struct {
	const char *watts, *found;
} PAST[] = {{"1e9", "1000000000"}, {"20001", "20001"}, {"-1", "-1"}, {"1e308", "1e+308"}};

START_TEST(watts_past_the_allowed_are_refused_with_what_is_allowed)
{
	char text[1024];
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	snprintf(text, sizeof text, COACH, "35", "-111", "100", "200", PAST[_i].watts, "20", "8");
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_BAD_INPUT);
	const rig_diag *diag = rig_diags_at(diags, 0);
	ck_assert_str_eq(diag->where.path, "loads[0].running_w");
	ck_assert_str_eq(diag->found, PAST[_i].found);
	ck_assert_str_eq(diag->allowed, "a number from 0 to 20000 W");
	ck_assert_uint_gt(diag->where.column, 1);
	rig_diags_free(diags);
}
END_TEST

/* 29 February is a day of some years, 30 February of none. */
static const struct {
	int month, day;
	rig_status status;
} DATES[] = {{2, 29, RIG_OK}, {2, 30, RIG_BAD_INPUT}, {4, 31, RIG_BAD_INPUT}, {12, 31, RIG_OK}};

START_TEST(a_reading_is_of_a_day_that_there_is)
{
	char text[1024];
	rig_file *file = NULL;
	snprintf(text, sizeof text,
		"{\"format\": \"rigbudget/1\", \"name\": \"L\", \"shore\": {\"cord_a\": 30},"
		"\"place\": {\"name\": \"Flagstaff\"}, \"loads\": [], \"banks\": [{\"id\": \"b\","
		"\"role\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 90}], \"solar\": "
		"[{\"id\": \"p\", \"bank\": \"b\", \"watts_w\": 100}], \"readings\": [{\"on\": [],"
		"\"array\": \"p\", \"array_a\": 4, \"month\": %d, \"day\": %d, \"hour_h\": 12,"
		"\"sky\": \"clear\"}]}",
		DATES[_i].month, DATES[_i].day);
	ck_assert_int_eq(rig_file_parse(text, strlen(text), NULL, &file), DATES[_i].status);
	rig_file_free(file);
	if (DATES[_i].status == RIG_OK)
		check_questions(text);
}
END_TEST

static char *many_loads(int n)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, "{\"format\": \"rigbudget/1\", \"name\": \"L\", \"shore\": {"
			      "\"cord_a\": 30}, \"loads\": [");
	for (int i = 0; i < n; i++)
		rig_buffer_format(&text,
			"%s{\"id\": \"l%d\", \"supply\": \"ac\", \"running_w\": %d}",
			i > 0 ? "," : "", i, i % 7);
	rig_buffer_add(&text, "]}");
	ck_assert(!text.failed);
	return text.text;
}

START_TEST(no_load_one_load_and_a_hundred_are_answered)
{
	static const int N[] = {0, 1, 100};
	char *text = many_loads(N[_i]);
	check_questions(text);
	free(text);
}
END_TEST

START_TEST(one_load_too_many_is_refused_and_the_last_is_not)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	char *text = many_loads(MOST_LOADS);
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_OK);
	ck_assert_uint_eq(rig_file_completed(file)->n_loads, MOST_LOADS);
	rig_file_free(file);
	file = NULL;
	free(text);
	text = many_loads(MOST_LOADS + 1);
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_BAD_INPUT);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "loads");
	ck_assert_str_eq(rig_diags_at(diags, 0)->allowed, "at most 2000");
	rig_diags_free(diags);
	free(text);
}
END_TEST

Suite *limits_suite(void);
Suite *limits_suite(void)
{
	Suite *suite = suite_create("limits");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, the_ends_of_the_allowed_give_finite_answers, 0, COUNT(ENDS));
	tcase_add_loop_test(
		all, watts_past_the_allowed_are_refused_with_what_is_allowed, 0, COUNT(PAST));
	tcase_add_loop_test(all, a_reading_is_of_a_day_that_there_is, 0, COUNT(DATES));
	tcase_add_loop_test(all, no_load_one_load_and_a_hundred_are_answered, 0, 3);
	tcase_add_test(all, one_load_too_many_is_refused_and_the_last_is_not);
	suite_add_tcase(suite, all);
	return suite;
}
