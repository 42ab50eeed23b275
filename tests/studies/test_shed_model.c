/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A coach as the numbers of a day of shedding, by hand. */
#include <math.h>
#include <string.h>

#include "shed_scene.h"
#include "suites.h"

static const double TOL = 1e-9;

/* Without a circuit or a profile. */
static rig_load *add_plain(shed_scene *scene, double watts_w, int priority)
{
	const int i = scene_add(scene, "toaster", RIG_LEG_UNSAID);
	rig_load *load = &scene->load[i];
	load->appliance = NULL;
	load->running_w = exactly(watts_w);
	load->power_factor = load->duty_frac = exactly(1);
	load->daily_use_h = exactly(1);
	load->priority = priority;
	load->always_on = RIG_NO;
	return load;
}

/* By hand: as many sessions as it takes, all alike; at most 60 a day, then longer ones; a session
 * is no longer than its window; what is used for longer than its windows is used at any time. */
static const struct {
	const char *profile;
	double use_h;
	int from_hour, to_hour;
	double session_s, window_h[2][2];
} USE[] = {
	{"microwave_800", 0.5, -1, -1, 360, {{7, 9}, {17, 20}}},  /* five of six minutes */
	{"microwave_800", 0.25, -1, -1, 300, {{7, 9}, {17, 20}}}, /* three of five */
	{"microwave_800", 0.05, -1, -1, 360, {{7, 9}, {17, 20}}}, /* one every other day */
	{"microwave_800", 5, -1, -1, 360, {{7, 9}, {17, 20}}},    /* fifty fill the windows */
	{"microwave_800", 6, -1, -1, 360, {{0, 24}, {0, 0}}},     /* sixty */
	{"microwave_800", 7, -1, -1, 420, {{0, 24}, {0, 0}}},     /* sixty longer ones */
	{"microwave_800", 0.5, 12, 13, 360, {{12, 13}, {0, 0}}},
	{"toaster", 0.05, 22, 6, 180, {{22, 30}, {0, 0}}},
	{"toaster", 0.05, 8, 8, 180, {{8, 32}, {0, 0}}}, /* all day, from 8 h on */
	{"toaster", 0.05, 0, 1, 180, {{0, 1}, {0, 0}}},
	{"slow_cooker", 1, 10, 12, 7200, {{10, 12}, {0, 0}}}, /* six hours do not fit */
	{"microwave_800", 24, -1, -1, 86400, {{0, 24}, {0, 0}}},
};

START_TEST(use_is_cut_into_sessions)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 50);
	rig_load *load = &scene.load[scene_add(&scene, USE[_i].profile, RIG_LEG_1)];
	load->daily_use_h = exactly(USE[_i].use_h);
	load->duty_frac = exactly(0.5);
	load->from_hour = USE[_i].from_hour;
	load->to_hour = USE[_i].to_hour;
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	const shed_unit *unit = &stand.model.units[0];
	ck_assert_int_eq(unit->behaviour, RIG_SHED_USED);
	ck_assert_double_eq_tol(unit->use_s, 3600 * USE[_i].use_h, TOL);
	ck_assert_double_eq_tol(unit->session_s, USE[_i].session_s, TOL);
	ck_assert_double_eq(unit->duty_frac, 0.5);
	for (int w = 0; w < 2; w++)
		for (int k = 0; k < 2; k++)
			ck_assert_double_eq(unit->window_s[w][k], 3600 * USE[_i].window_h[w][k]);
	stand_free(&stand);
}
END_TEST

