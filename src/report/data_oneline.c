/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The graph of a coach as JSON: keys are the names of the fields of oneline.h. */
#include "oneline_items.h"

static const char *const KIND_KEY[RIG_N_NODE_KINDS] = {"shore", "generator", "transfer", "manager",
	"main", "ac_bus", "charger", "inverter", "inverter_charger", "inverter_transfer",
	"inverter_bus", "dc_bus", "bank", "array", "controller", "alternator", "dc_charger",
	"loads", "wire_end"};

/* The id of what a node stands for, NULL where the file has none. */
static const char *id_of(const rig_coach *coach, const rig_oneline_node *node)
{
	if (node->of < 0)
		return NULL;
	switch (node->kind) {
	case RIG_NODE_DC_BUS:
	case RIG_NODE_BANK:
		return coach->banks[node->of].id;
	case RIG_NODE_ARRAY:
	case RIG_NODE_CONTROLLER:
		return coach->arrays[node->of].id;
	case RIG_NODE_WIRE_END:
		return coach->wires[node->of].id;
	default:
		return coach->circuits[node->of].id;
	}
}

static void put_node(
	rig_writer *writer, cJSON *array, const rig_oneline_findings *findings, size_t i)
{
	static const char *const LEG[] = {NULL, "L1", "L2", "both"};
	const rig_oneline_node *node = &findings->nodes[i];
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_json_add_text(maker, object, "kind", KIND_KEY[node->kind]);
	rig_json_add_text(maker, object, "of", id_of(findings->coach, node));
	rig_json_add_text(maker, object, "name", rig_node_said(writer, findings, i));
	rig_json_add_text(maker, object, "leg", LEG[node->leg]);
	rig_json_add_truth(maker, object, "assumed", node->assumed);
	cJSON *loads = rig_json_add_array(maker, object, "loads");
	for (size_t j = 0; j < node->n_loads; j++)
		rig_json_add_text(maker, loads, NULL, findings->coach->loads[node->loads[j]].id);
}

static void put_edge(rig_writer *writer, cJSON *array, const rig_oneline_edge *edge)
{
	static const char *const GUARD[] = {NULL, "breaker", "fuse"};
	const rig_coach *coach = writer->coach;
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, array, NULL);
	rig_put_index(writer, object, "from", edge->from);
	rig_put_index(writer, object, "to", edge->to);
	rig_json_add_truth(maker, object, "both_ways", edge->both_ways);
	rig_json_add_truth(maker, object, "across", edge->across);
	rig_json_add_text(maker, object, "supply", edge->supply == RIG_DC ? "dc" : "ac");
	rig_json_add_text(maker, object, "guard", GUARD[edge->guard]);
	rig_put_index(writer, object, "poles", edge->poles);
	rig_put_figure(writer, object, "rating_a", edge->rating_a, "A");
	rig_put_figure(writer, object, "interrupt_a", edge->interrupt_a, "A");
	rig_json_add_truth(maker, object, "cable", edge->cable);
	rig_json_add_text(maker, object, "awg", edge->awg);
	rig_put_figure(writer, object, "length_m", edge->length_m, "m");
	rig_json_add_text(maker, object, "circuit",
		edge->circuit < 0 ? NULL : coach->circuits[edge->circuit].id);
	rig_json_add_text(
		maker, object, "wire", edge->wire < 0 ? NULL : coach->wires[edge->wire].id);
}

void rig_oneline_data(rig_writer *writer, const rig_oneline_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "oneline");
	cJSON *nodes = rig_json_add_array(maker, object, "nodes");
	for (size_t i = 0; i < findings->n_nodes; i++)
		put_node(writer, nodes, findings, i);
	cJSON *edges = rig_json_add_array(maker, object, "edges");
	for (size_t i = 0; i < findings->n_edges; i++)
		put_edge(writer, edges, &findings->edges[i]);
	rig_put_index(writer, object, "n_cables", (long)findings->n_cables);
	rig_put_index(writer, object, "n_cables_sized", (long)findings->n_cables_sized);
	rig_put_index(writer, object, "n_guards", (long)findings->n_guards);
	rig_put_index(writer, object, "n_guards_rated", (long)findings->n_guards_rated);
	cJSON *left = rig_json_add_array(maker, object, "wires_left");
	for (size_t i = 0; i < findings->n_wires_left; i++)
		rig_json_add_text(
			maker, left, NULL, writer->coach->wires[findings->wires_left[i]].id);
}
