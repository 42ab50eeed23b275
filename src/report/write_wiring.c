/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

enum { MOST_NAMES = 8, RUN_COLUMNS = 7, LIMIT_COLUMNS = 3 };

static const char *const LIMIT_BRIEF[RIG_N_WIRE_LIMITS] = {"what is allowed at all", "voltage drop",
	"ampacity of the insulation", "temperature of the terminals",
	"largest fuse for a small wire"};

static const char *run_said(const rig_writer *writer, const rig_wiring_run *run)
{
	if (run->wire < 0)
		return rig_circuit_said(writer, run->circuit);
	const rig_wire *wire = &writer->coach->wires[run->wire];
	return wire->name != NULL ? wire->name : wire->id;
}

/* "4/0 AWG"; with the area for readers of SI. */
static const char *gauge_said(rig_writer *writer, int awg, double area_mm2)
{
	const char *gauge =
		awg > 0 ? rig_said(writer, "%d AWG", awg) : rig_said(writer, "%d/0 AWG", 1 - awg);
	if (writer->units == RIG_UNITS_US)
		return gauge;
	return rig_said(
		writer, "%s (%s)", gauge, rig_amount(writer->arena, area_mm2, 3, "mm\xc2\xb2"));
}

static const char *wire_said(rig_writer *writer, const rig_wire_rating *rating)
{
	return gauge_said(writer, rating->awg, rating->area_mm2);
}

static const char *fuse_word(const rig_wiring_run *run)
{
	return run->supply == RIG_AC ? "breaker" : "fuse";
}

/* Where a figure of the wire is from; what a file leaves out is assumed. */
static const char *origin_said(rig_figure figure)
{
	if (figure.from == RIG_FROM_STATED)
		return "as given";
	return figure.from == RIG_FROM_PROFILE ? "assumed" : rig_origin_said(figure.from);
}

static const char *amps(rig_writer *writer, double amps_a)
{
	return rig_amount(writer->arena, amps_a, 3, "A");
}

static const char *percent(rig_writer *writer, double frac)
{
	return rig_amount(writer->arena, 100.0 * frac, 2, "%");
}

static const char *percents(rig_writer *writer, rig_figure frac)
{
	return rig_amount_full(writer->arena,
		(rig_figure){.low = 100.0 * frac.low,
			.likely = 100.0 * frac.likely,
			.high = 100.0 * frac.high,
			.from = frac.from},
		"%");
}

/* "4 AWG with a 40 A fuse". */
static const char *choice_said(rig_writer *writer, const rig_wiring_run *run)
{
	return rig_said(writer, "%s with a %s %s", wire_said(writer, &run->choice.wire),
		amps(writer, run->choice.fuse_a), fuse_word(run));
}

/* The first rule of a run in a state; there is one. */
static rig_wiring_rule first_in(const rig_wiring_run *run, rig_wiring_state state)
{
	int rule = 0;
	while (run->state[rule] != state)
		rule++;
	return (rig_wiring_rule)rule;
}

static const char *remedy_said(rig_writer *writer, const rig_wiring_run *run)
{
	if (run->proposed || run->hopeless)
		return "";
	const rig_wiring_rule first = first_in(run, RIG_WIRING_FAILS);
	const bool fuse = first == RIG_WIRING_FUSE_LOAD || first == RIG_WIRING_FUSE_WIRE;
	if (fuse && run->suited_fuse_a > 0.0)
		return rig_said(writer, " On this wire and for this load a %s of %s would do.",
			fuse_word(run), amps(writer, run->suited_fuse_a));
	if (first == RIG_WIRING_INTERRUPT || first == RIG_WIRING_DISTANCE)
		return "";
	if (!run->chosen)
		return " No single wire up to 4/0 AWG would do.";
	return rig_said(writer, " What would do: %s.", choice_said(writer, run));
}

static const char *why_fuse_said(rig_writer *writer, const rig_wire_rating *rating)
{
	switch (rating->limited_by) {
	case RIG_BY_SMALL:
		return rig_said(writer, "the code gives so small a wire no more than %s",
			amps(writer, rating->fuse_limit_a));
	case RIG_BY_TERMINAL:
		return rig_said(
			writer, "its terminals bear %s", amps(writer, rating->fuse_limit_a));
	default:
		return rig_said(
			writer, "its insulation bears %s", amps(writer, rating->fuse_limit_a));
	}
}

