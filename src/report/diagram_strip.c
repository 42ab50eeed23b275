/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "diagram_strip.h"

#include <assert.h>
#include <math.h>
#include <string.h>

static const double HALF = RIG_SYMBOL_HALF;
static const double LINE_WIDTH = 1.4, BAR_WIDTH = 5.0;
static const double STEM_X = 22.0;
static const double CHANNEL_GAP = 16.0, CHANNEL_EDGE = 5.0;
static const double FEED_X = 8.0;   /* of two lines into one symbol, from its middle */
static const double OFFSET_X = 7.0; /* of lines that leave a symbol below, from its middle */
static const double SMALL = 11.0, KEY_ROW = 34.0;
enum { MOST_LINES = 14, KEY_COLUMNS = 3 };

/* Distances that differ between the layouts. */
typedef struct {
	double width;
	double bar_x, indent; /* of the outermost bar; from a bar to the next inner one */
	double guard_dx;      /* from a bar to the middle of a guard */
	double cable_dx;      /* from a bar to the words about a cable; 0: they stand in the text */
	double symbol_dx;     /* from the innermost bar to the symbols */
	double via_gap;       /* from a symbol to the next on its line */
	double text_gap;      /* from the last symbol's middle to its text */
	double beside_dx;     /* from a stem to what stands beside it */
} measures;

static const measures WIDE = {
	680,
	50,
	36,
	44,
	86,
	214,
	46,
	24,
	330,
};
static const measures NARROW = {340, 44, 16, 24, 0, 62, 34, 20, 150};

/* Where an item has come to stand. */
typedef struct {
	rig_point at;  /* middle of its symbol; of a bus the top of its bar */
	double bottom; /* lowest line of what belongs to it alone */
	double last_y; /* bus: of its last row */
	int depth;     /* bus: bars to its left */
} spot;

typedef struct {
	int from, to; /* items, from above to */
	int channel;  /* 0 is the outermost */
} tie;

typedef struct {
	diagram_strip *strip;
	const measures *measure;
	spot *spots;
	tie *ties;
	size_t n_ties;
	double symbol_x, right; /* of all rows; where texts end */
	double y;               /* first free height */
	int stem;               /* last item on the stem; -1 before */
	double spine_y;         /* lowest bus on the stem */
} builder;

/* Room for one more than n: doubles at each power of two. */
static void *grown(diagram_strip *strip, void *old, size_t n, size_t size)
{
	if (n > 0 && (n & (n - 1)) != 0)
		return old;
	void *larger = rig_arena_take(strip->arena, n == 0 ? 1 : 2 * n, size);
	if (larger == NULL)
		strip->made.failed = true;
	else if (old != NULL)
		memcpy(larger, old, n * size);
	return larger;
}

void diagram_add_stroke(diagram_strip *strip, rig_diagram_stroke stroke)
{
	rig_diagram_layout *made = &strip->made;
	if (made->failed)
		return;
	made->strokes = grown(strip, made->strokes, made->n_strokes, sizeof *made->strokes);
	if (!made->failed)
		made->strokes[made->n_strokes++] = stroke;
}

void diagram_add_text(diagram_strip *strip, rig_diagram_text text)
{
	rig_diagram_layout *made = &strip->made;
	if (made->failed || text.text[0] == '\0')
		return;
	made->texts = grown(strip, made->texts, made->n_texts, sizeof *made->texts);
	if (!made->failed)
		made->texts[made->n_texts++] = text;
}

void diagram_add_mark(diagram_strip *strip, rig_diagram_mark mark)
{
	rig_diagram_layout *made = &strip->made;
	if (made->failed)
		return;
	made->marks = grown(strip, made->marks, made->n_marks, sizeof *made->marks);
	if (!made->failed)
		made->marks[made->n_marks++] = mark;
}

double diagram_add_wrapped(
	diagram_strip *strip, const char *text, rig_point at, double width, rig_lettering lettering)
{
	rig_drawing letters = strip->letters;
	/* bold is a tenth wider */
	letters.size = lettering.size * (lettering.bold ? 1.1 : 1.0);
	const rig_label label = rig_drawing_wrap(&letters, text, width, MOST_LINES);
	strip->made.failed = strip->made.failed || letters.failed;
	for (size_t i = 0; i < label.n; i++) {
		diagram_add_text(
			strip, (rig_diagram_text){
				       .text = label.line[i], .at = at, .lettering = lettering});
		at.y += lettering.size * 1.25;
	}
	return at.y;
}

