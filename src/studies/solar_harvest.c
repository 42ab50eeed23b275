/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_harvest.h"

#include <math.h>

#include "rigbudget/irradiance.h"
#include "studies/solar_doubt.h"
#include "studies/solar_output.h"

static const double RAD_PER_DEG = 3.14159265358979323846 / 180.0;

/* Haze of a clear day, between very clear (2) and clean (3): a day that is as good as it gets. */
static const double CLEAR_TURBIDITY = 2.5;
/* Nine years in ten lie within so many standard deviations. */
static const double NINE_IN_TEN_SD = 1.645;
/* Reflected by the ground about a coach; matters to tilted panels only. */
static const double ALBEDO_FRAC = 0.2;

double solar_year_scatter_frac(void)
{
	return rig_month_scatter_frac().likely;
}

static void clear_hour(const rig_place *place, int month, int hour, rig_day_hours *day)
{
	const double cos_zenith = day->cos_zenith[hour];
	if (cos_zenith <= 0)
		return;
	const double zenith_rad = acos(cos_zenith);
	const double normal_wm2 = rig_sun_day_normal_wm2(rig_sun_mean_day(month));
	const rig_clear_sky sky = {
		.zenith_rad = zenith_rad,
		.air_mass = rig_sun_air_mass(zenith_rad) *
			    rig_pressure_ratio(fmax(0.0, place->elevation_m)),
		.normal_wm2 = normal_wm2,
		.elevation_m = fmax(0.0, place->elevation_m),
		.linke_turbidity = CLEAR_TURBIDITY,
	};
	const rig_light light = rig_ineichen(&sky);
	/* the part of the hour with the sun up */
	const double lit_frac =
		fmin(1.0, day->extraterrestrial_wm2[hour] / (normal_wm2 * cos_zenith));
	day->ghi_wm2[hour] = light.global_wm2 * lit_frac;
	day->dhi_wm2[hour] = light.diffuse_wm2 * lit_frac;
}

void solar_sky_of(const rig_place *place, int month, solar_sky *sky)
{
	rig_mean_day(place, month, &sky->mean);
	sky->clear = sky->mean;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		sky->clear.ghi_wm2[hour] = sky->clear.dhi_wm2[hour] = 0.0;
		clear_hour(place, month, hour, &sky->clear);
	}
}

static void light_on(const rig_day_hours *hours, double tilt_deg, double heading_deg,
	double light_wm2[RIG_DAY_HOURS])
{
	const rig_mount mount = {.tilt_rad = tilt_deg * RAD_PER_DEG,
		.heading_rad = heading_deg * RAD_PER_DEG,
		.albedo_frac = ALBEDO_FRAC};
	rig_day_on_plane(hours, &mount, light_wm2);
}

void solar_array_light(
	const rig_array *array, const rig_day_hours *hours, double light_wm2[RIG_DAY_HOURS])
{
	light_on(hours, array->tilt_deg.likely, array->heading_deg.likely, light_wm2);
}

static double day_wh(const solar_output *output, const double light_wm2[RIG_DAY_HOURS],
	const double air_c[RIG_DAY_HOURS], double watts_w[RIG_DAY_HOURS])
{
	double sum_wh = 0.0;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		const double hour_w = solar_output_w(output, light_wm2[hour], air_c[hour]);
		if (watts_w != NULL)
			watts_w[hour] = hour_w;
		sum_wh += hour_w;
	}
	return sum_wh;
}

double solar_likely_wh(const rig_array *array, const solar_output *output, const rig_day_hours *day,
	double watts_w[RIG_DAY_HOURS])
{
	double light_wm2[RIG_DAY_HOURS], hour_w[RIG_DAY_HOURS];
	solar_array_light(array, day, light_wm2);
	const double wh = day_wh(output, light_wm2, day->temp_c, hour_w);
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		watts_w[hour] += hour_w[hour];
	return wh;
}

/* An array at the ends of its figures, made once for all months. */
typedef struct {
	solar_output likely, unlimited, poor_watts, good_watts, poor_losses, good_losses;
} outputs;

static outputs outputs_of(const rig_coach *coach, int array)
{
	outputs all = {
		.likely = solar_output_of(coach, array, COURSE_LIKELY, COURSE_LIKELY),
		.poor_watts = solar_output_of(coach, array, COURSE_POOR, COURSE_LIKELY),
		.good_watts = solar_output_of(coach, array, COURSE_GOOD, COURSE_LIKELY),
		.poor_losses = solar_output_of(coach, array, COURSE_LIKELY, COURSE_POOR),
		.good_losses = solar_output_of(coach, array, COURSE_LIKELY, COURSE_GOOD),
	};
	all.unlimited = all.likely;
	all.unlimited.limit_a = INFINITY;
	return all;
}

static bool has_range(rig_figure figure)
{
	return figure.low < figure.high;
}

/* Headings tried across a range: its ends may face the same way. */
enum { N_HEADINGS = 5 };

