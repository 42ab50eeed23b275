/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/claim.h"

#include <stdlib.h>

#include "studies/claim_model.h"

/* The findings and the memory of everything in them. */
typedef struct {
	rig_claim_findings findings;
	rig_arena *arena;
} claim_owned;

rig_claim_options rig_claim_defaults(void)
{
	return (rig_claim_options){.habit = -1, .n_trips = 1000, .seed = 1, .all_places = true};
}

bool claim_judges_month(const rig_claim *claim, int month)
{
	const int from = claim->from_month - 1, to = claim->to_month - 1;
	if (from < 0 || to < 0)
		return true;
	return from <= to ? month >= from && month <= to : month >= from || month <= to;
}

/* How much there is for what is needed; more is better. */
static double margin_of(const rig_claim_month *month)
{
	if (rig_figure_given(month->out_frac))
		return -month->out_frac.likely;
	return month->has.likely - month->needs.likely;
}

/* Of two months judged, whether the first is worse. */
static bool is_worse(const rig_claim_month *a, const rig_claim_month *b)
{
	if (a->holds != b->holds)
		return a->holds < b->holds;
	if (margin_of(a) != margin_of(b))
		return margin_of(a) < margin_of(b);
	return a->has.likely < b->has.likely;
}

static void find_ends(rig_claim_finding *finding)
{
	finding->worst_month = finding->best_month = -1;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++) {
		const rig_claim_month *month = &finding->months[m];
		if (!month->judged)
			continue;
		if (finding->worst_month < 0 ||
			is_worse(month, &finding->months[finding->worst_month]))
			finding->worst_month = m;
		if (finding->best_month < 0 ||
			is_worse(&finding->months[finding->best_month], month))
			finding->best_month = m;
	}
}

void claim_conclude(rig_claim_finding *finding)
{
	size_t n = 0, n_can = 0, n_cannot = 0;
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++) {
		const rig_claim_month *month = &finding->months[m];
		n += month->judged;
		n_can += month->judged && month->holds == RIG_CAN;
		n_cannot += month->judged && month->holds == RIG_CANNOT;
	}
	find_ends(finding);
	if (finding->worst_month >= 0) {
		finding->has = finding->months[finding->worst_month].has;
		finding->needs = finding->months[finding->worst_month].needs;
	}
	if (n_can == n)
		finding->answer = RIG_CLAIM_HOLDS;
	else if (n_cannot == n)
		finding->answer = RIG_CLAIM_FAILS;
	else if (n_can == 0)
		finding->answer = RIG_CLAIM_OPEN;
	else
		finding->answer = n_cannot > 0 ? RIG_CLAIM_HOLDS_IF : RIG_CLAIM_OPEN;
	if (n_cannot > 0 && n_cannot < n)
		finding->reasons |= RIG_CLAIM_IN_MONTHS;
}

void claim_set_measures(rig_claim_finding *finding, size_t n, rig_measure *inputs)
{
	rig_measure_shares(n, inputs);
	finding->measures = inputs;
	finding->n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
}

static rig_status judge(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	const bool needs_place = claim->says == RIG_SAYS_SUN_RUNS ||
				 claim->says == RIG_SAYS_SUN_HOLDS ||
				 claim->says == RIG_SAYS_DAYS || claim->says == RIG_SAYS_HOURS;
	if (needs_place && ground->place == NULL) {
		finding->answer = RIG_CLAIM_NOT_JUDGED;
		finding->reasons |= RIG_CLAIM_NO_PLACE;
		return RIG_OK;
	}
	switch (claim->says) {
	case RIG_SAYS_SUPPLY:
		return claim_judge_supply(ground, claim, finding);
	case RIG_SAYS_SUN_RUNS:
	case RIG_SAYS_SUN_HOLDS:
		return claim_judge_sun(ground, claim, finding);
	case RIG_SAYS_DAYS:
	case RIG_SAYS_HOURS:
		return claim_judge_span(ground, claim, finding);
	case RIG_SAYS_PANEL_W:
	case RIG_SAYS_USABLE_WH:
	case RIG_SAYS_CAPACITY_AH:
		return claim_judge_label(ground, claim, finding);
	case RIG_SAYS_NOTHING:
	case RIG_N_SAYS:
		break;
	}
	return RIG_BAD_INPUT;
}

static rig_status judge_all(const claim_ground *ground, rig_claim_findings *findings)
{
	const rig_coach *coach = ground->coach;
	findings->n_claims = coach->n_claims;
	findings->claims = rig_arena_take(ground->arena, coach->n_claims, sizeof *findings->claims);
	if (findings->claims == NULL)
		return RIG_NO_MEMORY;
	rig_status status = RIG_OK;
	for (size_t i = 0; i < coach->n_claims && status == RIG_OK; i++) {
		rig_claim_finding *finding = &findings->claims[i];
		*finding = (rig_claim_finding){.claim = (int)i,
			.bank = -1,
			.array = -1,
			.set_index = -1,
			.supply = -1,
			.smallest_supply = -1,
			.start_load = -1,
			.worst_month = -1,
			.best_month = -1};
		status = judge(ground, &coach->claims[i], finding);
	}
	return status;
}

static bool options_are_right(const rig_coach *coach, const rig_claim_options *options)
{
	return options->habit >= -1 && options->habit < (int)coach->n_habits &&
	       options->n_trips >= 100 && options->n_trips <= 100000;
}

rig_status rig_claim_study(const rig_coach *completed, const rig_place *place,
	const rig_claim_options *options, rig_claim_findings **findings)
{
	const rig_claim_options chosen = options != NULL ? *options : rig_claim_defaults();
	if (!options_are_right(completed, &chosen))
		return RIG_BAD_INPUT;
	rig_arena *arena = rig_arena_new();
	claim_owned *made = arena != NULL ? rig_arena_take(arena, 1, sizeof *made) : NULL;
	if (made == NULL) {
		rig_arena_free(arena);
		return RIG_NO_MEMORY;
	}
	made->arena = arena;
	made->findings = (rig_claim_findings){
		.coach = completed, .has_place = place != NULL, .options = chosen};
	if (place != NULL)
		made->findings.place = *place;
	claim_around *around = NULL;
	const claim_ground ground = {.coach = completed,
		.place = place != NULL ? &made->findings.place : NULL,
		.options = chosen,
		.arena = arena,
		.around = &around};
	rig_status status = judge_all(&ground, &made->findings);
	if (status == RIG_OK)
		status = claim_judge_places(&ground);
	if (status == RIG_OK)
		*findings = &made->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_claim_free(rig_claim_findings *findings)
{
	if (findings != NULL)
		rig_arena_free(((claim_owned *)(void *)findings)->arena);
}
