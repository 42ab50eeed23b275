/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet.h: random plans from a seed, for tests of what must hold for all of them. */
#ifndef FLEET_H
#define FLEET_H

#include "rigbudget/energy.h"

enum { FLEET_HOURS = 14 * 24, FLEET_DAYS = 14, FLEET_KNOTS = 7 };

/* A small generator whose numbers are the same everywhere: [STEELE-2014]. */
typedef struct {
	uint64_t state;
} dice;

double dice_between(dice *d, double low, double high);
size_t dice_below(dice *d, size_t n);

/* Parts with the memory behind them. */
typedef struct {
	rig_plan_parts parts;
	rig_store stores[3];
	rig_source sources[4];
	rig_consumer consumers[20];
	double watts_w[4][FLEET_HOURS * FLEET_KNOTS];
	double temp_c[FLEET_HOURS];
	double sky[FLEET_DAYS]; /* of one trip */
	double outdoor_c[FLEET_HOURS * FLEET_KNOTS];
	double warmth_k[FLEET_DAYS];
	double consumer_ratio[20], source_ratio[4];
	double capacity_ratio[3], usable_ratio[3], efficiency_ratio[3], inverter_ratio[1];
} fleet_plan;

/* The plan with that number. Some banks have one well, some two; some are cold, limited, leaky or
 * start half empty; some plans have one sky for all trips. At most ten consumers are behind the
 * inverter. */
void fleet_make(fleet_plan *made, uint64_t number);

/* The same with all that a plan may have besides: banks outdoors, charge that tapers, consumers by
 * the weather, a generator, an inverter kept awake. */
void fleet_make_rich(fleet_plan *made, uint64_t number);

/* The sky to trace or NULL, as rig_plan_trace wants it. */
const double *fleet_sky(const fleet_plan *made);

/* One trip of a rich plan, with half of its ratios drawn. */
rig_draws fleet_draws(fleet_plan *made, uint64_t number);

#endif
