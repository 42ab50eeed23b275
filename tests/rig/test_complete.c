/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "random_coach.h"
#include "rig/keys.h"
#include "rigbudget/battery.h"
#include "suites.h"

#define FILE_OF(rest)                                                                              \
	"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 50}," rest "}"

static rig_diags *diags;
static rig_file *file;

static void set_up(void)
{
	diags = rig_diags_new();
	file = NULL;
}

static void tear_down(void)
{
	rig_file_free(file);
	rig_diags_free(diags);
}

static const rig_coach *complete(const char *text)
{
	rig_file_parse(text, strlen(text), diags, &file);
	for (size_t i = 0; file == NULL && i < rig_diags_count(diags); i++)
		fprintf(stderr, "%s: %s\n", rig_diags_at(diags, i)->where.path,
			rig_diags_at(diags, i)->what);
	ck_assert_ptr_nonnull(file);
	return rig_file_completed(file);
}

static void check_range(rig_figure figure, double low, double likely, double high)
{
	ck_assert_double_eq_tol(figure.low, low, 1e-9 * fabs(low) + 1e-15);
	ck_assert_double_eq_tol(figure.likely, likely, 1e-9 * fabs(likely) + 1e-15);
	ck_assert_double_eq_tol(figure.high, high, 1e-9 * fabs(high) + 1e-15);
}

static bool same(rig_figure a, rig_figure b)
{
	return a.low == b.low && a.likely == b.likely && a.high == b.high;
}

/* The whole first example of docs/rig-file.md: a name, a cord, a place and three loads. */
START_TEST(a_short_file_comes_to_a_coach_with_all_figures_of_its_loads)
{
	const rig_coach *coach = complete(
		FILE_OF("\"place\": {\"name\": \"Flagstaff\"}, \"loads\": ["
			"{\"id\": \"air\", \"profile\": \"roof_ac_15k\"},"
			"{\"id\": \"coffee\", \"profile\": \"coffee_maker\"},"
			"{\"id\": \"lights\", \"profile\": \"led_light\", \"count\": 6}]"));
	ck_assert_uint_eq(coach->n_loads, 3);
	for (size_t i = 0; i < 3; i++) {
		const rig_load *load = &coach->loads[i];
		const rig_appliance *appliance = rig_appliance_find(load->profile);
		ck_assert_ptr_eq(load->appliance, appliance);
		ck_assert(same(load->running_w, appliance->running_w));
		ck_assert(same(load->duty_frac, appliance->duty_frac));
		ck_assert_int_eq(load->running_w.from, RIG_FROM_PROFILE);
		ck_assert_str_eq(load->running_w.source, appliance->source);
		ck_assert_str_eq(load->name, appliance->label);
		ck_assert_int_eq(load->circuit_index, -1);
		ck_assert_int_eq(load->bank_index, -1); /* there is no bank, and none is made up */
	}
	ck_assert_int_eq(coach->loads[2].count, 6);
	ck_assert_int_eq(coach->loads[0].count, 1);
	ck_assert_uint_eq(coach->n_banks, 0);
	double distance_km = 9;
	const rig_place *place = rig_file_place(file, &distance_km);
	ck_assert_ptr_nonnull(place);
	ck_assert_double_eq(distance_km, 0);
	ck_assert_double_eq(coach->site.latitude_deg.likely, place->latitude_deg);
	ck_assert_double_eq(coach->site.elevation_m.likely, place->elevation_m);
}
END_TEST

/* By hand: 121 to 122 V open less 118 to 119 V, 2 to 4 V over 11.5 to 12.5 A; a meter cannot show
 * less than no resistance. Gauges and the second output as the tables of docs/rig-file.md have it.
 */
START_TEST(a_reading_at_the_pedestal_comes_to_ohms)
{
	const rig_coach *coach = complete(
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 30, "
		"\"pedestal_open_v\": {\"low\": 121, \"likely\": 121.5, \"high\": 122, \"from\": "
		"\"measured\"}, \"loaded_v\": {\"low\": 118, \"likely\": 118.5, \"high\": 119, "
		"\"from\": \"measured\"}, \"loaded_a\": {\"low\": 11.5, \"likely\": 12, \"high\": "
		"12.5, \"from\": \"measured\"}}, \"loads\": [], \"generator\": {\"watts_w\": "
		"4000}}");
	check_range(coach->source_ohm, 2 / 12.5, 3.0 / 12, 4 / 11.5);
	ck_assert_int_eq(coach->source_ohm.from, RIG_FROM_COMPUTED);
	ck_assert_str_eq(coach->cord_awg, "10");
	ck_assert(!rig_figure_given(coach->adapter_length_m));
	ck_assert_int_eq(coach->generator.two_hots, RIG_NO);
}
END_TEST

