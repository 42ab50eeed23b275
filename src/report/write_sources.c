/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Generator, inverter and starts in words. */
#include "shore_words.h"

enum { MOST_MOTORS = 5, MOST_FED = 10, SOURCE_COLUMNS = 4, START_COLUMNS = 6 };

static const char *const QUESTION = "What runs on its other sources, and does each motor start?";

static const char *source_said(rig_source_kind kind)
{
	return kind == RIG_SOURCE_GENERATOR ? "the generator" : "the inverter";
}

static const rig_other_set *focus_on(
	const rig_sources_findings *findings, const rig_other_source *source)
{
	return &source->sets[rig_shore_focus_set(findings->shore) - findings->shore->sets];
}

/* What a source does with the set that answers are about, as a sentence without its stop. */
static const char *set_on_said(
	rig_writer *writer, const rig_sources_findings *findings, const rig_other_source *source)
{
	const rig_other_set *set = focus_on(findings, source);
	const rig_shore_budget *budget = &set->budget;
	const char *name = rig_shore_set_said(writer, rig_shore_focus_set(findings->shore));
	const char *who = source_said(source->kind);
	if (budget->best.n_kept == 0)
		return rig_said(writer, "%s feeds nothing of \"%s\"", who, name);
	const char *fed = set->n_unfed == 0 ? rig_said(writer, "\"%s\"", rig_capital(writer, name))
					    : rig_said(writer, "%s's share of \"%s\"", who, name);
	if (budget->verdict <= RIG_SHORE_DEPENDS)
		return rig_said(writer, "%s fits%s%s", fed,
			set->n_unfed == 0 ? rig_said(writer, " on %s", who) : "",
			budget->verdict == RIG_SHORE_DEPENDS ? " if it draws as expected" : "");
	return rig_said(writer, "%s is too much%s; %s", fed,
		set->n_unfed == 0 ? rig_said(writer, " for %s", who) : "",
		rig_shore_off_said(writer, &budget->best));
}

/* The same for a cell of a table. */
static const char *set_in_cell(
	rig_writer *writer, const rig_sources_findings *findings, const rig_other_source *source)
{
	const rig_other_set *set = focus_on(findings, source);
	const rig_shore_budget *budget = &set->budget;
	if (budget->best.n_kept == 0)
		return "nothing of it";
	const char *part = set->n_unfed > 0 ? "a part of it; " : "";
	if (budget->verdict <= RIG_SHORE_DEPENDS)
		return rig_said(writer, "%s%s", part,
			budget->verdict == RIG_SHORE_FITS ? "fits" : "fits at likely draws only");
	return rig_said(writer, "%stoo much; %s", part, rig_shore_off_said(writer, &budget->best));
}

/* The start as the coach is fitted. */
static const rig_source_start *fitted(const rig_motor_start *motor, size_t i)
{
	return motor->soft_starter ? &motor->soft[i] : &motor->bare[i];
}

static const rig_source_start *own_start(
	const rig_sources_findings *findings, const rig_motor_start *motor)
{
	return fitted(motor, rig_shore_own_supply(findings->shore));
}

/* The answer in one sentence: the first source and the set, else the hardest start. */
static const char *verdict_said(rig_writer *writer, const rig_sources_findings *findings)
{
	if (findings->n_sources > 0) {
		const rig_other_source *source = &findings->sources[0];
		return rig_said(
			writer, "%s.", rig_capital(writer, set_on_said(writer, findings, source)));
	}
	const rig_motor_start *hardest = &findings->starts[0];
	return rig_said(writer, "\"%s\" is the hardest to start: it %s on %.0f A.",
		rig_load_said(writer, hardest->load),
		rig_start_verdict_text(own_start(findings, hardest)->verdict),
		findings->shore->supplies[rig_shore_own_supply(findings->shore)]
			.pedestal->breaker_a);
}

static void add_source(rig_writer *writer, rig_buffer *words, const rig_sources_findings *findings,
	const rig_other_source *source)
{
	rig_buffer_format(words, " %s gives about %s",
		rig_capital(writer, source_said(source->kind)),
		rig_amount(writer->arena, source->available_w.likely, 2, "W"));
	if (source->left_frac.likely < 0.995)
		rig_buffer_format(words, " of its %s%s",
			rig_amount(writer->arena, source->rated_w.likely, 2, "W"),
			rig_figure_given(findings->elevation_m)
				? rig_said(writer, " at %s and %s",
					  rig_amount_length(writer->arena,
						  findings->elevation_m.likely, writer->units),
					  rig_amount_temperature(writer->arena,
						  findings->air_c.likely, writer->units))
				: "");
	rig_buffer_add(words, ".");
}

