/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What many days come to, added up here day by day from single runs. */
#include <math.h>
#include <stdlib.h>

#include "shed_scene.h"
#include "suites.h"

enum { N_DAYS = 10, N_SEEDS = 4 };

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

/* Of ten days the fifth and the ninth by size: half, and nine tenths, have no more. */
static void check_spread(const rig_shed_spread *spread, const double by_day[])
{
	double sorted[N_DAYS], sum = 0;
	for (int day = 0; day < N_DAYS; day++) {
		sorted[day] = by_day[day];
		sum += by_day[day];
	}
	qsort(sorted, N_DAYS, sizeof sorted[0], by_size);
	const double tol = 1e-9 * (1 + fabs(sum));
	ck_assert_double_eq_tol(spread->mean, sum / N_DAYS, tol);
	ck_assert_double_eq_tol(spread->p50, sorted[4], tol);
	ck_assert_double_eq_tol(spread->p90, sorted[8], tol);
	ck_assert_double_eq_tol(spread->most, sorted[9], tol);
}

static void close_to(double a, double b)
{
	ck_assert_double_eq_tol(a, b, 1e-9 * (1 + fabs(a) + fabs(b)));
}

/* The same days, one after another. */
typedef struct {
	double drops[SCENE_LOADS][N_DAYS], lost_minutes[SCENE_LOADS][N_DAYS];
	double all_drops[N_DAYS], all_lost_minutes[N_DAYS], points[N_DAYS];
	double served_wh[SCENE_LOADS], held_wh[SCENE_LOADS], points_of[SCENE_LOADS];
	double degree_h[SCENE_LOADS], free_degree_h[SCENE_LOADS], litres[SCENE_LOADS],
		cold_litres[SCENE_LOADS], free_cold_litres[SCENE_LOADS];
	double over_s[2], longest_s[2], peak_a[2], amp_s[2];
	double trips[RIG_N_BREAKERS], trip_days[RIG_N_BREAKERS], soonest_s[RIG_N_BREAKERS];
	double days_with_drops, most_an_hour;
	double live_s, volt_s[2], below_a_s[2], below_b_s[2], lowest_v[2];
	double below_bin_s[2][20000]; /* time by hundredths of a volt */
} sums;

/* Utilization, [ANSI-C841] of 2011: range A from 108 V on, range B from 104. */
static void add_volts(sums *to, const rig_shed_point *point, double seconds)
{
	if (point->volts_v[0] <= 0)
		return;
	to->live_s += seconds;
	for (int h = 0; h < 2; h++) {
		const double volts_v = point->volts_v[h];
		to->volt_s[h] += seconds * volts_v;
		to->below_a_s[h] += volts_v < 108 ? seconds : 0;
		to->below_b_s[h] += volts_v < 104 ? seconds : 0;
		to->below_bin_s[h][(int)(100 * volts_v)] += seconds;
		if (seconds > 0 && (to->lowest_v[h] == 0 || volts_v < to->lowest_v[h]))
			to->lowest_v[h] = volts_v;
	}
}

static void add_load(sums *to, const shed_stand *stand, const shed_state *free, size_t u, int day)
{
	const shed_unit_state *unit = &stand->state->unit[u];
	to->drops[u][day] = unit->n_drops;
	to->lost_minutes[u][day] = unit->held_s / 60;
	to->all_drops[day] += unit->n_drops;
	to->all_lost_minutes[day] += unit->held_s / 60;
	to->served_wh[u] += unit->served_j / 3600;
	to->held_wh[u] += unit->held_j / 3600;
	to->points_of[u] += shed_unit_points(&stand->model, stand->state, u) -
			    shed_unit_points(&stand->model, free, u);
	const int body = stand->model.units[u].body;
	if (body < 0 || stand->model.bodies[body].leader != (int)u)
		return;
	to->degree_h[u] += stand->state->body[body].outside_k_s / 3600;
	to->free_degree_h[u] += free->body[body].outside_k_s / 3600;
	to->litres[u] += stand->state->body[body].litres;
	to->cold_litres[u] += stand->state->body[body].cold_litres;
	to->free_cold_litres[u] += free->body[body].cold_litres;
}

static double end_of(const shed_trace *trace, size_t point)
{
	return point + 1 < trace->n_points ? trace->points[point + 1].at_s : SHED_DAY_S;
}

