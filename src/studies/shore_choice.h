/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_choice.h: a set cut down until it fits a supply: by the rule for people, and exactly. */
#ifndef STUDIES_SHORE_CHOICE_H
#define STUDIES_SHORE_CHOICE_H

#include "studies/shore_unit.h"

/* Fills the three choices of a budget from the units that are on and not dead.
 * RIG_NO_MEMORY. */
rig_status rig_shore_choose(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	rig_shore_budget *budget);

#endif