START_TEST(a_reading_within_its_doubt_is_not_below_nothing)
{
	const rig_coach *coach = complete(
		"{\"format\": \"rigbudget/1\", \"name\": \"T\", \"shore\": {\"cord_a\": 50, "
		"\"pedestal_open_v\": {\"low\": 119, \"likely\": 120, \"high\": 121, \"from\": "
		"\"measured\"}, \"loaded_v\": 119.5, \"loaded_a\": 10}, \"loads\": [], "
		"\"generator\": "
		"{\"watts_w\": 8000}}");
	check_range(coach->source_ohm, 0, 0.05, 0.15);
	ck_assert_str_eq(coach->cord_awg, "6");
	ck_assert_int_eq(coach->generator.two_hots, RIG_YES);
}
END_TEST

START_TEST(the_file_wins_over_the_profile)
{
	const rig_coach *coach =
		complete(FILE_OF("\"loads\": [{\"id\": \"a\", \"profile\": \"coffee_maker\", "
				 "\"name\": \"Own\", \"running_w\": "
				 "11, \"power_factor\": 0.5, \"duty_frac\": 0.1, \"daily_use_h\": "
				 "2, \"priority\": 9, "
				 "\"continuous\": true, \"always_on\": false, \"volts_v\": 110, "
				 "\"behaviour\": \"motor\", "
				 "\"start_a\": 3}]"));
	const rig_load *load = &coach->loads[0];
	ck_assert_str_eq(load->name, "Own");
	check_range(load->running_w, 11, 11, 11);
	check_range(load->power_factor, 0.5, 0.5, 0.5);
	check_range(load->duty_frac, 0.1, 0.1, 0.1);
	check_range(load->daily_use_h, 2, 2, 2);
	check_range(load->volts_v, 110, 110, 110);
	check_range(load->start_a, 3, 3, 3);
	ck_assert_int_eq(load->running_w.from, RIG_FROM_STATED);
	ck_assert_int_eq(load->priority, 9);
	ck_assert_int_eq(load->continuous, RIG_YES);
	ck_assert_int_eq(load->always_on, RIG_NO);
	ck_assert_int_eq(load->behaviour, RIG_MOTOR);
}
END_TEST

/* Arithmetic: 10 to 12 A x 120 V x 0.9; 5 A x 12 V on DC. */
START_TEST(amps_come_to_watts)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"loads\": [{\"id\": \"a\", \"running_a\": {\"low\": 10, \"likely\": 11, "
		"\"high\": 12, \"from\": "
		"\"nameplate\"}, \"power_factor\": 0.9, \"daily_use_h\": 1},"
		"{\"id\": \"b\", \"supply\": \"dc\", \"running_a\": 5, \"daily_use_h\": 1}]"));
	check_range(coach->loads[0].running_w, 1080, 1188, 1296);
	ck_assert_int_eq(coach->loads[0].running_w.from, RIG_FROM_NAMEPLATE);
	check_range(coach->loads[1].running_w, 60, 60, 60);
}
END_TEST

/* Rules of docs/rig-file.md: a profile's hours are at most the window's; a window alone is used up;
 * always on is 24 h; with nothing known 0 to 4 h and a remark. */
START_TEST(hours_of_use_are_filled_by_rule)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"loads\": ["
		"{\"id\": \"a\", \"profile\": \"furnace_35k\", \"from_hour\": 22, \"to_hour\": 1},"
		"{\"id\": \"b\", \"running_w\": 5, \"from_hour\": 20, \"to_hour\": 2},"
		"{\"id\": \"c\", \"running_w\": 5, \"always_on\": true},"
		"{\"id\": \"d\", \"running_w\": 5}]"));
	ck_assert_double_le(coach->loads[0].daily_use_h.high, 3);
	check_range(coach->loads[1].daily_use_h, 6, 6, 6);
	check_range(coach->loads[2].daily_use_h, 24, 24, 24);
	check_range(coach->loads[3].daily_use_h, 0, 1, 4);
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "loads[3]");
	ck_assert_int_eq(rig_diags_at(diags, 0)->severity, RIG_REMARK);
}
END_TEST

