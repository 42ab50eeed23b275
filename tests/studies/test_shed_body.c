/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rooms, tanks and cabinets of a day of shedding, by hand from the figures of docs/method.md
 * (common practice, no source). */
#include <math.h>

#include "shed_scene.h"
#include "suites.h"

static const double TOL = 1e-9;

static rig_load *add(shed_scene *scene, const char *profile, double watts_w, int priority)
{
	rig_load *load = &scene->load[scene_add(scene, profile, RIG_LEG_1)];
	load->running_w = exactly(watts_w);
	load->power_factor = exactly(1);
	load->priority = priority;
	load->always_on = RIG_NO;
	return load;
}

/* By cord and roof units, where nobody says: a coach on 50 A or with two roof units is 11 m long,
 * one on 30 A 7.5, on less 5. Sun: 2.4 m of width, 80 W/m2. */
static const struct {
	int cord_a, n_roof;
	double length_m;
} LENGTH[] = {
	{50, 1, 11}, {0, 1, 11}, {30, 1, 7.5}, {30, 2, 11}, {20, 1, 5}, {15, 0, 5}, {50, 0, 11}};

START_TEST(a_box_is_as_long_as_its_cord_suggests)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, LENGTH[_i].cord_a);
	for (int i = 0; i < LENGTH[_i].n_roof; i++)
		add(&scene, "roof_ac_15k", 1500, 5);
	stand_make_day(&stand, &scene, RIG_SHED_HOT);
	ck_assert_double_eq(stand.findings.length_m, LENGTH[_i].length_m);
	ck_assert((stand.findings.notes & RIG_SHED_SIZE_GUESSED) != 0);
	ck_assert_double_eq_tol(stand.model.sun_w, 2.4 * LENGTH[_i].length_m * 80, TOL);
	ck_assert_double_eq(stand.model.inside_w, 200);
	ck_assert_uint_eq(stand.model.n_bodies, (size_t)LENGTH[_i].n_roof);
	ck_assert(
		((stand.findings.notes & RIG_SHED_UNHEATED_BOX) != 0) == (LENGTH[_i].n_roof == 0));
	stand_free(&stand);
}
END_TEST

/* Two roof units of 1,500 and 1,000 W part a box of 10 m three to two. Each takes out 2.6 x 0.75 of
 * its watts, by a thermostat of 24 C, half a kelvin to either side; 25.5 C is too warm. */
START_TEST(roof_units_part_the_box_by_their_watts)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 50);
	const double watts_w[] = {1500, 1000};
	add(&scene, "roof_ac_15k", 1500, 5);
	add(&scene, "roof_ac_15k", 1000, 9);
	rig_shed_options options = rig_shed_defaults();
	options.length_m = 10;
	options.n_days = 1;
	stand_make(&stand, &scene.coach, &options);
	const rig_warm_body whole = rig_coach_body(10);
	ck_assert_uint_eq(stand.model.n_bodies, 2);
	ck_assert_uint_eq(stand.findings.notes & RIG_SHED_SIZE_GUESSED, 0);
	for (int i = 0; i < 2; i++) {
		const shed_body *body = &stand.model.bodies[i];
		const shed_unit *unit = &stand.model.units[i];
		const double share = watts_w[i] / 2500;
		ck_assert_int_eq(body->kind, SHED_ZONE);
		ck_assert_double_eq_tol(
			body->warm.capacity_j_per_k, share * whole.capacity_j_per_k, 1e-6);
		ck_assert_double_eq_tol(body->warm.loss_w_per_k, share * whole.loss_w_per_k, TOL);
		ck_assert_double_eq_tol(body->sun_share, share, TOL);
		ck_assert_int_eq(body->leader, i);
		ck_assert_double_eq(body->above_c, 25.5);
		ck_assert(isinf(body->below_c));
		/* a point a kelvin-hour at priority 5, a fifth of one at 9 */
		ck_assert_double_eq_tol(body->points_k_s, (i == 0 ? 1 : 0.2) / 3600, 1e-12);
		ck_assert_int_eq(unit->body, i);
		ck_assert_double_eq_tol(unit->heat_w, -2.6 * 0.75 * watts_w[i], TOL);
		ck_assert_double_eq(unit->on_c, 24.5);
		ck_assert_double_eq(unit->off_c, 23.5);
	}
	stand_free(&stand);
}
END_TEST

