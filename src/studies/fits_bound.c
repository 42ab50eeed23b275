/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good the rest of a search can be at most. */
#include "studies/fits_search.h"

#include <math.h>

static const double TIE_WEIGHT = 1e-9;

/* The relaxed problem behind both bounds: watts of the turned phasors only, and nested limits only.
 * A load of 240 V or on either leg is held against all hots together, the others also against their
 * leg and circuit. Taking what fits in order of size (or of weight a watt, in parts) is then the
 * best that can be, and the true problem cannot do better. */
typedef struct {
	fits_search *s;
	double all_w, leg_w[2];
} room;

/* Circuits are looked up as they are asked for: most are not. */
static room room_left(fits_search *s)
{
	const double slack = 1.0 + FITS_SLACK_RATIO;
	room left = {.s = s};
	left.all_w = (s->hot_room_w[0] + s->hot_room_w[1]) * slack - s->at.legs.leg1.active_w -
		     s->at.legs.leg2.active_w;
	for (int leg = 0; leg < 2; leg++)
		left.leg_w[leg] = s->hot_room_w[leg] * slack - s->settled_w[leg];
	s->stamp++;
	return left;
}

static double *circuit_room(const room *left, int circuit)
{
	fits_search *s = left->s;
	double *room_w = &s->circuit_room_w[circuit];
	if (s->circuit_stamp[circuit] == s->stamp)
		return room_w;
	const double limit_va = s->problem->circuit_limit_va[circuit];
	s->circuit_stamp[circuit] = s->stamp;
	*room_w = limit_va > 0 ? limit_va * (1.0 + FITS_SLACK_RATIO) - s->circuit[circuit].active_w
			       : INFINITY;
	return room_w;
}

/* The most watts of a load that its room allows. */
static double room_for_w(const room *left, const rig_fits_item *item)
{
	double room_w = left->all_w;
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_LEG_2)
		room_w = fmin(room_w, left->leg_w[item->leg - RIG_FITS_LEG_1]);
	if (item->leg != RIG_FITS_BOTH && item->circuit >= 0)
		room_w = fmin(room_w, *circuit_room(left, item->circuit));
	return room_w;
}

static void use_room(room *left, const rig_fits_item *item, double taken_w)
{
	left->all_w -= taken_w;
	if (item->leg == RIG_FITS_LEG_1 || item->leg == RIG_FITS_LEG_2)
		left->leg_w[item->leg - RIG_FITS_LEG_1] -= taken_w;
	if (item->leg != RIG_FITS_BOTH && item->circuit >= 0)
		*circuit_room(left, item->circuit) -= taken_w;
}

/* How many of one priority, from place i on, can still be on at most, and the least watts that as
 * many take. They stand from the smallest up, so that the first that is too much for all hots
 * together ends it. */
static int most_of(const fits_search *s, size_t i, room *left, double *least_w)
{
	const size_t end = s->group_end[i];
	int n = 0;
	for (; i < end; i++) {
		const rig_fits_item *item = s->order[i];
		const double item_w = fits_demand_w(item);
		if (item_w > left->all_w)
			break;
		if (item_w > room_for_w(left, item))
			continue;
		use_room(left, item, item_w);
		*least_w += item_w;
		n++;
	}
	return n;
}

bool fits_can_improve_count(fits_search *s, size_t depth)
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
			most += most_of(s, i, &left, &least_w);
			i = s->group_end[i];
		}
		if (most != s->best.count[priority])
			return most > s->best.count[priority];
	}
	return least_w < s->best.demand_w - FITS_TIE_W;
}

bool fits_has_room(const fits_search *s, size_t depth)
{
	const double slack = 1.0 + FITS_SLACK_RATIO;
	const double all_w = (s->hot_room_w[0] + s->hot_room_w[1]) * slack -
			     s->at.legs.leg1.active_w - s->at.legs.leg2.active_w;
	return s->least_w[depth] <= all_w + FITS_TIE_W;
}

bool fits_beats_by_count(const fits_candidate *a, const fits_candidate *b)
{
	for (int priority = 0; priority <= RIG_FITS_PRIORITIES; priority++)
		if (a->count[priority] != b->count[priority])
			return a->count[priority] > b->count[priority];
	return a->demand_w < b->demand_w - FITS_TIE_W;
}

bool fits_can_improve_weight(fits_search *s, size_t depth)
{
	room left = room_left(s);
	double most = s->at_hand.weight;
	/* what draws nothing comes first; with all room used the others add nothing */
	for (size_t i = depth; i < s->problem->n_items; i++) {
		if (left.all_w <= 0 && fits_demand_w(s->order[i]) > 0)
			break;
		const rig_fits_item *item = s->order[i];
		const double item_w = fits_demand_w(item);
		const double taken_w = fmax(0.0, fmin(item_w, room_for_w(&left, item)));
		use_room(&left, item, taken_w);
		most += item_w > 0 ? item->weight * taken_w / item_w : item->weight;
	}
	if (s->whole_weights)
		most = floor(most + 1e-6);
	return most > s->best.weight + TIE_WEIGHT;
}

bool fits_beats_by_weight(const fits_candidate *a, const fits_candidate *b)
{
	return a->weight > b->weight + TIE_WEIGHT;
}
