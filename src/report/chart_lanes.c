/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of time in lanes. */
#include "drawing.h"

#include <math.h>

#include "amount.h"

static const double LABEL_ROOM = 200.0;
static const double GAP = 10.0;
static const double LANE_HEIGHT = 12.0;
static const double LEAST_WIDTH = 1.2; /* of a stretch that would be too thin to see */
static const double LEAST_GAP = 1.0;   /* that is seen between two stretches */
enum { MOST_LINES = 2 };

typedef struct {
	rig_label label;
	double label_y; /* base line */
	double lane_y;
} lane_row;

typedef struct {
	double left, right, top, bottom; /* of the lanes */
	rig_scale x;
	lane_row *rows;
} chart_layout;

static double x_of(const rig_drawing *drawing, const chart_layout *layout, double value)
{
	const rig_chart *chart = drawing->chart;
	const double share = (value - chart->x_first) / (chart->x_last - chart->x_first);
	return layout->left + share * (layout->right - layout->left);
}

/* A label stands left of its lane; on a narrow page above it. */
static void plan_rows(rig_drawing *drawing, chart_layout *layout)
{
	const rig_chart *chart = drawing->chart;
	const double room = drawing->narrow ? drawing->width : LABEL_ROOM - GAP;
	double y = layout->top;
	for (size_t i = 0; i < chart->n_lanes; i++) {
		lane_row *row = &layout->rows[i];
		row->label = rig_drawing_wrap(
			drawing, chart->lanes[i].label, room, drawing->narrow ? 1 : MOST_LINES);
		row->label_y = y + drawing->size;
		const double label_height = (double)row->label.n * drawing->row;
		row->lane_y = drawing->narrow ? y + label_height + 3.0 : y + 3.0;
		y = drawing->narrow ? row->lane_y + LANE_HEIGHT + 8.0
				    : y + fmax(label_height, LANE_HEIGHT) + 7.0;
	}
	layout->bottom = y;
}

static bool plan(rig_drawing *drawing, chart_layout *layout)
{
	const rig_chart *chart = drawing->chart;
	layout->rows = rig_arena_take(drawing->arena, chart->n_lanes, sizeof *layout->rows);
	if (layout->rows == NULL) {
		drawing->failed = true;
		return false;
	}
	layout->x =
		rig_chart_x_scale(chart, chart->x_last - chart->x_first, drawing->narrow ? 5 : 10);
	layout->left = drawing->narrow ? 1.0 : LABEL_ROOM;
	layout->right = drawing->width - 12.0;
	layout->top = rig_drawing_head(drawing, false, false) + 4.0;
	plan_rows(drawing, layout);
	return true;
}

/* A line of the grid; on a narrow page only across the lanes, not through their labels. */
static void draw_upright(rig_drawing *drawing, const chart_layout *layout, double x)
{
	const rig_canvas *canvas = drawing->canvas;
	const rig_pen pen = {RIG_INK_GRID, 1.0, false};
	if (!drawing->narrow) {
		canvas->line(canvas->self, (rig_point){x, layout->top},
			(rig_point){x, layout->bottom}, pen);
		return;
	}
	for (size_t i = 0; i < drawing->chart->n_lanes; i++) {
		const double y = layout->rows[i].lane_y;
		canvas->line(canvas->self, (rig_point){x, y}, (rig_point){x, y + LANE_HEIGHT}, pen);
	}
}

static void draw_grid(rig_drawing *drawing, const chart_layout *layout)
{
	const rig_canvas *canvas = drawing->canvas;
	const rig_chart *chart = drawing->chart;
	canvas->group(canvas->self, "grid");
	for (int i = 0; i <= layout->x.n_steps; i++) {
		const double value = chart->x_first + layout->x.step * i;
		if (value > chart->x_last + 1e-9 * layout->x.step)
			break;
		const double x = x_of(drawing, layout, value);
		const bool first = i == 0 && drawing->narrow;
		draw_upright(drawing, layout, x);
		canvas->text(canvas->self,
			(rig_point){first ? 0.0 : x, layout->bottom + drawing->row - 2.0},
			rig_drawing_lettering(drawing, RIG_INK_QUIET,
				first ? RIG_ANCHOR_START : RIG_ANCHOR_MIDDLE),
			rig_amount(drawing->arena, value, 4, ""));
	}
	canvas->text(canvas->self, (rig_point){layout->left, layout->bottom + 2.0 * drawing->row},
		rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_START), chart->x_quantity);
}

/* Where the run of stretches of one state ends that leave no gap to be seen between them; *next is
 * the first stretch after it. */
static double run_end(
	const rig_drawing *drawing, const chart_layout *layout, const rig_lane *lane, size_t *next)
{
	const rig_bar_state state = lane->stretches[*next].state;
	double end = x_of(drawing, layout, lane->stretches[*next].to);
	size_t last = *next;
	for (size_t i = last + 1; i < lane->n; i++) {
		const rig_stretch *stretch = &lane->stretches[i];
		if (x_of(drawing, layout, stretch->from) - end >= LEAST_GAP)
			break;
		if (stretch->state != state)
			continue;
		end = x_of(drawing, layout, stretch->to);
		last = i;
	}
	*next = last + 1;
	return end;
}

static void draw_state(
	rig_drawing *drawing, const chart_layout *layout, size_t which, rig_bar_state state)
{
	const rig_lane *lane = &drawing->chart->lanes[which];
	for (size_t i = 0; i < lane->n;) {
		if (lane->stretches[i].state != state) {
			i++;
			continue;
		}
		const double x = x_of(drawing, layout, lane->stretches[i].from);
		const double width = run_end(drawing, layout, lane, &i) - x;
		rig_drawing_bar(drawing, (rig_point){x, layout->rows[which].lane_y},
			(rig_point){fmax(width, LEAST_WIDTH), LANE_HEIGHT}, state);
	}
}

/* What fails is drawn last, so that no wide neighbour hides it. */
static void draw_lane(rig_drawing *drawing, const chart_layout *layout, size_t which)
{
	const lane_row *row = &layout->rows[which];
	for (int i = 0; i < RIG_N_BAR_STATES; i++)
		draw_state(drawing, layout, which, (rig_bar_state)i);
	rig_drawing_label(drawing, &row->label, (rig_point){0.0, row->label_y},
		rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START));
}

void rig_draw_lanes(rig_drawing *drawing)
{
	const rig_canvas *canvas = drawing->canvas;
	chart_layout layout = {0};
	if (!plan(drawing, &layout))
		return;
	const double height = layout.bottom + 2.0 * drawing->row + 8.0;
	canvas->begin(canvas->self, (rig_point){drawing->width, ceil(height)},
		drawing->chart->title, rig_chart_sentence(drawing->arena, drawing->chart));
	rig_drawing_head(drawing, false, true);
	draw_grid(drawing, &layout);
	canvas->group(canvas->self, "lanes");
	for (size_t i = 0; i < drawing->chart->n_lanes; i++)
		draw_lane(drawing, &layout, i);
	canvas->end(canvas->self);
}
