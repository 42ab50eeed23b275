/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rig/complete.h"

#include <string.h>

#include "rig/effective.h"

const char RIG_COMMON_PRACTICE[] = "common practice, no source";

/* A place further than this may have another sky; from one still further no weather is taken
 * (common practice, no source). */
static const double FAR_KM = 80, TOO_FAR_KM = 500;

void rig_fill(rig_figure *figure, rig_figure with, const char *source)
{
	if (rig_figure_given(*figure) || !rig_figure_given(with))
		return;
	*figure = with;
	figure->from = RIG_FROM_PROFILE;
	figure->unit = 0;
	figure->source = source;
}

void rig_fill_range(rig_figure *figure, double low, double likely, double high, const char *source)
{
	rig_fill(figure, rig_figure_range(low, likely, high, RIG_FROM_PROFILE), source);
}

void rig_fill_times(rig_figure *figure, rig_figure of, const double factor[3], const char *source)
{
	if (!rig_figure_given(of))
		return;
	rig_fill(figure,
		rig_figure_multiply(
			of, rig_figure_range(factor[0], factor[1], factor[2], RIG_FROM_PROFILE)),
		source);
}

void rig_fill_from_table(rig_object object, void *into)
{
	const rig_object_keys *keys = rig_keys_of(object);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		void *field = rig_key_field(key, into);
		if (!key->filled)
			continue;
		if (key->kind == RIG_KEY_FIGURE)
			rig_fill_range(
				field, key->fill[0], key->fill[1], key->fill[2], key->absent);
		else if (key->kind == RIG_KEY_WHOLE && *(int *)field < 0)
			*(int *)field = (int)key->fill[1];
	}
}

void rig_remark_on(rig_reader *reader, rig_object object, size_t i, const rig_saying *saying)
{
	const rig_spot spot = {.record = reader->first[object] + (int)i};
	rig_say_remark(reader, &spot, saying);
}

/* A copy of a list, so that the stated one stays as it is. */
static void *copy_list(rig_reader *reader, const void *list, size_t n, size_t size)
{
	void *copy = rig_arena_take(reader->arena, n, size);
	if (copy == NULL)
		reader->no_memory = true;
	else if (n > 0)
		memcpy(copy, list, n * size);
	return copy;
}

static void copy_lists(rig_reader *reader, rig_coach *coach)
{
	coach->circuits =
		copy_list(reader, coach->circuits, coach->n_circuits, sizeof *coach->circuits);
	coach->loads = copy_list(reader, coach->loads, coach->n_loads, sizeof *coach->loads);
	coach->banks = copy_list(reader, coach->banks, coach->n_banks, sizeof *coach->banks);
	coach->arrays = copy_list(reader, coach->arrays, coach->n_arrays, sizeof *coach->arrays);
	coach->together =
		copy_list(reader, coach->together, coach->n_together, sizeof *coach->together);
	coach->habits = copy_list(reader, coach->habits, coach->n_habits, sizeof *coach->habits);
	coach->wires = copy_list(reader, coach->wires, coach->n_wires, sizeof *coach->wires);
	coach->readings =
		copy_list(reader, coach->readings, coach->n_readings, sizeof *coach->readings);
	coach->claims = copy_list(reader, coach->claims, coach->n_claims, sizeof *coach->claims);
	for (size_t i = 0; i < coach->n_habits && !reader->no_memory; i++) {
		rig_habit *habit = &coach->habits[i];
		habit->use = copy_list(reader, habit->use, habit->n_use, sizeof *habit->use);
	}
}

static int load_index(const rig_reader *reader, const char *id)
{
	return rig_ids_find(&reader->ids[RIG_TO_LOAD], id);
}

static void complete_sets(rig_reader *reader, rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_together; i++) {
		rig_together *set = &coach->together[i];
		set->load_index =
			rig_arena_take(reader->arena, set->n_loads, sizeof *set->load_index);
		reader->no_memory |= set->load_index == NULL;
		for (size_t j = 0; j < set->n_loads && set->load_index != NULL; j++)
			set->load_index[j] = load_index(reader, set->loads[j]);
	}
	for (size_t i = 0; i < coach->n_habits; i++) {
		rig_habit *habit = &coach->habits[i];
		if (habit->only == RIG_UNSAID)
			habit->only = RIG_NO;
		for (size_t j = 0; j < habit->n_use; j++)
			habit->use[j].load_index = load_index(reader, habit->use[j].load);
	}
}

static void complete_claims(rig_reader *reader, rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_claims; i++) {
		rig_claim *claim = &coach->claims[i];
		claim->says = rig_claim_says_of(claim);
		claim->bank_index = claim->bank == NULL
					    ? -1
					    : rig_ids_find(&reader->ids[RIG_TO_BANK], claim->bank);
		claim->array_index = claim->array == NULL ? -1
							  : rig_ids_find(&reader->ids[RIG_TO_ARRAY],
								    claim->array);
		claim->load_index =
			rig_arena_take(reader->arena, claim->n_loads, sizeof *claim->load_index);
		reader->no_memory |= claim->load_index == NULL;
		for (size_t j = 0; j < claim->n_loads && claim->load_index != NULL; j++)
			claim->load_index[j] = load_index(reader, claim->loads[j]);
	}
}

