/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/irradiance.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

static const double PI = 3.14159265358979323846;
static const double RAD_PER_DEG = 3.14159265358979323846 / 180.0;

/* Lowest cosine of the zenith angle used in a clearness index (common practice, no source). */
static const double LOWEST_COS_FOR_CLEARNESS = 0.065;
/* Lower than this the split calls all light diffuse: no beam could be told from the error. */
static const double LOWEST_BEAM_ZENITH_DEG = 87.0;
/* cos of 89 degrees: bounds the ratio of cosines when the sun is at the horizon. */
static const double LOWEST_COS_FOR_RATIO = 0.017452406437283512;

double rig_clearness_index(double global_wm2, double normal_wm2, double zenith_rad)
{
	assert(global_wm2 >= 0 && normal_wm2 > 0);
	const double cos_zenith = cos(zenith_rad);
	if (cos_zenith <= 0)
		return 0;
	return global_wm2 / (normal_wm2 * fmax(cos_zenith, LOWEST_COS_FOR_CLEARNESS));
}

double rig_erbs_hour_frac(double clearness)
{
	assert(clearness >= 0);
	const double k = clearness;
	if (k <= 0.22)
		return 1.0 - 0.09 * k;
	if (k <= 0.80)
		return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
	return 0.165;
}

/* Shorter days have a fit of their own. */
static const double SHORT_DAY_SUNSET_DEG = 81.4;

double rig_erbs_day_frac(double clearness, double sunset_rad)
{
	assert(clearness >= 0);
	const double k = clearness;
	if (sunset_rad <= SHORT_DAY_SUNSET_DEG * RAD_PER_DEG) {
		if (k >= 0.715)
			return 0.143;
		return 1.0 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879)));
	}
	if (k >= 0.722)
		return 0.175;
	return 1.0 + k * (0.2832 + k * (-2.5557 + k * 0.8448));
}

double rig_erbs_month_frac(double clearness, double sunset_rad)
{
	assert(clearness >= 0);
	const double k = clearness;
	if (sunset_rad <= SHORT_DAY_SUNSET_DEG * RAD_PER_DEG)
		return 1.391 + k * (-3.560 + k * (4.189 - k * 2.137));
	return 1.311 + k * (-3.022 + k * (3.427 - k * 1.821));
}

rig_light rig_erbs_split(double global_wm2, double normal_wm2, double zenith_rad)
{
	if (zenith_rad > LOWEST_BEAM_ZENITH_DEG * RAD_PER_DEG)
		return (rig_light){global_wm2, 0, global_wm2};
	const double clearness = rig_clearness_index(global_wm2, normal_wm2, zenith_rad);
	const double diffuse_wm2 = global_wm2 * rig_erbs_hour_frac(clearness);
	return (rig_light){
		.global_wm2 = global_wm2,
		.beam_wm2 = (global_wm2 - diffuse_wm2) / cos(zenith_rad),
		.diffuse_wm2 = diffuse_wm2,
	};
}

double rig_haurwitz_wm2(double zenith_rad)
{
	const double cos_zenith = cos(zenith_rad);
	if (cos_zenith <= 0)
		return 0;
	return 1098.0 * cos_zenith * exp(-0.059 / cos_zenith);
}

rig_light rig_ineichen(const rig_clear_sky *sky)
{
	assert(sky->elevation_m >= 0 && sky->elevation_m <= 4000 && sky->linke_turbidity >= 1);
	const double cos_zenith = cos(sky->zenith_rad);
	if (cos_zenith <= 0)
		return (rig_light){0, 0, 0};
	/* Names of [INEICHEN-2002]. */
	const double h = sky->elevation_m, haze = sky->linke_turbidity - 1.0;
	const double fh1 = exp(-h / 8000.0), fh2 = exp(-h / 1250.0);
	const double cg1 = 5.09e-5 * h + 0.868, cg2 = 3.92e-5 * h + 0.0387;
	const double b = 0.664 + 0.163 / fh1;
	const double global_wm2 =
		cg1 * sky->normal_wm2 * cos_zenith * exp(-cg2 * sky->air_mass * (fh1 + fh2 * haze));
	const double beam_wm2 = b * sky->normal_wm2 * exp(-0.09 * sky->air_mass * haze);
	const double most_beam_wm2 =
		global_wm2 / cos_zenith *
		(1.0 - (0.1 - 0.2 * exp(-sky->linke_turbidity)) / (0.1 + 0.882 / fh1));
	const double kept_wm2 = fmin(beam_wm2, most_beam_wm2);
	return (rig_light){global_wm2, kept_wm2, global_wm2 - kept_wm2 * cos_zenith};
}

double rig_pressure_ratio(double elevation_m)
{
	return pow(1.0 - 2.25577e-5 * elevation_m, 5.25588);
}

double rig_hour_share_diffuse(double hour_angle_rad, double sunset_rad)
{
	assert(sunset_rad > 0 && sunset_rad <= PI);
	if (fabs(hour_angle_rad) >= sunset_rad)
		return 0;
	return PI / 24.0 * (cos(hour_angle_rad) - cos(sunset_rad)) /
	       (sin(sunset_rad) - sunset_rad * cos(sunset_rad));
}

