/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/document.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"

struct rig_document {
	rig_arena *arena;
	rig_status status;
	const char *title;
	size_t n_subtitles, n_blocks;
	const char **subtitles;
	rig_block *blocks;
	cJSON *data;
};

rig_document *rig_document_new(void)
{
	rig_document *document = calloc(1, sizeof *document);
	if (document == NULL)
		return NULL;
	document->arena = rig_arena_new();
	document->data = cJSON_CreateObject();
	document->title = "";
	if (document->arena == NULL || document->data == NULL) {
		rig_document_free(document);
		return NULL;
	}
	return document;
}

void rig_document_free(rig_document *document)
{
	if (document == NULL)
		return;
	cJSON_Delete(document->data);
	rig_arena_free(document->arena);
	free(document);
}

rig_status rig_document_status(const rig_document *document)
{
	return document->status;
}

void rig_document_fail(rig_document *document, rig_status status)
{
	if (document->status == RIG_OK)
		document->status = status;
}

static void *take(rig_document *document, size_t count, size_t size)
{
	void *memory = rig_arena_take(document->arena, count, size);
	if (memory == NULL)
		rig_document_fail(document, RIG_NO_MEMORY);
	return memory;
}

/* Room for one more than n: doubles at each power of two. NULL after a failure. */
static void *grown(rig_document *document, const void *old, size_t n, size_t size)
{
	if (n > 0 && (n & (n - 1)) != 0)
		return (void *)old;
	void *larger = take(document, n == 0 ? 1 : 2 * n, size);
	if (larger != NULL && old != NULL)
		memcpy(larger, old, n * size);
	return larger;
}

/* A copy; "" for NULL and after a failure. */
static const char *kept(rig_document *document, const char *text)
{
	if (text == NULL || document->status != RIG_OK)
		return "";
	const char *copy = rig_arena_text(document->arena, text);
	if (copy == NULL) {
		rig_document_fail(document, RIG_NO_MEMORY);
		return "";
	}
	return copy;
}

__attribute__((format(printf, 2, 0))) static const char *worded(
	rig_document *document, const char *format, va_list values)
{
	va_list again;
	va_copy(again, values);
	const int length = vsnprintf(NULL, 0, format, again);
	va_end(again);
	char *text = length < 0 ? NULL : take(document, (size_t)length + 1, 1);
	if (text == NULL)
		return "";
	vsnprintf(text, (size_t)length + 1, format, values);
	return text;
}

void rig_document_title(rig_document *document, const char *format, ...)
{
	va_list values;
	va_start(values, format);
	document->title = worded(document, format, values);
	va_end(values);
}

void rig_document_subtitle(rig_document *document, const char *format, ...)
{
	const char **list =
		grown(document, document->subtitles, document->n_subtitles, sizeof *list);
	if (list == NULL)
		return;
	document->subtitles = list;
	va_list values;
	va_start(values, format);
	list[document->n_subtitles++] = worded(document, format, values);
	va_end(values);
}

/* A new last block, or NULL after a failure. */
static rig_block *added(rig_document *document, rig_block_kind kind)
{
	if (document->status != RIG_OK)
		return NULL;
	rig_block *blocks = grown(document, document->blocks, document->n_blocks, sizeof *blocks);
	if (blocks == NULL)
		return NULL;
	document->blocks = blocks;
	rig_block *block = &blocks[document->n_blocks++];
	*block = (rig_block){.kind = kind, .head = "", .verdict = "", .text = ""};
	return block;
}

void rig_add_heading(rig_document *document, int level, const char *format, ...)
{
	assert(level == 2 || level == 3);
	rig_block *block = added(document, RIG_BLOCK_HEADING);
	if (block == NULL)
		return;
	va_list values;
	va_start(values, format);
	block->level = level;
	block->head = worded(document, format, values);
	va_end(values);
}

