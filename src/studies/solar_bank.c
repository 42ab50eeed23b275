/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_bank.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "rigbudget/trip.h"
#include "studies/bank_store.h"
#include "studies/solar_doubt.h"
#include "studies/trip_warmth.h"

static const double MONTH_DAYS = 30.4375;

/* An inverter of a usual coach, W, and its losses: [SCHMIDT-1996]. */
static const double USUAL_INVERTER_W = 2000.0;

/* 1 / sqrt(2). */
static const double SIDE = 0.7071067811865476;

static double toward(double likely, double end)
{
	return likely > 0 ? likely * pow(end / likely, SIDE) : end;
}

double solar_end(rig_figure figure, solar_course course)
{
	if (course == COURSE_LIKELY)
		return figure.likely;
	return toward(figure.likely, course == COURSE_POOR ? figure.low : figure.high);
}

double solar_against(rig_figure figure, solar_course course)
{
	if (course == COURSE_LIKELY)
		return figure.likely;
	return toward(figure.likely, course == COURSE_POOR ? figure.high : figure.low);
}

solar_inverter solar_inverter_of(const rig_coach *coach)
{
	const rig_inverter *it = &coach->inverter;
	if (it->present)
		return (solar_inverter){it->watts_w.likely, it->loss_fixed_frac,
			it->loss_linear_frac, it->loss_square_frac, false};
	return (solar_inverter){USUAL_INVERTER_W,
		rig_figure_range(0.005, 0.01, 0.02, RIG_FROM_PROFILE),
		rig_figure_range(0.01, 0.025, 0.04, RIG_FROM_PROFILE),
		rig_figure_range(0.03, 0.05, 0.08, RIG_FROM_PROFILE), true};
}

rig_figure solar_through_inverter(const solar_inverter *inverter, rig_figure ac_wh, double watts_w)
{
	const double rated_w = fmax(inverter->rated_w, watts_w);
	const rig_figure factor = rig_figure_add(rig_figure_of(1.0, RIG_FROM_COMPUTED),
		rig_figure_add(inverter->linear_frac,
			rig_figure_scale(inverter->square_frac, watts_w / rated_w)));
	return rig_figure_multiply(ac_wh, factor);
}

/* Hours a day that a load draws. */
static rig_figure hours_of(const rig_coach *coach, int load, int habit)
{
	double sum_h[N_COURSES] = {0};
	for (int end = -1; end <= 1; end++) {
		double on_frac[24];
		(void)rig_load_hours(coach, load, habit, end, on_frac);
		for (int hour = 0; hour < 24; hour++)
			sum_h[end + 1] += on_frac[hour];
	}
	return solar_ordered(sum_h[0], sum_h[1], sum_h[2]);
}

/* A product of two independent figures >= 0. */
static rig_figure product(rig_figure a, rig_figure b)
{
	const rig_figure parts[] = {
		rig_figure_scale(a, b.likely),
		rig_figure_scale(b, a.likely),
	};
	return solar_combined(2, parts);
}

rig_figure solar_load_wh(const rig_coach *coach, int load, int habit)
{
	const rig_load *it = &coach->loads[load];
	return rig_figure_scale(product(it->running_w, hours_of(coach, load, habit)), it->count);
}

/* Does this load draw on that bank away from hookups? */
static bool draws_on(const rig_coach *coach, int load, int habit, int bank, bool *through_inverter)
{
	const rig_away away = rig_load_away(coach, load, habit);
	*through_inverter = away == RIG_RUNS_ON_INVERTER;
	if (*through_inverter)
		return coach->inverter.bank_index == bank;
	return away == RIG_RUNS_ON_BANK && coach->loads[load].bank_index == bank;
}

static double at_bank_w(const rig_coach *coach, int load)
{
	return coach->loads[load].running_w.likely * coach->loads[load].count;
}

/* A carried load that runs as long as the weather asks. */
static bool by_weather(const solar_usage *usage, int load)
{
	const rig_away away = rig_load_away(usage->coach, load, usage->habit);
	return (away == RIG_RUNS_ON_BANK || away == RIG_RUNS_ON_INVERTER) &&
	       usage->coach->loads[load].running_w.likely > 0 &&
	       trip_by_weather(usage->coach, load, usage->habit);
}

