/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_search.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Up to so many groups all orders are tried: 40,320. */
enum { TRIES_ALL = 8, MOST_ROUNDS = 20 };

/* An order must cost less by more than rounding. */
static const double LESS = 1e-9;

/* Orders that are still in the running. */
typedef struct {
	size_t n;
	uint8_t *group; /* n_groups of each, dropped first first */
	double *points; /* of the days so far; INFINITY: out of the running */
	size_t *index;  /* of those in the running, parted as a day parts them */
	size_t n_in;
} field;

typedef struct {
	const shed_model *model;
	shed_day *const *days;
	size_t n_days;
	double *rest_points; /* least that the days from each on can cost */
	rig_arena *arena;
	shed_state **frames;
	field orders;
	size_t day;
	double bar; /* what costs as much is out */
	bool alone; /* one day for itself: the bar falls to its best */
	size_t n_branches;
	bool no_memory;
} search;

/* A part of the field, in index[from] to index[to - 1], and what its orders have in common. */
typedef struct {
	size_t depth, from, to;
	shed_order order;
} branch;

static uint64_t bit(int g)
{
	return (uint64_t)1 << g;
}

static const uint8_t *order_at(const search *s, size_t i)
{
	return &s->orders.group[i * s->model->n_groups];
}

static shed_state *frame(search *s, size_t depth)
{
	if (!s->frames[depth] && shed_state_new(s->model, s->arena, &s->frames[depth]) != RIG_OK)
		s->no_memory = true;
	return s->frames[depth];
}

/* ---- a day for all orders at once ---- */

static double least_before(const search *s, const branch *b)
{
	double least = INFINITY;
	for (size_t i = b->from; i < b->to; i++)
		least = fmin(least, s->orders.points[s->orders.index[i]]);
	return least;
}

static void book(search *s, const branch *b, double points)
{
	for (size_t i = b->from; i < b->to; i++)
		s->orders.points[s->orders.index[i]] += points;
}

/* Which of a set an order drops first, or brings back first. */
static int choice_of(const search *s, size_t which, uint64_t set, shed_outcome asked)
{
	const uint8_t *group = order_at(s, which);
	const int n = (int)s->model->n_groups;
	for (int i = 0; i < n; i++) {
		const int g = group[asked == SHED_CHOOSE_FIRST ? i : n - 1 - i];
		if (set & bit(g))
			return g;
	}
	return -1;
}

/* Brings the orders of a part that choose g to its front; where they end. */
static size_t part(search *s, const branch *b, uint64_t set, int g, shed_outcome asked)
{
	size_t *index = s->orders.index, end = b->from;
	for (size_t i = b->from; i < b->to; i++) {
		const size_t which = index[i];
		if (choice_of(s, which, set, asked) != g)
			continue;
		index[i] = index[end];
		index[end++] = which;
	}
	return end;
}

static void explore(search *s, branch b);

/* Each choice that some order of the part makes, with a copy of the day so far. */
static void try_each(search *s, branch b, const shed_state *state, shed_outcome asked)
{
	for (uint64_t left = state->choice; left && b.from < b.to && !s->no_memory;
		left &= left - 1) {
		int g = 0;
		while (!(left & bit(g)))
			g++;
		branch next = b;
		next.depth++;
		next.to = part(s, &b, state->choice, g, asked);
		b.from = next.to;
		if (next.from == next.to)
			continue;
		if (asked == SHED_CHOOSE_FIRST)
			shed_order_first(&next.order, s->model->n_groups, g, state->choice);
		else
			shed_order_last(&next.order, s->model->n_groups, g, state->choice);
		shed_state *copy = frame(s, next.depth);
		if (!copy)
			return;
		shed_state_copy(s->model, state, copy);
		s->n_branches++;
		explore(s, next);
	}
}

/* Goes on to the end of the day, to where it costs too much, or to where the orders part: a level
 * of calls for each pair decided. */
static void explore(search *s, branch b)
{
	shed_state *state = s->frames[b.depth];
	const shed_run run = {s->model, s->days[s->day], &b.order, false, NULL, NULL};
	const shed_outcome outcome = shed_advance(&run, state);
	const double points = shed_points(s->model, state);
	const double rest_points = s->alone ? 0 : s->rest_points[s->day + 1];
	if (least_before(s, &b) + points + rest_points >= s->bar - LESS)
		book(s, &b, INFINITY);
	else if (outcome != SHED_DONE)
		try_each(s, b, state, outcome);
	else if (s->alone)
		s->bar = points;
	else
		book(s, &b, points);
}

/* Books a day on every order in the running, and lets go of those that are out. */
static void run_day(search *s, size_t day)
{
	field *orders = &s->orders;
	branch all = {.to = orders->n_in};
	shed_state *state = frame(s, 0);
	if (!state)
		return;
	s->day = day;
	shed_begin(&(shed_run){s->model, s->days[day], &all.order, false, NULL, NULL}, state);
	explore(s, all);
	size_t kept = 0;
	for (size_t i = 0; i < orders->n_in; i++)
		if (isfinite(orders->points[orders->index[i]]))
			orders->index[kept++] = orders->index[i];
	orders->n_in = kept;
}

/* ---- a field of orders ---- */

static void enter_all(field *orders)
{
	orders->n_in = orders->n;
	for (size_t i = 0; i < orders->n; i++) {
		orders->index[i] = i;
		orders->points[i] = 0;
	}
}

/* The least that each day can cost for any order of the field, summed from the last. */
static void bound_days(search *s)
{
	s->alone = true;
	for (size_t day = s->n_days; day-- > 0 && !s->no_memory;) {
		enter_all(&s->orders);
		s->bar = INFINITY;
		run_day(s, day);
		s->rest_points[day] = s->rest_points[day + 1] + s->bar;
	}
	s->alone = false;
}

