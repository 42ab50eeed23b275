/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_need.h: the watts that each level takes. For neighbours. */
#ifndef STUDIES_SOLAR_NEED_H
#define STUDIES_SOLAR_NEED_H

#include "studies/solar_case.h"

/* Fills needs and n_needs of a bank whose levels are judged.
 *   it   a case with an array on the bank, perhaps a supposed one
 * RIG_NO_MEMORY. */
rig_status solar_needs(solar_case *it, rig_solar_bank *bank);

#endif
