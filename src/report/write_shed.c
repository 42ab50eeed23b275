/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "writer.h"

#include <math.h>

#include "measure.h"
#include "shed_words.h"

enum {
	LOAD_COLUMNS = 4,
	ORDER_COLUMNS = 4,
	MOST_HIT = 3, /* loads named in the answer */
	MOST_NAMES = 8
};

static const char *const QUESTION = "What gets switched off in a day, and does the breaker hold?";
/* Under this many minutes a day nobody notices. */
static const double NOTICED_MINUTES = 1.0;

static bool has(const rig_shed_findings *findings, rig_shed_note note)
{
	return (findings->notes & (uint32_t)note) != 0;
}

const char *rig_shed_supply_said(rig_writer *writer, const rig_shed_findings *findings)
{
	if (findings->inverter)
		return "the inverter";
	if (findings->pedestal == NULL)
		return "the generator";
	return rig_said(writer, "%.0f A", findings->pedestal->breaker_a);
}

const char *rig_shed_days_said(const rig_shed_findings *findings)
{
	static const char *const SAID[] = {"hot days", "mild days", "cold days", "such days"};
	return SAID[findings->options.weather];
}

static const char *day_said(const rig_shed_findings *findings)
{
	static const char *const SAID[] = {"a hot day", "a mild day", "a cold day", "such a day"};
	return SAID[findings->options.weather];
}

/* "about 12 of 100 hot days", "all hot days". */
static const char *share_said(rig_writer *writer, const rig_shed_findings *findings, double frac)
{
	const double percent = round(frac * 100.0);
	if (frac >= 1.0)
		return rig_said(writer, "all %s", rig_shed_days_said(findings));
	if (percent < 1.0)
		return rig_said(writer, "fewer than 1 of 100 %s", rig_shed_days_said(findings));
	return rig_said(
		writer, "about %.0f of 100 %s", fmin(percent, 99.0), rig_shed_days_said(findings));
}

static double trip_days(const rig_shed_findings *findings, rig_breaker_kind kind)
{
	return findings->breaker[kind].days_frac;
}

static const char *breaker_word(const rig_shed_findings *findings)
{
	return findings->inverter ? "its overload protection" : "the breaker";
}

/* What the breaker does, as a clause. */
static const char *breaker_said(rig_writer *writer, const rig_shed_findings *findings)
{
	const double likely = trip_days(findings, RIG_BREAKER_LIKELY);
	const double early = trip_days(findings, RIG_BREAKER_EARLY);
	const double trips = findings->breaker[RIG_BREAKER_LIKELY].trips_day;
	const char *breaker = breaker_word(findings);
	if (likely > 0 && trips >= 1.5)
		return rig_said(writer, "%s trips about %s a day", breaker,
			rig_amount(writer->arena, trips, 2, "times"));
	if (likely > 0)
		return rig_said(writer, "%s trips on %s%s", breaker,
			share_said(writer, findings, likely),
			early < likely + 0.1 ? ""
					     : rig_said(writer, ", a quick one on about %.0f",
						       fmin(round(early * 100.0), 99.0)));
	if (early > 0)
		return rig_said(writer, "%s holds; a quick one trips on %s", breaker,
			share_said(writer, findings, early));
	return rig_said(writer, "%s holds", breaker);
}

/* The answer in one sentence. */
static const char *verdict_said(rig_writer *writer, const rig_shed_findings *findings)
{
	const char *supply = rig_shed_supply_said(writer, findings);
	const char *breaker = breaker_said(writer, findings);
	if (!findings->manager.present)
		return rig_said(writer, "On %s nothing is switched off by itself on %s; %s.",
			supply, day_said(findings), breaker);
	if (findings->days_with_drops_frac <= 0)
		return rig_said(writer, "On %s the energy manager has nothing to do on %s; %s.",
			supply, day_said(findings), breaker);
	if (findings->days_with_drops_frac < 0.95)
		return rig_said(writer,
			"On %s the energy manager switches something off on %s; %s.", supply,
			share_said(writer, findings, findings->days_with_drops_frac), breaker);
	return rig_said(writer, "On %s the energy manager switches things off about %s on %s; %s.",
		supply, rig_amount(writer->arena, findings->drops.mean, 2, "times"),
		day_said(findings), breaker);
}

