/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The DC side of a one-line diagram: banks with what charges them and what they feed. */
#include "studies/oneline_graph.h"

/* The node of a bank's bus; -1 is the bus of what has no bank. */
static int bus_of(const oneline_graph *graph, int bank)
{
	return graph->dc_bus[bank < 0 ? (int)graph->coach->n_banks : bank];
}

/* A fused cable between a bus and something at the bank; wire -1: nobody describes it. */
static rig_oneline_edge *add_fused(oneline_graph *graph, int from, int to, int wire)
{
	rig_oneline_edge *edge = oneline_edge(graph, from, to, RIG_DC);
	edge->guard = RIG_GUARD_FUSE;
	edge->cable = true;
	oneline_edge_wire(graph, edge, wire);
	return edge;
}

static void add_array(oneline_graph *graph, int bus, int index, int wire)
{
	const rig_array *array = &graph->coach->arrays[index];
	const int panels = oneline_node(graph, RIG_NODE_ARRAY, index);
	int last = panels;
	if (array->controller != RIG_DIRECT) {
		last = oneline_node(graph, RIG_NODE_CONTROLLER, index);
		oneline_edge(graph, panels, last, RIG_DC);
	}
	add_fused(graph, last, bus, wire);
}

static void add_arrays(oneline_graph *graph, int bank)
{
	const rig_coach *coach = graph->coach;
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index == bank)
			add_array(graph, bus_of(graph, bank), (int)i,
				oneline_bank_wire(graph, bank, RIG_FEEDS_SOLAR));
}

/* Loads used through the inverter away from hookups, where no circuit is said to be. */
static void add_inverter_outlets(oneline_graph *graph, int inverter)
{
	const rig_coach *coach = graph->coach;
	const int node = oneline_node(graph, RIG_NODE_LOADS, -1);
	rig_oneline_node *loads = &graph->findings->nodes[node];
	loads->loads = &graph->loads[graph->n_loads];
	for (size_t i = 0; i < coach->n_loads; i++)
		if (coach->loads[i].supply != RIG_DC && coach->loads[i].inverter == RIG_YES)
			loads->loads[loads->n_loads++] = (int)i;
	graph->n_loads += loads->n_loads;
	if (loads->n_loads == 0)
		graph->findings->n_nodes--;
	else
		oneline_edge(graph, inverter, node, RIG_AC)->cable = true;
}

static void add_charger(oneline_graph *graph, int bank)
{
	if (graph->charger < 0 || graph->coach->charger.bank_index != bank)
		return;
	int wire = oneline_bank_wire(graph, bank, RIG_FEEDS_CHARGER);
	if (wire < 0 && graph->combined)
		wire = oneline_bank_wire(graph, bank, RIG_FEEDS_INVERTER);
	rig_oneline_edge *edge = add_fused(graph, graph->charger, bus_of(graph, bank), wire);
	edge->across = true;
	edge->both_ways = graph->combined;
	if (graph->combined && graph->inverter_bus < 0)
		add_inverter_outlets(graph, graph->charger);
}

static void add_inverter(oneline_graph *graph, int bank)
{
	const rig_coach *coach = graph->coach;
	if (!coach->inverter.present || coach->inverter.bank_index != bank || graph->combined)
		return;
	graph->inverter = oneline_node(graph, RIG_NODE_INVERTER, -1);
	add_fused(graph, bus_of(graph, bank), graph->inverter,
		oneline_bank_wire(graph, bank, RIG_FEEDS_INVERTER));
	if (graph->transfer < 0) {
		add_inverter_outlets(graph, graph->inverter);
		return;
	}
	rig_oneline_edge *edge = oneline_edge(graph, graph->inverter, graph->transfer, RIG_AC);
	edge->across = true;
	edge->cable = true;
}

static void add_loads(oneline_graph *graph, int bus, int bank)
{
	const rig_coach *coach = graph->coach;
	for (size_t i = 0; i < coach->n_circuits; i++) {
		const rig_circuit *circuit = &coach->circuits[i];
		if (circuit->supply != RIG_DC || circuit->bank_index != bank)
			continue;
		const int node = oneline_node(graph, RIG_NODE_LOADS, (int)i);
		oneline_loads_of(graph, node, (int)i, RIG_DC, bank);
		oneline_edge_circuit(graph, oneline_edge(graph, bus, node, RIG_DC), (int)i);
	}
	const int node = oneline_node(graph, RIG_NODE_LOADS, -1);
	if (oneline_loads_of(graph, node, -1, RIG_DC, bank) == 0)
		graph->findings->n_nodes--;
	else
		add_fused(graph, bus, node, -1);
}