START_TEST(hours_of_the_file_win_over_a_profile_that_is_always_on)
{
	const rig_coach *coach = complete(
		FILE_OF("\"loads\": ["
			"{\"id\": \"a\", \"profile\": \"lp_detector\"},"
			"{\"id\": \"b\", \"profile\": \"lp_detector\", \"daily_use_h\": 5}]"));
	ck_assert_int_eq(coach->loads[0].always_on, RIG_YES);
	check_range(coach->loads[0].daily_use_h, 24, 24, 24);
	ck_assert_int_eq(coach->loads[1].always_on, RIG_NO);
	check_range(coach->loads[1].daily_use_h, 5, 5, 5);
}
END_TEST

START_TEST(references_come_to_indices)
{
	const rig_coach *coach =
		complete(FILE_OF("\"banks\": [{\"id\": \"c\", \"chemistry\": \"starting\", "
				 "\"capacity_ah\": 80}, {\"id\": \"h\", "
				 "\"chemistry\": \"agm\", \"capacity_ah\": 100}],"
				 "\"circuits\": [{\"id\": \"x\"}, {\"id\": \"dc\", \"supply\": "
				 "\"dc\"}, {\"id\": \"y\", \"bank\": \"c\"}],"
				 "\"loads\": [{\"id\": \"l1\", \"running_w\": 9, \"daily_use_h\": "
				 "1, \"circuit\": \"y\"}, {\"id\": \"l2\", "
				 "\"running_w\": 9, \"daily_use_h\": 1, \"supply\": \"dc\"}, "
				 "{\"id\": \"l3\", \"running_w\": 9, "
				 "\"daily_use_h\": 1, \"circuit\": \"x\"}],"
				 "\"solar\": [{\"id\": \"p\", \"watts_w\": 50, \"bank\": \"c\", "
				 "\"controller\": \"pwm\"}],"
				 "\"charger\": {\"amps_a\": 40, \"circuit\": \"x\"},"
				 "\"together\": [{\"name\": \"s\", \"loads\": [\"l3\", \"l1\"]}],"
				 "\"habits\": [{\"name\": \"h\", \"use\": [{\"load\": \"l2\", "
				 "\"daily_use_h\": 3}]}]"));
	ck_assert_int_eq(coach->banks[0].role, RIG_CHASSIS);
	ck_assert_int_eq(coach->banks[1].role, RIG_HOUSE);
	ck_assert_int_eq(coach->circuits[0].bank_index, -1);
	ck_assert_int_eq(coach->circuits[1].bank_index, 1); /* the only house bank */
	ck_assert_int_eq(coach->circuits[2].bank_index, 0);
	ck_assert_int_eq(coach->circuits[2].supply, RIG_DC);
	ck_assert_int_eq(coach->loads[0].circuit_index, 2);
	ck_assert_int_eq(coach->loads[0].supply, RIG_DC); /* as its circuit */
	ck_assert_int_eq(coach->loads[0].bank_index, 0);
	ck_assert_int_eq(coach->loads[1].bank_index, 1);
	ck_assert_int_eq(coach->loads[2].bank_index, -1);
	ck_assert_int_eq(coach->arrays[0].bank_index, 0);
	ck_assert_int_eq(coach->charger.bank_index, 1);
	ck_assert_int_eq(coach->charger.circuit_index, 0);
	ck_assert_int_eq(coach->together[0].load_index[0], 2);
	ck_assert_int_eq(coach->together[0].load_index[1], 0);
	ck_assert_int_eq(coach->habits[0].use[0].load_index, 1);
	ck_assert_uint_eq(rig_diags_count(diags), 0);
}
END_TEST

