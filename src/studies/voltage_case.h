/* SPDX-License-Identifier: GPL-3.0-or-later */
/* voltage_case.h: one set of units on one supply, solved at all ends of its doubt. */
#ifndef STUDIES_VOLTAGE_CASE_H
#define STUDIES_VOLTAGE_CASE_H

#include "studies/voltage_feed.h"

/* One supply's question. */
typedef struct {
	const rig_shore_case *c;
	const rig_shore_supply *supply;
	const rig_voltage_path *path;
	rig_c84_limits limits;
	rig_feed_load *loads;       /* scratch for n_units, and one more with extra */
	const rig_feed_load *extra; /* besides the units, or NULL */
	const unsigned char *leg;   /* of each unit, where its own is unknown */
	const int *alone; /* the one load that errs, all others at their likely draw; NULL: all */
} rig_volts_question;

/* The state with these units on, none of them dead.
 * RIG_NO_SOLUTION. */
rig_status rig_volts_state(
	const rig_volts_question *question, const bool *on, rig_voltage_state *state);

/* The same at one end, unjudged.
 *   feed  NULL for the path's own
 * RIG_NO_SOLUTION. */
rig_status rig_volts_solve(const rig_volts_question *question, const bool *on,
	const rig_feed_ends *ends, const rig_feed *feed, rig_feed_state *state);

/* Where volts hot to neutral stand in ranges A and B. */
rig_volts_range rig_volts_judge(double volts_v, const rig_c84_limits *limits);

#endif