bool solar_bank_by_weather(const solar_usage *usage)
{
	bool through_inverter;
	for (int load = 0; load < (int)usage->coach->n_loads; load++)
		if (draws_on(usage->coach, load, usage->habit, usage->bank, &through_inverter) &&
			by_weather(usage, load))
			return true;
	return false;
}

rig_figure solar_month_load_wh(const solar_usage *usage, int load, int month)
{
	const trip_air air = {usage->skies[month].mean.temp_c, RIG_DAY_HOURS};
	return by_weather(usage, load) ? trip_weather_wh_day(usage->coach, load, usage->habit, air)
				       : solar_load_wh(usage->coach, load, usage->habit);
}

static rig_figure at_bank_wh(const solar_usage *usage, int load, int month, bool through_inverter)
{
	const rig_figure wh = solar_month_load_wh(usage, load, month);
	const solar_inverter inverter = solar_inverter_of(usage->coach);
	return through_inverter
		       ? solar_through_inverter(&inverter, wh, at_bank_w(usage->coach, load))
		       : wh;
}

static void set_hours(const solar_usage *usage, int load, int month, double on_frac[24])
{
	if (by_weather(usage, load))
		trip_weather_hours(
			usage->coach, load, usage->habit, usage->skies[month].mean.temp_c, on_frac);
	else
		(void)rig_load_hours(usage->coach, load, usage->habit, 0, on_frac);
}

static rig_figure self_discharge_wh(const rig_bank *bank)
{
	return rig_figure_scale(
		product(bank->total_wh, bank->self_discharge_frac_month), 1.0 / MONTH_DAYS);
}

static int larger_first(const void *a, const void *b)
{
	const rig_standing_item *x = a, *y = b;
	if (x->wh_day.likely != y->wh_day.likely)
		return x->wh_day.likely < y->wh_day.likely ? 1 : -1;
	return x->load - y->load;
}

/* Fills the always-on items; tells whether something stands on the inverter. */
static bool add_standing(const solar_usage *usage, solar_bank *made)
{
	const rig_coach *coach = usage->coach;
	bool inverter_stands = false;
	for (int load = 0; load < (int)coach->n_loads; load++) {
		bool through_inverter;
		if (coach->loads[load].always_on != RIG_YES ||
			!draws_on(coach, load, usage->habit, made->bank, &through_inverter))
			continue;
		inverter_stands = inverter_stands || through_inverter;
		made->standing[made->n_standing++] = (rig_standing_item){RIG_STANDING_LOAD, load,
			coach->loads[load].name, at_bank_wh(usage, load, 0, through_inverter)};
	}
	return inverter_stands;
}

static void set_consumers(const solar_usage *usage, int month, solar_bank *made)
{
	size_t n = 0;
	for (int load = 0; load < (int)usage->coach->n_loads; load++) {
		bool through_inverter;
		if (!draws_on(usage->coach, load, usage->habit, made->bank, &through_inverter))
			continue;
		rig_consumer *consumer = &made->months[month].consumers[n++];
		*consumer = (rig_consumer){.through_inverter = through_inverter,
			.watts_w = at_bank_w(usage->coach, load)};
		set_hours(usage, load, month, consumer->on_frac);
	}
	made->n_consumers = n;
}

static solar_sum use_of_loads(const solar_usage *usage, int month)
{
	solar_sum use = {0};
	for (int load = 0; load < (int)usage->coach->n_loads; load++) {
		bool through_inverter;
		if (draws_on(usage->coach, load, usage->habit, usage->bank, &through_inverter))
			solar_sum_add(&use, at_bank_wh(usage, load, month, through_inverter));
	}
	return use;
}

static rig_figure idle_day_wh(const rig_coach *coach)
{
	return rig_figure_scale(
		coach->inverter.loss_fixed_frac, 24.0 * coach->inverter.watts_w.likely);
}

static void set_inverter(solar_bank *made)
{
	const rig_inverting inverter = bank_inverting(made->coach, COURSE_LIKELY);
	if (!inverter.present || (int)inverter.store != made->bank)
		return;
	made->inverter = inverter;
	made->inverter.store = 0;
}

