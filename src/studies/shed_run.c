/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A day from event to event: between two events everything has a closed form. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include "studies/shed_course.h"
#include "studies/shed_volts.h"

/* After a trip: somebody notices, lets it cool and resets it (common practice, no source). */
static const double DARK_S = 900.0;

/* ---- bodies ---- */

/* Books a body up to now; its temperature becomes that of now. */
static void settle_body(const shed_run *run, shed_state *state, size_t b)
{
	const shed_body *body = &run->model->bodies[b];
	shed_body_state *warmth = &state->body[b];
	const double seconds = state->now_s - warmth->since_s;
	if (seconds <= 0)
		return;
	const double from_c = warmth->temp_c;
	const rig_warmth_course *course = &warmth->course;
	const double to_c = rig_warmth_after_c(course, from_c, seconds);
	if (from_c > body->above_c || to_c > body->above_c)
		warmth->outside_k_s += rig_warmth_above_k_s(course, from_c, body->above_c, seconds);
	if (from_c < body->below_c || to_c < body->below_c)
		warmth->outside_k_s += rig_warmth_below_k_s(course, from_c, body->below_c, seconds);
	if (warmth->flowing) {
		warmth->litres += body->flow_l_s * seconds;
		double cold_s = from_c < body->cold_c ? seconds : 0;
		if ((from_c < body->cold_c) != (to_c < body->cold_c)) {
			const double reach_s = rig_warmth_reach_s(course, from_c, body->cold_c);
			cold_s = fmin(seconds, from_c < body->cold_c ? reach_s : seconds - reach_s);
		}
		warmth->cold_litres += body->flow_l_s * fmax(0, cold_s);
	}
	warmth->temp_c = to_c;
	warmth->since_s = state->now_s;
}

/* Seconds until a unit's thermostat acts; 0 if it should have. */
static double thermostat_s(
	const shed_unit *unit, const shed_unit_state *now, const shed_body_state *warmth)
{
	const double sign = unit->on_c > unit->off_c ? 1 : -1; /* cools: calls when warm */
	const double threshold_c = now->calling ? unit->off_c : unit->on_c;
	const double to_go_k =
		sign * (now->calling ? warmth->temp_c - threshold_c : threshold_c - warmth->temp_c);
	if (to_go_k <= 0)
		return 0;
	return rig_warmth_reach_s(&warmth->course, warmth->temp_c, threshold_c);
}

/* A body's course from now on, after its inputs have changed. */
static void turn_body(const shed_run *run, shed_state *state, size_t b)
{
	const shed_model *model = run->model;
	const shed_body *body = &model->bodies[b];
	shed_body_state *warmth = &state->body[b];
	settle_body(run, state, b);
	rig_heat_inputs inputs = {.surroundings_c = body->surroundings_c,
		.flow_l_s = warmth->flowing ? body->flow_l_s : 0,
		.inflow_c = body->inflow_c};
	if (body->kind == SHED_ZONE) {
		inputs.surroundings_c = run->day->outdoor_c[state->slot];
		inputs.heat_w = body->sun_share * (run->day->sun_w[state->slot] + model->inside_w);
	}
	for (size_t i = 0; i < body->n_units; i++)
		if (state->unit[body->unit[i]].running)
			inputs.heat_w += model->units[body->unit[i]].heat_w;
	warmth->course = rig_warmth_course_of(&body->warm, &inputs);
	double soonest_s = INFINITY;
	for (size_t i = 0; i < body->n_units; i++) {
		const int u = body->unit[i];
		const double seconds = thermostat_s(&model->units[u], &state->unit[u], warmth);
		if (seconds < soonest_s) {
			soonest_s = seconds;
			warmth->flips = u;
		}
	}
	state->due_s[shed_due_body(model, b)] = state->now_s + soonest_s;
}

/* ---- units ---- */

static void settle_unit(const shed_run *run, shed_state *state, size_t u)
{
	shed_unit_state *unit = &state->unit[u];
	const double seconds = state->now_s - unit->since_s;
	if (seconds <= 0)
		return;
	if (run->trace)
		shed_trace_span(run, state, u);
	const double joules = seconds * unit->level * run->model->units[u].watts_w;
	if (unit->running) {
		unit->served_s += seconds;
		unit->served_j += joules;
	} else if (unit->wanting) {
		unit->held_s += seconds;
		unit->held_j += joules;
	}
	unit->since_s = state->now_s;
}

/* The charger's stage ends when it has run for so long. */
static void time_stage(const shed_run *run, shed_state *state, size_t u, bool was_running)
{
	shed_unit_state *unit = &state->unit[u];
	if (run->model->units[u].behaviour != RIG_SHED_CHARGES ||
		unit->at + 1 == run->model->stages.n)
		return;
	if (was_running && !unit->running)
		unit->left_s = fmax(0, unit->switch_s - state->now_s);
	if (!was_running && unit->running)
		unit->switch_s = state->now_s + unit->left_s;
}

