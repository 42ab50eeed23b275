/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_skies.h"

#include <stdlib.h>
#include <string.h>

/* Places that are kept: coaches of a lot stand together, or at a few places by turns. */
enum { N_PLACES = 8 };

typedef struct {
	rig_place place;
	int n_days, n_trips;
	uint64_t seed;
	rig_arena *arena;
	solar_sky months[RIG_SOLAR_MONTHS];
	solar_trips *trips[RIG_SOLAR_MONTHS]; /* NULL until they are drawn */
} place_skies;

struct rig_solar_skies {
	size_t n_moved;
	place_skies *at[N_PLACES]; /* NULL until there are so many */
	rig_climate *climate;      /* NULL until trips are drawn; goes from place to place */
	const place_skies *climate_of;
};

rig_solar_skies *rig_solar_skies_new(void)
{
	return calloc(1, sizeof(rig_solar_skies));
}

static void place_free(place_skies *it)
{
	if (it == NULL)
		return;
	rig_arena_free(it->arena);
	free(it);
}

void rig_solar_skies_free(rig_solar_skies *skies)
{
	if (skies == NULL)
		return;
	for (size_t i = 0; i < N_PLACES; i++)
		place_free(skies->at[i]);
	rig_climate_free(skies->climate);
	free(skies);
}

static bool same_months(const double a[12], const double b[12])
{
	for (int month = 0; month < 12; month++)
		if (a[month] != b[month])
			return false;
	return true;
}

/* All that a sky hangs on, and what tells two places apart. */
static bool same_place(const rig_place *a, const rig_place *b)
{
	return strcmp(a->name, b->name) == 0 && strcmp(a->station, b->station) == 0 &&
	       a->latitude_deg == b->latitude_deg && a->longitude_deg == b->longitude_deg &&
	       a->elevation_m == b->elevation_m && a->utc_offset_h == b->utc_offset_h &&
	       same_months(a->ghi_kwh_m2_day, b->ghi_kwh_m2_day) &&
	       same_months(a->dhi_kwh_m2_day, b->dhi_kwh_m2_day) &&
	       same_months(a->kt_sd, b->kt_sd) && same_months(a->temp_mean_c, b->temp_mean_c) &&
	       same_months(a->temp_min_c, b->temp_min_c) &&
	       same_months(a->temp_max_c, b->temp_max_c) && a->record == b->record &&
	       a->sun_low_ratio == b->sun_low_ratio && a->sun_high_ratio == b->sun_high_ratio &&
	       a->month_scatter_frac == b->month_scatter_frac;
}

static bool is_for(const place_skies *it, const rig_place *place, const rig_solar_options *options)
{
	return it != NULL && it->n_days == options->n_days && it->n_trips == options->n_trips &&
	       it->seed == options->seed && same_place(&it->place, place);
}

static place_skies *place_new(const rig_place *place, const rig_solar_options *options)
{
	place_skies *made = calloc(1, sizeof *made);
	if (made == NULL)
		return NULL;
	made->arena = rig_arena_new();
	if (made->arena == NULL) {
		place_free(made);
		return NULL;
	}
	made->place = *place;
	made->n_days = options->n_days;
	made->n_trips = options->n_trips;
	made->seed = options->seed;
	for (int month = 0; month < RIG_SOLAR_MONTHS; month++)
		solar_sky_of(place, month, &made->months[month]);
	return made;
}

/* Those of the place; where there are none, the ones kept longest make room. */
static place_skies *find(
	rig_solar_skies *skies, const rig_place *place, const rig_solar_options *options)
{
	for (size_t i = 0; i < N_PLACES; i++)
		if (is_for(skies->at[i], place, options))
			return skies->at[i];
	place_skies *made = place_new(place, options);
	if (made == NULL)
		return NULL;
	place_skies **at = &skies->at[skies->n_moved++ % N_PLACES];
	if (skies->climate_of == *at)
		skies->climate_of = NULL;
	place_free(*at);
	*at = made;
	return made;
}

const solar_sky *solar_skies_months(
	rig_solar_skies *skies, const rig_place *place, const rig_solar_options *options)
{
	const place_skies *found = find(skies, place, options);
	return found != NULL ? found->months : NULL;
}

/* Brings the climate to a place, for a month's trips. */
static const rig_climate *climate_for(rig_solar_skies *skies, const place_skies *it, int month)
{
	const rig_stay stay = {rig_month_first_day(month), (size_t)it->n_days};
	rig_climate_facts facts;
	rig_climate_facts_of_place(&it->place, &facts);
	if (skies->climate == NULL)
		skies->climate = rig_climate_of_stay(&facts, &stay);
	else if (skies->climate_of == it)
		rig_climate_extend(skies->climate, &stay);
	else
		rig_climate_move(skies->climate, &facts, &stay);
	skies->climate_of = it;
	return skies->climate;
}

const solar_trips *solar_skies_trips(
	rig_solar_skies *skies, const rig_place *place, int month, const rig_solar_options *options)
{
	place_skies *found = find(skies, place, options);
	if (found == NULL || found->trips[month] != NULL)
		return found != NULL ? found->trips[month] : NULL;
	const rig_climate *climate = climate_for(skies, found, month);
	solar_trips *drawn = rig_arena_take(found->arena, 1, sizeof *drawn);
	if (climate == NULL || drawn == NULL ||
		solar_trips_draw(climate, month, options, found->arena, drawn) != RIG_OK)
		return NULL;
	found->trips[month] = drawn;
	return drawn;
}
