/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Claims of the sun and of stays. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "claim_scene.h"
#include "rigbudget/solar.h"
#include "suites.h"

#define LAMP                                                                                       \
	"\"loads\": [{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 10, \"duty_frac\": 1, " \
	"\"daily_use_h\": 24}], "
/* 240 Wh a day from a bank of 1,024 Wh: 102.4 h, 4.27 days. Rest after such a slow draw leaves
 * nothing behind, so the sum is exact to the step of an hour. */
static const struct {
	const char *claim;
	rig_claim_answer answer;
	double has, tol;
} STAY[] = {
	{"\"runs_h\": 100, \"loads\": [\"lamp\"]", RIG_CLAIM_HOLDS, 102.4, 0.6},
	{"\"runs_h\": 105, \"loads\": [\"lamp\"]", RIG_CLAIM_FAILS, 102.4, 0.6},
	{"\"stay_days\": 4, \"source\": \"battery\"", RIG_CLAIM_HOLDS, 102.4 / 24, 0.03},
	{"\"stay_days\": 5, \"source\": \"battery\"", RIG_CLAIM_FAILS, 102.4 / 24, 0.03},
	{"\"stay_days\": 4, \"from_month\": 11, \"to_month\": 2, \"loads\": [\"lamp\"]",
		RIG_CLAIM_HOLDS, 102.4 / 24, 0.03},
};

START_TEST(a_bank_lasts_as_long_as_its_energy)
{
	char rest[2048];
	snprintf(rest, sizeof rest, LAMP BANK ", \"claims\": [{\"text\": \"c\", %s}]",
		STAY[_i].claim);
	claim_answered it = claim_answer("{\"cord_a\": 30}", rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, STAY[_i].answer);
	ck_assert_double_eq_tol(finding->has.likely, STAY[_i].has, STAY[_i].tol);
	claim_drop(&it);
}
END_TEST

/* Without a bank nothing runs on one; without a panel nothing on the sun. */
static const struct {
	const char *rest, *claim;
	uint32_t reasons;
	bool only; /* no other reason */
} NOTHING[] = {
	{"", "\"runs_h\": 5, \"loads\": [\"lamp\"]", RIG_CLAIM_NO_BANK, true},
	{"", "\"stay_days\": 5", RIG_CLAIM_NO_BANK, true},
	{"", "\"source\": \"solar\", \"loads\": [\"lamp\"]", RIG_CLAIM_NO_BANK, true},
	{BANK ", ", "\"stay_days\": 50, \"source\": \"solar\"", RIG_CLAIM_NO_ARRAY, false},
	{BANK ", ", "\"source\": \"solar\", \"loads\": [\"lamp\"]", RIG_CLAIM_NO_ARRAY, false},
};

