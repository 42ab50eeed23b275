/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_trips.h"

#include <assert.h>
#include <math.h>

#include "studies/solar_doubt.h"

static void find_ends(const solar_trips *trips, double *darkest, double *clearest)
{
	*darkest = INFINITY;
	*clearest = 0.0;
	for (size_t i = 0; i < trips->n_days * trips->n_trips; i++) {
		*darkest = fmin(*darkest, trips->sky[i]);
		*clearest = fmax(*clearest, trips->sky[i]);
	}
}

static void set_positions(solar_trips *trips, double darkest, double clearest)
{
	const double step = (clearest - darkest) / (SOLAR_KNOTS - 1);
	for (size_t i = 0; i < trips->n_days * trips->n_trips; i++) {
		const double position = step > 0 ? (trips->sky[i] - darkest) / step : 0.0;
		/* rounding */
		trips->sky[i] = fmin(fmax(position, 0.0), SOLAR_KNOTS - 1);
	}
}

rig_status solar_trips_draw(const rig_climate *climate, int month, const rig_solar_options *options,
	rig_arena *arena, solar_trips *trips)
{
	trips->n_trips = (size_t)options->n_trips;
	trips->n_days = (size_t)options->n_days;
	trips->sky = rig_arena_take(arena, trips->n_days * trips->n_trips, sizeof *trips->sky);
	if (trips->sky == NULL)
		return RIG_NO_MEMORY;
	const rig_stay stay = {rig_month_first_day(month), trips->n_days};
	/* clearness, in the place of the sky positions */
	rig_climate_stays(climate, options->seed, &stay, trips->n_trips, trips->sky);
	double darkest, clearest, clearness[SOLAR_KNOTS];
	find_ends(trips, &darkest, &clearest);
	set_positions(trips, darkest, clearest);
	for (int knot = 0; knot < SOLAR_KNOTS; knot++)
		clearness[knot] = darkest + (clearest - darkest) * knot / (SOLAR_KNOTS - 1);
	rig_climate_skies(climate, rig_month_mean_day(month), SOLAR_KNOTS, clearness, trips->knots);
	return RIG_OK;
}

void solar_trips_add_array(const solar_trips *trips, const rig_array *array,
	const solar_output *output, double *watts_w)
{
	for (int knot = 0; knot < SOLAR_KNOTS; knot++) {
		const rig_day_hours *day = &trips->knots[knot];
		double light_wm2[RIG_DAY_HOURS];
		solar_array_light(array, day, light_wm2);
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
			watts_w[hour * SOLAR_KNOTS + knot] +=
				solar_output_w(output, light_wm2[hour], day->temp_c[hour]);
	}
}

/* Not even the clearest sky throughout, with nothing wasted, makes up for what is wanted. */
static bool hopeless(const rig_plan *plan, const solar_trial *trial, size_t n_days)
{
	const rig_demand *demand = rig_plan_demand(plan, 0);
	double wanted_wh = 0.0, brought_wh = 0.0, reach_wh = 0.0;
	for (size_t hour = 0; hour < 24; hour++) {
		wanted_wh += demand[hour].dc_wh + demand[hour].ac_wh + demand[hour].idle_wh +
			     demand[hour].loss_wh;
		double most_w = 0.0;
		for (size_t knot = 0; knot < trial->n_knots; knot++)
			most_w = fmax(most_w, trial->watts_w[hour * trial->n_knots + knot]);
		brought_wh += most_w * trial->factor;
		reach_wh = fmax(reach_wh, rig_plan_reach_wh(plan, 0, hour));
	}
	return reach_wh + (double)n_days * (brought_wh - wanted_wh) < -1e-6 * wanted_wh;
}

rig_status solar_open_all(const solar_trips *trips, rig_arena *arena, solar_open *open)
{
	*open = (solar_open){.n = trips->n_trips,
		.trip = rig_arena_take(arena, trips->n_trips, sizeof *open->trip),
		.lasts = rig_arena_take(arena, trips->n_trips, sizeof *open->lasts)};
	if (open->trip == NULL || open->lasts == NULL)
		return RIG_NO_MEMORY;
	for (size_t trip = 0; trip < trips->n_trips; trip++)
		open->trip[trip] = trip;
	return RIG_OK;
}

solar_count solar_trips_run(const solar_trips *trips, const solar_trial *trial,
	const rig_plan *plan, const solar_open *open)
{
	if (hopeless(plan, trial, trips->n_days))
		return (solar_count){.n_out = trips->n_trips};
	const rig_lasting lasting = {.sky = trips->sky,
		.stride = trips->n_trips,
		.n_days = trips->n_days,
		.n = open->n,
		.trip = open->trip,
		.lasts = open->lasts};
	const size_t n_last = rig_plan_lasting(plan, &lasting, false);
	return (solar_count){.n_out = open->n_out + open->n - n_last, .n_run = trips->n_trips};
}

void solar_open_settle(solar_open *open, const solar_count *count, bool more)
{
	if (count->n_run == 0)
		return;
	const size_t n_before = open->n;
	open->n = 0;
	for (size_t i = 0; i < n_before; i++)
		if (open->lasts[i] != more)
			open->trip[open->n++] = open->trip[i];
	if (!more)
		open->n_out += n_before - open->n;
}

rig_figure solar_share(size_t n_hits, size_t n_all)
{
	assert(n_all > 0 && n_hits <= n_all);
	static const double Z = 1.959963984540054;
	const double n = (double)n_all, share = (double)n_hits / n;
	const double middle = (share + Z * Z / (2 * n)) / (1 + Z * Z / n);
	const double half =
		Z / (1 + Z * Z / n) * sqrt(share * (1 - share) / n + Z * Z / (4 * n * n));
	return solar_ordered(fmax(0.0, middle - half), share, fmin(1.0, middle + half));
}
