/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_scene.h: a small coach to be upgraded and a small list of parts, for tests. */
#ifndef SIZE_SCENE_H
#define SIZE_SCENE_H

#include "rigbudget/size.h"
#include "rigbudget/trip.h"

/* A list all of whose combinations can be tried. */
extern const char SIZE_PARTS[];
/* What stands around the bank, the panels and the inverter; open at its end. */
extern const char SIZE_HEAD[];
extern const char SIZE_OLD_BANK[], SIZE_OLD_ARRAY[], SIZE_OLD_INVERTER[];

/* Each fails the test where the text is wrong or the study does not end well. */
rig_file *size_parse(const char *text);
rig_file *size_scene_coach(const char *bank, const char *arrays, const char *inverter);
rig_parts_file *size_scene_parts(const char *text);
rig_size_findings *size_sized(
	const rig_file *file, const rig_parts_file *parts, const rig_size_options *options);

/* Five days of June or November, 300 trips. */
rig_size_options size_small_options(void);
rig_trip_options size_trips_like(const rig_size_options *options, int month);
/* Share of trips that never run out, by the trip study. */
double size_chance_of(const rig_file *file, const rig_trip_options *trips);

#endif