/* What a load does in each weather. */
static const struct {
	const char *profile;
	double duty_frac, use_h;
	rig_shed_behaviour hot, mild, cold;
} WEATHER[] = {
	{"roof_ac_15k", 1, 24, RIG_SHED_COOLS, RIG_SHED_IDLE, RIG_SHED_IDLE},
	{"roof_heat_pump_15k", 1, 24, RIG_SHED_COOLS, RIG_SHED_IDLE, RIG_SHED_HEATS},
	{"space_heater_hi", 1, 24, RIG_SHED_IDLE, RIG_SHED_IDLE, RIG_SHED_HEATS},
	{"box_fan", 1, 3, RIG_SHED_USED, RIG_SHED_IDLE, RIG_SHED_IDLE},
	{"dehumidifier_full", 0.5, 3, RIG_SHED_USED, RIG_SHED_USED, RIG_SHED_IDLE},
	{"electric_blanket", 0.5, 3, RIG_SHED_IDLE, RIG_SHED_IDLE, RIG_SHED_USED},
	{"water_heater_element", 1, 24, RIG_SHED_WATER, RIG_SHED_WATER, RIG_SHED_WATER},
	{"fridge_residential", 0.4, 24, RIG_SHED_CABINET, RIG_SHED_CABINET, RIG_SHED_CABINET},
	{"fridge_residential", 0.98, 24, RIG_SHED_STEADY, RIG_SHED_STEADY, RIG_SHED_STEADY},
	{"fridge_residential", 0.98, 23, RIG_SHED_USED, RIG_SHED_USED, RIG_SHED_USED},
	{"toaster", 1, 0.1, RIG_SHED_USED, RIG_SHED_USED, RIG_SHED_USED},
	{"toaster", 1, 0, RIG_SHED_IDLE, RIG_SHED_IDLE, RIG_SHED_IDLE},
	{"toaster", 0, 1, RIG_SHED_IDLE, RIG_SHED_IDLE, RIG_SHED_IDLE},
};

START_TEST(a_load_does_what_the_weather_asks)
{
	const rig_shed_weather weather[] = {RIG_SHED_HOT, RIG_SHED_MILD, RIG_SHED_COLD};
	const rig_shed_behaviour does[] = {WEATHER[_i].hot, WEATHER[_i].mild, WEATHER[_i].cold};
	for (int k = 0; k < COUNT(weather); k++) {
		shed_scene scene;
		shed_stand stand;
		scene_start(&scene, 50);
		rig_load *load = &scene.load[scene_add(&scene, WEATHER[_i].profile, RIG_LEG_1)];
		load->duty_frac = exactly(WEATHER[_i].duty_frac);
		load->daily_use_h = exactly(WEATHER[_i].use_h);
		load->always_on = RIG_NO;
		stand_make_day(&stand, &scene, weather[k]);
		ck_assert_msg(stand.findings.loads[0].behaviour == does[k], "%s, weather %d: %d",
			WEATHER[_i].profile, k, (int)stand.findings.loads[0].behaviour);
		stand_free(&stand);
	}
}
END_TEST

/* Cooling above a high of 26 C, heating below a low of 10 C, never both (docs/method.md). */
static const struct {
	double low_c, high_c;
	bool cools, heats;
} OWN[] = {{10, 26, false, false}, {10, 26.1, true, false}, {9.9, 26, false, true},
	{0, 30, true, false}, {-20, -10, false, true}};

START_TEST(own_weather_cools_or_heats_by_its_ends)
{
	rig_shed_options options = rig_shed_defaults();
	options.weather = RIG_SHED_OWN;
	options.low_c = OWN[_i].low_c;
	options.high_c = OWN[_i].high_c;
	const shed_climate climate = shed_climate_of(&options);
	ck_assert_double_eq(climate.low_c, OWN[_i].low_c);
	ck_assert_double_eq(climate.high_c, OWN[_i].high_c);
	ck_assert(climate.cools == OWN[_i].cools && climate.heats == OWN[_i].heats);
}
END_TEST

/* By hand, 120 V: 10 A stand on leg 1. Of 8, 6 and 5 A that nobody places the largest goes first,
 * each to the leg with less: 8 and 6 A to leg 2, 5 A to leg 1. 240 V are on both, at half the amps
 * of 120 V. */
