/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fits_search.h: what the parts of the search for the best subset share. Neighbours of fits.h only.
 */
#ifndef STUDIES_FITS_SEARCH_H
#define STUDIES_FITS_SEARCH_H

#include "base/arena.h"
#include "studies/fits.h"
#include "studies/fits_deal.h"

/* Sums of the same draws in another order may differ in the last bits. */
static const double FITS_SLACK_RATIO = 1e-9;
static const double FITS_TIE_W = 1e-6;

typedef struct {
	rig_legs legs;    /* loaded */
	rig_legs neutral; /* plain */
} fits_hots;

/* A subset that is an answer so far. */
typedef struct {
	rig_fits_leg *leg; /* by place in order */
	int count[RIG_FITS_PRIORITIES + 1];
	double demand_w, weight;
} fits_candidate;

typedef struct fits_search fits_search;
struct fits_search {
	const rig_fits_problem *problem;
	rig_fits_item *items;        /* the problem's, turned */
	const rig_fits_item **base;  /* the items in order, none of them wanted */
	size_t *kind;                /* of each item: alike in all but the key */
	const rig_fits_item **order; /* the items in the order in which they are decided */
	bool *twin;                  /* order[i] differs from order[i - 1] by its key only */
	size_t *group_end;           /* of each place the first behind it of another priority */
	double *least_w;             /* of each place the least demand from there on */
	fits_hots at;
	double hot_room_w[2]; /* limits of the relaxed problem; the second is 0 with one hot */
	rig_phasor *circuit;
	/* Scratch of the bounds: a circuit's room counts if its stamp is that of the bound. */
	double *circuit_room_w;
	unsigned long *circuit_stamp, stamp;
	rig_fits_leg *now;   /* by place in order; those from the present depth on are stale */
	size_t *on, n_on;    /* places that are on, in order */
	size_t n_dealt;      /* EITHER items that are on */
	rig_fits_leg *saved; /* a stack of legs that a deal may change: rows of what is on */
	size_t n_saved;
	double settled_w[2]; /* on each leg, without the EITHER items, which may be dealt anew */
	/* Of a deal: the card of each item and of each circuit, the cards and their legs. */
	size_t *card, *circuit_card;
	rig_deal_card *cards;
	unsigned char *card_leg;
	rig_deal_room room;
	bool found, stopped; /* found: there is one to beat */
	bool recorded;       /* and the search itself came upon it */
	size_t n_steps, step_limit;
	bool (*can_improve)(fits_search *s, size_t depth);
	bool (*beats)(const fits_candidate *a, const fits_candidate *b);
	fits_candidate at_hand; /* what is on now; leg is not set */
	fits_candidate best;
	bool whole_weights; /* then a bound may be rounded down */
};

/* In the innermost loops. */
static inline rig_phasor fits_add(rig_phasor a, rig_phasor b)
{
	return (rig_phasor){a.active_w + b.active_w, a.reactive_va + b.reactive_va};
}

static inline double fits_square(rig_phasor a)
{
	return a.active_w * a.active_w + a.reactive_va * a.reactive_va;
}

static inline bool fits_within(rig_phasor sum, double limit_va)
{
	const double limit = limit_va * (1.0 + FITS_SLACK_RATIO);
	return fits_square(sum) <= limit * limit;
}

static inline void fits_draw_on(rig_legs *legs, rig_phasor draw, rig_fits_leg leg)
{
	if (leg != RIG_FITS_LEG_2)
		legs->leg1 = fits_add(legs->leg1, draw);
	if (leg != RIG_FITS_LEG_1)
		legs->leg2 = fits_add(legs->leg2, draw);
}

/* Watts of a turned phasor, all hots together. */
static inline double fits_demand_w(const rig_fits_item *item)
{
	return item->loaded.active_w * (item->leg == RIG_FITS_BOTH ? 2.0 : 1.0);
}

/* Orders in which items are decided, for qsort. */
int fits_compare_rank(const void *left, const void *right);
int fits_compare_density(const void *left, const void *right);

/* A search ready to run; NULL when memory is out. It dies with the arena. */
fits_search *fits_search_new(const rig_fits_problem *problem, rig_arena *arena,
	int (*compare)(const void *, const void *));
/* Makes it ready to run again with some items wanted before all others, as if of priority 0. Only
 * for the order by rank.
 *   wanted   of the problem's items; NULL: none */
void fits_want(fits_search *s, const bool *wanted);
/* From now on only what is better than this counts. */
void fits_set_bar(fits_search *s, const fits_candidate *bar);
/* What was found, for each of the problem's items. */
void fits_answer(const fits_search *s, rig_fits_leg leg[]);
/* The search, from a depth on. */
void fits_visit(fits_search *s, size_t depth);
/* What is on now becomes the best. */
void fits_record(fits_search *s);

bool fits_hots_hold(const fits_search *s);
bool fits_circuit_holds(const fits_search *s, const rig_fits_item *item);

/* Deals what is on anew. False if no deal is within limits; s->now and s->at are then as before. */
bool fits_deal_anew(fits_search *s, const rig_deal_problem *limits);
/* The same for any deal that holds. */
bool fits_redeal(fits_search *s, bool ask_neutral);

/* Whether any item from there on could be on at all. */
bool fits_has_room(const fits_search *s, size_t depth);
/* Bounds: whether anything below this depth can be better than the best so far. */
bool fits_can_improve_count(fits_search *s, size_t depth);
bool fits_can_improve_weight(fits_search *s, size_t depth);
bool fits_beats_by_count(const fits_candidate *a, const fits_candidate *b);
bool fits_beats_by_weight(const fits_candidate *a, const fits_candidate *b);

#endif
