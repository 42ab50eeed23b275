/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/everyday.h"

#include "suites.h"

/* By hand: 0.23659 kg of water, 78 K, 4.18 to 4.19 kJ/(kg K) (handbook, from memory) are 77.1 to
 * 77.4 kJ or 21.4 to 21.5 Wh; over 0.85, 25.2 to 25.3 Wh. */
START_TEST(a_cup_of_coffee_takes_the_heat_of_its_water)
{
	ck_assert_double_ge(rig_everyday_cup_wh(), 25.2);
	ck_assert_double_le(rig_everyday_cup_wh(), 25.3);
}
END_TEST

/* 657 kWh a year are 75 W; 4 Ah at 3.85 V over 0.8 are 19.25 Wh. */
START_TEST(an_energy_is_so_many_of_each_alone)
{
	const rig_everyday of = rig_everyday_of(1500);
	ck_assert_double_eq_tol(of.refrigerator_h, 657.0 / 8.76 / 75 * 20, 1e-9);
	ck_assert_double_eq_tol(of.coffee_cups, 1500 / 25.25, 0.15);
	ck_assert_double_eq_tol(of.phone_charges, 1500 / 19.25, 1e-9);
	ck_assert_double_eq(rig_everyday_of(0).coffee_cups, 0);
}
END_TEST

Suite *everyday_suite(void);
Suite *everyday_suite(void)
{
	Suite *suite = suite_create("everyday");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_cup_of_coffee_takes_the_heat_of_its_water);
	tcase_add_test(all, an_energy_is_so_many_of_each_alone);
	suite_add_tcase(suite, all);
	return suite;
}
