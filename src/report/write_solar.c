/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

#include <math.h>
#include <string.h>

#include "measure.h"

enum { MOST_RUNGS = 10, MOST_OWN_RUNGS = 7, NEED_COLUMNS = 4 };

static const char *const LEVEL_SAID[RIG_N_SOLAR_LEVELS] = {
	"falls short", "maintains", "extends", "carries"};
static const char *const QUESTION = "\"It comes with solar\": what is that worth?";

static const rig_solar_bank *main_bank(const rig_solar_findings *findings)
{
	return findings->main_bank < 0 ? NULL : &findings->banks[findings->main_bank];
}

static bool is_judged(const rig_solar_findings *findings, int month)
{
	return findings->options.month < 0 || findings->options.month == month;
}

/* The months judged in which the likely level is at least so high. */
static int months_at(const rig_solar_findings *findings, const rig_solar_bank *bank,
	rig_solar_level level, bool belongs[12])
{
	int n = 0;
	for (int i = 0; i < 12; i++) {
		belongs[i] = is_judged(findings, i) && bank->months[i].level.likely >= level;
		n += belongs[i];
	}
	return n;
}

static const char *judged_said(const rig_solar_findings *findings)
{
	return findings->options.month < 0 ? "every month" : RIG_MONTH[findings->options.month];
}

static void add_whom(rig_writer *writer, rig_telling *telling, const rig_solar_bank *bank)
{
	rig_buffer_format(&telling->first, "It is %s of panel and charges the %s.",
		rig_amount_range(writer->arena, bank->total_w, "W"),
		rig_bank_said(writer, bank->bank));
	if (!bank->contributes_to_house)
		rig_buffer_add(&telling->first,
			" It gives nothing to the house battery, on which lights, refrigerator "
			"and outlets draw.");
}

/* The answer where all months judged are alike. */
static const char *even_verdict_said(rig_writer *writer, const rig_solar_bank *bank)
{
	const char *name = rig_bank_said(writer, bank->bank);
	switch (bank->overall.likely) {
	case RIG_FALLS_SHORT:
		return rig_said(writer, "It falls short%s: it does not hold the %s.",
			bank->worst_month == bank->best_month ? "" : " in every month", name);
	case RIG_MAINTAINS:
		return rig_said(writer, "It maintains the %s. It does not run the coach.", name);
	case RIG_EXTENDS:
		return "It makes a stay without hookups longer; it does not carry it.";
	default:
		return "It carries the daily use that was asked about.";
	}
}

/* "makes a stay longer in May to August"; the worst level that is not short holds all year. */
static const char *months_part_said(rig_writer *writer, const rig_solar_findings *findings,
	const rig_solar_bank *bank, rig_solar_level level)
{
	bool belongs[12];
	int n = 0;
	for (int i = 0; i < 12; i++) {
		belongs[i] = is_judged(findings, i) && bank->months[i].level.likely == level;
		n += belongs[i];
	}
	if (n == 0)
		return NULL;
	const char *when =
		level == bank->overall.likely && level > RIG_FALLS_SHORT
			? "all year"
			: rig_said(writer, "in %s", rig_months_said(writer, belongs, false));
	switch (level) {
	case RIG_FALLS_SHORT:
		return rig_said(writer, "falls short %s", when);
	case RIG_MAINTAINS:
		return rig_said(writer, "%s the %s %s",
			bank->overall.likely == RIG_FALLS_SHORT ? "holds" : "maintains",
			rig_bank_said(writer, bank->bank), when);
	case RIG_EXTENDS:
		return rig_said(writer, "makes a stay longer %s", when);
	default:
		return rig_said(writer, "carries the daily use %s", when);
	}
}

/* The answer in one sentence: what holds in every month, and what better months do. */
static const char *verdict_said(
	rig_writer *writer, const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	const char *parts[RIG_N_SOLAR_LEVELS];
	size_t n = 0;
	for (int i = RIG_FALLS_SHORT; i < RIG_N_SOLAR_LEVELS; i++) {
		parts[n] = months_part_said(writer, findings, bank, (rig_solar_level)i);
		n += parts[n] != NULL;
	}
	if (n < 2)
		return even_verdict_said(writer, bank);
	rig_buffer words = {0};
	rig_buffer_format(&words, "It %s", parts[0]);
	for (size_t i = 1; i < n; i++) {
		const char *comma = n > 2 ? ";" : ",";
		rig_buffer_format(&words, "%s %s%s", comma, i + 1 == n ? "and " : "", parts[i]);
	}
	rig_buffer_add(&words, ".");
	return rig_said_buffer(writer, &words);
}

