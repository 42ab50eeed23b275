/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "energy/plan.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- in an order of their own ---- */

static int by_value(double a, double b)
{
	return (a > b) - (a < b);
}

/* Equal ones are alike. */
static int by_draw(const void *a, const void *b)
{
	const rig_consumer *left = &((const plan_consumer *)a)->it;
	const rig_consumer *right = &((const plan_consumer *)b)->it;
	int order = by_value(left->watts_w, right->watts_w);
	for (int hour = 0; order == 0 && hour < 24; hour++)
		order = by_value(left->on_frac[hour], right->on_frac[hour]);
	if (order == 0)
		order = (int)left->duty - (int)right->duty;
	if (order == 0)
		order = by_value(left->balance_c, right->balance_c);
	if (order == 0)
		order = by_value(left->duty_per_k, right->duty_per_k);
	return order != 0 ? order : (int)left->keeps_awake - (int)right->keeps_awake;
}

static void lay_consumers(const rig_plan_parts *parts, rig_plan *plan)
{
	for (size_t i = 0; i < parts->n_consumers; i++) {
		const rig_consumer *it = &parts->consumers[i];
		plan->consumers[i] = (plan_consumer){i, *it};
		if (it->duty == RIG_BY_CLOCK)
			continue;
		const size_t s = it->through_inverter ? parts->inverter.store : it->store;
		plan->stores[s].by_weather = true;
		plan->stores[s].behind_weather =
			plan->stores[s].behind_weather || it->through_inverter;
	}
	qsort(plan->consumers, parts->n_consumers, sizeof *plan->consumers, by_draw);
}

/* A source on its way into the plan. */
typedef struct {
	size_t index, n;
	const rig_source *it;
} offer;

static int by_offer(const void *a, const void *b)
{
	const offer *left = a, *right = b;
	int order = 0;
	for (size_t i = 0; order == 0 && i < left->n; i++)
		order = by_value(left->it->watts_w[i], right->it->watts_w[i]);
	return order;
}

/* From [hour * n_knots + knot] to the hours of a day together. */
static void turn(const rig_plan *plan, const double *from, double *to)
{
	const size_t n_knots = plan->n_knots;
	for (size_t hour = 0; hour < plan->n_hours; hour++)
		for (size_t knot = 0; knot < n_knots; knot++)
			to[(hour / 24 * n_knots + knot) * 24 + hour % 24] =
				from[hour * n_knots + knot];
}

static void lay_source(const rig_plan *plan, const double *watts_w, plan_source *source)
{
	turn(plan, watts_w, source->watts_w);
	for (size_t hour = 0; hour < plan->n_hours; hour++) {
		source->lit[hour] = false;
		for (size_t knot = 0; knot < plan->n_knots; knot++)
			source->lit[hour] =
				source->lit[hour] || watts_w[hour * plan->n_knots + knot] > 0;
	}
}

static rig_status lay_sources(const rig_plan_parts *parts, rig_plan *plan)
{
	const size_t n = parts->n_sources;
	offer *sorted = malloc((n + 1) * sizeof *sorted);
	if (!sorted)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++)
		sorted[i] = (offer){i, parts->n_hours * parts->n_knots, &parts->sources[i]};
	qsort(sorted, n, sizeof *sorted, by_offer);
	for (size_t i = 0; i < n; i++) {
		plan->sources[i].index = sorted[i].index;
		plan->sources[i].store = sorted[i].it->store;
		lay_source(plan, sorted[i].it->watts_w, &plan->sources[i]);
	}
	free(sorted);
	return RIG_OK;
}

/* ---- the stores ---- */

/* The mean of 24 hours, or of those of all knots. */
static double mean_of(const double *hours, size_t n)
{
	double sum = 0;
	for (size_t i = 0; i < n; i++)
		sum += hours[i];
	return sum / (double)n;
}

/* Reach, acceptance and self-discharge by hour. A bank is heavy: its reach follows the mean of the
 * day; whether it takes charge, the hour. Self-discharge follows the mean of the day's skies, since
 * a few kelvin more or less change it by what nobody notices. */
static void lay_climate(
	const rig_plan_parts *parts, const rig_store *part, const rig_plan *plan, plan_store *store)
{
	for (size_t first = 0; first < parts->n_hours; first += 24) {
		double day_c = 25;
		if (part->outdoors && plan->outdoor_c)
			day_c = mean_of(
				plan->outdoor_c + first * parts->n_knots, 24 * parts->n_knots);
		else if (part->temp_c)
			day_c = mean_of(part->temp_c + first, 24);
		const double reach_wh =
			part->usable_wh * rig_warmth_frac(day_c, part->lost_per_k_frac);
		const double lost_frac =
			rig_self_discharge_per_h(part->self_discharge_frac_month, day_c);
		for (size_t hour = first; hour < first + 24; hour++) {
			const double hour_c = part->temp_c ? part->temp_c[hour] : 25;
			store->reach_wh[hour] = reach_wh;
			store->accept_wh[hour] =
				hour_c < part->charge_floor_c ? 0 : store->limit_wh;
			store->keep_frac[hour] = 1 - lost_frac;
		}
	}
}

