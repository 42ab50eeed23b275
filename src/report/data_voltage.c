/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The volts as JSON: keys are the names of the fields of voltage.h. */
#include "writer.h"

static const char *const RANGE_KEY[] = {"range_a", "range_b", "high", "low"};

static const char *supply_id(const rig_voltage_findings *findings, int supply)
{
	return findings->shore->supplies[supply].pedestal->id;
}

static void put_paths(rig_writer *writer, cJSON *parent, const rig_voltage_findings *findings)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "paths");
	for (size_t i = 0; i < findings->n_paths; i++) {
		const rig_voltage_path *path = &findings->paths[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(
			&writer->maker, object, "supply", supply_id(findings, path->supply));
		rig_put_figure(writer, object, "open_v", path->open_v, "V");
		rig_put_figure(writer, object, "source_ohm", path->source_ohm, "ohm");
		rig_put_figure(writer, object, "adapter_ohm", path->adapter_ohm, "ohm");
		rig_put_figure(writer, object, "cord_ohm", path->cord_ohm, "ohm");
		rig_put_figure(writer, object, "total_ohm", path->total_ohm, "ohm");
		rig_put_figure(writer, object, "total_m", path->total_m, "m");
		rig_put_figure(writer, object, "drop_at_limit_v", path->drop_at_limit_v, "V");
	}
}

static void put_state(
	rig_writer *writer, cJSON *parent, const char *key, const rig_voltage_state *state)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, parent, key);
	rig_put_figure(writer, object, "leg1_v", state->leg_v[0], "V");
	rig_put_figure(writer, object, "leg2_v", state->leg_v[1], "V");
	rig_put_figure(writer, object, "across_v", state->across_v, "V");
	rig_put_figure(writer, object, "hot1_a", state->hot_a[0], "A");
	rig_put_figure(writer, object, "hot2_a", state->hot_a[1], "A");
	rig_put_figure(writer, object, "neutral_a", state->neutral_a, "A");
	rig_put_figure(writer, object, "pedestal_v", state->pedestal_v, "V");
	rig_put_figure(writer, object, "lost_w", state->lost_w, "W");
	rig_put_index(writer, object, "low_leg", state->low_leg + 1);
	rig_json_add_text(maker, object, "range", RANGE_KEY[state->range]);
	rig_json_add_text(maker, object, "at_low", RANGE_KEY[state->at_low]);
	rig_json_add_text(maker, object, "at_high", RANGE_KEY[state->at_high]);
	rig_json_add_truth(maker, object, "compressor_low", state->compressor_low);
	rig_json_add_truth(maker, object, "compressor_may_be_low", state->compressor_may_be_low);
	rig_json_add_truth(maker, object, "gave_up", state->gave_up);
}

static void put_steps(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const rig_voltage_step *steps)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < n; i++) {
		const int load = steps[i].added.load;
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load",
			load < 0 ? "charger" : writer->coach->loads[load].id);
		rig_put_index(writer, object, "count", steps[i].added.count);
		rig_put_number(writer, object, "drop_v", steps[i].drop_v);
		put_state(writer, object, "state", &steps[i].state);
	}
}

static void put_cases(rig_writer *writer, cJSON *parent, const rig_voltage_findings *findings)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "cases");
	for (size_t i = 0; i < findings->n_cases; i++) {
		const rig_voltage_case *one = &findings->cases[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_put_index(writer, object, "set", one->set);
		rig_json_add_text(
			&writer->maker, object, "supply", supply_id(findings, one->supply));
		put_state(writer, object, "all", &one->all);
		put_state(writer, object, "small", &one->small);
		put_steps(writer, object, "steps", one->n_steps, one->steps);
		put_steps(writer, object, "more", one->n_more, one->more);
		rig_put_index(writer, object, "n_steps_left", (long)one->n_steps_left);
		rig_put_index(writer, object, "n_more_left", (long)one->n_more_left);
		rig_put_measures(writer, object, one->n_measures, one->measures);
	}
}

static void put_limits(
	rig_writer *writer, cJSON *parent, const char *key, const rig_c84_limits *limits)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	rig_put_number(writer, object, "a_low_v", limits->a_low_v);
	rig_put_number(writer, object, "a_high_v", limits->a_high_v);
	rig_put_number(writer, object, "b_low_v", limits->b_low_v);
	rig_put_number(writer, object, "b_high_v", limits->b_high_v);
}

void rig_voltage_data(rig_writer *writer, const rig_voltage_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "voltage");
	rig_json_add_text(maker, object, "edition", rig_c84_edition_text(findings->edition));
	put_limits(writer, object, "utilization", &findings->utilization);
	put_limits(writer, object, "service", &findings->service);
	rig_json_add_text(maker, object, "open_range", RANGE_KEY[findings->open_range]);
	put_paths(writer, object, findings);
	put_cases(writer, object, findings);
	if (!findings->neutral.given) {
		rig_json_add_null(maker, object, "neutral");
		return;
	}
	cJSON *neutral = rig_json_add_object(maker, object, "neutral");
	rig_put_number(writer, neutral, "sound_neutral_a", findings->neutral.sound_neutral_a);
	rig_put_number(
		writer, neutral, "same_phase_neutral_a", findings->neutral.same_phase_neutral_a);
	rig_put_numbers(
		writer, neutral, "open_neutral_leg_v", 2, findings->neutral.open_neutral_leg_v);
}
