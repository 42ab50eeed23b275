/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/document.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "suites.h"

START_TEST(a_document_keeps_copies_of_what_it_is_given)
{
	rig_document *document = rig_document_new();
	char name[] = "before";
	rig_add_fact(document, name, name, name);
	const char *cells[] = {name};
	const rig_column column = {name, name, RIG_ALIGN_LEFT};
	const rig_table table = {name, 1, 1, &column, cells};
	rig_add_table(document, &table);
	rig_bar bar = {name, name, {1, 2, 3}, 4, RIG_BAR_HOLDS, name};
	rig_span y = {1, 2, 3};
	double x = 5;
	rig_line line = {name, 1, &x, &y, true};
	rig_chart chart = {.title = name,
		.quantity = name,
		.unit = name,
		.n_bars = 1,
		.bars = &bar,
		.n_lines = 1,
		.lines = &line,
		.state_text = {name}};
	rig_add_chart(document, &chart);
	memcpy(name, "behind", sizeof name);
	y.likely = x = bar.value.likely = -1;
	const rig_fact *fact = rig_document_block_at(document, 0)->facts;
	ck_assert_str_eq(fact->name, "before");
	ck_assert_str_eq(fact->value, "before");
	ck_assert_str_eq(rig_document_block_at(document, 1)->table->cells[0], "before");
	ck_assert_str_eq(rig_document_block_at(document, 1)->table->columns[0].unit, "before");
	const rig_chart *kept = rig_document_block_at(document, 2)->chart;
	ck_assert_str_eq(kept->bars[0].group, "before");
	ck_assert_str_eq(kept->lines[0].label, "before");
	ck_assert_str_eq(kept->state_text[0], "before");
	ck_assert_double_eq(kept->bars[0].value.likely, 2);
	ck_assert_double_eq(kept->lines[0].y[0].likely, 2);
	ck_assert_double_eq(kept->lines[0].x[0], 5);
	rig_document_free(document);
}
END_TEST

START_TEST(facts_and_items_gather_in_order_and_items_do_not_repeat)
{
	rig_document *document = rig_document_new();
	for (int i = 0; i < 100; i++) {
		char name[32];
		snprintf(name, sizeof name, "fact %d", i);
		rig_add_fact(document, name, "v", "");
	}
	rig_add_list(document, "head");
	for (int i = 0; i < 100; i++)
		rig_add_item(document, "item %d", i % 50);
	ck_assert_uint_eq(rig_document_n_blocks(document), 2);
	ck_assert_uint_eq(rig_document_block_at(document, 0)->n_items, 100);
	ck_assert_str_eq(rig_document_block_at(document, 0)->facts[99].name, "fact 99");
	ck_assert_uint_eq(rig_document_block_at(document, 1)->n_items, 50);
	ck_assert_str_eq(rig_document_block_at(document, 1)->items[49], "item 49");
	rig_document_free(document);
}
END_TEST

/* Figures that a chart must refuse. */
static const struct {
	rig_span value;
	double limit, x1, y_top;
} UNSOUND[] = {
	{{NAN, NAN, NAN}, 1, 1, 1},
	{{1, INFINITY, INFINITY}, 1, 1, 1},
	{{2, 1, 3}, 1, 1, 1},
	{{1, 2, 1.5}, 1, 1, 1},
	{{-1, 0, 1}, 1, 1, 1},
	{{0, 0, 0}, NAN, 1, 1},
	{{0, 0, 0}, -1, 1, 1},
	{{0, 0, 0}, 1, 0, 1},
	{{0, 0, 0}, 1, NAN, 1},
	{{0, 0, 0}, 1, 1, NAN},
};

