/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/phasor.h"

#include "outside.h"
#include "physics/close.h"

#define SECTION "supplies; breakers; conductors"

START_TEST(a_load_has_the_triangle_of_its_power_factor)
{
	/* 3-4-5: 1200 W at 0.8 is 1500 VA and 900 var; arithmetic */
	const rig_phasor motor = rig_phasor_of(1200, 0.8);
	CLOSE(motor.reactive_va, 900, 1e-12);
	CLOSE(rig_phasor_va(motor), 1500, 1e-12);
	CLOSE(rig_phasor_a(motor, 120), 12.5, 1e-12);
	CLOSE(rig_phasor_power_factor(motor), 0.8, 1e-12);
	CLOSE(rig_phasor_power_factor(rig_phasor_of(0.1, 0.5)), 0.5, 1e-12);
	const rig_phasor heater = rig_phasor_of(1500, 1);
	ck_assert_double_eq(heater.reactive_va, 0);
	ck_assert_double_eq(rig_phasor_power_factor(rig_phasor_of(0, 0.5)), 1);
}
END_TEST

START_TEST(services_have_their_rated_power)
{
	static const outside_series RATED = {SECTION, "Amps of a service at its rated power",
		"[NFPA-70] art. 551: 3,600 VA at 30 A, 12,000 VA at 50 A on two legs; arithmetic",
		"arithmetic"};
	OUTSIDE(&RATED, rig_phasor_a(rig_phasor_of(3600, 1), 120), 30, 1e-12, "3,600 VA at 120 V");
	const rig_legs full = {rig_phasor_of(6000, 1), rig_phasor_of(6000, 1)};
	OUTSIDE(&RATED, rig_phasor_a(full.leg1, 120), 50, 1e-12, "a leg of 12,000 VA at 120/240 V");
	CLOSE(rig_phasor_va(rig_phasor_add(full.leg1, full.leg2)), 12000, 1e-12);
	ck_assert_double_eq(rig_neutral_split_a(&full, 120), 0);
}
END_TEST

START_TEST(sums_are_never_above_the_sum_of_amps_nor_below_the_watts)
{
	enum { SEED = 60 };
	uint64_t state = SEED;
	rig_phasor sum = {0, 0};
	double amps = 0, watts = 0;
	for (int i = 0; i < 100; i++) {
		const rig_phasor load = rig_phasor_of(
			random_between(&state, 0, 1500), random_between(&state, 0.4, 1));
		sum = rig_phasor_add(sum, load);
		amps += rig_phasor_a(load, 120);
		watts += load.active_w;
		ck_assert_double_le(rig_phasor_a(sum, 120), amps * (1 + 1e-12));
		ck_assert_double_ge(rig_phasor_va(sum), watts * (1 - 1e-12));
	}
	/* equal angles simply add */
	const rig_phasor once = rig_phasor_of(500, 0.7);
	CLOSE(rig_phasor_va(rig_phasor_add(once, rig_phasor_scale(once, 2))),
		3 * rig_phasor_va(once), 1e-12);
}
END_TEST

/* Amps on the two legs at unity power factor; what the neutral carries on two hots, on one hot
 * through an adapter, and on a supply wired with one phase on both. */
static const outside_series NEUTRALS = {SECTION, "Amps on the neutral",
	"circuit law; that an adapter puts both legs on one hot, and that one phase on both hots "
	"adds up in the neutral, read in trade articles",
	"arithmetic"};
static const struct {
	double leg1_a, leg2_a, split_a, shared_a;
} NEUTRAL[] = {{38, 22, 16, 60}, {22, 38, 16, 60}, {30, 0, 30, 30}, {25, 25, 0, 50}, {0, 0, 0, 0}};

START_TEST(the_neutral_carries_the_difference_or_the_sum)
{
	const rig_legs legs = {rig_phasor_of(NEUTRAL[_i].leg1_a * 120, 1),
		rig_phasor_of(NEUTRAL[_i].leg2_a * 120, 1)};
	OUTSIDE(&NEUTRALS, rig_neutral_split_a(&legs, 120), NEUTRAL[_i].split_a, 1e-12,
		"%g and %g A, two hots", NEUTRAL[_i].leg1_a, NEUTRAL[_i].leg2_a);
	OUTSIDE(&NEUTRALS, rig_neutral_shared_a(&legs, 120), NEUTRAL[_i].shared_a, 1e-12,
		"%g and %g A, one hot or one phase", NEUTRAL[_i].leg1_a, NEUTRAL[_i].leg2_a);
}
END_TEST

START_TEST(unlike_angles_do_not_cancel_in_the_neutral)
{
	/* 30 A of heat against 30 A at 0.8: 3600 W - 2880 W and 2160 var, |720 - j2160| / 120 =
	 * 18.97 A; arithmetic */
	const rig_legs legs = {rig_phasor_of(3600, 1), rig_phasor_of(2880, 0.8)};
	ck_assert_double_eq_tol(
		rig_neutral_split_a(&legs, 120), sqrt(720. * 720 + 2160. * 2160) / 120, 1e-9);
	ck_assert_double_lt(rig_neutral_shared_a(&legs, 120), 60);
}
END_TEST

START_TEST(a_load_across_both_hots_adds_nothing_to_the_neutral)
{
	const rig_phasor oven = rig_phasor_of(4800, 0.95);
	rig_legs legs = {rig_phasor_of(2400, 0.9), rig_phasor_of(1200, 1)};
	const double before_a = rig_neutral_split_a(&legs, 120);
	legs.leg1 = rig_phasor_add(legs.leg1, rig_phasor_scale(oven, 0.5));
	legs.leg2 = rig_phasor_add(legs.leg2, rig_phasor_scale(oven, 0.5));
	CLOSE(rig_neutral_split_a(&legs, 120), before_a, 1e-12);
}
END_TEST

Suite *phasor_suite(void);
Suite *phasor_suite(void)
{
	Suite *suite = suite_create("phasor");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_load_has_the_triangle_of_its_power_factor);
	tcase_add_test(all, services_have_their_rated_power);
	tcase_add_test(all, sums_are_never_above_the_sum_of_amps_nor_below_the_watts);
	tcase_add_loop_test(all, the_neutral_carries_the_difference_or_the_sum, 0, COUNT(NEUTRAL));
	tcase_add_test(all, unlike_angles_do_not_cancel_in_the_neutral);
	tcase_add_test(all, a_load_across_both_hots_adds_nothing_to_the_neutral);
	suite_add_tcase(suite, all);
	return suite;
}
