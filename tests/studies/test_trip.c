/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/trip.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "outside.h"
#include "suites.h"
#include "trip_scene.h"

#define SHARED RIG_SOURCE_DIR "/../shared/"

/* ---- an independent program's year ---- */

/* NULL where the file is not there. The caller frees it. */
static char *text_of(const char *path, size_t *length)
{
	FILE *file = fopen(path, "rb");
	if (!file)
		return NULL;
	const size_t size = 4000000;
	char *text = malloc(size);
	ck_assert_ptr_nonnull(text);
	*length = fread(text, 1, size - 1, file);
	text[*length] = '\0';
	fclose(file);
	return text;
}

static rig_hourly_year *year_of(const char *name)
{
	char path[300];
	size_t length = 0;
	snprintf(path, sizeof path, SHARED "data/hourly/%s", name);
	char *text = text_of(path, &length);
	if (!text)
		return NULL;
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = NULL;
	ck_assert_int_eq(rig_hourly_year_read(text, length, diags, &year), RIG_OK);
	rig_diags_free(diags);
	free(text);
	return year;
}

static double number(const cJSON *row, const char *key)
{
	return cJSON_GetObjectItem(row, key)->valuedouble;
}

static void row_comes_out(const cJSON *row, const rig_hourly_year *year)
{
	const double load_wh_day = number(row, "load_wh_day");
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK "], \"solar\": [" TRIP_IDEAL_ARRAY "], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", "
		"\"running_w\": %.17g, \"duty_frac\": 1, \"daily_use_h\": 24}]}",
		number(row, "usable_wh"), "house", number(row, "panel_w"), -0.004, 0.15,
		load_wh_day / 24);
	rig_trip_options options = trip_scene_days(-1, 365);
	options.weather = year;
	rig_trip_findings *findings = trip_scene_study(file, NULL, &options);
	const rig_trip_bank *bank = &findings->banks[findings->main_bank];
	ck_assert_double_eq_tol(bank->unmet_frac, number(row, "unmet_fraction"), 1e-6);
	ck_assert_double_eq_tol(bank->lowest_wh, number(row, "min_soc_wh"), 1e-3);
	const cJSON *short_days = cJSON_GetObjectItem(row, "short_days");
	for (int month = 0; month < 12; month++)
		ck_assert_int_eq(bank->short_days_by_month[month],
			cJSON_GetArrayItem(short_days, month)->valueint);
	rig_trip_free(findings);
	rig_file_free(file);
}

static const char *const YEARS[] = {
	"flagstaff-az.csv", "miami-fl.csv", "minneapolis-mn.csv", "seattle-wa.csv"};

/* 240 rows of energy_reference.json, an independent program's balance. Tolerances: half of the last
 * digit that it prints. */
START_TEST(a_simple_bank_agrees_with_an_independent_balance)
{
	size_t length = 0;
	char *text = text_of(SHARED "reference/energy_reference.json", &length);
	rig_hourly_year *year = year_of(YEARS[_i]);
	if (!text || !year) {
		printf("skipped: no data folder beside the checkout\n");
		free(text);
		rig_hourly_year_free(year);
		return;
	}
	cJSON *rows = cJSON_Parse(text);
	const cJSON *row;
	int n = 0;
	cJSON_ArrayForEach(row, rows)
	{
		if (strcmp(cJSON_GetObjectItem(row, "year")->valuestring, YEARS[_i]) != 0)
			continue;
		row_comes_out(row, year);
		n++;
	}
	ck_assert_int_eq(n, 60);
	cJSON_Delete(rows);
	free(text);
	rig_hourly_year_free(year);
}
END_TEST

