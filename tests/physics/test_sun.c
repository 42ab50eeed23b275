/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/sun.h"

#include <libnova/dynamical_time.h>
#include <libnova/precession.h>
#include <libnova/solar.h>
#include <libnova/transform.h>

#include "outside.h"
#include "physics/close.h"
#include "references/irradiance_rows.h"

static const double MJ_PER_WH = 0.0036;

/* Angle between two directions, degrees. */
static double apart_deg(rig_direction a, rig_direction b)
{
	const double x =
		sin(a.zenith_rad) * cos(a.azimuth_rad) - sin(b.zenith_rad) * cos(b.azimuth_rad);
	const double y =
		sin(a.zenith_rad) * sin(a.azimuth_rad) - sin(b.zenith_rad) * sin(b.azimuth_rad);
	const double z = cos(a.zenith_rad) - cos(b.zenith_rad);
	return 2.0 * asin(fmin(1, sqrt(x * x + y * y + z * z) / 2.0)) / DEG;
}

static rig_direction seen_at(double julian_day, double latitude_deg, double longitude_deg)
{
	const rig_sun sun = rig_sun_at(julian_day);
	return rig_sun_direction(&sun, latitude_deg * DEG, longitude_deg * DEG);
}

static const outside_series JULIAN_DAYS = {
	"sun", "Julian day", "[MEEUS-1998] ch. 7, worked examples and table; from memory", "exact"};
static const struct {
	int year, month, day;
	double hour_utc, julian_day;
} JULIAN[] = {
	{1957, 9, 4, 19.44, 2436116.31},
	{2000, 0, 1, 12.0, 2451545.0},
	{1999, 0, 1, 0, 2451179.5},
	{1987, 0, 27, 0, 2446822.5},
	{1987, 5, 19, 12, 2446966.0},
	{1988, 0, 27, 0, 2447187.5},
	{1900, 0, 1, 0, 2415020.5},
	{1600, 11, 31, 0, 2305812.5},
};

START_TEST(julian_days_agree_with_published_ones)
{
	OUTSIDE(&JULIAN_DAYS,
		rig_julian_day(
			JULIAN[_i].year, JULIAN[_i].month, JULIAN[_i].day, JULIAN[_i].hour_utc),
		JULIAN[_i].julian_day, 1e-8, "%d-%02d-%02d, %g h", JULIAN[_i].year,
		JULIAN[_i].month + 1, JULIAN[_i].day, JULIAN[_i].hour_utc);
}
END_TEST

START_TEST(julian_days_count_the_leap_day)
{
	/* by hand: 60 days after 1 January 2000 */
	ck_assert_double_eq_tol(rig_julian_day(2000, 1, 29, 24), 2451604.5, 1e-8);
	ck_assert_double_eq_tol(rig_julian_day(2000, 2, 1, 0), 2451604.5, 1e-8);
}
END_TEST

START_TEST(days_of_the_year_count_leap_days)
{
	ck_assert_int_eq(rig_day_of_year(2026, 0, 1), 1);
	ck_assert_int_eq(rig_day_of_year(2026, 2, 1), 60);
	ck_assert_int_eq(rig_day_of_year(2024, 2, 1), 61);
	ck_assert_int_eq(rig_day_of_year(2026, 11, 31), 365);
	ck_assert_int_eq(rig_day_of_year(2024, 11, 31), 366);
	ck_assert_int_eq(rig_day_of_year(2100, 11, 31), 365);
}
END_TEST

/* 17 October 2003, 12:30:30 at UTC-7, 39.742476 N, 105.1786 W. */
#define SPA "Sun of the worked example of 17 October 2003, "
static const outside_series WORKED = {"sun", SPA "degrees",
	"[REDA-2004], read in an irradiance library's tests", "0.01 asked of a compact algorithm"};
static const outside_series WORKED_TRUE = {"sun", SPA "without refraction, degrees",
	"[PVLIB] for that instant", "0.01 asked of a compact algorithm"};
static const outside_series WORKED_REST = {"sun", SPA "distance and equation of time",
	"[PVLIB] for that instant", "what 0.01 degree makes in time; 1e-4 of the distance"};

