/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_choice.h"

#include <stdlib.h>
#include <string.h>

#include "studies/shore_budget.h"

/* One supply's question, and the scratch to answer it. */
typedef struct {
	const rig_shore_case *c;
	const rig_shore_supply *supply;
	size_t n;              /* live units */
	const size_t *by_rank; /* live units, kept longest first */
	bool *kept;            /* by unit */
} cut;

static double drawn_va(const rig_shore_unit *unit)
{
	return rig_phasor_va(unit->power[RIG_LIKELY]);
}

/* Kept longest first: by priority, then from the smallest draw up, then by id. */
static int compare_rank(const void *left, const void *right)
{
	const rig_shore_unit *a = *(const rig_shore_unit *const *)left;
	const rig_shore_unit *b = *(const rig_shore_unit *const *)right;
	if (a->priority != b->priority)
		return a->priority - b->priority;
	if (drawn_va(a) != drawn_va(b))
		return drawn_va(a) < drawn_va(b) ? -1 : 1;
	return a->key - b->key;
}

static rig_status rank_live(const rig_shore_case *c, const bool *live, cut *question)
{
	const rig_shore_unit **order =
		rig_arena_take(c->arena, c->n_units, sizeof(const rig_shore_unit *));
	size_t *by_rank = rig_arena_take(c->arena, c->n_units, sizeof *by_rank);
	if (!order || !by_rank)
		return RIG_NO_MEMORY;
	size_t n = 0;
	for (size_t i = 0; i < c->n_units; i++)
		if (live[i])
			order[n++] = &c->units[i];
	if (n > 0)
		qsort(order, n, sizeof(const rig_shore_unit *), compare_rank);
	for (size_t i = 0; i < n; i++)
		by_rank[i] = (size_t)(order[i] - c->units);
	question->n = n;
	question->by_rank = by_rank;
	return RIG_OK;
}

/* Adds one unit to a list where its load may already stand. */
static void list_unit(rig_shore_item *items, size_t *n, const rig_shore_unit *unit)
{
	for (size_t i = 0; i < *n; i++)
		if (items[i].load == unit->load) {
			items[i].count += unit->count;
			return;
		}
	items[(*n)++] = (rig_shore_item){unit->load, unit->count};
}

/* Writes down which units are kept. */
static rig_status write_choice(const cut *question, rig_shore_choice *choice)
{
	const rig_shore_case *c = question->c;
	choice->kept = rig_arena_take(c->arena, question->n, sizeof *choice->kept);
	choice->off = rig_arena_take(c->arena, question->n, sizeof *choice->off);
	bool *no_dc = rig_arena_take(c->arena, c->coach->n_loads, sizeof *no_dc);
	if (!choice->kept || !choice->off || !no_dc)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < question->n; i++) {
		const size_t unit = question->by_rank[i];
		if (!question->kept[unit])
			continue;
		list_unit(choice->kept, &choice->n_kept, &c->units[unit]);
		choice->weight += c->units[unit].count * (10.0 - c->units[unit].priority);
	}
	for (size_t i = question->n; i-- > 0;)
		if (!question->kept[question->by_rank[i]])
			list_unit(choice->off, &choice->n_off, &c->units[question->by_rank[i]]);
	const rig_shore_switches on = {question->kept, no_dc};
	rig_shore_budget kept = {0};
	const rig_status status = rig_shore_reckon(c, question->supply, &on, &kept);
	choice->watts_w = kept.watts_w;
	choice->most_loaded = kept.main;
	return status;
}

/* Whether what is kept fits. */
static rig_status ask(const cut *question, bool *fits)
{
	rig_fits_problem problem;
	size_t *of = rig_arena_take(question->c->arena, question->c->n_units, sizeof *of);
	if (!of)
		return RIG_NO_MEMORY;
	const rig_status status =
		rig_shore_problem(question->c, question->supply, question->kept, &problem, of);
	return status == RIG_OK ? rig_fits_whole(&problem, fits) : status;
}

static rig_status choose_greedily(cut *question, rig_shore_choice *choice)
{
	bool fits = false;
	rig_status status = ask(question, &fits);
	for (size_t i = question->n; status == RIG_OK && !fits && i-- > 0;) {
		question->kept[question->by_rank[i]] = false;
		status = ask(question, &fits);
	}
	for (size_t i = 0; status == RIG_OK && i < question->n; i++) {
		const size_t unit = question->by_rank[i];
		if (question->kept[unit])
			continue;
		question->kept[unit] = true;
		status = ask(question, &fits);
		question->kept[unit] = fits;
	}
	choice->proved = true; /* a rule followed to its end */
	return status == RIG_OK ? write_choice(question, choice) : status;
}

typedef rig_status search_for(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof);

static rig_status choose_exactly(cut *question, search_for *best, rig_shore_choice *choice)
{
	const rig_shore_case *c = question->c;
	rig_fits_problem problem;
	rig_fits_proof proof = {0};
	size_t *of = rig_arena_take(c->arena, c->n_units, sizeof *of);
	rig_fits_leg *leg = rig_arena_take(c->arena, c->n_units, sizeof *leg);
	if (!of || !leg)
		return RIG_NO_MEMORY;
	rig_status status = rig_shore_problem(c, question->supply, question->kept, &problem, of);
	if (status == RIG_OK)
		status = best(&problem, leg, &proof);
	if (status != RIG_OK)
		return status;
	for (size_t i = 0; i < problem.n_items; i++)
		question->kept[of[i]] = leg[i] != RIG_FITS_OFF;
	choice->proved = proof.proved;
	return write_choice(question, choice);
}

rig_status rig_shore_choose(const rig_shore_case *c, const rig_shore_supply *supply, const bool *on,
	rig_shore_budget *budget)
{
	cut question = {.c = c, .supply = supply};
	bool *live = rig_arena_take(c->arena, c->n_units, sizeof *live);
	question.kept = rig_arena_take(c->arena, c->n_units, sizeof *question.kept);
	if (!live || !question.kept)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++)
		live[i] = on[i] && !rig_shore_is_dead(supply, &c->units[i]);
	rig_status status = rank_live(c, live, &question);
	memcpy(question.kept, live, c->n_units * sizeof *live);
	if (status == RIG_OK)
		status = choose_greedily(&question, &budget->greedy);
	memcpy(question.kept, live, c->n_units * sizeof *live);
	if (status == RIG_OK)
		status = choose_exactly(&question, rig_fits_by_priority, &budget->best);
	memcpy(question.kept, live, c->n_units * sizeof *live);
	if (status == RIG_OK)
		status = choose_exactly(&question, rig_fits_by_weight, &budget->by_weight);
	return status;
}
