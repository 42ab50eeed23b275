/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which loads are asked about together. */
#include "shore_scene.h"
#include "suites.h"

START_TEST(a_coach_without_sets_gets_those_of_its_kinds_of_load)
{
	shore_scene r;
	shore_start(&r, 30);
	rig_load *air = shore_amps(&r, -1, 12);
	air->behaviour = RIG_COMPRESSOR;
	air->continuous = RIG_YES;
	shore_amps(&r, -1, 10);
	shore_amps(&r, -1, 8)->behaviour = RIG_ELECTRONIC;
	rig_load *clock = shore_amps(&r, -1, 0.1);
	clock->behaviour = RIG_ELECTRONIC;
	clock->always_on = RIG_YES;
	shore_amps(&r, -1, 10); /* not the first by id */
	shore_amps(&r, -1, 6);
	rig_shore_findings *findings = shore_ask(&r);
	/* everything, standing, compressors, compressors and heat; continuous is compressors again
	 */
	const rig_shore_set_kind kind[] = {RIG_SHORE_SET_EVERYTHING, RIG_SHORE_SET_STANDING,
		RIG_SHORE_SET_COMPRESSORS, RIG_SHORE_SET_COMPRESSORS_AND_HEAT};
	const size_t n_items[] = {6, 1, 2, 3};
	ck_assert_uint_eq(findings->n_sets, COUNT(kind));
	for (int i = 0; i < COUNT(kind); i++) {
		ck_assert_int_eq(findings->sets[i].kind, kind[i]);
		ck_assert_uint_eq(findings->sets[i].n_items, n_items[i]);
	}
	ck_assert_int_eq(findings->sets[3].items[1].load, 1); /* the larger heat */
	rig_shore_free(findings);

	shore_together(&r, "Tea", 1, (const int[]){1});
	findings = shore_ask(&r);
	ck_assert_uint_eq(findings->n_sets, 2);
	ck_assert_uint_eq(findings->sets[0].n_items, 2); /* the clock is always on */
	rig_shore_free(findings);
}
END_TEST

/* An air conditioner that nobody expects to run for three hours, and a light that is expected to.
 */
START_TEST(sets_of_as_many_but_other_loads_are_both_asked_about)
{
	shore_scene r;
	shore_start(&r, 30);
	shore_amps(&r, -1, 12)->behaviour = RIG_COMPRESSOR;
	rig_load *light = shore_amps(&r, -1, 5);
	light->behaviour = RIG_ELECTRONIC;
	light->continuous = RIG_YES;
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_set_kind kind[] = {
		RIG_SHORE_SET_EVERYTHING, RIG_SHORE_SET_COMPRESSORS, RIG_SHORE_SET_CONTINUOUS};
	ck_assert_uint_eq(findings->n_sets, COUNT(kind));
	for (int i = 0; i < COUNT(kind); i++)
		ck_assert_int_eq(findings->sets[i].kind, kind[i]);
	ck_assert_int_eq(findings->sets[1].items[0].load, 0);
	ck_assert_int_eq(findings->sets[2].items[0].load, 1);
	rig_shore_free(findings);
}
END_TEST

/* Which of two heaters goes with the compressors. */
static const struct {
	const char *id[2];
	double amps_a[2];
	int count[2], chosen;
} HEAT[] = {
	{{"a", "b"}, {10, 10}, {1, 1}, 0}, /* of equals the first by id */
	{{"b", "a"}, {10, 10}, {1, 1}, 1}, {{"b", "a"}, {10, 9}, {1, 1}, 0},
	{{"a", "b"}, {9, 10}, {1, 1}, 1},
	{{"a", "b"}, {10, 6}, {1, 2}, 1}, /* two of 6 A draw 12 A */
};

START_TEST(the_heater_that_draws_most_goes_with_the_compressors)
{
	shore_scene r;
	shore_start(&r, 30);
	for (int i = 0; i < 2; i++) {
		rig_load *heater = shore_amps(&r, -1, HEAT[_i].amps_a[i]);
		heater->id = HEAT[_i].id[i];
		heater->count = HEAT[_i].count[i];
	}
	shore_amps(&r, -1, 12)->behaviour = RIG_COMPRESSOR;
	shore_amps(&r, -1, 20)->supply = RIG_DC; /* no heat of the AC side */
	rig_shore_findings *findings = shore_ask(&r);
	const rig_shore_set *set = &findings->sets[2];
	ck_assert_int_eq(set->kind, RIG_SHORE_SET_COMPRESSORS_AND_HEAT);
	ck_assert_uint_eq(set->n_items, 2);
	ck_assert_int_eq(set->items[0].load, HEAT[_i].chosen);
	ck_assert_int_eq(set->items[0].count, HEAT[_i].count[HEAT[_i].chosen]);
	ck_assert_int_eq(set->items[1].load, 2);
	rig_shore_free(findings);
}
END_TEST

Suite *shore_sets_suite(void);
Suite *shore_sets_suite(void)
{
	Suite *suite = suite_create("shore_sets");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, a_coach_without_sets_gets_those_of_its_kinds_of_load);
	tcase_add_test(all, sets_of_as_many_but_other_loads_are_both_asked_about);
	tcase_add_loop_test(
		all, the_heater_that_draws_most_goes_with_the_compressors, 0, COUNT(HEAT));
	suite_add_tcase(suite, all);
	return suite;
}
