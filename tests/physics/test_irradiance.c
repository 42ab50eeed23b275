/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/irradiance.h"

#include "outside.h"
#include "physics/close.h"
#include "references/irradiance_rows.h"

static const outside_series HOURLY = {"light", "Diffuse share of an hour by its clearness",
	"[ERBS-1982] evaluated apart from this code, 0.40, 0.70 and 0.75 by [PVLIB]",
	"a unit of the last digit"};
static const struct {
	double clearness, frac;
} ERBS_HOUR[] = {{0, 1}, {0.10, 0.9910}, {0.22, 0.9802}, {0.30, 0.9486}, {0.40, 0.8400},
	{0.50, 0.6591}, {0.60, 0.4395}, {0.70, 0.2440}, {0.75, 0.1831}, {0.80, 0.1653},
	{0.85, 0.165}, {1.2, 0.165}};

START_TEST(the_hourly_diffuse_share_follows_its_fit)
{
	OUTSIDE(&HOURLY, rig_erbs_hour_frac(ERBS_HOUR[_i].clearness), ERBS_HOUR[_i].frac, 0.0001,
		"%.2f", ERBS_HOUR[_i].clearness);
}
END_TEST

/* Days shorter and longer than the fits' border. */
#define FITS "[ERBS-1982] evaluated apart from this code"
static const outside_series DAILY = {"light",
	"Diffuse share of a day by clearness and sunset hour angle", FITS,
	"a unit of the last digit"};
static const outside_series MONTHLY = {"light",
	"Diffuse share of a month by clearness and sunset hour angle", FITS,
	"a unit of the last digit"};
static const outside_series JUNE = {"light",
	"Diffuse share of a month by clearness and sunset hour angle",
	"[DUFFIE-2006] ex. 2.12.1, June in Madison; from memory", "0.02, read off a chart"};
static const struct {
	double clearness, sunset_deg, day_frac, month_frac, tol;
} ERBS_DAY[] = {{0.3, 75, 0.8920, 0.6423, 0.0001}, {0.5, 75, 0.5688, 0.3911, 0.0001},
	{0.7, 75, 0.1641, 0.2186, 0.0001}, {0.6, 75, NAN, 0.3014, 0.0001},
	{0.3, 100, 0.8778, 0.6637, 0.0001}, {0.4, 100, 0.7584, NAN, 0.0001},
	{0.5, 100, 0.6083, 0.4291, 0.0001}, {0.6, 100, 0.4323, 0.3382, 0.0001},
	{0.7, 100, 0.2357, 0.2502, 0.0001}, {0.71, 75, 0.1493, NAN, 0.0001},
	{0.73, 100, 0.175, NAN, 1e-15}, {0.9, 75, 0.143, NAN, 1e-15},
	{0.9, 100, 0.175, NAN, 1e-15}};

START_TEST(the_daily_and_monthly_diffuse_shares_follow_their_fits)
{
	const double clearness = ERBS_DAY[_i].clearness, sunset = ERBS_DAY[_i].sunset_deg * DEG;
	if (!isnan(ERBS_DAY[_i].day_frac))
		OUTSIDE(&DAILY, rig_erbs_day_frac(clearness, sunset), ERBS_DAY[_i].day_frac,
			ERBS_DAY[_i].tol, "%.2f, %g degrees", clearness, ERBS_DAY[_i].sunset_deg);
	if (!isnan(ERBS_DAY[_i].month_frac))
		OUTSIDE(&MONTHLY, rig_erbs_month_frac(clearness, sunset), ERBS_DAY[_i].month_frac,
			ERBS_DAY[_i].tol, "%.2f, %g degrees", clearness, ERBS_DAY[_i].sunset_deg);
}
END_TEST

START_TEST(the_textbooks_june_is_met)
{
	OUTSIDE(&JUNE, rig_erbs_month_frac(0.55, 113.4 * DEG), 0.38, 0.02, "0.55, 113.4 degrees");
}
END_TEST

START_TEST(clearer_skies_send_a_smaller_diffuse_share)
{
	/* 0.005: the printed fits dip and rise a little where their pieces meet */
	for (int percent = 0; percent < 100; percent++) {
		const double k = percent / 100.0;
		ck_assert_double_le(rig_erbs_hour_frac(k + 0.01), rig_erbs_hour_frac(k) + 0.006);
		if (k > 0.15) /* the long-day cubic starts with a rise of 0.008 */
			ck_assert_double_le(rig_erbs_day_frac(k + 0.01, 1.6),
				rig_erbs_day_frac(k, 1.6) + 0.006);
	}
}
END_TEST

