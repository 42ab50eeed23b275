/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/nnls.h"

#include <float.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Columns count as dependent when the last of them is, to rounding, a sum of the others. */
static const double INDEPENDENT = 1e-11;
enum { PASSES_OF_ONE = 30 };

typedef struct {
	const rig_nnls_problem *problem;
	size_t n_passive;
	size_t *passive;  /* unknowns that are free, in the order of the columns */
	bool *is_passive; /* by unknown */
	bool *refused;    /* would have left the bounds at once */
	double *x;        /* by unknown; feasible */
	double *trial;    /* by unknown; the best for the passive set, bounds forgotten */
	double *residual; /* by row: b - A x */
	double *size;     /* by unknown: length of its column */
	double b_size;
	double *columns;    /* rows x unknowns, room for the passive columns */
	gsl_vector *scales; /* of the QR decomposition */
	gsl_vector *solution, *rest;
} solver;

static double column_at(const rig_nnls_problem *problem, size_t row, size_t unknown)
{
	return problem->a[row * problem->n_unknowns + unknown];
}

/* The trial for the passive set. False: its columns are not independent. */
static bool solve_passive(solver *s)
{
	const size_t m = s->problem->n_rows;
	const size_t p = s->n_passive;
	memset(s->trial, 0, s->problem->n_unknowns * sizeof *s->trial);
	if (p == 0)
		return true;
	if (p > m)
		return false;
	gsl_matrix_view matrix = gsl_matrix_view_array(s->columns, m, p);
	for (size_t i = 0; i < m; i++)
		for (size_t k = 0; k < p; k++)
			gsl_matrix_set(
				&matrix.matrix, i, k, column_at(s->problem, i, s->passive[k]));
	gsl_vector_view scales = gsl_vector_subvector(s->scales, 0, p);
	gsl_vector_view solution = gsl_vector_subvector(s->solution, 0, p);
	gsl_vector_const_view b = gsl_vector_const_view_array(s->problem->b, m);
	gsl_linalg_QR_decomp(&matrix.matrix, &scales.vector);
	for (size_t k = 0; k < p; k++)
		if (!(fabs(gsl_matrix_get(&matrix.matrix, k, k)) >
			    INDEPENDENT * s->size[s->passive[k]]))
			return false;
	gsl_linalg_QR_lssolve(&matrix.matrix, &scales.vector, &b.vector, &solution.vector, s->rest);
	for (size_t k = 0; k < p; k++)
		s->trial[s->passive[k]] = gsl_vector_get(&solution.vector, k);
	return true;
}

static void add_passive(solver *s, size_t unknown)
{
	s->is_passive[unknown] = true;
	s->passive[s->n_passive++] = unknown;
}

static void keep_passive(solver *s, const double *where)
{
	size_t n = 0;
	for (size_t k = 0; k < s->n_passive; k++) {
		const size_t unknown = s->passive[k];
		s->is_passive[unknown] = where[unknown] > 0.0;
		if (s->is_passive[unknown])
			s->passive[n++] = unknown;
		else
			s->x[unknown] = 0.0;
	}
	s->n_passive = n;
}

static bool trial_is_positive(const solver *s)
{
	for (size_t k = 0; k < s->n_passive; k++)
		if (s->trial[s->passive[k]] <= 0.0)
			return false;
	return true;
}

/* From the unbounded solution, what is negative taken out again and again; any passive set whose
 * own best is positive is a right start. */
static void start_unbounded(solver *s)
{
	const size_t n = s->problem->n_unknowns;
	for (size_t j = 0; j < n; j++)
		add_passive(s, j);
	bool independent = solve_passive(s);
	while (independent && !trial_is_positive(s)) {
		keep_passive(s, s->trial);
		independent = solve_passive(s);
	}
	if (independent) {
		memcpy(s->x, s->trial, n * sizeof *s->x);
		return;
	}
	s->n_passive = 0;
	memset(s->is_passive, 0, n * sizeof *s->is_passive);
	memset(s->x, 0, n * sizeof *s->x);
}

static void find_residual(solver *s)
{
	const rig_nnls_problem *problem = s->problem;
	for (size_t i = 0; i < problem->n_rows; i++) {
		s->residual[i] = problem->b[i];
		for (size_t j = 0; j < problem->n_unknowns; j++)
			s->residual[i] -= column_at(problem, i, j) * s->x[j];
	}
}

