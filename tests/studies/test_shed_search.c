/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_search.h"

#include <math.h>
#include <string.h>

#include "shed_scene.h"
#include "suites.h"

/* ---- orders of which a part is known ---- */

START_TEST(what_follows_from_known_pairs_is_known)
{
	enum { A, B, C, D };
	shed_order order = {{0}};
	ck_assert_int_eq(shed_order_pick_first(&order, 0x3), -1);
	ck_assert_int_eq(shed_order_pick_last(&order, 0x3), -1);
	shed_order_first(&order, 4, A, 1 << B);
	shed_order_last(&order, 4, C, 1 << B);
	ck_assert_int_eq(shed_order_pick_first(&order, 1 << A | 1 << C), A);
	ck_assert_int_eq(shed_order_pick_last(&order, 1 << A | 1 << B | 1 << C), C);
	ck_assert_int_eq(shed_order_pick_first(&order, 1 << A | 1 << D), -1);
	shed_order_first(&order, 4, D, 1 << A);
	ck_assert_int_eq(shed_order_pick_first(&order, 0xF), D);
	ck_assert_int_eq(shed_order_pick_first(&order, 1 << C | 1 << D), D);
}
END_TEST

START_TEST(a_full_order_decides_every_set)
{
	static const int GROUP[] = {3, 0, 4, 1, 2};
	const shed_order order = shed_order_of(GROUP, 5);
	for (uint64_t set = 1; set < 32; set++) {
		int first = -1, last = -1;
		for (int i = 0; i < 5; i++)
			if (set & (uint64_t)1 << GROUP[i]) {
				first = first < 0 ? GROUP[i] : first;
				last = GROUP[i];
			}
		ck_assert_int_eq(shed_order_pick_first(&order, set), first);
		ck_assert_int_eq(shed_order_pick_last(&order, set), last);
	}
}
END_TEST

/* ---- against trying them all ---- */

enum { MOST_GROUPS = 5, N_DAYS = 3 };

typedef struct {
	shed_stand *stand;
	shed_day *days[N_DAYS];
	double least, most;
} trial;

static double points_of(trial *t, const int *group)
{
	shed_stand *stand = t->stand;
	const shed_order order = shed_order_of(group, stand->model.n_groups);
	double points = 0;
	for (int day = 0; day < N_DAYS; day++) {
		const shed_run run = {&stand->model, t->days[day], &order, false, NULL, NULL};
		shed_begin(&run, stand->state);
		ck_assert_int_eq(shed_advance(&run, stand->state), SHED_DONE);
		points += shed_points(&stand->model, stand->state);
	}
	return points;
}

/* Heap's method: every arrangement once. */
static void try_all(trial *t, int *group, int n)
{
	if (n <= 1) {
		const double points = points_of(t, group);
		t->least = fmin(t->least, points);
		t->most = fmax(t->most, points);
		return;
	}
	for (int i = 0; i < n; i++) {
		try_all(t, group, n - 1);
		const int swap = n % 2 ? 0 : i, kept = group[swap];
		group[swap] = group[n - 1];
		group[n - 1] = kept;
	}
}

static void compare(trial *t)
{
	shed_stand *stand = t->stand;
	for (int day = 0; day < N_DAYS; day++) {
		ck_assert_int_eq(shed_day_new(&stand->model, stand->arena, &t->days[day]), RIG_OK);
		shed_day_draw(&stand->model, 11, (size_t)day, t->days[day]);
	}
	const double own = points_of(t, stand->group);
	shed_best best = {0};
	ck_assert_int_eq(shed_find_best(&stand->model, t->days, N_DAYS, own, &best), RIG_OK);
	int group[MOST_GROUPS];
	memcpy(group, stand->group, sizeof group);
	t->least = INFINITY;
	t->most = 0;
	try_all(t, group, (int)stand->model.n_groups);
	ck_assert(best.proved);
	ck_assert_double_eq_tol(best.points, t->least, 1e-6);
	ck_assert_double_eq_tol(points_of(t, best.group), best.points, 1e-6);
	if (own <= t->least + 1e-9)
		ck_assert_mem_eq(best.group, stand->group, stand->model.n_groups * sizeof(int));
}

