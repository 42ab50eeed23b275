/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Coaches of many loads: what is listed, what is only counted, and that the short ways of working
 * it out give what the plain ones do. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "read_coach.h"
#include "rig/random_coach.h"
#include "rigbudget/shore.h"
#include "rigbudget/voltage.h"
#include "studies/shore_doubt.h"
#include "suites.h"

enum { N_LOADS = 60, LAST = N_LOADS - 1, N_RANDOM = 150, N_TRIALS = 60, MOST_ITEMS = 40 };

/* Sixty heaters of 600 W and more on 30 A, each larger than the one before, all equally important:
 * the five smallest, 3,015 W, fit within 3,600 W, six do not. */
static rig_file *read_many(void)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, "\"loads\": [");
	for (int i = 0; i < N_LOADS; i++)
		rig_buffer_format(&text,
			"%s{\"id\": \"heater%d\", \"supply\": \"ac\", \"behaviour\": "
			"\"resistive\", "
			"\"running_w\": %d, \"power_factor\": 1, \"continuous\": false}",
			i > 0 ? ", " : "", i, 601 + i);
	rig_buffer_add(&text, "]");
	rig_file *file = read_coach("{\"cord_a\": 30}", text.text);
	rig_buffer_free(&text);
	return file;
}

static const rig_shore_set *everything(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_sets; i++)
		if (findings->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return &findings->sets[i];
	ck_abort_msg("there is no set of everything");
	return NULL;
}

static const rig_shore_budget *on_30(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_supplies; i++)
		if (!findings->supplies[i].adapter)
			return &everything(findings)->budgets[i];
	ck_abort_msg("no supply of the cord's own");
	return NULL;
}

START_TEST(ways_beyond_the_most_important_are_counted)
{
	rig_file *file = read_many();
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(rig_file_completed(file), NULL, &findings), RIG_OK);
	const rig_shore_budget *budget = on_30(findings);
	ck_assert_uint_eq(budget->best.n_kept, 5);
	ck_assert_uint_eq(budget->n_ways, RIG_SHORE_MOST_WAYS);
	ck_assert_uint_eq(budget->n_ways + budget->n_more_ways, budget->best.n_off);
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(the_load_that_is_asked_for_has_a_way_however_far_behind)
{
	rig_file *file = read_many();
	rig_shore_findings *findings = NULL;
	const rig_shore_options options = {.run = "heater59"};
	ck_assert_int_eq(rig_shore_study(rig_file_completed(file), &options, &findings), RIG_OK);
	const rig_shore_budget *budget = on_30(findings);
	ck_assert_uint_eq(budget->n_ways, RIG_SHORE_MOST_WAYS + 1);
	ck_assert_uint_eq(budget->n_ways + budget->n_more_ways, budget->best.n_off);
	const rig_shore_way *way = &budget->ways[RIG_SHORE_MOST_WAYS];
	ck_assert_int_eq(way->wanted.load, LAST);
	/* 660 W beside four of the five: the largest of them gives way */
	ck_assert(way->possible);
	ck_assert_uint_eq(way->n_gives_way, 1);
	ck_assert_int_eq(way->gives_way[0].load, 4);
	ck_assert_uint_eq(way->n_joins, 1);
	ck_assert_int_eq(way->joins[0].load, LAST);
	rig_shore_free(findings);
	rig_file_free(file);
}
END_TEST

static int count_in(size_t n, const rig_shore_item *items, int load)
{
	for (size_t i = 0; i < n; i++)
		if (items[i].load == load)
			return items[i].count;
	return 0;
}

/* What best keeps, less what gives way, and what joins is what the way runs. */
static void check_changes(const rig_coach *coach, const rig_shore_budget *budget, int *n_checked)
{
	for (size_t w = 0; w < budget->n_ways; w++) {
		const rig_shore_way *way = &budget->ways[w];
		for (int load = RIG_SHORE_CHARGER; way->possible && load < (int)coach->n_loads;
			load++)
			ck_assert_int_eq(count_in(way->choice.n_kept, way->choice.kept, load),
				count_in(budget->best.n_kept, budget->best.kept, load) -
					count_in(way->n_gives_way, way->gives_way, load) +
					count_in(way->n_joins, way->joins, load));
		*n_checked += way->possible;
	}
}

START_TEST(a_way_is_the_best_set_and_what_it_changes)
{
	int n_checked = 0;
	for (int i = 0; i < N_RANDOM; i++) {
		rig_file *file = random_coach((uint64_t)i + 1);
		const rig_coach *coach = rig_file_completed(file);
		rig_shore_findings *findings = NULL;
		if (rig_shore_study(coach, NULL, &findings) == RIG_OK)
			for (size_t k = 0; k < findings->n_supplies; k++)
				check_changes(coach, &everything(findings)->budgets[k], &n_checked);
		rig_shore_free(findings);
		rig_file_free(file);
	}
	ck_assert_int_gt(n_checked, N_RANDOM / 10);
}
END_TEST

