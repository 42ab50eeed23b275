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

static bool is_whole(const rig_shore_choice *choice)
{
	return choice->n_off == 0;
}

/* The next best sets after `best`, of those to which nothing can be added. */
static rig_status list_next(cut *question, rig_shore_budget *budget)
{
	const rig_shore_case *c = question->c;
	enum { N_WANTED = RIG_SHORE_N_NEXT + 1 };
	rig_fits_problem problem;
	rig_fits_proof proof = {0};
	size_t n_found = 0;
	size_t *of = rig_arena_take(c->arena, c->n_units, sizeof *of);
	rig_fits_leg *leg = rig_arena_take(c->arena, N_WANTED * c->n_units, sizeof *leg);
	budget->next = rig_arena_take(c->arena, RIG_SHORE_N_NEXT, sizeof *budget->next);
	if (!of || !leg || !budget->next)
		return RIG_NO_MEMORY;
	rig_status status = rig_shore_problem(c, question->supply, question->kept, &problem, of);
	if (status == RIG_OK)
		status = rig_fits_several(&problem, N_WANTED, leg, &n_found, &proof);
	for (size_t k = 1; status == RIG_OK && k < n_found; k++) {
		rig_shore_choice *next = &budget->next[budget->n_next++];
		for (size_t i = 0; i < problem.n_items; i++)
			question->kept[of[i]] = leg[k * problem.n_items + i] != RIG_FITS_OFF;
		next->proved = proof.proved;
		status = write_choice(question, next);
	}
	return status;
}

static int count_in(const rig_shore_item *items, size_t n, int load)
{
	for (size_t i = 0; i < n; i++)
		if (items[i].load == load)
			return items[i].count;
	return 0;
}

/* What best keeps and the way does not. */
static rig_status list_gives_way(
	const rig_shore_case *c, const rig_shore_choice *best, rig_shore_way *way)
{
	way->gives_way = rig_arena_take(c->arena, best->n_kept, sizeof *way->gives_way);
	if (!way->gives_way)
		return RIG_NO_MEMORY;
	for (size_t i = best->n_kept; i-- > 0;) {
		const rig_shore_item kept = best->kept[i];
		const int still = count_in(way->choice.kept, way->choice.n_kept, kept.load);
		if (still < kept.count)
			way->gives_way[way->n_gives_way++] =
				(rig_shore_item){kept.load, kept.count - still};
	}
	return RIG_OK;
}

/* The best set with one load on, all of its count. */
static rig_status find_way(cut *question, const rig_shore_choice *best, rig_shore_way *way)
{
	const rig_shore_case *c = question->c;
	rig_fits_problem problem;
	rig_fits_proof proof = {0};
	size_t *of = rig_arena_take(c->arena, c->n_units, sizeof *of);
	rig_fits_leg *leg = rig_arena_take(c->arena, c->n_units, sizeof *leg);
	rig_fits_item *items = rig_arena_take(c->arena, c->n_units, sizeof *items);
	if (!of || !leg || !items)
		return RIG_NO_MEMORY;
	rig_status status = rig_shore_problem(c, question->supply, question->kept, &problem, of);
	for (size_t i = 0; status == RIG_OK && i < problem.n_items; i++) {
		items[i] = problem.items[i];
		if (c->units[of[i]].load == way->wanted.load)
			items[i].priority = 0;
	}
	problem.items = items;
	if (status == RIG_OK)
		status = rig_fits_by_priority(&problem, leg, &proof);
	if (status != RIG_OK)
		return status;
	way->possible = true;
	for (size_t i = 0; i < problem.n_items; i++) {
		question->kept[of[i]] = leg[i] != RIG_FITS_OFF;
		way->possible &= items[i].priority != 0 || leg[i] != RIG_FITS_OFF;
	}
	way->choice.proved = proof.proved;
	if (!way->possible)
		return RIG_OK;
	status = write_choice(question, &way->choice);
	return status == RIG_OK ? list_gives_way(c, best, way) : status;
}

/* How many of a load are on. */
static int count_of(const cut *question, const bool *live, int load)
{
	int n = 0;
	for (size_t i = 0; i < question->c->n_units; i++)
		if (live[i] && question->c->units[i].load == load)
			n += question->c->units[i].count;
	return n;
}

static rig_status list_ways(cut *question, const bool *live, rig_shore_budget *budget)
{
	const rig_shore_choice *best = &budget->best;
	rig_status status = RIG_OK;
	budget->ways = rig_arena_take(question->c->arena, best->n_off, sizeof *budget->ways);
	if (!budget->ways)
		return RIG_NO_MEMORY;
	for (size_t i = best->n_off; status == RIG_OK && i-- > 0;) {
		rig_shore_way *way = &budget->ways[budget->n_ways++];
		const int load = best->off[i].load;
		way->wanted = (rig_shore_item){load, count_of(question, live, load)};
		memcpy(question->kept, live, question->c->n_units * sizeof *live);
		status = find_way(question, best, way);
	}
	return status;
}

/* What each choice is when all of it fits. */
static rig_status keep_all(cut *question, const bool *live, rig_shore_budget *budget)
{
	memcpy(question->kept, live, question->c->n_units * sizeof *live);
	budget->best.proved = true;
	const rig_status status = write_choice(question, &budget->best);
	if (!question->c->verdicts_only)
		budget->greedy = budget->by_weight = budget->best;
	return status;
}

/* What each is when something has to go. */
static rig_status cut_down(cut *question, const bool *live, rig_shore_budget *budget)
{
	const size_t size = question->c->n_units * sizeof *live;
	memcpy(question->kept, live, size);
	rig_status status = choose_exactly(question, rig_fits_by_priority, &budget->best);
	if (status != RIG_OK || question->c->verdicts_only)
		return status;
	memcpy(question->kept, live, size);
	status = choose_greedily(question, &budget->greedy);
	memcpy(question->kept, live, size);
	if (status == RIG_OK)
		status = choose_exactly(question, rig_fits_by_weight, &budget->by_weight);
	if (status != RIG_OK || is_whole(&budget->best))
		return status;
	memcpy(question->kept, live, size);
	status = list_next(question, budget);
	return status == RIG_OK ? list_ways(question, live, budget) : status;
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
		live[i] = question.kept[i] = on[i] && !rig_shore_is_dead(supply, &c->units[i]);
	bool fits = false;
	rig_status status = rank_live(c, live, &question);
	if (status == RIG_OK)
		status = ask(&question, &fits);
	if (status != RIG_OK)
		return status;
	return fits ? keep_all(&question, live, budget) : cut_down(&question, live, budget);
}
