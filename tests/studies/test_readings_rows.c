/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "reading_session.h"
#include "suites.h"

/* Two legs: one of 10 A on each, one of 10 A whose leg nobody knows, one of 20 A at 240 V on both.
 */
static const char TWO_LEGS[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 50}, \"circuits\": "
	"[{\"id\": \"one\", \"leg\": \"L1\"}, {\"id\": \"two\", \"leg\": \"L2\"}, "
	"{\"id\": \"across\", \"leg\": \"both\"}, {\"id\": \"front\", \"bank\": \"crank\"}], "
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": 100}, "
	"{\"id\": \"crank\", \"role\": \"chassis\", \"chemistry\": \"starting\", \"capacity_ah\": "
	"100}], \"loads\": ["
	"{\"id\": \"left\", \"running_w\": 1200, \"behaviour\": \"resistive\", \"circuit\": "
	"\"one\"}, "
	"{\"id\": \"right\", \"running_w\": 1200, \"behaviour\": \"resistive\", \"circuit\": "
	"\"two\"}, "
	"{\"id\": \"drifter\", \"running_w\": 1200, \"behaviour\": \"resistive\"}, "
	"{\"id\": \"range\", \"running_w\": 4800, \"behaviour\": \"resistive\", \"volts_v\": 240, "
	"\"circuit\": \"across\"}, "
	"{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 24}, "
	"{\"id\": \"radio\", \"supply\": \"dc\", \"running_w\": 36, \"circuit\": \"front\"}]}";

static const struct {
	const char *words;
	size_t row;
	rig_meter_place place;
	rig_row_use use;
} USE[] = {
	{"on=left leg1_a=10", 0, RIG_METER_LEG_1, RIG_ROW_USED},
	{"on=left leg2_a=0.1", 0, RIG_METER_LEG_2, RIG_ROW_NO_LOADS},
	{"on=right leg2_a=10", 0, RIG_METER_LEG_2, RIG_ROW_USED},
	{"on=range leg1_a=20", 0, RIG_METER_LEG_1, RIG_ROW_USED},
	{"on=range leg2_a=20", 0, RIG_METER_LEG_2, RIG_ROW_USED},
	{"on=drifter leg1_a=10", 0, RIG_METER_LEG_1, RIG_ROW_LEG_UNKNOWN},
	{"on=drifter leg2_a=10", 0, RIG_METER_LEG_2, RIG_ROW_LEG_UNKNOWN},
	/* both read: each says nothing, their sum does */
	{"on=drifter leg1_a=10 leg2_a=0.1", 0, RIG_METER_LEG_1, RIG_ROW_LEG_UNKNOWN},
	{"on=drifter leg1_a=10 leg2_a=0.1", 1, RIG_METER_LEG_2, RIG_ROW_LEG_UNKNOWN},
	{"on=drifter leg1_a=10 leg2_a=0.1", 2, RIG_METER_BOTH_LEGS, RIG_ROW_USED},
	{"on=drifter watts_w=1200", 0, RIG_METER_WATTS, RIG_ROW_USED},
	{"on=left circuit=one circuit_a=10", 0, RIG_METER_CIRCUIT, RIG_ROW_USED},
	{"on=left circuit=two circuit_a=0.1", 0, RIG_METER_CIRCUIT, RIG_ROW_NO_LOADS},
	{"on=lamp bank=house bank_a=-2", 0, RIG_METER_BANK, RIG_ROW_USED},
	{"on=lamp bank=crank bank_a=-0.1", 0, RIG_METER_BANK, RIG_ROW_NO_LOADS},
	{"on=radio bank=crank bank_a=-3", 0, RIG_METER_BANK, RIG_ROW_USED},
	{"on=lamp bank=house bank_a=0", 0, RIG_METER_BANK, RIG_ROW_USED},
	{"on=lamp bank=house bank_a=0.5", 0, RIG_METER_BANK, RIG_ROW_NOT_SAID},
	{"on=lamp bank=house bank_a=5 charging=charger", 0, RIG_METER_BANK, RIG_ROW_CHARGING},
	{"bank=house bank_a=-5 duration_h=3", 0, RIG_METER_BANK, RIG_ROW_DISCHARGE},
	{"on=lamp bank=house bank_a=-2 duration_h=3", 0, RIG_METER_BANK, RIG_ROW_USED},
};

