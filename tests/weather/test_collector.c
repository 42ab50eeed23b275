/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "outside.h"
#include "rigbudget/sun.h"
#include "rigbudget/weather.h"
#include "suites.h"

static const double RAD = 3.14159265358979323846 / 180;

/* One hour of the day holds the light, the others are dark. */
typedef struct {
	const outside_series *series;
	double ghi_wm2, dhi_wm2, zenith_rad, azimuth_rad, normal_wm2;
	rig_mount mount;
	double plane_wm2, tol_wm2;
} plane_case;

static void check_plane(const plane_case *c)
{
	rig_day_hours hours = {.normal_wm2 = c->normal_wm2};
	double plane_wm2[RIG_DAY_HOURS];
	hours.ghi_wm2[9] = c->ghi_wm2;
	hours.dhi_wm2[9] = c->dhi_wm2;
	hours.cos_zenith[9] = cos(c->zenith_rad);
	hours.azimuth_rad[9] = c->azimuth_rad;
	rig_day_on_plane(&hours, &c->mount, plane_wm2);
	if (c->series != NULL)
		OUTSIDE(c->series, plane_wm2[9], c->plane_wm2, c->tol_wm2, "%s sky",
			c->mount.isotropic ? "isotropic" : "Hay-Davies");
	else
		ck_assert_double_eq_tol(plane_wm2[9], c->plane_wm2, c->tol_wm2);
	ck_assert_double_eq(plane_wm2[8], 0);
}

/* 1.04 and diffuse 0.796 MJ/m2 on level ground, albedo 0.60: 1.17 MJ/m2. */
static const outside_series TEXTBOOK = {"light",
	"An hour of a day on a plane, 60 degrees south at 40 N, 20 February, 9 to 10 h, W/m2",
	"[DUFFIE-2006] ex. 2.15.1, 1.17 MJ/m2; from memory", "0.01 MJ/m2, as its steps round"};

START_TEST(an_isotropic_hour_is_the_textbooks)
{
	const double wm2 = 1e6 / 3600;
	const rig_direction sun =
		rig_sun_direction_at(40 * RAD, rig_sun_cooper_rad(51), -37.5 * RAD);
	const plane_case c = {&TEXTBOOK, 1.04 * wm2, 0.796 * wm2, sun.zenith_rad, sun.azimuth_rad,
		rig_sun_day_normal_wm2(51), {60 * RAD, 180 * RAD, 0.60, true}, 1.17 * wm2,
		0.01 * wm2};
	check_plane(&c);
}
END_TEST

/* Sky parts; beam 798.32 and ground 30.49 W/m2 at an albedo of 0.25. */
static const outside_series LIBRARY = {"light",
	"An hour of a day on a plane of 40 degrees to the south, W/m2",
	"[PVLIB], sum of the parts in its tests", "0.1 W/m2, two parts of 0.05"};
static const struct {
	bool isotropic;
	double sky_wm2;
} SKY[] = {{true, 104.601}, {false, 102.995}};

START_TEST(a_tilted_hour_agrees_with_a_library)
{
	const plane_case c = {&LIBRARY, 1042.48, 118.458, 10.5641 * RAD, 144.7657 * RAD, 1321.166,
		{40 * RAD, 180 * RAD, 0.25, SKY[_i].isotropic}, SKY[_i].sky_wm2 + 798.32 + 30.49,
		0.1};
	check_plane(&c);
}
END_TEST

static const rig_place SITE = {.latitude_deg = 40,
	.longitude_deg = -105,
	.utc_offset_h = -7,
	.ghi_kwh_m2_day = {2.4, 3.3, 4.4, 5.6, 6.2, 6.9, 6.7, 5.9, 5.0, 3.8, 2.6, 2.1},
	.dhi_kwh_m2_day = {0.8, 1.0, 1.5, 2.0, 2.4, 2.3, 2.3, 2.1, 1.6, 1.2, 0.9, 0.7}};

static double day_sum(const rig_place *place, int month, const rig_mount *mount)
{
	rig_day_hours hours;
	double plane_wm2[RIG_DAY_HOURS];
	double sum = 0;
	rig_mean_day(place, month, &hours);
	rig_day_on_plane(&hours, mount, plane_wm2);
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		sum += plane_wm2[i];
	return sum;
}

START_TEST(a_flat_plane_gets_exactly_the_horizontal)
{
	const rig_mount flat = {.albedo_frac = 0.2};
	rig_day_hours hours;
	double plane_wm2[RIG_DAY_HOURS];
	rig_mean_day(&SITE, _i, &hours);
	rig_day_on_plane(&hours, &flat, plane_wm2);
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_eq(plane_wm2[i], hours.ghi_wm2[i]);
}
END_TEST

