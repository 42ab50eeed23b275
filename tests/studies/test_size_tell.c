/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list of one of each, so that one option answers: all that is told of it, by hand. */
#include <math.h>
#include <stdio.h>

#include "base/buffer.h"
#include "size_scene.h"
#include "suites.h"

enum { JUNE = 5 };

static rig_part_panel panel;
static rig_part_controller controller;
static rig_part_battery battery;
static rig_part_inverter inverter;
static rig_part_alternator_charger alternator[5];
static rig_parts_file *example;
static rig_parts parts;
static rig_size_options options;
static rig_file *file;
static rig_size_findings *findings;
static const rig_size_option *option;

static rig_figure label(double value)
{
	return rig_figure_of(value, RIG_FROM_NAMEPLATE);
}

static void make_parts(void)
{
	static const double AMPS_A[] = {20, 40, 30, 60, 45}, VOLTS_V[] = {12, 12, 12, 12, 24};
	panel = (rig_part_panel){.id = "p",
		.name = "Panel",
		.panel = "crystalline",
		.watts_w = label(300),
		.length_m = label(1.7),
		.width_m = label(1),
		.weight_kg = label(18),
		.price = label(210),
		.vmp_v = label(32),
		.voc_v = label(40),
		.imp_a = label(9.4),
		.isc_a = label(10)};
	controller = (rig_part_controller){.id = "c",
		.controller = RIG_MPPT,
		.limit_a = label(30),
		.voc_limit_v = label(100),
		.efficiency_frac = label(0.97),
		.weight_kg = label(1.5),
		.price = label(130)};
	battery = (rig_part_battery){.id = "b",
		.chemistry = "lithium_iron_phosphate",
		.nominal_v = label(12.8),
		.capacity_ah = label(100),
		.length_m = label(0.3),
		.width_m = label(0.2),
		.height_m = label(0.25),
		.weight_kg = label(12),
		.price = label(400),
		.charge_limit_a = label(50),
		.discharge_limit_a = label(100),
		.cycles = label(4000),
		.cycles_depth_frac = label(0.8),
		.most_series = -1};
	inverter = (rig_part_inverter){.id = "i",
		.nominal_v = label(12),
		.watts_w = label(1000),
		.surge_w = label(2000),
		.idle_w = label(8),
		.weight_kg = label(4),
		.price = label(200)};
	for (int i = 0; i < 5; i++)
		alternator[i] = (rig_part_alternator_charger){
			.nominal_v = label(VOLTS_V[i]), .amps_a = label(AMPS_A[i])};
}

static void setup(void)
{
	make_parts();
	/* its wires and fuses */
	example = size_scene_parts(rig_parts_example);
	parts = *rig_parts_list(example);
	parts.n_panels = parts.n_controllers = parts.n_batteries = parts.n_inverters = 1;
	parts.panels = &panel;
	parts.controllers = &controller;
	parts.batteries = &battery;
	parts.inverters = &inverter;
	parts.n_alternator_chargers = COUNT(alternator);
	parts.alternator_chargers = alternator;
	options = rig_size_defaults();
	options.months[6] = false;
	options.months[JUNE] = true;
	options.n_days = 10;
	options.n_trips = 100;
	options.wanted_frac = 0.5;
	options.panels = options.bank = options.inverter = RIG_SIZE_REPLACE;
	options.most_panels = options.most_batteries = 1;
}

static void teardown(void)
{
	rig_size_free(findings);
	rig_file_free(file);
	rig_parts_free(example);
	findings = NULL;
	file = NULL;
}