START_TEST(the_worked_example_of_a_reference_algorithm_is_met)
{
	const double jd = rig_julian_day(2003, 9, 17, 12 + 7 + 30.5 / 60);
	const rig_sun sun = rig_sun_at(jd);
	const rig_direction seen = seen_at(jd, 39.742476, -105.1786);
	const double up_deg = 90.0 - seen.zenith_rad / DEG;
	OUTSIDE(&WORKED_TRUE, up_deg, 39.872046, 0.01, "elevation");
	OUTSIDE(&WORKED, seen.azimuth_rad / DEG, 194.34024, 0.01, "azimuth");
	OUTSIDE(&WORKED_TRUE, sun.declination_rad / DEG, -9.31434, 0.01, "declination");
	OUTSIDE(&WORKED_TRUE, sun.greenwich_hour_angle_rad / DEG - 105.1786, 11.10590, 0.01,
		"hour angle");
	OUTSIDE(&WORKED_REST, sun.distance_au, 0.9965423, 1e-4, "distance, au");
	OUTSIDE(&WORKED_REST, sun.equation_of_time_minutes, 14.6415, 0.04,
		"equation of time, minutes");
	/* The source's refraction at 820 mbar and 11 C, added here since ours is the true sun. */
	const double refraction_deg = 820.0 / 1010.0 * 283.0 / (273.0 + 11.0) * 1.02 /
				      (60.0 * tan((up_deg + 10.3 / (up_deg + 5.11)) * DEG));
	OUTSIDE(&WORKED, seen.zenith_rad / DEG - refraction_deg, 50.11162, 0.01,
		"zenith, with the source's refraction");
}
END_TEST

/* Standard time. Rise and set are the almanac's, with the centre of the sun at -0.8333 degree. That
 * library works by the day in universal time, so its sunset is the one of the evening before at
 * these longitudes. */
#define SPA_RUN "[PVLIB], its NREL algorithm, cross-checked there with two other libraries"
static const outside_series SEEN = {"sun", "Angle between our sun and theirs, degrees", SPA_RUN,
	"0.01 asked of an instant of our day"};
static const outside_series ALMANAC = {"sun",
	"Where our sun stands at their times of rise and set (centre at -0.8333) and of noon (on "
	"the "
	"meridian), degrees",
	SPA_RUN, "a second of time is 0.004, ours is good to 0.01"};
static const struct {
	int month, day;
	double utc_offset_h, latitude_deg, longitude_deg;
	double hour, up_deg, azimuth_deg;
	double rise_h, transit_h, set_before_h;
} DAYS_2026[] = {
	{2, 20, -7, 35.0, -106.0, 12, 54.968, 175.052, 6 + 7 / 60. + 25 / 3600.,
		12 + 11 / 60. + 20 / 3600., 18 + 15 / 60.},
	{5, 21, -7, 45.0, -110.0, 12, 67.980, 166.509, 4 + 33 / 60. + 18 / 3600.,
		12 + 21 / 60. + 53 / 3600., 20 + 10 / 60. + 14 / 3600.},
	{11, 21, -8, 47.6, -122.3, 12, 18.941, 178.198, 7 + 54 / 60. + 38 / 3600.,
		12 + 7 / 60. + 25 / 3600., 16 + 19 / 60. + 44 / 3600.},
	{5, 21, -7, 33.45, -112.07, 18.5, 12.705, 289.858, 5 + 18 / 60. + 58 / 3600.,
		12 + 30 / 60. + 9 / 3600., 19 + 41 / 60. + 8 / 3600.},
};

static rig_direction seen_on(int i, double hour)
{
	return seen_at(rig_julian_day(2026, DAYS_2026[i].month, DAYS_2026[i].day,
			       hour - DAYS_2026[i].utc_offset_h),
		DAYS_2026[i].latitude_deg, DAYS_2026[i].longitude_deg);
}

START_TEST(the_sun_stands_where_another_library_sees_it)
{
	const rig_direction seen = seen_on(_i, DAYS_2026[_i].hour);
	const rig_direction expected = {
		(90 - DAYS_2026[_i].up_deg) * DEG, DAYS_2026[_i].azimuth_deg * DEG};
	OUTSIDE_WORST(&SEEN, apart_deg(seen, expected), 0.01, "2026-%02d-%02d at %g N",
		DAYS_2026[_i].month + 1, DAYS_2026[_i].day, DAYS_2026[_i].latitude_deg);
}
END_TEST

