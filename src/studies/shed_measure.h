/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_measure.h: which draws it hangs on what an energy manager switches off. For neighbours. */
#ifndef STUDIES_SHED_MEASURE_H
#define STUDIES_SHED_MEASURE_H

#include "base/arena.h"
#include "rigbudget/shed.h"

/* Fills the measures of findings that are complete otherwise. Statuses as rig_shed_study. */
rig_status shed_find_measures(rig_arena *arena, rig_shed_findings *findings);

#endif
