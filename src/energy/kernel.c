/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loops over the trips of a block are innermost, without branches, calls or memory taken, so that a
 * compiler runs several trips in one instruction. The whole is compiled once for each width. */
#include "energy/kernel.h"

#include <assert.h>
#include <float.h>
#include <stdlib.h>
#include <string.h>

#include "energy/hour.h"
#include "energy/width.h"

/* A pointer through which alone its figures are reached. */
#define ALONE restrict

static const double ONE = 1;

/* A ratio of all trips: figures from one trip to the next, or the same one throughout. */
typedef struct {
	const double *at;
	size_t step;
} lane_ratio;

HOUR_INLINE lane_ratio ratio_of(const double *ratios, size_t index)
{
	return ratios ? (lane_ratio){ratios + index * RIG_LANES, 1} : (lane_ratio){&ONE, 0};
}

/* ---- the start of a block ---- */

HOUR_INLINE void begin_limits(const kernel_block *b, size_t s)
{
	const plan_store *store = &b->plan->stores[s];
	kernel_store *lanes = &b->space->stores[s];
	const lane_ratio capacity = ratio_of(b->draws->capacity_ratio, s);
	const lane_ratio usable = ratio_of(b->draws->usable_ratio, s);
	const lane_ratio efficiency = ratio_of(b->draws->efficiency_ratio, s);
	for (size_t i = 0; i < b->n; i++) {
		const double times = capacity.at[i * capacity.step];
		const double capacity_wh = store->kinetic.capacity * times;
		lanes->capacity[i] = capacity_wh;
		lanes->available_full[i] = store->kinetic.available_frac * capacity_wh;
		lanes->usable[i] = store->usable_wh * times * usable.at[i * usable.step];
		lanes->efficiency[i] = store->efficiency_frac * efficiency.at[i * efficiency.step];
		lanes->per_efficiency[i] = 1 / lanes->efficiency[i];
		lanes->bins_per_wh[i] = (double)b->tally->n_bins / capacity_wh;
	}
}

HOUR_INLINE void begin_wells(const kernel_block *b, size_t s)
{
	const plan_store *store = &b->plan->stores[s];
	kernel_store *lanes = &b->space->stores[s];
	for (size_t i = 0; i < b->n; i++) {
		const double start_wh =
			lanes->capacity[i] - lanes->usable[i] * (1 - store->start_frac);
		const double charge = start_wh / lanes->capacity[i] * lanes->capacity[i];
		lanes->available[i] = store->kinetic.available_frac * charge;
		lanes->bound[i] = (1 - store->kinetic.available_frac) * charge;
		lanes->start[i] = lanes->available[i] + lanes->bound[i];
		lanes->offered_sum[i] = lanes->charged[i] = lanes->drawn[i] = 0;
		lanes->curtailed[i] = lanes->unserved[i] = 0;
		lanes->lowest_left[i] = lanes->capacity[i];
		lanes->closed[i] = 1;
	}
}

HOUR_INLINE void clear_day(kernel_day day, double value, size_t n_trips)
{
	for (size_t hour = 0; hour < 24; hour++)
		for (size_t i = 0; i < n_trips; i++)
			day[hour][i] = value;
}

/* A consumer on a store itself, by the clock. */
HOUR_INLINE void add_direct(const kernel_block *b, const plan_consumer *consumer, kernel_day wanted)
{
	const lane_ratio ratio = ratio_of(b->draws->consumer_ratio, consumer->index);
	for (size_t hour = 0; hour < 24; hour++) {
		const double on = consumer->it.on_frac[hour];
		double *ALONE sum = wanted[hour];
		for (size_t i = 0; on > 0 && i < b->n; i++)
			sum[i] += consumer->it.watts_w * ratio.at[i * ratio.step] * on;
	}
}

/* One behind the inverter, by the clock. */
HOUR_INLINE void add_behind(const kernel_block *b, const plan_consumer *consumer)
{
	kernel_space *space = b->space;
	const lane_ratio ratio = ratio_of(b->draws->consumer_ratio, consumer->index);
	for (size_t hour = 0; hour < 24; hour++) {
		const double on = consumer->it.on_frac[hour], watts_w = consumer->it.watts_w;
		const double awake = consumer->it.keeps_awake ? 1 : 0;
		for (size_t i = 0; on > 0 && i < b->n; i++) {
			const double times = ratio.at[i * ratio.step];
			const double w = watts_w * times;
			const double holds = most(times > 0 ? awake : 0, w > 0 ? 1 : 0);
			space->mean_w[hour][i] += w * on;
			space->variance_w2[hour][i] += w * w * on * (1 - on);
			space->none_on[hour][i] *= 1 - on * holds;
		}
	}
}

