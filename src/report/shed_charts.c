/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shown day of shedding as charts: what runs, its amps, its volts. */
#include "shed_words.h"

#include <math.h>

/* Smaller loads have no lane of their own unless they are held off. */
static const double LANE_LEAST_W = 100.0;

static const double S_PER_H = 3600.0;

/* One load's stretches on the shown day; gives how many. */
static size_t stretches_of(
	const rig_shed_findings *findings, int load, rig_stretch *stretches, bool *held)
{
	static const rig_bar_state STATE[] = {RIG_BAR_HOLDS, RIG_BAR_FAILS, RIG_BAR_CLOSE};
	size_t n = 0;
	for (size_t i = 0; i < findings->shown.n_spans; i++) {
		const rig_shed_span *span = &findings->shown.spans[i];
		if (span->load != load || span->to_s <= span->from_s)
			continue;
		*held = *held || span->state == RIG_SHED_HELD_OFF;
		stretches[n++] = (rig_stretch){
			span->from_s / S_PER_H, span->to_s / S_PER_H, STATE[span->state]};
	}
	return n;
}

/* The generator's lane, where it starts by itself; gives how many stretches. */
static size_t put_generator(
	const rig_shed_findings *findings, rig_lane *lane, rig_stretch *stretches)
{
	const rig_shed_shown *shown = &findings->shown;
	for (size_t i = 0; i < shown->n_runs; i++)
		stretches[i] = (rig_stretch){shown->runs[i].from_s / S_PER_H,
			shown->runs[i].to_s / S_PER_H, RIG_BAR_HOLDS};
	*lane = (rig_lane){"Generator, by itself", shown->n_runs, stretches};
	return shown->n_runs;
}

static void add_lanes_chart(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_lane *lanes = rig_arena_take(writer->arena, findings->n_loads + 1, sizeof *lanes);
	rig_stretch *stretches = rig_arena_take(
		writer->arena, findings->shown.n_spans + findings->shown.n_runs, sizeof *stretches);
	if (lanes == NULL || stretches == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n_lanes = 0;
	size_t n_used = 0;
	if (findings->generator.auto_start)
		n_used = put_generator(findings, &lanes[n_lanes++], stretches);
	for (size_t i = 0; i < findings->n_loads; i++) {
		const rig_shed_load *load = &findings->loads[i];
		bool held = false;
		const size_t n = stretches_of(findings, (int)i, &stretches[n_used], &held);
		if (n == 0 || (load->watts_w < LANE_LEAST_W && !held))
			continue;
		lanes[n_lanes++] =
			(rig_lane){rig_capital(writer, rig_load_said(writer, load->load)), n,
				&stretches[n_used]};
		n_used += n;
	}
	const rig_chart chart = {.kind = RIG_CHART_LANES,
		.title = rig_said(writer,
			"What runs on %s hour by hour, on the middle one of %zu %s",
			rig_shed_supply_said(writer, findings), findings->n_days,
			rig_shed_days_said(findings)),
		.quantity = "time of the day",
		.unit = "h",
		.x_quantity = "hour of the day",
		.state_text = {"", "runs", "switched off, not asked for", "wanted, not running"},
		.x_first = 0.0,
		.x_last = 24.0,
		.x_step = 4.0,
		.n_lanes = n_lanes,
		.lanes = lanes};
	rig_add_chart(writer->document, &chart);
}

enum { BINS = 48, POINTS = BINS + 2, MOST_LINES = RIG_SHED_MAX_HOTS + 1 };

/* What is read off a point, and whether it counts. */
typedef bool reading(const rig_shed_point *point, int hot, double *value);

static bool read_amps(const rig_shed_point *point, int hot, double *value)
{
	*value = point->amps_a[hot];
	return true;
}

/* A dark time has no volts to judge. */
static bool read_volts(const rig_shed_point *point, int hot, double *value)
{
	*value = point->volts_v[hot];
	return *value > 0;
}

/* A figure of a hot over a stretch of the shown day, mean with the least and the most; false if no
 * point of it counts. */
static bool span_of(const rig_shed_shown *shown, reading *figure, int hot, const double bounds_s[2],
	rig_span *span)
{
	static const double DAY_S = 86400.0;
	double sum = 0.0, sum_s = 0.0;
	*span = (rig_span){HUGE_VAL, 0.0, 0.0};
	for (size_t i = 0; i < shown->n_points && shown->points[i].at_s < bounds_s[1]; i++) {
		const double end_s = i + 1 < shown->n_points ? shown->points[i + 1].at_s : DAY_S;
		const double overlap_s =
			fmin(end_s, bounds_s[1]) - fmax(shown->points[i].at_s, bounds_s[0]);
		double value;
		if (overlap_s <= 0.0 || !figure(&shown->points[i], hot, &value))
			continue;
		span->low = fmin(span->low, value);
		span->high = fmax(span->high, value);
		sum += value * overlap_s;
		sum_s += overlap_s;
	}
	if (sum_s <= 0.0)
		return false;
	/* the mean of a constant may round past it */
	span->likely = fmax(span->low, fmin(span->high, sum / sum_s));
	return true;
}

/* The half hours as points in their middles, with the day's two ends; one without a figure is as
 * the one before. False if there is none for the first. */
static bool line_of(
	const rig_shed_shown *shown, reading *figure, int hot, double x[POINTS], rig_span y[POINTS])
{
	static const double BIN_S = 1800.0;
	for (int i = 0; i < BINS; i++) {
		const double bounds_s[2] = {BIN_S * i, BIN_S * (i + 1)};
		x[i + 1] = (i + 0.5) * BIN_S / S_PER_H;
		if (span_of(shown, figure, hot, bounds_s, &y[i + 1]))
			continue;
		if (i == 0)
			return false;
		y[i + 1] = y[i];
	}
	x[0] = 0.0;
	y[0] = y[1];
	x[POINTS - 1] = 24.0;
	y[POINTS - 1] = y[POINTS - 2];
	return true;
}

/* A line for each hot, and a level. */
typedef struct {
	double x[RIG_SHED_MAX_HOTS][POINTS];
	rig_span y[RIG_SHED_MAX_HOTS][POINTS];
	rig_line lines[MOST_LINES];
} day_lines;

static bool draw_day(rig_writer *writer, const rig_shed_findings *findings, reading *figure,
	const rig_line *level, day_lines *to)
{
	for (int i = 0; i < findings->n_hots; i++) {
		if (!line_of(&findings->shown, figure, i, to->x[i], to->y[i]))
			return false;
		to->lines[i] =
			(rig_line){findings->n_hots == 1 ? "the coach"
							 : rig_shed_hot_said(writer, findings, i),
				POINTS, to->x[i], to->y[i], false};
	}
	to->lines[findings->n_hots] = *level;
	return true;
}

static void add_amps_chart(rig_writer *writer, const rig_shed_findings *findings)
{
	static const double ENDS[2] = {0.0, 24.0};
	const double limit_a = findings->manager.limit_a;
	const rig_span limit[2] = {{limit_a, limit_a, limit_a}, {limit_a, limit_a, limit_a}};
	const rig_line level = {findings->inverter ? "inverter" : "limit", 2, ENDS, limit, true};
	day_lines day;
	if (!draw_day(writer, findings, read_amps, &level, &day))
		return;
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.title = "Amps on that day against the limit",
		.quantity = "current by half hours, mean with least and most",
		.unit = "A",
		.x_quantity = "hour of the day",
		.x_step = 4.0,
		.tells_highest = true,
		.n_lines = (size_t)findings->n_hots + 1,
		.lines = day.lines};
	rig_add_chart(writer->document, &chart);
}

