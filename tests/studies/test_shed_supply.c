/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What feeds a coach on a day of shedding, and what its manager works by. */
#include <math.h>
#include <stddef.h>

#include "rigbudget/generator.h"
#include "shed_scene.h"
#include "suites.h"

/* Free with stand_free(). */
static rig_status ask(shed_scene *scene, const char *supply, shed_stand *stand)
{
	rig_shed_options options = rig_shed_defaults();
	options.supply = supply;
	*stand = (shed_stand){.arena = rig_arena_new(),
		.findings = {.coach = &scene->coach, .options = options, .n_days = 1}};
	return shed_model_of(stand->arena, &stand->findings, &stand->model);
}

/* By hand: the smaller of cord and receptacle; two hots where both have them. No supply named: the
 * receptacle that the cord is made for, the largest without a cord. */
static const struct {
	int cord_a;
	const char *supply;
	double rating_a;
	int n_hots;
	unsigned notes;
} RECEPTACLE[] = {
	{50, "50A", 50, 2, 0},
	{50, "30A", 30, 1, RIG_SHED_SHARED_HOT},
	{50, NULL, 50, 2, 0},
	{30, "50A", 30, 1, RIG_SHED_CORD_LIMITS},
	{30, "30A", 30, 1, 0},
	{30, "15A", 15, 1, 0},
	{30, NULL, 30, 1, 0},
	{0, NULL, 50, 2, 0},
	{0, "20A", 20, 1, RIG_SHED_SHARED_HOT},
	{49, "30A", 30, 1, 0},
};

START_TEST(cord_and_receptacle_limit_each_other)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, RECEPTACLE[_i].cord_a);
	ck_assert_int_eq(ask(&scene, RECEPTACLE[_i].supply, &stand), RIG_OK);
	const rig_shed_findings *findings = &stand.findings;
	const unsigned asked = RIG_SHED_CORD_LIMITS | RIG_SHED_SHARED_HOT;
	ck_assert_double_eq(findings->rating_a, RECEPTACLE[_i].rating_a);
	ck_assert_int_eq(findings->n_hots, RECEPTACLE[_i].n_hots);
	ck_assert_uint_eq(findings->notes & asked, RECEPTACLE[_i].notes);
	ck_assert_double_eq(findings->left_frac, 1);
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		ck_assert_double_eq(stand.model.breaker[k].rating_a, RECEPTACLE[_i].rating_a);
	stand_free(&stand);
}
END_TEST

/* 6,000 W at the sea are 50 A at 120 V, or 25 A on each of two outputs. What a hot day at a height
 * leaves is the law of the generator's maker; its breaker is for the label all the same. */
static const struct {
	rig_choice two_hots;
	int cord_a;
	double height_m, rating_a;
	int n_hots;
} SET[] = {
	{RIG_NO, 50, 0, 50, 1},
	{RIG_YES, 50, 0, 25, 2},
	{RIG_YES, 30, 0, 50, 1},
	{RIG_NO, 50, 2000, 50, 1},
};

START_TEST(a_generator_gives_what_height_and_heat_leave)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, SET[_i].cord_a);
	scene.coach.generator = (rig_generator){.present = true,
		.watts_w = exactly(6000),
		.two_hots = SET[_i].two_hots,
		.quiet_from_hour = -1,
		.quiet_to_hour = -1};
	scene.coach.site.elevation_m = exactly(SET[_i].height_m);
	ck_assert_int_eq(ask(&scene, "generator", &stand), RIG_OK);
	const double left_frac = rig_generator_left_frac(
		RIG_DERATE_HEIGHT_HEAT, SET[_i].height_m, stand.findings.high_c);
	ck_assert_double_lt(left_frac, 1); /* the default day is hot */
	ck_assert_double_eq(stand.findings.left_frac, left_frac);
	ck_assert_int_eq(stand.findings.n_hots, SET[_i].n_hots);
	ck_assert_double_eq_tol(stand.findings.rating_a, left_frac * SET[_i].rating_a, 1e-9);
	ck_assert_double_eq_tol(stand.model.breaker[0].rating_a, SET[_i].rating_a, 1e-9);
	stand_free(&stand);
}
END_TEST