static void lay_store(
	const rig_plan_parts *parts, const rig_store *part, const rig_plan *plan, plan_store *store)
{
	store->kinetic = part->kinetic;
	store->step = rig_kinetic_step_of(&part->kinetic, 1.0);
	store->per_g1 = 1 / store->step.g1;
	store->usable_wh = part->usable_wh;
	store->start_frac = part->start_frac;
	store->efficiency_frac = part->efficiency_frac;
	store->per_efficiency = 1 / part->efficiency_frac;
	store->taper_frac =
		part->acceptance_per_h > 0 ? rig_acceptance_limit(part->acceptance_per_h, 1, 1) : 1;
	store->limit_wh = fmin(part->charge_limit_w, DBL_MAX);
	store->charge_floor_c = part->charge_floor_c;
	store->lost_per_k_frac = part->lost_per_k_frac;
	store->reconnect_frac = part->reconnect_frac;
	store->essential = part->essential;
	store->outdoors = part->outdoors;
	lay_climate(parts, part, plan, store);
}

/* ---- memory ---- */

/* One piece for all arrays of figures, one for what is yes or no. */
static rig_status take_memory(const rig_plan_parts *parts, rig_plan *plan)
{
	const size_t n = parts->n_hours, all = n * parts->n_knots;
	const size_t n_tables = parts->n_sources + (parts->outdoor_c != NULL);
	plan->memory = calloc(3 * n * parts->n_stores + n_tables * all, sizeof *plan->memory);
	plan->flags = calloc(n * parts->n_sources + 1, sizeof *plan->flags);
	plan->consumers = calloc(parts->n_consumers + 1, sizeof *plan->consumers);
	plan->sources = calloc(parts->n_sources + 1, sizeof *plan->sources);
	if (!plan->memory || !plan->flags || !plan->consumers || !plan->sources)
		return RIG_NO_MEMORY;
	double *next = plan->memory;
	for (size_t s = 0; s < parts->n_stores; s++, next += 3 * n) {
		plan->stores[s].reach_wh = next;
		plan->stores[s].accept_wh = next + n;
		plan->stores[s].keep_frac = next + 2 * n;
	}
	for (size_t i = 0; i < parts->n_sources; i++, next += all) {
		plan->sources[i].watts_w = next;
		plan->sources[i].lit = plan->flags + i * n;
	}
	plan->outdoor_c = parts->outdoor_c ? next : NULL;
	return RIG_OK;
}

static rig_status lay_all(const rig_plan_parts *parts, rig_plan *plan)
{
	rig_status status = take_memory(parts, plan);
	if (status != RIG_OK)
		return status;
	if (parts->outdoor_c)
		turn(plan, parts->outdoor_c, plan->outdoor_c);
	for (size_t s = 0; s < parts->n_stores; s++)
		lay_store(parts, &parts->stores[s], plan, &plan->stores[s]);
	lay_consumers(parts, plan);
	plan_lay_demand(plan);
	return lay_sources(parts, plan);
}

rig_status rig_plan_new(const rig_plan_parts *parts, rig_plan **plan)
{
	if (!plan_parts_are_right(parts))
		return RIG_BAD_INPUT;
	rig_plan *made = calloc(1, sizeof *made);
	if (!made)
		return RIG_NO_MEMORY;
	made->n_hours = parts->n_hours;
	made->n_knots = parts->n_knots;
	made->n_stores = parts->n_stores;
	made->n_consumers = parts->n_consumers;
	made->n_sources = parts->n_sources;
	made->inverter = parts->inverter;
	made->generator = parts->generator;
	const rig_status status = lay_all(parts, made);
	if (status != RIG_OK) {
		rig_plan_free(made);
		return status;
	}
	*plan = made;
	return RIG_OK;
}

void rig_plan_free(rig_plan *plan)
{
	if (plan) {
		free(plan->memory);
		free(plan->flags);
		free(plan->consumers);
		free(plan->sources);
	}
	free(plan);
}

void rig_plan_refill(rig_plan *plan, const double *watts_w)
{
	assert(plan->n_sources == 1);
	lay_source(plan, watts_w, &plan->sources[0]);
}

/* ---- what a plan tells ---- */

double rig_plan_capacity_wh(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].kinetic.capacity;
}

double rig_plan_efficiency_frac(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].efficiency_frac;
}

double rig_plan_reach_wh(const rig_plan *plan, size_t store, size_t hour)
{
	assert(store < plan->n_stores);
	return plan->stores[store].reach_wh[hour % plan->n_hours];
}
