/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

#include <math.h>
#include <string.h>

enum { LOAD_COLUMNS = 4, MOST_LOADS = 8 };

static const char *const QUESTION = "How long does it last without hookups?";

static const rig_trip_bank *main_bank(const rig_trip_findings *findings)
{
	return findings->main_bank < 0 ? NULL : &findings->banks[findings->main_bank];
}

static bool has(const rig_trip_findings *findings, rig_trip_note note)
{
	return (findings->notes & (uint32_t)note) != 0;
}

static bool is_year(const rig_trip_findings *findings)
{
	return findings->options.month < 0;
}

/* "in July at Flagstaff", "over the year of the weather file". */
static const char *when_said(rig_writer *writer, const rig_trip_findings *findings)
{
	const bool file = findings->options.weather != NULL;
	const char *where =
		file ? "by the weather file" : rig_said(writer, "at %s", findings->place.name);
	if (is_year(findings))
		return rig_said(writer, "over a year %s", where);
	return rig_said(writer, "in %s %s", RIG_MONTH[findings->options.month], where);
}

static bool starts_itself(const rig_coach *coach)
{
	return coach->generator.present && coach->generator.auto_start == RIG_YES;
}

/* "14 days", "1 day". */
static const char *stay_said(rig_writer *writer, const rig_trip_findings *findings)
{
	const int n_days = findings->options.n_days;
	return rig_said(writer, "%d day%s", n_days, n_days == 1 ? "" : "s");
}

/* So few trips are told by their number, not as shares. */
enum { FEW_TRIPS = 100 };

/* So many of a hundred. */
static const char *of_hundred_said(rig_writer *writer, double frac)
{
	const double percent = frac * 100.0;
	if (percent <= 0.0)
		return "none";
	if (percent >= 100.0)
		return "all";
	/* what is neither none nor all stays so */
	return rig_said(writer, "about %.0f", fmin(fmax(round(percent), 1.0), 99.0));
}

/* Days alike never empty the bank, but days as they come do: that belongs into the first sentence.
 */
static bool verdict_has_chance(const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	const rig_trip_chance *chance = &findings->chance;
	return chance->n_trips >= FEW_TRIPS && chance->never_out_frac < 1 &&
	       rig_figure_given(bank->days_with_panel) &&
	       bank->days_with_panel.likely >= RIG_TRIP_DAYS_MAX;
}

static const char *holds_but_said(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	const bool of_file = findings->chance.days_from == RIG_DAYS_OF_FILE;
	return rig_said(writer,
		"%s the %s holds out with this use, but in %s %s of 100 stays of %s run out%s.",
		findings->options.weather != NULL ? "Through the file's days as they stand"
						  : "On average days",
		rig_bank_said(writer, bank->bank),
		of_file ? "other orders of its days" : "changing weather",
		of_hundred_said(writer, 1 - findings->chance.never_out_frac),
		stay_said(writer, findings),
		starts_itself(writer->coach) ? ", with the generator off" : "");
}

/* The answer in one sentence. */
static const char *verdict_said(
	rig_writer *writer, const rig_trip_findings *findings, const rig_trip_bank *bank)
{
	if (verdict_has_chance(findings, bank))
		return holds_but_said(writer, findings, bank);
	const rig_figure days = bank->days_with_panel;
	const char *name = rig_bank_said(writer, bank->bank);
	if (!rig_figure_given(days))
		return rig_said(writer, "Nothing that the file lists draws on the %s.", name);
	if (days.low >= RIG_TRIP_DAYS_MAX)
		return rig_said(writer, "With this use the %s does not run out.", name);
	if (days.likely >= RIG_TRIP_DAYS_MAX)
		return rig_said(writer,
			"With this use the %s does not run out, unless the figures are at their "
			"poor "
			"ends.",
			name);
	return rig_said(writer, "It lasts %s from a full %s%s.",
		rig_days_said(writer, days, RIG_TRIP_DAYS_MAX), name,
		starts_itself(writer->coach) ? ", with the generator off" : "");
}

