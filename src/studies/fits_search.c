/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Branch and bound over the items, one after another: on or off. */
#include "studies/fits_search.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static int by_number(double a, double b)
{
	return (a > b) - (a < b);
}

/* A total order on all that matters to a search, so that the order of the items does not. */
static int compare_figures(const rig_fits_item *a, const rig_fits_item *b)
{
	const double pair[][2] = {
		{a->priority, b->priority},
		{fits_demand_w(a), fits_demand_w(b)},
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

int fits_compare_rank(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	const int order = compare_figures(a, b);
	return order != 0 ? order : (a->key > b->key) - (a->key < b->key);
}

static double density(const rig_fits_item *item)
{
	return fits_demand_w(item) > 0 ? item->weight / fits_demand_w(item) : INFINITY;
}

int fits_compare_density(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	const int order = by_number(density(b), density(a));
	return order != 0 ? order : fits_compare_rank(left, right);
}

bool fits_hots_hold(const fits_search *s)
{
	return fits_within(s->at.legs.leg1, s->problem->hot_limit_va) &&
	       fits_within(s->at.legs.leg2, s->problem->hot_limit_va);
}

bool fits_neutral_within(const rig_legs *plain, double limit_va)
{
	const rig_phasor apart = {plain->leg1.active_w - plain->leg2.active_w,
		plain->leg1.reactive_va - plain->leg2.reactive_va};
	return limit_va <= 0 || fits_within(apart, limit_va);
}

static void put(fits_search *s, const rig_fits_item *item, rig_fits_leg leg)
{
	fits_draw_on(&s->at.legs, item->loaded, leg);
	fits_draw_on(&s->at.neutral, item->plain, leg);
}

/* The leg that an EITHER item must take because another behind its breaker has it; else OFF. */
static rig_fits_leg leg_behind_breaker(
	const fits_search *s, const rig_fits_item *item, size_t n_first)
{
	if (item->circuit < 0 || s->problem->circuit_has_both[item->circuit])
		return RIG_FITS_OFF;
	for (size_t i = 0; i < n_first; i++)
		if (s->now[i] != RIG_FITS_OFF && s->order[i]->leg == RIG_FITS_EITHER &&
			s->order[i]->circuit == item->circuit)
			return s->now[i];
	return RIG_FITS_OFF;
}

/* Where an EITHER item may be tried, the emptier leg first; gives how many. */
static int legs_to_try(
	const fits_search *s, const rig_fits_item *item, size_t n_first, rig_fits_leg leg[2])
{
	leg[0] = leg_behind_breaker(s, item, n_first);
	if (leg[0] != RIG_FITS_OFF)
		return 1;
	const rig_legs *legs = &s->at.legs;
	const bool second_fuller = fits_square(legs->leg2) >= fits_square(legs->leg1);
	leg[0] = second_fuller ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
	leg[1] = second_fuller ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
	return 2;
}

/* Puts an item where it holds beside what is on of the first items, as that is dealt now. */
static bool fits_beside(fits_search *s, size_t place, size_t n_first)
{
	const rig_fits_item *item = s->order[place];
	const fits_hots before = s->at;
	rig_fits_leg leg[2] = {item->leg};
	const int n_legs = item->leg == RIG_FITS_EITHER ? legs_to_try(s, item, n_first, leg) : 1;
	for (int i = 0; i < n_legs; i++) {
		s->now[place] = leg[i];
		put(s, item, leg[i]);
		if (fits_hots_hold(s))
			return true;
		s->at = before;
	}
	return false;
}

bool fits_circuit_holds(const fits_search *s, const rig_fits_item *item)
{
	return item->circuit < 0 || s->problem->circuit_limit_va[item->circuit] <= 0 ||
	       fits_within(s->circuit[item->circuit], s->problem->circuit_limit_va[item->circuit]);
}

void fits_record(fits_search *s)
{
	rig_fits_leg *row = s->best.leg;
	s->best = s->at_hand;
	s->best.leg = row;
	memcpy(row, s->now, s->problem->n_items * sizeof *row);
	s->found = true;
}

static void settle(fits_search *s, const rig_fits_item *item, double factor)
{
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_BOTH)
		s->settled_w[0] += factor * item->loaded.active_w;
	if (item->leg == RIG_FITS_LEG_2 || item->leg == RIG_FITS_BOTH)
		s->settled_w[1] += factor * item->loaded.active_w;
}

static bool neutral_holds(const fits_search *s)
{
	return fits_neutral_within(&s->at.neutral, s->problem->neutral_limit_va);
}

/* A whole subset. Another load can lower the neutral's current, so it is asked here only. */
static void judge_subset(fits_search *s)
{
	const size_t n = s->problem->n_items;
	if (s->found && !s->beats(&s->at_hand, &s->best))
		return;
	if (neutral_holds(s)) {
		fits_record(s);
		return;
	}
	if (s->n_dealt == 0)
		return;
	const fits_hots before = s->at;
	rig_fits_leg *row = s->saved + n * n;
	memcpy(row, s->now, n * sizeof *row);
	if (fits_redeal(s, n, true))
		fits_record(s);
	memcpy(s->now, row, n * sizeof *row);
	s->at = before;
}

/* What follows if the item at depth is on: beside the others, or after dealing all anew. */
static void visit_on(fits_search *s, size_t depth)
{
	const rig_fits_item *item = s->order[depth];
	const fits_hots at = s->at;
	const double demand_before_w = s->at_hand.demand_w;
	const double weight_before = s->at_hand.weight;
	rig_fits_leg *row = s->saved + depth * s->problem->n_items;
	memcpy(row, s->now, depth * sizeof *row);
	s->n_dealt += item->leg == RIG_FITS_EITHER;
	if (fits_beside(s, depth, depth) || (s->n_dealt > 0 && fits_redeal(s, depth + 1, false))) {
		s->at_hand.count[item->priority]++;
		settle(s, item, 1.0);
		s->at_hand.demand_w += fits_demand_w(item);
		s->at_hand.weight += item->weight;
		fits_visit(s, depth + 1);
		settle(s, item, -1.0);
		s->at_hand.count[item->priority]--;
	}
	s->n_dealt -= item->leg == RIG_FITS_EITHER;
	memcpy(s->now, row, depth * sizeof *row);
	s->at = at;
	s->at_hand.demand_w = demand_before_w;
	s->at_hand.weight = weight_before;
}

void fits_visit(fits_search *s, size_t depth)
{
	if (s->stopped || ++s->n_steps > s->problem->step_limit) {
		s->stopped = true;
		return;
	}
	if (depth == s->problem->n_items) {
		judge_subset(s);
		return;
	}
	if (s->found && !s->can_improve(s, depth))
		return;
	const rig_fits_item *item = s->order[depth];
	/* Of twins the first is on if any is. */
	if (!s->twin[depth] || s->now[depth - 1] != RIG_FITS_OFF) {
		rig_phasor none = {0};
		rig_phasor *circuit = item->circuit >= 0 ? &s->circuit[item->circuit] : &none;
		const rig_phasor before = *circuit;
		*circuit = fits_add(before, item->loaded);
		if (fits_circuit_holds(s, item))
			visit_on(s, depth);
		*circuit = before;
	}
	s->now[depth] = RIG_FITS_OFF;
	fits_visit(s, depth + 1);
}

static rig_phasor turned(rig_phasor phasor, double cosine, double sine)
{
	return (rig_phasor){phasor.active_w * cosine + phasor.reactive_va * sine,
		phasor.reactive_va * cosine - phasor.active_w * sine};
}

/* Copies the items with all phasors turned by one angle, so that the sum of all lies along the
 * watts. Magnitudes of sums do not change by that, and a bound that sees only watts loses least. */
static void turn_items(fits_search *s)
{
	const rig_fits_problem *problem = s->problem;
	rig_phasor all = {0};
	for (size_t i = 0; i < problem->n_items; i++)
		all = fits_add(all, problem->items[i].loaded);
	const double va = rig_phasor_va(all);
	const double cosine = va > 0 ? all.active_w / va : 1.0;
	const double sine = va > 0 ? all.reactive_va / va : 0.0;
	for (size_t i = 0; i < problem->n_items; i++) {
		s->items[i] = problem->items[i];
		s->items[i].loaded = turned(problem->items[i].loaded, cosine, sine);
		s->items[i].plain = turned(problem->items[i].plain, cosine, sine);
	}
}

static void sort_items(fits_search *s, int (*compare)(const void *, const void *))
{
	const rig_fits_problem *problem = s->problem;
	s->whole_weights = true;
	s->hot_room_w[0] = problem->hot_limit_va;
	for (size_t i = 0; i < problem->n_items; i++) {
		const rig_fits_item *item = &problem->items[i];
		assert(item->priority >= 0 && item->priority <= RIG_FITS_PRIORITIES);
		assert(item->weight >= 0 && item->leg != RIG_FITS_OFF);
		assert(item->loaded.active_w >= 0 && item->loaded.reactive_va >= 0);
		assert(item->circuit < (int)problem->n_circuits);
		s->order[i] = &s->items[i];
		s->whole_weights &= item->weight == floor(item->weight);
		if (item->leg != RIG_FITS_LEG_1)
			s->hot_room_w[1] = problem->hot_limit_va;
	}
	if (problem->n_items > 0)
		qsort(s->order, problem->n_items, sizeof(const rig_fits_item *), compare);
	for (size_t i = 1; i < problem->n_items; i++)
		s->twin[i] = compare_figures(s->order[i], s->order[i - 1]) == 0;
}

static bool make_deal(fits_search *s, rig_arena *arena)
{
	const size_t n = s->problem->n_items;
	s->card = rig_arena_take(arena, n, sizeof *s->card);
	s->circuit_card = rig_arena_take(arena, s->problem->n_circuits, sizeof *s->circuit_card);
	s->cards = rig_arena_take(arena, n, sizeof *s->cards);
	s->card_leg = rig_arena_take(arena, n, sizeof *s->card_leg);
	return s->card && s->circuit_card && s->cards && s->card_leg &&
	       rig_deal_room_make(&s->room, arena, n);
}

fits_search *fits_search_new(const rig_fits_problem *problem, rig_arena *arena,
	int (*compare)(const void *, const void *))
{
	const size_t n = problem->n_items;
	fits_search *s = rig_arena_take(arena, 1, sizeof *s);
	if (!s)
		return NULL;
	s->problem = problem;
	s->items = rig_arena_take(arena, n, sizeof *s->items);
	s->order = rig_arena_take(arena, n, sizeof(const rig_fits_item *));
	s->twin = rig_arena_take(arena, n, sizeof *s->twin);
	s->now = rig_arena_take(arena, n, sizeof *s->now);
	s->circuit = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit);
	s->circuit_room_w = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit_room_w);
	s->saved = rig_arena_take(arena, (n + 1) * n, sizeof *s->saved);
	s->best.leg = rig_arena_take(arena, n, sizeof *s->best.leg);
	if (!s->items || !s->order || !s->twin || !s->now || !s->circuit || !s->circuit_room_w ||
		!s->saved || !s->best.leg || !make_deal(s, arena))
		return NULL;
	turn_items(s);
	sort_items(s, compare);
	return s;
}