/* Who is used away from hookups where the file does not say so of the load. */
static const struct {
	const char *rest;
	rig_choice inverter;
	size_t remarks;
} INVERTERS[] = {
	{"\"loads\": [{\"id\": \"a\", \"profile\": \"coffee_maker\"}]", RIG_NO, 0},
	{"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	 "\"inverter\": "
	 "{\"watts_w\": 2000, \"always_on\": true}, \"loads\": [{\"id\": \"a\", \"profile\": "
	 "\"coffee_maker\"}]",
		RIG_YES, 1},
	/* More than it can carry. */
	{"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	 "\"inverter\": "
	 "{\"watts_w\": 300, \"always_on\": true}, \"loads\": [{\"id\": \"a\", \"profile\": "
	 "\"coffee_maker\"}]",
		RIG_NO, 0},
	{"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	 "\"inverter\": "
	 "{\"watts_w\": 2000, \"always_on\": true}, \"circuits\": [{\"id\": \"c\", \"inverter\": "
	 "true}], "
	 "\"loads\": [{\"id\": \"a\", \"profile\": \"coffee_maker\", \"circuit\": \"c\"}]",
		RIG_YES, 0},
	/* Another circuit is said to be on it, this one not. */
	{"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	 "\"inverter\": "
	 "{\"watts_w\": 2000, \"always_on\": true}, \"circuits\": [{\"id\": \"c\", \"inverter\": "
	 "true}, "
	 "{\"id\": \"d\"}], \"loads\": [{\"id\": \"a\", \"profile\": \"coffee_maker\", "
	 "\"circuit\": \"d\"}]",
		RIG_NO, 0},
	{"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100}], "
	 "\"inverter\": "
	 "{\"watts_w\": 2000, \"always_on\": true}, \"loads\": [{\"id\": \"a\", \"profile\": "
	 "\"coffee_maker\", "
	 "\"inverter\": false}]",
		RIG_NO, 0},
};

START_TEST(what_the_inverter_feeds_is_resolved)
{
	char text[1024];
	snprintf(text, sizeof text, FILE_OF("%s"), INVERTERS[_i].rest);
	const rig_coach *coach = complete(text);
	ck_assert_int_eq(coach->loads[0].inverter, INVERTERS[_i].inverter);
	ck_assert_uint_eq(rig_diags_count(diags), INVERTERS[_i].remarks);
}
END_TEST

/* Two pairs of 6 V batteries of 210 Ah: 420 Ah at 12 V, 5,040 Wh new; half of it usable.
 * Arithmetic. */
START_TEST(batteries_add_up)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"nominal_v\": 12, "
		"\"capacity_ah\": 210, "
		"\"series\": 2, \"parallel\": 2, \"age_years\": 0, \"usable_frac\": 0.5},"
		"{\"id\": \"w\", \"role\": \"house\", \"chemistry\": \"lithium_iron_phosphate\", "
		"\"capacity_wh\": {\"likely\": 2560, \"from\": \"measured\"}, \"usable_frac\": "
		"0.8}]"));
	check_range(coach->banks[0].total_ah, 420, 420, 420);
	check_range(coach->banks[0].total_wh, 5040, 5040, 5040);
	check_range(coach->banks[0].usable_wh, 2520, 2520, 2520);
	ck_assert_int_eq(coach->banks[0].usable_wh.from, RIG_FROM_COMPUTED);
	check_range(coach->banks[0].rating_h, 20, 20, 20);
	check_range(coach->banks[1].nominal_v, 12.8, 12.8, 12.8);
	check_range(coach->banks[1].total_ah, 200, 200, 200);
	check_range(coach->banks[1].usable_wh, 2048, 2048, 2048);
}
END_TEST

START_TEST(age_takes_capacity_and_unknown_age_makes_it_doubtful)
{
	const rig_coach *coach = complete(
		FILE_OF("\"banks\": ["
			"{\"id\": \"a\", \"chemistry\": \"flooded\", \"capacity_wh\": 1000},"
			"{\"id\": \"b\", \"chemistry\": \"flooded\", \"capacity_wh\": 1000, "
			"\"age_years\": 5},"
			"{\"id\": \"c\", \"chemistry\": \"flooded\", \"capacity_wh\": 1000, "
			"\"age_years\": 8},"
			"{\"id\": \"d\", \"chemistry\": \"lithium_iron_phosphate\", "
			"\"capacity_wh\": 1000, \"age_years\": 5},"
			"{\"id\": \"e\", \"chemistry\": \"ideal\", \"capacity_wh\": 1000}]"));
	check_range(coach->banks[0].total_wh, 800, 1000, 1000);
	/* 4 % a year compounded, common practice: 1000 x 0.96^5. */
	ck_assert_double_eq_tol(coach->banks[1].total_wh.likely, 815.3726976, 1e-6);
	ck_assert_double_lt(coach->banks[2].total_wh.likely, coach->banks[1].total_wh.likely);
	ck_assert_double_gt(coach->banks[3].total_wh.likely, coach->banks[1].total_wh.likely);
	check_range(coach->banks[4].total_wh, 1000, 1000, 1000);
}
END_TEST

/* The same law as the physics room's, at the bank's own exponent; and by hand: 160 min at 25 A are
 * 66.7 Ah, 1.2 makes it 66.7 (20 / 2.6667)^(1/6) = 93.3 Ah over 20 h. */
