/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "oneline_items.h"

#include "diagram.h"

#include <string.h>

/* Items while they are put in order. */
typedef struct {
	rig_writer *writer;
	const rig_oneline_findings *findings;
	bool inverter_first; /* on the banks' sides: before what charges them */
	size_t n;
	rig_diagram_item *items;
	int *item_of;   /* of each node: the item it became, -1 before */
	int *across_at; /* of each node: the item that stands for its end of a line across */
} items;

static rig_symbol symbol_of(rig_node_kind kind)
{
	static const rig_symbol SYMBOL[RIG_N_NODE_KINDS] = {[RIG_NODE_SHORE] = RIG_SYMBOL_INLET,
		[RIG_NODE_GENERATOR] = RIG_SYMBOL_GENERATOR,
		[RIG_NODE_TRANSFER] = RIG_SYMBOL_TRANSFER,
		[RIG_NODE_MANAGER] = RIG_SYMBOL_MANAGER,
		[RIG_NODE_MAIN] = RIG_SYMBOL_BREAKER,
		[RIG_NODE_AC_BUS] = RIG_SYMBOL_BUS,
		[RIG_NODE_CHARGER] = RIG_SYMBOL_CONVERTER,
		[RIG_NODE_INVERTER] = RIG_SYMBOL_INVERTER,
		[RIG_NODE_INVERTER_CHARGER] = RIG_SYMBOL_INVERTER_CHARGER,
		[RIG_NODE_INVERTER_TRANSFER] = RIG_SYMBOL_TRANSFER,
		[RIG_NODE_INVERTER_BUS] = RIG_SYMBOL_BUS,
		[RIG_NODE_DC_BUS] = RIG_SYMBOL_BUS,
		[RIG_NODE_BANK] = RIG_SYMBOL_BATTERY,
		[RIG_NODE_ARRAY] = RIG_SYMBOL_SOLAR,
		[RIG_NODE_CONTROLLER] = RIG_SYMBOL_CONTROLLER,
		[RIG_NODE_ALTERNATOR] = RIG_SYMBOL_ALTERNATOR,
		[RIG_NODE_DC_CHARGER] = RIG_SYMBOL_CONTROLLER,
		[RIG_NODE_LOADS] = RIG_SYMBOL_LOADS,
		[RIG_NODE_WIRE_END] = RIG_SYMBOL_OPEN_END};
	return SYMBOL[kind];
}

static bool is_bus(rig_node_kind kind)
{
	return kind == RIG_NODE_AC_BUS || kind == RIG_NODE_INVERTER_BUS || kind == RIG_NODE_DC_BUS;
}

static bool is_stem(rig_node_kind kind)
{
	return kind == RIG_NODE_SHORE || kind == RIG_NODE_GENERATOR || kind == RIG_NODE_TRANSFER ||
	       kind == RIG_NODE_MANAGER || kind == RIG_NODE_MAIN;
}

static rig_diagram_item *added(items *list, int parent, rig_place_kind place)
{
	rig_diagram_item *item = &list->items[list->n++];
	*item = (rig_diagram_item){.parent = parent,
		.place = place,
		.rating = "",
		.rating_more = "",
		.size = "",
		.length = "",
		.name = "",
		.text = "",
		.joins = -1};
	return item;
}

static void put_line(items *list, rig_diagram_item *item, const rig_oneline_edge *edge)
{
	rig_writer *writer = list->writer;
	if (edge->guard != RIG_GUARD_NONE) {
		item->guard = edge->guard == RIG_GUARD_FUSE ? RIG_SYMBOL_FUSE : RIG_SYMBOL_BREAKER;
		item->rating = rig_figure_given(edge->rating_a)
				       ? rig_amount_likely(writer->arena, edge->rating_a, "A")
				       : "";
		if (edge->poles > 1)
			item->rating_more = rig_said(writer, "%d poles", edge->poles);
		else if (rig_figure_given(edge->interrupt_a))
			item->rating_more = rig_breaks_said(writer, edge->interrupt_a.likely);
	}
	if (edge->cable) {
		item->size = rig_cable_said(writer, edge);
		item->length = rig_length_said(writer, edge->length_m);
	}
}

