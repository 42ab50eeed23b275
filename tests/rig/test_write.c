/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "rig/keys.h"
#include "suites.h"

enum { N_SEEDS = 20, PER_SEED = 20 };

static rig_file *parse(const char *text)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	rig_file_parse(text, strlen(text), diags, &file);
	for (size_t i = 0; file == NULL && i < rig_diags_count(diags); i++)
		fprintf(stderr, "%s: %s\n", rig_diags_at(diags, i)->where.path,
			rig_diags_at(diags, i)->what);
	rig_diags_free(diags);
	ck_assert_ptr_nonnull(file);
	return file;
}

static bool same_text(const char *a, const char *b)
{
	return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* To the last bit, the sign of zero apart, and in the same unit. */
static bool same_figure(const rig_figure *a, const rig_figure *b)
{
	return a->low == b->low && a->likely == b->likely && a->high == b->high &&
	       a->from == b->from && a->unit == b->unit && same_text(a->source, b->source);
}

static bool same_texts(const rig_key *key, const void *a, const void *b)
{
	const size_t n = *(const size_t *)((const char *)a + key->count_offset);
	const char *const *x = *(const char *const *const *)rig_key_value(key, a);
	const char *const *y = *(const char *const *const *)rig_key_value(key, b);
	if (n != *(const size_t *)((const char *)b + key->count_offset) ||
		(x == NULL) != (y == NULL))
		return false;
	for (size_t i = 0; i < n && x != NULL && y != NULL; i++)
		if (!same_text(x[i], y[i]))
			return false;
	return true;
}

static bool same_object(rig_object object, const void *a, const void *b);

static bool same_list(const rig_key *key, const void *a, const void *b)
{
	const size_t n = *(const size_t *)((const char *)a + key->count_offset);
	const size_t size = rig_keys_of(key->object)->size;
	const char *x = *(const char *const *)rig_key_value(key, a);
	const char *y = *(const char *const *)rig_key_value(key, b);
	if (n != *(const size_t *)((const char *)b + key->count_offset) ||
		(x == NULL) != (y == NULL))
		return false;
	for (size_t i = 0; i < n && x != NULL && y != NULL; i++)
		if (!same_object(key->object, x + i * size, y + i * size))
			return false;
	return true;
}

static bool same_value(const rig_key *key, const void *a, const void *b)
{
	const void *x = rig_key_value(key, a), *y = rig_key_value(key, b);
	switch (key->kind) {
	case RIG_KEY_YES_NO:
	case RIG_KEY_WHOLE:
	case RIG_KEY_CHOICE:
	case RIG_KEY_NUMBER:
		return *(const int *)x == *(const int *)y;
	case RIG_KEY_FIGURE:
		return same_figure(x, y);
	case RIG_KEY_REFERENCES:
		return same_texts(key, a, b);
	case RIG_KEY_OBJECT:
		return same_object(key->object, x, y);
	case RIG_KEY_LIST:
		return same_list(key, a, b);
	default:
		return same_text(*(const char *const *)x, *(const char *const *)y);
	}
}

static bool same_object(rig_object object, const void *a, const void *b)
{
	const rig_object_keys *keys = rig_keys_of(object);
	if (keys->has_present && *(const bool *)a != *(const bool *)b)
		return false;
	for (size_t i = 0; i < keys->n_keys; i++) {
		if (same_value(&keys->keys[i], a, b))
			continue;
		fprintf(stderr, "%s.%s differs\n", keys->name, keys->keys[i].name[0]);
		return false;
	}
	return true;
}

START_TEST(random_coaches_come_back_to_the_last_bit)
{
	for (int i = 0; i < PER_SEED; i++) {
		const uint64_t seed = (uint64_t)_i * PER_SEED + (uint64_t)i;
		rig_file *first = random_coach(seed);
		char *text = rig_file_text(first);
		rig_file *second = parse(text);
		char *again = rig_file_text(second);
		ck_assert_msg(same_object(RIG_OBJECT_COACH, rig_file_coach(first),
				      rig_file_coach(second)),
			"seed %llu", (unsigned long long)seed);
		ck_assert_msg(strcmp(text, again) == 0, "seed %llu", (unsigned long long)seed);
		free(again);
		free(text);
		rig_file_free(second);
		rig_file_free(first);
	}
}
END_TEST

#define FILE_OF(rest)                                                                              \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30}," rest "}"
#define WIRE(figure) FILE_OF("\"wires\": [{\"id\": \"w\", " figure "}]")

/* A figure as it is written, and as it is written back. */
static const struct {
	const char *given, *written;
} FIGURES[] = {
	{"\"length_ft\": 20", "\"length_ft\": 20\n"},
	{"\"length_ft\": 12.1", "\"length_ft\": 12.1\n"},
	{"\"length_m\": 0.1", "\"length_m\": 0.1\n"},
	{"\"length_ft\": 0.33333333333333331", "\"length_ft\": 0.3333333333333333\n"},
	{"\"insulation_f\": 167", "\"insulation_f\": 167\n"},
	{"\"ambient_f\": 98.6", "\"ambient_f\": 98.6\n"},
	{"\"ambient_f\": -0.5", "\"ambient_f\": -0.5\n"},
	{"\"ambient_c\": {\"likely\": 30, \"from\": \"measured\"}",
		"\"ambient_c\": {\"likely\": 30, \"from\": \"measured\"}"},
	{"\"ambient_f\": {\"low\": 80, \"likely\": 85.5, \"high\": 99, \"from\": \"estimated\", "
	 "\"note\": \"guess\"}",
		"\"ambient_f\": {\"low\": 80, \"likely\": 85.5, \"high\": 99, \"from\": "
		"\"estimated\", \"note\": \"guess\"}"},
	/* A range of one number is that number. */
	{"\"ambient_c\": {\"low\": 30, \"likely\": 30, \"high\": 30, \"from\": \"profile\"}",
		"\"ambient_c\": {\"likely\": 30, \"from\": \"profile\"}"},
};

START_TEST(figures_keep_the_digits_and_the_unit_of_the_file)
{
	char given[512];
	snprintf(given, sizeof given, WIRE("%s"), FIGURES[_i].given);
	rig_file *file = parse(given);
	char *text = rig_file_text(file);
	ck_assert_msg(strstr(text, FIGURES[_i].written) != NULL, "%s", text);
	free(text);
	rig_file_free(file);
}
END_TEST

/* 3,000 random lengths and temperatures in feet, inches and Fahrenheit, as short as they came. */
START_TEST(decimals_in_us_units_come_back_as_short)
{
	uint64_t state = 7;
	for (int i = 0; i < 3000; i++) {
		const double number = random_below(&state, 100000) / 1000.0 + 20;
		char field[64], given[256];
		snprintf(field, sizeof field, "\"%s\": %.*g",
			i % 2 == 0 ? "ambient_f" : "length_ft", 1 + random_below(&state, 8),
			number);
		snprintf(given, sizeof given, WIRE("%s"), field);
		rig_file *file = parse(given);
		char *text = rig_file_text(file);
		const char *at = strchr(strstr(text, "_f"), ':') + 2;
		ck_assert_double_eq(strtod(at, NULL), strtod(strchr(field, ':') + 1, NULL));
		ck_assert_uint_le(strcspn(at, "\n"), 9);
		free(text);
		rig_file_free(file);
	}
}
END_TEST

START_TEST(a_value_that_its_unit_cannot_hold_is_written_in_si)
{
	rig_coach made;
	rig_wire wire;
	rig_coach_clear(&made);
	rig_wire_clear(&wire);
	made.format = RIG_FORMAT;
	made.name = "T";
	made.cord_a = 30;
	made.wires = &wire;
	made.n_wires = 1;
	wire.id = "w";
	uint64_t state = 3;
	int n_si = 0;
	for (int i = 0; i < 500; i++) {
		wire.length_m = rig_figure_of(0.01 + random_share(&state) * 100, RIG_FROM_STATED);
		wire.length_m.unit = 1;
		char *text = rig_coach_text(&made);
		rig_file *file = parse(text);
		const rig_figure read = rig_file_coach(file)->wires[0].length_m;
		ck_assert_double_eq(read.likely, wire.length_m.likely);
		n_si += read.unit == 0;
		free(text);
		rig_file_free(file);
	}
	/* A foot is coarser than a metre's last bit, so some have no number of feet; most have. */
	ck_assert_int_lt(n_si, 250);
}
END_TEST

START_TEST(schema_and_notes_are_kept)
{
	rig_file *file =
		parse(FILE_OF("\"$schema\": \"a/b.json\", \"notes\": \"n\", \"place\": {\"name\": "
			      "\"Flagstaff\", \"notes\": \"p\"}, \"inverter\": {\"watts_w\": 500, "
			      "\"notes\": \"i\"}"));
	char *text = rig_file_text(file);
	ck_assert_ptr_nonnull(strstr(text, "\"$schema\": \"a/b.json\""));
	ck_assert_ptr_nonnull(strstr(text, "\"notes\": \"n\""));
	ck_assert_ptr_nonnull(strstr(text, "\"notes\": \"p\""));
	ck_assert_ptr_nonnull(strstr(text, "\"notes\": \"i\""));
	free(text);
	rig_file_free(file);
}
END_TEST

START_TEST(empty_lists_are_kept_and_absent_ones_stay_absent)
{
	rig_file *file =
		parse(FILE_OF("\"loads\": [], \"readings\": [{\"name\": \"r\", \"on\": [], "
			      "\"leg1_a\": 1}]"));
	char *text = rig_file_text(file);
	ck_assert_ptr_nonnull(strstr(text, "\"loads\": []"));
	ck_assert_ptr_nonnull(strstr(text, "\"on\": []"));
	ck_assert_ptr_null(strstr(text, "banks"));
	free(text);
	rig_file_free(file);
}
END_TEST

/* A coach of things that say nothing but what they must. */
START_TEST(what_is_cleared_is_not_written)
{
	rig_coach made;
	rig_circuit circuit;
	rig_load load;
	rig_bank bank;
	rig_array array;
	rig_use use;
	rig_coach_clear(&made);
	rig_circuit_clear(&circuit);
	rig_load_clear(&load);
	rig_bank_clear(&bank);
	rig_array_clear(&array);
	rig_use_clear(&use);
	rig_habit habit = {.name = "h", .n_use = 1, .use = &use};
	made.format = RIG_FORMAT;
	made.name = "T";
	made.cord_a = 20;
	made.circuits = &circuit;
	made.loads = &load;
	made.banks = &bank;
	made.arrays = &array;
	made.habits = &habit;
	made.n_circuits = made.n_loads = made.n_banks = made.n_arrays = made.n_habits = 1;
	circuit.id = load.id = bank.id = array.id = "x";
	use.load = "x";
	char *text = rig_coach_text(&made);
	ck_assert_str_eq(text,
		"{\n  \"format\": \"rigbudget/1\",\n  \"name\": \"T\",\n"
		"  \"shore\": {\"cord_a\": 20},\n  \"circuits\": [\n    {\n      \"id\": \"x\"\n   "
		" }\n  ],\n"
		"  \"loads\": [\n    {\n      \"id\": \"x\"\n    }\n  ],\n"
		"  \"banks\": [\n    {\n      \"id\": \"x\"\n    }\n  ],\n"
		"  \"solar\": [\n    {\n      \"id\": \"x\"\n    }\n  ],\n"
		"  \"habits\": [\n    {\n      \"name\": \"h\",\n      \"use\": [\n        {\n"
		"          \"load\": \"x\"\n        }\n      ]\n    }\n  ]\n}\n");
	free(text);
}
END_TEST

START_TEST(what_a_file_cannot_state_is_written_as_estimated)
{
	rig_coach made;
	rig_load load;
	rig_coach_clear(&made);
	rig_load_clear(&load);
	made.format = RIG_FORMAT;
	made.name = "T";
	made.cord_a = 30;
	made.loads = &load;
	made.n_loads = 1;
	load.id = "l";
	load.running_w = rig_figure_range(1, 2, 3, RIG_FROM_COMPUTED);
	char *text = rig_coach_text(&made);
	ck_assert_ptr_nonnull(strstr(text, "\"running_w\": {\"low\": 1, \"likely\": 2, \"high\": "
					   "3, \"from\": \"estimated\"}"));
	free(text);
}
END_TEST

Suite *write_suite(void);
Suite *write_suite(void)
{
	Suite *suite = suite_create("write");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, random_coaches_come_back_to_the_last_bit, 0, N_SEEDS);
	tcase_add_loop_test(
		all, figures_keep_the_digits_and_the_unit_of_the_file, 0, COUNT(FIGURES));
	tcase_add_test(all, decimals_in_us_units_come_back_as_short);
	tcase_add_test(all, a_value_that_its_unit_cannot_hold_is_written_in_si);
	tcase_add_test(all, schema_and_notes_are_kept);
	tcase_add_test(all, empty_lists_are_kept_and_absent_ones_stay_absent);
	tcase_add_test(all, what_is_cleared_is_not_written);
	tcase_add_test(all, what_a_file_cannot_state_is_written_as_estimated);
	suite_add_tcase(suite, all);
	return suite;
}
