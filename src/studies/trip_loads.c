/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "studies/trip_findings.h"
#include "studies/trip_warmth.h"

/* How the stay would go with the load off. */
static rig_status find_cut(const trip_model *model, const rig_trip_bank *bank, rig_trip_load *load)
{
	const size_t store = (size_t)trip_store_of(model, load->bank);
	const trip_variant variant = {.course = COURSE_LIKELY, .cut = load->load};
	rig_plan *plan = NULL;
	const rig_status status = trip_plan(model, &variant, &plan);
	if (status != RIG_OK)
		return status;
	load->at_bank_wh_day = bank->wanted_wh_day.likely - trip_wanted_wh_day(model, plan, store);
	load->days_if_cut = trip_days_until_short(model, plan, store);
	load->days_gained = load->days_if_cut - bank->days_with_panel.likely;
	rig_plan_free(plan);
	return RIG_OK;
}

static double unserved_wh(const trip_model *model, const rig_trip_bank *bank, int load)
{
	const rig_consumer consumer = trip_consumer(model, load);
	double sum_wh = 0;
	for (size_t hour = 0; hour < model->n_hours; hour++)
		sum_wh += bank->hours[hour].short_frac * consumer.watts_w *
			  trip_running_frac(model, &consumer, hour);
	return sum_wh;
}

static uint32_t note_of(rig_away away)
{
	switch (away) {
	case RIG_NEEDS_HOOKUPS:
		return RIG_TRIP_NOT_CARRIED;
	case RIG_NEEDS_INVERTER:
		return RIG_TRIP_NOT_CARRIED | RIG_TRIP_NO_INVERTER;
	case RIG_EXCEEDS_INVERTER:
		return RIG_TRIP_NOT_CARRIED | RIG_TRIP_INVERTER_SMALL;
	case RIG_HAS_NO_BANK:
		return RIG_TRIP_NO_BANK_LOADS;
	case RIG_RUNS_ON_BANK:
	case RIG_RUNS_ON_INVERTER:
	case RIG_OFF_IN_HABIT:
		break;
	}
	return 0;
}

static rig_status find_load(
	trip_model *model, const rig_trip_findings *findings, int load, rig_trip_load *made)
{
	const rig_load *it = &model->coach->loads[load];
	const rig_away away = rig_load_away(model->coach, load, model->options.habit);
	const int store = trip_store_of_load(model, load);
	*made = (rig_trip_load){
		.load = load,
		.id = it->id,
		.name = it->name,
		.away = away,
		.bank = store < 0 ? -1 : model->bank_of[store],
		.wh_day = trip_load_wh_day(model, load),
	};
	model->notes |= note_of(away);
	if (made->bank < 0)
		return RIG_OK;
	double on_frac[24];
	model->notes |= rig_load_hours(model->coach, load, model->options.habit, 0, on_frac);
	const rig_trip_bank *bank = &findings->banks[store];
	made->unserved_wh = unserved_wh(model, bank, load);
	if (trip_by_weather(model->coach, load, model->options.habit)) {
		made->by_weather = true;
		model->notes |= RIG_TRIP_BY_WEATHER;
	}
	return find_cut(model, bank, made);
}

/* Carried ones first, by Wh at the bank, then by Wh used, then as the coach has them. */
static int by_weight(const void *a, const void *b)
{
	const rig_trip_load *x = a, *y = b;
	if ((x->bank >= 0) != (y->bank >= 0))
		return x->bank >= 0 ? -1 : 1;
	if (x->at_bank_wh_day != y->at_bank_wh_day)
		return x->at_bank_wh_day > y->at_bank_wh_day ? -1 : 1;
	if (x->wh_day.likely != y->wh_day.likely)
		return x->wh_day.likely > y->wh_day.likely ? -1 : 1;
	return x->load - y->load;
}

/* Share of what the inverter's bank is asked for that goes into the no-load draw. */
static double idle_frac(const trip_model *model, const rig_plan *likely)
{
	const int bank = model->coach->inverter.present ? model->coach->inverter.bank_index : -1;
	if (bank < 0)
		return 0;
	const size_t store = (size_t)trip_store_of(model, bank);
	double all_wh = 0, idle_wh = 0;
	for (size_t hour = 0; hour < model->n_period; hour++) {
		const rig_demand d =
			rig_plan_demand_at(likely, store, hour % 24, model->temp_c[hour]);
		all_wh += d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
		idle_wh += d.idle_wh;
	}
	return all_wh > 0 ? idle_wh / all_wh : 0;
}

rig_status trip_find_loads(trip_model *model, const trip_plans *plans, rig_trip_findings *findings)
{
	const size_t n = model->coach->n_loads;
	rig_status status = RIG_OK;
	findings->n_loads = n;
	findings->loads = rig_arena_take(model->arena, n, sizeof *findings->loads);
	if (!findings->loads)
		return RIG_NO_MEMORY;
	for (size_t i = 0; status == RIG_OK && i < n; i++) {
		status = find_load(model, findings, (int)i, &findings->loads[i]);
		findings->n_carried += findings->loads[i].bank >= 0;
	}
	if (n > 0)
		qsort(findings->loads, n, sizeof *findings->loads, by_weight);
	if (model->n_stores > 0)
		findings->inverter_idle_frac = idle_frac(model, plans->with[COURSE_LIKELY]);
	return status;
}
