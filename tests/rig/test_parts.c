/* SPDX-License-Identifier: GPL-3.0-or-later */
/* RIG_REWRITE=1 in the environment writes docs/rigbudget-parts-1.schema.json anew. */
#include "rigbudget/parts.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rig/keys.h"
#include "suites.h"

static const char SCHEMA[] = RIG_SOURCE_DIR "/docs/rigbudget-parts-1.schema.json";

START_TEST(the_example_is_a_right_list_of_invented_parts)
{
	rig_diags *diags = rig_diags_new();
	rig_parts_file *file = NULL;
	ck_assert_int_eq(
		rig_parts_parse(rig_parts_example, strlen(rig_parts_example), diags, &file),
		RIG_OK);
	const rig_parts *parts = rig_parts_list(file);
	ck_assert_int_eq(parts->invented, RIG_YES);
	ck_assert_uint_eq(parts->n_panels, 12);
	ck_assert_uint_eq(parts->n_batteries, 12);
	ck_assert_uint_eq(parts->n_inverters, 6);
	ck_assert_uint_ge(parts->n_controllers, 2);
	ck_assert_uint_ge(parts->n_alternator_chargers, 2);
	ck_assert_uint_ge(parts->n_fuses, 10);
	ck_assert_uint_ge(parts->n_conductors, 10);
	ck_assert_uint_eq(rig_diags_count(diags), 0);
	rig_parts_free(file);
	rig_diags_free(diags);
}
END_TEST

/* A panel in US units beside the same in SI; 1 in = 25.4 mm and 1 lb = 0.45359237 kg by
 * definition. */
START_TEST(us_units_are_the_same_sizes)
{
	static const char TEXT[] =
		"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"conductors\": ["
		"{\"id\": \"w\", \"awg\": \"2/0\", \"weight_lb_ft\": 1, \"price_per_ft\": 3.048}],"
		"\"panels\": [{\"id\": \"a\", \"watts_w\": 100, \"length_in\": 40, \"width_mm\": "
		"540,"
		"\"weight_lb\": 10, \"price\": 1, \"voc_v\": 22, \"isc_a\": 6}]}";
	rig_diags *diags = rig_diags_new();
	rig_parts_file *file = NULL;
	ck_assert_int_eq(rig_parts_parse(TEXT, strlen(TEXT), diags, &file), RIG_OK);
	const rig_part_panel *panel = rig_parts_list(file)->panels;
	const rig_part_conductor *wire = rig_parts_list(file)->conductors;
	ck_assert_double_eq_tol(panel->length_m.likely, 1.016, 1e-12);
	ck_assert_double_eq_tol(panel->width_m.likely, 0.54, 1e-12);
	ck_assert_double_eq_tol(panel->weight_kg.likely, 4.5359237, 1e-12);
	ck_assert_double_eq_tol(wire->price_per_m.likely, 10, 1e-12);
	ck_assert_double_eq_tol(wire->weight_kg_m.likely, 0.45359237 / 0.3048, 1e-12);
	ck_assert_int_eq(panel->most, -1);
	rig_parts_free(file);
	rig_diags_free(diags);
}
END_TEST

/* What is put into a right list, and where that must be said. */
#define PANEL(more)                                                                                \
	"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\",\n \"panels\": [\n  {" more "}]}"
