/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shed_scene.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../rig/random_coach.h"

void scene_start(shed_scene *scene, int cord_a)
{
	*scene = (shed_scene){.coach = {.cord_a = cord_a}};
	rig_coach *coach = &scene->coach;
	coach->loads = scene->load;
	coach->circuits = scene->circuit;
	coach->banks = scene->bank;
	coach->charger.circuit_index = coach->charger.bank_index = -1;
	coach->energy_management = (rig_energy_management){.present = true,
		.sensing_delay_s = exactly(2),
		.restore_delay_s = exactly(120),
		.minimum_off_s = exactly(180),
		.order = scene->order};
}

int scene_add(shed_scene *scene, const char *profile, rig_leg leg)
{
	const size_t i = scene->coach.n_loads++;
	const rig_appliance *appliance = rig_appliance_find(profile);
	ck_assert_ptr_nonnull(appliance);
	ck_assert_uint_lt(i, SCENE_LOADS);
	snprintf(scene->id[i], sizeof scene->id[i], "l%02zu", i);
	scene->circuit[scene->coach.n_circuits++] =
		(rig_circuit){.supply = RIG_AC, .leg = leg, .bank_index = -1};
	scene->load[i] = (rig_load){
		.id = scene->id[i],
		.name = appliance->label,
		.count = 1,
		.supply = RIG_AC,
		.behaviour = appliance->behaviour,
		.volts_v = exactly(appliance->volts_v),
		.running_w = appliance->running_w,
		.power_factor = appliance->power_factor,
		.duty_frac = appliance->duty_frac,
		.daily_use_h = appliance->daily_use_h,
		.from_hour = -1,
		.to_hour = -1,
		.priority = appliance->priority,
		.always_on = appliance->always_on ? RIG_YES : RIG_NO,
		.appliance = appliance,
		.circuit_index = (int)i,
		.bank_index = -1,
	};
	return (int)i;
}

void scene_drops(shed_scene *scene, int load)
{
	scene->order[scene->coach.energy_management.n_order++] = scene->id[load];
}

void scene_charge(shed_scene *scene)
{
	scene->coach.n_banks = 1;
	scene->bank[0] = (rig_bank){.role = RIG_HOUSE,
		.nominal_v = exactly(12),
		.usable_wh = exactly(1200),
		.total_wh = exactly(2400),
		.charge_efficiency_frac = exactly(0.85)};
	scene->coach.charger = (rig_charger){
		.present = true, .amps_a = exactly(60), .bank_index = 0, .circuit_index = -1};
}

void scene_random(shed_scene *scene, uint64_t seed)
{
	static const int CORD_A[] = {15, 20, 30, 30, 50, 50};
	static const rig_leg LEG[] = {RIG_LEG_1, RIG_LEG_2, RIG_LEG_UNSAID};
	uint64_t state = seed;
	scene_start(scene, CORD_A[random_below(&state, 6)]);
	const size_t n = 4 + (size_t)random_below(&state, 9);
	while (scene->coach.n_loads < n) {
		const int which = random_below(&state, (int)rig_n_appliances());
		const rig_appliance *appliance = rig_appliance_at((size_t)which);
		if (appliance->supply != RIG_AC || strncmp(appliance->id, "converter", 9) == 0 ||
			strncmp(appliance->id, "inverter", 8) == 0)
			continue;
		const int load = scene_add(scene, appliance->id, LEG[random_below(&state, 3)]);
		if (random_share(&state) < 0.7)
			scene_drops(scene, load);
	}
}

const rig_coach *scene_sample(const char *name, rig_file **file)
{
	char path[512];
	snprintf(path, sizeof path, "%s/samples/%s", RIG_SOURCE_DIR, name);
	FILE *in = fopen(path, "rb");
	ck_assert_ptr_nonnull(in);
	static char text[1 << 18];
	const size_t length = fread(text, 1, sizeof text, in);
	fclose(in);
	rig_diags *diags = rig_diags_new();
	ck_assert_int_eq(rig_file_parse(text, length, diags, file), RIG_OK);
	rig_diags_free(diags);
	return rig_file_completed(*file);
}

