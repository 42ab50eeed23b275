/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was claimed, and what the figures say to it. */
#include <math.h>

#include "rigbudget/shore.h"
#include "writer.h"

enum { MOST_NAMED = 4 };

static const rig_claim *claim_of(const rig_writer *writer, const rig_claim_finding *finding)
{
	return &writer->coach->claims[finding->claim];
}

static const char *amount(rig_writer *writer, rig_figure figure, const char *unit)
{
	return rig_amount_full(writer->arena, figure, unit);
}

/* The months of a kind: those in which it holds for sure, may hold, cannot. */
static const char *months_said(
	rig_writer *writer, const rig_claim_finding *finding, rig_carried holds)
{
	bool belongs[12];
	int n = 0;
	for (int m = 0; m < 12; m++) {
		belongs[m] = finding->months[m].judged && finding->months[m].holds == holds;
		n += belongs[m];
	}
	return n == 0 ? NULL : rig_months_said(writer, belongs, false);
}

static const char *lacking_said(rig_writer *writer, const rig_claim_finding *finding)
{
	const char **names = rig_arena_take(writer->arena, finding->n_lacking, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < finding->n_lacking; i++)
		names[i] = rig_load_said(writer, finding->lacking[i]);
	return rig_joined(writer, finding->n_lacking, names, MOST_NAMED);
}

/* ---- the verdict ---- */

static const char *only_if_said(rig_writer *writer, const rig_claim_finding *finding)
{
	const char *sure = months_said(writer, finding, RIG_CAN);
	if (sure != NULL)
		return rig_said(writer, "It holds only in %s.", sure);
	const bool brief_runs = (finding->reasons & RIG_CLAIM_SHORT_RUNS) != 0;
	if (finding->reasons & RIG_CLAIM_ONLY_ALONE)
		return brief_runs ? "It holds only with nothing else on, and for less than three "
				    "hours at a time."
				  : "It holds only with nothing else on.";
	return brief_runs ? "It holds only for less than three hours at a time."
			  : "It holds under conditions only.";
}

static const char *open_said(rig_writer *writer, const rig_claim_finding *finding)
{
	const char *sure = months_said(writer, finding, RIG_CAN);
	const char *what = finding->n_measures == 0
				   ? NULL
				   : rig_measure_name_said(writer, &finding->measures[0]);
	const bool by_weather = finding->weather_frac > 0.5;
	if (by_weather)
		return sure == NULL ? "It depends on the weather of the stay."
				    : rig_said(writer,
					      "It holds in %s; in other months it depends on the "
					      "weather of the stay.",
					      sure);
	if (what == NULL)
		return "It cannot be said from these figures.";
	return sure == NULL
		       ? rig_said(writer, "It cannot be told yet: first measure %s.", what)
		       : rig_said(writer, "It holds in %s. For other months, first measure %s.",
				 sure, what);
}

static const char *verdict_said(rig_writer *writer, const rig_claim_finding *finding)
{
	switch (finding->answer) {
	case RIG_CLAIM_HOLDS:
		return (finding->reasons & RIG_CLAIM_BY_LABEL) ? "It agrees with the label."
							       : "It holds.";
	case RIG_CLAIM_HOLDS_IF:
		return only_if_said(writer, finding);
	case RIG_CLAIM_OPEN:
		return open_said(writer, finding);
	case RIG_CLAIM_FAILS:
		return "It does not hold.";
	case RIG_CLAIM_NOT_JUDGED:
	case RIG_N_CLAIM_ANSWERS:
		break;
	}
	return "It was not judged.";
}

/* Where there are several batteries the verdict says of which it speaks. */
static const char *whole_verdict_said(rig_writer *writer, const rig_claim_finding *finding)
{
	const char *verdict = verdict_said(writer, finding);
	if (claim_of(writer, finding)->says != RIG_SAYS_SUN_HOLDS || finding->bank < 0 ||
		writer->coach->n_banks < 2)
		return verdict;
	/* every verdict begins with "It" */
	return rig_said(
		writer, "For the %s: it%s", rig_bank_said(writer, finding->bank), verdict + 2);
}

/* ---- why ---- */

