/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/daylight.h"

#include <math.h>
#include <string.h>

#include "outside.h"
#include "suites.h"

static const double RAD_PER_HOUR = 3.14159265358979323846 / 12;

static rig_place at(double latitude_deg, double longitude_deg, double utc_offset_h)
{
	return (rig_place){.latitude_deg = latitude_deg,
		.longitude_deg = longitude_deg,
		.utc_offset_h = utc_offset_h};
}

static double sum_of(const double values[RIG_DAY_HOURS])
{
	double sum = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		sum += values[i];
	return sum;
}

/* ---- the sun ---- */

/* The parallel's own time zone. */
static const outside_series SEPTEMBER = {"sun", "Hours of 3 September at 20 S summed",
	"[ALLEN-1998] ex. 8 and 9; read in another program's tests",
	"its declination is half a degree off the almanac's: 0.05 h and 0.3 MJ/m2, and half a "
	"digit"};

START_TEST(a_day_has_the_length_and_the_energy_of_fao_56)
{
	const rig_place place = at(-20, 30, 2);
	const daylight light = daylight_of(&place, 245);
	rig_day_hours hours;
	double lit_h = 0;
	double middle_rad = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		lit_h += daylight_lit_frac(&light, i, &middle_rad);
	rig_sun_hours(&place, 245, &hours);
	OUTSIDE(&SEPTEMBER, lit_h, 11.7, 0.10, "day length, h");
	OUTSIDE(&SEPTEMBER, sum_of(hours.extraterrestrial_wm2) * 3600e-6, 32.2, 0.35,
		"day outside the air, MJ/m2");
}
END_TEST

/* Middle of each month. */
static const outside_series MONTHS = {"sun", "Hours of a day outside the air at 40 N summed, MJ/m2",
	"[ALLEN-1998] annex 2; from memory",
	"2.6 %, what half a degree of declination makes of such a day"};
static const double ANNEX[12] = {
	15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6};

START_TEST(the_months_send_the_energy_of_fao_56)
{
	const rig_place place = at(40, -105, -7);
	rig_day_hours hours;
	rig_sun_hours(&place, rig_month_first_day(_i) + 14, &hours);
	OUTSIDE_CLOSE(&MONTHS, sum_of(hours.extraterrestrial_wm2) * 3600e-6, ANNEX[_i], 0.026,
		"month %d", _i + 1);
}
END_TEST

static const outside_series NOONS = {"sun", "Solar noon off theirs, s",
	"[PVLIB], its NREL algorithm", "10 s of the day's own noon"};
static const struct {
	double latitude_deg, longitude_deg, utc_offset_h;
	int day_of_year;
	double noon_h;
} NOON[] = {
	{35.0, -106.0, -7, 78, 12 + 11.0 / 60 + 20.0 / 3600},
	{45.0, -110.0, -7, 171, 12 + 21.0 / 60 + 53.0 / 3600},
	{47.6, -122.3, -8, 354, 12 + 7.0 / 60 + 25.0 / 3600},
	{33.45, -112.07, -7, 171, 12 + 30.0 / 60 + 9.0 / 3600},
};

START_TEST(noon_comes_when_a_library_says)
{
	const rig_place place =
		at(NOON[_i].latitude_deg, NOON[_i].longitude_deg, NOON[_i].utc_offset_h);
	const daylight light = daylight_of(&place, NOON[_i].day_of_year);
	OUTSIDE(&NOONS, 3600 * (daylight_time_h(&light, 0) - NOON[_i].noon_h), 0, 10,
		"day %d at %g N", NOON[_i].day_of_year + 1, NOON[_i].latitude_deg);
}
END_TEST

START_TEST(an_hour_and_its_angle_lead_back_to_each_other)
{
	const rig_place place = at(52, 174.1, -10); /* far from its zone's meridian */
	const daylight light = daylight_of(&place, 100);
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		const double angle_rad = daylight_hour_rad(&light, i);
		ck_assert(fabs(angle_rad) <= 12 * RAD_PER_HOUR);
		const double away = daylight_time_h(&light, angle_rad) - i;
		ck_assert_double_eq_tol(away - 24 * round(away / 24), 0, 1e-9);
	}
}
END_TEST

