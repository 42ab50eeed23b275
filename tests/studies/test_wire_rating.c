/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "outside.h"
#include "rigbudget/wiring.h"
#include "studies/wire_rating.h"
#include "suites.h"

#define SECTION "supplies; breakers; conductors"
#define FOOT_M  0.3048

static rig_wire_job job_of(rig_supply_kind supply, double amps_a, double insulation_c)
{
	return (rig_wire_job){.supply = supply,
		.volts_v = supply == RIG_AC ? 120 : 12,
		.amps_a = amps_a,
		.power_factor = 1,
		.drop_frac = 0.03,
		.insulation_c = insulation_c,
		.ambient_c = 30,
		.bundle = 2};
}

static rig_wire_rating rating_of(const rig_wire_job *job, int awg)
{
	rig_wire_rating rating;
	ck_assert_int_eq(rig_wire_rate(job, awg, &rating), RIG_OK);
	return rating;
}

static const struct {
	int awg;
	double at_60_a, at_75_a, at_90_a;
} CODE[] = {{14, 15, 20, 25}, {12, 20, 25, 30}, {10, 30, 35, 40}, {8, 40, 50, 55}, {6, 55, 65, 75},
	{4, 70, 85, 95}};

START_TEST(ac_ampacities_are_the_code_table)
{
	static const outside_series TABLE = {SECTION, "ampacity at 60, 75 and 90 C, A",
		"[NFPA-70] table 310.16; from memory", "exact"};
	const double given[] = {CODE[_i].at_60_a, CODE[_i].at_75_a, CODE[_i].at_90_a};
	const double insulation_c[] = {60, 75, 90};
	for (int i = 0; i < 3; i++) {
		const rig_wire_job job = job_of(RIG_AC, 1, insulation_c[i]);
		OUTSIDE(&TABLE, rating_of(&job, CODE[_i].awg).table_a, given[i], 0, "%d AWG, %g C",
			CODE[_i].awg, insulation_c[i]);
	}
}
END_TEST

static const struct {
	int awg;
	double ampacity_a;
} BOAT[] = {{18, 20}, {16, 25}, {14, 35}, {12, 45}, {10, 60}, {8, 80}, {6, 120}, {4, 160}, {2, 210},
	{1, 245}, {0, 285}, {-1, 330}, {-3, 445}};

START_TEST(dc_ampacities_at_105_c_are_the_boat_table)
{
	static const outside_series TABLE = {SECTION, "ampacity of a single 105 C wire, 12 V, A",
		"[ABYC-E11], a wire seller's reprint", "exact"};
	const rig_wire_job job = job_of(RIG_DC, 1, 105);
	OUTSIDE(&TABLE, rating_of(&job, BOAT[_i].awg).table_a, BOAT[_i].ampacity_a, 0, "%d AWG",
		BOAT[_i].awg);
}
END_TEST

/* The regulation prints a factor for engine spaces, which are taken at 50 C. */
static const struct {
	double class_c, factor;
} ENGINE[] = {{60, 0.58}, {75, 0.75}, {80, 0.78}, {90, 0.82}, {105, 0.85}, {125, 0.89}};

START_TEST(the_law_of_heat_gives_the_regulation_s_engine_space_factors)
{
	static const outside_series FACTOR = {SECTION, "ampacity at 50 C over that at 30 C",
		"[CFR-183] 183.425 table 5; from memory",
		"half of the last digit, and 105 C is printed low"};
	rig_wire_job job = job_of(RIG_DC, 1, ENGINE[_i].class_c);
	job.ambient_c = 50;
	OUTSIDE(&FACTOR, rating_of(&job, 6).ambient_factor, ENGINE[_i].factor, 0.0065,
		"%g C insulation", ENGINE[_i].class_c);
}
END_TEST

/* The code prints the same law in steps of 5 K, each at its warm end. */
START_TEST(the_code_s_ambient_table_follows_the_law_of_heat)
{
	const double class_c[] = {60, 75, 90};
	for (int i = 0; i < 3; i++) {
		for (int step = 1; 30 + 5 * step < class_c[i]; step++) {
			const double ambient_c = 30 + 5 * step;
			rig_wire_job job = job_of(RIG_AC, 1, class_c[i]);
			job.ambient_c = ambient_c;
			const double law = sqrt((class_c[i] - ambient_c) / (class_c[i] - 30));
			/* half of the last digit printed */
			ck_assert_double_eq_tol(rating_of(&job, 10).ambient_factor, law, 0.0051);
			job.ambient_c = ambient_c - 4.9;
			ck_assert_double_le(rating_of(&job, 10).ambient_factor,
				sqrt((class_c[i] - job.ambient_c) / (class_c[i] - 30)) + 0.0051);
		}
	}
}
END_TEST