void stand_of_model(shed_stand *stand, const shed_model *model)
{
	if (model != &stand->model) {
		*stand = (shed_stand){.arena = rig_arena_new(), .model = *model};
		ck_assert_ptr_nonnull(stand->arena);
	}
	ck_assert_int_eq(shed_day_new(&stand->model, stand->arena, &stand->day), RIG_OK);
	ck_assert_int_eq(shed_state_new(&stand->model, stand->arena, &stand->state), RIG_OK);
	for (int g = 0; g < SHED_MAX_GROUPS; g++)
		stand->group[g] = g;
	stand->order = shed_order_of(stand->group, stand->model.n_groups);
}

void stand_make(shed_stand *stand, const rig_coach *coach, const rig_shed_options *options)
{
	*stand = (shed_stand){.arena = rig_arena_new(),
		.findings = {.coach = coach, .options = *options, .n_days = options->n_days}};
	ck_assert_ptr_nonnull(stand->arena);
	ck_assert_int_eq(shed_model_of(stand->arena, &stand->findings, &stand->model), RIG_OK);
	stand_of_model(stand, &stand->model);
}

void stand_make_day(shed_stand *stand, const shed_scene *scene, rig_shed_weather weather)
{
	rig_shed_options options = rig_shed_defaults();
	options.weather = weather;
	options.n_days = 1;
	stand_make(stand, &scene->coach, &options);
}

void scene_tank(shed_tank *tank)
{
	*tank = (shed_tank){
		.unit = {.behaviour = RIG_SHED_WATER, .group = -1, .on_c = -50, .off_c = 90},
		.body = {.kind = SHED_TANK,
			.warm = {38 * 4186.0, 0},
			.inflow_c = 15,
			.above_c = INFINITY,
			.below_c = -INFINITY,
			.cold_c = 40,
			.flow_l_s = 0.06,
			.n_units = 1,
			.unit = &tank->member},
		.model = {.units = &tank->unit,
			.n_units = 1,
			.bodies = &tank->body,
			.n_bodies = 1,
			.n_hots = 1,
			.manager = {.limit_a = 30, .most_drops = 6, .reset_s = 3600}}};
	for (int k = 0; k < RIG_N_BREAKERS; k++)
		tank->model.breaker[k] = rig_breaker_of(30, (rig_breaker_kind)k);
}

void stand_of_tank(shed_stand *stand, const shed_tank *tank, double start_c, double drawn_s)
{
	stand_of_model(stand, &tank->model);
	stand->day->start_c[0] = start_c;
	stand->day->body_s[0][0] = 7000;
	stand->day->body_s[0][1] = 7000 + drawn_s;
	stand->day->n_body_s[0] = 2;
}

void stand_go(shed_stand *stand, const shed_order *order, shed_trace *trace)
{
	const shed_run run = {&stand->model, stand->day, order, false, NULL, trace};
	shed_begin(&run, stand->state);
	ck_assert_int_eq(shed_advance(&run, stand->state), SHED_DONE);
}

void stand_run(shed_stand *stand, size_t day, shed_trace *trace)
{
	shed_day_draw(&stand->model, stand->findings.options.seed, day, stand->day);
	stand_go(stand, &stand->order, trace);
}

void stand_trace(shed_stand *stand, shed_trace *trace)
{
	enum { ROOM = 20000 };
	*trace = (shed_trace){.spans_room = ROOM, .points_room = ROOM, .trips_room = ROOM};
	trace->spans = rig_arena_take(stand->arena, ROOM, sizeof *trace->spans);
	trace->points = rig_arena_take(stand->arena, ROOM, sizeof *trace->points);
	trace->trip_s = rig_arena_take(stand->arena, ROOM, sizeof *trace->trip_s);
	ck_assert(trace->spans && trace->points && trace->trip_s);
}

void stand_free(shed_stand *stand)
{
	rig_arena_free(stand->arena);
}
