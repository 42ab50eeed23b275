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
#include "rigbudget/measuring.h"
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
	size_t n_trips; /* for the chance, 0 to 1000000; 0: the chance is left out */
	uint64_t seed;  /* of the trips */
	/* Trips for each of the side questions: the chance by month, with the generator, without
	 * each load, with more panel or bank. At most n_trips are run; 0: they are left out. */
	size_t n_side_trips;
	size_t n_threads; /* 1 to RIG_MAX_THREADS; the answer is the same */
	bool plain_code;  /* no wider vectors than the platform's least; the same answer */
	/* With a year of hours: trips have days drawn like the file's, with months that stray as
	 * months do; else they have the file's own days in another order (rig_replay_days). */
	bool drawn_days;
	bool likely_inputs; /* trips differ in weather alone, not in what the file leaves open */
	double wanted_out_frac; /* chance of running out that more panel or bank is to reach, above
				   0, below 1 */
	int drive_every_days;   /* one drives on each so manieth day, from 10 h on; 0: never */
	/* Told now and then how much of the work is done, 0 to 1, never twice at once, perhaps from
	 * another thread; false ends the study early: what is then missing is left out, and that is
	 * less or more with the threads. May be NULL. */
	bool (*progress)(void *context, double done_frac);
	void *context;
} rig_trip_options;

/* July, 14 days, mean weather, own use, 1,000 trips and 256 for each side question, seed 1, one
 * thread, a wanted chance of 5 %, no driving. */
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
	RIG_TRIP_BY_WEATHER = 1 << 19,   /* some loads run as long as the weather asks */
	RIG_TRIP_DRIVES = 1 << 20,       /* the alternator charges on driving days */
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
	bool by_weather; /* runs as long as the weather asks */
	/* Over the trips: Wh that it goes without in the stay, in the mean (drawn inputs at their
	 * likely values); and over the side trips the share that runs out with it off, and how much
	 * less that is than with it on in the same trips. 0 without them. */
	double trips_unserved_wh, out_if_cut_frac, out_gained_frac;
} rig_trip_load;

/* The stay with another of the coach's habits. */
typedef struct {
	int habit; /* index in coach->habits */
	const char *name;
	double wanted_wh_day; /* of the main bank, likely course, as in rig_trip_bank */
	/* Days until the main bank is empty, likely course, mean weather or file; and how many more
	 * than with the habit of the stay. */
	double days, days_gained;
	/* Over the side trips, with the same weather and draws as side_out_frac: share that runs
	 * out, with its 95 % interval. Absent without side trips. */
	rig_figure out_frac;
} rig_trip_habit;

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

/* The quantiles of the charge that are given. */
enum { RIG_TRIP_QUANTILES = 5 };
extern const double RIG_TRIP_SHARE[RIG_TRIP_QUANTILES]; /* 0.05, 0.25, 0.5, 0.75, 0.95 */

/* Where the days of the trips are from. */
typedef enum {
	RIG_DAYS_OF_PLACE,  /* drawn by the place's table; also with a file that does not say where
			       it is or has no beam */
	RIG_DAYS_OF_FILE,   /* the file's own, in runs of RIG_REPLAY_RUN_DAYS of the same month */
	RIG_DAYS_LIKE_FILE, /* drawn, with the mean, the spread and the memory of the file's days */
} rig_trip_days;

/* Over many trips, all house banks together. Each trip has weather of its own, and draws what
 * the file leaves open from triangles over its ranges with their tips at the likely values (see
 * rig_trip_input), unless likely_inputs. Generator and shore charger stand still. */
typedef struct {
	size_t n_trips; /* 0: not asked for, or no house bank; the rest is 0 */
	rig_trip_days days_from;
	uint64_t seed;
	double never_out_frac;                /* share of trips that never run out */
	double never_out_low, never_out_high; /* 95 % interval of that share [WILSON-1927] */
	size_t n_days;
	const double *out_by_day_frac; /* n_days: share that has run out by the end of each day */
	const rig_figure *out_by_day;  /* n_days: the same with its 95 % interval */
	/* Of the main bank by hour of the stay, n_hours for each share in RIG_TRIP_SHARE: charge
	 * over what that trip's bank holds when full, within charge_step_frac. */
	const double *charge_frac[RIG_TRIP_QUANTILES];
	double charge_step_frac;
	double unserved_wh; /* in the stay, mean of the trips, house banks, inverter losses
			       included */
} rig_trip_chance;

