/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "shed_scene.h"
#include "shed_twin.h"
#include "suites.h"

/* ---- a constructed case ---- */

enum { BASE, ROOF, WASHER, HEATER, N_CASE };

/* Limit 30 A, restore delay 120 s, no margin; 10 A that nobody drops; dropped first the water
 * heater (12 A), then the washer (8 A), then the roof unit (13.5 A, a compressor). All resistive
 * here, so that amps add. */
static void make_case(shed_unit unit[N_CASE], shed_model *model)
{
	static const double AMPS[N_CASE] = {10, 13.5, 8, 12};
	static const int GROUP[N_CASE] = {-1, 2, 1, 0};
	*model = (shed_model){.units = unit,
		.n_units = N_CASE,
		.n_groups = 3,
		.n_hots = 1,
		.manager = {.present = true,
			.limit_a = 30,
			.sensing_delay_s = 0,
			.drop_interval_s = 1,
			.restore_delay_s = 120,
			.restore_interval_s = 10,
			.minimum_off_s = 180,
			.most_drops = 6,
			.reset_s = 3600}};
	for (int u = 0; u < N_CASE; u++) {
		unit[u] = (shed_unit){.load = u,
			.behaviour = u == BASE ? RIG_SHED_STEADY : RIG_SHED_USED,
			.compressor = u == ROOF,
			.group = GROUP[u],
			.hot = {{AMPS[u], 0}},
			.watts_w = 120 * AMPS[u],
			.body = -1,
			.most_switches = 8};
		if (GROUP[u] >= 0)
			model->group_unit[GROUP[u]] = (size_t)u;
	}
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		model->breaker[k] = rig_breaker_of(30, (rig_breaker_kind)k);
}

static void wants(shed_stand *stand, size_t unit, size_t n, const double *switches_s)
{
	for (size_t i = 0; i < n; i++)
		stand->day->unit_s[unit][i] = switches_s[i];
	stand->day->n_unit_s[unit] = n;
}

/* Roof unit 0 to 300 s and from 900 s, water heater from 60 s; worked by hand (common practice, no
 * source). Amps at the same moment follow one another: first what is switched, then what is
 * dropped. Sums of halves are exact. */
START_TEST(the_case_worked_by_hand_comes_out_exactly)
{
	static const rig_shed_point WORKED[] = {
		{0, {23.5}, {0}},   /* roof unit on */
		{60, {35.5}, {0}},  /* water heater on */
		{60, {23.5}, {0}},  /* and dropped */
		{300, {10}, {0}},   /* roof unit off */
		{300, {22}, {0}},   /* the delay is served: back */
		{900, {35.5}, {0}}, /* roof unit on */
		{900, {23.5}, {0}}, /* water heater dropped again */
	};
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	wants(&stand, ROOF, 3, (double[]){0, 300, 900});
	wants(&stand, HEATER, 1, (double[]){60});
	shed_trace trace;
	stand_trace(&stand, &trace);
	stand_go(&stand, &stand.order, &trace);
	ck_assert_uint_ge(trace.n_points, COUNT(WORKED));
	for (int i = 0; i < COUNT(WORKED); i++) {
		ck_assert_double_eq(trace.points[i].at_s, WORKED[i].at_s);
		ck_assert_double_eq(trace.points[i].amps_a[0], WORKED[i].amps_a[0]);
	}
	ck_assert_double_eq(stand.state->unit[HEATER].learned_a[0], 12);
	ck_assert_int_eq(stand.state->unit[HEATER].n_drops, 2);
	ck_assert_int_eq(stand.state->unit[ROOF].n_drops + stand.state->unit[WASHER].n_drops, 0);
	/* to midnight, the water heater held off from 60 to 300 s and from 900 s on */
	ck_assert_double_eq_tol(stand.state->unit[HEATER].held_s, 240 + 85500, 1e-9);
	ck_assert_double_eq_tol(stand.state->unit[HEATER].served_s, 600, 1e-9);
	stand_free(&stand);
}
END_TEST

