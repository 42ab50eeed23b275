/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "reading_session.h"
#include "rigbudget/battery.h"
#include "suites.h"

/* What is on draws 0.1 A and 0.5 A always, lights and fans (two of them) 2 A each. */
#define LOADS                                                                                      \
	"\"loads\": [{\"id\": \"detector\", \"supply\": \"dc\", \"running_w\": 1.2, "              \
	"\"always_on\": true}, "                                                                   \
	"{\"id\": \"board\", \"supply\": \"dc\", \"running_w\": 6, \"always_on\": true}, "         \
	"{\"id\": \"lights\", \"supply\": \"dc\", \"running_w\": 24, \"circuit\": \"lamps\"}, "    \
	"{\"id\": \"fans\", \"supply\": \"dc\", \"running_w\": 12, \"count\": 2}, "                \
	"{\"id\": \"heater\", \"running_w\": 1200, \"circuit\": \"galley\"}], "
#define COACH_WITH_BANK(bank)                                                                      \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30}, "             \
	"\"circuits\": [{\"id\": \"galley\", \"breaker_a\": 20}, "                                 \
	"{\"id\": \"lamps\", \"supply\": \"dc\", \"breaker_a\": 10}], "                            \
	"\"banks\": [{\"id\": \"house\", " bank "}], " LOADS                                       \
	"\"charger\": {\"bank\": \"house\", \"amps_a\": 45}, "                                     \
	"\"dc_charger\": {\"bank\": \"house\", \"amps_a\": 30}}"

static const char DC_COACH[] = COACH_WITH_BANK(
	"\"chemistry\": \"flooded\", \"capacity_ah\": 100, \"parallel\": 2, \"nominal_v\": 12");

/* By hand: 0.1 A and 0.5 A stand; 0.6 A is expected, each to 10 %: the root of 0.01 and 0.05 in
 * squares is 0.051. */
static const struct {
	const char *words;
	rig_draw_verdict verdict;
} STANDING[] = {
	{"bank_a=-0.65..-0.60", RIG_DRAW_AGREES},
	{"bank_a=-2.6..-2.5", RIG_DRAW_HIGH},
	{"bank_a=-0.2..-0.1", RIG_DRAW_LOW},
	{"bank_a=-0.02..0.02", RIG_DRAW_DEAD},
	{"bank_a=-0.70..-0.66", RIG_DRAW_HIGH},
	{"bank_a=-0.54..-0.50", RIG_DRAW_LOW},
};

START_TEST(a_standing_draw_is_held_against_what_is_always_on)
{
	session s;
	session_start(&s, DC_COACH, NULL, (const char *const[]){STANDING[_i].words, NULL});
	ck_assert_uint_eq(s.findings->n_standing, 1);
	const rig_readings_standing *standing = &s.findings->standing[0];
	ck_assert_double_eq_tol(standing->expected_a.likely, 0.6, 1e-12);
	ck_assert_double_eq_tol(standing->expected_a.low, 0.6 - 0.050990, 1e-6);
	ck_assert_double_eq_tol(standing->expected_a.high, 0.6 + 0.050990, 1e-6);
	ck_assert_int_eq(standing->verdict, STANDING[_i].verdict);
	ck_assert_int_eq(standing->reading, 0);
	ck_assert_int_eq(standing->bank, 0);
	session_end(&s);
}
END_TEST

static const char *const NOT_STANDING[] = {
	"on=lights bank_a=-2.6",
	"bank_a=1",
	"charging=charger bank_a=-0.6",
	"bank_a=-0.6 duration_h=10",
	"leg1_a=0.6",
};

START_TEST(what_is_switched_on_charged_or_timed_is_no_standing_draw)
{
	session s;
	session_start(&s, DC_COACH, NULL, (const char *const[]){NOT_STANDING[_i], NULL});
	ck_assert_uint_eq(s.findings->n_standing, 0);
	session_end(&s);
}
END_TEST

/* Rest volts by the table of [REST-VOLTS]: 12.62 and 12.1 V about; of 200 Ah. A tenth of the charge
 * is too little to judge by. To empty in 10 h at 8 A with exponent 1: 80 Ah of 200. */
