/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wanted of a store. */
#include <assert.h>

#include "energy/plan.h"

static double ratio_of(const plan_asking *asking, size_t index)
{
	return asking->consumer_ratio ? asking->consumer_ratio[index * asking->stride] : 1;
}

static bool is_asked(const plan_asking *asking, const rig_consumer *it)
{
	return it->duty == RIG_BY_CLOCK || asking->with_weather;
}

static double on_frac(const plan_asking *asking, const rig_consumer *it, size_t clock_hour)
{
	const double on = it->on_frac[clock_hour];
	return it->duty == RIG_BY_CLOCK ? on : on * plan_duty(it, asking->air_c);
}

/* See rig_demand. */
static void add_inverter(
	const rig_inverting *inverter, const plan_behind *behind, double ratio, rig_demand *demand)
{
	const rig_loss_curve *curve = &inverter->curve;
	const double square_w2 = behind->mean_w * behind->mean_w + behind->variance_w2;
	demand->ac_wh = behind->mean_w;
	demand->idle_wh = ratio * rig_inverter_idle_w(curve) * (1 - behind->none_on);
	demand->loss_wh = ratio * (curve->linear_frac * behind->mean_w +
					  curve->square_frac * square_w2 / curve->rated_w);
}

rig_demand plan_demand(
	const rig_plan *plan, size_t store, size_t clock_hour, const plan_asking *asking)
{
	rig_demand demand = {0};
	const bool inverts = plan->inverter.present && plan->inverter.store == store;
	plan_behind behind = {.none_on = plan->inverter.always_on ? 0 : 1};
	for (size_t i = 0; i < plan->n_consumers; i++) {
		const rig_consumer *it = &plan->consumers[i].it;
		if (!is_asked(asking, it))
			continue;
		const double ratio = ratio_of(asking, plan->consumers[i].index);
		const double watts_w = it->watts_w * ratio;
		const double on = on_frac(asking, it, clock_hour);
		if (!it->through_inverter && it->store == store)
			demand.dc_wh += watts_w * on;
		else if (it->through_inverter && inverts)
			plan_add_behind(&behind, watts_w, on,
				watts_w > 0 || (it->keeps_awake && ratio > 0));
	}
	if (inverts)
		add_inverter(&plan->inverter, &behind, asking->inverter_ratio, &demand);
	return demand;
}

void plan_lay_demand(rig_plan *plan)
{
	const plan_asking by_clock = {.inverter_ratio = 1};
	for (size_t s = 0; s < plan->n_stores; s++) {
		plan_store *store = &plan->stores[s];
		for (size_t hour = 0; hour < 24; hour++) {
			const rig_demand d = plan_demand(plan, s, hour, &by_clock);
			const double wanted_wh = d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
			store->demand[hour] = d;
			store->wanted_wh[hour] = wanted_wh;
			store->per_wanted[hour] = wanted_wh > 0 ? 1 / wanted_wh : 0;
		}
	}
}

const rig_demand *rig_plan_demand(const rig_plan *plan, size_t store)
{
	assert(store < plan->n_stores);
	return plan->stores[store].demand;
}

rig_demand rig_plan_demand_at(const rig_plan *plan, size_t store, size_t clock_hour, double air_c)
{
	assert(store < plan->n_stores && clock_hour < 24);
	const plan_asking asking = {.inverter_ratio = 1, .with_weather = true, .air_c = air_c};
	return plan_demand(plan, store, clock_hour, &asking);
}