START_TEST(insulation_that_is_no_warmer_than_the_air_bears_nothing)
{
	for (int kind = 0; kind < 2; kind++) {
		rig_wire_job job = job_of(kind == 0 ? RIG_AC : RIG_DC, 1, 60);
		job.ambient_c = 61;
		const rig_wire_rating rating = rating_of(&job, 4);
		ck_assert_double_eq(rating.corrected_a, 0);
		ck_assert_double_eq(rating.fuse_limit_a, 0);
	}
}
END_TEST

START_TEST(cold_air_earns_no_credit)
{
	rig_wire_job job = job_of(RIG_DC, 1, 75);
	job.ambient_c = -20;
	ck_assert_double_eq(rating_of(&job, 4).ambient_factor, 1);
	job.supply = RIG_AC;
	ck_assert_double_eq(rating_of(&job, 4).ambient_factor, 1);
}
END_TEST

/* [NFPA-70] table 310.15(C)(1), and [CFR-183] 183.425; both from memory. */
static const struct {
	rig_supply_kind supply;
	int bundle;
	double factor;
} BUNDLE[] = {{RIG_AC, 1, 1}, {RIG_AC, 3, 1}, {RIG_AC, 4, 0.8}, {RIG_AC, 6, 0.8}, {RIG_AC, 7, 0.7},
	{RIG_AC, 9, 0.7}, {RIG_AC, 10, 0.5}, {RIG_AC, 20, 0.5}, {RIG_AC, 21, 0.45},
	{RIG_AC, 30, 0.45}, {RIG_AC, 31, 0.4}, {RIG_AC, 40, 0.4}, {RIG_AC, 41, 0.35},
	{RIG_AC, 100, 0.35}, {RIG_DC, 2, 1}, {RIG_DC, 3, 0.7}, {RIG_DC, 4, 0.6}, {RIG_DC, 6, 0.6},
	{RIG_DC, 7, 0.5}, {RIG_DC, 24, 0.5}, {RIG_DC, 25, 0.4}, {RIG_DC, 100, 0.4}};

START_TEST(bundles_lower_the_ampacity_by_the_tables)
{
	rig_wire_job job = job_of(BUNDLE[_i].supply, 1, 90);
	job.bundle = BUNDLE[_i].bundle;
	ck_assert_double_eq(rating_of(&job, 10).bundle_factor, BUNDLE[_i].factor);
}
END_TEST

/* By hand: a table's ampacity, its heat, its bundle; then the terminals and the small conductors.
 * 8 AWG of 90 C insulation, eight conductors, 38 C: 55 A x 0.91 x 0.70 = 35.035 A. */
