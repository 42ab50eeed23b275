/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "rigbudget/irradiance.h"
#include "weather/daylight.h"

/* The usual lowest clearness of a day [HOLLANDS-1983]. */
static const double DARKEST_CLEARNESS = 0.05;
/* Air without a trace of haze; the clearest days of four typical years come to it. */
static const double CLEAREST_TURBIDITY = 2;
static const double SPREADS_ABOVE_MEAN = 1.1;
/* Mean energy outside the air below which a month has no sun to speak of. */
static const double DARK_WH_M2 = 250;

/* The quantile table runs over a standard normal figure from -4 to 4 in steps of 1/32; the ends
 * stand for all that lies beyond (6 days in 100,000). Linear between: within 0.0005. */
enum { N_NODES = 257, NODES_PER_UNIT = 32, NODE_ORIGIN = 128 };
/* Cells in which the beta distribution is summed up. */
enum { N_CELLS = 1024 };

typedef struct {
	bool dark;             /* no sun to speak of: every day gets the month's mean */
	double mean_clearness; /* 0 where there is nothing outside the air either */
	double sunset_rad;     /* of the mean day */
	double diffuse_factor; /* on the daily diffuse share, so that the month's comes out */
	double clearness[N_NODES];
	double link; /* lag-one correlation of the Gaussian sequence behind the clearness */
} month_sky;

struct rig_climate {
	rig_climate_facts facts;
	month_sky months[12];
};

/* ---- facts ---- */

/* See rig_climate_facts_of_place for where these are from. */
static const double USUAL_MEMORY = 0.29;
static const double USUAL_TEMP_MEMORY = 0.7;
static const double SUMMER_SD_K = 0.6, SUMMER_SD_PER_SWING = 0.085;
static const double WINTER_SD_K = 1.7, WINTER_SD_PER_SWING = 0.12;

void rig_climate_facts_of_place(const rig_place *place, rig_climate_facts *facts)
{
	double coldest = INFINITY;
	double warmest = -INFINITY;
	*facts = (rig_climate_facts){
		.place = *place, .memory = USUAL_MEMORY, .temp_memory = USUAL_TEMP_MEMORY};
	for (int m = 0; m < 12; m++) {
		coldest = fmin(coldest, place->temp_mean_c[m]);
		warmest = fmax(warmest, place->temp_mean_c[m]);
	}
	const double swing_k = warmest - coldest;
	for (int m = 0; m < 12; m++) {
		const double cold = swing_k > 0 ? (warmest - place->temp_mean_c[m]) / swing_k : 0.5;
		facts->temp_sd_k[m] = (1 - cold) * (SUMMER_SD_K + SUMMER_SD_PER_SWING * swing_k) +
				      cold * (WINTER_SD_K + WINTER_SD_PER_SWING * swing_k);
	}
}

/* Energy on the horizontal outside the air in a day, Wh/m2. */
static double top_wh_m2(const rig_place *place, int day_of_year)
{
	const daylight light = daylight_of(place, day_of_year);
	return rig_sun_day_wh_m2(
		light.sun.latitude_rad, light.sun.declination_rad, light.sun.normal_wm2);
}

/* A figure of each day of a year, taken together by month. */
typedef struct {
	double mean[12], sd[12];
	double lag_one; /* within months, all months together */
} day_statistics;

static day_statistics statistics_of(const double day[RIG_YEAR_DAYS])
{
	day_statistics s = {{0}, {0}, 0};
	double products = 0;
	double squares = 0;
	for (int m = 0; m < 12; m++) {
		const double *of = day + rig_month_first_day(m);
		const int n = rig_month_n_days(m);
		double sum = 0;
		for (int i = 0; i < n; i++)
			sum += of[i];
		s.mean[m] = sum / n;
		double own = 0;
		for (int i = 0; i < n; i++) {
			own += (of[i] - s.mean[m]) * (of[i] - s.mean[m]);
			if (i > 0)
				products += (of[i] - s.mean[m]) * (of[i - 1] - s.mean[m]);
		}
		squares += own;
		s.sd[m] = sqrt(own / (n - 1));
	}
	s.lag_one = squares > 0 ? products / squares : 0;
	return s;
}

