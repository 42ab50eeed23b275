/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_level.h: which level a case reaches month by month. For neighbours. */
#ifndef STUDIES_SOLAR_LEVEL_H
#define STUDIES_SOLAR_LEVEL_H

#include "studies/solar_case.h"

/* Fills months, overall, worst and best month of a bank. RIG_NO_MEMORY. */
rig_status solar_levels(solar_case *it, rig_solar_bank *bank);

#endif