void shed_refresh_unit(const shed_run *run, shed_state *state, size_t u)
{
	const shed_unit *what = &run->model->units[u];
	shed_unit_state *unit = &state->unit[u];
	const bool locked = state->now_s < unit->unlock_s;
	/* a charger asks for nothing where there is nothing but its own bank */
	const bool asking = unit->calling && (what->behaviour != RIG_SHED_CHARGES || state->dark ||
						     shed_is_fed(run, state, u));
	const bool wanting = asking && !(locked && !unit->forced);
	const bool running =
		unit->calling && !locked && !unit->dropped && shed_is_fed(run, state, u);
	const bool was_running = unit->running;
	settle_unit(run, state, u);
	if (was_running && !running) {
		unit->forced = unit->calling;
		if (what->compressor)
			unit->unlock_s = state->now_s + run->model->manager.minimum_off_s;
	}
	unit->wanting = wanting;
	unit->running = running;
	time_stage(run, state, u, was_running);
	const bool stands = what->behaviour == RIG_SHED_CHARGES &&
			    unit->at + 1 < run->model->stages.n && !running;
	double due_s = stands ? INFINITY : unit->switch_s;
	if (unit->calling && !running && state->now_s < unit->unlock_s)
		due_s = fmin(due_s, unit->unlock_s);
	state->due_s[u] = due_s;
	if (was_running == running)
		return;
	state->amps_stale = true;
	if (what->body >= 0)
		turn_body(run, state, (size_t)what->body);
}

static void enter_stage(const shed_run *run, shed_state *state, size_t u, size_t stage)
{
	shed_unit_state *unit = &state->unit[u];
	settle_unit(run, state, u);
	unit->at = stage;
	unit->level = run->model->stages.level[stage];
	unit->left_s = stage + 1 < run->model->stages.n ? run->day->stage_s[stage] : INFINITY;
	unit->switch_s = state->now_s + unit->left_s;
	state->amps_stale = true;
}

/* Before it is plugged in, the charger is in its last stage. */
static void begin_charger(const shed_run *run, shed_state *state, size_t u)
{
	shed_unit_state *unit = &state->unit[u];
	enter_stage(run, state, u, run->model->stages.n - 1);
	unit->switch_s = run->model->stages.n > 1 ? run->model->charge_from_s : INFINITY;
	unit->calling = true;
}

static void unit_event(const shed_run *run, shed_state *state, size_t u)
{
	shed_unit_state *unit = &state->unit[u];
	if (state->now_s >= unit->switch_s) {
		if (run->model->units[u].behaviour == RIG_SHED_CHARGES) {
			const bool plugged_in = unit->at + 1 == run->model->stages.n;
			enter_stage(run, state, u, plugged_in ? 0 : unit->at + 1);
		} else {
			settle_unit(run, state, u);
			unit->calling = !unit->calling;
			unit->at++;
			unit->switch_s = unit->at < run->day->n_unit_s[u]
						 ? run->day->unit_s[u][unit->at]
						 : INFINITY;
		}
	}
	shed_refresh_unit(run, state, u);
}

/* ---- events ---- */

static void thermostat_event(const shed_run *run, shed_state *state, size_t b)
{
	settle_body(run, state, b);
	shed_unit_state *unit = &state->unit[state->body[b].flips];
	settle_unit(run, state, (size_t)state->body[b].flips);
	unit->calling = !unit->calling;
	shed_refresh_unit(run, state, (size_t)state->body[b].flips);
	turn_body(run, state, b);
}

static void flow_event(const shed_run *run, shed_state *state, size_t b)
{
	shed_body_state *warmth = &state->body[b];
	settle_body(run, state, b);
	warmth->flowing = !warmth->flowing;
	warmth->at++;
	state->due_s[shed_due_flow(run->model, b)] =
		warmth->at < run->day->n_body_s[b] ? run->day->body_s[b][warmth->at] : INFINITY;
	turn_body(run, state, b);
}

static void slot_event(const shed_run *run, shed_state *state)
{
	double *due_s = &state->due_s[shed_due_single(run->model, SHED_DUE_SLOT)];
	if (state->now_s > 0)
		state->slot++;
	*due_s =
		state->slot + 1 < SHED_N_SLOTS ? (state->slot + 1) * (double)SHED_SLOT_S : INFINITY;
	double indoor_c = NAN;
	for (size_t b = 0; b < run->model->n_bodies; b++) {
		const shed_body *body = &run->model->bodies[b];
		if (body->kind != SHED_ZONE)
			continue;
		turn_body(run, state, b);
		const double temp_c = state->body[b].temp_c;
		const bool cools = isfinite(body->above_c);
		if (isnan(indoor_c) || (cools ? temp_c > indoor_c : temp_c < indoor_c))
			indoor_c = temp_c;
	}
	if (run->trace)
		run->trace->weather[state->slot] = (rig_shed_weather_point){
			state->now_s, run->day->outdoor_c[state->slot], indoor_c};
}

