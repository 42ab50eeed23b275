/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include "base/json.h"
#include "handmade.h"
#include "report/glyph.h"

static const char *string_in(const cJSON *object, const char *key)
{
	return cJSON_GetObjectItemCaseSensitive(object, key)->valuestring;
}

START_TEST(the_json_reads_back_with_the_same_texts_and_numbers)
{
	if (strstr(HOSTILE[_i], "\xff") != NULL)
		return; /* not UTF-8: the reader of coach files refuses it */
	rig_document *document = handmade(HOSTILE[_i]);
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	ck_assert_int_eq(rig_json_read(text, strlen(text), diags, &json), RIG_OK);
	const cJSON *root = rig_json_root(json);
	ck_assert_str_eq(string_in(root, "format"), "rigbudget-report/1");
	const cJSON *findings = cJSON_GetObjectItemCaseSensitive(root, "findings");
	ck_assert_str_eq(string_in(findings, "name"), HOSTILE[_i]);
	/* all digits: the double comes back bit for bit */
	ck_assert(cJSON_GetObjectItemCaseSensitive(findings, "third")->valuedouble == 1.0 / 3.0);
	const cJSON *answer =
		cJSON_GetArrayItem(cJSON_GetObjectItemCaseSensitive(root, "answers"), 0);
	ck_assert_str_eq(string_in(answer, "question"), HOSTILE[_i]);
	ck_assert_str_eq(string_in(answer, "verdict"), HOSTILE[_i]);
	ck_assert_int_eq(cJSON_GetArraySize(cJSON_GetObjectItemCaseSensitive(root, "cautions")), 1);
	rig_json_free(json);
	rig_diags_free(diags);
	free(text);
	rig_document_free(document);
}
END_TEST

START_TEST(rendering_twice_gives_the_same_bytes_and_leaves_the_data)
{
	rig_document *document = handmade("Pump");
	char *first = NULL;
	char *second = NULL;
	ck_assert_int_eq(rig_document_json(document, &first), RIG_OK);
	ck_assert_int_eq(rig_document_json(document, &second), RIG_OK);
	ck_assert_str_eq(first, second);
	free(first);
	free(second);
	rig_document_free(document);
}
END_TEST

START_TEST(one_line_says_the_same)
{
	rig_document *document = handmade("Pump\n\t\"2\"");
	char *text = NULL;
	char *line = NULL;
	char *words = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	ck_assert_int_eq(rig_document_json_line(document, true, &line), RIG_OK);
	ck_assert_int_eq(rig_document_json_line(document, false, &words), RIG_OK);
	ck_assert_ptr_null(strchr(line, '\n'));
	cJSON *all = cJSON_Parse(text);
	cJSON *same = cJSON_Parse(line);
	cJSON *some = cJSON_Parse(words);
	ck_assert(cJSON_Compare(all, same, true));
	ck_assert(!cJSON_Compare(all, some, true));
	cJSON_DeleteItemFromObjectCaseSensitive(all, "findings");
	ck_assert(cJSON_Compare(all, some, true));
	cJSON_Delete(all);
	cJSON_Delete(same);
	cJSON_Delete(some);
	free(text);
	free(line);
	free(words);
	rig_document_free(document);
}
END_TEST

Suite *document_json_suite(void);
Suite *document_json_suite(void)
{
	Suite *suite = suite_create("document_json");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_json_reads_back_with_the_same_texts_and_numbers, 0, N_HOSTILE);
	tcase_add_test(all, rendering_twice_gives_the_same_bytes_and_leaves_the_data);
	tcase_add_test(all, one_line_says_the_same);
	suite_add_tcase(suite, all);
	return suite;
}
