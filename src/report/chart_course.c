/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include <math.h>

#include "amount.h"

static const double PLOT_HEIGHT = 210.0;
static const double LABEL_ROOM = 118.0; /* right of the plot, for the names of the lines */

typedef struct {
	rig_point top_left, bottom_right; /* of the plot */
	rig_scale y, x;                   /* count from y_bottom and x_first */
	double y_bottom, x_first, x_last;
} chart_layout;

static double y_of(const chart_layout *layout, double value)
{
	const double height = layout->bottom_right.y - layout->top_left.y;
	return layout->bottom_right.y - (value - layout->y_bottom) / layout->y.top * height;
}

static double x_of(const chart_layout *layout, double value)
{
	const double width = layout->bottom_right.x - layout->top_left.x;
	return layout->top_left.x +
	       (value - layout->x_first) / (layout->x_last - layout->x_first) * width;
}

static void find_x_range(const rig_chart *chart, chart_layout *layout)
{
	layout->x_first = HUGE_VAL;
	layout->x_last = -HUGE_VAL;
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		if (line->n == 0)
			continue;
		layout->x_first = fmin(layout->x_first, line->x[0]);
		layout->x_last = fmax(layout->x_last, line->x[line->n - 1]);
	}
	if (layout->x_first >= layout->x_last) {
		layout->x_first = isfinite(layout->x_first) ? layout->x_first : 0.0;
		layout->x_last = layout->x_first + 1.0;
	}
}

static chart_layout plan(rig_drawing *drawing)
{
	const double bottom = drawing->chart->y_bottom;
	chart_layout layout = {.y = rig_scale_for(rig_chart_reach(drawing->chart) - bottom, 5),
		.y_bottom = bottom};
	find_x_range(drawing->chart, &layout);
	layout.x = rig_chart_x_scale(
		drawing->chart, layout.x_last - layout.x_first, drawing->narrow ? 5 : 10);
	double widest = 0.0;
	for (int i = 0; i <= layout.y.n_steps; i++) {
		const char *number = rig_amount(drawing->arena, bottom + layout.y.step * i, 4, "");
		widest = fmax(widest, rig_drawing_text_width(number, drawing->size, false));
	}
	const double head = rig_drawing_head(drawing, drawing->narrow, false);
	layout.top_left = (rig_point){widest + 8.0, head + 8.0};
	layout.bottom_right = (rig_point){drawing->width - (drawing->narrow ? 12.0 : LABEL_ROOM),
		layout.top_left.y + PLOT_HEIGHT};
	return layout;
}

static void draw_x(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	for (int i = 0; i <= layout->x.n_steps; i++) {
		const double value = layout->x_first + layout->x.step * i;
		if (value > layout->x_last + 1e-9 * layout->x.step)
			break;
		const double x = x_of(layout, value);
		canvas->line(canvas->self, (rig_point){x, layout->bottom_right.y},
			(rig_point){x, layout->bottom_right.y + 4.0},
			(rig_pen){RIG_INK_QUIET, 1.0, false});
		canvas->text(canvas->self,
			(rig_point){x, layout->bottom_right.y + drawing->row + 3.0},
			rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_MIDDLE),
			rig_amount(drawing->arena, value, 4, ""));
	}
	canvas->text(canvas->self,
		(rig_point){layout->top_left.x, layout->bottom_right.y + 2.0 * drawing->row + 5.0},
		rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_START),
		drawing->chart->x_quantity);
}

static void draw_grid(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	canvas->group(canvas->self, "grid");
	for (int i = 0; i <= layout->y.n_steps; i++) {
		const double value = layout->y_bottom + layout->y.step * i;
		const double y = y_of(layout, value);
		const rig_pen pen = {i == 0 ? RIG_INK_QUIET : RIG_INK_GRID, 1.0, false};
		canvas->line(canvas->self, (rig_point){layout->top_left.x, y},
			(rig_point){layout->bottom_right.x, y}, pen);
		canvas->text(canvas->self,
			(rig_point){layout->top_left.x - 6.0, y + drawing->size * 0.35},
			rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_END),
			rig_amount(drawing->arena, value, 4, ""));
	}
	draw_x(drawing, layout);
}

static void draw_band(
	rig_drawing *drawing, const chart_layout *layout, const rig_line *line, rig_ink ink)
{
	rig_point *points = rig_arena_take(drawing->arena, 2 * line->n, sizeof *points);
	if (points == NULL) {
		drawing->failed = true;
		return;
	}
	bool any = false;
	for (size_t i = 0; i < line->n; i++) {
		const double x = x_of(layout, line->x[i]);
		points[i] = (rig_point){x, y_of(layout, line->y[i].high)};
		points[2 * line->n - 1 - i] = (rig_point){x, y_of(layout, line->y[i].low)};
		any = any || line->y[i].high > line->y[i].low;
	}
	if (any)
		drawing->canvas->area(drawing->canvas->self, 2 * line->n, points,
			(rig_brush){ink, RIG_FILL_PALE});
}

