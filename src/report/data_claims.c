/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings of claims as JSON: keys are the names of the fields of claim.h. */
#include "writer.h"

static const char *const ANSWER_KEY[RIG_N_CLAIM_ANSWERS] = {
	"holds", "holds_if", "open", "fails", "not_judged"};
static const char *const CARRIED_KEY[] = {"cannot", "may", "can"};

static const char *says_key(rig_claim_says says)
{
	static const char *const KEY[RIG_N_SAYS] = {"nothing", "supply", "sun_runs", "sun_holds",
		"days", "hours", "panel_w", "usable_wh", "capacity_ah"};
	return KEY[says];
}

static const char *unit_key(rig_claim_says says)
{
	static const char *const KEY[RIG_N_SAYS] = {
		"1", "A", "Wh/day", "Wh/day", "days", "h", "W", "Wh", "Ah"};
	return KEY[says];
}

static void put_reasons(rig_writer *writer, cJSON *object, uint32_t reasons)
{
	static const struct {
		uint32_t bit;
		const char *key;
	} KEY[] = {{RIG_CLAIM_IN_MONTHS, "in_months"}, {RIG_CLAIM_NO_PLACE, "no_place"},
		{RIG_CLAIM_NO_BANK, "no_bank"}, {RIG_CLAIM_NO_ARRAY, "no_array"},
		{RIG_CLAIM_ARRAY_ELSEWHERE, "array_elsewhere"}, {RIG_CLAIM_NOT_FED, "not_fed"},
		{RIG_CLAIM_NO_INVERTER, "no_inverter"},
		{RIG_CLAIM_INVERTER_SMALL, "inverter_small"}, {RIG_CLAIM_NO_SOURCE, "no_source"},
		{RIG_CLAIM_ONLY_ALONE, "only_alone"}, {RIG_CLAIM_SHORT_RUNS, "short_runs"},
		{RIG_CLAIM_DEAD, "dead"}, {RIG_CLAIM_START_OPEN, "start_open"},
		{RIG_CLAIM_START_FAILS, "start_fails"}, {RIG_CLAIM_NO_FIGURE, "no_figure"},
		{RIG_CLAIM_OVER_GLASS, "over_glass"}, {RIG_CLAIM_LOADS_LEFT_OUT, "loads_left_out"},
		{RIG_CLAIM_BY_LABEL, "by_label"}};
	cJSON *list = rig_json_add_array(&writer->maker, object, "reasons");
	for (size_t i = 0; i < sizeof KEY / sizeof KEY[0]; i++)
		if (reasons & KEY[i].bit)
			rig_json_add_text(&writer->maker, list, NULL, KEY[i].key);
}

static void put_months(
	rig_writer *writer, cJSON *parent, const rig_claim_finding *finding, const char *unit)
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, "months");
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++) {
		const rig_claim_month *month = &finding->months[m];
		if (!month->judged)
			continue;
		cJSON *object = rig_json_add_object(&writer->maker, list, NULL);
		rig_put_index(writer, object, "month", m + 1);
		rig_json_add_text(&writer->maker, object, "holds", CARRIED_KEY[month->holds]);
		rig_put_figure(writer, object, "has", month->has, unit);
		rig_put_figure(writer, object, "needs", month->needs, unit);
		rig_put_figure(writer, object, "out_frac", month->out_frac, "1");
	}
}

/* Every place with the months in which it holds there: twelve letters, y or n. */
static void put_places(rig_writer *writer, cJSON *parent, const rig_claim_places *places)
{
	rig_json_maker *maker = &writer->maker;
	if (places->n == 0)
		return;
	cJSON *object = rig_json_add_object(maker, parent, "places");
	rig_put_index(writer, object, "n", (long)places->n);
	rig_put_index(writer, object, "n_all", (long)places->n_all);
	rig_put_index(writer, object, "n_none", (long)places->n_none);
	double by_month[RIG_CLAIM_MONTHS];
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		by_month[m] = (double)places->n_by_month[m];
	rig_put_numbers(writer, object, "n_by_month", RIG_CLAIM_MONTHS, by_month);
	cJSON *list = rig_json_add_array(maker, object, "by_place");
	for (size_t i = 0; i < places->n; i++) {
		rig_place place;
		char months[RIG_CLAIM_MONTHS + 1] = "";
		rig_place_at(i, &place);
		for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
			months[m] = ((unsigned)places->months[i] >> m & 1u) != 0 ? 'y' : 'n';
		cJSON *row = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, row, "place", place.name);
		rig_json_add_text(maker, row, "months", months);
	}
}

static void put_lacking(rig_writer *writer, cJSON *parent, const rig_claim_finding *finding)
{
	cJSON *list = rig_json_add_array(&writer->maker, parent, "lacking");
	for (size_t i = 0; i < finding->n_lacking; i++) {
		const int load = finding->lacking[i];
		rig_json_add_text(&writer->maker, list, NULL,
			load < 0 ? "charger" : writer->coach->loads[load].id);
	}
}

static void put_claim(rig_writer *writer, cJSON *list, const rig_claim_finding *finding)
{
	rig_json_maker *maker = &writer->maker;
	const rig_claim *claim = &writer->coach->claims[finding->claim];
	const char *unit = unit_key(claim->says);
	cJSON *object = rig_json_add_object(maker, list, NULL);
	rig_json_add_text(maker, object, "text", claim->text);
	rig_json_add_text(maker, object, "who", claim->who);
	rig_json_add_text(maker, object, "says", says_key(claim->says));
	rig_json_add_text(maker, object, "answer", ANSWER_KEY[finding->answer]);
	put_reasons(writer, object, finding->reasons);
	rig_put_figure(writer, object, "has", finding->has, unit);
	rig_put_figure(writer, object, "needs", finding->needs, unit);
	rig_json_add_truth(maker, object, "supposed", finding->supposed);
	if (finding->bank >= 0)
		rig_json_add_text(maker, object, "bank", writer->coach->banks[finding->bank].id);
	put_lacking(writer, object, finding);
	rig_put_figure(writer, object, "panel_need_w", finding->panel_need_w, "W");
	if (finding->worst_month >= 0) {
		rig_put_index(writer, object, "worst_month", finding->worst_month + 1);
		rig_put_index(writer, object, "best_month", finding->best_month + 1);
		put_months(writer, object, finding, unit);
	}
	rig_put_number(writer, object, "weather_frac", finding->weather_frac);
	put_places(writer, object, &finding->places);
	rig_put_measures(writer, object, finding->n_measures, finding->measures);
}

void rig_claim_data(rig_writer *writer, const rig_claim_findings *findings)
{
	rig_json_maker *maker = &writer->maker;
	cJSON *object = rig_json_add_object(maker, rig_document_data(writer->document), "claims");
	if (findings->has_place)
		rig_put_place(writer, object, &findings->place);
	rig_put_index(writer, object, "n_trips", (long)findings->options.n_trips);
	rig_put_index(writer, object, "seed", (long)findings->options.seed);
	cJSON *list = rig_json_add_array(maker, object, "claims");
	for (size_t i = 0; i < findings->n_claims; i++)
		put_claim(writer, list, &findings->claims[i]);
}
