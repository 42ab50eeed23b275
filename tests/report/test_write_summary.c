/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of whole sheets, over coaches drawn at random: can they be read, does any sentence lack
 * something, does one contradict another, is a reader told other figures than another. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "rig/random_coach.h"
#include "rigbudget/everyday.h"
#include "rigbudget/report.h"
#include "suites.h"

#ifdef RIG_SLOW
enum { N_COACHES = 60 };
#else
enum { N_COACHES = 1000 };
#endif
enum { MOST_TEXT = 40000, FIRST_SEED = 7000 };

typedef struct {
	rig_file *file;
	rig_shore_findings *shore;
	rig_voltage_findings *voltage;
	rig_sources_findings *sources;
	rig_shed_findings *shed;
	rig_solar_findings *solar;
	rig_trip_findings *trip;
	rig_readings_findings *readings;
	rig_claim_findings *claims;
} studied;

/* Few days and few trips: it is the words that are looked at. */
static studied study(rig_file *file)
{
	studied all = {.file = file};
	const rig_coach *coach = rig_file_completed(file);
	rig_place place;
	rig_place_at((size_t)rig_place_find("Flagstaff"), &place);
	rig_shed_options days = rig_shed_defaults();
	days.n_days = 1;
	days.n_measure_days = 0;
	rig_trip_options stay = rig_trip_defaults();
	stay.n_trips = 20;
	stay.n_side_trips = 0;
	stay.n_days = 2;
	rig_solar_options sun = rig_solar_defaults();
	sun.n_trips = 100;
	if (rig_shore_study(coach, NULL, &all.shore) == RIG_OK &&
		rig_voltage_study(coach, all.shore, NULL, &all.voltage) == RIG_OK)
		rig_sources_study(coach, all.voltage, &place, NULL, &all.sources);
	rig_shed_study(coach, &days, &all.shed);
	rig_solar_study(coach, &place, &sun, &all.solar);
	rig_trip_study(coach, &place, &stay, &all.trip);
	rig_claim_options claims = rig_claim_defaults();
	claims.all_places = false;
	claims.n_trips = 100;
	const rig_readings_options meter = {.place = &place};
	if (coach->n_readings > 0)
		rig_readings_study(
			coach, coach->readings, coach->n_readings, &meter, &all.readings);
	if (coach->n_claims > 0)
		rig_claim_study(coach, &place, &claims, &all.claims);
	return all;
}

static void forget(studied *all)
{
	rig_sources_free(all->sources);
	rig_voltage_free(all->voltage);
	rig_shore_free(all->shore);
	rig_shed_free(all->shed);
	rig_solar_free(all->solar);
	rig_trip_free(all->trip);
	rig_readings_free(all->readings);
	rig_claim_free(all->claims);
	rig_file_free(all->file);
}

static rig_document *sheet_of(const studied *all, rig_reader reader)
{
	const rig_report_findings findings = {.shore = all->shore,
		.voltage = all->voltage,
		.sources = all->sources,
		.shed = all->shed,
		.solar = all->solar,
		.trip = all->trip,
		.readings = all->readings,
		.claims = all->claims};
	const rig_report_options options = {.reader = reader};
	rig_document *document = NULL;
	ck_assert_int_eq(
		rig_report(rig_file_completed(all->file), &findings, &options, &document), RIG_OK);
	return document;
}

/* ---- sentences without names ---- */

/* "Name" for a name, which may be NULL. A short one may be a word of ours. */
static void replace(char *text, const char *name)
{
	static const char WORD[] = {'N', 'a', 'm', 'e'};
	const size_t length = name != NULL ? strlen(name) : 0;
	if (length < sizeof WORD)
		return;
	for (char *at = strstr(text, name); at != NULL; at = strstr(at + sizeof WORD, name)) {
		memmove(at + sizeof WORD, at + length, strlen(at + length) + 1);
		memcpy(at, WORD, sizeof WORD);
	}
}

/* Names come out of the file and may be anything: each counts as a word of one syllable. */
static void without_names(char *text, const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_loads; i++)
		replace(text, coach->loads[i].name);
	for (size_t i = 0; i < coach->n_circuits; i++)
		replace(text, coach->circuits[i].name);
	for (size_t i = 0; i < coach->n_banks; i++)
		replace(text, coach->banks[i].name);
	for (size_t i = 0; i < coach->n_arrays; i++)
		replace(text, coach->arrays[i].name);
	for (size_t i = 0; i < coach->n_together; i++)
		replace(text, coach->together[i].name);
	for (size_t i = 0; i < coach->n_habits; i++)
		replace(text, coach->habits[i].name);
	for (size_t i = 0; i < coach->n_claims; i++) {
		replace(text, coach->claims[i].text);
		replace(text, coach->claims[i].who);
	}
	for (size_t i = 0; i < rig_n_appliances(); i++)
		replace(text, rig_appliance_at(i)->label);
}

