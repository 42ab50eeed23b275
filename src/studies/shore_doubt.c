/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_doubt.h"

#include <math.h>
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

rig_status rig_shore_doubt_reckoned(const shore_doubt_of *of, int load, rig_figure *loaded_a)
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

/* ---- the same without the rest of the budget ---- */

/* Sums are made of what is known to be there, what is dealt to leg 1 and what is dealt to leg 2,
 * each by itself, as the budget makes them. */
enum { FIXED, DEALT_1, DEALT_2, N_PARTS };

struct shore_element {
	size_t n[N_PARTS];
	const rig_shore_unit **members[N_PARTS];
	rig_phasor *likely[N_PARTS]; /* loaded, of each member */
	bool counts[N_PARTS][RIG_N_ENDS];
};

static rig_phasor loaded(const rig_shore_unit *unit, int end)
{
	return rig_phasor_scale(unit->hot[end], unit->continuous ? RIG_CONTINUOUS_FACTOR : 1.0);
}

/* The part of the limiting element's sum that a unit belongs to; N_PARTS for none. */
static int part_of(const shore_doubt_of *of, const unsigned char *leg, size_t index)
{
	const rig_shore_unit *unit = &of->c->units[index];
	if (!of->on->unit[index] || rig_shore_is_dead(of->supply, unit))
		return N_PARTS;
	const int at = of->budget->limiting_index;
	switch (of->budget->limiting) {
	case RIG_SHORE_MAIN:
		return FIXED;
	case RIG_SHORE_CIRCUIT:
		return unit->circuit == at ? FIXED : N_PARTS;
	case RIG_SHORE_LEG:
		if (unit->leg < 0 && !unit->two_hots)
			return leg[index] == 0 ? DEALT_1 : DEALT_2;
		return unit->two_hots || unit->leg == at ? FIXED : N_PARTS;
	case RIG_SHORE_NEUTRAL:
	case RIG_SHORE_NO_ELEMENT:
		break;
	}
	return N_PARTS;
}

rig_status rig_shore_element_of(const shore_doubt_of *of, rig_arena *arena, shore_element **element)
{
	const size_t n = of->c->n_units;
	shore_element *made = rig_arena_take(arena, 1, sizeof *made);
	unsigned char *leg = rig_arena_take(arena, n, sizeof *leg);
	bool *live = rig_arena_take(arena, n, sizeof *live);
	if (made == NULL || leg == NULL || live == NULL)
		return RIG_NO_MEMORY;
	for (int part = 0; part < N_PARTS; part++) {
		made->members[part] = rig_arena_take(arena, n, sizeof(const rig_shore_unit *));
		made->likely[part] = rig_arena_take(arena, n, sizeof *made->likely[part]);
		if (made->members[part] == NULL || made->likely[part] == NULL)
			return RIG_NO_MEMORY;
		for (int end = 0; end < RIG_N_ENDS; end++)
			made->counts[part][end] = part == FIXED || end == RIG_HIGH ||
						  part - DEALT_1 == of->budget->limiting_index;
	}
	for (size_t i = 0; i < n; i++)
		live[i] = of->on->unit[i] && !rig_shore_is_dead(of->supply, &of->c->units[i]);
	const rig_status status = rig_shore_deal(of->c, of->supply, live, leg);
	for (size_t i = 0; status == RIG_OK && i < n; i++) {
		const int part = part_of(of, leg, i);
		if (part == N_PARTS)
			continue;
		made->likely[part][made->n[part]] = loaded(&of->c->units[i], RIG_LIKELY);
		made->members[part][made->n[part]++] = &of->c->units[i];
	}
	*element = made;
	return status;
}

static rig_phasor sum_part(const shore_element *element, int part, int load, int end)
{
	rig_phasor sum = {0};
	for (size_t i = 0; i < element->n[part]; i++) {
		const rig_shore_unit *unit = element->members[part][i];
		const rig_phasor one =
			unit->load == load ? loaded(unit, end) : element->likely[part][i];
		sum.active_w += one.active_w;
		sum.reactive_va += one.reactive_va;
	}
	return sum;
}

rig_figure rig_shore_element_loaded_a(const shore_element *element, int load)
{
	double va[RIG_N_ENDS];
	for (int end = 0; end < RIG_N_ENDS; end++) {
		rig_phasor sum = sum_part(element, FIXED, load, end);
		for (int part = DEALT_1; part < N_PARTS; part++)
			if (element->counts[part][end])
				sum = rig_phasor_add(sum, sum_part(element, part, load, end));
		va[end] = rig_phasor_va(sum);
	}
	const rig_figure all = rig_figure_range(fmin(va[RIG_LOW], va[RIG_LIKELY]), va[RIG_LIKELY],
		fmax(va[RIG_LIKELY], va[RIG_HIGH]), RIG_FROM_COMPUTED);
	return rig_figure_scale(all, 1.0 / RIG_HOT_V);
}

/* A load at one draw, or one that the element does not carry, is in no doubt. */
static bool may_err(const shore_doubt_of *of, size_t first)
{
	const rig_shore_unit *unit = &of->c->units[first];
	for (int end = 0; end < RIG_N_ENDS; end++)
		if (unit->hot[end].active_w != unit->hot[RIG_LIKELY].active_w ||
			unit->hot[end].reactive_va != unit->hot[RIG_LIKELY].reactive_va)
			return true;
	return false;
}

static rig_status loaded_with(
	const shore_doubt_of *of, const shore_element *element, int load, rig_figure *loaded_a)
{
	/* a neutral's amps are no sum of loads */
	if (of->budget->limiting == RIG_SHORE_NEUTRAL)
		return rig_shore_doubt_reckoned(of, load, loaded_a);
	*loaded_a = rig_shore_element_loaded_a(element, load);
	return RIG_OK;
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

static rig_status list_inputs(
	const shore_doubt_of *of, const shore_element *element, rig_measure *inputs, size_t *n)
{
	const rig_shore_case *c = of->c;
	rig_figure base = of->budget->limiting_flow.loaded_a;
	rig_status status = loaded_with(of, element, NO_LOAD, &base);
	if (status == RIG_OK && of->budget->unplaced) {
		inputs[*n] = input_of(of, NO_LOAD, base, base);
		inputs[*n].index = first_unplaced(of);
		*n += is_in_doubt(&inputs[*n]);
	}
	for (size_t i = 0; i < c->n_units && status == RIG_OK; i++) {
		if (!is_first_of_load(of, i) || !may_err(of, i))
			continue;
		rig_figure with = base;
		status = loaded_with(of, element, c->units[i].load, &with);
		inputs[*n] = input_of(of, c->units[i].load, base, with);
		*n += is_in_doubt(&inputs[*n]);
	}
	return status;
}

rig_status rig_shore_doubt(const shore_doubt_of *of)
{
	rig_shore_budget *budget = of->budget;
	rig_measure *inputs = rig_arena_take(of->c->arena, of->c->n_units + 1, sizeof *inputs);
	rig_arena *scratch = rig_arena_new();
	if (inputs == NULL || scratch == NULL) {
		rig_arena_free(scratch);
		return RIG_NO_MEMORY;
	}
	size_t n = 0;
	shore_element *element = NULL;
	rig_status status = rig_shore_element_of(of, scratch, &element);
	if (status == RIG_OK)
		status = list_inputs(of, element, inputs, &n);
	rig_arena_free(scratch);
	rig_measure_shares(n, inputs);
	budget->measures = inputs;
	budget->n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
	return status;
}