START_TEST(what_the_coach_lacks_is_not_found_and_what_is_absurd_refused)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	ck_assert_int_eq(ask(&scene, "generator", &stand), RIG_NOT_FOUND);
	stand_free(&stand);
	ck_assert_int_eq(ask(&scene, "inverter", &stand), RIG_NOT_FOUND);
	stand_free(&stand);
	scene.coach.generator = (rig_generator){.present = true};
	scene.coach.inverter = (rig_inverter){.present = true};
	ck_assert_int_eq(ask(&scene, "generator", &stand), RIG_NOT_FOUND);
	stand_free(&stand);
	ck_assert_int_eq(ask(&scene, "inverter", &stand), RIG_NOT_FOUND);
	stand_free(&stand);
	scene.coach.generator.watts_w = scene.coach.inverter.watts_w = exactly(0);
	ck_assert_int_eq(ask(&scene, "generator", &stand), RIG_BAD_INPUT);
	stand_free(&stand);
	ck_assert_int_eq(ask(&scene, "inverter", &stand), RIG_BAD_INPUT);
	stand_free(&stand);
	scene.coach.generator.watts_w = exactly(3000);
	scene.coach.site.elevation_m = exactly(6001);
	ck_assert_int_eq(ask(&scene, "generator", &stand), RIG_BAD_INPUT);
	stand_free(&stand);
	scene.coach.cord_a = 27;
	ck_assert_int_eq(ask(&scene, NULL, &stand), RIG_NOT_FOUND);
	stand_free(&stand);
}
END_TEST

/* 2,400 W at 120 V are 20 A; 3,600 W of a generator 30 A, which a manager's own 24 A limit bounds.
 * Two minutes and an hour are taken where the file says nothing. */
static const struct {
	double start_minutes, run_minutes, own_limit_a; /* 0: nothing said */
	int quiet_from_hour, quiet_to_hour;
	double start_s, run_s, share_a; /* share_a: what the height and heat leave of it */
	bool quiet;
} START[] = {
	{0, 0, 0, -1, -1, 120, 3600, 30, false},
	{5, 30, 0, 22, 8, 300, 1800, 30, true},
	{5, 30, 12, 8, 8, 300, 1800, 0, false},
};

START_TEST(an_inverter_starts_the_generator_as_the_file_says)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 50);
	rig_generator *generator = &scene.coach.generator;
	*generator = (rig_generator){.present = true,
		.auto_start = RIG_YES,
		.watts_w = exactly(3600),
		.start_load_w = exactly(900),
		.quiet_from_hour = START[_i].quiet_from_hour,
		.quiet_to_hour = START[_i].quiet_to_hour};
	if (START[_i].start_minutes > 0)
		generator->start_load_minutes = exactly(START[_i].start_minutes);
	if (START[_i].run_minutes > 0)
		generator->minimum_run_minutes = exactly(START[_i].run_minutes);
	if (START[_i].own_limit_a > 0)
		scene.coach.energy_management.limit_a = exactly(START[_i].own_limit_a);
	scene.coach.inverter = (rig_inverter){.present = true, .watts_w = exactly(2400)};
	ck_assert_int_eq(ask(&scene, "inverter", &stand), RIG_OK);
	const shed_sources *sources = &stand.model.sources;
	const double left_frac =
		rig_generator_left_frac(RIG_DERATE_HEIGHT_HEAT, 0, stand.findings.high_c);
	ck_assert_double_eq(stand.findings.rating_a, 20);
	ck_assert_int_eq(stand.findings.n_hots, 1);
	ck_assert(sources->inverter && sources->auto_start);
	ck_assert_double_eq(sources->start_w, 900);
	ck_assert_double_eq(sources->start_s, START[_i].start_s);
	ck_assert_double_eq(sources->minimum_run_s, START[_i].run_s);
	ck_assert_double_eq_tol(sources->generator_limit_a,
		START[_i].own_limit_a > 0 ? START[_i].own_limit_a : left_frac * START[_i].share_a,
		1e-9);
	ck_assert_double_eq_tol(sources->generator_breaker[0].rating_a, 30, 1e-9);
	ck_assert_double_eq(stand.model.breaker[0].rating_a, 20);
	ck_assert(((stand.findings.notes & RIG_SHED_QUIET_START) != 0) == START[_i].quiet);
	if (START[_i].quiet) {
		ck_assert_double_eq(sources->quiet_s[0], 22 * 3600.0);
		ck_assert_double_eq(sources->quiet_s[1], 8 * 3600.0);
	}
	stand_free(&stand);
}
END_TEST

/* The usual figures where the file gives none (common practice, no source), and the file's own. A
 * manager's limit is never above what feeds the coach. */
