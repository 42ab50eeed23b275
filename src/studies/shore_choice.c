/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_choice.h"

#include <stdlib.h>
#include <string.h>

#include "studies/shore_budget.h"

/* One supply's question, and the scratch to answer it. */
typedef struct {
	const rig_shore_case *c;
	const rig_shore_supply *supply;
	size_t n;                 /* live units */
	const size_t *by_rank;    /* live units, kept longest first */
	bool *kept;               /* by unit */
	rig_fits_problem problem; /* of all live units */
	size_t *of;               /* the unit of each of its items */
	rig_fits_item *some;      /* scratch: those of its items that are kept */
	rig_fits_leg *leg;        /* scratch: the answer for each */
	size_t *place; /* scratch by load, the charger's behind them: where a list has it */
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
static void list_unit(const cut *question, rig_shore_item *items, size_t *n, size_t index)
{
	const rig_shore_unit *unit = &question->c->units[index];
	const size_t load =
		unit->load == RIG_SHORE_CHARGER ? question->c->coach->n_loads : (size_t)unit->load;
	const size_t at = question->place[load];
	if (at < *n && items[at].load == unit->load) {
		items[at].count += unit->count;
		return;
	}
	question->place[load] = *n;
	items[(*n)++] = (rig_shore_item){unit->load, unit->count};
}

/* Writes down which units are kept. */
static rig_status write_choice(const cut *question, rig_shore_choice *choice)
{
	const rig_shore_case *c = question->c;
	choice->kept = rig_arena_take(c->arena, question->n, sizeof *choice->kept);
	choice->off = rig_arena_take(c->arena, question->n, sizeof *choice->off);
	if (!choice->kept || !choice->off)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < question->n; i++) {
		const size_t unit = question->by_rank[i];
		if (!question->kept[unit])
			continue;
		list_unit(question, choice->kept, &choice->n_kept, unit);
		choice->weight += c->units[unit].count * (10.0 - c->units[unit].priority);
	}
	for (size_t i = question->n; i-- > 0;)
		if (!question->kept[question->by_rank[i]])
			list_unit(question, choice->off, &choice->n_off, question->by_rank[i]);
	return rig_shore_draw(
		c, question->supply, question->kept, &choice->most_loaded, &choice->watts_w);
}

/* Whether what is kept fits. */
static rig_status ask(const cut *question, bool *fits)
{
	rig_fits_problem problem = question->problem;
	problem.items = question->some;
	problem.n_items = 0;
	for (size_t i = 0; i < question->problem.n_items; i++)
		if (question->kept[question->of[i]])
			question->some[problem.n_items++] = question->problem.items[i];
	return rig_fits_whole(&problem, fits);
}

/* What hots and breakers carry at least: whatever is dealt how, no more fits. */
typedef struct {
	const rig_fits_problem *problem;
	rig_phasor hot[2]; /* by leg, without what may stand on either */
	double all_w;      /* of both, in watts alone */
	rig_phasor *circuit;
} tally;

/* A hair above the limits of the search itself, which has the last word. */
static const double TALLY_SLACK_RATIO = 1e-6;

static bool is_within(rig_phasor sum, double limit_va)
{
	return rig_phasor_va(sum) <= limit_va * (1.0 + TALLY_SLACK_RATIO);
}

/* Adds an item if it may fit beside what is there; false leaves all as it was. */
static bool tally_add(tally *t, const rig_fits_item *item)
{
	const double limit_va = t->problem->hot_limit_va;
	const bool both = item->leg == RIG_FITS_BOTH, either = item->leg == RIG_FITS_EITHER;
	const double all_w = t->all_w + item->loaded.active_w * (both ? 2.0 : 1.0);
	rig_phasor hot[2] = {t->hot[0], t->hot[1]}, circuit = {0};
	for (int k = 0; k < 2 && !either; k++)
		if (both || (item->leg == RIG_FITS_LEG_1) == (k == 0))
			hot[k] = rig_phasor_add(hot[k], item->loaded);
	if (item->circuit >= 0)
		circuit = rig_phasor_add(t->circuit[item->circuit], item->loaded);
	const double circuit_va =
		item->circuit >= 0 ? t->problem->circuit_limit_va[item->circuit] : 0;
	if (!is_within(hot[0], limit_va) || !is_within(hot[1], limit_va) ||
		all_w > 2.0 * limit_va * (1.0 + TALLY_SLACK_RATIO) ||
		(circuit_va > 0 && !is_within(circuit, circuit_va)))
		return false;
	t->hot[0] = hot[0];
	t->hot[1] = hot[1];
	t->all_w = all_w;
	if (item->circuit >= 0)
		t->circuit[item->circuit] = circuit;
	return true;
}

/* From the lowest rank on, off until the rest fits. A first look tells from where on nothing can;
 * its sums are those of what is then kept. */
