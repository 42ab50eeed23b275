/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_model.h: a day of shedding as numbers: loads with draws and thermostats, warm bodies, a
 * supply and a manager. Knows no coach. Neighbours of the shed study only. */
#ifndef STUDIES_SHED_MODEL_H
#define STUDIES_SHED_MODEL_H

#include "base/arena.h"
#include "rigbudget/shed.h"
#include "rigbudget/supply_voltage.h"
#include "rigbudget/thermal.h"

enum {
	SHED_DAY_S = 86400,
	SHED_SLOT_S = 1800, /* outdoors is the same for so long */
	SHED_N_SLOTS = SHED_DAY_S / SHED_SLOT_S,
	SHED_MAX_GROUPS = 64,
	SHED_MAX_DROPS = 16,
	SHED_MAX_STAGES = 8
};

/* Current of a load in step with the voltage and behind it. */
typedef struct {
	double active_a, reactive_a;
} shed_amps;

/* One load of the coach, all of its count. */
typedef struct {
	int load; /* index in coach->loads, or RIG_SHED_CHARGER */
	rig_shed_behaviour behaviour;
	bool compressor; /* has a least time off */
	int group;       /* bit in an order; -1: cannot be dropped */
	shed_amps hot[RIG_SHED_MAX_HOTS];
	double watts_w;
	/* As the volts see it: its draw at 120 V on a leg, at 240 V across. */
	rig_feed_place place; /* on one hot RIG_ON_LEG_1 */
	rig_voltage_response response;
	rig_phasor draw;
	bool no_inverter;     /* the inverter does not feed it */
	int body;             /* that it heats or cools; -1 */
	double heat_w;        /* put into the body while it runs; negative when it cools */
	double on_c, off_c;   /* thermostat; on_c > off_c cools */
	double drop_points;   /* of the measure of discomfort: each time that it is dropped */
	double lost_points_s; /* each second wanted and not running */
	/* Of the random days: mean use, in sessions within windows, drawing in cycles. */
	uint32_t key;
	double use_s, session_s, duty_frac, cycle_s;
	double window_s[2][2]; /* from, to; to > from; the second may be empty (both 0); past
				  86400 goes on in the early morning */
	size_t most_switches;
} shed_unit;

typedef enum { SHED_ZONE, SHED_TANK, SHED_CABINET } shed_body_kind;

typedef struct {
	shed_body_kind kind;
	rig_warm_body warm;
	double surroundings_c; /* of tanks and cabinets; zones have the outdoors */
	double inflow_c;       /* of tanks */
	double sun_share;      /* of zones: part of the day's sun, and of what is set free inside */
	double above_c, below_c; /* comfort band; INFINITY and -INFINITY where it has no end */
	double points_k_s;       /* of the measure: each kelvin-second outside it */
	double points_cold_l;    /* and each litre drawn below cold_c */
	double cold_c;
	int leader; /* the unit that its discomfort belongs to */
	size_t n_units;
	int *unit;
	/* Random days of tanks. */
	double litres_day, flow_l_s;
	size_t most_switches;
} shed_body;

/* The charger's steps after it is plugged in, as shares of its full current: all it has, steps of
 * equal charge as the current tapers, and the last, which goes on for ever. */
typedef struct {
	size_t n;
	double level[SHED_MAX_STAGES];
} shed_stages;

/* A day that begins on the inverter, one output for all; and the generator that takes over by
 * itself when much runs, likewise one output. */
typedef struct {
	bool inverter, auto_start;
	double start_w, start_s; /* what runs, the charger aside, and for so long */
	double minimum_run_s;
	double quiet_s[2]; /* clock seconds from, to; alike: none. From may be later than to */
	double generator_limit_a;
	rig_breaker generator_breaker[RIG_N_BREAKERS];
} shed_sources;

typedef struct {
	size_t n_units, n_bodies, n_groups;
	shed_unit *units;
	shed_body *bodies;
	size_t group_unit[SHED_MAX_GROUPS];
	int n_hots;
	rig_shed_manager manager;
	rig_breaker breaker[RIG_N_BREAKERS];
	shed_sources sources;
	/* The way from the open pedestal to the coach, likely. Its three conductors are alike. */
	bool has_volts, draws_across;
	rig_feed feed;
	/* Outdoors. */
	double low_c, high_c, spread_k, sun_w, inside_w;
	/* The charger. */
	shed_stages stages; /* n is 0 without a charger */
	double charge_from_s;
	double deficit_wh, most_wh; /* missing on a mean day; and at most */
	double taper_wh;            /* of that is put back while the current tapers */
	double bank_w;              /* into the bank at full current */
} shed_model;

/* ---- a random day ---- */

typedef struct {
	double outdoor_c[SHED_N_SLOTS];
	double sun_w[SHED_N_SLOTS];
	double **unit_s; /* by unit: times at which it is wanted, not wanted, ... */
	size_t *n_unit_s;
	double **body_s; /* by body: times at which water is drawn, not drawn, ... */
	size_t *n_body_s;
	double *start_c; /* by body */
	bool *calls;     /* by unit, at the start */
	double stage_s[SHED_MAX_STAGES];
} shed_day;

/* RIG_NO_MEMORY */
rig_status shed_day_new(const shed_model *model, rig_arena *arena, shed_day **day);
/* The day of that number; the same whatever the supply and the order. */
void shed_day_draw(const shed_model *model, uint64_t seed, size_t number, shed_day *day);

/* ---- an order ---- */

/* after[g] has a bit for each group that is known to be dropped after g; transitive. */
typedef struct {
	uint64_t after[SHED_MAX_GROUPS];
} shed_order;

