/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hour.h: the arithmetic of one hour of one store of one trip, for one trip and for many side by
 * side: sums, products and choices only. */
#ifndef ENERGY_HOUR_H
#define ENERGY_HOUR_H

#include "energy/plan.h"

#if defined(__GNUC__) && !defined(RIG_COUNTED)
#define HOUR_INLINE static inline __attribute__((always_inline))
#else
#define HOUR_INLINE static inline
#endif

/* Less than this share of an hour without power is rounding, not a shortage: 4 microseconds. */
#define HOUR_SHORT_FRAC 1e-9

HOUR_INLINE double least(double a, double b)
{
	return a < b ? a : b;
}

HOUR_INLINE double most(double a, double b)
{
	return a > b ? a : b;
}

/* What all trips have in common in an hour. */
typedef struct {
	double a11, a12, a21, a22, g1, g2, per_g1;
	double taper_frac, keep_frac;
} hour_figures;

HOUR_INLINE hour_figures hour_figures_of(const plan_store *store, size_t plan_hour)
{
	return (hour_figures){
		.a11 = store->step.a11,
		.a12 = store->step.a12,
		.a21 = store->step.a21,
		.a22 = store->step.a22,
		.g1 = store->step.g1,
		.g2 = store->step.g2,
		.per_g1 = store->per_g1,
		.taper_frac = store->taper_frac,
		.keep_frac = store->keep_frac[plan_hour],
	};
}

/* What a trip has of its own in an hour. */
typedef struct {
	double available_full, capacity_wh, floor_wh;
	double efficiency_frac, per_efficiency;
	double accept_wh;
} hour_limits;

/* The wells after an hour at rest, and what they could have given and taken in it. */
typedef struct {
	double available, bound, total;
	double give, take; /* at the terminals */
} hour_still;

/* The step of [MANWELL-1993] leaves the available well neither below empty nor past full, and the
 * store not below its floor. Where there is nothing to decide, both limits are worked out all the
 * same: a select, not a branch. */
HOUR_INLINE hour_still hour_rest(
	const hour_figures *f, const hour_limits *l, double available, double bound)
{
	const double available_still = f->a11 * available + f->a12 * bound;
	const double bound_still = f->a21 * available + f->a22 * bound;
	const double total = available_still + bound_still;
	const double room = (l->available_full - available_still) * f->per_g1;
	const double takes = (l->capacity_wh - total) * f->taper_frac;
	return (hour_still){
		.available = available_still,
		.bound = bound_still,
		.total = total,
		.give = least(available_still * f->per_g1, total - l->floor_wh),
		.take = least(least(room, takes) * l->per_efficiency, l->accept_wh),
	};
}

typedef struct {
	double charged, drawn, curtailed, unserved;
} hour_flows;

HOUR_INLINE hour_flows hour_flows_of(const hour_still *still, double offered, double wanted)
{
	const double spare = offered - wanted;
	const double drawn = most(least(-spare, still->give), 0);
	const double charged = most(least(spare, still->take), 0);
	return (hour_flows){
		.charged = charged,
		.drawn = drawn,
		.curtailed = most(spare, 0) - charged,
		.unserved = most(-spare, 0) - drawn,
	};
}

/* The same behind a switch that is closed (1) or open (0): what lies behind an open one goes
 * without. */
HOUR_INLINE hour_flows hour_flows_switched(
	const hour_still *still, double offered, double wanted, double closed)
{
	hour_flows flows = hour_flows_of(still, offered, closed * wanted);
	flows.unserved += (1 - closed) * wanted;
	return flows;
}

/* Whether the switch is closed after an hour. */
HOUR_INLINE double hour_closes(double closed, const hour_flows *flows, double wanted, double above)
{
	const double holds = flows->unserved > HOUR_SHORT_FRAC * wanted ? 0 : closed;
	return above >= 0 ? 1 : holds;
}

/* What the generator's levels are on a trip, Wh, and what it can do in an hour. */
typedef struct {
	double start_wh, stop_wh, start_available_wh;
	double output_wh, charge_wh, charger_frac, minimum_h;
} hour_genset;

