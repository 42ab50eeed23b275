/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One trip, hour by hour. */
#include <assert.h>
#include <float.h>
#include <math.h>

#include "energy/hour.h"

/* A trip on one of its days. */
typedef struct {
	const rig_plan *plan;
	const rig_draws *draws;
	const double *outdoor_low, *outdoor_high; /* 24 hours about the day's sky; NULL: unknown */
	size_t first_row, knot;                   /* of the day's tables */
	double beyond, warmth_k;
	double floor_wh[RIG_MAX_STORES];
} trip_day;

static size_t next_knot(const rig_plan *plan, size_t knot)
{
	return plan->n_knots > 1 ? knot + 1 : knot;
}

static double air_c(const trip_day *day, size_t clock_hour)
{
	return day->outdoor_low ? hour_between(day->outdoor_low, day->outdoor_high, clock_hour,
					  day->beyond) +
					  day->warmth_k
				: 25;
}

static double capacity_wh(const trip_day *day, size_t s)
{
	return day->plan->stores[s].kinetic.capacity *
	       hour_ratio(day->draws->capacity_ratio, s, day->draws->stride);
}

static double usable_wh(const rig_plan *plan, const rig_draws *draws, size_t s)
{
	return plan->stores[s].usable_wh * hour_ratio(draws->capacity_ratio, s, draws->stride) *
	       hour_ratio(draws->usable_ratio, s, draws->stride);
}

static double reach_frac(const trip_day *day, size_t s, size_t plan_hour)
{
	const plan_store *store = &day->plan->stores[s];
	if (!store->outdoors)
		return store->reach_wh[plan_hour] / store->usable_wh;
	double sum_c = 0;
	for (size_t hour = 0; hour < 24; hour++)
		sum_c += air_c(day, hour);
	return hour_reach_wh(1, store->lost_per_k_frac, sum_c / 24);
}

static void begin_day(size_t hour, trip_day *day)
{
	const rig_plan *plan = day->plan;
	const size_t trip_day_index = hour / 24, stride = day->draws->stride;
	const double sky = day->draws->sky ? day->draws->sky[trip_day_index * stride] : 0;
	const size_t last = plan->n_knots > 1 ? plan->n_knots - 2 : 0;
	day->knot = sky < (double)(plan->n_knots - 1) ? (size_t)sky : last;
	day->beyond = sky - (double)day->knot;
	day->warmth_k = day->draws->warmth_k ? day->draws->warmth_k[trip_day_index * stride] : 0;
	day->first_row = hour % plan->n_hours / 24 * plan->n_knots;
	day->outdoor_low = day->outdoor_high = NULL;
	if (plan->outdoor_c) {
		day->outdoor_low = plan->outdoor_c + (day->first_row + day->knot) * 24;
		day->outdoor_high =
			plan->outdoor_c + (day->first_row + next_knot(plan, day->knot)) * 24;
	}
	for (size_t s = 0; s < plan->n_stores; s++)
		day->floor_wh[s] =
			capacity_wh(day, s) -
			usable_wh(plan, day->draws, s) * reach_frac(day, s, hour % plan->n_hours);
}

static void offers_of(const trip_day *day, size_t plan_hour, double offered[RIG_MAX_STORES])
{
	const rig_plan *plan = day->plan;
	for (size_t i = 0; i < plan->n_sources; i++) {
		const plan_source *source = &plan->sources[i];
		if (!source->lit[plan_hour])
			continue;
		const double *low = source->watts_w + (day->first_row + day->knot) * 24;
		const double *high =
			source->watts_w + (day->first_row + next_knot(plan, day->knot)) * 24;
		offered[source->store] +=
			hour_ratio(day->draws->source_ratio, source->index, day->draws->stride) *
			hour_between(low, high, plan_hour % 24, day->beyond);
	}
}

static rig_demand demand_of(const trip_day *day, size_t s, size_t clock_hour)
{
	const plan_store *store = &day->plan->stores[s];
	const rig_draws *draws = day->draws;
	if (!store->by_weather && !draws->consumer_ratio && !draws->inverter_ratio)
		return store->demand[clock_hour];
	const plan_asking asking = {draws->consumer_ratio, draws->stride,
		hour_ratio(draws->inverter_ratio, 0, draws->stride), true, air_c(day, clock_hour)};
	return plan_demand(day->plan, s, clock_hour, &asking);
}

static hour_limits limits_of(const trip_day *day, size_t s, size_t plan_hour)
{
	const plan_store *store = &day->plan->stores[s];
	const double capacity = capacity_wh(day, s);
	const double efficiency = store->efficiency_frac *
				  hour_ratio(day->draws->efficiency_ratio, s, day->draws->stride);
	double accept_wh = store->accept_wh[plan_hour];
	if (store->outdoors)
		accept_wh =
			air_c(day, plan_hour % 24) < store->charge_floor_c ? 0 : store->limit_wh;
	return (hour_limits){
		.available_full = store->kinetic.available_frac * capacity,
		.capacity_wh = capacity,
		.floor_wh = day->floor_wh[s],
		.efficiency_frac = efficiency,
		.per_efficiency = 1 / efficiency,
		.accept_wh = accept_wh,
	};
}

static hour_genset genset_of(const rig_plan *plan, const hour_limits *limits)
{
	const rig_genset *it = &plan->generator;
	return (hour_genset){
		.start_wh = it->start_frac * limits->capacity_wh,
		.stop_wh = it->stop_frac * limits->capacity_wh,
		.start_available_wh = it->start_head_frac < 0
					      ? -DBL_MAX
					      : it->start_head_frac * limits->available_full,
		.output_wh = it->output_w,
		.charge_wh = it->charge_w,
		.charger_frac = it->charger_frac,
		.minimum_h = it->minimum_h,
	};
}

