/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chart.h"

#include <assert.h>
#include <math.h>

/* A ladder's bars may run this many times beyond its longest line before they are torn. */
static const double LADDER_REACH = 4.0;

rig_scale rig_scale_for(double value, int most)
{
	assert(value > 0 && most >= 2);
	static const double STEPS[] = {1.0, 2.0, 5.0};
	const int power = (int)floor(log10(value / most)) - 1;
	for (int i = 0;; i++) {
		const int tens = power + i / 3;
		const double step = STEPS[i % 3] * pow(10.0, tens);
		const double n = ceil(value / step - 1e-9);
		if (n <= most)
			return (rig_scale){n * step, step, (int)n};
	}
}

rig_scale rig_chart_x_scale(const rig_chart *chart, double run, int most)
{
	if (chart->x_step <= 0)
		return rig_scale_for(run, most);
	const int n = (int)ceil(run / chart->x_step - 1e-9);
	return (rig_scale){n * chart->x_step, chart->x_step, n};
}

static bool lane_shows(const rig_lane *lane, rig_bar_state state)
{
	for (size_t i = 0; i < lane->n; i++) {
		if (lane->stretches[i].state == state)
			return true;
	}
	return false;
}

bool rig_chart_shows(const rig_chart *chart, rig_bar_state state)
{
	for (size_t i = 0; i < chart->n_bars; i++) {
		if (chart->bars[i].state == state)
			return true;
	}
	for (size_t i = 0; i < chart->n_lanes; i++) {
		if (lane_shows(&chart->lanes[i], state))
			return true;
	}
	return false;
}

static double longest_line(const rig_chart *chart)
{
	double longest = 0.0;
	for (size_t i = 0; i < chart->n_lines; i++) {
		const rig_line *line = &chart->lines[i];
		const size_t n = chart->kind == RIG_CHART_LADDER && line->n > 1 ? 1 : line->n;
		for (size_t j = 0; j < n; j++)
			longest = fmax(longest, line->y[j].high);
	}
	return longest;
}

static double longest_bar(const rig_chart *chart)
{
	double longest = 0.0;
	for (size_t i = 0; i < chart->n_bars; i++)
		longest = fmax(longest, fmax(chart->bars[i].value.high, chart->bars[i].limit));
	return longest;
}

double rig_chart_reach(const rig_chart *chart)
{
	const double bar = longest_bar(chart);
	const double line = longest_line(chart);
	if (chart->y_top > 0)
		return fmax(chart->y_top, line);
	const bool torn = chart->kind == RIG_CHART_LADDER && line > 0 && bar > LADDER_REACH * line;
	const double reach = torn ? LADDER_REACH * line : fmax(bar, line);
	return reach > 0 ? reach : 1.0;
}

bool rig_chart_is_torn(const rig_chart *chart, const rig_bar *bar)
{
	return chart->kind == RIG_CHART_LADDER && bar->value.high > rig_chart_reach(chart);
}
