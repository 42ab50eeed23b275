/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/voltage_doubt.h"

#include <math.h>

/* Figures of the path that only one input moves: the rest stands at its likely value. */
static rig_voltage_path path_with(const rig_voltage_path *path, rig_figure one_ohm)
{
	rig_voltage_path made = *path;
	const double likely_ohm = path->total_ohm.likely;
	made.total_ohm = rig_figure_range(likely_ohm + (one_ohm.low - one_ohm.likely), likely_ohm,
		likely_ohm + (one_ohm.high - one_ohm.likely), RIG_FROM_COMPUTED);
	made.total_m = rig_figure_of(path->total_m.likely, RIG_FROM_COMPUTED);
	return made;
}

/* One input's ends in hand. */
typedef struct {
	const voltage_doubt_of *of;
	rig_volts_question question;
	rig_feed_ends at[2]; /* low and high volts of the leg */
} trial;

/* Volts of the leg that is farthest out, with one input at its ends. */
static rig_status solve(const trial *it, rig_measure *input)
{
	const int leg = it->of->state->low_leg;
	input->outcome[1] = it->of->state->leg_v[leg].likely;
	for (int i = 0; i < 2; i++) {
		rig_feed_state solved;
		const rig_status status =
			rig_volts_solve(&it->question, it->of->live, &it->at[i], NULL, &solved);
		/* where no steady state is left the volts fall without end */
		if (status == RIG_NO_SOLUTION)
			solved.leg_v[leg] = 0;
		else if (status != RIG_OK)
			return status;
		input->outcome[i == 0 ? 0 : 2] = solved.leg_v[leg];
	}
	const rig_c84_limits *limits = &it->of->question->limits;
	input->decides = rig_volts_judge(input->outcome[0], limits) !=
			 rig_volts_judge(input->outcome[2], limits);
	return RIG_OK;
}

static trial trial_of(const voltage_doubt_of *of)
{
	trial it = {.of = of, .question = *of->question};
	it.at[0] = it.at[1] = rig_feed_likely();
	return it;
}

static rig_status add_way(const voltage_doubt_of *of, rig_measure *inputs, size_t *n)
{
	const rig_voltage_path *path = of->question->path;
	const rig_figure cord_ohm = rig_figure_given(path->adapter_ohm)
					    ? rig_figure_add(path->cord_ohm, path->adapter_ohm)
					    : path->cord_ohm;
	trial open = trial_of(of);
	open.at[0].open = RIG_LOW;
	open.at[1].open = RIG_HIGH;
	inputs[*n] = (rig_measure){.kind = RIG_MEASURE_OPEN_V, .index = -1};
	rig_status status = solve(&open, &inputs[(*n)++]);
	const struct {
		rig_measure_kind kind;
		rig_figure ohm;
	} wires[] = {{RIG_MEASURE_SOURCE, path->source_ohm}, {RIG_MEASURE_CORD, cord_ohm}};
	for (int i = 0; i < 2 && status == RIG_OK; i++) {
		const rig_voltage_path one = path_with(path, wires[i].ohm);
		trial it = trial_of(of);
		it.question.path = &one;
		it.at[0].wires = RIG_HIGH;
		it.at[1].wires = RIG_LOW;
		inputs[*n] = (rig_measure){.kind = wires[i].kind, .index = -1};
		status = solve(&it, &inputs[(*n)++]);
	}
	return status;
}

static bool has_one_draw(const rig_shore_case *c, int load, size_t first)
{
	for (size_t i = first; i < c->n_units && c->units[i].load == load; i++)
		for (int end = 0; end < RIG_N_ENDS; end++)
			if (c->units[i].power[end].active_w !=
					c->units[i].power[RIG_LIKELY].active_w ||
				c->units[i].power[end].reactive_va !=
					c->units[i].power[RIG_LIKELY].reactive_va)
				return false;
	return true;
}

/* The load whose first unit that is. What can only draw one figure is in no doubt. */
static rig_status add_load(const voltage_doubt_of *of, size_t first, rig_measure *inputs, size_t *n)
{
	const rig_shore_case *c = of->question->c;
	const int load = c->units[first].load;
	if (has_one_draw(c, load, first))
		return RIG_OK;
	trial it = trial_of(of);
	it.question.alone = &load;
	for (int i = 0; i < 2; i++) {
		const int draw = i == 0 ? RIG_HIGH : RIG_LOW;
		it.at[i].leg[0] = it.at[i].leg[1] = it.at[i].across = draw;
	}
	inputs[*n] = (rig_measure){
		.kind = load == RIG_SHORE_CHARGER ? RIG_MEASURE_CHARGER : RIG_MEASURE_AC_LOAD,
		.index = load};
	return solve(&it, &inputs[(*n)++]);
}

enum { N_WAYS = 3 };

rig_status rig_voltage_doubt(const voltage_doubt_of *of, rig_voltage_case *to)
{
	const rig_shore_case *c = of->question->c;
	rig_measure *inputs = rig_arena_take(c->arena, c->n_units + N_WAYS, sizeof *inputs);
	if (inputs == NULL)
		return RIG_NO_MEMORY;
	size_t n = 0;
	rig_status status = add_way(of, inputs, &n);
	for (size_t i = 0; i < c->n_units && status == RIG_OK; i++) {
		const bool again = i > 0 && c->units[i - 1].load == c->units[i].load;
		if (of->live[i] && !again)
			status = add_load(of, i, inputs, &n);
	}
	if (status != RIG_OK)
		return status;
	rig_measure_shares(n, inputs);
	to->measures = inputs;
	to->n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
	return RIG_OK;
}
