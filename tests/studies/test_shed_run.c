/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Single moments of a day's course: a load of 35 A on 30 A that is used when the test says, and a
 * manager that takes ten seconds to act. */
#include "shed_scene.h"
#include "suites.h"

static void start(shed_stand *stand, shed_unit *unit, size_t n, const double *switches_s)
{
	*unit = (shed_unit){.behaviour = RIG_SHED_USED,
		.group = 0,
		.hot = {{35, 0}},
		.watts_w = 4200,
		.body = -1,
		.most_switches = 8};
	shed_model model = {.units = unit,
		.n_units = 1,
		.n_groups = 1,
		.n_hots = 1,
		.manager = {.present = true,
			.limit_a = 30,
			.sensing_delay_s = 10,
			.drop_interval_s = 1,
			.restore_delay_s = 120,
			.restore_interval_s = 10,
			.most_drops = 6,
			.reset_s = 3600}};
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		model.breaker[k] = rig_breaker_of(30, (rig_breaker_kind)k);
	stand_of_model(stand, &model);
	for (size_t i = 0; i < n; i++)
		stand->day->unit_s[0][i] = switches_s[i];
	stand->day->n_unit_s[0] = n;
}

/* The longest overload of the day, and all of them; one may last into midnight. */
static const struct {
	double switches_s[4], longest_s, over_s;
} OVER[] = {
	{{1000, 1005, 86398, 86400}, 5, 7},
	{{1000, 1002, 86395, 86400}, 5, 7},
	{{1000, 1009, 2000, 2003}, 9, 12},
};

START_TEST(the_longest_overload_counts_to_the_end_of_the_day)
{
	shed_unit unit;
	shed_stand stand;
	start(&stand, &unit, 4, OVER[_i].switches_s);
	stand_go(&stand, &stand.order, NULL);
	ck_assert_double_eq_tol(stand.state->hot[0].longest_over_s, OVER[_i].longest_s, 1e-9);
	ck_assert_double_eq_tol(stand.state->hot[0].over_s, OVER[_i].over_s, 1e-9);
	ck_assert_double_eq(stand.state->hot[0].peak_a, 35);
	ck_assert_int_eq(stand.state->unit[0].n_drops, 0);
	ck_assert_double_eq_tol(stand.state->unit[0].served_s, OVER[_i].over_s, 1e-9);
	stand_free(&stand);
}
END_TEST

/* Dropped ten seconds after it comes on; without load there is nothing to tell of. */
START_TEST(a_drop_is_counted_in_its_hour)
{
	shed_unit unit;
	shed_stand stand;
	start(&stand, &unit, 2, (const double[]){7190, 7300});
	stand_go(&stand, &stand.order, NULL);
	ck_assert_int_eq(stand.state->unit[0].n_drops, 1);
	for (int hour = 0; hour < 24; hour++)
		ck_assert_int_eq(stand.state->hour_drops[hour], hour == 2);
	ck_assert_double_eq_tol(stand.state->unit[0].served_s, 10, 1e-9);
	ck_assert_double_eq_tol(stand.state->unit[0].held_s, 100, 1e-9);
	ck_assert_double_eq_tol(stand.state->unit[0].served_j, 42000, 1e-6);
	stand_free(&stand);
}
END_TEST

/* 3.6 litres out of 38 that nothing heats, mains water of 15 C, 40 C is cold: from 60 C none of it
 * is, from 30 C all. */
static const struct {
	double start_c, cold_litres;
} DRAWN[] = {{60, 0}, {30, 3.6}};

START_TEST(water_is_all_hot_or_all_cold)
{
	shed_tank tank;
	shed_stand stand;
	scene_tank(&tank);
	stand_of_tank(&stand, &tank, DRAWN[_i].start_c, 60);
	stand_go(&stand, &stand.order, NULL);
	ck_assert_double_eq_tol(stand.state->body[0].litres, 3.6, 1e-12);
	ck_assert_double_eq_tol(stand.state->body[0].cold_litres, DRAWN[_i].cold_litres, 1e-12);
	stand_free(&stand);
}
END_TEST

Suite *shed_run_suite(void);
Suite *shed_run_suite(void)
{
	Suite *suite = suite_create("shed_run");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_longest_overload_counts_to_the_end_of_the_day, 0, COUNT(OVER));
	tcase_add_test(all, a_drop_is_counted_in_its_hour);
	tcase_add_loop_test(all, water_is_all_hot_or_all_cold, 0, COUNT(DRAWN));
	suite_add_tcase(suite, all);
	return suite;
}