START_TEST(the_sun_rises_culminates_and_sets_at_the_almanacs_times)
{
	const double tol = 0.015, north_deg = DAYS_2026[_i].latitude_deg;
	const int month = DAYS_2026[_i].month + 1;
	OUTSIDE(&ALMANAC, 90 - seen_on(_i, DAYS_2026[_i].rise_h).zenith_rad / DEG, -0.8333, tol,
		"rise, month %d, %g N", month, north_deg);
	OUTSIDE(&ALMANAC, 90 - seen_on(_i, DAYS_2026[_i].set_before_h - 24).zenith_rad / DEG,
		-0.8333, tol, "set, month %d, %g N", month, north_deg);
	const rig_direction noon = seen_on(_i, DAYS_2026[_i].transit_h);
	OUTSIDE(&ALMANAC, (noon.azimuth_rad / DEG - 180) * sin(noon.zenith_rad), 0, tol,
		"noon, month %d, %g N", month, north_deg);
}
END_TEST

START_TEST(the_sun_stands_where_an_irradiance_library_sees_it)
{
	static const outside_series SUNS = {"sun", "Angle between our sun and theirs, degrees",
		"[PVLIB], 40 random instants and places of 2026",
		"0.02, asked of a compact algorithm"};
	double worst_deg = 0;
	for (int i = 0; i < COUNT(IRRADIANCE_ROWS); i++) {
		const struct irradiance_row row = IRRADIANCE_ROWS[i];
		const rig_direction expected = {row.zenith_deg * DEG, row.azimuth_deg * DEG};
		const rig_direction seen =
			seen_at(rig_julian_day(2026, row.month, row.day, row.hour_utc),
				row.latitude_deg, row.longitude_deg);
		worst_deg = fmax(worst_deg, apart_deg(seen, expected));
		ck_assert_double_eq_tol(seen.zenith_rad / DEG, row.zenith_deg, 0.02);
	}
	OUTSIDE_WORST(&SUNS, worst_deg, 0.02, "worst of %d", COUNT(IRRADIANCE_ROWS));
}
END_TEST

/* [LIBNOVA]: VSOP87 with nutation and aberration, referred to the equinox of 2000, so that
 * precession to the date is added; azimuth from the south there. */
START_TEST(a_thousand_random_suns_agree_with_an_ephemeris_library)
{
	enum { SEED = 20260117 };
	uint64_t state = SEED;
	double worst_deg = 0;
	for (int i = 0; i < 1000; i++) {
		const double jd = random_between(
			&state, rig_julian_day(1950, 0, 1, 0), rig_julian_day(2100, 11, 31, 0));
		struct ln_lnlat_posn place = {.lng = random_between(&state, -180, 180),
			.lat = asin(random_between(&state, -1, 1)) / DEG};
		struct ln_equ_posn of_2000, of_date;
		struct ln_hrz_posn theirs;
		ln_get_solar_equ_coords(ln_get_jde(jd), &of_2000);
		ln_get_equ_prec(&of_2000, ln_get_jde(jd), &of_date);
		ln_get_hrz_from_equ(&of_date, &place, jd, &theirs);
		const rig_direction expected = {(90 - theirs.alt) * DEG, (theirs.az + 180) * DEG};
		const rig_direction ours = seen_at(jd, place.lat, place.lng);
		worst_deg = fmax(worst_deg, apart_deg(ours, expected));
		worst_deg = fmax(worst_deg, fabs(ours.zenith_rad / DEG - (90 - theirs.alt)));
	}
	static const outside_series RANDOM = {"sun", "Angle between our sun and theirs, degrees",
		"[LIBNOVA], 1,000 random instants of 1950 to 2100 and places on all the globe",
		"0.05, the accuracy that users are promised"};
	OUTSIDE_WORST(&RANDOM, worst_deg, 0.05, "worst of 1,000, seed %d", SEED);
	/* and the header's own claim */
	ck_assert_msg(worst_deg < 0.025, "seed %d: %.4f degree apart", SEED, worst_deg);
}
END_TEST

/* [DUFFIE-2006] ch. 1. Azimuth there is 0 to the south, + west. */
#define CHAPTER_1 "[DUFFIE-2006] ch. 1 and its examples; from memory"
static const outside_series ANGLES = {
	"sun", "Angles, degrees", CHAPTER_1, "as the examples round the declination"};
static const outside_series BEAM = {"sun", "Cosines of incidence and beam ratio of a tilted plane",
	CHAPTER_1, "as the examples round the declination"};

