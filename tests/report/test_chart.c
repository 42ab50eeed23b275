/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/chart.h"

#include <math.h>
#include <stdlib.h>

#include "recorder.h"
#include "suites.h"

/* Steps of 1, 2 or 5 times a power of ten; worked by hand. */
static const struct {
	double value;
	int most;
	double top, step;
} SCALE[] = {{100.0, 5, 100.0, 20.0}, {7.0, 5, 8.0, 2.0}, {0.9, 5, 1.0, 0.2},
	{1234.0, 5, 1500.0, 500.0}, {50.0, 10, 50.0, 5.0}, {3.0, 2, 4.0, 2.0},
	{1e-3, 4, 1e-3, 5e-4}};

START_TEST(a_scale_has_round_steps_and_holds_its_value)
{
	const rig_scale scale = rig_scale_for(SCALE[_i].value, SCALE[_i].most);
	ck_assert_double_eq_tol(scale.top, SCALE[_i].top, 1e-12 * SCALE[_i].top);
	ck_assert_double_eq_tol(scale.step, SCALE[_i].step, 1e-12 * SCALE[_i].top);
	ck_assert_int_le(scale.n_steps, SCALE[_i].most);
}
END_TEST

/* xorshift64 star; the seed is printed when a test fails. */
static uint64_t state;

static double chance(void)
{
	state ^= state >> 12;
	state ^= state << 25;
	state ^= state >> 27;
	return (double)((state * 2685821657736338717ull) >> 11) / 9007199254740992.0;
}

static size_t pick(size_t n)
{
	return (size_t)(chance() * (double)n);
}

static const char *random_words(rig_arena *arena)
{
	static const char *const WORD[] = {"roof", "unit", "WWWWMMMM", "refrigerator",
		"\xe5\x86\xb7\xe8\x94\xb5\xe5\xba\xab", "iii", "the", "a", "pump,", "30 A",
		"Donaudampfschifffahrtsgesellschaftskapitaen",
		"\xd8\xab\xd9\x84\xd8\xa7\xd8\xac\xd8\xa9", "<b>", "\xe2\x80\xae", "caf\xc3\xa9",
		"LED"};
	const char *text = "";
	for (size_t i = 1 + pick(6); i > 0; i--)
		text = rig_arena_format(
			arena, "%s%s%s", text, text[0] == '\0' ? "" : " ", WORD[pick(COUNT(WORD))]);
	return text;
}

static rig_span random_span(double scale)
{
	const double likely = scale * pow(10.0, -3.0 * chance());
	const double doubt = chance() < 0.3 ? 0.0 : chance();
	return (rig_span){likely * (1.0 - 0.8 * doubt), likely, likely * (1.0 + doubt)};
}

static rig_line random_line(rig_arena *arena, const rig_chart *chart, double scale)
{
	const size_t n = chart->kind == RIG_CHART_MONTHS   ? chart->n_bars
			 : chart->kind == RIG_CHART_LADDER ? 1
							   : 2 + pick(200);
	rig_span *y = rig_arena_take(arena, n, sizeof *y);
	double *x = rig_arena_take(arena, n, sizeof *x);
	for (size_t i = 0; i < n; i++) {
		y[i] = random_span(scale);
		x[i] = (double)i * 0.25;
	}
	return (rig_line){random_words(arena), n, chart->kind == RIG_CHART_COURSE ? x : NULL, y,
		chance() < 0.5};
}

static rig_lane random_lane(rig_arena *arena, const rig_chart *chart)
{
	const size_t most = pick(60);
	rig_stretch *stretches = rig_arena_take(arena, most, sizeof *stretches);
	size_t n = 0;
	double at = chart->x_first + chance();
	while (n < most && at < chart->x_last) {
		const double to = fmin(at + 0.01 + 2.0 * chance(), chart->x_last);
		stretches[n++] = (rig_stretch){at, to, (rig_bar_state)pick(RIG_N_BAR_STATES)};
		at = to + chance();
	}
	return (rig_lane){random_words(arena), n, stretches};
}

static void add_random_lanes(rig_arena *arena, rig_chart *chart)
{
	chart->x_last = 24.0;
	chart->x_step = chance() < 0.5 ? 4.0 : 0.0;
	chart->n_lanes = pick(12);
	rig_lane *lanes = rig_arena_take(arena, chart->n_lanes, sizeof *lanes);
	for (size_t i = 0; i < chart->n_lanes; i++)
		lanes[i] = random_lane(arena, chart);
	chart->lanes = lanes;
}

