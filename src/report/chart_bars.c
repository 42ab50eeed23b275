/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lying bars: the ladder and the limits. */
#include "drawing.h"

#include <math.h>
#include <string.h>

#include "amount.h"

static const double LABEL_ROOM = 200.0;
static const double WORDS_ROOM = 150.0;
static const double GAP = 10.0;
static const double BAR_HEIGHT = 13.0;
static const double TEAR = 6.0; /* gap near the end of a bar that runs off the scale */
enum { MOST_LINES = 3, MOST_MARKS = 4 };

/* One bar with its label, its words, and where it stands. */
typedef struct {
	rig_label label, words;
	bool one_line;     /* narrow: label and words share a line */
	const char *group; /* heading above it; NULL for none */
	double top;        /* of the row, heading included */
	double bar_y;
	double height;
} bar_row;

typedef struct {
	double left, right; /* of the bars */
	double first_row;
	double bottom;
	rig_scale scale;
	double reach;
	bar_row *rows;
	bool marks_leftward;      /* names of the lines stand left of them */
	size_t order[MOST_MARKS]; /* lines from the top name down */
} chart_layout;

static double x_of(const chart_layout *layout, double value)
{
	return layout->left + fmin(value / layout->reach, 1.0) * (layout->right - layout->left);
}

static bool opens_group(const rig_chart *chart, size_t i)
{
	const char *own = chart->bars[i].group;
	if (own == NULL)
		return false;
	return i == 0 || chart->bars[i - 1].group == NULL ||
	       strcmp(own, chart->bars[i - 1].group) != 0;
}

static size_t n_marks(const rig_chart *chart)
{
	return chart->n_lines > MOST_MARKS ? MOST_MARKS : chart->n_lines;
}

static double mark_value(const rig_chart *chart, size_t i)
{
	return chart->lines[i].n == 0 ? 0.0 : chart->lines[i].y[0].likely;
}

static void plan_wide_row(rig_drawing *drawing, bar_row *row, const rig_bar *bar, const char *words)
{
	row->label = rig_drawing_wrap(drawing, bar->label, LABEL_ROOM - GAP, MOST_LINES);
	row->words = rig_drawing_wrap(drawing, words, WORDS_ROOM, MOST_LINES);
	const double lines = (double)(row->label.n > row->words.n ? row->label.n : row->words.n);
	row->bar_y = row->top + 4.0;
	row->height = fmax(lines * drawing->row, BAR_HEIGHT) + 9.0;
}

/* The words stand at the end of the label's line where they fit, else below it. */
static void plan_narrow_row(
	rig_drawing *drawing, bar_row *row, const rig_bar *bar, const char *words)
{
	row->label = rig_drawing_wrap(drawing, bar->label, drawing->width, MOST_LINES);
	row->words = rig_drawing_wrap(drawing, words, drawing->width, MOST_LINES);
	row->one_line =
		row->label.n == 1 && row->words.n == 1 &&
		rig_drawing_text_width(row->label.line[0], drawing->size, false) + 2.0 * GAP +
				rig_drawing_text_width(row->words.line[0], drawing->size, false) <=
			drawing->width;
	const size_t lines = row->one_line ? 1 : row->label.n + row->words.n;
	row->bar_y = row->top + (double)lines * drawing->row + 10.0;
	row->height = (double)lines * drawing->row + BAR_HEIGHT + 16.0;
}

static void plan_rows(rig_drawing *drawing, chart_layout *layout)
{
	const rig_chart *chart = drawing->chart;
	double y = layout->first_row;
	for (size_t i = 0; i < chart->n_bars; i++) {
		bar_row *row = &layout->rows[i];
		row->group = opens_group(chart, i) ? chart->bars[i].group : NULL;
		row->top = y + (row->group == NULL ? 0.0 : drawing->row + 8.0);
		const char *words = rig_bar_words(drawing->arena, chart, &chart->bars[i]);
		if (drawing->narrow)
			plan_narrow_row(drawing, row, &chart->bars[i], words);
		else
			plan_wide_row(drawing, row, &chart->bars[i], words);
		y = row->top + row->height;
	}
	layout->bottom = y;
}

static double mark_name_width(const rig_drawing *drawing, size_t i)
{
	const char *name = rig_mark_words(drawing->arena, drawing->chart, i);
	return rig_drawing_text_width(name, drawing->size, false) + 6.0;
}

/* Names stand right of their lines, the leftmost line's on top, so that no line runs through a
 * name; the other way round where they would run off the page. */
