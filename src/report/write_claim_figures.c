/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The claims as a table. */
#include "writer.h"

enum { COLUMNS = 5 };

static const char *answer_said(rig_claim_answer answer)
{
	static const char *const SAID[RIG_N_CLAIM_ANSWERS] = {
		"holds", "holds only if", "open", "does not hold", "not judged"};
	return SAID[answer];
}

static const char *figure_said(rig_writer *writer, rig_figure figure, rig_claim_says says)
{
	static const char *const UNIT[RIG_N_SAYS] = {
		"", "A", "Wh/day", "Wh/day", "days", "h", "W", "Wh", "Ah"};
	return rig_figure_given(figure) ? rig_amount_full(writer->arena, figure, UNIT[says]) : "";
}

/* "May to Aug", "maybe Apr": when it holds. */
static const char *when_said(rig_writer *writer, const rig_claim_finding *finding)
{
	bool can[12], may[12];
	int n_can = 0, n_may = 0, n = 0;
	for (int m = 0; m < 12; m++) {
		const rig_claim_month *month = &finding->months[m];
		can[m] = month->judged && month->holds == RIG_CAN;
		may[m] = month->judged && month->holds == RIG_MAY;
		n += month->judged;
		n_can += can[m];
		n_may += may[m];
	}
	if (n == 0)
		return "";
	const char *sure = n_can == n   ? "all months"
			   : n_can == 0 ? ""
					: rig_months_said(writer, can, true);
	if (n_may == 0)
		return n_can == 0 ? "never" : sure;
	const char *maybe =
		n_may == n ? "maybe, all months"
			   : rig_said(writer, "maybe %s", rig_months_said(writer, may, true));
	return n_can == 0 ? maybe : rig_said(writer, "%s; %s", sure, maybe);
}

static void add_places(rig_writer *writer, const rig_claim_finding *finding)
{
	const rig_claim_places *places = &finding->places;
	if (places->n == 0 || places->n_none == places->n || places->n_all == places->n)
		return;
	rig_place best, worst;
	rig_place_at((size_t)places->best, &best);
	rig_place_at((size_t)places->worst, &worst);
	const char *by_month = "";
	for (int m = 0; m < 12; m++)
		if (finding->months[m].judged)
			by_month = rig_said(writer, "%s%s%s %zu", by_month,
				by_month[0] == '\0' ? "" : ", ", RIG_MONTH_SHORT[m],
				places->n_by_month[m]);
	rig_add_paragraph(writer->document,
		"\"%s\", on mean days%s, at so many of %s places: %s. Most months: %s, %d; "
		"fewest: %s, %d.",
		writer->coach->claims[finding->claim].text,
		finding->supposed ? ", as if wired to the house battery" : "",
		rig_amount(writer->arena, (double)places->n, 4, ""), by_month, best.name,
		places->best_months, worst.name, places->worst_months);
}

void rig_claim_figures(rig_writer *writer, const rig_claim_findings *findings)
{
	static const rig_column HEADS[COLUMNS] = {{"claim", "", RIG_ALIGN_LEFT},
		{"answer", "", RIG_ALIGN_LEFT}, {"asks for", "", RIG_ALIGN_RIGHT},
		{"there is", "", RIG_ALIGN_RIGHT}, {"when", "", RIG_ALIGN_LEFT}};
	const size_t n = findings->n_claims;
	const char **cells = rig_arena_take(writer->arena, n * COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	if (n == 0)
		return;
	rig_add_heading(writer->document, 2, "What was claimed");
	for (size_t i = 0; i < n; i++) {
		const rig_claim_finding *finding = &findings->claims[i];
		const rig_claim *claim = &writer->coach->claims[finding->claim];
		const char **row = &cells[i * COLUMNS];
		row[0] = claim->text;
		row[1] = answer_said(finding->answer);
		row[2] = figure_said(writer, finding->needs, claim->says);
		row[3] = figure_said(writer, finding->has, claim->says);
		row[4] = finding->supposed ? "not as it is wired" : when_said(writer, finding);
	}
	const rig_table table = {
		"Each claim, in its worst month of those it speaks of", COLUMNS, n, HEADS, cells};
	rig_add_table(writer->document, &table);
	rig_claim_more(writer, findings);
	for (size_t i = 0; i < n && !writer->brief; i++)
		add_places(writer, &findings->claims[i]);
}
