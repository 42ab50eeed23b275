/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random days: what every one of them must hold, whatever chance does. */
#include <math.h>

#include "shed_scene.h"
#include "suites.h"

enum { N_DAYS = 300 };
static const double PI = 3.14159265358979323846;

/* From the coldest hour, 6, to the warmest, 15, and back: half cosines; sun from 6 to 18 h. */
START_TEST(a_day_without_chance_is_two_half_cosines_and_a_half_sine)
{
	const shed_model model = {.low_c = 10, .high_c = 30, .spread_k = 0, .sun_w = 500};
	shed_stand stand;
	stand_of_model(&stand, &model);
	shed_day_draw(&stand.model, 1, 0, stand.day);
	for (int slot = 0; slot < SHED_N_SLOTS; slot++) {
		const double hour = slot / 2.0 + 0.25;
		const double since_h = fmod(hour + 9, 24); /* since the warmest hour */
		const double expected_c = hour > 6 && hour < 15 ? 20 - 10 * cos(PI * (hour - 6) / 9)
								: 20 + 10 * cos(PI * since_h / 15);
		ck_assert_double_eq_tol(stand.day->outdoor_c[slot], expected_c, 1e-9);
		ck_assert_double_eq_tol(stand.day->sun_w[slot],
			hour > 6 && hour < 18 ? 500 * sin(PI * (hour - 6) / 12) : 0, 1e-9);
	}
	stand_free(&stand);
}
END_TEST

/* Warmth is one normal number a day: of 300 the mean within 4 of its standard errors, and their
 * spread within a fifth. */
START_TEST(days_differ_in_warmth_by_the_stated_spread)
{
	const shed_model model = {.low_c = 10, .high_c = 30, .spread_k = 2};
	shed_stand stand;
	stand_of_model(&stand, &model);
	double sum_k = 0, sum_k2 = 0;
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 1, day, stand.day);
		const double warmth_k = stand.day->outdoor_c[0] - (20 + 10 * cos(PI * 9.25 / 15));
		for (int slot = 1; slot < 12; slot++)
			ck_assert_double_eq_tol(stand.day->outdoor_c[slot],
				20 + 10 * cos(PI * (9.25 + slot / 2.0) / 15) + warmth_k, 1e-9);
		sum_k += warmth_k;
		sum_k2 += warmth_k * warmth_k;
	}
	ck_assert_double_eq_tol(sum_k / N_DAYS, 0, 4 * 2 / sqrt(N_DAYS));
	ck_assert_double_eq_tol(sqrt(sum_k2 / N_DAYS), 2, 0.4);
	stand_free(&stand);
}
END_TEST

/* Sessions of ten minutes: on for a share of each cycle, within the windows, and as long as said,
 * day by day. Past midnight a session goes on in the early morning. */
static const struct {
	double use_s, session_s, duty_frac, cycle_s, window_h[2][2];
} USE[] = {
	{1800, 600, 1, 0, {{7, 9}}},
	{1800, 600, 0.25, 60, {{7, 9}}},
	{1800, 600, 0.25, 0, {{7, 9}}},
	{7200, 600, 1, 60, {{7, 8}, {17, 18}}}, /* they fill both windows */
	{3600, 600, 1, 0, {{22, 30}}},
	{3600, 3600, 1, 0, {{23.5, 25}}},
	{86400, 86400, 0.5, 600, {{0, 24}}},
};

static bool within(const double window_h[2][2], double from_s, double to_s)
{
	for (int w = 0; w < 2; w++)
		for (int next = 0; next < 2; next++) {
			const double shift_s = next * 86400.0;
			if (from_s + shift_s >= 3600 * window_h[w][0] - 1e-6 &&
				to_s + shift_s <= 3600 * window_h[w][1] + 1e-6)
				return true;
		}
	return false;
}

START_TEST(a_use_takes_its_time_within_its_windows)
{
	shed_unit unit = {.behaviour = RIG_SHED_USED,
		.use_s = USE[_i].use_s,
		.session_s = USE[_i].session_s,
		.duty_frac = USE[_i].duty_frac,
		.cycle_s = USE[_i].cycle_s,
		.key = 7,
		.group = -1,
		.body = -1,
		.most_switches = 1000};
	for (int w = 0; w < 2; w++)
		for (int k = 0; k < 2; k++)
			unit.window_s[w][k] = 3600 * USE[_i].window_h[w][k];
	const shed_model model = {.n_units = 1, .units = &unit};
	shed_stand stand;
	stand_of_model(&stand, &model);
	double starts_s = 0;
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 1, day, stand.day);
		const double *at_s = stand.day->unit_s[0];
		double on_s = 0;
		ck_assert_uint_eq(stand.day->n_unit_s[0] % 2, 0);
		for (size_t i = 0; i < stand.day->n_unit_s[0]; i += 2) {
			ck_assert(at_s[i] >= 0 && at_s[i] <= at_s[i + 1] && at_s[i + 1] <= 86400);
			ck_assert(i == 0 || at_s[i] >= at_s[i - 1]);
			ck_assert_msg(within(USE[_i].window_h, at_s[i], at_s[i + 1]),
				"day %d: %g to %g s", (int)day, at_s[i], at_s[i + 1]);
			on_s += at_s[i + 1] - at_s[i];
		}
		ck_assert_double_eq_tol(on_s, USE[_i].use_s * USE[_i].duty_frac, 1e-6);
		starts_s += at_s[0];
	}
	/* not all days alike, unless there is no room to differ */
	if (_i < 3)
		ck_assert_double_ne(starts_s / N_DAYS, stand.day->unit_s[0][0]);
	stand_free(&stand);
}
END_TEST