/* Wires that start at the bank and lead nobody says where. */
static void add_wire_ends(oneline_graph *graph, int bank)
{
	for (int feeds = RIG_FEEDS_UNSAID; feeds <= RIG_FEEDS_SOLAR; feeds++) {
		for (;;) {
			const int wire = oneline_bank_wire(graph, bank, (rig_feeds)feeds);
			if (wire < 0)
				break;
			const int node = oneline_node(graph, RIG_NODE_WIRE_END, wire);
			add_fused(graph, bus_of(graph, bank), node, wire);
		}
	}
}

/* The chassis bank that the engine's alternator charges, if it is not the one that is charged. */
static int alternator_bank(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_banks; i++)
		if (coach->banks[i].role == RIG_CHASSIS && coach->dc_charger.bank_index != (int)i)
			return (int)i;
	return -1;
}

static void add_dc_charger(oneline_graph *graph)
{
	const rig_dc_charger *charger = &graph->coach->dc_charger;
	if (!charger->present)
		return;
	const int chassis = alternator_bank(graph->coach);
	const int alternator = oneline_node(graph, RIG_NODE_ALTERNATOR, -1);
	const int node = oneline_node(graph, RIG_NODE_DC_CHARGER, -1);
	if (chassis < 0) {
		oneline_edge(graph, alternator, node, RIG_DC);
	} else {
		oneline_edge(graph, alternator, graph->dc_bus[chassis], RIG_DC)->cable = true;
		add_fused(graph, graph->dc_bus[chassis], node,
			oneline_bank_wire(graph, chassis, RIG_FEEDS_DC_CHARGER));
	}
	add_fused(graph, node, bus_of(graph, charger->bank_index),
		oneline_bank_wire(graph, charger->bank_index, RIG_FEEDS_DC_CHARGER));
}

/* All that meets at a bank, or with -1 what has none. */
static void add_bank(oneline_graph *graph, int bank)
{
	const int bus = bus_of(graph, bank);
	add_arrays(graph, bank);
	add_charger(graph, bank);
	if (bank >= 0) {
		const int node = oneline_node(graph, RIG_NODE_BANK, bank);
		const int wire = oneline_bank_wire(graph, bank, RIG_FEEDS_PANEL);
		add_fused(graph, node, bus, wire)->both_ways = true;
	}
	add_inverter(graph, bank);
	add_loads(graph, bus, bank);
	add_wire_ends(graph, bank);
}

static bool any_source_without_bank(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index < 0)
			return true;
	return (coach->inverter.present && coach->inverter.bank_index < 0) ||
	       (coach->charger.present && coach->charger.bank_index < 0) ||
	       (coach->dc_charger.present && coach->dc_charger.bank_index < 0);
}

static bool any_load_without_bank(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_circuits; i++)
		if (coach->circuits[i].supply == RIG_DC && coach->circuits[i].bank_index < 0)
			return true;
	for (size_t i = 0; i < coach->n_loads; i++)
		if (coach->loads[i].supply == RIG_DC && coach->loads[i].circuit_index < 0 &&
			coach->loads[i].bank_index < 0)
			return true;
	return false;
}

void oneline_dc(oneline_graph *graph)
{
	const rig_coach *coach = graph->coach;
	const bool without = any_source_without_bank(coach) || any_load_without_bank(coach);
	for (size_t i = 0; i < coach->n_banks; i++)
		graph->dc_bus[i] = oneline_node(graph, RIG_NODE_DC_BUS, (int)i);
	if (without) {
		graph->dc_bus[coach->n_banks] = oneline_node(graph, RIG_NODE_DC_BUS, -1);
		graph->findings->nodes[graph->dc_bus[coach->n_banks]].assumed = true;
	}
	/* first, so that its wires are not taken for open ends */
	add_dc_charger(graph);
	for (size_t i = 0; i < coach->n_banks; i++)
		add_bank(graph, (int)i);
	if (without)
		add_bank(graph, -1);
}
