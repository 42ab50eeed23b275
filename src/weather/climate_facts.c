/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "weather/calendar.h"
#include "weather/climate.h"

/* See rig_climate_facts_of_place for where these are from. */
static const double USUAL_MEMORY = 0.29;
static const double USUAL_TEMP_MEMORY = 0.7;
static const double SUMMER_SD_K = 0.6, SUMMER_SD_PER_SWING = 0.085;
static const double WINTER_SD_K = 1.7, WINTER_SD_PER_SWING = 0.12;
static const double WARMEST_CLEAR = 0.5, COLDEST_CLEAR = -0.25;
static const double USUAL_SWING_PER_CLEARNESS = 1.3;

/* How far each month is from the warmest, as a share of the year's swing; 0.5 without a swing. */
static double coldness(const double mean_c[12], double cold[12])
{
	double coldest = INFINITY;
	double warmest = -INFINITY;
	for (int m = 0; m < 12; m++) {
		coldest = fmin(coldest, mean_c[m]);
		warmest = fmax(warmest, mean_c[m]);
	}
	for (int m = 0; m < 12; m++)
		cold[m] = warmest > coldest ? (warmest - mean_c[m]) / (warmest - coldest) : 0.5;
	return warmest - coldest;
}

void rig_climate_facts_of_place(const rig_place *place, rig_climate_facts *facts)
{
	double cold[12];
	const double swing_k = coldness(place->temp_mean_c, cold);
	*facts = (rig_climate_facts){.place = *place,
		.memory = USUAL_MEMORY,
		.temp_memory = USUAL_TEMP_MEMORY,
		.month_scatter_frac = place->month_scatter_frac,
		.swing_per_clearness = USUAL_SWING_PER_CLEARNESS};
	for (int m = 0; m < 12; m++) {
		facts->temp_sd_k[m] =
			(1 - cold[m]) * (SUMMER_SD_K + SUMMER_SD_PER_SWING * swing_k) +
			cold[m] * (WINTER_SD_K + WINTER_SD_PER_SWING * swing_k);
		facts->warm_clear[m] = WARMEST_CLEAR + cold[m] * (COLDEST_CLEAR - WARMEST_CLEAR);
	}
}

static double within(double low, double value, double high)
{
	return fmax(low, fmin(high, value));
}

static double mean_of(const double a[], int n)
{
	double sum = 0;
	for (int i = 0; i < n; i++)
		sum += a[i];
	return sum / n;
}

/* Sum of the products of how far two figures are from their means. */
static double products(const double a[], const double b[], int n)
{
	const double mean_a = mean_of(a, n);
	const double mean_b = mean_of(b, n);
	double sum = 0;
	for (int i = 0; i < n; i++)
		sum += (a[i] - mean_a) * (b[i] - mean_b);
	return sum;
}

/* A figure of each day of a year, taken together by month. */
typedef struct {
	double mean[12], sd[12];
	double lag_one; /* within months, all months together */
} day_statistics;

static day_statistics statistics_of(const double day[RIG_YEAR_DAYS])
{
	day_statistics s = {{0}, {0}, 0};
	double pairs = 0;
	double squares = 0;
	for (int m = 0; m < 12; m++) {
		const double *of = day + rig_month_first_day(m);
		const int n = rig_month_n_days(m);
		const double own = products(of, of, n);
		s.mean[m] = mean_of(of, n);
		s.sd[m] = sqrt(own / (n - 1));
		squares += own;
		for (int i = 1; i < n; i++)
			pairs += (of[i] - s.mean[m]) * (of[i - 1] - s.mean[m]);
	}
	s.lag_one = squares > 0 ? pairs / squares : 0;
	return s;
}

/* The memory behind an estimate that was made within months. Taking each month's own mean away
 * costs both sums V variances, V being n times the variance of the mean of n days, and the first
 * sum lacks a pair: the estimate is ((n - 1) r - V) / (n - V), some 0.05 low.
 */
static double unbiased_memory(double lag_one)
{
	const double n = CLIMATE_MONTH_DAYS;
	double memory = lag_one;
	for (int i = 0; i < 50; i++) {
		const double v = climate_mean_variances(memory);
		memory = fmin(0.95, (lag_one * (n - v) + v) / (n - 1));
	}
	return memory;
}

/* What a year's days are. */
typedef struct {
	double clearness[RIG_YEAR_DAYS], temp_c[RIG_YEAR_DAYS], swing_k[RIG_YEAR_DAYS];
} year_days;

/* Correlation of warmth with clearness along a straight line of the month's coldness: twelve single
 * months scatter too much to be taken as they are. The season's own course is taken out. */