/* What goes on in an hour in which the generator may run. */
typedef struct {
	double run_h, given_wh; /* share of the hour, and what it gave */
	double offered, wanted; /* of the store */
	hour_flows flows;
} hour_run;

/* Wanted of the store while it stands still, and while it runs. */
typedef struct {
	double offered, wanted;
	double dc_wanted, carried; /* while it runs: of the store; of the generator itself */
	double closed;             /* the store's switch */
} hour_asked;

HOUR_INLINE double hour_mix(double g, double on, double off)
{
	return g * on + (1 - g) * off;
}

/* A store in an hour, before anything is decided. */
typedef struct {
	const hour_figures *figures;
	const hour_limits *limits;
	const hour_still *still;
} hour_moment;

/* Whether the generator runs (1 or 0), and what it owes of its shortest run. */
typedef struct {
	double runs, owes_h;
} hour_engine;

/* engine is that of the hour before, and becomes that of this one. */
HOUR_INLINE hour_run hour_generate(
	hour_moment at, const hour_genset *set, const hour_asked *asked, hour_engine *engine)
{
	const hour_still *still = at.still;
	const hour_flows off =
		hour_flows_switched(still, asked->offered, asked->wanted, asked->closed);
	const double draw = most(asked->closed * asked->wanted - asked->offered, 0);
	const double low = still->total - draw <= set->start_wh ? 1 : 0;
	const double sags =
		still->available - at.figures->g1 * draw <= set->start_available_wh ? 1 : 0;
	const double fails = off.unserved > HOUR_SHORT_FRAC * asked->wanted ? 1 : 0;
	const double starts = (1 - engine->runs) * most(most(low, sags), fails);
	const double owes = starts > 0 ? set->minimum_h : engine->owes_h;
	const double is_on = engine->runs + starts;

	const double left = most(set->output_wh - asked->carried, 0);
	const double charge = least(set->charge_wh, left * set->charger_frac);
	const double offered = asked->offered + charge;
	const hour_flows on = hour_flows_switched(still, offered, asked->dc_wanted, asked->closed);
	const double gain = on.charged * at.limits->efficiency_frac - on.drawn;
	/* a store that was filled to the level stands at it to rounding */
	const double missing = set->stop_wh - still->total;
	const double until_stop = missing > 1e-9 * set->stop_wh ? missing / most(gain, 1e-12) : 0;
	const double g = is_on * most(least(until_stop, 1), least(owes, 1));
	engine->runs = g < 1 ? 0 : 1;
	engine->owes_h = g < 1 ? 0 : most(owes - 1, 0);
	const double used = most(charge - on.curtailed, 0);
	return (hour_run){
		.run_h = g,
		.given_wh = g * (asked->carried + used / set->charger_frac),
		.offered = hour_mix(g, offered, asked->offered),
		.wanted = hour_mix(g, asked->dc_wanted, asked->wanted),
		.flows = {.charged = hour_mix(g, on.charged, off.charged),
			.drawn = hour_mix(g, on.drawn, off.drawn),
			.curtailed = hour_mix(g, on.curtailed, off.curtailed),
			.unserved = hour_mix(g, on.unserved, off.unserved)},
	};
}

/* Between two knots of an hour's figures. */
HOUR_INLINE double hour_between(const double *low, const double *high, size_t hour, double beyond)
{
	return low[hour] + beyond * (high[hour] - low[hour]);
}

/* Wh left of usable_wh on a day that is so warm; rig_warmth_frac without its call. */
HOUR_INLINE double hour_reach_wh(double usable_wh, double lost_per_k_frac, double day_c)
{
	return usable_wh * most(0, 1 - lost_per_k_frac * most(0, 25 - day_c));
}

/* A trip's ratio, or 1. */
HOUR_INLINE double hour_ratio(const double *ratio, size_t index, size_t stride)
{
	return ratio ? ratio[index * stride] : 1;
}

#endif
