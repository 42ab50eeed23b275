/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/voltage.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../rig/random_coach.h"
#include "outside.h"
#include "read_coach.h"
#include "suites.h"

/* A coach with its shore and voltage findings. */
typedef struct {
	rig_file *file;
	const rig_coach *coach;
	rig_shore_findings *shore;
	rig_voltage_findings *volts;
} answer;

static answer ask(rig_file *file, const rig_voltage_options *options)
{
	answer a = {.file = file, .coach = rig_file_completed(file)};
	ck_assert_int_eq(rig_shore_study(a.coach, NULL, &a.shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(a.coach, a.shore, options, &a.volts), RIG_OK);
	return a;
}

static void drop(answer *a)
{
	rig_voltage_free(a->volts);
	rig_shore_free(a->shore);
	rig_file_free(a->file);
}

static int set_of(const answer *a, const char *name)
{
	for (size_t i = 0; i < a->shore->n_sets; i++)
		if (name ? a->shore->sets[i].name && strcmp(a->shore->sets[i].name, name) == 0
			 : a->shore->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return (int)i;
	ck_abort_msg("no such set");
	return -1;
}

static int supply_of(const answer *a, const char *id)
{
	for (size_t i = 0; i < a->shore->n_supplies; i++)
		if (strcmp(a->shore->supplies[i].pedestal->id, id) == 0)
			return (int)i;
	ck_abort_msg("no such supply");
	return -1;
}

static const rig_voltage_case *case_of(const answer *a, const char *set, const char *supply)
{
	const size_t at =
		(size_t)set_of(a, set) * a->shore->n_supplies + (size_t)supply_of(a, supply);
	ck_assert_uint_lt(at, a->volts->n_cases);
	return &a->volts->cases[at];
}

/* Arithmetic in doubles on 120 V. */
static const double TOL = 1e-9;

/* A 20 m cord of 10 AWG is 131.23 ft of loop; stranded copper of that gauge has 1.24 ohm for 1,000
 * ft at 75 C ([NFPA-70] ch. 9 table 8, from memory), at 30 C by 0.00393 a kelvin from 20 C 1.0597,
 * so 0.13906 ohm; 0.6 % for the rounding of the table. */
static const outside_series CORD = {"supplies; breakers; conductors",
	"hot and neutral of a cord at 30 C, ohm", "[NFPA-70] ch. 9 table 8, stranded; from memory",
	"0.6 %, the rounding of the table"};

START_TEST(a_cord_has_the_resistance_of_the_codes_table)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"cord_length_m\": 20, \"cord_awg\": \"10\", "
				  "\"source_ohm\": 0.05}",
			       "\"loads\": []"),
		NULL);
	const rig_voltage_path *path = &a.volts->paths[supply_of(&a, "30A")];
	OUTSIDE_CLOSE(&CORD, path->cord_ohm.likely, 0.13906, 0.006, "10 AWG, 20 m");
	ck_assert(!rig_figure_given(path->adapter_ohm));
	ck_assert_double_eq_tol(path->total_ohm.likely, path->cord_ohm.likely + 0.05, TOL);
	ck_assert_double_eq_tol(path->drop_at_limit_v.likely, 30 * path->total_ohm.likely, TOL);
	/* on a smaller receptacle an adapter is needed, and 15 A is the limit */
	const rig_voltage_path *small = &a.volts->paths[supply_of(&a, "15A")];
	ck_assert(rig_figure_given(small->adapter_ohm));
	/* 0.3 to 0.6 m (common practice, no source), likely 0.45 */
	ck_assert_double_eq_tol(small->adapter_ohm.low / small->adapter_ohm.likely, 2 / 3.0, TOL);
	ck_assert_double_eq_tol(small->adapter_ohm.high / small->adapter_ohm.likely, 4 / 3.0, TOL);
	ck_assert_double_eq_tol(small->drop_at_limit_v.likely, 15 * small->total_ohm.likely, TOL);
	drop(&a);
}
END_TEST

