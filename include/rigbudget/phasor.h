/* SPDX-License-Identifier: GPL-3.0-or-later */
/* phasor.h: alternating loads added up as watts and reactive volt-amperes.
 * Knows one frequency and steady sines; knows nothing of breakers. Harmonics are left out: the
 * current of electronic supplies has more of them than their power factor shows, and in a shared
 * neutral some of them add up where the phasors cancel. */
#ifndef RIG_PHASOR_H
#define RIG_PHASOR_H

/* A load or a sum of loads. */
typedef struct {
	double active_w;
	double reactive_va; /* positive when the current lags the voltage */
} rig_phasor;

/* A load from real watts >= 0 and a power factor, 0 < pf <= 1. The current is taken to lag, as in
 * motors and transformers; a load that leads would cancel part of it, so a sum made this way is
 * never too low (common practice, no source). */
rig_phasor rig_phasor_of(double active_w, double power_factor);
rig_phasor rig_phasor_add(rig_phasor a, rig_phasor b);    /* watts to watts, vars to vars */
rig_phasor rig_phasor_scale(rig_phasor a, double factor); /* both parts */

/* Apparent power, VA: sqrt(w^2 + var^2). */
double rig_phasor_va(rig_phasor a);
/* Current at a voltage, A. volts_v > 0 */
double rig_phasor_a(rig_phasor a, double volts_v);
/* Power factor, 0 to 1; 1 for no load. */
double rig_phasor_power_factor(rig_phasor a);

/* Two hots and their neutral. A load across both hots (240 V) counts half on each leg, and so adds
 * nothing to the neutral. */
typedef struct {
	rig_phasor leg1, leg2;
} rig_legs;

/* Neutral current of a 120/240 V supply, whose hots are in opposition, A:
 * |S1 - S2| / volts.  volts_v hot to neutral, > 0 */
double rig_neutral_split_a(const rig_legs *legs, double volts_v);
/* Current in one hot that feeds both legs, and in its neutral, A: |S1 + S2| / volts. Also the
 * neutral current of a wrongly wired supply whose two hots are the same phase. Loads across both
 * hots get nothing there and must be left out of the legs. */
double rig_neutral_shared_a(const rig_legs *legs, double volts_v);

#endif
