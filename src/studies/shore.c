/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/shore.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "studies/shore_balance.h"
#include "studies/shore_budget.h"
#include "studies/shore_choice.h"
#include "studies/shore_doubt.h"

/* What rig_shore_free() gets back: findings stands first. */
typedef struct {
	rig_shore_findings findings;
	rig_arena *arena;
} holder;

static rig_status list_supplies(const rig_shore_case *c, rig_shore_findings *findings)
{
	findings->n_supplies = rig_n_supplies();
	findings->supplies =
		rig_arena_take(c->arena, findings->n_supplies, sizeof *findings->supplies);
	if (!findings->supplies)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < findings->n_supplies; i++)
		findings->supplies[i] = rig_shore_supply_of(c->coach, rig_supply_at(i));
	return RIG_OK;
}

static bool is_standing(const rig_load *load)
{
	return load->always_on == RIG_YES;
}

static double load_w(const rig_load *load)
{
	return load->running_w.likely * (load->count > 0 ? load->count : 1);
}

/* The resistive AC load that draws most, of equals the first by id; -1 if there is none. */
static int largest_heat(const rig_coach *coach)
{
	int found = -1;
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		if (load->supply == RIG_DC || load->behaviour != RIG_RESISTIVE)
			continue;
		const rig_load *best = found >= 0 ? &coach->loads[found] : NULL;
		if (!best || load_w(load) > load_w(best) ||
			(load_w(load) == load_w(best) && load->id && best->id &&
				strcmp(load->id, best->id) < 0))
			found = (int)i;
	}
	return found;
}

/* Whether a set of this kind holds a load. */
static bool kind_holds(const rig_coach *coach, rig_shore_set_kind kind, int index)
{
	const rig_load *load = &coach->loads[index];
	switch (kind) {
	case RIG_SHORE_SET_EVERYTHING:
		return true;
	case RIG_SHORE_SET_COMPRESSORS:
		return load->behaviour == RIG_COMPRESSOR;
	case RIG_SHORE_SET_COMPRESSORS_AND_HEAT:
		return load->behaviour == RIG_COMPRESSOR || index == largest_heat(coach);
	case RIG_SHORE_SET_CONTINUOUS:
		return load->continuous == RIG_YES;
	case RIG_SHORE_SET_STANDING:
	case RIG_SHORE_SET_TOGETHER:
		break;
	}
	return false;
}

/* Which loads a set holds. */
static rig_status mark_loads(const rig_shore_case *c, const rig_shore_set *set, bool **on)
{
	const rig_coach *coach = c->coach;
	*on = rig_arena_take(c->arena, coach->n_loads, sizeof **on);
	if (!*on)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_loads; i++)
		(*on)[i] = is_standing(&coach->loads[i]) || kind_holds(coach, set->kind, (int)i);
	if (set->together < 0)
		return RIG_OK;
	const rig_together *together = &coach->together[set->together];
	for (size_t i = 0; i < together->n_loads; i++) {
		const int index = together->load_index[i];
		if (index < 0 || index >= (int)coach->n_loads)
			return RIG_BAD_INPUT;
		(*on)[index] = true;
	}
	return RIG_OK;
}

/* The units of the loads that are on, and always the charger's. */
static rig_status mark_units(
	const rig_shore_case *c, const bool *on_load, rig_shore_set *set, bool **on)
{
	*on = rig_arena_take(c->arena, c->n_units, sizeof **on);
	set->items = rig_arena_take(c->arena, c->n_units, sizeof *set->items);
	if (!*on || !set->items)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		(*on)[i] = unit->load == RIG_SHORE_CHARGER || on_load[unit->load];
		if (!(*on)[i])
			continue;
		rig_shore_item *last = set->n_items > 0 ? &set->items[set->n_items - 1] : NULL;
		if (last && last->load == unit->load)
			last->count += unit->count;
		else
			set->items[set->n_items++] = (rig_shore_item){unit->load, unit->count};
	}
	return RIG_OK;
}

