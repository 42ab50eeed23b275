/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/place.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "outside.h"
#include "suites.h"

static rig_place place_named(const char *name)
{
	rig_place place;
	const long found = rig_place_find(name);
	ck_assert_msg(found >= 0, "no place %s", name);
	rig_place_at((size_t)found, &place);
	return place;
}

static const outside_series INSOLATIONS = {"weather",
	"Light on level ground by month, kWh/m2 a day",
	"[TMY3], computed from the station's hourly file", "half of the last digit"};
static const struct {
	const char *name;
	int month;
	double ghi;
} INSOLATION[] = {
	{"Phoenix Sky Harbor Intl, AZ", 0, 3.29},
	{"Phoenix Sky Harbor Intl, AZ", 5, 8.32},
	{"Phoenix Sky Harbor Intl, AZ", 11, 3.07},
};

START_TEST(insolation_is_that_of_the_hourly_file)
{
	const rig_place place = place_named(INSOLATION[_i].name);
	OUTSIDE(&INSOLATIONS, place.ghi_kwh_m2_day[INSOLATION[_i].month], INSOLATION[_i].ghi, 0.005,
		"%s, month %d", INSOLATION[_i].name, INSOLATION[_i].month + 1);
}
END_TEST

/* The clearness index and the offset from Greenwich need the sun; limits are wide of any weather:
 * nothing reaches the ground beyond nine tenths of what arrives at the air. */
static void check_months(const rig_place *p)
{
	for (int m = 0; m < 12; m++) {
		ck_assert(isfinite(p->ghi_kwh_m2_day[m]) && isfinite(p->kt_sd[m]));
		ck_assert(p->ghi_kwh_m2_day[m] >= 0 && p->ghi_kwh_m2_day[m] < 9);
		ck_assert(p->dhi_kwh_m2_day[m] >= 0);
		ck_assert_msg(
			p->dhi_kwh_m2_day[m] <= p->ghi_kwh_m2_day[m], "%s month %d", p->name, m);
		ck_assert(p->kt_sd[m] >= 0);
		ck_assert(p->temp_min_c[m] > -45 && p->temp_max_c[m] < 50);
		ck_assert(p->temp_min_c[m] < p->temp_mean_c[m]);
		ck_assert(p->temp_mean_c[m] < p->temp_max_c[m]);
		if (fabs(p->latitude_deg) < 60)
			ck_assert_msg(p->kt_sd[m] < 0.27, "%s month %d", p->name, m);
	}
}

START_TEST(every_place_is_sane)
{
	int records[3] = {0, 0, 0};
	ck_assert_uint_eq(rig_n_places(), 1020);
	for (size_t i = 0; i < rig_n_places(); i++) {
		rig_place p;
		rig_place_at(i, &p);
		check_months(&p);
		ck_assert(p.latitude_deg > 13 && p.latitude_deg < 72); /* Guam to Point Barrow */
		ck_assert(fabs(p.longitude_deg) < 180 && p.elevation_m > -90);
		ck_assert(p.elevation_m < 4000);
		/* legal time strays from the sun's by less than three hours, modulo the date line
		 */
		ck_assert_msg(fabs(remainder(p.utc_offset_h - p.longitude_deg / 15, 24)) < 3, "%s",
			p.name);
		ck_assert(p.sun_low_ratio > 0.6 && p.sun_low_ratio <= 0.95);
		ck_assert(p.sun_high_ratio < 1.9 && p.sun_high_ratio >= 1.05);
		ck_assert_uint_eq(strlen(p.station), 6);
		records[p.record]++;
	}
	/* of the places without a record of 30 years 451 agree with neighbours that have one */
	static const outside_series LONG = {"weather", "Places with a record of 1976 to 2005",
		"[TMY3], its list of stations", "exact"};
	OUTSIDE(&LONG, records[RIG_RECORD_LONG], 239, 0, "of 1,020");
	ck_assert_int_eq(records[RIG_RECORD_SHORT_CONFIRMED], 451);
	ck_assert_int_eq(records[RIG_RECORD_SHORT_UNCONFIRMED], 330);
}
END_TEST

START_TEST(every_place_is_found_by_its_own_name)
{
	for (size_t i = 0; i < rig_n_places(); i++) {
		rig_place p;
		rig_place_at(i, &p);
		ck_assert_msg(rig_place_find(p.name) == (long)i, "%s", p.name);
	}
}
END_TEST

/* By hand: `Denver` begins two names 34 km apart, of which one has the longer record; `Portland` is
 * in Maine and Oregon. NULL: no place is clearly meant. */
