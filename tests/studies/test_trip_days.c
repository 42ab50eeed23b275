/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the many trips of a study are made of: the place's weather, a file's own days or days like
 * them; and the stay with other habits. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "read_coach.h"
#include "rigbudget/trip.h"
#include "suites.h"

enum { MARCH = 2, N_DAYS = 14, N_TRIPS = 1500, SEED = 11 };

static const double BANK_WH = 1500, PANEL_W = 200, KEPT = 0.85, EFFICIENCY = 0.9;

static rig_file *coach(void)
{
	return read_coach("{\"cord_a\": 30}",
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "
		"\"capacity_wh\": 1500, \"usable_frac\": 1, \"charge_efficiency_frac\": 0.9}], "
		"\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": 200, \"noct_c\": "
		"45, \"roof_rise_k\": 0, \"temp_coefficient_per_k\": 0, \"losses_frac\": 0.15, "
		"\"shade_frac\": 0, \"tilt_deg\": 0, \"controller\": \"direct\"}], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": 30, "
		"\"duty_frac\": 1, \"daily_use_h\": 24}, {\"id\": \"lamp\", \"supply\": \"dc\", "
		"\"running_w\": {\"low\": 5, \"likely\": 10, \"high\": 15, \"from\": "
		"\"estimated\"}, \"duty_frac\": 1, \"daily_use_h\": 24}], \"habits\": [{"
		"\"name\": \"Spare\", \"use\": [{\"load\": \"lamp\", \"daily_use_h\": "
		"0}]}, {\"name\": \"All\", \"use\": [{\"load\": \"lamp\", "
		"\"daily_use_h\": 24}]}]");
}

static rig_place flagstaff(void)
{
	rig_place place;
	const long found = rig_place_find("Flagstaff");
	ck_assert(found >= 0);
	rig_place_at((size_t)found, &place);
	return place;
}

/* A year of mean days, some of them dull, in runs: 7 in 10 days are like the day before. */
static rig_hourly_year *made_year(double dull_times, double clear_times)
{
	const rig_place place = flagstaff();
	rig_hourly_year *year = calloc(1, sizeof *year);
	ck_assert_ptr_nonnull(year);
	*year = (rig_hourly_year){.located = true,
		.latitude_deg = place.latitude_deg,
		.longitude_deg = place.longitude_deg,
		.elevation_m = place.elevation_m,
		.utc_offset_h = place.utc_offset_h,
		.has_beam = true};
	uint32_t word = 1;
	bool dull = false;
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		rig_day_hours hours;
		rig_mean_day(&place, rig_month_of_day(day), &hours);
		word = word * 1664525u + 1013904223u;
		if (word >> 24 >= 179)
			dull = (word >> 16 & 1u) == 1;
		const double times = dull ? dull_times : clear_times;
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
			const int at = day * RIG_DAY_HOURS + hour;
			year->ghi_wm2[at] = times * hours.ghi_wm2[hour];
			year->dhi_wm2[at] = fmin(hours.dhi_wm2[hour], year->ghi_wm2[at]);
			year->dni_wm2[at] = hours.cos_zenith[hour] > 0
						    ? (year->ghi_wm2[at] - year->dhi_wm2[at]) /
							      hours.cos_zenith[hour]
						    : 0;
			year->temp_c[at] = 25;
		}
	}
	return year;
}

static rig_trip_options stay(const rig_hourly_year *weather)
{
	rig_trip_options options = rig_trip_defaults();
	options.weather = weather;
	options.month = MARCH;
	options.n_days = N_DAYS;
	options.n_trips = N_TRIPS;
	options.n_side_trips = 0;
	options.seed = SEED;
	options.likely_inputs = true;
	options.habit = 0;
	return options;
}

static rig_trip_findings *study(const rig_file *file, const rig_trip_options *options)
{
	const rig_place place = flagstaff();
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(
		rig_trip_study(rig_file_completed(file), &place, options, &findings), RIG_OK);
	return findings;
}

