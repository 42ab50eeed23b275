/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "outside.h"
#include "rigbudget/sun.h"
#include "rigbudget/weather.h"
#include "suites.h"

static const uint64_t SEED = 20260801;
enum { N_TRIPS = 400 };

static double top_kwh(double latitude_deg, int day)
{
	const rig_sun sun = rig_sun_at(rig_julian_day(2026, 0, 1, 24 * day + 12));
	return rig_sun_day_wh_m2(latitude_deg * 3.14159265358979323846 / 180, sun.declination_rad,
		       rig_sun_normal_wm2(sun.distance_au)) /
	       1000;
}

/* Monthly means and spreads of a figure of the days of a year, and its lag-one correlation within
 * months. */
typedef struct {
	double mean[12], variance[12], lag_one;
} moments;

static moments moments_of(const double day[RIG_YEAR_DAYS])
{
	moments m = {{0}, {0}, 0};
	double products = 0;
	double squares = 0;
	for (int month = 0; month < 12; month++) {
		const double *of = day + rig_month_first_day(month);
		const int n = rig_month_n_days(month);
		for (int i = 0; i < n; i++)
			m.mean[month] += of[i] / n;
		double own = 0;
		for (int i = 0; i < n; i++) {
			own += pow(of[i] - m.mean[month], 2);
			if (i > 0)
				products += (of[i] - m.mean[month]) * (of[i - 1] - m.mean[month]);
		}
		squares += own;
		m.variance[month] = own / (n - 1);
	}
	m.lag_one = products / squares;
	return m;
}

/* The same over many synthetic years, and the monthly energy, kWh/m2 a day. */
typedef struct {
	moments clearness, warmth;
	double energy[12];
} long_run;

static void add_moments(moments *sum, const moments *one)
{
	for (int m = 0; m < 12; m++) {
		sum->mean[m] += one->mean[m] / N_TRIPS;
		sum->variance[m] += one->variance[m] / N_TRIPS;
	}
	sum->lag_one += one->lag_one / N_TRIPS;
}

static long_run run_long(const rig_climate *climate, double latitude_deg)
{
	static rig_day days[RIG_YEAR_DAYS];
	long_run run = {.energy = {0}};
	for (uint64_t trip = 0; trip < N_TRIPS; trip++) {
		double clearness[RIG_YEAR_DAYS];
		double warmth_k[RIG_YEAR_DAYS];
		rig_climate_days(climate, (rig_stream){SEED, trip}, 0, RIG_YEAR_DAYS, days);
		for (int i = 0; i < RIG_YEAR_DAYS; i++) {
			const int month = rig_month_of_day(i);
			clearness[i] = days[i].clearness;
			warmth_k[i] = days[i].warmth_k;
			run.energy[month] += clearness[i] * top_kwh(latitude_deg, i) /
					     rig_month_n_days(month) / N_TRIPS;
		}
		const moments sky = moments_of(clearness);
		const moments air = moments_of(warmth_k);
		add_moments(&run.clearness, &sky);
		add_moments(&run.warmth, &air);
	}
	return run;
}

/* ---- against the four hourly years beside the checkout ---- */

static const char *const YEAR[] = {
	"flagstaff-az.csv", "miami-fl.csv", "minneapolis-mn.csv", "seattle-wa.csv"};

static rig_hourly_year *year_beside(const char *file)
{
	char path[500];
	rig_buffer text = {0};
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	(void)snprintf(path, sizeof path, RIG_SOURCE_DIR "/../shared/data/hourly/%s", file);
	if (rig_file_read(path, 4000000, &text, diags) != RIG_OK)
		(void)printf("skipped: no data folder beside the checkout\n");
	else
		ck_assert_int_eq(
			rig_hourly_year_read(text.text, text.length, diags, &year), RIG_OK);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return year;
}

static moments sky_of(const rig_hourly_year *year)
{
	double clearness[RIG_YEAR_DAYS] = {0};
	for (int i = 0; i < RIG_YEAR_HOURS; i++)
		clearness[i / RIG_DAY_HOURS] += year->ghi_wm2[i] / 1000;
	for (int i = 0; i < RIG_YEAR_DAYS; i++)
		clearness[i] /= top_kwh(year->latitude_deg, i);
	return moments_of(clearness);
}

#define YEARS_FILES "[TMY3], hourly files of four stations"
static const outside_series ENERGY = {"weather",
	"Light of 400 synthetic years off the file's by month, percent, worst month", YEARS_FILES,
	"3 % asked"};
static const outside_series SPREAD = {"weather",
	"Spread of the clearness of their days off the file's, percent, worst month", YEARS_FILES,
	"10 % asked"};
static const outside_series MEMORY = {"weather",
	"Lag-one correlation of the clearness of their days within months", YEARS_FILES,
	"0.05 for days made from the file; the table of places has no memory of its own, nine "
	"places "
	"in ten lie within 0.13 of the middle one, Flagstaff passes that"};