static void add_break(diagram_strip *strip, double y, bool part)
{
	if (strip->made.failed)
		return;
	strip->breaks = grown(strip, strip->breaks, strip->n_breaks, sizeof *strip->breaks);
	if (!strip->made.failed)
		strip->breaks[strip->n_breaks++] = (diagram_break){y, part};
}

static void line(builder *build, rig_point from, rig_point to, int net)
{
	diagram_add_stroke(build->strip,
		(rig_diagram_stroke){.from = from, .to = to, .width = LINE_WIDTH, .net = net});
}

static const rig_diagram_item *item_at(const builder *build, int i)
{
	return &build->strip->diagram->items[i];
}

static bool is_joined(const builder *build, int item)
{
	for (size_t i = 0; i < build->n_ties; i++)
		if (build->ties[i].from == item || build->ties[i].to == item)
			return true;
	return false;
}

static bool bears_bus(const builder *build, int item)
{
	const rig_diagram *diagram = build->strip->diagram;
	return (size_t)item + 1 < diagram->n_items && diagram->items[item + 1].parent == item &&
	       diagram->items[item + 1].place == RIG_PLACE_BUS;
}

/* The name, what leads to it if asked for, and the rest; the lowest line of it. */
static double add_words(
	builder *build, const rig_diagram_item *item, rig_point at, double width, bool with_line)
{
	diagram_strip *strip = build->strip;
	const double size = strip->letters.size;
	const rig_lettering bold = {RIG_INK_TEXT, size, true, RIG_ANCHOR_START};
	const rig_lettering plain = {RIG_INK_TEXT, size, false, RIG_ANCHOR_START};
	const rig_lettering quiet = {RIG_INK_QUIET, SMALL, false, RIG_ANCHOR_START};
	at.y = diagram_add_wrapped(strip, item->name, at, width, bold);
	if (with_line)
		at.y = diagram_add_wrapped(
			strip, rig_diagram_line_words(strip->arena, item), at, width, quiet);
	at.y = diagram_add_wrapped(strip, item->text, at, width, plain);
	return at.y - size * 1.25 + 4.0;
}

/* A symbol of the stem with its words; the lowest line of it. */
static double place_upright(builder *build, int i, double x, double width)
{
	const rig_diagram_item *item = item_at(build, i);
	const rig_point at = {x, build->y + HALF + 4.0};
	diagram_add_mark(build->strip,
		(rig_diagram_mark){.symbol = item->symbol, .at = at, .upright = true});
	build->spots[i].at = at;
	const rig_point words = {x + build->measure->text_gap, at.y - 4.0};
	const double low = add_words(build, item, words, width, true);
	build->spots[i].bottom = fmax(low, at.y + HALF);
	return build->spots[i].bottom;
}

/* Two sources into one symbol: each jogs above it to its own side. */
static void join_two(builder *build, int first, int second, double y)
{
	const rig_point one = build->spots[first].at, two = build->spots[second].at;
	const rig_point into = {one.x - FEED_X, y + 12.0}, in = {one.x + FEED_X, y + 12.0};
	const double top = build->y + 4.0;
	line(build, (rig_point){one.x, one.y + HALF}, (rig_point){one.x, y}, first);
	line(build, (rig_point){one.x, y}, (rig_point){into.x, y}, first);
	line(build, (rig_point){into.x, y}, (rig_point){into.x, top}, first);
	line(build, (rig_point){two.x, two.y + HALF}, (rig_point){two.x, y}, second);
	line(build, (rig_point){two.x, y}, (rig_point){in.x, y}, second);
	line(build, (rig_point){in.x, y}, (rig_point){in.x, top}, second);
}

static void place_stem(builder *build, int i)
{
	const measures *measure = build->measure;
	const rig_diagram *diagram = build->strip->diagram;
	const size_t next = (size_t)i + 1;
	const bool two = next < diagram->n_items && diagram->items[next].place == RIG_PLACE_BESIDE;
	const double text_x = STEM_X + measure->text_gap;
	const double whole = measure->width - text_x;
	double low = place_upright(build, i, STEM_X,
		two ? measure->beside_dx - measure->text_gap - HALF - 6.0 : whole);
	if (build->stem >= 0) {
		const spot *above = &build->spots[build->stem];
		line(build, (rig_point){STEM_X, above->at.y + HALF},
			(rig_point){STEM_X, build->spots[i].at.y - HALF}, build->stem);
	}
	build->stem = i;
	if (two)
		low = fmax(low, place_upright(build, i + 1, STEM_X + measure->beside_dx,
					whole - measure->beside_dx));
	build->y = low + 10.0;
	if (two) {
		const double y = build->y;
		build->y += 10.0;
		join_two(build, i, i + 1, y);
		build->stem = -1;
	}
}

