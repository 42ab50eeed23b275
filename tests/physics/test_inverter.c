/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/inverter.h"

#include "outside.h"
#include "physics/close.h"

#define SCHMIDT                                                                                    \
	"[SCHMIDT-1996], coefficients read in a program that cites it; evaluated apart from this " \
	"code"
static const outside_series EFFICIENCY = {
	"inverters", "Efficiency of the usual set", SCHMIDT, "a unit of the last digit"};
static const rig_loss_curve USUAL = {1500, 0.01, 0.025, 0.05};
static const struct {
	double load_ratio, efficiency_frac;
} CURVE[] = {{0.05, 0.8147}, {0.10, 0.8850}, {0.20, 0.9217}, {0.30, 0.9317}, {0.50, 0.9346},
	{0.75, 0.9295}, {1.00, 0.9217}, {0.447, 0.9348}};

START_TEST(efficiency_follows_the_loss_polynomial)
{
	OUTSIDE(&EFFICIENCY, rig_inverter_efficiency_frac(&USUAL, CURVE[_i].load_ratio),
		CURVE[_i].efficiency_frac, 0.0001, "load %g of the rating", CURVE[_i].load_ratio);
}
END_TEST

START_TEST(efficiency_peaks_where_fixed_and_square_losses_are_equal)
{
	const double peak = sqrt(0.01 / 0.05);
	const double best = rig_inverter_efficiency_frac(&USUAL, peak);
	ck_assert_double_gt(best, rig_inverter_efficiency_frac(&USUAL, peak * 1.05));
	ck_assert_double_gt(best, rig_inverter_efficiency_frac(&USUAL, peak / 1.05));
}
END_TEST

START_TEST(weighted_efficiencies_agree)
{
	static const outside_series WEIGHTED = {"inverters", "Weighted efficiency of that set",
		"[EURO-ETA] and [CEC-ETA], weights from memory; evaluated apart from this code",
		"a unit of the last digit"};
	OUTSIDE(&WEIGHTED, rig_inverter_european_frac(&USUAL), 0.9235, 0.0001, "European");
	OUTSIDE(&WEIGHTED, rig_inverter_californian_frac(&USUAL), 0.9283, 0.0001, "Californian");
	/* a heavy idle draw shows each weight: load / (load + 0.2), summed by hand */
	const rig_loss_curve idling = {1000, 0.2, 0, 0};
	ck_assert_double_eq_tol(rig_inverter_european_frac(&idling),
		.03 * 1 / 5 + .06 * 1 / 3 + .13 * 1 / 2 + .10 * 3 / 5 + .48 * 5 / 7 + .20 * 5 / 6,
		1e-12);
	ck_assert_double_eq_tol(rig_inverter_californian_frac(&idling),
		.04 * 1 / 3 + .05 * 1 / 2 + .12 * 3 / 5 + .21 * 5 / 7 + .53 * 15 / 19 + .05 * 5 / 6,
		1e-12);
	const rig_loss_curve lossless = {1000, 0, 0, 0};
	CLOSE(rig_inverter_european_frac(&lossless), 1, 1e-12);
	CLOSE(rig_inverter_californian_frac(&lossless), 1, 1e-12);
}
END_TEST

static const outside_series BACKWARD = {"inverters",
	"AC power from battery power, both over the rating", SCHMIDT, "a unit of the last digit"};
static const struct {
	double dc, ac;
} GIVEN[] = {{0.05, 0.0390}, {0.10, 0.0874}, {0.50, 0.4674}, {1.00, 0.9242}, {0.01, 0}, {0.005, 0},
	{0, 0}};

START_TEST(battery_power_becomes_ac)
{
	OUTSIDE(&BACKWARD, rig_inverter_ac_w(&USUAL, GIVEN[_i].dc * 1500) / 1500, GIVEN[_i].ac,
		0.0001, "%g in", GIVEN[_i].dc);
}
END_TEST