static const struct {
	rig_supply_kind supply;
	int awg;
	double amps_a, insulation_c, terminal_c, ambient_c;
	int bundle;
	double corrected_a, fuse_limit_a;
	rig_wire_limit limited_by;
	double rounded_a;
} HAND[] = {
	{RIG_AC, 8, 20, 90, 0, 38, 8, 35.035, 35.035, RIG_BY_AMPACITY, 40},
	/* terminals of 60 C to a breaker of 100 A: 40 A of 55 */
	{RIG_AC, 8, 20, 90, 0, 30, 2, 55, 40, RIG_BY_TERMINAL, 40},
	{RIG_AC, 8, 20, 90, 75, 30, 2, 55, 50, RIG_BY_TERMINAL, 50},
	/* above 100 A they may be 75 C: 2/0 175 A of 195 */
	{RIG_AC, -1, 150, 90, 0, 30, 3, 195, 175, RIG_BY_TERMINAL, 175},
	/* 240.4(D): 15, 20 and 30 A, whatever the insulation bears */
	{RIG_AC, 14, 5, 90, 75, 30, 2, 25, 15, RIG_BY_SMALL, 15},
	{RIG_AC, 12, 5, 90, 75, 30, 2, 30, 20, RIG_BY_SMALL, 20},
	{RIG_AC, 10, 5, 90, 75, 30, 2, 40, 30, RIG_BY_SMALL, 30},
	/* 55 A is no standard breaker; the next is 60 */
	{RIG_AC, 6, 40, 60, 60, 30, 2, 55, 55, RIG_BY_AMPACITY, 60},
	/* 551.10(E)(1): 6, 8, 15, 20 and 30 A on low voltage */
	{RIG_DC, 18, 5, 105, 0, 30, 2, 20, 6, RIG_BY_SMALL, 6},
	{RIG_DC, 16, 5, 105, 0, 30, 2, 25, 8, RIG_BY_SMALL, 8},
	{RIG_DC, 14, 5, 105, 0, 30, 2, 35, 15, RIG_BY_SMALL, 15},
	{RIG_DC, 12, 5, 105, 0, 30, 2, 45, 20, RIG_BY_SMALL, 20},
	{RIG_DC, 10, 5, 105, 0, 30, 2, 60, 30, RIG_BY_SMALL, 30},
	/* three bundled: 160 A x 0.7 */
	{RIG_DC, 4, 50, 105, 0, 30, 3, 112, 112, RIG_BY_AMPACITY, 112},
	/* a holder marked 75 C on 105 C wire: 125 A of 160 */
	{RIG_DC, 4, 50, 105, 75, 30, 2, 160, 125, RIG_BY_TERMINAL, 125},
	/* 100 C insulation counts as 90 */
	{RIG_DC, 4, 50, 100, 0, 30, 2, 135, 135, RIG_BY_AMPACITY, 135},
};

START_TEST(a_fuse_is_held_to_the_insulation_the_terminals_and_the_small_conductors)
{
	rig_wire_job job = job_of(HAND[_i].supply, HAND[_i].amps_a, HAND[_i].insulation_c);
	job.terminal_c = HAND[_i].terminal_c;
	job.ambient_c = HAND[_i].ambient_c;
	job.bundle = HAND[_i].bundle;
	const rig_wire_rating rating = rating_of(&job, HAND[_i].awg);
	ck_assert_double_eq_tol(rating.corrected_a, HAND[_i].corrected_a, 1e-9);
	ck_assert_double_eq_tol(rating.fuse_limit_a, HAND[_i].fuse_limit_a, 1e-9);
	ck_assert_int_eq(rating.limited_by, HAND[_i].limited_by);
	ck_assert_double_eq_tol(rating.rounded_a, HAND[_i].rounded_a, 1e-9);
}
END_TEST

START_TEST(a_roof_unit_s_feed_drops_what_its_data_sheet_allows)
{
	static const outside_series DROP = {SECTION, "drop of a roof unit's feed, V",
		"[ROOF-UNIT]: 12 AWG, up to 24 ft; 15.5 A at 1.98 ohm per 1,000 ft, by hand",
		"half of the last digit"};
	rig_wire_job job = job_of(RIG_AC, 15.5, 75);
	job.volts_v = 115;
	job.length_m = 24 * FOOT_M;
	job.copper_known = true;
	job.copper_c = 75;
	const rig_wire_rating rating = rating_of(&job, 12);
	OUTSIDE(&DROP, rating.drop_v, 1.47, 0.005, "12 AWG, 24 ft, 15.5 A");
	ck_assert_double_eq_tol(rating.drop_frac, 0.013, 0.0005);
}
END_TEST

/* Stranded copper at 75 C. */
static const struct {
	int awg;
	double ohm_per_1000_ft;
} OHM[] = {{14, 3.14}, {12, 1.98}, {10, 1.24}, {8, 0.778}, {6, 0.491}, {4, 0.308}, {2, 0.194},
	{0, 0.122}, {-1, 0.0967}, {-3, 0.0608}};

START_TEST(a_run_drops_by_the_code_s_resistances)
{
	static const outside_series RESISTANCE = {SECTION,
		"stranded copper at 75 C through the drop of a run, ohm per 1,000 ft",
		"[NFPA-70] ch. 9 table 8; 14 to 8 AWG from memory",
		"0.7 %: their lay varies with the size, ours is 2 %"};
	rig_wire_job job = job_of(RIG_DC, 1, 75);
	job.length_m = 500 * FOOT_M; /* there and back 1,000 ft */
	job.copper_known = true;
	job.copper_c = 75;
	OUTSIDE_CLOSE(&RESISTANCE, rating_of(&job, OHM[_i].awg).drop_v, OHM[_i].ohm_per_1000_ft,
		0.007, "%d AWG", OHM[_i].awg);
}
END_TEST

