/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "studies/fits_deal.h"

/* Sums of the same draws in another order may differ in the last bits. */
static const double LIMIT_SLACK_RATIO = 1e-9;
static const double TIE_W = 1e-6;
static const double TIE_WEIGHT = 1e-9;

/* In the innermost loops. */
static inline rig_phasor phasor_add(rig_phasor a, rig_phasor b)
{
	return (rig_phasor){a.active_w + b.active_w, a.reactive_va + b.reactive_va};
}

static inline double square(rig_phasor a)
{
	return a.active_w * a.active_w + a.reactive_va * a.reactive_va;
}

typedef struct {
	rig_legs legs;    /* loaded */
	rig_legs neutral; /* plain */
} hots;

/* A subset that is an answer so far. */
typedef struct {
	rig_fits_leg *leg; /* by place in order */
	int count[RIG_FITS_PRIORITIES + 1];
	double demand_w, weight;
} candidate;

typedef struct search search;
struct search {
	const rig_fits_problem *problem;
	rig_fits_item *items;        /* the problem's, turned */
	const rig_fits_item **order; /* the items in the order in which they are decided */
	bool *twin;                  /* order[i] differs from order[i - 1] by its key only */
	hots at;
	double hot_room_w[2]; /* limits of the relaxed problem; the second is 0 with one hot */
	rig_phasor *circuit;
	double *circuit_room_w; /* scratch of the bounds */
	rig_fits_leg *now;      /* by place in order; those from the present depth on are stale */
	rig_fits_leg *saved;    /* one row of now for each depth */
	candidate *kept;        /* the best so far, best first */
	size_t n_kept, n_wanted;
	double settled_w[2]; /* on each leg, without the EITHER items, which may be dealt anew */
	int n_dealt;         /* EITHER items that are on */
	/* Of a deal: the card of each item and of each circuit, the cards and their legs. */
	size_t *card, *circuit_card;
	rig_deal_card *cards;
	unsigned char *card_leg;
	rig_deal_room room;
	bool full, stopped; /* full: as many kept as are wanted, so that there is one to beat */
	size_t n_steps;
	bool (*can_improve)(search *s, size_t depth);
	bool (*beats)(const candidate *a, const candidate *b);
	candidate at_hand;    /* what is on now; leg is not set */
	const candidate *bar; /* the last of the kept when full */
	bool whole_weights;   /* then a bound may be rounded down */
};

/* Watts of the turned phasor, all hots together. */
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

static void draw_on(rig_legs *legs, rig_phasor draw, rig_fits_leg leg)
{
	if (leg != RIG_FITS_LEG_2)
		legs->leg1 = phasor_add(legs->leg1, draw);
	if (leg != RIG_FITS_LEG_1)
		legs->leg2 = phasor_add(legs->leg2, draw);
}

static bool within(rig_phasor sum, double limit_va)
{
	const double limit = limit_va * (1.0 + LIMIT_SLACK_RATIO);
	return square(sum) <= limit * limit;
}

static bool hots_hold(const search *s)
{
	return within(s->at.legs.leg1, s->problem->hot_limit_va) &&
	       within(s->at.legs.leg2, s->problem->hot_limit_va);
}

static bool neutral_within(const rig_legs *plain, double limit_va)
{
	const rig_phasor apart = {plain->leg1.active_w - plain->leg2.active_w,
		plain->leg1.reactive_va - plain->leg2.reactive_va};
	return limit_va <= 0 || within(apart, limit_va);
}

static void put(search *s, const rig_fits_item *item, rig_fits_leg leg)
{
	draw_on(&s->at.legs, item->loaded, leg);
	draw_on(&s->at.neutral, item->plain, leg);
}

/* The leg that an EITHER item must take because another behind its breaker has it; else OFF. */
static rig_fits_leg leg_behind_breaker(const search *s, const rig_fits_item *item, size_t n_first)
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
	const search *s, const rig_fits_item *item, size_t n_first, rig_fits_leg leg[2])
{
	leg[0] = leg_behind_breaker(s, item, n_first);
	if (leg[0] != RIG_FITS_OFF)
		return 1;
	const rig_legs *legs = &s->at.legs;
	const bool second_fuller = square(legs->leg2) >= square(legs->leg1);
	leg[0] = second_fuller ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
	leg[1] = second_fuller ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
	return 2;
}

