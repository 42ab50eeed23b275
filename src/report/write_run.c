/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must go off so that a load can run. */
#include "shore_words.h"

enum { RUN_COLUMNS = 3 };

/* What is asked for by name on one supply. */
typedef enum { RUNS_ANYWAY, RUNS_INSTEAD, RUNS_NEVER, RUNS_DEAD, RUNS_UNASKED } run_kind;

typedef struct {
	run_kind kind;
	const rig_shore_way *way; /* if it runs instead of others */
} run_finding;

static bool holds_load(size_t n, const rig_shore_item *items, int load)
{
	for (size_t i = 0; i < n; i++) {
		if (items[i].load == load)
			return true;
	}
	return false;
}

static run_finding find_run(const rig_shore_budget *budget, int load)
{
	if (holds_load(budget->n_dead, budget->dead, load))
		return (run_finding){RUNS_DEAD, NULL};
	for (size_t i = 0; i < budget->n_ways; i++) {
		const rig_shore_way *way = &budget->ways[i];
		if (way->wanted.load == load)
			return (run_finding){way->possible ? RUNS_INSTEAD : RUNS_NEVER, way};
	}
	/* the study was not told of this load and had others to look for */
	if (holds_load(budget->best.n_off, budget->best.off, load))
		return (run_finding){RUNS_UNASKED, NULL};
	return (run_finding){RUNS_ANYWAY, NULL};
}

/* "it runs anyway", "it runs if Coffee maker gives way". */
static const char *run_said(rig_writer *writer, run_finding found)
{
	switch (found.kind) {
	case RUNS_DEAD:
		return "it is dead for want of 240 V";
	case RUNS_UNASKED:
		return "it is off, and no way to run it was looked for";
	case RUNS_NEVER:
		return "it is too much by itself";
	case RUNS_INSTEAD:
		return rig_said(writer, "it runs if this gives way: %s",
			rig_shore_items_said(writer, found.way->n_gives_way, found.way->gives_way));
	default:
		return "it runs with all that matters more";
	}
}

/* What must be off, with everything else wanted. */
static const rig_shore_choice *run_choice(run_finding found, const rig_shore_budget *budget)
{
	return found.kind == RUNS_INSTEAD ? &found.way->choice : &budget->best;
}

void rig_shore_run_answer(rig_writer *writer, const rig_shore_findings *findings)
{
	const rig_shore_set *everything = rig_shore_everything(findings);
	const char *name = rig_load_said(writer, writer->run);
	const size_t own = rig_shore_own_supply(findings);
	rig_buffer words = {0};
	const char *verdict = "";
	for (size_t i = own; i < rig_shore_asked_end(findings); i++) {
		const rig_shore_budget *budget = &everything->budgets[i];
		const run_finding found = find_run(budget, writer->run);
		const double supply_a = findings->supplies[i].pedestal->breaker_a;
		const char *said = run_said(writer, found);
		if (i == own)
			verdict = rig_said(writer, "On %.0f A %s.", supply_a, said);
		else
			rig_buffer_format(&words, " On %.0f A %s.", supply_a, said);
		if (found.kind > RUNS_INSTEAD)
			continue;
		const rig_shore_choice *choice = run_choice(found, budget);
		if (choice->n_off > 0)
			rig_buffer_format(&words, " With everything else wanted: %s.",
				rig_shore_off_said(writer, choice));
	}
	const char *more = rig_said_buffer(writer, &words);
	rig_add_answer(writer->document,
		rig_said(writer, "What must go off so that \"%s\" can run?", name), verdict, "%s",
		more[0] == ' ' ? more + 1 : more);
}

void rig_shore_run_table(rig_writer *writer, const rig_shore_findings *findings)
{
	static const rig_column COLUMNS[RUN_COLUMNS] = {{"supply", "", RIG_ALIGN_LEFT},
		{"runs with it", "", RIG_ALIGN_LEFT}, {"must be off", "", RIG_ALIGN_LEFT}};
	const rig_shore_set *everything = rig_shore_everything(findings);
	const size_t own = rig_shore_own_supply(findings);
	const size_t n_rows = findings->n_supplies - own;
	const char **cells = rig_arena_take(writer->arena, n_rows * RUN_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n_rows; i++) {
		const rig_shore_budget *budget = &everything->budgets[own + i];
		const run_finding found = find_run(budget, writer->run);
		const rig_shore_choice *choice = run_choice(found, budget);
		const bool runs = found.kind <= RUNS_INSTEAD;
		const char **row = &cells[i * RUN_COLUMNS];
		row[0] =
			rig_said(writer, "%.0f A", findings->supplies[own + i].pedestal->breaker_a);
		row[1] = runs ? rig_shore_items_said(writer, choice->n_kept, choice->kept)
			      : run_said(writer, found);
		row[2] = !runs ? ""
			 : choice->n_off == 0
				 ? "nothing"
				 : rig_shore_items_said(writer, choice->n_off, choice->off);
	}
	const rig_table table = {
		rig_said(writer, "So that \"%s\" runs", rig_load_said(writer, writer->run)),
		RUN_COLUMNS, n_rows, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}
