/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "outside.h"
#include "rigbudget/sun.h"
#include "rigbudget/weather.h"
#include "suites.h"
#include "years.h"

static const uint64_t SEED = 20260801;
enum { N_TRIPS = 400 };

START_TEST(a_year_without_a_place_or_beam_gives_no_climate)
{
	static rig_hourly_year year;
	rig_climate_facts facts = {.memory = 7};
	year.located = true;
	ck_assert_int_eq(rig_climate_facts_of_year(&year, &facts), RIG_BAD_INPUT);
	year.located = false;
	year.has_beam = true;
	ck_assert_int_eq(rig_climate_facts_of_year(&year, &facts), RIG_BAD_INPUT);
	ck_assert_double_eq(facts.memory, 7);
}
END_TEST

/* ---- any place ---- */

static rig_place place_named(const char *name)
{
	rig_place place;
	const long found = rig_place_find(name);
	ck_assert_int_ge(found, 0);
	rig_place_at((size_t)found, &place);
	return place;
}

/* By the closed form of the two-dimensional normal distribution. */
static const outside_series RUNS = {"weather",
	"Chance that a day in the darkest tenth is followed by another, January in Seattle",
	"[GRAHAM-1988], memory 0.29; from memory; 0.211 by the closed form",
	"0.036: three standard errors of 1,200 pairs, and the mapping asks a little more than "
	"0.29"};

START_TEST(dull_days_come_in_runs)
{
	static rig_day days[RIG_YEAR_DAYS];
	static double clearness[N_TRIPS][31];
	const rig_place place = place_named("Seattle");
	rig_climate *climate = rig_climate_new(&place);
	double sorted_tenth = 0;
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		rig_climate_days(climate, (rig_stream){SEED, trip}, 0, 31, days);
		for (int i = 0; i < 31; i++)
			clearness[trip][i] = days[i].clearness;
	}
	/* the darkest tenth by counting */
	double low = 0;
	double high = 1;
	for (int step = 0; step < 40; step++) {
		sorted_tenth = (low + high) / 2;
		int below = 0;
		for (int t = 0; t < N_TRIPS; t++)
			for (int i = 0; i < 31; i++)
				below += clearness[t][i] < sorted_tenth;
		*(below < N_TRIPS * 31 / 10 ? &low : &high) = sorted_tenth;
	}
	int dark = 0;
	int dark_again = 0;
	for (int t = 0; t < N_TRIPS; t++) {
		for (int i = 0; i + 1 < 31; i++) {
			dark += clearness[t][i] < sorted_tenth;
			dark_again += clearness[t][i] < sorted_tenth &&
				      clearness[t][i + 1] < sorted_tenth;
		}
	}
	/* of 1,200 pairs: one standard error 0.012; the mapping asks a little more of the normal
	 * sequence than 0.29 */
	OUTSIDE(&RUNS, (double)dark_again / dark, 0.211, 0.036, "400 Januaries");
	rig_climate_free(climate);
}
END_TEST

static void check_day(const rig_climate *climate, const rig_day *day, const char *name)
{
	rig_day_hours hours;
	double energy = 0;
	rig_climate_hours(climate, day, &hours);
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		ck_assert_msg(isfinite(hours.ghi_wm2[i]) && isfinite(hours.temp_c[i]), "%s", name);
		ck_assert_msg(hours.dhi_wm2[i] >= 0 && hours.ghi_wm2[i] < 1367, "%s", name);
		ck_assert_msg(hours.dhi_wm2[i] <= hours.ghi_wm2[i] + 1e-9, "%s", name);
		energy += hours.ghi_wm2[i];
	}
	ck_assert_msg(day->clearness >= 0 && day->clearness < 0.95, "%s day %d: %g", name,
		day->day_of_year, day->clearness);
	ck_assert_msg(energy < 10000, "%s", name);
}