START_TEST(a_slope_to_the_south_gains_in_winter_and_loses_in_june)
{
	const rig_mount south = {50 * RAD, 180 * RAD, 0.2, false};
	const rig_mount north = {50 * RAD, 0, 0.2, false};
	const rig_mount flat = {.albedo_frac = 0.2};
	ck_assert_double_gt(day_sum(&SITE, 11, &south), 1.4 * day_sum(&SITE, 11, &flat));
	ck_assert_double_lt(day_sum(&SITE, 5, &south), day_sum(&SITE, 5, &flat));
	ck_assert_double_lt(day_sum(&SITE, 11, &north), 0.5 * day_sum(&SITE, 11, &flat));
}
END_TEST

START_TEST(east_and_west_slopes_gain_alike_over_a_mean_day)
{
	const rig_mount east = {30 * RAD, 90 * RAD, 0.2, false};
	const rig_mount west = {30 * RAD, 270 * RAD, 0.2, false};
	const double both = day_sum(&SITE, 2, &east);
	ck_assert_double_eq_tol(day_sum(&SITE, 2, &west), both, 0.01 * both);
}
END_TEST

START_TEST(beam_near_sunrise_is_no_stronger_than_outside_the_air)
{
	const rig_mount upright = {90 * RAD, 90 * RAD, 0, true};
	const plane_case c = {NULL, 50, 10, 89.99 * RAD, 90 * RAD, 1400, upright, 1400 + 5, 0.1};
	check_plane(&c);
}
END_TEST

START_TEST(a_real_year_needs_a_place_and_beam_for_a_slope)
{
	static rig_hourly_year year;
	static double plane_wm2[RIG_YEAR_HOURS];
	const rig_mount flat = {.albedo_frac = 0.2};
	const rig_mount south = {30 * RAD, 180 * RAD, 0.2, false};
	for (int i = 0; i < RIG_YEAR_HOURS; i++)
		year.ghi_wm2[i] = i % 7;
	plane_wm2[3] = 77;
	ck_assert_int_eq(rig_year_on_plane(&year, &south, plane_wm2), RIG_BAD_INPUT);
	ck_assert_double_eq(plane_wm2[3], 77);
	year.located = true;
	ck_assert_int_eq(rig_year_on_plane(&year, &south, plane_wm2), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_year_on_plane(&year, &flat, plane_wm2), RIG_OK);
	ck_assert_double_eq(plane_wm2[3], 3);
}
END_TEST

/* A year made of mean days gives each day what the mean day gives. */
START_TEST(a_real_year_on_a_slope_is_its_days_on_a_slope)
{
	static rig_hourly_year year;
	static double plane_wm2[RIG_YEAR_HOURS];
	const rig_mount south = {30 * RAD, 180 * RAD, 0.2, false};
	year.located = year.has_beam = true;
	year.latitude_deg = SITE.latitude_deg;
	year.longitude_deg = SITE.longitude_deg;
	year.utc_offset_h = SITE.utc_offset_h;
	rig_day_hours hours;
	rig_mean_day(&SITE, 5, &hours);
	const int at = rig_month_mean_day(5) * RIG_DAY_HOURS;
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		year.ghi_wm2[at + i] = hours.ghi_wm2[i];
		year.dhi_wm2[at + i] = hours.dhi_wm2[i];
		if (hours.cos_zenith[i] > 0)
			year.dni_wm2[at + i] =
				(hours.ghi_wm2[i] - hours.dhi_wm2[i]) / hours.cos_zenith[i];
	}
	double day_wm2[RIG_DAY_HOURS];
	rig_day_on_plane(&hours, &south, day_wm2);
	ck_assert_int_eq(rig_year_on_plane(&year, &south, plane_wm2), RIG_OK);
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_eq_tol(plane_wm2[at + i], day_wm2[i], 1e-9);
	ck_assert_double_gt(plane_wm2[at + 12], 500);
}
END_TEST

Suite *collector_suite(void);
Suite *collector_suite(void)
{
	Suite *suite = suite_create("collector");
	TCase *all = tcase_create("all");
	tcase_add_test(all, an_isotropic_hour_is_the_textbooks);
	tcase_add_loop_test(all, a_tilted_hour_agrees_with_a_library, 0, COUNT(SKY));
	tcase_add_loop_test(all, a_flat_plane_gets_exactly_the_horizontal, 0, 12);
	tcase_add_test(all, a_slope_to_the_south_gains_in_winter_and_loses_in_june);
	tcase_add_test(all, east_and_west_slopes_gain_alike_over_a_mean_day);
	tcase_add_test(all, beam_near_sunrise_is_no_stronger_than_outside_the_air);
	tcase_add_test(all, a_real_year_needs_a_place_and_beam_for_a_slope);
	tcase_add_test(all, a_real_year_on_a_slope_is_its_days_on_a_slope);
	suite_add_tcase(suite, all);
	return suite;
}
