/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wiring findings as JSON: keys are the names of the fields of wiring.h. */
#include "writer.h"

static const char *const LIMIT_KEY[RIG_N_WIRE_LIMITS] = {
	"thinnest", "drop", "ampacity", "terminal", "small"};
static const char *const STATE_KEY[] = {"not_asked", "holds", "depends", "unknown", "fails"};

static const char *gauge_text(rig_writer *writer, int awg)
{
	return awg > 0 ? rig_said(writer, "%d", awg) : rig_said(writer, "%d/0", 1 - awg);
}

static void put_rating(
	rig_writer *writer, cJSON *parent, const char *key, const rig_wire_rating *rating)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, parent, key);
	rig_json_add_text(maker, object, "awg", gauge_text(writer, rating->awg));
	rig_put_number(writer, object, "area_mm2", rating->area_mm2);
	rig_put_index(writer, object, "class_c", rating->class_c);
	rig_put_number(writer, object, "table_a", rating->table_a);
	rig_put_number(writer, object, "ambient_factor", rating->ambient_factor);
	rig_put_number(writer, object, "bundle_factor", rating->bundle_factor);
	rig_put_number(writer, object, "corrected_a", rating->corrected_a);
	rig_put_number(writer, object, "terminal_a", rating->terminal_a);
	rig_put_number(writer, object, "ampacity_a", rating->ampacity_a);
	rig_put_number(writer, object, "small_a", rating->small_a);
	rig_put_number(writer, object, "fuse_limit_a", rating->fuse_limit_a);
	rig_json_add_text(maker, object, "limited_by", LIMIT_KEY[rating->limited_by]);
	rig_put_number(writer, object, "rounded_a", rating->rounded_a);
	rig_put_number(writer, object, "copper_c", rating->copper_c);
	rig_put_number(writer, object, "drop_v", rating->drop_v);
	rig_put_number(writer, object, "drop_frac", rating->drop_frac);
}

static void put_choice(rig_writer *writer, cJSON *parent, const rig_wiring_run *run)
{
	rig_json_maker *maker = &writer->maker;
	if (!run->chosen) {
		rig_json_add_null(maker, parent, "choice");
		return;
	}
	cJSON *object = rig_json_add_object(maker, parent, "choice");
	put_rating(writer, object, "wire", &run->choice.wire);
	rig_put_number(writer, object, "need_a", run->choice.need_a);
	rig_put_number(writer, object, "fuse_a", run->choice.fuse_a);
	rig_json_add_text(maker, object, "decided_by", LIMIT_KEY[run->choice.decided_by]);
	cJSON *by = rig_json_add_object(maker, object, "awg_by");
	for (int limit = 0; limit < RIG_N_WIRE_LIMITS; limit++)
		rig_json_add_text(
			maker, by, LIMIT_KEY[limit], gauge_text(writer, run->choice.awg_by[limit]));
}

static void put_states(rig_writer *writer, cJSON *parent, const rig_wiring_run *run)
{
	static const char *const RULE[RIG_N_WIRING_RULES] = {
		"drop", "ampacity", "fuse_load", "fuse_wire", "interrupt", "distance"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, parent, "state");
	for (int rule = 0; rule < RIG_N_WIRING_RULES; rule++)
		rig_json_add_text(maker, object, RULE[rule], STATE_KEY[run->state[rule]]);
	rig_json_add_text(maker, parent, "worst", RULE[run->worst]);
	rig_put_measures(writer, parent, run->n_measures, run->measures);
}

static void put_run(rig_writer *writer, cJSON *array, const rig_wiring_run *run)
{
	static const char *const FROM[] = {"unknown", "stated", "circuit", "fuse"};
	const rig_coach *coach = writer->coach;
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "wire", run->wire < 0 ? NULL : coach->wires[run->wire].id);
	rig_json_add_text(maker, object, "circuit",
		run->circuit < 0 ? NULL : coach->circuits[run->circuit].id);
	rig_json_add_text(maker, object, "bank", run->bank < 0 ? NULL : coach->banks[run->bank].id);
	rig_json_add_truth(maker, object, "at_battery", run->at_battery);
	rig_json_add_text(maker, object, "supply", run->supply == RIG_AC ? "ac" : "dc");
	rig_put_number(writer, object, "volts_v", run->volts_v);
	rig_json_add_text(maker, object, "amps_from", FROM[run->amps_from]);
	rig_put_figure(writer, object, "amps_a", run->amps_a, "A");
	rig_put_figure(writer, object, "continuous_a", run->continuous_a, "A");
	rig_put_figure(writer, object, "need_a", run->need_a, "A");
	rig_put_figure(writer, object, "fuse_a", run->fuse_a, "A");
	rig_put_number(writer, object, "power_factor", run->power_factor);
	rig_put_figure(writer, object, "length_m", run->length_m, "m");
	rig_put_figure(writer, object, "insulation_c", run->insulation_c, "C");
	rig_put_figure(writer, object, "terminal_c", run->terminal_c, "C");
	rig_put_figure(writer, object, "ambient_c", run->ambient_c, "C");
	rig_put_index(writer, object, "bundle", run->bundle);
	rig_put_number(writer, object, "drop_limit_frac", run->drop_limit_frac);
	rig_json_add_text(maker, object, "awg", run->gauged ? gauge_text(writer, run->awg) : NULL);
	rig_json_add_truth(maker, object, "proposed", run->proposed);
	rig_json_add_truth(maker, object, "hopeless", run->hopeless);
	if (run->rated)
		put_rating(writer, object, "rating", &run->rating);
	else
		rig_json_add_null(maker, object, "rating");
	rig_put_figure(writer, object, "drop_v", run->drop_v, "V");
	rig_put_figure(writer, object, "drop_frac", run->drop_frac, "1");
	rig_put_number(writer, object, "largest_fuse_a", run->largest_fuse_a);
	rig_put_number(writer, object, "suited_fuse_a", run->suited_fuse_a);
	put_choice(writer, object, run);
	rig_put_figure(writer, object, "short_circuit_a", run->short_circuit_a, "A");
	rig_put_number(writer, object, "interrupt_asked_a", run->interrupt_asked_a);
	rig_json_add_truth(maker, object, "fuse_each", run->fuse_each);
	rig_put_figure(writer, object, "interrupt_a", run->interrupt_a, "A");
	rig_put_figure(writer, object, "fuse_distance_m", run->fuse_distance_m, "m");
	put_states(writer, object, run);
}

void rig_wiring_data(rig_writer *writer, const rig_wiring_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "wiring");
	rig_json_add_text(
		maker, object, "copper", findings->copper == RIG_COPPER_SAE ? "sae" : "awg");
	rig_json_add_truth(maker, object, "next_size", findings->next_size);
	cJSON *runs = rig_json_add_array(maker, object, "runs");
	for (size_t i = 0; i < findings->n_runs; i++)
		put_run(writer, runs, &findings->runs[i]);
	cJSON *counts = rig_json_add_object(maker, object, "n_of");
	for (int state = 0; state <= RIG_WIRING_FAILS; state++)
		rig_put_index(writer, counts, STATE_KEY[state], (long)findings->n_of[state]);
}
