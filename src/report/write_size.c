/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options of an upgrade in words, side by side. */
#include <math.h>
#include <string.h>

#include "writer.h"

enum { MOST_SIDE_BY_SIDE = 4, OPTION_COLUMNS = 8, MOST_ROWS = 40 };

static const double KG_PER_LB = 0.45359237, M2_PER_FT2 = 0.09290304;
/* A cycle a day for twenty years, the longest that a battery is said to last. */
static const double MOST_CYCLES = 7300;
static const char *const QUESTION = "Which parts carry these loads here?";

/* ---- small words ---- */

static const char *price_said(rig_writer *writer, const rig_size_findings *findings, double price)
{
	const char *currency = findings->parts->currency;
	return rig_amount(writer->arena, round(price), 6, currency != NULL ? currency : "");
}

static const char *weight_said(rig_writer *writer, double kg)
{
	return writer->units == RIG_UNITS_SI ? rig_amount(writer->arena, kg, 3, "kg")
					     : rig_amount(writer->arena, kg / KG_PER_LB, 3, "lb");
}

static const char *area_said(rig_writer *writer, double m2)
{
	return writer->units == RIG_UNITS_SI
		       ? rig_amount(writer->arena, m2, 3, "m\xc2\xb2")
		       : rig_amount(writer->arena, m2 / M2_PER_FT2, 3, "ft\xc2\xb2");
}

static const char *amps(rig_writer *writer, double a)
{
	return rig_amount(writer->arena, a, 3, "A");
}

/* "95 of 100" of a share. */
static const char *of_hundred(rig_writer *writer, double share)
{
	return rig_said(writer, "%s of 100", rig_amount(writer->arena, share * 100, 3, ""));
}

static const char *chance_said(rig_writer *writer, rig_figure share)
{
	return rig_said(writer, "%s (%s to %s)",
		rig_amount(writer->arena, share.likely * 100, 3, ""),
		rig_amount(writer->arena, share.low * 100, 3, ""),
		rig_amount(writer->arena, share.high * 100, 3, ""));
}

static const char *named(const char *name, const char *id)
{
	return name != NULL ? name : id;
}

static const char *panels_said(
	rig_writer *writer, const rig_size_findings *findings, const rig_size_option *option)
{
	if (option->n_panels == 0)
		return option->panels_stay ? "none new" : "none";
	const rig_part_panel *panel = &findings->parts->panels[option->panel];
	return rig_said(writer, "%d \xc3\x97 %s", option->n_panels, named(panel->name, panel->id));
}

static const char *bank_said(
	rig_writer *writer, const rig_size_findings *findings, const rig_size_option *option)
{
	if (option->battery < 0)
		return "stays";
	const rig_part_battery *battery = &findings->parts->batteries[option->battery];
	return rig_said(writer, "%d \xc3\x97 %s", option->series * option->parallel,
		named(battery->name, battery->id));
}

static const char *inverter_said(const rig_size_findings *findings, const rig_size_option *option)
{
	if (option->inverter < 0)
		return option->inverter_w > 0 ? "stays" : "none";
	const rig_part_inverter *it = &findings->parts->inverters[option->inverter];
	return named(it->name, it->id);
}

static const char *months_said(rig_writer *writer, const rig_size_findings *findings)
{
	bool belongs[12];
	for (int month = 0; month < 12; month++)
		belongs[month] = findings->options.months[month];
	return rig_months_said(writer, belongs, false);
}

static bool has(const rig_size_findings *findings, rig_size_note note)
{
	return (findings->notes & (uint32_t)note) != 0;
}

/* ---- the answer ---- */

/* What stood in the way, for a verdict without an option. */
static const char *nothing_said(rig_writer *writer, const rig_size_findings *findings)
{
	if (findings->stopped)
		return "The search was stopped before it found an option.";
	if (has(findings, RIG_SIZE_NO_INVERTER))
		return rig_said(writer,
			"No inverter of the list carries what is wanted of it: %s W, and %s W for "
			"the hardest start.",
			rig_amount(writer->arena, findings->asked_w, 3, ""),
			rig_amount(writer->arena, findings->asked_surge_w, 3, ""));
	if (findings->n_candidates == 0)
		return "Nothing of the list keeps within the limits.";
	return rig_said(writer,
		"No combination of the list within the limits reaches %s stays in every month "
		"asked.",
		of_hundred(writer, findings->options.wanted_frac));
}

