/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/trip.h"

#include <stdlib.h>

#include "base/crew.h"
#include "studies/trip_findings.h"

enum { MAX_TRIPS = 1000000, WHOLE_YEAR = -1, JULY = 6 };

/* The findings and the memory of everything in them. */
typedef struct {
	rig_trip_findings findings;
	rig_arena *arena;
} trip_owned;

rig_trip_options rig_trip_defaults(void)
{
	return (rig_trip_options){.month = JULY,
		.n_days = 14,
		.habit = -1,
		.n_trips = 1000,
		.seed = 1,
		.n_side_trips = 256,
		.n_threads = 1,
		.wanted_out_frac = 0.05};
}

static bool options_are_right(const rig_coach *coach, const rig_trip_options *options)
{
	return options->month >= WHOLE_YEAR && options->month < 12 && options->n_days >= 1 &&
	       options->n_days <= RIG_YEAR_DAYS &&
	       (options->month != WHOLE_YEAR || options->n_days == RIG_YEAR_DAYS) &&
	       options->habit >= -1 && options->habit < (int)coach->n_habits &&
	       options->n_trips <= MAX_TRIPS && options->n_threads >= 1 &&
	       options->n_threads <= RIG_MAX_THREADS && options->wanted_out_frac > 0 &&
	       options->wanted_out_frac < 1 && options->drive_every_days >= 0;
}

static uint32_t notes_of_place(const rig_place *place)
{
	if (!place || place->record == RIG_RECORD_LONG)
		return 0;
	return place->record == RIG_RECORD_SHORT_CONFIRMED ? RIG_TRIP_SHORT_RECORD
							   : RIG_TRIP_UNCONFIRMED_RECORD;
}

static uint32_t notes_of_coach(const rig_coach *coach)
{
	bool has_house = false, house_array = false, chassis_array = false;
	for (size_t i = 0; i < coach->n_banks; i++)
		has_house = has_house || coach->banks[i].role != RIG_CHASSIS;
	for (size_t i = 0; i < coach->n_arrays; i++) {
		const int bank = coach->arrays[i].bank_index;
		if (bank < 0)
			continue;
		chassis_array = chassis_array || coach->banks[bank].role == RIG_CHASSIS;
		house_array = house_array || coach->banks[bank].role != RIG_CHASSIS;
	}
	const bool others = coach->generator.present || coach->dc_charger.present;
	return (has_house ? 0 : (uint32_t)RIG_TRIP_NO_HOUSE_BANK) |
	       (house_array ? 0 : (uint32_t)RIG_TRIP_NO_HOUSE_ARRAY) |
	       (chassis_array ? (uint32_t)RIG_TRIP_CHASSIS_ARRAY : 0) |
	       (others ? (uint32_t)RIG_TRIP_OTHER_SOURCES : 0);
}

/* Banks that take the outdoor temperature, and whether one is ever too cold to be charged. */
static uint32_t notes_of_cold(const trip_model *model)
{
	uint32_t notes = 0;
	for (size_t s = 0; s < model->n_stores; s++) {
		const rig_bank *bank = &model->coach->banks[model->bank_of[s]];
		const bool own = rig_figure_given(bank->temp_c);
		const double floor_c = bank->kind ? bank->kind->charge_floor_c : -273;
		notes |= own ? 0 : (uint32_t)RIG_TRIP_OUTDOOR_BANK;
		for (size_t hour = 0; hour < model->n_hours; hour++) {
			const double temp_c =
				own ? bank->temp_c.likely : model->temp_c[hour % model->n_period];
			if (temp_c < floor_c)
				notes |= RIG_TRIP_COLD_NO_CHARGE;
		}
	}
	return notes;
}

/* The likely course with all that hangs on it, and the many trips laid out: two jobs. */
typedef struct {
	trip_model *model;
	trip_chance_run *run;
	rig_trip_findings *findings;
	rig_status status[2];
} two_parts;

static rig_status find_course(trip_model *model, rig_trip_findings *findings)
{
	trip_plans plans = {{NULL}, {NULL}};
	rig_status status = RIG_OK;
	if (model->n_stores > 0)
		status = trip_plans_make(model, &plans);
	if (status == RIG_OK)
		status = trip_find_banks(model, &plans, findings);
	if (status == RIG_OK)
		status = trip_find_loads(model, &plans, findings);
	if (status == RIG_OK)
		status = trip_find_habits(model, findings);
	trip_plans_free(&plans);
	return status;
}

static bool do_part(void *context, size_t worker, size_t part)
{
	two_parts *it = context;
	(void)worker;
	it->status[part] =
		part == 0 ? find_course(it->model, it->findings) : trip_chance_lay(it->run);
	return true;
}

static void set_notes(trip_model *model, rig_trip_findings *findings)
{
	if (model->options.drive_every_days > 0 && model->coach->dc_charger.present)
		model->notes |= RIG_TRIP_DRIVES;
	findings->notes = model->notes | notes_of_coach(model->coach) |
			  notes_of_place(model->place) | notes_of_cold(model) |
			  RIG_TRIP_STARTS_FULL |
			  (model->options.weather ? RIG_TRIP_REAL_YEAR : RIG_TRIP_MEAN_WEATHER);
}

static rig_status find_all(trip_model *model, rig_trip_findings *findings)
{
	trip_chance_run run;
	rig_status status = trip_model_make(model);
	if (status == RIG_OK)
		status = trip_chance_begin(model, &run);
	if (status != RIG_OK)
		return status;
	two_parts parts = {model, &run, findings, {RIG_NO_MEMORY, RIG_NO_MEMORY}};
	const crew_jobs jobs = {.n_workers = model->options.n_threads,
		.n_jobs = 2,
		.context = &parts,
		.job = do_part};
	(void)crew_do(&jobs);
	status = parts.status[0] != RIG_OK ? parts.status[0] : parts.status[1];
	if (status == RIG_OK)
		status = trip_find_chance(model, &run, findings);
	findings->first_day = model->first_day;
	findings->n_hours = model->n_hours;
	set_notes(model, findings);
	trip_chance_end(&run);
	return status;
}

rig_status rig_trip_study(const rig_coach *completed, const rig_place *place,
	const rig_trip_options *options, rig_trip_findings **findings)
{
	const rig_trip_options chosen = options ? *options : rig_trip_defaults();
	if (!options_are_right(completed, &chosen) || (!place && !chosen.weather) ||
		completed->n_banks > RIG_MAX_STORES)
		return RIG_BAD_INPUT;
	rig_status status = RIG_NO_MEMORY;
	trip_owned *made = calloc(1, sizeof *made);
	if (!made || !(made->arena = rig_arena_new()))
		goto out;
	made->findings.coach = completed;
	made->findings.options = chosen;
	made->findings.has_place = place != NULL;
	if (place)
		made->findings.place = *place;
	trip_model model = {
		.coach = completed, .place = place, .options = chosen, .arena = made->arena};
	status = find_all(&model, &made->findings);
	if (status != RIG_OK)
		goto out;
	*findings = &made->findings;
	made = NULL;
out:
	if (made)
		rig_trip_free(&made->findings);
	return status;
}

void rig_trip_free(rig_trip_findings *findings)
{
	if (!findings)
		return;
	/* findings is the first member */
	trip_owned *owned = (trip_owned *)findings;
	if (owned->arena)
		rig_arena_free(owned->arena);
	free(owned);
}
