/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include <math.h>

#include "amount.h"
#include "glyph.h"

static const double PLOT_HEIGHT = 200.0;
static const double LABEL_ROOM = 118.0; /* right of the plot, for the names of the lines */

/* Where things are. */
typedef struct {
	rig_point top_left, bottom_right; /* of the plot */
	rig_scale scale;
	double slot; /* width of one month */
	bool values; /* a row of numbers under the months */
	bool short_names;
} chart_layout;

static double y_of(const chart_layout *layout, double value)
{
	const double height = layout->bottom_right.y - layout->top_left.y;
	return layout->bottom_right.y - value / layout->scale.top * height;
}

static double tick_width(rig_drawing *drawing, rig_scale scale)
{
	double widest = 0.0;
	for (int i = 0; i <= scale.n_steps; i++) {
		const char *number = rig_amount(drawing->arena, scale.step * i, 4, "");
		widest = fmax(widest, rig_drawing_text_width(number, drawing->size, false));
	}
	return widest;
}

static bool labels_fit(rig_drawing *drawing, double slot, bool values)
{
	for (size_t i = 0; i < drawing->chart->n_bars; i++) {
		const rig_bar *bar = &drawing->chart->bars[i];
		const char *text =
			values ? rig_amount(drawing->arena, bar->value.likely, 2, "") : bar->label;
		if (rig_drawing_text_width(text, drawing->size, false) > slot - 3.0)
			return false;
	}
	return true;
}

static chart_layout plan(rig_drawing *drawing)
{
	chart_layout layout = {.scale = rig_scale_for(rig_chart_reach(drawing->chart), 5)};
	const double head = rig_drawing_head(drawing, drawing->narrow, false);
	const bool labelled = !drawing->narrow && drawing->chart->n_lines > 0;
	layout.top_left = (rig_point){tick_width(drawing, layout.scale) + 8.0, head + 8.0};
	layout.bottom_right = (rig_point){
		drawing->width - (labelled ? LABEL_ROOM : 2.0), layout.top_left.y + PLOT_HEIGHT};
	const double width = layout.bottom_right.x - layout.top_left.x;
	const size_t n = drawing->chart->n_bars;
	layout.slot = width / (double)(n == 0 ? 1 : n);
	layout.short_names = !labels_fit(drawing, layout.slot, false);
	layout.values = !layout.short_names && labels_fit(drawing, layout.slot, true);
	return layout;
}

static void draw_grid(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	canvas->group(canvas->self, "grid");
	for (int i = 0; i <= layout->scale.n_steps; i++) {
		const double y = y_of(layout, layout->scale.step * i);
		const rig_pen pen = {i == 0 ? RIG_INK_QUIET : RIG_INK_GRID, 1.0, false};
		canvas->line(canvas->self, (rig_point){layout->top_left.x, y},
			(rig_point){layout->bottom_right.x, y}, pen);
		canvas->text(canvas->self,
			(rig_point){layout->top_left.x - 6.0, y + drawing->size * 0.35},
			rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_END),
			rig_amount(drawing->arena, layout->scale.step * i, 4, ""));
	}
}

static void draw_whisker(const rig_drawing *drawing, const chart_layout *layout, size_t i)
{
	const rig_span value = drawing->chart->bars[i].value;
	if (value.low >= value.high)
		return;
	const rig_canvas *canvas = drawing->canvas;
	const rig_pen pen = {RIG_INK_TEXT, 1.4, false};
	const double x = layout->top_left.x + layout->slot * ((double)i + 0.5);
	const double low = y_of(layout, value.low);
	const double high = y_of(layout, value.high);
	canvas->line(canvas->self, (rig_point){x, low}, (rig_point){x, high}, pen);
	canvas->line(canvas->self, (rig_point){x - 3.5, low}, (rig_point){x + 3.5, low}, pen);
	canvas->line(canvas->self, (rig_point){x - 3.5, high}, (rig_point){x + 3.5, high}, pen);
}

static const char *month_name(rig_drawing *drawing, const chart_layout *layout, size_t i)
{
	const char *name = drawing->chart->bars[i].label;
	if (!layout->short_names)
		return name;
	const char *rest = name;
	if (*rest != '\0')
		rig_glyph_next(&rest);
	const char *first = rig_arena_format(drawing->arena, "%.*s", (int)(rest - name), name);
	if (first == NULL)
		drawing->failed = true;
	return first == NULL ? "" : first;
}

static void draw_months(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	canvas->group(canvas->self, "bars");
	const double width = layout->slot * 0.66;
	for (size_t i = 0; i < drawing->chart->n_bars; i++) {
		const rig_bar *bar = &drawing->chart->bars[i];
		const double middle = layout->top_left.x + layout->slot * ((double)i + 0.5);
		const double y = y_of(layout, bar->value.likely);
		rig_drawing_bar(drawing, (rig_point){middle - width / 2, y},
			(rig_point){width, layout->bottom_right.y - y}, bar->state);
		draw_whisker(drawing, layout, i);
		const double base = layout->bottom_right.y + drawing->row;
		canvas->text(canvas->self, (rig_point){middle, base},
			rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_MIDDLE),
			month_name(drawing, layout, i));
		if (layout->values)
			canvas->text(canvas->self, (rig_point){middle, base + drawing->row},
				rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_MIDDLE),
				rig_amount(drawing->arena, bar->value.likely, 2, ""));
	}
}

/* A step as wide as each month; gives the height at which it ends. */
static double draw_steps(rig_drawing *drawing, const chart_layout *layout, size_t which)
{
	const rig_line *line = &drawing->chart->lines[which];
	const size_t n = line->n < drawing->chart->n_bars ? line->n : drawing->chart->n_bars;
	rig_point *points = rig_arena_take(drawing->arena, 2 * n, sizeof *points);
	if (points == NULL || n == 0) {
		drawing->failed = drawing->failed || points == NULL;
		return layout->bottom_right.y;
	}
	for (size_t i = 0; i < n; i++) {
		const double y = y_of(layout, line->y[i].likely);
		const double x = layout->top_left.x + layout->slot * (double)i;
		points[2 * i] = (rig_point){x, y};
		points[2 * i + 1] = (rig_point){x + layout->slot, y};
	}
	drawing->canvas->polyline(
		drawing->canvas->self, 2 * n, points, rig_drawing_line_pen(drawing->chart, which));
	return points[2 * n - 1].y;
}

void rig_draw_months(rig_drawing *drawing)
{
	const rig_canvas *canvas = drawing->canvas;
	const chart_layout layout = plan(drawing);
	const double height =
		layout.bottom_right.y + drawing->row * (layout.values ? 2.0 : 1.0) + 8.0;
	canvas->begin(canvas->self, (rig_point){drawing->width, ceil(height)},
		drawing->chart->title, rig_chart_sentence(drawing->arena, drawing->chart));
	rig_drawing_head(drawing, drawing->narrow, true);
	draw_grid(drawing, &layout);
	draw_months(drawing, &layout);
	canvas->group(canvas->self, "lines");
	const size_t n = drawing->chart->n_lines;
	double *end_y = rig_arena_take(drawing->arena, n, sizeof *end_y);
	if (end_y == NULL)
		drawing->failed = true;
	for (size_t i = 0; end_y != NULL && i < n; i++)
		end_y[i] = draw_steps(drawing, &layout, i);
	if (end_y != NULL && !drawing->narrow)
		rig_drawing_end_labels(drawing, end_y,
			(rig_point){layout.bottom_right.x + 8.0, layout.top_left.y},
			(rig_point){drawing->width, layout.bottom_right.y});
	canvas->end(canvas->self);
}
