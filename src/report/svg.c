/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg.h"

#include <assert.h>
#include <math.h>

#include "glyph.h"

/* Black, blue, vermillion, bluish green, reddish purple: the colours of [OKABE-ITO] that keep 3 : 1
 * against white. */
const unsigned rig_ink_rgb[RIG_N_INKS] = {
	0x1a1a1a, 0x555555, 0xd9d9d9, 0x0072b2, 0xd55e00, 0x009e73, 0xcc79a7};

static const double ALONE_MARGIN = 12.0; /* around a picture that is a file of its own */

static void add_number(rig_svg *svg, const char *name, double value)
{
	rig_buffer_format(svg->out, " %s=\"", name);
	rig_buffer_fixed(svg->out, value, 1);
	rig_buffer_add(svg->out, "\"");
}

static void add_stroke(rig_svg *svg, rig_pen pen)
{
	rig_buffer_format(
		svg->out, " class=\"s%d\" stroke=\"#%06x\"", (int)pen.ink, rig_ink_rgb[pen.ink]);
	add_number(svg, "stroke-width", pen.width);
	if (pen.dashed)
		rig_buffer_add(svg->out, " stroke-dasharray=\"6 4\"");
}

static void add_fill(rig_svg *svg, rig_brush brush)
{
	rig_buffer_format(
		svg->out, " class=\"f%d\" fill=\"#%06x\"", (int)brush.ink, rig_ink_rgb[brush.ink]);
	if (brush.fill == RIG_FILL_PALE)
		rig_buffer_add(svg->out, " fill-opacity=\"0.25\"");
}

static void add_points(rig_svg *svg, size_t n, const rig_point *points)
{
	rig_buffer_add(svg->out, " points=\"");
	for (size_t i = 0; i < n; i++) {
		rig_buffer_add(svg->out, i > 0 ? " " : "");
		rig_buffer_fixed(svg->out, points[i].x, 1);
		rig_buffer_add(svg->out, ",");
		rig_buffer_fixed(svg->out, points[i].y, 1);
	}
	rig_buffer_add(svg->out, "\"");
}

static void begin(void *self, rig_point size, const char *name, const char *words)
{
	rig_svg *svg = self;
	rig_buffer_add(svg->out, "<svg xmlns=\"http://www.w3.org/2000/svg\"");
	if (svg->kind[0] != '\0')
		rig_buffer_format(svg->out, " class=\"%s\"", svg->kind);
	const double margin = svg->alone ? ALONE_MARGIN : 0.0;
	const double box[] = {-margin, -margin, size.x + 2 * margin, size.y + 2 * margin};
	rig_buffer_add(svg->out, " viewBox=\"");
	for (int i = 0; i < 4; i++) {
		rig_buffer_add(svg->out, i > 0 ? " " : "");
		rig_buffer_fixed(svg->out, box[i], 0);
	}
	rig_buffer_add(svg->out, "\"");
	if (svg->alone) {
		add_number(svg, "width", box[2]);
		add_number(svg, "height", box[3]);
	}
	rig_buffer_format(svg->out,
		" role=\"img\" aria-labelledby=\"%s-t %s-d\" font-family=\"system-ui, sans-serif\">"
		"\n<title id=\"%s-t\">",
		svg->id, svg->id, svg->id);
	rig_glyph_mark_up(svg->out, name);
	rig_buffer_format(svg->out, "</title>\n<desc id=\"%s-d\">", svg->id);
	rig_glyph_mark_up(svg->out, words);
	rig_buffer_add(svg->out, "</desc>\n");
	if (svg->alone)
		rig_buffer_format(svg->out,
			"<rect x=\"%d\" y=\"%d\" width=\"100%%\" height=\"100%%\" "
			"fill=\"#ffffff\"/>\n",
			-(int)ALONE_MARGIN, -(int)ALONE_MARGIN);
}

static void line(void *self, rig_point from, rig_point to, rig_pen pen)
{
	rig_svg *svg = self;
	rig_buffer_add(svg->out, "<line");
	add_number(svg, "x1", from.x);
	add_number(svg, "y1", from.y);
	add_number(svg, "x2", to.x);
	add_number(svg, "y2", to.y);
	add_stroke(svg, pen);
	rig_buffer_add(svg->out, "/>\n");
}

