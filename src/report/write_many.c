/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What many trips came to, in words and charts. */
#include <math.h>

#include "writer.h"

enum { CUT_COLUMNS = 4, HABIT_COLUMNS = 4, MOST_CUTS = 8, MOST_BARS = 10, HOURS_A_DAY = 24 };

static const char *percent_said(rig_writer *writer, double frac)
{
	const double percent = 100 * frac;
	if (frac > 0 && percent < 0.5)
		return "under 1 %";
	if (frac < 1 && percent > 99.5)
		return "over 99 %";
	return rig_said(writer, "%.0f %%", percent);
}

/* An end of a range, without its sign; what is not quite 0 or 100 says so. */
static const char *end_said(rig_writer *writer, double frac)
{
	const double percent = 100 * frac;
	if (frac > 0 && percent < 0.5)
		return "under 1";
	if (frac < 1 && percent > 99.5)
		return "over 99";
	return rig_said(writer, "%.0f", percent);
}

static const char *share_said(rig_writer *writer, rig_figure share)
{
	return rig_said(writer, "%s (%s to %s)", percent_said(writer, share.likely),
		end_said(writer, share.low), end_said(writer, share.high));
}

static const char *trips_said(rig_writer *writer, size_t n_trips)
{
	return n_trips == 1 ? "one trip" : rig_said(writer, "%zu trips", n_trips);
}

/* ---- charts ---- */

static void add_band_chart(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	const rig_trip_chance *chance = &findings->chance;
	const size_t n = findings->n_hours;
	double *x = rig_arena_take(writer->arena, n + 1, sizeof *x);
	rig_span *nine_in_ten = rig_arena_take(writer->arena, n + 1, sizeof *nine_in_ten);
	rig_span *half = rig_arena_take(writer->arena, n + 1, sizeof *half);
	if (x == NULL || nine_in_ten == NULL || half == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	/* every trip starts full */
	x[0] = 0;
	nine_in_ten[0] = half[0] = (rig_span){100, 100, 100};
	for (size_t hour = 0; hour < n; hour++) {
		double y[RIG_TRIP_QUANTILES];
		for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
			y[k] = 100 * chance->charge_frac[k][hour];
		x[hour + 1] = (double)(hour + 1) / HOURS_A_DAY;
		nine_in_ten[hour + 1] = (rig_span){y[0], y[2], y[4]};
		half[hour + 1] = (rig_span){y[1], y[2], y[3]};
	}
	const rig_line lines[] = {{"nine trips in ten", n + 1, x, nine_in_ten, false},
		{"every other trip", n + 1, x, half, false}};
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.title = rig_said(writer, "The %s on %s: the middle one and the bands",
			rig_bank_said(writer, bank->bank), trips_said(writer, chance->n_trips)),
		.quantity = "state of charge",
		.unit = "%",
		.x_quantity = "days since leaving",
		.y_top = 100.0,
		.n_lines = 2,
		.lines = lines};
	rig_add_chart(writer->document, &chart);
}

static void add_month_chart(rig_writer *writer, const rig_trip_findings *findings)
{
	rig_bar bars[12];
	const double wanted = 100 * findings->options.wanted_out_frac;
	for (int month = 0; month < 12; month++) {
		const rig_figure out = findings->out_by_month_frac[month];
		if (!rig_figure_given(out))
			return;
		bars[month] = (rig_bar){.label = RIG_MONTH_SHORT[month],
			.value = {100 * out.low, 100 * out.likely, 100 * out.high},
			.state = 100 * out.high <= wanted ? RIG_BAR_HOLDS
				 : 100 * out.low > wanted ? RIG_BAR_FAILS
							  : RIG_BAR_CLOSE,
			.note = ""};
	}
	rig_span level[12];
	for (int month = 0; month < 12; month++)
		level[month] = (rig_span){wanted, wanted, wanted};
	const rig_line line = {"wanted", 12, NULL, level, true};
	const rig_chart chart = {.kind = RIG_CHART_MONTHS,
		.title = rig_said(writer, "Stays of %d day%s that run out, month by month",
			findings->options.n_days, findings->options.n_days == 1 ? "" : "s"),
		.quantity = "stays that run out",
		.unit = "%",
		.state_text = {"", "no more than wanted", "about as many as wanted",
			"more than wanted"},
		.n_bars = 12,
		.n_lines = 1,
		.bars = bars,
		.lines = &line};
	rig_add_chart(writer->document, &chart);
}

static rig_bar plain_bar(const char *label, rig_span value)
{
	return (rig_bar){.label = label, .value = value, .state = RIG_BAR_PLAIN, .note = ""};
}

