/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_budget.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Sums of the same draws in another order may differ in the last bits. */
static const double LIMIT_SLACK_RATIO = 1e-9;

/* The magnetic trip of a small breaker may act from about five times its rating (common practice,
 * no source). */
static const double TRIP_REGION_FACTOR = 5.0;

/* Nodes of one search: far more than 24 loads need, and a few hundredths of a second. */
enum { STEP_LIMIT = 400000 };

/* 12 V unless a bank or the load itself says otherwise. */
static const double DC_V = 12.0;

/* What flows through one element, at the three ends. */
typedef struct {
	rig_phasor power[RIG_N_ENDS];
	rig_phasor hot[RIG_N_ENDS];
	rig_phasor loaded[RIG_N_ENDS];
} sum;

static void add_unit(sum *to, const rig_shore_unit *unit, int end)
{
	const double share = unit->two_hots ? 0.5 : 1.0;
	const double factor = unit->continuous ? RIG_CONTINUOUS_FACTOR : 1.0;
	to->power[end] = rig_phasor_add(to->power[end], rig_phasor_scale(unit->power[end], share));
	to->hot[end] = rig_phasor_add(to->hot[end], unit->hot[end]);
	to->loaded[end] = rig_phasor_add(to->loaded[end], rig_phasor_scale(unit->hot[end], factor));
}

static void add_all_ends(sum *to, const rig_shore_unit *unit)
{
	for (int end = 0; end < RIG_N_ENDS; end++)
		add_unit(to, unit, end);
}

/* Rounding must not turn the ends of a range around. */
static rig_figure ends(double low, double likely, double high)
{
	return rig_figure_range(fmin(low, likely), likely, fmax(likely, high), RIG_FROM_COMPUTED);
}

static rig_figure va_of(const rig_phasor *phasor)
{
	return ends(rig_phasor_va(phasor[RIG_LOW]), rig_phasor_va(phasor[RIG_LIKELY]),
		rig_phasor_va(phasor[RIG_HIGH]));
}

static rig_figure amps_of(const rig_phasor *hot)
{
	return rig_figure_scale(va_of(hot), 1.0 / RIG_HOT_V);
}

static bool above(double amps_a, double limit_a)
{
	return limit_a > 0 && amps_a > limit_a * (1.0 + LIMIT_SLACK_RATIO);
}

rig_shore_verdict rig_shore_judge(rig_figure amps_a, rig_figure loaded_a, double limit_a)
{
	if (above(amps_a.likely, limit_a))
		return RIG_SHORE_OVER;
	if (above(loaded_a.likely, limit_a))
		return RIG_SHORE_OVER_CONTINUOUS;
	return above(loaded_a.high, limit_a) ? RIG_SHORE_DEPENDS : RIG_SHORE_FITS;
}

static rig_shore_flow flow_of(const sum *from, double limit_a)
{
	rig_shore_flow flow = {
		.watts_w = ends(from->power[RIG_LOW].active_w, from->power[RIG_LIKELY].active_w,
			from->power[RIG_HIGH].active_w),
		.va = va_of(from->power),
		.amps_a = amps_of(from->hot),
		.loaded_a = amps_of(from->loaded),
		.limit_a = limit_a,
	};
	flow.verdict = rig_shore_judge(flow.amps_a, flow.loaded_a, limit_a);
	return flow;
}

bool rig_shore_is_dead(const rig_shore_supply *supply, const rig_shore_unit *unit)
{
	return unit->two_hots && supply->n_hots < 2;
}

static rig_fits_leg fits_leg(
	const rig_shore_case *c, const rig_shore_supply *supply, const rig_shore_unit *unit)
{
	if (supply->n_hots < 2)
		return RIG_FITS_LEG_1;
	/* At the high end a load of unknown leg must fit on either, so it counts on both. */
	if (unit->two_hots || (unit->leg < 0 && c->at_high))
		return RIG_FITS_BOTH;
	return unit->leg < 0 ? RIG_FITS_EITHER : unit->leg == 0 ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
}

static rig_fits_item item_of(
	const rig_shore_case *c, const rig_shore_supply *supply, const rig_shore_unit *unit)
{
	const rig_phasor hot = unit->hot[c->at_high ? RIG_HIGH : RIG_LIKELY];
	return (rig_fits_item){
		.priority = unit->priority,
		.weight = unit->count * (10.0 - unit->priority),
		.loaded = rig_phasor_scale(hot, unit->continuous ? RIG_CONTINUOUS_FACTOR : 1.0),
		.plain = unit->two_hots ? (rig_phasor){0} : unit->hot[RIG_LIKELY],
		.leg = fits_leg(c, supply, unit),
		.circuit = unit->circuit,
		.key = unit->key,
	};
}

