/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/document.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "chart.h"
#include "diagram.h"
#include "explain.h"
#include "glyph.h"
#include "sheet.h"
#include "svg.h"

enum { SHORT_TABLE = 8 };

typedef struct {
	const rig_document *document;
	const char *prefix; /* of every id */
	bool explains; /* says beside each figure which explanation is its own, for a page to show
			*/
	rig_arena *arena;
	rig_buffer out;
	bool failed;
	bool in_parts; /* the sections together, which run in two columns on paper */
	bool in_summary;
	bool in_section;
	int n_headings, n_charts; /* so far: they number the ids */
} html_page;

static void add(html_page *html, const char *tags)
{
	rig_buffer_add(&html->out, tags);
}

/* An element with a text; tag may carry attributes. */
static void add_element(html_page *html, const char *tag, const char *text)
{
	const size_t name = strcspn(tag, " ");
	rig_buffer_format(&html->out, "<%s>", tag);
	rig_glyph_mark_up(&html->out, text);
	rig_buffer_format(&html->out, "</%.*s>\n", (int)name, tag);
}

/* The attribute that names the explanation of what is shown; also ends the tag. */
static void end_tag(html_page *html, rig_shown_kind kind, const char *words, const char *within)
{
	const char *about = html->explains ? rig_explained_by(kind, words, within) : NULL;
	if (about != NULL)
		rig_buffer_format(&html->out, " data-explain=\"%s\"", about);
	add(html, ">");
}

static void add_heading(html_page *html, const char *text, int level)
{
	rig_buffer_format(&html->out, "<h%d id=\"%sh%d\">", level, html->prefix, html->n_headings);
	rig_glyph_mark_up(&html->out, text);
	rig_buffer_format(&html->out, "</h%d>\n", level);
}

static void close_section(html_page *html)
{
	if (html->in_section)
		add(html, "</section>\n");
	html->in_section = false;
}

static void close_parts(html_page *html)
{
	close_section(html);
	if (html->in_parts)
		add(html, "</div>\n");
	html->in_parts = false;
}

static void write_heading(html_page *html, const rig_block *block)
{
	html->n_headings++;
	if (block->level == 2) {
		close_section(html);
		add(html, html->in_parts ? "" : "<div class=\"parts\">\n");
		html->in_parts = true;
		rig_buffer_format(&html->out, "<section aria-labelledby=\"%sh%d\">\n", html->prefix,
			html->n_headings);
		html->in_section = true;
	}
	add_heading(html, block->head, block->level);
}

/* One level below what is open. */
static int inner_level(const html_page *html)
{
	return html->in_section ? 3 : 2;
}

static void write_answer(html_page *html, const rig_block *block)
{
	html->n_headings++;
	rig_buffer_format(&html->out, "<section class=\"answer\" aria-labelledby=\"%sh%d\"",
		html->prefix, html->n_headings);
	end_tag(html, RIG_SHOWN_ANSWER, block->head, "");
	add(html, "\n");
	add_heading(html, block->head, inner_level(html));
	add(html, "<div>");
	add_element(html, "p class=\"verdict\"", block->verdict);
	if (block->text[0] != '\0')
		add_element(html, "p", block->text);
	add(html, "</div></section>\n");
}

static void write_items(html_page *html, const rig_block *block)
{
	add(html, "<ul>\n");
	for (size_t i = 0; i < block->n_items; i++)
		add_element(html, "li", block->items[i]);
	add(html, "</ul>\n");
}

static void write_list(html_page *html, const rig_block *block)
{
	if (html->in_summary && block->head[0] != '\0') {
		html->n_headings++;
		rig_buffer_format(&html->out,
			"<section class=\"answer\" aria-labelledby=\"%sh%d\">\n", html->prefix,
			html->n_headings);
		add_heading(html, block->head, inner_level(html));
		write_items(html, block);
		add(html, "</section>\n");
		return;
	}
	if (block->head[0] != '\0') {
		html->n_headings++;
		add_heading(html, block->head, inner_level(html));
	}
	write_items(html, block);
}

static void write_caution(html_page *html, const rig_block *block)
{
	/* cautions stand on their own, whatever was open */
	close_parts(html);
	html->n_headings++;
	rig_buffer_format(&html->out, "<aside class=\"caution\" aria-labelledby=\"%sh%d\">\n",
		html->prefix, html->n_headings);
	add_heading(html, block->head, inner_level(html));
	write_items(html, block);
	add(html, "</aside>\n");
}