START_TEST(every_place_has_finite_days_in_every_month)
{
	for (size_t i = 0; i < rig_n_places(); i += 3) {
		rig_place place;
		rig_day days[2];
		rig_place_at(i, &place);
		rig_climate *climate = rig_climate_new(&place);
		for (int month = 0; month < 12; month++) {
			rig_climate_days(climate, (rig_stream){SEED, i}, rig_month_first_day(month),
				2, days);
			check_day(climate, &days[0], place.name);
			check_day(climate, &days[1], place.name);
		}
		rig_climate_free(climate);
	}
}
END_TEST

/* The mean over many days of the hours' global and diffuse light is the table's, month by month;
 * 3 % is three standard errors of 80 months of days with a spread of 40 %. */
static const char *const PLACE[] = {"Flagstaff", "Seattle", "Fairbanks Intl", "Miami", "Lihue"};

static void add_day(const rig_climate *climate, const rig_day *day, double sums[2])
{
	rig_day_hours hours;
	rig_climate_hours(climate, day, &hours);
	for (int h = 0; h < RIG_DAY_HOURS; h++) {
		sums[0] += hours.ghi_wm2[h];
		sums[1] += hours.dhi_wm2[h];
	}
}

START_TEST(synthetic_hours_sum_to_the_table)
{
	static const int MONTHS[] = {0, 2, 5, 9};
	const uint64_t n_trips = 80;
	const rig_place place = place_named(PLACE[_i]);
	rig_climate *climate = rig_climate_new(&place);
	for (int k = 0; k < COUNT(MONTHS); k++) {
		rig_day days[31];
		const int month = MONTHS[k];
		const int n = rig_month_n_days(month);
		double sums[2] = {0, 0};
		for (uint64_t trip = 0; trip < n_trips; trip++) {
			rig_climate_days(climate, (rig_stream){SEED, trip},
				rig_month_first_day(month), (size_t)n, days);
			for (int i = 0; i < n; i++)
				add_day(climate, &days[i], sums);
		}
		const double scale = 1000.0 * (double)n_trips * n;
		const double global = place.ghi_kwh_m2_day[month];
		const double diffuse = place.dhi_kwh_m2_day[month];
		ck_assert_double_eq_tol(sums[0] / scale, global, 0.03 * global);
		ck_assert_double_eq_tol(sums[1] / scale, diffuse, 0.03 * diffuse);
	}
	rig_climate_free(climate);
}
END_TEST

/* In polar night the spread of the table means nothing (0.9 to 3.2): the month's mean every day. */
START_TEST(a_month_without_sun_gets_its_mean_every_day)
{
	const rig_place place = place_named("Barrow");
	rig_climate *climate = rig_climate_new(&place);
	rig_day days[30];
	ck_assert_double_gt(place.kt_sd[10], 2);
	rig_climate_days(climate, (rig_stream){SEED, 1}, rig_month_first_day(10), 30, days);
	for (int i = 0; i < 30; i++) {
		rig_day_hours hours;
		double sum = 0;
		rig_climate_hours(climate, &days[i], &hours);
		for (int h = 0; h < RIG_DAY_HOURS; h++)
			sum += hours.ghi_wm2[h];
		ck_assert_double_eq_tol(sum, 1000 * place.ghi_kwh_m2_day[10], 1e-9);
		ck_assert_double_eq(days[i].clearness, 0);
	}
	rig_climate_free(climate);
}
END_TEST

START_TEST(a_month_without_spread_has_its_mean_every_day)
{
	rig_place place = place_named("Flagstaff");
	place.kt_sd[3] = 0;
	rig_climate *climate = rig_climate_new(&place);
	rig_day days[30];
	rig_climate_days(climate, (rig_stream){SEED, 1}, rig_month_first_day(3), 30, days);
	for (int i = 1; i < 30; i++)
		ck_assert_double_eq(days[i].clearness, days[0].clearness);
	ck_assert_double_eq_tol(days[0].clearness, 0.617, 0.005); /* 6.16 of 9.98 kWh/m2 */
	rig_climate_free(climate);
}
END_TEST

