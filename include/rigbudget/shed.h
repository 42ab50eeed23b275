/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed.h: a day on shore power or on the generator, with what the energy manager drops and brings
 * back, what the breaker would do, and the order of dropping that costs least.
 * Knows draws, thermostats, habits, relays and the way to the pedestal; starting current (under a
 * second) is left out. Manager and breaker count amps at rated volts, as shore.h does: at 10 % low
 * volts a motor or an electronic load draws about 11 % more. docs/method.md has the models, the
 * random days and the measure of discomfort. */
#ifndef RIG_SHED_H
#define RIG_SHED_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/breaker.h"
#include "rigbudget/coach.h"
#include "rigbudget/measuring.h"
#include "rigbudget/status.h"
#include "rigbudget/voltage.h"

/* Where a load index stands for the battery charger (coach->charger), which is not one of
 * coach->loads. */
enum { RIG_SHED_CHARGER = -1 };
enum { RIG_SHED_MAX_HOTS = 2 };

typedef enum {
	RIG_SHED_HOT,  /* 22 to 38 C: roof units cool */
	RIG_SHED_MILD, /* 10 to 22 C: windows do it, nothing cools or heats */
	RIG_SHED_COLD, /* -7 to 4 C: heat pumps, strip heat and heaters run */
	RIG_SHED_OWN   /* low_c to high_c of the options: cools if the high is above 26 C, else
			  heats if the low is below 10 C, else does neither */
} rig_shed_weather;

typedef struct {
	const char *supply; /* id in the table of supplies, "generator", or "inverter" (with the
			       generator, if that starts by load); NULL: the coach's own cord on a
			       receptacle of its size */
	rig_shed_weather weather;
	double low_c, high_c; /* outdoors, with RIG_SHED_OWN; low <= high */
	double limit_a;       /* per hot that the manager defends; 0: the coach's own limit or the
				 supply's rating, whichever is less. More than the rating is refused */
	double length_m;      /* of the coach's box; 0: by its cord and roof units */
	double charge_from_hour; /* the bank is plugged in to be filled then, 0 to 24 */
	double deficit_frac;     /* of the house bank's usable energy that is then missing on a mean
				    day, 0 to 1; a day draws 0 to twice that, not more than all */
	int habit;               /* index in coach->habits; -1: the loads' own use */
	int end;             /* draws at the low (-1), likely (0) or high (1) end of their ranges */
	size_t n_days;       /* random days, 1 to 100,000 */
	size_t n_order_days; /* of them, the first so many judge the orders, 1 to n_days; 0: the
				order is not looked for */
	size_t n_measure_days; /* of them, for each end of each figure that is worth measuring, 0
				  to n_days; 0: that is left out */
	uint64_t seed;
} rig_shed_options;

/* The coach's own supply, hot, charging 30 % from 16 h, 200 days, 20 for the order, seed 1. */
rig_shed_options rig_shed_defaults(void);

/* How a load behaves in time. Thermostats go by the weather and by what is drawn; their hours of
 * use are not read. */
typedef enum {
	RIG_SHED_STEADY,  /* draws all day */
	RIG_SHED_USED,    /* somebody uses it: random spans of the day, in its window */
	RIG_SHED_COOLS,   /* thermostat of the coach, cooling */
	RIG_SHED_HEATS,   /* thermostat of the coach, heating */
	RIG_SHED_WATER,   /* thermostat of a hot-water tank */
	RIG_SHED_CABINET, /* thermostat of a refrigerator or freezer */
	RIG_SHED_CHARGES, /* the battery charger in its stages */
	RIG_SHED_IDLE     /* not used in this weather (a roof unit on a mild day) */
} rig_shed_behaviour;

/* One figure over the random days. */
typedef struct {
	double mean;
	double p50, p90; /* 50 % and 90 % of the days have no more */
	double most;
} rig_shed_spread;

/* What one load goes through. Days are those of the findings. */
typedef struct {
	int load;              /* index in coach->loads, or RIG_SHED_CHARGER */
	const char *id, *name; /* of the coach's load; NULL for the charger */
	rig_shed_behaviour behaviour;
	int hot;    /* 0 or 1; -1: both (240 V) */
	bool dead;  /* 240 V, and the supply has one hot, or unfed and no generator starts: it is
		       left out of everything */
	bool unfed; /* the inverter does not feed it */
	int rank; /* place in the drop order, 0 is dropped first; -1: the manager cannot drop it */
	double watts_w; /* all of its count, while it runs (charger: at full current) */
	double amps_a;  /* on its hot */
	/* Wh a day: wanted = served + withheld, to rounding. Wanted is while its thermostat or its
	 * user asks for it, also when nobody answers. */
	double wanted_wh_day, served_wh_day, withheld_wh_day;
	rig_shed_spread drops;        /* times a day that the manager drops it */
	rig_shed_spread lost_minutes; /* a day, wanted and not running */
	/* Thermostats: outside the comfort band, K h a day: above 1.5 K over the coach's set point
	 * (cooling), below 1.5 K under it (heating), above 5.5 C in a refrigerator. Free is the
	 * same day with no limit and no breaker; lost is the rest. 0 for others. */
	double degree_h_day, free_degree_h_day;
	/* Water: litres drawn, and of them litres below 40 C; free as above. 0 for others. */
	double litres_day, cold_litres_day, free_cold_litres_day;
	double discomfort_day; /* its part of the measure, above the free day's; can be slightly
				  below 0, where a pause happens to fall well */
} rig_shed_load;