static void set_warm_clear(const year_days *days, rig_climate_facts *facts)
{
	double warmth_k[RIG_YEAR_DAYS];
	double cold[12];
	double each[12];
	(void)coldness(facts->place.temp_mean_c, cold);
	for (int day = 0; day < RIG_YEAR_DAYS; day++)
		warmth_k[day] = days->temp_c[day] - calendar_normal(facts->place.temp_mean_c, day);
	for (int m = 0; m < 12; m++) {
		const int n = rig_month_n_days(m);
		const double *k = days->clearness + rig_month_first_day(m);
		const double *w = warmth_k + rig_month_first_day(m);
		const double size = products(k, k, n) * products(w, w, n);
		each[m] = size > 0 ? products(k, w, n) / sqrt(size) : 0;
	}
	const double spread = products(cold, cold, 12);
	const double slope = spread > 0 ? products(cold, each, 12) / spread : 0;
	const double middle = mean_of(each, 12) - slope * mean_of(cold, 12);
	for (int m = 0; m < 12; m++)
		facts->warm_clear[m] = within(-0.8, middle + slope * cold[m], 0.8);
}

/* All months together: how much of its month's mean swing a day adds for each unit of clearness. */
static void set_swing(const year_days *days, rig_climate_facts *facts)
{
	double together = 0;
	double squares = 0;
	for (int m = 0; m < 12; m++) {
		const int n = rig_month_n_days(m);
		const double *k = days->clearness + rig_month_first_day(m);
		const double *swing = days->swing_k + rig_month_first_day(m);
		const double mean = mean_of(swing, n);
		together += mean > 0 ? products(k, swing, n) / mean : 0;
		squares += products(k, k, n);
	}
	facts->swing_per_clearness = squares > 0 ? within(0, together / squares, 3) : 0;
}

static void read_day(
	const rig_hourly_year *year, int day, year_days *days, rig_climate_facts *facts)
{
	rig_place *place = &facts->place;
	const int m = rig_month_of_day(day);
	const double n = rig_month_n_days(m);
	const daylight light = daylight_of(place, day);
	const double top = climate_top_wh_m2(&light);
	double global = 0;
	double diffuse = 0;
	double low_c = INFINITY;
	double high_c = -INFINITY;
	days->temp_c[day] = 0;
	for (int i = day * RIG_DAY_HOURS; i < (day + 1) * RIG_DAY_HOURS; i++) {
		global += year->ghi_wm2[i];
		diffuse += year->dhi_wm2[i];
		days->temp_c[day] += year->temp_c[i] / RIG_DAY_HOURS;
		low_c = fmin(low_c, year->temp_c[i]);
		high_c = fmax(high_c, year->temp_c[i]);
	}
	days->clearness[day] = top >= CLIMATE_DARK_WH_M2 ? global / top : 0;
	days->swing_k[day] = high_c - low_c;
	place->ghi_kwh_m2_day[m] += global / 1000 / n;
	place->dhi_kwh_m2_day[m] += fmin(global, diffuse) / 1000 / n;
	place->temp_min_c[m] += low_c / n;
	place->temp_max_c[m] += high_c / n;
}

rig_status rig_climate_facts_of_year(const rig_hourly_year *year, rig_climate_facts *facts)
{
	if (!year->located || !year->has_beam)
		return RIG_BAD_INPUT;
	year_days days;
	rig_climate_facts found = {.place = {.latitude_deg = year->latitude_deg,
					   .longitude_deg = year->longitude_deg,
					   .elevation_m = year->elevation_m,
					   .utc_offset_h = year->utc_offset_h,
					   .sun_low_ratio = 1,
					   .sun_high_ratio = 1}};
	for (int day = 0; day < RIG_YEAR_DAYS; day++)
		read_day(year, day, &days, &found);
	const day_statistics sky = statistics_of(days.clearness);
	const day_statistics air = statistics_of(days.temp_c);
	for (int m = 0; m < 12; m++) {
		found.place.kt_sd[m] = sky.sd[m];
		found.place.temp_mean_c[m] = air.mean[m];
	}
	rig_climate_facts_of_place(&found.place, facts);
	facts->memory = within(0, unbiased_memory(sky.lag_one), 0.9);
	facts->temp_memory = within(0, unbiased_memory(air.lag_one), 0.95);
	for (int m = 0; m < 12; m++)
		facts->temp_sd_k[m] = air.sd[m];
	set_warm_clear(&days, facts);
	set_swing(&days, facts);
	return RIG_OK;
}