/* The hour of the generator's store. */
static hour_run run_generator(const rig_plan *plan, hour_moment at, const hour_asked *asked,
	bool quiet, rig_standing *standing)
{
	hour_engine engine = {standing->generator_runs, standing->generator_owes_h};
	hour_run run = {.offered = asked->offered, .wanted = asked->wanted};
	if (quiet) {
		engine = (hour_engine){0, 0};
		run.flows =
			hour_flows_switched(at.still, asked->offered, asked->wanted, asked->closed);
	} else {
		const hour_genset set = genset_of(plan, at.limits);
		run = hour_generate(at, &set, asked, &engine);
	}
	standing->generator_runs = engine.runs > 0;
	standing->generator_owes_h = engine.owes_h;
	return run;
}

/* Without a reconnect level the switch never opens. */
static void set_switch(const rig_plan *plan, size_t s, const hour_limits *limits,
	const hour_run *run, rig_standing *standing)
{
	const double level = plan->stores[s].reconnect_frac * limits->available_full;
	const double above =
		plan->stores[s].reconnect_frac > 0 ? standing->wells[s].available - level : 0;
	standing->off[s] =
		hour_closes(standing->off[s] ? 0 : 1, &run->flows, run->wanted, above) == 0;
}

static void trace_store(
	const trip_day *day, size_t s, double offered, rig_standing *standing, rig_hour *record)
{
	const rig_plan *plan = day->plan;
	const size_t plan_hour = standing->hour % plan->n_hours;
	const hour_figures f = hour_figures_of(&plan->stores[s], plan_hour);
	const hour_limits limits = limits_of(day, s, plan_hour);
	const rig_demand d = demand_of(day, s, plan_hour % 24);
	const double wanted = d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
	const double closed = standing->off[s] ? 0 : 1;
	rig_wells *wells = &standing->wells[s];
	const hour_still still = hour_rest(&f, &limits, wells->available, wells->bound);
	hour_run run = {.offered = offered, .wanted = wanted};
	if (plan->generator.present && plan->generator.store == s) {
		const hour_asked asked = {offered, wanted, d.dc_wh, d.ac_wh, closed};
		run = run_generator(plan, (hour_moment){&f, &limits, &still}, &asked,
			plan->generator.quiet[plan_hour % 24], standing);
	} else {
		run.flows = hour_flows_switched(&still, offered, wanted, closed);
	}
	const double current = run.flows.drawn - run.flows.charged * limits.efficiency_frac;
	wells->available = (still.available - f.g1 * current) * f.keep_frac;
	wells->bound = (still.bound - f.g2 * current) * f.keep_frac;
	set_switch(plan, s, &limits, &run, standing);
	if (!record)
		return;
	const bool is_short = run.flows.unserved > HOUR_SHORT_FRAC * run.wanted;
	*record = (rig_hour){
		.offered_wh = run.offered,
		.wanted_wh = run.wanted,
		.charged_wh = run.flows.charged,
		.drawn_wh = run.flows.drawn,
		.curtailed_wh = run.flows.curtailed,
		.lost_wh = (still.total - current) * (1 - f.keep_frac),
		.short_frac = is_short ? run.flows.unserved / run.wanted : 0,
		.store_wh = wells->available + wells->bound,
		.left_wh = most(wells->available + wells->bound - limits.floor_wh, 0),
		.generator_h = run.run_h,
		.generator_wh = run.given_wh,
	};
}

void rig_plan_trace_drawn(const rig_plan *plan, const rig_draws *draws, size_t n_hours,
	rig_standing *standing, rig_hour *record)
{
	assert((draws->sky != NULL) == (plan->n_knots > 1));
	trip_day day = {.plan = plan, .draws = draws};
	for (size_t i = 0; i < n_hours; i++) {
		if (i == 0 || standing->hour % 24 == 0)
			begin_day(standing->hour, &day);
		double offered[RIG_MAX_STORES] = {0};
		offers_of(&day, standing->hour % plan->n_hours, offered);
		for (size_t s = 0; s < plan->n_stores; s++)
			trace_store(&day, s, offered[s], standing, record ? record + s : NULL);
		standing->hour++;
		record = record ? record + plan->n_stores : NULL;
	}
}

void rig_plan_trace(const rig_plan *plan, const double *sky, size_t n_hours, rig_standing *standing,
	rig_hour *record)
{
	const rig_draws draws = {.stride = 1, .sky = sky};
	rig_plan_trace_drawn(plan, &draws, n_hours, standing, record);
}

rig_standing rig_plan_start_drawn(const rig_plan *plan, const rig_draws *draws)
{
	rig_standing standing = {0};
	for (size_t s = 0; s < plan->n_stores; s++) {
		const plan_store *store = &plan->stores[s];
		rig_kinetic wells = store->kinetic;
		wells.capacity *= hour_ratio(draws->capacity_ratio, s, draws->stride);
		const double start_wh =
			wells.capacity - usable_wh(plan, draws, s) * (1 - store->start_frac);
		standing.wells[s] = rig_wells_at_rest(&wells, start_wh / wells.capacity);
	}
	return standing;
}

rig_standing rig_plan_start(const rig_plan *plan)
{
	const rig_draws none = {.stride = 1};
	return rig_plan_start_drawn(plan, &none);
}
