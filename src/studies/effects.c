/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The main figures of two coaches side by side. */
#include <stdlib.h>
#include <string.h>

#include "rigbudget/compare.h"
#include "rigbudget/profile.h"

enum { OF_BANK = RIG_N_EFFECTS };

typedef struct {
	rig_effects effects; /* first, so that it can be freed by it */
	size_t room;
	rig_effect rows[];
} owned;

/* A set on a supply. */
typedef struct {
	const rig_compared *findings;
	size_t set, supply;
} spot;

static void add(owned *into, const rig_effect *row)
{
	if (into->effects.n < into->room &&
		(rig_figure_given(row->before) || rig_figure_given(row->after)))
		into->rows[into->effects.n++] = *row;
}

/* ---- sets ---- */

static bool is_compared(const rig_shore_set *set)
{
	return set->kind == RIG_SHORE_SET_TOGETHER || set->kind == RIG_SHORE_SET_EVERYTHING;
}

/* Index of the same set; n_sets if there is none. */
static size_t same_set(const rig_shore_findings *findings, const rig_shore_set *set)
{
	for (size_t i = 0; i < findings->n_sets; i++) {
		const rig_shore_set *other = &findings->sets[i];
		if (other->kind == set->kind &&
			(set->kind != RIG_SHORE_SET_TOGETHER ||
				(set->name != NULL && other->name != NULL &&
					strcmp(set->name, other->name) == 0)))
			return i;
	}
	return findings->n_sets;
}

static size_t same_supply(const rig_shore_findings *findings, const rig_supply *pedestal)
{
	for (size_t i = 0; i < findings->n_supplies; i++)
		if (findings->supplies[i].pedestal == pedestal)
			return i;
	return findings->n_supplies;
}

static const rig_shore_budget *budget_at(const spot *at)
{
	return &at->findings->shore->sets[at->set].budgets[at->supply];
}

static rig_figure volts_at(const spot *at)
{
	const rig_voltage_findings *voltage = at->findings->voltage;
	if (voltage == NULL)
		return (rig_figure){0};
	const rig_voltage_state *all =
		&voltage->cases[at->set * at->findings->shore->n_supplies + at->supply].all;
	return all->leg_v[all->low_leg];
}

static void add_spot(owned *into, const spot *before, const spot *after)
{
	const rig_shore_set *set = &after->findings->shore->sets[after->set];
	const rig_shore_budget *was = budget_at(before), *is = budget_at(after);
	rig_effect row = {.kind = RIG_EFFECT_LEG_AMPS,
		.set = set->kind == RIG_SHORE_SET_TOGETHER ? set->name : NULL,
		.supply = after->findings->shore->supplies[after->supply].pedestal->id,
		.unit = "A",
		.before_month = -1,
		.after_month = -1,
		.has_verdicts = true,
		.before_verdict = was->verdict,
		.after_verdict = is->verdict,
		.before = was->main.loaded_a,
		.after = is->main.loaded_a};
	add(into, &row);
	row.kind = RIG_EFFECT_COACH_VOLTS;
	row.unit = "V";
	row.has_verdicts = false;
	row.before = volts_at(before);
	row.after = volts_at(after);
	add(into, &row);
}

static void add_sets(owned *into, const rig_compared *before, const rig_compared *after)
{
	if (before->shore == NULL || after->shore == NULL)
		return;
	for (size_t i = 0; i < after->shore->n_sets; i++) {
		const rig_shore_set *set = &after->shore->sets[i];
		const size_t fellow = same_set(before->shore, set);
		if (!is_compared(set) || fellow == before->shore->n_sets)
			continue;
		for (size_t k = 0; k < after->shore->n_supplies; k++) {
			const size_t supply =
				same_supply(before->shore, after->shore->supplies[k].pedestal);
			if (supply == before->shore->n_supplies)
				continue;
			add_spot(into, &(spot){before, fellow, supply}, &(spot){after, i, k});
		}
	}
}

/* ---- banks ---- */

