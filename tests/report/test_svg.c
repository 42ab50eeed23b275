/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "suites.h"

#include "golden.h"
#include "handmade.h"
#include "report/chart.h"
#include "report/svg.h"
#include "wellformed.h"

static char *drawing_of(const char *name, size_t which, rig_chart_layout layout)
{
	rig_document *document = handmade(name);
	const rig_chart *chart = NULL;
	for (size_t i = 0, seen = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_CHART && seen++ == which)
			chart = block->chart;
	}
	ck_assert_ptr_nonnull(chart);
	rig_buffer buffer = {0};
	rig_svg svg = {.out = &buffer, .id = "c", .kind = ""};
	const rig_canvas canvas = rig_svg_canvas(&svg);
	rig_arena *arena = rig_arena_new();
	ck_assert(rig_chart_draw(&canvas, chart, layout, arena));
	rig_arena_free(arena);
	rig_document_free(document);
	return buffer.text;
}

static const char *const KIND[] = {"months", "ladder", "limits", "course", "lanes"};

/* _i: chart times two plus layout. */
START_TEST(each_chart_is_drawn_as_it_was_reviewed)
{
	const rig_chart_layout layout = (rig_chart_layout)(_i % 2);
	char *drawing = drawing_of("Water heater", (size_t)_i / 2, layout);
	char name[64];
	snprintf(name, sizeof name, "%s-%s.svg", KIND[_i / 2],
		layout == RIG_LAYOUT_WIDE ? "wide" : "narrow");
	check_golden(name, drawing);
	free(drawing);
}
END_TEST

START_TEST(each_chart_is_well_formed_whatever_the_names)
{
	tag_stack stack;
	for (int i = 0; i < N_HOSTILE; i++) {
		char *drawing = drawing_of(HOSTILE[i], (size_t)_i / 2, (rig_chart_layout)(_i % 2));
		const char *wrong = page_fault(drawing, &stack);
		ck_assert_msg(wrong == NULL, "%s: %s", HOSTILE[i], wrong);
		ck_assert_ptr_null(strstr(drawing, "nan"));
		ck_assert_ptr_null(strstr(drawing, "inf"));
		free(drawing);
	}
}
END_TEST

/* Slanting strokes stay inside the rectangle that they fill. */
START_TEST(hatching_stays_inside_its_rectangle)
{
	rig_buffer buffer = {0};
	rig_svg svg = {.out = &buffer, .id = "c", .kind = ""};
	const rig_canvas canvas = rig_svg_canvas(&svg);
	canvas.rectangle(canvas.self, (rig_point){10, 20}, (rig_point){37, 13},
		(rig_brush){RIG_INK_SECOND, RIG_FILL_HATCHED});
	const char *at = strstr(buffer.text, " d=\"");
	ck_assert_ptr_nonnull(at);
	int n = 0;
	for (at += 4; *at == 'M' || *at == 'L'; n++) {
		char *after = NULL;
		const double x = strtod(at + 1, &after);
		const double y = strtod(after, &after);
		ck_assert(x >= 10 - 0.05 && x <= 47 + 0.05);
		ck_assert(y >= 20 - 0.05 && y <= 33 + 0.05);
		at = after;
	}
	ck_assert_int_ge(n, 16);
	rig_buffer_free(&buffer);
}
END_TEST

Suite *svg_suite(void);
Suite *svg_suite(void)
{
	Suite *suite = suite_create("svg");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_chart_is_drawn_as_it_was_reviewed, 0, 2 * COUNT(KIND));
	tcase_add_loop_test(all, each_chart_is_well_formed_whatever_the_names, 0, 2 * COUNT(KIND));
	tcase_add_test(all, hatching_stays_inside_its_rectangle);
	suite_add_tcase(suite, all);
	return suite;
}
