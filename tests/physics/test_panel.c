/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/panel.h"

#include "physics/close.h"

/* Air, light, NOCT, roof rise, cell. */
static const struct {
	double air_c, light_wm2, noct_c, roof_rise_k, cell_c, tol;
} CELL[] = {
	{20, 800, 45, 0, 45, 1e-12},    /* what NOCT means, [IEC-61215] */
	{30, 1000, 50, 0, 67.5, 0.05},  /* [PVLIB] test of the Ross model */
	{30, 1000, 47, 0, 63.75, 0.01}, /* [MASTERS-2004] ex. 8.5, from memory: 64 C */
	{-10, 0, 47, 12, -10, 1e-12},   /* night */
	{25, 500, 45, 12, 25 + 15.625 + 6, 1e-12},
};

START_TEST(cells_are_as_warm_as_published)
{
	ck_assert_double_eq_tol(rig_cell_c(CELL[_i].air_c, CELL[_i].light_wm2, CELL[_i].noct_c,
					CELL[_i].roof_rise_k),
		CELL[_i].cell_c, CELL[_i].tol);
}
END_TEST

START_TEST(warm_panels_give_less)
{
	/* [MASTERS-2004] ex. 8.5, from memory: 150 W, -0.5 % a kelvin, 63.75 C: 121 W; the open
	 * voltage at -0.37 % a kelvin goes from 42.8 to 36.7 V */
	ck_assert_double_eq_tol(rig_panel_w(150, 1000, 63.75, -0.005), 121, 0.5);
	ck_assert_double_eq_tol(42.8 * (1 - 0.0037 * (63.75 - 25)), 36.7, 0.05);
	ck_assert_double_eq_tol(rig_panel_w(150, 1000, 25, -0.005), 150, 1e-12);
	ck_assert_double_eq(rig_panel_w(150, 0, 25, -0.005), 0);
	ck_assert_double_lt(rig_panel_w(150, 700, 60, -0.004), rig_panel_w(150, 700, 59, -0.004));
	CLOSE(rig_panel_w(150, 700, 60, -0.004), 2 * rig_panel_w(75, 700, 60, -0.004), 1e-15);
}
END_TEST

/* Single diodes with their published points. */
static const struct {
	rig_diode diode;
	double shorted_a, open_v, best_a, best_v, best_w, share;
} DIODE[] = {
	/* [PVLIB] tests: relative 1e-5, the digits given there */
	{{7, 6e-7, 0.1, 20, 0.5}, 6.96517, 8.10630, 6.13627, 6.22434, 38.19421, 1e-5},
	{{10, 1e-10, 0.2, 3000, 1.7}, 9.999333, 43.05590, 9.513255, 35.97259, 342.21646, 1e-5},
	/* [VILLALVA-2009] tables I and II: 200.143 W; 54 cells, ideality 1.3, 25 C. Voltages to
	 * 0.05 V */
	{{8.214, 9.825e-8, 0.221, 415.405, 1.3 * 54 * 8.617333262e-5 * 298.15}, 8.210, 32.883,
		7.595, 26.35, 200.143, 1e-3},
};

START_TEST(single_diodes_have_their_published_points)
{
	const rig_diode *diode = &DIODE[_i].diode;
	const double share = DIODE[_i].share;
	const rig_working_point best = rig_diode_best(diode);
	CLOSE(rig_diode_current_a(diode, 0), DIODE[_i].shorted_a, share);
	CLOSE(rig_diode_open_v(diode), DIODE[_i].open_v, share);
	CLOSE(best.voltage_v, DIODE[_i].best_v, share);
	CLOSE(best.current_a, DIODE[_i].best_a, share);
	CLOSE(best.voltage_v * best.current_a, DIODE[_i].best_w, share / 10 + 1e-6);
	/* and the curve itself passes through them */
	ck_assert_double_eq_tol(rig_diode_current_a(diode, rig_diode_open_v(diode)), 0, 1e-9);
	CLOSE(rig_diode_current_a(diode, best.voltage_v), best.current_a, 1e-9);
}
END_TEST

