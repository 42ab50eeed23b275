/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/generator.h"

#include <assert.h>
#include <math.h>

/* 304.8 m are 1,000 ft [NIST-SP811]. Shares of the rated power lost for each so many metres above a
 * height, and for each so many kelvin above a temperature. A manual's Fahrenheit is kept as (F -
 * 32) / 1.8. */
static const struct {
	double lost_frac, each_m, above_m;
	double hot_lost_frac, each_k, above_c;
} RULE[RIG_N_DERATES] = {
	[RIG_DERATE_HEIGHT] = {0.03, 304.8, 0, 0, 1, 0},
	[RIG_DERATE_HEIGHT_HEAT] = {0.035, 304.8, 304.8, 0.02, 10 / 1.8, 53 / 1.8},
	[RIG_DERATE_SITE] = {0.03, 500, 1000, 0.03, 5, 40},
};

double rig_generator_left_frac(rig_derate rule, double elevation_m, double air_c)
{
	assert(rule > RIG_DERATE_UNSAID && rule < RIG_N_DERATES);
	assert(elevation_m >= -450 && elevation_m <= 6000 && air_c >= -40 && air_c <= 70);
	const double height_m = fmax(0, elevation_m - RULE[rule].above_m);
	const double heat_k = fmax(0, air_c - RULE[rule].above_c);
	const double lost_frac = RULE[rule].lost_frac * height_m / RULE[rule].each_m +
				 RULE[rule].hot_lost_frac * heat_k / RULE[rule].each_k;
	return 1 - lost_frac;
}
