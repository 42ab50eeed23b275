/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a one-line diagram calls things, and what it says of them. */
#include <string.h>

#include "oneline_items.h"

enum { MOST_NAMED = 40, SPLIT_CORD_A = 50 };

static const char *volts_said(rig_leg leg, int cord_a)
{
	if (cord_a != SPLIT_CORD_A)
		return "120 V";
	switch (leg) {
	case RIG_LEG_1:
		return "L1, 120 V";
	case RIG_LEG_2:
		return "L2, 120 V";
	case RIG_LEG_BOTH:
		return "L1 and L2, 240 V";
	default:
		return "leg not stated, 120 V";
	}
}

static const char *loads_said(rig_writer *writer, const rig_oneline_node *node)
{
	const char **names = rig_arena_take(writer->arena, node->n_loads, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < node->n_loads; i++)
		names[i] = rig_loads_said(
			writer, node->loads[i], writer->coach->loads[node->loads[i]].count);
	return rig_joined(writer, node->n_loads, names, MOST_NAMED);
}

static const char *or_else(const char *name, const char *other)
{
	return name != NULL ? name : other;
}

static const char *bank_name(rig_writer *writer, int bank)
{
	const rig_bank *row = &writer->coach->banks[bank];
	return row->name != NULL ? row->name : rig_capital(writer, rig_bank_said(writer, bank));
}

/* Of a thing that the file has at most one of. */
static const char *single_said(rig_writer *writer, const rig_oneline_node *node)
{
	const rig_coach *coach = writer->coach;
	switch (node->kind) {
	case RIG_NODE_SHORE:
		return rig_said(writer, "Shore power, %d A", coach->cord_a);
	case RIG_NODE_GENERATOR:
		return or_else(coach->generator.name, "Generator");
	case RIG_NODE_TRANSFER:
		return "Transfer switch";
	case RIG_NODE_MANAGER:
		return or_else(coach->energy_management.name, "Energy manager");
	case RIG_NODE_MAIN:
		return "Main breaker of the AC panel";
	case RIG_NODE_CHARGER:
		return or_else(coach->charger.name, "Converter");
	case RIG_NODE_INVERTER:
	case RIG_NODE_INVERTER_CHARGER:
		return or_else(coach->inverter.name, "Inverter");
	case RIG_NODE_INVERTER_TRANSFER:
		return "Transfer to the inverter";
	case RIG_NODE_INVERTER_BUS:
		return "Bus on the inverter";
	case RIG_NODE_ALTERNATOR:
		return "Engine's alternator";
	case RIG_NODE_DC_CHARGER:
		return or_else(coach->dc_charger.name, "Alternator charger");
	default:
		return "";
	}
}

static bool is_behind_inverter(const rig_oneline_findings *findings, int node)
{
	for (size_t i = 0; i < findings->n_edges; i++) {
		const rig_node_kind from = findings->nodes[findings->edges[i].from].kind;
		if (findings->edges[i].to == node &&
			(from == RIG_NODE_INVERTER || from == RIG_NODE_INVERTER_CHARGER))
			return true;
	}
	return false;
}

const char *rig_node_said(rig_writer *writer, const rig_oneline_findings *findings, size_t index)
{
	const rig_oneline_node *node = &findings->nodes[index];
	const rig_coach *coach = writer->coach;
	switch (node->kind) {
	case RIG_NODE_AC_BUS:
		return rig_said(writer, "Bus %s", volts_said(node->leg, coach->cord_a));
	case RIG_NODE_DC_BUS:
		return node->of < 0 ? "DC bus, battery not stated"
				    : rig_said(writer, "DC bus of %s", bank_name(writer, node->of));
	case RIG_NODE_BANK:
		return bank_name(writer, node->of);
	case RIG_NODE_ARRAY:
	case RIG_NODE_CONTROLLER:
		return or_else(coach->arrays[node->of].name, "Solar panels");
	case RIG_NODE_LOADS:
		if (node->of >= 0)
			return rig_circuit_said(writer, node->of);
		return is_behind_inverter(findings, (int)index) ? "Loads used on the inverter"
								: "Loads without a circuit";
	case RIG_NODE_WIRE_END:
		return or_else(coach->wires[node->of].name, coach->wires[node->of].id);
	default:
		return single_said(writer, node);
	}
}

static const char *gauge_said(rig_writer *writer, const char *awg)
{
	return rig_said(writer, "%s AWG", awg);
}

const char *rig_cable_said(rig_writer *writer, const rig_oneline_edge *edge)
{
	return edge->awg == NULL ? "size not known" : gauge_said(writer, edge->awg);
}

const char *rig_length_said(rig_writer *writer, rig_figure length_m)
{
	return rig_figure_given(length_m)
		       ? rig_amount_length(writer->arena, length_m.likely, writer->units)
		       : "";
}

static const char *shore_text(rig_writer *writer)
{
	const rig_coach *coach = writer->coach;
	const char *supply = coach->cord_a == SPLIT_CORD_A ? "120/240 V" : "120 V";
	if (!rig_figure_given(coach->adapter_length_m) && coach->adapter_awg == NULL)
		return rig_said(writer, "%s, cord and inlet", supply);
	const char *length = rig_length_said(writer, coach->adapter_length_m);
	return rig_said(writer, "%s, cord and inlet; adapter or extension: %s%s%s", supply,
		coach->adapter_awg == NULL ? "size not known"
					   : gauge_said(writer, coach->adapter_awg),
		length[0] != '\0' ? ", " : "", length);
}

static const char *with_unit(rig_writer *writer, rig_figure figure, const char *unit)
{
	return rig_figure_given(figure) ? rig_amount_likely(writer->arena, figure, unit) : "";
}

