/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cairo_canvas.h"

#include <math.h>
#include <string.h>

#include "report/drawing.h"

static void use_ink(const rig_cairo *drawn, rig_ink ink, double alpha)
{
	const unsigned rgb = rig_ink_rgb[ink];
	cairo_set_source_rgba(drawn->cairo, (rgb >> 16) / 255.0, (rgb >> 8 & 0xff) / 255.0,
		(rgb & 0xff) / 255.0, alpha);
}

static void stroke(const rig_cairo *drawn, rig_pen pen)
{
	static const double DASHES[] = {6.0, 4.0};
	use_ink(drawn, pen.ink, 1.0);
	cairo_set_line_width(drawn->cairo, pen.width);
	cairo_set_line_join(drawn->cairo, CAIRO_LINE_JOIN_ROUND);
	cairo_set_dash(drawn->cairo, DASHES, pen.dashed ? 2 : 0, 0.0);
	cairo_stroke(drawn->cairo);
}

static void begin(void *self, rig_point size, const char *name, const char *words)
{
	rig_cairo *drawn = self;
	(void)name;
	(void)words;
	drawn->size = size;
}

/* Makes the path through the points; a text may have left a place to start from. */
static void follow(cairo_t *cairo, size_t n, const rig_point *points)
{
	cairo_new_path(cairo);
	for (size_t i = 0; i < n; i++)
		cairo_line_to(cairo, points[i].x, points[i].y);
}

static void polyline(void *self, size_t n, const rig_point *points, rig_pen pen)
{
	const rig_cairo *drawn = self;
	if (drawn->cairo == NULL)
		return;
	follow(drawn->cairo, n, points);
	stroke(drawn, pen);
}

static void line(void *self, rig_point from, rig_point to, rig_pen pen)
{
	const rig_point ends[] = {from, to};
	polyline(self, 2, ends, pen);
}

static double alpha_of(rig_fill fill)
{
	return fill == RIG_FILL_PALE ? 0.25 : 1.0;
}

static void area(void *self, size_t n, const rig_point *points, rig_brush brush)
{
	const rig_cairo *drawn = self;
	if (drawn->cairo == NULL)
		return;
	follow(drawn->cairo, n, points);
	use_ink(drawn, brush.ink, alpha_of(brush.fill));
	cairo_fill(drawn->cairo);
}

/* Slanting strokes through the rectangle. */
static void hatch(const rig_cairo *drawn, rig_point corner, rig_point size, rig_ink ink)
{
	cairo_save(drawn->cairo);
	cairo_rectangle(drawn->cairo, corner.x, corner.y, size.x, size.y);
	cairo_clip(drawn->cairo);
	const int n = (int)ceil((size.x + size.y) / RIG_HATCH_SPACING);
	for (int i = 1; i < n; i++) {
		const double run = RIG_HATCH_SPACING * i;
		cairo_move_to(drawn->cairo, corner.x, corner.y + run);
		cairo_line_to(drawn->cairo, corner.x + run, corner.y);
	}
	stroke(drawn, (rig_pen){ink, 1.6, false});
	cairo_restore(drawn->cairo);
}

static void rectangle(void *self, rig_point corner, rig_point size, rig_brush brush)
{
	const rig_cairo *drawn = self;
	if (drawn->cairo == NULL)
		return;
	if (brush.fill == RIG_FILL_HATCHED)
		hatch(drawn, corner, size, brush.ink);
	cairo_rectangle(drawn->cairo, corner.x, corner.y, size.x, size.y);
	if (brush.fill == RIG_FILL_HATCHED || brush.fill == RIG_FILL_NONE) {
		stroke(drawn, (rig_pen){brush.ink, 1.4, false});
	} else {
		use_ink(drawn, brush.ink, alpha_of(brush.fill));
		cairo_fill(drawn->cairo);
	}
}

static PangoLayout *lettered(const rig_cairo *drawn, rig_lettering lettering, const char *words)
{
	PangoLayout *layout = rig_type_set(drawn->context, RIG_STYLE_LABEL, words, -1.0);
	if (layout == NULL)
		return NULL;
	PangoFontDescription *font = rig_type_font(RIG_STYLE_LABEL);
	pango_font_description_set_absolute_size(font, lettering.size * PANGO_SCALE);
	if (lettering.bold)
		pango_font_description_set_weight(font, PANGO_WEIGHT_BOLD);
	pango_layout_set_attributes(layout, NULL);
	pango_layout_set_font_description(layout, font);
	pango_font_description_free(font);
	return layout;
}

/* The chart left room by its own measure of the text: one that runs wider is made narrower. */
static void text(void *self, rig_point at, rig_lettering lettering, const char *words)
{
	static const double BEFORE[] = {0.0, 0.5, 1.0}; /* share of the width before the anchor */
	static const char ELLIPSIS[] = "\xe2\x80\xa6";
	rig_cairo *drawn = self;
	const size_t length = strlen(words);
	if (length >= 3 && strcmp(words + length - 3, ELLIPSIS) == 0)
		drawn->shortened = true;
	if (drawn->cairo == NULL || length == 0)
		return;
	PangoLayout *layout = lettered(drawn, lettering, words);
	if (layout == NULL)
		return;
	PangoRectangle logical;
	pango_layout_get_extents(layout, NULL, &logical);
	const double width = (double)logical.width / PANGO_SCALE;
	const double room = rig_drawing_text_width(words, lettering.size, lettering.bold);
	const double squeeze = width > room ? room / width : 1.0;
	cairo_save(drawn->cairo);
	use_ink(drawn, lettering.ink, 1.0);
	cairo_translate(drawn->cairo, at.x - BEFORE[lettering.anchor] * width * squeeze, at.y);
	cairo_scale(drawn->cairo, squeeze, 1.0);
	cairo_move_to(drawn->cairo, 0.0, 0.0);
	pango_cairo_show_layout_line(drawn->cairo, pango_layout_get_line_readonly(layout, 0));
	cairo_restore(drawn->cairo);
	g_object_unref(layout);
}

static void group(void *self, const char *name)
{
	(void)self;
	(void)name;
}

static void end(void *self)
{
	(void)self;
}

rig_canvas rig_cairo_canvas(rig_cairo *drawn)
{
	return (rig_canvas){.self = drawn,
		.begin = begin,
		.line = line,
		.polyline = polyline,
		.area = area,
		.rectangle = rectangle,
		.text = text,
		.group = group,
		.end = end};
}
