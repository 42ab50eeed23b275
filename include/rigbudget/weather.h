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

/* Reads the text of one year in any of three layouts, told apart by the text itself:
 *
 * TMY3 [TMY3], when the second line has a cell `Date (MM/DD/YYYY)`. First line: station number,
 * name, state, hours from Greenwich, latitude, longitude, elevation in metres. Second: column
 * names; read are `Date (MM/DD/YYYY)`, `Time (HH:MM)` (01:00 to 24:00, the hour that ends then),
 * `GHI (W/m^2)`, `DNI (W/m^2)`, `DHI (W/m^2)`, `Dry-bulb (C)`, in any order.
 *
 * EPW [EPW], when the text begins with LOCATION. Eight lines LOCATION, DESIGN CONDITIONS,
 * TYPICAL/EXTREME PERIODS, GROUND TEMPERATURES, HOLIDAYS/DAYLIGHT SAVINGS, COMMENTS 1, COMMENTS 2,
 * DATA PERIODS; then rows of 32 to 35 cells: 1 year, 2 month, 3 day, 4 hour (1 to 24, the hour that
 * ends then), 7 dry bulb, 14 global, 15 beam, 16 diffuse. One period of one record an hour.
 *
 * Our own otherwise. Lines that begin with # are comments; words in them such
 * as `latitude 35.1 deg`, `longitude -111.7 deg`, `elevation 2132 m`, `UTC-7` set the place. The
 * first other line names the columns in any order: month, day, hour (1 to 24, the hour that ends
 * then), ghi_w_m2, temp_c, and dni_w_m2 with dhi_w_m2 or neither; columns with other names are
 * passed over.
 *
 * In all of them every hour of a 365-day year stands exactly once, in any order; the years of the
 * rows are not read, since a typical year takes each month from another one. 29 February is passed
 * over with a remark in TMY3 and EPW, and is a fault in our own layout. A value that is missing by
 * its layout's mark (-9900 in TMY3; 99.9 C and 9999 W/m2 in EPW) is a fault: nothing is filled in.
 * RIG_BAD_INPUT: each fault (a missing or odd value, an hour missing or twice) is in diags with
 * line, column and remedy. RIG_NO_MEMORY. *year is untouched unless RIG_OK; free it with
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
	double temp_sd_k[12]; /* spread of the day's mean temperature about its own month's */
	double temp_memory;   /* its lag-one correlation, 0 to 0.95 */
	/* How far one year's month of sun strays from its long mean, one standard deviation over
	 * the mean, 0 to 0.3. What the run of single days brings of it by itself is taken off; the
	 * rest is a figure of the whole month, drawn once a trip and calendar month. 0: no such
	 * figure, for comparison with one real year. */
	double month_scatter_frac;
	double month_memory;   /* correlation of that figure with the month before, 0 to 0.9 */
	double warm_clear[12]; /* correlation of a day's mean temperature with its clearness, -0.8
				  to 0.8 */
	double swing_per_clearness; /* how much wider the day's temperature swings, as a share of
				       its mean swing, for each unit of clearness above the month's;
				       0 to 3 */
} rig_climate_facts;

/* The place with what the table does not hold: a memory of 0.29 [GRAHAM-1988] (over 1,020 places
 * the middle is 0.30, nine in ten lie within 0.17 and 0.43), and a spread of temperature that grows
 * with the year's swing and is widest in the coldest month, 0.6 to 1.7 K + 0.085 to 0.12 of the
 * swing, memory 0.7: fitted to four typical years, within 1.5 K in 44 of their 48 months.
 * Clear days are warmer in warm months and colder in cold ones: a correlation of 0.5 in
 * the warmest and -0.25 in the coldest month, along a straight line of the month's mean, and a
 * daily swing 1.3 of its mean wider for each unit of clearness; both fitted to the same four years
 * (single months scatter by 0.28 about the line, 0.18 of which is what 30 days leave open; swings
 * 0.9 to 1.7). The month's scatter is the place's; months are independent. */