/* Half a session a day: it comes whole on half of the days, within 4 standard errors. */
START_TEST(less_than_a_session_comes_on_some_days)
{
	shed_unit unit = {.behaviour = RIG_SHED_USED,
		.use_s = 300,
		.session_s = 600,
		.duty_frac = 1,
		.window_s = {{25200, 32400}},
		.group = -1,
		.body = -1,
		.most_switches = 10};
	const shed_model model = {.n_units = 1, .units = &unit};
	shed_stand stand;
	stand_of_model(&stand, &model);
	int n_used = 0;
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 1, day, stand.day);
		if (stand.day->n_unit_s[0] == 0)
			continue;
		ck_assert_uint_eq(stand.day->n_unit_s[0], 2);
		ck_assert_double_eq_tol(
			stand.day->unit_s[0][1] - stand.day->unit_s[0][0], 600, 1e-6);
		n_used++;
	}
	ck_assert_double_eq_tol(n_used / (double)N_DAYS, 0.5, 4 * 0.5 / sqrt(N_DAYS));
	stand_free(&stand);
}
END_TEST

/* 62 litres at 0.1 l/s are 620 s of running water between 6 and 23 h; a third of them, 20 litres,
 * between 6.5 and 8.5 h at the latest by 9 h, and nothing at night. */
START_TEST(a_day_s_water_is_drawn_to_the_litre)
{
	shed_unit unit = {.behaviour = RIG_SHED_WATER, .group = -1, .on_c = 54, .off_c = 60};
	int heater = 0;
	shed_body tank = {.kind = SHED_TANK,
		.litres_day = 62,
		.flow_l_s = 0.1,
		.n_units = 1,
		.unit = &heater,
		.most_switches = 40};
	const shed_model model = {.n_units = 1, .units = &unit, .n_bodies = 1, .bodies = &tank};
	shed_stand stand;
	stand_of_model(&stand, &model);
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 1, day, stand.day);
		const double *at_s = stand.day->body_s[0];
		double runs_s = 0, morning_s = 0;
		for (size_t i = 0; i < stand.day->n_body_s[0]; i += 2) {
			ck_assert(at_s[i] >= 6 * 3600.0 && at_s[i + 1] <= 23.2 * 3600.0);
			ck_assert(i == 0 || at_s[i] > at_s[i - 1]);
			runs_s += at_s[i + 1] - at_s[i];
			if (at_s[i + 1] <= 9.2 * 3600.0)
				morning_s += at_s[i + 1] - at_s[i];
		}
		ck_assert_double_eq_tol(runs_s, 620, 1e-6);
		/* 20, 8 and 1 litres are drawn by 9 h, and perhaps some of the next litre */
		ck_assert_double_ge(morning_s, 290 - 1e-6);
		ck_assert_double_le(morning_s, 300 + 1e-6);
		/* somewhere in the thermostat's band */
		ck_assert(stand.day->start_c[0] > 54 && stand.day->start_c[0] < 60);
	}
	stand_free(&stand);
}
END_TEST

/* What is missing goes in at full current, and the last 565 Wh in six steps of equal charge at the
 * middle of each sixth of the current; a fuller bank begins at a later step. */
START_TEST(the_bank_is_filled_by_what_is_missing)
{
	const shed_model model = {.stages = {.n = 8},
		.bank_w = 800,
		.most_wh = 1400,
		.deficit_wh = 600,
		.taper_wh = 540};
	const double step_wh = 540 / 6.0;
	shed_stand stand;
	stand_of_model(&stand, &model);
	double sum_wh = 0;
	int n_tapers_only = 0;
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 1, day, stand.day);
		const double *stage_s = stand.day->stage_s;
		double all_wh = stage_s[0] * 800 / 3600, before_wh = all_wh;
		n_tapers_only += all_wh == 0;
		for (int k = 1; k <= 6; k++) {
			const double wh = stage_s[k] * 800 * (6.5 - k) / 6 / 3600;
			ck_assert(wh >= 0 && wh <= step_wh + 1e-9);
			if (before_wh > 0) /* once begun, each step is whole */
				ck_assert_double_eq_tol(wh, step_wh, 1e-9);
			before_wh = wh;
			all_wh += wh;
		}
		ck_assert(all_wh >= 0 && all_wh <= 1200);
		sum_wh += all_wh;
	}
	/* 0 to 1,200 Wh, all alike likely: standard deviation 346 Wh; under 540 on 45 % of days */
	ck_assert_double_eq_tol(sum_wh / N_DAYS, 600, 4 * 346.4 / sqrt(N_DAYS));
	ck_assert_double_eq_tol(n_tapers_only / (double)N_DAYS, 0.45, 4 * 0.5 / sqrt(N_DAYS));
	stand_free(&stand);
}
END_TEST

Suite *shed_day_suite(void);
Suite *shed_day_suite(void)
{
	Suite *suite = suite_create("shed_day");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_day_without_chance_is_two_half_cosines_and_a_half_sine);
	tcase_add_test(all, days_differ_in_warmth_by_the_stated_spread);
	tcase_add_loop_test(all, a_use_takes_its_time_within_its_windows, 0, COUNT(USE));
	tcase_add_test(all, less_than_a_session_comes_on_some_days);
	tcase_add_test(all, a_day_s_water_is_drawn_to_the_litre);
	tcase_add_test(all, the_bank_is_filled_by_what_is_missing);
	suite_add_tcase(suite, all);
	return suite;
}