static void refresh_all(const shed_run *run, shed_state *state)
{
	for (size_t u = 0; u < run->model->n_units; u++)
		shed_refresh_unit(run, state, u);
}

static void light_event(const shed_run *run, shed_state *state)
{
	state->due_s[shed_due_single(run->model, SHED_DUE_LIGHT)] = INFINITY;
	state->dark = false;
	state->amps_stale = true;
	refresh_all(run, state);
}

/* The poles of a breaker open together. */
static void trip_event(const shed_run *run, shed_state *state, int kind)
{
	shed_breaker_state *breaker = &state->breaker[kind];
	breaker->n_trips++;
	breaker->rearmed_s = state->now_s + DARK_S;
	for (int h = 0; h < RIG_SHED_MAX_HOTS; h++) {
		breaker->heat_ratio[h] = 0;
		state->due_s[shed_due_single(
			run->model, SHED_DUE_BREAKER + kind * RIG_SHED_MAX_HOTS + h)] = INFINITY;
	}
	state->amps_stale = true;
	if (kind != RIG_BREAKER_LIKELY)
		return;
	if (run->trace)
		shed_trace_trip(run, state);
	state->dark = true;
	state->dark_until_s = state->now_s + DARK_S;
	state->due_s[shed_due_single(run->model, SHED_DUE_LIGHT)] = state->dark_until_s;
	refresh_all(run, state);
}

static void single_event(const shed_run *run, shed_state *state, size_t which)
{
	state->due_s[shed_due_single(run->model, (int)which)] = INFINITY;
	switch (which) {
	case SHED_DUE_SLOT:
		slot_event(run, state);
		break;
	case SHED_DUE_LIGHT:
		light_event(run, state);
		break;
	case SHED_DUE_END:
		state->done = true;
		break;
	case SHED_DUE_MANAGER:
	case SHED_DUE_SOURCE:
		break; /* they look at every event */
	default:
		trip_event(run, state, (int)(which - SHED_DUE_BREAKER) / RIG_SHED_MAX_HOTS);
	}
}

static void event(const shed_run *run, shed_state *state, size_t i)
{
	const shed_model *model = run->model;
	if (i < model->n_units)
		unit_event(run, state, i);
	else if (i < shed_due_flow(model, 0))
		thermostat_event(run, state, i - shed_due_body(model, 0));
	else if (i < shed_due_single(model, 0))
		flow_event(run, state, i - shed_due_flow(model, 0));
	else
		single_event(run, state, i - shed_due_single(model, 0));
}

/* ---- amps ---- */

static void book_amps(const shed_run *run, shed_state *state, double seconds)
{
	const double limit_a = shed_limit_a(run, state);
	for (int h = 0; h < run->model->n_hots; h++) {
		shed_hot_state *hot = &state->hot[h];
		hot->peak_a = fmax(hot->peak_a, hot->amps_a);
		if (hot->amps_a > limit_a + 1e-9) {
			hot->over_s += seconds;
			hot->helpless_s += hot->helpless ? seconds : 0;
		}
		if (!run->tally)
			continue;
		const double bin = hot->amps_a / SHED_BIN_A;
		run->tally->bin_s[h][bin < SHED_N_BINS - 1 ? (int)bin : SHED_N_BINS - 1] += seconds;
		run->tally->amp_s[h] += seconds * hot->amps_a;
	}
}

/* Strips warm with the amps that were, from when they were armed. */
static void warm_breakers(const shed_run *run, shed_state *state)
{
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		shed_breaker_state *now = &state->breaker[k];
		const double from_s = fmax(state->amps_since_s, now->rearmed_s);
		const double seconds = state->now_s - from_s;
		if (seconds <= 0)
			continue;
		for (int h = 0; h < run->model->n_hots; h++)
			now->heat_ratio[h] = rig_breaker_heat_ratio(&shed_breakers(run, state)[k],
				now->heat_ratio[h], state->hot[h].amps_a, seconds);
	}
}

/* fresh: the amps have just become what they are. */
static void time_breakers(const shed_run *run, shed_state *state, bool fresh)
{
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		for (int h = 0; h < run->model->n_hots; h++) {
			shed_breaker_state *now = &state->breaker[k];
			const double seconds = rig_breaker_trip_s(&shed_breakers(run, state)[k],
				now->heat_ratio[h], state->hot[h].amps_a);
			if (fresh)
				now->soonest_s = fmin(now->soonest_s, seconds);
			state->due_s[shed_due_single(
				run->model, SHED_DUE_BREAKER + k * RIG_SHED_MAX_HOTS + h)] =
				fmax(state->now_s, now->rearmed_s) + seconds;
		}
}