static void add_elsewhere(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_coach *coach = writer->coach;
	const int fed = coach->arrays[0].bank_index;
	const bool by_engine = coach->banks[fed].role == RIG_CHASSIS;
	if (by_engine && coach->banks[finding->bank].role != RIG_CHASSIS)
		rig_buffer_add(words, " The solar charges the chassis (starting) battery and gives "
				      "nothing to the house.");
	else
		rig_buffer_format(words, " The solar charges the %s and gives nothing to the %s.",
			rig_bank_said(writer, fed), rig_bank_said(writer, finding->bank));
}

static void add_arrays(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	if (finding->reasons & RIG_CLAIM_NO_ARRAY)
		rig_buffer_add(words, writer->coach->n_arrays == 0
					      ? " The coach has no solar panel."
					      : " There is no solar panel on that battery.");
	if (finding->reasons & RIG_CLAIM_ARRAY_ELSEWHERE)
		add_elsewhere(writer, words, finding);
}

static void add_obstacles(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const uint32_t why = finding->reasons;
	const rig_claim_says says = claim_of(writer, finding)->says;
	if (why & RIG_CLAIM_NO_PLACE)
		rig_buffer_add(words, " The sun depends on the place, and nobody says where the "
				      "coach stands: give a place.");
	if (why & RIG_CLAIM_NO_BANK)
		rig_buffer_add(words, " There is no house battery to live on.");
	add_arrays(writer, words, finding);
	if (why & RIG_CLAIM_NO_SOURCE)
		rig_buffer_add(words, " The coach has no such source.");
	if (why & RIG_CLAIM_NO_FIGURE)
		rig_buffer_add(words, " The file has no figure to hold against it.");
	if (why & RIG_CLAIM_OVER_GLASS)
		rig_buffer_add(words, " That is more than glass of the measured size can give.");
	if (finding->n_lacking == 0)
		return;
	const char *names = lacking_said(writer, finding);
	if (why & RIG_CLAIM_DEAD)
		rig_buffer_format(
			words, " There these are dead for want of a second hot wire: %s.", names);
	else if (why & RIG_CLAIM_LOADS_LEFT_OUT)
		rig_buffer_format(words, " That is without what needs hookups: %s.", names);
	else if (why & RIG_CLAIM_NO_INVERTER)
		rig_buffer_format(
			words, " It would take an inverter, and there is none: %s.", names);
	else if (why & RIG_CLAIM_INVERTER_SMALL)
		rig_buffer_format(words, " More than the inverter is rated for: %s.", names);
	else if (says == RIG_SAYS_SUPPLY)
		rig_buffer_format(words, " It does not feed: %s.", names);
	else
		rig_buffer_format(words, " No inverter feeds: %s.", names);
}

/* A panel on the chassis battery alone holds no house battery, whatever was meant. */
static void add_other_bank(
	const rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_coach *coach = writer->coach;
	bool house = false, house_fed = false;
	for (size_t i = 0; i < coach->n_banks; i++)
		house = house || coach->banks[i].role != RIG_CHASSIS;
	for (size_t i = 0; i < coach->n_arrays; i++)
		house_fed = house_fed ||
			    (coach->arrays[i].bank_index >= 0 &&
				    coach->banks[coach->arrays[i].bank_index].role != RIG_CHASSIS);
	if (finding->bank >= 0 && coach->banks[finding->bank].role == RIG_CHASSIS && house &&
		!house_fed)
		rig_buffer_add(words, " Of the house battery it does not hold: no solar charges "
				      "that.");
}

static void add_start(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	if (finding->start_load < 0)
		return;
	const char *name = rig_load_said(writer, finding->start_load);
	if (finding->reasons & RIG_CLAIM_START_FAILS)
		rig_buffer_format(words, " The start of \"%s\" asks for more than it gives.", name);
	else if (finding->reasons & RIG_CLAIM_START_OPEN)
		rig_buffer_format(words,
			" Running is one thing, starting another: whether \"%s\" starts beside the "
			"rest hangs on the volts and on its start amps.",
			name);
}

static const char *supply_said(const rig_claim *claim)
{
	static const char *const SAID[] = {
		"", "50 A", "30 A", "20 A", "15 A", "the generator", "the inverter"};
	return SAID[claim->supply];
}