static int lightest(const rig_size_findings *findings)
{
	int found = 0;
	for (int i = 1; i < (int)findings->n_options; i++)
		if (findings->options_found[i].weight_kg < findings->options_found[found].weight_kg)
			found = i;
	return found;
}

static int smallest(const rig_size_findings *findings)
{
	int found = 0;
	for (int i = 1; i < (int)findings->n_options; i++)
		if (findings->options_found[i].area_m2 < findings->options_found[found].area_m2)
			found = i;
	return found;
}

static const char *verdict_said(rig_writer *writer, const rig_size_findings *findings)
{
	if (findings->n_options == 0)
		return nothing_said(writer, findings);
	const rig_size_option *first = &findings->options_found[0];
	return rig_said(writer, "%s; the cheapest costs %s: panels %s, battery %s, inverter %s.",
		findings->n_options == 1 ? "One option is beaten by no other"
					 : rig_said(writer, "%zu options are beaten by no other",
						   findings->n_options),
		price_said(writer, findings, first->price), panels_said(writer, findings, first),
		bank_said(writer, findings, first), inverter_said(findings, first));
}

static void add_present(rig_writer *writer, rig_buffer *words, const rig_size_findings *findings)
{
	int worst = -1;
	for (int month = 0; month < 12; month++)
		if (findings->present[month].asked &&
			(worst < 0 || findings->present[month].never_out_frac.likely <
					      findings->present[worst].never_out_frac.likely))
			worst = month;
	if (worst < 0)
		return;
	rig_buffer_format(words, " As the coach is now, %s such stays go through in %s.",
		of_hundred(writer, findings->present[worst].never_out_frac.likely),
		RIG_MONTH[worst]);
}

static void add_others(rig_writer *writer, rig_buffer *words, const rig_size_findings *findings)
{
	const int light = lightest(findings), small = smallest(findings);
	if (findings->n_options < 2)
		return;
	if (light > 0)
		rig_buffer_format(words, " The lightest is option %d: %s, %s.", light + 1,
			weight_said(writer, findings->options_found[light].weight_kg),
			price_said(writer, findings, findings->options_found[light].price));
	if (small > 0 && small != light)
		rig_buffer_format(words,
			" The one that takes least of the roof is option %d: %s, %s.", small + 1,
			area_said(writer, findings->options_found[small].area_m2),
			price_said(writer, findings, findings->options_found[small].price));
}

void rig_size_answer(rig_writer *writer, const rig_size_findings *findings)
{
	rig_buffer words = {0};
	const int habit = findings->options.habit;
	rig_buffer_format(&words,
		"Asked was that at least %s stays of %d days go through without running out, in "
		"%s at %s, with %s.",
		of_hundred(writer, findings->options.wanted_frac), findings->options.n_days,
		months_said(writer, findings), findings->place.name,
		habit < 0 ? "each load's usual use"
			  : rig_said(writer, "the use \"%s\"", writer->coach->habits[habit].name));
	add_present(writer, &words, findings);
	add_others(writer, &words, findings);
	if (has(findings, RIG_SIZE_INVENTED))
		rig_buffer_add(&words, " The parts and prices of this list are invented: take a "
				       "list of your own.");
	const char *more = rig_said_buffer(writer, &words);
	rig_add_answer(writer->document, QUESTION, verdict_said(writer, findings), "%s", more);
}

/* ---- all options ---- */

static bool alike_but_controllers(const rig_size_option *a, const rig_size_option *b)
{
	return a->panel == b->panel && a->n_panels == b->n_panels &&
	       a->panels_stay == b->panels_stay && a->battery == b->battery &&
	       a->series == b->series && a->parallel == b->parallel && a->inverter == b->inverter;
}

/* The new panels; with their controllers where nothing else tells the option from another. */
static const char *panels_told_apart(
	rig_writer *writer, const rig_size_findings *findings, const rig_size_option *option)
{
	const char *panels = panels_said(writer, findings, option);
	for (size_t i = 0; i < findings->n_options && option->controller >= 0; i++) {
		const rig_size_option *other = &findings->options_found[i];
		const rig_part_controller *it = &findings->parts->controllers[option->controller];
		if (other != option && alike_but_controllers(option, other))
			return rig_said(writer, "%s; %d \xc3\x97 %s", panels, option->n_controllers,
				named(it->name, it->id));
	}
	return panels;
}

