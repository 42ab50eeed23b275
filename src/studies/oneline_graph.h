/* SPDX-License-Identifier: GPL-3.0-or-later */
/* oneline_graph.h: the graph of a one-line diagram while it grows. */
#ifndef STUDIES_ONELINE_GRAPH_H
#define STUDIES_ONELINE_GRAPH_H

#include "base/arena.h"
#include "rigbudget/oneline.h"

/* Room is made once, for all that a coach can need. */
typedef struct {
	const rig_coach *coach;
	rig_arena *arena;
	rig_oneline_findings *findings;
	int *loads;       /* room for lists of loads, handed out from its start */
	size_t n_loads;   /* handed out */
	bool combined;    /* inverter and charger are one unit */
	int main;         /* the AC panel's node; -1 without */
	int charger;      /* node of the charger or of the one unit; -1 without */
	int inverter;     /* node of a separate inverter; -1 without */
	int transfer;     /* node between panel and inverter; -1 without */
	int inverter_bus; /* node of the circuits behind the inverter; -1 without */
	int *dc_bus;      /* node of each bank's bus; one more for circuits without a bank */
	bool *wire_used;  /* each wire of the file: it stands for a line */
} oneline_graph;

/* Adds a node; its index. */
int oneline_node(oneline_graph *graph, rig_node_kind kind, int of);
/* Adds a line without a guard and without a cable, for the caller to fill; belongs to the graph. */
rig_oneline_edge *oneline_edge(oneline_graph *graph, int from, int to, rig_supply_kind supply);
/* Gives a line the rating, gauge and length of a circuit, or of a wire, as far as they are known.
 */
void oneline_edge_circuit(oneline_graph *graph, rig_oneline_edge *edge, int circuit);
void oneline_edge_wire(oneline_graph *graph, rig_oneline_edge *edge, int wire);
/* The wire from a bank that feeds something, -1 for none: the first that no line stands for yet. */
int oneline_bank_wire(const oneline_graph *graph, int bank, rig_feeds feeds);
/* Hangs loads on a node: those of a circuit, or with -1 those of the supply that have no circuit
 * and, on DC, draw on the bank. How many. */
size_t oneline_loads_of(
	oneline_graph *graph, int node, int circuit, rig_supply_kind supply, int bank);

/* All of the AC side, then all of the DC side with what joins the two. */
void oneline_ac(oneline_graph *graph);
void oneline_dc(oneline_graph *graph);

#endif
