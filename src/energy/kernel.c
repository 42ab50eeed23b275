/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <string.h>

#include "energy/plan.h"

/* Less than this share of an hour without power is rounding, not a shortage: 4 microseconds. */
static const double SHORT_FRAC = 1e-9;

/* What one store meets in one hour; the same for all trips. */
typedef struct {
	rig_kinetic_step step;
	double per_g1, efficiency_frac, per_efficiency;
	double wanted_wh, per_wanted;
	double floor_wh, accept_wh, keep_frac;
} hour_figures;

/* What one hour does to one store of one trip, Wh. */
typedef struct {
	double charged, drawn, curtailed, lost, short_frac;
} hour_flows;

static inline double least(double a, double b)
{
	return a < b ? a : b;
}

static inline double most(double a, double b)
{
	return a > b ? a : b;
}

static hour_figures figures_of(const plan_store *store, size_t plan_hour)
{
	const size_t clock_hour = plan_hour % 24;
	return (hour_figures){
		.step = store->step,
		.per_g1 = store->per_g1,
		.efficiency_frac = store->efficiency_frac,
		.per_efficiency = store->per_efficiency,
		.wanted_wh = store->wanted_wh[clock_hour],
		.per_wanted = store->per_wanted[clock_hour],
		.floor_wh = store->floor_wh[plan_hour],
		.accept_wh = store->accept_wh[plan_hour],
		.keep_frac = store->keep_frac[plan_hour],
	};
}

/* The step of [MANWELL-1993] for the current that offers, wants and limits leave: the available
 * well ends the hour neither below empty nor past full, and the store not below its floor. Where
 * there is nothing to decide, both limits are worked out all the same: a select, not a branch. */
static inline hour_flows step_hour(
	const hour_figures *f, double offered, double *available, double *bound)
{
	const rig_kinetic_step *k = &f->step;
	const double available_still = k->a11 * *available + k->a12 * *bound;
	const double bound_still = k->a21 * *available + k->a22 * *bound;
	const double total_still = available_still + bound_still;

	const double give = least(available_still * f->per_g1, total_still - f->floor_wh);
	const double take = (k->available_full - available_still) * f->per_g1 * f->per_efficiency;
	const double spare = offered - f->wanted_wh;
	const double drawn = most(least(-spare, give), 0);
	const double charged = most(least(spare, least(take, f->accept_wh)), 0);

	const double current = drawn - charged * f->efficiency_frac;
	*available = (available_still - k->g1 * current) * f->keep_frac;
	*bound = (bound_still - k->g2 * current) * f->keep_frac;
	return (hour_flows){
		.charged = charged,
		.drawn = drawn,
		.curtailed = most(spare, 0) - charged,
		.lost = (total_still - current) * (1 - f->keep_frac),
		.short_frac = (most(-spare, 0) - drawn) * f->per_wanted,
	};
}

/* Between two knots of an hour's offers. */
static inline double offer_at(const double *row, size_t n_knots, double sky)
{
	if (n_knots == 1)
		return row[0];
	const size_t knot = sky < (double)(n_knots - 1) ? (size_t)sky : n_knots - 2;
	const double beyond = sky - (double)knot;
	return row[knot] + beyond * (row[knot + 1] - row[knot]);
}

static void trace_hour(const rig_plan *plan, double sky, rig_standing *standing, rig_hour *record)
{
	const size_t plan_hour = standing->hour % plan->n_hours;
	for (size_t s = 0; s < plan->n_stores; s++) {
		const plan_store *store = &plan->stores[s];
		const hour_figures f = figures_of(store, plan_hour);
		const double *offers = store->offered_wh;
		const double offered =
			offers ? offer_at(offers + plan_hour * plan->n_knots, plan->n_knots, sky)
			       : 0;
		rig_wells *wells = &standing->wells[s];
		const hour_flows flows = step_hour(&f, offered, &wells->available, &wells->bound);
		const double total = wells->available + wells->bound;
		if (record)
			record[s] = (rig_hour){
				.offered_wh = offered,
				.charged_wh = flows.charged,
				.drawn_wh = flows.drawn,
				.curtailed_wh = flows.curtailed,
				.lost_wh = flows.lost,
				.short_frac = flows.short_frac > SHORT_FRAC ? flows.short_frac : 0,
				.store_wh = total,
				.left_wh = most(total - f.floor_wh, 0),
			};
	}
	standing->hour++;
}

