/* SPDX-License-Identifier: GPL-3.0-or-later */
/* RIG_REWRITE=1 in the environment writes docs/rigbudget-1.schema.json anew, for review in the
 * difference. */
#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rig/keys.h"
#include "rigbudget/coach.h"
#include "suites.h"

static const char PATH[] = RIG_SOURCE_DIR "/docs/rigbudget-1.schema.json";

START_TEST(the_schema_in_docs_is_that_of_the_table)
{
	char *text = rig_schema_text();
	rig_diags *diags = rig_diags_new();
	rig_buffer kept = {0};
	if (getenv("RIG_REWRITE") != NULL)
		ck_assert_int_eq(rig_file_write(PATH, text, strlen(text), diags), RIG_OK);
	ck_assert_int_eq(rig_file_read(PATH, 1 << 22, &kept, diags), RIG_OK);
	ck_assert_msg(strcmp(kept.text, text) == 0,
		"docs/rigbudget-1.schema.json is not of this table; run with RIG_REWRITE=1");
	rig_buffer_free(&kept);
	rig_diags_free(diags);
	free(text);
}
END_TEST

static const cJSON *member(const cJSON *of, const char *key)
{
	const cJSON *found = cJSON_GetObjectItemCaseSensitive(of, key);
	ck_assert_msg(found != NULL, "no %s", key);
	return found;
}

static const cJSON *object_of(const cJSON *schema, rig_object object)
{
	if (object == RIG_OBJECT_COACH)
		return schema;
	return member(member(schema, "$defs"), rig_keys_of(object)->name);
}

START_TEST(each_key_is_a_property_with_title_and_description)
{
	char *text = rig_schema_text();
	cJSON *schema = cJSON_Parse(text);
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	const cJSON *object = object_of(schema, (rig_object)_i);
	const cJSON *properties = member(object, "properties");
	int n = 0;
	for (size_t i = 0; i < keys->n_keys; i++) {
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL; u++) {
			const cJSON *property = member(properties, keys->keys[i].name[u]);
			ck_assert_str_ne(member(property, "title")->valuestring, "");
			ck_assert_str_ne(member(property, "description")->valuestring, "");
			n++;
		}
	}
	ck_assert_int_eq(cJSON_GetArraySize(properties), n);
	ck_assert(cJSON_IsFalse(member(object, "additionalProperties")));
	cJSON_Delete(schema);
	free(text);
}
END_TEST

/* Limits by hand: 4 m are 157.480314961 in, 70 C are 158 F. */
START_TEST(limits_stand_in_the_unit_of_the_name)
{
	char *text = rig_schema_text();
	cJSON *schema = cJSON_Parse(text);
	const cJSON *definitions = member(schema, "$defs");
	const cJSON *length =
		member(member(member(definitions, "array"), "properties"), "length_in");
	ck_assert_double_eq_tol(member(length, "maximum")->valuedouble, 157.480314961, 1e-9);
	const cJSON *temp = member(member(member(definitions, "bank"), "properties"), "temp_f");
	ck_assert_double_eq(member(temp, "maximum")->valuedouble, 158);
	ck_assert_double_eq(member(temp, "minimum")->valuedouble, -40);
	cJSON_Delete(schema);
	free(text);
}
END_TEST

Suite *schema_suite(void);
Suite *schema_suite(void)
{
	Suite *suite = suite_create("schema");
	TCase *all = tcase_create("all");
	tcase_add_test(all, the_schema_in_docs_is_that_of_the_table);
	tcase_add_loop_test(
		all, each_key_is_a_property_with_title_and_description, 0, RIG_N_OBJECTS);
	tcase_add_test(all, limits_stand_in_the_unit_of_the_name);
	suite_add_tcase(suite, all);
	return suite;
}
