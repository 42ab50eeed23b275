/* SPDX-License-Identifier: GPL-3.0-or-later */
/* daylight.h: one day's sun over a place by local standard hours, and how a day's light falls into
 * them. */
#ifndef WEATHER_DAYLIGHT_H
#define WEATHER_DAYLIGHT_H

#include "rigbudget/sun.h"
#include "rigbudget/weather.h"

/* A day's sun. */
typedef struct {
	rig_sun_day sun;
	double sunset_rad;
	double first_rad; /* hour angle at 0 h local standard time */
} daylight;

daylight daylight_of(const rig_place *place, int day_of_year);

/* The hour angle at the beginning of an hour, within -pi to pi. */
double daylight_hour_rad(const daylight *light, int hour);
/* Local standard time of an hour angle, h, 0 to 24. */
double daylight_time_h(const daylight *light, double hour_angle_rad);

/* The sunlit part of an hour: how much of it, and the hour angle of its middle. 0 for none. */
double daylight_lit_frac(const daylight *light, int hour, double *middle_rad);

/* Fills the sun's part of the hours. */
void daylight_sun(const daylight *light, rig_day_hours *hours);
/* How a day's light falls into its hours. */
typedef struct {
	bool up;                       /* the sun rises; else all light is diffuse, about noon */
	double global[RIG_DAY_HOURS];  /* shares of the day, sum 1 */
	double diffuse[RIG_DAY_HOURS]; /* the same of the day's diffuse light */
} daylight_shape;
daylight_shape daylight_shape_of(const daylight *light);
/* Spreads a day's energies over the hours. A day without sun gets all of the global within an hour
 * and a half of noon, diffuse. diffuse_wh_m2 at most global_wh_m2. */
void daylight_spread(const daylight_shape *shape, double global_wh_m2, double diffuse_wh_m2,
	rig_day_hours *hours);

/* The curve of a day's temperature, 0 at the low and 1 at the high, with that mean, 0 to 1. */
void daylight_wave(const daylight *light, double mean_frac, double wave[RIG_DAY_HOURS]);
/* The same from a day's low, mean and high. */
typedef struct {
	double low_c, mean_c, high_c;
} warmth;
void daylight_warmth(const daylight *light, const warmth *day, double temp_c[RIG_DAY_HOURS]);

#endif
