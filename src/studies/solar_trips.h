/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_trips.h: synthetic trips of one month at a place, drawn once and run with many banks and
 * arrays. For neighbours. */
#ifndef STUDIES_SOLAR_TRIPS_H
#define STUDIES_SOLAR_TRIPS_H

#include "base/arena.h"
#include "studies/solar_bank.h"
#include "studies/solar_harvest.h"

enum { SOLAR_KNOTS = 12 };

/* The skies of the trips, between the darkest and the clearest day that was drawn. */
typedef struct {
	size_t n_trips, n_days;
	double *sky; /* block after block: [day * RIG_LANES + trip] */
	rig_day_hours knots[SOLAR_KNOTS];
} solar_trips;

/* Trips that start on the first of a month. RIG_NO_MEMORY. */
rig_status solar_trips_draw(const rig_climate *climate, int month, const rig_solar_options *options,
	rig_arena *arena, solar_trips *trips);

/* An array's watts by hour and knot, added to what stands in watts_w[24 * SOLAR_KNOTS]. */
void solar_trips_add_array(const solar_trips *trips, const rig_array *array,
	const solar_output *output, double *watts_w);

/* How many of the trips run out. Stops after the block in which more than enough do, since then
 * the answer is known; n_run says how many were run. None are where even the clearest sky on every
 * day, wasting nothing, leaves less than is wanted: then all n_trips run out. trial->watts_w is by
 * SOLAR_KNOTS knots. RIG_NO_MEMORY. */
rig_status solar_trips_run(const solar_trips *trips, const solar_trial *trial, size_t enough,
	size_t *n_out, size_t *n_run);

/* Share with its 95 % interval, which holds at small counts and at none: [WILSON-1927]. */
rig_figure solar_share(size_t n_hits, size_t n_all);

#endif