/* The card that an EITHER item is dealt with: its own, or that of its breaker. */
static size_t card_of(search *s, const rig_fits_item *item, size_t *n)
{
	const bool alone = item->circuit < 0 || s->problem->circuit_has_both[item->circuit];
	if (!alone && s->circuit_card[item->circuit] < *n)
		return s->circuit_card[item->circuit];
	if (!alone)
		s->circuit_card[item->circuit] = *n;
	s->cards[*n] = (rig_deal_card){0};
	return (*n)++;
}

/* Deals those of the first items that are on anew. False if no deal is within limit_va; s->now and
 * s->at are then as before. */
static bool deal_anew(search *s, size_t n_first, const rig_deal_problem *limits)
{
	rig_deal_problem problem = *limits;
	problem.cards = s->cards;
	problem.step_limit = s->problem->step_limit;
	hots own = {0};
	for (size_t c = 0; c < s->problem->n_circuits; c++)
		s->circuit_card[c] = SIZE_MAX;
	for (size_t i = 0; i < n_first; i++) {
		const rig_fits_item *item = s->order[i];
		if (s->now[i] == RIG_FITS_OFF)
			continue;
		if (item->leg != RIG_FITS_EITHER) {
			draw_on(&own.legs, item->loaded, s->now[i]);
			draw_on(&own.neutral, item->plain, s->now[i]);
			continue;
		}
		rig_deal_card *card = &s->cards[s->card[i] = card_of(s, item, &problem.n)];
		card->loaded = phasor_add(card->loaded, item->loaded);
		card->plain = phasor_add(card->plain, item->plain);
	}
	problem.loaded = own.legs;
	problem.plain = own.neutral;
	const rig_deal_answer dealt = rig_deal(&problem, &s->room, s->card_leg);
	s->n_steps += dealt.n_steps;
	s->stopped |= !dealt.proved;
	if (!dealt.found)
		return false;
	s->at = own;
	for (size_t i = 0; i < n_first; i++) {
		if (s->now[i] == RIG_FITS_OFF || s->order[i]->leg != RIG_FITS_EITHER)
			continue;
		s->now[i] = s->card_leg[s->card[i]] ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
		put(s, s->order[i], s->now[i]);
	}
	return true;
}

/* Any deal of the first items that holds. */
static bool redeal(search *s, size_t n_first, bool ask_neutral)
{
	const rig_deal_problem limits = {.limit_va = s->problem->hot_limit_va,
		.neutral_limit_va = ask_neutral ? s->problem->neutral_limit_va : 0,
		.enough_va = INFINITY};
	return deal_anew(s, n_first, &limits);
}

/* Puts what is on now among the kept, behind its equals. */
static void record(search *s)
{
	const size_t n = s->problem->n_items;
	size_t at = s->n_kept < s->n_wanted ? s->n_kept++ : s->n_wanted - 1;
	rig_fits_leg *row = s->kept[at].leg;
	for (; at > 0 && s->beats(&s->at_hand, &s->kept[at - 1]); at--)
		s->kept[at] = s->kept[at - 1];
	s->kept[at] = s->at_hand;
	s->kept[at].leg = row;
	memcpy(row, s->now, n * sizeof *row);
	s->full = s->n_kept == s->n_wanted;
	s->bar = &s->kept[s->n_wanted - 1];
}

/* Puts an item where it holds beside what is on of the first items, as that is dealt now. */
static bool fits_beside(search *s, size_t place, size_t n_first)
{
	const rig_fits_item *item = s->order[place];
	const hots before = s->at;
	rig_fits_leg leg[2] = {item->leg};
	const int n_legs = item->leg == RIG_FITS_EITHER ? legs_to_try(s, item, n_first, leg) : 1;
	for (int i = 0; i < n_legs; i++) {
		s->now[place] = leg[i];
		put(s, item, leg[i]);
		if (hots_hold(s))
			return true;
		s->at = before;
	}
	return false;
}