static const outside_series SPLITS = {"light", "Beam and diffuse light from global, W/m2",
	"[PVLIB], tests of its split by [ERBS-1982]",
	"1 W/m2 for the solar constant of 1366.1 there"};
static const outside_series INDEX = {"light", "Clearness index",
	"[PVLIB], tests of its split by [ERBS-1982]",
	"0.2 % for the solar constant of 1366.1 there"};
static const struct {
	double global_wm2, zenith_deg;
	int day;
	double beam_wm2, diffuse_wm2, clearness;
} SPLIT[] = {
	{1000, 10, 171, 842.0, 170.8, 0.7682},
	{50, 85, 1, 96.7, 41.57, 0.4057},
	{1000, 10, 180, 842.4, 170.4, 0.7689},
};

START_TEST(light_splits_as_in_another_library)
{
	const double normal = rig_sun_day_normal_wm2(SPLIT[_i].day);
	const double zenith = SPLIT[_i].zenith_deg * DEG, global = SPLIT[_i].global_wm2;
	const rig_light light = rig_erbs_split(global, normal, zenith);
	const double zenith_deg = SPLIT[_i].zenith_deg;
	const int day = SPLIT[_i].day;
	OUTSIDE(&SPLITS, light.beam_wm2, SPLIT[_i].beam_wm2, 1.0,
		"beam, %g W/m2, zenith %g, day %d", global, zenith_deg, day);
	OUTSIDE(&SPLITS, light.diffuse_wm2, SPLIT[_i].diffuse_wm2, 1.0,
		"diffuse, %g W/m2, zenith %g, day %d", global, zenith_deg, day);
	OUTSIDE_CLOSE(&INDEX, rig_clearness_index(global, normal, zenith), SPLIT[_i].clearness,
		0.002, "%g W/m2, zenith %g, day %d", global, zenith_deg, day);
	CLOSE(light.beam_wm2 * cos(zenith) + light.diffuse_wm2, global, 1e-12);
}
END_TEST

/* Everything given that library's zenith, azimuth and light outside the air. */
START_TEST(random_skies_agree_with_an_irradiance_library)
{
	static const outside_series SKIES = {"light",
		"Ours off theirs at 40 random instants and places, percent",
		"[PVLIB], split by [ERBS-1982] and both tilts",
		"0.1 %, and its rounding of the zenith to 0.0001 degree"};
	double worst[4] = {0, 0, 0, 0};
	for (int i = 0; i < COUNT(IRRADIANCE_ROWS); i++) {
		const struct irradiance_row row = IRRADIANCE_ROWS[i];
		if (row.normal_wm2 == 0)
			continue; /* the sun is down there */
		const rig_light light =
			rig_erbs_split(row.global_wm2, row.normal_wm2, row.zenith_deg * DEG);
		const rig_sky sky = {
			light, {row.zenith_deg * DEG, row.azimuth_deg * DEG}, row.normal_wm2};
		const rig_plane plane = {row.tilt_deg * DEG, row.plane_azimuth_deg * DEG};
		const double ours[4] = {light.beam_wm2, light.diffuse_wm2,
			rig_plane_light_wm2(rig_tilt_isotropic(&sky, plane, 0.2)),
			rig_plane_light_wm2(rig_tilt_hay_davies(&sky, plane, 0.2))};
		const double theirs[4] = {
			row.beam_wm2, row.diffuse_wm2, row.isotropic_wm2, row.hay_davies_wm2};
		for (int k = 0; k < 4; k++)
			worst[k] = fmax(worst[k], 100 * fabs(ours[k] / theirs[k] - 1));
	}
	static const char *const OF[4] = {"beam", "diffuse", "isotropic tilt", "Hay-Davies tilt"};
	for (int k = 0; k < 4; k++)
		OUTSIDE_WORST(&SKIES, worst[k], 0.1, "worst, %s", OF[k]);
}
END_TEST

START_TEST(a_sun_at_the_horizon_gives_no_beam)
{
	const rig_light low = rig_erbs_split(12, 1400, 88 * DEG);
	ck_assert_double_eq(low.beam_wm2, 0);
	ck_assert_double_eq(low.diffuse_wm2, 12);
	ck_assert_double_eq(rig_clearness_index(5, 1400, 91 * DEG), 0);
}
END_TEST