START_TEST(two_rest_voltages_tell_a_capacity)
{
	double full, half;
	ck_assert_int_eq(rig_lead_rest_frac(12.6, &full), RIG_OK);
	ck_assert_int_eq(rig_lead_rest_frac(12.1, &half), RIG_OK);
	const double share = full - half;
	char words[120];
	session s;
	snprintf(words, sizeof words,
		"bank_a=-%.3f duration_h=10 rest_before_v=12.6 rest_after_v=12.1", 20.0 * share);
	session_start(&s, DC_COACH, NULL, (const char *const[]){words, NULL});
	ck_assert_uint_eq(s.findings->n_capacities, 1);
	const rig_readings_capacity *capacity = &s.findings->capacities[0];
	ck_assert_double_eq_tol(capacity->found_ah.likely, 200.0, 0.1);
	ck_assert_int_eq(capacity->verdict, RIG_DRAW_AGREES);
	ck_assert(capacity->found_ah.low < 190.0 && capacity->found_ah.high > 210.0);
	ck_assert_uint_eq(s.findings->n_standing, 0);
	session_end(&s);
	snprintf(words, sizeof words,
		"bank_a=-%.3f duration_h=10 rest_before_v=12.6 rest_after_v=12.1", 8.0 * share);
	session_start(&s, DC_COACH, NULL, (const char *const[]){words, NULL});
	ck_assert_int_eq(s.findings->capacities[0].verdict, RIG_DRAW_LOW);
	ck_assert_double_eq_tol(s.findings->capacities[0].left_frac.likely, 0.4, 0.01);
	session_end(&s);
	session_start(&s, DC_COACH, NULL,
		(const char *const[]){
			"bank_a=-3 duration_h=2 rest_before_v=12.6 rest_after_v=12.55", NULL});
	ck_assert(s.findings->capacities[0].small_step);
	ck_assert_int_eq(s.findings->capacities[0].verdict, RIG_DRAW_NOT_IDENTIFIED);
	session_end(&s);
}
END_TEST

/* Peukert's law by hand, exponent of flooded lead: the likely one of the profile. */
START_TEST(a_discharge_to_empty_tells_a_capacity_at_the_rating)
{
	session s;
	session_start(&s, DC_COACH, NULL,
		(const char *const[]){"bank_a=-15.0 duration_h=10 to_empty=yes", NULL});
	const rig_readings_capacity *capacity = &s.findings->capacities[0];
	const double exponent = rig_chemistry_find("flooded")->peukert_exponent.likely;
	ck_assert_int_eq(capacity->way, RIG_CAPACITY_BY_DISCHARGE);
	ck_assert_double_eq_tol(
		capacity->found_ah.likely, 150.0 * pow(20.0 / 10.0, 1.0 - 1.0 / exponent), 1e-6);
	session_end(&s);
}
END_TEST

/* What always draws cannot be switched on or off to tell another apart. */
START_TEST(the_next_reading_switches_nothing_that_always_draws)
{
	session s;
	session_start(
		&s, DC_COACH, NULL, (const char *const[]){"on=lights,fans bank_a=-7..-2", NULL});
	const rig_readings_next *next = &s.findings->next;
	ck_assert(next->given);
	ck_assert_int_eq(next->place, RIG_METER_BANK);
	ck_assert_uint_ge(next->n_on, 1);
	for (size_t i = 0; i < next->n_on; i++) {
		const int load = s.findings->draws[next->on[i]].load;
		ck_assert_int_ne(rig_file_completed(s.file)->loads[load].always_on, RIG_YES);
	}
	session_end(&s);
}
END_TEST

/* Over the 20 hours of the rating Peukert's law takes nothing off, at any exponent. A meter of 2 %
 * and 0.2 A errs by 1.96 times that. Healthy is 80 % to 110 % of 200 Ah. */
static const struct {
	double amps_a;
	rig_draw_verdict verdict;
} TO_EMPTY[] = {
	{7.0, RIG_DRAW_LOW},     /* 140 + 13.3 Ah */
	{7.4, RIG_DRAW_AGREES},  /* 148 + 13.6 */
	{10.0, RIG_DRAW_AGREES}, /* 200 */
	{11.7, RIG_DRAW_AGREES}, /* 234 - 17.0 */
	{11.9, RIG_DRAW_HIGH},   /* 238 - 17.2 */
};

