/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "base/file.h"
#include "outside.h"
#include "rigbudget/weather.h"
#include "suites.h"

static const char COMMENT[] =
	"# station: latitude 35.133 deg, longitude -111.667 deg, elevation 2132 m, UTC-7.0 h\n";
static const char COLUMNS[] = "month,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2,temp_c\n";

/* A made-up year: each figure tells its hour. Line n + 2 holds hour n, 1 to 8760. */
static void add_rows(rig_buffer *text)
{
	for (int i = 0; i < RIG_YEAR_HOURS; i++) {
		const int day = i / RIG_DAY_HOURS;
		const int month = rig_month_of_day(day);
		rig_buffer_format(text, "%d,%d,%d,%d,%d,%d,%.1f\n", month + 1,
			day - rig_month_first_day(month) + 1, i % RIG_DAY_HOURS + 1, i % 1000,
			i % 900, i % 800, (i % 100 - 50) / 10.0);
	}
}

static rig_buffer whole_year(void)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, COMMENT);
	rig_buffer_add(&text, COLUMNS);
	add_rows(&text);
	ck_assert(!text.failed);
	return text;
}

/* The text with one line (from 1) replaced; NULL drops it. */
static rig_buffer with_line(const rig_buffer *text, int line, const char *instead)
{
	rig_buffer changed = {0};
	const char *begin = text->text;
	for (int i = 1; i < line; i++)
		begin = strchr(begin, '\n') + 1;
	const char *end = strchr(begin, '\n') + 1;
	rig_buffer_add_bytes(&changed, text->text, (size_t)(begin - text->text));
	if (instead != NULL)
		rig_buffer_format(&changed, "%s\n", instead);
	rig_buffer_add(&changed, end);
	return changed;
}

static rig_hourly_year *read_fine(const rig_buffer *text)
{
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	const rig_status status = rig_hourly_year_read(text->text, text->length, diags, &year);
	ck_assert_msg(status == RIG_OK, "%s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "");
	rig_diags_free(diags);
	return year;
}

START_TEST(every_figure_of_a_year_is_in_its_hour)
{
	rig_buffer text = whole_year();
	rig_hourly_year *year = read_fine(&text);
	ck_assert(year->located && year->has_beam);
	ck_assert_double_eq(year->latitude_deg, 35.133);
	ck_assert_double_eq(year->longitude_deg, -111.667);
	ck_assert_double_eq(year->elevation_m, 2132);
	ck_assert_double_eq(year->utc_offset_h, -7);
	for (int i = 0; i < RIG_YEAR_HOURS; i++) {
		ck_assert_double_eq(year->ghi_wm2[i], i % 1000);
		ck_assert_double_eq(year->dni_wm2[i], i % 900);
		ck_assert_double_eq(year->dhi_wm2[i], i % 800);
		ck_assert_double_eq(year->temp_c[i], (i % 100 - 50) / 10.0);
	}
	rig_hourly_year_free(year);
	rig_buffer_free(&text);
}
END_TEST

START_TEST(columns_and_rows_stand_in_any_order)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, "\xEF\xBB\xBF\r\ntemp_c , wind,hour,day,month,ghi_w_m2\r\n");
	for (int i = RIG_YEAR_HOURS - 1; i >= 0; i--) {
		const int day = i / RIG_DAY_HOURS;
		const int month = rig_month_of_day(day);
		rig_buffer_format(&text, " -0.5,calm, %d,%d,%d,+%d.50\r\n%s", i % RIG_DAY_HOURS + 1,
			day - rig_month_first_day(month) + 1, month + 1, i % 1000,
			i % 24 == 0 ? "\n# a remark about latitude and UTC\n" : "");
	}
	rig_hourly_year *year = read_fine(&text);
	ck_assert(!year->located && !year->has_beam);
	ck_assert_double_eq(year->ghi_wm2[4321], 321.5);
	ck_assert_double_eq(year->temp_c[4321], -0.5);
	ck_assert_double_eq(year->dhi_wm2[4321], 0);
	rig_hourly_year_free(year);
	rig_buffer_free(&text);
}
END_TEST

START_TEST(the_last_line_needs_no_end)
{
	rig_buffer text = whole_year();
	text.length--;
	rig_hourly_year_free(read_fine(&text));
	rig_buffer_free(&text);
}
END_TEST

/* One line changed; the fault's place and what it says. Line 3 is 1 January, hour 1; line 1419 is
 * 1 March, hour 1: 59 days of 24 lines after two. */
