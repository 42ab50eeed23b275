/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "energy/plan.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- wrong parts ---- */

static bool is_frac(double value)
{
	return value >= 0 && value <= 1;
}

static bool store_is_right(const rig_store *store)
{
	const rig_kinetic *k = &store->kinetic;
	return isfinite(k->capacity) && k->capacity > 0 && k->available_frac > 0 &&
	       k->available_frac <= 1 && (k->available_frac == 1 || k->rate_per_h > 0) &&
	       store->usable_wh > 0 && store->usable_wh <= k->capacity &&
	       is_frac(store->start_frac) && store->efficiency_frac > 0 &&
	       store->efficiency_frac <= 1 && store->self_discharge_frac_month >= 0 &&
	       store->charge_limit_w >= 0 && store->lost_per_k_frac >= 0;
}

static bool consumer_is_right(const rig_plan_parts *parts, const rig_consumer *consumer)
{
	bool right = isfinite(consumer->watts_w) && consumer->watts_w >= 0;
	for (int hour = 0; hour < 24; hour++)
		right = right && is_frac(consumer->on_frac[hour]);
	if (consumer->through_inverter)
		return right && parts->inverter.present;
	return right && consumer->store < parts->n_stores;
}

static bool source_is_right(const rig_plan_parts *parts, const rig_source *source)
{
	bool right = source->store < parts->n_stores;
	for (size_t i = 0; i < parts->n_hours * parts->n_knots; i++)
		right = right && isfinite(source->watts_w[i]) && source->watts_w[i] >= 0;
	return right;
}

/* Every part in its range: what the kernel relies on. */
static bool parts_are_right(const rig_plan_parts *parts)
{
	bool right = parts->n_hours >= 24 && parts->n_hours % 24 == 0 && parts->n_knots >= 1 &&
		     parts->n_stores >= 1 && parts->n_stores <= RIG_MAX_STORES;
	for (size_t i = 0; i < parts->n_stores; i++)
		right = right && store_is_right(&parts->stores[i]);
	for (size_t i = 0; i < parts->n_consumers; i++)
		right = right && consumer_is_right(parts, &parts->consumers[i]);
	for (size_t i = 0; i < parts->n_sources; i++)
		right = right && source_is_right(parts, &parts->sources[i]);
	if (parts->inverter.present)
		right = right && parts->inverter.store < parts->n_stores &&
			parts->inverter.curve.rated_w > 0;
	return right;
}

/* ---- what is wanted ---- */

static int by_value(double a, double b)
{
	return (a > b) - (a < b);
}

/* An order of consumers that depends on nothing but what they are; equal ones are alike. */
static int by_draw(const void *a, const void *b)
{
	const rig_consumer *left = a, *right = b;
	int order = by_value(left->watts_w, right->watts_w);
	for (int hour = 0; order == 0 && hour < 24; hour++)
		order = by_value(left->on_frac[hour], right->on_frac[hour]);
	return order;
}

static void demand_of_store(
	const rig_consumer *sorted, size_t n, size_t store, rig_demand demand[24])
{
	for (size_t i = 0; i < n; i++)
		if (!sorted[i].through_inverter && sorted[i].store == store)
			for (int hour = 0; hour < 24; hour++)
				demand[hour].dc_wh += sorted[i].watts_w * sorted[i].on_frac[hour];
}

/* Adds what the inverter passes on and keeps, see rig_demand. */
static void demand_of_inverter(
	const rig_consumer *sorted, size_t n, const rig_inverting *inverter, rig_demand demand[24])
{
	const rig_loss_curve *curve = &inverter->curve;
	for (int hour = 0; hour < 24; hour++) {
		double mean_w = 0, variance_w2 = 0, none_on = inverter->always_on ? 0 : 1;
		for (size_t i = 0; i < n; i++) {
			if (!sorted[i].through_inverter || sorted[i].watts_w == 0)
				continue;
			const double on = sorted[i].on_frac[hour], w = sorted[i].watts_w;
			mean_w += w * on;
			variance_w2 += w * w * on * (1 - on);
			none_on *= 1 - on;
		}
		const double square_w2 = mean_w * mean_w + variance_w2;
		demand[hour].ac_wh = mean_w;
		demand[hour].idle_wh = rig_inverter_idle_w(curve) * (1 - none_on);
		demand[hour].loss_wh = curve->linear_frac * mean_w +
				       curve->square_frac * square_w2 / curve->rated_w;
	}
}

