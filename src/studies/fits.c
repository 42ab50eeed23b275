/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

/* Sums of the same draws in another order may differ in the last bits. */
static const double LIMIT_SLACK_RATIO = 1e-9;
static const double TIE_W = 1e-6;
static const double TIE_WEIGHT = 1e-9;
static const double SPLIT_TIE_VA = 0.1;

typedef struct {
	rig_legs legs;    /* loaded */
	rig_legs neutral; /* plain */
} hots;

/* Where the EITHER items of a circuit are, and how many of them are on. */
typedef struct {
	rig_fits_leg leg;
	int n;
} pole;

typedef struct search search;
struct search {
	const rig_fits_problem *problem;
	const rig_fits_item **order; /* the items in the order in which they are decided */
	bool *twin;                  /* order[i] differs from order[i - 1] by its key only */
	hots at;
	double hot_room_w[2]; /* limits of the relaxed problem; the second is 0 with one hot */
	rig_phasor *circuit;
	double *circuit_room_w; /* scratch of the bounds */
	pole *pole;             /* of each circuit */
	bool any_fixed;         /* some item has its own leg: the legs are not alike */
	int n_dealt;            /* EITHER items that are on */
	rig_fits_leg *now, *best;
	bool found, stopped;
	size_t n_steps;
	bool (*can_improve)(search *s, size_t depth);
	bool (*improves)(const search *s);
	int count[RIG_FITS_PRIORITIES + 1], best_count[RIG_FITS_PRIORITIES + 1];
	double demand_w, best_demand_w;
	double weight, best_weight;
	bool whole_weights; /* then a bound may be rounded down */
};

static double demand_w(const rig_fits_item *item)
{
	return item->loaded.active_w * (item->leg == RIG_FITS_BOTH ? 2.0 : 1.0);
}

static int by_number(double a, double b)
{
	return (a > b) - (a < b);
}

/* A total order on all that matters to a search, so that the order of the items does not. */
static int compare_figures(const rig_fits_item *a, const rig_fits_item *b)
{
	const double pair[][2] = {
		{a->priority, b->priority},
		{demand_w(a), demand_w(b)},
		{b->weight, a->weight},
		{a->loaded.reactive_va, b->loaded.reactive_va},
		{a->plain.active_w, b->plain.active_w},
		{a->plain.reactive_va, b->plain.reactive_va},
		{a->leg, b->leg},
		{a->circuit, b->circuit},
	};
	for (size_t i = 0; i < sizeof pair / sizeof pair[0]; i++)
		if (pair[i][0] != pair[i][1])
			return by_number(pair[i][0], pair[i][1]);
	return 0;
}

static int compare_rank(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	const int order = compare_figures(a, b);
	return order != 0 ? order : (a->key > b->key) - (a->key < b->key);
}

static double density(const rig_fits_item *item)
{
	return demand_w(item) > 0 ? item->weight / demand_w(item) : INFINITY;
}

static int compare_density(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	const int order = by_number(density(b), density(a));
	return order != 0 ? order : compare_rank(left, right);
}

static int compare_size(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	const int order = by_number(rig_phasor_va(b->loaded), rig_phasor_va(a->loaded));
	return order != 0 ? order : compare_rank(left, right);
}

static void draw_on(rig_legs *legs, rig_phasor draw, rig_fits_leg leg)
{
	if (leg != RIG_FITS_LEG_2)
		legs->leg1 = rig_phasor_add(legs->leg1, draw);
	if (leg != RIG_FITS_LEG_1)
		legs->leg2 = rig_phasor_add(legs->leg2, draw);
}

static void put(search *s, const rig_fits_item *item, rig_fits_leg leg)
{
	draw_on(&s->at.legs, item->loaded, leg);
	draw_on(&s->at.neutral, item->plain, leg);
	if (item->circuit >= 0)
		s->circuit[item->circuit] = rig_phasor_add(s->circuit[item->circuit], item->loaded);
}

static bool within(rig_phasor sum, double limit_va)
{
	return rig_phasor_va(sum) <= limit_va * (1.0 + LIMIT_SLACK_RATIO);
}

static bool holds(const search *s, const rig_fits_item *item)
{
	const rig_fits_problem *problem = s->problem;
	if (item->circuit >= 0 && problem->circuit_limit_va[item->circuit] > 0 &&
		!within(s->circuit[item->circuit], problem->circuit_limit_va[item->circuit]))
		return false;
	return within(s->at.legs.leg1, problem->hot_limit_va) &&
	       within(s->at.legs.leg2, problem->hot_limit_va);
}