/* Tilt 40 degrees, facing south, albedo 0.25. */
static const outside_series TILTED = {"light", "Light on a plane of 40 degrees to the south, W/m2",
	"[PVLIB], tests of its sky models", "0.05 W/m2, digits of their inputs"};
static const struct {
	rig_light light;
	double zenith_deg, azimuth_deg, air_mass, normal_wm2;
	double isotropic, hay_davies, perez, ground, beam;
} PLANE_LIGHT[] = {
	{{1042.48, 939.955, 118.458}, 10.5641, 144.7657, 1.01688, 1321.166, 104.601, 102.995,
		109.084, 30.49, 798.32},
	{{257.208, 646.229, 62.0338}, 72.4169, 287.041, 3.27930, 1321.166, 54.777, 33.191, 45.46,
		NAN, 33.50},
};

START_TEST(sky_models_agree_with_another_library)
{
	const rig_sky sky = {PLANE_LIGHT[_i].light,
		{PLANE_LIGHT[_i].zenith_deg * DEG, PLANE_LIGHT[_i].azimuth_deg * DEG},
		PLANE_LIGHT[_i].normal_wm2};
	const rig_plane plane = {40 * DEG, 180 * DEG};
	const rig_plane_light isotropic = rig_tilt_isotropic(&sky, plane, 0.25);
	const rig_plane_light hay = rig_tilt_hay_davies(&sky, plane, 0.25);
	const rig_plane_light perez = rig_tilt_perez(&sky, plane, 0.25, PLANE_LIGHT[_i].air_mass);
	const double zenith_deg = PLANE_LIGHT[_i].zenith_deg;
	OUTSIDE(&TILTED, isotropic.sky_wm2, PLANE_LIGHT[_i].isotropic, 0.05,
		"isotropic sky, zenith %g", zenith_deg);
	OUTSIDE(&TILTED, hay.sky_wm2, PLANE_LIGHT[_i].hay_davies, 0.05, "Hay-Davies sky, zenith %g",
		zenith_deg);
	OUTSIDE(&TILTED, perez.sky_wm2, PLANE_LIGHT[_i].perez, 0.05, "Perez sky, zenith %g",
		zenith_deg);
	OUTSIDE(&TILTED, isotropic.beam_wm2, PLANE_LIGHT[_i].beam, 0.05, "beam, zenith %g",
		zenith_deg);
	if (!isnan(PLANE_LIGHT[_i].ground))
		OUTSIDE(&TILTED, isotropic.ground_wm2, PLANE_LIGHT[_i].ground, 0.05,
			"ground, zenith %g", zenith_deg);
	ck_assert_double_eq(hay.ground_wm2, isotropic.ground_wm2);
	ck_assert_double_eq(perez.beam_wm2, isotropic.beam_wm2);
}
END_TEST

/* 1380 W/m2 outside the air, the sun at azimuth 150, a plane at 35 degrees facing south. */
static const outside_series BINS = {"light",
	"Perez sky on a plane, W/m2: all eight kinds of sky, and a sun near the horizon",
	"[PEREZ-1990] evaluated apart from this code", "1e-7 of it, arithmetic"};
static const struct {
	double beam_wm2, diffuse_wm2, zenith_deg, air_mass, sky_wm2;
} PEREZ_BIN[] = {{5, 180, 50, 1.55, 162.17529}, {50, 250, 50, 1.55, 247.52358},
	{150, 250, 50, 1.55, 263.79307}, {280, 220, 50, 1.55, 246.94711},
	{420, 170, 50, 1.55, 209.26677}, {700, 150, 50, 1.55, 195.92573},
	{880, 110, 50, 1.55, 145.42843}, {950, 80, 50, 1.55, 101.56934},
	{300, 60, 86, 13.0, 88.63917}};