/* The same with everything on at once: 43.5 A, two drops a second apart after the delay. */
START_TEST(the_next_load_follows_while_it_is_still_too_much)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	model.manager.sensing_delay_s = 3;
	model.manager.limit_a = 25;
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	wants(&stand, ROOF, 1, (double[]){100});
	wants(&stand, HEATER, 1, (double[]){100});
	wants(&stand, WASHER, 1, (double[]){100});
	shed_trace trace;
	stand_trace(&stand, &trace);
	stand_go(&stand, &stand.order, &trace);
	ck_assert_uint_ge(trace.n_points, 4);
	ck_assert_double_eq(trace.points[1].amps_a[0], 43.5);
	ck_assert_double_eq(trace.points[2].at_s, 103);
	ck_assert_double_eq(trace.points[2].amps_a[0], 31.5);
	ck_assert_double_eq(trace.points[3].at_s, 104);
	ck_assert_double_eq(trace.points[3].amps_a[0], 23.5);
	ck_assert_double_eq(stand.state->hot[0].longest_over_s, 4);
	stand_free(&stand);
}
END_TEST

/* An overload shorter than the sensing delay drops nothing. */
START_TEST(a_short_overload_is_let_pass)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	model.manager.sensing_delay_s = 5;
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	wants(&stand, ROOF, 1, (double[]){0});
	wants(&stand, HEATER, 4, (double[]){100, 104.9, 200, 206});
	stand_go(&stand, &stand.order, NULL);
	ck_assert_int_eq(stand.state->unit[HEATER].n_drops, 1);
	ck_assert_double_eq_tol(stand.state->unit[HEATER].held_s, 1, 1e-9);
	ck_assert_double_eq_tol(stand.state->hot[0].over_s, 4.9 + 5, 1e-9);
	stand_free(&stand);
}
END_TEST

/* A load that is dropped six times within an hour stays off until an hour after the first: dropped
 * at 100, 250, ... 850 s, back at 3,700 s. Three times within half an hour: dropped at 100, 250 and
 * 400 s, back when the roof unit is off after 1,900 s, at 2,030 s; again at 2,050, 2,200 and 2,350
 * s, back at 3,850 s. By hand; a short pause is 130 s. */
static const struct {
	int most_drops;
	double reset_s;
	int n_drops;
	double held_s;
} MOST_DROPS[] = {
	{6, 3600, 6, 5 * 130 + (3700 - 850)},
	{3, 1800, 6, 2 * 130 + (2030 - 400) + 2 * 130 + (3850 - 2350)},
};

START_TEST(too_many_drops_keep_a_load_off)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	shed_stand stand;
	unit[ROOF].compressor = false;
	unit[ROOF].most_switches = 40;
	model.manager.most_drops = MOST_DROPS[_i].most_drops;
	model.manager.reset_s = MOST_DROPS[_i].reset_s;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	wants(&stand, HEATER, 1, (double[]){0});
	double switches_s[40];
	for (int i = 0; i < 40; i++) /* on for 130 s, off for 20 s */
		switches_s[i] = i % 2 ? 100 + 75 * (i - 1) + 130 : 100 + 75 * i;
	wants(&stand, ROOF, 40, switches_s);
	shed_trace trace;
	stand_trace(&stand, &trace);
	stand_go(&stand, &stand.order, &trace);
	ck_assert_int_eq(stand.state->unit[HEATER].n_drops, MOST_DROPS[_i].n_drops);
	ck_assert_double_eq_tol(stand.state->unit[HEATER].held_s, MOST_DROPS[_i].held_s, 1e-9);
	stand_free(&stand);
}
END_TEST

/* ---- the generator ---- */

/* 1,500 W for 120 s start it; it runs 3,600 s at least. On the inverter the base (1,200 W) always,
 * the water heater (1,440 W) as the rows have it; the roof unit (1,620 W), which the inverter does
 * not feed, is called for until 9,000 s. By hand: 60 s are too short; from 2,000 s on it starts at
 * 2,120 s, the roof unit keeps it running, and 120 s after that it stops, at 9,120 s. Quiet hours
 * put a start off to their end, or to the next day, and end a run. */