/* Harvest of a month of a file, summed here: W G / 1000 for a panel that does not mind heat. */
START_TEST(a_stay_in_a_files_year_starts_on_the_first_of_its_month)
{
	rig_hourly_year *year = year_of("seattle-wa.csv");
	if (!year) {
		printf("skipped: no data folder beside the checkout\n");
		return;
	}
	rig_file *file = trip_scene_coach(TRIP_HEAD "\"banks\": [" TRIP_IDEAL_BANK
						    "], \"solar\": [" TRIP_IDEAL_ARRAY "]}",
		1000.0, "house", 200.0, 0.0, 0.0);
	rig_trip_options options = trip_scene_days(10, 40);
	options.weather = year;
	rig_trip_findings *findings = trip_scene_study(file, NULL, &options);
	double sum_wh = 0;
	for (int hour = 304 * 24; hour < 344 * 24; hour++)
		sum_wh += 200 * year->ghi_wm2[hour] / 1000;
	ck_assert_int_eq(findings->first_day, 304);
	ck_assert_double_eq_tol(
		findings->banks[0].harvest_wh_day.likely, sum_wh / 40, 1e-9 * sum_wh);
	ck_assert(findings->notes & RIG_TRIP_REAL_YEAR);
	ck_assert(!(findings->notes & RIG_TRIP_MEAN_WEATHER));
	ck_assert(!findings->has_place);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* Three days in November, counted on through the file's winter by the plain balance. */
START_TEST(days_until_empty_go_on_through_the_files_year)
{
	rig_hourly_year *year = year_of("minneapolis-mn.csv");
	if (!year) {
		printf("skipped: no data folder beside the checkout\n");
		return;
	}
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK "], \"solar\": [" TRIP_IDEAL_ARRAY "], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", "
		"\"running_w\": 20, \"duty_frac\": 1, \"daily_use_h\": 24}]}",
		5000.0, "house", 200.0, 0.0, 0.0);
	rig_trip_options options = trip_scene_days(10, 3);
	options.weather = year;
	rig_trip_findings *findings = trip_scene_study(file, NULL, &options);
	double left_wh = 5000, days = -1;
	for (int hour = 0; days < 0; hour++) {
		const double net = 200 * year->ghi_wm2[(304 * 24 + hour) % 8760] / 1000 - 20;
		if (left_wh + net < 0)
			days = (hour + left_wh / -net) / 24;
		left_wh = fmin(5000, left_wh + (net > 0 ? 0.9 * net : net));
	}
	ck_assert(days > 3 && days < 365);
	ck_assert_double_eq_tol(findings->banks[0].days_with_panel.likely, days, 1e-9 * days);
	ck_assert_double_eq_tol(findings->banks[0].days_without_panel.likely, 250 / 24.0, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* A year of noon sun in a file that does not say where it is. */
static rig_hourly_year *nowhere(void)
{
	static char text[400000];
	size_t at = (size_t)snprintf(text, sizeof text, "month,day,hour,ghi_w_m2,temp_c\n");
	for (int day = 0; day < 365; day++) {
		const int month = rig_month_of_day(day);
		for (int hour = 1; hour <= 24; hour++)
			at += (size_t)snprintf(text + at, sizeof text - at, "%d,%d,%d,%d,20\n",
				month + 1, day - rig_month_first_day(month) + 1, hour,
				hour == 12 ? 500 : 0);
	}
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = NULL;
	ck_assert_int_eq(rig_hourly_year_read(text, at, diags, &year), RIG_OK);
	rig_diags_free(diags);
	return year;
}

START_TEST(a_year_without_a_place_says_what_it_cannot_tell)
{
	rig_hourly_year *year = nowhere();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK
		"], \"solar\": [{\"id\": \"roof\", \"bank\": \"house\", "
		"\"watts_w\": 100, \"controller\": \"direct\", \"tilt_deg\": 30, \"noct_c\": 45, "
		"\"roof_rise_k\": 0, \"temp_coefficient_per_k\": 0, \"losses_frac\": 0, "
		"\"shade_frac\": 0}]}",
		1200.0);
	rig_trip_options options = trip_scene_days(4, 10);
	options.weather = year;
	options.n_trips = 64;
	rig_trip_findings *findings = trip_scene_study(file, NULL, &options);
	ck_assert(findings->notes & RIG_TRIP_FLAT_LIGHT);
	ck_assert(findings->notes & RIG_TRIP_NO_CHANCE);
	ck_assert_uint_eq(findings->chance.n_trips, 0);
	ck_assert_double_eq_tol(findings->banks[0].harvest_wh_day.likely, 50, 1e-9);
	rig_trip_free(findings);
	const rig_place place = trip_scene_place();
	findings = trip_scene_study(file, &place, &options);
	ck_assert(!(findings->notes & RIG_TRIP_NO_CHANCE));
	ck_assert_uint_eq(findings->chance.n_trips, 64);
	rig_trip_free(findings);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

/* ---- by hand ---- */

/* 1,200 Wh at 40 to 60 W, likely 50: 20, 24 and 30 h. */
START_TEST(days_until_empty_are_capacity_over_draw)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK "], \"loads\": [{\"id\": \"all\", "
		"\"supply\": \"dc\", \"running_w\": {\"low\": 40, \"likely\": "
		"50, \"high\": 60, \"from\": \"estimated\"}, \"duty_frac\": 1, "
		"\"daily_use_h\": 24}]}",
		1200.0);
	const rig_trip_options options = trip_scene_days(3, 7);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	const rig_trip_bank *bank = &findings->banks[0];
	ck_assert_double_eq_tol(bank->days_without_panel.low, 20 / 24.0, 1e-9);
	ck_assert_double_eq_tol(bank->days_without_panel.likely, 1, 1e-9);
	ck_assert_double_eq_tol(bank->days_without_panel.high, 30 / 24.0, 1e-9);
	ck_assert_double_eq_tol(bank->days_with_panel.likely, 1, 1e-9);
	ck_assert_double_eq_tol(bank->unserved_wh, 6 * 1200, 1e-6);
	ck_assert_double_eq_tol(bank->unmet_frac, 6 / 7.0, 1e-9);
	ck_assert_int_eq(bank->short_days, 6);
	ck_assert_int_eq(bank->short_days_by_month[3], 6);
	ck_assert_int_eq(bank->short_hours, 144);
	ck_assert_uint_eq(bank->lowest_hour, 23);
	ck_assert_double_eq_tol(bank->lowest_wh, 0, 1e-9);
	ck_assert_double_eq_tol(bank->flows.from_store, 1200 / 7.0, 1e-9);
	ck_assert(findings->notes & RIG_TRIP_NO_HOUSE_ARRAY);
	ck_assert(findings->notes & RIG_TRIP_STARTS_FULL);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* The manual reckons with all of the battery and both running all the time, and warns of it; half
 * of it lasts half as long. */
static const outside_series MANUAL = {"whole systems",
	"Furnace of 12.0 A and refrigerator of 3.0 A on a battery of 75 Ah, hours",
	"a motorhome maker's owner manual, worked case; read", "arithmetic"};
static const struct {
	double usable_frac, hours;
} FURNACE[] = {{1, 5}, {0.5, 2.5}};

START_TEST(a_furnace_and_a_refrigerator_empty_a_battery_as_a_manual_says)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "
		"\"capacity_ah\": 75, \"usable_frac\": %g}], \"loads\": [{\"id\": \"furnace\", "
		"\"supply\": \"dc\", \"running_w\": 144, \"duty_frac\": 1, \"daily_use_h\": 24}, "
		"{\"id\": \"cold\", \"supply\": \"dc\", \"running_w\": 36, \"duty_frac\": 1, "
		"\"daily_use_h\": 24}]}",
		FURNACE[_i].usable_frac);
	const rig_trip_options options = trip_scene_days(0, 1);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	OUTSIDE(&MANUAL, 24 * findings->banks[0].days_without_panel.likely, FURNACE[_i].hours, 1e-9,
		"%g of it", FURNACE[_i].usable_frac);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* 1,200 Wh for 30 W and 20 W: 24 h; without the first 60 h, without the second 40 h. */