static rig_status drop_until_fit(cut *question, const size_t *item_of, tally *sums)
{
	size_t n = 0;
	bool fits = false;
	rig_status status = RIG_OK;
	while (n < question->n &&
		tally_add(sums, &question->problem.items[item_of[question->by_rank[n]]]))
		n++;
	for (size_t i = n; i < question->n; i++)
		question->kept[question->by_rank[i]] = false;
	for (; status == RIG_OK; n--) {
		status = ask(question, &fits);
		if (fits || n == 0)
			break;
		question->kept[question->by_rank[n - 1]] = false;
	}
	return status;
}

/* The sums of what is kept. */
static void tally_kept(const cut *question, const size_t *item_of, tally *sums)
{
	memset(sums->circuit, 0, question->problem.n_circuits * sizeof *sums->circuit);
	*sums = (tally){.problem = sums->problem, .circuit = sums->circuit};
	for (size_t i = 0; i < question->n; i++) {
		const size_t unit = question->by_rank[i];
		if (question->kept[unit])
			tally_add(sums, &question->problem.items[item_of[unit]]);
	}
}

static rig_status choose_greedily(cut *question, rig_shore_choice *choice)
{
	const rig_shore_case *c = question->c;
	size_t *item_of = rig_arena_take(c->arena, c->n_units, sizeof *item_of);
	tally sums = {.problem = &question->problem,
		.circuit = rig_arena_take(
			c->arena, question->problem.n_circuits, sizeof *sums.circuit)};
	if (!item_of || !sums.circuit)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < question->problem.n_items; i++)
		item_of[question->of[i]] = i;
	rig_status status = drop_until_fit(question, item_of, &sums);
	tally_kept(question, item_of, &sums);
	for (size_t i = 0; status == RIG_OK && i < question->n; i++) {
		const size_t unit = question->by_rank[i];
		const tally before = sums;
		const rig_fits_item *item = &question->problem.items[item_of[unit]];
		const rig_phasor circuit =
			item->circuit >= 0 ? sums.circuit[item->circuit] : (rig_phasor){0};
		bool fits = false;
		if (question->kept[unit] || !tally_add(&sums, item))
			continue;
		question->kept[unit] = true;
		status = ask(question, &fits);
		question->kept[unit] = fits;
		if (fits)
			continue;
		sums = before;
		if (item->circuit >= 0)
			sums.circuit[item->circuit] = circuit;
	}
	choice->proved = true; /* a rule followed to its end */
	return status == RIG_OK ? write_choice(question, choice) : status;
}

/* What an answer keeps. */
static void take_answer(cut *question, const rig_fits_leg leg[])
{
	for (size_t i = 0; i < question->problem.n_items; i++)
		question->kept[question->of[i]] = leg[i] != RIG_FITS_OFF;
}

typedef rig_status search_for(
	const rig_fits_problem *problem, rig_fits_leg leg[], rig_fits_proof *proof);

static rig_status choose_exactly(cut *question, search_for *best, rig_shore_choice *choice)
{
	rig_fits_proof proof = {0};
	const rig_status status = best(&question->problem, question->leg, &proof);
	if (status != RIG_OK)
		return status;
	take_answer(question, question->leg);
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
	const size_t n = question->problem.n_items;
	rig_fits_proof proof = {0};
	size_t n_found = 0;
	rig_fits_leg *leg = rig_arena_take(c->arena, N_WANTED * n, sizeof *leg);
	budget->next = rig_arena_take(c->arena, RIG_SHORE_N_NEXT, sizeof *budget->next);
	if (!leg || !budget->next)
		return RIG_NO_MEMORY;
	rig_status status = rig_fits_several(&question->problem, N_WANTED, leg, &n_found, &proof);
	for (size_t k = 1; status == RIG_OK && k < n_found; k++) {
		rig_shore_choice *next = &budget->next[budget->n_next++];
		take_answer(question, leg + k * n);
		next->proved = proof.proved;
		status = write_choice(question, next);
	}
	return status;
}

/* Of each load, the charger behind them, how many a list has. */
static rig_status count_items(
	const rig_shore_case *c, size_t n, const rig_shore_item *items, int **count)
{
	*count = rig_arena_take(c->arena, c->coach->n_loads + 1, sizeof **count);
	if (!*count)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++)
		(*count)[items[i].load < 0 ? (int)c->coach->n_loads : items[i].load] =
			items[i].count;
	return RIG_OK;
}

/* What one choice keeps more of than another, in the order of its list or the reverse. */
static rig_status list_more(const rig_shore_case *c, const rig_shore_choice *of,
	const rig_shore_choice *than, rig_shore_item **items, size_t *n)
{
	int *count = NULL;
	*items = rig_arena_take(c->arena, of->n_kept, sizeof **items);
	const rig_status status = count_items(c, than->n_kept, than->kept, &count);
	if (status != RIG_OK || !*items)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < of->n_kept; i++) {
		const rig_shore_item kept = of->kept[i];
		const int less = count[kept.load < 0 ? (int)c->coach->n_loads : kept.load];
		if (less < kept.count)
			(*items)[(*n)++] = (rig_shore_item){kept.load, kept.count - less};
	}
	return RIG_OK;
}