START_TEST(without_a_bank_or_a_panel_a_claim_of_them_fails)
{
	char rest[2048];
	snprintf(rest, sizeof rest, LAMP "%s\"claims\": [{\"text\": \"c\", %s}]", NOTHING[_i].rest,
		NOTHING[_i].claim);
	claim_answered it = claim_answer("{\"cord_a\": 30}", rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert(finding->reasons & NOTHING[_i].reasons);
	if (NOTHING[_i].only)
		ck_assert_uint_eq(finding->reasons, NOTHING[_i].reasons);
	claim_drop(&it);
}
END_TEST

/* A heater, and what it lacks to run on the bank; as if it had it, 100 W last 1,024 Wh / 100 W less
 * the inverter's losses, and 1,500 W a fifteenth of that. */
#define HEATED(watts, more) "\"loads\": [" HEATER("lamp", watts, more) "], " BANK
#define WITH_INVERTER(watts)                                                                       \
	", \"inverter\": {\"bank\": \"house\", \"watts_w\": " watts ", \"always_on\": false}"
#define RUNS   CLAIM("\"runs_h\": 0.1, \"loads\": [\"lamp\"]")
#define USE_1H ", \"daily_use_h\": 1, \"duty_frac\": 1"
static const struct {
	const char *rest;
	rig_claim_answer answer;
	uint32_t reasons;
	bool lacks, supposed;
	double least, most; /* hours or days that it has */
} LACKING[] = {
	{HEATED("100", USE_1H ", \"inverter\": true") WITH_INVERTER("1000") RUNS, RIG_CLAIM_HOLDS,
		0, false, false, 7, 10.24},
	{HEATED("100", USE_1H ", \"inverter\": false") WITH_INVERTER("1000") RUNS, RIG_CLAIM_FAILS,
		RIG_CLAIM_NOT_FED, true, true, 7, 10.24},
	{HEATED("1500", USE_1H ", \"inverter\": true") WITH_INVERTER("1000") RUNS, RIG_CLAIM_FAILS,
		RIG_CLAIM_INVERTER_SMALL, true, true, 0.3, 0.6827},
	{HEATED("100", USE_1H) RUNS, RIG_CLAIM_FAILS, RIG_CLAIM_NO_INVERTER, true, true, 7, 10.24},
	/* of the daily use it is left out, and said so */
	{HEATED("100", USE_1H ", \"inverter\": false") WITH_INVERTER("1000")
			CLAIM("\"stay_days\": 1"),
		RIG_CLAIM_HOLDS, RIG_CLAIM_LOADS_LEFT_OUT, true, false, 1, 1e9},
};

START_TEST(a_load_that_lacks_its_inverter_is_named)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}", LACKING[_i].rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, LACKING[_i].answer);
	ck_assert_uint_eq(finding->reasons, LACKING[_i].reasons);
	ck_assert_int_eq(finding->supposed, LACKING[_i].supposed);
	ck_assert_double_ge(finding->has.likely, LACKING[_i].least);
	ck_assert_double_le(finding->has.likely, LACKING[_i].most);
	ck_assert_uint_eq(finding->n_lacking, LACKING[_i].lacks ? 1 : 0);
	if (LACKING[_i].lacks)
		ck_assert_int_eq(finding->lacking[0], 0);
	claim_drop(&it);
}
END_TEST

/* By hand on 1,024 Wh: a lamp of 10 W and a radio of 5 W. Each for its own hours, 24 and 1; by the
 * habit 12 and 2; of what a claim names that alone. */
static const struct {
	int habit;
	const char *claim;
	double wh_day;
} HABIT[] = {
	{-1, "\"stay_days\": 4, \"source\": \"battery\"", 245},
	{0, "\"stay_days\": 4, \"source\": \"battery\"", 130},
	{-1, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\"]", 240},
	{0, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\"]", 120},
	{0, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\", \"radio\"]", 130},
};

START_TEST(a_claim_is_of_the_chosen_habit)
{
	char rest[2048];
	rig_claim_options options = rig_claim_defaults();
	options.all_places = false;
	options.n_trips = 500;
	options.habit = HABIT[_i].habit;
	snprintf(rest, sizeof rest,
		"\"loads\": [{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 10, "
		"\"duty_frac\": 1, \"daily_use_h\": 24}, {\"id\": \"radio\", \"supply\": "
		"\"dc\", \"running_w\": 5, \"duty_frac\": 1, \"daily_use_h\": 1}], " BANK
		", \"habits\": [{\"name\": \"quiet\", \"use\": [{\"load\": \"radio\", "
		"\"daily_use_h\": 2}, {\"load\": \"lamp\", \"daily_use_h\": 12}]}], "
		"\"claims\": [{\"text\": \"c\", %s}]",
		HABIT[_i].claim);
	claim_answered it = claim_answer_with("{\"cord_a\": 30}", rest, "Flagstaff", &options);
	const double days = 1024 / HABIT[_i].wh_day;
	/* it is empty within a day's use of that */
	ck_assert_double_eq_tol(it.findings->claims[0].has.likely, days, 0.55);
	claim_drop(&it);
}
END_TEST

START_TEST(months_through_new_year_are_judged_and_no_others)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}",
		LAMP BANK ", \"claims\": [{\"text\": \"c\", \"stay_days\": 4, \"from_month\": 11, "
			  "\"to_month\": 2}]",
		"Flagstaff");
	for (int m = 0; m < 12; m++)
		ck_assert_int_eq(it.findings->claims[0].months[m].judged, m >= 10 || m <= 1);
	claim_drop(&it);
}
END_TEST

