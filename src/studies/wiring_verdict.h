/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wiring_verdict.h: a run of wire against every rule. */
#ifndef STUDIES_WIRING_VERDICT_H
#define STUDIES_WIRING_VERDICT_H

#include "rigbudget/wiring.h"

enum { RIG_NO_GAUGE = 99 };

/* The number of a printed gauge: "12" is 12, "4/0" is -3. */
int rig_gauge_of(const char *printed);

typedef struct {
	rig_copper copper;
	bool next_size;
	int awg;                   /* as found; RIG_NO_GAUGE if nobody says */
	rig_figure largest_need_a; /* smallest fuse for the largest single load */
} rig_wiring_case;

/* Fills what stands in a run from rated on, but for what its battery can give and what was found.
 */
rig_status rig_wiring_judge(const rig_wiring_case *of, rig_wiring_run *run);

#endif
