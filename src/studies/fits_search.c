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

static bool neutral_within(const rig_legs *plain, double limit_va)
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
static rig_fits_leg leg_behind_breaker(const fits_search *s, const rig_fits_item *item)
{
	if (item->circuit < 0 || s->problem->circuit_has_both[item->circuit])
		return RIG_FITS_OFF;
	for (size_t k = 0; k < s->n_on; k++) {
		const rig_fits_item *other = s->order[s->on[k]];
		if (other->leg == RIG_FITS_EITHER && other->circuit == item->circuit)
			return s->now[s->on[k]];
	}
	return RIG_FITS_OFF;
}

/* Where an EITHER item may be tried, the emptier leg first; gives how many. */
static int legs_to_try(const fits_search *s, const rig_fits_item *item, rig_fits_leg leg[2])
{
	leg[0] = leg_behind_breaker(s, item);
	if (leg[0] != RIG_FITS_OFF)
		return 1;
	const rig_legs *legs = &s->at.legs;
	const bool second_fuller = fits_square(legs->leg2) >= fits_square(legs->leg1);
	leg[0] = second_fuller ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
	leg[1] = second_fuller ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
	return 2;
}

/* Puts an item where it holds beside what is on, as that is dealt now. */
static bool fits_beside(fits_search *s, size_t place)
{
	const rig_fits_item *item = s->order[place];
	const fits_hots before = s->at;
	rig_fits_leg leg[2] = {item->leg};
	const int n_legs = item->leg == RIG_FITS_EITHER ? legs_to_try(s, item, leg) : 1;
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
	s->found = s->recorded = true;
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
	return neutral_within(&s->at.neutral, s->problem->neutral_limit_va);
}

/* Puts the legs of what may be dealt on top of the stack. */
static void save_legs(fits_search *s)
{
	for (size_t k = 0; s->n_dealt > 0 && k < s->n_on; k++)
		if (s->order[s->on[k]]->leg == RIG_FITS_EITHER)
			s->saved[s->n_saved++] = s->now[s->on[k]];
}

/* Takes them back; the same is on as when they were saved. */
static void restore_legs(fits_search *s)
{
	for (size_t k = s->n_on; s->n_dealt > 0 && k-- > 0;)
		if (s->order[s->on[k]]->leg == RIG_FITS_EITHER)
			s->now[s->on[k]] = s->saved[--s->n_saved];
}

/* A whole subset. Another load can lower the neutral's current, so it is asked here only. */
static void judge_subset(fits_search *s)
{
	if (s->found && !s->beats(&s->at_hand, &s->best))
		return;
	if (neutral_holds(s)) {
		fits_record(s);
		return;
	}
	if (s->n_dealt == 0)
		return;
	const fits_hots before = s->at;
	save_legs(s);
	if (fits_redeal(s, true))
		fits_record(s);
	restore_legs(s);
	s->at = before;
}

/* Whether the item at depth holds beside the others, or after dealing all anew. */
static bool switch_on(fits_search *s, size_t depth)
{
	if (fits_beside(s, depth)) {
		s->on[s->n_on++] = depth;
		return true;
	}
	s->on[s->n_on++] = depth;
	return s->n_dealt > 0 && fits_redeal(s, false);
}

/* What follows if the item at depth is on. */
static void visit_on(fits_search *s, size_t depth)
{
	const rig_fits_item *item = s->order[depth];
	const bool either = item->leg == RIG_FITS_EITHER;
	const fits_hots at = s->at;
	const double demand_before_w = s->at_hand.demand_w;
	const double weight_before = s->at_hand.weight;
	save_legs(s);
	s->n_dealt += either;
	if (switch_on(s, depth)) {
		s->at_hand.count[item->priority]++;
		settle(s, item, 1.0);
		s->at_hand.demand_w += fits_demand_w(item);
		s->at_hand.weight += item->weight;
		fits_visit(s, depth + 1);
		settle(s, item, -1.0);
		s->at_hand.count[item->priority]--;
	}
	s->n_on--;
	s->n_dealt -= either;
	restore_legs(s);
	s->at = at;
	s->at_hand.demand_w = demand_before_w;
	s->at_hand.weight = weight_before;
}