START_TEST(a_stated_extension_counts_on_every_supply)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"adapter_length_ft\": 50, \"adapter_awg\": "
				  "\"14\"}",
			       "\"loads\": []"),
		NULL);
	/* [NFPA-70] as above: 14 AWG 3.14 ohm stranded at 75 C, 2.683 at 30 C, for 100 ft */
	for (size_t i = 0; i < a.volts->n_paths; i++)
		ck_assert_double_eq_tol(a.volts->paths[i].adapter_ohm.likely, 0.2683, 0.006 * 0.27);
	drop(&a);
}
END_TEST

/* By hand: two heaters of 1,440 W at 120 V are 5 ohm; the loop has R ohm; 118 V at the pedestal
 * drive 118 / (5 + R). One alone is 10 ohm. */
START_TEST(heaters_at_the_end_of_a_cord_follow_ohms_law)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 118, \"source_ohm\": "
				  "0.2, \"cord_length_m\": 9}",
			       "\"loads\": [{\"id\": \"a\", \"running_w\": 1440, \"behaviour\": "
			       "\"resistive\", \"priority\": 1}, {\"id\": \"b\", \"running_w\": "
			       "1440, \"behaviour\": \"resistive\", \"priority\": 2}]"),
		NULL);
	const rig_voltage_case *of = case_of(&a, NULL, "30A");
	const rig_voltage_path *path = &a.volts->paths[of->supply];
	const double ohm = path->total_ohm.likely;
	const double one_v = 118 * 10 / hypot(10 + ohm, 0), two_v = 118 * 5 / (5 + ohm);
	/* the cord's 3 milliohm of reactance turn the volts by a little: 1e-6 of them */
	const double tol = 2e-4;
	ck_assert_double_eq_tol(of->all.leg_v[0].likely, two_v, tol);
	ck_assert_double_eq_tol(of->all.hot_a[0].likely, two_v / 5, tol);
	ck_assert_double_eq_tol(of->all.neutral_a.likely, two_v / 5, tol);
	ck_assert_double_eq_tol(of->small.leg_v[0].likely, 118, TOL);
	ck_assert_uint_eq(of->n_steps, 2);
	ck_assert_int_eq(of->steps[0].added.load, 0);
	ck_assert_double_eq_tol(of->steps[0].drop_v, 118 - one_v, tol);
	ck_assert_double_eq_tol(of->steps[1].drop_v, one_v - two_v, tol);
	ck_assert_double_eq_tol(of->all.pedestal_v.likely, 118 - two_v / 5 * 0.2, tol);
	ck_assert_double_eq_tol(
		of->all.lost_w.likely, two_v * two_v / 25 * path->cord_ohm.likely, 0.02);
	ck_assert(!rig_figure_given(of->all.leg_v[1]) && !rig_figure_given(of->all.across_v));
	ck_assert_uint_eq(of->n_more, 0);
	drop(&a);
}
END_TEST

/* By hand: 1,440 W are 10 ohm, 1,600 W 9, 1,200 W 12; the most draw makes the least volts. */
START_TEST(the_low_end_has_the_most_draw)
{
	answer a =
		ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": {\"low\": 114, \"likely\": "
			       "118, \"high\": 122, \"from\": \"measured\"}, \"source_ohm\": "
			       "0.4, \"cord_length_m\": 9}",
			    "\"loads\": [{\"id\": \"a\", \"running_w\": {\"low\": 1200, "
			    "\"likely\": 1440, \"high\": 1600, \"from\": \"estimated\"}, "
			    "\"behaviour\": \"resistive\"}]"),
			NULL);
	const rig_voltage_case *of = case_of(&a, NULL, "30A");
	const double ohm = a.volts->paths[of->supply].total_ohm.likely;
	ck_assert_double_eq_tol(of->all.leg_v[0].low, 114 * 9 / (9 + ohm), 2e-4);
	ck_assert_double_eq_tol(of->all.leg_v[0].high, 122 * 12 / (12 + ohm), 2e-4);
	drop(&a);
}
END_TEST

