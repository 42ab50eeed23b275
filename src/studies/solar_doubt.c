/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_doubt.h"

#include <assert.h>
#include <math.h>

rig_figure solar_ordered(double one_end, double likely, double other_end)
{
	return rig_figure_range(fmin(likely, fmin(one_end, other_end)), likely,
		fmax(likely, fmax(one_end, other_end)), RIG_FROM_COMPUTED);
}

rig_figure solar_combined(size_t n_parts, const rig_figure parts[])
{
	assert(n_parts > 0);
	const double likely = parts[0].likely;
	if (likely <= 0)
		return rig_figure_of(0.0, RIG_FROM_COMPUTED);
	double below = 0.0, above = 0.0;
	for (size_t i = 0; i < n_parts; i++) {
		assert(parts[i].low >= 0);
		below += pow(log(likely / parts[i].low), 2);
		above += pow(log(parts[i].high / likely), 2);
	}
	return solar_ordered(likely * exp(-sqrt(below)), likely, likely * exp(sqrt(above)));
}

void solar_sum_add(solar_sum *sum, rig_figure part)
{
	sum->low += part.low;
	sum->likely += part.likely;
	sum->high += part.high;
	sum->below_squared += (part.likely - part.low) * (part.likely - part.low);
	sum->above_squared += (part.high - part.likely) * (part.high - part.likely);
}

/* Roots round: never past where all ends meet. */
rig_figure solar_sum_figure(const solar_sum *sum)
{
	return solar_ordered(fmax(sum->low, sum->likely - sqrt(sum->below_squared)), sum->likely,
		fmin(sum->high, sum->likely + sqrt(sum->above_squared)));
}