/* [MASTERS-2004] ex. 8.4 and its table, from memory: 36 cells, 3.4 A, 6e-10 A, 25 C (38.9 per
 * volt), 6.6 and 0.005 ohm a cell. Junction voltage of a cell, watts; 0.02 W. */
static const double CELLS = 36;
static rig_diode masters(void)
{
	return (rig_diode){3.4, 6e-10, CELLS * 0.005, CELLS * 6.6, CELLS / 38.9};
}

static const struct {
	double junction_v, watts_w;
} MASTERS[] = {{.49, 54.80}, {.50, 55.02}, {.51, 54.75}, {.52, 53.76}, {.53, 51.65}, {.54, 47.89},
	{.55, 41.59}};

START_TEST(a_36_cell_module_gives_the_textbooks_watts)
{
	/* by hand, the source's own steps */
	const double u = MASTERS[_i].junction_v;
	const double current_a = 3.4 - 6e-10 * (exp(38.9 * u) - 1) - u / 6.6;
	const double module_v = CELLS * (u - current_a * 0.005);
	const rig_diode diode = masters();
	CLOSE(rig_diode_current_a(&diode, module_v), current_a, 1e-9);
	ck_assert_double_eq_tol(
		module_v * rig_diode_current_a(&diode, module_v), MASTERS[_i].watts_w, 0.02);
}
END_TEST

START_TEST(that_modules_best_point_is_the_textbooks)
{
	const rig_diode diode = masters();
	const rig_working_point best = rig_diode_best(&diode);
	ck_assert_double_eq_tol(best.voltage_v * best.current_a, 55.02, 0.03);
	/* tied to a battery: 41.8 W at 12.5 V and 48.0 at 14.4, arithmetic on the same curve */
	ck_assert_double_eq_tol(rig_diode_current_a(&diode, 12.5), 3.344, 0.002);
	ck_assert_double_eq_tol(12.5 * rig_diode_current_a(&diode, 12.5), 41.8, 0.1);
	ck_assert_double_eq_tol(14.4 * rig_diode_current_a(&diode, 14.4), 48.0, 0.1);
	ck_assert_double_eq_tol(
		rig_mppt_w(best.voltage_v * best.current_a, 0.95, 12.5, INFINITY), 52.3, 0.1);
}
END_TEST

/* A 60-cell module fitted by [PVLIB], test of its De Soto fit, and runs of its single diode with
 * the fitted figures: light, cell, watts; 0.1 %. */
static const rig_panel_label SIXTY_CELLS = {31.0, 8.71, 38.3, 9.43, -0.13788, 0.005658};
static const struct {
	double light_wm2, cell_c, best_w;
} DESOTO[] = {{1000, 25, 270.01}, {800, 45, 198.41}, {500, 50, 121.00}, {200, 25, 53.28},
	{1000, 65, 222.86}};

START_TEST(a_label_becomes_the_published_diode)
{
	rig_diode diode;
	ck_assert_int_eq(rig_diode_of_label(&SIXTY_CELLS, &diode), RIG_OK);
	CLOSE(diode.light_a, 9.45232, 1e-3);
	CLOSE(diode.saturation_a, 3.22460e-10, 1e-3);
	CLOSE(diode.series_ohm, 0.297814, 1e-3);
	CLOSE(diode.shunt_ohm, 125.798, 1e-3);
	CLOSE(diode.thermal_v, 1.59128, 1e-3);
	for (int i = 0; i < COUNT(DESOTO); i++) {
		const rig_diode there = rig_diode_at(
			&diode, SIXTY_CELLS.isc_per_k_a, DESOTO[i].light_wm2, DESOTO[i].cell_c);
		const rig_working_point best = rig_diode_best(&there);
		CLOSE(best.voltage_v * best.current_a, DESOTO[i].best_w, 1e-3);
	}
}
END_TEST