/* The heat of a wire goes with the square of its current, up to its class at its ampacity. */
START_TEST(copper_warms_from_the_air_to_its_class)
{
	rig_wire_job job = job_of(RIG_DC, 0, 105);
	job.ambient_c = 40;
	ck_assert_double_eq(rating_of(&job, 4).copper_c, 40);
	const double full_a = rating_of(&job, 4).corrected_a;
	job.amps_a = full_a / 2;
	ck_assert_double_eq_tol(rating_of(&job, 4).copper_c, 40 + 65.0 / 4, 1e-9);
	job.amps_a = full_a * (1 - 1e-12);
	ck_assert_double_eq_tol(rating_of(&job, 4).copper_c, 105, 1e-6);
	job.amps_a = 3 * full_a;
	ck_assert_double_eq(rating_of(&job, 4).copper_c, 105);
}
END_TEST

/* Areas from the tables of both; and so much more is lost. */
START_TEST(vehicle_wire_has_less_copper_than_its_gauge)
{
	rig_wire_job job = job_of(RIG_DC, 10, 105);
	job.length_m = 5;
	job.copper_known = true;
	job.copper_c = 30;
	for (int i = 0; i < COUNT(BOAT); i++) {
		job.copper = RIG_COPPER_AWG;
		const rig_wire_rating gauge = rating_of(&job, BOAT[i].awg);
		job.copper = RIG_COPPER_SAE;
		const rig_wire_rating vehicle = rating_of(&job, BOAT[i].awg);
		const double less = 1 - vehicle.area_mm2 / gauge.area_mm2;
		ck_assert_double_ge(less, 0.025);
		ck_assert_double_le(less, 0.11);
		ck_assert_double_eq_tol(vehicle.drop_v * (1 - less), gauge.drop_v, 1e-12);
	}
}
END_TEST

/* The code has 18 and 16 AWG for fixtures only. */
START_TEST(wire_thinner_than_14_awg_bears_nothing_on_ac)
{
	const rig_wire_job job = job_of(RIG_AC, 1, 90);
	ck_assert_double_eq(rating_of(&job, 16).fuse_limit_a, 0);
	ck_assert_double_eq(rating_of(&job, 18).fuse_limit_a, 0);
}
END_TEST

START_TEST(a_gauge_without_a_table_is_not_found)
{
	const rig_wire_job job = job_of(RIG_DC, 10, 105);
	rig_wire_rating rating = {.awg = 77};
	ck_assert_int_eq(rig_wire_rate(&job, 7, &rating), RIG_NOT_FOUND);
	ck_assert_int_eq(rating.awg, 77);
}
END_TEST

/* Copper outside engine spaces by insulation class, A. */
static const struct {
	int awg;
	double ampacity_a[5];
} CLASSES[] = {
	{18, {10, 10, 15, 20, 25}},
	{16, {15, 15, 20, 25, 30}},
	{14, {20, 20, 25, 30, 40}},
	{12, {25, 25, 35, 40, 50}},
	{10, {40, 40, 50, 55, 70}},
	{8, {55, 65, 70, 70, 90}},
	{6, {80, 95, 100, 100, 125}},
	{4, {105, 125, 130, 135, 170}},
	{2, {140, 170, 175, 180, 225}},
	{1, {165, 195, 210, 210, 265}},
	{0, {195, 230, 245, 245, 305}},
	{-1, {225, 265, 285, 285, 355}},
	{-2, {260, 310, 330, 330, 410}},
	{-3, {300, 360, 385, 385, 475}},
};

START_TEST(dc_ampacities_are_those_of_the_class_of_the_insulation)
{
	static const outside_series TABLE = {SECTION,
		"ampacity of a single wire by its insulation, 12 V, A",
		"[CFR-183] 183.425 table 5; from memory", "exact"};
	const double class_c[] = {60, 75, 80, 90, 125};
	for (int i = 0; i < COUNT(class_c); i++) {
		const rig_wire_job job = job_of(RIG_DC, 1, class_c[i]);
		OUTSIDE(&TABLE, rating_of(&job, CLASSES[_i].awg).table_a, CLASSES[_i].ampacity_a[i],
			0, "%d AWG, %g C", CLASSES[_i].awg, class_c[i]);
	}
}
END_TEST

