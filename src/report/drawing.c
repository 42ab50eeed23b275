/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include <math.h>
#include <string.h>

#include "glyph.h"

static const double WIDE_WIDTH = 680.0;
static const double NARROW_WIDTH = 320.0;
static const double TITLE_SIZE = 15.0;
static const double SAMPLE_WIDTH = 18.0; /* of a box or a stroke in the key */
static const double KEY_GAP = 14.0;

double rig_drawing_text_width(const char *text, double size, bool bold)
{
	return rig_glyph_text_width(text) * size * (bold ? 1.1 : 1.0);
}

/* Bytes of the text that fit in em units; at least so many. */
static size_t bytes_within(const char *text, double ems, size_t least)
{
	const char *at = text;
	double width = 0.0;
	while (*at != '\0') {
		const char *next = at;
		rig_glyph_next(&next);
		char one[8] = {0};
		memcpy(one, at, (size_t)(next - at));
		width += rig_glyph_text_width(one);
		if (width > ems && (size_t)(at - text) >= least)
			break;
		at = next;
	}
	return (size_t)(at - text);
}

/* Bytes of the next line: up to the last space that fits. */
static size_t line_bytes(const char *text, double ems)
{
	const size_t most = bytes_within(text, ems, 1);
	if (text[most] == '\0' || text[most] == ' ')
		return most;
	for (size_t i = most; i > 0; i--) {
		if (text[i - 1] == ' ')
			return i - 1;
	}
	return most;
}

static const char *piece(rig_drawing *drawing, const char *text, size_t length, const char *after)
{
	const char *copy = rig_arena_format(drawing->arena, "%.*s%s", (int)length, text, after);
	if (copy == NULL)
		drawing->failed = true;
	return copy == NULL ? "" : copy;
}

rig_label rig_drawing_wrap(rig_drawing *drawing, const char *text, double width, size_t most_lines)
{
	static const char ELLIPSIS[] = "\xe2\x80\xa6";
	const double ems = width / drawing->size;
	rig_label label = {0, rig_arena_take(drawing->arena, most_lines, sizeof *label.line)};
	if (label.line == NULL) {
		drawing->failed = true;
		return label;
	}
	const char *rest = text + strspn(text, " ");
	while (*rest != '\0' && label.n < most_lines) {
		size_t length = line_bytes(rest, ems);
		const char *next = rest + length + strspn(rest + length, " ");
		const bool cut = label.n + 1 == most_lines && *next != '\0';
		if (cut)
			length = bytes_within(rest, fmax(ems - 1.0, 0.0), 0);
		label.line[label.n++] = piece(drawing, rest, length, cut ? ELLIPSIS : "");
		rest = next;
	}
	return label;
}

void rig_drawing_label(
	const rig_drawing *drawing, const rig_label *label, rig_point at, rig_lettering lettering)
{
	for (size_t i = 0; i < label->n; i++) {
		const rig_point base = {at.x, at.y + (double)i * drawing->row};
		drawing->canvas->text(drawing->canvas->self, base, lettering, label->line[i]);
	}
}

rig_lettering rig_drawing_lettering(const rig_drawing *drawing, rig_ink ink, rig_anchor anchor)
{
	return (rig_lettering){ink, drawing->size, false, anchor};
}

rig_pen rig_drawing_line_pen(const rig_chart *chart, size_t i)
{
	static const rig_ink INKS[] = {RIG_INK_SECOND, RIG_INK_THIRD, RIG_INK_FOURTH};
	const rig_line *line = &chart->lines[i];
	/* in a course no bar takes the first colour */
	size_t turn = i;
	if (chart->kind == RIG_CHART_COURSE) {
		if (line->level)
			return (rig_pen){RIG_INK_TEXT, 1.4, true};
		if (i == 0)
			return (rig_pen){RIG_INK_FIRST, 2.0, false};
		turn = i - 1;
	}
	return (rig_pen){INKS[turn % 3], 2.4, line->level && turn > 0};
}

void rig_drawing_bar(
	const rig_drawing *drawing, rig_point corner, rig_point size, rig_bar_state state)
{
	const rig_canvas *canvas = drawing->canvas;
	switch (state) {
	case RIG_BAR_CLOSE:
		canvas->rectangle(
			canvas->self, corner, size, (rig_brush){RIG_INK_FIRST, RIG_FILL_PALE});
		canvas->rectangle(
			canvas->self, corner, size, (rig_brush){RIG_INK_FIRST, RIG_FILL_NONE});
		break;
	case RIG_BAR_FAILS:
		canvas->rectangle(
			canvas->self, corner, size, (rig_brush){RIG_INK_SECOND, RIG_FILL_HATCHED});
		break;
	default:
		canvas->rectangle(
			canvas->self, corner, size, (rig_brush){RIG_INK_FIRST, RIG_FILL_FULL});
		break;
	}
}

