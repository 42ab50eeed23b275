/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart.h"

#include <math.h>
#include <string.h>

#include "amount.h"

/* The buffer's text in the arena; the buffer is freed. */
static const char *finished(rig_arena *arena, rig_buffer *buffer)
{
	const char *text = NULL;
	if (buffer->failed)
		rig_arena_fail(arena);
	else if (buffer->text != NULL)
		text = rig_arena_text(arena, buffer->text);
	rig_buffer_free(buffer);
	return text == NULL ? "" : text;
}

static void add_span(rig_buffer *words, rig_span span, int digits)
{
	rig_amount_round(words, span.likely, digits);
	if (span.low >= span.high)
		return;
	rig_buffer_add(words, " (");
	rig_amount_span(words, span.low, span.high, digits);
	rig_buffer_add(words, ")");
}

const char *rig_bar_words(rig_arena *arena, const rig_chart *chart, const rig_bar *bar)
{
	rig_buffer words = {0};
	const int digits = chart->kind == RIG_CHART_LIMITS ? 3 : 2;
	add_span(&words, bar->value, digits);
	if (bar->limit > 0) {
		rig_buffer_add(&words, " of ");
		rig_amount_round(&words, bar->limit, 3);
		rig_buffer_format(&words, " %s", chart->unit);
	}
	if (bar->note[0] != '\0')
		rig_buffer_format(&words, ", %s", bar->note);
	return finished(arena, &words);
}

const char *rig_mark_words(rig_arena *arena, const rig_chart *chart, size_t i)
{
	const rig_line *line = &chart->lines[i];
	rig_buffer words = {0};
	rig_buffer_add(&words, line->label);
	if (line->n > 0) {
		rig_buffer_add(&words, ": ");
		rig_amount_round(&words, line->y[0].likely, 2);
		rig_buffer_format(&words, " %s", chart->unit);
	}
	return finished(arena, &words);
}

/* Adds the text as a sentence of its own: a capital in front, a stop behind. */
static void add_sentence(rig_buffer *words, const char *text)
{
	const bool lower = text[0] >= 'a' && text[0] <= 'z';
	rig_buffer_add(words, words->length > 0 ? " " : "");
	if (text[0] != '\0')
		rig_buffer_format(words, "%c%s.", lower ? text[0] - 'a' + 'A' : text[0], text + 1);
}

/* The last bar of the run of months that starts at first: three or more in a row make a run. */
static size_t run_end(const rig_chart *chart, const bool *belongs, size_t first)
{
	size_t last = first;
	while (chart->kind == RIG_CHART_MONTHS && last + 1 < chart->n_bars && belongs[last + 1])
		last++;
	return last > first + 1 ? last : first;
}

static bool any_comma(const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (strchr(chart->bars[i].label, ',') != NULL)
			return true;
	}
	return false;
}

/* Stands before the next of n names. */
static const char *between_names(size_t done, size_t n, bool commas)
{
	if (done == 0)
		return "";
	if (commas)
		return "; ";
	return done + 1 == n ? " and " : ", ";
}

/* Adds "a, b and c", of many "a, b and 4 more", of months in a row "Mar to Oct". */
static void add_names(rig_buffer *words, const rig_chart *chart, const bool *belongs, size_t n)
{
	enum { MOST = 6 };
	const bool all = chart->kind == RIG_CHART_MONTHS || n <= MOST;
	const size_t named = all ? n : MOST - 1;
	const bool commas = any_comma(chart);
	size_t done = 0;
	for (size_t i = 0; i < chart->n_bars && done < named; i++) {
		if (!belongs[i])
			continue;
		const size_t last = run_end(chart, belongs, i);
		rig_buffer_add(words, between_names(done, n, commas));
		rig_buffer_add(words, chart->bars[i].label);
		if (last > i)
			rig_buffer_format(words, " to %s", chart->bars[last].label);
		done += last - i + 1;
		i = last;
	}
	if (named < n)
		rig_buffer_format(words, "%s and %zu more", commas ? ";" : "", n - named);
}

/* How many bars have a state; belongs, unless NULL, says which. */
static size_t bars_in_state(const rig_chart *chart, rig_bar_state state, bool *belongs)
{
	size_t n = 0;
	for (size_t i = 0; i < chart->n_bars; i++) {
		const bool own = chart->bars[i].state == state;
		n += own ? 1 : 0;
		if (belongs != NULL)
			belongs[i] = own;
	}
	return n;
}

