/* SPDX-License-Identifier: GPL-3.0-or-later */
/* energy.h: stores of energy that sources fill and consumers empty, hour by hour: one trip with a
 * full record, or many trips side by side with tallies. Knows watts, hours and temperatures; knows
 * no coach, no panel and no place. Everything that is the same for all trips is worked out once, in
 * the plan.
 *
 * One hour on one store. Within the hour offered watts, wanted watts and the store's current are
 * constant. Offered watts serve the consumers first. What is left over charges the store as far as
 * it accepts, the rest is curtailed. What is missing comes from the store down to its cut-off; past
 * that, every consumer on the store is off for the same share of the hour, the short share. At the
 * end of the hour both wells lose their self-discharge. A store with a reconnect level keeps its
 * consumers off after an hour with a shortage; all that is offered then charges it.
 *
 * One hour with a generator on the store. It starts at the beginning of an hour that is not quiet
 * and at whose end the store would stand at its start level or below, or in which the store would
 * fall short, as cold ones do above that level; runs until the stop level is
 * reached, and for its shortest run if no quiet hour comes before; the last hour is run for the
 * share that it takes. While it runs, it carries what is behind an inverter on that store, and its
 * charger offers what output is left. The hour is the mean of its two parts, each worked out as if
 * it filled the hour, weighted by their shares. */
#ifndef RIG_ENERGY_H
#define RIG_ENERGY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/battery.h"
#include "rigbudget/inverter.h"
#include "rigbudget/status.h"

/* Stores of one plan, at most. */
#define RIG_MAX_STORES 16

/* A battery bank. At constant voltage, so that watt-hours stand for amp-hours. */
typedef struct {
	rig_kinetic kinetic;    /* the two wells, Wh; one well if available_frac is 1 */
	double usable_wh;       /* may be drawn out of a full store at 25 C, > 0, <= capacity */
	double start_frac;      /* of usable_wh that is in it at the start, 0 to 1 */
	double efficiency_frac; /* stored Wh per Wh into the terminals, > 0 to 1 */
	double self_discharge_frac_month; /* of what is in it, at 25 C, >= 0;
					     rig_self_discharge_per_h */
	double charge_limit_w;            /* at the terminals, >= 0; INFINITY if there is none */
	double charge_floor_c;   /* takes no charge in an hour colder than this; -273: none */
	double lost_per_k_frac;  /* of usable_wh out of reach on a cold day; rig_warmth_frac */
	const double *temp_c;    /* by hour of the plan; NULL: 25 C throughout. Not kept */
	bool essential;          /* a trip has run out when an essential store falls short */
	bool outdoors;           /* as warm as the plan's outdoor_c; temp_c is then not read */
	double acceptance_per_h; /* the store takes no more than 1 - e^-acceptance of what is
				    missing in an hour, rig_acceptance_limit; 0: no such limit */
	double reconnect_frac;   /* after a shortage all consumers stay off, until at the end of an
				    hour the available well stands at this share of its height, as a
				    voltage does; 0: they come back with the first energy */
} rig_store;

/* What makes a consumer run. */
typedef enum {
	RIG_BY_CLOCK, /* on_frac alone */
	RIG_BY_COLD,  /* on_frac times duty_per_k for each K that outdoors is below balance_c */
	RIG_BY_HEAT   /* the same for each K above it; both at most on_frac */
} rig_duty;

/* Something that draws on a store. */
typedef struct {
	size_t store; /* index */
	bool through_inverter;
	double watts_w;     /* while it runs, >= 0 */
	double on_frac[24]; /* share of each clock hour in which it runs, 0 to 1 */
	rig_duty duty;
	double balance_c;  /* not by clock: outdoors at which its duty is 0 */
	double duty_per_k; /* not by clock: > 0 */
	bool keeps_awake;  /* keeps an inverter on in its hours even if it draws nothing */
} rig_consumer;

/* Something that fills a store: watts at the store's terminals, by hour of the plan and knot of the
 * sky, watts_w[hour * n_knots + knot], >= 0. */
typedef struct {
	size_t store;
	const double *watts_w; /* not kept */
} rig_source;