/* What is wanted of the inverter's store with so much on it besides. */
HOUR_INLINE double with_inverter(const rig_inverting *inverter, const plan_behind *behind,
	double dc_wh, double idle_w, double ratio)
{
	const rig_loss_curve *curve = &inverter->curve;
	const double square_w2 = behind->mean_w * behind->mean_w + behind->variance_w2;
	const double idle_wh = ratio * idle_w * (1 - behind->none_on);
	const double loss_wh = ratio * (curve->linear_frac * behind->mean_w +
					       curve->square_frac * square_w2 / curve->rated_w);
	return dc_wh + behind->mean_w + idle_wh + loss_wh;
}

HOUR_INLINE void add_inverter(const kernel_block *b, kernel_day wanted)
{
	kernel_space *space = b->space;
	const lane_ratio ratio = ratio_of(b->draws->inverter_ratio, 0);
	const double idle_w = rig_inverter_idle_w(&b->plan->inverter.curve);
	for (size_t hour = 0; hour < 24; hour++) {
		for (size_t i = 0; i < b->n; i++) {
			const plan_behind behind = {space->mean_w[hour][i],
				space->variance_w2[hour][i], space->none_on[hour][i]};
			wanted[hour][i] = with_inverter(&b->plan->inverter, &behind,
				space->dc_by_clock[hour][i], idle_w, ratio.at[i * ratio.step]);
		}
	}
}

HOUR_INLINE bool holds_inverter(const rig_plan *plan, size_t s)
{
	return plan->inverter.present && plan->inverter.store == s;
}

/* What is wanted by the clock; it hangs on nothing but the trips' ratios. */
HOUR_INLINE void begin_demand(const kernel_block *b, size_t s)
{
	const rig_plan *plan = b->plan;
	kernel_store *lanes = &b->space->stores[s];
	const bool inverts = holds_inverter(plan, s);
	double(*direct)[RIG_LANES] = inverts ? b->space->dc_by_clock : lanes->wanted;
	clear_day(direct, 0, b->n);
	if (inverts) {
		clear_day(b->space->mean_w, 0, b->n);
		clear_day(b->space->variance_w2, 0, b->n);
		clear_day(b->space->none_on, plan->inverter.always_on ? 0 : 1, b->n);
	}
	for (size_t k = 0; k < plan->n_consumers; k++) {
		const plan_consumer *consumer = &plan->consumers[k];
		if (consumer->it.duty != RIG_BY_CLOCK)
			continue;
		if (consumer->it.through_inverter && inverts)
			add_behind(b, consumer);
		else if (!consumer->it.through_inverter && consumer->it.store == s)
			add_direct(b, consumer, direct);
	}
	if (inverts)
		add_inverter(b, lanes->wanted);
}

HOUR_INLINE void begin_block(const kernel_block *b)
{
	for (size_t s = 0; s < b->plan->n_stores; s++) {
		begin_limits(b, s);
		begin_wells(b, s);
		begin_demand(b, s);
	}
	for (size_t i = 0; i < b->n; i++) {
		b->space->first_short[i] = (double)b->tally->n_hours;
		b->space->runs[i] = b->space->owes_h[i] = 0;
	}
}

/* ---- the start of a day ---- */

HOUR_INLINE void read_sky(const kernel_block *b, size_t day)
{
	kernel_space *space = b->space;
	const size_t last = b->plan->n_knots - 1;
	for (size_t i = 0; i < b->n; i++) {
		const double sky = b->draws->sky ? b->draws->sky[day * RIG_LANES + i] : 0;
		const size_t knot = sky < (double)last ? (size_t)sky : last > 0 ? last - 1 : 0;
		space->row[i] = knot * 24;
		space->beyond[i] = sky - (double)knot;
		space->warmth_k[i] =
			b->draws->warmth_k ? b->draws->warmth_k[day * RIG_LANES + i] : 0;
	}
}

/* A table's hours between each trip's knots, times a figure of the trip. */
HOUR_INLINE double at_sky(const kernel_block *b, const double *hours, size_t i)
{
	const size_t up = b->plan->n_knots > 1 ? 24 : 0, row = b->space->row[i];
	return hours[row] + b->space->beyond[i] * (hours[row + up] - hours[row]);
}

HOUR_INLINE void begin_air(const kernel_block *b, const double *table)
{
	const double *ALONE warmth_k = b->space->warmth_k;
	for (size_t hour = 0; hour < 24; hour++) {
		double *ALONE air_c = b->space->air_c[hour];
		for (size_t i = 0; i < b->n; i++)
			air_c[i] = at_sky(b, table + hour, i) + warmth_k[i];
	}
}

