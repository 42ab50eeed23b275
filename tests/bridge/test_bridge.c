/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "page/bridge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "base/jsonout.h"
#include "report/golden.h"
#include "rigbudget/rigbudget.h"
#include "suites.h"

/* A response, taken apart. */
typedef struct {
	rig_json *json;
	const cJSON *root;
} response;

static response read_response(char *text)
{
	response got = {0};
	rig_diags *diags = rig_diags_new();
	ck_assert_ptr_nonnull(text);
	ck_assert_msg(rig_json_read(text, strlen(text), diags, &got.json) == RIG_OK,
		"a response is no JSON: %.200s", text);
	got.root = rig_json_root(got.json);
	rig_diags_free(diags);
	free(text);
	return got;
}

static response ask(const char *request)
{
	return read_response(page_respond(request, strlen(request), NULL));
}

static const cJSON *at(const cJSON *object, const char *key)
{
	return cJSON_GetObjectItemCaseSensitive(object, key);
}

static const char *text_at(const cJSON *object, const char *key)
{
	const cJSON *member = at(object, key);
	ck_assert_msg(cJSON_IsString(member), "%s is no text", key);
	return member->valuestring;
}

static bool is_ok(const response *got)
{
	return cJSON_IsTrue(at(got->root, "ok"));
}

/* The request {first..., "file": the text}. */
static response ask_about(const char *first, const char *file)
{
	rig_buffer request = {0};
	rig_buffer_format(&request, "{%s, \"file\": ", first);
	rig_json_render_text(&request, file);
	rig_buffer_add(&request, "}");
	const response got = ask(request.text);
	rig_buffer_free(&request);
	return got;
}

static response ask_about_file(const char *first, const char *path)
{
	char *text = file_of_tree(path);
	ck_assert_ptr_nonnull(text);
	const response got = ask_about(first, text);
	free(text);
	return got;
}

static const char *const COACHES[] = {"samples/diesel-coach.rig.json",
	"samples/week-trailer.rig.json", "samples/upgrade-fifth-wheel.rig.json"};

/* ---- what is wrong is refused, with its place ---- */

static const char *const WRONG[] = {"", "[]", "7", "{", "{}", "{\"do\": 7}", "{\"do\": \"anser\"}",
	"{\"do\": \"answer\"}", "{\"do\": \"answer\", \"question\": \"shore\"}",
	"{\"do\": \"answer\", \"question\": \"shore\", \"file\": 3}",
	"{\"do\": \"check\", \"file\": \"\"}", "{\"do\": \"check\", \"file\": \"\\u0000\"}",
	"{\"do\": \"list\"}", "{\"do\": \"list\", \"what\": \"people\"}",
	"{\"do\": \"list\", \"what\": \"places\", \"most\": -1}",
	"{\"do\": \"new\", \"loads\": [{\"profile\": 3}]}",
	"{\"do\": \"new\", \"loads\": [{\"profile\": \"led_light\", \"count\": 1.5}]}",
	"{\"do\": \"new\", \"loads\": [{\"profile\": \"no_such_thing\"}]}",
	"{\"do\": \"new\", \"cord\": 31}", "{\"do\": \"new\", \"panel_bank\": \"attic\"}",
	"{\"do\": \"new\", \"place\": \"Nowhereville\"}", "{\"do\": \"do\"}\xFF", "\xEF\xBB\xBF"};

START_TEST(a_wrong_request_is_refused_in_words)
{
	const response got = ask(WRONG[_i]);
	ck_assert_msg(!is_ok(&got), "%s was taken", WRONG[_i]);
	const cJSON *faults = at(got.root, "faults");
	ck_assert_int_gt(cJSON_GetArraySize(faults), 0);
	const cJSON *fault = NULL;
	cJSON_ArrayForEach(fault, faults)
	{
		ck_assert_uint_gt(strlen(text_at(fault, "text")), 10);
		ck_assert_ptr_nonnull(strstr(text_at(fault, "text"), text_at(fault, "what")));
	}
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_fault_of_the_file_has_its_place_in_the_file)
{
	const response got = ask_about("\"do\": \"answer\", \"question\": \"shore\"",
		"{\"format\": \"rigbudget/1\",\n\"name\": \"A\",\n\"shore\": {\"cord_a\": "
		"\"thirty\"}}");
	ck_assert(!is_ok(&got));
	const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
	ck_assert_double_eq(at(fault, "line")->valuedouble, 3);
	ck_assert_double_eq(at(fault, "column")->valuedouble, 21);
	ck_assert_str_eq(text_at(fault, "path"), "shore.cord_a");
	ck_assert_str_eq(text_at(fault, "found"), "\"thirty\"");
	ck_assert_str_eq(text_at(fault, "allowed"), "15, 20, 30 or 50");
	rig_json_free(got.json);
}
END_TEST