START_TEST(cutting_a_load_gains_what_it_drew)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK
		"], \"loads\": [{\"id\": \"less\", \"supply\": \"dc\", "
		"\"running_w\": 20, \"duty_frac\": 1, \"daily_use_h\": 24}, {\"id\": \"more\", "
		"\"supply\": \"dc\", \"running_w\": 30, \"duty_frac\": 1, \"daily_use_h\": 24}]}",
		1200.0);
	const rig_trip_options options = trip_scene_days(3, 2);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	ck_assert_str_eq(findings->loads[0].id, "more");
	ck_assert_double_eq_tol(findings->loads[0].at_bank_wh_day, 720, 1e-9);
	ck_assert_double_eq_tol(findings->loads[0].days_if_cut, 2.5, 1e-9);
	ck_assert_double_eq_tol(findings->loads[0].days_gained, 1.5, 1e-9);
	ck_assert_double_eq_tol(findings->loads[1].days_gained, 40 / 24.0 - 1, 1e-9);
	ck_assert_double_eq_tol(findings->loads[0].unserved_wh, 720, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* 150 W behind a 1,000 W inverter for 4 h: 150 + 10 + 0.02 150 + 0.04 150 150 / 1000 W at the bank;
 * a 1,200 W kettle does not run on it, a roof air conditioner is not on it. */
START_TEST(loads_behind_the_inverter_bring_its_losses)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK
		"], \"inverter\": {\"bank\": \"house\", \"watts_w\": 1000, "
		"\"loss_fixed_frac\": 0.01, \"loss_linear_frac\": 0.02, \"loss_square_frac\": "
		"0.04, "
		"\"always_on\": false}, \"loads\": ["
		"{\"id\": \"set\", \"supply\": \"ac\", \"running_w\": 150, \"duty_frac\": 1, "
		"\"daily_use_h\": 4, \"from_hour\": 18, \"to_hour\": 22, \"inverter\": true}, "
		"{\"id\": \"kettle\", \"supply\": \"ac\", \"running_w\": 1200, \"duty_frac\": 1, "
		"\"daily_use_h\": 0.5, \"inverter\": true}, "
		"{\"id\": \"cool\", \"supply\": \"ac\", \"running_w\": 1400, \"duty_frac\": 0.5, "
		"\"daily_use_h\": 8, \"inverter\": false}]}",
		5000.0);
	const rig_trip_options options = trip_scene_days(6, 3);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	const rig_trip_flows_wh_day *flows = &findings->banks[0].flows;
	ck_assert_uint_eq(findings->n_carried, 1);
	ck_assert_double_eq_tol(flows->ac, 600, 1e-9);
	ck_assert_double_eq_tol(flows->inverter_idle, 40, 1e-9);
	ck_assert_double_eq_tol(flows->inverter_loss, 4 * (3 + 0.9), 1e-9);
	ck_assert_double_eq_tol(trip_scene_load(findings, "set")->at_bank_wh_day, 655.6, 1e-9);
	ck_assert_double_eq_tol(findings->inverter_idle_frac, 40 / 655.6, 1e-12);
	ck_assert_int_eq(trip_scene_load(findings, "set")->away, RIG_RUNS_ON_INVERTER);
	ck_assert_int_eq(trip_scene_load(findings, "kettle")->away, RIG_EXCEEDS_INVERTER);
	ck_assert_int_eq(trip_scene_load(findings, "cool")->away, RIG_NEEDS_HOOKUPS);
	ck_assert_double_eq_tol(trip_scene_load(findings, "cool")->wh_day.likely, 5600, 1e-9);
	ck_assert(findings->notes & RIG_TRIP_INVERTER_SMALL);
	ck_assert(findings->notes & RIG_TRIP_NOT_CARRIED);
	ck_assert(!(findings->notes & RIG_TRIP_NO_INVERTER));
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* A flat panel that does not mind heat brings W x kWh/m2/day; its range is that of the place. */
START_TEST(mean_weather_brings_the_places_mean_sun)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD "\"banks\": [" TRIP_IDEAL_BANK
						    "], \"solar\": [" TRIP_IDEAL_ARRAY "]}",
		1000.0, "house", 300.0, 0.0, 0.0);
	for (int month = 0; month < 12; month++) {
		const rig_trip_options options = trip_scene_days(month, 5);
		rig_trip_findings *findings = trip_scene_study(file, &place, &options);
		const double wh = 300 * place.ghi_kwh_m2_day[month];
		const rig_figure harvest = findings->banks[0].harvest_wh_day;
		ck_assert_double_eq_tol(harvest.likely, wh, 1e-9 * wh);
		ck_assert_double_eq_tol(harvest.low, wh * place.sun_low_ratio, 1e-9 * wh);
		ck_assert_double_eq_tol(harvest.high, wh * place.sun_high_ratio, 1e-9 * wh);
		rig_trip_free(findings);
	}
	rig_file_free(file);
}
END_TEST