rig_status rig_shore_problem(const rig_shore_case *c, const rig_shore_supply *supply,
	const bool *on, rig_fits_problem *problem, size_t *of)
{
	const rig_coach *coach = c->coach;
	rig_fits_item *items = rig_arena_take(c->arena, c->n_units, sizeof *items);
	double *limit_va = rig_arena_take(c->arena, coach->n_circuits, sizeof *limit_va);
	bool *has_both = rig_arena_take(c->arena, coach->n_circuits, sizeof *has_both);
	if (!items || !limit_va || !has_both)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_circuits; i++) {
		limit_va[i] = coach->circuits[i].breaker_a.likely * RIG_HOT_V;
		has_both[i] = coach->circuits[i].leg == RIG_LEG_BOTH;
	}
	size_t n = 0;
	for (size_t i = 0; i < c->n_units; i++)
		if (on[i]) {
			of[n] = i;
			items[n++] = item_of(c, supply, &c->units[i]);
		}
	*problem = (rig_fits_problem){
		.n_items = n,
		.items = items,
		.n_circuits = coach->n_circuits,
		.circuit_limit_va = limit_va,
		.circuit_has_both = has_both,
		.hot_limit_va = supply->limit_a * RIG_HOT_V,
		.neutral_limit_va = supply->n_hots == 2 ? supply->limit_a * RIG_HOT_V : 0,
		.step_limit = STEP_LIMIT,
	};
	return RIG_OK;
}

/* All that flows on the coach's bus: on each leg what is known to be there, what the most even deal
 * puts there, and both together. */
typedef struct {
	sum fixed[2], dealt[2];
	sum all; /* of 120 V and 240 V, each once a hot */
	rig_phasor neutral_low[2], neutral_likely[2], neutral_high[2]; /* 120 V only, by leg */
	rig_phasor loose_high;                                         /* of unknown leg, 120 V */
	bool loose;
	unsigned char *leg; /* of each unit: 0 or 1, where it is dealt to */
} bus;

static void add_to_bus(bus *b, const rig_shore_unit *unit, int leg)
{
	sum *side = unit->leg < 0 ? b->dealt : b->fixed;
	add_all_ends(&b->all, unit);
	if (unit->two_hots) {
		add_all_ends(&b->fixed[0], unit);
		add_all_ends(&b->fixed[1], unit);
		return;
	}
	add_all_ends(&side[leg], unit);
	b->neutral_likely[leg] = rig_phasor_add(b->neutral_likely[leg], unit->hot[RIG_LIKELY]);
	if (unit->leg < 0) {
		b->loose = true;
		b->loose_high = rig_phasor_add(b->loose_high, unit->hot[RIG_HIGH]);
		return;
	}
	b->neutral_low[leg] = rig_phasor_add(b->neutral_low[leg], unit->hot[RIG_LOW]);
	b->neutral_high[leg] = rig_phasor_add(b->neutral_high[leg], unit->hot[RIG_HIGH]);
}

static rig_status deal(
	const rig_shore_case *c, const rig_shore_supply *supply, const bool *on, unsigned char *leg)
{
	rig_shore_case likely = *c;
	rig_shore_supply two = *supply;
	likely.at_high = false;
	likely.arena = rig_arena_new();
	two.n_hots = 2;
	rig_fits_problem problem;
	rig_fits_proof proof;
	rig_status status = RIG_NO_MEMORY;
	if (!likely.arena)
		return status;
	size_t *of = rig_arena_take(likely.arena, c->n_units, sizeof *of);
	rig_fits_leg *dealt = rig_arena_take(likely.arena, c->n_units, sizeof *dealt);
	if (of && dealt)
		status = rig_shore_problem(&likely, &two, on, &problem, of);
	if (status == RIG_OK)
		status = rig_fits_split(&problem, dealt, &proof);
	for (size_t i = 0; status == RIG_OK && i < problem.n_items; i++)
		leg[of[i]] = dealt[i] == RIG_FITS_LEG_2;
	rig_arena_free(likely.arena);
	return status;
}

/* Whether any of unknown leg is on, so that there is something to deal. */
static bool has_loose(const rig_shore_case *c, const bool *on)
{
	for (size_t i = 0; i < c->n_units; i++)
		if (on[i] && c->units[i].leg < 0 && !c->units[i].two_hots)
			return true;
	return false;
}