/* The memory behind an estimate that was made within months. Taking each month's own mean away
 * costs both sums V variances, V = (1 + r) / (1 - r) being n times the variance of the mean of n
 * days, and the first sum lacks a pair: the estimate is ((n - 1) r - V) / (n - V), some 0.05 low.
 */
static const double MONTH_DAYS = 365.0 / 12;

static double mean_variances(double memory)
{
	return (1 + memory) / (1 - memory);
}

static double unbiased_memory(double lag_one)
{
	const double n = MONTH_DAYS;
	double memory = lag_one;
	for (int i = 0; i < 50; i++) {
		const double v = mean_variances(memory);
		memory = fmin(0.95, (lag_one * (n - v) + v) / (n - 1));
	}
	return memory;
}

static void read_days(const rig_hourly_year *year, int day, double sum[3], double range_c[2])
{
	sum[0] = sum[1] = sum[2] = 0;
	range_c[0] = INFINITY;
	range_c[1] = -INFINITY;
	for (int i = day * RIG_DAY_HOURS; i < (day + 1) * RIG_DAY_HOURS; i++) {
		sum[0] += year->ghi_wm2[i];
		sum[1] += year->dhi_wm2[i];
		sum[2] += year->temp_c[i] / RIG_DAY_HOURS;
		range_c[0] = fmin(range_c[0], year->temp_c[i]);
		range_c[1] = fmax(range_c[1], year->temp_c[i]);
	}
}

static double within(double low, double value, double high)
{
	return fmax(low, fmin(high, value));
}

rig_status rig_climate_facts_of_year(const rig_hourly_year *year, rig_climate_facts *facts)
{
	if (!year->located || !year->has_beam)
		return RIG_BAD_INPUT;
	double clearness[RIG_YEAR_DAYS];
	double temp_c[RIG_YEAR_DAYS];
	rig_place place = {.latitude_deg = year->latitude_deg,
		.longitude_deg = year->longitude_deg,
		.elevation_m = year->elevation_m,
		.utc_offset_h = year->utc_offset_h,
		.sun_low_ratio = 1,
		.sun_high_ratio = 1};
	for (int day = 0; day < RIG_YEAR_DAYS; day++) {
		const int m = rig_month_of_day(day);
		const double n = rig_month_n_days(m);
		const double top = top_wh_m2(&place, day);
		double sum[3];
		double range_c[2];
		read_days(year, day, sum, range_c);
		clearness[day] = top >= DARK_WH_M2 ? sum[0] / top : 0;
		temp_c[day] = sum[2];
		place.ghi_kwh_m2_day[m] += sum[0] / 1000 / n;
		place.dhi_kwh_m2_day[m] += fmin(sum[0], sum[1]) / 1000 / n;
		place.temp_min_c[m] += range_c[0] / n;
		place.temp_max_c[m] += range_c[1] / n;
	}
	const day_statistics sky = statistics_of(clearness);
	const day_statistics air = statistics_of(temp_c);
	for (int m = 0; m < 12; m++) {
		place.kt_sd[m] = sky.sd[m];
		place.temp_mean_c[m] = air.mean[m];
	}
	rig_climate_facts_of_place(&place, facts);
	facts->memory = within(0, unbiased_memory(sky.lag_one), 0.9);
	facts->temp_memory = within(0, unbiased_memory(air.lag_one), 0.95);
	for (int m = 0; m < 12; m++)
		facts->temp_sd_k[m] = air.sd[m];
	return RIG_OK;
}

/* ---- distribution of a month ---- */

/* Daily clearness without a cloud, by Ineichen's model in steps of a quarter of an hour. */
static double clear_day_clearness(const rig_place *place, int month)
{
	const daylight light = daylight_of(place, rig_month_mean_day(month));
	const double elevation_m = within(0, place->elevation_m, 4000);
	const int n_steps = 48; /* half a day: morning and afternoon are alike */
	double sum = 0;
	double top = 0;
	for (int i = 0; i < n_steps; i++) {
		const double angle_rad = (i + 0.5) / n_steps * light.sunset_rad;
		const rig_direction sun = rig_sun_direction_at(
			light.sun.latitude_rad, light.sun.declination_rad, angle_rad);
		const rig_clear_sky sky = {.zenith_rad = sun.zenith_rad,
			.air_mass = rig_sun_air_mass(fmin(sun.zenith_rad, 1.57)) *
				    rig_pressure_ratio(elevation_m),
			.normal_wm2 = light.sun.normal_wm2,
			.elevation_m = elevation_m,
			.linke_turbidity = CLEAREST_TURBIDITY};
		sum += rig_ineichen(&sky).global_wm2;
		top += light.sun.normal_wm2 * fmax(0, cos(sun.zenith_rad));
	}
	return top > 0 ? sum / top : 0;
}

