/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/shed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "../rig/random_coach.h"
#include "shed_scene.h"
#include "suites.h"

static rig_shed_findings *ask(const rig_coach *coach, const rig_shed_options *options)
{
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(coach, options, &findings), RIG_OK);
	ck_assert_ptr_nonnull(findings);
	return findings;
}

static const rig_shed_load *load_of(const rig_shed_findings *findings, const char *id)
{
	for (size_t i = 0; i < findings->n_loads; i++)
		if (findings->loads[i].id && strcmp(findings->loads[i].id, id) == 0)
			return &findings->loads[i];
	ck_abort_msg("no load %s", id);
	return NULL;
}

/* ---- the demo coach ---- */

/* Common practice, no source: a 50 A coach sheds nothing on 50 A in mild weather; on a 30 A adapter
 * it does, and on a hot day far more, since two roof units with anything else pass 30 A (a
 * motorhome maker's owner manual says so, second-hand). */
START_TEST(the_demo_coach_drops_nothing_on_50_a_and_something_on_30)
{
	rig_file *file = NULL;
	const rig_coach *coach = scene_sample("diesel-coach.rig.json", &file);
	rig_shed_options options = rig_shed_defaults();
	options.weather = RIG_SHED_MILD;
	options.n_order_days = 0;
	rig_shed_findings *mild_50 = ask(coach, &options);
	options.supply = "30A";
	rig_shed_findings *mild_30 = ask(coach, &options);
	options.weather = RIG_SHED_HOT;
	rig_shed_findings *hot_30 = ask(coach, &options);
	ck_assert_int_eq(mild_50->n_hots, 2);
	ck_assert_double_eq(mild_50->drops.most, 0);
	ck_assert_double_eq(mild_50->days_with_drops_frac, 0);
	ck_assert_double_eq(mild_50->breaker[RIG_BREAKER_EARLY].trips_day, 0);
	ck_assert_int_eq(mild_30->n_hots, 1);
	ck_assert((mild_30->notes & RIG_SHED_SHARED_HOT) != 0);
	ck_assert_double_gt(mild_30->drops.mean, 0);
	ck_assert_double_gt(hot_30->drops.mean, 10 * mild_30->drops.mean);
	ck_assert_double_gt(hot_30->discomfort.mean, mild_30->discomfort.mean);
	ck_assert_double_gt(hot_30->hot[0].peak_a, 30);
	rig_shed_free(mild_50);
	rig_shed_free(mild_30);
	rig_shed_free(hot_30);
	rig_file_free(file);
}
END_TEST

/* The manager acts well before the likely breaker would, and within its delays. */
START_TEST(the_manager_is_quicker_than_the_breaker)
{
	rig_file *file = NULL;
	const rig_coach *coach = scene_sample("diesel-coach.rig.json", &file);
	rig_shed_options options = rig_shed_defaults();
	options.supply = "30A";
	rig_shed_findings *findings = ask(coach, &options);
	const double most_s = findings->manager.sensing_delay_s +
			      (double)findings->own.n * findings->manager.drop_interval_s;
	ck_assert_double_gt(findings->hot[0].longest_over_s, 0);
	ck_assert_double_le(findings->hot[0].longest_over_s, most_s + 1e-6);
	ck_assert_double_gt(findings->breaker[RIG_BREAKER_LIKELY].soonest_trip_s, most_s);
	ck_assert_double_eq(findings->breaker[RIG_BREAKER_LIKELY].trips_day, 0);
	/* the two that must come before anything on the coach's own priorities */
	ck_assert_double_lt(load_of(findings, "front-heat-pump")->lost_minutes.mean,
		load_of(findings, "rear-heat-pump")->lost_minutes.mean);
	ck_assert_int_eq(load_of(findings, "refrigerator")->rank, -1);
	ck_assert_double_eq(load_of(findings, "refrigerator")->drops.most, 0);
	rig_shed_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(without_a_manager_the_breaker_decides)
{
	rig_file *file = NULL;
	rig_coach coach = *scene_sample("diesel-coach.rig.json", &file);
	coach.energy_management.present = false;
	rig_shed_options options = rig_shed_defaults();
	options.supply = "30A";
	options.n_days = 20;
	rig_shed_findings *findings = ask(&coach, &options);
	ck_assert((findings->notes & RIG_SHED_NO_MANAGER) != 0);
	ck_assert_double_eq(findings->drops.most, 0);
	ck_assert_uint_eq(findings->own.n, 0);
	ck_assert_double_gt(findings->breaker[RIG_BREAKER_LIKELY].trips_day, 1);
	ck_assert_double_gt(findings->breaker[RIG_BREAKER_EARLY].days_frac, 0);
	ck_assert_uint_gt(findings->shown.n_trips, 0);
	ck_assert_double_gt(load_of(findings, "refrigerator")->withheld_wh_day, 0);
	rig_shed_free(findings);
	rig_file_free(file);
}
END_TEST

/* ---- the model against what the trade knows ---- */

/* A refrigerator's cooler runs for its stated duty in air of 25 C; the day starts anywhere in its
 * cycle, and forty minutes of 24 h are 3 %. The US Department of Energy's rule is a third of the
 * time [DOE-WATTS]: the old kind has that duty. */
START_TEST(a_refrigerator_runs_for_its_duty)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int load = scene_add(&scene, "fridge_frost_free_old", RIG_LEG_1);
	rig_shed_options options = rig_shed_defaults();
	rig_shed_findings *findings = ask(&scene.coach, &options);
	const double duty_frac =
		findings->loads[load].served_wh_day / (24 * findings->loads[load].watts_w);
	ck_assert_double_eq_tol(duty_frac, 1 / 3.0, 0.03 / 3);
	rig_shed_free(findings);
}
END_TEST