static void add_options(rig_writer *writer, const rig_size_findings *findings)
{
	const rig_column columns[OPTION_COLUMNS] = {{"option", "", RIG_ALIGN_LEFT},
		{"price", findings->parts->currency != NULL ? findings->parts->currency : "",
			RIG_ALIGN_RIGHT},
		{"weight", "", RIG_ALIGN_RIGHT}, {"roof", "", RIG_ALIGN_RIGHT},
		{"new panels", "", RIG_ALIGN_LEFT}, {"battery", "", RIG_ALIGN_LEFT},
		{"inverter", "", RIG_ALIGN_LEFT}, {"of 100 stays", "", RIG_ALIGN_RIGHT}};
	const size_t n = findings->n_options;
	const char **cells = rig_arena_take(writer->arena, n * OPTION_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	for (size_t i = 0; i < n; i++) {
		const rig_size_option *option = &findings->options_found[i];
		const char **row = &cells[i * OPTION_COLUMNS];
		row[0] = rig_said(writer, "%zu", i + 1);
		row[1] = rig_amount(writer->arena, round(option->price), 6, "");
		row[2] = weight_said(writer, option->weight_kg);
		row[3] = area_said(writer, option->area_m2);
		row[4] = panels_told_apart(writer, findings, option);
		row[5] = bank_said(writer, findings, option);
		row[6] = inverter_said(findings, option);
		row[7] = rig_amount(writer->arena,
			option->months[option->worst_month].never_out_frac.likely * 100, 3, "");
	}
	const rig_table table = {"The options that nothing on the list beats, cheapest first",
		OPTION_COLUMNS, n, columns, cells};
	rig_add_table(writer->document, &table);
}

/* Of price against chance in the month that limits each, with its sampling error. */
static void add_chart(rig_writer *writer, const rig_size_findings *findings)
{
	const size_t n = findings->n_options;
	double *x = rig_arena_take(writer->arena, n, sizeof *x);
	rig_span *y = rig_arena_take(writer->arena, n, sizeof *y);
	if (x == NULL || y == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	const double wanted = findings->options.wanted_frac * 100;
	double low = wanted;
	for (size_t i = 0; i < n; i++) {
		const rig_size_option *option = &findings->options_found[i];
		const rig_figure chance = option->months[option->worst_month].never_out_frac;
		x[i] = option->price;
		y[i] = (rig_span){chance.low * 100, chance.likely * 100, chance.high * 100};
		low = fmin(low, y[i].low);
	}
	const double ends[2] = {x[0], x[n - 1]};
	const rig_span level[2] = {{wanted, wanted, wanted}, {wanted, wanted, wanted}};
	const rig_line lines[] = {
		{"options, by number", n, x, y, false}, {"wanted", 2, ends, level, true}};
	const char *currency = findings->parts->currency;
	const rig_chart chart = {.kind = RIG_CHART_COURSE,
		.points = true,
		.title = "What each option costs, and its chance",
		.quantity = "stays that go through, in the month that limits it",
		.unit = "of 100",
		.x_quantity =
			currency != NULL ? rig_said(writer, "price in %s", currency) : "price",
		.y_top = 100,
		.y_bottom = fmax(0, 5 * floor((low - 0.5) / 5)),
		.n_lines = n > 1 ? 2 : 1,
		.lines = lines};
	rig_add_chart(writer->document, &chart);
}

/* ---- side by side ---- */

/* The table in the making: a row a line, an option a column. */
typedef struct {
	rig_writer *writer;
	const rig_size_findings *findings;
	size_t n;
	int option[MOST_SIDE_BY_SIDE];
	size_t n_rows;
	const char *cells[MOST_ROWS * (MOST_SIDE_BY_SIDE + 1)];
} sides;

typedef const char *(*told)(rig_writer *, const rig_size_findings *, const rig_size_option *);

/* A row whose cells are all empty is left out. */
static void add_row(sides *to, const char *name, told tell)
{
	const char **row = &to->cells[to->n_rows * (to->n + 1)];
	bool any = false;
	row[0] = name;
	for (size_t i = 0; i < to->n; i++) {
		row[i + 1] =
			tell(to->writer, to->findings, &to->findings->options_found[to->option[i]]);
		any = any || row[i + 1][0] != '\0';
	}
	if (any)
		to->n_rows++;
}

static const char *tell_price(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	return rig_said(w, "%s%s", price_said(w, f, o->price),
		o->price_is_whole ? "" : ", without what the list lacks");
}

static const char *tell_weight(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return weight_said(w, o->weight_kg);
}

static const char *tell_area(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return area_said(w, o->area_m2);
}

static const char *tell_panels(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	if (o->n_panels == 0)
		return panels_said(w, f, o);
	return rig_said(w, "%s, %s", panels_said(w, f, o), rig_amount(w->arena, o->new_w, 4, "W"));
}

static const char *tell_strings(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	if (o->n_panels == 0)
		return "";
	const int strings = o->n_panels / o->n_controllers / o->panels_in_series;
	return rig_said(w, "%d in series, %d %s on each controller", o->panels_in_series, strings,
		strings == 1 ? "string" : "strings side by side");
}

static const char *tell_controller(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	if (o->n_panels == 0)
		return "";
	const rig_part_controller *it = &f->parts->controllers[o->controller];
	return rig_said(w, "%d \xc3\x97 %s; %s needed", o->n_controllers, named(it->name, it->id),
		amps(w, o->controller_a));
}

static const char *tell_bank(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	if (o->battery < 0)
		return "stays";
	return rig_said(w, "%s (%d in series, %d side by side)", bank_said(w, f, o), o->series,
		o->parallel);
}

static const char *tell_usable(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return rig_said(w, "%s of %s", rig_amount(w->arena, o->bank_usable_wh, 3, ""),
		rig_amount(w->arena, o->bank_wh, 3, "Wh"));
}

static const char *tell_inverter(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)w;
	return inverter_said(f, o);
}

static const char *tell_continuous(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	if (o->inverter_w <= 0)
		return "";
	return rig_said(w, "%s asked of %s", rig_amount(w->arena, o->inverter_asked_w, 3, ""),
		rig_amount(w->arena, o->inverter_w, 4, "W"));
}

static const char *tell_surge(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	if (o->inverter_w <= 0)
		return "";
	return rig_said(w, "%s asked of %s", rig_amount(w->arena, o->inverter_asked_surge_w, 3, ""),
		rig_amount(w->arena, o->inverter_surge_w, 4, "W"));
}

static const char *tell_discharge(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	if (o->inverter_w <= 0 || o->inverter_asked_w <= 0)
		return "";
	return o->bank_discharge_limit_a > 0
		       ? rig_said(w, "%s of %s", rig_amount(w->arena, o->bank_discharge_a, 3, ""),
				 amps(w, o->bank_discharge_limit_a))
		       : rig_said(w, "%s; ask what it may give", amps(w, o->bank_discharge_a));
}

static const char *hours_said(rig_writer *w, double h)
{
	return rig_amount(w->arena, h, 2, "h");
}

static const char *tell_shore(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	if (o->charger_a <= 0)
		return "no charger";
	const char *limit =
		o->charge_limit_a > 0 && o->charge_limit_a < o->charger_a
			? rig_said(w, ", held to the battery's %s", amps(w, o->charge_limit_a))
			: "";
	return rig_said(
		w, "%s with %s%s", hours_said(w, o->shore_charge_h), amps(w, o->charger_a), limit);
}

static const char *tell_generator(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return o->generator_charge_h > 0 ? hours_said(w, o->generator_charge_h) : "";
}

static const char *tell_alternator(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	if (o->alternator_amps_a <= 0)
		return "";
	const char *part = "the present one";
	if (o->alternator_charger >= 0) {
		const rig_part_alternator_charger *it =
			&f->parts->alternator_chargers[o->alternator_charger];
		part = rig_said(w, "up to the %s, %s more", named(it->name, it->id),
			price_said(w, f, it->price.likely));
	}
	return rig_said(w, "%s: %s into the battery, %s of the alternator", part,
		amps(w, o->alternator_amps_a), amps(w, o->alternator_drawn_a));
}

static const char *tell_chance(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return rig_said(w, "%s in %s", chance_said(w, o->months[o->worst_month].never_out_frac),
		RIG_MONTH[o->worst_month]);
}

static const char *tell_cycles(rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	const char *depth =
		rig_said(w, "%s %% a day", rig_amount(w->arena, o->depth_frac * 100, 2, ""));
	if (!rig_figure_given(o->cycles))
		return depth;
	if (o->cycles.low > MOST_CYCLES)
		return rig_said(w, "%s: its years wear it out before its cycles do", depth);
	return rig_said(w, "%s: %s such cycles", depth, rig_amount_range(w->arena, o->cycles, ""));
}

static const char *gauge_said(rig_writer *w, int awg)
{
	return awg > 0 ? rig_said(w, "%d AWG", awg) : rig_said(w, "%d/0 AWG", 1 - awg);
}

static const char *run_said(rig_writer *w, const rig_size_run *run)
{
	if (!run->asked)
		return "";
	if (!run->solved)
		return "no standard wire will do: shorten it or share it out";
	const char *times = run->n_alike > 1 ? rig_said(w, "%d \xc3\x97 ", run->n_alike) : "";
	const char *broken = run->interrupt_asked_a > 0
				     ? rig_said(w, " that can break %s",
					       rig_amount(w->arena, run->interrupt_asked_a, 3, "A"))
				     : "";
	return rig_said(w, "%s%s for %s, fuse %s%s", times, gauge_said(w, run->choice.wire.awg),
		amps(w, run->job.amps_a), amps(w, run->fuse_a), broken);
}

static const char *tell_array_run(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return run_said(w, &o->runs[RIG_SIZE_RUN_ARRAY]);
}

static const char *tell_controller_run(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return run_said(w, &o->runs[RIG_SIZE_RUN_CONTROLLER]);
}

static const char *tell_inverter_run(
	rig_writer *w, const rig_size_findings *f, const rig_size_option *o)
{
	(void)f;
	return run_said(w, &o->runs[RIG_SIZE_RUN_INVERTER]);
}

static const struct {
	const char *name;
	told tell;
} ROWS[] = {
	{"Price of all that is new", tell_price},
	{"Weight of all that is new", tell_weight},
	{"Roof taken by new panels", tell_area},
	{"New panels", tell_panels},
	{"Wired as", tell_strings},
	{"Charge controllers", tell_controller},
	{"Battery", tell_bank},
	{"Usable", tell_usable},
	{"Inverter", tell_inverter},
	{"Inverter, for hours", tell_continuous},
	{"Inverter, at the hardest start", tell_surge},
	{"Drawn of the battery by that", tell_discharge},
	{"Of 100 stays go through", tell_chance},
	{"Used of the battery, and its life", tell_cycles},
	{"Empty to full on shore power", tell_shore},
	{"Empty to full on the generator", tell_generator},
	{"Alternator charger", tell_alternator},
	{"Wire, panels to each controller", tell_array_run},
	{"Wire, each controller to battery", tell_controller_run},
	{"Wire, battery to inverter", tell_inverter_run},
};

static void add_sides(sides *to)
{
	rig_column columns[MOST_SIDE_BY_SIDE + 1] = {{"", "", RIG_ALIGN_LEFT}};
	for (size_t i = 0; i < to->n; i++)
		columns[i + 1] = (rig_column){
			rig_said(to->writer, "option %d", to->option[i] + 1), "", RIG_ALIGN_LEFT};
	for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++)
		add_row(to, ROWS[i].name, ROWS[i].tell);
	const rig_table table = {to->n > 1 ? "Side by side" : "What it is made of", to->n + 1,
		to->n_rows, columns, to->cells};
	rig_add_table(to->writer->document, &table);
}

