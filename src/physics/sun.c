/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/sun.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;
static const double RAD_PER_DEG = 3.14159265358979323846 / 180.0;
static const double MINUTES_PER_DEG = 4.0;
static const double J2000 = 2451545.0;

double rig_julian_day(int year, int month, int day, double hour_utc)
{
	assert(year >= 1583 && month >= 0 && month <= 11 && day >= 1 && day <= 31);
	/* The year begins in March, so that the leap day comes last: [MEEUS-1998] ch. 7. */
	const int y = month < 2 ? year - 1 : year;
	const int m = month < 2 ? month + 13 : month + 1;
	const int leaps = y / 4 - y / 100 + y / 400;
	const double days = 365.0 * y + leaps + floor(30.6001 * (m + 1)) + day;
	return days + 1720996.5 + hour_utc / 24.0;
}

int rig_day_of_year(int year, int month, int day)
{
	return (int)(rig_julian_day(year, month, day, 0) - rig_julian_day(year, 0, 1, 0)) + 1;
}

/* An angle brought into -pi to pi. */
static double wrapped_rad(double angle_rad)
{
	return remainder(angle_rad, 2.0 * PI);
}

rig_sun rig_sun_at(double julian_day)
{
	/* Names and figures of [MEEUS-1998] ch. 25 (low accuracy) and eq. 12.4; degrees in the
	 * source. */
	const double d = julian_day - J2000;
	const double t = d / 36525.0;
	const double mean_longitude = RAD_PER_DEG * (280.46646 + t * (36000.76983 + t * 0.0003032));
	const double m = RAD_PER_DEG * (357.52911 + t * (35999.05029 - t * 0.0001537));
	const double e = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
	const double centre = RAD_PER_DEG * ((1.914602 - t * (0.004817 + t * 0.000014)) * sin(m) +
						    (0.019993 - t * 0.000101) * sin(2 * m) +
						    0.000289 * sin(3 * m));
	const double node = RAD_PER_DEG * (125.04 - 1934.136 * t);
	const double nutation = RAD_PER_DEG * -0.00478 * sin(node);
	const double aberration = RAD_PER_DEG * -0.00569;
	const double longitude = mean_longitude + centre + aberration + nutation;
	const double obliquity = RAD_PER_DEG * (23.439291 - t * 0.0130042 + 0.00256 * cos(node));
	const double right_ascension = atan2(cos(obliquity) * sin(longitude), cos(longitude));
	const double sidereal =
		RAD_PER_DEG *
			fmod(280.46061837 + 360.98564736629 * d + t * t * 0.000387933, 360.0) +
		nutation * cos(obliquity);
	const double equation = wrapped_rad(
		mean_longitude + aberration - right_ascension + nutation * cos(obliquity));
	return (rig_sun){
		.declination_rad = asin(sin(obliquity) * sin(longitude)),
		.greenwich_hour_angle_rad = wrapped_rad(sidereal - right_ascension),
		.equation_of_time_minutes = equation / RAD_PER_DEG * MINUTES_PER_DEG,
		.distance_au = 1.000001018 * (1.0 - e * e) / (1.0 + e * cos(m + centre)),
	};
}

rig_direction rig_sun_direction_at(
	double latitude_rad, double declination_rad, double hour_angle_rad)
{
	assert(fabs(latitude_rad) <= PI / 2 + 1e-12);
	/* Unit vector to the sun; taking both angles from it needs no guard around acos. */
	const double up = sin(latitude_rad) * sin(declination_rad) +
			  cos(latitude_rad) * cos(declination_rad) * cos(hour_angle_rad);
	const double north = cos(latitude_rad) * sin(declination_rad) -
			     sin(latitude_rad) * cos(declination_rad) * cos(hour_angle_rad);
	const double east = -cos(declination_rad) * sin(hour_angle_rad);
	const double azimuth_rad = atan2(east, north);
	return (rig_direction){
		.zenith_rad = atan2(hypot(east, north), up),
		.azimuth_rad = azimuth_rad < 0 ? azimuth_rad + 2.0 * PI : azimuth_rad,
	};
}

rig_direction rig_sun_direction(const rig_sun *sun, double latitude_rad, double longitude_rad)
{
	return rig_sun_direction_at(
		latitude_rad, sun->declination_rad, sun->greenwich_hour_angle_rad + longitude_rad);
}

double rig_sun_normal_wm2(double distance_au)
{
	assert(distance_au > 0);
	return RIG_SOLAR_CONSTANT_WM2 / (distance_au * distance_au);
}

double rig_sun_day_normal_wm2(int day)
{
	assert(day >= 1 && day <= 366);
	return RIG_SOLAR_CONSTANT_WM2 * (1.0 + 0.033 * cos(2.0 * PI * day / 365.0));
}

double rig_sun_cooper_rad(int day)
{
	assert(day >= 1 && day <= 366);
	return 23.45 * RAD_PER_DEG * sin(2.0 * PI * (284 + day) / 365.0);
}

int rig_sun_mean_day(int month)
{
	static const int MEAN_DAY[12] = {/* [KLEIN-1977] */
		17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344};
	assert(month >= 0 && month <= 11);
	return MEAN_DAY[month];
}

double rig_sun_sunset_rad(double latitude_rad, double declination_rad)
{
	const double cos_sunset = -tan(latitude_rad) * tan(declination_rad);
	if (cos_sunset <= -1)
		return PI;
	if (cos_sunset >= 1)
		return 0;
	return acos(cos_sunset);
}

double rig_sun_day_h(double latitude_rad, double declination_rad)
{
	return 24.0 / PI * rig_sun_sunset_rad(latitude_rad, declination_rad);
}

double rig_sun_span_wh_m2(const rig_sun_day *day, double from_rad, double to_rad)
{
	assert(-PI <= from_rad && from_rad <= to_rad && to_rad <= PI);
	const double sunset = rig_sun_sunset_rad(day->latitude_rad, day->declination_rad);
	const double from = fmax(from_rad, -sunset), to = fmin(to_rad, sunset);
	if (from >= to)
		return 0;
	return day->normal_wm2 * 12.0 / PI *
	       (cos(day->latitude_rad) * cos(day->declination_rad) * (sin(to) - sin(from)) +
		       (to - from) * sin(day->latitude_rad) * sin(day->declination_rad));
}

double rig_sun_day_wh_m2(double latitude_rad, double declination_rad, double normal_wm2)
{
	const rig_sun_day day = {latitude_rad, declination_rad, normal_wm2};
	return rig_sun_span_wh_m2(&day, -PI, PI);
}

double rig_sun_air_mass(double zenith_rad)
{
	assert(zenith_rad >= 0 && zenith_rad <= PI / 2 + 1e-9);
	const double zenith_deg = zenith_rad / RAD_PER_DEG;
	return 1.0 / (cos(zenith_rad) + 0.50572 * pow(96.07995 - zenith_deg, -1.6364));
}

double rig_sun_incidence_cos(rig_direction sun, rig_plane plane)
{
	return cos(sun.zenith_rad) * cos(plane.tilt_rad) +
	       sin(sun.zenith_rad) * sin(plane.tilt_rad) * cos(sun.azimuth_rad - plane.azimuth_rad);
}