/* Two people's hot water, 62 l a day from 54 to 60 C: c m dT / 3600 and the tank's losses of the
 * day; by hand for the mild day's water of 15.3 C and a mean tank of 57 C: 4186 x 62 x 41.7 / 3600
 * = 3006 Wh, and 1.6 W/K x 37 K x 24 h = 1420 Wh. Draws empty part of the tank, so that it is
 * colder than its thermostat's band for a while: 12 %. */
START_TEST(hot_water_takes_the_energy_worked_by_hand)
{
	shed_scene scene;
	scene_start(&scene, 50);
	const int load = scene_add(&scene, "water_heater_element", RIG_LEG_1);
	rig_shed_options options = rig_shed_defaults();
	options.weather = RIG_SHED_MILD;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	ck_assert_double_eq_tol(findings->loads[load].litres_day, 62, 1e-6);
	ck_assert_double_eq_tol(findings->loads[load].served_wh_day, 4426, 0.12 * 4426);
	ck_assert_double_le(findings->loads[load].served_wh_day, 4426);
	rig_shed_free(findings);
}
END_TEST

/* The mean watts that a thermostat needs to hold a room: losses less gains, all day. By hand for
 * heaters of 3 x 1,500 W in a box of 7.5 m (138.0 W/K) at 20 C, outdoors -1.5 C on the mean, 200 W
 * inside and 40 W/m2 x 18 m2 x 2 / pi over half of the day's hours = 229 W of sun:
 * 138.0 x 21.5 - 429 = 2538 W. The furnace is left out; 4 %, mostly for the sun's noon, when it is
 * warmer than the thermostat asks. */
START_TEST(heating_takes_the_watts_worked_by_hand)
{
	shed_scene scene;
	scene_start(&scene, 50);
	for (int i = 0; i < 3; i++)
		scene_add(&scene, "space_heater_hi", RIG_LEG_1);
	rig_shed_options options = rig_shed_defaults();
	options.weather = RIG_SHED_COLD;
	options.length_m = 7.5;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	double served_wh = 0;
	for (size_t i = 0; i < findings->n_loads; i++)
		served_wh += findings->loads[i].served_wh_day;
	ck_assert_double_eq_tol(served_wh / 24, 2538, 0.04 * 2538);
	rig_shed_free(findings);
}
END_TEST

/* ---- days ---- */

