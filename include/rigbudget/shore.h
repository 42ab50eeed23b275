/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore.h: what a coach draws on each shore supply, what fits, and what to turn off.
 * Knows steady draws and ratings; knows nothing of voltage drop, heat in a breaker or time. */
#ifndef RIG_SHORE_H
#define RIG_SHORE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/measuring.h"
#include "rigbudget/profile.h"
#include "rigbudget/status.h"

/* Where a load index stands: the battery charger (coach->charger), which draws on shore power like
 * a load but is not one of coach->loads; and no load at all. */
enum { RIG_SHORE_CHARGER = -1, RIG_SHORE_NO_START = -2 };

/* From light to grave. `loaded` amps are 100 % of the loads that run less than three hours and
 * 125 % of the continuous ones, held against the rating [NFPA-70] 210.19, 210.20; with continuous
 * loads only, that is the same as 80 % of the rating. */
typedef enum {
	RIG_SHORE_FITS,    /* loaded amps within the limit even with every draw at its high */
	RIG_SHORE_DEPENDS, /* loaded amps within the limit at likely draws, not at high ones */
	RIG_SHORE_OVER_CONTINUOUS, /* likely amps within the limit, likely loaded amps above it */
	RIG_SHORE_OVER             /* likely amps above the limit */
} rig_shore_verdict;

typedef enum {
	RIG_SHORE_NO_ELEMENT, /* nothing has both a flow and a limit */
	RIG_SHORE_CIRCUIT,    /* one breaker or fuse of the coach */
	RIG_SHORE_LEG,        /* one of two hots; index 0 is leg 1 */
	RIG_SHORE_MAIN,       /* the only hot */
	RIG_SHORE_NEUTRAL
} rig_shore_element;

/* A pedestal's receptacle as this coach's cord can use it. */
typedef struct {
	const rig_supply *pedestal; /* in the table of supplies */
	double limit_a;             /* per hot: the smaller of pedestal and cord */
	double volts_v;             /* hot to neutral, nominal */
	int n_hots;                 /* 2 only if pedestal and cord both have two */
	double va;                  /* limit_a * volts_v * n_hots */
	double continuous_va;       /* 80 % of va: for loads of three hours or more */
	bool cord_limits; /* the cord is smaller than the receptacle: the pedestal's breaker does
			     not protect it, and limit_a is the cord's */
	bool adapter;     /* cord and receptacle are not of one size */
	bool shared_hot;  /* a 50 A cord on one hot: both legs draw on it, the neutral carries the
			     sum,  240 V loads are dead */
} rig_shore_supply;

/* What flows through one element. Low is every draw at its low (and every power factor at its
 * high), high the reverse; likely all at likely: as wide as can be, since draws seldom err
 * together. */
typedef struct {
	rig_figure watts_w;
	rig_figure va;
	rig_figure amps_a; /* magnitude of the phasor sum */
	rig_figure
		loaded_a; /* the same with continuous loads at 125 %; equals amps_a on a neutral */
	double limit_a;   /* 0 if nobody says */
	rig_shore_verdict verdict; /* FITS when there is no limit */
} rig_shore_flow;

typedef struct {
	int circuit; /* index in coach->circuits; AC or DC */
	rig_shore_flow flow;
} rig_shore_circuit;

/* A load, or the charger, and how many of it. */
typedef struct {
	int load; /* index in coach->loads, or RIG_SHORE_CHARGER */
	int count;
} rig_shore_item;

/* A set cut down until it fits. A fit means here: likely loaded amps within every limit (or high
 * ones, if the options say so), so verdict is FITS or DEPENDS. Dead loads are in neither list. */
typedef struct {
	size_t n_kept, n_off;
	rig_shore_item *kept; /* by priority, kept longest first */
	rig_shore_item *off;  /* what to turn off, in the order to do it: dropped first first */
	rig_shore_flow most_loaded; /* of what is kept: the fuller hot */
	rig_figure watts_w;         /* of what is kept, all hots together */
	double weight;              /* sum over what is kept of 10 - priority */
	bool proved; /* nothing better exists; only ever false for a very large set, when the search
			stopped at its step limit */
} rig_shore_choice;

