/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/diagram.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "recorder.h"
#include "report/oneline_items.h"
#include "rig/random_coach.h"
#include "rigbudget/oneline.h"
#include "rigbudget/report.h"
#include "studies/read_coach.h"
#include "suites.h"

static const char *const SAMPLES[] = {"samples/diesel-coach.rig.json",
	"samples/upgrade-fifth-wheel.rig.json", "samples/week-trailer.rig.json",
	"tests/cli/wiring-coach/coach.rig.json"};

static const rig_chart_layout LAYOUTS[] = {RIG_LAYOUT_WIDE, RIG_LAYOUT_NARROW};

static rig_document *sheet_of(const rig_file *file)
{
	rig_oneline_findings *findings = NULL;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_oneline_study(rig_file_completed(file), &findings), RIG_OK);
	ck_assert_int_eq(
		rig_write_oneline(rig_file_completed(file), findings, NULL, &document), RIG_OK);
	rig_oneline_free(findings);
	return document;
}

static const rig_diagram *diagram_of(const rig_document *document)
{
	for (size_t i = 0; i < rig_document_n_blocks(document); i++)
		if (rig_document_block_at(document, i)->kind == RIG_BLOCK_DIAGRAM)
			return rig_document_block_at(document, i)->diagram;
	ck_abort_msg("the sheet has no diagram");
}

/* As the recorder has it. */
static recorded_box text_box(const rig_diagram_text *text)
{
	static recorder seen;
	static bool begun;
	static rig_canvas canvas;
	if (!begun)
		canvas = recorder_canvas(&seen);
	begun = true;
	seen.n_texts = 0;
	canvas.text(canvas.self, text->at, text->lettering, text->text);
	return seen.texts[0];
}

static recorded_box mark_box(const rig_diagram_mark *mark)
{
	return (recorded_box){mark->at.x - RIG_SYMBOL_HALF, mark->at.y - RIG_SYMBOL_HALF,
		mark->at.x + RIG_SYMBOL_HALF, mark->at.y + RIG_SYMBOL_HALF, "symbol"};
}

/* Boxes of all texts, then of all symbols, with their sheets. */
typedef struct {
	size_t n, n_texts;
	recorded_box *box;
	size_t *sheet;
} boxes;

/* A fuse and a breaker are flat: their rating stands closer than the half of a whole symbol. */
static void flatten(const rig_diagram_mark *mark, recorded_box *box)
{
	if (mark->upright)
		return;
	if (mark->symbol == RIG_SYMBOL_FUSE)
		box->top += 8.0, box->bottom -= 8.0;
	if (mark->symbol == RIG_SYMBOL_BREAKER)
		box->top += 2.5, box->bottom -= 12.0;
}

static boxes boxes_of(const rig_diagram_layout *layout)
{
	boxes all = {.n = layout->n_texts + layout->n_marks, .n_texts = layout->n_texts};
	all.box = calloc(all.n, sizeof *all.box);
	all.sheet = calloc(all.n, sizeof *all.sheet);
	ck_assert(all.box != NULL && all.sheet != NULL);
	for (size_t i = 0; i < layout->n_texts; i++) {
		all.box[i] = text_box(&layout->texts[i]);
		all.sheet[i] = layout->texts[i].sheet;
	}
	for (size_t i = 0; i < layout->n_marks; i++) {
		all.box[layout->n_texts + i] = mark_box(&layout->marks[i]);
		flatten(&layout->marks[i], &all.box[layout->n_texts + i]);
		all.sheet[layout->n_texts + i] = layout->marks[i].sheet;
	}
	return all;
}

static void check_apart(const rig_diagram_layout *layout, const boxes *all, const char *who)
{
	for (size_t i = 0; i < all->n; i++) {
		const recorded_box *box = &all->box[i];
		ck_assert_msg(box->left >= -0.5 && box->top >= -0.5 &&
				      box->right <= layout->width + 0.5 &&
				      box->bottom <= layout->height[all->sheet[i]] + 0.5,
			"%s: \"%s\" at %g, %g leaves its sheet", who, box->text, box->left,
			box->top);
		for (size_t j = i + 1; j < all->n; j++)
			ck_assert_msg(
				all->sheet[i] != all->sheet[j] || !boxes_touch(box, &all->box[j]),
				"%s: \"%s\" touches \"%s\"", who, box->text, all->box[j].text);
	}
}

static void check_strokes(const rig_diagram_layout *layout, const boxes *all, const char *who)
{
	for (size_t i = 0; i < layout->n_strokes; i++) {
		const rig_diagram_stroke *one = &layout->strokes[i];
		ck_assert(one->from.x == one->to.x || one->from.y == one->to.y);
		const recorded_stroke stroke = {one->from, one->to, one->width, RIG_INK_TEXT};
		for (size_t j = 0; j < all->n_texts; j++)
			ck_assert_msg(all->sheet[j] != one->sheet ||
					      !stroke_touches(&stroke, &all->box[j]),
				"%s: a line runs through \"%s\"", who, all->box[j].text);
	}
}

