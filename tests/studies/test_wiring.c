/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/wiring.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "outside.h"
#include "rig/random_coach.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"

/* A coach with what stands between the braces. */
static rig_file *file_of(const char *rest)
{
	char text[4096];
	const int n = snprintf(text, sizeof text,
		"{\"format\": \"rigbudget/1\", \"name\": \"Test\", \"shore\": {\"cord_a\": 50}, "
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", \"nominal_v\": 12, "
		"\"capacity_ah\": 220, \"age_years\": 0}], %s}",
		rest);
	ck_assert(n > 0 && (size_t)n < sizeof text);
	rig_file *file = NULL;
	rig_diags *diags = rig_diags_new();
	const rig_status status = rig_file_parse(text, (size_t)n, diags, &file);
	ck_assert_msg(status == RIG_OK, "%s: %s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "", text);
	rig_diags_free(diags);
	return file;
}

static rig_wiring_findings *ask(const rig_file *file)
{
	rig_wiring_findings *findings = NULL;
	ck_assert_int_eq(rig_wiring_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	return findings;
}

enum {
	NO = RIG_WIRING_NOT_ASKED,
	FINE = RIG_WIRING_HOLDS,
	DEPENDS = RIG_WIRING_DEPENDS,
	ASK = RIG_WIRING_UNKNOWN,
	FAILS = RIG_WIRING_FAILS
};

/* One wire each: drop, ampacity, fuse against load, fuse against wire, interrupt, distance. Short
 * circuit of 220 Ah flooded by kind: 12.7 V x 220 Ah / 1.3 to 0.5 ohm Ah = 2,149 to 5,588 A. */
static const struct {
	const char *what, *wire;
	int state[RIG_N_WIRING_RULES], worst;
} WIRE[] = {
	{"a sound cable from the battery",
		"\"bank\": \"house\", \"awg\": \"2\", \"length_ft\": 4, \"amps_a\": 90, "
		"\"fuse_a\": 100, "
		"\"insulation_c\": 105, \"interrupt_a\": 20000, \"fuse_distance_in\": 7",
		{FINE, FINE, FINE, FINE, FINE, FINE}, RIG_WIRING_DROP},
	{"a thin and long wire",
		"\"awg\": \"14\", \"length_ft\": 30, \"amps_a\": 10, \"fuse_a\": 15",
		{FAILS, FINE, FINE, FINE, NO, NO}, RIG_WIRING_DROP},
	{"a fuse above what a small conductor may have",
		"\"awg\": \"12\", \"length_ft\": 2, \"amps_a\": 10, \"fuse_a\": 30, "
		"\"insulation_c\": 105",
		{FINE, FINE, FINE, FAILS, NO, NO}, RIG_WIRING_FUSE_WIRE},
	{"a fuse that a continuous load will blow",
		"\"awg\": \"8\", \"length_ft\": 2, \"amps_a\": 28, \"continuous\": true, "
		"\"fuse_a\": 30",
		{FINE, FINE, FAILS, FINE, NO, NO}, RIG_WIRING_FUSE_LOAD},
	{"a wire that its load overheats",
		"\"awg\": \"10\", \"length_ft\": 1, \"amps_a\": 45, \"fuse_a\": 30",
		{FINE, FAILS, FAILS, FINE, NO, NO}, RIG_WIRING_AMPACITY},
	{"a fuse too weak for the bank",
		"\"bank\": \"house\", \"awg\": \"2\", \"length_ft\": 4, \"amps_a\": 90, "
		"\"fuse_a\": 100, "
		"\"insulation_c\": 105, \"interrupt_a\": 1000, \"fuse_distance_in\": 7",
		{FINE, FINE, FINE, FINE, FAILS, FINE}, RIG_WIRING_INTERRUPT},
	{"a fuse that may be strong enough",
		"\"bank\": \"house\", \"awg\": \"2\", \"length_ft\": 4, \"amps_a\": 90, "
		"\"fuse_a\": 100, "
		"\"insulation_c\": 105, \"interrupt_a\": 5000, \"fuse_distance_in\": 7",
		{FINE, FINE, FINE, FINE, DEPENDS, FINE}, RIG_WIRING_INTERRUPT},
	{"a fuse at the far end",
		"\"bank\": \"house\", \"awg\": \"2\", \"length_ft\": 4, \"amps_a\": 90, "
		"\"fuse_a\": 100, "
		"\"insulation_c\": 105, \"interrupt_a\": 20000, \"fuse_distance_in\": 30",
		{FINE, FINE, FINE, FINE, FINE, FAILS}, RIG_WIRING_DISTANCE},
	{"nobody knows the fuse",
		"\"bank\": \"house\", \"awg\": \"2\", \"length_ft\": 4, \"amps_a\": 90, "
		"\"insulation_c\": 105",
		{FINE, FINE, ASK, ASK, ASK, ASK}, RIG_WIRING_FUSE_LOAD},
	{"nobody knows the load: what the fuse lets by",
		"\"awg\": \"8\", \"length_ft\": 2, \"fuse_a\": 40", {FINE, FINE, NO, FINE, NO, NO},
		RIG_WIRING_DROP},
	{"nobody knows anything", "\"awg\": \"8\"", {ASK, ASK, ASK, ASK, NO, NO}, RIG_WIRING_DROP},
	{"a wire still to be named", "\"length_ft\": 12, \"amps_a\": 40",
		{FINE, FINE, FINE, FINE, NO, NO}, RIG_WIRING_DROP},
	{"a wire still to be named for a fuse that is there",
		"\"length_ft\": 2, \"amps_a\": 10, \"fuse_a\": 50, \"insulation_c\": 105",
		{FINE, FINE, FINE, FINE, NO, NO}, RIG_WIRING_DROP},
	{"a length in doubt: 14 AWG loses 3 % of 12 V at 10 A in 2.1 m",
		"\"awg\": \"14\", \"amps_a\": 10, \"fuse_a\": 15, \"length_m\": {\"low\": 1.5, "
		"\"likely\": 2, "
		"\"high\": 3, \"from\": \"estimated\"}",
		{DEPENDS, FINE, FINE, FINE, NO, NO}, RIG_WIRING_DROP},
	{"120 V: 55 A is no standard breaker, 60 is the next",
		"\"volts_v\": 120, \"awg\": \"6\", \"length_ft\": 10, \"amps_a\": 50, \"fuse_a\": "
		"60",
		{FINE, FINE, FINE, DEPENDS, NO, NO}, RIG_WIRING_FUSE_WIRE},
	{"insulation in doubt: 4 AWG bears 105 A at 60 C, 160 A at 105 C",
		"\"length_ft\": 1, \"awg\": \"4\", \"amps_a\": 20, \"fuse_a\": 150, "
		"\"insulation_c\": "
		"{\"low\": 60, \"likely\": 75, \"high\": 105, \"from\": \"estimated\"}",
		{FINE, FINE, FINE, DEPENDS, NO, NO}, RIG_WIRING_FUSE_WIRE},
};

START_TEST(each_rule_judges_its_part_of_a_wire)
{
	char rest[1024];
	snprintf(rest, sizeof rest, "\"wires\": [{\"id\": \"run\", %s}]", WIRE[_i].wire);
	rig_file *file = file_of(rest);
	rig_wiring_findings *findings = ask(file);
	ck_assert_uint_eq(findings->n_runs, 1);
	const rig_wiring_run *run = &findings->runs[0];
	for (int rule = 0; rule < RIG_N_WIRING_RULES; rule++)
		ck_assert_msg((int)run->state[rule] == WIRE[_i].state[rule], "%s: %s %s",
			WIRE[_i].what, rig_wiring_rule_text((rig_wiring_rule)rule),
			rig_wiring_state_text(run->state[rule]));
	ck_assert_int_eq(run->worst, WIRE[_i].worst);
	ck_assert_uint_eq(findings->n_of[run->state[run->worst]], 1);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* A circuit of 20 A with a heater of 12.5 A for hours and a kettle of 12.5 A: either runs, both do
 * not. The wire then carries the 20 A that the breaker lets by, and needs no larger breaker. */
START_TEST(loads_that_pass_the_breaker_together_load_the_wire_to_the_breaker)
{
	rig_file *file = file_of(
		"\"circuits\": [{\"id\": \"galley\", \"breaker_a\": 20, \"awg\": \"12\"}], "
		"\"loads\": ["
		"{\"id\": \"a\", \"circuit\": \"galley\", \"behaviour\": \"resistive\", "
		"\"running_w\": 1500, \"daily_use_h\": 8, \"continuous\": true},"
		"{\"id\": \"b\", \"circuit\": \"galley\", \"behaviour\": \"resistive\", "
		"\"running_w\": 1500, \"daily_use_h\": 1}], "
		"\"wires\": [{\"id\": \"run\", \"circuit\": \"galley\", \"length_ft\": 15}]");
	rig_wiring_findings *findings = ask(file);
	ck_assert_uint_eq(findings->n_runs, 1);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_int_eq(run->amps_from, RIG_AMPS_OF_CIRCUIT);
	ck_assert_int_eq(run->rating.awg, 12);
	ck_assert_double_eq_tol(run->amps_a.likely, 20, 1e-9);
	ck_assert_double_eq_tol(run->need_a.likely, 28.125, 1e-9);
	ck_assert_int_eq(run->state[RIG_WIRING_FUSE_LOAD], RIG_WIRING_DEPENDS);
	ck_assert_int_eq(run->state[RIG_WIRING_FUSE_WIRE], RIG_WIRING_HOLDS);
	ck_assert_double_eq(run->choice.fuse_a, 20);
	ck_assert_int_eq(run->choice.awg_by[RIG_BY_SMALL], 12);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* Two loads of 8 A for hours that may draw 12 A each, found by fuzzing: both at their high are 24
 * A, of which the breaker lets by 20. The 16 A of the likely case ask for 20 A all the same, and
 * the worst case for no less than that: 20 A, 16 of them for hours. */
START_TEST(a_breaker_that_caps_the_worst_case_alone_leaves_it_the_worst)
{
	rig_file *file =
		file_of("\"circuits\": [{\"id\": \"galley\", \"breaker_a\": 20, \"awg\": \"12\"}], "
			"\"loads\": [{\"id\": \"a\", \"circuit\": \"galley\", \"count\": 2, "
			"\"behaviour\": \"resistive\", \"daily_use_h\": 8, \"continuous\": true, "
			"\"running_w\": {\"low\": 900, \"likely\": 960, \"high\": 1440, "
			"\"from\": \"estimated\"}}]");
	rig_wiring_findings *findings = ask(file);
	ck_assert_uint_eq(findings->n_runs, 1);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_double_eq_tol(run->amps_a.likely, 16, 1e-9);
	ck_assert_double_eq_tol(run->amps_a.high, 20, 1e-9);
	ck_assert_double_eq_tol(run->continuous_a.low, 15, 1e-9);
	ck_assert_double_eq_tol(run->continuous_a.likely, 16, 1e-9);
	ck_assert_double_eq_tol(run->continuous_a.high, 16, 1e-9);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(a_single_load_above_its_breaker_fails)
{
	rig_file *file =
		file_of("\"circuits\": [{\"id\": \"heat\", \"breaker_a\": 15, \"awg\": \"14\"}], "
			"\"loads\": ["
			"{\"id\": \"a\", \"circuit\": \"heat\", \"behaviour\": \"resistive\", "
			"\"running_w\": 1500, \"daily_use_h\": 8, \"continuous\": true}]");
	rig_wiring_findings *findings = ask(file);
	ck_assert_uint_eq(findings->n_runs, 1);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_int_eq(run->wire, -1);
	/* 12.5 A for hours: 15.6 A of 15 */
	ck_assert_double_eq_tol(run->need_a.likely, 15.625, 1e-9);
	ck_assert_int_eq(run->state[RIG_WIRING_FUSE_LOAD], RIG_WIRING_FAILS);
	ck_assert_double_eq(run->choice.fuse_a, 20);
	ck_assert_int_eq(run->choice.wire.awg, 12);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* 2,500 W are 20.8 A: no other load is to blame, so nothing is capped at the breaker's 15 A. */
START_TEST(a_single_load_is_not_capped_at_its_breaker)
{
	rig_file *file =
		file_of("\"circuits\": [{\"id\": \"heat\", \"breaker_a\": 15, \"awg\": \"14\"}], "
			"\"loads\": ["
			"{\"id\": \"a\", \"circuit\": \"heat\", \"behaviour\": \"resistive\", "
			"\"running_w\": 2500, \"daily_use_h\": 1}]");
	rig_wiring_findings *findings = ask(file);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_double_eq_tol(run->amps_a.likely, 2500 / 120.0, 1e-9);
	ck_assert_int_eq(run->state[RIG_WIRING_AMPACITY], RIG_WIRING_FAILS);
	ck_assert_double_eq(run->choice.fuse_a, 25);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(dc_loads_are_added_up_at_the_bank_s_volts)
{
	rig_file *file = file_of(
		"\"circuits\": [{\"id\": \"dc\", \"supply\": \"dc\", \"breaker_a\": 30, \"awg\": "
		"\"10\"}], "
		"\"loads\": [{\"id\": \"a\", \"circuit\": \"dc\", \"running_w\": 60, \"volts_v\": "
		"12, "
		"\"count\": 2, \"daily_use_h\": 1}, {\"id\": \"b\", \"circuit\": \"dc\", "
		"\"running_w\": 96, \"volts_v\": 12, \"daily_use_h\": 5, \"continuous\": true}]");
	rig_wiring_findings *findings = ask(file);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_double_eq_tol(run->amps_a.likely, 18, 1e-9);
	ck_assert_double_eq_tol(run->need_a.likely, 10 + 8 * 1.25, 1e-9);
	ck_assert_int_eq(run->bank, 0);
	ck_assert_int_eq(run->state[RIG_WIRING_DROP], RIG_WIRING_UNKNOWN);
	ck_assert_int_eq(run->state[RIG_WIRING_FUSE_WIRE], RIG_WIRING_HOLDS);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* The bank gives 2,149 A at least, but a branch's fuse stands behind a wire and another fuse. */
START_TEST(a_weak_fuse_away_from_the_battery_may_do)
{
	rig_file *file = file_of(
		"\"circuits\": [{\"id\": \"dc\", \"supply\": \"dc\", \"breaker_a\": 15}], "
		"\"wires\": [{\"id\": \"a\", \"circuit\": \"dc\", \"awg\": \"14\", "
		"\"interrupt_a\": 1000}, {\"id\": \"b\", \"circuit\": \"dc\", \"awg\": \"14\", "
		"\"interrupt_a\": 10000}]");
	rig_wiring_findings *findings = ask(file);
	ck_assert_int_eq(findings->runs[0].state[RIG_WIRING_INTERRUPT], RIG_WIRING_DEPENDS);
	ck_assert_int_eq(findings->runs[1].state[RIG_WIRING_INTERRUPT], RIG_WIRING_HOLDS);
	ck_assert_double_eq(findings->runs[0].largest_fuse_a, 15);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

/* 2,400 W across both hots: 10 A, and the drop is held against 240 V. */
START_TEST(a_circuit_across_both_hots_has_240_v)
{
	rig_file *file = file_of(
		"\"circuits\": [{\"id\": \"dryer\", \"leg\": \"both\", \"breaker_a\": 20, \"awg\": "
		"\"12\"}], \"loads\": [{\"id\": \"a\", \"circuit\": \"dryer\", \"volts_v\": 240, "
		"\"behaviour\": \"resistive\", \"running_w\": 2400, \"daily_use_h\": 1}], "
		"\"wires\": [{\"id\": \"run\", \"circuit\": \"dryer\", \"length_ft\": 30}]");
	rig_wiring_findings *findings = ask(file);
	const rig_wiring_run *run = &findings->runs[0];
	ck_assert_double_eq(run->volts_v, 240);
	ck_assert_double_eq_tol(run->amps_a.likely, 10, 1e-9);
	ck_assert_double_eq_tol(run->drop_v.likely / 240, run->drop_frac.likely, 1e-12);
	rig_wiring_free(findings);
	rig_file_free(file);
}
END_TEST

static const struct {
	int ah, parallel;
	bool fuse_each;
} LARGE[] = {{500, 1, false}, {600, 1, false}, {250, 2, false}, {260, 2, true}};

START_TEST(large_parallel_banks_have_a_fuse_at_each_battery)
{
	char text[512];
	const int n = snprintf(text, sizeof text,
		"{\"format\": \"rigbudget/1\", \"name\": \"Test\", \"shore\": {\"cord_a\": 30}, "
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"agm\", \"nominal_v\": 12, "
		"\"capacity_ah\": %d, \"parallel\": %d}], \"wires\": [{\"id\": \"run\", \"bank\": "
		"\"house\", \"amps_a\": 90}]}",
		LARGE[_i].ah, LARGE[_i].parallel);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	ck_assert_int_eq(rig_file_parse(text, (size_t)n, diags, &file), RIG_OK);
	rig_wiring_findings *findings = ask(file);
	ck_assert_int_eq(findings->runs[0].fuse_each, LARGE[_i].fuse_each);
	rig_wiring_free(findings);
	rig_file_free(file);
	rig_diags_free(diags);
}
END_TEST

START_TEST(short_circuits_add_in_parallel_and_not_in_series)
{
	static const outside_series BANK = {SECTION, "short-circuit current of a bank, A",
		"[ABYC-E11], a member's summary: six 6 V batteries in three pairs, 2,400 A each",
		"exact"};
	const rig_bank bank = {.series = 2,
		.parallel = 3,
		.short_circuit_a = rig_figure_of(2400, RIG_FROM_NAMEPLATE)};
	const rig_figure short_a = rig_bank_short_circuit_a(&bank);
	OUTSIDE(&BANK, short_a.likely, 7200, 1e-9, "in series two, in parallel three");
	ck_assert_double_eq_tol(rig_interrupt_asked_a(short_a), 7200, 1e-9);
}
END_TEST

/* Above 10,000 A: 20,000. */
static const struct {
	double high_a, asked_a;
} ASKED[] = {{0, 0}, {3000, 3000}, {10000, 10000}, {10001, 20000}, {20000, 20000}, {44000, 20000}};

START_TEST(large_banks_ask_for_20_000_a)
{
	const rig_figure short_a = {.high = ASKED[_i].high_a};
	ck_assert_double_eq(rig_interrupt_asked_a(short_a), ASKED[_i].asked_a);
}
END_TEST

/* By what the label means: 7.2 V are left of 12.6 at -18 C, so 2.33 times as many amps there. */
START_TEST(cranking_amps_bound_the_short_circuit_from_below)
{
	const rig_bank bank = {
		.parallel = 1, .cold_cranking_a = rig_figure_of(700, RIG_FROM_NAMEPLATE)};
	const rig_figure short_a = rig_bank_short_circuit_a(&bank);
	ck_assert_double_eq_tol(short_a.low, 700 * 12.6 / (12.6 - 7.2), 5);
	ck_assert_double_gt(short_a.high, short_a.likely);
	rig_bank two = bank;
	two.parallel = 2;
	ck_assert_double_eq_tol(rig_bank_short_circuit_a(&two).low, 2 * short_a.low, 1e-9);
}
END_TEST

/* Open volts over ohms, these as k / Ah: common practice, no source. Of 100 Ah, by hand. */
static const struct {
	const char *kind;
	double open_v, k_low, k_likely, k_high;
} SHORTED[] = {
	{"flooded", 12.7, 0.5, 0.9, 1.3},
	{"agm", 12.9, 0.25, 0.38, 0.6},
	{"gel", 12.8, 0.35, 0.5, 0.8},
	{"starting", 12.7, 0.22, 0.35, 0.6},
	{"lithium_iron_phosphate", 13.4, 0.15, 0.25, 0.6},
};

START_TEST(a_short_circuit_is_open_volts_over_resistance)
{
	const rig_bank bank = {.parallel = 1,
		.kind = rig_chemistry_find(SHORTED[_i].kind),
		.total_ah = rig_figure_of(100, RIG_FROM_STATED)};
	ck_assert_ptr_nonnull(bank.kind);
	const rig_figure short_a = rig_bank_short_circuit_a(&bank);
	const double open_v = SHORTED[_i].open_v;
	ck_assert_double_eq_tol(short_a.low, 100 * open_v / SHORTED[_i].k_high, 1e-9);
	ck_assert_double_eq_tol(short_a.likely, 100 * open_v / SHORTED[_i].k_likely, 1e-9);
	ck_assert_double_eq_tol(short_a.high, 100 * open_v / SHORTED[_i].k_low, 1e-9);
}
END_TEST

/* The label's own figure before cranking amps, these before the kind; without a count it is one. */
START_TEST(the_label_of_a_battery_comes_before_its_kind)
{
	rig_bank bank = {.kind = rig_chemistry_find("agm"),
		.total_ah = rig_figure_of(100, RIG_FROM_STATED),
		.cold_cranking_a = rig_figure_of(700, RIG_FROM_NAMEPLATE),
		.short_circuit_a = rig_figure_of(2400, RIG_FROM_NAMEPLATE)};
	ck_assert_double_eq(rig_bank_short_circuit_a(&bank).likely, 2400);
	bank.short_circuit_a = (rig_figure){0};
	/* a warm battery has about half the resistance of one at -18 C, so 1.5 to 2.1 times as many
	 */
	const rig_figure cranked_a = rig_bank_short_circuit_a(&bank);
	ck_assert_double_eq_tol(cranked_a.likely / cranked_a.low, 1.5, 0.01);
	ck_assert_double_eq_tol(cranked_a.high / cranked_a.low, 2.146, 0.01);
	ck_assert_double_eq_tol(cranked_a.low, 1631, 1);
}
END_TEST

START_TEST(a_bank_of_no_known_kind_has_no_short_circuit)
{
	const rig_bank bank = {.parallel = 1, .total_ah = rig_figure_of(100, RIG_FROM_STATED)};
	ck_assert(!rig_figure_given(rig_bank_short_circuit_a(&bank)));
	ck_assert_double_eq(rig_interrupt_asked_a(rig_bank_short_circuit_a(&bank)), 0);
}
END_TEST

static void check_run(const rig_wiring_run *run)
{
	const bool fuse = rig_figure_given(run->fuse_a);
	ck_assert(isfinite(run->amps_a.high) && run->amps_a.low <= run->amps_a.likely &&
		  run->amps_a.likely <= run->amps_a.high);
	ck_assert(isfinite(run->drop_frac.high));
	if (run->state[RIG_WIRING_DROP] == RIG_WIRING_HOLDS)
		ck_assert_double_le(run->drop_frac.high, run->drop_limit_frac);
	if (run->state[RIG_WIRING_FUSE_WIRE] == RIG_WIRING_HOLDS && fuse)
		ck_assert_double_le(run->fuse_a.high, run->rating.fuse_limit_a * (1 + 1e-9));
	if (run->state[RIG_WIRING_FUSE_LOAD] == RIG_WIRING_HOLDS && fuse)
		ck_assert_double_ge(run->fuse_a.low * (1 + 1e-9), run->need_a.high);
}

/* Any coach gets findings whose figures are finite and in order, and whose states agree with them.
 */
START_TEST(random_coaches_are_judged_consistently)
{
	for (uint64_t seed = 1; seed <= 300; seed++) {
		rig_file *file = random_coach(seed);
		rig_wiring_findings *findings = ask(file);
		size_t n = 0;
		for (int i = 0; i <= RIG_WIRING_FAILS; i++)
			n += findings->n_of[i];
		ck_assert_uint_eq(n, findings->n_runs);
		for (size_t i = 0; i < findings->n_runs; i++)
			check_run(&findings->runs[i]);
		rig_wiring_free(findings);
		rig_file_free(file);
	}
}
END_TEST

START_TEST(figures_out_of_order_are_refused)
{
	rig_wire wire;
	rig_wire_clear(&wire);
	wire.id = "run";
	wire.amps_a = (rig_figure){.low = 9, .likely = 5, .high = 5, .from = RIG_FROM_STATED};
	rig_coach coach;
	rig_coach_clear(&coach);
	coach.wires = &wire;
	coach.n_wires = 1;
	rig_wiring_findings *findings = NULL;
	ck_assert_int_eq(rig_wiring_study(&coach, NULL, &findings), RIG_BAD_INPUT);
	wire.amps_a = rig_figure_of(5, RIG_FROM_STATED);
	wire.insulation_c = rig_figure_of(40, RIG_FROM_STATED);
	ck_assert_int_eq(rig_wiring_study(&coach, NULL, &findings), RIG_BAD_INPUT);
	ck_assert_ptr_null(findings);
}
END_TEST

Suite *wiring_suite(void);
Suite *wiring_suite(void)
{
	Suite *suite = suite_create("wiring");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_rule_judges_its_part_of_a_wire, 0, COUNT(WIRE));
	tcase_add_test(all, loads_that_pass_the_breaker_together_load_the_wire_to_the_breaker);
	tcase_add_test(all, a_breaker_that_caps_the_worst_case_alone_leaves_it_the_worst);
	tcase_add_test(all, a_single_load_above_its_breaker_fails);
	tcase_add_test(all, a_single_load_is_not_capped_at_its_breaker);
	tcase_add_test(all, dc_loads_are_added_up_at_the_bank_s_volts);
	tcase_add_test(all, a_weak_fuse_away_from_the_battery_may_do);
	tcase_add_test(all, a_circuit_across_both_hots_has_240_v);
	tcase_add_loop_test(all, large_parallel_banks_have_a_fuse_at_each_battery, 0, COUNT(LARGE));
	tcase_add_test(all, short_circuits_add_in_parallel_and_not_in_series);
	tcase_add_loop_test(all, large_banks_ask_for_20_000_a, 0, COUNT(ASKED));
	tcase_add_test(all, cranking_amps_bound_the_short_circuit_from_below);
	tcase_add_loop_test(all, a_short_circuit_is_open_volts_over_resistance, 0, COUNT(SHORTED));
	tcase_add_test(all, the_label_of_a_battery_comes_before_its_kind);
	tcase_add_test(all, a_bank_of_no_known_kind_has_no_short_circuit);
	tcase_add_test(all, random_coaches_are_judged_consistently);
	tcase_add_test(all, figures_out_of_order_are_refused);
	suite_add_tcase(suite, all);
	return suite;
}