static void write_facts(html_page *html, const rig_block *block)
{
	add(html, "<dl>\n");
	for (size_t i = 0; i < block->n_items; i++) {
		const rig_fact *fact = &block->facts[i];
		add(html, "<div");
		end_tag(html, RIG_SHOWN_FACT, fact->name, "");
		add_element(html, "dt", fact->name);
		add(html, "<dd>");
		rig_glyph_mark_up(&html->out, fact->value);
		if (fact->origin[0] != '\0') {
			add(html, " <small>(");
			rig_glyph_mark_up(&html->out, fact->origin);
			add(html, ")</small>");
		}
		add(html, "</dd></div>\n");
	}
	add(html, "</dl>\n");
}

static void write_table_head(html_page *html, const rig_table *table)
{
	add(html, "<thead><tr>");
	for (size_t i = 0; i < table->n_columns; i++) {
		const rig_column *column = &table->columns[i];
		add(html, column->align == RIG_ALIGN_RIGHT ? "<th scope=\"col\" class=\"r\""
							   : "<th scope=\"col\"");
		end_tag(html, RIG_SHOWN_COLUMN, column->head, table->caption);
		rig_glyph_mark_up(&html->out, column->head);
		if (column->unit[0] != '\0') {
			add(html, " <small>");
			rig_glyph_mark_up(&html->out, column->unit);
			add(html, "</small>");
		}
		add(html, "</th>");
	}
	add(html, "</tr></thead>\n");
}

static void write_row(html_page *html, const rig_table *table, size_t row)
{
	add(html, "<tr>");
	for (size_t i = 0; i < table->n_columns; i++) {
		const bool right = table->columns[i].align == RIG_ALIGN_RIGHT;
		if (i == 0)
			add(html, right ? "<th scope=\"row\" class=\"r\">" : "<th scope=\"row\">");
		else
			add(html, right ? "<td class=\"r\">" : "<td>");
		rig_glyph_mark_up(&html->out, table->cells[row * table->n_columns + i]);
		add(html, i == 0 ? "</th>" : "</td>");
	}
	add(html, "</tr>\n");
}

/* Wide tables scroll in a box of their own, which a keyboard can reach. */
static void write_table(html_page *html, const rig_table *table)
{
	/* a short one stays in one piece on paper */
	rig_buffer_format(&html->out,
		"<div class=\"table%s\" role=\"region\" tabindex=\"0\" aria-label=\"",
		table->n_rows <= SHORT_TABLE ? " short" : "");
	rig_glyph_mark_up(&html->out, table->caption);
	add(html, "\"><table>\n");
	if (table->caption[0] != '\0')
		add_element(html, "caption", table->caption);
	write_table_head(html, table);
	add(html, "<tbody>\n");
	for (size_t row = 0; row < table->n_rows; row++)
		write_row(html, table, row);
	add(html, "</tbody></table></div>\n");
}

static void write_drawing(html_page *html, const rig_chart *chart, rig_chart_layout layout)
{
	const bool wide = layout == RIG_LAYOUT_WIDE;
	const char *id = rig_arena_format(
		html->arena, "%sc%d%s", html->prefix, html->n_charts, wide ? "w" : "n");
	if (id == NULL) {
		html->failed = true;
		return;
	}
	rig_svg svg = {.out = &html->out, .id = id, .kind = wide ? "wide" : "narrow"};
	const rig_canvas canvas = rig_svg_canvas(&svg);
	if (!rig_chart_draw(&canvas, chart, layout, html->arena))
		html->failed = true;
}

static void write_chart(html_page *html, const rig_chart *chart)
{
	html->n_charts++;
	add(html, "<figure");
	end_tag(html, RIG_SHOWN_CHART, chart->title, "");
	add(html, "\n");
	write_drawing(html, chart, RIG_LAYOUT_WIDE);
	write_drawing(html, chart, RIG_LAYOUT_NARROW);
	add_element(html, "figcaption", rig_chart_sentence(html->arena, chart));
	add(html, "</figure>\n");
	const rig_table *table = rig_chart_table(html->arena, chart);
	if (table == NULL) {
		html->failed = true;
		return;
	}
	add(html, "<details><summary>The figures of this chart</summary>\n");
	write_table(html, table);
	add(html, "</details>\n");
}

/* The sheets of one layout. */
static size_t write_sheets(html_page *html, const rig_diagram *diagram, rig_chart_layout layout)
{
	const bool wide = layout == RIG_LAYOUT_WIDE;
	const rig_diagram_layout laid = rig_diagram_lay_out(diagram, layout, html->arena);
	html->failed = html->failed || laid.failed;
	for (size_t i = 0; !laid.failed && i < laid.n_sheets; i++) {
		const char *id = rig_arena_format(
			html->arena, "d%d%s%zu", html->n_charts, wide ? "w" : "n", i + 1);
		if (id == NULL) {
			html->failed = true;
			break;
		}
		rig_svg svg = {.out = &html->out, .id = id, .kind = wide ? "wide" : "narrow"};
		const rig_canvas canvas = rig_svg_canvas(&svg);
		rig_diagram_draw(&canvas, diagram, &laid, i);
	}
	return laid.n_sheets;
}