static const struct {
	const char *question, *options, *path;
} OPTIONS[] = {
	{"trip", "{\"month\": 13}", "options.month"},
	{"trip", "{\"month\": 5.5}", "options.month"},
	{"trip", "{\"days\": 0}", "options.days"},
	{"trip", "{\"place\": \"Nowhereville\"}", "options.place"},
	{"trip", "{\"habit\": \"dancing\"}", "options.habit"},
	{"trip", "{\"trips\": \"many\"}", "options.trips"},
	{"trip", "{\"weather\": \"month,day\\n1,1\\n\"}", "options.weather"},
	{"trip", "{\"mnoth\": 5}", "options.mnoth"},
	{"trip", "[]", ""},
	{"shed", "{\"supply\": \"42\"}", "options.supply"},
	{"shed", "{\"day\": \"wet\"}", "options.day"},
	{"shore", "{\"run\": \"fire-place\"}", "options.run"},
	{"shore", "{\"units\": \"imperial\"}", "options.units"},
	{"readings", "{\"read\": [\"on=no-such leg1_a=3\"]}", "options.read[0]"},
	{"readings", "{\"table\": \"on,leg1_a\\nno-such,3\\n\"}", "options.table"},
	{"wiring", "{\"next_size\": 1}", "options.next_size"},
	{"shroe", "{}", "options.question"},
};

START_TEST(a_fault_of_an_option_names_the_option)
{
	char first[256];
	snprintf(first, sizeof first, "\"do\": \"answer\", \"question\": \"%s\", \"options\": %s",
		OPTIONS[_i].question, OPTIONS[_i].options);
	const response got = ask_about_file(first, COACHES[0]);
	ck_assert_msg(!is_ok(&got), "%s was taken", OPTIONS[_i].options);
	const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
	ck_assert_str_eq(text_at(fault, "path"), OPTIONS[_i].path);
	rig_json_free(got.json);
}
END_TEST

static const char TWO_LOADS[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30}, \"loads\": ["
	"{\"id\": \"heater\", \"supply\": \"ac\", \"running_w\": 1200},"
	"{\"id\": \"fan\", \"supply\": \"ac\", \"running_w\": 600}]}";

/* Of TWO_LOADS: what of the request is named, and what is said of it. */
static const struct {
	const char *first, *path, *what;
} REFUSED[] = {
	{"\"do\": \"answer\"", "request.question", "missing"},
	{"\"do\": \"answer\", \"question\": null", "request.question", "missing"},
	{"\"do\": \"answer\", \"question\": 7", "request.question", "not a text"},
	{"\"do\": \"answer\", \"question\": \"shore\", \"units\": \"imperial\"", "request.units",
		"neither us nor si"},
	{"\"do\": \"answer\", \"question\": \"shore\", \"units\": 7", "request.units",
		"not a text"},
	{"\"do\": \"answer\", \"question\": \"shore\", \"prefix\": 7", "request.prefix",
		"not a text"},
	{"\"do\": \"answer\", \"question\": \"shore\", \"as\": \"text\"", "request.as",
		"not a list"},
	{"\"do\": \"answer\", \"question\": \"shore\", \"as\": [\"pdf\"]", "request.as", "none of"},
	{"\"do\": \"whole\", \"question\": \"shore\", \"format\": \"pdf\"", "request.format",
		"none of html, json and text"},
	{"\"do\": \"whole\", \"question\": \"shore\", \"format\": 7", "request.format",
		"not a text"},
	{"\"do\": \"budget\", \"on\": [\"kettle\"]", "request.on", "no such load"},
	{"\"do\": \"budget\", \"on\": [7]", "request.on", "no such load"},
	{"\"do\": \"budget\", \"on\": \"heater\"", "request.on", "not a list"},
	{"\"do\": \"budget\", \"on\": [\"fan\", \"heater\", \"fan\"]", "request.on", "twice"},
	{"\"do\": \"budget\", \"supply\": \"42A\"", "request.supply", "no such supply"},
	{"\"do\": \"budget\", \"supply\": 30", "request.supply", "not a text"},
	{"\"do\": \"explain\", \"about\": \"the weather\"", "request.about", "no such explanation"},
	{"\"do\": \"explain\", \"about\": 7", "request.about", "not a text"},
	{"\"do\": \"find_place\"", "request.name", "missing"},
	{"\"do\": \"list\", \"what\": \"places\", \"word\": 7", "request.word", "not a text"},
	{"\"do\": \"new\", \"cord\": 30.5", "request.cord", "15, 20, 30 or 50"},
	{"\"do\": \"new\", \"panel_w\": -1", "request.panel_w", "a number from 0 to 100000"},
	{"\"do\": \"new\", \"bank_ah\": \"80\"", "request.bank_ah", "a number from"},
	{"\"do\": \"new\", \"chemistry\": 7", "request.chemistry", "not a text"},
	{"\"do\": \"new\", \"name\": 7", "request.name", "not a text"},
	{"\"do\": \"new\", \"place\": 7", "request.place", "not a text"},
	{"\"do\": \"new\", \"panel_bank\": 7", "request.panel_bank", "not a text"},
	{"\"do\": \"new\", \"loads\": \"led_light\"", "request.loads", "not a list"},
	{"\"do\": \"new\", \"loads\": [{\"profile\": \"led_light\", \"count\": \"2\"}]",
		"request.loads", "a whole number"},
	{"\"do\": \"new\", \"loads\": [{\"profile\": \"led_light\", \"count\": 0}]",
		"request.loads", "a whole number"},
	{"\"do\": \"new\", \"loads\": [\"led_light\"]", "request.loads", "a load is not"},
	{"\"do\": \"anser\"", "request.do", "did you mean answer?"},
	{"\"do\": \"xyzzy\"", "request.do", "there is no such request"},
};