/* Degree-hours in the reader's degrees. */
static const char *warmth_said(rig_writer *writer, double kelvin_h)
{
	return rig_amount(
		writer->arena, writer->units == RIG_UNITS_US ? kelvin_h * 1.8 : kelvin_h, 2, "");
}

/* What a load lost in comfort: "5.1 degree-hours too warm"; NULL if nothing to speak of. */
static const char *lost_said(rig_writer *writer, const rig_shed_load *load)
{
	const double kelvin_h = load->degree_h_day - load->free_degree_h_day;
	const double litres = load->cold_litres_day - load->free_cold_litres_day;
	if (load->behaviour == RIG_SHED_WATER && litres >= 0.5)
		return rig_said(writer, "%s of the shower water are cold",
			rig_amount_volume(writer->arena, litres, writer->units));
	if (kelvin_h < 0.1)
		return NULL;
	return rig_said(writer, "%s degree-hours too %s", warmth_said(writer, kelvin_h),
		load->behaviour == RIG_SHED_HEATS ? "cold" : "warm");
}

/* The loads that lose most, by their part of the measure, at most MOST_HIT. */
static size_t hardest_hit(const rig_shed_findings *findings, const rig_shed_load *hit[MOST_HIT])
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_loads; i++) {
		const rig_shed_load *load = &findings->loads[i];
		if (load->lost_minutes.mean < NOTICED_MINUTES)
			continue;
		size_t at = n < MOST_HIT ? n++ : MOST_HIT - 1;
		if (at == MOST_HIT - 1 && n == MOST_HIT && hit[at] != NULL &&
			hit[at]->discomfort_day >= load->discomfort_day)
			continue;
		for (; at > 0 && hit[at - 1]->discomfort_day < load->discomfort_day; at--)
			hit[at] = hit[at - 1];
		hit[at] = load;
	}
	return n;
}

static void add_hit(rig_writer *writer, rig_telling *telling, const rig_shed_findings *findings)
{
	const rig_shed_load *hit[MOST_HIT] = {NULL};
	const size_t n = hardest_hit(findings, hit);
	if (n > 0)
		rig_buffer_add(&telling->first, " Wanted but not running, in minutes a day: ");
	for (size_t i = 0; i < n; i++) {
		const char *lost = lost_said(writer, hit[i]);
		const char *name = rig_load_said(writer, hit[i]->load);
		rig_buffer_format(&telling->first, "%s%s %s", i == 0 ? "" : "; ", name,
			rig_amount(writer->arena, hit[i]->lost_minutes.mean, 2, ""));
		if (lost != NULL)
			rig_buffer_format(
				&telling->more, " \"%s\" costs comfort: %s a day.", name, lost);
	}
	rig_buffer_add(&telling->first, n > 0 ? "." : "");
}

/* "first", "second", ... "in place 9". */
static const char *place_said(rig_writer *writer, int rank)
{
	static const char *const SAID[] = {
		"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"};
	return rank < 8 ? SAID[rank] : rig_said(writer, "in place %d", rank + 1);
}

static const char *moves_said(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_buffer words = {0};
	for (size_t i = 0; i < findings->n_moves; i++) {
		const rig_shed_move *move = &findings->moves[i];
		rig_buffer_format(&words, "%s\"%s\" go off %s instead of %s",
			i == 0                       ? "let "
			: i + 1 == findings->n_moves ? " and "
						     : ", ",
			rig_load_said(writer, move->load), place_said(writer, move->to),
			place_said(writer, move->from));
	}
	return rig_said_buffer(writer, &words);
}

