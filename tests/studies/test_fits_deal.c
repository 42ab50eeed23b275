/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits_deal.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "../rig/random_coach.h"
#include "suites.h"

enum { MOST = 24, FEW = 11, N_TRIALS = 400, PLENTY = 400000 };
/* 0.1 A at 120 V: what fits_deal.h promises. */
static const double TIE_VA = 12.0;

typedef struct {
	rig_deal_card card[MOST];
	rig_deal_problem problem;
	rig_deal_room room;
	rig_arena *arena;
} trial;

static rig_phasor random_phasor(uint64_t *state, double most_w)
{
	return rig_phasor_of(most_w * random_share(state), 0.4 + 0.6 * random_share(state));
}

/* Some on the legs already; in some trials all draws are whole steps, so that the most even deal is
 * far from half of all. */
static void make(trial *t, uint64_t *state, size_t n)
{
	const double step_w = random_share(state) < 0.3 ? 500.0 : 0.0;
	*t = (trial){.arena = rig_arena_new()};
	ck_assert_ptr_nonnull(t->arena);
	ck_assert(rig_deal_room_make(&t->room, t->arena, MOST));
	for (size_t i = 0; i < n; i++) {
		const rig_phasor draw = random_phasor(state, 2000);
		t->card[i].plain =
			step_w > 0 ? (rig_phasor){step_w * (1 + floor(draw.active_w / step_w)), 0}
				   : draw;
		t->card[i].loaded =
			rig_phasor_scale(t->card[i].plain, random_share(state) < 0.5 ? 1.25 : 1.0);
	}
	t->problem = (rig_deal_problem){.n = n, .cards = t->card, .step_limit = PLENTY};
	if (random_share(state) < 0.5) {
		t->problem.loaded.leg1 = t->problem.plain.leg1 = random_phasor(state, 4000);
		t->problem.loaded.leg2 = t->problem.plain.leg2 = random_phasor(state, 1000);
	}
}

static double half_of_all(const trial *t)
{
	rig_phasor all = rig_phasor_add(t->problem.loaded.leg1, t->problem.loaded.leg2);
	for (size_t i = 0; i < t->problem.n; i++)
		all = rig_phasor_add(all, t->card[i].loaded);
	return rig_phasor_va(all) / 2;
}

typedef struct {
	double fuller_va, neutral_va;
} outcome;

static outcome dealt_so(const trial *t, const unsigned char *leg)
{
	rig_legs loaded = t->problem.loaded, plain = t->problem.plain;
	for (size_t i = 0; i < t->problem.n; i++) {
		rig_phasor *on = leg[i] ? &loaded.leg2 : &loaded.leg1;
		rig_phasor *plain_on = leg[i] ? &plain.leg2 : &plain.leg1;
		*on = rig_phasor_add(*on, t->card[i].loaded);
		*plain_on = rig_phasor_add(*plain_on, t->card[i].plain);
	}
	return (outcome){fmax(rig_phasor_va(loaded.leg1), rig_phasor_va(loaded.leg2)),
		rig_neutral_split_a(&plain, 1)};
}

/* Tries every deal: the least fuller leg of those within the neutral's limit. */
static double least_of_all(const trial *t)
{
	double least_va = INFINITY;
	for (uint32_t mask = 0; mask < (uint32_t)1 << t->problem.n; mask++) {
		unsigned char leg[MOST];
		for (size_t i = 0; i < t->problem.n; i++)
			leg[i] = mask >> i & 1;
		const outcome o = dealt_so(t, leg);
		if (t->problem.neutral_limit_va <= 0 || o.neutral_va <= t->problem.neutral_limit_va)
			least_va = fmin(least_va, o.fuller_va);
	}
	return least_va;
}

START_TEST(the_most_even_deal_is_that_of_all_deals)
{
	uint64_t state = 31 + (uint64_t)_i;
	for (int i = 0; i < N_TRIALS; i++) {
		trial t;
		unsigned char leg[MOST];
		make(&t, &state, 1 + (size_t)random_below(&state, FEW));
		t.problem.limit_va = INFINITY;
		t.problem.enough_va = half_of_all(&t);
		const double least_va = least_of_all(&t);
		const rig_deal_answer dealt = rig_deal(&t.problem, &t.room, leg);
		ck_assert(dealt.found && dealt.proved);
		ck_assert_double_eq_tol(dealt_so(&t, leg).fuller_va, dealt.fuller_va, 1e-6);
		ck_assert_double_le(dealt.fuller_va, least_va + TIE_VA + 1e-6);
		rig_arena_free(t.arena);
	}
}
END_TEST

