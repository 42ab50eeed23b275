/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/daylight.h"

#include <math.h>

#include "physics/root.h"
#include "rigbudget/irradiance.h"

static const double PI = 3.14159265358979323846;
static const double RAD_PER_HOUR = 3.14159265358979323846 / 12;
static const double RAD_PER_DEG = 3.14159265358979323846 / 180;

/* Midway between leap years, so that its days stand where those of all years stand on average. */
static const int SUN_YEAR = 2026;

daylight daylight_of(const rig_place *place, int day_of_year)
{
	const double noon_utc = 24.0 * day_of_year + 12 - place->longitude_deg / 15;
	const rig_sun sun = rig_sun_at(rig_julian_day(SUN_YEAR, 0, 1, noon_utc));
	daylight light = {.sun = {.latitude_rad = place->latitude_deg * RAD_PER_DEG,
				  .declination_rad = sun.declination_rad,
				  .normal_wm2 = rig_sun_normal_wm2(sun.distance_au)}};
	light.sunset_rad = rig_sun_sunset_rad(light.sun.latitude_rad, light.sun.declination_rad);
	light.first_rad =
		(sun.equation_of_time_minutes / 60 - 12 - place->utc_offset_h) * RAD_PER_HOUR +
		place->longitude_deg * RAD_PER_DEG;
	return light;
}

double daylight_hour_rad(const daylight *light, int hour)
{
	return remainder(light->first_rad + hour * RAD_PER_HOUR, 2 * PI);
}

double daylight_time_h(const daylight *light, double hour_angle_rad)
{
	const double hours = (hour_angle_rad - light->first_rad) / RAD_PER_HOUR;
	return hours - 24 * floor(hours / 24);
}

/* The part of an hour that lies in the day about the noon that is `turns` days away. */
static double lit_part(const daylight *light, int hour, int turns, double *middle_rad)
{
	const double begin = daylight_hour_rad(light, hour) - turns * 2 * PI;
	const double from = fmax(begin, -light->sunset_rad);
	const double to = fmin(begin + RAD_PER_HOUR, light->sunset_rad);
	*middle_rad = (from + to) / 2;
	return to > from ? (to - from) / RAD_PER_HOUR : 0;
}

/* An hour that holds midnight has two parts where the sun hardly sets: the longer one's middle
 * stands for both. */
double daylight_lit_frac(const daylight *light, int hour, double *middle_rad)
{
	double second_rad = 0;
	const double first = lit_part(light, hour, 0, middle_rad);
	const double second = lit_part(light, hour, 1, &second_rad);
	if (second > first)
		*middle_rad = second_rad;
	return first + second;
}

static double top_wh(const daylight *light, int hour)
{
	const double begin = daylight_hour_rad(light, hour);
	const double end = begin + RAD_PER_HOUR;
	double sum = rig_sun_span_wh_m2(&light->sun, begin, fmin(end, PI));
	if (end > PI)
		sum += rig_sun_span_wh_m2(&light->sun, -PI, end - 2 * PI);
	return sum;
}

void daylight_sun(const daylight *light, rig_day_hours *hours)
{
	hours->normal_wm2 = light->sun.normal_wm2;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		double middle_rad = 0;
		hours->cos_zenith[hour] = hours->azimuth_rad[hour] = 0;
		hours->extraterrestrial_wm2[hour] = top_wh(light, hour);
		if (daylight_lit_frac(light, hour, &middle_rad) <= 0)
			continue;
		const rig_direction sun = rig_sun_direction_at(
			light->sun.latitude_rad, light->sun.declination_rad, middle_rad);
		hours->cos_zenith[hour] = fmax(0, cos(sun.zenith_rad));
		hours->azimuth_rad[hour] = sun.azimuth_rad;
	}
}

/* Integral of a share over the sunlit part of an hour by Gauss's rule with five points: exact to
 * 1e-9 for these sums of cosines. */
static double hour_share(
	const daylight *light, int hour, double (*share)(double angle_rad, double sunset_rad))
{
	static const double AT[5] = {-0.9061798459386640, -0.5384693101056831, 0,
		0.5384693101056831, 0.9061798459386640};
	static const double WEIGHT[5] = {0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
		0.4786286704993665, 0.2369268850561891};
	double sum = 0;
	for (int turns = 0; turns < 2; turns++) {
		double middle_rad = 0;
		const double lit_h = lit_part(light, hour, turns, &middle_rad);
		for (int i = 0; i < 5 && lit_h > 0; i++) {
			const double angle_rad = middle_rad + AT[i] * lit_h / 2 * RAD_PER_HOUR;
			sum += WEIGHT[i] / 2 * lit_h * share(angle_rad, light->sunset_rad);
		}
	}
	return sum;
}

static double sum_of(const double values[RIG_DAY_HOURS])
{
	double sum = 0;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		sum += values[hour];
	return sum;
}

static void scale(double values[RIG_DAY_HOURS], double factor)
{
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		values[hour] *= factor;
}

/* Multiplies the hours that are below global, as far as global; true if one came to it. */
static bool fill_hours(
	const double global[RIG_DAY_HOURS], double factor, double diffuse[RIG_DAY_HOURS])
{
	bool over = false;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		if (diffuse[hour] >= global[hour])
			continue;
		diffuse[hour] *= factor;
		over = over || diffuse[hour] > global[hour];
		diffuse[hour] = fmin(diffuse[hour], global[hour]);
	}
	return over;
}

/* Scales diffuse to its sum with no hour above global: what an hour cannot take goes to the others.
 * Each turn fills at least one more hour, so that 24 turns are enough. */
