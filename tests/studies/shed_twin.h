/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_twin.h: the same day of shedding second by second, slow and plain: temperatures and strips
 * by Euler's rule, everything else by looking at the clock. Shares the model's figures with the
 * fast one, and none of its code. */
#ifndef SHED_TWIN_H
#define SHED_TWIN_H

#include "studies/shed_model.h"

enum { TWIN_MOST = 128 };

typedef struct {
	double served_j[TWIN_MOST], held_j[TWIN_MOST];         /* by unit */
	double outside_k_s[TWIN_MOST], cold_litres[TWIN_MOST]; /* by body */
	int drops, trips;
} shed_twin;

/* order: groups, dropped first first. */
void shed_twin_day(const shed_model *model, const shed_day *day, const int *order, shed_twin *twin);

#endif
