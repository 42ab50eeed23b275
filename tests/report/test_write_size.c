/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rigbudget/report.h"
#include "suites.h"
#include "wellformed.h"

/* The shop's sample, sized with few trips. */
typedef struct {
	rig_file *file;
	rig_parts_file *parts;
	rig_size_findings *findings;
} studied;

static rig_buffer text_of(const char *path)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	char whole[512];
	snprintf(whole, sizeof whole, "%s/%s", RIG_SOURCE_DIR, path);
	ck_assert_int_eq(rig_file_read(whole, 1 << 20, &text, diags), RIG_OK);
	rig_diags_free(diags);
	return text;
}

static studied study(double price_max)
{
	studied made = {0};
	rig_diags *diags = rig_diags_new();
	rig_buffer text = text_of("samples/upgrade-fifth-wheel.rig.json");
	ck_assert_int_eq(rig_file_parse(text.text, text.length, diags, &made.file), RIG_OK);
	ck_assert_int_eq(
		rig_parts_parse(rig_parts_example, strlen(rig_parts_example), diags, &made.parts),
		RIG_OK);
	rig_size_options options = rig_size_defaults();
	options.n_trips = 200;
	options.n_days = 4;
	options.wanted_frac = 0.7;
	options.price_max = price_max;
	ck_assert_int_eq(rig_size_study(made.file, rig_parts_list(made.parts),
				 rig_file_place(made.file, NULL), &options, &made.findings),
		RIG_OK);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return made;
}

static void forget(studied *made)
{
	rig_size_free(made->findings);
	rig_parts_free(made->parts);
	rig_file_free(made->file);
}

static rig_document *document_of(const studied *made, const rig_report_options *options)
{
	rig_document *document = NULL;
	ck_assert_int_eq(
		rig_write_size(made->findings->coach, made->findings, options, &document), RIG_OK);
	return document;
}

static char *words_of(const rig_document *document)
{
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	char *to = text;
	for (const char *from = text; *from != '\0'; from++) {
		const bool blank = *from == ' ' || *from == '\n';
		if (!blank)
			*to++ = *from;
		else if (to > text && to[-1] != ' ')
			*to++ = ' ';
	}
	*to = '\0';
	return text;
}

START_TEST(the_options_are_told_with_price_parts_and_cautions)
{
	studied made = study(0);
	ck_assert_uint_ge(made.findings->n_options, 2);
	rig_document *document = document_of(&made, NULL);
	char *text = words_of(document), says[200];
	snprintf(says, sizeof says, "%zu options are beaten by no other", made.findings->n_options);
	ck_assert_ptr_nonnull(strstr(text, says));
	ck_assert_ptr_nonnull(strstr(text, "are invented"));
	ck_assert_ptr_nonnull(strstr(text, "licensed electrician"));
	ck_assert_ptr_nonnull(strstr(text, "at least 70 of 100 stays of 4 days"));
	ck_assert_ptr_null(strstr(text, "safe"));
	ck_assert_ptr_null(strstr(text, "nan"));
	char *html = NULL;
	ck_assert_int_eq(rig_document_html(document, &html), RIG_OK);
	tag_stack stack;
	const char *wrong = page_fault(html, &stack);
	ck_assert_msg(wrong == NULL, "%s", wrong);
	free(html);
	free(text);
	rig_document_free(document);
	forget(&made);
}
END_TEST

START_TEST(the_options_asked_for_stand_side_by_side)
{
	studied made = study(0);
	const rig_report_options options = {.n_compare = 2, .compare = {1, 0}};
	rig_document *document = document_of(&made, &options);
	size_t n_found = 0;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind != RIG_BLOCK_TABLE ||
			strcmp(block->table->caption, "Side by side") != 0)
			continue;
		n_found++;
		ck_assert_uint_eq(block->table->n_columns, 3);
		ck_assert_str_eq(block->table->columns[1].head, "option 2");
		ck_assert_str_eq(block->table->columns[2].head, "option 1");
	}
	ck_assert_uint_eq(n_found, 1);
	rig_document_free(document);
	forget(&made);
}
END_TEST

START_TEST(a_list_that_will_not_do_says_so)
{
	studied made = study(50);
	rig_document *document = document_of(&made, NULL);
	char *text = words_of(document);
	ck_assert_ptr_nonnull(strstr(text, "No combination of the list within the limits"));
	free(text);
	rig_document_free(document);
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

START_TEST(every_key_of_the_json_is_documented_and_holds_the_findings)
{
	studied made = study(0);
	rig_document *document = document_of(&made, NULL);
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	cJSON *json = cJSON_Parse(text);
	rig_buffer guide = text_of("docs/results.md");
	check_keys(json, guide.text);
	const cJSON *size = cJSON_GetObjectItemCaseSensitive(
		cJSON_GetObjectItemCaseSensitive(json, "findings"), "size");
	const cJSON *list = cJSON_GetObjectItemCaseSensitive(size, "options_found");
	ck_assert_int_eq(cJSON_GetArraySize(list), (int)made.findings->n_options);
	const cJSON *first = cJSON_GetArrayItem(list, 0);
	ck_assert_double_eq(cJSON_GetObjectItemCaseSensitive(first, "price")->valuedouble,
		made.findings->options_found[0].price);
	rig_buffer_free(&guide);
	cJSON_Delete(json);
	free(text);
	rig_document_free(document);
	forget(&made);
}
END_TEST

START_TEST(findings_that_are_not_finite_are_refused)
{
	studied made = study(0);
	rig_document *document = NULL;
	made.findings->options_found[0].weight_kg = NAN;
	ck_assert_int_eq(rig_write_size(made.findings->coach, made.findings, NULL, &document),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(document);
	forget(&made);
}
END_TEST

Suite *write_size_suite(void);
Suite *write_size_suite(void)
{
	Suite *suite = suite_create("write_size");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, the_options_are_told_with_price_parts_and_cautions);
	tcase_add_test(all, the_options_asked_for_stand_side_by_side);
	tcase_add_test(all, a_list_that_will_not_do_says_so);
	tcase_add_test(all, every_key_of_the_json_is_documented_and_holds_the_findings);
	tcase_add_test(all, findings_that_are_not_finite_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
