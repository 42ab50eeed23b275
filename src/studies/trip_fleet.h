/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_fleet.h: the house of a coach on many trips, each with weather and draws of its own.
 * Neighbours of the trip study only.
 * Chassis banks are left out: nothing that is asked of these trips hangs on them. */
#ifndef STUDIES_TRIP_FLEET_H
#define STUDIES_TRIP_FLEET_H

#include "studies/trip_input.h"

/* Where the days of trips are from. */
typedef struct {
	rig_trip_days from;
	const rig_hourly_year *year; /* its real days; NULL: days drawn from the facts */
	rig_climate_facts facts;
} trip_sky;

/* The days of the first trips of a seed, drawn once for all coaches that stay there. */
typedef struct fleet_days fleet_days;

/* Which days, between how many skies, of how many trips. */
typedef struct {
	const trip_sky *sky;
	rig_stay stay;
	size_t n_knots;
	uint64_t seed;
	size_t n_trips;
} fleet_days_setup;
/* RIG_NO_MEMORY. */
rig_status fleet_days_new(const fleet_days_setup *setup, fleet_days **days);
void fleet_days_free(fleet_days *days);

/* Which trips. */
typedef struct {
	const trip_model *model;
	const trip_sky *sky;
	rig_stay stay;
	const trip_inputs *inputs;
	bool with_generator;
	bool with_supposed; /* a panel on the main bank that a question may make larger */
	size_t n_knots;     /* of drawn days */
	size_t n_workers;   /* that run its trips at once */
	/* Of the same sky, stay, knots and seed, to be freed later; NULL: drawn for each run. */
	const fleet_days *days;
} fleet_setup;

typedef struct trip_fleet trip_fleet;

/* RIG_NO_MEMORY. */
rig_status trip_fleet_new(const fleet_setup *setup, trip_fleet **fleet);
void trip_fleet_free(trip_fleet *fleet);

size_t trip_fleet_n_house(const trip_model *model);
const rig_plan *trip_fleet_plan(const trip_fleet *fleet);
/* Litres a day: a straight line between what it takes idle and at its rated watts. False if nobody
 * says what it takes; *fuel_l_day is then untouched. */
bool trip_fuel(const rig_generator *generator, double hours_day, double given_wh_day,
	rig_figure *fuel_l_day);

/* What is changed for a question. */
typedef struct {
	int cut;           /* load that stays off; -1 */
	double panel_w;    /* more panel, W; needs with_supposed */
	int more_bank;     /* index of a store that holds more, */
	double more_ratio; /* this much of itself more */
} fleet_change;

extern const fleet_change FLEET_AS_IS;

/* What up to RIG_LANES trips draw, as they are; belongs to the fleet until the next call. */
void trip_fleet_draw(
	const trip_fleet *fleet, uint64_t first_trip, size_t n_trips, rig_draws *draws);

/* How a run is watched. */
typedef struct {
	double *margin_wh; /* [trip] of the first n_margins, may be NULL */
	size_t n_margins;
	bool (*progress)(void *context, size_t n_done);
	void *context;
} fleet_watch;

/* Runs the first n_trips of the seed, as they are, on all workers. watch may be NULL.
 * RIG_NO_MEMORY. */
rig_status trip_fleet_run(
	const trip_fleet *fleet, size_t n_trips, const fleet_watch *watch, rig_tally *tally);

/* Who asks, and of how many trips. */
typedef struct {
	size_t worker; /* below n_workers; others may ask at once */
	size_t n_trips;
} fleet_asker;

/* Share of the first n_trips that runs out with a change, with its 95 % interval. RIG_NO_MEMORY. */
rig_status trip_fleet_ask(const trip_fleet *fleet, const fleet_change *change,
	const fleet_asker *asker, rig_figure *out_frac);

#endif