/* What to change in the order, in a sentence; "" where there is nothing to say. */
static const char *order_said(rig_writer *writer, const rig_shed_findings *findings)
{
	if (findings->best.n < 2 || findings->drops.mean <= 0)
		return "";
	if (!findings->worth_changing)
		return rig_said(writer,
			"The order in which it drops its %zu loads is as good as any%s.",
			findings->own.n, findings->proved ? "" : " that was tried");
	return rig_said(writer,
		"Change the order in which it drops: %s. By our measure of discomfort a day then "
		"costs %s points instead of %s.",
		moves_said(writer, findings),
		rig_amount(writer->arena, findings->best.discomfort_day, 2, ""),
		rig_amount(writer->arena, findings->own.discomfort_day, 2, ""));
}

static const char *weather_said(rig_writer *writer, const rig_shed_findings *findings)
{
	return rig_said(writer, "%s to %s outdoors",
		rig_amount_temperature(writer->arena, findings->low_c, writer->units),
		rig_amount_temperature(writer->arena, findings->high_c, writer->units));
}

/* "..: water heater and roof unit.", of the loads that are unfed, or dead for another reason. */
static void add_idle(rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings,
	bool unfed, const char *why)
{
	const char **names = rig_arena_take(writer->arena, findings->n_loads, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0;
	for (size_t i = 0; i < findings->n_loads; i++) {
		const rig_shed_load *load = &findings->loads[i];
		if ((load->dead || load->unfed) && load->unfed == unfed && load->load >= 0)
			names[n++] = rig_load_said(writer, load->load);
	}
	if (n > 0)
		rig_buffer_format(words, " %s: %s.", why, rig_joined(writer, n, names, MOST_NAMES));
}

static void add_dead(rig_writer *writer, rig_buffer *words, const rig_shed_findings *findings)
{
	add_idle(writer, words, findings, false, "For want of 240 V it does not run there at all");
	add_idle(writer, words, findings, true,
		findings->generator.auto_start ? "The inverter does not feed these, which wait for "
						 "the generator"
					       : "The inverter does not feed");
}

void rig_shed_answer(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_telling telling = {0};
	add_hit(writer, &telling, findings);
	rig_buffer_format(&telling.more, " Seen over %zu random days, %s.", findings->n_days,
		weather_said(writer, findings));
	if (trip_days(findings, RIG_BREAKER_LIKELY) > 0)
		rig_buffer_add(&telling.more,
			" That is when nobody turns anything down and the breaker is "
			"reset each time.");
	add_dead(writer, &telling.more, findings);
	const char *order = order_said(writer, findings);
	if (order[0] != '\0')
		rig_buffer_format(&telling.more, " %s", order);
	rig_shed_volts_said(writer, &telling.more, findings);
	rig_shed_generator_said(writer, &telling.more, findings);
	if (has(findings, RIG_SHED_CANNOT_HOLD))
		rig_buffer_add(&telling.more,
			" Even with all the power that it asks for the coach does "
			"not stay comfortable all day.");
	rig_tell(writer, RIG_PART_SHED, QUESTION, verdict_said(writer, findings), &telling);
}

const char *rig_shed_hot_said(rig_writer *writer, const rig_shed_findings *findings, int hot)
{
	return findings->n_hots == 1 ? "the hot wire" : rig_said(writer, "leg %d", hot + 1);
}

static void add_manager_facts(rig_writer *writer, const rig_shed_findings *findings)
{
	const rig_shed_manager *manager = &findings->manager;
	rig_document *document = writer->document;
	if (!manager->present) {
		rig_add_fact(document, "Energy manager", "none: the breaker decides", "");
		return;
	}
	rig_add_fact(document, "Energy manager",
		rig_said(writer,
			"keeps %s to %s; acts after %s; what it drops stays off at least %s, a "
			"compressor %s",
			findings->n_hots == 2 ? "each leg" : "the hot wire",
			rig_amount(writer->arena, manager->limit_a, 3, "A"),
			rig_amount(writer->arena, manager->sensing_delay_s, 2, "s"),
			rig_amount(writer->arena, manager->restore_delay_s, 2, "s"),
			rig_amount(writer->arena, manager->minimum_off_s, 2, "s")),
		manager->own_order ? "order as the coach file says"
				   : "order by the loads' priority");
	if (findings->drops.most > 0)
		rig_add_fact(document, "Switched off, a day",
			rig_said(writer, "%s on the mean, at most %s; at most %s in one hour",
				rig_amount(writer->arena, findings->drops.mean, 2, "times"),
				rig_amount(writer->arena, findings->drops.most, 3, ""),
				rig_amount(writer->arena, findings->drops_per_h_most, 3, "")),
			"");
}

const char *rig_shed_span_said(rig_writer *writer, double seconds)
{
	return seconds < 120.0 ? rig_amount(writer->arena, seconds, 2, "s")
			       : rig_amount(writer->arena, seconds / 60.0, 2, "minutes");
}

static void add_amps_facts(rig_writer *writer, const rig_shed_findings *findings)
{
	for (int i = 0; i < findings->n_hots; i++) {
		const rig_shed_hot *hot = &findings->hot[i];
		const char *over = hot->over_s_day < 0.5
					   ? ""
					   : rig_said(writer, "; above %s for %s a day",
						     rig_amount(writer->arena,
							     findings->manager.limit_a, 3, "A"),
						     rig_shed_span_said(writer, hot->over_s_day));
		rig_add_fact(writer->document,
			rig_said(writer, "Amps on %s", rig_shed_hot_said(writer, findings, i)),
			rig_said(writer, "%s at most; 95 %% of the time no more than %s%s",
				rig_amount(writer->arena, hot->peak_a, 2, "A"),
				rig_amount(writer->arena, hot->p95_a, 2, "A"), over),
			"");
	}
}

static const char *one_breaker_said(
	rig_writer *writer, const rig_shed_findings *findings, rig_breaker_kind kind)
{
	const double frac = trip_days(findings, kind);
	return frac <= 0 ? "never" : rig_said(writer, "on %s", share_said(writer, findings, frac));
}

static void add_breaker_fact(rig_writer *writer, const rig_shed_findings *findings)
{
	const double soonest_s = findings->breaker[RIG_BREAKER_EARLY].soonest_trip_s;
	const char *near = !isfinite(soonest_s) || trip_days(findings, RIG_BREAKER_EARLY) > 0
				   ? ""
				   : rig_said(writer,
					     "; the worst overload met would trip a quick one in "
					     "%s if it went on",
					     rig_shed_span_said(writer, soonest_s));
	/* where the usual one trips first, a late one has no time to show what it would do */
	const char *late = trip_days(findings, RIG_BREAKER_LIKELY) > 0 &&
					   trip_days(findings, RIG_BREAKER_LATE) <= 0
				   ? ""
				   : rig_said(writer, "; a slow one %s",
					     one_breaker_said(writer, findings, RIG_BREAKER_LATE));
	rig_add_fact(writer->document,
		rig_said(writer, "%s of %s trips", findings->inverter ? "Inverter" : "Breaker",
			rig_amount(writer->arena,
				findings->breaker[RIG_BREAKER_LIKELY].breaker.rating_a, 3, "A")),
		rig_said(writer, "a usual one %s; a quick one %s%s%s",
			one_breaker_said(writer, findings, RIG_BREAKER_LIKELY),
			one_breaker_said(writer, findings, RIG_BREAKER_EARLY), late, near),
		"");
}

static bool is_hit(const rig_shed_load *load)
{
	return load->drops.most > 0 || load->lost_minutes.mean >= NOTICED_MINUTES / 2;
}

static bool any_felt(rig_writer *writer, const rig_shed_findings *findings)
{
	for (size_t i = 0; i < findings->n_loads; i++) {
		if (lost_said(writer, &findings->loads[i]) != NULL)
			return true;
	}
	return false;
}

/* The cells of one load; what is off nowhere, or costs nobody anything, has no column. */
static size_t put_load(rig_writer *writer, const rig_shed_findings *findings,
	const rig_shed_load *load, const char **row)
{
	size_t n = 0;
	row[n++] = rig_capital(writer, rig_load_said(writer, load->load));
	if (findings->manager.present)
		row[n++] = load->rank < 0 ? "never"
					  : rig_amount(writer->arena, load->drops.mean, 2, "");
	row[n++] = rig_said(writer, "%s (up to %s)",
		rig_amount(writer->arena, load->lost_minutes.mean, 2, ""),
		rig_amount(writer->arena, load->lost_minutes.most, 2, ""));
	const char *lost = lost_said(writer, load);
	if (any_felt(writer, findings))
		row[n++] = lost == NULL ? "little" : lost;
	return n;
}

static void add_loads_table(rig_writer *writer, const rig_shed_findings *findings)
{
	const rig_column name = {"appliance", "", RIG_ALIGN_LEFT};
	const rig_column off = {"switched off", "times a day", RIG_ALIGN_RIGHT};
	const rig_column without = {"wanted, not running", "min a day", RIG_ALIGN_RIGHT};
	const rig_column cost = {"what that costs, a day", "", RIG_ALIGN_LEFT};
	rig_column columns[LOAD_COLUMNS] = {name, without, cost};
	if (findings->manager.present) {
		columns[1] = off;
		columns[2] = without;
		columns[3] = cost;
	}
	const char **cells =
		rig_arena_take(writer->arena, findings->n_loads * LOAD_COLUMNS, sizeof *cells);
	if (cells == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return;
	}
	size_t n = 0;
	size_t n_rows = 0;
	for (size_t i = 0; i < findings->n_loads; i++) {
		if (!is_hit(&findings->loads[i]))
			continue;
		n += put_load(writer, findings, &findings->loads[i], &cells[n]);
		n_rows++;
	}
	if (n_rows == 0)
		return;
	const rig_table table = {
		"What each appliance goes through", n / n_rows, n_rows, columns, cells};
	rig_add_table(writer->document, &table);
}

static const char *order_names(rig_writer *writer, const rig_shed_order *order)
{
	const char **names = rig_arena_take(writer->arena, order->n, sizeof *names);
	if (names == NULL) {
		rig_document_fail(writer->document, RIG_NO_MEMORY);
		return "";
	}
	for (size_t i = 0; i < order->n; i++)
		names[i] = rig_load_said(writer, order->load[i]);
	return rig_joined(writer, order->n, names, MOST_NAMES);
}

static void put_order(
	rig_writer *writer, const char **row, const char *what, const rig_shed_order *order)
{
	row[0] = what;
	row[1] = order_names(writer, order);
	row[2] = rig_amount(writer->arena, order->discomfort_day, 2, "");
	row[3] = rig_amount(writer->arena, order->lost_minutes_day, 2, "");
}

static void add_orders_table(rig_writer *writer, const rig_shed_findings *findings)
{
	static const rig_column COLUMNS[ORDER_COLUMNS] = {{"order", "", RIG_ALIGN_LEFT},
		{"switched off first to last", "", RIG_ALIGN_LEFT},
		{"discomfort", "points a day", RIG_ALIGN_RIGHT},
		{"without", "min a day", RIG_ALIGN_RIGHT}};
	if (!findings->worth_changing || findings->best.n < 2)
		return;
	const char *cells[2 * ORDER_COLUMNS];
	put_order(writer, &cells[0], "now", &findings->own);
	put_order(writer, &cells[ORDER_COLUMNS], "better", &findings->best);
	const rig_table table = {"What to switch off first", ORDER_COLUMNS, 2, COLUMNS, cells};
	rig_add_table(writer->document, &table);
}

void rig_shed_figures(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_add_heading(writer->document, 2, "What is switched off on %s on %s",
		rig_shed_supply_said(writer, findings), day_said(findings));
	rig_tell_more(writer, RIG_PART_SHED);
	add_manager_facts(writer, findings);
	rig_shed_generator_facts(writer, findings);
	add_amps_facts(writer, findings);
	add_breaker_fact(writer, findings);
	rig_shed_volts_facts(writer, findings);
	add_loads_table(writer, findings);
	rig_shed_charts(writer, findings);
	add_orders_table(writer, findings);
}

void rig_shed_next(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_ask_measures(
		writer, "how long loads stand still", findings->n_measures, findings->measures);
	if (has(findings, RIG_SHED_BY_PRIORITY))
		rig_ask(writer, RIG_ASK_NARROWS,
			"Read in the energy manager's papers, or try out, in which order it drops "
			"its loads: the coach file does not say.");
	if (has(findings, RIG_SHED_NO_MANAGER))
		rig_ask(writer, RIG_ASK_ALSO,
			"Look for an energy manager (a panel that counts amps or lists loads as "
			"shed): the coach file names none.");
	if (has(findings, RIG_SHED_SIZE_GUESSED))
		rig_ask(writer, RIG_ASK_ALSO,
			"Measure the coach's length: the heat that comes in was worked out for %s, "
			"guessed from its cord.",
			rig_amount_length(writer->arena, findings->length_m, writer->units));
}

void rig_shed_assumptions(rig_writer *writer, const rig_shed_findings *findings)
{
	static const struct {
		rig_shed_note note;
		const char *text;
	} SAID[] = {
		{RIG_SHED_UNPLACED, "Loads whose leg nobody says were put on the emptier one."},
		{RIG_SHED_UNHEATED_BOX,
			"No appliance on board cools or heats the coach on such a day, so its "
			"warmth is not judged."},
		{RIG_SHED_CORD_LIMITS,
			"The cord is smaller than the receptacle; its own size is the limit."},
		{RIG_SHED_QUIET_START,
			"In quiet hours the generator does not start, and it stops when they "
			"begin."},
		{RIG_SHED_SHARED_HOT, "Both legs of the coach share one hot wire there."},
	};
	rig_document *document = writer->document;
	rig_add_item(document,
		"Random days: thermostats, habits, hot water and the charger's stages run by "
		"simple rules of the trade, %zu days of one seed. Each day differs from the next; "
		"the chart shows the middle one by discomfort.",
		findings->n_days);
	rig_add_item(document,
		"A degree-hour is one degree %s outside the comfort band for one hour. The measure "
		"of discomfort is our own; docs/method.md has it.",
		writer->units == RIG_UNITS_US ? "Fahrenheit" : "Celsius");
	rig_add_item(document,
		"Breakers of one size differ; a quick, a usual and a slow one stand for what the "
		"standard allows. After a trip all is dark for 15 minutes.");
	if (findings->inverter)
		rig_add_item(document,
			"What the battery has left is not followed here, a stay without hookups "
			"does that. The inverter's own overload protection is taken for a breaker "
			"of its watts; a real one cuts off sooner.");
	if (findings->generator.auto_start)
		rig_add_item(document, "While the generator runs, its output is counted as one "
				       "whole and without 240 V.");
	if (findings->has_volts)
		rig_add_item(document,
			"Manager and breaker count amps at rated volts; at low volts motors and "
			"electronics draw more, about a tenth at 108 V.");
	for (size_t i = 0; i < sizeof SAID / sizeof SAID[0]; i++) {
		if (has(findings, SAID[i].note))
			rig_add_item(document, "%s", SAID[i].text);
	}
}

void rig_shed_cautions(rig_writer *writer, const rig_shed_findings *findings)
{
	rig_power_cautions(writer);
	rig_add_item(writer->document,
		"A main breaker that trips again and again, or is hot to the touch, is a fault to "
		"be found by a licensed electrician, not to be reset and lived with.");
	if (has(findings, RIG_SHED_CORD_LIMITS))
		rig_add_item(writer->document, "A pedestal larger than the cord does not protect "
					       "the cord: its breaker "
					       "lets through more than the cord may carry.");
	if (findings->has_volts)
		rig_low_voltage_caution(writer);
	if (findings->pedestal == NULL && (!findings->inverter || findings->generator.auto_start))
		rig_generator_caution(writer);
	if (findings->generator.auto_start)
		rig_add_item(writer->document,
			"A generator that starts by itself asks nobody who is near it. Switch "
			"automatic "
			"start off in a building or under a roof, beside another's windows, while "
			"it "
			"is fuelled or worked on, and before touching any wire.");
}