static void choose(sides *to, int option)
{
	for (size_t i = 0; i < to->n; i++)
		if (to->option[i] == option)
			return;
	if (to->n < MOST_SIDE_BY_SIDE)
		to->option[to->n++] = option;
}

/* Those that were asked for; else the cheapest, the lightest, the smallest on the roof, and the
 * next cheapest. */
static void choose_sides(sides *to, const rig_size_findings *findings)
{
	const rig_writer *writer = to->writer;
	for (size_t i = 0; i < writer->n_compare; i++)
		choose(to, writer->compare[i]);
	if (to->n > 0)
		return;
	choose(to, 0);
	choose(to, lightest(findings));
	choose(to, smallest(findings));
	for (int i = 1; i < (int)findings->n_options; i++)
		choose(to, i);
}

/* ---- what limits each, and its months ---- */

/* "; there, with one panel less 71 of 100 stays go through, and ...". */
static void add_less(rig_writer *writer, rig_buffer *words, const rig_size_option *option)
{
	const bool panel = rig_figure_given(option->less_panel_frac);
	const bool battery = rig_figure_given(option->less_battery_frac);
	if (!panel && !battery)
		return;
	rig_buffer_format(words, "; there, with one %s less %s stays go through",
		panel ? "panel" : "string of batteries",
		of_hundred(writer,
			panel ? option->less_panel_frac.likely : option->less_battery_frac.likely));
	if (!panel || !battery)
		return;
	rig_buffer_format(words, ", and with one string of batteries less %s: %s counts more",
		of_hundred(writer, option->less_battery_frac.likely),
		option->less_panel_frac.likely < option->less_battery_frac.likely ? "the roof"
										  : "the battery");
}

