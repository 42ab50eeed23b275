/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain.h"

#include <math.h>
#include <string.h>

#include "amount.h"
#include "chart.h"
#include "glyph.h"

enum { GAP = 2, BAR_COLUMNS = 28, LABEL_COLUMNS = 25, PLOT_COLUMNS = 68, PLOT_ROWS = 12 };

static const char STATE_MARK[RIG_N_BAR_STATES] = {'#', '#', '+', 'x'};
/* The marks of the first four lines; any further one looks like the fourth. */
static const char LINE_MARK[] = "|:!;";   /* across bars */
static const char COURSE_MARK[] = "*o%@"; /* over time */

static char mark_of(const char *marks, size_t i)
{
	enum { LAST = 3 };
	return marks[i < LAST ? i : LAST];
}

static char course_mark(const rig_chart *chart, size_t i)
{
	if (chart->lines[i].level)
		return '-';
	return mark_of(COURSE_MARK, i);
}

/* Adds "#  meaning   " to a key in the making. */
static void add_key(rig_buffer *key, char mark, const char *meaning)
{
	if (meaning == NULL || meaning[0] == '\0')
		return;
	rig_buffer_format(key, "%s%c = %s", key->length == 0 ? "" : ";  ", mark, meaning);
}

static bool any_doubt(const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (chart->bars[i].value.high > chart->bars[i].value.likely)
			return true;
	}
	return false;
}

static bool any_torn(const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (rig_chart_is_torn(chart, &chart->bars[i]))
			return true;
	}
	return false;
}

static bool any_limit(const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (chart->bars[i].limit > 0)
			return true;
	}
	return false;
}

static void print_key(rig_plain *plain, const rig_chart *chart)
{
	rig_buffer key = {0};
	for (int i = 0; i < RIG_N_BAR_STATES; i++) {
		if (rig_chart_shows(chart, (rig_bar_state)i))
			add_key(&key, STATE_MARK[i], chart->state_text[i]);
	}
	if (any_doubt(chart))
		add_key(&key, '.', "up to the high end of the range");
	if (any_limit(chart))
		add_key(&key, '|', "the limit");
	if (any_torn(chart))
		add_key(&key, '>', "runs off the scale");
	for (size_t i = 0; i < chart->n_lines; i++)
		add_key(&key, mark_of(LINE_MARK, i),
			chart->kind == RIG_CHART_LADDER ? rig_mark_words(plain->arena, chart, i)
							: chart->lines[i].label);
	if (key.failed)
		plain->failed = true;
	if (key.length > 0)
		rig_plain_paragraph(plain, key.text, 0, "");
	rig_buffer_free(&key);
}

/* Column in which a value ends, from 0 to width. */
static int column_of(double value, double reach, int width)
{
	return (int)lround(fmin(value / reach, 1.0) * width);
}

/* A bar in the room of BAR_COLUMNS + 1 characters and a terminator. */
static void draw_bar(const rig_chart *chart, size_t index, char *room)
{
	const rig_bar *bar = &chart->bars[index];
	const double reach = rig_chart_reach(chart);
	const int likely = column_of(bar->value.likely, reach, BAR_COLUMNS);
	const int high = column_of(bar->value.high, reach, BAR_COLUMNS);
	for (int i = 0; i <= BAR_COLUMNS; i++)
		room[i] = (char)(i < likely ? STATE_MARK[bar->state] : i < high ? '.' : ' ');
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		const size_t at = chart->kind == RIG_CHART_LADDER ? 0 : index;
		if (at < line->n)
			room[column_of(line->y[at].likely, reach, BAR_COLUMNS)] =
				mark_of(LINE_MARK, i);
	}
	if (bar->limit > 0)
		room[column_of(bar->limit, reach, BAR_COLUMNS)] = '|';
	if (rig_chart_is_torn(chart, bar))
		room[BAR_COLUMNS] = '>';
	room[BAR_COLUMNS + 1] = '\0';
}