static const struct {
	const char *asked, *station;
} FIND[] = {
	{"Flagstaff", "723755"},
	{"flagstaff  az", "723755"},
	{"FLAGSTAFF,AZ", "723755"},
	{"Flagstaff Pulliam, AZ", "723755"},
	{"Flagstaf", "723755"},
	{"Seattle", "727930"},
	{"Minneapolis", "726580"},
	{"Portland OR", "726980"},
	{"Minneapolisst Paul Intl Arp, MN", "726580"},
	{"Minneapolis-St. Paul", "726580"},
	{"minneapolis st paul intl", "726580"},
	{"Coeur d'Alene", "727834"},
	{"coeur dalene", "727834"},
	{"Coeur Daleneawos", "727834"},
	{"Dallas Fort Worth", "722590"},
	{"Dallasfort", "722590"},
	{"Seattle Tacoma", "727930"},
	{"Grand Rapids MN", "727458"},
	{"Grand Rapids", NULL},
	{"Lancaster", NULL},
	{"Portland", NULL},
	{"Portland NV", NULL},
	{"Fort", NULL},
	{"Tuscon", NULL},
	{"", NULL},
	{" , ", NULL},
	{"AZ", NULL},
	{"A name that is much longer than any name in the table of places can ever be", NULL},
};

START_TEST(a_name_or_its_start_finds_a_place)
{
	const long found = rig_place_find(FIND[_i].asked);
	if (FIND[_i].station == NULL) {
		ck_assert_msg(found == -1, "%s", FIND[_i].asked);
		return;
	}
	rig_place place;
	ck_assert_msg(found >= 0, "%s", FIND[_i].asked);
	rig_place_at((size_t)found, &place);
	ck_assert_str_eq(place.station, FIND[_i].station);
}
END_TEST

static const struct {
	const char *asked, *first;
} SUGGEST[] = {
	{"Tuscon", "Tucson International, AZ"},
	{"flagstfaf", "Flagstaff Pulliam, AZ"},
	{"Portland", "Portland Intl Jetport, ME"},
	{"Las Vegsa NV", "Las Vegas McCarran Intl, NV"},
	{"Harbor Phoenix", NULL},
	{"xqzwxqzwxqzw", NULL},
	{"", NULL},
};

START_TEST(a_slip_of_the_keyboard_is_answered_with_the_place)
{
	size_t index[3] = {9999, 9999, 9999};
	const size_t n = rig_place_suggest(SUGGEST[_i].asked, 3, index);
	if (SUGGEST[_i].first == NULL) {
		ck_assert_msg(n == 0, "%s", SUGGEST[_i].asked);
		return;
	}
	rig_place place;
	ck_assert_uint_gt(n, 0);
	rig_place_at(index[0], &place);
	ck_assert_str_eq(place.name, SUGGEST[_i].first);
	if (n < 3)
		ck_assert_uint_eq(index[2], 9999);
}
END_TEST

/* By hand on a sphere of 6371.0088 km. Along a meridian a degree is pi / 180 of the radius,
 * 111.195 km. Flagstaff stands at 35.133 N 111.667 W, Adak at 51.883 N 176.650 W. Along the
 * parallel of Adak 0.5 degree of longitude spans 2 asin(cos 51.883 sin 0.25) = 0.0053867
 * rad, 34.319 km. */
static const struct {
	double latitude_deg, longitude_deg;
	const char *station;
	double distance_km;
} NEAREST[] = {
	{35.133, -111.667, "723755", 0},
	{35.233, -111.667, "723755", 11.1195},
	{51.883, 183.350, "704540", 0},
	{51.883, 183.850, "704540", 34.319},
	{51.883, -176.650 - 0.5 + 360, "704540", 34.319},
};

START_TEST(the_nearest_place_is_measured_on_the_globe)
{
	rig_place place;
	double distance_km = -1;
	const size_t found = rig_place_nearest(
		NEAREST[_i].latitude_deg, NEAREST[_i].longitude_deg, &distance_km);
	rig_place_at(found, &place);
	ck_assert_str_eq(place.station, NEAREST[_i].station);
	ck_assert_double_eq_tol(distance_km, NEAREST[_i].distance_km, 0.001);
}
END_TEST

START_TEST(a_point_beyond_the_date_line_is_near_the_places_there)
{
	double east_km = 0;
	double west_km = 0;
	const size_t east = rig_place_nearest(52.7, 179.9, &east_km);
	const size_t west = rig_place_nearest(52.7, -179.9, &west_km);
	ck_assert_uint_eq(east, west);
	ck_assert_double_lt(fabs(east_km - west_km), 15);
}
END_TEST

/* By hand from the table's comparison with neighbours and the rule in places.c:
 * Flagstaff: long record, 1 -+ 0.05.
 * Ambler: year -8.1 %, worst month -46.8 %, unconfirmed: 1.10 / (1 - 0.2745), 0.90 / 1.
 * Adak: nobody compared it: 0.90 / 1.15, 1.10 / 0.85.
 * Yuma Intl: in step, year -0.9 % and so within the 4 % that short records read low: 1.05 / 0.96.
 */
static const struct {
	const char *name;
	double low, high;
} DOUBT[] = {
	{"Flagstaff", 0.95, 1.05},
	{"Ambler", 0.90, 1.51620},
	{"Adak", 0.78261, 1.29412},
	{"Yuma Intl", 0.95, 1.09375},
};