static const char *drop_said(rig_writer *writer, const rig_wiring_run *run)
{
	if (run->hopeless)
		return rig_said(writer,
			"is more than a single wire and fuse can do, up to 4/0 AWG. A shorter run, "
			"a higher voltage or less load would help; cables in parallel are for an "
			"engineer to design.");
	return rig_said(writer, "loses %s, %s of %s; %s is the limit%s.",
		rig_amount_full(writer->arena, run->drop_v, "V"), percents(writer, run->drop_frac),
		rig_amount(writer->arena, run->volts_v, 3, "V"),
		percent(writer, run->drop_limit_frac),
		run->state[RIG_WIRING_DROP] == RIG_WIRING_FAILS ? ""
								: ", met if the doubt falls well");
}

static const char *fuse_load_said(rig_writer *writer, const rig_wiring_run *run)
{
	const bool hours = run->need_a.likely > run->amps_a.likely;
	if (run->state[RIG_WIRING_FUSE_LOAD] == RIG_WIRING_DEPENDS &&
		run->amps_from == RIG_AMPS_OF_CIRCUIT)
		return rig_said(writer,
			"has a %s %s for loads that ask for %s if all run at once; not all may.",
			amps(writer, run->fuse_a.likely), fuse_word(run),
			rig_amount_full(writer->arena, run->need_a, "A"));
	return rig_said(writer, "has a %s %s, and its load asks for %s%s.",
		amps(writer, run->fuse_a.likely), fuse_word(run),
		rig_amount_full(writer->arena, run->need_a, "A"),
		hours ? ", the part that runs for hours counted at 125 %" : "");
}

static const char *fuse_wire_said(rig_writer *writer, const rig_wiring_run *run)
{
	const rig_wire_rating *rating = &run->rating;
	if (run->state[RIG_WIRING_FUSE_WIRE] == RIG_WIRING_DEPENDS &&
		rating->rounded_a >= run->fuse_a.likely)
		return rig_said(writer,
			"has a %s %s above what it may carry (%s). As the next standard size that "
			"is allowed, but not for several outlets.",
			amps(writer, run->fuse_a.likely), fuse_word(run),
			why_fuse_said(writer, rating));
	if (run->largest_fuse_a <= 0.0)
		return rig_said(writer, "may have no %s at all as it lies: %s.", fuse_word(run),
			why_fuse_said(writer, rating));
	return rig_said(writer, "has a %s %s, and %s may have at most %s: %s.",
		amps(writer, run->fuse_a.likely), fuse_word(run), wire_said(writer, rating),
		amps(writer, run->largest_fuse_a), why_fuse_said(writer, rating));
}

static const char *interrupt_said(rig_writer *writer, const rig_wiring_run *run)
{
	return rig_said(writer,
		"has a %s that can break %s; shorted, the bank gives about %s, so %s is asked for.",
		fuse_word(run), amps(writer, run->interrupt_a.likely),
		rig_amount_full(writer->arena, run->short_circuit_a, "A"),
		amps(writer, run->interrupt_asked_a));
}

/* What a rule that does not plainly hold has to say, as the rest of a sentence about the run. */
static const char *rule_said(rig_writer *writer, const rig_wiring_run *run, rig_wiring_rule rule)
{
	switch (rule) {
	case RIG_WIRING_DROP:
		return drop_said(writer, run);
	case RIG_WIRING_AMPACITY:
		return rig_said(writer, "carries %s, and it bears %s at %s around it.",
			rig_amount_full(writer->arena, run->amps_a, "A"),
			amps(writer, run->rating.ampacity_a),
			rig_amount_temperature(
				writer->arena, run->ambient_c.likely, writer->units));
	case RIG_WIRING_FUSE_LOAD:
		return fuse_load_said(writer, run);
	case RIG_WIRING_FUSE_WIRE:
		return fuse_wire_said(writer, run);
	case RIG_WIRING_INTERRUPT:
		return interrupt_said(writer, run);
	default:
		return rig_said(writer,
			"has its fuse %s from the battery; up to there nothing protects it. "
			"18 inches (46 cm) is the most.",
			rig_amount_length(
				writer->arena, run->fuse_distance_m.likely, writer->units));
	}
}

