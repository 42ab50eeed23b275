/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sun.h: where the sun stands and what it sends before any air is in the way.
 * Knows geometry only; knows nothing of clouds, haze or refraction.
 * Angles in radians. Latitude north positive, longitude east positive, azimuth clockwise from north
 * (0 to 2 pi). The hour angle is 0 at solar noon and positive in the afternoon. day is the day of
 * the year, 1 to 366. */
#ifndef RIG_SUN_H
#define RIG_SUN_H

/* Irradiance on a surface facing the sun at one astronomical unit, W/m2 [DUFFIE-2006] sec. 1.2.
 * Satellites since 2000 read 1361: the models here were made with 1353 to 1367, and the difference
 * of 0.4 % is far below theirs. */
#define RIG_SOLAR_CONSTANT_WM2 1367.0

/* The sun seen from the middle of the Earth at one instant. */
typedef struct {
	double declination_rad;
	double greenwich_hour_angle_rad; /* hour angle at longitude 0; -pi to pi */
	double equation_of_time_minutes; /* apparent minus mean solar time */
	double distance_au;
} rig_sun;

/* Where the sun is in somebody's sky: the true direction, as if there were no air. Refraction lifts
 * the seen sun by 0.5 degree at the horizon, by 0.1 at 10 degrees up. */
typedef struct {
	double zenith_rad; /* 0 overhead, pi/2 on the horizon, more below it */
	double azimuth_rad;
} rig_direction;

/* A flat surface. */
typedef struct {
	double tilt_rad;    /* 0 level, pi/2 upright */
	double azimuth_rad; /* where it faces; not read when level */
} rig_plane;

/* Julian day of an instant, days. Gregorian calendar, year 1583 to 9999.
 *   month      0 to 11
 *   day        1 to 31
 *   hour_utc   may lie outside 0 to 24: it then reaches into other days */
double rig_julian_day(int year, int month, int day, double hour_utc);

/* Day of the year, 1 to 366. month 0 to 11, day 1 to 31. */
int rig_day_of_year(int year, int month, int day);

/* The sun at an instant. Mean elements, the equation of centre and the largest nutation term
 * [MEEUS-1998] ch. 25, low accuracy: 0.01 degree now, 0.02 from 1950 to 2100. Universal time is
 * taken for dynamical time (costs 0.001 degree), parallax is left out (0.0024 degree at most). */
rig_sun rig_sun_at(double julian_day);

/* Where that sun stands for an observer.
 * cos z = sin(lat) sin(decl) + cos(lat) cos(decl) cos(hour angle). */
rig_direction rig_sun_direction(const rig_sun *sun, double latitude_rad, double longitude_rad);

/* The same from a declination and a local hour angle, for work in solar time. */
rig_direction rig_sun_direction_at(
	double latitude_rad, double declination_rad, double hour_angle_rad);

/* Irradiance on a surface facing the sun outside the air, W/m2: constant / distance^2. */
double rig_sun_normal_wm2(double distance_au);

/* The same from the day of the year alone, W/m2: constant (1 + 0.033 cos(2 pi day / 365))
 * [DUFFIE-2006] eq. 1.4.1a; within 0.4 %. */
double rig_sun_day_normal_wm2(int day);

/* Declination of a day, rad: 23.45 degrees sin(2 pi (284 + day) / 365) [COOPER-1969]; within
 * 1 degree of the sun of a given year in autumn, 0.8 in spring. For monthly work, whose published
 * figures rest on it. */
double rig_sun_cooper_rad(int day);

/* The day of a month whose declination is nearest the month's mean, 1 to 366 [KLEIN-1977].
 * month 0 to 11. */
int rig_sun_mean_day(int month);

/* Hour angle of sunset, rad, 0 to pi: acos(-tan(lat) tan(decl)); pi while the sun never sets, 0
 * while it never rises. The centre of the sun, no refraction: an almanac's day is 5 to 10 minutes
 * longer at middle latitudes. latitude_rad strictly between the poles. */
double rig_sun_sunset_rad(double latitude_rad, double declination_rad);

/* Length of the day, h: 24 / pi times the hour angle of sunset. */
double rig_sun_day_h(double latitude_rad, double declination_rad);

/* Energy on a level surface outside the air in a day, Wh/m2 [DUFFIE-2006] eq. 1.10.3. */
double rig_sun_day_wh_m2(double latitude_rad, double declination_rad, double normal_wm2);

/* One day at one latitude. */
typedef struct {
	double latitude_rad, declination_rad;
	double normal_wm2; /* outside the air, facing the sun */
} rig_sun_day;

/* Energy on a level surface outside the air between two hour angles of one day, Wh/m2
 * [DUFFIE-2006] eq. 1.10.4; only the part with the sun up counts.
 *   from_rad, to_rad   -pi <= from <= to <= pi */
double rig_sun_span_wh_m2(const rig_sun_day *day, double from_rad, double to_rad);

/* Relative optical air mass at sea level, dimensionless:
 * 1 / (cos z + 0.50572 (96.07995 - z in degrees)^-1.6364) [KASTEN-1989].
 *   zenith_rad   0 to pi/2, as seen (refracted); the true one costs 1 % at 85 degrees */
double rig_sun_air_mass(double zenith_rad);

/* Cosine of the angle between the sun and the normal of a plane, -1 to 1; negative when the sun is
 * behind it. cos z cos(tilt) + sin z sin(tilt) cos(sun azimuth - plane azimuth). */
double rig_sun_incidence_cos(rig_direction sun, rig_plane plane);

#endif
