/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/sources_case.h"

#include <math.h>

#include "studies/shore_budget.h"
#include "studies/shore_choice.h"

/* One source and the units as it sees them. */
typedef struct {
	rig_shore_case c; /* the whole study's, with units that never count as continuous */
	rig_other_source *source;
} one_source;

bool rig_source_feeds(const rig_shore_case *c, rig_source_kind kind, const rig_shore_unit *unit)
{
	if (kind != RIG_SOURCE_INVERTER)
		return true;
	return unit->load != RIG_SHORE_CHARGER && c->coach->loads[unit->load].inverter == RIG_YES;
}

static bool in_order(rig_figure figure)
{
	return rig_figure_given(figure) && isfinite(figure.low) && isfinite(figure.high) &&
	       figure.low > 0 && figure.low <= figure.likely && figure.likely <= figure.high;
}

/* What the rule leaves, or the rules leave where nobody says which. */
static rig_figure left_frac(const rig_sources_findings *findings)
{
	const rig_figure air_c = findings->air_c;
	const rig_figure height_m = findings->elevation_m; /* 0 if absent */
	const bool said = findings->rule != RIG_DERATE_UNSAID;
	const rig_derate usual = said ? findings->rule : RIG_DERATE_HEIGHT_HEAT;
	const int first = said ? (int)usual : (int)RIG_DERATE_HEIGHT;
	const int last = said ? (int)usual : (int)RIG_N_DERATES - 1;
	const double likely = rig_generator_left_frac(usual, height_m.likely, air_c.likely);
	rig_figure left = rig_figure_of(likely, RIG_FROM_COMPUTED);
	for (int rule = first; rule <= last; rule++) {
		left.low = fmin(left.low,
			rig_generator_left_frac((rig_derate)rule, height_m.high, air_c.high));
		left.high = fmax(left.high,
			rig_generator_left_frac((rig_derate)rule, height_m.low, air_c.low));
	}
	return left;
}

/* The source as a supply: its likely watts as amps. */
static rig_shore_supply supply_of(const rig_shore_case *c, const rig_other_source *source)
{
	const bool two = source->kind == RIG_SOURCE_GENERATOR && c->two_legs &&
			 c->coach->generator.two_hots == RIG_YES;
	const int n_hots = two ? 2 : 1;
	rig_shore_supply supply = {
		.limit_a = source->available_w.likely / (RIG_HOT_V * n_hots),
		.volts_v = RIG_HOT_V,
		.n_hots = n_hots,
		.shared_hot = c->two_legs && !two,
	};
	supply.va = supply.continuous_va = source->available_w.likely;
	return supply;
}

static bool circuit_is_fed(const rig_shore_case *c, rig_source_kind kind, int circuit)
{
	const rig_circuit *of = &c->coach->circuits[circuit];
	if (of->supply == RIG_DC)
		return false;
	if (kind == RIG_SOURCE_GENERATOR || of->inverter == RIG_YES)
		return true;
	for (size_t i = 0; i < c->n_units; i++)
		if (c->units[i].circuit == circuit && rig_source_feeds(c, kind, &c->units[i]))
			return true;
	return false;
}

static rig_status list_fed(const one_source *one)
{
	const rig_shore_case *c = &one->c;
	rig_other_source *source = one->source;
	source->circuits = rig_arena_take(c->arena, c->coach->n_circuits, sizeof *source->circuits);
	source->loads = rig_arena_take(c->arena, c->n_units, sizeof *source->loads);
	if (!source->circuits || !source->loads)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->coach->n_circuits; i++)
		if (circuit_is_fed(c, source->kind, (int)i))
			source->circuits[source->n_circuits++] = (int)i;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		const size_t n = source->n_loads;
		if (rig_source_feeds(c, source->kind, unit) &&
			(n == 0 || source->loads[n - 1] != unit->load))
			source->loads[source->n_loads++] = unit->load;
	}
	return RIG_OK;
}