/* Another load can lower the neutral's current, so this is asked of whole subsets only. */
static bool neutral_within(const rig_legs *plain, double limit_va)
{
	return limit_va <= 0 ||
	       rig_neutral_split_a(plain, 1.0) <= limit_va * (1.0 + LIMIT_SLACK_RATIO);
}

static void record(search *s)
{
	s->found = true;
	memcpy(s->best, s->now, s->problem->n_items * sizeof *s->best);
	memcpy(s->best_count, s->count, sizeof s->best_count);
	s->best_demand_w = s->demand_w;
	s->best_weight = s->weight;
}

static void count_dealt(search *s, const rig_fits_item *item, rig_fits_leg leg, int n)
{
	if (item->leg != RIG_FITS_EITHER)
		return;
	s->n_dealt += n;
	if (item->circuit < 0)
		return;
	s->pole[item->circuit].leg = leg;
	s->pole[item->circuit].n += n;
}

static void visit(search *s, size_t depth);

static void try_leg(search *s, size_t depth, rig_fits_leg leg)
{
	const rig_fits_item *item = s->order[depth];
	const hots before = s->at;
	const double demand_before_w = s->demand_w;
	const double weight_before = s->weight;
	const rig_phasor circuit_before =
		item->circuit >= 0 ? s->circuit[item->circuit] : (rig_phasor){0};
	put(s, item, leg);
	if (holds(s, item)) {
		s->now[depth] = leg;
		count_dealt(s, item, leg, 1);
		s->count[item->priority]++;
		s->demand_w += demand_w(item);
		s->weight += item->weight;
		visit(s, depth + 1);
		s->count[item->priority]--;
		count_dealt(s, item, leg, -1);
	}
	s->at = before;
	s->demand_w = demand_before_w;
	s->weight = weight_before;
	if (item->circuit >= 0)
		s->circuit[item->circuit] = circuit_before;
}

/* Where an item may be tried, in that order; gives how many. Legs that are alike are one. */
static int legs_to_try(const search *s, const rig_fits_item *item, rig_fits_leg leg[2])
{
	leg[0] = item->leg;
	if (item->leg != RIG_FITS_EITHER)
		return 1;
	const rig_legs *legs = &s->at.legs;
	const bool second_fuller = rig_phasor_va(legs->leg2) >= rig_phasor_va(legs->leg1);
	if (item->circuit >= 0 && !s->problem->circuit_has_both[item->circuit] &&
		s->pole[item->circuit].n > 0) {
		leg[0] = s->pole[item->circuit].leg;
		return 1;
	}
	const bool alike = !s->any_fixed && s->n_dealt == 0;
	leg[0] = second_fuller ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
	leg[1] = second_fuller ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
	return alike ? 1 : 2;
}

/* Of twins, the first is on if any is, and the legs of those that are on do not fall: the other
 * arrangements are the same subset over again. */
static bool is_repeat(const search *s, size_t depth, rig_fits_leg leg)
{
	if (!s->twin[depth])
		return false;
	const rig_fits_leg first = s->now[depth - 1];
	return first == RIG_FITS_OFF ? leg != RIG_FITS_OFF : leg != RIG_FITS_OFF && leg < first;
}

static void visit(search *s, size_t depth)
{
	if (s->stopped || ++s->n_steps > s->problem->step_limit) {
		s->stopped = true;
		return;
	}
	if (depth == s->problem->n_items) {
		if (neutral_within(&s->at.neutral, s->problem->neutral_limit_va) &&
			(!s->found || s->improves(s)))
			record(s);
		return;
	}
	if (s->found && !s->can_improve(s, depth))
		return;
	rig_fits_leg leg[2];
	const int n_legs = legs_to_try(s, s->order[depth], leg);
	for (int i = 0; i < n_legs; i++)
		if (!is_repeat(s, depth, leg[i]))
			try_leg(s, depth, leg[i]);
	s->now[depth] = RIG_FITS_OFF;
	visit(s, depth + 1);
}

/* The relaxed problem behind both bounds: real watts only, and nested limits only. A load of 240 V
 * or on either leg is held against all hots together, the others also against their leg and
 * circuit. Taking what fits in order of size (or of weight a watt, in parts) is then the best that
 * can be, and the true problem cannot do better. */
typedef struct {
	double all_w, leg_w[2];
	double *circuit_w;
} room;

static room room_left(search *s)
{
	const double slack = 1.0 + LIMIT_SLACK_RATIO;
	room left = {.leg_w = {s->hot_room_w[0] * slack - s->at.legs.leg1.active_w,
			     s->hot_room_w[1] * slack - s->at.legs.leg2.active_w},
		.circuit_w = s->circuit_room_w};
	left.all_w = left.leg_w[0] + left.leg_w[1];
	for (size_t i = 0; i < s->problem->n_circuits; i++) {
		const double limit_va = s->problem->circuit_limit_va[i];
		left.circuit_w[i] =
			limit_va > 0 ? limit_va * slack - s->circuit[i].active_w : INFINITY;
	}
	return left;
}