static void add_days(rig_writer *writer, rig_telling *telling, const rig_trip_findings *findings,
	const rig_trip_bank *bank)
{
	const int habit = findings->options.habit;
	rig_buffer_format(&telling->first, "That is %s, with %s.", when_said(writer, findings),
		habit < 0 ? "each load's usual use"
			  : rig_said(writer, "the use \"%s\"", writer->coach->habits[habit].name));
	if (bank->days_with_panel.likely >= RIG_TRIP_DAYS_MAX &&
		bank->days_with_panel.low < RIG_TRIP_DAYS_MAX)
		rig_buffer_format(&telling->more, " At their poor ends it lasts %s.",
			rig_days_said(writer,
				rig_figure_of(bank->days_with_panel.low, RIG_FROM_COMPUTED),
				RIG_TRIP_DAYS_MAX));
	if (bank->n_arrays > 0 && rig_figure_given(bank->days_without_panel))
		rig_buffer_format(&telling->first, " Without the solar: %s.",
			rig_days_said(writer, bank->days_without_panel, RIG_TRIP_DAYS_MAX));
	else if (has(findings, RIG_TRIP_CHASSIS_ARRAY))
		rig_buffer_add(&telling->more,
			" The solar on board charges the chassis battery and adds "
			"nothing to this.");
}

static void add_stay(rig_writer *writer, rig_buffer *words, const rig_trip_findings *findings,
	const rig_trip_bank *bank)
{
	if (bank->short_days == 0) {
		if (bank->days_with_panel.low < findings->options.n_days)
			rig_buffer_format(words,
				" A stay of %s goes through at the likely figures.",
				stay_said(writer, findings));
		return;
	}
	rig_buffer_format(words,
		" In a stay of %s something goes without%s; %s percent of the energy wanted is "
		"missing.",
		stay_said(writer, findings),
		findings->options.n_days == 1 ? ""
		: bank->short_days == findings->options.n_days
			? " on all of them"
			: rig_said(writer, " on %d of them", bank->short_days),
		rig_amount(writer->arena, bank->unmet_frac * 100.0, 2, ""));
}

/* What the stays are made of, and how many there are. */
static const char *stays_said(
	rig_writer *writer, const rig_trip_findings *findings, const char *n_stays)
{
	const char *stay = stay_said(writer, findings);
	switch (findings->chance.days_from) {
	case RIG_DAYS_OF_FILE:
		return rig_said(writer,
			"Of %s such stays of %s, made of the file's own days in other orders,",
			n_stays, stay);
	case RIG_DAYS_LIKE_FILE:
		return rig_said(writer, "Of %s such stays of %s, in weather drawn like the file's,",
			n_stays, stay);
	case RIG_DAYS_OF_PLACE:
		break;
	}
	if (findings->options.weather != NULL)
		return rig_said(writer,
			"The file does not say where it is, or has no direct beam: of %s such "
			"stays of %s in the weather of %s,",
			n_stays, stay, findings->place.name);
	return rig_said(writer, "Weather changes from year to year: of %s such stays of %s,",
		n_stays, stay);
}

static void add_chance(rig_writer *writer, rig_buffer *words, const rig_trip_findings *findings,
	const rig_trip_bank *bank)
{
	const rig_trip_chance *chance = &findings->chance;
	if (chance->n_trips == 0 || verdict_has_chance(findings, bank))
		return;
	const bool few = chance->n_trips < FEW_TRIPS;
	if (chance->n_trips == 1) {
		rig_buffer_format(words,
			" One stay of %s was drawn, and it %s; ask for more trips to know the "
			"chance.",
			stay_said(writer, findings),
			chance->never_out_frac > 0 ? "gets through" : "runs out");
		return;
	}
	const double n_through = chance->never_out_frac * (double)chance->n_trips;
	const char *share = few ? n_through < 0.5 ? "none" : rig_said(writer, "%.0f", n_through)
				: of_hundred_said(writer, chance->never_out_frac);
	const char *n_stays = few ? rig_said(writer, "%zu", chance->n_trips) : "100";
	const bool one = strcmp(share, "about 1") == 0 || strcmp(share, "1") == 0;
	rig_buffer_format(words, " %s %s %s through without running out%s.",
		stays_said(writer, findings, n_stays), share, one ? "goes" : "go",
		findings->generator.n_trips > 0 ? ", with the generator off" : "");
}

static const char *quiet_said(rig_writer *writer)
{
	const rig_generator *it = &writer->coach->generator;
	if (it->quiet_from_hour < 0 || it->quiet_to_hour < 0 ||
		it->quiet_from_hour % 24 == it->quiet_to_hour % 24)
		return "";
	return rig_said(
		writer, ", silent from %d to %d o'clock", it->quiet_from_hour, it->quiet_to_hour);
}