/* An engine-driven set with its charger, see above. Levels are shares of its store's capacity. */
typedef struct {
	bool present;
	size_t store;
	double output_w;        /* for what it carries and its charger, > 0 */
	double charge_w;        /* into the store's terminals, at most, >= 0 */
	double charger_frac;    /* Wh at the terminals per Wh of output, > 0 to 1 */
	double start_frac;      /* 0 to stop_frac */
	double stop_frac;       /* 0 to 1 */
	double start_head_frac; /* starts also when the available well would stand at this share of
				   its height, as a voltage does; negative: it does not */
	double minimum_h;       /* shortest run, 0 to 24 */
	bool quiet[24];         /* clock hours in which it stands still */
} rig_genset;

/* What feeds the consumers behind the inverter. */
typedef struct {
	bool present;
	size_t store;
	rig_loss_curve curve;
	bool always_on; /* fixed losses all day; else only while something runs on it */
} rig_inverting;

/* All that a plan is made of. The weather repeats after n_hours, so that a mean day stands for a
 * month and a year for many years. */
typedef struct {
	size_t n_hours; /* a multiple of 24, >= 24; the first is clock hour 0 */
	size_t n_knots; /* 1: the same sky for all trips; else >= 2 */
	size_t n_stores, n_sources, n_consumers;
	const rig_store *stores;
	const rig_source *sources;
	const rig_consumer *consumers;
	rig_inverting inverter;
	rig_genset generator;
	/* Outdoors, C, [hour * n_knots + knot]; a trip's day is that plus its warmth. Not kept.
	 * NULL if no store is outdoors and all consumers run by clock. */
	const double *outdoor_c;
} rig_plan_parts;

typedef struct rig_plan rig_plan; /* a stay made ready for many trips */

/* Works out everything that does not change between trips. Sums do not depend on the order of
 * consumers and sources, to the last bit.
 * RIG_BAD_INPUT: a part is out of its range. RIG_NO_MEMORY. *plan is untouched unless RIG_OK. */
rig_status rig_plan_new(const rig_plan_parts *parts, rig_plan **plan);
void rig_plan_free(rig_plan *plan);

/* Puts other watts, as in rig_source, in the place of those of a plan's one source. */
void rig_plan_refill(rig_plan *plan, const double *watts_w);

/* What is wanted of a store in one clock hour, Wh. An inverter's consumers run independently of
 * each other within the hour, so that its mean loss is loss = fixed rated P(any on) + linear E[w] +
 * square / rated (E[w]^2 + sum w_i^2 f_i (1 - f_i)).
 */
typedef struct {
	double dc_wh;   /* consumers on the store itself */
	double ac_wh;   /* consumers behind the inverter, as they receive it */
	double idle_wh; /* the inverter's fixed loss */
	double loss_wh; /* its other losses */
} rig_demand;

/* By clock hour, 24 of them, of the consumers that run by the clock; belongs to the plan. */
const rig_demand *rig_plan_demand(const rig_plan *plan, size_t store);
/* Of all consumers, in a clock hour that is so warm outdoors. */
rig_demand rig_plan_demand_at(const rig_plan *plan, size_t store, size_t clock_hour, double air_c);
/* What a store can hold, how much of a charge it keeps, and what of a full store may be drawn in
 * that hour of the plan, Wh; outdoors, on the mean of the day's skies. */
double rig_plan_capacity_wh(const rig_plan *plan, size_t store);
double rig_plan_efficiency_frac(const rig_plan *plan, size_t store);
double rig_plan_reach_wh(const rig_plan *plan, size_t store, size_t hour);

/* What is a trip's own. Arrays of [i * stride + lane]: lane is the trip among those that are run
 * side by side, stride is RIG_LANES for them and 1 for one trip. NULL: nothing of it differs. */
typedef struct {
	size_t stride;
	const double *sky; /* [day]: position between the knots, 0 to n_knots - 1; NULL if n_knots
			      is 1 */
	const double *warmth_k;       /* [day]: above the plan's outdoor_c */
	const double *consumer_ratio; /* [consumer]: times its watts, >= 0; 0: it is not there */
	const double *source_ratio;   /* [source]: times its watts, >= 0 */
	const double *capacity_ratio; /* [store]: times what it holds and what may be drawn, > 0 */
	const double *usable_ratio;   /* [store]: times what may be drawn, >= 0, so that no more may
					 be drawn than it holds */
	const double *efficiency_ratio; /* [store]: > 0, so that the efficiency stays at most 1 */
	const double *inverter_ratio;   /* [0]: times the inverter's losses, >= 0 */
} rig_draws;

