/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_measure.h"

#include <math.h>

#include "rigbudget/trip.h"
#include "studies/solar_bank.h"

/* An input that moves what is left over by so many Wh a day. */
static rig_measure input_of(rig_measure_kind kind, int index, double left_wh, const double wh[3])
{
	rig_measure input = {.kind = kind, .index = index};
	for (int end = 0; end < 3; end++)
		input.outcome[end] = left_wh + wh[end];
	input.decides = (fmin(input.outcome[0], input.outcome[2]) < 0) !=
			(fmax(input.outcome[0], input.outcome[2]) < 0);
	return input;
}

static rig_measure input_of_draw(
	rig_measure_kind kind, int index, double left_wh, rig_figure drawn_wh)
{
	const double wh[3] = {drawn_wh.likely - drawn_wh.low, 0, drawn_wh.likely - drawn_wh.high};
	return input_of(kind, index, left_wh, wh);
}

static size_t add_harvest(const solar_measure_of *of, double left_wh, rig_measure *inputs)
{
	static const rig_measure_kind KIND[RIG_N_SOLAR_DOUBTS] = {RIG_MEASURE_PANEL_W,
		RIG_MEASURE_PANEL_LOSSES, RIG_MEASURE_SUN, RIG_MEASURE_WEATHER};
	if (of->bank->n_arrays == 0)
		return 0;
	for (int d = 0; d < RIG_N_SOLAR_DOUBTS; d++) {
		const rig_figure at = of->bank->months[of->month].doubt_wh_day[d];
		const double wh[3] = {at.low - at.likely, 0, at.high - at.likely};
		inputs[d] = input_of(KIND[d], -1, left_wh, wh);
	}
	return RIG_N_SOLAR_DOUBTS;
}

/* One reading of the battery's cable with everything off tells all of it at once. */
static size_t add_standing(const solar_measure_of *of, double left_wh, rig_measure *inputs)
{
	inputs[0] = input_of_draw(
		RIG_MEASURE_STANDING, of->bank->bank, left_wh, of->bank->standing_wh_day);
	return 1;
}

/* Whether a load's use counts, besides what always draws. */
static bool is_used(const solar_measure_of *of, int load)
{
	const rig_away away = rig_load_away(of->coach, load, of->habit);
	const rig_load *own = &of->coach->loads[load];
	if (own->always_on == RIG_YES)
		return false;
	return (away == RIG_RUNS_ON_BANK && own->bank_index == of->bank->bank) ||
	       (away == RIG_RUNS_ON_INVERTER && of->coach->inverter.bank_index == of->bank->bank);
}

static size_t add_use(const solar_measure_of *of, double left_wh, rig_measure *inputs)
{
	size_t n = 0;
	for (int load = 0; load < (int)of->coach->n_loads; load++)
		if (is_used(of, load))
			inputs[n++] = input_of_draw(RIG_MEASURE_LOAD_DAY, load, left_wh,
				solar_load_wh(of->coach, load, of->habit));
	return n;
}

rig_status solar_measures(const solar_measure_of *of, size_t *n_measures, rig_measure **measures)
{
	const rig_solar_bank *bank = of->bank;
	rig_measure *inputs = rig_arena_take(
		of->arena, RIG_N_SOLAR_DOUBTS + 1 + of->coach->n_loads, sizeof *inputs);
	if (inputs == NULL)
		return RIG_NO_MEMORY;
	const rig_figure drawn = of->with_use ? bank->use_wh_day : bank->standing_wh_day;
	const double left_wh = bank->months[of->month].harvest_wh_day.likely - drawn.likely;
	size_t n = add_harvest(of, left_wh, inputs);
	n += add_standing(of, left_wh, inputs + n);
	if (of->with_use)
		n += add_use(of, left_wh, inputs + n);
	rig_measure_shares(n, inputs);
	*n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
	*measures = inputs;
	return RIG_OK;
}
