/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cairo_canvas.h"

#include <math.h>

#include "handmade.h"
#include "report/chart.h"
#include "report/glyph.h"
#include "suites.h"

/* A drawing that cairo remembers, and what it covers. */
typedef struct {
	cairo_surface_t *surface;
	rig_cairo drawn;
	rig_canvas canvas;
} easel;

static void set_up(easel *board)
{
	board->surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
	board->drawn =
		(rig_cairo){.cairo = cairo_create(board->surface), .context = rig_type_context()};
	board->canvas = rig_cairo_canvas(&board->drawn);
}

static void take_down(easel *board)
{
	ck_assert_int_eq(cairo_status(board->drawn.cairo), CAIRO_STATUS_SUCCESS);
	cairo_destroy(board->drawn.cairo);
	cairo_surface_destroy(board->surface);
	g_object_unref(board->drawn.context);
}

/* Points; what rounding and smooth edges may take. */
static const double TOLERANCE = 1.0;

static void check_covers(const easel *board, rig_point from, rig_point to)
{
	double x;
	double y;
	double width;
	double height;
	cairo_recording_surface_ink_extents(board->surface, &x, &y, &width, &height);
	ck_assert_double_eq_tol(x, from.x, TOLERANCE);
	ck_assert_double_eq_tol(y, from.y, TOLERANCE);
	ck_assert_double_eq_tol(x + width, to.x, TOLERANCE);
	ck_assert_double_eq_tol(y + height, to.y, TOLERANCE);
}

static const rig_pen PEN = {RIG_INK_TEXT, 2.0, false};

START_TEST(a_line_starts_where_it_is_told_whatever_was_drawn_before)
{
	easel board;
	set_up(&board);
	const rig_point corner[] = {{10, 10}, {60, 10}, {60, 40}};
	cairo_move_to(board.drawn.cairo, 900, 900);
	board.canvas.polyline(board.canvas.self, 3, corner, PEN);
	cairo_move_to(board.drawn.cairo, 900, 900);
	board.canvas.area(board.canvas.self, 3, corner, (rig_brush){RIG_INK_FIRST, RIG_FILL_PALE});
	cairo_move_to(board.drawn.cairo, 900, 900);
	board.canvas.line(board.canvas.self, corner[0], corner[1], PEN);
	board.canvas.rectangle(board.canvas.self, corner[0], (rig_point){20, 20},
		(rig_brush){RIG_INK_FIRST, RIG_FILL_NONE});
	check_covers(&board, (rig_point){9, 9}, (rig_point){61, 40});
	take_down(&board);
}
END_TEST

START_TEST(hatching_stays_inside_its_rectangle_on_paper)
{
	easel board;
	set_up(&board);
	board.canvas.rectangle(board.canvas.self, (rig_point){10, 20}, (rig_point){37, 13},
		(rig_brush){RIG_INK_SECOND, RIG_FILL_HATCHED});
	check_covers(&board, (rig_point){9.3, 19.3}, (rig_point){47.7, 33.7});
	take_down(&board);
}
END_TEST

/* A text never runs wider than the room that the chart left for it. */
START_TEST(a_text_keeps_to_its_room_at_each_anchor)
{
	static const rig_anchor ANCHORS[] = {RIG_ANCHOR_START, RIG_ANCHOR_MIDDLE, RIG_ANCHOR_END};
	static const char WORDS[] = "WWWW wwww @@@@ mmmm";
	const double size = 12.0;
	const double room = rig_glyph_text_width(WORDS) * size * 1.1;
	easel board;
	set_up(&board);
	board.canvas.text(board.canvas.self, (rig_point){500, 50},
		(rig_lettering){RIG_INK_TEXT, size, true, ANCHORS[_i]}, WORDS);
	double x;
	double y;
	double width;
	double height;
	cairo_recording_surface_ink_extents(board.surface, &x, &y, &width, &height);
	ck_assert_double_le(width, room + TOLERANCE);
	ck_assert_double_ge(width, 0.6 * room);
	const double anchor = x + width * _i / 2.0;
	ck_assert_double_eq_tol(anchor, 500, 2.0);
	ck_assert_double_le(y + height, 50 + 0.3 * size);
	ck_assert(!board.drawn.shortened);
	take_down(&board);
}
END_TEST

/* Nothing of it lies outside of the size that it gives. */
START_TEST(each_chart_stays_within_its_size)
{
	rig_document *document = handmade("Water heater");
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind != RIG_BLOCK_CHART)
			continue;
		easel board;
		set_up(&board);
		rig_arena *arena = rig_arena_new();
		ck_assert(rig_chart_draw(&board.canvas, block->chart, RIG_LAYOUT_WIDE, arena));
		rig_arena_free(arena);
		double x;
		double y;
		double width;
		double height;
		cairo_recording_surface_ink_extents(board.surface, &x, &y, &width, &height);
		ck_assert_double_ge(x, -TOLERANCE);
		ck_assert_double_ge(y, -TOLERANCE);
		ck_assert_double_le(x + width, board.drawn.size.x + TOLERANCE);
		ck_assert_double_le(y + height, board.drawn.size.y + TOLERANCE);
		ck_assert_double_ge(width, 0.6 * board.drawn.size.x);
		take_down(&board);
	}
	rig_document_free(document);
}
END_TEST

Suite *cairo_canvas_suite(void);
Suite *cairo_canvas_suite(void)
{
	Suite *suite = suite_create("cairo_canvas");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_line_starts_where_it_is_told_whatever_was_drawn_before);
	tcase_add_test(all, hatching_stays_inside_its_rectangle_on_paper);
	tcase_add_loop_test(all, a_text_keeps_to_its_room_at_each_anchor, 0, 3);
	tcase_add_test(all, each_chart_stays_within_its_size);
	suite_add_tcase(suite, all);
	return suite;
}