/* A beta distribution over an interval. */
typedef struct {
	double low, width, a, b;
} beta_days;

/* Share of the days below each cell's upper edge. The cells are even in an angle t with
 * clearness = low + width sin^2 t, in which the density, sin^(2a-1) t cos^(2b-1) t, stays finite
 * for a and b down to a half. */
static void sum_beta(const beta_days *days, double share[N_CELLS])
{
	const double cell_rad = 3.14159265358979323846 / 2 / N_CELLS;
	double sum = 0;
	for (int i = 0; i < N_CELLS; i++) {
		const double t = (i + 0.5) * cell_rad;
		sum += exp((2 * days->a - 1) * log(sin(t)) + (2 * days->b - 1) * log(cos(t)));
		share[i] = sum;
	}
	for (int i = 0; i < N_CELLS; i++)
		share[i] /= sum;
}

/* Clearness of a standard normal figure; cells are walked upwards with the nodes. */
static void lay_nodes(const beta_days *days, double clearness[N_NODES])
{
	double share[N_CELLS];
	sum_beta(days, share);
	int cell = 0;
	for (int node = 0; node < N_NODES; node++) {
		const double z = (double)(node - NODE_ORIGIN) / NODES_PER_UNIT;
		const double wanted = erfc(-z / sqrt(2)) / 2;
		while (cell < N_CELLS - 1 && share[cell] < wanted)
			cell++;
		const double before = cell > 0 ? share[cell - 1] : 0;
		const double within_cell =
			share[cell] > before ? fmin(1, (wanted - before) / (share[cell] - before))
					     : 1;
		const double t = (cell + within_cell) * 3.14159265358979323846 / 2 / N_CELLS;
		clearness[node] = days->low + days->width * sin(t) * sin(t);
	}
}

static double node_weight(int node)
{
	const double z = (double)(node - NODE_ORIGIN) / NODES_PER_UNIT;
	return exp(-z * z / 2) / sqrt(2 * 3.14159265358979323846) / NODES_PER_UNIT;
}

/* Mean and spread of a table as they will be drawn. */
static void table_moments(const double clearness[N_NODES], double *mean, double *sd)
{
	double weights = 0;
	double sum = 0;
	double squares = 0;
	for (int node = 0; node < N_NODES; node++) {
		weights += node_weight(node);
		sum += node_weight(node) * clearness[node];
	}
	*mean = sum / weights;
	for (int node = 0; node < N_NODES; node++)
		squares +=
			node_weight(node) * (clearness[node] - *mean) * (clearness[node] - *mean);
	*sd = sqrt(squares / weights);
}

/* Rounds to a grid far below any meaning, so that libraries whose last bits differ agree. */
static double on_grid(double value)
{
	return ldexp(rint(ldexp(value, 40)), -40);
}

/* The month's table of clearness. The ends of the table and the cells cost a little of mean and
 * spread, which is stretched back. */
static void lay_month(double mean, double sd, double clearest, double clearness[N_NODES])
{
	const double above = fmax(clearest, mean + SPREADS_ABOVE_MEAN * sd);
	const double width = above - DARKEST_CLEARNESS;
	const double at = (mean - DARKEST_CLEARNESS) / width;
	const double size = at * (1 - at) / (sd * sd / (width * width)) - 1;
	if (!(sd > 0 && at > 0 && at < 1 && size > 0)) {
		for (int node = 0; node < N_NODES; node++)
			clearness[node] = mean;
		return;
	}
	const beta_days days = {DARKEST_CLEARNESS, width, at * size, (1 - at) * size};
	double drawn_mean = 0;
	double drawn_sd = 0;
	lay_nodes(&days, clearness);
	table_moments(clearness, &drawn_mean, &drawn_sd);
	for (int node = 0; node < N_NODES; node++)
		clearness[node] = on_grid(
			mean + (clearness[node] - drawn_mean) * (drawn_sd > 0 ? sd / drawn_sd : 0));
}

