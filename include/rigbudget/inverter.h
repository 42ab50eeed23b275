/* SPDX-License-Identifier: GPL-3.0-or-later */
/* inverter.h: what an inverter takes from the battery for what it gives.
 * Knows its loss curve; knows nothing of loads, surge or waveform. */
#ifndef RIG_INVERTER_H
#define RIG_INVERTER_H

/* Loss polynomial on powers over rated power [SCHMIDT-1996]:
 *   dc = ac + fixed + linear ac + square ac^2
 * All three >= 0. 0.01, 0.025, 0.05 are the source's usual set. */
typedef struct {
	double rated_w;     /* AC, > 0 */
	double fixed_frac;  /* drawn while on, whatever the load */
	double linear_frac; /* grows with the load: switching, diodes */
	double square_frac; /* grows with its square: resistance */
} rig_loss_curve;

/* Drawn from the battery while on with nothing to feed, W. */
double rig_inverter_idle_w(const rig_loss_curve *curve);
/* Drawn from the battery to give ac_w >= 0, W. Past rated power the curve is carried on. */
double rig_inverter_dc_w(const rig_loss_curve *curve, double ac_w);
/* Given out of dc_w >= 0, W; 0 while dc_w does not cover the idle draw. */
double rig_inverter_ac_w(const rig_loss_curve *curve, double dc_w);
/* ac / dc at a share of rated power > 0, 0 to 1. */
double rig_inverter_efficiency_frac(const rig_loss_curve *curve, double load_ratio);
/* Efficiency weighted for the light of a European and a Californian climate, 0 to 1
 * [EURO-ETA] [CEC-ETA]. For comparing with a data sheet. */
double rig_inverter_european_frac(const rig_loss_curve *curve);
double rig_inverter_californian_frac(const rig_loss_curve *curve);

#endif