/* Where a day's energy goes: the loads at the battery, and what the coach itself takes. */
static void add_flow_chart(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	rig_bar bars[MOST_BARS + 2];
	size_t n = 0;
	for (size_t i = 0; i < findings->n_carried && n < MOST_BARS; i++) {
		const rig_trip_load *load = &findings->loads[i];
		if (load->bank != bank->bank || !(load->at_bank_wh_day > 0.5))
			continue;
		const double wh = load->at_bank_wh_day;
		bars[n++] = plain_bar(rig_capital(writer, rig_load_said(writer, load->load)),
			(rig_span){wh, wh, wh});
	}
	const rig_trip_flows_wh_day *flows = &bank->flows;
	const double idle = flows->inverter_idle, self = flows->self_discharge;
	if (idle > 0.5 && bank->unmet_frac < 0.005)
		bars[n++] = plain_bar("Inverter, doing nothing", (rig_span){idle, idle, idle});
	if (self > 0.5)
		bars[n++] = plain_bar("The battery's own loss", (rig_span){self, self, self});
	if (n < 2)
		return;
	const rig_chart chart = {.kind = RIG_CHART_LADDER,
		.title = "Where a day's energy goes",
		.quantity = "drawn at the battery",
		.unit = "Wh a day",
		.state_text = {"", "", "", ""},
		.n_bars = n,
		.bars = bars};
	rig_add_chart(writer->document, &chart);
}

/* ---- words ---- */

