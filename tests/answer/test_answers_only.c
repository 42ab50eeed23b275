/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An answer without what stands behind it is worked out the short way; its words must not know. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "report/golden.h"
#include "rigbudget/answer.h"
#include "suites.h"

enum { N_RANDOM = 400 };

static const char *const SAMPLE[] = {"samples/diesel-coach.rig.json",
	"samples/week-trailer.rig.json", "samples/upgrade-fifth-wheel.rig.json"};

/* Title, answers and cautions as one line; NULL where there is no answer. Free it. */
static char *words_of(const rig_file *file, const char *question, bool answers_only)
{
	rig_answer_options options = rig_answer_defaults();
	rig_document *document = NULL;
	char *line = NULL;
	options.answers_only = answers_only;
	if (rig_answer(file, question, &options, NULL, &document) == RIG_OK)
		ck_assert_int_eq(rig_document_json_line(document, false, &line), RIG_OK);
	rig_document_free(document);
	return line;
}

/* Whether there is an answer. */
static bool check_same_words(const rig_file *file, const char *question)
{
	char *full = words_of(file, question, false);
	char *brief = words_of(file, question, true);
	const bool answered = full != NULL;
	ck_assert_int_eq(answered, brief != NULL);
	if (answered)
		ck_assert_str_eq(full, brief);
	free(full);
	free(brief);
	return answered;
}

START_TEST(short_answers_of_random_coaches_say_the_same)
{
	int n_answered = 0;
	printf("answers_only: seeds 1 to %d\n", N_RANDOM);
	for (int i = 0; i < N_RANDOM; i++) {
		rig_file *file = random_coach((uint64_t)i + 1);
		n_answered += check_same_words(file, "shore");
		rig_file_free(file);
	}
	ck_assert_int_gt(n_answered, N_RANDOM / 2);
}
END_TEST

START_TEST(short_answers_of_the_samples_say_the_same)
{
	static const char *const QUESTION[] = {"shore", "solar", "claims"};
	char *text = file_of_tree(SAMPLE[_i]);
	rig_file *file = NULL;
	ck_assert_int_eq(rig_file_parse(text, strlen(text), NULL, &file), RIG_OK);
	for (size_t k = 0; k < COUNT(QUESTION); k++)
		check_same_words(file, QUESTION[k]);
	rig_file_free(file);
	free(text);
}
END_TEST

/* The findings are left out, not made wrong: a document of answers has no data. */
START_TEST(a_short_answer_has_no_figures)
{
	char *text = file_of_tree(SAMPLE[0]);
	rig_file *file = NULL;
	rig_document *document = NULL;
	rig_answer_options options = rig_answer_defaults();
	options.answers_only = true;
	ck_assert_int_eq(rig_file_parse(text, strlen(text), NULL, &file), RIG_OK);
	ck_assert_int_eq(rig_answer(file, "shore", &options, NULL, &document), RIG_OK);
	char *json = NULL;
	ck_assert_int_eq(rig_document_json_line(document, true, &json), RIG_OK);
	ck_assert_ptr_nonnull(strstr(json, "\"findings\":{}"));
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block_kind kind = rig_document_block_at(document, i)->kind;
		ck_assert(kind == RIG_BLOCK_ANSWER || kind == RIG_BLOCK_CAUTION);
	}
	free(json);
	rig_document_free(document);
	rig_file_free(file);
	free(text);
}
END_TEST

Suite *answers_only_suite(void);

Suite *answers_only_suite(void)
{
	Suite *suite = suite_create("answers only");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, short_answers_of_random_coaches_say_the_same);
	tcase_add_loop_test(all, short_answers_of_the_samples_say_the_same, 0, COUNT(SAMPLE));
	tcase_add_test(all, a_short_answer_has_no_figures);
	suite_add_tcase(suite, all);
	return suite;
}