static rig_bar random_bar(rig_arena *arena, const rig_chart *chart, size_t i, double scale)
{
	static const char *const MONTH[] = {
		"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
	const bool limits = chart->kind == RIG_CHART_LIMITS;
	return (rig_bar){.group = limits && (i == 0 || chance() < 0.4) ? random_words(arena) : NULL,
		.label = chart->kind == RIG_CHART_MONTHS ? MONTH[i] : random_words(arena),
		.value = random_span(scale),
		.limit = limits && chance() < 0.9 ? scale * (0.1 + chance()) : 0.0,
		.state = (rig_bar_state)pick(RIG_N_BAR_STATES),
		.note = chance() < 0.5 ? random_words(arena) : ""};
}

static size_t random_n_lines(rig_chart_kind kind)
{
	if (kind == RIG_CHART_LIMITS)
		return 0;
	return kind == RIG_CHART_COURSE ? 1 + pick(3) : pick(3);
}

/* Most of the way up to the lowest point. */
static double bottom_under(const rig_chart *chart)
{
	double lowest = HUGE_VAL;
	for (size_t i = 0; i < chart->n_lines; i++)
		for (size_t k = 0; k < chart->lines[i].n; k++)
			lowest = fmin(lowest, chart->lines[i].y[k].low);
	return isfinite(lowest) ? 0.9 * lowest : 0.0;
}

static rig_chart random_chart(rig_arena *arena)
{
	rig_chart chart = {.kind = (rig_chart_kind)pick(RIG_CHART_LANES + 1),
		.title = random_words(arena),
		.quantity = random_words(arena),
		.unit = "Wh a day",
		.x_quantity = "days since leaving",
		.state_text = {"", "holds", "holds at likely figures", "fails"}};
	if (chart.kind == RIG_CHART_LANES) {
		add_random_lanes(arena, &chart);
		return chart;
	}
	const double scale = pow(10.0, 5.0 * chance());
	if (chart.kind != RIG_CHART_COURSE)
		chart.n_bars = chart.kind == RIG_CHART_MONTHS ? 12 : 1 + pick(12);
	rig_bar *bars = rig_arena_take(arena, chart.n_bars, sizeof *bars);
	for (size_t i = 0; i < chart.n_bars; i++)
		bars[i] = random_bar(arena, &chart, i, scale);
	chart.bars = bars;
	chart.n_lines = random_n_lines(chart.kind);
	rig_line *lines = rig_arena_take(arena, chart.n_lines, sizeof *lines);
	for (size_t i = 0; i < chart.n_lines; i++)
		lines[i] = random_line(arena, &chart, scale * pow(10.0, -2.0 * chance()));
	chart.lines = lines;
	if (chart.kind == RIG_CHART_COURSE && chance() < 0.3)
		chart.y_bottom = bottom_under(&chart);
	return chart;
}

static void check_apart(const recorder *seen, unsigned long seed, int layout)
{
	for (size_t i = 0; i < seen->n_texts; i++) {
		const recorded_box *box = &seen->texts[i];
		for (size_t j = 0; j < i; j++)
			ck_assert_msg(!boxes_touch(box, &seen->texts[j]),
				"seed %lu, layout %d: \"%s\" touches \"%s\"", seed, layout,
				box->text, seen->texts[j].text);
		for (size_t j = 0; j < seen->n_strokes; j++)
			ck_assert_msg(!stroke_touches(&seen->strokes[j], box),
				"seed %lu, layout %d: a line (ink %d) touches \"%s\"", seed, layout,
				(int)seen->strokes[j].ink, box->text);
		for (size_t j = 0; j < seen->n_shapes; j++)
			ck_assert_msg(!boxes_touch(box, &seen->shapes[j]),
				"seed %lu, layout %d: a bar touches \"%s\"", seed, layout,
				box->text);
		ck_assert_msg(box->left >= -0.5 && box->right <= seen->size.x + 0.5 &&
				      box->top >= -0.5 && box->bottom <= seen->size.y + 0.5,
			"seed %lu, layout %d: \"%s\" leaves the picture", seed, layout, box->text);
	}
}

START_TEST(no_label_touches_another_a_line_or_the_edge)
{
	static recorder seen;
	for (unsigned long seed = 1; seed <= 400; seed++) {
		state = seed * 0x9e3779b97f4a7c15ull;
		rig_arena *arena = rig_arena_new();
		const rig_chart chart = random_chart(arena);
		for (int layout = RIG_LAYOUT_WIDE; layout <= RIG_LAYOUT_NARROW; layout++) {
			const rig_canvas canvas = recorder_canvas(&seen);
			ck_assert(rig_chart_draw(&canvas, &chart, (rig_chart_layout)layout, arena));
			ck_assert(seen.finite);
			ck_assert(!seen.full);
			check_apart(&seen, seed, layout);
		}
		rig_arena_free(arena);
	}
}
END_TEST

/* Every point of a line is drawn where its value says: the frame is known from two of them. */
START_TEST(a_line_over_time_is_drawn_where_its_figures_are)
{
	static recorder seen;
	const double x[] = {0.0, 1.0, 2.0, 4.0};
	const rig_span y[] = {{100, 100, 100}, {0, 0, 0}, {50, 50, 50}, {25, 25, 25}};
	const rig_line line = {"charge", 4, x, y, false};
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.title = "t",
		.quantity = "q",
		.unit = "%",
		.x_quantity = "days",
		.y_top = 100,
		.n_lines = 1,
		.lines = &line};
	rig_arena *arena = rig_arena_new();
	const rig_canvas canvas = recorder_canvas(&seen);
	ck_assert(rig_chart_draw(&canvas, &chart, RIG_LAYOUT_WIDE, arena));
	const recorded_stroke *strokes = NULL;
	for (size_t i = 0; i < seen.n_strokes && strokes == NULL; i++)
		if (seen.strokes[i].ink == RIG_INK_FIRST)
			strokes = &seen.strokes[i];
	ck_assert_ptr_nonnull(strokes);
	const double day = strokes[0].to.x - strokes[0].from.x;
	const double height = strokes[0].to.y - strokes[0].from.y;
	ck_assert_double_gt(day, 50.0);
	ck_assert_double_gt(height, 100.0);
	ck_assert_double_eq_tol(strokes[1].to.x, strokes[0].from.x + 2 * day, 1e-9);
	ck_assert_double_eq_tol(strokes[1].to.y, strokes[0].from.y + height / 2, 1e-9);
	ck_assert_double_eq_tol(strokes[2].to.x, strokes[0].from.x + 4 * day, 1e-9);
	ck_assert_double_eq_tol(strokes[2].to.y, strokes[0].from.y + height * 0.75, 1e-9);
	rig_arena_free(arena);
}
END_TEST