HOUR_INLINE void begin_floor(const kernel_block *b, size_t s, size_t plan_hour)
{
	const plan_store *store = &b->plan->stores[s];
	kernel_store *lanes = &b->space->stores[s];
	if (!store->outdoors) {
		const double reach_frac = store->reach_wh[plan_hour] / store->usable_wh;
		for (size_t i = 0; i < b->n; i++)
			lanes->floor[i] = lanes->capacity[i] - lanes->usable[i] * reach_frac;
		return;
	}
	double sum_c[RIG_LANES] = {0};
	for (size_t hour = 0; hour < 24; hour++)
		for (size_t i = 0; i < b->n; i++)
			sum_c[i] += b->space->air_c[hour][i];
	for (size_t i = 0; i < b->n; i++)
		lanes->floor[i] =
			lanes->capacity[i] -
			lanes->usable[i] * hour_reach_wh(1, store->lost_per_k_frac, sum_c[i] / 24);
}

/* What a source offers in the hours in which it is lit; a first one in an hour is alone in it. */
HOUR_INLINE void add_offers(const kernel_block *b, const plan_source *source, size_t plan_hour)
{
	kernel_store *lanes = &b->space->stores[source->store];
	const double *table = source->watts_w + plan_hour * b->plan->n_knots;
	const lane_ratio ratio = ratio_of(b->draws->source_ratio, source->index);
	for (size_t hour = 0; hour < 24; hour++) {
		double *ALONE sum = lanes->offered[hour];
		if (!source->lit[plan_hour + hour])
			continue;
		if (lanes->lit[hour])
			for (size_t i = 0; i < b->n; i++)
				sum[i] += ratio.at[i * ratio.step] * at_sky(b, table + hour, i);
		else
			for (size_t i = 0; i < b->n; i++)
				sum[i] = ratio.at[i * ratio.step] * at_sky(b, table + hour, i);
		lanes->lit[hour] = true;
	}
}

HOUR_INLINE void begin_offers(const kernel_block *b, size_t plan_hour)
{
	for (size_t s = 0; s < b->plan->n_stores; s++)
		memset(b->space->stores[s].lit, 0, sizeof b->space->stores[s].lit);
	for (size_t k = 0; k < b->plan->n_sources; k++)
		add_offers(b, &b->plan->sources[k], plan_hour);
}

HOUR_INLINE void begin_day(const kernel_block *b, size_t hour)
{
	const rig_plan *plan = b->plan;
	const size_t plan_hour = hour % plan->n_hours;
	read_sky(b, hour / 24);
	if (plan->outdoor_c)
		begin_air(b, plan->outdoor_c + plan_hour * plan->n_knots);
	for (size_t s = 0; s < plan->n_stores; s++)
		begin_floor(b, s, plan_hour);
	begin_offers(b, plan_hour);
}

/* ---- an hour ---- */

HOUR_INLINE double lane_duty(const rig_consumer *it, double air_c)
{
	const double toward = it->duty == RIG_BY_COLD ? -it->duty_per_k : it->duty_per_k;
	return most(least(toward * (air_c - it->balance_c), 1), 0);
}

/* One consumer by the weather on the store itself, added to what is wanted besides. */
HOUR_INLINE void direct_by_weather(const kernel_block *b, const plan_consumer *consumer,
	size_t clock_hour, const double *besides, double *to)
{
	const rig_consumer *it = &consumer->it;
	const lane_ratio ratio = ratio_of(b->draws->consumer_ratio, consumer->index);
	const double on = it->on_frac[clock_hour];
	const double *ALONE air_c = b->space->air_c[clock_hour];
	for (size_t i = 0; i < b->n; i++)
		to[i] = besides[i] +
			it->watts_w * ratio.at[i * ratio.step] * (on * lane_duty(it, air_c[i]));
}

/* The same behind the inverter. */
HOUR_INLINE void behind_by_weather(const kernel_block *b, const plan_consumer *consumer,
	size_t clock_hour, kernel_behind *ALONE to)
{
	const rig_consumer *it = &consumer->it;
	const lane_ratio ratio = ratio_of(b->draws->consumer_ratio, consumer->index);
	const double awake = it->keeps_awake ? 1 : 0;
	const double *ALONE air_c = b->space->air_c[clock_hour];
	for (size_t i = 0; i < b->n; i++) {
		const double on = it->on_frac[clock_hour] * lane_duty(it, air_c[i]);
		const double times = ratio.at[i * ratio.step];
		const double w = it->watts_w * times;
		const double holds = most(times > 0 ? awake : 0, w > 0 ? 1 : 0);
		to->mean_w[i] += w * on;
		to->variance_w2[i] += w * w * on * (1 - on);
		to->none_on[i] *= 1 - on * holds;
	}
}

