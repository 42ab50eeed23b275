/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every motor's start on every source. */
#include <math.h>
#include <stdlib.h>

#include "studies/shore_budget.h"
#include "studies/sources_case.h"
#include "studies/voltage_case.h"

/* Of a rotor that stands still, low to high (common practice, no source). */
static const double LOCKED_POWER_FACTOR[RIG_N_ENDS] = {0.6, 0.75, 0.9};
/* Volt-amperes that a start asks of a generator over those of running [GEN-2008]: two to five, of
 * which the middle. */
static const double GENERATOR_LEAST = 2.0, GENERATOR_LIKELY = 3.5;
/* As in shore.h. */
static const double TRIP_REGION_FACTOR = 5.0;

/* One motor and what runs beside it. */
typedef struct {
	rig_sources_case *s;
	size_t unit;
	const bool *standing; /* units that always draw, less its own load */
	rig_figure amps_a;    /* of the start */
	unsigned char *leg;   /* of each unit: 0 where unknown */
	rig_feed_load *loads; /* scratch */
} start_case;

static const rig_shore_unit *motor(const start_case *of)
{
	return &of->s->c.units[of->unit];
}

static rig_figure ends(double a, double likely, double b)
{
	return rig_figure_range(
		fmin(fmin(a, b), likely), likely, fmax(fmax(a, b), likely), RIG_FROM_COMPUTED);
}

static double at_end(rig_figure figure, int end)
{
	return end == RIG_LOW ? figure.low : end == RIG_HIGH ? figure.high : figure.likely;
}

/* The rotor as an impedance. */
static rig_feed_load rotor(const start_case *of, int end)
{
	const rig_shore_unit *unit = motor(of);
	const double power_factor = LOCKED_POWER_FACTOR[end];
	const double va = at_end(of->amps_a, end) * unit->rated_v;
	return (rig_feed_load){
		.draw = rig_phasor_of(va * power_factor, power_factor),
		.rated_v = unit->rated_v,
		.response = RIG_HOLDS_RESISTANCE,
		.place = unit->two_hots   ? RIG_ACROSS_LEGS
			 : unit->leg == 1 ? RIG_ON_LEG_2
					  : RIG_ON_LEG_1,
	};
}

/* Volts of the motor, those across as half. */
static double motor_v(const start_case *of, const rig_feed_state *state)
{
	const rig_shore_unit *unit = motor(of);
	return unit->two_hots ? state->across_v / 2.0 : state->leg_v[unit->leg == 1];
}

/* Volts before and in the start, and what flows then. */
typedef struct {
	double before_v, start_v, start_a, hot_a, torque_frac;
} dip;

static rig_status dip_at(const start_case *of, rig_volts_question *question, int end, dip *found)
{
	const rig_shore_unit *unit = motor(of);
	const int leg = unit->leg == 1;
	/* amps at their high make the volts low */
	const int draw_end = end == RIG_LOW ? RIG_HIGH : end == RIG_HIGH ? RIG_LOW : end;
	const rig_feed_load extra = rotor(of, draw_end);
	const int n_hots = question->supply->n_hots == 2 ? 2 : 1;
	const rig_feed_ends at =
		end == RIG_LIKELY ? rig_feed_likely() : rig_feed_worst(n_hots, leg, end);
	rig_feed_state before, start;
	question->extra = NULL;
	rig_status status = rig_volts_solve(question, of->standing, &at, NULL, &before);
	question->extra = &extra;
	if (status == RIG_OK)
		status = rig_volts_solve(question, of->standing, &at, NULL, &start);
	question->extra = NULL;
	if (status != RIG_OK)
		return status;
	const double share = unit->two_hots ? 2.0 : 1.0;
	*found = (dip){.before_v = motor_v(of, &before), .start_v = motor_v(of, &start)};
	found->start_a = rig_feed_load_a(&extra, found->start_v * share);
	found->torque_frac = pow(found->start_v * share / unit->rated_v, 2);
	found->hot_a = start.hot_a[n_hots == 2 ? leg : 0];
	return RIG_OK;
}