static void plan_marks(rig_drawing *drawing, chart_layout *layout)
{
	const rig_chart *chart = drawing->chart;
	const size_t n = n_marks(chart);
	for (size_t i = 0; i < n; i++) {
		const double x = x_of(layout, mark_value(chart, i));
		if (x + mark_name_width(drawing, i) > drawing->width)
			layout->marks_leftward = true;
	}
	for (size_t i = 0; i < n; i++) {
		size_t j = i;
		for (; j > 0; j--) {
			const double above = mark_value(chart, layout->order[j - 1]);
			const double own = mark_value(chart, i);
			if (layout->marks_leftward ? above >= own : above <= own)
				break;
			layout->order[j] = layout->order[j - 1];
		}
		layout->order[j] = i;
	}
}

static bool plan(rig_drawing *drawing, chart_layout *layout)
{
	const rig_chart *chart = drawing->chart;
	const double reach = rig_chart_reach(chart);
	layout->scale = rig_scale_for(reach, drawing->narrow ? 4 : 6);
	layout->reach = layout->scale.top;
	layout->left = drawing->narrow ? 1.0 : LABEL_ROOM;
	/* the last number of the scale stands half beyond the bars */
	const char *last = rig_amount(drawing->arena, layout->reach, 4, "");
	const double beyond = rig_drawing_text_width(last, drawing->size, false) / 2 + 2.0;
	layout->right = drawing->width - (drawing->narrow ? beyond : WORDS_ROOM + GAP);
	const bool named = !drawing->narrow && chart->kind == RIG_CHART_LADDER;
	layout->first_row = rig_drawing_head(drawing, drawing->narrow, false) + 4.0 +
			    (named ? (double)n_marks(chart) * drawing->row : 0.0);
	layout->rows = rig_arena_take(drawing->arena, chart->n_bars, sizeof *layout->rows);
	if (layout->rows == NULL) {
		drawing->failed = true;
		return false;
	}
	plan_rows(drawing, layout);
	plan_marks(drawing, layout);
	return true;
}

/* Upright strokes of the scale behind one bar. */
static void draw_strip(const rig_drawing *drawing, const chart_layout *layout, const bar_row *row)
{
	const rig_canvas *canvas = drawing->canvas;
	for (int i = 0; i <= layout->scale.n_steps; i++) {
		const double x = x_of(layout, layout->scale.step * i);
		const rig_pen pen = {i == 0 ? RIG_INK_QUIET : RIG_INK_GRID, 1.0, false};
		canvas->line(canvas->self, (rig_point){x, row->bar_y - 3.0},
			(rig_point){x, row->bar_y + BAR_HEIGHT + 3.0}, pen);
	}
}

static void draw_range(
	const rig_drawing *drawing, const chart_layout *layout, const bar_row *row, rig_span value)
{
	if (value.low >= value.high || value.low > layout->reach)
		return;
	const rig_canvas *canvas = drawing->canvas;
	const rig_pen pen = {RIG_INK_TEXT, 1.4, false};
	const double y = row->bar_y + BAR_HEIGHT / 2;
	const double low = x_of(layout, value.low);
	const double high = x_of(layout, value.high);
	canvas->line(canvas->self, (rig_point){low, y}, (rig_point){high, y}, pen);
	canvas->line(canvas->self, (rig_point){low, y - 3.5}, (rig_point){low, y + 3.5}, pen);
	if (value.high <= layout->reach)
		canvas->line(
			canvas->self, (rig_point){high, y - 3.5}, (rig_point){high, y + 3.5}, pen);
}

static void draw_bar(const rig_drawing *drawing, const chart_layout *layout, size_t i)
{
	const rig_canvas *canvas = drawing->canvas;
	const rig_bar *bar = &drawing->chart->bars[i];
	const bar_row *row = &layout->rows[i];
	const double end = x_of(layout, bar->value.likely);
	const bool torn = bar->value.likely > layout->reach;
	const rig_point corner = {layout->left, row->bar_y};
	draw_strip(drawing, layout, row);
	if (torn) {
		rig_drawing_bar(drawing, corner,
			(rig_point){end - layout->left - 3.0 * TEAR, BAR_HEIGHT}, bar->state);
		rig_drawing_bar(drawing, (rig_point){end - 2.0 * TEAR, row->bar_y},
			(rig_point){2.0 * TEAR, BAR_HEIGHT}, bar->state);
	} else if (end > layout->left) {
		rig_drawing_bar(
			drawing, corner, (rig_point){end - layout->left, BAR_HEIGHT}, bar->state);
	}
	draw_range(drawing, layout, row, bar->value);
	if (bar->limit > 0) {
		const double x = x_of(layout, bar->limit);
		canvas->line(canvas->self, (rig_point){x, row->bar_y - 4.0},
			(rig_point){x, row->bar_y + BAR_HEIGHT + 4.0},
			(rig_pen){RIG_INK_TEXT, 3.0, false});
	}
}

