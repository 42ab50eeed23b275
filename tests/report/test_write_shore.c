/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words about shore power of coaches whose file names no loads that run together: the sets are
 * then ours, and everything stands first among them. */
#include <stdlib.h>
#include <string.h>

#include "report/shore_words.h"
#include "rigbudget/document.h"
#include "rigbudget/report.h"
#include "suites.h"

#define BEGIN                                                                                      \
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30}, \"loads\": [" \
	"{\"id\": \"cool\", \"profile\": \"roof_ac_13k5\", \"running_w\": 1500, "                  \
	"\"power_factor\": 1}"
#define OVEN   ", {\"id\": \"oven\", \"supply\": \"ac\", \"running_w\": 1200}"
#define HEATER ", {\"id\": \"heater\", \"profile\": \"water_heater_element\", \"running_w\": 1400}"
#define END    "]}"

static rig_document *document_of(const char *text, rig_file **file)
{
	rig_diags *diags = rig_diags_new();
	const rig_status read = rig_file_parse(text, strlen(text), diags, file);
	ck_assert_msg(read == RIG_OK, "%s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "no diagnosis");
	rig_diags_free(diags);
	const rig_coach *coach = rig_file_completed(*file);
	rig_shore_findings *findings = NULL;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_shore_study(coach, NULL, &findings), RIG_OK);
	ck_assert_int_eq(rig_shore_everything(findings)->kind, RIG_SHORE_SET_EVERYTHING);
	ck_assert_int_eq(rig_write_shore(coach, findings, NULL, &document), RIG_OK);
	rig_shore_free(findings);
	return document;
}

/* Watts by addition; amps are they over 120 V: 22.5 A of 30 and of 20; 24.2 A, 30.2 A with a
 * quarter more for what runs for hours; 12.5 A, 15.6 A with that quarter. */
static const struct {
	const char *text, *verdict, *everything;
} ALONE[] = {
	{BEGIN OVEN END, "\"Everything at once\" fits on 30 A; it does not fit on 20 A.",
		"2,700 W on a 30 A pedestal"},
	{BEGIN OVEN HEATER END,
		"\"All compressors and the largest heater\" fits on 30 A, but not for three "
		"hours; it does not fit on 20 A.",
		"4,100 W on a 30 A pedestal"},
	{BEGIN END, "\"Everything at once\" fits on 30 A; it fits on 20 A.",
		"1,500 W on a 30 A pedestal"},
};

START_TEST(without_sets_of_the_file_everything_is_everything)
{
	rig_file *file = NULL;
	rig_document *document = document_of(ALONE[_i].text, &file);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, ALONE[_i].verdict);
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	const char *fact = strstr(text, "\nEverything at once  ");
	ck_assert_ptr_nonnull(fact);
	ck_assert_msg(strstr(fact, ALONE[_i].everything) != NULL, "%.80s", fact);
	free(text);
	rig_document_free(document);
	rig_file_free(file);
}
END_TEST

/* The answer about a load that is to run. */
static char *run_said(const rig_coach *coach, const char *run, bool verdicts_only)
{
	const rig_shore_options asked = {.verdicts_only = verdicts_only, .run = run};
	const rig_report_options said = {.run = run};
	rig_shore_findings *findings = NULL;
	rig_document *document = NULL;
	char *text = NULL;
	ck_assert_int_eq(rig_shore_study(coach, &asked, &findings), RIG_OK);
	ck_assert_int_eq(rig_write_shore(coach, findings, &said, &document), RIG_OK);
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	rig_document_free(document);
	rig_shore_free(findings);
	return text;
}

/* 24.2 A of 30 are 30.2 A with a quarter more: one of the three is off there. */
START_TEST(a_way_that_was_not_looked_for_is_no_way)
{
	static const char *const LOAD[] = {"cool", "oven", "heater"};
	static const char UNASKED[] = "no way to run it was looked for";
	static const char TEXT[] = BEGIN OVEN HEATER END;
	rig_file *file = NULL;
	int n_off = 0;
	ck_assert_int_eq(rig_file_parse(TEXT, strlen(TEXT), NULL, &file), RIG_OK);
	for (size_t i = 0; i < COUNT(LOAD); i++) {
		char *whole = run_said(rig_file_completed(file), LOAD[i], false);
		char *brief = run_said(rig_file_completed(file), LOAD[i], true);
		const bool has_way = strstr(whole, "On 30 A it runs if this gives way") != NULL;
		ck_assert_ptr_null(strstr(whole, UNASKED));
		ck_assert_msg(!has_way || strstr(brief, UNASKED) != NULL, "%s", brief);
		n_off += has_way;
		free(whole);
		free(brief);
	}
	ck_assert_int_eq(n_off, 1);
	rig_file_free(file);
}
END_TEST

Suite *write_shore_suite(void);
Suite *write_shore_suite(void)
{
	Suite *suite = suite_create("write shore");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, without_sets_of_the_file_everything_is_everything, 0, COUNT(ALONE));
	tcase_add_test(all, a_way_that_was_not_looked_for_is_no_way);
	suite_add_tcase(suite, all);
	return suite;
}