/* The item of a node, its own words in it. */
static rig_diagram_item *added_node(items *list, int node, int parent, rig_place_kind place)
{
	const rig_oneline_node *row = &list->findings->nodes[node];
	list->item_of[node] = (int)list->n;
	list->across_at[node] = (int)list->n;
	rig_diagram_item *item = added(list, parent, place);
	item->symbol = symbol_of(row->kind);
	item->name = rig_node_said(list->writer, list->findings, (size_t)node);
	item->text = rig_node_text_said(list->writer, row);
	if (row->kind == RIG_NODE_CHARGER || row->kind == RIG_NODE_INVERTER_CHARGER)
		item->text = rig_charger_said(list->writer, row, item);
	return item;
}

static const rig_oneline_edge *edge_into(const rig_oneline_findings *findings, int node)
{
	for (size_t i = 0; i < findings->n_edges; i++)
		if (findings->edges[i].to == node && !findings->edges[i].across)
			return &findings->edges[i];
	return NULL;
}

/* The other node of a line that hangs on this one, -1 if it is placed already. */
static int hanging(const items *list, const rig_oneline_edge *edge, int node)
{
	if (edge->across || (edge->from != node && edge->to != node))
		return -1;
	const int other = edge->from == node ? edge->to : edge->from;
	return list->item_of[other] < 0 ? other : -1;
}

static void put_children(items *list, int node);

/* What charges or feeds through another box: a controller's panels, an alternator. */
static int upstream(const items *list, int node)
{
	const rig_oneline_edge *edge = edge_into(list->findings, node);
	return edge != NULL && list->item_of[edge->from] < 0 ? edge->from : -1;
}

/* A controller or alternator charger with what feeds it, on one row. */
static void put_through(items *list, const rig_oneline_edge *edge, int node, int bus)
{
	const rig_oneline_findings *findings = list->findings;
	const int source = upstream(list, node);
	if (source < 0 || is_bus(findings->nodes[source].kind)) {
		put_line(list, added_node(list, node, bus, RIG_PLACE_ROW), edge);
		put_children(list, node);
		return;
	}
	rig_diagram_item *item = added_node(list, node, bus, RIG_PLACE_ROW);
	item->via = item->symbol;
	item->symbol = symbol_of(findings->nodes[source].kind);
	if (findings->nodes[node].kind == RIG_NODE_CONTROLLER)
		item->text = rig_node_text_said(list->writer, &findings->nodes[source]);
	else
		item->name = rig_said(list->writer, "%s on the alternator", item->name);
	put_line(list, item, edge);
	list->item_of[source] = list->item_of[node];
}

/* The leg of a circuit behind an inverter that feeds both. */
static void put_leg(items *list, rig_diagram_item *row, const rig_oneline_edge *edge)
{
	const rig_oneline_node *bus = &list->findings->nodes[edge->from];
	if (bus->kind != RIG_NODE_INVERTER_BUS || bus->leg != RIG_LEG_BOTH || edge->circuit < 0)
		return;
	const rig_leg leg = list->writer->coach->circuits[edge->circuit].leg;
	if (leg == RIG_LEG_1 || leg == RIG_LEG_2)
		row->rating_more = leg == RIG_LEG_1 ? "on L1" : "on L2";
}

static void put_hanging(items *list, const rig_oneline_edge *edge, int node, int parent)
{
	const rig_node_kind kind = list->findings->nodes[node].kind;
	const rig_oneline_node *above = NULL;
	for (size_t i = 0; i < list->findings->n_nodes; i++)
		if (list->item_of[i] == parent)
			above = &list->findings->nodes[i];
	if (kind == RIG_NODE_CONTROLLER || kind == RIG_NODE_DC_CHARGER) {
		put_through(list, edge, node, parent);
		return;
	}
	if (is_bus(kind)) {
		rig_diagram_item *bus = added_node(list, node, parent, RIG_PLACE_BUS);
		if (edge->guard != RIG_GUARD_NONE) {
			put_line(list, bus, edge);
			bus->text = rig_said(list->writer, "from here to the charger: %s",
				rig_diagram_line_words(list->writer->arena, bus));
		}
	} else if (above != NULL && !is_bus(above->kind) && !is_stem(above->kind)) {
		/* rows hang on bars */
		rig_diagram_item *bar = added(list, parent, RIG_PLACE_BUS);
		bar->symbol = RIG_SYMBOL_BUS;
		bar->name = "Output of the inverter";
		put_line(list, added_node(list, node, (int)list->n - 1, RIG_PLACE_ROW), edge);
	} else {
		rig_diagram_item *row = added_node(list, node, parent, RIG_PLACE_ROW);
		put_line(list, row, edge);
		put_leg(list, row, edge);
	}
	put_children(list, node);
}

