/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_sun.c: "runs it on solar" and "keeps the battery charged in storage". */
#include <math.h>

#include "studies/claim_model.h"
#include "studies/solar_bank.h"
#include "studies/solar_measure.h"

/* One claim of the sun in hand. */
typedef struct {
	const claim_ground *ground;
	const rig_claim *claim;
	const rig_coach *coach; /* as supposed */
	int habit;              /* of that coach */
	bool storage;
	rig_solar_findings *solar; /* of that coach */
	const rig_solar_bank *bank;
} sun_case;

static rig_status study(const sun_case *it, int month, rig_solar_findings **solar)
{
	rig_solar_options options = rig_solar_defaults();
	options.month = month;
	options.habit = it->habit;
	options.n_days = RIG_CLAIM_STAY_DAYS;
	options.seed = it->ground->options.seed;
	return rig_solar_study(it->coach, it->ground->place, &options, solar);
}

static const rig_solar_bank *largest_house(const rig_solar_findings *solar, const rig_coach *coach)
{
	const int house = claim_house_bank(coach);
	for (size_t i = 0; i < solar->n_banks; i++)
		if (solar->banks[i].bank == house)
			return &solar->banks[i];
	return NULL;
}

/* The bank that is meant, and what is missing for it. */
static const rig_solar_bank *bank_of(
	const sun_case *it, const rig_solar_findings *solar, rig_claim_finding *finding)
{
	if (it->storage && it->claim->bank_index >= 0)
		return &solar->banks[it->claim->bank_index];
	if (solar->main_bank >= 0 && (it->storage || solar->contributes_to_house))
		return &solar->banks[solar->main_bank];
	if (solar->moved != NULL) {
		finding->reasons |= RIG_CLAIM_ARRAY_ELSEWHERE;
		finding->supposed = true;
		return solar->moved;
	}
	return largest_house(solar, it->coach);
}

/* Harvest over what is drawn, at one end of both. */
static bool covers(rig_figure harvest, rig_figure drawn, solar_course course)
{
	return solar_end(harvest, course) >= solar_against(drawn, course);
}

/* Which level must be reached; a bank that outlasts what is followed without any sun needs none. */
static bool reaches(const sun_case *it, const rig_solar_bank_month *month, rig_solar_level level)
{
	const bool outlasts = rig_figure_given(month->days_without) &&
			      month->days_without.low >= RIG_SOLAR_DAYS_MAX;
	return level >= (it->storage || outlasts ? RIG_MAINTAINS : RIG_CARRIES);
}

static rig_carried holds_in(
	const sun_case *it, const rig_solar_bank_month *month, const rig_claim_month *made)
{
	if (reaches(it, month, month->level.low) && covers(made->has, made->needs, COURSE_POOR))
		return RIG_CAN;
	return reaches(it, month, month->level.high) && covers(made->has, made->needs, COURSE_GOOD)
		       ? RIG_MAY
		       : RIG_CANNOT;
}

static rig_figure drawn_of(const sun_case *it)
{
	return it->storage ? it->bank->standing_wh_day : it->bank->use_wh_day;
}

static void fill_months(const sun_case *it, rig_claim_finding *finding)
{
	for (int m = 0; m < RIG_CLAIM_MONTHS; m++) {
		const rig_solar_bank_month *month = &it->bank->months[m];
		rig_claim_month *made = &finding->months[m];
		made->judged = claim_judges_month(it->claim, m);
		if (!made->judged)
			continue;
		made->has = month->harvest_wh_day;
		made->needs = drawn_of(it);
		if (!it->storage)
			made->out_frac = month->run_out_frac;
		made->holds = holds_in(it, month, made);
	}
}

static rig_status find_measures(const sun_case *it, rig_claim_finding *finding)
{
	const solar_measure_of of = {.coach = it->coach,
		.bank = it->bank,
		.month = finding->worst_month,
		.habit = it->habit,
		.with_use = !it->storage,
		.arena = it->ground->arena};
	return solar_measures(&of, &finding->n_measures, &finding->measures);
}

/* ---- what it would take ---- */

