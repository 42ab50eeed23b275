/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/report.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/json.h"
#include "golden.h"
#include "report/glyph.h"
#include "suites.h"
#include "wellformed.h"

/* A coach of our own with something for every study; the names are awkward on purpose. */
static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"Blue <Heron> & \\u202eson\","
	" \"place\": {\"name\": \"Flagstaff\"}, \"shore\": {\"cord_a\": 50},"
	" \"circuits\": ["
	"  {\"id\": \"a1\", \"name\": \"Front, air\", \"leg\": \"L1\", \"breaker_a\": 20},"
	"  {\"id\": \"a2\", \"leg\": \"L2\", \"breaker_a\": 20},"
	"  {\"id\": \"wh\", \"leg\": \"L1\", \"breaker_a\": 15},"
	"  {\"id\": \"dc\", \"supply\": \"dc\", \"bank\": \"house\", \"breaker_a\": 60}],"
	" \"loads\": ["
	"  {\"id\": \"air1\", \"profile\": \"roof_ac_15k\", \"circuit\": \"a1\"},"
	"  {\"id\": \"air2\", \"name\": \"Rear \\\"air\\\"\", \"profile\": \"roof_ac_15k\", "
	"\"circuit\": \"a2\"},"
	"  {\"id\": \"water\", \"profile\": \"water_heater_element\", \"circuit\": \"wh\", "
	"\"running_w\": {\"low\": 1390, \"likely\": 1400, \"high\": 1440, \"from\": \"measured\"}},"
	"  {\"id\": \"lights\", \"profile\": \"led_light\", \"count\": 4, \"circuit\": \"dc\"},"
	"  {\"id\": \"gas\", \"profile\": \"lp_detector\", \"circuit\": \"dc\"}],"
	" \"banks\": ["
	"  {\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"agm\", \"nominal_v\": 12, "
	"\"capacity_ah\": 100},"
	"  {\"id\": \"start\", \"role\": \"chassis\", \"chemistry\": \"starting\", \"nominal_v\": "
	"12, \"capacity_ah\": 70}],"
	" \"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": {\"low\": 35, "
	"\"likely\": 38, \"high\": 40, \"from\": \"estimated\"}}],"
	" \"generator\": {\"name\": \"Set\", \"fuel\": \"gasoline\", \"watts_w\": 4000},"
	" \"energy_management\": {\"name\": \"Manager\", \"order\": [\"water\", \"air2\", "
	"\"air1\"]},"
	" \"together\": [{\"name\": \"Both units\", \"loads\": [\"air1\", \"air2\", \"water\"]}]}";

typedef struct {
	rig_file *file;
	const rig_coach *coach;
	rig_shore_findings *shore;
	rig_voltage_findings *voltage;
	rig_sources_findings *sources;
	rig_shed_findings *shed;
	rig_solar_findings *solar;
	rig_trip_findings *trip;
} studied;

static studied study(void)
{
	studied all = {0};
	rig_diags *diags = rig_diags_new();
	const rig_status read = rig_file_parse(COACH, strlen(COACH), diags, &all.file);
	ck_assert_msg(read == RIG_OK, "%s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "no diagnosis");
	rig_diags_free(diags);
	all.coach = rig_file_completed(all.file);
	rig_place place;
	rig_place_at((size_t)rig_place_find("Flagstaff"), &place);
	rig_trip_options stay = rig_trip_defaults();
	stay.n_trips = 64;
	ck_assert_int_eq(rig_shore_study(all.coach, NULL, &all.shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(all.coach, all.shore, NULL, &all.voltage), RIG_OK);
	ck_assert_int_eq(
		rig_sources_study(all.coach, all.voltage, &place, NULL, &all.sources), RIG_OK);
	rig_shed_options days = rig_shed_defaults();
	days.supply = "30A";
	days.n_days = 20;
	ck_assert_int_eq(rig_shed_study(all.coach, &days, &all.shed), RIG_OK);
	ck_assert_int_eq(rig_solar_study(all.coach, &place, NULL, &all.solar), RIG_OK);
	ck_assert_int_eq(rig_trip_study(all.coach, &place, &stay, &all.trip), RIG_OK);
	return all;
}

static void forget(studied *all)
{
	rig_shore_free(all->shore);
	rig_shed_free(all->shed);
	rig_sources_free(all->sources);
	rig_voltage_free(all->voltage);
	rig_solar_free(all->solar);
	rig_trip_free(all->trip);
	rig_file_free(all->file);
}

static rig_document *sheet_of(const studied *all)
{
	const rig_report_options options = {.units = RIG_UNITS_US, .date = "1 June 2030"};
	const rig_report_findings findings = {.shore = all->shore,
		.voltage = all->voltage,
		.sources = all->sources,
		.shed = all->shed,
		.solar = all->solar,
		.trip = all->trip};
	rig_document *document = NULL;
	ck_assert_int_eq(rig_report(all->coach, &findings, &options, &document), RIG_OK);
	return document;
}

static char *text_of(const rig_document *document)
{
	char *text = NULL;
	ck_assert_int_eq(rig_document_text(document, false, &text), RIG_OK);
	return text;
}

/* Whether the text holds the word by itself, in any case. */
static bool says(const char *text, const char *word)
{
	const size_t length = strlen(word);
	for (const char *at = text; *at != '\0'; at++) {
		size_t n = 0;
		while (n < length && tolower((unsigned char)at[n]) == word[n])
			n++;
		const bool starts = at == text || !isalpha((unsigned char)at[-1]);
		if (n == length && starts && !isalpha((unsigned char)at[length]))
			return true;
	}
	return false;
}

START_TEST(the_sheet_fits_the_page_and_never_says_what_it_must_not)
{
	static const char *const NEVER[] = {"safe", "safely", "nan", "inf", "null", "finite"};
	studied all = study();
	rig_document *document = sheet_of(&all);
	char *text = text_of(document);
	for (int i = 0; i < COUNT(NEVER); i++)
		ck_assert_msg(!says(text, NEVER[i]), "the sheet says %s", NEVER[i]);
	ck_assert(says(text, "electrician"));
	for (char *line = strtok(text, "\n"); line != NULL; line = strtok(NULL, "\n"))
		ck_assert_msg(rig_glyph_text_columns(line) <= 80, "too wide: %s", line);
	free(text);
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(answers_come_first_and_cautions_last)
{
	studied all = study();
	rig_document *document = sheet_of(&all);
	for (size_t i = 0; i < 6; i++) {
		const rig_block *block = rig_document_block_at(document, i);
		ck_assert_int_eq(block->kind, RIG_BLOCK_ANSWER);
		ck_assert_uint_gt(strlen(block->verdict), 10);
	}
	const size_t n = rig_document_n_blocks(document);
	const rig_block *last = rig_document_block_at(document, n - 1);
	ck_assert_int_eq(last->kind, RIG_BLOCK_CAUTION);
	ck_assert_uint_ge(last->n_items, 4);
	ck_assert_str_eq(rig_document_subtitle_at(document, 1), "1 June 2030");
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(the_page_of_a_sheet_is_well_formed)
{
	studied all = study();
	rig_document *document = sheet_of(&all);
	char *page = NULL;
	ck_assert_int_eq(rig_document_html(document, &page), RIG_OK);
	tag_stack stack;
	const char *wrong = page_fault(page, &stack);
	ck_assert_msg(wrong == NULL, "%s", wrong);
	ck_assert_ptr_nonnull(strstr(page, "Blue &lt;Heron&gt; &amp; &lt;U+202E&gt;son"));
	ck_assert_uint_lt(strlen(page), 307200);
	free(page);
	rig_document_free(document);
	forget(&all);
}
END_TEST

static const cJSON *member(const cJSON *object, const char *key)
{
	const cJSON *found = cJSON_GetObjectItemCaseSensitive(object, key);
	ck_assert_msg(found != NULL, "no %s", key);
	return found;
}

static void check_figure(const cJSON *json, rig_figure figure)
{
	ck_assert(member(json, "low")->valuedouble == figure.low);
	ck_assert(member(json, "likely")->valuedouble == figure.likely);
	ck_assert(member(json, "high")->valuedouble == figure.high);
	ck_assert_str_eq(member(json, "from")->valuestring, rig_origin_text(figure.from));
	ck_assert_uint_gt(strlen(member(json, "unit")->valuestring), 0);
}

START_TEST(the_json_of_a_sheet_holds_the_findings_to_the_last_bit)
{
	studied all = study();
	rig_document *document = sheet_of(&all);
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	rig_diags *diags = rig_diags_new();
	rig_json *json = NULL;
	ck_assert_int_eq(rig_json_read(text, strlen(text), diags, &json), RIG_OK);
	const cJSON *findings = member(rig_json_root(json), "findings");
	const cJSON *sets = member(member(findings, "shore"), "sets");
	ck_assert_int_eq(cJSON_GetArraySize(sets), (int)all.shore->n_sets);
	const cJSON *budget = cJSON_GetArrayItem(member(cJSON_GetArrayItem(sets, 0), "budgets"), 0);
	check_figure(member(member(budget, "main"), "amps_a"),
		all.shore->sets[0].budgets[0].main.amps_a);
	const cJSON *bank = cJSON_GetArrayItem(member(member(findings, "solar"), "banks"), 0);
	for (int i = 0; i < 12; i++)
		check_figure(
			member(cJSON_GetArrayItem(member(bank, "months"), i), "harvest_wh_day"),
			all.solar->banks[0].months[i].harvest_wh_day);
	const cJSON *trip = member(findings, "trip");
	const cJSON *trip_bank = cJSON_GetArrayItem(member(trip, "banks"), 0);
	ck_assert(member(trip_bank, "unmet_frac")->valuedouble == all.trip->banks[0].unmet_frac);
	ck_assert(member(trip_bank, "lowest_wh")->valuedouble == all.trip->banks[0].lowest_wh);
	ck_assert_int_eq(cJSON_GetArraySize(member(trip_bank, "left_wh")), (int)all.trip->n_hours);
	const cJSON *chance = member(trip, "chance");
	ck_assert(member(chance, "never_out_frac")->valuedouble == all.trip->chance.never_out_frac);
	rig_json_free(json);
	rig_diags_free(diags);
	free(text);
	rig_document_free(document);
	forget(&all);
}
END_TEST

static void check_keys(const cJSON *item, const char *guide)
{
	for (const cJSON *child = item->child; child != NULL; child = child->next) {
		if (child->string != NULL) {
			char quoted[80];
			snprintf(quoted, sizeof quoted, "`%s`", child->string);
			ck_assert_msg(strstr(guide, quoted) != NULL,
				"docs/results.md does not tell of %s", quoted);
		}
		check_keys(child, guide);
	}
}

START_TEST(every_key_of_the_json_is_documented)
{
	studied all = study();
	rig_document *document = sheet_of(&all);
	char *text = NULL;
	ck_assert_int_eq(rig_document_json(document, &text), RIG_OK);
	cJSON *json = cJSON_Parse(text);
	char *guide = file_of_tree("docs/results.md");
	ck_assert_ptr_nonnull(guide);
	check_keys(json, guide);
	cJSON_Delete(json);
	free(guide);
	free(text);
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* The same sentence could be printed for every finding: the verdict must follow the level. */
static const struct {
	rig_solar_level level;
	const char *verdict;
} LEVEL[] = {
	{RIG_FALLS_SHORT, "It falls short in every month: it does not hold the house battery."},
	{RIG_MAINTAINS, "It maintains the house battery. It does not run the coach."},
	{RIG_EXTENDS, "It makes a stay without hookups longer; it does not carry it."},
	{RIG_CARRIES, "It carries the daily use that was asked about."},
};

START_TEST(the_verdict_on_the_sun_follows_its_level)
{
	studied all = study();
	rig_solar_bank *bank = &all.solar->banks[all.solar->main_bank];
	bank->overall = (rig_solar_levels){LEVEL[_i].level, LEVEL[_i].level, LEVEL[_i].level};
	for (int i = 0; i < 12; i++)
		bank->months[i].level = bank->overall;
	bank->worst_month = 11;
	bank->best_month = 5;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, LEVEL[_i].verdict);
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(months_that_do_better_than_the_worst_are_told)
{
	studied all = study();
	rig_solar_bank *bank = &all.solar->banks[all.solar->main_bank];
	bank->overall = (rig_solar_levels){RIG_MAINTAINS, RIG_MAINTAINS, RIG_MAINTAINS};
	for (int i = 0; i < 12; i++)
		bank->months[i].level = bank->overall;
	for (int i = 4; i < 8; i++)
		bank->months[i].level.likely = RIG_EXTENDS;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict,
		"It maintains the house battery all year, and makes a stay longer in May to "
		"August.");
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* Levels of the twelve months, and the sentence about them. */
static const struct {
	rig_solar_level months[12];
	const char *verdict;
} MIXED[] = {
	{{0, 1, 2, 2, 3, 3, 3, 3, 2, 2, 1, 0},
		"It falls short in December and January; holds the house battery in February and "
		"November; makes a stay longer in March, April, September and October; and carries "
		"the daily use in May to August."},
	{{1, 1, 1, 3, 3, 3, 3, 3, 3, 3, 1, 1},
		"It maintains the house battery all year, and carries the daily use in April to "
		"October."},
	{{2, 2, 2, 3, 3, 3, 3, 3, 3, 3, 2, 2},
		"It makes a stay longer all year, and carries the daily use in April to October."},
	{{0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
		"It falls short in January, and holds the house battery in February to December."},
};

START_TEST(each_month_is_told_by_its_own_level)
{
	studied all = study();
	rig_solar_bank *bank = &all.solar->banks[all.solar->main_bank];
	rig_solar_level worst = RIG_CARRIES;
	for (int i = 0; i < 12; i++) {
		const rig_solar_level level = MIXED[_i].months[i];
		bank->months[i].level = (rig_solar_levels){level, level, level};
		worst = level < worst ? level : worst;
	}
	bank->overall = (rig_solar_levels){worst, worst, worst};
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, MIXED[_i].verdict);
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* The text of the block of a kind whose head or text begins so; NULL if there is none. */
static const rig_block *block_after(
	const rig_document *document, const char *heading, rig_block_kind kind)
{
	bool found = false;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_HEADING)
			found = strcmp(block->head, heading) == 0;
		else if (found && block->kind == kind)
			return block;
	}
	return NULL;
}

static const rig_block *block_of(const rig_document *document, const char *head)
{
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->head != NULL && strcmp(block->head, head) == 0)
			return block;
	}
	return NULL;
}

START_TEST(a_sheet_of_several_studies_asks_for_three_things_at_most)
{
	studied all = study();
	all.solar->banks[all.solar->main_bank].contributes_to_house = false;
	rig_document *document = sheet_of(&all);
	const rig_block *asked = block_of(document, "Measure or ask next");
	ck_assert_ptr_nonnull(asked);
	ck_assert_uint_eq(asked->n_items, 3);
	/* what could turn an answer round comes first */
	ck_assert_ptr_nonnull(strstr(asked->items[0], "which battery the panel charges"));
	rig_document_free(document);
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	asked = block_after(document, "What to measure or ask next", RIG_BLOCK_LIST);
	ck_assert_uint_eq(asked->n_items, 3);
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(a_rung_says_its_use_and_what_the_coach_lacks)
{
	studied all = study();
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	char *text = text_of(document);
	/* the profile of a lamp says four hours a day */
	ck_assert_ptr_nonnull(strstr(text, "(4), "));
	free(text);
	rig_document_free(document);
	/* enough sun for everything: what is left is the missing inverter */
	rig_solar_bank *bank = &all.solar->banks[all.solar->main_bank];
	size_t n_lacking = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		for (int month = 0; month < 12; month++)
			bank->rungs[i].carried[month] = RIG_CAN;
		n_lacking += bank->rungs[i].through_inverter;
	}
	ck_assert_uint_gt(n_lacking, 0);
	ck_assert(!all.coach->inverter.present);
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	const rig_chart *ladder = NULL;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_CHART && block->chart->kind == RIG_CHART_LADDER)
			ladder = block->chart;
	}
	ck_assert_ptr_nonnull(ladder);
	size_t n_said = 0;
	for (size_t i = 0; i < ladder->n_bars; i++) {
		const bool lacks = strcmp(ladder->bars[i].note, "needs an inverter") == 0;
		ck_assert_int_eq(ladder->bars[i].state, lacks ? RIG_BAR_CLOSE : RIG_BAR_HOLDS);
		n_said += lacks;
	}
	ck_assert_uint_gt(n_said, 0);
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(where_no_panel_helps_the_bank_is_named)
{
	studied all = study();
	rig_solar_bank *bank = &all.solar->banks[all.solar->main_bank];
	for (int i = 0; i < 12; i++)
		bank->months[i].bank_too_small = i == 11 || i == 0;
	bank->needs[RIG_EXTENDS].worst_month = 11;
	bank->needs[RIG_EXTENDS].worst_w = (rig_figure){0};
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	char *text = text_of(document);
	ck_assert_ptr_nonnull(strstr(text, "no panel helps"));
	ck_assert_ptr_nonnull(strstr(text, "\"Extends\" in December and January: no panel helps."));
	free(text);
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* Figures of our own: 14 days, and an empty bank after so many. */
static const struct {
	double empty_days;
	const char *title;
} EMPTY[] = {
	{0.7, "The house battery through the first 3 of 14 days"},
	{3.2, "The house battery through the first 5 of 14 days"},
	{6.0, "The house battery through the first 7 of 14 days"},
	{6.1, "The house battery through the days"},
	{365.0, "The house battery through the days"},
};

START_TEST(the_course_ends_soon_after_the_bank_is_empty)
{
	studied all = study();
	ck_assert_uint_eq(all.trip->n_hours, 336);
	all.trip->banks[all.trip->main_bank].days_with_panel =
		rig_figure_of(EMPTY[_i].empty_days, RIG_FROM_COMPUTED);
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_trip(all.coach, all.trip, NULL, &document), RIG_OK);
	const rig_block *block = block_after(document, "Days without hookups", RIG_BLOCK_CHART);
	ck_assert_ptr_nonnull(block);
	ck_assert_str_eq(block->chart->title, EMPTY[_i].title);
	const rig_line *line = &block->chart->lines[0];
	ck_assert(line->x[line->n - 1] >= fmin(EMPTY[_i].empty_days + 0.9, 14.0));
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(a_panel_on_the_chassis_battery_is_told_to_give_the_house_nothing)
{
	studied all = study();
	all.solar->banks[all.solar->main_bank].contributes_to_house = false;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_ptr_nonnull(strstr(
		rig_document_block_at(document, 0)->text, "It gives nothing to the house battery"));
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(a_record_that_nobody_confirms_is_told_in_the_answer)
{
	studied all = study();
	all.solar->place.record = RIG_RECORD_LONG;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_ptr_null(strstr(rig_document_block_at(document, 0)->text, "record"));
	rig_document_free(document);
	all.solar->place.record = RIG_RECORD_SHORT_UNCONFIRMED;
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_OK);
	ck_assert_ptr_nonnull(strstr(rig_document_block_at(document, 0)->text,
		"a short record that no longer one nearby confirms"));
	rig_document_free(document);
	forget(&all);
}
END_TEST

static const struct {
	rig_shore_verdict own, smaller;
	const char *verdict;
} FIT[] = {
	{RIG_SHORE_FITS, RIG_SHORE_OVER, "\"Both units\" fits on 50 A; it does not fit on 30 A."},
	{RIG_SHORE_OVER, RIG_SHORE_OVER, "\"Both units\" fits neither on 50 A nor on 30 A."},
	{RIG_SHORE_DEPENDS, RIG_SHORE_OVER_CONTINUOUS,
		"\"Both units\" fits on 50 A if it draws as expected; it fits on 30 A, but not for "
		"three hours."},
};

START_TEST(the_verdict_on_shore_power_follows_the_budgets)
{
	studied all = study();
	all.shore->sets[0].budgets[0].verdict = FIT[_i].own;
	all.shore->sets[0].budgets[1].verdict = FIT[_i].smaller;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_shore(all.coach, all.shore, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, FIT[_i].verdict);
	rig_document_free(document);
	forget(&all);
}
END_TEST

static rig_document *shore_of(const studied *all, const char *run)
{
	const rig_report_options options = {.run = run};
	const rig_report_findings findings = {
		.shore = all->shore, .voltage = all->voltage, .sources = all->sources};
	rig_document *document = NULL;
	ck_assert_int_eq(rig_report(all->coach, &findings, &options, &document), RIG_OK);
	return document;
}

/* The answer to a question that begins so; NULL if there is none. */
static const rig_block *answer_to(const rig_document *document, const char *question)
{
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_ANSWER &&
			strncmp(block->head, question, strlen(question)) == 0)
			return block;
	}
	return NULL;
}

/* Volts of the focus set on the coach's own supply, and the sentence about them. */
static const struct {
	double low, likely;
	rig_volts_range range, at_low;
	bool compressor_low;
	const char *verdict;
} VOLTS[] = {
	{114, 118.4, RIG_VOLTS_RANGE_A, RIG_VOLTS_RANGE_A, false,
		"Enough: with \"Both units\" on, about 118 V reach the coach on 50 A."},
	{101, 116, RIG_VOLTS_RANGE_A, RIG_VOLTS_LOW, false,
		"Enough if the site's supply is as good as most: with \"Both units\" on, about "
		"116 V reach the coach on 50 A."},
	{98, 105.5, RIG_VOLTS_RANGE_B, RIG_VOLTS_LOW, false,
		"Enough for a limited time only: with \"Both units\" on, about 106 V reach the "
		"coach "
		"on 50 A."},
	{90, 102, RIG_VOLTS_LOW, RIG_VOLTS_LOW, true,
		"Too few: with \"Both units\" on, about 102 V reach the coach on 50 A."},
	{128, 130, RIG_VOLTS_HIGH, RIG_VOLTS_HIGH, false,
		"Too many: with \"Both units\" on, about 130 V reach the coach on 50 A."},
};

START_TEST(the_verdict_on_volts_follows_their_range)
{
	studied all = study();
	rig_voltage_state *state = &all.voltage->cases[0].all;
	state->leg_v[state->low_leg] = (rig_figure){
		VOLTS[_i].low, VOLTS[_i].likely, VOLTS[_i].likely, RIG_FROM_COMPUTED, 0, NULL};
	state->range = VOLTS[_i].range;
	state->at_low = VOLTS[_i].at_low;
	state->compressor_low = VOLTS[_i].compressor_low;
	state->compressor_may_be_low = VOLTS[_i].compressor_low;
	rig_document *document = shore_of(&all, NULL);
	const rig_block *answer = answer_to(document, "How many volts");
	ck_assert_ptr_nonnull(answer);
	ck_assert_str_eq(answer->verdict, VOLTS[_i].verdict);
	ck_assert(VOLTS[_i].compressor_low ==
		  (strstr(answer->text, "A compressor needs 104 V") != NULL));
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* 4,000 W at 7,000 ft: two roof units of 1,600 W and a water heater of 1,400 W are too much. */
START_TEST(the_generator_is_told_what_it_carries)
{
	studied all = study();
	ck_assert_uint_eq(all.sources->n_sources, 1);
	rig_document *document = shore_of(&all, NULL);
	const rig_block *answer = answer_to(document, "What runs on its other sources");
	ck_assert_ptr_nonnull(answer);
	ck_assert_ptr_nonnull(
		strstr(answer->verdict, "\"Both units\" is too much for the generator; turn off "));
	ck_assert_ptr_nonnull(strstr(answer->text, "of its 4,000 W at "));
	rig_document_free(document);
	all.sources->sources[0].sets[0].budget.verdict = RIG_SHORE_FITS;
	document = shore_of(&all, NULL);
	answer = answer_to(document, "What runs on its other sources");
	ck_assert_str_eq(answer->verdict, "\"Both units\" fits on the generator.");
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(what_must_go_off_for_a_load_is_told_for_each_supply)
{
	studied all = study();
	rig_document *document = shore_of(&all, "water");
	const rig_block *answer = answer_to(document, "What must go off so that");
	ck_assert_ptr_nonnull(answer);
	/* 1,400 W beside two roof units is one too many on 30 A: 1,600 W twice are 27.8 A */
	ck_assert_ptr_nonnull(
		strstr(answer->verdict, "On 50 A it runs with all that matters more"));
	ck_assert_ptr_nonnull(strstr(answer->text, "On 30 A it runs if this gives way: "));
	rig_document_free(document);
	ck_assert_ptr_null(answer_to(document = shore_of(&all, NULL), "What must go off"));
	rig_document_free(document);
	const rig_report_findings findings = {.shore = all.shore};
	const char *const WRONG[] = {"nothing-such", "lights", ""};
	for (int i = 0; i < COUNT(WRONG); i++) {
		const rig_report_options options = {.run = WRONG[i]};
		document = NULL;
		ck_assert_int_eq(
			rig_report(all.coach, &findings, &options, &document), RIG_NOT_FOUND);
		ck_assert_ptr_null(document);
	}
	forget(&all);
}
END_TEST

/* What happens on the days of shedding, and the sentence that must follow from it. */
static const struct {
	bool manager;
	double drops, drop_days, early_days, likely_days;
	const char *verdict;
} SHED[] = {
	{true, 0, 0, 0, 0,
		"On 30 A the energy manager has nothing to do on a hot day; the breaker holds."},
	{true, 29.2, 1, 0, 0,
		"On 30 A the energy manager switches things off about 29 times on a hot day; the "
		"breaker holds."},
	{true, 0.3, 0.11, 0, 0,
		"On 30 A the energy manager switches something off on about 11 of 100 hot days; "
		"the breaker holds."},
	{false, 0, 0, 0, 0,
		"On 30 A nothing is switched off by itself on a hot day; the breaker holds."},
	{false, 0, 0, 0.41, 0,
		"On 30 A nothing is switched off by itself on a hot day; the breaker holds; a "
		"quick one trips on about 41 of 100 hot days."},
	{false, 0, 0, 0.41, 0.012,
		"On 30 A nothing is switched off by itself on a hot day; the breaker trips on "
		"about "
		"1 of 100 hot days, a quick one on about 41."},
	{false, 0, 0, 0.002, 0.002,
		"On 30 A nothing is switched off by itself on a hot day; the breaker trips on "
		"fewer "
		"than 1 of 100 hot days."},
	{false, 0, 0, 1, 1,
		"On 30 A nothing is switched off by itself on a hot day; the breaker trips on all "
		"hot days."},
};

START_TEST(the_verdict_on_shedding_follows_the_days)
{
	studied all = study();
	all.shed->manager.present = SHED[_i].manager;
	all.shed->drops.mean = SHED[_i].drops;
	all.shed->days_with_drops_frac = SHED[_i].drop_days;
	all.shed->breaker[RIG_BREAKER_EARLY].days_frac = SHED[_i].early_days;
	all.shed->breaker[RIG_BREAKER_LIKELY].days_frac = SHED[_i].likely_days;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_shed(all.coach, all.shed, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, SHED[_i].verdict);
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* From the order water, air2, air1 to air2, water, air1: one move. */
START_TEST(a_better_order_is_told_in_a_sentence)
{
	studied all = study();
	rig_shed_findings *shed = all.shed;
	static const int OWN[] = {2, 1, 0};
	static const int BEST[] = {1, 2, 0};
	const rig_shed_move move = {2, 0, 1};
	shed->own = (rig_shed_order){3, OWN, 6.0, 6.1, 90.0, 20.0};
	shed->best = (rig_shed_order){3, BEST, 2.0, 2.1, 60.0, 18.0};
	shed->drops.mean = 20.0;
	shed->worth_changing = true;
	shed->proved = true;
	shed->n_moves = 1;
	shed->moves = &move;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_shed(all.coach, shed, NULL, &document), RIG_OK);
	ck_assert_ptr_nonnull(strstr(rig_document_block_at(document, 0)->text,
		"Change the order in which it drops: let \"Water heater on its electric element, 6 "
		"to 10 gal\" go off second instead of first. By our measure of discomfort a day "
		"then costs 2 points instead of 6."));
	rig_document_free(document);
	shed->worth_changing = false;
	ck_assert_int_eq(rig_write_shed(all.coach, shed, NULL, &document), RIG_OK);
	ck_assert_ptr_nonnull(strstr(rig_document_block_at(document, 0)->text,
		"The order in which it drops its 3 loads is as good as any."));
	rig_document_free(document);
	forget(&all);
}
END_TEST

/* Two hours of 10 A, then 20 A; a spike of 50 A for six minutes at 1:00. By hand: the half hour
 * from 1:00 has (6 x 50 + 24 x 10) / 30 = 18 A on the mean. */
START_TEST(the_chart_of_amps_keeps_means_and_peaks)
{
	studied all = study();
	const rig_shed_point points[] = {{0.0, {10.0}, {0}}, {3600.0, {50.0}, {0}},
		{3960.0, {10.0}, {0}}, {7200.0, {20.0}, {0}}};
	all.shed->shown.points = points;
	all.shed->shown.n_points = COUNT(points);
	ck_assert_int_eq(all.shed->n_hots, 1);
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_shed(all.coach, all.shed, NULL, &document), RIG_OK);
	const rig_chart *chart = NULL;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_CHART && block->chart->kind == RIG_CHART_COURSE)
			chart = block->chart;
	}
	ck_assert_ptr_nonnull(chart);
	const rig_line *line = &chart->lines[0];
	ck_assert_uint_eq(line->n, 50);
	ck_assert_double_eq_tol(line->x[3], 1.25, 1e-12);
	ck_assert_double_eq_tol(line->y[3].likely, 18.0, 1e-9);
	ck_assert(line->y[3].low == 10.0 && line->y[3].high == 50.0);
	ck_assert_double_eq_tol(line->y[2].high, 10.0, 1e-9);
	ck_assert_double_eq_tol(line->y[49].likely, 20.0, 1e-9);
	rig_document_free(document);
	forget(&all);
}
END_TEST

