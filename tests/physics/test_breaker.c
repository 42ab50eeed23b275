/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/breaker.h"

#include <math.h>

#include "outside.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"

/* Limits in seconds from cold; 0 least: none, INFINITY most: must hold. 135 % within 1 h up to 50
 * A, 2 h above; 200 % within 2, 4 and 6 min; neither at once; ten times at once. */
static const outside_series CALIBRATION = {SECTION,
	"Seconds until the slowest breaker of our band trips, from cold at 25 C",
	"[UL-489]; 135 % up to 50 A and the times at 200 % read in others' notes, 2 h above 50 A "
	"from memory",
	"its longest times"};
static const struct {
	double rating_a, ratio, least_s, most_s;
} POINT[] = {
	{15, 1.00, INFINITY, INFINITY},
	{30, 1.00, INFINITY, INFINITY},
	{50, 1.00, INFINITY, INFINITY},
	{15, 1.35, 60, 3600},
	{20, 1.35, 60, 3600},
	{30, 1.35, 60, 3600},
	{50, 1.35, 60, 3600},
	{60, 1.35, 60, 7200},
	{15, 2.00, 3, 120},
	{30, 2.00, 3, 120},
	{35, 2.00, 3, 240},
	{50, 2.00, 3, 240},
	{60, 2.00, 3, 360},
	{15, 10.0, 0, 0},
	{50, 10.0, 0, 0},
};

START_TEST(every_breaker_of_the_band_meets_the_calibration_points)
{
	for (int kind = 0; kind < RIG_N_BREAKERS; kind++) {
		const rig_breaker breaker =
			rig_breaker_of(POINT[_i].rating_a, (rig_breaker_kind)kind);
		const double trip_s =
			rig_breaker_trip_s(&breaker, 0, POINT[_i].ratio * POINT[_i].rating_a);
		ck_assert_double_ge(trip_s, POINT[_i].least_s);
		ck_assert_double_le(trip_s, POINT[_i].most_s);
		if (kind == RIG_BREAKER_LATE && isfinite(trip_s))
			OUTSIDE_WORST(&CALIBRATION, trip_s, POINT[_i].most_s, "%g A at %g %%",
				POINT[_i].rating_a, 100 * POINT[_i].ratio);
		ck_assert(rig_breaker_is_calibrated(&breaker));
	}
}
END_TEST

/* By hand from t = tau ln(4 / (4 - 1.3225)) <= the limit of 200 %; 135 % within an hour would allow
 * 3600 / ln(1.8225 / 0.5) = 2783 s, which binds nobody. */
static const outside_series SLOWEST_STRIP = {SECTION,
	"Largest time constant of a strip that holds 115 % and meets the calibration, s",
	"[UL-489] by hand: limit / ln(4 / (4 - 1.3225))", "half of the last digit"};
static const struct {
	double rating_a, most_tau_s;
} SLOWEST[] = {{15, 299}, {30, 299}, {31, 598}, {50, 598}, {51, 897}, {100, 897}};

START_TEST(the_slowest_strip_that_the_standard_allows_is_that_worked_by_hand)
{
	rig_breaker breaker = {
		.rating_a = SLOWEST[_i].rating_a, .hold_ratio = 1.15, .magnetic_ratio = 8};
	double meets_s = 100, fails_s = 2000;
	while (fails_s - meets_s > 1e-3) {
		breaker.tau_s = (meets_s + fails_s) / 2;
		*(rig_breaker_is_calibrated(&breaker) ? &meets_s : &fails_s) = breaker.tau_s;
	}
	OUTSIDE(&SLOWEST_STRIP, meets_s, SLOWEST[_i].most_tau_s, 0.5, "%g A", breaker.rating_a);
	breaker.tau_s = 2783;
	ck_assert_double_eq_tol(rig_breaker_trip_s(&breaker, 0, 1.35 * breaker.rating_a), 3600, 1);
}
END_TEST

/* One fault each. */
static const rig_breaker WRONG[] = {
	{30, 1.00, 110, 7},  /* trips at its rating in the end */
	{30, 1.36, 110, 7},  /* holds 135 % */
	{30, 1.20, 300, 7},  /* 200 % in 134 s */
	{30, 1.20, 6, 7},    /* 200 % in 2.7 s */
	{30, 1.20, 38, 7},   /* 135 % in 59 s */
	{30, 1.20, 110, 11}, /* ten times not at once */
};

START_TEST(a_breaker_outside_the_standard_is_told)
{
	ck_assert(!rig_breaker_is_calibrated(&WRONG[_i]));
}
END_TEST

/* The strip's law by Runge and Kutta's fourth-order rule, 10,000 steps. */
static double integrate(const rig_breaker *breaker, double heat, double current_a, double seconds)
{
	const double m2 = pow(current_a / breaker->rating_a, 2), h = seconds / 10000;
	for (int i = 0; i < 10000; i++) {
		const double a = (m2 - heat) / breaker->tau_s;
		const double b = (m2 - heat - h / 2 * a) / breaker->tau_s;
		const double c = (m2 - heat - h / 2 * b) / breaker->tau_s;
		const double d = (m2 - heat - h * c) / breaker->tau_s;
		heat += h / 6 * (a + 2 * b + 2 * c + d);
	}
	return heat;
}

