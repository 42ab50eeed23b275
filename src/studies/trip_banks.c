/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "studies/trip_findings.h"

rig_status trip_plans_make(const trip_model *model, trip_plans *plans)
{
	rig_status status = RIG_OK;
	*plans = (trip_plans){{NULL}, {NULL}};
	for (int c = 0; status == RIG_OK && c < N_COURSES; c++) {
		trip_variant variant = {.course = (solar_course)c, .cut = -1};
		status = trip_plan(model, &variant, &plans->with[c]);
		variant.without_panels = true;
		if (status == RIG_OK)
			status = trip_plan(model, &variant, &plans->without[c]);
	}
	return status;
}

void trip_plans_free(trip_plans *plans)
{
	for (int c = 0; c < N_COURSES; c++) {
		rig_plan_free(plans->with[c]);
		rig_plan_free(plans->without[c]);
	}
}

/* Three courses as a figure, in order even where a course turns out otherwise than its name says.
 */
static rig_figure figure_of(const double course[N_COURSES])
{
	const double likely = course[COURSE_LIKELY];
	return rig_figure_range(fmin(likely, fmin(course[COURSE_POOR], course[COURSE_GOOD])),
		likely, fmax(likely, fmax(course[COURSE_POOR], course[COURSE_GOOD])),
		RIG_FROM_COMPUTED);
}

static double wanted_wh(const rig_demand *d)
{
	return d->dc_wh + d->ac_wh + d->idle_wh + d->loss_wh;
}

/* One course's stay: [hour * n_stores + store]. */
static rig_status run_stay(const trip_model *model, const rig_plan *plan, rig_hour **record)
{
	*record = rig_arena_take(model->arena, model->n_hours * model->n_stores, sizeof **record);
	if (!*record)
		return RIG_NO_MEMORY;
	rig_standing standing = rig_plan_start(plan);
	rig_plan_trace(plan, NULL, model->n_hours, &standing, *record);
	return RIG_OK;
}

static rig_status take_hours(
	const trip_model *model, const rig_hour *record, size_t store, const rig_hour **hours)
{
	rig_hour *own = rig_arena_take(model->arena, model->n_hours, sizeof *own);
	if (!own)
		return RIG_NO_MEMORY;
	for (size_t hour = 0; hour < model->n_hours; hour++)
		own[hour] = record[hour * model->n_stores + store];
	*hours = own;
	return RIG_OK;
}

static double lowest_wh(
	const trip_model *model, const rig_hour *record, size_t store, size_t *lowest_hour)
{
	double lowest = INFINITY;
	for (size_t hour = 0; hour < model->n_hours; hour++) {
		const double left_wh = record[hour * model->n_stores + store].left_wh;
		if (left_wh < lowest) {
			lowest = left_wh;
			*lowest_hour = hour;
		}
	}
	return lowest;
}

static double harvest_wh_day(const trip_model *model, const rig_hour *record, size_t store)
{
	double sum_wh = 0;
	for (size_t hour = 0; hour < model->n_hours; hour++)
		sum_wh += record[hour * model->n_stores + store].offered_wh;
	return sum_wh / model->options.n_days;
}

/* Adds an hour to the sums of the stay, in Wh; they become Wh a day later. */
static void add_hour(
	rig_trip_flows_wh_day *flows, const rig_hour *hour, const rig_demand *d, double efficiency)
{
	const double on = 1 - hour->short_frac;
	flows->harvest += hour->offered_wh;
	flows->dc += on * d->dc_wh;
	flows->ac += on * d->ac_wh;
	flows->inverter_loss += on * d->loss_wh;
	flows->inverter_idle += on * d->idle_wh;
	flows->charge_loss += hour->charged_wh * (1 - efficiency);
	flows->self_discharge += hour->lost_wh;
	flows->curtailed += hour->curtailed_wh;
	flows->unserved_dc += hour->short_frac * d->dc_wh;
	flows->unserved_ac += hour->short_frac * d->ac_wh;
}

static void per_day(rig_trip_flows_wh_day *flows, double n_days)
{
	flows->harvest /= n_days;
	flows->from_store /= n_days;
	flows->dc /= n_days;
	flows->ac /= n_days;
	flows->inverter_loss /= n_days;
	flows->inverter_idle /= n_days;
	flows->charge_loss /= n_days;
	flows->self_discharge /= n_days;
	flows->curtailed /= n_days;
	flows->unserved_dc /= n_days;
	flows->unserved_ac /= n_days;
}

static void count_short(const trip_model *model, rig_trip_bank *bank)
{
	size_t counted_day = SIZE_MAX;
	for (size_t hour = 0; hour < model->n_hours; hour++) {
		if (bank->hours[hour].short_frac <= 0)
			continue;
		bank->short_hours++;
		if (hour / 24 == counted_day)
			continue;
		counted_day = hour / 24;
		bank->short_days++;
		bank->short_days_by_month[trip_month_at(model, hour)]++;
	}
}

