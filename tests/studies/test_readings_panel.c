/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "base/file.h"
#include "outside.h"
#include "reading_session.h"
#include "rigbudget/weather.h"
#include "suites.h"

/* ---- panels against the given hourly years ---- */

static rig_hourly_year *read_year(const char *name)
{
	char path[512];
	snprintf(path, sizeof path, "%s/../shared/data/hourly/%s.csv", RIG_SOURCE_DIR, name);
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = NULL;
	if (rig_file_read(path, 1 << 25, &text, diags) == RIG_OK)
		ck_assert_int_eq(
			rig_hourly_year_read(text.text, text.length, diags, &year), RIG_OK);
	rig_diags_free(diags);
	rig_buffer_free(&text);
	return year;
}

static const struct {
	const char *file, *place;
} YEAR[] = {{"flagstaff-az", "Flagstaff"}, {"miami-fl", "Miami"}, {"minneapolis-mn", "Minneapolis"},
	{"seattle-wa", "Seattle"}};

/* Amps out of a tracker at 13.2 V from 200 W of panel in that light: watts by the nameplate, cells
 * 45 C at 800 W/m2, -0.4 % per kelvin, 12 % lost on the way [DUFFIE-2006] sec. 23.3; written out
 * apart from the study's own way. */
static double panel_a(double light_wm2, double air_c)
{
	const double cell_c = air_c + 25.0 / 800.0 * light_wm2;
	return 200.0 * light_wm2 / 1000.0 * (1.0 - 0.004 * (cell_c - 25.0)) * 0.88 / 13.2;
}

typedef struct {
	int hours, healthy, half_low, decided;
} panel_tally;

/* A clear hour: the beam is there, and the hours before and after have about as much, so that no
 * cloud came by. The sun at least 10 degrees up: 140 W/m2 of clear light. */
static bool is_clear(const rig_hourly_year *year, int hour)
{
	for (int i = hour - 1; i <= hour + 1; i++)
		if (year->dni_wm2[i] < 400.0 || year->dhi_wm2[i] > 0.3 * year->ghi_wm2[i])
			return false;
	return year->ghi_wm2[hour] > 140.0;
}

static rig_panel_verdict judge(
	const rig_coach *coach, const rig_place *place, int hour, double amps_a)
{
	const int day = hour / RIG_DAY_HOURS;
	const int month = rig_month_of_day(day);
	const rig_reading reading = {.array = "roof",
		.array_a = rig_figure_of(amps_a, RIG_FROM_MEASURED),
		.month = month + 1,
		.day = day - rig_month_first_day(month) + 1,
		.hour_h = rig_figure_of(hour % RIG_DAY_HOURS + 0.5, RIG_FROM_MEASURED),
		.daylight_saving = RIG_NO,
		.sky = RIG_SKY_CLEAR};
	const rig_readings_options options = {.place = place};
	rig_readings_findings *findings = NULL;
	ck_assert_int_eq(rig_readings_study(coach, &reading, 1, &options, &findings), RIG_OK);
	ck_assert_uint_eq(findings->n_panels, 1);
	const rig_panel_verdict verdict = findings->panels[0].verdict;
	rig_readings_free(findings);
	return verdict;
}

START_TEST(a_healthy_panel_is_called_so_on_clear_hours_and_half_of_one_low)
{
	rig_hourly_year *year = read_year(YEAR[_i].file);
	if (year == NULL) {
		printf("skipped: no hourly years beside the checkout\n");
		return;
	}
	rig_file *file = session_parse(
		"{\"format\": \"rigbudget/1\", \"name\": \"Panel\", \"shore\": {\"cord_a\": 30}, "
		"\"banks\": [{\"id\": \"house\", \"chemistry\": \"flooded\", \"capacity_ah\": "
		"200}], \"solar\": [{\"id\": \"roof\", \"bank\": \"house\", \"watts_w\": 200, "
		"\"controller\": \"mppt\"}]}");
	rig_place place;
	rig_place_at((size_t)rig_place_find(YEAR[_i].place), &place);
	panel_tally t = {0};
	for (int hour = 1; hour + 1 < RIG_YEAR_HOURS; hour++) {
		if (!is_clear(year, hour))
			continue;
		const double amps_a = panel_a(year->ghi_wm2[hour], year->temp_c[hour]);
		const rig_coach *coach = rig_file_completed(file);
		t.hours++;
		t.healthy += judge(coach, &place, hour, amps_a) == RIG_PANEL_AGREES;
		t.half_low += judge(coach, &place, hour, 0.5 * amps_a) == RIG_PANEL_LOW;
	}
	const outside_series series = {"readings",
		"a 200 W panel flat on a roof against the sky of its hour, per cent of the clear "
		"hours",
		"[TMY3] hourly years; the panel by [DUFFIE-2006] sec. 23.3",
		"as the study promises"};
	OUTSIDE_WITHIN(&series, 100.0 * t.healthy / t.hours, 95, 100,
		"%s, %d hours: healthy, called so", YEAR[_i].place, t.hours);
	OUTSIDE_WITHIN(&series, 100.0 * t.half_low / t.hours, 90, 100,
		"%s: half of its amps, called low", YEAR[_i].place);
	rig_file_free(file);
	rig_hourly_year_free(year);
}
END_TEST

Suite *readings_panel_suite(void);
Suite *readings_panel_suite(void)
{
	Suite *suite = suite_create("readings_panel");
	TCase *all = tcase_create("all");
	tcase_set_timeout(all, 120);
	tcase_add_loop_test(all, a_healthy_panel_is_called_so_on_clear_hours_and_half_of_one_low, 0,
		COUNT(YEAR));
	suite_add_tcase(suite, all);
	return suite;
}
