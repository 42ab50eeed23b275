/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "energy/fleet.h"
#include "energy/twin.h"
#include "suites.h"

/* Random plans come in tens of a hundred; a failure names the plan's number. */
enum { N_TENS = 10, PER_TEN = 100, N_SOLVED = 24, SOLVED_HOURS = 5 * 24 };

static uint64_t number_of(int ten, int i)
{
	return (uint64_t)ten * PER_TEN + (uint64_t)i;
}

static rig_plan *plan_of(const rig_plan_parts *parts)
{
	rig_plan *plan = NULL;
	ck_assert_int_eq(rig_plan_new(parts, &plan), RIG_OK);
	return plan;
}

/* ---- by hand ---- */

/* 100 Wh, full; 20 W wanted all day; 140 W of sun from 8 to 10, stored at 0.9.
 * 8 h at 20 W need 160 Wh: full until 5 h, short from then. Two hours of sun leave 120 Wh each, of
 * which 108 Wh would be stored: 100 Wh fill the bank, the rest is curtailed. From 10 to 15 it lasts
 * five hours, then nine hours go without. */
START_TEST(a_day_worked_by_hand_comes_out)
{
	double watts_w[24] = {[8] = 140, 140};
	const rig_store store = {.kinetic = {100, 1, 0},
		.usable_wh = 100,
		.start_frac = 1,
		.efficiency_frac = 0.9,
		.self_discharge_frac_month = 0,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.lost_per_k_frac = 0,
		.temp_c = NULL,
		.essential = true};
	rig_consumer consumer = {.watts_w = 20};
	for (int hour = 0; hour < 24; hour++)
		consumer.on_frac[hour] = 1;
	const rig_source source = {0, watts_w};
	rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 1,
		.stores = &store,
		.sources = &source,
		.consumers = &consumer});
	rig_standing standing = rig_plan_start(plan);
	rig_hour day[24];
	rig_plan_trace(plan, NULL, 24, &standing, day);
	double short_h = 0, curtailed_wh = 0;
	for (int hour = 0; hour < 24; hour++) {
		short_h += day[hour].short_frac;
		curtailed_wh += day[hour].curtailed_wh;
	}
	ck_assert_double_eq_tol(day[4].left_wh, 0, 1e-12);
	ck_assert_double_eq(day[4].short_frac, 0);
	ck_assert_double_eq_tol(day[5].short_frac, 1, 1e-12);
	ck_assert_double_eq_tol(day[8].charged_wh, 100 / 0.9, 1e-12);
	ck_assert_double_eq_tol(day[9].store_wh, 100, 1e-12);
	ck_assert_double_eq_tol(curtailed_wh, 240 - 100 / 0.9, 1e-9);
	ck_assert_double_eq_tol(short_h, 3 + 9, 1e-9);
	rig_plan_free(plan);
}
END_TEST

/* 100 Wh, full; 20 W wanted all day; 40 W of light from 8 to 18, stored at 0.5; loads come back at
 * 60 Wh. It is empty at 5 h and open until the light has brought 20 Wh an hour three times: 60 Wh
 * at
 * 11. From there the 20 W left over bring 10 Wh an hour, 7 hours long: full at 15, 100 Wh at 18.
 * Five hours later it is empty again: the hour from 23 is short. */
START_TEST(loads_come_back_at_the_reconnect_level)
{
	double watts_w[24] = {0};
	const rig_store store = {.kinetic = {100, 1, 0},
		.usable_wh = 100,
		.start_frac = 1,
		.efficiency_frac = 0.5,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.essential = true,
		.reconnect_frac = 0.6};
	rig_consumer consumer = {.watts_w = 20};
	for (int hour = 0; hour < 24; hour++) {
		consumer.on_frac[hour] = 1;
		watts_w[hour] = hour >= 8 && hour < 18 ? 40 : 0;
	}
	const rig_source source = {0, watts_w};
	rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 1,
		.stores = &store,
		.sources = &source,
		.consumers = &consumer});
	rig_standing standing = rig_plan_start(plan);
	rig_hour day[24];
	rig_plan_trace(plan, NULL, 24, &standing, day);
	ck_assert(standing.off[0]);
	for (int hour = 0; hour < 24; hour++) {
		const bool off = (hour >= 5 && hour < 11) || hour == 23;
		ck_assert_double_eq_tol(day[hour].short_frac, off ? 1 : 0, 1e-12);
	}
	ck_assert_double_eq_tol(day[9].store_wh, 40, 1e-9);
	ck_assert_double_eq_tol(day[9].charged_wh, 40, 1e-9);
	ck_assert_double_eq_tol(day[10].store_wh, 60, 1e-9);
	ck_assert_double_eq_tol(day[12].store_wh, 80, 1e-9);
	ck_assert_double_eq_tol(day[17].store_wh, 100, 1e-9);
	rig_plan_free(plan);
}
END_TEST