/* One hour of the plainest balance; false: it runs out. */
static bool plain_hour(double ghi_wm2, double load_w, double *store_wh)
{
	const double net_wh = PANEL_W * ghi_wm2 / 1000 * KEPT - load_w;
	*store_wh = fmin(BANK_WH, *store_wh + (net_wh > 0 ? EFFICIENCY : 1) * net_wh);
	return *store_wh >= 0;
}

/* Share of the trips that run out, their light read off an outlook by the positions of each. */
static double plain_share(const rig_outlook *outlook, double load_w)
{
	const rig_outlook_hours table = rig_outlook_table(outlook);
	const size_t last = table.n_knots - 1;
	int n_out = 0;
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		double position[N_DAYS], warmth_k[N_DAYS], store_wh = BANK_WH;
		bool holds = true;
		rig_outlook_draw(outlook, &(rig_lanes){SEED, trip, 1, 1}, position, warmth_k);
		for (size_t hour = 0; holds && hour < (size_t)N_DAYS * RIG_DAY_HOURS; hour++) {
			const double at = position[hour / RIG_DAY_HOURS];
			const size_t knot = (size_t)fmin(at, (double)last - 1);
			const double *low = table.ghi_wm2 + hour * table.n_knots + knot;
			holds = plain_hour(low[0] + (at - (double)knot) * (low[1] - low[0]), load_w,
				&store_wh);
		}
		n_out += !holds;
	}
	return (double)n_out / N_TRIPS;
}

/* The days by rig_replay_days, their light carried to the day by the light outside the air: its own
 * arithmetic from the file's hours on. */
static double replayed_share(const rig_hourly_year *year)
{
	const rig_place place = flagstaff();
	double top_wh_m2[RIG_YEAR_DAYS] = {0};
	int n_out = 0;
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		rig_day_hours sun;
		rig_sun_hours(&place, day, &sun);
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
			top_wh_m2[day] += sun.extraterrestrial_wm2[hour];
	}
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		const int first = rig_month_first_day(MARCH);
		int source[N_DAYS];
		double store_wh = BANK_WH;
		bool holds = true;
		rig_replay_days((rig_stream){SEED, trip}, first, N_DAYS, source);
		for (int hour = 0; holds && hour < N_DAYS * RIG_DAY_HOURS; hour++) {
			const int day = hour / RIG_DAY_HOURS, from = source[day];
			const double ratio = top_wh_m2[first + day] / top_wh_m2[from];
			holds = plain_hour(
				ratio * year->ghi_wm2[from * RIG_DAY_HOURS + hour % RIG_DAY_HOURS],
				30, &store_wh);
		}
		n_out += !holds;
	}
	return (double)n_out / N_TRIPS;
}

