/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made-up years in the open layouts TMY3 [TMY3] and EPW [EPW], both from memory of the documents
 * that describe them: each figure tells its hour. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "rigbudget/weather.h"
#include "suites.h"

/* ---- making texts ---- */

/* A typical year takes each month from a year of its own. */
static int year_of(int month)
{
	return 1976 + month * 7 % 30;
}

static const char TMY3_HEAD[] =
	"690001,\"MADE UP, FIELD\",AZ,-7.0,35.133,-111.667,2132\n"
	"Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),ETRN (W/m^2),GHI (W/m^2),GHI source,"
	"GHI uncert (%),DNI (W/m^2),DNI source,DNI uncert (%),DHI (W/m^2),DHI source,"
	"DHI uncert (%),TotCld (tenths),Dry-bulb (C),Dry-bulb source,Dry-bulb uncert (code)\n";

static void add_tmy3_row(rig_buffer *text, int month, int day, int hour)
{
	const int i = (rig_month_first_day(month) + day) * RIG_DAY_HOURS + hour;
	rig_buffer_format(text,
		"%02d/%02d/%04d,%02d:00,0,0,%d,1,13,%d,1,9,%d,1,13,-9900,%.1f,A,7\n", month + 1,
		day + 1, year_of(month), hour + 1, i % 1000, i % 900, i % 800,
		(i % 100 - 50) / 10.0);
}

static const char EPW_HEAD[] =
	"LOCATION,Made Up Field,AZ,USA,TMY3,690001,35.133,-111.667,-7.0,2132.0\n"
	"DESIGN CONDITIONS,0\n"
	"TYPICAL/EXTREME PERIODS,0\n"
	"GROUND TEMPERATURES,0\n"
	"HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\n"
	"COMMENTS 1,made up for a test, with a comma\n"
	"COMMENTS 2,\n"
	"DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n";

static void add_epw_row(rig_buffer *text, int month, int day, int hour)
{
	const int i = (rig_month_first_day(month) + day) * RIG_DAY_HOURS + hour;
	rig_buffer_format(text,
		"%d,%d,%d,%d,0,?9?9?9,%.1f,-5.0,50,80000,0,0,300,%d,%d,%d,0,0,0,0,180,3.0,"
		"5,5,20.0,77777,9,999999999,100,0.1000,0,88,0.200,0.0,1.0\n",
		year_of(month), month + 1, day + 1, hour + 1, (i % 100 - 50) / 10.0, i % 1000,
		i % 900, i % 800);
}

typedef struct {
	const char *head;
	int n_head;
	void (*add_row)(rig_buffer *text, int month, int day, int hour);
	const char *light_missing, *temp_missing;
} open_layout;

enum { TMY3, EPW, N_LAYOUTS };
static const open_layout LAYOUT[N_LAYOUTS] = {
	{TMY3_HEAD, 2, add_tmy3_row, "-9900", "-9900"},
	{EPW_HEAD, 8, add_epw_row, "9999", "99.9"},
};

/* Hour n of the year stands in line n_head + 1 + n. */
static rig_buffer whole_year(const open_layout *layout, bool leap)
{
	rig_buffer text = {0};
	rig_buffer_add(&text, layout->head);
	for (int month = 0; month < 12; month++) {
		const int n = rig_month_n_days(month) + (leap && month == 1 ? 1 : 0);
		for (int day = 0; day < n; day++)
			for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
				layout->add_row(&text, month, day, hour);
	}
	ck_assert(!text.failed);
	return text;
}

/* The text with a piece of one line (from 1) replaced; the piece NULL: the whole line. */
typedef struct {
	int line;
	const char *piece, *instead;
} change;

static rig_buffer changed(const rig_buffer *text, const change *c)
{
	rig_buffer result = {0};
	const char *begin = text->text;
	for (int i = 1; i < c->line; i++)
		begin = strchr(begin, '\n') + 1;
	const char *end = strchr(begin, '\n');
	if (c->piece != NULL) {
		begin = strstr(begin, c->piece);
		ck_assert_msg(begin != NULL && begin < end, "no %s in line %d", c->piece, c->line);
		end = begin + strlen(c->piece);
	}
	rig_buffer_add_bytes(&result, text->text, (size_t)(begin - text->text));
	rig_buffer_add(&result, c->instead);
	rig_buffer_add(&result, end);
	return result;
}