/* 100 days from 1 February: 28 of February, 31 of March, 30 of April, 11 of May. */
START_TEST(a_long_stay_passes_through_the_months)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD "\"banks\": [" TRIP_IDEAL_BANK
						    "], \"solar\": [" TRIP_IDEAL_ARRAY "]}",
		1000.0, "house", 100.0, 0.0, 0.0);
	const rig_trip_options options = trip_scene_days(1, 100);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	const double *ghi = place.ghi_kwh_m2_day;
	const double wh = (28 * ghi[1] + 31 * ghi[2] + 30 * ghi[3] + 11 * ghi[4]);
	ck_assert_double_eq_tol(findings->banks[0].harvest_wh_day.likely, wh, 1e-9 * wh);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(a_panel_on_the_chassis_bank_gives_the_house_nothing)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK ", {\"id\": \"start\", \"chemistry\": \"starting\", "
		"\"role\": \"chassis\", \"capacity_ah\": 100}], \"solar\": [" TRIP_IDEAL_ARRAY "], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": 50, "
		"\"duty_frac\": 1, \"daily_use_h\": 24}], \"circuits\": []}",
		1200.0, "start", 400.0, -0.004, 0.1);
	const rig_trip_options options = trip_scene_days(6, 7);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	ck_assert_uint_eq(findings->n_banks, 2);
	ck_assert_int_eq(findings->banks[0].role, RIG_HOUSE);
	ck_assert_double_eq(findings->banks[0].flows.harvest, 0);
	ck_assert_double_eq_tol(findings->banks[0].days_with_panel.likely, 1, 1e-9);
	ck_assert(findings->banks[1].flows.harvest > 1000);
	ck_assert(!rig_figure_given(findings->banks[1].days_with_panel));
	ck_assert(findings->notes & RIG_TRIP_CHASSIS_ARRAY);
	ck_assert(findings->notes & RIG_TRIP_NO_HOUSE_ARRAY);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

