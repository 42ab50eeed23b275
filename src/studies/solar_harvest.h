/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_harvest.h: what an array brings on the mean day of each month at a place. For neighbours.
 */
#ifndef STUDIES_SOLAR_HARVEST_H
#define STUDIES_SOLAR_HARVEST_H

#include "rigbudget/coach.h"
#include "rigbudget/place.h"
#include "rigbudget/solar.h"
#include "rigbudget/weather.h"
#include "studies/solar_output.h"

/* A month at a place: its mean day, and the same day without a cloud. */
typedef struct {
	rig_day_hours mean, clear;
} solar_sky;

void solar_sky_of(const rig_place *place, int month, solar_sky *sky);

/* One array through the year. */
typedef struct {
	rig_solar_array_month months[RIG_SOLAR_MONTHS];
	/* Likely watts by hour of the mean day; the same with the controller's limit lifted. */
	double mean_w[RIG_SOLAR_MONTHS][RIG_DAY_HOURS];
	double unlimited_w[RIG_SOLAR_MONTHS][RIG_DAY_HOURS];
} solar_year;

/* Standard deviation of one year's month of sun about its long mean, over that mean. */
double solar_year_scatter_frac(void);

void solar_harvest(const rig_coach *coach, int array, const rig_place *place,
	const solar_sky skies[RIG_SOLAR_MONTHS], solar_year *year);

/* What it brings on one such day at its likely figures, Wh; its watts are added to watts_w. output:
 * solar_output_of at its likely ends, which hangs on no place. */
double solar_likely_wh(const rig_array *array, const solar_output *output, const rig_day_hours *day,
	double watts_w[RIG_DAY_HOURS]);

/* Light on an array's plane in the hours of a day, W/m2, at the likely tilt and heading. */
void solar_array_light(
	const rig_array *array, const rig_day_hours *hours, double light_wm2[RIG_DAY_HOURS]);

#endif
