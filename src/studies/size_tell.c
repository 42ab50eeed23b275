/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything about an option that a quote states. */
#include <math.h>
#include <string.h>

#include "studies/size_case.h"
#include "studies/solar_trips.h"

/* A charge counts as done here; a lead battery's last part takes hours. Common practice, no source.
 */
static const double FULL_FRAC = 0.98;
/* Amps of the alternator over those into the bank: volts up, and some 95 % efficient; common
 * practice, no source. */
static const double ALTERNATOR_RATIO = 7.0 / 6;
static const double INVERTER_FRAC = 0.85;
/* Range about a label's cycles, and about lead's where depth is other than the label's; common
 * practice, no source. */
static const double CYCLES_LOW = 0.7, CYCLES_HIGH = 1.3;

/* ---- the months ---- */

rig_size_month size_month_of(const size_month *found, int n_days)
{
	const double days = (double)found->n_trips * n_days;
	return (rig_size_month){.asked = true,
		.never_out_frac = solar_share(found->n_trips - found->n_out, found->n_trips),
		.harvest = found->offered_wh / days,
		.served = (found->offered_wh + found->drawn_wh - found->charged_wh -
				  found->curtailed_wh) /
			  days,
		.curtailed = found->curtailed_wh / days,
		.unserved = found->unserved_wh / days};
}

/* The month with the least chance; of those alike the one with the least sun. */
static bool is_worse(const rig_size_month *a, const rig_size_month *b)
{
	const double by = a->never_out_frac.likely - b->never_out_frac.likely;
	return by < 0 || (by == 0 && a->harvest < b->harvest);
}

static void tell_months(const size_case *it, const size_found *found, rig_size_option *option)
{
	option->worst_month = -1;
	for (int month = 0; month < 12; month++) {
		if (!it->options.months[month])
			continue;
		option->months[month] = size_month_of(&found->months[month], it->options.n_days);
		if (option->worst_month < 0 ||
			is_worse(&option->months[month], &option->months[option->worst_month]))
			option->worst_month = month;
	}
	const size_month *worst = &found->months[option->worst_month];
	const double days = (double)worst->n_trips * it->options.n_days;
	option->depth_frac =
		option->bank_wh > 0 ? worst->main_drawn_wh / days / option->bank_wh : 0;
}

/* The chance in the worst month with one thing less. */
static rig_status tell_less(const size_case *it, const size_make *make, int month, rig_figure *frac)
{
	rig_file *file = NULL;
	size_month found;
	rig_status status = size_make_coach(it, make, &file);
	if (status == RIG_OK)
		status = size_run_month(
			it, rig_file_completed(file), month, it->options.n_trips, &found);
	if (status == RIG_OK)
		*frac = solar_share(found.n_trips - found.n_out, found.n_trips);
	rig_file_free(file);
	return status;
}

static rig_status tell_limits(const size_case *it, const size_make *make, rig_size_option *option)
{
	size_array array = *make->array;
	size_bank bank = *make->bank;
	size_make less = {&array, make->bank, make->inverter};
	rig_status status = RIG_OK;
	if (array.n > 0) {
		array.n--;
		status = tell_less(it, &less, option->worst_month, &option->less_panel_frac);
	}
	if (status != RIG_OK || bank.battery < 0 || bank.parallel < 2)
		return status;
	less.array = make->array;
	less.bank = &bank;
	bank.parallel--;
	return tell_less(it, &less, option->worst_month, &option->less_battery_frac);
}

/* ---- charging ---- */

/* From empty to nearly full with so many watts at the terminals: even at first, then no more than
 * the bank accepts of what is missing. */
static double charge_h(const rig_bank *bank, double watts_w)
{
	const double keep = rig_figure_given(bank->charge_efficiency_frac)
				    ? bank->charge_efficiency_frac.likely
				    : 1;
	const double missing_wh = bank->usable_wh.likely, into_w = watts_w * keep;
	const double left_wh = (1 - FULL_FRAC) * missing_wh;
	const bool tapers = bank->kind && rig_figure_given(bank->kind->acceptance_per_h);
	const double per_h = tapers ? bank->kind->acceptance_per_h.likely : INFINITY;
	if (into_w <= 0 || missing_wh <= 0)
		return 0;
	/* from here on it takes less than is there */
	const double from_wh = fmax(left_wh, fmin(missing_wh, tapers ? into_w / per_h : 0));
	const double even_h = (missing_wh - from_wh) / into_w;
	return even_h + (tapers ? log(from_wh / left_wh) / per_h : 0);
}

static void tell_charging(
	const size_case *it, const rig_coach *coach, int index, rig_size_option *option)
{
	const rig_bank *bank = &coach->banks[index];
	const rig_charger *charger = &coach->charger;
	const double volts_v = solar_charging_v(coach, index);
	if (rig_figure_given(bank->charge_limit_a))
		option->charge_limit_a = bank->charge_limit_a.likely;
	const double limit_a = option->charge_limit_a > 0 ? option->charge_limit_a : INFINITY;
	if (charger->present && charger->bank_index == index) {
		option->charger_a = charger->amps_a.likely;
		option->shore_charge_h = charge_h(bank, fmin(option->charger_a, limit_a) * volts_v);
	}
	if (coach->generator.present && option->charger_a > 0) {
		const double keep = rig_figure_given(charger->efficiency_frac)
					    ? charger->efficiency_frac.likely
					    : 0.85;
		const double most_w = coach->generator.watts_w.likely * keep;
		option->generator_charge_h =
			charge_h(bank, fmin(most_w, fmin(option->charger_a, limit_a) * volts_v));
	}
	option->alternator_charger = -1;
	for (int i = 0; i < (int)it->parts->n_alternator_chargers; i++) {
		const rig_part_alternator_charger *part = &it->parts->alternator_chargers[i];
		const double each_v = part->nominal_v.likely / it->groups_of_12;
		if (part->amps_a.likely <= limit_a && each_v > 11.5 && each_v < 13.2 &&
			part->amps_a.likely > option->alternator_amps_a) {
			option->alternator_amps_a = part->amps_a.likely;
			option->alternator_charger = i;
		}
	}
	if (coach->dc_charger.present && coach->dc_charger.bank_index == index) {
		option->alternator_charger = -1;
		option->alternator_amps_a = coach->dc_charger.amps_a.likely;
	}
	option->alternator_drawn_a =
		option->alternator_amps_a * it->groups_of_12 * ALTERNATOR_RATIO;
}