rig_status rig_shore_deal(
	const rig_shore_case *c, const rig_shore_supply *supply, const bool *on, unsigned char *leg)
{
	rig_shore_dealt *last = c->dealt;
	if (!has_loose(c, on)) {
		for (size_t i = 0; i < c->n_units; i++)
			leg[i] = on[i] && !c->units[i].two_hots && c->units[i].leg == 1;
		return RIG_OK;
	}
	if (last && last->known && memcmp(last->on, on, c->n_units * sizeof *on) == 0) {
		memcpy(leg, last->leg, c->n_units * sizeof *leg);
		return RIG_OK;
	}
	memset(leg, 0, c->n_units * sizeof *leg);
	const rig_status status = deal(c, supply, on, leg);
	if (last && status == RIG_OK) {
		memcpy(last->on, on, c->n_units * sizeof *on);
		memcpy(last->leg, leg, c->n_units * sizeof *leg);
		last->known = true;
	}
	return status;
}

/* Deals the loads of unknown leg, whatever the supply, and sums up. */
static rig_status fill_bus(
	const rig_shore_case *c, const rig_shore_supply *supply, const bool *on, bus *b)
{
	b->leg = rig_arena_take(c->arena, c->n_units, sizeof *b->leg);
	if (!b->leg)
		return RIG_NO_MEMORY;
	const rig_status status = rig_shore_deal(c, supply, on, b->leg);
	for (size_t i = 0; status == RIG_OK && i < c->n_units; i++)
		if (on[i])
			add_to_bus(b, &c->units[i], b->leg[i]);
	return status;
}

/* A leg's sum: the even deal, but all of unknown leg at the high end. */
static sum leg_sum(const bus *b, int leg)
{
	sum side = b->fixed[leg];
	for (int end = 0; end < RIG_N_ENDS; end++)
		for (int from = 0; from < 2; from++) {
			if (from != leg && end != RIG_HIGH)
				continue;
			const sum *dealt = &b->dealt[from];
			side.power[end] = rig_phasor_add(side.power[end], dealt->power[end]);
			side.hot[end] = rig_phasor_add(side.hot[end], dealt->hot[end]);
			side.loaded[end] = rig_phasor_add(side.loaded[end], dealt->loaded[end]);
		}
	return side;
}

static rig_figure fuller(rig_figure a, rig_figure b)
{
	return ends(fmax(a.low, b.low), fmax(a.likely, b.likely), fmax(a.high, b.high));
}

static rig_shore_flow fuller_flow(const rig_shore_flow leg[2])
{
	rig_shore_flow flow = {
		.watts_w = fuller(leg[0].watts_w, leg[1].watts_w),
		.va = fuller(leg[0].va, leg[1].va),
		.amps_a = fuller(leg[0].amps_a, leg[1].amps_a),
		.loaded_a = fuller(leg[0].loaded_a, leg[1].loaded_a),
		.limit_a = leg[0].limit_a,
	};
	flow.verdict = rig_shore_judge(flow.amps_a, flow.loaded_a, flow.limit_a);
	return flow;
}

/* The nearest and the farthest that a - b can be from 0, each part within its ends. */
typedef struct {
	double nearest, farthest;
} span;

static span difference(double a_low, double a_high, double b_low, double b_high)
{
	const double low = a_low - b_high;
	const double high = a_high - b_low;
	const double nearest = low > 0 ? low : high < 0 ? -high : 0;
	return (span){nearest, fmax(fabs(low), fabs(high))};
}

/* Two hots. The ends are bounds: watts and reactive volt-amperes each as far apart as can be. */
static rig_figure split_neutral(const bus *b)
{
	const rig_phasor *low = b->neutral_low;
	const rig_phasor *high = b->neutral_high;
	const rig_phasor loose = b->loose_high;
	const span active = difference(low[0].active_w, high[0].active_w + loose.active_w,
		low[1].active_w, high[1].active_w + loose.active_w);
	const span reactive =
		difference(low[0].reactive_va, high[0].reactive_va + loose.reactive_va,
			low[1].reactive_va, high[1].reactive_va + loose.reactive_va);
	const rig_legs legs = {b->neutral_likely[0], b->neutral_likely[1]};
	return ends(hypot(active.nearest, reactive.nearest) / RIG_HOT_V,
		rig_neutral_split_a(&legs, RIG_HOT_V),
		hypot(active.farthest, reactive.farthest) / RIG_HOT_V);
}