void rig_plan_trace(const rig_plan *plan, const double *sky, size_t n_hours, rig_standing *standing,
	rig_hour *record)
{
	assert((sky != NULL) == (plan->n_knots > 1));
	for (size_t i = 0; i < n_hours; i++) {
		trace_hour(plan, sky ? sky[standing->hour / 24] : 0, standing, record);
		if (record)
			record += plan->n_stores;
	}
}

/* ---- many trips side by side ---- */

/* One store of a block of trips. */
typedef struct {
	double available[RIG_LANES], bound[RIG_LANES];
	double offered[RIG_LANES], charged[RIG_LANES], drawn[RIG_LANES], curtailed[RIG_LANES],
		lost[RIG_LANES], lowest_left[RIG_LANES];
} store_lanes;

/* One day's sky of a block of trips. */
typedef struct {
	size_t knot[RIG_LANES];
	double beyond[RIG_LANES];
} sky_lanes;

static void read_sky(const double *sky, size_t n_knots, size_t n_trips, sky_lanes *lanes)
{
	for (size_t i = 0; i < n_trips; i++) {
		const size_t knot = sky[i] < (double)(n_knots - 1) ? (size_t)sky[i] : n_knots - 2;
		lanes->knot[i] = knot;
		lanes->beyond[i] = sky[i] - (double)knot;
	}
}

static void offers_of(const rig_plan *plan, const double *row, const sky_lanes *sky, size_t n_trips,
	double offered[RIG_LANES])
{
	for (size_t i = 0; i < n_trips; i++) {
		if (!row)
			offered[i] = 0;
		else if (plan->n_knots == 1)
			offered[i] = row[0];
		else
			offered[i] = row[sky->knot[i]] +
				     sky->beyond[i] * (row[sky->knot[i] + 1] - row[sky->knot[i]]);
	}
}

static void step_lanes(const hour_figures *f, const double offered[RIG_LANES], size_t n_trips,
	store_lanes *lanes, double short_frac[RIG_LANES])
{
	for (size_t i = 0; i < n_trips; i++) {
		const hour_flows flows =
			step_hour(f, offered[i], &lanes->available[i], &lanes->bound[i]);
		const double left = lanes->available[i] + lanes->bound[i] - f->floor_wh;
		lanes->offered[i] += offered[i];
		lanes->charged[i] += flows.charged;
		lanes->drawn[i] += flows.drawn;
		lanes->curtailed[i] += flows.curtailed;
		lanes->lost[i] += flows.lost;
		lanes->lowest_left[i] = least(lanes->lowest_left[i], most(left, 0));
		short_frac[i] = flows.short_frac > SHORT_FRAC ? flows.short_frac : 0;
	}
}

/* Sum in eight strands: one fixed order that a compiler can run side by side. */
static double sum_lanes(const double values[RIG_LANES], size_t n_trips)
{
	double strand[8] = {0};
	size_t i = 0;
	for (; i + 8 <= n_trips; i += 8)
		for (size_t k = 0; k < 8; k++)
			strand[k] += values[i + k];
	for (size_t k = 0; i < n_trips; i++, k++)
		strand[k] += values[i];
	return ((strand[0] + strand[1]) + (strand[2] + strand[3])) +
	       ((strand[4] + strand[5]) + (strand[6] + strand[7]));
}

static void note_shortage(const double short_frac[RIG_LANES], size_t n_trips, size_t hour,
	size_t first_short[RIG_LANES])
{
	for (size_t i = 0; i < n_trips; i++)
		first_short[i] = short_frac[i] > 0 && hour < first_short[i] ? hour : first_short[i];
}