/* The most watts of a load that its room allows. */
static double room_for_w(const room *left, const rig_fits_item *item)
{
	double room_w = left->all_w;
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_LEG_2)
		room_w = fmin(room_w, left->leg_w[item->leg - RIG_FITS_LEG_1]);
	if (item->leg != RIG_FITS_BOTH && item->circuit >= 0)
		room_w = fmin(room_w, left->circuit_w[item->circuit]);
	return room_w;
}

static void use_room(room *left, const rig_fits_item *item, double taken_w)
{
	left->all_w -= taken_w;
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_LEG_2)
		left->leg_w[item->leg - RIG_FITS_LEG_1] -= taken_w;
	if (item->leg != RIG_FITS_BOTH && item->circuit >= 0)
		left->circuit_w[item->circuit] -= taken_w;
}

/* How many of one priority can still be on at most, and the least watts that as many take. */
static int most_of(const search *s, size_t *i, room *left, double *least_w)
{
	const int priority = s->order[*i]->priority;
	int n = 0;
	for (; *i < s->problem->n_items && s->order[*i]->priority == priority; (*i)++) {
		const rig_fits_item *item = s->order[*i];
		const double item_w = demand_w(item);
		if (item_w > room_for_w(left, item))
			continue;
		use_room(left, item, item_w);
		*least_w += item_w;
		n++;
	}
	return n;
}

static bool can_improve_count(search *s, size_t depth)
{
	double least_w = s->demand_w;
	size_t i = depth;
	for (int priority = 1; priority <= RIG_FITS_PRIORITIES; priority++) {
		int most = s->count[priority];
		if (i < s->problem->n_items && s->order[i]->priority == priority) {
			/* Each priority anew, but for the watts that those before it take at
			 * least. */
			room left = room_left(s);
			left.all_w -= least_w - s->demand_w;
			most += most_of(s, &i, &left, &least_w);
		}
		if (most != s->best_count[priority])
			return most > s->best_count[priority];
	}
	return least_w < s->best_demand_w - TIE_W;
}

static bool improves_count(const search *s)
{
	for (int priority = 1; priority <= RIG_FITS_PRIORITIES; priority++)
		if (s->count[priority] != s->best_count[priority])
			return s->count[priority] > s->best_count[priority];
	return s->demand_w < s->best_demand_w - TIE_W;
}

static bool can_improve_weight(search *s, size_t depth)
{
	room left = room_left(s);
	double most = s->weight;
	for (size_t i = depth; i < s->problem->n_items; i++) {
		const rig_fits_item *item = s->order[i];
		const double item_w = demand_w(item);
		const double taken_w = fmax(0.0, fmin(item_w, room_for_w(&left, item)));
		use_room(&left, item, taken_w);
		most += item_w > 0 ? item->weight * taken_w / item_w : item->weight;
	}
	if (s->whole_weights)
		most = floor(most + 1e-6);
	return most > s->best_weight + TIE_WEIGHT;
}

static bool improves_weight(const search *s)
{
	return s->weight > s->best_weight + TIE_WEIGHT;
}

static double fuller_va(const rig_legs *legs)
{
	return fmax(rig_phasor_va(legs->leg1), rig_phasor_va(legs->leg2));
}

/* Deals the items from the largest down; best_demand_w is the fuller leg of the best deal so far.
 */
static void deal(search *s, size_t depth, double ideal_va)
{
	if (s->found && (fuller_va(&s->at.legs) >= s->best_demand_w - SPLIT_TIE_VA / 2 ||
				s->best_demand_w <= ideal_va + SPLIT_TIE_VA / 2))
		return;
	if (s->found && ++s->n_steps > s->problem->step_limit) {
		s->stopped = true;
		return;
	}
	if (depth == s->problem->n_items) {
		record(s);
		s->best_demand_w = fuller_va(&s->at.legs);
		return;
	}
	rig_fits_leg leg[2];
	const int n_legs = legs_to_try(s, s->order[depth], leg);
	for (int i = 0; i < n_legs; i++) {
		const hots before = s->at;
		if (is_repeat(s, depth, leg[i]))
			continue;
		s->now[depth] = leg[i];
		count_dealt(s, s->order[depth], leg[i], 1);
		draw_on(&s->at.legs, s->order[depth]->loaded, leg[i]);
		deal(s, depth + 1, ideal_va);
		s->at = before;
		count_dealt(s, s->order[depth], leg[i], -1);
	}
}

