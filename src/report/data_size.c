/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The size findings as JSON: keys are the names of the fields of size.h. */
#include "writer.h"

static void put_options(rig_writer *writer, cJSON *parent, const rig_size_options *options)
{
	static const char *const STAY[] = {"either", "keep", "replace"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, parent, "options");
	cJSON *months = rig_json_add_array(maker, object, "months");
	for (int month = 0; month < 12; month++)
		if (options->months[month])
			rig_json_add_number(maker, months, NULL, month + 1);
	rig_put_index(writer, object, "n_days", options->n_days);
	rig_json_add_text(maker, object, "habit",
		options->habit < 0 ? NULL : writer->coach->habits[options->habit].name);
	rig_put_number(writer, object, "wanted_frac", options->wanted_frac);
	rig_put_index(writer, object, "n_trips", (long)options->n_trips);
	rig_put_index(writer, object, "seed", (long)options->seed);
	rig_json_add_truth(maker, object, "all_loads", options->all_loads);
	rig_json_add_text(maker, object, "panels", STAY[options->panels]);
	rig_json_add_text(maker, object, "bank", STAY[options->bank]);
	rig_json_add_text(maker, object, "inverter", STAY[options->inverter]);
	rig_put_index(writer, object, "most_panels", options->most_panels);
	rig_put_index(writer, object, "most_batteries", options->most_batteries);
	rig_put_number(writer, object, "price_max", options->price_max);
	rig_put_number(writer, object, "weight_max_kg", options->weight_max_kg);
	rig_put_number(writer, object, "area_max_m2", options->area_max_m2);
}

static void put_notes(rig_writer *writer, cJSON *parent, uint32_t notes)
{
	/* by bit */
	static const char *const NOTE[] = {"no_panels_fit", "packing_cut", "wrong_volts",
		"inverter_small", "no_inverter", "limits_bind", "no_chance", "invented", "gaps"};
	cJSON *list = rig_json_add_array(&writer->maker, parent, "notes");
	for (size_t i = 0; i < sizeof NOTE / sizeof NOTE[0]; i++)
		if ((notes >> i & 1u) != 0)
			rig_json_add_text(&writer->maker, list, NULL, NOTE[i]);
}

static void put_months(
	rig_writer *writer, cJSON *parent, const char *key, const rig_size_month months[12])
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, key);
	for (int month = 0; month < 12; month++) {
		const rig_size_month *it = &months[month];
		if (!it->asked)
			continue;
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_put_index(writer, object, "month", month + 1L);
		rig_put_figure(writer, object, "never_out_frac", it->never_out_frac, "1");
		rig_put_number(writer, object, "harvest", it->harvest);
		rig_put_number(writer, object, "served", it->served);
		rig_put_number(writer, object, "curtailed", it->curtailed);
		rig_put_number(writer, object, "unserved", it->unserved);
	}
}

static void put_run(rig_writer *writer, cJSON *list, const rig_size_run *run, int kind)
{
	static const char *const KIND[] = {"array", "controller", "inverter"};
	if (!run->asked)
		return;
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_json_add_text(&writer->maker, object, "run", KIND[kind]);
	rig_json_add_truth(&writer->maker, object, "solved", run->solved);
	rig_put_index(writer, object, "n_alike", run->n_alike);
	rig_put_number(writer, object, "amps_a", run->job.amps_a);
	rig_put_number(writer, object, "volts_v", run->job.volts_v);
	rig_put_number(writer, object, "length_m", run->job.length_m);
	rig_put_index(writer, object, "awg", run->choice.wire.awg);
	rig_put_number(writer, object, "drop_frac", run->choice.wire.drop_frac);
	rig_put_number(writer, object, "fuse_a", run->fuse_a);
	rig_put_number(writer, object, "interrupt_asked_a", run->interrupt_asked_a);
}