static rig_status lay_demand(const rig_plan_parts *parts, rig_plan *plan)
{
	const size_t n = parts->n_consumers;
	rig_consumer *sorted = malloc((n + 1) * sizeof *sorted);
	if (!sorted)
		return RIG_NO_MEMORY;
	if (n > 0)
		memcpy(sorted, parts->consumers, n * sizeof *sorted);
	qsort(sorted, n, sizeof *sorted, by_draw);
	for (size_t s = 0; s < plan->n_stores; s++)
		demand_of_store(sorted, n, s, plan->stores[s].demand);
	if (parts->inverter.present)
		demand_of_inverter(
			sorted, n, &parts->inverter, plan->stores[parts->inverter.store].demand);
	free(sorted);
	for (size_t s = 0; s < plan->n_stores; s++) {
		plan_store *store = &plan->stores[s];
		for (int hour = 0; hour < 24; hour++) {
			const rig_demand *d = &store->demand[hour];
			const double wanted_wh = d->dc_wh + d->ac_wh + d->idle_wh + d->loss_wh;
			store->wanted_wh[hour] = wanted_wh;
			store->per_wanted[hour] = wanted_wh > 0 ? 1 / wanted_wh : 0;
		}
	}
	return RIG_OK;
}

/* ---- what is offered ---- */

typedef struct {
	size_t store, n;
	const double *watts_w;
} offer;

/* An order of sources that depends on nothing but what they are; equal ones are alike. */
static int by_offer(const void *a, const void *b)
{
	const offer *left = a, *right = b;
	int order = 0;
	for (size_t i = 0; order == 0 && i < left->n; i++)
		order = by_value(left->watts_w[i], right->watts_w[i]);
	return order;
}

static rig_status lay_offers(const rig_plan_parts *parts, rig_plan *plan)
{
	const size_t n = plan->n_hours * plan->n_knots;
	offer *sorted = malloc((parts->n_sources + 1) * sizeof *sorted);
	if (!sorted)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < parts->n_sources; i++)
		sorted[i] = (offer){parts->sources[i].store, n, parts->sources[i].watts_w};
	qsort(sorted, parts->n_sources, sizeof *sorted, by_offer);
	for (size_t i = 0; i < parts->n_sources; i++) {
		double *offered_wh = plan->stores[sorted[i].store].offered_wh;
		for (size_t k = 0; offered_wh && k < n; k++)
			offered_wh[k] += sorted[i].watts_w[k];
	}
	free(sorted);
	return RIG_OK;
}

/* ---- the stores ---- */

static double mean_of_day(const double *hours)
{
	double sum = 0;
	for (int hour = 0; hour < 24; hour++)
		sum += hours[hour];
	return sum / 24;
}

/* Floor, acceptance and self-discharge by hour. A bank is heavy: its reach follows the mean of the
 * day; whether it takes charge, the hour. */
static void lay_climate(const rig_store *part, size_t n_hours, plan_store *store)
{
	const double limit_wh = fmin(part->charge_limit_w, DBL_MAX);
	for (size_t first = 0; first < n_hours; first += 24) {
		const double day_c = part->temp_c ? mean_of_day(part->temp_c + first) : 25;
		const double reach_wh =
			part->usable_wh * rig_warmth_frac(day_c, part->lost_per_k_frac);
		const double lost_frac =
			rig_self_discharge_per_h(part->self_discharge_frac_month, day_c);
		for (size_t hour = first; hour < first + 24; hour++) {
			const double hour_c = part->temp_c ? part->temp_c[hour] : 25;
			store->floor_wh[hour] = part->kinetic.capacity - reach_wh;
			store->accept_wh[hour] = hour_c < part->charge_floor_c ? 0 : limit_wh;
			store->keep_frac[hour] = 1 - lost_frac;
		}
	}
}

