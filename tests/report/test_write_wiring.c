/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "golden.h"
#include "rigbudget/report.h"
#include "suites.h"
#include "wellformed.h"

/* A coach with one wire. */
typedef struct {
	rig_file *file;
	rig_wiring_findings *findings;
	rig_document *document;
	char *text;
} sheet;

static sheet sheet_of(const char *wire, rig_units units)
{
	char coach[2048];
	snprintf(coach, sizeof coach,
		"{\"format\": \"rigbudget/1\", \"name\": \"Test\", \"shore\": {\"cord_a\": 30}, "
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", \"nominal_v\": 12, "
		"\"capacity_ah\": 220}], \"wires\": [{\"id\": \"run\", \"name\": \"Pump <1>\", "
		"%s}]}",
		wire);
	sheet made = {0};
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(coach, strlen(coach), diags, &made.file), RIG_OK);
	rig_diags_free(diags);
	const rig_coach *completed = rig_file_completed(made.file);
	const rig_report_options options = {.units = units};
	ck_assert_int_eq(rig_wiring_study(completed, NULL, &made.findings), RIG_OK);
	ck_assert_int_eq(
		rig_write_wiring(completed, made.findings, &options, &made.document), RIG_OK);
	ck_assert_int_eq(rig_document_text(made.document, false, &made.text), RIG_OK);
	return made;
}

static void forget(sheet *made)
{
	free(made->text);
	rig_document_free(made->document);
	rig_wiring_free(made->findings);
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
	const char *wire, *says;
} SAYS[] = {
	{"\"amps_a\": 40, \"length_ft\": 12",
		"4 AWG with a 40 A fuse. What decides: voltage drop."},
	{"\"awg\": \"14\", \"length_ft\": 30, \"amps_a\": 10, \"fuse_a\": 15",
		"1 of 1 breaks a rule: Pump <1>."},
	{"\"awg\": \"14\", \"length_ft\": 30, \"amps_a\": 10, \"fuse_a\": 15",
		"3 % is the limit. What would do: 6 AWG with a 10 A fuse."},
	{"\"awg\": \"12\", \"length_ft\": 2, \"amps_a\": 10, \"fuse_a\": 30",
		"has a 30 A fuse, and 12 AWG may have at most 20 A: the code gives so small a wire "
		"no more than 20 A."},
	{"\"awg\": \"12\", \"length_ft\": 2, \"amps_a\": 10, \"fuse_a\": 30",
		"On this wire and for this load a fuse of 10 A would do."},
	{"\"awg\": \"8\", \"length_ft\": 2, \"amps_a\": 28, \"continuous\": true, \"fuse_a\": 30",
		"has a 30 A fuse, and its load asks for 35 A, the part that runs for hours counted "
		"at 125 %."},
	{"\"awg\": \"10\", \"length_ft\": 1, \"amps_a\": 45, \"fuse_a\": 30",
		"carries 45 A, and it bears 40 A at 86"},
	{"\"bank\": \"house\", \"awg\": \"2\", \"amps_a\": 90, \"fuse_a\": 100, \"interrupt_a\": "
	 "500",
		"has a fuse that can break 500 A; shorted, the bank gives about"},
	{"\"bank\": \"house\", \"awg\": \"2\", \"amps_a\": 90, \"fuse_a\": 100, "
	 "\"fuse_distance_in\": 36",
		"has its fuse 3 ft from the battery"},
	{"\"bank\": \"house\", \"awg\": \"2\", \"amps_a\": 90, \"fuse_a\": 100",
		"Read the interrupt rating on the fuse of \"Pump <1>\""},
	{"\"volts_v\": 120, \"awg\": \"6\", \"length_ft\": 1, \"amps_a\": 50, \"fuse_a\": 60",
		"As the next standard size that is allowed"},
	{"\"volts_v\": 120, \"awg\": \"6\", \"length_ft\": 1, \"amps_a\": 40, \"fuse_a\": 50",
		"By the figures given, all keep the rules that were looked at."},
	{"\"amps_a\": 40, \"length_ft\": 600", "is more than a single wire and fuse can do"},
	{"\"awg\": \"13\", \"amps_a\": 4", "there is no ampacity table for 13 AWG"},
	{"\"awg\": \"12\"", "Find out what \"Pump <1>\" carries, or its fuse."},
	{"\"length_ft\": 5", "Read the gauge of \"Pump <1>\" off its insulation"},
};

START_TEST(each_finding_is_said_in_words)
{
	sheet made = sheet_of(SAYS[_i].wire, RIG_UNITS_US);
	unwrap(made.text);
	ck_assert_msg(strstr(made.text, SAYS[_i].says) != NULL, "\"%s\" is missing from: %s",
		SAYS[_i].says, made.text);
	ck_assert_ptr_nonnull(strstr(made.text, "licensed electrician"));
	ck_assert_ptr_null(strstr(made.text, "safe"));
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

START_TEST(readers_of_si_get_areas_and_metres)
{
	sheet made = sheet_of("\"amps_a\": 40, \"length_ft\": 12", RIG_UNITS_SI);
	ck_assert_ptr_nonnull(strstr(made.text, "4 AWG (21.2 mm\xc2\xb2)"));
	ck_assert_ptr_nonnull(strstr(made.text, "3.66 m"));
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
	sheet made = sheet_of("\"amps_a\": 40, \"length_ft\": 12", RIG_UNITS_US);
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(made.document, &text), RIG_OK);
	cJSON *json = cJSON_Parse(text);
	char *guide = file_of_tree("docs/results.md");
	ck_assert_ptr_nonnull(guide);
	check_keys(json, guide);
	const cJSON *wiring = cJSON_GetObjectItemCaseSensitive(
		cJSON_GetObjectItemCaseSensitive(json, "findings"), "wiring");
	const cJSON *run = cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(wiring, "runs"), 0);
	const cJSON *wire = cJSON_GetObjectItemCaseSensitive(
		cJSON_GetObjectItemCaseSensitive(run, "choice"), "wire");
	ck_assert(cJSON_GetObjectItemCaseSensitive(wire, "drop_v")->valuedouble ==
		  made.findings->runs[0].choice.wire.drop_v);
	cJSON_Delete(json);
	free(guide);
	free(text);
	forget(&made);
}
END_TEST

START_TEST(findings_that_are_not_finite_are_refused)
{
	sheet made = sheet_of("\"amps_a\": 40, \"length_ft\": 12", RIG_UNITS_US);
	rig_document *document = NULL;
	made.findings->runs[0].rating.drop_v = NAN;
	ck_assert_int_eq(rig_write_wiring(made.findings->coach, made.findings, NULL, &document),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(document);
	forget(&made);
}
END_TEST

Suite *write_wiring_suite(void);
Suite *write_wiring_suite(void)
{
	Suite *suite = suite_create("write_wiring");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_finding_is_said_in_words, 0, COUNT(SAYS));
	tcase_add_test(all, readers_of_si_get_areas_and_metres);
	tcase_add_test(all, every_key_of_the_json_is_documented);
	tcase_add_test(all, findings_that_are_not_finite_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
