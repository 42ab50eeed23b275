/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "energy/twin.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

typedef struct {
	double capacity, c, k, current;
} wells_figures;

typedef struct {
	double y1, y2;
} wells;

static int flow(double t, const double y[], double dydt[], void *params)
{
	const wells_figures *f = params;
	const double seep = f->k * (f->c * y[1] - (1 - f->c) * y[0]);
	(void)t;
	dydt[0] = -f->current + seep;
	dydt[1] = -seep;
	return GSL_SUCCESS;
}

static wells hour_by_solver(wells_figures f, wells start)
{
	gsl_odeiv2_system system = {flow, NULL, 2, &f};
	gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(
		&system, gsl_odeiv2_step_rk8pd, 0.1, 1e-12 * f.capacity, 1e-12);
	double t = 0, y[2] = {start.y1, start.y2};
	gsl_odeiv2_driver_apply(driver, &t, 1.0, y);
	gsl_odeiv2_driver_free(driver);
	return (wells){y[0], y[1]};
}

static wells hour_by_closed_form(wells_figures f, wells start)
{
	const double q0 = start.y1 + start.y2, c = f.c, k = f.k, i = f.current;
	if (c == 1)
		return (wells){q0 - i, 0};
	const double x = exp(-k);
	return (wells){
		start.y1 * x + (q0 * k * c - i) * (1 - x) / k - i * c * (k - 1 + x) / k,
		start.y2 * x + q0 * (1 - c) * (1 - x) - i * (1 - c) * (k - 1 + x) / k,
	};
}

static wells hour_of(twin_wells how, wells_figures f, wells start)
{
	return how == TWIN_SOLVER ? hour_by_solver(f, start) : hour_by_closed_form(f, start);
}

/* Does a current leave the available well between empty and full, and the store above its floor? */
static bool is_bearable(wells_figures f, wells end, double floor)
{
	if (f.current > 0)
		return end.y1 >= 0 && end.y1 + end.y2 >= floor;
	return end.y1 <= f.c * f.capacity;
}

/* The current nearest to the wished one that the wells bear, by halving. */
static double bearable_current(
	twin_wells how, wells_figures f, wells start, double wish, double floor)
{
	f.current = wish;
	if (wish == 0 || is_bearable(f, hour_of(how, f, start), floor))
		return wish;
	double good = 0, bad = wish;
	for (int i = 0; i < 60; i++) {
		f.current = (good + bad) / 2;
		if (is_bearable(f, hour_of(how, f, start), floor))
			good = f.current;
		else
			bad = f.current;
	}
	return good;
}

/* ---- what a trip has of its own ---- */

static double drawn(const double *figures, size_t i, double absent)
{
	return figures ? figures[i] : absent;
}

/* On a straight line between the knots of a row. */
static double on_row(const double *row, size_t n_knots, double sky)
{
	if (n_knots == 1)
		return row[0];
	const double low = fmin(floor(sky), (double)n_knots - 2);
	return row[(size_t)low] * (low + 1 - sky) + row[(size_t)low + 1] * (sky - low);
}

static double sky_of(const rig_draws *draws, size_t hour)
{
	return drawn(draws->sky, hour / 24, 0);
}

static double air_c(const rig_plan_parts *parts, const rig_draws *draws, size_t hour)
{
	if (!parts->outdoor_c)
		return 25;
	const double *row = parts->outdoor_c + hour % parts->n_hours * parts->n_knots;
	return on_row(row, parts->n_knots, sky_of(draws, hour)) +
	       drawn(draws->warmth_k, hour / 24, 0);
}

/* ---- what is wanted ---- */

/* Share of an hour in which a consumer runs. */
static double running(const rig_consumer *it, size_t clock_hour, double outdoors_c)
{
	const double on = it->on_frac[clock_hour];
	switch (it->duty) {
	case RIG_BY_COLD:
		return on * fmin(1, it->duty_per_k * fmax(0, it->balance_c - outdoors_c));
	case RIG_BY_HEAT:
		return on * fmin(1, it->duty_per_k * fmax(0, outdoors_c - it->balance_c));
	case RIG_BY_CLOCK:
		break;
	}
	return on;
}

