/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/ladder.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/trip.h"
#include "studies/solar_doubt.h"
#include "studies/trip_warmth.h"

/* A day's use that people ask about; 0 hours: as the profile has it (common practice, no source).
 */
static const struct {
	const char *profile;
	double use_h;
} USUAL[] = {
	{"phone_charging", 0},
	{"led_light", 0},
	{"water_pump", 0},
	{"roof_vent_fan", 0},
	{"fridge_absorption_control", 0},
	{"furnace_35k", 0},
	{"router_cellular", 0},
	{"tv_led_32", 0},
	{"laptop", 0},
	{"fridge_12v_large", 0},
	{"fridge_residential", 0},
	{"microwave_800", 1.0 / 6.0},
	{"coffee_maker", 0},
	{"roof_ac_13k5", 1},
};
enum { N_USUAL = sizeof USUAL / sizeof USUAL[0] };

/* Profiles of which a coach needs but one to be told about: the first that it has stands for all.
 */
static const char *const ALIKE[] = {"furnace_", "tv_", "fridge_12v_", "microwave_", "roof_ac_",
	"fridge_absorption_", "router_"};
enum { N_ALIKE = sizeof ALIKE / sizeof ALIKE[0] };

static bool alike(const char *a, const char *b)
{
	for (int i = 0; i < N_ALIKE; i++)
		if (strncmp(a, ALIKE[i], strlen(ALIKE[i])) == 0)
			return strncmp(b, ALIKE[i], strlen(ALIKE[i])) == 0;
	return strcmp(a, b) == 0;
}

/* The coach's first load of that kind; -1 if it has none. */
static int load_like(const rig_coach *coach, const char *profile)
{
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_appliance *appliance = coach->loads[i].appliance;
		if (appliance != NULL && alike(profile, appliance->id))
			return (int)i;
	}
	return -1;
}

static rig_figure product3(rig_figure a, rig_figure b, rig_figure c)
{
	const rig_figure parts[] = {
		rig_figure_scale(a, b.likely * c.likely),
		rig_figure_scale(b, a.likely * c.likely),
		rig_figure_scale(c, a.likely * b.likely),
	};
	return solar_combined(3, parts);
}

/* Watt-hours at the bank. An inverter that is not on anyway is on for the hours of use. */
static rig_figure at_bank_wh(
	const solar_case *it, const rig_rung *rung, rig_figure at_load_wh, double use_h)
{
	if (!rung->through_inverter)
		return at_load_wh;
	const rig_inverter *own = &it->coach->inverter;
	const solar_inverter inverter = solar_inverter_of(it->coach);
	solar_sum sum = {0};
	solar_sum_add(&sum, solar_through_inverter(&inverter, at_load_wh, rung->running_w.likely));
	const bool on_anyway =
		own->present && own->always_on == RIG_YES && own->bank_index == it->bank.bank;
	if (!on_anyway)
		solar_sum_add(
			&sum, rig_figure_scale(inverter.fixed_frac, inverter.rated_w * use_h));
	return solar_sum_figure(&sum);
}

static void set_wh(const solar_case *it, rig_rung *rung, rig_figure at_load_wh)
{
	rung->through_inverter = rung->supply == RIG_AC;
	rung->inverter_too_small = rung->through_inverter && it->coach->inverter.present &&
				   rung->running_w.likely > solar_inverter_of(it->coach).rated_w;
	rung->wh_day = at_bank_wh(it, rung, at_load_wh, rung->use_h_day.likely);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++)
		rung->month_wh_day[m] = rung->wh_day;
}

/* What runs by the weather, month by month. */
static void set_weather_wh(const solar_case *it, rig_rung *rung)
{
	const double watts_w = rung->running_w.likely;
	rung->by_weather = true;
	rung->duty_frac = rig_figure_of(1, RIG_FROM_COMPUTED);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_figure wh = solar_month_load_wh(&it->usage, rung->load, m);
		const double use_h = wh.likely / watts_w;
		rung->month_wh_day[m] = at_bank_wh(it, rung, wh, use_h);
		if (m != it->use_month)
			continue;
		rung->wh_day = rung->month_wh_day[m];
		rung->use_h_day = rig_figure_of(use_h, RIG_FROM_COMPUTED);
	}
}