static const char *generator_text(rig_writer *writer)
{
	static const char *const FUEL[] = {"", "gasoline", "diesel", "propane"};
	const rig_generator *generator = &writer->coach->generator;
	const char *watts = with_unit(writer, generator->watts_w, "W");
	const char *fuel = FUEL[generator->fuel];
	return rig_said(
		writer, "%s%s%s", watts, watts[0] != '\0' && fuel[0] != '\0' ? ", " : "", fuel);
}

/* As the batteries' labels have it, not as age has left them. */
static const char *capacity_said(rig_writer *writer, const rig_bank *bank)
{
	const bool several = bank->series > 1 || bank->parallel > 1;
	if (rig_figure_given(bank->capacity_ah))
		return with_unit(writer, bank->capacity_ah, several ? "Ah each" : "Ah");
	if (rig_figure_given(bank->reserve_minutes))
		return with_unit(writer, bank->reserve_minutes,
			several ? "minutes of reserve each" : "minutes of reserve");
	return with_unit(writer, bank->capacity_wh, "Wh");
}

static const char *bank_text(rig_writer *writer, const rig_bank *bank)
{
	const char *kind = bank->kind != NULL ? bank->kind->label : "kind not known";
	const char *capacity = capacity_said(writer, bank);
	const char *wired = "";
	if (bank->series > 1)
		wired = rig_said(
			writer, "; %d in series, %d in parallel", bank->series, bank->parallel);
	else if (bank->parallel > 1)
		wired = rig_said(writer, "; %d in parallel", bank->parallel);
	return rig_said(writer, "%s, %s%s%s%s", kind, with_unit(writer, bank->nominal_v, "V"),
		capacity[0] != '\0' ? ", " : "", capacity, wired);
}

static const char *array_text(rig_writer *writer, const rig_array *array)
{
	static const char *const KIND[] = {
		"", "plain (PWM) controller", "tracking (MPPT) controller", "no controller"};
	const char *limit = with_unit(writer, array->controller_limit_a, "A");
	const char *panels = array->count > 1
				     ? rig_said(writer, "%d panels, %s", array->count,
					       with_unit(writer, array->total_w, "W together"))
				     : with_unit(writer, array->total_w, "W");
	return rig_said(writer, "%s; %s%s%s", panels, KIND[array->controller],
		limit[0] != '\0' ? ", " : "", limit);
}

static const char *inverter_text(rig_writer *writer, bool charges)
{
	const char *watts = with_unit(writer, writer->coach->inverter.watts_w, "W");
	const char *amps = charges ? with_unit(writer, writer->coach->charger.amps_a, "A") : "";
	if (amps[0] == '\0')
		return watts;
	return rig_said(writer, "%s%scharges with %s", watts, watts[0] != '\0' ? "; " : "", amps);
}

const char *rig_node_text_said(rig_writer *writer, const rig_oneline_node *node)
{
	const rig_coach *coach = writer->coach;
	switch (node->kind) {
	case RIG_NODE_SHORE:
		return shore_text(writer);
	case RIG_NODE_GENERATOR:
		return generator_text(writer);
	case RIG_NODE_TRANSFER:
		return "between shore power and generator; the file does not describe it";
	case RIG_NODE_MANAGER:
		return "sheds loads; which circuits it switches is not drawn";
	case RIG_NODE_MAIN:
		return "rating taken from the cord";
	case RIG_NODE_CHARGER:
		return with_unit(writer, coach->charger.amps_a, "A out");
	case RIG_NODE_INVERTER:
	case RIG_NODE_INVERTER_CHARGER:
		return inverter_text(writer, node->kind == RIG_NODE_INVERTER_CHARGER);
	case RIG_NODE_INVERTER_TRANSFER:
		return "panel or inverter; the file does not describe it";
	case RIG_NODE_INVERTER_BUS:
		return "circuits that run away from hookups";
	case RIG_NODE_BANK:
		return bank_text(writer, &coach->banks[node->of]);
	case RIG_NODE_ARRAY:
		return array_text(writer, &coach->arrays[node->of]);
	case RIG_NODE_DC_CHARGER:
		return with_unit(writer, coach->dc_charger.amps_a, "A out");
	case RIG_NODE_LOADS:
		return node->n_loads > 0 ? loads_said(writer, node) : "no load stated";
	case RIG_NODE_WIRE_END:
		return "what it feeds is not stated";
	default:
		return "";
	}
}

const char *rig_breaks_said(rig_writer *writer, double interrupt_a)
{
	const bool thousands = interrupt_a >= 1000.0;
	return rig_said(writer, "breaks %s",
		rig_amount(writer->arena, thousands ? interrupt_a / 1000.0 : interrupt_a, 2,
			thousands ? "kA" : "A"));
}

/* What a charger gives, the name of its circuit where that is another, and what hangs there too. */
const char *rig_charger_said(
	rig_writer *writer, const rig_oneline_node *node, const rig_diagram_item *item)
{
	const char *parts[3];
	size_t n = 0;
	if (item->text[0] != '\0')
		parts[n++] = item->text;
	if (node->of >= 0 && strcmp(rig_circuit_said(writer, node->of), item->name) != 0)
		parts[n++] = rig_said(writer, "circuit: %s", rig_circuit_said(writer, node->of));
	if (node->n_loads > 0)
		parts[n++] = rig_said(writer, "also: %s", loads_said(writer, node));
	const char *text = n > 0 ? parts[0] : "";
	for (size_t i = 1; i < n; i++)
		text = rig_said(writer, "%s; %s", text, parts[i]);
	return text;
}