/* No line crosses another, nothing stands on anything else. */
static void check_layout(const rig_diagram *diagram, rig_chart_layout kind, const char *who)
{
	rig_arena *arena = rig_arena_new();
	const rig_diagram_layout layout = rig_diagram_lay_out(diagram, kind, arena);
	ck_assert(!layout.failed);
	ck_assert_uint_ge(layout.n_sheets, 1);
	ck_assert_msg(rig_diagram_crossings(&layout) == 0, "%s: %zu crossings", who,
		rig_diagram_crossings(&layout));
	const boxes all = boxes_of(&layout);
	check_apart(&layout, &all, who);
	check_strokes(&layout, &all, who);
	free(all.box);
	free(all.sheet);
	rig_arena_free(arena);
}

START_TEST(lines_of_the_samples_do_not_cross_and_nothing_overlaps)
{
	rig_file *file = read_coach_file(SAMPLES[_i]);
	rig_document *document = sheet_of(file);
	for (int i = 0; i < COUNT(LAYOUTS); i++)
		check_layout(diagram_of(document), LAYOUTS[i], SAMPLES[_i]);
	rig_document_free(document);
	rig_file_free(file);
}
END_TEST

START_TEST(nor_do_those_of_random_coaches)
{
#ifdef RIG_SLOW
	const uint64_t step = 20;
#else
	const uint64_t step = 1;
#endif
	for (uint64_t seed = 0; seed < 1000; seed += step) {
		char who[40];
		snprintf(who, sizeof who, "seed %d", (int)seed);
		rig_file *file = random_coach(seed);
		rig_document *document = sheet_of(file);
		for (int i = 0; i < COUNT(LAYOUTS); i++)
			check_layout(diagram_of(document), LAYOUTS[i], who);
		rig_document_free(document);
		rig_file_free(file);
	}
}
END_TEST

/* Two bars, and two lines across between rows whose ends take turns: they have to cross once. */
START_TEST(crossings_are_seen_where_there_are_some)
{
	rig_diagram_item items[6];
	static const int JOINS[] = {-1, 4, 5, -1, -1, -1};
	for (int i = 0; i < 6; i++)
		items[i] = (rig_diagram_item){.parent = i % 3 == 0 ? -1 : i - i % 3,
			.place = i % 3 == 0 ? RIG_PLACE_BUS : RIG_PLACE_ROW,
			.symbol = i % 3 == 0 ? RIG_SYMBOL_BUS : RIG_SYMBOL_LOADS,
			.rating = "",
			.rating_more = "",
			.size = "",
			.length = "",
			.name = "item",
			.text = "",
			.joins = JOINS[i]};
	const rig_diagram turns = {"turns", "", 6, items};
	rig_arena *arena = rig_arena_new();
	rig_diagram_layout layout = rig_diagram_lay_out(&turns, RIG_LAYOUT_WIDE, arena);
	ck_assert_uint_eq(rig_oneline_ties_crossed(&turns), 1);
	ck_assert_uint_ge(rig_diagram_crossings(&layout), 1);
	/* the other way round they nest */
	items[1].joins = 5;
	items[2].joins = 4;
	layout = rig_diagram_lay_out(&turns, RIG_LAYOUT_WIDE, arena);
	ck_assert_uint_eq(rig_oneline_ties_crossed(&turns), 0);
	ck_assert_uint_eq(rig_diagram_crossings(&layout), 0);
	rig_arena_free(arena);
}
END_TEST

/* Rows without end on one bar. */
static rig_diagram long_bar(rig_diagram_item *items, size_t n)
{
	for (size_t i = 0; i < n; i++)
		items[i] = (rig_diagram_item){.parent = i == 0 ? -1 : 0,
			.place = i == 0 ? RIG_PLACE_BUS : RIG_PLACE_ROW,
			.symbol = i == 0 ? RIG_SYMBOL_BUS : RIG_SYMBOL_LOADS,
			.guard = i == 0 ? RIG_SYMBOL_NONE : RIG_SYMBOL_FUSE,
			.rating = "20 A",
			.rating_more = "",
			.size = "12 AWG",
			.length = "24 ft",
			.name = i == 0 ? "A bus" : "A circuit",
			.text = "Some load",
			.joins = -1};
	return (rig_diagram){"A long bar", "Note.", n, items};
}

/* Letter, 8.5 by 11 in, has 254 mm of height between margins of 12 and 14 mm; the page's style
 * gives a sheet at most 210 mm, and its width is at most 190 mm. */