shed_order shed_order_of(const int *group, size_t n);
/* Adds that g goes before all of the others, with what follows from it. */
void shed_order_first(shed_order *order, size_t n, int g, uint64_t others);
/* Adds that g goes after all of the others. */
void shed_order_last(shed_order *order, size_t n, int g, uint64_t others);
/* The one of a set that goes before (after) all others of it, or -1 if that is not known. */
int shed_order_pick_first(const shed_order *order, uint64_t set);
int shed_order_pick_last(const shed_order *order, uint64_t set);

/* ---- a day's course ---- */

typedef struct {
	bool calling; /* its thermostat, user or stage asks for it */
	bool wanting; /* and nothing but manager or darkness keeps it off */
	bool running, dropped;
	bool forced;     /* its last stop was not its own */
	double level;    /* share of its draw */
	double unlock_s; /* end of the least time off */
	double switch_s; /* its next own switching */
	size_t at;       /* index of that, or the charger's stage */
	double left_s;   /* of the stage */
	double since_s;  /* booked up to here */
	double served_s, served_j, held_s, held_j;
	double learned_a[RIG_SHED_MAX_HOTS];
	double drop_s[SHED_MAX_DROPS]; /* ring of its last drops */
	int n_drops;
} shed_unit_state;

typedef struct {
	double temp_c, since_s;
	rig_warmth_course course;
	int flips; /* the unit whose thermostat acts next */
	bool flowing;
	size_t at;
	double outside_k_s, litres, cold_litres;
} shed_body_state;

typedef struct {
	double amps_a, over_from_s, drop_due_s;
	bool over, helpless;
	double over_s, helpless_s, longest_over_s, peak_a;
} shed_hot_state;

typedef struct {
	double heat_ratio[RIG_SHED_MAX_HOTS];
	double rearmed_s; /* nothing is counted before */
	int n_trips;
	double soonest_s;
} shed_breaker_state;

/* Running loads by place and by how they answer to volts; shed_volts.h. */
enum { SHED_N_PLACES = RIG_ACROSS_LEGS + 1, SHED_N_RESPONSES = RIG_HOLDS_SHAFT + 1 };
typedef struct {
	rig_phasor draw[SHED_N_PLACES][SHED_N_RESPONSES];
} shed_sums;

/* Worked out for runs with a tally or a trace only. */
typedef struct {
	bool live;   /* false: the supply is dark, or its volts are not known */
	bool failed; /* some moment of the day had no solution */
	double leg_v[RIG_SHED_MAX_HOTS];
	bool compressor_low[RIG_SHED_MAX_HOTS];
	shed_sums sums;
} shed_volts_state;

typedef struct {
	double now_s, amps_since_s, dark_until_s, restored_s;
	int slot;
	bool dark, amps_stale, done;
	uint64_t dropped; /* groups */
	uint64_t choice;  /* the set that an order does not decide */
	shed_hot_state hot[RIG_SHED_MAX_HOTS];
	shed_breaker_state breaker[RIG_N_BREAKERS];
	shed_volts_state volts;
	bool on_generator, much; /* much runs, since much_since_s */
	double much_since_s, started_s, generator_s;
	int n_starts;
	int hour_drops[24];
	shed_unit_state *unit;
	shed_body_state *body;
	double *due_s; /* shed_run.c */
	size_t n_due;
} shed_state;

/* RIG_NO_MEMORY */
rig_status shed_state_new(const shed_model *model, rig_arena *arena, shed_state **state);
void shed_state_copy(const shed_model *model, const shed_state *from, shed_state *to);

/* What many days add up to; seconds by amps. */
enum { SHED_N_BINS = 4000 };
static const double SHED_BIN_A = 0.1;
enum { SHED_N_VOLT_BINS = 2000 };
static const double SHED_BIN_V = 0.1;
typedef struct {
	double bin_s[SHED_N_VOLT_BINS];
	double volt_s, below_a_s, below_b_s, compressor_low_s;
	double lowest_v; /* 0: none yet */
	shed_sums lowest;
} shed_leg_tally;
typedef struct {
	double bin_s[RIG_SHED_MAX_HOTS][SHED_N_BINS];
	double amp_s[RIG_SHED_MAX_HOTS];
	double live_s; /* with volts */
	shed_leg_tally leg[RIG_SHED_MAX_HOTS];
} shed_tally;

/* The course of one day; with room 0 things are counted only. */
typedef struct {
	size_t n_spans, spans_room, n_points, points_room, n_trips, trips_room, n_runs, runs_room;
	rig_shed_span *spans;
	rig_shed_point *points;
	double *trip_s;
	rig_shed_generator_run *runs;
	rig_shed_weather_point weather[SHED_N_SLOTS];
} shed_trace;

typedef struct {
	const shed_model *model;
	const shed_day *day;
	const shed_order *order;
	bool free;         /* no limit and no breaker */
	shed_tally *tally; /* may be NULL */
	shed_trace *trace; /* may be NULL */
} shed_run;

typedef enum { SHED_DONE, SHED_CHOOSE_FIRST, SHED_CHOOSE_LAST } shed_outcome;

/* The start of a day. */
void shed_begin(const shed_run *run, shed_state *state);
/* Goes on to the end of the day, or to where the order does not say which one of state->choice is
 * dropped first, or brought back first (which is the last in order); goes on from there with an
 * order that says more. Nothing is allocated. */
shed_outcome shed_advance(const shed_run *run, shed_state *state);

/* Points of the measure of discomfort so far; never falls in the course of a day. */
double shed_points(const shed_model *model, const shed_state *state);
double shed_unit_points(const shed_model *model, const shed_state *state, size_t unit);

#endif