static void add_short_level(rig_writer *writer, rig_buffer *words,
	const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	bool covered[12];
	bool rest[12];
	const int n = months_at(findings, bank, RIG_MAINTAINS, covered);
	for (int i = 0; i < 12; i++)
		rest[i] = is_judged(findings, i) && !covered[i];
	const char *standing = rig_amount_full(writer->arena, bank->standing_wh_day, "Wh");
	if (n == 0)
		rig_buffer_format(words,
			" In %s it brings less than the %s a day that the battery loses with "
			"everything switched off.",
			judged_said(findings), standing);
	else
		rig_buffer_format(words,
			" It makes up for the standing draw, %s a day with everything switched "
			"off, in "
			"%s. In %s it does not, and the battery runs down in storage.",
			standing, rig_months_said(writer, covered, false),
			rig_months_said(writer, rest, false));
}

/* What the standing draw leaves. */
static void add_maintained(rig_writer *writer, rig_buffer *words,
	const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	const int worst = bank->worst_month;
	rig_buffer_format(words,
		" In %s it makes up for the standing draw of %s a day with everything switched "
		"off. In "
		"%s that leaves about %s a day",
		judged_said(findings), rig_amount_full(writer->arena, bank->standing_wh_day, "Wh"),
		RIG_MONTH[worst],
		rig_amount(writer->arena, bank->months[worst].spare_wh_day.likely, 2, "Wh"));
	if (rig_figure_given(bank->months[worst].use_wh_day))
		rig_buffer_format(words, "; the daily use asks for %s",
			rig_amount_full(writer->arena, bank->months[worst].use_wh_day, "Wh"));
	rig_buffer_add(words, ".");
}

/* Whether more is used in one month judged than in another, as people would notice. */
static bool use_varies(const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	const int asked = findings->options.month;
	bool varies = false;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		varies = varies ||
			 ((asked < 0 || asked == m) && bank->months[m].use_wh_day.likely <
							       0.98 * bank->use_wh_day.likely);
	return varies;
}

static void add_level(rig_writer *writer, rig_buffer *words, const rig_solar_findings *findings,
	const rig_solar_bank *bank)
{
	const rig_solar_bank_month *worst = &bank->months[bank->worst_month];
	switch (bank->overall.likely) {
	case RIG_FALLS_SHORT:
		add_short_level(writer, words, findings, bank);
		break;
	case RIG_MAINTAINS:
		add_maintained(writer, words, findings, bank);
		break;
	case RIG_EXTENDS:
		rig_buffer_format(words,
			" In %s the daily use of %s lasts %s from a full battery, and %s without "
			"the "
			"solar.",
			RIG_MONTH[bank->worst_month],
			rig_amount_full(writer->arena, worst->use_wh_day, "Wh"),
			rig_days_said(writer, worst->days_with, RIG_SOLAR_DAYS_MAX),
			rig_days_said(writer, worst->days_without, RIG_SOLAR_DAYS_MAX));
		break;
	default:
		rig_buffer_format(words,
			" That is %s%s a day. In %s, of 100 stays of %d days that begin with a "
			"full "
			"battery, at least %.0f never run out.",
			use_varies(findings, bank) ? "up to " : "",
			rig_amount_full(writer->arena, bank->use_wh_day, "Wh"),
			judged_said(findings), findings->options.n_days,
			100.0 * RIG_SOLAR_CARRIES_FRAC);
		break;
	}
}