START_TEST(each_figure_of_a_reading_is_used_or_says_why_not)
{
	session s;
	session_start(&s, TWO_LEGS, NULL, (const char *const[]){USE[_i].words, NULL});
	ck_assert_uint_gt(s.findings->n_rows, USE[_i].row);
	const rig_readings_row *row = &s.findings->rows[USE[_i].row];
	ck_assert_int_eq(row->place, USE[_i].place);
	ck_assert_int_eq(row->use, USE[_i].use);
	session_end(&s);
}
END_TEST

START_TEST(a_30_a_cord_has_no_second_leg)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){"on=a leg1_a=10 leg2_a=3", NULL});
	ck_assert_int_eq(s.findings->rows[0].use, RIG_ROW_USED);
	ck_assert_int_eq(s.findings->rows[1].use, RIG_ROW_DEAD_LEG);
	ck_assert_double_eq_tol(session_draw(&s, "a")->found_a.likely, 10, 0.01);
	session_end(&s);
}
END_TEST

/* Readings to a hundredth, so that they and not the labels are found. A load across both legs is
 * read by each meter, and twice in their sum. */
static const struct {
	const char *words, *load;
	double found_a, found_w;
} FOUND[] = {
	{"on=left leg1_a=8.99..9.01", "left", 9, 1080},
	{"on=right leg2_a=8.99..9.01", "right", 9, 1080},
	{"on=range leg1_a=17.99..18.01", "range", 18, 4320},
	{"on=range leg2_a=17.99..18.01", "range", 18, 4320},
	{"on=drifter leg1_a=0.00..0.02 leg2_a=8.98..9.00", "drifter", 9, 1080},
	{"on=range watts_w=4319..4321 volts_v=120", "range", 18, 4320},
	/* hot to hot 216 V: the element holds its resistance, 0.9 of its 18 A */
	{"on=range leg1_a=16.19..16.21 volts_v=216", "range", 18, 4320},
	{"on=radio bank=crank bank_a=-3.31..-3.29", "radio", 3.3, 39.6},
};

START_TEST(a_draw_is_found_by_whichever_meter_sees_it)
{
	session s;
	session_start(&s, TWO_LEGS, NULL, (const char *const[]){FOUND[_i].words, NULL});
	ck_assert_uint_eq(s.findings->n_draws, 1);
	const rig_readings_draw *draw = session_draw(&s, FOUND[_i].load);
	ck_assert_double_eq_tol(draw->found_a.likely, FOUND[_i].found_a, 0.003);
	ck_assert_double_eq_tol(draw->found_w.likely, FOUND[_i].found_w, 0.8);
	ck_assert_uint_eq(draw->n_rows, 1);
	ck_assert_int_eq(draw->group, -1);
	session_end(&s);
}
END_TEST

START_TEST(a_load_across_both_legs_counts_twice_in_their_sum)
{
	session s;
	/* 18 A across, and 9 A on a leg that nobody knows: 27 and 18 A */
	session_start(&s, TWO_LEGS, NULL,
		(const char *const[]){"on=range leg1_a=17.99..18.01 leg2_a=17.99..18.01",
			"on=range,drifter leg1_a=26.99..27.01 leg2_a=17.99..18.01", NULL});
	ck_assert_double_eq_tol(session_draw(&s, "drifter")->found_a.likely, 9, 0.02);
	ck_assert_double_eq_tol(session_draw(&s, "range")->found_a.likely, 18, 0.01);
	session_end(&s);
}
END_TEST

/* By hand, one reading of 10 A, as the label says: the meter's 0.02 x 10 + 0.2 = 0.4 A against the
 * label's 3 A gives a standard error of 1 / sqrt(1 / 0.16 + 1 / 9) = 0.3965 A, of which the scatter
 * of a row that lies exactly takes off less than 1 %. Healthy ones differ by 10 %. */
