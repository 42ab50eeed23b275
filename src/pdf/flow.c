/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow.h"

#include <math.h>
#include <string.h>

enum { FEWEST_LINES = 2 }; /* of a text that breaks, on either page */

/* Heads taller than this share of a page do not stand again. */
static const double TALLEST_HEAD = 0.3;

static void *take(rig_flow *flow, size_t count, size_t size)
{
	void *memory = rig_arena_take(flow->arena, count, size);
	flow->failed = flow->failed || memory == NULL;
	return memory;
}

/* Room for one more than n: doubles at each power of two. */
static void *grown(rig_flow *flow, void *old, size_t n, size_t size)
{
	if (n > 0 && (n & (n - 1)) != 0)
		return old;
	void *larger = take(flow, n == 0 ? 1 : 2 * n, size);
	if (larger != NULL && n > 0)
		memcpy(larger, old, n * size);
	return larger;
}

rig_strip *rig_flow_strip(rig_flow *flow, size_t most_cells)
{
	rig_strip *strip = take(flow, 1, sizeof *strip);
	rig_cell *cells = take(flow, most_cells, sizeof *cells);
	rig_strip **list = grown(flow, flow->strips, flow->n_strips, sizeof(void *));
	if (strip == NULL || cells == NULL || list == NULL) {
		flow->spare = (rig_strip){0};
		return &flow->spare;
	}
	strip->cells = cells;
	strip->most_cells = most_cells;
	flow->strips = list;
	list[flow->n_strips++] = strip;
	return strip;
}

static double points(int units)
{
	return (double)units / PANGO_SCALE;
}

/* Measures the lines of the cell. */
static void measure(rig_flow *flow, rig_cell *cell)
{
	const int n = pango_layout_get_line_count(cell->layout);
	double *bottoms = take(flow, (size_t)n, sizeof *bottoms);
	if (bottoms == NULL)
		return;
	PangoLayoutIter *iter = pango_layout_get_iter(cell->layout);
	for (int i = 0; i < n; i++) {
		int bottom = 0;
		pango_layout_iter_get_line_yrange(iter, NULL, &bottom);
		bottoms[i] = points(bottom);
		pango_layout_iter_next_line(iter);
	}
	pango_layout_iter_free(iter);
	cell->line_bottom = bottoms;
	cell->n_lines = n;
}

void rig_strip_put(rig_flow *flow, rig_strip *strip, double x, PangoLayout *layout)
{
	if (layout == NULL || strip->n_cells == strip->most_cells) {
		flow->failed = true;
		if (layout != NULL)
			g_object_unref(layout);
		return;
	}
	rig_cell *cell = &strip->cells[strip->n_cells++];
	*cell = (rig_cell){.x = x, .layout = layout};
	measure(flow, cell);
}

/* Height of the lines from one up to another. */
static double lines_height(const rig_cell *cell, int first, int last)
{
	if (last <= first)
		return 0.0;
	return cell->line_bottom[last - 1] - (first > 0 ? cell->line_bottom[first - 1] : 0.0);
}

void rig_flow_add(rig_flow *flow, rig_strip *strip)
{
	if (flow->failed)
		return;
	double height = strip->picture_height;
	for (size_t i = 0; i < strip->n_cells; i++)
		height = fmax(height, lines_height(&strip->cells[i], 0, strip->cells[i].n_lines));
	strip->height = strip->pad_above + height + strip->pad_below;
}

/* Where the next piece comes to stand. */
typedef struct {
	rig_flow *flow;
	double y;
	bool fresh; /* nothing but a head stands on the page */
} cursor;

static void start_page(cursor *at)
{
	at->flow->n_pages++;
	at->y = at->flow->page.top;
	at->fresh = true;
}

static rig_piece *new_piece(rig_flow *flow)
{
	rig_piece *list = grown(flow, flow->pieces, flow->n_pieces, sizeof *list);
	if (list == NULL)
		return NULL;
	flow->pieces = list;
	rig_piece *piece = &list[flow->n_pieces++];
	*piece = (rig_piece){0};
	return piece;
}

