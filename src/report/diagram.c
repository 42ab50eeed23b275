/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagram.h"

#include <math.h>
#include <string.h>

#include "diagram_strip.h"

/* A sheet of 680 by so many units takes 162 by 210 mm on paper, its letters then 7 points high, and
 * leaves room on a Letter or A4 page for the head of the report. */
static const double SHEET_HEIGHT = 880.0;
static const double LETTER_ROOM = 18.0; /* for the letters where a sheet is cut */
static const double TITLE_SIZE = 15.0, NOTE_SIZE = 11.0;
/* A part that ends above so much of the sheet is no reason to begin a new one. */
static const double LEAST_SHARE = 0.4;

enum { MOST_SHEETS = 200 };

/* The strip's cuts: sheet i runs from cut[i] to cut[i + 1]. */
typedef struct {
	diagram_strip *strip;
	size_t n_sheets;
	double cut[MOST_SHEETS + 1];
	rig_diagram_layout out;
} cutter;

static double head_height(diagram_strip *strip)
{
	diagram_strip trial = {.diagram = strip->diagram,
		.arena = strip->arena,
		.letters = strip->letters,
		.made = {.width = strip->made.width}};
	const double width = strip->made.width;
	double y = diagram_add_wrapped(&trial, strip->diagram->title, (rig_point){0.0, TITLE_SIZE},
		width * 0.85, (rig_lettering){RIG_INK_TEXT, TITLE_SIZE, true, RIG_ANCHOR_START});
	y = diagram_add_wrapped(&trial, strip->diagram->note, (rig_point){0.0, y - 2.0}, width,
		(rig_lettering){RIG_INK_QUIET, NOTE_SIZE, false, RIG_ANCHOR_START});
	strip->made.failed = strip->made.failed || trial.made.failed;
	return y;
}

/* The best height to end a sheet that starts at first. */
static double next_cut(const diagram_strip *strip, double first, double room)
{
	double part = 0.0, row = 0.0, beyond = strip->height;
	for (size_t i = 0; i < strip->n_breaks; i++) {
		const diagram_break *one = &strip->breaks[i];
		if (one->y <= first)
			continue;
		if (one->y > first + room)
			beyond = fmin(beyond, one->y);
		else if (one->part)
			part = fmax(part, one->y);
		else
			row = fmax(row, one->y);
	}
	if (part > first + LEAST_SHARE * room || (part > 0.0 && row == 0.0))
		return part;
	if (row > 0.0)
		return fmax(row, part);
	return beyond;
}

static void choose_cuts(cutter *cut, double head)
{
	const diagram_strip *strip = cut->strip;
	const double room = strip->narrow ? strip->height : SHEET_HEIGHT - head - 2.0 * LETTER_ROOM;
	double first = 0.0;
	while (strip->height - first > room && cut->n_sheets + 1 < MOST_SHEETS) {
		first = next_cut(strip, first, room);
		if (first >= strip->height)
			break;
		cut->cut[++cut->n_sheets] = first;
	}
	cut->cut[++cut->n_sheets] = strip->height;
}

static size_t sheet_of(const cutter *cut, double y)
{
	size_t i = 0;
	while (i + 1 < cut->n_sheets && y >= cut->cut[i + 1])
		i++;
	return i;
}

/* From the strip to a sheet. */
static double on_sheet(const cutter *cut, size_t sheet, double head, double y)
{
	return y - cut->cut[sheet] + head + (sheet > 0 ? LETTER_ROOM : 0.0);
}

/* A letter at both ends of a line that goes on. */
static void add_letters(diagram_strip *to, const cutter *cut, size_t above, double head, double x)
{
	static size_t N_LETTERS = 26;
	size_t n = 0;
	for (size_t i = 0; i < to->made.n_texts; i++)
		n += to->made.texts[i].lettering.ink == RIG_INK_FIRST;
	n /= 2;
	const char *name = n < N_LETTERS ? rig_arena_format(to->arena, "%c", 'A' + (int)n)
					 : rig_arena_format(to->arena, "%c%zu",
						   'A' + (int)(n % N_LETTERS), n / N_LETTERS);
	if (name == NULL) {
		to->made.failed = true;
		return;
	}
	const rig_lettering letters = {RIG_INK_FIRST, NOTE_SIZE, true, RIG_ANCHOR_MIDDLE};
	diagram_add_text(to,
		(rig_diagram_text){name,
			{x, on_sheet(cut, above, head, cut->cut[above + 1]) + LETTER_ROOM - 6.0},
			letters, above});
	diagram_add_text(
		to, (rig_diagram_text){name, {x, head + LETTER_ROOM - 6.0}, letters, above + 1});
}

