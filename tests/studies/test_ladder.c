/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "rigbudget/solar.h"
#include "solar_coach.h"
#include "suites.h"

enum { JUNE = 5 };

static solar_coach made;
static rig_solar_findings *findings;
static const rig_solar_bank *bank;

static void look(double watts_w)
{
	rig_place place;
	rig_place_at((size_t)rig_place_find("Phoenix Sky Harbor"), &place);
	rig_solar_options options = rig_solar_defaults();
	options.n_trips = 100;
	solar_coach_set_watts(&made, watts_w);
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, &options, &findings), RIG_OK);
	bank = &findings->banks[HOUSE];
}

static void teardown(void)
{
	rig_solar_free(findings);
	findings = NULL;
}

static const rig_rung *rung_of(const char *id)
{
	for (size_t i = 0; i < bank->n_rungs; i++)
		if (strcmp(bank->rungs[i].id, id) == 0)
			return &bank->rungs[i];
	ck_abort_msg("no rung %s", id);
	return NULL;
}

START_TEST(the_standing_draw_comes_first_and_then_the_smaller_before_the_larger)
{
	solar_coach_household(&made);
	look(200.0);
	ck_assert_str_eq(bank->rungs[0].id, "standing");
	ck_assert_double_eq(bank->rungs[0].wh_day.likely, bank->standing_wh_day.likely);
	for (size_t i = 2; i < bank->n_rungs; i++)
		ck_assert_double_ge(bank->rungs[i].wh_day.likely, bank->rungs[i - 1].wh_day.likely);
	/* from a light to an hour of air conditioner */
	ck_assert_double_lt(rung_of("led_light")->wh_day.likely, 100.0);
	ck_assert_double_gt(rung_of("roof_ac_13k5")->wh_day.likely, 800.0);
}
END_TEST

/* Watts times hours times duty, by hand. */
START_TEST(a_load_on_12_v_takes_its_watts_times_its_hours)
{
	solar_coach_bare(&made);
	rig_load *light = &made.loads[3];
	ck_assert_str_eq(light->id, "led_light");
	light->running_w = rig_figure_of(3.0, RIG_FROM_MEASURED);
	light->daily_use_h = rig_figure_of(4.0, RIG_FROM_STATED);
	look(100.0);
	ck_assert_double_eq_tol(rung_of("led_light")->wh_day.likely, 3 * 3.0 * 4.0, 1e-9);
	ck_assert_int_eq(rung_of("led_light")->load, 3);
	ck_assert(!rung_of("led_light")->through_inverter);
}
END_TEST

/* 100 W for 3 h through 2,000 W with losses 0.01, 0.025 and 0.05 of [SCHMIDT-1996], by hand: 300 x
 * (1.025 + 0.05 x 100 / 2000) and, unless the inverter is on anyway, 20 W for 3 h. */
START_TEST(a_load_on_120_v_takes_what_the_inverter_takes_for_it)
{
	for (int on = 0; on < 2; on++) {
		solar_coach_household(&made);
		rig_load *television = &made.loads[6];
		ck_assert_str_eq(television->id, "tv_led_32");
		television->running_w = rig_figure_of(100.0, RIG_FROM_MEASURED);
		television->daily_use_h = rig_figure_of(3.0, RIG_FROM_STATED);
		made.coach.inverter.always_on = on ? RIG_YES : RIG_NO;
		look(100.0);
		const rig_rung *rung = rung_of("tv_led_32");
		ck_assert(rung->through_inverter && !rung->inverter_too_small);
		ck_assert_double_eq_tol(
			rung->wh_day.likely, 300.0 * 1.0275 + (on ? 0.0 : 60.0), 1e-9);
		teardown();
	}
}
END_TEST