static void add_start(
	rig_writer *writer, rig_telling *telling, const rig_sources_findings *findings)
{
	if (findings->n_starts == 0)
		return;
	const rig_motor_start *hardest = &findings->starts[0];
	const rig_source_start *start = own_start(findings, hardest);
	if (!start->fed)
		return;
	const char *name = rig_load_said(writer, hardest->load);
	if (findings->n_sources > 0)
		rig_buffer_format(&telling->first,
			" \"%s\" is the hardest to start: it %s on %.0f A.", name,
			rig_start_verdict_text(start->verdict),
			findings->shore->supplies[start->supply].pedestal->breaker_a);
	rig_buffer_format(&telling->more,
		" \"%s\" draws %s for a moment as it starts, and the volts dip to %s (%s at the "
		"poor end; makers ask for %s).",
		name, rig_amount(writer->arena, start->start_a.likely, 2, "A"),
		rig_amount(writer->arena, start->start_v.likely, 3, "V"),
		rig_amount(writer->arena, start->start_v.low, 3, ""),
		rig_amount(writer->arena, RIG_START_FLOOR_V, 4, "V"));
	if (!hardest->soft_starter)
		rig_buffer_format(&telling->more, " A soft starter would bring that to %s and %s.",
			rig_amount(
				writer->arena, hardest->soft[start->supply].start_a.likely, 2, "A"),
			rig_amount(writer->arena, hardest->soft[start->supply].start_v.likely, 3,
				"V"));
}

void rig_sources_answer(rig_writer *writer, const rig_sources_findings *findings)
{
	if (findings->n_sources == 0 && findings->n_starts == 0)
		return;
	rig_telling telling = {0};
	for (size_t i = 0; i < findings->n_sources; i++) {
		const rig_other_source *source = &findings->sources[i];
		add_source(writer, &telling.more, findings, source);
		if (i > 0)
			rig_buffer_format(&telling.first, " %s.",
				rig_capital(writer, set_on_said(writer, findings, source)));
	}
	add_start(writer, &telling, findings);
	rig_tell(writer, RIG_PART_SOURCES, QUESTION, verdict_said(writer, findings), &telling);
}

static const char *fed_said(rig_writer *writer, const rig_other_source *source)
{
	const char **names = rig_arena_take(writer->arena, source->n_loads, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < source->n_loads; i++)
		names[i] = rig_load_said(writer, source->loads[i]);
	return source->n_loads == 0 ? "nothing"
				    : rig_joined(writer, source->n_loads, names, MOST_FED);
}