/* In the cold: strip heat warms the zone of the roof unit on its circuit, a heater the first. In a
 * zone what is kept longest leads, of equals the stronger; each further one comes on half a kelvin
 * later. 20.5 C is the set point, 19 too cold. A heat pump brings 2.5 times its watts. */
START_TEST(heaters_of_a_zone_come_on_one_after_another)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 50);
	add(&scene, "roof_heat_pump_15k", 1000, 5);
	add(&scene, "roof_heat_pump_15k", 1000, 5);
	add(&scene, "roof_ac_strip_heat", 1800, 6)->circuit_index = 1;
	add(&scene, "space_heater_hi", 1500, 5);
	add(&scene, "space_heater_hi", 700, 5);
	const int body[] = {0, 1, 1, 0, 0};
	const double heat_w[] = {2500, 2500, 1800, 1500, 700};
	/* first the 1,500 W heater, then the heat pump, then 700 W; in the other zone by priority
	 */
	const double set_c[] = {20, 20.5, 20, 20.5, 19.5};
	const int leader[] = {3, 1};
	stand_make_day(&stand, &scene, RIG_SHED_COLD);
	ck_assert_uint_eq(stand.model.n_bodies, 2);
	ck_assert_uint_eq(stand.model.bodies[0].n_units, 3);
	ck_assert_uint_eq(stand.model.bodies[1].n_units, 2);
	for (int i = 0; i < 5; i++) {
		const shed_unit *unit = &stand.model.units[i];
		ck_assert_int_eq(unit->body, body[i]);
		ck_assert_double_eq_tol(unit->heat_w, heat_w[i], TOL);
		ck_assert_double_eq_tol(unit->on_c, set_c[i] - 0.5, TOL);
		ck_assert_double_eq_tol(unit->off_c, set_c[i] + 0.5, TOL);
	}
	for (int b = 0; b < 2; b++) {
		ck_assert_int_eq(stand.model.bodies[b].leader, leader[b]);
		ck_assert_double_eq(stand.model.bodies[b].below_c, 19);
		ck_assert(isinf(stand.model.bodies[b].above_c));
		ck_assert_double_eq(stand.model.bodies[b].sun_share, 0.5);
	}
	ck_assert_double_eq_tol(stand.model.sun_w, 2.4 * 11 * 40, TOL);
	stand_free(&stand);
}
END_TEST

/* A furnace of 30,000 BTU/h burns 8,792 W, of which three quarters warm the coach, 18 to 19 C. */
START_TEST(a_furnace_helps_the_heaters)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	add(&scene, "space_heater_hi", 1500, 5);
	const rig_appliance furnace = {.id = "furnace_30"};
	rig_load *blower = add(&scene, "toaster", 100, 5);
	blower->supply = RIG_DC;
	blower->appliance = &furnace;
	stand_make_day(&stand, &scene, RIG_SHED_COLD);
	ck_assert_uint_eq(stand.findings.n_loads, 1);
	ck_assert_uint_eq(stand.model.n_units, 2);
	const shed_unit *unit = &stand.model.units[1];
	ck_assert_int_eq(unit->load, SHED_NO_LOAD);
	ck_assert_int_eq(unit->group, -1);
	ck_assert_int_eq(unit->body, 0);
	ck_assert_double_eq_tol(unit->heat_w, 0.75 * 30000 * 0.29307, 1e-6);
	ck_assert_double_eq(unit->on_c, 18);
	ck_assert_double_eq(unit->off_c, 19);
	stand_free(&stand);
}
END_TEST

/* 10 gallons on 50 A, 6 on less; mains water is 10.5 C and 0.3 of the day's mean: 30 C when it is
 * hot, 16 when mild. */
static const struct {
	int cord_a;
	rig_shed_weather weather;
	double litres, inflow_c;
} TANK[] = {{50, RIG_SHED_HOT, 37.85, 19.5}, {0, RIG_SHED_HOT, 37.85, 19.5},
	{30, RIG_SHED_MILD, 22.71, 15.3}};