START_TEST(what_is_carried_is_what_is_left_after_the_standing_draw)
{
	solar_coach_household(&made);
	look(250.0);
	int n_can = 0, n_cannot = 0;
	for (size_t i = 1; i < bank->n_rungs; i++)
		for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
			const rig_rung *rung = &bank->rungs[i];
			const rig_solar_bank_month *month = &bank->months[m];
			const double left_wh = fmax(0.0, month->spare_wh_day.likely);
			ck_assert_double_eq_tol(
				rung->covered_ratio[m].likely, left_wh / rung->wh_day.likely, 1e-9);
			n_can += rung->carried[m] == RIG_CAN;
			n_cannot += rung->carried[m] == RIG_CANNOT;
			if (rung->carried[m] == RIG_CAN)
				ck_assert_double_ge(rung->covered_ratio[m].low, 1.0 - 1e-9);
			if (rung->carried[m] == RIG_CANNOT)
				ck_assert_double_lt(rung->covered_ratio[m].likely, 1.0);
		}
	ck_assert_int_gt(n_can, 10);
	ck_assert_int_gt(n_cannot, 10);
}
END_TEST

START_TEST(a_larger_rung_is_never_carried_where_a_smaller_alike_is_not)
{
	solar_coach_household(&made);
	look(300.0);
	for (size_t i = 2; i < bank->n_rungs; i++)
		for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
			const rig_rung *small = &bank->rungs[i - 1], *large = &bank->rungs[i];
			ck_assert_double_le(large->covered_ratio[m].likely,
				small->covered_ratio[m].likely + 1e-9);
		}
}
END_TEST

START_TEST(the_coachs_own_loads_add_up_one_on_top_of_the_other)
{
	solar_coach_household(&made);
	look(600.0);
	double sum_wh = 0.0;
	int n_own = 0;
	rig_carried before = RIG_CAN;
	for (size_t i = 1; i < bank->n_rungs; i++) {
		const rig_rung *rung = &bank->rungs[i];
		if (rung->load < 0) {
			ck_assert(!rig_figure_given(rung->own_together_wh_day));
			continue;
		}
		sum_wh += rung->wh_day.likely;
		n_own++;
		ck_assert_double_eq_tol(rung->own_together_wh_day.likely, sum_wh, 1e-6);
		ck_assert_int_le((int)rung->own_together[JUNE], (int)before);
		ck_assert_int_le((int)rung->own_together[JUNE], (int)rung->carried[JUNE]);
		before = rung->own_together[JUNE];
	}
	/* all but the alarms and what stands on the chassis battery */
	ck_assert_int_eq(n_own, (int)made.coach.n_loads - 4);
	/* with the standing draw they are the chosen daily use, but for how loads meet in the
	 * inverter */
	ck_assert_double_eq_tol(sum_wh + bank->standing_wh_day.likely, bank->use_wh_day.likely,
		0.02 * bank->use_wh_day.likely);
}
END_TEST

START_TEST(a_coach_that_has_a_load_is_not_shown_another_of_that_kind)
{
	solar_coach_household(&made);
	look(100.0);
	int n_furnaces = 0, n_refrigerators = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		n_furnaces += strncmp(bank->rungs[i].id, "furnace_", 8) == 0;
		n_refrigerators += strcmp(bank->rungs[i].id, "fridge_residential") == 0;
	}
	ck_assert_int_eq(n_furnaces, 1);
	ck_assert_int_eq(n_refrigerators, 1);
	ck_assert_int_eq(rung_of("fridge_12v_large")->load, -1);
}
END_TEST

START_TEST(an_air_conditioner_on_a_small_inverter_is_marked)
{
	solar_coach_household(&made);
	made.coach.inverter.watts_w = rig_figure_of(1000.0, RIG_FROM_NAMEPLATE);
	look(100.0);
	ck_assert(rung_of("roof_ac_13k5")->inverter_too_small);
	ck_assert(!rung_of("laptop")->inverter_too_small);
}
END_TEST

/* What the coach has not is shown for a day as its profile has it; ten minutes of microwave and an
 * hour of air conditioner are what people ask for. */
START_TEST(what_the_coach_has_not_is_shown_for_a_usual_day)
{
	solar_coach_bare(&made);
	look(200.0);
	int n_usual = 0;
	for (size_t i = 0; i < bank->n_rungs; i++) {
		const rig_rung *rung = &bank->rungs[i];
		if (rung->load >= 0 || rung->appliance == NULL)
			continue;
		n_usual++;
		const double hours = strcmp(rung->id, "microwave_800") == 0 ? 1.0 / 6
				     : strcmp(rung->id, "roof_ac_13k5") == 0
					     ? 1.0
					     : rung->appliance->daily_use_h.likely;
		ck_assert_double_eq_tol(rung->use_h_day.likely, hours, 1e-12);
		if (rung->supply == RIG_DC)
			ck_assert_double_eq_tol(rung->wh_day.likely,
				rung->appliance->running_w.likely * hours *
					rung->appliance->duty_frac.likely,
				1e-9);
	}
	/* of the fourteen that people ask about the bare coach has the light alone */
	ck_assert_int_eq(n_usual, 13);
	ck_assert_double_eq_tol(rung_of("roof_ac_13k5")->use_h_day.likely, 1.0, 1e-12);
}
END_TEST

