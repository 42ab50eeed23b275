/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/inverter.h"

#include <assert.h>
#include <math.h>

double rig_inverter_idle_w(const rig_loss_curve *curve)
{
	return curve->rated_w * curve->fixed_frac;
}

double rig_inverter_dc_w(const rig_loss_curve *curve, double ac_w)
{
	assert(curve->rated_w > 0 && ac_w >= 0);
	const double load = ac_w / curve->rated_w;
	return ac_w +
	       curve->rated_w * (curve->fixed_frac +
					load * (curve->linear_frac + load * curve->square_frac));
}

double rig_inverter_ac_w(const rig_loss_curve *curve, double dc_w)
{
	assert(curve->rated_w > 0 && dc_w >= 0);
	const double left = dc_w / curve->rated_w - curve->fixed_frac;
	if (left <= 0)
		return 0;
	/* The root of the quadratic in the form that loses no digits when square_frac is small. */
	const double slope = 1.0 + curve->linear_frac;
	const double root = sqrt(slope * slope + 4.0 * curve->square_frac * left);
	return curve->rated_w * 2.0 * left / (slope + root);
}

double rig_inverter_efficiency_frac(const rig_loss_curve *curve, double load_ratio)
{
	assert(load_ratio > 0);
	const double ac_w = load_ratio * curve->rated_w;
	return ac_w / rig_inverter_dc_w(curve, ac_w);
}

typedef struct {
	double load_ratio, weight;
} share;

static double weighted_frac(const rig_loss_curve *curve, const share shares[6])
{
	double sum = 0;
	for (int i = 0; i < 6; i++)
		sum += shares[i].weight * rig_inverter_efficiency_frac(curve, shares[i].load_ratio);
	return sum;
}

double rig_inverter_european_frac(const rig_loss_curve *curve)
{
	static const share EUROPEAN[6] = {/* [EURO-ETA] */
		{0.05, 0.03}, {0.10, 0.06}, {0.20, 0.13}, {0.30, 0.10}, {0.50, 0.48}, {1.0, 0.20}};
	return weighted_frac(curve, EUROPEAN);
}

double rig_inverter_californian_frac(const rig_loss_curve *curve)
{
	static const share CALIFORNIAN[6] = {/* [CEC-ETA] */
		{0.10, 0.04}, {0.20, 0.05}, {0.30, 0.12}, {0.50, 0.21}, {0.75, 0.53}, {1.0, 0.05}};
	return weighted_frac(curve, CALIFORNIAN);
}
