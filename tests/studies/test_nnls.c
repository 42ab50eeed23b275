/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/nnls.h"

#include <gsl/gsl_multifit.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "../rig/random_coach.h"
#include "outside.h"
#include "suites.h"

enum { MOST_ROWS = 40, MOST_UNKNOWNS = 14, N_RANDOM = 2000 };

typedef struct {
	size_t m, n;
	double a[MOST_ROWS * MOST_UNKNOWNS], b[MOST_ROWS], x[MOST_UNKNOWNS];
} problem;

static void solve(problem *p)
{
	const rig_nnls_problem stated = {p->m, p->n, p->a, p->b};
	ck_assert_int_eq(rig_nnls_solve(&stated, p->x), RIG_OK);
}

/* Numbers of both signs, some columns alike, some zero. */
static void make(problem *p, uint64_t *state, double offset)
{
	p->n = 1 + (size_t)random_below(state, MOST_UNKNOWNS);
	p->m = 1 + (size_t)random_below(state, MOST_ROWS);
	for (size_t i = 0; i < p->m; i++) {
		p->b[i] = 10.0 * random_share(state) - offset;
		for (size_t j = 0; j < p->n; j++)
			p->a[i * p->n + j] = 2.0 * random_share(state) - 1.0;
	}
	if (p->n > 2 && random_below(state, 4) == 0)
		for (size_t i = 0; i < p->m; i++)
			p->a[i * p->n + 1] = p->a[i * p->n];
	if (p->n > 3 && random_below(state, 8) == 0)
		for (size_t i = 0; i < p->m; i++)
			p->a[i * p->n + 2] = 0.0;
}

static double slope_at(const problem *p, size_t j)
{
	double slope = 0.0;
	for (size_t i = 0; i < p->m; i++) {
		double rest = p->b[i];
		for (size_t k = 0; k < p->n; k++)
			rest -= p->a[i * p->n + k] * p->x[k];
		slope += p->a[i * p->n + j] * rest;
	}
	return slope;
}

/* Kuhn and Tucker: x >= 0, slope <= 0, and one of them 0. */
START_TEST(the_conditions_of_the_optimum_hold_on_random_problems)
{
	uint64_t state = 20261125;
	double worst = 0.0;
	for (int k = 0; k < N_RANDOM; k++) {
		problem p;
		make(&p, &state, 5.0);
		solve(&p);
		for (size_t j = 0; j < p.n; j++) {
			const double slope = slope_at(&p, j);
			ck_assert_msg(p.x[j] >= 0.0, "seed 20261125, problem %d", k);
			ck_assert_msg(slope <= 1e-9 && (p.x[j] == 0.0 || fabs(slope) <= 1e-7),
				"seed 20261125, problem %d: x %g slope %g", k, p.x[j], slope);
			worst = fmax(worst, p.x[j] > 0.0 ? fabs(slope) : slope);
		}
	}
	OUTSIDE_WORST(&((outside_series){"readings",
			      "conditions of Kuhn and Tucker for non-negative least squares, "
			      "slope of the sum of squares",
			      "[LAWSON-1974] ch. 23, theorem 23.4",
			      "rounding of 40 products of the size of 10"}),
		worst, 1e-7, "worst of %d random problems", N_RANDOM);
}
END_TEST

START_TEST(it_agrees_with_gsl_where_no_bound_is_active)
{
	uint64_t state = 7;
	double worst = 0.0;
	int n_free = 0;
	for (int k = 0; k < N_RANDOM; k++) {
		problem p;
		make(&p, &state, 5.0);
		p.m = p.n + (size_t)random_below(&state, MOST_ROWS - MOST_UNKNOWNS);
		double truth[MOST_UNKNOWNS];
		for (size_t j = 0; j < p.n; j++)
			truth[j] = 1.0 + 5.0 * random_share(&state);
		for (size_t i = 0; i < p.m; i++) {
			p.b[i] = 0.1 * random_share(&state);
			for (size_t j = 0; j < p.n; j++) {
				p.a[i * p.n + j] = 2.0 * random_share(&state) - 1.0;
				p.b[i] += p.a[i * p.n + j] * truth[j];
			}
		}
		gsl_matrix_const_view a = gsl_matrix_const_view_array(p.a, p.m, p.n);
		gsl_vector_const_view b = gsl_vector_const_view_array(p.b, p.m);
		gsl_vector *x = gsl_vector_alloc(p.n);
		gsl_matrix *cov = gsl_matrix_alloc(p.n, p.n);
		gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(p.m, p.n);
		double squares = 0.0;
		gsl_multifit_linear(&a.matrix, &b.vector, x, cov, &squares, work);
		const double condition = 1.0 / gsl_multifit_linear_rcond(work);
		if (gsl_vector_min(x) > 0.0) {
			n_free++;
			solve(&p);
			for (size_t j = 0; j < p.n; j++)
				worst = fmax(
					worst, fabs(p.x[j] - gsl_vector_get(x, j)) / condition);
		}
		gsl_multifit_linear_free(work);
		gsl_matrix_free(cov);
		gsl_vector_free(x);
	}
	ck_assert_int_gt(n_free, N_RANDOM / 2);
	OUTSIDE_WORST(&((outside_series){"readings",
			      "least squares without an active bound, unknown of about 3 over the "
			      "condition number",
			      "[GSL] gsl_multifit_linear", "rounding"}),
		worst, 1e-12, "worst of %d random problems", n_free);
}
END_TEST