/* An order of dropping, and what it costs. */
typedef struct {
	size_t n;
	const int *load;            /* indices in coach->loads, dropped first first */
	double discomfort_day;      /* above the free days', over the order days */
	double rest_discomfort_day; /* the same over the days that did not judge the orders; 0
				       without such days */
	double lost_minutes_day;    /* over all days */
	double drops_day;
} rig_shed_order;

/* One step from the coach's order to the best one: take the load out and put it in again. */
typedef struct {
	int load;
	int from, to; /* rank in the own order and in the best one */
} rig_shed_move;

/* What the manager works by. */
typedef struct {
	bool present;   /* without a manager nothing is dropped, and the breaker decides */
	bool own_order; /* the coach file gives the order; else it is by priority, loads that
			   managers usually drop only */
	double limit_a;
	double sensing_delay_s;    /* above the limit so long before the first drop */
	double drop_interval_s;    /* and so long before each further one */
	double restore_delay_s;    /* least time off for a dropped load */
	double restore_interval_s; /* between two that are brought back */
	double minimum_off_s;      /* least time off for a compressor, dropped or not */
	int most_drops; /* dropped so often within reset_s, a load stays off for the rest of it */
	double reset_s;
} rig_shed_manager;

/* The supply's breaker, one end of the band (breaker.h). On a trip of the likely breaker all is
 * dark for 15 minutes, then it is reset; what the early and the late one would do is counted on
 * the side, each with its own heat, and re-armed cold after the same time. */
typedef struct {
	rig_breaker breaker; /* one pole */
	double trips_day;
	double days_frac;      /* share of days with a trip */
	double soonest_trip_s; /* least time to a trip if a current that was met had gone on;
				  INFINITY if none was enough. Held against longest_over_s */
} rig_shed_breaker;

/* On the inverter, a generator that starts by itself when what runs takes start_load_w for so long,
 * the charger aside, and stops when less runs for so long, its least run is over, or quiet hours
 * begin. One output for all is counted, as the inverter's; 240 V is left out, the seconds of a
 * start too. What a bank at its threshold does is trip.h's. */
typedef struct {
	bool auto_start; /* false: the rest is 0 */
	double start_load_w, start_load_s, minimum_run_s;
	double limit_a; /* its watts, by height and heat, over 120 V */
	double starts_day, run_h_day;
	double days_frac; /* share of days on which it starts */
} rig_shed_generator;

typedef struct {
	double peak_a; /* largest of all days, starting currents left out */
	double p95_a;  /* 95 % of the time it is no more, within 0.1 A */
	double mean_a;
	double over_s_day;     /* time above the limit */
	double longest_over_s; /* longest stretch above the limit while something was left to drop
				*/
	double helpless_s_day; /* above the limit with nothing left to drop */
} rig_shed_hot;

/* Volts hot to neutral at the coach's panel, with the source, adapter and cord of voltage.h and all
 * loads answering to them; within 0.05 V of its solution. Dark times are left out. Limits are those
 * of utilization of 2011 and later [ANSI-C841]. */
typedef struct {
	rig_figure lowest_v; /* of all days; its ends are what the same loads leave with open volts
				and wires at theirs */
	double p05_v;        /* 95 % of the time it is no less, within 0.1 V */
	double mean_v;
	double below_a_s_day, below_b_s_day; /* under range A, under range B */
	double compressor_low_s_day;         /* a compressor runs under RIG_COMPRESSOR_FLOOR_V */
	double compressor_low_days_frac;
} rig_shed_volts;

/* The shown day: what its course was. */
typedef enum {
	RIG_SHED_RUNS,
	RIG_SHED_HELD_OFF, /* dropped, or the supply is dark, and it wants to run */
	RIG_SHED_DROPPED   /* dropped, and it does not want to run */
} rig_shed_state;

typedef struct {
	int load; /* index in findings->loads */
	rig_shed_state state;
	double from_s, to_s; /* of the day, 0 to 86400 */
} rig_shed_span;

typedef struct {
	double at_s; /* from here on, up to the next point */
	double amps_a[RIG_SHED_MAX_HOTS];
	double volts_v[RIG_SHED_MAX_HOTS]; /* 0 while dark, and where has_volts is false */
} rig_shed_point;

/* Outdoors and indoors at a half hour of the shown day. */
typedef struct {
	double at_s, outdoor_c;
	double indoor_c; /* of the warmest zone when cooling, else of the coolest; NaN where nothing
			    cools or heats, so that nobody follows it */
} rig_shed_weather_point;