static void add_cuts_table(rig_writer *writer, const rig_trip_findings *findings)
{
	static const rig_column COLUMNS[CUT_COLUMNS] = {{"left off", "", RIG_ALIGN_LEFT},
		{"stays that run out", "", RIG_ALIGN_RIGHT}, {"fewer by", "", RIG_ALIGN_RIGHT},
		{"goes without, with it on", "Wh a stay", RIG_ALIGN_RIGHT}};
	const char *cells[MOST_CUTS * CUT_COLUMNS];
	size_t n = 0;
	for (size_t i = 0; i < findings->n_carried && n < MOST_CUTS; i++) {
		const rig_trip_load *load = &findings->loads[i];
		if (!(load->out_gained_frac >= 0.005))
			continue;
		const char **row = &cells[n++ * CUT_COLUMNS];
		row[0] = rig_capital(writer, rig_load_said(writer, load->load));
		row[1] = percent_said(writer, load->out_if_cut_frac);
		row[2] = percent_said(writer, load->out_gained_frac);
		row[3] = rig_amount(writer->arena, load->trips_unserved_wh, 2, "");
	}
	if (n == 0)
		return;
	const rig_table table = {
		rig_said(writer, "What to cut first: %zu trips, of which %s run out as it is",
			findings->n_side_trips,
			percent_said(writer, findings->side_out_frac.likely)),
		CUT_COLUMNS, n, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

static const char *lasts_said(rig_writer *writer, double days)
{
	return rig_days_said(writer, rig_figure_of(days, RIG_FROM_COMPUTED), RIG_TRIP_DAYS_MAX);
}

/* The stay's own habit first, to be compared with. Without side trips the last column is left out.
 */
static void add_habits_table(rig_writer *writer, const rig_trip_findings *findings)
{
	static const rig_column COLUMNS[HABIT_COLUMNS] = {{"pattern of use", "", RIG_ALIGN_LEFT},
		{"wanted a day", "Wh", RIG_ALIGN_RIGHT}, {"lasts", "", RIG_ALIGN_RIGHT},
		{"stays that run out", "", RIG_ALIGN_RIGHT}};
	const rig_trip_bank *bank = &findings->banks[findings->main_bank];
	const int own = findings->options.habit;
	const size_t n = findings->n_habits + 1;
	const size_t n_columns = findings->n_side_trips > 0 ? HABIT_COLUMNS : HABIT_COLUMNS - 1;
	const char **cells = rig_arena_take(writer->arena, n * HABIT_COLUMNS, sizeof *cells);
	if (n < 2 || cells == NULL || !rig_figure_given(bank->days_with_panel))
		return;
	cells[0] = rig_said(writer, "%s (this stay)",
		own < 0 ? "Each load's usual use" : writer->coach->habits[own].name);
	cells[1] = rig_amount(writer->arena, bank->wanted_wh_day.likely, 2, "");
	cells[2] = lasts_said(writer, bank->days_with_panel.likely);
	if (findings->n_side_trips > 0)
		cells[3] = percent_said(writer, findings->side_out_frac.likely);
	for (size_t i = 0; i < findings->n_habits; i++) {
		const rig_trip_habit *habit = &findings->habits[i];
		const char **row = &cells[(i + 1) * n_columns];
		row[0] = habit->name;
		row[1] = rig_amount(writer->arena, habit->wanted_wh_day, 2, "");
		row[2] = lasts_said(writer, habit->days);
		if (findings->n_side_trips > 0)
			row[3] = rig_figure_given(habit->out_frac)
					 ? percent_said(writer, habit->out_frac.likely)
					 : "";
	}
	const rig_table table = {"With another pattern of use", n_columns, n, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

static void add_generator(rig_writer *writer, const rig_trip_findings *findings)
{
	const rig_trip_generator *it = &findings->generator;
	rig_document *document = writer->document;
	if (it->n_trips == 0)
		return;
	rig_add_fact(document, "Generator hours a day",
		rig_said(writer, "%s, with %s of stays still short at some time",
			rig_amount(writer->arena, it->hours_day, 2, "h"),
			percent_said(writer, it->out_frac.likely)),
		it->by_hand ? "started by hand at half charge" : "started by itself");
	if (rig_figure_given(it->fuel_l_day))
		rig_add_fact(document, "Its fuel a day",
			rig_amount_volume_range(writer->arena, it->fuel_l_day, writer->units), "");
}

/* "about 310 W (200 to 400)". */
static const char *more_said(rig_writer *writer, const rig_trip_more *more, const char *unit)
{
	const char *about = rig_amount(writer->arena, more->more, 2, unit);
	const char *low = rig_amount(writer->arena, more->more_low, 2, "");
	if (more->more_high > 0)
		return rig_said(writer, "about %s (%s to %s)", about, low,
			rig_amount(writer->arena, more->more_high, 2, ""));
	return rig_said(writer, "about %s (%s or more)", about, low);
}

static void add_more(rig_writer *writer, const char *name, const rig_trip_more *more,
	const char *unit, const char *wanted)
{
	if (!more->asked || more->enough)
		return;
	rig_add_fact(writer->document, name,
		more->reached ? more_said(writer, more, unit) : "no size of it alone is enough",
		wanted);
}

/* In the amp-hours that a shop sells, too. */
static void add_more_bank(rig_writer *writer, const rig_trip_findings *findings, const char *wanted)
{
	const rig_trip_more *more = &findings->more_bank;
	const rig_trip_bank *bank = &findings->banks[findings->main_bank];
	const rig_bank *it = &writer->coach->banks[bank->bank];
	const rig_figure usable_frac = it->usable_frac, volts = it->nominal_v;
	if (!more->asked || !more->reached || more->enough || !rig_figure_given(volts) ||
		!rig_figure_given(usable_frac)) {
		add_more(writer, "Or more battery", more, "Wh usable", wanted);
		return;
	}
	const double ah = more->more / usable_frac.likely / volts.likely;
	rig_add_fact(writer->document, "Or more battery",
		rig_said(writer, "%s usable; %s of this kind at %s", more_said(writer, more, "Wh"),
			rig_amount(writer->arena, ah, 2, "Ah"),
			rig_amount(writer->arena, volts.likely, 3, "V")),
		wanted);
}

static void add_facts(rig_writer *writer, const rig_trip_findings *findings)
{
	const rig_trip_chance *chance = &findings->chance;
	const rig_figure out = chance->out_by_day[chance->n_days - 1];
	rig_document *document = writer->document;
	rig_add_fact(document, "Stays that run out", share_said(writer, out),
		rig_said(writer, "%s, seed %llu", trips_said(writer, chance->n_trips),
			(unsigned long long)chance->seed));
	const char *wanted = rig_said(writer, "for %s of stays at most",
		percent_said(writer, findings->options.wanted_out_frac));
	add_more(writer, "More panel that this takes", &findings->more_panel, "W", wanted);
	add_more_bank(writer, findings, wanted);
	add_generator(writer, findings);
}

void rig_many_figures(rig_writer *writer, const rig_trip_findings *findings)
{
	if (findings->main_bank < 0)
		return;
	const rig_trip_bank *bank = &findings->banks[findings->main_bank];
	add_flow_chart(writer, findings, bank);
	if (findings->chance.n_trips == 0) {
		add_habits_table(writer, findings);
		return;
	}
	rig_add_heading(writer->document, 3, "Many such stays");
	add_facts(writer, findings);
	add_band_chart(writer, findings, bank);
	add_month_chart(writer, findings);
	add_cuts_table(writer, findings);
	add_habits_table(writer, findings);
}

/* ---- what to measure ---- */

bool rig_many_next(rig_writer *writer, const rig_trip_findings *findings)
{
	rig_measure measures[RIG_MEASURE_SHOWN];
	const size_t n = rig_trip_measures(findings, measures);
	rig_ask_measures(writer, "how a stay goes", n, measures);
	return n > 0;
}