START_TEST(reserve_minutes_come_to_amp_hours)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"banks\": [{\"id\": \"a\", \"chemistry\": \"flooded\", \"reserve_minutes\": 160, "
		"\"peukert_exponent\": 1.2, \"age_years\": 0},"
		"{\"id\": \"b\", \"chemistry\": \"agm\", \"reserve_minutes\": 160, \"age_years\": "
		"0}]"));
	ck_assert_double_eq_tol(
		coach->banks[0].total_ah.likely, rig_reserve_rated_ah(160, 1.2, 20), 1e-9);
	ck_assert_double_eq_tol(coach->banks[0].total_ah.likely, 93.27, 0.01);
	const rig_figure exponent = coach->banks[1].kind->peukert_exponent;
	check_range(coach->banks[1].capacity_ah, rig_reserve_rated_ah(160, exponent.low, 20),
		rig_reserve_rated_ah(160, exponent.likely, 20),
		rig_reserve_rated_ah(160, exponent.high, 20));
}
END_TEST

/* A plain store, as the reference balance has it: nothing creeps in. */
START_TEST(an_ideal_bank_and_a_direct_panel_stay_exact)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"banks\": [{\"id\": \"h\", \"chemistry\": \"ideal\", \"capacity_wh\": 1200, "
		"\"charge_efficiency_frac\": 0.9, \"usable_frac\": 1}],"
		"\"solar\": [{\"id\": \"p\", \"watts_w\": 100, \"noct_c\": 45, \"roof_rise_k\": 0, "
		"\"temp_coefficient_per_k\": -0.004, \"losses_frac\": 0.15, \"shade_frac\": 0, "
		"\"controller\": \"direct\"}],"
		"\"loads\": [{\"id\": \"l\", \"supply\": \"dc\", \"running_w\": 20, \"duty_frac\": "
		"1, "
		"\"daily_use_h\": 24}]"));
	const rig_bank *bank = &coach->banks[0];
	check_range(bank->total_wh, 1200, 1200, 1200);
	check_range(bank->usable_wh, 1200, 1200, 1200);
	check_range(bank->charge_efficiency_frac, 0.9, 0.9, 0.9);
	ck_assert_double_eq(bank->self_discharge_frac_month.high, 0);
	ck_assert(!rig_figure_given(bank->charge_limit_a));
	const rig_array *array = &coach->arrays[0];
	check_range(array->total_w, 100, 100, 100);
	check_range(array->tilt_deg, 0, 0, 0);
	check_range(array->roof_rise_k, 0, 0, 0);
	ck_assert(!rig_figure_given(array->controller_efficiency_frac));
	ck_assert(!rig_figure_given(array->controller_limit_a));
	ck_assert_int_eq(coach->loads[0].bank_index, 0);
	ck_assert_uint_eq(rig_diags_count(diags), 0);
}
END_TEST

/* 0.6477 m x 0.4318 m of glass; the table's density. */
START_TEST(a_panel_without_a_label_has_the_watts_of_its_glass)
{
	const rig_coach *coach =
		complete(FILE_OF("\"solar\": [{\"id\": \"p\", \"panel\": \"crystalline_old\", "
				 "\"length_in\": 25.5, \"width_in\": 17, "
				 "\"count\": 2, \"controller\": \"mppt\"}]"));
	const rig_figure density = rig_panel_kind_find("crystalline_old")->density_wm2;
	const double area_m2 = 0.6477 * 0.4318;
	check_range(coach->arrays[0].watts_w, area_m2 * density.low, area_m2 * density.likely,
		area_m2 * density.high);
	check_range(coach->arrays[0].total_w, 2 * area_m2 * density.low,
		2 * area_m2 * density.likely, 2 * area_m2 * density.high);
	ck_assert_int_eq(coach->arrays[0].watts_w.from, RIG_FROM_ESTIMATED);
	ck_assert_int_eq(coach->arrays[0].bank_index, -1);
	ck_assert(rig_figure_given(coach->arrays[0].controller_efficiency_frac));
}
END_TEST

/* What is assumed of panels and matters is remarked. */
static const struct {
	const char *array;
	size_t remarks;
} ARRAYS[] = {
	{"\"watts_w\": 50, \"controller\": \"pwm\"", 0},
	{"\"watts_w\": 50", 1},
	{"\"watts_w\": 50, \"controller\": \"pwm\", \"tilt_deg\": 20", 1},
	{"\"watts_w\": 50, \"controller\": \"pwm\", \"tilt_deg\": 20, \"heading_deg\": 170", 0},
	{"\"length_m\": 1, \"width_m\": 0.5, \"controller\": \"pwm\"", 1},
};