START_TEST(trips_depend_on_their_key_alone)
{
	const rig_place place = place_named("Seattle");
	rig_climate *climate = rig_climate_new(&place);
	rig_climate *again = rig_climate_new(&place);
	rig_day a[20];
	rig_day b[20];
	rig_day c[10];
	rig_climate_days(climate, (rig_stream){SEED, 3}, 360, 20, a);
	rig_climate_days(climate, (rig_stream){SEED, 4}, 360, 20, b);
	ck_assert_double_ne(a[0].clearness, b[0].clearness);
	rig_climate_days(climate, (rig_stream){SEED + (1ULL << 40), 3}, 360, 20, b);
	ck_assert_double_ne(a[0].clearness, b[0].clearness);
	rig_climate_days(again, (rig_stream){SEED, 3}, 360, 20, b);
	rig_climate_days(again, (rig_stream){SEED, 3}, 360, 10, c);
	for (int i = 0; i < 20; i++) {
		ck_assert_double_eq(a[i].clearness, b[i].clearness);
		ck_assert_double_eq(a[i].warmth_k, b[i].warmth_k);
		ck_assert_int_eq(a[i].day_of_year, (360 + i) % 365);
		if (i < 10)
			ck_assert_double_eq(c[i].clearness, a[i].clearness);
	}
	rig_climate_free(again);
	rig_climate_free(climate);
}
END_TEST

/* From New Year's Eve on, through two months. */
START_TEST(a_stays_climate_is_the_whole_one)
{
	const rig_place place = place_named("Seattle");
	const rig_stay stay = {364, 40};
	rig_climate_facts facts;
	rig_climate_facts_of_place(&place, &facts);
	rig_climate *whole = rig_climate_of_facts(&facts);
	rig_climate *part = rig_climate_of_stay(&facts, &stay);
	for (uint64_t trip = 0; trip < 20; trip++) {
		rig_day a[40];
		rig_day b[40];
		rig_climate_days(whole, (rig_stream){SEED, trip}, stay.first_day, stay.n_days, a);
		rig_climate_days(part, (rig_stream){SEED, trip}, stay.first_day, stay.n_days, b);
		for (int i = 0; i < 40; i++) {
			ck_assert_double_eq(a[i].clearness, b[i].clearness);
			ck_assert_double_eq(a[i].warmth_k, b[i].warmth_k);
		}
	}
	rig_climate_free(part);
	rig_climate_free(whole);
}
END_TEST

static void assert_same_days(const rig_climate *a, const rig_climate *b, const rig_stay *stay)
{
	static double clearness[(size_t)RIG_YEAR_DAYS * N_TRIPS];
	static rig_day days[RIG_YEAR_DAYS];
	rig_climate_stays(a, SEED, stay, N_TRIPS, clearness);
	for (size_t trip = 0; trip < N_TRIPS; trip++) {
		rig_climate_days(b, (rig_stream){SEED, trip}, stay->first_day, stay->n_days, days);
		for (size_t day = 0; day < stay->n_days; day++)
			ck_assert_double_eq(clearness[day * N_TRIPS + trip], days[day].clearness);
	}
}

/* Made for one stay and place, moved to another place and back, extended over New Year. */
START_TEST(a_climate_that_has_moved_draws_what_a_new_one_draws)
{
	const rig_stay summer = {170, 30}, winter = {350, 40};
	const rig_place seattle = place_named("Seattle"), barrow = place_named("Barrow");
	rig_climate_facts of_seattle, of_barrow;
	rig_climate_facts_of_place(&seattle, &of_seattle);
	rig_climate_facts_of_place(&barrow, &of_barrow);
	rig_climate *in_seattle = rig_climate_new(&seattle), *in_barrow = rig_climate_new(&barrow);
	rig_climate *moving = rig_climate_of_stay(&of_seattle, &summer);
	assert_same_days(moving, in_seattle, &summer);
	rig_climate_move(moving, &of_barrow, &winter);
	assert_same_days(moving, in_barrow, &winter);
	rig_climate_move(moving, &of_seattle, &winter);
	rig_climate_extend(moving, &summer);
	assert_same_days(moving, in_seattle, &summer);
	assert_same_days(moving, in_seattle, &winter);
	rig_climate_free(moving);
	rig_climate_free(in_barrow);
	rig_climate_free(in_seattle);
}
END_TEST