static void check_label_met(const rig_panel_label *label, const rig_diode *diode)
{
	const rig_working_point best = rig_diode_best(diode);
	CLOSE(rig_diode_current_a(diode, 0), label->isc_a, 1e-8);
	CLOSE(rig_diode_open_v(diode), label->voc_v, 1e-8);
	CLOSE(best.voltage_v, label->vmp_v, 1e-4);
	CLOSE(best.current_a, label->imp_a, 1e-4);
	/* 2 K warmer, where the fit takes the slope */
	const rig_diode warm = rig_diode_at(diode, label->isc_per_k_a, 1000, 27);
	ck_assert_double_eq_tol(
		rig_diode_open_v(&warm), label->voc_v + 2 * label->voc_per_k_v, 1e-6);
}

START_TEST(a_fitted_diode_meets_its_label)
{
	rig_diode diode;
	check_label_met(&SIXTY_CELLS, (rig_diode_of_label(&SIXTY_CELLS, &diode), &diode));
	for (int watts_w = 10; watts_w <= 400; watts_w += 30)
		for (int cells = 32; cells <= 72; cells += 4) {
			const rig_panel_label label = rig_panel_label_of_watts(watts_w, cells);
			ck_assert_int_eq(rig_diode_of_label(&label, &diode), RIG_OK);
			check_label_met(&label, &diode);
			CLOSE(label.vmp_v * label.imp_a, watts_w, 1e-12);
		}
}
END_TEST

START_TEST(a_best_point_brings_the_usual_rest)
{
	/* 100 W of 36 cells: 18 V, 22 V, isc 7 % above imp, -0.33 % and +0.05 % a kelvin (common
	 * practice, no source) */
	const rig_panel_label label = rig_panel_label_of_watts(100, 36);
	ck_assert_double_eq_tol(label.vmp_v, 18, 1e-12);
	ck_assert_double_eq_tol(label.imp_a, 100 / 18.0, 1e-12);
	ck_assert_double_eq_tol(label.voc_v, 22, 0.05);
	ck_assert_double_eq_tol(label.isc_a, 5.94, 0.005);
	ck_assert_double_eq_tol(label.voc_per_k_v, -0.0725, 0.0005);
	ck_assert_double_eq_tol(label.isc_per_k_a, 0.00297, 0.00001);
}
END_TEST

START_TEST(impossible_labels_are_refused)
{
	static const rig_panel_label WRONG[] = {
		{38.3, 8.71, 31.0, 9.43, -0.13, 0.005}, /* best above open */
		{31.0, 9.43, 38.3, 8.71, -0.13, 0.005}, /* best above shorted */
		{31.0, 8.71, 31.5, 8.75, -0.13, 0.005}, /* too square for a cell */
		{0, 8.71, 38.3, 9.43, -0.13, 0.005},
		{15.0, 8.71, 38.3, 9.43, -0.13, 0.005},
		{31.0, -8.71, 38.3, 9.43, -0.13, 0.005},
		{31.0, 8.71, NAN, 9.43, -0.13, 0.005},
		{31.0, 8.71, 38.3, INFINITY, -0.13, 0.005},
	};
	rig_diode diode = {.light_a = 99};
	for (int i = 0; i < COUNT(WRONG); i++)
		ck_assert_int_eq(rig_diode_of_label(&WRONG[i], &diode), RIG_BAD_INPUT);
	rig_panel_label label = SIXTY_CELLS;
	label.voc_per_k_v = 0.1;
	ck_assert_int_eq(rig_diode_of_label(&label, &diode), RIG_BAD_INPUT);
	/* a flat curve whose voltage hardly falls with warmth: no such silicon */
	label = (rig_panel_label){20.0, 5.0, 38.3, 9.43, -0.001, 0.005};
	ck_assert_int_eq(rig_diode_of_label(&label, &diode), RIG_NO_SOLUTION);
	ck_assert_double_eq(diode.light_a, 99);
}
END_TEST