/* A step of the code's table holds up to its temperature and not a tenth of a degree beyond: the
 * factor at each warm end, then that of the next row. [NFPA-70] 310.15(B)(1), from memory. */
static const struct {
	double ambient_c, factor[3]; /* of 60, 75 and 90 C insulation */
} WARM[] = {{30, {1, 1, 1}}, {35, {0.91, 0.94, 0.96}}, {40, {0.82, 0.88, 0.91}},
	{45, {0.71, 0.82, 0.87}}, {50, {0.58, 0.75, 0.82}}, {55, {0.41, 0.67, 0.76}},
	{60, {0, 0.58, 0.71}}, {65, {0, 0.47, 0.65}}, {70, {0, 0.33, 0.58}}, {75, {0, 0, 0.5}},
	{80, {0, 0, 0.41}}, {85, {0, 0, 0.29}}, {90, {0, 0, 0}}};

START_TEST(each_ambient_step_of_the_code_ends_at_its_temperature)
{
	const double class_c[] = {60, 75, 90};
	for (int i = 0; i < 3; i++) {
		rig_wire_job job = job_of(RIG_AC, 1, class_c[i]);
		job.ambient_c = WARM[_i].ambient_c;
		ck_assert_double_eq(rating_of(&job, 10).ambient_factor, WARM[_i].factor[i]);
		if (_i + 1 == COUNT(WARM))
			continue;
		job.ambient_c += 0.1;
		ck_assert_double_eq(rating_of(&job, 10).ambient_factor, WARM[_i + 1].factor[i]);
	}
}
END_TEST

/* 240.4(B) on [NFPA-70]: the next standard breaker above what the wire bears; on DC, and for a wire
 * that bears nothing, none is to be had. */
static const struct {
	rig_supply_kind supply;
	double ampacity_a, rounded_a;
} NEXT[] = {
	{RIG_AC, 41, 45}, {RIG_AC, 40, 40}, {RIG_AC, 0, 0}, {RIG_AC, 0.5, 15}, {RIG_DC, 41, 41}};

START_TEST(a_breaker_may_be_the_next_standard_one_above)
{
	ck_assert_double_eq(
		rig_rounded_a(NEXT[_i].supply, NEXT[_i].ampacity_a), NEXT[_i].rounded_a);
}
END_TEST

Suite *wire_rating_suite(void);
Suite *wire_rating_suite(void)
{
	Suite *suite = suite_create("wire_rating");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, ac_ampacities_are_the_code_table, 0, COUNT(CODE));
	tcase_add_loop_test(all, dc_ampacities_at_105_c_are_the_boat_table, 0, COUNT(BOAT));
	tcase_add_loop_test(
		all, the_law_of_heat_gives_the_regulation_s_engine_space_factors, 0, COUNT(ENGINE));
	tcase_add_test(all, the_code_s_ambient_table_follows_the_law_of_heat);
	tcase_add_test(all, insulation_that_is_no_warmer_than_the_air_bears_nothing);
	tcase_add_test(all, cold_air_earns_no_credit);
	tcase_add_loop_test(all, bundles_lower_the_ampacity_by_the_tables, 0, COUNT(BUNDLE));
	tcase_add_loop_test(all,
		a_fuse_is_held_to_the_insulation_the_terminals_and_the_small_conductors, 0,
		COUNT(HAND));
	tcase_add_test(all, a_roof_unit_s_feed_drops_what_its_data_sheet_allows);
	tcase_add_loop_test(all, a_run_drops_by_the_code_s_resistances, 0, COUNT(OHM));
	tcase_add_test(all, copper_warms_from_the_air_to_its_class);
	tcase_add_test(all, vehicle_wire_has_less_copper_than_its_gauge);
	tcase_add_test(all, wire_thinner_than_14_awg_bears_nothing_on_ac);
	tcase_add_test(all, a_gauge_without_a_table_is_not_found);
	tcase_add_loop_test(
		all, dc_ampacities_are_those_of_the_class_of_the_insulation, 0, COUNT(CLASSES));
	tcase_add_loop_test(
		all, each_ambient_step_of_the_code_ends_at_its_temperature, 0, COUNT(WARM));
	tcase_add_loop_test(all, a_breaker_may_be_the_next_standard_one_above, 0, COUNT(NEXT));
	suite_add_tcase(suite, all);
	return suite;
}