/* The label's cycles at the label's depth take out so much in all; what is used at another depth
 * comes out of the same sum (common practice, no source). */
static void tell_cycles(const size_case *it, const size_bank *bank, rig_size_option *option)
{
	if (bank->battery < 0 || option->depth_frac <= 0)
		return;
	const rig_part_battery *part = &it->parts->batteries[bank->battery];
	if (!rig_figure_given(part->cycles))
		return;
	const double n = part->cycles.likely * part->cycles_depth_frac.likely / option->depth_frac;
	option->cycles = rig_figure_range(CYCLES_LOW * n, n, CYCLES_HIGH * n, RIG_FROM_COMPUTED);
}

/* ---- the whole ---- */

static void tell_parts(const size_case *it, const size_candidate *c, rig_size_option *option)
{
	const size_array *array = &it->arrays[c->array];
	const size_bank *bank = &it->banks[c->bank];
	const size_inverter *inverter = &it->inverters[c->inverter];
	*option = (rig_size_option){.panel = array->panel,
		.n_panels = array->n,
		.controller = array->controller,
		.n_controllers = array->n_controllers,
		.panels_in_series = array->in_series,
		.panels_stay = it->options.panels != RIG_SIZE_REPLACE,
		.battery = bank->battery,
		.series = bank->series,
		.parallel = bank->parallel,
		.inverter = inverter->inverter,
		.new_w = array->watts_w,
		.price = (double)c->cost.price / 100,
		.weight_kg = (double)c->cost.weight / 1000,
		.area_m2 = (double)c->cost.area / 10000,
		.price_is_whole = c->is_whole,
		.controller_a = array->controller_a,
		.inverter_asked_w = it->findings->asked_w,
		.inverter_asked_surge_w = it->findings->asked_surge_w,
		.inverter_w = inverter->watts_w,
		.inverter_surge_w = inverter->surge_w,
		.bank_discharge_a =
			it->findings->asked_w / INVERTER_FRAC / (12.0 * it->groups_of_12),
		.bank_discharge_limit_a = bank->discharge_limit_a};
	option->runs[RIG_SIZE_RUN_ARRAY] = array->panel_run;
	option->runs[RIG_SIZE_RUN_CONTROLLER] = array->bank_run;
	option->runs[RIG_SIZE_RUN_INVERTER] = inverter->run;
	for (int k = 0; k < RIG_SIZE_N_RUNS; k++) {
		rig_size_run *run = &option->runs[k];
		const bool at_bank = k != RIG_SIZE_RUN_ARRAY;
		run->interrupt_asked_a = run->asked && at_bank ? bank->interrupt_a : 0;
		run->fuse = run->asked && run->solved
				    ? size_fuse_of(it, run->fuse_a, run->interrupt_asked_a)
				    : -1;
	}
	if (!c->is_whole)
		it->findings->notes |= RIG_SIZE_GAPS;
}

rig_status size_tell(size_case *it, const size_found *found, rig_size_option *option)
{
	const size_candidate *candidate = &it->candidates[found->candidate];
	const size_make make = {&it->arrays[candidate->array], &it->banks[candidate->bank],
		&it->inverters[candidate->inverter]};
	rig_file *file = NULL;
	tell_parts(it, candidate, option);
	rig_status status = size_make_coach(it, &make, &file);
	if (status != RIG_OK)
		goto out;
	const rig_coach *coach = rig_file_completed(file);
	const int index = it->bank >= 0 ? it->bank : (int)it->stated->n_banks;
	option->bank_wh = coach->banks[index].total_wh.likely;
	option->bank_usable_wh = coach->banks[index].usable_wh.likely;
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index == index)
			option->total_w += coach->arrays[i].total_w.likely;
	tell_months(it, found, option);
	status = tell_limits(it, &make, option);
	if (status != RIG_OK)
		goto out;
	tell_charging(it, coach, index, option);
	tell_cycles(it, make.bank, option);
out:
	rig_file_free(file);
	return status;
}

/* ---- from an option back to what it is made of ---- */

void size_make_of(const size_case *it, const rig_size_option *option, size_array *array,
	size_bank *bank, size_inverter *inverter)
{
	*array = (size_array){.panel = option->panel,
		.n = option->n_panels,
		.controller = option->controller,
		.n_controllers = option->n_controllers,
		.in_series = option->panels_in_series,
		.panel_run = option->runs[RIG_SIZE_RUN_ARRAY],
		.bank_run = option->runs[RIG_SIZE_RUN_CONTROLLER]};
	*bank = (size_bank){
		.battery = option->battery, .series = option->series, .parallel = option->parallel};
	if (option->battery >= 0)
		bank->volts_v =
			option->series * it->parts->batteries[option->battery].nominal_v.likely;
	*inverter = (size_inverter){
		.inverter = option->inverter, .run = option->runs[RIG_SIZE_RUN_INVERTER]};
}
