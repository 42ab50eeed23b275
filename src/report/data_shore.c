/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shore findings as JSON: keys are the names of the fields of shore.h. */
#include "writer.h"

static const char *const VERDICT_KEY[] = {"fits", "depends", "over_continuous", "over"};

static void put_flow(rig_writer *writer, cJSON *parent, const char *key, const rig_shore_flow *flow)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	rig_put_figure(writer, object, "watts_w", flow->watts_w, "W");
	rig_put_figure(writer, object, "va", flow->va, "VA");
	rig_put_figure(writer, object, "amps_a", flow->amps_a, "A");
	rig_put_figure(writer, object, "loaded_a", flow->loaded_a, "A");
	rig_put_number(writer, object, "limit_a", flow->limit_a);
	rig_json_add_text(&writer->maker, object, "verdict", VERDICT_KEY[flow->verdict]);
}

static void put_items(
	rig_writer *writer, cJSON *parent, const char *key, size_t n, const rig_shore_item *items)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, key);
	for (size_t i = 0; i < n; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load",
			items[i].load < 0 ? "charger" : writer->coach->loads[items[i].load].id);
		rig_put_index(writer, object, "count", items[i].count);
	}
}

/* What a choice comes to. */
static void put_sum(rig_writer *writer, cJSON *object, const rig_shore_choice *choice)
{
	put_flow(writer, object, "most_loaded", &choice->most_loaded);
	rig_put_figure(writer, object, "watts_w", choice->watts_w, "W");
	rig_put_number(writer, object, "weight", choice->weight);
	rig_json_add_truth(&writer->maker, object, "proved", choice->proved);
}

static void put_choice(
	rig_writer *writer, cJSON *parent, const char *key, const rig_shore_choice *choice)
{
	cJSON *object = rig_json_add_object(&writer->maker, parent, key);
	put_items(writer, object, "kept", choice->n_kept, choice->kept);
	put_items(writer, object, "off", choice->n_off, choice->off);
	put_sum(writer, object, choice);
}

static void put_ways(rig_writer *writer, cJSON *parent, const rig_shore_budget *budget)
{
	rig_put_measures(writer, parent, budget->n_measures, budget->measures);
	cJSON *array = rig_json_add_array(&writer->maker, parent, "ways");
	for (size_t i = 0; i < budget->n_ways; i++) {
		const rig_shore_way *way = &budget->ways[i];
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "load",
			way->wanted.load < 0 ? "charger"
					     : writer->coach->loads[way->wanted.load].id);
		rig_json_add_truth(&writer->maker, object, "possible", way->possible);
		put_items(writer, object, "gives_way", way->n_gives_way, way->gives_way);
		put_items(writer, object, "joins", way->n_joins, way->joins);
		put_sum(writer, object, &way->choice);
	}
	rig_put_index(writer, parent, "n_more_ways", (long)budget->n_more_ways);
}

static void put_start(rig_writer *writer, cJSON *parent, const rig_shore_start *start)
{
	if (start->load < 0) {
		rig_json_add_null(&writer->maker, parent, "start");
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, "start");
	rig_json_add_text(&writer->maker, object, "load", writer->coach->loads[start->load].id);
	rig_put_figure(writer, object, "start_a", start->start_a, "A");
	rig_put_figure(writer, object, "hot_a", start->hot_a, "A");
	rig_put_figure(writer, object, "circuit_a", start->circuit_a, "A");
	rig_json_add_truth(&writer->maker, object, "hot_in_trip_region", start->hot_in_trip_region);
	rig_json_add_truth(
		&writer->maker, object, "circuit_in_trip_region", start->circuit_in_trip_region);
}

static void put_circuits(rig_writer *writer, cJSON *parent, const rig_shore_budget *budget)
{
	cJSON *array = rig_json_add_array(&writer->maker, parent, "circuits");
	for (size_t i = 0; i < budget->n_circuits; i++) {
		cJSON *object = rig_json_add_object(&writer->maker, array, NULL);
		rig_json_add_text(&writer->maker, object, "circuit",
			writer->coach->circuits[budget->circuits[i].circuit].id);
		put_flow(writer, object, "flow", &budget->circuits[i].flow);
	}
}