void rig_add_answer(
	rig_document *document, const char *question, const char *verdict, const char *format, ...)
{
	rig_block *block = added(document, RIG_BLOCK_ANSWER);
	if (block == NULL)
		return;
	va_list values;
	va_start(values, format);
	block->head = kept(document, question);
	block->verdict = kept(document, verdict);
	block->text = worded(document, format, values);
	va_end(values);
}

void rig_add_paragraph(rig_document *document, const char *format, ...)
{
	rig_block *block = added(document, RIG_BLOCK_PARAGRAPH);
	if (block == NULL)
		return;
	va_list values;
	va_start(values, format);
	block->text = worded(document, format, values);
	va_end(values);
}

void rig_add_break(rig_document *document)
{
	assert(!rig_document_has_summary(document));
	(void)added(document, RIG_BLOCK_BREAK);
}

bool rig_document_has_summary(const rig_document *document)
{
	for (size_t i = 0; i < document->n_blocks; i++)
		if (document->blocks[i].kind == RIG_BLOCK_BREAK)
			return true;
	return false;
}

void rig_add_list(rig_document *document, const char *head)
{
	rig_block *block = added(document, RIG_BLOCK_LIST);
	if (block != NULL)
		block->head = kept(document, head);
}

void rig_add_caution(rig_document *document, const char *head)
{
	rig_block *block = added(document, RIG_BLOCK_CAUTION);
	if (block != NULL)
		block->head = kept(document, head);
}

static bool holds(const rig_block *block, const char *item)
{
	for (size_t i = 0; i < block->n_items; i++) {
		if (strcmp(block->items[i], item) == 0)
			return true;
	}
	return false;
}

void rig_add_item(rig_document *document, const char *format, ...)
{
	if (document->status != RIG_OK)
		return;
	assert(document->n_blocks > 0);
	rig_block *block = &document->blocks[document->n_blocks - 1];
	assert(block->kind == RIG_BLOCK_LIST || block->kind == RIG_BLOCK_CAUTION);
	va_list values;
	va_start(values, format);
	const char *item = worded(document, format, values);
	va_end(values);
	if (holds(block, item))
		return;
	const char **items = grown(document, block->items, block->n_items, sizeof *items);
	if (items == NULL)
		return;
	items[block->n_items++] = item;
	block->items = items;
}

void rig_add_fact(rig_document *document, const char *name, const char *value, const char *origin)
{
	rig_block *last =
		document->n_blocks == 0 ? NULL : &document->blocks[document->n_blocks - 1];
	const bool goes_on = last != NULL && last->kind == RIG_BLOCK_FACTS;
	rig_block *block = goes_on ? last : added(document, RIG_BLOCK_FACTS);
	if (block == NULL || document->status != RIG_OK)
		return;
	rig_fact *facts = grown(document, block->facts, block->n_items, sizeof *facts);
	if (facts == NULL)
		return;
	facts[block->n_items++] = (rig_fact){.name = kept(document, name),
		.value = kept(document, value),
		.origin = kept(document, origin)};
	block->facts = facts;
}

void rig_add_table(rig_document *document, const rig_table *table)
{
	assert(table->n_columns > 0);
	rig_block *block = added(document, RIG_BLOCK_TABLE);
	if (block == NULL)
		return;
	rig_table *copy = take(document, 1, sizeof *copy);
	rig_column *columns = take(document, table->n_columns, sizeof *columns);
	const size_t n_cells = table->n_rows * table->n_columns;
	const char **cells = take(document, n_cells, sizeof *cells);
	if (copy == NULL || columns == NULL || cells == NULL) {
		document->n_blocks--;
		return;
	}
	for (size_t i = 0; i < table->n_columns; i++)
		columns[i] = (rig_column){.head = kept(document, table->columns[i].head),
			.unit = kept(document, table->columns[i].unit),
			.align = table->columns[i].align};
	for (size_t i = 0; i < n_cells; i++)
		cells[i] = kept(document, table->cells[i]);
	*copy = (rig_table){.caption = kept(document, table->caption),
		.n_columns = table->n_columns,
		.n_rows = table->n_rows,
		.columns = columns,
		.cells = cells};
	block->table = copy;
}

