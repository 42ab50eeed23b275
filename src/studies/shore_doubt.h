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

#endif