static double hot_amps(const shed_run *run, const shed_state *state, int hot)
{
	if (state->dark)
		return 0;
	shed_amps sum = {0, 0};
	for (size_t u = 0; u < run->model->n_units; u++) {
		const shed_unit_state *unit = &state->unit[u];
		if (!unit->running)
			continue;
		sum.active_a += unit->level * run->model->units[u].hot[hot].active_a;
		sum.reactive_a += unit->level * run->model->units[u].hot[hot].reactive_a;
	}
	return sqrt(sum.active_a * sum.active_a + sum.reactive_a * sum.reactive_a);
}

void shed_refresh_amps(const shed_run *run, shed_state *state)
{
	if (!state->amps_stale)
		return;
	const double seconds = state->now_s - state->amps_since_s;
	if (seconds > 0) {
		book_amps(run, state, seconds);
		if (run->tally)
			shed_book_volts(run, state, seconds);
		if (!run->free)
			warm_breakers(run, state);
	}
	state->amps_since_s = state->now_s;
	state->amps_stale = false;
	bool fresh = false;
	for (int h = 0; h < run->model->n_hots; h++) {
		const double before_a = state->hot[h].amps_a;
		state->hot[h].amps_a = hot_amps(run, state, h);
		fresh |= state->hot[h].amps_a != before_a;
	}
	if (!run->free)
		time_breakers(run, state, fresh);
	if (run->tally || run->trace)
		shed_refresh_volts(run, state);
	if (run->trace)
		shed_trace_amps(run, state);
}

/* ---- the day ---- */

void shed_begin(const shed_run *run, shed_state *state)
{
	const shed_model *model = run->model;
	shed_unit_state *unit = state->unit;
	shed_body_state *body = state->body;
	double *due_s = state->due_s;
	const size_t n_due = state->n_due;
	*state = (shed_state){.restored_s = -INFINITY,
		.unit = unit,
		.body = body,
		.due_s = due_s,
		.n_due = n_due};
	for (size_t i = 0; i < n_due; i++)
		due_s[i] = INFINITY;
	for (int h = 0; h < RIG_SHED_MAX_HOTS; h++)
		state->hot[h].drop_due_s = INFINITY;
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		state->breaker[k].soonest_s = INFINITY;
	for (size_t b = 0; b < model->n_bodies; b++) {
		body[b] = (shed_body_state){.temp_c = run->day->start_c[b]};
		if (run->day->n_body_s[b] > 0)
			due_s[shed_due_flow(model, b)] = run->day->body_s[b][0];
	}
	for (size_t u = 0; u < model->n_units; u++) {
		unit[u] = (shed_unit_state){.calling = run->day->calls[u],
			.level = 1,
			.unlock_s = -INFINITY,
			.switch_s = run->day->n_unit_s[u] > 0 ? run->day->unit_s[u][0] : INFINITY};
		if (model->units[u].behaviour == RIG_SHED_CHARGES)
			begin_charger(run, state, u);
	}
	for (size_t b = 0; b < model->n_bodies; b++)
		turn_body(run, state, b);
	refresh_all(run, state);
	due_s[shed_due_single(model, SHED_DUE_SLOT)] = 0;
	due_s[shed_due_single(model, SHED_DUE_END)] = SHED_DAY_S;
	state->amps_stale = true;
}

static size_t next_due(const shed_state *state)
{
	size_t next = 0;
	for (size_t i = 1; i < state->n_due; i++)
		if (state->due_s[i] < state->due_s[next])
			next = i;
	return next;
}

static void finish(const shed_run *run, shed_state *state)
{
	shed_end_run(run, state);
	for (size_t u = 0; u < run->model->n_units; u++)
		settle_unit(run, state, u);
	for (size_t b = 0; b < run->model->n_bodies; b++)
		settle_body(run, state, b);
	state->amps_stale = true;
	shed_refresh_amps(run, state);
	for (int h = 0; h < run->model->n_hots; h++)
		if (state->hot[h].over && !state->hot[h].helpless)
			state->hot[h].longest_over_s = fmax(state->hot[h].longest_over_s,
				state->now_s - state->hot[h].over_from_s);
}

shed_outcome shed_advance(const shed_run *run, shed_state *state)
{
	size_t i = next_due(state);
	while (!state->done) {
		/* All that happens at one moment, then the manager looks. */
		while (state->due_s[i] <= state->now_s) {
			event(run, state, i);
			i = next_due(state);
		}
		if (state->done)
			break;
		const shed_outcome outcome = shed_manage(run, state);
		if (outcome != SHED_DONE)
			return outcome;
		i = next_due(state);
		state->now_s = fmax(state->now_s, state->due_s[i]);
	}
	finish(run, state);
	return SHED_DONE;
}