/* [MANWELL-1993] evaluated: 120 Wh, c 0.30, k' 0.60/h; from full 20 W for one hour, then two hours
 * of rest. The available well holds 19.472, then 26.829 of 100 left. Tolerance: that of the check
 * value, four times its last digit. */
START_TEST(two_wells_give_and_recover_as_worked_out)
{
	const rig_store store = {.kinetic = {120, 0.30, 0.60},
		.usable_wh = 120,
		.start_frac = 1,
		.efficiency_frac = 1,
		.self_discharge_frac_month = 0,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.lost_per_k_frac = 0,
		.temp_c = NULL,
		.essential = true};
	const rig_consumer consumer = {.watts_w = 20, .on_frac = {1}};
	rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 0,
		.n_consumers = 1,
		.stores = &store,
		.sources = NULL,
		.consumers = &consumer});
	rig_standing standing = rig_plan_start(plan);
	rig_plan_trace(plan, NULL, 1, &standing, NULL);
	ck_assert_double_eq_tol(standing.wells[0].available, 19.472, 0.002);
	ck_assert_double_eq_tol(standing.wells[0].bound, 80.528, 0.002);
	rig_plan_trace(plan, NULL, 2, &standing, NULL);
	ck_assert_double_eq_tol(standing.wells[0].available, 26.829, 0.002);
	ck_assert_double_eq_tol(standing.wells[0].bound, 73.171, 0.002);
	ck_assert_uint_eq(standing.hour, 3);
	rig_plan_free(plan);
}
END_TEST

/* The same bank drawn empty at a constant rate gives 69.00 Wh in 5 h and 100.46 in 20 h. */
static const struct {
	int hours;
	double charge_wh;
} EMPTYING[] = {{1, 43.56}, {5, 69.00}, {20, 100.46}};

START_TEST(a_faster_draw_gets_less_out)
{
	const rig_store store = {.kinetic = {120, 0.30, 0.60},
		.usable_wh = 120,
		.start_frac = 1,
		.efficiency_frac = 1,
		.self_discharge_frac_month = 0,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.lost_per_k_frac = 0,
		.temp_c = NULL,
		.essential = true};
	rig_consumer consumer = {.watts_w = (EMPTYING[_i].charge_wh + 0.01) / EMPTYING[_i].hours};
	for (int hour = 0; hour < 24; hour++)
		consumer.on_frac[hour] = 1;
	rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 0,
		.n_consumers = 1,
		.stores = &store,
		.sources = NULL,
		.consumers = &consumer});
	rig_standing standing = rig_plan_start(plan);
	rig_hour day[24];
	rig_plan_trace(plan, NULL, 24, &standing, day);
	const int last = EMPTYING[_i].hours - 1;
	ck_assert(last == 0 || day[last - 1].short_frac == 0);
	ck_assert(day[last].short_frac < 0.01);
	ck_assert(day[last + 1].short_frac > 0.3);
	rig_plan_free(plan);
}
END_TEST

START_TEST(a_lithium_bank_below_its_floor_is_not_charged)
{
	double watts_w[24], temp_c[24];
	for (int hour = 0; hour < 24; hour++) {
		watts_w[hour] = 50;
		temp_c[hour] = hour < 12 ? -0.1 : 0.0;
	}
	const rig_store store = {.kinetic = {1000, 1, 0},
		.usable_wh = 800,
		.start_frac = 0,
		.efficiency_frac = 1,
		.self_discharge_frac_month = 0,
		.charge_limit_w = 30,
		.charge_floor_c = 0,
		.lost_per_k_frac = 0,
		.temp_c = temp_c,
		.essential = true};
	const rig_source source = {0, watts_w};
	rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 0,
		.stores = &store,
		.sources = &source,
		.consumers = NULL});
	rig_standing standing = rig_plan_start(plan);
	rig_hour day[24];
	rig_plan_trace(plan, NULL, 24, &standing, day);
	ck_assert_double_eq(day[11].store_wh, 200);
	ck_assert_double_eq(day[11].curtailed_wh, 50);
	ck_assert_double_eq(day[12].charged_wh, 30);
	ck_assert_double_eq(day[12].curtailed_wh, 20);
	ck_assert_double_eq_tol(day[23].left_wh, 12 * 30, 1e-9);
	rig_plan_free(plan);
}
END_TEST

