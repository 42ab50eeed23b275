/* SPDX-License-Identifier: GPL-3.0-or-later */
/* voltage_doubt.h: which figures the volts at the coach hang on. For neighbours. */
#ifndef STUDIES_VOLTAGE_DOUBT_H
#define STUDIES_VOLTAGE_DOUBT_H

#include "studies/voltage_case.h"

typedef struct {
	const rig_volts_question *question;
	const bool *live;               /* the units that are on */
	const rig_voltage_state *state; /* solved */
} voltage_doubt_of;

/* One figure after the other alone between its ends: how the volts of the leg that is farthest out
 * answer. Sets the measures of the case. RIG_NO_MEMORY. */
rig_status rig_voltage_doubt(const voltage_doubt_of *of, rig_voltage_case *to);

#endif
