/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one-line diagram of a coach: the drawing, what it lacks, and what it cannot be used for. */
#include "oneline_items.h"

enum { MOST_NAMED = 6 };

static bool has_mains(const rig_oneline_findings *findings)
{
	for (size_t i = 0; i < findings->n_nodes; i++)
		if (findings->nodes[i].kind == RIG_NODE_MAIN)
			return true;
	return false;
}

static size_t count_kind(const rig_oneline_findings *findings, rig_node_kind kind)
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_nodes; i++)
		n += findings->nodes[i].kind == kind;
	return n;
}

static const char *counted(rig_writer *writer, size_t n, const char *one, const char *many)
{
	return rig_said(writer, "%zu %s", n, n == 1 ? one : many);
}

static const char *share_said(rig_writer *writer, size_t n, size_t of)
{
	return n == 0 ? "none" : n == of ? "all" : rig_said(writer, "%zu", n);
}

static const char *sources_said(rig_writer *writer, const rig_oneline_findings *findings)
{
	const char *names[4];
	size_t n = 0;
	if (count_kind(findings, RIG_NODE_SHORE) > 0)
		names[n++] = "shore power";
	if (count_kind(findings, RIG_NODE_GENERATOR) > 0)
		names[n++] = "a generator";
	if (count_kind(findings, RIG_NODE_ARRAY) > 0)
		names[n++] = counted(writer, count_kind(findings, RIG_NODE_ARRAY), "solar array",
			"solar arrays");
	if (count_kind(findings, RIG_NODE_ALTERNATOR) > 0)
		names[n++] = "the engine's alternator";
	return n > 0 ? rig_joined(writer, n, names, n) : "no source that the file states";
}

void rig_oneline_answer(rig_writer *writer, const rig_oneline_findings *findings)
{
	size_t n_ac = 0;
	for (size_t i = 0; i < writer->coach->n_circuits; i++)
		n_ac += writer->coach->circuits[i].supply != RIG_DC;
	const size_t n_dc = writer->coach->n_circuits - n_ac;
	const char *verdict = rig_said(writer, "From %s to %s and %s, through %s.",
		sources_said(writer, findings), counted(writer, n_ac, "AC circuit", "AC circuits"),
		counted(writer, n_dc, "DC circuit", "DC circuits"),
		counted(writer, count_kind(findings, RIG_NODE_BANK), "battery bank",
			"battery banks"));
	const size_t no_size = findings->n_cables - findings->n_cables_sized;
	const size_t no_rating = findings->n_guards - findings->n_guards_rated;
	rig_telling telling = {0};
	if (no_size == 0 && no_rating == 0)
		rig_buffer_add(&telling.more,
			"Every wire drawn has a size, every breaker and fuse a rating.");
	else
		rig_buffer_format(&telling.more,
			"Of the %s drawn the file gives a size for %s; of the %s it gives a rating "
			"for %s.",
			counted(writer, findings->n_cables, "run of wire", "runs of wire"),
			share_said(writer, findings->n_cables_sized, findings->n_cables),
			counted(writer, findings->n_guards, "breaker or fuse",
				"breakers and fuses"),
			share_said(writer, findings->n_guards_rated, findings->n_guards));
	rig_tell(writer, RIG_PART_ONELINE, "How is the coach wired?", verdict, &telling);
}

void rig_oneline_figures(rig_writer *writer, const rig_oneline_findings *findings)
{
	const rig_diagram diagram = rig_oneline_items(writer, findings);
	if (diagram.n_items == 0)
		return;
	if (writer->sheet)
		rig_add_heading(writer->document, 2, "One-line diagram");
	rig_tell_more(writer, RIG_PART_ONELINE);
	rig_add_diagram(writer->document, &diagram);
}

/* Ends of lines that lack something, each once. */
static const char *lacking(
	rig_writer *writer, const rig_oneline_findings *findings, bool rating, size_t *n)
{
	const char **names = rig_arena_take(writer->arena, findings->n_edges, sizeof *names);
	*n = 0;
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < findings->n_edges; i++) {
		const rig_oneline_edge *edge = &findings->edges[i];
		const bool lacks =
			rating ? edge->guard != RIG_GUARD_NONE && !rig_figure_given(edge->rating_a)
			       : edge->cable && edge->awg == NULL;
		if (!lacks)
			continue;
		/* a bus is at the end of many: the other end tells more */
		const rig_node_kind to = findings->nodes[edge->to].kind;
		const bool upwards =
			to == RIG_NODE_DC_BUS || to == RIG_NODE_TRANSFER || to == RIG_NODE_MAIN;
		names[(*n)++] =
			rig_node_said(writer, findings, (size_t)(upwards ? edge->from : edge->to));
	}
	return rig_joined(writer, *n, names, MOST_NAMED);
}

void rig_oneline_next(rig_writer *writer, const rig_oneline_findings *findings)
{
	size_t n = 0;
	const char *names = lacking(writer, findings, true, &n);
	if (n > 0)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Read the ratings of the breakers and fuses of: %s.", names);
	names = lacking(writer, findings, false, &n);
	if (n > 0)
		rig_ask(writer, RIG_ASK_NARROWS, "Read the gauges printed on the wires of: %s.",
			names);
	for (size_t i = 0; i < findings->n_wires_left; i++) {
		const rig_wire *wire = &writer->coach->wires[findings->wires_left[i]];
		rig_ask(writer, RIG_ASK_ALSO,
			"Find out what \"%s\" joins: the file gives it neither a circuit nor a "
			"bank, so it "
			"is not drawn.",
			wire->name != NULL ? wire->name : wire->id);
	}
}

static void assume_combined(rig_writer *writer, const rig_oneline_findings *findings)
{
	if (count_kind(findings, RIG_NODE_INVERTER_CHARGER) > 0)
		rig_add_item(writer->document, "The inverter and the charger have one name and one "
					       "bank, so they are drawn as one unit.");
	if (count_kind(findings, RIG_NODE_INVERTER_BUS) > 0)
		rig_add_item(writer->document,
			"Circuits that the inverter feeds are drawn on a bus of their own. In the "
			"coach they may be a second panel or a part of the first.");
}

void rig_oneline_assumptions(rig_writer *writer, const rig_oneline_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document, "Symbols follow IEEE 315 and IEC 60617.");
	if (count_kind(findings, RIG_NODE_TRANSFER) > 0)
		rig_add_item(document,
			"A coach with a cord and a generator needs a transfer switch; "
			"one is drawn, though the file cannot describe it.");
	if (count_kind(findings, RIG_NODE_SHORE) > 0)
		rig_add_item(document, "The main breaker is taken to have the rating of the cord.");
	assume_combined(writer, findings);
	rig_add_item(document, "A fuse is drawn in each line from a bank, because each needs one; "
			       "where its rating "
			       "is not known, nobody has said that it is there.");
}

void rig_oneline_cautions(rig_writer *writer, const rig_oneline_findings *findings)
{
	rig_add_item(writer->document,
		"This drawing shows what was typed in. It is no record of how the coach is built "
		"and "
		"no plan for a permit: nobody may work by it before a licensed electrician or a "
		"certified technician has traced the wires and checked it.");
	rig_work_cautions(writer, has_mains(findings));
}