static rig_status find_need(const sun_case *it, rig_claim_finding *finding)
{
	rig_solar_findings *solar = NULL;
	const rig_status status = study(it, finding->worst_month, &solar);
	if (status != RIG_OK)
		return status;
	rig_claim_finding unused = {0};
	const rig_solar_bank *bank = bank_of(it, solar, &unused);
	const rig_solar_level level = it->storage ? RIG_MAINTAINS : RIG_CARRIES;
	if (bank != NULL && (size_t)level < bank->n_needs)
		finding->panel_need_w = bank->needs[level].worst_w;
	/* the level may be had from the bank alone; the claim asks the sun for all of it */
	const rig_claim_month *worst = &finding->months[finding->worst_month];
	if (bank != NULL && worst->has.low > 0 && rig_figure_given(finding->panel_need_w) &&
		bank->total_w.likely > 0) {
		const double factor = worst->needs.likely / worst->has.likely;
		const double least_w = bank->total_w.likely * factor;
		if (finding->panel_need_w.likely < least_w)
			finding->panel_need_w = rig_figure_scale(
				finding->panel_need_w, least_w / finding->panel_need_w.likely);
	}
	rig_solar_free(solar);
	return RIG_OK;
}

static rig_status look_around(const sun_case *it, rig_claim_finding *finding)
{
	rig_status status = find_measures(it, finding);
	if (status == RIG_OK && finding->answer != RIG_CLAIM_HOLDS)
		status = find_need(it, finding);
	if (status != RIG_OK || it->bank->n_arrays == 0)
		return status;
	const rig_coach *coach = it->coach;
	if (finding->supposed && (finding->reasons & RIG_CLAIM_ARRAY_ELSEWHERE)) {
		const claim_changes moved = {.feed = true, .arrays_on = it->bank->bank};
		coach = claim_coach(it->ground, it->claim, &moved);
	}
	if (coach == NULL)
		return RIG_NO_MEMORY;
	const claim_test test = {.claim = it->claim,
		.coach = coach,
		.bank = it->bank->bank,
		.habit = it->habit,
		.needs_wh = drawn_of(it).likely};
	return claim_note_places(it->ground, &test, finding);
}

/* ---- the answer ---- */

static const uint32_t IN_THE_WAY = RIG_CLAIM_NOT_FED | RIG_CLAIM_NO_INVERTER |
				   RIG_CLAIM_INVERTER_SMALL | RIG_CLAIM_NO_BANK |
				   RIG_CLAIM_NO_ARRAY | RIG_CLAIM_ARRAY_ELSEWHERE;

static rig_status judge(sun_case *it, rig_claim_finding *finding)
{
	it->bank = bank_of(it, it->solar, finding);
	if (it->bank == NULL) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_BANK;
		return RIG_OK;
	}
	finding->bank = it->bank->bank;
	if (it->bank->n_arrays == 0)
		finding->reasons |=
			it->coach->n_arrays == 0 ? RIG_CLAIM_NO_ARRAY : RIG_CLAIM_ARRAY_ELSEWHERE;
	fill_months(it, finding);
	claim_conclude(finding);
	const rig_status status = look_around(it, finding);
	if (finding->reasons & IN_THE_WAY) {
		finding->supposed = true;
		finding->answer = RIG_CLAIM_FAILS;
	}
	return status;
}

rig_status claim_judge_sun(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	sun_case it = {.ground = ground, .claim = claim};
	it.storage = claim->says == RIG_SAYS_SUN_HOLDS;
	const claim_changes changes = {.feed = true, .arrays_on = -1};
	it.coach = it.storage ? ground->coach : claim_coach(ground, claim, &changes);
	it.habit = claim_habit(ground, claim);
	if (it.coach == NULL)
		return RIG_NO_MEMORY;
	rig_status status = it.storage ? RIG_OK : claim_note_lacking(ground, claim, finding);
	if (status == RIG_OK && ground->coach->n_banks == 0) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_BANK;
		return RIG_OK;
	}
	if (status == RIG_OK)
		status = study(&it, -1, &it.solar);
	if (status == RIG_OK)
		status = judge(&it, finding);
	rig_solar_free(it.solar);
	return status;
}