static rig_rung rung_of_profile(const solar_case *it, const rig_appliance *appliance, double use_h)
{
	rig_rung rung = {
		.id = appliance->id,
		.name = appliance->label,
		.load = -1,
		.appliance = appliance,
		.supply = appliance->supply,
		.running_w = appliance->running_w,
		.use_h_day =
			use_h > 0 ? rig_figure_of(use_h, RIG_FROM_STATED) : appliance->daily_use_h,
		.duty_frac = appliance->duty_frac,
	};
	set_wh(it, &rung, product3(rung.running_w, rung.use_h_day, rung.duty_frac));
	return rung;
}

static rig_figure hours_of_use(const solar_case *it, int load)
{
	const rig_coach *coach = it->coach;
	const int habit = it->ground->options.habit;
	for (size_t i = 0; habit >= 0 && i < coach->habits[habit].n_use; i++) {
		const rig_use *use = &coach->habits[habit].use[i];
		if (use->load_index == load && rig_figure_given(use->daily_use_h))
			return use->daily_use_h;
	}
	return coach->loads[load].daily_use_h;
}

static rig_rung rung_of_load(const solar_case *it, int load, double use_h)
{
	const rig_load *own = &it->coach->loads[load];
	rig_rung rung = {
		.id = own->id,
		.name = own->name,
		.load = load,
		.appliance = own->appliance,
		.supply = own->supply,
		.running_w = rig_figure_scale(own->running_w, own->count),
		.use_h_day =
			use_h > 0 ? rig_figure_of(use_h, RIG_FROM_STATED) : hours_of_use(it, load),
		.duty_frac = own->duty_frac,
		.always_on = own->always_on == RIG_YES,
	};
	rung.running_w.from = own->running_w.from;
	const int habit = it->ground->options.habit;
	const bool used = rig_load_away(it->coach, load, habit) <= RIG_RUNS_ON_INVERTER;
	set_wh(it, &rung,
		used && use_h <= 0 ? solar_load_wh(it->coach, load, habit)
				   : product3(rung.running_w, rung.use_h_day, rung.duty_frac));
	if (used && use_h <= 0 && own->running_w.likely > 0 &&
		trip_by_weather(it->coach, load, habit))
		set_weather_wh(it, &rung);
	return rung;
}

/* Does the coach use this load from this bank, away from hookups? */
static bool is_own(const solar_case *it, int load)
{
	const rig_away away = rig_load_away(it->coach, load, it->ground->options.habit);
	const rig_load *own = &it->coach->loads[load];
	if (own->always_on == RIG_YES)
		return false;
	return (away == RIG_RUNS_ON_BANK && own->bank_index == it->bank.bank) ||
	       (away == RIG_RUNS_ON_INVERTER && it->coach->inverter.bank_index == it->bank.bank);
}

static bool has_rung(const rig_solar_bank *bank, int load)
{
	for (size_t i = 0; i < bank->n_rungs; i++)
		if (load >= 0 && bank->rungs[i].load == load)
			return true;
	return false;
}

static void add_usual(const solar_case *it, rig_solar_bank *bank)
{
	for (int i = 0; i < N_USUAL; i++) {
		const rig_appliance *appliance = rig_appliance_find(USUAL[i].profile);
		const int load = load_like(it->coach, USUAL[i].profile);
		if (has_rung(bank, load) || (load < 0 && appliance == NULL))
			continue;
		bank->rungs[bank->n_rungs++] =
			load >= 0 ? rung_of_load(it, load, USUAL[i].use_h)
				  : rung_of_profile(it, appliance, USUAL[i].use_h);
	}
}