/* The key as it flows into rows. */
typedef struct {
	rig_drawing *drawing;
	bool draw;
	rig_point at; /* base line of the next entry */
	bool any;
} key_row;

typedef enum { SAMPLE_STATE, SAMPLE_LINE, SAMPLE_RANGE, SAMPLE_LIMIT } sample_kind;

static void draw_sample(const key_row *key, sample_kind kind, size_t which)
{
	const rig_drawing *drawing = key->drawing;
	const rig_canvas *canvas = drawing->canvas;
	const double middle = key->at.y - drawing->size * 0.35;
	const double x = key->at.x;
	const rig_pen thin = {RIG_INK_TEXT, 1.4, false};
	if (kind == SAMPLE_STATE) {
		rig_drawing_bar(drawing, (rig_point){x, middle - 5.0},
			(rig_point){SAMPLE_WIDTH, 10.0}, (rig_bar_state)which);
	} else if (kind == SAMPLE_LINE) {
		canvas->line(canvas->self, (rig_point){x, middle},
			(rig_point){x + SAMPLE_WIDTH, middle},
			rig_drawing_line_pen(drawing->chart, which));
	} else if (kind == SAMPLE_LIMIT) {
		canvas->line(canvas->self, (rig_point){x + SAMPLE_WIDTH - 4.0, middle - 7.0},
			(rig_point){x + SAMPLE_WIDTH - 4.0, middle + 7.0},
			(rig_pen){RIG_INK_TEXT, 3.0, false});
	} else {
		canvas->line(canvas->self, (rig_point){x, middle},
			(rig_point){x + SAMPLE_WIDTH, middle}, thin);
		canvas->line(canvas->self, (rig_point){x, middle - 4.0},
			(rig_point){x, middle + 4.0}, thin);
		canvas->line(canvas->self, (rig_point){x + SAMPLE_WIDTH, middle - 4.0},
			(rig_point){x + SAMPLE_WIDTH, middle + 4.0}, thin);
	}
}

static void add_entry(key_row *key, sample_kind kind, size_t which, const char *words)
{
	rig_drawing *drawing = key->drawing;
	if (words == NULL || words[0] == '\0')
		return;
	const double room = drawing->width - SAMPLE_WIDTH - 6.0;
	const rig_label label = rig_drawing_wrap(drawing, words, room, 1);
	const char *text = label.n == 0 ? "" : label.line[0];
	const double width =
		SAMPLE_WIDTH + 6.0 + rig_drawing_text_width(text, drawing->size, false);
	if (key->any && key->at.x + width > drawing->width) {
		key->at.x = 0.0;
		key->at.y += drawing->row + 3.0;
	}
	if (key->draw) {
		draw_sample(key, kind, which);
		drawing->canvas->text(drawing->canvas->self,
			(rig_point){key->at.x + SAMPLE_WIDTH + 6.0, key->at.y},
			rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START), text);
	}
	key->at.x += width + KEY_GAP;
	key->any = true;
}

static void add_entries(key_row *key, bool lines_in_key)
{
	const rig_chart *chart = key->drawing->chart;
	bool doubt = false;
	bool limit = false;
	for (size_t i = 0; i < chart->n_bars; i++) {
		doubt = doubt || chart->bars[i].value.high > chart->bars[i].value.low;
		limit = limit || chart->bars[i].limit > 0;
	}
	for (size_t i = 0; i < RIG_N_BAR_STATES; i++) {
		if (rig_chart_shows(chart, (rig_bar_state)i))
			add_entry(key, SAMPLE_STATE, i, chart->state_text[i]);
	}
	if (doubt)
		add_entry(key, SAMPLE_RANGE, 0, "range");
	if (limit)
		add_entry(key, SAMPLE_LIMIT, 0, "limit");
	for (size_t i = 0; lines_in_key && i < chart->n_lines; i++)
		add_entry(key, SAMPLE_LINE, i,
			chart->kind == RIG_CHART_LADDER
				? rig_mark_words(key->drawing->arena, chart, i)
				: chart->lines[i].label);
}