/* The inverter giving so much, W; awake even if it gives nothing. */
static double inverter_loss_w(
	const rig_inverting *inverter, double given_w, bool awake, double *idle_w)
{
	const double p = given_w / inverter->curve.rated_w;
	*idle_w = inverter->always_on || awake
			  ? inverter->curve.fixed_frac * inverter->curve.rated_w
			  : 0;
	return inverter->curve.rated_w *
	       (inverter->curve.linear_frac * p + inverter->curve.square_frac * p * p);
}

typedef struct {
	const rig_plan_parts *parts;
	const rig_draws *draws;
	size_t clock_hour;
	bool by_weather;
	double outdoors_c;
} asking;

static bool counts(const asking *now, const rig_consumer *it)
{
	return it->duty == RIG_BY_CLOCK || now->by_weather;
}

/* Consumers behind the inverter, at most 12. */
typedef struct {
	size_t n;
	double watts_w[12], on[12];
	bool holds[12];
} behind;

static behind behind_of(const asking *now)
{
	const rig_plan_parts *parts = now->parts;
	behind found = {.n = 0};
	for (size_t i = 0; i < parts->n_consumers && found.n < 12; i++) {
		const rig_consumer *it = &parts->consumers[i];
		if (!it->through_inverter || !counts(now, it))
			continue;
		const double times = drawn(now->draws->consumer_ratio, i, 1);
		found.watts_w[found.n] = it->watts_w * times;
		found.on[found.n] = running(it, now->clock_hour, now->outdoors_c);
		found.holds[found.n++] = it->watts_w * times > 0 || (it->keeps_awake && times > 0);
	}
	return found;
}

static void add_inverter(const asking *now, rig_demand *demand)
{
	const double ratio = drawn(now->draws->inverter_ratio, 0, 1);
	const behind all = behind_of(now);
	for (unsigned set = 0; set < 1u << all.n; set++) {
		double chance = 1, given_w = 0, idle_w = 0;
		bool awake = false;
		for (size_t i = 0; i < all.n; i++) {
			const bool runs = (set >> i & 1) != 0;
			chance *= runs ? all.on[i] : 1 - all.on[i];
			given_w += runs ? all.watts_w[i] : 0;
			awake = awake || (runs && all.holds[i]);
		}
		const double loss_w =
			inverter_loss_w(&now->parts->inverter, given_w, awake, &idle_w);
		demand->ac_wh += chance * given_w;
		demand->idle_wh += chance * ratio * idle_w;
		demand->loss_wh += chance * ratio * loss_w;
	}
}

static rig_demand demand_of(const asking *now, size_t store)
{
	const rig_plan_parts *parts = now->parts;
	rig_demand demand = {0};
	for (size_t i = 0; i < parts->n_consumers; i++) {
		const rig_consumer *it = &parts->consumers[i];
		if (!it->through_inverter && it->store == store && counts(now, it))
			demand.dc_wh += it->watts_w * drawn(now->draws->consumer_ratio, i, 1) *
					running(it, now->clock_hour, now->outdoors_c);
	}
	if (parts->inverter.present && parts->inverter.store == store)
		add_inverter(now, &demand);
	return demand;
}

rig_demand twin_demand(const rig_plan_parts *parts, size_t store, size_t clock_hour)
{
	const rig_draws none = {.stride = 1};
	return demand_of(&(asking){parts, &none, clock_hour, false, 0}, store);
}

static double sum_of(const rig_demand *d)
{
	return d->dc_wh + d->ac_wh + d->idle_wh + d->loss_wh;
}

/* ---- an hour ---- */

static double offered_wh(
	const rig_plan_parts *parts, const rig_draws *draws, size_t store, size_t hour)
{
	double sum = 0;
	for (size_t i = 0; i < parts->n_sources; i++) {
		if (parts->sources[i].store != store)
			continue;
		const double *row =
			parts->sources[i].watts_w + hour % parts->n_hours * parts->n_knots;
		sum += drawn(draws->source_ratio, i, 1) *
		       on_row(row, parts->n_knots, sky_of(draws, hour));
	}
	return sum;
}

/* A store on a trip in one hour: all that does not hang on what is asked of it. */
typedef struct {
	twin_wells how;
	wells_figures f;
	wells start;
	double floor_wh, most_charge_w, most_stored_wh, efficiency_frac, lost_frac;
} moment;

