/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>

#include "rigbudget/sun.h"
#include "rigbudget/weather.h"
#include "weather/calendar.h"

static const int FIRST_DAY[13] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};

int rig_month_of_day(int day_of_year)
{
	assert(day_of_year >= 0 && day_of_year < RIG_YEAR_DAYS);
	int month = 0;
	while (day_of_year >= FIRST_DAY[month + 1])
		month++;
	return month;
}

int rig_month_first_day(int month)
{
	assert(month >= 0 && month < 12);
	return FIRST_DAY[month];
}

int rig_month_n_days(int month)
{
	assert(month >= 0 && month < 12);
	return FIRST_DAY[month + 1] - FIRST_DAY[month];
}

int rig_month_mean_day(int month)
{
	return rig_sun_mean_day(month) - 1;
}

double calendar_normal(const double months[12], int day_of_year)
{
	const int month = rig_month_of_day(day_of_year);
	const double middle = rig_month_n_days(month) / 2.0;
	const double since = day_of_year + 0.5 - rig_month_first_day(month) - middle;
	const int next = (month + (since < 0 ? 11 : 1)) % 12;
	const double apart = middle + rig_month_n_days(next) / 2.0;
	return months[month] + fabs(since) / apart * (months[next] - months[month]);
}
