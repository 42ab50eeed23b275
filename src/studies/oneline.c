/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/oneline.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "studies/oneline_graph.h"

/* What rig_oneline_free() gets back: findings stands first. */
typedef struct {
	rig_oneline_findings findings;
	rig_arena *arena;
} holder;

/* At most so many nodes stand for the single things of a coach: shore, generator, transfer,
 * manager, main, five AC buses, charger, inverter, its transfer and bus, what it feeds, alternator,
 * its charger, loads without a circuit on AC, and a DC bus without a bank with its loads. */
enum { MOST_SINGLE = 24, PER_BANK = 3, PER_ARRAY = 2 };

static size_t most_nodes(const rig_coach *coach)
{
	return MOST_SINGLE + coach->n_circuits + PER_BANK * coach->n_banks +
	       PER_ARRAY * coach->n_arrays + coach->n_wires;
}

int oneline_node(oneline_graph *graph, rig_node_kind kind, int of)
{
	rig_oneline_findings *findings = graph->findings;
	assert(findings->n_nodes < most_nodes(graph->coach));
	findings->nodes[findings->n_nodes] =
		(rig_oneline_node){.kind = kind, .of = of, .loads = graph->loads};
	return (int)findings->n_nodes++;
}

rig_oneline_edge *oneline_edge(oneline_graph *graph, int from, int to, rig_supply_kind supply)
{
	rig_oneline_findings *findings = graph->findings;
	assert(findings->n_edges < 2 * most_nodes(graph->coach));
	rig_oneline_edge *edge = &findings->edges[findings->n_edges++];
	*edge = (rig_oneline_edge){
		.from = from, .to = to, .supply = supply, .poles = 1, .circuit = -1, .wire = -1};
	return edge;
}

static int wire_of_circuit(const rig_coach *coach, int circuit)
{
	for (size_t i = 0; i < coach->n_wires; i++)
		if (coach->wires[i].circuit != NULL &&
			strcmp(coach->wires[i].circuit, coach->circuits[circuit].id) == 0)
			return (int)i;
	return -1;
}

void oneline_edge_wire(oneline_graph *graph, rig_oneline_edge *edge, int index)
{
	if (index < 0)
		return;
	const rig_wire *wire = &graph->coach->wires[index];
	edge->wire = index;
	edge->awg = wire->awg != NULL ? wire->awg : edge->awg;
	edge->length_m = wire->length_m;
	edge->interrupt_a = wire->interrupt_a;
	if (!rig_figure_given(edge->rating_a))
		edge->rating_a = wire->fuse_a;
	graph->wire_used[index] = true;
}

void oneline_edge_circuit(oneline_graph *graph, rig_oneline_edge *edge, int index)
{
	const rig_circuit *circuit = &graph->coach->circuits[index];
	edge->circuit = index;
	edge->cable = true;
	edge->guard = circuit->supply == RIG_DC ? RIG_GUARD_FUSE : RIG_GUARD_BREAKER;
	edge->poles = circuit->leg == RIG_LEG_BOTH && circuit->supply != RIG_DC ? 2 : 1;
	edge->rating_a = circuit->breaker_a;
	edge->awg = circuit->awg;
	oneline_edge_wire(graph, edge, wire_of_circuit(graph->coach, index));
}

int oneline_bank_wire(const oneline_graph *graph, int bank, rig_feeds feeds)
{
	const rig_coach *coach = graph->coach;
	for (size_t i = 0; bank >= 0 && i < coach->n_wires; i++) {
		const rig_wire *wire = &coach->wires[i];
		if (wire->bank != NULL && wire->feeds == feeds && !graph->wire_used[i] &&
			strcmp(wire->bank, coach->banks[bank].id) == 0)
			return (int)i;
	}
	return -1;
}

static bool belongs(const rig_load *load, int circuit, rig_supply_kind supply, int bank)
{
	if (circuit >= 0)
		return load->circuit_index == circuit;
	return load->circuit_index < 0 && (load->supply == RIG_DC) == (supply == RIG_DC) &&
	       (supply != RIG_DC || load->bank_index == bank);
}

size_t oneline_loads_of(
	oneline_graph *graph, int node, int circuit, rig_supply_kind supply, int bank)
{
	rig_oneline_node *into = &graph->findings->nodes[node];
	into->loads = &graph->loads[graph->n_loads];
	for (size_t i = 0; i < graph->coach->n_loads; i++)
		if (belongs(&graph->coach->loads[i], circuit, supply, bank))
			into->loads[into->n_loads++] = (int)i;
	graph->n_loads += into->n_loads;
	return into->n_loads;
}

