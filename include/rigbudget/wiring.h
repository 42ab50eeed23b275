/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wiring.h: runs of copper and what protects them: what is lost along a run, what the insulation
 * and the terminals bear, which fuse or breaker it may have, and what that must be able to break.
 *
 * Two books of rules. Above RIG_WIRE_AC_ABOVE_V the electrical code: table 310.16, ambient
 * 310.15(B)(1), bundles 310.15(C)(1), terminals 110.14(C), small conductors 240.4(D) [NFPA-70].
 * Below, the table of [CFR-183] for boats, by analogy, with its factors for heat and bundles, and
 * for small conductors the code's own table for these vehicles, 551.10(E)(1), which asks for
 * smaller fuses than boats get. All are copper; aluminium is left out. */
#ifndef RIG_WIRING_H
#define RIG_WIRING_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/measuring.h"
#include "rigbudget/status.h"

/* Which copper a gauge is taken to have. Wire for vehicles may hold less than its gauge. */
typedef enum {
	RIG_COPPER_AWG, /* the gauge's own area [ASTM-B258] */
	RIG_COPPER_SAE  /* the least that vehicle wire of that gauge may have [SAE-J1127]: 3 to 11 %
			   less, and so much more drop */
} rig_copper;

/* One run as asked for, all figures exact. */
typedef struct {
	rig_supply_kind supply; /* which book of rules */
	double volts_v;         /* nominal, at the load, > 0 */
	double amps_a;          /* steady, all that flows at once, >= 0 */
	double continuous_a;    /* of these, for three hours or more; 0 to amps_a */
	double power_factor;    /* 0.1 to 1; AC only */
	double length_m;        /* one way; 0 if nobody says, and the drop is then not looked at */
	double drop_frac;       /* largest drop allowed, of volts_v, > 0 */
	double insulation_c;    /* rated, >= 60; the class at or below it counts */
	double terminal_c;      /* that the terminals are marked for, >= 60; 0 if nobody says: on AC
				   60, with a breaker above 100 A 75; on DC no limit */
	double ambient_c;       /* -40 to 90; cold below 30 earns no credit, since coaches move */
	int bundle;             /* current-carrying conductors together, >= 1 */
	bool copper_known;      /* take copper_c, do not work it out */
	double copper_c;        /* of the copper under load, for the drop only */
	double fuse_a;          /* fuse or breaker that is to stay; 0: the smallest standard one */
	bool next_size;         /* AC: the breaker may be the next standard rating above the
				   ampacity, 240.4(B); not for several receptacles */
	rig_copper copper;
} rig_wire_job;

/* What can decide a size. */
typedef enum {
	RIG_BY_THINNEST, /* no thinner one is allowed at all: 14 AWG on AC, 18 on DC */
	RIG_BY_DROP,
	RIG_BY_AMPACITY, /* insulation, with the heat around it and its bundle */
	RIG_BY_TERMINAL, /* temperature of the terminals */
	RIG_BY_SMALL,    /* largest fuse for a small conductor */
	RIG_N_WIRE_LIMITS
} rig_wire_limit;

/* A gauge put to a job. */
typedef struct {
	int awg; /* -3 is 4/0 */
	double area_mm2;
	int class_c;                          /* insulation class that the ampacity stands in */
	double table_a;                       /* ampacity by the table; 0 if the table has none */
	double ambient_factor, bundle_factor; /* 0 to 1 */
	double corrected_a;                   /* table_a with both */
	double terminal_a;         /* ampacity at the terminals' temperature; 0 for no limit */
	double ampacity_a;         /* the smaller of the two */
	double small_a;            /* largest fuse by the small-conductor rule; 0 for none */
	double fuse_limit_a;       /* largest fuse or breaker: ampacity_a or small_a */
	rig_wire_limit limited_by; /* what makes fuse_limit_a: AMPACITY, TERMINAL or SMALL */
	double rounded_a; /* largest breaker by the next-size rule, >= fuse_limit_a; the same on DC
			   */
	double copper_c;  /* under load; at the class when overloaded */
	double drop_v, drop_frac; /* 0 without a length */
} rig_wire_rating;

