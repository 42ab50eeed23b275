/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_doubt.h"

#include <string.h>

/* The element of one budget in another of the same set and supply. */
static const rig_shore_flow *flow_of(
	const rig_shore_budget *budget, rig_shore_element element, int index)
{
	switch (element) {
	case RIG_SHORE_LEG:
		return &budget->leg[index];
	case RIG_SHORE_MAIN:
		return &budget->main;
	case RIG_SHORE_NEUTRAL:
		return &budget->neutral;
	case RIG_SHORE_CIRCUIT:
		for (size_t i = 0; i < budget->n_circuits; i++)
			if (budget->circuits[i].circuit == index)
				return &budget->circuits[i].flow;
		break;
	case RIG_SHORE_NO_ELEMENT:
		break;
	}
	return NULL;
}

/* The case with every unit but those of one load at its likely draw. */
static void still_all_but(const rig_shore_case *c, int load, rig_shore_unit *units)
{
	memcpy(units, c->units, c->n_units * sizeof *units);
	for (size_t i = 0; i < c->n_units; i++) {
		rig_shore_unit *unit = &units[i];
		if (unit->load == load)
			continue;
		unit->power[RIG_LOW] = unit->power[RIG_HIGH] = unit->power[RIG_LIKELY];
		unit->hot[RIG_LOW] = unit->hot[RIG_HIGH] = unit->hot[RIG_LIKELY];
	}
}

/* Loaded amps of the limiting element with one load alone in doubt. */
static rig_status reckon_with(const shore_doubt_of *of, int load, rig_figure *loaded_a)
{
	rig_shore_case still = *of->c;
	rig_shore_budget trial = {.supply = of->budget->supply};
	rig_status status = RIG_NO_MEMORY;
	still.arena = rig_arena_new();
	if (still.arena != NULL)
		still.units = rig_arena_take(still.arena, still.n_units, sizeof *still.units);
	if (still.arena == NULL || still.units == NULL)
		goto out;
	still_all_but(of->c, load, still.units);
	status = rig_shore_reckon(&still, of->supply, of->on, &trial);
	const rig_shore_flow *flow =
		status == RIG_OK ? flow_of(&trial, of->budget->limiting, of->budget->limiting_index)
				 : NULL;
	if (flow != NULL)
		*loaded_a = flow->loaded_a;
out:
	rig_arena_free(still.arena);
	return status;
}

/* No load has this index: nothing but where the unplaced loads stand is then in doubt. */
static const int NO_LOAD = -9;

static rig_measure input_of(const shore_doubt_of *of, int load, rig_figure base, rig_figure with)
{
	const double limit_a = of->budget->limiting_flow.limit_a;
	rig_measure input = {
		.kind = load == RIG_SHORE_CHARGER ? RIG_MEASURE_CHARGER : RIG_MEASURE_AC_LOAD,
		.index = load,
		.outcome = {base.likely + with.low - base.low, base.likely,
			base.likely + with.high - base.high}};
	if (load == NO_LOAD) {
		input.kind = RIG_MEASURE_LEG;
		input.outcome[0] = with.low;
		input.outcome[2] = with.high;
	}
	input.decides = (input.outcome[0] > limit_a) != (input.outcome[2] > limit_a);
	return input;
}

/* The first load on of which nobody says the leg; NO_LOAD if there is none. */
static int first_unplaced(const shore_doubt_of *of)
{
	for (size_t i = 0; i < of->c->n_units; i++) {
		const rig_shore_unit *unit = &of->c->units[i];
		if (of->on->unit[i] && unit->leg < 0 && !unit->two_hots)
			return unit->load;
	}
	return NO_LOAD;
}

static bool is_first_of_load(const shore_doubt_of *of, size_t i)
{
	return of->on->unit[i] && (i == 0 || of->c->units[i - 1].load != of->c->units[i].load);
}

static bool is_in_doubt(const rig_measure *input)
{
	return input->outcome[0] < input->outcome[1] || input->outcome[2] > input->outcome[1];
}

rig_status rig_shore_doubt(const shore_doubt_of *of)
{
	rig_shore_budget *budget = of->budget;
	rig_figure base, with;
	if (budget->limiting == RIG_SHORE_NO_ELEMENT)
		return RIG_OK;
	rig_measure *inputs = rig_arena_take(of->c->arena, of->c->n_units + 1, sizeof *inputs);
	if (inputs == NULL)
		return RIG_NO_MEMORY;
	base = budget->limiting_flow.loaded_a;
	rig_status status = reckon_with(of, NO_LOAD, &base);
	size_t n = 0;
	if (status == RIG_OK && budget->unplaced) {
		inputs[n] = input_of(of, NO_LOAD, base, base);
		inputs[n].index = first_unplaced(of);
		n += is_in_doubt(&inputs[n]);
	}
	for (size_t i = 0; i < of->c->n_units && status == RIG_OK; i++) {
		if (!is_first_of_load(of, i))
			continue;
		with = base;
		status = reckon_with(of, of->c->units[i].load, &with);
		inputs[n] = input_of(of, of->c->units[i].load, base, with);
		n += is_in_doubt(&inputs[n]);
	}
	rig_measure_shares(n, inputs);
	budget->measures = inputs;
	budget->n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
	return status;
}