static void cut_stroke(diagram_strip *to, const cutter *cut, double head, rig_diagram_stroke stroke)
{
	if (stroke.from.y > stroke.to.y) {
		const rig_point from = stroke.from;
		stroke.from = stroke.to;
		stroke.to = from;
	}
	size_t sheet = sheet_of(cut, stroke.from.y);
	const size_t last = sheet_of(cut, stroke.to.y);
	for (; sheet <= last; sheet++) {
		rig_diagram_stroke piece = stroke;
		piece.sheet = sheet;
		piece.from.y = on_sheet(cut, sheet, head, fmax(stroke.from.y, cut->cut[sheet]));
		piece.to.y = on_sheet(
			cut, sheet, head, sheet < last ? cut->cut[sheet + 1] : stroke.to.y);
		diagram_add_stroke(to, piece);
		if (sheet < last)
			add_letters(to, cut, sheet, head, stroke.from.x);
	}
}

static void add_heads(diagram_strip *to, const cutter *cut)
{
	const rig_diagram *diagram = to->diagram;
	const double width = to->made.width;
	for (size_t i = 0; i < cut->n_sheets; i++) {
		const size_t before = to->made.n_texts;
		double y = diagram_add_wrapped(to, diagram->title, (rig_point){0.0, TITLE_SIZE},
			width * 0.85,
			(rig_lettering){RIG_INK_TEXT, TITLE_SIZE, true, RIG_ANCHOR_START});
		diagram_add_wrapped(to, diagram->note, (rig_point){0.0, y - 2.0}, width,
			(rig_lettering){RIG_INK_QUIET, NOTE_SIZE, false, RIG_ANCHOR_START});
		for (size_t j = before; j < to->made.n_texts; j++)
			to->made.texts[j].sheet = i;
		if (cut->n_sheets < 2)
			continue;
		const char *number =
			rig_arena_format(to->arena, "sheet %zu of %zu", i + 1, cut->n_sheets);
		if (number == NULL) {
			to->made.failed = true;
			return;
		}
		diagram_add_text(to, (rig_diagram_text){number, {width, TITLE_SIZE},
					     {RIG_INK_QUIET, NOTE_SIZE, false, RIG_ANCHOR_END}, i});
	}
}

static void cut_up(diagram_strip *to, const cutter *cut, double head)
{
	const rig_diagram_layout *from = &cut->strip->made;
	for (size_t i = 0; i < from->n_strokes; i++)
		cut_stroke(to, cut, head, from->strokes[i]);
	for (size_t i = 0; i < from->n_marks; i++) {
		rig_diagram_mark mark = from->marks[i];
		mark.sheet = sheet_of(cut, mark.at.y);
		mark.at.y = on_sheet(cut, mark.sheet, head, mark.at.y);
		diagram_add_mark(to, mark);
	}
	for (size_t i = 0; i < from->n_texts; i++) {
		rig_diagram_text text = from->texts[i];
		text.sheet = sheet_of(cut, text.at.y);
		text.at.y = on_sheet(cut, text.sheet, head, text.at.y);
		diagram_add_text(to, text);
	}
	add_heads(to, cut);
}

rig_diagram_layout rig_diagram_lay_out(
	const rig_diagram *diagram, rig_chart_layout layout, rig_arena *arena)
{
	diagram_strip strip = {
		.diagram = diagram, .arena = arena, .narrow = layout == RIG_LAYOUT_NARROW};
	diagram_strip_lay_out(&strip);
	cutter *cut = rig_arena_take(arena, 1, sizeof *cut);
	if (strip.made.failed || cut == NULL)
		return (rig_diagram_layout){.failed = true};
	const double head = head_height(&strip);
	cut->strip = &strip;
	choose_cuts(cut, head);
	diagram_strip sheets = {.diagram = diagram,
		.arena = arena,
		.letters = strip.letters,
		.made = {.width = strip.made.width, .n_sheets = cut->n_sheets}};
	cut_up(&sheets, cut, head);
	sheets.made.height = rig_arena_take(arena, cut->n_sheets, sizeof *sheets.made.height);
	if (sheets.made.height == NULL)
		return (rig_diagram_layout){.failed = true};
	for (size_t i = 0; i < cut->n_sheets; i++)
		sheets.made.height[i] = ceil(on_sheet(cut, i, head, cut->cut[i + 1]) +
					     (i + 1 < cut->n_sheets ? LETTER_ROOM : 2.0));
	return sheets.made;
}

