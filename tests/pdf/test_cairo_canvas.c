/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cairo_canvas.h"

#include "suites.h"

enum { SIDE = 100 };

/* Pixels that have any ink, left of a column. */
static int inked(cairo_surface_t *surface, int left_of)
{
	cairo_surface_flush(surface);
	const unsigned char *bytes = cairo_image_surface_get_data(surface);
	const int stride = cairo_image_surface_get_stride(surface);
	int n = 0;
	for (int y = 0; y < SIDE; y++)
		for (int x = 0; x < left_of; x++)
			n += bytes[y * stride + x] != 0;
	return n;
}

/* A text that cairo has shown leaves a current point, and a line drawn from it would be a lie in a
 * wiring diagram. */
START_TEST(a_picture_does_not_start_where_the_text_before_it_ended)
{
	cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, SIDE, SIDE);
	rig_cairo drawn = {.cairo = cairo_create(surface)};
	const rig_canvas canvas = rig_cairo_canvas(&drawn);
	cairo_move_to(drawn.cairo, 2.0, 98.0);
	canvas.begin(canvas.self, (rig_point){SIDE, SIDE}, "name", "words");
	canvas.line(canvas.self, (rig_point){60.0, 20.0}, (rig_point){90.0, 20.0},
		(rig_pen){RIG_INK_TEXT, 2.0, false});
	canvas.end(canvas.self);
	ck_assert_int_eq(inked(surface, 55), 0);
	ck_assert_int_gt(inked(surface, SIDE), 40);
	cairo_destroy(drawn.cairo);
	cairo_surface_destroy(surface);
}
END_TEST

Suite *cairo_canvas_suite(void);
Suite *cairo_canvas_suite(void)
{
	Suite *suite = suite_create("cairo_canvas");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_picture_does_not_start_where_the_text_before_it_ended);
	suite_add_tcase(suite, all);
	return suite;
}