START_TEST(both_directions_undo_each_other)
{
	static const rig_loss_curve CURVES[] = {{1500, 0.01, 0.025, 0.05}, {2000, 0.02, 0.1, 0},
		{300, 0, 0, 0.08}, {1000, 0.01, 0.05, 1e-14}, {1000, 0, 0, 0}};
	for (int i = 0; i < COUNT(CURVES); i++)
		for (int ac_w = 1; ac_w < 2500; ac_w += 1 + ac_w / 2)
			CLOSE(rig_inverter_ac_w(&CURVES[i], rig_inverter_dc_w(&CURVES[i], ac_w)),
				ac_w, 1e-12);
}
END_TEST

START_TEST(an_idle_inverter_draws_its_fixed_loss)
{
	ck_assert_double_eq(rig_inverter_idle_w(&USUAL), 15);
	ck_assert_double_eq(rig_inverter_dc_w(&USUAL, 0), 15);
}
END_TEST

START_TEST(a_day_left_on_costs_more_than_its_loads)
{
	static const outside_series DAY = {"inverters",
		"A day of a 1,500 W set: 60 W for 5 h and 900 W for a quarter of an hour", SCHMIDT,
		"1 Wh; half of the last digit"};
	const double used_wh =
		5 * rig_inverter_dc_w(&USUAL, 60) + 0.25 * rig_inverter_dc_w(&USUAL, 900);
	const double idle_wh = (24 - 5.25) * rig_inverter_idle_w(&USUAL);
	const double given_wh = 60 * 5 + 900 * 0.25;
	OUTSIDE(&DAY, used_wh, 624, 1, "Wh, off outside use");
	OUTSIDE(&DAY, used_wh + idle_wh, 905, 1, "Wh, on all day");
	OUTSIDE(&DAY, given_wh / (used_wh + idle_wh), 0.58, 0.005, "efficiency, on all day");
	OUTSIDE(&DAY, given_wh / used_wh, 0.84, 0.005, "efficiency, off outside use");
}
END_TEST

START_TEST(a_microwave_draws_about_what_an_article_says)
{
	static const outside_series ARTICLE = {"inverters",
		"Watts at the battery for a microwave of 1,200 W, usual set of 2,000 W",
		"a technical article: 800 W of cooking, 1,200 W in, 1,350 W at the battery; read",
		"5 %: its efficiency of 0.889 is a round figure, ours is 0.933 there"};
	const rig_loss_curve curve = {2000, 0.01, 0.025, 0.05};
	OUTSIDE_CLOSE(&ARTICLE, rig_inverter_dc_w(&curve, 1200), 1350, 0.05, "W");
}
END_TEST

START_TEST(more_load_takes_more)
{
	double last_w = 0;
	for (int ac_w = 0; ac_w <= 3000; ac_w += 50) {
		const double dc_w = rig_inverter_dc_w(&USUAL, ac_w);
		ck_assert_double_gt(dc_w, last_w);
		ck_assert_double_gt(dc_w, ac_w);
		last_w = dc_w;
	}
}
END_TEST

Suite *inverter_suite(void);
Suite *inverter_suite(void)
{
	Suite *suite = suite_create("inverter");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, efficiency_follows_the_loss_polynomial, 0, COUNT(CURVE));
	tcase_add_test(all, efficiency_peaks_where_fixed_and_square_losses_are_equal);
	tcase_add_test(all, weighted_efficiencies_agree);
	tcase_add_loop_test(all, battery_power_becomes_ac, 0, COUNT(GIVEN));
	tcase_add_test(all, both_directions_undo_each_other);
	tcase_add_test(all, an_idle_inverter_draws_its_fixed_loss);
	tcase_add_test(all, a_day_left_on_costs_more_than_its_loads);
	tcase_add_test(all, a_microwave_draws_about_what_an_article_says);
	tcase_add_test(all, more_load_takes_more);
	suite_add_tcase(suite, all);
	return suite;
}
