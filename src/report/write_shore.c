/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shore_words.h"

enum { MOST_NAMES = 16, MOST_CHART_SETS = 3, RUN_COLUMNS = 3 };

static const char *const VERDICT_BRIEF[] = {
	"fits", "fits at likely draws only", "too much for hours on end", "too much"};

/* "a 50 A pedestal", "a 30 A adapter". */
static const char *supply_said(rig_writer *writer, const rig_shore_supply *supply)
{
	const double pedestal_a = supply->pedestal->breaker_a;
	if (!supply->adapter)
		return rig_said(writer, "a %.0f A pedestal", pedestal_a);
	if (supply->cord_limits)
		return rig_said(writer, "a %.0f A pedestal by adapter", pedestal_a);
	return rig_said(writer, "a %.0f A adapter", pedestal_a);
}

/* What the verdict leaves to say about a supply. */
static void add_verdict(rig_writer *writer, rig_buffer *words, const rig_shore_supply *supply,
	const rig_shore_budget *budget)
{
	const char *on = rig_said(writer, "On %.0f A", supply->pedestal->breaker_a);
	if (budget->verdict == RIG_SHORE_FITS)
		rig_buffer_format(words, " %s that leaves %s to spare.", on,
			rig_amount(writer->arena, budget->headroom_a.likely, 2, "A"));
	else if (budget->verdict == RIG_SHORE_DEPENDS)
		rig_buffer_format(
			words, " %s it is too much if the draws are at their high ends.", on);
	else if (budget->verdict == RIG_SHORE_OVER_CONTINUOUS)
		rig_buffer_format(words,
			" %s the breaker may hold that for a while, but not for three hours or "
			"more.",
			on);
	if (budget->verdict > RIG_SHORE_DEPENDS && budget->limiting == RIG_SHORE_CIRCUIT)
		rig_buffer_format(words, " %s the weak point is the circuit \"%s\": %s of %s.", on,
			rig_circuit_said(writer, budget->limiting_index),
			rig_amount(writer->arena, budget->limiting_flow.amps_a.likely, 3, "A"),
			rig_amount(writer->arena, budget->limiting_flow.limit_a, 3, "A"));
	if (budget->n_dead > 0)
		rig_buffer_format(words, " %s it does not run at all: %s, for want of 240 V.", on,
			rig_shore_items_said(writer, budget->n_dead, budget->dead));
}

static void add_remedy(rig_writer *writer, rig_buffer *words, const rig_shore_budget *budget)
{
	if (budget->verdict > RIG_SHORE_DEPENDS && budget->best.n_off > 0)
		rig_buffer_format(words, " %s: then the rest fits.",
			rig_capital(writer, rig_shore_off_said(writer, &budget->best)));
}

/* "about 46 A (22 to 56) of 50 A on the fuller of two legs. " */
static void add_draw(rig_writer *writer, rig_buffer *words, const rig_shore_supply *supply,
	const rig_shore_budget *budget)
{
	const rig_figure amps = budget->main.amps_a;
	rig_buffer_format(words, "about %s", rig_amount(writer->arena, amps.likely, 2, "A"));
	if (amps.low < amps.high)
		rig_buffer_format(words, " (%s)", rig_amount_range(writer->arena, amps, ""));
	rig_buffer_format(words, " of %s%s", rig_amount(writer->arena, supply->limit_a, 3, "A"),
		supply->n_hots == 2 ? " on the fuller of two legs." : ".");
}

/* "fits on 50 A", "does not fit on 30 A". */
static const char *fit_said(
	rig_writer *writer, const rig_shore_supply *supply, rig_shore_verdict verdict)
{
	static const char *const AFTER[] = {
		"", " if it draws as expected", ", but not for three hours", ""};
	return rig_said(writer, "%s on %.0f A%s",
		verdict == RIG_SHORE_OVER ? "does not fit" : "fits", supply->pedestal->breaker_a,
		AFTER[verdict]);
}