START_TEST(a_deal_within_limits_is_found_where_there_is_one)
{
	uint64_t state = 61 + (uint64_t)_i;
	int n_found = 0, n_none = 0;
	for (int i = 0; i < N_TRIALS; i++) {
		trial t;
		unsigned char leg[MOST];
		make(&t, &state, 1 + (size_t)random_below(&state, FEW));
		t.problem.limit_va = half_of_all(&t) * (0.98 + 0.3 * random_share(&state));
		t.problem.enough_va = INFINITY;
		if (random_share(&state) < 0.5)
			t.problem.neutral_limit_va = 200 + 2000 * random_share(&state);
		const double least_va = least_of_all(&t);
		const rig_deal_answer dealt = rig_deal(&t.problem, &t.room, leg);
		ck_assert(dealt.proved);
		ck_assert_int_eq(dealt.found, least_va <= t.problem.limit_va);
		n_found += dealt.found;
		n_none += !dealt.found;
		if (dealt.found)
			ck_assert_double_le(
				dealt_so(&t, leg).fuller_va, t.problem.limit_va * (1 + 1e-8));
		rig_arena_free(t.arena);
	}
	ck_assert_int_gt(n_found, N_TRIALS / 10);
	ck_assert_int_gt(n_none, N_TRIALS / 10);
}
END_TEST

/* Steps, since tests do not time: the most of one deal, and of all together, a twentieth above what
 * the bounds leave today. */
static const struct {
	size_t most, all;
} STEPS[] = {{12200, 1458000}, {9400, 1515600}};

START_TEST(twenty_four_cards_are_always_proved)
{
	uint64_t state = 91 + (uint64_t)_i;
	size_t most = 0, all = 0;
	for (int i = 0; i < N_TRIALS; i++) {
		trial t;
		unsigned char leg[MOST];
		make(&t, &state, MOST);
		t.problem.limit_va = INFINITY;
		t.problem.enough_va = half_of_all(&t);
		const rig_deal_answer dealt = rig_deal(&t.problem, &t.room, leg);
		ck_assert(dealt.found && dealt.proved);
		all += dealt.n_steps;
		most = dealt.n_steps > most ? dealt.n_steps : most;
		rig_arena_free(t.arena);
	}
	printf("fits_deal: at most %zu steps for %d cards, seed %d; in all %zu\n", most, MOST, _i,
		all);
	ck_assert_uint_le(most, STEPS[_i].most);
	ck_assert_uint_le(all, STEPS[_i].all);
}
END_TEST

/* By hand: 2,000 + 1,600 and 1,300 + 1,300 + 1,000 are as even as can be, 3,600 VA each; blank
 * cards change nothing. */
START_TEST(blank_cards_change_nothing)
{
	static const double WATTS_W[] = {0, 2000, 0, 1600, 1300, 0, 1300, 1000, 0};
	trial t;
	uint64_t state = 1;
	unsigned char leg[MOST];
	make(&t, &state, COUNT(WATTS_W));
	for (int i = 0; i < COUNT(WATTS_W); i++)
		t.card[i].loaded = t.card[i].plain = (rig_phasor){WATTS_W[i], 0};
	t.problem.loaded = t.problem.plain = (rig_legs){{0, 0}, {0, 0}};
	t.problem.limit_va = INFINITY;
	t.problem.enough_va = 3600;
	const rig_deal_answer dealt = rig_deal(&t.problem, &t.room, leg);
	ck_assert(dealt.found && dealt.proved);
	ck_assert_double_eq_tol(dealt.fuller_va, 3600, 1e-9);
	rig_arena_free(t.arena);
}
END_TEST

Suite *fits_deal_suite(void);
Suite *fits_deal_suite(void)
{
	Suite *suite = suite_create("fits_deal");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, the_most_even_deal_is_that_of_all_deals, 0, 2);
	tcase_add_loop_test(all, a_deal_within_limits_is_found_where_there_is_one, 0, 2);
	tcase_add_loop_test(all, twenty_four_cards_are_always_proved, 0, COUNT(STEPS));
	tcase_add_test(all, blank_cards_change_nothing);
	suite_add_tcase(suite, all);
	return suite;
}