static void lay_store(const rig_store *part, size_t n_hours, plan_store *store)
{
	const double capacity_wh = part->kinetic.capacity;
	const double start_wh = capacity_wh - part->usable_wh * (1 - part->start_frac);
	store->step = rig_kinetic_step_of(&part->kinetic, 1.0);
	store->per_g1 = 1 / store->step.g1;
	store->capacity_wh = capacity_wh;
	store->usable_wh = part->usable_wh;
	store->efficiency_frac = part->efficiency_frac;
	store->per_efficiency = 1 / part->efficiency_frac;
	store->start = rig_wells_at_rest(&part->kinetic, start_wh / capacity_wh);
	store->essential = part->essential;
	lay_climate(part, n_hours, store);
}

static size_t offered_size(const rig_plan_parts *parts, size_t s)
{
	for (size_t i = 0; i < parts->n_sources; i++)
		if (parts->sources[i].store == s)
			return parts->n_hours * parts->n_knots;
	return 0;
}

/* One piece of memory for all arrays of all stores. */
static rig_status take_memory(const rig_plan_parts *parts, rig_plan *plan)
{
	size_t size = 1;
	for (size_t s = 0; s < parts->n_stores; s++)
		size += 3 * parts->n_hours + offered_size(parts, s);
	double *next = calloc(size, sizeof *next);
	if (!next)
		return RIG_NO_MEMORY;
	plan->memory = next;
	for (size_t s = 0; s < parts->n_stores; s++) {
		plan_store *store = &plan->stores[s];
		store->floor_wh = next;
		store->accept_wh = next + parts->n_hours;
		store->keep_frac = next + 2 * parts->n_hours;
		next += 3 * parts->n_hours;
		store->offered_wh = offered_size(parts, s) ? next : NULL;
		next += offered_size(parts, s);
	}
	return RIG_OK;
}

rig_status rig_plan_new(const rig_plan_parts *parts, rig_plan **plan)
{
	if (!parts_are_right(parts))
		return RIG_BAD_INPUT;
	rig_status status = RIG_NO_MEMORY;
	rig_plan *made = calloc(1, sizeof *made);
	if (!made)
		goto out;
	made->n_hours = parts->n_hours;
	made->n_knots = parts->n_knots;
	made->n_stores = parts->n_stores;
	if ((status = take_memory(parts, made)) || (status = lay_demand(parts, made)) ||
		(status = lay_offers(parts, made)))
		goto out;
	for (size_t s = 0; s < parts->n_stores; s++)
		lay_store(&parts->stores[s], parts->n_hours, &made->stores[s]);
	*plan = made;
	made = NULL;
out:
	rig_plan_free(made);
	return status;
}

void rig_plan_free(rig_plan *plan)
{
	if (plan)
		free(plan->memory);
	free(plan);
}

/* ---- what a plan tells ---- */

const rig_demand *rig_plan_demand(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].demand;
}

double rig_plan_capacity_wh(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].capacity_wh;
}

double rig_plan_efficiency_frac(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].efficiency_frac;
}

double rig_plan_reach_wh(const rig_plan *plan, size_t store, size_t hour)
{
	assert(store < plan->n_stores);
	const plan_store *s = &plan->stores[store];
	return s->capacity_wh - s->floor_wh[hour % plan->n_hours];
}

rig_standing rig_plan_start(const rig_plan *plan)
{
	rig_standing standing = {0};
	for (size_t s = 0; s < plan->n_stores; s++)
		standing.wells[s] = plan->stores[s].start;
	return standing;
}
