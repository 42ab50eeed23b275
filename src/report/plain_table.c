/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain.h"

#include "glyph.h"

enum { GAP = 2, NARROWEST = 6, INDENT = 2 };

/* What a column wants and what it gets. */
typedef struct {
	size_t width;   /* columns it has now */
	size_t minimum; /* its longest word, which is not broken if that can be helped */
} column_room;

static size_t larger(size_t a, size_t b)
{
	return a > b ? a : b;
}

static size_t text_columns(rig_plain *plain, const char *text)
{
	const rig_lines lines = rig_plain_wrap(plain, text, 10000);
	return lines.n == 0 ? 0 : rig_glyph_text_columns(lines.line[0]);
}

static column_room room_wanted(rig_plain *plain, const rig_table *table, size_t column)
{
	const rig_column *head = &table->columns[column];
	const size_t head_word =
		larger(rig_plain_longest_word(plain, head->head), text_columns(plain, head->unit));
	column_room room = {head_word, head_word};
	for (size_t row = 0; row < table->n_rows; row++) {
		const char *cell = table->cells[row * table->n_columns + column];
		room.width = larger(room.width, text_columns(plain, cell));
		room.minimum = larger(room.minimum, rig_plain_longest_word(plain, cell));
	}
	room.minimum = larger(room.minimum, NARROWEST);
	room.width = larger(room.width, 1);
	return room;
}

static size_t total_width(const column_room *rooms, size_t n)
{
	size_t total = (n - 1) * GAP;
	for (size_t i = 0; i < n; i++)
		total += rooms[i].width;
	return total;
}

/* Takes columns away from the widest that can spare them. False: the table does not fit. */
static bool squeeze(column_room *rooms, size_t n)
{
	while (total_width(rooms, n) > RIG_PLAIN_COLUMNS) {
		size_t widest = n;
		for (size_t i = 0; i < n; i++) {
			const bool can = rooms[i].width > rooms[i].minimum;
			if (can && (widest == n || rooms[i].width > rooms[widest].width))
				widest = i;
		}
		if (widest == n)
			return false;
		rooms[widest].width--;
	}
	return true;
}

/* One row of cells, each wrapped in its column; bottom: short cells stand on the last line. */
static void print_cells(rig_plain *plain, const rig_table *table, const column_room *rooms,
	const char *const *cells, bool bottom)
{
	const size_t n = table->n_columns;
	rig_lines *lines = rig_arena_take(plain->arena, n, sizeof *lines);
	if (lines == NULL) {
		plain->failed = true;
		return;
	}
	size_t height = 0;
	for (size_t i = 0; i < n; i++) {
		lines[i] = rig_plain_wrap(plain, cells[i], rooms[i].width);
		height = larger(height, lines[i].n);
	}
	for (size_t row = 0; row < height; row++) {
		for (size_t i = 0; i < n; i++) {
			const size_t above = bottom ? height - lines[i].n : 0;
			const bool there = row >= above && row - above < lines[i].n;
			rig_plain_pad(plain, there ? lines[i].line[row - above] : "",
				rooms[i].width, table->columns[i].align);
			if (i + 1 < n)
				rig_plain_spaces(plain, GAP);
		}
		rig_buffer_add(&plain->out, "\n");
	}
}

static void print_rule(rig_plain *plain, const column_room *rooms, size_t n)
{
	for (size_t i = 0; i < n; i++) {
		for (size_t j = 0; j < rooms[i].width; j++)
			rig_buffer_add(&plain->out, "-");
		if (i + 1 < n)
			rig_plain_spaces(plain, GAP);
	}
	rig_buffer_add(&plain->out, "\n");
}

static void print_head(rig_plain *plain, const rig_table *table, const column_room *rooms)
{
	const char **words = rig_arena_take(plain->arena, table->n_columns, sizeof *words);
	if (words == NULL) {
		plain->failed = true;
		return;
	}
	bool any_unit = false;
	for (size_t i = 0; i < table->n_columns; i++) {
		words[i] = table->columns[i].head;
		any_unit = any_unit || table->columns[i].unit[0] != '\0';
	}
	print_cells(plain, table, rooms, words, true);
	for (size_t i = 0; any_unit && i < table->n_columns; i++)
		words[i] = table->columns[i].unit;
	if (any_unit)
		print_cells(plain, table, rooms, words, true);
	print_rule(plain, rooms, table->n_columns);
}

/* Too wide for the page: each row as a small list of its own. */
static void print_stacked(rig_plain *plain, const rig_table *table)
{
	for (size_t row = 0; row < table->n_rows; row++) {
		const char *const *cells = &table->cells[row * table->n_columns];
		rig_plain_paragraph(plain, cells[0], 0, "");
		for (size_t i = 1; i < table->n_columns; i++) {
			const rig_column *column = &table->columns[i];
			const char *text =
				rig_arena_format(plain->arena, "%s: %s%s%s", column->head, cells[i],
					column->unit[0] == '\0' ? "" : " ", column->unit);
			if (text == NULL)
				plain->failed = true;
			else if (cells[i][0] != '\0')
				rig_plain_paragraph(plain, text, INDENT, "");
		}
	}
}

void rig_plain_table(rig_plain *plain, const rig_table *table)
{
	if (table->caption[0] != '\0')
		rig_plain_paragraph(plain, table->caption, 0, "");
	column_room *rooms = rig_arena_take(plain->arena, table->n_columns, sizeof *rooms);
	if (rooms == NULL) {
		plain->failed = true;
		return;
	}
	for (size_t i = 0; i < table->n_columns; i++)
		rooms[i] = room_wanted(plain, table, i);
	if (!squeeze(rooms, table->n_columns)) {
		print_stacked(plain, table);
		return;
	}
	print_head(plain, table, rooms);
	for (size_t row = 0; row < table->n_rows; row++)
		print_cells(plain, table, rooms, &table->cells[row * table->n_columns], false);
}
