/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The energy manager: which load goes off, and when one comes back. */
#include <math.h>

#include "studies/shed_course.h"

/* Amps that rounding may add to a sum. */
static const double ROUNDING_A = 1e-9;
static const double HOUR_S = 3600.0;

static uint64_t bit(int g)
{
	return (uint64_t)1 << g;
}

static bool draws_on(const shed_unit *unit, int hot)
{
	return unit->hot[hot].active_a > 0 || unit->hot[hot].reactive_a > 0;
}

static void end_stretch(shed_hot_state *hot, double now_s)
{
	if (!hot->helpless)
		hot->longest_over_s = fmax(hot->longest_over_s, now_s - hot->over_from_s);
}

/* Starts and stops the watch on each hot. */
static void watch(const shed_run *run, shed_state *state)
{
	const rig_shed_manager *manager = &run->model->manager;
	const double limit_a = shed_limit_a(run, state);
	for (int h = 0; h < run->model->n_hots; h++) {
		shed_hot_state *hot = &state->hot[h];
		const bool over = hot->amps_a > limit_a + ROUNDING_A;
		if (over && !hot->over) {
			hot->over_from_s = state->now_s;
			hot->drop_due_s = state->now_s + manager->sensing_delay_s;
			hot->helpless = !manager->present;
		}
		if (!over && hot->over) {
			end_stretch(hot, state->now_s);
			hot->helpless = false;
			hot->drop_due_s = INFINITY;
		}
		hot->over = over;
	}
}

static uint64_t droppable(const shed_run *run, const shed_state *state, int hot)
{
	uint64_t set = 0;
	for (size_t u = 0; u < run->model->n_units; u++) {
		const shed_unit *unit = &run->model->units[u];
		if (unit->group >= 0 && state->unit[u].running && draws_on(unit, hot))
			set |= bit(unit->group);
	}
	return set;
}

/* Opens the relay, and learns the draw from what the meter then shows less. */
static void drop(const shed_run *run, shed_state *state, int group)
{
	const shed_model *model = run->model;
	const size_t u = model->group_unit[group];
	shed_unit_state *unit = &state->unit[u];
	double before_a[RIG_SHED_MAX_HOTS] = {0};
	for (int h = 0; h < model->n_hots; h++)
		before_a[h] = state->hot[h].amps_a;
	unit->dropped = true;
	unit->drop_s[unit->n_drops % model->manager.most_drops] = state->now_s;
	unit->n_drops++;
	state->dropped |= bit(group);
	const int hour = (int)(state->now_s / HOUR_S);
	state->hour_drops[hour < 24 ? hour : 23]++;
	shed_refresh_unit(run, state, u);
	shed_refresh_amps(run, state);
	for (int h = 0; h < model->n_hots; h++)
		unit->learned_a[h] = before_a[h] - state->hot[h].amps_a;
}

/* When a dropped load may come back, room aside. */
static double eligible_s(const shed_model *model, const shed_unit_state *unit)
{
	const rig_shed_manager *manager = &model->manager;
	const int most = manager->most_drops;
	const double last_s = unit->drop_s[(unit->n_drops - 1) % most];
	double at_s = fmax(last_s + manager->restore_delay_s, unit->unlock_s);
	if (unit->n_drops >= most)
		at_s = fmax(at_s, unit->drop_s[unit->n_drops % most] + manager->reset_s);
	return at_s;
}

static bool has_room(const shed_run *run, const shed_state *state, const shed_unit_state *unit)
{
	const double limit_a = shed_limit_a(run, state);
	for (int h = 0; h < run->model->n_hots; h++)
		if (unit->learned_a[h] > ROUNDING_A &&
			state->hot[h].amps_a + unit->learned_a[h] > limit_a + ROUNDING_A)
			return false;
	return true;
}

/* The dropped loads that may come back now; *next_s is when one of the others may. */
static uint64_t restorable(const shed_run *run, const shed_state *state, double *next_s)
{
	const shed_model *model = run->model;
	const double pause_s = state->restored_s + model->manager.restore_interval_s;
	uint64_t set = 0;
	*next_s = INFINITY;
	for (uint64_t left = state->dropped; left; left &= left - 1) {
		int group = 0;
		while (!(left & bit(group)))
			group++;
		const shed_unit_state *unit = &state->unit[model->group_unit[group]];
		const double at_s = fmax(eligible_s(model, unit), pause_s);
		if (at_s > state->now_s)
			*next_s = fmin(*next_s, at_s);
		else if (has_room(run, state, unit))
			set |= bit(group);
	}
	return set;
}

static void restore(const shed_run *run, shed_state *state, int group)
{
	const size_t u = run->model->group_unit[group];
	state->unit[u].dropped = false;
	state->dropped &= ~bit(group);
	state->restored_s = state->now_s;
	shed_refresh_unit(run, state, u);
	shed_refresh_amps(run, state);
}

/* Drops one load if a hot has been over for long enough. False: nothing was to be done. */
static bool drop_one(const shed_run *run, shed_state *state, shed_outcome *outcome)
{
	for (int h = 0; h < run->model->n_hots; h++) {
		shed_hot_state *hot = &state->hot[h];
		if (!hot->over || (state->now_s < hot->drop_due_s && !hot->helpless))
			continue;
		const uint64_t set = droppable(run, state, h);
		if (set == 0) {
			end_stretch(hot, state->now_s);
			hot->helpless = true;
			hot->drop_due_s = INFINITY;
			continue;
		}
		if (hot->helpless) { /* something to drop has come: it is next */
			hot->helpless = false;
			hot->over_from_s = state->now_s;
			hot->drop_due_s = state->now_s + run->model->manager.drop_interval_s;
			continue;
		}
		const int group = shed_order_pick_first(run->order, set);
		if (group < 0) {
			state->choice = set;
			*outcome = SHED_CHOOSE_FIRST;
			return false;
		}
		hot->drop_due_s = state->now_s + run->model->manager.drop_interval_s;
		drop(run, state, group);
		return true;
	}
	return false;
}

static bool restore_one(
	const shed_run *run, shed_state *state, double *next_s, shed_outcome *outcome)
{
	const uint64_t set = restorable(run, state, next_s);
	if (set == 0)
		return false;
	const int group = shed_order_pick_last(run->order, set);
	if (group < 0) {
		state->choice = set;
		*outcome = SHED_CHOOSE_LAST;
		return false;
	}
	restore(run, state, group);
	return true;
}

shed_outcome shed_manage(const shed_run *run, shed_state *state)
{
	const shed_model *model = run->model;
	double *due_s = &state->due_s[shed_due_single(model, SHED_DUE_MANAGER)];
	shed_outcome outcome = SHED_DONE;
	double next_s = INFINITY;
	bool acted = true;
	*due_s = INFINITY;
	shed_refresh_amps(run, state);
	shed_choose_source(run, state);
	if (run->free)
		return SHED_DONE;
	while (acted && outcome == SHED_DONE) {
		watch(run, state);
		if (!model->manager.present || state->dark)
			return SHED_DONE;
		acted = drop_one(run, state, &outcome);
		if (!acted && outcome == SHED_DONE)
			acted = restore_one(run, state, &next_s, &outcome);
	}
	for (int h = 0; h < model->n_hots; h++)
		if (state->hot[h].over)
			next_s = fmin(next_s, state->hot[h].drop_due_s);
	*due_s = next_s;
	return outcome;
}
