/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which candidates nothing beats. They are met in order of price, weight and area, so that what is
 * found first is never beaten by what comes later. */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "studies/size_case.h"

/* What is known not to do: with an inverter, all arrays up to one and all banks of a kind up to one
 * (from a run), or below so many usable Wh (from a pass). */
typedef struct {
	uint32_t array, bank, inverter;
	double below_usable_wh; /* 0: from a run */
} barrier;

typedef struct {
	size_case *it;
	size_t n_barriers, room;
	barrier *barriers;
	uint32_t *kinds; /* [array * n_inverters + inverter]: a bit for each kind passed */
	size_t n_chosen;
	size_t *chosen;
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

/* Share of a new bank's Wh that may be used, as likely as completion has it. */
static double usable_wh(const size_case *it, const size_bank *bank)
{
	const char *id = it->parts->batteries[bank->battery].chemistry;
	return bank->wh * rig_chemistry_find(id)->usable_frac.likely;
}

static bool is_barred(const search *s, const size_candidate *c)
{
	const size_case *it = s->it;
	const size_bank *bank = &it->banks[c->bank];
	for (size_t i = 0; i < s->n_barriers; i++) {
		const barrier *by = &s->barriers[i];
		if (by->inverter != c->inverter ||
			!array_no_better(&it->arrays[c->array], &it->arrays[by->array]))
			continue;
		if (by->below_usable_wh <= 0) {
			if (bank_no_better(bank, &it->banks[by->bank]))
				return true;
		} else if (bank->group == it->banks[by->bank].group &&
			   usable_wh(it, bank) < by->below_usable_wh * (1 - 1e-9)) {
			return true;
		}
	}
	return false;
}

static rig_status add_barrier(search *s, const size_candidate *c, double below_usable_wh)
{
	if (s->n_barriers == s->room) {
		const size_t room = s->room == 0 ? 256 : 2 * s->room;
		barrier *grown = realloc(s->barriers, room * sizeof *grown);
		if (grown == NULL)
			return RIG_NO_MEMORY;
		s->barriers = grown;
		s->room = room;
	}
	s->barriers[s->n_barriers++] = (barrier){c->array, c->bank, c->inverter, below_usable_wh};
	return RIG_OK;
}

static bool is_beaten(const search *s, const size_candidate *c)
{
	for (size_t i = 0; i < s->n_chosen; i++) {
		const size_cost *by = &s->it->candidates[s->chosen[i]].cost;
		if (by->price <= c->cost.price && by->weight <= c->cost.weight &&
			by->area <= c->cost.area)
			return true;
	}
	return false;
}

/* ---- what will do ---- */

static size_make make_of(const size_case *it, const size_candidate *c)
{
	return (size_make){
		&it->arrays[c->array], &it->banks[c->bank], &it->inverters[c->inverter], false};
}

/* The month that failed comes first from now on. */
static void to_front(size_case *it, size_t k)
{
	const int month = it->month_order[k];
	for (; k > 0; k--)
		it->month_order[k] = it->month_order[k - 1];
	it->month_order[0] = month;
}

/* Whether a candidate reaches the chance in every month. */
static rig_status try_it(size_case *it, const size_candidate *c, bool *does)
{
	const size_make make = make_of(it, c);
	rig_file *file = NULL;
	rig_status status = size_make_coach(it, &make, &file);
	*does = true;
	for (size_t k = 0; status == RIG_OK && *does && k < it->n_months; k++) {
		size_month found;
		status = size_run_month(it, rig_file_completed(file), it->month_order[k],
			it->allowed, NULL, &found);
		*does = status == RIG_OK && found.n_out <= it->allowed;
		if (status == RIG_OK && !*does)
			to_front(it, k);
	}
	rig_file_free(file);
	return status;
}

/* Once for each array, inverter and kind of new battery, in the month that failed last. */
static rig_status pass_once(search *s, const size_candidate *c)
{
	const size_case *it = s->it;
	const size_bank *bank = &it->banks[c->bank];
	uint32_t *kinds = &s->kinds[(size_t)c->array * it->n_inverters + c->inverter];
	if (bank->battery < 0 || (*kinds >> bank->group & 1u) != 0)
		return RIG_OK;
	*kinds |= (uint32_t)1 << bank->group;
	const size_make make = make_of(it, c);
	double needed_wh = 0;
	rig_status status = size_one_pass(it, &make, it->month_order[0], &needed_wh);
	return status == RIG_OK && needed_wh > 0 ? add_barrier(s, c, needed_wh) : status;
}

static rig_status consider(search *s, size_t index)
{
	const size_candidate *c = &s->it->candidates[index];
	bool does = false;
	if (is_beaten(s, c) || is_barred(s, c))
		return RIG_OK;
	rig_status status = pass_once(s, c);
	if (status != RIG_OK || is_barred(s, c))
		return status;
	status = try_it(s->it, c, &does);
	if (status == RIG_OK && does)
		s->chosen[s->n_chosen++] = index;
	return status == RIG_OK && !does ? add_barrier(s, c, 0) : status;
}

static bool goes_on(size_case *it, double done_frac)
{
	const rig_size_options *options = &it->options;
	if (options->progress != NULL && !options->progress(options->context, done_frac))
		it->findings->stopped = true;
	return !it->findings->stopped;
}

rig_status size_search(size_case *it, size_t **chosen, size_t *n_chosen)
{
	search s = {.it = it};
	rig_status status = RIG_NO_MEMORY;
	s.kinds = rig_arena_take(it->arena, it->n_arrays * it->n_inverters + 1, sizeof *s.kinds);
	s.chosen = rig_arena_take(it->arena, it->n_candidates + 1, sizeof *s.chosen);
	if (s.kinds == NULL || s.chosen == NULL)
		return RIG_NO_MEMORY;
	assert(rig_n_chemistries() <= 32);
	status = RIG_OK;
	for (size_t i = 0; status == RIG_OK && i < it->n_candidates; i++) {
		if (i % 64 == 0 && !goes_on(it, 0.9 * (double)i / (double)it->n_candidates))
			break;
		status = consider(&s, i);
	}
	free(s.barriers);
	*chosen = s.chosen;
	*n_chosen = s.n_chosen;
	return status;
}