START_TEST(every_kind_of_sky_has_its_coefficients)
{
	const double zenith = PEREZ_BIN[_i].zenith_deg * DEG;
	const double beam = PEREZ_BIN[_i].beam_wm2, diffuse = PEREZ_BIN[_i].diffuse_wm2;
	const rig_sky sky = {
		{beam * cos(zenith) + diffuse, beam, diffuse}, {zenith, 150 * DEG}, 1380};
	const rig_plane plane = {35 * DEG, 180 * DEG};
	OUTSIDE_CLOSE(&BINS, rig_tilt_perez(&sky, plane, 0.2, PEREZ_BIN[_i].air_mass).sky_wm2,
		PEREZ_BIN[_i].sky_wm2, 1e-7, "beam %g, diffuse %g, zenith %g", beam, diffuse,
		PEREZ_BIN[_i].zenith_deg);
}
END_TEST

START_TEST(the_fits_change_at_their_borders)
{
	/* 81.4 degrees of sunset, 87 of zenith */
	ck_assert_double_eq(rig_erbs_day_frac(0.5, 81.3 * DEG), rig_erbs_day_frac(0.5, 60 * DEG));
	ck_assert_double_eq(rig_erbs_day_frac(0.5, 81.5 * DEG), rig_erbs_day_frac(0.5, 120 * DEG));
	ck_assert_double_eq(
		rig_erbs_month_frac(0.5, 81.3 * DEG), rig_erbs_month_frac(0.5, 60 * DEG));
	ck_assert_double_eq(
		rig_erbs_month_frac(0.5, 81.5 * DEG), rig_erbs_month_frac(0.5, 120 * DEG));
	ck_assert_double_gt(rig_erbs_split(40, 1400, 86.9 * DEG).beam_wm2, 0);
	ck_assert_double_eq(rig_erbs_split(40, 1400, 87.1 * DEG).beam_wm2, 0);
	/* the cosine is held at 0.065, 86.27 degrees */
	CLOSE(rig_clearness_index(40, 1000, 89 * DEG), 40 / 65.0, 1e-12);
	CLOSE(rig_clearness_index(40, 1000, 86 * DEG), 0.04 / cos(86 * DEG), 1e-12);
}
END_TEST

START_TEST(a_level_plane_gets_the_global_light_in_every_model)
{
	const rig_light light = rig_erbs_split(640, 1367, 50 * DEG);
	const rig_sky sky = {light, {50 * DEG, 200 * DEG}, 1367};
	const rig_plane level = {0, 0};
	CLOSE(rig_plane_light_wm2(rig_tilt_isotropic(&sky, level, 0.3)), 640, 1e-12);
	CLOSE(rig_plane_light_wm2(rig_tilt_hay_davies(&sky, level, 0.3)), 640, 1e-12);
	CLOSE(rig_plane_light_wm2(rig_tilt_perez(&sky, level, 0.3, 1.55)), 640, 1e-12);
}
END_TEST

START_TEST(a_plane_with_its_back_to_the_sun_gets_no_beam)
{
	const rig_sky sky = {rig_erbs_split(640, 1367, 50 * DEG), {50 * DEG, 180 * DEG}, 1367};
	const rig_plane north = {80 * DEG, 0};
	ck_assert_double_eq(rig_tilt_isotropic(&sky, north, 0.2).beam_wm2, 0);
	ck_assert_double_gt(rig_tilt_hay_davies(&sky, north, 0.2).sky_wm2, 0);
	ck_assert_double_gt(rig_tilt_perez(&sky, north, 0.2, 1.55).sky_wm2, 0);
	const rig_sky dark = {{0, 0, 0}, {1, 0}, 1367};
	ck_assert_double_eq(rig_tilt_perez(&dark, north, 0.2, 1.55).sky_wm2, 0);
}
END_TEST

START_TEST(overcast_is_the_same_from_everywhere)
{
	/* with no beam the Hay-Davies sky is the isotropic one */
	const rig_sky sky = {{120, 0, 120}, {40 * DEG, 170 * DEG}, 1367};
	const rig_plane plane = {35 * DEG, 180 * DEG};
	CLOSE(rig_tilt_hay_davies(&sky, plane, 0.2).sky_wm2,
		rig_tilt_isotropic(&sky, plane, 0.2).sky_wm2, 1e-15);
}
END_TEST

static const outside_series CLEAR_BY_HEIGHT = {"light", "Clear sky by the sun's height, W/m2",
	"[PVLIB], tests of [HAURWITZ-1945]", "0.01 W/m2, digits of their inputs"};
static const struct {
	double up_deg, global_wm2;
} HAURWITZ[] = {{5, 48.630}, {10, 135.742}, {30, 487.894}, {50, 778.767}, {90, 1035.092}, {0, 0},
	{-0.001, 0}, {-20, 0}};

