/* SPDX-License-Identifier: GPL-3.0-or-later */
/* twin.h: the energy engine once more, plain and slow: one trip, one hour at a time, everything
 * worked out afresh in each hour, nothing shared with src/energy but the parts that go in. */
#ifndef TWIN_H
#define TWIN_H

#include "rigbudget/energy.h"

/* How the wells get through an hour: the closed form as printed in [MANWELL-1993], or the
 * differential equations by GSL's embedded Prince-Dormand solver to 1e-12. */
typedef enum { TWIN_CLOSED_FORM, TWIN_SOLVER } twin_wells;

/* What is wanted of a store in a clock hour, Wh. The inverter's mean over all 2^n ways in which its
 * n consumers can be on or off: keep n below 12. By the clock only. */
rig_demand twin_demand(const rig_plan_parts *parts, size_t store, size_t clock_hour);

/* What to run: one store of the parts, from the start; draws with a stride of 1. */
typedef struct {
	twin_wells how;
	size_t store, n_hours;
	const rig_draws *draws;
	/* Where each hour begins; NULL: where the twin's own last one ended. A generator that stops
	 * in the middle of an hour makes small differences grow tenfold from one stop to the next,
	 * in the twin as in what it is compared with. */
	const rig_standing *from;
} twin_run;

/* As rig_plan_trace: record[hour]. */
void twin_trace(const rig_plan_parts *parts, const twin_run *run, rig_hour record[]);

#endif
