/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "reading_session.h"
#include "suites.h"

static session s;
static rig_file *accepted;
static size_t n_changed;

/* The coach as the file has it after the readings were accepted. */
static const rig_coach *accept(const char *coach, const char *const words[])
{
	session_start(&s, coach, NULL, words);
	char *text = rig_readings_accepted(rig_file_coach(s.file), s.findings, &n_changed);
	ck_assert_ptr_nonnull(text);
	accepted = session_parse(text);
	free(text);
	return rig_file_coach(accepted);
}

static void end(void)
{
	rig_file_free(accepted);
	session_end(&s);
}

START_TEST(accepted_figures_are_measured_and_keep_the_old_ones_beside)
{
	const rig_coach *coach = accept(
		reading_two_heaters, (const char *const[]){"on=a leg1_a=0.0", "on=b leg1_a=8.1",
					     "on=b leg1_a=8.0", "on=a leg1_a=0.1", NULL});
	ck_assert_uint_eq(n_changed, 2);
	ck_assert_int_eq(coach->loads[0].running_w.from, RIG_FROM_MEASURED);
	ck_assert_str_eq(coach->loads[0].running_w.source, "was 1200, stated");
	ck_assert_double_eq(coach->loads[0].running_w.low, 0.0);
	ck_assert_double_lt(coach->loads[0].running_w.high, 100.0);
	ck_assert_double_eq_tol(coach->loads[1].running_w.likely, 966.0, 12.0);
	/* what was not read stays as it was */
	ck_assert_int_eq(coach->loads[2].running_w.from, RIG_FROM_STATED);
	end();
}
END_TEST

#define ONE_LOAD(keys)                                                                             \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30}, \"banks\": "  \
	"[{\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": 100}], \"loads\": "     \
	"[{\"id\": \"a\", " keys "}]}"

/* Four digits are kept of what is noted. */
static const struct {
	const char *coach, *reading, *note;
} NOTE[] = {
	{ONE_LOAD("\"running_w\": 12344"), "on=a leg1_a=102.8..102.9", "was 12340, stated"},
	{ONE_LOAD("\"running_w\": 1234.4"), "on=a leg1_a=10.28..10.29", "was 1234, stated"},
	{ONE_LOAD("\"running_w\": 123.46"), "on=a leg1_a=1.028..1.029", "was 123.5, stated"},
	{ONE_LOAD("\"supply\": \"dc\", \"running_w\": 15.4321"), "on=a bank_a=-1.29..-1.28",
		"was 15.43, stated"},
	{ONE_LOAD("\"supply\": \"dc\", \"running_w\": 1.23456"), "on=a bank_a=-0.103..-0.102",
		"was 1.235, stated"},
	{ONE_LOAD("\"running_w\": {\"low\": 1100, \"likely\": 1150, \"high\": 1200, \"from\": "
		  "\"nameplate\", \"note\": \"label behind the door\"}"),
		"on=a leg1_a=9.58..9.59",
		"was 1100 to 1200, likely 1150, nameplate (label behind the door)"},
};

START_TEST(a_note_keeps_four_digits_the_range_and_the_note_before)
{
	const rig_coach *coach =
		accept(NOTE[_i].coach, (const char *const[]){NOTE[_i].reading, NULL});
	ck_assert_uint_eq(n_changed, 1);
	ck_assert_str_eq(coach->loads[0].running_w.source, NOTE[_i].note);
	end();
}
END_TEST

/* 9.58 to 9.59 A at 120 V: 1,150 W by any label between 1,000 and 1,300. */
START_TEST(amps_of_a_label_give_way_to_measured_watts)
{
	const rig_coach *coach = accept(ONE_LOAD("\"running_a\": 9, \"power_factor\": 1"),
		(const char *const[]){"on=a leg1_a=9.58..9.59", NULL});
	ck_assert(!rig_figure_given(coach->loads[0].running_a));
	ck_assert_double_eq_tol(coach->loads[0].running_w.likely, 1150, 1.0);
	end();
}
END_TEST