START_TEST(a_fault_of_the_request_names_what_is_wrong)
{
	const response got = ask_about(REFUSED[_i].first, TWO_LOADS);
	ck_assert_msg(!is_ok(&got), "%s was taken", REFUSED[_i].first);
	const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
	ck_assert_str_eq(text_at(fault, "path"), REFUSED[_i].path);
	ck_assert_msg(strstr(text_at(fault, "what"), REFUSED[_i].what) != NULL, "%s: %s",
		REFUSED[_i].first, text_at(fault, "what"));
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_first_coach_has_room_for_so_many_loads)
{
	rig_buffer request = {0};
	rig_buffer_add(&request, "{\"do\": \"new\", \"loads\": [");
	for (int i = 0; i < 100; i++)
		rig_buffer_format(&request, "%s{\"profile\": \"led_light\"}", i > 0 ? ", " : "");
	rig_buffer_add(&request, "]}");
	const response got = ask(request.text);
	ck_assert(!is_ok(&got));
	const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
	ck_assert_str_eq(text_at(fault, "what"), "there are too many loads");
	rig_buffer_free(&request);
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_name_past_its_room_is_refused)
{
	char name[3001], request[3200];
	memset(name, 'a', sizeof name - 1);
	name[sizeof name - 1] = '\0';
	snprintf(request, sizeof request, "{\"do\": \"new\", \"name\": \"%s\"}", name);
	const response got = ask(request);
	ck_assert(!is_ok(&got));
	const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
	ck_assert_str_eq(text_at(fault, "path"), "request.name");
	rig_json_free(got.json);
}
END_TEST

/* ---- answers ---- */

/* The findings beside the sheet are those that the JSON of the command line holds, to the last bit:
 * both are read back from text here. */
START_TEST(the_data_are_the_findings_of_the_whole_document)
{
	for (size_t i = 0; i < rig_n_questions(); i++) {
		char first[160];
		snprintf(first, sizeof first, "\"do\": \"answer\", \"question\": \"%s\"",
			rig_question_at(i)->name);
		const response got = ask_about_file(first, COACHES[_i]);
		snprintf(first, sizeof first,
			"\"do\": \"whole\", \"format\": \"json\", \"question\": \"%s\"",
			rig_question_at(i)->name);
		const response whole = ask_about_file(first, COACHES[_i]);
		ck_assert_int_eq(is_ok(&got), is_ok(&whole));
		if (!is_ok(&got)) { /* the file has nothing for it */
			const cJSON *fault = cJSON_GetArrayItem(at(got.root, "faults"), 0);
			ck_assert_str_eq(text_at(fault, "path"), "");
			ck_assert_uint_gt(strlen(text_at(fault, "remedy")), 10);
			rig_json_free(got.json);
			rig_json_free(whole.json);
			continue;
		}
		const char *text = text_at(whole.root, "text");
		rig_json *json = NULL;
		rig_diags *diags = rig_diags_new();
		ck_assert_int_eq(rig_json_read(text, strlen(text), diags, &json), RIG_OK);
		ck_assert(cJSON_Compare(
			at(got.root, "data"), at(rig_json_root(json), "findings"), true));
		ck_assert_int_gt(cJSON_GetArraySize(at(got.root, "answers")), 0);
		ck_assert_int_eq(strncmp(text_at(got.root, "html"), "<article", 8), 0);
		rig_diags_free(diags);
		rig_json_free(json);
		rig_json_free(got.json);
		rig_json_free(whole.json);
	}
}
END_TEST

START_TEST(only_the_forms_that_are_asked_for_are_made)
{
	const response got = ask_about_file("\"do\": \"answer\", \"question\": \"shore\", \"as\": "
					    "[\"text\"], \"units\": \"si\"",
		COACHES[0]);
	ck_assert(is_ok(&got));
	ck_assert_ptr_null(at(got.root, "html"));
	ck_assert_ptr_null(at(got.root, "data"));
	ck_assert_ptr_nonnull(strstr(text_at(got.root, "text"), "Shore power"));
	rig_json_free(got.json);
}
END_TEST

/* The sheet that the command line writes, to the byte. */
START_TEST(a_whole_sheet_is_that_of_the_command_line)
{
	char *expected = file_of_tree("tests/cli/sheet-trailer/stdout");
	const response got = ask_about_file(
		"\"do\": \"whole\", \"question\": \"report\", \"format\": \"text\", \"options\": "
		"{\"month\": 5, \"days\": 7}",
		COACHES[1]);
	const char *text = text_at(got.root, "text");
	ck_assert_ptr_nonnull(expected);
	size_t n = 0;
	while (text[n] != '\0' && text[n] == expected[n])
		n++;
	ck_assert_msg(text[n] == expected[n], "byte %zu: %.60s", n, text + n);
	free(expected);
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_whole_sheet_is_html_unless_another_form_is_asked_for)
{
	const response got = ask_about("\"do\": \"whole\", \"question\": \"shore\"", TWO_LOADS);
	ck_assert_int_eq(strncmp(text_at(got.root, "text"), "<!DOCTYPE html>", 15), 0);
	rig_json_free(got.json);
}
END_TEST

