/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shore_scene.h"

#include <stdio.h>
#include <string.h>

#include "suites.h"

void shore_start(shore_scene *scene, int cord_a)
{
	*scene = (shore_scene){.coach = {.cord_a = cord_a}};
	scene->coach.circuits = scene->circuit;
	scene->coach.loads = scene->load;
	scene->coach.banks = scene->bank;
	scene->coach.together = scene->together;
	scene->coach.charger.circuit_index = scene->coach.charger.bank_index = -1;
}

int shore_circuit(shore_scene *scene, rig_leg leg, double breaker_a)
{
	const size_t i = scene->coach.n_circuits++;
	scene->circuit[i] = (rig_circuit){
		.supply = RIG_AC, .leg = leg, .breaker_a = exactly(breaker_a), .bank_index = -1};
	return (int)i;
}

rig_load *shore_load(shore_scene *scene, int circuit, rig_figure watts_w, bool continuous)
{
	const size_t i = scene->coach.n_loads++;
	snprintf(scene->id[i], sizeof scene->id[i], "l%02zu", i);
	scene->load[i] = (rig_load){
		.id = scene->id[i],
		.count = 1,
		.supply = RIG_AC,
		.behaviour = RIG_RESISTIVE,
		.volts_v = exactly(120),
		.running_w = watts_w,
		.power_factor = exactly(1),
		.priority = 5,
		.continuous = continuous ? RIG_YES : RIG_NO,
		.circuit_index = circuit,
		.bank_index = -1,
	};
	return &scene->load[i];
}

rig_load *shore_amps(shore_scene *scene, int circuit, double amps_a)
{
	return shore_load(scene, circuit, exactly(amps_a * 120), false);
}

void shore_together(shore_scene *scene, const char *name, size_t n, const int index[])
{
	const size_t i = scene->coach.n_together++;
	memcpy(scene->index[i], index, n * sizeof *index);
	scene->together[i] = (rig_together){.name = name,
		.n_loads = n,
		.loads = scene->names[i],
		.load_index = scene->index[i]};
}

rig_shore_findings *shore_ask(const shore_scene *scene)
{
	rig_shore_findings *findings = NULL;
	ck_assert_int_eq(rig_shore_study(&scene->coach, NULL, &findings), RIG_OK);
	ck_assert_uint_eq(findings->n_supplies, N_SUPPLIES);
	return findings;
}

const rig_shore_set *shore_everything(const rig_shore_findings *findings)
{
	for (size_t i = 0; i < findings->n_sets; i++)
		if (findings->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return &findings->sets[i];
	ck_abort_msg("there is no set of everything");
	return NULL;
}

const rig_shore_budget *shore_on(const rig_shore_findings *findings, int supply)
{
	return &shore_everything(findings)->budgets[supply - S50];
}

int shore_count(const rig_shore_item *items, size_t n, int load)
{
	for (size_t i = 0; i < n; i++)
		if (items[i].load == load)
			return items[i].count;
	return 0;
}
