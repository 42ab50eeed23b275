/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "rigbudget/irradiance.h"
#include "weather/calendar.h"
#include "weather/replay.h"
#include "weather/walk.h"

enum { REAL_KNOTS = 31, MOST_KNOTS = 129, MOST_DAYS = 366 };

/* The sun of a day of the year. */
typedef struct {
	bool used;
	double cos_zenith[RIG_DAY_HOURS], azimuth_rad[RIG_DAY_HOURS];
	double normal_wm2;
} sun_day;

struct rig_outlook {
	const rig_climate *climate; /* NULL: real days */
	rig_stay stay;
	size_t n_knots;
	double lowest[12], knots_per_clearness[12];
	sun_day suns[RIG_YEAR_DAYS];
	double *ghi_wm2, *dhi_wm2, *temp_c; /* within figures */
	double figures[];
};

static int calendar_day(const rig_outlook *outlook, size_t day)
{
	return (int)(((size_t)outlook->stay.first_day + day) % RIG_YEAR_DAYS);
}

/* The day of the year whose sun shines on a knot. */
static int sun_day_of(const rig_outlook *outlook, size_t day, size_t knot)
{
	const int at = calendar_day(outlook, day);
	if (outlook->climate != NULL)
		return at;
	const int month = rig_month_of_day(at);
	const int last = rig_month_n_days(month) - 1;
	return rig_month_first_day(month) + ((int)knot < last ? (int)knot : last);
}

static size_t index_of(const rig_outlook *outlook, size_t day, int hour)
{
	return (day * RIG_DAY_HOURS + (size_t)hour) * outlook->n_knots;
}

static rig_outlook *outlook_of(const rig_stay *stay, size_t n_knots)
{
	assert(stay->first_day >= 0 && stay->first_day < RIG_YEAR_DAYS);
	assert(stay->n_days > 0 && stay->n_days <= MOST_DAYS);
	assert(n_knots >= 2 && n_knots <= MOST_KNOTS);
	const size_t n = stay->n_days * RIG_DAY_HOURS * n_knots;
	rig_outlook *outlook = calloc(1, sizeof *outlook + 3 * n * sizeof *outlook->figures);
	if (outlook == NULL)
		return NULL;
	outlook->stay = *stay;
	outlook->n_knots = n_knots;
	outlook->ghi_wm2 = outlook->figures;
	outlook->dhi_wm2 = outlook->figures + n;
	outlook->temp_c = outlook->figures + 2 * n;
	return outlook;
}

void rig_outlook_free(rig_outlook *outlook)
{
	free(outlook);
}

rig_outlook_hours rig_outlook_table(const rig_outlook *outlook)
{
	return (rig_outlook_hours){.n_days = outlook->stay.n_days,
		.n_knots = outlook->n_knots,
		.ghi_wm2 = outlook->ghi_wm2,
		.dhi_wm2 = outlook->dhi_wm2,
		.temp_c = outlook->temp_c};
}

static void set_sun(const daylight *light, sun_day *sun)
{
	rig_day_hours hours;
	daylight_sun(light, &hours);
	sun->used = true;
	sun->normal_wm2 = hours.normal_wm2;
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		sun->cos_zenith[hour] = hours.cos_zenith[hour];
		sun->azimuth_rad[hour] = hours.azimuth_rad[hour];
	}
}

static void set_knot(rig_outlook *outlook, size_t day, size_t knot, const rig_day_hours *hours)
{
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
		const size_t at = index_of(outlook, day, hour) + knot;
		outlook->ghi_wm2[at] = hours->ghi_wm2[hour];
		outlook->dhi_wm2[at] = hours->dhi_wm2[hour];
		outlook->temp_c[at] = hours->temp_c[hour];
	}
}

/* ---- synthetic days ---- */

static void set_range(const climate_month *sky, int month, rig_outlook *outlook)
{
	const double range = sky->clearness[CLIMATE_NODES - 1] - sky->clearness[0];
	outlook->lowest[month] = sky->clearness[0];
	outlook->knots_per_clearness[month] =
		range > 0 ? (double)(outlook->n_knots - 1) / range : 0;
}

static void set_synthetic_day(rig_outlook *outlook, size_t day)
{
	climate_day calendar;
	climate_day_begin(outlook->climate, calendar_day(outlook, day), &calendar);
	set_sun(&calendar.light, &outlook->suns[calendar_day(outlook, day)]);
	const double lowest = outlook->lowest[calendar.month];
	const double per_clearness = outlook->knots_per_clearness[calendar.month];
	for (size_t knot = 0; knot < outlook->n_knots; knot++) {
		rig_day_hours hours;
		const double above = per_clearness > 0 ? (double)knot / per_clearness : 0;
		climate_day_hours(&calendar, lowest + above, &hours);
		set_knot(outlook, day, knot, &hours);
	}
}