static const struct {
	rig_figure days;
	const char *verdict;
} STAY[] = {
	{{1.2, 2.6, 4.1, RIG_FROM_COMPUTED, 0, NULL},
		"It lasts about 2.6 days (29 hours to 4.1 days) from a full house battery."},
	{{3.1, 4.6, 8.2, RIG_FROM_COMPUTED, 0, NULL},
		"It lasts about 4.6 days (3.1 to 8.2 days) from a full house battery."},
	{{365, 365, 365, RIG_FROM_COMPUTED, 0, NULL},
		"With this use the house battery does not run out."},
	{{1.1, 365, 365, RIG_FROM_COMPUTED, 0, NULL},
		"With this use the house battery does not run out, unless the figures are at their "
		"poor ends."},
	{{0, 0, 0, RIG_FROM_NOTHING, 0, NULL},
		"Nothing that the file lists draws on the house battery."},
	{{0.2, 0.5, 365, RIG_FROM_COMPUTED, 0, NULL},
		"It lasts about 12 hours (4.8 hours or longer) from a full house battery."},
};

START_TEST(the_verdict_on_a_stay_follows_its_days)
{
	studied all = study();
	all.trip->banks[all.trip->main_bank].days_with_panel = STAY[_i].days;
	rig_document *document = NULL;
	ck_assert_int_eq(rig_write_trip(all.coach, all.trip, NULL, &document), RIG_OK);
	ck_assert_str_eq(rig_document_block_at(document, 0)->verdict, STAY[_i].verdict);
	rig_document_free(document);
	forget(&all);
}
END_TEST

