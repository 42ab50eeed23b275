/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sources_answer.h: a coach on its other sources, with the studies that this takes, for tests. */
#ifndef SOURCES_ANSWER_H
#define SOURCES_ANSWER_H

#include "rigbudget/sources.h"

typedef struct {
	rig_file *file;
	rig_shore_findings *shore;
	rig_voltage_findings *volts;
	rig_sources_findings *sources;
} sources_answer;

/* Takes the file over; fails the test where a study does. */
sources_answer sources_ask(
	rig_file *file, const rig_place *place, const rig_sources_options *options);
/* The status of a coach that was changed since; its findings are thrown away. */
rig_status sources_status(
	const rig_coach *completed, const rig_place *place, const rig_sources_options *options);
void sources_drop(sources_answer *a);
const rig_other_source *sources_of(const sources_answer *a, rig_source_kind kind);
/* Index of the set of everything. */
int sources_everything(const sources_answer *a);

#endif
