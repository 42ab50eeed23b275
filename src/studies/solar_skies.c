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
	rig_arena *arena; /* NULL until the first place */
	rig_climate *climate;
	bool drawn[RIG_SOLAR_MONTHS];
	solar_trips trips[RIG_SOLAR_MONTHS];
} place_skies;

struct rig_solar_skies {
	size_t n_moved;
	place_skies at[N_PLACES];
};

rig_solar_skies *rig_solar_skies_new(void)
{
	return calloc(1, sizeof(rig_solar_skies));
}

static void clear(place_skies *skies)
{
	rig_climate_free(skies->climate);
	rig_arena_free(skies->arena);
	*skies = (place_skies){0};
}

void rig_solar_skies_free(rig_solar_skies *skies)
{
	if (skies == NULL)
		return;
	for (size_t i = 0; i < N_PLACES; i++)
		clear(&skies->at[i]);
	free(skies);
}

/* To the last byte, padding too: what is only alike is drawn again. */
static bool is_for(
	const place_skies *skies, const rig_place *place, const rig_solar_options *options)
{
	/* where padding differs the sky is drawn anew */
	/* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison,cert-exp42-c,cert-flp37-c) */
	return skies->arena != NULL && memcmp(&skies->place, place, sizeof *place) == 0 &&
	       skies->n_days == options->n_days && skies->n_trips == options->n_trips &&
	       skies->seed == options->seed;
}

static rig_status move_to(
	place_skies *skies, const rig_place *place, const rig_solar_options *options)
{
	clear(skies);
	skies->arena = rig_arena_new();
	skies->climate = rig_climate_new(place);
	if (skies->arena == NULL || skies->climate == NULL) {
		clear(skies);
		return RIG_NO_MEMORY;
	}
	memcpy(&skies->place, place, sizeof *place);
	skies->n_days = options->n_days;
	skies->n_trips = options->n_trips;
	skies->seed = options->seed;
	return RIG_OK;
}

/* Those of the place; where there are none, the ones kept longest make room. */
static place_skies *find(
	rig_solar_skies *skies, const rig_place *place, const rig_solar_options *options)
{
	for (size_t i = 0; i < N_PLACES; i++)
		if (is_for(&skies->at[i], place, options))
			return &skies->at[i];
	place_skies *moved = &skies->at[skies->n_moved++ % N_PLACES];
	return move_to(moved, place, options) == RIG_OK ? moved : NULL;
}

rig_status solar_skies_take(rig_solar_skies *skies, const rig_place *place, int month,
	const rig_solar_options *options, solar_trips *trips)
{
	place_skies *found = find(skies, place, options);
	if (found == NULL)
		return RIG_NO_MEMORY;
	if (!found->drawn[month]) {
		const rig_status status = solar_trips_draw(
			found->climate, month, options, found->arena, &found->trips[month]);
		if (status != RIG_OK)
			return status;
		found->drawn[month] = true;
	}
	*trips = found->trips[month];
	return RIG_OK;
}