#define EXACT_PANEL(watts)                                                                         \
	PANEL("\"watts_w\": " watts ", \"controller\": \"mppt\", \"panel\": \"crystalline_new\"")
#define ON_SUN ", \"claims\": [{\"text\": \"c\", \"source\": \"solar\", \"loads\": [\"lamp\"]}]"

/* By a factor of ten on either side, at any place of the table south of the polar circle: a panel
 * of 15 W never gives 240 Wh a day (16 hours of full sun), one of 2,000 W on this bank always. */
static const struct {
	const char *rest, *place;
	rig_claim_answer answer;
} SUN[] = {
	{LAMP BANK ", " EXACT_PANEL("10") ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_FAILS},
	{LAMP BANK ", " EXACT_PANEL("1000") ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_HOLDS},
	{LAMP BANK ", " EXACT_PANEL("10") ON_SUN, "Fairbanks Intl", RIG_CLAIM_FAILS},
	{LAMP BANK ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_FAILS},
};

START_TEST(far_from_the_balance_the_sun_says_yes_or_no)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}", SUN[_i].rest, SUN[_i].place);
	ck_assert_int_eq(it.findings->claims[0].answer, SUN[_i].answer);
	claim_drop(&it);
}
END_TEST

/* In between some months carry it and some do not; what it would take then does. */
START_TEST(the_watts_that_it_would_take_take_it)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}",
		LAMP BANK ", " EXACT_PANEL("150") ON_SUN, "Seattle Seattletacoma");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert(finding->answer == RIG_CLAIM_HOLDS_IF || finding->answer == RIG_CLAIM_OPEN);
	ck_assert(finding->reasons & RIG_CLAIM_IN_MONTHS);
	ck_assert_int_eq(finding->worst_month, 11);
	ck_assert_double_gt(finding->panel_need_w.likely, 150);
	char rest[4096];
	snprintf(rest, sizeof rest, LAMP BANK ", " EXACT_PANEL("%.0f") ON_SUN,
		1.05 * finding->panel_need_w.high);
	claim_answered more = claim_answer("{\"cord_a\": 30}", rest, "Seattle Seattletacoma");
	ck_assert_int_eq(more.findings->claims[0].answer, RIG_CLAIM_HOLDS);
	claim_drop(&more);
	claim_drop(&it);
}
END_TEST

/* More panel never makes a month worse, nor more lamp better. */
START_TEST(more_panel_never_makes_a_month_worse)
{
	static const char *const WATTS[] = {"20", "60", "150", "300", "900"};
	rig_carried before[12] = {0};
	for (int i = 0; i < COUNT(WATTS); i++) {
		char rest[4096];
		snprintf(rest, sizeof rest, LAMP BANK ", " EXACT_PANEL("%s") ON_SUN, WATTS[i]);
		claim_answered it = claim_answer("{\"cord_a\": 30}", rest, "Minneapolisst Paul");
		for (int m = 0; m < 12; m++) {
			ck_assert_int_ge(it.findings->claims[0].months[m].holds, before[m]);
			before[m] = it.findings->claims[0].months[m].holds;
		}
		claim_drop(&it);
	}
}
END_TEST

START_TEST(a_panel_on_the_chassis_battery_runs_nothing)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}",
		LAMP "\"banks\": [{\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"agm\", "
		     "\"nominal_v\": 12, \"capacity_ah\": 100}, {\"id\": \"start\", \"role\": "
		     "\"chassis\", \"chemistry\": \"starting\", \"nominal_v\": 12, "
		     "\"capacity_ah\": 70}], \"solar\": [{\"id\": \"roof\", \"bank\": \"start\", "
		     "\"watts_w\": 2000}]" ON_SUN,
		"Phoenix Sky Harbor");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(finding->reasons, RIG_CLAIM_ARRAY_ELSEWHERE);
	ck_assert(finding->supposed);
	claim_drop(&it);
}
END_TEST