void rig_climate_facts_of_place(const rig_place *place, rig_climate_facts *facts);
/* The same from a real year, with its own memory, spread and correlation; and without a scatter of
 * the month, which one year cannot show: for a year to come set month_scatter_frac to the likely
 * rig_month_scatter_frac.
 * RIG_BAD_INPUT: the year has no place or no beam; facts are untouched. */
rig_status rig_climate_facts_of_year(const rig_hourly_year *year, rig_climate_facts *facts);

/* The weather of a place as distributions, compiled once. */
typedef struct rig_climate rig_climate;

/* Calendar days in a row; after the last day of the year comes the first. */
typedef struct {
	int first_day; /* 0 to 364 */
	size_t n_days; /* 1 to 366 */
} rig_stay;

/* Daily clearness of a month: a beta distribution between 0.05 and the clearest day that the place
 * can have (Ineichen's sky with a Linke turbidity of 2, or 1.1 spreads above the mean if that is
 * more), whose mean and spread are those of the place; families with one figure [BENDT-1981] fix
 * the spread by the mean, and moving their upper end to match it cuts off clear days that the
 * four typical years have. Days follow each other as a Gaussian first-order sequence mapped through
 * that distribution, so that the clearness keeps the memory [GRAHAM-1988].
 * The month strays from its long mean inside that distribution: a month's normal figure and the
 * day's are mixed, so that every day keeps within its bounds, the long mean is kept and the days
 * spread about their own month's mean as the place's do.
 * A month with less than 0.25 kWh/m2 a day outside the air, where the index means nothing, gets its
 * mean light every day. NULL when memory is out. */
rig_climate *rig_climate_new(const rig_place *place); /* rig_climate_facts_of_place */
rig_climate *rig_climate_of_facts(const rig_climate_facts *facts);
/* The same with the months of a stay only, for whoever asks for no other days; they are those of
 * the whole climate to the last bit. */
rig_climate *rig_climate_of_stay(const rig_climate_facts *facts, const rig_stay *stay);
/* Adds the months of another stay. */
void rig_climate_extend(rig_climate *climate, const rig_stay *stay);
/* Turns a climate into rig_climate_of_stay's of other facts, for less than a new one. */
void rig_climate_move(rig_climate *climate, const rig_climate_facts *facts, const rig_stay *stay);
void rig_climate_free(rig_climate *climate);

/* n_days days in a row from first_day (0 to 364; goes on after the last day of the year with the
 * first). The first day is drawn from the long-run distribution. */
void rig_climate_days(const rig_climate *climate, rig_stream stream, int first_day, size_t n_days,
	rig_day days[]);

/* The clearness of the days of a stay on trips 0 to n_trips - 1 of a seed, clearness[day * n_trips
 * + trip]: that of rig_climate_days on each. */
void rig_climate_stays(const rig_climate *climate, uint64_t seed, const rig_stay *stay,
	size_t n_trips, double clearness[]);

/* The hours of a synthetic day: global as on a mean day, diffuse share of the day by [ERBS-1982]
 * scaled so that the month's diffuse is the place's; temperature as on a mean day, moved by the
 * day's warmth and swinging wider the clearer it is. Left out: cloud that changes within the day.*/
void rig_climate_hours(const rig_climate *climate, const rig_day *day, rig_day_hours *hours);
/* The same of n days that are one day of the year, as warm as the month, under other skies. */
void rig_climate_skies(const rig_climate *climate, int day_of_year, size_t n,
	const double clearness[], rig_day_hours hours[]);

/* ---- real days in another order ---- */

/* Days that are taken in one run; the first run of a trip is shorter by chance, so that seams do
 * not fall on the same days of all trips. */
#define RIG_REPLAY_RUN_DAYS 10

/* Which days of a real year stand for n_days days from first_day (0 to 364): a bootstrap of runs
 * [KUNSCH-1989]. Each run starts on any day of the same month, all alike likely, and goes round the
 * month's end to its beginning; a new month starts a new run, as it does in a typical year. So
 * every day of a month comes as often as any other, at most 15 days away round the month. Seams
 * cost memory: 13 pairs in 100 are of days that did not follow each other, which takes as much off
 * the lag-one correlation. Left out: that a coming month strays from the one in the file by more
 * than its own days do. */
