/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strips on pages, seen through the sheets that compose makes of awkward documents. */
#include "flow.h"

#include <math.h>

#include "compose.h"
#include "handmade.h"
#include "suites.h"

enum { LONG_BYTES = 6000 };

/* Points: what rounding may take, and what a letter may stick out of its own box. */
static const double TOLERANCE = 0.05;
static const double SLANT = 1.0;

typedef struct {
	rig_document *document;
	rig_pdf_options options;
	rig_sheet sheet;
} composed;

static composed *compose(rig_document *document, rig_paper paper)
{
	composed *all = calloc(1, sizeof *all);
	all->document = document;
	all->options = (rig_pdf_options){.paper = paper};
	all->sheet = (rig_sheet){.document = document,
		.options = &all->options,
		.flow = {.arena = rig_arena_new(),
			.context = rig_type_context(),
			.page = rig_paper_page(paper)}};
	ck_assert_ptr_nonnull(all->sheet.flow.context);
	rig_compose(&all->sheet);
	rig_flow_paginate(&all->sheet.flow);
	ck_assert(!all->sheet.flow.failed);
	return all;
}

static void give_back(composed *all)
{
	rig_flow_clear(&all->sheet.flow);
	g_object_unref(all->sheet.flow.context);
	rig_arena_free(all->sheet.flow.arena);
	rig_document_free(all->document);
	free(all);
}

/* The letters of every line that the piece shows lie between the margins, and no cell runs into the
 * next one. */
static void check_letters(const rig_flow *flow, const rig_piece *piece)
{
	const rig_strip *strip = piece->strip;
	for (size_t i = 0; i < strip->n_cells; i++) {
		const rig_cell *cell = &strip->cells[i];
		double limit = flow->page.right;
		for (size_t j = 0; j < strip->n_cells; j++) {
			if (strip->cells[j].x > cell->x)
				limit = fmin(limit, strip->cells[j].x);
		}
		PangoRectangle ink;
		pango_layout_get_extents(cell->layout, &ink, NULL);
		ck_assert_double_ge(cell->x + (double)ink.x / PANGO_SCALE, flow->page.left - SLANT);
		ck_assert_double_le(
			cell->x + (double)(ink.x + ink.width) / PANGO_SCALE, limit + SLANT);
		ck_assert_int_eq(pango_layout_is_ellipsized(cell->layout), 0);
	}
	ck_assert_double_le(strip->picture_x + strip->picture_width, flow->page.right + TOLERANCE);
}

/* Pieces follow one another down each page and stay on it. */
static void check_places(const rig_flow *flow)
{
	double y = 0.0;
	size_t page = 0;
	for (size_t i = 0; i < flow->n_pieces; i++) {
		const rig_piece *piece = &flow->pieces[i];
		ck_assert_uint_ge(piece->page, page);
		ck_assert_uint_le(piece->page, page + 1);
		if (piece->page > page)
			y = flow->page.top;
		page = piece->page;
		ck_assert_double_ge(piece->y, fmax(y, flow->page.top) - TOLERANCE);
		y = piece->y + piece->height;
		ck_assert_double_le(y, flow->page.bottom + TOLERANCE);
		check_letters(flow, piece);
	}
	ck_assert_uint_eq(page + 1, flow->n_pages);
}

/* Every line of every strip stands in exactly one piece, but heads that stand again. */
static void check_whole(const rig_flow *flow)
{
	for (size_t i = 0; i < flow->n_strips; i++) {
		const rig_strip *strip = flow->strips[i];
		int reached[8] = {0};
		size_t n = 0;
		ck_assert_uint_le(strip->n_cells, COUNT(reached));
		for (size_t j = 0; j < flow->n_pieces; j++) {
			const rig_piece *piece = &flow->pieces[j];
			if (piece->strip != strip)
				continue;
			const bool again = n > 0 && piece->begins && piece->ends;
			for (size_t k = 0; k < strip->n_cells && !again; k++) {
				ck_assert_int_eq(piece->first[k], reached[k]);
				reached[k] = piece->last[k];
			}
			n++;
		}
		ck_assert_uint_ge(n, 1);
		for (size_t k = 0; k < strip->n_cells; k++)
			ck_assert_int_eq(reached[k], strip->cells[k].n_lines);
	}
}

static size_t first_page_of(const rig_flow *flow, const rig_strip *strip)
{
	for (size_t i = 0; i < flow->n_pieces; i++) {
		if (flow->pieces[i].strip == strip)
			return flow->pieces[i].page;
	}
	return flow->n_pages;
}

