/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/estimate.h"

#include <math.h>
#include <string.h>

#include "outside.h"
#include "rigbudget/conductor.h"
#include "suites.h"

/* The known figure lies in the estimate's range: found is the known one. */
#define CONTAINS(series, figure, known, ...)                                                       \
	OUTSIDE_WITHIN(series, known, (figure).low, (figure).high, __VA_ARGS__)

static const struct {
	const char *kind, *source;
	double length_m, width_m, watts_w;
} PANEL[] = {
	{"polycrystalline", "[VILLALVA-2009] the panel of its tables; size from memory", 1.425,
		0.990, 200},
	{NULL, "[VILLALVA-2009] the same, kind unknown", 1.425, 0.990, 200},
	{"crystalline_new", "common practice: 100 W panels of 42.2 by 19.6 in", 1.073, 0.499, 100},
	{NULL, "common practice: the same, kind unknown", 1.073, 0.499, 100},
};

START_TEST(a_panel_s_glass_tells_its_watts)
{
	const outside_series series = {"readings", "nameplate watts from the frame's size, W",
		PANEL[_i].source, "the estimate's own range"};
	const rig_panel_kind *kind =
		PANEL[_i].kind == NULL ? NULL : rig_panel_kind_find(PANEL[_i].kind);
	const rig_figure watts = rig_estimate_panel_w(PANEL[_i].length_m, PANEL[_i].width_m, kind);
	CONTAINS(&series, watts, PANEL[_i].watts_w, "%g by %g m", PANEL[_i].length_m,
		PANEL[_i].width_m);
	ck_assert_int_eq(watts.from, RIG_FROM_ESTIMATED);
	ck_assert_ptr_nonnull(watts.source);
}
END_TEST

static const struct {
	int cells;
	double battery_v, vmp_v, voc_v;
	const char *source;
} CELLS[] = {
	{54, 0, 26.3, 32.9, "[VILLALVA-2009] table I"},
	{36, 12, 17.9, 22.4, "common practice: a 100 W panel's label"},
	{72, 24, 37.0, 45.5, "common practice: a 300 W panel's label"},
	{60, 0, 31.0, 38.5, "common practice: a 250 W panel's label"},
};

START_TEST(cells_counted_tell_a_panel_s_volts)
{
	const rig_panel_volts volts = rig_estimate_panel_volts(CELLS[_i].cells);
	const outside_series series = {"readings", "volts of a panel from its cells, V",
		CELLS[_i].source, "the estimate's own range"};
	CONTAINS(&series, volts.vmp_v, CELLS[_i].vmp_v, "%d cells, best point", CELLS[_i].cells);
	CONTAINS(&series, volts.voc_v, CELLS[_i].voc_v, "%d cells, open", CELLS[_i].cells);
	ck_assert_double_eq(volts.battery_v, CELLS[_i].battery_v);
}
END_TEST

/* Panels for 12 V have 33 to 44 cells, for 24 V 66 to 88; a cell 0.46 to 0.58 V at its best and
 * 0.57 to 0.70 V open: common practice, no source. */
static const struct {
	int cells;
	double battery_v;
} FOR_BATTERY[] = {{1, 0}, {32, 0}, {33, 12}, {44, 12}, {45, 0}, {65, 0}, {66, 24}, {88, 24},
	{89, 0}, {200, 0}};

START_TEST(a_panel_is_for_a_battery_by_its_cells)
{
	const double n = FOR_BATTERY[_i].cells;
	const rig_panel_volts volts = rig_estimate_panel_volts(FOR_BATTERY[_i].cells);
	ck_assert_double_eq(volts.battery_v, FOR_BATTERY[_i].battery_v);
	ck_assert_double_eq_tol(volts.vmp_v.low, 0.46 * n, 1e-9);
	ck_assert_double_eq_tol(volts.vmp_v.likely, 0.50 * n, 1e-9);
	ck_assert_double_eq_tol(volts.vmp_v.high, 0.58 * n, 1e-9);
	ck_assert_double_eq_tol(volts.voc_v.low, 0.57 * n, 1e-9);
	ck_assert_double_eq_tol(volts.voc_v.likely, 0.61 * n, 1e-9);
	ck_assert_double_eq_tol(volts.voc_v.high, 0.70 * n, 1e-9);
}
END_TEST