static void place_bus(builder *build, int i)
{
	const rig_diagram_item *item = item_at(build, i);
	const measures *measure = build->measure;
	diagram_strip *strip = build->strip;
	const bool on_row =
		item->parent >= 0 && item_at(build, item->parent)->place == RIG_PLACE_ROW;
	spot *own = &build->spots[i];
	if (item->parent < 0) {
		build->y += i > 0 ? 12.0 : 0.0;
		if (i > 0)
			add_break(strip, build->y, true);
	}
	own->depth = on_row ? build->spots[item_at(build, item->parent)->parent].depth + 1 : 0;
	own->at = (rig_point){measure->bar_x + own->depth * measure->indent, build->y + 10.0};
	own->last_y = own->at.y;
	if (on_row) {
		const spot *row = &build->spots[item->parent];
		const rig_point leave = {row->at.x - OFFSET_X, row->at.y + HALF};
		line(build, leave, (rig_point){leave.x, own->at.y - 8.0}, i);
		line(build, (rig_point){leave.x, own->at.y - 8.0},
			(rig_point){own->at.x, own->at.y - 8.0}, i);
		own->at.y -= 8.0;
	} else if (item->parent >= 0) {
		line(build, (rig_point){STEM_X, own->at.y}, own->at, item->parent);
		build->spine_y = own->at.y;
	}
	const rig_point words = {own->at.x + 12.0, own->at.y + 13.0};
	const double width = build->right - words.x;
	double low = diagram_add_wrapped(strip, item->name, words, width,
		(rig_lettering){RIG_INK_TEXT, strip->letters.size, true, RIG_ANCHOR_START});
	low = diagram_add_wrapped(strip, item->text, (rig_point){words.x, low}, width,
		(rig_lettering){RIG_INK_QUIET, SMALL, false, RIG_ANCHOR_START});
	build->y = low - 8.0;
	own->last_y = build->y;
}

/* What stands on the line between the bar and the symbol. */
static void place_guard(builder *build, const rig_diagram_item *item, double bar_x, double y)
{
	const measures *measure = build->measure;
	diagram_strip *strip = build->strip;
	const rig_lettering middle = {RIG_INK_TEXT, SMALL, false, RIG_ANCHOR_MIDDLE};
	const double x = bar_x + measure->guard_dx;
	if (item->guard != RIG_SYMBOL_NONE)
		diagram_add_mark(strip, (rig_diagram_mark){.symbol = item->guard, .at = {x, y}});
	if (measure->cable_dx == 0.0)
		return;
	if (item->guard != RIG_SYMBOL_NONE) {
		diagram_add_text(
			strip, (rig_diagram_text){
				       .text = item->rating[0] == '\0' ? "not known" : item->rating,
				       .at = {x, y - 13.0},
				       .lettering = middle});
		diagram_add_text(strip, (rig_diagram_text){.text = item->rating_more,
						.at = {x, y + 18.0},
						.lettering = middle});
	}
	const rig_lettering start = {RIG_INK_QUIET, SMALL, false, RIG_ANCHOR_START};
	const double from = bar_x + measure->cable_dx;
	diagram_add_text(strip,
		(rig_diagram_text){.text = item->size, .at = {from, y - 5.0}, .lettering = start});
	diagram_add_text(
		strip, (rig_diagram_text){
			       .text = item->length, .at = {from, y + 13.0}, .lettering = start});
}