/* What one order costs on the days from one on. */
static double price(search *s, size_t which, size_t from_day)
{
	int group[SHED_MAX_GROUPS];
	for (size_t i = 0; i < s->model->n_groups; i++)
		group[i] = order_at(s, which)[i];
	const shed_order order = shed_order_of(group, s->model->n_groups);
	shed_state *state = s->frames[0];
	double points = 0;
	for (size_t day = from_day; day < s->n_days; day++) {
		const shed_run run = {s->model, s->days[day], &order, false, NULL, NULL};
		shed_begin(&run, state);
		(void)shed_advance(&run, state);
		points += shed_points(s->model, state);
	}
	return points;
}

/* The cheapest so far, of equals the first of the field; n if none is in the running. */
static size_t cheapest(const field *orders)
{
	size_t best = orders->n;
	for (size_t i = 0; i < orders->n_in; i++) {
		const size_t which = orders->index[i];
		const double ahead =
			best == orders->n ? 1 : orders->points[best] - orders->points[which];
		if (ahead > LESS || (ahead >= -LESS && which < best))
			best = which;
	}
	return best;
}

/* The best of the field if it costs less than the bar, else false. */
static bool race(search *s, double bar, shed_best *best)
{
	const size_t n = s->model->n_groups;
	bound_days(s);
	enter_all(&s->orders);
	s->bar = bar;
	for (size_t day = 0; day < s->n_days && s->orders.n_in > 0 && !s->no_memory; day++) {
		run_day(s, day);
		const size_t which = cheapest(&s->orders);
		if (which == s->orders.n)
			break;
		/* twice LESS, so that the one whose price this is stays in */
		s->bar =
			fmin(s->bar, s->orders.points[which] + price(s, which, day + 1) + 2 * LESS);
	}
	const size_t winner = cheapest(&s->orders);
	if (s->no_memory || winner == s->orders.n)
		return false;
	best->points = s->orders.points[winner];
	for (size_t i = 0; i < n; i++)
		best->group[i] = order_at(s, winner)[i];
	return true;
}

/* The next arrangement in the order of numbers; false after the last. */
static bool rearrange(uint8_t *group, size_t n)
{
	size_t i = n, j = n;
	while (i > 1 && group[i - 2] >= group[i - 1])
		i--;
	if (i < 2)
		return false;
	while (group[j - 1] <= group[i - 2])
		j--;
	const uint8_t kept = group[i - 2];
	group[i - 2] = group[j - 1];
	group[j - 1] = kept;
	for (j = n; i < j; i++, j--) {
		const uint8_t swapped = group[i - 1];
		group[i - 1] = group[j - 1];
		group[j - 1] = swapped;
	}
	return true;
}

static void list_all(field *orders, size_t n_groups)
{
	uint8_t group[TRIES_ALL];
	for (size_t i = 0; i < n_groups; i++)
		group[i] = (uint8_t)i;
	orders->n = 0;
	do
		memcpy(&orders->group[orders->n++ * n_groups], group, n_groups);
	while (rearrange(group, n_groups));
}

/* Each group of an order put anywhere else. */
static void list_moves(field *orders, const int *group, size_t n_groups)
{
	orders->n = 0;
	for (size_t from = 0; from < n_groups; from++)
		for (size_t to = 0; to < n_groups; to++) {
			if (to == from)
				continue;
			uint8_t *made = &orders->group[orders->n++ * n_groups];
			for (size_t i = 0, left = 0; i < n_groups; i++, left++) {
				left += left == from;
				if (i == to) {
					made[i] = (uint8_t)group[from];
					left--;
				} else {
					made[i] = (uint8_t)group[left];
				}
			}
		}
}

static size_t field_size(size_t n_groups)
{
	size_t n = 1;
	if (n_groups > TRIES_ALL)
		return n_groups * (n_groups - 1);
	for (size_t i = 2; i <= n_groups; i++)
		n *= i;
	return n;
}

static rig_status take_room(search *s)
{
	const size_t n_groups = s->model->n_groups, n = field_size(n_groups);
	s->rest_points = rig_arena_take(s->arena, s->n_days + 1, sizeof(double));
	s->frames = rig_arena_take(s->arena, n_groups * n_groups / 2 + 2, sizeof(shed_state *));
	s->orders.group = rig_arena_take(s->arena, n, n_groups);
	s->orders.points = rig_arena_take(s->arena, n, sizeof(double));
	s->orders.index = rig_arena_take(s->arena, n, sizeof(size_t));
	return s->rest_points && s->frames && s->orders.group && s->orders.points && s->orders.index
		       ? RIG_OK
		       : RIG_NO_MEMORY;
}

rig_status shed_find_best(const shed_model *model, shed_day *const *days, size_t n_days,
	double own_points, shed_best *best)
{
	search s = {.model = model, .days = days, .n_days = n_days, .arena = rig_arena_new()};
	rig_status status = s.arena ? take_room(&s) : RIG_NO_MEMORY;
	if (status != RIG_OK)
		goto out;
	shed_best found = {.points = own_points, .proved = model->n_groups <= TRIES_ALL};
	for (int g = 0; g < SHED_MAX_GROUPS; g++)
		found.group[g] = g;
	bool better = true;
	for (int round = 0; better && round < (found.proved ? 1 : MOST_ROUNDS); round++) {
		if (found.proved)
			list_all(&s.orders, model->n_groups);
		else
			list_moves(&s.orders, found.group, model->n_groups);
		better = race(&s, found.points, &found);
	}
	found.n_branches = s.n_branches;
	status = s.no_memory ? RIG_NO_MEMORY : RIG_OK;
	if (status == RIG_OK)
		*best = found;
out:
	rig_arena_free(s.arena);
	return status;
}
