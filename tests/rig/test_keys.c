/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rig/keys.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "suites.h"

enum { N_COACHES = 400, MAX_KEYS = 64 };

START_TEST(names_are_one_key_each)
{
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	ck_assert_uint_le(keys->n_keys, MAX_KEYS);
	for (size_t i = 0; i < keys->n_keys; i++) {
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL; u++) {
			unsigned unit = 99;
			ck_assert_int_eq(rig_key_find(keys, keys->keys[i].name[u], &unit), (int)i);
			ck_assert_uint_eq(unit, u);
		}
	}
}
END_TEST

/* The house rule: a dimension ends the name; a share ends in _frac. */
static const struct {
	const char *suffix, *unit;
} SUFFIXES[] = {{"_v", "V"}, {"_a", "A"}, {"_w", "W"}, {"_wh", "Wh"}, {"_ah", "Ah"}, {"_h", "h"},
	{"_s", "s"}, {"_m", "m"}, {"_ft", "ft"}, {"_in", "in"}, {"_c", "C"}, {"_f", "F"},
	{"_k", "K"}, {"_deg", "degrees"}, {"_minutes", "min"}, {"_years", "years"},
	{"_days", "days"}, {"_frac", ""}, {"_frac_month", ""}, {"_factor", ""}, {"_exponent", ""},
	{"_per_k", "1/K"}, {"_w_per_k", "W/K"}, {"_per_h", "1/h"}, {"_ohm", "ohm"}, {"_l_h", "L/h"},
	{"_gal_h", "gal/h"}, {"_drops", ""}};

static const char *unit_by_suffix(const char *name)
{
	const char *unit = NULL;
	size_t longest = 0;
	for (int i = 0; i < COUNT(SUFFIXES); i++) {
		const size_t length = strlen(SUFFIXES[i].suffix), all = strlen(name);
		if (length > longest && all > length &&
			strcmp(name + all - length, SUFFIXES[i].suffix) == 0) {
			longest = length;
			unit = SUFFIXES[i].unit;
		}
	}
	return unit;
}

START_TEST(names_of_figures_end_in_their_unit)
{
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		if (key->kind != RIG_KEY_FIGURE)
			continue;
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && key->name[u] != NULL; u++) {
			const char *unit = unit_by_suffix(key->name[u]);
			ck_assert_msg(unit != NULL, "%s has no unit in its name", key->name[u]);
			ck_assert_str_eq(unit, rig_key_unit(key, u));
		}
	}
}
END_TEST

START_TEST(each_row_is_whole)
{
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	ck_assert_str_ne(keys->what, "");
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		const size_t length = strlen(key->what);
		ck_assert_msg(length > 0 && key->what[length - 1] != '.', "%s", key->name[0]);
		ck_assert(!(key->required && key->absent != NULL));
		if (key->kind == RIG_KEY_FIGURE || key->kind == RIG_KEY_WHOLE)
			ck_assert_msg(key->low < key->high, "%s", key->name[0]);
		if (key->filled && key->kind == RIG_KEY_FIGURE)
			ck_assert(key->low <= key->fill[0] && key->fill[0] <= key->fill[1] &&
				  key->fill[1] <= key->fill[2] && key->fill[2] <= key->high);
	}
}
END_TEST

/* An example is JSON of the right type and in range. */
START_TEST(examples_hold)
{
	const rig_object_keys *keys = rig_keys_of((rig_object)_i);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		if (key->kind == RIG_KEY_LIST ||
			(key->kind == RIG_KEY_OBJECT && key->example == NULL))
			continue;
		ck_assert_msg(key->example != NULL, "%s has no example", key->name[0]);
		cJSON *example = cJSON_Parse(key->example);
		ck_assert_msg(example != NULL, "%s", key->name[0]);
		if (key->kind == RIG_KEY_FIGURE || key->kind == RIG_KEY_WHOLE)
			ck_assert_msg(cJSON_IsNumber(example) && example->valuedouble >= key->low &&
					      example->valuedouble <= key->high,
				"%s", key->name[0]);
		if (rig_target_is_table(key->target))
			ck_assert_int_ge(rig_target_find(key->target, example->valuestring), 0);
		cJSON_Delete(example);
	}
}
END_TEST

