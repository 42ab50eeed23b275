/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_fit.c: draws by non-negative least squares over rows and labels, how sure they are, and
 * which of them the rows do not tell apart. */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#include "rigbudget/weather.h"
#include "studies/nnls.h"
#include "studies/readings_model.h"

/* Phasor sums are linearised about the draws found so far; the second time moves them by less than
 * a hundredth of an amp. */
enum { N_LINEARISED = 4, N_SCATTERED = 3 };
/* Chance that a campaign whose loads all stand at the edge of what is healthy accuses any; and that
 * one of good rows sets any aside. */
static const double ACCUSED_CHANCE = 0.05, ASIDE_CHANCE = 0.02;
/* A row can be checked by the others when they, with the labels, predict it this much better in
 * squares than the labels alone do. */
static const double CHECKED_FRAC = 0.1;
/* Of the rows that may be set aside. */
static const double OUTLIER_FRAC = 0.2;
/* The meter's stated accuracy counts as so many rows when the scatter of the rows about the draws
 * is taken for its error; and how far from the stated one that may lead. */
static const double STATED_ROWS = 2.0, LEAST_SCATTER = 0.4, MOST_SCATTER = 3.0;
/* A direction of draws, each in its label's spreads, that the rows measure less well than the
 * labels; and the part in it that makes an unknown belong to it. */
static const double WEAK = 1.0;
static const double SHARE_OF_WEAK = 0.1;

double reading_sureness_z(const reading_fit *fit, size_t n)
{
	const double tail = ACCUSED_CHANCE / 2.0 / (double)(n > 0 ? n : 1);
	return reading_quantile(fit, 1.0 - tail);
}

/* The scatter is a sum of squares of which STATED_ROWS are sure: Satterthwaite's degrees of freedom
 * [SATTERTHWAITE-1946]. */
double reading_quantile(const reading_fit *fit, double chance)
{
	const double all = STATED_ROWS + fit->free_rows;
	if (fit->free_rows < 0.01)
		return rig_normal_quantile(chance);
	return gsl_cdf_tdist_Pinv(chance, all * all / fit->free_rows);
}

/* The rows that count, over their standard deviations, and below them the labels over theirs. */
typedef struct {
	size_t n_used;
	size_t *used; /* rows */
	double *a, *b;
	gsl_matrix *inverse; /* of A'A */
} system_of_rows;

static void fill_system(const reading_model *model, const reading_fit *fit, system_of_rows *system)
{
	const size_t n = model->n_unknowns;
	system->n_used = 0;
	for (size_t i = 0; i < model->n_rows; i++)
		if (model->rows[i].use == RIG_ROW_USED)
			system->used[system->n_used++] = i;
	for (size_t k = 0; k < system->n_used; k++) {
		const reading_row *row = &model->rows[system->used[k]];
		double *design = fit->design + system->used[k] * n;
		reading_coefficients(model, row, fit->x, design);
		for (size_t j = 0; j < n; j++)
			system->a[k * n + j] = design[j] / (fit->scatter * row->sigma);
		system->b[k] = row->read / (fit->scatter * row->sigma);
	}
	for (size_t j = 0; j < n; j++) {
		const size_t k = system->n_used + j;
		memset(system->a + k * n, 0, n * sizeof *system->a);
		system->a[k * n + j] = 1.0 / model->unknowns[j].spread_a;
		system->b[k] = model->unknowns[j].label_a.likely / model->unknowns[j].spread_a;
	}
}

static rig_status invert(const reading_model *model, system_of_rows *system, double *covariance)
{
	const size_t n = model->n_unknowns;
	gsl_matrix_const_view a = gsl_matrix_const_view_array(system->a, system->n_used + n, n);
	gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, &a.matrix, 0.0, system->inverse);
	/* the labels make it positive definite */
	if (gsl_linalg_cholesky_decomp1(system->inverse) != 0 ||
		gsl_linalg_cholesky_invert(system->inverse) != 0)
		return RIG_NO_SOLUTION;
	for (size_t i = 0; i < n; i++)
		for (size_t j = 0; j < n; j++)
			covariance[i * n + j] = gsl_matrix_get(system->inverse, i, j);
	return RIG_OK;
}

static rig_status solve(const reading_model *model, reading_fit *fit, system_of_rows *system)
{
	for (size_t j = 0; j < model->n_unknowns; j++)
		fit->x[j] = model->unknowns[j].label_a.likely;
	for (int pass = 0; pass < N_LINEARISED; pass++) {
		fill_system(model, fit, system);
		const rig_nnls_problem problem = {system->n_used + model->n_unknowns,
			model->n_unknowns, system->a, system->b};
		const rig_status status = rig_nnls_solve(&problem, fit->x);
		if (status != RIG_OK)
			return status;
	}
	return invert(model, system, fit->covariance);
}

/* What the row's meter would show, its doubt by the draws' doubt, and by the labels' alone. */
typedef struct {
	double value, variance, label_variance;
} prediction;

