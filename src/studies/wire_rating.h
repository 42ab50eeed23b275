/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wire_rating.h: standard ratings of fuses and breakers, and what it means to cover a load. */
#ifndef STUDIES_WIRE_RATING_H
#define STUDIES_WIRE_RATING_H

#include <stdbool.h>

#include "rigbudget/wiring.h"

/* Whether a rating reaches a figure that was worked out, which the last bit may carry past it. */
static inline bool rig_covers(double rating_a, double asked_a)
{
	return rating_a >= asked_a * (1.0 - 1e-12);
}

/* The smallest standard breaker (AC) or fuse (DC) from a rating on; 0 if there is none. */
double rig_standard_from_a(rig_supply_kind supply, double least_a);
/* The largest up to a rating; 0 if there is none. */
double rig_standard_to_a(rig_supply_kind supply, double most_a);
/* The next standard breaker above an ampacity that is not itself one, [NFPA-70] 240.4(B), which
 * holds up to 800 A; the ampacity on DC and above the largest standard rating. */
double rig_rounded_a(rig_supply_kind supply, double ampacity_a);

#endif
