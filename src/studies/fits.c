/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "studies/subset_sum.h"

/* Sums of the same draws in another order may differ in the last bits. */
static const double LIMIT_SLACK_RATIO = 1e-9;
static const double TIE_W = 1e-6;
static const double TIE_WEIGHT = 1e-9;
/* A tenth of an ampere at 120 V. */
static const double SPLIT_TIE_VA = 12.0;

typedef struct {
	rig_legs legs;    /* loaded */
	rig_legs neutral; /* plain */
} hots;

/* Dealing the EITHER items that are on to the legs. */
typedef struct {
	size_t n;
	size_t *item; /* places in search.order, largest first */
	bool *twin;   /* item[k] differs from item[k - 1] by its key only */
	rig_fits_leg *best;
	double limit_va; /* the fuller leg must not pass this; falls with each better deal */
	double ideal_va; /* good enough to stop */
	bool ask_neutral;
	bool found, done;
} dealing;

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
	size_t *by_size;             /* places in order of the EITHER items, largest first */
	size_t n_either;
	bool any_fixed; /* some item has its own leg: the legs are not alike */
	hots at;
	double hot_room_w[2]; /* limits of the relaxed problem; the second is 0 with one hot */
	rig_phasor *circuit;
	double *circuit_room_w; /* scratch of the bounds */
	rig_fits_leg *now;      /* by place in order; those from the present depth on are stale */
	rig_fits_leg *saved;    /* one row of now for each depth */
	candidate *kept;        /* the best so far, best first */
	size_t n_kept, n_wanted;
	bool whole_only;     /* only subsets to which nothing can be added count */
	double settled_w[2]; /* on each leg, without the EITHER items, which may be dealt anew */
	int n_dealt;         /* EITHER items that are on */
	double *either_w, *sums_w; /* scratch of watts_can_hold */
	dealing deal;
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

static int compare_size(const rig_fits_item *a, const rig_fits_item *b)
{
	const int order = by_number(rig_phasor_va(b->loaded), rig_phasor_va(a->loaded));
	return order != 0 ? order : compare_rank(&a, &b);
}

static void draw_on(rig_legs *legs, rig_phasor draw, rig_fits_leg leg)
{
	if (leg != RIG_FITS_LEG_2)
		legs->leg1 = rig_phasor_add(legs->leg1, draw);
	if (leg != RIG_FITS_LEG_1)
		legs->leg2 = rig_phasor_add(legs->leg2, draw);
}

static bool within(rig_phasor sum, double limit_va)
{
	const double limit = limit_va * (1.0 + LIMIT_SLACK_RATIO);
	return sum.active_w * sum.active_w + sum.reactive_va * sum.reactive_va <= limit * limit;
}

static bool hots_hold(const search *s)
{
	return within(s->at.legs.leg1, s->problem->hot_limit_va) &&
	       within(s->at.legs.leg2, s->problem->hot_limit_va);
}

static bool neutral_within(const rig_legs *plain, double limit_va)
{
	return limit_va <= 0 ||
	       rig_neutral_split_a(plain, 1.0) <= limit_va * (1.0 + LIMIT_SLACK_RATIO);
}

static double fuller_va(const rig_legs *legs)
{
	return fmax(rig_phasor_va(legs->leg1), rig_phasor_va(legs->leg2));
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
	const bool second_fuller = rig_phasor_va(legs->leg2) >= rig_phasor_va(legs->leg1);
	leg[0] = second_fuller ? RIG_FITS_LEG_1 : RIG_FITS_LEG_2;
	leg[1] = second_fuller ? RIG_FITS_LEG_2 : RIG_FITS_LEG_1;
	return 2;
}

static void deal_from(search *s, size_t k, size_t n_first);

/* Tries the legs for the k-th item of the deal. Of twins, the legs do not fall, and the first item
 * takes one leg only where the legs are alike: all else is the same deal over again. */
