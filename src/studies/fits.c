/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/fits_search.h"

#include <math.h>

static void tell(const fits_search *s, rig_fits_proof *proof)
{
	*proof = (rig_fits_proof){.proved = !s->stopped, .n_steps = s->n_steps};
}

struct rig_fits_asker {
	rig_arena *arena;
	fits_search *search;
};

rig_fits_asker *rig_fits_asker_new(const rig_fits_problem *problem)
{
	rig_arena *arena = rig_arena_new();
	rig_fits_asker *asker = arena ? rig_arena_take(arena, 1, sizeof *asker) : NULL;
	fits_search *s = asker ? fits_search_new(problem, arena, fits_compare_rank) : NULL;
	if (!s) {
		rig_arena_free(arena);
		return NULL;
	}
	s->can_improve = fits_can_improve_count;
	s->beats = fits_beats_by_count;
	*asker = (rig_fits_asker){arena, s};
	return asker;
}

void rig_fits_asker_free(rig_fits_asker *asker)
{
	if (asker)
		rig_arena_free(asker->arena);
}

void rig_fits_with(
	rig_fits_asker *asker, const bool wanted[], rig_fits_leg leg[], rig_fits_proof *proof)
{
	fits_search *s = asker->search;
	fits_want(s, wanted);
	fits_visit(s, 0);
	fits_answer(s, leg);
	tell(s, proof);
}

rig_status rig_fits_by_priority(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_fits_asker *asker = rig_fits_asker_new(problem);
	if (!asker)
		return RIG_NO_MEMORY;
	rig_fits_with(asker, NULL, leg, proof);
	rig_fits_asker_free(asker);
	return RIG_OK;
}

rig_status rig_fits_by_weight(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	fits_search *s = arena ? fits_search_new(problem, arena, fits_compare_density) : NULL;
	if (s) {
		s->can_improve = fits_can_improve_weight;
		s->beats = fits_beats_by_weight;
		fits_visit(s, 0);
		fits_answer(s, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

/* All items on, as a start for a deal; gives the sum of both hots. */
static rig_phasor switch_all_on(fits_search *s)
{
	rig_phasor all = {0};
	for (size_t i = 0; i < s->problem->n_items; i++) {
		const rig_fits_item *item = s->order[i];
		const double n_hots = item->leg == RIG_FITS_BOTH ? 2.0 : 1.0;
		all = fits_add(all, rig_phasor_scale(item->loaded, n_hots));
		s->now[i] = item->leg;
		s->on[s->n_on++] = i;
		if (item->circuit >= 0)
			s->circuit[item->circuit] =
				fits_add(s->circuit[item->circuit], item->loaded);
	}
	return all;
}

rig_status rig_fits_whole(const rig_fits_problem *problem, bool *fits)
{
	rig_arena *arena = rig_arena_new();
	fits_search *s = arena ? fits_search_new(problem, arena, fits_compare_rank) : NULL;
	if (s) {
		switch_all_on(s);
		bool held = true;
		for (size_t i = 0; i < problem->n_items && held; i++)
			held = fits_circuit_holds(s, &problem->items[i]);
		*fits = held && fits_redeal(s, true) && fits_hots_hold(s);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}

rig_status rig_fits_split(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof)
{
	rig_arena *arena = rig_arena_new();
	fits_search *s = arena ? fits_search_new(problem, arena, fits_compare_rank) : NULL;
	if (s) {
		const rig_phasor all = switch_all_on(s);
		const rig_deal_problem limits = {
			.limit_va = INFINITY, .enough_va = rig_phasor_va(all) / 2.0};
		fits_deal_anew(s, &limits);
		fits_record(s);
		fits_answer(s, leg);
		tell(s, proof);
	}
	rig_arena_free(arena);
	return s ? RIG_OK : RIG_NO_MEMORY;
}
