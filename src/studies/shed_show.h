/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_show.h: the course of one day written down. Neighbours of the shed study only. */
#ifndef STUDIES_SHED_SHOW_H
#define STUDIES_SHED_SHOW_H

#include "studies/shed_model.h"

/* Runs a day with an order and fills shown, but not its day. Spans and points that belong together
 * are one. RIG_NO_MEMORY. */
rig_status shed_show(const shed_model *model, const shed_day *day, const shed_order *order,
	rig_arena *arena, rig_shed_findings *findings);

#endif