static const char *about_at(const response *got, int i)
{
	const cJSON *line = cJSON_GetArrayItem(at(got->root, "about"), i);
	ck_assert(cJSON_IsString(line));
	return line->valuestring;
}

START_TEST(units_may_stand_beside_the_options)
{
	const response si = ask_about_file("\"do\": \"answer\", \"question\": \"solar\", "
					   "\"as\": [], \"units\": \"si\"",
		COACHES[0]);
	const response us = ask_about_file("\"do\": \"answer\", \"question\": \"solar\", "
					   "\"as\": [], \"units\": \"us\"",
		COACHES[0]);
	ck_assert_ptr_null(strstr(about_at(&si, 0), " ft above"));
	ck_assert_ptr_nonnull(strstr(about_at(&us, 0), " ft above"));
	rig_json_free(us.json);
	rig_json_free(si.json);
}
END_TEST

START_TEST(every_question_is_told)
{
	const response got = ask("{\"do\": \"questions\"}");
	const cJSON *list = at(got.root, "questions"), *question = NULL;
	ck_assert_int_eq(cJSON_GetArraySize(list), (int)rig_n_questions());
	bool shore = false, trip = false;
	cJSON_ArrayForEach(question, list)
	{
		const char *name = text_at(question, "name");
		ck_assert_uint_gt(strlen(text_at(question, "what")), 10);
		if (strcmp(name, "shore") == 0)
			shore = cJSON_IsFalse(at(question, "needs_place"));
		if (strcmp(name, "trip") == 0)
			trip = cJSON_IsTrue(at(question, "needs_place")) &&
			       cJSON_IsTrue(at(question, "is_long"));
	}
	ck_assert(shore && trip);
	rig_json_free(got.json);
}
END_TEST

START_TEST(every_id_of_an_article_begins_with_the_prefix)
{
	const response got = ask_about_file(
		"\"do\": \"answer\", \"question\": \"report\", \"prefix\": \"pin-\"", COACHES[0]);
	const char *html = text_at(got.root, "html");
	size_t n = 0;
	for (const char *id = strstr(html, " id=\""); id != NULL; id = strstr(id + 1, " id=\"")) {
		ck_assert_msg(strncmp(id + 5, "pin-", 4) == 0, "%.40s", id);
		n++;
	}
	ck_assert_uint_gt(n, 10);
	const response bad = ask_about_file(
		"\"do\": \"answer\", \"question\": \"report\", \"prefix\": \"\\\">\"", COACHES[0]);
	ck_assert(!is_ok(&bad));
	rig_json_free(bad.json);
	rig_json_free(got.json);
}
END_TEST

START_TEST(every_figure_of_an_article_leads_to_an_explanation)
{
	static const char MARK[] = " data-explain=\"";
	const response got =
		ask_about_file("\"do\": \"answer\", \"question\": \"report\"", COACHES[0]);
	const char *html = text_at(got.root, "html");
	int n = 0, n_facts = 0;
	for (const char *at_mark = strstr(html, MARK); at_mark != NULL;
		at_mark = strstr(at_mark + 1, MARK)) {
		const char *id = at_mark + sizeof MARK - 1;
		char request[120];
		snprintf(request, sizeof request, "{\"do\": \"explain\", \"about\": \"%.*s\"}",
			(int)strcspn(id, "\""), id);
		const response about = ask(request);
		ck_assert_msg(is_ok(&about), "%s", request);
		const cJSON *source = cJSON_GetArrayItem(at(about.root, "sources"), 0);
		ck_assert_uint_gt(strlen(text_at(source, "text")), 10);
		rig_json_free(about.json);
		n++;
	}
	for (const char *fact = strstr(html, "<dt>"); fact != NULL; fact = strstr(fact + 1, "<dt>"))
		n_facts++;
	ck_assert_int_gt(n_facts, 5);
	ck_assert_int_gt(n, n_facts);
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_hostile_name_is_text)
{
	const response got = ask_about("\"do\": \"answer\", \"question\": \"shore\"",
		"{\"format\": \"rigbudget/1\", \"name\": "
		"\"<script>alert(1)</script>\\\"'&\\u202E\","
		" \"shore\": {\"cord_a\": 30}, \"loads\": [{\"id\": \"a\", \"name\": \"<img src=x "
		"onerror=1>\", \"supply\": \"ac\", \"running_w\": 900}]}");
	ck_assert_msg(is_ok(&got), "%s", cJSON_IsString(at(got.root, "text")) ? "" : "refused");
	const char *html = text_at(got.root, "html");
	ck_assert_ptr_null(strstr(html, "<script"));
	ck_assert_ptr_null(strstr(html, "<img"));
	ck_assert_ptr_null(strstr(html, "\xE2\x80\xAE"));
	rig_json_free(got.json);
}
END_TEST

