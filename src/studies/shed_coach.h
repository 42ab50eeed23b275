/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_coach.h: a completed coach on a supply as a model of shedding. Neighbours of the shed study
 * only. */
#ifndef STUDIES_SHED_COACH_H
#define STUDIES_SHED_COACH_H

#include "studies/shed_model.h"

/* What a load is taken for, from its profile, or from its figures without one. */
typedef struct {
	const char *profile; /* start of its id; NULL: the row for all others */
	bool cools, heats, water, cabinet, charges;
	bool cold_only, hot_only, never_cold;
	double session_minutes, cycle_s;
	double window_h[2][2];
} shed_class;

shed_class shed_class_of(const rig_load *load);

/* Outdoors, and what the coach's thermostats do then. */
typedef struct {
	double low_c, high_c;
	bool cools, heats;
} shed_climate;

shed_climate shed_climate_of(const rig_shed_options *options);

/* A figure at an end: -1 low, 0 likely, 1 high. */
double shed_end_of(rig_figure figure, int end, double absent);
/* Whether a figure is absent, or finite, in order and within limits. */
bool shed_in_order(rig_figure figure, double least, double most);
/* 1 kept longest to 9; and what a point of the measure counts for a load: 1 at priority 5. */
int shed_priority_of(const rig_coach *coach, int load);
double shed_weight_of(const rig_coach *coach, int load);

/* Fills pedestal, hots and rating, and then the manager, and their notes. */
rig_status shed_find_supply(rig_shed_findings *findings);
rig_status shed_find_manager(rig_shed_findings *findings);
/* Breakers, and what takes over from the inverter. */
void shed_plan_sources(const rig_shed_findings *findings, shed_model *model);

/* Fills the model, and of the findings supply, manager, loads' first part, length and notes.
 * own_order: groups, dropped first first; n_groups of them.
 * RIG_BAD_INPUT, RIG_NOT_FOUND, RIG_NO_MEMORY as rig_shed_study. */
rig_status shed_model_of(rig_arena *arena, rig_shed_findings *findings, shed_model *model);

/* The part of it that knows rooms, tanks and cabinets; units and groups stand. */
rig_status shed_bodies_of(rig_arena *arena, rig_shed_findings *findings, shed_model *model);

/* A unit of no load: the gas furnace. */
enum { SHED_NO_LOAD = -2 };

#endif
