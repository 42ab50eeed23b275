/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/conductor.h"

#include "outside.h"
#include "physics/close.h"

#define SECTION "supplies; breakers; conductors"

static const double MM2_PER_CMIL = 0.5067075e-3;
static const double M_PER_1000_FT = 304.8;

static const outside_series CMIL = {SECTION, "Area of a gauge, circular mils",
	"[ASTM-B258]; areas read in two reprints", "0.1 %, as the reprints round"};
static const outside_series MM2 = {SECTION, "Area of a gauge, mm2",
	"[ASTM-B258]; areas read in two reprints", "0.5 %, printed to three digits"};
static const struct {
	const char *name;
	int awg;
	double cmil, area_mm2;
} AREA[] = {{"18", 18, 1624, 0.82}, {"14", 14, 4107, 2.08}, {"12", 12, 6530, 3.31},
	{"10", 10, 10383, 5.26}, {"8", 8, 16510, 8.37}, {"6", 6, 26251, 13.30},
	{"4", 4, 41741, 21.15}, {"2", 2, 66371, 33.63}, {"1/0", 0, 105535, 53.5},
	{"4/0", -3, 211600, 107.2}};

START_TEST(gauges_have_their_areas)
{
	const double area_mm2 = rig_awg_area_mm2(AREA[_i].awg);
	OUTSIDE_CLOSE(
		&CMIL, area_mm2 / MM2_PER_CMIL, AREA[_i].cmil, 0.001, "%s AWG", AREA[_i].name);
	OUTSIDE_CLOSE(&MM2, area_mm2, AREA[_i].area_mm2, 0.005, "%s AWG", AREA[_i].name);
}
END_TEST

/* One solid annealed conductor. */
#define SOLID "Solid copper wire, ohm per 1,000 ft"
static const outside_series HANDBOOK = {
	SECTION, SOLID, "[NBS-HB100]; from memory", "half of the last digit"};
static const outside_series CONSTANTS = {SECTION, SOLID,
	"[NBS-HB100], worked from its constants; from memory", "0.3 %, its constants are not ours"};
static const outside_series CODE = {SECTION, SOLID, "[NFPA-70] ch. 9 table 8; read in a reprint",
	"0.6 %, as the reprint rounds"};
static const struct {
	const outside_series *series;
	int awg;
	double temp_c, ohm_per_1000_ft, tol;
} WIRE[] = {
	{&HANDBOOK, 12, 20, 1.588, 0.0005},
	{&HANDBOOK, 14, 20, 2.525, 0.0005},
	{&CONSTANTS, 10, 20, 0.9988, 0.003},
	{&CONSTANTS, 10, 75, 1.2147, 0.004},
	{&CODE, 14, 75, 3.07, 0.018},
	{&CODE, 12, 75, 1.93, 0.012},
	{&CODE, 10, 75, 1.21, 0.007},
	{&CODE, 8, 75, 0.764, 0.005},
};

START_TEST(resistance_agrees_with_published_tables)
{
	const rig_run run = {M_PER_1000_FT, rig_awg_area_mm2(WIRE[_i].awg), WIRE[_i].temp_c};
	OUTSIDE(WIRE[_i].series, rig_run_ohm(&run) / 2, WIRE[_i].ohm_per_1000_ft, WIRE[_i].tol,
		"%d AWG at %g C", WIRE[_i].awg, WIRE[_i].temp_c);
}
END_TEST

#define LAID "Stranded copper wire at 75 C, ohm per 1,000 ft"
static const outside_series THIN = {
	SECTION, LAID, "[NFPA-70] ch. 9 table 8; from memory", "0.6 %, rounding and lay"};
static const outside_series THICK = {
	SECTION, LAID, "[NFPA-70] ch. 9 table 8; read in a reprint", "0.6 %, rounding and lay"};
static const struct {
	const char *name;
	int awg;
	double ohm_per_1000_ft;
} STRANDED[] = {{"14", 14, 3.14}, {"12", 12, 1.98}, {"10", 10, 1.24}, {"8", 8, 0.778},
	{"6", 6, 0.491}, {"4", 4, 0.308}, {"2", 2, 0.194}, {"1", 1, 0.154}, {"1/0", 0, 0.122},
	{"2/0", -1, 0.0967}, {"4/0", -3, 0.0608}};

