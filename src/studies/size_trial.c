/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trips of a coach with an option in it, as the trip study runs them. */
#include <math.h>
#include <stdlib.h>

#include "studies/bank_store.h"
#include "studies/size_case.h"

/* Ends a run whose answer is known. */
typedef struct {
	const rig_tally *tally;
	size_t enough;
} onlooker;

static bool look(void *context, size_t n_done)
{
	const onlooker *it = context;
	(void)n_done;
	return it->tally->n_trips - it->tally->n_never <= it->enough;
}

static rig_trip_options trip_options(const size_case *it, int month)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.n_days = it->options.n_days;
	options.habit = it->options.habit;
	options.n_trips = it->options.n_trips;
	options.seed = it->options.seed;
	options.n_threads = it->options.n_threads;
	return options;
}

/* What went unserved, by what was wanted in the mean. */
static double unserved_wh(const trip_model *model, const rig_plan *plan, const rig_tally *tally)
{
	double sum_wh = 0;
	for (size_t s = 0; s < tally->n_stores; s++) {
		for (size_t hour = 0; hour < tally->n_hours; hour++) {
			const double share = tally->short_sum[hour * tally->n_stores + s];
			if (share <= 0)
				continue;
			const rig_demand d = rig_plan_demand_at(
				plan, s, hour % 24, model->temp_c[hour % model->n_period]);
			sum_wh += share * (d.dc_wh + d.ac_wh + d.idle_wh + d.loss_wh);
		}
	}
	return sum_wh;
}

static void read_tally(const size_case *it, const trip_model *model, const rig_plan *plan,
	const rig_tally *tally, size_month *found)
{
	const int sized = it->bank >= 0 ? it->bank : (int)it->stated->n_banks;
	*found = (size_month){.n_trips = tally->n_trips, .n_out = tally->n_trips - tally->n_never};
	for (size_t s = 0; s < tally->n_stores; s++) {
		found->offered_wh += tally->sums[s].offered_wh;
		found->drawn_wh += tally->sums[s].drawn_wh;
		found->charged_wh += tally->sums[s].charged_wh;
		found->curtailed_wh += tally->sums[s].curtailed_wh;
		if (model->bank_of[s] == sized)
			found->main_drawn_wh = tally->sums[s].drawn_wh;
	}
	found->unserved_wh = unserved_wh(model, plan, tally);
}

rig_status size_fleet_open(
	const size_case *it, const rig_coach *completed, int month, size_fleet *made)
{
	*made = (size_fleet){.model = {.coach = completed,
				     .place = it->place,
				     .options = trip_options(it, month),
				     .arena = rig_arena_new()}};
	if (made->model.arena == NULL)
		return RIG_NO_MEMORY;
	rig_status status = trip_model_make(&made->model);
	if (status == RIG_OK)
		status = trip_inputs_find(
			&made->model, trip_fleet_n_house(&made->model), &made->inputs);
	if (status != RIG_OK)
		return status;
	const fleet_setup setup = {.model = &made->model,
		.sky = &it->sky,
		.stay = {made->model.first_day, (size_t)made->model.options.n_days},
		.inputs = &made->inputs,
		.n_knots = TRIP_KNOTS,
		.n_workers = it->options.n_threads,
		.days = it->days[month]};
	return trip_fleet_new(&setup, &made->fleet);
}

void size_fleet_close(size_fleet *made)
{
	trip_fleet_free(made->fleet);
	if (made->model.arena != NULL)
		rig_arena_free(made->model.arena);
}

static rig_status run_fleet(const size_case *it, size_fleet *made, size_t enough, size_month *found)
{
	rig_tally *tally = NULL;
	const rig_plan *plan = trip_fleet_plan(made->fleet);
	rig_status status = rig_tally_new(plan, made->model.n_hours, &tally);
	if (status != RIG_OK)
		return status;
	onlooker onlooking = {tally, enough};
	const fleet_watch watch = {.progress = look, .context = &onlooking};
	status = trip_fleet_run(made->fleet, it->options.n_trips, &watch, tally);
	if (status == RIG_OK)
		read_tally(it, &made->model, plan, tally, found);
	rig_tally_free(tally);
	it->findings->n_runs++;
	return status;
}

rig_status size_run_month(const size_case *it, const rig_coach *completed, int month, size_t enough,
	size_month *found)
{
	size_fleet made;
	rig_status status = size_fleet_open(it, completed, month, &made);
	if (status == RIG_OK)
		status = run_fleet(it, &made, enough, found);
	size_fleet_close(&made);
	return status;
}