rig_status rig_outlook_new(
	const rig_climate *climate, const rig_stay *stay, size_t n_knots, rig_outlook **outlook)
{
	rig_outlook *made = outlook_of(stay, n_knots);
	if (made == NULL)
		return RIG_NO_MEMORY;
	made->climate = climate;
	for (int month = 0; month < 12; month++)
		set_range(&climate->months[month], month, made);
	for (size_t day = 0; day < stay->n_days; day++)
		set_synthetic_day(made, day);
	*outlook = made;
	return RIG_OK;
}

/* ---- real days ---- */

/* What all days of a year have of their own. */
typedef struct {
	double top_wh_m2[RIG_YEAR_DAYS];
	double mean_c[12];
} year_course;

static void set_course(const rig_hourly_year *year, year_course *course, rig_outlook *outlook)
{
	const rig_place place = {.latitude_deg = year->latitude_deg,
		.longitude_deg = year->longitude_deg,
		.utc_offset_h = year->utc_offset_h};
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		const daylight light = daylight_of(&place, day);
		const int month = rig_month_of_day(day);
		course->top_wh_m2[day] = climate_top_wh_m2(&light);
		set_sun(&light, &outlook->suns[day]);
		for (int i = 0; i < RIG_DAY_HOURS; i++)
			course->mean_c[month] += year->temp_c[day * RIG_DAY_HOURS + i] /
						 RIG_DAY_HOURS / rig_month_n_days(month);
	}
}

static void set_real_day(
	rig_outlook *outlook, const rig_hourly_year *year, const year_course *course, size_t day)
{
	const int at = calendar_day(outlook, day);
	for (size_t knot = 0; knot < REAL_KNOTS; knot++) {
		const int source = sun_day_of(outlook, day, knot);
		const double top = course->top_wh_m2[source];
		const double ratio = top >= CLIMATE_DARK_WH_M2 ? course->top_wh_m2[at] / top : 1;
		const double warmer_k = calendar_normal(course->mean_c, at) -
					calendar_normal(course->mean_c, source);
		rig_day_hours hours;
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
			const int i = source * RIG_DAY_HOURS + hour;
			hours.ghi_wm2[hour] = ratio * year->ghi_wm2[i];
			hours.dhi_wm2[hour] = ratio * fmin(year->dhi_wm2[i], year->ghi_wm2[i]);
			hours.temp_c[hour] = year->temp_c[i] + warmer_k;
		}
		set_knot(outlook, day, knot, &hours);
	}
}

rig_status rig_outlook_of_year(
	const rig_hourly_year *year, const rig_stay *stay, rig_outlook **outlook)
{
	if (!year->located || !year->has_beam)
		return RIG_BAD_INPUT;
	rig_outlook *made = outlook_of(stay, REAL_KNOTS);
	if (made == NULL)
		return RIG_NO_MEMORY;
	year_course course = {.mean_c = {0}};
	set_course(year, &course, made);
	for (size_t day = 0; day < stay->n_days; day++)
		set_real_day(made, year, &course, day);
	*outlook = made;
	return RIG_OK;
}

/* ---- light on a plane ---- */

/* Light on a plane in one hour of one sun: beam and ground are proportional to what they come from,
 * diffuse light comes by one ratio from around the sun and by another from the rest of the sky. */
typedef struct {
	double cos_zenith, normal_wm2;
	double beam, ground, around_sun, rest_of_sky;
} plane_hour;

static plane_hour plane_hour_of(const sun_day *sun, int hour, const rig_mount *mount)
{
	const rig_plane plane = {.tilt_rad = mount->tilt_rad, .azimuth_rad = mount->heading_rad};
	rig_plane_light (*tilt)(const rig_sky *, rig_plane, double) =
		mount->isotropic ? rig_tilt_isotropic : rig_tilt_hay_davies;
	rig_sky sky = {.light = {1, sun->normal_wm2, 1},
		.sun = {acos(sun->cos_zenith[hour]), sun->azimuth_rad[hour]},
		.normal_wm2 = sun->normal_wm2};
	const rig_plane_light all_beam = tilt(&sky, plane, mount->albedo_frac);
	sky.light.beam_wm2 = 0;
	const rig_plane_light no_beam = tilt(&sky, plane, mount->albedo_frac);
	return (plane_hour){.cos_zenith = sun->cos_zenith[hour],
		.normal_wm2 = sun->normal_wm2,
		.beam = all_beam.beam_wm2 / sun->normal_wm2,
		.ground = no_beam.ground_wm2,
		.around_sun = all_beam.sky_wm2,
		.rest_of_sky = no_beam.sky_wm2};
}