/* The answer about a set in one sentence. */
static const char *verdict_said(
	rig_writer *writer, const rig_shore_findings *findings, const rig_shore_set *set)
{
	const size_t own = rig_shore_own_supply(findings);
	const char *name = rig_capital(writer, rig_shore_set_said(writer, set));
	const char *first = fit_said(writer, &findings->supplies[own], set->budgets[own].verdict);
	if (own + 1 >= findings->n_supplies)
		return rig_said(writer, "\"%s\" %s.", name, first);
	if (set->budgets[own].verdict == RIG_SHORE_OVER &&
		set->budgets[own + 1].verdict == RIG_SHORE_OVER)
		return rig_said(writer, "\"%s\" fits neither on %.0f A nor on %.0f A.", name,
			findings->supplies[own].pedestal->breaker_a,
			findings->supplies[own + 1].pedestal->breaker_a);
	return rig_said(writer, "\"%s\" %s; it %s.", name, first,
		fit_said(writer, &findings->supplies[own + 1], set->budgets[own + 1].verdict));
}

void rig_shore_answer(rig_writer *writer, const rig_shore_findings *findings)
{
	const char *question = "What does it draw on shore power, and what runs together?";
	const rig_shore_set *everything = rig_shore_everything(findings);
	if (everything->n_items == 0) {
		rig_add_answer(writer->document, question,
			"Nothing that runs on shore power is listed for this coach.", "%s", "");
		return;
	}
	const rig_shore_set *set = rig_shore_focus_set(findings);
	const size_t own = rig_shore_own_supply(findings);
	rig_telling telling = {0};
	const size_t end = own + 2 < findings->n_supplies ? own + 2 : findings->n_supplies;
	for (size_t i = own; i < end; i++) {
		rig_buffer_format(&telling.first, " On %s it draws ",
			supply_said(writer, &findings->supplies[i]));
		add_draw(writer, &telling.first, &findings->supplies[i], &set->budgets[i]);
		add_remedy(writer, &telling.first, &set->budgets[i]);
		add_verdict(writer, &telling.more, &findings->supplies[i], &set->budgets[i]);
	}
	if (set != everything && everything->budgets[own].verdict > RIG_SHORE_DEPENDS)
		rig_buffer_add(&telling.more,
			" Not everything on board can run at once, even on the coach's own cord.");
	rig_tell(writer, RIG_PART_SHORE, question, verdict_said(writer, findings, set), &telling);
	if (writer->run >= 0)
		rig_shore_run_answer(writer, findings);
}

static rig_bar_state state_of(rig_shore_verdict verdict)
{
	if (verdict == RIG_SHORE_FITS)
		return RIG_BAR_HOLDS;
	return verdict == RIG_SHORE_DEPENDS ? RIG_BAR_CLOSE : RIG_BAR_FAILS;
}

static rig_span span_of(rig_figure figure)
{
	return (rig_span){figure.low, figure.likely, figure.high};
}

/* One bar for a single hot, two for two legs. */
static size_t add_bars(rig_writer *writer, const rig_shore_findings *findings,
	const rig_shore_set *set, size_t supply_index, rig_bar *bars)
{
	const rig_shore_supply *supply = &findings->supplies[supply_index];
	const rig_shore_budget *budget = &set->budgets[supply_index];
	const double pedestal_a = supply->pedestal->breaker_a;
	const bool two = supply->n_hots == 2;
	const size_t n = two ? 2 : 1;
	for (size_t i = 0; i < n; i++) {
		const rig_shore_flow *flow = two ? &budget->leg[i] : &budget->main;
		const bool hours = flow->verdict == RIG_SHORE_OVER_CONTINUOUS;
		bars[i] = (rig_bar){.group = rig_capital(writer, rig_shore_set_said(writer, set)),
			.label = two ? rig_said(writer, "%.0f A, leg %zu", pedestal_a, i + 1)
				     : rig_said(writer, "%.0f A", pedestal_a),
			.value = span_of(flow->amps_a),
			.limit = supply->limit_a,
			.state = state_of(flow->verdict),
			.note = hours ? "too much for hours" : ""};
	}
	return n;
}