/* The mean temperature of the day at the store; that of all skies if it is asked for its rest. */
static double day_c(const twin_run *run, const rig_plan_parts *parts, size_t hour, bool all_skies)
{
	const rig_store *store = &parts->stores[run->store];
	double sum = 0;
	size_t n = 0;
	for (size_t i = hour - hour % 24; i < hour - hour % 24 + 24; i++) {
		const size_t at = i % parts->n_hours;
		if (store->outdoors && all_skies) {
			for (size_t k = 0; k < parts->n_knots; k++, n++)
				sum += parts->outdoor_c[at * parts->n_knots + k];
			continue;
		}
		n++;
		sum += store->outdoors ? air_c(parts, run->draws, i)
		       : store->temp_c ? store->temp_c[at]
				       : 25;
	}
	return sum / (double)n;
}

static moment moment_of(
	const rig_plan_parts *parts, const twin_run *run, size_t hour, const wells *w)
{
	const rig_store *store = &parts->stores[run->store];
	const rig_draws *draws = run->draws;
	const double times = drawn(draws->capacity_ratio, run->store, 1);
	const double capacity = store->kinetic.capacity * times;
	const double cold_k = fmax(0, 25 - day_c(run, parts, hour, false));
	const double reach = store->usable_wh * times * drawn(draws->usable_ratio, run->store, 1) *
			     fmax(0, 1 - store->lost_per_k_frac * cold_k);
	const double hour_c = store->outdoors ? air_c(parts, draws, hour)
			      : store->temp_c ? store->temp_c[hour % parts->n_hours]
					      : 25;
	const double missing = capacity - w->y1 - w->y2;
	return (moment){
		.how = run->how,
		.f = {capacity, store->kinetic.available_frac, store->kinetic.rate_per_h, 0},
		.start = *w,
		.floor_wh = capacity - reach,
		.most_charge_w = hour_c < store->charge_floor_c ? 0 : store->charge_limit_w,
		.most_stored_wh = store->acceptance_per_h > 0
					  ? missing * (1 - exp(-store->acceptance_per_h))
					  : INFINITY,
		.efficiency_frac =
			store->efficiency_frac * drawn(draws->efficiency_ratio, run->store, 1),
		.lost_frac = store->self_discharge_frac_month / 730.5 *
			     pow(2, (day_c(run, parts, hour, true) - 25) / 10),
	};
}

/* What flows when so much is offered and wanted through the hour. */
static rig_hour flows_of(const moment *m, double offered, double wanted, bool off)
{
	if (off) {
		rig_hour alone = flows_of(m, offered, 0, false);
		alone.wanted_wh = wanted;
		return alone;
	}
	rig_hour flows = {.offered_wh = offered, .wanted_wh = wanted};
	if (offered < wanted) {
		flows.drawn_wh =
			bearable_current(m->how, m->f, m->start, wanted - offered, m->floor_wh);
	} else {
		const double tried = fmin(fmin(offered - wanted, m->most_charge_w),
			fmax(0, m->most_stored_wh / m->efficiency_frac));
		flows.charged_wh =
			-bearable_current(m->how, m->f, m->start, -tried * m->efficiency_frac, 0) /
			m->efficiency_frac;
		flows.curtailed_wh = offered - wanted - flows.charged_wh;
	}
	return flows;
}

static double unserved_wh(const rig_hour *flows)
{
	return flows->wanted_wh + flows->charged_wh + flows->curtailed_wh - flows->offered_wh -
	       flows->drawn_wh;
}

/* ---- the generator ---- */

typedef struct {
	bool runs;
	double owes_h;
	bool off; /* the consumers, until the reconnect level */
} engine;

/* Would it start: does the store sink to its level by the end of the hour if nothing helps? */
static bool would_start(const rig_genset *set, const moment *m, double short_w)
{
	wells_figures f = m->f;
	f.current = fmax(0, short_w);
	const wells end = hour_of(m->how, f, m->start);
	return end.y1 + end.y2 <= set->start_frac * f.capacity ||
	       (set->start_head_frac >= 0 && end.y1 <= set->start_head_frac * f.c * f.capacity);
}

/* Mixes an hour of running with one of standing still. */
static rig_hour mixed(double g, const rig_hour *on, const rig_hour *off)
{
	const double r = 1 - g;
	return (rig_hour){
		.offered_wh = g * on->offered_wh + r * off->offered_wh,
		.wanted_wh = g * on->wanted_wh + r * off->wanted_wh,
		.charged_wh = g * on->charged_wh + r * off->charged_wh,
		.drawn_wh = g * on->drawn_wh + r * off->drawn_wh,
		.curtailed_wh = g * on->curtailed_wh + r * off->curtailed_wh,
	};
}

