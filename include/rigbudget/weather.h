/* SPDX-License-Identifier: GPL-3.0-or-later */
/* weather.h: the sun and the air over a place, hour by hour: a real year from a file, the mean day
 * of a month, and synthetic days with the place's mean, spread and day-to-day memory.
 * Months are 0 to 11, days of the year 0 to 364 (no leap day), hours 0 to 23 begin then, all in the
 * place's local standard time. Knows places and sky; knows nothing of coaches. */
#ifndef RIG_WEATHER_H
#define RIG_WEATHER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "rigbudget/diag.h"
#include "rigbudget/place.h"

enum { RIG_DAY_HOURS = 24, RIG_YEAR_DAYS = 365, RIG_YEAR_HOURS = 8760 };

/* The month that a day of the year lies in; day 0 to 364. */
int rig_month_of_day(int day_of_year);
/* Day of the year of the first day of a month, and how many days the month has. */
int rig_month_first_day(int month);
int rig_month_n_days(int month);
/* The day of a month whose extraterrestrial sun is nearest to the month's mean: [KLEIN-1977]. */
int rig_month_mean_day(int month);

/* ---- a real year ---- */

/* Index day_of_year * 24 + hour. Irradiance is the mean over the hour that begins then; the
 * temperature is the file's figure in that hour's row. */
typedef struct {
	bool located;         /* the file said where; else the four figures are 0 */
	double latitude_deg;  /* north positive */
	double longitude_deg; /* east positive */
	double elevation_m;   /* 0 if the file gives none */
	double utc_offset_h;
	bool has_beam; /* the file had dni and dhi; else both are 0 throughout */
	double ghi_wm2[RIG_YEAR_HOURS];
	double dni_wm2[RIG_YEAR_HOURS];
	double dhi_wm2[RIG_YEAR_HOURS];
	double temp_c[RIG_YEAR_HOURS];
} rig_hourly_year;

/* Reads comma-separated text of one year. Lines that begin with # are comments; words in them such
 * as `latitude 35.1 deg`, `longitude -111.7 deg`, `elevation 2132 m`, `UTC-7` set the place. The
 * first other line names the columns in any order: month, day, hour (1 to 24, the hour that ends
 * then), ghi_w_m2, temp_c, and dni_w_m2 with dhi_w_m2 or neither; columns with other names are
 * passed over. Every hour of a 365-day year stands exactly once, in any order.
 * RIG_BAD_INPUT: each fault (a missing or odd value, an hour missing or twice, 29 February) is in
 * diags with line and column. RIG_NO_MEMORY. *year is untouched unless RIG_OK; free it with
 * rig_hourly_year_free. */
rig_status rig_hourly_year_read(
	const char *text, size_t length, rig_diags *diags, rig_hourly_year **year);
void rig_hourly_year_free(rig_hourly_year *year);

/* ---- one day, hour by hour ---- */

/* Irradiance and temperature are means over the hour. The sun's place is that at the middle of the
 * part of the hour with the sun up, so that an hour with any sun has cos_zenith > 0; an hour
 * without has 0. */
typedef struct {
	double ghi_wm2[RIG_DAY_HOURS];
	double dhi_wm2[RIG_DAY_HOURS];
	double temp_c[RIG_DAY_HOURS];
	double cos_zenith[RIG_DAY_HOURS];
	double azimuth_rad[RIG_DAY_HOURS];          /* from north, east positive, 0 to 2 pi */
	double extraterrestrial_wm2[RIG_DAY_HOURS]; /* on the horizontal, mean over the hour */
	double normal_wm2;                          /* outside the air, facing the sun */
} rig_day_hours;

/* The mean day of a month: the 24 values of ghi and dhi sum to the place's monthly figures exactly.
 * Hours from the day: global by [COLLARES-1979], diffuse by [LIU-1960] and nowhere above global,
 * integrated over the sunlit part of each hour and scaled to the sum. Temperature: a sine from the
 * mean low at sunrise through the mean high two hours after noon, falling by night [PARTON-1981],
 * bent so that the day's mean is the place's; within 2.5 K of the mean hours of four typical years.
 * Left out: cloud in runs; a mean day never runs a bank empty that real days would. Where the sun
 * does not rise on the mean day, what light the table has (twilight, and the month's sunlit end) is
 * spread over the three hours about noon, all diffuse. */
void rig_mean_day(const rig_place *place, int month, rig_day_hours *hours);

/* How a collecting plane is mounted, and how its sky is taken. */
typedef struct {
	double tilt_rad;    /* 0 flat, pi/2 upright */
	double heading_rad; /* where it faces, from north, east positive */
	double albedo_frac; /* of the ground about it; 0.2 is usual */
	bool isotropic;     /* diffuse alike from all the sky [LIU-1960]; else [HAY-1980] */
} rig_mount;