static void add_harvest(rig_writer *writer, rig_buffer *words, const rig_solar_bank *bank)
{
	const int worst = bank->worst_month;
	const int best = bank->best_month;
	const rig_figure poor = bank->months[worst].harvest_wh_day;
	rig_buffer_format(words, " On a mean day in %s it brings %s", RIG_MONTH[worst],
		rig_amount_range(writer->arena, poor, "Wh"));
	if (best != worst)
		rig_buffer_format(words, ", in %s %s", RIG_MONTH[best],
			rig_amount_range(writer->arena, bank->months[best].harvest_wh_day, "Wh"));
	rig_buffer_format(words, ". A day in %s is worth about %s.", RIG_MONTH[worst],
		rig_everyday_said(writer, poor.likely));
}

static void add_open_question(rig_buffer *words, const rig_solar_bank *bank)
{
	if (bank->overall.low == bank->overall.high)
		return;
	rig_buffer_format(words,
		" The figures leave room: at their poor ends it %s, at their good ends "
		"it %s.",
		LEVEL_SAID[bank->overall.low], LEVEL_SAID[bank->overall.high]);
}

static const rig_solar_bank *first_house_bank(const rig_solar_findings *findings)
{
	for (size_t i = 0; i < findings->n_banks; i++) {
		if (findings->banks[i].role != RIG_CHASSIS)
			return &findings->banks[i];
	}
	return NULL;
}

/* A panel, and no battery in the file that it could charge. */
static void answer_without_bank(rig_writer *writer)
{
	rig_add_answer(writer->document, QUESTION,
		"A solar panel is listed, but no battery for it to charge.",
		"Look which battery its controller feeds and add that to the file: what a panel is "
		"worth depends on it.");
}

static void answer_without_array(rig_writer *writer, const rig_solar_findings *findings)
{
	const rig_solar_bank *house = first_house_bank(findings);
	if (house == NULL || house->n_needs <= RIG_MAINTAINS ||
		!rig_figure_given(house->needs[RIG_MAINTAINS].worst_w)) {
		rig_add_answer(writer->document, QUESTION, "No solar panel is listed.", "%s", "");
		return;
	}
	rig_add_answer(writer->document, QUESTION, "No solar panel is listed.",
		"To hold the house battery against its standing draw of "
		"%s a "
		"day in %s would take about %s of panel, flat on the roof.",
		rig_amount_full(writer->arena, house->standing_wh_day, "Wh"), judged_said(findings),
		rig_amount_range(writer->arena, house->needs[RIG_MAINTAINS].worst_w, "W"));
}

void rig_solar_answer(rig_writer *writer, const rig_solar_findings *findings)
{
	if (findings->main_bank < 0 && findings->n_arrays > 0 && findings->n_banks == 0) {
		answer_without_bank(writer);
		return;
	}
	if (findings->main_bank < 0) {
		answer_without_array(writer, findings);
		return;
	}
	const rig_solar_bank *bank = main_bank(findings);
	rig_telling telling = {0};
	add_whom(writer, &telling, bank);
	add_harvest(writer, &telling.first, bank);
	add_level(writer, &telling.more, findings, bank);
	add_open_question(&telling.more, bank);
	const char *record = rig_record_said(&findings->place);
	if (record != NULL)
		rig_buffer_format(&telling.more, " For %s, %s.", findings->place.name, record);
	rig_tell(writer, RIG_PART_SOLAR, QUESTION, verdict_said(writer, findings, bank), &telling);
}

static rig_span span_of(rig_figure figure)
{
	return (rig_span){figure.low, figure.likely, figure.high};
}

static void add_months_chart(rig_writer *writer, const rig_solar_bank *bank)
{
	rig_bar bars[12];
	rig_span standing[12];
	rig_span use[12];
	for (int i = 0; i < 12; i++) {
		const rig_solar_bank_month *month = &bank->months[i];
		const bool sure = month->level.low >= RIG_MAINTAINS;
		const bool likely = month->level.likely >= RIG_MAINTAINS;
		bars[i] = (rig_bar){.label = RIG_MONTH_SHORT[i],
			.value = span_of(month->harvest_wh_day),
			.state = sure     ? RIG_BAR_HOLDS
				 : likely ? RIG_BAR_CLOSE
					  : RIG_BAR_FAILS,
			.note = ""};
		standing[i] = span_of(bank->standing_wh_day);
		use[i] = span_of(month->use_wh_day);
	}
	const rig_line lines[] = {
		{"standing draw", 12, NULL, standing, true}, {"daily use", 12, NULL, use, true}};
	const bool used = rig_figure_given(bank->use_wh_day) &&
			  bank->use_wh_day.likely > bank->standing_wh_day.likely;
	const rig_chart chart = {.kind = RIG_CHART_MONTHS,
		.title = "What the sun brings, month by month",
		.quantity =
			rig_said(writer, "harvest at the %s", rig_bank_said(writer, bank->bank)),
		.unit = "Wh a day",
		.state_text = {"", "covers the standing draw", "covers it at likely figures",
			"falls short of it"},
		.n_bars = 12,
		.n_lines = used ? 2 : 1,
		.bars = bars,
		.lines = lines};
	rig_add_chart(writer->document, &chart);
}