static void add_supply(sums *to, const shed_stand *stand, const shed_trace *trace)
{
	const shed_state *state = stand->state;
	for (size_t i = 0; stand->model.has_volts && i < trace->n_points; i++)
		add_volts(to, &trace->points[i], end_of(trace, i) - trace->points[i].at_s);
	for (int h = 0; h < stand->model.n_hots; h++) {
		to->over_s[h] += state->hot[h].over_s;
		to->longest_s[h] = fmax(to->longest_s[h], state->hot[h].longest_over_s);
		to->peak_a[h] = fmax(to->peak_a[h], state->hot[h].peak_a);
		for (size_t i = 0; i < trace->n_points; i++)
			to->amp_s[h] += trace->points[i].amps_a[h] *
					(end_of(trace, i) - trace->points[i].at_s);
	}
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		to->trips[k] += state->breaker[k].n_trips;
		to->trip_days[k] += state->breaker[k].n_trips > 0;
		to->soonest_s[k] = fmin(to->soonest_s[k], state->breaker[k].soonest_s);
	}
	for (int hour = 0; hour < 24; hour++)
		to->most_an_hour = fmax(to->most_an_hour, state->hour_drops[hour]);
}

static void run_days(sums *to, shed_stand *stand)
{
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		to->soonest_s[k] = INFINITY;
	shed_trace trace;
	stand_trace(stand, &trace);
	shed_state *free = NULL;
	ck_assert_int_eq(shed_state_new(&stand->model, stand->arena, &free), RIG_OK);
	for (int day = 0; day < N_DAYS; day++) {
		trace.n_points = trace.n_spans = trace.n_trips = 0;
		stand_run(stand, (size_t)day, &trace);
		const shed_run run = {&stand->model, stand->day, &stand->order, true, NULL, NULL};
		shed_begin(&run, free);
		ck_assert_int_eq(shed_advance(&run, free), SHED_DONE);
		for (size_t u = 0; u < stand->findings.n_loads; u++)
			add_load(to, stand, free, u, day);
		add_supply(to, stand, &trace);
		to->points[day] =
			shed_points(&stand->model, stand->state) - shed_points(&stand->model, free);
		to->days_with_drops += to->all_drops[day] > 0;
	}
}

static void check_loads(const rig_shed_findings *findings, const sums *sum)
{
	for (size_t u = 0; u < findings->n_loads; u++) {
		const rig_shed_load *load = &findings->loads[u];
		check_spread(&load->drops, sum->drops[u]);
		check_spread(&load->lost_minutes, sum->lost_minutes[u]);
		close_to(load->served_wh_day, sum->served_wh[u] / N_DAYS);
		close_to(load->withheld_wh_day, sum->held_wh[u] / N_DAYS);
		close_to(load->wanted_wh_day, (sum->served_wh[u] + sum->held_wh[u]) / N_DAYS);
		close_to(load->discomfort_day, sum->points_of[u] / N_DAYS);
		close_to(load->degree_h_day, sum->degree_h[u] / N_DAYS);
		close_to(load->free_degree_h_day, sum->free_degree_h[u] / N_DAYS);
		close_to(load->litres_day, sum->litres[u] / N_DAYS);
		close_to(load->cold_litres_day, sum->cold_litres[u] / N_DAYS);
		close_to(load->free_cold_litres_day, sum->free_cold_litres[u] / N_DAYS);
	}
}

static void check_supply(const rig_shed_findings *findings, const sums *sum)
{
	for (int h = 0; h < findings->n_hots; h++) {
		const rig_shed_hot *hot = &findings->hot[h];
		close_to(hot->over_s_day, sum->over_s[h] / N_DAYS);
		close_to(hot->longest_over_s, sum->longest_s[h]);
		close_to(hot->peak_a, sum->peak_a[h]);
		ck_assert_double_eq_tol(
			hot->mean_a, sum->amp_s[h] / N_DAYS / SHED_DAY_S, 1e-6 * (1 + hot->mean_a));
		ck_assert(hot->p95_a >= 0 && hot->p95_a <= hot->peak_a);
	}
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		close_to(findings->breaker[k].trips_day, sum->trips[k] / N_DAYS);
		close_to(findings->breaker[k].days_frac, sum->trip_days[k] / N_DAYS);
		ck_assert(findings->breaker[k].soonest_trip_s == sum->soonest_s[k]);
	}
	close_to(findings->days_with_drops_frac, sum->days_with_drops / N_DAYS);
	close_to(findings->drops_per_h_most, sum->most_an_hour);
}

/* Quick volts settle to 1e-4 V or so; a twentieth of the time is below p05_v, told to a tenth. */
static void check_volts(const rig_shed_findings *findings, const sums *sum)
{
	for (int h = 0; findings->has_volts && h < findings->n_hots; h++) {
		const rig_shed_volts *volts = &findings->volts[h];
		double below_s = 0;
		for (int i = 0; i < (int)(100 * volts->p05_v + 0.5); i++)
			below_s += sum->below_bin_s[h][i];
		double above_s = below_s;
		for (int i = 0; i < 10; i++)
			above_s += sum->below_bin_s[h][(int)(100 * volts->p05_v + 0.5) + i];
		ck_assert_double_le(below_s, 0.05 * sum->live_s + 1e-6);
		ck_assert_double_ge(above_s, 0.05 * sum->live_s - 1e-6);
		ck_assert_double_eq_tol(volts->mean_v, sum->volt_s[h] / sum->live_s, 1e-6);
		ck_assert_double_eq_tol(volts->below_a_s_day, sum->below_a_s[h] / N_DAYS, 1e-6);
		ck_assert_double_eq_tol(volts->below_b_s_day, sum->below_b_s[h] / N_DAYS, 1e-6);
		ck_assert_double_eq_tol(volts->lowest_v.likely, sum->lowest_v[h], 0.001);
		ck_assert_double_gt(sum->below_a_s[h], 0);
	}
}