START_TEST(caps_and_cells_tell_a_battery_s_volts)
{
	ck_assert_double_eq(rig_estimate_battery_v(3, rig_chemistry_find("flooded")), 6.0);
	ck_assert_double_eq(rig_estimate_battery_v(6, NULL), 12.0);
	ck_assert_double_eq_tol(
		rig_estimate_battery_v(4, rig_chemistry_find("lithium_iron_phosphate")), 12.8,
		1e-12);
}
END_TEST

/* Labels that carry both figures, as sold: common practice, from memory. The last two rows are the
 * standard's own curve, minutes = 0.7732 Ah^1.1828. */
static const struct {
	const char *group;
	double ah, reserve_minutes;
	const char *source;
} LABEL[] = {
	{"24", 80, 140, "common practice, from memory"},
	{"24M", 75, 120, "common practice, from memory"},
	{"27", 105, 175, "common practice, from memory"},
	{"31", 105, 190, "common practice, from memory"},
	{"31T", 130, 255, "common practice, from memory"},
	{"GC2", 225, 447, "common practice, from memory"},
	{"8D", 245, 480, "common practice, from memory"},
	{NULL, 60, 98.1, "[EN-50342]; from memory"},
	{NULL, 100, 179.4, "[EN-50342]; from memory"},
};

START_TEST(group_and_reserve_tell_amp_hours)
{
	const outside_series series = {"estimates",
		"amp-hours from group size or reserve minutes, Ah", LABEL[_i].source,
		"the estimate's own range"};
	if (LABEL[_i].group != NULL) {
		const rig_battery_group *group = rig_battery_group_find(LABEL[_i].group);
		ck_assert_ptr_nonnull(group);
		CONTAINS(&series, rig_estimate_ah_of_group(group), LABEL[_i].ah, "group %s",
			LABEL[_i].group);
	}
	CONTAINS(&series, rig_estimate_ah_of_reserve(LABEL[_i].reserve_minutes), LABEL[_i].ah,
		"%g minutes", LABEL[_i].reserve_minutes);
}
END_TEST

/* Deep-cycle batteries on sale by size of case, Ah over 20 h: common practice, no source. */
static const struct {
	const char *group;
	double volts_v, low_ah, likely_ah, high_ah;
} GROUP[] = {
	{"U1", 12, 28, 33, 38},
	{"22NF", 12, 45, 52, 60},
	{"24", 12, 65, 78, 88},
	{"27", 12, 82, 95, 110},
	{"30H", 12, 95, 110, 130},
	{"31", 12, 95, 108, 130},
	{"34", 12, 48, 56, 68},
	{"65", 12, 60, 70, 80},
	{"4D", 12, 150, 180, 210},
	{"6D", 12, 160, 185, 215},
	{"8D", 12, 215, 245, 275},
	{"GC2", 6, 180, 220, 260},
	{"GC8", 8, 145, 165, 190},
	{"GC12", 12, 110, 145, 160},
	{"903", 6, 300, 370, 435},
};

START_TEST(a_group_stands_for_the_batteries_on_sale)
{
	const rig_battery_group *group = rig_battery_group_find(GROUP[_i].group);
	ck_assert_ptr_nonnull(group);
	const rig_figure ah = rig_estimate_ah_of_group(group);
	ck_assert_double_eq(group->volts_v, GROUP[_i].volts_v);
	ck_assert_double_eq(ah.low, GROUP[_i].low_ah);
	ck_assert_double_eq(ah.likely, GROUP[_i].likely_ah);
	ck_assert_double_eq(ah.high, GROUP[_i].high_ah);
}
END_TEST

