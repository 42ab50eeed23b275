/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fits.h: the best subset of loads that stays within limits on phasor sums, exactly, by branch and
 * bound. Knows demands, limits and ranks; knows nothing of coaches or supplies. */
#ifndef STUDIES_FITS_H
#define STUDIES_FITS_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/phasor.h"
#include "rigbudget/status.h"

enum { RIG_FITS_PRIORITIES = 9 };

/* Where a load draws. In an answer OFF or one of LEG_1, LEG_2, BOTH. */
typedef enum {
	RIG_FITS_OFF,
	RIG_FITS_LEG_1,
	RIG_FITS_LEG_2,
	RIG_FITS_BOTH,  /* the same current in both hots */
	RIG_FITS_EITHER /* on one hot, nobody knows which: the answer may choose */
} rig_fits_leg;

typedef struct {
	int priority;     /* 1 kept longest .. RIG_FITS_PRIORITIES; 0: it is wanted before all
			     others */
	rig_fits_leg leg; /* not OFF; with one hot LEG_1 throughout */
	int circuit;   /* index of its circuit, or -1. But for BOTH, all of a circuit state the same
			  leg */
	int key;       /* settles ties: of two loads alike the smaller key goes first; distinct */
	double weight; /* >= 0 */
	rig_phasor loaded; /* on one hot, held against the limits; both parts >= 0 */
	rig_phasor plain;  /* on one hot, held against the neutral's limit; both parts >= 0 */
} rig_fits_item;

typedef struct {
	size_t n_items, n_circuits;
	const rig_fits_item *items;
	const double *circuit_limit_va; /* 0 for a circuit without a limit */
	const bool *circuit_has_both;   /* it reaches both hots: its EITHER loads may part */
	double hot_limit_va;            /* of each hot, > 0 */
	double neutral_limit_va;        /* of |leg 1 - leg 2|; 0 to leave it out */
	size_t step_limit;              /* the search stops after so many nodes */
} rig_fits_problem;

typedef struct {
	bool proved;    /* the whole tree was searched or bounded away */
	size_t n_steps; /* nodes looked at */
} rig_fits_proof;

/* The subset with as many loads of priority 1 as can be, then as many of 2, and so on; among equals
 * the one that draws least: loaded volt-amperes in step with the sum of all items, all hots
 * together. The order of the items changes nothing. leg   out: for each item where it draws,
 * n_items of them If the search stopped at its limit, the answer fits but may not be the best, and
 * proof says so. RIG_NO_MEMORY. */
rig_status rig_fits_by_priority(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof);

/* The same asked again and again of one problem, which must outlive it, each time with other items
 * wanted before all others, as if they were of priority 0. NULL when memory is out.
 *   wanted   n_items of them; NULL for none */
typedef struct rig_fits_asker rig_fits_asker;
rig_fits_asker *rig_fits_asker_new(const rig_fits_problem *problem);
void rig_fits_asker_free(rig_fits_asker *asker);
void rig_fits_with(
	rig_fits_asker *asker, const bool wanted[], rig_fits_leg leg[], rig_fits_proof *proof);

/* The best few by priority, of those subsets to which no load that is off could be added; so the
 * first is that of rig_fits_by_priority. Of loads alike it is the same which are on. n_wanted  >= 1
 *   leg       out: n_wanted rows of n_items, of which the first *n_found are set, best first
 * If the search stopped at its limit, some or all may be missing, and proof says so; else there is
 * at least one. RIG_NO_MEMORY. */
rig_status rig_fits_several(const rig_fits_problem *problem, size_t n_wanted, rig_fits_leg leg[],
	size_t *n_found, rig_fits_proof *proof);

/* The subset of largest total weight; among equals the first in order of weight a watt. Otherwise
 * as above. */
rig_status rig_fits_by_weight(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof);

/* All items on: the EITHER ones dealt to the legs so that the fuller leg carries least loaded
 * volt-amperes, to 12 VA (0.1 A). The limits are not read. Otherwise as above. */
rig_status rig_fits_split(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof);

/* Whether all items together stay within every limit, the EITHER ones dealt as is best for that.
 *   fits   out: untouched unless RIG_OK
 * A deal that takes more than the step limit to find counts as none. RIG_NO_MEMORY. */
rig_status rig_fits_whole(const rig_fits_problem *problem, bool *fits);

#endif