START_TEST(a_clear_sky_from_height_alone_agrees_with_another_library)
{
	OUTSIDE(&CLEAR_BY_HEIGHT, rig_haurwitz_wm2((90 - HAURWITZ[_i].up_deg) * DEG),
		HAURWITZ[_i].global_wm2, 0.01, "%g degrees up", HAURWITZ[_i].up_deg);
}
END_TEST

/* Sea level: 1364 W/m2 outside the air and turbidity 3, the second with an air mass that is not its
 * zenith's. */
#define HAZY "Clear sky by haze and height, W/m2"
static const outside_series SEA_LEVEL = {
	"light", HAZY, "[PVLIB], tests and runs of [INEICHEN-2002]", "digits of their inputs"};
static const outside_series HEIGHTS = {
	"light", HAZY, "[INEICHEN-2002] evaluated apart from this code", "arithmetic"};
static const struct {
	rig_clear_sky sky; /* zenith in degrees */
	double global_wm2, beam_wm2, diffuse_wm2, tol;
} INEICHEN[] = {
	{{10, 1.0, 1364, 0, 3}, 1038.16, 942.21, 110.27, 0.1},
	{{46.0468, 1.32355, 1364, 0, 3}, 704.70, 888.90, 87.74, 0.1},
	{{70, 2.9031, 1364, 0, 3}, 289.07, 668.92, 60.29, 0.01},
	{{35, 1.22 * 0.78, 1390, 2000, 2.5}, 978.84933, 1067.54027, 104.37153, 1e-4},
	{{40, 1.3 * 0.9, 1367, 1000, 1.05}, 886.07331, 1125.11131, 24.18805, 1e-4},
	{{20, 1.06, 1330, 1000, 6}, 886.93175, 700.56593, 228.61512, 1e-4},
};

START_TEST(a_clear_sky_from_haze_agrees_with_another_library)
{
	rig_clear_sky sky = INEICHEN[_i].sky;
	sky.zenith_rad *= DEG;
	const rig_light light = rig_ineichen(&sky);
	const outside_series *series = sky.elevation_m > 0 ? &HEIGHTS : &SEA_LEVEL;
	const double zenith_deg = INEICHEN[_i].sky.zenith_rad, tol = INEICHEN[_i].tol;
	OUTSIDE(series, light.global_wm2, INEICHEN[_i].global_wm2, tol,
		"global, zenith %g, %g m, turbidity %g", zenith_deg, sky.elevation_m,
		sky.linke_turbidity);
	OUTSIDE(series, light.beam_wm2, INEICHEN[_i].beam_wm2, tol, "beam of that");
	OUTSIDE(series, light.diffuse_wm2, INEICHEN[_i].diffuse_wm2, tol, "diffuse of that");
}
END_TEST

START_TEST(haze_dims_and_height_brightens)
{
	rig_clear_sky sky = {40 * DEG, 1.3, 1367, 0, 3};
	const rig_light clean = rig_ineichen(&sky);
	sky.linke_turbidity = 6;
	const rig_light hazy = rig_ineichen(&sky);
	ck_assert_double_lt(hazy.global_wm2, clean.global_wm2);
	ck_assert_double_gt(hazy.diffuse_wm2, clean.diffuse_wm2);
	sky = (rig_clear_sky){40 * DEG, 1.3 * rig_pressure_ratio(2100), 1367, 2100, 3};
	ck_assert_double_gt(rig_ineichen(&sky).global_wm2, clean.global_wm2);
	sky.zenith_rad = 95 * DEG;
	ck_assert_double_eq(rig_ineichen(&sky).global_wm2, 0);
	ck_assert_double_eq(rig_pressure_ratio(0), 1);
	static const outside_series AIR = {"light", "Pressure of the standard atmosphere, hPa",
		"[ISO-2533]; from memory", "a unit of the last digit"};
	OUTSIDE(&AIR, rig_pressure_ratio(1500) * 1013.25, 845.6, 0.1, "1,500 m");
}
END_TEST

/* Sums over minutes; Ineichen with turbidity 3 at sea level, Hay-Davies, albedo 0.2; and Haurwitz
 * on level ground. */