static bool any_in(const rig_wiring_run *run, rig_wiring_state state)
{
	for (int rule = 0; rule < RIG_N_WIRING_RULES; rule++)
		if (run->state[rule] == state)
			return true;
	return false;
}

/* What a run carries and loses, and which fuses would do. */
static void add_carries(rig_writer *writer, rig_buffer *words, const rig_wiring_run *run)
{
	rig_buffer_format(words, "It carries %s", rig_amount_full(writer->arena, run->amps_a, "A"));
	if (rig_figure_given(run->length_m))
		rig_buffer_format(words, " over %s one way and loses %s, %s of %s; %s is the limit",
			rig_amount_length(writer->arena, run->length_m.likely, writer->units),
			rig_amount_full(writer->arena, run->drop_v, "V"),
			percents(writer, run->drop_frac),
			rig_amount(writer->arena, run->volts_v, 3, "V"),
			percent(writer, run->drop_limit_frac));
	else
		rig_buffer_add(words, "; without a length the voltage drop is not known, and it "
				      "often asks for a thicker wire");
	if (run->chosen)
		rig_buffer_format(words, ". For that load the %s has to be %s at least%s",
			fuse_word(run), amps(writer, run->choice.need_a),
			run->choice.need_a > run->amps_a.high
				? ", what runs for hours counted at 125 %"
				: "");
	rig_buffer_format(
		words, "; on this wire it may be %s at most.", amps(writer, run->largest_fuse_a));
}

/* One answer for a wire that is still to be named. */
static void answer_proposed(rig_writer *writer, const rig_wiring_run *run)
{
	rig_buffer words = {0};
	add_carries(writer, &words, run);
	const char *more = rig_said_buffer(writer, &words);
	rig_add_answer(writer->document,
		rig_said(writer, "Which wire and which %s for \"%s\"?", fuse_word(run),
			run_said(writer, run)),
		rig_said(writer, "%s. What decides: %s.", choice_said(writer, run),
			LIMIT_BRIEF[run->choice.decided_by]),
		"%s", more);
}

static const char *names_in(
	rig_writer *writer, const rig_wiring_findings *findings, rig_wiring_state state)
{
	const char **names = rig_arena_take(writer->arena, findings->n_runs, sizeof *names);
	size_t n = 0;
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < findings->n_runs; i++) {
		const rig_wiring_run *run = &findings->runs[i];
		if (!run->proposed && run->state[run->worst] == state)
			names[n++] = run_said(writer, run);
	}
	return rig_joined(writer, n, names, MOST_NAMES);
}

static size_t n_found_in(const rig_wiring_findings *findings, rig_wiring_state state)
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_runs; i++)
		n += !findings->runs[i].proposed &&
		     findings->runs[i].state[findings->runs[i].worst] == state;
	return n;
}

static size_t n_proposed(const rig_wiring_findings *findings)
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_runs; i++)
		n += findings->runs[i].proposed;
	return n;
}

/* One answer for all wires that are there. */
static void answer_found(rig_writer *writer, const rig_wiring_findings *findings)
{
	const size_t n = findings->n_runs - n_proposed(findings);
	const size_t n_fail = n_found_in(findings, RIG_WIRING_FAILS);
	const size_t n_ask = n_found_in(findings, RIG_WIRING_UNKNOWN);
	const char *verdict = "By the figures given, all keep the rules that were looked at.";
	if (n_fail > 0)
		verdict = rig_said(writer, "%zu of %zu %s a rule: %s.", n_fail, n,
			n_fail == 1 ? "breaks" : "break",
			names_in(writer, findings, RIG_WIRING_FAILS));
	else if (n_ask > 0)
		verdict = rig_said(writer,
			"None is known to break a rule, but too little is known of: %s.",
			names_in(writer, findings, RIG_WIRING_UNKNOWN));
	rig_buffer words = {0};
	for (size_t i = 0; i < findings->n_runs; i++) {
		const rig_wiring_run *run = &findings->runs[i];
		if (run->proposed || run->state[run->worst] != RIG_WIRING_FAILS)
			continue;
		rig_buffer_format(&words, "\"%s\" %s%s ", run_said(writer, run),
			rule_said(writer, run, first_in(run, RIG_WIRING_FAILS)),
			remedy_said(writer, run));
	}
	if (findings->n_runs == 1 && findings->runs[0].rated)
		add_carries(writer, &words, &findings->runs[0]);
	rig_add_answer(writer->document, "Do wire, fuse and load go together?", verdict, "%s",
		rig_said_buffer(writer, &words));
}