static void add_generator(rig_writer *writer, rig_buffer *words, const rig_trip_findings *findings)
{
	const rig_trip_generator *it = &findings->generator;
	if (it->n_trips == 0)
		return;
	const char *share = of_hundred_said(writer, 1 - it->out_frac.likely);
	rig_buffer_format(words, " With the generator %s%s, %s of 100 %s through",
		it->by_hand ? "started by hand at half charge" : "starting by itself",
		quiet_said(writer), share, strcmp(share, "about 1") == 0 ? "gets" : "get");
	if (it->hours_day < 0.05)
		rig_buffer_format(words, "; it hardly runs.");
	else if (rig_figure_given(it->fuel_l_day))
		rig_buffer_format(words, "; it runs %s a day and burns %s.",
			rig_amount(writer->arena, it->hours_day, 2, "hours"),
			rig_amount_volume_range(writer->arena, it->fuel_l_day, writer->units));
	else
		rig_buffer_format(words, "; it runs %s a day.",
			rig_amount(writer->arena, it->hours_day, 2, "hours"));
}

static const rig_trip_load *best_cut(const rig_trip_findings *findings)
{
	const rig_trip_load *best = NULL;
	for (size_t i = 0; i < findings->n_carried; i++) {
		const rig_trip_load *load = &findings->loads[i];
		if (load->days_gained > (best == NULL ? 0.05 : best->days_gained))
			best = load;
	}
	return best;
}

/* What the stay comes to; where nothing draws, a stay that goes through would mislead. */
static void add_outcome(rig_writer *writer, rig_telling *telling, const rig_trip_findings *findings,
	const rig_trip_bank *bank)
{
	if (!rig_figure_given(bank->days_with_panel)) {
		rig_buffer_add(&telling->first,
			" Lights, a water pump, a furnace's fan and gas detectors draw on it in "
			"most coaches: list them, or the days cannot be told.");
		return;
	}
	add_stay(writer, &telling->more, findings, bank);
	add_chance(writer, &telling->more, findings, bank);
}

void rig_trip_answer(rig_writer *writer, const rig_trip_findings *findings)
{
	const rig_trip_bank *bank = main_bank(findings);
	if (bank == NULL) {
		rig_add_answer(writer->document, QUESTION,
			"No house battery is listed, so nothing runs without hookups.", "%s", "");
		return;
	}
	rig_telling telling = {0};
	add_days(writer, &telling, findings, bank);
	rig_buffer_format(&telling.first, " A full battery gives about %s: %s.",
		rig_amount(writer->arena, bank->usable_wh.likely, 2, "Wh"),
		rig_everyday_said(writer, bank->usable_wh.likely));
	add_outcome(writer, &telling, findings, bank);
	add_generator(writer, &telling.more, findings);
	const rig_trip_load *cut = best_cut(findings);
	if (cut != NULL)
		rig_buffer_format(&telling.more, " What helps most: without \"%s\" it lasts %s.",
			rig_load_said(writer, cut->load),
			rig_days_said(writer, rig_figure_of(cut->days_if_cut, RIG_FROM_COMPUTED),
				RIG_TRIP_DAYS_MAX));
	const char *record = rig_record_said(&findings->place);
	if (record != NULL && findings->options.weather == NULL)
		rig_buffer_format(&telling.more, " For %s, %s.", findings->place.name, record);
	rig_tell(writer, RIG_PART_TRIP, QUESTION, verdict_said(writer, findings, bank), &telling);
}

