/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measuring.h: of all that is in doubt, what to measure next. A study says for each input how its
 * answer moves with that input alone between its ends; this puts them in the order in which a
 * technician should take them. */
#ifndef RIG_MEASURING_H
#define RIG_MEASURING_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/figure.h"

/* What can be measured, read or asked. */
typedef enum {
	RIG_MEASURE_AC_LOAD,      /* index: load; its watts */
	RIG_MEASURE_DC_LOAD,      /* load; its watts */
	RIG_MEASURE_USE,          /* load; its hours a day */
	RIG_MEASURE_LOAD_DAY,     /* load; its Wh a day */
	RIG_MEASURE_FACTOR,       /* load; its power factor */
	RIG_MEASURE_LEG,          /* load; the leg that feeds it */
	RIG_MEASURE_CHARGER,      /* what the charger draws */
	RIG_MEASURE_STANDING,     /* bank; its draw with everything switched off */
	RIG_MEASURE_CAPACITY,     /* bank; what it holds */
	RIG_MEASURE_USABLE,       /* bank; how far it may be drawn down */
	RIG_MEASURE_KEEPS,        /* bank; what it keeps of a charge */
	RIG_MEASURE_PANEL_W,      /* array, -1 for all; nameplate or glass */
	RIG_MEASURE_PANEL_LOSSES, /* array, -1 for all; shade, dirt, wire, controller */
	RIG_MEASURE_INVERTER,     /* its own draw */
	RIG_MEASURE_OPEN_V,       /* volts at the pedestal, nothing drawn */
	RIG_MEASURE_SOURCE,       /* volts at the pedestal under a known load */
	RIG_MEASURE_CORD,         /* length and gauge of cord and adapter */
	RIG_MEASURE_SUPPLY_W,     /* label of generator or inverter */
	RIG_MEASURE_WIRE_A,       /* run; amps through it */
	RIG_MEASURE_WIRE_M,       /* run; its length */
	RIG_MEASURE_WIRE_HEAT,    /* run; the air about it */
	RIG_MEASURE_HEAT_LOSS,    /* of the coach: how its air conditioner or furnace cycles */
	RIG_MEASURE_SUN,          /* of the place: a nearer record; nothing to measure in a day */
	RIG_MEASURE_WEATHER,      /* one year or stay against another: nobody can measure it */
	RIG_N_MEASURES
} rig_measure_kind;

/* Who can do it. */
typedef enum {
	RIG_SKILL_ANYONE,     /* eyes, a tape, a question */
	RIG_SKILL_METER,      /* a clamp meter on an insulated wire */
	RIG_SKILL_ELECTRICIAN /* a cover comes off, or live metal is near */
} rig_skill;

/* How one kind is measured. */
typedef struct {
	const char *tool;
	double minutes; /* of work, 0 for what cannot be measured (common practice, no source) */
	rig_skill skill;
	const char *how; /* one sentence without a stop, after "Measure next: NAME;" */
} rig_measure_way;

/* Never NULL. */
const rig_measure_way *rig_measure_way_of(rig_measure_kind kind);

/* One input of an answer. */
typedef struct {
	rig_measure_kind kind;
	int index; /* of load, bank, array or run; -1 */
	/* What the answer comes to with this input alone at its low, likely and high, in the
	 * answer's own unit; in any order. */
	double outcome[3];
	double share_frac; /* of the answer's variance; set by rig_measure_shares */
	bool decides;      /* within its range the level or verdict changes */
} rig_measure;

/* Share of each input in the variance of the answer, first order: each input is drawn from a
 * triangle over its range with its tip at the likely value, and the answer taken as straight on
 * either side of it, so that for an answer that is a sum the shares are exact:
 *   variance = (a^2 + b^2 + c^2 - a b - a c - b c) / 18 of the outcomes a, b, c.
 * All 0 where nothing is in doubt. */
void rig_measure_shares(size_t n, rig_measure *inputs);

/* Puts in front, best first, what is worth measuring, and gives how many those are, at most most.
 * Worth measuring: it can be measured, and makes at least RIG_MEASURE_LEAST_FRAC of the spread or
 * decides. First those that decide, then by share over effort; effort is 1 for what takes no time
 * and anyone can do, and grows by the hour and by the skill. */
#define RIG_MEASURE_LEAST_FRAC 0.05
size_t rig_measure_rank(size_t n, rig_measure *inputs, size_t most);
double rig_measure_effort(rig_measure_kind kind);

/* At most so many are shown. */
enum { RIG_MEASURE_SHOWN = 3 };

#endif
