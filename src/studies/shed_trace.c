/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The record of one day: counted first, then written into room for as much. */
#include "studies/shed_course.h"

static rig_shed_state state_of(const shed_unit_state *unit)
{
	if (unit->running)
		return RIG_SHED_RUNS;
	return unit->wanting ? RIG_SHED_HELD_OFF : RIG_SHED_DROPPED;
}

void shed_trace_span(const shed_run *run, const shed_state *state, size_t u)
{
	shed_trace *trace = run->trace;
	const shed_unit_state *unit = &state->unit[u];
	if (!unit->running && !unit->dropped && !unit->wanting)
		return;
	if (trace->n_spans < trace->spans_room)
		trace->spans[trace->n_spans] =
			(rig_shed_span){(int)u, state_of(unit), unit->since_s, state->now_s};
	trace->n_spans++;
}

void shed_trace_amps(const shed_run *run, const shed_state *state)
{
	shed_trace *trace = run->trace;
	if (trace->n_points < trace->points_room) {
		rig_shed_point *point = &trace->points[trace->n_points];
		*point = (rig_shed_point){.at_s = state->now_s};
		for (int h = 0; h < run->model->n_hots; h++) {
			point->amps_a[h] = state->hot[h].amps_a;
			point->volts_v[h] = state->volts.leg_v[h];
		}
	}
	trace->n_points++;
}

void shed_trace_trip(const shed_run *run, const shed_state *state)
{
	shed_trace *trace = run->trace;
	if (trace->n_trips < trace->trips_room)
		trace->trip_s[trace->n_trips] = state->now_s;
	trace->n_trips++;
}

void shed_trace_run(const shed_run *run, double from_s, double to_s)
{
	shed_trace *trace = run->trace;
	if (trace->n_runs < trace->runs_room)
		trace->runs[trace->n_runs] = (rig_shed_generator_run){from_s, to_s};
	trace->n_runs++;
}