static size_t n_met[RIG_N_OBJECTS][MAX_KEYS][RIG_N_KEY_NAMES];

static void meet(rig_object object, const cJSON *json)
{
	const rig_object_keys *keys = rig_keys_of(object);
	for (const cJSON *member = json->child; member != NULL; member = member->next) {
		unsigned unit = 0;
		const int index = rig_key_find(keys, member->string, &unit);
		ck_assert_int_ge(index, 0);
		const rig_key *key = &keys->keys[index];
		n_met[object][index][unit]++;
		if (key->kind == RIG_KEY_OBJECT)
			meet(key->object, member);
		for (const cJSON *item = member->child; item != NULL && key->kind == RIG_KEY_LIST;
			item = item->next)
			meet(key->object, item);
	}
}

/* What the round trip of test_write.c covers: every key in every unit. */
START_TEST(random_coaches_use_every_key)
{
	for (uint64_t seed = 0; seed < N_COACHES; seed++) {
		char *text = random_coach_text(seed);
		cJSON *json = cJSON_Parse(text);
		meet(RIG_OBJECT_COACH, json);
		cJSON_Delete(json);
		free(text);
	}
	for (int object = 0; object < RIG_N_OBJECTS; object++) {
		const rig_object_keys *keys = rig_keys_of((rig_object)object);
		for (size_t i = 0; i < keys->n_keys; i++)
			for (unsigned u = 0; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL;
				u++)
				ck_assert_msg(n_met[object][i][u] > 0, "%s.%s is never used",
					keys->name, keys->keys[i].name[u]);
	}
}
END_TEST

/* By definition: foot 0.3048 m, inch 0.0254 m, US gallon 3.785411784 L (231 cubic inches), 0 C at
 * 32 F and 100 C at 212 F. */
static const struct {
	rig_object object;
	const char *name;
	double us, si;
} UNITS[] = {
	{RIG_OBJECT_WIRE, "length_ft", 1, 0.3048},
	{RIG_OBJECT_WIRE, "length_ft", 10, 3.048},
	{RIG_OBJECT_ARRAY, "length_in", 1, 0.0254},
	{RIG_OBJECT_ARRAY, "length_in", 25.5, 0.6477},
	{RIG_OBJECT_ARRAY, "length_ft", 2, 0.6096},
	{RIG_OBJECT_PLACE, "elevation_ft", 7000, 2133.6},
	{RIG_OBJECT_BANK, "temp_f", 32, 0},
	{RIG_OBJECT_BANK, "temp_f", 212, 100},
	{RIG_OBJECT_BANK, "temp_f", -40, -40},
	{RIG_OBJECT_BANK, "temp_f", 77, 25},
	{RIG_OBJECT_GENERATOR, "fuel_full_gal_h", 1, 3.785411784},
	{RIG_OBJECT_BODY, "length_ft", 10, 3.048},
	{RIG_OBJECT_BODY, "heat_to_f", 68, 20},
};

START_TEST(us_units_come_to_si_correctly_rounded)
{
	unsigned unit = 0;
	const rig_object_keys *keys = rig_keys_of(UNITS[_i].object);
	const int index = rig_key_find(keys, UNITS[_i].name, &unit);
	ck_assert_int_ge(index, 0);
	const rig_key *key = &keys->keys[index];
	ck_assert_double_eq(rig_key_to_si(key, unit, UNITS[_i].us), UNITS[_i].si);
	ck_assert_double_eq_tol(rig_key_from_si(key, unit, UNITS[_i].si), UNITS[_i].us, 1e-12);
	ck_assert_double_eq(rig_key_to_si(key, 0, UNITS[_i].si), UNITS[_i].si);
}
END_TEST

/* One letter left out, doubled, changed or swapped with its neighbour. */
static void slip(const char *name, uint64_t *state, char *into)
{
	const size_t length = strlen(name);
	const size_t at = (size_t)random_below(state, (int)length - 1);
	memcpy(into, name, length + 1);
	switch (random_below(state, 4)) {
	case 0:
		memmove(into + at, into + at + 1, length - at);
		break;
	case 1:
		memmove(into + at + 1, into + at, length - at + 1);
		break;
	case 2:
		into[at] = (char)('a' + random_below(state, 26));
		break;
	default:
		into[at] = name[at + 1];
		into[at + 1] = name[at];
		break;
	}
}