/* Three heaters of unknown leg, two in the set: they stay on a leg each when the third is tried. */
START_TEST(a_load_tried_on_top_leaves_the_others_where_they_are)
{
	static const char HEATER[] =
		"{\"id\": \"%c\", \"running_w\": 1440, \"behaviour\": \"resistive\"}";
	char one[100], two[100], three[100], rest[500];
	snprintf(one, sizeof one, HEATER, 'a');
	snprintf(two, sizeof two, HEATER, 'b');
	snprintf(three, sizeof three, HEATER, 'c');
	snprintf(rest, sizeof rest,
		"\"loads\": [%s, %s, %s], \"together\": [{\"name\": \"Two\", \"loads\": "
		"[\"a\", \"b\"]}]",
		one, two, three);
	answer a = ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 120}", rest), NULL);
	const rig_voltage_case *of = case_of(&a, "Two", "50A");
	ck_assert_uint_eq(of->n_more, 1);
	const rig_figure *hot_a = of->more[0].state.hot_a;
	/* 12 A and 24 A less what the volts take off */
	ck_assert_double_eq_tol(fmin(hot_a[0].likely, hot_a[1].likely), 12, 0.5);
	ck_assert_double_eq_tol(fmax(hot_a[0].likely, hot_a[1].likely), 24, 1);
	drop(&a);
}
END_TEST

/* A row of the ranges: volts at a coach that draws nothing are the open ones. */
static const struct {
	double open_v;
	rig_c84_edition edition;
	rig_volts_range range, service;
} RANGE[] = {
	/* [ANSI-C841]: utilization A 108 to 126 (110 in 1995), B 104 to 127 (106); service A 114 to
	 * 126, B 110 to 127 */
	{120, RIG_C84_2011, RIG_VOLTS_RANGE_A, RIG_VOLTS_RANGE_A},
	{113.9, RIG_C84_2011, RIG_VOLTS_RANGE_A, RIG_VOLTS_RANGE_B},
	{108.5, RIG_C84_2011, RIG_VOLTS_RANGE_A, RIG_VOLTS_LOW},
	{108.5, RIG_C84_1995, RIG_VOLTS_RANGE_B, RIG_VOLTS_LOW},
	{105, RIG_C84_2011, RIG_VOLTS_RANGE_B, RIG_VOLTS_LOW},
	{105, RIG_C84_1995, RIG_VOLTS_LOW, RIG_VOLTS_LOW},
	{103.9, RIG_C84_2011, RIG_VOLTS_LOW, RIG_VOLTS_LOW},
	{126.5, RIG_C84_2011, RIG_VOLTS_RANGE_B, RIG_VOLTS_RANGE_B},
	{127.5, RIG_C84_1995, RIG_VOLTS_HIGH, RIG_VOLTS_HIGH},
};

START_TEST(volts_are_judged_by_the_named_edition)
{
	char shore[80];
	snprintf(
		shore, sizeof shore, "{\"cord_a\": 50, \"pedestal_open_v\": %g}", RANGE[_i].open_v);
	const rig_voltage_options options = {.edition = RANGE[_i].edition};
	answer a = ask(read_coach(shore, "\"loads\": []"), &options);
	const rig_voltage_case *of = case_of(&a, NULL, "50A");
	ck_assert_int_eq(of->all.range, RANGE[_i].range);
	ck_assert_int_eq(a.volts->open_range, RANGE[_i].service);
	ck_assert_double_eq_tol(of->all.across_v.likely, 2 * RANGE[_i].open_v, TOL);
	drop(&a);
}
END_TEST

/* Two heaters on legs of one cord: 40 and 25 A at 120 V. Next to nothing in the wires, so the
 * neutral carries 15 A; on one phase 65 A; and broken, 3 and 4.8 ohm share 240 V, 92.3 and 147.7 V.
 */
static const char TWO_LEGS[] =
	"\"circuits\": [{\"id\": \"one\", \"leg\": \"L1\", \"breaker_a\": 50}, {\"id\": \"two\", "
	"\"leg\": \"L2\", \"breaker_a\": 50}], \"loads\": [{\"id\": \"a\", \"circuit\": \"one\", "
	"\"running_w\": 4800, \"behaviour\": \"resistive\"}, {\"id\": \"b\", \"circuit\": \"two\", "
	"\"running_w\": 3000, \"behaviour\": \"resistive\"}]";

