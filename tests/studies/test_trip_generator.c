/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a generator and an alternator do for a stay. */
#include <stdio.h>

#include "read_coach.h"
#include "rigbudget/trip.h"
#include "studies/trip_fleet.h"
#include "suites.h"

enum { NOVEMBER = 10 };

static rig_file *coach_of(const char *rest)
{
	return read_coach("{\"cord_a\": 30}", rest);
}

#define BANK(wh)                                                                                   \
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "            \
	"\"capacity_wh\": " wh ", \"usable_frac\": 1, \"charge_efficiency_frac\": 0.9}]"
#define STEADY(id, watts)                                                                          \
	"{\"id\": \"" id "\", \"supply\": \"dc\", \"running_w\": " watts                           \
	", \"duty_frac\": 1, \"daily_use_h\": 24}"

static rig_place flagstaff(void)
{
	rig_place place;
	const long found = rig_place_find("Flagstaff");
	ck_assert(found >= 0);
	rig_place_at((size_t)found, &place);
	return place;
}

static rig_trip_findings *study(const rig_file *file, const rig_trip_options *options)
{
	const rig_place place = flagstaff();
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(
		rig_trip_study(rig_file_completed(file), &place, options, &findings), RIG_OK);
	return findings;
}

static rig_trip_options stay_of(int month, int n_days, size_t n_trips)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.n_days = n_days;
	options.n_trips = n_trips;
	return options;
}

#define LEVELS "\"start_soc_frac\": 0.5, \"stop_soc_frac\": 0.9"
#define USUAL  "\"auto_start\": true, \"minimum_run_minutes\": 0, " LEVELS

/* A load of 50 W and a generator of 2000 W that charges with 40 A, with such keys. */
static rig_file *coach_that_charges(const char *keys)
{
	char text[2000];
	(void)snprintf(text, sizeof text,
		BANK("1000") ", \"loads\": [" STEADY(
			"all", "50") "], "
				     "\"circuits\": [{\"id\": \"c\", \"breaker_a\": 15}], "
				     "\"charger\": {\"bank\": \"house\", \"circuit\": \"c\", "
				     "\"amps_a\": 40, \"efficiency_frac\": 0.9}, "
				     "\"generator\": {\"watts_w\": 2000, %s}",
		keys);
	return coach_of(text);
}

/* 50 W out of 1000 Wh from 0.9 down to 0.5 take 8 h; 40 A at 13.2 V are 528 W, of which 478 W are
 * left to charge with 0.9 of them stored: 400 Wh in 0.930 h. Of 8.930 h it runs 0.930: 2.499 h a
 * day. In that time it gives 528 W / 0.9 of its output; fuel is 1 + (3 - 1) of the share of 2000 W
 * that it gives. Tolerance: the first start comes after 10 h, one of 39 cycles. */
