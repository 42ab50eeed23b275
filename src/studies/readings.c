/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/readings.h"

#include <math.h>
#include <stdlib.h>

#include "studies/readings_model.h"

/* A clamp meter's usual accuracy (common practice, no source). */
static const double METER_FRAC = 0.02, METER_A = 0.2;
/* Identified: the readings leave a fourth of the label's variance, so half of its doubt. */
static const double TOLD_FRAC = 0.75;
/* Dead is less than this share of the least that it should draw. */
static const double DEAD_FRAC = 0.5;

/* The findings with the memory that they stand in. */
typedef struct {
	rig_readings_findings findings; /* first: its address is the holder's */
	rig_arena *arena;
} holder;

static rig_draw_verdict verdict_between(rig_figure found, rig_figure expected)
{
	if (found.low <= 0.0 && found.high < DEAD_FRAC * expected.low)
		return RIG_DRAW_DEAD;
	if (found.high < expected.low)
		return RIG_DRAW_LOW;
	return found.low > expected.high ? RIG_DRAW_HIGH : RIG_DRAW_AGREES;
}

rig_draw_verdict reading_verdict(rig_figure found, rig_figure expected)
{
	return verdict_between(found, expected);
}

static rig_figure interval_from_nothing(double likely, double half)
{
	return rig_figure_range(fmax(0.0, likely - half), likely, likely + half, RIG_FROM_COMPUTED);
}

/* Whether a draw that goes with the volts was read at known ones. */
static bool judged_at_volts(const reading_model *model, size_t unknown)
{
	if (model->unknowns[unknown].response == RIG_HOLDS_RESISTANCE)
		return false;
	for (size_t i = 0; i < model->n_rows; i++)
		if (model->rows[i].use == RIG_ROW_USED && model->rows[i].on[unknown] &&
			model->rows[i].volts_v > 0.0)
			return true;
	return false;
}

static size_t rows_of(const reading_model *model, size_t unknown)
{
	size_t n = 0;
	for (size_t i = 0; i < model->n_rows; i++)
		n += model->rows[i].use == RIG_ROW_USED && model->rows[i].on[unknown];
	return n;
}

static rig_readings_draw draw_of(
	const reading_model *model, const reading_fit *fit, size_t j, double z)
{
	const reading_unknown *unknown = &model->unknowns[j];
	const double se_a = sqrt(fit->covariance[j * model->n_unknowns + j]);
	const double spread_a = unknown->spread_a;
	const rig_figure sure = interval_from_nothing(fit->x[j], z * se_a);
	rig_readings_draw draw = {.load = unknown->load,
		.supply = unknown->supply,
		.rated_v = unknown->rated_v,
		.label_a = unknown->label_a,
		.expected_a = unknown->expected_a,
		.found_a = interval_from_nothing(fit->x[j], reading_quantile(fit, 0.975) * se_a),
		.se_a = se_a,
		.told_frac = fmax(0.0, 1.0 - se_a * se_a / (spread_a * spread_a)),
		.n_rows = rows_of(model, j),
		.group = -1,
		.verdict = verdict_between(sure, unknown->expected_a),
		.at_volts = judged_at_volts(model, j)};
	draw.found_w = rig_figure_scale(
		draw.found_a, unknown->rated_v * unknown->power_factor / unknown->count);
	if (draw.verdict == RIG_DRAW_AGREES && draw.told_frac < TOLD_FRAC)
		draw.verdict = RIG_DRAW_NOT_IDENTIFIED;
	return draw;
}

static rig_status fill_draws(
	const reading_model *model, const reading_fit *fit, rig_readings_findings *findings)
{
	const size_t n = model->n_unknowns;
	findings->draws = rig_arena_take(model->arena, n, sizeof *findings->draws);
	if (findings->draws == NULL)
		return RIG_NO_MEMORY;
	findings->n_draws = n;
	for (size_t j = 0; j < n; j++)
		findings->draws[j] = draw_of(model, fit, j, findings->sureness_z);
	return RIG_OK;
}

