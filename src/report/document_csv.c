/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "chart.h"
#include "csv.h"
#include "filing.h"

typedef struct {
	rig_folder *folder;
	rig_arena *arena;
	rig_csv index;
	const char *part; /* the heading that was last */
	bool failed;
} csv_writer;

/* Files the rows under a name made of the words, and notes what they are. */
static void file_rows(csv_writer *writer, const char *words, rig_csv *rows)
{
	const char *name = rig_folder_add(writer->folder, words, ".csv", &rows->out);
	if (name == NULL) {
		writer->failed = true;
		return;
	}
	rig_csv_text(&writer->index, name);
	rig_csv_text(&writer->index, words);
	rig_csv_text(&writer->index, writer->part);
	rig_csv_end_row(&writer->index);
}

/* The lengths of the three numbers of "12 (9 to 15)", and where they begin. */
typedef struct {
	const char *at[3]; /* likely, low, high */
	size_t length[3];
} spanned;

/* Whether the cell is a number, or one with its range. */
static bool take_apart(const char *cell, spanned *numbers, bool *has_range)
{
	static const char *const BEFORE[] = {"", " (", " to "};
	const char *at = cell;
	for (int i = 0; i < 3; i++) {
		const size_t skip = strlen(BEFORE[i]);
		if (strncmp(at, BEFORE[i], skip) != 0)
			return false;
		numbers->at[i] = at + skip;
		numbers->length[i] = rig_csv_number_length(at + skip);
		if (numbers->length[i] == 0)
			return false;
		at += skip + numbers->length[i];
		if (i == 0 && *at == '\0') {
			for (int j = 1; j < 3; j++) {
				numbers->at[j] = numbers->at[0];
				numbers->length[j] = numbers->length[0];
			}
			return true;
		}
	}
	*has_range = true;
	return strcmp(at, ")") == 0;
}

/* Whether all cells of the column are figures, some with a range. */
static bool is_spanned(const rig_table *table, size_t column)
{
	bool any = false;
	for (size_t row = 0; row < table->n_rows; row++) {
		const char *cell = table->cells[row * table->n_columns + column];
		spanned numbers;
		if (cell[0] != '\0' && !take_apart(cell, &numbers, &any))
			return false;
	}
	return any;
}

static const char *const SPAN_HEADS[] = {"", ", low", ", high"};

static void put_heads(csv_writer *writer, rig_csv *rows, const rig_table *table)
{
	for (size_t i = 0; i < table->n_columns; i++) {
		const int n = is_spanned(table, i) ? 3 : 1;
		for (int j = 0; j < n; j++) {
			const char *head = rig_arena_format(
				writer->arena, "%s%s", table->columns[i].head, SPAN_HEADS[j]);
			rig_csv_head(rows, head == NULL ? "" : head, table->columns[i].unit);
			writer->failed = writer->failed || head == NULL;
		}
	}
	rig_csv_end_row(rows);
}

static void put_span(csv_writer *writer, rig_csv *rows, const char *cell)
{
	spanned numbers;
	bool has_range;
	const bool empty = cell[0] == '\0' || !take_apart(cell, &numbers, &has_range);
	for (int i = 0; i < 3; i++) {
		const char *number = empty ? ""
					   : rig_arena_format(writer->arena, "%.*s",
						     (int)numbers.length[i], numbers.at[i]);
		rig_csv_text(rows, number == NULL ? "" : number);
		writer->failed = writer->failed || number == NULL;
	}
}

static void write_table(csv_writer *writer, const rig_table *table, const char *words)
{
	rig_csv rows = {0};
	put_heads(writer, &rows, table);
	for (size_t row = 0; row < table->n_rows; row++) {
		for (size_t i = 0; i < table->n_columns; i++) {
			const char *cell = table->cells[row * table->n_columns + i];
			if (is_spanned(table, i))
				put_span(writer, &rows, cell);
			else
				rig_csv_text(&rows, cell);
		}
		rig_csv_end_row(&rows);
	}
	file_rows(writer, words, &rows);
}

static void write_facts(csv_writer *writer, const rig_block *block)
{
	rig_csv rows = {0};
	static const char *const HEADS[] = {"fact", "value", "origin"};
	for (int i = 0; i < 3; i++)
		rig_csv_text(&rows, HEADS[i]);
	rig_csv_end_row(&rows);
	for (size_t i = 0; i < block->n_items; i++) {
		rig_csv_text(&rows, block->facts[i].name);
		rig_csv_text(&rows, block->facts[i].value);
		rig_csv_text(&rows, block->facts[i].origin);
		rig_csv_end_row(&rows);
	}
	file_rows(writer, writer->part[0] == '\0' ? "Facts" : writer->part, &rows);
}

static void put_figures(rig_csv *rows, rig_span span)
{
	rig_csv_number(rows, span.likely);
	rig_csv_number(rows, span.low);
	rig_csv_number(rows, span.high);
}

static void put_figure_heads(rig_csv *rows, const char *what, const char *unit)
{
	rig_csv_head(rows, what, unit);
	rig_csv_head(rows, "low", unit);
	rig_csv_head(rows, "high", unit);
}

