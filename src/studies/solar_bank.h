/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_bank.h: a bank of a completed coach, what stands on it day and night and what is used from
 * it, as figures and as parts of a plan. For neighbours. */
#ifndef STUDIES_SOLAR_BANK_H
#define STUDIES_SOLAR_BANK_H

#include "base/arena.h"
#include "rigbudget/coach.h"
#include "rigbudget/energy.h"
#include "rigbudget/solar.h"
#include "studies/solar_harvest.h"
#include "studies/solar_output.h"

/* Where two sides meet, what is brought and what is drawn, each is taken on a course 1/sqrt(2) of
 * the way to its end, in logarithms: together they are then as far out as two independent sides are
 * that are equally in doubt (sides unequally in doubt: up to 0.29 of the width too narrow). end is
 * for what helps the more of it there is, against for what hinders. Figures >= 0. */
double solar_end(rig_figure figure, solar_course course);
double solar_against(rig_figure figure, solar_course course);

/* What draws on a bank in a month; loads that run by the weather do so on its mean day. */
typedef struct {
	rig_consumer *consumers; /* likely, on store 0 */
	rig_figure use_wh_day;   /* standing draw included */
} solar_use;

typedef struct {
	const rig_coach *coach;
	int bank, habit;
	size_t n_consumers; /* alike in all months */
	solar_use months[RIG_SOLAR_MONTHS];
	rig_inverting inverter;
	size_t n_standing;
	rig_standing_item *standing; /* largest first */
	rig_figure standing_wh_day;
} solar_bank;

/* Which bank of a coach, used how, in what weather. */
typedef struct {
	const rig_coach *coach;
	int bank, habit;        /* habit: index, or -1 */
	const solar_sky *skies; /* of the twelve months */
} solar_usage;

/* Whether anything that draws on the bank runs by the weather: else its skies are not looked at. */
bool solar_bank_by_weather(const solar_usage *usage);

/* RIG_NO_MEMORY. */
rig_status solar_bank_of(const solar_usage *usage, rig_arena *arena, solar_bank *made);
/* What draws on it only, without a figure of the use: enough for trials on the likely course. */
rig_status solar_bank_draws(const solar_usage *usage, rig_arena *arena, solar_bank *made);

/* The inverter's losses as a curve; rated for a usual coach when the coach has none. */
typedef struct {
	double rated_w;
	rig_figure fixed_frac, linear_frac, square_frac;
	bool assumed;
} solar_inverter;
solar_inverter solar_inverter_of(const rig_coach *coach);

/* Drawn at the bank for so many Wh of watts_w through an inverter, without its idle draw, Wh:
 * Wh (1 + linear + square watts / rated). */
rig_figure solar_through_inverter(const solar_inverter *inverter, rig_figure ac_wh, double watts_w);

/* Wh a day that one load of the coach receives, all of its count; the doubt of its watts and of its
 * hours are taken as independent. */
rig_figure solar_load_wh(const rig_coach *coach, int load, int habit);
/* The same on the mean day of a month, for a load that may run by the weather. */
rig_figure solar_month_load_wh(const solar_usage *usage, int load, int month);

/* A bank on one course, with the watts that fill it, through days like one of a month. */
typedef struct {
	const solar_bank *bank;
	int month;             /* whose use */
	solar_course course;   /* of the bank and of what draws on it */
	const double *temp_c;  /* by hour of the day */
	const double *watts_w; /* [hour * n_knots + knot] */
	size_t n_knots;
	double factor; /* times watts_w; 0: no array */
} solar_trial;

rig_status solar_trial_plan(const solar_trial *trial, rig_plan **plan);
/* The same plan for another factor > 0, of a plan that was made with one. */
void solar_trial_refill(const solar_trial *trial, rig_plan *plan);

/* Days that a full bank lasts, mean weather, one sky; INFINITY if it never runs out, or not within
 * horizon_days. plan: solar_trial_plan's, of one knot. */
double solar_plan_days(const rig_plan *plan, double horizon_days);

#endif