/* The generator ran. */
typedef struct {
	double from_s, to_s;
} rig_shed_generator_run;

typedef struct {
	size_t day; /* which of the random days: the middle one by discomfort */
	size_t n_spans;
	const rig_shed_span *spans; /* load after load, in time */
	size_t n_points;
	const rig_shed_point *points; /* the first at 0 */
	size_t n_trips;
	const double *trip_s; /* the likely breaker's */
	size_t n_runs;
	const rig_shed_generator_run *runs;
	size_t n_weather;
	const rig_shed_weather_point *weather;
} rig_shed_shown;

typedef enum {
	RIG_SHED_NO_MANAGER = 1 << 0,
	RIG_SHED_BY_PRIORITY = 1 << 1,  /* the file gives no order */
	RIG_SHED_UNPLACED = 1 << 2,     /* loads without a leg were dealt to the emptier one */
	RIG_SHED_HAS_DEAD = 1 << 3,     /* 240 V loads have no supply */
	RIG_SHED_SIZE_GUESSED = 1 << 4, /* the coach's length is a guess from its cord */
	RIG_SHED_UNHEATED_BOX = 1 << 5, /* nothing cools (hot) or heats (cold) the coach */
	RIG_SHED_CANNOT_HOLD = 1 << 6,  /* even free, the comfort band is left for over 1 K h a
					   day */
	RIG_SHED_CORD_LIMITS = 1 << 7,  /* the cord is smaller than the receptacle */
	RIG_SHED_SHARED_HOT = 1 << 8,   /* a coach of two legs on one hot */
	RIG_SHED_QUIET_START = 1 << 9   /* quiet hours keep the generator from starting by load */
} rig_shed_note;

typedef struct {
	const rig_coach *coach; /* the caller's; must outlive the findings */
	rig_shed_options options;
	uint32_t notes; /* rig_shed_note bits */
	/* The supply. */
	const rig_supply *pedestal; /* NULL on generator and inverter */
	int n_hots;
	bool inverter;    /* the day begins on it; the charger then runs on the generator only */
	double rating_a;  /* per hot: the smaller of receptacle and cord; on the generator its watts
			     over the hots and 120 V, less what height and heat take; on the
			     inverter its watts over 120 V */
	double left_frac; /* of a generator's label, at the site's height and the days' high
			     (generator.h, height and heat); 1 on shore */
	rig_shed_generator generator;
	double low_c, high_c; /* mean outdoors of the days; each day differs by 2 K or so */
	double length_m;
	rig_shed_manager manager;
	size_t n_days;
	size_t n_loads;
	rig_shed_load *loads; /* AC loads in the coach's order, the charger last; those that are
				 always on and cannot be dropped are among them */
	rig_shed_hot hot[RIG_SHED_MAX_HOTS];
	rig_shed_breaker breaker[RIG_N_BREAKERS];
	/* On shore of which the file's coach says enough; a generator's regulator sets its own. */
	bool has_volts;
	rig_voltage_path path; /* its supply is 0 */
	rig_shed_volts volts[RIG_SHED_MAX_HOTS];
	rig_shed_spread drops;        /* a day, all loads */
	double drops_per_h_most;      /* the most in one clock hour */
	rig_shed_spread lost_minutes; /* a day, all loads together */
	rig_shed_spread discomfort;   /* a day, above the free day's */
	double days_with_drops_frac;
	/* The orders; n is 0 in best when it was not looked for or there is nothing to order. */
	rig_shed_order own, best;
	/* What the minutes that loads stand still hang on, worth measuring first, at most
	 * RIG_MEASURE_SHOWN: one figure after the other at its ends over the same random days. One
	 * decides if nothing is switched off, or trips, at one of its ends only. */
	size_t n_measures;
	rig_measure *measures;
	bool proved;       /* no order is better on the order days; always so up to 8 loads */
	size_t n_branches; /* groups of orders that the search followed */
	/* The best order is better by half a point a day and by a tenth, on the days that judged
	 * and on the rest alike; else the own order is as good, whatever the moves say. */
	bool worth_changing;
	size_t n_moves; /* 0: the own order is the best */
	const rig_shed_move *moves;
	rig_shed_shown shown;
} rig_shed_findings;

/* Random days of a completed coach on a supply.
 *   options   NULL for rig_shed_defaults()
 *   findings  out: to be freed with rig_shed_free(); untouched unless RIG_OK
 * The same seed gives the same days on every supply and with every order.
 * RIG_BAD_INPUT: an option is out of its range, a figure is not finite or not in order, or more
 * than 64 loads can be dropped. RIG_NOT_FOUND: no such supply, or a generator that the coach does
 * not have. RIG_NO_SOLUTION: volts as rig_feed_solve. RIG_NO_MEMORY. */
rig_status rig_shed_study(
	const rig_coach *completed, const rig_shed_options *options, rig_shed_findings **findings);
void rig_shed_free(rig_shed_findings *findings);

#endif
