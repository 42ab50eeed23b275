/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart.h: charts drawn on a canvas, and what a chart says in words and in a table. Knows scales,
 * ticks and labels; knows no hours and no watts. */
#ifndef REPORT_CHART_H
#define REPORT_CHART_H

#include "base/arena.h"
#include "base/buffer.h"
#include "canvas.h"
#include "rigbudget/document.h"

/* One drawing for a page, one for a telephone. */
typedef enum { RIG_LAYOUT_WIDE, RIG_LAYOUT_NARROW } rig_chart_layout;

/* A scale from 0 to top, in equal steps of 1, 2 or 5 times a power of ten. */
typedef struct {
	double top, step;
	int n_steps;
} rig_scale;

/* The scale that holds value in at most most steps. value > 0, most >= 2. */
rig_scale rig_scale_for(double value, int most);

/* The scale along x over a run, in the chart's own steps if it has some. */
rig_scale rig_chart_x_scale(const rig_chart *chart, double run, int most);

/* Whether any bar or stretch of the chart has the state. */
bool rig_chart_shows(const rig_chart *chart, rig_bar_state state);

/* The value that a chart's scale must hold. A ladder ends at four times its longest line where bars
 * run far beyond: those are drawn torn. > 0. */
double rig_chart_reach(const rig_chart *chart);
/* Whether a bar runs off the chart's scale. */
bool rig_chart_is_torn(const rig_chart *chart, const rig_bar *bar);

/* Draws the chart: canvas->begin first, canvas->end last. Scratch memory comes from the arena.
 * False when memory is out. */
bool rig_chart_draw(const rig_canvas *canvas, const rig_chart *chart, rig_chart_layout layout,
	rig_arena *arena);

/* Sentences with what the chart shows, worked out from what it plots; "" when memory is out. */
const char *rig_chart_sentence(rig_arena *arena, const rig_chart *chart);
/* Everything that the chart plots, as a table; NULL when memory is out. */
const rig_table *rig_chart_table(rig_arena *arena, const rig_chart *chart);
/* "46.2 of 50 A" or "120 (95 to 140) Wh": a bar in words; "" when memory is out. */
const char *rig_bar_words(rig_arena *arena, const rig_chart *chart, const rig_bar *bar);
/* "left over in June: 79 Wh a day": a line across a ladder in words; "" when memory is out. */
const char *rig_mark_words(rig_arena *arena, const rig_chart *chart, size_t i);

#endif