static bool circuit_holds(const search *s, const rig_fits_item *item)
{
	return item->circuit < 0 || s->problem->circuit_limit_va[item->circuit] <= 0 ||
	       within(s->circuit[item->circuit], s->problem->circuit_limit_va[item->circuit]);
}

static void settle(search *s, const rig_fits_item *item, double factor)
{
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_BOTH)
		s->settled_w[0] += factor * item->loaded.active_w;
	if (item->leg == RIG_FITS_LEG_2 || item->leg == RIG_FITS_BOTH)
		s->settled_w[1] += factor * item->loaded.active_w;
}

static bool neutral_holds(const search *s)
{
	return neutral_within(&s->at.neutral, s->problem->neutral_limit_va);
}

/* A whole subset. Another load can lower the neutral's current, so it is asked here only. */
static void judge_subset(search *s)
{
	const size_t n = s->problem->n_items;
	if (s->full && !s->beats(&s->at_hand, s->bar))
		return;
	if (neutral_holds(s)) {
		record(s);
		return;
	}
	if (s->n_dealt == 0)
		return;
	const hots before = s->at;
	rig_fits_leg *row = s->saved + n * n;
	memcpy(row, s->now, n * sizeof *row);
	if (redeal(s, n, true))
		record(s);
	memcpy(s->now, row, n * sizeof *row);
	s->at = before;
}

static void visit(search *s, size_t depth);

/* What follows if the item at depth is on: beside the others, or after dealing all anew. */
static void visit_on(search *s, size_t depth)
{
	const rig_fits_item *item = s->order[depth];
	const hots at = s->at;
	const double demand_before_w = s->at_hand.demand_w;
	const double weight_before = s->at_hand.weight;
	rig_fits_leg *row = s->saved + depth * s->problem->n_items;
	memcpy(row, s->now, depth * sizeof *row);
	s->n_dealt += item->leg == RIG_FITS_EITHER;
	if (fits_beside(s, depth, depth) || (s->n_dealt > 0 && redeal(s, depth + 1, false))) {
		s->at_hand.count[item->priority]++;
		settle(s, item, 1.0);
		s->at_hand.demand_w += demand_w(item);
		s->at_hand.weight += item->weight;
		visit(s, depth + 1);
		settle(s, item, -1.0);
		s->at_hand.count[item->priority]--;
	}
	s->n_dealt -= item->leg == RIG_FITS_EITHER;
	memcpy(s->now, row, depth * sizeof *row);
	s->at = at;
	s->at_hand.demand_w = demand_before_w;
	s->at_hand.weight = weight_before;
}

static void visit(search *s, size_t depth)
{
	if (s->stopped || ++s->n_steps > s->problem->step_limit) {
		s->stopped = true;
		return;
	}
	if (depth == s->problem->n_items) {
		judge_subset(s);
		return;
	}
	if (s->full && !s->can_improve(s, depth))
		return;
	const rig_fits_item *item = s->order[depth];
	/* Of twins the first is on if any is. */
	if (!s->twin[depth] || s->now[depth - 1] != RIG_FITS_OFF) {
		rig_phasor none = {0};
		rig_phasor *circuit = item->circuit >= 0 ? &s->circuit[item->circuit] : &none;
		const rig_phasor before = *circuit;
		*circuit = phasor_add(before, item->loaded);
		if (circuit_holds(s, item))
			visit_on(s, depth);
		*circuit = before;
	}
	s->now[depth] = RIG_FITS_OFF;
	visit(s, depth + 1);
}

/* The relaxed problem behind both bounds: watts of the turned phasors only, and nested limits only.
 * A load of 240 V or on either leg is held against all hots together, the others also against their
 * leg and circuit. Taking what fits in order of size (or of weight a watt, in parts) is then the
 * best that can be, and the true problem cannot do better. */
typedef struct {
	double all_w, leg_w[2];
	double *circuit_w;
} room;