START_TEST(without_a_house_bank_there_is_nothing_to_live_on)
{
	const rig_place place = trip_scene_place();
	rig_file *file =
		trip_scene_coach(TRIP_HEAD "\"loads\": [{\"id\": \"lamp\", \"supply\": \"dc\", "
					   "\"running_w\": 5, \"daily_use_h\": 4}]}");
	rig_trip_findings *findings = trip_scene_study(file, &place, NULL);
	ck_assert_int_eq(findings->main_bank, -1);
	ck_assert_uint_eq(findings->n_banks, 0);
	ck_assert_uint_eq(findings->chance.n_trips, 0);
	ck_assert_int_eq(findings->loads[0].away, RIG_HAS_NO_BANK);
	ck_assert(findings->notes & RIG_TRIP_NO_HOUSE_BANK);
	ck_assert(findings->notes & RIG_TRIP_NO_BANK_LOADS);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* Minneapolis in January: mean high below 0 C, so a lithium iron phosphate bank outdoors takes
 * nothing all month; indoors at 15 C it charges. */
START_TEST(a_lithium_bank_out_in_the_cold_is_not_charged)
{
	rig_place place;
	const long found = rig_place_find("Minneapolis");
	ck_assert(found >= 0);
	rig_place_at((size_t)found, &place);
	ck_assert(place.temp_max_c[0] < 0);
	for (int indoors = 0; indoors < 2; indoors++) {
		rig_file *file = trip_scene_coach(TRIP_HEAD
			"\"banks\": [{\"id\": \"house\", \"chemistry\": "
			"\"lithium_iron_phosphate\", "
			"\"capacity_ah\": 100%s}], \"solar\": [" TRIP_IDEAL_ARRAY "], "
			"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": 10, "
			"\"duty_frac\": 1, \"daily_use_h\": 24}]}",
			indoors ? ", \"temp_c\": 15" : "", "house", 200.0, -0.004, 0.1);
		const rig_trip_options options = trip_scene_days(0, 14);
		rig_trip_findings *findings = trip_scene_study(file, &place, &options);
		double charged_wh = 0;
		for (size_t hour = 0; hour < findings->n_hours; hour++)
			charged_wh += findings->banks[0].hours[hour].charged_wh;
		const uint32_t cold = RIG_TRIP_COLD_NO_CHARGE | RIG_TRIP_OUTDOOR_BANK;
		ck_assert_uint_eq(findings->notes & cold, indoors ? 0 : cold);
		ck_assert(indoors ? charged_wh > 100 : charged_wh == 0);
		rig_trip_free(findings);
		rig_file_free(file);
	}
}
END_TEST

/* A bank of 100 Ah at its 20 h rate gives 5 A for 20 h, whatever its wells; at 5 A of charge limit
 * it takes 5 A x 13.2 V in an hour of strong sun. */
START_TEST(a_bank_gives_its_rating_and_keeps_to_its_charge_limit)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "
		"\"capacity_ah\": 100, \"kinetic_c_frac\": 0.3, \"kinetic_k_per_h\": 0.6, "
		"\"usable_frac\": 1, \"charge_limit_a\": 5}], \"solar\": [" TRIP_IDEAL_ARRAY "], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": 60, "
		"\"duty_frac\": 1, \"daily_use_h\": 24}]}",
		"house", 500.0, 0.0, 0.0);
	const rig_trip_options options = trip_scene_days(5, 3);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	double most_wh = 0;
	for (size_t hour = 0; hour < findings->n_hours; hour++)
		most_wh = fmax(most_wh, findings->banks[0].hours[hour].charged_wh);
	ck_assert_double_eq_tol(findings->banks[0].days_without_panel.likely, 20 / 24.0, 0.02 / 24);
	ck_assert_double_eq_tol(most_wh, 66, 1e-9);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