static rig_figure same_phase_neutral(const bus *b)
{
	const rig_legs low = {b->neutral_low[0], b->neutral_low[1]};
	const rig_legs likely = {b->neutral_likely[0], b->neutral_likely[1]};
	const rig_legs high = {
		rig_phasor_add(b->neutral_high[0], b->loose_high), b->neutral_high[1]};
	return ends(rig_neutral_shared_a(&low, RIG_HOT_V), rig_neutral_shared_a(&likely, RIG_HOT_V),
		rig_neutral_shared_a(&high, RIG_HOT_V));
}

static void fill_hots(const rig_shore_case *c, const rig_shore_supply *supply, const bus *b,
	rig_shore_budget *budget)
{
	const bool split = supply->n_hots == 2;
	if (c->two_legs)
		for (int leg = 0; leg < 2; leg++) {
			const sum side = leg_sum(b, leg);
			budget->leg[leg] = flow_of(&side, split ? supply->limit_a : 0);
		}
	budget->unplaced = split && b->loose;
	if (split) {
		budget->main = fuller_flow(budget->leg);
		budget->neutral.amps_a = split_neutral(b);
		budget->same_phase_neutral_a = same_phase_neutral(b);
	} else {
		budget->main = flow_of(&b->all, supply->limit_a);
		budget->neutral.amps_a = budget->main.amps_a;
	}
	budget->neutral.loaded_a = budget->neutral.amps_a;
	budget->neutral.limit_a = supply->limit_a;
	budget->neutral.verdict =
		rig_shore_judge(budget->neutral.amps_a, budget->neutral.loaded_a, supply->limit_a);
}

static void fill_totals(const rig_shore_case *c, const bool *on, rig_shore_budget *budget)
{
	rig_phasor power[RIG_N_ENDS] = {{0}};
	for (size_t i = 0; i < c->n_units; i++) {
		if (!on[i])
			continue;
		for (int end = 0; end < RIG_N_ENDS; end++)
			power[end] = rig_phasor_add(power[end], c->units[i].power[end]);
	}
	budget->watts_w =
		ends(power[RIG_LOW].active_w, power[RIG_LIKELY].active_w, power[RIG_HIGH].active_w);
	budget->va = va_of(power);
}

static rig_status fill_dead(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	rig_shore_budget *budget)
{
	budget->dead = rig_arena_take(c->arena, c->n_units, sizeof *budget->dead);
	if (!budget->dead)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		if (!on[i] || !rig_shore_is_dead(supply, unit))
			continue;
		rig_shore_item *last =
			budget->n_dead > 0 ? &budget->dead[budget->n_dead - 1] : NULL;
		if (last && last->load == unit->load)
			last->count += unit->count;
		else
			budget->dead[budget->n_dead++] = (rig_shore_item){unit->load, unit->count};
	}
	return RIG_OK;
}

/* DC amps of a load on its fuse. */
static void add_dc(const rig_coach *coach, const rig_load *load, sum *to)
{
	double volts_v = load->volts_v.likely;
	if (load->bank_index >= 0 && load->bank_index < (int)coach->n_banks &&
		rig_figure_given(coach->banks[load->bank_index].nominal_v))
		volts_v = coach->banks[load->bank_index].nominal_v.likely;
	if (volts_v <= 0)
		volts_v = DC_V;
	const int count = load->count > 0 ? load->count : 1;
	const double factor = load->continuous == RIG_YES ? RIG_CONTINUOUS_FACTOR : 1.0;
	const double watts_w[RIG_N_ENDS] = {
		load->running_w.low, load->running_w.likely, load->running_w.high};
	for (int end = 0; end < RIG_N_ENDS; end++) {
		const rig_phasor draw = rig_phasor_of(watts_w[end] * count, 1.0);
		const rig_phasor hot = rig_phasor_scale(draw, RIG_HOT_V / volts_v);
		to->power[end] = rig_phasor_add(to->power[end], draw);
		to->hot[end] = rig_phasor_add(to->hot[end], hot);
		to->loaded[end] = rig_phasor_add(to->loaded[end], rig_phasor_scale(hot, factor));
	}
}

/* A circuit shows the watts of a 240 V load whole, and its amps by hot. */
static void add_to_circuit(sum *to, const rig_shore_unit *unit)
{
	sum one_hot = *to;
	add_all_ends(&one_hot, unit);
	for (int end = 0; end < RIG_N_ENDS; end++) {
		to->power[end] = rig_phasor_add(to->power[end], unit->power[end]);
		to->hot[end] = one_hot.hot[end];
		to->loaded[end] = one_hot.loaded[end];
	}
}

