/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/trip_warmth.h"

#include "rigbudget/thermal.h"
#include "rigbudget/trip.h"

/* Shells over the usual one of their length; common practice, no source. */
static const double LEAST_LOSS = 0.6, MOST_LOSS = 1.4;

static bool names_hours(const rig_coach *coach, int load, int habit)
{
	if (habit < 0)
		return false;
	const rig_habit *pattern = &coach->habits[habit];
	for (size_t i = 0; i < pattern->n_use; i++)
		if (pattern->use[i].load_index == load &&
			rig_figure_given(pattern->use[i].daily_use_h))
			return true;
	return false;
}

static bool is_said(rig_figure figure)
{
	return rig_figure_given(figure) && figure.from != RIG_FROM_PROFILE;
}

bool trip_by_weather(const rig_coach *coach, int load, int habit)
{
	const rig_load *it = &coach->loads[load];
	return rig_figure_given(it->heat_w) && it->heat_w.likely != 0 && it->always_on != RIG_YES &&
	       !is_said(it->daily_use_h) && !is_said(it->duty_frac) &&
	       !names_hours(coach, load, habit);
}

rig_figure trip_loss_w_per_k(const rig_coach *coach)
{
	const rig_body *body = &coach->body;
	if (rig_figure_given(body->loss_w_per_k))
		return body->loss_w_per_k;
	return rig_figure_range(LEAST_LOSS * rig_coach_body(body->length_m.low).loss_w_per_k,
		rig_coach_body(body->length_m.likely).loss_w_per_k,
		MOST_LOSS * rig_coach_body(body->length_m.high).loss_w_per_k, RIG_FROM_PROFILE);
}

/* Heat that all carried loads move that heat, or that cool, as this one does, W. */
static double heat_of_all(const rig_coach *coach, int like, int habit)
{
	const bool heats = coach->loads[like].heat_w.likely > 0;
	double sum_w = 0;
	for (int load = 0; load < (int)coach->n_loads; load++) {
		const rig_away away = rig_load_away(coach, load, habit);
		const rig_load *it = &coach->loads[load];
		if ((away == RIG_RUNS_ON_BANK || away == RIG_RUNS_ON_INVERTER) &&
			trip_by_weather(coach, load, habit) && (it->heat_w.likely > 0) == heats)
			sum_w += it->count * it->heat_w.likely;
	}
	return heats ? sum_w : -sum_w;
}

void trip_run_by_weather(const rig_coach *coach, int load, int habit, rig_consumer *consumer)
{
	const rig_load *it = &coach->loads[load];
	const rig_body *body = &coach->body;
	const double loss_w_per_k = trip_loss_w_per_k(coach).likely;
	const double heat_w = heat_of_all(coach, load, habit);
	const bool heats = it->heat_w.likely > 0;
	if (heat_w <= 0) /* it is not carried itself */
		return;
	consumer->duty = heats ? RIG_BY_COLD : RIG_BY_HEAT;
	consumer->balance_c = (heats ? body->heat_to_c : body->cool_to_c).likely -
			      body->gains_w.likely / loss_w_per_k;
	consumer->duty_per_k = loss_w_per_k / heat_w;
	const bool window = it->from_hour >= 0 && it->to_hour >= 0 && it->from_hour != it->to_hour;
	for (int hour = 0; hour < 24; hour++) {
		const bool through_midnight = it->from_hour > it->to_hour;
		const bool within = through_midnight ? hour >= it->from_hour || hour < it->to_hour
						     : hour >= it->from_hour && hour < it->to_hour;
		consumer->on_frac[hour] = !window || within ? 1 : 0;
	}
}