/* Upright and lying lines only. */
static bool meet(const rig_diagram_stroke *a, const rig_diagram_stroke *b)
{
	const double half = 0.25; /* lines that end at one another's edge do not meet */
	return fmin(a->from.x, a->to.x) <= fmax(b->from.x, b->to.x) - half &&
	       fmin(b->from.x, b->to.x) <= fmax(a->from.x, a->to.x) - half &&
	       fmin(a->from.y, a->to.y) <= fmax(b->from.y, b->to.y) - half &&
	       fmin(b->from.y, b->to.y) <= fmax(a->from.y, a->to.y) - half;
}

size_t rig_diagram_crossings(const rig_diagram_layout *layout)
{
	size_t n = 0;
	for (size_t i = 0; i < layout->n_strokes; i++)
		for (size_t j = i + 1; j < layout->n_strokes; j++) {
			const rig_diagram_stroke *a = &layout->strokes[i], *b = &layout->strokes[j];
			n += a->net != b->net && a->sheet == b->sheet && meet(a, b);
		}
	return n;
}

void rig_diagram_draw(const rig_canvas *canvas, const rig_diagram *diagram,
	const rig_diagram_layout *layout, size_t sheet)
{
	canvas->begin(canvas->self, (rig_point){layout->width, layout->height[sheet]},
		diagram->title, diagram->note);
	canvas->group(canvas->self, "lines");
	for (size_t i = 0; i < layout->n_strokes; i++) {
		const rig_diagram_stroke *one = &layout->strokes[i];
		if (one->sheet == sheet)
			canvas->line(canvas->self, one->from, one->to,
				(rig_pen){RIG_INK_TEXT, one->width, false});
	}
	canvas->group(canvas->self, "symbols");
	for (size_t i = 0; i < layout->n_marks; i++) {
		const rig_diagram_mark *one = &layout->marks[i];
		if (one->sheet == sheet)
			rig_symbol_draw(canvas, one->symbol, one->at, one->upright);
	}
	canvas->group(canvas->self, "words");
	for (size_t i = 0; i < layout->n_texts; i++) {
		const rig_diagram_text *one = &layout->texts[i];
		if (one->sheet == sheet)
			canvas->text(canvas->self, one->at, one->lettering, one->text);
	}
	canvas->end(canvas->self);
}

/* Adds ", " or "; " where something stands before. */
static const char *after(const rig_buffer *words, const char *mark)
{
	return words->length > 0 ? mark : "";
}

const char *rig_diagram_line_words(rig_arena *arena, const rig_diagram_item *item)
{
	rig_buffer words = {0};
	if (item->guard != RIG_SYMBOL_NONE) {
		const char *guard = item->guard == RIG_SYMBOL_FUSE ? "fuse" : "breaker";
		if (item->rating[0] == '\0')
			rig_buffer_format(&words, "%s, rating not known", guard);
		else
			rig_buffer_format(&words, "%s %s", item->rating, guard);
		if (item->rating_more[0] != '\0')
			rig_buffer_format(&words, ", %s", item->rating_more);
	}
	if (item->size[0] != '\0')
		rig_buffer_format(&words, "%s%s", after(&words, "; "), item->size);
	if (item->length[0] != '\0')
		rig_buffer_format(&words, "%s%s", after(&words, ", "), item->length);
	if (words.failed)
		rig_arena_fail(arena);
	const char *text = words.failed         ? NULL
			   : words.text == NULL ? ""
						: rig_arena_text(arena, words.text);
	rig_buffer_free(&words);
	return text == NULL ? "" : text;
}

const char *rig_diagram_sentence(rig_arena *arena, const rig_diagram *diagram, size_t n_sheets)
{
	size_t rows = 0;
	for (size_t i = 0; i < diagram->n_items; i++)
		rows += diagram->items[i].place == RIG_PLACE_ROW;
	const char *text =
		n_sheets > 1 ? rig_arena_format(arena,
				       "The coach on %zu sheets, %zu lines from its buses. A line "
				       "that ends at a letter goes on at the same letter of the "
				       "next sheet.",
				       n_sheets, rows)
			     : rig_arena_format(arena,
				       "The coach on one sheet, %zu lines from its buses.", rows);
	return text == NULL ? "" : text;
}
