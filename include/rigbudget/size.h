/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size.h: the upgrade: which panels, batteries and inverter off a parts list carry a coach's loads
 * through a stay without hookups with a wanted chance, at least price, weight and roof area.
 *
 * An option is so many panels of one kind with as many controllers of one kind as they need, so
 * many batteries of one kind in series and parallel, and one inverter; each of the three may also
 * be what the coach has now. All that fit the limits are looked at. Those are answered that reach
 * the wanted chance in every month asked and that no other such option beats: none is at most as
 * dear, at most as heavy and at most as large on the roof, and less in one of the three. Of options
 * alike in all three the first of the list stands for all. The set is exact over the list and over
 * the trips drawn: nothing is sampled but the weather and what the file leaves open.
 *
 * How: candidates are taken in order of price, weight, area. One that an option already found beats
 * is passed over. For an array and an inverter the bank that each trip needs comes from one pass
 * (the largest shortfall from full of a bank without limits): exact for a bank with one well, no
 * limit of charge and no cold, a lower bound otherwise; what is below it is passed over. The rest
 * is run with the full engine, months that failed before first. What fails rules out what is no
 * better in array and bank, since on the same draws more of either never does worse. */
#ifndef RIG_SIZE_H
#define RIG_SIZE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/parts.h"
#include "rigbudget/place.h"
#include "rigbudget/status.h"
#include "rigbudget/wiring.h"

/* What becomes of a part of the present system. */
typedef enum {
	RIG_SIZE_EITHER, /* both are tried; of panels: as RIG_SIZE_KEEP, since they cost nothing */
	RIG_SIZE_KEEP,   /* panels stay and new ones may join; bank and inverter stay as they are */
	RIG_SIZE_REPLACE /* it goes */
} rig_size_stay;

/* A rectangle on a plane, m, its sides along the axes. */
typedef struct {
	double x_m, y_m, length_m, width_m; /* nearest corner, and how far it goes along x and y */
} rig_rectangle;

/* A flat place with a rectangular outline, and what stands on it. */
typedef struct {
	double length_m, width_m; /* 0: not asked for, all fits */
	double edge_m;            /* to be left free along the outline, >= 0 */
	double gap_m;             /* between two things, and to an obstacle, >= 0 */
	size_t n_obstacles;       /* at most RIG_FLOOR_OBSTACLES */
	const rig_rectangle *obstacles;
} rig_floor;

#define RIG_FLOOR_OBSTACLES 64 /* most on one floor */

/* How many rectangles alike fit, each along or across.
 *   side_m    of one, > 0
 *   most      no more are looked for, 1 to 1000
 * A search over corners that lie at sums of sides from the outline or an obstacle: every packing
 * can be pushed into such corners, so that a search that ends proves its count; it is cut short
 * after 60,000 steps for each way of starting. */
typedef struct {
	size_t n;
	bool proved; /* no more than n would fit, or n is most */
} rig_floor_fit;
/* RIG_NO_MEMORY: *fit is untouched. places (may be NULL) takes n rectangles, room for most. */
rig_status rig_floor_pack(const rig_floor *floor, const double side_m[2], size_t most,
	rig_rectangle places[], rig_floor_fit *fit);

enum { RIG_SIZE_MOST_LOADS = 64 };

typedef struct {
	bool months[12]; /* in each of which the chance is to be reached; a stay starts on the first
			    of it */
	int n_days;      /* 1 to 365 */
	int habit;       /* index into the coach's habits; -1 for each load's own use */
	double wanted_frac; /* chance of not running out, above 0, below 1 */
	size_t n_trips;     /* for each month, 100 to 1000000 */
	uint64_t seed;
	size_t n_threads; /* 1 to RIG_MAX_THREADS; the answer is the same */
	/* Which AC loads are to run away from hookups. None named and not all: those that do now.
	 * DC loads draw on the bank anyway. */
	bool all_loads;
	size_t n_loads; /* at most RIG_SIZE_MOST_LOADS */
	int loads[RIG_SIZE_MOST_LOADS];
	rig_size_stay panels, bank, inverter;
	int most_panels;        /* new ones, >= 0 */
	int most_batteries;     /* new ones, >= 0 */
	double price_max;       /* of all that is new; 0: no limit */
	double weight_max_kg;   /* of all that is new; 0: no limit */
	double area_max_m2;     /* of new panels; 0: no limit */
	rig_floor roof;         /* panels that stay are obstacles where they are listed as such */
	rig_floor battery_room; /* batteries stand upright, side by side */
	double battery_room_height_m;                         /* 0: any */
	double array_run_m, controller_run_m, inverter_run_m; /* of wire one way, > 0 */
	/* As in rig_trip_options; false ends the study: findings->stopped. */
	bool (*progress)(void *context, double done_frac);
	void *context;
} rig_size_options;

/* July only, 14 days, own use, 95 %, 2,000 trips, seed 1, one thread; panels stay, bank and
 * inverter either; 12 panels, 12 batteries; no limits; 6, 2 and 1.5 m of wire (common practice, no
 * source). */
rig_size_options rig_size_defaults(void);

/* A run of wire that an option asks for. */
typedef enum {
	RIG_SIZE_RUN_ARRAY,      /* new panels to their controllers */
	RIG_SIZE_RUN_CONTROLLER, /* these to the bank */
	RIG_SIZE_RUN_INVERTER,   /* bank to inverter */
	RIG_SIZE_N_RUNS
} rig_size_run_kind;

