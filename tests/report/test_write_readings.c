/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "golden.h"
#include "rigbudget/report.h"
#include "suites.h"
#include "wellformed.h"

enum { MOST_WORDS = 8 };

static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"Test\", \"place\": {\"name\": \"Flagstaff\"}, "
	"\"shore\": {\"cord_a\": 30}, \"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", "
	"\"capacity_ah\": 200, \"nominal_v\": 12}], \"solar\": [{\"id\": \"roof\", \"watts_w\": "
	"200, \"controller\": \"mppt\"}], \"charger\": {\"amps_a\": 45}, \"loads\": [{\"id\": "
	"\"heater\", \"name\": \"Heater <1>\", \"running_w\": 1440, \"behaviour\": \"resistive\"}, "
	"{\"id\": \"toaster\", \"name\": \"Toaster\", \"running_w\": 1100, \"behaviour\": "
	"\"resistive\"}, {\"id\": \"kettle\", \"name\": \"Kettle\", \"running_w\": 1300, "
	"\"behaviour\": \"resistive\"}, {\"id\": \"alarm\", \"name\": \"Alarm\", \"supply\": "
	"\"dc\", \"running_w\": 1.2, \"always_on\": true}]}";

typedef struct {
	rig_file *file;
	rig_reading_list *lists[MOST_WORDS];
	rig_reading readings[MOST_WORDS];
	size_t n;
	rig_readings_findings *findings;
	rig_document *document;
	char *text;
} sheet;

static sheet sheet_of(const char *const words[])
{
	sheet made = {0};
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(COACH, strlen(COACH), diags, &made.file), RIG_OK);
	const rig_coach *coach = rig_file_completed(made.file);
	for (; words[made.n] != NULL; made.n++) {
		ck_assert_int_eq(
			rig_reading_list_words(words[made.n], coach, diags, &made.lists[made.n]),
			RIG_OK);
		made.readings[made.n] = *rig_reading_list_at(made.lists[made.n], 0);
	}
	rig_diags_free(diags);
	const rig_readings_options options = {.place = rig_file_place(made.file, NULL)};
	ck_assert_int_eq(
		rig_readings_study(coach, made.readings, made.n, &options, &made.findings), RIG_OK);
	ck_assert_int_eq(rig_write_readings(coach, made.findings, NULL, &made.document), RIG_OK);
	ck_assert_int_eq(rig_document_text(made.document, false, &made.text), RIG_OK);
	return made;
}

static void forget(sheet *made)
{
	free(made->text);
	rig_document_free(made->document);
	rig_readings_free(made->findings);
	for (size_t i = 0; i < made->n; i++)
		rig_reading_list_free(made->lists[i]);
	rig_file_free(made->file);
}

/* The text with each run of white space as one blank. */
static void unwrap(char *text)
{
	char *to = text;
	for (const char *from = text; *from != '\0'; from++) {
		const bool blank = *from == ' ' || *from == '\n';
		if (!blank)
			*to++ = *from;
		else if (to > text && to[-1] != ' ')
			*to++ = ' ';
	}
	*to = '\0';
}

static const struct {
	const char *words[MOST_WORDS];
	const char *says;
} SAYS[] = {
	{{NULL}, "There are no readings to go by."},
	{{"on=heater charger=no leg1_a=0.1", "on=heater charger=no leg1_a=0.0", NULL},
		"Heater <1> draws next to nothing."},
	{{"on=heater charger=no leg1_a=0.1", "on=heater charger=no leg1_a=0.0", NULL},
		"See whether \"Heater <1>\" was really switched on"},
	{{"on=toaster charger=no leg1_a=12.8", "on=toaster charger=no leg1_a=12.9", NULL},
		"Toaster draws 40 percent more than its label says."},
	{{"on=toaster charger=no leg1_a=9.2", "on=toaster charger=no leg1_a=9.1", NULL},
		"1 load agrees with what the labels say."},
	{{"on=toaster,kettle charger=no leg1_a=20", NULL},
		"These readings do not tell apart Toaster and Kettle"},
	{{"on=toaster,kettle charger=no leg1_a=20", NULL}, "Read leg 1 once with only Toaster on"},
	{{"bank_a=-2", NULL}, "loses 2 A where 0.1 (0.09 to 0.11) A is expected"},
	{{"bank_a=-4 duration_h=10 rest_before_v=12.6 rest_after_v=12.1", NULL},
		"percent of its label's capacity left."},
	{{"bank_a=10 charging=charger volts_v=12.8", NULL}, "The charger gives 10 A of its 45 A."},
	{{"array_a=2 month=6 day=21 hour_h=12 sky=clear", NULL},
		"The panel \"roof\" gave 2 A where the sun should have made it"},
};

START_TEST(the_sheet_says_what_was_found)
{
	sheet made = sheet_of(SAYS[_i].words);
	unwrap(made.text);
	ck_assert_msg(strstr(made.text, SAYS[_i].says) != NULL, "\"%s\" is not in:\n%s",
		SAYS[_i].says, made.text);
	ck_assert_ptr_nonnull(strstr(made.text, "licensed electrician"));
	ck_assert_ptr_null(strstr(made.text, " safe"));
	ck_assert_ptr_null(strstr(made.text, "nan"));
	char *html = NULL;
	ck_assert_int_eq(rig_document_html(made.document, &html), RIG_OK);
	tag_stack stack;
	const char *wrong = page_fault(html, &stack);
	ck_assert_msg(wrong == NULL, "%s", wrong);
	free(html);
	forget(&made);
}
END_TEST

static void check_keys(const cJSON *item, const char *guide)
{
	for (const cJSON *child = item->child; child != NULL; child = child->next) {
		if (child->string != NULL) {
			char quoted[80];
			snprintf(quoted, sizeof quoted, "`%s`", child->string);
			ck_assert_msg(strstr(guide, quoted) != NULL,
				"docs/results.md does not tell of %s", quoted);
		}
		check_keys(child, guide);
	}
}

START_TEST(every_key_of_the_json_is_documented)
{
	sheet made = sheet_of((const char *const[]){"on=heater,toaster leg1_a=18",
		"on=toaster leg1_a=9 watts_w=1100", "bank_a=-0.1",
		"bank_a=-4 duration_h=10 rest_before_v=12.6 rest_after_v=12.1",
		"bank_a=10 charging=charger volts_v=12.8",
		"array_a=2 month=6 day=21 hour_h=12 sky=clear", NULL});
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(made.document, &text), RIG_OK);
	cJSON *json = cJSON_Parse(text);
	ck_assert_ptr_nonnull(json);
	char *guide = file_of_tree("docs/results.md");
	check_keys(cJSON_GetObjectItem(cJSON_GetObjectItem(json, "findings"), "readings"), guide);
	free(guide);
	cJSON_Delete(json);
	free(text);
	forget(&made);
}
END_TEST

Suite *write_readings_suite(void);
Suite *write_readings_suite(void)
{
	Suite *suite = suite_create("write_readings");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_sheet_says_what_was_found, 0, COUNT(SAYS));
	tcase_add_test(all, every_key_of_the_json_is_documented);
	suite_add_tcase(suite, all);
	return suite;
}
