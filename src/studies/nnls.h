/* SPDX-License-Identifier: GPL-3.0-or-later */
/* nnls.h: linear least squares with non-negative unknowns. Knows matrices only. For neighbours. */
#ifndef STUDIES_NNLS_H
#define STUDIES_NNLS_H

#include <stddef.h>

#include "rigbudget/status.h"

/* |A x - b| with x >= 0. */
typedef struct {
	size_t n_rows, n_unknowns; /* both >= 1 */
	const double *a;           /* row by row */
	const double *b;
} rig_nnls_problem;

/* The least sum of squares by the active set method [LAWSON-1974] ch. 23, each passive set solved
 * by a QR decomposition. It starts from the unbounded solution with what is negative there taken
 * out, where the columns allow that, and otherwise from nothing. Where several x are best, one in
 * which the columns of the positive unknowns are independent.
 *   x   out: n_unknowns; untouched unless RIG_OK
 * RIG_NO_SOLUTION: not done after 30 passes for each unknown; not met in any test. RIG_NO_MEMORY.
 */
rig_status rig_nnls_solve(const rig_nnls_problem *problem, double x[]);

#endif