START_TEST(days_are_the_same_on_every_supply_and_for_every_seed)
{
	rig_file *file = NULL;
	const rig_coach *coach = scene_sample("diesel-coach.rig.json", &file);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 50;
	options.n_order_days = 5;
	options.supply = "30A";
	rig_shed_findings *first = ask(coach, &options), *again = ask(coach, &options);
	options.supply = "20A";
	rig_shed_findings *other = ask(coach, &options);
	options.seed = 2;
	rig_shed_findings *reseeded = ask(coach, &options);
	ck_assert_double_eq(first->discomfort.mean, again->discomfort.mean);
	ck_assert_double_eq(first->drops.p90, again->drops.p90);
	ck_assert_uint_eq(first->shown.n_spans, again->shown.n_spans);
	for (size_t i = 0; i < first->n_loads; i++) {
		const rig_shed_load *a = &first->loads[i], *b = &other->loads[i];
		if (a->behaviour == RIG_SHED_USED || a->behaviour == RIG_SHED_STEADY)
			ck_assert_double_eq_tol(a->wanted_wh_day, b->wanted_wh_day, 1e-6);
		ck_assert_double_eq(a->free_degree_h_day, b->free_degree_h_day);
		ck_assert_double_eq(a->free_cold_litres_day, b->free_cold_litres_day);
		ck_assert_double_eq_tol(a->wanted_wh_day, a->served_wh_day + a->withheld_wh_day,
			1e-9 * (1 + a->wanted_wh_day));
	}
	ck_assert_double_ne(other->discomfort.mean, reseeded->discomfort.mean);
	rig_shed_free(first);
	rig_shed_free(again);
	rig_shed_free(other);
	rig_shed_free(reseeded);
	rig_file_free(file);
}
END_TEST

START_TEST(mean_use_is_what_the_file_says)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int microwave = scene_add(&scene, "microwave_800", RIG_LEG_1);
	const int television = scene_add(&scene, "tv_led_32", RIG_LEG_1);
	scene.load[television].from_hour = 22; /* through midnight */
	scene.load[television].to_hour = 3;
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 2000;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	/* 0.3 h in sessions of 0.1 h, 4 h in sessions of 2 h: whole numbers, every day */
	ck_assert_double_eq_tol(findings->loads[microwave].served_wh_day, 1200 * 0.3, 1e-6);
	ck_assert_double_eq_tol(findings->loads[television].served_wh_day, 45 * 4, 1e-6);
	for (size_t i = 0; i < findings->shown.n_spans; i++) {
		const rig_shed_span *span = &findings->shown.spans[i];
		if (span->load == television)
			ck_assert(span->to_s <= 3 * 3600 + 1 || span->from_s >= 22 * 3600 - 1);
	}
	rig_shed_free(findings);
}
END_TEST

/* 0.05 h a day in pots of half an hour: one day in ten. Four standard errors. */
START_TEST(a_rare_use_comes_on_some_days)
{
	shed_scene scene;
	scene_start(&scene, 30);
	scene_add(&scene, "coffee_maker", RIG_LEG_1);
	scene.load[0].daily_use_h = rig_figure_of(0.05, RIG_FROM_STATED);
	scene.load[0].duty_frac = rig_figure_of(1, RIG_FROM_STATED);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 2000;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	ck_assert_double_eq_tol(
		findings->loads[0].served_wh_day / (0.5 * 1080), 0.1, 4 * sqrt(0.1 * 0.9 / 2000));
	rig_shed_free(findings);
}
END_TEST

START_TEST(a_habit_changes_the_use)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int dryer = scene_add(&scene, "hair_dryer", RIG_LEG_1);
	scene_add(&scene, "tv_led_32", RIG_LEG_1);
	rig_use use = {.daily_use_h = rig_figure_of(1, RIG_FROM_STATED),
		.from_hour = -1,
		.to_hour = -1,
		.load_index = dryer};
	rig_habit habit = {.only = RIG_YES, .n_use = 1, .use = &use};
	scene.coach.n_habits = 1;
	scene.coach.habits = &habit;
	rig_shed_options options = rig_shed_defaults();
	options.habit = 0;
	options.n_days = 2000;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	/* 1 h in eight sessions, every day */
	ck_assert_double_eq_tol(findings->loads[0].served_wh_day, 1500, 1e-6);
	ck_assert_int_eq(findings->loads[1].behaviour, RIG_SHED_IDLE);
	ck_assert_double_eq(findings->loads[1].wanted_wh_day, 0);
	rig_shed_free(findings);
}
END_TEST

