/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_search.h: the order of dropping that costs least. Neighbours of the shed study only. */
#ifndef STUDIES_SHED_SEARCH_H
#define STUDIES_SHED_SEARCH_H

#include "studies/shed_model.h"

typedef struct {
	double points; /* of all the days together */
	int group[SHED_MAX_GROUPS];
	bool proved;       /* no order costs less */
	size_t n_branches; /* groups of orders that were followed */
} shed_best;

/* Up to eight groups every order is held against the others, else those that one move makes of the
 * best so far, again and again. A day is run once for all orders, and parts them only where its
 * course asks which of some loads goes first; orders that differ elsewhere stay together. Orders
 * are left behind as soon as they cost what the best one does, the least that the coming days can
 * cost counted in. Groups are numbered in the own order, which stays unless another costs less; of
 * equals the one that comes first by those numbers is given, so that nothing moves without need.
 *   days         the costliest first is quickest
 *   own_points   what the own order costs
 * RIG_NO_MEMORY. */
rig_status shed_find_best(const shed_model *model, shed_day *const *days, size_t n_days,
	double own_points, shed_best *best);

#endif