/* What a day's draws come to in the plan, and how much of it is the inverter's idle draw. */
static rig_status planned_wh(const solar_bank *made, int month, double *all_wh, double *idle_wh)
{
	const double warm_c[24] = {0};
	const solar_trial trial = {
		.bank = made, .month = month, .course = COURSE_LIKELY, .temp_c = warm_c};
	rig_plan *plan = NULL;
	const rig_status status = solar_trial_plan(&trial, &plan);
	if (status != RIG_OK)
		return status;
	*all_wh = *idle_wh = 0.0;
	const rig_demand *demand = rig_plan_demand(plan, 0);
	for (int hour = 0; hour < 24; hour++) {
		*idle_wh += demand[hour].idle_wh;
		*all_wh += demand[hour].dc_wh + demand[hour].ac_wh + demand[hour].idle_wh +
			   demand[hour].loss_wh;
	}
	rig_plan_free(plan);
	return RIG_OK;
}

/* The likely sum of parts is put right by the plan, which knows how loads meet in the inverter. */
static rig_status set_use(const solar_usage *usage, int month, solar_bank *made)
{
	double all_wh, idle_wh;
	solar_sum use = use_of_loads(usage, month);
	const rig_status status = planned_wh(made, month, &all_wh, &idle_wh);
	if (status != RIG_OK)
		return status;
	if (idle_wh > 0) {
		const rig_figure idle = idle_day_wh(made->coach);
		solar_sum_add(&use, rig_figure_scale(idle, idle_wh / idle.likely));
	}
	const rig_figure self_wh = self_discharge_wh(&made->coach->banks[made->bank]);
	solar_sum_add(&use, self_wh);
	const double apart_wh = all_wh + self_wh.likely - use.likely;
	use.low = fmax(0.0, use.low + apart_wh);
	use.likely += apart_wh;
	use.high += apart_wh;
	made->months[month].use_wh_day = solar_sum_figure(&use);
	return RIG_OK;
}

static void set_standing(const solar_usage *usage, solar_bank *made)
{
	const rig_coach *coach = usage->coach;
	solar_sum standing = {0};
	const bool stands = add_standing(usage, made) || made->inverter.always_on;
	if (made->inverter.present && stands)
		made->standing[made->n_standing++] =
			(rig_standing_item){RIG_STANDING_INVERTER, -1, NULL, idle_day_wh(coach)};
	const rig_figure self_wh = self_discharge_wh(&coach->banks[made->bank]);
	if (self_wh.high > 0)
		made->standing[made->n_standing++] =
			(rig_standing_item){RIG_STANDING_SELF_DISCHARGE, -1, NULL, self_wh};
	qsort(made->standing, made->n_standing, sizeof *made->standing, larger_first);
	for (size_t i = 0; i < made->n_standing; i++)
		solar_sum_add(&standing, made->standing[i].wh_day);
	made->standing_wh_day = solar_sum_figure(&standing);
}

rig_status solar_bank_draws(const solar_usage *usage, rig_arena *arena, solar_bank *made)
{
	*made = (solar_bank){.coach = usage->coach, .bank = usage->bank, .habit = usage->habit};
	set_inverter(made);
	const bool alike = !solar_bank_by_weather(usage);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		if (alike && m > 0) {
			made->months[m] = made->months[0];
			continue;
		}
		made->months[m].consumers = rig_arena_take(
			arena, usage->coach->n_loads, sizeof *made->months[m].consumers);
		if (made->months[m].consumers == NULL)
			return RIG_NO_MEMORY;
		set_consumers(usage, m, made);
	}
	return RIG_OK;
}

rig_status solar_bank_of(const solar_usage *usage, rig_arena *arena, solar_bank *made)
{
	rig_status status = solar_bank_draws(usage, arena, made);
	if (status != RIG_OK)
		return status;
	made->standing = rig_arena_take(arena, usage->coach->n_loads + 2, sizeof *made->standing);
	if (made->standing == NULL)
		return RIG_NO_MEMORY;
	set_standing(usage, made);
	const bool alike = !solar_bank_by_weather(usage);
	for (int m = 0; status == RIG_OK && m < RIG_SOLAR_MONTHS; m++)
		if (alike && m > 0)
			made->months[m] = made->months[0];
		else
			status = set_use(usage, m, made);
	return status;
}