/* ---- Flesch and Kincaid ---- */

static int syllables(const char *word, size_t length)
{
	int n = 0;
	bool vowel = false;
	for (size_t i = 0; i < length; i++) {
		const bool now = strchr("aeiouy", tolower((unsigned char)word[i])) != NULL;
		n += now && !vowel;
		vowel = now;
	}
	const bool silent = length > 2 && tolower((unsigned char)word[length - 1]) == 'e' &&
			    strchr("aeiouyl", tolower((unsigned char)word[length - 2])) == NULL;
	return n > 1 && silent ? n - 1 : n > 0 ? n : 1;
}

/* Grade = 0.39 words / sentences + 11.8 syllables / words - 15.59 [KINCAID-1975]. Words are runs of
 * letters, sentences end with a stop, a colon or a semicolon before a blank or the end; figures are
 * no words. */
static double grade(const char *text)
{
	double words = 0, sentences = 0, n_syllables = 0;
	for (const char *at = text; *at != '\0';) {
		if (isalpha((unsigned char)*at)) {
			size_t length = 0;
			while (isalpha((unsigned char)at[length]) || at[length] == '\'')
				length++;
			words++;
			n_syllables += syllables(at, length);
			at += length;
			continue;
		}
		sentences += strchr(".:;", *at) != NULL && (at[1] == ' ' || at[1] == '\0');
		at++;
	}
	return words == 0 ? 0
			  : 0.39 * words / fmax(sentences, 1) + 11.8 * n_syllables / words - 15.59;
}

START_TEST(the_grade_is_that_of_the_formula)
{
	/* by hand: 6 words, 1 sentence, 6 syllables; 8 words, 1, 11 */
	ck_assert_double_eq_tol(grade("The cat sat on the mat."), 0.39 * 6 + 11.8 - 15.59, 1e-12);
	ck_assert_double_eq_tol(grade("The water heater draws its power at night."),
		0.39 * 8 + 11.8 * 11 / 8 - 15.59, 1e-12);
}
END_TEST

/* ---- what no text may hold ---- */

static const char *const NEVER[] = {"  ", "..", " .", " ,", ",,", ";.", ":.", ",.", "\"\"",
	"0 of 0 ", "(null)", " nan", " inf ", "not finite", " in no month", "()", ": ;", "  ,",
	"about about", " 1 hours", " 1 days", " 1 cups ", " 1 phone charges", "safe "};

static const char *const VERBS[] = {"is", "are", "was", "were", "has", "have", "had", "fits", "fit",
	"draws", "draw", "holds", "hold", "trips", "goes", "go", "gives", "give", "takes", "take",
	"brings", "lasts", "runs", "run", "reach", "reaches", "fall", "falls", "maintains", "makes",
	"carries", "extends", "charges", "feeds", "turn", "let", "needs", "need", "harm", "harms",
	"switches", "starts", "start", "does", "do", "can", "cannot", "may", "might", "would",
	"will", "must", "leaves", "costs", "counts", "helps", "plan", "stays", "keeps", "loses",
	"dip", "dips", "names", "listed", "seen", "asks", "ask", "measure", "differs", "gets",
	"get", "wait", "works", "work", "wanted", "waits", "adds", "looks", "agree", "agrees",
	"could", "carry", "come", "comes", "help", "see"};

static bool has_verb(const char *text, size_t length)
{
	for (size_t i = 0; i < length;) {
		size_t n = 0;
		while (i + n < length && isalpha((unsigned char)text[i + n]))
			n++;
		for (int v = 0; n > 0 && v < COUNT(VERBS); v++)
			if (strlen(VERBS[v]) == n && strncasecmp(text + i, VERBS[v], n) == 0)
				return true;
		i += n > 0 ? n : 1;
	}
	return false;
}

/* Sentences end with a stop before a blank and a capital, a quote or the end. */
static void check_sentences(const char *text, unsigned seed)
{
	const char *start = text;
	for (const char *at = text; *at != '\0'; at++) {
		const bool ends =
			*at == '.' &&
			(at[1] == '\0' || (at[1] == ' ' && !islower((unsigned char)at[2])));
		if (!ends)
			continue;
		ck_assert_msg(
			has_verb(start, (size_t)(at - start)) ||
				strstr(start, "Without the solar:") == start + (*start == ' '),
			"coach %u: no verb in \"%.*s\" of: %s", seed, (int)(at - start), start,
			text);
		start = at + 1;
	}
	ck_assert_msg(*start == '\0', "coach %u: does not end with a stop: %s", seed, text);
}