START_TEST(a_wrong_neutral_shows_what_it_would_do)
{
	answer a = ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 120, \"source_ohm\": 0, "
				  "\"cord_length_m\": 0.1, \"cord_awg\": \"4/0\"}",
			       TWO_LEGS),
		NULL);
	const rig_voltage_neutral *neutral = &a.volts->neutral;
	ck_assert(neutral->given);
	/* 0.1 m of 4/0 is 36 microohm, of which 65 A take 2 mV */
	const double tol = 0.005;
	ck_assert_double_eq_tol(neutral->sound_neutral_a, 15, tol);
	ck_assert_double_eq_tol(neutral->same_phase_neutral_a, 65, tol);
	ck_assert_double_eq_tol(neutral->open_neutral_leg_v[0], 240 * 3 / 7.8, tol);
	ck_assert_double_eq_tol(neutral->open_neutral_leg_v[1], 240 * 4.8 / 7.8, tol);
	/* on an adapter from one hot the neutral carries the sum: a fifth of a volt for the adapter
	 */
	const rig_voltage_case *one = case_of(&a, NULL, "30A");
	ck_assert_double_eq_tol(one->all.neutral_a.likely, 65, 0.5);
	ck_assert_double_eq(one->all.neutral_a.likely, one->all.hot_a[0].likely);
	drop(&a);
}
END_TEST

/* By hand, loop equations of two legs with R in each conductor: (R1 + 2 R) i1 - R i2 = E and
 * -R i1 + (R2 + 2 R) i2 = E. The fuller leg sags, the other rises above it. */
START_TEST(the_legs_of_a_split_supply_sag_as_loop_equations_say)
{
	answer a = ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 120, \"source_ohm\": "
				  "0.3, \"cord_length_m\": 0.1, \"cord_awg\": \"4/0\"}",
			       TWO_LEGS),
		NULL);
	const rig_voltage_case *of = case_of(&a, NULL, "50A");
	const double r = a.volts->paths[of->supply].total_ohm.likely / 2;
	const double p = 3 + 2 * r, q = 4.8 + 2 * r;
	const double i1 = 120 * (q + r) / (p * q - r * r), i2 = 120 * (p + r) / (p * q - r * r);
	ck_assert_double_eq_tol(of->all.leg_v[0].likely, 3 * i1, 1e-6);
	ck_assert_double_eq_tol(of->all.leg_v[1].likely, 4.8 * i2, 1e-6);
	ck_assert_double_eq_tol(of->all.neutral_a.likely, i1 - i2, 1e-6);
	ck_assert_int_eq(of->all.low_leg, 0);
	ck_assert_double_gt(of->all.leg_v[1].likely, of->all.leg_v[0].likely + 3);
	drop(&a);
}
END_TEST

/* A roof unit of 1,600 W behind 1 ohm: near 104 V at the coach. */
START_TEST(a_compressor_on_a_weak_supply_is_flagged)
{
	static const char REST[] = "\"loads\": [{\"id\": \"air\", \"running_w\": 1600, "
				   "\"power_factor\": 0.97, \"behaviour\": \"%s\"}]";
	for (int compressor = 0; compressor < 2; compressor++) {
		char rest[200];
		snprintf(rest, sizeof rest, REST, compressor ? "compressor" : "electronic");
		answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 117, "
					  "\"source_ohm\": 1, \"cord_length_m\": 9}",
				       rest),
			NULL);
		const rig_voltage_case *of = case_of(&a, NULL, "30A");
		ck_assert_double_lt(of->all.leg_v[0].likely, RIG_COMPRESSOR_FLOOR_V);
		ck_assert(of->all.compressor_low == (compressor == 1));
		ck_assert(of->all.compressor_may_be_low == (compressor == 1));
		ck_assert_int_eq(of->all.range, RIG_VOLTS_LOW);
		drop(&a);
	}
}
END_TEST

