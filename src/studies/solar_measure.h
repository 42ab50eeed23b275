/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_measure.h: which figures it hangs on whether the sun covers what is drawn. For neighbours.
 */
#ifndef STUDIES_SOLAR_MEASURE_H
#define STUDIES_SOLAR_MEASURE_H

#include "base/arena.h"
#include "rigbudget/solar.h"

typedef struct {
	const rig_coach *coach;
	const rig_solar_bank *bank; /* its months filled */
	int month, habit;
	bool with_use; /* against the daily use, not the standing draw alone */
	rig_arena *arena;
} solar_measure_of;

/* How the Wh a day that are left over answer to each cause alone; it decides where they change
 * sign. At most RIG_MEASURE_SHOWN. RIG_NO_MEMORY. */
rig_status solar_measures(const solar_measure_of *of, size_t *n_measures, rig_measure **measures);

#endif