/* How the harvest changes over the ranges of tilt and heading: least and most over the likely. */
static rig_figure mounting_ratio(const rig_array *array, const rig_day_hours *day,
	const solar_output *output, double likely_wh)
{
	rig_figure ratio = rig_figure_of(1.0, RIG_FROM_COMPUTED);
	if (likely_wh <= 0 || (!has_range(array->tilt_deg) && !has_range(array->heading_deg)))
		return ratio;
	for (int i = 0; i < 2 * N_HEADINGS; i++) {
		const int step = i / 2;
		const double tilt_deg = i % 2 == 0 ? array->tilt_deg.low : array->tilt_deg.high;
		const double heading_deg = array->heading_deg.low +
					   (array->heading_deg.high - array->heading_deg.low) *
						   step / (N_HEADINGS - 1);
		double light_wm2[RIG_DAY_HOURS];
		light_on(day, tilt_deg, heading_deg, light_wm2);
		const double here = day_wh(output, light_wm2, day->temp_c, NULL) / likely_wh;
		ratio = solar_ordered(fmin(ratio.low, here), 1.0, fmax(ratio.high, here));
	}
	return ratio;
}

static void set_doubts(const outputs *all, const rig_array *array, const rig_place *place,
	const rig_day_hours *day, rig_solar_array_month *month)
{
	double light_wm2[RIG_DAY_HOURS];
	solar_array_light(array, day, light_wm2);
	const double likely_wh = day_wh(&all->likely, light_wm2, day->temp_c, NULL);
	const rig_figure mounting = mounting_ratio(array, day, &all->likely, likely_wh);
	const double scatter = NINE_IN_TEN_SD * solar_year_scatter_frac();
	rig_figure *doubt = month->doubt_wh_day;
	doubt[RIG_DOUBT_WATTS] =
		solar_ordered(day_wh(&all->poor_watts, light_wm2, day->temp_c, NULL), likely_wh,
			day_wh(&all->good_watts, light_wm2, day->temp_c, NULL));
	doubt[RIG_DOUBT_LOSSES] = solar_ordered(
		day_wh(&all->poor_losses, light_wm2, day->temp_c, NULL) * mounting.low, likely_wh,
		day_wh(&all->good_losses, light_wm2, day->temp_c, NULL) * mounting.high);
	doubt[RIG_DOUBT_PLACE] = solar_ordered(
		likely_wh * place->sun_low_ratio, likely_wh, likely_wh * place->sun_high_ratio);
	doubt[RIG_DOUBT_YEAR] =
		solar_ordered(likely_wh * (1.0 - scatter), likely_wh, likely_wh * (1.0 + scatter));
	month->harvest_wh_day = solar_combined(RIG_N_SOLAR_DOUBTS, doubt);
}

static double hottest_c(const solar_output *output, const double light_wm2[RIG_DAY_HOURS],
	const double air_c[RIG_DAY_HOURS])
{
	double hottest = -INFINITY;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		hottest = fmax(hottest, solar_output_cell_c(output, light_wm2[hour], air_c[hour]));
	return hottest;
}

static double sum_of(const double hours[RIG_DAY_HOURS])
{
	double sum = 0.0;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		sum += hours[hour];
	return sum;
}

void solar_harvest(const rig_coach *coach, int array, const rig_place *place,
	const solar_sky skies[RIG_SOLAR_MONTHS], solar_year *year)
{
	const rig_array *it = &coach->arrays[array];
	const outputs all = outputs_of(coach, array);
	for (int m = 0; m < RIG_SOLAR_MONTHS; m++) {
		rig_solar_array_month *month = &year->months[m];
		const rig_day_hours *day = &skies[m].mean;
		double light_wm2[RIG_DAY_HOURS], clear_wm2[RIG_DAY_HOURS];
		solar_array_light(it, day, light_wm2);
		solar_array_light(it, &skies[m].clear, clear_wm2);
		set_doubts(&all, it, place, day, month);
		month->harvest_ah_day =
			rig_figure_scale(month->harvest_wh_day, 1.0 / all.likely.battery_v);
		const double clear_wh = day_wh(&all.likely, clear_wm2, day->temp_c, NULL);
		month->clear_wh_day = fmax(clear_wh, month->harvest_wh_day.likely);
		month->plane_kwh_m2_day = sum_of(light_wm2) / 1000.0;
		month->noon_cell_c = hottest_c(&all.likely, light_wm2, day->temp_c);
		const double wh = day_wh(&all.likely, light_wm2, day->temp_c, year->mean_w[m]);
		const double unlimited_wh =
			day_wh(&all.unlimited, light_wm2, day->temp_c, year->unlimited_w[m]);
		const double ideal_wh = all.likely.nameplate_w * month->plane_kwh_m2_day;
		month->at_bank_frac = ideal_wh > 0 ? wh / ideal_wh : 0.0;
		month->limited_frac = unlimited_wh > 0 ? 1.0 - wh / unlimited_wh : 0.0;
	}
}
