/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>

#include "rigbudget/sun.h"
#include "rigbudget/weather.h"

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
