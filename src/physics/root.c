/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/root.h"

#include <float.h>
#include <math.h>

/* Halving alone needs at most this many steps between any two numbers that we bracket. */
enum { MAX_STEPS = 200 };

typedef struct {
	double x, y;
} sample;

/* Share of the way from newest to opposite at which to look next: by the inverse parabola through
 * three samples if it is sure to be monotone between them, else half. */
static double next_share(sample newest, sample opposite, sample previous)
{
	const double xi = (newest.x - opposite.x) / (previous.x - opposite.x);
	const double phi = (newest.y - opposite.y) / (previous.y - opposite.y);
	if (!(phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi))
		return 0.5;
	return newest.y / (opposite.y - newest.y) * previous.y / (opposite.y - previous.y) +
	       (previous.x - newest.x) / (opposite.x - newest.x) * newest.y /
		       (previous.y - newest.y) * opposite.y / (previous.y - opposite.y);
}

rig_status rig_root(rig_function f, const void *context, double low, double high, double *root)
{
	sample newest = {high, f(high, context)}, opposite = {low, f(low, context)};
	if (newest.y == 0 || opposite.y == 0) {
		*root = newest.y == 0 ? high : low;
		return RIG_OK;
	}
	if (!(newest.y > 0 && opposite.y < 0) && !(newest.y < 0 && opposite.y > 0))
		return RIG_NO_SOLUTION;
	double share = 0.5;
	for (int i = 0; i < MAX_STEPS; i++) {
		sample previous = newest;
		newest.x += share * (opposite.x - newest.x);
		newest.y = f(newest.x, context);
		if (signbit(newest.y) != signbit(previous.y)) {
			const sample swapped = previous;
			previous = opposite;
			opposite = swapped;
		}
		const sample best = fabs(newest.y) < fabs(opposite.y) ? newest : opposite;
		const double width = fabs(opposite.x - newest.x);
		const double resolution = 2.0 * DBL_EPSILON * fabs(best.x) + DBL_MIN;
		if (best.y == 0 || width <= 2.0 * resolution) {
			*root = best.x;
			return RIG_OK;
		}
		const double margin = resolution / width;
		share = next_share(newest, opposite, previous);
		share = fmin(fmax(share, margin), 1.0 - margin);
	}
	return RIG_NO_SOLUTION;
}
