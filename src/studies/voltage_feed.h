/* SPDX-License-Identifier: GPL-3.0-or-later */
/* voltage_feed.h: a coach's supply and its loads as a feed to be solved, at the ends of their
 * doubt. */
#ifndef STUDIES_VOLTAGE_FEED_H
#define STUDIES_VOLTAGE_FEED_H

#include "rigbudget/supply_voltage.h"
#include "rigbudget/voltage.h"
#include "studies/shore_unit.h"

/* Which end of its range each part of a feed is at: indices of rig_shore_unit's figures. */
typedef struct {
	int open;      /* open volts */
	int wires;     /* resistances */
	int leg[2];    /* draws, by leg */
	int across;    /* draws of 240 V */
	int loose_leg; /* where loads of unknown leg are: 0, 1, or -1 for as evenly as can be */
} rig_feed_ends;

/* All likely. */
rig_feed_ends rig_feed_likely(void);
/* The lowest (RIG_LOW) or highest (RIG_HIGH) volts of one leg; on one hot both legs are that. */
rig_feed_ends rig_feed_worst(int n_hots, int leg, int end);

/* Whether the figures of the way to the coach are there, finite and in order. */
bool rig_feed_is_sound(const rig_coach *coach);

/* The path of one supply; its index is left 0. */
rig_voltage_path rig_feed_path(const rig_coach *coach, const rig_shore_supply *supply);

/* How a load answers to its volts; RIG_SHORE_CHARGER for the charger. */
rig_voltage_response rig_feed_response(const rig_coach *coach, int load);

/* Conductors of a path at an end. */
rig_feed rig_feed_of(
	const rig_voltage_path *path, const rig_shore_supply *supply, const rig_feed_ends *ends);

/* One unit as a load. leg: 0 or 1, where it is if its own leg is unknown. */
rig_feed_load rig_feed_unit(
	const rig_shore_case *c, const rig_shore_unit *unit, const rig_feed_ends *ends, int leg);

#endif