START_TEST(skies_of_one_day_are_those_of_each_alone)
{
	static const double CLEARNESS[] = {0.05, 0.3, 0.31, 0.7};
	const rig_place place = place_named("Flagstaff");
	rig_climate *climate = rig_climate_new(&place);
	rig_day_hours together[COUNT(CLEARNESS)];
	rig_climate_skies(climate, 200, COUNT(CLEARNESS), CLEARNESS, together);
	for (int i = 0; i < COUNT(CLEARNESS); i++) {
		const rig_day day = {.day_of_year = 200, .clearness = CLEARNESS[i]};
		rig_day_hours alone;
		rig_climate_hours(climate, &day, &alone);
		for (int h = 0; h < RIG_DAY_HOURS; h++) {
			ck_assert_double_eq(together[i].ghi_wm2[h], alone.ghi_wm2[h]);
			ck_assert_double_eq(together[i].dhi_wm2[h], alone.dhi_wm2[h]);
			ck_assert_double_eq(together[i].temp_c[h], alone.temp_c[h]);
			ck_assert_double_eq(together[i].cos_zenith[h], alone.cos_zenith[h]);
		}
	}
	rig_climate_free(climate);
}
END_TEST

START_TEST(clearer_days_bring_more_light_and_less_of_it_diffuse)
{
	const rig_place place = place_named("Minneapolis");
	rig_climate *climate = rig_climate_new(&place);
	double last = 0;
	double last_share = 2;
	for (int k = 1; k <= 7; k++) {
		const rig_day day = {.day_of_year = 100, .clearness = k / 10.0};
		rig_day_hours hours;
		double global = 0;
		double diffuse = 0;
		rig_climate_hours(climate, &day, &hours);
		for (int h = 0; h < RIG_DAY_HOURS; h++) {
			global += hours.ghi_wm2[h];
			diffuse += hours.dhi_wm2[h];
		}
		ck_assert_double_eq_tol(
			global / 1000, day.clearness * top_kwh(place.latitude_deg, 100), 0.02);
		ck_assert(global > last && diffuse / global <= last_share);
		last = global;
		last_share = diffuse / global;
	}
	rig_climate_free(climate);
}
END_TEST

Suite *climate_suite(void);
Suite *climate_suite(void)
{
	Suite *suite = suite_create("climate");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_year_without_a_place_or_beam_gives_no_climate);
	tcase_add_test(all, dull_days_come_in_runs);
	tcase_add_test(all, every_place_has_finite_days_in_every_month);
	tcase_add_loop_test(all, synthetic_hours_sum_to_the_table, 0, COUNT(PLACE));
	tcase_add_test(all, a_month_without_sun_gets_its_mean_every_day);
	tcase_add_test(all, a_month_without_spread_has_its_mean_every_day);
	tcase_add_test(all, trips_depend_on_their_key_alone);
	tcase_add_test(all, a_stays_climate_is_the_whole_one);
	tcase_add_test(all, a_climate_that_has_moved_draws_what_a_new_one_draws);
	tcase_add_test(all, skies_of_one_day_are_those_of_each_alone);
	tcase_add_test(all, clearer_days_bring_more_light_and_less_of_it_diffuse);
	tcase_set_timeout(all, 120);
	suite_add_tcase(suite, all);
	return suite;
}
