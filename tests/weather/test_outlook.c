/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/weather.h"
#include "suites.h"
#include "years.h"

static const uint64_t SEED = 20260906;
#define RAD (3.14159265358979323846 / 180) /* a degree */
/* Diffuse light between 33 knots, W/m2: the published share of a clear long day jumps by 0.015
 * [ERBS-1982], which is 14 of 950; the mean of all hours is far less. */
static const double LINE_WORST = 15, LINE_MEAN = 0.3;

static rig_climate *climate_named(const char *name)
{
	rig_place place;
	const long found = rig_place_find(name);
	ck_assert_int_ge(found, 0);
	rig_place_at((size_t)found, &place);
	return rig_climate_new(&place);
}

static rig_outlook *outlook_on(const rig_climate *climate, const rig_stay *stay, size_t n_knots)
{
	rig_outlook *outlook = NULL;
	ck_assert_int_eq(rig_outlook_new(climate, stay, n_knots, &outlook), RIG_OK);
	return outlook;
}

/* A made-up year: a half sine of light from 6 to 18 h whose height tells the day; temperature tells
 * the hour. */
static rig_hourly_year *tale_year(void)
{
	rig_hourly_year *year = calloc(1, sizeof *year);
	ck_assert_ptr_nonnull(year);
	year->located = year->has_beam = true;
	year->latitude_deg = 40;
	for (int i = 0; i < RIG_YEAR_HOURS; i++) {
		const double sine = sin((i % 24 + 0.5 - 6) * 3.14159265358979323846 / 12);
		year->ghi_wm2[i] = fmax(0, sine) * (200 + floor(i / 24.0));
		year->dhi_wm2[i] = year->ghi_wm2[i] / 3;
		year->temp_c[i] = i / 1000.0;
	}
	return year;
}

/* ---- synthetic days ---- */

/* A stay over the year's end; Fairbanks has months without sun beside others. */
static const struct {
	const char *name;
	rig_stay stay;
	size_t n_knots;
} STAY[] = {
	{"Flagstaff", {304, 31}, 33},
	{"Seattle", {355, 20}, 9},
	{"Fairbanks Intl", {325, 60}, 5},
	{"Miami Intl", {0, 1}, 2},
	{"Minneapolis", {58, 3}, 129},
};

/* The clearness of knot k, from the positions and clearness of drawn days: both ends follow from
 * any two days of a month whose positions differ. */
typedef struct {
	double lowest[12], step[12];
	bool known[12];
} knot_scale;

static void find_scale(const rig_climate *climate, const rig_outlook *outlook, const rig_stay *stay,
	knot_scale *scale)
{
	static rig_day days[366];
	double first[12][2];
	bool had[12] = {false};
	*scale = (knot_scale){.known = {false}};
	for (uint64_t trip = 0; trip < 40; trip++) {
		static double position[366];
		static double warmth_k[366];
		rig_outlook_draw(outlook, &(rig_lanes){SEED, trip, 1, 1}, position, warmth_k);
		rig_climate_days(
			climate, (rig_stream){SEED, trip}, stay->first_day, stay->n_days, days);
		for (size_t i = 0; i < stay->n_days; i++) {
			const int m = rig_month_of_day(days[i].day_of_year);
			ck_assert_double_eq(warmth_k[i], days[i].warmth_k);
			if (!had[m]) {
				first[m][0] = position[i];
				first[m][1] = days[i].clearness;
				had[m] = true;
			} else if (!scale->known[m] && fabs(position[i] - first[m][0]) > 0.4) {
				scale->step[m] = (days[i].clearness - first[m][1]) /
						 (position[i] - first[m][0]);
				scale->lowest[m] = first[m][1] - scale->step[m] * first[m][0];
				scale->known[m] = true;
			} else if (scale->known[m]) {
				ck_assert_double_eq_tol(
					scale->lowest[m] + scale->step[m] * position[i],
					days[i].clearness, 1e-12);
			}
		}
	}
}

