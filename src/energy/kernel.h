/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kernel.h: a block of trips side by side, and the memory that it needs. */
#ifndef ENERGY_KERNEL_H
#define ENERGY_KERNEL_H

#include "energy/plan.h"

/* [hour of the day][trip] */
typedef double kernel_day[24][RIG_LANES];

enum { KERNEL_BIN_HOURS = 4 };

/* One store of a block of trips. */
typedef struct {
	double available[RIG_LANES], bound[RIG_LANES];
	/* hour_limits of each trip, and what may be drawn at 25 C */
	double available_full[RIG_LANES], capacity[RIG_LANES], floor[RIG_LANES];
	double efficiency[RIG_LANES], per_efficiency[RIG_LANES], accept[RIG_LANES];
	double usable[RIG_LANES], bins_per_wh[RIG_LANES], start[RIG_LANES];
	double closed[RIG_LANES]; /* 1: consumers are on; 0: they wait to be reconnected */
	/* sums of the trip so far */
	double offered_sum[RIG_LANES], charged[RIG_LANES], drawn[RIG_LANES];
	double curtailed[RIG_LANES], unserved[RIG_LANES], lowest_left[RIG_LANES];
	int32_t bin[KERNEL_BIN_HOURS][RIG_LANES]; /* of charge, not yet counted */
	bool lit[24];
	kernel_day wanted;  /* by the clock */
	kernel_day offered; /* in lit hours */
} kernel_store;

/* plan_behind of each trip. */
typedef struct {
	double mean_w[RIG_LANES], variance_w2[RIG_LANES], none_on[RIG_LANES];
} kernel_behind;

typedef struct rig_kernel_space {
	size_t row[RIG_LANES]; /* where the knot below begins in a day's table */
	double beyond[RIG_LANES], warmth_k[RIG_LANES];
	double first_short[RIG_LANES];
	double runs[RIG_LANES], owes_h[RIG_LANES]; /* the generator */
	double wanted[RIG_LANES], carried[RIG_LANES], dc_wanted[RIG_LANES];
	double unserved[RIG_LANES], short_frac[RIG_LANES], run_h[RIG_LANES], given[RIG_LANES];
	double none[RIG_LANES]; /* zeroes */
	kernel_behind behind;
	kernel_day air_c;
	/* Consumers behind the inverter that run by the clock, and the rest of its store. */
	kernel_day mean_w, variance_w2, none_on, dc_by_clock;
	kernel_store stores[];
} kernel_space;

/* With zeroes in it; free with free(). NULL when memory is out. */
kernel_space *kernel_space_new(const rig_plan *plan);

/* What a block is run on. */
typedef struct {
	const rig_plan *plan;
	const rig_draws *draws;
	size_t n; /* trips, 1 to RIG_LANES */
	kernel_space *space;
	rig_tally *tally;
	rig_outcomes *outcomes; /* may be NULL */
} kernel_block;

/* The vectors that code is made for; each kind gives the same bits. */
typedef enum {
	KERNEL_PLAIN, /* the platform's least */
	KERNEL_256,   /* bits wide */
	KERNEL_512
} kernel_code;

/* Whether this processor has them; the widest that it has. */
bool kernel_has(kernel_code code);
kernel_code kernel_widest(void);

/* code: one that this processor has. */
void kernel_run(const kernel_block *block, kernel_code code);

#endif
