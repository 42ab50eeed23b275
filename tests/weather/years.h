/* SPDX-License-Identifier: GPL-3.0-or-later */
/* years.h: the four hourly years beside the checkout, and what is counted in a year. */
#ifndef YEARS_H
#define YEARS_H

#include "rigbudget/weather.h"

enum { N_YEAR_FILES = 4 };
extern const char *const YEAR_FILE[N_YEAR_FILES];

/* NULL, with a word printed: there is no data folder. */
rig_hourly_year *year_beside(const char *file);

/* Outside the air in a day, kWh/m2. */
double top_kwh(double latitude_deg, int day);

/* Monthly means and spreads of a figure of the days of a year, and its lag-one correlation within
 * months. */
typedef struct {
	double mean[12], variance[12], lag_one;
} moments;

moments moments_of(const double day[RIG_YEAR_DAYS]);
/* Of the daily clearness of a year. */
moments sky_of(const rig_hourly_year *year);
/* Monthly light, kWh/m2 a day. */
void light_of(const rig_hourly_year *year, double month[12]);

/* A flat panel of some watts, a bank and an even load, hour by hour: cell at 45 C in 800 W/m2 and
 * 20 C air, 0.4 % a kelvin, 0.85 after losses, nine tenths of a charge kept, full on 1 January. */
typedef struct {
	double panel_w, bank_wh, load_wh_day;
} small_coach;

/* Days with any shortage. */
int short_days(
	const small_coach *coach, const double ghi_wm2[RIG_YEAR_HOURS], const double temp_c[]);

#endif