static void put_parts(
	rig_writer *writer, cJSON *object, const rig_parts *parts, const rig_size_option *it)
{
	rig_json_maker *maker = &writer->maker;
	rig_json_add_text(
		maker, object, "panel", it->panel < 0 ? NULL : parts->panels[it->panel].id);
	rig_put_index(writer, object, "n_panels", it->n_panels);
	rig_json_add_text(maker, object, "controller",
		it->controller < 0 ? NULL : parts->controllers[it->controller].id);
	rig_put_index(writer, object, "n_controllers", it->n_controllers);
	rig_put_index(writer, object, "panels_in_series", it->panels_in_series);
	rig_json_add_truth(maker, object, "panels_stay", it->panels_stay);
	rig_json_add_text(maker, object, "battery",
		it->battery < 0 ? NULL : parts->batteries[it->battery].id);
	rig_put_index(writer, object, "series", it->series);
	rig_put_index(writer, object, "parallel", it->parallel);
	rig_json_add_text(maker, object, "inverter",
		it->inverter < 0 ? NULL : parts->inverters[it->inverter].id);
	rig_json_add_text(maker, object, "alternator_charger",
		it->alternator_charger < 0 ? NULL
					   : parts->alternator_chargers[it->alternator_charger].id);
}

static void put_option(
	rig_writer *writer, cJSON *list, const rig_parts *parts, const rig_size_option *it)
{
	const struct {
		const char *key;
		double value;
	} NUMBERS[] = {{"price", it->price}, {"weight_kg", it->weight_kg}, {"area_m2", it->area_m2},
		{"new_w", it->new_w}, {"total_w", it->total_w}, {"bank_wh", it->bank_wh},
		{"bank_usable_wh", it->bank_usable_wh}, {"controller_a", it->controller_a},
		{"inverter_asked_w", it->inverter_asked_w},
		{"inverter_asked_surge_w", it->inverter_asked_surge_w},
		{"inverter_w", it->inverter_w}, {"inverter_surge_w", it->inverter_surge_w},
		{"bank_discharge_a", it->bank_discharge_a},
		{"bank_discharge_limit_a", it->bank_discharge_limit_a},
		{"charger_a", it->charger_a}, {"charge_limit_a", it->charge_limit_a},
		{"shore_charge_h", it->shore_charge_h},
		{"generator_charge_h", it->generator_charge_h},
		{"alternator_amps_a", it->alternator_amps_a},
		{"alternator_drawn_a", it->alternator_drawn_a}, {"depth_frac", it->depth_frac}};
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	put_parts(writer, object, parts, it);
	for (size_t i = 0; i < sizeof NUMBERS / sizeof NUMBERS[0]; i++)
		rig_put_number(writer, object, NUMBERS[i].key, NUMBERS[i].value);
	rig_json_add_truth(&writer->maker, object, "price_is_whole", it->price_is_whole);
	rig_put_index(writer, object, "worst_month", it->worst_month + 1L);
	rig_put_figure(writer, object, "less_panel_frac", it->less_panel_frac, "1");
	rig_put_figure(writer, object, "less_battery_frac", it->less_battery_frac, "1");
	rig_put_figure(writer, object, "cycles", it->cycles, "1");
	put_months(writer, object, "months", it->months);
	cJSON *runs = rig_json_add_array(&writer->maker, object, "runs");
	for (int k = 0; k < RIG_SIZE_N_RUNS; k++)
		put_run(writer, runs, &it->runs[k], k);
}

void rig_size_data(rig_writer *writer, const rig_size_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "size");
	rig_put_place(writer, object, &findings->place);
	put_options(writer, object, &findings->options);
	put_notes(writer, object, findings->notes);
	rig_json_add_text(maker, object, "parts", findings->parts->name);
	rig_json_add_text(maker, object, "currency", findings->parts->currency);
	rig_json_add_truth(maker, object, "stopped", findings->stopped);
	rig_json_add_text(maker, object, "bank",
		findings->bank < 0 ? NULL : writer->coach->banks[findings->bank].id);
	rig_put_number(writer, object, "asked_w", findings->asked_w);
	rig_put_number(writer, object, "asked_surge_w", findings->asked_surge_w);
	cJSON *wanted = rig_json_add_array(maker, object, "wanted");
	for (size_t i = 0; i < findings->n_wanted; i++)
		rig_json_add_text(
			maker, wanted, NULL, writer->coach->loads[findings->wanted[i]].id);
	rig_put_index(writer, object, "n_candidates", (long)findings->n_candidates);
	rig_put_index(writer, object, "n_runs", (long)findings->n_runs);
	rig_put_index(writer, object, "n_passes", (long)findings->n_passes);
	put_months(writer, object, "present", findings->present);
	cJSON *options = rig_json_add_array(maker, object, "options_found");
	for (size_t i = 0; i < findings->n_options; i++)
		put_option(writer, options, findings->parts, &findings->options_found[i]);
}