static void check_text(const char *text, bool sentences, const rig_coach *coach, unsigned seed)
{
	static char bare[MOST_TEXT];
	ck_assert_uint_lt(strlen(text), MOST_TEXT);
	memcpy(bare, text, strlen(text) + 1);
	without_names(bare, coach);
	for (int i = 0; i < COUNT(NEVER); i++)
		ck_assert_msg(strstr(bare, NEVER[i]) == NULL, "coach %u: \"%s\" in: %s", seed,
			NEVER[i], text);
	if (sentences)
		check_sentences(bare, seed);
}

/* ---- what no answer may say together ---- */

static const struct {
	const char *question, *verdict, *against; /* against: in verdict or text */
} CONTRADICTS[] = {{"What does it draw", "\" fits on 50 A;", "On 50 A the"},
	{"What does it draw", "\" fits on 50 A;", "On 50 A it is too much"},
	{"What does it draw", "\" fits on 50 A;", "neither on 50 A"},
	{"What does it draw", "\" fits on 30 A;", "On 30 A it is too much"},
	{"What does it draw", "\" fits on 30 A.", "On 30 A it is too much"},
	{"\"It comes with", "all year", "It falls short"},
	{"\"It comes with", "It maintains", "falls short"},
	{"\"It comes with", "It carries", "falls short"},
	{"\"It comes with", "It falls short", "It maintains"},
	{"\"It comes with", "No solar panel", "charges the"},
	{"What gets switched", "the breaker holds.", "breaker trips"},
	{"What gets switched", "nothing is switched off", "switches"},
	{"What gets switched", "has nothing to do", "order in which"},
	{"How long", "does not run out", "without\" it lasts"},
	{"How long", "No house battery", "full battery gives"},
	{"How many volts", "Too few", "Enough"},
	{"What it means", "A 50 A site will do", "Even on its own 50 A"}};

static void check_answer(const rig_block *block, unsigned seed)
{
	for (int i = 0; i < COUNT(CONTRADICTS); i++) {
		if (strncmp(block->head, CONTRADICTS[i].question,
			    strlen(CONTRADICTS[i].question)) != 0 ||
			strstr(block->verdict, CONTRADICTS[i].verdict) == NULL)
			continue;
		ck_assert_msg(strstr(block->text, CONTRADICTS[i].against) == NULL &&
				      strstr(block->verdict, CONTRADICTS[i].against) == NULL,
			"coach %u: \"%s\" beside \"%s\": %s", seed, CONTRADICTS[i].against,
			block->verdict, block->text);
	}
}

/* What it means agrees with the verdict on the solar. */
static void check_meaning(const rig_document *document, unsigned seed)
{
	const rig_block *solar = NULL, *meaning = NULL;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind != RIG_BLOCK_ANSWER)
			continue;
		solar = strncmp(block->head, "\"It comes", 9) == 0 ? block : solar;
		meaning = strncmp(block->head, "What it means", 13) == 0 ? block : meaning;
	}
	if (solar == NULL || meaning == NULL)
		return;
	const bool live = strstr(meaning->text, "live on the solar;") != NULL ||
			  strstr(meaning->verdict, "live on the solar;") != NULL;
	ck_assert_msg(!live || strstr(solar->verdict, "carries") != NULL, "coach %u: %s", seed,
		solar->verdict);
	const bool none = strstr(meaning->verdict, "no solar to count on") != NULL;
	ck_assert_msg(!none || strstr(solar->verdict, "No solar") != NULL, "coach %u", seed);
}

static void check_block(const rig_block *block, const rig_coach *coach, unsigned seed)
{
	if (block->kind == RIG_BLOCK_ANSWER) {
		check_answer(block, seed);
		check_text(block->verdict, true, coach, seed);
	}
	if (block->kind == RIG_BLOCK_ANSWER || block->kind == RIG_BLOCK_PARAGRAPH) {
		check_text(block->text, true, coach, seed);
	}
	const bool list = block->kind == RIG_BLOCK_LIST || block->kind == RIG_BLOCK_CAUTION;
	for (size_t i = 0; list && i < block->n_items; i++)
		check_text(block->items[i], false, coach, seed);
}