START_TEST(what_is_assumed_of_panels_is_remarked)
{
	char text[512];
	snprintf(text, sizeof text, FILE_OF("\"solar\": [{\"id\": \"p\", %s}]"), ARRAYS[_i].array);
	complete(text);
	ck_assert_uint_eq(rig_diags_count(diags), ARRAYS[_i].remarks);
	for (size_t i = 0; i < rig_diags_count(diags); i++)
		ck_assert_str_eq(rig_diags_at(diags, i)->where.path, "solar[0]");
}
END_TEST

/* Watts = volts x amps at the best point, whichever two are given. */
START_TEST(volts_and_amps_of_a_panel_go_with_its_watts)
{
	const rig_coach *coach = complete(FILE_OF(
		"\"solar\": ["
		"{\"id\": \"a\", \"watts_w\": 90, \"controller\": \"pwm\"},"
		"{\"id\": \"b\", \"watts_w\": 90, \"imp_a\": 3, \"controller\": \"pwm\"},"
		"{\"id\": \"c\", \"watts_w\": 90, \"vmp_v\": 36, \"controller\": \"pwm\"}]"));
	for (size_t i = 0; i < 3; i++)
		ck_assert_double_eq_tol(
			coach->arrays[i].vmp_v.likely * coach->arrays[i].imp_a.likely, 90, 1e-9);
	ck_assert_double_eq(coach->arrays[1].vmp_v.likely, 30);
	ck_assert_double_eq(coach->arrays[2].imp_a.likely, 2.5);
}
END_TEST

START_TEST(a_point_on_the_map_takes_the_nearest_place)
{
	/* In the Gulf of Mexico: far from every place of the table, and said so. */
	complete(FILE_OF("\"place\": {\"latitude_deg\": 27, \"longitude_deg\": -90}"));
	double distance_km = 0;
	const rig_place *place = rig_file_place(file, &distance_km);
	ck_assert_ptr_nonnull(place);
	ck_assert(distance_km > 80 && distance_km < 500);
	ck_assert_str_eq(rig_file_completed(file)->site.name, place->name);
	ck_assert_double_eq(rig_file_completed(file)->site.latitude_deg.likely, 27);
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "place");
}
END_TEST

START_TEST(a_point_too_far_from_any_weather_has_no_place)
{
	/* Mid-Pacific, and the southern half of the world, where the seasons are turned about. */
	static const char *const POINTS[] = {
		FILE_OF("\"place\": {\"latitude_deg\": 30, \"longitude_deg\": -140}"),
		FILE_OF("\"place\": {\"name\": \"South\", \"latitude_deg\": -34, "
			"\"longitude_deg\": 151}")};
	complete(POINTS[_i]);
	ck_assert_ptr_null(rig_file_place(file, NULL));
	ck_assert(rig_figure_given(rig_file_completed(file)->site.latitude_deg));
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->where.path, "place");
}
END_TEST

START_TEST(without_a_place_there_is_none)
{
	complete(FILE_OF("\"loads\": []"));
	ck_assert_ptr_null(rig_file_place(file, NULL));
}
END_TEST

START_TEST(sources_are_filled)
{
	const rig_coach *coach =
		complete(FILE_OF("\"inverter\": {\"watts_w\": 2000}, \"charger\": {\"amps_a\": "
				 "40}, \"dc_charger\": {\"amps_a\": 30},"
				 "\"generator\": {\"watts_w\": 4000, \"fuel\": \"gasoline\"}, "
				 "\"energy_management\": {}"));
	check_range(coach->inverter.idle_w, 10, 20, 40);
	check_range(coach->inverter.loss_fixed_frac, 0.005, 0.01, 0.02);
	ck_assert_double_eq(coach->inverter.loss_linear_frac.likely, 0.025);
	ck_assert_double_eq(coach->inverter.loss_square_frac.likely, 0.05);
	ck_assert_int_eq(coach->inverter.bank_index, -1);
	ck_assert(rig_figure_given(coach->charger.efficiency_frac));
	ck_assert(rig_figure_given(coach->dc_charger.drive_h));
	ck_assert(!rig_figure_given(coach->generator.start_soc_frac));
	/* 4 to 5.5 kW gasoline sets: 0.9 to 1.0 gal/h at full load, an article's figures. */
	ck_assert_double_le(coach->generator.fuel_full_l_h.low, 0.9 * 3.785);
	ck_assert_double_ge(coach->generator.fuel_full_l_h.high, 1.0 * 3.785);
	ck_assert(rig_figure_given(coach->energy_management.minimum_off_s));
	ck_assert(!rig_figure_given(coach->energy_management.limit_a));
	ck_assert_uint_eq(rig_diags_count(diags), 2); /* stays on; nothing feeds it */
}
END_TEST

