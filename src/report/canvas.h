/* SPDX-License-Identifier: GPL-3.0-or-later */
/* canvas.h: what a chart draws on: a handful of calls in a plane of units of about one pixel, y
 * downwards. Colours are roles. */
#ifndef REPORT_CANVAS_H
#define REPORT_CANVAS_H

#include <stdbool.h>
#include <stddef.h>

typedef enum {
	RIG_INK_TEXT,
	RIG_INK_QUIET, /* axes and their numbers */
	RIG_INK_GRID,
	RIG_INK_FIRST, /* series, told apart by eyes that miss red or green */
	RIG_INK_SECOND,
	RIG_INK_THIRD,
	RIG_INK_FOURTH,
	RIG_N_INKS
} rig_ink;

/* Red, green and blue of each ink on a light ground. */
extern const unsigned rig_ink_rgb[RIG_N_INKS];

typedef struct {
	double x, y;
} rig_point;

typedef struct {
	rig_ink ink;
	double width;
	bool dashed;
} rig_pen;

typedef enum { RIG_FILL_FULL, RIG_FILL_PALE, RIG_FILL_HATCHED, RIG_FILL_NONE } rig_fill;

/* A filled shape has an outline in its ink unless it is full or pale. */
typedef struct {
	rig_ink ink;
	rig_fill fill;
} rig_brush;

#define RIG_HATCH_SPACING 5.0

typedef enum { RIG_ANCHOR_START, RIG_ANCHOR_MIDDLE, RIG_ANCHOR_END } rig_anchor;

typedef struct {
	rig_ink ink;
	double size;
	bool bold;
	rig_anchor anchor;
} rig_lettering;

typedef struct {
	void *self;
	/* Size of the picture, its name, and what it shows in words. First call. */
	void (*begin)(void *self, rig_point size, const char *name, const char *words);
	void (*line)(void *self, rig_point from, rig_point to, rig_pen pen);
	void (*polyline)(void *self, size_t n, const rig_point *points, rig_pen pen);
	void (*area)(void *self, size_t n, const rig_point *points, rig_brush brush);
	void (*rectangle)(void *self, rig_point corner, rig_point size, rig_brush brush);
	/* at: on the base line. */
	void (*text)(void *self, rig_point at, rig_lettering lettering, const char *text);
	/* What belongs together until the next group or the end. */
	void (*group)(void *self, const char *name);
	void (*end)(void *self);
} rig_canvas;

#endif
