/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_output.h: an array of a completed coach as watts at the terminals of its bank. For
 * neighbours. */
#ifndef STUDIES_SOLAR_OUTPUT_H
#define STUDIES_SOLAR_OUTPUT_H

#include "rigbudget/coach.h"
#include "rigbudget/panel.h"
#include "rigbudget/weather.h"

/* Which end of their ranges the figures are taken at: the end that yields less, the likely one, or
 * the end that yields more. */
typedef enum { COURSE_POOR, COURSE_LIKELY, COURSE_GOOD, N_COURSES } solar_course;

/* Everything about an array that does not change with the light. */
typedef struct {
	rig_controller controller;
	double nameplate_w; /* of all its panels */
	double coefficient_per_k, noct_c, roof_rise_k;
	double unshaded_frac;   /* light that shade leaves */
	double kept_frac;       /* of what the light would give, after dirt, wire and mismatch */
	double efficiency_frac; /* tracker */
	double battery_v;       /* while it charges */
	double limit_a;         /* INFINITY if none */
	rig_pwm pwm;            /* of one panel; series controller */
	double n_panels;        /* such panels in parallel; need not be whole */
} solar_output;

/* Volts that charging holds a bank at: 13.2 for each 12 V of battery, between the start of a charge
 * and its end at 14.4 (common practice, no source). The array may feed no bank: 13.2. */
double solar_charging_v(const rig_coach *coach, int bank);

/* The array at one end of its ranges, its watts at another. */
solar_output solar_output_of(
	const rig_coach *coach, int array, solar_course watts, solar_course losses);

/* Watts at the bank.
 * Direct: panel watts by rig_panel_w times what losses leave. Tracker: the same through rig_mppt_w.
 * Series or PWM: rig_pwm_w, the losses taken off the light, since its current follows the light.
 *   light_wm2   on the panel's plane, before shade
 *   air_c       of the air; battery-side losses and the bank's own refusal are left out */
double solar_output_w(const solar_output *output, double light_wm2, double air_c);

/* Hottest cell temperature is read with this, C. */
double solar_output_cell_c(const solar_output *output, double light_wm2, double air_c);

#endif
