/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_next.c: the next switch combination, by the design of experiments: of all sets of loads
 * that can be on together, the one whose reading cuts the doubt of what is not identified most
 * (c-optimal; over a group that is not told apart, A-optimal in its labels' spreads). */
#include <math.h>
#include <string.h>

#include "studies/readings_model.h"

/* A combination with one load more must say this much more (common practice, no source). */
static const double WORTH_A_SWITCH = 1.05;
/* A reading that leaves more of the variance than this is not worth a walk to the panel (common
 * practice, no source). */
static const double WORTH_READING = 0.6;
/* Share of a label's variance that may be left. */
static const double TOLD_FRAC = 0.75;
static const double CONTINUOUS_FRAC = 0.8;

typedef struct {
	const reading_model *model;
	const reading_fit *fit;
	const rig_readings_findings *findings;
	int target;
	rig_meter_place place;
	double limit_a;
	bool *wanted;                /* by unknown: whose doubt counts */
	bool *on;                    /* by unknown */
	double *coefficients, *pull; /* pull: covariance times coefficients */
} search;

/* The load whose doubt is largest, of those that are not identified; -1: none. */
static int find_target(const rig_readings_findings *findings)
{
	int target = -1;
	double most = 0.0;
	for (size_t j = 0; j < findings->n_draws; j++) {
		const rig_readings_draw *draw = &findings->draws[j];
		if (draw->verdict == RIG_DRAW_NOT_IDENTIFIED && draw->se_a > most) {
			most = draw->se_a;
			target = (int)j;
		}
	}
	return target;
}

static rig_meter_place place_of(const reading_unknown *unknown)
{
	if (unknown->supply == RIG_DC)
		return RIG_METER_BANK;
	return unknown->leg == RIG_LEG_2        ? RIG_METER_LEG_2
	       : unknown->leg == RIG_LEG_UNSAID ? RIG_METER_BOTH_LEGS
						: RIG_METER_LEG_1;
}

static bool seen(const search *s, size_t j)
{
	const reading_unknown *unknown = &s->model->unknowns[j];
	const reading_unknown *target = &s->model->unknowns[s->target];
	if (unknown->supply != target->supply || unknown->bank != target->bank)
		return false;
	return unknown->supply == RIG_DC || s->place == RIG_METER_BOTH_LEGS ||
	       unknown->leg == target->leg || unknown->leg == RIG_LEG_BOTH ||
	       target->leg == RIG_LEG_BOTH;
}

/* What one reading of what is on takes from the variances that count, each over its label's; the
 * meter's amps go to *expected_a, the target's new variance to *left. */
static double gain(search *s, double *expected_a, double *left)
{
	const reading_model *model = s->model;
	const size_t n = model->n_unknowns;
	const reading_row row = {.place = s->place, .on = s->on};
	reading_coefficients(model, &row, s->fit->x, s->coefficients);
	double variance = 0.0;
	*expected_a = 0.0;
	for (size_t i = 0; i < n; i++) {
		s->pull[i] = 0.0;
		for (size_t j = 0; j < n; j++)
			s->pull[i] += s->fit->covariance[i * n + j] * s->coefficients[j];
		variance += s->coefficients[i] * s->pull[i];
		*expected_a += s->coefficients[i] * s->fit->x[i];
	}
	const double sigma = model->options.meter_frac * *expected_a + model->options.meter_a;
	double sum = 0.0;
	for (size_t i = 0; i < n; i++) {
		const double cut = s->pull[i] * s->pull[i] / (sigma * sigma + variance);
		const double spread_a = model->unknowns[i].spread_a;
		if (s->wanted[i])
			sum += cut / (spread_a * spread_a);
		if (left != NULL)
			left[i] = s->fit->covariance[i * n + i] - cut;
	}
	return sum;
}

static double gain_within(search *s)
{
	double expected_a;
	const double sum = gain(s, &expected_a, NULL);
	return expected_a <= s->limit_a ? sum : 0.0;
}

static bool may_switch(const search *s, size_t j)
{
	return seen(s, j) && !s->model->unknowns[j].standing;
}

/* Switches one load after the other, the one that helps most first, until none helps. */
static double climb(search *s)
{
	const size_t n = s->model->n_unknowns;
	double best = gain_within(s);
	for (;;) {
		size_t which = n;
		double most = best;
		for (size_t j = 0; j < n; j++) {
			if (!may_switch(s, j))
				continue;
			const double worth = s->on[j] ? 1.0 : WORTH_A_SWITCH;
			s->on[j] = !s->on[j];
			const double sum = gain_within(s);
			s->on[j] = !s->on[j];
			if (sum > most * worth * (1.0 + 1e-9)) {
				most = sum;
				which = j;
			}
		}
		if (which == n)
			return best;
		s->on[which] = !s->on[which];
		best = most;
	}
}

static void start_with(search *s, size_t only)
{
	for (size_t j = 0; j < s->model->n_unknowns; j++)
		s->on[j] = seen(s, j) && (s->model->unknowns[j].standing || j == only);
}

/* From nothing on, and from each load alone. */
static double search_all(search *s, bool best_on[])
{
	const size_t n = s->model->n_unknowns;
	double best = 0.0;
	for (size_t only = 0; only <= n; only++) {
		if (only < n && !may_switch(s, only))
			continue;
		start_with(s, only);
		const double sum = climb(s);
		if (sum > best * (1.0 + 1e-9)) {
			best = sum;
			memcpy(best_on, s->on, n * sizeof *best_on);
		}
	}
	return best;
}

static double limit_of(const reading_model *model, rig_meter_place place)
{
	if (place == RIG_METER_BANK)
		return INFINITY;
	return CONTINUOUS_FRAC * model->coach->cord_a *
	       (place == RIG_METER_BOTH_LEGS && model->coach->cord_a == 50 ? 2.0 : 1.0);
}

static void fill_next(search *s, const double left[], rig_readings_next *next)
{
	const rig_readings_findings *findings = s->findings;
	*next = (rig_readings_next){.given = true,
		.place = s->place,
		.on = next->on,
		.settles = s->target,
		.se_before_a = findings->draws[s->target].se_a,
		.se_after_a = sqrt(fmax(0.0, left[s->target])),
		.separates = true};
	(void)gain(s, &next->expected_a, NULL);
	for (size_t j = 0; j < findings->n_draws; j++) {
		const double spread_a = s->model->unknowns[j].spread_a;
		if (s->on[j] && !s->model->unknowns[j].standing)
			next->on[next->n_on++] = (int)j;
		if (s->wanted[j] && left[j] > (1.0 - TOLD_FRAC) * spread_a * spread_a)
			next->separates = false;
	}
}

rig_status reading_next(
	const reading_model *model, const reading_fit *fit, rig_readings_findings *findings)
{
	const size_t n = model->n_unknowns;
	const int target = find_target(findings);
	if (target < 0)
		return RIG_OK;
	rig_arena *arena = model->arena;
	search s = {.model = model,
		.fit = fit,
		.findings = findings,
		.target = target,
		.place = place_of(&model->unknowns[target]),
		.wanted = rig_arena_take(arena, n, sizeof *s.wanted),
		.on = rig_arena_take(arena, n, sizeof *s.on),
		.coefficients = rig_arena_take(arena, n, sizeof *s.coefficients),
		.pull = rig_arena_take(arena, n, sizeof *s.pull)};
	bool *best_on = rig_arena_take(arena, n, sizeof *best_on);
	double *left = rig_arena_take(arena, n, sizeof *left);
	findings->next.on = rig_arena_take(arena, n, sizeof *findings->next.on);
	if (s.wanted == NULL || s.on == NULL || s.coefficients == NULL || s.pull == NULL ||
		best_on == NULL || left == NULL || findings->next.on == NULL)
		return RIG_NO_MEMORY;
	s.limit_a = limit_of(model, s.place);
	const int group = findings->draws[target].group;
	for (size_t j = 0; j < n; j++)
		s.wanted[j] = (int)j == target || (group >= 0 && findings->draws[j].group == group);
	if (search_all(&s, best_on) <= 0.0)
		return RIG_OK;
	memcpy(s.on, best_on, n * sizeof *s.on);
	double expected_a;
	(void)gain(&s, &expected_a, left);
	if (left[target] < WORTH_READING * fit->covariance[(size_t)target * n + (size_t)target])
		fill_next(&s, left, &findings->next);
	return RIG_OK;
}
