/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What appliances are taken for and when people use them: common practice, no source. A row for
 * each kind; what is called by a longer name of the same start must not be taken for the shorter.
 */
#include "studies/shed_coach.h"
#include "suites.h"

/* A session in minutes, a cycle in seconds, and the clock hours of its windows. */
static const struct {
	const char *profile;
	double session_minutes, cycle_s, window_h[2][2];
} HABIT[] = {
	{"roof_ac_fan_only", 120, 0, {{8, 23}}},
	{"engine_block_heater", 240, 0, {{3, 8}}},
	{"electric_blanket", 240, 600, {{21, 30}}},
	{"heating_pad", 60, 300, {{18, 23}}},
	{"dehumidifier", 240, 1200, {{0, 24}}},
	{"box_fan", 120, 0, {{0, 24}}},
	{"microwave_convection", 15, 60, {{7, 9}, {17, 20}}},
	{"microwave_800", 6, 60, {{7, 9}, {17, 20}}},
	{"induction", 20, 60, {{7, 9}, {17, 20}}},
	{"coffee_maker", 30, 0, {{6, 9}}},
	{"electric_kettle", 4, 0, {{6, 9}, {15, 21}}},
	{"toaster_oven", 20, 60, {{7, 9}, {17, 20}}},
	{"toaster", 3, 0, {{6, 9}}},
	{"electric_skillet", 25, 90, {{17, 20}}},
	{"slow_cooker", 360, 300, {{10, 18}}},
	{"blender", 2, 0, {{7, 9}, {17, 20}}},
	{"food_processor", 2, 0, {{7, 9}, {17, 20}}},
	{"clothes_washer", 40, 300, {{9, 17}}},
	{"washer_dryer", 90, 600, {{9, 17}}},
	{"dryer_vented", 60, 600, {{9, 17}}},
	{"dishwasher", 70, 1200, {{19, 22}}},
	{"central_vacuum", 10, 0, {{9, 17}}},
	{"hair_dryer", 8, 0, {{6.5, 9}, {20, 22}}},
	{"clothes_iron", 20, 60, {{8, 23}}},
	{"ice_maker", 180, 600, {{11, 20}}},
	{"tv_", 120, 0, {{18, 23}}},
	{"laptop", 90, 0, {{8, 23}}},
	{"desktop", 90, 0, {{8, 23}}},
	{"stereo", 60, 0, {{8, 23}}},
	{"satellite", 240, 0, {{8, 23}}},
	{"something else", 60, 600, {{8, 23}}},
};

START_TEST(each_appliance_is_used_at_its_hours)
{
	const rig_appliance appliance = {.id = HABIT[_i].profile};
	const rig_load load = {.appliance = &appliance};
	const shed_class class = shed_class_of(&load);
	ck_assert_double_eq(class.session_minutes, HABIT[_i].session_minutes);
	ck_assert_double_eq(class.cycle_s, HABIT[_i].cycle_s);
	for (int w = 0; w < 2; w++)
		for (int k = 0; k < 2; k++)
			ck_assert_double_eq(class.window_h[w][k], HABIT[_i].window_h[w][k]);
	ck_assert(!class.cools && !class.heats && !class.water && !class.cabinet && !class.charges);
}
END_TEST

/* What has a thermostat or a charger's stages of its own. */
static const struct {
	const char *profile;
	bool cools, heats, water, cabinet, charges;
} KIND[] = {
	{"roof_ac_15k", .cools = true},
	{"roof_ac_strip_heat", .heats = true},
	{"roof_heat_pump_15k", .cools = true, .heats = true},
	{"water_heater_element", .water = true},
	{"space_heater_hi", .heats = true},
	{"electric_fireplace", .heats = true},
	{"fridge_residential", .cabinet = true},
	{"converter_55a", .charges = true},
	{"inverter_charger", .charges = true},
};

START_TEST(what_has_a_thermostat_is_known_by_its_profile)
{
	const rig_appliance appliance = {.id = KIND[_i].profile};
	const rig_load load = {.appliance = &appliance};
	const shed_class class = shed_class_of(&load);
	ck_assert(class.cools == KIND[_i].cools && class.heats == KIND[_i].heats);
	ck_assert(class.water == KIND[_i].water && class.cabinet == KIND[_i].cabinet);
	ck_assert(class.charges == KIND[_i].charges);
}
END_TEST

START_TEST(some_run_in_one_season_only)
{
	const char *const profile[] = {"electric_blanket", "heating_pad", "engine_block_heater",
		"box_fan", "roof_ac_fan_only", "dehumidifier"};
	for (int i = 0; i < COUNT(profile); i++) {
		const rig_appliance appliance = {.id = profile[i]};
		const rig_load load = {.appliance = &appliance};
		const shed_class class = shed_class_of(&load);
		ck_assert(class.cold_only == (i < 3));
		ck_assert(class.hot_only == (i == 3 || i == 4));
		ck_assert(class.never_cold == (i == 5));
	}
}
END_TEST

/* Without a profile: a sealed motor of 700 W is a roof unit, a smaller one that is plugged in 20 h
 * a day a refrigerator, and anything else is used for an hour at a time. */
static const struct {
	rig_behaviour behaviour;
	double watts_w, use_h;
	bool cools, cabinet;
} PLAIN[] = {
	{RIG_COMPRESSOR, 700, 5, true, false},
	{RIG_COMPRESSOR, 699, 24, false, true},
	{RIG_COMPRESSOR, 699, 20, false, true},
	{RIG_COMPRESSOR, 699, 19, false, false},
	{RIG_MOTOR, 2000, 24, false, false},
	{RIG_RESISTIVE, 100, 24, false, false},
};

START_TEST(without_a_profile_figures_decide)
{
	const rig_load load = {.behaviour = PLAIN[_i].behaviour,
		.running_w = rig_figure_of(PLAIN[_i].watts_w, RIG_FROM_STATED),
		.daily_use_h = rig_figure_of(PLAIN[_i].use_h, RIG_FROM_STATED)};
	const shed_class class = shed_class_of(&load);
	ck_assert(class.cools == PLAIN[_i].cools && class.cabinet == PLAIN[_i].cabinet);
	ck_assert_double_eq(class.session_minutes, 60);
}
END_TEST

Suite *shed_class_suite(void);
Suite *shed_class_suite(void)
{
	Suite *suite = suite_create("shed_class");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, each_appliance_is_used_at_its_hours, 0, COUNT(HABIT));
	tcase_add_loop_test(all, what_has_a_thermostat_is_known_by_its_profile, 0, COUNT(KIND));
	tcase_add_test(all, some_run_in_one_season_only);
	tcase_add_loop_test(all, without_a_profile_figures_decide, 0, COUNT(PLAIN));
	suite_add_tcase(suite, all);
	return suite;
}