/* Two roof units, a water heater and small things on a cord of 30 A, with a manager in two of four
 * and none in the others; a random coach every other time. */
static void make_coach(shed_scene *scene, int seed)
{
	if (seed % 2 == 1) {
		scene_random(scene, (uint64_t)seed + 1);
		return;
	}
	static const char *const LOADS[] = {"roof_ac_15k", "roof_heat_pump_15k",
		"water_heater_element", "microwave_800", "fridge_residential"};
	scene_start(scene, 30);
	for (int i = 0; i < COUNT(LOADS); i++)
		scene_drops(scene, scene_add(scene, LOADS[i], RIG_LEG_1));
	scene_charge(scene);
	scene->coach.energy_management.present = seed < 2;
	scene->coach.pedestal_open_v = rig_figure_of(114, RIG_FROM_STATED);
	scene->coach.source_ohm = rig_figure_of(0.3, RIG_FROM_STATED);
	scene->coach.cord_length_m = rig_figure_of(9, RIG_FROM_STATED);
}

START_TEST(many_days_are_the_sum_of_single_ones)
{
	shed_scene scene;
	make_coach(&scene, _i);
	rig_shed_options options = rig_shed_defaults();
	options.n_days = N_DAYS;
	options.n_order_days = 0;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	static sums sum;
	sum = (sums){.days_with_drops = 0};
	run_days(&sum, &stand);
	check_loads(findings, &sum);
	check_supply(findings, &sum);
	check_volts(findings, &sum);
	ck_assert(_i % 2 == 1 || findings->has_volts);
	check_spread(&findings->drops, sum.all_drops);
	check_spread(&findings->lost_minutes, sum.all_lost_minutes);
	check_spread(&findings->discomfort, sum.points);
	double points = 0;
	for (int day = 0; day < N_DAYS; day++)
		points += sum.points[day];
	close_to(findings->own.discomfort_day,
		findings->manager.present ? points / N_DAYS : findings->own.discomfort_day);
	stand_free(&stand);
	rig_shed_free(findings);
}
END_TEST

/* A heater of 10 A all day and one of 5 A for an hour: for more than 95 % of the time no more than
 * 10 A flow, told to a tenth; two hours are more than the twentieth of a day. */
static const struct {
	double use_h, p95_a;
} SHARE[] = {{1, 10}, {2, 15}};

START_TEST(nineteen_twentieths_of_the_time_have_no_more)
{
	shed_scene scene;
	scene_start(&scene, 30);
	for (int i = 0; i < 2; i++) {
		rig_load *load = &scene.load[scene_add(&scene, "toaster", RIG_LEG_1)];
		load->appliance = NULL;
		load->running_w = rig_figure_of(i == 0 ? 1200 : 600, RIG_FROM_STATED);
		load->power_factor = load->duty_frac = rig_figure_of(1, RIG_FROM_STATED);
		load->daily_use_h = rig_figure_of(i == 0 ? 24 : SHARE[_i].use_h, RIG_FROM_STATED);
		load->always_on = RIG_NO;
	}
	rig_shed_options options = rig_shed_defaults();
	options.weather = RIG_SHED_MILD;
	options.n_days = N_DAYS;
	options.n_order_days = 0;
	rig_shed_findings *findings = NULL;
	ck_assert_int_eq(rig_shed_study(&scene.coach, &options, &findings), RIG_OK);
	ck_assert_double_eq_tol(findings->hot[0].p95_a, SHARE[_i].p95_a, 0.1 + 1e-9);
	ck_assert_double_eq_tol(findings->hot[0].peak_a, 15, 1e-9);
	ck_assert_double_eq_tol(findings->hot[0].mean_a, 10 + 5 * SHARE[_i].use_h / 24, 1e-6);
	rig_shed_free(findings);
}
END_TEST

Suite *shed_sums_suite(void);
Suite *shed_sums_suite(void)
{
	Suite *suite = suite_create("shed_sums");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, many_days_are_the_sum_of_single_ones, 0, N_SEEDS);
	tcase_add_loop_test(all, nineteen_twentieths_of_the_time_have_no_more, 0, COUNT(SHARE));
	suite_add_tcase(suite, all);
	return suite;
}