/* Each knot is the synthetic day of its clearness, to rounding. */
static void check_knot(const rig_climate *climate, const rig_outlook *outlook, size_t day,
	size_t knot, const rig_day *given)
{
	const rig_outlook_hours table = rig_outlook_table(outlook);
	rig_day_hours hours;
	rig_climate_hours(climate, given, &hours);
	for (size_t hour = 0; hour < RIG_DAY_HOURS; hour++) {
		const size_t at = (day * RIG_DAY_HOURS + hour) * table.n_knots + knot;
		ck_assert_double_eq_tol(table.ghi_wm2[at], hours.ghi_wm2[hour], 1e-7);
		ck_assert_double_eq_tol(table.dhi_wm2[at], hours.dhi_wm2[hour], 1e-7);
		ck_assert_double_eq_tol(table.temp_c[at], hours.temp_c[hour], 1e-9);
	}
}

START_TEST(each_knot_is_the_synthetic_day_of_its_clearness)
{
	const rig_stay *stay = &STAY[_i].stay;
	rig_climate *climate = climate_named(STAY[_i].name);
	rig_outlook *outlook = outlook_on(climate, stay, STAY[_i].n_knots);
	const rig_outlook_hours table = rig_outlook_table(outlook);
	knot_scale scale;
	ck_assert_uint_eq(table.n_days, stay->n_days);
	ck_assert_uint_eq(table.n_knots, STAY[_i].n_knots);
	find_scale(climate, outlook, stay, &scale);
	int n_known = 0;
	for (size_t day = 0; day < stay->n_days; day++) {
		const int at = (int)((size_t)stay->first_day + day) % RIG_YEAR_DAYS;
		const int m = rig_month_of_day(at);
		n_known += scale.known[m];
		for (size_t knot = 0; knot < table.n_knots; knot++) {
			const rig_day given = {.day_of_year = at,
				.clearness = scale.lowest[m] + scale.step[m] * (double)knot};
			check_knot(climate, outlook, day, knot, &given);
		}
	}
	ck_assert_int_gt(n_known, 0);
	rig_outlook_free(outlook);
	rig_climate_free(climate);
}
END_TEST

/* Between 33 knots a straight line is near the day itself. */
START_TEST(a_line_between_knots_is_near_the_day)
{
	enum { N_KNOTS = 33, N_DAYS = 14 };
	static const char *const NAME[] = {"Flagstaff", "Seattle", "Miami Intl", "Fairbanks Intl"};
	double worst = 0;
	double mean = 0;
	rig_climate *climate = climate_named(NAME[_i]);
	const rig_stay stay = {rig_month_first_day(6), N_DAYS};
	rig_outlook *outlook = outlook_on(climate, &stay, N_KNOTS);
	const rig_outlook_hours table = rig_outlook_table(outlook);
	for (uint64_t trip = 0; trip < 100; trip++) {
		rig_day days[N_DAYS];
		double position[N_DAYS];
		double warmth_k[N_DAYS];
		rig_climate_days(climate, (rig_stream){SEED, trip}, stay.first_day, N_DAYS, days);
		rig_outlook_draw(outlook, &(rig_lanes){SEED, trip, 1, 1}, position, warmth_k);
		for (size_t i = 0; i < (size_t)N_DAYS * RIG_DAY_HOURS; i++) {
			const size_t day = i / RIG_DAY_HOURS;
			const size_t knot = (size_t)fmin(position[day], N_KNOTS - 2);
			const double part = position[day] - (double)knot;
			const size_t at = i * N_KNOTS + knot;
			rig_day_hours hours;
			rig_climate_hours(climate, &days[day], &hours);
			const size_t hour = i % RIG_DAY_HOURS;
			const double ghi =
				table.ghi_wm2[at] * (1 - part) + table.ghi_wm2[at + 1] * part;
			const double dhi =
				table.dhi_wm2[at] * (1 - part) + table.dhi_wm2[at + 1] * part;
			ck_assert_double_eq_tol(ghi, hours.ghi_wm2[hour], 1e-6);
			worst = fmax(worst, fabs(dhi - hours.dhi_wm2[hour]));
			mean += fabs(dhi - hours.dhi_wm2[hour]) / (100 * N_DAYS * RIG_DAY_HOURS);
		}
	}
	ck_assert_msg(worst < LINE_WORST && mean < LINE_MEAN, "%g, mean %g W/m2", worst, mean);
	rig_outlook_free(outlook);
	rig_climate_free(climate);
}
END_TEST

