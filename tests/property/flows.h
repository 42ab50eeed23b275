/* SPDX-License-Identifier: GPL-3.0-or-later */
/* flows.h: what flows on every supply with everything on, without what fits instead: a cheap part
 * of the study of shore power. */
#ifndef FLOWS_H
#define FLOWS_H

#include "studies/shore_budget.h"

enum { FLOWS_SUPPLIES = 8 };

/* Up to so many loads of unknown leg are dealt so that the fuller leg is within so many amps of the
 * most even deal. */
enum { FLOWS_MOST_DEALT = 24 };
#define FLOWS_DEAL_A 0.1

typedef struct {
	rig_arena *arena;
	size_t n;
	bool loosely_dealt; /* more than FLOWS_MOST_DEALT */
	rig_shore_supply supplies[FLOWS_SUPPLIES];
	rig_shore_budget budgets[FLOWS_SUPPLIES];
} flows;

/* False: there is none. To be freed in any case. */
bool flows_of(const rig_coach *coach, flows *made);
bool flows_with(const rig_coach *coach, bool charger, flows *made);
void flows_free(flows *made);

#endif
