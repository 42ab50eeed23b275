/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "energy/fleet.h"

#include <math.h>

double dice_between(dice *d, double low, double high)
{
	d->state += 0x9e3779b97f4a7c15u;
	uint64_t z = d->state;
	z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
	z = (z ^ z >> 27) * 0x94d049bb133111ebu;
	z ^= z >> 31;
	return low + (high - low) * (double)(z >> 11) * 0x1p-53;
}

size_t dice_below(dice *d, size_t n)
{
	return (size_t)dice_between(d, 0, (double)n);
}

static bool heads(dice *d)
{
	return dice_below(d, 2) == 1;
}

static rig_store random_store(dice *d, const double *temp_c)
{
	const double capacity = dice_between(d, 200, 12000);
	const bool one_well = dice_below(d, 3) == 0;
	return (rig_store){
		.kinetic = {capacity, one_well ? 1 : dice_between(d, 0.1, 0.9),
			dice_between(d, 0.05, 3)},
		.usable_wh = capacity * dice_between(d, 0.2, 1),
		.start_frac = heads(d) ? 1 : dice_between(d, 0, 1),
		.efficiency_frac = heads(d) ? 1 : dice_between(d, 0.7, 1),
		.self_discharge_frac_month = heads(d) ? 0 : dice_between(d, 0, 0.2),
		.charge_limit_w = heads(d) ? INFINITY : dice_between(d, 20, 400),
		.charge_floor_c = heads(d) ? -273 : dice_between(d, -10, 10),
		.lost_per_k_frac = heads(d) ? 0 : dice_between(d, 0, 0.01),
		.temp_c = heads(d) ? NULL : temp_c,
		.essential = heads(d),
	};
}

static void random_consumer(dice *d, size_t n_stores, bool through_inverter, rig_consumer *made)
{
	*made = (rig_consumer){.store = dice_below(d, n_stores),
		.through_inverter = through_inverter,
		.watts_w = dice_between(d, 0, through_inverter ? 600 : 60)};
	const bool all_day = heads(d);
	for (int hour = 0; hour < 24; hour++)
		made->on_frac[hour] = all_day ? 1 : heads(d) ? 0 : dice_between(d, 0, 1);
}

static void random_light(dice *d, size_t n_knots, double watts_w[])
{
	const double peak_w = dice_between(d, 10, 1200);
	for (size_t hour = 0; hour < FLEET_HOURS; hour++) {
		const double height = sin((double)(hour % 24) / 24 * 6.2831853 - 1.5707963);
		for (size_t knot = 0; knot < n_knots; knot++)
			watts_w[hour * n_knots + knot] =
				height <= 0 ? 0
					    : peak_w * height * (double)(knot + 1) /
						      (double)n_knots * dice_between(d, 0.5, 1);
	}
}

void fleet_make(fleet_plan *made, uint64_t number)
{
	dice d = {number * 1000003};
	const size_t n_behind = dice_below(&d, 11);
	made->parts = (rig_plan_parts){
		.n_hours = heads(&d) ? FLEET_HOURS : 24,
		.n_knots = heads(&d) ? 1 : FLEET_KNOTS,
		.n_stores = 1 + dice_below(&d, 3),
		.n_sources = dice_below(&d, 5),
		.n_consumers = n_behind + dice_below(&d, 10),
		.stores = made->stores,
		.sources = made->sources,
		.consumers = made->consumers,
	};
	const rig_plan_parts *parts = &made->parts;
	const double noon_c = dice_between(&d, -15, 35);
	for (size_t hour = 0; hour < FLEET_HOURS; hour++)
		made->temp_c[hour] = noon_c - dice_between(&d, 0, 12);
	for (size_t i = 0; i < FLEET_DAYS; i++)
		made->sky[i] = dice_between(&d, 0, FLEET_KNOTS - 1);
	for (size_t i = 0; i < parts->n_stores; i++)
		made->stores[i] = random_store(&d, made->temp_c);
	for (size_t i = 0; i < parts->n_consumers; i++)
		random_consumer(&d, parts->n_stores, i < n_behind, &made->consumers[i]);
	for (size_t i = 0; i < parts->n_sources; i++) {
		random_light(&d, parts->n_knots, made->watts_w[i]);
		made->sources[i] = (rig_source){dice_below(&d, parts->n_stores), made->watts_w[i]};
	}
	made->parts.inverter = (rig_inverting){
		.present = n_behind > 0 || heads(&d),
		.store = dice_below(&d, parts->n_stores),
		.curve = {dice_between(&d, 300, 3000), dice_between(&d, 0, 0.02),
			dice_between(&d, 0, 0.05), dice_between(&d, 0, 0.08)},
		.always_on = heads(&d),
	};
}

