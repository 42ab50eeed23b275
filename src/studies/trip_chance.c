/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "studies/solar_trips.h"
#include "studies/trip_findings.h"

const double RIG_TRIP_SHARE[RIG_TRIP_QUANTILES] = {0.05, 0.25, 0.5, 0.75, 0.95};

/* 95 % of a normal distribution lies within so many standard deviations. */
static const double NORMAL_95 = 1.959963984540054;

/* Where the days come from; false: neither file nor place says. A file's year shows nothing of how
 * far a month strays, so that is the usual figure. */
static bool find_sky(const trip_model *model, trip_sky *sky)
{
	const rig_hourly_year *year = model->options.weather;
	*sky = (trip_sky){.from = RIG_DAYS_OF_PLACE};
	if (year && rig_climate_facts_of_year(year, &sky->facts) == RIG_OK) {
		sky->facts.month_scatter_frac = rig_month_scatter_frac().likely;
		sky->from = model->options.drawn_days ? RIG_DAYS_LIKE_FILE : RIG_DAYS_OF_FILE;
		sky->year = model->options.drawn_days ? NULL : year;
		return true;
	}
	if (!model->place)
		return false;
	rig_climate_facts_of_place(model->place, &sky->facts);
	return true;
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

/* Quantiles of the main bank's charge by hour. */
static rig_status read_charge(
	const trip_model *model, const rig_tally *tally, size_t store, rig_trip_chance *chance)
{
	double *charge[RIG_TRIP_QUANTILES];
	for (int k = 0; k < RIG_TRIP_QUANTILES; k++) {
		charge[k] = rig_arena_take(model->arena, tally->n_hours, sizeof *charge[k]);
		if (!charge[k])
			return RIG_NO_MEMORY;
		chance->charge_frac[k] = charge[k];
	}
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		double found[RIG_TRIP_QUANTILES];
		rig_tally_charges(tally, store, hour,
			(rig_shares){RIG_TRIP_QUANTILES, RIG_TRIP_SHARE, found});
		for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
			charge[k][hour] = found[k];
	}
	chance->charge_step_frac = 1.0 / (double)tally->n_bins;
	return RIG_OK;
}

static rig_status read_tally(
	const trip_model *model, const rig_tally *tally, rig_trip_chance *chance)
{
	const size_t n_days = (size_t)model->options.n_days;
	double *out_by_day = rig_arena_take(model->arena, n_days, sizeof *out_by_day);
	rig_figure *with_error = rig_arena_take(model->arena, n_days, sizeof *with_error);
	if (!out_by_day || !with_error)
		return RIG_NO_MEMORY;
	size_t n_out = 0;
	for (size_t hour = 0; hour < tally->n_hours; hour++) {
		n_out += tally->ran_out[hour];
		out_by_day[hour / 24] = (double)n_out / (double)tally->n_trips;
		with_error[hour / 24] = solar_share(n_out, tally->n_trips);
	}
	*chance = (rig_trip_chance){
		.n_trips = tally->n_trips,
		.days_from = chance->days_from,
		.seed = model->options.seed,
		.never_out_frac = (double)tally->n_never / (double)tally->n_trips,
		.n_days = n_days,
		.out_by_day_frac = out_by_day,
		.out_by_day = with_error,
	};
	set_interval(chance);
	return RIG_OK;
}

/* What goes without, by hour, in the mean of the trips; the loads of a bank go without together. */
static void share_unserved(const trip_model *model, const rig_plan *plan, const rig_tally *tally,
	rig_trip_findings *findings)
{
	const double n = (double)tally->n_trips;
	for (size_t s = 0; s < tally->n_stores; s++) {
		for (size_t hour = 0; hour < tally->n_hours; hour++) {
			const rig_demand d = rig_plan_demand_at(
				plan, s, hour % 24, model->temp_c[hour % model->n_period]);
			findings->chance.unserved_wh +=
				tally->short_sum[hour * tally->n_stores + s] / n *
				(d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh);
		}
	}
	for (size_t i = 0; i < findings->n_carried; i++) {
		rig_trip_load *load = &findings->loads[i];
		const size_t s = (size_t)trip_store_of(model, load->bank);
		if (s >= tally->n_stores)
			continue;
		const rig_consumer consumer = trip_consumer(model, load->load);
		for (size_t hour = 0; hour < tally->n_hours; hour++)
			load->trips_unserved_wh += tally->short_sum[hour * tally->n_stores + s] /
						   n * consumer.watts_w *
						   trip_running_frac(model, &consumer, hour);
	}
}