static rig_hourly_year *read_fine(const rig_buffer *text, rig_diags *diags)
{
	rig_hourly_year *year = NULL;
	const rig_status status = rig_hourly_year_read(text->text, text->length, diags, &year);
	ck_assert_msg(status == RIG_OK, "%s",
		rig_diags_count(diags) > 0 ? rig_diags_at(diags, 0)->what : "");
	return year;
}

/* ---- reading ---- */

static void check_year(const rig_hourly_year *year)
{
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
}

START_TEST(every_figure_of_an_open_layout_is_in_its_hour)
{
	rig_buffer text = whole_year(&LAYOUT[_i], false);
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = read_fine(&text, diags);
	ck_assert_uint_eq(rig_diags_count(diags), 0);
	check_year(year);
	rig_hourly_year_free(year);
	rig_diags_free(diags);
	rig_buffer_free(&text);
}
END_TEST

/* Lines that end in CR LF, a byte order mark, no end of the last line. */
START_TEST(signs_of_other_systems_do_not_matter)
{
	rig_buffer text = whole_year(&LAYOUT[_i], false);
	rig_buffer other = {0};
	rig_buffer_add(&other, "\xEF\xBB\xBF");
	for (size_t i = 0; i + 1 < text.length; i++) {
		if (text.text[i] == '\n')
			rig_buffer_add(&other, "\r");
		rig_buffer_add_bytes(&other, &text.text[i], 1);
	}
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = read_fine(&other, diags);
	check_year(year);
	rig_hourly_year_free(year);
	rig_diags_free(diags);
	rig_buffer_free(&other);
	rig_buffer_free(&text);
}
END_TEST

/* 31 and 28 days before it: line n_head + 1 + 59 * 24. Its rows carry the figures of 1 March, so
 * that a reader that took them would not find them amiss by value. */
START_TEST(a_leap_day_is_passed_over_with_a_remark)
{
	rig_buffer text = whole_year(&LAYOUT[_i], true);
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = read_fine(&text, diags);
	check_year(year);
	ck_assert_uint_eq(rig_diags_count(diags), 1);
	ck_assert_uint_eq(rig_diags_faults(diags), 0);
	ck_assert(rig_diags_at(diags, 0)->severity == RIG_REMARK);
	ck_assert_uint_eq(
		rig_diags_at(diags, 0)->where.line, (size_t)(LAYOUT[_i].n_head + 1 + 59 * 24));
	rig_hourly_year_free(year);
	rig_diags_free(diags);
	rig_buffer_free(&text);
}
END_TEST

/* The last three columns of EPW are younger than the layout. */
START_TEST(an_epw_of_32_columns_is_read)
{
	rig_buffer text = whole_year(&LAYOUT[EPW], false);
	rig_buffer shorter = {0};
	const char tail[] = ",0.200,0.0,1.0\n";
	const char *at = text.text;
	for (const char *hit = strstr(at, tail); hit != NULL; hit = strstr(at, tail)) {
		rig_buffer_add_bytes(&shorter, at, (size_t)(hit - at));
		rig_buffer_add(&shorter, "\n");
		at = hit + strlen(tail);
	}
	rig_diags *diags = rig_diags_new();
	rig_hourly_year *year = read_fine(&shorter, diags);
	check_year(year);
	rig_hourly_year_free(year);
	rig_diags_free(diags);
	rig_buffer_free(&shorter);
	rig_buffer_free(&text);
}
END_TEST

/* ---- faults ---- */

/* TMY3: line 3 is 1 January, 01:00; "01/01/1976,01:00,0,0,0,1,13,0,1,9,0,1,13,-9900,-5.0,A,7".
 * EPW: line 9; "1976,1,1,1,0,?9?9?9,-5.0,-5.0,50,80000,0,0,300,0,0,0,0,...". */