/* The item at depth on, and what follows; nothing if it cannot be. */
static void try_on(fits_search *s, size_t depth)
{
	const rig_fits_item *item = s->order[depth];
	/* Of twins the first is on if any is. */
	if (s->twin[depth] && s->now[depth - 1] == RIG_FITS_OFF)
		return;
	rig_phasor none = {0};
	rig_phasor *circuit = item->circuit >= 0 ? &s->circuit[item->circuit] : &none;
	const rig_phasor before = *circuit;
	*circuit = fits_add(before, item->loaded);
	if (fits_circuit_holds(s, item))
		visit_on(s, depth);
	*circuit = before;
}

void fits_visit(fits_search *s, size_t depth)
{
	const size_t n = s->problem->n_items;
	if (s->stopped || ++s->n_steps > s->step_limit) {
		s->stopped = true;
		return;
	}
	if (depth == n || !fits_has_room(s, depth)) {
		for (size_t i = depth; i < n; i++)
			s->now[i] = RIG_FITS_OFF;
		judge_subset(s);
		return;
	}
	if (s->found && !s->can_improve(s, depth))
		return;
	try_on(s, depth);
	s->now[depth] = RIG_FITS_OFF;
	fits_visit(s, depth + 1);
}

static rig_phasor turned(rig_phasor phasor, double cosine, double sine)
{
	return (rig_phasor){phasor.active_w * cosine + phasor.reactive_va * sine,
		phasor.reactive_va * cosine - phasor.active_w * sine};
}

static int by_key(const void *left, const void *right)
{
	const rig_fits_item *a = *(const rig_fits_item *const *)left;
	const rig_fits_item *b = *(const rig_fits_item *const *)right;
	return (a->key > b->key) - (a->key < b->key);
}

/* Copies the items with all phasors turned by one angle, so that the sum of all lies along the
 * watts. Magnitudes of sums do not change by that, and a bound that sees only watts loses least.
 * Summed by key, so that the order of the items does not reach the angle's last bit, which may
 * decide between two deals alike. */
static void turn_items(fits_search *s)
{
	const rig_fits_problem *problem = s->problem;
	rig_phasor all = {0};
	for (size_t i = 0; i < problem->n_items; i++)
		s->base[i] = &problem->items[i];
	if (problem->n_items > 0)
		qsort(s->base, problem->n_items, sizeof(const rig_fits_item *), by_key);
	for (size_t i = 0; i < problem->n_items; i++)
		all = fits_add(all, s->base[i]->loaded);
	const double va = rig_phasor_va(all);
	const double cosine = va > 0 ? all.active_w / va : 1.0;
	const double sine = va > 0 ? all.reactive_va / va : 0.0;
	for (size_t i = 0; i < problem->n_items; i++) {
		s->items[i] = problem->items[i];
		s->items[i].loaded = turned(problem->items[i].loaded, cosine, sine);
		s->items[i].plain = turned(problem->items[i].plain, cosine, sine);
	}
}

/* Whether two that are decided one after the other differ by their key only. */
static bool are_twins(const fits_search *s, const rig_fits_item *a, const rig_fits_item *b)
{
	if (a->priority == 0 && b->priority == 0)
		return compare_figures(a, b) == 0;
	return a->priority == b->priority && s->kind[a - s->items] == s->kind[b - s->items];
}

/* What is looked up again and again of each place. */
static void survey_order(fits_search *s)
{
	for (size_t i = s->problem->n_items; i-- > 0;) {
		const bool last = i + 1 == s->problem->n_items;
		const rig_fits_item *item = s->order[i];
		s->twin[i] = i > 0 && are_twins(s, item, s->order[i - 1]);
		s->group_end[i] = last || s->order[i + 1]->priority != item->priority
					  ? i + 1
					  : s->group_end[i + 1];
		s->least_w[i] =
			last ? fits_demand_w(item) : fmin(fits_demand_w(item), s->least_w[i + 1]);
	}
}

/* The wanted items first, the others behind as they stood. */
static void order_wanted(fits_search *s, const bool *wanted)
{
	const size_t n = s->problem->n_items;
	size_t n_wanted = 0;
	for (size_t i = 0; i < n; i++) {
		const bool is_wanted = wanted != NULL && wanted[i];
		s->items[i].priority = is_wanted ? 0 : s->problem->items[i].priority;
		if (is_wanted)
			s->order[n_wanted++] = &s->items[i];
	}
	if (n_wanted > 0)
		qsort(s->order, n_wanted, sizeof(const rig_fits_item *), fits_compare_rank);
	for (size_t i = 0; i < n; i++)
		if (wanted == NULL || !wanted[s->base[i] - s->items])
			s->order[n_wanted++] = s->base[i];
}