static bool is_standing(const rig_rung *rung)
{
	return rung->load < 0 && rung->appliance == NULL;
}

/* "all day", "3 h", "10 min": the day's use that a rung stands for. */
static const char *use_said(rig_writer *writer, double use_h)
{
	if (use_h > 23.5)
		return "all day";
	return use_h < 0.95 ? rig_amount(writer->arena, use_h * 60.0, 2, "min")
			    : rig_amount(writer->arena, use_h, 2, "h");
}

static const char *rung_said(rig_writer *writer, const rig_rung *rung)
{
	if (is_standing(rung))
		return "Standing draw";
	const char *name =
		rung->load >= 0
			? rig_loads_said(writer, rung->load, writer->coach->loads[rung->load].count)
			: rig_measure_label(writer->arena, rung->name, writer->units);
	return rig_said(writer, "%s, %s", name, use_said(writer, rung->use_h_day.likely));
}

/* What the coach lacks for a rung, however much sun there is; NULL if nothing. */
static const char *lack_said(const rig_writer *writer, const rig_rung *rung)
{
	if (!rung->through_inverter)
		return NULL;
	if (!writer->coach->inverter.present)
		return "needs an inverter";
	return rung->inverter_too_small ? "needs a larger inverter" : NULL;
}

/* Marks at most n of the rungs of one kind, evenly from the smallest to the largest. */
static void choose(const rig_solar_bank *bank, bool own, size_t n, bool *chosen)
{
	size_t total = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		const rig_rung *rung = &bank->rungs[i];
		total += !is_standing(rung) && !rung->always_on && (rung->load >= 0) == own;
	}
	size_t seen = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		const rig_rung *rung = &bank->rungs[i];
		if (is_standing(rung) || rung->always_on || (rung->load >= 0) != own)
			continue;
		chosen[i] = total <= n || (n > 1 && (seen * (n - 1)) % (total - 1) < n - 1);
		seen++;
	}
}

/* The months judged in which the sun carries a rung for sure, or may. */
static rig_bar_state sun_state(rig_writer *writer, const rig_solar_findings *findings,
	const rig_rung *rung, const char **note)
{
	bool can[12];
	bool may[12];
	int n_judged = 0;
	int n_can = 0;
	int n_may = 0;
	for (int i = 0; i < 12; i++) {
		const bool judged = is_judged(findings, i);
		can[i] = judged && rung->carried[i] == RIG_CAN;
		may[i] = judged && rung->carried[i] != RIG_CANNOT;
		n_judged += judged;
		n_can += can[i];
		n_may += may[i];
	}
	if (n_can == n_judged) {
		*note = "carried";
		return RIG_BAR_HOLDS;
	}
	if (n_may == 0) {
		*note = "not carried";
		return RIG_BAR_FAILS;
	}
	*note = n_can > 0 ? rig_months_said(writer, can, true)
		: n_may == n_judged
			? "maybe"
			: rig_said(writer, "maybe %s", rig_months_said(writer, may, true));
	return RIG_BAR_CLOSE;
}

static rig_bar_state rung_state(rig_writer *writer, const rig_solar_findings *findings,
	const rig_rung *rung, const char **note)
{
	const rig_bar_state state = sun_state(writer, findings, rung, note);
	const char *lack = lack_said(writer, rung);
	if (lack == NULL || state == RIG_BAR_FAILS)
		return state;
	*note = state == RIG_BAR_HOLDS || strcmp(*note, "maybe") == 0
			? lack
			: rig_said(writer, "%s; then %s", lack, *note);
	return RIG_BAR_CLOSE;
}

