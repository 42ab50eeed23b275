/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The volts at the coach in words. */
#include "shore_words.h"

enum { MOST_ROWS = 14 };

static const char *const QUESTION = "How many volts reach the coach?";

static const rig_voltage_case *case_of(
	const rig_voltage_findings *findings, size_t set, size_t supply)
{
	return &findings->cases[set * findings->shore->n_supplies + supply];
}

static size_t focus_index(const rig_voltage_findings *findings)
{
	return (size_t)(rig_shore_focus_set(findings->shore) - findings->shore->sets);
}

static rig_figure lower_leg_v(const rig_voltage_state *state)
{
	return state->leg_v[state->low_leg];
}

static const char *volts_said(rig_writer *writer, rig_figure volts_v)
{
	const char *likely = rig_amount(writer->arena, volts_v.likely, 3, "V");
	if (volts_v.low >= volts_v.high)
		return likely;
	return rig_said(writer, "%s (%s to %s)", likely,
		rig_amount(writer->arena, volts_v.low, 3, ""),
		rig_amount(writer->arena, volts_v.high, 3, ""));
}

static const char *supply_said(rig_writer *writer, const rig_voltage_findings *findings, int supply)
{
	return rig_said(writer, "%.0f A", findings->shore->supplies[supply].pedestal->breaker_a);
}

/* How the volts are, as a clause that begins a sentence. */
static const char *judgement(const rig_voltage_state *state)
{
	if (state->range == RIG_VOLTS_LOW || state->compressor_low)
		return "Too few";
	if (state->range == RIG_VOLTS_HIGH)
		return "Too many";
	if (state->range == RIG_VOLTS_RANGE_B)
		return "Enough for a limited time only";
	if (state->at_low == RIG_VOLTS_LOW || state->compressor_may_be_low)
		return "Enough if the site's supply is as good as most";
	return "Enough";
}

static const char *verdict_said(
	rig_writer *writer, const rig_voltage_findings *findings, const rig_voltage_case *at)
{
	return rig_said(writer, "%s: with \"%s\" on, about %s reach the coach on %s.",
		judgement(&at->all), rig_shore_set_said(writer, &findings->shore->sets[at->set]),
		rig_amount(writer->arena, lower_leg_v(&at->all).likely, 3, "V"),
		supply_said(writer, findings, at->supply));
}

/* The load beyond the set that would pull the volts down most. */
static const rig_voltage_step *heaviest_more(const rig_voltage_case *at)
{
	const rig_voltage_step *heaviest = NULL;
	for (size_t i = 0; i < at->n_more; i++) {
		if (heaviest == NULL || at->more[i].drop_v > heaviest->drop_v)
			heaviest = &at->more[i];
	}
	return heaviest;
}

static void add_state(rig_writer *writer, rig_buffer *words, const rig_voltage_findings *findings,
	const rig_voltage_case *at)
{
	const rig_shore_budget *budget = &findings->shore->sets[at->set].budgets[at->supply];
	rig_buffer_format(words, " On %s there are %s%s", supply_said(writer, findings, at->supply),
		volts_said(writer, lower_leg_v(&at->all)),
		rig_figure_given(at->all.across_v) ? " on the lower of two legs" : "");
	if (budget->verdict > RIG_SHORE_DEPENDS)
		rig_buffer_add(words, ", as long as the breaker holds so much");
	rig_buffer_add(words, ".");
	/* of the first supply it is said already */
	if ((size_t)at->supply == rig_shore_own_supply(findings->shore))
		return;
	if (at->all.compressor_low)
		rig_buffer_format(words, " A compressor runs there below %s, which harms it.",
			rig_amount(writer->arena, RIG_COMPRESSOR_FLOOR_V, 3, "V"));
	else if (at->all.compressor_may_be_low)
		rig_buffer_format(words,
			" At the poor end a compressor would run below %s, which harms it.",
			rig_amount(writer->arena, RIG_COMPRESSOR_FLOOR_V, 3, "V"));
}

/* What low volts would do, as far as they may come. */
static void add_low(rig_writer *writer, rig_buffer *words, const rig_voltage_case *at)
{
	const char *floor = rig_amount(writer->arena, RIG_COMPRESSOR_FLOOR_V, 3, "V");
	if (at->all.compressor_low)
		rig_buffer_format(words, " A compressor needs %s; lower volts harm it.", floor);
	else if (at->all.compressor_may_be_low)
		rig_buffer_format(words,
			" On a poor site the volts may fall to %s. A compressor needs %s; lower "
			"volts "
			"harm it.",
			rig_amount(writer->arena, lower_leg_v(&at->all).low, 3, "V"), floor);
}