static const char *element_said(rig_writer *writer, const rig_claim_finding *finding)
{
	if (finding->set_element == RIG_SHORE_CIRCUIT && finding->set_index >= 0)
		return rig_said(
			writer, "the circuit \"%s\"", rig_circuit_said(writer, finding->set_index));
	if (finding->set_element == RIG_SHORE_LEG)
		return "the fuller leg";
	return finding->set_element == RIG_SHORE_NEUTRAL ? "the neutral" : "the hot wire";
}

static void add_supply(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_claim *claim = claim_of(writer, finding);
	if (!rig_figure_given(finding->needs))
		return;
	rig_buffer_format(words, " On %s they load %s to %s%s; its limit is %s.",
		supply_said(claim), element_said(writer, finding),
		amount(writer, finding->needs, "A"),
		claim->supply < RIG_CLAIMED_GENERATOR
			? ", what runs three hours or more counted at 125 percent"
			: "",
		amount(writer, finding->has, "A"));
}

/* What stands beside the loads of the claim, and what all of it would take. */
static void add_beside(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	if (claim_of(writer, finding)->says != RIG_SAYS_SUPPLY || !rig_figure_given(finding->needs))
		return;
	if (finding->reasons & RIG_CLAIM_ONLY_ALONE)
		rig_buffer_add(words, " That is without the battery charger and what is always on; "
				      "with them it is too much.");
	if (finding->answer == RIG_CLAIM_HOLDS || finding->smallest_supply < 0)
		return;
	rig_buffer_format(words, " With what always draws they need %s.",
		rig_supply_at((size_t)finding->smallest_supply)->label);
}

/* The search for watts stops somewhere: an end that stands there is none. */
static const char *panel_need_said(rig_writer *writer, rig_figure need_w)
{
	if (need_w.high < RIG_SOLAR_SEARCH_MAX_W)
		return rig_amount_range(writer->arena, need_w, "W");
	return rig_said(writer, "%s, and at least %s,",
		rig_amount(writer->arena, need_w.likely, 2, "W"),
		rig_amount(writer->arena, need_w.low, 2, "W"));
}

/* What is drawn and what the sun brings, in the worst month and the best. */
static void add_sun(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const int worst = finding->worst_month;
	const int best = finding->best_month;
	const rig_claim *claim = claim_of(writer, finding);
	if (worst < 0)
		return;
	const bool absent = finding->months[best].has.high <= 0;
	rig_buffer_format(words, " %s %s a day, %s.",
		claim->says == RIG_SAYS_SUN_HOLDS ? rig_said(writer, "Standing still the %s loses",
							    rig_bank_said(writer, finding->bank))
						  : "It asks the battery for",
		amount(writer, finding->needs, "Wh"),
		claim->says == RIG_SAYS_SUN_HOLDS ? "with everything switched off"
						  : "what always draws included");
	if (!absent) {
		rig_buffer_format(words, " %s brings %s on a mean day in %s",
			finding->reasons & RIG_CLAIM_ARRAY_ELSEWHERE
				? "Even on the house battery the solar"
				: "The solar",
			rig_amount_range(writer->arena, finding->months[worst].has, "Wh"),
			RIG_MONTH[worst]);
		if (best != worst)
			rig_buffer_format(words, " and %s in %s",
				rig_amount_range(writer->arena, finding->months[best].has, "Wh"),
				RIG_MONTH[best]);
		rig_buffer_add(words, ".");
	}
	if (finding->answer != RIG_CLAIM_HOLDS && rig_figure_given(finding->panel_need_w))
		rig_buffer_format(words,
			" In %s it would take about %s of panel on the same mounting%s.",
			RIG_MONTH[worst], panel_need_said(writer, finding->panel_need_w),
			finding->reasons & (RIG_CLAIM_ARRAY_ELSEWHERE | RIG_CLAIM_NO_ARRAY)
				? ", wired to that battery"
				: "");
}

static const char *share_said(rig_writer *writer, double out_frac)
{
	return rig_amount(writer->arena, round(100.0 * (1.0 - out_frac)), 3, "");
}