static void add_limits(rig_writer *writer, const rig_size_findings *findings, const sides *to)
{
	rig_add_list(writer->document, "What limits them");
	for (size_t i = 0; i < to->n; i++) {
		const rig_size_option *option = &findings->options_found[to->option[i]];
		rig_buffer words = {0};
		rig_buffer_format(
			&words, "Option %d: %s", to->option[i] + 1, RIG_MONTH[option->worst_month]);
		add_less(writer, &words, option);
		rig_add_item(writer->document, "%s.", rig_said_buffer(writer, &words));
	}
}

/* Energy by month of one of them. */
static void add_months(rig_writer *writer, const rig_size_findings *findings, int index)
{
	enum { COLUMNS = 6 };
	static const rig_column HEADS[COLUMNS] = {{"month", "", RIG_ALIGN_LEFT},
		{"solar harvest", "Wh a day", RIG_ALIGN_RIGHT},
		{"used by the loads", "Wh a day", RIG_ALIGN_RIGHT},
		{"left unused", "Wh a day", RIG_ALIGN_RIGHT},
		{"missing", "Wh a day", RIG_ALIGN_RIGHT}, {"of 100 stays", "", RIG_ALIGN_RIGHT}};
	const rig_size_option *option = &findings->options_found[index];
	const char *cells[12 * COLUMNS];
	size_t n = 0;
	for (int month = 0; month < 12; month++) {
		const rig_size_month *it = &option->months[month];
		if (!it->asked)
			continue;
		const char **row = &cells[n++ * COLUMNS];
		row[0] = RIG_MONTH[month];
		row[1] = rig_amount(writer->arena, it->harvest, 3, "");
		row[2] = rig_amount(writer->arena, it->served, 3, "");
		row[3] = rig_amount(writer->arena, it->curtailed, 3, "");
		row[4] = rig_amount(writer->arena, it->unserved, 2, "");
		row[5] = chance_said(writer, it->never_out_frac);
	}
	const rig_table table = {
		rig_said(writer, "Energy of option %d by month, mean of the stays", index + 1),
		COLUMNS, n, HEADS, cells};
	rig_add_table(writer->document, &table);
}

