/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits_deal.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Sums of the same draws in another order may differ in the last bits. */
static const double SLACK_RATIO = 1e-9;
/* A tenth of an ampere at 120 V. */
static const double TIE_VA = 12.0;
enum { FIRST_STEPS = 400, MOST_HALVED = 24 };

/* One deal of half of the cards: the sum on leg 1 of those in the mask. */
typedef struct rig_half_deal {
	double active_w, reactive_va;
	uint32_t mask;
} half_deal;

typedef struct {
	const rig_deal_problem *problem;
	rig_deal_room *room;
	unsigned char *leg;
	size_t n;       /* cards that are not blank */
	rig_phasor all; /* cards and what stands on the legs */
	rig_legs at, plain;
	double limit_va; /* falls with each better deal */
	size_t step_limit;
	bool alike; /* the legs, before a card is dealt */
	bool done, stopped;
	rig_deal_answer answer;
} dealer;

static rig_phasor add(rig_phasor a, rig_phasor b)
{
	return (rig_phasor){a.active_w + b.active_w, a.reactive_va + b.reactive_va};
}

static rig_phasor subtract(rig_phasor a, rig_phasor b)
{
	return (rig_phasor){a.active_w - b.active_w, a.reactive_va - b.reactive_va};
}

static double square(rig_phasor a)
{
	return a.active_w * a.active_w + a.reactive_va * a.reactive_va;
}

static bool within(rig_phasor sum, double limit_va)
{
	const double limit = limit_va * (1.0 + SLACK_RATIO);
	return limit_va >= 0 && square(sum) <= limit * limit;
}

bool rig_deal_room_make(rig_deal_room *room, rig_arena *arena, size_t n_most)
{
	*room = (rig_deal_room){.arena = arena,
		.n_most = n_most,
		.order = rig_arena_take(arena, n_most, sizeof *room->order),
		.now = rig_arena_take(arena, n_most, sizeof *room->now)};
	return room->order && room->now;
}

/* A deal that is within limits and better than the one before. */
static void take(dealer *d)
{
	const double fuller_va = sqrt(fmax(square(d->at.leg1), square(d->at.leg2)));
	d->answer.found = true;
	d->answer.fuller_va = fuller_va;
	d->limit_va = fuller_va - TIE_VA;
	d->done = d->limit_va <= d->problem->enough_va;
}

static bool neutral_holds(const dealer *d)
{
	return d->problem->neutral_limit_va <= 0 ||
	       within(subtract(d->plain.leg1, d->plain.leg2), d->problem->neutral_limit_va);
}

/* ---- branch and bound ---- */

static void deal_from(dealer *d, size_t k);

static void deal_card(dealer *d, size_t k)
{
	const rig_deal_card *card = &d->problem->cards[d->room->order[k]];
	const bool second_first = square(d->at.leg2) < square(d->at.leg1);
	const int n_legs = k == 0 && d->alike ? 1 : 2;
	for (int i = 0; i < n_legs && !d->done && !d->stopped; i++) {
		const rig_legs at = d->at, plain = d->plain;
		const bool second = (i == 0) == second_first;
		rig_phasor *on = second ? &d->at.leg2 : &d->at.leg1;
		rig_phasor *plain_on = second ? &d->plain.leg2 : &d->plain.leg1;
		*on = add(*on, card->loaded);
		*plain_on = add(*plain_on, card->plain);
		d->room->now[d->room->order[k]] = second;
		deal_from(d, k + 1);
		d->at = at;
		d->plain = plain;
	}
}

static void deal_from(dealer *d, size_t k)
{
	if (!within(d->at.leg1, d->limit_va) || !within(d->at.leg2, d->limit_va))
		return;
	/* a first deal is always made where none can fail */
	if (++d->answer.n_steps > d->step_limit && isfinite(d->limit_va)) {
		d->stopped = true;
		return;
	}
	if (k < d->n) {
		deal_card(d, k);
		return;
	}
	if (!neutral_holds(d))
		return;
	take(d);
	memcpy(d->leg, d->room->now, d->problem->n * sizeof *d->leg);
}