START_TEST(cranking_amps_tell_amp_hours_widely)
{
	const outside_series series = {"readings", "amp-hours from cranking amps, Ah",
		"common practice, from memory", "the estimate's own range"};
	CONTAINS(&series, rig_estimate_ah_of_cranking(550, true), 80, "deep-cycle, group 24");
	CONTAINS(&series, rig_estimate_ah_of_cranking(800, true), 70, "engine starting, group 34");
	CONTAINS(&series, rig_estimate_ah_of_cranking(1000, false), 100, "marine, group 31");
	const rig_figure cold = rig_estimate_ah_of_cranking(700, true);
	const rig_figure marine = rig_estimate_ah_of_cranking(700, false);
	ck_assert_double_gt(cold.likely, marine.likely);
	/* 0.07, 0.11 and 0.17 Ah per amp; marine amps are 1.2 to 1.3 times the cold ones (common
	 * practice, no source) */
	ck_assert_double_eq_tol(cold.low, 49, 1e-9);
	ck_assert_double_eq_tol(cold.likely, 77, 1e-9);
	ck_assert_double_eq_tol(cold.high, 119, 1e-9);
	ck_assert_double_eq_tol(marine.low, 49 / 1.3, 1e-9);
	ck_assert_double_eq_tol(marine.likely, 77 * (1 / 1.3 + 1 / 1.2) / 2, 1e-9);
	ck_assert_double_eq_tol(marine.high, 119 / 1.2, 1e-9);
}
END_TEST

START_TEST(groups_are_found_as_printed)
{
	ck_assert_str_eq(rig_battery_group_find("gc2")->group, "GC2");
	ck_assert_str_eq(rig_battery_group_find("27M")->group, "27");
	ck_assert_str_eq(rig_battery_group_find("GC12")->group, "GC12");
	ck_assert_ptr_null(rig_battery_group_find("311"));
	ck_assert_ptr_null(rig_battery_group_find("GC22"));
	ck_assert_ptr_null(rig_battery_group_find(""));
	for (size_t i = 0; i < rig_n_battery_groups(); i++) {
		const rig_battery_group *row = rig_battery_group_at(i);
		ck_assert_ptr_eq(rig_battery_group_find(row->group), row);
		ck_assert(row->low_ah < row->likely_ah && row->likely_ah < row->high_ah);
	}
}
END_TEST

/* Nominal diameters, mm [ASTM-B258]. */
static const struct {
	int awg;
	double diameter_mm;
} SOLID[] = {{18, 1.024}, {14, 1.628}, {12, 2.053}, {10, 2.588}, {8, 3.264}, {6, 4.115}};

START_TEST(a_solid_wire_s_diameter_tells_its_gauge)
{
	rig_gauge_guess guess;
	ck_assert_int_eq(rig_estimate_gauge(SOLID[_i].diameter_mm / 1000.0, false, &guess), RIG_OK);
	ck_assert_int_eq(guess.likely_awg, SOLID[_i].awg);
	ck_assert_int_ge(guess.thin_awg, guess.likely_awg);
	ck_assert_int_le(guess.thick_awg, guess.likely_awg);
}
END_TEST

/* Concentric strands, overall diameters in mm: [NFPA-70] chapter 9 table 8, from memory. */
static const struct {
	int awg;
	double diameter_mm;
} STRANDED[] = {{14, 1.85}, {12, 2.32}, {10, 2.95}, {8, 3.71}, {6, 4.67}, {2, 7.42}, {-1, 10.64},
	{-3, 13.41}};

START_TEST(a_stranded_conductor_s_diameter_tells_its_gauge)
{
	const outside_series series = {"readings", "gauge from the diameter over the strands, AWG",
		"[NFPA-70] ch. 9 table 8; from memory", "the estimate's own range"};
	rig_gauge_guess guess;
	ck_assert_int_eq(
		rig_estimate_gauge(STRANDED[_i].diameter_mm / 1000.0, true, &guess), RIG_OK);
	OUTSIDE_WITHIN(&series, STRANDED[_i].awg, guess.thick_awg, guess.thin_awg, "%g mm",
		STRANDED[_i].diameter_mm);
	ck_assert_int_eq(guess.likely_awg, STRANDED[_i].awg);
}
END_TEST

/* By hand, likely 0.76 of the circle over the strands: 2.64 mm have 4.160 mm2, 2.65 mm 4.192, and
 * half way between 12 (3.309) and 10 AWG (5.261), by their logarithms, is 4.172. Least 0.62 of a
 * diameter 3 % less, most 0.79 of one 3 % more. */
