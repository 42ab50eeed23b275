/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compose.h"

#include <math.h>

static const double COLUMN_GAP = 11.0;
static const double SLACK = 0.5;      /* so that rounding breaks no line */
static const double HEAD_ROOM = 84.0; /* that a head may ask for beyond its cells */
enum { SHORT_TABLE = 12, MANY_COLUMNS = 6 };

/* A table with the widths of its columns. */
typedef struct {
	rig_sheet *sheet;
	const rig_table *table;
	double left, right;
	double *width;
} setting;

static double cell_width(const setting *set, size_t column, size_t row, bool word)
{
	PangoContext *context = set->sheet->flow.context;
	const char *text = set->table->cells[row * set->table->n_columns + column];
	/* figures stay on one line where there is room */
	return word && set->table->columns[column].align == RIG_ALIGN_LEFT
		       ? rig_type_word_width(context, RIG_STYLE_CELL, text)
		       : rig_type_width(context, RIG_STYLE_CELL, text);
}

/* Width of a column on its own, or of its widest word. */
static double column_width(const setting *set, size_t column, bool word)
{
	PangoContext *context = set->sheet->flow.context;
	const rig_column *about = &set->table->columns[column];
	double width = fmax(rig_type_word_width(context, RIG_STYLE_HEAD, about->head),
		rig_type_word_width(context, RIG_STYLE_HEAD, about->unit));
	if (!word)
		width = fmax(width,
			fmin(HEAD_ROOM, rig_type_width(context, RIG_STYLE_HEAD, about->head)));
	for (size_t row = 0; row < set->table->n_rows; row++)
		width = fmax(width, cell_width(set, column, row, word));
	return ceil(width) + SLACK;
}

static double sum(size_t n, const double *values)
{
	double total = 0.0;
	for (size_t i = 0; i < n; i++)
		total += values[i];
	return total;
}

/* The width that cuts the widest columns so far that all fit. */
static double widest_allowed(size_t n, const double *least, double room)
{
	double low = room / (double)n;
	double high = room;
	for (int step = 0; step < 40; step++) {
		const double middle = (low + high) / 2;
		double total = 0.0;
		for (size_t i = 0; i < n; i++)
			total += fmin(least[i], middle);
		*(total > room ? &high : &low) = middle;
	}
	return low;
}

/* Each column at least as wide as its widest word if that fits, and no wider than it needs; what
 * lies between is shared out by need. */
static void share_out(setting *set, const double *least, const double *wanted)
{
	const size_t n = set->table->n_columns;
	const double room = set->right - set->left - COLUMN_GAP * (double)(n - 1);
	const double all_least = sum(n, least);
	const double all_wanted = sum(n, wanted);
	const double allowed = widest_allowed(n, least, room);
	for (size_t i = 0; i < n; i++) {
		if (all_wanted <= room)
			set->width[i] = wanted[i];
		else if (all_least >= room)
			set->width[i] = fmin(least[i], allowed);
		else
			set->width[i] = least[i] + (wanted[i] - least[i]) * (room - all_least) /
							   (all_wanted - all_least);
	}
}

/* Widths for the body column, or over the whole sheet for a table that wants more. */
static bool find_widths(setting *set)
{
	const size_t n = set->table->n_columns;
	rig_flow *flow = &set->sheet->flow;
	double *least = rig_arena_take(flow->arena, n, sizeof *least);
	double *wanted = rig_arena_take(flow->arena, n, sizeof *wanted);
	set->width = rig_arena_take(flow->arena, n, sizeof *set->width);
	if (least == NULL || wanted == NULL || set->width == NULL) {
		flow->failed = true;
		return false;
	}
	for (size_t i = 0; i < n; i++) {
		least[i] = column_width(set, i, true);
		wanted[i] = column_width(set, i, false);
	}
	const double gaps = COLUMN_GAP * (double)(n - 1);
	const double body = rig_compose_width(set->sheet) - gaps;
	const bool wide = sum(n, least) > body || (n >= MANY_COLUMNS && sum(n, wanted) > body);
	set->left = wide ? flow->page.left : set->sheet->body;
	set->right = flow->page.right;
	share_out(set, least, wanted);
	return true;
}

static double column_left(const setting *set, size_t column)
{
	return set->left + sum(column, set->width) + COLUMN_GAP * (double)column;
}

static rig_strip *new_row(const setting *set)
{
	rig_strip *strip = rig_flow_strip(&set->sheet->flow, set->table->n_columns);
	strip->rule_from = set->left;
	strip->rule_to = set->right;
	strip->whole = true;
	return strip;
}

static void put(const setting *set, rig_strip *strip, size_t column, PangoLayout *layout)
{
	if (layout != NULL && set->table->columns[column].align == RIG_ALIGN_RIGHT)
		pango_layout_set_alignment(layout, PANGO_ALIGN_RIGHT);
	rig_strip_put(&set->sheet->flow, strip, column_left(set, column), layout);
}

static rig_strip *compose_heads(const setting *set)
{
	rig_strip *strip = new_row(set);
	for (size_t i = 0; i < set->table->n_columns; i++) {
		const rig_column *column = &set->table->columns[i];
		const rig_type_run runs[] = {{RIG_STYLE_HEAD, column->head, false},
			{RIG_STYLE_HEAD, column->unit, true}};
		put(set, strip, i,
			rig_type_set_runs(set->sheet->flow.context, column->unit[0] == '\0' ? 1 : 2,
				runs, set->width[i]));
	}
	strip->before = 4.0;
	strip->pad_below = 3.0;
	strip->rule_below = RIG_RULE_INK;
	strip->keep_next = set->table->n_rows > 0;
	rig_flow_add(&set->sheet->flow, strip);
	return strip;
}

static void compose_row(const setting *set, size_t row, const rig_strip *heads)
{
	rig_strip *strip = new_row(set);
	const size_t n = set->table->n_columns;
	for (size_t i = 0; i < n; i++)
		put(set, strip, i,
			rig_type_set(set->sheet->flow.context, RIG_STYLE_CELL,
				set->table->cells[row * n + i], set->width[i]));
	strip->pad_above = 2.4;
	strip->pad_below = 2.8;
	strip->rule_below = RIG_RULE_HAIR;
	strip->head = heads;
	/* a short table stays in one piece, a long one leaves no row alone */
	const bool last = row + 1 == set->table->n_rows;
	strip->keep_next = !last && (set->table->n_rows <= SHORT_TABLE || row == 0 ||
					    row + 2 == set->table->n_rows);
	rig_flow_add(&set->sheet->flow, strip);
}

void rig_compose_table(rig_sheet *sheet, const rig_table *table)
{
	setting set = {.sheet = sheet, .table = table};
	if (!find_widths(&set))
		return;
	if (table->caption[0] != '\0') {
		rig_strip *caption =
			rig_compose_text(sheet, RIG_STYLE_SECTION, table->caption, 12.0);
		caption->keep_next = true;
		if (caption->n_cells > 0)
			caption->cells[0].x = set.left;
	}
	const rig_strip *heads = compose_heads(&set);
	for (size_t row = 0; row < table->n_rows; row++)
		compose_row(&set, row, heads);
}
