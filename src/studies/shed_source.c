/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inverter, and the generator that starts by itself when much runs. */
#include <math.h>

#include "studies/shed_course.h"

static const double DAY_S = SHED_DAY_S;

static double running_w(const shed_run *run, const shed_state *state)
{
	double sum_w = 0;
	for (size_t u = 0; u < run->model->n_units; u++)
		if (state->unit[u].running && run->model->units[u].behaviour != RIG_SHED_CHARGES)
			sum_w += state->unit[u].level * run->model->units[u].watts_w;
	return sum_w;
}

/* The first moment from at_s on that is not in quiet hours; INFINITY if not that day. */
static double when_loud(const shed_sources *sources, double at_s)
{
	const double from_s = sources->quiet_s[0], to_s = sources->quiet_s[1];
	if (from_s == to_s || !isfinite(at_s))
		return at_s;
	if (from_s < to_s)
		return at_s >= from_s && at_s < to_s ? to_s : at_s;
	return at_s < to_s ? to_s : at_s >= from_s ? INFINITY : at_s;
}

/* When quiet hours begin next. */
static double when_quiet(const shed_sources *sources, double at_s)
{
	if (sources->quiet_s[0] == sources->quiet_s[1] || sources->quiet_s[0] < at_s)
		return INFINITY;
	return sources->quiet_s[0];
}

static double next_change_s(const shed_run *run, const shed_state *state)
{
	const shed_sources *sources = &run->model->sources;
	const double since_s = state->much_since_s + sources->start_s;
	if (!state->on_generator)
		return state->much ? when_loud(sources, since_s) : INFINITY;
	const double enough_s = state->started_s + sources->minimum_run_s;
	return fmin(when_quiet(sources, state->started_s),
		state->much ? INFINITY : fmax(enough_s, since_s));
}

void shed_end_run(const shed_run *run, shed_state *state)
{
	if (!state->on_generator)
		return;
	const double to_s = fmin(state->now_s, DAY_S);
	state->generator_s += to_s - state->started_s;
	if (run->trace && to_s > state->started_s)
		shed_trace_run(run, state->started_s, to_s);
}

/* Its breaker is another one, and cold. */
static void change_over(const shed_run *run, shed_state *state)
{
	state->amps_stale = true; /* books what was */
	shed_refresh_amps(run, state);
	shed_end_run(run, state);
	state->on_generator = !state->on_generator;
	state->started_s = state->now_s;
	state->n_starts += state->on_generator;
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		for (int h = 0; h < RIG_SHED_MAX_HOTS; h++)
			state->breaker[k].heat_ratio[h] = 0;
	for (size_t u = 0; u < run->model->n_units; u++)
		shed_refresh_unit(run, state, u);
	state->amps_stale = true;
	shed_refresh_amps(run, state);
}

static void note_load(const shed_run *run, shed_state *state)
{
	const bool much = running_w(run, state) >= run->model->sources.start_w;
	if (much == state->much)
		return;
	state->much = much;
	state->much_since_s = state->now_s;
}

void shed_choose_source(const shed_run *run, shed_state *state)
{
	double *due_s = &state->due_s[shed_due_single(run->model, SHED_DUE_SOURCE)];
	if (!run->model->sources.auto_start)
		return;
	note_load(run, state);
	if (next_change_s(run, state) <= state->now_s) {
		change_over(run, state);
		note_load(run, state);
	}
	*due_s = next_change_s(run, state);
}