static bool is_explained(const rig_chart *chart, rig_bar_state state)
{
	return chart->state_text[state] != NULL && chart->state_text[state][0] != '\0';
}

/* "Falls short: Jan, Feb and Dec." for each state that is explained and that some bar has. */
static void add_states(rig_buffer *words, const rig_chart *chart, rig_arena *arena)
{
	bool *belongs = rig_arena_take(arena, chart->n_bars, sizeof *belongs);
	if (belongs == NULL) {
		words->failed = true;
		return;
	}
	for (int i = 0; i < RIG_N_BAR_STATES; i++) {
		const rig_bar_state state = (rig_bar_state)i;
		const size_t n = bars_in_state(chart, state, belongs);
		if (n == 0 || !is_explained(chart, state))
			continue;
		const char *meaning = chart->state_text[state];
		const bool lower = meaning[0] >= 'a' && meaning[0] <= 'z';
		rig_buffer_format(
			words, " %c%s: ", lower ? meaning[0] - 'a' + 'A' : meaning[0], meaning + 1);
		if (n == chart->n_bars)
			rig_buffer_add(words, "all");
		else
			add_names(words, chart, belongs, n);
		rig_buffer_add(words, ".");
	}
}

/* The indices of the shortest and the longest bar. */
static void extremes(const rig_chart *chart, size_t *least, size_t *most)
{
	*least = 0;
	*most = 0;
	for (size_t i = 1; i < chart->n_bars; i++) {
		const double value = chart->bars[i].value.likely;
		if (value < chart->bars[*least].value.likely)
			*least = i;
		if (value > chart->bars[*most].value.likely)
			*most = i;
	}
}

static void describe_months(rig_buffer *words, const rig_chart *chart, rig_arena *arena)
{
	size_t least = 0;
	size_t most = 0;
	extremes(chart, &least, &most);
	rig_buffer_format(words, "Least in %s: ", chart->bars[least].label);
	rig_amount_round(words, chart->bars[least].value.likely, 2);
	rig_buffer_format(words, " %s; most in %s: ", chart->unit, chart->bars[most].label);
	rig_amount_round(words, chart->bars[most].value.likely, 2);
	rig_buffer_format(words, " %s.", chart->unit);
	add_states(words, chart, arena);
}

static void describe_ladder(rig_buffer *words, const rig_chart *chart, rig_arena *arena)
{
	for (size_t i = 0; i < chart->n_lines; i++)
		add_sentence(words, rig_mark_words(arena, chart, i));
	add_states(words, chart, arena);
}

/* The bar that fills its limit most; NULL if none has a limit. */
static const rig_bar *fullest_bar(const rig_chart *chart)
{
	const rig_bar *fullest = NULL;
	for (size_t i = 0; i < chart->n_bars; i++) {
		const rig_bar *bar = &chart->bars[i];
		if (bar->limit <= 0)
			continue;
		if (fullest == NULL ||
			bar->value.likely / bar->limit > fullest->value.likely / fullest->limit)
			fullest = bar;
	}
	return fullest;
}

static void describe_limits(rig_buffer *words, const rig_chart *chart)
{
	const rig_bar *bar = fullest_bar(chart);
	if (bar != NULL) {
		rig_buffer_add(words, "Fullest: ");
		if (bar->group != NULL)
			rig_buffer_format(words, "%s, ", bar->group);
		rig_buffer_format(words, "%s, ", bar->label);
		rig_amount_round(words, bar->value.likely, 3);
		rig_buffer_add(words, " of ");
		rig_amount_round(words, bar->limit, 3);
		rig_buffer_format(words, " %s.", chart->unit);
	}
	for (int i = 0; i < RIG_N_BAR_STATES; i++) {
		const size_t n = bars_in_state(chart, (rig_bar_state)i, NULL);
		if (n > 0 && is_explained(chart, (rig_bar_state)i))
			rig_buffer_format(words, " %zu of %zu bars: %s.", n, chart->n_bars,
				chart->state_text[i]);
	}
}

/* The point of a line that counts: its lowest, on a scale that does not begin at 0 the lowest end
 * of its band, or the highest end. */
static size_t telling_point(const rig_chart *chart, const rig_line *line)
{
	size_t best = 0;
	for (size_t i = 1; i < line->n; i++) {
		const bool farther = chart->tells_highest ? line->y[i].high > line->y[best].high
				     : chart->y_bottom > 0
					     ? line->y[i].low < line->y[best].low
					     : line->y[i].likely < line->y[best].likely;
		if (farther)
			best = i;
	}
	return best;
}

