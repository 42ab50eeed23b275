/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_volts.h"

#include <math.h>

#include "../rig/random_coach.h"
#include "shed_scene.h"
#include "suites.h"

/* ---- the quick solution against the full one ---- */

static double share(uint64_t *state)
{
	return random_share(state);
}

/* A feed from stiff to near collapse. */
static rig_feed random_feed(uint64_t *state)
{
	const double ohm = 0.002 * pow(1000.0, share(state));
	const rig_impedance conductor = {ohm, 0.1 * ohm * share(state)};
	return (rig_feed){.kind = share(state) < 0.5 ? RIG_FEED_SPLIT : RIG_FEED_ONE_HOT,
		.open_v = 105 + 25 * share(state),
		.hot = {conductor, conductor},
		.neutral = conductor};
}

static shed_sums random_sums(uint64_t *state, bool split)
{
	shed_sums sums = {0};
	for (int place = 0; place < (split ? SHED_N_PLACES : 1); place++)
		for (int response = 0; response < SHED_N_RESPONSES; response++)
			if (share(state) < 0.6)
				sums.draw[place][response] =
					(rig_phasor){3000 * share(state), 1500 * share(state)};
	return sums;
}

enum { N_FEEDS = 20000, N_SEEDS = 3 };

/* 2 mV is what the header says: a step's 1 mV doubled, and three terms for a motor's power. */
START_TEST(the_quick_volts_are_the_full_solutions)
{
	uint64_t state = 77 + (uint64_t)_i;
	int n_quick = 0;
	for (int i = 0; i < N_FEEDS; i++) {
		shed_model model = {.feed = random_feed(&state), .draws_across = true};
		const shed_sums sums = random_sums(&state, model.feed.kind == RIG_FEED_SPLIT);
		double quick_v[2], full_v[2];
		ck_assert_int_eq(shed_leg_volts(&model, &sums, quick_v), RIG_OK);
		ck_assert_int_eq(shed_solve_sums(&model.feed, &sums, full_v), RIG_OK);
		for (int leg = 0; leg < 2; leg++)
			ck_assert_msg(fabs(quick_v[leg] - full_v[leg]) <= 0.002,
				"seed %d case %d leg %d: %.6f V, full %.6f V", _i, i, leg,
				quick_v[leg], full_v[leg]);
		n_quick += quick_v[0] != full_v[0];
	}
	ck_assert_int_gt(n_quick, N_FEEDS / 3); /* else nothing was compared */
}
END_TEST

/* The same loads one by one, each at its own rated volts. */
static void solve_one_by_one(const shed_stand *stand, double leg_v[2])
{
	rig_feed_load loads[SCENE_LOADS + 1];
	size_t n = 0;
	for (size_t u = 0; u < stand->findings.n_loads; u++) {
		const rig_shed_load *load = &stand->findings.loads[u];
		const rig_load *of = &stand->findings.coach->loads[load->load];
		if (!stand->state->unit[u].running)
			continue;
		loads[n++] = (rig_feed_load){
			.draw = rig_phasor_of(load->watts_w, of->power_factor.likely),
			.rated_v = of->volts_v.likely,
			.response = of->behaviour == RIG_RESISTIVE    ? RIG_HOLDS_RESISTANCE
				    : of->behaviour == RIG_ELECTRONIC ? RIG_HOLDS_POWER
								      : RIG_HOLDS_SHAFT,
			.place = load->hot == -1  ? RIG_ACROSS_LEGS
				 : load->hot == 0 ? RIG_ON_LEG_1
						  : RIG_ON_LEG_2};
	}
	rig_feed_state solved;
	ck_assert_int_eq(rig_feed_solve(&stand->model.feed, loads, n, &solved), RIG_OK);
	leg_v[0] = solved.leg_v[0];
	leg_v[1] = solved.leg_v[1];
}

static void give_way(shed_scene *scene, uint64_t *state)
{
	scene->coach.pedestal_open_v = rig_figure_of(110 + 15 * share(state), RIG_FROM_STATED);
	scene->coach.source_ohm = rig_figure_of(0.4 * share(state), RIG_FROM_STATED);
	scene->coach.cord_length_m = rig_figure_of(30 * share(state), RIG_FROM_STATED);
}