void rig_voltage_answer(rig_writer *writer, const rig_voltage_findings *findings)
{
	const rig_shore_findings *shore = findings->shore;
	if (rig_shore_everything(shore)->n_items == 0)
		return;
	const size_t set = focus_index(findings);
	const size_t own = rig_shore_own_supply(shore);
	rig_telling telling = {0};
	for (size_t i = own; i < rig_shore_asked_end(shore); i++)
		add_state(writer, &telling.more, findings, case_of(findings, set, i));
	const rig_voltage_case *at = case_of(findings, set, own);
	add_low(writer, &telling.first, at);
	const rig_voltage_step *more = heaviest_more(at);
	if (more != NULL)
		rig_buffer_format(&telling.more, " \"%s\" on top would take off another %s.",
			rig_loads_said(writer, more->added.load, more->added.count),
			rig_amount(writer->arena, more->drop_v, 2, "V"));
	if (findings->paths[own].source_ohm.from == RIG_FROM_PROFILE)
		rig_buffer_add(&telling.more,
			" How good the site's supply is, nobody has measured; "
			"that is most of the range.");
	rig_tell(writer, RIG_PART_VOLTAGE, QUESTION, verdict_said(writer, findings, at), &telling);
}

/* "116 (103 to 125), low": a cell of the table. */
static const char *cell_said(rig_writer *writer, const rig_voltage_state *state)
{
	const rig_figure volts_v = lower_leg_v(state);
	const char *mark = state->range == RIG_VOLTS_LOW || state->compressor_low ? ", low"
			   : state->range == RIG_VOLTS_HIGH                       ? ", high"
			   : state->range == RIG_VOLTS_RANGE_B                    ? ", weak"
										  : "";
	return rig_said(writer, "%s (%s to %s)%s", rig_amount(writer->arena, volts_v.likely, 3, ""),
		rig_amount(writer->arena, volts_v.low, 3, ""),
		rig_amount(writer->arena, volts_v.high, 3, ""), mark);
}

/* The step of a case that adds a load; NULL if it has none, as for one that is dead there. */
static const rig_voltage_step *step_of(size_t n, const rig_voltage_step *steps, int load)
{
	for (size_t i = 0; i < n; i++) {
		if (steps[i].added.load == load)
			return &steps[i];
	}
	return NULL;
}

/* A table in the making: one row a stage, one column a supply. */
typedef struct {
	rig_writer *writer;
	const rig_voltage_case *cases[RIG_SHORE_MOST_ASKED];
	size_t n_cases;
	const char *cells[MOST_ROWS * (1 + RIG_SHORE_MOST_ASKED)];
	size_t n_rows;
} volts_table;

static const char **next_row(volts_table *table)
{
	return &table->cells[table->n_rows++ * (1 + table->n_cases)];
}

static void put_small(volts_table *table)
{
	const char **row = next_row(table);
	row[0] = "the small loads only";
	for (size_t i = 0; i < table->n_cases; i++)
		row[1 + i] = cell_said(table->writer, &table->cases[i]->small);
}

/* The steps of a case within the set, or beyond it. */
static const rig_voltage_step *steps_of(const rig_voltage_case *at, bool beyond, size_t *n)
{
	*n = beyond ? at->n_more : at->n_steps;
	return beyond ? at->more : at->steps;
}

static void put_step(volts_table *table, const rig_voltage_step *first, bool beyond)
{
	const char **row = next_row(table);
	row[0] = rig_said(table->writer, beyond ? "all of these, and %s" : "and %s",
		rig_loads_said(table->writer, first->added.load, first->added.count));
	for (size_t i = 0; i < table->n_cases; i++) {
		size_t n = 0;
		const rig_voltage_step *steps = steps_of(table->cases[i], beyond, &n);
		const rig_voltage_step *step = step_of(n, steps, first->added.load);
		row[1 + i] = step == NULL ? "dead there" : cell_said(table->writer, &step->state);
	}
}

static void put_steps(volts_table *table, bool beyond)
{
	size_t n = 0;
	const rig_voltage_step *steps = steps_of(table->cases[0], beyond, &n);
	for (size_t i = 0; i < n && table->n_rows < MOST_ROWS; i++)
		put_step(table, &steps[i], beyond);
}

static void add_steps_table(rig_writer *writer, const rig_voltage_findings *findings)
{
	const rig_shore_findings *shore = findings->shore;
	const size_t set = focus_index(findings);
	const size_t own = rig_shore_own_supply(shore);
	volts_table table = {.writer = writer, .cases = {case_of(findings, set, own)}};
	rig_column columns[1 + RIG_SHORE_MOST_ASKED] = {{"switched on", "", RIG_ALIGN_LEFT}};
	for (size_t i = own; i < rig_shore_asked_end(shore) && table.n_cases < RIG_SHORE_MOST_ASKED;
		i++) {
		columns[1 + table.n_cases] = (rig_column){
			rig_said(writer, "on %s", supply_said(writer, findings, (int)i)), "V",
			RIG_ALIGN_RIGHT};
		table.cases[table.n_cases++] = case_of(findings, set, i);
	}
	put_small(&table);
	put_steps(&table, false);
	put_steps(&table, true);
	const rig_voltage_case *first = table.cases[0];
	const size_t n_all =
		1 + first->n_steps + first->n_steps_left + first->n_more + first->n_more_left;
	const rig_table made = {
		rig_said(writer, "Volts at the coach, one large load after another: \"%s\"",
			rig_shore_set_said(writer, &shore->sets[set])),
		1 + table.n_cases, table.n_rows, columns, table.cells};
	rig_add_table(writer->document, &made);
	if (n_all > table.n_rows)
		rig_add_paragraph(writer->document, "%zu more large loads are not in this table.",
			n_all - table.n_rows);
}