START_TEST(a_large_load_outside_the_set_is_tried_on_top_of_it)
{
	answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120}",
			       "\"loads\": [{\"id\": \"a\", \"running_w\": 1500, \"behaviour\": "
			       "\"resistive\"}, {\"id\": \"b\", \"running_w\": 1000, "
			       "\"behaviour\": \"resistive\"}, {\"id\": \"c\", \"running_w\": 100, "
			       "\"behaviour\": \"resistive\"}], \"together\": [{\"name\": "
			       "\"One\", \"loads\": [\"b\", \"c\"]}]"),
		NULL);
	const rig_voltage_case *one = case_of(&a, "One", "30A");
	const rig_voltage_case *all = case_of(&a, NULL, "30A");
	ck_assert_uint_eq(one->n_steps, 1);
	ck_assert_uint_eq(one->n_more, 1);
	ck_assert_int_eq(one->more[0].added.load, 0);
	ck_assert_double_eq_tol(one->more[0].state.leg_v[0].likely, all->all.leg_v[0].likely, TOL);
	ck_assert_double_eq_tol(
		one->more[0].drop_v, one->all.leg_v[0].likely - all->all.leg_v[0].likely, TOL);
	drop(&a);
}
END_TEST

/* Nobody says the leg of a heater: the low end has it on the leg in question, the high end not. */
START_TEST(a_load_of_unknown_leg_widens_both_legs)
{
	answer a = ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 120, \"source_ohm\": "
				  "0.2, \"cord_length_m\": 9}",
			       "\"loads\": [{\"id\": \"a\", \"running_w\": 1500, \"behaviour\": "
			       "\"resistive\"}]"),
		NULL);
	const rig_voltage_state *all = &case_of(&a, NULL, "50A")->all;
	for (int leg = 0; leg < 2; leg++) {
		ck_assert_double_lt(all->leg_v[leg].low, 118);
		ck_assert_double_gt(all->leg_v[leg].high, 120); /* its neutral lifts the other */
	}
	drop(&a);
}
END_TEST

static void check_state(const rig_voltage_state *state, const rig_voltage_path *path)
{
	for (int leg = 0; leg < 2; leg++) {
		const rig_figure v = state->leg_v[leg];
		ck_assert(v.low <= v.likely && v.likely <= v.high && isfinite(v.high));
	}
	/* a neutral can lift the lighter leg above the open volts; never the graver one's low */
	ck_assert_double_le(state->leg_v[state->low_leg].low, path->open_v.likely + 1e-9);
	ck_assert(state->at_low >= RIG_VOLTS_RANGE_A && state->range <= RIG_VOLTS_LOW);
	ck_assert(state->compressor_may_be_low || !state->compressor_low);
	ck_assert_double_ge(state->lost_w.low, 0);
}

START_TEST(random_coaches_hold_together)
{
	for (uint64_t seed = 1; seed <= 150; seed++) {
		answer a = ask(random_coach(seed), NULL);
		for (size_t i = 0; i < a.volts->n_cases; i++) {
			const rig_voltage_case *of = &a.volts->cases[i];
			const rig_voltage_path *path = &a.volts->paths[of->supply];
			check_state(&of->all, path);
			for (size_t k = 0; k < of->n_steps; k++)
				check_state(&of->steps[k].state, path);
			const rig_voltage_state *last =
				of->n_steps ? &of->steps[of->n_steps - 1].state : &of->small;
			ck_assert_double_eq_tol(
				last->leg_v[0].likely, of->all.leg_v[0].likely, 1e-7);
			/* on one hot all that is added pulls down */
			if (a.shore->supplies[of->supply].n_hots == 1)
				for (size_t k = 0; k < of->n_steps; k++)
					ck_assert_double_ge(of->steps[k].drop_v, -1e-9);
		}
		drop(&a);
	}
}
END_TEST

START_TEST(a_coach_without_figures_of_its_supply_is_refused)
{
	const rig_coach coach = {.cord_a = 30};
	const rig_shore_findings shore = {.coach = &coach};
	rig_voltage_findings *volts = NULL;
	ck_assert_int_eq(rig_voltage_study(&coach, &shore, NULL, &volts), RIG_BAD_INPUT);
	ck_assert_ptr_null(volts);
	rig_voltage_free(NULL);
}
END_TEST

START_TEST(each_range_has_its_words)
{
	ck_assert_str_eq(rig_volts_range_text(RIG_VOLTS_LOW), "below range B");
	ck_assert_str_eq(rig_volts_range_text(RIG_VOLTS_RANGE_A), "within range A");
	ck_assert_str_ne(rig_c84_edition_text(RIG_C84_1995), rig_c84_edition_text(RIG_C84_2011));
}
END_TEST