static const struct {
	int layout;
	change what;
	size_t at_line, at_column;
	const char *says, *found;
} FAULT[] = {
	{TMY3, {3, "-5.0", "-9900"}, 3, 48, "a value is missing", "\"-9900\""},
	{TMY3, {3, "-5.0", ""}, 3, 48, "a value is missing", "\"\""},
	{TMY3, {3, "-5.0", "-5,0"}, 3, 1, "the line has too many values", NULL},
	{TMY3, {3, "-5.0", "70"}, 3, 48, "a value is odd", "\"70\""},
	{TMY3, {3, "01:00,0,0,0", "01:00,0,0,-9900"}, 3, 22, "a value is missing", "\"-9900\""},
	{TMY3, {3, "01:00,0,0,0", "01:00,0,0,-1"}, 3, 22, "a value is odd", "\"-1\""},
	{TMY3, {3, "01:00", "00:00"}, 3, 12, "a value is odd", "\"00:00\""},
	{TMY3, {3, "01:00", "25:00"}, 3, 12, "a value is odd", "\"25:00\""},
	{TMY3, {3, "01:00", "01:30"}, 3, 12, "a value is odd", "\"01:30\""},
	{TMY3, {3, "01:00", "0100"}, 3, 12, "a value is odd", "\"0100\""},
	{TMY3, {3, "01:00", "01:0"}, 3, 12, "a value is odd", "\"01:0\""},
	{TMY3, {3, "01:00", "-1:00"}, 3, 12, "a value is odd", "\"-1:00\""},
	{TMY3, {3, "01:00", ""}, 3, 12, "a value is missing", "\"\""},
	{TMY3, {3, "01/01/1976", "13/01/1976"}, 3, 1, "a value is odd", "\"13/01/1976\""},
	{TMY3, {3, "01/01/1976", "01/00/1976"}, 3, 1, "a value is odd", "\"01/00/1976\""},
	{TMY3, {3, "01/01/1976", "1976-01-01"}, 3, 1, "a value is odd", "\"1976-01-01\""},
	{TMY3, {3, "01/01/1976", "01/01/76"}, 3, 1, "a value is odd", "\"01/01/76\""},
	{TMY3, {3, "01/01/1976", "01/01"}, 3, 1, "a value is odd", "\"01/01\""},
	{TMY3, {3, "01/01/1976", "02/30/1976"}, 3, 1, "the month has no such day",
		"\"02/30/1976\""},
	{TMY3, {4, "02:00", "01:00"}, 4, 12, "the hour stands twice", "\"01:00\""},
	{TMY3, {2, "Dry-bulb (C)", "Dry-bulb (F)"}, 2, 1, "a column is missing", NULL},
	{TMY3, {2, "Time (HH:MM)", "Time"}, 2, 1, "a column is missing", NULL},
	{TMY3, {2, "DNI (W/m^2)", "DNI"}, 2, 1, "beam or diffuse light stands alone", NULL},
	{TMY3, {2, "ETR (W/m^2)", "GHI (W/m^2)"}, 2, 57, "the column stands twice",
		"\"GHI (W/m^2)\""},
	{TMY3, {1, "35.133", "95.133"}, 1, 33, "the file's figure of the place is odd",
		"\"95.133\""},
	{TMY3, {1, "-7.0", "MST"}, 1, 28, "the file's figure of the place is odd", "\"MST\""},
	{TMY3, {1, ",2132", ""}, 1, 1, "the line about the place is too short", NULL},
	{EPW, {9, "?9?9?9,-5.0", "?9?9?9,99.9"}, 9, 21, "a value is missing", "\"99.9\""},
	{EPW, {9, "300,0,0,0", "300,9999,0,0"}, 9, 48, "a value is missing", "\"9999\""},
	{EPW, {9, "300,0,0,0", "300,0,9999.,0"}, 9, 50, "a value is missing", "\"9999.\""},
	{EPW, {9, "300,0,0,0", "300,0,0,9999"}, 9, 52, "a value is missing", "\"9999\""},
	{EPW, {9, "300,0,0,0", "300,0,0,1201"}, 9, 52, "a value is odd", "\"1201\""},
	{EPW, {9, "1976,1,1,1", "1976,1,1,0"}, 9, 10, "a value is odd", "\"0\""},
	{EPW, {9, "1976,1,1,1", "1976,1,32,1"}, 9, 8, "a value is odd", "\"32\""},
	{EPW, {9, "1976,1,1,1", "1976,4,31,1"}, 9, 8, "the month has no such day", "\"31\""},
	{EPW, {9, ",0,88,0.200,0.0,1.0", ""}, 9, 1, "the line has too few values", NULL},
	{EPW, {9, "1.0\n", "1.0,\n"}, 9, 1, "the line has too many values", NULL},
	{EPW, {10, "1976,1,1,2", "1976,1,1,1"}, 10, 10, "the hour stands twice", "\"1\""},
	{EPW, {1, "-111.667", "longitude"}, 1, 50, "the file's figure of the place is odd",
		"\"longitude\""},
	{EPW, {1, ",2132.0", ""}, 1, 1, "the line about the place is too short", NULL},
	{EPW, {8, "1,1,Data", "2,1,Data"}, 8, 14, "the file has several periods", "\"2\""},
	{EPW, {8, "1,1,Data", "1,4,Data"}, 8, 16, "the file has not one record an hour", "\"4\""},
	{EPW, {8, ",1,1,Data,Sunday, 1/ 1,12/31", ""}, 8, 13, "the file has several periods",
		"\"\""},
	{EPW, {4, "GROUND TEMPERATURES", "GROUND"}, 4, 1, "a line of the head is missing",
		"\"GROUND\""},
	{EPW, {8, "DATA PERIODS", "1976"}, 8, 1, "a line of the head is missing", "\"1976\""},
};

