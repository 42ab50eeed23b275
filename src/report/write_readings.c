/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

#include <math.h>

enum { DRAW_COLUMNS = 5, ROW_COLUMNS = 5, PANEL_COLUMNS = 5, MOST_NAMES = 6, PLACE_TEXT = 6 };

static const char *const QUESTION = "What do the meter's readings say?";

static const char *draw_said(rig_writer *writer, const rig_readings_draw *draw)
{
	if (draw->load == RIG_READINGS_INVERTER)
		return "inverter, idle";
	return rig_load_said(writer, draw->load);
}

static const char *reading_said(
	rig_writer *writer, const rig_readings_findings *findings, int reading)
{
	const char *name = findings->readings[reading].name;
	return name != NULL ? rig_said(writer, "\"%s\"", name)
			    : rig_said(writer, "reading %d", reading + 1);
}

static const char *place_said(rig_meter_place place)
{
	static const char *const TEXT[PLACE_TEXT] = {
		"leg 1", "leg 2", "both legs", "the supply", "the circuit", "the battery"};
	return TEXT[place];
}

/* ---- the answer ---- */

static bool differs(rig_draw_verdict verdict)
{
	return verdict == RIG_DRAW_DEAD || verdict == RIG_DRAW_HIGH || verdict == RIG_DRAW_LOW;
}

/* "Water heater draws next to nothing", "Roof unit draws 30 percent more than its label says". */
static const char *difference_said(rig_writer *writer, const rig_readings_draw *draw)
{
	const char *name = rig_capital(writer, draw_said(writer, draw));
	if (draw->verdict == RIG_DRAW_DEAD)
		return rig_said(writer, "%s draws next to nothing", name);
	const double off = draw->found_a.likely / draw->label_a.likely - 1.0;
	return rig_said(writer, "%s draws %s percent %s than its label says", name,
		rig_amount(writer->arena, fabs(off) * 100.0, 2, ""), off > 0 ? "more" : "less");
}

static const char *differences_said(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_buffer words = {0};
	size_t n = 0;
	for (size_t i = 0; i < findings->n_draws; i++)
		if (differs(findings->draws[i].verdict))
			rig_buffer_format(&words, "%s%s", n++ > 0 ? ". " : "",
				difference_said(writer, &findings->draws[i]));
	if (n > 0)
		rig_buffer_add(&words, ".");
	return rig_said_buffer(writer, &words);
}

static size_t count_draws(const rig_readings_findings *findings, rig_draw_verdict verdict)
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_draws; i++)
		n += findings->draws[i].verdict == verdict;
	return n;
}

static bool any_dc(const rig_readings_findings *findings)
{
	return findings->n_standing + findings->n_capacities + findings->n_sources +
		       findings->n_panels >
	       0;
}

static const char *verdict_said(rig_writer *writer, const rig_readings_findings *findings)
{
	const char *differences = differences_said(writer, findings);
	if (differences[0] != '\0')
		return differences;
	const size_t agree = count_draws(findings, RIG_DRAW_AGREES);
	if (findings->n_readings == 0)
		return "There are no readings to go by.";
	if (agree == 0)
		return any_dc(findings) ? "See the battery, its sources and the panel below."
					: "They do not settle any single load.";
	return rig_said(writer, "%zu %s with what the labels say.", agree,
		agree == 1 ? "load agrees" : "loads agree");
}