/* The line from the bar through guard and symbols; where the words begin. */
static double place_line(builder *build, int i, double bar_x, double y)
{
	const rig_diagram_item *item = item_at(build, i);
	const measures *measure = build->measure;
	diagram_strip *strip = build->strip;
	double reached = bar_x;
	double x = build->symbol_x;
	if (item->guard != RIG_SYMBOL_NONE) {
		const double guard_x = bar_x + measure->guard_dx;
		line(build, (rig_point){bar_x, y}, (rig_point){guard_x - HALF, y}, i);
		reached = guard_x + HALF;
	}
	place_guard(build, item, bar_x, y);
	if (item->via != RIG_SYMBOL_NONE) {
		line(build, (rig_point){reached, y}, (rig_point){x - HALF, y}, i);
		diagram_add_mark(strip, (rig_diagram_mark){.symbol = item->via, .at = {x, y}});
		reached = x + HALF;
		x += measure->via_gap;
	}
	build->spots[i].at = (rig_point){x, y};
	if (item->symbol == RIG_SYMBOL_NONE) {
		/* the line turns down to where it leads */
		line(build, (rig_point){reached, y}, (rig_point){x + OFFSET_X, y}, i);
	} else {
		line(build, (rig_point){reached, y}, (rig_point){x - HALF, y}, i);
		diagram_add_mark(strip, (rig_diagram_mark){.symbol = item->symbol, .at = {x, y}});
	}
	return x + measure->text_gap;
}

static void place_row(builder *build, int i)
{
	const rig_diagram_item *item = item_at(build, i);
	spot *bus = &build->spots[item->parent];
	if (bus->last_y > bus->at.y + 60.0 || item_at(build, i - 1)->place == RIG_PLACE_ROW)
		add_break(build->strip, build->y, false);
	const double y = build->y + 24.0;
	const double words_x = place_line(build, i, bus->at.x, y);
	const bool one_line = item->text[0] == '\0' && build->measure->cable_dx > 0.0;
	const double low = add_words(build, item, (rig_point){words_x, y + (one_line ? 4.0 : -4.0)},
		build->right - words_x, build->measure->cable_dx == 0.0);
	spot *own = &build->spots[i];
	own->bottom = fmax(
		low, y + (item->rating_more[0] != '\0' || item->length[0] != '\0' ? 22.0 : 17.0));
	if (is_joined(build, i))
		own->bottom += 7.0;
	build->y = own->bottom + (is_joined(build, i) ? 3.0 : 0.0);
	if (bears_bus(build, i))
		build->y += 4.0;
	bus->last_y = y;
}

/* The bars and the spine, once their lengths are known. */
static void add_bars(builder *build)
{
	const rig_diagram *diagram = build->strip->diagram;
	for (size_t i = 0; i < diagram->n_items; i++) {
		if (diagram->items[i].place != RIG_PLACE_BUS)
			continue;
		const spot *own = &build->spots[i];
		diagram_add_stroke(build->strip,
			(rig_diagram_stroke){.from = {own->at.x, own->at.y - 0.5 * LINE_WIDTH},
				.to = {own->at.x, own->last_y + 8.0},
				.width = BAR_WIDTH,
				.net = (int)i});
	}
	if (build->stem >= 0 && build->spine_y > 0.0)
		line(build, (rig_point){STEM_X, build->spots[build->stem].at.y + HALF},
			(rig_point){STEM_X, build->spine_y}, build->stem);
}

/* Lines across get channels so that those that share a height lie apart: the longest first. */
static void choose_channels(builder *build)
{
	for (size_t i = 0; i < build->n_ties; i++)
		for (size_t j = i; j > 0; j--) {
			tie *a = &build->ties[j - 1], *b = &build->ties[j];
			if (a->to - a->from >= b->to - b->from)
				break;
			const tie other = *a;
			*a = *b;
			*b = other;
		}
	for (size_t i = 0; i < build->n_ties; i++)
		build->ties[i].channel = (int)i;
}

static void find_ties(builder *build)
{
	const rig_diagram *diagram = build->strip->diagram;
	for (size_t i = 0; i < diagram->n_items; i++) {
		const int other = diagram->items[i].joins;
		if (other < 0)
			continue;
		build->ties[build->n_ties++] = (tie){.from = other < (int)i ? other : (int)i,
			.to = other < (int)i ? (int)i : other};
	}
	choose_channels(build);
}

static double tie_start_y(const builder *build, int item, bool bare)
{
	return build->spots[item].at.y + (bare ? 0.0 : HALF);
}

static void add_tie(builder *build, const tie *one)
{
	const double x = build->measure->width - CHANNEL_EDGE - one->channel * CHANNEL_GAP;
	const int net = (int)build->strip->diagram->n_items + one->channel;
	const int ends[2] = {one->from, one->to};
	double y[2];
	for (int i = 0; i < 2; i++) {
		const spot *end = &build->spots[ends[i]];
		const bool bare = item_at(build, ends[i])->symbol == RIG_SYMBOL_NONE;
		y[i] = end->bottom;
		const rig_point leave = {end->at.x + OFFSET_X, tie_start_y(build, ends[i], bare)};
		line(build, leave, (rig_point){leave.x, y[i]}, net);
		line(build, (rig_point){leave.x, y[i]}, (rig_point){x, y[i]}, net);
	}
	line(build, (rig_point){x, y[0]}, (rig_point){x, y[1]}, net);
}