/* The bank that is named, else the only house bank, else -1. */
static int bank_index(const rig_reader *reader, const rig_coach *coach, const char *id)
{
	return id != NULL ? rig_ids_find(&reader->ids[RIG_TO_BANK], id)
			  : rig_only_house_bank(coach);
}

static void resolve_circuits(rig_reader *reader, rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_circuits; i++) {
		rig_circuit *circuit = &coach->circuits[i];
		circuit->supply = rig_circuit_supply(circuit);
		circuit->bank_index =
			circuit->supply == RIG_DC ? bank_index(reader, coach, circuit->bank) : -1;
		if (circuit->name == NULL)
			circuit->name = circuit->id;
	}
	coach->charger.circuit_index =
		coach->charger.circuit == NULL
			? -1
			: rig_ids_find(&reader->ids[RIG_TO_CIRCUIT], coach->charger.circuit);
}

static void resolve_banks(rig_reader *reader, rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_arrays; i++) {
		rig_array *array = &coach->arrays[i];
		array->bank_index = array->bank != NULL   ? bank_index(reader, coach, array->bank)
				    : coach->n_banks == 1 ? 0
							  : -1;
	}
	coach->inverter.bank_index = bank_index(reader, coach, coach->inverter.bank);
	coach->charger.bank_index = bank_index(reader, coach, coach->charger.bank);
	coach->dc_charger.bank_index = bank_index(reader, coach, coach->dc_charger.bank);
	for (size_t i = 0; i < coach->n_readings; i++) {
		rig_reading *reading = &coach->readings[i];
		const int bank = bank_index(reader, coach, reading->bank);
		if (rig_figure_given(reading->bank_a) && reading->bank == NULL && bank >= 0)
			reading->bank = coach->banks[bank].id;
		if (rig_figure_given(reading->array_a) && reading->array == NULL &&
			coach->n_arrays == 1)
			reading->array = coach->arrays[0].id;
	}
}

static void find_place(const rig_site *site, rig_standing *standing)
{
	*standing = (rig_standing){.index = -1};
	if (rig_figure_given(site->latitude_deg) && rig_figure_given(site->longitude_deg))
		standing->index = (long)rig_place_nearest(site->latitude_deg.likely,
			site->longitude_deg.likely, &standing->distance_km);
	else if (site->name != NULL)
		standing->index = rig_place_find(site->name);
	if (standing->index >= 0)
		rig_place_at((size_t)standing->index, &standing->place);
}

static void remark_too_far(rig_reader *reader, const rig_standing *standing)
{
	rig_remark_on(reader, RIG_OBJECT_PLACE, 0,
		&(rig_saying){.what = rig_words_of(reader,
				      "the nearest place with known weather, %s, is %.0f km away, "
				      "too far to tell the sun here",
				      standing->place.name, standing->distance_km),
			.mend = "ask with a year of hours of its weather, or with a place whose "
				"sky is alike"});
}

static void complete_place(rig_reader *reader, rig_site *site, rig_standing *standing)
{
	find_place(site, standing);
	if (standing->index >= 0 && standing->distance_km > TOO_FAR_KM) {
		remark_too_far(reader, standing);
		standing->index = -1;
	}
	if (standing->index < 0)
		return;
	const rig_place *place = &standing->place;
	const char *credit = rig_places_credit();
	rig_fill(&site->latitude_deg, rig_figure_of(place->latitude_deg, RIG_FROM_PROFILE), credit);
	rig_fill(&site->longitude_deg, rig_figure_of(place->longitude_deg, RIG_FROM_PROFILE),
		credit);
	rig_fill(&site->elevation_m, rig_figure_of(place->elevation_m, RIG_FROM_PROFILE), credit);
	if (site->name == NULL)
		site->name = place->name;
	if (standing->distance_km > FAR_KM)
		rig_remark_on(reader, RIG_OBJECT_PLACE, 0,
			&(rig_saying){.what = rig_words_of(reader,
					      "the weather is that of %s, %.0f km away",
					      place->name, standing->distance_km),
				.mend = "judge whether the sky there is alike"});
}

void rig_complete_coach(rig_reader *reader, rig_coach *completed, rig_standing *standing)
{
	*completed = *reader->coach;
	copy_lists(reader, completed);
	if (reader->no_memory)
		return;
	complete_place(reader, &completed->site, standing);
	resolve_circuits(reader, completed);
	resolve_banks(reader, completed);
	for (size_t i = 0; i < completed->n_banks; i++)
		rig_complete_bank(&completed->banks[i]);
	rig_complete_shore(completed);
	rig_complete_sources(reader, completed);
	for (size_t i = 0; i < completed->n_loads; i++)
		rig_complete_load(reader, completed, i);
	for (size_t i = 0; i < completed->n_arrays; i++)
		rig_complete_array(reader, completed, i);
	complete_sets(reader, completed);
	complete_claims(reader, completed);
}