static void add_loads_table(rig_writer *writer, const rig_trip_findings *findings)
{
	static const rig_column COLUMNS[LOAD_COLUMNS] = {{"load", "", RIG_ALIGN_LEFT},
		{"a day", "Wh", RIG_ALIGN_RIGHT}, {"at the battery", "Wh", RIG_ALIGN_RIGHT},
		{"days gained without it", "", RIG_ALIGN_RIGHT}};
	const char *cells[MOST_LOADS * LOAD_COLUMNS];
	const size_t n = findings->n_carried < MOST_LOADS ? findings->n_carried : MOST_LOADS;
	if (n == 0)
		return;
	/* where no cut gains anything, the column is left out */
	const size_t n_columns = best_cut(findings) == NULL ? LOAD_COLUMNS - 1 : LOAD_COLUMNS;
	for (size_t i = 0; i < n; i++) {
		const rig_trip_load *load = &findings->loads[i];
		const char **row = &cells[i * n_columns];
		row[0] = rig_capital(writer,
			rig_loads_said(writer, load->load, writer->coach->loads[load->load].count));
		row[1] = rig_amount_full(writer->arena, load->wh_day, "");
		row[2] = rig_amount(writer->arena, load->at_bank_wh_day, 2, "");
		if (n_columns == LOAD_COLUMNS)
			row[3] = load->days_gained >= 0.05
					 ? rig_amount(writer->arena, load->days_gained, 2, "")
					 : "under 0.1";
	}
	const rig_table table = {
		n < findings->n_carried
			? rig_said(writer, "Where the energy goes: the %zu largest of %zu loads", n,
				  findings->n_carried)
			: "Where the energy goes",
		n_columns, n, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

static void add_flows(rig_writer *writer, const rig_trip_bank *bank)
{
	const rig_trip_flows_wh_day *flows = &bank->flows;
	rig_document *document = writer->document;
	rig_add_fact(document, "Usable from a full battery",
		rig_amount_full(writer->arena, bank->usable_wh, "Wh"),
		rig_origin_said(bank->usable_wh.from));
	rig_add_fact(document, "Wanted a day, inverter included",
		rig_amount_full(writer->arena, bank->wanted_wh_day, "Wh"), "");
	if (bank->n_arrays > 0)
		rig_add_fact(document, "Solar harvest a day",
			rig_amount_full(writer->arena, bank->harvest_wh_day, "Wh"), "");
	if (flows->inverter_idle > 0.0 && bank->unmet_frac < 0.005)
		rig_add_fact(document, "The inverter itself, a day",
			rig_said(writer, "%s doing nothing, %s lost in converting",
				rig_amount(writer->arena, flows->inverter_idle, 2, "Wh"),
				rig_amount(writer->arena, flows->inverter_loss, 2, "Wh")),
			"");
	if (flows->curtailed > 0.005 * flows->harvest)
		rig_add_fact(document, "Solar left unused, a day",
			rig_said(writer, "%s: the battery was full, or could not take it",
				rig_amount(writer->arena, flows->curtailed, 2, "Wh")),
			"");
}

/* The names of loads that are not carried for one reason. */
static void add_not_carried(
	rig_writer *writer, const rig_trip_findings *findings, rig_away away, const char *why)
{
	const char **names = rig_arena_take(writer->arena, findings->n_loads, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0;
	for (size_t i = 0; i < findings->n_loads; i++) {
		if (findings->loads[i].away == away)
			names[n++] = rig_load_said(writer, findings->loads[i].load);
	}
	if (n > 0)
		rig_add_item(writer->document, "%s: %s.", why, rig_joined(writer, n, names, 12));
}

static void add_all_not_carried(rig_writer *writer, const rig_trip_findings *findings)
{
	if (findings->n_carried == findings->n_loads)
		return;
	rig_add_list(writer->document, "What does not run without hookups");
	add_not_carried(writer, findings, RIG_NEEDS_HOOKUPS, "Needs shore power");
	add_not_carried(writer, findings, RIG_NEEDS_INVERTER, "Needs an inverter");
	add_not_carried(writer, findings, RIG_EXCEEDS_INVERTER, "Too large for the inverter");
	add_not_carried(writer, findings, RIG_HAS_NO_BANK, "Has no battery to draw on");
	add_not_carried(writer, findings, RIG_OFF_IN_HABIT, "Left off in this pattern of use");
}

void rig_trip_figures(rig_writer *writer, const rig_trip_findings *findings)
{
	rig_add_heading(writer->document, 2, "Days without hookups");
	rig_tell_more(writer, RIG_PART_TRIP);
	const rig_trip_bank *bank = main_bank(findings);
	if (bank != NULL) {
		add_flows(writer, bank);
		rig_charge_chart(writer, findings, bank);
		add_loads_table(writer, findings);
		if (!writer->brief)
			rig_many_figures(writer, findings);
	}
	add_all_not_carried(writer, findings);
}

void rig_trip_next(rig_writer *writer, const rig_trip_findings *findings)
{
	if (rig_many_next(writer, findings))
		return;
	const rig_trip_load *widest = NULL;
	for (size_t i = 0; i < findings->n_carried; i++) {
		const rig_trip_load *load = &findings->loads[i];
		const double width = load->wh_day.high - load->wh_day.low;
		if (width > 0.0 &&
			(widest == NULL || width > widest->wh_day.high - widest->wh_day.low))
			widest = load;
	}
	if (widest != NULL)
		rig_ask(writer, RIG_ASK_NARROWS,
			"Find out what \"%s\" uses in a day and for how long it is on: of all "
			"loads away from hookups its range is the widest (%s a day).",
			rig_load_said(writer, widest->load),
			rig_amount_range(writer->arena, widest->wh_day, "Wh"));
	const rig_trip_bank *bank = main_bank(findings);
	if (bank != NULL && bank->usable_wh.high > bank->usable_wh.low)
		rig_ask(writer, RIG_ASK_ALSO,
			"Ask how old the %s is, and have its capacity tested: an old one holds far "
			"less "
			"than its label says.",
			rig_bank_said(writer, bank->bank));
}

static void add_reconnects(rig_writer *writer, const rig_trip_findings *findings)
{
	for (size_t i = 0; i < findings->n_banks; i++) {
		const int bank = findings->banks[i].bank;
		const rig_figure level = writer->coach->banks[bank].reconnect_soc_frac;
		if (rig_figure_given(level))
			rig_add_item(writer->document,
				"Once the switch of the %s has cut the loads off, they stay off "
				"until it is back at %.0f %% of its charge.",
				rig_bank_said(writer, bank), 100.0 * level.likely);
	}
}

/* What the many stays are made of. */
static void add_days_from(rig_writer *writer, const rig_trip_findings *findings)
{
	if (findings->chance.n_trips == 0)
		return;
	if (findings->chance.days_from == RIG_DAYS_OF_FILE)
		rig_add_item(writer->document,
			"The many stays are the file's days in runs of %d, each run from anywhere "
			"in the same month. A coming month that is duller than the file's is not "
			"among them.",
			RIG_REPLAY_RUN_DAYS);
	if (findings->chance.days_from == RIG_DAYS_LIKE_FILE)
		rig_add_item(writer->document,
			"The many stays have days drawn with the mean, the spread and the memory "
			"of the file's; besides, months stray from the file's by about %.0f "
			"percent, as real ones do.",
			100.0 * rig_month_scatter_frac().likely);
}

void rig_trip_assumptions(rig_writer *writer, const rig_trip_findings *findings)
{
	static const struct {
		rig_trip_note note;
		const char *text;
	} SAID[] = {
		{RIG_TRIP_MEAN_WEATHER,
			"Each day is the mean day of its month. Mean days hide runs of "
			"dull ones, so the days come out long; the chance of running "
			"out, where it is given, has them in it."},
		{RIG_TRIP_REAL_YEAR,
			"The weather is one year from a file. Another year differs from it."},
		{RIG_TRIP_NO_CHANCE,
			"The weather file does not say where it is, or has no direct beam, so no "
			"chance of running out is given."},
		{RIG_TRIP_STARTS_FULL, "Every battery is full at the start."},
		{RIG_TRIP_OUTDOOR_BANK,
			"A battery without a stated temperature is as cold or warm as "
			"the air outdoors."},
		{RIG_TRIP_COLD_NO_CHARGE,
			"In some hours a battery is too cold to be charged, and takes nothing."},
		{RIG_TRIP_WINDOWS_BY_RULE,
			"Loads without stated hours run by rule: short use in the "
			"evening, cycling loads all day."},
		{RIG_TRIP_WINDOW_TOO_SHORT, "A load's hours of use do not fit in its window; it "
					    "was spread over the day."},
		{RIG_TRIP_OTHER_SOURCES,
			"Generator and charging by the engine are not counted, but where a line "
			"names them."},
		{RIG_TRIP_BY_WEATHER,
			"Furnace and air conditioner run as long as the weather outside asks; heat "
			"of the sun on the roof is left out."},
		{RIG_TRIP_DRIVES, "On driving days the alternator charges."},
		{RIG_TRIP_FLAT_LIGHT,
			"The weather file has no direct beam, so tilted panels were taken "
			"as flat."},
		{RIG_TRIP_NO_BANK_LOADS,
			"Some loads on direct current draw on no battery and are left "
			"out."},
		{RIG_TRIP_NO_HOUSE_ARRAY, "No solar panel feeds the house battery."},
	};
	for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
		if (has(findings, SAID[i].note))
			rig_add_item(writer->document, "%s", SAID[i].text);
	}
	add_days_from(writer, findings);
	add_reconnects(writer, findings);
	const char *record = rig_record_said(&findings->place);
	if (record != NULL && findings->options.weather == NULL)
		rig_add_item(writer->document, "For %s, %s.", findings->place.name, record);
}

void rig_trip_cautions(rig_writer *writer, const rig_trip_findings *findings)
{
	rig_document *document = writer->document;
	rig_add_item(document, "Do not rest a medical device, or the heat in freezing weather, on "
			       "this forecast. Keep "
			       "a second source.");
	if (has(findings, RIG_TRIP_OTHER_SOURCES) || writer->coach->generator.present)
		rig_generator_caution(writer);
	rig_battery_cautions(writer);
}
