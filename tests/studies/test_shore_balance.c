/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Circuits dealt anew to the two legs. */
#include "shore_scene.h"
#include "suites.h"

/* Arithmetic in doubles. */
static const double TOL = 1e-9;

/* By hand: leg 1 has 12 + 10 + 4, leg 2 has 2 A; the best deal of 28 A is 14 and 14, by moving 10
 * and 2 or, with fewer moves, 12 alone. Neutral 24 before, 0 after. */
START_TEST(circuits_are_dealt_to_the_legs_with_few_moves)
{
	shore_scene r;
	shore_start(&r, 50);
	const double amps_a[] = {12, 10, 4, 2};
	for (int i = 0; i < 4; i++)
		shore_amps(&r, shore_circuit(&r, i < 3 ? RIG_LEG_1 : RIG_LEG_2, 20), amps_a[i]);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_balance *balance = &findings->balance;
	ck_assert(balance->given && balance->proved);
	ck_assert_double_eq_tol(balance->fuller_before_a, 26, TOL);
	ck_assert_double_eq_tol(balance->neutral_before_a, 24, TOL);
	ck_assert_double_eq_tol(balance->fuller_after_a, 14, TOL);
	ck_assert_double_eq_tol(balance->neutral_after_a, 0, TOL);
	ck_assert_uint_eq(balance->n_moves, 1);
	ck_assert_int_eq(balance->moves[0], 0);
	rig_shore_free(findings);
	r.load[0].continuous = RIG_YES;
	findings = shore_ask(&r);
	ck_assert_double_eq_tol(findings->balance.fuller_before_a, 29, TOL);
	rig_shore_free(findings);
	r.coach.cord_a = 30;
	findings = shore_ask(&r);
	ck_assert(!findings->balance.given);
	rig_shore_free(findings);
}
END_TEST

/* By hand: 14.4 and 13.8 A; trading 4.4 for 4 makes 14.2, not worth the work. */
START_TEST(a_small_gain_moves_no_breaker)
{
	shore_scene r;
	shore_start(&r, 50);
	const double amps_a[] = {10, 4.4, 9.8, 4};
	for (int i = 0; i < 4; i++)
		shore_amps(&r, shore_circuit(&r, i < 2 ? RIG_LEG_1 : RIG_LEG_2, 20), amps_a[i]);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_uint_eq(findings->balance.n_moves, 0);
	ck_assert_double_eq_tol(findings->balance.fuller_after_a, 14.4, TOL);
	rig_shore_free(findings);
}
END_TEST

/* Nothing to deal without circuits; with a single one the deal is told, though nothing can move. */
START_TEST(a_balance_is_told_from_the_first_circuit_on)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, -1, 10);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert(!findings->balance.given);
	rig_shore_free(findings);
	r.load[0].circuit_index = shore_circuit(&r, RIG_LEG_1, 20);
	findings = shore_ask(&r);
	ck_assert(findings->balance.given);
	ck_assert_double_eq_tol(findings->balance.fuller_before_a, 10, TOL);
	ck_assert_uint_eq(findings->balance.n_moves, 0);
	rig_shore_free(findings);
}
END_TEST

/* By hand: 10 A on leg 1; behind a breaker over both hots 240 V at 3 A a hot, and two of 120 V, 4
 * and 6 A, which stand best on leg 2: 13 A on each leg, and the neutral carries nothing. */
START_TEST(loads_behind_a_breaker_over_both_hots_are_dealt_one_by_one)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, shore_circuit(&r, RIG_LEG_1, 20), 10);
	const int both = shore_circuit(&r, RIG_LEG_BOTH, 30);
	shore_amps(&r, both, 4);
	shore_amps(&r, both, 6);
	shore_amps(&r, both, 6)->volts_v = exactly(240);
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_double_eq_tol(findings->balance.fuller_before_a, 13, TOL);
	ck_assert_double_eq_tol(findings->balance.neutral_before_a, 0, TOL);
	ck_assert_uint_eq(findings->balance.n_moves, 0);
	rig_shore_free(findings);
}
END_TEST

Suite *shore_balance_suite(void);
Suite *shore_balance_suite(void)
{
	Suite *suite = suite_create("shore_balance");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, circuits_are_dealt_to_the_legs_with_few_moves);
	tcase_add_test(all, a_small_gain_moves_no_breaker);
	tcase_add_test(all, a_balance_is_told_from_the_first_circuit_on);
	tcase_add_test(all, loads_behind_a_breaker_over_both_hots_are_dealt_one_by_one);
	suite_add_tcase(suite, all);
	return suite;
}