static bool any_lack(const rig_writer *writer, const rig_solar_bank *bank, const bool *chosen)
{
	for (size_t i = 0; i < bank->n_rungs; i++) {
		if (chosen[i] && lack_said(writer, &bank->rungs[i]) != NULL)
			return true;
	}
	return false;
}

static void add_ladder_chart(rig_writer *writer, const rig_solar_findings *findings,
	const rig_solar_bank *bank, const char *title)
{
	bool *chosen = rig_arena_take(writer->arena, bank->n_rungs, sizeof *chosen);
	rig_bar *bars = rig_arena_take(writer->arena, bank->n_rungs, sizeof *bars);
	if (chosen == NULL || bars == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	choose(bank, true, MOST_OWN_RUNGS, chosen);
	choose(bank, false, MOST_RUNGS - 1 - MOST_OWN_RUNGS, chosen);
	size_t n = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		const rig_rung *rung = &bank->rungs[i];
		if (!chosen[i] && !is_standing(rung))
			continue;
		const char *note = "";
		const rig_bar_state state = rung_state(writer, findings, rung, &note);
		bars[n++] = (rig_bar){.label = rig_capital(writer, rung_said(writer, rung)),
			.value = span_of(rung->wh_day),
			.state = state,
			.note = note};
	}
	const int worst = bank->worst_month;
	const int best = bank->best_month;
	const double poor = fmax(bank->months[worst].spare_wh_day.likely, 0.0);
	const double good = fmax(bank->months[best].spare_wh_day.likely, 0.0);
	const rig_span poor_span = {poor, poor, poor};
	const rig_span good_span = {good, good, good};
	const rig_line lines[] = {
		{rig_said(writer, "left over in %s", RIG_MONTH[worst]), 1, NULL, &poor_span, true},
		{rig_said(writer, "left over in %s", RIG_MONTH[best]), 1, NULL, &good_span, true}};
	const rig_chart chart = {.kind = RIG_CHART_LADDER,
		.title = title,
		.quantity = "a day's use at the battery",
		.unit = "Wh a day",
		.state_text = {"", "carried",
			any_lack(writer, bank, chosen)
				? "carried in some months, maybe, or with what is missing"
				: "carried in some months, or maybe",
			"not carried"},
		.n_bars = n,
		.n_lines = best == worst ? 1 : 2,
		.bars = bars,
		.lines = lines};
	rig_add_chart(writer->document, &chart);
}

static const char *claim_said(rig_solar_claim claim)
{
	switch (claim) {
	case RIG_CLAIM_FROM_SIZE:
		return "worked out from the size of the glass; no label was read";
	case RIG_CLAIM_PLAUSIBLE:
		return "the watts fit the measured size and the label";
	case RIG_CLAIM_TOO_DENSE:
		return "more watts than glass of that size can give: the claim cannot be right";
	case RIG_CLAIM_TOO_SPARSE:
		return "far fewer watts than glass of that size gives: watts or size are misread";
	case RIG_CLAIM_LABEL_DIFFERS:
		return "volts times amps on the label do not give the watts claimed";
	default:
		return "";
	}
}

static void add_array_facts(rig_writer *writer, const rig_solar_findings *findings)
{
	for (size_t i = 0; i < findings->n_arrays; i++) {
		const rig_solar_array *array = &findings->arrays[i];
		const rig_array *row = &writer->coach->arrays[array->array];
		const char *name = row->name != NULL ? row->name : row->id;
		const char *claim = claim_said(array->claim);
		rig_add_fact(writer->document, rig_said(writer, "Solar: %s", name),
			rig_said(writer, "%s on %s%s%s%s",
				rig_amount_full(writer->arena, array->total_w, "W"),
				array->bank < 0 ? "no battery that is listed" : "the ",
				array->bank < 0 ? "" : rig_bank_said(writer, array->bank),
				claim[0] == '\0' ? "" : "; ", claim),
			array->claim == RIG_CLAIM_FROM_SIZE ? ""
							    : rig_origin_said(array->total_w.from));
	}
}

