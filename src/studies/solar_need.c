/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_need.h"

#include <math.h>

#include "studies/solar_doubt.h"
#include "studies/solar_level.h"

/* How near the search comes to the least watts; reports round to two digits, and the ends of a
 * range are rougher than its middle. */
static const double NEAR_RATIO = 1.015, NEAR_END_RATIO = 1.04;
static const double STEP_RATIO = 1.5;

/* The search for the watts of one month on one course. */
typedef struct {
	solar_case *it;
	int month;
	solar_course course;
	double wh_per_w;     /* a day, on the course */
	double factor_per_w; /* on the likely watts of the case */
	double days_without;
	/* NULL until first needed; from then on only the watts change */
	rig_plan *mean_plan, *drawn_plan;
	solar_trial mean, drawn;
	const solar_trips *trips;
	solar_open open; /* of them */
} search;

typedef rig_status (*is_met)(search *s, double watts_w, bool *met);

static double likely_wh_per_w(const solar_case *it, int month)
{
	double wh = 0.0;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		wh += it->unlimited.mean_w[month][hour];
	return wh / it->total_w;
}

/* Wh a day for each nameplate watt, with every doubt but that of the watts themselves. */
static rig_figure wh_per_w(const solar_case *it, int month)
{
	rig_figure parts[RIG_N_SOLAR_DOUBTS];
	size_t n_parts = 0;
	for (int d = 0; d < RIG_N_SOLAR_DOUBTS; d++)
		if (d != RIG_DOUBT_WATTS)
			parts[n_parts++] = it->doubt_wh[month][d];
	const double likely_wh = it->harvest_wh[month].likely;
	if (likely_wh <= 0)
		return rig_figure_of(0.0, RIG_FROM_COMPUTED);
	return rig_figure_scale(
		solar_combined(n_parts, parts), likely_wh_per_w(it, month) / likely_wh);
}

static rig_status fill(solar_trial *trial, double factor, rig_plan **plan)
{
	trial->factor = factor;
	if (*plan == NULL)
		return solar_trial_plan(trial, plan);
	solar_trial_refill(trial, *plan);
	return RIG_OK;
}

static solar_run run_of(const search *s)
{
	return (solar_run){s->month, s->course, &s->it->unlimited, 0.0};
}

static rig_status extends(search *s, double watts_w, bool *met)
{
	*met = false;
	const double standing_wh = solar_against(s->it->bank.standing_wh_day, s->course);
	if (isinf(s->days_without) || watts_w * s->wh_per_w < standing_wh)
		return RIG_OK;
	const solar_run run = run_of(s);
	if (s->mean_plan == NULL)
		s->mean = solar_case_mean(s->it, &run);
	const rig_status status = fill(&s->mean, watts_w * s->factor_per_w, &s->mean_plan);
	const double wanted = solar_extended_days(s->days_without);
	*met = status == RIG_OK && solar_plan_days(s->mean_plan, wanted + 1.0) >= wanted;
	return status;
}

static rig_status begin_drawn(search *s)
{
	const solar_run run = run_of(s);
	const rig_status status = solar_case_drawn(s->it, &run, &s->trips, &s->drawn);
	if (status != RIG_OK)
		return status;
	return solar_open_all(s->trips, s->it->ground->arena, &s->open);
}

static rig_status gets_through(search *s, double watts_w, bool *met)
{
	*met = s->days_without > s->it->ground->options.n_days;
	if (*met)
		return RIG_OK;
	rig_status status = s->drawn_plan == NULL ? begin_drawn(s) : RIG_OK;
	if (status == RIG_OK)
		status = fill(&s->drawn, watts_w * s->factor_per_w, &s->drawn_plan);
	if (status != RIG_OK)
		return status;
	const solar_count count = solar_trips_run(s->trips, &s->drawn, s->drawn_plan, &s->open);
	*met = count.n_out <= solar_allowed(&s->it->ground->options);
	solar_open_settle(&s->open, &count, !*met);
	return RIG_OK;
}

/* Least watts, from `from_w` on, that meet a rule which more watts never break; INFINITY if none up
 * to RIG_SOLAR_SEARCH_MAX_W do. Every trial is above all that failed and below all that met. */
static rig_status least_w(search *s, is_met rule, double from_w, double guess_w, double *watts_w)
{
	bool met;
	double fails_w = fmax(from_w, 1.0), meets_w = fails_w;
	double next_w = fmax(guess_w, fails_w * STEP_RATIO);
	rig_status status = rule(s, fails_w, &met);
	while (status == RIG_OK && !met) {
		fails_w = meets_w;
		meets_w = fmin(next_w, RIG_SOLAR_SEARCH_MAX_W);
		next_w *= STEP_RATIO;
		status = rule(s, meets_w, &met);
		if (!met && meets_w >= RIG_SOLAR_SEARCH_MAX_W) {
			*watts_w = INFINITY;
			return status;
		}
	}
	const double near = s->course == COURSE_LIKELY ? NEAR_RATIO : NEAR_END_RATIO;
	while (status == RIG_OK && meets_w > fails_w * near) {
		const double middle_w = sqrt(fails_w * meets_w);
		status = rule(s, middle_w, &met);
		*(met ? &meets_w : &fails_w) = middle_w;
	}
	*watts_w = meets_w;
	return status;
}