static void note_smallest(const rig_shore_findings *findings, rig_shore_set *set)
{
	set->smallest = set->smallest_likely = -1;
	for (size_t i = 0; i < findings->n_supplies; i++) {
		const rig_shore_budget *budget = &set->budgets[i];
		if (budget->carried)
			set->smallest = (int)i;
		if (budget->n_dead == 0 && budget->verdict <= RIG_SHORE_DEPENDS)
			set->smallest_likely = (int)i;
	}
}

/* One set on one supply. */
static rig_status fill_budget(const rig_shore_case *c, const rig_shore_supply *supply,
	const rig_shore_switches *on, rig_shore_budget *budget)
{
	rig_status status = rig_shore_reckon(c, supply, on, budget);
	if (status == RIG_OK)
		status = rig_shore_choose(c, supply, on->unit, budget);
	if (status == RIG_OK && !c->verdicts_only)
		status = rig_shore_doubt(&(shore_doubt_of){c, supply, on, budget});
	return status;
}

/* The first supply that gives the coach the same: behind a small cord several do. */
static size_t first_alike(const rig_shore_findings *findings, size_t supply)
{
	const rig_shore_supply *of = &findings->supplies[supply];
	for (size_t i = 0; i < supply; i++) {
		const rig_shore_supply *other = &findings->supplies[i];
		if (other->limit_a == of->limit_a && other->n_hots == of->n_hots &&
			other->volts_v == of->volts_v)
			return i;
	}
	return supply;
}

static rig_status fill_set(const rig_shore_case *c, const rig_shore_findings *findings,
	const bool *on_load, rig_shore_set *set)
{
	bool *on_unit = NULL;
	rig_status status = mark_units(c, on_load, set, &on_unit);
	set->budgets = rig_arena_take(c->arena, findings->n_supplies, sizeof *set->budgets);
	if (status == RIG_OK && !set->budgets)
		status = RIG_NO_MEMORY;
	const rig_shore_switches on = {on_unit, on_load};
	for (size_t i = 0; status == RIG_OK && i < findings->n_supplies; i++) {
		const size_t alike = first_alike(findings, i);
		if (alike < i)
			set->budgets[i] = set->budgets[alike];
		else
			status = fill_budget(c, &findings->supplies[i], &on, &set->budgets[i]);
		set->budgets[i].supply = (int)i;
	}
	if (status == RIG_OK)
		note_smallest(findings, set);
	return status;
}

static bool same_items(const rig_shore_set *a, const rig_shore_set *b)
{
	if (a->n_items != b->n_items)
		return false;
	for (size_t i = 0; i < a->n_items; i++)
		if (a->items[i].load != b->items[i].load)
			return false;
	return true;
}

/* Adds a set; one of our own only if it holds something and differs from those before. */
static rig_status add_set(
	const rig_shore_case *c, rig_shore_findings *findings, rig_shore_set set, bool always)
{
	bool *on_load = NULL;
	rig_status status = mark_loads(c, &set, &on_load);
	if (status == RIG_OK)
		status = fill_set(c, findings, on_load, &set);
	if (status != RIG_OK)
		return status;
	bool wanted = set.n_items > 0;
	for (size_t i = 0; i < findings->n_sets; i++)
		wanted &= !same_items(&findings->sets[i], &set);
	if (wanted || always)
		findings->sets[findings->n_sets++] = set;
	return RIG_OK;
}

static rig_status list_sets(const rig_shore_case *c, rig_shore_findings *findings)
{
	static const rig_shore_set_kind OWN[] = {RIG_SHORE_SET_EVERYTHING, RIG_SHORE_SET_STANDING,
		RIG_SHORE_SET_COMPRESSORS, RIG_SHORE_SET_COMPRESSORS_AND_HEAT,
		RIG_SHORE_SET_CONTINUOUS};
	enum { N_OWN = sizeof OWN / sizeof OWN[0] };
	const rig_coach *coach = c->coach;
	findings->sets =
		rig_arena_take(c->arena, coach->n_together + N_OWN, sizeof *findings->sets);
	if (!findings->sets)
		return RIG_NO_MEMORY;
	rig_status status = RIG_OK;
	for (size_t i = 0; i < coach->n_together && status == RIG_OK; i++)
		status = add_set(c, findings,
			(rig_shore_set){.kind = RIG_SHORE_SET_TOGETHER,
				.together = (int)i,
				.name = coach->together[i].name},
			true);
	const size_t n_own = coach->n_together > 0 ? 1 : N_OWN;
	for (size_t i = 0; i < n_own && status == RIG_OK; i++)
		status = add_set(c, findings, (rig_shore_set){.kind = OWN[i], .together = -1},
			OWN[i] == RIG_SHORE_SET_EVERYTHING);
	return status;
}