START_TEST(findings_that_are_not_finite_are_refused_by_every_writer)
{
	studied all = study();
	rig_document *document = NULL;
	all.shore->sets[0].budgets[0].main.amps_a.high = INFINITY;
	all.shed->hot[0].peak_a = NAN;
	all.solar->banks[0].months[3].clear_wh_day = NAN;
	all.trip->banks[0].flows.dc = NAN;
	ck_assert_int_eq(rig_write_shore(all.coach, all.shore, NULL, &document), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_write_shed(all.coach, all.shed, NULL, &document), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_write_solar(all.coach, all.solar, NULL, &document), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_write_trip(all.coach, all.trip, NULL, &document), RIG_BAD_INPUT);
	const rig_report_findings findings = {
		.shore = all.shore, .shed = all.shed, .solar = all.solar, .trip = all.trip};
	ck_assert_int_eq(rig_report(all.coach, &findings, NULL, &document), RIG_BAD_INPUT);
	ck_assert_ptr_null(document);
	forget(&all);
}
END_TEST

START_TEST(the_same_findings_give_the_same_bytes)
{
	studied all = study();
	rig_document *one = sheet_of(&all);
	rig_document *other = sheet_of(&all);
	char *first = NULL;
	char *second = NULL;
	ck_assert_int_eq(rig_document_html(one, &first), RIG_OK);
	ck_assert_int_eq(rig_document_html(other, &second), RIG_OK);
	ck_assert_str_eq(first, second);
	free(first);
	free(second);
	rig_document_free(one);
	rig_document_free(other);
	forget(&all);
}
END_TEST

