/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lanes of time as rows of characters. */
#include "plain.h"

#include <math.h>

#include "amount.h"
#include "chart.h"
#include "glyph.h"

enum { GAP = 2, LABEL_COLUMNS = 26, CELLS = 48 };

/* How much of a cell each state fills. */
typedef struct {
	double share[RIG_N_BAR_STATES];
} filling;

static filling fill_of(const rig_lane *lane, double from, double to)
{
	filling fill = {{0}};
	for (size_t i = 0; i < lane->n; i++) {
		const rig_stretch *stretch = &lane->stretches[i];
		const double overlap = fmin(stretch->to, to) - fmax(stretch->from, from);
		if (overlap > 0)
			fill.share[stretch->state] += overlap / (to - from);
	}
	return fill;
}

/* What fails shows from a tenth of a cell on; what runs for less than half shows as a part. */
static char mark_of(const filling *fill)
{
	const double runs = fill->share[RIG_BAR_PLAIN] + fill->share[RIG_BAR_HOLDS];
	if (fill->share[RIG_BAR_FAILS] >= 0.1)
		return 'x';
	if (runs >= 0.5)
		return '#';
	if (runs > 0)
		return ':';
	return (char)(fill->share[RIG_BAR_CLOSE] > 0 ? '+' : ' ');
}

static void add_key(rig_buffer *key, const char *mark, const char *meaning, const char *more)
{
	if (meaning != NULL && meaning[0] != '\0')
		rig_buffer_format(
			key, "%s%s = %s%s", key->length == 0 ? "" : ";  ", mark, meaning, more);
}

static void print_key(rig_plain *plain, const rig_chart *chart)
{
	rig_buffer key = {0};
	if (rig_chart_shows(chart, RIG_BAR_HOLDS)) {
		add_key(&key, "#", chart->state_text[RIG_BAR_HOLDS], "");
		add_key(&key, ":", chart->state_text[RIG_BAR_HOLDS], " for less than half of it");
	}
	if (rig_chart_shows(chart, RIG_BAR_CLOSE))
		add_key(&key, "+", chart->state_text[RIG_BAR_CLOSE], "");
	if (rig_chart_shows(chart, RIG_BAR_FAILS))
		add_key(&key, "x", chart->state_text[RIG_BAR_FAILS], ", for a while");
	plain->failed = plain->failed || key.failed;
	if (key.length > 0)
		rig_plain_paragraph(plain, key.text, 0, "");
	rig_buffer_free(&key);
}

static void print_lane(rig_plain *plain, const rig_chart *chart, const rig_lane *lane, size_t width)
{
	char row[CELLS + 1];
	const double step = (chart->x_last - chart->x_first) / CELLS;
	for (int i = 0; i < CELLS; i++) {
		const double from = chart->x_first + step * i;
		const filling fill = fill_of(lane, from, from + step);
		row[i] = mark_of(&fill);
	}
	row[CELLS] = '\0';
	const rig_lines label = rig_plain_wrap(plain, lane->label, LABEL_COLUMNS);
	for (size_t i = 0; i < label.n; i++) {
		rig_plain_pad(plain, label.line[i], width, RIG_ALIGN_LEFT);
		rig_plain_spaces(plain, GAP);
		if (i == 0)
			rig_buffer_format(&plain->out, "|%s|", row);
		rig_buffer_add(&plain->out, "\n");
	}
}

static size_t label_width(rig_plain *plain, const rig_chart *chart)
{
	size_t widest = 0;
	for (size_t i = 0; i < chart->n_lanes; i++) {
		const rig_lines lines = rig_plain_wrap(plain, chart->lanes[i].label, LABEL_COLUMNS);
		for (size_t j = 0; j < lines.n; j++) {
			const size_t columns = rig_glyph_text_columns(lines.line[j]);
			widest = columns > widest ? columns : widest;
		}
	}
	return widest;
}

void rig_plain_lanes(rig_plain *plain, const rig_chart *chart)
{
	print_key(plain, chart);
	const size_t width = label_width(plain, chart);
	for (size_t i = 0; i < chart->n_lanes; i++)
		print_lane(plain, chart, &chart->lanes[i], width);
	const rig_plain_axis axis = {width + GAP + 1, CELLS, chart->x_first, chart->x_last};
	rig_plain_ticks(plain, chart, &axis);
}
