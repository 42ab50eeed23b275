/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/clearness.h"

#include <assert.h>
#include <math.h>

#include "physics/root.h"

/* Darkest day, [HOLLANDS-1983]. */
static const double DARKEST = 0.05;
/* No day's mean clearness passes this (common practice, no source). */
static const double CLEAREST = 0.9;
/* Steepest g (max - min) looked for: the mean is then 0.5 % of the range away from an end. */
static const double STEEPEST = 200.0;
/* Below this steepness the closed forms lose more digits than the series. */
static const double NEARLY_UNIFORM = 1e-2;

/* Everything below works on the unit interval, where the density is proportional to e^(z u). */
static double unit_mean(double z)
{
	if (fabs(z) < NEARLY_UNIFORM)
		return 0.5 + z / 12.0 - z * z * z / 720.0;
	return -1.0 / expm1(-z) - 1.0 / z;
}

static double unit_variance(double z)
{
	if (fabs(z) < NEARLY_UNIFORM)
		return 1.0 / 12.0 - z * z / 240.0;
	const double half_sinh = 2.0 * sinh(z / 2.0);
	return 1.0 / (z * z) - 1.0 / (half_sinh * half_sinh);
}

/* Share of days below u, and its inverse, for z >= 0: the mirror image serves z < 0, so that
 * nothing overflows and the ends are met exactly. */
static double unit_share(double z, double u)
{
	if (z < 0)
		return 1.0 - unit_share(-z, 1.0 - u);
	return z > 0 ? expm1(z * u) / expm1(z) : u;
}

static double unit_quantile(double z, double share)
{
	if (z < 0)
		return 1.0 - unit_quantile(-z, 1.0 - share);
	return z > 0 ? log1p(share * expm1(z)) / z : share;
}

static double range_of(const rig_clearness *days)
{
	return days->max_clearness - days->min_clearness;
}

static double steepness_of(const rig_clearness *days)
{
	return days->gamma * range_of(days);
}

/* Clearest day of a month, [HOLLANDS-1983] with Herzog's last term. */
static double clearest_day(double mean_clearness)
{
	return 0.6313 + 0.267 * mean_clearness - 11.9 * pow(mean_clearness - 0.75, 8);
}

rig_clearness rig_clearness_herzog(double mean_clearness)
{
	assert(mean_clearness >= 0.3 && mean_clearness <= 0.7);
	const double clearest = clearest_day(mean_clearness), range = clearest - DARKEST;
	const double xi = range / (clearest - mean_clearness);
	const double gamma = -1.498 + (1.184 * xi - 27.182 * exp(-1.5 * xi)) / range;
	return (rig_clearness){DARKEST, clearest, gamma};
}

static double mean_miss(double z, const void *wanted)
{
	return unit_mean(z) - *(const double *)wanted;
}

/* The one steepness that gives this mean between these days. */
static rig_status shape(double mean_clearness, double clearest, rig_clearness *days)
{
	const double wanted = (mean_clearness - DARKEST) / (clearest - DARKEST);
	double z;
	const rig_status status = rig_root(mean_miss, &wanted, -STEEPEST, STEEPEST, &z);
	if (status == RIG_OK)
		*days = (rig_clearness){DARKEST, clearest, z / (clearest - DARKEST)};
	return status;
}

rig_status rig_clearness_of_mean(double mean_clearness, rig_clearness *days)
{
	const double clearest = clearest_day(mean_clearness);
	if (!(mean_clearness > DARKEST && clearest > mean_clearness))
		return RIG_NO_SOLUTION;
	return shape(mean_clearness, clearest, days);
}

typedef struct {
	double mean_clearness, spread;
} wanted_spread;

static double spread_miss(double clearest, const void *context)
{
	const wanted_spread *wanted = context;
	rig_clearness days;
	if (shape(wanted->mean_clearness, clearest, &days) != RIG_OK)
		return NAN;
	return rig_clearness_spread(&days) - wanted->spread;
}

rig_status rig_clearness_of_spread(double mean_clearness, double spread, rig_clearness *days)
{
	assert(spread > 0);
	const wanted_spread wanted = {mean_clearness, spread};
	/* The tightest month that `shape` can still make. */
	const double tightest = DARKEST + (mean_clearness - DARKEST) / (1.0 - 1.01 / STEEPEST);
	double clearest;
	if (!(mean_clearness > DARKEST && tightest < CLEAREST))
		return RIG_NO_SOLUTION;
	const rig_status status = rig_root(spread_miss, &wanted, tightest, CLEAREST, &clearest);
	return status == RIG_OK ? shape(mean_clearness, clearest, days) : status;
}

double rig_clearness_share(const rig_clearness *days, double clearness)
{
	if (clearness <= days->min_clearness)
		return 0;
	if (clearness >= days->max_clearness)
		return 1;
	return unit_share(steepness_of(days), (clearness - days->min_clearness) / range_of(days));
}

double rig_clearness_quantile(const rig_clearness *days, double share)
{
	assert(share >= 0 && share <= 1);
	return days->min_clearness + range_of(days) * unit_quantile(steepness_of(days), share);
}

double rig_clearness_mean(const rig_clearness *days)
{
	return days->min_clearness + range_of(days) * unit_mean(steepness_of(days));
}

double rig_clearness_spread(const rig_clearness *days)
{
	return range_of(days) * sqrt(unit_variance(steepness_of(days)));
}