void rig_wiring_answer(rig_writer *writer, const rig_wiring_findings *findings)
{
	if (findings->n_runs == 0) {
		rig_add_answer(writer->document, "Do wire, fuse and load go together?",
			"The file names no wire and no gauge.", "%s",
			"Add wires to it, or gauges (awg) to its circuits.");
		return;
	}
	for (size_t i = 0; i < findings->n_runs; i++)
		if (findings->runs[i].proposed)
			answer_proposed(writer, &findings->runs[i]);
	if (n_proposed(findings) < findings->n_runs)
		answer_found(writer, findings);
}

static void fill_row(rig_writer *writer, const rig_wiring_run *run, const char **row)
{
	const bool fuse = rig_figure_given(run->fuse_a);
	row[0] = run_said(writer, run);
	row[1] = run->rated      ? wire_said(writer, &run->rating)
		 : run->hopeless ? "none does"
				 : "not known";
	row[2] = rig_figure_given(run->amps_a) ? rig_amount_full(writer->arena, run->amps_a, "")
					       : "";
	row[3] = fuse            ? rig_amount(writer->arena, run->fuse_a.likely, 3, "")
		 : run->proposed ? rig_amount(writer->arena, run->choice.fuse_a, 3, "")
				 : "";
	row[4] = run->rated ? rig_amount(writer->arena, run->largest_fuse_a, 3, "") : "";
	row[5] = rig_figure_given(run->drop_frac)
			 ? rig_said(writer, "%s of %s", percents(writer, run->drop_frac),
				   percent(writer, run->drop_limit_frac))
			 : "";
	row[6] = run->state[run->worst] <= RIG_WIRING_HOLDS
			 ? run->proposed ? "proposed" : "holds"
			 : rig_said(writer, "%s: %s", rig_wiring_rule_text(run->worst),
				   rig_wiring_state_text(run->state[run->worst]));
}

