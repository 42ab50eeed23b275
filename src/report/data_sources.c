/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other sources and starts as JSON: keys are the names of the fields of sources.h. */
#include "writer.h"

/* The hardest to start. */
enum { MOST_MOTORS = 32 };

static const char *const KIND_KEY[] = {"shore", "generator", "inverter"};
static const char *const VERDICT_KEY[] = {"holds", "depends", "fails"};

static const char *load_id(const rig_writer *writer, int load)
{
	return load < 0 ? "charger" : writer->coach->loads[load].id;
}

static void put_items(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const rig_shore_item *items)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < n; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load", load_id(writer, items[i].load));
		rig_put_index(writer, object, "count", items[i].count);
	}
}

static void put_set(rig_writer *writer, cJSON *array, const rig_other_set *set)
{
	static const char *const VERDICT[] = {"fits", "depends", "over_continuous", "over"};
	const rig_shore_budget *budget = &set->budget;
	cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
	rig_put_index(writer, object, "set", set->set);
	put_items(writer, object, "unfed", set->n_unfed, set->unfed);
	rig_json_add_text(&writer->maker, object, "verdict", VERDICT[budget->verdict]);
	put_items(writer, object, "dead", budget->n_dead, budget->dead);
	rig_put_figure(writer, object, "watts_w", budget->watts_w, "W");
	rig_put_figure(writer, object, "amps_a", budget->main.amps_a, "A");
	rig_put_figure(writer, object, "headroom_a", budget->headroom_a, "A");
	put_items(writer, object, "kept", budget->best.n_kept, budget->best.kept);
	put_items(writer, object, "off", budget->best.n_off, budget->best.off);
}

static void put_source(rig_writer *writer, cJSON *array, const rig_other_source *source)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "kind", KIND_KEY[source->kind]);
	rig_put_figure(writer, object, "rated_w", source->rated_w, "W");
	rig_put_figure(writer, object, "left_frac", source->left_frac, "1");
	rig_put_figure(writer, object, "available_w", source->available_w, "W");
	rig_put_figure(writer, object, "surge_w", source->surge_w, "W");
	rig_put_number(writer, object, "limit_a", source->supply.limit_a);
	rig_put_index(writer, object, "n_hots", source->supply.n_hots);
	cJSON *circuits = rig_json_add_array(maker, object, "circuits");
	for (size_t i = 0; i < source->n_circuits; i++)
		rig_json_add_text(
			maker, circuits, NULL, writer->coach->circuits[source->circuits[i]].id);
	cJSON *loads = rig_json_add_array(maker, object, "loads");
	for (size_t i = 0; i < source->n_loads; i++)
		rig_json_add_text(maker, loads, NULL, load_id(writer, source->loads[i]));
	cJSON *sets = rig_json_add_array(maker, object, "sets");
	for (size_t i = 0; i < source->n_sets; i++)
		put_set(writer, sets, &source->sets[i]);
}

static void put_start(rig_writer *writer, cJSON *array, const rig_sources_findings *findings,
	const rig_source_start *start)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "kind", KIND_KEY[start->kind]);
	rig_json_add_text(maker, object, "supply",
		start->supply < 0 ? NULL : findings->shore->supplies[start->supply].pedestal->id);
	rig_json_add_truth(maker, object, "fed", start->fed);
	rig_json_add_text(maker, object, "verdict", VERDICT_KEY[start->verdict]);
	rig_put_figure(writer, object, "before_v", start->before_v, "V");
	rig_put_figure(writer, object, "start_v", start->start_v, "V");
	rig_put_figure(writer, object, "dip_v", start->dip_v, "V");
	rig_put_figure(writer, object, "start_a", start->start_a, "A");
	rig_put_figure(writer, object, "torque_frac", start->torque_frac, "1");
	rig_put_figure(writer, object, "hot_a", start->hot_a, "A");
	rig_json_add_truth(maker, object, "in_trip_region", start->in_trip_region);
	rig_put_figure(writer, object, "asked_va", start->asked_va, "VA");
	rig_put_figure(writer, object, "surge_w", start->surge_w, "W");
}

static void put_motor(rig_writer *writer, cJSON *array, const rig_sources_findings *findings,
	const rig_motor_start *motor)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "load", load_id(writer, motor->load));
	rig_json_add_truth(maker, object, "soft_starter", motor->soft_starter);
	rig_put_figure(writer, object, "locked_rotor_a", motor->locked_rotor_a, "A");
	rig_put_figure(writer, object, "soft_a", motor->soft_a, "A");
	rig_put_figure(writer, object, "running_a", motor->running_a, "A");
	cJSON *bare = rig_json_add_array(maker, object, "bare");
	cJSON *soft = rig_json_add_array(maker, object, "soft");
	for (size_t i = 0; i < motor->n_on; i++) {
		put_start(writer, bare, findings, &motor->bare[i]);
		put_start(writer, soft, findings, &motor->soft[i]);
	}
}

void rig_sources_data(rig_writer *writer, const rig_sources_findings *findings)
{
	static const char *const RULE[] = {"unsaid", "height", "height_heat", "site"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "sources");
	rig_put_figure(writer, object, "elevation_m", findings->elevation_m, "m");
	rig_put_figure(writer, object, "air_c", findings->air_c, "C");
	rig_json_add_text(maker, object, "rule", RULE[findings->rule]);
	cJSON *sources = rig_json_add_array(maker, object, "sources");
	for (size_t i = 0; i < findings->n_sources; i++)
		put_source(writer, sources, &findings->sources[i]);
	cJSON *starts = rig_json_add_array(maker, object, "starts");
	const size_t n = findings->n_starts < MOST_MOTORS ? findings->n_starts : MOST_MOTORS;
	for (size_t i = 0; i < n; i++)
		put_motor(writer, starts, findings, &findings->starts[i]);
	rig_put_index(writer, object, "n_more_starts", (long)(findings->n_starts - n));
}