static void add_facts(rig_writer *writer, const rig_voltage_findings *findings)
{
	const size_t own = rig_shore_own_supply(findings->shore);
	const rig_voltage_path *path = &findings->paths[own];
	rig_document *document = writer->document;
	rig_add_fact(document, "Pedestal with nothing on",
		rig_said(writer, "%s, with %s behind it", volts_said(writer, path->open_v),
			rig_amount_full(writer->arena, path->source_ohm, "ohm")),
		rig_origin_said(path->source_ohm.from));
	rig_add_fact(document, "Cord and adapter",
		rig_said(writer, "%s, %s; lose %s at %s",
			rig_amount_length(writer->arena, path->total_m.likely, writer->units),
			rig_amount_full(writer->arena, path->cord_ohm, "ohm"),
			rig_amount(writer->arena,
				(path->total_ohm.likely - path->source_ohm.likely) *
					findings->shore->supplies[own].limit_a,
				2, "V"),
			rig_amount(writer->arena, findings->shore->supplies[own].limit_a, 3, "A")),
		rig_origin_said(path->cord_ohm.from));
	if (findings->neutral.given)
		rig_add_fact(document, "Neutral, everything on",
			rig_said(writer,
				"%s wired rightly; %s if both hots are on one phase; if the "
				"neutral "
				"breaks, the legs get %s and %s",
				rig_amount(
					writer->arena, findings->neutral.sound_neutral_a, 2, "A"),
				rig_amount(writer->arena, findings->neutral.same_phase_neutral_a, 3,
					"A"),
				rig_amount(writer->arena, findings->neutral.open_neutral_leg_v[0],
					2, "V"),
				rig_amount(writer->arena, findings->neutral.open_neutral_leg_v[1],
					2, "V")),
			"");
}

void rig_voltage_figures(rig_writer *writer, const rig_voltage_findings *findings)
{
	const rig_shore_findings *shore = findings->shore;
	if (rig_shore_everything(shore)->n_items == 0)
		return;
	rig_add_heading(writer->document, 3, "Voltage");
	rig_tell_more(writer, RIG_PART_VOLTAGE);
	add_facts(writer, findings);
	if (!writer->brief)
		add_steps_table(writer, findings);
}

void rig_voltage_next(rig_writer *writer, const rig_voltage_findings *findings)
{
	const rig_shore_findings *shore = findings->shore;
	if (rig_shore_everything(shore)->n_items == 0)
		return;
	const size_t own = rig_shore_own_supply(shore);
	const rig_voltage_case *at = case_of(findings, focus_index(findings), own);
	if (at->all.at_low != at->all.at_high)
		rig_ask_measures(writer, "the volts", at->n_measures, at->measures);
}

void rig_voltage_assumptions(rig_writer *writer, const rig_voltage_findings *findings)
{
	const rig_c84_limits *limits = &findings->utilization;
	rig_add_item(writer->document,
		"Volts are judged at the coach's panel by the ranges of ANSI C84.1 (%s) for "
		"equipment in use: %.0f to %.0f V as it should be, %.0f to %.0f V for a limited "
		"time; compressors by %.0f V, the trade's rule.",
		rig_c84_edition_text(findings->edition), limits->a_low_v, limits->a_high_v,
		limits->b_low_v, limits->b_high_v, RIG_COMPRESSOR_FLOOR_V);
	rig_add_item(writer->document,
		"Heat holds its resistance, electronics their power, motors their work, as the "
		"volts fall. Worn contacts, the coach's own wires and an extension cord are not "
		"counted: each takes off more.");
}

void rig_voltage_cautions(rig_writer *writer, const rig_voltage_findings *findings)
{
	rig_document *document = writer->document;
	rig_low_voltage_caution(writer);
	rig_add_item(document,
		"Adapters and plugs that run near their rating for hours get hot. Warm: shed load. "
		"Hot or brown: stop, and have it replaced. Never put one adapter behind another.");
	if (findings->neutral.given)
		rig_add_item(document,
			"If lights on one leg go bright while others go dim, the neutral is "
			"broken: "
			"switch the pedestal's breaker off at once, unplug, call a licensed "
			"electrician.");
}