START_TEST(the_sun_goes_from_east_to_west_and_stands_in_every_lit_hour)
{
	const rig_place place = at(40, -105, -7);
	rig_day_hours hours;
	rig_sun_hours(&place, 80, &hours);
	double last_rad = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		ck_assert_int_eq(hours.cos_zenith[i] > 0, hours.extraterrestrial_wm2[i] > 0);
		if (hours.cos_zenith[i] <= 0)
			continue;
		ck_assert_double_gt(hours.azimuth_rad[i], last_rad);
		last_rad = hours.azimuth_rad[i];
	}
	ck_assert_double_lt(hours.azimuth_rad[7], 12 * RAD_PER_HOUR);
	ck_assert_double_gt(hours.azimuth_rad[16], 12 * RAD_PER_HOUR);
}
END_TEST

START_TEST(a_polar_summer_day_is_lit_throughout)
{
	const rig_place place = at(71.3, -156.8, -9);
	const daylight light = daylight_of(&place, 171);
	double middle_rad = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_eq_tol(daylight_lit_frac(&light, i, &middle_rad), 1, 1e-12);
}
END_TEST

/* ---- light ---- */

static void check_mean_day(const rig_place *place, int month)
{
	rig_day_hours hours;
	rig_mean_day(place, month, &hours);
	const double global = 1000 * place->ghi_kwh_m2_day[month];
	const double diffuse = 1000 * place->dhi_kwh_m2_day[month];
	double sunlit = 0;
	double mean_c = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		ck_assert(isfinite(hours.ghi_wm2[i]) && hours.ghi_wm2[i] >= 0);
		ck_assert(hours.dhi_wm2[i] >= 0);
		ck_assert_double_le(hours.dhi_wm2[i], hours.ghi_wm2[i] + 1e-9);
		ck_assert_double_ge(hours.temp_c[i], place->temp_min_c[month] - 1e-9);
		ck_assert_double_le(hours.temp_c[i], place->temp_max_c[month] + 1e-9);
		sunlit += hours.cos_zenith[i];
		mean_c += hours.temp_c[i] / RIG_DAY_HOURS;
	}
	ck_assert_double_eq_tol(sum_of(hours.ghi_wm2), global, 1e-9 * (1 + global));
	ck_assert_double_eq_tol(
		sum_of(hours.dhi_wm2), sunlit > 0 ? diffuse : global, 1e-9 * (1 + global));
	ck_assert_msg(fabs(mean_c - place->temp_mean_c[month]) < 1e-6, "%s month %d: %g",
		place->name, month, mean_c);
}

START_TEST(the_mean_day_sums_to_the_table_at_every_place)
{
	for (size_t i = 0; i < rig_n_places(); i++) {
		rig_place place;
		rig_place_at(i, &place);
		for (int month = 0; month < 12; month++)
			check_mean_day(&place, month);
	}
}
END_TEST

/* The place's clock is set so that noon is at 12 h. */
static const outside_series TEXTBOOK = {"light",
	"13 to 14 h of a mean day, 23 August in Madison, 31.4 MJ/m2 the day",
	"[DUFFIE-2006] ex. 2.13.2; from memory",
	"1.5 %, the hours scaled to the day; half a digit"};

START_TEST(an_hour_gets_the_textbooks_share_of_its_day)
{
	rig_place place = at(43, 0, 0);
	daylight light = daylight_of(&place, 234);
	light.first_rad = -12 * RAD_PER_HOUR;
	rig_day_hours hours = {.normal_wm2 = 0};
	const double day_wh = 31.4e6 / 3600;
	const daylight_shape shape = daylight_shape_of(&light);
	daylight_spread(&shape, day_wh, day_wh / 3, &hours);
	OUTSIDE(&TEXTBOOK, hours.ghi_wm2[13] / day_wh, 0.118, 0.0015, "share");
	OUTSIDE(&TEXTBOOK, hours.ghi_wm2[13] * 3600e-6, 3.7, 0.05, "MJ/m2");
	for (int i = 0; i < 12; i++)
		ck_assert_double_eq_tol(hours.ghi_wm2[i], hours.ghi_wm2[23 - i], 1e-9);
}
END_TEST