/* 5 % a month at 25 C, so a twentieth of 730.5 h's share in an hour; half of that at 15 C. */
START_TEST(a_resting_bank_loses_its_self_discharge)
{
	double temp_c[24];
	for (int hour = 0; hour < 24; hour++)
		temp_c[hour] = 15;
	rig_store store = {.kinetic = {1000, 0.5, 1},
		.usable_wh = 1000,
		.start_frac = 1,
		.efficiency_frac = 1,
		.self_discharge_frac_month = 0.05,
		.charge_limit_w = INFINITY,
		.charge_floor_c = -273,
		.lost_per_k_frac = 0,
		.temp_c = NULL,
		.essential = true};
	for (int cold = 0; cold < 2; cold++) {
		store.temp_c = cold ? temp_c : NULL;
		rig_plan *plan = plan_of(&(rig_plan_parts){.n_hours = 24,
			.n_knots = 1,
			.n_stores = 1,
			.n_sources = 0,
			.n_consumers = 0,
			.stores = &store,
			.sources = NULL,
			.consumers = NULL});
		rig_standing standing = rig_plan_start(plan);
		rig_hour month[730];
		rig_plan_trace(plan, NULL, 730, &standing, month);
		const double lost_frac = 1 - exp(-0.05 * 730 / 730.5 / (cold ? 2 : 1));
		ck_assert_double_eq_tol(1000 - month[729].store_wh, 1000 * lost_frac, 0.01);
		rig_plan_free(plan);
	}
}
END_TEST

/* ---- against the twin ---- */

static double farthest(double a, double b, double so_far)
{
	/* NaN stays NaN */
	return fabs(a - b) <= so_far ? so_far : fabs(a - b);
}

/* The largest difference between two records of an hour, Wh. */
static double difference_wh(const rig_hour *a, const rig_hour *b)
{
	double wh = farthest(a->offered_wh, b->offered_wh, 0);
	wh = farthest(a->charged_wh, b->charged_wh, wh);
	wh = farthest(a->drawn_wh, b->drawn_wh, wh);
	wh = farthest(a->curtailed_wh, b->curtailed_wh, wh);
	wh = farthest(a->lost_wh, b->lost_wh, wh);
	wh = farthest(a->store_wh, b->store_wh, wh);
	wh = farthest(a->wanted_wh, b->wanted_wh, wh);
	wh = farthest(a->generator_h, b->generator_h, wh);
	wh = farthest(a->generator_wh, b->generator_wh, wh);
	return farthest(a->left_wh, b->left_wh, wh);
}

/* A trip of a plan, and how far it is to be followed. */
typedef struct {
	fleet_plan *made;
	rig_draws draws;
	size_t n_hours;
	unsigned long long number;
} followed;

static void agrees_with_twin(const followed *it, twin_wells how, double tol_frac)
{
	static rig_hour mine[FLEET_HOURS * 3], twin[FLEET_HOURS];
	static rig_standing from[FLEET_HOURS];
	const rig_plan_parts *parts = &it->made->parts;
	rig_plan *plan = plan_of(parts);
	rig_standing standing = rig_plan_start_drawn(plan, &it->draws);
	for (size_t hour = 0; hour < it->n_hours; hour++) {
		from[hour] = standing;
		rig_plan_trace_drawn(plan, &it->draws, 1, &standing, &mine[hour * parts->n_stores]);
	}
	for (size_t s = 0; s < parts->n_stores; s++) {
		double worst = 0;
		const bool generates = parts->generator.present && parts->generator.store == s;
		const twin_run run = {how, s, it->n_hours, &it->draws, generates ? from : NULL};
		twin_trace(parts, &run, twin);
		for (size_t hour = 0; hour < it->n_hours; hour++) {
			const rig_hour *h = &mine[hour * parts->n_stores + s], *t = &twin[hour];
			const double scale =
				parts->stores[s].kinetic.capacity + t->wanted_wh + t->offered_wh;
			worst = farthest(difference_wh(h, t) / scale, 0, worst);
			worst = farthest(h->short_frac * h->wanted_wh / scale,
				t->short_frac * t->wanted_wh / scale, worst);
		}
		ck_assert_msg(worst <= tol_frac, "plan %llu, store %zu: apart by %g", it->number, s,
			worst);
	}
	rig_plan_free(plan);
}