/* Places the lines from first up to last of each cell, and moves on. */
static void place(cursor *at, const rig_strip *strip, const int *first, const int *last)
{
	rig_piece *piece = new_piece(at->flow);
	int *from = take(at->flow, strip->n_cells, sizeof *from);
	int *to = take(at->flow, strip->n_cells, sizeof *to);
	if (piece == NULL || from == NULL || to == NULL)
		return;
	*piece = (rig_piece){
		strip, at->flow->n_pages - 1, at->y, strip->picture_height, from, to, true, true};
	for (size_t i = 0; i < strip->n_cells; i++) {
		from[i] = first == NULL ? 0 : first[i];
		to[i] = last == NULL ? strip->cells[i].n_lines : last[i];
		piece->height = fmax(piece->height, lines_height(&strip->cells[i], from[i], to[i]));
		piece->begins = piece->begins && from[i] == 0;
		piece->ends = piece->ends && to[i] == strip->cells[i].n_lines;
	}
	piece->height += piece->begins ? strip->pad_above : 0.0;
	piece->height += piece->ends ? strip->pad_below : 0.0;
	at->y += piece->height;
}

/* A page for the strip, with its head if it has one that is not too tall. */
static void start_page_for(cursor *at, const rig_strip *strip)
{
	start_page(at);
	const rig_sheet_page *page = &at->flow->page;
	if (strip->head != NULL && strip->head->height < TALLEST_HEAD * (page->bottom - page->top))
		place(at, strip->head, NULL, NULL);
}

/* What the strip needs at least on the page on which it starts. */
static double start_height(const rig_strip *strip)
{
	const bool breaks =
		!strip->whole && strip->n_cells == 1 && strip->cells[0].n_lines > FEWEST_LINES + 1;
	return breaks ? strip->pad_above + lines_height(&strip->cells[0], 0, FEWEST_LINES)
		      : strip->height;
}

/* The last of the strips that stand together from i on, as far as a page holds them; *height is
 * what they take. */
static size_t kept_until(const rig_flow *flow, size_t i, double *height)
{
	const double page = flow->page.bottom - flow->page.top;
	double before = 0.0; /* of those before the last one */
	*height = start_height(flow->strips[i]);
	while (i + 1 < flow->n_strips && flow->strips[i]->keep_next) {
		before += flow->strips[i]->height + flow->strips[i + 1]->before;
		const double more = before + start_height(flow->strips[i + 1]);
		if (more > page)
			break;
		*height = more;
		i++;
	}
	return i;
}

/* The lines of a cell that fit, at least none. */
static int lines_within(const rig_cell *cell, int first, double room)
{
	int last = first;
	while (last < cell->n_lines && lines_height(cell, first, last + 1) <= room)
		last++;
	return last;
}

/* Whether any line is left after those before last. */
static bool fill(const cursor *at, const rig_strip *strip, const int *first, int *last)
{
	const double room = at->flow->page.bottom - at->y;
	bool left = false;
	bool moves = false;
	for (size_t i = 0; i < strip->n_cells; i++) {
		const rig_cell *cell = &strip->cells[i];
		last[i] = lines_within(
			cell, first[i], room - (first[i] == 0 ? strip->pad_above : 0.0));
		/* no line alone on the next page */
		if (strip->n_cells == 1 && cell->n_lines - last[i] == 1 &&
			last[i] - first[i] > FEWEST_LINES)
			last[i]--;
		left = left || last[i] < cell->n_lines;
		moves = moves || last[i] > first[i];
	}
	/* a line taller than a page stands on one all the same */
	for (size_t i = 0; i < strip->n_cells && !moves && at->fresh; i++)
		last[i] = first[i] < strip->cells[i].n_lines ? first[i] + 1 : first[i];
	return left;
}

/* Places a strip over as many pages as it takes. */
static void place_broken(cursor *at, const rig_strip *strip)
{
	int *first = take(at->flow, strip->n_cells, sizeof *first);
	int *last = take(at->flow, strip->n_cells, sizeof *last);
	if (first == NULL || last == NULL)
		return;
	bool left = true;
	while (left && !at->flow->failed) {
		left = fill(at, strip, first, last);
		place(at, strip, first, last);
		memcpy(first, last, strip->n_cells * sizeof *first);
		at->fresh = false;
		if (left)
			start_page_for(at, strip);
	}
}

/* Places a strip, on a new page if those that it is kept with do not fit on this one; *until is the
 * last strip for which that is settled. */