/* What is wanted of the inverter's store, some of it by the weather: fills wanted and carried. */
HOUR_INLINE void inverter_by_weather(const kernel_block *b, size_t clock_hour)
{
	const rig_plan *plan = b->plan;
	kernel_space *space = b->space;
	kernel_behind *to = &space->behind;
	const size_t size = b->n * sizeof(double);
	memcpy(to->mean_w, space->mean_w[clock_hour], size);
	memcpy(to->variance_w2, space->variance_w2[clock_hour], size);
	memcpy(to->none_on, space->none_on[clock_hour], size);
	for (size_t k = 0; k < plan->n_consumers; k++)
		if (plan->consumers[k].it.duty != RIG_BY_CLOCK &&
			plan->consumers[k].it.through_inverter)
			behind_by_weather(b, &plan->consumers[k], clock_hour, to);
	const lane_ratio ratio = ratio_of(b->draws->inverter_ratio, 0);
	const double idle_w = rig_inverter_idle_w(&plan->inverter.curve);
	for (size_t i = 0; i < b->n; i++) {
		const plan_behind behind = {to->mean_w[i], to->variance_w2[i], to->none_on[i]};
		space->carried[i] = to->mean_w[i];
		space->wanted[i] = with_inverter(&plan->inverter, &behind,
			space->dc_by_clock[clock_hour][i], idle_w, ratio.at[i * ratio.step]);
	}
}

/* What is wanted of a store in an hour; also what a generator would carry and leave of it. */
HOUR_INLINE const double *wanted_of(const kernel_block *b, size_t s, size_t clock_hour)
{
	const rig_plan *plan = b->plan;
	kernel_space *space = b->space;
	const bool inverts = holds_inverter(plan, s);
	const bool generates = plan->generator.present && plan->generator.store == s;
	const size_t size = b->n * sizeof(double);
	const double *by_clock = space->stores[s].wanted[clock_hour]; /* and what is added */
	if (generates) {
		memcpy(space->dc_wanted, inverts ? space->dc_by_clock[clock_hour] : by_clock, size);
		memcpy(space->carried, inverts ? space->mean_w[clock_hour] : space->none, size);
	}
	if (!plan->stores[s].by_weather)
		return by_clock;
	if (plan->stores[s].behind_weather) {
		inverter_by_weather(b, clock_hour);
		by_clock = space->wanted;
	}
	for (size_t k = 0; k < plan->n_consumers; k++) {
		const rig_consumer *it = &plan->consumers[k].it;
		if (it->duty == RIG_BY_CLOCK || it->through_inverter || it->store != s)
			continue;
		direct_by_weather(b, &plan->consumers[k], clock_hour, by_clock, space->wanted);
		by_clock = space->wanted;
		if (generates)
			direct_by_weather(b, &plan->consumers[k], clock_hour, space->dc_wanted,
				space->dc_wanted);
	}
	return by_clock;
}

HOUR_INLINE void set_accept(const kernel_block *b, size_t s, size_t plan_hour)
{
	const plan_store *store = &b->plan->stores[s];
	double *ALONE accept = b->space->stores[s].accept;
	if (!store->outdoors) {
		for (size_t i = 0; i < b->n; i++)
			accept[i] = store->accept_wh[plan_hour];
		return;
	}
	const double *ALONE air_c = b->space->air_c[plan_hour % 24];
	for (size_t i = 0; i < b->n; i++)
		accept[i] = air_c[i] < store->charge_floor_c ? 0 : store->limit_wh;
}

HOUR_INLINE hour_limits limits_at(const kernel_store *lanes, size_t i)
{
	return (hour_limits){
		.available_full = lanes->available_full[i],
		.capacity_wh = lanes->capacity[i],
		.floor_wh = lanes->floor[i],
		.efficiency_frac = lanes->efficiency[i],
		.per_efficiency = lanes->per_efficiency[i],
		.accept_wh = lanes->accept[i],
	};
}

HOUR_INLINE void end_hour(const hour_figures *f, const hour_still *still, const hour_flows *flows,
	size_t i, kernel_store *lanes)
{
	const double current = flows->drawn - flows->charged * lanes->efficiency[i];
	const double available = (still->available - f->g1 * current) * f->keep_frac;
	const double bound = (still->bound - f->g2 * current) * f->keep_frac;
	const double left = most(available + bound - lanes->floor[i], 0);
	lanes->available[i] = available;
	lanes->bound[i] = bound;
	lanes->charged[i] += flows->charged;
	lanes->drawn[i] += flows->drawn;
	lanes->curtailed[i] += flows->curtailed;
	lanes->unserved[i] += flows->unserved;
	lanes->lowest_left[i] = least(lanes->lowest_left[i], left);
}