static const char *meaning(const rig_chart *chart, rig_bar_state state)
{
	return chart->state_text[state] == NULL ? "" : chart->state_text[state];
}

static void put_bar(rig_csv *rows, const rig_chart *chart, const rig_bar *bar)
{
	rig_csv_text(rows, bar->group == NULL ? "" : bar->group);
	rig_csv_text(rows, bar->label);
	put_figures(rows, bar->value);
	if (bar->limit > 0)
		rig_csv_number(rows, bar->limit);
	else
		rig_csv_text(rows, "");
	rig_csv_text(rows, meaning(chart, bar->state));
	rig_csv_text(rows, bar->note == NULL ? "" : bar->note);
	rig_csv_end_row(rows);
}

/* Bars, then the lines across them: a point for each bar, or one for all. */
static void put_bars(rig_csv *rows, const rig_chart *chart)
{
	rig_csv_text(rows, "group or line");
	rig_csv_text(rows, "bar");
	put_figure_heads(rows, chart->quantity, chart->unit);
	rig_csv_head(rows, "limit", chart->unit);
	rig_csv_text(rows, "which means");
	rig_csv_text(rows, "note");
	rig_csv_end_row(rows);
	for (size_t i = 0; i < chart->n_bars; i++)
		put_bar(rows, chart, &chart->bars[i]);
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		const bool each = chart->kind == RIG_CHART_MONTHS;
		for (size_t j = 0; j < line->n && (each || j == 0); j++) {
			rig_csv_text(rows, line->label);
			rig_csv_text(rows, each && j < chart->n_bars ? chart->bars[j].label : "");
			put_figures(rows, line->y[j]);
			for (int k = 0; k < 3; k++)
				rig_csv_text(rows, "");
			rig_csv_end_row(rows);
		}
	}
}

static void put_course(rig_csv *rows, const rig_chart *chart)
{
	rig_csv_text(rows, "line");
	rig_csv_text(rows, chart->x_quantity);
	put_figure_heads(rows, chart->quantity, chart->unit);
	rig_csv_end_row(rows);
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		for (size_t j = 0; j < line->n; j++) {
			rig_csv_text(rows, line->label);
			rig_csv_number(rows, line->x[j]);
			put_figures(rows, line->y[j]);
			rig_csv_end_row(rows);
		}
	}
}

static void put_lanes(rig_csv *rows, const rig_chart *chart)
{
	rig_csv_text(rows, "lane");
	rig_csv_text(rows, "what");
	rig_csv_head(rows, "from", chart->x_quantity);
	rig_csv_head(rows, "to", chart->x_quantity);
	rig_csv_end_row(rows);
	for (size_t i = 0; i < chart->n_lanes; i++) {
		const rig_lane *lane = &chart->lanes[i];
		for (size_t j = 0; j < lane->n; j++) {
			rig_csv_text(rows, lane->label);
			rig_csv_text(rows, meaning(chart, lane->stretches[j].state));
			rig_csv_number(rows, lane->stretches[j].from);
			rig_csv_number(rows, lane->stretches[j].to);
			rig_csv_end_row(rows);
		}
	}
}

static void write_chart(csv_writer *writer, const rig_chart *chart)
{
	rig_csv rows = {0};
	switch (chart->kind) {
	case RIG_CHART_MONTHS:
	case RIG_CHART_LADDER:
	case RIG_CHART_LIMITS:
		put_bars(&rows, chart);
		break;
	case RIG_CHART_COURSE:
		put_course(&rows, chart);
		break;
	case RIG_CHART_LANES:
		put_lanes(&rows, chart);
		break;
	}
	file_rows(writer, chart->title, &rows);
}

static void write_block(csv_writer *writer, const rig_block *block)
{
	if (block->kind == RIG_BLOCK_HEADING)
		writer->part = block->head;
	else if (block->kind == RIG_BLOCK_TABLE)
		write_table(writer, block->table,
			block->table->caption[0] == '\0' ? writer->part : block->table->caption);
	else if (block->kind == RIG_BLOCK_FACTS)
		write_facts(writer, block);
	else if (block->kind == RIG_BLOCK_CHART)
		write_chart(writer, block->chart);
}

rig_status rig_document_csv(const rig_document *document, rig_folder **folder)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	csv_writer writer = {.folder = rig_folder_new(), .arena = rig_arena_new(), .part = ""};
	static const char *const HEADS[] = {"file", "what it holds", "part of the sheet"};
	writer.failed = writer.folder == NULL || writer.arena == NULL;
	for (int i = 0; i < 3; i++)
		rig_csv_text(&writer.index, HEADS[i]);
	rig_csv_end_row(&writer.index);
	for (size_t i = 0; i < rig_document_n_blocks(document) && !writer.failed; i++)
		write_block(&writer, rig_document_block_at(document, i));
	if (!writer.failed)
		writer.failed =
			rig_folder_add(writer.folder, "index", ".csv", &writer.index.out) == NULL;
	rig_buffer_free(&writer.index.out);
	writer.failed = writer.failed || rig_arena_failed(writer.arena);
	rig_arena_free(writer.arena);
	if (writer.failed) {
		rig_folder_free(writer.folder);
		return RIG_NO_MEMORY;
	}
	*folder = writer.folder;
	return RIG_OK;
}