START_TEST(all_explanations_come_at_once)
{
	const response all = ask("{\"do\": \"explain\"}");
	const cJSON *row = NULL;
	int n = 0;
	cJSON_ArrayForEach(row, at(all.root, "all"))
	{
		char request[120];
		snprintf(request, sizeof request, "{\"do\": \"explain\", \"about\": \"%s\"}",
			text_at(row, "about"));
		const response one = ask(request);
		ck_assert_str_eq(text_at(one.root, "what"), text_at(row, "what"));
		ck_assert(cJSON_Compare(at(one.root, "sources"), at(row, "sources"), true));
		ck_assert(cJSON_Compare(at(one.root, "inputs"), at(row, "inputs"), true));
		rig_json_free(one.json);
		n++;
	}
	ck_assert_int_gt(n, 30);
	rig_json_free(all.json);
}
END_TEST

/* ---- the file itself ---- */

START_TEST(a_check_counts_what_the_file_has)
{
	const response got = ask_about("\"do\": \"check\"",
		"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 50},"
		"\"place\": {\"name\": \"Flagstaff\"},"
		"\"circuits\": [{\"id\": \"c\", \"breaker_a\": 15}, {\"id\": \"d\", \"breaker_a\": "
		"20}],"
		"\"banks\": [{\"id\": \"b\", \"role\": \"house\", \"chemistry\": \"agm\","
		"\"capacity_ah\": 90}], \"solar\": [{\"id\": \"p\", \"watts_w\": 100, \"bank\": "
		"\"b\"}],"
		"\"loads\": [{\"id\": \"k\", \"supply\": \"ac\", \"running_w\": 9, \"circuit\": "
		"\"c\"}],"
		"\"habits\": [{\"name\": \"alone\"}],"
		"\"readings\": [{\"on\": [], \"leg1_a\": 1}, {\"on\": [\"k\"], \"leg1_a\": 2},"
		"{\"on\": [\"k\"], \"leg1_a\": 2.1}]}");
	ck_assert(is_ok(&got));
	ck_assert_str_eq(text_at(got.root, "name"), "A");
	ck_assert_int_eq(strncmp(text_at(got.root, "place"), "Flagstaff", 9), 0);
	ck_assert_double_eq(at(got.root, "cord_a")->valuedouble, 50);
	ck_assert_double_eq(at(got.root, "n_circuits")->valuedouble, 2);
	ck_assert_double_eq(at(got.root, "n_loads")->valuedouble, 1);
	ck_assert_double_eq(at(got.root, "n_banks")->valuedouble, 1);
	ck_assert_double_eq(at(got.root, "n_solar")->valuedouble, 1);
	ck_assert_double_eq(at(got.root, "n_readings")->valuedouble, 3);
	const cJSON *habits = at(got.root, "habits");
	ck_assert_int_eq(cJSON_GetArraySize(habits), 1);
	ck_assert_str_eq(cJSON_GetArrayItem(habits, 0)->valuestring, "alone");
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_check_of_a_coach_without_a_place_says_none)
{
	const response got = ask_about("\"do\": \"check\"", TWO_LOADS);
	ck_assert(is_ok(&got));
	ck_assert(cJSON_IsNull(at(got.root, "place")));
	ck_assert_double_eq(at(got.root, "n_loads")->valuedouble, 2);
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_panel_may_charge_the_chassis)
{
	const response made = ask("{\"do\": \"new\", \"name\": \"B\", \"cord\": 50, \"place\": "
				  "\"Phoenix\", \"chemistry\": \"agm\", \"bank_ah\": 100, "
				  "\"panel_w\": 60, \"panel_bank\": \"chassis\", \"loads\": "
				  "[{\"profile\": \"led_light\", \"count\": 6}]}");
	const response got = ask_about("\"do\": \"check\"", text_at(made.root, "text"));
	ck_assert_double_eq(at(got.root, "cord_a")->valuedouble, 50);
	ck_assert_double_eq(at(got.root, "n_banks")->valuedouble, 2);
	ck_assert_double_eq(at(got.root, "n_loads")->valuedouble, 1);
	ck_assert_int_eq(strncmp(text_at(got.root, "place"), "Phoenix", 7), 0);
	rig_json_free(got.json);
	rig_json_free(made.json);
}
END_TEST

START_TEST(what_is_written_reads_back_the_same)
{
	const response once = ask_about_file("\"do\": \"write\"", COACHES[_i]);
	ck_assert(is_ok(&once));
	const response twice = ask_about("\"do\": \"write\"", text_at(once.root, "text"));
	ck_assert_str_eq(text_at(once.root, "text"), text_at(twice.root, "text"));
	rig_json_free(once.json);
	rig_json_free(twice.json);
}
END_TEST

START_TEST(a_new_coach_is_that_of_the_command_line)
{
	const response got = ask("{\"do\": \"new\"}");
	char *expected = file_of_tree("tests/cli/new-usual/stdout");
	ck_assert_ptr_nonnull(expected);
	ck_assert_str_eq(text_at(got.root, "text"), expected);
	free(expected);
	rig_json_free(got.json);
}
END_TEST