/* 0.05 V is what shed.h says. Some motors are rated 115 V. */
START_TEST(volts_of_a_coach_are_those_of_its_loads_one_by_one)
{
	uint64_t state = 100 + (uint64_t)_i;
	shed_scene scene;
	scene_random(&scene, (uint64_t)_i);
	give_way(&scene, &state);
	for (size_t i = 0; i < scene.coach.n_loads; i++)
		if (share(&state) < 0.3 && scene.load[i].volts_v.likely < 180)
			scene.load[i].volts_v = rig_figure_of(115, RIG_FROM_STATED);
	const rig_shed_options options = rig_shed_defaults();
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	ck_assert(stand.model.has_volts);
	ck_assert_int_le(stand.findings.n_hots, RIG_SHED_MAX_HOTS);
	for (int i = 0; i < 50; i++) {
		for (size_t u = 0; u < stand.model.n_units; u++)
			stand.state->unit[u] = (shed_unit_state){.level = 1,
				.running = u < stand.findings.n_loads &&
					   !stand.findings.loads[u].dead && share(&state) < 0.4};
		const shed_sums sums = shed_sums_of(&stand.model, stand.state);
		double quick_v[2], each_v[2];
		ck_assert_int_eq(shed_leg_volts(&stand.model, &sums, quick_v), RIG_OK);
		solve_one_by_one(&stand, each_v);
		for (int leg = 0; leg < stand.findings.n_hots; leg++)
			ck_assert_msg(each_v[leg] < 90 || fabs(quick_v[leg] - each_v[leg]) < 0.05,
				"seed %d: %.4f V, one by one %.4f V", _i, quick_v[leg],
				each_v[leg]);
	}
	stand_free(&stand);
}
END_TEST

/* ---- worked by hand ---- */

/* A heater of 1,500 W is 9.6 ohm: Ohm's law gives open x 9.6 / (9.6 + source) all day long. */
static const struct {
	double open_v, source_ohm;
	double volts_v, below_a_s, below_b_s;
} HEATERS[] = {
	{120, 0.4, 115.2, 0, 0},
	{120, 1.2, 106.66666666666667, 86400, 0},
	{110, 2.4, 88, 86400, 86400},
};

START_TEST(a_heater_all_day_leaves_the_volts_of_ohms_law)
{
	shed_scene scene;
	scene_start(&scene, 30);
	rig_load *heater = &scene.load[scene_add(&scene, "toaster", RIG_LEG_1)];
	heater->always_on = RIG_YES;
	heater->running_w = rig_figure_of(1500, RIG_FROM_STATED);
	heater->duty_frac = rig_figure_of(1, RIG_FROM_STATED);
	heater->daily_use_h = rig_figure_of(24, RIG_FROM_STATED);
	ck_assert_int_eq(heater->behaviour, RIG_RESISTIVE);
	scene.coach.pedestal_open_v = rig_figure_of(HEATERS[_i].open_v, RIG_FROM_STATED);
	scene.coach.source_ohm = rig_figure_of(HEATERS[_i].source_ohm, RIG_FROM_STATED);
	scene.coach.cord_length_m = rig_figure_of(0, RIG_FROM_STATED);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = options.n_order_days = 1;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	const rig_shed_volts *volts = &findings->volts[0];
	ck_assert(findings->has_volts);
	ck_assert_double_eq_tol(volts->lowest_v.likely, HEATERS[_i].volts_v, 1e-9);
	ck_assert_double_eq_tol(volts->lowest_v.low, HEATERS[_i].volts_v, 1e-9);
	ck_assert_double_eq_tol(volts->mean_v, HEATERS[_i].volts_v, 0.001);
	ck_assert_double_eq_tol(volts->p05_v, HEATERS[_i].volts_v, 0.1);
	ck_assert_double_eq_tol(volts->below_a_s_day, HEATERS[_i].below_a_s, 1e-6);
	ck_assert_double_eq_tol(volts->below_b_s_day, HEATERS[_i].below_b_s, 1e-6);
	ck_assert_double_eq(volts->compressor_low_s_day, 0); /* it is none */
	ck_assert_double_eq_tol(findings->shown.points[0].volts_v[0], HEATERS[_i].volts_v, 0.001);
	rig_shed_free(findings);
}
END_TEST

/* On a weak way a roof unit runs below 104 V whenever it runs, on a stiff one never. */
START_TEST(a_compressor_below_its_floor_is_timed)
{
	shed_scene scene;
	scene_start(&scene, 30);
	scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	scene.coach.pedestal_open_v = rig_figure_of(_i == 0 ? 108 : 122, RIG_FROM_STATED);
	scene.coach.source_ohm = rig_figure_of(0.4, RIG_FROM_STATED);
	scene.coach.cord_length_m = rig_figure_of(8, RIG_FROM_STATED);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 10;
	options.n_order_days = 0;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	const double runs_s = findings->loads[0].served_wh_day / findings->loads[0].watts_w * 3600;
	const rig_shed_volts *volts = &findings->volts[0];
	ck_assert_double_gt(runs_s, 3600);
	ck_assert_double_eq_tol(volts->compressor_low_s_day, _i == 0 ? runs_s : 0, 1e-6);
	ck_assert_double_eq(volts->compressor_low_days_frac, _i == 0 ? 1 : 0);
	rig_shed_free(findings);
}
END_TEST

