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
	double *sky; /* [day * n_trips + trip] */
	rig_day_hours knots[SOLAR_KNOTS];
} solar_trips;

/* Trips that start on the first of a month. RIG_NO_MEMORY. */
rig_status solar_trips_draw(const rig_climate *climate, int month, const rig_solar_options *options,
	rig_arena *arena, solar_trips *trips);

/* An array's watts by hour and knot, added to what stands in watts_w[24 * SOLAR_KNOTS]. */
void solar_trips_add_array(const solar_trips *trips, const rig_array *array,
	const solar_output *output, double *watts_w);

/* Trips that are run again and again with other watts. One that lasts on few watts lasts on more,
 * so that each answer settles some of them. */
typedef struct {
	size_t n;     /* still open */
	size_t *trip; /* their numbers */
	bool *lasts;  /* what the last run said of each */
	size_t n_out; /* those settled that run out at all watts still to be tried */
} solar_open;

/* All trips. RIG_NO_MEMORY. */
rig_status solar_open_all(const solar_trips *trips, rig_arena *arena, solar_open *open);

/* How many of all trips run out; those settled are not run again. None are run where even the
 * clearest sky on every day, wasting nothing, leaves less than is wanted: then all run out and none
 * is settled. plan: solar_trial_plan's of the trial, whose watts_w is by SOLAR_KNOTS knots. */
typedef struct {
	size_t n_out, n_run; /* n_run: those settled count as run */
} solar_count;
solar_count solar_trips_run(const solar_trips *trips, const solar_trial *trial,
	const rig_plan *plan, const solar_open *open);

/* After a run: from now on more watts are tried, or fewer. */
void solar_open_settle(solar_open *open, const solar_count *count, bool more);

/* Share with its 95 % interval, which holds at small counts and at none: [WILSON-1927]. */
rig_figure solar_share(size_t n_hits, size_t n_all);

#endif