static bool span_is_sound(rig_span span)
{
	return isfinite(span.low) && isfinite(span.likely) && isfinite(span.high) &&
	       span.low <= span.likely && span.likely <= span.high;
}

static bool bar_is_sound(const rig_bar *bar)
{
	return span_is_sound(bar->value) && bar->value.low >= 0 && isfinite(bar->limit) &&
	       bar->limit >= 0;
}

/* Single points may stand above each other. */
static bool line_is_sound(const rig_line *line, bool points)
{
	for (size_t i = 0; i < line->n; i++) {
		if (!span_is_sound(line->y[i]))
			return false;
		if (line->x == NULL)
			continue;
		if (!isfinite(line->x[i]) || (i > 0 && (points ? line->x[i] < line->x[i - 1]
							       : line->x[i] <= line->x[i - 1])))
			return false;
	}
	return true;
}

static bool lane_is_sound(const rig_chart *chart, const rig_lane *lane)
{
	double reached = chart->x_first;
	for (size_t i = 0; i < lane->n; i++) {
		const rig_stretch *stretch = &lane->stretches[i];
		if (!(stretch->from >= reached && stretch->from < stretch->to))
			return false;
		reached = stretch->to;
	}
	return reached <= chart->x_last;
}

static bool lanes_are_sound(const rig_chart *chart)
{
	if (chart->kind != RIG_CHART_LANES)
		return true;
	if (!isfinite(chart->x_first) || !isfinite(chart->x_last) ||
		chart->x_first >= chart->x_last)
		return false;
	for (size_t i = 0; i < chart->n_lanes; i++) {
		if (!lane_is_sound(chart, &chart->lanes[i]))
			return false;
	}
	return true;
}

static bool bottom_is_sound(const rig_chart *chart)
{
	if (chart->y_bottom == 0)
		return true;
	if (chart->kind != RIG_CHART_COURSE || !(chart->y_bottom > 0))
		return false;
	for (size_t i = 0; i < chart->n_lines; i++)
		for (size_t k = 0; k < chart->lines[i].n; k++)
			if (!(chart->lines[i].y[k].low > chart->y_bottom))
				return false;
	return true;
}

static bool chart_is_sound(const rig_chart *chart)
{
	if (!lanes_are_sound(chart) || !isfinite(chart->x_step) || chart->x_step < 0)
		return false;
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (!bar_is_sound(&chart->bars[i]))
			return false;
	}
	for (size_t i = 0; i < chart->n_lines; i++) {
		if (!line_is_sound(&chart->lines[i], chart->points))
			return false;
	}
	return isfinite(chart->y_top) && chart->y_top >= 0 && bottom_is_sound(chart);
}

static const rig_bar *bars_kept(rig_document *document, const rig_chart *chart)
{
	rig_bar *bars = take(document, chart->n_bars, sizeof *bars);
	for (size_t i = 0; bars != NULL && i < chart->n_bars; i++) {
		bars[i] = chart->bars[i];
		bars[i].group = bars[i].group == NULL ? NULL : kept(document, bars[i].group);
		bars[i].label = kept(document, bars[i].label);
		bars[i].note = kept(document, bars[i].note);
	}
	return bars;
}

static const rig_line *lines_kept(rig_document *document, const rig_chart *chart)
{
	rig_line *lines = take(document, chart->n_lines, sizeof *lines);
	for (size_t i = 0; lines != NULL && i < chart->n_lines; i++) {
		const rig_line *from = &chart->lines[i];
		rig_span *y = take(document, from->n, sizeof *y);
		double *x = from->x == NULL ? NULL : take(document, from->n, sizeof *x);
		if (y != NULL && from->n > 0)
			memcpy(y, from->y, from->n * sizeof *y);
		if (x != NULL && from->n > 0)
			memcpy(x, from->x, from->n * sizeof *x);
		lines[i] = *from;
		lines[i].label = kept(document, from->label);
		lines[i].y = y;
		lines[i].x = x;
	}
	return lines;
}

