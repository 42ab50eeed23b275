/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flows.h"

#include <string.h>

/* All loads, and the charger if it is on. */
static bool reckon(rig_shore_case *c, bool charger, flows *made)
{
	bool *unit = rig_arena_take(c->arena, c->n_units, sizeof *unit);
	bool *load = rig_arena_take(c->arena, c->coach->n_loads, sizeof *load);
	if (unit == NULL || load == NULL)
		return false;
	for (size_t i = 0; i < c->coach->n_loads; i++)
		load[i] = true;
	for (size_t i = 0; i < c->n_units; i++)
		unit[i] = charger || c->units[i].load != RIG_SHORE_CHARGER;
	const rig_shore_switches on = {unit, load};
	made->n = rig_n_supplies();
	for (size_t i = 0; i < made->n; i++) {
		made->supplies[i] = rig_shore_supply_of(c->coach, rig_supply_at(i));
		made->budgets[i].supply = (int)i;
		if (rig_shore_reckon(c, &made->supplies[i], &on, &made->budgets[i]) != RIG_OK)
			return false;
		/* a shared hot has them dealt, too */
		made->budgets[i].unplaced = made->budgets[0].unplaced;
	}
	made->loosely_dealt = made->budgets[0].unplaced && c->n_units > FLOWS_MOST_DEALT;
	return true;
}

bool flows_with(const rig_coach *coach, bool charger, flows *made)
{
	memset(made, 0, sizeof *made);
	made->arena = rig_arena_new();
	rig_shore_case c = rig_shore_case_of(coach, made->arena);
	return made->arena != NULL && rig_shore_units(&c) == RIG_OK && reckon(&c, charger, made);
}

bool flows_of(const rig_coach *coach, flows *made)
{
	return flows_with(coach, true, made);
}

void flows_free(flows *made)
{
	rig_arena_free(made->arena);
}
