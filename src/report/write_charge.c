/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The state of charge over a stay, as a chart. */
#include "writer.h"

#include <math.h>

enum {
	HOURS_A_DAY = 24,
	MOST_HOURLY_DAYS = 21, /* a longer course is drawn by days */
	LEAST_DAYS = 3,        /* that are drawn of a stay whose bank is soon empty */
	DAYS_AFTER = 1         /* and so many whole ones after it is */
};

static double percent_of(const rig_trip_bank *bank, double wh)
{
	return fmin(fmax(wh / bank->capacity_wh, 0.0), 1.0) * 100.0;
}

/* How many days of the stay are drawn: all of them, unless the bank is empty so early that at least
 * half of the chart would be a flat line. */
static size_t drawn_days(const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	const size_t all = findings->n_hours / HOURS_A_DAY;
	const double empty = bank->days_with_panel.likely;
	if (!rig_figure_given(bank->days_with_panel) || empty >= (double)all)
		return all;
	const size_t enough = (size_t)ceil(empty) + DAYS_AFTER;
	const size_t few = enough > LEAST_DAYS ? enough : LEAST_DAYS;
	return 2 * few <= all ? few : all;
}

/* The state of charge by hour, from full; a long course by days, from each day's lowest to its
 * highest hour. Gives how many points. */
static size_t plot_charge(const rig_trip_bank *bank, size_t n_days, double *x, rig_span *y)
{
	const bool daily = n_days > MOST_HOURLY_DAYS;
	const size_t n_hours = n_days * HOURS_A_DAY;
	const size_t step = daily ? HOURS_A_DAY : 1;
	size_t n = 0;
	if (!daily) {
		/* the start: what was there before the first hour */
		x[n] = 0.0;
		y[n++] = (rig_span){100.0, 100.0, 100.0};
	}
	for (size_t hour = 0; hour + step <= n_hours; hour += step) {
		double low = HUGE_VAL;
		double high = 0.0;
		for (size_t i = hour; i < hour + step; i++) {
			low = fmin(low, percent_of(bank, bank->hours[i].store_wh));
			high = fmax(high, percent_of(bank, bank->hours[i].store_wh));
		}
		const double last = percent_of(bank, bank->hours[hour + step - 1].store_wh);
		x[n] = (double)(hour + step) / HOURS_A_DAY;
		y[n++] = (rig_span){low, last, high};
	}
	return n;
}

static const char *title_said(
	rig_writer *writer, const rig_trip_findings *findings, const char *name, size_t n_days)
{
	const size_t all = findings->n_hours / HOURS_A_DAY;
	if (n_days == all)
		return rig_said(writer, "The %s through the days", name);
	return rig_said(writer, "The %s through the first %zu of %zu days", name, n_days, all);
}

void rig_charge_chart(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	double *x = rig_arena_take(writer->arena, findings->n_hours + 1, sizeof *x);
	rig_span *y = rig_arena_take(writer->arena, findings->n_hours + 1, sizeof *y);
	if (x == NULL || y == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	const size_t n_days = drawn_days(findings, bank);
	const size_t n = plot_charge(bank, n_days, x, y);
	if (n < 2)
		return;
	const double floor = percent_of(bank, bank->capacity_wh - bank->usable_wh.likely);
	const rig_span level[2] = {{floor, floor, floor}, {floor, floor, floor}};
	const double ends[2] = {x[0], x[n - 1]};
	const rig_line lines[] = {{"state of charge", n, x, y, false},
		{rig_said(writer, "usable down to %s %%", rig_amount(writer->arena, floor, 2, "")),
			2, ends, level, true}};
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.title = title_said(writer, findings, rig_bank_said(writer, bank->bank), n_days),
		.quantity = "state of charge",
		.unit = "%",
		.x_quantity = "days since leaving",
		.y_top = 100.0,
		.n_lines = floor > 0.5 ? 2 : 1,
		.lines = lines};
	rig_add_chart(writer->document, &chart);
}