/* Dropped first first. */
static void turn_around(rig_shore_item *items, size_t n)
{
	for (size_t i = 0; i < n / 2; i++) {
		const rig_shore_item item = items[i];
		items[i] = items[n - 1 - i];
		items[n - 1 - i] = item;
	}
}

/* What changes against the best choice. */
static rig_status list_changes(
	const rig_shore_case *c, const rig_shore_choice *best, rig_shore_way *way)
{
	rig_status status = list_more(c, best, &way->choice, &way->gives_way, &way->n_gives_way);
	if (status == RIG_OK)
		status = list_more(c, &way->choice, best, &way->joins, &way->n_joins);
	if (status == RIG_OK)
		turn_around(way->gives_way, way->n_gives_way);
	return status;
}

/* The best set with one load on, all of its count. */
static rig_status find_way(
	cut *question, rig_fits_asker *asker, const rig_shore_choice *best, rig_shore_way *way)
{
	const rig_shore_case *c = question->c;
	const size_t n = question->problem.n_items;
	rig_fits_proof proof = {0};
	bool *wanted = rig_arena_take(c->arena, n, sizeof *wanted);
	if (!wanted)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < n; i++) {
		const rig_shore_unit *unit = &c->units[question->of[i]];
		wanted[i] = unit->load == way->wanted.load;
		if (wanted[i])
			way->wanted.count += unit->count;
	}
	rig_fits_with(asker, wanted, question->leg, &proof);
	way->possible = true;
	for (size_t i = 0; i < n; i++)
		way->possible &= !wanted[i] || question->leg[i] != RIG_FITS_OFF;
	way->choice.proved = proof.proved;
	if (!way->possible)
		return RIG_OK;
	take_answer(question, question->leg);
	const rig_status status = write_choice(question, &way->choice);
	return status == RIG_OK ? list_changes(c, best, way) : status;
}

static bool is_to_run(const rig_shore_case *c, int load)
{
	return c->run && load >= 0 && strcmp(c->coach->loads[load].id, c->run) == 0;
}

/* For the loads that are off, most important first, and for the one that is to run. */
static rig_status list_ways(cut *question, rig_shore_budget *budget)
{
	const rig_shore_case *c = question->c;
	const rig_shore_choice *best = &budget->best;
	rig_status status = RIG_OK;
	budget->ways = rig_arena_take(c->arena, RIG_SHORE_MOST_WAYS + 1, sizeof *budget->ways);
	rig_fits_asker *asker = rig_fits_asker_new(&question->problem);
	if (!budget->ways || !asker) {
		rig_fits_asker_free(asker);
		return RIG_NO_MEMORY;
	}
	for (size_t i = best->n_off; status == RIG_OK && i-- > 0;) {
		if (budget->n_ways >= RIG_SHORE_MOST_WAYS && !is_to_run(c, best->off[i].load)) {
			budget->n_more_ways++;
			continue;
		}
		rig_shore_way *way = &budget->ways[budget->n_ways++];
		way->wanted.load = best->off[i].load;
		status = find_way(question, asker, best, way);
	}
	rig_fits_asker_free(asker);
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
	rig_status status = choose_exactly(question, rig_fits_by_priority, &budget->best);
	if (status != RIG_OK || question->c->verdicts_only)
		return status;
	memcpy(question->kept, live, question->c->n_units * sizeof *live);
	status = choose_greedily(question, &budget->greedy);
	if (status == RIG_OK)
		status = choose_exactly(question, rig_fits_by_weight, &budget->by_weight);
	if (status != RIG_OK || is_whole(&budget->best))
		return status;
	status = list_next(question, budget);
	return status == RIG_OK ? list_ways(question, budget) : status;
}

/* The problem of all that is live, and room to work on it. */
static rig_status pose(cut *question, const bool *live)
{
	const rig_shore_case *c = question->c;
	question->of = rig_arena_take(c->arena, c->n_units, sizeof *question->of);
	question->some = rig_arena_take(c->arena, c->n_units, sizeof *question->some);
	question->leg = rig_arena_take(c->arena, c->n_units, sizeof *question->leg);
	question->place = rig_arena_take(c->arena, c->coach->n_loads + 1, sizeof *question->place);
	if (!question->of || !question->some || !question->leg || !question->place)
		return RIG_NO_MEMORY;
	return rig_shore_problem(c, question->supply, live, &question->problem, question->of);
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
		status = pose(&question, live);
	if (status == RIG_OK)
		status = ask(&question, &fits);
	if (status != RIG_OK)
		return status;
	return fits ? keep_all(&question, live, budget) : cut_down(&question, live, budget);
}