START_TEST(a_bank_is_due_below_four_fifths_of_its_label)
{
	char words[80];
	session s;
	const double amps_a = TO_EMPTY[_i].amps_a;
	snprintf(words, sizeof words, "bank_a=-%g duration_h=20 to_empty=yes", amps_a);
	session_start(&s, DC_COACH, NULL, (const char *const[]){words, NULL});
	ck_assert_uint_eq(s.findings->n_capacities, 1);
	const rig_readings_capacity *capacity = &s.findings->capacities[0];
	const double doubt_ah = 20 * 1.96 * (0.02 * amps_a + 0.2);
	ck_assert_double_eq_tol(capacity->drawn_ah.likely, 20 * amps_a, 1e-9);
	ck_assert_double_eq_tol(capacity->drawn_ah.low, 20 * amps_a - doubt_ah, 1e-9);
	ck_assert_double_eq_tol(capacity->drawn_ah.high, 20 * amps_a + doubt_ah, 1e-9);
	ck_assert_double_eq_tol(capacity->found_ah.high, 20 * amps_a + doubt_ah, 1e-9);
	ck_assert_double_eq_tol(capacity->label_ah.likely, 200, 1e-9);
	ck_assert_double_eq_tol(capacity->left_frac.likely, amps_a / 10, 1e-9);
	ck_assert_int_eq(capacity->verdict, TO_EMPTY[_i].verdict);
	session_end(&s);
}
END_TEST

/* A meter may err by more than a small draw; a tenth of it is left. */
START_TEST(a_small_draw_is_never_nothing)
{
	session s;
	session_start(&s, DC_COACH, NULL,
		(const char *const[]){"bank_a=-0.1 duration_h=10 to_empty=yes", NULL});
	ck_assert_double_eq_tol(s.findings->capacities[0].drawn_ah.low, 0.1, 1e-9);
	session_end(&s);
}
END_TEST

/* The same cells at the same rest: a bank of 6, 12, 24 or 48 V; unsaid is 12. */
static const struct {
	const char *coach;
	double of_12_v;
} VOLTS[] = {
	{COACH_WITH_BANK("\"chemistry\": \"flooded\", \"capacity_ah\": 200, \"nominal_v\": 6"),
		0.5},
	{COACH_WITH_BANK("\"chemistry\": \"flooded\", \"capacity_ah\": 200"), 1},
	{COACH_WITH_BANK("\"chemistry\": \"flooded\", \"capacity_ah\": 200, \"nominal_v\": 24"), 2},
	{COACH_WITH_BANK("\"chemistry\": \"flooded\", \"capacity_ah\": 200, \"nominal_v\": 48"), 4},
};

START_TEST(rest_volts_are_those_of_so_many_cells)
{
	double full, half;
	ck_assert_int_eq(rig_lead_rest_frac(12.6, &full), RIG_OK);
	ck_assert_int_eq(rig_lead_rest_frac(12.1, &half), RIG_OK);
	char words[120];
	session s;
	snprintf(words, sizeof words, "bank_a=-10 duration_h=8 rest_before_v=%g rest_after_v=%g",
		12.6 * VOLTS[_i].of_12_v, 12.1 * VOLTS[_i].of_12_v);
	session_start(&s, VOLTS[_i].coach, NULL, (const char *const[]){words, NULL});
	ck_assert_uint_eq(s.findings->n_capacities, 1);
	const rig_readings_capacity *capacity = &s.findings->capacities[0];
	ck_assert_int_eq(capacity->way, RIG_CAPACITY_BY_REST);
	ck_assert_double_eq_tol(capacity->share_frac.likely, full - half, 1e-9);
	ck_assert_double_eq_tol(capacity->found_ah.likely, 80 / (full - half), 1e-6);
	session_end(&s);
}
END_TEST

/* The errors of both rests, 0.04 V each way, as squares, and one hundredth on top. */
START_TEST(the_share_between_two_rests_errs_by_the_volts)
{
	double at[2][3];
	const double rest_v[2] = {12.4, 12.1};
	for (int i = 0; i < 2; i++)
		for (int k = 0; k < 3; k++)
			ck_assert_int_eq(
				rig_lead_rest_frac(rest_v[i] + 0.04 * (k - 1), &at[i][k]), RIG_OK);
	const double half = 0.5 * hypot(at[0][2] - at[0][0], at[1][2] - at[1][0]);
	const double share = at[0][1] - at[1][1];
	session s;
	session_start(&s, DC_COACH, NULL,
		(const char *const[]){
			"bank_a=-5 duration_h=10 rest_before_v=12.4 rest_after_v=12.1", NULL});
	const rig_figure found = s.findings->capacities[0].share_frac;
	ck_assert_double_eq_tol(found.likely, share, 1e-9);
	ck_assert_double_eq_tol(found.low, share - half, 1e-9);
	ck_assert_double_eq_tol(found.high, share + half + 0.01, 1e-9);
	ck_assert_int_eq(s.findings->capacities[0].small_step, share < 0.2);
	session_end(&s);
}
END_TEST

static const char LITHIUM[] = COACH_WITH_BANK(
	"\"chemistry\": \"lithium_iron_phosphate\", \"capacity_ah\": 200, \"nominal_v\": 12.8");