void rig_replay_days(rig_stream stream, int first_day, size_t n_days, int source_day[]);

/* ---- the same for many trips: tables made once, days drawn side by side ---- */

/* The days of a stay with all the weather that they may have. */
typedef struct rig_outlook rig_outlook;

/* Knots stand evenly over the clearness that the days of a month can have, between 2 and 129 of
 * them; each knot is rig_climate_hours of that clearness on that calendar day. A straight line
 * between knots is exact for global light and, but where the swing is at its least, for
 * temperature; for diffuse light between 33 knots it is within 0.3 W/m2 in the mean, 15 where the
 * published share jumps. The climate is kept, not copied: free it later. RIG_NO_MEMORY. *outlook is
 * untouched unless RIG_OK. */
rig_status rig_outlook_new(
	const rig_climate *climate, const rig_stay *stay, size_t n_knots, rig_outlook **outlook);
/* Real days by rig_replay_days: knot k, of 31, is day k of the calendar day's month (its last day
 * for k beyond it), its light by the ratio of the light outside the air on the two days, its
 * temperature by the difference of the months' means (straight lines between the middles of
 * months). Positions are whole numbers. The beam is taken from global less diffuse light. The year
 * is not kept. RIG_BAD_INPUT: the year has no place or no beam. RIG_NO_MEMORY. */
rig_status rig_outlook_of_year(
	const rig_hourly_year *year, const rig_stay *stay, rig_outlook **outlook);
void rig_outlook_free(rig_outlook *outlook);

/* Index (day * 24 + hour) * n_knots + knot; belongs to the outlook. */
typedef struct {
	size_t n_days, n_knots;
	const double *ghi_wm2, *dhi_wm2;
	const double *temp_c; /* a trip's day is that plus its warmth_k */
} rig_outlook_hours;
rig_outlook_hours rig_outlook_table(const rig_outlook *outlook); /* belongs to it */
/* rig_day_on_plane of each day and knot, to rounding, by the same index. */
void rig_outlook_on_plane(const rig_outlook *outlook, const rig_mount *plane, double plane_wm2[]);

/* Which trips are drawn, and where they go: trip first_trip + lane to [day * stride + lane]. */
typedef struct {
	uint64_t seed;
	uint64_t first_trip;
	size_t n_lanes; /* 1 to stride */
	size_t stride;
} rig_lanes;

/* Draws the days of trips: position between the knots, 0 to n_knots - 1, and warmth, K. A trip is
 * that of rig_climate_days or rig_replay_days with its stream, to the last bit of clearness and
 * warmth, whatever other trips are drawn with it. Only sums, products, square roots and table
 * look-ups of IEEE 754 doubles: no function of the C library that may differ in its last bit. */
void rig_outlook_draw(
	const rig_outlook *outlook, const rig_lanes *lanes, double position[], double warmth_k[]);

/* Where the sun stands and what the top of the air gets on a day: fills cos_zenith,
 * azimuth_rad, extraterrestrial_wm2 and normal_wm2, the rest is 0. */
void rig_sun_hours(const rig_place *place, int day_of_year, rig_day_hours *hours);

/* ---- random numbers ---- */

/* Four 32-bit words from a key and a counter: Philox 4x32, 10 rounds [SALMON-2011]. The days are
 * drawn with the seed as key and the counter {trip low, trip high, block, kind}, kind 0 to 2: other
 * draws of the same trip take a kind of 256 or more and are independent of the weather. */
void rig_philox(const uint32_t key[2], const uint32_t counter[4], uint32_t words[4]);
/* Standard normal figure of a probability, 0 < p < 1, to 1e-15 relative: [WICHURA-1988]. Of IEEE
 * 754 arithmetic alone: the same bits everywhere. */
double rig_normal_quantile(double p);

#endif