static void add_names(rig_writer *writer, rig_buffer *words, const rig_readings_findings *findings,
	rig_draw_verdict verdict)
{
	const char **names = rig_arena_take(writer->arena, findings->n_draws, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0;
	for (size_t i = 0; i < findings->n_draws; i++)
		if (findings->draws[i].verdict == verdict)
			names[n++] = draw_said(writer, &findings->draws[i]);
	rig_buffer_add(words, rig_joined(writer, n, names, MOST_NAMES));
}

static const char *panel_said(rig_writer *writer, const rig_readings_panel *panel)
{
	const rig_array *array = &writer->coach->arrays[panel->array];
	const char *name = array->name != NULL ? array->name : array->id;
	return rig_said(writer, "\"%s\"", name);
}

static void add_panel_words(rig_writer *writer, rig_buffer *words, const rig_readings_panel *panel)
{
	if (panel->verdict != RIG_PANEL_LOW && panel->verdict != RIG_PANEL_DEAD)
		return;
	rig_buffer_format(words, " The panel %s gave %s where the sun should have made it %s.",
		panel_said(writer, panel), rig_amount(writer->arena, panel->read_a.likely, 2, "A"),
		rig_amount_full(writer->arena, panel->expected_a, "A"));
}

static void add_bank_words(
	rig_writer *writer, rig_buffer *words, const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_capacities; i++) {
		const rig_readings_capacity *it = &findings->capacities[i];
		if (it->verdict == RIG_DRAW_LOW)
			rig_buffer_format(words,
				" The %s has %s percent of its label's capacity left.",
				rig_bank_said(writer, it->bank),
				rig_amount(writer->arena, it->left_frac.likely * 100.0, 2, ""));
	}
	for (size_t i = 0; i < findings->n_standing; i++) {
		const rig_readings_standing *it = &findings->standing[i];
		if (it->verdict == RIG_DRAW_HIGH)
			rig_buffer_format(words,
				" With all off the %s loses %s where %s is expected: something "
				"stays on.",
				rig_bank_said(writer, it->bank),
				rig_amount(writer->arena, it->read_a.likely, 2, "A"),
				rig_amount_full(writer->arena, it->expected_a, "A"));
	}
	for (size_t i = 0; i < findings->n_sources; i++) {
		const rig_readings_source *it = &findings->sources[i];
		if (it->verdict == RIG_DRAW_LOW || it->verdict == RIG_DRAW_DEAD)
			rig_buffer_format(words, " The %s gives %s of its %s.",
				it->by == RIG_BY_CHARGER ? "charger" : "alternator's charger",
				rig_amount(writer->arena, fmax(0.0, it->output_a.likely), 2, "A"),
				rig_amount(writer->arena, it->rated_a.likely, 2, "A"));
	}
	for (size_t i = 0; i < findings->n_panels; i++)
		add_panel_words(writer, words, &findings->panels[i]);
}

void rig_readings_answer(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_telling telling = {0};
	add_bank_words(writer, &telling.first, findings);
	if (count_draws(findings, RIG_DRAW_AGREES) > 0 &&
		differences_said(writer, findings)[0] != '\0') {
		rig_buffer_add(&telling.more, " The readings agree with the labels of ");
		add_names(writer, &telling.more, findings, RIG_DRAW_AGREES);
		rig_buffer_add(&telling.more, ".");
	}
	if (count_draws(findings, RIG_DRAW_NOT_IDENTIFIED) > 0) {
		rig_buffer_add(&telling.more, " The readings do not settle ");
		add_names(writer, &telling.more, findings, RIG_DRAW_NOT_IDENTIFIED);
		rig_buffer_add(&telling.more, ".");
	}
	rig_tell(writer, RIG_PART_READINGS, QUESTION, verdict_said(writer, findings), &telling);
}

/* ---- figures ---- */