/* "leg 1": highest 41 A (hour of the day: 18.3). */
static void describe_end(rig_buffer *words, const rig_chart *chart, const rig_line *line)
{
	const size_t at = telling_point(chart, line);
	rig_buffer_format(words, "%s\"%s\": %s ", words->length > 0 ? " " : "", line->label,
		chart->tells_highest ? "highest" : "lowest");
	if (chart->tells_highest)
		rig_amount_round(words, line->y[at].high, 2);
	else
		rig_amount_round(words, line->y[at].low, 3);
	rig_buffer_format(words, " %s (%s: ", chart->unit, chart->x_quantity);
	rig_amount_round(words, line->x[at], 3);
	rig_buffer_add(words, ").");
}

/* "9 points: price from 5,100 to 7,300; of 100 stays from 95 to 97." */
static void describe_points(rig_buffer *words, const rig_chart *chart, const rig_line *line)
{
	double low = line->y[0].likely, high = low;
	for (size_t i = 1; i < line->n; i++) {
		low = line->y[i].likely < low ? line->y[i].likely : low;
		high = line->y[i].likely > high ? line->y[i].likely : high;
	}
	rig_buffer_format(words, "%zu %s: %s ", line->n, line->n == 1 ? "point" : "points",
		chart->x_quantity);
	rig_amount_span(words, line->x[0], line->x[line->n - 1], 4);
	rig_buffer_format(words, "; %s ", chart->quantity);
	rig_amount_span(words, low, high, 3);
	rig_buffer_format(words, " %s.", chart->unit);
}

/* By no more than what two digits can show. */
static bool is_flat(const rig_line *line)
{
	const double first = line->y[0].likely;
	for (size_t i = 1; i < line->n; i++)
		if (fabs(line->y[i].likely - first) > 0.005 * fabs(first))
			return false;
	return true;
}

static void describe_course(rig_buffer *words, const rig_chart *chart)
{
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		if (line->n == 0 || line->level)
			continue;
		if (chart->points) {
			describe_points(words, chart, line);
			continue;
		}
		if (chart->tells_highest || chart->y_bottom > 0) {
			describe_end(words, chart, line);
			continue;
		}
		const size_t lowest = telling_point(chart, line);
		rig_buffer_format(words, "%s\"%s\": ", words->length > 0 ? " " : "", line->label);
		if (is_flat(line)) {
			rig_amount_round(words, line->y[0].likely, 2);
			rig_buffer_format(words, " %s throughout.", chart->unit);
			continue;
		}
		rig_buffer_add(words, "from ");
		rig_amount_round(words, line->y[0].likely, 2);
		rig_buffer_add(words, " to ");
		rig_amount_round(words, line->y[line->n - 1].likely, 2);
		rig_buffer_format(words, " %s; lowest ", chart->unit);
		rig_amount_round(words, line->y[lowest].likely, 2);
		rig_buffer_format(words, " %s at ", chart->unit);
		rig_amount_round(words, line->x[lowest], 3);
		rig_buffer_format(words, " %s.", chart->x_quantity);
	}
}

/* How long a lane is in a state. */
static double time_in(const rig_lane *lane, rig_bar_state state)
{
	double time = 0.0;
	for (size_t i = 0; i < lane->n; i++) {
		if (lane->stretches[i].state == state)
			time += lane->stretches[i].to - lane->stretches[i].from;
	}
	return time;
}

/* "Runs: Front roof unit 8.1 h; Coffee maker 0.3 h." for each state that is explained. */
static void describe_lanes(rig_buffer *words, const rig_chart *chart)
{
	for (int i = 0; i < RIG_N_BAR_STATES; i++) {
		const rig_bar_state state = (rig_bar_state)i;
		if (!is_explained(chart, state) || !rig_chart_shows(chart, state))
			continue;
		rig_buffer one = {0};
		rig_buffer_format(&one, "%s: ", chart->state_text[state]);
		size_t n = 0;
		for (size_t j = 0; j < chart->n_lanes; j++) {
			const double time = time_in(&chart->lanes[j], state);
			if (time <= 0)
				continue;
			rig_buffer_format(
				&one, "%s%s ", n++ > 0 ? "; " : "", chart->lanes[j].label);
			rig_amount_round(&one, time, 2);
			rig_buffer_format(&one, " %s", chart->unit);
		}
		add_sentence(words, one.text == NULL ? "" : one.text);
		words->failed = words->failed || one.failed;
		rig_buffer_free(&one);
	}
}