START_TEST(idle_and_fixed_loss_are_one_figure)
{
	const rig_coach *coach =
		complete(FILE_OF("\"inverter\": {\"watts_w\": 2000, \"loss_fixed_frac\": 0.03}"));
	check_range(coach->inverter.idle_w, 60, 60, 60);
}
END_TEST

/* The stated coach stays as the file has it. */
START_TEST(completing_does_not_touch_what_is_stated)
{
	complete(FILE_OF("\"loads\": [{\"id\": \"a\", \"profile\": \"coffee_maker\"}]"));
	const rig_load *load = &rig_file_coach(file)->loads[0];
	ck_assert(!rig_figure_given(load->running_w));
	ck_assert_int_eq(load->count, -1);
	ck_assert_int_eq(load->priority, -1);
	ck_assert_ptr_null(load->name);
}
END_TEST

static const char US[] = FILE_OF("\"place\": {\"name\": \"Flagstaff\", \"elevation_ft\": 7000},"
				 "\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", "
				 "\"capacity_ah\": 100, \"temp_f\": 59}],"
				 "\"solar\": [{\"id\": \"p\", \"length_in\": 50, \"width_ft\": 2, "
				 "\"noct_f\": 113, \"controller\": \"pwm\"}],"
				 "\"generator\": {\"watts_w\": 4000, \"fuel_full_gal_h\": 1},"
				 "\"wires\": [{\"id\": \"w\", \"length_ft\": 20, \"insulation_f\": "
				 "167, \"ambient_f\": 104}]");
static const char SI[] =
	FILE_OF("\"place\": {\"name\": \"Flagstaff\", \"elevation_m\": 2133.6},"
		"\"banks\": [{\"id\": \"h\", \"chemistry\": \"agm\", \"capacity_ah\": 100, "
		"\"temp_c\": 15}],"
		"\"solar\": [{\"id\": \"p\", \"length_m\": 1.27, \"width_m\": 0.6096, \"noct_c\": "
		"45, \"controller\": \"pwm\"}],"
		"\"generator\": {\"watts_w\": 4000, \"fuel_full_l_h\": 3.785411784},"
		"\"wires\": [{\"id\": \"w\", \"length_m\": 6.096, \"insulation_c\": 75, "
		"\"ambient_c\": 40}]");

START_TEST(us_and_si_files_come_to_the_same_figures)
{
	rig_file *other = NULL;
	const rig_coach *us = complete(US);
	ck_assert_int_eq(rig_file_parse(SI, strlen(SI), diags, &other), RIG_OK);
	const rig_coach *si = rig_file_completed(other);
	ck_assert(same(us->site.elevation_m, si->site.elevation_m));
	ck_assert(same(us->banks[0].temp_c, si->banks[0].temp_c));
	ck_assert(same(us->arrays[0].length_m, si->arrays[0].length_m));
	ck_assert(same(us->arrays[0].width_m, si->arrays[0].width_m));
	ck_assert(same(us->arrays[0].noct_c, si->arrays[0].noct_c));
	ck_assert(same(us->arrays[0].total_w, si->arrays[0].total_w));
	ck_assert(same(us->generator.fuel_full_l_h, si->generator.fuel_full_l_h));
	ck_assert(same(us->wires[0].length_m, si->wires[0].length_m));
	ck_assert(same(us->wires[0].insulation_c, si->wires[0].insulation_c));
	ck_assert(same(us->wires[0].ambient_c, si->wires[0].ambient_c));
	rig_file_free(other);
}
END_TEST

static bool in_order(rig_figure figure)
{
	return isfinite(figure.low) && isfinite(figure.high) && figure.low <= figure.likely &&
	       figure.likely <= figure.high;
}

static void check_whole(const rig_figure *need, int n, uint64_t seed)
{
	for (int i = 0; i < n; i++)
		ck_assert_msg(rig_figure_given(need[i]) && in_order(need[i]), "seed %d, figure %d",
			(int)seed, i);
}