/* Which readings of a bank say nothing of its capacity. */
static const struct {
	const char *coach, *words;
} NO_CAPACITY[] = {
	/* lithium cells rest at the same volts from full to nearly empty */
	{LITHIUM, "bank_a=-10 duration_h=8 rest_before_v=13.3 rest_after_v=12.9"},
	{LITHIUM, "bank_a=-10 duration_h=8 rest_before_v=12.6 rest_after_v=12.1"},
	{DC_COACH, "bank_a=-10 duration_h=8"},
	{DC_COACH, "bank_a=-10 to_empty=yes"},
	{DC_COACH, "bank_a=10 duration_h=8 rest_before_v=12.6 rest_after_v=12.1"},
	{DC_COACH, "bank_a=0 duration_h=8 to_empty=yes"},
	{DC_COACH, "charging=charger bank_a=-10 duration_h=8 to_empty=yes"},
	{DC_COACH, "bank_a=-10 duration_h=8 rest_before_v=9 rest_after_v=8"},
};

START_TEST(nothing_is_said_of_a_capacity_without_a_discharge_and_its_ends)
{
	session s;
	session_start(&s, NO_CAPACITY[_i].coach, NULL,
		(const char *const[]){NO_CAPACITY[_i].words, NULL});
	ck_assert_uint_eq(s.findings->n_capacities, 0);
	session_end(&s);
}
END_TEST

START_TEST(lithium_drawn_to_empty_tells_its_capacity)
{
	session s;
	session_start(&s, LITHIUM, NULL,
		(const char *const[]){"bank_a=-10 duration_h=20 to_empty=yes", NULL});
	ck_assert_double_eq_tol(s.findings->capacities[0].left_frac.likely, 1, 0.01);
	session_end(&s);
}
END_TEST

/* At 0 C a bank gives less: what it gave there is more at 25 C. */
START_TEST(a_cold_bank_is_judged_as_if_warm)
{
	session s;
	session_start(&s,
		COACH_WITH_BANK("\"chemistry\": \"flooded\", \"capacity_ah\": 200, "
				"\"temp_c\": 0"),
		NULL, (const char *const[]){"bank_a=-7 duration_h=20 to_empty=yes", NULL});
	const double left = rig_warmth_frac(0, rig_chemistry_find("flooded")->capacity_per_k_frac);
	ck_assert_double_lt(left, 0.9);
	ck_assert_double_eq_tol(s.findings->capacities[0].found_ah.likely, 140 / left, 1e-6);
	session_end(&s);
}
END_TEST

/* Amps of the charger are those into the bank and those of the loads that were on, 0.6 A of them
 * always. The meter's error is 1.96 times 2 % and 0.2 A. Of 45 A rated, 36 to 54 A agree, and less
 * than 4.5 A into a bank below 12.9 V is nothing. */
static const struct {
	const char *words;
	double output_a;
	rig_draw_verdict verdict;
} SOURCE[] = {
	{"on=lights charging=charger bank_a=41 volts_v=13.2", 43.6, RIG_DRAW_AGREES},
	{"breakers=lamps charging=charger bank_a=41 volts_v=13.2", 43.6, RIG_DRAW_AGREES},
	{"breakers=galley charging=charger bank_a=41 volts_v=13.2", 41.6, RIG_DRAW_AGREES},
	{"on=fans charging=charger bank_a=41 volts_v=13.2", 43.6, RIG_DRAW_AGREES},
	{"charging=charger bank_a=20 volts_v=12.9", 20.6, RIG_DRAW_LOW},
	{"charging=charger bank_a=-0.6 volts_v=12.4", 0, RIG_DRAW_DEAD},
	{"charging=charger bank_a=33 volts_v=13.0", 33.6, RIG_DRAW_LOW},    /* + 1.7 */
	{"charging=charger bank_a=34 volts_v=13.0", 34.6, RIG_DRAW_AGREES}, /* + 1.7 */
	{"charging=charger bank_a=55 volts_v=13.0", 55.6, RIG_DRAW_AGREES}, /* - 2.5 */
	{"charging=charger bank_a=57 volts_v=13.0", 57.6, RIG_DRAW_HIGH},   /* - 2.6 */
	{"charging=charger bank_a=3.2 volts_v=12.8", 3.8, RIG_DRAW_DEAD},   /* + 0.5 */
	{"charging=charger bank_a=3.6 volts_v=12.8", 4.2, RIG_DRAW_LOW},    /* + 0.5 */
	{"charging=charger bank_a=3.2 volts_v=12.9", 3.8, RIG_DRAW_LOW},
	/* the battery takes less near full, from 13.5 V on: nothing is said */
	{"charging=charger bank_a=8 volts_v=13.49", 8.6, RIG_DRAW_LOW},
	{"charging=charger bank_a=8 volts_v=13.5", 8.6, RIG_DRAW_NOT_IDENTIFIED},
	{"charging=charger bank_a=8 volts_v=13.9", 8.6, RIG_DRAW_NOT_IDENTIFIED},
	{"charging=charger bank_a=8", 8.6, RIG_DRAW_NOT_IDENTIFIED},
	{"charging=alternator bank_a=29 volts_v=13.3", 29.6, RIG_DRAW_AGREES},
	{"charging=alternator bank_a=10 volts_v=13.0", 10.6, RIG_DRAW_LOW},
};