/* What must go off so that a load can run. */
typedef struct {
	rig_shore_item wanted;   /* a load of the set that `best` leaves off, all of its count */
	bool possible;           /* false: not even alone beside nothing; choice is then empty */
	rig_shore_choice choice; /* exact: the wanted one on, and beside it as many of priority 1 as
				    can run, then as many of 2, ... */
	/* What changes against `best`: what that keeps and this one turns off, dropped first first;
	 * and what this one runs and that does not, kept longest first, the wanted one among it. */
	size_t n_gives_way, n_joins;
	rig_shore_item *gives_way, *joins;
} rig_shore_way;

/* How many next best sets, and for how many loads ways to let them run, are looked for. */
enum { RIG_SHORE_N_NEXT = 3, RIG_SHORE_MOST_WAYS = 32 };

/* The hardest start in a set: locked-rotor amps of its largest starter on top of the rest. */
typedef struct {
	int load;                /* RIG_SHORE_NO_START: none has one to speak of */
	rig_figure start_a;      /* of one; with its soft starter if it has one */
	rig_figure hot_a;        /* on its hot while it starts, the rest running; amps added as
				    magnitudes, so not below the phasor sum */
	rig_figure circuit_a;    /* on its circuit; absent without a circuit */
	bool hot_in_trip_region; /* hot_a.high >= 5 x limit: a small breaker's magnetic trip may
				    act there (common practice, no source) */
	bool circuit_in_trip_region;
} rig_shore_start;

/* One set on one supply. DC loads count on their fuses only; on AC the charger stands for them. A
 * DC fuse has its own verdict, but no part in the verdict of the set. */
typedef struct {
	int supply;                /* index in findings->supplies */
	rig_shore_verdict verdict; /* the gravest of all elements */
	bool sure;                 /* the verdict would be the same with every draw at its low, and,
				      for FITS, at its high */
	bool carried;              /* verdict FITS and nothing dead */
	size_t n_dead;
	rig_shore_item *dead;   /* 240 V loads without a second hot; they draw nothing */
	rig_figure watts_w;     /* all hots together */
	rig_figure va;          /* magnitude of the complex sum, all hots together */
	rig_shore_flow leg[2];  /* of the coach's bus. On two hots the limit is the supply's; on a
				   shared  hot they are two parts of main and have no limit of their
				   own; on a  coach without legs all is in main, and these are empty.
				   With unplaced  loads: low and likely are the most even split, high
				   has all of them  on this leg */
	rig_shore_flow main;    /* one hot: the sum. Two hots: the fuller leg */
	rig_shore_flow neutral; /* two hots: the difference as a phasor; one hot: the sum */
	rig_figure same_phase_neutral_a; /* two hots: the neutral if a pedestal is wrongly wired
					    with both hots on one phase; no breaker stands in it */
	bool unplaced;     /* some load of the set has an unknown leg and two hots are there */
	size_t n_circuits; /* those with a flow */
	rig_shore_circuit *circuits; /* in the coach's order */
	size_t n_circuits_over;      /* with a verdict of OVER or OVER_CONTINUOUS */
	rig_shore_element limiting;  /* the element of the gravest verdict, then of the largest
					likely  loaded amps for its limit */
	int limiting_index;          /* of the circuit in coach->circuits, or of the leg; else -1 */
	rig_shore_flow limiting_flow;
	rig_figure headroom_a; /* limit less loaded amps on the fuller hot; negative when over. One
				  more    load of less than three hours and so many amps stays
				  within */
	rig_figure headroom_w; /* the same on all hots together, at power factor 1 */
	rig_shore_start start;
	rig_shore_choice greedy; /* the rule for people: turn off the lowest priority first (among
				    equals the largest draw) until it fits, then bring back by
				    priority (among equals the smallest) what still fits */
	rig_shore_choice best;   /* exact: as many of priority 1 as can run, then as many of 2, ...;
				    among equals the least draw */
	rig_shore_choice by_weight; /* exact: the largest sum of 10 - priority */
	size_t n_next;              /* at most RIG_SHORE_N_NEXT; 0 if the whole set fits */
	rig_shore_choice *next; /* exact: the sets that come after `best` in its own order, of those
				   to which nothing that is off can be added; best first */
	size_t n_ways;
	rig_shore_way *ways; /* one for each load that `best` leaves off, by priority; of more than
				RIG_SHORE_MOST_WAYS the first ones, and that of options->run */
	size_t n_more_ways;  /* loads that `best` leaves off and that have none here */
	/* The draws (and unknown legs) that the limiting element's loaded amps hang on, worth
	 * measuring first, best first, at most RIG_MEASURE_SHOWN. */
	size_t n_measures;
	rig_measure *measures;
} rig_shore_budget;

