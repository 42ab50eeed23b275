/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stay.h: the likely course of some days without hookups, hour by hour: a cheap part of the study
 * of a trip. */
#ifndef STAY_H
#define STAY_H

#include "studies/trip_model.h"

enum { STAY_DAYS = 5, STAY_HOURS = STAY_DAYS * 24 };

typedef struct {
	rig_arena *arena;
	trip_model model;
	rig_plan *plan; /* NULL: there is none, since the coach has no bank */
	size_t n_stores;
	rig_standing start, end;
	rig_hour hours[STAY_HOURS * RIG_MAX_STORES]; /* [hour * n_stores + store] */
} stay;

/* At a place from the first of a month, 0 to 11, with full banks. False: it has no bank, or memory
 * is out. To be freed in any case. Neither coach nor place is copied. */
bool stay_of(const rig_coach *coach, const rig_place *place, int month, stay *made);
void stay_free(stay *made);

/* What a stay comes to on a store. */
typedef struct {
	double unserved_wh, lowest_wh;
	size_t first_short; /* hour; STAY_HOURS: none */
} stay_sum;
stay_sum stay_sum_of(const stay *made, size_t store);

#endif