const double *fleet_sky(const fleet_plan *made)
{
	return made->parts.n_knots > 1 ? made->sky : NULL;
}

static void make_outdoors(dice *d, fleet_plan *made)
{
	const double mean_c = dice_between(d, -10, 32);
	for (size_t i = 0; i < made->parts.n_hours * made->parts.n_knots; i++)
		made->outdoor_c[i] = mean_c + dice_between(d, -9, 9);
	made->parts.outdoor_c = made->outdoor_c;
	for (size_t i = 0; i < made->parts.n_stores; i++) {
		rig_store *store = &made->stores[i];
		store->outdoors = heads(d);
		store->charge_floor_c = heads(d) ? store->charge_floor_c : mean_c;
	}
	for (size_t i = 0; i < made->parts.n_consumers; i++) {
		rig_consumer *it = &made->consumers[i];
		it->duty = (rig_duty)dice_below(d, 3);
		it->balance_c = mean_c + dice_between(d, -8, 8);
		it->duty_per_k = dice_between(d, 0.02, 0.3);
	}
}

static void make_generator(dice *d, fleet_plan *made)
{
	rig_genset *set = &made->parts.generator;
	*set = (rig_genset){
		.present = true,
		.store = dice_below(d, made->parts.n_stores),
		.output_w = dice_between(d, 300, 6000),
		.charge_w = dice_between(d, 0, 1500),
		.charger_frac = dice_between(d, 0.6, 1),
		.start_frac = dice_between(d, 0, 0.8),
		.start_head_frac = heads(d) ? -1 : dice_between(d, 0.1, 0.7),
		.minimum_h = heads(d) ? 0 : dice_between(d, 0, 4),
	};
	set->stop_frac = dice_between(d, set->start_frac, 1);
	for (int hour = 0; hour < 24; hour++)
		set->quiet[hour] = dice_below(d, 4) == 0;
}

void fleet_make_rich(fleet_plan *made, uint64_t number)
{
	fleet_make(made, number);
	dice d = {number * 7919 + 1};
	if (heads(&d))
		make_outdoors(&d, made);
	if (heads(&d))
		make_generator(&d, made);
	for (size_t i = 0; i < made->parts.n_stores; i++)
		made->stores[i].acceptance_per_h = heads(&d) ? 0 : dice_between(&d, 0.05, 2);
	for (size_t i = 0; i < made->parts.n_consumers; i++) {
		made->consumers[i].keeps_awake = heads(&d);
		if (made->consumers[i].keeps_awake && heads(&d))
			made->consumers[i].watts_w = 0;
	}
	for (size_t i = 0; i < made->parts.n_stores; i++)
		made->stores[i].reconnect_frac = heads(&d) ? 0 : dice_between(&d, 0, 1);
}

/* NULL as often as not; figures low to high. */
static const double *drawn(dice *d, double *figures, size_t n, double low, double high)
{
	for (size_t i = 0; i < n; i++)
		figures[i] = low == 0 && dice_below(d, 5) == 0 ? 0 : dice_between(d, low, high);
	return heads(d) ? figures : NULL;
}

rig_draws fleet_draws(fleet_plan *made, uint64_t number)
{
	dice d = {number * 104729 + 2};
	return (rig_draws){
		.stride = 1,
		.sky = fleet_sky(made),
		.warmth_k = drawn(&d, made->warmth_k, FLEET_DAYS, -6, 6),
		.consumer_ratio = drawn(&d, made->consumer_ratio, 20, 0, 2),
		.source_ratio = drawn(&d, made->source_ratio, 4, 0, 2),
		.capacity_ratio = drawn(&d, made->capacity_ratio, 3, 0.5, 1.5),
		.usable_ratio = drawn(&d, made->usable_ratio, 3, 0.5, 1),
		.efficiency_ratio = drawn(&d, made->efficiency_ratio, 3, 0.8, 1),
		.inverter_ratio = drawn(&d, made->inverter_ratio, 1, 0, 3),
	};
}
