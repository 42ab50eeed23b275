/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/breaker.h"

#include <assert.h>
#include <math.h>

/* Plug-on breakers of 15 to 50 A (common practice, no source): what they just carry, how fast the
 * strip warms, and from where on the magnet acts. */
static const struct {
	double hold_ratio, tau_s, magnetic_ratio;
} BAND[RIG_N_BREAKERS] = {
	[RIG_BREAKER_EARLY] = {1.10, 60.0, 5.0},
	[RIG_BREAKER_LIKELY] = {1.20, 110.0, 7.0},
	[RIG_BREAKER_LATE] = {1.30, 200.0, 10.0},
};

rig_breaker rig_breaker_of(double rating_a, rig_breaker_kind kind)
{
	assert(rating_a > 0 && kind < RIG_N_BREAKERS);
	return (rig_breaker){.rating_a = rating_a,
		.hold_ratio = BAND[kind].hold_ratio,
		.tau_s = BAND[kind].tau_s,
		.magnetic_ratio = BAND[kind].magnetic_ratio};
}

double rig_breaker_trip_heat_ratio(const rig_breaker *breaker)
{
	return breaker->hold_ratio * breaker->hold_ratio;
}

double rig_breaker_heat_ratio(
	const rig_breaker *breaker, double heat_ratio, double current_a, double seconds)
{
	assert(heat_ratio >= 0 && current_a >= 0 && seconds >= 0);
	const double m = current_a / breaker->rating_a;
	return m * m + (heat_ratio - m * m) * exp(-seconds / breaker->tau_s);
}

double rig_breaker_trip_s(const rig_breaker *breaker, double heat_ratio, double current_a)
{
	assert(heat_ratio >= 0 && current_a >= 0);
	const double m = current_a / breaker->rating_a;
	const double trip = rig_breaker_trip_heat_ratio(breaker);
	if (m >= breaker->magnetic_ratio || heat_ratio >= trip)
		return 0;
	if (m * m <= trip)
		return INFINITY;
	return breaker->tau_s * log((m * m - heat_ratio) / (m * m - trip));
}

/* Limits of [UL-489], second-hand, from cold. */
static const double OVERLOAD_RATIO = 1.35, DOUBLE_RATIO = 2.0, SHORT_RATIO = 10.0;
static const double OVERLOAD_LEAST_S = 60.0, DOUBLE_LEAST_S = 3.0;

static double overload_most_s(double rating_a)
{
	return rating_a <= 50 ? 3600.0 : 7200.0;
}

static double double_most_s(double rating_a)
{
	return rating_a <= 30 ? 120.0 : rating_a <= 50 ? 240.0 : 360.0;
}

bool rig_breaker_is_calibrated(const rig_breaker *breaker)
{
	const double rating_a = breaker->rating_a;
	const double overload_s = rig_breaker_trip_s(breaker, 0, OVERLOAD_RATIO * rating_a);
	const double double_s = rig_breaker_trip_s(breaker, 0, DOUBLE_RATIO * rating_a);
	return breaker->hold_ratio > 1 && overload_s >= OVERLOAD_LEAST_S &&
	       overload_s <= overload_most_s(rating_a) && double_s >= DOUBLE_LEAST_S &&
	       double_s <= double_most_s(rating_a) && breaker->magnetic_ratio <= SHORT_RATIO;
}