START_TEST(diffuse_near_sunset_is_held_below_global_and_not_lost)
{
	const rig_place place = at(40, 0, 0);
	const daylight light = daylight_of(&place, 170);
	rig_day_hours hours = {.normal_wm2 = 0};
	const daylight_shape shape = daylight_shape_of(&light);
	daylight_spread(&shape, 2000, 1990, &hours);
	ck_assert_double_eq_tol(sum_of(hours.dhi_wm2), 1990, 1e-9);
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_le(hours.dhi_wm2[i], hours.ghi_wm2[i] + 1e-9);
}
END_TEST

START_TEST(light_of_a_sunless_day_falls_about_noon)
{
	rig_place place = at(71.3, -156.8, -9);
	place.ghi_kwh_m2_day[11] = 0.03;
	place.dhi_kwh_m2_day[11] = 0.02;
	place.temp_min_c[11] = -27;
	place.temp_mean_c[11] = -24;
	place.temp_max_c[11] = -21;
	rig_day_hours hours;
	rig_mean_day(&place, 11, &hours);
	/* noon is at 13:20 by the clock: 156.8 degrees are 10.45 h behind Greenwich, the clock 9 */
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_eq_tol(hours.ghi_wm2[i], i >= 12 && i <= 14 ? 10 : 0, 1e-9);
	ck_assert_double_eq(sum_of(hours.cos_zenith), 0);
	ck_assert_double_eq_tol(sum_of(hours.temp_c) / 24, -24, 1e-6);
}
END_TEST

/* ---- temperature ---- */

START_TEST(the_low_is_at_sunrise_and_the_high_after_noon)
{
	const rig_place place = at(40, -105, -7);
	const daylight light = daylight_of(&place, 80);
	const warmth day = {-2, 6, 15};
	double temp_c[RIG_DAY_HOURS];
	daylight_warmth(&light, &day, temp_c);
	int low = 0;
	int high = 0;
	for (int i = 0; i < RIG_DAY_HOURS; i++) {
		low = temp_c[i] < temp_c[low] ? i : low;
		high = temp_c[i] > temp_c[high] ? i : high;
	}
	ck_assert_int_ge(low, 5);
	ck_assert_int_le(low, 6);
	ck_assert_int_ge(high, 13);
	ck_assert_int_le(high, 14);
	ck_assert_double_eq_tol(sum_of(temp_c) / 24, 6, 1e-6);
	ck_assert_double_gt(temp_c[high], 14.5);
	ck_assert_double_lt(temp_c[low], 0);
}
END_TEST

START_TEST(a_day_without_swing_stays_at_its_mean)
{
	const rig_place place = at(40, -105, -7);
	const daylight light = daylight_of(&place, 80);
	const warmth day = {7, 7, 7};
	double temp_c[RIG_DAY_HOURS];
	daylight_warmth(&light, &day, temp_c);
	for (int i = 0; i < RIG_DAY_HOURS; i++)
		ck_assert_double_eq(temp_c[i], 7);
}
END_TEST

Suite *daylight_suite(void);
Suite *daylight_suite(void)
{
	Suite *suite = suite_create("daylight");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_day_has_the_length_and_the_energy_of_fao_56);
	tcase_add_loop_test(all, the_months_send_the_energy_of_fao_56, 0, 12);
	tcase_add_loop_test(all, noon_comes_when_a_library_says, 0, COUNT(NOON));
	tcase_add_test(all, an_hour_and_its_angle_lead_back_to_each_other);
	tcase_add_test(all, the_sun_goes_from_east_to_west_and_stands_in_every_lit_hour);
	tcase_add_test(all, a_polar_summer_day_is_lit_throughout);
	tcase_add_test(all, the_mean_day_sums_to_the_table_at_every_place);
	tcase_add_test(all, an_hour_gets_the_textbooks_share_of_its_day);
	tcase_add_test(all, diffuse_near_sunset_is_held_below_global_and_not_lost);
	tcase_add_test(all, light_of_a_sunless_day_falls_about_noon);
	tcase_add_test(all, the_low_is_at_sunrise_and_the_high_after_noon);
	tcase_add_test(all, a_day_without_swing_stays_at_its_mean);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