static bool is_over(rig_shore_verdict verdict)
{
	return verdict == RIG_SHORE_OVER || verdict == RIG_SHORE_OVER_CONTINUOUS;
}

/* What is on one circuit. */
typedef struct {
	sum total;
	bool any;
} on_circuit;

static void sum_circuits(
	const rig_shore_case *c, const rig_shore_switches *on, on_circuit *circuits)
{
	const int n_circuits = (int)c->coach->n_circuits;
	for (size_t i = 0; i < c->n_units; i++) {
		const int circuit = c->units[i].circuit;
		if (!on->unit[i] || circuit < 0)
			continue;
		add_to_circuit(&circuits[circuit].total, &c->units[i]);
		circuits[circuit].any = true;
	}
	for (size_t i = 0; i < c->coach->n_loads; i++) {
		const rig_load *load = &c->coach->loads[i];
		if (load->supply != RIG_DC || !on->load[i] || load->circuit_index < 0 ||
			load->circuit_index >= n_circuits)
			continue;
		add_dc(c->coach, load, &circuits[load->circuit_index].total);
		circuits[load->circuit_index].any = true;
	}
}

static rig_status fill_circuits(
	const rig_shore_case *c, const rig_shore_switches *on, rig_shore_budget *budget)
{
	const rig_coach *coach = c->coach;
	on_circuit *circuits = calloc(coach->n_circuits + 1, sizeof *circuits);
	budget->circuits = rig_arena_take(c->arena, coach->n_circuits, sizeof *budget->circuits);
	if (!budget->circuits || !circuits) {
		free(circuits);
		return RIG_NO_MEMORY;
	}
	sum_circuits(c, on, circuits);
	for (size_t i = 0; i < coach->n_circuits; i++) {
		if (!circuits[i].any)
			continue;
		rig_shore_circuit *entry = &budget->circuits[budget->n_circuits++];
		entry->circuit = (int)i;
		entry->flow = flow_of(&circuits[i].total, coach->circuits[i].breaker_a.likely);
		budget->n_circuits_over += is_over(entry->flow.verdict);
	}
	free(circuits);
	return RIG_OK;
}

/* Whether no doubt about the draws would change a verdict for the better. */
static bool is_sure(const rig_shore_flow *flow)
{
	if (flow->verdict == RIG_SHORE_OVER)
		return above(flow->amps_a.low, flow->limit_a);
	return flow->verdict == RIG_SHORE_OVER_CONTINUOUS &&
	       above(flow->loaded_a.low, flow->limit_a);
}

/* Takes an element as the limiting one if it is graver, or as grave and fuller. */
static void weigh(
	rig_shore_budget *budget, rig_shore_element element, int index, const rig_shore_flow *flow)
{
	if (flow->limit_a <= 0)
		return;
	const rig_shore_flow *worst = &budget->limiting_flow;
	const bool graver =
		budget->limiting == RIG_SHORE_NO_ELEMENT || flow->verdict > worst->verdict;
	const bool fuller_too =
		flow->verdict == worst->verdict &&
		flow->loaded_a.likely * worst->limit_a > worst->loaded_a.likely * flow->limit_a;
	if (flow->verdict > budget->verdict)
		budget->sure = is_sure(flow);
	else if (flow->verdict == budget->verdict)
		budget->sure |= is_sure(flow);
	if (!graver && !fuller_too)
		return;
	budget->verdict = flow->verdict;
	budget->limiting = element;
	budget->limiting_index = index;
	budget->limiting_flow = *flow;
}

static void fill_verdict(
	const rig_shore_case *c, const rig_shore_supply *supply, rig_shore_budget *budget)
{
	budget->limiting_index = -1;
	if (supply->n_hots == 2) {
		weigh(budget, RIG_SHORE_LEG, 0, &budget->leg[0]);
		weigh(budget, RIG_SHORE_LEG, 1, &budget->leg[1]);
	} else {
		weigh(budget, RIG_SHORE_MAIN, -1, &budget->main);
	}
	weigh(budget, RIG_SHORE_NEUTRAL, -1, &budget->neutral);
	for (size_t i = 0; i < budget->n_circuits; i++) {
		const rig_shore_circuit *entry = &budget->circuits[i];
		if (c->coach->circuits[entry->circuit].supply != RIG_DC)
			weigh(budget, RIG_SHORE_CIRCUIT, entry->circuit, &entry->flow);
	}
	budget->sure |= budget->verdict == RIG_SHORE_FITS;
	budget->carried = budget->verdict == RIG_SHORE_FITS && budget->n_dead == 0;
}