static void add_standing_fact(rig_writer *writer, const rig_solar_bank *bank)
{
	enum { MOST = 4 };
	const char *names[MOST];
	size_t n = 0;
	for (; n < bank->n_standing && n < MOST; n++) {
		const rig_standing_item *item = &bank->standing[n];
		const char *name = item->kind == RIG_STANDING_INVERTER ? "inverter on, no load"
				   : item->kind == RIG_STANDING_SELF_DISCHARGE ? "self-discharge"
				   : item->name != NULL                        ? item->name
							: rig_load_said(writer, item->load);
		names[n] = rig_said(writer, "%s %s", name,
			rig_amount(writer->arena, item->wh_day.likely, 2, ""));
	}
	rig_add_fact(writer->document,
		rig_said(writer, "Standing draw, %s", rig_role_said(bank->role)),
		rig_said(writer, "%s a day%s%s%s",
			rig_amount_full(writer->arena, bank->standing_wh_day, "Wh"),
			n == 0 ? "" : ": ", rig_joined(writer, n, names, MOST),
			bank->n_standing > MOST ? ", and smaller ones" : ""),
		"");
}

/* "170 (110 to 280) in Dec"; "320 (130 or more) in Dec" where the search ended before the high end.
 */
static const char *need_said(
	rig_writer *writer, const rig_solar_bank *bank, rig_figure watts_w, int month)
{
	if (!rig_figure_given(watts_w))
		return bank->months[month].bank_too_small ? "no panel helps" : "out of reach";
	const char *range = watts_w.high >= RIG_SOLAR_SEARCH_MAX_W
				    ? rig_said(writer, "%s (%s or more)",
					      rig_amount(writer->arena, watts_w.likely, 2, ""),
					      rig_amount(writer->arena, watts_w.low, 2, ""))
				    : rig_amount_full(writer->arena, watts_w, "");
	return rig_said(writer, "%s in %s", range, RIG_MONTH_SHORT[month]);
}

static void add_needs_table(rig_writer *writer, const rig_solar_bank *bank)
{
	static const char *const MEANS[] = {"", "Maintains: covers the standing draw",
		"Extends: the stay lasts longer", "Carries: 95 of 100 stays never run out"};
	const char *cells[RIG_N_SOLAR_LEVELS * NEED_COLUMNS];
	size_t n_rows = 0;
	int worst = -1;
	int best = -1;
	for (size_t i = RIG_MAINTAINS; i < bank->n_needs && i < RIG_N_SOLAR_LEVELS; i++) {
		const rig_solar_need *need = &bank->needs[i];
		const char **row = &cells[n_rows++ * NEED_COLUMNS];
		row[0] = MEANS[i];
		row[1] = need->reached ? "yes" : "no";
		row[2] = need_said(writer, bank, need->worst_w, need->worst_month);
		row[3] = need_said(writer, bank, need->best_w, need->best_month);
		worst = need->worst_month;
		best = need->best_month;
	}
	if (n_rows == 0)
		return;
	const rig_column columns[NEED_COLUMNS] = {{"level", "", RIG_ALIGN_LEFT},
		{"reached", "", RIG_ALIGN_LEFT},
		{"panel for the hardest month", "W", RIG_ALIGN_RIGHT},
		{"for the easiest month", "W", RIG_ALIGN_RIGHT}};
	const rig_table table = {rig_said(writer, "Panel watts that each level takes, %s",
					 rig_bank_said(writer, bank->bank)),
		worst == best ? NEED_COLUMNS - 1 : NEED_COLUMNS, n_rows, columns, cells};
	if (worst == best)
		for (size_t i = 1; i < n_rows; i++)
			for (size_t j = 0; j < NEED_COLUMNS - 1; j++)
				cells[i * (NEED_COLUMNS - 1) + j] = cells[i * NEED_COLUMNS + j];
	rig_add_table(writer->document, &table);
}

