/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/answer.h"

#include <stdlib.h>
#include <string.h>

#include "report/golden.h"
#include "suites.h"

static rig_file *read_text(const char *text)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_OK);
	rig_diags_free(diags);
	return file;
}

static rig_file *read_sample(const char *path)
{
	char *text = file_of_tree(path);
	ck_assert_ptr_nonnull(text);
	rig_file *file = read_text(text);
	free(text);
	return file;
}

static const char DIESEL[] = "samples/diesel-coach.rig.json";
static const char BARE[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30},"
	" \"loads\": [{\"id\": \"heater\", \"supply\": \"ac\", \"running_w\": "
	"900}]}";

/* The JSON of an answer; what it holds is the study's, tested with the study. Free it. */
static char *answer_json(
	const rig_file *file, const char *question, const rig_answer_options *asked)
{
	rig_document *document = NULL;
	char *text = NULL;
	rig_diags *diags = rig_diags_new();
	const rig_status status = rig_answer(file, question, asked, diags, &document);
	ck_assert_msg(status == RIG_OK, "%s: %s", question,
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "");
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	rig_document_free(document);
	rig_diags_free(diags);
	return text;
}

START_TEST(nothing_said_is_the_defaults)
{
	rig_file *file = read_sample(DIESEL);
	const rig_answer_options usual = rig_answer_defaults();
	char *a = answer_json(file, "shore", NULL), *b = answer_json(file, "shore", &usual);
	ck_assert_str_eq(a, b);
	free(a);
	free(b);
	rig_file_free(file);
}
END_TEST

START_TEST(a_document_outlives_its_file)
{
	rig_file *file = read_sample(DIESEL);
	rig_document *document = NULL;
	char *before = NULL, *after = NULL;
	ck_assert_int_eq(rig_answer(file, "report", NULL, NULL, &document), RIG_OK);
	ck_assert_int_eq(rig_document_html(document, &before), RIG_OK);
	rig_file_free(file);
	ck_assert_int_eq(rig_document_html(document, &after), RIG_OK);
	ck_assert_str_eq(before, after);
	free(before);
	free(after);
	rig_document_free(document);
}
END_TEST

/* ---- what is refused ---- */

static const struct {
	const char *question, *path;
	rig_answer_options options; /* over zeros: -1 where nothing is said */
	rig_status status;
} REFUSED[] = {
	{"shroe", "question", {.month = -1}, RIG_NOT_FOUND},
	{"trip", "place", {.month = -1, .place = "Nowhereville"}, RIG_NOT_FOUND},
	{"trip", "habit", {.month = -1, .habit = "dancing"}, RIG_NOT_FOUND},
	{"shed", "supply", {.month = -1, .supply = "42"}, RIG_NOT_FOUND},
	{"shed", "supply", {.month = -1, .supply = "30 A of it"}, RIG_NOT_FOUND},
	{"shore", "run", {.month = -1, .run = "no-such"}, RIG_BAD_INPUT},
	{"shed", "", {.month = -1, .supply = "generator"}, RIG_BAD_INPUT},
	{"trip", "", {.month = -1}, RIG_BAD_INPUT},
	{"solar", "", {.month = -1}, RIG_BAD_INPUT},
};

