/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/panel.h"

#include "outside.h"
#include "physics/close.h"

#define CELLS_C "Cell temperature, C"
static const outside_series NOCT = {
	"panels", CELLS_C, "[IEC-61215], what the figure means; from memory", "a definition"};
static const outside_series ROSS = {
	"panels", CELLS_C, "[PVLIB], test of [ROSS-1976]", "half of the last digit"};
static const outside_series WARM = {
	"panels", CELLS_C, "[MASTERS-2004] ex. 8.5; from memory", "half of the last digit"};
static const struct {
	const outside_series *series;
	double air_c, light_wm2, noct_c, cell_c, tol;
} CELL[] = {
	{&NOCT, 20, 800, 45, 45, 1e-12},
	{&ROSS, 30, 1000, 50, 67.5, 0.05},
	{&WARM, 30, 1000, 47, 64, 0.5},
};

START_TEST(cells_are_as_warm_as_published)
{
	OUTSIDE(CELL[_i].series, rig_cell_c(CELL[_i].air_c, CELL[_i].light_wm2, CELL[_i].noct_c, 0),
		CELL[_i].cell_c, CELL[_i].tol, "air %g C, %g W/m2, nominal %g C", CELL[_i].air_c,
		CELL[_i].light_wm2, CELL[_i].noct_c);
}
END_TEST

START_TEST(a_roof_warms_cells_by_day_only)
{
	ck_assert_double_eq_tol(rig_cell_c(-10, 0, 47, 12), -10, 1e-12);
	ck_assert_double_eq_tol(rig_cell_c(25, 500, 45, 12), 25 + 15.625 + 6, 1e-12);
}
END_TEST

START_TEST(warm_panels_give_less)
{
	static const outside_series HOT = {"panels", "Power of a hot panel, W",
		"[MASTERS-2004] ex. 8.5; from memory", "half of the last digit"};
	OUTSIDE(&HOT, rig_panel_w(150, 1000, 63.75, -0.005), 121, 0.5,
		"150 W, -0.5 %% a kelvin, 63.75 C");
	ck_assert_double_eq_tol(rig_panel_w(150, 1000, 25, -0.005), 150, 1e-12);
	ck_assert_double_eq(rig_panel_w(150, 0, 25, -0.005), 0);
	ck_assert_double_lt(rig_panel_w(150, 700, 60, -0.004), rig_panel_w(150, 700, 59, -0.004));
	CLOSE(rig_panel_w(150, 700, 60, -0.004), 2 * rig_panel_w(75, 700, 60, -0.004), 1e-15);
}
END_TEST

#define POINTS "Single diode: shorted A, open V, best A, V and W"
static const outside_series RUN = {
	"panels", POINTS, "[PVLIB], tests of its single diode", "1e-5, digits printed there"};
static const outside_series MODULE = {"panels", POINTS,
	"[VILLALVA-2009] tables I and II, 54 cells; read in programs that cite it",
	"0.1 %, rounding of its parameters; 1e-4 of the watts"};
static const struct {
	const outside_series *series;
	rig_diode diode;
	double shorted_a, open_v, best_a, best_v, best_w, share;
} DIODE[] = {
	{&RUN, {7, 6e-7, 0.1, 20, 0.5}, 6.96517, 8.10630, 6.13627, 6.22434, 38.19421, 1e-5},
	{&RUN, {10, 1e-10, 0.2, 3000, 1.7}, 9.999333, 43.05590, 9.513255, 35.97259, 342.21646,
		1e-5},
	/* ideality 1.3, 25 C; current and voltages evaluated from the paper's parameters */
	{&MODULE, {8.214, 9.825e-8, 0.221, 415.405, 1.3 * 54 * 8.617333262e-5 * 298.15}, 8.210,
		32.883, 7.595, 26.35, 200.143, 1e-3},
};

START_TEST(single_diodes_have_their_published_points)
{
	const rig_diode *diode = &DIODE[_i].diode;
	const double share = DIODE[_i].share;
	const rig_working_point best = rig_diode_best(diode);
	const outside_series *series = DIODE[_i].series;
	const double light_a = diode->light_a;
	OUTSIDE_CLOSE(series, rig_diode_current_a(diode, 0), DIODE[_i].shorted_a, share,
		"light current %g A: shorted", light_a);
	OUTSIDE_CLOSE(series, rig_diode_open_v(diode), DIODE[_i].open_v, share, "open");
	OUTSIDE_CLOSE(series, best.current_a, DIODE[_i].best_a, share, "best A");
	OUTSIDE_CLOSE(series, best.voltage_v, DIODE[_i].best_v, share, "best V");
	OUTSIDE_CLOSE(series, best.voltage_v * best.current_a, DIODE[_i].best_w, share / 10 + 1e-6,
		"best W");
	/* and the curve itself passes through them */
	ck_assert_double_eq_tol(rig_diode_current_a(diode, rig_diode_open_v(diode)), 0, 1e-9);
	CLOSE(rig_diode_current_a(diode, best.voltage_v), best.current_a, 1e-9);
}
END_TEST

