/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/compare.h"

#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "suites.h"

enum { N_SEEDS = 40 };

static rig_file *read_text(const char *text)
{
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(text, strlen(text), diags, &file), RIG_OK);
	rig_diags_free(diags);
	return file;
}

static rig_changes *between(const rig_file *before, const rig_file *after)
{
	rig_changes *changes = NULL;
	ck_assert_int_eq(
		rig_coach_changes(rig_file_coach(before), rig_file_coach(after), &changes), RIG_OK);
	return changes;
}

#define COACH(inner)                                                                               \
	"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30, "              \
	"\"cord_length_ft\": 25}, \"loads\": [{\"id\": \"heater\", \"name\": \"Heater\", "         \
	"\"supply\": \"ac\", " inner "}]}"

/* What one edit of a file must be told as. */
static const struct {
	const char *before, *after, *path, *thing, *unit;
	rig_change_kind kind;
	const char *text_before, *text_after;
	double likely_before, likely_after;
} EDIT[] = {
	{COACH("\"running_w\": 900"), COACH("\"running_w\": 1000"), "loads[heater].running_w",
		"Heater", "W", RIG_CHANGE_OTHER, NULL, NULL, 900, 1000},
	{COACH("\"running_w\": 900"), COACH("\"running_w\": 900, \"priority\": 3"),
		"loads[heater].priority", "Heater", "", RIG_CHANGE_ADDED, NULL, "3", 0, 0},
	{COACH("\"running_w\": 900, \"start_a\": 20"), COACH("\"running_w\": 900"),
		"loads[heater].start_a", "Heater", "A", RIG_CHANGE_TAKEN_OUT, NULL, NULL, 20, 0},
	{COACH("\"running_w\": 900, \"continuous\": true"),
		COACH("\"running_w\": 900, \"continuous\": false"), "loads[heater].continuous",
		"Heater", "", RIG_CHANGE_OTHER, "yes", "no", 0, 0},
	/* the origin alone */
	{COACH("\"running_w\": 900"),
		COACH("\"running_w\": {\"likely\": 900, \"from\": \"measured\"}"),
		"loads[heater].running_w", "Heater", "W", RIG_CHANGE_OTHER, NULL, NULL, 900, 900},
	{COACH("\"running_w\": 900}, {\"id\": \"fan\", \"supply\": \"ac\", \"running_w\": 90"),
		COACH("\"running_w\": 900"), "loads[fan]", "fan", "", RIG_CHANGE_TAKEN_OUT, NULL,
		NULL, 0, 0},
};

static void same_or_none(const char *a, const char *b)
{
	ck_assert_int_eq(a == NULL, b == NULL);
	if (a != NULL)
		ck_assert_str_eq(a, b);
}

START_TEST(one_edit_is_one_change)
{
	rig_file *before = read_text(EDIT[_i].before), *after = read_text(EDIT[_i].after);
	rig_changes *changes = between(before, after);
	ck_assert_uint_eq(changes->n, 1);
	const rig_change *row = &changes->rows[0];
	ck_assert_str_eq(row->path, EDIT[_i].path);
	ck_assert_str_eq(row->thing, EDIT[_i].thing);
	ck_assert_str_eq(row->unit, EDIT[_i].unit);
	ck_assert_int_eq(row->kind, EDIT[_i].kind);
	same_or_none(row->before.text, EDIT[_i].text_before);
	same_or_none(row->after.text, EDIT[_i].text_after);
	ck_assert_double_eq(row->before.figure.likely, EDIT[_i].likely_before);
	ck_assert_double_eq(row->after.figure.likely, EDIT[_i].likely_after);
	rig_changes_free(changes);
	rig_file_free(before);
	rig_file_free(after);
}
END_TEST

START_TEST(a_length_is_told_in_the_unit_of_the_file)
{
	rig_file *before =
		read_text("{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": "
			  "30, \"cord_length_ft\": 25}}");
	rig_file *after =
		read_text("{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": "
			  "30, \"cord_length_ft\": 35}}");
	rig_changes *changes = between(before, after);
	ck_assert_uint_eq(changes->n, 1);
	ck_assert_str_eq(changes->rows[0].path, "shore.cord_length_ft");
	ck_assert_str_eq(changes->rows[0].unit, "ft");
	/* 25 and 35 ft through metres and back: to the last digits */
	ck_assert_double_eq_tol(changes->rows[0].before.figure.likely, 25, 1e-12);
	ck_assert_double_eq_tol(changes->rows[0].after.figure.likely, 35, 1e-12);
	rig_changes_free(changes);
	rig_file_free(before);
	rig_file_free(after);
}
END_TEST

START_TEST(the_order_of_a_list_is_no_change)
{
	rig_file *before = read_text(COACH(
		"\"running_w\": 900}, {\"id\": \"fan\", \"supply\": \"ac\", \"running_w\": 90"));
	rig_file *after = read_text(
		"{\"format\": \"rigbudget/1\", \"name\": \"A\", \"shore\": {\"cord_a\": 30, "
		"\"cord_length_ft\": 25}, \"loads\": [{\"id\": \"fan\", \"supply\": \"ac\", "
		"\"running_w\": 90}, {\"id\": \"heater\", \"name\": \"Heater\", \"supply\": "
		"\"ac\", \"running_w\": 900}]}");
	rig_changes *changes = between(before, after);
	ck_assert_uint_eq(changes->n, 0);
	rig_changes_free(changes);
	rig_file_free(before);
	rig_file_free(after);
}
END_TEST

static void count(const rig_changes *changes, size_t n[3])
{
	for (size_t i = 0; i < changes->n; i++)
		n[changes->rows[i].kind]++;
}

/* Any coach against itself, and against another there and back. */
START_TEST(any_coach_is_like_itself_and_two_differ_the_same_both_ways)
{
	rig_file *a = random_coach((uint64_t)_i), *b = random_coach((uint64_t)_i + 1000);
	char *text = rig_file_text(a);
	rig_file *again = read_text(text);
	rig_changes *none = between(a, again);
	ck_assert_uint_eq(none->n, 0);
	rig_changes *there = between(a, b), *back = between(b, a);
	size_t n_there[3] = {0}, n_back[3] = {0};
	count(there, n_there);
	count(back, n_back);
	ck_assert_uint_gt(there->n, 0);
	ck_assert_uint_eq(n_there[RIG_CHANGE_ADDED], n_back[RIG_CHANGE_TAKEN_OUT]);
	ck_assert_uint_eq(n_there[RIG_CHANGE_TAKEN_OUT], n_back[RIG_CHANGE_ADDED]);
	ck_assert_uint_eq(n_there[RIG_CHANGE_OTHER], n_back[RIG_CHANGE_OTHER]);
	rig_changes_free(none);
	rig_changes_free(there);
	rig_changes_free(back);
	free(text);
	rig_file_free(again);
	rig_file_free(a);
	rig_file_free(b);
}
END_TEST

Suite *changes_suite(void);
Suite *changes_suite(void)
{
	Suite *suite = suite_create("changes");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, one_edit_is_one_change, 0, COUNT(EDIT));
	tcase_add_test(all, a_length_is_told_in_the_unit_of_the_file);
	tcase_add_test(all, the_order_of_a_list_is_no_change);
	tcase_add_loop_test(
		all, any_coach_is_like_itself_and_two_differ_the_same_both_ways, 0, N_SEEDS);
	suite_add_tcase(suite, all);
	return suite;
}