START_TEST(diode_currents_solve_their_equation)
{
	enum { SEED = 411 };
	uint64_t state = SEED;
	for (int i = 0; i < 2000; i++) {
		const rig_diode diode = {random_between(&state, 0, 12),
			exp(random_between(&state, -27, -10)), random_between(&state, 0, 1),
			random_between(&state, 10, 2000), random_between(&state, 0.5, 3)};
		const double v = random_between(&state, 0, 60);
		const double current_a = rig_diode_current_a(&diode, v);
		const double u = v + current_a * diode.series_ohm;
		const double miss = diode.light_a -
				    diode.saturation_a * expm1(u / diode.thermal_v) -
				    u / diode.shunt_ohm - current_a;
		const double slope =
			1 + diode.series_ohm * (diode.saturation_a / diode.thermal_v *
							       exp(u / diode.thermal_v) +
						       1 / diode.shunt_ohm);
		ck_assert_msg(fabs(miss / slope) <= 1e-9 * (1 + fabs(current_a)),
			"seed %d, case %d: %g A misses by %g", SEED, i, current_a, miss / slope);
	}
}
END_TEST

START_TEST(the_dark_gives_nothing)
{
	rig_diode diode = masters();
	const rig_diode dark = rig_diode_at(&diode, 0.002, 0, 10);
	ck_assert_double_eq(rig_diode_open_v(&dark), 0);
	ck_assert_double_eq(rig_diode_best(&dark).current_a, 0);
	ck_assert_double_le(rig_diode_current_a(&dark, 12), 0);
	diode.series_ohm = 1;
	const double current_a = rig_diode_current_a(&diode, 15);
	CLOSE(current_a,
		3.4 - 6e-10 * expm1((15 + current_a) * 38.9 / 36) - (15 + current_a) / (36 * 6.6),
		1e-9);
	/* without series resistance the equation is explicit */
	diode.series_ohm = 0;
	CLOSE(rig_diode_current_a(&diode, 15),
		3.4 - 6e-10 * expm1(15 * 38.9 / 36) - 15 / (36 * 6.6), 1e-12);
}
END_TEST

static rig_pwm tied(const rig_panel_label *label)
{
	rig_pwm pwm = {.isc_per_k_a = label->isc_per_k_a, .limit_a = INFINITY};
	ck_assert_int_eq(rig_diode_of_label(label, &pwm.panel), RIG_OK);
	return pwm;
}

START_TEST(a_tied_panel_gives_what_the_trade_expects)
{
	/* 36 cells on a series or PWM controller. At 13.2 V against 18 the trade reckons with the
	 * best current: 13.2 / 18, 70 to 75 % (common practice, no source). The curve lies above
	 * the best current there by up to the label's isc / imp. */
	const rig_panel_label label = rig_panel_label_of_watts(100, 36);
	rig_pwm pwm = tied(&label);
	const double watts_w = rig_pwm_w(&pwm, 13.2, 1000, 25);
	ck_assert_double_ge(watts_w, 13.2 / 18 * 100);
	ck_assert_double_le(watts_w, 13.2 / 18 * 100 * 1.07);
	/* [MASTERS-2004] ex. 8.4's module: 76 % at 12.5 V, 87 % at 14.4; its best voltage is lower
	 * than the usual label's, 3 points */
	ck_assert_double_eq_tol(rig_pwm_w(&pwm, 12.5, 1000, 25), 76, 3);
	ck_assert_double_eq_tol(rig_pwm_w(&pwm, 14.4, 1000, 25), 87, 3);
	/* a hot panel has less voltage to spare than a wire loses */
	const double hot_w = rig_pwm_w(&pwm, 14.4, 1000, 60);
	pwm.drop_v = 1.0;
	ck_assert_double_lt(rig_pwm_w(&pwm, 14.4, 1000, 60), hot_w);
	pwm.limit_a = 3.0;
	CLOSE(rig_pwm_w(&pwm, 12.5, 1000, 25), 12.5 * 3, 1e-12);
}
END_TEST