/* The largest card first; few, so by insertion. Blank ones stay on leg 1. */
static void order_cards(dealer *d)
{
	const rig_deal_card *cards = d->problem->cards;
	size_t *order = d->room->order;
	for (size_t i = 0; i < d->problem->n; i++) {
		d->room->now[i] = 0;
		if (square(cards[i].loaded) <= 0 && square(cards[i].plain) <= 0)
			continue;
		size_t at = d->n++;
		for (; at > 0 && square(cards[order[at - 1]].loaded) < square(cards[i].loaded);
			at--)
			order[at] = order[at - 1];
		order[at] = i;
	}
}

/* ---- two halves ---- */

/* Turned by one angle, so that the sum of the cards lies along the watts: magnitudes of sums stay,
 * and watts alone tell most. */
static rig_phasor turned(const dealer *d, rig_phasor a)
{
	const rig_legs *own = &d->problem->loaded;
	const rig_phasor cards = subtract(d->all, add(own->leg1, own->leg2));
	const double va = sqrt(square(cards));
	const double cosine = va > 0 ? cards.active_w / va : 1.0;
	const double sine = va > 0 ? cards.reactive_va / va : 0.0;
	return (rig_phasor){a.active_w * cosine + a.reactive_va * sine,
		a.reactive_va * cosine - a.active_w * sine};
}

/* All deals of some cards, by the watts on leg 1: with each card, the deals so far and the same
 * with it, merged. */
static void list_half(const dealer *d, size_t first, size_t n, half_deal *deals, half_deal *before)
{
	deals[0] = (half_deal){0, 0, 0};
	for (size_t k = 0; k < n; k++) {
		const rig_phasor card =
			turned(d, d->problem->cards[d->room->order[first + k]].loaded);
		const size_t n_before = (size_t)1 << k;
		memcpy(before, deals, n_before * sizeof *deals);
		size_t plain = 0, with = 0;
		for (size_t i = 0; i < 2 * n_before; i++) {
			const bool take_with =
				plain == n_before ||
				(with < n_before && before[with].active_w + card.active_w <
							    before[plain].active_w);
			if (!take_with) {
				deals[i] = before[plain++];
				continue;
			}
			const half_deal *from = &before[with++];
			deals[i] = (half_deal){from->active_w + card.active_w,
				from->reactive_va + card.reactive_va,
				from->mask | (uint32_t)1 << (first + k)};
		}
	}
}

/* Looks at one pair of half deals: the cards of the mask on leg 1, the others on leg 2. */
static void look(dealer *d, rig_phasor on_one, rig_phasor all, uint32_t mask)
{
	const rig_deal_problem *problem = d->problem;
	d->at = (rig_legs){on_one, subtract(all, on_one)};
	if (!within(d->at.leg1, d->limit_va) || !within(d->at.leg2, d->limit_va))
		return;
	d->plain = problem->plain;
	for (size_t k = 0; k < d->n; k++) {
		const size_t card = d->room->order[k];
		rig_phasor *on = mask >> k & 1 ? &d->plain.leg1 : &d->plain.leg2;
		*on = add(*on, problem->cards[card].plain);
		d->room->now[card] = !(mask >> k & 1);
	}
	if (!neutral_holds(d))
		return;
	take(d);
	memcpy(d->leg, d->room->now, problem->n * sizeof *d->leg);
}

static rig_phasor sum_of_all(const rig_deal_problem *problem)
{
	rig_phasor all = add(problem->loaded.leg1, problem->loaded.leg2);
	for (size_t i = 0; i < problem->n; i++)
		all = add(all, problem->cards[i].loaded);
	return all;
}

/* The least magnitude of a number between two ends. */
static double least_between(double low, double high)
{
	return low > 0 ? low : high < 0 ? -high : 0;
}

/* Half deals in order of their watts, and the ends of their reactive volt-amperes. */
typedef struct {
	const half_deal *deals;
	size_t n;
	double low_va, high_va;
} half;

static half half_of(const half_deal *deals, size_t n_cards)
{
	half of = {deals, (size_t)1 << n_cards, 0, 0};
	for (size_t i = 0; i < of.n; i++) {
		of.low_va = fmin(of.low_va, deals[i].reactive_va);
		of.high_va = fmax(of.high_va, deals[i].reactive_va);
	}
	return of;
}

/* The first of them with more watts. */
static size_t first_above(const half *of, double watts_w)
{
	size_t from = 0, to = of->n;
	while (from < to) {
		const size_t middle = (from + to) / 2;
		if (of->deals[middle].active_w > watts_w)
			to = middle;
		else
			from = middle + 1;
	}
	return from;
}