static double ratio_of(rig_figure figure, solar_course course)
{
	return figure.likely > 0 ? solar_end(figure, course) / figure.likely : 1.0;
}

/* The one store of the plan; its cut-off is what ends a stay, also on a chassis bank. Besides what
 * it holds, a bank's figures are taken at their likely values. */
static rig_store store_of(const solar_trial *trial, double own_temp_c[24])
{
	const rig_bank *bank = &trial->bank->coach->banks[trial->bank->bank];
	for (int hour = 0; hour < 24; hour++)
		own_temp_c[hour] =
			rig_figure_given(bank->temp_c) ? bank->temp_c.likely : trial->temp_c[hour];
	rig_store store =
		bank_store(trial->bank->coach, trial->bank->bank, COURSE_LIKELY, own_temp_c);
	store.kinetic.capacity *= ratio_of(bank->total_wh, trial->course);
	store.usable_wh = fmin(
		store.usable_wh * ratio_of(bank->usable_wh, trial->course), store.kinetic.capacity);
	store.essential = true;
	return store;
}

/* How much more than likely is drawn on a course. */
static double use_ratio(const solar_trial *trial)
{
	const rig_figure use = trial->bank->months[trial->month].use_wh_day;
	return use.likely > 0 ? solar_against(use, trial->course) / use.likely : 1.0;
}

enum { MAX_KNOTS = 16 };

static void scale_watts(const solar_trial *trial, double watts_w[24 * MAX_KNOTS])
{
	for (size_t i = 0; i < 24 * trial->n_knots; i++)
		watts_w[i] = trial->watts_w[i] * trial->factor;
}

void solar_trial_refill(const solar_trial *trial, rig_plan *plan)
{
	double watts_w[24 * MAX_KNOTS];
	scale_watts(trial, watts_w);
	rig_plan_refill(plan, watts_w);
}

rig_status solar_trial_plan(const solar_trial *trial, rig_plan **plan)
{
	const solar_bank *bank = trial->bank;
	const double ratio = use_ratio(trial);
	const size_t n_knots = trial->n_knots > 0 ? trial->n_knots : 1;
	assert(n_knots <= MAX_KNOTS);
	double temp_c[24], watts_w[24 * MAX_KNOTS];
	const rig_store store = store_of(trial, temp_c);
	rig_consumer *consumers = malloc((bank->n_consumers + 1) * sizeof *consumers);
	if (consumers == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < bank->n_consumers; i++) {
		consumers[i] = bank->months[trial->month].consumers[i];
		consumers[i].watts_w *= ratio;
	}
	const bool filled = trial->watts_w != NULL && trial->factor > 0;
	if (filled)
		scale_watts(trial, watts_w);
	const rig_source source = {.store = 0, .watts_w = watts_w};
	rig_plan_parts parts = {
		.n_hours = 24,
		.n_knots = n_knots,
		.n_stores = 1,
		.n_sources = filled ? 1 : 0,
		.n_consumers = bank->n_consumers,
		.stores = &store,
		.sources = &source,
		.consumers = consumers,
		.inverter = bank->inverter,
	};
	parts.inverter.curve.fixed_frac *= ratio;
	const rig_status status = rig_plan_new(&parts, plan);
	free(consumers);
	return status;
}

/* No lower in either well than a day before: a day alike can never bring it lower. */
static bool holds(const rig_wells *now, const rig_wells *before)
{
	const double slack = 1e-9 * (before->available + before->bound);
	return now->available >= before->available - slack && now->bound >= before->bound - slack;
}

double solar_plan_days(const rig_plan *plan, double horizon_days)
{
	rig_standing standing = rig_plan_start(plan);
	for (int day = 0; day < horizon_days; day++) {
		const rig_standing before = standing;
		rig_hour hours[24];
		rig_plan_trace(plan, NULL, 24, &standing, hours);
		for (int hour = 0; hour < 24; hour++)
			if (hours[hour].short_frac > 0)
				return day + (hour + 1.0 - hours[hour].short_frac) / 24.0;
		if (holds(&standing.wells[0], &before.wells[0]))
			break;
	}
	return INFINITY;
}
