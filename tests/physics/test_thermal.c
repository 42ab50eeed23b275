/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/thermal.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#include "outside.h"
#include "suites.h"

typedef struct {
	rig_warm_body body;
	rig_heat_inputs inputs;
	double from_c, seconds;
} warming;

static const warming CASE[] = {
	{{1e6, 195}, {38, 2840, 0, 0}, 22, 7200},        /* a coach in the sun */
	{{1e6, 195}, {38, 2840 - 6240, 0, 0}, 27, 1800}, /* the same, cooled */
	{{158e3, 1.6}, {20, 1440, 0, 0}, 54, 900},       /* a tank that heats */
	{{158e3, 1.6}, {20, 1440, 0.06, 15}, 60, 400},   /* and is drawn from */
	{{158e3, 1.6}, {20, 0, 0.06, 15}, 60, 60},       /* drawn from, off */
	{{45e3, 5.2}, {25, -225, 0, 0}, 5, 1200},        /* a refrigerator */
	{{50e3, 0}, {0, 300, 0, 0}, 10, 600},            /* no loss: a straight line */
};

static int slope(double t, const double y[], double dy[], void *what)
{
	const warming *w = what;
	(void)t;
	dy[0] = (w->body.loss_w_per_k * (w->inputs.surroundings_c - y[0]) + w->inputs.heat_w +
			4186 * w->inputs.flow_l_s * (w->inputs.inflow_c - y[0])) /
		w->body.capacity_j_per_k;
	return GSL_SUCCESS;
}

/* The heat balance itself, by [GSL]'s Prince-Dormand step to 1e-12. */
START_TEST(the_course_solves_the_heat_balance)
{
	warming w = CASE[_i];
	gsl_odeiv2_system system = {slope, NULL, 1, &w};
	gsl_odeiv2_driver *driver =
		gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1, 1e-12, 1e-12);
	double t = 0, y[1] = {w.from_c};
	ck_assert_int_eq(gsl_odeiv2_driver_apply(driver, &t, w.seconds, y), GSL_SUCCESS);
	gsl_odeiv2_driver_free(driver);
	const rig_warmth_course course = rig_warmth_course_of(&w.body, &w.inputs);
	ck_assert_double_eq_tol(rig_warmth_after_c(&course, w.from_c, w.seconds), y[0], 1e-9);
}
END_TEST

START_TEST(a_threshold_is_reached_when_the_course_is_there)
{
	const warming *w = &CASE[_i];
	const rig_warmth_course course = rig_warmth_course_of(&w->body, &w->inputs);
	const double to_c = rig_warmth_after_c(&course, w->from_c, w->seconds);
	for (int i = 1; i <= 10; i++) {
		const double threshold_c = w->from_c + (to_c - w->from_c) * i / 10;
		const double reach_s = rig_warmth_reach_s(&course, w->from_c, threshold_c);
		ck_assert_double_le(reach_s, w->seconds * (1 + 1e-9));
		ck_assert_double_eq_tol(
			rig_warmth_after_c(&course, w->from_c, reach_s), threshold_c, 1e-9);
	}
	ck_assert_double_eq(rig_warmth_reach_s(&course, w->from_c, w->from_c), 0);
	const double behind_c = w->from_c - (to_c - w->from_c);
	ck_assert(isinf(rig_warmth_reach_s(&course, w->from_c, behind_c)));
	if (course.rate_per_s > 0) {
		const double beyond_c = course.toward_c + (course.toward_c - w->from_c);
		ck_assert(isinf(rig_warmth_reach_s(&course, w->from_c, beyond_c)));
		ck_assert(isinf(rig_warmth_reach_s(&course, w->from_c, course.toward_c)));
	}
}
END_TEST

typedef struct {
	const rig_warmth_course *course;
	double from_c, threshold_c, sign;
} excess;

static double excess_at(double t, void *what)
{
	const excess *e = what;
	return fmax(0, e->sign * (rig_warmth_after_c(e->course, e->from_c, t) - e->threshold_c));
}

/* In a hundred parts, so that the bend is not passed over. */
static double integral(excess e, double seconds)
{
	gsl_integration_workspace *room = gsl_integration_workspace_alloc(2000);
	gsl_function function = {excess_at, &e};
	double sum = 0;
	for (int i = 0; i < 100; i++) {
		double part = 0, error = 0;
		ck_assert_int_eq(
			gsl_integration_qag(&function, seconds * i / 100, seconds * (i + 1) / 100,
				1e-9, 1e-9, 2000, GSL_INTEG_GAUSS61, room, &part, &error),
			GSL_SUCCESS);
		sum += part;
	}
	gsl_integration_workspace_free(room);
	return sum;
}

