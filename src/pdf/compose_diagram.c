/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cairo_canvas.h"
#include "compose.h"
#include "report/diagram.h"

static const double TALLEST = 0.98; /* share of a page that a sheet may take */

typedef struct {
	const rig_sheet *sheet;
	const rig_diagram *diagram;
	const rig_diagram_layout *layout;
	size_t i;
	double scale;
} picture;

static void draw(cairo_t *cairo, const void *self)
{
	const picture *it = self;
	rig_cairo drawn = {.cairo = cairo, .context = it->sheet->flow.context};
	const rig_canvas canvas = rig_cairo_canvas(&drawn);
	cairo_scale(cairo, it->scale, it->scale);
	rig_diagram_draw(&canvas, it->diagram, it->layout, it->i);
}

static void compose_sheet(
	rig_sheet *sheet, const rig_diagram *diagram, const rig_diagram_layout *layout, size_t i)
{
	rig_flow *flow = &sheet->flow;
	picture *it = rig_arena_take(flow->arena, 1, sizeof *it);
	if (it == NULL) {
		flow->failed = true;
		return;
	}
	const double tallest = TALLEST * (flow->page.bottom - flow->page.top);
	const double widest = flow->page.right - flow->page.left;
	*it = (picture){sheet, diagram, layout, i,
		fmin(1.0, fmin(widest / layout->width, tallest / layout->height[i]))};
	rig_strip *strip = rig_flow_strip(flow, 0);
	strip->draw = draw;
	strip->picture = it;
	strip->picture_x = flow->page.left;
	strip->picture_width = layout->width * it->scale;
	strip->picture_height = layout->height[i] * it->scale;
	strip->before = 13.0;
	strip->whole = true;
	rig_flow_add(flow, strip);
}

void rig_compose_diagram(rig_sheet *sheet, const rig_diagram *diagram)
{
	rig_flow *flow = &sheet->flow;
	rig_diagram_layout *layout = rig_arena_take(flow->arena, 1, sizeof *layout);
	if (layout == NULL) {
		flow->failed = true;
		return;
	}
	*layout = rig_diagram_lay_out(diagram, RIG_LAYOUT_WIDE, flow->arena);
	flow->failed = flow->failed || layout->failed;
	for (size_t i = 0; !layout->failed && i < layout->n_sheets; i++)
		compose_sheet(sheet, diagram, layout, i);
	if (!layout->failed)
		rig_compose_text(sheet, RIG_STYLE_QUIET,
			rig_diagram_sentence(flow->arena, diagram, layout->n_sheets), 4.0);
}