void fits_want(fits_search *s, const bool *wanted)
{
	rig_fits_leg *row = s->best.leg;
	order_wanted(s, wanted);
	survey_order(s);
	s->at_hand = s->best = (fits_candidate){0};
	s->best.leg = row;
	s->settled_w[0] = s->settled_w[1] = 0;
	s->found = s->recorded = s->stopped = false;
	s->n_steps = 0;
}

void fits_set_bar(fits_search *s, const fits_candidate *bar)
{
	rig_fits_leg *row = s->best.leg;
	s->best = *bar;
	s->best.leg = row;
	s->found = true;
}

void fits_answer(const fits_search *s, rig_fits_leg leg[])
{
	for (size_t i = 0; i < s->problem->n_items; i++)
		leg[s->order[i] - s->items] = s->best.leg[i];
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
		s->base[i] = &s->items[i];
		s->whole_weights &= item->weight == floor(item->weight);
		if (item->leg != RIG_FITS_LEG_1)
			s->hot_room_w[1] = problem->hot_limit_va;
	}
	if (problem->n_items > 0)
		qsort(s->base, problem->n_items, sizeof(const rig_fits_item *), compare);
	for (size_t i = 0; i < problem->n_items; i++) {
		const bool same = i > 0 && compare_figures(s->base[i], s->base[i - 1]) == 0;
		s->kind[s->base[i] - s->items] = same ? s->kind[s->base[i - 1] - s->items] : i;
		s->order[i] = s->base[i];
	}
	survey_order(s);
}

/* Legs are saved in a row for each item that is on, and one more: none where no load may choose. */
static bool make_stack(fits_search *s, rig_arena *arena)
{
	size_t n = 0;
	for (size_t i = 0; i < s->problem->n_items; i++)
		n += s->problem->items[i].leg == RIG_FITS_EITHER;
	s->saved = rig_arena_take(arena, n * (s->problem->n_items + 1), sizeof *s->saved);
	return s->saved != NULL;
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

static bool make_order(fits_search *s, rig_arena *arena)
{
	const size_t n = s->problem->n_items;
	s->items = rig_arena_take(arena, n, sizeof *s->items);
	s->base = rig_arena_take(arena, n, sizeof(const rig_fits_item *));
	s->order = rig_arena_take(arena, n, sizeof(const rig_fits_item *));
	s->kind = rig_arena_take(arena, n, sizeof *s->kind);
	s->twin = rig_arena_take(arena, n, sizeof *s->twin);
	s->group_end = rig_arena_take(arena, n, sizeof *s->group_end);
	s->least_w = rig_arena_take(arena, n, sizeof *s->least_w);
	return s->items && s->base && s->order && s->kind && s->twin && s->group_end && s->least_w;
}

static bool make_state(fits_search *s, rig_arena *arena)
{
	const size_t n = s->problem->n_items, n_circuits = s->problem->n_circuits;
	s->now = rig_arena_take(arena, n, sizeof *s->now);
	s->on = rig_arena_take(arena, n, sizeof *s->on);
	s->circuit = rig_arena_take(arena, n_circuits, sizeof *s->circuit);
	s->circuit_room_w = rig_arena_take(arena, n_circuits, sizeof *s->circuit_room_w);
	s->circuit_stamp = rig_arena_take(arena, n_circuits, sizeof *s->circuit_stamp);
	s->best.leg = rig_arena_take(arena, n, sizeof *s->best.leg);
	return s->now && s->on && s->circuit && s->circuit_room_w && s->circuit_stamp &&
	       s->best.leg;
}

fits_search *fits_search_new(const rig_fits_problem *problem, rig_arena *arena,
	int (*compare)(const void *, const void *))
{
	fits_search *s = rig_arena_take(arena, 1, sizeof *s);
	if (!s)
		return NULL;
	s->problem = problem;
	s->step_limit = problem->step_limit;
	if (!make_order(s, arena) || !make_state(s, arena) || !make_stack(s, arena) ||
		!make_deal(s, arena))
		return NULL;
	turn_items(s);
	sort_items(s, compare);
	return s;
}