static const struct {
	int line;
	const char *instead;
	size_t at_line, at_column;
	const char *what, *found;
} FAULT[] = {
	{3, "1,1,1,,0,0,5.0", 3, 7, "a value is missing", "\"\""},
	{3, "1,1,1,0,0,0,", 3, 13, "a value is missing", "\"\""},
	{3, "1,1,1,n/a,0,0,5.0", 3, 7, "a value is odd", "\"n/a\""},
	{3, "1,1,1,-9999,0,0,5.0", 3, 7, "a value is odd", "\"-9999\""},
	{3, "1,1,1,1601,0,0,5.0", 3, 7, "a value is odd", "\"1601\""},
	{3, "1,1,1,0,0,0,66", 3, 13, "a value is odd", "\"66\""},
	{3, "1,1,1,0,0,0,1e1", 3, 13, "a value is odd", "\"1e1\""},
	{3, "1,1,1,0,0,0,nan", 3, 13, "a value is odd", "\"nan\""},
	{3, "1,1,1,0,0,0,0x1", 3, 13, "a value is odd", "\"0x1\""},
	{3, "1,1,1,0,0,0,1.2.3", 3, 13, "a value is odd", "\"1.2.3\""},
	{3, "1,1,1,0,0,0,.", 3, 13, "a value is odd", "\".\""},
	{3, "1,1,1,0,0,0,-", 3, 13, "a value is odd", "\"-\""},
	{3, "1,1,1,0,0,0,1234567890.123456", 3, 13, "a value is odd", "\"1234567890.123456\""},
	{3, "1,1,1,0,0,0,  \xC3\xA9\xC3\xA9", 3, 15, "a value is odd", "\"\xC3\xA9\xC3\xA9\""},
	{3, "\xC3\xA9,1,1,0,0,0,5", 3, 1, "a value is odd", "\"\xC3\xA9\""},
	{3, "13,1,1,0,0,0,5", 3, 1, "a value is odd", "\"13\""},
	{3, "1,0,1,0,0,0,5", 3, 3, "a value is odd", "\"0\""},
	{3, "1,1,0,0,0,0,5", 3, 5, "a value is odd", "\"0\""},
	{3, "1,1,25,0,0,0,5", 3, 5, "a value is odd", "\"25\""},
	{3, "1,1,1.5,0,0,0,5", 3, 5, "a value is odd", "\"1.5\""},
	{3, "1,1,1,0,0,0", 3, 1, "the line has too few values", "\"1,1,1,0,0,0\""},
	{3, "1,1,1,0,0,0,5,6", 3, 1, "the line has too many values", "\"1,1,1,0,0,0,5,6\""},
	{4, "1,1,1,0,0,0,5", 4, 5, "the hour stands twice", "\"1\""},
	{1419, "2,29,1,0,0,0,5", 1419, 3, "29 February stands in the year", "\"29\""},
	{1419, "2,30,1,0,0,0,5", 1419, 3, "the month has no such day", "\"30\""},
	{1419, NULL, 0, 0, "1 of 8760 hours are missing, the first is hour 1 of month 3, day 1",
		""},
	{2, "month,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2", 2, 1, "a column is missing",
		"\"month,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m...\""},
	{2, "moon,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2,temp_c", 2, 1, "a column is missing",
		"\"moon,day,hour,ghi_w_m2,dni_w_m2,dhi_w_m2...\""},
	{2, "month,day,hour,ghi_w_m2,dni_w_m2,dhi,temp_c", 2, 1,
		"beam or diffuse light stands alone",
		"\"month,day,hour,ghi_w_m2,dni_w_m2,dhi,tem...\""},
	{2, "month,day,hour,ghi_w_m2,dni_w_m2,dni_w_m2,temp_c", 2, 34, "the column stands twice",
		"\"dni_w_m2\""},
	{1, "# latitude 95", 1, 12, "the comment's figure of the place is odd", "\"95\""},
	{1, "# longitude: -181.5 deg", 1, 14, "the comment's figure of the place is odd",
		"\"-181.5\""},
	{1, "# UTC+20", 1, 6, "the comment's figure of the place is odd", "\"+20\""},
};

START_TEST(a_fault_is_said_with_its_place)
{
	rig_buffer text = whole_year();
	rig_buffer faulty = with_line(&text, FAULT[_i].line, FAULT[_i].instead);
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_hourly_year_read(faulty.text, faulty.length, diags, &year), RIG_BAD_INPUT);
	ck_assert_ptr_null(year);
	ck_assert_uint_ge(rig_diags_faults(diags), 1);
	bool said = false;
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *d = rig_diags_at(diags, i);
		said = said || (strcmp(d->what, FAULT[_i].what) == 0 &&
				       strcmp(d->found, FAULT[_i].found) == 0 &&
				       d->where.line == FAULT[_i].at_line &&
				       d->where.column == FAULT[_i].at_column);
		ck_assert_msg(d->mend[0] != '\0' || d->allowed[0] != '\0', "%s", d->what);
	}
	ck_assert_msg(said, "%s: %s", FAULT[_i].what,
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "");
	rig_diags_free(diags);
	rig_buffer_free(&faulty);
	rig_buffer_free(&text);
}
END_TEST