static const rig_solar_bank *solar_bank(const rig_compared *findings)
{
	const rig_solar_findings *solar = findings->solar;
	return solar == NULL || solar->main_bank < 0 ? NULL : &solar->banks[solar->main_bank];
}

static const rig_trip_bank *trip_bank(const rig_compared *findings)
{
	const rig_trip_findings *trip = findings->trip;
	return trip == NULL || trip->main_bank < 0 ? NULL : &trip->banks[trip->main_bank];
}

static rig_figure solar_figure(const rig_solar_bank *bank, rig_effect_kind kind)
{
	if (bank == NULL)
		return (rig_figure){0};
	switch (kind) {
	case RIG_EFFECT_HARVEST:
		return bank->months[bank->worst_month].harvest_wh_day;
	case RIG_EFFECT_STANDING:
		return bank->standing_wh_day;
	case RIG_EFFECT_USE:
		return bank->use_wh_day;
	default:
		return bank->usable_wh;
	}
}

static void add_solar(owned *into, const rig_compared *before, const rig_compared *after)
{
	static const struct {
		rig_effect_kind kind;
		const char *unit;
	} ROWS[] = {{RIG_EFFECT_HARVEST, "Wh/day"}, {RIG_EFFECT_STANDING, "Wh/day"},
		{RIG_EFFECT_USE, "Wh/day"}, {RIG_EFFECT_USABLE, "Wh"}};
	const rig_solar_bank *was = solar_bank(before), *is = solar_bank(after);
	for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
		const bool harvest = ROWS[i].kind == RIG_EFFECT_HARVEST;
		add(into, &(rig_effect){.kind = ROWS[i].kind,
				  .unit = ROWS[i].unit,
				  .before_month = harvest && was != NULL ? was->worst_month : -1,
				  .after_month = harvest && is != NULL ? is->worst_month : -1,
				  .before = solar_figure(was, ROWS[i].kind),
				  .after = solar_figure(is, ROWS[i].kind)});
	}
}

static void add_trip(owned *into, const rig_compared *before, const rig_compared *after)
{
	const rig_trip_bank *was = trip_bank(before), *is = trip_bank(after);
	const rig_figure none = {0};
	add(into, &(rig_effect){.kind = RIG_EFFECT_DAYS_WITH,
			  .unit = "days",
			  .before_month = -1,
			  .after_month = -1,
			  .before = was != NULL ? was->days_with_panel : none,
			  .after = is != NULL ? is->days_with_panel : none});
	add(into, &(rig_effect){.kind = RIG_EFFECT_DAYS_WITHOUT,
			  .unit = "days",
			  .before_month = -1,
			  .after_month = -1,
			  .before = was != NULL ? was->days_without_panel : none,
			  .after = is != NULL ? is->days_without_panel : none});
}

rig_status rig_findings_effects(
	const rig_compared *before, const rig_compared *after, rig_effects **effects)
{
	const rig_shore_findings *shore = after->shore;
	const size_t room = OF_BANK + (shore != NULL ? 2 * shore->n_sets * shore->n_supplies : 0);
	owned *made = calloc(1, sizeof *made + room * sizeof made->rows[0]);
	if (made == NULL)
		return RIG_NO_MEMORY;
	made->room = room;
	made->effects.rows = made->rows;
	add_sets(made, before, after);
	add_solar(made, before, after);
	add_trip(made, before, after);
	*effects = &made->effects;
	return RIG_OK;
}

void rig_effects_free(rig_effects *effects)
{
	free(effects);
}

static bool same(rig_figure a, rig_figure b)
{
	return rig_figure_given(a) == rig_figure_given(b) && a.low == b.low &&
	       a.likely == b.likely && a.high == b.high;
}

bool rig_effect_differs(const rig_effect *effect)
{
	return !same(effect->before, effect->after) ||
	       (effect->has_verdicts && effect->before_verdict != effect->after_verdict) ||
	       effect->before_month != effect->after_month;
}
