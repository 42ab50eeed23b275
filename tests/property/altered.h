/* SPDX-License-Identifier: GPL-3.0-or-later */
/* altered.h: a completed coach with something about it changed. */
#ifndef ALTERED_H
#define ALTERED_H

#include "rigbudget/coach.h"

enum { ALTERED_ITEMS = 32 };

/* A copy whose lists may be changed; texts and what is not listed here stay the first coach's,
 * which must outlive it. Do not move it. */
typedef struct {
	rig_coach coach;
	rig_circuit circuits[ALTERED_ITEMS];
	rig_load loads[ALTERED_ITEMS];
	rig_bank banks[ALTERED_ITEMS];
	rig_array arrays[ALTERED_ITEMS];
} altered;

/* Named sets are left out, since their lists count the loads as they were. */
void altered_of(altered *it, const rig_coach *completed);

/* One more load, alike but for its id; NULL without room. */
rig_load *altered_twin(altered *it, size_t load);
/* One more AC circuit without a breaker, for loads of nobody or of one; its index. */
int altered_circuit(altered *it, rig_leg leg);

/* All figures that are powers, energies, charges, currents or capacities, k times. Volts, hours and
 * shares stay. */
void altered_scale(altered *it, double k);

/* A 50 A cord, and everything on one leg of two, but for what stands on a 240 V circuit. */
void altered_place(altered *it);

/* The circuits of the two legs change places. */
void altered_swap_legs(altered *it);

rig_figure scaled(rig_figure figure, double k);

#endif
