/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which input the spread of the outcome comes from. */
#include <math.h>
#include <stdlib.h>

#include "studies/trip_findings.h"

enum { CLASSES = 16 };

/* Sums over classes of an input's values, each of the same width in probability. */
typedef struct {
	double sum[CLASSES], n[CLASSES];
} class_sums;

static void add_block(const double *uniform, const double *outcome, size_t n, class_sums *sums)
{
	for (size_t i = 0; i < n; i++) {
		const size_t at = (size_t)(uniform[i] * CLASSES);
		sums->sum[at] += outcome[i];
		sums->n[at] += 1;
	}
}

/* Share of the variance that lies between the classes' means, without what chance puts there: the
 * adjusted share of a one-way analysis of variance. */
static double share_of(const class_sums *sums, double n, double mean, double variance)
{
	double between = 0, n_classes = 0;
	for (int i = 0; i < CLASSES; i++) {
		if (sums->n[i] == 0)
			continue;
		const double apart = sums->sum[i] / sums->n[i] - mean;
		between += sums->n[i] * apart * apart;
		n_classes++;
	}
	const double all = variance * n, within = all - between;
	const double chance = (n_classes - 1) * within / (n - n_classes);
	return all > 0 ? fmax(0, (between - chance) / all) : 0;
}

/* The spread of the outcomes. */
typedef struct {
	double mean, variance;
} spread;

static spread spread_of(const fleet_watch *watch)
{
	const double n = (double)watch->n_margins;
	spread found = {0, 0};
	for (size_t i = 0; i < watch->n_margins; i++)
		found.mean += watch->margin_wh[i] / n;
	for (size_t i = 0; i < watch->n_margins; i++) {
		const double apart = watch->margin_wh[i] - found.mean;
		found.variance += apart * apart / n;
	}
	return found;
}

/* Whether the outcome is on either side of nothing in the first and the last class. */
static bool turns(const class_sums *sums)
{
	int first = 0, last = CLASSES - 1;
	while (first < last && sums->n[first] == 0)
		first++;
	while (last > first && sums->n[last] == 0)
		last--;
	return first < last && (sums->sum[first] < 0) != (sums->sum[last] < 0);
}

static void set_share(
	rig_trip_input *input, uint64_t seed, const fleet_watch *watch, const spread *all)
{
	class_sums sums = {{0}, {0}};
	for (size_t first = 0; first < watch->n_margins; first += RIG_LANES) {
		const size_t left = watch->n_margins - first;
		const size_t block = left < RIG_LANES ? left : RIG_LANES;
		double uniform[RIG_LANES];
		trip_input_uniform(input, &(rig_lanes){seed, first, block, 1}, uniform);
		add_block(uniform, watch->margin_wh + first, block, &sums);
	}
	input->share_frac = share_of(&sums, (double)watch->n_margins, all->mean, all->variance);
	input->decides = input->share_frac >= RIG_MEASURE_LEAST_FRAC && turns(&sums);
}

static int largest_first(const void *a, const void *b)
{
	const rig_trip_input *x = a, *y = b;
	if (x->share_frac != y->share_frac)
		return x->share_frac < y->share_frac ? 1 : -1;
	return x->kind != y->kind ? (int)x->kind - (int)y->kind : x->index - y->index;
}

rig_status trip_find_inputs(const trip_model *model, const trip_inputs *inputs,
	const fleet_watch *watch, rig_trip_findings *findings)
{
	if (watch->n_margins == 0)
		return RIG_OK;
	findings->inputs = rig_arena_take(model->arena, inputs->n + 1, sizeof *findings->inputs);
	if (!findings->inputs)
		return RIG_NO_MEMORY;
	const spread all = spread_of(watch);
	double rest = 1;
	for (size_t k = 0; k < inputs->n; k++) {
		rig_trip_input *input = &findings->inputs[findings->n_inputs++];
		*input = inputs->list[k];
		set_share(input, model->options.seed, watch, &all);
		rest -= input->share_frac;
	}
	findings->inputs[findings->n_inputs++] = (rig_trip_input){
		.kind = RIG_INPUT_WEATHER, .index = -1, .share_frac = fmax(0, rest)};
	qsort(findings->inputs, findings->n_inputs, sizeof *findings->inputs, largest_first);
	return RIG_OK;
}

static rig_measure measure_of(const rig_trip_input *input)
{
	static const rig_measure_kind KIND[] = {[RIG_INPUT_LOAD] = RIG_MEASURE_LOAD_DAY,
		[RIG_INPUT_CAPACITY] = RIG_MEASURE_CAPACITY,
		[RIG_INPUT_USABLE] = RIG_MEASURE_USABLE,
		[RIG_INPUT_EFFICIENCY] = RIG_MEASURE_KEEPS,
		[RIG_INPUT_PANEL] = RIG_MEASURE_PANEL_W,
		[RIG_INPUT_LOSSES] = RIG_MEASURE_PANEL_LOSSES,
		[RIG_INPUT_INVERTER] = RIG_MEASURE_INVERTER,
		[RIG_INPUT_SUN] = RIG_MEASURE_SUN,
		[RIG_INPUT_WEATHER] = RIG_MEASURE_WEATHER};
	return (rig_measure){.kind = KIND[input->kind],
		.index = input->index,
		.share_frac = input->share_frac,
		.decides = input->decides};
}

size_t rig_trip_measures(const rig_trip_findings *findings, rig_measure measures[RIG_MEASURE_SHOWN])
{
	size_t n_best = 0;
	/* few inputs at a time: keep the best seen so far beside the next one */
	rig_measure seen[RIG_MEASURE_SHOWN + 1];
	for (size_t i = 0; i < findings->n_inputs; i++) {
		seen[n_best] = measure_of(&findings->inputs[i]);
		n_best = rig_measure_rank(n_best + 1, seen, RIG_MEASURE_SHOWN);
	}
	for (size_t i = 0; i < n_best; i++)
		measures[i] = seen[i];
	return n_best;
}
