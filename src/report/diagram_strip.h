/* SPDX-License-Identifier: GPL-3.0-or-later */
/* diagram_strip.h: the diagram as one long strip, before it is cut into sheets. */
#ifndef REPORT_DIAGRAM_STRIP_H
#define REPORT_DIAGRAM_STRIP_H

#include "diagram.h"
#include "drawing.h"

/* A height at which the strip may be cut. */
typedef struct {
	double y;
	bool part; /* a part of the coach ends here: better than between two rows */
} diagram_break;

typedef struct {
	const rig_diagram *diagram;
	rig_arena *arena;
	rig_diagram_layout made; /* of one sheet, heads left out */
	rig_drawing letters;     /* for wrapping: size and row only */
	bool narrow;
	double height;
	size_t n_breaks;
	diagram_break *breaks;
} diagram_strip;

/* strip: diagram, arena and narrow are set, the rest is zero. */
void diagram_strip_lay_out(diagram_strip *strip);

void diagram_add_stroke(diagram_strip *strip, rig_diagram_stroke stroke);
void diagram_add_text(diagram_strip *strip, rig_diagram_text text);
/* Adds a text wrapped to a width, the first line on the base line at; the base line after it. */
double diagram_add_wrapped(diagram_strip *strip, const char *text, rig_point at, double width,
	rig_lettering lettering);
void diagram_add_mark(diagram_strip *strip, rig_diagram_mark mark);

#endif