static rig_status fill_groups(
	const reading_model *model, const reading_fit *fit, rig_readings_findings *findings)
{
	const size_t n = model->n_unknowns;
	int *group = rig_arena_take(model->arena, n, sizeof *group);
	if (group == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = reading_groups(model, fit, group, &findings->n_groups);
	if (status != RIG_OK)
		return status;
	findings->groups =
		rig_arena_take(model->arena, findings->n_groups, sizeof *findings->groups);
	if (findings->groups == NULL)
		return RIG_NO_MEMORY;
	for (size_t g = 0; g < findings->n_groups; g++) {
		rig_readings_group *it = &findings->groups[g];
		it->draws = rig_arena_take(model->arena, n, sizeof *it->draws);
		if (it->draws == NULL)
			return RIG_NO_MEMORY;
		for (size_t j = 0; j < n; j++) {
			if (group[j] != (int)g)
				continue;
			findings->draws[j].group = (int)g;
			it->draws[it->n_draws++] = (int)j;
		}
	}
	return RIG_OK;
}

static rig_status fill_rows(
	const reading_model *model, const reading_fit *fit, rig_readings_findings *findings)
{
	findings->rows = rig_arena_take(model->arena, model->n_rows, sizeof *findings->rows);
	if (findings->rows == NULL)
		return RIG_NO_MEMORY;
	findings->n_rows = model->n_rows;
	for (size_t i = 0; i < model->n_rows; i++) {
		const reading_row *row = &model->rows[i];
		const bool judged = row->use == RIG_ROW_USED || row->use == RIG_ROW_OUTLIER;
		findings->rows[i] = (rig_readings_row){.reading = row->reading,
			.place = row->place,
			.use = row->use,
			.read = row->read,
			.sigma = row->sigma,
			.predicted = judged ? fit->predicted[i] : 0.0,
			.without = judged ? fit->without[i] : 0.0,
			.studentized = judged ? fit->studentized[i] : 0.0,
			.checked = judged && fit->checked[i]};
	}
	return RIG_OK;
}

static rig_status study(reading_model *model, rig_readings_findings *findings)
{
	reading_fit fit = {0};
	rig_status status = reading_model_make(model);
	if (status == RIG_OK)
		status = reading_fit_make(model, &fit);
	if (status != RIG_OK)
		return status;
	findings->scatter_ratio = fit.scatter;
	findings->sureness_z = reading_sureness_z(&fit, model->n_unknowns);
	status = fill_draws(model, &fit, findings);
	if (status == RIG_OK)
		status = fill_groups(model, &fit, findings);
	if (status == RIG_OK)
		status = fill_rows(model, &fit, findings);
	if (status == RIG_OK)
		status = reading_next(model, &fit, findings);
	if (status == RIG_OK)
		status = reading_dc(model, findings);
	return status == RIG_OK ? reading_panels(model, findings) : status;
}

rig_status rig_readings_study(const rig_coach *completed, const rig_reading *readings,
	size_t n_readings, const rig_readings_options *options, rig_readings_findings **findings)
{
	holder *made = calloc(1, sizeof *made);
	rig_status status = RIG_NO_MEMORY;
	if (made == NULL)
		return status;
	made->arena = rig_arena_new();
	if (made->arena == NULL)
		goto out;
	reading_model model = {.coach = completed,
		.readings = readings,
		.n_readings = n_readings,
		.arena = made->arena};
	if (options != NULL)
		model.options = *options;
	if (model.options.meter_frac == 0.0 && model.options.meter_a == 0.0) {
		model.options.meter_frac = METER_FRAC;
		model.options.meter_a = METER_A;
	}
	made->findings = (rig_readings_findings){.coach = completed,
		.readings = readings,
		.n_readings = n_readings,
		.meter_frac = model.options.meter_frac,
		.meter_a = model.options.meter_a};
	status = study(&model, &made->findings);
	if (status == RIG_OK) {
		*findings = &made->findings;
		made = NULL;
	}
out:
	if (made != NULL)
		rig_readings_free(&made->findings);
	return status;
}

void rig_readings_free(rig_readings_findings *findings)
{
	holder *made = (holder *)findings;
	if (made == NULL)
		return;
	rig_arena_free(made->arena);
	free(made);
}

const char *rig_draw_verdict_text(rig_draw_verdict verdict)
{
	static const char *const TEXT[] = {"agrees with its label", "above its label",
		"below its label", "dead", "not identified"};
	return TEXT[verdict];
}

const char *rig_panel_verdict_text(rig_panel_verdict verdict)
{
	static const char *const TEXT[] = {"as it should be", "low", "dead", "high", "not decided",
		"not decided: the battery is full", "not decided: no place"};
	return TEXT[verdict];
}

const char *rig_row_use_text(rig_row_use use)
{
	static const char *const TEXT[] = {"used", "nothing that draws there was on",
		"a load of unknown leg was on", "the coach has no such leg",
		"the bank was being charged", "charged, and nobody says by what",
		"a timed discharge", "no battery is listed that it could be of",
		"set aside: the others contradict it"};
	return TEXT[use];
}