static rig_status begin(solar_case *it, int month, solar_course course, search *s)
{
	const rig_figure per_w = wh_per_w(it, month);
	*s = (search){.it = it, .month = month, .course = course};
	s->wh_per_w = solar_end(per_w, course);
	s->factor_per_w = per_w.likely > 0 ? s->wh_per_w / per_w.likely / it->total_w : 0.0;
	const solar_run run = {.month = month, .course = course};
	return solar_case_days(it, &run, SOLAR_HORIZON_DAYS, &s->days_without);
}

/* Watts of the levels above RIG_MAINTAINS on one course; INFINITY where out of reach. */
static rig_status search_upper(search *s, double watts_w[])
{
	const solar_case *it = s->it;
	if (s->wh_per_w <= 0 || isinf(s->days_without))
		return RIG_OK;
	const double use_wh = solar_against(it->bank.months[s->month].use_wh_day, s->course);
	const double standing_w = solar_against(it->bank.standing_wh_day, s->course) / s->wh_per_w;
	/* by the energy of the bank spread over the days wanted */
	const double held_wh = solar_end(it->coach->banks[it->bank.bank].usable_wh, s->course);
	const double missing_wh = use_wh - held_wh / solar_extended_days(s->days_without);
	const rig_status status =
		least_w(s, extends, standing_w, missing_wh / s->wh_per_w, &watts_w[RIG_EXTENDS]);
	if (status != RIG_OK || isinf(watts_w[RIG_EXTENDS]))
		return status;
	return least_w(
		s, gets_through, watts_w[RIG_EXTENDS], use_wh / s->wh_per_w, &watts_w[RIG_CARRIES]);
}

static rig_status upper_w(solar_case *it, int month, solar_course course, double watts_w[])
{
	search s;
	watts_w[RIG_EXTENDS] = watts_w[RIG_CARRIES] = INFINITY;
	rig_status status = begin(it, month, course, &s);
	if (status == RIG_OK)
		status = search_upper(&s, watts_w);
	rig_plan_free(s.mean_plan);
	rig_plan_free(s.drawn_plan);
	return status;
}

/* A need from its courses: the good one takes least. Out of reach only at the poor end: the end of
 * the search stands for it. Only at the good end: the bank lasts for ever there with no array, and
 * the likely figure stands for it. */
static rig_figure need_of(const double watts_w[N_COURSES])
{
	const double likely_w = watts_w[COURSE_LIKELY];
	if (likely_w > RIG_SOLAR_SEARCH_MAX_W)
		return (rig_figure){0};
	return solar_ordered(fmin(watts_w[COURSE_GOOD], likely_w), likely_w,
		fmin(watts_w[COURSE_POOR], RIG_SOLAR_SEARCH_MAX_W));
}

static rig_status needs_of_month(solar_case *it, int month, rig_figure need_w[RIG_N_SOLAR_LEVELS])
{
	double watts_w[RIG_N_SOLAR_LEVELS][N_COURSES];
	const rig_figure per_w = wh_per_w(it, month);
	for (solar_course course = 0; course < N_COURSES; course++) {
		const double per = solar_end(per_w, course);
		const double standing_wh = solar_against(it->bank.standing_wh_day, course);
		watts_w[RIG_FALLS_SHORT][course] = 0.0;
		watts_w[RIG_MAINTAINS][course] = standing_wh <= 0 ? 0.0
						 : per > 0        ? standing_wh / per
								  : INFINITY;
		double upper[RIG_N_SOLAR_LEVELS] = {0};
		const rig_status status = it->house ? upper_w(it, month, course, upper) : RIG_OK;
		if (status != RIG_OK)
			return status;
		watts_w[RIG_EXTENDS][course] = upper[RIG_EXTENDS];
		watts_w[RIG_CARRIES][course] = upper[RIG_CARRIES];
	}
	for (int level = 0; level < RIG_N_SOLAR_LEVELS; level++)
		need_w[level] = need_of(watts_w[level]);
	return RIG_OK;
}

/* The months judged with least and with most sun for each watt. */
static void find_months(const solar_case *it, int *worst, int *best)
{
	*worst = *best = -1;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		if (!solar_judged(&it->ground->options, m))
			continue;
		if (*worst < 0 || likely_wh_per_w(it, m) < likely_wh_per_w(it, *worst))
			*worst = m;
		if (*best < 0 || likely_wh_per_w(it, m) > likely_wh_per_w(it, *best))
			*best = m;
	}
}

rig_status solar_needs(solar_case *it, rig_solar_bank *bank)
{
	int worst, best;
	rig_figure worst_w[RIG_N_SOLAR_LEVELS], best_w[RIG_N_SOLAR_LEVELS];
	find_months(it, &worst, &best);
	rig_status status = needs_of_month(it, worst, worst_w);
	if (status == RIG_OK && best != worst)
		status = needs_of_month(it, best, best_w);
	if (status != RIG_OK)
		return status;
	const rig_figure *best_of = best == worst ? worst_w : best_w;
	bank->n_needs = it->house ? RIG_N_SOLAR_LEVELS : RIG_MAINTAINS + 1;
	for (size_t level = 0; level < bank->n_needs; level++)
		bank->needs[level] = (rig_solar_need){
			.level = (rig_solar_level)level,
			.reached = bank->overall.likely >= (rig_solar_level)level,
			.worst_month = worst,
			.best_month = best,
			.worst_w = worst_w[level],
			.best_w = best_of[level],
		};
	return RIG_OK;
}
