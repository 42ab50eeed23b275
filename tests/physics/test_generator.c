/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/generator.h"

#include "outside.h"
#include "suites.h"

/* Arithmetic in doubles. */
static const double TOL = 1e-12;

/* By hand from the rules: [GEN-2008] 5,000 ft is 4 thousands above its threshold, 14 %; 105 F is 20
 * F above, 4 %; [GEN-SITE] 2,500 m is three times 500 m above, 9 %; 50 C twice 5 K above, 6 %. */
#define DERATED "Watts that a generator set has left"
static const outside_series RULES[RIG_N_DERATES] = {
	[RIG_DERATE_HEIGHT] = {"supplies; breakers; conductors", DERATED,
		"[GEN-2004], its worked figure; read", "arithmetic"},
	[RIG_DERATE_HEIGHT_HEAT] = {"supplies; breakers; conductors", DERATED,
		"[GEN-2008], its rule by hand; read", "arithmetic"},
	[RIG_DERATE_SITE] = {"supplies; breakers; conductors", DERATED,
		"[GEN-SITE], its rule by hand; read", "arithmetic"},
};
static const struct {
	rig_derate rule;
	double elevation_m, air_c, rated_w, left_w;
} SET[] = {
	{RIG_DERATE_HEIGHT, 1524, 20, 5500, 4675},
	{RIG_DERATE_HEIGHT, 1524, 50, 5500, 4675},
	{RIG_DERATE_HEIGHT_HEAT, 1524, 20, 1000, 860},
	{RIG_DERATE_HEIGHT_HEAT, 1524, (105 - 32) / 1.8, 1000, 820},
	{RIG_DERATE_HEIGHT_HEAT, 300, 29, 1000, 1000},
	{RIG_DERATE_SITE, 2500, 20, 1000, 910},
	{RIG_DERATE_SITE, 2500, 50, 1000, 850},
	{RIG_DERATE_SITE, 900, 39, 1000, 1000},
	{RIG_DERATE_HEIGHT, -80, 20, 1000, 1000},
};

START_TEST(a_set_loses_what_its_manual_says)
{
	const double left_frac =
		rig_generator_left_frac(SET[_i].rule, SET[_i].elevation_m, SET[_i].air_c);
	OUTSIDE(&RULES[SET[_i].rule], left_frac * SET[_i].rated_w, SET[_i].left_w, TOL * 1e2,
		"%g W at %g m, %.0f C", SET[_i].rated_w, SET[_i].elevation_m, SET[_i].air_c);
}
END_TEST

START_TEST(higher_or_hotter_never_gives_more)
{
	for (int height_m = -450; height_m < 5990; height_m += 37)
		for (int air_c = -40; air_c < 68; air_c += 3) {
			const rig_derate rule = (rig_derate)_i;
			const double here = rig_generator_left_frac(rule, height_m, air_c);
			ck_assert_double_le(here, 1);
			ck_assert_double_gt(here, 0);
			ck_assert_double_le(
				rig_generator_left_frac(rule, height_m + 10, air_c), here);
			ck_assert_double_le(
				rig_generator_left_frac(rule, height_m, air_c + 2), here);
		}
}
END_TEST

Suite *generator_suite(void);
Suite *generator_suite(void)
{
	Suite *suite = suite_create("generator");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_set_loses_what_its_manual_says, 0, COUNT(SET));
	tcase_add_loop_test(
		all, higher_or_hotter_never_gives_more, RIG_DERATE_HEIGHT, RIG_N_DERATES);
	suite_add_tcase(suite, all);
	return suite;
}
