/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip.h: days without hookups: where the energy goes, what is left by hour, how many days until
 * the bank is empty, what goes without, what to cut first, and over many synthetic trips the chance
 * of running out.
 *
 * What counts away from hookups: every DC load that draws on a bank, and every AC load that the
 * inverter feeds (inverter of the load, or of its circuit). The other AC loads are listed as not
 * carried. Generator, alternator and shore charger do not run.
 *
 * When a load runs, by the first rule that fits:
 *   1. always on, or in use for 24 h: all day long at its duty;
 *   2. a window of hours is given: its hours of use times its duty, evenly over the window;
 *   3. it cycles (duty below 1): its hours of use times its duty, evenly over the day;
 *   4. in use up to 6 h: evenly from 17 h to 23 h; up to 15 h: from 17 h to 8 h; longer: over the
 *      day. Use after dark is the harder case for a bank that a panel fills.
 *
 * Three courses are run. Likely: every figure at its likely value. Poor: more is drawn, and panels,
 * bank, inverter and the place's sun are at their poor ends. Good: the other way round. What the
 * loads may draw more or less is the root of the sum of the squares of what each may, as if they
 * erred independently; the other causes are taken together at their ends, so the range is wide.
 */
#ifndef RIG_TRIP_H
#define RIG_TRIP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/energy.h"
#include "rigbudget/figure.h"
#include "rigbudget/place.h"
#include "rigbudget/status.h"
#include "rigbudget/weather.h"

/* Days until empty are counted on days like those of the stay, over and over, or through the file's
 * year from the stay's first day, up to here; a figure that stands at it means "or longer". */
#define RIG_TRIP_DAYS_MAX 365.0

typedef struct {
	/* A year of hours; NULL: the place's mean days. */
	const rig_hourly_year *weather;
	/* 0 to 11: the stay starts on the first of it. -1: the whole year from 1 January, the days
	 * of each month as they come; n_days must be 365. */
	int month;
	int n_days;     /* 1 to 365; mean weather: each day is the mean day of its month */
	int habit;      /* index into the coach's habits; -1 for each load's own use */
	size_t n_trips; /* synthetic trips for the chance, 0 to 1000000; 0: the chance is left out
			 */
	uint64_t seed;  /* of the synthetic trips */
} rig_trip_options;

/* July, 14 days, mean weather, own use, 1,000 trips, seed 1. */
rig_trip_options rig_trip_defaults(void);

/* What the answer rests on and what it leaves out; a set of bits. */
typedef enum {
	RIG_TRIP_NO_HOUSE_BANK = 1 << 0,  /* nothing to live on: no days, no chance */
	RIG_TRIP_NO_HOUSE_ARRAY = 1 << 1, /* no panel feeds a house bank */
	RIG_TRIP_CHASSIS_ARRAY = 1 << 2,  /* a panel feeds a chassis bank: nothing for the house */
	RIG_TRIP_MEAN_WEATHER = 1 << 3,   /* mean days hide runs of dull ones: days come out long */
	RIG_TRIP_REAL_YEAR = 1 << 4,      /* one year's weather from a file; another year differs */
	RIG_TRIP_STARTS_FULL = 1 << 5,    /* every bank is full at the start */
	RIG_TRIP_OUTDOOR_BANK = 1 << 6,   /* a bank without a temperature takes the outdoor one */
	RIG_TRIP_COLD_NO_CHARGE = 1 << 7, /* in some hours a bank is too cold to be charged */
	RIG_TRIP_WINDOWS_BY_RULE = 1 << 8, /* some loads have no window: rules 3 and 4 above */
	RIG_TRIP_WINDOW_TOO_SHORT = 1
				    << 9,  /* hours of use exceed the window: spread over the day */
	RIG_TRIP_NOT_CARRIED = 1 << 10,    /* some AC loads do not run without hookups */
	RIG_TRIP_INVERTER_SMALL = 1 << 11, /* an inverter load exceeds the inverter: not carried */
	RIG_TRIP_NO_INVERTER = 1 << 12,    /* a load wants the inverter, the coach has none */
	RIG_TRIP_OTHER_SOURCES = 1 << 13,  /* generator or alternator charger: not counted */
	RIG_TRIP_SHORT_RECORD = 1 << 14,   /* the place's record is short but confirmed */
	RIG_TRIP_UNCONFIRMED_RECORD = 1 << 15, /* short and unconfirmed: a wider range */
	RIG_TRIP_FLAT_LIGHT = 1 << 16, /* the file has no beam: tilted panels were taken as flat */
	RIG_TRIP_NO_CHANCE =
		1 << 18, /* no place to draw synthetic days for: the chance is left out */
	RIG_TRIP_NO_BANK_LOADS = 1 << 17 /* some DC loads draw on no bank and are left out */
} rig_trip_note;

/* What becomes of a load away from hookups. */
typedef enum {
	RIG_RUNS_ON_BANK,
	RIG_RUNS_ON_INVERTER,
	RIG_NEEDS_HOOKUPS,    /* AC and not fed by the inverter */
	RIG_NEEDS_INVERTER,   /* marked for an inverter that the coach does not have */
	RIG_EXCEEDS_INVERTER, /* running watts, all of its count together, above the rating */
	RIG_HAS_NO_BANK,      /* DC, but no bank to draw on */
	RIG_OFF_IN_HABIT      /* the habit leaves it off */
} rig_away;