/* Correlation of two clearness figures whose normal figures have a correlation: sum of a_n^2 r^n
 * over Hermite's polynomials, whose coefficients a_n are found from the table. */
enum { N_HERMITE = 8 };

static void hermite(const double clearness[N_NODES], double share[N_HERMITE])
{
	double total = 0;
	for (int n = 0; n < N_HERMITE; n++)
		share[n] = 0;
	for (int node = 0; node < N_NODES; node++) {
		const double z = (double)(node - NODE_ORIGIN) / NODES_PER_UNIT;
		double before = 1;
		double h = z;
		for (int n = 1; n <= N_HERMITE; n++) { /* h is normed: its mean square is 1 */
			share[n - 1] += node_weight(node) * clearness[node] * h;
			const double next = (z * h - sqrt(n) * before) / sqrt(n + 1);
			before = h;
			h = next;
		}
	}
	for (int n = 0; n < N_HERMITE; n++) {
		share[n] *= share[n];
		total += share[n];
	}
	for (int n = 0; n < N_HERMITE && total > 0; n++)
		share[n] /= total;
}

/* The Gaussian correlation that gives the clearness its memory. */
static double link_of(const double clearness[N_NODES], double memory)
{
	double share[N_HERMITE];
	hermite(clearness, share);
	double low = memory;
	double high = 1;
	for (int i = 0; i < 40; i++) {
		const double middle = (low + high) / 2;
		double sum = 0;
		for (int n = N_HERMITE - 1; n >= 0; n--)
			sum = (sum + share[n]) * middle;
		*(sum < memory ? &low : &high) = middle;
	}
	return on_grid(low);
}

/* Month's diffuse over global when the days' shares are multiplied by a factor and held at 1. */
static double month_share(const month_sky *sky, double factor)
{
	double diffuse = 0;
	double global = 0;
	for (int node = 0; node < N_NODES; node += 4) {
		const double clearness = sky->clearness[node];
		const double share =
			fmin(1, factor * rig_erbs_day_frac(clearness, sky->sunset_rad));
		diffuse += node_weight(node) * clearness * share;
		global += node_weight(node) * clearness;
	}
	return diffuse / global;
}

static double diffuse_factor(const month_sky *sky, double wanted)
{
	double low = 0;
	double high = 20;
	for (int i = 0; i < 50; i++) {
		const double middle = (low + high) / 2;
		*(month_share(sky, middle) < wanted ? &low : &high) = middle;
	}
	return on_grid(high);
}

static void set_month(const rig_climate_facts *facts, int month, month_sky *sky)
{
	const rig_place *place = &facts->place;
	double top = 0;
	for (int i = 0; i < rig_month_n_days(month); i++)
		top += top_wh_m2(place, rig_month_first_day(month) + i) / rig_month_n_days(month);
	const double global = 1000 * place->ghi_kwh_m2_day[month];
	sky->dark = top < DARK_WH_M2 || global <= 0;
	sky->mean_clearness = sky->dark ? 0 : on_grid(global / top);
	sky->link = facts->memory;
	sky->sunset_rad = daylight_of(place, rig_month_mean_day(month)).sunset_rad;
	sky->diffuse_factor = 1;
	/* spread about the long mean: about its own mean a month's days spread less */
	const double widening =
		sqrt((MONTH_DAYS - 1) / (MONTH_DAYS - mean_variances(facts->memory)));
	lay_month(sky->mean_clearness, sky->dark ? 0 : place->kt_sd[month] * widening,
		clear_day_clearness(place, month), sky->clearness);
	if (sky->dark)
		return;
	sky->link = link_of(sky->clearness, facts->memory);
	sky->diffuse_factor =
		diffuse_factor(sky, place->dhi_kwh_m2_day[month] / place->ghi_kwh_m2_day[month]);
}