static void start_lanes(const rig_plan *plan, size_t n_trips, store_lanes lanes[])
{
	memset(lanes, 0, plan->n_stores * sizeof *lanes);
	for (size_t s = 0; s < plan->n_stores; s++) {
		for (size_t i = 0; i < n_trips; i++) {
			lanes[s].available[i] = plan->stores[s].start.available;
			lanes[s].bound[i] = plan->stores[s].start.bound;
			lanes[s].lowest_left[i] = plan->stores[s].capacity_wh;
		}
	}
}

static void add_sums(
	const plan_store *store, const store_lanes *lanes, size_t n_trips, rig_sums *sums)
{
	sums->offered_wh += sum_lanes(lanes->offered, n_trips);
	sums->charged_wh += sum_lanes(lanes->charged, n_trips);
	sums->drawn_wh += sum_lanes(lanes->drawn, n_trips);
	sums->curtailed_wh += sum_lanes(lanes->curtailed, n_trips);
	sums->lost_wh += sum_lanes(lanes->lost, n_trips);
	sums->start_wh += (double)n_trips * (store->start.available + store->start.bound);
	sums->end_wh += sum_lanes(lanes->available, n_trips) + sum_lanes(lanes->bound, n_trips);
	for (size_t i = 0; i < n_trips; i++)
		sums->lowest_left_wh = least(sums->lowest_left_wh, lanes->lowest_left[i]);
}

/* A block of trips on its way. */
typedef struct {
	store_lanes stores[RIG_MAX_STORES];
	sky_lanes sky;
	size_t first_short[RIG_LANES]; /* hour of an essential store's; n_hours: not yet */
} block;

static void step_block(
	const rig_plan *plan, size_t hour, size_t n_trips, block *trips, rig_tally *tally)
{
	const size_t plan_hour = hour % plan->n_hours;
	double offered[RIG_LANES], short_frac[RIG_LANES];
	for (size_t s = 0; s < plan->n_stores; s++) {
		const plan_store *store = &plan->stores[s];
		const hour_figures f = figures_of(store, plan_hour);
		const double *row =
			store->offered_wh ? store->offered_wh + plan_hour * plan->n_knots : NULL;
		offers_of(plan, row, &trips->sky, n_trips, offered);
		step_lanes(&f, offered, n_trips, &trips->stores[s], short_frac);
		tally->short_sum[hour * plan->n_stores + s] += sum_lanes(short_frac, n_trips);
		if (store->essential)
			note_shortage(short_frac, n_trips, hour, trips->first_short);
	}
}

static void add_block(const rig_plan *plan, const block *trips, size_t n_trips, rig_tally *tally)
{
	for (size_t s = 0; s < plan->n_stores; s++)
		add_sums(&plan->stores[s], &trips->stores[s], n_trips, &tally->sums[s]);
	for (size_t i = 0; i < n_trips; i++) {
		if (trips->first_short[i] < tally->n_hours)
			tally->ran_out[trips->first_short[i]]++;
		else
			tally->n_never++;
	}
	tally->n_trips += n_trips;
}

void rig_plan_trips(const rig_plan *plan, const double *sky, size_t n_trips, rig_tally *tally)
{
	assert(n_trips >= 1 && n_trips <= RIG_LANES && tally->n_stores == plan->n_stores);
	assert((sky != NULL) == (plan->n_knots > 1));
	block trips;
	memset(&trips.sky, 0, sizeof trips.sky);
	start_lanes(plan, n_trips, trips.stores);
	for (size_t i = 0; i < n_trips; i++)
		trips.first_short[i] = tally->n_hours;
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		if (sky && hour % 24 == 0)
			read_sky(sky + hour / 24 * RIG_LANES, plan->n_knots, n_trips, &trips.sky);
		step_block(plan, hour, n_trips, &trips, tally);
	}
	add_block(plan, &trips, n_trips, tally);
}