START_TEST(all_faults_are_said_at_once)
{
	rig_buffer text = whole_year();
	rig_buffer once = with_line(&text, 10, "1,1,8,x,0,0,5");
	rig_buffer twice = with_line(&once, 20, "1,1,18,0,0,y,z");
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_hourly_year_read(twice.text, twice.length, diags, &year), RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_faults(diags), 3);
	ck_assert_uint_eq(rig_diags_at(diags, 0)->where.line, 10);
	ck_assert_uint_eq(rig_diags_at(diags, 2)->where.column, 14);
	rig_diags_free(diags);
	rig_buffer_free(&twice);
	rig_buffer_free(&once);
	rig_buffer_free(&text);
}
END_TEST

static const char *const EMPTY[] = {"", "\n\n", "# only a remark\n", "\xEF\xBB\xBF"};

START_TEST(a_text_without_a_table_is_refused)
{
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_hourly_year_read(EMPTY[_i], strlen(EMPTY[_i]), diags, &year), RIG_BAD_INPUT);
	ck_assert_str_eq(rig_diags_at(diags, 0)->what, "there is no line of column names");
	rig_diags_free(diags);
}
END_TEST

START_TEST(more_columns_than_anybody_has_are_refused)
{
	rig_buffer text = {0};
	for (int i = 0; i < 140; i++)
		rig_buffer_format(&text, "c%d,", i);
	rig_buffer_add(&text, "month,day,hour,ghi_w_m2,temp_c\n1,1,1,0,0\n");
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_hourly_year_read(text.text, text.length, diags, &year), RIG_BAD_INPUT);
	ck_assert_uint_eq(rig_diags_faults(diags), 1);
	ck_assert_str_eq(rig_diags_at(diags, 0)->what, "too many columns");
	rig_diags_free(diags);
	rig_buffer_free(&text);
}
END_TEST

/* ---- the four years beside the checkout ---- */

static const struct {
	const char *file, *station;
} YEAR[] = {
	{"flagstaff-az.csv", "723755"},
	{"miami-fl.csv", "722020"},
	{"minneapolis-mn.csv", "726580"},
	{"seattle-wa.csv", "727930"},
};

START_TEST(the_years_beside_the_checkout_sum_to_the_table)
{
	char path[500];
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	(void)snprintf(
		path, sizeof path, RIG_SOURCE_DIR "/../shared/data/hourly/%s", YEAR[_i].file);
	if (rig_file_read(path, 4000000, &text, diags) != RIG_OK) {
		(void)printf("skipped: no data folder beside the checkout\n");
		rig_diags_free(diags);
		return;
	}
	rig_hourly_year *year = read_fine(&text);
	rig_place place;
	double distance_km = 0;
	ck_assert(year->located && year->has_beam);
	rig_place_at(
		rig_place_nearest(year->latitude_deg, year->longitude_deg, &distance_km), &place);
	ck_assert_str_eq(place.station, YEAR[_i].station);
	ck_assert_double_eq(place.elevation_m, year->elevation_m);
	double ghi[12] = {0};
	for (int i = 0; i < RIG_YEAR_HOURS; i++) {
		const int month = rig_month_of_day(i / RIG_DAY_HOURS);
		ghi[month] += year->ghi_wm2[i] / 1000 / rig_month_n_days(month);
	}
	static const outside_series SUMS = {"weather",
		"Months of an hourly file off the table of places, kWh/m2 a day",
		"[TMY3], the hourly files themselves",
		"half of the table's last digit, and the file's whole watts"};
	double worst = 0;
	for (int m = 0; m < 12; m++)
		worst = fmax(worst, fabs(ghi[m] - place.ghi_kwh_m2_day[m]));
	OUTSIDE_WORST(&SUMS, worst, 0.006, "worst month, %s", YEAR[_i].file);
	rig_hourly_year_free(year);
	rig_buffer_free(&text);
	rig_diags_free(diags);
}
END_TEST

Suite *hourly_suite(void);
Suite *hourly_suite(void)
{
	Suite *suite = suite_create("hourly");
	TCase *all = tcase_create("all");
	tcase_add_test(all, every_figure_of_a_year_is_in_its_hour);
	tcase_add_test(all, columns_and_rows_stand_in_any_order);
	tcase_add_test(all, the_last_line_needs_no_end);
	tcase_add_loop_test(all, a_fault_is_said_with_its_place, 0, COUNT(FAULT));
	tcase_add_test(all, all_faults_are_said_at_once);
	tcase_add_loop_test(all, a_text_without_a_table_is_refused, 0, COUNT(EMPTY));
	tcase_add_test(all, more_columns_than_anybody_has_are_refused);
	tcase_add_loop_test(all, the_years_beside_the_checkout_sum_to_the_table, 0, COUNT(YEAR));
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
