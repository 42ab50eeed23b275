/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure.h: sizes that stand inside a label of a profile, in the reader's units. */
#ifndef REPORT_MEASURE_H
#define REPORT_MEASURE_H

#include "base/arena.h"
#include "rigbudget/report.h"

/* The label as it is for US units; for SI, "18 to 20 cu ft" becomes "510 to 570 litres", and so do
 * gal, in (cm) and BTU/h (kW). "" when memory is out. */
const char *rig_measure_label(rig_arena *arena, const char *label, rig_units units);

#endif
