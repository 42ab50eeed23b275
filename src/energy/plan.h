/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plan.h: the inside of a plan, for those who run it. */
#ifndef ENERGY_PLAN_H
#define ENERGY_PLAN_H

#include "rigbudget/energy.h"

/* Arrays over days and knots hold the 24 hours of a day together: [(day * n_knots + knot) * 24 +
 * hour]. */

/* One store, ready to be stepped. Arrays over the hours of the plan. */
typedef struct {
	rig_kinetic kinetic;
	rig_kinetic_step step;
	double per_g1; /* 1 / step.g1 */
	double usable_wh, start_frac;
	double efficiency_frac, per_efficiency;
	double taper_frac; /* of what is missing that an hour may bring; 1: no limit of its own */
	double limit_wh;   /* most that the terminals take in an hour */
	double charge_floor_c, lost_per_k_frac;
	double reconnect_frac;
	bool essential, outdoors;
	bool by_weather;     /* some consumer on it runs by the weather */
	bool behind_weather; /* some consumer behind the inverter on it does */
	rig_demand demand[24];
	double wanted_wh[24];
	double per_wanted[24]; /* 1 / wanted_wh; 0 where nothing is wanted */
	double *reach_wh;      /* may be drawn out of a full store; not of outdoor stores */
	double *accept_wh;     /* most that the terminals take; not of outdoor stores */
	double *keep_frac;     /* left by self-discharge */
} plan_store;

/* In an order that hangs on nothing but what they are. */
typedef struct {
	size_t index; /* as the parts had it */
	rig_consumer it;
} plan_consumer;

typedef struct {
	size_t index, store;
	double *watts_w; /* by day and knot */
	bool *lit;       /* by hour of the plan: some sky gives something */
} plan_source;

struct rig_plan {
	size_t n_hours, n_knots, n_stores, n_consumers, n_sources;
	plan_store stores[RIG_MAX_STORES];
	plan_consumer *consumers;
	plan_source *sources;
	rig_inverting inverter;
	rig_genset generator;
	double *outdoor_c; /* by day and knot; NULL: nothing hangs on it */
	double *memory;    /* behind all arrays of figures */
	bool *flags;       /* and of yes and no */
};

/* Does every part lie in its range? */
bool plan_parts_are_right(const rig_plan_parts *parts);

/* Share of its hours in which a consumer runs by the weather, over on_frac. */
static inline double plan_duty(const rig_consumer *it, double air_c)
{
	const double away_k =
		it->duty == RIG_BY_COLD ? it->balance_c - air_c : air_c - it->balance_c;
	const double duty = it->duty_per_k * away_k;
	return duty > 0 ? duty < 1 ? duty : 1 : 0;
}

/* Consumers behind the inverter in one hour: what the mean of its losses hangs on. */
typedef struct {
	double mean_w, variance_w2, none_on;
} plan_behind;

static inline void plan_add_behind(plan_behind *sum, double watts_w, double on_frac, bool holds)
{
	sum->mean_w += watts_w * on_frac;
	sum->variance_w2 += watts_w * watts_w * on_frac * (1 - on_frac);
	sum->none_on *= holds ? 1 - on_frac : 1;
}

/* Wh of a store for one consumer's ratio of 1 or any other; by clock and, with air_c, by weather.
 * ratio and inverter_ratio as in rig_draws; stride apart. */
typedef struct {
	const double *consumer_ratio;
	size_t stride;
	double inverter_ratio;
	bool with_weather;
	double air_c;
} plan_asking;

rig_demand plan_demand(
	const rig_plan *plan, size_t store, size_t clock_hour, const plan_asking *asking);

/* Fills demand, wanted_wh and per_wanted of all stores. */
void plan_lay_demand(rig_plan *plan);

#endif
