/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "studies/solar_harvest.h"
#include "studies/trip_findings.h"

/* 95 % of a normal distribution lies within so many standard deviations. */
static const double NORMAL_95 = 1.959963984540054;

/* The place's climate, or that of the file's year; NULL climate: neither is known. */
static rig_status climate_of(const trip_model *model, rig_climate **climate)
{
	rig_climate_facts facts;
	*climate = NULL;
	if (!model->options.weather ||
		rig_climate_facts_of_year(model->options.weather, &facts) != RIG_OK) {
		if (!model->place)
			return RIG_OK;
		rig_climate_facts_of_place(model->place, &facts);
	}
	*climate = rig_climate_of_facts(&facts);
	return *climate ? RIG_OK : RIG_NO_MEMORY;
}

/* ---- watts by hour and knot of the sky ---- */

/* The stay's days stand for each other within a month, so a month is worked out once. */
static void month_watts(const trip_model *model, const rig_climate *climate, int array, int month,
	double watts_w[RIG_DAY_HOURS * TRIP_KNOTS])
{
	const solar_output output =
		solar_output_of(model->coach, array, COURSE_LIKELY, COURSE_LIKELY);
	for (int knot = 0; knot < TRIP_KNOTS; knot++) {
		const rig_day day = {.day_of_year = rig_month_mean_day(month),
			.clearness = (double)knot / (TRIP_KNOTS - 1)};
		rig_day_hours hours;
		double light_wm2[RIG_DAY_HOURS];
		rig_climate_hours(climate, &day, &hours);
		solar_array_light(&model->coach->arrays[array], &hours, light_wm2);
		for (int hour = 0; hour < RIG_DAY_HOURS; hour++)
			watts_w[hour * TRIP_KNOTS + knot] =
				solar_output_w(&output, light_wm2[hour], hours.temp_c[hour]);
	}
}

static rig_status array_watts(
	const trip_model *model, const rig_climate *climate, int array, double **watts_w)
{
	enum { DAY = RIG_DAY_HOURS * TRIP_KNOTS };
	*watts_w = rig_arena_take(model->arena, model->n_period * TRIP_KNOTS, sizeof **watts_w);
	if (!*watts_w)
		return RIG_NO_MEMORY;
	int month = -1;
	for (size_t day = 0; day < model->n_period / 24; day++) {
		double *today = *watts_w + day * DAY;
		const int today_month = trip_month_at(model, day * 24);
		if (today_month != month) {
			month = today_month;
			month_watts(model, climate, array, month, today);
			continue;
		}
		for (size_t i = 0; i < DAY; i++)
			today[i] = today[(ptrdiff_t)i - DAY];
	}
	return RIG_OK;
}

static rig_status sky_watts(const trip_model *model, const rig_climate *climate, double ***watts_w)
{
	const size_t n = model->coach->n_arrays;
	rig_status status = RIG_OK;
	*watts_w = rig_arena_take(model->arena, n, sizeof **watts_w);
	if (!*watts_w)
		return RIG_NO_MEMORY;
	for (size_t array = 0; status == RIG_OK && array < n; array++)
		if (model->coach->arrays[array].bank_index >= 0)
			status = array_watts(model, climate, (int)array, &(*watts_w)[array]);
	return status;
}

/* ---- the trips ---- */

typedef struct {
	const rig_climate *climate;
	const rig_plan *plan;
	rig_tally *tally;
	rig_day *days; /* one trip's */
	double *sky;   /* one block's */
} trip_runs;

static void draw_trip(const trip_model *model, const trip_runs *runs, size_t trip)
{
	const size_t n_days = (size_t)model->options.n_days;
	const rig_stream stream = {.seed = model->options.seed, .trip = trip};
	rig_climate_days(runs->climate, stream, model->first_day, n_days, runs->days);
	/* A dark month has no index to speak of and the same light at every knot. */
	for (size_t day = 0; day < n_days; day++)
		runs->sky[day * RIG_LANES + trip % RIG_LANES] =
			fmin(runs->days[day].clearness, 1) * (TRIP_KNOTS - 1);
}

