/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_level.h"

#include <math.h>

#include "studies/solar_doubt.h"

/* One month of a case by course. */
typedef struct {
	int month;
	double factor[N_COURSES]; /* harvest over the likely one */
	double days_without[N_COURSES], days_with[N_COURSES];
	rig_solar_level level[N_COURSES];
} standing_of_month;

static double ratio_of(rig_figure harvest, solar_course course)
{
	return harvest.likely > 0 ? solar_end(harvest, course) / harvest.likely : 0.0;
}

static rig_status set_days(solar_case *it, standing_of_month *at, solar_course course)
{
	solar_run run = {.month = at->month, .course = course};
	const rig_status status =
		solar_case_days(it, &run, SOLAR_HORIZON_DAYS, &at->days_without[course]);
	if (status != RIG_OK || isinf(at->days_without[course])) {
		at->days_with[course] = INFINITY;
		return status;
	}
	run.source = &it->as_is;
	run.factor = at->factor[course];
	const double horizon_days =
		fmax(RIG_SOLAR_DAYS_MAX, solar_extended_days(at->days_without[course])) + 1.0;
	return solar_case_days(it, &run, horizon_days, &at->days_with[course]);
}

/* The level as far as mean days tell it: RIG_EXTENDS at most. */
static rig_solar_level level_by_balance(
	const solar_case *it, const standing_of_month *at, solar_course course)
{
	const double harvest_wh = solar_end(it->harvest_wh[at->month], course);
	if (harvest_wh < solar_against(it->bank.standing_wh_day, course))
		return RIG_FALLS_SHORT;
	const double without = at->days_without[course];
	if (!it->house || isinf(without))
		return RIG_MAINTAINS;
	return at->days_with[course] >= solar_extended_days(without) ? RIG_EXTENDS : RIG_MAINTAINS;
}

/* Trips that run out on a course. The bank alone may last the stay: then none do. */
static rig_status count_out(
	solar_case *it, const standing_of_month *at, solar_course course, solar_count *count)
{
	const rig_solar_options *options = &it->ground->options;
	*count = (solar_count){.n_run = 0};
	if (at->days_without[course] > options->n_days)
		return RIG_OK;
	const solar_run run = {at->month, course, &it->as_is, at->factor[course]};
	return solar_case_trips(it, &run, count);
}

static rig_status raise_to_carries(solar_case *it, standing_of_month *at, solar_course course)
{
	solar_count count;
	if (at->level[course] != RIG_EXTENDS)
		return RIG_OK;
	const rig_status status = count_out(it, at, course, &count);
	if (status == RIG_OK && count.n_out <= solar_allowed(&it->ground->options))
		at->level[course] = RIG_CARRIES;
	return status;
}

static rig_status judge_trips(solar_case *it, standing_of_month *at, rig_solar_bank_month *month)
{
	const size_t n_trips = (size_t)it->ground->options.n_trips;
	if (at->level[COURSE_LIKELY] == RIG_EXTENDS) {
		solar_count count;
		const rig_status status = count_out(it, at, COURSE_LIKELY, &count);
		if (status != RIG_OK)
			return status;
		month->n_trips_run = (int)count.n_run;
		month->run_out_frac = count.n_run > 0
					      ? solar_share(count.n_out, count.n_run)
					      : rig_figure_of((double)count.n_out / (double)n_trips,
							RIG_FROM_COMPUTED);
		if (count.n_out <= solar_allowed(&it->ground->options))
			at->level[COURSE_LIKELY] = RIG_CARRIES;
	}
	/* The worse course cannot carry what the likely one does not, nor the better one fail. */
	if (at->level[COURSE_LIKELY] == RIG_CARRIES) {
		at->level[COURSE_GOOD] = RIG_CARRIES;
		return raise_to_carries(it, at, COURSE_POOR);
	}
	return raise_to_carries(it, at, COURSE_GOOD);
}

/* In order: courses differ by more than the search for days can tell apart, but to the last bit. */
static rig_solar_levels ordered(const rig_solar_level level[N_COURSES])
{
	rig_solar_levels levels = {level[COURSE_POOR], level[COURSE_LIKELY], level[COURSE_GOOD]};
	if (levels.low > levels.likely)
		levels.low = levels.likely;
	if (levels.high < levels.likely)
		levels.high = levels.likely;
	return levels;
}

static rig_figure by_course(const double value[N_COURSES])
{
	return solar_ordered(value[COURSE_POOR], value[COURSE_LIKELY], value[COURSE_GOOD]);
}

