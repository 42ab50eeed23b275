/* SPDX-License-Identifier: GPL-3.0-or-later */
/* climate.h: the insides of a climate: what is worked out once for each month, and the hours of one
 * calendar day from a clearness. */
#ifndef WEATHER_CLIMATE_H
#define WEATHER_CLIMATE_H

#include "weather/daylight.h"
#include "weather/draws.h"

/* The table of clearness runs over a standard normal figure from -4 to 4 in steps of 1/32; the ends
 * stand for all that lies beyond (6 days in 100,000). Linear between: within 0.0005. */
enum { CLIMATE_NODES = 257, CLIMATE_NODES_PER_UNIT = 32, CLIMATE_NODE_ORIGIN = 128 };

/* Mean energy outside the air below which a month has no sun to speak of. */
#define CLIMATE_DARK_WH_M2 250.0

/* A day's figure of the sky is day_part * y + month_part * m, of its air x: y and x are first-order
 * sequences with correlated steps, m is drawn once a month; all are standard normal. */
typedef struct {
	bool dark;             /* no sun to speak of: every day gets the month's mean */
	double mean_clearness; /* 0 where there is nothing outside the air either */
	double sunset_rad;     /* of the mean day */
	double diffuse_factor; /* on the daily diffuse share, so that the month's comes out */
	double clearness[CLIMATE_NODES];
	double day_part, month_part; /* squares sum to 1 */
	double link, fresh;          /* y: of the day before, of the day's own figure */
	double air_link, air_fresh;  /* the same for x */
	double shared, apart; /* x's own figure: of y's, of one apart from it; squares sum to 1 */
	double first_shared, first_apart; /* the same on a first day */
	double air_sd_k;
} climate_month;

struct rig_climate {
	rig_climate_facts facts;
	bool laid[12];
	climate_month months[12];
	normal_table normals;
};

/* Energy on the horizontal outside the air in a day, Wh/m2. */
double climate_top_wh_m2(const daylight *light);

#define CLIMATE_MONTH_DAYS (RIG_YEAR_DAYS / 12.0)

/* The variance of the mean of a month's days with a memory, over that of a day by their number:
 * (1 + r) / (1 - r) - 2 r (1 - r^n) / (n (1 - r)^2). */
double climate_mean_variances(double memory);

void climate_set_month(const rig_climate_facts *facts, int month, climate_month *sky);

/* Clearness of a standard normal figure. */
static inline double climate_clearness(const climate_month *sky, double figure)
{
	const double last = CLIMATE_NODES - 1;
	double position = figure * CLIMATE_NODES_PER_UNIT + CLIMATE_NODE_ORIGIN;
	position = position > 0 ? position : 0;
	position = position < last ? position : last;
	int node = (int)position;
	node = node < CLIMATE_NODES - 2 ? node : CLIMATE_NODES - 2;
	const double low = sky->clearness[node];
	return low + (position - node) * (sky->clearness[node + 1] - low);
}

/* A calendar day: all of it that does not hang on its clearness. */
typedef struct {
	const rig_climate *climate;
	const climate_month *sky;
	int month;
	daylight light;
	double top_wh_m2;
	daylight_shape shape;
	double wave[RIG_DAY_HOURS]; /* of the temperature: 0 at the low, 1 at the high */
} climate_day;

void climate_day_begin(const rig_climate *climate, int day_of_year, climate_day *day);
/* Light and temperature of the hours at a clearness, on a day as warm as the month. */
void climate_day_hours(const climate_day *day, double clearness, rig_day_hours *hours);

#endif