static void run_trips(const trip_model *model, const trip_runs *runs)
{
	const size_t n_trips = model->options.n_trips;
	for (size_t first = 0; first < n_trips; first += RIG_LANES) {
		const size_t n = n_trips - first < RIG_LANES ? n_trips - first : RIG_LANES;
		for (size_t i = 0; i < n; i++)
			draw_trip(model, runs, first + i);
		rig_plan_trips(runs->plan, runs->sky, n, runs->tally);
	}
}

/* Score interval of a share [WILSON-1927]. */
static void set_interval(rig_trip_chance *chance)
{
	const double n = (double)chance->n_trips, z2 = NORMAL_95 * NORMAL_95;
	const double share = chance->never_out_frac;
	const double middle = (share + z2 / (2 * n)) / (1 + z2 / n);
	const double half =
		NORMAL_95 / (1 + z2 / n) * sqrt(share * (1 - share) / n + z2 / (4 * n * n));
	chance->never_out_low = share == 0 ? 0 : middle - half;
	chance->never_out_high = share == 1 ? 1 : middle + half;
}

static rig_status read_tally(
	const trip_model *model, const rig_tally *tally, rig_trip_chance *chance)
{
	const size_t n_days = (size_t)model->options.n_days;
	double *out_by_day = rig_arena_take(model->arena, n_days, sizeof *out_by_day);
	if (!out_by_day)
		return RIG_NO_MEMORY;
	size_t n_out = 0;
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		n_out += tally->ran_out[hour];
		out_by_day[hour / 24] = (double)n_out / (double)tally->n_trips;
	}
	*chance = (rig_trip_chance){
		.n_trips = tally->n_trips,
		.seed = model->options.seed,
		.never_out_frac = (double)tally->n_never / (double)tally->n_trips,
		.n_days = n_days,
		.out_by_day_frac = out_by_day,
	};
	set_interval(chance);
	return RIG_OK;
}

static rig_status run_climate(
	const trip_model *model, const rig_climate *climate, rig_trip_chance *chance)
{
	const size_t n_days = (size_t)model->options.n_days;
	rig_plan *plan = NULL;
	rig_tally *tally = NULL;
	double **watts_w = NULL;
	rig_status status = sky_watts(model, climate, &watts_w);
	if (status != RIG_OK)
		goto out;
	const trip_variant variant = {.course = COURSE_LIKELY, .cut = -1, .sky_watts_w = watts_w};
	if ((status = trip_plan(model, &variant, &plan)) ||
		(status = rig_tally_new(plan, model->n_hours, &tally)))
		goto out;
	const trip_runs runs = {
		.climate = climate,
		.plan = plan,
		.tally = tally,
		.days = rig_arena_take(model->arena, n_days, sizeof *runs.days),
		.sky = rig_arena_take(model->arena, n_days * RIG_LANES, sizeof *runs.sky),
	};
	status = runs.days && runs.sky ? RIG_OK : RIG_NO_MEMORY;
	if (status != RIG_OK)
		goto out;
	run_trips(model, &runs);
	status = read_tally(model, tally, chance);
out:
	rig_tally_free(tally);
	rig_plan_free(plan);
	return status;
}

rig_status trip_find_chance(trip_model *model, rig_trip_findings *findings)
{
	rig_climate *climate = NULL;
	if (model->options.n_trips == 0 || findings->main_bank < 0)
		return RIG_OK;
	rig_status status = climate_of(model, &climate);
	if (status == RIG_OK && !climate)
		model->notes |= RIG_TRIP_NO_CHANCE;
	if (climate)
		status = run_climate(model, climate, &findings->chance);
	rig_climate_free(climate);
	return status;
}
