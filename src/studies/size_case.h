/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_case.h: the parts of the size study. Its files only. */
#ifndef STUDIES_SIZE_CASE_H
#define STUDIES_SIZE_CASE_H

#include "base/arena.h"
#include "rigbudget/size.h"
#include "studies/trip_findings.h"

/* What is least: whole hundredths, grams and square centimetres, so that sums are exact. */
typedef struct {
	int64_t price, weight, area;
} size_cost;

/* New panels with their controllers, or none. */
typedef struct {
	int panel, n, controller, n_controllers, in_series;
	/* Of arrays of one group, more watts at no less efficiency never harvest less. */
	int group;
	size_t twin; /* the first array of the list that harvests the same */
	double watts_w, efficiency_frac, controller_a;
	size_cost cost; /* with conductors, and the fuse at the panels */
	rig_size_run panel_run, bank_run;
	bool is_whole;
	bool unlimited; /* for the one pass: its controller takes all */
} size_array;

typedef struct {
	int battery, series, parallel; /* battery -1: the present one stays */
	int group;                     /* of one, more Wh at no less charge limit is never worse */
	double wh, limit_a;            /* limit INFINITY: none */
	double discharge_limit_a;      /* 0: unknown */
	double interrupt_a;            /* asked of a fuse at it */
	double volts_v;
	size_cost cost;
} size_bank;

typedef struct {
	int inverter; /* -1: the present one, or none */
	bool present;
	double watts_w, surge_w;
	size_cost cost; /* with conductors */
	rig_size_run run;
	bool is_whole;
} size_inverter;

/* Indices of what an option is made of. */
typedef struct {
	size_cost cost;
	uint32_t array, bank, inverter;
	bool is_whole;
} size_candidate;

typedef struct {
	const rig_file *file;
	const rig_coach *stated, *coach; /* coach: completed */
	const rig_parts *parts;
	const rig_place *place;
	rig_size_options options;
	rig_size_findings *findings;
	rig_arena *arena;
	trip_sky sky;
	fleet_days *days[12]; /* of the months asked */
	int bank;             /* to be sized; -1: none yet */
	double bank_v;
	int groups_of_12; /* bank_v over a 12 V battery's */
	bool *wanted;     /* [load]: an AC load that is to run */
	size_t n_arrays, n_banks, n_inverters, n_candidates;
	size_array *arrays;
	size_bank *banks;
	size_inverter *inverters;
	size_candidate *candidates; /* sorted; malloc */
	size_t allowed;             /* trips that may run out */
	int month_order[12];        /* months asked, most failures first */
	size_t n_months;
} size_case;

/* What the AC loads that are to run ask of the inverter: the most at once of any named set, loads
 * in no set always among them, and the hardest start with the rest on. Fills the case and findings.
 * RIG_NO_MEMORY. */
rig_status size_ask(size_case *it);

/* Fills arrays, banks and inverters with all that the list, the limits and the room allow.
 * RIG_NO_MEMORY. */
rig_status size_list_parts(size_case *it);
/* Fills candidates, sorted. RIG_NO_MEMORY. RIG_NO_SOLUTION: too many. */
rig_status size_list_candidates(size_case *it);

/* The run of an array, its controllers or an inverter. Costs of conductors go to cost. */
typedef struct {
	rig_size_run_kind kind;
	double volts_v, amps_a, length_m;
	int n_alike;
} size_run_asked;
rig_size_run size_run_of(const size_case *it, const size_run_asked *asked, size_cost *cost);
/* Index of the cheapest fuse of the list of that rating that breaks so much; -1. */
int size_fuse_of(const size_case *it, double rating_a, double interrupt_a);
/* Adds the fuses of a run; false: the list has none. */
bool size_add_fuses(
	const size_case *it, const rig_size_run *run, double interrupt_a, size_cost *cost);
size_cost size_cost_of(rig_figure price, rig_figure weight_kg, int n);
void size_cost_add(size_cost *sum, const size_cost *part);

/* What an option is made of. */
typedef struct {
	const size_array *array;
	const size_bank *bank;
	const size_inverter *inverter;
} size_make;
/* The text of the coach with it; NULL when memory is out. Free with free(). */
char *size_make_text(const size_case *it, const size_make *make);
/* RIG_NO_MEMORY. */
rig_status size_make_coach(const size_case *it, const size_make *make, rig_file **file);

/* What a month of trips came to. */
typedef struct {
	size_t n_trips, n_out;
	double offered_wh, drawn_wh, charged_wh, curtailed_wh, unserved_wh; /* all trips */
	double main_drawn_wh;                                               /* of the sized bank */
} size_month;
/* Runs the trips of a month. Ends early once more than `enough` have run out. RIG_NO_MEMORY. */
rig_status size_run_month(const size_case *it, const rig_coach *completed, int month, size_t enough,
	size_month *found);

/* The trips of a month of a coach, and what they are made from; to be closed in any case. */
typedef struct {
	trip_model model;
	trip_inputs inputs;
	trip_fleet *fleet;
} size_fleet;
rig_status size_fleet_open(
	const size_case *it, const rig_coach *completed, int month, size_fleet *made);
void size_fleet_close(size_fleet *made);

/* ---- one pass ---- */

/* For an array and an inverter the largest shortfall from full of each trip, once for all banks. */
typedef struct size_pass size_pass;
/* RIG_NO_MEMORY. */
rig_status size_pass_new(const size_case *it, size_pass **pass);
void size_pass_free(size_pass *pass);
/* Whether more trips of the month than allowed are short of the candidate's bank even if it had no
 * limits, no wells and no cold. False says nothing. RIG_NO_MEMORY. */
rig_status size_pass_fails(
	size_pass *pass, const size_candidate *candidate, int month, bool *fails);

/* ---- the search ---- */

/* A candidate that will do, with what its months came to. */
typedef struct {
	size_t candidate;
	size_month months[12];
} size_found;
/* Finds the options, in order of cost, in an arena list. RIG_NO_MEMORY. */
rig_status size_search(size_case *it, size_found **found, size_t *n_found);

rig_size_month size_month_of(const size_month *found, int n_days);

/* Fills one option. RIG_NO_MEMORY. */
rig_status size_tell(size_case *it, const size_found *found, rig_size_option *option);
/* What an option of the findings is made of. */
void size_make_of(const size_case *it, const rig_size_option *option, size_array *array,
	size_bank *bank, size_inverter *inverter);

#endif
