/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "years.h"

#include <check.h>
#include <math.h>
#include <stdio.h>

#include "base/buffer.h"
#include "base/file.h"
#include "rigbudget/sun.h"

const char *const YEAR_FILE[N_YEAR_FILES] = {
	"flagstaff-az.csv", "miami-fl.csv", "minneapolis-mn.csv", "seattle-wa.csv"};

rig_hourly_year *year_beside(const char *file)
{
	char path[500];
	rig_buffer text = {0};
	rig_hourly_year *year = NULL;
	rig_diags *diags = rig_diags_new();
	(void)snprintf(path, sizeof path, RIG_SOURCE_DIR "/../shared/data/hourly/%s", file);
	if (rig_file_read(path, 4000000, &text, diags) != RIG_OK)
		(void)printf("skipped: no data folder beside the checkout\n");
	else
		ck_assert_int_eq(
			rig_hourly_year_read(text.text, text.length, diags, &year), RIG_OK);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return year;
}

double top_kwh(double latitude_deg, int day)
{
	const rig_sun sun = rig_sun_at(rig_julian_day(2026, 0, 1, 24 * day + 12));
	return rig_sun_day_wh_m2(latitude_deg * 3.14159265358979323846 / 180, sun.declination_rad,
		       rig_sun_normal_wm2(sun.distance_au)) /
	       1000;
}

moments moments_of(const double day[RIG_YEAR_DAYS])
{
	moments m = {{0}, {0}, 0};
	double products = 0;
	double squares = 0;
	for (int month = 0; month < 12; month++) {
		const double *of = day + rig_month_first_day(month);
		const int n = rig_month_n_days(month);
		for (int i = 0; i < n; i++)
			m.mean[month] += of[i] / n;
		double own = 0;
		for (int i = 0; i < n; i++) {
			own += pow(of[i] - m.mean[month], 2);
			if (i > 0)
				products += (of[i] - m.mean[month]) * (of[i - 1] - m.mean[month]);
		}
		squares += own;
		m.variance[month] = own / (n - 1);
	}
	m.lag_one = products / squares;
	return m;
}

moments sky_of(const rig_hourly_year *year)
{
	double clearness[RIG_YEAR_DAYS] = {0};
	for (int i = 0; i < RIG_YEAR_HOURS; i++)
		clearness[i / RIG_DAY_HOURS] += year->ghi_wm2[i] / 1000;
	for (int i = 0; i < RIG_YEAR_DAYS; i++)
		clearness[i] /= top_kwh(year->latitude_deg, i);
	return moments_of(clearness);
}

void light_of(const rig_hourly_year *year, double month[12])
{
	for (int m = 0; m < 12; m++)
		month[m] = 0;
	for (int i = 0; i < RIG_YEAR_HOURS; i++) {
		const int m = rig_month_of_day(i / RIG_DAY_HOURS);
		month[m] += year->ghi_wm2[i] / 1000 / rig_month_n_days(m);
	}
}

int short_days(
	const small_coach *coach, const double ghi_wm2[RIG_YEAR_HOURS], const double temp_c[])
{
	double kept_wh = coach->bank_wh;
	int days = 0;
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		bool is_short = false;
		for (int i = day * RIG_DAY_HOURS; i < (day + 1) * RIG_DAY_HOURS; i++) {
			const double cell_c = temp_c[i] + 25.0 / 800 * ghi_wm2[i];
			const double net_wh = coach->panel_w * ghi_wm2[i] / 1000 *
						      (1 - 0.004 * (cell_c - 25)) * 0.85 -
					      coach->load_wh_day / 24;
			kept_wh += net_wh > 0 ? 0.9 * net_wh : net_wh;
			is_short = is_short || kept_wh < 0;
			kept_wh = fmax(0, fmin(coach->bank_wh, kept_wh));
		}
		days += is_short;
	}
	return days;
}
