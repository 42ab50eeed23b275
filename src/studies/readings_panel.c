/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_panel.c: the amps of an array against what the sun should give at that time and place.
 * Each doubt (haze, clock, nameplate, losses, heat) moves the amps by itself; their squares add. */
#include <math.h>

#include "rigbudget/irradiance.h"
#include "rigbudget/sun.h"
#include "rigbudget/weather.h"
#include "studies/readings_model.h"
#include "studies/solar_output.h"

static const double PI = 3.14159265358979323846;
static const double DEGREE = 3.14159265358979323846 / 180.0;

/* Any year: the sun of a date differs by 0.3 degree from one to the next. */
enum { ANY_YEAR = 2026, FIRST_MONTH_OF_SAVING = 3, LAST_MONTH_OF_SAVING = 11 };
/* How far a telephone's clock and the note of the time may be off, h (common practice, no source).
 * With the sun 10 degrees up ten minutes are a tenth of its light: a wider guess hides half a
 * panel. */
static const double CLOCK_H = 1.0 / 6.0;
/* Air against the month's mean of that hour, K (common practice, no source). */
static const double AIR_K = 8.0;
static const double ALBEDO = 0.2;
/* Under this the shadows of anything near are long, and haze is everything. */
static const double LOWEST_SUN_DEG = 8.0;
/* A battery at these volts of 12 is near the end of its charge (common practice, no source). */
static const double FULL_V = 14.0;
/* Within a band wider than this a reading is no proof, unless it is near the middle. */
static const double WIDE_FRAC = 0.5, NEAR_FRAC = 0.75;
/* A dead panel gives less than this share of what it should. */
static const double DEAD_FRAC = 0.08;

/* Linke turbidity of the air, and the share that cloud leaves of the light: least, likely, most.
 * Turbidity as in the comment of rig_clear_sky; a sky called clear may have a veil that nobody
 * sees, of a tenth and more of the model's light in high and dry places, where it was compared with
 * an hourly year; clouds: common practice, no source. */
typedef struct {
	double turbidity[3], left_frac[3];
} sky_kind;
static const sky_kind SKY[] = {
	[RIG_SKY_UNSAID] = {{5.0, 3.0, 1.8}, {0.1, 0.6, 1.05}},
	[RIG_SKY_CLEAR] = {{5.0, 3.0, 1.8}, {0.84, 1.0, 1.05}},
	[RIG_SKY_HAZY] = {{5.0, 3.0, 1.8}, {0.5, 0.75, 1.0}},
	[RIG_SKY_CLOUDY] = {{5.0, 3.0, 1.8}, {0.08, 0.3, 0.6}},
};

/* Where each doubt stands: 0 least amps, 1 likely, 2 most. */
enum { BY_HAZE, BY_CLOUD, BY_CLOCK, BY_NAMEPLATE, BY_LOSSES, BY_AIR, N_DOUBTS };

typedef struct {
	const reading_model *model;
	const rig_reading *reading;
	const rig_place *place;
	int array;
	double clock_h[3]; /* standard time: earliest, likely, latest */
	double air_c;
	double volts_v; /* of the bank while it charges */
} panel_case;

static rig_sky clear_sky(const panel_case *it, double clock_h, double turbidity)
{
	const rig_place *place = it->place;
	const double hour_utc = clock_h - place->utc_offset_h;
	const rig_sun sun = rig_sun_at(
		rig_julian_day(ANY_YEAR, it->reading->month - 1, it->reading->day, hour_utc));
	rig_sky sky = {.sun = rig_sun_direction(
			       &sun, place->latitude_deg * DEGREE, place->longitude_deg * DEGREE),
		.normal_wm2 = rig_sun_normal_wm2(sun.distance_au)};
	if (sky.sun.zenith_rad >= PI / 2.0)
		return sky;
	const double elevation_m = fmin(4000.0, fmax(0.0, place->elevation_m));
	const rig_clear_sky clear = {.zenith_rad = sky.sun.zenith_rad,
		.air_mass = rig_sun_air_mass(sky.sun.zenith_rad) * rig_pressure_ratio(elevation_m),
		.normal_wm2 = sky.normal_wm2,
		.elevation_m = elevation_m,
		.linke_turbidity = turbidity};
	sky.light = rig_ineichen(&clear);
	return sky;
}

static double light_on_array(const panel_case *it, const int at[N_DOUBTS])
{
	const rig_array *array = &it->model->coach->arrays[it->array];
	const sky_kind *kind = &SKY[it->reading->sky];
	const double clock_h = it->clock_h[at[BY_CLOCK]];
	const rig_sky sky = clear_sky(it, clock_h, kind->turbidity[at[BY_HAZE]]);
	const double tilt_rad =
		rig_figure_given(array->tilt_deg) ? array->tilt_deg.likely * DEGREE : 0.0;
	const double heading_rad =
		rig_figure_given(array->heading_deg) ? array->heading_deg.likely * DEGREE : PI;
	const double light_wm2 = tilt_rad == 0.0 || sky.light.global_wm2 <= 0.0
					 ? sky.light.global_wm2
					 : rig_plane_light_wm2(rig_tilt_hay_davies(&sky,
						   (rig_plane){tilt_rad, heading_rad}, ALBEDO));
	return light_wm2 * kind->left_frac[at[BY_CLOUD]];
}

static double amps_of(const panel_case *it, const int at[N_DOUBTS])
{
	static const solar_course COURSE[] = {COURSE_POOR, COURSE_LIKELY, COURSE_GOOD};
	solar_output output = solar_output_of(
		it->model->coach, it->array, COURSE[at[BY_NAMEPLATE]], COURSE[at[BY_LOSSES]]);
	output.battery_v = it->volts_v;
	/* hot air is the poor end */
	const double air_c = it->air_c + (1 - at[BY_AIR]) * AIR_K;
	return solar_output_w(&output, light_on_array(it, at), air_c) / it->volts_v;
}

