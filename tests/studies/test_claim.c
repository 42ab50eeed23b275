/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "claim_scene.h"
#include "read_coach.h"
#include "suites.h"

/* ---- supplies: sums by hand, amps = watts / 120 ---- */

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
	claim_answered it = claim_answer("{\"cord_a\": 30}", SUPPLY[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, SUPPLY[_i].answer);
	ck_assert_uint_eq(finding->reasons, SUPPLY[_i].reasons);
	ck_assert_double_eq_tol(finding->needs.likely, SUPPLY[_i].needs_a, 1e-9);
	ck_assert_double_eq_tol(finding->has.likely, 30.0, 1e-12);
	claim_drop(&it);
}
END_TEST

/* Two alike draws make half of the doubt each, and each alone between 26.7 and 30.8 A decides. */
START_TEST(an_open_sum_names_the_draws_to_measure)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}", TWO_WIDE ON_30, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_uint_eq(finding->n_measures, 2);
	for (size_t i = 0; i < 2; i++) {
		ck_assert_int_eq(finding->measures[i].kind, RIG_MEASURE_AC_LOAD);
		ck_assert_double_eq_tol(finding->measures[i].share_frac, 0.5, 1e-9);
		ck_assert(finding->measures[i].decides);
	}
	claim_drop(&it);
}
END_TEST

START_TEST(a_source_that_is_not_there_carries_nothing)
{
	claim_answered it = claim_answer("{\"cord_a\": 30}",
		TWO ", \"claims\": [{\"text\": \"g\", \"supply\": \"generator\"}]", NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, RIG_CLAIM_FAILS);
	ck_assert_uint_eq(it.findings->claims[0].reasons, RIG_CLAIM_NO_SOURCE);
	claim_drop(&it);
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
	claim_answered it = claim_answer("{\"cord_a\": 30}", rest, NULL);
	ck_assert_int_eq(it.findings->claims[0].answer, GENERATOR[_i].answer);
	claim_drop(&it);
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
	claim_answered it = claim_answer("{\"cord_a\": 50}", FED[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, FED[_i].answer);
	ck_assert_uint_eq(finding->reasons, FED[_i].reasons);
	ck_assert_uint_eq(finding->n_lacking, FED[_i].lacking >= 0 ? 1 : 0);
	if (FED[_i].lacking >= 0)
		ck_assert_int_eq(finding->lacking[0], FED[_i].lacking);
	ck_assert_int_eq(finding->start_load, FED[_i].start_load);
	claim_drop(&it);
}
END_TEST

/* ---- sizes ---- */

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
	claim_answered it = claim_answer("{\"cord_a\": 30}", SIZE[_i].rest, NULL);
	const rig_claim_finding *finding = &it.findings->claims[0];
	ck_assert_int_eq(finding->answer, SIZE[_i].answer);
	ck_assert_uint_eq(finding->reasons, SIZE[_i].reasons);
	ck_assert_double_eq_tol(finding->has.likely, SIZE[_i].has, 1e-9);
	claim_drop(&it);
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
	tcase_add_test(all, options_out_of_range_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