/* Everything that follows from the likely course's hours. */
static void sum_up(const trip_model *model, const rig_plan *plan, size_t store, rig_trip_bank *bank)
{
	const double efficiency = rig_plan_efficiency_frac(plan, store);
	const double start_wh = rig_plan_capacity_wh(plan, store);
	rig_trip_flows_wh_day flows = {0};
	double asked_wh = 0;
	for (size_t hour = 0; hour < model->n_hours; hour++) {
		const rig_demand d = rig_plan_demand_at(
			plan, store, hour % 24, model->temp_c[hour % model->n_period]);
		add_hour(&flows, &bank->hours[hour], &d, efficiency);
		bank->wanted_wh += wanted_wh(&d);
		asked_wh += d.dc_wh + d.ac_wh;
	}
	flows.from_store = start_wh - bank->hours[model->n_hours - 1].store_wh;
	bank->unserved_dc_wh = flows.unserved_dc;
	bank->unserved_ac_wh = flows.unserved_ac;
	bank->unserved_wh = flows.unserved_dc + flows.unserved_ac;
	bank->unmet_frac = asked_wh > 0 ? bank->unserved_wh / asked_wh : 0;
	per_day(&flows, model->options.n_days);
	bank->flows = flows;
	count_short(model, bank);
}

static void find_days(
	const trip_model *model, const trip_plans *plans, size_t store, rig_trip_bank *bank)
{
	double with[N_COURSES], without[N_COURSES];
	if (trip_wanted_wh_day(model, plans->with[COURSE_LIKELY], store) <= 0)
		return;
	for (int c = 0; c < N_COURSES; c++) {
		with[c] = trip_days_until_short(model, plans->with[c], store);
		without[c] = trip_days_until_short(model, plans->without[c], store);
	}
	bank->days_with_panel = figure_of(with);
	bank->days_without_panel = figure_of(without);
}

static void name_bank(const trip_model *model, size_t store, rig_trip_bank *bank)
{
	const rig_coach *coach = model->coach;
	const rig_bank *it = &coach->banks[model->bank_of[store]];
	bank->bank = model->bank_of[store];
	bank->id = it->id;
	bank->name = it->name;
	bank->role = it->role;
	bank->usable_wh = it->usable_wh;
	for (size_t i = 0; i < coach->n_arrays; i++)
		bank->n_arrays += coach->arrays[i].bank_index == bank->bank;
}

static rig_status find_bank(const trip_model *model, const trip_plans *plans,
	rig_hour *const record[N_COURSES], size_t store, rig_trip_bank *bank)
{
	const rig_plan *likely = plans->with[COURSE_LIKELY];
	double lowest[N_COURSES], harvest[N_COURSES], wanted[N_COURSES];
	size_t hour = 0;
	const rig_status status = take_hours(model, record[COURSE_LIKELY], store, &bank->hours);
	if (status != RIG_OK)
		return status;
	name_bank(model, store, bank);
	for (int c = 0; c < N_COURSES; c++) {
		lowest[c] = lowest_wh(model, record[c], store, &hour);
		harvest[c] = harvest_wh_day(model, record[c], store);
		wanted[c] = trip_wanted_wh_day(model, plans->with[c], store);
	}
	bank->capacity_wh = rig_plan_capacity_wh(likely, store);
	bank->lowest_wh = lowest_wh(model, record[COURSE_LIKELY], store, &bank->lowest_hour);
	bank->lowest_by_course_wh = figure_of(lowest);
	bank->harvest_wh_day = figure_of(harvest);
	bank->wanted_wh_day = figure_of(wanted);
	sum_up(model, likely, store, bank);
	find_days(model, plans, store, bank);
	return RIG_OK;
}

static int main_bank_of(const rig_trip_findings *findings)
{
	int best = -1;
	for (size_t i = 0; i < findings->n_banks; i++) {
		const rig_trip_bank *bank = &findings->banks[i];
		if (bank->role == RIG_CHASSIS)
			continue;
		if (best < 0 || bank->usable_wh.likely > findings->banks[best].usable_wh.likely)
			best = (int)i;
	}
	return best;
}

rig_status trip_find_banks(trip_model *model, const trip_plans *plans, rig_trip_findings *findings)
{
	rig_hour *record[N_COURSES];
	rig_status status = RIG_OK;
	findings->main_bank = -1;
	findings->n_banks = model->n_stores;
	findings->banks = rig_arena_take(model->arena, model->n_stores, sizeof *findings->banks);
	if (!findings->banks)
		return RIG_NO_MEMORY;
	if (model->n_stores == 0)
		return RIG_OK;
	for (int c = 0; status == RIG_OK && c < N_COURSES; c++)
		status = run_stay(model, plans->with[c], &record[c]);
	for (size_t s = 0; status == RIG_OK && s < model->n_stores; s++)
		status = find_bank(model, plans, record, s, &findings->banks[s]);
	findings->main_bank = main_bank_of(findings);
	return status;
}