static const outside_series CLEAR_DAYS = {"light", "Whole clear days, kWh/m2",
	"[PVLIB], one-minute sums with [INEICHEN-2002], [HAY-1980], [HAURWITZ-1945]",
	"1 %: their seen sun against our true one"};
static const struct {
	int month;
	double latitude_deg, longitude_deg, tilt_deg, kwh_m2, haurwitz_kwh_m2;
} CLEAR_DAY[] = {{11, 33.45, -112.07, 0, 3.16, 3.26}, {11, 33.45, -112.07, 33.45, 5.59, NAN},
	{11, 33.45, -112.07, 60, 6.33, NAN}, {5, 33.45, -112.07, 0, 8.41, 8.75},
	{5, 33.45, -112.07, 33.45, 7.15, NAN}, {11, 45, -112.07, 0, 1.65, 1.81},
	{11, 45, -112.07, 45, 4.24, NAN}};

START_TEST(whole_clear_days_agree_with_another_library)
{
	const rig_plane plane = {CLEAR_DAY[_i].tilt_deg * DEG, 180 * DEG};
	double wh_m2 = 0, haurwitz_wh_m2 = 0;
	for (int minute = 0; minute < 1440; minute++) {
		const rig_sun sun = rig_sun_at(
			rig_julian_day(2026, CLEAR_DAY[_i].month, 21, 7 + minute / 60.0));
		const rig_direction seen = rig_sun_direction(
			&sun, CLEAR_DAY[_i].latitude_deg * DEG, CLEAR_DAY[_i].longitude_deg * DEG);
		if (seen.zenith_rad >= 90 * DEG)
			continue;
		const double normal = rig_sun_normal_wm2(sun.distance_au);
		const rig_clear_sky clear = {
			seen.zenith_rad, rig_sun_air_mass(seen.zenith_rad), normal, 0, 3};
		const rig_sky sky = {rig_ineichen(&clear), seen, normal};
		wh_m2 += rig_plane_light_wm2(rig_tilt_hay_davies(&sky, plane, 0.2)) / 60;
		haurwitz_wh_m2 += rig_haurwitz_wm2(seen.zenith_rad) / 60;
	}
	const int month = CLEAR_DAY[_i].month + 1;
	const double north_deg = CLEAR_DAY[_i].latitude_deg;
	OUTSIDE_CLOSE(&CLEAR_DAYS, wh_m2 / 1000, CLEAR_DAY[_i].kwh_m2, 0.01,
		"2026-%02d-21, %g N, tilt %g", month, north_deg, CLEAR_DAY[_i].tilt_deg);
	if (!isnan(CLEAR_DAY[_i].haurwitz_kwh_m2))
		OUTSIDE_CLOSE(&CLEAR_DAYS, haurwitz_wh_m2 / 1000, CLEAR_DAY[_i].haurwitz_kwh_m2,
			0.01, "2026-%02d-21, %g N, flat, by height alone", month, north_deg);
}
END_TEST

/* Hour by hour from noon. */
static const outside_series GLOBAL_SHARE = {"light",
	"Share of a day's global light in an hour, by sunset and middle of the hour",
	"[COLLARES-1979] evaluated apart from this code", "a unit of the last digit"};
static const outside_series DIFFUSE_SHARE = {"light",
	"Share of a day's diffuse light in an hour, by sunset and middle of the hour",
	"[LIU-1960] evaluated apart from this code", "a unit of the last digit"};
static const struct {
	double sunset_deg, hour_angle_deg, global, diffuse;
} SHARE[] = {
	{90, 7.5, .1400, .1298},
	{90, 22.5, .1270, .1209},
	{90, 37.5, .1033, .1038},
	{90, 52.5, .0731, .0797},
	{90, 67.5, .0412, .0501},
	{90, 82.5, .0122, .0171},
	{75, 7.5, .1639, NAN},
	{75, 22.5, .1437, NAN},
	{75, 37.5, .1077, NAN},
	{75, 52.5, .0633, NAN},
	{75, 67.5, .0192, NAN},
	{105, 7.5, .1233, NAN},
	{105, 22.5, .1142, NAN},
	{105, 37.5, .0976, NAN},
	{105, 52.5, .0758, NAN},
	{105, 67.5, .0518, NAN},
	{105, 82.5, .0285, NAN},
	{105, 97.5, .0084, NAN},
};

