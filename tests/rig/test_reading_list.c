/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "rigbudget/readings.h"
#include "suites.h"

static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 50}, "
	"\"circuits\": [{\"id\": \"galley\", \"leg\": \"L1\"}], "
	"\"loads\": [{\"id\": \"heater\", \"running_w\": 1440}, {\"id\": \"fridge\", "
	"\"running_w\": "
	"300}], \"banks\": [{\"id\": \"house\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	"\"solar\": [{\"id\": \"roof\", \"watts_w\": 100, \"controller\": \"mppt\"}]}";

typedef struct {
	rig_file *file;
	rig_diags *diags;
	rig_reading_list *list;
	rig_status status;
} reading_case;

static void read_bytes(reading_case *it, const char *text, size_t length)
{
	*it = (reading_case){.diags = rig_diags_new()};
	ck_assert_int_eq(rig_file_parse(COACH, strlen(COACH), it->diags, &it->file), RIG_OK);
	rig_diags_free(it->diags);
	it->diags = rig_diags_new();
	it->status = rig_reading_list_read(
		text, length, rig_file_completed(it->file), it->diags, &it->list);
}

static void read_table(reading_case *it, const char *text)
{
	read_bytes(it, text, strlen(text));
}

static void end(reading_case *it)
{
	rig_reading_list_free(it->list);
	rig_file_free(it->file);
	rig_diags_free(it->diags);
}

START_TEST(a_table_reads_as_it_stands)
{
	reading_case it;
	read_table(&it, "\xEF\xBB\xBF# a note\r\n"
			"name,on,leg1_a,volts_v,sky,charger,month\r\n"
			"\"One, \"\"two\"\"\",\"heater, fridge\",14.2,118,clear,no,6\r\n"
			"\r\n"
			"Range,heater;fridge,12..13,,,yes,\n"
			",,0.4,,,,");
	ck_assert_int_eq(it.status, RIG_OK);
	ck_assert_uint_eq(rig_reading_list_count(it.list), 3);
	const rig_reading *one = rig_reading_list_at(it.list, 0);
	ck_assert_str_eq(one->name, "One, \"two\"");
	ck_assert_uint_eq(one->n_on, 2);
	ck_assert_str_eq(one->on[1], "fridge");
	ck_assert_double_eq(one->leg1_a.likely, 14.2);
	ck_assert_int_eq(one->leg1_a.from, RIG_FROM_MEASURED);
	ck_assert_int_eq(one->sky, RIG_SKY_CLEAR);
	ck_assert_int_eq(one->charger, RIG_NO);
	ck_assert_int_eq(one->month, 6);
	const rig_reading *range = rig_reading_list_at(it.list, 1);
	ck_assert_double_eq(range->leg1_a.low, 12.0);
	ck_assert_double_eq(range->leg1_a.high, 13.0);
	ck_assert(!rig_figure_given(range->volts_v));
	ck_assert_int_eq(range->month, -1);
	const rig_reading *none = rig_reading_list_at(it.list, 2);
	ck_assert_uint_eq(none->n_on, 0);
	ck_assert_ptr_null(none->name);
	end(&it);
}
END_TEST

START_TEST(the_only_bank_and_array_need_not_be_named)
{
	reading_case it;
	read_table(&it, "bank_a,array_a,month,day,hour_h\n-3,,,,\n,4,6,21,12\n");
	ck_assert_int_eq(it.status, RIG_OK);
	ck_assert_str_eq(rig_reading_list_at(it.list, 0)->bank, "house");
	ck_assert_str_eq(rig_reading_list_at(it.list, 1)->array, "roof");
	end(&it);
}
END_TEST

