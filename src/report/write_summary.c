/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What frames the answers on the first page of a sheet: what was looked at, what it all means,
 * what was assumed, the cautions that weigh most. */
#include <math.h>

#include "rigbudget/everyday.h"
#include "shore_words.h"

enum { MOST_KINDS = 8, MOST_MEANINGS = 4 };

/* "2 batteries", or NULL for none. */
static const char *counted(rig_writer *writer, size_t n, const char *one, const char *many)
{
	return n == 0 ? NULL : rig_said(writer, "%zu %s", n, n == 1 ? one : many);
}

const char *rig_looked_at_said(rig_writer *writer)
{
	const rig_coach *coach = writer->coach;
	const char *const kinds[MOST_KINDS] = {
		coach->cord_a > 0 ? rig_said(writer, "a %d A shore cord", coach->cord_a)
				  : "no shore cord stated",
		counted(writer, coach->n_loads, "load", "loads"),
		counted(writer, coach->n_banks, "battery", "batteries"),
		counted(writer, coach->n_arrays, "solar panel", "solar panels"),
		coach->generator.present ? "a generator" : NULL,
		coach->inverter.present ? "an inverter" : NULL,
		counted(writer, coach->n_readings, "meter reading", "meter readings"),
		counted(writer, coach->n_claims, "claim", "claims")};
	const char *names[MOST_KINDS];
	size_t n = 0;
	for (size_t i = 0; i < MOST_KINDS; i++)
		if (kinds[i] != NULL)
			names[n++] = kinds[i];
	/* a shore cord's own words hold no comma */
	return rig_joined(writer, n, names, n);
}

/* "3 cups of coffee"; NULL for less than one. */
static const char *things_said(rig_writer *writer, double n, const char *one, const char *many)
{
	if (n < 0.95)
		return NULL;
	const char *count = rig_amount(writer->arena, n < 10.0 ? round(n) : n, 2, "");
	return rig_said(writer, "%s %s", count, n < 1.5 ? one : many);
}

const char *rig_everyday_said(rig_writer *writer, double energy_wh)
{
	const rig_everyday like = rig_everyday_of(fmax(energy_wh, 0.0));
	const char *cups = things_said(writer, like.coffee_cups, "cup of coffee", "cups of coffee");
	const char *phones =
		things_said(writer, like.phone_charges, "phone charge", "phone charges");
	if (phones == NULL)
		return "less than one phone charge";
	const char *kept =
		like.refrigerator_h < 1.5
			? rig_amount(writer->arena, like.refrigerator_h * 60, 2, "minutes")
			: rig_amount(writer->arena, like.refrigerator_h, 2, "hours");
	return rig_said(writer, "%s of a household refrigerator, %s%s%s", kept,
		cups == NULL ? "" : cups, cups == NULL ? "" : " or ", phones);
}

/* ---- what it means ---- */

static const char *claims_mean(rig_writer *writer, const rig_claim_findings *claims)
{
	size_t n[RIG_N_CLAIM_ANSWERS] = {0};
	for (size_t i = 0; i < claims->n_claims; i++)
		n[claims->claims[i].answer]++;
	static const struct {
		rig_claim_answer answer;
		const char *one, *many;
	} ROWS[] = {{RIG_CLAIM_FAILS, "does not hold", "do not hold"},
		{RIG_CLAIM_HOLDS_IF, "holds in part", "hold in part"},
		{RIG_CLAIM_OPEN, "must be measured first", "must be measured first"},
		{RIG_CLAIM_NOT_JUDGED, "could not be judged", "could not be judged"},
		{RIG_CLAIM_HOLDS, "holds", "hold"}};
	enum { N_CLAIM_ROWS = sizeof ROWS / sizeof ROWS[0] };
	const char *parts[N_CLAIM_ROWS];
	size_t n_parts = 0, row = 0;
	for (size_t i = 0; i < N_CLAIM_ROWS; i++) {
		if (n[ROWS[i].answer] == 0)
			continue;
		row = i;
		parts[n_parts++] = counted(writer, n[ROWS[i].answer], ROWS[i].one, ROWS[i].many);
	}
	if (claims->n_claims == 1)
		return rig_said(writer, "The one claim checked %s.", ROWS[row].one);
	return rig_said(writer, "Of %s checked, %s.",
		counted(writer, claims->n_claims, "claim", "claims"),
		rig_joined(writer, n_parts, parts, n_parts));
}

