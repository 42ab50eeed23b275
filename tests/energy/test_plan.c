/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "energy/fleet.h"
#include "energy/twin.h"
#include "suites.h"

/* Random plans come in tens of thirty. */
enum { N_TENS = 10, PER_TEN = 30 };

static const rig_store PLAIN = {
	.kinetic = {1000, 1, 0},
	.usable_wh = 1000,
	.start_frac = 1,
	.efficiency_frac = 1,
	.charge_limit_w = INFINITY,
	.charge_floor_c = -273,
};

/* 60 W for five hours and 900 W for a quarter of one. */
static const rig_consumer EVENING[] = {
	{.through_inverter = true, .watts_w = 60, .on_frac = {[17] = 1, 1, 1, 1, 1}},
	{.through_inverter = true, .watts_w = 900, .on_frac = {[12] = 0.25}},
};

/* By hand with the usual set of [SCHMIDT-1996]: in use 5 (60 + 15 + 1.5 + 0.12) +
 * 0.25 (900 + 15 + 22.5 + 27) Wh; the other 18.75 h at 15 W when it stays on. */
static const struct {
	bool always_on;
	double dc_wh;
} INVERTER[] = {{false, 624.225}, {true, 905.475}};

START_TEST(an_inverter_draws_what_its_loss_curve_says)
{
	const rig_plan_parts parts = {
		.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_consumers = 2,
		.stores = &PLAIN,
		.consumers = EVENING,
		.inverter = {true, 0, {1500, 0.01, 0.025, 0.05}, INVERTER[_i].always_on},
	};
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&parts, &plan), RIG_OK);
	double ac_wh = 0, dc_wh = 0;
	for (int hour = 0; hour < 24; hour++) {
		const rig_demand d = rig_plan_demand(plan, 0)[hour];
		ac_wh += d.ac_wh;
		dc_wh += d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
	}
	ck_assert_double_eq_tol(ac_wh, 525, 1e-9);
	ck_assert_double_eq_tol(dc_wh, INVERTER[_i].dc_wh, 1e-9);
	rig_plan_free(plan);
}
END_TEST

static void demand_agrees_with_twin(uint64_t number)
{
	static fleet_plan made;
	fleet_make(&made, number);
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&made.parts, &plan), RIG_OK);
	for (size_t s = 0; s < made.parts.n_stores; s++) {
		for (size_t hour = 0; hour < 24; hour += 5) {
			const rig_demand mine = rig_plan_demand(plan, s)[hour];
			const rig_demand twin = twin_demand(&made.parts, s, hour);
			ck_assert_double_eq_tol(mine.dc_wh, twin.dc_wh, 1e-12 * (1 + twin.dc_wh));
			ck_assert_double_eq_tol(mine.ac_wh, twin.ac_wh, 1e-12 * (1 + twin.ac_wh));
			ck_assert_double_eq_tol(
				mine.idle_wh, twin.idle_wh, 1e-12 * (1 + twin.idle_wh));
			ck_assert_double_eq_tol(
				mine.loss_wh, twin.loss_wh, 1e-12 * (1 + twin.loss_wh));
		}
	}
	rig_plan_free(plan);
}

/* The twin enumerates every combination of consumers that are on. */
START_TEST(demand_is_the_mean_over_all_combinations_of_consumers)
{
	for (int i = 0; i < PER_TEN; i++)
		demand_agrees_with_twin((uint64_t)_i * PER_TEN + (uint64_t)i);
}
END_TEST

static void turn_round(void *items, size_t n, size_t size)
{
	char *first = items, spare[sizeof(rig_consumer)];
	for (size_t i = 0; i < n / 2; i++) {
		char *left = first + i * size, *right = first + (n - 1 - i) * size;
		memcpy(spare, left, size);
		memcpy(left, right, size);
		memcpy(right, spare, size);
	}
}

