/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compose.h"

#include <math.h>
#include <string.h>

#include "cairo_canvas.h"
#include "report/chart.h"

static const double TALLEST = 0.7; /* share of a page that a picture may take */

typedef struct {
	const rig_sheet *sheet;
	const rig_chart *chart;
	double scale;
} picture;

static bool draw_on(
	cairo_t *cairo, const rig_sheet *sheet, const rig_chart *chart, rig_cairo *drawn)
{
	*drawn = (rig_cairo){.cairo = cairo, .context = sheet->flow.context};
	const rig_canvas canvas = rig_cairo_canvas(drawn);
	return rig_chart_draw(&canvas, chart, RIG_LAYOUT_WIDE, sheet->flow.arena);
}

/* The chart was drawn once to be measured, so that there is memory for it. */
static void draw(cairo_t *cairo, const void *self)
{
	const picture *it = self;
	rig_cairo drawn;
	cairo_scale(cairo, it->scale, it->scale);
	draw_on(cairo, it->sheet, it->chart, &drawn);
}

static void add_name(rig_buffer *names, const char *group, const char *name)
{
	rig_buffer_format(names, "%s%s%s%s", names->length > 0 ? "; " : "", group,
		group[0] != '\0' ? ": " : "", name);
}

/* The names that a picture may cut short. */
static void add_names(rig_buffer *names, const rig_chart *chart)
{
	const char *last = "";
	for (size_t i = 0; i < chart->n_bars; i++) {
		const char *group = chart->bars[i].group == NULL ? "" : chart->bars[i].group;
		add_name(names, strcmp(group, last) == 0 ? "" : group, chart->bars[i].label);
		last = group;
	}
	for (size_t i = 0; i < chart->n_lines; i++)
		add_name(names, "", chart->lines[i].label);
	for (size_t i = 0; i < chart->n_lanes; i++)
		add_name(names, "", chart->lanes[i].label);
}

static void compose_names(rig_sheet *sheet, const rig_chart *chart)
{
	rig_buffer names = {0};
	add_names(&names, chart);
	const char *text = names.failed ? NULL
					: rig_arena_format(sheet->flow.arena, "Names in full: %s.",
						  names.text == NULL ? "" : names.text);
	rig_buffer_free(&names);
	if (text == NULL)
		sheet->flow.failed = true;
	else
		rig_compose_text(sheet, RIG_STYLE_QUIET, text, 3.0);
}

void rig_compose_chart(rig_sheet *sheet, const rig_chart *chart)
{
	rig_flow *flow = &sheet->flow;
	rig_cairo measured;
	picture *it = rig_arena_take(flow->arena, 1, sizeof *it);
	if (it == NULL || !draw_on(NULL, sheet, chart, &measured)) {
		flow->failed = true;
		return;
	}
	const double tallest = TALLEST * (flow->page.bottom - flow->page.top);
	*it = (picture){sheet, chart,
		fmin(rig_compose_width(sheet) / measured.size.x, tallest / measured.size.y)};
	rig_strip *strip = rig_flow_strip(flow, 0);
	strip->draw = draw;
	strip->picture = it;
	strip->picture_x = sheet->body;
	strip->picture_width = measured.size.x * it->scale;
	strip->picture_height = measured.size.y * it->scale;
	strip->before = 13.0;
	strip->whole = true;
	strip->keep_next = true;
	rig_flow_add(flow, strip);
	rig_compose_text(sheet, RIG_STYLE_QUIET, rig_chart_sentence(flow->arena, chart), 4.0);
	if (measured.shortened)
		compose_names(sheet, chart);
}

static const char *meaning(const rig_chart *chart, rig_bar_state state)
{
	return chart->state_text[state] == NULL ? "" : chart->state_text[state];
}

/* A text of the arena. */
static const char *had(rig_sheet *sheet, const char *text)
{
	sheet->flow.failed = sheet->flow.failed || text == NULL;
	return text == NULL ? "" : text;
}

static const char *bar_name(rig_sheet *sheet, const rig_bar *bar)
{
	return bar->group == NULL ? bar->label
				  : had(sheet, rig_arena_format(sheet->flow.arena, "%s: %s",
						       bar->group, bar->label));
}

enum { BAR_COLUMNS = 3 };

/* The i-th bar, or a line across a ladder behind them, in the words of the text sheet. */
static void name_bar(
	rig_sheet *sheet, const rig_chart *chart, size_t i, const char *row[BAR_COLUMNS])
{
	rig_arena *arena = sheet->flow.arena;
	for (int j = 0; j < BAR_COLUMNS; j++)
		row[j] = "";
	if (i >= chart->n_bars) {
		row[0] = rig_mark_words(arena, chart, i - chart->n_bars);
		return;
	}
	const rig_bar *bar = &chart->bars[i];
	row[0] = bar_name(sheet, bar);
	row[1] = rig_bar_words(arena, chart, bar);
	row[2] = meaning(chart, bar->state);
}

static void compose_bars(rig_sheet *sheet, const rig_chart *chart)
{
	const bool marked = chart->kind == RIG_CHART_LADDER;
	const size_t n_rows = chart->n_bars + (marked ? chart->n_lines : 0);
	const char **cells = rig_arena_take(sheet->flow.arena, n_rows * BAR_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		sheet->flow.failed = true;
		return;
	}
	for (size_t i = 0; i < n_rows; i++) {
		const char *row[BAR_COLUMNS];
		name_bar(sheet, chart, i, row);
		memcpy(&cells[i * BAR_COLUMNS], row, sizeof row);
	}
	const rig_column columns[BAR_COLUMNS] = {{"bar", "", RIG_ALIGN_LEFT},
		{chart->quantity, chart->unit, RIG_ALIGN_LEFT},
		{"which means", "", RIG_ALIGN_LEFT}};
	const rig_table table = {chart->title, BAR_COLUMNS, n_rows, columns, cells};
	rig_compose_table(sheet, &table);
}

/* Opens the part. */
static void compose_figures_head(rig_sheet *sheet)
{
	static const char HEAD[] = "The figures of the charts";
	rig_strip *head = rig_compose_text(sheet, RIG_STYLE_PART, HEAD, 22.0);
	head->pad_below = 3.0;
	head->rule_below = RIG_RULE_INK;
	head->keep_next = true;
	head->outline_level = 2;
	head->outline = HEAD;
	if (head->n_cells > 0)
		head->cells[0].x = sheet->flow.page.left;
	rig_flow_add(&sheet->flow, head);
}

void rig_compose_chart_figures(rig_sheet *sheet)
{
	bool any = false;
	for (size_t i = 0; i < rig_document_n_blocks(sheet->document); i++) {
		const rig_block *block = rig_document_block_at(sheet->document, i);
		if (block->kind != RIG_BLOCK_CHART || block->chart->n_bars == 0)
			continue;
		if (!any)
			compose_figures_head(sheet);
		any = true;
		compose_bars(sheet, block->chart);
	}
}
