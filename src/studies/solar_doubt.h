/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_doubt.h: putting together the doubts of independent causes. For neighbours. */
#ifndef STUDIES_SOLAR_DOUBT_H
#define STUDIES_SOLAR_DOUBT_H

#include <stddef.h>

#include "rigbudget/figure.h"

/* A computed figure whose ends are put in order about the likely value; any may be the least. */
rig_figure solar_ordered(double one_end, double likely, double other_end);

/* Doubt of a product. Each part is what the product comes to when one cause alone is at its ends;
 * all have the same likely value. ln(likely / low) is the root of the sum of the parts' squares,
 * and so is ln(high / likely). 0 if a part's low is 0. Parts >= 0. */
rig_figure solar_combined(size_t n_parts, const rig_figure parts[]);

/* Doubt of a sum: how far its ends are from its likely value, gathered part by part as squares. */
typedef struct {
	double low, likely, high; /* as if all ends met */
	double below_squared, above_squared;
} solar_sum;
void solar_sum_add(solar_sum *sum, rig_figure part);
rig_figure solar_sum_figure(const solar_sum *sum);

#endif