#define DC_PARTS                                                                                   \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30}, \"banks\": "  \
	"[{\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": 100, \"parallel\": 2, " \
	"\"age_years\": 5}], "                                                                     \
	"\"charger\": {\"bank\": \"house\", \"amps_a\": 45}, \"dc_charger\": {\"bank\": "          \
	"\"house\", \"amps_a\": 30}, \"inverter\": {\"bank\": \"house\", \"watts_w\": 1000, "      \
	"\"idle_w\": {\"low\": 6, \"likely\": 12, \"high\": 24, \"from\": \"estimated\"}, "        \
	"\"always_on\": true}, \"loads\": []}"

/* Of two batteries in parallel the file has one: 140 Ah drawn are 70 Ah of each, and its age is in
 * them. */
START_TEST(a_measured_capacity_is_that_of_one_battery_as_it_is_now)
{
	const rig_coach *coach = accept(
		DC_PARTS, (const char *const[]){"bank_a=-7 duration_h=20 to_empty=yes", NULL});
	ck_assert_uint_eq(n_changed, 1);
	ck_assert_double_eq_tol(coach->banks[0].capacity_ah.likely, 70, 0.05);
	ck_assert_str_eq(coach->banks[0].capacity_ah.source, "was 100, stated");
	ck_assert_double_eq(coach->banks[0].age_years.likely, 0);
	ck_assert_int_eq(coach->banks[0].age_years.from, RIG_FROM_MEASURED);
	end();
}
END_TEST

/* 1.5 A at 12 V. */
START_TEST(an_inverter_that_idles_at_other_watts_is_corrected)
{
	const rig_coach *coach =
		accept(DC_PARTS, (const char *const[]){"bank_a=-1.51..-1.49", NULL});
	ck_assert_uint_eq(n_changed, 1);
	ck_assert_double_eq_tol(coach->inverter.idle_w.likely, 18, 0.1);
	ck_assert_str_eq(coach->inverter.idle_w.source, "was 6 to 24, likely 12, estimated");
	end();
}
END_TEST

/* What a source gives is kept where it was judged, and where it gives anything. */
static const struct {
	const char *words;
	size_t n;
	double charger_a, alternator_a;
} OUTPUT[] = {
	{"charging=charger bank_a=20 volts_v=12.95", 1, 20, 30},
	{"charging=alternator bank_a=12 volts_v=12.95", 1, 45, 12},
	{"charging=charger bank_a=8 volts_v=13.9", 0, 45, 30},
	{"charging=charger bank_a=-0.6 volts_v=12.4", 0, 45, 30},
};

START_TEST(a_source_gets_the_amps_that_were_read)
{
	const rig_coach *coach = accept(DC_PARTS, (const char *const[]){OUTPUT[_i].words, NULL});
	ck_assert_uint_eq(n_changed, OUTPUT[_i].n);
	ck_assert_double_eq_tol(coach->charger.amps_a.likely, OUTPUT[_i].charger_a, 1e-9);
	ck_assert_double_eq_tol(coach->dc_charger.amps_a.likely, OUTPUT[_i].alternator_a, 1e-9);
	end();
}
END_TEST

/* Two heaters read together only: neither is known, and neither is written. */
START_TEST(what_is_not_told_apart_is_not_written)
{
	const rig_coach *coach =
		accept(reading_two_heaters, (const char *const[]){"on=a,b leg1_a=17.5", NULL});
	ck_assert_uint_eq(n_changed, 0);
	ck_assert_int_eq(coach->loads[0].running_w.from, RIG_FROM_STATED);
	ck_assert_int_eq(coach->loads[1].running_w.from, RIG_FROM_STATED);
	end();
}
END_TEST

Suite *readings_accept_suite(void);
Suite *readings_accept_suite(void)
{
	Suite *suite = suite_create("readings_accept");
	TCase *all = tcase_create("all");
	tcase_add_test(all, accepted_figures_are_measured_and_keep_the_old_ones_beside);
	tcase_add_loop_test(
		all, a_note_keeps_four_digits_the_range_and_the_note_before, 0, COUNT(NOTE));
	tcase_add_test(all, amps_of_a_label_give_way_to_measured_watts);
	tcase_add_test(all, a_measured_capacity_is_that_of_one_battery_as_it_is_now);
	tcase_add_test(all, an_inverter_that_idles_at_other_watts_is_corrected);
	tcase_add_loop_test(all, a_source_gets_the_amps_that_were_read, 0, COUNT(OUTPUT));
	tcase_add_test(all, what_is_not_told_apart_is_not_written);
	suite_add_tcase(suite, all);
	return suite;
}
