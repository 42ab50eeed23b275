/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>

#include "rigbudget/trip.h"

/* Rule 4 of trip.h, clock hours and the longest use that each window holds. */
enum { EVENING_FROM = 17, EVENING_TO = 23, MORNING = 8 };
static const double EVENING_H = 6, NIGHT_H = 15;

/* A load's use under a habit. */
typedef struct {
	bool off;
	rig_figure daily_use_h;
	int from_hour, to_hour; /* -1: no window */
} use_of_load;

static use_of_load use_under(const rig_coach *coach, int load, int habit)
{
	const rig_load *it = &coach->loads[load];
	use_of_load use = {false, it->daily_use_h, it->from_hour, it->to_hour};
	if (habit < 0)
		return use;
	const rig_habit *pattern = &coach->habits[habit];
	for (size_t i = 0; i < pattern->n_use; i++) {
		const rig_use *said = &pattern->use[i];
		if (said->load_index != load)
			continue;
		if (rig_figure_given(said->daily_use_h))
			use.daily_use_h = said->daily_use_h;
		if (said->from_hour >= 0) {
			use.from_hour = said->from_hour;
			use.to_hour = said->to_hour;
		}
		return use;
	}
	use.off = pattern->only == RIG_YES && it->always_on != RIG_YES;
	return use;
}

static double end_of(rig_figure figure, int end, double absent)
{
	if (!rig_figure_given(figure))
		return absent;
	return end < 0 ? figure.low : end > 0 ? figure.high : figure.likely;
}

static void spread_over_day(double running_h, double on_frac[24])
{
	for (int hour = 0; hour < 24; hour++)
		on_frac[hour] = running_h / 24;
}

/* Rules 3 and 4 of trip.h. */
static uint32_t spread_by_rule(double use_h, double duty_frac, double on_frac[24])
{
	const double running_h = use_h * duty_frac;
	if (duty_frac < 1 || use_h > NIGHT_H)
		spread_over_day(running_h, on_frac);
	else
		(void)rig_spread_use(running_h, EVENING_FROM,
			use_h <= EVENING_H ? EVENING_TO : MORNING, on_frac);
	return RIG_TRIP_WINDOWS_BY_RULE;
}

uint32_t rig_load_hours(
	const rig_coach *completed, int load, int habit, int end, double on_frac[24])
{
	assert(load >= 0 && (size_t)load < completed->n_loads);
	assert(habit >= -1 && habit < (int)completed->n_habits);
	const use_of_load use = use_under(completed, load, habit);
	const rig_load *it = &completed->loads[load];
	const double duty_frac = end_of(it->duty_frac, end, 1);
	const double use_h = use.off ? 0 : end_of(use.daily_use_h, end, 24);
	spread_over_day(0, on_frac);
	if (use.off)
		return 0;
	if (it->always_on == RIG_YES || use_h >= 24) {
		spread_over_day(24 * duty_frac, on_frac);
		return 0;
	}
	if (use.from_hour < 0 || use.to_hour < 0)
		return spread_by_rule(use_h, duty_frac, on_frac);
	if (rig_spread_use(use_h, use.from_hour, use.to_hour, on_frac) != RIG_OK) {
		spread_over_day(use_h * duty_frac, on_frac);
		return RIG_TRIP_WINDOW_TOO_SHORT;
	}
	for (int hour = 0; hour < 24; hour++)
		on_frac[hour] *= duty_frac;
	return 0;
}

static bool inverter_feeds(const rig_coach *coach, const rig_load *load)
{
	if (load->inverter != RIG_UNSAID)
		return load->inverter == RIG_YES;
	return load->circuit_index >= 0 && coach->circuits[load->circuit_index].inverter == RIG_YES;
}

rig_away rig_load_away(const rig_coach *completed, int load, int habit)
{
	assert(load >= 0 && (size_t)load < completed->n_loads);
	const rig_load *it = &completed->loads[load];
	const rig_inverter *inverter = &completed->inverter;
	if (use_under(completed, load, habit).off)
		return RIG_OFF_IN_HABIT;
	if (it->supply == RIG_DC)
		return it->bank_index < 0 ? RIG_HAS_NO_BANK : RIG_RUNS_ON_BANK;
	if (!inverter_feeds(completed, it))
		return RIG_NEEDS_HOOKUPS;
	if (!inverter->present || inverter->bank_index < 0)
		return RIG_NEEDS_INVERTER;
	if (it->running_w.likely * it->count > inverter->watts_w.likely)
		return RIG_EXCEEDS_INVERTER;
	return RIG_RUNS_ON_INVERTER;
}