START_TEST(a_manager_works_by_the_file_or_by_what_is_usual)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	rig_energy_management *em = &scene.coach.energy_management;
	*em = (rig_energy_management){.present = true};
	ck_assert_int_eq(ask(&scene, "30A", &stand), RIG_OK);
	const rig_shed_manager *manager = &stand.findings.manager;
	ck_assert(manager->present && !manager->own_order);
	ck_assert_double_eq(manager->limit_a, 30);
	ck_assert_double_eq(manager->sensing_delay_s, 2);
	ck_assert_double_eq(manager->drop_interval_s, 1);
	ck_assert_double_eq(manager->restore_delay_s, 120);
	ck_assert_double_eq(manager->restore_interval_s, 10);
	ck_assert_double_eq(manager->minimum_off_s, 180);
	ck_assert_int_eq(manager->most_drops, 6);
	ck_assert_double_eq(manager->reset_s, 3600);
	ck_assert_uint_eq(stand.findings.notes & (RIG_SHED_NO_MANAGER | RIG_SHED_BY_PRIORITY),
		RIG_SHED_BY_PRIORITY);
	stand_free(&stand);

	const char *order[] = {"l00"};
	*em = (rig_energy_management){.present = true,
		.limit_a = exactly(24),
		.sensing_delay_s = exactly(4),
		.restore_delay_s = exactly(60),
		.minimum_off_s = exactly(90),
		.most_drops = exactly(3),
		.reset_minutes = exactly(10),
		.order = order,
		.n_order = 1};
	ck_assert_int_eq(ask(&scene, "20A", &stand), RIG_OK);
	ck_assert_double_eq(manager->limit_a, 20);
	stand_free(&stand);
	ck_assert_int_eq(ask(&scene, "30A", &stand), RIG_OK);
	ck_assert(manager->own_order);
	ck_assert_double_eq(manager->limit_a, 24);
	ck_assert_double_eq(manager->sensing_delay_s, 4);
	ck_assert_double_eq(manager->restore_delay_s, 60);
	ck_assert_double_eq(manager->minimum_off_s, 90);
	ck_assert_int_eq(manager->most_drops, 3);
	ck_assert_double_eq(manager->reset_s, 600);
	ck_assert_uint_eq(stand.findings.notes & (RIG_SHED_NO_MANAGER | RIG_SHED_BY_PRIORITY), 0);
	stand_free(&stand);

	em->present = false;
	ck_assert_int_eq(ask(&scene, "30A", &stand), RIG_OK);
	ck_assert(!manager->present && !manager->own_order);
	ck_assert_uint_eq(stand.findings.notes & (RIG_SHED_NO_MANAGER | RIG_SHED_BY_PRIORITY),
		RIG_SHED_NO_MANAGER);
	stand_free(&stand);
}
END_TEST

/* Least and most of each figure of a manager, and a step beyond. */
START_TEST(a_manager_s_figures_have_limits)
{
	const struct {
		size_t at;
		double least, below, most, above;
	} limit[] = {
		{offsetof(rig_energy_management, limit_a), 0.1, 0.05, 1e6, 1.1e6},
		{offsetof(rig_energy_management, sensing_delay_s), 0, -1, 1e6, 1.1e6},
		{offsetof(rig_energy_management, restore_delay_s), 0, -1, 1e6, 1.1e6},
		{offsetof(rig_energy_management, minimum_off_s), 0, -1, 1e6, 1.1e6},
		{offsetof(rig_energy_management, most_drops), 1, 0.5, SHED_MAX_DROPS,
			SHED_MAX_DROPS + 1},
		{offsetof(rig_energy_management, reset_minutes), 1, 0.5, 1440, 1441},
	};
	for (int i = 0; i < COUNT(limit); i++) {
		const double value[] = {
			limit[i].least, limit[i].most, limit[i].below, limit[i].above, NAN};
		for (int k = 0; k < COUNT(value); k++) {
			shed_scene scene;
			shed_stand stand;
			scene_start(&scene, 30);
			*(rig_figure *)((char *)&scene.coach.energy_management + limit[i].at) =
				exactly(value[k]);
			ck_assert_msg(
				ask(&scene, "30A", &stand) == (k < 2 ? RIG_OK : RIG_BAD_INPUT),
				"figure %d, value %g", i, value[k]);
			stand_free(&stand);
		}
	}
}
END_TEST

Suite *shed_supply_suite(void);
Suite *shed_supply_suite(void)
{
	Suite *suite = suite_create("shed_supply");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, cord_and_receptacle_limit_each_other, 0, COUNT(RECEPTACLE));
	tcase_add_loop_test(all, a_generator_gives_what_height_and_heat_leave, 0, COUNT(SET));
	tcase_add_test(all, what_the_coach_lacks_is_not_found_and_what_is_absurd_refused);
	tcase_add_loop_test(
		all, an_inverter_starts_the_generator_as_the_file_says, 0, COUNT(START));
	tcase_add_test(all, a_manager_works_by_the_file_or_by_what_is_usual);
	tcase_add_test(all, a_manager_s_figures_have_limits);
	suite_add_tcase(suite, all);
	return suite;
}
