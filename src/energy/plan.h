/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plan.h: the inside of a plan, for the kernel. */
#ifndef ENERGY_PLAN_H
#define ENERGY_PLAN_H

#include "rigbudget/energy.h"

/* One store, ready to be stepped. Arrays over the hours of the plan. */
typedef struct {
	rig_kinetic_step step;
	double per_g1; /* 1 / step.g1 */
	double capacity_wh, usable_wh;
	double efficiency_frac, per_efficiency;
	rig_wells start;
	bool essential;
	rig_demand demand[24];
	double wanted_wh[24];
	double per_wanted[24]; /* 1 / wanted_wh; 0 where nothing is wanted */
	double *floor_wh;      /* what stays in the store */
	double *accept_wh;     /* most that the terminals take */
	double *keep_frac;     /* left by self-discharge */
	double *offered_wh;    /* n_hours * n_knots; NULL without a source */
} plan_store;

struct rig_plan {
	size_t n_hours, n_knots, n_stores;
	plan_store stores[RIG_MAX_STORES];
	double *memory; /* behind all arrays */
};

#endif