/* The most watts of a leg whose reactive volt-amperes are not less than so many; -1 for none. */
static double most_watts_w(const dealer *d, double reactive_va)
{
	const double limit_va = d->limit_va * (1.0 + SLACK_RATIO);
	const double square_w2 = limit_va * limit_va - reactive_va * reactive_va;
	return limit_va < 0 || square_w2 < 0 ? -1.0 : sqrt(square_w2);
}

/* Every pair with one half deal whose watts leave both legs within the limit, with the least
 * reactive volt-amperes that each of them can have. */
static void pair_one(dealer *d, rig_phasor all, const half_deal *one, const half *other)
{
	const rig_phasor own = turned(d, d->problem->loaded.leg1);
	const rig_phasor with = {own.active_w + one->active_w, own.reactive_va + one->reactive_va};
	const double rest_va = all.reactive_va - with.reactive_va;
	const double least_1 =
		least_between(with.reactive_va + other->low_va, with.reactive_va + other->high_va);
	const double least_2 = least_between(rest_va - other->high_va, rest_va - other->low_va);
	const double most_1_w = most_watts_w(d, least_1), most_2_w = most_watts_w(d, least_2);
	if (most_1_w < 0 || most_2_w < 0)
		return;
	for (size_t j = first_above(other, most_1_w - with.active_w); j-- > 0 && !d->done;) {
		const half_deal *more = &other->deals[j];
		const rig_phasor on_one = {
			with.active_w + more->active_w, with.reactive_va + more->reactive_va};
		if (all.active_w - on_one.active_w > most_2_w)
			return;
		if (++d->answer.n_steps > d->step_limit) {
			d->stopped = true;
			return;
		}
		look(d, on_one, all, one->mask | more->mask);
	}
}

static bool deal_halves(dealer *d)
{
	rig_deal_room *room = d->room;
	const size_t most = room->n_most < MOST_HALVED ? room->n_most : MOST_HALVED;
	const size_t size = (size_t)1 << ((most + 1) / 2);
	if (!room->halves)
		room->halves = rig_arena_take(room->arena, 3 * size, sizeof *room->halves);
	if (!room->halves)
		return false;
	half_deal *one = room->halves, *other = one + size, *before = other + size;
	const size_t n = d->n;
	list_half(d, 0, n / 2, one, before);
	list_half(d, n / 2, n - n / 2, other, before);
	d->answer.n_steps += ((size_t)1 << n / 2) + ((size_t)1 << (n - n / 2));
	d->stopped = false;
	d->step_limit = d->problem->step_limit;
	const half second = half_of(other, n - n / 2);
	const rig_phasor all = turned(d, d->all);
	for (size_t i = 0; i < (size_t)1 << n / 2 && !d->done && !d->stopped; i++)
		pair_one(d, all, &one[i], &second);
	return true;
}

/* ---- a deal ---- */

/* Whether the watts of both legs together are within two limits. */
static bool has_room(const dealer *d)
{
	return !isfinite(d->limit_va) || within(d->all, 2.0 * d->limit_va);
}

rig_deal_answer rig_deal(const rig_deal_problem *problem, rig_deal_room *room, unsigned char leg[])
{
	dealer d = {.problem = problem,
		.room = room,
		.leg = leg,
		.all = sum_of_all(problem),
		.at = problem->loaded,
		.plain = problem->plain,
		.limit_va = problem->limit_va,
		.alike = problem->loaded.leg1.active_w == problem->loaded.leg2.active_w &&
			 problem->loaded.leg1.reactive_va == problem->loaded.leg2.reactive_va &&
			 problem->plain.leg1.active_w == problem->plain.leg2.active_w &&
			 problem->plain.leg1.reactive_va == problem->plain.leg2.reactive_va};
	if (!has_room(&d))
		return (rig_deal_answer){.proved = true};
	order_cards(&d);
	const bool halved = d.n <= MOST_HALVED;
	d.step_limit =
		halved && problem->step_limit > FIRST_STEPS ? FIRST_STEPS : problem->step_limit;
	deal_from(&d, 0);
	if (d.stopped && halved)
		d.stopped = !deal_halves(&d) || d.stopped;
	d.answer.proved = !d.stopped;
	return d.answer;
}