HOUR_INLINE void step_lanes(const kernel_block *b, const hour_figures *f,
	const double *ALONE offered, const double *ALONE wanted, kernel_store *ALONE lanes)
{
	double *ALONE unserved = b->space->unserved;
	for (size_t i = 0; i < b->n; i++) {
		const hour_limits limits = limits_at(lanes, i);
		const hour_still still =
			hour_rest(f, &limits, lanes->available[i], lanes->bound[i]);
		const hour_flows flows = hour_flows_of(&still, offered[i], wanted[i]);
		unserved[i] = flows.unserved;
		end_hour(f, &still, &flows, i, lanes);
	}
}

/* The same for a dark hour. */
HOUR_INLINE void step_dark(const kernel_block *b, const hour_figures *f, const double *ALONE wanted,
	kernel_store *ALONE lanes)
{
	double *ALONE unserved = b->space->unserved;
	for (size_t i = 0; i < b->n; i++) {
		const double still_available =
			f->a11 * lanes->available[i] + f->a12 * lanes->bound[i];
		const double still_bound = f->a21 * lanes->available[i] + f->a22 * lanes->bound[i];
		const double give = least(still_available * f->per_g1,
			still_available + still_bound - lanes->floor[i]);
		const double drawn = most(least(wanted[i], give), 0);
		const double available = (still_available - f->g1 * drawn) * f->keep_frac;
		const double bound = (still_bound - f->g2 * drawn) * f->keep_frac;
		const double left = most(available + bound - lanes->floor[i], 0);
		lanes->available[i] = available;
		lanes->bound[i] = bound;
		lanes->drawn[i] += drawn;
		unserved[i] = wanted[i] - drawn;
		lanes->unserved[i] += unserved[i];
		lanes->lowest_left[i] = least(lanes->lowest_left[i], left);
	}
}

/* The same behind a switch that waits for its reconnect level. */
HOUR_INLINE void step_switched(const kernel_block *b, const hour_figures *f,
	const double *ALONE offered, const double *ALONE wanted, kernel_store *ALONE lanes)
{
	double *ALONE unserved = b->space->unserved;
	for (size_t i = 0; i < b->n; i++) {
		const hour_limits limits = limits_at(lanes, i);
		const hour_still still =
			hour_rest(f, &limits, lanes->available[i], lanes->bound[i]);
		const hour_flows flows =
			hour_flows_switched(&still, offered[i], wanted[i], lanes->closed[i]);
		unserved[i] = flows.unserved;
		end_hour(f, &still, &flows, i, lanes);
	}
}

HOUR_INLINE void set_switch(const kernel_block *b, double reconnect_frac,
	const double *ALONE wanted, kernel_store *ALONE lanes)
{
	const double *ALONE unserved = b->space->unserved;
	for (size_t i = 0; i < b->n; i++) {
		const hour_flows flows = {.unserved = unserved[i]};
		const double above =
			lanes->available[i] - reconnect_frac * lanes->available_full[i];
		lanes->closed[i] = hour_closes(lanes->closed[i], &flows, wanted[i], above);
	}
}

/* An hour in which the generator may run; wanted becomes what the store is asked for. */
HOUR_INLINE void step_generator(const kernel_block *b, const hour_figures *f,
	const double *ALONE offered, kernel_store *ALONE lanes)
{
	kernel_space *ALONE space = b->space;
	const rig_genset it = b->plan->generator;
	const bool by_head = it.start_head_frac >= 0;
	const double head_frac = by_head ? it.start_head_frac : 0;
	const double head_never = by_head ? 0 : -DBL_MAX;
	for (size_t i = 0; i < b->n; i++) {
		const hour_limits limits = limits_at(lanes, i);
		const hour_genset set = {
			.start_wh = it.start_frac * limits.capacity_wh,
			.stop_wh = it.stop_frac * limits.capacity_wh,
			.start_available_wh = head_frac * limits.available_full + head_never,
			.output_wh = it.output_w,
			.charge_wh = it.charge_w,
			.charger_frac = it.charger_frac,
			.minimum_h = it.minimum_h,
		};
		const hour_asked asked = {offered[i], space->wanted[i], space->dc_wanted[i],
			space->carried[i], lanes->closed[i]};
		const hour_still still =
			hour_rest(f, &limits, lanes->available[i], lanes->bound[i]);
		hour_engine engine = {space->runs[i], space->owes_h[i]};
		const hour_moment at = {f, &limits, &still};
		const hour_run run = hour_generate(at, &set, &asked, &engine);
		space->runs[i] = engine.runs;
		space->owes_h[i] = engine.owes_h;
		space->unserved[i] = run.flows.unserved;
		space->wanted[i] = run.wanted;
		space->run_h[i] = run.run_h;
		space->given[i] = run.given_wh;
		lanes->offered_sum[i] += run.offered - asked.offered;
		end_hour(f, &still, &run.flows, i, lanes);
	}
}