const char *rig_chart_sentence(rig_arena *arena, const rig_chart *chart)
{
	rig_buffer words = {0};
	switch (chart->kind) {
	case RIG_CHART_MONTHS:
		if (chart->n_bars > 0)
			describe_months(&words, chart, arena);
		break;
	case RIG_CHART_LADDER:
		describe_ladder(&words, chart, arena);
		break;
	case RIG_CHART_LIMITS:
		describe_limits(&words, chart);
		break;
	case RIG_CHART_COURSE:
		describe_course(&words, chart);
		break;
	case RIG_CHART_LANES:
		describe_lanes(&words, chart);
		break;
	}
	return finished(arena, &words);
}

/* A table in the making: cells are filled from left to right. */
typedef struct {
	rig_arena *arena;
	rig_table *table;
	const char **cells;
	size_t n;
	bool failed;
} table_maker;

static void put(table_maker *making, const char *text)
{
	if (text == NULL)
		making->failed = true;
	making->cells[making->n++] = text == NULL ? "" : text;
}

static void put_span(table_maker *making, rig_span span)
{
	put(making, rig_amount(making->arena, span.low, 3, ""));
	put(making, rig_amount(making->arena, span.likely, 3, ""));
	put(making, rig_amount(making->arena, span.high, 3, ""));
}

static const rig_table *table_of(table_maker *making, const rig_chart *chart,
	const rig_column *columns, size_t n_columns, size_t n_rows)
{
	making->table = rig_arena_take(making->arena, 1, sizeof *making->table);
	rig_column *copy = rig_arena_take(making->arena, n_columns, sizeof *copy);
	making->cells = rig_arena_take(making->arena, n_columns * n_rows, sizeof *making->cells);
	if (making->table == NULL || copy == NULL || making->cells == NULL)
		return NULL;
	memcpy(copy, columns, n_columns * sizeof *copy);
	*making->table = (rig_table){.caption = chart->title,
		.n_columns = n_columns,
		.n_rows = n_rows,
		.columns = copy,
		.cells = making->cells};
	return making->table;
}

static const rig_table *course_table(table_maker *making, const rig_chart *chart)
{
	const rig_column columns[] = {{"line", "", RIG_ALIGN_LEFT},
		{chart->x_quantity, "", RIG_ALIGN_RIGHT}, {"low", chart->unit, RIG_ALIGN_RIGHT},
		{"likely", chart->unit, RIG_ALIGN_RIGHT}, {"high", chart->unit, RIG_ALIGN_RIGHT}};
	size_t n_rows = 0;
	for (size_t i = 0; i < chart->n_lines; i++)
		n_rows += chart->lines[i].n;
	const rig_table *table = table_of(making, chart, columns, 5, n_rows);
	for (size_t i = 0; table != NULL && i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		for (size_t j = 0; j < line->n; j++) {
			put(making, line->label);
			put(making, rig_amount(making->arena, line->x[j], 4, ""));
			put_span(making, line->y[j]);
		}
	}
	return table;
}

/* "0.5 to 1.2, 3 to 3.4": when a lane is in a state. */
static const char *times_said(rig_arena *arena, const rig_lane *lane, rig_bar_state state)
{
	rig_buffer words = {0};
	for (size_t i = 0; i < lane->n; i++) {
		const rig_stretch *stretch = &lane->stretches[i];
		if (stretch->state != state)
			continue;
		rig_buffer_add(&words, words.length > 0 ? ", " : "");
		rig_amount_round(&words, stretch->from, 4);
		rig_buffer_add(&words, " to ");
		rig_amount_round(&words, stretch->to, 4);
	}
	return finished(arena, &words);
}

