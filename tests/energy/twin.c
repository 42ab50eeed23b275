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

static double inverter_loss_w(const rig_inverting *inverter, double given_w, double *idle_w)
{
	const bool on = inverter->always_on || given_w > 0;
	const double p = given_w / inverter->curve.rated_w;
	*idle_w = on ? inverter->curve.fixed_frac * inverter->curve.rated_w : 0;
	return inverter->curve.rated_w *
	       (inverter->curve.linear_frac * p + inverter->curve.square_frac * p * p);
}

static void add_inverter(const rig_plan_parts *parts, size_t clock_hour, rig_demand *demand)
{
	const rig_consumer *behind[12];
	size_t n = 0;
	for (size_t i = 0; i < parts->n_consumers && n < 12; i++)
		if (parts->consumers[i].through_inverter)
			behind[n++] = &parts->consumers[i];
	for (unsigned set = 0; set < 1u << n; set++) {
		double chance = 1, given_w = 0, idle_w = 0;
		for (size_t i = 0; i < n; i++) {
			const double on = behind[i]->on_frac[clock_hour];
			chance *= set >> i & 1 ? on : 1 - on;
			given_w += set >> i & 1 ? behind[i]->watts_w : 0;
		}
		const double loss_w = inverter_loss_w(&parts->inverter, given_w, &idle_w);
		demand->ac_wh += chance * given_w;
		demand->idle_wh += chance * idle_w;
		demand->loss_wh += chance * loss_w;
	}
}

rig_demand twin_demand(const rig_plan_parts *parts, size_t store, size_t clock_hour)
{
	rig_demand demand = {0};
	for (size_t i = 0; i < parts->n_consumers; i++) {
		const rig_consumer *consumer = &parts->consumers[i];
		if (!consumer->through_inverter && consumer->store == store)
			demand.dc_wh += consumer->watts_w * consumer->on_frac[clock_hour];
	}
	if (parts->inverter.present && parts->inverter.store == store)
		add_inverter(parts, clock_hour, &demand);
	return demand;
}

static double offered_wh(const rig_plan_parts *parts, size_t store, size_t plan_hour, double sky)
{
	double sum = 0;
	for (size_t i = 0; i < parts->n_sources; i++) {
		if (parts->sources[i].store != store)
			continue;
		const double *row = parts->sources[i].watts_w + plan_hour * parts->n_knots;
		const double low = fmin(floor(sky), (double)parts->n_knots - 2);
		if (parts->n_knots == 1)
			sum += row[0];
		else
			sum += row[(size_t)low] * (low + 1 - sky) +
			       row[(size_t)low + 1] * (sky - low);
	}
	return sum;
}

static double day_mean_c(const rig_store *store, size_t plan_hour)
{
	double sum = 0;
	for (size_t i = 0; i < 24; i++)
		sum += store->temp_c ? store->temp_c[plan_hour - plan_hour % 24 + i] : 25;
	return sum / 24;
}

/* What one hour of one store starts from. */
typedef struct {
	const rig_plan_parts *parts;
	twin_wells how;
	size_t s, hour;
	double sky, wanted;
} hour_of_trip;

static rig_hour twin_hour(const hour_of_trip *now, wells *w)
{
	const rig_plan_parts *parts = now->parts;
	const twin_wells how = now->how;
	const size_t s = now->s, hour = now->hour;
	const double wanted = now->wanted;
	const rig_store *store = &parts->stores[s];
	const size_t plan_hour = hour % parts->n_hours;
	const double offered = offered_wh(parts, s, plan_hour, now->sky);
	const double day_c = day_mean_c(store, plan_hour);
	const double cold_k = fmax(0, 25 - day_c);
	const double reach = store->usable_wh * fmax(0, 1 - store->lost_per_k_frac * cold_k);
	const double floor_wh = store->kinetic.capacity - reach;
	const bool too_cold = store->temp_c && store->temp_c[plan_hour] < store->charge_floor_c;
	wells_figures f = {store->kinetic.capacity, store->kinetic.available_frac,
		store->kinetic.rate_per_h, 0};
	rig_hour record = {.offered_wh = offered};

	if (offered < wanted) {
		f.current = bearable_current(how, f, *w, wanted - offered, floor_wh);
		record.drawn_wh = f.current;
		record.short_frac = (wanted - offered - f.current) / wanted;
	} else {
		const double spare = offered - wanted;
		const double tried = too_cold ? 0 : fmin(spare, store->charge_limit_w);
		f.current = bearable_current(how, f, *w, -tried * store->efficiency_frac, 0);
		record.charged_wh = -f.current / store->efficiency_frac;
		record.curtailed_wh = spare - record.charged_wh;
	}
	*w = hour_of(how, f, *w);
	const double lost_frac =
		store->self_discharge_frac_month / 730.5 * pow(2, (day_c - 25) / 10);
	record.lost_wh = (w->y1 + w->y2) * lost_frac;
	w->y1 -= w->y1 * lost_frac;
	w->y2 -= w->y2 * lost_frac;
	record.store_wh = w->y1 + w->y2;
	record.left_wh = fmax(0, record.store_wh - floor_wh);
	return record;
}

void twin_trace(const rig_plan_parts *parts, const twin_run *run, rig_hour record[])
{
	const rig_store *part = &parts->stores[run->store];
	const double start = part->kinetic.capacity - part->usable_wh * (1 - part->start_frac);
	wells w = {
		start * part->kinetic.available_frac, start * (1 - part->kinetic.available_frac)};
	double wanted[24];
	for (size_t hour = 0; hour < 24; hour++) {
		const rig_demand d = twin_demand(parts, run->store, hour);
		wanted[hour] = d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
	}
	for (size_t hour = 0; hour < run->n_hours; hour++) {
		const hour_of_trip now = {parts, run->how, run->store, hour,
			run->sky ? run->sky[hour / 24] : 0, wanted[hour % 24]};
		record[hour] = twin_hour(&now, &w);
	}
}