/* Feet are 0.3048 m: 2,000 m are 6,562 ft, shown with three digits. */
START_TEST(lengths_are_told_in_the_units_asked_for)
{
	studied all = study();
	all.solar->place.elevation_m = 2000.0;
	static const char *const SAID[] = {"6,560 ft above sea level", "2,000 m above sea level"};
	for (int units = RIG_UNITS_US; units <= RIG_UNITS_SI; units++) {
		const rig_report_options options = {.units = (rig_units)units};
		rig_document *document = NULL;
		ck_assert_int_eq(
			rig_write_solar(all.coach, all.solar, &options, &document), RIG_OK);
		ck_assert_ptr_nonnull(strstr(rig_document_subtitle_at(document, 0), SAID[units]));
		ck_assert_uint_eq(rig_document_n_subtitles(document), 1);
		rig_document_free(document);
	}
	forget(&all);
}
END_TEST

Suite *write_sheet_suite(void);
Suite *write_sheet_suite(void)
{
	Suite *suite = suite_create("write_sheet");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_test(all, the_sheet_fits_the_page_and_never_says_what_it_must_not);
	tcase_add_test(all, answers_come_first_and_cautions_last);
	tcase_add_test(all, the_page_of_a_sheet_is_well_formed);
	tcase_add_test(all, the_json_of_a_sheet_holds_the_findings_to_the_last_bit);
	tcase_add_test(all, every_key_of_the_json_is_documented);
	tcase_add_loop_test(all, the_verdict_on_the_sun_follows_its_level, 0, COUNT(LEVEL));
	tcase_add_test(all, months_that_do_better_than_the_worst_are_told);
	tcase_add_loop_test(all, each_month_is_told_by_its_own_level, 0, COUNT(MIXED));
	tcase_add_test(all, a_sheet_of_several_studies_asks_for_three_things_at_most);
	tcase_add_test(all, a_rung_says_its_use_and_what_the_coach_lacks);
	tcase_add_test(all, where_no_panel_helps_the_bank_is_named);
	tcase_add_loop_test(all, the_course_ends_soon_after_the_bank_is_empty, 0, COUNT(EMPTY));
	tcase_add_test(all, a_panel_on_the_chassis_battery_is_told_to_give_the_house_nothing);
	tcase_add_test(all, a_record_that_nobody_confirms_is_told_in_the_answer);
	tcase_add_loop_test(all, the_verdict_on_shore_power_follows_the_budgets, 0, COUNT(FIT));
	tcase_add_loop_test(all, the_verdict_on_volts_follows_their_range, 0, COUNT(VOLTS));
	tcase_add_test(all, the_generator_is_told_what_it_carries);
	tcase_add_test(all, what_must_go_off_for_a_load_is_told_for_each_supply);
	tcase_add_loop_test(all, the_verdict_on_shedding_follows_the_days, 0, COUNT(SHED));
	tcase_add_test(all, a_better_order_is_told_in_a_sentence);
	tcase_add_test(all, the_chart_of_amps_keeps_means_and_peaks);
	tcase_add_loop_test(all, the_verdict_on_a_stay_follows_its_days, 0, COUNT(STAY));
	tcase_add_test(all, findings_that_are_not_finite_are_refused_by_every_writer);
	tcase_add_test(all, the_same_findings_give_the_same_bytes);
	tcase_add_test(all, lengths_are_told_in_the_units_asked_for);
	suite_add_tcase(suite, all);
	return suite;
}
