/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/trip_model.h"

#include <math.h>
#include <stdlib.h>

#include "studies/bank_store.h"
#include "studies/solar_bank.h"
#include "studies/solar_doubt.h"
#include "studies/solar_harvest.h"
#include "studies/trip_warmth.h"

enum { MAX_DAYS = 365 };
static const double RAD_PER_DEG = 3.14159265358979323846 / 180.0;
/* Reflected by the ground about a coach; matters to tilted panels only. */
static const double ALBEDO_FRAC = 0.2;

/* ---- the weather of the stay ---- */

int trip_month_at(const trip_model *model, size_t hour)
{
	return rig_month_of_day((model->first_day + (int)(hour / 24)) % RIG_YEAR_DAYS);
}

static bool within_one_month(const trip_model *model)
{
	return model->first_day + model->options.n_days <=
	       rig_month_first_day(model->options.month) + rig_month_n_days(model->options.month);
}

static size_t year_hour(const trip_model *model, size_t hour)
{
	return ((size_t)model->first_day * 24 + hour) % RIG_YEAR_HOURS;
}

/* A year of hours goes on through the year; mean days repeat as soon as they can. */
static size_t period_of(const trip_model *model)
{
	if (model->options.weather)
		return RIG_YEAR_HOURS;
	if (model->options.month >= 0 && within_one_month(model))
		return RIG_DAY_HOURS;
	return model->n_hours;
}

/* Light on an array's plane over the period, from the file's year. */
static void year_light(trip_model *model, int array, double light_wm2[])
{
	const rig_hourly_year *year = model->options.weather;
	const rig_array *it = &model->coach->arrays[array];
	const rig_mount flat = {.albedo_frac = ALBEDO_FRAC};
	rig_mount mount = flat;
	mount.tilt_rad = it->tilt_deg.likely * RAD_PER_DEG;
	mount.heading_rad = it->heading_deg.likely * RAD_PER_DEG;
	double year_wm2[RIG_YEAR_HOURS];
	if (rig_year_on_plane(year, &mount, year_wm2) != RIG_OK) {
		model->notes |= RIG_TRIP_FLAT_LIGHT;
		(void)rig_year_on_plane(year, &flat, year_wm2);
	}
	for (size_t hour = 0; hour < model->n_period; hour++)
		light_wm2[hour] = year_wm2[year_hour(model, hour)];
}

/* The same from mean days. */
static void mean_light(const trip_model *model, int array, double light_wm2[])
{
	double day_wm2[12][RIG_DAY_HOURS];
	bool known[12] = {false};
	for (size_t hour = 0; hour < model->n_period; hour++) {
		const int month = trip_month_at(model, hour);
		if (!known[month]) {
			rig_day_hours day;
			rig_mean_day(model->place, month, &day);
			solar_array_light(&model->coach->arrays[array], &day, day_wm2[month]);
			known[month] = true;
		}
		light_wm2[hour] = day_wm2[month][hour % 24];
	}
}

/* How far the sun of the place may be from its table. */
static double sun_ratio(const trip_model *model, solar_course course)
{
	if (model->options.weather || course == COURSE_LIKELY)
		return 1;
	return course == COURSE_POOR ? model->place->sun_low_ratio : model->place->sun_high_ratio;
}

static rig_status make_temperatures(trip_model *model)
{
	const rig_hourly_year *year = model->options.weather;
	model->temp_c = rig_arena_take(model->arena, model->n_period, sizeof *model->temp_c);
	if (!model->temp_c)
		return RIG_NO_MEMORY;
	for (size_t hour = 0; year && hour < model->n_period; hour++)
		model->temp_c[hour] = year->temp_c[year_hour(model, hour)];
	for (size_t first = 0; !year && first < model->n_period; first += 24) {
		rig_day_hours day;
		rig_mean_day(model->place, trip_month_at(model, first), &day);
		for (size_t hour = 0; hour < 24; hour++)
			model->temp_c[first + hour] = day.temp_c[hour];
	}
	return RIG_OK;
}

static rig_status make_array(trip_model *model, int array)
{
	const size_t n = model->n_period;
	double *light_wm2 = rig_arena_take(model->arena, n, sizeof *light_wm2);
	if (!light_wm2)
		return RIG_NO_MEMORY;
	if (model->options.weather)
		year_light(model, array, light_wm2);
	else
		mean_light(model, array, light_wm2);
	for (int c = 0; c < N_COURSES; c++) {
		const solar_course course = (solar_course)c;
		const solar_output output = solar_output_of(model->coach, array, course, course);
		const double ratio = sun_ratio(model, course);
		double *watts_w = rig_arena_take(model->arena, n, sizeof *watts_w);
		if (!watts_w)
			return RIG_NO_MEMORY;
		for (size_t hour = 0; hour < n; hour++)
			watts_w[hour] = solar_output_w(
				&output, light_wm2[hour] * ratio, model->temp_c[hour]);
		model->watts_w[course][array] = watts_w;
	}
	return RIG_OK;
}