START_TEST(stranded_wire_agrees_with_the_codes_table)
{
	const rig_run run = {M_PER_1000_FT, rig_awg_area_mm2(STRANDED[_i].awg), 75};
	OUTSIDE_CLOSE(STRANDED[_i].awg >= 8 ? &THIN : &THICK,
		RIG_STRANDED_FACTOR * rig_run_ohm(&run) / 2, STRANDED[_i].ohm_per_1000_ft, 0.006,
		"%s AWG", STRANDED[_i].name);
}
END_TEST

START_TEST(cold_copper_has_82_percent_of_the_hot_resistance)
{
	rig_run run = {1, 5, 20};
	const double cold_ohm = rig_run_ohm(&run);
	run.temp_c = 75;
	static const outside_series COLD = {SECTION, "Copper at 20 C over copper at 75 C",
		"[IEC-60028], 1 / (1 + 0.00393 x 55); from memory", "half of the last digit"};
	OUTSIDE(&COLD, cold_ohm / rig_run_ohm(&run), 0.822, 0.0005, "resistance");
}
END_TEST

/* The trade's rule CM = K I L / E, feet out and back. */
static const outside_series CIRCULAR_MILS = {SECTION,
	"Circular-mil rule CM = K I L / E, the K that our copper has",
	"[ABYC-E11] 11.14.2.6, read in a quotation; 12.61 and 12.86 by arithmetic on [NBS-HB100]",
	"0.3 %, its constants are not ours"};
static const struct {
	const char *name;
	double temp_c, factor, k;
} RULE[] = {{"solid at 29 C", 29, 1, 10.75}, {"solid at 75 C", 75, 1, 12.61},
	{"stranded at 75 C", 75, RIG_STRANDED_FACTOR, 12.86}};

START_TEST(the_circular_mil_rule_is_our_copper_at_some_temperature)
{
	const double cmil = 10000, feet_out = 10, current_a = 7;
	const rig_run run = {feet_out * 0.3048, cmil * MM2_PER_CMIL, RULE[_i].temp_c};
	const double drop_v = RULE[_i].factor * rig_run_drop_v(&run, current_a);
	OUTSIDE_CLOSE(&CIRCULAR_MILS, drop_v * cmil / (current_a * 2 * feet_out), RULE[_i].k, 0.003,
		"%s", RULE[_i].name);
}
END_TEST

START_TEST(a_pump_circuit_of_the_ruled_area_loses_three_percent)
{
	static const outside_series PUMP = {SECTION,
		"Volts lost by 10 A over 21 ft out and back in copper of 6,271 circular mils",
		"a boat catalogue's worked case of the rule of [ABYC-E11], 3 % of 12 V; read",
		"1 %: the rule is copper near 29 C"};
	const rig_run run = {10.5 * 0.3048, 6271 * MM2_PER_CMIL, 29};
	OUTSIDE_CLOSE(&PUMP, rig_run_drop_v(&run, 10), 0.36, 0.01, "V");
}
END_TEST

START_TEST(a_roof_unit_feed_loses_what_the_hand_works_out)
{
	static const outside_series FEED = {SECTION,
		"Volts lost by 15.5 A over 24 ft of 12 AWG, a roof unit's feed",
		"arithmetic on 1.98 ohm per 1,000 ft of [NFPA-70] ch. 9 table 8; length and size "
		"read in "
		"a roof unit's data sheet",
		"1 % of the wire, half of the last digit"};
	const rig_run run = {24 * 0.3048, rig_awg_area_mm2(12) / RIG_STRANDED_FACTOR, 75};
	OUTSIDE(&FEED, rig_run_drop_v(&run, 15.5), 1.47, 0.01, "resistance only");
	/* on AC at unity power factor the reactance hardly shows */
	const rig_phasor heat = rig_phasor_of(15.5 * 118, 1);
	OUTSIDE(&FEED, rig_run_ac_drop_v(&run, heat, 118), 1.47, 0.01, "AC, unity power factor");
}
END_TEST

START_TEST(a_lagging_load_loses_less_along_a_thin_wire_and_more_along_a_thick_one)
{
	/* along the voltage: I (R cos + X sin); a thin wire is all resistance */
	const rig_phasor motor = rig_phasor_of(0.8 * 30 * 120, 0.8),
			 heat = rig_phasor_of(30 * 120, 1);
	const rig_run thin = {15, rig_awg_area_mm2(10), 60};
	ck_assert_double_lt(
		rig_run_ac_drop_v(&thin, motor, 120), rig_run_ac_drop_v(&thin, heat, 120));
	/* 0.6 %: what the part across the voltage adds */
	const double along_v = 30 * (0.8 * rig_run_ohm(&thin) + 0.6 * 0.33e-3 * 15);
	CLOSE(rig_run_ac_drop_v(&thin, motor, 120), along_v, 0.006);
	const rig_run thick = {15, rig_awg_area_mm2(-3), 60};
	ck_assert_double_gt(
		rig_run_ac_drop_v(&thick, motor, 120), rig_run_ac_drop_v(&thick, heat, 120));
	ck_assert_double_eq(rig_run_ac_drop_v(&thin, rig_phasor_of(0, 1), 120), 0);
}
END_TEST

