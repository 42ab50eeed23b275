/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is kept on when not all fits. */
#include "outside.h"
#include "shore_scene.h"
#include "suites.h"

/* Arithmetic in doubles. */
static const double TOL = 1e-9;

static rig_load *add_profile(shore_scene *r, int circuit, const char *id, int priority)
{
	const rig_appliance *appliance = rig_appliance_find(id);
	ck_assert_ptr_nonnull(appliance);
	rig_load *load = shore_load(r, circuit, appliance->running_w, appliance->continuous);
	load->power_factor = appliance->power_factor;
	load->behaviour = appliance->behaviour;
	load->start_a = appliance->start_a;
	load->priority = priority;
	load->appliance = appliance;
	return load;
}

/* A 50 A coach: two heat pumps, water heater, refrigerator, microwave. */
static const outside_series HEAT_PUMPS = {"whole systems",
	"Smallest supply, A, that surely carries two roof air conditioners with heat pumps and the "
	"water heater",
	"common practice, no source: a 50 A coach", "exact"};
static void start_heat_pump_coach(shore_scene *r)
{
	shore_start(r, 50);
	add_profile(r, shore_circuit(r, RIG_LEG_1, 20), "roof_heat_pump_15k", 4);
	add_profile(r, shore_circuit(r, RIG_LEG_2, 20), "roof_heat_pump_15k", 5);
	add_profile(r, shore_circuit(r, RIG_LEG_1, 20), "water_heater_element", 8);
	add_profile(r, shore_circuit(r, RIG_LEG_2, 15), "fridge_residential", 1);
	add_profile(r, shore_circuit(r, RIG_LEG_1, 20), "microwave_800", 6);
	shore_together(r, "Cold evening", 3, (const int[]){0, 1, 2});
}

START_TEST(two_heat_pumps_and_the_water_heater_need_fifty_amps)
{
	shore_scene r;
	start_heat_pump_coach(&r);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_set *set = &findings->sets[0];
	ck_assert_int_eq(set->kind, RIG_SHORE_SET_TOGETHER);
	ck_assert_str_eq(set->name, "Cold evening");
	ck_assert_int_ge(set->smallest, 0);
	OUTSIDE(&HEAT_PUMPS, findings->supplies[set->smallest].limit_a, 50, 0,
		"by the profiles' draws");
	ck_assert(set->budgets[0].carried);
	const rig_shore_budget *thirty = &set->budgets[1];
	ck_assert_int_eq(thirty->verdict, RIG_SHORE_OVER);
	ck_assert(thirty->sure); /* even with every draw at its low, 1,100 + 1,100 + 1,400 W */
	rig_shore_free(findings);
}
END_TEST

/* What fits on 30 A, by hand from the profiles' likely draws: heat pump 12.6 A, water heater
 * 12.0 A, both continuous. One heat pump takes 1.25 x 12.6 = 15.7 A; a second would make 31.5, the
 * water heater instead 30.7. So the first heat pump alone; and in the set of everything the
 * refrigerator and the microwave run beside it: 15.7 + 1.4 + 10.5 = 27.6 A. */
START_TEST(what_fits_is_stated)
{
	shore_scene r;
	start_heat_pump_coach(&r);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_choice *best = &findings->sets[0].budgets[1].best;
	ck_assert(best->proved);
	ck_assert_uint_eq(best->n_kept, 1);
	ck_assert_int_eq(best->kept[0].load, 0);
	ck_assert_uint_eq(best->n_off, 2);
	ck_assert_int_eq(best->off[0].load, 2); /* dropped first */
	ck_assert_int_eq(best->off[1].load, 1);

	best = &shore_on(findings, S30)->best;
	ck_assert_uint_eq(best->n_kept, 3);
	ck_assert_int_eq(best->kept[0].load, 3);
	ck_assert_int_eq(best->kept[1].load, 0);
	ck_assert_int_eq(best->kept[2].load, 4);
	ck_assert_double_le(best->most_loaded.loaded_a.likely, 30);
	ck_assert_int_le(best->most_loaded.verdict, RIG_SHORE_DEPENDS);
	rig_shore_free(findings);
}
END_TEST

/* By hand, 30 A, none continuous. Priority 1: 10 A; 2: 15 A; 3: 12 A; 4: 4 A. Together 41: off go
 * 4 A (37) and 12 A (25); of those 4 A come back, 29 A. */
START_TEST(the_lowest_priority_goes_first_and_what_still_fits_comes_back)
{
	shore_scene r;
	shore_start(&r, 30);
	const double amps_a[] = {15, 4, 10, 12};
	const int priority[] = {2, 4, 1, 3};
	for (int i = 0; i < 4; i++)
		shore_amps(&r, -1, amps_a[i])->priority = priority[i];
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_choice *greedy = &shore_on(findings, S30)->greedy;
	ck_assert_uint_eq(greedy->n_off, 1);
	ck_assert_int_eq(greedy->off[0].load, 3);
	ck_assert_uint_eq(greedy->n_kept, 3);
	ck_assert_int_eq(greedy->kept[0].load, 2);
	ck_assert_int_eq(greedy->kept[1].load, 0);
	ck_assert_int_eq(greedy->kept[2].load, 1);
	ck_assert_double_eq_tol(greedy->most_loaded.amps_a.likely, 29, TOL);
	ck_assert_double_eq_tol(greedy->weight, 9 + 8 + 6, TOL);
	rig_shore_free(findings);
}
END_TEST

/* By hand: of priority 1 the 20 A load alone shuts out both of 15 A; by weight two of 15 A
 * (priority 2, weight 8 each) are worth more than one of priority 1 (weight 9). */