static void add_span(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_claim *claim = claim_of(writer, finding);
	const int worst = finding->worst_month;
	const int best = finding->best_month;
	if (worst < 0)
		return;
	if (claim->says == RIG_SAYS_HOURS) {
		rig_buffer_format(words, " From a full battery they run for %s%s.",
			rig_amount_range(writer->arena, finding->months[worst].has, "hours"),
			best == worst ? "" : rig_said(writer, " in %s", RIG_MONTH[worst]));
		return;
	}
	rig_buffer_format(words, " From a full battery the use lasts %s in %s",
		rig_days_said(writer, finding->months[worst].has, RIG_TRIP_DAYS_MAX),
		RIG_MONTH[worst]);
	const bool never = finding->months[best].out_frac.likely >= 1.0;
	rig_buffer_format(words, ", in mean weather; of 100 such stays %s get through",
		never ? "none" : share_said(writer, finding->months[worst].out_frac.likely));
	if (never)
		rig_buffer_add(words, best == worst ? "" : ", in any month");
	else if (best != worst)
		rig_buffer_format(words, ", in %s %s", RIG_MONTH[best],
			share_said(writer, finding->months[best].out_frac.likely));
	rig_buffer_add(words, ".");
}

static void add_label(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_claim *claim = claim_of(writer, finding);
	static const char *const UNIT[RIG_N_SAYS] = {[RIG_SAYS_PANEL_W] = "W",
		[RIG_SAYS_USABLE_WH] = "Wh",
		[RIG_SAYS_CAPACITY_AH] = "Ah"};
	const char *unit = UNIT[claim->says];
	if (!rig_figure_given(finding->has))
		return;
	rig_buffer_format(words, " By the coach's own figures it is %s; %s is claimed.",
		amount(writer, finding->has, unit),
		rig_amount(writer->arena, finding->needs.likely, 3, unit));
	if (finding->reasons & RIG_CLAIM_BY_LABEL)
		rig_buffer_add(words, " Nobody has measured it.");
}

static void add_months(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const char *sure = months_said(writer, finding, RIG_CAN);
	const char *may = months_said(writer, finding, RIG_MAY);
	const char *cannot = months_said(writer, finding, RIG_CANNOT);
	const bool one = (sure != NULL) + (may != NULL) + (cannot != NULL) < 2;
	if (one)
		return;
	if (finding->supposed) {
		rig_buffer_format(words, " So supposed it %s in %s.",
			sure != NULL ? "would hold" : "might hold", sure != NULL ? sure : may);
		return;
	}
	if (may != NULL)
		rig_buffer_format(words, " In %s it hangs on figures that are in doubt.", may);
	if (cannot != NULL)
		rig_buffer_format(words, " In %s it does not hold.", cannot);
}

static void add_places(rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	const rig_claim_places *places = &finding->places;
	if (places->n == 0 || (finding->supposed && places->n_none == places->n))
		return;
	if (places->n_none == places->n) {
		rig_buffer_format(words, " It is so at every one of the %s places of the table.",
			rig_amount(writer->arena, (double)places->n, 4, ""));
		return;
	}
	rig_buffer_format(words,
		" Elsewhere, on mean days%s: of the %s places of the table it holds at %s in "
		"every month asked about, at %s in none.",
		finding->supposed ? " and so supposed" : "",
		rig_amount(writer->arena, (double)places->n, 4, ""),
		rig_amount(writer->arena, (double)places->n_all, 4, ""),
		rig_amount(writer->arena, (double)places->n_none, 4, ""));
}

static void add_main_figures(
	rig_writer *writer, rig_buffer *words, const rig_claim_finding *finding)
{
	switch (claim_of(writer, finding)->says) {
	case RIG_SAYS_SUPPLY:
		add_supply(writer, words, finding);
		break;
	case RIG_SAYS_SUN_RUNS:
	case RIG_SAYS_SUN_HOLDS:
		add_sun(writer, words, finding);
		break;
	case RIG_SAYS_DAYS:
	case RIG_SAYS_HOURS:
		add_span(writer, words, finding);
		break;
	default:
		add_label(writer, words, finding);
		break;
	}
}