static prediction predict(const reading_model *model, const reading_fit *fit, size_t row)
{
	const size_t n = model->n_unknowns;
	const double *design = fit->design + row * n;
	prediction p = {0};
	for (size_t i = 0; i < n; i++) {
		const double spread = design[i] * model->unknowns[i].spread_a;
		p.value += design[i] * fit->x[i];
		p.label_variance += spread * spread;
		for (size_t j = 0; j < n; j++)
			p.variance += design[i] * fit->covariance[i * n + j] * design[j];
	}
	return p;
}

/* A used row against what all others say; one set aside against all that are used. */
static void judge_row(const reading_model *model, reading_fit *fit, size_t row)
{
	const reading_row *it = &model->rows[row];
	reading_coefficients(model, it, fit->x, fit->design + row * model->n_unknowns);
	const prediction p = predict(model, fit, row);
	const double noise = it->sigma * it->sigma * fit->scatter * fit->scatter;
	double variance = p.variance;
	fit->predicted[row] = fit->without[row] = p.value;
	if (it->use == RIG_ROW_USED) {
		const double left = fmax(1e-12, 1.0 - p.variance / noise);
		fit->without[row] = it->read - (it->read - p.value) / left;
		variance = p.variance / left;
	}
	fit->studentized[row] = (it->read - fit->without[row]) / sqrt(noise + variance);
	fit->checked[row] = variance <= CHECKED_FRAC * p.label_variance;
}

/* Sum of squares of the rows that count about the draws, over the meter's stated error, and how
 * many rows it is worth; the stated error counts in both. */
typedef struct {
	double squares, free_rows;
} scatter_sum;

/* What one row has in that. */
static scatter_sum part_of(const reading_model *model, const reading_fit *fit, size_t row)
{
	const reading_row *it = &model->rows[row];
	const double off = (it->read - fit->predicted[row]) / it->sigma;
	const double noise = it->sigma * it->sigma * fit->scatter * fit->scatter;
	const double left = fmax(0.0, 1.0 - predict(model, fit, row).variance / noise);
	return (scatter_sum){off * off, left};
}

static scatter_sum scatter_of(const reading_model *model, const reading_fit *fit)
{
	scatter_sum sum = {STATED_ROWS, STATED_ROWS};
	for (size_t i = 0; i < model->n_rows; i++) {
		if (model->rows[i].use != RIG_ROW_USED)
			continue;
		const scatter_sum part = part_of(model, fit, i);
		sum.squares += part.squares;
		sum.free_rows += part.free_rows;
	}
	return sum;
}

static double scatter_ratio(scatter_sum sum)
{
	return fmin(MOST_SCATTER, fmax(LEAST_SCATTER, sqrt(sum.squares / sum.free_rows)));
}

/* The row that strays most beyond what chance allows, by the scatter of all others; false: none.
 * The fit has been made with the stated error. */
static bool find_outlier(const reading_model *model, const reading_fit *fit, size_t *row)
{
	const scatter_sum all = scatter_of(model, fit);
	double most = reading_quantile(fit, 1.0 - ASIDE_CHANCE / 2.0 / (double)model->n_rows);
	bool found = false;
	for (size_t i = 0; i < model->n_rows; i++) {
		if (model->rows[i].use != RIG_ROW_USED || !fit->checked[i])
			continue;
		const scatter_sum part = part_of(model, fit, i);
		const scatter_sum others = {
			fmax(STATED_ROWS, all.squares - part.squares / fmax(0.1, part.free_rows)),
			all.free_rows - fmin(part.free_rows, all.free_rows / 2.0)};
		const double strays = fabs(fit->studentized[i]) / scatter_ratio(others);
		if (strays <= most)
			continue;
		most = strays;
		*row = i;
		found = true;
	}
	return found;
}

static rig_status fit_with(
	const reading_model *model, reading_fit *fit, system_of_rows *system, double scatter)
{
	fit->scatter = scatter;
	const rig_status status = solve(model, fit, system);
	for (size_t i = 0; i < model->n_rows && status == RIG_OK; i++)
		judge_row(model, fit, i);
	return status;
}

/* Sets outliers aside one by one. */
static rig_status set_aside(reading_model *model, reading_fit *fit, system_of_rows *system)
{
	for (size_t n_aside = 0;; n_aside++) {
		const rig_status status = fit_with(model, fit, system, 1.0);
		fit->free_rows = scatter_of(model, fit).free_rows - STATED_ROWS;
		size_t worst = 0;
		const double most = OUTLIER_FRAC * (double)(system->n_used + n_aside);
		if (status != RIG_OK || (double)(n_aside + 1) > most ||
			!find_outlier(model, fit, &worst))
			return status;
		model->rows[worst].use = RIG_ROW_OUTLIER;
	}
}

static rig_status fit_rows(reading_model *model, reading_fit *fit, system_of_rows *system)
{
	rig_status status = set_aside(model, fit, system);
	for (int pass = 1; pass < N_SCATTERED && status == RIG_OK; pass++) {
		const scatter_sum sum = scatter_of(model, fit);
		fit->free_rows = sum.free_rows - STATED_ROWS;
		status = fit_with(model, fit, system, scatter_ratio(sum));
	}
	return status;
}

