/* SPDX-License-Identifier: GPL-3.0-or-later */
/* root.h: where a function of one number crosses zero. Ours rather than GSL's because GSL's
 * bracketing solvers allocate and report through a handler that is global to the process; this one
 * holds its whole state in six numbers. */
#ifndef ROOT_H
#define ROOT_H

#include "rigbudget/status.h"

typedef double (*rig_function)(double x, const void *context);

/* x between low and high where f is zero, to rounding. f is continuous and has one sign at low and
 * the other at high. Inverse quadratic steps where they are sure to help, halving elsewhere
 * [CHANDRUPATLA-1997].
 * RIG_NO_SOLUTION: the signs agree or f is not a number at an end. */
rig_status rig_root(rig_function f, const void *context, double low, double high, double *root);

#endif