static const char *shore_means(rig_writer *writer, const rig_shore_findings *shore)
{
	const rig_shore_set *set = rig_shore_focus_set(shore);
	if (rig_shore_everything(shore)->n_items == 0)
		return NULL;
	const size_t own = rig_shore_own_supply(shore);
	const double own_a = shore->supplies[own].pedestal->breaker_a;
	if (set->budgets[own].verdict > RIG_SHORE_DEPENDS)
		return rig_said(writer, "Even on its own %.0f A you must choose what runs.", own_a);
	size_t last = own;
	for (size_t i = own; i < rig_shore_asked_end(shore); i++)
		if (set->budgets[i].verdict <= RIG_SHORE_DEPENDS)
			last = i;
		else
			break;
	const double last_a = shore->supplies[last].pedestal->breaker_a;
	const char *hope = set->budgets[last].verdict == RIG_SHORE_DEPENDS
				   ? ", if the draws are as expected"
				   : "";
	if (last + 1 >= rig_shore_asked_end(shore))
		return rig_said(writer, "A %.0f A site will do for \"%s\"%s.", last_a,
			rig_shore_set_said(writer, set), hope);
	return rig_said(writer,
		"A %.0f A site will do for \"%s\"%s; on %.0f A you must choose what runs.", last_a,
		rig_shore_set_said(writer, set), hope,
		shore->supplies[last + 1].pedestal->breaker_a);
}

/* The best that it does in any month asked about. */
static rig_solar_level best_level(const rig_solar_findings *solar, const rig_solar_bank *bank)
{
	rig_solar_level best = bank->overall.likely;
	for (int i = 0; i < RIG_SOLAR_MONTHS; i++)
		if ((solar->options.month < 0 || solar->options.month == i) &&
			bank->months[i].level.likely > best)
			best = bank->months[i].level.likely;
	return best;
}

static const char *house_solar_means(rig_solar_level worst, rig_solar_level best)
{
	/* by the level of the worst month, then of the best */
	static const char *const MEANS[RIG_N_SOLAR_LEVELS][RIG_N_SOLAR_LEVELS] = {
		{"Do not leave the battery to the solar alone: plug in for storage.",
			"In its poor months the solar does not hold the battery: plug in for "
			"storage then.",
			"In good months the solar helps you stay; in poor ones it does not even "
			"hold the battery.",
			"In good months you can live on the solar; in poor ones it does not even "
			"hold the battery."},
		{NULL, "The solar keeps the battery up in storage; do not count on it to live on.",
			"In good months the solar helps you stay; in poor ones it only keeps the "
			"battery up.",
			"In good months you can live on the solar; in poor ones it only keeps the "
			"battery up."},
		{NULL, NULL, "The solar buys time away from hookups; it does not replace them.",
			"In good months you can live on the solar; in poor ones it only buys "
			"time."},
		{NULL, NULL, NULL, "The solar can carry the daily use all year."}};
	return MEANS[worst][best];
}

static const char *solar_means(const rig_solar_findings *solar)
{
	if (solar->n_arrays == 0)
		return "There is no solar to count on.";
	if (solar->main_bank < 0)
		return NULL;
	const rig_solar_bank *bank = &solar->banks[solar->main_bank];
	const bool holds = bank->overall.likely > RIG_FALLS_SHORT;
	if (!bank->contributes_to_house)
		return holds ? "Do not count on the solar to live on: it only looks after the "
			       "starting battery."
			     : "Do not count on the solar to live on: it feeds the starting "
			       "battery, and not enough of that.";
	if (holds && solar->options.month >= 0 && bank->overall.likely == RIG_CARRIES)
		return "The solar can carry the daily use in that month.";
	return house_solar_means(bank->overall.likely, best_level(solar, bank));
}

static const char *trip_means(rig_writer *writer, const rig_trip_findings *trip)
{
	if (trip->main_bank < 0)
		return "Without hookups nothing runs: there is no house battery.";
	const rig_figure days = trip->banks[trip->main_bank].days_with_panel;
	if (!rig_figure_given(days) || days.likely >= RIG_TRIP_DAYS_MAX)
		return NULL;
	return rig_said(writer, "Without hookups, plan to charge after %s.",
		rig_days_likely_said(writer, days.likely));
}

void rig_summary_unplaced(rig_writer *writer, const rig_report_findings *findings)
{
	const rig_coach *coach = writer->coach;
	if (findings->solar != NULL || findings->trip != NULL ||
		(coach->n_arrays == 0 && coach->n_banks == 0))
		return;
	rig_add_answer(writer->document,
		coach->n_arrays > 0 ? "\"It comes with solar\": what is that worth?"
				    : "How long does it last without hookups?",
		"That cannot be told: no weather is known for where the coach stands.", "%s",
		"Name a town of the list of places near to it, in the file or with the question, "
		"or give a year of hours of its weather.");
}