START_TEST(a_tank_holds_what_coaches_of_its_cord_have)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, TANK[_i].cord_a);
	add(&scene, "water_heater_element", 1440, 1);
	stand_make_day(&stand, &scene, TANK[_i].weather);
	ck_assert_uint_eq(stand.model.n_bodies, 1);
	const shed_body *tank = &stand.model.bodies[0];
	const shed_unit *unit = &stand.model.units[0];
	ck_assert_int_eq(tank->kind, SHED_TANK);
	ck_assert_double_eq_tol(
		tank->warm.capacity_j_per_k, rig_tank_body(TANK[_i].litres).capacity_j_per_k, 1e-6);
	ck_assert_double_eq_tol(tank->inflow_c, TANK[_i].inflow_c, TOL);
	ck_assert_double_eq(tank->surroundings_c, 20);
	ck_assert_double_eq(tank->litres_day, 62);
	ck_assert_double_eq(tank->flow_l_s, 0.06);
	ck_assert_double_eq(tank->cold_c, 40);
	ck_assert_double_eq_tol(tank->points_cold_l, 0.18, TOL); /* kept longest: 1.8 times */
	ck_assert_double_eq(unit->heat_w, 1440);
	ck_assert_double_eq(unit->on_c, 54);
	ck_assert_double_eq(unit->off_c, 60);
	stand_free(&stand);
}
END_TEST

/* In air of 25 C the cooler runs for its duty and starts every forty minutes: by hand, between 5
 * and 2 C the gain is that of the mean, 3.5 C; it cools by 1.5 W for each watt. */
static const struct {
	double duty_frac;
	rig_shed_weather weather;
	double air_c;
} CABINET[] = {{0.3, RIG_SHED_HOT, 25}, {0.5, RIG_SHED_MILD, 22}, {0.8, RIG_SHED_COLD, 20}};

START_TEST(a_cabinet_cycles_as_it_is_rated)
{
	shed_scene scene;
	shed_stand stand;
	scene_start(&scene, 30);
	add(&scene, "fridge_residential", 120, 5)->duty_frac = exactly(CABINET[_i].duty_frac);
	stand_make_day(&stand, &scene, CABINET[_i].weather);
	const shed_body *cabinet = &stand.model.bodies[0];
	const shed_unit *unit = &stand.model.units[0];
	ck_assert_int_eq(cabinet->kind, SHED_CABINET);
	ck_assert_double_eq(cabinet->surroundings_c, CABINET[_i].air_c);
	ck_assert_double_eq(unit->heat_w, -180);
	ck_assert_double_eq(unit->on_c, 5);
	ck_assert_double_eq(unit->off_c, 2);
	ck_assert_double_eq(cabinet->above_c, 5.5);
	ck_assert_double_eq_tol(cabinet->points_k_s, 2.0 / 3600, 1e-12);
	const double gain_w = cabinet->warm.loss_w_per_k * (25 - 3.5);
	const double falls_s = 3 * cabinet->warm.capacity_j_per_k / (180 - gain_w);
	const double rises_s = 3 * cabinet->warm.capacity_j_per_k / gain_w;
	ck_assert_double_eq_tol(falls_s + rises_s, 2400, 1e-6);
	ck_assert_double_eq_tol(falls_s / 2400, CABINET[_i].duty_frac, TOL);
	stand_free(&stand);
}
END_TEST

START_TEST(a_box_that_nothing_cools_or_heats_is_told)
{
	const rig_shed_weather weather[] = {RIG_SHED_HOT, RIG_SHED_MILD, RIG_SHED_COLD};
	for (int k = 0; k < 3; k++) {
		shed_scene scene;
		shed_stand stand;
		scene_start(&scene, 30);
		add(&scene, "roof_ac_15k", 1500, 5);
		stand_make_day(&stand, &scene, weather[k]);
		/* windows do it on a mild day */
		ck_assert(((stand.findings.notes & RIG_SHED_UNHEATED_BOX) != 0) == (k == 2));
		ck_assert_uint_eq(stand.model.n_bodies, k == 0 ? 1 : 0);
		stand_free(&stand);
	}
}
END_TEST

Suite *shed_body_suite(void);
Suite *shed_body_suite(void)
{
	Suite *suite = suite_create("shed_body");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_box_is_as_long_as_its_cord_suggests, 0, COUNT(LENGTH));
	tcase_add_test(all, roof_units_part_the_box_by_their_watts);
	tcase_add_test(all, heaters_of_a_zone_come_on_one_after_another);
	tcase_add_test(all, a_furnace_helps_the_heaters);
	tcase_add_loop_test(all, a_tank_holds_what_coaches_of_its_cord_have, 0, COUNT(TANK));
	tcase_add_loop_test(all, a_cabinet_cycles_as_it_is_rated, 0, COUNT(CABINET));
	tcase_add_test(all, a_box_that_nothing_cools_or_heats_is_told);
	suite_add_tcase(suite, all);
	return suite;
}