/* Every name of four letters or more, slipped on 20 times: at least 19 in 20 come back right.
 * Seed 1.
 */
START_TEST(slips_of_the_keyboard_are_understood)
{
	uint64_t state = 1;
	int n = 0, right = 0;
	for (int object = 0; object < RIG_N_OBJECTS; object++) {
		const rig_object_keys *keys = rig_keys_of((rig_object)object);
		for (size_t i = 0; i < keys->n_keys * 20; i++) {
			const rig_key *key = &keys->keys[i / 20];
			char wrong[80];
			unsigned unit = 0;
			int meant = -1;
			if (strlen(key->name[0]) < 4)
				continue;
			slip(key->name[0], &state, wrong);
			if (rig_key_find(keys, wrong, &unit) >= 0)
				continue;
			n++;
			right += rig_key_suggest(keys, wrong, &meant) != NULL &&
				 meant == (int)(i / 20);
		}
	}
	ck_assert_int_gt(n, 2000);
	ck_assert_msg(right * 20 >= n * 19, "%d of %d", right, n);
}
END_TEST

/* Random words of 3 to 10 letters bring up a name at most 2 times in 100. Seed 2. */
START_TEST(random_words_bring_up_nothing)
{
	uint64_t state = 2;
	int suggested = 0;
	for (int i = 0; i < 1000; i++) {
		char word[16] = {0};
		const int length = 3 + random_below(&state, 8);
		for (int j = 0; j < length; j++)
			word[j] = (char)('a' + random_below(&state, 26));
		int meant = -1;
		const rig_object object = (rig_object)random_below(&state, RIG_N_OBJECTS);
		suggested += rig_key_suggest(rig_keys_of(object), word, &meant) != NULL;
	}
	ck_assert_int_le(suggested, 20);
}
END_TEST

static const struct {
	rig_object object;
	const char *word, *key;
} MEANT[] = {
	{RIG_OBJECT_LOAD, "watts", "running_w"},
	{RIG_OBJECT_LOAD, "amps", "running_a"},
	{RIG_OBJECT_LOAD, "hours", "daily_use_h"},
	{RIG_OBJECT_LOAD, "start", "start_a"},
	{RIG_OBJECT_LOAD, "LRA", "start_a"},
	{RIG_OBJECT_BANK, "ah", "capacity_ah"},
	{RIG_OBJECT_BANK, "age", "age_years"},
	{RIG_OBJECT_ARRAY, "azimuth", "heading_deg"},
	{RIG_OBJECT_ARRAY, "length_inch", "length_in"},
	{RIG_OBJECT_CIRCUIT, "fuse", "breaker_a"},
	{RIG_OBJECT_COACH, "arrays", "solar"},
	{RIG_OBJECT_COACH, "ems", "energy_management"},
};

START_TEST(words_of_the_trade_are_understood)
{
	int meant = -1;
	const char *key = rig_key_suggest(rig_keys_of(MEANT[_i].object), MEANT[_i].word, &meant);
	ck_assert_ptr_nonnull(key);
	ck_assert_str_eq(key, MEANT[_i].key);
}
END_TEST

Suite *keys_suite(void);
Suite *keys_suite(void)
{
	Suite *suite = suite_create("keys");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, names_are_one_key_each, 0, RIG_N_OBJECTS);
	tcase_add_loop_test(all, names_of_figures_end_in_their_unit, 0, RIG_N_OBJECTS);
	tcase_add_loop_test(all, each_row_is_whole, 0, RIG_N_OBJECTS);
	tcase_add_loop_test(all, examples_hold, 0, RIG_N_OBJECTS);
	tcase_add_test(all, random_coaches_use_every_key);
	tcase_add_loop_test(all, us_units_come_to_si_correctly_rounded, 0, COUNT(UNITS));
	tcase_add_test(all, slips_of_the_keyboard_are_understood);
	tcase_add_test(all, random_words_bring_up_nothing);
	tcase_add_loop_test(all, words_of_the_trade_are_understood, 0, COUNT(MEANT));
	suite_add_tcase(suite, all);
	return suite;
}
