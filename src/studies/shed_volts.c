/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_volts.h"

#include <math.h>

#include "rigbudget/voltage.h"

static const double NOMINAL_V[SHED_N_PLACES] = {120.0, 120.0, 240.0};
static const double SETTLED_V = 1e-3;
/* Further steps would not help: the feed is near collapse. */
enum { MOST_STEPS = 16 };
/* Above RIG_GIVES_UP_RATIO by enough that no step of a settled answer comes near it. */
static const double LEAST_RATIO = 0.8;

/* Own arithmetic: the compiler's calls its library for each product. */
typedef struct {
	double re, im;
} number;

static number multiply(number a, number b)
{
	return (number){a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}

shed_sums shed_sums_of(const shed_model *model, const shed_state *state)
{
	shed_sums sums = {0};
	for (size_t u = 0; u < model->n_units; u++) {
		const shed_unit_state *now = &state->unit[u];
		if (!now->running)
			continue;
		const shed_unit *unit = &model->units[u];
		rig_phasor *sum = &sums.draw[unit->place][unit->response];
		sum->active_w += now->level * unit->draw.active_w;
		sum->reactive_va += now->level * unit->draw.reactive_va;
	}
	return sums;
}

/* ratio^n by its first three terms about 1: within 0.003 % from LEAST_RATIO to 110 %. */
static double shaft_ratio(double ratio)
{
	const double n = rig_feed_exponent(RIG_HOLDS_SHAFT, ratio);
	const double more = ratio - 1.0;
	return 1.0 + n * more * (1.0 + (n - 1.0) / 2.0 * more);
}

/* What the loads of a place draw at volts u. */
static number current(const rig_phasor draw[SHED_N_RESPONSES], double nominal_v, number u)
{
	const rig_phasor *heat = &draw[RIG_HOLDS_RESISTANCE], *power = &draw[RIG_HOLDS_POWER],
			 *motor = &draw[RIG_HOLDS_SHAFT];
	const double square_v2 = u.re * u.re + u.im * u.im;
	const double shaft = motor->active_w > 0 ? shaft_ratio(sqrt(square_v2) / nominal_v) : 1.0;
	const double held_w = power->active_w + shaft * motor->active_w;
	const double held_va = power->reactive_va + shaft * motor->reactive_va;
	const double nominal_v2 = nominal_v * nominal_v;
	const number admittance = {heat->active_w / nominal_v2 + held_w / square_v2,
		-heat->reactive_va / nominal_v2 - held_va / square_v2};
	return multiply(admittance, u);
}

/* u = E - Z i(u), each conductor with the same Z; gives the larger change, V. */
static double step(const shed_model *model, const shed_sums *sums, number u[2])
{
	const rig_feed *feed = &model->feed;
	const number z = {feed->hot[0].resistance_ohm, feed->hot[0].reactance_ohm};
	const bool split = feed->kind == RIG_FEED_SPLIT;
	const number i1 = current(sums->draw[RIG_ON_LEG_1], NOMINAL_V[RIG_ON_LEG_1], u[0]);
	number i2 = {0, 0}, across = {0, 0};
	if (split) {
		i2 = current(sums->draw[RIG_ON_LEG_2], NOMINAL_V[RIG_ON_LEG_2], u[1]);
		if (model->draws_across)
			across = current(sums->draw[RIG_ACROSS_LEGS], NOMINAL_V[RIG_ACROSS_LEGS],
				(number){u[0].re + u[1].re, u[0].im + u[1].im});
	}
	double change_v = 0;
	for (int leg = 0; leg < (split ? 2 : 1); leg++) {
		const number own = leg == 0 ? i1 : i2, other = leg == 0 ? i2 : i1;
		const number sum = {
			2 * own.re - other.re + across.re, 2 * own.im - other.im + across.im};
		const number lost = multiply(z, sum);
		const number next = {feed->open_v - lost.re, -lost.im};
		change_v = fmax(change_v, fabs(next.re - u[leg].re) + fabs(next.im - u[leg].im));
		u[leg] = next;
	}
	return change_v;
}

static double magnitude(number u)
{
	return sqrt(u.re * u.re + u.im * u.im);
}

rig_status shed_solve_sums(const rig_feed *feed, const shed_sums *sums, double leg_v[2])
{
	rig_feed_load loads[SHED_N_PLACES * SHED_N_RESPONSES];
	size_t n = 0;
	for (int place = 0; place < SHED_N_PLACES; place++)
		for (int response = 0; response < SHED_N_RESPONSES; response++) {
			const rig_phasor draw = sums->draw[place][response];
			if (draw.active_w <= 0 && draw.reactive_va <= 0)
				continue;
			loads[n++] = (rig_feed_load){.draw = draw,
				.rated_v = NOMINAL_V[place],
				.response = (rig_voltage_response)response,
				.place = (rig_feed_place)place};
		}
	rig_feed_state solved;
	const rig_status status = rig_feed_solve(feed, loads, n, &solved);
	if (status != RIG_OK)
		return status;
	leg_v[0] = solved.leg_v[0];
	leg_v[1] = solved.leg_v[1];
	return RIG_OK;
}

rig_status shed_leg_volts(const shed_model *model, const shed_sums *sums, double leg_v[2])
{
	number u[2] = {{model->feed.open_v, 0}, {model->feed.open_v, 0}};
	double before_v = INFINITY, change_v = INFINITY;
	for (int i = 0; i < MOST_STEPS && change_v > SETTLED_V; i++) {
		change_v = step(model, sums, u);
		if (!(change_v <= 0.5 * before_v) ||
			!(fmin(u[0].re, u[1].re) > LEAST_RATIO * NOMINAL_V[0]))
			return shed_solve_sums(&model->feed, sums, leg_v);
		before_v = change_v;
	}
	leg_v[0] = magnitude(u[0]);
	leg_v[1] = model->feed.kind == RIG_FEED_SPLIT ? magnitude(u[1]) : leg_v[0];
	return RIG_OK;
}

/* ---- in the course of a day ---- */

/* Volts that a running compressor sees on a leg: half of those across for 240 V. */
static void note_compressors(const shed_run *run, shed_state *state)
{
	const double half_v = (state->volts.leg_v[0] + state->volts.leg_v[1]) / 2.0;
	for (size_t u = 0; u < run->model->n_units; u++) {
		const shed_unit *unit = &run->model->units[u];
		if (!unit->compressor || !state->unit[u].running)
			continue;
		const bool across = unit->place == RIG_ACROSS_LEGS;
		for (int leg = 0; leg < run->model->n_hots; leg++)
			if (across || (int)unit->place == leg)
				state->volts.compressor_low[leg] |=
					(across ? half_v : state->volts.leg_v[leg]) <
					RIG_COMPRESSOR_FLOOR_V;
	}
}

void shed_refresh_volts(const shed_run *run, shed_state *state)
{
	shed_volts_state *volts = &state->volts;
	volts->live = run->model->has_volts && !state->dark;
	volts->compressor_low[0] = volts->compressor_low[1] = false;
	volts->leg_v[0] = volts->leg_v[1] = 0;
	if (!volts->live)
		return;
	volts->sums = shed_sums_of(run->model, state);
	if (shed_leg_volts(run->model, &volts->sums, volts->leg_v) != RIG_OK)
		volts->failed = true;
	if (fmin(volts->leg_v[0], volts->leg_v[1]) < RIG_COMPRESSOR_FLOOR_V)
		note_compressors(run, state);
}

void shed_book_volts(const shed_run *run, const shed_state *state, double seconds)
{
	const shed_volts_state *volts = &state->volts;
	const rig_c84_limits limits = rig_c84_utilization(RIG_C84_2011);
	if (!volts->live)
		return;
	run->tally->live_s += seconds;
	for (int leg = 0; leg < run->model->n_hots; leg++) {
		shed_leg_tally *to = &run->tally->leg[leg];
		const double volts_v = volts->leg_v[leg];
		const double bin = volts_v / SHED_BIN_V;
		to->bin_s[bin < SHED_N_VOLT_BINS - 1 ? (int)bin : SHED_N_VOLT_BINS - 1] += seconds;
		to->volt_s += seconds * volts_v;
		to->below_a_s += volts_v < limits.a_low_v ? seconds : 0;
		to->below_b_s += volts_v < limits.b_low_v ? seconds : 0;
		to->compressor_low_s += volts->compressor_low[leg] ? seconds : 0;
		if (to->lowest_v > 0 && volts_v >= to->lowest_v)
			continue;
		to->lowest_v = volts_v;
		to->lowest = volts->sums;
	}
}