/* The next ten volts under all that is drawn. */
static double bottom_of(const day_lines *day, int n_hots, double level_v)
{
	static const double STEP_V = 10.0;
	double lowest_v = level_v;
	for (int h = 0; h < n_hots; h++)
		for (int i = 0; i < POINTS; i++)
			lowest_v = fmin(lowest_v, day->y[h][i].low);
	return fmax(0.0, STEP_V * (ceil(lowest_v / STEP_V) - 1.0));
}

static void add_volts_chart(rig_writer *writer, const rig_shed_findings *findings)
{
	static const double ENDS[2] = {0.0, 24.0};
	const double floor_v = RIG_COMPRESSOR_FLOOR_V;
	const rig_span least[2] = {{floor_v, floor_v, floor_v}, {floor_v, floor_v, floor_v}};
	const rig_line level = {"least for compressors", 2, ENDS, least, true};
	day_lines day;
	if (!findings->has_volts || !draw_day(writer, findings, read_volts, &level, &day))
		return;
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.title = "Volts at the coach on that day",
		.quantity = "hot to neutral by half hours, mean with least and most",
		.unit = "V",
		.x_quantity = "hour of the day",
		.x_step = 4.0,
		.y_bottom = bottom_of(&day, findings->n_hots, floor_v),
		.n_lines = (size_t)findings->n_hots + 1,
		.lines = day.lines};
	rig_add_chart(writer->document, &chart);
}

void rig_shed_charts(rig_writer *writer, const rig_shed_findings *findings)
{
	add_lanes_chart(writer, findings);
	if (writer->brief || findings->shown.n_points == 0)
		return;
	add_amps_chart(writer, findings);
	add_volts_chart(writer, findings);
}