/* ---- supplies and options ---- */

START_TEST(loads_for_240_v_are_dead_on_one_hot)
{
	shed_scene scene;
	scene_start(&scene, 50);
	const int load = scene_add(&scene, "water_heater_element", RIG_LEG_BOTH);
	scene.load[load].volts_v = rig_figure_of(240, RIG_FROM_STATED);
	rig_shed_options options = rig_shed_defaults();
	rig_shed_findings *two = ask(&scene.coach, &options);
	options.supply = "30A";
	rig_shed_findings *one = ask(&scene.coach, &options);
	ck_assert(!two->loads[0].dead && one->loads[0].dead);
	ck_assert_int_eq(two->loads[0].hot, -1);
	ck_assert_double_eq_tol(two->hot[0].peak_a, 6, 1e-9);
	ck_assert_double_eq_tol(two->hot[1].peak_a, 6, 1e-9);
	ck_assert_double_eq(one->hot[0].peak_a, 0);
	ck_assert((one->notes & RIG_SHED_HAS_DEAD) != 0);
	rig_shed_free(one);
	rig_shed_free(two);
}
END_TEST

/* 6,000 W. By hand: 25 A on each of two hots, 50 A on one; on days up to 100.4 F (38 C) 2 % less
 * for each 10 F above 85 F, 3.08 %; at 6,000 ft besides 3.5 % for each 1,000 ft above 1,000, 17.5 %
 * [GEN-2008]. */
static const struct {
	rig_choice two_hots;
	rig_shed_weather weather;
	double elevation_m, rating_a;
} GENERATORS[] = {
	{RIG_YES, RIG_SHED_MILD, 0, 25},
	{RIG_NO, RIG_SHED_MILD, 0, 50},
	{RIG_YES, RIG_SHED_HOT, 0, 25 * (1 - 0.0308)},
	{RIG_YES, RIG_SHED_HOT, 1828.8, 25 * (1 - 0.0308 - 0.175)},
	{RIG_YES, RIG_SHED_COLD, 1828.8, 25 * (1 - 0.175)},
};

START_TEST(a_generator_gives_its_watts_over_its_hots)
{
	shed_scene scene;
	scene_start(&scene, 50);
	scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	rig_shed_options options = rig_shed_defaults();
	options.supply = "generator";
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_NOT_FOUND);
	scene.coach.generator = (rig_generator){.present = true,
		.two_hots = GENERATORS[_i].two_hots,
		.watts_w = rig_figure_of(6000, RIG_FROM_STATED)};
	scene.coach.site.elevation_m = rig_figure_of(GENERATORS[_i].elevation_m, RIG_FROM_STATED);
	options.weather = GENERATORS[_i].weather;
	findings = ask(&scene.coach, &options);
	ck_assert_double_eq_tol(findings->rating_a, GENERATORS[_i].rating_a, 1e-9);
	/* its breaker stays that of the label */
	ck_assert_double_eq_tol(findings->breaker[RIG_BREAKER_LIKELY].breaker.rating_a,
		GENERATORS[_i].two_hots == RIG_YES ? 25 : 50, 1e-9);
	ck_assert_ptr_null(findings->pedestal);
	rig_shed_free(findings);
}
END_TEST

/* ---- the inverter ---- */

static void give_inverter(shed_scene *scene, bool auto_start)
{
	scene->coach.inverter =
		(rig_inverter){.present = true, .watts_w = rig_figure_of(2000, RIG_FROM_STATED)};
	scene->coach.generator = (rig_generator){.present = true,
		.auto_start = auto_start ? RIG_YES : RIG_NO,
		.two_hots = RIG_NO,
		.watts_w = rig_figure_of(5500, RIG_FROM_STATED),
		.start_load_w = rig_figure_of(900, RIG_FROM_STATED),
		.start_load_minutes = rig_figure_of(2, RIG_FROM_STATED),
		.minimum_run_minutes = rig_figure_of(30, RIG_FROM_STATED),
		.quiet_from_hour = -1,
		.quiet_to_hour = -1};
}

