/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/claim.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "read_coach.h"
#include "rigbudget/solar.h"
#include "suites.h"

/* A coach, its claims, and what was found. */
typedef struct {
	rig_file *file;
	rig_claim_findings *findings;
} answered;

static rig_place place_named(const char *name)
{
	rig_place place;
	const long i = rig_place_find(name);
	ck_assert_msg(i >= 0, "no place %s", name);
	rig_place_at((size_t)i, &place);
	return place;
}

static answered answer_with(
	const char *shore, const char *rest, const char *place, const rig_claim_options *options)
{
	answered it = {.file = read_coach(shore, rest)};
	rig_place at;
	if (place != NULL)
		at = place_named(place);
	ck_assert_int_eq(rig_claim_study(rig_file_completed(it.file), place != NULL ? &at : NULL,
				 options, &it.findings),
		RIG_OK);
	return it;
}

static answered answer(const char *shore, const char *rest, const char *place)
{
	rig_claim_options options = rig_claim_defaults();
	options.all_places = false;
	options.n_trips = 500;
	return answer_with(shore, rest, place, &options);
}

static void drop(answered *it)
{
	rig_claim_free(it->findings);
	rig_file_free(it->file);
}

/* ---- supplies: sums by hand, amps = watts / 120 ---- */

#define HEATER(id, watts, more)                                                                    \
	"{\"id\": \"" id "\", \"supply\": \"ac\", \"behaviour\": \"resistive\", "                  \
	"\"running_w\": " watts more "}"
#define TWO "\"loads\": [" HEATER("a", "1500", "") ", " HEATER("b", "1500", "") "]"
#define TWO_LONG                                                                                   \
	"\"loads\": [" HEATER("a", "1500", ", \"continuous\": true") ", " HEATER(                  \
		"b", "1500", ", \"continuous\": true") "]"
#define WIDE     "{\"low\": 1200, \"likely\": 1700, \"high\": 2000, \"from\": \"estimated\"}"
#define TWO_WIDE "\"loads\": [" HEATER("a", WIDE, "") ", " HEATER("b", WIDE, "") "]"
#define THREE                                                                                      \
	"\"loads\": [" HEATER("a", "1500", "") ", " HEATER("b", "1500", "") ", " HEATER(           \
		"c", "1500", "") "]"
#define WITH_BOARD                                                                                 \
	"\"loads\": [" HEATER("a", "1500", "") ", " HEATER("b", "1500", "") ", " HEATER(           \
		"board", "900", ", \"always_on\": true, \"continuous\": false") "]"
#define ON_30     ", \"claims\": [{\"text\": \"both\", \"supply\": \"30A\", \"loads\": [\"a\", \"b\"]}]"
#define ALL_ON_30 ", \"claims\": [{\"text\": \"all\", \"supply\": \"30A\"}]"

static const struct {
	const char *rest;
	rig_claim_answer answer;
	uint32_t reasons;
	double needs_a;
} SUPPLY[] = {
	{TWO ON_30, RIG_CLAIM_HOLDS, 0, 25.0},
	{TWO_LONG ON_30, RIG_CLAIM_HOLDS_IF, RIG_CLAIM_SHORT_RUNS, 31.25},
	{TWO_WIDE ON_30, RIG_CLAIM_OPEN, 0, 28.3333333333},
	{THREE ALL_ON_30, RIG_CLAIM_FAILS, 0, 37.5},
	{THREE ON_30, RIG_CLAIM_HOLDS, 0, 25.0},
	/* 32.5 A with the board that is always on, 25 A without */
	{WITH_BOARD ON_30, RIG_CLAIM_HOLDS_IF, RIG_CLAIM_ONLY_ALONE, 25.0},
};