static rig_start_verdict judge_volts(rig_figure volts_v)
{
	if (volts_v.low >= RIG_START_FLOOR_V)
		return RIG_START_HOLDS;
	return volts_v.high < RIG_START_FLOOR_V ? RIG_START_FAILS : RIG_START_DEPENDS;
}

static rig_status start_on_shore(const start_case *of, int supply, rig_source_start *start)
{
	const rig_shore_findings *shore = of->s->findings->shore;
	rig_volts_question question = {.c = &of->s->c,
		.supply = &shore->supplies[supply],
		.path = &of->s->volts->paths[supply],
		.loads = of->loads,
		.leg = of->leg};
	dip at[RIG_N_ENDS];
	*start = (rig_source_start){.kind = RIG_SOURCE_SHORE, .supply = supply};
	start->fed = !rig_shore_is_dead(question.supply, motor(of));
	if (!start->fed)
		return RIG_OK;
	for (int end = 0; end < RIG_N_ENDS; end++) {
		const rig_status status = dip_at(of, &question, end, &at[end]);
		if (status != RIG_OK)
			return status;
	}
	const dip *low = &at[RIG_LOW], *likely = &at[RIG_LIKELY], *high = &at[RIG_HIGH];
	start->before_v = ends(low->before_v, likely->before_v, high->before_v);
	start->start_v = ends(low->start_v, likely->start_v, high->start_v);
	start->dip_v = ends(low->before_v - low->start_v, likely->before_v - likely->start_v,
		high->before_v - high->start_v);
	start->start_a = ends(low->start_a, likely->start_a, high->start_a);
	start->torque_frac = ends(low->torque_frac, likely->torque_frac, high->torque_frac);
	start->hot_a = ends(low->hot_a, likely->hot_a, high->hot_a);
	start->in_trip_region = start->hot_a.high >= TRIP_REGION_FACTOR * question.supply->limit_a;
	start->verdict = judge_volts(start->start_v);
	return RIG_OK;
}

/* Volt-amperes of what runs beside it on a source. */
static rig_figure beside_va(const start_case *of, rig_source_kind kind)
{
	const rig_shore_case *c = &of->s->c;
	rig_phasor sum[RIG_N_ENDS] = {{0}};
	for (size_t i = 0; i < c->n_units; i++) {
		if (!of->standing[i] || !rig_source_feeds(c, kind, &c->units[i]))
			continue;
		for (int end = 0; end < RIG_N_ENDS; end++)
			sum[end] = rig_phasor_add(sum[end], c->units[i].power[end]);
	}
	return ends(rig_phasor_va(sum[RIG_LOW]), rig_phasor_va(sum[RIG_LIKELY]),
		rig_phasor_va(sum[RIG_HIGH]));
}

/* Volt-amperes that the start itself asks for. */
static rig_figure start_va(const start_case *of, rig_source_kind kind)
{
	const rig_shore_unit *unit = motor(of);
	const rig_figure locked_va = rig_figure_scale(of->amps_a, unit->rated_v);
	if (kind == RIG_SOURCE_INVERTER)
		return locked_va;
	const double low_va = rig_phasor_va(unit->power[RIG_LOW]) / unit->count;
	const double likely_va = rig_phasor_va(unit->power[RIG_LIKELY]) / unit->count;
	return ends(fmax(low_va, fmin(GENERATOR_LEAST * low_va, locked_va.low)),
		fmax(likely_va, fmin(GENERATOR_LIKELY * likely_va, locked_va.likely)),
		fmax(likely_va, locked_va.high));
}

static rig_start_verdict judge_surge(rig_figure asked_va, rig_figure surge_w)
{
	if (asked_va.high <= surge_w.low)
		return RIG_START_HOLDS;
	return asked_va.low > surge_w.high ? RIG_START_FAILS : RIG_START_DEPENDS;
}

static void start_on_source(
	const start_case *of, const rig_other_source *source, rig_source_start *start)
{
	*start = (rig_source_start){.kind = source->kind, .supply = -1};
	start->fed = rig_source_feeds(&of->s->c, source->kind, motor(of)) &&
		     !rig_shore_is_dead(&source->supply, motor(of));
	if (!start->fed)
		return;
	start->asked_va = rig_figure_add(start_va(of, source->kind), beside_va(of, source->kind));
	start->surge_w = source->surge_w;
	start->verdict = judge_surge(start->asked_va, start->surge_w);
}