static bool feeds(const rig_oneline_findings *findings, int from, rig_node_kind kind)
{
	for (size_t i = 0; i < findings->n_edges; i++)
		if (findings->edges[i].from == from && !findings->edges[i].across &&
			findings->nodes[findings->edges[i].to].kind == kind)
			return true;
	return false;
}

/* Whether the inverter hangs here: itself, or on a bus beyond an alternator charger. */
static bool holds_inverter(const items *list, int node)
{
	if (node < 0)
		return false;
	const rig_node_kind kind = list->findings->nodes[node].kind;
	if (kind != RIG_NODE_DC_CHARGER)
		return kind == RIG_NODE_INVERTER;
	const int source = upstream(list, node);
	return source >= 0 && feeds(list->findings, source, RIG_NODE_INVERTER);
}

/* The end at a bank of a line across from what charges it. */
static void put_across(items *list, const rig_oneline_edge *edge)
{
	const int bus = list->item_of[edge->to];
	rig_diagram_item *item = added(list, bus, RIG_PLACE_ROW);
	item->name = rig_said(list->writer, "%s %s", edge->both_ways ? "To and from" : "From",
		rig_node_said(list->writer, list->findings, (size_t)edge->from));
	item->joins = list->across_at[edge->from];
	put_line(list, item, edge);
}

static void put_across_to(items *list, int node)
{
	for (size_t i = 0; i < list->findings->n_edges; i++) {
		const rig_oneline_edge *edge = &list->findings->edges[i];
		if (edge->across && edge->to == node && is_bus(list->findings->nodes[node].kind))
			put_across(list, edge);
	}
}

/* Everything that hangs on a node, in the graph's order but for the ends of lines across. */
static void put_children(items *list, int node)
{
	const rig_oneline_findings *findings = list->findings;
	const int parent = list->item_of[node];
	for (int turn = 0; turn < 2; turn++) {
		for (size_t i = 0; i < findings->n_edges; i++) {
			const rig_oneline_edge *edge = &findings->edges[i];
			const int other = hanging(list, edge, node);
			const bool first = list->inverter_first && holds_inverter(list, other);
			if (other < 0 || first != (turn == 0))
				continue;
			put_hanging(list, edge, other, parent);
		}
		if (turn == 0)
			put_across_to(list, node);
	}
}

/* A source tells of the cable that leaves it, the main breaker of itself. */
static void put_chain_line(
	items *list, rig_diagram_item *item, int node, const rig_oneline_edge *into)
{
	const rig_oneline_findings *findings = list->findings;
	if (findings->nodes[node].kind == RIG_NODE_MAIN && into != NULL) {
		put_line(list, item, into);
		if (findings->nodes[into->from].kind == RIG_NODE_SHORE)
			item->size = item->length = "";
		return;
	}
	for (size_t i = 0; into == NULL && i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		if (edge->from != node)
			continue;
		put_line(list, item, edge);
		if (findings->nodes[edge->to].kind == RIG_NODE_MAIN) {
			item->guard = RIG_SYMBOL_NONE;
			item->rating = item->rating_more = "";
		}
	}
}

/* Shore power, what stands beside it, and the chain to the main breaker. */
static void put_chain(items *list)
{
	const rig_oneline_findings *findings = list->findings;
	int last = -1;
	for (int i = 0; i < (int)findings->n_nodes && is_stem(findings->nodes[i].kind); i++) {
		/* the transfer is made before the generator's line: sources first */
		const rig_oneline_edge *edge = edge_into(findings, i);
		const bool beside = last >= 0 && edge == NULL;
		rig_diagram_item *item = added_node(
			list, i, beside ? -1 : last, beside ? RIG_PLACE_BESIDE : RIG_PLACE_STEM);
		put_chain_line(list, item, i, edge);
		if (!beside)
			last = list->item_of[i];
	}
}

/* The outermost bus that a bus hangs on: one from which an alternator charger feeds another hangs
 * below that charger. */
static int outermost(const rig_oneline_findings *findings, int bus)
{
	for (size_t i = 0; bus >= 0 && i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		if (edge->from != bus || findings->nodes[edge->to].kind != RIG_NODE_DC_CHARGER)
			continue;
		for (size_t j = 0; j < findings->n_edges; j++)
			if (findings->edges[j].from == edge->to)
				return findings->edges[j].to;
	}
	return bus;
}

