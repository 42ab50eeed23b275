/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A coach with an option's parts in it, by way of the text of its rig file: what is run is what is
 * written. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "studies/size_case.h"

static rig_figure label(double value)
{
	return rig_figure_of(value, RIG_FROM_NAMEPLATE);
}

static rig_figure label_of(rig_figure figure)
{
	return rig_figure_given(figure) ? label(figure.likely) : (rig_figure){0};
}

/* ---- loads ---- */

static bool set_loads(const size_case *it, rig_arena *arena, rig_coach *coach)
{
	const bool as_is = !it->options.all_loads && it->options.n_loads == 0;
	rig_load *loads = rig_arena_take(arena, coach->n_loads, sizeof *loads);
	if (loads == NULL)
		return false;
	for (size_t i = 0; i < coach->n_loads; i++) {
		loads[i] = it->stated->loads[i];
		if (!as_is && it->coach->loads[i].supply != RIG_DC)
			loads[i].inverter = it->wanted[i] ? RIG_YES : RIG_NO;
	}
	coach->loads = loads;
	return true;
}

/* ---- panels ---- */

/* An id that no array has yet. */
static const char *free_id(const rig_coach *coach, rig_arena *arena, const char *wish)
{
	for (int k = 1; k < 1000; k++) {
		const char *id = k == 1 ? wish : rig_arena_format(arena, "%s-%d", wish, k);
		bool taken = false;
		for (size_t i = 0; i < coach->n_arrays; i++)
			taken = taken || strcmp(coach->arrays[i].id, id) == 0;
		for (size_t i = 0; i < coach->n_banks; i++)
			taken = taken || strcmp(coach->banks[i].id, id) == 0;
		for (size_t i = 0; i < coach->n_wires; i++)
			taken = taken || strcmp(coach->wires[i].id, id) == 0;
		if (!taken)
			return id;
	}
	return wish;
}

static const char *bank_id(const size_case *it)
{
	return it->bank >= 0 ? it->stated->banks[it->bank].id : "house";
}

static rig_array new_array(const size_case *it, const size_array *from, const char *id)
{
	const rig_part_panel *panel = &it->parts->panels[from->panel];
	const rig_part_controller *controller = &it->parts->controllers[from->controller];
	rig_array array;
	rig_array_clear(&array);
	array.id = id;
	array.name = panel->name != NULL ? panel->name : panel->id;
	array.bank = bank_id(it);
	array.count = from->n;
	array.watts_w = label_of(panel->watts_w);
	array.panel = panel->panel;
	array.vmp_v = label_of(panel->vmp_v);
	array.voc_v = label_of(panel->voc_v);
	array.imp_a = label_of(panel->imp_a);
	array.isc_a = label_of(panel->isc_a);
	array.controller = controller->controller;
	if (!from->unlimited)
		array.controller_limit_a = label(from->n_controllers * controller->limit_a.likely);
	array.controller_efficiency_frac = label_of(controller->efficiency_frac);
	/* the same roof has the same shade */
	for (size_t i = 0; i < it->stated->n_arrays; i++)
		if (it->coach->arrays[i].bank_index == it->bank &&
			!rig_figure_given(array.shade_frac))
			array.shade_frac = it->stated->arrays[i].shade_frac;
	return array;
}

static bool set_arrays(
	const size_case *it, const size_array *from, rig_arena *arena, rig_coach *coach)
{
	rig_array *arrays = rig_arena_take(arena, coach->n_arrays + 1, sizeof *arrays);
	if (arrays == NULL)
		return false;
	const char *id = free_id(it->stated, arena, "new-panels");
	size_t n = 0;
	for (size_t i = 0; i < it->stated->n_arrays; i++)
		if (it->options.panels != RIG_SIZE_REPLACE ||
			it->coach->arrays[i].bank_index != it->bank)
			arrays[n++] = it->stated->arrays[i];
	if (from->n > 0)
		arrays[n++] = new_array(it, from, id);
	coach->arrays = arrays;
	coach->n_arrays = n;
	return id != NULL;
}

/* ---- bank ---- */

static rig_bank new_bank(const size_case *it, const size_bank *from)
{
	const rig_part_battery *battery = &it->parts->batteries[from->battery];
	rig_bank bank;
	rig_bank_clear(&bank);
	bank.id = bank_id(it);
	bank.name = battery->name != NULL ? battery->name : battery->id;
	bank.role = RIG_HOUSE;
	bank.chemistry = battery->chemistry;
	bank.nominal_v = label(from->volts_v);
	bank.capacity_ah = label_of(battery->capacity_ah);
	bank.series = from->series;
	bank.parallel = from->parallel;
	bank.age_years = rig_figure_of(0, RIG_FROM_STATED);
	if (rig_figure_given(battery->charge_limit_a))
		bank.charge_limit_a = label(battery->charge_limit_a.likely * from->parallel);
	bank.short_circuit_a = label_of(battery->short_circuit_a);
	if (it->bank >= 0)
		bank.temp_c = it->stated->banks[it->bank].temp_c;
	return bank;
}

static bool set_banks(
	const size_case *it, const size_make *make, rig_arena *arena, rig_coach *coach)
{
	rig_bank *banks = rig_arena_take(arena, coach->n_banks + 1, sizeof *banks);
	if (banks == NULL)
		return false;
	for (size_t i = 0; i < coach->n_banks; i++)
		banks[i] = it->stated->banks[i];
	const size_t at = it->bank >= 0 ? (size_t)it->bank : coach->n_banks++;
	if (make->bank->battery >= 0)
		banks[at] = new_bank(it, make->bank);
	coach->banks = banks;
	return true;
}