/* Says how far the main run is; the side questions have the rest of the way. */
typedef struct {
	const rig_trip_options *options;
	bool stopped;
} teller;

static bool tell(void *context, size_t n_done)
{
	teller *it = context;
	const double main_frac = it->options->n_side_trips > 0 ? 0.6 : 1;
	it->stopped = !it->options->progress(
		it->options->context, main_frac * (double)n_done / (double)it->options->n_trips);
	return !it->stopped;
}

static size_t n_margins(const rig_trip_options *options)
{
	const size_t n = options->n_trips < TRIP_MARGINS ? options->n_trips : TRIP_MARGINS;
	return n < TRIP_LEAST_MARGINS || options->likely_inputs ? 0 : n;
}

/* The main run. */
static rig_status run_main(trip_model *model, const trip_fleet *fleet, const trip_inputs *inputs,
	rig_trip_findings *findings)
{
	const rig_trip_options *options = &model->options;
	teller told = {options, false};
	rig_tally *tally = NULL;
	fleet_watch watch = {.n_margins = n_margins(options),
		.progress = options->progress ? tell : NULL,
		.context = &told};
	rig_status status = RIG_NO_MEMORY;
	if (watch.n_margins > 0 && !(watch.margin_wh = rig_arena_take(model->arena, watch.n_margins,
					     sizeof *watch.margin_wh)))
		return RIG_NO_MEMORY;
	if ((status = rig_tally_new(trip_fleet_plan(fleet), model->n_hours, &tally)) ||
		(status = rig_tally_count_charge(tally)) ||
		(status = trip_fleet_run(fleet, options->n_trips, &watch, tally)))
		goto out;
	if ((status = read_tally(model, tally, &findings->chance)) ||
		(status = read_charge(model, tally,
			 (size_t)trip_store_of(model, findings->banks[findings->main_bank].bank),
			 &findings->chance)))
		goto out;
	share_unserved(model, trip_fleet_plan(fleet), tally, findings);
	if (!told.stopped)
		status = trip_find_inputs(model, inputs, &watch, findings);
	findings->stopped = told.stopped;
out:
	rig_tally_free(tally);
	return status;
}

rig_status trip_chance_begin(trip_model *model, trip_chance_run *run)
{
	const size_t n_house = trip_fleet_n_house(model);
	*run = (trip_chance_run){.wanted = false};
	if (model->options.n_trips == 0 || n_house == 0)
		return RIG_OK;
	run->wanted = find_sky(model, &run->sky);
	if (!run->wanted)
		model->notes |= RIG_TRIP_NO_CHANCE;
	run->setup = (fleet_setup){.model = model,
		.sky = &run->sky,
		.stay = {model->first_day, (size_t)model->options.n_days},
		.inputs = &run->inputs,
		.n_knots = TRIP_KNOTS,
		.n_workers = model->options.n_threads};
	return trip_inputs_find(model, n_house, &run->inputs);
}

rig_status trip_chance_lay(trip_chance_run *run)
{
	return run->wanted ? trip_fleet_new(&run->setup, &run->fleet) : RIG_OK;
}

void trip_chance_end(trip_chance_run *run)
{
	trip_fleet_free(run->fleet);
	run->fleet = NULL;
}

rig_status trip_find_chance(
	trip_model *model, const trip_chance_run *run, rig_trip_findings *findings)
{
	if (!run->wanted)
		return RIG_OK;
	findings->chance.days_from = run->sky.from;
	rig_status status = run_main(model, run->fleet, &run->inputs, findings);
	if (status == RIG_OK && !findings->stopped && model->options.n_side_trips > 0)
		status = trip_find_sides(&run->setup, run->fleet, findings);
	return status;
}