void rig_size_figures(rig_writer *writer, const rig_size_findings *findings)
{
	rig_add_heading(writer->document, 2, "Options");
	if (findings->n_options == 0)
		return;
	sides *to = rig_arena_take(writer->arena, 1, sizeof *to);
	if (to == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	to->writer = writer;
	to->findings = findings;
	add_options(writer, findings);
	add_chart(writer, findings);
	choose_sides(to, findings);
	add_sides(to);
	add_limits(writer, findings, to);
	for (size_t i = 0; i < to->n; i++)
		add_months(writer, findings, to->option[i]);
}

/* ---- next, assumptions, cautions ---- */

void rig_size_next(rig_writer *writer, const rig_size_findings *findings)
{
	if (findings->options.roof.length_m <= 0 && findings->n_options > 0)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Measure the roof and what stands on it (--roof, --obstacle): whether the "
			"panels fit was not looked at.");
	if (findings->options.battery_room.length_m <= 0 && findings->n_options > 0)
		rig_ask(writer, RIG_ASK_DECIDES,
			"Measure the room for the batteries (--battery-room): whether they fit was "
			"not looked at.");
	if (findings->n_options > 0)
		rig_ask(writer, RIG_ASK_NARROWS,
			"Measure the wire runs from roof to controller, to battery and to "
			"inverter: the gauges here are for assumed lengths.");
	if (findings->n_wanted > 0)
		rig_ask(writer, RIG_ASK_ALSO,
			"Read the starting amps off the labels of what is to run on the inverter.");
}