/* The supply that the code asks for a number of branch circuits, [NFPA-70] 551.42: one of 15 or
 * 20 A its own rating, two to five 30 A, more 50 A. */
static void judge_circuits(const rig_coach *coach, rig_shore_findings *findings)
{
	double only_a = 0;
	for (size_t i = 0; i < coach->n_circuits; i++)
		if (coach->circuits[i].supply != RIG_DC) {
			findings->n_ac_circuits++;
			only_a = coach->circuits[i].breaker_a.likely;
		}
	const int n = findings->n_ac_circuits;
	findings->circuits_ask_a = n == 0 ? 0 : n > 5 ? 50 : n > 1 || only_a > 20 ? 30 : 20;
	if (n == 1 && only_a > 0 && only_a <= 15)
		findings->circuits_ask_a = 15;
}

static rig_status list_unplaced(const rig_shore_case *c, rig_shore_findings *findings)
{
	findings->unplaced = rig_arena_take(c->arena, c->n_units, sizeof *findings->unplaced);
	if (!findings->unplaced)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		const size_t n = findings->n_unplaced;
		if (unit->leg >= 0 || unit->two_hots)
			continue;
		if (n == 0 || findings->unplaced[n - 1] != unit->load)
			findings->unplaced[findings->n_unplaced++] = unit->load;
	}
	return RIG_OK;
}

static rig_status study(rig_shore_case *c, rig_shore_findings *findings)
{
	rig_status status = rig_shore_units(c);
	if (status == RIG_OK)
		status = list_supplies(c, findings);
	if (status == RIG_OK)
		status = list_unplaced(c, findings);
	if (status == RIG_OK)
		status = list_sets(c, findings);
	if (status == RIG_OK)
		status = rig_shore_balance_legs(c, &findings->balance);
	findings->charger_w = c->charger_w;
	findings->charger_pf = c->charger_pf;
	judge_circuits(c->coach, findings);
	return status;
}

rig_status rig_shore_study(
	const rig_coach *completed, const rig_shore_options *options, rig_shore_findings **findings)
{
	rig_arena *arena = rig_arena_new();
	holder *held = arena ? rig_arena_take(arena, 1, sizeof *held) : NULL;
	rig_status status = RIG_NO_MEMORY;
	if (!held)
		goto out;
	*held = (holder){.findings = {.coach = completed}, .arena = arena};
	rig_shore_case c = {
		.coach = completed,
		.arena = arena,
		.at_high = options && options->at_high,
		.verdicts_only = options && options->verdicts_only,
		.run = options ? options->run : NULL,
		.two_legs = rig_shore_two_legs(completed),
	};
	status = study(&c, &held->findings);
out:
	if (status == RIG_OK)
		*findings = &held->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_shore_free(rig_shore_findings *findings)
{
	if (findings)
		rig_arena_free(((holder *)findings)->arena);
}

const char *rig_shore_verdict_text(rig_shore_verdict verdict)
{
	static const char *const TEXT[] = {
		[RIG_SHORE_FITS] = "fits",
		[RIG_SHORE_DEPENDS] = "fits at likely draws only",
		[RIG_SHORE_OVER_CONTINUOUS] = "over the limit for continuous loads",
		[RIG_SHORE_OVER] = "over the breaker",
	};
	assert(verdict <= RIG_SHORE_OVER);
	return TEXT[verdict];
}

const char *rig_shore_element_text(rig_shore_element element)
{
	static const char *const TEXT[] = {
		[RIG_SHORE_NO_ELEMENT] = "nothing",
		[RIG_SHORE_CIRCUIT] = "circuit",
		[RIG_SHORE_LEG] = "leg",
		[RIG_SHORE_MAIN] = "supply",
		[RIG_SHORE_NEUTRAL] = "neutral",
	};
	assert(element <= RIG_SHORE_NEUTRAL);
	return TEXT[element];
}
