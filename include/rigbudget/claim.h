/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim.h: what the seller, the brochure or the maker says of a coach, held against what its
 * figures say: holds, holds only if, cannot be said yet, does not hold.
 *
 *   supply      the loads at once, with what always draws, on that supply: shore.h, sources.h.
 *               Holds if the loaded amps stay within every limit even with all draws at their high
 *   solar       with nothing used but these loads (or the whole daily use): in a month it holds if
 *               the mean day's harvest covers them and the standing draw, and of stays of
 *               RIG_CLAIM_STAY_DAYS that start with a full bank at least RIG_SOLAR_CARRIES_FRAC
 *               never run out, both at the poor ends; it may if both do at the good ends
 *   storage     the mean day's harvest covers the standing draw
 *   days        of stays drawn with the coach's doubts at most RIG_CLAIM_OUT_FRAC run out before
 *               the days are over; it fails from 1 - RIG_CLAIM_OUT_FRAC on
 *   hours       the loads and the standing draw, from a full bank without any charging, at the
 *               poor and at the good ends of all figures
 *   panel_w, usable_wh, capacity_ah    at least so much, by the coach's own figures
 *
 * No generator, alternator or shore charger runs meanwhile. Months are 0 to 11. */
#ifndef RIG_CLAIM_H
#define RIG_CLAIM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/measuring.h"
#include "rigbudget/place.h"
#include "rigbudget/solar.h"
#include "rigbudget/sources.h"
#include "rigbudget/status.h"

enum { RIG_CLAIM_MONTHS = 12, RIG_CLAIM_STAY_DAYS = 14 };
#define RIG_CLAIM_OUT_FRAC 0.05 /* most of the stays that may run out where a claim holds */

typedef enum {
	RIG_CLAIM_HOLDS,
	RIG_CLAIM_HOLDS_IF, /* under the conditions named, or in some months only */
	RIG_CLAIM_OPEN,     /* cannot be said before something is measured */
	RIG_CLAIM_FAILS,
	RIG_CLAIM_NOT_JUDGED, /* without a place, or without a figure of the thing */
	RIG_N_CLAIM_ANSWERS
} rig_claim_answer;

/* Why, and under which conditions; a set of bits. */
typedef enum {
	RIG_CLAIM_IN_MONTHS = 1 << 0,       /* in some of the months judged it does not hold */
	RIG_CLAIM_NO_PLACE = 1 << 1,        /* nobody says where the coach stands */
	RIG_CLAIM_NO_BANK = 1 << 2,         /* there is no house bank, or not the one meant */
	RIG_CLAIM_NO_ARRAY = 1 << 3,        /* no panel */
	RIG_CLAIM_ARRAY_ELSEWHERE = 1 << 4, /* the panels charge a chassis bank */
	RIG_CLAIM_NOT_FED = 1 << 5,         /* AC loads that no inverter feeds: `lacking` */
	RIG_CLAIM_NO_INVERTER = 1 << 6,     /* they would need one */
	RIG_CLAIM_INVERTER_SMALL = 1 << 7,
	RIG_CLAIM_NO_SOURCE = 1 << 8,       /* the coach has no such generator or inverter */
	RIG_CLAIM_ONLY_ALONE = 1 << 9,      /* fits if charger and all that always draws are off */
	RIG_CLAIM_SHORT_RUNS = 1 << 10,     /* fits for less than three hours at a time */
	RIG_CLAIM_DEAD = 1 << 11,           /* 240 V loads on one hot: `lacking` */
	RIG_CLAIM_START_OPEN = 1 << 12,     /* a motor of the set may not start: start_load */
	RIG_CLAIM_START_FAILS = 1 << 13,    /* it does not, even at the good ends */
	RIG_CLAIM_NO_FIGURE = 1 << 14,      /* the coach has no figure to hold against it */
	RIG_CLAIM_OVER_GLASS = 1 << 15,     /* more watts than glass of that size can give */
	RIG_CLAIM_LOADS_LEFT_OUT = 1 << 16, /* of the daily use some need hookups: `lacking` */
	RIG_CLAIM_BY_LABEL = 1 << 17 /* it agrees with the label, which nobody has measured */
} rig_claim_reason;

