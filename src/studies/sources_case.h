/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sources_case.h: what the parts of the study of other sources share. */
#ifndef STUDIES_SOURCES_CASE_H
#define STUDIES_SOURCES_CASE_H

#include "rigbudget/sources.h"
#include "studies/shore_unit.h"

typedef struct {
	rig_shore_case c;
	const rig_voltage_findings *volts;
	rig_sources_findings *findings;
} rig_sources_case;

/* Whether a source feeds a unit at all, dead or not. */
bool rig_source_feeds(const rig_shore_case *c, rig_source_kind kind, const rig_shore_unit *unit);

/* The generator and the inverter, as far as the coach has them, with what fits on them.
 * RIG_BAD_INPUT. RIG_NO_MEMORY. */
rig_status rig_sources_list(rig_sources_case *s);

/* Every start on every source; the sources are listed.
 * RIG_NO_SOLUTION. RIG_NO_MEMORY. */
rig_status rig_starts_list(rig_sources_case *s);

#endif