START_TEST(weight_may_prefer_what_priority_refuses)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 20)->priority = 1;
	shore_amps(&r, -1, 15)->priority = 2;
	shore_amps(&r, -1, 15)->priority = 2;
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S30)->best.kept[0].load, 0);
	ck_assert_uint_eq(shore_on(findings, S30)->best.n_kept, 1);
	ck_assert_uint_eq(shore_on(findings, S30)->by_weight.n_kept, 2);
	ck_assert_double_eq_tol(shore_on(findings, S30)->by_weight.weight, 16, TOL);
	rig_shore_free(findings);
}
END_TEST

START_TEST(one_of_two_alike_can_stay_on)
{
	shore_scene r;
	shore_start(&r, 30);
	rig_load *unit = shore_amps(&r, -1, 13);
	unit->continuous = RIG_YES;
	unit->count = 2;
	rig_load *lamps = shore_amps(&r, -1, 0.1);
	lamps->count = 20;
	lamps->priority = 1;
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_budget *budget = shore_on(findings, S30);
	ck_assert_double_eq_tol(budget->main.amps_a.likely, 28, TOL);
	ck_assert_int_eq(shore_count(budget->best.kept, budget->best.n_kept, 0), 1);
	ck_assert_int_eq(shore_count(budget->best.off, budget->best.n_off, 0), 1);
	ck_assert_int_eq(shore_count(budget->best.kept, budget->best.n_kept, 1), 20);
	const rig_shore_set *set = shore_everything(findings);
	ck_assert_int_eq(shore_count(set->items, set->n_items, 0), 2);
	rig_shore_free(findings);
}
END_TEST

/* Likely: 26 A on each leg. At worst both on one: 52 A. */
START_TEST(a_careful_choice_trusts_no_unknown_leg)
{
	shore_scene r;
	shore_start(&r, 50);
	shore_amps(&r, -1, 26);
	shore_amps(&r, -1, 26)->priority = 6;
	rig_shore_findings *findings = shore_ask(&r);
	ck_assert_int_eq(shore_on(findings, S50)->verdict, RIG_SHORE_DEPENDS);
	ck_assert_uint_eq(shore_on(findings, S50)->best.n_kept, 2);
	rig_shore_free(findings);
	const rig_shore_options careful = {.at_high = true};
	ck_assert_int_eq(rig_shore_study(&r.coach, &careful, &findings), RIG_OK);
	ck_assert_uint_eq(shore_on(findings, S50)->best.n_kept, 1);
	ck_assert_int_eq(shore_on(findings, S50)->best.kept[0].load, 0);
	rig_shore_free(findings);
}
END_TEST

/* By hand: charger 1.25 x 9.7 = 12.1 A beside 20 A is over 30 A. It goes before a load of priority
 * 5 and stays before one of 7. */
START_TEST(the_charger_is_paused_before_most_loads_go_off)
{
	for (int priority = 5; priority <= 7; priority += 2) {
		shore_scene r;
		shore_start(&r, 30);
		r.coach.charger.present = true;
		r.coach.charger.amps_a = exactly(55);
		shore_amps(&r, -1, 20)->priority = priority;
		rig_shore_findings *findings = shore_ask(&r);
		const rig_shore_choice *best = &shore_on(findings, S30)->best;
		ck_assert_int_eq(shore_on(findings, S30)->verdict, RIG_SHORE_OVER_CONTINUOUS);
		ck_assert_uint_eq(best->n_off, 1);
		ck_assert_int_eq(best->off[0].load, priority == 5 ? RIG_SHORE_CHARGER : 0);
		rig_shore_free(findings);
	}
}
END_TEST

/* By hand, 30 A, all of one priority: 12 + 15 + 10 = 37 A; without the 15 A 22 A. */
START_TEST(among_equals_the_largest_draw_goes_first)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 12);
	shore_amps(&r, -1, 15);
	shore_amps(&r, -1, 10);
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_choice *choice[] = {
		&shore_on(findings, S30)->greedy, &shore_on(findings, S30)->best};
	for (int i = 0; i < COUNT(choice); i++) {
		ck_assert_uint_eq(choice[i]->n_off, 1);
		ck_assert_int_eq(choice[i]->off[0].load, 1);
	}
	rig_shore_free(findings);
}
END_TEST

START_TEST(many_of_a_load_go_on_and_off_together)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 2)->count = 20;
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_choice *best = &shore_on(findings, S30)->best;
	ck_assert_uint_eq(best->n_kept, 0);
	ck_assert_int_eq(best->off[0].count, 20);
	rig_shore_free(findings);
}
END_TEST

Suite *shore_kept_suite(void);
Suite *shore_kept_suite(void)
{
	Suite *suite = suite_create("shore_kept");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, two_heat_pumps_and_the_water_heater_need_fifty_amps);
	tcase_add_test(all, what_fits_is_stated);
	tcase_add_test(all, the_lowest_priority_goes_first_and_what_still_fits_comes_back);
	tcase_add_test(all, weight_may_prefer_what_priority_refuses);
	tcase_add_test(all, one_of_two_alike_can_stay_on);
	tcase_add_test(all, a_careful_choice_trusts_no_unknown_leg);
	tcase_add_test(all, the_charger_is_paused_before_most_loads_go_off);
	tcase_add_test(all, among_equals_the_largest_draw_goes_first);
	tcase_add_test(all, many_of_a_load_go_on_and_off_together);
	suite_add_tcase(suite, all);
	return suite;
}
