/* SPDX-License-Identifier: GPL-3.0-or-later */
/* clearness.h: how the clearness index of single days spreads around a month's mean.
 * Knows probability; knows nothing of the order of days, of places or hours. */
#ifndef RIG_CLEARNESS_H
#define RIG_CLEARNESS_H

#include "rigbudget/status.h"

/* Days of one month: F(K) = (e^(g min) - e^(g K)) / (e^(g min) - e^(g max)) for min <= K <= max,
 * an exponential cut off at both ends [BENDT-1981] [HOLLANDS-1983]; uniform when g is 0. */
typedef struct {
	double min_clearness; /* darkest day */
	double max_clearness; /* clearest day */
	double gamma;         /* g: positive when clear days are the more frequent */
} rig_clearness;

/* Herzog's closed form for g from a monthly mean, [HERZOG-1985] in [DUFFIE-2006] sec. 2.9; its mean
 * errs by up to 0.002. mean_clearness 0.3 to 0.7. */
rig_clearness rig_clearness_herzog(double mean_clearness);

/* The distribution with exactly that mean between 0.05 and the clearest day of [HOLLANDS-1983].
 * The source's range is 0.3 to 0.7; outside it the shape is kept and is a guess.
 * RIG_NO_SOLUTION: the mean does not lie between the darkest and the clearest day, or is within
 * 0.5 % of their distance from either; means of 0.08 to 0.85 all have one. */
rig_status rig_clearness_of_mean(double mean_clearness, rig_clearness *days);

/* The distribution with exactly that mean and that spread: the clearest day is moved instead of
 * being taken from the mean. For places whose spread is known.
 *   spread   standard deviation of the days of that month, > 0
 * RIG_NO_SOLUTION: no clearest day up to 0.9 gives that spread with that mean; so it is in 39 of
 * 12,199 months of the places in [TMY3], whose days are nearly all dark or all clear. */
rig_status rig_clearness_of_spread(double mean_clearness, double spread, rig_clearness *days);

/* Share of days that are at most that clear, 0 to 1. */
double rig_clearness_share(const rig_clearness *days, double clearness);
/* Clearness that a share of the days does not pass, dimensionless. share 0 to 1. */
double rig_clearness_quantile(const rig_clearness *days, double share);
/* Mean and standard deviation of the days, dimensionless. */
double rig_clearness_mean(const rig_clearness *days);
double rig_clearness_spread(const rig_clearness *days);

#endif