static void add_sources_table(rig_writer *writer, const rig_sources_findings *findings)
{
	enum { MOST_SOURCES = 2 };
	const char *cells[MOST_SOURCES * SOURCE_COLUMNS];
	const rig_column columns[SOURCE_COLUMNS] = {{"source", "", RIG_ALIGN_LEFT},
		{"gives there", "W", RIG_ALIGN_RIGHT}, {"feeds", "", RIG_ALIGN_LEFT},
		{rig_said(writer, "\"%s\"",
			 rig_shore_set_said(writer, rig_shore_focus_set(findings->shore))),
			"", RIG_ALIGN_LEFT}};
	size_t n = 0;
	for (; n < findings->n_sources && n < MOST_SOURCES; n++) {
		const rig_other_source *source = &findings->sources[n];
		const char **row = &cells[n * SOURCE_COLUMNS];
		row[0] = source->kind == RIG_SOURCE_GENERATOR ? "Generator" : "Inverter";
		row[1] = rig_amount_full(writer->arena, source->available_w, "");
		row[2] = fed_said(writer, source);
		row[3] = set_in_cell(writer, findings, source);
	}
	const rig_table table = {"What the other sources run", SOURCE_COLUMNS, n, columns, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
}

/* "may not start; with a soft starter: starts". */
static const char *start_said(rig_writer *writer, const rig_motor_start *motor, size_t i)
{
	const rig_source_start *start = fitted(motor, i);
	if (!start->fed)
		return "not fed";
	const char *verdict = rig_start_verdict_text(start->verdict);
	if (motor->soft_starter || motor->soft[i].verdict == start->verdict)
		return verdict;
	return rig_said(writer, "%s; with a soft starter: %s", verdict,
		rig_start_verdict_text(motor->soft[i].verdict));
}

/* The columns of the table of starts: the supplies asked about, then the other sources. */
static size_t start_columns(const rig_sources_findings *findings, rig_writer *writer,
	size_t where[START_COLUMNS], rig_column columns[START_COLUMNS])
{
	const rig_shore_findings *shore = findings->shore;
	columns[0] = (rig_column){"motor", "", RIG_ALIGN_LEFT};
	columns[1] = (rig_column){"locked rotor", "A", RIG_ALIGN_RIGHT};
	size_t n = 2;
	for (size_t i = rig_shore_own_supply(shore); i < rig_shore_asked_end(shore); i++) {
		columns[n] = (rig_column){
			rig_said(writer, "on %.0f A", shore->supplies[i].pedestal->breaker_a), "",
			RIG_ALIGN_LEFT};
		where[n++] = i;
	}
	for (size_t i = 0; i < findings->n_sources && n < START_COLUMNS; i++) {
		columns[n] = (rig_column){
			rig_said(writer, "on %s", source_said(findings->sources[i].kind)), "",
			RIG_ALIGN_LEFT};
		where[n++] = shore->n_supplies + i;
	}
	return n;
}

static void add_starts_table(rig_writer *writer, const rig_sources_findings *findings)
{
	size_t where[START_COLUMNS];
	rig_column columns[START_COLUMNS];
	const size_t n_columns = start_columns(findings, writer, where, columns);
	const char *cells[MOST_MOTORS * START_COLUMNS];
	size_t n = 0;
	for (; n < findings->n_starts && n < MOST_MOTORS; n++) {
		const rig_motor_start *motor = &findings->starts[n];
		const char **row = &cells[n * n_columns];
		row[0] = rig_said(writer, "%s%s",
			rig_capital(writer, rig_load_said(writer, motor->load)),
			motor->soft_starter ? ", soft starter fitted" : "");
		row[1] = rig_amount_full(writer->arena, motor->locked_rotor_a, "");
		for (size_t i = 2; i < n_columns; i++)
			row[i] = start_said(writer, motor, where[i]);
	}
	const rig_table table = {
		"Starts, with what always draws running beside them", n_columns, n, columns, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
	if (findings->n_starts > n)
		rig_add_paragraph(writer->document,
			"%zu more motors that are easier to start are not in this table.",
			findings->n_starts - n);
}

void rig_sources_figures(rig_writer *writer, const rig_sources_findings *findings)
{
	if (findings->n_sources == 0 && findings->n_starts == 0)
		return;
	rig_add_heading(writer->document, 3, "Other sources and starts");
	rig_tell_more(writer, RIG_PART_SOURCES);
	if (writer->brief)
		return;
	add_sources_table(writer, findings);
	add_starts_table(writer, findings);
}

void rig_sources_next(rig_writer *writer, const rig_sources_findings *findings)
{
	if (findings->n_starts == 0)
		return;
	const rig_motor_start *hardest = &findings->starts[0];
	if (own_start(findings, hardest)->verdict == RIG_START_DEPENDS &&
		hardest->locked_rotor_a.from == RIG_FROM_PROFILE)
		rig_ask(writer, RIG_ASK_ALSO,
			"Read the locked rotor amps (LRA) on the label of \"%s\": whether it "
			"starts "
			"hangs on them.",
			rig_load_said(writer, hardest->load));
}

void rig_sources_assumptions(rig_writer *writer, const rig_sources_findings *findings)
{
	rig_document *document = writer->document;
	if (findings->n_sources > 0 && findings->sources[0].kind == RIG_SOURCE_GENERATOR)
		rig_add_item(document,
			rig_figure_given(findings->elevation_m)
				? "The generator's watts are less by its height above the sea and "
				  "the heat of the hottest month; its manual's rule governs."
				: "The generator's watts are less by heat; nobody has said how "
				  "high it stands, so sea level was taken.");
	if (findings->n_starts > 0)
		rig_add_item(document,
			"A start counts as sure only if it is so at the poor ends of volts, site "
			"and locked rotor amps.");
}

void rig_sources_cautions(rig_writer *writer, const rig_sources_findings *findings)
{
	bool generator = false;
	for (size_t i = 0; i < findings->n_sources; i++)
		generator = generator || findings->sources[i].kind == RIG_SOURCE_GENERATOR;
	if (findings->n_starts > 0)
		rig_add_item(writer->document,
			"A motor that hums and does not start must be switched off at once. A soft "
			"starter is fitted by a certified technician, by its maker's "
			"instructions.");
	if (findings->n_sources > 0)
		rig_add_item(writer->document,
			"Shore power, generator and inverter must never feed the same wires at "
			"once: a transfer switch or an interlock sees to that. A cord with two "
			"plugs kills.");
	if (generator)
		rig_generator_caution(writer);
}