static void draw_row_texts(rig_drawing *drawing, const chart_layout *layout, size_t i)
{
	const bar_row *row = &layout->rows[i];
	if (row->group != NULL) {
		const rig_label group =
			rig_drawing_wrap(drawing, row->group, drawing->width / 1.1, 1);
		rig_lettering bold = rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START);
		bold.bold = true;
		rig_drawing_label(drawing, &group, (rig_point){0.0, row->top - 8.0}, bold);
	}
	const rig_lettering label = rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START);
	rig_lettering words = rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_START);
	const double base = row->top + 4.0 + drawing->size * 0.85;
	rig_drawing_label(drawing, &row->label, (rig_point){0.0, base}, label);
	rig_point at = {layout->right + GAP, base};
	if (row->one_line) {
		at.x = drawing->width;
		words.anchor = RIG_ANCHOR_END;
	} else if (drawing->narrow) {
		at = (rig_point){0.0, base + (double)row->label.n * drawing->row};
	}
	rig_drawing_label(drawing, &row->words, at, words);
}

/* Upright lines through all bars, with their names in rows above; on a narrow page only across the
 * bars, their names in the key. */
static void draw_marks(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	const rig_chart *chart = drawing->chart;
	const size_t n = n_marks(chart);
	for (size_t place = 0; place < n; place++) {
		const size_t which = layout->order[place];
		const rig_pen pen = rig_drawing_line_pen(chart, which);
		const double x = x_of(layout, mark_value(chart, which));
		for (size_t i = 0; drawing->narrow && i < chart->n_bars; i++) {
			const double y = layout->rows[i].bar_y;
			canvas->line(canvas->self, (rig_point){x, y - 3.0},
				(rig_point){x, y + BAR_HEIGHT + 3.0}, pen);
		}
		if (drawing->narrow)
			continue;
		const double base = layout->first_row - (double)(n - place) * drawing->row +
				    drawing->size * 0.9;
		canvas->line(canvas->self, (rig_point){x, base - drawing->size * 0.8},
			(rig_point){x, layout->bottom - 4.0}, pen);
		const double room = layout->marks_leftward ? x - 6.0 : drawing->width - x - 6.0;
		const rig_label name = rig_drawing_wrap(
			drawing, rig_mark_words(drawing->arena, chart, which), room, 1);
		rig_drawing_label(drawing, &name,
			(rig_point){layout->marks_leftward ? x - 5.0 : x + 5.0, base},
			rig_drawing_lettering(drawing, RIG_INK_TEXT,
				layout->marks_leftward ? RIG_ANCHOR_END : RIG_ANCHOR_START));
	}
}

static void draw_scale(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	canvas->group(canvas->self, "scale");
	for (int i = 0; i <= layout->scale.n_steps; i++) {
		const double value = layout->scale.step * i;
		const bool first = i == 0 && drawing->narrow;
		canvas->text(canvas->self,
			(rig_point){first ? 0.0 : x_of(layout, value),
				layout->bottom + drawing->row - 4.0},
			rig_drawing_lettering(drawing, RIG_INK_QUIET,
				first ? RIG_ANCHOR_START : RIG_ANCHOR_MIDDLE),
			rig_amount(drawing->arena, value, 4, ""));
	}
}

void rig_draw_bars(rig_drawing *drawing)
{
	const rig_canvas *canvas = drawing->canvas;
	const rig_chart *chart = drawing->chart;
	chart_layout layout = {0};
	if (!plan(drawing, &layout))
		return;
	canvas->begin(canvas->self,
		(rig_point){drawing->width, ceil(layout.bottom + drawing->row + 4.0)}, chart->title,
		rig_chart_sentence(drawing->arena, chart));
	rig_drawing_head(drawing, drawing->narrow, true);
	canvas->group(canvas->self, "bars");
	for (size_t i = 0; i < chart->n_bars; i++) {
		draw_bar(drawing, &layout, i);
		draw_row_texts(drawing, &layout, i);
	}
	canvas->group(canvas->self, "marks");
	draw_marks(drawing, &layout);
	draw_scale(drawing, &layout);
	canvas->end(canvas->self);
}