static rig_status list_on(const start_case *of, rig_source_start **list)
{
	const rig_sources_findings *findings = of->s->findings;
	const size_t n_shore = findings->shore->n_supplies;
	*list = rig_arena_take(of->s->c.arena, n_shore + findings->n_sources, sizeof **list);
	if (!*list)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n_shore; i++) {
		const rig_status status = start_on_shore(of, (int)i, &(*list)[i]);
		if (status != RIG_OK)
			return status;
	}
	for (size_t i = 0; i < findings->n_sources; i++)
		start_on_source(of, &findings->sources[i], &(*list)[n_shore + i]);
	return RIG_OK;
}

static rig_figure soft_a(rig_figure locked_a)
{
	return rig_figure_multiply(
		locked_a, rig_figure_range(RIG_SOFT_FRAC[RIG_LOW], RIG_SOFT_FRAC[RIG_LIKELY],
				  RIG_SOFT_FRAC[RIG_HIGH], RIG_FROM_PROFILE));
}

static rig_status fill_start(start_case *of, rig_motor_start *start)
{
	const rig_shore_case *c = &of->s->c;
	const rig_shore_unit *unit = motor(of);
	const rig_load *load = &c->coach->loads[unit->load];
	bool *standing = rig_arena_take(c->arena, c->n_units, sizeof *standing);
	if (!standing)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++)
		standing[i] = c->units[i].load != unit->load &&
			      (c->units[i].load == RIG_SHORE_CHARGER ||
				      c->coach->loads[c->units[i].load].always_on == RIG_YES);
	of->standing = standing;
	const double per_a = unit->rated_v * unit->count;
	*start = (rig_motor_start){.load = unit->load,
		.soft_starter = load->soft_starter == RIG_YES,
		.locked_rotor_a = load->start_a,
		.soft_a = soft_a(load->start_a),
		.running_a = ends(rig_phasor_va(unit->power[RIG_LOW]) / per_a,
			rig_phasor_va(unit->power[RIG_LIKELY]) / per_a,
			rig_phasor_va(unit->power[RIG_HIGH]) / per_a),
		.n_on = of->s->findings->shore->n_supplies + of->s->findings->n_sources};
	of->amps_a = start->locked_rotor_a;
	rig_status status = list_on(of, &start->bare);
	of->amps_a = start->soft_a;
	return status == RIG_OK ? list_on(of, &start->soft) : status;
}

typedef struct {
	size_t unit;
	double va;
	int key;
} rank;

static int compare(const void *left, const void *right)
{
	const rank *a = left;
	const rank *b = right;
	if (a->va != b->va)
		return a->va > b->va ? -1 : 1;
	return a->key - b->key;
}

rig_status rig_starts_list(rig_sources_case *s)
{
	rig_shore_case *c = &s->c;
	rank *order = rig_arena_take(c->arena, c->n_units, sizeof *order);
	start_case of = {.s = s,
		.leg = rig_arena_take(c->arena, c->n_units, sizeof *of.leg),
		.loads = rig_arena_take(c->arena, c->n_units + 1, sizeof *of.loads)};
	s->findings->starts = rig_arena_take(c->arena, c->n_units, sizeof *s->findings->starts);
	if (!order || !of.leg || !of.loads || !s->findings->starts)
		return RIG_NO_MEMORY;
	size_t n = 0;
	for (size_t i = 0; i < c->n_units; i++) {
		const int load = c->units[i].load;
		if (load == RIG_SHORE_CHARGER || !(c->coach->loads[load].start_a.likely > 0) ||
			(i > 0 && c->units[i - 1].load == load))
			continue;
		order[n++] = (rank){i, c->coach->loads[load].start_a.likely * c->units[i].rated_v,
			c->units[i].key};
	}
	if (n > 0)
		qsort(order, n, sizeof *order, compare);
	rig_status status = RIG_OK;
	for (size_t i = 0; status == RIG_OK && i < n; i++) {
		of.unit = order[i].unit;
		status = fill_start(&of, &s->findings->starts[s->findings->n_starts++]);
	}
	return status;
}
