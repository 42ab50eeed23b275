/* SPDX-License-Identifier: GPL-3.0-or-later */
/* supply_voltage.h: the volts that are left at the end of a cord, with the loads answering to them.
 * Knows wires, one frequency and steady sines; knows nothing of coaches, breakers or time. */
#ifndef RIG_SUPPLY_VOLTAGE_H
#define RIG_SUPPLY_VOLTAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/phasor.h"
#include "rigbudget/status.h"

/* How a load's draw answers to its voltage: watts and reactive volt-amperes both go as
 * (volts / rated)^n. Below RIG_GIVES_UP_RATIO of its rated volts every load counts as a fixed
 * impedance, so that each feed has an answer. */
typedef enum {
	RIG_HOLDS_RESISTANCE, /* n = 2: heat, lamps with a filament, a motor with its rotor locked
			       */
	RIG_HOLDS_POWER, /* n = 0: electronic supplies, chargers, inverter-driven compressors */
	RIG_HOLDS_SHAFT  /* a loaded induction motor: n = 0.0095 below its rated volts, 0.2386
			    above, so that its amps are +11 % at 90 % volts and -7 % at 110 %
			    [MOTOR-VOLTS] */
} rig_voltage_response;

#define RIG_GIVES_UP_RATIO 0.7 /* volts over rated volts */

/* The n above, at volts over rated volts, dimensionless. */
double rig_feed_exponent(rig_voltage_response response, double ratio);

typedef enum { RIG_ON_LEG_1, RIG_ON_LEG_2, RIG_ACROSS_LEGS } rig_feed_place;

typedef struct {
	rig_phasor draw; /* at rated_v; both parts >= 0 */
	double rated_v;  /* > 0; 120 on a leg, 240 across both */
	rig_voltage_response response;
	rig_feed_place place; /* on one hot both legs are the same wire */
} rig_feed_load;

/* Amps of a load at a voltage, magnitude, A.  volts_v >= 0 */
double rig_feed_load_a(const rig_feed_load *load, double volts_v);

typedef enum {
	RIG_FEED_ONE_HOT,   /* 120 V: one hot feeds both legs; loads across both are dead */
	RIG_FEED_SPLIT,     /* 120/240 V: two hots in opposition */
	RIG_FEED_SAME_PHASE /* two hots wrongly on one phase; loads across both are dead */
} rig_feed_kind;

/* One conductor from the source to the coach, all of it in a row: transformer, site wiring,
 * adapter, cord. Both parts >= 0, ohm. */
typedef struct {
	double resistance_ohm, reactance_ohm;
} rig_impedance;

typedef struct {
	rig_feed_kind kind;
	double open_v;         /* hot to neutral with nothing drawn, > 0 */
	rig_impedance hot[2];  /* the second is not read with one hot */
	rig_impedance neutral; /* resistance INFINITY: a broken neutral */
} rig_feed;

typedef struct {
	double leg_v[2];  /* hot to neutral at the coach; alike on one hot */
	double across_v;  /* hot to hot at the coach; 0 unless split */
	double hot_a[2];  /* the second is 0 with one hot */
	double neutral_a; /* magnitude of the phasor */
	double lost_w;    /* heat in the conductors */
	bool gave_up;     /* some load is below RIG_GIVES_UP_RATIO of its rated volts */
	int n_steps;      /* of Newton's method */
} rig_feed_state;

/* Volts and amps at the coach. With u1 and u2 the leg voltages, i1, i2 and i12 the currents of the
 * loads, E the open voltage and Z the impedances, all complex:
 *   E = u1 + Z1 (i1 + i12) + Zn (i1 -+ i2)     E = u2 + Z2 (i2 + i12) + Zn (i2 -+ i1)
 * minus when split, plus on one phase; Newton's method from no load, each step halved until it
 * helps, and where none does, the loads as the admittances that they are at the volts so far. On
 * one hot, of several answers, which only a feed near collapse has, that ends at the highest. state
 * out: untouched unless RIG_OK Coupling between the conductors, and the reactance of the source
 * where nobody gives it, are left out: at power factors of 0.8 and up, under 0.3 V of a 3 V drop.
 * RIG_NO_SOLUTION: no answer to 1e-12 of the open voltage after 60 steps; met with 230 kW on a
 * 50 A cord. */
rig_status rig_feed_solve(
	const rig_feed *feed, const rig_feed_load loads[], size_t n_loads, rig_feed_state *state);

/* Resistance of hot and neutral together from one reading, ohm: (open - loaded) / amps. For a
 * heater as the load. loaded_v <= open_v, amps_a > 0 */
double rig_feed_reading_ohm(double open_v, double loaded_v, double amps_a);

#endif