static void add_draws(rig_writer *writer, const rig_readings_findings *findings)
{
	static const rig_column COLUMNS[DRAW_COLUMNS] = {{"load", "", RIG_ALIGN_LEFT},
		{"by its label", "A", RIG_ALIGN_RIGHT}, {"found", "A", RIG_ALIGN_RIGHT},
		{"found, of one", "W", RIG_ALIGN_RIGHT}, {"", "", RIG_ALIGN_LEFT}};
	const size_t n = findings->n_draws;
	const char **cells = rig_arena_take(writer->arena, n * DRAW_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n; i++) {
		const rig_readings_draw *draw = &findings->draws[i];
		const char **row = &cells[i * DRAW_COLUMNS];
		row[0] = rig_capital(writer, draw_said(writer, draw));
		row[1] = rig_amount_full(writer->arena, draw->label_a, "");
		row[2] = rig_amount_full(writer->arena, draw->found_a, "");
		row[3] = rig_amount_full(writer->arena, draw->found_w, "");
		row[4] = rig_draw_verdict_text(draw->verdict);
	}
	const rig_table table = {"What each load draws at its rated volts, with the range that "
				 "holds in 95 of 100 cases",
		DRAW_COLUMNS, n, COLUMNS, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
}

static void add_groups(rig_writer *writer, const rig_readings_findings *findings)
{
	const char **names = rig_arena_take(writer->arena, findings->n_draws, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t g = 0; g < findings->n_groups; g++) {
		const rig_readings_group *group = &findings->groups[g];
		for (size_t k = 0; k < group->n_draws; k++)
			names[k] = draw_said(writer, &findings->draws[group->draws[k]]);
		rig_add_paragraph(writer->document,
			"These readings do not tell apart %s: the sum is known better than "
			"its parts.",
			rig_joined(writer, group->n_draws, names, MOST_NAMES));
	}
}

static bool worth_telling(const rig_readings_row *row)
{
	return row->use != RIG_ROW_USED && row->use != RIG_ROW_CHARGING &&
	       row->use != RIG_ROW_NO_LOADS && row->use != RIG_ROW_DISCHARGE;
}

/* Readings that were set aside or could not be used. */
static void add_rows(rig_writer *writer, const rig_readings_findings *findings)
{
	static const rig_column COLUMNS[ROW_COLUMNS] = {{"reading", "", RIG_ALIGN_LEFT},
		{"at", "", RIG_ALIGN_LEFT}, {"read", "", RIG_ALIGN_RIGHT},
		{"by all the others", "", RIG_ALIGN_RIGHT}, {"", "", RIG_ALIGN_LEFT}};
	const char **cells =
		rig_arena_take(writer->arena, findings->n_rows * ROW_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0;
	for (size_t i = 0; i < findings->n_rows; i++) {
		const rig_readings_row *it = &findings->rows[i];
		if (!worth_telling(it))
			continue;
		const char *unit = it->place == RIG_METER_WATTS ? "W" : "A";
		const char **row = &cells[n++ * ROW_COLUMNS];
		row[0] = rig_capital(writer, reading_said(writer, findings, it->reading));
		row[1] = place_said(it->place);
		row[2] = rig_amount(writer->arena, it->read, 3, unit);
		row[3] = it->use == RIG_ROW_OUTLIER
				 ? rig_amount(writer->arena, it->without, 3, unit)
				 : "";
		row[4] = rig_row_use_text(it->use);
	}
	const rig_table table = {"Readings that were not used", ROW_COLUMNS, n, COLUMNS, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
}

static void add_standing(rig_writer *writer, const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_standing; i++) {
		const rig_readings_standing *it = &findings->standing[i];
		rig_add_fact(writer->document,
			rig_said(
				writer, "Standing draw of the %s", rig_bank_said(writer, it->bank)),
			rig_said(writer, "%s read, %s by labels",
				rig_amount_full(writer->arena, it->read_a, "A"),
				rig_amount_full(writer->arena, it->expected_a, "A")),
			"");
	}
}

static void add_capacities(rig_writer *writer, const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_capacities; i++) {
		const rig_readings_capacity *it = &findings->capacities[i];
		const char *judged = it->small_step ? "; too little was drawn to judge by" : "";
		rig_add_fact(writer->document,
			rig_said(writer, "Capacity of the %s", rig_bank_said(writer, it->bank)),
			rig_said(writer, "%s, of %s by its label%s",
				rig_amount_full(writer->arena, it->found_ah, "Ah"),
				rig_amount_full(writer->arena, it->label_ah, "Ah"), judged),
			it->way == RIG_CAPACITY_BY_REST ? "two rest voltages"
							: "a discharge to empty");
	}
}

static void add_sources(rig_writer *writer, const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_sources; i++) {
		const rig_readings_source *it = &findings->sources[i];
		const bool open = it->verdict == RIG_DRAW_NOT_IDENTIFIED;
		rig_add_fact(writer->document,
			it->by == RIG_BY_CHARGER ? "Output of the charger"
						 : "Output of the alternator's charger",
			rig_said(writer, "%s, of %s rated%s",
				rig_amount_full(writer->arena, it->output_a, "A"),
				rig_amount_full(writer->arena, it->rated_a, "A"),
				open ? "; a battery that is nearly full takes less, so this says "
				       "little"
				     : ""),
			"");
	}
}

static void add_panels(rig_writer *writer, const rig_readings_findings *findings)
{
	static const rig_column COLUMNS[PANEL_COLUMNS] = {{"panel", "", RIG_ALIGN_LEFT},
		{"sun up", "degrees", RIG_ALIGN_RIGHT}, {"read", "A", RIG_ALIGN_RIGHT},
		{"expected", "A", RIG_ALIGN_RIGHT}, {"", "", RIG_ALIGN_LEFT}};
	static const double DEGREES = 57.29577951308232;
	const size_t n = findings->n_panels;
	const char **cells = rig_arena_take(writer->arena, n * PANEL_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n; i++) {
		const rig_readings_panel *it = &findings->panels[i];
		const bool known = it->verdict != RIG_PANEL_NO_PLACE;
		const char **row = &cells[i * PANEL_COLUMNS];
		row[0] = rig_said(writer, "%s, %s", panel_said(writer, it),
			reading_said(writer, findings, it->reading));
		row[1] = known ? rig_said(writer, "%.0f", it->elevation_rad * DEGREES) : "";
		row[2] = rig_amount_full(writer->arena, it->read_a, "");
		row[3] = known ? rig_amount_full(writer->arena, it->expected_a, "") : "";
		row[4] = rig_panel_verdict_text(it->verdict);
	}
	const rig_table table = {
		"Solar panels against what the sun should give", PANEL_COLUMNS, n, COLUMNS, cells};
	if (n > 0)
		rig_add_table(writer->document, &table);
}