rig_status reading_fit_make(reading_model *model, reading_fit *fit)
{
	const size_t n = model->n_unknowns;
	const size_t m = model->n_rows;
	rig_arena *arena = model->arena;
	*fit = (reading_fit){.x = rig_arena_take(arena, n, sizeof *fit->x),
		.covariance = rig_arena_take(arena, n * n, sizeof *fit->covariance),
		.design = rig_arena_take(arena, m * n, sizeof *fit->design),
		.predicted = rig_arena_take(arena, m, sizeof *fit->predicted),
		.without = rig_arena_take(arena, m, sizeof *fit->without),
		.studentized = rig_arena_take(arena, m, sizeof *fit->studentized),
		.checked = rig_arena_take(arena, m, sizeof *fit->checked)};
	system_of_rows system = {.used = rig_arena_take(arena, m, sizeof *system.used),
		.a = rig_arena_take(arena, (m + n) * n, sizeof *system.a),
		.b = rig_arena_take(arena, m + n, sizeof *system.b)};
	if (fit->x == NULL || fit->covariance == NULL || fit->design == NULL ||
		fit->predicted == NULL || fit->without == NULL || fit->studentized == NULL ||
		fit->checked == NULL || system.used == NULL || system.a == NULL || system.b == NULL)
		return RIG_NO_MEMORY;
	fit->scatter = 1.0;
	if (n == 0)
		return RIG_OK;
	system.inverse = gsl_matrix_alloc(n, n);
	if (system.inverse == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = fit_rows(model, fit, &system);
	gsl_matrix_free(system.inverse);
	return status;
}

/* ---- what is not told apart ---- */

/* The rows by draws in units of their labels' spreads, as many rows as unknowns at least. */
static gsl_matrix *whitened(const reading_model *model, const reading_fit *fit)
{
	const size_t n = model->n_unknowns;
	gsl_matrix *matrix = gsl_matrix_calloc(model->n_rows > n ? model->n_rows : n, n);
	for (size_t i = 0; i < model->n_rows && matrix != NULL; i++) {
		const reading_row *row = &model->rows[i];
		for (size_t j = 0; j < n && row->use == RIG_ROW_USED; j++)
			gsl_matrix_set(matrix, i, j,
				fit->design[i * n + j] * model->unknowns[j].spread_a /
					(fit->scatter * row->sigma));
	}
	return matrix;
}

/* Joins two groups into one. */
static void join(int group[], size_t n, int from, int to)
{
	for (size_t i = 0; i < n; i++)
		if (group[i] == from)
			group[i] = to;
}

/* Groups of one are no groups; the others are counted from 0. */
static size_t number_groups(int group[], size_t n)
{
	int n_groups = 0;
	for (size_t i = 0; i < n; i++) {
		if (group[i] < (int)n)
			continue; /* done already, or none */
		size_t alike = 0;
		const int old = group[i];
		for (size_t j = 0; j < n; j++)
			alike += group[j] == old;
		join(group, n, old, alike > 1 ? n_groups++ : -1);
	}
	return (size_t)n_groups;
}

static void group_along(const gsl_matrix *v, const gsl_vector *s, int group[])
{
	const size_t n = v->size1;
	/* old numbers start at n, so that they are not taken for new ones */
	for (size_t j = 0; j < n; j++)
		group[j] = (int)(n + j);
	for (size_t k = 0; k < n; k++) {
		if (gsl_vector_get(s, k) >= WEAK)
			continue;
		int first = -1;
		for (size_t j = 0; j < n; j++) {
			const double part = gsl_matrix_get(v, j, k);
			if (part * part < SHARE_OF_WEAK)
				continue;
			if (first >= 0)
				join(group, n, group[j], first);
			first = group[j];
		}
	}
}

rig_status reading_groups(
	const reading_model *model, const reading_fit *fit, int group[], size_t *n_groups)
{
	const size_t n = model->n_unknowns;
	*n_groups = 0;
	if (n == 0)
		return RIG_OK;
	rig_status status = RIG_NO_MEMORY;
	gsl_matrix *matrix = whitened(model, fit);
	gsl_matrix *v = gsl_matrix_alloc(n, n);
	gsl_vector *s = gsl_vector_alloc(n);
	gsl_vector *work = gsl_vector_alloc(n);
	if (matrix == NULL || v == NULL || s == NULL || work == NULL)
		goto out;
	status = gsl_linalg_SV_decomp(matrix, v, s, work) == 0 ? RIG_OK : RIG_NO_SOLUTION;
	if (status == RIG_OK) {
		group_along(v, s, group);
		*n_groups = number_groups(group, n);
	}
out:
	gsl_matrix_free(matrix);
	gsl_matrix_free(v);
	gsl_vector_free(s);
	gsl_vector_free(work);
	return status;
}