/* ---- inverter and charger ---- */

static void set_inverter(const size_case *it, const size_inverter *from, rig_coach *coach)
{
	if (from->inverter < 0)
		return;
	const rig_part_inverter *part = &it->parts->inverters[from->inverter];
	coach->inverter = (rig_inverter){.present = true,
		.name = part->name != NULL ? part->name : part->id,
		.bank = bank_id(it),
		.watts_w = label_of(part->watts_w),
		.surge_w = label_of(part->surge_w),
		.idle_w = label_of(part->idle_w),
		/* as the one before it was used */
		.always_on =
			it->stated->inverter.present ? it->stated->inverter.always_on : RIG_UNSAID};
	if (!rig_figure_given(part->charger_a))
		return;
	const rig_charger before = coach->charger;
	coach->charger = (rig_charger){.present = true,
		.name = coach->inverter.name,
		.bank = bank_id(it),
		.circuit = before.present ? before.circuit : NULL,
		.amps_a = label_of(part->charger_a)};
}

/* ---- wires ---- */

static const char *gauge_text(rig_arena *arena, int awg)
{
	return awg > 0 ? rig_arena_format(arena, "%d", awg)
		       : rig_arena_format(arena, "%d/0", 1 - awg);
}

static void add_wire(
	const size_case *it, rig_arena *arena, const rig_size_run *run, int which, rig_coach *coach)
{
	static const char *const ID[] = {
		"new-panels-run", "new-controller-run", "new-inverter-run"};
	static const char *const NAME[] = {
		"New panels to their controller", "Controller to the bank", "Bank to the inverter"};
	if (!run->asked || !run->solved)
		return;
	rig_wire wire;
	rig_wire_clear(&wire);
	wire.id = free_id(coach, arena, ID[which]);
	wire.name = run->n_alike > 1
			    ? rig_arena_format(arena, "%s, one of %d", NAME[which], run->n_alike)
			    : NAME[which];
	wire.awg = gauge_text(arena, run->choice.wire.awg);
	wire.length_m = rig_figure_of(run->job.length_m, RIG_FROM_ESTIMATED);
	wire.amps_a = rig_figure_of(run->job.amps_a, RIG_FROM_ESTIMATED);
	wire.continuous = RIG_YES;
	wire.fuse_a = rig_figure_of(run->fuse_a, RIG_FROM_STATED);
	wire.drop_frac = rig_figure_of(run->job.drop_frac, RIG_FROM_STATED);
	wire.insulation_c = rig_figure_of(run->job.insulation_c, RIG_FROM_STATED);
	wire.ambient_c = rig_figure_of(run->job.ambient_c, RIG_FROM_STATED);
	if (which == RIG_SIZE_RUN_ARRAY)
		wire.volts_v = rig_figure_of(run->job.volts_v, RIG_FROM_NAMEPLATE);
	else
		wire.bank = bank_id(it);
	if (which == RIG_SIZE_RUN_INVERTER)
		wire.feeds = RIG_FEEDS_INVERTER;
	/* beside arrays that stay nobody could tell whose wire it is */
	else if (which == RIG_SIZE_RUN_CONTROLLER && coach->n_arrays == 1)
		wire.feeds = RIG_FEEDS_SOLAR;
	if (run->fuse >= 0)
		wire.interrupt_a = label_of(it->parts->fuses[run->fuse].interrupt_a);
	coach->wires[coach->n_wires++] = wire;
}

static bool set_wires(
	const size_case *it, const size_make *make, rig_arena *arena, rig_coach *coach)
{
	rig_wire *wires = rig_arena_take(arena, coach->n_wires + RIG_SIZE_N_RUNS, sizeof *wires);
	if (wires == NULL)
		return false;
	if (coach->n_wires > 0)
		memcpy(wires, coach->wires, coach->n_wires * sizeof *wires);
	coach->wires = wires;
	add_wire(it, arena, &make->array->panel_run, RIG_SIZE_RUN_ARRAY, coach);
	add_wire(it, arena, &make->array->bank_run, RIG_SIZE_RUN_CONTROLLER, coach);
	add_wire(it, arena, &make->inverter->run, RIG_SIZE_RUN_INVERTER, coach);
	return true;
}

/* ---- the whole ---- */

char *size_make_text(const size_case *it, const size_make *make)
{
	rig_coach coach = *it->stated;
	rig_arena *arena = rig_arena_new();
	char *text = NULL;
	if (arena == NULL)
		return NULL;
	/* readings are of the old system */
	coach.n_readings = 0;
	coach.readings = NULL;
	if (set_loads(it, arena, &coach) && set_arrays(it, make->array, arena, &coach) &&
		set_banks(it, make, arena, &coach)) {
		set_inverter(it, make->inverter, &coach);
		if (set_wires(it, make, arena, &coach))
			text = rig_coach_text(&coach);
	}
	rig_arena_free(arena);
	return text;
}

rig_status size_make_coach(const size_case *it, const size_make *make, rig_file **file)
{
	char *text = size_make_text(it, make);
	rig_diags *diags = rig_diags_new();
	rig_status status = RIG_NO_MEMORY;
	if (text != NULL && diags != NULL)
		status = rig_file_parse(text, strlen(text), diags, file);
	rig_diags_free(diags);
	free(text);
	return status;
}