#define REST "\"weight_kg\": 8, \"price\": 90, \"voc_v\": 22, \"isc_a\": 6, \"id\": \"a\""
static const struct {
	const char *text, *path, *what;
	size_t line;
} FAULT[] = {
	{"{", "", "", 1},
	{"[]", "", "the file is not an object", 1},
	{"{\"format\": \"rigbudget/1\"}", "format", "the file is of another format", 1},
	{"{\"format\": \"rigbudget-parts/2\"}", "format",
		"the file is of a version that this program does not read", 1},
	{"{\"format\": \"rigbudget-parts/1\"}", "", "the parts list has no \"name\"", 1},
	{PANEL(REST ", \"watts_w\": 100, \"length_m\": 1"), "panels[0]",
		"the panel has no \"width_m\"", 3},
	{PANEL(REST ", \"watts_w\": 100, \"length_m\": 1, \"width_m\": 0.6, \"wat\": 1"),
		"panels[0].wat", "the panel has no such key", 3},
	{PANEL(REST ", \"watts_w\": 200, \"length_m\": 1, \"width_m\": 0.6"), "panels[0].watts_w",
		"no panel of this size gives so many watts", 3},
	{PANEL(REST ", \"watts_w\": {\"low\": 90, \"likely\": 100, \"high\": 110, \"from\": "
		    "\"estimated\"}, \"length_m\": 1, \"width_m\": 0.6"),
		"panels[0].watts_w", "watts_w is a range", 3},
	{PANEL(REST ", \"watts_w\": 100, \"length_m\": 1, \"width_m\": 0.6, \"vmp_v\": 23"),
		"panels[0].vmp_v", "vmp_v is more than voc_v", 3},
	{PANEL(REST ", \"watts_w\": -1, \"length_m\": 1, \"width_m\": 0.6"), "panels[0].watts_w",
		"watts_w is out of range", 3},
	{PANEL(REST ", \"watts_w\": 100, \"length_m\": 1, \"length_in\": 40, \"width_m\": 0.6"),
		"panels[0].length_in", "the same figure is given twice", 3},
	{"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"fuses\": ["
	 "{\"id\": \"a\", \"rating_a\": 5, \"interrupt_a\": 100, \"weight_kg\": 1, \"price\": 1},\n"
	 "{\"id\": \"a\", \"rating_a\": 5, \"interrupt_a\": 100, \"weight_kg\": 1, \"price\": 1}]}",
		"fuses[1].id", "the id is already that of fuses[0]", 2},
	{"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"batteries\": [{\"id\": \"b\", "
	 "\"chemistry\": \"lead\", \"nominal_v\": 12, \"capacity_ah\": 100, \"length_m\": 0.3, "
	 "\"width_m\": 0.2, \"height_m\": 0.2, \"weight_kg\": 20, \"price\": 100}]}",
		"batteries[0].chemistry", "there is no chemistry of that name", 1},
	{"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"batteries\": [{\"id\": \"b\", "
	 "\"chemistry\": \"agm\", \"nominal_v\": 12, \"capacity_ah\": 100, \"length_m\": 0.3, "
	 "\"cycles\": 400, \"width_m\": 0.2, \"height_m\": 0.2, \"weight_kg\": 20, \"price\": "
	 "100}]}",
		"batteries[0].cycles", "cycles say nothing without how deep they are", 1},
	{"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"inverters\": [{\"id\": \"i\", "
	 "\"nominal_v\": 12, \"watts_w\": 2000, \"surge_w\": 1000, \"idle_w\": 20, "
	 "\"weight_kg\": 6, \"price\": 100}]}",
		"inverters[0].watts_w", "watts_w is more than surge_w", 1},
	{"{\"format\": \"rigbudget-parts/1\", \"name\": \"n\", \"conductors\": [{\"id\": \"i\", "
	 "\"awg\": \"12.5\", \"weight_kg_m\": 1, \"price_per_m\": 1}]}",
		"conductors[0].awg", "there is no gauge of that name", 1},
};

START_TEST(a_fault_is_told_with_its_place)
{
	rig_diags *diags = rig_diags_new();
	rig_parts_file *file = NULL;
	ck_assert_int_eq(rig_parts_parse(FAULT[_i].text, strlen(FAULT[_i].text), diags, &file),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(file);
	ck_assert_uint_ge(rig_diags_faults(diags), 1);
	const rig_diag *diag = rig_diags_at(diags, 0);
	if (FAULT[_i].what[0] != '\0') {
		ck_assert_str_eq(diag->what, FAULT[_i].what);
		ck_assert_str_ne(diag->mend, "");
	}
	ck_assert_str_eq(diag->where.path, FAULT[_i].path);
	ck_assert_uint_eq(diag->where.line, FAULT[_i].line);
	rig_diags_free(diags);
}
END_TEST

START_TEST(every_key_is_told_in_the_schema_and_its_example_holds)
{
	char *text = rig_parts_schema_text();
	cJSON *schema = cJSON_Parse(text);
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	const cJSON *object =
		_i == RIG_OBJECT_PARTS
			? schema
			: cJSON_GetObjectItem(cJSON_GetObjectItem(schema, "$defs"), keys->name);
	const cJSON *properties = cJSON_GetObjectItem(object, "properties");
	for (size_t i = 0; i < keys->n_keys; i++) {
		ck_assert_ptr_nonnull(
			cJSON_GetObjectItemCaseSensitive(properties, keys->keys[i].name[0]));
		ck_assert_msg(!keys->keys[i].required || keys->keys[i].example != NULL ||
				      keys->keys[i].kind == RIG_KEY_LIST,
			"%s has no example", keys->keys[i].name[0]);
	}
	cJSON_Delete(schema);
	free(text);
}
END_TEST

START_TEST(the_schema_in_docs_is_that_of_the_table)
{
	char *text = rig_parts_schema_text();
	rig_diags *diags = rig_diags_new();
	rig_buffer kept = {0};
	if (getenv("RIG_REWRITE") != NULL)
		ck_assert_int_eq(rig_file_write(SCHEMA, text, strlen(text), diags), RIG_OK);
	ck_assert_int_eq(rig_file_read(SCHEMA, 1 << 22, &kept, diags), RIG_OK);
	ck_assert_msg(strcmp(kept.text, text) == 0,
		"docs/rigbudget-parts-1.schema.json is not of this table; run with RIG_REWRITE=1");
	rig_buffer_free(&kept);
	rig_diags_free(diags);
	free(text);
}
END_TEST

Suite *parts_suite(void);
Suite *parts_suite(void)
{
	Suite *suite = suite_create("parts");
	TCase *all = tcase_create("all");
	tcase_add_test(all, the_example_is_a_right_list_of_invented_parts);
	tcase_add_test(all, us_units_are_the_same_sizes);
	tcase_add_loop_test(all, a_fault_is_told_with_its_place, 0, COUNT(FAULT));
	tcase_add_loop_test(all, every_key_is_told_in_the_schema_and_its_example_holds,
		RIG_OBJECT_PARTS, RIG_N_ALL_OBJECTS);
	tcase_add_test(all, the_schema_in_docs_is_that_of_the_table);
	suite_add_tcase(suite, all);
	return suite;
}
