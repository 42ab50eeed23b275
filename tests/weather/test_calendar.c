/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/weather.h"

#include "outside.h"
#include "suites.h"

/* The calendar of a common year. */
static const outside_series MEAN_DAYS = {
	"weather", "Mean day of a month, day of the year", "[KLEIN-1977]; from memory", "exact"};
static const struct {
	int n_days, mean_day;
} MONTH[12] = {{31, 17}, {28, 47}, {31, 75}, {30, 105}, {31, 135}, {30, 162}, {31, 198}, {31, 228},
	{30, 258}, {31, 288}, {30, 318}, {31, 344}};

START_TEST(months_are_those_of_a_common_year)
{
	int first = 0;
	for (int m = 0; m < 12; m++) {
		ck_assert_int_eq(rig_month_first_day(m), first);
		ck_assert_int_eq(rig_month_n_days(m), MONTH[m].n_days);
		OUTSIDE(&MEAN_DAYS, rig_month_mean_day(m) + 1, MONTH[m].mean_day, 0, "month %d",
			m + 1);
		for (int day = first; day < first + MONTH[m].n_days; day++)
			ck_assert_int_eq(rig_month_of_day(day), m);
		first += MONTH[m].n_days;
	}
	ck_assert_int_eq(first, RIG_YEAR_DAYS);
}
END_TEST

Suite *calendar_suite(void);
Suite *calendar_suite(void)
{
	Suite *suite = suite_create("calendar");
	TCase *all = tcase_create("all");
	tcase_add_test(all, months_are_those_of_a_common_year);
	suite_add_tcase(suite, all);
	return suite;
}
