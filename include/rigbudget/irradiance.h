/* SPDX-License-Identifier: GPL-3.0-or-later */
/* irradiance.h: sunlight through the air, its beam and its diffuse part, and what a tilted plane
 * gets of it. Knows nothing of panels. Angles in radians, as in sun.h. */
#ifndef RIG_IRRADIANCE_H
#define RIG_IRRADIANCE_H

#include "rigbudget/sun.h"

/* Sunlight at one place and instant. */
typedef struct {
	double global_wm2;  /* on level ground */
	double beam_wm2;    /* facing the sun */
	double diffuse_wm2; /* on level ground, from the sky */
} rig_light;

/* Light on a plane by where it comes from, W/m2. */
typedef struct {
	double beam_wm2, sky_wm2, ground_wm2;
} rig_plane_light;

/* Share of the light outside the air that reaches level ground, dimensionless, >= 0.
 *   zenith_rad   0 to pi. The cosine is held at 0.065 or more (86.3 degrees), since near the
 *                horizon the ratio means nothing; the usual choice, common practice, no source.
 *                0 when the sun is down.
 * May pass 1 near sunrise in wrong or cloud-edge data; it is not cut. */
double rig_clearness_index(double global_wm2, double normal_wm2, double zenith_rad);

/* Diffuse share of global light, 0 to 1, from the clearness index of an hour, a day or a month
 * [ERBS-1982]. Fitted to four US stations; an hour scatters by 0.1 to 0.15, a month by 0.03.
 *   clearness    >= 0
 *   sunset_rad   hour angle of sunset; the fits change at 81.4 degrees */
double rig_erbs_hour_frac(double clearness);
double rig_erbs_day_frac(double clearness, double sunset_rad);
/* The monthly fit was made for a clearness of 0.3 to 0.8; outside it the cubic is used as it is,
 * and is the caller's to judge. */
double rig_erbs_month_frac(double clearness, double sunset_rad);

/* Beam and diffuse from global light by the hourly fit. With the sun lower than 3 degrees up all
 * light is diffuse.
 *   normal_wm2   outside the air, facing the sun, > 0 */
rig_light rig_erbs_split(double global_wm2, double normal_wm2, double zenith_rad);

/* Global light under a clear sky, W/m2: 1098 cos z exp(-0.059 / cos z) [HAURWITZ-1945]. 0 when the
 * sun is down. No site, season or haze: 5 to 10 %. */
double rig_haurwitz_wm2(double zenith_rad);

/* A clear sky. */
typedef struct {
	double zenith_rad;      /* 0 to pi */
	double air_mass;        /* corrected for pressure */
	double normal_wm2;      /* outside the air, facing the sun */
	double elevation_m;     /* 0 to 4000 */
	double linke_turbidity; /* 2 very clear, 3 clean, 5 humid summer, 7 polluted */
} rig_clear_sky;

/* Light under a clear sky from haze and height, W/m2 [INEICHEN-2002]; all 0 when the sun is down.
 * The day's turbidity is the caller's guess: one unit of it is 5 % of the global light
 * with the sun 50 degrees up, 10 % with it 20 degrees up. */
rig_light rig_ineichen(const rig_clear_sky *sky);

/* Pressure at a height over pressure at sea level, dimensionless: (1 - 2.25577e-5 h)^5.25588, the
 * standard atmosphere [ISO-2533]; times the air mass at sea level gives the corrected one. */
double rig_pressure_ratio(double elevation_m);

/* Mean share of a day's global light that falls in the hour around an hour angle, 1/h
 * [COLLARES-1979]; 0 outside the day. The hours of a day sum to 0.985 to 1.015 for days of 8 to 22
 * hours, farther from 1 for others: scale them.
 *   sunset_rad   0 < sunset <= pi */
double rig_hour_share_global(double hour_angle_rad, double sunset_rad);
/* The same for diffuse light, 1/h [LIU-1960]. */
double rig_hour_share_diffuse(double hour_angle_rad, double sunset_rad);

/* Light, where it comes from, and what there is outside the air. */
typedef struct {
	rig_light light;
	rig_direction sun;
	double normal_wm2; /* outside the air, facing the sun */
} rig_sky;

/* Light on a plane under a sky that is equally bright everywhere, W/m2 [LIU-1963].
 * Beam: beam cos(incidence), 0 when the sun is behind the plane or down. Sky: diffuse
 * (1 + cos tilt) / 2. Ground: global albedo (1 - cos tilt) / 2. Horizon and neighbours are left
 * out; the sky is low by 5 to 10 % on clear days for a plane that faces the sun.
 *   albedo   0 to 1; 0.2 for ground without snow */
rig_plane_light rig_tilt_isotropic(const rig_sky *sky, rig_plane plane, double albedo);

/* The same with a share beam / normal of the diffuse light coming from around the sun, W/m2
 * [HAY-1980]. With the sun less than 1 degree up the ratio of cosines is taken at 1 degree. */
rig_plane_light rig_tilt_hay_davies(const rig_sky *sky, rig_plane plane, double albedo);

/* The same with brightening around the sun and along the horizon, W/m2; all-sites coefficients of
 * 1990 [PEREZ-1990].
 *   air_mass   of the sun's height, not corrected for pressure */
rig_plane_light rig_tilt_perez(const rig_sky *sky, rig_plane plane, double albedo, double air_mass);

/* Sum of the parts, W/m2. */
double rig_plane_light_wm2(rig_plane_light light);

/* Monthly mean ratio of beam on a plane that faces the equator to beam on level ground,
 * dimensionless [DUFFIE-2006] eq. 2.19.3, with the sun of one day of that month.
 *   declination_rad   of the month's mean day
 * 0 when the sun does not rise. */
double rig_month_beam_ratio(double latitude_rad, double declination_rad, double tilt_rad);

#endif