static void order_changes_no_bit(uint64_t number)
{
	static fleet_plan made;
	static rig_hour before[FLEET_HOURS * 3], after[FLEET_HOURS * 3];
	fleet_make(&made, number);
	rig_plan *plan = NULL, *turned = NULL;
	ck_assert_int_eq(rig_plan_new(&made.parts, &plan), RIG_OK);
	turn_round(made.consumers, made.parts.n_consumers, sizeof *made.consumers);
	turn_round(made.sources, made.parts.n_sources, sizeof *made.sources);
	ck_assert_int_eq(rig_plan_new(&made.parts, &turned), RIG_OK);
	rig_standing standing = rig_plan_start(plan), other = rig_plan_start(turned);
	rig_plan_trace(plan, fleet_sky(&made), FLEET_HOURS, &standing, before);
	rig_plan_trace(turned, fleet_sky(&made), FLEET_HOURS, &other, after);
	ck_assert_mem_eq(before, after, made.parts.n_stores * FLEET_HOURS * sizeof *before);
	rig_plan_free(plan);
	rig_plan_free(turned);
}

START_TEST(the_order_of_consumers_and_sources_changes_no_bit)
{
	for (int i = 0; i < PER_TEN; i++)
		order_changes_no_bit((uint64_t)_i * PER_TEN + (uint64_t)i);
}
END_TEST

/* Factor on what can be taken out of a lead-acid bank at 4.4 C (40 F): 1 / 1.30 [IEEE-485] table 1;
 * its straight line of 0.8 % per kelvin is within 0.08 of that. */
START_TEST(a_cold_day_puts_a_share_out_of_reach)
{
	double temp_c[48];
	for (int hour = 0; hour < 48; hour++)
		temp_c[hour] = hour < 24 ? (hour % 2 ? 0.0 : 8.8) : 30;
	rig_store store = PLAIN;
	store.usable_wh = 500;
	store.temp_c = temp_c;
	store.lost_per_k_frac = 0.008;
	const rig_plan_parts parts = {.n_hours = 48, .n_knots = 1, .n_stores = 1, .stores = &store};
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&parts, &plan), RIG_OK);
	ck_assert_double_eq_tol(rig_plan_reach_wh(plan, 0, 3), 500 / 1.30, 500 * 0.08);
	ck_assert_double_eq_tol(rig_plan_reach_wh(plan, 0, 3), 500 * (1 - 0.008 * 20.6), 1e-9);
	ck_assert_double_eq_tol(rig_plan_reach_wh(plan, 0, 24), 500, 1e-9);
	ck_assert_double_eq_tol(rig_plan_reach_wh(plan, 0, 48), 500 * (1 - 0.008 * 20.6), 1e-9);
	ck_assert_double_eq(rig_plan_capacity_wh(plan, 0), 1000);
	rig_plan_free(plan);
}
END_TEST

/* A right plan's parts, to be spoilt one at a time. */
typedef struct {
	rig_plan_parts parts;
	rig_store store;
	rig_consumer consumer;
	double watts_w[48];
} small_plan;

static void no_hours(small_plan *p)
{
	p->parts.n_hours = 0;
}
static void odd_hours(small_plan *p)
{
	p->parts.n_hours = 25;
}
static void no_knots(small_plan *p)
{
	p->parts.n_knots = 0;
}
static void no_stores(small_plan *p)
{
	p->parts.n_stores = 0;
}
static void many_stores(small_plan *p)
{
	p->parts.n_stores = RIG_MAX_STORES + 1;
}
static void more_usable(small_plan *p)
{
	p->store.usable_wh = 1001;
}
static void nan_usable(small_plan *p)
{
	p->store.usable_wh = NAN;
}
static void no_efficiency(small_plan *p)
{
	p->store.efficiency_frac = 0;
}
static void overfull(small_plan *p)
{
	p->store.start_frac = 1.5;
}
static void no_well(small_plan *p)
{
	p->store.kinetic.available_frac = 0;
}
static void no_rate(small_plan *p)
{
	p->store.kinetic.available_frac = 0.5;
}
static void nan_limit(small_plan *p)
{
	p->store.charge_limit_w = NAN;
}
static void below_nothing(small_plan *p)
{
	p->consumer.watts_w = -1;
}
static void over_all(small_plan *p)
{
	p->consumer.on_frac[7] = 1.1;
}
static void no_such_store(small_plan *p)
{
	p->consumer.store = 1;
}
static void no_inverter(small_plan *p)
{
	p->consumer.through_inverter = true;
}
static void nan_light(small_plan *p)
{
	p->watts_w[23] = NAN;
}
static void dark_light(small_plan *p)
{
	p->watts_w[0] = -1;
}
static void lost_inverter(small_plan *p)
{
	p->parts.inverter = (rig_inverting){true, 1, {100, 0, 0, 0}, false};
}
static void no_rating(small_plan *p)
{
	p->parts.inverter = (rig_inverting){true, 0, {0, 0, 0, 0}, false};
}