/* The bound unknown along which the sum of squares falls fastest; false: along none. */
static bool steepest(solver *s, size_t *unknown)
{
	const rig_nnls_problem *problem = s->problem;
	double most = 0.0;
	find_residual(s);
	for (size_t j = 0; j < problem->n_unknowns; j++) {
		double slope = 0.0;
		if (s->is_passive[j] || s->refused[j] || s->size[j] == 0.0)
			continue;
		for (size_t i = 0; i < problem->n_rows; i++)
			slope += column_at(problem, i, j) * s->residual[i];
		const double noise =
			10.0 * DBL_EPSILON * (double)problem->n_rows * s->size[j] * s->b_size;
		if (slope > noise && slope / s->size[j] > most) {
			most = slope / s->size[j];
			*unknown = j;
		}
	}
	return most > 0.0;
}

/* From x towards the trial up to the first bound, which then holds; until the trial is positive. */
static bool walk_to_trial(solver *s)
{
	while (!trial_is_positive(s)) {
		double step = 1.0;
		size_t first = s->passive[0];
		for (size_t k = 0; k < s->n_passive; k++) {
			const size_t j = s->passive[k];
			const double far = s->x[j] / (s->x[j] - s->trial[j]);
			if (s->trial[j] <= 0.0 && far <= step) {
				step = far;
				first = j;
			}
		}
		for (size_t k = 0; k < s->n_passive; k++) {
			const size_t j = s->passive[k];
			s->x[j] += step * (s->trial[j] - s->x[j]);
		}
		s->x[first] = 0.0;
		keep_passive(s, s->x);
		if (!solve_passive(s))
			return false;
	}
	memcpy(s->x, s->trial, s->problem->n_unknowns * sizeof *s->x);
	return true;
}

static rig_status run(solver *s)
{
	const size_t n = s->problem->n_unknowns;
	size_t unknown = 0;
	start_unbounded(s);
	for (size_t pass = 0; steepest(s, &unknown); pass++) {
		if (pass > PASSES_OF_ONE * n)
			return RIG_NO_SOLUTION;
		add_passive(s, unknown);
		if (!solve_passive(s) || s->trial[unknown] <= 0.0) {
			s->n_passive--;
			s->is_passive[unknown] = false;
			s->refused[unknown] = true;
			continue;
		}
		if (!walk_to_trial(s))
			return RIG_NO_SOLUTION;
		memset(s->refused, 0, n * sizeof *s->refused);
	}
	return RIG_OK;
}

static void measure(solver *s)
{
	const rig_nnls_problem *problem = s->problem;
	for (size_t i = 0; i < problem->n_rows; i++) {
		s->b_size += problem->b[i] * problem->b[i];
		for (size_t j = 0; j < problem->n_unknowns; j++)
			s->size[j] += column_at(problem, i, j) * column_at(problem, i, j);
	}
	s->b_size = sqrt(s->b_size);
	for (size_t j = 0; j < problem->n_unknowns; j++)
		s->size[j] = sqrt(s->size[j]);
}

rig_status rig_nnls_solve(const rig_nnls_problem *problem, double x[])
{
	const size_t m = problem->n_rows;
	const size_t n = problem->n_unknowns;
	rig_status status = RIG_NO_MEMORY;
	solver s = {.problem = problem,
		.passive = calloc(n + 1, sizeof *s.passive),
		.is_passive = calloc(n, sizeof *s.is_passive),
		.refused = calloc(n, sizeof *s.refused),
		.x = calloc(n, sizeof *s.x),
		.trial = calloc(n, sizeof *s.trial),
		.residual = calloc(m, sizeof *s.residual),
		.size = calloc(n, sizeof *s.size),
		.columns = calloc(m * n, sizeof *s.columns),
		.scales = gsl_vector_alloc(n),
		.solution = gsl_vector_alloc(n),
		.rest = gsl_vector_alloc(m)};
	if (s.passive == NULL || s.is_passive == NULL || s.refused == NULL || s.x == NULL ||
		s.trial == NULL || s.residual == NULL || s.size == NULL || s.columns == NULL ||
		s.scales == NULL || s.solution == NULL || s.rest == NULL)
		goto out;
	measure(&s);
	status = run(&s);
	if (status == RIG_OK)
		memcpy(x, s.x, n * sizeof *x);
out:
	free(s.passive);
	free(s.is_passive);
	free(s.refused);
	free(s.x);
	free(s.trial);
	free(s.residual);
	free(s.size);
	free(s.columns);
	gsl_vector_free(s.scales);
	gsl_vector_free(s.solution);
	gsl_vector_free(s.rest);
	return status;
}
