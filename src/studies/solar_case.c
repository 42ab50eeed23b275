/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_case.h"

#include <math.h>

#include "studies/solar_doubt.h"
#include "studies/solar_skies.h"

bool solar_judged(const rig_solar_options *options, int month)
{
	return options->month < 0 || options->month == month;
}

double solar_extended_days(double without_days)
{
	return fmax(without_days + RIG_SOLAR_EXTENDS_DAYS, without_days * RIG_SOLAR_EXTENDS_RATIO);
}

size_t solar_allowed(const rig_solar_options *options)
{
	return (size_t)floor((1.0 - RIG_SOLAR_CARRIES_FRAC) * options->n_trips + 1e-9);
}

static void add_year(solar_case *it, const solar_year *year)
{
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_solar_array_month *month = &year->months[m];
		for (int d = 0; d < RIG_N_SOLAR_DOUBTS; d++)
			it->doubt_wh[m][d] =
				rig_figure_add(it->doubt_wh[m][d], month->doubt_wh_day[d]);
		it->clear_wh[m] += month->clear_wh_day;
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
			it->as_is.mean_w[m][hour] += year->mean_w[m][hour];
			it->unlimited.mean_w[m][hour] += year->unlimited_w[m][hour];
		}
	}
}

static void clear_doubts(solar_case *it)
{
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		for (int d = 0; d < RIG_N_SOLAR_DOUBTS; d++)
			it->doubt_wh[m][d] = rig_figure_of(0.0, RIG_FROM_COMPUTED);
}

static void set_use_month(solar_case *it)
{
	const solar_use *months = it->bank.months;
	it->use_month = -1;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		if (solar_judged(&it->ground->options, m) &&
			(it->use_month < 0 || months[m].use_wh_day.likely >
						      months[it->use_month].use_wh_day.likely))
			it->use_month = m;
}

rig_status solar_case_of(solar_ground *ground, const rig_coach *coach, int bank,
	const solar_year *years, solar_case **made)
{
	solar_case *it = rig_arena_take(ground->arena, 1, sizeof *it);
	if (it == NULL)
		return RIG_NO_MEMORY;
	it->ground = ground;
	it->coach = coach;
	it->house = coach->banks[bank].role != RIG_CHASSIS;
	it->as_is.limited = true;
	clear_doubts(it);
	for (size_t i = 0; i < coach->n_arrays; i++) {
		if (coach->arrays[i].bank_index != bank)
			continue;
		it->total_w += coach->arrays[i].total_w.likely;
		add_year(it, &years[i]);
	}
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		it->harvest_wh[m] = solar_combined(RIG_N_SOLAR_DOUBTS, it->doubt_wh[m]);
	*made = it;
	it->usage = (solar_usage){coach, bank, ground->options.habit, ground->skies};
	const rig_status status = solar_bank_of(&it->usage, ground->arena, &it->bank);
	set_use_month(it);
	return status;
}

static solar_trial trial_of(const solar_case *it, const solar_run *run)
{
	return (solar_trial){
		.bank = &it->bank,
		.month = run->month,
		.course = run->course,
		.temp_c = it->ground->skies[run->month].mean.temp_c,
		.n_knots = 1,
		.factor = run->factor,
	};
}

solar_trial solar_case_mean(const solar_case *it, const solar_run *run)
{
	solar_trial trial = trial_of(it, run);
	trial.watts_w = run->source == NULL ? NULL : run->source->mean_w[run->month];
	return trial;
}

rig_status solar_case_days(
	const solar_case *it, const solar_run *run, double horizon_days, double *days)
{
	const solar_trial trial = solar_case_mean(it, run);
	rig_plan *plan = NULL;
	const rig_status status = solar_trial_plan(&trial, &plan);
	if (status == RIG_OK)
		*days = solar_plan_days(plan, horizon_days);
	rig_plan_free(plan);
	return status;
}

static rig_status need_knots(
	solar_case *it, const solar_trips *trips, int month, solar_source *source)
{
	if (source->knots_w[month] != NULL)
		return RIG_OK;
	double *watts_w = rig_arena_take(
		it->ground->arena, (size_t)RIG_DAY_HOURS * SOLAR_KNOTS, sizeof *watts_w);
	if (watts_w == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < it->coach->n_arrays; i++) {
		const rig_array *array = &it->coach->arrays[i];
		if (array->bank_index != it->bank.bank)
			continue;
		solar_output output =
			solar_output_of(it->coach, (int)i, COURSE_LIKELY, COURSE_LIKELY);
		if (!source->limited)
			output.limit_a = INFINITY;
		solar_trips_add_array(trips, array, &output, watts_w);
	}
	source->knots_w[month] = watts_w;
	return RIG_OK;
}

rig_status solar_case_drawn(
	solar_case *it, const solar_run *run, const solar_trips **trips, solar_trial *trial)
{
	const solar_ground *ground = it->ground;
	const solar_trips *drawn = solar_skies_trips(
		ground->options.skies, ground->place, run->month, &ground->options);
	if (drawn == NULL || need_knots(it, drawn, run->month, run->source) != RIG_OK)
		return RIG_NO_MEMORY;
	*trial = trial_of(it, run);
	trial->watts_w = run->source->knots_w[run->month];
	trial->n_knots = SOLAR_KNOTS;
	*trips = drawn;
	return RIG_OK;
}

rig_status solar_case_trips(solar_case *it, const solar_run *run, solar_count *count)
{
	const solar_trips *trips = NULL;
	solar_trial trial;
	solar_open all;
	rig_plan *plan = NULL;
	rig_status status = solar_case_drawn(it, run, &trips, &trial);
	if (status == RIG_OK)
		status = solar_open_all(trips, it->ground->arena, &all);
	if (status == RIG_OK)
		status = solar_trial_plan(&trial, &plan);
	if (status == RIG_OK)
		*count = solar_trips_run(trips, &trial, plan, &all);
	rig_plan_free(plan);
	return status;
}
