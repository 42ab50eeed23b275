/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The AC side of a one-line diagram: from shore power and generator down to the loads. */
#include "studies/oneline_graph.h"

enum { SPLIT_CORD_A = 50, N_LEGS = RIG_LEG_BOTH + 1 };

/* From left to right of a panel: one leg, both, the other, and those that nobody gives a leg. */
static const rig_leg ORDER[N_LEGS] = {RIG_LEG_1, RIG_LEG_BOTH, RIG_LEG_2, RIG_LEG_UNSAID};

static int cord_poles(const rig_coach *coach)
{
	return coach->cord_a == SPLIT_CORD_A ? 2 : 1;
}

static bool is_ac(const rig_circuit *circuit)
{
	return circuit->supply != RIG_DC;
}

/* Behind the inverter, away from hookups. */
static bool on_inverter(const rig_coach *coach, const rig_circuit *circuit)
{
	return coach->inverter.present && is_ac(circuit) && circuit->inverter == RIG_YES;
}

/* A cord of one hot has one bus, whatever a leg is called. */
static rig_leg leg_of(const rig_coach *coach, const rig_circuit *circuit)
{
	return cord_poles(coach) == 1 && coach->cord_a > 0 ? RIG_LEG_1 : circuit->leg;
}

/* The charger hangs on a leg without a circuit of its own. */
static bool charger_is_loose(const rig_coach *coach)
{
	const int circuit = coach->charger.circuit_index;
	return coach->charger.present && (circuit < 0 || !is_ac(&coach->circuits[circuit]));
}

/* The leg of what has no circuit. */
static rig_leg loose_leg(const rig_coach *coach)
{
	return coach->cord_a > 0 && cord_poles(coach) == 1 ? RIG_LEG_1 : RIG_LEG_UNSAID;
}

/* The next of a chain, on a cable behind what came before. */
static int chained(oneline_graph *graph, int before, rig_node_kind kind)
{
	const int node = oneline_node(graph, kind, -1);
	if (before >= 0)
		oneline_edge(graph, before, node, RIG_AC)->poles = cord_poles(graph->coach);
	return node;
}

static int add_generator(oneline_graph *graph, int shore)
{
	const int generator = oneline_node(graph, RIG_NODE_GENERATOR, -1);
	if (shore < 0)
		return generator;
	const int transfer = chained(graph, shore, RIG_NODE_TRANSFER);
	graph->findings->nodes[transfer].assumed = true;
	rig_oneline_edge *edge = oneline_edge(graph, generator, transfer, RIG_AC);
	edge->guard = RIG_GUARD_BREAKER;
	edge->cable = true;
	edge->poles = graph->coach->generator.two_hots == RIG_YES ? 2 : 1;
	return transfer;
}

static void add_main(oneline_graph *graph, int before)
{
	graph->main = chained(graph, before, RIG_NODE_MAIN);
	if (before < 0)
		return;
	rig_oneline_edge *edge = &graph->findings->edges[graph->findings->n_edges - 1];
	edge->guard = RIG_GUARD_BREAKER;
	edge->cable = true;
	if (graph->coach->cord_a > 0)
		edge->rating_a = rig_figure_of(graph->coach->cord_a, RIG_FROM_ESTIMATED);
}

/* Sources, transfer and manager, down to the main breaker. */
static void add_chain(oneline_graph *graph)
{
	const rig_coach *coach = graph->coach;
	int last = coach->cord_a > 0 ? oneline_node(graph, RIG_NODE_SHORE, -1) : -1;
	if (coach->generator.present)
		last = add_generator(graph, last);
	if (coach->energy_management.present)
		last = chained(graph, last, RIG_NODE_MANAGER);
	add_main(graph, last);
	/* the cord's copper is the line from the shore */
	if (coach->cord_a > 0) {
		rig_oneline_edge *cord = &graph->findings->edges[0];
		cord->cable = true;
		cord->awg = coach->cord_awg_usual ? NULL : coach->cord_awg;
		if (coach->cord_length_m.from != RIG_FROM_PROFILE)
			cord->length_m = coach->cord_length_m;
	}
}

static int add_bus(oneline_graph *graph, rig_leg leg)
{
	const int bus = oneline_node(graph, RIG_NODE_AC_BUS, -1);
	graph->findings->nodes[bus].leg = leg;
	oneline_edge(graph, graph->main, bus, RIG_AC);
	return bus;
}

/* The leg that all circuits behind the inverter share; both if they do not. */
static bool inverter_leg(const rig_coach *coach, rig_leg *leg)
{
	bool any = false;
	for (size_t i = 0; i < coach->n_circuits; i++) {
		if (!on_inverter(coach, &coach->circuits[i]))
			continue;
		const rig_leg own = leg_of(coach, &coach->circuits[i]);
		*leg = any && own != *leg ? RIG_LEG_BOTH : own;
		any = true;
	}
	return any;
}

