/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_findings.h: the parts of the trip study's findings. Neighbours of the trip study only. */
#ifndef STUDIES_TRIP_FINDINGS_H
#define STUDIES_TRIP_FINDINGS_H

#include "studies/trip_model.h"

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

/* Fills findings->chance. RIG_NO_MEMORY. */
rig_status trip_find_chance(trip_model *model, rig_trip_findings *findings);

#endif