/* A habit's hours stand for the load's own; of a load that it does not name the own. */
START_TEST(a_habit_gives_its_hours)
{
	solar_coach_bare(&made);
	ck_assert_str_eq(made.loads[3].id, "led_light");
	made.loads[3].running_w = rig_figure_of(3.0, RIG_FROM_MEASURED);
	made.loads[3].daily_use_h = rig_figure_of(4.0, RIG_FROM_STATED);
	solar_coach_add(&made, "water_pump", 1);
	const int pump = (int)made.coach.n_loads - 1;
	made.loads[pump].daily_use_h = rig_figure_of(0.5, RIG_FROM_STATED);
	rig_use use = {.load_index = 3,
		.daily_use_h = rig_figure_of(6.0, RIG_FROM_STATED),
		.from_hour = -1,
		.to_hour = -1};
	rig_habit habit = {.name = "evenings", .n_use = 1, .use = &use};
	made.coach.n_habits = 1;
	made.coach.habits = &habit;
	rig_place place;
	rig_place_at((size_t)rig_place_find("Phoenix Sky Harbor"), &place);
	rig_solar_options options = rig_solar_defaults();
	options.n_trips = 100;
	options.habit = 0;
	solar_coach_set_watts(&made, 100.0);
	ck_assert_int_eq(rig_solar_study(&made.coach, &place, &options, &findings), RIG_OK);
	bank = &findings->banks[HOUSE];
	const double n_lights = made.loads[3].count;
	ck_assert_double_eq_tol(rung_of("led_light")->use_h_day.likely, 6.0, 1e-12);
	ck_assert_double_eq_tol(rung_of("led_light")->wh_day.likely, n_lights * 3 * 6, 1e-9);
	ck_assert_double_eq_tol(rung_of("water_pump")->use_h_day.likely, 0.5, 1e-12);
	made.coach.n_habits = 0;
}
END_TEST

/* Equals are told by their names; each is there once. */
START_TEST(no_rung_stands_twice)
{
	solar_coach_household(&made);
	look(100.0);
	for (size_t i = 0; i < bank->n_rungs; i++)
		for (size_t k = 0; k < i; k++)
			ck_assert_str_ne(bank->rungs[i].id, bank->rungs[k].id);
	for (size_t i = 2; i < bank->n_rungs; i++)
		if (bank->rungs[i].wh_day.likely == bank->rungs[i - 1].wh_day.likely)
			ck_assert_int_lt(strcmp(bank->rungs[i - 1].id, bank->rungs[i].id), 0);
}
END_TEST

Suite *ladder_suite(void);
Suite *ladder_suite(void)
{
	Suite *suite = suite_create("ladder");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, NULL, teardown);
	tcase_set_timeout(all, 60);
	tcase_add_test(all, the_standing_draw_comes_first_and_then_the_smaller_before_the_larger);
	tcase_add_test(all, a_load_on_12_v_takes_its_watts_times_its_hours);
	tcase_add_test(all, a_load_on_120_v_takes_what_the_inverter_takes_for_it);
	tcase_add_test(all, what_is_carried_is_what_is_left_after_the_standing_draw);
	tcase_add_test(all, a_larger_rung_is_never_carried_where_a_smaller_alike_is_not);
	tcase_add_test(all, the_coachs_own_loads_add_up_one_on_top_of_the_other);
	tcase_add_test(all, a_coach_that_has_a_load_is_not_shown_another_of_that_kind);
	tcase_add_test(all, an_air_conditioner_on_a_small_inverter_is_marked);
	tcase_add_test(all, what_the_coach_has_not_is_shown_for_a_usual_day);
	tcase_add_test(all, a_habit_gives_its_hours);
	tcase_add_test(all, no_rung_stands_twice);
	suite_add_tcase(suite, all);
	return suite;
}