/* What stands in the way comes first; where nothing does, the figures. A shop reads both in the
 * evidence. */
static rig_telling tell_claim(rig_writer *writer, const rig_claim_finding *finding)
{
	rig_telling telling = {0};
	const bool for_shop = writer->sheet && writer->reader == RIG_FOR_SHOP;
	rig_buffer *first = for_shop ? &telling.more : &telling.first;
	/* loads left out are a condition of the figures, and in nobody's way */
	if (finding->reasons == RIG_CLAIM_LOADS_LEFT_OUT)
		add_main_figures(writer, first, finding);
	const bool told = first->length > 0;
	add_obstacles(writer, told ? &telling.more : first, finding);
	if (claim_of(writer, finding)->says == RIG_SAYS_SUN_HOLDS)
		add_other_bank(writer, first, finding);
	if (!told)
		add_main_figures(writer, first->length > 0 ? &telling.more : first, finding);
	add_beside(writer, &telling.more, finding);
	add_start(writer, &telling.more, finding);
	add_months(writer, &telling.more, finding);
	add_places(writer, &telling.more, finding);
	return telling;
}

void rig_claim_answers(rig_writer *writer, const rig_claim_findings *findings)
{
	for (size_t i = 0; i < findings->n_claims; i++) {
		const rig_claim_finding *finding = &findings->claims[i];
		const rig_claim *claim = claim_of(writer, finding);
		rig_telling telling = tell_claim(writer, finding);
		const char *who = claim->who == NULL ? "" : rig_said(writer, " (%s)", claim->who);
		rig_tell(writer, RIG_PART_CLAIMS,
			rig_said(writer, "Claimed%s: \"%s\"", who, claim->text),
			whole_verdict_said(writer, finding), &telling);
	}
	writer->more[RIG_PART_CLAIMS] = NULL;
}

void rig_claim_more(rig_writer *writer, const rig_claim_findings *findings)
{
	if (!writer->sheet)
		return;
	rig_add_list(writer->document, "");
	for (size_t i = 0; i < findings->n_claims; i++) {
		rig_telling telling = tell_claim(writer, &findings->claims[i]);
		const char *more = rig_said_buffer(writer, &telling.more);
		rig_buffer_free(&telling.first);
		if (more[0] != '\0')
			rig_add_item(writer->document, "\"%s\":%s",
				claim_of(writer, &findings->claims[i])->text, more);
	}
}

void rig_claim_next(rig_writer *writer, const rig_claim_findings *findings)
{
	for (size_t i = 0; i < findings->n_claims; i++) {
		const rig_claim_finding *finding = &findings->claims[i];
		if (finding->answer == RIG_CLAIM_HOLDS)
			continue;
		if (finding->reasons & RIG_CLAIM_ARRAY_ELSEWHERE)
			rig_ask(writer, RIG_ASK_DECIDES,
				"Ask which battery the panel charges, and follow its wires: the "
				"answer rests on that.");
		const size_t most = findings->n_claims > 1 ? 1 : RIG_MEASURE_SHOWN;
		if (finding->answer == RIG_CLAIM_OPEN)
			rig_ask_measures(writer,
				rig_said(writer, "\"%s\"", claim_of(writer, finding)->text),
				finding->n_measures < most ? finding->n_measures : most,
				finding->measures);
	}
}

void rig_claim_assumptions(rig_writer *writer, const rig_claim_findings *findings)
{
	(void)findings;
	rig_document *document = writer->document;
	rig_add_item(document,
		"A claim holds if it does at the poor ends of all figures, and fails if it does "
		"at neither end; in between, something must be measured first.");
	rig_add_item(document,
		"For claims of solar and of days every bank is full at the start, and generator, "
		"alternator and shore power do nothing.");
	rig_add_item(document,
		"\"On solar\": the mean day of the month brings what is asked for, and of 100 "
		"stays of %d days at least %.0f never run out.",
		RIG_CLAIM_STAY_DAYS, 100.0 * RIG_SOLAR_CARRIES_FRAC);
}

void rig_claim_cautions(rig_writer *writer, const rig_claim_findings *findings)
{
	(void)findings;
	rig_power_cautions(writer);
	rig_battery_cautions(writer);
}