static void check_against_year(const rig_climate *climate, const rig_hourly_year *year,
	double memory_tol, const char *name)
{
	double worst[2] = {0, 0};
	const moments real = sky_of(year);
	const long_run run = run_long(climate, year->latitude_deg);
	for (int m = 0; m < 12; m++) {
		double energy = 0;
		for (int i = 0; i < rig_month_n_days(m) * RIG_DAY_HOURS; i++)
			energy += year->ghi_wm2[rig_month_first_day(m) * RIG_DAY_HOURS + i] / 1000 /
				  rig_month_n_days(m);
		const double spread = sqrt(run.clearness.variance[m] / real.variance[m]);
		worst[0] = fmax(worst[0], 100 * fabs(run.energy[m] / energy - 1));
		worst[1] = fmax(worst[1], 100 * fabs(spread - 1));
	}
	OUTSIDE_WORST(&ENERGY, worst[0], 3, "%s", name);
	OUTSIDE_WORST(&SPREAD, worst[1], 10, "%s", name);
	OUTSIDE(&MEMORY, run.clearness.lag_one, round(1000 * real.lag_one) / 1000, memory_tol, "%s",
		name);
}

/* Memory is estimated alike on both. */
START_TEST(days_made_from_a_year_are_like_the_years)
{
	rig_hourly_year *year = year_beside(YEAR[_i]);
	if (year == NULL)
		return;
	rig_climate_facts facts;
	ck_assert_int_eq(rig_climate_facts_of_year(year, &facts), RIG_OK);
	rig_climate *climate = rig_climate_of_facts(&facts);
	char name[80];
	(void)snprintf(name, sizeof name, "%s, from the file", YEAR[_i]);
	check_against_year(climate, year, 0.05, name);
	rig_climate_free(climate);
	rig_hourly_year_free(year);
}
END_TEST

START_TEST(days_made_from_the_table_are_like_the_years)
{
	rig_hourly_year *year = year_beside(YEAR[_i]);
	if (year == NULL)
		return;
	rig_place place;
	double distance_km = 0;
	rig_place_at(
		rig_place_nearest(year->latitude_deg, year->longitude_deg, &distance_km), &place);
	rig_climate *climate = rig_climate_new(&place);
	char name[80];
	(void)snprintf(name, sizeof name, "%s, from the table", YEAR[_i]);
	check_against_year(climate, year, _i == 0 ? 0.21 : 0.13, name);
	rig_climate_free(climate);
	rig_hourly_year_free(year);
}
END_TEST

/* A flat panel of some watts, a bank and an even load, hour by hour: cell at 45 C in 800 W/m2 and
 * 20 C air, 0.4 % a kelvin, 0.85 after losses, nine tenths of a charge kept, full on 1 January. */
typedef struct {
	double panel_w, bank_wh, load_wh_day;
} small_coach;

/* Days with any shortage. */
static int short_days(
	const small_coach *coach, const double ghi_wm2[RIG_YEAR_HOURS], const double temp_c[])
{
	double kept_wh = coach->bank_wh;
	int days = 0;
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		bool is_short = false;
		for (int i = day * RIG_DAY_HOURS; i < (day + 1) * RIG_DAY_HOURS; i++) {
			const double cell_c = temp_c[i] + 25.0 / 800 * ghi_wm2[i];
			const double net_wh = coach->panel_w * ghi_wm2[i] / 1000 *
						      (1 - 0.004 * (cell_c - 25)) * 0.85 -
					      coach->load_wh_day / 24;
			kept_wh += net_wh > 0 ? 0.9 * net_wh : net_wh;
			is_short = is_short || kept_wh < 0;
			kept_wh = fmax(0, fmin(coach->bank_wh, kept_wh));
		}
		days += is_short;
	}
	return days;
}

/* Coaches on the edge: some months short, some not. Days of shortage of the real years from an
 * independent program's hourly balance. */
static const struct {
	int year;
	small_coach coach;
	int days;
} EDGE[] = {
	{0, {100, 600, 300}, 50},
	{0, {100, 1200, 300}, 35},
	{0, {200, 2400, 900}, 171},
	{0, {400, 1200, 900}, 13},
	{1, {100, 600, 300}, 60},
	{1, {100, 1200, 300}, 39},
	{1, {400, 600, 900}, 38},
	{2, {100, 2400, 300}, 124},
	{2, {200, 1200, 300}, 26},
	{2, {400, 600, 900}, 152},
	{2, {400, 4800, 900}, 79},
	{2, {800, 1200, 900}, 16},
	{3, {100, 600, 300}, 180},
	{3, {200, 2400, 300}, 60},
	{3, {400, 600, 900}, 169},
	{3, {800, 2400, 900}, 52},
};

static void lay_year(const rig_climate *climate, uint64_t trip, double ghi_wm2[], double temp_c[])
{
	static rig_day days[RIG_YEAR_DAYS];
	rig_climate_days(climate, (rig_stream){SEED, trip}, 0, RIG_YEAR_DAYS, days);
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		rig_day_hours hours;
		rig_climate_hours(climate, &days[day], &hours);
		memcpy(ghi_wm2 + day * RIG_DAY_HOURS, hours.ghi_wm2, sizeof hours.ghi_wm2);
		memcpy(temp_c + day * RIG_DAY_HOURS, hours.temp_c, sizeof hours.temp_c);
	}
}

