/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recorder.h: a canvas that remembers boxes of texts and strokes, so that tests can ask whether any
 * two of them touch. */
#ifndef TEST_RECORDER_H
#define TEST_RECORDER_H

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "report/canvas.h"
#include "report/glyph.h"

enum { MOST_MARKS = 4000 };

typedef struct {
	double left, top, right, bottom;
	char text[80];
} recorded_box;

typedef struct {
	rig_point from, to;
	double width;
	rig_ink ink;
} recorded_stroke;

typedef struct {
	rig_point size;
	size_t n_texts, n_shapes, n_strokes;
	recorded_box texts[MOST_MARKS], shapes[MOST_MARKS];
	recorded_stroke strokes[MOST_MARKS];
	bool finite;
	bool full;
	char words[2000];
} recorder;

static void see(recorder *seen, double value)
{
	seen->finite = seen->finite && isfinite(value);
}

static void record_begin(void *self, rig_point size, const char *name, const char *words)
{
	recorder *seen = self;
	(void)name;
	seen->size = size;
	snprintf(seen->words, sizeof seen->words, "%s", words);
}

static void record_line(void *self, rig_point from, rig_point to, rig_pen pen)
{
	recorder *seen = self;
	see(seen, from.x + from.y + to.x + to.y);
	if (seen->n_strokes == MOST_MARKS)
		seen->full = true;
	else
		seen->strokes[seen->n_strokes++] = (recorded_stroke){from, to, pen.width, pen.ink};
}

static void record_polyline(void *self, size_t n, const rig_point *points, rig_pen pen)
{
	for (size_t i = 1; i < n; i++)
		record_line(self, points[i - 1], points[i], pen);
}

static void record_area(void *self, size_t n, const rig_point *points, rig_brush brush)
{
	(void)brush;
	for (size_t i = 0; i < n; i++)
		see(self, points[i].x + points[i].y);
}

static void record_rectangle(void *self, rig_point corner, rig_point size, rig_brush brush)
{
	recorder *seen = self;
	(void)brush;
	see(seen, corner.x + corner.y + size.x + size.y);
	/* an SVG rectangle of less than nothing is an error */
	seen->finite = seen->finite && size.x >= 0 && size.y >= 0;
	if (seen->n_shapes == MOST_MARKS)
		seen->full = true;
	else
		seen->shapes[seen->n_shapes++] = (recorded_box){
			corner.x, corner.y, corner.x + size.x, corner.y + size.y, "shape"};
}

static void record_text(void *self, rig_point at, rig_lettering lettering, const char *text)
{
	recorder *seen = self;
	const double width =
		rig_glyph_text_width(text) * lettering.size * (lettering.bold ? 1.1 : 1.0);
	const double left = lettering.anchor == RIG_ANCHOR_START ? at.x
			    : lettering.anchor == RIG_ANCHOR_END ? at.x - width
								 : at.x - width / 2;
	see(seen, left + at.y + width);
	if (text[0] == '\0')
		return;
	if (seen->n_texts == MOST_MARKS) {
		seen->full = true;
		return;
	}
	recorded_box *box = &seen->texts[seen->n_texts++];
	/* capitals and digits rise 0.73 of the size, tails fall 0.22 */
	*box = (recorded_box){
		left, at.y - 0.76 * lettering.size, left + width, at.y + 0.22 * lettering.size, ""};
	snprintf(box->text, sizeof box->text, "%s", text);
}

static void record_group(void *self, const char *name)
{
	(void)self;
	(void)name;
}

static void record_end(void *self)
{
	(void)self;
}

static rig_canvas recorder_canvas(recorder *seen)
{
	memset(seen, 0, sizeof *seen);
	seen->finite = true;
	return (rig_canvas){seen, record_begin, record_line, record_polyline, record_area,
		record_rectangle, record_text, record_group, record_end};
}

static bool boxes_touch(const recorded_box *a, const recorded_box *b)
{
	return a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom;
}

/* Whether the stroke crosses the box: clipped to it, something is left. */
static bool stroke_touches(const recorded_stroke *stroke, const recorded_box *box)
{
	const double dx = stroke->to.x - stroke->from.x;
	const double dy = stroke->to.y - stroke->from.y;
	const double half = stroke->width / 2;
	const double p[4] = {-dx, dx, -dy, dy};
	const double q[4] = {stroke->from.x - (box->left - half),
		box->right + half - stroke->from.x, stroke->from.y - (box->top - half),
		box->bottom + half - stroke->from.y};
	double first = 0.0;
	double last = 1.0;
	for (int i = 0; i < 4; i++) {
		if (p[i] == 0.0 && q[i] <= 0.0)
			return false;
		if (p[i] < 0.0)
			first = fmax(first, q[i] / p[i]);
		else if (p[i] > 0.0)
			last = fmin(last, q[i] / p[i]);
	}
	return first < last;
}

#endif
