/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wrong parts of a plan. */
#include <math.h>

#include "energy/plan.h"

static bool is_frac(double value)
{
	return value >= 0 && value <= 1;
}

static bool store_is_right(const rig_plan_parts *parts, const rig_store *store)
{
	const rig_kinetic *k = &store->kinetic;
	return isfinite(k->capacity) && k->capacity > 0 && k->available_frac > 0 &&
	       k->available_frac <= 1 && (k->available_frac == 1 || k->rate_per_h > 0) &&
	       store->usable_wh > 0 && store->usable_wh <= k->capacity &&
	       is_frac(store->start_frac) && store->efficiency_frac > 0 &&
	       store->efficiency_frac <= 1 && store->self_discharge_frac_month >= 0 &&
	       store->charge_limit_w >= 0 && store->lost_per_k_frac >= 0 &&
	       store->acceptance_per_h >= 0 && is_frac(store->reconnect_frac) &&
	       (!store->outdoors || parts->outdoor_c != NULL);
}

static bool consumer_is_right(const rig_plan_parts *parts, const rig_consumer *consumer)
{
	bool right = isfinite(consumer->watts_w) && consumer->watts_w >= 0;
	for (int hour = 0; hour < 24; hour++)
		right = right && is_frac(consumer->on_frac[hour]);
	if (consumer->duty != RIG_BY_CLOCK)
		right = right && parts->outdoor_c != NULL && isfinite(consumer->balance_c) &&
			isfinite(consumer->duty_per_k) && consumer->duty_per_k > 0;
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

static bool generator_is_right(const rig_plan_parts *parts)
{
	const rig_genset *it = &parts->generator;
	return !it->present ||
	       (it->store < parts->n_stores && isfinite(it->output_w) && it->output_w > 0 &&
		       isfinite(it->charge_w) && it->charge_w >= 0 && it->charger_frac > 0 &&
		       it->charger_frac <= 1 && it->start_frac >= 0 &&
		       it->start_frac <= it->stop_frac && it->stop_frac <= 1 &&
		       it->start_head_frac <= 1 && it->minimum_h >= 0 && it->minimum_h <= 24);
}

static bool outdoors_is_right(const rig_plan_parts *parts)
{
	bool right = true;
	for (size_t i = 0; parts->outdoor_c && i < parts->n_hours * parts->n_knots; i++)
		right = right && isfinite(parts->outdoor_c[i]);
	return right;
}

bool plan_parts_are_right(const rig_plan_parts *parts)
{
	bool right = parts->n_hours >= 24 && parts->n_hours % 24 == 0 && parts->n_knots >= 1 &&
		     parts->n_stores >= 1 && parts->n_stores <= RIG_MAX_STORES;
	for (size_t i = 0; i < parts->n_stores; i++)
		right = right && store_is_right(parts, &parts->stores[i]);
	for (size_t i = 0; i < parts->n_consumers; i++)
		right = right && consumer_is_right(parts, &parts->consumers[i]);
	for (size_t i = 0; i < parts->n_sources; i++)
		right = right && source_is_right(parts, &parts->sources[i]);
	if (parts->inverter.present)
		right = right && parts->inverter.store < parts->n_stores &&
			parts->inverter.curve.rated_w > 0;
	return right && generator_is_right(parts) && outdoors_is_right(parts);
}