/* 36 cells, 3.4 A, 6e-10 A, 25 C (38.9 per volt), 6.6 and 0.005 ohm a cell. */
#define TEXTBOOK "[MASTERS-2004] ex. 8.4 and its table; from memory"
static const outside_series CURVE = {"panels",
	"Watts of a 36-cell module by the junction voltage of a cell", TEXTBOOK,
	"0.02 W, rounding of its steps"};
static const outside_series TIED = {"panels", "That module tied to a battery and behind a tracker",
	"arithmetic on the curve of [MASTERS-2004] ex. 8.4, apart from this code",
	"0.1 W; 0.002 A"};
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
	OUTSIDE(&CURVE, module_v * rig_diode_current_a(&diode, module_v), MASTERS[_i].watts_w, 0.02,
		"%.2f V", u);
}
END_TEST

START_TEST(that_modules_best_point_is_the_textbooks)
{
	const rig_diode diode = masters();
	const rig_working_point best = rig_diode_best(&diode);
	OUTSIDE(&CURVE, best.voltage_v * best.current_a, 55.02, 0.03, "best of the whole curve");
	OUTSIDE(&TIED, rig_diode_current_a(&diode, 12.5), 3.344, 0.002, "A at 12.5 V");
	OUTSIDE(&TIED, rig_mppt_w(best.voltage_v * best.current_a, 0.95, 12.5, INFINITY), 52.3, 0.1,
		"W behind a tracker of 95 %%");
}
END_TEST

static const outside_series FIT = {"panels", "Diode of a 60-cell module from its label",
	"[PVLIB], test of its fit by [DESOTO-2006]", "0.1 % of its solver"};
static const outside_series FITTED = {"panels", "Watts of that module",
	"[PVLIB], runs of its single diode by [DESOTO-2006]", "0.1 % of its solver"};
static const rig_panel_label SIXTY_CELLS = {31.0, 8.71, 38.3, 9.43, -0.13788, 0.005658};
static const struct {
	double light_wm2, cell_c, best_w;
} DESOTO[] = {{1000, 25, 270.01}, {800, 45, 198.41}, {500, 50, 121.00}, {200, 25, 53.28},
	{1000, 65, 222.86}};

START_TEST(a_label_becomes_the_published_diode)
{
	rig_diode diode;
	ck_assert_int_eq(rig_diode_of_label(&SIXTY_CELLS, &diode), RIG_OK);
	OUTSIDE_CLOSE(&FIT, diode.light_a, 9.45232, 1e-3, "light current, A");
	OUTSIDE_CLOSE(
		&FIT, diode.saturation_a * 1e10, 3.22460, 1e-3, "saturation current, 1e-10 A");
	OUTSIDE_CLOSE(&FIT, diode.series_ohm, 0.297814, 1e-3, "series, ohm");
	OUTSIDE_CLOSE(&FIT, diode.shunt_ohm, 125.798, 1e-3, "shunt, ohm");
	OUTSIDE_CLOSE(&FIT, diode.thermal_v, 1.59128, 1e-3, "ideality voltage, V");
	for (int i = 0; i < COUNT(DESOTO); i++) {
		const rig_diode there = rig_diode_at(
			&diode, SIXTY_CELLS.isc_per_k_a, DESOTO[i].light_wm2, DESOTO[i].cell_c);
		const rig_working_point best = rig_diode_best(&there);
		OUTSIDE_CLOSE(&FITTED, best.voltage_v * best.current_a, DESOTO[i].best_w, 1e-3,
			"%g W/m2, cell %g C", DESOTO[i].light_wm2, DESOTO[i].cell_c);
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
	static const outside_series TRADE = {"panels",
		"36 cells on a series or PWM controller, percent of the nameplate",
		"common practice, no source: 70 to 75 with the best current at 13.2 V against 18",
		"up to 7 % above, the shorted current over the best"};
	static const outside_series USUAL = {"panels",
		"A usual 36-cell label, percent of the nameplate",
		"arithmetic on [MASTERS-2004] ex. 8.4",
		"3 points: that module's best voltage is lower than the usual label's"};
	OUTSIDE_WITHIN(&TRADE, watts_w, 70, 75 * 1.07, "13.2 V, 25 C");
	ck_assert_double_ge(watts_w, 13.2 / 18 * 100);
	OUTSIDE(&USUAL, rig_pwm_w(&pwm, 12.5, 1000, 25), 76, 3, "12.5 V");
	OUTSIDE(&USUAL, rig_pwm_w(&pwm, 14.4, 1000, 25), 87, 3, "14.4 V");
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
	const rig_pwm pwm = {.panel = masters(), .limit_a = INFINITY};
	OUTSIDE(&TIED, rig_pwm_w(&pwm, 12.5, 1000, 25), 41.8, 0.1, "W at 12.5 V");
	OUTSIDE(&TIED, rig_pwm_w(&pwm, 14.4, 1000, 25), 48.0, 0.1, "W at 14.4 V");
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
	tcase_add_test(all, a_roof_warms_cells_by_day_only);
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