/* Lanes from 0 to 24 that a chart must refuse: two stretches each. */
static const struct {
	rig_stretch stretches[2];
	double x_last, x_step;
} UNSOUND_LANE[] = {
	{{{3, 2, RIG_BAR_HOLDS}, {4, 5, RIG_BAR_HOLDS}}, 24, 4},
	{{{2, 2, RIG_BAR_HOLDS}, {4, 5, RIG_BAR_HOLDS}}, 24, 4},
	{{{2, 4, RIG_BAR_HOLDS}, {3, 5, RIG_BAR_HOLDS}}, 24, 4},
	{{{-1, 1, RIG_BAR_HOLDS}, {4, 5, RIG_BAR_HOLDS}}, 24, 4},
	{{{2, 4, RIG_BAR_HOLDS}, {5, 24.5, RIG_BAR_HOLDS}}, 24, 4},
	{{{2, NAN, RIG_BAR_HOLDS}, {5, 6, RIG_BAR_HOLDS}}, 24, 4},
	{{{NAN, 3, RIG_BAR_HOLDS}, {5, 6, RIG_BAR_HOLDS}}, 24, 4},
	{{{2, 3, RIG_BAR_HOLDS}, {5, INFINITY, RIG_BAR_HOLDS}}, INFINITY, 4},
	{{{2, 3, RIG_BAR_HOLDS}, {5, 6, RIG_BAR_HOLDS}}, 24, -1},
	{{{2, 3, RIG_BAR_HOLDS}, {5, 6, RIG_BAR_HOLDS}}, 24, NAN},
};

START_TEST(stretches_that_are_not_in_order_fail_the_document)
{
	const rig_lane lane = {"l", 2, UNSOUND_LANE[_i].stretches};
	const rig_chart chart = {.kind = RIG_CHART_LANES,
		.title = "t",
		.quantity = "q",
		.unit = "h",
		.x_quantity = "hours",
		.x_last = UNSOUND_LANE[_i].x_last,
		.x_step = UNSOUND_LANE[_i].x_step,
		.n_lanes = 1,
		.lanes = &lane};
	rig_document *document = rig_document_new();
	rig_add_chart(document, &chart);
	ck_assert_int_eq(rig_document_status(document), RIG_BAD_INPUT);
	rig_document_free(document);
}
END_TEST

START_TEST(figures_that_are_not_finite_or_not_in_order_fail_the_document)
{
	rig_document *document = rig_document_new();
	const rig_bar bar = {NULL, "b", UNSOUND[_i].value, UNSOUND[_i].limit, RIG_BAR_PLAIN, ""};
	const double x[] = {0, UNSOUND[_i].x1};
	const rig_span y[] = {{0, 0, 0}, {0, 0, 0}};
	const rig_line line = {"l", 2, x, y, false};
	const rig_chart chart = {.title = "t",
		.quantity = "q",
		.unit = "u",
		.n_bars = 1,
		.bars = &bar,
		.n_lines = 1,
		.lines = &line,
		.y_top = UNSOUND[_i].y_top};
	rig_add_chart(document, &chart);
	ck_assert_int_eq(rig_document_status(document), RIG_BAD_INPUT);
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_document_html(document, &text), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_document_json(document, &text), RIG_BAD_INPUT);
	ck_assert_ptr_null(text);
	rig_document_free(document);
}
END_TEST

START_TEST(the_first_failure_stays_and_later_calls_do_nothing)
{
	rig_document *document = rig_document_new();
	rig_document_fail(document, RIG_NO_MEMORY);
	rig_document_fail(document, RIG_BAD_INPUT);
	rig_add_paragraph(document, "text");
	rig_add_list(document, "");
	rig_add_item(document, "item");
	rig_add_fact(document, "a", "b", "");
	ck_assert_int_eq(rig_document_status(document), RIG_NO_MEMORY);
	ck_assert_uint_eq(rig_document_n_blocks(document), 0);
	rig_document_free(document);
	rig_document_free(NULL);
}
END_TEST

Suite *document_suite(void);
Suite *document_suite(void)
{
	Suite *suite = suite_create("document");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_document_keeps_copies_of_what_it_is_given);
	tcase_add_test(all, facts_and_items_gather_in_order_and_items_do_not_repeat);
	tcase_add_loop_test(
		all, stretches_that_are_not_in_order_fail_the_document, 0, COUNT(UNSOUND_LANE));
	tcase_add_loop_test(all, figures_that_are_not_finite_or_not_in_order_fail_the_document, 0,
		COUNT(UNSOUND));
	tcase_add_test(all, the_first_failure_stays_and_later_calls_do_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