void rig_summary_meaning(rig_writer *writer, const rig_report_findings *findings)
{
	static const struct {
		const char *head;
		rig_part order[MOST_MEANINGS];
	} FOR[RIG_N_READERS] = {
		[RIG_FOR_BUYER] = {"What it means for you, the buyer",
			{RIG_PART_CLAIMS, RIG_PART_SOLAR, RIG_PART_SHORE, RIG_PART_TRIP}},
		[RIG_FOR_OWNER] = {"What it means for you, the owner",
			{RIG_PART_TRIP, RIG_PART_SHORE, RIG_PART_SOLAR, RIG_PART_CLAIMS}},
		[RIG_FOR_SHOP] = {"What it means for the work",
			{RIG_PART_SHORE, RIG_PART_SOLAR, RIG_PART_TRIP, RIG_PART_CLAIMS}}};
	const char *meaning[RIG_N_PARTS] = {NULL};
	if (findings->claims != NULL && findings->claims->n_claims > 0)
		meaning[RIG_PART_CLAIMS] = claims_mean(writer, findings->claims);
	if (findings->shore != NULL)
		meaning[RIG_PART_SHORE] = shore_means(writer, findings->shore);
	if (findings->solar != NULL)
		meaning[RIG_PART_SOLAR] = solar_means(findings->solar);
	if (findings->trip != NULL)
		meaning[RIG_PART_TRIP] = trip_means(writer, findings->trip);
	const char *first = NULL;
	rig_buffer rest = {0};
	for (int i = 0; i < MOST_MEANINGS; i++) {
		const char *sentence = meaning[FOR[writer->reader].order[i]];
		if (sentence == NULL)
			continue;
		if (first == NULL)
			first = sentence;
		else
			rig_buffer_format(&rest, "%s%s", rest.length > 0 ? " " : "", sentence);
	}
	const char *more = rig_said_buffer(writer, &rest);
	if (first != NULL)
		rig_add_answer(writer->document, FOR[writer->reader].head, first, "%s", more);
}

/* ---- what it rests on, and what to mind ---- */

static bool is_of_this_coach(rig_origin from)
{
	return from == RIG_FROM_MEASURED || from == RIG_FROM_NAMEPLATE || from == RIG_FROM_STATED;
}

void rig_summary_assumed(rig_writer *writer, const rig_report_findings *findings)
{
	const rig_coach *coach = writer->coach;
	size_t n_own = 0;
	for (size_t i = 0; i < coach->n_loads; i++)
		n_own += is_of_this_coach(coach->loads[i].running_w.from);
	rig_add_list(writer->document, "What was assumed");
	if (coach->n_loads > 0 && n_own == coach->n_loads)
		rig_add_item(writer->document, "The watts of all loads are this coach's own: "
					       "measured, off a label, or stated.");
	else if (coach->n_loads > 0 && n_own == 0)
		rig_add_item(writer->document, "No load was measured or read off a label: all "
					       "watts are usual ones for their kind.");
	else if (coach->n_loads > 0)
		rig_add_item(writer->document,
			"The watts of %zu of %zu loads are this coach's own: measured, off a "
			"label, or stated. The others are usual ones for their kind.",
			n_own, coach->n_loads);
	if (findings->solar != NULL || findings->trip != NULL)
		rig_add_item(writer->document,
			"Days away begin with a full battery, in the weather of the place named "
			"above. One refrigerator takes %.0f W in the mean, one cup of coffee "
			"%.0f Wh, one phone charge %.0f Wh.",
			RIG_EVERYDAY_REFRIGERATOR_W, rig_everyday_cup_wh(), RIG_EVERYDAY_PHONE_WH);
}

void rig_summary_cautions(rig_writer *writer, const rig_report_findings *findings)
{
	rig_add_caution(writer->document, "Cautions: these first, all of them at the end");
	rig_add_item(writer->document,
		"This sheet adds up figures. It has not looked at wires, breakers or the pedestal; "
		"that is work for a licensed electrician, by the code that holds there.");
	rig_add_item(writer->document, "Never put in a larger breaker or fuse to make a load fit: "
				       "it protects the wire behind it.");
	if (findings->solar != NULL || findings->trip != NULL)
		rig_add_item(writer->document,
			"Do not rest a medical device, or the heat in freezing weather, on the "
			"days given here.");
}
