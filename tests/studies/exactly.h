/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exactly.h: a stated figure without a spread, for tests. */
#ifndef TESTS_EXACTLY_H
#define TESTS_EXACTLY_H

#include "rigbudget/figure.h"

/* Also of what no reader lets through. */
static inline rig_figure exactly(double value)
{
	return (rig_figure){.low = value, .likely = value, .high = value, .from = RIG_FROM_STATED};
}

#endif