static void add_runs_table(rig_writer *writer, const rig_wiring_findings *findings)
{
	static const rig_column COLUMNS[RUN_COLUMNS] = {{"run", "", RIG_ALIGN_LEFT},
		{"wire", "", RIG_ALIGN_LEFT}, {"load", "A", RIG_ALIGN_RIGHT},
		{"fuse or breaker", "A", RIG_ALIGN_RIGHT},
		{"most it may have", "A", RIG_ALIGN_RIGHT}, {"drop", "", RIG_ALIGN_LEFT},
		{"worst", "", RIG_ALIGN_LEFT}};
	const char **cells =
		rig_arena_take(writer->arena, findings->n_runs * RUN_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < findings->n_runs; i++)
		fill_row(writer, &findings->runs[i], &cells[i * RUN_COLUMNS]);
	const rig_table table = {"Runs of wire", RUN_COLUMNS, findings->n_runs, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

/* What each limit alone would ask for. */
static void add_limits_table(rig_writer *writer, const rig_wiring_run *run)
{
	static const rig_column COLUMNS[LIMIT_COLUMNS] = {{"limit", "", RIG_ALIGN_LEFT},
		{"thinnest wire", "", RIG_ALIGN_LEFT}, {"", "", RIG_ALIGN_LEFT}};
	const char *cells[RIG_N_WIRE_LIMITS * LIMIT_COLUMNS];
	size_t n_rows = 0;
	for (int limit = 0; limit < RIG_N_WIRE_LIMITS; limit++) {
		const bool looked = (limit != RIG_BY_DROP || rig_figure_given(run->length_m)) &&
				    (limit != RIG_BY_TERMINAL || run->choice.wire.terminal_a > 0.0);
		if (!looked)
			continue;
		const int awg = run->choice.awg_by[limit];
		const char **row = &cells[n_rows++ * LIMIT_COLUMNS];
		row[0] = rig_capital(writer, LIMIT_BRIEF[limit]);
		row[1] = awg > 0 ? rig_said(writer, "%d AWG", awg)
				 : rig_said(writer, "%d/0 AWG", 1 - awg);
		row[2] = limit == (int)run->choice.decided_by ? "decides" : "";
	}
	const rig_table table = {
		rig_said(writer, "\"%s\": what each limit alone asks for", run_said(writer, run)),
		LIMIT_COLUMNS, n_rows, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

static void add_facts(rig_writer *writer, const rig_wiring_run *run)
{
	const rig_wire_rating *rating = &run->rating;
	rig_document *document = writer->document;
	rig_add_fact(document, "Insulation",
		rig_said(writer, "class of %s",
			rig_amount_temperature(writer->arena, rating->class_c, RIG_UNITS_SI)),
		origin_said(run->insulation_c));
	rig_add_fact(document, "Air around it",
		rig_amount_temperature(writer->arena, run->ambient_c.likely, writer->units),
		origin_said(run->ambient_c));
	rig_add_fact(document, "Ampacity",
		rig_said(writer,
			"%s by the table, x %s for heat, x %s for %d conductors together: "
			"%s",
			amps(writer, rating->table_a),
			rig_amount(writer->arena, rating->ambient_factor, 3, ""),
			rig_amount(writer->arena, rating->bundle_factor, 2, ""), run->bundle,
			amps(writer, rating->corrected_a)),
		"");
	if (rating->terminal_a > 0.0)
		rig_add_fact(document, "Its terminals bear", amps(writer, rating->terminal_a), "");
	rig_add_fact(document, "Copper under load",
		rig_amount_temperature(writer->arena, rating->copper_c, writer->units), "");
	if (rig_figure_given(run->short_circuit_a))
		rig_add_fact(document, "Its battery, shorted, gives",
			rig_amount_full(writer->arena, run->short_circuit_a, "A"),
			run->interrupt_asked_a < run->short_circuit_a.high
				? "a fuse of 20,000 A at 125 V is asked for above 10,000"
				: "");
}

static void add_states(rig_writer *writer, const rig_wiring_findings *findings,
	rig_wiring_state state, const char *head)
{
	bool open = false;
	for (size_t i = 0; i < findings->n_runs; i++) {
		const rig_wiring_run *run = &findings->runs[i];
		if (!any_in(run, state))
			continue;
		if (!open)
			rig_add_list(writer->document, head);
		open = true;
		for (int rule = 0; rule < RIG_N_WIRING_RULES; rule++)
			if (run->state[rule] == state)
				rig_add_item(writer->document, "\"%s\" %s", run_said(writer, run),
					rule_said(writer, run, (rig_wiring_rule)rule));
	}
}

void rig_wiring_figures(rig_writer *writer, const rig_wiring_findings *findings)
{
	if (findings->n_runs == 0)
		return;
	rig_add_heading(writer->document, 2, "Wires");
	add_runs_table(writer, findings);
	add_states(writer, findings, RIG_WIRING_FAILS, "What breaks a rule");
	add_states(writer, findings, RIG_WIRING_DEPENDS, "What holds under a condition");
	for (size_t i = 0; i < findings->n_runs; i++)
		if (findings->runs[i].proposed)
			add_limits_table(writer, &findings->runs[i]);
	if (findings->n_runs == 1 && findings->runs[0].rated)
		add_facts(writer, &findings->runs[0]);
}

static void ask_at_battery(rig_writer *writer, const rig_wiring_run *run, const char *name)
{
	if (run->state[RIG_WIRING_INTERRUPT] == RIG_WIRING_UNKNOWN)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Read the interrupt rating on the fuse of \"%s\", or ask its maker: %s.",
			name,
			run->interrupt_asked_a > 0.0
				? rig_said(writer, "it should be %s or more",
					  amps(writer, run->interrupt_asked_a))
				: "the battery's maker knows what a short circuit gives");
	if (run->fuse_each)
		rig_ask(writer, RIG_ASK_ALSO,
			"See whether each battery that \"%s\" starts from has a fuse of its own: "
			"of "
			"more than 500 Ah in parallel boats' rules ask for that beside the main "
			"one, since the others feed a battery that shorts inside.",
			name);
	if (run->state[RIG_WIRING_DISTANCE] == RIG_WIRING_UNKNOWN)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Measure the wire between the battery's terminal and the fuse of \"%s\".",
			name);
}

static void ask_about(rig_writer *writer, const rig_wiring_run *run)
{
	const char *name = run_said(writer, run);
	if (!rig_figure_given(run->length_m) && !run->hopeless)
		rig_ask(writer, RIG_ASK_DECIDES, "Measure the length of \"%s\", one way.", name);
	if (run->gauged && !run->rated && rig_figure_given(run->amps_a))
		rig_ask(writer, RIG_ASK_DECIDES,
			"Check the gauge of \"%s\": there is no ampacity table for %d AWG.", name,
			run->awg);
	else if (!run->gauged && !run->hopeless)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Read the gauge of \"%s\" off its insulation, or say what it carries.",
			name);
	else if (!rig_figure_given(run->amps_a))
		rig_ask(writer, RIG_ASK_DECIDES, "Find out what \"%s\" carries, or its %s.", name,
			fuse_word(run));
	if (run->state[RIG_WIRING_FUSE_WIRE] == RIG_WIRING_UNKNOWN && run->rated)
		rig_ask(writer, RIG_ASK_DECIDES, "Find the %s of \"%s\" and read its rating.",
			fuse_word(run), name);
	if (run->at_battery)
		ask_at_battery(writer, run, name);
	if (!run->proposed && run->state[run->worst] == RIG_WIRING_DEPENDS)
		rig_ask_measures(writer, "how full the wire is", run->n_measures, run->measures);
	if (run->rated && run->insulation_c.from == RIG_FROM_PROFILE)
		rig_ask(writer, RIG_ASK_NARROWS,
			"Read the temperature class printed on the insulation of \"%s\": the "
			"lowest, 60 \xc2\xb0"
			"C, was assumed.",
			name);
}

void rig_wiring_next(rig_writer *writer, const rig_wiring_findings *findings)
{
	for (size_t i = 0; i < findings->n_runs; i++)
		ask_about(writer, &findings->runs[i]);
}

static void assume_book(rig_writer *writer, const rig_wiring_findings *findings)
{
	bool low = false, mains = false;
	for (size_t i = 0; i < findings->n_runs; i++) {
		low |= findings->runs[i].supply == RIG_DC;
		mains |= findings->runs[i].supply == RIG_AC;
	}
	if (mains)
		rig_add_item(writer->document,
			"120 and 240 V: ampacities, corrections and protection by the US "
			"electrical "
			"code (NFPA 70, table 310.16 and section 240.4). Terminals are taken as 60 "
			"\xc2\xb0"
			"C up to 100 A unless they are marked higher.");
	if (low)
		rig_add_item(writer->document,
			"Low voltage: ampacities as for boats (33 CFR 183, ABYC E-11), by analogy; "
			"small wires have the smaller fuses of the code for recreational vehicles "
			"(NFPA 70, 551.10). Terminals are a limit only where their marking is "
			"given.");
}

void rig_wiring_assumptions(rig_writer *writer, const rig_wiring_findings *findings)
{
	rig_document *document = writer->document;
	assume_book(writer, findings);
	rig_add_item(document, "%s",
		findings->copper == RIG_COPPER_SAE
			? "The copper of a gauge is the least that vehicle wire may have (SAE "
			  "J1127 and J1128), 3 to 11 percent below the gauge's own area."
			: "The copper of a gauge is its own area. Vehicle wire sold by SAE size "
			  "may hold 3 to 11 percent less and loses so much more.");
	rig_add_item(document,
		"The drop is that of both conductors, stranded, at the temperature that the load "
		"gives them. Joints, switches and fuses add some 10 to 50 mV each.");
	rig_add_item(document, "A load is taken to run under three hours at a stretch unless it is "
			       "said to be continuous.");
	rig_add_item(document, "What a shorted battery gives is a range by its kind and size; age, "
			       "cold and its electronics lower it.");
}

/* Whether 120 or 240 V comes into it: a wire of it, or a coach that has a panel for it. */
static bool has_mains(const rig_writer *writer, const rig_wiring_findings *findings)
{
	for (size_t i = 0; i < findings->n_runs; i++)
		if (findings->runs[i].supply == RIG_AC)
			return true;
	for (size_t i = 0; i < writer->coach->n_circuits; i++)
		if (writer->coach->circuits[i].supply != RIG_DC)
			return true;
	return false;
}

void rig_wiring_cautions(rig_writer *writer, const rig_wiring_findings *findings)
{
	rig_work_cautions(writer, has_mains(writer, findings));
}