/* The same in words, as lists in lists. */
static void write_tree(html_page *html, const rig_diagram *diagram, int parent)
{
	bool any = false;
	for (size_t i = 0; i < diagram->n_items; i++) {
		if (diagram->items[i].parent != parent)
			continue;
		add(html, any ? "" : "<ul>\n");
		any = true;
		add(html, "<li>");
		rig_glyph_mark_up(&html->out, rig_diagram_item_words(html->arena, diagram, i));
		write_tree(html, diagram, (int)i);
		add(html, "</li>\n");
	}
	add(html, any ? "</ul>\n" : "");
}

static void write_diagram(html_page *html, const rig_diagram *diagram)
{
	html->n_charts++;
	add(html, "<figure class=\"diagram\">\n");
	const size_t n_sheets = write_sheets(html, diagram, RIG_LAYOUT_WIDE);
	write_sheets(html, diagram, RIG_LAYOUT_NARROW);
	add_element(html, "figcaption", rig_diagram_sentence(html->arena, diagram, n_sheets));
	add(html, "</figure>\n<details><summary>The diagram in words</summary>\n");
	write_tree(html, diagram, -1);
	add(html, "</details>\n");
}

static void write_block(html_page *html, const rig_block *block)
{
	switch (block->kind) {
	case RIG_BLOCK_HEADING:
		write_heading(html, block);
		break;
	case RIG_BLOCK_ANSWER:
		write_answer(html, block);
		break;
	case RIG_BLOCK_PARAGRAPH:
		add_element(html, "p", block->text);
		break;
	case RIG_BLOCK_LIST:
		write_list(html, block);
		break;
	case RIG_BLOCK_BREAK:
		close_parts(html);
		add(html, "</div>\n");
		html->in_summary = false;
		break;
	case RIG_BLOCK_CAUTION:
		write_caution(html, block);
		break;
	case RIG_BLOCK_FACTS:
		write_facts(html, block);
		break;
	case RIG_BLOCK_TABLE:
		write_table(html, block->table);
		break;
	case RIG_BLOCK_CHART:
		write_chart(html, block->chart);
		break;
	case RIG_BLOCK_DIAGRAM:
		write_diagram(html, block->diagram);
		break;
	}
}

static void write_head(html_page *html)
{
	add(html, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
		  "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
		  "style-src 'unsafe-inline'; img-src data:\">\n"
		  "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
	add_element(html, "title", rig_document_title_text(html->document));
	add(html, "<style>\n");
	add(html, rig_sheet_css);
	add(html, "</style>\n</head>\n<body>\n");
}

/* The sheet itself, from its title to its last line. */
static void write_sheet(html_page *html)
{
	add(html, "<header>\n");
	add_element(html, "h1", rig_document_title_text(html->document));
	for (size_t i = 0; i < rig_document_n_subtitles(html->document); i++)
		add_element(html, "p", rig_document_subtitle_at(html->document, i));
	add(html, "</header>\n");
	html->in_summary = rig_document_has_summary(html->document);
	add(html, html->in_summary ? "<div class=\"summary\">\n" : "");
	for (size_t i = 0; i < rig_document_n_blocks(html->document); i++)
		write_block(html, rig_document_block_at(html->document, i));
	close_parts(html);
	add(html, "<footer>Made with rigbudget " RIG_VERSION ".</footer>\n");
}

/* A whole file without a prefix, an article with one. */
static rig_status render(const rig_document *document, const char *prefix, char **text)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	const bool whole = prefix == NULL;
	html_page html = {.document = document,
		.prefix = whole ? "" : prefix,
		.explains = !whole,
		.arena = rig_arena_new()};
	if (html.arena == NULL)
		return RIG_NO_MEMORY;
	if (whole)
		write_head(&html);
	add(&html, whole ? "<main>\n" : "<article class=\"sheet\">\n");
	write_sheet(&html);
	add(&html, whole ? "</main>\n</body>\n</html>\n" : "</article>\n");
	html.failed = html.failed || rig_arena_failed(html.arena);
	rig_arena_free(html.arena);
	if (html.failed || html.out.failed) {
		rig_buffer_free(&html.out);
		return RIG_NO_MEMORY;
	}
	*text = html.out.text;
	return RIG_OK;
}

rig_status rig_document_html(const rig_document *document, char **text)
{
	return render(document, NULL, text);
}

rig_status rig_document_article(const rig_document *document, const char *prefix, char **text)
{
	return render(document, prefix, text);
}

const char *rig_document_style(void)
{
	return rig_sheet_css;
}