double rig_drawing_head(rig_drawing *drawing, bool lines_in_key, bool draw)
{
	const double normal = drawing->size;
	drawing->size = TITLE_SIZE * 1.1; /* bold is wider */
	const rig_label title = rig_drawing_wrap(drawing, drawing->chart->title, drawing->width, 3);
	drawing->size = normal;
	const char *quantity = rig_arena_format(
		drawing->arena, "%s, %s", drawing->chart->quantity, drawing->chart->unit);
	if (quantity == NULL)
		drawing->failed = true;
	const rig_label below =
		rig_drawing_wrap(drawing, quantity == NULL ? "" : quantity, drawing->width, 3);
	const double title_row = TITLE_SIZE * 1.3;
	for (size_t i = 0; draw && i < title.n; i++)
		drawing->canvas->text(drawing->canvas->self,
			(rig_point){0.0, TITLE_SIZE + (double)i * title_row},
			(rig_lettering){RIG_INK_TEXT, TITLE_SIZE, true, RIG_ANCHOR_START},
			title.line[i]);
	double y = TITLE_SIZE + (double)title.n * title_row;
	if (draw)
		rig_drawing_label(drawing, &below, (rig_point){0.0, y},
			rig_drawing_lettering(drawing, RIG_INK_QUIET, RIG_ANCHOR_START));
	y += (double)below.n * drawing->row + 4.0;
	key_row key = {.drawing = drawing, .draw = draw, .at = {0.0, y}};
	add_entries(&key, lines_in_key);
	return key.any ? key.at.y + drawing->row : y;
}

/* Indices in the order of their values: few, so by insertion. */
static void sort_by(size_t n, const double *values, size_t *order)
{
	for (size_t i = 0; i < n; i++) {
		size_t j = i;
		for (; j > 0 && values[order[j - 1]] > values[i]; j--)
			order[j] = order[j - 1];
		order[j] = i;
	}
}

enum { MOST_LABELS = 8 };

void rig_drawing_spread(size_t n, double *y, double gap, double first, double last)
{
	size_t order[MOST_LABELS];
	if (n == 0 || n > MOST_LABELS)
		return;
	sort_by(n, y, order);
	y[order[0]] = fmax(y[order[0]], first);
	for (size_t i = 1; i < n; i++)
		y[order[i]] = fmax(y[order[i]], y[order[i - 1]] + gap);
	double limit = last;
	for (size_t i = n; i > 0; i--) {
		y[order[i - 1]] = fmin(y[order[i - 1]], limit);
		limit = y[order[i - 1]] - gap;
	}
}

void rig_drawing_end_labels(
	rig_drawing *drawing, const double *end_y, rig_point top_left, rig_point bottom_right)
{
	enum { MOST_LINES = 3 };
	const rig_chart *chart = drawing->chart;
	const size_t n = chart->n_lines > MOST_LABELS ? MOST_LABELS : chart->n_lines;
	double y[MOST_LABELS];
	rig_label labels[MOST_LABELS];
	double tallest = 1.0;
	for (size_t i = 0; i < n; i++) {
		labels[i] = rig_drawing_wrap(
			drawing, chart->lines[i].label, bottom_right.x - top_left.x, MOST_LINES);
		tallest = fmax(tallest, (double)labels[i].n);
		y[i] = end_y[i] + drawing->size * 0.35;
	}
	const double gap = tallest * drawing->row + 2.0;
	rig_drawing_spread(
		n, y, gap, top_left.y + drawing->size, bottom_right.y - gap + drawing->row);
	for (size_t i = 0; i < n; i++)
		rig_drawing_label(drawing, &labels[i], (rig_point){top_left.x, y[i]},
			rig_drawing_lettering(drawing, RIG_INK_TEXT, RIG_ANCHOR_START));
}

bool rig_chart_draw(
	const rig_canvas *canvas, const rig_chart *chart, rig_chart_layout layout, rig_arena *arena)
{
	const bool narrow = layout == RIG_LAYOUT_NARROW;
	rig_drawing drawing = {.canvas = canvas,
		.chart = chart,
		.arena = arena,
		.narrow = narrow,
		.width = narrow ? NARROW_WIDTH : WIDE_WIDTH,
		.size = narrow ? 13.0 : 12.5,
		.row = narrow ? 16.0 : 15.5};
	switch (chart->kind) {
	case RIG_CHART_MONTHS:
		rig_draw_months(&drawing);
		break;
	case RIG_CHART_LADDER:
	case RIG_CHART_LIMITS:
		rig_draw_bars(&drawing);
		break;
	case RIG_CHART_COURSE:
		rig_draw_course(&drawing);
		break;
	case RIG_CHART_LANES:
		rig_draw_lanes(&drawing);
		break;
	}
	return !drawing.failed;
}