/* One figure of the case with all its doubts. */
static rig_figure with_doubts(
	const panel_case *it, double (*figure)(const panel_case *, const int[N_DOUBTS]))
{
	int at[N_DOUBTS];
	for (int i = 0; i < N_DOUBTS; i++)
		at[i] = 1;
	const double likely = figure(it, at);
	double down = 0.0;
	double up = 0.0;
	for (int i = 0; i < N_DOUBTS; i++) {
		double least = 0.0;
		double most = 0.0;
		for (at[i] = 0; at[i] <= 2; at[i]++) {
			const double moved = figure(it, at) - likely;
			least = fmin(least, moved);
			most = fmax(most, moved);
		}
		at[i] = 1;
		down += least * least;
		up += most * most;
	}
	return rig_figure_range(
		fmax(0.0, likely - sqrt(down)), likely, likely + sqrt(up), RIG_FROM_COMPUTED);
}

/* A clock that may or may not be on daylight saving time. */
static void set_clock(panel_case *it)
{
	const rig_reading *reading = it->reading;
	const double saved_h = reading->daylight_saving == RIG_YES ? 1.0 : 0.0;
	const double clock_h = reading->hour_h.likely - saved_h;
	const bool maybe = reading->daylight_saving == RIG_UNSAID &&
			   reading->month >= FIRST_MONTH_OF_SAVING &&
			   reading->month <= LAST_MONTH_OF_SAVING;
	it->clock_h[0] = clock_h - CLOCK_H - (maybe ? 1.0 : 0.0);
	it->clock_h[1] = maybe ? clock_h - 0.5 : clock_h;
	it->clock_h[2] = clock_h + CLOCK_H;
}

static double charging_v(const panel_case *it, double *of_12_v)
{
	const rig_coach *coach = it->model->coach;
	const double usual_v = solar_charging_v(coach, coach->arrays[it->array].bank_index);
	const double volts_v =
		rig_figure_given(it->reading->volts_v) && it->reading->volts_v.likely < 65.0
			? it->reading->volts_v.likely
			: usual_v;
	*of_12_v = volts_v * solar_charging_v(coach, -1) / usual_v;
	return volts_v;
}

/* How far the reading is from what is expected, over what both may be off: below -1 low, above 1
 * high. */
static double off_by(rig_figure read, rig_figure expected)
{
	const double meter = (read.high - read.low) / 2.0;
	const double off = read.likely - expected.likely;
	const double sky =
		off < 0.0 ? expected.likely - expected.low : expected.high - expected.likely;
	return off / fmax(1e-9, hypot(meter, sky));
}

static rig_panel_verdict verdict_of(const rig_readings_panel *panel, double of_12_v)
{
	const rig_figure expected = panel->expected_a;
	if (panel->elevation_rad < LOWEST_SUN_DEG * DEGREE || expected.likely <= 0.0)
		return RIG_PANEL_UNDECIDED;
	const double off = off_by(panel->read_a, expected);
	if (off < -1.0 && of_12_v >= FULL_V)
		return RIG_PANEL_BANK_FULL;
	if (off < -1.0)
		return panel->read_a.likely < DEAD_FRAC * expected.likely ? RIG_PANEL_DEAD
									  : RIG_PANEL_LOW;
	if (off > 1.0)
		return RIG_PANEL_HIGH;
	return expected.low < WIDE_FRAC * expected.likely &&
			       panel->read_a.likely < NEAR_FRAC * expected.likely
		       ? RIG_PANEL_UNDECIDED
		       : RIG_PANEL_AGREES;
}

static void add_panel(const reading_model *model, int reading, rig_readings_findings *findings)
{
	const rig_reading *it = &model->readings[reading];
	const int array = reading_array(model->coach, it->array);
	if (array < 0 || !rig_figure_given(it->array_a) || it->month < 1 || it->day < 1 ||
		!rig_figure_given(it->hour_h))
		return;
	rig_readings_panel panel = {.reading = reading,
		.array = array,
		.read_a = reading_interval(
			it->array_a.likely, reading_sigma(it->array_a, &model->options, 1.0)),
		.verdict = RIG_PANEL_NO_PLACE};
	panel_case of = {
		.model = model, .reading = it, .place = model->options.place, .array = array};
	if (of.place != NULL) {
		double of_12_v;
		rig_day_hours mean;
		set_clock(&of);
		of.volts_v = charging_v(&of, &of_12_v);
		rig_mean_day(of.place, it->month - 1, &mean);
		of.air_c = mean.temp_c[(int)fmin(23.0, fmax(0.0, floor(of.clock_h[1])))];
		panel.air_c = rig_figure_range(
			of.air_c - AIR_K, of.air_c, of.air_c + AIR_K, RIG_FROM_COMPUTED);
		panel.light_wm2 = with_doubts(&of, light_on_array);
		panel.expected_a = with_doubts(&of, amps_of);
		panel.elevation_rad = PI / 2.0 - clear_sky(&of, of.clock_h[1], 3.0).sun.zenith_rad;
		panel.verdict = verdict_of(&panel, of_12_v);
	}
	findings->panels[findings->n_panels++] = panel;
}

rig_status reading_panels(const reading_model *model, rig_readings_findings *findings)
{
	findings->panels =
		rig_arena_take(model->arena, model->n_readings, sizeof *findings->panels);
	if (findings->panels == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < model->n_readings; i++)
		add_panel(model, (int)i, findings);
	return RIG_OK;
}
