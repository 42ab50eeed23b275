/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compose.h"

#include <math.h>

static const double POINTS_PER_MM = 72.0 / 25.4;

/* In millimetres. */
static const double SIDE_MARGIN = 17.0;
static const double TOP_MARGIN = 15.0;
static const double BOTTOM_MARGIN = 19.0; /* with the foot in it */
static const double NAME_COLUMN = 37.0;
static const double SUMMARY_NAME_COLUMN = 45.0;
static const double NOTE_ROW = 8.5;

static const double GUTTER = 10.0;
static const double BULLET_ROOM = 9.0;
static const double CAUTION_ROOM = 9.0; /* between the edge of the wash and its text */
enum { NOTE_ROWS = 6 };

rig_sheet_page rig_paper_page(rig_paper paper)
{
	const double letter = 8.5 * 72.0;
	const double width = paper == RIG_PAPER_A4 ? 210.0 * POINTS_PER_MM : letter;
	const double height = paper == RIG_PAPER_A4 ? 297.0 * POINTS_PER_MM : 11.0 * 72.0;
	return (rig_sheet_page){.width = width,
		.height = height,
		.left = SIDE_MARGIN * POINTS_PER_MM,
		.top = TOP_MARGIN * POINTS_PER_MM,
		.right = width - SIDE_MARGIN * POINTS_PER_MM,
		.bottom = height - BOTTOM_MARGIN * POINTS_PER_MM};
}

double rig_compose_width(const rig_sheet *sheet)
{
	return sheet->flow.page.right - sheet->body;
}

/* A strip over the width of the sheet. */
static rig_strip *new_strip(rig_sheet *sheet)
{
	rig_strip *strip = rig_flow_strip(&sheet->flow, 3);
	strip->rule_from = sheet->flow.page.left;
	strip->rule_to = sheet->flow.page.right;
	strip->new_page = sheet->breaks;
	sheet->breaks = false;
	return strip;
}

/* One with a text at x. */
static rig_strip *text_at(rig_sheet *sheet, rig_style style, const char *text, double x)
{
	rig_flow *flow = &sheet->flow;
	rig_strip *strip = new_strip(sheet);
	rig_strip_put(
		flow, strip, x, rig_type_set(flow->context, style, text, flow->page.right - x));
	return strip;
}

rig_strip *rig_compose_text(rig_sheet *sheet, rig_style style, const char *text, double before)
{
	rig_strip *strip = text_at(sheet, style, text, sheet->body);
	strip->before = before;
	rig_flow_add(&sheet->flow, strip);
	return strip;
}

static void set_body(rig_sheet *sheet)
{
	sheet->body = sheet->flow.page.left +
		      (sheet->summary ? SUMMARY_NAME_COLUMN : NAME_COLUMN) * POINTS_PER_MM;
}

static rig_style question_style(const rig_sheet *sheet)
{
	return sheet->summary ? RIG_STYLE_BRIEF_QUESTION : RIG_STYLE_QUESTION;
}

static rig_style body_style(const rig_sheet *sheet)
{
	return sheet->summary ? RIG_STYLE_BRIEF : RIG_STYLE_BODY;
}

static void compose_title(rig_sheet *sheet)
{
	rig_flow *flow = &sheet->flow;
	const rig_document *document = sheet->document;
	rig_strip *strip =
		text_at(sheet, RIG_STYLE_TITLE, rig_document_title_text(document), flow->page.left);
	strip->outline_level = 1;
	strip->outline = rig_document_title_text(document);
	const size_t n = rig_document_n_subtitles(document);
	for (size_t i = 0; i < n; i++) {
		strip->keep_next = true;
		rig_flow_add(flow, strip);
		strip = text_at(sheet, RIG_STYLE_SUBTITLE, rig_document_subtitle_at(document, i),
			flow->page.left);
		strip->pad_above = 3.0;
	}
	strip->pad_below = 8.0;
	strip->rule_below = RIG_RULE_DOUBLE;
	rig_flow_add(flow, strip);
}

static void compose_heading(rig_sheet *sheet, const rig_block *block)
{
	const bool part = block->level == 2;
	rig_strip *strip = text_at(sheet, part ? RIG_STYLE_PART : RIG_STYLE_SECTION, block->head,
		sheet->flow.page.left);
	strip->before = part ? 22.0 : 11.0;
	strip->pad_below = part ? 3.0 : 0.0;
	strip->rule_below = part ? RIG_RULE_INK : RIG_RULE_NONE;
	strip->keep_next = true;
	strip->outline_level = block->level;
	strip->outline = block->head;
	rig_flow_add(&sheet->flow, strip);
}