START_TEST(what_cannot_be_answered_is_refused_with_a_reason)
{
	rig_file *file = read_text(BARE);
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	ck_assert_int_eq(
		rig_answer(file, REFUSED[_i].question, &REFUSED[_i].options, diags, &document),
		REFUSED[_i].status);
	ck_assert_ptr_null(document);
	ck_assert_uint_eq(rig_diags_faults(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, REFUSED[_i].path);
	ck_assert_uint_gt(strlen(rig_diags_at(diags, 0)->what), 10);
	rig_diags_free(diags);
	rig_file_free(file);
}
END_TEST

/* ---- a supply by any of its names ---- */

static const char *const THIRTY[] = {"30A", "30a", "30", "30.0"};

START_TEST(a_supply_is_named_in_several_ways)
{
	rig_file *file = read_sample(DIESEL);
	rig_answer_options options = rig_answer_defaults();
	options.n_days = 3;
	options.supply = "30A";
	char *expected = answer_json(file, "shed", &options);
	options.supply = THIRTY[_i];
	char *text = answer_json(file, "shed", &options);
	ck_assert_str_eq(text, expected);
	free(expected);
	free(text);
	rig_file_free(file);
}
END_TEST

/* ---- options as JSON ---- */

START_TEST(options_read_from_json_are_those_that_were_written)
{
	static const char TEXT[] =
		"{\"units\": \"si\", \"date\": \"2 May\", \"run\": \"a\", \"supply\": \"20A\","
		" \"day\": \"cold\", \"place\": \"Flagstaff\", \"month\": 5, \"days\": 9,"
		" \"trips\": 0, \"side_trips\": 7, \"seed\": 2147483647, \"habit\": \"h\","
		" \"meter_percent\": 3, \"meter_a\": 0.5, \"copper\": \"sae\", \"next_size\": "
		"true}";
	rig_file *file = read_text(BARE);
	rig_answer_request *request = NULL;
	ck_assert_int_eq(rig_answer_request_read(TEXT, strlen(TEXT), file, NULL, &request), RIG_OK);
	const rig_answer_options *options = rig_answer_request_options(request);
	ck_assert_int_eq(options->units, RIG_UNITS_SI);
	ck_assert_str_eq(options->date, "2 May");
	ck_assert_str_eq(options->run, "a");
	ck_assert_str_eq(options->supply, "20A");
	ck_assert_int_eq(options->day, RIG_SHED_COLD);
	ck_assert_str_eq(options->place, "Flagstaff");
	ck_assert_int_eq(options->month, 4);
	ck_assert_int_eq(options->n_days, 9);
	ck_assert_int_eq(options->n_trips, 0);
	ck_assert_int_eq(options->n_side_trips, 7);
	ck_assert_int_eq(options->seed, 2147483647);
	ck_assert_str_eq(options->habit, "h");
	ck_assert_double_eq_tol(options->meter_frac, 0.03, 1e-15);
	ck_assert_double_eq(options->meter_a, 0.5);
	ck_assert_int_eq(options->copper, RIG_COPPER_SAE);
	ck_assert(options->next_size);
	rig_answer_request_free(request);
	rig_file_free(file);
}
END_TEST

static const struct {
	const char *text, *path;
	size_t line, column;
} WRONG[] = {
	{"{\"month\": 0}", "month", 1, 11},
	{"{\n\"month\": 13}", "month", 2, 10},
	{"{\"seed\": -1}", "seed", 1, 10},
	{"{\"trips\": 1e9}", "trips", 1, 11},
	{"{\"place\": \"\"}", "place", 1, 11},
	{"{\"day\": \"wet\"}", "day", 1, 9},
	{"{\"next_size\": \"yes\"}", "next_size", 1, 15},
	{"{\"read\": \"on=heater\"}", "read", 1, 10},
	{"{\"read\": [7]}", "read", 1, 11},
	{"{\"mnoth\": 5}", "mnoth", 1, 11},
	{"{\"load\": \"heater\"}", "load", 1, 10},
	{"{\"load\": [\"heater\", 3]}", "load", 1, 21},
	{"{\"roof\": 33}", "roof", 1, 10},
	{"{\"max_panels\": 101}", "max_panels", 1, 16},
	{"[]", "", 1, 1},
	{"{\"month\": 5", "", 1, 1},
};

START_TEST(a_wrong_option_is_refused_at_its_place)
{
	rig_file *file = read_text(BARE);
	rig_answer_request *request = NULL;
	rig_diags *diags = rig_diags_new();
	const char *text = WRONG[_i].text;
	ck_assert_int_eq(
		rig_answer_request_read(text, strlen(text), file, diags, &request), RIG_BAD_INPUT);
	ck_assert_ptr_null(request);
	const rig_diag *diag = rig_diags_at(diags, 0);
	ck_assert_str_eq(diag->where.path, WRONG[_i].path);
	ck_assert_uint_eq(diag->where.line, WRONG[_i].line);
	ck_assert_uint_eq(diag->where.column, WRONG[_i].column);
	rig_diags_free(diags);
	rig_file_free(file);
}
END_TEST

START_TEST(readings_in_words_and_in_a_table_are_joined)
{
	static const char TEXT[] =
		"{\"table\": \"on,leg1_a\\nheater,7.4\\n\","
		" \"read\": [\"on=heater leg1_a=7.6\", \"on=heater leg1_a=7.5\"]}";
	rig_file *file = read_text(BARE);
	rig_answer_request *request = NULL;
	ck_assert_int_eq(rig_answer_request_read(TEXT, strlen(TEXT), file, NULL, &request), RIG_OK);
	const rig_answer_options *options = rig_answer_request_options(request);
	ck_assert_uint_eq(options->n_readings, 3);
	ck_assert_double_eq(options->readings[0].leg1_a.likely, 7.4);
	ck_assert_double_eq(options->readings[1].leg1_a.likely, 7.6);
	rig_accepted accepted = {0};
	ck_assert_int_eq(rig_answer_accept(file, options, NULL, &accepted), RIG_OK);
	ck_assert_uint_eq(accepted.n, 1);
	ck_assert_ptr_nonnull(strstr(accepted.text, "\"measured\""));
	free(accepted.text);
	rig_answer_request_free(request);
	rig_file_free(file);
}
END_TEST

/* ---- the sheet's own choices ---- */

/* A heater of 900 W on 30 A is never switched off, so the sheet sheds on the next smaller supply.
 */
START_TEST(the_sheet_sheds_on_a_smaller_supply_where_nothing_happens)
{
	rig_file *file = read_text(BARE);
	char *text = answer_json(file, "report", NULL);
	ck_assert_ptr_nonnull(strstr(text, "\"supply\": \"20A\",\n      \"n_hots\""));
	free(text);
	rig_file_free(file);
}
END_TEST

Suite *answer_suite(void);

Suite *answer_suite(void)
{
	Suite *suite = suite_create("answer");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, nothing_said_is_the_defaults);
	tcase_add_test(all, a_document_outlives_its_file);
	tcase_add_loop_test(
		all, what_cannot_be_answered_is_refused_with_a_reason, 0, COUNT(REFUSED));
	tcase_add_loop_test(all, a_supply_is_named_in_several_ways, 0, COUNT(THIRTY));
	tcase_add_test(all, options_read_from_json_are_those_that_were_written);
	tcase_add_loop_test(all, a_wrong_option_is_refused_at_its_place, 0, COUNT(WRONG));
	tcase_add_test(all, readings_in_words_and_in_a_table_are_joined);
	tcase_add_test(all, the_sheet_sheds_on_a_smaller_supply_where_nothing_happens);
	suite_add_tcase(suite, all);
	return suite;
}
