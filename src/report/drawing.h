/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drawing.h: what the kinds of chart share while they are drawn: wrapped labels, the head with the
 * title and the key, pens and brushes, labels kept apart. */
#ifndef REPORT_DRAWING_H
#define REPORT_DRAWING_H

#include "chart.h"

typedef struct {
	const rig_canvas *canvas;
	const rig_chart *chart;
	rig_arena *arena;
	bool narrow;
	double width;
	double size; /* of the letters */
	double row;  /* from one base line to the next */
	bool failed; /* memory was out */
} rig_drawing;

/* A text cut into lines of a width; the last one ends in an ellipsis if not all fits. */
typedef struct {
	size_t n;
	const char **line;
} rig_label;

/* Width of a text at a size; bold adds a tenth. */
double rig_drawing_text_width(const char *text, double size, bool bold);
rig_label rig_drawing_wrap(rig_drawing *drawing, const char *text, double width, size_t most_lines);
/* Draws the lines one below the other, the first on the base line at. */
void rig_drawing_label(
	const rig_drawing *drawing, const rig_label *label, rig_point at, rig_lettering lettering);
/* Text ink, the drawing's size. */
rig_lettering rig_drawing_lettering(const rig_drawing *drawing, rig_ink ink, rig_anchor anchor);

/* The pen and ink of the i-th line. */
rig_pen rig_drawing_line_pen(const rig_chart *chart, size_t i);
/* A bar in the manner of its state. */
void rig_drawing_bar(
	const rig_drawing *drawing, rig_point corner, rig_point size, rig_bar_state state);

/* Height of the head: the title, the quantity with its unit, and the key, where lines are told too
 * if they are not labelled in the plot. The second call draws it, after canvas->begin. */
double rig_drawing_head(rig_drawing *drawing, bool lines_in_key, bool draw);

/* Moves n base lines apart to at least gap, in their order by y, and into first to last as far as
 * there is room. y is changed in place. */
void rig_drawing_spread(size_t n, double *y, double gap, double first, double last);

/* Labels at the right ends of lines. */
void rig_drawing_end_labels(
	rig_drawing *drawing, const double *end_y, rig_point top_left, rig_point bottom_right);

/* The kinds; called by rig_chart_draw. */
void rig_draw_months(rig_drawing *drawing);
void rig_draw_bars(rig_drawing *drawing);
void rig_draw_course(rig_drawing *drawing);
void rig_draw_lanes(rig_drawing *drawing);

#endif