START_TEST(an_ac_load_without_an_inverter_does_not_run_on_the_sun)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}",
		"\"loads\": [" HEATER("lamp", "60",
			", \"daily_use_h\": 2, \"duty_frac\": 1") "], " BANK ", " EXACT_PANEL("900")
			ON_SUN,
		"Phoenix Sky Harbor");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(finding->reasons, RIG_CLAIM_NO_INVERTER);
	ck_assert_uint_eq(finding->n_lacking, 1);
	/* 120 Wh at the load, a tenth of it lost at most on a usual inverter, and its idle draw */
	ck_assert_double_ge(finding->needs.likely, 120);
	ck_assert_double_le(finding->needs.likely, 190);
	claim_drop(&it);
}
END_TEST

START_TEST(without_a_place_nothing_is_said_of_the_sun)
{
	claim_answered it =
		claim_answer("{\"cord_a\": 30}", LAMP BANK ", " EXACT_PANEL("100") ON_SUN, NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, RIG_CLAIM_NOT_JUDGED);
	ck_assert_uint_eq(it.findings->claims[0].reasons, RIG_CLAIM_NO_PLACE);
	claim_drop(&it);
}
END_TEST

/* The look at all places gives for one of them what the solar study gives there. */
START_TEST(the_places_agree_with_the_study_of_each)
{
	static const char *const NAMES[] = {"Phoenix Sky Harbor", "Fairbanks Intl", "Miami Intl"};
	const rig_claim_options options = rig_claim_defaults();
	claim_answered it = claim_answer_with(
		"{\"cord_a\": 30}", LAMP BANK ", " EXACT_PANEL("80") ON_SUN, "Flagstaff", &options);
	const rig_claim_places *places = &it.findings->claims[0].places;
	ck_assert_uint_eq(places->n, rig_n_places());
	size_t all = 0, none = 0, march = 0;
	for (size_t i = 0; i < places->n; i++) {
		all += places->months[i] == 0xFFF;
		none += places->months[i] == 0;
		march += (places->months[i] >> 2) & 1u;
	}
	ck_assert_uint_eq(places->n_all, all);
	ck_assert_uint_eq(places->n_none, none);
	ck_assert_uint_eq(places->n_by_month[2], march);
	for (int i = 0; i < COUNT(NAMES); i++) {
		const rig_place place = claim_place_named(NAMES[i]);
		rig_solar_findings *solar = NULL;
		ck_assert_int_eq(
			rig_solar_study(rig_file_completed(it.file), &place, NULL, &solar), RIG_OK);
		for (int m = 0; m < 12; m++)
			ck_assert_int_eq((places->months[rig_place_find(NAMES[i])] >> m) & 1,
				solar->banks[0].months[m].harvest_wh_day.likely >=
					it.findings->claims[0].needs.likely);
		rig_solar_free(solar);
	}
	claim_drop(&it);
}
END_TEST

Suite *claim_span_suite(void);
Suite *claim_span_suite(void)
{
	Suite *suite = suite_create("claim_span");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, a_bank_lasts_as_long_as_its_energy, 0, COUNT(STAY));
	tcase_add_loop_test(
		all, without_a_bank_or_a_panel_a_claim_of_them_fails, 0, COUNT(NOTHING));
	tcase_add_loop_test(all, a_load_that_lacks_its_inverter_is_named, 0, COUNT(LACKING));
	tcase_add_loop_test(all, a_claim_is_of_the_chosen_habit, 0, COUNT(HABIT));
	tcase_add_test(all, months_through_new_year_are_judged_and_no_others);
	tcase_add_loop_test(all, far_from_the_balance_the_sun_says_yes_or_no, 0, COUNT(SUN));
	tcase_add_test(all, the_watts_that_it_would_take_take_it);
	tcase_add_test(all, more_panel_never_makes_a_month_worse);
	tcase_add_test(all, a_panel_on_the_chassis_battery_runs_nothing);
	tcase_add_test(all, an_ac_load_without_an_inverter_does_not_run_on_the_sun);
	tcase_add_test(all, without_a_place_nothing_is_said_of_the_sun);
	tcase_add_test(all, the_places_agree_with_the_study_of_each);
	suite_add_tcase(suite, all);
	return suite;
}
