/* SPDX-License-Identifier: GPL-3.0-or-later */
/* voltage.h: the volts at the coach on each shore supply, for each set of loads, and with each
 * large load added. Steady state; starts.h has the dip of a start. */
#ifndef RIG_VOLTAGE_H
#define RIG_VOLTAGE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/shore.h"
#include "rigbudget/status.h"

/* Which edition's ranges for equipment in use (utilization) on a 120 V system [ANSI-C841]. */
typedef enum {
	RIG_C84_2011, /* 2011 and later: A 108 to 126 V, B 104 to 127 V */
	RIG_C84_1995  /* A 110 to 126 V (108 without lighting), B 106 to 127 V */
} rig_c84_edition;

/* From light to grave. */
typedef enum {
	RIG_VOLTS_RANGE_A, /* as it should be */
	RIG_VOLTS_RANGE_B, /* tolerable for a limited time */
	RIG_VOLTS_HIGH,    /* above range B */
	RIG_VOLTS_LOW      /* below range B */
} rig_volts_range;

typedef struct {
	double a_low_v, a_high_v, b_low_v, b_high_v;
} rig_c84_limits;

/* Hot to neutral, V. The service ranges hold at the pedestal with the load on, the others at the
 * equipment. */
rig_c84_limits rig_c84_utilization(rig_c84_edition edition);
rig_c84_limits rig_c84_service(void);

/* No compressor should run below this (common practice, no source; cut-offs of the trade are set
 * from 102 to 105 V). */
#define RIG_COMPRESSOR_FLOOR_V 104.0

/* What stands between the open pedestal and the coach's panel. Resistances of hot and neutral
 * together (the loop at 120 V), ohm; half of each is in the neutral. */
typedef struct {
	int supply; /* index in the shore findings */
	rig_figure open_v;
	rig_figure source_ohm;  /* transformer and site wiring; RIG_FROM_COMPUTED if from a loaded
				   reading */
	rig_figure adapter_ohm; /* absent where none is used */
	rig_figure cord_ohm;
	rig_figure total_ohm;
	rig_figure total_m;         /* of adapter and cord, one way */
	rig_figure drop_at_limit_v; /* total_ohm x the supply's limit: all current in one hot */
} rig_voltage_path;

/* How many large loads are switched on one after another, and how many more each alone. */
enum { RIG_VOLTAGE_MOST_STEPS = 32 };

/* One set of loads, solved. Lows take the open volts at their low and resistances and the leg's own
 * draws at their high, with the other leg's draws at their low; highs the reverse. Loads of unknown
 * leg: likely as evenly dealt as can be, low all on the leg in question. */
typedef struct {
	rig_figure leg_v[2]; /* hot to neutral at the coach's panel; the second absent on one hot */
	rig_figure across_v; /* hot to hot; absent unless two hots */
	rig_figure hot_a[2]; /* at these volts, not at rated ones */
	rig_figure neutral_a;
	rig_figure pedestal_v;   /* at the receptacle, the lower leg's hot to neutral */
	rig_figure lost_w;       /* heat in adapter and cord */
	int low_leg;             /* 0 or 1: the one whose likely volts are farther out of range */
	rig_volts_range range;   /* of the likely volts of that leg, or of the graver one */
	rig_volts_range at_low;  /* of the lowest volts of any leg */
	rig_volts_range at_high; /* of the highest */
	bool compressor_low;     /* a compressor runs on a leg that is likely below the floor */
	bool compressor_may_be_low; /* the same at the low end */
	bool gave_up; /* at the low end volts fall so far that electronics and motors drop out: no
			 such state lasts */
} rig_voltage_state;

/* With one load more. */
typedef struct {
	rig_shore_item added; /* all of its count */
	double drop_v;        /* likely: by how much the lower of its legs fell through it */
	rig_voltage_state state;
} rig_voltage_step;

typedef struct {
	int set, supply;         /* indices in the shore findings */
	rig_voltage_state all;   /* all of the set that is not dead */
	rig_voltage_state small; /* only its loads below RIG_LARGE_LOAD_W */
	size_t n_steps;
	rig_voltage_step *steps; /* the set's large loads switched on one after another on top of
				    small, kept longest first; the last equals all, unless there
				    are more than RIG_VOLTAGE_MOST_STEPS: then the first ones */
	size_t n_more;
	rig_voltage_step *more; /* each large AC load that is not in the set, alone on top of all;
				   of more than RIG_VOLTAGE_MOST_STEPS those that draw most */
	size_t n_steps_left, n_more_left; /* large loads that have no step for their number */
	/* What the volts of all.low_leg hang on, worth measuring first, at most RIG_MEASURE_SHOWN;
	 * what changes their range decides. */
	size_t n_measures;
	rig_measure *measures;
} rig_voltage_case;

/* Watts of one or more of a load from which it counts as large (common practice, no source). */
#define RIG_LARGE_LOAD_W 600.0

/* The same loads with the wiring wrong, everything on, on the coach's own two hots: given for a 50
 * A cord only. Drawn to show what is at stake, not as a state to run in. */
typedef struct {
	bool given;
	double sound_neutral_a;       /* likely, as wired rightly */
	double same_phase_neutral_a;  /* both hots on one phase: the sum, with no breaker in it */
	double open_neutral_leg_v[2]; /* broken neutral: the legs share the volts as the loads are
				       */
} rig_voltage_neutral;

typedef struct {
	const rig_coach *coach;          /* the caller's; must outlive the findings */
	const rig_shore_findings *shore; /* likewise */
	rig_c84_edition edition;
	rig_c84_limits utilization, service;
	rig_volts_range open_range; /* of the likely open volts, by the service ranges */
	size_t n_paths;
	rig_voltage_path *paths; /* one a supply */
	size_t n_cases;
	rig_voltage_case
		*cases; /* set after set, each on every supply: set * n_supplies + supply */
	rig_voltage_neutral neutral;
} rig_voltage_findings;

typedef struct {
	rig_c84_edition edition;
	bool verdicts_only; /* no measures are looked for and no steps made: measures, small and
			       steps stay empty */
} rig_voltage_options;

/* Volts of a completed coach, for the sets and supplies of its shore findings.
 *   options   NULL for the usual ones
 *   findings  out: to be freed with rig_voltage_free(); untouched unless RIG_OK
 * Heat and lamps hold their resistance, electronics their power, motors their shaft
 * (supply_voltage.h); the charger holds its power. Copper at 30 C, stranded; the source's
 * resistance is half in the hot, half in the neutral. Contacts of plugs are left out: sound ones
 * add about 0.1 V each at 30 A, worn ones several volts, which only a reading shows. The coach's
 * own branch wiring is left out too. RIG_BAD_INPUT: a figure is not finite or not in order.
 * RIG_NO_SOLUTION: a feed could not be solved. RIG_NO_MEMORY. */
rig_status rig_voltage_study(const rig_coach *completed, const rig_shore_findings *shore,
	const rig_voltage_options *options, rig_voltage_findings **findings);
void rig_voltage_free(rig_voltage_findings *findings);

/* A few words, such as "below range B". Never NULL. */
const char *rig_volts_range_text(rig_volts_range range);
/* "2011 and later" or "1995". Never NULL. */
const char *rig_c84_edition_text(rig_c84_edition edition);

#endif