static void fill_below(
	const double global[RIG_DAY_HOURS], double sum, double diffuse[RIG_DAY_HOURS])
{
	for (int turn = 0; turn < RIG_DAY_HOURS; turn++) {
		double full = 0;
		double open = 0;
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
			*(diffuse[hour] >= global[hour] ? &full : &open) += diffuse[hour];
		if (open <= 0 || !fill_hours(global, (sum - full) / open, diffuse))
			return;
	}
}

daylight_shape daylight_shape_of(const daylight *light)
{
	daylight_shape shape = {.up = light->sunset_rad > 0};
	const int noon = (int)floor(daylight_time_h(light, 0));
	for (int hour = 0; hour < RIG_DAY_HOURS && shape.up; hour++) {
		shape.global[hour] = fmax(0, hour_share(light, hour, rig_hour_share_global));
		shape.diffuse[hour] = fmax(0, hour_share(light, hour, rig_hour_share_diffuse));
	}
	for (int hour = noon - 1; hour <= noon + 1 && !shape.up; hour++) {
		const int at = (hour + RIG_DAY_HOURS) % RIG_DAY_HOURS;
		shape.global[at] = shape.diffuse[at] = 1;
	}
	scale(shape.global, 1 / sum_of(shape.global));
	scale(shape.diffuse, 1 / sum_of(shape.diffuse));
	return shape;
}

void daylight_spread(const daylight_shape *shape, double global_wh_m2, double diffuse_wh_m2,
	rig_day_hours *hours)
{
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		hours->ghi_wm2[hour] = global_wh_m2 * shape->global[hour];
		hours->dhi_wm2[hour] =
			fmin(diffuse_wh_m2 * shape->diffuse[hour], hours->ghi_wm2[hour]);
		if (!shape->up)
			hours->dhi_wm2[hour] = hours->ghi_wm2[hour];
	}
	if (shape->up)
		fill_below(hours->ghi_wm2, diffuse_wh_m2, hours->dhi_wm2);
}

/* ---- temperature ---- */

/* The day's high comes so long after noon, and the night's fall from sunset goes through so many
 * e-folds: [PARTON-1981], air at 1.5 m, from memory. */
static const double HIGH_AFTER_NOON_H = 1.86;
static const double NIGHT_FOLDS = 2.2;

/* 0 at the low, 1 at the high: a sine by day and an exponential by night. Where the sun does not
 * rise or set, one wave with its low at midnight. */
static double wave_at(const daylight *light, double time_h)
{
	const double day_h = 2 * light->sunset_rad / RAD_PER_HOUR;
	double since_h = time_h - daylight_time_h(light, -light->sunset_rad);
	since_h -= 24 * floor(since_h / 24);
	if (day_h <= 0 || day_h >= 24)
		return (1 - cos((time_h - daylight_time_h(light, -PI)) * RAD_PER_HOUR)) / 2;
	const double whole_h = day_h + 2 * HIGH_AFTER_NOON_H;
	if (since_h < day_h)
		return sin(PI * since_h / whole_h);
	return sin(PI * day_h / whole_h) * exp(-NIGHT_FOLDS * (since_h - day_h) / (24 - day_h));
}

static void waves(const daylight *light, double wave[RIG_DAY_HOURS])
{
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		wave[hour] = wave_at(light, hour + 0.5);
}

typedef struct {
	double log_wave[RIG_DAY_HOURS]; /* at most 0 */
	double mean_frac;
} bending;

/* How far the mean of a wave bent by e^log_bend is above the one that is wanted. */
static double bent_excess(double log_bend, const void *context)
{
	const bending *wanted = context;
	const double bend = exp(log_bend);
	double sum = 0;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		sum += exp(bend * wanted->log_wave[hour]);
	return sum / RIG_DAY_HOURS - wanted->mean_frac;
}

/* Bends from 0.02 to 50 reach every mean but those next to the low or the high, whose day then
 * keeps the last bend. */
void daylight_wave(const daylight *light, double mean_frac, double wave[RIG_DAY_HOURS])
{
	static const double GENTLE = 0.02, SHARP = 50;
	static const double LOWEST = 1e-300;
	bending wanted = {.mean_frac = mean_frac};
	double log_bend = 0;
	waves(light, wave);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		wanted.log_wave[hour] = log(fmax(wave[hour], LOWEST));
	if (rig_root(bent_excess, &wanted, log(GENTLE), log(SHARP), &log_bend) != RIG_OK)
		log_bend = log(mean_frac > 0.5 ? GENTLE : SHARP);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		wave[hour] = exp(exp(log_bend) * wanted.log_wave[hour]);
}

void daylight_warmth(const daylight *light, const warmth *day, double temp_c[RIG_DAY_HOURS])
{
	const double swing_k = day->high_c - day->low_c;
	daylight_wave(light, swing_k > 0 ? (day->mean_c - day->low_c) / swing_k : 0.5, temp_c);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		temp_c[hour] = day->low_c + swing_k * temp_c[hour];
}

/* ---- public ---- */

void rig_sun_hours(const rig_place *place, int day_of_year, rig_day_hours *hours)
{
	const daylight light = daylight_of(place, day_of_year);
	*hours = (rig_day_hours){.normal_wm2 = 0};
	daylight_sun(&light, hours);
}

void rig_mean_day(const rig_place *place, int month, rig_day_hours *hours)
{
	const daylight light = daylight_of(place, rig_month_mean_day(month));
	const warmth day = {
		place->temp_min_c[month], place->temp_mean_c[month], place->temp_max_c[month]};
	const daylight_shape shape = daylight_shape_of(&light);
	daylight_sun(&light, hours);
	daylight_spread(&shape, 1000 * place->ghi_kwh_m2_day[month],
		1000 * place->dhi_kwh_m2_day[month], hours);
	daylight_warmth(&light, &day, hours->temp_c);
}
