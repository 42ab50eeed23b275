/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_place.c: the months and places of the table in which a claim holds, on mean days. */
#include "studies/claim_model.h"
#include "studies/solar_case.h"

static rig_status years_of(
	solar_ground *ground, const rig_coach *coach, int bank, solar_year **years)
{
	*years = rig_arena_take(ground->arena, coach->n_arrays, sizeof **years);
	if (*years == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index == bank)
			solar_harvest(coach, (int)i, ground->place, ground->skies, &(*years)[i]);
	return RIG_OK;
}

static rig_status holds_in(const claim_test *test, const solar_case *it, int month, bool *holds)
{
	if (test->days <= 0) {
		*holds = it->harvest_wh[month].likely >= test->needs_wh;
		return RIG_OK;
	}
	const solar_run run = {.month = month,
		.course = COURSE_LIKELY,
		.source = test->coach->n_arrays > 0 ? (solar_source *)&it->as_is : NULL,
		.factor = 1.0};
	double days = 0;
	const rig_status status = solar_case_days(it, &run, test->days + 1.0, &days);
	*holds = days >= test->days;
	return status;
}

typedef struct {
	uint16_t months;   /* bit m */
	int n;             /* of the months judged */
	double harvest_wh; /* over them */
} at_place;

static rig_status judge_place(const claim_ground *ground, const rig_claim *claim,
	const claim_test *test, const rig_place *place, at_place *at)
{
	rig_arena *arena = rig_arena_new();
	if (arena == NULL)
		return RIG_NO_MEMORY;
	solar_sky skies[RIG_CLAIM_MONTHS] = {0};
	solar_ground here = {
		.place = place, .options = rig_solar_defaults(), .arena = arena, .skies = skies};
	here.options.habit = test->habit;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		if (claim_judges_month(claim, m))
			solar_sky_of(place, m, &skies[m]);
	solar_year *years = NULL;
	solar_case *it = NULL;
	rig_status status = years_of(&here, test->coach, test->bank, &years);
	if (status == RIG_OK)
		status = solar_case_of(&here, test->coach, test->bank, years, &it);
	for (int m = 0; m < RIG_CLAIM_MONTHS && status == RIG_OK; m++) {
		bool holds = false;
		if (!claim_judges_month(claim, m))
			continue;
		status = holds_in(test, it, m, &holds);
		at->months |= (uint16_t)(holds ? 1u << m : 0u);
		at->n += holds;
		at->harvest_wh += it->harvest_wh[m].likely;
	}
	(void)ground;
	rig_arena_free(arena);
	return status;
}

static bool is_better(const at_place *a, const at_place *b)
{
	return a->n != b->n ? a->n > b->n : a->harvest_wh > b->harvest_wh;
}

static void count(rig_claim_places *places, int n_judged, size_t i, const at_place *at)
{
	places->months[i] = at->months;
	places->n_all += at->n == n_judged;
	places->n_none += at->n == 0;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		places->n_by_month[m] += (at->months >> m) & 1u;
}

rig_status claim_judge_places(const claim_ground *ground, const rig_claim *claim,
	const claim_test *test, rig_claim_finding *finding)
{
	if (!ground->options.all_places)
		return RIG_OK;
	rig_claim_places *places = &finding->places;
	places->n = rig_n_places();
	places->months = rig_arena_take(ground->arena, places->n, sizeof *places->months);
	if (places->months == NULL)
		return RIG_NO_MEMORY;
	int n_judged = 0;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		n_judged += claim_judges_month(claim, m);
	at_place best = {.n = -1}, worst = {.n = RIG_CLAIM_MONTHS + 1};
	for (size_t i = 0; i < places->n; i++) {
		rig_place place;
		at_place at = {0};
		rig_place_at(i, &place);
		const rig_status status = judge_place(ground, claim, test, &place, &at);
		if (status != RIG_OK)
			return status;
		count(places, n_judged, i, &at);
		if (is_better(&at, &best)) {
			best = at;
			places->best = (int)i;
		}
		if (is_better(&worst, &at)) {
			worst = at;
			places->worst = (int)i;
		}
	}
	places->best_months = best.n;
	places->worst_months = worst.n;
	return RIG_OK;
}