/* ---- tallies ---- */

/* Sum in eight strands: one fixed order that a compiler can run side by side. */
HOUR_INLINE double sum_lanes(const double *values, size_t n_trips)
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

HOUR_INLINE double sum_products(const double *a, const double *b, size_t n_trips)
{
	double products[RIG_LANES];
	for (size_t i = 0; i < n_trips; i++)
		products[i] = a[i] * b[i];
	return sum_lanes(products, n_trips);
}

HOUR_INLINE bool any_short(const kernel_block *b, const double *ALONE wanted)
{
	const double *ALONE unserved = b->space->unserved;
	int any = 0;
	for (size_t i = 0; i < b->n; i++)
		any |= unserved[i] > HOUR_SHORT_FRAC / 2 * wanted[i];
	return any != 0;
}

HOUR_INLINE void note_shortage(
	const kernel_block *b, size_t s, size_t hour, const double *ALONE wanted)
{
	kernel_space *space = b->space;
	const double *ALONE unserved = space->unserved;
	double *ALONE short_frac = space->short_frac;
	double *ALONE first_short = space->first_short;
	const double now = b->plan->stores[s].essential ? (double)hour : DBL_MAX;
	for (size_t i = 0; i < b->n; i++) {
		const double share = unserved[i] / most(wanted[i], DBL_MIN);
		const double counted = share > HOUR_SHORT_FRAC ? share : 0;
		short_frac[i] = counted;
		first_short[i] = least(first_short[i], counted > 0 ? now : DBL_MAX);
	}
	b->tally->short_sum[hour * b->plan->n_stores + s] += sum_lanes(short_frac, b->n);
}

/* Bins are counted for several hours at a time: neighbours in one hour often fall into one bin, and
 * a count cannot begin before the last one of the same bin has ended. */
HOUR_INLINE void count_bins(const kernel_block *b, size_t s, size_t first_hour, size_t n_hours)
{
	const size_t n_bins = b->tally->n_bins;
	const kernel_store *lanes = &b->space->stores[s];
	uint32_t *counts = b->tally->charge_counts + (s * b->tally->n_hours + first_hour) * n_bins;
	if (n_hours == KERNEL_BIN_HOURS) {
		for (size_t i = 0; i < b->n; i++)
			for (size_t k = 0; k < KERNEL_BIN_HOURS; k++)
				counts[k * n_bins + (size_t)lanes->bin[k][i]]++;
		return;
	}
	for (size_t k = 0; k < n_hours; k++)
		for (size_t i = 0; i < b->n; i++)
			counts[k * n_bins + (size_t)lanes->bin[k][i]]++;
}

HOUR_INLINE void count_charge(const kernel_block *b, size_t s, size_t hour)
{
	kernel_store *ALONE lanes = &b->space->stores[s];
	const double last = (double)b->tally->n_bins - 1;
	const size_t k = hour % KERNEL_BIN_HOURS;
	int32_t *ALONE bin = lanes->bin[k];
	for (size_t i = 0; i < b->n; i++) {
		const double at = (lanes->available[i] + lanes->bound[i]) * lanes->bins_per_wh[i];
		bin[i] = (int32_t)least(at, last);
	}
	if (k + 1 == KERNEL_BIN_HOURS || hour + 1 == b->tally->n_hours)
		count_bins(b, s, hour - k, k + 1);
}

HOUR_INLINE void note_generator(const kernel_block *b, size_t hour)
{
	b->tally->generator_h[hour] += sum_lanes(b->space->run_h, b->n);
	b->tally->generator_wh[hour] += sum_lanes(b->space->given, b->n);
}

