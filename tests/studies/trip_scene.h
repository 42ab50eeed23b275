/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_scene.h: coaches from text and their stays, for tests. */
#ifndef TRIP_SCENE_H
#define TRIP_SCENE_H

#include "rigbudget/trip.h"

#define TRIP_HEAD "{\"format\": \"rigbudget/1\", \"name\": \"Wren\", \"shore\": {\"cord_a\": 30}, "
#define TRIP_IDEAL_BANK                                                                            \
	"{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, \"capacity_wh\": %g, "   \
	"\"usable_frac\": 1, \"charge_efficiency_frac\": 0.9}"
#define TRIP_IDEAL_ARRAY                                                                           \
	"{\"id\": \"roof\", \"bank\": \"%s\", \"watts_w\": %g, \"noct_c\": 45, "                   \
	"\"roof_rise_k\": 0, \"temp_coefficient_per_k\": %g, \"losses_frac\": %g, "                \
	"\"shade_frac\": 0, \"tilt_deg\": 0, \"controller\": \"direct\"}"

/* The coach of a text, as printf makes it; fails the test with what the reader says. */
rig_file *trip_scene_coach(const char *format, ...) __attribute__((format(printf, 1, 2)));
/* A bank on the edge in March. */
rig_file *trip_scene_edge(void);
/* Flagstaff. */
rig_place trip_scene_place(void);
rig_trip_options trip_scene_days(int month, int n_days);
rig_trip_findings *trip_scene_study(
	const rig_file *file, const rig_place *place, const rig_trip_options *options);
/* By its id; fails the test where there is none. */
const rig_trip_load *trip_scene_load(const rig_trip_findings *findings, const char *id);

#endif
