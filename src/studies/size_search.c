/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which candidates nothing beats. They are met in order of price, weight and area, so that what is
 * found first is never beaten by what comes later. */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "studies/size_case.h"

/* What is known not to do: with one inverter, arrays of a group up to so much, with banks of a kind
 * up to so much. */
typedef struct {
	uint32_t array, bank;
} barrier;

/* The barriers of one group of arrays, one kind of bank and one inverter; none behind another. */
typedef struct {
	int array_group, bank_group;
	uint32_t inverter;
	size_t n, room;
	barrier *list;
} fence;

typedef struct {
	size_case *it;
	size_pass *pass;
	size_t n_fences, room;
	fence *fences;
	size_t n_found;
	size_found *found;
} search;

/* ---- what is ruled out ---- */

static bool array_no_better(const size_array *a, const size_array *b)
{
	return a->group == b->group && a->watts_w <= b->watts_w &&
	       a->efficiency_frac <= b->efficiency_frac;
}

static bool bank_no_better(const size_bank *a, const size_bank *b)
{
	return a->group == b->group && a->wh <= b->wh && a->limit_a <= b->limit_a;
}

static bool is_behind(const size_case *it, uint32_t array, uint32_t bank, const barrier *by)
{
	return array_no_better(&it->arrays[array], &it->arrays[by->array]) &&
	       bank_no_better(&it->banks[bank], &it->banks[by->bank]);
}

static fence *fence_of(const search *s, const size_candidate *c)
{
	const int array_group = s->it->arrays[c->array].group;
	const int bank_group = s->it->banks[c->bank].group;
	for (size_t i = 0; i < s->n_fences; i++)
		if (s->fences[i].array_group == array_group &&
			s->fences[i].bank_group == bank_group &&
			s->fences[i].inverter == c->inverter)
			return &s->fences[i];
	return NULL;
}

static bool is_barred(const search *s, const size_candidate *c)
{
	const fence *around = fence_of(s, c);
	for (size_t i = 0; around != NULL && i < around->n; i++)
		if (is_behind(s->it, c->array, c->bank, &around->list[i]))
			return true;
	return false;
}

static fence *new_fence(search *s, const size_candidate *c)
{
	if (s->n_fences == s->room) {
		const size_t room = s->room == 0 ? 64 : 2 * s->room;
		fence *grown = realloc(s->fences, room * sizeof *grown);
		if (grown == NULL)
			return NULL;
		s->fences = grown;
		s->room = room;
	}
	s->fences[s->n_fences] = (fence){.array_group = s->it->arrays[c->array].group,
		.bank_group = s->it->banks[c->bank].group,
		.inverter = c->inverter};
	return &s->fences[s->n_fences++];
}

/* Those behind the new one go. */
static rig_status add_barrier(search *s, const size_candidate *c)
{
	fence *around = fence_of(s, c);
	if (around == NULL && (around = new_fence(s, c)) == NULL)
		return RIG_NO_MEMORY;
	const barrier added = {c->array, c->bank};
	size_t n = 0;
	for (size_t i = 0; i < around->n; i++)
		if (!is_behind(s->it, around->list[i].array, around->list[i].bank, &added))
			around->list[n++] = around->list[i];
	around->n = n;
	if (around->n == around->room) {
		const size_t room = around->room == 0 ? 16 : 2 * around->room;
		barrier *grown = realloc(around->list, room * sizeof *grown);
		if (grown == NULL)
			return RIG_NO_MEMORY;
		around->list = grown;
		around->room = room;
	}
	around->list[around->n++] = added;
	return RIG_OK;
}

static bool is_beaten(const search *s, const size_candidate *c)
{
	for (size_t i = 0; i < s->n_found; i++) {
		const size_cost *by = &s->it->candidates[s->found[i].candidate].cost;
		if (by->price <= c->cost.price && by->weight <= c->cost.weight &&
			by->area <= c->cost.area)
			return true;
	}
	return false;
}

/* ---- what will do ---- */

/* The month that failed comes first from now on. */
static void to_front(size_case *it, size_t k)
{
	const int month = it->month_order[k];
	for (; k > 0; k--)
		it->month_order[k] = it->month_order[k - 1];
	it->month_order[0] = month;
}

/* Whether a candidate reaches the chance in every month. */
static rig_status try_it(search *s, const size_candidate *c, bool *does)
{
	size_case *it = s->it;
	const size_make make = {
		&it->arrays[c->array], &it->banks[c->bank], &it->inverters[c->inverter]};
	size_found *found = &s->found[s->n_found];
	rig_file *file = NULL;
	rig_status status = size_make_coach(it, &make, &file);
	*does = true;
	for (size_t k = 0; status == RIG_OK && *does && k < it->n_months; k++) {
		size_month *month = &found->months[it->month_order[k]];
		status = size_run_month(
			it, rig_file_completed(file), it->month_order[k], it->allowed, month);
		*does = status == RIG_OK && month->n_out <= it->allowed;
		if (status == RIG_OK && !*does)
			to_front(it, k);
	}
	rig_file_free(file);
	return status;
}

static rig_status consider(search *s, size_t index)
{
	const size_candidate *c = &s->it->candidates[index];
	bool does = false, fails = false;
	if (is_beaten(s, c) || is_barred(s, c))
		return RIG_OK;
	rig_status status = size_pass_fails(s->pass, c, s->it->month_order[0], &fails);
	if (status == RIG_OK && !fails)
		status = try_it(s, c, &does);
	if (status == RIG_OK && does)
		s->found[s->n_found++].candidate = index;
	return status == RIG_OK && !does ? add_barrier(s, c) : status;
}

static bool goes_on(size_case *it, double done_frac)
{
	const rig_size_options *options = &it->options;
	if (options->progress != NULL && !options->progress(options->context, done_frac))
		it->findings->stopped = true;
	return !it->findings->stopped;
}

static void free_fences(search *s)
{
	for (size_t i = 0; i < s->n_fences; i++)
		free(s->fences[i].list);
	free(s->fences);
}

/* Nothing beats nothing: as many options as candidates at most; far fewer in the end. */
rig_status size_search(size_case *it, size_found **found, size_t *n_found)
{
	search s = {.it = it};
	rig_status status = RIG_NO_MEMORY;
	s.found = rig_arena_take(it->arena, it->n_candidates + 1, sizeof *s.found);
	if (s.found != NULL)
		status = size_pass_new(it, &s.pass);
	for (size_t i = 0; status == RIG_OK && i < it->n_candidates; i++) {
		if (i % 64 == 0 && !goes_on(it, 0.9 * (double)i / (double)it->n_candidates))
			break;
		status = consider(&s, i);
	}
	size_pass_free(s.pass);
	free_fences(&s);
	*found = s.found;
	*n_found = s.n_found;
	return status;
}
