/* SPDX-License-Identifier: GPL-3.0-or-later */
/* breaker.h: a thermal-magnetic circuit breaker as one heated strip and one magnet.
 * Knows current and time; knows nothing of wires, of what it feeds and of its surroundings. */
#ifndef RIG_BREAKER_H
#define RIG_BREAKER_H

#include <stdbool.h>

/* The strip warms by the square of the current and cools by its own warmth:
 *   tau dH/dt = (I / rating)^2 - H,  trips when H reaches hold_ratio^2.
 * H is its heat_ratio: 0 cold, 1 after hours at the rating, where it holds for ever since
 * hold_ratio > 1. The magnet trips at once from magnetic_ratio times the rating on.
 * Left out: the air about it. Breakers are calibrated at 25 C; in a hot box they act as if their
 * rating were 0.5 to 1 % less for each degree above (common practice, no source). */
typedef struct {
	double rating_a;       /* > 0 */
	double hold_ratio;     /* > 1: most of its rating that it carries for ever */
	double tau_s;          /* > 0 */
	double magnetic_ratio; /* > hold_ratio */
} rig_breaker;

/* Nobody knows one breaker's time within what the standard allows: an answer is a band. */
typedef enum {
	RIG_BREAKER_EARLY, /* trips at 110 %, 60 s */
	RIG_BREAKER_LIKELY,
	RIG_BREAKER_LATE, /* trips at 130 %, 200 s */
	RIG_N_BREAKERS
} rig_breaker_kind;

/* A breaker of a rating, one end or the middle of the band of plug-on breakers of 15 to 50 A
 * (common practice, no source); each meets rig_breaker_is_calibrated up to 100 A.
 *   rating_a   > 0 */
rig_breaker rig_breaker_of(double rating_a, rig_breaker_kind kind);

/* Whether it does what moulded-case breakers must: [UL-489], second-hand. From cold: it carries its
 * rating for ever; trips at 135 % within 1 h (2 h above 50 A), but not within 1 min; at 200 %
 * within 2 min up to 30 A, 4 min up to 50 A, 6 min above, but not within 3 s; at ten times at once.
 */
bool rig_breaker_is_calibrated(const rig_breaker *breaker);

/* Heat at which it trips, dimensionless: hold_ratio^2. */
double rig_breaker_trip_heat_ratio(const rig_breaker *breaker);

/* Heat after a time at a constant current, dimensionless: exact, also past the trip.
 *   heat_ratio   at the start, >= 0
 *   current_a    >= 0
 *   seconds      >= 0 */
double rig_breaker_heat_ratio(
	const rig_breaker *breaker, double heat_ratio, double current_a, double seconds);

/* Time until it trips at a constant current, s: tau ln((m^2 - H) / (m^2 - hold^2)) with m the
 * current over the rating; 0 from the magnet's current on or when it is hot enough already,
 * INFINITY when it never trips. */
double rig_breaker_trip_s(const rig_breaker *breaker, double heat_ratio, double current_a);

#endif