/* What happens with the generator: started at its levels, in no quiet hour, over the side trips. It
 * carries what the inverter feeds while it runs and charges through the coach's charger. */
typedef struct {
	size_t n_trips; /* 0: no generator, no charger on a house bank, or no side trips */
	bool by_hand;  /* it does not start by itself: somebody does, at 0.5, and stops it at 0.9 */
	bool by_volts; /* started by volts: taken as charge at rest, read off the available well */
	rig_figure out_frac; /* share of trips that still run out, with its 95 % interval */
	double hours_day, given_wh_day; /* run, and given by it */
	rig_figure fuel_l_day;          /* absent if the fuel is not known; its range is that of its
					   use of fuel, not of the hours */
	size_t n_days;
	const double *hours_by_day;
} rig_trip_generator;

/* How much more of something brings the chance to the wanted one. */
typedef struct {
	bool asked;   /* there were side trips, and a house bank */
	bool enough;  /* no more is needed */
	bool reached; /* a thousandfold was not too little */
	double more;  /* W of panel, or Wh of usable bank */
	/* What the sampling error of the side trips leaves open: at more_low the chance is surely
	 * above the wanted one (0: at nothing that was tried), at more_high surely not (0: the
	 * same), with 95 % each. Sizes that were tried, so the range is wide rather than narrow. */
	double more_low, more_high;
} rig_trip_more;

/* What a trip draws besides its weather. */
typedef enum {
	RIG_INPUT_LOAD,       /* index: load; its Wh a day */
	RIG_INPUT_CAPACITY,   /* bank; what it holds */
	RIG_INPUT_USABLE,     /* bank; share of that that may be used */
	RIG_INPUT_EFFICIENCY, /* bank; of charging */
	RIG_INPUT_PANEL,      /* array; its watts */
	RIG_INPUT_LOSSES,     /* array; shade, heat, dirt, wire */
	RIG_INPUT_INVERTER,   /* its losses */
	RIG_INPUT_SUN,        /* of the place, over its table */
	RIG_INPUT_WEATHER     /* all of the weather and what inputs do together: the rest */
} rig_trip_input_kind;

typedef struct {
	rig_trip_input_kind kind;
	int index;        /* of load, bank or array; -1 */
	rig_figure ratio; /* over the likely value, as drawn */
	/* Its share of the spread of the outcome: the variance between the means of 16 classes of
	 * its values, over all, less what chance brings. The outcome is the least that was left,
	 * less what went unserved. */
	double share_frac;
	/* On average stays run out with it in the class at one end of its range, and get through
	 * with it at the other. */
	bool decides;
} rig_trip_input;

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
	size_t n_habits; /* all of the coach's but that of the stay; 0 without a house bank */
	rig_trip_habit *habits;
	bool stopped;              /* progress asked for it: some of what follows is left out */
	double inverter_idle_frac; /* no-load draw, of all that leaves the inverter's bank for loads
				    * and inverter; 0 without an inverter */
	rig_trip_chance chance;
	/* Side questions; n_side_trips is 0 without them. */
	size_t n_side_trips;
	rig_figure side_out_frac;         /* of the stay itself, in these fewer trips */
	rig_figure out_by_month_frac[12]; /* share of stays of n_days from the first of each month
					     that run out, with its 95 % interval; absent without a
					     place */
	rig_trip_generator generator;
	rig_trip_more more_panel, more_bank;
	/* Largest share first; the weather among them. Over at most 8192 trips; 0 below 500. */
	size_t n_inputs;
	rig_trip_input *inputs;
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

/* Of findings->inputs those worth measuring, best first; gives how many. */
size_t rig_trip_measures(
	const rig_trip_findings *findings, rig_measure measures[RIG_MEASURE_SHOWN]);

/* The share of each clock hour in which a completed load runs under a habit (-1:
 * its own use), by the rules above, at the given end of its ranges: -1 low, 0 likely, 1 high.
 * Gives the notes that it earned. */
uint32_t rig_load_hours(
	const rig_coach *completed, int load, int habit, int end, double on_frac[24]);

/* What becomes of a completed load away from hookups. */
rig_away rig_load_away(const rig_coach *completed, int load, int habit);

#endif