START_TEST(a_long_diagram_is_cut_into_sheets_that_fit_a_page)
{
	enum { N = 60 };
	rig_diagram_item items[N];
	const rig_diagram diagram = long_bar(items, N);
	rig_arena *arena = rig_arena_new();
	const rig_diagram_layout layout = rig_diagram_lay_out(&diagram, RIG_LAYOUT_WIDE, arena);
	ck_assert_uint_ge(layout.n_sheets, 3);
	for (size_t i = 0; i < layout.n_sheets; i++) {
		ck_assert_double_le(layout.height[i], 880.0);
		/* letters of 11 units are at least 6.5 points high, 1 point being 0.3528 mm */
		const double mm_per_unit = fmin(190.0 / layout.width, 210.0 / layout.height[i]);
		ck_assert_double_ge(11.0 * mm_per_unit / 0.3528, 6.5);
	}
	size_t circuits = 0, letters = 0;
	for (size_t i = 0; i < layout.n_texts; i++) {
		circuits += strcmp(layout.texts[i].text, "A circuit") == 0;
		letters += strcmp(layout.texts[i].text, "A") == 0;
	}
	ck_assert_uint_eq(circuits, N - 1);
	/* the bar goes on: its letter stands at both ends of the first cut */
	ck_assert_uint_eq(letters, 2);
	check_layout(&diagram, RIG_LAYOUT_WIDE, "long bar");
	rig_arena_free(arena);
}
END_TEST

/* Strokes of a symbol stay within its box, so that lines reach it and nothing else does. */
START_TEST(symbols_stay_in_their_boxes)
{
	recorder *seen = calloc(1, sizeof *seen);
	ck_assert_ptr_nonnull(seen);
	const rig_point at = {100.0, 100.0};
	for (int upright = 0; upright < 2; upright++) {
		const rig_canvas canvas = recorder_canvas(seen);
		rig_symbol_draw(&canvas, (rig_symbol)_i, at, upright == 1);
		const bool drawn = _i != RIG_SYMBOL_NONE && _i != RIG_SYMBOL_BUS;
		ck_assert_int_eq(seen->n_strokes > 0, drawn);
		for (size_t i = 0; i < seen->n_strokes; i++) {
			const rig_point ends[] = {seen->strokes[i].from, seen->strokes[i].to};
			for (int j = 0; j < 2; j++) {
				ck_assert_double_le(fabs(ends[j].x - at.x), RIG_SYMBOL_HALF + 0.1);
				ck_assert_double_le(fabs(ends[j].y - at.y), RIG_SYMBOL_HALF + 0.1);
			}
		}
	}
	ck_assert_uint_gt(strlen(rig_symbol_text((rig_symbol)_i)), 2);
	free(seen);
}
END_TEST

/* Every rating and size of the drawing stands in the words too, and the other way round. */
START_TEST(the_words_say_what_the_drawing_shows)
{
	rig_file *file = read_coach_file(SAMPLES[3]);
	rig_document *document = sheet_of(file);
	char *text = NULL, *html = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	ck_assert_int_eq(rig_document_html(document, &html), RIG_OK);
	static const char *const SAID[] = {"250 A fuse", "breaks 20 kA", "1/0 AWG", "5 ft",
		"20 A breaker", "12 AWG, 24 ft", "size not known", "rating not known",
		"not an as-built drawing"};
	for (int i = 0; i < COUNT(SAID); i++)
		ck_assert_msg(strstr(text, SAID[i]) != NULL, "the text lacks %s", SAID[i]);
	static const char *const DRAWN[] = {">250 A<", ">breaks 20 kA<", ">1/0 AWG<", ">5 ft<",
		">20 A<", ">12 AWG<", ">24 ft<", ">size not known<", ">not known<", "<svg",
		"role=\"img\"", "250 A fuse"};
	for (int i = 0; i < COUNT(DRAWN); i++)
		ck_assert_msg(strstr(html, DRAWN[i]) != NULL, "the page lacks %s", DRAWN[i]);
	free(text);
	free(html);
	rig_document_free(document);
	rig_file_free(file);
}
END_TEST

Suite *diagram_suite(void);
Suite *diagram_suite(void)
{
	Suite *suite = suite_create("diagram");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_loop_test(
		all, lines_of_the_samples_do_not_cross_and_nothing_overlaps, 0, COUNT(SAMPLES));
	tcase_add_test(all, nor_do_those_of_random_coaches);
	tcase_add_test(all, crossings_are_seen_where_there_are_some);
	tcase_add_test(all, a_long_diagram_is_cut_into_sheets_that_fit_a_page);
	tcase_add_loop_test(all, symbols_stay_in_their_boxes, 0, RIG_N_SYMBOLS);
	tcase_add_test(all, the_words_say_what_the_drawing_shows);
	suite_add_tcase(suite, all);
	return suite;
}