rig_climate *rig_climate_of_facts(const rig_climate_facts *facts)
{
	rig_climate *climate = malloc(sizeof *climate);
	if (climate == NULL)
		return NULL;
	climate->facts = *facts;
	for (int month = 0; month < 12; month++)
		set_month(facts, month, &climate->months[month]);
	return climate;
}

rig_climate *rig_climate_new(const rig_place *place)
{
	rig_climate_facts facts;
	rig_climate_facts_of_place(place, &facts);
	return rig_climate_of_facts(&facts);
}

void rig_climate_free(rig_climate *climate)
{
	free(climate);
}

/* ---- days ---- */

/* Two standard normal figures of a day of a trip. */
static void draw(rig_stream stream, size_t day, double figure[2])
{
	const uint32_t key[2] = {(uint32_t)stream.seed, (uint32_t)(stream.seed >> 32)};
	const uint32_t counter[4] = {(uint32_t)stream.trip, (uint32_t)(stream.trip >> 32),
		(uint32_t)day, (uint32_t)((uint64_t)day >> 32)};
	uint32_t words[4];
	rig_philox(key, counter, words);
	const uint32_t high[2] = {words[0], words[2]};
	const uint32_t low[2] = {words[1], words[3]};
	for (int i = 0; i < 2; i++) {
		const uint64_t bits = ((uint64_t)high[i] << 32 | low[i]) >> 12;
		figure[i] = on_grid(rig_normal_quantile(ldexp((double)bits + 0.5, -52)));
	}
}

static double clearness_of(const month_sky *sky, double figure)
{
	const double position = figure * NODES_PER_UNIT + NODE_ORIGIN;
	if (position <= 0)
		return sky->clearness[0];
	if (position >= N_NODES - 1)
		return sky->clearness[N_NODES - 1];
	const int node = (int)position;
	return sky->clearness[node] +
	       (position - node) * (sky->clearness[node + 1] - sky->clearness[node]);
}

void rig_climate_days(
	const rig_climate *climate, rig_stream stream, int first_day, size_t n_days, rig_day days[])
{
	assert(first_day >= 0 && first_day < RIG_YEAR_DAYS);
	double sky_figure = 0;
	double air_figure = 0;
	for (size_t i = 0; i < n_days; i++) {
		const int day = (int)(((size_t)first_day + i) % RIG_YEAR_DAYS);
		const int month = rig_month_of_day(day);
		const month_sky *sky = &climate->months[month];
		double fresh[2];
		draw(stream, i, fresh);
		const double link = i == 0 ? 0 : sky->link;
		const double air_link = i == 0 ? 0 : climate->facts.temp_memory;
		sky_figure = link * sky_figure + sqrt(1 - link * link) * fresh[0];
		air_figure = air_link * air_figure + sqrt(1 - air_link * air_link) * fresh[1];
		days[i].day_of_year = day;
		days[i].clearness = clearness_of(sky, sky_figure);
		days[i].warmth_k = climate->facts.temp_sd_k[month] * air_figure;
	}
}

void rig_climate_hours(const rig_climate *climate, const rig_day *day, rig_day_hours *hours)
{
	const rig_place *place = &climate->facts.place;
	const int month = rig_month_of_day(day->day_of_year);
	const month_sky *sky = &climate->months[month];
	const daylight light = daylight_of(place, day->day_of_year);
	const warmth curve = {place->temp_min_c[month] + day->warmth_k,
		place->temp_mean_c[month] + day->warmth_k,
		place->temp_max_c[month] + day->warmth_k};
	double global = 1000 * place->ghi_kwh_m2_day[month];
	double diffuse = 1000 * place->dhi_kwh_m2_day[month];
	if (!sky->dark) {
		global = day->clearness * rig_sun_day_wh_m2(light.sun.latitude_rad,
						  light.sun.declination_rad, light.sun.normal_wm2);
		diffuse = global * fmin(1, sky->diffuse_factor * rig_erbs_day_frac(day->clearness,
									 sky->sunset_rad));
	}
	daylight_sun(&light, hours);
	daylight_spread(&light, global, diffuse, hours);
	daylight_warmth(&light, &curve, hours->temp_c);
}