static void compose_answer(rig_sheet *sheet, const rig_block *block)
{
	rig_flow *flow = &sheet->flow;
	rig_strip *strip = new_strip(sheet);
	const double width = sheet->body - GUTTER - flow->page.left;
	rig_strip_put(flow, strip, flow->page.left,
		rig_type_set(flow->context, question_style(sheet), block->head, width));
	const rig_type_run runs[] = {{sheet->summary ? RIG_STYLE_BRIEF_VERDICT : RIG_STYLE_VERDICT,
					     block->verdict, false},
		{body_style(sheet), block->text, true}};
	rig_strip_put(flow, strip, sheet->body,
		rig_type_set_runs(flow->context, block->text[0] == '\0' ? 1 : 2, runs,
			rig_compose_width(sheet)));
	strip->pad_above = sheet->summary ? 1.6 : 8.0;
	strip->pad_below = sheet->summary ? 2.2 : 8.0;
	strip->rule_below = RIG_RULE_FINE;
	strip->whole = true;
	strip->outline_level = 2;
	strip->outline = block->head;
	rig_flow_add(flow, strip);
}

/* A text behind a bullet, up to an edge on the right. */
static rig_strip *compose_item(rig_sheet *sheet, const char *text, double x, double right)
{
	rig_flow *flow = &sheet->flow;
	rig_strip *strip = new_strip(sheet);
	rig_strip_put(flow, strip, x + BULLET_ROOM,
		rig_type_set(flow->context, body_style(sheet), text, right - x - BULLET_ROOM));
	rig_strip_put(flow, strip, x,
		rig_type_set(flow->context, RIG_STYLE_BODY, "\xe2\x80\xa2", BULLET_ROOM));
	strip->whole = strip->n_cells > 0 && strip->cells[0].n_lines < 6;
	return strip;
}

/* A list of the summary stands as answers do: its head beside it. */
static void compose_told(rig_sheet *sheet, const rig_block *block)
{
	rig_flow *flow = &sheet->flow;
	const double width = sheet->body - GUTTER - flow->page.left;
	for (size_t i = 0; i < block->n_items; i++) {
		rig_strip *strip = new_strip(sheet);
		const double x = sheet->body + BULLET_ROOM;
		rig_strip_put(flow, strip, x,
			rig_type_set(flow->context, RIG_STYLE_BRIEF, block->items[i],
				flow->page.right - x));
		rig_strip_put(flow, strip, sheet->body,
			rig_type_set(flow->context, RIG_STYLE_BRIEF, "\xe2\x80\xa2", BULLET_ROOM));
		if (i == 0)
			rig_strip_put(flow, strip, flow->page.left,
				rig_type_set(
					flow->context, question_style(sheet), block->head, width));
		const bool last = i + 1 == block->n_items;
		strip->pad_above = i == 0 ? 1.6 : 0.4;
		strip->pad_below = last ? 2.2 : 0.0;
		strip->rule_below = last ? RIG_RULE_FINE : RIG_RULE_NONE;
		strip->keep_next = !last;
		strip->outline_level = i == 0 ? 2 : 0;
		strip->outline = block->head;
		strip->whole = true;
		rig_flow_add(flow, strip);
	}
}

static void compose_list(rig_sheet *sheet, const rig_block *block)
{
	if (sheet->summary && block->head[0] != '\0') {
		compose_told(sheet, block);
		return;
	}
	if (block->head[0] != '\0')
		rig_compose_text(sheet, RIG_STYLE_SECTION, block->head, 10.0)->keep_next = true;
	for (size_t i = 0; i < block->n_items; i++) {
		rig_strip *strip =
			compose_item(sheet, block->items[i], sheet->body, sheet->flow.page.right);
		strip->before = i == 0 ? 5.0 : 2.6;
		rig_flow_add(&sheet->flow, strip);
	}
}

static void compose_caution(rig_sheet *sheet, const rig_block *block)
{
	rig_flow *flow = &sheet->flow;
	const double x = flow->page.left + CAUTION_ROOM;
	rig_strip *head = text_at(sheet, RIG_STYLE_CAUTION, block->head, x);
	head->before = sheet->summary ? 5.0 : 20.0;
	head->pad_above = sheet->summary ? 3.0 : 8.0;
	head->warns = true;
	head->keep_next = true;
	head->outline_level = 2;
	head->outline = block->head;
	rig_flow_add(flow, head);
	for (size_t i = 0; i < block->n_items; i++) {
		rig_strip *strip =
			compose_item(sheet, block->items[i], x, flow->page.right - CAUTION_ROOM);
		strip->pad_above = sheet->summary ? 1.0 : 3.0;
		strip->pad_below = i + 1 < block->n_items ? 0.0 : sheet->summary ? 3.0 : 9.0;
		strip->warns = true;
		rig_flow_add(flow, strip);
	}
}