START_TEST(readings_are_accepted_as_on_the_command_line)
{
	char *table = file_of_tree("tests/cli/readings-table/readings.csv");
	char *expected = file_of_tree("tests/cli/readings-accept/stdout");
	rig_buffer first = {0};
	rig_buffer_add(&first, "\"do\": \"accept\", \"options\": {\"table\": ");
	rig_json_render_text(&first, table);
	rig_buffer_add(&first, "}");
	const response got = ask_about_file(first.text, "tests/cli/readings-table/coach.rig.json");
	ck_assert(is_ok(&got));
	ck_assert_str_eq(text_at(got.root, "text"), expected);
	ck_assert_double_eq(at(got.root, "n")->valuedouble, 5);
	rig_buffer_free(&first);
	free(expected);
	free(table);
	rig_json_free(got.json);
}
END_TEST

START_TEST(the_demo_coaches_are_the_samples)
{
	const response got = ask("{\"do\": \"demo\"}");
	ck_assert_int_eq(cJSON_GetArraySize(at(got.root, "coaches")), COUNT(COACHES));
	for (int i = 0; i < COUNT(COACHES); i++) {
		char *expected = file_of_tree(COACHES[i]);
		const cJSON *coach = cJSON_GetArrayItem(at(got.root, "coaches"), i);
		ck_assert_str_eq(text_at(coach, "text"), expected);
		free(expected);
	}
	rig_json_free(got.json);
}
END_TEST

START_TEST(a_blank_coach_can_be_asked)
{
	const response blank = ask("{\"do\": \"blank\"}");
	const response got = ask_about(
		"\"do\": \"answer\", \"question\": \"report\"", text_at(blank.root, "text"));
	ck_assert(is_ok(&got));
	rig_json_free(got.json);
	rig_json_free(blank.json);
}
END_TEST

START_TEST(what_the_reader_assumed_keeps_its_place_beside_an_answer)
{
	const response made =
		ask("{\"do\": \"new\", \"panel_w\": 100, \"panel_bank\": \"chassis\"}");
	const response got =
		ask_about("\"do\": \"answer\", \"question\": \"shore\", \"options\": {}",
			text_at(made.root, "text"));
	ck_assert(is_ok(&got));
	const cJSON *remark = cJSON_GetArrayItem(at(got.root, "remarks"), 0);
	ck_assert_ptr_nonnull(remark);
	ck_assert_str_eq(text_at(remark, "path"), "solar[0]");
	ck_assert_double_gt(at(remark, "line")->valuedouble, 1);
	rig_json_free(got.json);
	rig_json_free(made.json);
}
END_TEST

/* ---- tables ---- */

START_TEST(a_list_says_how_many_rows_there_are)
{
	const response few =
		ask("{\"do\": \"list\", \"what\": \"places\", \"word\": \"AZ\", \"most\": 2}");
	const response all = ask("{\"do\": \"list\", \"what\": \"places\", \"word\": \"AZ\"}");
	ck_assert_int_eq(cJSON_GetArraySize(at(few.root, "rows")), 2);
	ck_assert_double_eq(
		at(few.root, "n")->valuedouble, (double)cJSON_GetArraySize(at(all.root, "rows")));
	ck_assert_double_gt(at(few.root, "n")->valuedouble, 2);
	rig_json_free(few.json);
	rig_json_free(all.json);
}
END_TEST

START_TEST(a_place_is_found_or_the_nearest_names_are_told)
{
	const response found = ask("{\"do\": \"find_place\", \"name\": \"Flagstaff\"}");
	const response near = ask("{\"do\": \"find_place\", \"name\": \"Flagstof\"}");
	ck_assert_int_eq(strncmp(text_at(found.root, "found"), "Flagstaff", 9), 0);
	ck_assert(cJSON_IsNull(at(near.root, "found")));
	const cJSON *name = NULL;
	bool told = false;
	cJSON_ArrayForEach(name, at(near.root, "near"))
	{
		told = told || strncmp(name->valuestring, "Flagstaff", 9) == 0;
	}
	ck_assert(told);
	rig_json_free(near.json);
	rig_json_free(found.json);
}
END_TEST

START_TEST(what_the_page_shows_of_itself_is_there)
{
	const response style = ask("{\"do\": \"style\"}");
	const response version = ask("{\"do\": \"version\"}");
	ck_assert_ptr_nonnull(strstr(text_at(style.root, "css"), "--sheet:"));
	ck_assert_str_eq(text_at(version.root, "version"), RIG_VERSION);
	ck_assert_str_eq(text_at(version.root, "cjson"), cJSON_Version());
	ck_assert_ptr_nonnull(strstr(text_at(version.root, "licence"), "no warranty"));
	rig_json_free(version.json);
	rig_json_free(style.json);
}
END_TEST

START_TEST(the_door_of_the_module_answers_as_the_bridge_does)
{
	static const char REQUEST[] = "{\"do\": \"find_place\", \"name\": \"Flagstaff\"}";
	char *room = rig_page_alloc(sizeof REQUEST - 1), *nothing = rig_page_alloc(0);
	ck_assert_ptr_nonnull(room);
	ck_assert_ptr_nonnull(nothing);
	memcpy(room, REQUEST, sizeof REQUEST - 1);
	char *told = rig_page_call(room, sizeof REQUEST - 1);
	char *expected = page_respond(REQUEST, sizeof REQUEST - 1, NULL);
	ck_assert_str_eq(told, expected);
	free(expected);
	rig_page_release(told);
	rig_page_release(nothing);
	rig_page_release(room);
}
END_TEST

