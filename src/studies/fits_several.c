/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The next best subsets, each by one search of its own. Sets to which nothing can be added are not
 * part of each other, so each that is still to come has some load of those that are off in every
 * one that is known. From the best one on, for each load that is off the best subset with it is
 * asked for as well; the best of all that have been found and not given is the next, and the loads
 * that it leaves off are asked for besides those that it was asked with. What cannot come among
 * as many as are wanted is not searched to its end: a bar is set to each search. */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "studies/fits_search.h"

/* Demands are summed in other orders by the searches and here. */
static const double BAR_SLACK_W = 1e-3;

/* The best subset with all wanted loads. */
typedef struct node {
	struct node *next;
	bool *wanted;
	rig_fits_leg *leg;
	int count[RIG_FITS_PRIORITIES + 1];
	double demand_w;
	bool open; /* not yet gone on from */
} node;

typedef struct {
	const rig_fits_problem *problem;
	rig_arena *arena;
	fits_search *search;
	double *demand_w; /* of each item */
	size_t *before;   /* of two alike the one that is on first, of each item; itself if none */
	node *nodes, *spare;
	size_t n_wanted;
	const node **top; /* the best that are known, apart from each other, best first */
	size_t n_top;
	bool stopped, no_memory;
	size_t n_steps;
} several;

/* In step with the sum of all, all hots together: what rig_fits_by_priority has least of. */
static void reckon_demands(several *s)
{
	const rig_fits_problem *problem = s->problem;
	rig_phasor all = {0};
	for (size_t i = 0; i < problem->n_items; i++)
		all = rig_phasor_add(all, problem->items[i].loaded);
	const double va = rig_phasor_va(all);
	for (size_t i = 0; i < problem->n_items; i++) {
		const rig_fits_item *item = &problem->items[i];
		const double hots = item->leg == RIG_FITS_BOTH ? 2.0 : 1.0;
		const double along = item->loaded.active_w * all.active_w +
				     item->loaded.reactive_va * all.reactive_va;
		s->demand_w[i] = va > 0 ? hots * along / va : 0.0;
	}
}

static bool are_alike(const rig_fits_item *a, const rig_fits_item *b)
{
	return a->priority == b->priority && a->leg == b->leg && a->circuit == b->circuit &&
	       a->weight == b->weight && a->loaded.active_w == b->loaded.active_w &&
	       a->loaded.reactive_va == b->loaded.reactive_va &&
	       a->plain.active_w == b->plain.active_w &&
	       a->plain.reactive_va == b->plain.reactive_va;
}

/* The alike with the largest smaller key: the last such before it in the search's order. */
static void find_alike(several *s)
{
	const fits_search *in = s->search;
	const rig_fits_item *items = s->problem->items;
	for (size_t p = 0; p < s->problem->n_items; p++) {
		const size_t i = (size_t)(in->base[p] - in->items);
		s->before[i] = i;
		for (size_t q = p; q-- > 0 && s->before[i] == i;) {
			const size_t k = (size_t)(in->base[q] - in->items);
			if (in->kind[k] != in->kind[i])
				break;
			if (are_alike(&items[k], &items[i]))
				s->before[i] = k;
		}
	}
}

/* Of two alike the one of smaller key is on. */
static void settle_alike(const several *s, rig_fits_leg *leg)
{
	bool moved = true;
	while (moved) {
		moved = false;
		for (size_t i = 0; i < s->problem->n_items; i++)
			if (leg[i] != RIG_FITS_OFF && leg[s->before[i]] == RIG_FITS_OFF) {
				leg[s->before[i]] = leg[i];
				leg[i] = RIG_FITS_OFF;
				moved = true;
			}
	}
}

static void weigh(const several *s, node *found)
{
	for (size_t i = 0; i < s->problem->n_items; i++) {
		if (found->leg[i] == RIG_FITS_OFF)
			continue;
		found->count[s->problem->items[i].priority]++;
		found->demand_w += s->demand_w[i];
	}
}

static bool is_known(const several *s, const bool *wanted)
{
	for (const node *n = s->nodes; n; n = n->next)
		if (memcmp(n->wanted, wanted, s->problem->n_items * sizeof *wanted) == 0)
			return true;
	return false;
}

static int key_of_first_apart(const several *s, const node *a, const node *b, bool *in_a)
{
	int first = INT32_MAX;
	for (size_t i = 0; i < s->problem->n_items; i++) {
		const int key = s->problem->items[i].key;
		if ((a->leg[i] == RIG_FITS_OFF) == (b->leg[i] == RIG_FITS_OFF) || key >= first)
			continue;
		first = key;
		*in_a = a->leg[i] != RIG_FITS_OFF;
	}
	return first;
}

static bool is_same(const several *s, const node *a, const node *b)
{
	bool in_a;
	return key_of_first_apart(s, a, b, &in_a) == INT32_MAX;
}

/* By counts, then by watts, then by keys. */
static bool beats(const several *s, const node *a, const node *b)
{
	for (int priority = 0; priority <= RIG_FITS_PRIORITIES; priority++)
		if (a->count[priority] != b->count[priority])
			return a->count[priority] > b->count[priority];
	if (a->demand_w < b->demand_w - FITS_TIE_W || b->demand_w < a->demand_w - FITS_TIE_W)
		return a->demand_w < b->demand_w;
	bool in_a = false;
	(void)key_of_first_apart(s, a, b, &in_a);
	return in_a;
}