static const rig_lane *lanes_kept(rig_document *document, const rig_chart *chart)
{
	rig_lane *lanes = take(document, chart->n_lanes, sizeof *lanes);
	for (size_t i = 0; lanes != NULL && i < chart->n_lanes; i++) {
		const rig_lane *from = &chart->lanes[i];
		rig_stretch *stretches = take(document, from->n, sizeof *stretches);
		if (stretches != NULL && from->n > 0)
			memcpy(stretches, from->stretches, from->n * sizeof *stretches);
		lanes[i] = (rig_lane){
			kept(document, from->label), stretches == NULL ? 0 : from->n, stretches};
	}
	return lanes;
}

void rig_add_chart(rig_document *document, const rig_chart *chart)
{
	if (!chart_is_sound(chart))
		rig_document_fail(document, RIG_BAD_INPUT);
	rig_block *block = added(document, RIG_BLOCK_CHART);
	if (block == NULL)
		return;
	rig_chart *copy = take(document, 1, sizeof *copy);
	if (copy == NULL) {
		document->n_blocks--;
		return;
	}
	*copy = *chart;
	copy->title = kept(document, chart->title);
	copy->quantity = kept(document, chart->quantity);
	copy->unit = kept(document, chart->unit);
	copy->x_quantity = kept(document, chart->x_quantity);
	for (int i = 0; i < RIG_N_BAR_STATES; i++)
		copy->state_text[i] = kept(document, chart->state_text[i]);
	copy->bars = bars_kept(document, chart);
	copy->lines = lines_kept(document, chart);
	copy->lanes = lanes_kept(document, chart);
	block->chart = copy;
}

static void keep_item(rig_document *document, rig_diagram_item *item)
{
	item->rating = kept(document, item->rating);
	item->rating_more = kept(document, item->rating_more);
	item->size = kept(document, item->size);
	item->length = kept(document, item->length);
	item->name = kept(document, item->name);
	item->text = kept(document, item->text);
}

void rig_add_diagram(rig_document *document, const rig_diagram *diagram)
{
	rig_block *block = added(document, RIG_BLOCK_DIAGRAM);
	if (block == NULL)
		return;
	rig_diagram *copy = take(document, 1, sizeof *copy);
	rig_diagram_item *items = take(document, diagram->n_items, sizeof *items);
	if (copy == NULL || items == NULL) {
		document->n_blocks--;
		return;
	}
	for (size_t i = 0; i < diagram->n_items; i++) {
		items[i] = diagram->items[i];
		assert(items[i].parent < (int)i && items[i].joins < (int)diagram->n_items);
		keep_item(document, &items[i]);
	}
	*copy = (rig_diagram){.title = kept(document, diagram->title),
		.note = kept(document, diagram->note),
		.n_items = diagram->n_items,
		.items = items};
	block->diagram = copy;
}

cJSON *rig_document_data(rig_document *document)
{
	return document->data;
}

const char *rig_document_title_text(const rig_document *document)
{
	return document->title;
}

size_t rig_document_n_subtitles(const rig_document *document)
{
	return document->n_subtitles;
}

const char *rig_document_subtitle_at(const rig_document *document, size_t i)
{
	assert(i < document->n_subtitles);
	return document->subtitles[i];
}

size_t rig_document_n_blocks(const rig_document *document)
{
	return document->n_blocks;
}

const rig_block *rig_document_block_at(const rig_document *document, size_t i)
{
	assert(i < document->n_blocks);
	return &document->blocks[i];
}