/* Two of 300 W together, a day of 4 h: 2,400 Wh of AC, 24 Wh of loss, 40 Wh idle out of 1,000 Wh.
 */
START_TEST(what_is_unmet_is_a_share_of_what_appliances_want)
{
	const rig_place place = trip_scene_place();
	rig_file *file = trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK
		"], \"inverter\": {\"bank\": \"house\", \"watts_w\": 1000, "
		"\"loss_fixed_frac\": 0.01, \"loss_linear_frac\": 0.01, \"loss_square_frac\": 0, "
		"\"always_on\": false}, \"loads\": [{\"id\": \"pair\", \"supply\": \"ac\", "
		"\"count\": 2, \"running_w\": 300, \"duty_frac\": 1, \"daily_use_h\": 4, "
		"\"from_hour\": 12, \"to_hour\": 16, \"inverter\": true}, {\"id\": \"trio\", "
		"\"supply\": \"ac\", \"count\": 3, \"running_w\": 400, \"duty_frac\": 1, "
		"\"daily_use_h\": 1, \"inverter\": true}]}",
		1000.0);
	const rig_trip_options options = trip_scene_days(6, 1);
	rig_trip_findings *findings = trip_scene_study(file, &place, &options);
	const rig_trip_bank *bank = &findings->banks[0];
	const double served = 1000 / 2464.0;
	ck_assert_double_eq_tol(bank->wanted_wh, 2464, 1e-9);
	ck_assert_double_eq_tol(bank->unmet_frac, 1 - served, 1e-9);
	ck_assert_double_eq_tol(bank->unserved_ac_wh, 2400 * (1 - served), 1e-6);
	ck_assert_double_eq_tol(bank->flows.inverter_idle, 40 * served, 1e-9);
	ck_assert_int_eq(trip_scene_load(findings, "trio")->away, RIG_EXCEEDS_INVERTER);
	rig_trip_free(findings);
	rig_file_free(file);
}
END_TEST

Suite *trip_suite(void);
Suite *trip_suite(void)
{
	Suite *suite = suite_create("trip");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_test(all, days_until_empty_are_capacity_over_draw);
	tcase_add_loop_test(all, a_furnace_and_a_refrigerator_empty_a_battery_as_a_manual_says, 0,
		COUNT(FURNACE));
	tcase_add_test(all, cutting_a_load_gains_what_it_drew);
	tcase_add_test(all, loads_behind_the_inverter_bring_its_losses);
	tcase_add_test(all, mean_weather_brings_the_places_mean_sun);
	tcase_add_test(all, a_long_stay_passes_through_the_months);
	tcase_add_test(all, a_panel_on_the_chassis_bank_gives_the_house_nothing);
	tcase_add_test(all, without_a_house_bank_there_is_nothing_to_live_on);
	tcase_add_test(all, a_lithium_bank_out_in_the_cold_is_not_charged);
	tcase_add_test(all, a_bank_gives_its_rating_and_keeps_to_its_charge_limit);
	tcase_add_test(all, what_is_unmet_is_a_share_of_what_appliances_want);
	tcase_add_loop_test(all, a_simple_bank_agrees_with_an_independent_balance, 0, COUNT(YEARS));
	tcase_add_test(all, a_stay_in_a_files_year_starts_on_the_first_of_its_month);
	tcase_add_test(all, days_until_empty_go_on_through_the_files_year);
	tcase_add_test(all, a_year_without_a_place_says_what_it_cannot_tell);
	suite_add_tcase(suite, all);
	return suite;
}
