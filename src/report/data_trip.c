/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trip findings as JSON: keys are the names of the fields of trip.h. */
#include "writer.h"

static void put_options(rig_writer *writer, cJSON *parent, const rig_trip_options *options)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, parent, "options");
	rig_json_add_text(maker, object, "weather", options->weather == NULL ? "mean" : "file");
	if (options->month < 0)
		rig_json_add_null(maker, object, "month");
	else
		rig_put_index(writer, object, "month", options->month + 1L);
	rig_put_index(writer, object, "n_days", options->n_days);
	rig_json_add_text(maker, object, "habit",
		options->habit < 0 ? NULL : writer->coach->habits[options->habit].name);
	rig_put_index(writer, object, "n_trips", (long)options->n_trips);
	rig_put_index(writer, object, "seed", (long)options->seed);
	rig_put_index(writer, object, "n_side_trips", (long)options->n_side_trips);
	rig_json_add_truth(maker, object, "drawn_days", options->drawn_days);
	rig_json_add_truth(maker, object, "likely_inputs", options->likely_inputs);
	rig_put_number(writer, object, "wanted_out_frac", options->wanted_out_frac);
	rig_put_index(writer, object, "drive_every_days", options->drive_every_days);
}

static void put_notes(rig_writer *writer, cJSON *parent, uint32_t notes)
{
	/* by bit */
	static const char *const NOTE[] = {"no_house_bank", "no_house_array", "chassis_array",
		"mean_weather", "real_year", "starts_full", "outdoor_bank", "cold_no_charge",
		"windows_by_rule", "window_too_short", "not_carried", "inverter_small",
		"no_inverter", "other_sources", "short_record", "unconfirmed_record", "flat_light",
		"no_bank_loads", "no_chance", "by_weather", "drives"};
	cJSON *list = rig_json_add_array(&writer->maker, parent, "notes");
	for (size_t i = 0; i < sizeof NOTE / sizeof NOTE[0]; i++) {
		if ((notes >> i & 1u) != 0)
			rig_json_add_text(&writer->maker, list, NULL, NOTE[i]);
	}
}

static void put_flows(rig_writer *writer, cJSON *parent, const rig_trip_flows_wh_day *flows)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, "flows_wh_day");
	rig_put_number(writer, object, "harvest", flows->harvest);
	rig_put_number(writer, object, "from_store", flows->from_store);
	rig_put_number(writer, object, "dc", flows->dc);
	rig_put_number(writer, object, "ac", flows->ac);
	rig_put_number(writer, object, "inverter_loss", flows->inverter_loss);
	rig_put_number(writer, object, "inverter_idle", flows->inverter_idle);
	rig_put_number(writer, object, "charge_loss", flows->charge_loss);
	rig_put_number(writer, object, "self_discharge", flows->self_discharge);
	rig_put_number(writer, object, "curtailed", flows->curtailed);
	rig_put_number(writer, object, "unserved_dc", flows->unserved_dc);
	rig_put_number(writer, object, "unserved_ac", flows->unserved_ac);
}

static void put_hours(rig_writer *writer, cJSON *parent, const rig_trip_bank *bank, size_t n_hours)
{
	cJSON *store = rig_json_add_array(&writer->maker, parent, "store_wh");
	for (size_t i = 0; i < n_hours; i++)
		rig_put_number(writer, store, NULL, bank->hours[i].store_wh);
	cJSON *left = rig_json_add_array(&writer->maker, parent, "left_wh");
	for (size_t i = 0; i < n_hours; i++)
		rig_put_number(writer, left, NULL, bank->hours[i].left_wh);
	cJSON *missing = rig_json_add_array(&writer->maker, parent, "short_frac");
	for (size_t i = 0; i < n_hours; i++)
		rig_put_number(writer, missing, NULL, bank->hours[i].short_frac);
}