START_TEST(every_key_has_what_a_form_needs)
{
	const response got = ask("{\"do\": \"keys\"}");
	const cJSON *object = NULL, *key = NULL;
	int n = 0;
	cJSON_ArrayForEach(object, at(got.root, "objects"))
	{
		cJSON_ArrayForEach(key, at(object, "keys"))
		{
			ck_assert_uint_gt(strlen(text_at(key, "name")), 0);
			ck_assert_uint_gt(strlen(text_at(key, "what")), 0);
			ck_assert_int_eq(cJSON_GetArraySize(at(key, "names")),
				cJSON_GetArraySize(at(key, "units")));
			const bool chooses = strcmp(text_at(key, "kind"), "choice") == 0;
			ck_assert(!chooses || cJSON_GetArraySize(at(key, "choices")) > 1);
			n++;
		}
	}
	ck_assert_int_gt(n, 100);
	rig_json_free(got.json);
}
END_TEST

/* ---- the budget beside the table ---- */

/* By hand: 1,200 W of a heater at 120 V are 10 A; continuous, 12.5 A are counted. The fan of 600 W
 * is off. */
START_TEST(only_what_is_on_draws)
{
	const response got = ask_about("\"do\": \"budget\", \"on\": [\"heater\"]",
		"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30},"
		" \"circuits\": [{\"id\": \"c\", \"breaker_a\": 15}], \"loads\": [{\"id\": "
		"\"heater\","
		" \"supply\": \"ac\", \"circuit\": \"c\", \"running_w\": 1200, \"power_factor\": 1,"
		" \"continuous\": true},"
		" {\"id\": \"fan\", \"supply\": \"ac\", \"running_w\": 600}]}");
	ck_assert(is_ok(&got));
	const cJSON *main = cJSON_GetArrayItem(at(got.root, "legs"), 0);
	ck_assert_str_eq(text_at(main, "name"), "main");
	ck_assert_double_eq_tol(at(at(main, "amps"), "likely")->valuedouble, 10, 1e-9);
	ck_assert_double_eq_tol(at(at(main, "loaded_a"), "likely")->valuedouble, 12.5, 1e-9);
	ck_assert_double_eq(at(main, "limit_a")->valuedouble, 30);
	const cJSON *circuit = cJSON_GetArrayItem(at(got.root, "circuits"), 0);
	ck_assert_str_eq(text_at(circuit, "id"), "c");
	ck_assert_double_eq(at(circuit, "limit_a")->valuedouble, 15);
	ck_assert_str_eq(text_at(got.root, "verdict"), "fits");
	rig_json_free(got.json);
}
END_TEST

/* What is off draws nothing, and a coach without anything that is always on needs no amps. */
START_TEST(with_nothing_on_there_is_nothing_to_draw)
{
	const response got = ask_about("\"do\": \"budget\", \"on\": []", TWO_LOADS);
	const cJSON *main = cJSON_GetArrayItem(at(got.root, "legs"), 0);
	ck_assert_msg(is_ok(&got), "refused");
	ck_assert_double_eq(at(at(main, "amps"), "likely")->valuedouble, 0);
	ck_assert_str_eq(text_at(got.root, "verdict"), "fits");
	rig_json_free(got.json);
}
END_TEST

/* By hand, of legs of 120 V: 1,200 W on leg 1 are 10 A, 600 W on leg 2 are 5 A, 5 A return by the
 * neutral. */
START_TEST(a_cord_of_two_hots_has_two_legs_and_a_neutral)
{
	const response got = ask_about("\"do\": \"budget\", \"supply\": \"50a\"",
		"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 50},"
		" \"circuits\": [{\"id\": \"c\", \"breaker_a\": 15, \"leg\": \"L1\"},"
		" {\"id\": \"d\", \"name\": \"Rear\", \"leg\": \"L2\"}],"
		" \"loads\": [{\"id\": \"heater\", \"supply\": \"ac\", \"circuit\": \"c\","
		" \"running_w\": 1200, \"power_factor\": 1},"
		" {\"id\": \"fan\", \"name\": \"Fan\", \"supply\": \"ac\", \"circuit\": \"d\","
		" \"running_w\": 600, \"power_factor\": 1}]}");
	ck_assert_msg(is_ok(&got), "refused");
	static const struct {
		const char *name;
		double amps_a;
	} LEGS[] = {{"L1", 10}, {"L2", 5}, {"neutral", 5}};
	for (int i = 0; i < COUNT(LEGS); i++) {
		const cJSON *leg = cJSON_GetArrayItem(at(got.root, "legs"), i);
		ck_assert_str_eq(text_at(leg, "name"), LEGS[i].name);
		ck_assert_double_eq_tol(
			at(at(leg, "amps"), "likely")->valuedouble, LEGS[i].amps_a, 1e-9);
	}
	const cJSON *rear = cJSON_GetArrayItem(at(got.root, "circuits"), 1);
	ck_assert_str_eq(text_at(rear, "name"), "Rear");
	ck_assert_str_eq(text_at(rear, "leg"), "L2");
	const cJSON *fan = cJSON_GetArrayItem(at(got.root, "loads"), 1);
	ck_assert_str_eq(text_at(fan, "name"), "Fan");
	ck_assert_str_eq(text_at(fan, "leg"), "L2");
	rig_json_free(got.json);
}
END_TEST