static room room_left(search *s)
{
	const double slack = 1.0 + LIMIT_SLACK_RATIO;
	room left = {.circuit_w = s->circuit_room_w};
	left.all_w = (s->hot_room_w[0] + s->hot_room_w[1]) * slack - s->at.legs.leg1.active_w -
		     s->at.legs.leg2.active_w;
	for (int leg = 0; leg < 2; leg++)
		left.leg_w[leg] = s->hot_room_w[leg] * slack - s->settled_w[leg];
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
	double least_w = s->at_hand.demand_w;
	size_t i = depth;
	for (int priority = 0; priority <= RIG_FITS_PRIORITIES; priority++) {
		int most = s->at_hand.count[priority];
		if (i < s->problem->n_items && s->order[i]->priority == priority) {
			/* Each priority anew, but for the watts that those before it take at
			 * least. */
			room left = room_left(s);
			left.all_w -= least_w - s->at_hand.demand_w;
			most += most_of(s, &i, &left, &least_w);
		}
		if (most != s->bar->count[priority])
			return most > s->bar->count[priority];
	}
	return least_w < s->bar->demand_w - TIE_W;
}

static bool beats_by_count(const candidate *a, const candidate *b)
{
	for (int priority = 0; priority <= RIG_FITS_PRIORITIES; priority++)
		if (a->count[priority] != b->count[priority])
			return a->count[priority] > b->count[priority];
	return a->demand_w < b->demand_w - TIE_W;
}

static bool can_improve_weight(search *s, size_t depth)
{
	room left = room_left(s);
	double most = s->at_hand.weight;
	for (size_t i = depth; i < s->problem->n_items; i++) {
		const rig_fits_item *item = s->order[i];
		const double item_w = demand_w(item);
		const double taken_w = fmax(0.0, fmin(item_w, room_for_w(&left, item)));
		use_room(&left, item, taken_w);
		most += item_w > 0 ? item->weight * taken_w / item_w : item->weight;
	}
	if (s->whole_weights)
		most = floor(most + 1e-6);
	return most > s->bar->weight + TIE_WEIGHT;
}

static bool beats_by_weight(const candidate *a, const candidate *b)
{
	return a->weight > b->weight + TIE_WEIGHT;
}

static rig_phasor turned(rig_phasor phasor, double cosine, double sine)
{
	return (rig_phasor){phasor.active_w * cosine + phasor.reactive_va * sine,
		phasor.reactive_va * cosine - phasor.active_w * sine};
}

/* Copies the items with all phasors turned by one angle, so that the sum of all lies along the
 * watts. Magnitudes of sums do not change by that, and a bound that sees only watts loses least. */
static void turn_items(search *s)
{
	const rig_fits_problem *problem = s->problem;
	rig_phasor all = {0};
	for (size_t i = 0; i < problem->n_items; i++)
		all = phasor_add(all, problem->items[i].loaded);
	const double va = rig_phasor_va(all);
	const double cosine = va > 0 ? all.active_w / va : 1.0;
	const double sine = va > 0 ? all.reactive_va / va : 0.0;
	for (size_t i = 0; i < problem->n_items; i++) {
		s->items[i] = problem->items[i];
		s->items[i].loaded = turned(problem->items[i].loaded, cosine, sine);
		s->items[i].plain = turned(problem->items[i].plain, cosine, sine);
	}
}

static void sort_items(search *s, int (*compare)(const void *, const void *))
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

static bool make_kept(search *s, rig_arena *arena, size_t n_wanted)
{
	s->n_wanted = n_wanted;
	s->kept = rig_arena_take(arena, n_wanted, sizeof *s->kept);
	for (size_t i = 0; s->kept && i < n_wanted; i++) {
		s->kept[i].leg = rig_arena_take(arena, s->problem->n_items, sizeof *s->kept[i].leg);
		if (!s->kept[i].leg)
			return false;
	}
	return s->kept != NULL;
}

static bool make_deal(search *s, rig_arena *arena)
{
	const size_t n = s->problem->n_items;
	s->card = rig_arena_take(arena, n, sizeof *s->card);
	s->circuit_card = rig_arena_take(arena, s->problem->n_circuits, sizeof *s->circuit_card);
	s->cards = rig_arena_take(arena, n, sizeof *s->cards);
	s->card_leg = rig_arena_take(arena, n, sizeof *s->card_leg);
	return s->card && s->circuit_card && s->cards && s->card_leg &&
	       rig_deal_room_make(&s->room, arena, n);
}

