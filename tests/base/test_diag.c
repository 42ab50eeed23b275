/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/diag.h"

#include <string.h>

#include "suites.h"

static void add(rig_diags *diags, rig_severity severity, size_t line, size_t column)
{
	rig_diags_add(diags, &(rig_diag){.severity = severity, .where = {line, column, "loads"}});
}

START_TEST(an_entry_is_copied_whole)
{
	rig_diags *diags = rig_diags_new();
	char what[] = "the breaker is not a number";
	rig_diags_add(diags, &(rig_diag){RIG_REMARK, {3, 7, "circuits[0].breaker_a"}, what,
				     "\"thirty\"", "a number", "write it without quotes"});
	memset(what, 'x', sizeof what - 1);
	const rig_diag *entry = rig_diags_at(diags, 0);
	ck_assert_int_eq(entry->severity, RIG_REMARK);
	ck_assert_uint_eq(entry->where.line, 3);
	ck_assert_uint_eq(entry->where.column, 7);
	ck_assert_str_eq(entry->where.path, "circuits[0].breaker_a");
	ck_assert_str_eq(entry->what, "the breaker is not a number");
	ck_assert_str_eq(entry->found, "\"thirty\"");
	ck_assert_str_eq(entry->allowed, "a number");
	ck_assert_str_eq(entry->mend, "write it without quotes");
	ck_assert_uint_eq(rig_diags_faults(diags), 0);
	rig_diags_free(diags);
}
END_TEST

START_TEST(absent_texts_are_empty)
{
	rig_diags *diags = rig_diags_new();
	rig_diags_add(diags, &(rig_diag){.what = "wrong"});
	const rig_diag *entry = rig_diags_at(diags, 0);
	ck_assert_str_eq(entry->where.path, "");
	ck_assert_str_eq(entry->found, "");
	ck_assert_str_eq(entry->allowed, "");
	ck_assert_str_eq(entry->mend, "");
	rig_diags_free(diags);
}
END_TEST

START_TEST(a_failure_is_one_fault_and_its_status)
{
	rig_diags *diags = rig_diags_new();
	const rig_where where = {2, 1, "place"};
	ck_assert_int_eq(rig_fail(diags, RIG_NOT_FOUND, where, "no place is called %s", "Nowhere"),
		RIG_NOT_FOUND);
	ck_assert_uint_eq(rig_diags_faults(diags), 1);
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->what, "no place is called Nowhere");
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "place");
	ck_assert_int_eq(rig_diags_at(diags, 0)->severity, RIG_FAULT);
	rig_diags_free(diags);
	ck_assert_int_eq(rig_fail(NULL, RIG_IO, where, "nobody reads this"), RIG_IO);
	rig_diags_add(NULL, &(rig_diag){.what = "nor this"});
	rig_diags_free(NULL);
}
END_TEST

START_TEST(entries_come_in_order_of_their_place)
{
	static const size_t PLACE[][2] = {{7, 2}, {3, 9}, {7, 1}, {0, 0}, {3, 1}, {3, 9}};
	static const size_t ORDER[] = {3, 4, 1, 5, 2, 0};
	rig_diags *diags = rig_diags_new();
	for (size_t i = 0; i < 6; i++) {
		const rig_where where = {PLACE[i][0], PLACE[i][1], ""};
		rig_fail(diags, RIG_BAD_INPUT, where, "%zu", i);
	}
	for (size_t i = 0; i < 6; i++)
		ck_assert_int_eq(rig_diags_at(diags, i)->what[0], (int)('0' + ORDER[i]));
	/* one more after a reading */
	rig_fail(diags, RIG_BAD_INPUT, (rig_where){1, 1, ""}, "late");
	ck_assert_str_eq(rig_diags_at(diags, 1)->what, "late");
	rig_diags_free(diags);
}
END_TEST

START_TEST(a_full_list_counts_the_rest)
{
	rig_diags *diags = rig_diags_new();
	for (size_t i = 0; i < 250; i++)
		add(diags, RIG_FAULT, 1000 - i, 1);
	add(diags, RIG_REMARK, 1, 1);
	ck_assert_uint_eq(rig_diags_count(diags), 100);
	ck_assert_uint_eq(rig_diags_faults(diags), 250);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.line, 901);
	ck_assert_uint_eq(rig_diags_at(diags, 99)->where.line, 1000);
	rig_diags_free(diags);
}
END_TEST

START_TEST(remarks_never_hide_a_fault)
{
	rig_diags *diags = rig_diags_new();
	for (size_t i = 0; i < 150; i++)
		add(diags, RIG_REMARK, 1 + i, 1);
	add(diags, RIG_FAULT, 500, 1);
	rig_fail(diags, RIG_BAD_INPUT, (rig_where){501, 1, ""}, "another");
	ck_assert_uint_eq(rig_diags_count(diags), 100);
	ck_assert_uint_eq(rig_diags_faults(diags), 2);
	ck_assert_uint_eq(rig_diags_at(diags, 98)->where.line, 500);
	ck_assert_uint_eq(rig_diags_at(diags, 99)->where.line, 501);
	ck_assert_uint_eq(rig_diags_at(diags, 97)->where.line, 98);
	rig_diags_free(diags);
}
END_TEST

Suite *diag_suite(void);
Suite *diag_suite(void)
{
	Suite *suite = suite_create("diag");
	TCase *all = tcase_create("all");
	tcase_add_test(all, an_entry_is_copied_whole);
	tcase_add_test(all, absent_texts_are_empty);
	tcase_add_test(all, a_failure_is_one_fault_and_its_status);
	tcase_add_test(all, entries_come_in_order_of_their_place);
	tcase_add_test(all, a_full_list_counts_the_rest);
	tcase_add_test(all, remarks_never_hide_a_fault);
	suite_add_tcase(suite, all);
	return suite;
}