START_TEST(an_inverter_runs_what_it_feeds)
{
	shed_scene scene;
	scene_start(&scene, 50);
	const int roof = scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	const int microwave = scene_add(&scene, "microwave_800", RIG_LEG_2);
	scene.load[microwave].inverter = RIG_YES;
	rig_shed_options options = rig_shed_defaults();
	options.supply = "inverter";
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_NOT_FOUND);
	give_inverter(&scene, false);
	findings = ask(&scene.coach, &options);
	ck_assert(findings->inverter && !findings->generator.auto_start);
	ck_assert_double_eq_tol(findings->rating_a, 2000 / 120.0, 1e-9);
	ck_assert(findings->loads[roof].dead && findings->loads[roof].unfed);
	ck_assert_double_eq(findings->loads[roof].wanted_wh_day, 0);
	ck_assert(!findings->loads[microwave].unfed);
	ck_assert_double_gt(findings->loads[microwave].served_wh_day, 0);
	ck_assert_double_eq(findings->generator.run_h_day, 0);
	rig_shed_free(findings);
}
END_TEST

/* A higher threshold never starts it more often than a day is long, and starts are runs. */
START_TEST(a_generator_that_starts_by_load_lets_the_roof_unit_run)
{
	shed_scene scene;
	scene_start(&scene, 50);
	const int roof = scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	scene.load[scene_add(&scene, "microwave_800", RIG_LEG_2)].inverter = RIG_YES;
	give_inverter(&scene, true);
	rig_shed_options options = rig_shed_defaults();
	options.supply = "inverter";
	options.n_order_days = 0;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	const rig_shed_generator *generator = &findings->generator;
	ck_assert(generator->auto_start && !findings->loads[roof].dead);
	ck_assert_double_gt(generator->starts_day, 0);
	ck_assert_double_ge(generator->run_h_day, 0.5 * generator->starts_day - 0.5);
	ck_assert_double_gt(findings->loads[roof].served_wh_day, 0);
	ck_assert_double_le(findings->loads[roof].served_wh_day,
		generator->run_h_day * findings->loads[roof].watts_w + 1e-6);
	rig_shed_free(findings);
	scene.coach.generator.start_load_w = rig_figure_of(1900, RIG_FROM_STATED);
	findings = ask(&scene.coach, &options); /* the microwave alone never takes so much */
	ck_assert_double_eq(findings->generator.starts_day, 0);
	ck_assert_double_eq(findings->loads[roof].served_wh_day, 0);
	rig_shed_free(findings);
}
END_TEST

static const rig_shed_options WRONG[] = {
	{.n_days = 0, .habit = -1},
	{.n_days = 5, .n_order_days = 6, .habit = -1},
	{.n_days = 5, .habit = 0},
	{.n_days = 5, .habit = -1, .end = 2},
	{.n_days = 5, .habit = -1, .limit_a = 51},
	{.n_days = 5, .habit = -1, .limit_a = -1},
	{.n_days = 5, .habit = -1, .limit_a = NAN},
	{.n_days = 5, .habit = -1, .length_m = 31},
	{.n_days = 5, .habit = -1, .deficit_frac = 1.1},
	{.n_days = 5, .habit = -1, .charge_from_hour = 25},
	{.n_days = 5, .habit = -1, .weather = RIG_SHED_OWN, .low_c = 20, .high_c = 10},
	{.n_days = 5, .habit = -1, .weather = RIG_SHED_OWN, .low_c = NAN, .high_c = 10},
	{.n_days = 100001, .habit = -1},
};

START_TEST(options_out_of_range_are_refused)
{
	shed_scene scene;
	scene_start(&scene, 50);
	scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	rig_shed_findings *findings = (rig_shed_findings *)&scene;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &WRONG[_i], &findings), RIG_BAD_INPUT);
	ck_assert_ptr_eq(findings, (rig_shed_findings *)&scene);
}
END_TEST

START_TEST(a_supply_that_nobody_has_is_not_found)
{
	shed_scene scene;
	scene_start(&scene, 50);
	rig_shed_options options = rig_shed_defaults();
	options.supply = "40A";
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_NOT_FOUND);
	rig_shed_free(NULL);
}
END_TEST