typedef enum {
	RIG_SHORE_SET_TOGETHER,   /* a set of the coach file */
	RIG_SHORE_SET_EVERYTHING, /* every AC load; always present */
	RIG_SHORE_SET_STANDING,   /* what draws with nobody at a switch: always-on loads, charger */
	RIG_SHORE_SET_COMPRESSORS,          /* air conditioners, heat pumps and other compressors */
	RIG_SHORE_SET_COMPRESSORS_AND_HEAT, /* the same with the largest resistive load */
	RIG_SHORE_SET_CONTINUOUS            /* all that can run three hours or more */
} rig_shore_set_kind;

/* Loads that run at once. Every set holds, besides what its kind says, the loads that are always on
 * and the charger. The last four kinds stand only for a coach without sets of its own, and only
 * where they differ from each other and from everything. */
typedef struct {
	rig_shore_set_kind kind;
	int together;     /* index in coach->together, or -1 */
	const char *name; /* the file's, or NULL */
	size_t n_items;
	rig_shore_item *items; /* AC loads and charger, in the coach's order, the charger last */
	int smallest;          /* index of the smallest supply that carries the set; -1 if none */
	int smallest_likely;   /* the same where the verdict may also be DEPENDS */
	rig_shore_budget *budgets; /* one a supply */
} rig_shore_set;

/* The circuits dealt to the legs so that the fuller leg carries least, everything on; exact for the
 * likely loaded amps of up to 24 circuits and unplaced loads. Given for a 50 A cord only. */
typedef struct {
	bool given;
	bool proved;
	size_t n_moves;
	int *moves;                               /* circuits to move to the other leg */
	double fuller_before_a, fuller_after_a;   /* likely loaded amps of the fuller leg */
	double neutral_before_a, neutral_after_a; /* likely */
} rig_shore_balance;

typedef struct {
	const rig_coach *coach; /* the caller's; must outlive the findings */
	size_t n_supplies;
	rig_shore_supply *supplies; /* largest first, as in the table of supplies */
	size_t n_sets;
	rig_shore_set
		*sets; /* the file's in its order, then everything, then the others of our own */
	rig_figure charger_w; /* drawn on AC at rated output; absent without a charger */
	rig_figure charger_pf;
	size_t n_unplaced;
	int *unplaced; /* AC loads (or the charger) of 120 V whose leg nobody says, on a coach
			  with two legs */
	int n_ac_circuits;
	int circuits_ask_a; /* supply that the code asks for so many branch circuits, 15, 20, 30
			       or 50 A [NFPA-70] 551.42; 0 if the file names no AC circuit */
	rig_shore_balance balance;
} rig_shore_findings;

typedef struct {
	bool at_high;       /* sets are cut down until they fit with every draw at its high */
	const char *run;    /* id of a load for which a way is looked for in any case; NULL: none */
	bool verdicts_only; /* of the choices only `best` is made, and no measures are looked for:
			       greedy, by_weight, next, ways and measures stay empty */
} rig_shore_options;

/* The budget of a completed coach on every supply.
 *   options   NULL for the usual ones
 *   findings  out: to be freed with rig_shore_free(); untouched unless RIG_OK
 * Amps of a load are running_w / (volts_v * power_factor) at its own rated volts; all currents that
 * are out of step lag. Voltage drop and harmonics are left out: at 10 % low volts a motor or an
 * electronic load draws about 11 % more. Figures of the coach that are absent: volts 120, power
 * factor 1, priority 5, count 1; a load without watts draws nothing.
 * The charger draws amps * charge volts / (efficiency * power factor) with 14.4 V for each 12 V of
 * its bank, efficiency 0.85 and power factor 0.8 if nobody says; nothing at its low, when the bank
 * is full. It counts as continuous and as priority 6: a pause costs little while the bank is well.
 * Of more than eight of a load, all are on or off together.
 * RIG_BAD_INPUT: a figure is not finite or not in order. RIG_NO_MEMORY. */
rig_status rig_shore_study(const rig_coach *completed, const rig_shore_options *options,
	rig_shore_findings **findings);
void rig_shore_free(rig_shore_findings *findings);

/* A few words for a verdict or an element, such as "over the breaker". Never NULL. */
const char *rig_shore_verdict_text(rig_shore_verdict verdict);
const char *rig_shore_element_text(rig_shore_element element);

#endif
