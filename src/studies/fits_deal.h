/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fits_deal.h: loads of unknown leg dealt to two legs, as cards: what shares a breaker is one card.
 * Knows sums and limits; knows nothing of priorities. */
#ifndef STUDIES_FITS_DEAL_H
#define STUDIES_FITS_DEAL_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "rigbudget/phasor.h"

typedef struct {
	rig_phasor loaded, plain;
} rig_deal_card;

typedef struct {
	rig_legs loaded, plain; /* what stands on the legs already */
	size_t n;
	const rig_deal_card *cards;
	double limit_va;         /* that neither leg may pass; INFINITY for none */
	double neutral_limit_va; /* of |leg 1 - leg 2| of the plain sums; 0 for none */
	/* Good enough: a deal whose fuller leg has no more than this and 0.1 A at 120 V ends the
	 * search. INFINITY: any deal will do; half of all there is: the most even one. */
	double enough_va;
	size_t step_limit; /* nodes, and pairs of half deals, that are looked at */
} rig_deal_problem;

typedef struct {
	bool found;
	bool proved; /* no deal is within limits, or none has a fuller leg lower by 0.1 A */
	size_t n_steps;
	double fuller_va; /* of the deal found; never more than 0.1 A and fuller_va less half of all
			     there is above the best, proved or not */
} rig_deal_answer;

/* Room that deals of one search share. All NULL at first; dies with its arena. */
typedef struct {
	rig_arena *arena;
	size_t n_most; /* cards that there can be */
	size_t *order;
	unsigned char *now;
	struct rig_half_deal *halves; /* taken when first needed */
} rig_deal_room;

/* RIG_NO_MEMORY as false. */
bool rig_deal_room_make(rig_deal_room *room, rig_arena *arena, size_t n_most);

/* Deals the cards, the largest first, by branch and bound for some hundred nodes. Where that does
 * not settle it, and up to 24 cards, all sums of either half of them in order, gone through from
 * both ends: only pairs whose watts can do are looked at, so an exact answer takes some 2^(n / 2)
 * steps. With more cards the branching goes on.
 *   leg   out: 0 or 1 for each card; untouched unless found */
rig_deal_answer rig_deal(const rig_deal_problem *problem, rig_deal_room *room, unsigned char leg[]);

#endif
