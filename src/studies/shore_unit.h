/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_unit.h: the coach's AC loads one by one, as phasors with a leg, a circuit and a rank. */
#ifndef STUDIES_SHORE_UNIT_H
#define STUDIES_SHORE_UNIT_H

#include "base/arena.h"
#include "rigbudget/phasor.h"
#include "rigbudget/shore.h"

/* The three ends of every figure. */
enum { RIG_LOW, RIG_LIKELY, RIG_HIGH, RIG_N_ENDS };

/* Continuous loads count at 125 % [NFPA-70] 210.19, 210.20. */
static const double RIG_CONTINUOUS_FACTOR = 1.25;

/* Amps of a start with a soft starter over locked-rotor amps (common practice, no source). */
static const double RIG_SOFT_FRAC[3] = {0.3, 0.4, 0.5};

/* One of a load; or all of a load of which there are many, as with lamps on one switch. */
typedef struct {
	int load;  /* index in the coach, or RIG_SHORE_CHARGER */
	int count; /* of the load that this unit stands for */
	int priority;
	int key; /* distinct, the same whatever the order of the loads in the file */
	bool continuous;
	bool two_hots; /* 240 V */
	double rated_v;
	int leg;     /* 0, 1, or -1 when nobody says */
	int circuit; /* in coach->circuits, or -1 */
	rig_phasor power[RIG_N_ENDS];
	rig_phasor hot[RIG_N_ENDS]; /* on one hot, so that hot / RIG_HOT_V is the amps at its own
				       rated volts; half of power for 240 V */
	rig_figure start_a;         /* of one, with its soft starter if it has one */
} rig_shore_unit;

/* Nominal volts hot to neutral that rig_shore_unit.hot stands on. */
static const double RIG_HOT_V = 120.0;

/* The last deal of loads of unknown leg: it is asked for again and again with the same loads on. */
typedef struct {
	bool known;
	bool *on;
	unsigned char *leg;
} rig_shore_dealt;

/* What the whole study shares. */
typedef struct {
	const rig_coach *coach;
	rig_arena *arena; /* of the findings */
	bool at_high;
	bool verdicts_only; /* as in rig_shore_options */
	const char *run;    /* likewise */
	bool two_legs;
	rig_figure charger_w, charger_pf;
	size_t n_units;
	rig_shore_unit *units;
	rig_shore_dealt *dealt; /* of these units' likely draws; NULL: each deal is made anew */
} rig_shore_case;

/* What a study of that coach begins with. */
rig_shore_case rig_shore_case_of(const rig_coach *coach, rig_arena *arena);

/* Fills the units and the charger's figures.
 * RIG_BAD_INPUT: a figure is not finite, not in order or out of its range. RIG_NO_MEMORY. */
rig_status rig_shore_units(rig_shore_case *c);

/* Whether the coach has two legs: a 50 A cord [NFPA-70] 551.46, or nobody says. */
bool rig_shore_two_legs(const rig_coach *coach);

/* A receptacle as that coach's cord finds it. */
rig_shore_supply rig_shore_supply_of(const rig_coach *coach, const rig_supply *pedestal);

/* The units of a set's loads.
 *   on   out: n_units of them */
void rig_shore_mark(const rig_shore_case *c, const rig_shore_set *set, bool *on);

/* The AC circuit of a load (RIG_SHORE_CHARGER for the charger), or -1. */
int rig_shore_circuit_of(const rig_coach *coach, int load);

#endif
