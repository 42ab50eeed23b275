/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "rigbudget/irradiance.h"
#include "weather/climate.h"

/* The usual lowest clearness of a day [HOLLANDS-1983]. */
static const double DARKEST_CLEARNESS = 0.05;
/* Air without a trace of haze; the clearest days of four typical years come to it. */
static const double CLEAREST_TURBIDITY = 2;
static const double SPREADS_ABOVE_MEAN = 1.1;
/* How far a month that strays may raise the clearest day: 2 to 3 %, what haze leaves open. */
static const double CLEAREST_ERROR = 0.02;
/* Most that the steps of the air may have in common with those of the sky. */
static const double MOST_SHARED = 0.98;

/* Cells in which the beta distribution is summed up. */
enum { N_CELLS = 1024 };

static double within(double low, double value, double high)
{
	return fmax(low, fmin(high, value));
}

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
static void lay_nodes(const beta_days *days, double clearness[CLIMATE_NODES])
{
	double share[N_CELLS];
	sum_beta(days, share);
	int cell = 0;
	for (int node = 0; node < CLIMATE_NODES; node++) {
		const double z = (double)(node - CLIMATE_NODE_ORIGIN) / CLIMATE_NODES_PER_UNIT;
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
	const double z = (double)(node - CLIMATE_NODE_ORIGIN) / CLIMATE_NODES_PER_UNIT;
	return exp(-z * z / 2) / sqrt(2 * 3.14159265358979323846) / CLIMATE_NODES_PER_UNIT;
}

/* Mean and spread of a table as they will be drawn. */
static void table_moments(const double clearness[CLIMATE_NODES], double *mean, double *sd)
{
	double weights = 0;
	double sum = 0;
	double squares = 0;
	for (int node = 0; node < CLIMATE_NODES; node++) {
		weights += node_weight(node);
		sum += node_weight(node) * clearness[node];
	}
	*mean = sum / weights;
	for (int node = 0; node < CLIMATE_NODES; node++)
		squares +=
			node_weight(node) * (clearness[node] - *mean) * (clearness[node] - *mean);
	*sd = sqrt(squares / weights);
}

/* Rounds to a grid of 6e-8, below any meaning: C libraries whose last bits differ then agree, but
 * for a chance of 1e-8 or so a figure. */
static double on_grid(double value)
{
	return ldexp(rint(ldexp(value, 24)), -24);
}

/* The month's table of clearness. The ends of the table and the cells cost a little of mean and
 * spread, which is stretched back. */
static void lay_month(double mean, double sd, double clearest, double clearness[CLIMATE_NODES])
{
	const double above = fmax(clearest, mean + SPREADS_ABOVE_MEAN * sd);
	const double width = above - DARKEST_CLEARNESS;
	const double at = (mean - DARKEST_CLEARNESS) / width;
	const double size = at * (1 - at) / (sd * sd / (width * width)) - 1;
	if (!(sd > 0 && at > 0 && at < 1 && size > 0)) {
		for (int node = 0; node < CLIMATE_NODES; node++)
			clearness[node] = mean;
		return;
	}
	const beta_days days = {DARKEST_CLEARNESS, width, at * size, (1 - at) * size};
	double drawn_mean = 0;
	double drawn_sd = 0;
	lay_nodes(&days, clearness);
	table_moments(clearness, &drawn_mean, &drawn_sd);
	for (int node = 0; node < CLIMATE_NODES; node++)
		clearness[node] = on_grid(
			mean + (clearness[node] - drawn_mean) * (drawn_sd > 0 ? sd / drawn_sd : 0));
}

/* The clearness as a sum over Hermite's polynomials of its normal figure: the share of each in its
 * variance. Two figures with a normal correlation r then have a correlation of sum share_n r^n. */
enum { N_HERMITE = 8 };

static void hermite(const double clearness[CLIMATE_NODES], double share[N_HERMITE])
{
	double total = 0;
	for (int n = 0; n < N_HERMITE; n++)
		share[n] = 0;
	for (int node = 0; node < CLIMATE_NODES; node++) {
		const double z = (double)(node - CLIMATE_NODE_ORIGIN) / CLIMATE_NODES_PER_UNIT;
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

/* Correlation of two clearness figures whose normal figures have a correlation, and back. */
static double mapped(const double share[N_HERMITE], double correlation)
{
	double sum = 0;
	for (int n = N_HERMITE - 1; n >= 0; n--)
		sum = (sum + share[n]) * correlation;
	return sum;
}

static double unmapped(const double share[N_HERMITE], double wanted)
{
	double low = 0;
	double high = 1;
	for (int i = 0; i < 40; i++) {
		const double middle = (low + high) / 2;
		*(mapped(share, middle) < wanted ? &low : &high) = middle;
	}
	return low;
}

/* A month's days in classes of clearness: the light of each, as far as it weighs, and the diffuse
 * share of its days. */
enum { NODES_PER_CLASS = 4, N_CLASSES = (CLIMATE_NODES + NODES_PER_CLASS - 1) / NODES_PER_CLASS };
typedef struct {
	double light[N_CLASSES], share[N_CLASSES];
} month_days;

static month_days days_of(const climate_month *sky)
{
	month_days days;
	for (int i = 0; i < N_CLASSES; i++) {
		const int node = i * NODES_PER_CLASS;
		const double clearness = sky->clearness[node];
		days.light[i] = node_weight(node) * clearness;
		days.share[i] = rig_erbs_day_frac(clearness, sky->sunset_rad);
	}
	return days;
}

/* Month's diffuse over global when the days' shares are multiplied by a factor and held at 1. */
static double month_share(const month_days *days, double factor)
{
	double diffuse = 0;
	double global = 0;
	for (int i = 0; i < N_CLASSES; i++) {
		diffuse += days->light[i] * fmin(1, factor * days->share[i]);
		global += days->light[i];
	}
	return diffuse / global;
}

static double diffuse_factor(const climate_month *sky, double wanted)
{
	const month_days days = days_of(sky);
	double low = 0;
	double high = 20;
	for (int i = 0; i < 50; i++) {
		const double middle = (low + high) / 2;
		*(month_share(&days, middle) < wanted ? &low : &high) = middle;
	}
	return on_grid(high);
}

double climate_mean_variances(double memory)
{
	const double n = CLIMATE_MONTH_DAYS;
	const double forgets = 1 - memory;
	return (1 + memory) / forgets - 2 * memory * (1 - pow(memory, n)) / (n * forgets * forgets);
}

double climate_top_wh_m2(const daylight *light)
{
	return rig_sun_day_wh_m2(
		light->sun.latitude_rad, light->sun.declination_rad, light->sun.normal_wm2);
}

/* How much wider days with a memory spread about the long mean than about their own month's. */
static double about_long_mean(double memory)
{
	const double n = CLIMATE_MONTH_DAYS;
	return sqrt((n - 1) / (n - climate_mean_variances(memory)));
}

/* How the days of a month spread about its long mean. */
typedef struct {
	double within;  /* variance about the month's own mean, were it known without error */
	double between; /* variance of that mean */
} variances;

/* The place's spread is about a month's own mean, from which its days spread less than from the
 * long mean. What the mean of such days strays of itself is not drawn twice. Where nearly all days
 * are clear the month cannot stray so far: it may move the clearest day up by what the model of a
 * clear day errs, no more. A place without any spread is a made-up one, whose months are alike. */
static variances month_variances(
	const rig_climate_facts *facts, int month, double mean, double clearest)
{
	const double v = climate_mean_variances(facts->memory);
	const double sd = facts->place.kt_sd[month];
	const double scatter = facts->month_scatter_frac * mean;
	const double widening = about_long_mean(facts->memory);
	variances found = {.within = sd * sd * widening * widening};
	const double own = found.within * v / CLIMATE_MONTH_DAYS;
	const double room = fmax(sqrt(found.within), (clearest - mean) / SPREADS_ABOVE_MEAN) +
			    CLEAREST_ERROR / SPREADS_ABOVE_MEAN;
	const double most = room * room - found.within;
	found.between = sd > 0 ? fmax(0, fmin(scatter * scatter - own, most)) : 0;
	return found;
}

/* Sets how days and months follow each other. */
static void set_sequence(
	const rig_climate_facts *facts, int month, const variances *v, climate_month *sky)
{
	double share[N_HERMITE];
	hermite(sky->clearness, share);
	const bool spreads = share[0] > 0 && v->within > 0;
	const double between = spreads ? v->between / (v->within + v->between) : 0;
	const double month_link = spreads ? unmapped(share, between) : 0;
	const double day_link =
		spreads ? unmapped(share, between + (1 - between) * facts->memory) : 0;
	const double link = (day_link - month_link) / (1 - month_link);
	sky->link = on_grid(fmax(0, link));
	sky->fresh = sqrt(1 - sky->link * sky->link);
	sky->month_part = on_grid(sqrt(month_link));
	sky->day_part = sqrt(1 - sky->month_part * sky->month_part);
	const double air = facts->temp_memory;
	sky->air_link = air;
	sky->air_fresh = sqrt(1 - air * air);
	sky->air_sd_k = on_grid(facts->temp_sd_k[month] * about_long_mean(air));
	/* of x and y, such that warmth and clearness within the month have the one that is asked */
	const double wanted =
		spreads ? facts->warm_clear[month] * sqrt((1 - between) / share[0]) / sky->day_part
			: 0;
	const double steps = sky->fresh * sky->air_fresh / (1 - sky->link * air);
	sky->shared = on_grid(within(-MOST_SHARED, wanted / steps, MOST_SHARED));
	sky->apart = sqrt(1 - sky->shared * sky->shared);
	sky->first_shared = on_grid(sky->shared * steps);
	sky->first_apart = sqrt(1 - sky->first_shared * sky->first_shared);
}

void climate_set_month(const rig_climate_facts *facts, int month, climate_month *sky)
{
	const rig_place *place = &facts->place;
	double top = 0;
	for (int i = 0; i < rig_month_n_days(month); i++) {
		const daylight light = daylight_of(place, rig_month_first_day(month) + i);
		top += climate_top_wh_m2(&light) / rig_month_n_days(month);
	}
	const double global = 1000 * place->ghi_kwh_m2_day[month];
	const double clearest = clear_day_clearness(place, month);
	*sky = (climate_month){.dark = top < CLIMATE_DARK_WH_M2 || global <= 0,
		.sunset_rad = daylight_of(place, rig_month_mean_day(month)).sunset_rad,
		.diffuse_factor = 1};
	variances v = {0, 0};
	if (!sky->dark) {
		sky->mean_clearness = on_grid(global / top);
		v = month_variances(facts, month, sky->mean_clearness, clearest);
	}
	lay_month(sky->mean_clearness, sqrt(v.within + v.between), clearest, sky->clearness);
	set_sequence(facts, month, &v, sky);
	if (!sky->dark)
		sky->diffuse_factor = diffuse_factor(
			sky, place->dhi_kwh_m2_day[month] / place->ghi_kwh_m2_day[month]);
}