static void no_outdoors(small_plan *p)
{
	p->store.outdoors = true;
}
static void no_weather(small_plan *p)
{
	p->consumer.duty = RIG_BY_COLD;
	p->consumer.duty_per_k = 0.1;
}
static void level_duty(small_plan *p)
{
	p->parts.outdoor_c = p->watts_w;
	p->consumer.duty = RIG_BY_HEAT;
}
static void nan_outdoors(small_plan *p)
{
	p->parts.outdoor_c = p->watts_w + 24;
	p->watts_w[30] = NAN;
}
static void odd_acceptance(small_plan *p)
{
	p->store.acceptance_per_h = -1;
}
static void odd_reconnect(small_plan *p)
{
	p->store.reconnect_frac = 1.1;
}
static void generator_of(small_plan *p, double start_frac, double stop_frac, double output_w)
{
	p->parts.generator = (rig_genset){.present = true,
		.output_w = output_w,
		.charger_frac = 0.9,
		.start_frac = start_frac,
		.stop_frac = stop_frac,
		.start_head_frac = -1};
}
static void stops_before_it_starts(small_plan *p)
{
	generator_of(p, 0.8, 0.5, 1000);
}
static void gives_nothing(small_plan *p)
{
	generator_of(p, 0.5, 0.8, 0);
}
static void lost_generator(small_plan *p)
{
	generator_of(p, 0.5, 0.8, 1000);
	p->parts.generator.store = 1;
}

static void (*const SPOIL[])(small_plan *) = {no_hours, odd_hours, no_knots, no_stores, many_stores,
	more_usable, nan_usable, no_efficiency, overfull, no_well, no_rate, nan_limit,
	below_nothing, over_all, no_such_store, no_inverter, nan_light, dark_light, lost_inverter,
	no_rating, no_outdoors, no_weather, level_duty, nan_outdoors, odd_acceptance, odd_reconnect,
	stops_before_it_starts, gives_nothing, lost_generator};

START_TEST(a_part_out_of_its_range_is_refused)
{
	small_plan small = {.store = PLAIN, .consumer = {.watts_w = 5, .on_frac = {1}}};
	const rig_source source = {0, small.watts_w};
	small.parts = (rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 1,
		.stores = &small.store,
		.sources = &source,
		.consumers = &small.consumer};
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(&small.parts, &plan), RIG_OK);
	rig_plan_free(plan);
	plan = NULL;
	SPOIL[_i](&small);
	ck_assert_int_eq(rig_plan_new(&small.parts, &plan), RIG_BAD_INPUT);
	ck_assert_ptr_null(plan);
}
END_TEST

Suite *plan_suite(void);
Suite *plan_suite(void)
{
	Suite *suite = suite_create("plan");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, an_inverter_draws_what_its_loss_curve_says, 0, COUNT(INVERTER));
	tcase_add_loop_test(all, demand_is_the_mean_over_all_combinations_of_consumers, 0, N_TENS);
	tcase_add_loop_test(all, the_order_of_consumers_and_sources_changes_no_bit, 0, N_TENS);
	tcase_add_test(all, a_cold_day_puts_a_share_out_of_reach);
	tcase_add_loop_test(all, a_part_out_of_its_range_is_refused, 0, COUNT(SPOIL));
	suite_add_tcase(suite, all);
	return suite;
}