static void list_stores(trip_model *model)
{
	const rig_coach *coach = model->coach;
	for (int chassis = 0; chassis < 2; chassis++)
		for (size_t bank = 0; bank < coach->n_banks; bank++)
			if ((coach->banks[bank].role == RIG_CHASSIS) == (chassis == 1))
				model->bank_of[model->n_stores++] = (int)bank;
}

/* ---- loads ---- */

int trip_store_of(const trip_model *model, int bank)
{
	for (size_t s = 0; s < model->n_stores; s++)
		if (model->bank_of[s] == bank)
			return (int)s;
	return -1;
}

int trip_store_of_load(const trip_model *model, int load)
{
	switch (rig_load_away(model->coach, load, model->options.habit)) {
	case RIG_RUNS_ON_BANK:
		return trip_store_of(model, model->coach->loads[load].bank_index);
	case RIG_RUNS_ON_INVERTER:
		return trip_store_of(model, model->coach->inverter.bank_index);
	case RIG_NEEDS_HOOKUPS:
	case RIG_NEEDS_INVERTER:
	case RIG_EXCEEDS_INVERTER:
	case RIG_HAS_NO_BANK:
	case RIG_OFF_IN_HABIT:
		break;
	}
	return -1;
}

rig_consumer trip_consumer(const trip_model *model, int load)
{
	const rig_load *it = &model->coach->loads[load];
	const int store = trip_store_of_load(model, load);
	rig_consumer consumer = {
		.store = store < 0 ? 0 : (size_t)store,
		.through_inverter = it->supply != RIG_DC,
		.watts_w = it->count * it->running_w.likely,
	};
	(void)rig_load_hours(model->coach, load, model->options.habit, 0, consumer.on_frac);
	if (store >= 0 && trip_by_weather(model->coach, load, model->options.habit))
		trip_run_by_weather(model->coach, load, model->options.habit, &consumer);
	return consumer;
}

bool trip_hold(const trip_model *model, int load, rig_consumer *hold)
{
	const rig_load *it = &model->coach->loads[load];
	const double duty_frac = rig_figure_given(it->duty_frac) ? it->duty_frac.likely : 1;
	*hold = trip_consumer(model, load);
	if (!hold->through_inverter || hold->watts_w <= 0 || hold->duty != RIG_BY_CLOCK ||
		duty_frac >= 1 || duty_frac <= 0 || model->coach->inverter.always_on == RIG_YES)
		return false;
	hold->watts_w = 0;
	hold->keeps_awake = true;
	for (int hour = 0; hour < 24; hour++)
		hold->on_frac[hour] = fmin(1, hold->on_frac[hour] / duty_frac);
	return true;
}

double trip_running_frac(const trip_model *model, const rig_consumer *consumer, size_t hour)
{
	return trip_duty_frac(consumer, hour % 24, model->temp_c[hour % model->n_period]);
}

rig_figure trip_load_wh_day(const trip_model *model, int load)
{
	const int habit = model->options.habit;
	const bool by_weather = trip_store_of_load(model, load) >= 0 &&
				model->coach->loads[load].running_w.likely > 0 &&
				trip_by_weather(model->coach, load, habit);
	return by_weather ? trip_weather_wh_day(model->coach, load, habit,
				    (trip_air){model->temp_c, model->n_period})
			  : solar_load_wh(model->coach, load, habit);
}

double trip_wanted_wh_day(const trip_model *model, const rig_plan *plan, size_t store)
{
	double sum_wh = 0;
	for (size_t hour = 0; hour < model->n_period; hour++) {
		const rig_demand d =
			rig_plan_demand_at(plan, store, hour % 24, model->temp_c[hour]);
		sum_wh += d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh;
	}
	return sum_wh / ((double)model->n_period / 24);
}

static void set_use_ratios(trip_model *model)
{
	solar_sum use[RIG_MAX_STORES] = {{0}};
	for (int load = 0; load < (int)model->coach->n_loads; load++) {
		const int store = trip_store_of_load(model, load);
		if (store >= 0)
			solar_sum_add(&use[store], trip_load_wh_day(model, load));
	}
	for (size_t s = 0; s < model->n_stores; s++) {
		const rig_figure sum = solar_sum_figure(&use[s]);
		const bool any = sum.likely > 0;
		model->use_ratio[COURSE_LIKELY][s] = 1;
		model->use_ratio[COURSE_POOR][s] = any ? sum.high / sum.likely : 1;
		model->use_ratio[COURSE_GOOD][s] = any ? sum.low / sum.likely : 1;
	}
}

rig_status trip_model_make(trip_model *model)
{
	const rig_coach *coach = model->coach;
	const int month = model->options.month;
	model->first_day = month < 0 ? 0 : rig_month_first_day(month);
	model->n_hours = (size_t)model->options.n_days * 24;
	model->n_period = period_of(model);
	list_stores(model);
	rig_status status = make_temperatures(model);
	if (status == RIG_OK)
		set_use_ratios(model);
	for (int c = 0; status == RIG_OK && c < N_COURSES; c++) {
		model->watts_w[c] =
			rig_arena_take(model->arena, coach->n_arrays, sizeof *model->watts_w[c]);
		status = model->watts_w[c] ? RIG_OK : RIG_NO_MEMORY;
	}
	for (int array = 0; status == RIG_OK && array < (int)coach->n_arrays; array++)
		if (coach->arrays[array].bank_index >= 0)
			status = make_array(model, array);
	return status;
}