static const struct {
	double diameter_mm;
	bool stranded;
	int thin_awg, likely_awg, thick_awg;
} BETWEEN[] = {
	{2.64, true, 12, 12, 10},                           /* 3.193 and 4.588 mm2 */
	{2.65, true, 12, 10, 10}, {2.32, true, 14, 12, 12}, /* 2.466 and 3.543 */
	{2.304, false, 12, 12, 10},                         /* 4.169 mm2; 3.923 and 4.423 */
	{2.306, false, 12, 10, 10},                         /* 4.176 */
};

START_TEST(a_diameter_between_two_gauges_is_the_nearer_one_by_area)
{
	rig_gauge_guess guess;
	ck_assert_int_eq(
		rig_estimate_gauge(BETWEEN[_i].diameter_mm / 1000.0, BETWEEN[_i].stranded, &guess),
		RIG_OK);
	ck_assert_int_eq(guess.thin_awg, BETWEEN[_i].thin_awg);
	ck_assert_int_eq(guess.likely_awg, BETWEEN[_i].likely_awg);
	ck_assert_int_eq(guess.thick_awg, BETWEEN[_i].thick_awg);
}
END_TEST

START_TEST(a_diameter_beyond_all_gauges_is_refused)
{
	rig_gauge_guess guess = {99, 99, 99};
	ck_assert_int_eq(rig_estimate_gauge(0.0006, false, &guess), RIG_NO_SOLUTION);
	ck_assert_int_eq(rig_estimate_gauge(0.025, false, &guess), RIG_NO_SOLUTION);
	ck_assert_int_eq(guess.likely_awg, 99);
}
END_TEST

/* 2.5 mm2 lies between 14 (2.08) and 12 AWG (3.31); 16 mm2 between 6 (13.3) and 4 (21.1). */
static const struct {
	const char *print;
	rig_status status;
	int awg;
} PRINT[] = {
	{"12 AWG", RIG_OK, 12},
	{"TYPE NM-B 14/2 WITH GROUND 600V", RIG_OK, 14},
	{"AWG 10 CU", RIG_OK, 10},
	{"E123456 (UL) AWG12 105C 600V", RIG_OK, 12},
	{"4/0", RIG_OK, -3},
	{"2/0 AWG WELDING CABLE", RIG_OK, -1},
	{"3 x 2.5 mm2", RIG_OK, 14},
	{"16mm\xC2\xB2", RIG_OK, 6},
	{"8ga", RIG_OK, 8},
	/* 4 % under its figure still counts: 14 AWG is 2.08 mm2, 12 AWG 3.31 */
	{"2.01 mm2", RIG_OK, 14},
	{"1.99 mm2", RIG_OK, 16},
	{"3.0 mm2", RIG_OK, 14},
	{"3.19 mm2", RIG_OK, 12},
	{"1/0", RIG_OK, 0},
	{"#6 AWG", RIG_OK, 6},
	{"14/3", RIG_OK, 14},
	{"12.5 AWG", RIG_NOT_FOUND, 99},
	{"25 AWG", RIG_NOT_FOUND, 99},
	{"1234567 AWG", RIG_NOT_FOUND, 99},
	{"14/6", RIG_NOT_FOUND, 99},
	{"10 m", RIG_NOT_FOUND, 99},
	{"10", RIG_OK, 10},
	{"600V 105C", RIG_NOT_FOUND, 99},
	{"", RIG_NOT_FOUND, 99},
	{"13 AWG", RIG_NOT_FOUND, 99},
	{"0.1 mm2", RIG_NOT_FOUND, 99},
};

START_TEST(a_print_on_a_jacket_is_read)
{
	int awg = 99;
	ck_assert_int_eq(rig_estimate_gauge_of_print(PRINT[_i].print, &awg), PRINT[_i].status);
	ck_assert_int_eq(awg, PRINT[_i].awg);
}
END_TEST