START_TEST(textbook_angles_are_met)
{
	OUTSIDE(&ANGLES, rig_sun_cooper_rad(44) / DEG, -13.95, 0.005,
		"declination, 13 February, eq. 1.6.1a");
	OUTSIDE(&ANGLES, rig_sun_cooper_rad(182) / DEG, 23.1, 0.05, "declination, 1 July");
	rig_direction sun = rig_sun_direction_at(43 * DEG, rig_sun_cooper_rad(44), -37.5 * DEG);
	OUTSIDE(&ANGLES, sun.zenith_rad / DEG, 66.5, 0.2,
		"zenith, 13 February, 9:30, 43 N, ex. 1.6.2a");
	OUTSIDE(&ANGLES, sun.azimuth_rad / DEG - 180, -40.0, 0.2, "its azimuth from south");
	sun = rig_sun_direction_at(43 * DEG, rig_sun_cooper_rad(182), 97.5 * DEG);
	OUTSIDE(&ANGLES, sun.zenith_rad / DEG, 79.6, 0.2,
		"zenith, 1 July, 18:30, 43 N, ex. 1.6.2b");
	OUTSIDE(&ANGLES, sun.azimuth_rad / DEG - 180, 112.0, 0.2,
		"its azimuth from south, north of west");
}
END_TEST

START_TEST(textbook_beam_ratios_are_met)
{
	/* a plane at 45 degrees facing 15 west of south at 43 N */
	rig_direction sun = rig_sun_direction_at(43 * DEG, -14 * DEG, -22.5 * DEG);
	const double cosine = rig_sun_incidence_cos(sun, (rig_plane){45 * DEG, 195 * DEG});
	OUTSIDE(&BEAM, cosine, 0.817, 0.002, "cosine of incidence, ex. 1.6.1");
	OUTSIDE(&ANGLES, acos(cosine) / DEG, 35, 0.3, "incidence, ex. 1.6.1");
	OUTSIDE(&BEAM, cosine / cos(sun.zenith_rad), 1.66, 0.01, "beam ratio, ex. 1.8.1");
	/* 16 February, 9 to 10, 30 degrees south at 40 north */
	sun = rig_sun_direction_at(40 * DEG, rig_sun_cooper_rad(47), -37.5 * DEG);
	const double tilted = rig_sun_incidence_cos(sun, (rig_plane){30 * DEG, 180 * DEG});
	OUTSIDE(&BEAM, tilted, 0.722, 0.003, "cosine of incidence, ex. 1.8.2");
	OUTSIDE(&BEAM, cos(sun.zenith_rad), 0.448, 0.003, "cosine of the zenith, ex. 1.8.2");
	OUTSIDE(&BEAM, tilted / cos(sun.zenith_rad), 1.61, 0.01, "beam ratio, ex. 1.8.2");
}
END_TEST

/* ex. 1.5.1: 3 February, 10:30 by the clock at 89.4 W is 10:19 by the sun. */
START_TEST(the_textbooks_solar_time_is_met)
{
	static const outside_series SOLAR_TIME = {"sun", "Solar time on 3 February, minutes",
		CHAPTER_1,
		"a third of a minute: the book has a series by the day, this is the sun of 2026"};
	const rig_sun sun = rig_sun_at(rig_julian_day(2026, 1, 3, 16.5));
	const double before_noon_deg = 89.4 - sun.greenwich_hour_angle_rad / DEG;
	OUTSIDE(&SOLAR_TIME, sun.equation_of_time_minutes, -13.5, 0.35,
		"equation of time, ex. 1.5.1");
	OUTSIDE(&SOLAR_TIME, 12 * 60 - 4 * before_noon_deg - (10 * 60 + 30), -11, 0.5,
		"sun's time less the clock's, 10:30 at 89.4 W");
}
END_TEST