static void add_limits_chart(rig_writer *writer, const rig_shore_findings *findings)
{
	const size_t most = 2 * findings->n_sets * findings->n_supplies;
	rig_bar *bars = rig_arena_take(writer->arena, most, sizeof *bars);
	if (bars == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0, n_others = 0;
	for (size_t i = 0; i < findings->n_sets; i++) {
		/* the first sets and, always, everything */
		if (findings->sets[i].kind != RIG_SHORE_SET_EVERYTHING &&
			n_others++ >= MOST_CHART_SETS - 1)
			continue;
		for (size_t j = rig_shore_own_supply(findings); j < rig_shore_asked_end(findings);
			j++)
			n += add_bars(writer, findings, &findings->sets[i], j, &bars[n]);
	}
	const rig_chart chart = {.kind = RIG_CHART_LIMITS,
		.title = "Amps on each supply against its limit",
		.quantity = "current",
		.unit = "A",
		.state_text = {"", "fits", "fits at likely draws only", "too much"},
		.n_bars = n,
		.bars = bars};
	rig_add_chart(writer->document, &chart);
}

/* What a set needs on a supply: nothing, or things turned off. */
static const char *cure_said(rig_writer *writer, const rig_shore_budget *budget)
{
	if (budget->verdict <= RIG_SHORE_DEPENDS)
		return VERDICT_BRIEF[budget->verdict];
	return rig_said(writer, "%s; %s", VERDICT_BRIEF[budget->verdict],
		rig_shore_off_said(writer, &budget->best));
}

static void add_sets_table(rig_writer *writer, const rig_shore_findings *findings)
{
	const size_t own = rig_shore_own_supply(findings);
	const size_t n_asked = rig_shore_asked_end(findings) - own;
	const size_t n_columns = 1 + n_asked;
	rig_column columns[1 + RIG_SHORE_MOST_ASKED] = {{"running at once", "", RIG_ALIGN_LEFT}};
	for (size_t i = 0; i < n_asked; i++)
		columns[1 + i] =
			(rig_column){rig_said(writer, "on %.0f A",
					     findings->supplies[own + i].pedestal->breaker_a),
				"", RIG_ALIGN_LEFT};
	const char **cells =
		rig_arena_take(writer->arena, findings->n_sets * n_columns, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	const char **cell = cells;
	for (size_t i = 0; i < findings->n_sets; i++) {
		const rig_shore_set *set = &findings->sets[i];
		*cell++ = rig_capital(writer, rig_shore_set_said(writer, set));
		for (size_t j = 0; j < n_asked; j++)
			*cell++ = cure_said(writer, &set->budgets[own + j]);
	}
	const rig_table table = {"What does not fit, and what to turn off so that the rest does",
		n_columns, findings->n_sets, columns, cells};
	rig_add_table(writer->document, &table);
}

/* What each supply can run at once, out of everything on board. */
static void add_runs_table(rig_writer *writer, const rig_shore_findings *findings)
{
	static const rig_column COLUMNS[RUN_COLUMNS] = {{"supply", "", RIG_ALIGN_LEFT},
		{"what can run at once, most important first", "", RIG_ALIGN_LEFT},
		{"together", "W", RIG_ALIGN_RIGHT}};
	const rig_shore_set *everything = rig_shore_everything(findings);
	const size_t own = rig_shore_own_supply(findings);
	const size_t n_rows = findings->n_supplies - own;
	const char **cells = rig_arena_take(writer->arena, n_rows * RUN_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n_rows; i++) {
		const rig_shore_choice *best = &everything->budgets[own + i].best;
		const char **row = &cells[i * RUN_COLUMNS];
		row[0] =
			rig_said(writer, "%.0f A", findings->supplies[own + i].pedestal->breaker_a);
		row[1] = best->n_off == 0 ? "everything"
					  : rig_shore_items_said(writer, best->n_kept, best->kept);
		row[2] = rig_amount(writer->arena, best->watts_w.likely, 2, "");
	}
	const rig_table table = {"What runs together", RUN_COLUMNS, n_rows, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

static void add_full_circuits(rig_writer *writer, const rig_shore_findings *findings)
{
	const rig_shore_set *everything = rig_shore_everything(findings);
	const rig_shore_budget *budget = &everything->budgets[rig_shore_own_supply(findings)];
	if (budget->n_circuits_over == 0)
		return;
	rig_add_list(writer->document, "Circuits that cannot carry all that is on them at once");
	for (size_t i = 0; i < budget->n_circuits; i++) {
		const rig_shore_circuit *circuit = &budget->circuits[i];
		if (circuit->flow.verdict < RIG_SHORE_OVER_CONTINUOUS)
			continue;
		rig_add_item(writer->document, "%s: %s of %s, %s",
			rig_circuit_said(writer, circuit->circuit),
			rig_amount_full(writer->arena, circuit->flow.amps_a, "A"),
			rig_amount(writer->arena, circuit->flow.limit_a, 3, "A"),
			VERDICT_BRIEF[circuit->flow.verdict]);
	}
}

static void add_facts(rig_writer *writer, const rig_shore_findings *findings)
{
	const rig_shore_supply *own = &findings->supplies[rig_shore_own_supply(findings)];
	const rig_shore_set *everything = rig_shore_everything(findings);
	const rig_shore_budget *budget = &everything->budgets[rig_shore_own_supply(findings)];
	rig_document *document = writer->document;
	rig_add_fact(document, "Cord",
		rig_said(writer, "%d A, %s V, up to %s VA", writer->coach->cord_a,
			own->n_hots == 2 ? "120/240" : "120",
			rig_amount(writer->arena, own->va, 3, "")),
		"");
	rig_add_fact(document, "Everything at once",
		rig_said(writer, "%s on %s", rig_amount_full(writer->arena, budget->watts_w, "W"),
			supply_said(writer, own)),
		"");
	if (rig_figure_given(findings->charger_w))
		rig_add_fact(document, "Battery charger at full output",
			rig_amount_full(writer->arena, findings->charger_w, "W"),
			rig_origin_said(findings->charger_w.from));
	if (budget->start.load >= 0 && !writer->brief)
		rig_add_fact(document, "Hardest start",
			rig_said(writer, "%s: %s for a moment",
				rig_load_said(writer, budget->start.load),
				rig_amount_full(writer->arena, budget->start.start_a, "A")),
			rig_origin_said(budget->start.start_a.from));
	if (findings->circuits_ask_a > 0)
		rig_add_fact(document, "Branch circuits on AC",
			rig_said(writer, "%d; the code asks for a %d A supply for so many",
				findings->n_ac_circuits, findings->circuits_ask_a),
			"");
}

/* Other sets that fit: which is best is a matter of priorities. */
static void add_next_table(rig_writer *writer, const rig_shore_findings *findings)
{
	enum { MOST_ROWS = RIG_SHORE_MOST_ASKED * (1 + RIG_SHORE_N_NEXT) };
	static const rig_column COLUMNS[RUN_COLUMNS] = {{"supply", "", RIG_ALIGN_LEFT},
		{"what must be off then", "", RIG_ALIGN_LEFT}, {"runs", "W", RIG_ALIGN_RIGHT}};
	const rig_shore_set *everything = rig_shore_everything(findings);
	const char *cells[MOST_ROWS * RUN_COLUMNS];
	size_t n = 0;
	for (size_t i = rig_shore_own_supply(findings); i < rig_shore_asked_end(findings); i++) {
		const rig_shore_budget *budget = &everything->budgets[i];
		for (size_t j = 0; j < budget->n_next; j++) {
			const char **row = &cells[n++ * RUN_COLUMNS];
			row[0] = rig_said(
				writer, "%.0f A", findings->supplies[i].pedestal->breaker_a);
			row[1] = rig_shore_items_said(
				writer, budget->next[j].n_off, budget->next[j].off);
			row[2] = rig_amount(writer->arena, budget->next[j].watts_w.likely, 2, "");
		}
	}
	const rig_table table = {
		"Other choices out of everything, next best first", RUN_COLUMNS, n, COLUMNS, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
}

void rig_shore_figures(rig_writer *writer, const rig_shore_findings *findings)
{
	rig_add_heading(writer->document, 2, "Shore power");
	rig_tell_more(writer, RIG_PART_SHORE);
	add_facts(writer, findings);
	if (rig_shore_everything(findings)->n_items == 0)
		return;
	add_sets_table(writer, findings);
	add_limits_chart(writer, findings);
	add_runs_table(writer, findings);
	if (!writer->brief)
		add_next_table(writer, findings);
	if (writer->run >= 0)
		rig_shore_run_table(writer, findings);
	add_full_circuits(writer, findings);
}

static void next_for_balance(rig_writer *writer, const rig_shore_balance *balance)
{
	if (!balance->given || balance->n_moves == 0)
		return;
	const char **names = rig_arena_take(writer->arena, balance->n_moves, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < balance->n_moves; i++)
		names[i] = rig_circuit_said(writer, balance->moves[i]);
	rig_ask(writer, RIG_ASK_ALSO,
		"Ask a licensed electrician about moving %s to the other leg: with everything on, "
		"the "
		"fuller leg would fall from %s to %s.",
		rig_joined(writer, balance->n_moves, names, MOST_NAMES),
		rig_amount(writer->arena, balance->fuller_before_a, 2, "A"),
		rig_amount(writer->arena, balance->fuller_after_a, 2, "A"));
}

void rig_shore_next(rig_writer *writer, const rig_shore_findings *findings)
{
	const rig_shore_set *set = rig_shore_focus_set(findings);
	const rig_shore_budget *budget = &set->budgets[rig_shore_own_supply(findings)];
	rig_ask_measures(writer, "the amps", budget->n_measures, budget->measures);
	if (findings->n_unplaced > 0) {
		const char **names =
			rig_arena_take(writer->arena, findings->n_unplaced, sizeof *names);
		for (size_t i = 0; names != NULL && i < findings->n_unplaced; i++)
			names[i] = rig_load_said(writer, findings->unplaced[i]);
		if (names == NULL)
			rig_document_fail(writer->document, RIG_NO_MEMORY);
		else
			rig_ask(writer, RIG_ASK_DECIDES,
				"Find out which leg feeds: %s. Nobody has said, so the legs were "
				"taken as evenly filled as can be.",
				rig_joined(writer, findings->n_unplaced, names, MOST_NAMES));
	}
	next_for_balance(writer, &findings->balance);
}

void rig_shore_assumptions(rig_writer *writer, const rig_shore_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"Shore power is taken at 120 V to neutral. At 10 percent low voltage, "
		"motors and electronic loads draw about 11 percent more.");
	rig_add_item(document,
		"Loads that can run three hours or more may fill a breaker to 80 percent "
		"of its rating; the verdicts hold them to that.");
	rig_add_item(document,
		"A range adds all high ends or all low ends at once; draws seldom err "
		"together, so the likely figure is the one to expect.");
	if (rig_figure_given(findings->charger_w))
		rig_add_item(document,
			"The battery charger is counted at full output, as after a night on the "
			"battery; with a full battery it draws next to nothing.");
	for (size_t i = 0; i < findings->n_supplies; i++) {
		if (findings->supplies[i].shared_hot)
			rig_add_item(document,
				"On an adapter to a single hot wire, both legs of the "
				"coach share that wire, and loads of 240 V are dead.");
	}
}

void rig_shore_cautions(rig_writer *writer, const rig_shore_findings *findings)
{
	rig_document *document = writer->document;
	rig_power_cautions(writer);
	for (size_t i = 0; i < findings->n_supplies; i++) {
		if (findings->supplies[i].n_hots == 2)
			rig_add_item(document, "On a 50 A pedestal wired wrongly, with both hots "
					       "on one phase, the "
					       "neutral wire carries the sum of both legs and no "
					       "breaker guards it.");
		if (findings->supplies[i].cord_limits)
			rig_add_item(document, "A pedestal larger than the cord does not protect "
					       "the cord: its breaker "
					       "lets through more than the cord may carry.");
	}
}