static void place_next(cursor *at, size_t i, size_t *until)
{
	const rig_flow *flow = at->flow;
	const rig_strip *strip = flow->strips[i];
	const double bottom = flow->page.bottom + 0.01; /* of rounding */
	double needed = 0.0;
	if (i > *until || i == 0)
		*until = kept_until(flow, i, &needed);
	if (!at->fresh && (strip->new_page || at->y + strip->before + needed > bottom))
		start_page_for(at, strip);
	else
		at->y += at->fresh ? 0.0 : strip->before;
	if (at->y + strip->height > bottom && strip->n_cells > 0) {
		place_broken(at, strip);
		return;
	}
	place(at, strip, NULL, NULL);
	at->fresh = false;
}

void rig_flow_paginate(rig_flow *flow)
{
	cursor at = {.flow = flow};
	size_t until = 0;
	start_page(&at);
	for (size_t i = 0; i < flow->n_strips && !flow->failed; i++)
		place_next(&at, i, &until);
}

/* Draws the lines of a cell from first up to last, the first one's top at y. */
static void draw_lines(cairo_t *cairo, const rig_cell *cell, double y, int first, int last)
{
	const double above = first > 0 ? cell->line_bottom[first - 1] : 0.0;
	PangoLayoutIter *iter = pango_layout_get_iter(cell->layout);
	for (int i = 0; i < last; i++) {
		PangoRectangle logical;
		pango_layout_iter_get_line_extents(iter, NULL, &logical);
		if (i >= first) {
			cairo_move_to(cairo, cell->x + points(logical.x),
				y - above + points(pango_layout_iter_get_baseline(iter)));
			pango_cairo_show_layout_line(
				cairo, pango_layout_iter_get_line_readonly(iter));
		}
		pango_layout_iter_next_line(iter);
	}
	pango_layout_iter_free(iter);
}

static void draw_rule(cairo_t *cairo, const rig_strip *strip, double y)
{
	static const struct {
		double width;
		rig_tone tone;
	} RULE[] = {[RIG_RULE_HAIR] = {0.5, RIG_TONE_HAIR},
		[RIG_RULE_FINE] = {0.5, RIG_TONE_RULE},
		[RIG_RULE_INK] = {0.6, RIG_TONE_INK},
		[RIG_RULE_DOUBLE] = {0.6, RIG_TONE_INK}};
	if (strip->rule_below == RIG_RULE_NONE)
		return;
	rig_tone_use(cairo, RULE[strip->rule_below].tone);
	cairo_set_line_width(cairo, RULE[strip->rule_below].width);
	const int n = strip->rule_below == RIG_RULE_DOUBLE ? 2 : 1;
	for (int i = 0; i < n; i++) {
		cairo_move_to(cairo, strip->rule_from, y - 1.8 * i);
		cairo_line_to(cairo, strip->rule_to, y - 1.8 * i);
	}
	cairo_stroke(cairo);
}

static void draw_wash(cairo_t *cairo, const rig_piece *piece)
{
	const double left = piece->strip->rule_from;
	rig_tone_use(cairo, RIG_TONE_WASH);
	cairo_rectangle(cairo, left, piece->y, piece->strip->rule_to - left, piece->height);
	cairo_fill(cairo);
	rig_tone_use(cairo, RIG_TONE_WARN);
	cairo_rectangle(cairo, left, piece->y, 2.0, piece->height);
	cairo_fill(cairo);
}

void rig_piece_draw(cairo_t *cairo, const rig_piece *piece)
{
	const rig_strip *strip = piece->strip;
	const double y = piece->y + (piece->begins ? strip->pad_above : 0.0);
	if (strip->warns)
		draw_wash(cairo, piece);
	if (strip->draw != NULL) {
		cairo_save(cairo);
		cairo_translate(cairo, strip->picture_x, y);
		strip->draw(cairo, strip->picture);
		cairo_restore(cairo);
	}
	for (size_t i = 0; i < strip->n_cells; i++)
		draw_lines(cairo, &strip->cells[i], y, piece->first[i], piece->last[i]);
	if (piece->ends)
		draw_rule(cairo, strip, piece->y + piece->height);
}

void rig_flow_clear(rig_flow *flow)
{
	for (size_t i = 0; i < flow->n_strips; i++) {
		for (size_t j = 0; j < flow->strips[i]->n_cells; j++)
			g_object_unref(flow->strips[i]->cells[j].layout);
	}
	flow->n_strips = 0;
}