static void assume_search(rig_writer *writer, const rig_size_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"All %s combinations of the list within the limits were settled: one kind of new "
		"panel with one kind of controller, one kind of battery, one inverter, and what "
		"the coach has. None of those left out is at most as dear, as heavy and as large "
		"on the roof as an option here and reaches the chance. Each month was tried on %s "
		"stays of drawn weather, and of what the file leaves open, the same for all "
		"options (seed %llu); the range beside a chance is the sampling error of that, at "
		"95 percent.",
		rig_amount(writer->arena, (double)findings->n_candidates, 6, ""),
		rig_amount(writer->arena, (double)findings->options.n_trips, 6, ""),
		(unsigned long long)findings->options.seed);
	if (findings->options.roof.length_m > 0)
		rig_add_item(document, "%s",
			has(findings, RIG_SIZE_PACKING_CUT)
				? "Panels were laid on the roof along or across by a search that "
				  "was cut short: as many as are counted fit, perhaps more would."
				: "Panels were laid on the roof along or across, corner by corner; "
				  "the search went to its end, so that no more would fit.");
	if (findings->options.panels != RIG_SIZE_REPLACE)
		rig_add_item(document,
			"Panels that the coach has stay, at no price; on the roof they are in the "
			"way only where they are listed as obstacles.");
}

void rig_size_assumptions(rig_writer *writer, const rig_size_findings *findings)
{
	rig_document *document = writer->document;
	assume_search(writer, findings);
	rig_add_item(document,
		"Controllers are sized so that the panels' full watts at 13.2 V for each 12 V of "
		"battery stay within their rating; strings so that their volts in the deepest cold "
		"(a quarter above the label) stay within the controller's limit and below 60 V at "
		"work.");
	rig_add_item(document,
		"The inverter is asked for the most that any named set of loads draws of it at "
		"once, with all wanted loads that no set names, and for the hardest start on top. "
		"At its full watts it draws 1/0.85 of them from the battery.");
	rig_add_item(document,
		"Wires: 105 \xc2\xb0"
		"C cable in 50 \xc2\xb0"
		"C air, two together, at most 3 percent lost from the panels and 2 percent on "
		"each other run; a quarter is added to a panel's shorted amps for bright sun and "
		"a quarter to what flows for hours. Runs of %s, %s and %s one way.",
		rig_amount_length(writer->arena, findings->options.array_run_m, writer->units),
		rig_amount_length(writer->arena, findings->options.controller_run_m, writer->units),
		rig_amount_length(writer->arena, findings->options.inverter_run_m, writer->units));
	rig_add_item(document,
		"A battery's life is counted by what is taken out of it: the label's cycles times "
		"their depth, spread over the depth used here. Years, heat and cold wear it as "
		"well. Charging counts as done at 98 percent.");
	if (has(findings, RIG_SIZE_INVENTED))
		rig_add_item(document, "Every part and price of the list \"%s\" is invented.",
			findings->parts->name);
	if (has(findings, RIG_SIZE_WRONG_VOLTS))
		rig_add_item(document,
			"Some batteries or inverters of the list are not made for this bank's "
			"volts and were passed over.");
	if (has(findings, RIG_SIZE_INVERTER_SMALL))
		rig_add_item(document,
			"Some inverters are too small for the loads and were passed over.");
	if (has(findings, RIG_SIZE_GAPS))
		rig_add_item(document,
			"The list lacks a conductor or a fuse that an option takes: its price and "
			"weight are short of that.");
	const char *record = rig_record_said(&findings->place);
	if (record != NULL)
		rig_add_item(document, "For %s, %s.", findings->place.name, record);
}

void rig_size_cautions(rig_writer *writer, const rig_size_findings *findings)
{
	rig_document *document = writer->document;
	(void)findings;
	rig_work_cautions(writer, true);
	rig_battery_cautions(writer);
	rig_add_item(document,
		"This is a proposal for a licensed electrician or a certified technician to check, "
		"not an approval: local codes, the makers' instructions and the official who "
		"inspects the work come first.");
	rig_add_item(document,
		"Panels load the roof and catch the wind: ask the coach's maker what it bears and "
		"where it may be drilled. Weigh the coach against its ratings before and after.");
	rig_add_item(document,
		"Every battery and every source needs a means to disconnect it, and every "
		"battery a fuse that can break what the battery gives when shorted.");
	rig_add_item(document,
		"Do not rest a medical device, or the heat in freezing weather, on this forecast. "
		"Keep a second source.");
}