/* Against [GSL]'s adaptive quadrature; its own error is below 1e-7 K s and 1e-9. */
START_TEST(degree_seconds_are_the_integral_on_either_side)
{
	const warming *w = &CASE[_i];
	const rig_warmth_course course = rig_warmth_course_of(&w->body, &w->inputs);
	const double to_c = rig_warmth_after_c(&course, w->from_c, w->seconds);
	for (int i = -3; i <= 13; i++) {
		const double threshold_c = w->from_c + (to_c - w->from_c) * i / 10;
		const double above =
			integral((excess){&course, w->from_c, threshold_c, 1}, w->seconds);
		const double below =
			integral((excess){&course, w->from_c, threshold_c, -1}, w->seconds);
		ck_assert_double_eq_tol(
			rig_warmth_above_k_s(&course, w->from_c, threshold_c, w->seconds), above,
			1e-6 + 1e-8 * above);
		ck_assert_double_eq_tol(
			rig_warmth_below_k_s(&course, w->from_c, threshold_c, w->seconds), below,
			1e-6 + 1e-8 * below);
	}
}
END_TEST

/* One BTU warms a pound of water by one degree Fahrenheit, a US gallon weighs 8.33 lb at 60 F, one
 * watt-hour is 3.412 BTU: 10 gal from 60 to 140 F with 1,440 W, no losses:
 * 10 x 8.33 x 80 / 3.412 / 1440 h. */
static const outside_series TANK = {"appliances",
	"Hours to heat 10 gal from 60 to 140 F with 1,440 W, no losses",
	"the trade's 8.33 lb a gallon and 3.412 BTU a watt-hour; from memory",
	"0.3 %: those are rounded, and our water is that of 15 C [CRC-2014]"};

START_TEST(a_tank_heats_in_the_time_that_the_trade_reckons)
{
	const rig_warm_body tank = {37.854 * RIG_WATER_J_PER_L_K, 0};
	const rig_heat_inputs on = {.heat_w = 1440};
	const rig_warmth_course course = rig_warmth_course_of(&tank, &on);
	OUTSIDE_CLOSE(
		&TANK, rig_warmth_reach_s(&course, 15.5556, 60) / 3600, 1.3564, 0.003, "hours");
}
END_TEST

/* By hand: 37.85 l lose 0.35 + 0.033 x 37.85 = 1.599 W/K; at 60 C in 20 C 64.0 W. A box of 11 m:
 * 1.7 (99 + 10.08) + 0.165 x 55.44 = 194.58 W/K and 40,000 x 26.4 J/K. */
START_TEST(bodies_are_those_worked_by_hand)
{
	const rig_warm_body tank = rig_tank_body(37.85), box = rig_coach_body(11);
	ck_assert_double_eq_tol(tank.loss_w_per_k * 40, 64.0, 0.05);
	ck_assert_double_eq_tol(tank.capacity_j_per_k, 158440.1, 0.1);
	ck_assert_double_eq_tol(box.loss_w_per_k, 194.58, 0.005);
	ck_assert_double_eq_tol(box.capacity_j_per_k, 1056000, 1e-6);
	ck_assert_double_gt(rig_coach_body(12).loss_w_per_k, box.loss_w_per_k);
}
END_TEST

/* What goes in and out over a course is what the body has gained. */
START_TEST(heat_is_kept)
{
	const warming *w = &CASE[_i];
	const rig_warmth_course course = rig_warmth_course_of(&w->body, &w->inputs);
	const double to_c = rig_warmth_after_c(&course, w->from_c, w->seconds);
	/* the mean temperature, over a threshold that it never falls to */
	const double floor_c = -1000;
	const double mean_c =
		floor_c +
		rig_warmth_above_k_s(&course, w->from_c, floor_c, w->seconds) / w->seconds;
	const double away_w = w->body.loss_w_per_k * (mean_c - w->inputs.surroundings_c) +
			      4186 * w->inputs.flow_l_s * (mean_c - w->inputs.inflow_c);
	const double gained_j = w->body.capacity_j_per_k * (to_c - w->from_c);
	ck_assert_double_eq_tol((w->inputs.heat_w - away_w) * w->seconds, gained_j,
		1e-9 * w->body.capacity_j_per_k * 1000);
}
END_TEST

Suite *thermal_suite(void);
Suite *thermal_suite(void)
{
	Suite *suite = suite_create("thermal");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_course_solves_the_heat_balance, 0, COUNT(CASE));
	tcase_add_loop_test(all, a_threshold_is_reached_when_the_course_is_there, 0, COUNT(CASE));
	tcase_add_loop_test(all, degree_seconds_are_the_integral_on_either_side, 0, COUNT(CASE));
	tcase_add_test(all, a_tank_heats_in_the_time_that_the_trade_reckons);
	tcase_add_test(all, bodies_are_those_worked_by_hand);
	tcase_add_loop_test(all, heat_is_kept, 0, COUNT(CASE));
	suite_add_tcase(suite, all);
	return suite;
}
