/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_coach.h: completed coaches for the tests of the solar study, made without a rig file. */
#ifndef TESTS_SOLAR_COACH_H
#define TESTS_SOLAR_COACH_H

#include "rigbudget/coach.h"

enum { SOLAR_COACH_LOADS = 16, HOUSE = 0, CHASSIS = 1 };

/* A coach and room for what its lists point at; do not move it. */
typedef struct {
	rig_coach coach;
	rig_load loads[SOLAR_COACH_LOADS];
	rig_bank banks[2];
	rig_array arrays[2];
} solar_coach;

/* A coach with a household: refrigerator and evening electronics through a 2,000 W inverter that
 * stays on, furnace, lights, pump, fan and alarms on 420 Ah of AGM batteries; a starting battery
 * with the dash on it; one flat panel of 100 W behind a series controller on the house bank. */
void solar_coach_household(solar_coach *made);

/* The same batteries and panel with nothing but alarms and a few lights. */
void solar_coach_bare(solar_coach *made);

/* A load by its profile on the house bank, or through the inverter if it is an AC one. */
void solar_coach_add(solar_coach *made, const char *profile, int count);

/* Nameplate of the first array, exactly. */
void solar_coach_set_watts(solar_coach *made, double watts_w);

#endif