static const struct {
	double heater_s[4], quiet_s[2];
	int n_starts;
	double runs_s, roof_s;
} STARTS[] = {
	{{1000, 1060, 2000, 3000}, {0, 0}, 1, 9120 - 2120, 9000 - 2120},
	{{1000, 1060, 1100, 1200}, {0, 0}, 0, 0, 0},
	{{2000, 3000, 3300, 4000}, {1800, 3600}, 1, 9120 - 3600, 9000 - 3600},
	{{1000, 1060, 2000, 3000}, {5000, 6000}, 1, 5000 - 2120, 5000 - 2120},
	{{2000, 3000, 3300, 4000}, {79200, 25200}, 0, 0, 0},
	{{8000, 8500, 8900, 8950}, {0, 0}, 1, 3600, 9000 - 8120},
};

START_TEST(a_generator_starts_and_stops_by_load)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	unit[ROOF].no_inverter = true;
	model.sources = (shed_sources){.inverter = true,
		.auto_start = true,
		.start_w = 1500,
		.start_s = 120,
		.minimum_run_s = 3600,
		.quiet_s = {STARTS[_i].quiet_s[0], STARTS[_i].quiet_s[1]},
		.generator_limit_a = 50};
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		model.sources.generator_breaker[k] = rig_breaker_of(50, (rig_breaker_kind)k);
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	wants(&stand, HEATER, 4, STARTS[_i].heater_s);
	wants(&stand, ROOF, 2, (double[]){0, 9000});
	shed_trace trace;
	stand_trace(&stand, &trace);
	trace.runs = (rig_shed_generator_run[4]){{0, 0}};
	trace.runs_room = 4;
	stand_go(&stand, &stand.order, &trace);
	ck_assert_int_eq(stand.state->n_starts, STARTS[_i].n_starts);
	ck_assert_double_eq_tol(stand.state->generator_s, STARTS[_i].runs_s, 1e-9);
	ck_assert_double_eq_tol(stand.state->unit[ROOF].served_s, STARTS[_i].roof_s, 1e-9);
	ck_assert_double_eq_tol(stand.state->unit[ROOF].held_s, 9000 - STARTS[_i].roof_s, 1e-9);
	ck_assert_uint_eq(trace.n_runs, (size_t)STARTS[_i].n_starts);
	stand_free(&stand);
}
END_TEST

/* ---- the breaker ---- */

/* Nobody manages: 40 A on 30 A. Worked by hand from the law, likely breaker: 110 s x
 * ln(1.7778 / (1.7778 - 1.44)) = 182.7 s; dark for 15 min; and so on, cold each time. Early:
 * 60 ln(1.7778 / 0.5678) = 68.5 s; late: 200 ln(1.7778 / 0.0878) = 601.6 s,
 * and 600.3 s from what is left of its heat after 15 min: 1.7778 (1 - e^-0.9135) e^-4.5 = 0.0118.
 */
START_TEST(without_a_manager_the_breaker_trips_as_its_law_says)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	unit[BASE].hot[0].active_a = 40;
	model.manager.present = false;
	model.n_groups = 0;
	for (int u = 0; u < N_CASE; u++)
		unit[u].group = -1;
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	shed_trace trace;
	stand_trace(&stand, &trace);
	stand_go(&stand, &stand.order, &trace);
	const double round_s = 182.7 + 900;
	ck_assert_uint_eq(trace.n_trips, (size_t)floor((86400 - 182.7) / round_s) + 1);
	for (size_t i = 0; i < trace.n_trips; i++)
		ck_assert_double_eq_tol(
			trace.trip_s[i], 182.7 + (double)i * round_s, 0.1 * (double)(i + 1));
	ck_assert_double_eq_tol(stand.state->breaker[RIG_BREAKER_EARLY].soonest_s, 68.5, 0.05);
	ck_assert_double_eq_tol(stand.state->breaker[RIG_BREAKER_LATE].soonest_s, 600.3, 0.3);
	ck_assert_int_eq(stand.state->breaker[RIG_BREAKER_LATE].n_trips, 0);
	const shed_unit_state *base = &stand.state->unit[BASE];
	ck_assert_double_eq_tol(base->served_s + base->held_s, 86400, 1e-6);
	ck_assert_double_eq_tol(base->held_s, 900.0 * (double)trace.n_trips,
		trace.trip_s[trace.n_trips - 1] > 85500 ? 900 : 1e-6);
	ck_assert_double_eq_tol(stand.state->hot[0].helpless_s, base->served_s, 1e-6);
	stand_free(&stand);
}
END_TEST