START_TEST(textbook_energy_outside_the_air_is_met)
{
	static const outside_series APRIL = {"sun", "15 April at 43 N", CHAPTER_1, "as printed"};
	static const outside_series SEPTEMBER = {"sun", "3 September at 20 S",
		"[ALLEN-1998] ex. 8 and 9; read in another program's tests",
		"as printed; 0.006 for another fit of the declination"};
	const rig_sun_day april = {43 * DEG, rig_sun_cooper_rad(105), rig_sun_day_normal_wm2(105)};
	const double day_wh =
		rig_sun_day_wh_m2(april.latitude_rad, april.declination_rad, april.normal_wm2);
	OUTSIDE(&APRIL, april.declination_rad / DEG, 9.4, 0.05, "declination, degrees");
	OUTSIDE(&APRIL, rig_sun_sunset_rad(april.latitude_rad, april.declination_rad) / DEG, 98.9,
		0.1, "sunset hour angle, degrees");
	OUTSIDE(&APRIL, day_wh * MJ_PER_WH, 33.8, 0.1, "day outside the air, MJ/m2, ex. 1.10.1");
	OUTSIDE(&APRIL, day_wh / 1000, 9.38, 0.01, "day outside the air, kWh/m2");
	OUTSIDE(&APRIL, rig_sun_span_wh_m2(&april, -30 * DEG, -15 * DEG) * MJ_PER_WH, 3.79, 0.02,
		"10 to 11 h outside the air, MJ/m2, ex. 1.10.2");
	const double september_rad = rig_sun_cooper_rad(246);
	OUTSIDE(&SEPTEMBER, rig_sun_day_normal_wm2(246) / RIG_SOLAR_CONSTANT_WM2, 0.985, 0.0005,
		"inverse square of the distance");
	OUTSIDE(&SEPTEMBER, september_rad, 0.120, 0.006, "declination, rad");
	OUTSIDE(&SEPTEMBER, rig_sun_sunset_rad(-20 * DEG, september_rad), 1.527, 0.002,
		"sunset hour angle, rad");
	OUTSIDE(&SEPTEMBER,
		rig_sun_day_wh_m2(-20 * DEG, september_rad, rig_sun_day_normal_wm2(246)) *
			MJ_PER_WH,
		32.2, 0.1, "day outside the air, MJ/m2");
	OUTSIDE(&SEPTEMBER, rig_sun_day_h(-20 * DEG, september_rad), 11.7, 0.05, "day length, h");
}
END_TEST

static const outside_series ANNEX = {"sun", "Day outside the air at 40 N, MJ/m2",
	"[ALLEN-1998] annex 2; from memory", "0.2, the table's own declination"};
static const double AT_40_N[12] = {
	15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6};

START_TEST(monthly_energy_outside_the_air_agrees_with_a_table)
{
	const int day = rig_day_of_year(2026, _i, 15);
	OUTSIDE(&ANNEX,
		rig_sun_day_wh_m2(40 * DEG, rig_sun_cooper_rad(day), rig_sun_day_normal_wm2(day)) *
			MJ_PER_WH,
		AT_40_N[_i], 0.2, "month %d", _i + 1);
}
END_TEST

START_TEST(mean_days_are_the_tables)
{
	static const outside_series MEAN_DAY = {"sun", "Mean day of a month, day of the year",
		"[KLEIN-1977]; from memory", "exact"};
	static const int DAY[12] = {17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10};
	OUTSIDE(&MEAN_DAY, rig_sun_mean_day(_i), rig_day_of_year(2026, _i, DAY[_i]), 0, "month %d",
		_i + 1);
}
END_TEST

START_TEST(the_mean_day_of_a_month_has_its_mean_energy)
{
	/* What [KLEIN-1977] chose them for; at 40 N, all days of that month. */
	double sum = 0;
	const int first = rig_day_of_year(2026, _i, 1);
	const int last = _i == 11 ? 365 : rig_day_of_year(2026, _i + 1, 1) - 1;
	for (int day = first; day <= last; day++)
		sum += rig_sun_day_wh_m2(
			40 * DEG, rig_sun_cooper_rad(day), rig_sun_day_normal_wm2(day));
	const int mean_day = rig_sun_mean_day(_i);
	CLOSE(rig_sun_day_wh_m2(
		      40 * DEG, rig_sun_cooper_rad(mean_day), rig_sun_day_normal_wm2(mean_day)),
		sum / (last - first + 1), 0.015);
}
END_TEST

START_TEST(day_formulas_stay_near_the_instant)
{
	for (int day = 1; day <= 365; day++) {
		const rig_sun sun = rig_sun_at(rig_julian_day(2026, 0, 1, 12) + day - 1);
		ck_assert_double_eq_tol(rig_sun_cooper_rad(day), sun.declination_rad, 1.0 * DEG);
		CLOSE(rig_sun_day_normal_wm2(day), rig_sun_normal_wm2(sun.distance_au), 0.004);
	}
}
END_TEST

START_TEST(the_air_grows_thicker_toward_the_horizon)
{
	static const outside_series TABLE = {
		"sun", "Air mass", "[KASTEN-1989] table; from memory", "0.1 % of the table's fit"};
	static const outside_series LIBRARY = {
		"sun", "Air mass", "[PVLIB], run at that zenith", "its last digits"};
	OUTSIDE(&TABLE, rig_sun_air_mass(0), 1.0, 0.001, "overhead");
	OUTSIDE(&LIBRARY, rig_sun_air_mass(70 * DEG), 2.9031, 0.0005, "zenith 70 degrees");
	OUTSIDE(&TABLE, rig_sun_air_mass(90 * DEG), 37.92, 0.05, "horizon");
	double last = 0;
	for (int deg = 0; deg <= 90; deg++) {
		const double air_mass = rig_sun_air_mass(deg * DEG);
		ck_assert_double_gt(air_mass, last);
		last = air_mass;
	}
}
END_TEST