static void plain_agrees(uint64_t number, twin_wells how, size_t n_hours, double tol_frac)
{
	static fleet_plan made;
	fleet_make(&made, number);
	const followed it = {&made, {.stride = 1, .sky = fleet_sky(&made)}, n_hours, number};
	agrees_with_twin(&it, how, tol_frac);
}

static void rich_agrees(uint64_t number, twin_wells how, size_t n_hours, double tol_frac)
{
	static fleet_plan made;
	fleet_make_rich(&made, number);
	const followed it = {&made, fleet_draws(&made, number), n_hours, number};
	agrees_with_twin(&it, how, tol_frac);
}

START_TEST(the_kernel_agrees_with_the_twin_in_closed_form)
{
	for (int i = 0; i < 20; i++)
		plain_agrees(number_of(_i, i), TWIN_CLOSED_FORM, FLEET_HOURS, 1e-9);
}
END_TEST

START_TEST(the_kernel_agrees_with_the_differential_equations)
{
	plain_agrees(5000 + (uint64_t)_i, TWIN_SOLVER, SOLVED_HOURS, 1e-6);
}
END_TEST

START_TEST(rich_plans_agree_with_the_twin_in_closed_form)
{
	for (int i = 0; i < 20; i++)
		rich_agrees(number_of(_i, i), TWIN_CLOSED_FORM, FLEET_HOURS, 1e-9);
}
END_TEST

START_TEST(rich_plans_agree_with_the_differential_equations)
{
	rich_agrees(6000 + (uint64_t)_i, TWIN_SOLVER, SOLVED_HOURS, 1e-6);
}
END_TEST

/* ---- what holds for every plan ---- */

/* offered = served + losses + curtailed + change of store, to 1e-9 of what flowed. */
static void conserves_energy(uint64_t number, bool rich)
{
	static fleet_plan made;
	static rig_hour record[FLEET_HOURS * 3];
	(rich ? fleet_make_rich : fleet_make)(&made, number);
	const size_t n_stores = made.parts.n_stores;
	rig_plan *plan = plan_of(&made.parts);
	const rig_standing start = rig_plan_start(plan);
	rig_standing standing = start;
	rig_plan_trace(plan, fleet_sky(&made), FLEET_HOURS, &standing, record);
	for (size_t s = 0; s < n_stores; s++) {
		double in = 0, out = 0, flowed = 0;
		for (size_t hour = 0; hour < FLEET_HOURS; hour++) {
			const rig_demand *d = &rig_plan_demand(plan, s)[hour % 24];
			const rig_hour *h = &record[hour * n_stores + s];
			const double on = 1 - h->short_frac;
			in += h->offered_wh;
			if (rich)
				out += on * h->wanted_wh;
			else
				out += on * d->dc_wh + on * d->ac_wh + on * d->idle_wh +
				       on * d->loss_wh;
			out += h->charged_wh * (1 - made.stores[s].efficiency_frac);
			out += h->lost_wh + h->curtailed_wh;
			flowed += h->offered_wh + h->drawn_wh + h->charged_wh;
		}
		const double change = standing.wells[s].available + standing.wells[s].bound -
				      start.wells[s].available - start.wells[s].bound;
		const double scale = flowed + made.stores[s].kinetic.capacity;
		ck_assert_msg(fabs(in - out - change) <= 1e-9 * flowed + 1e-13 * scale,
			"plan %llu, store %zu: %g Wh of %g Wh astray", (unsigned long long)number,
			s, in - out - change, flowed);
	}
	rig_plan_free(plan);
}

START_TEST(energy_is_conserved)
{
	for (int i = 0; i < PER_TEN; i++)
		conserves_energy(number_of(_i, i), i % 2 == 0);
}
END_TEST