static void sort_items(search *s, int (*compare)(const void *, const void *))
{
	const rig_fits_problem *problem = s->problem;
	s->whole_weights = true;
	s->hot_room_w[0] = problem->hot_limit_va;
	for (size_t i = 0; i < problem->n_items; i++) {
		const rig_fits_item *item = &problem->items[i];
		assert(item->priority >= 1 && item->priority <= RIG_FITS_PRIORITIES);
		assert(item->weight >= 0 && item->leg != RIG_FITS_OFF);
		assert(item->loaded.active_w >= 0 && item->loaded.reactive_va >= 0);
		assert(item->circuit < (int)problem->n_circuits);
		s->order[i] = item;
		s->any_fixed |= item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_LEG_2;
		s->whole_weights &= item->weight == floor(item->weight);
		if (item->leg != RIG_FITS_LEG_1)
			s->hot_room_w[1] = problem->hot_limit_va;
	}
	if (problem->n_items > 0)
		qsort(s->order, problem->n_items, sizeof(const rig_fits_item *), compare);
	for (size_t i = 1; i < problem->n_items; i++)
		s->twin[i] = compare_figures(s->order[i], s->order[i - 1]) == 0;
}

/* A search ready to run; NULL when memory is out. It dies with the arena. */
static search *prepare(const rig_fits_problem *problem, rig_arena *arena,
	int (*compare)(const void *, const void *))
{
	const size_t n = problem->n_items;
	search *s = rig_arena_take(arena, 1, sizeof *s);
	if (!s)
		return NULL;
	s->problem = problem;
	s->order = rig_arena_take(arena, n, sizeof(const rig_fits_item *));
	s->twin = rig_arena_take(arena, n, sizeof *s->twin);
	s->now = rig_arena_take(arena, n, sizeof *s->now);
	s->best = rig_arena_take(arena, n, sizeof *s->best);
	s->circuit = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit);
	s->circuit_room_w = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit_room_w);
	s->pole = rig_arena_take(arena, problem->n_circuits, sizeof *s->pole);
	if (!s->order || !s->twin || !s->now || !s->best || !s->circuit || !s->circuit_room_w ||
		!s->pole)
		return NULL;
	sort_items(s, compare);
	return s;
}

bool rig_fits_holds(const rig_fits_problem *problem, const rig_fits_leg leg[])
{
	hots at = {0};
	for (size_t i = 0; i < problem->n_items; i++)
		if (leg[i] != RIG_FITS_OFF) {
			draw_on(&at.legs, problem->items[i].loaded, leg[i]);
			draw_on(&at.neutral, problem->items[i].plain, leg[i]);
		}
	for (size_t c = 0; c < problem->n_circuits; c++) {
		rig_phasor sum = {0};
		for (size_t i = 0; i < problem->n_items; i++)
			if (leg[i] != RIG_FITS_OFF && problem->items[i].circuit == (int)c)
				sum = rig_phasor_add(sum, problem->items[i].loaded);
		if (problem->circuit_limit_va[c] > 0 && !within(sum, problem->circuit_limit_va[c]))
			return false;
	}
	return within(at.legs.leg1, problem->hot_limit_va) &&
	       within(at.legs.leg2, problem->hot_limit_va) &&
	       neutral_within(&at.neutral, problem->neutral_limit_va);
}

static void answer(const search *s, rig_fits_leg leg[], rig_fits_proof *proof)
{
	const rig_fits_problem *problem = s->problem;
	for (size_t i = 0; i < problem->n_items; i++)
		leg[s->order[i] - problem->items] = s->best[i];
	*proof = (rig_fits_proof){.proved = !s->stopped, .n_steps = s->n_steps};
}

rig_status rig_fits_by_priority(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_rank) : NULL;
	if (s) {
		s->can_improve = can_improve_count;
		s->improves = improves_count;
		visit(s, 0);
		answer(s, leg, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

rig_status rig_fits_by_weight(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_density) : NULL;
	if (s) {
		s->can_improve = can_improve_weight;
		s->improves = improves_weight;
		visit(s, 0);
		answer(s, leg, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

rig_status rig_fits_split(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_size) : NULL;
	if (s) {
		rig_phasor all = {0};
		for (size_t i = 0; i < problem->n_items; i++) {
			const rig_fits_item *item = &problem->items[i];
			const double n_hots = item->leg == RIG_FITS_BOTH ? 2.0 : 1.0;
			all = rig_phasor_add(all, rig_phasor_scale(item->loaded, n_hots));
		}
		deal(s, 0, rig_phasor_va(all) / 2.0);
		answer(s, leg, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}
