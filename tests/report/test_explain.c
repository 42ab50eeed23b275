/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/explain.h"

#include <stdlib.h>
#include <string.h>

#include "report/golden.h"
#include "rigbudget/rigbudget.h"
#include "suites.h"

/* What is shown on the sheets of these has its explanation. */
static const char *const COACHES[] = {"samples/diesel-coach.rig.json",
	"samples/week-trailer.rig.json", "samples/upgrade-fifth-wheel.rig.json",
	"tests/cli/readings-table/coach.rig.json", "tests/cli/wiring-coach/coach.rig.json"};

static void check_shown(rig_shown_kind kind, const char *words, const char *within)
{
	const char *id = rig_explained_by(kind, words, within);
	ck_assert_msg(id != NULL, "nothing explains \"%s\" in \"%s\" (kind %d)", words, within,
		(int)kind);
	const rig_explanation *row = rig_explanation_find(id);
	ck_assert_msg(row != NULL, "there is no explanation %s", id);
}

static void check_block(const rig_block *block)
{
	if (block->kind == RIG_BLOCK_ANSWER)
		check_shown(RIG_SHOWN_ANSWER, block->head, "");
	if (block->kind == RIG_BLOCK_CHART)
		check_shown(RIG_SHOWN_CHART, block->chart->title, "");
	for (size_t i = 0; block->kind == RIG_BLOCK_FACTS && i < block->n_items; i++)
		check_shown(RIG_SHOWN_FACT, block->facts[i].name, "");
	for (size_t i = 0; block->kind == RIG_BLOCK_TABLE && i < block->table->n_columns; i++)
		if (block->table->columns[i].align == RIG_ALIGN_RIGHT)
			check_shown(RIG_SHOWN_COLUMN, block->table->columns[i].head,
				block->table->caption);
}

static void check_answer(
	const rig_file *file, const char *question, const rig_answer_options *options)
{
	rig_document *document = NULL;
	rig_diags *diags = rig_diags_new();
	/* a file without claims or without a microwave has nothing to show */
	if (rig_answer(file, question, options, diags, &document) == RIG_OK)
		for (size_t i = 0; i < rig_document_n_blocks(document); i++)
			check_block(rig_document_block_at(document, i));
	rig_document_free(document);
	rig_diags_free(diags);
}

static rig_file *read_file(const char *path)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	char *text = file_of_tree(path);
	ck_assert_ptr_nonnull(text);
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_OK);
	rig_diags_free(diags);
	free(text);
	return file;
}

START_TEST(every_figure_of_the_sheets_has_its_explanation)
{
	rig_file *file = read_file(COACHES[_i]);
	for (size_t i = 0; i < rig_n_questions(); i++) {
		rig_answer_options options = rig_answer_defaults();
		options.n_days = 3;
		check_answer(file, rig_question_at(i)->name, &options);
		options.month = 0;
		options.day = RIG_SHED_COLD;
		options.supply = "30A";
		options.run = "microwave";
		options.drive_every_days = 3;
		check_answer(file, rig_question_at(i)->name, &options);
		options.supply = "generator";
		options.run = NULL;
		options.month = 6;
		check_answer(file, rig_question_at(i)->name, &options);
	}
	rig_file_free(file);
}
END_TEST

START_TEST(every_figure_of_readings_has_its_explanation)
{
	rig_file *file = read_file(COACHES[3]);
	char *table = file_of_tree("tests/cli/readings-table/readings.csv");
	rig_reading_list *list = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_reading_list_read(table, strlen(table), rig_file_completed(file), diags, &list),
		RIG_OK);
	rig_reading readings[64];
	rig_answer_options options = rig_answer_defaults();
	for (size_t i = 0; i < rig_reading_list_count(list) && i < 64; i++)
		readings[options.n_readings++] = *rig_reading_list_at(list, i);
	options.readings = readings;
	check_answer(file, "readings", &options);
	check_answer(file, "report", &options);
	rig_reading_list_free(list);
	rig_diags_free(diags);
	free(table);
	rig_file_free(file);
}
END_TEST

START_TEST(an_explanation_says_all_that_it_should)
{
	const rig_explanation *row = rig_explanation_at((size_t)_i);
	const char *const texts[] = {row->name, row->what, row->formula, row->sources, row->doubt};
	for (int i = 0; i < COUNT(texts); i++)
		ck_assert_msg(texts[i] != NULL && strlen(texts[i]) > 3, "%s", row->id);
	ck_assert_ptr_nonnull(row->inputs[0]);
	ck_assert(row->what[strlen(row->what) - 1] == '.');
	ck_assert(row->doubt[strlen(row->doubt) - 1] == '.');
	ck_assert_ptr_eq(rig_explanation_find(row->id), row);
	ck_assert_ptr_null(strstr(row->what, "safe"));
	ck_assert_ptr_null(strstr(row->doubt, "safe"));
}
END_TEST

START_TEST(each_source_of_an_explanation_is_in_the_list)
{
	char *list = file_of_tree("docs/sources.md");
	for (size_t i = 0; i < rig_n_explanations(); i++) {
		const char *key = strchr(rig_explanation_at(i)->sources, '[');
		for (; key != NULL; key = strchr(key + 1, '[')) {
			char line[64];
			snprintf(line, sizeof line, "\n%.*s ", (int)strcspn(key, "]") + 1, key);
			ck_assert_msg(strstr(list, line) != NULL, "%s", line);
		}
	}
	free(list);
}
END_TEST

START_TEST(what_is_not_known_is_not_explained)
{
	ck_assert_ptr_null(rig_explained_by(RIG_SHOWN_FACT, "Amps", ""));
	ck_assert_ptr_null(rig_explained_by(RIG_SHOWN_FACT, "", ""));
	ck_assert_ptr_null(rig_explained_by(RIG_SHOWN_COLUMN, "loads", "another table"));
	ck_assert_ptr_null(rig_explanation_find("no-such"));
}
END_TEST

Suite *explain_suite(void);

Suite *explain_suite(void)
{
	Suite *suite = suite_create("explain");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, every_figure_of_the_sheets_has_its_explanation, 0, COUNT(COACHES));
	tcase_add_test(all, every_figure_of_readings_has_its_explanation);
	tcase_add_loop_test(
		all, an_explanation_says_all_that_it_should, 0, (int)rig_n_explanations());
	tcase_add_test(all, each_source_of_an_explanation_is_in_the_list);
	tcase_add_test(all, what_is_not_known_is_not_explained);
	suite_add_tcase(suite, all);
	return suite;
}