/* The last of as many as are wanted, as the search for these wanted items counts. */
static void set_bar(const several *s, const bool *wanted)
{
	if (s->n_top < s->n_wanted)
		return;
	const node *last = s->top[s->n_top - 1];
	fits_candidate bar = {.demand_w = last->demand_w + BAR_SLACK_W};
	for (int priority = 0; priority <= RIG_FITS_PRIORITIES; priority++)
		bar.count[priority] = last->count[priority];
	for (size_t i = 0; i < s->problem->n_items; i++)
		if (wanted[i]) {
			bar.count[s->problem->items[i].priority]--;
			bar.count[0]++;
		}
	fits_set_bar(s->search, &bar);
}

static void note_known(several *s, const node *found)
{
	size_t at = s->n_top;
	for (size_t k = s->n_top; k-- > 0;) {
		if (is_same(s, found, s->top[k]))
			return;
		if (beats(s, found, s->top[k]))
			at = k;
	}
	if (at == s->n_wanted)
		return;
	if (s->n_top < s->n_wanted)
		s->n_top++;
	for (size_t k = s->n_top - 1; k > at; k--)
		s->top[k] = s->top[k - 1];
	s->top[at] = found;
}

/* The node's subset. False if its wanted loads do not fit together, or it cannot be among those
 * that are wanted. */
static bool solve(several *s, node *found)
{
	const size_t n = s->problem->n_items;
	fits_search *in = s->search;
	fits_want(in, found->wanted);
	set_bar(s, found->wanted);
	in->step_limit = s->problem->step_limit - s->n_steps;
	fits_visit(in, 0);
	s->n_steps += in->n_steps;
	s->stopped |= in->stopped || s->n_steps >= s->problem->step_limit;
	if (!in->recorded)
		return false;
	fits_answer(in, found->leg);
	for (size_t i = 0; i < n; i++)
		if (found->wanted[i] && found->leg[i] == RIG_FITS_OFF)
			return false;
	settle_alike(s, found->leg);
	weigh(s, found);
	return true;
}

static node *new_node(several *s)
{
	const size_t n = s->problem->n_items;
	node *made = rig_arena_take(s->arena, 1, sizeof *made);
	if (made) {
		made->wanted = rig_arena_take(s->arena, n, sizeof *made->wanted);
		made->leg = rig_arena_take(s->arena, n, sizeof *made->leg);
	}
	s->no_memory |= !made || !made->wanted || !made->leg;
	return s->no_memory ? NULL : made;
}

/* Asks for the best subset with the loads that `from` was asked with and one more, and all that are
 * on before it of those alike. */
static void ask(several *s, const node *from, size_t more)
{
	const size_t n = s->problem->n_items;
	node *made = s->spare ? s->spare : new_node(s);
	s->spare = made;
	if (!made)
		return;
	for (size_t i = 0; i < n; i++)
		made->wanted[i] = from && from->wanted[i];
	for (size_t i = more; from && !made->wanted[i]; i = s->before[i])
		made->wanted[i] = true;
	if (is_known(s, made->wanted) || !solve(s, made))
		return;
	made->open = true;
	made->next = s->nodes;
	s->nodes = made;
	s->spare = NULL;
	note_known(s, made);
}

static node *best_open(const several *s)
{
	node *best = NULL;
	for (node *n = s->nodes; n; n = n->next)
		if (n->open && (!best || beats(s, n, best)))
			best = n;
	return best;
}

/* Goes on from the best open node. A subset that was given comes again from other loads that were
 * wanted; those are gone on from like any. */
static void list(several *s, size_t n_wanted, const node **given, size_t *n_given)
{
	*n_given = 0;
	ask(s, NULL, 0);
	while (*n_given < n_wanted && !s->stopped && !s->no_memory) {
		node *best = best_open(s);
		if (!best)
			return;
		best->open = false;
		bool is_new = true;
		for (size_t k = 0; k < *n_given; k++)
			is_new &= !is_same(s, best, given[k]);
		if (is_new)
			given[(*n_given)++] = best;
		for (size_t i = 0; i < s->problem->n_items && *n_given < n_wanted; i++)
			if (best->leg[i] == RIG_FITS_OFF && !s->stopped && !s->no_memory)
				ask(s, best, i);
	}
}

static bool make_several(several *s)
{
	const size_t n = s->problem->n_items;
	s->arena = rig_arena_new();
	if (!s->arena)
		return false;
	s->demand_w = rig_arena_take(s->arena, n, sizeof *s->demand_w);
	s->before = rig_arena_take(s->arena, n, sizeof *s->before);
	s->top = rig_arena_take(s->arena, s->n_wanted, sizeof(const node *));
	s->search = fits_search_new(s->problem, s->arena, fits_compare_rank);
	if (!s->demand_w || !s->before || !s->top || !s->search)
		return false;
	s->search->can_improve = fits_can_improve_count;
	s->search->beats = fits_beats_by_count;
	return true;
}

rig_status rig_fits_several(const rig_fits_problem *problem, size_t n_wanted, rig_fits_leg leg[],
	size_t *n_found, rig_fits_proof *proof)
{
	assert(n_wanted > 0);
	const size_t n = problem->n_items;
	several s = {.problem = problem, .n_wanted = n_wanted};
	const node **given = NULL;
	size_t n_given = 0;
	s.no_memory = !make_several(&s);
	if (!s.no_memory)
		given = rig_arena_take(s.arena, n_wanted, sizeof(const node *));
	s.no_memory |= !given;
	if (!s.no_memory) {
		reckon_demands(&s);
		find_alike(&s);
		list(&s, n_wanted, given, &n_given);
	}
	for (size_t k = 0; !s.no_memory && k < n_given; k++)
		memcpy(leg + k * n, given[k]->leg, n * sizeof *leg);
	if (!s.no_memory) {
		*n_found = n_given;
		*proof = (rig_fits_proof){.proved = !s.stopped, .n_steps = s.n_steps};
	}
	rig_arena_free(s.arena);
	return s.no_memory ? RIG_NO_MEMORY : RIG_OK;
}
