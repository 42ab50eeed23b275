/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_model.h: a coach on a stay as plans for the engine. Neighbours of the trip study only. */
#ifndef STUDIES_TRIP_MODEL_H
#define STUDIES_TRIP_MODEL_H

#include "base/arena.h"
#include "rigbudget/trip.h"
#include "studies/solar_output.h"

/* What does not change between the plans of a stay. Stores are the banks, house banks first. */
typedef struct {
	const rig_coach *coach;
	const rig_place *place; /* NULL: the file's year is all there is */
	rig_trip_options options;
	rig_arena *arena;
	uint32_t notes;
	int first_day;
	size_t n_hours;  /* of the stay */
	size_t n_period; /* hours after which the weather repeats */
	size_t n_stores;
	int bank_of[RIG_MAX_STORES];
	/* What is drawn on a store on a course over what is likely: the doubts of the loads taken
	 * as independent of each other. */
	double use_ratio[N_COURSES][RIG_MAX_STORES];
	double *temp_c;              /* of the air, n_period */
	double **watts_w[N_COURSES]; /* [course][array][hour]: at the bank; NULL: feeds no bank */
} trip_model;

/* RIG_NO_MEMORY. */
rig_status trip_model_make(trip_model *model);

/* Which plan of a stay. */
typedef struct {
	solar_course course;
	bool without_panels;
	int cut; /* load that stays off; -1: none */
} trip_variant;

rig_status trip_plan(const trip_model *model, const trip_variant *variant, rig_plan **plan);

/* Index of a bank's store, or -1. */
int trip_store_of(const trip_model *model, int bank);

/* Store that a load draws on, directly or through the inverter, or -1 if it is not carried. */
int trip_store_of_load(const trip_model *model, int load);

/* One load as the engine takes it, likely course; store is that of its bank, 0 without one. */
rig_consumer trip_consumer(const trip_model *model, int load);

/* What keeps the inverter on while a load is in use that does not always draw; false: the load has
 * no need of it. */
bool trip_hold(const trip_model *model, int load, rig_consumer *hold);

/* Share of an hour of the stay in which a consumer runs, likely course. */
double trip_running_frac(const trip_model *model, const rig_consumer *consumer, size_t hour);

/* Wh a day that a load receives, or would if it were carried. */
rig_figure trip_load_wh_day(const trip_model *model, int load);

/* Wanted of a store in a day, Wh, mean of the period. */
double trip_wanted_wh_day(const trip_model *model, const rig_plan *plan, size_t store);

/* The month whose mean day stands for an hour of the period. */
int trip_month_at(const trip_model *model, size_t hour);

/* Days until a store first falls short, at most RIG_TRIP_DAYS_MAX. */
double trip_days_until_short(const trip_model *model, const rig_plan *plan, size_t store);

#endif
