/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/climate.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "rigbudget/irradiance.h"
#include "weather/walk.h"

/* However dull the day, its temperature swings by this share of the month's mean swing; the
 * dullest days of four typical years do. */
static const double LEAST_SWING = 0.25;

static const rig_stay WHOLE_YEAR = {0, RIG_YEAR_DAYS};

void rig_climate_extend(rig_climate *climate, const rig_stay *stay)
{
	assert(stay->first_day >= 0 && stay->first_day < RIG_YEAR_DAYS);
	for (size_t day = 0; day < stay->n_days && day < RIG_YEAR_DAYS; day++) {
		const int month =
			rig_month_of_day((int)(((size_t)stay->first_day + day) % RIG_YEAR_DAYS));
		if (!climate->laid[month])
			climate_set_month(&climate->facts, month, &climate->months[month]);
		climate->laid[month] = true;
	}
}

void rig_climate_move(rig_climate *climate, const rig_climate_facts *facts, const rig_stay *stay)
{
	climate->facts = *facts;
	for (int month = 0; month < 12; month++)
		climate->laid[month] = false;
	rig_climate_extend(climate, stay);
}

rig_climate *rig_climate_of_stay(const rig_climate_facts *facts, const rig_stay *stay)
{
	rig_climate *climate = calloc(1, sizeof *climate);
	if (climate == NULL)
		return NULL;
	normal_table_fill(&climate->normals);
	rig_climate_move(climate, facts, stay);
	return climate;
}

rig_climate *rig_climate_of_facts(const rig_climate_facts *facts)
{
	return rig_climate_of_stay(facts, &WHOLE_YEAR);
}

rig_climate *rig_climate_new(const rig_place *place)
{
	rig_climate_facts facts;
	rig_climate_facts_of_place(place, &facts);
	return rig_climate_of_facts(&facts);
}

void rig_climate_free(rig_climate *climate)
{
	free(climate);
}

/* ---- days ---- */

static void begin_month(climate_walk *walk, int month)
{
	const double memory = walk->climate->facts.month_memory;
	const double link = walk->n_months > 0 ? memory : 0;
	const double fresh = sqrt(1 - link * link);
	if (walk->n_months % 4 == 0)
		draws_block(&walk->trips, walk->n_months / 4, DRAWS_MONTH, &walk->words);
	const uint32_t *word = walk->words.word[walk->n_months % 4];
	for (size_t i = 0; i < walk->trips.n; i++)
		walk->m[i] = link * walk->m[i] +
			     fresh * normal_of_word(&walk->climate->normals, word[i]);
	walk->month = month;
	walk->n_months++;
}

void climate_walk_begin(const rig_climate *climate, const draws_trips *trips, climate_walk *walk)
{
	assert(trips->n > 0 && trips->n <= DRAWS_LANES);
	*walk = (climate_walk){.climate = climate, .trips = *trips, .month = -1};
}

void climate_walk_day(climate_walk *walk, int day_of_year, double clearness[], double warmth_k[])
{
	const int month = rig_month_of_day(day_of_year);
	const climate_month *sky = &walk->climate->months[month];
	const normal_table *normals = &walk->climate->normals;
	if (month != walk->month)
		begin_month(walk, month);
	if (walk->n_days % 2 == 0)
		draws_block(&walk->trips, walk->n_days / 2, DRAWS_DAY, &walk->days);
	const bool second = walk->n_days % 2 == 1;
	const uint32_t *sky_word = walk->days.word[second ? 2 : 0];
	const uint32_t *air_word = walk->days.word[second ? 3 : 1];
	const bool first = walk->n_days == 0;
	const double link = first ? 0 : sky->link;
	const double fresh = first ? 1 : sky->fresh;
	const double air_link = first ? 0 : sky->air_link;
	const double shared = first ? sky->first_shared : sky->air_fresh * sky->shared;
	const double apart = first ? sky->first_apart : sky->air_fresh * sky->apart;
	for (size_t i = 0; i < walk->trips.n; i++) {
		const double sky_figure = normal_of_word(normals, sky_word[i]);
		const double air_figure = normal_of_word(normals, air_word[i]);
		walk->y[i] = link * walk->y[i] + fresh * sky_figure;
		walk->x[i] = air_link * walk->x[i] + (shared * sky_figure + apart * air_figure);
		clearness[i] = climate_clearness(
			sky, sky->day_part * walk->y[i] + sky->month_part * walk->m[i]);
		warmth_k[i] = sky->air_sd_k * walk->x[i];
	}
	walk->n_days++;
}