/* Any cut of the trips into blocks draws the same bits. */
START_TEST(trips_do_not_depend_on_who_is_drawn_with_them)
{
	enum { N_TRIPS = 150, N_DAYS = 40 };
	static double whole[2][N_DAYS * N_TRIPS];
	static double part[2][N_DAYS * 80];
	static const size_t CUT[] = {1, 7, 64, 65, 80};
	rig_climate *climate = climate_named("Seattle");
	rig_hourly_year *year = tale_year();
	const rig_stay stay = {340, N_DAYS};
	rig_outlook *outlook = _i == 0 ? outlook_on(climate, &stay, 17) : NULL;
	if (_i == 1)
		ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_OK);
	rig_outlook_draw(outlook, &(rig_lanes){SEED, 1000, N_TRIPS, N_TRIPS}, whole[0], whole[1]);
	for (size_t c = 0; c < sizeof CUT / sizeof CUT[0]; c++) {
		for (size_t first = 0; first < N_TRIPS; first += CUT[c]) {
			const size_t n = N_TRIPS - first < CUT[c] ? N_TRIPS - first : CUT[c];
			rig_outlook_draw(
				outlook, &(rig_lanes){SEED, 1000 + first, n, 80}, part[0], part[1]);
			for (size_t i = 0; i < N_DAYS * n; i++) {
				const size_t at = i / n * 80 + i % n;
				const size_t from = i / n * N_TRIPS + first + i % n;
				ck_assert_double_eq(part[0][at], whole[0][from]);
				ck_assert_double_eq(part[1][at], whole[1][from]);
			}
		}
	}
	for (size_t i = 0; i < (size_t)N_DAYS * N_TRIPS; i++)
		ck_assert(whole[0][i] >= 0 && whole[0][i] <= (_i == 0 ? 16 : 30));
	rig_outlook_free(outlook);
	rig_climate_free(climate);
	free(year);
}
END_TEST

/* ---- planes ---- */

static const rig_mount MOUNT[] = {
	{0, 0, 0.2, false},
	{30 * RAD, 180 * RAD, 0.2, false},
	{30 * RAD, 180 * RAD, 0.2, true},
	{90 * RAD, 90 * RAD, 0.6, false},
	{60 * RAD, 350 * RAD, 0, false},
};

START_TEST(light_on_a_plane_is_that_of_the_day)
{
	const rig_mount *mount = &MOUNT[_i];
	rig_climate *climate = climate_named("Fairbanks Intl");
	const rig_stay stay = {330, 100};
	rig_outlook *outlook = outlook_on(climate, &stay, 9);
	const rig_outlook_hours table = rig_outlook_table(outlook);
	static double plane_wm2[100 * RIG_DAY_HOURS * 9];
	double brightest = 0;
	rig_outlook_on_plane(outlook, mount, plane_wm2);
	rig_place place;
	rig_place_at((size_t)rig_place_find("Fairbanks Intl"), &place);
	for (size_t day = 0; day < stay.n_days; day++) {
		for (size_t knot = 0; knot < table.n_knots; knot++) {
			rig_day_hours hours;
			double given_wm2[RIG_DAY_HOURS];
			rig_sun_hours(&place, (int)(330 + day) % RIG_YEAR_DAYS, &hours);
			for (size_t h = 0; h < RIG_DAY_HOURS; h++) {
				const size_t at = (day * RIG_DAY_HOURS + h) * table.n_knots + knot;
				hours.ghi_wm2[h] = table.ghi_wm2[at];
				hours.dhi_wm2[h] = table.dhi_wm2[at];
			}
			rig_day_on_plane(&hours, mount, given_wm2);
			for (size_t h = 0; h < RIG_DAY_HOURS; h++) {
				const size_t at = (day * RIG_DAY_HOURS + h) * table.n_knots + knot;
				ck_assert_double_eq_tol(plane_wm2[at], given_wm2[h], 1e-9);
				brightest = fmax(brightest, given_wm2[h]);
			}
		}
	}
	ck_assert_double_gt(brightest, 100);
	rig_outlook_free(outlook);
	rig_climate_free(climate);
}
END_TEST

/* ---- real days ---- */

