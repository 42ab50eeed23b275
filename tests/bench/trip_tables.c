/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_tables.c: writes all that the trips of a coach are made from, so that a program in another
 * language can run the same ones: the house's plan, and what each trip draws. Each array is a line
 * `name count` and then so many doubles as they lie in memory.
 * Arguments: COACH FILE */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "energy/plan.h"
#include "rigbudget/rigbudget.h"
#include "studies/trip_findings.h"

enum { TRIPS = 10000, DAYS = 14, NOVEMBER = 10 };

static void put(FILE *out, const char *name, const double *figures, size_t n)
{
	fprintf(out, "%s %zu\n", name, n);
	fwrite(figures, sizeof *figures, n, out);
}

static void put_one(FILE *out, const char *name, double figure)
{
	put(out, name, &figure, 1);
}

static void put_store(FILE *out, const rig_plan *plan)
{
	const plan_store *s = &plan->stores[0];
	const double step[] = {s->step.a11, s->step.a12, s->step.a21, s->step.a22, s->step.g1,
		s->step.g2, s->kinetic.capacity, s->kinetic.available_frac, s->usable_wh,
		s->efficiency_frac, s->taper_frac, s->limit_wh, s->charge_floor_c,
		s->lost_per_k_frac, s->outdoors ? 1 : 0};
	put(out, "store", step, sizeof step / sizeof step[0]);
	put(out, "reach", s->reach_wh, plan->n_hours);
	put(out, "keep", s->keep_frac, plan->n_hours);
	put(out, "air", plan->outdoor_c, plan->n_hours * plan->n_knots);
	const rig_loss_curve *c = &plan->inverter.curve;
	const double inverter[] = {plan->inverter.present ? 1 : 0, c->rated_w, c->fixed_frac,
		c->linear_frac, c->square_frac, plan->inverter.always_on ? 1 : 0};
	put(out, "inverter", inverter, 6);
}

static void put_parts(FILE *out, const rig_plan *plan)
{
	put_one(out, "knots", (double)plan->n_knots);
	put_one(out, "consumers", (double)plan->n_consumers);
	put_one(out, "sources", (double)plan->n_sources);
	for (size_t k = 0; k < plan->n_consumers; k++) {
		const rig_consumer *it = &plan->consumers[k].it;
		double row[30] = {(double)plan->consumers[k].index, it->through_inverter,
			it->watts_w, (double)it->duty, it->balance_c, it->duty_per_k};
		memcpy(row + 6, it->on_frac, sizeof it->on_frac);
		put(out, "consumer", row, 30);
	}
	for (size_t k = 0; k < plan->n_sources; k++)
		put(out, "source", plan->sources[k].watts_w, plan->n_hours * plan->n_knots);
}

/* [i * TRIPS + trip] */
static void gather(const double *lanes, size_t n, size_t first, double *all)
{
	for (size_t i = 0; i < n; i++)
		for (size_t lane = 0; lane < RIG_LANES && first + lane < TRIPS; lane++)
			all[i * TRIPS + first + lane] = lanes[i * RIG_LANES + lane];
}

static void put_draws(FILE *out, trip_fleet *fleet)
{
	const rig_plan *plan = trip_fleet_plan(fleet);
	const size_t n[] = {DAYS, DAYS, plan->n_consumers, plan->n_sources, 1, 1, 1, 1};
	static const char *const NAME[] = {"sky", "warmth", "consumer_ratio", "source_ratio",
		"capacity_ratio", "usable_ratio", "efficiency_ratio", "inverter_ratio"};
	double *all[8];
	for (int k = 0; k < 8; k++)
		all[k] = calloc((n[k] + 1) * TRIPS, sizeof(double));
	for (size_t first = 0; first < TRIPS; first += RIG_LANES) {
		rig_draws d;
		const size_t left = TRIPS - first;
		trip_fleet_draw(fleet, first, left < RIG_LANES ? left : RIG_LANES, &d);
		const double *lanes[] = {d.sky, d.warmth_k, d.consumer_ratio, d.source_ratio,
			d.capacity_ratio, d.usable_ratio, d.efficiency_ratio, d.inverter_ratio};
		for (int k = 0; k < 8; k++)
			gather(lanes[k], n[k], first, all[k]);
	}
	for (int k = 0; k < 8; k++) {
		put(out, NAME[k], all[k], n[k] * TRIPS);
		free(all[k]);
	}
}

static rig_trip_options options_of(void)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = NOVEMBER;
	options.n_days = DAYS;
	options.n_trips = TRIPS;
	options.n_side_trips = 0;
	return options;
}

/* What the study itself found, to be compared with. */
static void put_findings(FILE *out, const rig_file *file, const rig_trip_options *options)
{
	rig_trip_findings *found = NULL;
	if (rig_trip_study(rig_file_completed(file), rig_file_place(file, NULL), options, &found))
		exit(EXIT_FAILURE);
	put_one(out, "never_out", found->chance.never_out_frac);
	for (int k = 0; k < RIG_TRIP_QUANTILES; k++)
		put(out, "quantile", found->chance.charge_frac[k], found->n_hours);
	rig_trip_free(found);
}

int main(int argc, char **argv)
{
	FILE *out = argc == 3 ? fopen(argv[2], "wb") : NULL;
	rig_diags *diags = rig_diags_new();
	rig_buffer text = {0};
	rig_file *file = NULL;
	if (!out || rig_file_read(argv[1], 1 << 24, &text, diags) != RIG_OK ||
		rig_file_parse(text.text, text.length, diags, &file) != RIG_OK) {
		fputs("usage: trip_tables COACH FILE\n", stderr);
		return EXIT_FAILURE;
	}
	const rig_trip_options options = options_of();
	trip_model model = {.coach = rig_file_completed(file),
		.place = rig_file_place(file, NULL),
		.options = options,
		.arena = rig_arena_new()};
	trip_inputs inputs;
	trip_fleet *fleet = NULL;
	trip_sky sky = {.from = RIG_DAYS_OF_PLACE};
	rig_climate_facts_of_place(model.place, &sky.facts);
	if (trip_model_make(&model) ||
		trip_inputs_find(&model, trip_fleet_n_house(&model), &inputs))
		return EXIT_FAILURE;
	const fleet_setup setup = {.model = &model,
		.sky = &sky,
		.stay = {model.first_day, DAYS},
		.inputs = &inputs,
		.n_knots = TRIP_KNOTS,
		.n_workers = 1};
	if (trip_fleet_new(&setup, &fleet))
		return EXIT_FAILURE;
	put_store(out, trip_fleet_plan(fleet));
	put_parts(out, trip_fleet_plan(fleet));
	put_draws(out, fleet);
	put_findings(out, file, &options);
	trip_fleet_free(fleet);
	rig_arena_free(model.arena);
	rig_file_free(file);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return fclose(out) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
