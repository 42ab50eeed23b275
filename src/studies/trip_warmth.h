/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_warmth.h: loads that run as long as the weather asks. For neighbours. */
#ifndef STUDIES_TRIP_WARMTH_H
#define STUDIES_TRIP_WARMTH_H

#include "rigbudget/coach.h"
#include "rigbudget/energy.h"

/* Whether the weather decides how long a completed load runs: it moves heat, and neither the file
 * nor the habit says its hours. */
bool trip_by_weather(const rig_coach *coach, int load, int habit);

/* The heat that the coach loses, W/K, as stated or by its length: rig_coach_body. */
rig_figure trip_loss_w_per_k(const rig_coach *coach);

/* Makes a load's consumer run by the weather: at the balance temperature the gains make up for what
 * the shell loses; each K from there asks for loss_w_per_k of all such loads that are carried. Heat
 * of the sun, and what walls hold from one hour to the next, are left out: the mean of a day is
 * right, its hours run ahead. */
void trip_run_by_weather(const rig_coach *coach, int load, int habit, rig_consumer *consumer);

/* An outdoor temperature by hour, from the first hour of a day on. */
typedef struct {
	const double *temp_c;
	size_t n_hours; /* a multiple of 24 */
} trip_air;

/* What a carried load by the weather receives in a day, mean over the air's days, Wh; in doubt by
 * its watts and by what the coach loses. */
rig_figure trip_weather_wh_day(const rig_coach *coach, int load, int habit, trip_air air);

/* Share of each hour of one day in which it runs: by the clock where the day is known. */
void trip_weather_hours(
	const rig_coach *coach, int load, int habit, const double temp_c[24], double on_frac[24]);

/* Share of an hour in which a consumer runs at an outdoor temperature. */
double trip_duty_frac(const rig_consumer *consumer, size_t clock_hour, double air_c);

#endif
