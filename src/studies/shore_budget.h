/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_budget.h: one set on one supply: flows, verdicts and starts, without choices. */
#ifndef STUDIES_SHORE_BUDGET_H
#define STUDIES_SHORE_BUDGET_H

#include "studies/fits.h"
#include "studies/shore_unit.h"

/* What is switched on. */
typedef struct {
	const bool *unit; /* of the case's units */
	const bool *load; /* of the coach's loads; read for DC only */
} rig_shore_switches;

/* Whether a unit gets nothing on a supply: 240 V without a second hot. */
bool rig_shore_is_dead(const rig_shore_supply *supply, const rig_shore_unit *unit);

/* The units that are on, none of them dead, as a problem for fits.h, at the likely or high end.
 *   of     out: the unit of each item, n_units of them
 * RIG_NO_MEMORY. */
rig_status rig_shore_problem(const rig_shore_case *c, const rig_shore_supply *supply,
	const bool *on, rig_fits_problem *problem, size_t *of);

/* Fills all of a budget but its choices. budget->supply is set.
 * RIG_NO_MEMORY. */
rig_status rig_shore_reckon(const rig_shore_case *c, const rig_shore_supply *supply,
	const rig_shore_switches *on, rig_shore_budget *budget);

/* The fuller hot's flow and the watts of all hots, of units that are on, none of them dead: as
 * rig_shore_reckon has them. RIG_NO_MEMORY. */
rig_status rig_shore_draw(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	rig_shore_flow *fuller, rig_figure *watts_w);

/* The leg of each unit that is on, 0 or 1; those of unknown leg are dealt as evenly as can be.
 *   leg   out: n_units of them; 0 where off or 240 V
 * RIG_NO_MEMORY. */
rig_status rig_shore_deal(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	unsigned char *leg);

/* The gravest that these amps are against their limit. */
rig_shore_verdict rig_shore_judge(rig_figure amps_a, rig_figure loaded_a, double limit_a);

#endif