static void polyline(void *self, size_t n, const rig_point *points, rig_pen pen)
{
	rig_svg *svg = self;
	rig_buffer_add(svg->out, "<polyline fill=\"none\" stroke-linejoin=\"round\"");
	add_points(svg, n, points);
	add_stroke(svg, pen);
	rig_buffer_add(svg->out, "/>\n");
}

static void area(void *self, size_t n, const rig_point *points, rig_brush brush)
{
	assert(brush.fill == RIG_FILL_FULL || brush.fill == RIG_FILL_PALE);
	rig_svg *svg = self;
	rig_buffer_add(svg->out, "<polygon");
	add_points(svg, n, points);
	add_fill(svg, brush);
	rig_buffer_add(svg->out, "/>\n");
}

/* Slanting strokes through the rectangle, cut at its edges: y = y0 + offset - (x - x0). */
static void hatch(rig_svg *svg, rig_point corner, rig_point size, rig_ink ink)
{
	bool any = false;
	const int n = (int)ceil((size.x + size.y) / RIG_HATCH_SPACING);
	for (int i = 1; i < n; i++) {
		const double offset = RIG_HATCH_SPACING * i;
		const double left = fmax(0.0, offset - size.y);
		const double right = fmin(size.x, offset);
		rig_buffer_add(svg->out, any ? "M" : "<path d=\"M");
		rig_buffer_fixed(svg->out, corner.x + left, 1);
		rig_buffer_add(svg->out, " ");
		rig_buffer_fixed(svg->out, corner.y + offset - left, 1);
		rig_buffer_add(svg->out, "L");
		rig_buffer_fixed(svg->out, corner.x + right, 1);
		rig_buffer_add(svg->out, " ");
		rig_buffer_fixed(svg->out, corner.y + offset - right, 1);
		any = true;
	}
	if (!any)
		return;
	rig_buffer_add(svg->out, "\"");
	add_stroke(svg, (rig_pen){ink, 1.6, false});
	rig_buffer_add(svg->out, "/>\n");
}

static void rectangle(void *self, rig_point corner, rig_point size, rig_brush brush)
{
	rig_svg *svg = self;
	const bool outlined = brush.fill == RIG_FILL_HATCHED || brush.fill == RIG_FILL_NONE;
	if (brush.fill == RIG_FILL_HATCHED)
		hatch(svg, corner, size, brush.ink);
	rig_buffer_add(svg->out, "<rect");
	add_number(svg, "x", corner.x);
	add_number(svg, "y", corner.y);
	add_number(svg, "width", size.x);
	add_number(svg, "height", size.y);
	if (outlined) {
		rig_buffer_add(svg->out, " fill=\"none\"");
		add_stroke(svg, (rig_pen){brush.ink, 1.4, false});
	} else {
		add_fill(svg, brush);
	}
	rig_buffer_add(svg->out, "/>\n");
}

static void text(void *self, rig_point at, rig_lettering lettering, const char *words)
{
	static const char *const ANCHOR[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
	rig_svg *svg = self;
	rig_buffer_add(svg->out, "<text");
	add_number(svg, "x", at.x);
	add_number(svg, "y", at.y);
	add_number(svg, "font-size", lettering.size);
	rig_buffer_add(svg->out, ANCHOR[lettering.anchor]);
	rig_buffer_add(svg->out, lettering.bold ? " font-weight=\"600\"" : "");
	add_fill(svg, (rig_brush){lettering.ink, RIG_FILL_FULL});
	rig_buffer_add(svg->out, ">");
	rig_glyph_mark_up(svg->out, words);
	rig_buffer_add(svg->out, "</text>\n");
}

static void close_group(rig_svg *svg)
{
	if (svg->in_group)
		rig_buffer_add(svg->out, "</g>\n");
	svg->in_group = false;
}

static void group(void *self, const char *name)
{
	rig_svg *svg = self;
	close_group(svg);
	rig_buffer_format(svg->out, "<g class=\"%s\">\n", name);
	svg->in_group = true;
}

static void end(void *self)
{
	rig_svg *svg = self;
	close_group(svg);
	rig_buffer_add(svg->out, "</svg>\n");
}

rig_canvas rig_svg_canvas(rig_svg *svg)
{
	return (rig_canvas){.self = svg,
		.begin = begin,
		.line = line,
		.polyline = polyline,
		.area = area,
		.rectangle = rectangle,
		.text = text,
		.group = group,
		.end = end};
}
