/* SPDX-License-Identifier: GPL-3.0-or-later */
/* subset_sum.h: whether some of a few numbers add up to about so much. */
#ifndef STUDIES_SUBSET_SUM_H
#define STUDIES_SUBSET_SUM_H

#include <stdbool.h>
#include <stddef.h>

enum { RIG_SUBSET_SUM_MOST = 24 };

/* Numbers of scratch that n values need. */
size_t rig_subset_sum_scratch(size_t n);

/* Whether the sum of some subset, the empty one among them, lies from low to high. The sums of
 * either half of the values in order, gone through from both ends: 2^(n / 2) steps. value    n of
 * them, each >= 0, n <= RIG_SUBSET_SUM_MOST scratch  rig_subset_sum_scratch(n) numbers */
bool rig_subset_sum(const double value[], size_t n, double low, double high, double scratch[]);

#endif