START_TEST(hours_get_their_share_of_a_day)
{
	const double sunset = SHARE[_i].sunset_deg * DEG, angle = SHARE[_i].hour_angle_deg * DEG;
	OUTSIDE(&GLOBAL_SHARE, rig_hour_share_global(angle, sunset), SHARE[_i].global, 0.0001,
		"%g and %g degrees", SHARE[_i].sunset_deg, SHARE[_i].hour_angle_deg);
	ck_assert_double_eq_tol(rig_hour_share_global(-angle, sunset), SHARE[_i].global, 0.0001);
	if (!isnan(SHARE[_i].diffuse))
		OUTSIDE(&DIFFUSE_SHARE, rig_hour_share_diffuse(angle, sunset), SHARE[_i].diffuse,
			0.0001, "%g and %g degrees", SHARE[_i].sunset_deg,
			SHARE[_i].hour_angle_deg);
}
END_TEST

START_TEST(the_textbook_hour_is_met)
{
	static const outside_series HOUR = {"light",
		"13 to 14 h on 23 August in Madison, 31.4 MJ/m2 the day",
		"[DUFFIE-2006] ex. 2.13.2; from memory", "half of the last digit; 0.1 degree"};
	const double sunset = rig_sun_sunset_rad(43 * DEG, rig_sun_cooper_rad(235));
	OUTSIDE(&HOUR, sunset / DEG, 100.5, 0.1, "sunset hour angle, degrees");
	OUTSIDE(&HOUR, rig_hour_share_global(22.5 * DEG, sunset), 0.118, 0.0005, "share");
	OUTSIDE(&HOUR, 31.4 * rig_hour_share_global(22.5 * DEG, sunset), 3.7, 0.05, "MJ/m2");
}
END_TEST

START_TEST(shares_of_the_hours_sum_to_about_one)
{
	for (int sunset_deg = 60; sunset_deg <= 165; sunset_deg += 5) {
		double global = 0, diffuse = 0;
		for (int hour = -12; hour < 12; hour++) {
			global += rig_hour_share_global((hour * 15 + 7.5) * DEG, sunset_deg * DEG);
			diffuse +=
				rig_hour_share_diffuse((hour * 15 + 7.5) * DEG, sunset_deg * DEG);
		}
		ck_assert_double_eq_tol(global, 1, 0.015);
		ck_assert_double_eq_tol(diffuse, 1, 0.015);
	}
	ck_assert_double_eq(rig_hour_share_global(95 * DEG, 90 * DEG), 0);
}
END_TEST

START_TEST(the_textbook_tilted_hour_is_met)
{
	/* Albedo 0.60. The hour's energies stand for W/m2. */
	static const outside_series HOUR = {"light",
		"60 degrees south at 40 N, 20 February, 9 to 10 h, 1.04 MJ/m2 on level ground; "
		"MJ/m2",
		"[DUFFIE-2006] ex. 2.15.1; from memory", "0.01, as its steps round"};
	const rig_sun_day day = {40 * DEG, rig_sun_cooper_rad(51), rig_sun_day_normal_wm2(51)};
	const double outside = 0.0036 * rig_sun_span_wh_m2(&day, -45 * DEG, -30 * DEG);
	OUTSIDE(&HOUR, outside, 2.34, 0.01, "outside the air");
	const double clearness = 1.04 / outside;
	OUTSIDE(&HOUR, clearness, 0.445, 0.001, "clearness");
	const double diffuse = 1.04 * rig_erbs_hour_frac(clearness);
	OUTSIDE(&HOUR, diffuse, 0.796, 0.003, "diffuse on level ground");
	const rig_direction sun =
		rig_sun_direction_at(day.latitude_rad, day.declination_rad, -37.5 * DEG);
	const rig_sky sky = {
		{1.04, (1.04 - diffuse) / cos(sun.zenith_rad), diffuse}, sun, day.normal_wm2};
	const rig_plane_light light =
		rig_tilt_isotropic(&sky, (rig_plane){60 * DEG, 180 * DEG}, 0.60);
	OUTSIDE(&HOUR, light.beam_wm2, 0.417, 0.01, "beam");
	OUTSIDE(&HOUR, light.sky_wm2, 0.597, 0.01, "sky, isotropic");
	OUTSIDE(&HOUR, light.ground_wm2, 0.156, 0.01, "ground");
	OUTSIDE(&HOUR, rig_plane_light_wm2(light), 1.17, 0.01, "all");
}
END_TEST