START_TEST(loads_of_unknown_leg_go_to_the_emptier_one_the_largest_first)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 50);
	const double amps_a[] = {8, 5, 10, 6, 4};
	const int hot[] = {1, 0, 0, 1, -1};
	for (int i = 0; i < 5; i++)
		add_plain(&scene, 120 * amps_a[i], 5);
	scene.circuit[2].leg = RIG_LEG_1;
	scene.load[4].volts_v = exactly(240);
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert((stand.findings.notes & RIG_SHED_UNPLACED) != 0);
	for (int i = 0; i < 5; i++) {
		const shed_unit *unit = &stand.model.units[i];
		const double drawn_a = i == 4 ? amps_a[i] / 2 : amps_a[i];
		ck_assert_int_eq(stand.findings.loads[i].hot, hot[i]);
		ck_assert_double_eq_tol(stand.findings.loads[i].amps_a, drawn_a, TOL);
		for (int h = 0; h < 2; h++) {
			const bool there = hot[i] < 0 || hot[i] == h;
			ck_assert_double_eq_tol(unit->hot[h].active_a, there ? drawn_a : 0, TOL);
			ck_assert_double_eq(unit->hot[h].reactive_a, 0);
		}
	}
	stand_free(&stand);
}
END_TEST

/* 960 W at power factor 0.8: 10 A, of which 8 in step and 6 behind. */
START_TEST(amps_are_parted_by_the_power_factor)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	add_plain(&scene, 960, 5)->power_factor = exactly(0.8);
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert_double_eq_tol(stand.findings.loads[0].amps_a, 10, TOL);
	ck_assert_double_eq_tol(stand.model.units[0].hot[0].active_a, 8, TOL);
	ck_assert_double_eq_tol(stand.model.units[0].hot[0].reactive_a, 6, TOL);
	ck_assert_int_eq(stand.findings.loads[0].hot, 0);
	stand_free(&stand);
}
END_TEST

/* Without an order in the file: what has no profile is dropped from priority 7 on, the least
 * important first, of equals the largest; with one, what it names, in that order. */
START_TEST(groups_are_the_files_order_or_priority)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	const struct {
		double watts_w;
		int priority, rank, ordered;
	} load[] = {
		{500, 7, 3, -1}, {300, 9, 1, 1}, {900, 6, -1, 0}, {800, 9, 0, -1}, {400, 8, 2, -1}};
	for (int i = 0; i < COUNT(load); i++)
		add_plain(&scene, load[i].watts_w, load[i].priority);
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert_uint_eq(stand.model.n_groups, 4);
	for (int i = 0; i < COUNT(load); i++) {
		ck_assert_int_eq(stand.findings.loads[i].rank, load[i].rank);
		ck_assert_int_eq(stand.model.units[i].group, load[i].rank);
		if (load[i].rank >= 0)
			ck_assert_uint_eq(stand.model.group_unit[load[i].rank], (size_t)i);
	}
	stand_free(&stand);

	scene_drops(&scene, 2);
	scene_drops(&scene, 1);
	scene_drops(&scene, 2); /* named twice */
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert_uint_eq(stand.model.n_groups, 2);
	for (int i = 0; i < COUNT(load); i++)
		ck_assert_int_eq(stand.findings.loads[i].rank, load[i].ordered);
	stand_free(&stand);
}
END_TEST

/* By hand: 60 A x 14.4 V = 864 W into the bank, / 0.85 = 1,016.5 W drawn, / 120 / 0.8 = 10.59 A.
 * 1,200 Wh usable at 85 %: 1,411.8 Wh to fill it, 30 % of that missing on a mean day; 20 % of
 * 2,400 Wh go in while the current tapers. 86.4 W feed what runs on 12 V. */