static rig_hour generate(
	const rig_genset *set, const moment *m, const rig_demand *d, double offered, engine *state)
{
	const rig_hour off = flows_of(m, offered, sum_of(d), state->off);
	/* the sum behind it rounds where nothing is wanted */
	const bool fails = off.wanted_wh > 0 && unserved_wh(&off) > 1e-9 * off.wanted_wh;
	if (!state->runs && !fails && !would_start(set, m, (state->off ? 0 : sum_of(d)) - offered))
		return off;
	const double owes_h = state->runs ? state->owes_h : set->minimum_h;
	const double charge =
		fmin(set->charge_w, fmax(0, set->output_w - d->ac_wh) * set->charger_frac);
	const rig_hour on = flows_of(m, offered + charge, d->dc_wh, state->off);
	const double gained = on.charged_wh * m->efficiency_frac - on.drawn_wh;
	const double missing = set->stop_frac * m->f.capacity - m->start.y1 - m->start.y2;
	double g = missing <= 1e-9 * set->stop_frac * m->f.capacity ? 0
		   : gained <= 0                                    ? 1
								    : fmin(1, missing / gained);
	g = fmax(g, fmin(owes_h, 1));
	*state = (engine){g >= 1, g >= 1 ? fmax(0, owes_h - 1) : 0, state->off};
	rig_hour hour = mixed(g, &on, &off);
	hour.generator_h = g;
	hour.generator_wh = g * (d->ac_wh + fmax(0, charge - on.curtailed_wh) / set->charger_frac);
	return hour;
}

/* ---- a trip ---- */

static rig_hour twin_hour(
	const rig_plan_parts *parts, const twin_run *run, size_t hour, wells *w, engine *state)
{
	const moment m = moment_of(parts, run, hour, w);
	const rig_genset *set = &parts->generator;
	const double offered = offered_wh(parts, run->draws, run->store, hour);
	const asking now = {parts, run->draws, hour % 24, true, air_c(parts, run->draws, hour)};
	const rig_demand d = demand_of(&now, run->store);
	rig_hour record;
	if (set->present && set->store == run->store && !set->quiet[hour % 24]) {
		record = generate(set, &m, &d, offered, state);
	} else {
		*state = (engine){false, 0, state->off};
		record = flows_of(&m, offered, sum_of(&d), state->off);
	}
	const double unserved = unserved_wh(&record);
	record.short_frac = unserved > 1e-9 * record.wanted_wh ? unserved / record.wanted_wh : 0;
	wells_figures f = m.f;
	f.current = record.drawn_wh - record.charged_wh * m.efficiency_frac;
	*w = hour_of(m.how, f, *w);
	record.lost_wh = (w->y1 + w->y2) * m.lost_frac;
	w->y1 -= w->y1 * m.lost_frac;
	w->y2 -= w->y2 * m.lost_frac;
	record.store_wh = w->y1 + w->y2;
	record.left_wh = fmax(0, record.store_wh - m.floor_wh);
	const double reconnect_frac = parts->stores[run->store].reconnect_frac;
	if (record.short_frac > 0)
		state->off = reconnect_frac > 0;
	if (state->off && w->y1 >= reconnect_frac * m.f.c * m.f.capacity)
		state->off = false;
	return record;
}

void twin_trace(const rig_plan_parts *parts, const twin_run *run, rig_hour record[])
{
	const rig_store *part = &parts->stores[run->store];
	const double times = drawn(run->draws->capacity_ratio, run->store, 1);
	const double usable =
		part->usable_wh * times * drawn(run->draws->usable_ratio, run->store, 1);
	const double start = part->kinetic.capacity * times - usable * (1 - part->start_frac);
	wells w = {
		start * part->kinetic.available_frac, start * (1 - part->kinetic.available_frac)};
	engine state = {false, 0, false};
	for (size_t hour = 0; hour < run->n_hours; hour++) {
		if (run->from) {
			const rig_standing *from = &run->from[hour];
			w = (wells){
				from->wells[run->store].available, from->wells[run->store].bound};
			state = (engine){from->generator_runs, from->generator_owes_h, state.off};
		}
		record[hour] = twin_hour(parts, run, hour, &w, &state);
	}
}