static rig_figure room_left(const rig_shore_flow *flow, double limit_a)
{
	return rig_figure_subtract(rig_figure_of(limit_a, RIG_FROM_COMPUTED), flow->loaded_a);
}

static void fill_headroom(const rig_shore_supply *supply, rig_shore_budget *budget)
{
	const rig_figure volts_v = rig_figure_of(supply->volts_v, RIG_FROM_COMPUTED);
	rig_figure all_a = room_left(&budget->main, supply->limit_a);
	budget->headroom_a = all_a;
	if (supply->n_hots == 2)
		all_a = rig_figure_add(room_left(&budget->leg[0], supply->limit_a),
			room_left(&budget->leg[1], supply->limit_a));
	budget->headroom_w = ends(all_a.low * volts_v.likely, all_a.likely * volts_v.likely,
		all_a.high * volts_v.likely);
}

/* The unit with the largest start, of equals the first by key; n_units if none starts hard. */
static size_t hardest_start(const rig_shore_case *c, const bool *on)
{
	size_t found = c->n_units;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		if (!on[i] || unit->start_a.likely <= 0)
			continue;
		const rig_shore_unit *best = found < c->n_units ? &c->units[found] : NULL;
		if (!best || unit->start_a.likely > best->start_a.likely ||
			(unit->start_a.likely == best->start_a.likely && unit->key < best->key))
			found = i;
	}
	return found;
}

static rig_figure on_top_of(const rig_phasor *rest, rig_figure start_a)
{
	return rig_figure_add(amps_of(rest), start_a);
}

static void fill_start(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	const bus *b, rig_shore_budget *budget)
{
	const size_t index = hardest_start(c, on);
	rig_shore_start *start = &budget->start;
	start->load = RIG_SHORE_NO_START;
	if (index == c->n_units)
		return;
	const rig_shore_unit *starter = &c->units[index];
	sum hot = {0};
	sum circuit = {0};
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		if (!on[i] || i == index)
			continue;
		if (supply->n_hots < 2 || unit->two_hots || b->leg[i] == b->leg[index])
			add_all_ends(&hot, unit);
		if (unit->circuit >= 0 && unit->circuit == starter->circuit)
			add_all_ends(&circuit, unit);
	}
	start->load = starter->load;
	start->start_a = starter->start_a;
	start->hot_a = on_top_of(hot.hot, starter->start_a);
	start->hot_in_trip_region = start->hot_a.high >= TRIP_REGION_FACTOR * supply->limit_a;
	if (starter->circuit < 0)
		return;
	const double breaker_a = c->coach->circuits[starter->circuit].breaker_a.likely;
	start->circuit_a = on_top_of(circuit.hot, starter->start_a);
	start->circuit_in_trip_region =
		breaker_a > 0 && start->circuit_a.high >= TRIP_REGION_FACTOR * breaker_a;
}

rig_status rig_shore_draw(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	rig_shore_flow *fuller, rig_figure *watts_w)
{
	bus b = {0};
	rig_shore_budget part = {0};
	const rig_status status = fill_bus(c, supply, on, &b);
	if (status != RIG_OK)
		return status;
	fill_hots(c, supply, &b, &part);
	fill_totals(c, on, &part);
	*fuller = part.main;
	*watts_w = part.watts_w;
	return RIG_OK;
}

rig_status rig_shore_reckon(const rig_shore_case *c, const rig_shore_supply *supply,
	const rig_shore_switches *on, rig_shore_budget *budget)
{
	bus b = {0};
	bool *live = rig_arena_take(c->arena, c->n_units, sizeof *live);
	if (!live)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++)
		live[i] = on->unit[i] && !rig_shore_is_dead(supply, &c->units[i]);
	const rig_shore_switches alive = {live, on->load};
	rig_status status = fill_dead(c, supply, on->unit, budget);
	if (status == RIG_OK)
		status = fill_bus(c, supply, live, &b);
	if (status == RIG_OK)
		status = fill_circuits(c, &alive, budget);
	if (status != RIG_OK)
		return status;
	fill_hots(c, supply, &b, budget);
	fill_totals(c, live, budget);
	fill_verdict(c, supply, budget);
	fill_headroom(supply, budget);
	fill_start(c, supply, live, &b, budget);
	return RIG_OK;
}
