/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings of readings as JSON: keys are the names of the fields of readings.h. */
#include "writer.h"

static const char *const VERDICT_KEY[] = {"agrees", "high", "low", "dead", "not_identified"};
static const char *const PLACE_KEY[] = {"leg1", "leg2", "both_legs", "watts", "circuit", "bank"};
static const char *const USE_KEY[] = {"used", "no_loads", "leg_unknown", "dead_leg", "charging",
	"not_said", "discharge", "no_bank", "outlier"};
static const char *const PANEL_KEY[] = {
	"agrees", "low", "dead", "high", "undecided", "bank_full", "no_place"};
static const char *const BY_KEY[] = {NULL, "charger", "alternator", "solar"};

static const char *load_id(const rig_writer *writer, int load)
{
	return load == RIG_READINGS_CHARGER    ? "charger"
	       : load == RIG_READINGS_INVERTER ? "inverter"
					       : writer->coach->loads[load].id;
}

static void put_draw(rig_writer *writer, cJSON *list, const rig_readings_draw *draw)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "load", load_id(writer, draw->load));
	rig_json_add_text(maker, object, "supply", draw->supply == RIG_DC ? "dc" : "ac");
	rig_json_add_text(maker, object, "verdict", VERDICT_KEY[draw->verdict]);
	rig_put_number(writer, object, "rated_v", draw->rated_v);
	rig_put_figure(writer, object, "label_a", draw->label_a, "A");
	rig_put_figure(writer, object, "expected_a", draw->expected_a, "A");
	rig_put_figure(writer, object, "found_a", draw->found_a, "A");
	rig_put_figure(writer, object, "found_w", draw->found_w, "W");
	rig_put_number(writer, object, "se_a", draw->se_a);
	rig_put_number(writer, object, "told_frac", draw->told_frac);
	rig_put_index(writer, object, "n_rows", (long)draw->n_rows);
	rig_put_index(writer, object, "group", draw->group);
	rig_json_add_truth(maker, object, "at_volts", draw->at_volts);
}

static void put_loads(rig_writer *writer, cJSON *parent, const char *key,
	const rig_readings_findings *findings, const rig_readings_group *group)
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < group->n_draws; i++)
		rig_json_add_text(&writer->maker, list, NULL,
			load_id(writer, findings->draws[group->draws[i]].load));
}

static void put_row(rig_writer *writer, cJSON *list, const rig_readings_row *row)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	const bool judged = row->use == RIG_ROW_USED || row->use == RIG_ROW_OUTLIER;
	rig_put_index(writer, object, "reading", row->reading);
	rig_json_add_text(maker, object, "place", PLACE_KEY[row->place]);
	rig_json_add_text(maker, object, "use", USE_KEY[row->use]);
	rig_put_number(writer, object, "read", row->read);
	rig_put_number(writer, object, "sigma", row->sigma);
	if (!judged)
		return;
	rig_put_number(writer, object, "predicted", row->predicted);
	rig_put_number(writer, object, "without", row->without);
	rig_put_number(writer, object, "studentized", row->studentized);
	rig_json_add_truth(maker, object, "checked", row->checked);
}

static void put_next(rig_writer *writer, cJSON *parent, const rig_readings_findings *findings)
{
	const rig_readings_next *next = &findings->next;
	if (!next->given) {
		rig_json_add_null(&writer->maker, parent, "next");
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, "next");
	const rig_readings_group on = {next->n_on, next->on};
	rig_json_add_text(&writer->maker, object, "place", PLACE_KEY[next->place]);
	put_loads(writer, object, "on", findings, &on);
	rig_json_add_text(&writer->maker, object, "settles",
		load_id(writer, findings->draws[next->settles].load));
	rig_put_number(writer, object, "expected_a", next->expected_a);
	rig_put_number(writer, object, "se_before_a", next->se_before_a);
	rig_put_number(writer, object, "se_after_a", next->se_after_a);
	rig_json_add_truth(&writer->maker, object, "separates", next->separates);
}

static void put_standing(rig_writer *writer, cJSON *list, const rig_readings_standing *it)
{
	cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
	rig_put_index(writer, object, "reading", it->reading);
	rig_json_add_text(&writer->maker, object, "bank", writer->coach->banks[it->bank].id);
	rig_json_add_text(&writer->maker, object, "verdict", VERDICT_KEY[it->verdict]);
	rig_put_figure(writer, object, "read_a", it->read_a, "A");
	rig_put_figure(writer, object, "expected_a", it->expected_a, "A");
}