/* Where no panel helps, the bank is what has to grow. */
static void add_too_small(
	rig_writer *writer, const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	bool belongs[12];
	int n = 0;
	for (int i = 0; i < 12; i++) {
		belongs[i] = is_judged(findings, i) && bank->months[i].bank_too_small;
		n += belongs[i];
	}
	if (n > 0)
		rig_add_paragraph(writer->document,
			"\"Extends\" in %s: no panel helps. However much of it is on the roof, the "
			"%s is empty before the morning, or cannot take the charge as fast as the "
			"sun brings it. A larger battery or less use at night comes first.",
			rig_months_said(writer, belongs, false), rig_bank_said(writer, bank->bank));
}

static bool carries_any(const rig_solar_findings *findings, const rig_solar_bank *bank)
{
	for (size_t i = 0; i < bank->n_rungs; i++) {
		for (int month = 0; month < 12; month++) {
			if (is_judged(findings, month) &&
				bank->rungs[i].carried[month] != RIG_CANNOT)
				return true;
		}
	}
	return false;
}

/* What the panels could do for the house battery if they fed it. */
static void add_moved(rig_writer *writer, const rig_solar_findings *findings)
{
	const rig_solar_bank *moved = findings->moved;
	const int worst = moved->worst_month;
	rig_add_paragraph(writer->document,
		"If every panel fed the house battery instead, the finding there would be: %s. In "
		"%s it would bring %s a day against a standing draw of %s a day.%s",
		LEVEL_SAID[moved->overall.likely], RIG_MONTH[worst],
		rig_amount_range(writer->arena, moved->months[worst].harvest_wh_day, "Wh"),
		rig_amount_full(writer->arena, moved->standing_wh_day, "Wh"),
		carries_any(findings, moved) ? "" : " It could carry no load at all.");
	if (moved->n_rungs > 1 && carries_any(findings, moved))
		add_ladder_chart(
			writer, findings, moved, "What it could carry if it fed the house battery");
}

void rig_solar_figures(rig_writer *writer, const rig_solar_findings *findings)
{
	rig_add_heading(writer->document, 2, "Solar at %s", findings->place.name);
	rig_tell_more(writer, RIG_PART_SOLAR);
	add_array_facts(writer, findings);
	const rig_solar_bank *bank = main_bank(findings);
	for (size_t i = 0; i < findings->n_banks; i++)
		add_standing_fact(writer, &findings->banks[i]);
	if (bank == NULL)
		return;
	add_months_chart(writer, bank);
	if (bank->n_rungs > 1)
		add_ladder_chart(writer, findings, bank,
			"What that can carry, each alone on top of the standing draw");
	add_needs_table(writer, bank);
	add_too_small(writer, findings, bank);
	if (findings->moved != NULL)
		add_moved(writer, findings);
}

void rig_solar_next(rig_writer *writer, const rig_solar_findings *findings)
{
	const rig_solar_bank *bank = main_bank(findings);
	if (bank == NULL)
		return;
	size_t most = RIG_MEASURE_SHOWN;
	if (!bank->contributes_to_house) {
		rig_ask(writer, RIG_ASK_DECIDES,
			"Ask which battery the panel charges, and follow its "
			"wires: the answer rests on that.");
		most--;
	}
	rig_ask_measures(writer, "what the sun leaves over",
		bank->n_measures < most ? bank->n_measures : most, bank->measures);
}

void rig_solar_assumptions(rig_writer *writer, const rig_solar_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document,
		"Sun and air of %s, month by month. One year's month differs from the mean by "
		"about %s "
		"percent.",
		findings->place.name,
		rig_amount(writer->arena, findings->year_scatter_frac * 100.0, 2, ""));
	const char *record = rig_record_said(&findings->place);
	if (record != NULL)
		rig_add_item(document, "For %s, %s.", findings->place.name, record);
	rig_add_item(document,
		"\"Falls short\", \"maintains\", \"extends\" and \"carries\": less than "
		"the standing draw; at least that; at least one day and a quarter longer "
		"from a full battery; at least 95 of 100 stays never run out.");
	rig_add_item(document,
		"The array stands in the open, with the shade and the losses given for "
		"it; trees and buildings are not known to this sheet.");
}

void rig_solar_cautions(rig_writer *writer, const rig_solar_findings *findings)
{
	(void)findings;
	rig_battery_cautions(writer);
}