static rig_figure capped_days(const double days[N_COURSES])
{
	double capped[N_COURSES];
	for (solar_course course = 0; course < N_COURSES; course++)
		capped[course] = fmin(days[course], RIG_SOLAR_DAYS_MAX);
	return by_course(capped);
}

static void set_energy(const solar_case *it, int m, rig_solar_bank_month *month)
{
	const rig_figure harvest = it->harvest_wh[m];
	const rig_figure standing = it->bank.standing_wh_day;
	month->harvest_wh_day = harvest;
	month->harvest_ah_day =
		rig_figure_scale(harvest, 1.0 / solar_charging_v(it->coach, it->bank.bank));
	for (int d = 0; d < RIG_N_SOLAR_DOUBTS; d++)
		month->doubt_wh_day[d] = it->doubt_wh[m][d];
	month->clear_wh_day = it->clear_wh[m];
	if (it->house)
		month->use_wh_day = it->bank.months[m].use_wh_day;
	double spare_wh[N_COURSES], ratio[N_COURSES];
	for (solar_course course = 0; course < N_COURSES; course++) {
		const double brought_wh = solar_end(harvest, course);
		const double drawn_wh = solar_against(standing, course);
		spare_wh[course] = brought_wh - drawn_wh;
		ratio[course] = drawn_wh > 0 ? brought_wh / drawn_wh : INFINITY;
	}
	month->spare_wh_day = by_course(spare_wh);
	if (standing.low > 0)
		month->standing_ratio = by_course(ratio);
}

/* Would no array at all, behind any controller, let the use last as much longer as asked, although
 * it brought all that is used? */
static rig_status try_endless_sun(solar_case *it, const standing_of_month *at, bool *too_small)
{
	const double without = at->days_without[COURSE_LIKELY];
	if (it->total_w <= 0 || isinf(without) || at->level[COURSE_LIKELY] >= RIG_EXTENDS)
		return RIG_OK;
	const double factor = RIG_SOLAR_SEARCH_MAX_W / it->total_w;
	if (it->harvest_wh[at->month].likely * factor <
		it->bank.months[at->month].use_wh_day.likely)
		return RIG_OK;
	const double wanted = solar_extended_days(without);
	const solar_run run = {at->month, COURSE_LIKELY, &it->unlimited, factor};
	double days;
	const rig_status status = solar_case_days(it, &run, wanted + 1.0, &days);
	if (status == RIG_OK)
		*too_small = days < wanted;
	return status;
}

static rig_status judge_month(solar_case *it, int m, rig_solar_bank_month *month)
{
	set_energy(it, m, month);
	standing_of_month at = {.month = m};
	for (solar_course course = 0; course < N_COURSES; course++) {
		at.factor[course] = ratio_of(it->harvest_wh[m], course);
		const rig_status status = it->house ? set_days(it, &at, course) : RIG_OK;
		if (status != RIG_OK)
			return status;
		at.level[course] = level_by_balance(it, &at, course);
	}
	if (it->house) {
		month->days_without = capped_days(at.days_without);
		month->days_with = capped_days(at.days_with);
		rig_status status = try_endless_sun(it, &at, &month->bank_too_small);
		if (status == RIG_OK)
			status = judge_trips(it, &at, month);
		if (status != RIG_OK)
			return status;
	}
	month->level = ordered(at.level);
	return RIG_OK;
}

/* Is month a a worse one than b? */
static bool worse(const rig_solar_bank_month *a, const rig_solar_bank_month *b)
{
	if (a->level.likely != b->level.likely)
		return a->level.likely < b->level.likely;
	return a->harvest_wh_day.likely < b->harvest_wh_day.likely;
}

static rig_solar_level lower(rig_solar_level a, rig_solar_level b)
{
	return a < b ? a : b;
}

rig_status solar_levels(solar_case *it, rig_solar_bank *bank)
{
	bank->overall = (rig_solar_levels){RIG_CARRIES, RIG_CARRIES, RIG_CARRIES};
	bank->worst_month = bank->best_month = -1;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		rig_solar_bank_month *month = &bank->months[m];
		const rig_status status = judge_month(it, m, month);
		if (status != RIG_OK)
			return status;
		if (!solar_judged(&it->ground->options, m))
			continue;
		bank->overall.low = lower(bank->overall.low, month->level.low);
		bank->overall.likely = lower(bank->overall.likely, month->level.likely);
		bank->overall.high = lower(bank->overall.high, month->level.high);
		if (bank->worst_month < 0 || worse(month, &bank->months[bank->worst_month]))
			bank->worst_month = m;
		if (bank->best_month < 0 || worse(&bank->months[bank->best_month], month))
			bank->best_month = m;
	}
	return RIG_OK;
}