static void add_circuit(oneline_graph *graph, int bus, int index)
{
	const rig_coach *coach = graph->coach;
	int node = -1;
	if (coach->charger.present && coach->charger.circuit_index == index) {
		node = oneline_node(graph,
			graph->combined ? RIG_NODE_INVERTER_CHARGER : RIG_NODE_CHARGER, index);
		graph->charger = node;
	} else {
		node = oneline_node(graph, RIG_NODE_LOADS, index);
	}
	oneline_loads_of(graph, node, index, RIG_AC, -1);
	oneline_edge_circuit(graph, oneline_edge(graph, bus, node, RIG_AC), index);
}

/* A feeder of which the file says nothing but what it feeds. */
static void add_feeder(oneline_graph *graph, int bus, int node, int poles)
{
	rig_oneline_edge *edge = oneline_edge(graph, bus, node, RIG_AC);
	edge->guard = RIG_GUARD_BREAKER;
	edge->cable = true;
	edge->poles = poles;
}

/* Does this leg have anything to carry but circuits? */
static bool leg_feeds_more(const oneline_graph *graph, rig_leg leg)
{
	const rig_coach *coach = graph->coach;
	rig_leg inverter = RIG_LEG_UNSAID;
	if (!graph->combined && inverter_leg(coach, &inverter) && inverter == leg)
		return true;
	if (leg != loose_leg(coach))
		return false;
	if (charger_is_loose(coach))
		return true;
	for (size_t i = 0; i < coach->n_loads; i++)
		if (coach->loads[i].supply != RIG_DC && coach->loads[i].circuit_index < 0)
			return true;
	return false;
}

/* What hangs on a leg without a circuit of its own. */
static void add_uncircuited(oneline_graph *graph, int bus)
{
	const rig_coach *coach = graph->coach;
	if (charger_is_loose(coach)) {
		graph->charger = oneline_node(
			graph, graph->combined ? RIG_NODE_INVERTER_CHARGER : RIG_NODE_CHARGER, -1);
		add_feeder(graph, bus, graph->charger, 1);
	}
	const int node = oneline_node(graph, RIG_NODE_LOADS, -1);
	if (oneline_loads_of(graph, node, -1, RIG_AC, -1) == 0)
		graph->findings->n_nodes--;
	else
		add_feeder(graph, bus, node, 1);
}

static void add_leg(oneline_graph *graph, rig_leg leg)
{
	const rig_coach *coach = graph->coach;
	bool any = leg_feeds_more(graph, leg);
	for (size_t i = 0; i < coach->n_circuits; i++)
		any = any ||
		      (is_ac(&coach->circuits[i]) && !on_inverter(coach, &coach->circuits[i]) &&
			      leg_of(coach, &coach->circuits[i]) == leg);
	if (!any)
		return;
	const int bus = add_bus(graph, leg);
	for (size_t i = 0; i < coach->n_circuits; i++) {
		const rig_circuit *circuit = &coach->circuits[i];
		if (is_ac(circuit) && !on_inverter(coach, circuit) && leg_of(coach, circuit) == leg)
			add_circuit(graph, bus, (int)i);
	}
	if (leg == loose_leg(coach))
		add_uncircuited(graph, bus);
	rig_leg inverter = RIG_LEG_UNSAID;
	if (graph->combined || !inverter_leg(coach, &inverter) || inverter != leg)
		return;
	graph->transfer = oneline_node(graph, RIG_NODE_INVERTER_TRANSFER, -1);
	graph->findings->nodes[graph->transfer].assumed = true;
	add_feeder(graph, bus, graph->transfer, leg == RIG_LEG_BOTH ? 2 : 1);
}

/* The panel behind the inverter: behind its transfer, or behind the one unit. */
static void add_inverter_bus(oneline_graph *graph)
{
	const rig_coach *coach = graph->coach;
	const int before = graph->combined ? graph->charger : graph->transfer;
	rig_leg leg = RIG_LEG_UNSAID;
	if (before < 0 || !inverter_leg(coach, &leg))
		return;
	const int bus = oneline_node(graph, RIG_NODE_INVERTER_BUS, -1);
	graph->inverter_bus = bus;
	graph->findings->nodes[bus].leg = leg;
	oneline_edge(graph, before, bus, RIG_AC);
	for (size_t i = 0; i < coach->n_circuits; i++)
		if (on_inverter(coach, &coach->circuits[i]))
			add_circuit(graph, bus, (int)i);
}

void oneline_ac(oneline_graph *graph)
{
	add_chain(graph);
	for (size_t i = 0; i < N_LEGS; i++)
		add_leg(graph, ORDER[i]);
	add_inverter_bus(graph);
}
