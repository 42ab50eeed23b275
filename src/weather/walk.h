/* SPDX-License-Identifier: GPL-3.0-or-later */
/* walk.h: the days of trips side by side, one after the other. */
#ifndef WEATHER_WALK_H
#define WEATHER_WALK_H

#include "weather/climate.h"

/* Where up to DRAWS_LANES trips stand; y, x, m as in climate_month. */
typedef struct {
	const rig_climate *climate;
	draws_trips trips;
	uint32_t n_days, n_months; /* drawn */
	int month;
	draws_words days, words; /* of two days, of four months */
	double y[DRAWS_LANES], x[DRAWS_LANES], m[DRAWS_LANES];
} climate_walk;

void climate_walk_begin(const rig_climate *climate, const draws_trips *trips, climate_walk *walk);
/* The trips' next day, which is that day of the year; trips.n of each. */
void climate_walk_day(climate_walk *walk, int day_of_year, double clearness[], double warmth_k[]);

#endif
