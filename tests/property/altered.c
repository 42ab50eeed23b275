/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "altered.h"

#include <assert.h>
#include <string.h>

#include "studies/trip_warmth.h"

void altered_of(altered *it, const rig_coach *completed)
{
	it->coach = *completed;
	it->coach.circuits = it->circuits;
	it->coach.loads = it->loads;
	it->coach.banks = it->banks;
	it->coach.arrays = it->arrays;
	it->coach.n_together = 0;
	assert(completed->n_circuits < ALTERED_ITEMS && completed->n_loads < ALTERED_ITEMS);
	assert(completed->n_banks < ALTERED_ITEMS && completed->n_arrays < ALTERED_ITEMS);
	if (completed->n_circuits > 0)
		memcpy(it->circuits, completed->circuits,
			completed->n_circuits * sizeof it->circuits[0]);
	if (completed->n_loads > 0)
		memcpy(it->loads, completed->loads, completed->n_loads * sizeof it->loads[0]);
	if (completed->n_banks > 0)
		memcpy(it->banks, completed->banks, completed->n_banks * sizeof it->banks[0]);
	if (completed->n_arrays > 0)
		memcpy(it->arrays, completed->arrays, completed->n_arrays * sizeof it->arrays[0]);
}

rig_load *altered_twin(altered *it, size_t load)
{
	if (it->coach.n_loads >= ALTERED_ITEMS)
		return NULL;
	rig_load *twin = &it->loads[it->coach.n_loads++];
	*twin = it->loads[load];
	twin->id = "twin";
	return twin;
}

int altered_circuit(altered *it, rig_leg leg)
{
	assert(it->coach.n_circuits < ALTERED_ITEMS);
	rig_circuit *circuit = &it->circuits[it->coach.n_circuits];
	rig_circuit_clear(circuit);
	circuit->id = "one more";
	circuit->supply = RIG_AC;
	circuit->leg = leg;
	circuit->bank_index = -1;
	return (int)it->coach.n_circuits++;
}

rig_figure scaled(rig_figure figure, double k)
{
	figure.low *= k;
	figure.likely *= k;
	figure.high *= k;
	return figure;
}

static void scale_list(rig_figure *const figures[], size_t n, double k)
{
	for (size_t i = 0; i < n; i++)
		*figures[i] = scaled(*figures[i], k);
}

#define SCALE(k, ...)                                                                              \
	scale_list((rig_figure *const[]){__VA_ARGS__},                                             \
		sizeof((rig_figure *const[]){__VA_ARGS__}) / sizeof(rig_figure *), k)

/* A body that is known by its length only has the loss of a body of that length. */
static void scale_sources(rig_coach *coach, double k)
{
	coach->body.loss_w_per_k = trip_loss_w_per_k(coach);
	SCALE(k, &coach->inverter.watts_w, &coach->inverter.surge_w, &coach->inverter.idle_w,
		&coach->charger.amps_a, &coach->dc_charger.amps_a, &coach->generator.watts_w,
		&coach->generator.surge_w, &coach->generator.start_load_w,
		&coach->body.loss_w_per_k, &coach->body.gains_w);
}

void altered_scale(altered *it, double k)
{
	for (size_t i = 0; i < it->coach.n_circuits; i++)
		it->circuits[i].breaker_a = scaled(it->circuits[i].breaker_a, k);
	for (size_t i = 0; i < it->coach.n_loads; i++) {
		rig_load *load = &it->loads[i];
		SCALE(k, &load->running_w, &load->running_a, &load->start_a, &load->heat_w);
	}
	for (size_t i = 0; i < it->coach.n_banks; i++) {
		rig_bank *bank = &it->banks[i];
		SCALE(k, &bank->capacity_ah, &bank->capacity_wh, &bank->charge_limit_a,
			&bank->cold_cranking_a, &bank->short_circuit_a, &bank->usable_wh,
			&bank->total_wh, &bank->total_ah);
	}
	for (size_t i = 0; i < it->coach.n_arrays; i++) {
		rig_array *array = &it->arrays[i];
		SCALE(k, &array->watts_w, &array->imp_a, &array->isc_a, &array->controller_limit_a,
			&array->total_w);
	}
	scale_sources(&it->coach, k);
}

void altered_place(altered *it)
{
	const int circuit[2] = {altered_circuit(it, RIG_LEG_1), altered_circuit(it, RIG_LEG_2)};
	it->coach.cord_a = 50;
	for (size_t i = 0; i < it->coach.n_circuits; i++)
		if (it->circuits[i].supply != RIG_DC && it->circuits[i].leg == RIG_LEG_UNSAID)
			it->circuits[i].leg = i % 2 == 0 ? RIG_LEG_1 : RIG_LEG_2;
	for (size_t i = 0; i < it->coach.n_loads; i++)
		if (it->loads[i].supply != RIG_DC && it->loads[i].circuit_index < 0)
			it->loads[i].circuit_index = circuit[i % 2];
	if (it->coach.charger.circuit_index < 0)
		it->coach.charger.circuit_index = circuit[0];
}

void altered_swap_legs(altered *it)
{
	for (size_t i = 0; i < it->coach.n_circuits; i++) {
		rig_leg *leg = &it->circuits[i].leg;
		if (*leg == RIG_LEG_1)
			*leg = RIG_LEG_2;
		else if (*leg == RIG_LEG_2)
			*leg = RIG_LEG_1;
	}
}
