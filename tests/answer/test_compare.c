/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The figures of a comparison are those of the two sheets. */
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

#include "report/golden.h"
#include "rigbudget/answer.h"
#include "suites.h"

static rig_file *read_sample(const char *path)
{
	rig_file *file = NULL;
	char *text = file_of_tree(path);
	ck_assert_ptr_nonnull(text);
	ck_assert_int_eq(rig_file_parse(text, strlen(text), NULL, &file), RIG_OK);
	free(text);
	return file;
}

static cJSON *findings_of(rig_document *document)
{
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	rig_document_free(document);
	cJSON *root = cJSON_Parse(text);
	free(text);
	cJSON *findings = cJSON_DetachItemFromObjectCaseSensitive(root, "findings");
	cJSON_Delete(root);
	return findings;
}

static cJSON *compared(const rig_file *before, const rig_file *after)
{
	rig_document *document = NULL;
	ck_assert_int_eq(rig_answer_compare(before, after, NULL, NULL, &document), RIG_OK);
	return findings_of(document);
}

static cJSON *answered(const rig_file *file, const char *question)
{
	rig_document *document = NULL;
	ck_assert_int_eq(rig_answer(file, question, NULL, NULL, &document), RIG_OK);
	return findings_of(document);
}

static const cJSON *at(const cJSON *object, const char *key)
{
	const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
	ck_assert_msg(item != NULL, "%s", key);
	return item;
}

static const cJSON *effect(const cJSON *findings, const char *kind)
{
	const cJSON *row = NULL;
	cJSON_ArrayForEach(row, at(findings, "effects")) if (strcmp(at(row, "kind")->valuestring,
								     kind) == 0) return row;
	return NULL;
}

static const cJSON *main_bank(const cJSON *solar)
{
	const cJSON *bank = NULL, *found = NULL;
	cJSON_ArrayForEach(bank,
		at(at(solar, "solar"), "banks")) if (cJSON_IsTrue(at(bank, "contributes_to_house")))
		found = bank;
	ck_assert_ptr_nonnull(found);
	return found;
}

static const char TRAILER[] = "samples/week-trailer.rig.json";
static const char WHEEL[] = "samples/upgrade-fifth-wheel.rig.json";

START_TEST(figures_are_those_of_the_two_studies)
{
	rig_file *before = read_sample(TRAILER), *after = read_sample(WHEEL);
	cJSON *both = compared(before, after);
	cJSON *was = answered(before, "solar"), *is = answered(after, "solar");
	const char *const ROWS[][2] = {
		{"usable", "usable_wh"}, {"standing", "standing_wh_day"}, {"use", "use_wh_day"}};
	for (size_t i = 0; i < COUNT(ROWS); i++) {
		const cJSON *row = effect(both, ROWS[i][0]);
		ck_assert(cJSON_Compare(at(row, "before"), at(main_bank(was), ROWS[i][1]), true));
		ck_assert(cJSON_Compare(at(row, "after"), at(main_bank(is), ROWS[i][1]), true));
		ck_assert(cJSON_IsTrue(at(row, "differs")));
	}
	cJSON_Delete(both);
	cJSON_Delete(was);
	cJSON_Delete(is);
	rig_file_free(before);
	rig_file_free(after);
}
END_TEST

START_TEST(a_coach_beside_itself_changes_nothing)
{
	rig_file *file = read_sample(TRAILER);
	cJSON *same = compared(file, file);
	const cJSON *row = NULL;
	size_t n = 0;
	ck_assert_int_eq(cJSON_GetArraySize(at(same, "changes")), 0);
	ck_assert_int_eq(cJSON_GetArraySize(at(same, "answers_changed")), 0);
	cJSON_ArrayForEach(row, at(same, "effects"))
	{
		ck_assert(cJSON_IsFalse(at(row, "differs")));
		ck_assert(cJSON_Compare(at(row, "before"), at(row, "after"), true));
		n++;
	}
	ck_assert_uint_gt(n, 10);
	cJSON_Delete(same);
	rig_file_free(file);
}
END_TEST

START_TEST(the_other_way_round_is_the_mirror)
{
	rig_file *a = read_sample(TRAILER), *b = read_sample(WHEEL);
	cJSON *there = compared(a, b), *back = compared(b, a);
	const cJSON *row = effect(there, "harvest"), *mirror = effect(back, "harvest");
	ck_assert(cJSON_Compare(at(row, "before"), at(mirror, "after"), true));
	ck_assert(cJSON_Compare(at(row, "after"), at(mirror, "before"), true));
	ck_assert_int_eq(
		cJSON_GetArraySize(at(there, "changes")), cJSON_GetArraySize(at(back, "changes")));
	cJSON_Delete(there);
	cJSON_Delete(back);
	rig_file_free(a);
	rig_file_free(b);
}
END_TEST

Suite *compare_suite(void);
Suite *compare_suite(void)
{
	Suite *suite = suite_create("compare");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_test(all, figures_are_those_of_the_two_studies);
	tcase_add_test(all, a_coach_beside_itself_changes_nothing);
	tcase_add_test(all, the_other_way_round_is_the_mirror);
	suite_add_tcase(suite, all);
	return suite;
}
