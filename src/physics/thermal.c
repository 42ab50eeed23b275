/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/thermal.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

const double RIG_WATER_J_PER_L_K = 4186.0;

rig_warmth_course rig_warmth_course_of(const rig_warm_body *body, const rig_heat_inputs *inputs)
{
	assert(body->capacity_j_per_k > 0 && body->loss_w_per_k >= 0 && inputs->flow_l_s >= 0);
	const double flow_w_per_k = RIG_WATER_J_PER_L_K * inputs->flow_l_s;
	const double away_w_per_k = body->loss_w_per_k + flow_w_per_k;
	if (away_w_per_k == 0)
		return (rig_warmth_course){.slope_k_s = inputs->heat_w / body->capacity_j_per_k};
	const double heat_w = inputs->heat_w + body->loss_w_per_k * inputs->surroundings_c +
			      flow_w_per_k * inputs->inflow_c;
	return (rig_warmth_course){.toward_c = heat_w / away_w_per_k,
		.rate_per_s = away_w_per_k / body->capacity_j_per_k};
}

double rig_warmth_after_c(const rig_warmth_course *course, double from_c, double seconds)
{
	assert(seconds >= 0);
	if (course->rate_per_s == 0)
		return from_c + course->slope_k_s * seconds;
	return course->toward_c + (from_c - course->toward_c) * exp(-course->rate_per_s * seconds);
}

double rig_warmth_reach_s(const rig_warmth_course *course, double from_c, double threshold_c)
{
	if (from_c == threshold_c)
		return 0;
	if (course->rate_per_s == 0) {
		const double seconds = (threshold_c - from_c) / course->slope_k_s;
		return seconds >= 0 ? seconds : INFINITY;
	}
	const double ratio = (from_c - course->toward_c) / (threshold_c - course->toward_c);
	return ratio > 1 && isfinite(ratio) ? log(ratio) / course->rate_per_s : INFINITY;
}

/* Integral of T - threshold, whatever its sign. */
static double excess_k_s(
	const rig_warmth_course *course, double from_c, double threshold_c, double seconds)
{
	if (course->rate_per_s == 0)
		return seconds * (from_c - threshold_c + course->slope_k_s * seconds / 2);
	return (course->toward_c - threshold_c) * seconds +
	       (from_c - course->toward_c) * -expm1(-course->rate_per_s * seconds) /
		       course->rate_per_s;
}

double rig_warmth_above_k_s(
	const rig_warmth_course *course, double from_c, double threshold_c, double seconds)
{
	assert(seconds >= 0);
	const double crossing_s = rig_warmth_reach_s(course, from_c, threshold_c);
	const bool above_first = from_c > threshold_c;
	if (crossing_s > 0 && crossing_s < seconds)
		return above_first
			       ? excess_k_s(course, from_c, threshold_c, crossing_s)
			       : excess_k_s(course, threshold_c, threshold_c, seconds - crossing_s);
	const double whole = excess_k_s(course, from_c, threshold_c, seconds);
	return whole > 0 ? whole : 0;
}

double rig_warmth_below_k_s(
	const rig_warmth_course *course, double from_c, double threshold_c, double seconds)
{
	const rig_warmth_course mirrored = {
		-course->toward_c, course->rate_per_s, -course->slope_k_s};
	return rig_warmth_above_k_s(&mirrored, -from_c, -threshold_c, seconds);
}

/* A coach's box (common practice, no source). */
static const double WIDTH_M = 2.4, HEIGHT_M = 2.1, SHELL_W_PER_M2_K = 1.7;
static const double FLOOR_J_PER_M2_K = 40e3;
static const double AIR_CHANGES_PER_H = 0.5, AIR_WH_PER_M3_K = 0.33;

rig_warm_body rig_coach_body(double length_m)
{
	assert(length_m > 0);
	const double shell_m2 = 2 * (WIDTH_M + HEIGHT_M) * length_m + 2 * WIDTH_M * HEIGHT_M;
	const double air_m3 = WIDTH_M * HEIGHT_M * length_m;
	return (rig_warm_body){.capacity_j_per_k = FLOOR_J_PER_M2_K * WIDTH_M * length_m,
		.loss_w_per_k =
			SHELL_W_PER_M2_K * shell_m2 + AIR_CHANGES_PER_H * AIR_WH_PER_M3_K * air_m3};
}

/* Losses of a tank (common practice, no source). */
static const double TANK_W_PER_K = 0.35, TANK_W_PER_K_L = 0.033;

rig_warm_body rig_tank_body(double litres)
{
	assert(litres > 0);
	return (rig_warm_body){.capacity_j_per_k = RIG_WATER_J_PER_L_K * litres,
		.loss_w_per_k = TANK_W_PER_K + TANK_W_PER_K_L * litres};
}