START_TEST(less_limit_never_costs_less)
{
	rig_file *file = NULL;
	const rig_coach *coach = scene_sample("diesel-coach.rig.json", &file);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 100;
	options.n_order_days = 0;
	double before = -INFINITY;
	for (int limit_a = 48; limit_a >= 16; limit_a -= 8) {
		options.limit_a = limit_a;
		options.supply = limit_a > 30 ? NULL : "30A";
		rig_shed_findings *findings = ask(coach, &options);
		ck_assert_double_ge(findings->discomfort.mean, before);
		before = findings->discomfort.mean;
		rig_shed_free(findings);
	}
	ck_assert_double_gt(before, 10);
	rig_file_free(file);
}
END_TEST

/* ---- orders ---- */

/* Dropping the roof unit for a washer is a bad bargain on a hot day: put last, it is better by far,
 * on days that did not judge as well. */
START_TEST(a_bad_order_is_found_out)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int air = scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	const int washer = scene_add(&scene, "washer_dryer_combo", RIG_LEG_1);
	const int heater = scene_add(&scene, "water_heater_element", RIG_LEG_1);
	scene_drops(&scene, air);
	scene_drops(&scene, washer);
	scene_drops(&scene, heater);
	rig_shed_options options = rig_shed_defaults();
	options.limit_a = 20;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	ck_assert(findings->proved && findings->worth_changing);
	ck_assert_uint_eq(findings->best.n, 3);
	ck_assert_int_eq(findings->best.load[2], air);
	ck_assert_uint_ge(findings->n_moves, 1);
	ck_assert_double_lt(findings->best.discomfort_day, findings->own.discomfort_day / 2);
	ck_assert_double_lt(
		findings->best.rest_discomfort_day, findings->own.rest_discomfort_day / 2);
	for (size_t i = 0; i < findings->n_moves; i++) {
		const rig_shed_move *move = &findings->moves[i];
		ck_assert_int_eq(findings->own.load[move->from], move->load);
		ck_assert_int_eq(findings->best.load[move->to], move->load);
	}
	rig_shed_free(findings);
}
END_TEST

/* The measure by hand: a tenth of a point a drop, four an hour lost times (10 - priority) / 5. */
static const struct {
	int priority;
	double weight;
} WEIGHT[] = {{1, 1.8}, {5, 1}, {9, 0.2}};

START_TEST(discomfort_is_that_of_the_stated_measure)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int washer = scene_add(&scene, "washer_dryer_combo", RIG_LEG_1);
	const int air = scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	scene_drops(&scene, washer);
	scene.load[washer].priority = WEIGHT[_i].priority;
	rig_shed_options options = rig_shed_defaults();
	options.limit_a = 20;
	options.n_order_days = 0;
	rig_shed_findings *findings = ask(&scene.coach, &options);
	const rig_shed_load *load = &findings->loads[washer];
	ck_assert_double_gt(load->lost_minutes.mean, 5);
	ck_assert_double_eq_tol(load->discomfort_day,
		0.1 * load->drops.mean + 4 * WEIGHT[_i].weight * load->lost_minutes.mean / 60,
		1e-9);
	ck_assert_double_eq_tol(findings->discomfort.mean,
		load->discomfort_day + findings->loads[air].discomfort_day, 1e-9);
	rig_shed_free(findings);
}
END_TEST

START_TEST(without_an_order_of_its_own_priority_decides)
{
	shed_scene scene;
	scene_start(&scene, 30);
	const int air = scene_add(&scene, "roof_ac_15k", RIG_LEG_1);             /* 7 */
	scene_add(&scene, "microwave_800", RIG_LEG_1);                           /* kept */
	const int washer = scene_add(&scene, "washer_dryer_combo", RIG_LEG_1);   /* 9, 1300 W */
	const int heater = scene_add(&scene, "water_heater_element", RIG_LEG_1); /* 9, 1440 W */
	rig_shed_options options = rig_shed_defaults();
	rig_shed_findings *findings = ask(&scene.coach, &options);
	ck_assert((findings->notes & RIG_SHED_BY_PRIORITY) != 0);
	ck_assert_uint_eq(findings->own.n, 3);
	ck_assert_int_eq(findings->own.load[0], heater);
	ck_assert_int_eq(findings->own.load[1], washer);
	ck_assert_int_eq(findings->own.load[2], air);
	rig_shed_free(findings);
}
END_TEST

