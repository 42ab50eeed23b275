/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/voltage_case.h"

#include <math.h>

rig_volts_range rig_volts_judge(double volts_v, const rig_c84_limits *limits)
{
	if (volts_v < limits->b_low_v)
		return RIG_VOLTS_LOW;
	if (volts_v > limits->b_high_v)
		return RIG_VOLTS_HIGH;
	return volts_v < limits->a_low_v || volts_v > limits->a_high_v ? RIG_VOLTS_RANGE_B
								       : RIG_VOLTS_RANGE_A;
}

/* Loads that answer to the same volts alike count as one; of more kinds than these the rest stand
 * for themselves. */
enum { MOST_KINDS = 12 };

static bool are_of_a_kind(const rig_feed_load *a, const rig_feed_load *b)
{
	return a->place == b->place && a->response == b->response && a->rated_v == b->rated_v;
}

/* Adds a load to the list, to those of its kind if there are any. */
static size_t gather(rig_feed_load *loads, size_t n, rig_feed_load more)
{
	for (size_t k = 0; k < n && k < MOST_KINDS; k++)
		if (are_of_a_kind(&loads[k], &more)) {
			loads[k].draw.active_w += more.draw.active_w;
			loads[k].draw.reactive_va += more.draw.reactive_va;
			return n;
		}
	loads[n] = more;
	return n + 1;
}

rig_status rig_volts_solve(const rig_volts_question *question, const bool *on,
	const rig_feed_ends *ends, const rig_feed *feed, rig_feed_state *state)
{
	const rig_shore_case *c = question->c;
	const rig_feed own = rig_feed_of(question->path, question->supply, ends);
	rig_feed_ends still = *ends;
	still.leg[0] = still.leg[1] = still.across = RIG_LIKELY;
	size_t n = 0;
	for (size_t i = 0; i < c->n_units; i++) {
		if (!on[i])
			continue;
		const bool errs = !question->alone || c->units[i].load == *question->alone;
		const int leg = ends->loose_leg >= 0 ? ends->loose_leg : question->leg[i];
		n = gather(question->loads, n,
			rig_feed_unit(c, &c->units[i], errs ? ends : &still, leg));
	}
	if (question->extra)
		question->loads[n++] = *question->extra;
	return rig_feed_solve(feed ? feed : &own, question->loads, n, state);
}

static void widen(rig_figure *figure, double value)
{
	figure->low = fmin(figure->low, value);
	figure->high = fmax(figure->high, value);
}

/* Share of the resistance that is the coach's own: adapter and cord. */
static double cord_share(const rig_voltage_path *path, int end)
{
	const rig_figure *all = &path->total_ohm;
	const rig_figure *site = &path->source_ohm;
	const double total_ohm = end == RIG_LOW    ? all->low
				 : end == RIG_HIGH ? all->high
						   : all->likely;
	const double source_ohm = end == RIG_LOW    ? site->low
				  : end == RIG_HIGH ? site->high
						    : site->likely;
	return total_ohm > 0 ? 1.0 - source_ohm / total_ohm : 0.0;
}

/* Volts at the receptacle on a leg: those at the coach and the share of the loss that lies behind.
 */
static double pedestal_v(
	const rig_volts_question *question, const rig_feed_ends *ends, double leg_v)
{
	const rig_figure open = question->path->open_v;
	const double open_v = ends->open == RIG_LOW    ? open.low
			      : ends->open == RIG_HIGH ? open.high
						       : open.likely;
	return leg_v + (open_v - leg_v) * cord_share(question->path, ends->wires);
}

static rig_figure exactly(double value)
{
	return rig_figure_of(value, RIG_FROM_COMPUTED);
}

static void take_likely(
	const rig_volts_question *question, const rig_feed_state *solved, rig_voltage_state *state)
{
	const rig_feed_ends ends = rig_feed_likely();
	const bool two = question->supply->n_hots == 2;
	for (int leg = 0; leg < (two ? 2 : 1); leg++) {
		state->leg_v[leg] = exactly(solved->leg_v[leg]);
		state->hot_a[leg] = exactly(solved->hot_a[leg]);
	}
	if (two)
		state->across_v = exactly(solved->across_v);
	state->neutral_a = exactly(solved->neutral_a);
	state->lost_w = exactly(solved->lost_w * cord_share(question->path, RIG_LIKELY));
	const double lower_v = fmin(solved->leg_v[0], solved->leg_v[1]);
	state->pedestal_v = exactly(pedestal_v(question, &ends, lower_v));
}