static void compose_facts(rig_sheet *sheet, const rig_block *block)
{
	rig_flow *flow = &sheet->flow;
	const double width = sheet->body - GUTTER - flow->page.left;
	for (size_t i = 0; i < block->n_items; i++) {
		const rig_fact *fact = &block->facts[i];
		rig_strip *strip = new_strip(sheet);
		const rig_type_run runs[] = {{RIG_STYLE_BODY, fact->value, false},
			{RIG_STYLE_QUIET, " (", false}, {RIG_STYLE_QUIET, fact->origin, false},
			{RIG_STYLE_QUIET, ")", false}};
		rig_strip_put(flow, strip, flow->page.left,
			rig_type_set(flow->context, RIG_STYLE_QUIET, fact->name, width));
		rig_strip_put(flow, strip, sheet->body,
			rig_type_set_runs(flow->context, fact->origin[0] == '\0' ? 1 : 4, runs,
				rig_compose_width(sheet)));
		strip->before = i == 0 ? 4.0 : 0.0;
		strip->pad_above = 2.6;
		strip->pad_below = 3.2;
		strip->rule_below = RIG_RULE_HAIR;
		strip->keep_next = i + 2 == block->n_items; /* the last one does not stand alone */
		strip->whole = true;
		rig_flow_add(flow, strip);
	}
}

static void compose_block(rig_sheet *sheet, const rig_block *block)
{
	switch (block->kind) {
	case RIG_BLOCK_HEADING:
		compose_heading(sheet, block);
		break;
	case RIG_BLOCK_ANSWER:
		compose_answer(sheet, block);
		break;
	case RIG_BLOCK_PARAGRAPH:
		rig_compose_text(sheet, RIG_STYLE_BODY, block->text, 6.0);
		break;
	case RIG_BLOCK_LIST:
		compose_list(sheet, block);
		break;
	case RIG_BLOCK_BREAK:
		sheet->summary = false;
		set_body(sheet);
		sheet->breaks = true;
		break;
	case RIG_BLOCK_CAUTION:
		compose_caution(sheet, block);
		break;
	case RIG_BLOCK_FACTS:
		compose_facts(sheet, block);
		break;
	case RIG_BLOCK_TABLE:
		rig_compose_table(sheet, block->table);
		break;
	case RIG_BLOCK_CHART:
		rig_compose_chart(sheet, block->chart);
		break;
	case RIG_BLOCK_DIAGRAM:
		rig_compose_diagram(sheet, block->diagram);
		break;
	}
}

/* A ruled line to write on: as high as a hand needs. */
static void rule_note(rig_sheet *sheet, rig_strip *strip)
{
	const double row = NOTE_ROW * POINTS_PER_MM;
	rig_flow_add(&sheet->flow, strip);
	strip->pad_below = 3.0;
	strip->pad_above = fmax(row - strip->pad_below - strip->height, 0.0);
	strip->rule_below = RIG_RULE_FINE;
	strip->whole = true;
	rig_flow_add(&sheet->flow, strip);
}

/* Who looked, when, and room for what was seen. */
static void compose_notes(rig_sheet *sheet)
{
	rig_flow *flow = &sheet->flow;
	const char *author = sheet->options->author;
	const char *date = sheet->options->date;
	const double middle = (flow->page.left + flow->page.right) / 2;
	const rig_type_run name[] = {{RIG_STYLE_QUIET, "Inspector  ", false},
		{RIG_STYLE_BODY, author == NULL ? "" : author, false}};
	const rig_type_run when[] = {{RIG_STYLE_QUIET, "Date  ", false},
		{RIG_STYLE_BODY, date == NULL ? "" : date, false}};
	rig_strip *strip = new_strip(sheet);
	rig_strip_put(flow, strip, flow->page.left,
		rig_type_set_runs(flow->context, 2, name, middle - flow->page.left));
	rig_strip_put(flow, strip, middle + GUTTER,
		rig_type_set_runs(flow->context, 2, when, flow->page.right - middle - GUTTER));
	strip->before = 22.0;
	strip->keep_next = true;
	rule_note(sheet, strip);
	for (int i = 0; i < NOTE_ROWS; i++) {
		strip = text_at(sheet, RIG_STYLE_QUIET, i == 0 ? "Notes" : "", flow->page.left);
		strip->keep_next = i + 1 < NOTE_ROWS;
		rule_note(sheet, strip);
	}
}

void rig_compose(rig_sheet *sheet)
{
	compose_title(sheet);
	sheet->summary = rig_document_has_summary(sheet->document);
	set_body(sheet);
	for (size_t i = 0; i < rig_document_n_blocks(sheet->document); i++)
		compose_block(sheet, rig_document_block_at(sheet->document, i));
	compose_notes(sheet);
	rig_compose_chart_figures(sheet);
}