HOUR_INLINE void add_sums(const kernel_block *b, size_t s)
{
	const kernel_store *lanes = &b->space->stores[s];
	rig_sums *sums = &b->tally->sums[s];
	const size_t n = b->n;
	const double charged = sum_lanes(lanes->charged, n), drawn = sum_lanes(lanes->drawn, n);
	const double start = sum_lanes(lanes->start, n);
	const double end = sum_lanes(lanes->available, n) + sum_lanes(lanes->bound, n);
	sums->offered_wh += sum_lanes(lanes->offered_sum, n);
	sums->charged_wh += charged;
	sums->drawn_wh += drawn;
	sums->curtailed_wh += sum_lanes(lanes->curtailed, n);
	sums->lost_wh += start - end - drawn + sum_products(lanes->charged, lanes->efficiency, n);
	sums->start_wh += start;
	sums->end_wh += end;
	for (size_t i = 0; i < n; i++)
		sums->lowest_left_wh = least(sums->lowest_left_wh, lanes->lowest_left[i]);
}

HOUR_INLINE void set_outcomes(const kernel_block *b)
{
	for (size_t i = 0; i < b->n; i++) {
		double margin_wh = DBL_MAX, unserved_wh = 0;
		for (size_t s = 0; s < b->plan->n_stores; s++) {
			if (!b->plan->stores[s].essential)
				continue;
			margin_wh = least(margin_wh, b->space->stores[s].lowest_left[i]);
			unserved_wh += b->space->stores[s].unserved[i];
		}
		b->outcomes->first_short[i] = (size_t)b->space->first_short[i];
		b->outcomes->margin_wh[i] = margin_wh - unserved_wh;
	}
}

HOUR_INLINE void end_block(const kernel_block *b)
{
	for (size_t s = 0; s < b->plan->n_stores; s++)
		add_sums(b, s);
	for (size_t i = 0; i < b->n; i++) {
		const size_t first = (size_t)b->space->first_short[i];
		if (first < b->tally->n_hours)
			b->tally->ran_out[first]++;
		else
			b->tally->n_never++;
	}
	b->tally->n_trips += b->n;
	if (b->outcomes)
		set_outcomes(b);
}

/* ---- the whole ---- */

/* Whether the generator may do anything in this hour: it runs on some trip, or may start, give or
 * take a rounding. Where it does not, an hour with it comes to the same bits as one without. */
HOUR_INLINE bool generator_stirs(const kernel_block *b, size_t s, const hour_figures *f,
	const double *ALONE offered, const double *ALONE wanted)
{
	const rig_genset it = b->plan->generator;
	const kernel_store *ALONE lanes = &b->space->stores[s];
	const double *ALONE runs = b->space->runs;
	const double by_head = it.start_head_frac >= 0 ? 1 : 0;
	int any = 0;
	for (size_t i = 0; i < b->n; i++) {
		const double draw = most(lanes->closed[i] * wanted[i] - offered[i], 0);
		const double available = lanes->available[i], bound = lanes->bound[i];
		const double above = available + bound - draw - it.start_frac * lanes->capacity[i];
		const double head = f->a11 * available + f->a12 * bound - f->g1 * draw -
				    it.start_head_frac * lanes->available_full[i];
		const double slack = 1e-9 * lanes->capacity[i];
		const double still = f->a11 * available + f->a12 * bound;
		const double all = still + f->a21 * available + f->a22 * bound;
		const double give = least(still * f->per_g1, all - lanes->floor[i]);
		any |= draw - give > -slack;
		any |= lanes->closed[i] < 1;
		any |= above <= slack;
		any |= by_head * head < (by_head - 0.5) * 2 * slack;
		any |= runs[i] > 0;
	}
	return any != 0;
}

/* Quiet hours end every run. */
HOUR_INLINE bool generator_may_run(const kernel_block *b, size_t s, size_t clock_hour)
{
	const rig_genset *it = &b->plan->generator;
	if (!it->present || it->store != s)
		return false;
	if (it->quiet[clock_hour])
		for (size_t i = 0; i < b->n; i++)
			b->space->runs[i] = b->space->owes_h[i] = 0;
	return !it->quiet[clock_hour];
}