static bool same_figure(rig_figure a, rig_figure b)
{
	return a.low == b.low && a.likely == b.likely && a.high == b.high && a.from == b.from;
}

/* To the last bit. */
static bool same_flow(const rig_shore_flow *a, const rig_shore_flow *b)
{
	return same_figure(a->watts_w, b->watts_w) && same_figure(a->va, b->va) &&
	       same_figure(a->amps_a, b->amps_a) && same_figure(a->loaded_a, b->loaded_a) &&
	       a->limit_a == b->limit_a && a->verdict == b->verdict;
}

START_TEST(verdicts_alone_are_those_of_the_whole_study)
{
	for (int i = 0; i < N_RANDOM; i++) {
		rig_file *file = random_coach((uint64_t)i + 1);
		const rig_shore_options brief = {.verdicts_only = true};
		rig_shore_findings *whole = NULL, *verdicts = NULL;
		const rig_status status = rig_shore_study(rig_file_completed(file), NULL, &whole);
		ck_assert_int_eq(
			rig_shore_study(rig_file_completed(file), &brief, &verdicts), status);
		for (size_t k = 0; status == RIG_OK && k < whole->n_supplies; k++) {
			const rig_shore_budget *a = &everything(whole)->budgets[k];
			const rig_shore_budget *b = &everything(verdicts)->budgets[k];
			ck_assert_int_eq(a->verdict, b->verdict);
			ck_assert_uint_eq(a->best.n_kept, b->best.n_kept);
			ck_assert_mem_eq(
				a->best.kept, b->best.kept, a->best.n_kept * sizeof *a->best.kept);
			ck_assert(same_flow(&a->limiting_flow, &b->limiting_flow));
			ck_assert_uint_eq(b->n_ways + b->n_next + b->n_measures, 0);
		}
		rig_shore_free(whole);
		rig_shore_free(verdicts);
		rig_file_free(file);
	}
}
END_TEST

/* Every draw's doubt on one supply, both ways. */
static void check_doubts(const rig_shore_case *c, const rig_shore_supply *supply, int *n_checked)
{
	rig_shore_budget budget = {0};
	bool *unit = rig_arena_take(c->arena, c->n_units, sizeof *unit);
	bool *load = rig_arena_take(c->arena, c->coach->n_loads, sizeof *load);
	for (size_t i = 0; i < c->n_units; i++)
		unit[i] = true;
	const rig_shore_switches on = {unit, load};
	ck_assert_int_eq(rig_shore_reckon(c, supply, &on, &budget), RIG_OK);
	if (budget.limiting == RIG_SHORE_NO_ELEMENT || budget.limiting == RIG_SHORE_NEUTRAL)
		return;
	const shore_doubt_of of = {c, supply, &on, &budget};
	shore_element *element = NULL;
	ck_assert_int_eq(rig_shore_element_of(&of, c->arena, &element), RIG_OK);
	for (size_t i = 0; i < c->n_units; i++) {
		const int of_load = c->units[i].load;
		rig_figure plain = {0};
		ck_assert_int_eq(rig_shore_doubt_reckoned(&of, of_load, &plain), RIG_OK);
		const rig_figure quick = rig_shore_element_loaded_a(element, of_load);
		ck_assert_double_eq(quick.low, plain.low);
		ck_assert_double_eq(quick.likely, plain.likely);
		ck_assert_double_eq(quick.high, plain.high);
		*n_checked += plain.low < plain.high;
	}
}

START_TEST(doubts_by_element_are_those_of_whole_budgets)
{
	int n_checked = 0;
	for (int i = 0; i < N_RANDOM; i++) {
		rig_file *file = random_coach((uint64_t)i + 1);
		const rig_coach *coach = rig_file_completed(file);
		rig_arena *arena = rig_arena_new();
		rig_shore_case c = rig_shore_case_of(coach, arena);
		if (rig_shore_units(&c) == RIG_OK)
			for (size_t k = 0; k < rig_n_supplies(); k++) {
				const rig_shore_supply supply =
					rig_shore_supply_of(coach, rig_supply_at(k));
				check_doubts(&c, &supply, &n_checked);
			}
		rig_arena_free(arena);
		rig_file_free(file);
	}
	ck_assert_int_gt(n_checked, N_RANDOM);
}
END_TEST