/* Wells between empty and full, shares between 0 and 1, nothing flows backward or both ways. */
static bool is_in_bounds(const rig_store *store, rig_wells w, const rig_hour *hour)
{
	const double capacity = store->kinetic.capacity, c = store->kinetic.available_frac;
	const double slack = 1e-9 * capacity;
	return w.available >= -slack && w.available <= c * capacity + slack && w.bound >= -slack &&
	       w.bound <= (1 - c) * capacity + slack && hour->short_frac >= 0 &&
	       hour->short_frac <= 1 + 1e-12 && hour->charged_wh >= 0 && hour->drawn_wh >= 0 &&
	       (hour->charged_wh == 0 || hour->drawn_wh == 0 || hour->generator_h > 0) &&
	       hour->curtailed_wh >= 0 && hour->lost_wh >= 0 && hour->generator_h >= 0 &&
	       hour->generator_h <= 1 && hour->generator_wh >= 0;
}

static void stays_in_bounds(uint64_t number)
{
	static fleet_plan made;
	static rig_hour record[3];
	(number % 2 ? fleet_make_rich : fleet_make)(&made, number);
	rig_plan *plan = plan_of(&made.parts);
	rig_standing standing = rig_plan_start(plan);
	bool in_bounds = true;
	for (size_t hour = 0; hour < FLEET_HOURS; hour++) {
		rig_plan_trace(plan, fleet_sky(&made), 1, &standing, record);
		for (size_t s = 0; s < made.parts.n_stores; s++)
			in_bounds = in_bounds &&
				    is_in_bounds(&made.stores[s], standing.wells[s], &record[s]);
	}
	ck_assert_msg(in_bounds, "plan %llu", (unsigned long long)number);
	rig_plan_free(plan);
}

START_TEST(wells_stay_between_empty_and_full)
{
	for (int i = 0; i < PER_TEN; i++)
		stays_in_bounds(number_of(_i, i));
}
END_TEST

static double lowest_left_wh(const fleet_plan *made, size_t s)
{
	static rig_hour record[FLEET_HOURS * 3];
	rig_plan *plan = plan_of(&made->parts);
	rig_standing standing = rig_plan_start(plan);
	rig_plan_trace(plan, fleet_sky(made), FLEET_HOURS, &standing, record);
	double lowest = INFINITY;
	for (size_t hour = 0; hour < FLEET_HOURS; hour++)
		lowest = fmin(lowest, record[hour * made->parts.n_stores + s].left_wh);
	rig_plan_free(plan);
	return lowest;
}

START_TEST(more_panel_never_lowers_the_lowest_state)
{
	static fleet_plan made;
	for (int i = 0; i < PER_TEN; i++) {
		fleet_make(&made, number_of(_i, i));
		if (made.parts.n_sources == 0)
			continue;
		const size_t s = made.sources[0].store;
		const double before = lowest_left_wh(&made, s);
		for (size_t k = 0; k < made.parts.n_hours * made.parts.n_knots; k++)
			made.watts_w[0][k] *= 1.3;
		ck_assert_double_ge_tol(
			lowest_left_wh(&made, s), before, 1e-9 * made.stores[s].kinetic.capacity);
	}
}
END_TEST

START_TEST(without_loads_nothing_goes_short)
{
	static fleet_plan made;
	static rig_hour record[FLEET_HOURS * 3];
	for (int i = 0; i < PER_TEN; i++) {
		fleet_make(&made, number_of(_i, i));
		made.parts.n_consumers = 0;
		made.parts.inverter.present = false;
		rig_plan *plan = plan_of(&made.parts);
		rig_standing standing = rig_plan_start(plan);
		rig_plan_trace(plan, fleet_sky(&made), FLEET_HOURS, &standing, record);
		bool none = true;
		for (size_t k = 0; k < FLEET_HOURS * made.parts.n_stores; k++)
			none = none && record[k].short_frac == 0 && record[k].drawn_wh == 0;
		ck_assert_msg(none, "plan %d", _i * PER_TEN + i);
		rig_plan_free(plan);
	}
}
END_TEST

