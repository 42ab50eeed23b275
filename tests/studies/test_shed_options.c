/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may be asked of a study of shedding. */
#include <math.h>
#include <stddef.h>

#include "shed_scene.h"
#include "suites.h"

static rig_status asked(const rig_coach *coach, const rig_shed_options *options)
{
	rig_shed_findings *findings = NULL;
	const rig_status status = rig_shed_study(coach, options, &findings);
	ck_assert((findings != NULL) == (status == RIG_OK));
	rig_shed_free(findings);
	return status;
}

/* Figures at their limits, and a step beyond. */
START_TEST(each_option_is_taken_up_to_its_limits)
{
	const struct {
		size_t at;
		double least, below, most, above;
	} figure[] = {
		{offsetof(rig_shed_options, limit_a), 0, -0.1, 30, 30.1},
		{offsetof(rig_shed_options, length_m), 0, -0.1, 30, 30.1},
		{offsetof(rig_shed_options, charge_from_hour), 0, -0.1, 24, 24.1},
		{offsetof(rig_shed_options, deficit_frac), 0, -0.1, 1, 1.1},
	};
	shed_scene scene;
	scene_start(&scene, 30);
	scene_drops(&scene, scene_add(&scene, "toaster", RIG_LEG_1));
	rig_shed_options usual = rig_shed_defaults();
	usual.n_days = 2;
	usual.n_order_days = 0;
	for (int i = 0; i < COUNT(figure); i++) {
		const double value[] = {
			figure[i].least, figure[i].most, figure[i].below, figure[i].above, NAN};
		for (int k = 0; k < COUNT(value); k++) {
			rig_shed_options options = usual;
			*(double *)((char *)&options + figure[i].at) = value[k];
			ck_assert_msg(
				asked(&scene.coach, &options) == (k < 2 ? RIG_OK : RIG_BAD_INPUT),
				"option %d, value %g", i, value[k]);
		}
	}
}
END_TEST

static const struct {
	rig_shed_weather weather;
	double low_c, high_c;
	int habit, end;
	size_t n_days, n_order_days, n_measure_days;
	rig_status status;
} ASKED[] = {
	{RIG_SHED_HOT, 0, 0, -1, 1, 1, 1, 1, RIG_OK},
	{RIG_SHED_HOT, 0, 0, -1, -1, 1, 0, 0, RIG_OK},
	{RIG_SHED_HOT, 0, 0, -1, 2, 1, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, -1, -2, 1, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, -2, 0, 1, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, 0, 0, 1, 0, 0, RIG_BAD_INPUT}, /* the coach has no habit */
	{RIG_SHED_HOT, 0, 0, -1, 0, 0, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, -1, 0, 100001, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, -1, 0, 1, 2, 0, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 0, 0, -1, 0, 1, 0, 2, RIG_BAD_INPUT},
	{RIG_SHED_HOT, 99, -99, -1, 0, 1, 0, 0, RIG_OK}, /* not read */
	{RIG_SHED_OWN, -60, 60, -1, 0, 1, 0, 0, RIG_OK},
	{RIG_SHED_OWN, 20, 20, -1, 0, 1, 0, 0, RIG_OK},
	{RIG_SHED_OWN, -61, 20, -1, 0, 1, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_OWN, 20, 61, -1, 0, 1, 0, 0, RIG_BAD_INPUT},
	{RIG_SHED_OWN, 21, 20, -1, 0, 1, 0, 0, RIG_BAD_INPUT},
};

START_TEST(days_weather_and_ends_have_limits)
{
	shed_scene scene;
	scene_start(&scene, 30);
	scene_drops(&scene, scene_add(&scene, "toaster", RIG_LEG_1));
	rig_shed_options options = rig_shed_defaults();
	options.weather = ASKED[_i].weather;
	options.low_c = ASKED[_i].low_c;
	options.high_c = ASKED[_i].high_c;
	options.habit = ASKED[_i].habit;
	options.end = ASKED[_i].end;
	options.n_days = ASKED[_i].n_days;
	options.n_order_days = ASKED[_i].n_order_days;
	options.n_measure_days = ASKED[_i].n_measure_days;
	ck_assert_int_eq(asked(&scene.coach, &options), ASKED[_i].status);
}
END_TEST

Suite *shed_options_suite(void);
Suite *shed_options_suite(void)
{
	Suite *suite = suite_create("shed_options");
	TCase *all = tcase_create("all");
	tcase_add_test(all, each_option_is_taken_up_to_its_limits);
	tcase_add_loop_test(all, days_weather_and_ends_have_limits, 0, COUNT(ASKED));
	suite_add_tcase(suite, all);
	return suite;
}