START_TEST(the_textbook_module_gives_its_watts_to_a_battery)
{
	/* 41.8 and 48.0 W, arithmetic on the curve of [MASTERS-2004] ex. 8.4 */
	const rig_pwm pwm = {.panel = masters(), .limit_a = INFINITY};
	ck_assert_double_eq_tol(rig_pwm_w(&pwm, 12.5, 1000, 25), 41.8, 0.1);
	ck_assert_double_eq_tol(rig_pwm_w(&pwm, 14.4, 1000, 25), 48.0, 0.1);
	ck_assert_double_eq(rig_pwm_w(&pwm, 25, 1000, 25), 0); /* past the open voltage */
	ck_assert_double_eq(rig_pwm_w(&pwm, 12.5, 0, 10), 0);
}
END_TEST

START_TEST(a_tied_panel_never_beats_its_best_point)
{
	const rig_panel_label label = rig_panel_label_of_watts(160, 36);
	const rig_pwm pwm = tied(&label);
	for (int light = 50; light <= 1100; light += 150)
		for (int cell_c = -20; cell_c <= 80; cell_c += 20) {
			const rig_diode there =
				rig_diode_at(&pwm.panel, pwm.isc_per_k_a, light, cell_c);
			const rig_working_point best = rig_diode_best(&there);
			for (int v = 11; v < 15; v++)
				ck_assert_double_le(rig_pwm_w(&pwm, v, light, cell_c),
					best.voltage_v * best.current_a * (1 + 1e-12));
		}
}
END_TEST

START_TEST(every_best_point_has_a_diode)
{
	for (int vmp_v = 5; vmp_v < 60; vmp_v += 7)
		for (int deciamp = 1; deciamp < 150; deciamp += 12) {
			const double imp_a = deciamp / 10.0;
			const rig_panel_label label = rig_panel_label_of_best(vmp_v, imp_a);
			tied(&label);
		}
}
END_TEST

START_TEST(a_tracker_is_held_by_its_limit)
{
	CLOSE(rig_mppt_w(200, 0.95, 13, INFINITY), 190, 1e-12);
	CLOSE(rig_mppt_w(400, 0.95, 13, 20), 260, 1e-12);
	ck_assert_double_eq(rig_mppt_w(0, 0.95, 13, 20), 0);
}
END_TEST

Suite *panel_suite(void);
Suite *panel_suite(void)
{
	Suite *suite = suite_create("panel");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, cells_are_as_warm_as_published, 0, COUNT(CELL));
	tcase_add_test(all, warm_panels_give_less);
	tcase_add_loop_test(all, single_diodes_have_their_published_points, 0, COUNT(DIODE));
	tcase_add_loop_test(all, a_36_cell_module_gives_the_textbooks_watts, 0, COUNT(MASTERS));
	tcase_add_test(all, that_modules_best_point_is_the_textbooks);
	tcase_add_test(all, a_label_becomes_the_published_diode);
	tcase_add_test(all, a_fitted_diode_meets_its_label);
	tcase_add_test(all, a_best_point_brings_the_usual_rest);
	tcase_add_test(all, impossible_labels_are_refused);
	tcase_add_test(all, diode_currents_solve_their_equation);
	tcase_add_test(all, the_dark_gives_nothing);
	tcase_add_test(all, a_tied_panel_gives_what_the_trade_expects);
	tcase_add_test(all, the_textbook_module_gives_its_watts_to_a_battery);
	tcase_add_test(all, a_tied_panel_never_beats_its_best_point);
	tcase_add_test(all, every_best_point_has_a_diode);
	tcase_add_test(all, a_tracker_is_held_by_its_limit);
	suite_add_tcase(suite, all);
	return suite;
}