START_TEST(at_its_rating_it_never_trips)
{
	shed_unit unit[N_CASE];
	shed_model model;
	make_case(unit, &model);
	unit[BASE].hot[0].active_a = 30;
	shed_stand stand;
	stand_of_model(&stand, &model);
	stand.day->calls[BASE] = true;
	stand_go(&stand, &stand.order, NULL);
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		ck_assert_int_eq(stand.state->breaker[k].n_trips, 0);
		ck_assert(isinf(stand.state->breaker[k].soonest_s));
	}
	stand_free(&stand);
}
END_TEST

/* ---- what must hold on any day ---- */

enum { N_SCENES = 120 };
/* Two things at one moment may come a rounding apart. */
static const double ROUNDING_S = 1e-6;

static const rig_shed_span *span_at(const shed_trace *trace, size_t unit, double at_s)
{
	for (size_t i = 0; i < trace->n_spans; i++)
		if (trace->spans[i].load == (int)unit && trace->spans[i].from_s <= at_s &&
			trace->spans[i].to_s > at_s)
			return &trace->spans[i];
	return NULL;
}

static bool runs_at(const shed_trace *trace, size_t unit, double at_s)
{
	const rig_shed_span *span = span_at(trace, unit, at_s);
	return span && span->state == RIG_SHED_RUNS;
}

static double end_of_point(const shed_trace *trace, size_t i)
{
	return i + 1 < trace->n_points ? trace->points[i + 1].at_s : SHED_DAY_S;
}

/* Amps are those of what runs and of nothing else: what is dropped draws nothing. */
static void check_amps(const shed_stand *stand, const shed_trace *trace)
{
	for (size_t i = 0; i < trace->n_points; i++) {
		const double middle_s = (trace->points[i].at_s + end_of_point(trace, i)) / 2;
		if (end_of_point(trace, i) - trace->points[i].at_s < ROUNDING_S)
			continue;
		for (int h = 0; h < stand->model.n_hots; h++) {
			double active_a = 0, reactive_a = 0;
			for (size_t u = 0; u < stand->model.n_units; u++)
				if (runs_at(trace, u, middle_s)) {
					active_a += stand->model.units[u].hot[h].active_a;
					reactive_a += stand->model.units[u].hot[h].reactive_a;
				}
			ck_assert_double_eq_tol(
				trace->points[i].amps_a[h], hypot(active_a, reactive_a), 1e-9);
		}
	}
}

/* Time that a unit runs. A compressor that stops stays off for its least time. */
static double check_runs(const shed_stand *stand, const shed_trace *trace, size_t u)
{
	double stopped_s = -INFINITY, run_s = 0;
	for (size_t i = 0; i < trace->n_spans; i++) {
		const rig_shed_span *span = &trace->spans[i];
		if (span->load != (int)u || span->state != RIG_SHED_RUNS)
			continue;
		if (stand->model.units[u].compressor && span->from_s > stopped_s)
			ck_assert_double_ge(span->from_s - stopped_s,
				stand->model.manager.minimum_off_s - 1e-9);
		stopped_s = span->to_s;
		run_s += span->to_s - span->from_s;
	}
	return run_s;
}

/* Time is served or withheld, no more and no less than somebody wanted. */
static void check_units(const shed_stand *stand, const shed_trace *trace)
{
	for (size_t u = 0; u < stand->model.n_units; u++) {
		const shed_unit *unit = &stand->model.units[u];
		const shed_unit_state *now = &stand->state->unit[u];
		const double run_s = check_runs(stand, trace, u);
		double wanted_s = 0;
		ck_assert_double_eq_tol(now->served_s, run_s, 1e-6);
		ck_assert_double_eq_tol(now->served_j, run_s * unit->watts_w, 1e-3);
		for (size_t i = 0; i < stand->day->n_unit_s[u]; i += 2)
			wanted_s += stand->day->unit_s[u][i + 1] - stand->day->unit_s[u][i];
		if (unit->behaviour == RIG_SHED_STEADY)
			wanted_s = SHED_DAY_S;
		if ((unit->behaviour == RIG_SHED_USED && !unit->compressor) ||
			unit->behaviour == RIG_SHED_STEADY)
			ck_assert_double_eq_tol(now->served_s + now->held_s, wanted_s, 1e-6);
	}
}