#define RATIO "Monthly beam ratio of a plane facing south, "
static const outside_series AT_MADISON = {"light", RATIO "60 degrees at 43 N",
	"[DUFFIE-2006] ex. 2.19.1; from memory", "a unit of the last digit"};
static const outside_series AT_35 = {"light", RATIO "20 degrees at 35 N",
	"its formula evaluated apart from this code", "a unit of the last digit"};
static const double MADISON[12] = {
	2.79, 2.04, 1.42, 0.96, 0.71, 0.62, 0.66, 0.84, 1.21, 1.81, 2.56, 3.06};
static const double AT_35_N[12] = {
	1.590, 1.397, 1.214, 1.062, .964, .924, .942, 1.018, 1.149, 1.332, 1.535, 1.656};

START_TEST(monthly_beam_ratios_agree_with_a_published_table)
{
	const double declination = rig_sun_cooper_rad(rig_sun_mean_day(_i));
	OUTSIDE(&AT_MADISON, rig_month_beam_ratio(43 * DEG, declination, 60 * DEG), MADISON[_i],
		0.01, "month %d", _i + 1);
	OUTSIDE(&AT_35, rig_month_beam_ratio(35 * DEG, declination, 20 * DEG), AT_35_N[_i], 0.0006,
		"month %d", _i + 1);
	/* south of the equator a plane faces north and the seasons turn */
	CLOSE(rig_month_beam_ratio(-35 * DEG, -declination, 20 * DEG),
		rig_month_beam_ratio(35 * DEG, declination, 20 * DEG), 1e-12);
	CLOSE(rig_month_beam_ratio(35 * DEG, declination, 0), 1, 1e-12);
}
END_TEST

START_TEST(a_polar_night_has_no_beam)
{
	ck_assert_double_eq(rig_month_beam_ratio(75 * DEG, -23 * DEG, 60 * DEG), 0);
}
END_TEST

Suite *irradiance_suite(void);
Suite *irradiance_suite(void)
{
	Suite *suite = suite_create("irradiance");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, the_hourly_diffuse_share_follows_its_fit, 0, COUNT(ERBS_HOUR));
	tcase_add_loop_test(
		all, the_daily_and_monthly_diffuse_shares_follow_their_fits, 0, COUNT(ERBS_DAY));
	tcase_add_test(all, the_textbooks_june_is_met);
	tcase_add_test(all, clearer_skies_send_a_smaller_diffuse_share);
	tcase_add_loop_test(all, light_splits_as_in_another_library, 0, COUNT(SPLIT));
	tcase_add_test(all, random_skies_agree_with_an_irradiance_library);
	tcase_add_test(all, a_sun_at_the_horizon_gives_no_beam);
	tcase_add_loop_test(all, sky_models_agree_with_another_library, 0, COUNT(PLANE_LIGHT));
	tcase_add_loop_test(all, every_kind_of_sky_has_its_coefficients, 0, COUNT(PEREZ_BIN));
	tcase_add_test(all, the_fits_change_at_their_borders);
	tcase_add_test(all, a_level_plane_gets_the_global_light_in_every_model);
	tcase_add_test(all, a_plane_with_its_back_to_the_sun_gets_no_beam);
	tcase_add_test(all, overcast_is_the_same_from_everywhere);
	tcase_add_loop_test(
		all, a_clear_sky_from_height_alone_agrees_with_another_library, 0, COUNT(HAURWITZ));
	tcase_add_loop_test(
		all, a_clear_sky_from_haze_agrees_with_another_library, 0, COUNT(INEICHEN));
	tcase_add_test(all, haze_dims_and_height_brightens);
	tcase_add_loop_test(all, whole_clear_days_agree_with_another_library, 0, COUNT(CLEAR_DAY));
	tcase_add_loop_test(all, hours_get_their_share_of_a_day, 0, COUNT(SHARE));
	tcase_add_test(all, the_textbook_hour_is_met);
	tcase_add_test(all, shares_of_the_hours_sum_to_about_one);
	tcase_add_test(all, the_textbook_tilted_hour_is_met);
	tcase_add_loop_test(
		all, monthly_beam_ratios_agree_with_a_published_table, 0, COUNT(MADISON));
	tcase_add_test(all, a_polar_night_has_no_beam);
	suite_add_tcase(suite, all);
	return suite;
}