/* The thinnest standard gauge for a job, and its fuse or breaker. */
typedef struct {
	rig_wire_rating wire;
	double need_a;             /* amps and a quarter of the continuous ones: no smaller fuse */
	double fuse_a;             /* smallest standard rating from need_a on */
	rig_wire_limit decided_by; /* what the next thinner gauge breaks; of several, the one that
				      asks for the thickest wire, in the order of the list */
	int awg_by[RIG_N_WIRE_LIMITS]; /* thinnest gauge by each limit alone */
} rig_wire_choice;

/* A gauge put to a job.
 *   rating   out: untouched unless RIG_OK
 * corrected_a = table_a * bundle_factor * ambient_factor; on AC the ambient factor is the code's
 * table in steps of 5 K, on DC sqrt((class - ambient) / (class - 30)). The copper under load is at
 * ambient + (class - ambient) (amps / corrected_a)^2: heat goes with the square of the current,
 * and the rating is where it reaches the class. The drop is both conductors', stranded; on AC with
 * reactance and power factor. Leaves out joints, switches and fuses, each worth some 10 to 50 mV.
 * RIG_NOT_FOUND: no such gauge in rig_conductor_size_at(). */
rig_status rig_wire_rate(const rig_wire_job *job, int awg, rig_wire_rating *rating);

/* The thinnest gauge for which the standard fuse for the load is within what the wire may have, the
 * amps are within its ampacity, and the drop within its limit; never thinner than 14 AWG on AC or
 * 18 on DC. One conductor each way: no parallel ones.
 *   choice   out: untouched unless RIG_OK
 * RIG_NO_SOLUTION: even 4/0 breaks a rule, the fuse would pass the largest standard rating, or the
 * job's own is below need_a. */
rig_status rig_wire_choose(const rig_wire_job *job, rig_wire_choice *choice);

/* Smallest fuse for a load, A: what is not continuous and 125 % of what is [NFPA-70] 210.20. */
double rig_fuse_need_a(double amps_a, double continuous_a);

/* Current of a bank shorted at its terminals, A, with its doubt; absent if its kind has no figure.
 * In this order: short_circuit_a of its batteries; cold_cranking_a, of which the current is 2.3 (by
 * what the label means, cold) to 5 times; amp-hours, by kind: open volts * Ah / k, with k in
 * ohm Ah of a 12 V battery. Batteries in parallel add, in series they do not. Age, cold, a low
 * charge and battery electronics all lower it; none is counted on.
 *   bank   completed */
rig_figure rig_bank_short_circuit_a(const rig_bank *bank);

/* What a fuse at the battery should be able to break, A: the bank's largest short-circuit current,
 * or 20,000 (at 125 V DC) where that passes 10,000 [ABYC-E11], by analogy; 0 if the current is
 * absent. */
double rig_interrupt_asked_a(rig_figure short_circuit_a);

/* Farthest that a fuse may sit along the wire from its battery, m: 18 in [NFPA-70] 551.10(E)(4).
 * Boats and makers of inverters ask for 7 in. */
#define RIG_FUSE_DISTANCE_MAX_M 0.4572

/* What each wire is held to, and how it comes out. */
typedef enum {
	RIG_WIRING_DROP,      /* the drop is within its limit; fails where no wire would do */
	RIG_WIRING_AMPACITY,  /* the amps are within the ampacity */
	RIG_WIRING_FUSE_LOAD, /* the fuse is not too small for the load */
	RIG_WIRING_FUSE_WIRE, /* the fuse is not too large for the wire */
	RIG_WIRING_INTERRUPT, /* the fuse can break what the bank can give */
	RIG_WIRING_DISTANCE,  /* the fuse is close to the battery */
	RIG_N_WIRING_RULES
} rig_wiring_rule;

/* From light to grave. */
typedef enum {
	RIG_WIRING_NOT_ASKED, /* the rule has nothing to say about this wire */
	RIG_WIRING_HOLDS,     /* at the worst end of every doubt */
	RIG_WIRING_DEPENDS,   /* on the doubt, or on a condition: for the fuse of the load, that not
				 all loads run at once; for the fuse of the wire, the next-size rule;
				 for the interrupt rating, what stands between bank and fuse */
	RIG_WIRING_UNKNOWN,   /* a figure is missing: a question */
	RIG_WIRING_FAILS
} rig_wiring_state;