#define HEATER(id, more, watts)                                                                    \
	"{\"id\": \"" id "\", \"behaviour\": \"resistive\", " more "\"running_w\": " watts "}"
#define RANGE_W "{\"low\": 1200, \"likely\": 1440, \"high\": 1600, \"from\": \"estimated\"}"

/* The order of the steps: by priority, then from the smallest draw up, then by id. What is below
 * 600 W is no step; two of 650 W are one of 1,300. */
static const struct {
	const char *loads;
	int order[3];
} LADDER[] = {
	{HEATER("a", "\"priority\": 3, ", "700") ", " HEATER(
		 "b", "\"priority\": 1, ", "900") ", " HEATER("c", "\"priority\": 2, ", "800"),
		{1, 2, 0}},
	{HEATER("a", "", "1200") ", " HEATER("b", "", "600") ", " HEATER("c", "", "900"),
		{1, 2, 0}},
	{HEATER("c", "", "900") ", " HEATER("a", "", "900") ", " HEATER("b", "", "900"), {1, 2, 0}},
	{HEATER("a", "\"count\": 2, ", "650") ", " HEATER("b", "", "1000") ", " HEATER(
		 "c", "", "1200"),
		{1, 2, 0}},
};

START_TEST(large_loads_come_on_in_order_of_priority_then_of_draw)
{
	char rest[600];
	snprintf(rest, sizeof rest, "\"loads\": [%s, %s]", LADDER[_i].loads,
		HEATER("small", "\"priority\": 1, ", "599"));
	answer a = ask(read_coach("{\"cord_a\": 30, \"pedestal_open_v\": 120}", rest), NULL);
	const rig_voltage_case *of = case_of(&a, NULL, "30A");
	ck_assert_uint_eq(of->n_steps, 3);
	for (int i = 0; i < 3; i++)
		ck_assert_int_eq(of->steps[i].added.load, LADDER[_i].order[i]);
	ck_assert_double_eq_tol(of->steps[2].state.leg_v[0].likely, of->all.leg_v[0].likely, TOL);
	/* the small one is on from the start: 599 W are near 5 A */
	ck_assert_double_eq_tol(of->small.hot_a[0].likely, 5, 0.2);
	drop(&a);
}
END_TEST

/* Two heaters, one on each leg, 9, 10 or 12 ohm. On one hot the low end has both at their most, the
 * high end both at their least. On two, the low end of leg 1 has leg 2 at its least, since its
 * neutral current helps least: loop equations as above. */
START_TEST(the_other_leg_errs_the_way_that_is_worst)
{
	answer a =
		ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 118, \"source_ohm\": 0.3, "
			       "\"cord_length_m\": 0.1, \"cord_awg\": \"4/0\"}",
			    "\"circuits\": [{\"id\": \"one\", \"leg\": \"L1\", \"breaker_a\": 20}, "
			    "{\"id\": \"two\", \"leg\": \"L2\", \"breaker_a\": 20}], \"loads\": "
			    "[" HEATER("a", "\"circuit\": \"one\", ", RANGE_W) ", " HEATER(
				    "b", "\"circuit\": \"two\", ", RANGE_W) "]"),
			NULL);
	const rig_voltage_case *shared = case_of(&a, NULL, "30A");
	const rig_figure ohm = a.volts->paths[shared->supply].total_ohm;
	ck_assert_double_eq_tol(shared->all.leg_v[0].low, 118 * 4.5 / (4.5 + ohm.high), 2e-4);
	ck_assert_double_eq_tol(shared->all.leg_v[0].high, 118 * 6 / (6 + ohm.low), 2e-4);

	const rig_voltage_case *split = case_of(&a, NULL, "50A");
	const double r = a.volts->paths[split->supply].total_ohm.likely / 2;
	const double ends_ohm[2][2] = {{9, 12}, {12, 9}};
	for (int end = 0; end < 2; end++) {
		const double p = ends_ohm[end][0] + 2 * r, q = ends_ohm[end][1] + 2 * r;
		const double own_v = ends_ohm[end][0] * 118 * (q + r) / (p * q - r * r);
		for (int leg = 0; leg < 2; leg++)
			ck_assert_double_eq_tol(
				end == 0 ? split->all.leg_v[leg].low : split->all.leg_v[leg].high,
				own_v, 1e-6);
	}
	/* alike on both legs: of equals leg 1, and no likely current in the neutral */
	ck_assert_int_eq(split->all.low_leg, 0);
	ck_assert_double_eq_tol(split->all.neutral_a.likely, 0, 1e-9);
	ck_assert_double_gt(split->all.neutral_a.high, 1.5);
	drop(&a);
}
END_TEST