START_TEST(trips_of_a_file_are_its_own_days_in_other_orders)
{
	rig_hourly_year *year = made_year(0.2, 1.2);
	rig_file *file = coach();
	const rig_trip_options options = stay(year);
	rig_trip_findings *findings = study(file, &options);
	ck_assert_int_eq(findings->chance.days_from, RIG_DAYS_OF_FILE);
	ck_assert_uint_eq(findings->chance.n_trips, N_TRIPS);
	const double out = 1 - findings->chance.never_out_frac;
	ck_assert(out > 0.05 && out < 0.95);
	/* a trip may stand on the edge to rounding */
	ck_assert_double_eq_tol(out, replayed_share(year), 1.5 / N_TRIPS);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* Days drawn like the file's, whose months stray as months do. The light of 65 knots stands for any
 * clearness; 17 of the study lie within 0.006 of it; months that do not stray are further off. */
START_TEST(trips_like_a_file_have_its_days_and_months_that_stray)
{
	rig_hourly_year *year = made_year(0.85, 1.08);
	rig_file *file = coach();
	rig_trip_options options = stay(year);
	options.drawn_days = true;
	rig_trip_findings *findings = study(file, &options);
	ck_assert_int_eq(findings->chance.days_from, RIG_DAYS_LIKE_FILE);
	rig_climate_facts facts;
	ck_assert_int_eq(rig_climate_facts_of_year(year, &facts), RIG_OK);
	const rig_stay days = {rig_month_first_day(MARCH), N_DAYS};
	double share[2];
	for (int stray = 0; stray < 2; stray++) {
		rig_outlook *outlook = NULL;
		facts.month_scatter_frac = stray == 1 ? rig_month_scatter_frac().likely : 0;
		rig_climate *climate = rig_climate_of_facts(&facts);
		ck_assert_int_eq(rig_outlook_new(climate, &days, 65, &outlook), RIG_OK);
		share[stray] = plain_share(outlook, 30);
		rig_outlook_free(outlook);
		rig_climate_free(climate);
	}
	const double out = 1 - findings->chance.never_out_frac;
	ck_assert_double_eq_tol(out, share[1], 0.006);
	ck_assert_double_gt(fabs(share[1] - share[0]), 0.012);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* A year of trips from the file's own days, from 1 January on. */
START_TEST(a_whole_year_has_a_chance_too)
{
	rig_hourly_year *year = made_year(0.2, 1.2);
	rig_file *file = coach();
	rig_trip_options options = stay(year);
	options.month = -1;
	options.n_days = RIG_YEAR_DAYS;
	options.n_trips = 200;
	options.n_side_trips = 50;
	rig_trip_findings *findings = study(file, &options);
	const rig_trip_chance *chance = &findings->chance;
	ck_assert_uint_eq(chance->n_trips, 200);
	ck_assert_uint_eq(chance->n_days, RIG_YEAR_DAYS);
	for (size_t day = 1; day < chance->n_days; day++)
		ck_assert_double_ge(chance->out_by_day_frac[day], chance->out_by_day_frac[day - 1]);
	ck_assert_double_gt(chance->out_by_day_frac[RIG_YEAR_DAYS - 1], 0.5);
	/* no month to compare with */
	ck_assert(!rig_figure_given(findings->out_by_month_frac[0]));
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

START_TEST(a_file_that_does_not_say_where_it_is_leaves_the_place_to_the_table)
{
	rig_hourly_year *year = made_year(0.2, 1.2);
	rig_file *file = coach();
	rig_trip_options options = stay(year);
	year->located = false;
	rig_trip_findings *by_file = study(file, &options);
	options.weather = NULL;
	rig_trip_findings *by_table = study(file, &options);
	ck_assert_int_eq(by_file->chance.days_from, RIG_DAYS_OF_PLACE);
	ck_assert_double_eq(by_file->chance.never_out_frac, by_table->chance.never_out_frac);
	rig_trip_free(by_file);
	rig_trip_free(by_table);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* ---- the low-voltage switch ---- */

/* 600 Wh without losses, 50 W all day, 200 W of sun from 9 to 15 h; loads come back at once or at
 * 360 Wh. */
START_TEST(a_switch_keeps_loads_off_until_its_level)
{
	static const char *const RECONNECT[] = {"", "\"reconnect_soc_frac\": 0.6, "};
	rig_hourly_year *year = made_year(1, 1);
	int short_hours[2];
	for (int hour = 0; hour < RIG_YEAR_HOURS; hour++) {
		const int clock = hour % RIG_DAY_HOURS;
		year->ghi_wm2[hour] = year->dhi_wm2[hour] =
			clock >= 9 && clock < 15 ? 1000 / KEPT : 0;
	}
	for (int with = 0; with < 2; with++) {
		char text[900];
		(void)snprintf(text, sizeof text,
			"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": "
			"12, "
			"\"capacity_wh\": 600, \"usable_frac\": 1, %s\"charge_efficiency_frac\": "
			"1}], "
			"\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": 200, "
			"\"noct_c\": 45, \"roof_rise_k\": 0, \"temp_coefficient_per_k\": 0, "
			"\"losses_frac\": 0.15, \"shade_frac\": 0, \"tilt_deg\": 0, "
			"\"controller\": "
			"\"direct\"}], \"loads\": [{\"id\": \"all\", \"supply\": \"dc\", "
			"\"running_w\": 50, \"duty_frac\": 1, \"daily_use_h\": 24}]",
			RECONNECT[with]);
		rig_file *file = read_coach("{\"cord_a\": 30}", text);
		rig_trip_options options = stay(year);
		options.habit = -1;
		options.n_trips = 0;
		options.n_days = 2;
		rig_trip_findings *findings = study(file, &options);
		short_hours[with] = findings->banks[0].short_hours;
		/* 50 W from midnight: 450 of 600 Wh by 9 h; full by 11 h; empty 12 h after 15 h */
		ck_assert_double_eq_tol(findings->banks[0].days_with_panel.likely, 27.0 / 24, 1e-9);
		rig_trip_free(findings);
		rig_file_free(file);
	}
	/* off from 3 h on the second day until the sun comes at 9 h; with the switch 200 Wh at 10 h
	 * and 400 Wh at 11 h, above 360: two hours more */
	ck_assert_int_eq(short_hours[0], 6);
	ck_assert_int_eq(short_hours[1], 8);
	rig_hourly_year_free(year);
}
END_TEST

/* ---- habits ---- */

/* In a week of nights (no sun in the file) 1500 Wh last 1500 / 720 days at 30 W, and 1500 / 960
 * with the lamp's 10 W besides. */
START_TEST(another_habit_lasts_as_long_as_its_draw_says)
{
	rig_hourly_year *year = made_year(0.2, 1.2);
	rig_file *file = coach();
	rig_trip_options options = stay(year);
	for (int hour = 0; hour < RIG_YEAR_HOURS; hour++)
		year->ghi_wm2[hour] = year->dhi_wm2[hour] = year->dni_wm2[hour] = 0;
	options.n_trips = 0;
	rig_trip_findings *findings = study(file, &options);
	ck_assert_uint_eq(findings->n_habits, 1);
	const rig_trip_habit *other = &findings->habits[0];
	ck_assert_int_eq(other->habit, 1);
	ck_assert_str_eq(other->name, "All");
	ck_assert_double_eq_tol(other->wanted_wh_day, 960, 1e-9);
	ck_assert_double_eq_tol(other->days, 1500.0 / 960, 1e-9);
	ck_assert_double_eq_tol(other->days_gained, 1500.0 / 960 - 1500.0 / 720, 1e-9);
	ck_assert(!rig_figure_given(other->out_frac));
	rig_trip_free(findings);
	options.habit = -1;
	findings = study(file, &options);
	ck_assert_uint_eq(findings->n_habits, 2);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* The other habit among the side questions, and the stay with it: the same trips, weather and
 * draws. */
START_TEST(another_habit_runs_out_as_a_stay_with_it)
{
	rig_hourly_year *year = made_year(0.2, 1.2);
	rig_file *file = coach();
	rig_trip_options options = stay(_i == 0 ? NULL : year);
	options.n_side_trips = 400;
	options.likely_inputs = false;
	rig_trip_findings *spare = study(file, &options);
	options.habit = 1;
	rig_trip_findings *all = study(file, &options);
	ck_assert_double_gt(all->side_out_frac.likely, spare->side_out_frac.likely + 0.02);
	ck_assert_double_eq(spare->habits[0].out_frac.likely, all->side_out_frac.likely);
	ck_assert_double_eq(all->habits[0].out_frac.likely, spare->side_out_frac.likely);
	ck_assert_double_eq(all->habits[0].days, spare->banks[0].days_with_panel.likely);
	rig_trip_free(spare);
	rig_trip_free(all);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

Suite *trip_days_suite(void);
Suite *trip_days_suite(void)
{
	Suite *suite = suite_create("trip_days");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, trips_of_a_file_are_its_own_days_in_other_orders);
	tcase_add_test(all, trips_like_a_file_have_its_days_and_months_that_stray);
	tcase_add_test(all, a_whole_year_has_a_chance_too);
	tcase_add_test(all, a_file_that_does_not_say_where_it_is_leaves_the_place_to_the_table);
	tcase_add_test(all, a_switch_keeps_loads_off_until_its_level);
	tcase_add_test(all, another_habit_lasts_as_long_as_its_draw_says);
	tcase_add_loop_test(all, another_habit_runs_out_as_a_stay_with_it, 0, 2);
	suite_add_tcase(suite, all);
	return suite;
}