START_TEST(with_all_on_the_budget_is_that_of_everything)
{
	const response got = ask_about_file("\"do\": \"budget\", \"supply\": \"30A\"", COACHES[_i]);
	const response answer =
		ask_about_file("\"do\": \"answer\", \"question\": \"shore\"", COACHES[_i]);
	const cJSON *set = NULL, *budget = NULL, *everything = NULL;
	cJSON_ArrayForEach(set, at(at(at(answer.root, "data"), "shore"), "sets"))
	{
		cJSON_ArrayForEach(budget, at(set, "budgets"))
		{
			if (strcmp(text_at(set, "kind"), "everything") == 0 &&
				strcmp(text_at(budget, "supply"), "30A") == 0)
				everything = budget;
		}
	}
	ck_assert_ptr_nonnull(everything);
	const cJSON *main = cJSON_GetArrayItem(at(got.root, "legs"), 0);
	ck_assert_double_eq(at(at(main, "loaded_a"), "likely")->valuedouble,
		at(at(at(everything, "main"), "loaded_a"), "likely")->valuedouble);
	rig_json_free(answer.json);
	rig_json_free(got.json);
}
END_TEST

/* ---- progress ---- */

static int n_told;

static bool tell(void *context, double done_frac)
{
	(void)context;
	ck_assert(done_frac >= 0 && done_frac <= 1);
	n_told++;
	return true;
}

START_TEST(a_long_question_tells_how_far_it_is)
{
	char *file = file_of_tree(COACHES[1]);
	rig_buffer request = {0};
	rig_buffer_add(&request, "{\"do\": \"answer\", \"question\": \"trip\", \"file\": ");
	rig_json_render_text(&request, file);
	rig_buffer_add(&request, "}");
	n_told = 0;
	const response got = read_response(page_respond(request.text, request.length, tell));
	ck_assert(is_ok(&got));
	ck_assert_int_gt(n_told, 1);
	rig_buffer_free(&request);
	free(file);
	rig_json_free(got.json);
}
END_TEST

Suite *bridge_suite(void);

Suite *bridge_suite(void)
{
	Suite *suite = suite_create("bridge");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, a_wrong_request_is_refused_in_words, 0, COUNT(WRONG));
	tcase_add_test(all, a_fault_of_the_file_has_its_place_in_the_file);
	tcase_add_loop_test(all, a_fault_of_an_option_names_the_option, 0, COUNT(OPTIONS));
	tcase_add_loop_test(all, a_fault_of_the_request_names_what_is_wrong, 0, COUNT(REFUSED));
	tcase_add_test(all, a_first_coach_has_room_for_so_many_loads);
	tcase_add_test(all, a_name_past_its_room_is_refused);
	tcase_add_test(all, a_whole_sheet_is_that_of_the_command_line);
	tcase_add_test(all, a_whole_sheet_is_html_unless_another_form_is_asked_for);
	tcase_add_test(all, units_may_stand_beside_the_options);
	tcase_add_test(all, every_question_is_told);
	tcase_add_test(all, all_explanations_come_at_once);
	tcase_add_test(all, a_check_counts_what_the_file_has);
	tcase_add_test(all, a_check_of_a_coach_without_a_place_says_none);
	tcase_add_test(all, a_panel_may_charge_the_chassis);
	tcase_add_test(all, a_place_is_found_or_the_nearest_names_are_told);
	tcase_add_test(all, what_the_page_shows_of_itself_is_there);
	tcase_add_test(all, the_door_of_the_module_answers_as_the_bridge_does);
	tcase_add_test(all, with_nothing_on_there_is_nothing_to_draw);
	tcase_add_test(all, a_cord_of_two_hots_has_two_legs_and_a_neutral);
	tcase_add_loop_test(
		all, the_data_are_the_findings_of_the_whole_document, 0, COUNT(COACHES));
	tcase_add_test(all, only_the_forms_that_are_asked_for_are_made);
	tcase_add_test(all, every_id_of_an_article_begins_with_the_prefix);
	tcase_add_test(all, every_figure_of_an_article_leads_to_an_explanation);
	tcase_add_test(all, a_hostile_name_is_text);
	tcase_add_loop_test(all, what_is_written_reads_back_the_same, 0, COUNT(COACHES));
	tcase_add_test(all, a_new_coach_is_that_of_the_command_line);
	tcase_add_test(all, readings_are_accepted_as_on_the_command_line);
	tcase_add_test(all, the_demo_coaches_are_the_samples);
	tcase_add_test(all, a_blank_coach_can_be_asked);
	tcase_add_test(all, what_the_reader_assumed_keeps_its_place_beside_an_answer);
	tcase_add_test(all, a_list_says_how_many_rows_there_are);
	tcase_add_test(all, every_key_has_what_a_form_needs);
	tcase_add_test(all, only_what_is_on_draws);
	tcase_add_loop_test(all, with_all_on_the_budget_is_that_of_everything, 0, COUNT(COACHES));
	tcase_add_test(all, a_long_question_tells_how_far_it_is);
	suite_add_tcase(suite, all);
	return suite;
}