static bool something_to_drop(
	const shed_stand *stand, const shed_trace *trace, int hot, double at_s)
{
	for (size_t u = 0; u < stand->model.n_units; u++) {
		const shed_amps amps = stand->model.units[u].hot[hot];
		if (stand->model.units[u].group >= 0 && hypot(amps.active_a, amps.reactive_a) > 0 &&
			runs_at(trace, u, at_s))
			return true;
	}
	return false;
}

static int drops_within(
	const shed_stand *stand, const shed_trace *trace, double from_s, double to_s)
{
	int n = 0;
	for (size_t i = 0; i < trace->n_spans; i++) {
		const rig_shed_span *span = &trace->spans[i];
		if (stand->model.units[span->load].group < 0 || span->state == RIG_SHED_RUNS ||
			span->from_s < from_s || span->from_s > to_s)
			continue;
		n += span->from_s > 0 && runs_at(trace, (size_t)span->load, span->from_s - 1e-6);
	}
	return n;
}

/* Above the limit no longer than the sensing delay and one drop each. */
static int check_overloads(const shed_stand *stand, const shed_trace *trace, int hot)
{
	const rig_shed_manager *manager = &stand->model.manager;
	double from_s = -1;
	int n_stretches = 0;
	for (size_t i = 0; i < trace->n_points; i++) {
		const double at_s = trace->points[i].at_s, to_s = end_of_point(trace, i);
		if (to_s - at_s < ROUNDING_S)
			continue;
		const bool over = trace->points[i].amps_a[hot] > manager->limit_a + 1e-9 &&
				  something_to_drop(stand, trace, hot, (at_s + to_s) / 2);
		if (!over) {
			from_s = -1;
			continue;
		}
		if (from_s < 0) {
			from_s = at_s;
			n_stretches++;
		}
		const int drops = drops_within(stand, trace, from_s, to_s);
		ck_assert_double_le(to_s - from_s,
			manager->sensing_delay_s + drops * manager->drop_interval_s + 1e-6);
	}
	return n_stretches;
}

START_TEST(on_random_coaches_nothing_runs_that_is_dropped_and_no_overload_lasts)
{
	static const rig_shed_weather WEATHER[] = {RIG_SHED_HOT, RIG_SHED_MILD, RIG_SHED_COLD};
	int n_stretches = 0, n_drops = 0;
	for (uint64_t seed = 1; seed <= N_SCENES; seed++) {
		shed_scene scene;
		scene_random(&scene, seed);
		rig_shed_options options = rig_shed_defaults();
		options.weather = WEATHER[seed % 3];
		options.seed = seed;
		shed_stand stand;
		stand_make(&stand, &scene.coach, &options);
		shed_trace trace;
		stand_trace(&stand, &trace);
		stand_run(&stand, seed, &trace);
		ck_assert_msg(
			trace.n_spans <= trace.spans_room && trace.n_points <= trace.points_room,
			"seed %d", (int)seed);
		check_amps(&stand, &trace);
		check_units(&stand, &trace);
		for (int h = 0; h < stand.model.n_hots; h++)
			n_stretches += check_overloads(&stand, &trace, h);
		for (size_t u = 0; u < stand.model.n_units; u++)
			n_drops += stand.state->unit[u].n_drops;
		stand_free(&stand);
	}
	/* the scenes are worth something */
	ck_assert_int_gt(n_stretches, 200);
	ck_assert_int_gt(n_drops, 200);
}
END_TEST

