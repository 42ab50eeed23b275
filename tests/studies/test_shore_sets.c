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

Suite *shore_sets_suite(void);
Suite *shore_sets_suite(void)
{
	Suite *suite = suite_create("shore_sets");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, a_coach_without_sets_gets_those_of_its_kinds_of_load);
	suite_add_tcase(suite, all);
	return suite;
}