START_TEST(words_are_whole_and_agree_for_any_coach)
{
	size_t n_answers = 0;
	for (unsigned i = 0; i < N_COACHES; i++) {
		studied all = study(random_coach(FIRST_SEED + i));
		rig_document *document = sheet_of(&all, (rig_reader)(i % RIG_N_READERS));
		for (size_t k = 0; k < rig_document_n_blocks(document); k++) {
			const rig_block *block = rig_document_block_at(document, k);
			n_answers += block->kind == RIG_BLOCK_ANSWER;
			check_block(block, rig_file_completed(all.file), FIRST_SEED + i);
		}
		check_meaning(document, FIRST_SEED + i);
		rig_document_free(document);
		forget(&all);
	}
	ck_assert_uint_gt(n_answers / 4, N_COACHES);
}
END_TEST

/* All verdicts of a sheet, one after the other. */
static double verdicts_grade(const rig_document *document, const rig_coach *coach)
{
	static char text[MOST_TEXT];
	size_t length = 0;
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_ANSWER && length < sizeof text)
			length += (size_t)snprintf(
				text + length, sizeof text - length, "%s ", block->verdict);
	}
	without_names(text, coach);
	return grade(text);
}

START_TEST(the_verdicts_of_a_sheet_are_no_harder_than_grade_nine)
{
	for (unsigned i = 0; i < N_COACHES / 10; i++) {
		studied all = study(random_coach(FIRST_SEED + i));
		rig_document *document = sheet_of(&all, RIG_FOR_BUYER);
		const double found = verdicts_grade(document, rig_file_completed(all.file));
		ck_assert_msg(found <= 9, "coach %u: grade %.1f", FIRST_SEED + i, found);
		rig_document_free(document);
		forget(&all);
	}
}
END_TEST

/* By hand from the figures that the header states. */
START_TEST(watt_hours_become_things_that_everybody_knows)
{
	const double cup_wh = 4186 * 0.23658824 * 78 / 3600 / 0.85;
	ck_assert_double_eq_tol(rig_everyday_cup_wh(), cup_wh, 1e-6);
	const rig_everyday day = rig_everyday_of(1800);
	ck_assert_double_eq_tol(day.refrigerator_h, 24, 1e-12);
	ck_assert_double_eq_tol(day.coffee_cups, 1800 / cup_wh, 1e-4);
	ck_assert_double_eq_tol(day.phone_charges, 1800 / 19.25, 1e-9);
	ck_assert(rig_everyday_of(0).phone_charges == 0);
}
END_TEST

/* ---- readers ---- */

static bool is_figure(const char *text, const char *at)
{
	return isdigit((unsigned char)*at) &&
	       (at == text || (!isalnum((unsigned char)at[-1]) && at[-1] != '.' && at[-1] != ','));
}

/* Whether each figure of a text is also in the whole; if not, it goes into `missing`. */
static bool has_figures(const char *whole, const char *text, char missing[40])
{
	for (const char *at = text; *at != '\0'; at++) {
		if (!is_figure(text, at))
			continue;
		size_t n = strspn(at, "0123456789.,");
		while (n > 0 && !isdigit((unsigned char)at[n - 1]))
			n--;
		snprintf(missing, 40, "%.*s", (int)n, at);
		if (strstr(whole, missing) == NULL)
			return false;
		at += n - 1;
	}
	return true;
}

START_TEST(every_figure_of_the_buyers_summary_is_on_the_shops_sheet)
{
	for (unsigned i = 0; i < 20; i++) {
		studied all = study(random_coach(FIRST_SEED + i));
		rig_document *buyer = sheet_of(&all, RIG_FOR_BUYER);
		rig_document *shop = sheet_of(&all, RIG_FOR_SHOP);
		char *whole = NULL;
		ck_assert_int_eq(rig_document_text(shop, false, &whole), RIG_OK);
		for (size_t k = 0; rig_document_block_at(buyer, k)->kind != RIG_BLOCK_BREAK; k++) {
			const rig_block *block = rig_document_block_at(buyer, k);
			char figure[40] = "";
			ck_assert_msg(block->kind != RIG_BLOCK_ANSWER ||
					      has_figures(whole, block->text, figure),
				"coach %u: %s is not on the shop's sheet", FIRST_SEED + i, figure);
		}
		free(whole);
		rig_document_free(buyer);
		rig_document_free(shop);
		forget(&all);
	}
}
END_TEST

Suite *write_summary_suite(void);
Suite *write_summary_suite(void)
{
	Suite *suite = suite_create("write_summary");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_test(all, the_grade_is_that_of_the_formula);
	tcase_add_test(all, words_are_whole_and_agree_for_any_coach);
	tcase_add_test(all, the_verdicts_of_a_sheet_are_no_harder_than_grade_nine);
	tcase_add_test(all, watt_hours_become_things_that_everybody_knows);
	tcase_add_test(all, every_figure_of_the_buyers_summary_is_on_the_shops_sheet);
	suite_add_tcase(suite, all);
	return suite;
}