/* By hand: 5 ohm on leg 2 alone behind R in each conductor: i = 118 / (5 + 2 R) through hot 2 and
 * the neutral. Volts at the pedestal: the source has 0.2 of the way's ohm. */
START_TEST(the_lower_leg_is_the_one_that_is_told)
{
	answer a = ask(
		read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 118, \"source_ohm\": 0.2, "
			   "\"cord_length_m\": 9}",
			"\"circuits\": [{\"id\": \"two\", \"leg\": \"L2\", \"breaker_a\": 30}], "
			"\"loads\": [" HEATER("a", "\"circuit\": \"two\", ", "2880") "]"),
		NULL);
	const rig_voltage_case *of = case_of(&a, NULL, "50A");
	const double ohm = a.volts->paths[of->supply].total_ohm.likely;
	const double amps_a = 118 / (5 + ohm);
	ck_assert_int_eq(of->all.low_leg, 1);
	ck_assert_double_eq_tol(of->all.leg_v[1].likely, 5 * amps_a, 2e-4);
	/* the neutral lifts the leg without a load by its half of the drop */
	ck_assert_double_eq_tol(of->all.leg_v[0].likely, 118 + amps_a * ohm / 2, 2e-4);
	ck_assert_double_eq_tol(of->all.across_v.likely, 236 - amps_a * ohm / 2, 2e-4);
	ck_assert_double_eq_tol(of->all.pedestal_v.likely, 118 - 0.2 * amps_a, 2e-4);
	ck_assert_double_eq_tol(of->all.lost_w.likely, amps_a * amps_a * (ohm - 0.2), 0.02);
	ck_assert_double_eq_tol(of->steps[0].drop_v, 118 - 5 * amps_a, 2e-4);
	drop(&a);
}
END_TEST

/* An end is judged by the leg that is worst at that end: leg 1, which the neutral lifts, where the
 * open volts may be 126, the top of range A; leg 2 falls below 108 where they may be 112. */
START_TEST(ends_are_judged_by_the_worst_leg)
{
	answer a = ask(
		read_coach("{\"cord_a\": 50, \"pedestal_open_v\": {\"low\": 112, \"likely\": "
			   "118, \"high\": 126, \"from\": \"estimated\"}, \"source_ohm\": 0.2, "
			   "\"cord_length_m\": 9}",
			"\"circuits\": [{\"id\": \"two\", \"leg\": \"L2\", \"breaker_a\": 30}], "
			"\"loads\": [" HEATER("a", "\"circuit\": \"two\", ", "2880") "]"),
		NULL);
	const rig_voltage_state *all = &case_of(&a, NULL, "50A")->all;
	ck_assert_int_eq(all->range, RIG_VOLTS_RANGE_A);
	ck_assert_int_eq(all->at_low, RIG_VOLTS_RANGE_B);
	ck_assert_int_eq(all->at_high, RIG_VOLTS_HIGH);
	drop(&a);
}
END_TEST

/* A compressor of 240 V is judged by half of what is across the legs; one of 120 V by its own leg.
 * Behind one ohm of source, half of it in each conductor: near 20 A take 20 V of the own leg's 117;
 * near 9 A take 9 V of 234 across, and half of those is above 110. */
static const struct {
	const char *leg, *volts;
	bool low;
} MACHINE[] = {{"L1", "120", true}, {"L2", "120", true}, {"both", "240", false}};