static void deal_one(search *s, size_t k, size_t n_first)
{
	const size_t place = s->deal.item[k];
	const rig_fits_item *item = s->order[place];
	rig_fits_leg leg[2];
	int n_legs = legs_to_try(s, item, n_first, leg);
	if (k == 0 && !s->any_fixed)
		n_legs = 1;
	for (int i = 0; i < n_legs && !s->deal.done; i++) {
		if (s->deal.twin[k] && leg[i] < s->now[s->deal.item[k - 1]])
			continue;
		const hots before = s->at;
		s->now[place] = leg[i];
		put(s, item, leg[i]);
		deal_from(s, k + 1, n_first);
		s->now[place] = RIG_FITS_OFF;
		s->at = before;
	}
}

static void deal_from(search *s, size_t k, size_t n_first)
{
	dealing *deal = &s->deal;
	if (deal->done || !within(s->at.legs.leg1, deal->limit_va) ||
		!within(s->at.legs.leg2, deal->limit_va))
		return;
	/* a first deal is always made where none can fail */
	if (++s->n_steps > s->problem->step_limit && isfinite(deal->limit_va)) {
		s->stopped = deal->done = true;
		return;
	}
	if (k < deal->n) {
		deal_one(s, k, n_first);
		return;
	}
	if (deal->ask_neutral && !neutral_within(&s->at.neutral, s->problem->neutral_limit_va))
		return;
	deal->found = true;
	for (size_t i = 0; i < deal->n; i++)
		deal->best[i] = s->now[deal->item[i]];
	deal->limit_va = fuller_va(&s->at.legs) - SPLIT_TIE_VA;
	deal->done = deal->limit_va <= deal->ideal_va;
}

/* Deals those of the first items that are on anew, the largest first. False if no deal is within
 * limit_va; then the legs in s->now are lost. */
static bool deal_anew(search *s, size_t n_first, double limit_va, double ideal_va)
{
	dealing *deal = &s->deal;
	deal->n = 0;
	deal->found = deal->done = false;
	deal->limit_va = limit_va;
	deal->ideal_va = ideal_va;
	s->at = (hots){0};
	for (size_t i = 0; i < s->n_either; i++) {
		const size_t place = s->by_size[i];
		if (place >= n_first || s->now[place] == RIG_FITS_OFF)
			continue;
		const size_t k = deal->n++;
		deal->item[k] = place;
		deal->twin[k] =
			k > 0 && compare_figures(s->order[place], s->order[deal->item[k - 1]]) == 0;
	}
	for (size_t i = 0; i < n_first; i++)
		if (s->now[i] != RIG_FITS_OFF && s->order[i]->leg != RIG_FITS_EITHER)
			put(s, s->order[i], s->now[i]);
	for (size_t k = 0; k < deal->n; k++)
		s->now[deal->item[k]] = RIG_FITS_OFF;
	deal_from(s, 0, n_first);
	for (size_t k = 0; deal->found && k < deal->n; k++) {
		s->now[deal->item[k]] = deal->best[k];
		put(s, s->order[deal->item[k]], deal->best[k]);
	}
	return deal->found;
}

/* Whether the EITHER items among the first that are on can be dealt so that the watts alone of each
 * leg hold, and nothing else asked. Watts of turned phasors are never more than their volt-amperes.
 */
static bool watts_can_hold(search *s, size_t n_first)
{
	rig_legs own = {0};
	double all_w = 0;
	size_t n = 0;
	if (s->n_either > RIG_SUBSET_SUM_MOST)
		return true;
	for (size_t i = 0; i < n_first; i++) {
		const rig_fits_item *item = s->order[i];
		if (s->now[i] == RIG_FITS_OFF)
			continue;
		if (item->leg != RIG_FITS_EITHER) {
			draw_on(&own, item->loaded, s->now[i]);
			continue;
		}
		s->either_w[n++] = item->loaded.active_w;
		all_w += item->loaded.active_w;
	}
	const double limit_w = s->problem->hot_limit_va * (1.0 + 2.0 * LIMIT_SLACK_RATIO);
	return rig_subset_sum(s->either_w, n, all_w + own.leg2.active_w - limit_w,
		limit_w - own.leg1.active_w, s->sums_w);
}