START_TEST(a_refrigerator_s_label_tells_its_watts)
{
	const outside_series series = {"readings", "running watts from kilowatt-hours a year, W",
		"[DOE-WATTS] 725 W for a third of the hours: 2,117 kWh",
		"the estimate's own range"};
	/* 876 kWh a year are 100 W in the mean; it runs for a third, half or two thirds of the
	 * hours, and its label errs by a fifth (common practice, no source) */
	const rig_figure of_876 = rig_estimate_refrigerator_w(876);
	ck_assert_double_eq_tol(of_876.low, 80 / 0.65, 1e-9);
	ck_assert_double_eq_tol(of_876.likely, 200, 1e-9);
	ck_assert_double_eq_tol(of_876.high, 120 / 0.33, 1e-9);
	CONTAINS(&series, rig_estimate_refrigerator_w(2117), 725, "frost-free, 16 cu ft");
	const outside_series profile = {"readings", "running watts from kilowatt-hours a year, W",
		"[DOE-WATTS] 657 kWh a year, 75 W in the mean; running watts common practice",
		"the estimate's own range"};
	CONTAINS(&profile, rig_estimate_refrigerator_w(657), 150, "household, 18 to 20 cu ft");
}
END_TEST

START_TEST(a_generator_s_label_tells_its_watts_on_a_hill)
{
	const outside_series series = {"readings", "watts left of a generator's label, W",
		"[GEN-2004] 5,500 W at 5,000 ft = 4,675 W", "the estimate's own range"};
	const rig_figure left = rig_estimate_generator_w(5500, 1524, 25);
	CONTAINS(&series, left, 4675, "at 5,000 ft");
	const rig_figure sea = rig_estimate_generator_w(5500, 0, 25);
	ck_assert_double_eq(sea.low, 5500);
	ck_assert_double_eq(sea.high, 5500);
	/* by hand at 1,524 m and 40 C: the rules leave 0.822, 0.85 and 0.96856 */
	const rig_figure hot = rig_estimate_generator_w(8000, 1524, 40);
	ck_assert_double_eq_tol(hot.low, 8000 * 0.822, 1e-6);
	ck_assert_double_eq_tol(hot.likely, 8000 * (0.822 + 0.96856) / 2, 1e-6);
	ck_assert_double_eq_tol(hot.high, 8000 * 0.96856, 1e-6);
	ck_assert_double_lt(rig_estimate_generator_w(5500, 1524, 45).low, left.low);
}
END_TEST

Suite *estimate_suite(void);
Suite *estimate_suite(void)
{
	Suite *suite = suite_create("estimate");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_panel_s_glass_tells_its_watts, 0, COUNT(PANEL));
	tcase_add_loop_test(all, cells_counted_tell_a_panel_s_volts, 0, COUNT(CELLS));
	tcase_add_loop_test(all, a_panel_is_for_a_battery_by_its_cells, 0, COUNT(FOR_BATTERY));
	tcase_add_test(all, caps_and_cells_tell_a_battery_s_volts);
	tcase_add_loop_test(all, group_and_reserve_tell_amp_hours, 0, COUNT(LABEL));
	tcase_add_loop_test(all, a_group_stands_for_the_batteries_on_sale, 0, COUNT(GROUP));
	tcase_add_test(all, cranking_amps_tell_amp_hours_widely);
	tcase_add_test(all, groups_are_found_as_printed);
	tcase_add_loop_test(all, a_solid_wire_s_diameter_tells_its_gauge, 0, COUNT(SOLID));
	tcase_add_loop_test(
		all, a_stranded_conductor_s_diameter_tells_its_gauge, 0, COUNT(STRANDED));
	tcase_add_loop_test(
		all, a_diameter_between_two_gauges_is_the_nearer_one_by_area, 0, COUNT(BETWEEN));
	tcase_add_test(all, a_diameter_beyond_all_gauges_is_refused);
	tcase_add_loop_test(all, a_print_on_a_jacket_is_read, 0, COUNT(PRINT));
	tcase_add_test(all, a_refrigerator_s_label_tells_its_watts);
	tcase_add_test(all, a_generator_s_label_tells_its_watts_on_a_hill);
	suite_add_tcase(suite, all);
	return suite;
}