START_TEST(a_free_day_drops_and_trips_nothing)
{
	for (uint64_t seed = 1; seed <= 20; seed++) {
		shed_scene scene;
		scene_random(&scene, seed);
		scene_charge(&scene);
		rig_shed_options options = rig_shed_defaults();
		shed_stand stand;
		stand_make(&stand, &scene.coach, &options);
		shed_day_draw(&stand.model, seed, 3, stand.day);
		const shed_run run = {&stand.model, stand.day, &stand.order, true, NULL, NULL};
		shed_begin(&run, stand.state);
		ck_assert_int_eq(shed_advance(&run, stand.state), SHED_DONE);
		for (size_t u = 0; u < stand.model.n_units; u++) {
			ck_assert_double_eq(stand.state->unit[u].held_s, 0);
			ck_assert_int_eq(stand.state->unit[u].n_drops, 0);
		}
		ck_assert_int_eq(stand.state->breaker[RIG_BREAKER_EARLY].n_trips, 0);
		stand_free(&stand);
	}
}
END_TEST

/* ---- the charger ---- */

/* What is put back is what was missing: the watts of the stages, less the last one's, over their
 * times. */
START_TEST(the_charger_puts_back_what_is_missing)
{
	shed_scene scene;
	scene_start(&scene, 50);
	scene_charge(&scene);
	rig_shed_options options = rig_shed_defaults();
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	double sum_wh = 0;
	enum { N_DAYS = 2000 };
	for (size_t day = 0; day < N_DAYS; day++) {
		shed_day_draw(&stand.model, 7, day, stand.day);
		double wh = 0;
		for (size_t k = 0; k + 1 < stand.model.stages.n; k++)
			wh += stand.model.stages.level[k] * stand.model.bank_w *
			      stand.day->stage_s[k] / 3600;
		ck_assert_double_le(wh, 2 * stand.model.deficit_wh * (1 + 1e-12));
		sum_wh += wh;
		stand_go(&stand, &stand.order, NULL);
		const size_t charger = stand.model.n_units - 1;
		ck_assert_double_eq_tol(
			stand.state->unit[charger].served_j / 3600 * 0.85, wh, 1e-6);
	}
	/* 30 % of 1,200 Wh at 85 %; a uniform deficit scatters by 0.577 of it: 4 standard errors */
	ck_assert_double_eq_tol(
		sum_wh / N_DAYS, 0.3 * 1200 / 0.85, 4 * 0.577 * 423.5 / sqrt(N_DAYS));
	stand_free(&stand);
}
END_TEST

/* Darkness halts the charger; it goes on where it stood. */
START_TEST(a_charger_that_was_dark_still_puts_back_what_is_missing)
{
	shed_scene scene;
	scene_start(&scene, 30);
	for (int i = 0; i < 3; i++)
		scene_add(&scene, "hair_dryer", RIG_LEG_1);
	scene_charge(&scene);
	scene.coach.energy_management.present = false;
	rig_shed_options options = rig_shed_defaults();
	shed_stand stand;
	stand_make(&stand, &scene.coach, &options);
	for (size_t day = 0; day < 20; day++) {
		shed_day_draw(&stand.model, 7, day, stand.day);
		for (size_t u = 0; u < 3; u++) /* half past four to half past five */
			wants(&stand, u, 2, (double[]){59400, 63000});
		double wh = 0;
		for (size_t k = 0; k + 1 < stand.model.stages.n; k++)
			wh += stand.model.stages.level[k] * stand.model.bank_w *
			      stand.day->stage_s[k] / 3600;
		stand_go(&stand, &stand.order, NULL);
		ck_assert_int_ge(stand.state->breaker[RIG_BREAKER_LIKELY].n_trips, 3);
		ck_assert_double_eq_tol(stand.state->unit[3].served_j / 3600 * 0.85, wh, 1e-6);
	}
	stand_free(&stand);
}
END_TEST

/* ---- water ---- */

/* 38 l at 60 C, no element and no losses; 0.06 l/s are drawn for 600 s and made up at 15 C. By
 * hand: it falls to 40 C when e^(-0.06 t / 38) = 25 / 45, after 372.27 s; the rest, 227.73 s, gives
 * 13.66 l below 40 C of the 36. */
