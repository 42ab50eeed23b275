/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An independent program's hourly balances, each through the program as a person runs it: a coach
 * file, a weather file, JSON out. docs/energy-balance.md tells the keys. */
#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "outside.h"
#include "suites.h"

#define SHARED RIG_SOURCE_DIR "/../shared/"

static const char COACH[] =
	"{\"format\": \"rigbudget/1\", \"name\": \"plain balance\", \"shore\": {\"cord_a\": 30}, "
	"\"banks\": [{\"id\": \"house\", \"chemistry\": \"ideal\", \"nominal_v\": 12, "
	"\"capacity_wh\": %.17g, \"usable_frac\": 1, \"charge_efficiency_frac\": 0.9}], "
	"\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": %.17g, "
	"\"controller\": \"direct\", \"tilt_deg\": 0, \"noct_c\": 45, \"roof_rise_k\": 0, "
	"\"temp_coefficient_per_k\": -0.004, \"losses_frac\": 0.15, \"shade_frac\": 0}], "
	"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": %.17g, \"duty_frac\": 1, "
	"\"daily_use_h\": 24}]}\n";

/* The caller frees it. */
static char *text_of(FILE *file)
{
	const size_t most = 8000000;
	ck_assert_ptr_nonnull(file);
	char *text = malloc(most);
	ck_assert_ptr_nonnull(text);
	const size_t length = fread(text, 1, most - 1, file);
	ck_assert_uint_lt(length, most - 1);
	text[length] = '\0';
	return text;
}

static double number(const cJSON *row, const char *key)
{
	const cJSON *value = cJSON_GetObjectItem(row, key);
	ck_assert_msg(cJSON_IsNumber(value), "no %s", key);
	return value->valuedouble;
}

/* What the program finds for a row; the caller deletes it. */
static cJSON *found_for(const cJSON *row, const char *year)
{
	char path[] = "/tmp/rigbudget-reference-XXXXXX";
	char command[2000];
	const int handle = mkstemp(path);
	ck_assert_int_ge(handle, 0);
	FILE *coach = fdopen(handle, "w");
	ck_assert_ptr_nonnull(coach);
	(void)fprintf(coach, COACH, number(row, "usable_wh"), number(row, "panel_w"),
		number(row, "load_wh_day") / 24);
	ck_assert_int_eq(fclose(coach), 0);
	(void)snprintf(command, sizeof command,
		"'%s' trip '%s' --weather '" SHARED "data/hourly/%s' --format json", RIG_PROGRAM,
		path, year);
	FILE *out = popen(command, "r"); /* NOLINT(cert-env33-c): the words are ours */
	char *text = text_of(out);
	ck_assert_msg(pclose(out) == 0, "%s", command);
	(void)unlink(path);
	cJSON *json = cJSON_Parse(text);
	ck_assert_msg(json != NULL, "%s", command);
	free(text);
	return json;
}

typedef struct {
	int n_rows, n_other_months;
	double unmet_frac, lowest_wh;
} worst;

static void compare(const cJSON *row, const char *year, worst *w)
{
	cJSON *json = found_for(row, year);
	const cJSON *trip = cJSON_GetObjectItem(cJSON_GetObjectItem(json, "findings"), "trip");
	const cJSON *bank = cJSON_GetArrayItem(cJSON_GetObjectItem(trip, "banks"), 0);
	const cJSON *given = cJSON_GetObjectItem(row, "short_days");
	const cJSON *found = cJSON_GetObjectItem(bank, "short_days_by_month");
	ck_assert_int_eq(cJSON_GetArraySize(found), 12);
	w->n_rows++;
	w->unmet_frac = fmax(
		w->unmet_frac, fabs(number(bank, "unmet_frac") - number(row, "unmet_fraction")));
	w->lowest_wh =
		fmax(w->lowest_wh, fabs(number(bank, "lowest_wh") - number(row, "min_soc_wh")));
	for (int month = 0; month < 12; month++)
		w->n_other_months += cJSON_GetArrayItem(found, month)->valueint !=
				     cJSON_GetArrayItem(given, month)->valueint;
	cJSON_Delete(json);
}

static const char *const YEARS[] = {
	"flagstaff-az.csv", "miami-fl.csv", "minneapolis-mn.csv", "seattle-wa.csv"};

#define SOURCE                                                                                     \
	"an independent program's hourly balance of 240 coaches on four years of [TMY3], each "    \
	"run "                                                                                     \
	"through `rigbudget trip --weather --format json`"
static const outside_series UNMET = {"energy balance",
	"Share of the year's load not served, off the reference", SOURCE,
	"1e-6, half a digit of the reference is 5e-7"};
static const outside_series LOWEST = {"energy balance", "Lowest state, Wh off the reference",
	SOURCE, "1e-3, half a digit of the reference is 5e-4"};
static const outside_series SHORT_DAYS = {"energy balance",
	"Months whose count of short days is another than the reference's", SOURCE, "none"};

START_TEST(every_row_of_the_reference_comes_out_of_the_program)
{
	worst w = {0, 0, 0, 0};
	FILE *file = fopen(SHARED "reference/energy_reference.json", "rb");
	char *text = text_of(file);
	(void)fclose(file);
	cJSON *rows = cJSON_Parse(text);
	const cJSON *row;
	cJSON_ArrayForEach(row, rows)
	{
		if (strcmp(cJSON_GetObjectItem(row, "year")->valuestring, YEARS[_i]) == 0)
			compare(row, YEARS[_i], &w);
	}
	ck_assert_int_eq(w.n_rows, 60);
	OUTSIDE_WORST(&UNMET, w.unmet_frac, 1e-6, "worst of %d, %s", w.n_rows, YEARS[_i]);
	OUTSIDE_WORST(&LOWEST, w.lowest_wh, 1e-3, "worst of %d, %s", w.n_rows, YEARS[_i]);
	OUTSIDE(&SHORT_DAYS, w.n_other_months, 0, 0, "of %d, %s", 12 * w.n_rows, YEARS[_i]);
	cJSON_Delete(rows);
	free(text);
}
END_TEST

Suite *reference_suite(void);
Suite *reference_suite(void)
{
	Suite *suite = suite_create("reference");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 300);
	tcase_add_loop_test(
		all, every_row_of_the_reference_comes_out_of_the_program, 0, COUNT(YEARS));
	suite_add_tcase(suite, all);
	return suite;
}