static size_t label_columns(rig_plain *plain, const rig_chart *chart)
{
	size_t widest = 3;
	for (size_t i = 0; i < chart->n_bars; i++) {
		const rig_lines lines = rig_plain_wrap(plain, chart->bars[i].label, LABEL_COLUMNS);
		for (size_t j = 0; j < lines.n; j++) {
			const size_t columns = rig_glyph_text_columns(lines.line[j]);
			widest = columns > widest ? columns : widest;
		}
	}
	return widest;
}

static void print_bar(rig_plain *plain, const rig_chart *chart, size_t index, size_t label_width)
{
	char drawing[BAR_COLUMNS + 2];
	draw_bar(chart, index, drawing);
	const size_t room = RIG_PLAIN_COLUMNS - label_width - BAR_COLUMNS - 1 - GAP - GAP;
	const rig_bar *bar = &chart->bars[index];
	const rig_lines label = rig_plain_wrap(plain, bar->label, label_width);
	const rig_lines words =
		rig_plain_wrap(plain, rig_bar_words(plain->arena, chart, bar), room);
	for (size_t row = 0; row < label.n || row < words.n; row++) {
		rig_plain_pad(
			plain, row < label.n ? label.line[row] : "", label_width, RIG_ALIGN_LEFT);
		rig_plain_spaces(plain, GAP);
		rig_plain_pad(plain, row == 0 ? drawing : "", BAR_COLUMNS + 1, RIG_ALIGN_LEFT);
		rig_plain_spaces(plain, GAP);
		rig_buffer_add(&plain->out, row < words.n ? words.line[row] : "");
		rig_buffer_add(&plain->out, "\n");
	}
}

static void print_bars(rig_plain *plain, const rig_chart *chart)
{
	const size_t label_width = label_columns(plain, chart);
	const char *group = NULL;
	for (size_t i = 0; i < chart->n_bars; i++) {
		const char *own = chart->bars[i].group;
		if (own != NULL && (group == NULL || strcmp(own, group) != 0))
			rig_plain_paragraph(plain, own, 0, "");
		group = own;
		print_bar(plain, chart, i, label_width);
	}
}

/* Lines over time as characters; row 0 is the bottom. */
typedef struct {
	char cell[PLOT_ROWS + 1][PLOT_COLUMNS + 2];
	double x_first, x_last;
	double bottom, top; /* top counts from the bottom */
} plotting;

static double mixed(double from, double to, double share)
{
	return from + (to - from) * share;
}

/* The line at x, between its points; false outside of it. */
static bool span_at(const rig_line *line, double x, rig_span *span)
{
	if (line->n == 0 || x < line->x[0] || x > line->x[line->n - 1])
		return false;
	size_t i = 0;
	while (i + 2 < line->n && line->x[i + 1] < x)
		i++;
	const size_t next = i + 1 < line->n ? i + 1 : i;
	const double run = line->x[next] - line->x[i];
	const double share = run > 0 ? (x - line->x[i]) / run : 0.0;
	*span = (rig_span){mixed(line->y[i].low, line->y[next].low, share),
		mixed(line->y[i].likely, line->y[next].likely, share),
		mixed(line->y[i].high, line->y[next].high, share)};
	return true;
}

/* The same over a column from x to x + run: the lowest of its points, so that no dip is lost; the
 * highest where that is what counts. */
static bool column_span(const rig_line *line, double x, double run, bool highest, rig_span *span)
{
	if (!span_at(line, x, span))
		return false;
	for (size_t i = 0; i < line->n; i++) {
		if (line->x[i] <= x || line->x[i] >= x + run)
			continue;
		const bool farther = highest ? line->y[i].likely > span->likely
					     : line->y[i].likely < span->likely;
		if (farther)
			*span = line->y[i];
	}
	return true;
}

static void plot_line(plotting *plot, const rig_chart *chart, size_t which)
{
	const rig_line *line = &chart->lines[which];
	const double run = (plot->x_last - plot->x_first) / PLOT_COLUMNS;
	for (int column = 0; column <= PLOT_COLUMNS; column++) {
		rig_span span;
		const double x =
			column == PLOT_COLUMNS ? plot->x_last : plot->x_first + run * column;
		if (!column_span(line, x, run, chart->tells_highest, &span))
			continue;
		const int high = column_of(span.high - plot->bottom, plot->top, PLOT_ROWS);
		const int low = column_of(span.low - plot->bottom, plot->top, PLOT_ROWS);
		for (int row = low; row <= high; row++) {
			if (plot->cell[row][column] == ' ')
				plot->cell[row][column] = '.';
		}
		const int likely = column_of(span.likely - plot->bottom, plot->top, PLOT_ROWS);
		plot->cell[likely][column] = course_mark(chart, which);
	}
}