/* Strips that are to stand together start on one page, if one page holds them. */
static void check_kept(const rig_flow *flow)
{
	for (size_t i = 0; i < flow->n_strips; i++) {
		size_t last = i;
		double height = flow->strips[i]->height;
		for (; last + 1 < flow->n_strips && flow->strips[last]->keep_next; last++)
			height += flow->strips[last + 1]->before + flow->strips[last + 1]->height;
		if (height <= flow->page.bottom - flow->page.top)
			ck_assert_uint_eq(first_page_of(flow, flow->strips[i]),
				first_page_of(flow, flow->strips[last]));
		i = last;
	}
}

/* Bullet and question cells are measured to their own column; the rest to the margin. */
static void check_sheet(rig_document *document, rig_paper paper)
{
	composed *all = compose(document, paper);
	check_places(&all->sheet.flow);
	check_whole(&all->sheet.flow);
	check_kept(&all->sheet.flow);
	give_back(all);
}

/* _i: name times two plus paper. */
START_TEST(whatever_the_names_all_stands_on_the_page_once)
{
	check_sheet(handmade(HOSTILE[_i / 2]), (rig_paper)(_i % 2));
}
END_TEST

/* One long word; words; Hebrew words; Arabic without a gap. */
static const char *const PIECE[] = {"w", "long name ", "\xd7\xa9\xd7\x9c\xd7\x95\xd7\x9d ",
	"\xd8\xb3\xd9\x84\xd8\xa7\xd9\x85", "\xe6\x97\xa5", "12,345 A "};

START_TEST(names_of_thousands_of_letters_are_broken_and_cut_nowhere)
{
	char *name = calloc(LONG_BYTES + 40, 1);
	const size_t length = strlen(PIECE[_i / 2]);
	for (size_t n = 0; n < LONG_BYTES; n += length)
		memcpy(name + n, PIECE[_i / 2], length);
	check_sheet(handmade(name), (rig_paper)(_i % 2));
	free(name);
}
END_TEST

/* A table over several pages shows its head on each. */
START_TEST(the_head_of_a_table_stands_on_each_of_its_pages)
{
	enum { ROWS = 200, CELLS = 2 * ROWS };
	const char *cells[CELLS];
	for (size_t i = 0; i < CELLS; i++)
		cells[i] = "cell";
	const rig_column columns[] = {
		{"first", "", RIG_ALIGN_LEFT}, {"second", "A", RIG_ALIGN_RIGHT}};
	const rig_table table = {"Long", 2, ROWS, columns, cells};
	rig_document *document = rig_document_new();
	rig_document_title(document, "Sheet");
	rig_add_table(document, &table);
	composed *all = compose(document, RIG_PAPER_A4);
	const rig_flow *flow = &all->sheet.flow;
	const rig_strip *head = NULL;
	for (size_t i = 0; i < flow->n_strips && head == NULL; i++)
		head = flow->strips[i]->head;
	ck_assert_ptr_nonnull(head);
	size_t n = 0;
	size_t last_page = 0;
	for (size_t i = 0; i < flow->n_pieces; i++) {
		n += flow->pieces[i].strip == head ? 1 : 0;
		last_page = flow->pieces[i].strip->head == head ? flow->pieces[i].page : last_page;
	}
	ck_assert_uint_ge(last_page, 2);
	ck_assert_uint_eq(n, last_page + 1);
	give_back(all);
}
END_TEST

/* A row of its own for each length around a page's: none of them is lost or leaves a lone line. */
START_TEST(a_text_that_breaks_leaves_two_lines_on_either_page)
{
	for (size_t lines = 1; lines < 60; lines += 3) {
		rig_document *document = rig_document_new();
		rig_document_title(document, "Sheet");
		for (int i = 0; i < 40; i++) {
			rig_buffer words = {0};
			for (size_t j = 0; j < lines * 12; j++)
				rig_buffer_add(&words, "seven words ");
			rig_add_paragraph(document, "%s", words.text);
			rig_buffer_free(&words);
		}
		composed *all = compose(document, RIG_PAPER_LETTER);
		check_whole(&all->sheet.flow);
		for (size_t i = 0; i < all->sheet.flow.n_pieces; i++) {
			const rig_piece *piece = &all->sheet.flow.pieces[i];
			if (piece->strip->n_cells == 1 && piece->strip->cells[0].n_lines > 3 &&
				!(piece->begins && piece->ends))
				ck_assert_int_ge(piece->last[0] - piece->first[0], 2);
		}
		give_back(all);
	}
}
END_TEST

Suite *flow_suite(void);
Suite *flow_suite(void)
{
	Suite *suite = suite_create("flow");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, whatever_the_names_all_stands_on_the_page_once, 0, 2 * N_HOSTILE);
	tcase_add_loop_test(
		all, names_of_thousands_of_letters_are_broken_and_cut_nowhere, 0, 2 * COUNT(PIECE));
	tcase_add_test(all, the_head_of_a_table_stands_on_each_of_its_pages);
	tcase_add_test(all, a_text_that_breaks_leaves_two_lines_on_either_page);
	suite_add_tcase(suite, all);
	return suite;
}
