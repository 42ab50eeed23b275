/* SPDX-License-Identifier: GPL-3.0-or-later */
/* flow.h: a document as strips from top to bottom, and their places on pages. A strip is a row of
 * texts side by side, or a picture. Knows nothing of what they say. */
#ifndef PDF_FLOW_H
#define PDF_FLOW_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "type.h"

/* A page in points, y downwards; texts stand inside the margins. */
typedef struct {
	double width, height;
	double left, top, right, bottom; /* edges of the part that is written on */
} rig_sheet_page;

typedef struct {
	double x;
	PangoLayout *layout; /* belongs to the flow */
	int n_lines;
	const double *line_bottom; /* below the top of the layout */
} rig_cell;

typedef enum {
	RIG_RULE_NONE,
	RIG_RULE_HAIR,
	RIG_RULE_FINE,
	RIG_RULE_INK,
	RIG_RULE_DOUBLE
} rig_rule;

typedef void rig_picture_draw(cairo_t *cairo, const void *picture);

typedef struct rig_strip {
	size_t n_cells, most_cells;
	rig_cell *cells;
	double before;               /* space above; none at the top of a page */
	double pad_above, pad_below; /* inside, between rule and text */
	rig_rule rule_below;
	double rule_from, rule_to;    /* along x */
	bool keep_next;               /* stands on the page of the next strip's start */
	bool whole;                   /* breaks over pages only if it is taller than one */
	bool new_page;                /* begins a page */
	bool warns;                   /* on the wash of cautions */
	const struct rig_strip *head; /* one before it that stands again above it on a new page */
	rig_picture_draw *draw;       /* a picture instead of cells; NULL for none */
	const void *picture;
	double picture_x, picture_width, picture_height; /* as it stands */
	int outline_level; /* 1 or more: an entry of the outline; 0 for none */
	const char *outline;
	double height; /* without the space above; worked out by rig_flow_add */
} rig_strip;

/* A strip, or some lines of it, on a page. */
typedef struct {
	const rig_strip *strip;
	size_t page;
	double y, height;
	const int *first, *last; /* of each cell: lines from first up to, not including, last */
	bool begins, ends;       /* holds the start, the end of the strip */
} rig_piece;

typedef struct {
	rig_arena *arena;
	PangoContext *context;
	rig_sheet_page page;
	size_t n_strips, n_pieces, n_pages;
	rig_strip **strips;
	rig_piece *pieces;
	bool failed;     /* memory was out */
	rig_strip spare; /* filled in vain after a failure */
} rig_flow;

/* A strip that is the flow's own and the last so far, to be filled and then handed to rig_flow_add.
 * Never NULL. */
rig_strip *rig_flow_strip(rig_flow *flow, size_t most_cells);
/* Puts a text into the strip; the flow takes the layout, NULL fails it. */
void rig_strip_put(rig_flow *flow, rig_strip *strip, double x, PangoLayout *layout);
/* Works out the height of a filled strip. */
void rig_flow_add(rig_flow *flow, rig_strip *strip);

/* Gives every strip its pieces. */
void rig_flow_paginate(rig_flow *flow);

void rig_piece_draw(cairo_t *cairo, const rig_piece *piece);

/* Gives back the layouts. */
void rig_flow_clear(rig_flow *flow);

#endif