START_TEST(a_short_record_widens_the_range)
{
	const rig_place place = place_named(DOUBT[_i].name);
	ck_assert_double_eq_tol(place.sun_low_ratio, DOUBT[_i].low, 0.00001);
	ck_assert_double_eq_tol(place.sun_high_ratio, DOUBT[_i].high, 0.00001);
}
END_TEST

START_TEST(the_credit_and_the_scatter_of_years_are_stated)
{
	const rig_figure scatter = rig_month_scatter_frac();
	ck_assert_ptr_nonnull(strstr(rig_places_credit(), "NREL/TP-581-43156"));
	/* long measured series: months stray by 5 to 15 % from year to year */
	ck_assert_double_eq(scatter.low, 0.05);
	ck_assert_double_eq(scatter.high, 0.15);
	ck_assert(scatter.from == RIG_FROM_PROFILE && scatter.source != NULL);
	ck_assert_double_eq(place_named("Flagstaff").month_scatter_frac, scatter.likely);
}
END_TEST

/* ---- against the monthly figures beside the checkout ---- */

static char *text_of(const char *path)
{
	FILE *file = fopen(path, "rb");
	if (file == NULL)
		return NULL;
	char *text = calloc(1, 2000000);
	ck_assert_ptr_nonnull(text);
	const size_t n = fread(text, 1, 1999999, file);
	ck_assert_uint_gt(n, 1000);
	(void)fclose(file);
	return text;
}

static void check_list(
	const cJSON *source, const char *key, const double ours[12], const char *name)
{
	const cJSON *list = cJSON_GetObjectItem(source, key);
	ck_assert_int_eq(cJSON_GetArraySize(list), 12);
	for (int m = 0; m < 12; m++)
		ck_assert_msg(fabs(cJSON_GetArrayItem(list, m)->valuedouble - ours[m]) < 1e-9,
			"%s %s month %d", name, key, m);
}

START_TEST(the_table_carries_every_figure_of_its_source)
{
	char *text = text_of(RIG_SOURCE_DIR "/../shared/data/places.json");
	if (text == NULL) {
		(void)printf("skipped: no data folder beside the checkout\n");
		return;
	}
	cJSON *list = cJSON_Parse(text);
	ck_assert_int_eq(cJSON_GetArraySize(list), (int)rig_n_places());
	for (const cJSON *source = list->child; source != NULL; source = source->next) {
		const char *name = cJSON_GetObjectItem(source, "name")->valuestring;
		const rig_place p = place_named(name);
		ck_assert_str_eq(p.station, cJSON_GetObjectItem(source, "station")->valuestring);
		ck_assert_double_eq_tol(p.latitude_deg,
			cJSON_GetObjectItem(source, "latitude_deg")->valuedouble, 1e-9);
		ck_assert_double_eq_tol(p.longitude_deg,
			cJSON_GetObjectItem(source, "longitude_deg")->valuedouble, 1e-9);
		ck_assert_double_eq(
			p.elevation_m, cJSON_GetObjectItem(source, "elevation_m")->valuedouble);
		ck_assert_double_eq(
			p.utc_offset_h, cJSON_GetObjectItem(source, "utc_offset_h")->valuedouble);
		check_list(source, "ghi_kwh_m2_day", p.ghi_kwh_m2_day, name);
		check_list(source, "dhi_kwh_m2_day", p.dhi_kwh_m2_day, name);
		check_list(source, "kt_sd", p.kt_sd, name);
		check_list(source, "temp_mean_c", p.temp_mean_c, name);
		check_list(source, "temp_min_c", p.temp_min_c, name);
		check_list(source, "temp_max_c", p.temp_max_c, name);
	}
	cJSON_Delete(list);
	free(text);
}
END_TEST

Suite *places_suite(void);
Suite *places_suite(void)
{
	Suite *suite = suite_create("places");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, insolation_is_that_of_the_hourly_file, 0, COUNT(INSOLATION));
	tcase_add_test(all, every_place_is_sane);
	tcase_add_test(all, every_place_is_found_by_its_own_name);
	tcase_add_loop_test(all, a_name_or_its_start_finds_a_place, 0, COUNT(FIND));
	tcase_add_loop_test(
		all, a_slip_of_the_keyboard_is_answered_with_the_place, 0, COUNT(SUGGEST));
	tcase_add_loop_test(all, the_nearest_place_is_measured_on_the_globe, 0, COUNT(NEAREST));
	tcase_add_test(all, a_point_beyond_the_date_line_is_near_the_places_there);
	tcase_add_loop_test(all, a_short_record_widens_the_range, 0, COUNT(DOUBT));
	tcase_add_test(all, the_credit_and_the_scatter_of_years_are_stated);
	tcase_add_test(all, the_table_carries_every_figure_of_its_source);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