/* What is needed and what is there. Sun: Wh a day, standing draw included. Days and hours: in
 * those. Absent in months that are not judged. */
typedef struct {
	bool judged;
	rig_carried holds;
	rig_figure has, needs;
	rig_figure out_frac; /* share of stays that run out, 95 % interval; absent without stays */
} rig_claim_month;

/* The places of the table, on mean days at the likely figures. */
typedef struct {
	size_t n;             /* 0: not asked for, or the claim has nothing to do with the place */
	size_t n_all, n_none; /* holds in every month judged; in none of them */
	size_t n_by_month[RIG_CLAIM_MONTHS]; /* places at which it holds in that month */
	int best, worst; /* indices in the table: most and fewest months, then most and least sun */
	int best_months, worst_months; /* of how many months judged */
	uint16_t *months;              /* n of them: bit m: holds there in month m */
} rig_claim_places;

typedef struct {
	int claim; /* index in coach->claims */
	rig_claim_answer answer;
	uint32_t reasons;
	/* What decides, in the unit of what it says: amps, Wh a day, days, hours, W, Wh, Ah. Of
	 * monthly ones those of the worst month judged. has is what there is: on a supply the
	 * limit, needs the loaded amps. Absent where nothing can be held against it. */
	rig_figure has, needs;
	int bank, array;     /* that were judged; -1 */
	int set_element;     /* rig_shore_element that limits; supply only */
	int set_index;       /* of the leg or circuit; else -1 */
	int supply;          /* index in the table of supplies; -1 */
	int smallest_supply; /* index of the smallest that carries the set for sure; -1 */
	size_t n_lacking;
	int *lacking;                /* loads that stand in the way; see the reasons */
	int start_load;              /* -1 */
	int worst_month, best_month; /* of those judged; -1 */
	rig_claim_month months[RIG_CLAIM_MONTHS];
	/* What would make it hold in the worst month: nameplate watts on the same mounting, feeding
	 * the house bank. Absent where nobody asked, or no number does. */
	rig_figure panel_need_w;
	bool supposed; /* figures are those as if panels and loads were on the house bank */
	rig_claim_places places;
	double weather_frac; /* days: share of the spread that is the weather's; else 0 */
	size_t n_measures;   /* that are worth taking, best first, at most RIG_MEASURE_SHOWN */
	rig_measure *measures;
} rig_claim_finding;

typedef struct {
	int habit;      /* index into the coach's habits; -1 for each load's own use */
	size_t n_trips; /* behind days, 100 to 100000 */
	uint64_t seed;
	bool all_places; /* look at the places of the table too */
} rig_claim_options;

/* Own use, 1,000 trips, seed 1, all places. */
rig_claim_options rig_claim_defaults(void);

typedef struct {
	const rig_coach *coach; /* the caller's; must outlive the findings */
	bool has_place;
	rig_place place;
	rig_claim_options options;
	size_t n_claims;
	rig_claim_finding *claims; /* in the coach's order */
} rig_claim_findings;

/* The claims of a completed coach.
 *   place     NULL if unknown: claims that hang on it are not judged
 *   options   NULL for the usual ones
 *   findings  out: to be freed with rig_claim_free(); untouched unless RIG_OK
 * RIG_BAD_INPUT: an option or a figure is out of range. RIG_NO_SOLUTION: volts as rig_feed_solve.
 * RIG_NO_MEMORY. */
rig_status rig_claim_study(const rig_coach *completed, const rig_place *place,
	const rig_claim_options *options, rig_claim_findings **findings);
void rig_claim_free(rig_claim_findings *findings);

#endif