static bool says(rig_diags *diags, int fault)
{
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *d = rig_diags_at(diags, i);
		ck_assert_msg(d->mend[0] != '\0', "%s", d->what);
		if (strcmp(d->what, FAULT[fault].says) == 0 &&
			d->where.line == FAULT[fault].at_line &&
			d->where.column == FAULT[fault].at_column &&
			(FAULT[fault].found == NULL || strcmp(d->found, FAULT[fault].found) == 0))
			return true;
	}
	return false;
}

START_TEST(a_fault_of_an_open_layout_is_said_with_its_place)
{
	rig_buffer text = whole_year(&LAYOUT[FAULT[_i].layout], false);
	rig_buffer faulty = changed(&text, &FAULT[_i].what);
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_hourly_year_read(faulty.text, faulty.length, diags, &year), RIG_BAD_INPUT);
	ck_assert_ptr_null(year);
	ck_assert_msg(says(diags, _i), "%s: said %s at %zu:%zu, %s", FAULT[_i].says,
		rig_diags_at(diags, 0)->what, rig_diags_at(diags, 0)->where.line,
		rig_diags_at(diags, 0)->where.column, rig_diags_at(diags, 0)->found);
	rig_diags_free(diags);
	rig_buffer_free(&faulty);
	rig_buffer_free(&text);
}
END_TEST

START_TEST(a_missing_hour_is_named)
{
	rig_buffer text = whole_year(&LAYOUT[_i], false);
	/* the last line: 31 December, 24 h */
	rig_buffer shorter = {0};
	const char *end = text.text + text.length - 1;
	while (end[-1] != '\n')
		end--;
	rig_buffer_add_bytes(&shorter, text.text, (size_t)(end - text.text));
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(
		rig_hourly_year_read(shorter.text, shorter.length, diags, &year), RIG_BAD_INPUT);
	ck_assert_str_eq(rig_diags_at(diags, 0)->what,
		"1 of 8760 hours are missing, the first is hour 24 of month 12, day 31");
	rig_diags_free(diags);
	rig_buffer_free(&shorter);
	rig_buffer_free(&text);
}
END_TEST

/* Cut anywhere in its first lines, a text is refused and nothing is read beyond it: the text is
 * copied so that a sanitizer sees its end. */
START_TEST(a_text_cut_short_is_refused)
{
	for (size_t length = 0; length < 700; length++) {
		rig_buffer text = {0};
		rig_buffer_add(&text, LAYOUT[_i].head);
		LAYOUT[_i].add_row(&text, 0, 0, 0);
		rig_buffer cut = {0};
		rig_buffer_add_bytes(&cut, text.text, length < text.length ? length : text.length);
		rig_hourly_year *year = NULL;
		rig_diags *diags = rig_diags_new();
		ck_assert_int_eq(rig_hourly_year_read(cut.text == NULL ? "" : cut.text, cut.length,
					 diags, &year),
			RIG_BAD_INPUT);
		ck_assert_uint_ge(rig_diags_faults(diags), 1);
		rig_diags_free(diags);
		rig_buffer_free(&cut);
		rig_buffer_free(&text);
	}
}
END_TEST

Suite *open_years_suite(void);
Suite *open_years_suite(void)
{
	Suite *suite = suite_create("open_years");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, every_figure_of_an_open_layout_is_in_its_hour, 0, N_LAYOUTS);
	tcase_add_loop_test(all, signs_of_other_systems_do_not_matter, 0, N_LAYOUTS);
	tcase_add_loop_test(all, a_leap_day_is_passed_over_with_a_remark, 0, N_LAYOUTS);
	tcase_add_test(all, an_epw_of_32_columns_is_read);
	tcase_add_loop_test(all, a_fault_of_an_open_layout_is_said_with_its_place, 0, COUNT(FAULT));
	tcase_add_loop_test(all, a_missing_hour_is_named, 0, N_LAYOUTS);
	tcase_add_loop_test(all, a_text_cut_short_is_refused, 0, N_LAYOUTS);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