static void put_bank(rig_writer *writer, cJSON *list, const rig_trip_bank *bank, size_t n_hours)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "id", bank->id);
	rig_json_add_text(maker, object, "name", bank->name);
	rig_json_add_text(maker, object, "role", bank->role == RIG_CHASSIS ? "chassis" : "house");
	rig_put_number(writer, object, "capacity_wh", bank->capacity_wh);
	rig_put_figure(writer, object, "usable_wh", bank->usable_wh, "Wh");
	rig_put_index(writer, object, "n_arrays", (long)bank->n_arrays);
	put_flows(writer, object, &bank->flows);
	rig_put_figure(writer, object, "wanted_wh_day", bank->wanted_wh_day, "Wh/day");
	rig_put_figure(writer, object, "harvest_wh_day", bank->harvest_wh_day, "Wh/day");
	rig_put_number(writer, object, "lowest_wh", bank->lowest_wh);
	rig_put_index(writer, object, "lowest_hour", (long)bank->lowest_hour);
	rig_put_figure(writer, object, "lowest_by_course_wh", bank->lowest_by_course_wh, "Wh");
	rig_put_number(writer, object, "unserved_wh", bank->unserved_wh);
	rig_put_number(writer, object, "unserved_ac_wh", bank->unserved_ac_wh);
	rig_put_number(writer, object, "unserved_dc_wh", bank->unserved_dc_wh);
	rig_put_number(writer, object, "wanted_wh", bank->wanted_wh);
	rig_put_number(writer, object, "unmet_frac", bank->unmet_frac);
	rig_put_index(writer, object, "short_hours", bank->short_hours);
	rig_put_index(writer, object, "short_days", bank->short_days);
	cJSON *months = rig_json_add_array(maker, object, "short_days_by_month");
	for (int i = 0; i < 12; i++)
		rig_put_index(writer, months, NULL, bank->short_days_by_month[i]);
	rig_put_figure(writer, object, "days_with_panel", bank->days_with_panel, "days");
	rig_put_figure(writer, object, "days_without_panel", bank->days_without_panel, "days");
	put_hours(writer, object, bank, n_hours);
}

static void put_load(rig_writer *writer, cJSON *list, const rig_trip_load *load)
{
	static const char *const AWAY[] = {"runs_on_bank", "runs_on_inverter", "needs_hookups",
		"needs_inverter", "exceeds_inverter", "has_no_bank", "off_in_habit"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "id", load->id);
	rig_json_add_text(maker, object, "name", load->name);
	rig_json_add_text(maker, object, "away", AWAY[load->away]);
	rig_json_add_text(
		maker, object, "bank", load->bank < 0 ? NULL : writer->coach->banks[load->bank].id);
	rig_put_figure(writer, object, "wh_day", load->wh_day, "Wh/day");
	rig_put_number(writer, object, "at_bank_wh_day", load->at_bank_wh_day);
	rig_put_number(writer, object, "unserved_wh", load->unserved_wh);
	rig_put_number(writer, object, "days_if_cut", load->days_if_cut);
	rig_put_number(writer, object, "days_gained", load->days_gained);
	rig_json_add_truth(maker, object, "by_weather", load->by_weather);
	rig_put_number(writer, object, "trips_unserved_wh", load->trips_unserved_wh);
	rig_put_number(writer, object, "out_if_cut_frac", load->out_if_cut_frac);
	rig_put_number(writer, object, "out_gained_frac", load->out_gained_frac);
}

static void put_habit(rig_writer *writer, cJSON *list, const rig_trip_habit *habit)
{
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_json_add_text(&writer->maker, object, "habit", habit->name);
	rig_put_number(writer, object, "wanted_wh_day", habit->wanted_wh_day);
	rig_put_number(writer, object, "days", habit->days);
	rig_put_number(writer, object, "days_gained", habit->days_gained);
	rig_put_figure(writer, object, "out_frac", habit->out_frac, "");
}

static void put_figures(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const rig_figure *figures)
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < n; i++)
		rig_put_figure(writer, list, NULL, figures[i], "");
}

static void put_chance(
	rig_writer *writer, cJSON *parent, const rig_trip_chance *chance, size_t n_hours)
{
	if (chance->n_trips == 0) {
		rig_json_add_null(&writer->maker, parent, "chance");
		return;
	}
	static const char *const FROM[] = {"place", "file", "like_file"};
	cJSON *object = rig_json_add_object(&writer->maker, parent, "chance");
	rig_put_index(writer, object, "n_trips", (long)chance->n_trips);
	rig_json_add_text(&writer->maker, object, "days_from", FROM[chance->days_from]);
	rig_put_index(writer, object, "seed", (long)chance->seed);
	rig_put_number(writer, object, "never_out_frac", chance->never_out_frac);
	rig_put_number(writer, object, "never_out_low", chance->never_out_low);
	rig_put_number(writer, object, "never_out_high", chance->never_out_high);
	rig_put_numbers(writer, object, "out_by_day_frac", chance->n_days, chance->out_by_day_frac);
	put_figures(writer, object, "out_by_day", chance->n_days, chance->out_by_day);
	rig_put_numbers(writer, object, "share", RIG_TRIP_QUANTILES, RIG_TRIP_SHARE);
	cJSON *charge = rig_json_add_array(&writer->maker, object, "charge_frac");
	for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
		rig_put_numbers(writer, charge, NULL, n_hours, chance->charge_frac[k]);
	rig_put_number(writer, object, "charge_step_frac", chance->charge_step_frac);
	rig_put_number(writer, object, "unserved_wh", chance->unserved_wh);
}

