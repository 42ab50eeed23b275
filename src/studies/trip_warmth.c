/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/trip_warmth.h"

#include <math.h>

#include "rigbudget/thermal.h"
#include "rigbudget/trip.h"
#include "studies/solar_doubt.h"

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

double trip_duty_frac(const rig_consumer *consumer, size_t clock_hour, double air_c)
{
	const double on = consumer->on_frac[clock_hour];
	const double away_k = consumer->duty == RIG_BY_COLD ? consumer->balance_c - air_c
							    : air_c - consumer->balance_c;
	return consumer->duty == RIG_BY_CLOCK
		       ? on
		       : on * fmin(1, fmax(0, consumer->duty_per_k * away_k));
}

static rig_consumer by_weather(const rig_coach *coach, int load, int habit)
{
	rig_consumer consumer = {
		.watts_w = coach->loads[load].count * coach->loads[load].running_w.likely};
	trip_run_by_weather(coach, load, habit, &consumer);
	return consumer;
}

rig_figure trip_weather_wh_day(const rig_coach *coach, int load, int habit, trip_air air)
{
	const rig_consumer consumer = by_weather(coach, load, habit);
	double sum_wh = 0;
	for (size_t hour = 0; hour < air.n_hours; hour++)
		sum_wh += consumer.watts_w * trip_duty_frac(&consumer, hour % 24, air.temp_c[hour]);
	const double likely_wh = sum_wh / ((double)air.n_hours / 24);
	const rig_figure watts = coach->loads[load].running_w;
	const rig_figure loss = trip_loss_w_per_k(coach);
	const rig_figure parts[] = {rig_figure_scale(watts, likely_wh / watts.likely),
		rig_figure_scale(loss, likely_wh / loss.likely)};
	return solar_combined(2, parts);
}

void trip_weather_hours(
	const rig_coach *coach, int load, int habit, const double temp_c[24], double on_frac[24])
{
	const rig_consumer consumer = by_weather(coach, load, habit);
	for (size_t hour = 0; hour < 24; hour++)
		on_frac[hour] = trip_duty_frac(&consumer, hour, temp_c[hour]);
}