/* By hand, 8 A: 2 x 6 m x 8 A x 1.1572 / 58 / 0.40 V = 4.79 mm2; 10 AWG has 5.26, 12 has 3.31. */
static const struct {
	double current_a;
	int awg;
} CHOICE[] = {{0.0, 18}, {8.0, 10}, {20.0, 6}, {160.0, -3}};

START_TEST(the_thinnest_gauge_that_passes_is_chosen)
{
	const rig_run run = {.length_m = 6.0, .temp_c = 60.0};
	int awg = 99;
	ck_assert_int_eq(rig_run_choose_awg(&run, CHOICE[_i].current_a, 0.40, &awg), RIG_OK);
	ck_assert_int_eq(awg, CHOICE[_i].awg);
}
END_TEST

/* Gauges that a shop stocks (common practice, no source). */
static const int STOCKED[] = {18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3};

START_TEST(every_stocked_gauge_is_chosen_when_it_just_passes)
{
	rig_run run = {6.0, rig_awg_area_mm2(STOCKED[_i]), 60.0};
	const double limit_v = rig_run_drop_v(&run, 10) * (1 + 1e-9);
	int awg = 99;
	ck_assert_int_eq(rig_run_choose_awg(&run, 10, limit_v, &awg), RIG_OK);
	ck_assert_int_eq(awg, STOCKED[_i]);
	if (_i + 1 < COUNT(STOCKED)) {
		ck_assert_int_eq(rig_run_choose_awg(&run, 10.001, limit_v, &awg), RIG_OK);
		ck_assert_int_eq(awg, STOCKED[_i + 1]);
	}
}
END_TEST

/* A drop of just the limit passes: "at most 3 %" is met at 3 %. */
START_TEST(a_gauge_that_loses_just_the_limit_is_chosen)
{
	rig_run run = {6.0, rig_awg_area_mm2(12), 60.0};
	int awg = 99;
	const double limit_v = rig_run_drop_v(&run, 8);
	ck_assert_int_eq(rig_run_choose_awg(&run, 8, limit_v, &awg), RIG_OK);
	ck_assert_int_eq(awg, 12);
}
END_TEST

START_TEST(an_impossible_limit_says_so_and_leaves_the_answer_alone)
{
	const rig_run run = {.length_m = 30.0, .temp_c = 60.0};
	int awg = 99;
	ck_assert_int_eq(rig_run_choose_awg(&run, 300.0, 0.10, &awg), RIG_NO_SOLUTION);
	ck_assert_int_eq(awg, 99);
}
END_TEST

Suite *conductor_suite(void);
Suite *conductor_suite(void)
{
	Suite *suite = suite_create("conductor");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, gauges_have_their_areas, 0, COUNT(AREA));
	tcase_add_loop_test(all, resistance_agrees_with_published_tables, 0, COUNT(WIRE));
	tcase_add_loop_test(all, stranded_wire_agrees_with_the_codes_table, 0, COUNT(STRANDED));
	tcase_add_test(all, cold_copper_has_82_percent_of_the_hot_resistance);
	tcase_add_loop_test(
		all, the_circular_mil_rule_is_our_copper_at_some_temperature, 0, COUNT(RULE));
	tcase_add_test(all, a_pump_circuit_of_the_ruled_area_loses_three_percent);
	tcase_add_test(all, a_roof_unit_feed_loses_what_the_hand_works_out);
	tcase_add_test(all, a_lagging_load_loses_less_along_a_thin_wire_and_more_along_a_thick_one);
	tcase_add_loop_test(all, the_thinnest_gauge_that_passes_is_chosen, 0, COUNT(CHOICE));
	tcase_add_loop_test(
		all, every_stocked_gauge_is_chosen_when_it_just_passes, 0, COUNT(STOCKED));
	tcase_add_test(all, a_gauge_that_loses_just_the_limit_is_chosen);
	tcase_add_test(all, an_impossible_limit_says_so_and_leaves_the_answer_alone);
	suite_add_tcase(suite, all);
	return suite;
}