static void plot_lines(plotting *plot, const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		plot->x_first = line->n == 0 ? plot->x_first : fmin(plot->x_first, line->x[0]);
		plot->x_last =
			line->n == 0 ? plot->x_last : fmax(plot->x_last, line->x[line->n - 1]);
	}
	for (int levels = 1; levels >= 0; levels--) {
		for (size_t i = 0; i < chart->n_lines; i++) {
			if (chart->lines[i].level == (levels == 1))
				plot_line(plot, chart, i);
		}
	}
}

static void print_plot(rig_plain *plain, const plotting *plot)
{
	for (int row = PLOT_ROWS; row >= 0; row--) {
		const bool numbered = row % 3 == 0;
		const char *number =
			numbered ? rig_amount(plain->arena,
					   plot->bottom + plot->top * row / PLOT_ROWS, 3, "")
				 : "";
		rig_plain_pad(plain, number, 6, RIG_ALIGN_RIGHT);
		rig_buffer_add(&plain->out, numbered ? " +" : " |");
		rig_buffer_add(&plain->out, plot->cell[row]);
		rig_buffer_add(&plain->out, "\n");
	}
}

/* Numbers under the plot at its start, middle and end, and what they count. */
static void print_x(rig_plain *plain, const rig_chart *chart, const plotting *plot)
{
	const double middle = (plot->x_first + plot->x_last) / 2;
	rig_plain_spaces(plain, 8);
	rig_plain_pad(plain, rig_amount(plain->arena, plot->x_first, 3, ""), PLOT_COLUMNS / 2,
		RIG_ALIGN_LEFT);
	rig_plain_pad(plain, rig_amount(plain->arena, middle, 3, ""), PLOT_COLUMNS / 2 - 2,
		RIG_ALIGN_LEFT);
	rig_buffer_add(&plain->out, rig_amount(plain->arena, plot->x_last, 3, ""));
	rig_buffer_add(&plain->out, "\n");
	rig_plain_paragraph(plain, chart->x_quantity, 8, "");
}

static void print_course_key(rig_plain *plain, const rig_chart *chart)
{
	rig_buffer key = {0};
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		add_key(&key, course_mark(chart, i), line->label);
	}
	if (key.failed)
		plain->failed = true;
	if (key.length > 0)
		rig_plain_paragraph(plain, key.text, 0, "");
	rig_buffer_free(&key);
}

static void print_course(rig_plain *plain, const rig_chart *chart)
{
	plotting plot = {.x_first = HUGE_VAL, .x_last = -HUGE_VAL, .bottom = chart->y_bottom};
	for (int row = 0; row <= PLOT_ROWS; row++) {
		memset(plot.cell[row], ' ', PLOT_COLUMNS + 1);
		plot.cell[row][PLOT_COLUMNS + 1] = '\0';
	}
	plot.top = rig_scale_for(rig_chart_reach(chart) - plot.bottom, 4).top;
	plot_lines(&plot, chart);
	if (plot.x_first > plot.x_last)
		return;
	print_course_key(plain, chart);
	print_plot(plain, &plot);
	print_x(plain, chart, &plot);
}

void rig_plain_chart(rig_plain *plain, const rig_chart *chart)
{
	const char *title = rig_arena_format(
		plain->arena, "%s: %s, %s", chart->title, chart->quantity, chart->unit);
	if (title == NULL)
		plain->failed = true;
	else
		rig_plain_paragraph(plain, title, 0, "");
	if (chart->kind == RIG_CHART_COURSE) {
		print_course(plain, chart);
	} else if (chart->kind == RIG_CHART_LANES) {
		rig_plain_lanes(plain, chart);
	} else {
		print_key(plain, chart);
		print_bars(plain, chart);
	}
	rig_plain_paragraph(plain, rig_chart_sentence(plain->arena, chart), 0, "");
}
