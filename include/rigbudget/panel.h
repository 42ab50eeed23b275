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
 * Low light is taken as proportional; costs 3 to 8 % of the power below 200 W/m2 and under 1 % of a
 * day's energy in sun. */
double rig_panel_w(double nameplate_w, double light_wm2, double cell_c, double coefficient_per_k);

/* What a label says at 1000 W/m2 and 25 C. */
typedef struct {
	double vmp_v, imp_a; /* best working point */
	double voc_v, isc_a; /* open, shorted; voc > vmp, isc > imp */
	double voc_per_k_v;  /* change of voc with cell temperature, negative */
	double isc_per_k_a;  /* change of isc */
} rig_label;

/* The label that a crystalline panel of so many watts and cells in series would bear: 0.50 V a cell
 * at the best point, 0.61 V open, shorted current 1.07 of the best, -0.33 % and +0.05 % per kelvin
 * (common practice, no source; 36 cells make 18 V and 22 V).
 *   watts_w > 0, cells >= 1 */
rig_label rig_label_of_watts(double watts_w, int cells);

/* Voltage-current curve through the three points of a label, explicit in the current:
 * I = Isc (1 - c1 (exp(V / (c2 Voc)) - 1)) [RAUSCHENBACH-1980]. */
typedef struct {
	rig_label label;
	double c1, c2;
} rig_curve;

/* RIG_BAD_INPUT: the label does not have 0 < vmp < voc and 0 < imp < isc, or its points lie on no
 * such curve (best point above 0.97 of both voc and isc, or below half of either). */
rig_status rig_curve_of_label(const rig_label *label, rig_curve *curve);

/* Current at a voltage, A; 0 at and above the open voltage (the controller lets none flow back).
 * The curve is shifted to the light and the temperature: current by light / 1000 and isc_per_k,
 * voltage by voc_per_k and by 0.044 voc ln(light / 1000). Within 2 % of the single-diode model up to
 * the best point, above 200 W/m2.
 *   voltage_v   >= 0, light_wm2 >= 0 */
double rig_curve_current_a(
	const rig_curve *curve, double light_wm2, double cell_c, double voltage_v);

/* Power into the battery through a series or PWM controller, W: the panel is tied to the battery,
 * so current at battery voltage plus the wire's and the controller's drop, times battery voltage.
 *   drop_v    between panel and battery, >= 0
 *   limit_a   of the controller; INFINITY if none */
typedef struct {
	double battery_v, drop_v, limit_a;
} rig_pwm;
double rig_pwm_w(const rig_curve *curve, const rig_pwm *pwm, double light_wm2, double cell_c);

/* Power into the battery through a tracking controller, W: panel watts times efficiency, at most
 * limit times battery voltage.
 *   panel_w          >= 0
 *   efficiency_frac  0.93 to 0.98 (common practice, no source)
 *   limit_a          output; INFINITY if none */
double rig_mppt_w(double panel_w, double efficiency_frac, double battery_v, double limit_a);

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
} rig_point;

/* The five figures at 1000 W/m2 and 25 C that meet the label's three points, the flat top of power
 * at the best point, and the label's change of open voltage with temperature [DESOTO-2006].
 * Crystalline silicon.
 * RIG_BAD_INPUT: as rig_curve_of_label, or voc_per_k is not negative.
 * RIG_NO_SOLUTION: no figures with non-negative series and positive shunt resistance do. */
rig_status rig_diode_of_label(const rig_label *label, rig_diode *diode);

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
rig_point rig_diode_best(const rig_diode *diode);

#endif
