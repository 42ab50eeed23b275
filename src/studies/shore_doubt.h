/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_doubt.h: which draws a budget's verdict hangs on. For neighbours. */
#ifndef STUDIES_SHORE_DOUBT_H
#define STUDIES_SHORE_DOUBT_H

#include "studies/shore_budget.h"

typedef struct {
	const rig_shore_case *c;
	const rig_shore_supply *supply;
	const rig_shore_switches *on;
	rig_shore_budget *budget; /* reckoned; its measures are set */
} shore_doubt_of;

/* One draw after the other alone between its ends, all others at their likely value: how the loaded
 * amps of the limiting element answer. RIG_NO_MEMORY. */
rig_status rig_shore_doubt(const shore_doubt_of *of);

/* Loaded amps of the limiting element with one load alone between its ends: by a whole budget of
 * its own, for each element. load   RIG_SHORE_CHARGER for the charger; of an index that no load
 * has, none errs loaded_a   out: untouched if the budget has no such element RIG_NO_MEMORY. */
rig_status rig_shore_doubt_reckoned(const shore_doubt_of *of, int load, rig_figure *loaded_a);

/* The same to the last bit from the element's own sum, for all but the neutral.
 *   element   out: lives in the arena
 * RIG_NO_MEMORY. */
typedef struct shore_element shore_element;
rig_status rig_shore_element_of(
	const shore_doubt_of *of, rig_arena *arena, shore_element **element);
rig_figure rig_shore_element_loaded_a(const shore_element *element, int load);

#endif