void rig_climate_days(
	const rig_climate *climate, rig_stream stream, int first_day, size_t n_days, rig_day days[])
{
	assert(first_day >= 0 && first_day < RIG_YEAR_DAYS);
	const draws_trips trip = {stream.seed, stream.trip, 1};
	climate_walk walk;
	climate_walk_begin(climate, &trip, &walk);
	for (size_t i = 0; i < n_days; i++) {
		days[i].day_of_year = (int)(((size_t)first_day + i) % RIG_YEAR_DAYS);
		climate_walk_day(&walk, days[i].day_of_year, &days[i].clearness, &days[i].warmth_k);
	}
}

void rig_climate_stays(const rig_climate *climate, uint64_t seed, const rig_stay *stay,
	size_t n_trips, double clearness[])
{
	double warmth_k[DRAWS_LANES];
	assert(stay->first_day >= 0 && stay->first_day < RIG_YEAR_DAYS);
	for (size_t first = 0; first < n_trips; first += DRAWS_LANES) {
		const size_t left = n_trips - first;
		const draws_trips trips = {seed, first, left < DRAWS_LANES ? left : DRAWS_LANES};
		climate_walk walk;
		climate_walk_begin(climate, &trips, &walk);
		for (size_t day = 0; day < stay->n_days; day++)
			climate_walk_day(&walk,
				(int)(((size_t)stay->first_day + day) % RIG_YEAR_DAYS),
				clearness + day * n_trips + first, warmth_k);
	}
}

/* ---- hours ---- */

void climate_day_begin(const rig_climate *climate, int day_of_year, climate_day *day)
{
	const rig_place *place = &climate->facts.place;
	const int month = rig_month_of_day(day_of_year);
	const double swing_k = place->temp_max_c[month] - place->temp_min_c[month];
	*day = (climate_day){.climate = climate,
		.sky = &climate->months[month],
		.month = month,
		.light = daylight_of(place, day_of_year)};
	day->top_wh_m2 = climate_top_wh_m2(&day->light);
	day->shape = daylight_shape_of(&day->light);
	daylight_wave(&day->light,
		swing_k > 0 ? (place->temp_mean_c[month] - place->temp_min_c[month]) / swing_k
			    : 0.5,
		day->wave);
}

/* Around the same mean, so that the day's mean stays. */
static void swing_about(const climate_day *day, double clearness, double temp_c[RIG_DAY_HOURS])
{
	const rig_climate_facts *facts = &day->climate->facts;
	const double low_c = facts->place.temp_min_c[day->month];
	const double mean_c = facts->place.temp_mean_c[day->month];
	const double swing_k = facts->place.temp_max_c[day->month] - low_c;
	const double wider =
		day->sky->dark
			? 1
			: fmax(LEAST_SWING, 1 + facts->swing_per_clearness *
							    (clearness - day->sky->mean_clearness));
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		temp_c[hour] = mean_c + wider * (low_c - mean_c + swing_k * day->wave[hour]);
}

void climate_day_hours(const climate_day *day, double clearness, rig_day_hours *hours)
{
	const rig_place *place = &day->climate->facts.place;
	double global = 1000 * place->ghi_kwh_m2_day[day->month];
	double diffuse = 1000 * place->dhi_kwh_m2_day[day->month];
	if (!day->sky->dark) {
		global = clearness * day->top_wh_m2;
		diffuse =
			global * fmin(1, day->sky->diffuse_factor * rig_erbs_day_frac(clearness,
									    day->sky->sunset_rad));
	}
	daylight_spread(&day->shape, global, diffuse, hours);
	swing_about(day, clearness, hours->temp_c);
}

void rig_climate_skies(const rig_climate *climate, int day_of_year, size_t n,
	const double clearness[], rig_day_hours hours[])
{
	climate_day calendar;
	climate_day_begin(climate, day_of_year, &calendar);
	for (size_t i = 0; i < n; i++) {
		if (i == 0)
			daylight_sun(&calendar.light, &hours[i]);
		else
			hours[i] = hours[0];
		climate_day_hours(&calendar, clearness[i], &hours[i]);
	}
}

void rig_climate_hours(const rig_climate *climate, const rig_day *day, rig_day_hours *hours)
{
	rig_climate_skies(climate, day->day_of_year, 1, &day->clearness, hours);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		hours->temp_c[hour] += day->warmth_k;
}