START_TEST(a_generator_runs_as_long_as_the_balance_asks)
{
	rig_file *file = coach_that_charges(USUAL ", \"fuel_idle_l_h\": 1, \"fuel_full_l_h\": 3");
	const rig_trip_options options = stay_of(NOVEMBER, 14, 100);
	rig_trip_findings *findings = study(file, &options);
	const rig_trip_generator *generator = &findings->generator;
	ck_assert_uint_eq(generator->n_trips, 100);
	ck_assert(!generator->by_hand && !generator->by_volts);
	ck_assert_double_eq(generator->out_frac.likely, 0);
	ck_assert_double_eq_tol(generator->hours_day, 2.499, 2.499 * 0.04);
	ck_assert_double_eq_tol(generator->given_wh_day, generator->hours_day * 528 / 0.9, 1);
	const double fuel_l = generator->hours_day * (1 + 2 * 528 / 0.9 / 2000);
	ck_assert_double_eq_tol(generator->fuel_l_day.likely, fuel_l, 0.01);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* Found by fuzzing: what it takes idle may be known less well than what it takes at full load. Then
 * each end of the fuel is of that end of both. */
START_TEST(fuel_is_in_order_however_little_is_known_of_idling)
{
	rig_file *file = coach_that_charges(
		USUAL ", \"fuel_idle_l_h\": {\"low\": 0.1, \"likely\": "
		      "1, \"high\": 2.9, \"from\": \"estimated\"}, \"fuel_full_l_h\": 3");
	const rig_trip_options options = stay_of(NOVEMBER, 14, 100);
	rig_trip_findings *findings = study(file, &options);
	const rig_trip_generator *generator = &findings->generator;
	const double full_h = generator->given_wh_day / 2000;
	const double idle_h = generator->hours_day - full_h;
	ck_assert_double_gt(full_h, 0.5);
	ck_assert_double_gt(idle_h, 0.5);
	ck_assert_double_eq_tol(generator->fuel_l_day.low, 0.1 * idle_h + 3 * full_h, 1e-9);
	ck_assert_double_eq_tol(generator->fuel_l_day.likely, 1 * idle_h + 3 * full_h, 1e-9);
	ck_assert_double_eq_tol(generator->fuel_l_day.high, 2.9 * idle_h + 3 * full_h, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* One hour of 40 A a day, 528 Wh, is more than 20 W take. */
START_TEST(a_drive_a_day_keeps_a_bank_up)
{
	rig_file *file = coach_of(BANK("1000") ", \"loads\": [" STEADY("all",
		"20") "], "
		      "\"dc_charger\": {\"bank\": \"house\", \"amps_a\": 45, \"drive_h\": 1}");
	rig_trip_options options = stay_of(NOVEMBER, 14, 100);
	rig_trip_findings *parked = study(file, &options);
	options.drive_every_days = 1;
	rig_trip_findings *driven = study(file, &options);
	ck_assert_double_eq(parked->chance.never_out_frac, 0);
	ck_assert_double_eq(driven->chance.never_out_frac, 1);
	ck_assert((driven->notes & RIG_TRIP_DRIVES) != 0);
	rig_trip_free(parked);
	rig_trip_free(driven);
	rig_file_free(file);
}
END_TEST

static double hours_with(const char *keys)
{
	rig_file *file = coach_that_charges(keys);
	const rig_trip_options options = stay_of(NOVEMBER, 14, 100);
	rig_trip_findings *findings = study(file, &options);
	const double hours_day = findings->generator.hours_day;
	double sum_h = 0;
	ck_assert_uint_eq(findings->generator.n_days, 14);
	for (size_t day = 0; day < 14; day++)
		sum_h += findings->generator.hours_by_day[day] / 14;
	ck_assert_double_eq_tol(sum_h, hours_day, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
	return hours_day;
}

/* Hours of the clock in which it may not run: all but one leave it that one, in which 430 Wh are
 * stored for 1200 that are drawn. */
static const struct {
	int from_hour, to_hour;
	double least_h, most_h;
} QUIET[] = {
	{0, 23, 0.85, 1.0},
	{1, 0, 0.85, 1.0},
	{13, 12, 0.85, 1.0},
	{22, 20, 1.7, 2.0},
};

START_TEST(a_generator_rests_in_quiet_hours)
{
	char keys[300];
	snprintf(keys, sizeof keys, USUAL ", \"quiet_from_hour\": %d, \"quiet_to_hour\": %d",
		QUIET[_i].from_hour, QUIET[_i].to_hour);
	const double hours_day = hours_with(keys);
	ck_assert_double_ge(hours_day, QUIET[_i].least_h);
	ck_assert_double_le(hours_day, QUIET[_i].most_h + 1e-9);
}
END_TEST

/* Somebody who starts it by hand does so at half and stops it at nine tenths. */
START_TEST(by_hand_it_runs_from_a_half_to_nine_tenths)
{
	ck_assert_double_eq(hours_with("\"minimum_run_minutes\": 0"),
		hours_with("\"minimum_run_minutes\": 0, " LEVELS));
	ck_assert_double_eq_tol(hours_with("\"minimum_run_minutes\": 0"), 2.499, 2.499 * 0.04);
}
END_TEST

/* Three hours at least: full within the second, and with it on nothing is drawn. Levels are looked
 * at by the hour, so that it starts in the one that would end at half, nine hours later: 3 of 12.
 */
START_TEST(a_least_run_goes_on_past_the_level)
{
	ck_assert_double_eq_tol(
		hours_with("\"auto_start\": true, \"minimum_run_minutes\": 180, " LEVELS), 6, 1e-9);
}
END_TEST

START_TEST(who_starts_it_and_by_what_is_told)
{
	static const char *const KEYS[] = {USUAL, LEVELS, USUAL ", \"start_v\": 12.1"};
	for (int i = 0; i < COUNT(KEYS); i++) {
		rig_file *file = coach_that_charges(KEYS[i]);
		const rig_trip_options options = stay_of(NOVEMBER, 3, 100);
		rig_trip_findings *findings = study(file, &options);
		ck_assert_int_eq(findings->generator.by_hand, i == 1);
		ck_assert_int_eq(findings->generator.by_volts, i == 2);
		ck_assert(!rig_figure_given(findings->generator.fuel_l_day));
		rig_trip_free(findings);
		rig_file_free(file);
	}
}
END_TEST

/* 2,000 W; 1 L an hour idle, 3 L at full load. By hand. */
static const struct {
	double hours_day, given_wh_day, fuel_l;
} FUEL[] = {{3, 0, 3}, {3, 2000, 2 + 3}, {3, 6000, 9}, {3, 9000, 9}, {0, 0, 0}};

START_TEST(fuel_is_idle_hours_and_full_hours)
{
	const rig_generator generator = {.watts_w = rig_figure_of(2000, RIG_FROM_NAMEPLATE),
		.fuel_idle_l_h = rig_figure_of(1, RIG_FROM_STATED),
		.fuel_full_l_h = rig_figure_of(3, RIG_FROM_STATED)};
	rig_figure fuel_l = {0};
	ck_assert(trip_fuel(&generator, FUEL[_i].hours_day, FUEL[_i].given_wh_day, &fuel_l));
	ck_assert_double_eq_tol(fuel_l.likely, FUEL[_i].fuel_l, 1e-12);
	rig_generator unsaid = generator;
	unsaid.fuel_idle_l_h = (rig_figure){0};
	ck_assert(!trip_fuel(&unsaid, 3, 2000, &fuel_l));
	unsaid = generator;
	unsaid.fuel_full_l_h = (rig_figure){0};
	ck_assert(!trip_fuel(&unsaid, 3, 2000, &fuel_l));
}
END_TEST

/* An hour at 45 A and 13.2 V, 0.9 of it stored: 535 Wh a drive. 10 W are 240 Wh a day, so that a
 * drive every two days carries thirty and every three does not; half an hour is half as much. */
static const struct {
	int every_days;
	const char *drive_h;
	double watts_never_out;
} DRIVE[] = {{1, "1", 1}, {2, "1", 1}, {3, "1", 0}, {1, "0.5", 1}, {2, "0.5", 0}, {0, "1", 0}};

START_TEST(drives_bring_so_much_each)
{
	char rest[600];
	snprintf(rest, sizeof rest,
		BANK("1000") ", \"loads\": [" STEADY("all", "10") "], \"dc_charger\": {\"bank\": "
								  "\"house\", \"amps_a\": 45, "
								  "\"drive_h\": %s}",
		DRIVE[_i].drive_h);
	rig_file *file = coach_of(rest);
	rig_trip_options options = stay_of(NOVEMBER, 30, 100);
	options.drive_every_days = DRIVE[_i].every_days;
	rig_trip_findings *findings = study(file, &options);
	ck_assert_double_eq(findings->chance.never_out_frac, DRIVE[_i].watts_never_out);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

Suite *trip_generator_suite(void);
Suite *trip_generator_suite(void)
{
	Suite *suite = suite_create("trip_generator");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_generator_runs_as_long_as_the_balance_asks);
	tcase_add_test(all, fuel_is_in_order_however_little_is_known_of_idling);
	tcase_add_loop_test(all, a_generator_rests_in_quiet_hours, 0, COUNT(QUIET));
	tcase_add_test(all, by_hand_it_runs_from_a_half_to_nine_tenths);
	tcase_add_test(all, a_least_run_goes_on_past_the_level);
	tcase_add_test(all, who_starts_it_and_by_what_is_told);
	tcase_add_loop_test(all, fuel_is_idle_hours_and_full_hours, 0, COUNT(FUEL));
	tcase_add_test(all, a_drive_a_day_keeps_a_bank_up);
	tcase_add_loop_test(all, drives_bring_so_much_each, 0, COUNT(DRIVE));
	suite_add_tcase(suite, all);
	return suite;
}