double rig_hour_share_global(double hour_angle_rad, double sunset_rad)
{
	const double past_60 = sin(sunset_rad - PI / 3.0);
	const double a = 0.409 + 0.5016 * past_60, b = 0.6609 - 0.4767 * past_60;
	return (a + b * cos(hour_angle_rad)) * rig_hour_share_diffuse(hour_angle_rad, sunset_rad);
}

/* Beam and ground are the same in all three models. */
static rig_plane_light beam_and_ground(const rig_sky *sky, rig_plane plane, double albedo)
{
	assert(albedo >= 0 && albedo <= 1);
	const double incidence = rig_sun_incidence_cos(sky->sun, plane);
	const bool lit = incidence > 0 && sky->sun.zenith_rad < PI / 2;
	return (rig_plane_light){
		.beam_wm2 = lit ? sky->light.beam_wm2 * incidence : 0,
		.ground_wm2 = sky->light.global_wm2 * albedo * (1.0 - cos(plane.tilt_rad)) / 2.0,
	};
}

static double sky_seen(rig_plane plane)
{
	return (1.0 + cos(plane.tilt_rad)) / 2.0;
}

rig_plane_light rig_tilt_isotropic(const rig_sky *sky, rig_plane plane, double albedo)
{
	rig_plane_light light = beam_and_ground(sky, plane, albedo);
	light.sky_wm2 = sky->light.diffuse_wm2 * sky_seen(plane);
	return light;
}

rig_plane_light rig_tilt_hay_davies(const rig_sky *sky, rig_plane plane, double albedo)
{
	assert(sky->normal_wm2 > 0);
	rig_plane_light light = beam_and_ground(sky, plane, albedo);
	const double around_sun = sky->light.beam_wm2 / sky->normal_wm2;
	const double ratio = fmax(rig_sun_incidence_cos(sky->sun, plane), 0) /
			     fmax(cos(sky->sun.zenith_rad), LOWEST_COS_FOR_RATIO);
	light.sky_wm2 = sky->light.diffuse_wm2 *
			(around_sun * ratio + (1.0 - around_sun) * sky_seen(plane));
	return light;
}

/* [PEREZ-1990] table 6, all sites: upper edge of clearness, f11 f12 f13, f21 f22 f23. */
static const struct {
	double edge, f1[3], f2[3];
} PEREZ[] = {
	{1.065, {-0.008, 0.588, -0.062}, {-0.060, 0.072, -0.022}},
	{1.230, {0.130, 0.683, -0.151}, {-0.019, 0.066, -0.029}},
	{1.500, {0.330, 0.487, -0.221}, {0.055, -0.064, -0.026}},
	{1.950, {0.568, 0.187, -0.295}, {0.109, -0.152, -0.014}},
	{2.800, {0.873, -0.392, -0.362}, {0.226, -0.462, 0.001}},
	{4.500, {1.132, -1.237, -0.412}, {0.288, -0.823, 0.056}},
	{6.200, {1.060, -1.600, -0.359}, {0.264, -1.127, 0.131}},
	{INFINITY, {0.678, -0.327, -0.250}, {0.156, -1.377, 0.251}},
};

rig_plane_light rig_tilt_perez(const rig_sky *sky, rig_plane plane, double albedo, double air_mass)
{
	assert(sky->normal_wm2 > 0 && air_mass > 0);
	rig_plane_light light = beam_and_ground(sky, plane, albedo);
	const double diffuse = sky->light.diffuse_wm2, z = sky->sun.zenith_rad;
	if (diffuse <= 0)
		return light;
	const double kappa_z3 = 1.041 * z * z * z;
	const double epsilon =
		((diffuse + sky->light.beam_wm2) / diffuse + kappa_z3) / (1.0 + kappa_z3);
	const double delta = diffuse * air_mass / sky->normal_wm2;
	int bin = 0;
	while (epsilon >= PEREZ[bin].edge)
		bin++;
	const double *f1 = PEREZ[bin].f1, *f2 = PEREZ[bin].f2;
	const double around_sun = fmax(0, f1[0] + f1[1] * delta + f1[2] * z);
	const double horizon = f2[0] + f2[1] * delta + f2[2] * z;
	const double ratio = fmax(0, rig_sun_incidence_cos(sky->sun, plane)) /
			     fmax(cos(85.0 * RAD_PER_DEG), cos(z));
	const double share = (1.0 - around_sun) * sky_seen(plane) + around_sun * ratio +
			     horizon * sin(plane.tilt_rad);
	light.sky_wm2 = diffuse * fmax(0, share);
	return light;
}

double rig_plane_light_wm2(rig_plane_light light)
{
	return light.beam_wm2 + light.sky_wm2 + light.ground_wm2;
}

double rig_month_beam_ratio(double latitude_rad, double declination_rad, double tilt_rad)
{
	/* A plane tilted toward the equator is level ground at a latitude nearer the equator. */
	const double seen_rad = latitude_rad - copysign(tilt_rad, latitude_rad);
	const double sunset = rig_sun_sunset_rad(latitude_rad, declination_rad);
	if (sunset <= 0)
		return 0;
	const double last = fmin(sunset, rig_sun_sunset_rad(seen_rad, declination_rad));
	const double on_plane = cos(seen_rad) * cos(declination_rad) * sin(last) +
				last * sin(seen_rad) * sin(declination_rad);
	const double on_level = cos(latitude_rad) * cos(declination_rad) * sin(sunset) +
				sunset * sin(latitude_rad) * sin(declination_rad);
	return on_plane / on_level;
}
