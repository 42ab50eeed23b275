/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/pdf.h"

#include <cairo-pdf.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "compose.h"
#include "report/glyph.h"

static const double FOOT_SPACE = 12.0; /* from the text to the rule of the foot */
static const char MADE_WITH[] = "Made with rigbudget " RIG_VERSION ".";
enum { MOST_LEVELS = 4 };

static cairo_status_t take_bytes(void *closure, const unsigned char *data, unsigned int length)
{
	rig_buffer *out = closure;
	rig_buffer_add_bytes(out, (const char *)data, length);
	return out->failed ? CAIRO_STATUS_NO_MEMORY : CAIRO_STATUS_SUCCESS;
}

/* 2026-03-01, and a time behind it or nothing. */
static bool is_iso_date(const char *date)
{
	static const char SHAPE[] = "dddd-dd-dd";
	if (date == NULL || strlen(date) < sizeof SHAPE - 1)
		return false;
	for (size_t i = 0; SHAPE[i] != '\0'; i++) {
		const bool fits = SHAPE[i] == 'd' ? isdigit((unsigned char)date[i]) != 0
						  : date[i] == SHAPE[i];
		if (!fits)
			return false;
	}
	return date[10] == '\0' || date[10] == 'T';
}

/* Texts of the reader's window: characters that steer the direction of writing are spelt out. */
static void set_metadata(
	rig_sheet *sheet, cairo_surface_t *surface, cairo_pdf_metadata_t which, const char *text)
{
	rig_buffer shown = {0};
	rig_glyph_show(&shown, text);
	sheet->flow.failed = sheet->flow.failed || shown.failed;
	cairo_pdf_surface_set_metadata(surface, which, shown.text == NULL ? "" : shown.text);
	rig_buffer_free(&shown);
}

static void describe(rig_sheet *sheet, cairo_surface_t *surface)
{
	const rig_pdf_options *options = sheet->options;
	set_metadata(
		sheet, surface, CAIRO_PDF_METADATA_TITLE, rig_document_title_text(sheet->document));
	if (options->author != NULL)
		set_metadata(sheet, surface, CAIRO_PDF_METADATA_AUTHOR, options->author);
	set_metadata(sheet, surface, CAIRO_PDF_METADATA_CREATOR, "rigbudget " RIG_VERSION);
	/* an empty date keeps cairo from asking the clock */
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
		is_iso_date(options->date) ? options->date : "");
}

/* The entries of the outline so far: the last one of each level. */
typedef struct {
	cairo_surface_t *surface;
	rig_sheet *sheet;
	int last[MOST_LEVELS + 1];
} outliner;

static void add_outline(outliner *outline, const rig_piece *piece)
{
	const rig_strip *strip = piece->strip;
	const int level = strip->outline_level;
	if (level < 1 || level > MOST_LEVELS || !piece->begins)
		return;
	rig_buffer place = {0};
	rig_buffer name = {0};
	rig_buffer_format(&place, "page=%zu pos=[", piece->page + 1);
	rig_buffer_fixed(&place, outline->sheet->flow.page.left, 1);
	rig_buffer_add(&place, " ");
	rig_buffer_fixed(&place, piece->y, 1);
	rig_buffer_add(&place, "]");
	rig_glyph_show(&name, strip->outline);
	int parent = CAIRO_PDF_OUTLINE_ROOT;
	for (int i = level - 1; i > 0 && parent == CAIRO_PDF_OUTLINE_ROOT; i--)
		parent = outline->last[i];
	if (place.failed || name.failed)
		outline->sheet->flow.failed = true;
	else
		outline->last[level] = cairo_pdf_surface_add_outline(outline->surface, parent,
			name.text == NULL ? "-" : name.text, place.text,
			level < 3 ? CAIRO_PDF_OUTLINE_FLAG_OPEN : 0);
	for (int i = level + 1; i <= MOST_LEVELS; i++)
		outline->last[i] = CAIRO_PDF_OUTLINE_ROOT;
	rig_buffer_free(&place);
	rig_buffer_free(&name);
}

