/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_search.h"

#include <math.h>
#include <stdint.h>

/* Up to so many groups the search always goes to its end; with more it may stop. */
enum { ALWAYS_PROVED = 8, MOST_BRANCHES_A_DAY = 1000, MOST_BRANCHES = 5000 };

/* An order must cost less by more than rounding. */
static const double LESS = 1e-9;

typedef struct {
	const shed_model *model;
	shed_day *const *days;
	size_t end_day;
	const double *rest_points; /* least that the days from each on can cost */
	rig_arena *arena;
	shed_state **frames;
	size_t n_frames;
	double best_points;
	shed_order best_order;
	size_t n_branches, most_branches;
	bool no_memory, stopped;
} search;

/* Where a branch stands. */
typedef struct {
	size_t depth, day;
	double points; /* of the days before */
	shed_order order;
} branch;

static uint64_t bit(int g)
{
	return (uint64_t)1 << g;
}

static shed_state *frame(search *s, size_t depth)
{
	if (!s->frames[depth] && shed_state_new(s->model, s->arena, &s->frames[depth]) != RIG_OK)
		s->no_memory = true;
	return s->frames[depth];
}

static bool hopeless(const search *s, const branch *b, double points)
{
	return b->points + points + s->rest_points[b->day + 1] >= s->best_points - LESS;
}

/* Whether a known order has another of the set before (after) it. */
static bool is_ruled_out(const shed_order *order, uint64_t set, int g, shed_outcome which)
{
	if (which == SHED_CHOOSE_LAST)
		return (order->after[g] & set) != 0;
	for (int other = 0; other < SHED_MAX_GROUPS; other++)
		if ((set & bit(other)) && (order->after[other] & bit(g)))
			return true;
	return false;
}

static void explore(search *s, branch b);

static void try_each(search *s, const branch *b, const shed_state *state, shed_outcome which)
{
	for (uint64_t left = state->choice; left && !s->stopped && !s->no_memory;
		left &= left - 1) {
		int g = 0;
		while (!(left & bit(g)))
			g++;
		if (is_ruled_out(&b->order, state->choice, g, which))
			continue;
		branch next = *b;
		next.depth++;
		if (which == SHED_CHOOSE_FIRST)
			shed_order_first(&next.order, s->model->n_groups, g, state->choice);
		else
			shed_order_last(&next.order, s->model->n_groups, g, state->choice);
		shed_state *copy = frame(s, next.depth);
		if (!copy)
			return;
		shed_state_copy(s->model, state, copy);
		s->n_branches++;
		s->stopped = s->n_branches > s->most_branches;
		explore(s, next);
	}
}

/* Goes on until the days end, it costs too much, or the order must say more: a level of calls for
 * each pair decided. */
static void explore(search *s, branch b)
{
	shed_state *state = s->frames[b.depth];
	while (b.day < s->end_day) {
		const shed_run run = {s->model, s->days[b.day], &b.order, false, NULL, NULL};
		const shed_outcome outcome = shed_advance(&run, state);
		const double points = shed_points(s->model, state);
		if (hopeless(s, &b, points))
			return;
		if (outcome != SHED_DONE) {
			try_each(s, &b, state, outcome);
			return;
		}
		b.points += points;
		b.day++;
		if (b.day < s->end_day)
			shed_begin(
				&(shed_run){s->model, s->days[b.day], &b.order, false, NULL, NULL},
				state);
	}
	s->best_points = b.points;
	s->best_order = b.order;
}

static void search_from(search *s, size_t day, size_t most_branches)
{
	s->n_branches = 0;
	s->most_branches = s->model->n_groups > ALWAYS_PROVED ? most_branches : SIZE_MAX;
	s->stopped = false;
	branch b = {.day = day};
	shed_state *state = frame(s, 0);
	if (!state)
		return;
	shed_begin(&(shed_run){s->model, s->days[day], &b.order, false, NULL, NULL}, state);
	explore(s, b);
}

/* Of the orders that a known part allows, the one nearest to the own: always the first of the own
 * order that nothing left must go before. */
static void complete(const shed_order *order, size_t n, int *group)
{
	uint64_t left = n == SHED_MAX_GROUPS ? ~(uint64_t)0 : bit((int)n) - 1;
	for (size_t i = 0; i < n; i++) {
		int g = 0;
		while (!(left & bit(g)) || is_ruled_out(order, left, g, SHED_CHOOSE_FIRST))
			g++;
		group[i] = g;
		left &= ~bit(g);
	}
}

rig_status shed_find_best(const shed_model *model, shed_day *const *days, size_t n_days,
	double own_points, shed_best *best)
{
	rig_arena *arena = rig_arena_new();
	const size_t n = model->n_groups, n_frames = n * n / 2 + 2;
	rig_status status = RIG_NO_MEMORY;
	search s = {.model = model, .days = days, .arena = arena};
	double *rest_points = arena ? rig_arena_take(arena, n_days + 2, sizeof(double)) : NULL;
	s.frames = arena ? rig_arena_take(arena, n_frames, sizeof(shed_state *)) : NULL;
	s.rest_points = rest_points;
	if (!rest_points || !s.frames)
		goto out;
	for (size_t day = n_days; day-- > 0 && !s.no_memory;) {
		const double later_points = rest_points[day + 1];
		rest_points[day + 1] = 0;
		s.end_day = day + 1;
		s.best_points = INFINITY;
		search_from(&s, day, MOST_BRANCHES_A_DAY);
		rest_points[day + 1] = later_points;
		rest_points[day] = later_points + (s.stopped ? 0 : s.best_points);
	}
	s.end_day = n_days;
	s.best_points = own_points;
	s.best_order = (shed_order){{0}};
	if (!s.no_memory)
		search_from(&s, 0, MOST_BRANCHES);
	if (s.no_memory)
		goto out;
	best->points = s.best_points;
	best->proved = !s.stopped;
	best->n_branches = s.n_branches;
	complete(&s.best_order, n, best->group);
	status = RIG_OK;
out:
	rig_arena_free(arena);
	return status;
}