/* Light on a plane, W/m2, mean over each hour. A flat plane gets exactly ghi. The beam is what the
 * horizontal gets of it over cos_zenith, but never more than outside the air: near sunrise the
 * ratio of two small figures means nothing. */
void rig_day_on_plane(
	const rig_day_hours *hours, const rig_mount *plane, double plane_wm2[RIG_DAY_HOURS]);
/* The same for a real year. RIG_BAD_INPUT: the plane is not flat and the year has no place or no
 * beam; plane_wm2 is untouched. */
rig_status rig_year_on_plane(
	const rig_hourly_year *year, const rig_mount *plane, double plane_wm2[RIG_YEAR_HOURS]);

/* ---- synthetic days ---- */

/* Which random days: one stream a trip, so that the answer does not depend on the order or the
 * thread in which trips are worked. */
typedef struct {
	uint64_t seed;
	uint64_t trip;
} rig_stream;

/* A day of a synthetic trip. */
typedef struct {
	int day_of_year;
	double clearness; /* daily clearness index: day's global / extraterrestrial */
	double warmth_k;  /* how far the day's mean temperature is from the month's */
} rig_day;

/* What a climate is made from. */
typedef struct {
	rig_place place;
	double memory;        /* lag-one correlation of the daily clearness, 0 to 0.9 */
	double temp_sd_k[12]; /* day-to-day spread of the day's mean temperature */
	double temp_memory;   /* its lag-one correlation, 0 to 0.95 */
} rig_climate_facts;

/* The place with what the table does not hold: a memory of 0.29 [GRAHAM-1988] (over 1,020 places
 * the middle is 0.30, nine in ten lie within 0.17 and 0.43), and a spread of temperature that grows
 * with the year's swing and is widest in the coldest month, 0.6 to 1.7 K + 0.085 to 0.12 of the
 * swing, memory 0.7: fitted to four typical years, within 1.5 K in 44 of their 48 months. */
void rig_climate_facts_of_place(const rig_place *place, rig_climate_facts *facts);
/* The same from a real year, with its own memory and spread.
 * RIG_BAD_INPUT: the year has no place or no beam; facts are untouched. */
rig_status rig_climate_facts_of_year(const rig_hourly_year *year, rig_climate_facts *facts);

/* The weather of a place as distributions, compiled once. */
typedef struct rig_climate rig_climate;

/* Daily clearness of a month: a beta distribution between 0.05 and the clearest day that the place
 * can have (Ineichen's sky with a Linke turbidity of 2, or 1.1 spreads above the mean if that is
 * more), whose mean and spread are those of the place; families with one figure [BENDT-1981] fix
 * the spread by the mean, and moving their upper end to match it cuts off clear days that the
 * four typical years have. Days follow each other as a Gaussian first-order sequence mapped through
 * that distribution, so that the clearness keeps the memory [GRAHAM-1988].
 * A month with less than 0.25 kWh/m2 a day outside the air, where the index means nothing, gets its
 * mean light every day. Left out: that a coming month strays from its long mean; that warm and
 * clear days go together. NULL when memory is out. */
rig_climate *rig_climate_new(const rig_place *place); /* rig_climate_facts_of_place */
rig_climate *rig_climate_of_facts(const rig_climate_facts *facts);
void rig_climate_free(rig_climate *climate);

/* n_days days in a row from first_day (0 to 364; goes on after the last day of the year with the
 * first). The first day is drawn from the long-run distribution. */
void rig_climate_days(const rig_climate *climate, rig_stream stream, int first_day, size_t n_days,
	rig_day days[]);

/* The hours of a synthetic day: global as on a mean day, diffuse share of the day by [ERBS-1982]
 * scaled so that the month's diffuse is the place's. Left out: cloud that changes within the day.*/
void rig_climate_hours(const rig_climate *climate, const rig_day *day, rig_day_hours *hours);

/* Where the sun stands and what the top of the air gets on a day: fills cos_zenith,
 * azimuth_rad, extraterrestrial_wm2 and normal_wm2, the rest is 0. */
void rig_sun_hours(const rig_place *place, int day_of_year, rig_day_hours *hours);

/* ---- random numbers ---- */

/* Four 32-bit words from a key and a counter: Philox 4x32, 10 rounds [SALMON-2011]. */
void rig_philox(const uint32_t key[2], const uint32_t counter[4], uint32_t words[4]);
/* Standard normal figure of a probability, 0 < p < 1, to 1e-15 relative: [WICHURA-1988]. */
double rig_normal_quantile(double p);

#endif