START_TEST(a_charger_fills_the_bank_in_stages)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	scene_charge(&scene);
	rig_load *pump = add_plain(&scene, 86.4, 5);
	pump->supply = RIG_DC;
	pump->daily_use_h = exactly(24);
	pump->bank_index = 0;
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	const shed_model *model = &stand.model;
	ck_assert_uint_eq(stand.findings.n_loads, 1); /* what runs on 12 V is not shed */
	const rig_shed_load *charger = &stand.findings.loads[0];
	ck_assert_int_eq(charger->load, RIG_SHED_CHARGER);
	ck_assert_double_eq_tol(charger->watts_w, 864 / 0.85, TOL);
	ck_assert_double_eq_tol(charger->amps_a, 864 / 0.85 / 120 / 0.8, TOL);
	ck_assert_double_eq_tol(model->bank_w, 864 - 86.4, TOL);
	ck_assert_double_eq_tol(model->most_wh, 1200 / 0.85, TOL);
	ck_assert_double_eq_tol(model->deficit_wh, 0.3 * 1200 / 0.85, TOL);
	ck_assert_double_eq_tol(model->taper_wh, 0.2 * 2400 / 0.85, TOL);
	ck_assert_double_eq(model->charge_from_s, 16 * 3600.0);
	/* full, six steps at the middle of each sixth, and what runs on 12 V: a tenth */
	ck_assert_uint_eq(model->stages.n, 8);
	ck_assert_double_eq(model->stages.level[0], 1);
	for (int k = 0; k < 6; k++)
		ck_assert_double_eq_tol(model->stages.level[k + 1], 0.9 * (5.5 - k) / 6 + 0.1, TOL);
	ck_assert_double_eq_tol(model->stages.level[7], 0.1, TOL);
	stand_free(&stand);

	scene.bank[0].nominal_v = exactly(24); /* 28.8 V */
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert_double_eq_tol(stand.findings.loads[0].watts_w, 2 * 864 / 0.85, TOL);
	stand_free(&stand);

	scene.bank[0].usable_wh = exactly(0); /* nothing to fill */
	stand_make_day(&stand, &scene, RIG_SHED_MILD);
	ck_assert_uint_eq(stand.model.stages.n, 1);
	ck_assert_double_eq_tol(stand.model.stages.level[0], 86.4 / (2 * 864), TOL);
	stand_free(&stand);
}
END_TEST

/* Above half way from 120 to 240 V a load is on both hots, and dead on a supply that has one. */
START_TEST(what_is_rated_above_180_v_is_on_both_hots)
{
	const double volts_v[] = {120, 180, 181, 208, 240};
	for (int n_hots = 1; n_hots <= 2; n_hots++) {
		shed_scene scene;
		shed_stand stand;
		scene_start(&scene, n_hots == 2 ? 50 : 30);
		for (int i = 0; i < COUNT(volts_v); i++) {
			add_plain(&scene, 1000, 5)->volts_v = exactly(volts_v[i]);
			scene.circuit[i].leg = RIG_LEG_2;
		}
		stand_make_day(&stand, &scene, RIG_SHED_MILD);
		for (int i = 0; i < COUNT(volts_v); i++) {
			const rig_shed_load *load = &stand.findings.loads[i];
			const int one = n_hots == 2 ? 1 : 0;
			ck_assert_int_eq(load->hot, i >= 2 ? -1 : one);
			ck_assert(load->dead == (i >= 2 && n_hots == 1));
			ck_assert_double_eq_tol(load->amps_a, 1000 / volts_v[i], TOL);
		}
		ck_assert(((stand.findings.notes & RIG_SHED_HAS_DEAD) != 0) == (n_hots == 1));
		stand_free(&stand);
	}
}
END_TEST

Suite *shed_model_suite(void);
Suite *shed_model_suite(void)
{
	Suite *suite = suite_create("shed_model");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, use_is_cut_into_sessions, 0, COUNT(USE));
	tcase_add_loop_test(all, a_load_does_what_the_weather_asks, 0, COUNT(WEATHER));
	tcase_add_loop_test(all, own_weather_cools_or_heats_by_its_ends, 0, COUNT(OWN));
	tcase_add_test(all, loads_of_unknown_leg_go_to_the_emptier_one_the_largest_first);
	tcase_add_test(all, amps_are_parted_by_the_power_factor);
	tcase_add_test(all, groups_are_the_files_order_or_priority);
	tcase_add_test(all, a_charger_fills_the_bank_in_stages);
	tcase_add_test(all, what_is_rated_above_180_v_is_on_both_hots);
	suite_add_tcase(suite, all);
	return suite;
}