/* The outermost buses of the inverter and of what charges from the panel; -1 for none. */
static void across_buses(const rig_oneline_findings *findings, int *inverter, int *charger)
{
	*inverter = *charger = -1;
	for (size_t i = 0; i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		if (findings->nodes[edge->to].kind == RIG_NODE_INVERTER)
			*inverter = outermost(findings, edge->from);
		if (edge->across && findings->nodes[edge->to].kind == RIG_NODE_DC_BUS)
			*charger = outermost(findings, edge->to);
	}
}

static void put_bank(items *list, int bus)
{
	if (bus < 0 || list->item_of[bus] >= 0)
		return;
	added_node(list, bus, -1, RIG_PLACE_BUS);
	put_children(list, bus);
}

static void put_banks(items *list)
{
	const rig_oneline_findings *findings = list->findings;
	int inverter = -1, charger = -1;
	across_buses(findings, &inverter, &charger);
	if (inverter >= 0 && charger >= 0 && inverter != charger)
		put_bank(list, list->inverter_first ? inverter : charger);
	for (int i = 0; i < (int)findings->n_nodes; i++)
		if (findings->nodes[i].kind == RIG_NODE_DC_BUS && outermost(findings, i) == i)
			put_bank(list, i);
}

/* The inverter's line to its transfer, told at the inverter. */
static void join_inverter(items *list)
{
	for (size_t i = 0; i < list->findings->n_edges; i++) {
		const rig_oneline_edge *edge = &list->findings->edges[i];
		if (edge->across && list->findings->nodes[edge->from].kind == RIG_NODE_INVERTER &&
			list->item_of[edge->from] >= 0)
			list->items[list->item_of[edge->from]].joins = list->item_of[edge->to];
	}
}

static bool put_all(items *list)
{
	const size_t n = list->findings->n_nodes;
	/* a bus may need a bar, a charger an end at its bank */
	list->items = rig_arena_take(list->writer->arena, 2 * n + 4, sizeof *list->items);
	list->item_of = rig_arena_take(list->writer->arena, n, sizeof *list->item_of);
	list->across_at = rig_arena_take(list->writer->arena, n, sizeof *list->across_at);
	if (list->items == NULL || list->item_of == NULL || list->across_at == NULL) {
		rig_document_fail(list->writer->document, RIG_NO_MEMORY);
		return false;
	}
	for (size_t i = 0; i < n; i++)
		list->item_of[i] = list->across_at[i] = -1;
	put_chain(list);
	for (int i = 0; i < (int)n; i++)
		if (list->findings->nodes[i].kind == RIG_NODE_MAIN)
			put_children(list, i);
	put_banks(list);
	join_inverter(list);
	return true;
}

/* Whether the line across at one item begins inside that of the other and ends outside. */
static bool takes_turns(const rig_diagram *diagram, int i, int j)
{
	const int a = diagram->items[i].joins, b = diagram->items[j].joins;
	if (a < 0 || b < 0)
		return false;
	const int top_a = a < i ? a : i, end_a = a < i ? i : a;
	const int top_b = b < j ? b : j, end_b = b < j ? j : b;
	return top_a < top_b && top_b < end_a && end_a < end_b;
}

size_t rig_oneline_ties_crossed(const rig_diagram *diagram)
{
	size_t n = 0;
	for (int i = 0; i < (int)diagram->n_items; i++)
		for (int j = 0; j < (int)diagram->n_items; j++)
			n += takes_turns(diagram, i, j);
	return n;
}

rig_diagram rig_oneline_items(rig_writer *writer, const rig_oneline_findings *findings)
{
	rig_diagram best = {
		.title = rig_said(writer, "One-line diagram: %s", rig_coach_said(writer)),
		.note = "Drawn from what the coach file states: not an as-built drawing, and not "
			"for a "
			"permit. One line stands for all conductors of a run; grounds, returns and "
			"what is inside a case are not drawn."};
	for (int turn = 0; turn < 2; turn++) {
		items list = {.writer = writer, .findings = findings, .inverter_first = turn == 1};
		if (!put_all(&list))
			return (rig_diagram){.title = "", .note = ""};
		rig_diagram trial = best;
		trial.n_items = list.n;
		trial.items = list.items;
		if (turn == 0 || rig_oneline_ties_crossed(&trial) < rig_oneline_ties_crossed(&best))
			best = trial;
	}
	return best;
}