static void put_budget(rig_writer *writer, cJSON *array, const rig_shore_findings *findings,
	const rig_shore_budget *budget)
{
	static const char *const ELEMENT[] = {"none", "circuit", "leg", "main", "neutral"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "supply", findings->supplies[budget->supply].pedestal->id);
	rig_json_add_text(maker, object, "verdict", VERDICT_KEY[budget->verdict]);
	rig_json_add_truth(maker, object, "sure", budget->sure);
	rig_json_add_truth(maker, object, "carried", budget->carried);
	put_items(writer, object, "dead", budget->n_dead, budget->dead);
	rig_put_figure(writer, object, "watts_w", budget->watts_w, "W");
	rig_put_figure(writer, object, "va", budget->va, "VA");
	put_flow(writer, object, "leg1", &budget->leg[0]);
	put_flow(writer, object, "leg2", &budget->leg[1]);
	put_flow(writer, object, "main", &budget->main);
	put_flow(writer, object, "neutral", &budget->neutral);
	rig_put_figure(writer, object, "same_phase_neutral_a", budget->same_phase_neutral_a, "A");
	rig_json_add_truth(maker, object, "unplaced", budget->unplaced);
	put_circuits(writer, object, budget);
	rig_put_index(writer, object, "n_circuits_over", (long)budget->n_circuits_over);
	rig_json_add_text(maker, object, "limiting", ELEMENT[budget->limiting]);
	rig_put_index(writer, object, "limiting_index", budget->limiting_index);
	put_flow(writer, object, "limiting_flow", &budget->limiting_flow);
	rig_put_figure(writer, object, "headroom_a", budget->headroom_a, "A");
	rig_put_figure(writer, object, "headroom_w", budget->headroom_w, "W");
	put_start(writer, object, &budget->start);
	put_choice(writer, object, "greedy", &budget->greedy);
	put_choice(writer, object, "best", &budget->best);
	put_choice(writer, object, "by_weight", &budget->by_weight);
	cJSON *next = rig_json_add_array(maker, object, "next");
	for (size_t i = 0; i < budget->n_next; i++)
		put_choice(writer, next, NULL, &budget->next[i]);
	put_ways(writer, object, budget);
}

static const char *smallest_id(const rig_shore_findings *findings, int supply)
{
	return supply < 0 ? NULL : findings->supplies[supply].pedestal->id;
}

static void put_set(rig_writer *writer, cJSON *array, const rig_shore_findings *findings,
	const rig_shore_set *set)
{
	static const char *const KIND[] = {"together", "everything", "standing", "compressors",
		"compressors_and_heat", "continuous"};
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "kind", KIND[set->kind]);
	rig_json_add_text(maker, object, "name", set->name);
	put_items(writer, object, "items", set->n_items, set->items);
	rig_json_add_text(maker, object, "smallest", smallest_id(findings, set->smallest));
	rig_json_add_text(
		maker, object, "smallest_likely", smallest_id(findings, set->smallest_likely));
	cJSON *budgets = rig_json_add_array(maker, object, "budgets");
	for (size_t i = 0; i < findings->n_supplies; i++)
		put_budget(writer, budgets, findings, &set->budgets[i]);
}

static void put_balance(rig_writer *writer, cJSON *parent, const rig_shore_balance *balance)
{
	if (!balance->given) {
		rig_json_add_null(&writer->maker, parent, "balance");
		return;
	}
	cJSON *object = rig_json_add_object(&writer->maker, parent, "balance");
	rig_json_add_truth(&writer->maker, object, "proved", balance->proved);
	cJSON *moves = rig_json_add_array(&writer->maker, object, "moves");
	for (size_t i = 0; i < balance->n_moves; i++)
		rig_json_add_text(
			&writer->maker, moves, NULL, writer->coach->circuits[balance->moves[i]].id);
	rig_put_number(writer, object, "fuller_before_a", balance->fuller_before_a);
	rig_put_number(writer, object, "fuller_after_a", balance->fuller_after_a);
	rig_put_number(writer, object, "neutral_before_a", balance->neutral_before_a);
	rig_put_number(writer, object, "neutral_after_a", balance->neutral_after_a);
}

static void put_supply(rig_writer *writer, cJSON *array, const rig_shore_supply *supply)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "id", supply->pedestal->id);
	rig_put_number(writer, object, "limit_a", supply->limit_a);
	rig_put_number(writer, object, "volts_v", supply->volts_v);
	rig_put_index(writer, object, "n_hots", supply->n_hots);
	rig_put_number(writer, object, "va", supply->va);
	rig_put_number(writer, object, "continuous_va", supply->continuous_va);
	rig_json_add_truth(maker, object, "cord_limits", supply->cord_limits);
	rig_json_add_truth(maker, object, "adapter", supply->adapter);
	rig_json_add_truth(maker, object, "shared_hot", supply->shared_hot);
}

void rig_shore_data(rig_writer *writer, const rig_shore_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "shore");
	rig_put_index(writer, object, "cord_a", writer->coach->cord_a);
	cJSON *supplies = rig_json_add_array(maker, object, "supplies");
	for (size_t i = 0; i < findings->n_supplies; i++)
		put_supply(writer, supplies, &findings->supplies[i]);
	cJSON *sets = rig_json_add_array(maker, object, "sets");
	for (size_t i = 0; i < findings->n_sets; i++)
		put_set(writer, sets, findings, &findings->sets[i]);
	rig_put_figure(writer, object, "charger_w", findings->charger_w, "W");
	rig_put_figure(writer, object, "charger_pf", findings->charger_pf, "1");
	cJSON *unplaced = rig_json_add_array(maker, object, "unplaced");
	for (size_t i = 0; i < findings->n_unplaced; i++)
		rig_json_add_text(maker, unplaced, NULL,
			findings->unplaced[i] < 0 ? "charger"
						  : writer->coach->loads[findings->unplaced[i]].id);
	rig_put_index(writer, object, "n_ac_circuits", findings->n_ac_circuits);
	rig_put_index(writer, object, "circuits_ask_a", findings->circuits_ask_a);
	put_balance(writer, object, &findings->balance);
}