START_TEST(a_knot_on_its_own_day_is_the_files_day)
{
	rig_hourly_year *year = tale_year();
	const rig_stay stay = {360, 366};
	rig_outlook *outlook = NULL;
	ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_OK);
	const rig_outlook_hours table = rig_outlook_table(outlook);
	ck_assert_uint_eq(table.n_knots, 31);
	for (size_t i = 0; i < stay.n_days * RIG_DAY_HOURS; i++) {
		const int day = (int)(360 + i / RIG_DAY_HOURS) % RIG_YEAR_DAYS;
		const size_t hour = (size_t)day * RIG_DAY_HOURS + i % RIG_DAY_HOURS;
		const int knot = day - rig_month_first_day(rig_month_of_day(day));
		const size_t at = i * table.n_knots + (size_t)knot;
		ck_assert_double_eq_tol(table.ghi_wm2[at], year->ghi_wm2[hour], 1e-9);
		ck_assert_double_eq_tol(table.dhi_wm2[at], year->dhi_wm2[hour], 1e-9);
		ck_assert_double_eq_tol(table.temp_c[at], year->temp_c[hour], 1e-9);
	}
	rig_outlook_free(outlook);
	free(year);
}
END_TEST

/* On 1 March, the real day of 21 March: its light by what there is outside the air on both, within
 * 0.4 % by [COOPER-1969]'s sun in place of ours; the made-up temperature rises by 0.024 K a day. */
START_TEST(a_real_day_is_fitted_to_the_calendar)
{
	rig_hourly_year *year = tale_year();
	const int first = rig_month_first_day(2);
	const rig_stay stay = {first, 1};
	rig_outlook *outlook = NULL;
	ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_OK);
	const rig_outlook_hours table = rig_outlook_table(outlook);
	const double ratio = top_kwh(40, first) / top_kwh(40, first + 20);
	ck_assert_double_lt(ratio, 0.9);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		const int source = (first + 20) * RIG_DAY_HOURS + hour;
		const size_t at = (size_t)hour * 31 + 20;
		ck_assert_double_eq_tol(table.ghi_wm2[at], ratio * year->ghi_wm2[source], 1);
		ck_assert_double_eq_tol(table.temp_c[at], year->temp_c[source] - 20 * 0.024, 0.06);
	}
	rig_outlook_free(outlook);
	free(year);
}
END_TEST

START_TEST(real_days_are_drawn_as_replays)
{
	enum { N_DAYS = 50 };
	rig_hourly_year *year = tale_year();
	const rig_stay stay = {340, N_DAYS};
	rig_outlook *outlook = NULL;
	ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_OK);
	for (uint64_t trip = 0; trip < 20; trip++) {
		int source[N_DAYS];
		double position[N_DAYS];
		double warmth_k[N_DAYS];
		rig_replay_days((rig_stream){SEED, trip}, 340, N_DAYS, source);
		rig_outlook_draw(outlook, &(rig_lanes){SEED, trip, 1, 1}, position, warmth_k);
		for (int i = 0; i < N_DAYS; i++) {
			const int month = rig_month_of_day((340 + i) % RIG_YEAR_DAYS);
			ck_assert_double_eq(position[i], source[i] - rig_month_first_day(month));
			ck_assert_double_eq(warmth_k[i], 0);
		}
	}
	rig_outlook_free(outlook);
	free(year);
}
END_TEST

START_TEST(a_year_without_a_place_or_beam_gives_no_outlook)
{
	rig_hourly_year *year = tale_year();
	const rig_stay stay = {0, 1};
	rig_outlook *outlook = NULL;
	year->located = false;
	ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_BAD_INPUT);
	year->located = true;
	year->has_beam = false;
	ck_assert_int_eq(rig_outlook_of_year(year, &stay, &outlook), RIG_BAD_INPUT);
	ck_assert_ptr_null(outlook);
	free(year);
}
END_TEST

Suite *outlook_suite(void);
Suite *outlook_suite(void)
{
	Suite *suite = suite_create("outlook");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_knot_is_the_synthetic_day_of_its_clearness, 0, COUNT(STAY));
	tcase_add_loop_test(all, a_line_between_knots_is_near_the_day, 0, 4);
	tcase_add_loop_test(all, trips_do_not_depend_on_who_is_drawn_with_them, 0, 2);
	tcase_add_loop_test(all, light_on_a_plane_is_that_of_the_day, 0, COUNT(MOUNT));
	tcase_add_test(all, a_knot_on_its_own_day_is_the_files_day);
	tcase_add_test(all, a_real_day_is_fitted_to_the_calendar);
	tcase_add_test(all, real_days_are_drawn_as_replays);
	tcase_add_test(all, a_year_without_a_place_or_beam_gives_no_outlook);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
