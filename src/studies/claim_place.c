/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_place.c: the months and places of the table in which a claim holds, on mean days. A place's
 * days are worked out once for all claims, and of a claim all that hangs on no place once for all
 * places. */
#include "studies/claim_model.h"
#include "studies/solar_harvest.h"
#include "studies/solar_trips.h"

typedef struct {
	uint16_t months;   /* bit m */
	int n;             /* of the months judged */
	double harvest_wh; /* over them */
} at_place;

/* An array on the bank of a claim. */
typedef struct {
	const rig_array *array;
	solar_output output;
} panel;

struct claim_around {
	struct claim_around *next;
	claim_test test;
	rig_claim_finding *finding;
	size_t n_panels;
	panel *panels;
	bool by_weather;  /* the bank's use is another at each place */
	solar_bank *bank; /* where days are asked about; by weather: of the place in hand */
	at_place best, worst;
};

/* ---- what hangs on no place ---- */

static rig_status set_panels(const claim_ground *ground, claim_around *around)
{
	const rig_coach *coach = around->test.coach;
	around->panels = rig_arena_take(ground->arena, coach->n_arrays, sizeof *around->panels);
	if (around->panels == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index == around->test.bank)
			around->panels[around->n_panels++] = (panel){&coach->arrays[i],
				solar_output_of(coach, (int)i, COURSE_LIKELY, COURSE_LIKELY)};
	return RIG_OK;
}

static solar_usage usage_of(const claim_around *around, const solar_sky *skies)
{
	return (solar_usage){around->test.coach, around->test.bank, around->test.habit, skies};
}

static rig_status set_bank(const claim_ground *ground, claim_around *around)
{
	static const solar_sky NONE[RIG_CLAIM_MONTHS];
	const solar_usage usage = usage_of(around, NONE);
	around->bank = rig_arena_take(ground->arena, 1, sizeof *around->bank);
	if (around->bank == NULL)
		return RIG_NO_MEMORY;
	around->by_weather = solar_bank_by_weather(&usage);
	return around->by_weather ? RIG_OK : solar_bank_draws(&usage, ground->arena, around->bank);
}

rig_status claim_note_places(
	const claim_ground *ground, const claim_test *test, rig_claim_finding *finding)
{
	if (!ground->options.all_places)
		return RIG_OK;
	claim_around *around = rig_arena_take(ground->arena, 1, sizeof *around);
	if (around == NULL)
		return RIG_NO_MEMORY;
	around->test = *test;
	around->finding = finding;
	around->best.n = -1;
	around->worst.n = RIG_CLAIM_MONTHS + 1;
	rig_claim_places *places = &finding->places;
	places->n = rig_n_places();
	places->months = rig_arena_take(ground->arena, places->n, sizeof *places->months);
	rig_status status = places->months != NULL ? set_panels(ground, around) : RIG_NO_MEMORY;
	if (status == RIG_OK && test->days > 0)
		status = set_bank(ground, around);
	around->next = *ground->around;
	*ground->around = around;
	return status;
}

/* ---- one place ---- */

/* A day's watts at the bank. */
typedef struct {
	double wh, watts_w[RIG_DAY_HOURS];
} harvest;

static harvest harvest_of(const claim_around *around, const rig_day_hours *day)
{
	harvest sum = {.wh = 0};
	for (size_t i = 0; i < around->n_panels; i++)
		sum.wh += solar_likely_wh(
			around->panels[i].array, &around->panels[i].output, day, sum.watts_w);
	return sum;
}

static rig_status holds_in(const claim_around *around, int month, const rig_day_hours *day,
	const harvest *sum, bool *holds)
{
	const claim_test *test = &around->test;
	if (test->days <= 0) {
		*holds = sum->wh >= test->needs_wh;
		return RIG_OK;
	}
	const solar_trial trial = {.bank = around->bank,
		.month = month,
		.course = COURSE_LIKELY,
		.temp_c = day->temp_c,
		.watts_w = around->n_panels > 0 ? sum->watts_w : NULL,
		.n_knots = 1,
		.factor = 1.0};
	rig_plan *plan = NULL;
	const rig_status status = solar_trial_plan(&trial, &plan);
	*holds = status == RIG_OK && solar_plan_days(plan, test->days + 1.0) >= test->days;
	rig_plan_free(plan);
	return status;
}

static rig_status judge_months(const claim_around *around, const solar_sky *skies, at_place *at)
{
	rig_status status = RIG_OK;
	for (int m = 0; m < RIG_CLAIM_MONTHS && status == RIG_OK; m++) {
		bool holds = false;
		if (!claim_judges_month(around->test.claim, m))
			continue;
		const harvest sum = harvest_of(around, &skies[m].mean);
		status = holds_in(around, m, &skies[m].mean, &sum, &holds);
		at->months |= (uint16_t)(holds ? 1u << m : 0u);
		at->n += holds;
		at->harvest_wh += sum.wh;
	}
	return status;
}

static rig_status judge_place(claim_around *around, const solar_sky *skies, at_place *at)
{
	if (!around->by_weather)
		return judge_months(around, skies, at);
	rig_arena *arena = rig_arena_new();
	if (arena == NULL)
		return RIG_NO_MEMORY;
	const solar_usage usage = usage_of(around, skies);
	rig_status status = solar_bank_draws(&usage, arena, around->bank);
	if (status == RIG_OK)
		status = judge_months(around, skies, at);
	rig_arena_free(arena);
	return status;
}

/* ---- all of them ---- */

static bool is_better(const at_place *a, const at_place *b)
{
	return a->n != b->n ? a->n > b->n : a->harvest_wh > b->harvest_wh;
}

static int n_judged(const rig_claim *claim)
{
	int n = 0;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		n += claim_judges_month(claim, m);
	return n;
}

static void take_place(claim_around *around, size_t i, const at_place *at)
{
	rig_claim_places *places = &around->finding->places;
	places->months[i] = at->months;
	places->n_all += at->n == n_judged(around->test.claim);
	places->n_none += at->n == 0;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
		places->n_by_month[m] += (at->months >> m) & 1u;
	if (is_better(at, &around->best)) {
		around->best = *at;
		places->best = (int)i;
		places->best_months = at->n;
	}
	if (is_better(&around->worst, at)) {
		around->worst = *at;
		places->worst = (int)i;
		places->worst_months = at->n;
	}
}

static bool any_judges(const claim_around *around, int month)
{
	for (; around != NULL; around = around->next)
		if (claim_judges_month(around->test.claim, month))
			return true;
	return false;
}

rig_status claim_judge_places(const claim_ground *ground)
{
	claim_around *const all = *ground->around;
	rig_status status = RIG_OK;
	solar_sky skies[RIG_CLAIM_MONTHS] = {0};
	for (size_t i = 0; all != NULL && i < rig_n_places(); i++) {
		rig_place place;
		rig_place_at(i, &place);
		for (int m = 0; m < RIG_CLAIM_MONTHS; m++)
			if (any_judges(all, m))
				rig_mean_day(&place, m, &skies[m].mean);
		for (claim_around *at = all; at != NULL && status == RIG_OK; at = at->next) {
			at_place found = {0};
			status = judge_place(at, skies, &found);
			take_place(at, i, &found);
		}
	}
	return status;
}