START_TEST(litres_that_come_out_cold_are_those_worked_by_hand)
{
	shed_tank tank;
	shed_stand stand;
	scene_tank(&tank);
	stand_of_tank(&stand, &tank, 60, 600);
	stand_go(&stand, &stand.order, NULL);
	ck_assert_double_eq_tol(stand.state->body[0].litres, 36, 1e-9);
	ck_assert_double_eq_tol(stand.state->body[0].cold_litres, 13.66, 0.005);
	ck_assert_double_eq_tol(stand.state->body[0].temp_c, 15 + 45 * exp(-36.0 / 38), 1e-9);
	stand_free(&stand);
}
END_TEST

/* ---- the twin ---- */

static const struct {
	const char *sample, *supply;
	rig_shed_weather weather;
	int n_days;
} TWIN[] = {
	{"diesel-coach.rig.json", "30A", RIG_SHED_HOT, 60},
	{"diesel-coach.rig.json", "30A", RIG_SHED_COLD, 60},
	{"diesel-coach.rig.json", "20A", RIG_SHED_HOT, 20},
	{"diesel-coach.rig.json", "50A", RIG_SHED_HOT, 10},
};

/* Under the sanitizers a day by seconds takes a second and a half: the last row only. */
#ifdef RIG_SLOW
enum { FIRST_TWIN = COUNT(TWIN) - 1 };
#else
enum { FIRST_TWIN = 0 };
#endif

/* Both move from second to second in their own way; what chance makes of it stays within half a
 * percent of the energy and one percent of the drops. */
START_TEST(second_by_second_the_day_is_the_same)
{
	rig_file *file = NULL;
	rig_shed_options options = rig_shed_defaults();
	options.supply = TWIN[_i].supply;
	options.weather = TWIN[_i].weather;
	const rig_coach *coach = scene_sample(TWIN[_i].sample, &file);
	shed_stand stand;
	stand_make(&stand, coach, &options);
	static shed_twin twin;
	twin = (shed_twin){{0}, {0}, {0}, {0}, 0, 0};
	double served_j = 0, twin_j = 0;
	int drops = 0, trips = 0;
	for (int day = 0; day < TWIN[_i].n_days; day++) {
		stand_run(&stand, (size_t)day, NULL);
		shed_twin_day(&stand.model, stand.day, stand.group, &twin);
		for (size_t u = 0; u < stand.model.n_units; u++) {
			served_j += stand.state->unit[u].served_j;
			drops += stand.state->unit[u].n_drops;
		}
		trips += stand.state->breaker[RIG_BREAKER_LIKELY].n_trips;
	}
	for (size_t u = 0; u < stand.model.n_units; u++)
		twin_j += twin.served_j[u];
	ck_assert_double_eq_tol(served_j, twin_j, 0.005 * twin_j);
	ck_assert_int_eq(trips, twin.trips);
	ck_assert_int_le(abs(drops - twin.drops), twin.drops / 100);
	stand_free(&stand);
	rig_file_free(file);
}
END_TEST

Suite *shed_course_suite(void);
Suite *shed_course_suite(void)
{
	Suite *suite = suite_create("shed_course");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_test(all, the_case_worked_by_hand_comes_out_exactly);
	tcase_add_test(all, the_next_load_follows_while_it_is_still_too_much);
	tcase_add_test(all, a_short_overload_is_let_pass);
	tcase_add_loop_test(all, a_generator_starts_and_stops_by_load, 0, COUNT(STARTS));
	tcase_add_loop_test(all, too_many_drops_keep_a_load_off, 0, COUNT(MOST_DROPS));
	tcase_add_test(all, without_a_manager_the_breaker_trips_as_its_law_says);
	tcase_add_test(all, at_its_rating_it_never_trips);
	tcase_add_test(all, on_random_coaches_nothing_runs_that_is_dropped_and_no_overload_lasts);
	tcase_add_test(all, a_free_day_drops_and_trips_nothing);
	tcase_add_test(all, the_charger_puts_back_what_is_missing);
	tcase_add_test(all, a_charger_that_was_dark_still_puts_back_what_is_missing);
	tcase_add_test(all, litres_that_come_out_cold_are_those_worked_by_hand);
	tcase_add_loop_test(all, second_by_second_the_day_is_the_same, FIRST_TWIN, COUNT(TWIN));
	suite_add_tcase(suite, all);
	return suite;
}
