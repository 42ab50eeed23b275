/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_case.h: one bank with the arrays that feed it, at a place, through the year: the case that
 * is judged by levels, needs and the ladder. For neighbours. */
#ifndef STUDIES_SOLAR_CASE_H
#define STUDIES_SOLAR_CASE_H

#include "studies/solar_trips.h"

/* What all cases of one study share. */
typedef struct {
	const rig_place *place;
	rig_solar_options options; /* with skies, where trips are run */
	rig_arena *arena;
	const solar_sky *skies; /* of the twelve months */
} solar_ground;

/* Likely watts of all arrays of a case, by hour of the mean day, and by hour and knot of the sky.
 */
typedef struct {
	bool limited; /* by the controllers' amp limits */
	double mean_w[RIG_SOLAR_MONTHS][RIG_DAY_HOURS];
	double *knots_w[RIG_SOLAR_MONTHS]; /* NULL until needed */
} solar_source;

typedef struct {
	solar_ground *ground;
	const rig_coach *coach; /* its arrays may be supposed ones */
	solar_usage usage;
	solar_bank bank;
	int use_month; /* of the months judged, the one in which most is used */
	bool house;
	double total_w; /* likely nameplate of the arrays on the bank */
	rig_figure harvest_wh[RIG_SOLAR_MONTHS];
	rig_figure doubt_wh[RIG_SOLAR_MONTHS][RIG_N_SOLAR_DOUBTS];
	double clear_wh[RIG_SOLAR_MONTHS];
	solar_source as_is, unlimited;
} solar_case;

/* years: one for each array of the coach. RIG_NO_MEMORY. */
rig_status solar_case_of(solar_ground *ground, const rig_coach *coach, int bank,
	const solar_year *years, solar_case **made);

/* A run of the case. factor is on the source's watts. */
typedef struct {
	int month;
	solar_course course;
	solar_source *source;
	double factor;
} solar_run;

/* It through mean days, and through the days of the month's trips, which belong to the options'
 * skies. RIG_NO_MEMORY. */
solar_trial solar_case_mean(const solar_case *it, const solar_run *run);
rig_status solar_case_drawn(
	solar_case *it, const solar_run *run, const solar_trips **trips, solar_trial *trial);

/* Days that the chosen use lasts from full, mean weather; see solar_plan_days. RIG_NO_MEMORY. */
rig_status solar_case_days(
	const solar_case *it, const solar_run *run, double horizon_days, double *days);

/* Trips of the month that run out; see solar_trips_run. RIG_NO_MEMORY. */
rig_status solar_case_trips(solar_case *it, const solar_run *run, solar_count *count);

/* Whether the options ask about a month. */
bool solar_judged(const rig_solar_options *options, int month);

/* Most trips that may run out for the stay to be carried. */
size_t solar_allowed(const rig_solar_options *options);

/* What lasting so long without an array asks of one that extends it, days. */
double solar_extended_days(double without_days);

/* Longest stay without an array that is followed, days. */
#define SOLAR_HORIZON_DAYS 365.0

#endif
