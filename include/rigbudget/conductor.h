/* SPDX-License-Identifier: GPL-3.0-or-later */
/* conductor.h: copper wire as a resistance, and the voltage lost along a run.
 * Knows metal and geometry; knows nothing of ampacity, fuses or insulation. */
#ifndef RIG_CONDUCTOR_H
#define RIG_CONDUCTOR_H

#include "rigbudget/phasor.h"
#include "rigbudget/status.h"

/* Two equal copper conductors, out and back. */
typedef struct {
	double length_m; /* one way, > 0 */
	double area_mm2; /* copper of one conductor, > 0 */
	double temp_c;   /* of the copper, not of the air; -40 to 150 */
} rig_run;

/* A stranded conductor over a solid one of the same area, in resistance, dimensionless: the lay
 * makes the strands 2 % longer [ASTM-B8]. Multiply the resistance, or divide the area, by it. */
#define RIG_STRANDED_FACTOR 1.02

/* Copper area of a solid wire of an American gauge, mm2.
 *   awg         -3 (written 4/0) to 40
 * Geometric series between the two defining diameters: [ASTM-B258]. */
double rig_awg_area_mm2(int awg);

/* Resistance of the whole loop, ohm.
 * R = 2 L rho20 (1 + alpha20 (T - 20)) / A, solid, metal from [IEC-60028].
 * Direct current. At 60 Hz the skin effect, left out, adds < 1 % up to 4/0. */
double rig_run_ohm(const rig_run *run);

/* Voltage lost between source and load, V. Reactance is left out: direct current.
 *   current_a   steady, >= 0 */
double rig_run_drop_v(const rig_run *run, double current_a);

/* Voltage lost between source and load at 60 Hz, V: sent less received, in magnitude:
 * | V + I (R + jX) | - V.
 *   load        what the far end draws at volts_v, lagging or in phase
 *   volts_v     at the load, > 0
 * X is 0.33 milliohm for each metre of the loop's length one way, an insulated pair of 14 to 2 AWG
 * ([NFPA-70] ch. 9 table 9, from memory, 10 %). */
double rig_run_ac_drop_v(const rig_run *run, rig_phasor load, double volts_v);

/* Thinnest stocked gauge whose drop stays within a limit.
 *   run         its area_mm2 is not read
 *   current_a   steady, >= 0
 *   limit_v     largest drop allowed, > 0
 *   awg         out: 18 to -3; untouched unless RIG_OK
 * RIG_NO_SOLUTION: even 4/0 loses more. Passing here says nothing about ampacity. */
rig_status rig_run_choose_awg(const rig_run *run, double current_a, double limit_v, int *awg);

#endif