/* Any deal of the first items that holds. */
static bool redeal(search *s, size_t n_first, bool ask_neutral)
{
	s->deal.ask_neutral = ask_neutral;
	return watts_can_hold(s, n_first) &&
	       deal_anew(s, n_first, s->problem->hot_limit_va, INFINITY);
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

/* Whether a load that is off holds beside all that is on, dealt anew if need be. */
static bool could_add(search *s, size_t place)
{
	const size_t n = s->problem->n_items;
	const rig_fits_item *item = s->order[place];
	const hots at = s->at;
	rig_fits_leg *row = s->saved + (n + 1) * n;
	rig_phasor none = {0};
	rig_phasor *circuit = item->circuit >= 0 ? &s->circuit[item->circuit] : &none;
	const rig_phasor before = *circuit;
	memcpy(row, s->now, n * sizeof *row);
	*circuit = rig_phasor_add(before, item->loaded);
	const bool any_dealt = s->n_dealt > 0 || item->leg == RIG_FITS_EITHER;
	bool holds = circuit_holds(s, item);
	if (holds && !(fits_beside(s, place, n) && neutral_holds(s))) {
		s->now[place] = item->leg;
		holds = any_dealt && redeal(s, n, true);
	}
	*circuit = before;
	memcpy(s->now, row, n * sizeof *row);
	s->at = at;
	return holds;
}

static bool could_add_any(search *s)
{
	for (size_t i = 0; i < s->problem->n_items; i++)
		if (s->now[i] == RIG_FITS_OFF && could_add(s, i))
			return true;
	return false;
}

static void offer(search *s)
{
	if (!s->whole_only || !could_add_any(s))
		record(s);
}

/* A whole subset. Another load can lower the neutral's current, so it is asked here only. */
static void judge_subset(search *s)
{
	const size_t n = s->problem->n_items;
	if (s->full && !s->beats(&s->at_hand, s->bar))
		return;
	if (neutral_holds(s)) {
		offer(s);
		return;
	}
	if (s->n_dealt == 0)
		return;
	const hots before = s->at;
	rig_fits_leg *row = s->saved + n * n;
	memcpy(row, s->now, n * sizeof *row);
	if (redeal(s, n, true))
		offer(s);
	memcpy(s->now, row, n * sizeof *row);
	s->at = before;
}

/* All that is on of the first items and all that follow, each of unknown leg on both; and what the
 * circuits would carry. */
static hots most_on(const search *s, size_t depth)
{
	hots most = {0};
	for (size_t i = 0; i < s->problem->n_items; i++) {
		if (i < depth && s->now[i] == RIG_FITS_OFF)
			continue;
		const rig_fits_item *item = s->order[i];
		const rig_fits_leg leg = item->leg == RIG_FITS_EITHER ? RIG_FITS_BOTH : item->leg;
		draw_on(&most.legs, item->loaded, leg);
		draw_on(&most.neutral, item->plain, leg);
	}
	return most;
}

static rig_phasor most_on_circuit(const search *s, size_t depth, int circuit)
{
	rig_phasor most = {0};
	for (size_t i = 0; i < s->problem->n_items; i++)
		if (s->order[i]->circuit == circuit && (i >= depth || s->now[i] != RIG_FITS_OFF))
			most = rig_phasor_add(most, s->order[i]->loaded);
	return most;
}

/* Whether a load that is off would hold whatever else is switched on from here, so that no subset
 * below is one to which nothing can be added. */
static bool surely_could_add(const search *s, size_t depth, size_t place, const hots *most)
{
	const rig_fits_item *item = s->order[place];
	hots with = *most;
	const rig_fits_leg leg = item->leg == RIG_FITS_EITHER ? RIG_FITS_BOTH : item->leg;
	draw_on(&with.legs, item->loaded, leg);
	draw_on(&with.neutral, item->plain, leg);
	const rig_legs *plain = &with.neutral;
	const rig_fits_problem *problem = s->problem;
	if (!within(with.legs.leg1, problem->hot_limit_va) ||
		!within(with.legs.leg2, problem->hot_limit_va))
		return false;
	/* phasors of one quadrant differ by no more than this */
	if (problem->neutral_limit_va > 0 &&
		hypot(rig_phasor_va(plain->leg1), rig_phasor_va(plain->leg2)) >
			problem->neutral_limit_va)
		return false;
	if (item->circuit < 0 || problem->circuit_limit_va[item->circuit] <= 0)
		return true;
	const rig_phasor circuit = most_on_circuit(s, depth, item->circuit);
	return within(
		rig_phasor_add(circuit, item->loaded), problem->circuit_limit_va[item->circuit]);
}

static bool is_doomed(const search *s, size_t depth)
{
	const hots most = most_on(s, depth);
	for (size_t i = 0; i < depth; i++)
		if (s->now[i] == RIG_FITS_OFF && surely_could_add(s, depth, i, &most))
			return true;
	return false;
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
	if (s->whole_only && is_doomed(s, depth))
		return;
	const rig_fits_item *item = s->order[depth];
	/* Of twins the first is on if any is. */
	if (!s->twin[depth] || s->now[depth - 1] != RIG_FITS_OFF) {
		rig_phasor none = {0};
		rig_phasor *circuit = item->circuit >= 0 ? &s->circuit[item->circuit] : &none;
		const rig_phasor before = *circuit;
		*circuit = rig_phasor_add(before, item->loaded);
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

static void list_either(search *s)
{
	const size_t n = s->problem->n_items;
	for (size_t i = 0; i < n; i++)
		if (s->order[i]->leg == RIG_FITS_EITHER)
			s->by_size[s->n_either++] = i;
	/* few, and nearly in order: by insertion */
	for (size_t i = 1; i < s->n_either; i++)
		for (size_t k = i; k > 0; k--) {
			const size_t here = s->by_size[k], before = s->by_size[k - 1];
			if (compare_size(s->order[before], s->order[here]) <= 0)
				break;
			s->by_size[k] = before;
			s->by_size[k - 1] = here;
		}
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
		all = rig_phasor_add(all, problem->items[i].loaded);
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

static bool make_sums(search *s, rig_arena *arena)
{
	const size_t n = s->n_either;
	if (n > RIG_SUBSET_SUM_MOST)
		return true;
	s->either_w = rig_arena_take(arena, n, sizeof *s->either_w);
	s->sums_w = rig_arena_take(arena, rig_subset_sum_scratch(n), sizeof *s->sums_w);
	return s->either_w && s->sums_w;
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
	s->by_size = rig_arena_take(arena, n, sizeof *s->by_size);
	s->saved = rig_arena_take(arena, (n + 2) * n, sizeof *s->saved);
	s->deal.item = rig_arena_take(arena, n, sizeof *s->deal.item);
	s->deal.twin = rig_arena_take(arena, n, sizeof *s->deal.twin);
	s->deal.best = rig_arena_take(arena, n, sizeof *s->deal.best);
	if (!s->items || !s->order || !s->twin || !s->now || !s->circuit || !s->circuit_room_w ||
		!s->by_size || !s->saved || !s->deal.item || !s->deal.twin || !s->deal.best ||
		!make_kept(s, arena, n_wanted))
		return NULL;
	turn_items(s);
	sort_items(s, compare);
	list_either(s);
	return make_sums(s, arena) ? s : NULL;
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

rig_status rig_fits_several(const rig_fits_problem *problem, size_t n_wanted, rig_fits_leg leg[],
	size_t *n_found, rig_fits_proof *proof)
{
	assert(n_wanted > 0);
	rig_arena *arena = rig_arena_new();
	search *s = arena ? prepare(problem, arena, compare_rank, n_wanted) : NULL;
	if (s) {
		s->can_improve = can_improve_count;
		s->beats = beats_by_count;
		s->whole_only = true;
		visit(s, 0);
		for (size_t i = 0; i < s->n_kept; i++)
			answer(s, i, leg + i * problem->n_items);
		tell(s, proof);
		*n_found = s->n_kept;
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
		all = rig_phasor_add(all, rig_phasor_scale(item->loaded, n_hots));
		s->now[i] = item->leg;
		if (item->circuit >= 0)
			s->circuit[item->circuit] =
				rig_phasor_add(s->circuit[item->circuit], item->loaded);
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
		deal_anew(s, problem->n_items, INFINITY, rig_phasor_va(all) / 2.0);
		s->beats = beats_by_count;
		record(s);
		answer(s, 0, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}