static void put_generator(rig_writer *writer, cJSON *parent, const rig_trip_generator *it)
{
	rig_json_maker *maker = &writer->maker;
	if (it->n_trips == 0) {
		rig_json_add_null(maker, parent, "generator");
		return;
	}
	cJSON *object = rig_json_add_object(maker, parent, "generator");
	rig_put_index(writer, object, "n_trips", (long)it->n_trips);
	rig_json_add_truth(maker, object, "by_hand", it->by_hand);
	rig_json_add_truth(maker, object, "by_volts", it->by_volts);
	rig_put_figure(writer, object, "out_frac", it->out_frac, "");
	rig_put_number(writer, object, "hours_day", it->hours_day);
	rig_put_number(writer, object, "given_wh_day", it->given_wh_day);
	rig_put_figure(writer, object, "fuel_l_day", it->fuel_l_day, "L/day");
	rig_put_numbers(writer, object, "hours_by_day", it->n_days, it->hours_by_day);
}

static void put_more(rig_writer *writer, cJSON *parent, const char *key, const rig_trip_more *more)
{
	rig_json_maker *maker = &writer->maker;
	if (!more->asked) {
		rig_json_add_null(maker, parent, key);
		return;
	}
	cJSON *object = rig_json_add_object(maker, parent, key);
	rig_json_add_truth(maker, object, "enough", more->enough);
	rig_json_add_truth(maker, object, "reached", more->reached);
	rig_put_number(writer, object, "more", more->more);
	rig_put_number(writer, object, "more_low", more->more_low);
	if (more->more_high > 0)
		rig_put_number(writer, object, "more_high", more->more_high);
	else
		rig_json_add_null(maker, object, "more_high");
}

static void put_input(rig_writer *writer, cJSON *list, const rig_trip_input *input)
{
	static const char *const KIND[] = {"load", "capacity", "usable", "efficiency", "panel",
		"losses", "inverter", "sun", "weather"};
	const rig_coach *coach = writer->coach;
	const char *id = NULL;
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_json_add_text(&writer->maker, object, "kind", KIND[input->kind]);
	if (input->kind == RIG_INPUT_LOAD)
		id = coach->loads[input->index].id;
	else if (input->kind == RIG_INPUT_PANEL || input->kind == RIG_INPUT_LOSSES)
		id = coach->arrays[input->index].id;
	else if (input->index >= 0)
		id = coach->banks[input->index].id;
	rig_json_add_text(&writer->maker, object, "id", id);
	rig_put_figure(writer, object, "ratio", input->ratio, "");
	rig_put_number(writer, object, "share_frac", input->share_frac);
	rig_json_add_truth(&writer->maker, object, "decides", input->decides);
}

static void put_sides(rig_writer *writer, cJSON *parent, const rig_trip_findings *findings)
{
	rig_put_index(writer, parent, "n_side_trips", (long)findings->n_side_trips);
	rig_put_figure(writer, parent, "side_out_frac", findings->side_out_frac, "");
	put_figures(writer, parent, "out_by_month_frac", 12, findings->out_by_month_frac);
	put_generator(writer, parent, &findings->generator);
	put_more(writer, parent, "more_panel", &findings->more_panel);
	put_more(writer, parent, "more_bank", &findings->more_bank);
	cJSON *inputs = rig_json_add_array(&writer->maker, parent, "inputs");
	for (size_t i = 0; i < findings->n_inputs; i++)
		put_input(writer, inputs, &findings->inputs[i]);
	rig_measure measures[RIG_MEASURE_SHOWN];
	rig_put_measures(writer, parent, rig_trip_measures(findings, measures), measures);
}

void rig_trip_data(rig_writer *writer, const rig_trip_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "trip");
	rig_put_place(writer, object, &findings->place);
	put_options(writer, object, &findings->options);
	put_notes(writer, object, findings->notes);
	rig_put_index(writer, object, "n_hours", (long)findings->n_hours);
	rig_put_index(writer, object, "first_day", findings->first_day);
	rig_json_add_text(maker, object, "main_bank",
		findings->main_bank < 0 ? NULL : findings->banks[findings->main_bank].id);
	cJSON *banks = rig_json_add_array(maker, object, "banks");
	for (size_t i = 0; i < findings->n_banks; i++)
		put_bank(writer, banks, &findings->banks[i], findings->n_hours);
	cJSON *loads = rig_json_add_array(maker, object, "loads");
	for (size_t i = 0; i < findings->n_loads; i++)
		put_load(writer, loads, &findings->loads[i]);
	cJSON *habits = rig_json_add_array(maker, object, "habits");
	for (size_t i = 0; i < findings->n_habits; i++)
		put_habit(writer, habits, &findings->habits[i]);
	rig_put_number(writer, object, "inverter_idle_frac", findings->inverter_idle_frac);
	put_chance(writer, object, &findings->chance, findings->n_hours);
	put_sides(writer, object, findings);
}