/* Sum of the squares that an answer leaves. */
static double squares_left(const problem *p, const double x[])
{
	double sum = 0.0;
	for (size_t i = 0; i < p->m; i++) {
		double rest = p->b[i];
		for (size_t j = 0; j < p->n; j++)
			rest -= p->a[i * p->n + j] * x[j];
		sum += rest * rest;
	}
	return sum;
}

/* Bounds that bind: no positive x near ours or far from it does better. */
START_TEST(no_positive_answer_does_better)
{
	uint64_t state = 99;
	for (int k = 0; k < 200; k++) {
		problem p;
		make(&p, &state, 5.0);
		p.n = p.n > 6 ? 6 : p.n;
		solve(&p);
		const double ours = squares_left(&p, p.x);
		for (int step = 0; step < 400; step++) {
			const double reach = step % 2 ? 0.02 : 2.0;
			double x[MOST_UNKNOWNS];
			for (size_t j = 0; j < p.n; j++)
				x[j] = fmax(0.0, p.x[j] + reach * (random_share(&state) - 0.5));
			ck_assert_msg(
				squares_left(&p, x) >= ours - 1e-9, "problem %d of seed 99", k);
		}
	}
}
END_TEST

/* By hand. The first two: orthogonal columns, so each unknown alone, and the negative one is 0.
 * The third: unbounded (-1, 2) with x1 bound; then x2 = a2.b / a2.a2. The last has two columns
 * alike, of which one may carry all. */
static const struct {
	size_t m, n;
	double a[12], b[4], x[3];
} CASE[] = {
	{2, 2, {1, 0, 0, 1}, {2, 3}, {2, 3}},
	{2, 2, {1, 0, 0, 1}, {2, -3}, {2, 0}},
	/* lines 1, 1, 1 and 0, 1, 2: values 3, 1, -1 fall, so the slope is 0, the level their mean
	 */
	{3, 2, {1, 0, 1, 1, 1, 2}, {3, 1, -1}, {1, 0}},
	/* the same with a level below 0: slope alone, (0 - 1 x 1 + 2 x 4) / (1 + 4) = 7 / 5 */
	{3, 2, {1, 0, 1, 1, 1, 2}, {-3, -1, 4}, {0, 1.4}},
	{2, 1, {1, 1}, {-1, -2}, {0}},
};

START_TEST(cases_by_hand_come_out)
{
	problem p = {.m = CASE[_i].m, .n = CASE[_i].n};
	for (size_t i = 0; i < p.m * p.n; i++)
		p.a[i] = CASE[_i].a[i];
	for (size_t i = 0; i < p.m; i++)
		p.b[i] = CASE[_i].b[i];
	solve(&p);
	for (size_t j = 0; j < p.n; j++)
		ck_assert_double_eq_tol(p.x[j], CASE[_i].x[j], 1e-12);
}
END_TEST

START_TEST(columns_alike_share_one_answer)
{
	problem p = {.m = 2, .n = 2, .a = {1, 1, 1, 1}, .b = {4, 6}};
	solve(&p);
	ck_assert_double_eq_tol(p.x[0] + p.x[1], 5.0, 1e-12);
	ck_assert(p.x[0] >= 0.0 && p.x[1] >= 0.0);
}
END_TEST

/* A line through four points, the worked example that the book carries through its chapters on
 * bounds: w = 0.25, 0.5, 0.5, 0.8 against z = 0.5, 0.6, 0.7, 1.2, with slope >= 0, level >= 0 and
 * slope + level <= 1; its answer is slope 0.621, level 0.379. The third bound is put as a heavy
 * row: with slope + level = 1, which binds there. */
START_TEST(the_textbook_line_comes_out)
{
	static const double W[] = {0.25, 0.5, 0.5, 0.8}, Z[] = {0.5, 0.6, 0.7, 1.2};
	const outside_series series = {"readings", "a line under bounds, slope and level",
		"[LAWSON-1974] ch. 23 section 7; from memory", "half of its last digit"};
	problem p = {.m = 5, .n = 2};
	for (size_t i = 0; i < 4; i++) {
		p.a[2 * i] = W[i];
		p.a[2 * i + 1] = 1.0;
		p.b[i] = Z[i];
	}
	p.a[8] = p.a[9] = p.b[4] = 1e6;
	solve(&p);
	OUTSIDE(&series, p.x[0], 0.621, 0.0005, "slope");
	OUTSIDE(&series, p.x[1], 0.379, 0.0005, "level");
}
END_TEST

Suite *nnls_suite(void);
Suite *nnls_suite(void)
{
	Suite *suite = suite_create("nnls");
	TCase *all = tcase_create("all");
	tcase_add_test(all, the_conditions_of_the_optimum_hold_on_random_problems);
	tcase_add_test(all, it_agrees_with_gsl_where_no_bound_is_active);
	tcase_add_test(all, no_positive_answer_does_better);
	tcase_add_loop_test(all, cases_by_hand_come_out, 0, COUNT(CASE));
	tcase_add_test(all, columns_alike_share_one_answer);
	tcase_add_test(all, the_textbook_line_comes_out);
	suite_add_tcase(suite, all);
	return suite;
}