/* What one end of one leg's volts shows. */
static void take_end(const rig_volts_question *question, const rig_feed_ends *ends, int leg,
	const rig_feed_state *solved, rig_voltage_state *state)
{
	const bool two = question->supply->n_hots == 2;
	widen(&state->leg_v[leg], solved->leg_v[leg]);
	for (int k = 0; k < (two ? 2 : 1); k++)
		widen(&state->hot_a[k], solved->hot_a[k]);
	if (two)
		widen(&state->across_v, solved->across_v);
	widen(&state->neutral_a, solved->neutral_a);
	widen(&state->lost_w, solved->lost_w * cord_share(question->path, ends->wires));
	if (leg == state->low_leg)
		widen(&state->pedestal_v, pedestal_v(question, ends, solved->leg_v[leg]));
	state->gave_up |= ends->open == RIG_LOW && solved->gave_up;
}

/* Volts of a unit's leg over the nominal ones: half of those across for 240 V. */
static double volts_of(
	const rig_volts_question *question, const rig_voltage_state *state, size_t unit, int end)
{
	const rig_shore_unit *of = &question->c->units[unit];
	const int leg = of->leg >= 0 ? of->leg : question->leg[unit];
	const rig_figure *figure =
		&state->leg_v[question->supply->n_hots == 2 && !of->two_hots ? leg : 0];
	const rig_figure half = rig_figure_scale(state->across_v, 0.5);
	if (of->two_hots)
		figure = &half;
	return end == RIG_LOW ? figure->low : figure->likely;
}

static bool is_compressor(const rig_shore_case *c, const rig_shore_unit *unit)
{
	return unit->load != RIG_SHORE_CHARGER &&
	       c->coach->loads[unit->load].behaviour == RIG_COMPRESSOR;
}

static void judge_compressors(
	const rig_volts_question *question, const bool *on, rig_voltage_state *state)
{
	const rig_shore_case *c = question->c;
	for (size_t i = 0; i < c->n_units; i++) {
		if (!on[i] || !is_compressor(c, &c->units[i]))
			continue;
		state->compressor_low |=
			volts_of(question, state, i, RIG_LIKELY) < RIG_COMPRESSOR_FLOOR_V;
		state->compressor_may_be_low |=
			volts_of(question, state, i, RIG_LOW) < RIG_COMPRESSOR_FLOOR_V;
	}
}

/* The leg that is graver, of equals the lower one. */
static int pick_leg(const rig_volts_question *question, const rig_voltage_state *state)
{
	if (question->supply->n_hots < 2)
		return 0;
	const double volts_v[2] = {state->leg_v[0].likely, state->leg_v[1].likely};
	const rig_volts_range range[2] = {rig_volts_judge(volts_v[0], &question->limits),
		rig_volts_judge(volts_v[1], &question->limits)};
	return range[0] != range[1] ? range[1] > range[0] : volts_v[1] < volts_v[0];
}

rig_status rig_volts_state(
	const rig_volts_question *question, const bool *on, rig_voltage_state *state)
{
	const int n_hots = question->supply->n_hots == 2 ? 2 : 1;
	const rig_feed_ends likely = rig_feed_likely();
	rig_feed_state solved;
	*state = (rig_voltage_state){0};
	rig_status status = rig_volts_solve(question, on, &likely, NULL, &solved);
	if (status != RIG_OK)
		return status;
	take_likely(question, &solved, state);
	state->low_leg = pick_leg(question, state);
	for (int k = 0; k < 2 * n_hots; k++) {
		const rig_feed_ends ends =
			rig_feed_worst(n_hots, k / 2, k % 2 == 0 ? RIG_LOW : RIG_HIGH);
		status = rig_volts_solve(question, on, &ends, NULL, &solved);
		if (status != RIG_OK)
			return status;
		take_end(question, &ends, k / 2, &solved, state);
	}
	const rig_figure *legs = state->leg_v;
	const double lowest_v = n_hots == 2 ? fmin(legs[0].low, legs[1].low) : legs[0].low;
	const double highest_v = n_hots == 2 ? fmax(legs[0].high, legs[1].high) : legs[0].high;
	state->range = rig_volts_judge(legs[state->low_leg].likely, &question->limits);
	state->at_low = rig_volts_judge(lowest_v, &question->limits);
	state->at_high = rig_volts_judge(highest_v, &question->limits);
	judge_compressors(question, on, state);
	return RIG_OK;
}