static void put_capacity(rig_writer *writer, cJSON *list, const rig_readings_capacity *it)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_put_index(writer, object, "reading", it->reading);
	rig_json_add_text(maker, object, "bank", writer->coach->banks[it->bank].id);
	rig_json_add_text(
		maker, object, "way", it->way == RIG_CAPACITY_BY_REST ? "rest_volts" : "discharge");
	rig_json_add_text(maker, object, "verdict", VERDICT_KEY[it->verdict]);
	rig_put_figure(writer, object, "drawn_ah", it->drawn_ah, "Ah");
	rig_put_figure(writer, object, "share_frac", it->share_frac, "1");
	rig_put_figure(writer, object, "found_ah", it->found_ah, "Ah");
	rig_put_figure(writer, object, "label_ah", it->label_ah, "Ah");
	rig_put_figure(writer, object, "left_frac", it->left_frac, "1");
	rig_json_add_truth(maker, object, "small_step", it->small_step);
}

static void put_source(rig_writer *writer, cJSON *list, const rig_readings_source *it)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_put_index(writer, object, "reading", it->reading);
	rig_json_add_text(maker, object, "bank", writer->coach->banks[it->bank].id);
	rig_json_add_text(maker, object, "by", BY_KEY[it->by]);
	rig_json_add_text(maker, object, "verdict", VERDICT_KEY[it->verdict]);
	rig_put_figure(writer, object, "output_a", it->output_a, "A");
	rig_put_figure(writer, object, "rated_a", it->rated_a, "A");
	rig_json_add_truth(maker, object, "bank_full", it->bank_full);
}

static void put_panel(rig_writer *writer, cJSON *list, const rig_readings_panel *it)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_put_index(writer, object, "reading", it->reading);
	rig_json_add_text(maker, object, "array", writer->coach->arrays[it->array].id);
	rig_json_add_text(maker, object, "verdict", PANEL_KEY[it->verdict]);
	rig_put_number(writer, object, "elevation_rad", it->elevation_rad);
	rig_put_figure(writer, object, "light_wm2", it->light_wm2, "W/m2");
	rig_put_figure(writer, object, "air_c", it->air_c, "C");
	rig_put_figure(writer, object, "read_a", it->read_a, "A");
	rig_put_figure(writer, object, "expected_a", it->expected_a, "A");
}

static void put_dc(rig_writer *writer, cJSON *object, const rig_readings_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *standing = rig_json_add_array(maker, object, "standing");
	for (size_t i = 0; i < findings->n_standing; i++)
		put_standing(writer, standing, &findings->standing[i]);
	cJSON *capacities = rig_json_add_array(maker, object, "capacities");
	for (size_t i = 0; i < findings->n_capacities; i++)
		put_capacity(writer, capacities, &findings->capacities[i]);
	cJSON *sources = rig_json_add_array(maker, object, "sources");
	for (size_t i = 0; i < findings->n_sources; i++)
		put_source(writer, sources, &findings->sources[i]);
	cJSON *panels = rig_json_add_array(maker, object, "panels");
	for (size_t i = 0; i < findings->n_panels; i++)
		put_panel(writer, panels, &findings->panels[i]);
}

void rig_readings_data(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "readings");
	rig_put_index(writer, object, "n_readings", (long)findings->n_readings);
	rig_put_number(writer, object, "meter_frac", findings->meter_frac);
	rig_put_number(writer, object, "meter_a", findings->meter_a);
	rig_put_number(writer, object, "scatter_ratio", findings->scatter_ratio);
	rig_put_number(writer, object, "sureness_z", findings->sureness_z);
	cJSON *draws = rig_json_add_array(maker, object, "draws");
	for (size_t i = 0; i < findings->n_draws; i++)
		put_draw(writer, draws, &findings->draws[i]);
	cJSON *groups = rig_json_add_array(maker, object, "groups");
	for (size_t i = 0; i < findings->n_groups; i++) {
		cJSON *group = rig_json_add_object(maker, groups, NULL);
		put_loads(writer, group, "loads", findings, &findings->groups[i]);
	}
	cJSON *rows = rig_json_add_array(maker, object, "rows");
	for (size_t i = 0; i < findings->n_rows; i++)
		put_row(writer, rows, &findings->rows[i]);
	put_next(writer, object, findings);
	rig_measure measures[RIG_MEASURE_SHOWN];
	rig_put_measures(writer, object, rig_readings_measures(findings, measures), measures);
	put_dc(writer, object, findings);
}