START_TEST(one_reading_and_its_label_are_weighed_by_their_errors)
{
	session s;
	session_start(&s, reading_two_heaters, NULL, (const char *const[]){"on=a leg1_a=10", NULL});
	const rig_readings_draw *draw = session_draw(&s, "a");
	ck_assert_double_eq_tol(draw->found_a.likely, 10, 1e-6);
	ck_assert_double_eq_tol(draw->se_a, 0.3965, 0.004);
	ck_assert_double_eq_tol(draw->told_frac, 1 - 0.3965 * 0.3965 / 9, 0.001);
	ck_assert_double_eq_tol(draw->expected_a.low, 9, 1e-9);
	ck_assert_double_eq_tol(draw->expected_a.high, 11, 1e-9);
	ck_assert_double_eq_tol(draw->label_a.likely, 10, 1e-9);
	ck_assert_double_eq_tol(s.findings->rows[0].sigma, 0.4, 1e-9);
	ck_assert_double_eq(s.findings->meter_frac, 0.02);
	ck_assert_double_eq(s.findings->meter_a, 0.2);
	session_end(&s);
}
END_TEST

/* Standard errors of a normal error with a chance of 0.05 over one draw and over two, both sides:
 * 1.960 and 2.241, a little more since the scatter is a guess too. */
START_TEST(more_draws_take_more_to_accuse)
{
	session one, two;
	session_start(
		&one, reading_two_heaters, NULL, (const char *const[]){"on=a leg1_a=10", NULL});
	session_start(&two, reading_two_heaters, NULL,
		(const char *const[]){"on=a leg1_a=10", "on=b leg1_a=8", NULL});
	ck_assert_double_ge(one.findings->sureness_z, 1.9599);
	ck_assert_double_le(one.findings->sureness_z, 2.05);
	ck_assert_double_ge(two.findings->sureness_z, 2.2414);
	ck_assert_double_le(two.findings->sureness_z, 2.35);
	session_end(&one);
	session_end(&two);
}
END_TEST

/* A heater's amps go with the volts whatever they were; a motor's and a box's do not, so it counts
 * whether the volts were read. */
static const struct {
	const char *words, *load;
	bool at_volts;
} AT_VOLTS[] = {
	{"on=motor leg1_a=6 volts_v=110", "motor", true},
	{"on=box leg1_a=5 volts_v=110", "box", true},
	{"on=motor leg1_a=6", "motor", false},
	{"on=a leg1_a=9 volts_v=110", "a", false},
};

START_TEST(a_draw_says_whether_it_was_judged_at_its_volts)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){AT_VOLTS[_i].words, "on=b leg1_a=8 volts_v=110", NULL});
	ck_assert_int_eq(session_draw(&s, AT_VOLTS[_i].load)->at_volts, AT_VOLTS[_i].at_volts);
	session_end(&s);
}
END_TEST

/* Where to read next: on the leg, on both, or at the bank; a heater alone of two that are never
 * told apart, at its likely amps. */
static const struct {
	const char *coach, *words;
	rig_meter_place place;
	double least_a, most_a;
} NEXT[] = {
	{reading_two_heaters, "on=a,b leg1_a=18", RIG_METER_LEG_1, 7.9, 10.1},
	{TWO_LEGS, "on=left,range leg1_a=30", RIG_METER_LEG_1, 9.9, 20.1},
	{TWO_LEGS, "on=right,drifter leg1_a=10 leg2_a=10", RIG_METER_LEG_2, 9.9, 10.1},
	{TWO_LEGS, "on=drifter leg1_a=4..16 leg2_a=0..6", RIG_METER_BOTH_LEGS, 10, 12},
	{TWO_LEGS, "on=lamp bank=house bank_a=-4..0", RIG_METER_BANK, 1.9, 2.1},
};