START_TEST(two_runs_end_to_end_are_one_run)
{
	static fleet_plan made;
	static rig_hour whole[FLEET_HOURS * 3], parts[FLEET_HOURS * 3];
	for (int i = 0; i < PER_TEN; i++) {
		(i % 2 ? fleet_make_rich : fleet_make)(&made, number_of(_i, i));
		rig_plan *plan = plan_of(&made.parts);
		const size_t n = made.parts.n_stores, cut = (size_t)i * 3;
		rig_standing standing = rig_plan_start(plan), other = standing;
		rig_plan_trace(plan, fleet_sky(&made), FLEET_HOURS, &standing, whole);
		rig_plan_trace(plan, fleet_sky(&made), cut, &other, parts);
		rig_plan_trace(plan, fleet_sky(&made), FLEET_HOURS - cut, &other, parts + cut * n);
		ck_assert_mem_eq(whole, parts, FLEET_HOURS * n * sizeof *whole);
		rig_plan_free(plan);
	}
}
END_TEST

/* Weather a day later for a trip a day later is the same trip. Sources may be summed in another
 * order, so to rounding only: 1e-12 of the banks and arrays that occur here. */
START_TEST(a_shift_of_a_day_shifts_the_answer)
{
	static fleet_plan made, later;
	static rig_hour here[FLEET_HOURS * 3], there[FLEET_HOURS * 3];
	for (int i = 0; i < PER_TEN; i++) {
		fleet_make(&made, number_of(_i, i));
		fleet_make(&later, number_of(_i, i));
		const size_t row = made.parts.n_knots, n_hours = made.parts.n_hours;
		for (size_t k = 0; k < 4; k++)
			for (size_t hour = 0; hour < n_hours; hour++)
				memcpy(&later.watts_w[k][(hour + 24) % n_hours * row],
					&made.watts_w[k][hour * row], row * sizeof(double));
		for (size_t hour = 0; hour < n_hours; hour++)
			later.temp_c[(hour + 24) % n_hours] = made.temp_c[hour];
		for (size_t day = 0; day + 1 < FLEET_DAYS; day++)
			later.sky[day + 1] = made.sky[day];
		rig_plan *plan = plan_of(&made.parts), *shifted = plan_of(&later.parts);
		rig_standing standing = rig_plan_start(plan), other = rig_plan_start(shifted);
		other.hour = 24;
		const size_t n = FLEET_HOURS - 24;
		rig_plan_trace(plan, fleet_sky(&made), n, &standing, here);
		rig_plan_trace(shifted, fleet_sky(&later), n, &other, there);
		double worst_wh = 0;
		for (size_t k = 0; k < n * made.parts.n_stores; k++)
			worst_wh = farthest(difference_wh(&here[k], &there[k]), 0, worst_wh);
		ck_assert_double_lt(worst_wh, 1e-12 * 1e5);
		rig_plan_free(plan);
		rig_plan_free(shifted);
	}
}
END_TEST

static void add_hand_worked(TCase *all)
{
	tcase_add_test(all, loads_come_back_at_the_reconnect_level);
	tcase_add_test(all, a_day_worked_by_hand_comes_out);
	tcase_add_test(all, two_wells_give_and_recover_as_worked_out);
	tcase_add_loop_test(all, a_faster_draw_gets_less_out, 0, COUNT(EMPTYING));
	tcase_add_test(all, a_lithium_bank_below_its_floor_is_not_charged);
	tcase_add_test(all, a_resting_bank_loses_its_self_discharge);
}

Suite *kernel_suite(void);
Suite *kernel_suite(void)
{
	Suite *suite = suite_create("kernel");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	add_hand_worked(all);
	tcase_add_loop_test(all, the_kernel_agrees_with_the_twin_in_closed_form, 0, N_TENS);
	tcase_add_loop_test(all, the_kernel_agrees_with_the_differential_equations, 0, N_SOLVED);
	tcase_add_loop_test(all, rich_plans_agree_with_the_twin_in_closed_form, 0, N_TENS);
	tcase_add_loop_test(all, rich_plans_agree_with_the_differential_equations, 0, N_SOLVED);
	tcase_add_loop_test(all, energy_is_conserved, 0, N_TENS);
	tcase_add_loop_test(all, wells_stay_between_empty_and_full, 0, N_TENS);
	tcase_add_loop_test(all, more_panel_never_lowers_the_lowest_state, 0, N_TENS);
	tcase_add_loop_test(all, without_loads_nothing_goes_short, 0, N_TENS);
	tcase_add_loop_test(all, two_runs_end_to_end_are_one_run, 0, N_TENS);
	tcase_add_loop_test(all, a_shift_of_a_day_shifts_the_answer, 0, N_TENS);
	suite_add_tcase(suite, all);
	return suite;
}