/* ---- any coach ---- */

static void check_shown(const rig_shed_findings *findings)
{
	const rig_shed_shown *shown = &findings->shown;
	for (size_t i = 0; i < shown->n_spans; i++) {
		const rig_shed_span *span = &shown->spans[i];
		ck_assert_uint_lt((size_t)span->load, findings->n_loads);
		ck_assert(span->from_s >= 0 && span->from_s <= span->to_s && span->to_s <= 86400);
		if (i > 0 && shown->spans[i - 1].load == span->load)
			ck_assert_double_ge(span->from_s, shown->spans[i - 1].to_s);
	}
	for (size_t i = 1; i < shown->n_points; i++)
		ck_assert_double_gt(shown->points[i].at_s, shown->points[i - 1].at_s);
	ck_assert_uint_lt(shown->day, findings->n_days);
}

static void check_spread(rig_shed_spread spread)
{
	ck_assert(isfinite(spread.mean) && spread.p50 <= spread.p90 && spread.p90 <= spread.most);
}

START_TEST(any_coach_gives_findings_that_hold_together)
{
	for (uint64_t seed = 1; seed <= 60; seed++) {
		rig_file *file = random_coach(seed);
		rig_shed_options options = rig_shed_defaults();
		options.weather = (rig_shed_weather)(seed % 3);
		options.n_days = 3;
		options.n_order_days = 1;
		options.seed = seed;
		rig_shed_findings *findings = NULL;
		const rig_status status =
			rig_shed_study(rig_file_completed(file), &options, &findings);
		ck_assert_msg(status == RIG_OK || status == RIG_BAD_INPUT, "seed %d", (int)seed);
		if (status == RIG_OK) {
			check_shown(findings);
			check_spread(findings->drops);
			check_spread(findings->discomfort);
			check_spread(findings->lost_minutes);
			for (size_t i = 0; i < findings->n_loads; i++) {
				const rig_shed_load *load = &findings->loads[i];
				ck_assert(isfinite(load->wanted_wh_day) &&
					  isfinite(load->discomfort_day));
				ck_assert(!load->dead || load->wanted_wh_day == 0);
			}
		}
		rig_shed_free(findings);
		rig_file_free(file);
	}
}
END_TEST

Suite *shed_suite(void);
Suite *shed_suite(void)
{
	Suite *suite = suite_create("shed");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, the_demo_coach_drops_nothing_on_50_a_and_something_on_30);
	tcase_add_test(all, the_manager_is_quicker_than_the_breaker);
	tcase_add_test(all, without_a_manager_the_breaker_decides);
	tcase_add_test(all, a_refrigerator_runs_for_its_duty);
	tcase_add_test(all, hot_water_takes_the_energy_worked_by_hand);
	tcase_add_test(all, heating_takes_the_watts_worked_by_hand);
	tcase_add_test(all, days_are_the_same_on_every_supply_and_for_every_seed);
	tcase_add_test(all, mean_use_is_what_the_file_says);
	tcase_add_test(all, a_rare_use_comes_on_some_days);
	tcase_add_test(all, a_habit_changes_the_use);
	tcase_add_loop_test(all, discomfort_is_that_of_the_stated_measure, 0, COUNT(WEIGHT));
	tcase_add_test(all, loads_for_240_v_are_dead_on_one_hot);
	tcase_add_test(all, an_inverter_runs_what_it_feeds);
	tcase_add_test(all, a_generator_that_starts_by_load_lets_the_roof_unit_run);
	tcase_add_loop_test(all, a_generator_gives_its_watts_over_its_hots, 0, COUNT(GENERATORS));
	tcase_add_loop_test(all, options_out_of_range_are_refused, 0, COUNT(WRONG));
	tcase_add_test(all, a_supply_that_nobody_has_is_not_found);
	tcase_add_test(all, less_limit_never_costs_less);
	tcase_add_test(all, a_bad_order_is_found_out);
	tcase_add_test(all, without_an_order_of_its_own_priority_decides);
	tcase_add_test(all, any_coach_gives_findings_that_hold_together);
	suite_add_tcase(suite, all);
	return suite;
}