/* One hour of one store of one trip, Wh. offered + short_frac * wanted + drawn = wanted + charged +
 * curtailed; the store changes by charged * efficiency - drawn - lost. */
typedef struct {
	double offered_wh;   /* the generator's charger included */
	double wanted_wh;    /* of the store: without what the generator carries */
	double charged_wh;   /* into the terminals */
	double drawn_wh;     /* out of the terminals */
	double curtailed_wh; /* offered, but neither wanted nor accepted */
	double lost_wh;      /* self-discharge */
	double short_frac;   /* share of what was wanted that consumers went without */
	double store_wh;     /* in both wells at the end of the hour */
	double left_wh;      /* of that, above the cut-off: may still be drawn; 0 below it */
	double generator_h;  /* its share of the hour; 0 on other stores than its own */
	double generator_wh; /* given by it: carried, and taken by its charger */
} rig_hour;

/* Where a trip stands: its next hour and what the wells hold. A plain value; copy it to try a
 * course and come back. */
typedef struct {
	size_t hour;
	rig_wells wells[RIG_MAX_STORES];
	bool off[RIG_MAX_STORES]; /* consumers wait for the reconnect level */
	bool generator_runs;
	double generator_owes_h; /* left of its shortest run */
} rig_standing;

/* The start of a trip: start_frac of usable_wh in each store, the wells level with each other.
 * draws may be NULL. */
rig_standing rig_plan_start(const rig_plan *plan);
rig_standing rig_plan_start_drawn(const rig_plan *plan, const rig_draws *draws);

/* Runs one trip on for n_hours from where it stands and records each hour in
 * record[i * n_stores + store]; record may be NULL. Running a + b hours is running a, then b.
 *   sky         of each day of the trip, from its first, as in rig_draws */
void rig_plan_trace(const rig_plan *plan, const double *sky, size_t n_hours, rig_standing *standing,
	rig_hour *record);
/* The same with all that may be drawn; stride 1. */
void rig_plan_trace_drawn(const rig_plan *plan, const rig_draws *draws, size_t n_hours,
	rig_standing *standing, rig_hour *record);

/* Sums over trips; all in Wh over all trips together. */
typedef struct {
	double offered_wh, charged_wh, drawn_wh, curtailed_wh, lost_wh;
	double start_wh, end_wh; /* in the store */
	double lowest_left_wh;   /* the lowest of any trip */
} rig_sums;

/* What many trips come to. Arrays belong to the tally. */
typedef struct {
	size_t n_trips, n_hours, n_stores;
	rig_sums *sums;    /* by store */
	double *short_sum; /* [hour * n_stores + store]: short_frac summed over the trips */
	size_t *ran_out;   /* by hour: trips whose first shortage of an essential store is then */
	size_t n_never;    /* trips without a shortage of an essential store */
	double *generator_h, *generator_wh; /* by hour, as in rig_hour, summed over the trips */
	/* Trips by charge at the end of an hour, [(store * n_hours + hour) * n_bins + bin]: bin b
	 * is b to b + 1 n_bins-ths of the store's capacity. NULL unless asked for. */
	size_t n_bins;
	uint32_t *charge_counts;
	struct rig_kernel_space *space; /* the engine's own */
} rig_tally;

/* A tally of nothing yet. RIG_NO_MEMORY. */
rig_status rig_tally_new(const rig_plan *plan, size_t n_hours, rig_tally **tally);
void rig_tally_free(rig_tally *tally);
/* Counts charge from now on, of essential stores: 512 bins, or 128 for stays of more than 60 days.
 * RIG_NO_MEMORY. */
rig_status rig_tally_count_charge(rig_tally *tally);
/* Shares of the trips, 0 to 1, rising, and where their charge goes. */
typedef struct {
	size_t n;
	const double *share;
	double *charge;
} rig_shares;
/* Charge over capacity that each share of the trips stays below at the end of an hour, 0 to 1:
 * within one bin's width, on a straight line inside the bin. store is essential; n_trips > 0. */