/* ---- plans ---- */

/* Parts of a plan with the memory behind them. */
typedef struct {
	rig_store stores[RIG_MAX_STORES];
	rig_consumer *consumers;
	rig_source *sources;
	double *own_temp_c; /* n_stores * n_period */
} plan_memory;

static rig_status take_memory(const trip_model *model, plan_memory *memory)
{
	const rig_coach *coach = model->coach;
	memory->consumers = calloc(2 * coach->n_loads + 1, sizeof *memory->consumers);
	memory->sources = calloc(coach->n_arrays + 1, sizeof *memory->sources);
	memory->own_temp_c =
		calloc(model->n_stores * model->n_period + 1, sizeof *memory->own_temp_c);
	return memory->consumers && memory->sources && memory->own_temp_c ? RIG_OK : RIG_NO_MEMORY;
}

static void lay_stores(const trip_model *model, solar_course course, plan_memory *memory)
{
	for (size_t s = 0; s < model->n_stores; s++) {
		const rig_figure own_c = model->coach->banks[model->bank_of[s]].temp_c;
		double *temp_c = memory->own_temp_c + s * model->n_period;
		for (size_t hour = 0; hour < model->n_period; hour++)
			temp_c[hour] = rig_figure_given(own_c) ? own_c.likely : model->temp_c[hour];
		memory->stores[s] = bank_store(model->coach, model->bank_of[s], course, temp_c);
	}
}

static size_t lay_consumers(
	const trip_model *model, const trip_variant *variant, rig_consumer consumers[])
{
	size_t n = 0;
	for (int load = 0; load < (int)model->coach->n_loads; load++) {
		const int store = trip_store_of_load(model, load);
		if (load == variant->cut || store < 0)
			continue;
		consumers[n] = trip_consumer(model, load);
		consumers[n++].watts_w *= model->use_ratio[variant->course][store];
		n += trip_hold(model, load, &consumers[n]);
	}
	return n;
}

static size_t lay_sources(
	const trip_model *model, const trip_variant *variant, rig_source sources[])
{
	double *const *watts_w = model->watts_w[variant->course];
	size_t n = 0;
	for (size_t array = 0; !variant->without_panels && array < model->coach->n_arrays; array++)
		if (watts_w[array])
			sources[n++] = (rig_source){(size_t)trip_store_of(model,
							    model->coach->arrays[array].bank_index),
				watts_w[array]};
	return n;
}

rig_status trip_plan(const trip_model *model, const trip_variant *variant, rig_plan **plan)
{
	plan_memory memory = {.consumers = NULL};
	rig_status status = take_memory(model, &memory);
	if (status != RIG_OK)
		goto out;
	lay_stores(model, variant->course, &memory);
	rig_inverting inverter = bank_inverting(model->coach, variant->course);
	if (inverter.present)
		inverter.store = (size_t)trip_store_of(model, model->coach->inverter.bank_index);
	const rig_plan_parts parts = {
		.n_hours = model->n_period,
		.n_knots = 1,
		.n_stores = model->n_stores,
		.n_sources = lay_sources(model, variant, memory.sources),
		.n_consumers = lay_consumers(model, variant, memory.consumers),
		.stores = memory.stores,
		.sources = memory.sources,
		.consumers = memory.consumers,
		.inverter = inverter,
		.outdoor_c = model->temp_c,
	};
	status = rig_plan_new(&parts, plan);
out:
	free(memory.consumers);
	free(memory.sources);
	free(memory.own_temp_c);
	return status;
}

/* ---- until it is empty ---- */

/* No lower in either well than a whole period before: one more period can never bring it lower. */
static bool holds(rig_wells now, rig_wells before)
{
	const double slack = 1e-9 * (before.available + before.bound);
	return now.available >= before.available - slack && now.bound >= before.bound - slack;
}

double trip_days_until_short(const trip_model *model, const rig_plan *plan, size_t store)
{
	rig_standing standing = rig_plan_start(plan);
	rig_wells before = standing.wells[store];
	for (size_t day = 0; day < MAX_DAYS; day++) {
		rig_hour hours[RIG_DAY_HOURS * RIG_MAX_STORES];
		rig_plan_trace(plan, NULL, RIG_DAY_HOURS, &standing, hours);
		for (size_t hour = 0; hour < RIG_DAY_HOURS; hour++) {
			const double short_frac = hours[hour * model->n_stores + store].short_frac;
			if (short_frac > 0)
				return (double)day + ((double)hour + 1 - short_frac) / 24;
		}
		if (standing.hour % model->n_period != 0)
			continue;
		if (holds(standing.wells[store], before))
			return RIG_TRIP_DAYS_MAX;
		before = standing.wells[store];
	}
	return RIG_TRIP_DAYS_MAX;
}
