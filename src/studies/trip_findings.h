/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_findings.h: the parts of the trip study's findings. Neighbours of the trip study only. */
#ifndef STUDIES_TRIP_FINDINGS_H
#define STUDIES_TRIP_FINDINGS_H

#include "studies/trip_fleet.h"

/* Skies between which a day is read off. */
enum { TRIP_KNOTS = 17, TRIP_SIDE_KNOTS = 9 };

/* Trips whose outcomes are kept for the shares of the inputs, at most and at least. */
enum { TRIP_MARGINS = 8192, TRIP_LEAST_MARGINS = 500 };

/* The plans that every part of the findings rests on. */
typedef struct {
	rig_plan *with[N_COURSES], *without[N_COURSES]; /* panels */
} trip_plans;

rig_status trip_plans_make(const trip_model *model, trip_plans *plans);
void trip_plans_free(trip_plans *plans);

/* Fills findings->banks and main_bank. RIG_NO_MEMORY. */
rig_status trip_find_banks(trip_model *model, const trip_plans *plans, rig_trip_findings *findings);

/* Fills findings->loads, n_carried and inverter_idle_frac; needs the banks. RIG_NO_MEMORY. */
rig_status trip_find_loads(trip_model *model, const trip_plans *plans, rig_trip_findings *findings);

/* Fills findings->habits but for their chance; needs the banks. RIG_NO_MEMORY. */
rig_status trip_find_habits(trip_model *model, rig_trip_findings *findings);

/* The many trips of a stay. */
typedef struct {
	bool wanted;
	trip_sky sky;
	trip_inputs inputs;
	fleet_setup setup;
	trip_fleet *fleet;
} trip_chance_run;

/* Begins; lays out the trips, which needs nothing but the model and may be done beside other work;
 * then fills findings->chance and all that comes from many trips, for which banks, loads and
 * habits stand already. The run stays where it is. RIG_NO_MEMORY. */
rig_status trip_chance_begin(trip_model *model, trip_chance_run *run);
rig_status trip_chance_lay(trip_chance_run *run);
rig_status trip_find_chance(
	trip_model *model, const trip_chance_run *run, rig_trip_findings *findings);
void trip_chance_end(trip_chance_run *run);

/* Fills findings->inputs from the outcomes of the first trips. RIG_NO_MEMORY. */
rig_status trip_find_inputs(const trip_model *model, const trip_inputs *inputs,
	const fleet_watch *watch, rig_trip_findings *findings);

/* Fills what takes side trips. setup is that of the fleet. RIG_NO_MEMORY. */
rig_status trip_find_sides(
	const fleet_setup *setup, const trip_fleet *fleet, rig_trip_findings *findings);

#endif