START_TEST(a_compressor_is_judged_by_its_own_volts)
{
	char rest[500];
	snprintf(rest, sizeof rest,
		"\"circuits\": [{\"id\": \"c\", \"leg\": \"%s\", \"breaker_a\": 30}], \"loads\": "
		"[{\"id\": \"air\", \"circuit\": \"c\", \"volts_v\": %s, \"running_w\": 1900, "
		"\"power_factor\": 0.97, \"behaviour\": \"compressor\"}]",
		MACHINE[_i].leg, MACHINE[_i].volts);
	answer a = ask(read_coach("{\"cord_a\": 50, \"pedestal_open_v\": 117, \"source_ohm\": 1, "
				  "\"cord_length_m\": 9}",
			       rest),
		NULL);
	const rig_voltage_state *all = &case_of(&a, NULL, "50A")->all;
	ck_assert(all->compressor_low == MACHINE[_i].low);
	drop(&a);
}
END_TEST

/* The same for other gauges, 1.0393 / 1.2162 of the table's ohm at 75 C; and the usual gauge of a
 * cord and an adapter where nobody says: 6 AWG for 50 A, 10 for 30, 12 for 20, 14 for 15 (common
 * practice, no source). */
static const struct {
	int cord_a;
	const char *awg;
	double table_ohm;
} GAUGE[] = {
	{50, "\"4/0\"", 0.0608},
	{50, "\"2/0\"", 0.0967},
	{50, "\"1/0\"", 0.122},
	{50, "\"4\"", 0.308},
	{50, "null", 0.491},
	{30, "null", 1.24},
	{20, "null", 1.98},
	{15, "null", 3.14},
};

START_TEST(a_cord_has_the_gauge_that_is_stated_or_usual)
{
	char shore[200], awg[40] = "";
	if (strcmp(GAUGE[_i].awg, "null") != 0)
		snprintf(awg, sizeof awg, "\"cord_awg\": %s, ", GAUGE[_i].awg);
	snprintf(shore, sizeof shore,
		"{\"cord_a\": %d, %s\"cord_length_m\": 20, \"source_ohm\": 0.05}", GAUGE[_i].cord_a,
		awg);
	answer a = ask(read_coach(shore, "\"loads\": []"), NULL);
	const double ohm = GAUGE[_i].table_ohm * 0.131234 * 1.0393 / 1.21615;
	OUTSIDE_CLOSE(&CORD, a.volts->paths[0].cord_ohm.likely, ohm, 0.006, "%d A, AWG %s, 20 m",
		GAUGE[_i].cord_a, awg[0] ? GAUGE[_i].awg : "usual");
	drop(&a);
}
END_TEST

Suite *voltage_suite(void);
Suite *voltage_suite(void)
{
	Suite *suite = suite_create("voltage");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, a_cord_has_the_resistance_of_the_codes_table);
	tcase_add_test(all, a_stated_extension_counts_on_every_supply);
	tcase_add_test(all, heaters_at_the_end_of_a_cord_follow_ohms_law);
	tcase_add_test(all, the_low_end_has_the_most_draw);
	tcase_add_test(all, a_load_tried_on_top_leaves_the_others_where_they_are);
	tcase_add_loop_test(all, volts_are_judged_by_the_named_edition, 0, COUNT(RANGE));
	tcase_add_test(all, a_wrong_neutral_shows_what_it_would_do);
	tcase_add_test(all, the_legs_of_a_split_supply_sag_as_loop_equations_say);
	tcase_add_test(all, a_compressor_on_a_weak_supply_is_flagged);
	tcase_add_test(all, a_large_load_outside_the_set_is_tried_on_top_of_it);
	tcase_add_test(all, a_load_of_unknown_leg_widens_both_legs);
	tcase_add_test(all, random_coaches_hold_together);
	tcase_add_test(all, a_coach_without_figures_of_its_supply_is_refused);
	tcase_add_test(all, each_range_has_its_words);
	tcase_add_loop_test(
		all, large_loads_come_on_in_order_of_priority_then_of_draw, 0, COUNT(LADDER));
	tcase_add_test(all, the_other_leg_errs_the_way_that_is_worst);
	tcase_add_test(all, the_lower_leg_is_the_one_that_is_told);
	tcase_add_test(all, ends_are_judged_by_the_worst_leg);
	tcase_add_loop_test(all, a_compressor_is_judged_by_its_own_volts, 0, COUNT(MACHINE));
	tcase_add_loop_test(all, a_cord_has_the_gauge_that_is_stated_or_usual, 0, COUNT(GAUGE));
	suite_add_tcase(suite, all);
	return suite;
}