static int smaller_first(const void *a, const void *b)
{
	const rig_rung *x = a, *y = b;
	if (x->wh_day.likely != y->wh_day.likely)
		return x->wh_day.likely < y->wh_day.likely ? -1 : 1;
	return strcmp(x->id, y->id);
}

/* Harvest less standing draw less what is wanted besides, on a course. */
static bool covers(rig_figure harvest, rig_figure standing, rig_figure wanted, solar_course course)
{
	return solar_end(harvest, course) >=
	       solar_against(standing, course) + solar_against(wanted, course);
}

static rig_carried carried_by(rig_figure harvest, rig_figure standing, rig_figure wanted)
{
	if (covers(harvest, standing, wanted, COURSE_POOR))
		return RIG_CAN;
	return covers(harvest, standing, wanted, COURSE_GOOD) ? RIG_MAY : RIG_CANNOT;
}

/* What is left after the standing draw, nothing at least, over what is wanted. */
static rig_figure share_of(rig_figure harvest, rig_figure standing, rig_figure wanted)
{
	double share[N_COURSES];
	for (solar_course course = 0; course < N_COURSES; course++)
		share[course] =
			fmax(0.0, solar_end(harvest, course) - solar_against(standing, course)) /
			solar_against(wanted, course);
	return solar_ordered(share[COURSE_POOR], share[COURSE_LIKELY], share[COURSE_GOOD]);
}

static const rig_figure NONE = {.from = RIG_FROM_COMPUTED};

static void judge_rung(const rig_solar_bank *bank, rig_rung *rung)
{
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		const rig_solar_bank_month *month = &bank->months[m];
		rung->carried[m] = carried_by(month->harvest_wh_day, bank->standing_wh_day,
			rung->always_on ? NONE : rung->month_wh_day[m]);
		if (rung->always_on)
			rung->covered_ratio[m] = month->standing_ratio;
		else if (rung->month_wh_day[m].low > 0)
			rung->covered_ratio[m] = share_of(month->harvest_wh_day,
				bank->standing_wh_day, rung->month_wh_day[m]);
	}
}

/* own: the sum of each month so far. */
static void judge_together(
	const solar_case *it, const rig_solar_bank *bank, rig_rung *rung, solar_sum own[])
{
	if (rung->load < 0 || !is_own(it, rung->load))
		return;
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		solar_sum_add(&own[m], rung->month_wh_day[m]);
		rung->own_together[m] = carried_by(bank->months[m].harvest_wh_day,
			bank->standing_wh_day, solar_sum_figure(&own[m]));
	}
	rung->own_together_wh_day = solar_sum_figure(&own[it->use_month]);
}

static rig_rung standing_rung(const rig_solar_bank *bank)
{
	return (rig_rung){
		.id = "standing",
		.load = -1,
		.supply = RIG_DC,
		.wh_day = bank->standing_wh_day,
		.always_on = true,
	};
}

rig_status solar_ladder(solar_case *it, rig_solar_bank *bank)
{
	bank->rungs = rig_arena_take(
		it->ground->arena, 1 + N_USUAL + it->coach->n_loads, sizeof *bank->rungs);
	if (bank->rungs == NULL)
		return RIG_NO_MEMORY;
	bank->rungs[0] = standing_rung(bank);
	bank->n_rungs = 1;
	if (it->house) {
		for (int load = 0; load < (int)it->coach->n_loads; load++)
			if (is_own(it, load))
				bank->rungs[bank->n_rungs++] = rung_of_load(it, load, 0);
		add_usual(it, bank);
		qsort(bank->rungs + 1, bank->n_rungs - 1, sizeof *bank->rungs, smaller_first);
	}
	solar_sum own[RIG_SOLAR_MONTHS] = {{0}};
	for (size_t i = 0; i < bank->n_rungs; i++) {
		judge_rung(bank, &bank->rungs[i]);
		judge_together(it, bank, &bank->rungs[i], own);
	}
	return RIG_OK;
}
