/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>

#include "rigbudget/energy.h"

rig_status rig_spread_use(double running_h, int from_hour, int to_hour, double on_frac[24])
{
	assert(running_h >= 0 && running_h <= 24);
	assert(from_hour >= 0 && from_hour <= 24 && to_hour >= 0 && to_hour <= 24);
	const int first = from_hour % 24;
	const int span = (to_hour - from_hour + 24) % 24;
	const int window_h = span == 0 ? 24 : span;
	if (running_h > window_h)
		return RIG_NO_SOLUTION;
	for (int hour = 0; hour < 24; hour++)
		on_frac[hour] = 0;
	for (int i = 0; i < window_h; i++)
		on_frac[(first + i) % 24] = running_h / window_h;
	return RIG_OK;
}
