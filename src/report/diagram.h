/* SPDX-License-Identifier: GPL-3.0-or-later */
/* diagram.h: a one-line diagram laid out by rule, as figures, and drawn on a canvas.
 *
 * The rule: sources and what follows them stand one below the other on an upright line; each bus is
 * an upright bar, its rows to its right one below the other in the order of the items, and a bus
 * that hangs on a row stands below that row and to the right of the bar that the row hangs on. So
 * the lines of the forest cannot cross. Lines across run down the right edge, the longer farther
 * out; two of them cross only where their ends take turns from top to bottom. */
#ifndef REPORT_DIAGRAM_H
#define REPORT_DIAGRAM_H

#include "chart.h"

/* A straight line of the diagram; bars are wide. */
typedef struct {
	rig_point from, to;
	double width;
	int net; /* lines with the same number are one conductor and may meet */
	size_t sheet;
} rig_diagram_stroke;

typedef struct {
	rig_symbol symbol;
	rig_point at; /* its middle; it fills RIG_SYMBOL_HALF to each side */
	bool upright; /* the line through it runs down, not to the right */
	size_t sheet;
} rig_diagram_mark;

typedef struct {
	const char *text;
	rig_point at; /* on the base line */
	rig_lettering lettering;
	size_t sheet;
} rig_diagram_text;

#define RIG_SYMBOL_HALF 13.0

typedef struct {
	double width;
	size_t n_sheets, n_strokes, n_marks, n_texts;
	double *height; /* of each sheet */
	rig_diagram_stroke *strokes;
	rig_diagram_mark *marks;
	rig_diagram_text *texts;
	bool failed; /* memory was out */
} rig_diagram_layout;

/* The wide layout is cut into sheets that fit a page of Letter or A4; the narrow one is one strip.
 */
rig_diagram_layout rig_diagram_lay_out(
	const rig_diagram *diagram, rig_chart_layout layout, rig_arena *arena);

/* Pairs of lines of different conductors that meet anywhere on a sheet. */
size_t rig_diagram_crossings(const rig_diagram_layout *layout);

/* Draws one sheet: canvas->begin first, canvas->end last. */
void rig_diagram_draw(const rig_canvas *canvas, const rig_diagram *diagram,
	const rig_diagram_layout *layout, size_t sheet);

/* "20 A breaker, 2 poles; 12 AWG, 24 ft": the line to an item in words; "" when memory is out. */
const char *rig_diagram_line_words(rig_arena *arena, const rig_diagram_item *item);
/* An item with its line, its text and where it is joined to. */
const char *rig_diagram_item_words(rig_arena *arena, const rig_diagram *diagram, size_t i);
/* What the drawing shows, in a sentence. */
const char *rig_diagram_sentence(rig_arena *arena, const rig_diagram *diagram, size_t n_sheets);

/* Draws a symbol; strokes of the line reach it at RIG_SYMBOL_HALF from its middle. */
void rig_symbol_draw(const rig_canvas *canvas, rig_symbol symbol, rig_point at, bool upright);
/* "fuse". Never NULL. */
const char *rig_symbol_text(rig_symbol symbol);

#endif