static const struct {
	double heat, current_a, seconds;
} STEP[] = {{0, 45, 30}, {1, 45, 30}, {1.3, 0, 400}, {0.4, 30, 86400}, {0.9, 12, 1}};

START_TEST(a_step_solves_the_law)
{
	for (int kind = 0; kind < RIG_N_BREAKERS; kind++) {
		const rig_breaker breaker = rig_breaker_of(30, (rig_breaker_kind)kind);
		const double heat = rig_breaker_heat_ratio(
			&breaker, STEP[_i].heat, STEP[_i].current_a, STEP[_i].seconds);
		ck_assert_double_eq_tol(heat,
			integrate(&breaker, STEP[_i].heat, STEP[_i].current_a, STEP[_i].seconds),
			1e-9);
	}
}
END_TEST

START_TEST(it_trips_when_its_heat_gets_there)
{
	for (int current_a = 40; current_a < 200; current_a += 7) {
		const rig_breaker breaker = rig_breaker_of(30, RIG_BREAKER_LIKELY);
		const double trip_s = rig_breaker_trip_s(&breaker, 0.6, current_a);
		ck_assert_double_eq_tol(
			rig_breaker_heat_ratio(&breaker, 0.6, current_a, trip_s), 1.44, 1e-12);
	}
}
END_TEST

START_TEST(cooling_is_remembered_between_overloads)
{
	const rig_breaker breaker = rig_breaker_of(30, RIG_BREAKER_LIKELY);
	const double cold_s = rig_breaker_trip_s(&breaker, 0, 60);
	const double hot = rig_breaker_heat_ratio(&breaker, 0, 60, cold_s / 2);
	double before_s = 0;
	for (int pause_s = 0; pause_s < 3000; pause_s += 100) {
		const double rested = rig_breaker_heat_ratio(&breaker, hot, 0, pause_s);
		const double again_s = rig_breaker_trip_s(&breaker, rested, 60);
		ck_assert_double_gt(again_s, before_s);
		ck_assert_double_lt(again_s, cold_s);
		before_s = again_s;
	}
	ck_assert_double_eq_tol(before_s, cold_s, 1e-9);
	/* without a pause it is the second half of one overload */
	ck_assert_double_eq_tol(rig_breaker_trip_s(&breaker, hot, 60), cold_s / 2, 1e-9);
}
END_TEST

START_TEST(more_current_trips_sooner_and_more_rating_later)
{
	double before_s = INFINITY;
	for (int current_a = 37; current_a < 300; current_a += 5) {
		const rig_breaker smaller = rig_breaker_of(30, RIG_BREAKER_LIKELY);
		const rig_breaker larger = rig_breaker_of(50, RIG_BREAKER_LIKELY);
		const double trip_s = rig_breaker_trip_s(&smaller, 0.2, current_a);
		ck_assert(trip_s < before_s || trip_s == 0);
		ck_assert(trip_s < rig_breaker_trip_s(&larger, 0.2, current_a) || trip_s == 0);
		before_s = trip_s;
	}
	ck_assert_double_eq(before_s, 0);
}
END_TEST

START_TEST(the_band_runs_from_early_to_late)
{
	for (int current_a = 27; current_a < 80; current_a += 2) {
		double trip_s[RIG_N_BREAKERS];
		for (int kind = 0; kind < RIG_N_BREAKERS; kind++) {
			const rig_breaker breaker = rig_breaker_of(20, (rig_breaker_kind)kind);
			trip_s[kind] = rig_breaker_trip_s(&breaker, 0, current_a);
		}
		ck_assert_double_lt(trip_s[RIG_BREAKER_EARLY], trip_s[RIG_BREAKER_LIKELY]);
		ck_assert_double_lt(trip_s[RIG_BREAKER_LIKELY], trip_s[RIG_BREAKER_LATE]);
	}
}
END_TEST

Suite *breaker_suite(void);
Suite *breaker_suite(void)
{
	Suite *suite = suite_create("breaker");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(
		all, every_breaker_of_the_band_meets_the_calibration_points, 0, COUNT(POINT));
	tcase_add_loop_test(all, the_slowest_strip_that_the_standard_allows_is_that_worked_by_hand,
		0, COUNT(SLOWEST));
	tcase_add_loop_test(all, a_breaker_outside_the_standard_is_told, 0, COUNT(WRONG));
	tcase_add_loop_test(all, a_step_solves_the_law, 0, COUNT(STEP));
	tcase_add_test(all, it_trips_when_its_heat_gets_there);
	tcase_add_test(all, cooling_is_remembered_between_overloads);
	tcase_add_test(all, more_current_trips_sooner_and_more_rating_later);
	tcase_add_test(all, the_band_runs_from_early_to_late);
	suite_add_tcase(suite, all);
	return suite;
}