void rig_tally_charges(const rig_tally *tally, size_t store, size_t hour, rig_shares shares);

/* Trips that run side by side; a run of more is cut into blocks of these. */
#define RIG_LANES 128

/* Runs n_trips (1 to RIG_LANES) from their start through tally->n_hours and adds them to the tally.
 * Nothing is allocated. The tally depends on the order of the calls in its last bits only.
 *   sky         as in rig_draws with a stride of RIG_LANES */
void rig_plan_trips(const rig_plan *plan, const double *sky, size_t n_trips, rig_tally *tally);

/* Some trips by their numbers. */
typedef struct {
	const double *sky; /* [day * stride + trip]: as in rig_draws */
	size_t stride, n_days;
	size_t n;
	const size_t *trip; /* n of them */
	bool *lasts;        /* out: of each in its place */
} rig_lasting;

/* Which of them go without a shortage, and how many: the very ones that rig_plan_trips counts so,
 * for less, since nothing else is noted and a trip ends on the day on which it runs out. The plan
 * has 2 to 16 knots, one store, which is essential and indoors, no generator, and consumers that
 * run by the clock. Nothing is allocated.
 *   plain_code  no wider vectors than the platform's least; the same answer */
size_t rig_plan_lasting(const rig_plan *plan, const rig_lasting *lasting, bool plain_code);

/* Where the hours of a block go that no store stands in: [hour * RIG_LANES + lane], Wh. */
typedef struct {
	size_t store;
	float *wanted_wh, *offered_wh;
	float *air_c; /* outdoors; may be NULL */
} rig_net;

/* What a block of trips wants of one store and is offered for it, whatever is in the store; a
 * generator stands still. tally gives the hours and the room to work in, and counts nothing. draws
 * have a stride of RIG_LANES. */
void rig_plan_net(const rig_plan *plan, const rig_draws *draws, size_t n_trips,
	const rig_tally *tally, const rig_net *net);

/* What single trips of a block come to. */
typedef struct {
	size_t first_short[RIG_LANES]; /* hour of an essential store's; n_hours: none */
	/* Least that was left in essential stores, less what went unserved on them, Wh: one figure
	 * for how well a trip goes, whether it runs out or not. */
	double margin_wh[RIG_LANES];
} rig_outcomes;

/* A long run: blocks of trips on several threads. The tally has the same bits for any number of
 * threads and either kind of code. */
typedef struct {
	uint64_t first_trip;
	size_t n_trips;   /* > 0 */
	size_t n_threads; /* 1 to RIG_MAX_THREADS; fewer are used where memory would run high */
	bool plain_code;  /* no wider vectors than the platform's least */
	void *context;    /* for the functions below */
	/* Says what is drawn for up to RIG_LANES trips. worker is 0 to n_threads - 1; calls with
	 * different workers may run at once. May hang on nothing but the trips' numbers. */
	void (*draw)(void *context, size_t worker, uint64_t first_trip, size_t n_trips,
		rig_draws *draws);
	/* Takes single outcomes, at once in the same way; may be NULL. */
	void (*take)(void *context, size_t worker, uint64_t first_trip, size_t n_trips,
		const rig_outcomes *outcomes);
	/* Told how many trips are done, never twice at once; false ends the run early. May be NULL.
	 */
	bool (*progress)(void *context, size_t n_done);
} rig_many_trips;

#define RIG_MAX_THREADS 64 /* at once */

/* Adds the trips to the tally. RIG_NO_MEMORY: the tally is then of no use. A run that was ended
 * early has fewer n_trips and is RIG_OK. */
rig_status rig_plan_run(const rig_plan *plan, const rig_many_trips *run, rig_tally *tally);

/* Spreads hours of running evenly over a window of the clock.
 *   running_h   a day, 0 to 24
 *   from_hour   0 to 24, to_hour 0 to 24; through midnight if from > to; the whole day if equal
 * Gives the on_frac of a consumer. RIG_NO_SOLUTION: the window is shorter than running_h. */
rig_status rig_spread_use(double running_h, int from_hour, int to_hour, double on_frac[24]);

#endif