START_TEST(loads_on_a_supply_are_summed_as_by_hand)
{
	answered it = answer("{\"cord_a\": 30}", SUPPLY[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, SUPPLY[_i].answer);
	ck_assert_uint_eq(finding->reasons, SUPPLY[_i].reasons);
	ck_assert_double_eq_tol(finding->needs.likely, SUPPLY[_i].needs_a, 1e-9);
	ck_assert_double_eq_tol(finding->has.likely, 30.0, 1e-12);
	drop(&it);
}
END_TEST

/* Two alike draws make half of the doubt each, and each alone between 26.7 and 30.8 A decides. */
START_TEST(an_open_sum_names_the_draws_to_measure)
{
	answered it = answer("{\"cord_a\": 30}", TWO_WIDE ON_30, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_uint_eq(finding->n_measures, 2);
	for (size_t i = 0; i < 2; i++) {
		ck_assert_int_eq(finding->measures[i].kind, RIG_MEASURE_AC_LOAD);
		ck_assert_double_eq_tol(finding->measures[i].share_frac, 0.5, 1e-9);
		ck_assert(finding->measures[i].decides);
	}
	drop(&it);
}
END_TEST

START_TEST(a_source_that_is_not_there_carries_nothing)
{
	answered it = answer("{\"cord_a\": 30}",
		TWO ", \"claims\": [{\"text\": \"g\", \"supply\": \"generator\"}]", NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(it.findings->claims[0].reasons, RIG_CLAIM_NO_SOURCE);
	drop(&it);
}
END_TEST

/* 25 A of 120 V are 3,000 W: a set of 4,000 W carries them at sea level, one of 2,500 W not. */
static const struct {
	const char *watts;
	rig_claim_answer answer;
} GENERATOR[] = {{"8000", RIG_CLAIM_HOLDS}, {"2500", RIG_CLAIM_FAILS}};

START_TEST(a_generator_is_held_to_its_watts)
{
	char rest[1024];
	snprintf(rest, sizeof rest,
		TWO ", \"generator\": {\"fuel\": \"propane\", \"watts_w\": %s}, \"claims\": "
		    "[{\"text\": \"g\", \"supply\": \"generator\", \"loads\": [\"a\", \"b\"]}]",
		GENERATOR[_i].watts);
	answered it = answer("{\"cord_a\": 30}", rest, NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, GENERATOR[_i].answer);
	drop(&it);
}
END_TEST

/* ---- what a supply does not feed, and what does not start ---- */

/* A dryer across both legs, and a kettle; on one hot of 30 A the dryer is dead. */
#define DRYER                                                                                      \
	"\"circuits\": [{\"id\": \"both\", \"leg\": \"both\", \"breaker_a\": 30}], \"loads\": ["   \
	"{\"id\": \"dryer\", \"circuit\": \"both\", \"running_w\": 2400}, " HEATER(                \
		"kettle", "1200", "") "]"
#define INVERTER                                                                                   \
	", \"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 200}], "           \
	"\"inverter\": {\"watts_w\": 2000, \"always_on\": true}"
#define ON_INVERTER                                                                                \
	"\"loads\": [" HEATER("a", "500", ", \"inverter\": true") ", " HEATER(                     \
		"b", "600", ", \"inverter\": false") "]" INVERTER
/* A roof unit of 15.5 A, 68 A locked [ROOF-UNIT], and a kettle. */
#define ROOF                                                                                       \
	"\"loads\": [" HEATER("kettle", "200",                                                     \
		"") ", {\"id\": \"air\", \"running_a\": 15.5, "                                    \
		    "\"volts_v\": 115, \"power_factor\": 0.95, \"start_a\": 68, \"behaviour\": "   \
		    "\"compressor\""
#define BY_GENERATOR(watts, words)                                                                 \
	"}], \"generator\": {\"watts_w\": " watts "}, \"claims\": [{\"text\": \"g\", "             \
	"\"supply\": \"generator\"" words "}]"

static const struct {
	const char *rest;
	rig_claim_answer answer;
	uint32_t reasons;
	int lacking, start_load; /* -1: none */
} FED[] = {
	{DRYER ", \"claims\": [{\"text\": \"c\", \"supply\": \"30A\", \"loads\": [\"dryer\"]}]",
		RIG_CLAIM_FAILS, RIG_CLAIM_DEAD, 0, -1},
	{DRYER ", \"claims\": [{\"text\": \"c\", \"supply\": \"30A\"}]", RIG_CLAIM_FAILS,
		RIG_CLAIM_DEAD, 0, -1},
	{DRYER ", \"claims\": [{\"text\": \"c\", \"supply\": \"30A\", \"loads\": [\"kettle\"]}]",
		RIG_CLAIM_HOLDS, 0, -1, -1},
	{DRYER ", \"claims\": [{\"text\": \"c\", \"supply\": \"50A\"}]", RIG_CLAIM_HOLDS, 0, -1,
		-1},
	{ON_INVERTER ", \"claims\": [{\"text\": \"c\", \"supply\": \"inverter\", \"loads\": "
		     "[\"b\"]}]",
		RIG_CLAIM_FAILS, RIG_CLAIM_NOT_FED, 1, -1},
	{ON_INVERTER ", \"claims\": [{\"text\": \"c\", \"supply\": \"inverter\", \"loads\": "
		     "[\"a\"]}]",
		RIG_CLAIM_HOLDS, 0, -1, -1},
	{ON_INVERTER ", \"claims\": [{\"text\": \"c\", \"supply\": \"inverter\"}]", RIG_CLAIM_FAILS,
		RIG_CLAIM_NOT_FED, 1, -1},
	/* it asks for twice to three and a half times its 1,782 VA, all of 7,820 at most */
	{ROOF BY_GENERATOR("2200", ", \"loads\": [\"air\"]"), RIG_CLAIM_FAILS,
		RIG_CLAIM_START_FAILS, -1, 1},
	{ROOF BY_GENERATOR("5000", ", \"loads\": [\"air\"]"), RIG_CLAIM_HOLDS, RIG_CLAIM_START_OPEN,
		-1, 1},
	{ROOF BY_GENERATOR("20000", ", \"loads\": [\"air\"]"), RIG_CLAIM_HOLDS, 0, -1, -1},
	{ROOF BY_GENERATOR("5000", ""), RIG_CLAIM_HOLDS, RIG_CLAIM_START_OPEN, -1, 1},
	{ROOF BY_GENERATOR("2200", ", \"loads\": [\"kettle\"]"), RIG_CLAIM_HOLDS, 0, -1, -1},
};

START_TEST(a_claim_fails_by_what_gets_nothing_or_does_not_start)
{
	answered it = answer("{\"cord_a\": 50}", FED[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, FED[_i].answer);
	ck_assert_uint_eq(finding->reasons, FED[_i].reasons);
	ck_assert_uint_eq(finding->n_lacking, FED[_i].lacking >= 0 ? 1 : 0);
	if (FED[_i].lacking >= 0)
		ck_assert_int_eq(finding->lacking[0], FED[_i].lacking);
	ck_assert_int_eq(finding->start_load, FED[_i].start_load);
	drop(&it);
}
END_TEST

/* ---- sizes ---- */

#define PANEL(words) "\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", " words "}]"
#define BANK                                                                                       \
	"\"banks\": [{\"id\": \"house\", \"role\": \"house\", \"chemistry\": "                     \
	"\"lithium_iron_phosphate\", "                                                             \
	"\"nominal_v\": 12.8, \"capacity_ah\": 100, \"usable_frac\": 0.8, \"age_years\": 0, "      \
	"\"self_discharge_frac_month\": 0, \"temp_c\": 25}]"
#define CLAIM(words) ", \"claims\": [{\"text\": \"c\", " words "}]"
#define TWO_ARRAYS                                                                                 \
	"\"solar\": [{\"id\": \"a\", \"bank\": \"house\", \"watts_w\": 100, \"length_m\": 1, "     \
	"\"width_m\": 0.2}, {\"id\": \"b\", \"bank\": \"house\", \"watts_w\": 200}]"
#define AH(id, role, ah)                                                                           \
	"{\"id\": \"" id "\", \"role\": \"" role "\", \"chemistry\": \"agm\", "                    \
	"\"age_years\": 0, \"temp_c\": 25, \"capacity_ah\": " ah "}"
#define TWO_BANKS                                                                                  \
	"\"banks\": [" AH("start", "chassis", "400") ", " AH("one", "house", "100") ", " AH(       \
		"two", "house", "150") ", " AH("three", "house", "120") "]"
#define NO_LOADS "\"loads\": [], "

static const struct {
	const char *rest;
	rig_claim_answer answer;
	uint32_t reasons;
	double has;
} SIZE[] = {
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 200") CLAIM("\"panel_w\": 200"), RIG_CLAIM_HOLDS,
		RIG_CLAIM_BY_LABEL, 200},
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 200") CLAIM("\"panel_w\": 220"), RIG_CLAIM_FAILS, 0,
		200},
	{NO_LOADS BANK ", " PANEL("\"watts_w\": {\"low\": 90, \"likely\": 100, \"high\": 110, "
				  "\"from\": \"measured\"}") CLAIM("\"panel_w\": 100"),
		RIG_CLAIM_OPEN, 0, 100},
	{NO_LOADS BANK CLAIM("\"panel_w\": 100"), RIG_CLAIM_FAILS, RIG_CLAIM_NO_ARRAY, 0},
	/* 0.5 m2 of glass gives no 200 W: 400 W/m2 */
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 200, \"length_m\": 1, \"width_m\": 0.5")
			CLAIM("\"panel_w\": 200"),
		RIG_CLAIM_FAILS, RIG_CLAIM_BY_LABEL | RIG_CLAIM_OVER_GLASS, 200},
	/* 100 Ah x 12.8 V x 0.8 = 1,024 Wh */
	{NO_LOADS BANK CLAIM("\"usable_wh\": 1000"), RIG_CLAIM_HOLDS, 0, 1024},
	{NO_LOADS BANK CLAIM("\"usable_wh\": 1280"), RIG_CLAIM_FAILS, 0, 1024},
	{NO_LOADS BANK CLAIM("\"capacity_ah\": 100"), RIG_CLAIM_HOLDS, RIG_CLAIM_BY_LABEL, 100},
	{"\"loads\": []" CLAIM("\"capacity_ah\": 100"), RIG_CLAIM_FAILS, RIG_CLAIM_NO_BANK, 0},
	{"\"loads\": []" CLAIM("\"usable_wh\": 100"), RIG_CLAIM_FAILS, RIG_CLAIM_NO_BANK, 0},
	/* a label is rounded to a hundredth: 198 W are 200 */
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 198.1") CLAIM("\"panel_w\": 200"), RIG_CLAIM_HOLDS,
		RIG_CLAIM_BY_LABEL, 198.1},
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 197.9") CLAIM("\"panel_w\": 200"), RIG_CLAIM_FAILS,
		0, 197.9},
	/* two of 0.3 m2 have 333 W/m2, two of 0.5 m2 have 200 */
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 100, \"count\": 2, \"length_m\": 1, "
				  "\"width_m\": 0.3") CLAIM("\"panel_w\": 200"),
		RIG_CLAIM_FAILS, RIG_CLAIM_BY_LABEL | RIG_CLAIM_OVER_GLASS, 200},
	{NO_LOADS BANK ", " PANEL("\"watts_w\": 100, \"count\": 2, \"length_m\": 1, "
				  "\"width_m\": 0.5") CLAIM("\"panel_w\": 200"),
		RIG_CLAIM_HOLDS, RIG_CLAIM_BY_LABEL, 200},
	/* of two arrays both or the one meant; of glass nothing unless both have a size */
	{NO_LOADS BANK ", " TWO_ARRAYS CLAIM("\"panel_w\": 300"), RIG_CLAIM_HOLDS,
		RIG_CLAIM_BY_LABEL, 300},
	{NO_LOADS BANK ", " TWO_ARRAYS CLAIM("\"panel_w\": 300, \"array\": \"b\""), RIG_CLAIM_FAILS,
		0, 200},
	{NO_LOADS BANK ", " TWO_ARRAYS CLAIM("\"panel_w\": 100, \"array\": \"a\""), RIG_CLAIM_FAILS,
		RIG_CLAIM_BY_LABEL | RIG_CLAIM_OVER_GLASS, 100},
	/* the house bank with most in it, or the one meant */
	{NO_LOADS TWO_BANKS CLAIM("\"capacity_ah\": 150"), RIG_CLAIM_HOLDS, RIG_CLAIM_BY_LABEL,
		150},
	{NO_LOADS TWO_BANKS CLAIM("\"capacity_ah\": 450, \"bank\": \"start\""), RIG_CLAIM_FAILS, 0,
		400},
	/* what was measured is no label */
	{NO_LOADS "\"banks\": [{\"id\": \"house\", \"chemistry\": \"agm\", \"age_years\": 0, "
		  "\"temp_c\": 25, \"capacity_ah\": {\"low\": 95, \"likely\": 97, \"high\": 99, "
		  "\"from\": \"measured\"}}]" CLAIM("\"capacity_ah\": 95"),
		RIG_CLAIM_HOLDS, 0, 97},
};