/* Whether the number of an earlier point may stand in the way: then this one goes without; the
 * table below the chart has them all. */
static bool is_crowded(const chart_layout *layout, const rig_line *line, size_t i)
{
	static const double WIDE = 16.0, HIGH = 12.0;
	const double x = x_of(layout, line->x[i]), y = y_of(layout, line->y[i].likely);
	bool crowded = false;
	for (size_t k = 0; k < i && !crowded; k++)
		crowded = fabs(x_of(layout, line->x[k]) - x) < WIDE &&
			  fabs(y_of(layout, line->y[k].likely) - y) < HIGH;
	return crowded;
}

/* A dot with its range as a whisker, and its number beside it. */
static void draw_point(
	rig_drawing *drawing, const chart_layout *layout, const rig_line *line, size_t i)
{
	enum { CORNERS = 12 };
	static const double RADIUS = 4.0, STEP_RAD = 6.283185307179586 / CORNERS;
	const rig_canvas *canvas = drawing->canvas;
	const rig_pen pen = {RIG_INK_FIRST, 1.4, false};
	const double x = x_of(layout, line->x[i]), y = y_of(layout, line->y[i].likely);
	rig_point corners[CORNERS];
	canvas->line(canvas->self, (rig_point){x, y_of(layout, line->y[i].low)},
		(rig_point){x, y_of(layout, line->y[i].high)}, pen);
	for (int k = 0; k < CORNERS; k++)
		corners[k] =
			(rig_point){x + RADIUS * cos(STEP_RAD * k), y + RADIUS * sin(STEP_RAD * k)};
	canvas->area(canvas->self, CORNERS, corners, (rig_brush){RIG_INK_FIRST, RIG_FILL_FULL});
	if (is_crowded(layout, line, i))
		return;
	const char *number = rig_arena_format(drawing->arena, "%zu", i + 1);
	drawing->failed = drawing->failed || number == NULL;
	if (number != NULL)
		canvas->text(canvas->self, (rig_point){x + 7.0, y - 5.0},
			rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START), number);
}

static void draw_line(rig_drawing *drawing, const chart_layout *layout, size_t which)
{
	const rig_line *line = &drawing->chart->lines[which];
	const rig_pen pen = rig_drawing_line_pen(drawing->chart, which);
	if (drawing->chart->points && !line->level) {
		for (size_t i = 0; i < line->n; i++)
			draw_point(drawing, layout, line, i);
		return;
	}
	rig_point *points = rig_arena_take(drawing->arena, line->n, sizeof *points);
	if (points == NULL) {
		drawing->failed = true;
		return;
	}
	draw_band(drawing, layout, line, pen.ink);
	for (size_t i = 0; i < line->n; i++)
		points[i] = (rig_point){x_of(layout, line->x[i]), y_of(layout, line->y[i].likely)};
	if (line->n > 1)
		drawing->canvas->polyline(drawing->canvas->self, line->n, points, pen);
}

static void draw_end_labels(rig_drawing *drawing, const chart_layout *layout)
{
	const size_t n = drawing->chart->n_lines;
	double *end_y = rig_arena_take(drawing->arena, n, sizeof *end_y);
	if (end_y == NULL) {
		drawing->failed = true;
		return;
	}
	for (size_t i = 0; i < n; i++) {
		const rig_line *line = &drawing->chart->lines[i];
		end_y[i] = line->n == 0 ? layout->bottom_right.y
					: y_of(layout, line->y[line->n - 1].likely);
	}
	rig_drawing_end_labels(drawing, end_y,
		(rig_point){layout->bottom_right.x + 12.0, layout->top_left.y},
		(rig_point){drawing->width, layout->bottom_right.y});
}

void rig_draw_course(rig_drawing *drawing)
{
	const rig_canvas *canvas = drawing->canvas;
	const chart_layout layout = plan(drawing);
	const double height = layout.bottom_right.y + 2.0 * drawing->row + 12.0;
	canvas->begin(canvas->self, (rig_point){drawing->width, ceil(height)},
		drawing->chart->title, rig_chart_sentence(drawing->arena, drawing->chart));
	rig_drawing_head(drawing, drawing->narrow, true);
	draw_grid(drawing, &layout);
	canvas->group(canvas->self, "lines");
	for (size_t i = 0; i < drawing->chart->n_lines; i++)
		draw_line(drawing, &layout, i);
	if (!drawing->narrow)
		draw_end_labels(drawing, &layout);
	canvas->end(canvas->self);
}
