/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ladder.h: loads from small to large, and which of them what the sun brings carries once the
 * standing draw is covered. For neighbours. */
#ifndef STUDIES_LADDER_H
#define STUDIES_LADDER_H

#include "studies/solar_case.h"

/* Fills the rungs of a bank whose months and standing draw are filled: the standing draw, the loads
 * that the coach uses from this bank, and of the usual loads those that the coach has none of. A
 * chassis bank has the standing draw only. RIG_NO_MEMORY. */
rig_status solar_ladder(solar_case *it, rig_solar_bank *bank);

#endif