static rig_fits_item random_item(uint64_t *state, int key, int n_circuits)
{
	const double watts_w = 20.0 * (1 + random_below(state, 60));
	const rig_phasor draw = rig_phasor_of(watts_w, 0.7 + 0.3 * random_share(state));
	const int circuit = random_below(state, n_circuits + 1) - 1;
	return (rig_fits_item){.priority = 1 + random_below(state, 4),
		.leg = circuit < 0 ? RIG_FITS_EITHER : RIG_FITS_LEG_1 + circuit % 2,
		.circuit = circuit,
		.key = key,
		.weight = 1,
		.loaded = draw,
		.plain = draw};
}

/* Forty loads are too many to try all subsets; asked anew each time, the search has no order, no
 * twins and no sums of an earlier question. */
START_TEST(a_problem_asked_again_answers_as_if_asked_anew)
{
	enum { N_CIRCUITS = 6 };
	uint64_t state = 5;
	for (int i = 0; i < N_TRIALS; i++) {
		double limit_va[N_CIRCUITS];
		bool both[N_CIRCUITS] = {false}, wanted[MOST_ITEMS];
		rig_fits_item items[MOST_ITEMS], changed[MOST_ITEMS];
		rig_fits_problem problem = {.n_items = MOST_ITEMS,
			.items = items,
			.n_circuits = N_CIRCUITS,
			.circuit_limit_va = limit_va,
			.circuit_has_both = both,
			.hot_limit_va = 3600,
			.neutral_limit_va = 3600,
			.step_limit = 400000};
		for (int k = 0; k < N_CIRCUITS; k++)
			limit_va[k] = 120.0 * (10 + random_below(&state, 3) * 5);
		for (int k = 0; k < MOST_ITEMS; k++)
			items[k] = random_item(&state, k, N_CIRCUITS);
		rig_fits_asker *asker = rig_fits_asker_new(&problem);
		for (int turn = 0; turn < 3; turn++) {
			rig_fits_leg again[MOST_ITEMS], anew[MOST_ITEMS];
			rig_fits_proof proof_again, proof_anew;
			rig_fits_problem fresh = problem;
			fresh.items = changed;
			for (int k = 0; k < MOST_ITEMS; k++) {
				wanted[k] = turn > 0 && random_below(&state, 12) == 0;
				changed[k] = items[k];
				changed[k].priority = wanted[k] ? 0 : items[k].priority;
			}
			rig_fits_with(asker, wanted, again, &proof_again);
			ck_assert_int_eq(rig_fits_by_priority(&fresh, anew, &proof_anew), RIG_OK);
			ck_assert_mem_eq(again, anew, sizeof again);
			ck_assert_uint_eq(proof_again.n_steps, proof_anew.n_steps);
		}
		rig_fits_asker_free(asker);
	}
}
END_TEST

START_TEST(steps_of_volts_beyond_the_limit_are_counted)
{
	rig_file *file = read_many();
	const rig_coach *coach = rig_file_completed(file);
	rig_shore_findings *shore = NULL;
	rig_voltage_findings *volts = NULL;
	ck_assert_int_eq(rig_shore_study(coach, NULL, &shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, shore, NULL, &volts), RIG_OK);
	for (size_t i = 0; i < volts->n_cases; i++) {
		const rig_voltage_case *of = &volts->cases[i];
		const size_t n_set = shore->sets[of->set].n_items;
		ck_assert_uint_eq(of->n_steps + of->n_steps_left, n_set);
		ck_assert_uint_eq(of->n_more + of->n_more_left, N_LOADS - n_set);
		ck_assert_uint_le(of->n_steps, RIG_VOLTAGE_MOST_STEPS);
		ck_assert_uint_le(of->n_more, RIG_VOLTAGE_MOST_STEPS);
		/* the largest of those outside, which pulls most, is never left out */
		if (n_set == 0) {
			ck_assert_int_eq(of->more[of->n_more - 1].added.load, LAST);
			ck_assert_uint_eq(of->n_more_left, N_LOADS - RIG_VOLTAGE_MOST_STEPS);
		}
	}
	rig_voltage_free(volts);
	rig_shore_free(shore);
	rig_file_free(file);
}
END_TEST

Suite *shore_many_suite(void);
Suite *shore_many_suite(void)
{
	Suite *suite = suite_create("shore_many");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, ways_beyond_the_most_important_are_counted);
	tcase_add_test(all, the_load_that_is_asked_for_has_a_way_however_far_behind);
	tcase_add_test(all, a_way_is_the_best_set_and_what_it_changes);
	tcase_add_test(all, verdicts_alone_are_those_of_the_whole_study);
	tcase_add_test(all, doubts_by_element_are_those_of_whole_budgets);
	tcase_add_test(all, a_problem_asked_again_answers_as_if_asked_anew);
	tcase_add_test(all, steps_of_volts_beyond_the_limit_are_counted);
	suite_add_tcase(suite, all);
	return suite;
}