/* A search for the n best ready to run; NULL when memory is out. It dies with the arena. */
static search *prepare(const rig_fits_problem *problem, rig_arena *arena,
	int (*compare)(const void *, const void *), size_t n_wanted)
{
	const size_t n = problem->n_items;
	search *s = rig_arena_take(arena, 1, sizeof *s);
	if (!s)
		return NULL;
	s->problem = problem;
	s->items = rig_arena_take(arena, n, sizeof *s->items);
	s->order = rig_arena_take(arena, n, sizeof(const rig_fits_item *));
	s->twin = rig_arena_take(arena, n, sizeof *s->twin);
	s->now = rig_arena_take(arena, n, sizeof *s->now);
	s->circuit = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit);
	s->circuit_room_w = rig_arena_take(arena, problem->n_circuits, sizeof *s->circuit_room_w);
	s->saved = rig_arena_take(arena, (n + 2) * n, sizeof *s->saved);
	if (!s->items || !s->order || !s->twin || !s->now || !s->circuit || !s->circuit_room_w ||
		!s->saved || !make_kept(s, arena, n_wanted) || !make_deal(s, arena))
		return NULL;
	turn_items(s);
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
				sum = phasor_add(sum, problem->items[i].loaded);
		if (problem->circuit_limit_va[c] > 0 && !within(sum, problem->circuit_limit_va[c]))
			return false;
	}
	return within(at.legs.leg1, problem->hot_limit_va) &&
	       within(at.legs.leg2, problem->hot_limit_va) &&
	       neutral_within(&at.neutral, problem->neutral_limit_va);
}

static void answer(const search *s, size_t rank, rig_fits_leg leg[])
{
	const rig_fits_problem *problem = s->problem;
	for (size_t i = 0; i < problem->n_items; i++)
		leg[s->order[i] - s->items] = s->kept[rank].leg[i];
}

static void tell(const search *s, rig_fits_proof *proof)
{
	*proof = (rig_fits_proof){.proved = !s->stopped, .n_steps = s->n_steps};
}

rig_status rig_fits_by_priority(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_rank, 1) : NULL;
	if (s) {
		s->can_improve = can_improve_count;
		s->beats = beats_by_count;
		visit(s, 0);
		answer(s, 0, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

rig_status rig_fits_by_weight(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_density, 1) : NULL;
	if (s) {
		s->can_improve = can_improve_weight;
		s->beats = beats_by_weight;
		visit(s, 0);
		answer(s, 0, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

/* All items on, as a start for a deal; gives the sum of both hots. */
static rig_phasor switch_all_on(search *s)
{
	rig_phasor all = {0};
	for (size_t i = 0; i < s->problem->n_items; i++) {
		const rig_fits_item *item = s->order[i];
		const double n_hots = item->leg == RIG_FITS_BOTH ? 2.0 : 1.0;
		all = phasor_add(all, rig_phasor_scale(item->loaded, n_hots));
		s->now[i] = item->leg;
		if (item->circuit >= 0)
			s->circuit[item->circuit] =
				phasor_add(s->circuit[item->circuit], item->loaded);
	}
	return all;
}

rig_status rig_fits_whole(const rig_fits_problem *problem, bool *fits)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_rank, 1) : NULL;
	if (s) {
		switch_all_on(s);
		bool held = true;
		for (size_t i = 0; i < problem->n_items && held; i++)
			held = circuit_holds(s, &problem->items[i]);
		*fits = held && redeal(s, problem->n_items, true) && hots_hold(s);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

rig_status rig_fits_split(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_rank, 1) : NULL;
	if (s) {
		const rig_phasor all = switch_all_on(s);
		const rig_deal_problem limits = {
			.limit_va = INFINITY, .enough_va = rig_phasor_va(all) / 2.0};
		deal_anew(s, problem->n_items, &limits);
		s->beats = beats_by_count;
		record(s);
		answer(s, 0, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}