/* The real year is one draw. */
static const outside_series SHORTAGE = {"energy balance",
	"Days with a shortage in 60 synthetic years, mean, of coaches on the edge",
	"an independent program's hourly balance on the files of [TMY3]",
	"1.96 spreads of the synthetic years, and 3 % of the days besides"};

START_TEST(coaches_run_short_on_as_many_days_as_in_the_years)
{
	enum { N_YEARS = 60 };
	static double ghi_wm2[RIG_YEAR_HOURS];
	static double temp_c[RIG_YEAR_HOURS];
	double sum[COUNT(EDGE)] = {0};
	double squares[COUNT(EDGE)] = {0};
	rig_hourly_year *year = year_beside(YEAR[_i]);
	if (year == NULL)
		return;
	rig_climate_facts facts;
	ck_assert_int_eq(rig_climate_facts_of_year(year, &facts), RIG_OK);
	rig_climate *climate = rig_climate_of_facts(&facts);
	for (uint64_t trip = 0; trip < N_YEARS; trip++) {
		lay_year(climate, trip, ghi_wm2, temp_c);
		for (int k = 0; k < COUNT(EDGE); k++) {
			const int days = short_days(&EDGE[k].coach, ghi_wm2, temp_c);
			sum[k] += days / (double)N_YEARS;
			squares[k] += (double)days * days / N_YEARS;
		}
	}
	for (int k = 0; k < COUNT(EDGE); k++) {
		if (EDGE[k].year != _i)
			continue;
		ck_assert_int_eq(
			short_days(&EDGE[k].coach, year->ghi_wm2, year->temp_c), EDGE[k].days);
		const double spread = sqrt(squares[k] - sum[k] * sum[k]);
		OUTSIDE(&SHORTAGE, sum[k], EDGE[k].days, round(1.96 * spread + 0.03 * 365),
			"%s, %g W, %g Wh, %g Wh a day", YEAR[_i], EDGE[k].coach.panel_w,
			EDGE[k].coach.bank_wh, EDGE[k].coach.load_wh_day);
	}
	rig_climate_free(climate);
	rig_hourly_year_free(year);
}
END_TEST

START_TEST(temperatures_made_from_a_year_spread_like_the_years)
{
	rig_hourly_year *year = year_beside(YEAR[_i]);
	if (year == NULL)
		return;
	rig_climate_facts facts;
	double mean_c[RIG_YEAR_DAYS] = {0};
	ck_assert_int_eq(rig_climate_facts_of_year(year, &facts), RIG_OK);
	for (int i = 0; i < RIG_YEAR_HOURS; i++)
		mean_c[i / RIG_DAY_HOURS] += year->temp_c[i] / RIG_DAY_HOURS;
	const moments real = moments_of(mean_c);
	rig_climate *climate = rig_climate_of_facts(&facts);
	const long_run run = run_long(climate, year->latitude_deg);
	double ratio = 0;
	for (int m = 0; m < 12; m++) {
		ck_assert_double_eq_tol(facts.place.temp_mean_c[m], real.mean[m], 1e-9);
		ratio += sqrt(run.warmth.variance[m] / real.variance[m]) / 12;
		ck_assert_double_eq_tol(run.warmth.mean[m], 0, 0.8);
	}
	ck_assert_double_eq_tol(ratio, 1, 0.15);
	ck_assert_double_eq_tol(run.warmth.lag_one, real.lag_one, 0.1);
	rig_climate_free(climate);
	rig_hourly_year_free(year);
}
END_TEST

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
	ck_assert(memcmp(a, b, sizeof a) != 0);
	rig_climate_days(climate, (rig_stream){SEED + (1ULL << 40), 3}, 360, 20, b);
	ck_assert(memcmp(a, b, sizeof a) != 0);
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
	tcase_add_loop_test(all, days_made_from_a_year_are_like_the_years, 0, COUNT(YEAR));
	tcase_add_loop_test(all, days_made_from_the_table_are_like_the_years, 0, COUNT(YEAR));
	tcase_add_loop_test(
		all, temperatures_made_from_a_year_spread_like_the_years, 0, COUNT(YEAR));
	tcase_add_loop_test(all, coaches_run_short_on_as_many_days_as_in_the_years, 0, COUNT(YEAR));
	tcase_add_test(all, a_year_without_a_place_or_beam_gives_no_climate);
	tcase_add_test(all, dull_days_come_in_runs);
	tcase_add_test(all, every_place_has_finite_days_in_every_month);
	tcase_add_loop_test(all, synthetic_hours_sum_to_the_table, 0, COUNT(PLACE));
	tcase_add_test(all, a_month_without_sun_gets_its_mean_every_day);
	tcase_add_test(all, a_month_without_spread_has_its_mean_every_day);
	tcase_add_test(all, trips_depend_on_their_key_alone);
	tcase_add_test(all, clearer_days_bring_more_light_and_less_of_it_diffuse);
	tcase_set_timeout(all, 120);
	suite_add_tcase(suite, all);
	return suite;
}