static double plane_wm2_of(const plane_hour *hour, double ghi_wm2, double dhi_wm2)
{
	double beam_wm2 = 0;
	if (hour->cos_zenith > 0)
		beam_wm2 = fmin(hour->normal_wm2, (ghi_wm2 - dhi_wm2) / hour->cos_zenith);
	const double around = beam_wm2 / hour->normal_wm2;
	return beam_wm2 * hour->beam + ghi_wm2 * hour->ground +
	       dhi_wm2 * (around * hour->around_sun + (1 - around) * hour->rest_of_sky);
}

/* All days and knots that have one day's sun. */
static void light_of_sun(
	const rig_outlook *outlook, const rig_mount *mount, int sun, double plane_wm2[])
{
	plane_hour hours[RIG_DAY_HOURS];
	for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
		hours[hour] = plane_hour_of(&outlook->suns[sun], hour, mount);
	for (size_t day = 0; day < outlook->stay.n_days; day++) {
		for (size_t knot = 0; knot < outlook->n_knots; knot++) {
			if (sun_day_of(outlook, day, knot) != sun)
				continue;
			for (int hour = 0; hour < RIG_DAY_HOURS; hour++) {
				const size_t at = index_of(outlook, day, hour) + knot;
				plane_wm2[at] = plane_wm2_of(
					&hours[hour], outlook->ghi_wm2[at], outlook->dhi_wm2[at]);
			}
		}
	}
}

void rig_outlook_on_plane(const rig_outlook *outlook, const rig_mount *plane, double plane_wm2[])
{
	if (plane->tilt_rad == 0) {
		const size_t n = outlook->stay.n_days * RIG_DAY_HOURS * outlook->n_knots;
		memcpy(plane_wm2, outlook->ghi_wm2, n * sizeof *plane_wm2);
		return;
	}
	for (int sun = 0; sun < RIG_YEAR_DAYS; sun++)
		if (outlook->suns[sun].used)
			light_of_sun(outlook, plane, sun, plane_wm2);
}

/* ---- drawing ---- */

static void draw_synthetic(const rig_outlook *outlook, const draws_trips *trips, size_t stride,
	double *position, double *warmth_k)
{
	const double last = (double)(outlook->n_knots - 1);
	climate_walk walk;
	climate_walk_begin(outlook->climate, trips, &walk);
	for (size_t day = 0; day < outlook->stay.n_days; day++) {
		const int at = calendar_day(outlook, day);
		const int month = rig_month_of_day(at);
		double *today = position + day * stride;
		climate_walk_day(&walk, at, today, warmth_k + day * stride);
		for (size_t i = 0; i < trips->n; i++) {
			const double knot = (today[i] - outlook->lowest[month]) *
					    outlook->knots_per_clearness[month];
			today[i] = knot < last ? knot : last; /* rounding */
		}
	}
}

static void draw_real(const rig_outlook *outlook, rig_stream stream, size_t stride,
	double *position, double *warmth_k)
{
	replay_walk walk;
	replay_begin(stream, &walk);
	for (size_t day = 0; day < outlook->stay.n_days; day++) {
		const int at = calendar_day(outlook, day);
		position[day * stride] =
			replay_next(&walk, at) - rig_month_first_day(rig_month_of_day(at));
		warmth_k[day * stride] = 0;
	}
}

void rig_outlook_draw(
	const rig_outlook *outlook, const rig_lanes *lanes, double position[], double warmth_k[])
{
	assert(lanes->n_lanes <= lanes->stride);
	for (size_t lane = 0; lane < lanes->n_lanes && outlook->climate == NULL; lane++) {
		const rig_stream stream = {lanes->seed, lanes->first_trip + lane};
		draw_real(outlook, stream, lanes->stride, position + lane, warmth_k + lane);
	}
	for (size_t lane = 0; lane < lanes->n_lanes && outlook->climate != NULL;
		lane += DRAWS_LANES) {
		const size_t left = lanes->n_lanes - lane;
		const draws_trips trips = {lanes->seed, lanes->first_trip + lane,
			left < DRAWS_LANES ? left : DRAWS_LANES};
		draw_synthetic(outlook, &trips, lanes->stride, position + lane, warmth_k + lane);
	}
}