/* Six hours of a day of 24 are a quarter of the lane; a second is still seen. */
START_TEST(a_stretch_is_drawn_where_its_hours_are)
{
	static recorder seen;
	/* the second begins where a failing second ends: as near as this, two are drawn as one */
	const rig_stretch stretches[] = {{0.0, 5.0, RIG_BAR_HOLDS},
		{5.0, 5.0 + 1.0 / 3600.0, RIG_BAR_FAILS}, {5.0 + 1.0 / 3600.0, 6.0, RIG_BAR_HOLDS},
		{6.5, 12.0, RIG_BAR_CLOSE}, {18.0, 18.0 + 1.0 / 3600.0, RIG_BAR_HOLDS},
		{23.0, 24.0, RIG_BAR_HOLDS}};
	const rig_lane lane = {"pump", 6, stretches};
	const rig_chart chart = {.kind = RIG_CHART_LANES,
		.title = "t",
		.quantity = "q",
		.unit = "h",
		.x_quantity = "hours",
		.x_last = 24.0,
		.n_lanes = 1,
		.lanes = &lane};
	rig_arena *arena = rig_arena_new();
	for (int layout = RIG_LAYOUT_WIDE; layout <= RIG_LAYOUT_NARROW; layout++) {
		const rig_canvas canvas = recorder_canvas(&seen);
		ck_assert(rig_chart_draw(&canvas, &chart, (rig_chart_layout)layout, arena));
		/* what holds, then what is close (filled and outlined), then what fails */
		ck_assert_uint_eq(seen.n_shapes, 6);
		const double left = seen.shapes[0].left;
		const double quarter = seen.shapes[0].right - left;
		ck_assert_double_eq_tol(seen.shapes[1].left, left + 3 * quarter, 1e-9);
		ck_assert_double_gt(seen.shapes[1].right - seen.shapes[1].left, 0.9);
		ck_assert_double_eq_tol(seen.shapes[2].right, left + 4 * quarter, 1e-9);
		ck_assert_double_eq_tol(seen.shapes[3].left, left + quarter * 6.5 / 6.0, 1e-9);
		ck_assert_double_eq_tol(seen.shapes[3].right, left + 2 * quarter, 1e-9);
		ck_assert_double_eq_tol(seen.shapes[5].left, left + quarter * 5.0 / 6.0, 1e-9);
	}
	rig_arena_free(arena);
}
END_TEST

START_TEST(a_ladder_tears_the_bars_that_dwarf_its_lines)
{
	const rig_bar bars[] = {{.label = "lamp", .value = {30, 40, 50}, .note = ""},
		{.label = "air", .value = {9000, 9500, 10000}, .note = ""}};
	const rig_span left = {100, 100, 100};
	const rig_line line = {"left over", 1, NULL, &left, true};
	rig_chart chart = {.kind = RIG_CHART_LADDER,
		.title = "",
		.quantity = "",
		.unit = "Wh",
		.n_bars = 2,
		.bars = bars,
		.n_lines = 1,
		.lines = &line};
	ck_assert(!rig_chart_is_torn(&chart, &bars[0]));
	ck_assert(rig_chart_is_torn(&chart, &bars[1]));
	chart.n_lines = 0;
	ck_assert(!rig_chart_is_torn(&chart, &bars[1]));
}
END_TEST

Suite *chart_suite(void);
Suite *chart_suite(void)
{
	Suite *suite = suite_create("chart");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, a_scale_has_round_steps_and_holds_its_value, 0, COUNT(SCALE));
	tcase_add_test(all, no_label_touches_another_a_line_or_the_edge);
	tcase_add_test(all, a_line_over_time_is_drawn_where_its_figures_are);
	tcase_add_test(all, a_stretch_is_drawn_where_its_hours_are);
	tcase_add_test(all, a_ladder_tears_the_bars_that_dwarf_its_lines);
	suite_add_tcase(suite, all);
	return suite;
}