START_TEST(the_next_reading_is_where_its_meter_sees_the_load)
{
	session s;
	session_start(&s, NEXT[_i].coach, NULL, (const char *const[]){NEXT[_i].words, NULL});
	const rig_readings_next *next = &s.findings->next;
	ck_assert(next->given);
	ck_assert_uint_eq(next->n_on, 1);
	ck_assert_int_eq(next->place, NEXT[_i].place);
	ck_assert_double_ge(next->expected_a, NEXT[_i].least_a);
	ck_assert_double_le(next->expected_a, NEXT[_i].most_a);
	/* the meter's error at those amps is a fifth to a half of what was in doubt */
	ck_assert_double_lt(next->se_after_a, 0.5 * next->se_before_a);
	ck_assert_double_gt(next->se_after_a, 0.1 * next->se_before_a);
	session_end(&s);
}
END_TEST

/* A study refuses what no reader lets through. */
static const char *NOWHERE[] = {"nowhere"};
static const rig_reading REFUSED[] = {
	{.on = NOWHERE, .n_on = 1, .leg1_a = {.low = 1, .likely = 1, .high = 1, .from = 1}},
	{.breakers = NOWHERE,
		.n_breakers = 1,
		.leg1_a = {.low = 1, .likely = 1, .high = 1, .from = 1}},
	{.circuit = "nowhere", .leg1_a = {.low = 1, .likely = 1, .high = 1, .from = 1}},
	{.bank = "nowhere", .leg1_a = {.low = 1, .likely = 1, .high = 1, .from = 1}},
	{.leg1_a = {.low = 1, .likely = 1, .high = INFINITY, .from = 1}},
	{.leg1_a = {.low = -INFINITY, .likely = 1, .high = 1, .from = 1}},
};

START_TEST(an_unknown_id_and_a_figure_without_end_are_refused)
{
	rig_file *file = session_parse(TWO_LEGS);
	rig_readings_findings *findings = NULL;
	ck_assert_int_eq(
		rig_readings_study(rig_file_completed(file), &REFUSED[_i], 1, NULL, &findings),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(each_verdict_and_use_has_its_own_words)
{
	for (int i = 0; i < RIG_DRAW_NOT_IDENTIFIED; i++)
		ck_assert_str_ne(rig_draw_verdict_text((rig_draw_verdict)i),
			rig_draw_verdict_text((rig_draw_verdict)(i + 1)));
	for (int i = 0; i < RIG_PANEL_NO_PLACE; i++)
		ck_assert_str_ne(rig_panel_verdict_text((rig_panel_verdict)i),
			rig_panel_verdict_text((rig_panel_verdict)(i + 1)));
	for (int i = 0; i < RIG_ROW_OUTLIER; i++)
		ck_assert_str_ne(
			rig_row_use_text((rig_row_use)i), rig_row_use_text((rig_row_use)(i + 1)));
}
END_TEST

Suite *readings_rows_suite(void);
Suite *readings_rows_suite(void)
{
	Suite *suite = suite_create("readings_rows");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_figure_of_a_reading_is_used_or_says_why_not, 0, COUNT(USE));
	tcase_add_test(all, a_30_a_cord_has_no_second_leg);
	tcase_add_loop_test(all, a_draw_is_found_by_whichever_meter_sees_it, 0, COUNT(FOUND));
	tcase_add_test(all, a_load_across_both_legs_counts_twice_in_their_sum);
	tcase_add_test(all, one_reading_and_its_label_are_weighed_by_their_errors);
	tcase_add_test(all, more_draws_take_more_to_accuse);
	tcase_add_loop_test(
		all, a_draw_says_whether_it_was_judged_at_its_volts, 0, COUNT(AT_VOLTS));
	tcase_add_loop_test(all, the_next_reading_is_where_its_meter_sees_the_load, 0, COUNT(NEXT));
	tcase_add_loop_test(
		all, an_unknown_id_and_a_figure_without_end_are_refused, 0, COUNT(REFUSED));
	tcase_add_test(all, each_verdict_and_use_has_its_own_words);
	suite_add_tcase(suite, all);
	return suite;
}