/* One case holds both where they have one bank and one name; a charger behind the inverter is
 * another. */
static bool is_combined(const rig_coach *coach)
{
	const rig_inverter *inverter = &coach->inverter;
	const rig_charger *charger = &coach->charger;
	const bool behind = charger->circuit_index >= 0 &&
			    coach->circuits[charger->circuit_index].inverter == RIG_YES;
	return !behind && inverter->present && charger->present && inverter->bank_index >= 0 &&
	       inverter->bank_index == charger->bank_index && inverter->name != NULL &&
	       charger->name != NULL && strcmp(inverter->name, charger->name) == 0;
}

static void count(rig_oneline_findings *findings)
{
	for (size_t i = 0; i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		findings->n_cables += edge->cable;
		findings->n_cables_sized += edge->cable && edge->awg != NULL;
		findings->n_guards += edge->guard != RIG_GUARD_NONE;
		findings->n_guards_rated +=
			edge->guard != RIG_GUARD_NONE && rig_figure_given(edge->rating_a);
	}
}

/* Wires that stand for no line, leaving out the further ones of a circuit that is drawn. */
static bool list_wires_left(oneline_graph *graph)
{
	const rig_coach *coach = graph->coach;
	int *left = rig_arena_take(graph->arena, coach->n_wires, sizeof *left);
	if (left == NULL)
		return false;
	for (size_t i = 0; i < coach->n_wires; i++)
		if (!graph->wire_used[i] && coach->wires[i].circuit == NULL)
			left[graph->findings->n_wires_left++] = (int)i;
	graph->findings->wires_left = left;
	return true;
}

static bool make_room(oneline_graph *graph)
{
	const rig_coach *coach = graph->coach;
	const size_t most = most_nodes(coach);
	rig_oneline_findings *findings = graph->findings;
	findings->nodes = rig_arena_take(graph->arena, most, sizeof *findings->nodes);
	findings->edges = rig_arena_take(graph->arena, 2 * most, sizeof *findings->edges);
	/* each load hangs once on its circuit and may once hang on the inverter */
	graph->loads = rig_arena_take(graph->arena, 2 * coach->n_loads, sizeof *graph->loads);
	graph->dc_bus = rig_arena_take(graph->arena, coach->n_banks + 1, sizeof *graph->dc_bus);
	graph->wire_used = rig_arena_take(graph->arena, coach->n_wires, sizeof *graph->wire_used);
	return findings->nodes != NULL && findings->edges != NULL && graph->loads != NULL &&
	       graph->dc_bus != NULL && graph->wire_used != NULL;
}

rig_status rig_oneline_study(const rig_coach *completed, rig_oneline_findings **findings)
{
	holder *made = calloc(1, sizeof *made);
	if (made == NULL)
		return RIG_NO_MEMORY;
	made->arena = rig_arena_new();
	made->findings.coach = completed;
	oneline_graph graph = {.coach = completed,
		.arena = made->arena,
		.findings = &made->findings,
		.combined = is_combined(completed),
		.main = -1,
		.charger = -1,
		.inverter = -1,
		.transfer = -1,
		.inverter_bus = -1};
	if (made->arena == NULL || !make_room(&graph))
		goto fail;
	oneline_ac(&graph);
	oneline_dc(&graph);
	count(&made->findings);
	if (!list_wires_left(&graph))
		goto fail;
	*findings = &made->findings;
	return RIG_OK;
fail:
	rig_oneline_free(&made->findings);
	return RIG_NO_MEMORY;
}

void rig_oneline_free(rig_oneline_findings *findings)
{
	if (findings == NULL)
		return;
	holder *made = (holder *)findings;
	rig_arena_free(made->arena);
	free(made);
}

const char *rig_node_text(rig_node_kind kind)
{
	static const char *const TEXT[RIG_N_NODE_KINDS] = {"shore power", "generator",
		"transfer switch", "energy manager", "main breaker", "AC bus", "converter",
		"inverter", "inverter and charger", "transfer to the inverter",
		"bus on the inverter", "DC bus", "battery bank", "solar panels",
		"charge controller", "alternator", "alternator charger", "loads",
		"wire with an open end"};
	return TEXT[kind];
}