START_TEST(polar_days_and_nights_have_their_lengths)
{
	ck_assert_double_eq_tol(rig_sun_day_h(75 * DEG, 23 * DEG), 24, 1e-12);
	ck_assert_double_eq(rig_sun_day_h(75 * DEG, -23 * DEG), 0);
	ck_assert_double_eq(rig_sun_day_wh_m2(75 * DEG, -23 * DEG, 1400), 0);
	ck_assert_double_eq_tol(rig_sun_day_h(0, 23 * DEG), 12, 1e-12);
	/* the sun that never sets: normal x 24 h x sin(lat) x sin(decl) at the pole's edge */
	CLOSE(rig_sun_day_wh_m2(89.9999 * DEG, 23 * DEG, 1000), 24000 * sin(23 * DEG), 1e-5);
}
END_TEST

START_TEST(hours_sum_to_their_day)
{
	const rig_sun_day day = {35 * DEG, 20 * DEG, 1320};
	double sum = 0;
	for (int hour = -12; hour < 12; hour++)
		sum += rig_sun_span_wh_m2(&day, hour * 15 * DEG, (hour + 1) * 15 * DEG);
	CLOSE(rig_sun_day_wh_m2(day.latitude_rad, day.declination_rad, day.normal_wm2), sum, 1e-12);
	ck_assert_double_eq(rig_sun_span_wh_m2(&day, -180 * DEG, -165 * DEG), 0);
}
END_TEST

START_TEST(a_level_plane_sees_the_zenith_and_a_facing_one_sees_all)
{
	const rig_direction sun = {70 * DEG, 250 * DEG};
	ck_assert_double_eq_tol(
		rig_sun_incidence_cos(sun, (rig_plane){0, 33 * DEG}), cos(70 * DEG), 1e-15);
	ck_assert_double_eq_tol(
		rig_sun_incidence_cos(sun, (rig_plane){70 * DEG, 250 * DEG}), 1, 1e-15);
	ck_assert_double_lt(rig_sun_incidence_cos(sun, (rig_plane){90 * DEG, 70 * DEG}), 0);
}
END_TEST

Suite *sun_suite(void);
Suite *sun_suite(void)
{
	Suite *suite = suite_create("sun");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, julian_days_agree_with_published_ones, 0, COUNT(JULIAN));
	tcase_add_test(all, julian_days_count_the_leap_day);
	tcase_add_test(all, days_of_the_year_count_leap_days);
	tcase_add_test(all, the_worked_example_of_a_reference_algorithm_is_met);
	tcase_add_loop_test(all, the_sun_stands_where_another_library_sees_it, 0, COUNT(DAYS_2026));
	tcase_add_loop_test(
		all, the_sun_rises_culminates_and_sets_at_the_almanacs_times, 0, COUNT(DAYS_2026));
	tcase_add_test(all, the_sun_stands_where_an_irradiance_library_sees_it);
	tcase_add_test(all, a_thousand_random_suns_agree_with_an_ephemeris_library);
	tcase_add_test(all, textbook_angles_are_met);
	tcase_add_test(all, textbook_beam_ratios_are_met);
	tcase_add_test(all, the_textbooks_solar_time_is_met);
	tcase_add_test(all, textbook_energy_outside_the_air_is_met);
	tcase_add_loop_test(
		all, monthly_energy_outside_the_air_agrees_with_a_table, 0, COUNT(AT_40_N));
	tcase_add_loop_test(all, mean_days_are_the_tables, 0, 12);
	tcase_add_loop_test(all, the_mean_day_of_a_month_has_its_mean_energy, 0, 12);
	tcase_add_test(all, day_formulas_stay_near_the_instant);
	tcase_add_test(all, the_air_grows_thicker_toward_the_horizon);
	tcase_add_test(all, polar_days_and_nights_have_their_lengths);
	tcase_add_test(all, hours_sum_to_their_day);
	tcase_add_test(all, a_level_plane_sees_the_zenith_and_a_facing_one_sees_all);
	suite_add_tcase(suite, all);
	return suite;
}
