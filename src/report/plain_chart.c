/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain.h"

#include <math.h>
#include <string.h>

#include "amount.h"
#include "chart.h"
#include "glyph.h"

enum { GAP = 2, BAR_COLUMNS = 28, LABEL_COLUMNS = 25, PLOT_COLUMNS = 68, PLOT_ROWS = 12 };
enum { MOST_STEPS = 5 }; /* along y, as in the drawing */

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
	if (chart->points)
		return '1';
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
	int rows, rows_a_step;
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

/* Single points by their numbers, the last digit of each. */
static void plot_points(plotting *plot, const rig_line *line)
{
	const double run = plot->x_last > plot->x_first ? plot->x_last - plot->x_first : 1.0;
	for (size_t i = 0; i < line->n; i++) {
		const int column = column_of(line->x[i] - plot->x_first, run, PLOT_COLUMNS);
		const int low = column_of(line->y[i].low - plot->bottom, plot->top, plot->rows);
		const int high = column_of(line->y[i].high - plot->bottom, plot->top, plot->rows);
		for (int row = low; row <= high; row++) {
			if (plot->cell[row][column] == ' ')
				plot->cell[row][column] = '.';
		}
	}
	for (size_t i = line->n; i > 0; i--) {
		const int column = column_of(line->x[i - 1] - plot->x_first, run, PLOT_COLUMNS);
		const int row =
			column_of(line->y[i - 1].likely - plot->bottom, plot->top, plot->rows);
		plot->cell[row][column] = (char)('0' + i % 10);
	}
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
		const int high = column_of(span.high - plot->bottom, plot->top, plot->rows);
		const int low = column_of(span.low - plot->bottom, plot->top, plot->rows);
		for (int row = low; row <= high; row++) {
			if (plot->cell[row][column] == ' ')
				plot->cell[row][column] = '.';
		}
		const int likely = column_of(span.likely - plot->bottom, plot->top, plot->rows);
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
	for (size_t i = 0; i < chart->n_lines; i++)
		if (chart->lines[i].level)
			plot_line(plot, chart, i);
	for (size_t i = 0; i < chart->n_lines; i++)
		if (!chart->lines[i].level && chart->points)
			plot_points(plot, &chart->lines[i]);
		else if (!chart->lines[i].level)
			plot_line(plot, chart, i);
}

static void print_plot(rig_plain *plain, const plotting *plot)
{
	for (int row = plot->rows; row >= 0; row--) {
		const bool numbered = row % plot->rows_a_step == 0;
		const double value = plot->bottom + plot->top * row / plot->rows;
		rig_plain_pad(plain, numbered ? rig_amount(plain->arena, value, 4, "") : "", 6,
			RIG_ALIGN_RIGHT);
		rig_buffer_add(&plain->out, numbered ? " +" : " |");
		rig_buffer_add(&plain->out, plot->cell[row]);
		rig_buffer_add(&plain->out, "\n");
	}
}

void rig_plain_ticks(rig_plain *plain, const rig_chart *chart, const rig_plain_axis *axis)
{
	const double run = axis->last - axis->first;
	const rig_scale scale = rig_chart_x_scale(chart, run, 10);
	rig_plain_spaces(plain, axis->indent);
	size_t done = 0;
	for (int i = 0; i <= scale.n_steps; i++) {
		const double value = axis->first + scale.step * i;
		if (value > axis->last + 1e-9 * scale.step)
			break;
		const char *number = rig_amount(plain->arena, value, 4, "");
		const size_t length = strlen(number);
		const size_t own =
			(size_t)lround((value - axis->first) / run * (double)axis->columns);
		const size_t last = RIG_PLAIN_COLUMNS - axis->indent - length;
		const size_t start = own < last ? own : last;
		if (done > 0 && start < done + 1)
			continue;
		rig_plain_spaces(plain, start - done);
		rig_buffer_add(&plain->out, number);
		done = start + length;
	}
	rig_buffer_add(&plain->out, "\n");
	rig_plain_paragraph(plain, chart->x_quantity, axis->indent, "");
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
	const rig_scale scale = rig_scale_for(rig_chart_reach(chart) - plot.bottom, MOST_STEPS);
	plot.top = scale.top;
	plot.rows_a_step = PLOT_ROWS / scale.n_steps;
	plot.rows = plot.rows_a_step * scale.n_steps;
	plot_lines(&plot, chart);
	if (plot.x_first > plot.x_last)
		return;
	print_course_key(plain, chart);
	print_plot(plain, &plot);
	/* a line that is but a point has no length */
	const double last = plot.x_last > plot.x_first ? plot.x_last : plot.x_first + 1.0;
	const rig_plain_axis axis = {8, PLOT_COLUMNS, plot.x_first, last};
	rig_plain_ticks(plain, chart, &axis);
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