START_TEST(the_best_order_is_that_of_all_arrangements)
{
	int n_told = 0, n_better = 0;
	for (uint64_t seed = 1; seed <= 150; seed++) {
		shed_scene scene;
		scene_random(&scene, seed);
		if (scene.coach.energy_management.n_order > MOST_GROUPS)
			scene.coach.energy_management.n_order = MOST_GROUPS;
		rig_shed_options options = rig_shed_defaults();
		options.weather = seed % 2 ? RIG_SHED_HOT : RIG_SHED_COLD;
		shed_stand stand;
		stand_make(&stand, &scene.coach, &options);
		trial t = {.stand = &stand};
		if (stand.model.n_groups >= 2) {
			compare(&t);
			n_told += t.most > t.least + 1e-6;
			n_better += points_of(&t, stand.group) > t.least + 1e-6;
		}
		stand_free(&stand);
	}
	/* in many of them the order matters */
	ck_assert_int_gt(n_told, 30);
	ck_assert_int_gt(n_better, 15);
}
END_TEST

/* Eight that compete all day long: the search ends by itself, and nothing near is better. */
START_TEST(eight_groups_are_searched_to_the_end)
{
	static const char *const LOADS[] = {"roof_ac_15k", "roof_ac_13k5", "water_heater_element",
		"washer_dryer_combo", "dishwasher", "dehumidifier_full", "ice_maker_portable",
		"clothes_washer"};
	shed_scene scene;
	scene_start(&scene, 30);
	for (int i = 0; i < COUNT(LOADS); i++)
		scene_drops(&scene, scene_add(&scene, LOADS[i], RIG_LEG_1));
	scene_add(&scene, "microwave_convection", RIG_LEG_1);
	rig_shed_options options = rig_shed_defaults();
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	trial t = {.stand = &stand};
	for (int day = 0; day < N_DAYS; day++) {
		ck_assert_int_eq(shed_day_new(&stand.model, stand.arena, &t.days[day]), RIG_OK);
		shed_day_draw(&stand.model, 1, (size_t)day, t.days[day]);
	}
	const double own = points_of(&t, stand.group);
	shed_best best = {0};
	ck_assert_int_eq(shed_find_best(&stand.model, t.days, N_DAYS, own, &best), RIG_OK);
	ck_assert(best.proved);
	ck_assert_double_lt(best.points, own);
	for (int i = 0; i < 8; i++)
		for (int j = 0; j < i; j++) {
			int group[8];
			memcpy(group, best.group, sizeof group);
			group[i] = best.group[j];
			group[j] = best.group[i];
			ck_assert_double_ge(points_of(&t, group), best.points - 1e-6);
		}
	stand_free(&stand);
}
END_TEST

/* Twelve are too many to try them all: the answer says so, and no single move betters it. */
START_TEST(of_many_groups_no_single_move_is_better)
{
	static const char *const LOADS[] = {"roof_ac_15k", "roof_ac_13k5", "water_heater_element",
		"washer_dryer_combo", "dishwasher", "dehumidifier_full", "ice_maker_portable",
		"clothes_washer", "toaster_oven", "clothes_iron", "dryer_vented_120", "box_fan"};
	enum { N = COUNT(LOADS) };
	shed_scene scene;
	scene_start(&scene, 30);
	for (int i = 0; i < N; i++)
		scene_drops(&scene, scene_add(&scene, LOADS[i], RIG_LEG_1));
	rig_shed_options options = rig_shed_defaults();
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	trial t = {.stand = &stand};
	for (int day = 0; day < N_DAYS; day++) {
		ck_assert_int_eq(shed_day_new(&stand.model, stand.arena, &t.days[day]), RIG_OK);
		shed_day_draw(&stand.model, 1, (size_t)day, t.days[day]);
	}
	const double own = points_of(&t, stand.group);
	shed_best best = {0};
	ck_assert_int_eq(shed_find_best(&stand.model, t.days, N_DAYS, own, &best), RIG_OK);
	ck_assert(!best.proved);
	ck_assert_double_lt(best.points, own);
	ck_assert_double_eq_tol(points_of(&t, best.group), best.points, 1e-6);
	for (int from = 0; from < N; from++)
		for (int to = 0; to < N; to++) {
			int group[N];
			memcpy(group, best.group, sizeof group);
			memmove(&group[from], &group[from + 1],
				(N - 1 - (size_t)from) * sizeof(int));
			memmove(&group[to + 1], &group[to], (N - 1 - (size_t)to) * sizeof(int));
			group[to] = best.group[from];
			ck_assert_double_ge(points_of(&t, group), best.points - 1e-6);
		}
	stand_free(&stand);
}
END_TEST

Suite *shed_search_suite(void);
Suite *shed_search_suite(void)
{
	Suite *suite = suite_create("shed_search");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, what_follows_from_known_pairs_is_known);
	tcase_add_test(all, a_full_order_decides_every_set);
	tcase_add_test(all, the_best_order_is_that_of_all_arrangements);
	tcase_add_test(all, eight_groups_are_searched_to_the_end);
	tcase_add_test(all, of_many_groups_no_single_move_is_better);
	suite_add_tcase(suite, all);
	return suite;
}