typedef struct {
	int load;              /* index in coach->loads */
	const char *id, *name; /* of the coach's load; name may be NULL */
	rig_away away;
	int bank;          /* index in coach->banks; -1 when it is not carried */
	rig_figure wh_day; /* as the appliances receive it; what it would use if not carried */
	/* How much less a day is wanted of the bank when this load stays off, its part of the
	 * inverter's losses included; likely course. 0 when not carried. */
	double at_bank_wh_day;
	double unserved_wh; /* in the stay, likely course */
	/* Days until empty when this load stays off, likely course, mean weather or file; and how
	 * many more that is. 0 gained if the bank lasts RIG_TRIP_DAYS_MAX anyway. */
	double days_if_cut, days_gained;
} rig_trip_load;

/* Energy of a bank over the stay, likely course, Wh a day.
 * harvest + from_store = dc + ac + inverter_loss + inverter_idle + charge_loss + self_discharge
 *   + curtailed, to rounding. */
typedef struct {
	double harvest;    /* offered by the panels, controller losses taken off */
	double from_store; /* what the bank gave up from first to last hour; negative if it gained
			    */
	double dc;         /* served to DC loads */
	double ac;         /* served to AC loads */
	double inverter_loss; /* without the no-load draw */
	double inverter_idle; /* no-load draw */
	double charge_loss;
	double self_discharge;
	double curtailed;                /* the bank was full, or too cold or too slow to take it */
	double unserved_dc, unserved_ac; /* wanted, but not there */
} rig_trip_flows_wh_day;

typedef struct {
	int bank;              /* index in coach->banks */
	const char *id, *name; /* as the coach has them */
	rig_bank_role role;
	double capacity_wh;   /* total at the slowest rate; store_wh starts there when full */
	rig_figure usable_wh; /* of the full bank at 25 C */
	size_t n_arrays;      /* that feed it */
	rig_trip_flows_wh_day flows;
	/* Wanted in a day and harvested on a mean day of the stay, over the three courses. */
	rig_figure wanted_wh_day, harvest_wh_day;
	/* By hour of the stay, n_hours of each, likely course. */
	const rig_hour *hours;          /* belongs to the findings */
	double lowest_wh;               /* least that was still to be drawn at the end of an hour */
	size_t lowest_hour;             /* the first hour at whose end it was so, from 0 */
	rig_figure lowest_by_course_wh; /* low: poor course */
	double unserved_wh, unserved_ac_wh, unserved_dc_wh;
	double wanted_wh;  /* in the stay, with the inverter's losses */
	double unmet_frac; /* of what the appliances wanted (without inverter losses); 0 if
			    * nothing was wanted */
	int short_hours;   /* hours with any shortage */
	int short_days;    /* days with any shortage */
	int short_days_by_month[12];
	/* Days from the start until the first shortage; in fractions of a day. Absent when nothing
	 * draws on the bank. low: poor course. */
	rig_figure days_with_panel, days_without_panel;
} rig_trip_bank;

/* Over synthetic trips at the likely figures, all house banks together. */
typedef struct {
	size_t n_trips; /* 0: not asked for, or no house bank; the rest is 0 */
	uint64_t seed;
	double never_out_frac;                /* share of trips that never run out */
	double never_out_low, never_out_high; /* 95 % interval of that share [WILSON-1927] */
	size_t n_days;
	const double *out_by_day_frac; /* n_days: share that has run out by the end of each day */
} rig_trip_chance;

typedef struct {
	const rig_coach *coach; /* belongs to the caller; must outlive the findings */
	bool has_place;
	rig_place place;          /* if has_place */
	rig_trip_options options; /* the weather stays the caller's and is not followed */
	uint32_t notes;           /* rig_trip_note bits */
	size_t n_hours;           /* of the stay */
	int first_day;            /* day of the year, 0 to 364 */
	size_t n_banks;
	rig_trip_bank *banks; /* house banks first, in the coach's order */
	int main_bank; /* index in banks: the house bank with most usable energy; -1 without one */
	size_t n_loads;
	rig_trip_load *loads; /* carried ones first, by Wh a day at the bank, largest first */
	size_t n_carried;
	double inverter_idle_frac; /* no-load draw, of all that leaves the inverter's bank for loads
				    * and inverter; 0 without an inverter */
	rig_trip_chance chance;
} rig_trip_findings;

/* Days without hookups of a coach at a place.
 *   completed  a completed coach (rig_file_completed)
 *   place      may be NULL with options->weather; the chance then needs a year that says where it
 *              is and has beam light, and rests on that year's own statistics
 *   options    NULL for rig_trip_defaults()
 *   findings   out: free with rig_trip_free; untouched unless RIG_OK
 * RIG_BAD_INPUT: an option is out of its range, there is neither place nor weather, or the coach
 * has more than RIG_MAX_STORES banks. RIG_NO_MEMORY. */
rig_status rig_trip_study(const rig_coach *completed, const rig_place *place,
	const rig_trip_options *options, rig_trip_findings **findings);
void rig_trip_free(rig_trip_findings *findings);

/* The share of each clock hour in which a completed load runs under a habit (-1:
 * its own use), by the rules above, at the given end of its ranges: -1 low, 0 likely, 1 high.
 * Gives the notes that it earned. */
uint32_t rig_load_hours(
	const rig_coach *completed, int load, int habit, int end, double on_frac[24]);

/* What becomes of a completed load away from hookups. */
rig_away rig_load_away(const rig_coach *completed, int load, int habit);

#endif