/* The title, cut to one line, and the number of the page. */
static void draw_foot(cairo_t *cairo, const rig_sheet *sheet, size_t page)
{
	const rig_flow *flow = &sheet->flow;
	const double y = flow->page.bottom + FOOT_SPACE;
	const bool last = page + 1 == flow->n_pages;
	char number[64];
	snprintf(number, sizeof number, "Page %zu of %zu", page + 1, flow->n_pages);
	rig_tone_use(cairo, RIG_TONE_RULE);
	cairo_set_line_width(cairo, 0.5);
	cairo_move_to(cairo, flow->page.left, y);
	cairo_line_to(cairo, flow->page.right, y);
	cairo_stroke(cairo);
	const double width = flow->page.right - flow->page.left;
	const rig_type_run runs[] = {{RIG_STYLE_FOOT, last ? MADE_WITH : "", false},
		{RIG_STYLE_FOOT, last ? "  " : "", false}, {RIG_STYLE_FOOT, number, false}};
	PangoLayout *right = rig_type_set_runs(flow->context, 3, runs, width);
	PangoRectangle logical = {0};
	if (right != NULL) {
		pango_layout_get_extents(right, NULL, &logical);
		pango_layout_set_alignment(right, PANGO_ALIGN_RIGHT);
	}
	const double taken = (double)logical.width / PANGO_SCALE + 14.0;
	PangoLayout *left = rig_type_set(flow->context, RIG_STYLE_FOOT,
		rig_document_title_text(sheet->document), width - taken);
	if (left != NULL) {
		pango_layout_set_height(left, -1); /* one line */
		pango_layout_set_ellipsize(left, PANGO_ELLIPSIZE_END);
	}
	PangoLayout *const both[] = {left, right};
	for (int i = 0; i < 2; i++) {
		if (both[i] == NULL)
			continue;
		cairo_move_to(cairo, flow->page.left, y + 4.0);
		pango_cairo_show_layout(cairo, both[i]);
		g_object_unref(both[i]);
	}
}

static void draw_pages(rig_sheet *sheet, cairo_surface_t *surface)
{
	const rig_flow *flow = &sheet->flow;
	cairo_t *cairo = cairo_create(surface);
	pango_cairo_update_context(cairo, flow->context);
	outliner outline = {.surface = surface, .sheet = sheet};
	for (size_t page = 0, next = 0; page < flow->n_pages; page++) {
		for (; next < flow->n_pieces && flow->pieces[next].page == page; next++) {
			add_outline(&outline, &flow->pieces[next]);
			rig_piece_draw(cairo, &flow->pieces[next]);
		}
		draw_foot(cairo, sheet, page);
		cairo_show_page(cairo);
	}
	cairo_destroy(cairo);
}

/* Draws the sheet, whose strips have their places. */
static rig_status draw(rig_sheet *sheet, rig_buffer *out)
{
	const rig_sheet_page *page = &sheet->flow.page;
	cairo_surface_t *surface =
		cairo_pdf_surface_create_for_stream(take_bytes, out, page->width, page->height);
	cairo_pdf_surface_restrict_to_version(surface, CAIRO_PDF_VERSION_1_5);
	describe(sheet, surface);
	draw_pages(sheet, surface);
	cairo_surface_finish(surface);
	const cairo_status_t status = cairo_surface_status(surface);
	cairo_surface_destroy(surface);
	return status == CAIRO_STATUS_SUCCESS && !sheet->flow.failed ? RIG_OK : RIG_NO_MEMORY;
}

const char *rig_pdf_version(void)
{
	return RIG_VERSION;
}

rig_status rig_document_pdf(
	const rig_document *document, const rig_pdf_options *options, char **bytes, size_t *length)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	PangoContext *context = rig_type_context();
	if (context == NULL)
		return RIG_NOT_FOUND;
	rig_sheet sheet = {.document = document,
		.options = options,
		.flow = {.arena = rig_arena_new(),
			.context = context,
			.page = rig_paper_page(options->paper)}};
	rig_buffer out = {0};
	rig_status status = RIG_NO_MEMORY;
	if (sheet.flow.arena == NULL)
		goto out;
	rig_compose(&sheet);
	rig_flow_paginate(&sheet.flow);
	if (!sheet.flow.failed)
		status = draw(&sheet, &out);
out:
	rig_flow_clear(&sheet.flow);
	rig_arena_free(sheet.flow.arena);
	g_object_unref(context);
	if (status == RIG_OK) {
		*bytes = out.text;
		*length = out.length;
	} else {
		rig_buffer_free(&out);
	}
	return status;
}