void rig_readings_figures(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_add_heading(writer->document, 2, "What was read");
	rig_tell_more(writer, RIG_PART_READINGS);
	if (findings->n_readings == 0)
		rig_add_paragraph(writer->document,
			"No reading was given: write some into the file as \"readings\", hand "
			"over a table, or type one.");
	add_draws(writer, findings);
	add_groups(writer, findings);
	add_rows(writer, findings);
	add_standing(writer, findings);
	add_capacities(writer, findings);
	add_sources(writer, findings);
	add_panels(writer, findings);
}

/* ---- what to read next ---- */

static void ask_reading(rig_writer *writer, const rig_readings_findings *findings)
{
	const rig_readings_next *next = &findings->next;
	if (!next->given) {
		rig_measure measures[RIG_MEASURE_SHOWN];
		rig_ask_measures(
			writer, "the draws", rig_readings_measures(findings, measures), measures);
		return;
	}
	const char **names = rig_arena_take(writer->arena, next->n_on, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < next->n_on; i++)
		names[i] = draw_said(writer, &findings->draws[next->on[i]]);
	const char *on = next->n_on == 0
				 ? "everything off but what is always on"
				 : rig_said(writer, "only %s on (besides what is always on)",
					   rig_joined(writer, next->n_on, names, next->n_on + 1));
	rig_ask(writer, RIG_ASK_NARROWS,
		"Read %s once with %s: it narrows \"%s\" from plus or minus %s to %s%s.",
		place_said(next->place), on, draw_said(writer, &findings->draws[next->settles]),
		rig_amount(writer->arena, 2.0 * next->se_before_a, 2, "A"),
		rig_amount(writer->arena, 2.0 * next->se_after_a, 2, "A"),
		next->separates && findings->draws[next->settles].group >= 0
			? ", and tells apart what these readings could not"
			: "");
}

void rig_readings_next_asks(rig_writer *writer, const rig_readings_findings *findings)
{
	for (size_t i = 0; i < findings->n_rows; i++) {
		const rig_readings_row *row = &findings->rows[i];
		if (row->use == RIG_ROW_OUTLIER)
			rig_ask(writer, RIG_ASK_DECIDES,
				"Repeat %s at %s: the others lead one to expect %s, not %s. A "
				"load may have cycled off, or been on unnoticed.",
				reading_said(writer, findings, row->reading),
				place_said(row->place),
				rig_amount(writer->arena, row->without, 3,
					row->place == RIG_METER_WATTS ? "W" : "A"),
				rig_amount(writer->arena, row->read, 3, ""));
	}
	for (size_t i = 0; i < findings->n_draws; i++) {
		const rig_readings_draw *draw = &findings->draws[i];
		if (draw->verdict == RIG_DRAW_DEAD)
			rig_ask(writer, RIG_ASK_DECIDES,
				"See whether \"%s\" was really switched on and calling for power: "
				"a thermostat, a switch or a tripped breaker also leaves it "
				"without draw.",
				draw_said(writer, draw));
	}
	ask_reading(writer, findings);
}

/* ---- what it rests on ---- */

void rig_readings_assumptions(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"The meter is taken to be right within %s percent and %s (one standard deviation); "
		"these readings scatter %s times as much.",
		rig_amount(writer->arena, findings->meter_frac * 100.0, 2, ""),
		rig_amount(writer->arena, findings->meter_a, 2, "A"),
		rig_amount(writer->arena, findings->scatter_ratio, 2, ""));
	rig_add_item(document,
		"Each load is taken to draw the same whenever it is on. What a label or profile "
		"says counts as a soft opinion; a load is named as different only beyond its "
		"label's range (at least 10 percent) and beyond %s standard errors.",
		rig_amount(writer->arena, findings->sureness_z, 2, ""));
	rig_add_item(document,
		"Motors and electronic loads are judged at the volts that were read; without "
		"volts, at their rated ones.");
	if (findings->n_panels > 0)
		rig_add_item(document,
			"A panel is held against a clear, hazy or cloudy sky as the reading says, "
			"with the air as warm as it is then in a mean year, the clock right to "
			"ten minutes.");
}

void rig_readings_cautions(rig_writer *writer, const rig_readings_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"Reading amps at a panel means an open panel with live parts, which can kill. That "
		"is for a licensed electrician or a certified technician; a display of the energy "
		"management or a plug-in meter reads amps without opening anything.");
	rig_add_item(document,
		"These findings tell where to look. They do not show that anything is sound: an "
		"appliance can draw what its label says and still be faulty.");
	if (any_dc(findings))
		rig_battery_cautions(writer);
}