static void add_unfed(rig_other_set *set, const rig_shore_unit *unit)
{
	rig_shore_item *last = set->n_unfed > 0 ? &set->unfed[set->n_unfed - 1] : NULL;
	if (last && last->load == unit->load)
		last->count += unit->count;
	else
		set->unfed[set->n_unfed++] = (rig_shore_item){unit->load, unit->count};
}

static rig_status fill_set(const one_source *one, const rig_shore_set *of, rig_other_set *set)
{
	const rig_shore_case *c = &one->c;
	bool *on = rig_arena_take(c->arena, c->n_units, sizeof *on);
	bool *no_dc = rig_arena_take(c->arena, c->coach->n_loads, sizeof *no_dc);
	set->unfed = rig_arena_take(c->arena, c->n_units, sizeof *set->unfed);
	if (!on || !no_dc || !set->unfed)
		return RIG_NO_MEMORY;
	rig_shore_mark(c, of, on);
	for (size_t i = 0; i < c->n_units; i++) {
		if (!on[i] || rig_source_feeds(c, one->source->kind, &c->units[i]))
			continue;
		add_unfed(set, &c->units[i]);
		on[i] = false;
	}
	set->budget.supply = -1;
	const rig_shore_switches switches = {on, no_dc};
	const rig_shore_supply *supply = &one->source->supply;
	const rig_status status = rig_shore_reckon(c, supply, &switches, &set->budget);
	return status == RIG_OK ? rig_shore_choose(c, supply, on, &set->budget) : status;
}

/* All that follows from a source's watts. */
static rig_status fill_source(const rig_sources_case *s, rig_other_source *source)
{
	const rig_shore_findings *shore = s->findings->shore;
	one_source one = {.c = s->c, .source = source};
	if (!in_order(source->rated_w) || !in_order(source->surge_w))
		return RIG_BAD_INPUT;
	source->available_w = rig_figure_multiply(source->rated_w, source->left_frac);
	source->surge_w = rig_figure_multiply(source->surge_w, source->left_frac);
	source->supply = supply_of(&s->c, source);
	one.c.units = rig_arena_take(s->c.arena, s->c.n_units, sizeof *one.c.units);
	source->sets = rig_arena_take(s->c.arena, shore->n_sets, sizeof *source->sets);
	if (!one.c.units || !source->sets)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < s->c.n_units; i++) {
		one.c.units[i] = s->c.units[i];
		one.c.units[i].continuous = false;
	}
	one.c.dealt = NULL;
	one.c.verdicts_only = true;
	rig_status status = list_fed(&one);
	for (size_t i = 0; status == RIG_OK && i < shore->n_sets; i++) {
		rig_other_set *set = &source->sets[source->n_sets++];
		set->set = (int)i;
		status = fill_set(&one, &shore->sets[i], set);
	}
	return status;
}

rig_status rig_sources_list(rig_sources_case *s)
{
	const rig_coach *coach = s->c.coach;
	rig_sources_findings *findings = s->findings;
	findings->sources = rig_arena_take(s->c.arena, 2, sizeof *findings->sources);
	if (!findings->sources)
		return RIG_NO_MEMORY;
	if (coach->generator.present)
		findings->sources[findings->n_sources++] =
			(rig_other_source){.kind = RIG_SOURCE_GENERATOR,
				.rated_w = coach->generator.watts_w,
				.surge_w = coach->generator.surge_w,
				.left_frac = left_frac(findings)};
	if (coach->inverter.present)
		findings->sources[findings->n_sources++] =
			(rig_other_source){.kind = RIG_SOURCE_INVERTER,
				.rated_w = coach->inverter.watts_w,
				.surge_w = coach->inverter.surge_w,
				.left_frac = rig_figure_of(1.0, RIG_FROM_COMPUTED)};
	rig_status status = RIG_OK;
	for (size_t i = 0; status == RIG_OK && i < findings->n_sources; i++)
		status = fill_source(s, &findings->sources[i]);
	return status;
}