/* A row for each lane and state that it is ever in. */
static const rig_table *lanes_table(table_maker *making, const rig_chart *chart)
{
	const rig_column columns[] = {{"lane", "", RIG_ALIGN_LEFT}, {"what", "", RIG_ALIGN_LEFT},
		{"together", chart->unit, RIG_ALIGN_RIGHT},
		{"from and to", chart->unit, RIG_ALIGN_LEFT}};
	enum { N_COLUMNS = sizeof columns / sizeof columns[0] };
	size_t n_rows = 0;
	for (size_t i = 0; i < chart->n_lanes * RIG_N_BAR_STATES; i++)
		n_rows += time_in(&chart->lanes[i / RIG_N_BAR_STATES],
				  (rig_bar_state)(i % RIG_N_BAR_STATES)) > 0;
	const rig_table *table = table_of(making, chart, columns, N_COLUMNS, n_rows);
	for (size_t i = 0; table != NULL && i < chart->n_lanes * RIG_N_BAR_STATES; i++) {
		const rig_lane *lane = &chart->lanes[i / RIG_N_BAR_STATES];
		const rig_bar_state state = (rig_bar_state)(i % RIG_N_BAR_STATES);
		const double time = time_in(lane, state);
		if (time <= 0)
			continue;
		put(making, lane->label);
		put(making, chart->state_text[state] == NULL ? "" : chart->state_text[state]);
		put(making, rig_amount(making->arena, time, 3, ""));
		put(making, times_said(making->arena, lane, state));
	}
	return table;
}

static void put_bar(table_maker *making, const rig_bar *bar, bool ladder)
{
	put(making, bar->group == NULL
			    ? bar->label
			    : rig_arena_format(making->arena, "%s: %s", bar->group, bar->label));
	put_span(making, bar->value);
	if (ladder)
		put(making, bar->note);
	else
		put(making, bar->limit > 0 ? rig_amount(making->arena, bar->limit, 3, "") : "");
}

/* The bars, then a row for each line across a ladder. */
static const rig_table *bars_table(table_maker *making, const rig_chart *chart)
{
	const bool ladder = chart->kind == RIG_CHART_LADDER;
	const rig_column note = {"note", "", RIG_ALIGN_LEFT};
	const rig_column limit = {"limit", chart->unit, RIG_ALIGN_RIGHT};
	const rig_column columns[] = {{"bar", "", RIG_ALIGN_LEFT},
		{"low", chart->unit, RIG_ALIGN_RIGHT}, {"likely", chart->unit, RIG_ALIGN_RIGHT},
		{"high", chart->unit, RIG_ALIGN_RIGHT}, ladder ? note : limit};
	const size_t n_lines = ladder ? chart->n_lines : 0;
	const rig_table *table = table_of(making, chart, columns, 5, chart->n_bars + n_lines);
	for (size_t i = 0; table != NULL && i < chart->n_bars; i++)
		put_bar(making, &chart->bars[i], ladder);
	for (size_t i = 0; table != NULL && i < n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		put(making, line->label);
		put_span(making, line->n == 0 ? (rig_span){0, 0, 0} : line->y[0]);
		put(making, "");
	}
	return table;
}

/* One row a month, one column a line. */
static const rig_table *months_table(table_maker *making, const rig_chart *chart)
{
	enum { OWN = 4, MOST_LINES = 4 };
	rig_column columns[OWN + MOST_LINES] = {{"month", "", RIG_ALIGN_LEFT},
		{"low", chart->unit, RIG_ALIGN_RIGHT}, {"likely", chart->unit, RIG_ALIGN_RIGHT},
		{"high", chart->unit, RIG_ALIGN_RIGHT}};
	const size_t n_lines = chart->n_lines > MOST_LINES ? MOST_LINES : chart->n_lines;
	for (size_t i = 0; i < n_lines; i++)
		columns[OWN + i] =
			(rig_column){chart->lines[i].label, chart->unit, RIG_ALIGN_RIGHT};
	const rig_table *table = table_of(making, chart, columns, OWN + n_lines, chart->n_bars);
	for (size_t i = 0; table != NULL && i < chart->n_bars; i++) {
		put(making, chart->bars[i].label);
		put_span(making, chart->bars[i].value);
		for (size_t j = 0; j < n_lines; j++) {
			const rig_line *line = &chart->lines[j];
			put(making, i < line->n
					    ? rig_amount(making->arena, line->y[i].likely, 3, "")
					    : "");
		}
	}
	return table;
}

const rig_table *rig_chart_table(rig_arena *arena, const rig_chart *chart)
{
	table_maker making = {.arena = arena};
	const rig_table *table = NULL;
	if (chart->kind == RIG_CHART_COURSE)
		table = course_table(&making, chart);
	else if (chart->kind == RIG_CHART_LANES)
		table = lanes_table(&making, chart);
	else if (chart->kind == RIG_CHART_MONTHS)
		table = months_table(&making, chart);
	else
		table = bars_table(&making, chart);
	return making.failed ? NULL : table;
}