typedef enum {
	RIG_AMPS_UNKNOWN,
	RIG_AMPS_STATED,     /* of the wire */
	RIG_AMPS_OF_CIRCUIT, /* all its circuit's loads together, at most what its breaker lets by
			      */
	RIG_AMPS_OF_FUSE     /* nothing else is known: all that the fuse lets by */
} rig_wiring_amps;

typedef struct {
	int wire;        /* index in coach->wires; -1: a circuit's copper that no wire speaks of */
	int circuit;     /* index in coach->circuits, or -1 */
	int bank;        /* index in coach->banks: what feeds it, or -1 */
	bool at_battery; /* it starts at that bank's terminal */
	rig_supply_kind supply;
	double volts_v;
	rig_wiring_amps amps_from;
	rig_figure amps_a;       /* absent: unknown */
	rig_figure continuous_a; /* of these */
	rig_figure need_a;       /* smallest fuse for all of the load, all at once */
	rig_figure fuse_a;       /* as found; absent: nobody says */
	double power_factor;
	rig_figure length_m;
	rig_figure insulation_c, terminal_c, ambient_c; /* as used; terminal_c may be absent */
	int bundle;
	double drop_limit_frac;
	bool gauged; /* the gauge is known: awg is given */
	int awg;
	bool hopeless;          /* nobody names a gauge, and not even 4/0 AWG would do */
	bool rated;             /* amps and a gauge are there: rating and the two below are given */
	bool proposed;          /* the gauge is that of choice, since nobody names one */
	rig_wire_rating rating; /* at the likely figures */
	rig_figure drop_v, drop_frac;
	double largest_fuse_a;  /* largest standard rating that this wire may have; 0: none */
	double suited_fuse_a;   /* smallest standard rating for the high end of the load, where this
				   wire may have it at the high ends; 0: none */
	bool chosen;            /* choice is given */
	rig_wire_choice choice; /* for the high ends of load, length and heat */
	rig_figure short_circuit_a; /* of the bank; DC only */
	double interrupt_asked_a;   /* 0: nothing to ask */
	bool fuse_each; /* batteries in parallel of more than 500 Ah: a fuse at each beside the
			   main one [ABYC-E11], by analogy */
	rig_figure interrupt_a, fuse_distance_m; /* as found */
	rig_wiring_state state[RIG_N_WIRING_RULES];
	rig_wiring_rule worst; /* the first of the gravest */
	/* Of load, length and heat those that it hangs on how full the wire is: the larger of drop
	 * over its limit and amps over the ampacity, likely figures otherwise. Worth measuring
	 * first; what moves that across 1 decides. */
	size_t n_measures;
	rig_measure measures[RIG_MEASURE_SHOWN];
} rig_wiring_run;

typedef struct {
	const rig_coach *coach; /* the caller's; must outlive the findings */
	rig_copper copper;
	bool next_size;
	size_t n_runs;
	rig_wiring_run *runs; /* the wires in the file's order, then circuits with a gauge that no
				 wire names */
	size_t n_of[RIG_WIRING_FAILS + 1]; /* runs by their gravest state */
} rig_wiring_findings;

typedef struct {
	rig_copper copper;
	bool next_size; /* choices on AC may use the next-size rule */
} rig_wiring_options;

/* Holds every wire of a completed coach to the rules.
 *   options   NULL for the usual ones: areas of the gauge, no next-size rule
 *   findings  out: to be freed with rig_wiring_free(); untouched unless RIG_OK
 * Left out of a file: insulation 60 C, ambient 30 C, two conductors together, 3 % drop, not
 * continuous, power factor 1, 12 V. A circuit's loads are all on at once.
 * RIG_BAD_INPUT: a figure is not finite or not in order. RIG_NO_MEMORY. */
rig_status rig_wiring_study(const rig_coach *completed, const rig_wiring_options *options,
	rig_wiring_findings **findings);
void rig_wiring_free(rig_wiring_findings *findings);

/* A few words, such as "voltage drop", "fails". Never NULL. */
const char *rig_wire_limit_text(rig_wire_limit limit);
const char *rig_wiring_rule_text(rig_wiring_rule rule);
const char *rig_wiring_state_text(rig_wiring_state state);

#endif