static void add_key(builder *build)
{
	diagram_strip *strip = build->strip;
	const int columns = build->strip->narrow ? 1 : KEY_COLUMNS;
	const double column = build->measure->width / columns;
	bool used[RIG_N_SYMBOLS] = {false};
	for (size_t i = 0; i < strip->made.n_marks; i++)
		used[strip->made.marks[i].symbol] = true;
	build->y += 14.0;
	add_break(strip, build->y, true);
	const double size = strip->letters.size;
	diagram_add_wrapped(strip, "Symbols", (rig_point){0.0, build->y + size}, column,
		(rig_lettering){RIG_INK_TEXT, size, true, RIG_ANCHOR_START});
	build->y += size + 8.0;
	int n = 0;
	for (int symbol = RIG_SYMBOL_INLET; symbol < RIG_N_SYMBOLS; symbol++) {
		if (!used[symbol])
			continue;
		const int row = n / columns;
		const rig_point at = {
			(n % columns) * column + HALF + 2.0, build->y + row * KEY_ROW + HALF + 2.0};
		diagram_add_mark(strip, (rig_diagram_mark){.symbol = (rig_symbol)symbol, .at = at});
		diagram_add_wrapped(strip, rig_symbol_text((rig_symbol)symbol),
			(rig_point){at.x + 22.0, at.y + 4.0}, column - 40.0,
			(rig_lettering){RIG_INK_TEXT, SMALL, false, RIG_ANCHOR_START});
		n++;
	}
	const int n_rows = (n + columns - 1) / columns;
	build->y += n_rows * KEY_ROW;
}

static int deepest(const rig_diagram *diagram, int *depths)
{
	int most = 0;
	for (size_t i = 0; i < diagram->n_items; i++) {
		const rig_diagram_item *item = &diagram->items[i];
		depths[i] = 0;
		if (item->place == RIG_PLACE_BUS && item->parent >= 0 &&
			diagram->items[item->parent].place == RIG_PLACE_ROW)
			depths[i] = depths[diagram->items[item->parent].parent] + 1;
		most = depths[i] > most ? depths[i] : most;
	}
	return most;
}

static bool make_room(builder *build)
{
	diagram_strip *strip = build->strip;
	const size_t n = strip->diagram->n_items;
	build->spots = rig_arena_take(strip->arena, n, sizeof *build->spots);
	build->ties = rig_arena_take(strip->arena, n, sizeof *build->ties);
	int *depths = rig_arena_take(strip->arena, n, sizeof *depths);
	strip->made.failed = build->spots == NULL || build->ties == NULL || depths == NULL;
	if (strip->made.failed)
		return false;
	find_ties(build);
	const measures *measure = build->measure;
	build->symbol_x = measure->bar_x + deepest(strip->diagram, depths) * measure->indent +
			  measure->symbol_dx;
	build->right =
		measure->width -
		(build->n_ties > 0 ? CHANNEL_EDGE + (double)build->n_ties * CHANNEL_GAP : 0.0);
	return true;
}

void diagram_strip_lay_out(diagram_strip *strip)
{
	builder build = {.strip = strip, .measure = strip->narrow ? &NARROW : &WIDE, .stem = -1};
	strip->letters = (rig_drawing){.arena = strip->arena, .size = 12.0, .row = 15.0};
	strip->made.width = build.measure->width;
	if (!make_room(&build))
		return;
	for (int i = 0; i < (int)strip->diagram->n_items; i++) {
		switch (item_at(&build, i)->place) {
		case RIG_PLACE_STEM:
			place_stem(&build, i);
			break;
		case RIG_PLACE_BESIDE:
			break; /* stands already */
		case RIG_PLACE_BUS:
			place_bus(&build, i);
			break;
		case RIG_PLACE_ROW:
			place_row(&build, i);
			break;
		}
	}
	add_bars(&build);
	for (size_t i = 0; i < build.n_ties; i++)
		add_tie(&build, &build.ties[i]);
	add_key(&build);
	strip->height = build.y;
}
