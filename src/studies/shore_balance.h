/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_balance.h: the circuits of a coach with two legs dealt anew. */
#ifndef STUDIES_SHORE_BALANCE_H
#define STUDIES_SHORE_BALANCE_H

#include "studies/shore_unit.h"

/* Fills balance with everything on; not given unless the coach has two legs and an AC circuit.
 * RIG_NO_MEMORY. */
rig_status rig_shore_balance_legs(const rig_shore_case *c, rig_shore_balance *balance);

#endif