/* ---- whole days ---- */

START_TEST(volts_of_random_days_hold_together)
{
	uint64_t state = 500 + (uint64_t)_i;
	shed_scene scene;
	scene_random(&scene, (uint64_t)_i);
	give_way(&scene, &state);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = 5;
	options.n_order_days = 0;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	for (int h = 0; h < findings->n_hots; h++) {
		const rig_shed_volts *volts = &findings->volts[h];
		ck_assert_double_le(volts->lowest_v.likely, volts->p05_v + 0.1 + 0.002);
		ck_assert_double_le(volts->lowest_v.likely, volts->mean_v + 0.002);
		ck_assert_double_le(volts->below_b_s_day, volts->below_a_s_day);
		ck_assert_double_le(volts->compressor_low_s_day, volts->below_b_s_day + 1e-6);
		for (size_t i = 0; i < findings->shown.n_points; i++) {
			const double volts_v = findings->shown.points[i].volts_v[h];
			ck_assert(volts_v == 0 || volts_v >= volts->lowest_v.likely - 0.002);
		}
	}
	rig_shed_free(findings);
}
END_TEST

/* More ohms, never more volts. */
START_TEST(a_weaker_way_sags_more)
{
	double before_v = INFINITY;
	for (int step = 0; step < 5; step++) {
		rig_file *file = NULL;
		const rig_coach *coach = scene_sample("week-trailer.rig.json", &file);
		rig_coach weak = *coach;
		weak.source_ohm = rig_figure_of(0.1 * step, RIG_FROM_STATED);
		rig_shed_options options = rig_shed_defaults();
		options.n_days = 10;
		options.n_order_days = 0;
		rig_shed_findings *findings = NULL;
		ck_assert_int_eq(rig_shed_study(&weak, &options, &findings), RIG_OK);
		ck_assert_double_lt(findings->volts[0].lowest_v.likely, before_v);
		before_v = findings->volts[0].lowest_v.likely;
		rig_shed_free(findings);
		rig_file_free(file);
	}
}
END_TEST

START_TEST(without_figures_of_the_way_there_are_no_volts)
{
	shed_scene scene;
	scene_start(&scene, 50);
	scene_add(&scene, "roof_ac_15k", RIG_LEG_1);
	scene.coach.generator =
		(rig_generator){.present = true, .watts_w = rig_figure_of(6000, RIG_FROM_STATED)};
	rig_shed_options options = rig_shed_defaults();
	rig_shed_findings *findings = NULL;
	uint64_t state = 1;
	if (_i == 1) { /* they are of the pedestal, not of a generator */
		give_way(&scene, &state);
		options.supply = "generator";
	}
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	ck_assert(!findings->has_volts);
	ck_assert_double_eq(findings->volts[0].mean_v, 0);
	rig_shed_free(findings);
	scene.coach.pedestal_open_v = rig_figure_of(-1, RIG_FROM_STATED);
	if (_i == 0) {
		give_way(&scene, &state);
		scene.coach.source_ohm = rig_figure_of(-1, RIG_FROM_STATED);
		ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_BAD_INPUT);
	}
}
END_TEST

Suite *shed_volts_suite(void);
Suite *shed_volts_suite(void)
{
	Suite *suite = suite_create("shed_volts");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_loop_test(all, the_quick_volts_are_the_full_solutions, 0, N_SEEDS);
	tcase_add_loop_test(all, volts_of_a_coach_are_those_of_its_loads_one_by_one, 0, 40);
	tcase_add_loop_test(all, a_heater_all_day_leaves_the_volts_of_ohms_law, 0, COUNT(HEATERS));
	tcase_add_loop_test(all, a_compressor_below_its_floor_is_timed, 0, 2);
	tcase_add_loop_test(all, volts_of_random_days_hold_together, 0, 30);
	tcase_add_test(all, a_weaker_way_sags_more);
	tcase_add_loop_test(all, without_figures_of_the_way_there_are_no_volts, 0, 2);
	suite_add_tcase(suite, all);
	return suite;
}
