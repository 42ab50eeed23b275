/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_show.h"

#include <stdlib.h>

static int by_load_and_time(const void *a, const void *b)
{
	const rig_shed_span *x = a, *y = b;
	if (x->load != y->load)
		return x->load < y->load ? -1 : 1;
	return (x->from_s > y->from_s) - (x->from_s < y->from_s);
}

/* Loads only, each in time; spans that follow each other in one state are one. */
static size_t tidy_spans(rig_shed_span *spans, size_t n, size_t n_loads)
{
	qsort(spans, n, sizeof *spans, by_load_and_time);
	size_t kept = 0;
	for (size_t i = 0; i < n; i++) {
		rig_shed_span *last = kept > 0 ? &spans[kept - 1] : NULL;
		if ((size_t)spans[i].load >= n_loads)
			continue;
		if (last && last->load == spans[i].load && last->state == spans[i].state &&
			last->to_s == spans[i].from_s)
			last->to_s = spans[i].to_s;
		else
			spans[kept++] = spans[i];
	}
	return kept;
}

/* The last point of each moment, where it differs from the one before. */
static size_t tidy_points(rig_shed_point *points, size_t n)
{
	size_t kept = 0;
	for (size_t i = 0; i < n; i++) {
		if (i + 1 < n && points[i + 1].at_s == points[i].at_s)
			continue;
		const rig_shed_point *last = kept > 0 ? &points[kept - 1] : NULL;
		if (last && last->amps_a[0] == points[i].amps_a[0] &&
			last->amps_a[1] == points[i].amps_a[1] &&
			last->volts_v[0] == points[i].volts_v[0] &&
			last->volts_v[1] == points[i].volts_v[1])
			continue;
		points[kept++] = points[i];
	}
	return kept;
}

static rig_status run_once(const shed_model *model, const shed_day *day, const shed_order *order,
	rig_arena *arena, shed_trace *trace)
{
	shed_state *state = NULL;
	const rig_status status = shed_state_new(model, arena, &state);
	if (status != RIG_OK)
		return status;
	const shed_run run = {model, day, order, false, NULL, trace};
	shed_begin(&run, state);
	(void)shed_advance(&run, state);
	return RIG_OK;
}

rig_status shed_show(const shed_model *model, const shed_day *day, const shed_order *order,
	rig_arena *arena, rig_shed_findings *findings)
{
	shed_trace *trace = rig_arena_take(arena, 1, sizeof *trace);
	rig_status status = trace ? run_once(model, day, order, arena, trace) : RIG_NO_MEMORY;
	if (status != RIG_OK)
		return status;
	trace->spans_room = trace->n_spans;
	trace->points_room = trace->n_points;
	trace->trips_room = trace->n_trips;
	trace->runs_room = trace->n_runs;
	trace->runs = rig_arena_take(arena, trace->n_runs, sizeof *trace->runs);
	trace->spans = rig_arena_take(arena, trace->n_spans, sizeof *trace->spans);
	trace->points = rig_arena_take(arena, trace->n_points, sizeof *trace->points);
	trace->trip_s = rig_arena_take(arena, trace->n_trips, sizeof *trace->trip_s);
	if (!trace->spans || !trace->points || !trace->trip_s || !trace->runs)
		return RIG_NO_MEMORY;
	trace->n_spans = trace->n_points = trace->n_trips = trace->n_runs = 0;
	status = run_once(model, day, order, arena, trace);
	if (status != RIG_OK)
		return status;
	rig_shed_shown *shown = &findings->shown;
	shown->n_spans = tidy_spans(trace->spans, trace->n_spans, findings->n_loads);
	shown->spans = trace->spans;
	shown->n_points = tidy_points(trace->points, trace->n_points);
	shown->points = trace->points;
	shown->n_trips = trace->n_trips;
	shown->trip_s = trace->trip_s;
	shown->n_runs = trace->n_runs;
	shown->runs = trace->runs;
	shown->n_weather = SHED_N_SLOTS;
	shown->weather = trace->weather;
	return RIG_OK;
}