typedef struct {
	bool asked;  /* the option has such a run */
	bool solved; /* false: not even three conductors beside each other will do */
	rig_wire_job job;
	rig_wire_choice choice;
	double fuse_a; /* standard rating, of each alike */
	int n_alike;   /* one for each controller; more where conductors share the amps */
	double interrupt_asked_a; /* of the fuse at the bank; 0: nothing known, or not at the bank
				   */
	int conductor, fuse;      /* index in the list; -1: it has none such */
} rig_size_run;

/* Energy in a month, mean of the trips, Wh a day, all house banks. */
typedef struct {
	bool asked;
	rig_figure never_out_frac; /* chance, with its 95 % interval [WILSON-1927] */
	double harvest, served, curtailed, unserved;
} rig_size_month;

typedef struct {
	int panel, n_panels;            /* index in the list; -1 and 0: no new ones */
	int controller, n_controllers;  /* index; -1 and 0 */
	int panels_in_series;           /* in each string */
	bool panels_stay;               /* the coach's own feed the bank as before */
	int battery, series, parallel;  /* index; -1: the bank stays */
	int inverter;                   /* index; -1: it stays, or the coach has none */
	double new_w;                   /* nameplate of the new panels */
	double total_w;                 /* of all that feed the house */
	double bank_wh, bank_usable_wh; /* likely, of the bank */
	double price, weight_kg, area_m2;
	bool price_is_whole; /* false: the list lacks a conductor or a fuse that it takes */
	rig_size_month months[12];
	int worst_month;
	/* In the worst month with one panel less and with one string of batteries less; absent
	 * where there is none to take away. */
	rig_figure less_panel_frac, less_battery_frac;
	double controller_a; /* that the new panels need, of the controllers together */
	double inverter_asked_w, inverter_asked_surge_w; /* by the loads; 0 without any */
	double inverter_w, inverter_surge_w;             /* 0 without one */
	double bank_discharge_a, bank_discharge_limit_a; /* with all on at once; limit 0: unknown */
	double charger_a;          /* that the option charges with on shore power; 0: none */
	double charge_limit_a;     /* of the bank, likely; 0: none */
	double shore_charge_h;     /* from empty to 98 % of what may be used; 0: no charger */
	double generator_charge_h; /* 0: no generator or no charger */
	int alternator_charger;    /* largest of the list that the bank takes; -1 */
	double alternator_amps_a;  /* into the bank; of the coach's own if it has one */
	double alternator_drawn_a; /* of the alternator: a sixth more [common practice] */
	double depth_frac;         /* of the bank's rated energy drawn a day in the worst month */
	rig_figure cycles;         /* of that depth until worn out; absent if nobody says */
	rig_size_run runs[RIG_SIZE_N_RUNS];
} rig_size_option;

/* What answers nothing. A set of bits. */
typedef enum {
	RIG_SIZE_NO_PANELS_FIT = 1 << 0,  /* no panel of the list fits on the roof */
	RIG_SIZE_PACKING_CUT = 1 << 1,    /* some count on the roof or in the room is not proved */
	RIG_SIZE_WRONG_VOLTS = 1 << 2,    /* some batteries or inverters are not for these volts */
	RIG_SIZE_INVERTER_SMALL = 1 << 3, /* some inverters are too small for the loads */
	RIG_SIZE_NO_INVERTER = 1 << 4,    /* AC loads are wanted and no inverter will do */
	RIG_SIZE_LIMITS_BIND = 1 << 5,    /* price, weight or area shut out some combinations */
	RIG_SIZE_NO_CHANCE = 1 << 6,      /* some combinations are allowed, none reaches it */
	RIG_SIZE_INVENTED = 1 << 7,       /* the list's parts and prices are invented */
	RIG_SIZE_GAPS = 1 << 8            /* some option takes a conductor that the list lacks */
} rig_size_note;

typedef struct {
	const rig_coach
		*coach; /* completed; belongs to the file, which must outlive the findings */
	const rig_parts *parts; /* the caller's; must outlive the findings */
	rig_place place;
	rig_size_options options;
	uint32_t notes;
	bool stopped;
	int bank; /* index in the coach's banks of the one that is sized; -1: the coach gets one */
	double asked_w, asked_surge_w; /* of the inverter by the AC loads that are to run */
	size_t n_wanted;
	const int *wanted;       /* AC loads that are to run, in the coach's order */
	size_t n_candidates;     /* within the limits */
	size_t n_runs, n_passes; /* of the full engine, for one month; and one-pass ones */
	size_t n_options;
	rig_size_option *options_found; /* cheapest first */
	/* The present system on the same trips; asked is false without a house bank. */
	rig_size_month present[12];
} rig_size_findings;

/* The options for the coach of a file at a place.
 *   parts     a right list (rig_parts_parse)
 *   options   NULL for rig_size_defaults()
 *   findings  out: free with rig_size_free; untouched unless RIG_OK
 * RIG_BAD_INPUT: an option is out of its range, or the coach has more than RIG_MAX_STORES banks.
 * RIG_NO_SOLUTION: more than four million combinations. RIG_NO_MEMORY. */
rig_status rig_size_study(const rig_file *file, const rig_parts *parts, const rig_place *place,
	const rig_size_options *options, rig_size_findings **findings);
void rig_size_free(rig_size_findings *findings);

/* The coach with an option's parts in it, as the text of a rig file; free with free(). Its chance
 * by rig_trip_study with the same days, trips, seed and habit is the option's own, to the last
 * trip. The readings of the old system are left out. RIG_NO_MEMORY. */
rig_status rig_size_text(
	const rig_file *file, const rig_size_findings *findings, size_t option, char **text);
/* The same as a file, with the completed coach in it; free with rig_file_free. */
rig_status rig_size_coach(
	const rig_file *file, const rig_size_findings *findings, size_t option, rig_file **coach);

#endif