static void check_load(const rig_load *load, uint64_t seed)
{
	const rig_figure need[] = {load->running_w, load->power_factor, load->duty_frac,
		load->daily_use_h, load->volts_v};
	check_whole(need, COUNT(need), seed);
	ck_assert(load->count >= 1 && load->priority >= 1 && load->priority <= 9);
	ck_assert(load->supply != RIG_SUPPLY_UNSET && load->behaviour != RIG_BEHAVIOUR_UNSET);
	ck_assert(load->continuous != RIG_UNSAID && load->always_on != RIG_UNSAID);
	ck_assert(load->inverter != RIG_UNSAID && load->name != NULL);
}

static void check_bank(const rig_bank *bank, uint64_t seed)
{
	const rig_figure need[] = {bank->total_wh, bank->total_ah, bank->usable_wh, bank->nominal_v,
		bank->usable_frac, bank->charge_efficiency_frac};
	check_whole(need, COUNT(need), seed);
	ck_assert(bank->usable_wh.likely <= bank->total_wh.likely);
	ck_assert(bank->role != RIG_ROLE_UNSAID && bank->kind != NULL);
}

static void check_array(const rig_array *array, uint64_t seed)
{
	const rig_figure need[] = {array->total_w, array->tilt_deg, array->noct_c,
		array->roof_rise_k, array->temp_coefficient_per_k, array->shade_frac,
		array->losses_frac, array->vmp_v, array->imp_a};
	check_whole(need, COUNT(need), seed);
	ck_assert(array->controller != RIG_CONTROLLER_UNSAID && array->kind != NULL);
}

/* Every figure that completion promises is there and in order, for any coach. */
START_TEST(any_coach_comes_out_whole)
{
	for (uint64_t seed = 1; seed <= 200; seed++) {
		rig_file *any = random_coach(seed);
		const rig_coach *coach = rig_file_completed(any);
		for (size_t i = 0; i < coach->n_loads; i++)
			check_load(&coach->loads[i], seed);
		for (size_t i = 0; i < coach->n_banks; i++)
			check_bank(&coach->banks[i], seed);
		for (size_t i = 0; i < coach->n_arrays; i++)
			check_array(&coach->arrays[i], seed);
		rig_file_free(any);
	}
}
END_TEST

Suite *complete_suite(void);
Suite *complete_suite(void)
{
	Suite *suite = suite_create("complete");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 60);
	tcase_add_checked_fixture(all, set_up, tear_down);
	tcase_add_test(all, a_short_file_comes_to_a_coach_with_all_figures_of_its_loads);
	tcase_add_test(all, a_reading_at_the_pedestal_comes_to_ohms);
	tcase_add_test(all, a_reading_within_its_doubt_is_not_below_nothing);
	tcase_add_test(all, the_file_wins_over_the_profile);
	tcase_add_test(all, amps_come_to_watts);
	tcase_add_test(all, hours_of_use_are_filled_by_rule);
	tcase_add_test(all, hours_of_the_file_win_over_a_profile_that_is_always_on);
	tcase_add_test(all, references_come_to_indices);
	tcase_add_loop_test(all, what_the_inverter_feeds_is_resolved, 0, COUNT(INVERTERS));
	tcase_add_test(all, batteries_add_up);
	tcase_add_test(all, age_takes_capacity_and_unknown_age_makes_it_doubtful);
	tcase_add_test(all, reserve_minutes_come_to_amp_hours);
	tcase_add_test(all, an_ideal_bank_and_a_direct_panel_stay_exact);
	tcase_add_test(all, a_panel_without_a_label_has_the_watts_of_its_glass);
	tcase_add_loop_test(all, what_is_assumed_of_panels_is_remarked, 0, COUNT(ARRAYS));
	tcase_add_test(all, volts_and_amps_of_a_panel_go_with_its_watts);
	tcase_add_test(all, a_point_on_the_map_takes_the_nearest_place);
	tcase_add_loop_test(all, a_point_too_far_from_any_weather_has_no_place, 0, 2);
	tcase_add_test(all, without_a_place_there_is_none);
	tcase_add_test(all, sources_are_filled);
	tcase_add_test(all, idle_and_fixed_loss_are_one_figure);
	tcase_add_test(all, completing_does_not_touch_what_is_stated);
	tcase_add_test(all, us_and_si_files_come_to_the_same_figures);
	tcase_add_test(all, any_coach_comes_out_whole);
	suite_add_tcase(suite, all);
	return suite;
}