/* Each fault with its line and column, and what is said. */
static const struct {
	const char *text;
	size_t line, column;
	const char *what, *mend;
} FAULT[] = {
	{"", 0, 1, "no line of names", "name the columns"},
	{"on,amps\n", 1, 4, "no key of that name", "did you mean leg1_a"},
	{"on,leg1_a,leg1_a\n", 1, 11, "stands twice", "keep one"},
	{"on,leg1_a\nheatr,3\n", 2, 1, "no load of that id", "did you mean heater"},
	{"on,leg1_a\nheater,3x\n", 2, 8, "not a number", "the unit is in the name"},
	{"on,leg1_a\nheater,-3\n", 2, 8, "out of range", "check the number"},
	{"on,leg1_a\nheater,13..12\n", 2, 8, "not a number", "a range as 12..13"},
	{"on,leg1_a\nheater,1e3\n", 2, 8, "not a number", ""},
	{"on,leg1_a,month\nheater,3,6.5\n", 2, 10, "out of range", ""},
	{"on,leg1_a,sky\n\xC3\xA9,3,sunny\n", 2, 1, "no load of that id", ""},
	{"leg1_a,sky\n3,sunny\n", 2, 3, "none of the allowed words", "choose one"},
	{"on,leg1_a\nheater\n", 2, 1, "too few values", ""},
	{"on,leg1_a\nheater,3,4\n", 2, 1, "too many values", "quotes hold commas"},
	{"on,leg1_a\nheater,\n", 2, 1, "no amps and no watts", "write what the meter said"},
	{"on,circuit_a\nheater,3\n", 2, 1, "which circuit", "add circuit"},
	{"array_a\n3\n", 2, 1, "the sun needs a time", "add month, day"},
	{"bank_a,duration_h,rest_before_v\n-3,5,12.7\n", 2, 1, "one rest voltage", ""},
	{"bank_a,rest_before_v,rest_after_v\n-3,12.1,12.7\n", 2, 1, "above rest_before_v", ""},
};

START_TEST(every_fault_is_told_with_its_place)
{
	reading_case it;
	read_table(&it, FAULT[_i].text);
	ck_assert_int_eq(it.status, RIG_BAD_INPUT);
	ck_assert_ptr_null(it.list);
	const rig_diag *diag = rig_diags_at(it.diags, 0);
	ck_assert_uint_eq(diag->where.line, FAULT[_i].line);
	ck_assert_uint_eq(diag->where.column, FAULT[_i].column);
	ck_assert_msg(strstr(diag->what, FAULT[_i].what) != NULL, "%s", diag->what);
	ck_assert_msg(strstr(diag->mend, FAULT[_i].mend) != NULL, "%s", diag->mend);
	end(&it);
}
END_TEST

START_TEST(all_faults_come_at_once)
{
	reading_case it;
	read_table(&it, "on,leg1_a,volts_v\nheatr,x,9999\nheater,3,118\nfridg,3,118\n");
	ck_assert_uint_eq(rig_diags_faults(it.diags), 4);
	end(&it);
}
END_TEST

START_TEST(a_nul_byte_is_a_fault)
{
	reading_case it;
	read_bytes(&it, "on,leg1_a\nhea\0er,3\n", 19);
	ck_assert_int_eq(it.status, RIG_BAD_INPUT);
	end(&it);
}
END_TEST

START_TEST(words_read_like_a_row)
{
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	rig_reading_list *list = NULL;
	ck_assert_int_eq(rig_file_parse(COACH, strlen(COACH), diags, &file), RIG_OK);
	const rig_coach *coach = rig_file_completed(file);
	ck_assert_int_eq(rig_reading_list_words("  on=heater,fridge  leg1_a=14.2 volts_v=118",
				 coach, diags, &list),
		RIG_OK);
	ck_assert_uint_eq(rig_reading_list_at(list, 0)->n_on, 2);
	rig_reading_list_free(list);
	static const char *const WRONG[] = {
		"", "on=heater", "leg1_a", "leg1_a=", "legs=3", "on=x leg1_a=3", "=3"};
	for (int i = 0; i < COUNT(WRONG); i++) {
		list = NULL;
		ck_assert_msg(
			rig_reading_list_words(WRONG[i], coach, diags, &list) == RIG_BAD_INPUT,
			"%s", WRONG[i]);
		ck_assert_ptr_null(list);
	}
	rig_file_free(file);
	rig_diags_free(diags);
}
END_TEST

Suite *reading_list_suite(void);
Suite *reading_list_suite(void)
{
	Suite *suite = suite_create("reading_list");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_table_reads_as_it_stands);
	tcase_add_test(all, the_only_bank_and_array_need_not_be_named);
	tcase_add_loop_test(all, every_fault_is_told_with_its_place, 0, COUNT(FAULT));
	tcase_add_test(all, all_faults_come_at_once);
	tcase_add_test(all, a_nul_byte_is_a_fault);
	tcase_add_test(all, words_read_like_a_row);
	suite_add_tcase(suite, all);
	return suite;
}