HOUR_INLINE void run_store(const kernel_block *b, size_t s, size_t hour)
{
	const rig_plan *plan = b->plan;
	const size_t plan_hour = hour % plan->n_hours, clock_hour = plan_hour % 24;
	const hour_figures f = hour_figures_of(&plan->stores[s], plan_hour);
	kernel_store *lanes = &b->space->stores[s];
	const double *wanted = wanted_of(b, s, clock_hour);
	const double *offered =
		lanes->lit[clock_hour] ? lanes->offered[clock_hour] : b->space->none;
	if (lanes->lit[clock_hour])
		for (size_t i = 0; i < b->n; i++)
			lanes->offered_sum[i] += offered[i];
	if (generator_may_run(b, s, clock_hour) && generator_stirs(b, s, &f, offered, wanted)) {
		set_accept(b, s, plan_hour);
		if (wanted != b->space->wanted)
			memcpy(b->space->wanted, wanted, b->n * sizeof *wanted);
		wanted = b->space->wanted;
		step_generator(b, &f, offered, lanes);
		note_generator(b, hour);
	} else if (plan->stores[s].reconnect_frac > 0) {
		set_accept(b, s, plan_hour);
		step_switched(b, &f, offered, wanted, lanes);
	} else if (lanes->lit[clock_hour]) {
		set_accept(b, s, plan_hour);
		step_lanes(b, &f, offered, wanted, lanes);
	} else {
		step_dark(b, &f, wanted, lanes);
	}
	if (any_short(b, wanted))
		note_shortage(b, s, hour, wanted);
	if (plan->stores[s].reconnect_frac > 0)
		set_switch(b, plan->stores[s].reconnect_frac, wanted, lanes);
	if (b->tally->charge_counts && plan->stores[s].essential)
		count_charge(b, s, hour);
}

HOUR_INLINE void run_trips(const kernel_block *b)
{
	begin_block(b);
	for (size_t hour = 0; hour < b->tally->n_hours; hour++) {
		if (hour % 24 == 0)
			begin_day(b, hour);
		for (size_t s = 0; s < b->plan->n_stores; s++)
			run_store(b, s, hour);
	}
	end_block(b);
}

/* Once for full blocks, whose number of trips the compiler then knows, and once for the rest. */
HOUR_INLINE void run_block(const kernel_block *given)
{
	kernel_block b = *given;
	if (b.n != RIG_LANES) {
		run_trips(&b);
		return;
	}
	b.n = RIG_LANES;
	run_trips(&b);
}

static void run_plain(const kernel_block *b)
{
	run_block(b);
}

#if WIDTH_CHOICE
WIDTH_256 static void run_256(const kernel_block *b)
{
	run_block(b);
}

WIDTH_512 static void run_512(const kernel_block *b)
{
	run_block(b);
}

bool kernel_has(kernel_code code)
{
	return width_bits() >= (code == KERNEL_512 ? 512 : code == KERNEL_256 ? 256 : 0);
}

static void (*code_of(kernel_code code))(const kernel_block *)
{
	return code == KERNEL_512 ? run_512 : code == KERNEL_256 ? run_256 : run_plain;
}
#else
bool kernel_has(kernel_code code)
{
	return code == KERNEL_PLAIN;
}

static void (*code_of(kernel_code code))(const kernel_block *)
{
	(void)code;
	return run_plain;
}
#endif

kernel_code kernel_widest(void)
{
	kernel_code code = KERNEL_512;
	while (!kernel_has(code))
		code--;
	return code;
}

void kernel_run(const kernel_block *block, kernel_code code)
{
	assert(block->n >= 1 && block->n <= RIG_LANES);
	assert(block->tally->n_stores == block->plan->n_stores);
	assert((block->draws->sky != NULL) == (block->plan->n_knots > 1));
	assert(kernel_has(code));
	code_of(code)(block);
}

void rig_plan_net(const rig_plan *plan, const rig_draws *draws, size_t n_trips,
	const rig_tally *tally, const rig_net *net)
{
	const kernel_store *lanes = &tally->space->stores[net->store];
	kernel_block b = {.plan = plan, .draws = draws, .n = n_trips, .space = tally->space};
	rig_tally none = *tally; /* only its hours are read */
	b.tally = &none;
	begin_block(&b);
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		if (hour % 24 == 0)
			begin_day(&b, hour);
		const double *wanted = wanted_of(&b, net->store, hour % 24);
		const bool lit = lanes->lit[hour % 24];
		for (size_t i = 0; i < n_trips; i++) {
			net->wanted_wh[hour * RIG_LANES + i] = (float)wanted[i];
			net->offered_wh[hour * RIG_LANES + i] =
				lit ? (float)lanes->offered[hour % 24][i] : 0;
			if (net->air_c && plan->outdoor_c)
				net->air_c[hour * RIG_LANES + i] =
					(float)tally->space->air_c[hour % 24][i];
		}
	}
}

kernel_space *kernel_space_new(const rig_plan *plan)
{
	const size_t size = sizeof(kernel_space) + plan->n_stores * sizeof(kernel_store);
	return calloc(1, size);
}

void rig_plan_trips(const rig_plan *plan, const double *sky, size_t n_trips, rig_tally *tally)
{
	const rig_draws draws = {.stride = RIG_LANES, .sky = sky};
	kernel_run(
		&(kernel_block){plan, &draws, n_trips, tally->space, tally, NULL}, kernel_widest());
}