START_TEST(a_source_is_held_against_its_rating)
{
	session s;
	session_start(&s, DC_COACH, NULL, (const char *const[]){SOURCE[_i].words, NULL});
	ck_assert_uint_eq(s.findings->n_sources, 1);
	ck_assert_double_eq_tol(s.findings->sources[0].output_a.likely, SOURCE[_i].output_a, 1e-9);
	ck_assert_int_eq(s.findings->sources[0].verdict, SOURCE[_i].verdict);
	session_end(&s);
}
END_TEST

/* 13.5 V of a 12 V battery are 27 V of a 24 V bank. */
START_TEST(a_bank_of_24_v_is_full_at_twice_the_volts)
{
	static const char COACH[] = COACH_WITH_BANK(
		"\"chemistry\": \"flooded\", \"capacity_ah\": 100, \"nominal_v\": 24");
	session s;
	session_start(&s, COACH, NULL,
		(const char *const[]){"charging=charger bank_a=8 volts_v=26.9",
			"charging=charger bank_a=8 volts_v=27", NULL});
	ck_assert_int_eq(s.findings->sources[0].verdict, RIG_DRAW_LOW);
	ck_assert_int_eq(s.findings->sources[1].verdict, RIG_DRAW_NOT_IDENTIFIED);
	session_end(&s);
}
END_TEST

START_TEST(a_source_that_the_coach_has_not_is_not_judged)
{
	session s;
	session_start(&s, reading_two_heaters, NULL,
		(const char *const[]){"charging=charger bank_a=8 volts_v=13",
			"charging=alternator bank_a=8 volts_v=13", NULL});
	ck_assert_uint_eq(s.findings->n_sources, 0);
	session_end(&s);
	session_start(&s, DC_COACH, NULL, (const char *const[]){"bank_a=8 volts_v=13", NULL});
	ck_assert_uint_eq(s.findings->n_sources, 0);
	session_end(&s);
}
END_TEST

Suite *readings_dc_suite(void);
Suite *readings_dc_suite(void)
{
	Suite *suite = suite_create("readings_dc");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, a_standing_draw_is_held_against_what_is_always_on, 0, COUNT(STANDING));
	tcase_add_loop_test(all, what_is_switched_on_charged_or_timed_is_no_standing_draw, 0,
		COUNT(NOT_STANDING));
	tcase_add_test(all, two_rest_voltages_tell_a_capacity);
	tcase_add_test(all, a_discharge_to_empty_tells_a_capacity_at_the_rating);
	tcase_add_loop_test(all, a_bank_is_due_below_four_fifths_of_its_label, 0, COUNT(TO_EMPTY));
	tcase_add_test(all, the_next_reading_switches_nothing_that_always_draws);
	tcase_add_test(all, a_small_draw_is_never_nothing);
	tcase_add_loop_test(all, rest_volts_are_those_of_so_many_cells, 0, COUNT(VOLTS));
	tcase_add_test(all, the_share_between_two_rests_errs_by_the_volts);
	tcase_add_loop_test(all, nothing_is_said_of_a_capacity_without_a_discharge_and_its_ends, 0,
		COUNT(NO_CAPACITY));
	tcase_add_test(all, lithium_drawn_to_empty_tells_its_capacity);
	tcase_add_test(all, a_cold_bank_is_judged_as_if_warm);
	tcase_add_loop_test(all, a_source_is_held_against_its_rating, 0, COUNT(SOURCE));
	tcase_add_test(all, a_bank_of_24_v_is_full_at_twice_the_volts);
	tcase_add_test(all, a_source_that_the_coach_has_not_is_not_judged);
	suite_add_tcase(suite, all);
	return suite;
}
