/* SPDX-License-Identifier: GPL-3.0-or-later */
/* panel.h: a solar panel from light to the terminals of the battery it charges.
 * Knows cells and controllers; knows nothing of weather, of batteries' charge or of the coach. */
#ifndef RIG_PANEL_H
#define RIG_PANEL_H

#include "rigbudget/status.h"

/* Cell temperature, C: air + (NOCT - 20) light / 800 + roof rise light / 1000 [ROSS-1976].
 *   noct_c        cell temperature at 800 W/m2, 20 C, 1 m/s, open rack; 43 to 50
 *   roof_rise_k   more than that at 1000 W/m2 because it lies flat on a roof; 0 on a rack, 10 to
 *                 15 without an air gap (common practice, no source)
 * Steady, wind left out: 5 K either way. */
double rig_cell_c(double air_c, double light_wm2, double noct_c, double roof_rise_k);

/* Power at the best working point, W: nameplate light / 1000 (1 + coefficient (cell - 25)).
 *   coefficient_per_k   of power, negative; -0.003 to -0.005 for crystalline cells
 * Low light is taken as proportional; costs 2 to 7 % of the power from 200 to 50 W/m2 and under
 * 1 % of a day's energy in sun. */
double rig_panel_w(double nameplate_w, double light_wm2, double cell_c, double coefficient_per_k);

/* What a label says at 1000 W/m2 and 25 C. */
typedef struct {
	double vmp_v, imp_a; /* best working point */
	double voc_v, isc_a; /* open, shorted; voc > vmp, isc > imp */
	double voc_per_k_v;  /* change of voc with cell temperature, negative */
	double isc_per_k_a;  /* change of isc */
} rig_panel_label;

/* The rest of a crystalline panel's label from its best point: open voltage 1.22 of the best,
 * shorted current 1.07 of the best, -0.33 % and +0.05 % per kelvin (common practice, no source).
 * vmp_v > 0, imp_a > 0. Always has a diode. */
rig_panel_label rig_panel_label_of_best(double vmp_v, double imp_a);
/* The same from watts and cells in series, 0.50 V a cell at the best point (common practice, no
 * source; 36 cells make 18 V and 22 V). watts_w > 0, cells >= 1. */
rig_panel_label rig_panel_label_of_watts(double watts_w, int cells);

/* Single-diode model: I = IL - I0 (exp((V + I Rs) / a) - 1) - (V + I Rs) / Rsh. */
typedef struct {
	double light_a;      /* IL */
	double saturation_a; /* I0 */
	double series_ohm;   /* Rs >= 0 */
	double shunt_ohm;    /* Rsh > 0, INFINITY in the dark */
	double thermal_v;    /* a = ideality, cells in series, k T / q */
} rig_diode;

typedef struct {
	double voltage_v, current_a;
} rig_working_point;

/* The five figures at 1000 W/m2 and 25 C that meet the label's three points, the flat top of power
 * at the best point, and the label's change of open voltage with temperature [DESOTO-2006].
 * Crystalline silicon; for thin film a guess.
 * RIG_BAD_INPUT: not half of voc <= vmp < voc, half of isc <= imp < isc, both above 0 and finite,
 * and voc_per_k < 0; or vmp and imp both above 0.97 of voc and isc, which no cell reaches.
 * RIG_NO_SOLUTION: no figures with non-negative series and positive shunt resistance do, as with
 * labels that round imp up to isc or state a soft curve; use rig_panel_label_of_best then. */
rig_status rig_diode_of_label(const rig_panel_label *label, rig_diode *diode);

/* The five figures in other light and at another temperature [DESOTO-2006], from those at
 * 1000 W/m2 and 25 C. light_wm2 >= 0. */
rig_diode rig_diode_at(
	const rig_diode *reference, double isc_per_k_a, double light_wm2, double cell_c);

/* Current at a voltage, A; negative past the open voltage. voltage_v >= 0. Newton's method from
 * the side where it cannot overshoot; exact to rounding. */
double rig_diode_current_a(const rig_diode *diode, double voltage_v);
/* Open voltage, V. */
double rig_diode_open_v(const rig_diode *diode);
/* Best working point. */
rig_working_point rig_diode_best(const rig_diode *diode);

/* A panel on a series or PWM controller. */
typedef struct {
	rig_diode panel;    /* at 1000 W/m2 and 25 C */
	double isc_per_k_a; /* of the label */
	double drop_v;      /* lost in wire and controller, >= 0 */
	double limit_a;     /* of the controller; INFINITY if none */
} rig_pwm;

/* Power into the battery, W: the panel is tied to the battery, so its current at battery voltage
 * plus the drop, at most the limit, times battery voltage. 0 when that voltage is past the panel's
 * open one, since the controller lets nothing flow back. The battery voltage is the caller's: 12.5
 * to 14.4 V at a "12 V" bank, and the power goes with it.
 *   battery_v > 0, light_wm2 >= 0 */
double rig_pwm_w(const rig_pwm *pwm, double battery_v, double light_wm2, double cell_c);

/* Power into the battery through a tracking controller, W: panel watts times efficiency, at most
 * limit times battery voltage.
 *   panel_w          >= 0
 *   efficiency_frac  0.93 to 0.98 (common practice, no source)
 *   limit_a          output; INFINITY if none */
double rig_mppt_w(double panel_w, double efficiency_frac, double battery_v, double limit_a);

#endif