/* more: further keys of the coach, after a comma. */
static void ask(const char *more)
{
	rig_buffer text = {0};
	rig_buffer_format(&text, "%s, \"banks\": [%s], \"solar\": [%s], \"inverter\": %s%s}",
		SIZE_HEAD, SIZE_OLD_BANK, SIZE_OLD_ARRAY, SIZE_OLD_INVERTER, more);
	file = size_parse(text.text);
	rig_buffer_free(&text);
	ck_assert_int_eq(
		rig_size_study(file, &parts, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert_uint_eq(findings->n_options, 1);
	option = &findings->options_found[0];
}

/* Two days of 620 Wh are in the bank: without the panel ten days are not to be had. */
START_TEST(an_option_is_told_by_its_parts)
{
	ask("");
	ck_assert(option->panel == 0 && option->n_panels == 1 && option->panels_in_series == 1);
	ck_assert(option->controller == 0 && option->n_controllers == 1);
	ck_assert(option->battery == 0 && option->series == 1 && option->parallel == 1);
	ck_assert(option->inverter == 0 && !option->panels_stay);
	ck_assert_double_eq_tol(option->new_w, 300, 1e-9);
	ck_assert_double_eq_tol(option->total_w, 300, 1e-9);
	ck_assert_double_eq_tol(option->area_m2, 1.7, 1e-9);
	ck_assert_double_eq_tol(option->controller_a, 300 / 13.2, 1e-9);
	ck_assert_double_eq_tol(option->bank_wh, 1280, 1e-6);
	ck_assert_double_eq_tol(option->inverter_w, 1000, 1e-9);
	ck_assert_double_eq_tol(option->inverter_surge_w, 2000, 1e-9);
	ck_assert_double_eq_tol(option->inverter_asked_w, 70, 1e-9);
	/* the television, 85 % of what is drawn of 12 V */
	ck_assert_double_eq_tol(option->bank_discharge_a, 70 / 0.85 / 12, 1e-9);
	ck_assert_double_eq_tol(option->bank_discharge_limit_a, 100, 1e-9);
	ck_assert_double_eq_tol(option->charge_limit_a, 50, 1e-9);
	ck_assert_int_eq(option->worst_month, JUNE);
	/* no charger, no generator */
	ck_assert(option->charger_a == 0 && option->shore_charge_h == 0);
	ck_assert(option->generator_charge_h == 0);
	ck_assert_int_eq(findings->notes & RIG_SIZE_GAPS, 0);
}
END_TEST

/* What stays feeds the bank, too. */
START_TEST(panels_that_stay_are_told_with_the_new_ones)
{
	options.panels = RIG_SIZE_KEEP;
	ask("");
	ck_assert(option->panels_stay);
	ck_assert_double_eq_tol(option->new_w, 300, 1e-9);
	ck_assert_double_eq_tol(option->total_w, 350, 1e-9);
}
END_TEST

/* Parts and, of each run out and back, its wire and its fuses. */
START_TEST(an_option_costs_and_weighs_what_its_parts_do)
{
	ask("");
	double price = 210 + 130 + 400 + 200, weight_kg = 18 + 1.5 + 12 + 4;
	for (int k = 0; k < RIG_SIZE_N_RUNS; k++) {
		const rig_size_run *run = &option->runs[k];
		ck_assert(run->asked && run->solved && run->conductor >= 0 && run->fuse >= 0);
		const rig_part_conductor *wire = &parts.conductors[run->conductor];
		const rig_part_fuse *fuse = &parts.fuses[run->fuse];
		const double length_m = 2 * run->job.length_m * run->n_alike;
		price += length_m * wire->price_per_m.likely + run->n_alike * fuse->price.likely;
		weight_kg +=
			length_m * wire->weight_kg_m.likely + run->n_alike * fuse->weight_kg.likely;
		ck_assert_double_eq(fuse->rating_a.likely, run->fuse_a);
		ck_assert_double_ge(fuse->interrupt_a.likely, run->interrupt_asked_a);
	}
	ck_assert(option->price_is_whole);
	ck_assert_double_eq_tol(option->price, price, 0.02);
	ck_assert_double_eq_tol(option->weight_kg, weight_kg, 0.002);
}
END_TEST

/* The panel's 10 A shorted in more than full sun, 125 % [NFPA-70] 690.8(A), at its 32 V; the
 * controller's 30 A; the inverter's 1,000 W at 85 % from 12 V. 100 Ah of lithium give up to 13.4 V
 * / 0.15 ohm Ah = 8,933 A when shorted. */
static const struct {
	double volts_v, amps_a, length_m, drop_frac, interrupt_a;
} RUN[RIG_SIZE_N_RUNS] = {
	{32, 12.5, 6, 0.03, 0},
	{12, 30, 2, 0.02, 13.4 / 0.15 * 100},
	{12, 1000 / 0.85 / 12, 1.5, 0.02, 13.4 / 0.15 * 100},
};

START_TEST(each_run_is_asked_for_its_own_amps)
{
	ask("");
	const rig_size_run *run = &option->runs[_i];
	ck_assert_double_eq_tol(run->job.volts_v, RUN[_i].volts_v, 1e-9);
	ck_assert_double_eq_tol(run->job.amps_a, RUN[_i].amps_a, 1e-9);
	ck_assert_double_eq_tol(run->job.continuous_a, RUN[_i].amps_a, 1e-9);
	ck_assert_double_eq_tol(run->job.length_m, RUN[_i].length_m, 1e-9);
	ck_assert_double_eq_tol(run->job.drop_frac, RUN[_i].drop_frac, 1e-12);
	ck_assert_double_eq_tol(run->interrupt_asked_a, RUN[_i].interrupt_a, 1e-6);
	ck_assert_double_eq(run->job.insulation_c, 105);
	ck_assert_double_eq(run->job.ambient_c, 50);
	ck_assert_int_eq(run->job.bundle, 2);
	ck_assert_int_eq(run->n_alike, 1);
}
END_TEST

/* 4,000 W from 12 V are 392 A: conductors beside each other, none thinner than 1/0 AWG, each with
 * its share and its fuse [NFPA-70] 310.10(G). */
START_TEST(more_than_one_wire_bears_is_shared)
{
	inverter.watts_w = label(4000);
	inverter.surge_w = label(8000);
	/* such an inverter takes some 40 W for itself */
	panel.watts_w = label(900);
	controller.limit_a = label(80);
	battery.capacity_ah = label(300);
	options.n_days = 20;
	ask("");
	const rig_size_run *run = &option->runs[RIG_SIZE_RUN_INVERTER];
	ck_assert(run->solved && run->n_alike >= 2 && run->n_alike <= 3);
	ck_assert_int_le(run->choice.wire.awg, 0);
	ck_assert_double_eq_tol(run->job.amps_a * run->n_alike, 4000 / 0.85 / 12, 1e-6);
	ck_assert_double_ge(run->fuse_a, run->job.amps_a);
}
END_TEST

START_TEST(a_list_without_the_wire_or_fuse_says_so)
{
	parts.n_conductors = 0;
	ask("");
	ck_assert(!option->price_is_whole);
	ck_assert_int_eq(option->runs[0].conductor, -1);
	ck_assert(findings->notes & RIG_SIZE_GAPS);
	teardown();
	setup();
	parts.n_fuses = 0;
	ask("");
	ck_assert(!option->price_is_whole);
	ck_assert_int_eq(option->runs[1].fuse, -1);
	ck_assert(findings->notes & RIG_SIZE_GAPS);
}
END_TEST

/* 4,000 times 0.8 of the bank, over the share that goes through it in a day; a third either way. */
START_TEST(cycles_are_the_label_s_by_depth)
{
	ask("");
	/* television, fan and lights at night and the inverter's own draw, some by day from the sun
	 */
	ck_assert_double_ge(option->depth_frac, 0.15);
	ck_assert_double_le(option->depth_frac, 0.55);
	const double n = 4000 * 0.8 / option->depth_frac;
	ck_assert_double_eq_tol(option->cycles.likely, n, 1e-6 * n);
	ck_assert_double_eq_tol(option->cycles.low, 0.7 * n, 1e-6 * n);
	ck_assert_double_eq_tol(option->cycles.high, 1.3 * n, 1e-6 * n);
	teardown();
	setup();
	battery.cycles = (rig_figure){0};
	ask("");
	ck_assert(!rig_figure_given(option->cycles));
}
END_TEST

/* Without the panel the days are not to be had; there is no second string to take away. */
START_TEST(with_one_thing_less_the_chance_is_less)
{
	ask("");
	const rig_figure chance = option->months[JUNE].never_out_frac;
	ck_assert_double_ge(chance.likely, 0.5);
	ck_assert(rig_figure_given(option->less_panel_frac));
	ck_assert_double_eq(option->less_panel_frac.likely, 0);
	ck_assert(!rig_figure_given(option->less_battery_frac));
	teardown();
	setup();
	battery.capacity_ah = label(50);
	options.most_batteries = 2;
	options.wanted_frac = 0.99;
	ask("");
	ck_assert_int_eq(option->parallel, 2);
	ck_assert(rig_figure_given(option->less_battery_frac));
	ck_assert_double_lt(option->less_battery_frac.likely, 0.99);
}
END_TEST

/* The largest of the list that the bank's 50 A bears, for its volts; 7/6 of it at the alternator. A
 * charger of the coach's own stays. */
START_TEST(an_alternator_charger_is_the_largest_that_the_bank_takes)
{
	ask("");
	ck_assert_int_eq(option->alternator_charger, 1);
	ck_assert_double_eq_tol(option->alternator_amps_a, 40, 1e-9);
	ck_assert_double_eq_tol(option->alternator_drawn_a, 40 * 7 / 6.0, 1e-9);
	teardown();
	setup();
	ask(", \"dc_charger\": {\"amps_a\": 18}");
	ck_assert_int_eq(option->alternator_charger, -1);
	ck_assert_double_eq_tol(option->alternator_amps_a, 18, 1e-9);
	ck_assert_double_eq_tol(option->alternator_drawn_a, 21, 1e-9);
}
END_TEST

/* To 98 % of what may be used, at 13.2 V. Lithium takes what comes, at most its 50 A; the
 * generator's watts go through the charger at its 0.85. */
static const struct {
	double charger_a, generator_w, into_w, generator_into_w;
} CHARGED[] = {
	{20, 5000, 20 * 13.2, 20 * 13.2},
	{80, 5000, 50 * 13.2, 50 * 13.2},
	{80, 300, 50 * 13.2, 255},
};

START_TEST(lithium_is_charged_at_an_even_rate)
{
	char more[200];
	inverter.charger_a = label(CHARGED[_i].charger_a);
	snprintf(more, sizeof more, ", \"generator\": {\"watts_w\": %g}", CHARGED[_i].generator_w);
	ask(more);
	const rig_chemistry *kind = rig_chemistry_find("lithium_iron_phosphate");
	const double wh = 0.98 * 1280 * kind->usable_frac.likely;
	const double keep = kind->charge_efficiency_frac.likely;
	ck_assert_double_eq_tol(option->charger_a, CHARGED[_i].charger_a, 1e-9);
	ck_assert_double_eq_tol(option->shore_charge_h, wh / (CHARGED[_i].into_w * keep), 1e-3);
	ck_assert_double_eq_tol(
		option->generator_charge_h, wh / (CHARGED[_i].generator_into_w * keep), 1e-3);
}
END_TEST

/* Lead takes so much of what is missing in an hour: even until that is less than what is there,
 * then ever less, by an exponential down to 2 % of what may be used. */
START_TEST(lead_takes_the_last_part_slowly)
{
	battery.chemistry = "flooded";
	battery.nominal_v = label(12);
	battery.capacity_ah = label(225);
	battery.charge_limit_a = (rig_figure){0};
	inverter.charger_a = label(30);
	ask("");
	const rig_chemistry *kind = rig_chemistry_find("flooded");
	const double per_h = kind->acceptance_per_h.likely;
	const double into_w = 30 * 13.2 * kind->charge_efficiency_frac.likely;
	const double whole_wh = option->bank_usable_wh;
	const double even_h = (whole_wh - into_w / per_h) / into_w;
	const double slow_h = log(into_w / per_h / (0.02 * whole_wh)) / per_h;
	ck_assert_double_gt(even_h, 0);
	ck_assert_double_gt(slow_h, even_h);
	ck_assert_double_eq_tol(option->shore_charge_h, even_h + slow_h, 1e-6);
}
END_TEST

/* Two of 12.8 V in series for a bank of 24 V: half of all amps, and its own alternator charger, of
 * twice its amps at the engine. */
START_TEST(a_bank_of_24_v_has_half_the_amps)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		"%s, \"banks\": [{\"id\": \"house\", \"chemistry\": \"agm\", "
		"\"capacity_ah\": 80, \"nominal_v\": 24}], \"solar\": [], \"inverter\": %s}",
		SIZE_HEAD, SIZE_OLD_INVERTER);
	file = size_parse(text.text);
	rig_buffer_free(&text);
	options.most_batteries = 2;
	inverter.nominal_v = label(24);
	ck_assert_int_eq(
		rig_size_study(file, &parts, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert_uint_eq(findings->n_options, 1);
	option = &findings->options_found[0];
	ck_assert_int_eq(option->series, 2);
	ck_assert_double_eq_tol(option->bank_wh, 2560, 1e-6);
	ck_assert_double_eq_tol(option->controller_a, 300 / 26.4, 1e-9);
	ck_assert_double_eq_tol(option->bank_discharge_a, 70 / 0.85 / 24, 1e-9);
	ck_assert_double_eq_tol(option->runs[RIG_SIZE_RUN_INVERTER].job.volts_v, 24, 1e-9);
	ck_assert_double_eq_tol(
		option->runs[RIG_SIZE_RUN_INVERTER].job.amps_a, 1000 / 0.85 / 24, 1e-9);
	ck_assert_int_eq(option->alternator_charger, 4);
	ck_assert_double_eq_tol(option->alternator_amps_a, 45, 1e-9);
	ck_assert_double_eq_tol(option->alternator_drawn_a, 45 * 2 * 7 / 6.0, 1e-9);
}
END_TEST

/* ---- the coach with it ---- */

/* An id that an array, a bank or a wire has is not given again. */
START_TEST(new_parts_get_ids_of_their_own)
{
	rig_buffer text = {0};
	rig_buffer_format(&text,
		"%s, \"banks\": [%s, {\"id\": \"new-panels-2\", \"role\": \"chassis\", "
		"\"chemistry\": \"starting\", \"capacity_ah\": 70}], \"solar\": [{\"id\": "
		"\"new-panels\", \"bank\": \"house\", \"watts_w\": 50, \"controller\": "
		"\"pwm\", \"shade_frac\": 0.07}], \"inverter\": %s, \"wires\": [{\"id\": "
		"\"new-panels-3\", \"amps_a\": 5, \"length_m\": 2, \"awg\": \"10\", \"bank\": "
		"\"house\"}]}",
		SIZE_HEAD, SIZE_OLD_BANK, SIZE_OLD_INVERTER);
	file = size_parse(text.text);
	rig_buffer_free(&text);
	options.panels = RIG_SIZE_KEEP;
	ck_assert_int_eq(
		rig_size_study(file, &parts, rig_file_place(file, NULL), &options, &findings),
		RIG_OK);
	ck_assert_uint_eq(findings->n_options, 1);
	rig_file *made = NULL;
	ck_assert_int_eq(rig_size_coach(file, findings, 0, &made), RIG_OK);
	const rig_coach *coach = rig_file_completed(made);
	ck_assert_uint_eq(coach->n_arrays, 2);
	ck_assert_str_eq(coach->arrays[0].id, "new-panels");
	ck_assert_str_eq(coach->arrays[1].id, "new-panels-4");
	/* the same roof has the same shade */
	ck_assert_double_eq(coach->arrays[1].shade_frac.likely, 0.07);
	ck_assert_uint_eq(coach->n_banks, 2);
	ck_assert_str_eq(coach->banks[1].id, "new-panels-2");
	rig_file_free(made);
}
END_TEST

START_TEST(the_coach_has_the_option_s_parts)
{
	options.n_loads = 1;
	options.loads[0] = 0;
	ask(", \"wires\": [{\"id\": \"new-panels-run\", \"amps_a\": 5, \"length_m\": 2, \"awg\": "
	    "\"10\", \"bank\": \"house\"}]");
	rig_file *made = NULL;
	ck_assert_int_eq(rig_size_coach(file, findings, 0, &made), RIG_OK);
	const rig_coach *coach = rig_file_completed(made);
	ck_assert_uint_eq(coach->n_arrays, 1);
	ck_assert_str_eq(coach->arrays[0].id, "new-panels");
	ck_assert_str_eq(coach->arrays[0].name, "Panel");
	ck_assert_int_eq(coach->arrays[0].count, 1);
	ck_assert_double_eq(coach->arrays[0].watts_w.likely, 300);
	ck_assert_double_eq(coach->arrays[0].controller_limit_a.likely, 30);
	ck_assert_double_eq(coach->arrays[0].controller_efficiency_frac.likely, 0.97);
	ck_assert_str_eq(coach->banks[0].chemistry, "lithium_iron_phosphate");
	ck_assert_str_eq(coach->banks[0].name, "b");
	ck_assert_double_eq(coach->banks[0].age_years.likely, 0);
	ck_assert_double_eq(coach->banks[0].charge_limit_a.likely, 50);
	ck_assert_double_eq(coach->inverter.watts_w.likely, 1000);
	ck_assert_double_eq(coach->inverter.idle_w.likely, 8);
	ck_assert_int_eq(coach->inverter.always_on, RIG_YES);
	/* the television is to run, the heater is not */
	ck_assert_int_eq(coach->loads[0].inverter, RIG_YES);
	ck_assert_int_eq(coach->loads[1].inverter, RIG_NO);
	/* the old wire stays, and the new ones have names of their own */
	ck_assert_uint_eq(coach->n_wires, 4);
	ck_assert_str_eq(coach->wires[1].id, "new-panels-run-2");
	ck_assert_str_eq(coach->wires[2].id, "new-controller-run");
	ck_assert_str_eq(coach->wires[3].id, "new-inverter-run");
	ck_assert_double_eq_tol(coach->wires[3].amps_a.likely, 1000 / 0.85 / 12, 0.01);
	ck_assert_double_eq(
		coach->wires[2].fuse_a.likely, option->runs[RIG_SIZE_RUN_CONTROLLER].fuse_a);
	rig_file_free(made);
}
END_TEST

Suite *size_tell_suite(void);
Suite *size_tell_suite(void)
{
	Suite *suite = suite_create("size_tell");
	TCase *all = tcase_create("all");
	tcase_add_checked_fixture(all, setup, teardown);
	tcase_add_test(all, an_option_is_told_by_its_parts);
	tcase_add_test(all, panels_that_stay_are_told_with_the_new_ones);
	tcase_add_test(all, an_option_costs_and_weighs_what_its_parts_do);
	tcase_add_loop_test(all, each_run_is_asked_for_its_own_amps, 0, RIG_SIZE_N_RUNS);
	tcase_add_test(all, more_than_one_wire_bears_is_shared);
	tcase_add_test(all, a_list_without_the_wire_or_fuse_says_so);
	tcase_add_test(all, cycles_are_the_label_s_by_depth);
	tcase_add_test(all, with_one_thing_less_the_chance_is_less);
	tcase_add_test(all, an_alternator_charger_is_the_largest_that_the_bank_takes);
	tcase_add_loop_test(all, lithium_is_charged_at_an_even_rate, 0, COUNT(CHARGED));
	tcase_add_test(all, lead_takes_the_last_part_slowly);
	tcase_add_test(all, a_bank_of_24_v_has_half_the_amps);
	tcase_add_test(all, new_parts_get_ids_of_their_own);
	tcase_add_test(all, the_coach_has_the_option_s_parts);
	suite_add_tcase(suite, all);
	return suite;
}