START_TEST(sizes_are_held_against_labels_glass_and_capacity)
{
	answered it = answer("{\"cord_a\": 30}", SIZE[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, SIZE[_i].answer);
	ck_assert_uint_eq(finding->reasons, SIZE[_i].reasons);
	ck_assert_double_eq_tol(finding->has.likely, SIZE[_i].has, 1e-9);
	drop(&it);
}
END_TEST

/* ---- sun and stays ---- */

#define LAMP                                                                                       \
	"\"loads\": [{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 10, \"duty_frac\": 1, " \
	"\"daily_use_h\": 24}], "
/* 240 Wh a day from a bank of 1,024 Wh: 102.4 h, 4.27 days. Rest after such a slow draw leaves
 * nothing behind, so the sum is exact to the step of an hour. */
static const struct {
	const char *claim;
	rig_claim_answer answer;
	double has, tol;
} STAY[] = {
	{"\"runs_h\": 100, \"loads\": [\"lamp\"]", RIG_CLAIM_HOLDS, 102.4, 0.6},
	{"\"runs_h\": 105, \"loads\": [\"lamp\"]", RIG_CLAIM_FAILS, 102.4, 0.6},
	{"\"stay_days\": 4, \"source\": \"battery\"", RIG_CLAIM_HOLDS, 102.4 / 24, 0.03},
	{"\"stay_days\": 5, \"source\": \"battery\"", RIG_CLAIM_FAILS, 102.4 / 24, 0.03},
	{"\"stay_days\": 4, \"from_month\": 11, \"to_month\": 2, \"loads\": [\"lamp\"]",
		RIG_CLAIM_HOLDS, 102.4 / 24, 0.03},
};

START_TEST(a_bank_lasts_as_long_as_its_energy)
{
	char rest[2048];
	snprintf(rest, sizeof rest, LAMP BANK ", \"claims\": [{\"text\": \"c\", %s}]",
		STAY[_i].claim);
	answered it = answer("{\"cord_a\": 30}", rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, STAY[_i].answer);
	ck_assert_double_eq_tol(finding->has.likely, STAY[_i].has, STAY[_i].tol);
	drop(&it);
}
END_TEST

/* Without a bank nothing runs on one; without a panel nothing on the sun. */
static const struct {
	const char *rest, *claim;
	uint32_t reasons;
	bool only; /* no other reason */
} NOTHING[] = {
	{"", "\"runs_h\": 5, \"loads\": [\"lamp\"]", RIG_CLAIM_NO_BANK, true},
	{"", "\"stay_days\": 5", RIG_CLAIM_NO_BANK, true},
	{"", "\"source\": \"solar\", \"loads\": [\"lamp\"]", RIG_CLAIM_NO_BANK, true},
	{BANK ", ", "\"stay_days\": 50, \"source\": \"solar\"", RIG_CLAIM_NO_ARRAY, false},
	{BANK ", ", "\"source\": \"solar\", \"loads\": [\"lamp\"]", RIG_CLAIM_NO_ARRAY, false},
};

START_TEST(without_a_bank_or_a_panel_a_claim_of_them_fails)
{
	char rest[2048];
	snprintf(rest, sizeof rest, LAMP "%s\"claims\": [{\"text\": \"c\", %s}]", NOTHING[_i].rest,
		NOTHING[_i].claim);
	answered it = answer("{\"cord_a\": 30}", rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert(finding->reasons & NOTHING[_i].reasons);
	if (NOTHING[_i].only)
		ck_assert_uint_eq(finding->reasons, NOTHING[_i].reasons);
	drop(&it);
}
END_TEST

/* A heater, and what it lacks to run on the bank; as if it had it, 100 W last 1,024 Wh / 100 W less
 * the inverter's losses, and 1,500 W a fifteenth of that. */
#define HEATED(watts, more) "\"loads\": [" HEATER("lamp", watts, more) "], " BANK
#define WITH_INVERTER(watts)                                                                       \
	", \"inverter\": {\"bank\": \"house\", \"watts_w\": " watts ", \"always_on\": false}"
#define RUNS   CLAIM("\"runs_h\": 0.1, \"loads\": [\"lamp\"]")
#define USE_1H ", \"daily_use_h\": 1, \"duty_frac\": 1"
static const struct {
	const char *rest;
	rig_claim_answer answer;
	uint32_t reasons;
	bool lacks, supposed;
	double least, most; /* hours or days that it has */
} LACKING[] = {
	{HEATED("100", USE_1H ", \"inverter\": true") WITH_INVERTER("1000") RUNS, RIG_CLAIM_HOLDS,
		0, false, false, 7, 10.24},
	{HEATED("100", USE_1H ", \"inverter\": false") WITH_INVERTER("1000") RUNS, RIG_CLAIM_FAILS,
		RIG_CLAIM_NOT_FED, true, true, 7, 10.24},
	{HEATED("1500", USE_1H ", \"inverter\": true") WITH_INVERTER("1000") RUNS, RIG_CLAIM_FAILS,
		RIG_CLAIM_INVERTER_SMALL, true, true, 0.3, 0.6827},
	{HEATED("100", USE_1H) RUNS, RIG_CLAIM_FAILS, RIG_CLAIM_NO_INVERTER, true, true, 7, 10.24},
	/* of the daily use it is left out, and said so */
	{HEATED("100", USE_1H ", \"inverter\": false") WITH_INVERTER("1000")
			CLAIM("\"stay_days\": 1"),
		RIG_CLAIM_HOLDS, RIG_CLAIM_LOADS_LEFT_OUT, true, false, 1, 1e9},
};

START_TEST(a_load_that_lacks_its_inverter_is_named)
{
	answered it = answer("{\"cord_a\": 30}", LACKING[_i].rest, "Flagstaff");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, LACKING[_i].answer);
	ck_assert_uint_eq(finding->reasons, LACKING[_i].reasons);
	ck_assert_int_eq(finding->supposed, LACKING[_i].supposed);
	ck_assert_double_ge(finding->has.likely, LACKING[_i].least);
	ck_assert_double_le(finding->has.likely, LACKING[_i].most);
	ck_assert_uint_eq(finding->n_lacking, LACKING[_i].lacks ? 1 : 0);
	if (LACKING[_i].lacks)
		ck_assert_int_eq(finding->lacking[0], 0);
	drop(&it);
}
END_TEST

/* By hand on 1,024 Wh: a lamp of 10 W and a radio of 5 W. Each for its own hours, 24 and 1; by the
 * habit 12 and 2; of what a claim names that alone. */
static const struct {
	int habit;
	const char *claim;
	double wh_day;
} HABIT[] = {
	{-1, "\"stay_days\": 4, \"source\": \"battery\"", 245},
	{0, "\"stay_days\": 4, \"source\": \"battery\"", 130},
	{-1, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\"]", 240},
	{0, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\"]", 120},
	{0, "\"stay_days\": 4, \"source\": \"battery\", \"loads\": [\"lamp\", \"radio\"]", 130},
};

START_TEST(a_claim_is_of_the_chosen_habit)
{
	char rest[2048];
	rig_claim_options options = rig_claim_defaults();
	options.all_places = false;
	options.n_trips = 500;
	options.habit = HABIT[_i].habit;
	snprintf(rest, sizeof rest,
		"\"loads\": [{\"id\": \"lamp\", \"supply\": \"dc\", \"running_w\": 10, "
		"\"duty_frac\": 1, \"daily_use_h\": 24}, {\"id\": \"radio\", \"supply\": "
		"\"dc\", \"running_w\": 5, \"duty_frac\": 1, \"daily_use_h\": 1}], " BANK
		", \"habits\": [{\"name\": \"quiet\", \"use\": [{\"load\": \"radio\", "
		"\"daily_use_h\": 2}, {\"load\": \"lamp\", \"daily_use_h\": 12}]}], "
		"\"claims\": [{\"text\": \"c\", %s}]",
		HABIT[_i].claim);
	answered it = answer_with("{\"cord_a\": 30}", rest, "Flagstaff", &options);
	const double days = 1024 / HABIT[_i].wh_day;
	/* it is empty within a day's use of that */
	ck_assert_double_eq_tol(it.findings->claims[0].has.likely, days, 0.55);
	drop(&it);
}
END_TEST

START_TEST(months_through_new_year_are_judged_and_no_others)
{
	answered it = answer("{\"cord_a\": 30}",
		LAMP BANK ", \"claims\": [{\"text\": \"c\", \"stay_days\": 4, \"from_month\": 11, "
			  "\"to_month\": 2}]",
		"Flagstaff");
	for (int m = 0; m < 12; m++)
		ck_assert_int_eq(it.findings->claims[0].months[m].judged, m >= 10 || m <= 1);
	drop(&it);
}
END_TEST

#define EXACT_PANEL(watts)                                                                         \
	PANEL("\"watts_w\": " watts ", \"controller\": \"mppt\", \"panel\": \"crystalline_new\"")
#define ON_SUN ", \"claims\": [{\"text\": \"c\", \"source\": \"solar\", \"loads\": [\"lamp\"]}]"

/* By a factor of ten on either side, at any place of the table south of the polar circle: a panel
 * of 15 W never gives 240 Wh a day (16 hours of full sun), one of 2,000 W on this bank always. */
static const struct {
	const char *rest, *place;
	rig_claim_answer answer;
} SUN[] = {
	{LAMP BANK ", " EXACT_PANEL("10") ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_FAILS},
	{LAMP BANK ", " EXACT_PANEL("1000") ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_HOLDS},
	{LAMP BANK ", " EXACT_PANEL("10") ON_SUN, "Fairbanks Intl", RIG_CLAIM_FAILS},
	{LAMP BANK ON_SUN, "Phoenix Sky Harbor", RIG_CLAIM_FAILS},
};

START_TEST(far_from_the_balance_the_sun_says_yes_or_no)
{
	answered it = answer("{\"cord_a\": 30}", SUN[_i].rest, SUN[_i].place);
	ck_assert_int_eq(it.findings->claims[0].answer, SUN[_i].answer);
	drop(&it);
}
END_TEST

/* In between some months carry it and some do not; what it would take then does. */
START_TEST(the_watts_that_it_would_take_take_it)
{
	answered it = answer("{\"cord_a\": 30}", LAMP BANK ", " EXACT_PANEL("150") ON_SUN,
		"Seattle Seattletacoma");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert(finding->answer == RIG_CLAIM_HOLDS_IF || finding->answer == RIG_CLAIM_OPEN);
	ck_assert(finding->reasons & RIG_CLAIM_IN_MONTHS);
	ck_assert_int_eq(finding->worst_month, 11);
	ck_assert_double_gt(finding->panel_need_w.likely, 150);
	char rest[4096];
	snprintf(rest, sizeof rest, LAMP BANK ", " EXACT_PANEL("%.0f") ON_SUN,
		1.05 * finding->panel_need_w.high);
	answered more = answer("{\"cord_a\": 30}", rest, "Seattle Seattletacoma");
	ck_assert_int_eq(more.findings->claims[0].answer, RIG_CLAIM_HOLDS);
	drop(&more);
	drop(&it);
}
END_TEST

/* More panel never makes a month worse, nor more lamp better. */
START_TEST(more_panel_never_makes_a_month_worse)
{
	static const char *const WATTS[] = {"20", "60", "150", "300", "900"};
	rig_carried before[12] = {0};
	for (int i = 0; i < COUNT(WATTS); i++) {
		char rest[4096];
		snprintf(rest, sizeof rest, LAMP BANK ", " EXACT_PANEL("%s") ON_SUN, WATTS[i]);
		answered it = answer("{\"cord_a\": 30}", rest, "Minneapolisst Paul");
		for (int m = 0; m < 12; m++) {
			ck_assert_int_ge(it.findings->claims[0].months[m].holds, before[m]);
			before[m] = it.findings->claims[0].months[m].holds;
		}
		drop(&it);
	}
}
END_TEST

START_TEST(a_panel_on_the_chassis_battery_runs_nothing)
{
	answered it = answer("{\"cord_a\": 30}",
		LAMP "\"banks\": [{\"id\": \"house\", \"role\": \"house\", \"chemistry\": \"agm\", "
		     "\"nominal_v\": 12, \"capacity_ah\": 100}, {\"id\": \"start\", \"role\": "
		     "\"chassis\", \"chemistry\": \"starting\", \"nominal_v\": 12, "
		     "\"capacity_ah\": 70}], \"solar\": [{\"id\": \"roof\", \"bank\": \"start\", "
		     "\"watts_w\": 2000}]" ON_SUN,
		"Phoenix Sky Harbor");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(finding->reasons, RIG_CLAIM_ARRAY_ELSEWHERE);
	ck_assert(finding->supposed);
	drop(&it);
}
END_TEST

START_TEST(an_ac_load_without_an_inverter_does_not_run_on_the_sun)
{
	answered it = answer("{\"cord_a\": 30}",
		"\"loads\": [" HEATER("lamp", "60",
			", \"daily_use_h\": 2, \"duty_frac\": 1") "], " BANK ", " EXACT_PANEL("900")
			ON_SUN,
		"Phoenix Sky Harbor");
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(finding->reasons, RIG_CLAIM_NO_INVERTER);
	ck_assert_uint_eq(finding->n_lacking, 1);
	/* 120 Wh at the load, a tenth of it lost at most on a usual inverter, and its idle draw */
	ck_assert_double_ge(finding->needs.likely, 120);
	ck_assert_double_le(finding->needs.likely, 190);
	drop(&it);
}
END_TEST

START_TEST(without_a_place_nothing_is_said_of_the_sun)
{
	answered it = answer("{\"cord_a\": 30}", LAMP BANK ", " EXACT_PANEL("100") ON_SUN, NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, RIG_CLAIM_NOT_JUDGED);
	ck_assert_uint_eq(it.findings->claims[0].reasons, RIG_CLAIM_NO_PLACE);
	drop(&it);
}
END_TEST

/* The look at all places gives for one of them what the solar study gives there. */
START_TEST(the_places_agree_with_the_study_of_each)
{
	static const char *const NAMES[] = {"Phoenix Sky Harbor", "Fairbanks Intl", "Miami Intl"};
	const rig_claim_options options = rig_claim_defaults();
	answered it = answer_with(
		"{\"cord_a\": 30}", LAMP BANK ", " EXACT_PANEL("80") ON_SUN, "Flagstaff", &options);
	const rig_claim_places *places = &it.findings->claims[0].places;
	ck_assert_uint_eq(places->n, rig_n_places());
	size_t all = 0, none = 0, march = 0;
	for (size_t i = 0; i < places->n; i++) {
		all += places->months[i] == 0xFFF;
		none += places->months[i] == 0;
		march += (places->months[i] >> 2) & 1u;
	}
	ck_assert_uint_eq(places->n_all, all);
	ck_assert_uint_eq(places->n_none, none);
	ck_assert_uint_eq(places->n_by_month[2], march);
	for (int i = 0; i < COUNT(NAMES); i++) {
		const rig_place place = place_named(NAMES[i]);
		rig_solar_findings *solar = NULL;
		ck_assert_int_eq(
			rig_solar_study(rig_file_completed(it.file), &place, NULL, &solar), RIG_OK);
		for (int m = 0; m < 12; m++)
			ck_assert_int_eq((places->months[rig_place_find(NAMES[i])] >> m) & 1,
				solar->banks[0].months[m].harvest_wh_day.likely >=
					it.findings->claims[0].needs.likely);
		rig_solar_free(solar);
	}
	drop(&it);
}
END_TEST

START_TEST(options_out_of_range_are_refused)
{
	rig_file *file = read_coach("{\"cord_a\": 30}", TWO ON_30);
	rig_claim_options options = rig_claim_defaults();
	options.n_trips = 10;
	rig_claim_findings *findings = NULL;
	ck_assert_int_eq(rig_claim_study(rig_file_completed(file), NULL, &options, &findings),
		RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
	rig_file_free(file);
}
END_TEST

Suite *claim_suite(void);
Suite *claim_suite(void)
{
	Suite *suite = suite_create("claim");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, loads_on_a_supply_are_summed_as_by_hand, 0, COUNT(SUPPLY));
	tcase_add_test(all, an_open_sum_names_the_draws_to_measure);
	tcase_add_test(all, a_source_that_is_not_there_carries_nothing);
	tcase_add_loop_test(all, a_generator_is_held_to_its_watts, 0, COUNT(GENERATOR));
	tcase_add_loop_test(
		all, a_claim_fails_by_what_gets_nothing_or_does_not_start, 0, COUNT(FED));
	tcase_add_loop_test(all, sizes_are_held_against_labels_glass_and_capacity, 0, COUNT(SIZE));
	tcase_add_loop_test(all, a_bank_lasts_as_long_as_its_energy, 0, COUNT(STAY));
	tcase_add_loop_test(
		all, without_a_bank_or_a_panel_a_claim_of_them_fails, 0, COUNT(NOTHING));
	tcase_add_loop_test(all, a_load_that_lacks_its_inverter_is_named, 0, COUNT(LACKING));
	tcase_add_loop_test(all, a_claim_is_of_the_chosen_habit, 0, COUNT(HABIT));
	tcase_add_test(all, months_through_new_year_are_judged_and_no_others);
	tcase_add_loop_test(all, far_from_the_balance_the_sun_says_yes_or_no, 0, COUNT(SUN));
	tcase_add_test(all, the_watts_that_it_would_take_take_it);
	tcase_add_test(all, more_panel_never_makes_a_month_worse);
	tcase_add_test(all, a_panel_on_the_chassis_battery_runs_nothing);
	tcase_add_test(all, an_ac_load_without_an_inverter_does_not_run_on_the_sun);
	tcase_add_test(all, without_a_place_nothing_is_said_of_the_sun);
	tcase_add_test(all, the_places_agree_with_the_study_of_each);
	tcase_add_test(all, options_out_of_range_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
