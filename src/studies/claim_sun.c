/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_sun.c: "runs it on solar" and "keeps the battery charged in storage". */
#include <math.h>

#include "rigbudget/trip.h"
#include "studies/claim_model.h"
#include "studies/solar_bank.h"

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

/* ---- what to measure ---- */

enum { N_CAUSES = RIG_N_SOLAR_DOUBTS };

/* An input that moves what is left over by so many Wh a day. */
static rig_measure input_of(rig_measure_kind kind, int index, double base_wh, const double wh[3])
{
	rig_measure input = {.kind = kind, .index = index};
	for (int end = 0; end < 3; end++)
		input.outcome[end] = base_wh + wh[end];
	input.decides = (fmin(input.outcome[0], input.outcome[2]) < 0) !=
			(fmax(input.outcome[0], input.outcome[2]) < 0);
	return input;
}

static rig_measure input_of_draw(
	rig_measure_kind kind, int index, double left_wh, rig_figure drawn_wh)
{
	const double wh[3] = {drawn_wh.likely - drawn_wh.low, 0, drawn_wh.likely - drawn_wh.high};
	return input_of(kind, index, left_wh, wh);
}

static size_t add_harvest(const sun_case *it, int month, double left_wh, rig_measure *inputs)
{
	static const rig_measure_kind KIND[N_CAUSES] = {RIG_MEASURE_PANEL_W,
		RIG_MEASURE_PANEL_LOSSES, RIG_MEASURE_SUN, RIG_MEASURE_WEATHER};
	for (int d = 0; d < N_CAUSES; d++) {
		const rig_figure at = it->bank->months[month].doubt_wh_day[d];
		const double wh[3] = {at.low - at.likely, 0, at.high - at.likely};
		inputs[d] = input_of(KIND[d], -1, left_wh, wh);
	}
	return N_CAUSES;
}

static size_t add_standing(const sun_case *it, double left_wh, rig_measure *inputs)
{
	size_t n = 0;
	for (size_t i = 0; i < it->bank->n_standing; i++) {
		const rig_standing_item *item = &it->bank->standing[i];
		rig_measure_kind kind = RIG_MEASURE_STANDING;
		int index = it->bank->bank;
		if (item->kind == RIG_STANDING_INVERTER) {
			kind = RIG_MEASURE_INVERTER;
			index = -1;
		} else if (item->kind == RIG_STANDING_LOAD) {
			kind = it->coach->loads[item->load].supply == RIG_AC ? RIG_MEASURE_AC_LOAD
									     : RIG_MEASURE_DC_LOAD;
			index = item->load;
		}
		inputs[n++] = input_of_draw(kind, index, left_wh, item->wh_day);
	}
	return n;
}

/* Whether a load's use counts, besides what always draws. */
static bool is_used(const sun_case *it, int load)
{
	const rig_away away = rig_load_away(it->coach, load, it->habit);
	const rig_load *own = &it->coach->loads[load];
	if (own->always_on == RIG_YES)
		return false;
	return (away == RIG_RUNS_ON_BANK && own->bank_index == it->bank->bank) ||
	       (away == RIG_RUNS_ON_INVERTER &&
		       it->coach->inverter.bank_index == it->bank->bank);
}

static size_t add_use(const sun_case *it, double left_wh, rig_measure *inputs)
{
	size_t n = 0;
	for (int load = 0; load < (int)it->coach->n_loads; load++)
		if (is_used(it, load))
			inputs[n++] = input_of_draw(RIG_MEASURE_LOAD_DAY, load, left_wh,
				solar_load_wh(it->coach, load, it->habit));
	return n;
}

static rig_status find_measures(const sun_case *it, rig_claim_finding *finding)
{
	const int worst = finding->worst_month;
	rig_measure *inputs = rig_arena_take(it->ground->arena,
		N_CAUSES + it->bank->n_standing + it->coach->n_loads, sizeof *inputs);
	if (inputs == NULL)
		return RIG_NO_MEMORY;
	const double left_wh = it->bank->months[worst].harvest_wh_day.likely - drawn_of(it).likely;
	size_t n = it->bank->n_arrays > 0 ? add_harvest(it, worst, left_wh, inputs) : 0;
	n += add_standing(it, left_wh, inputs + n);
	if (!it->storage)
		n += add_use(it, left_wh, inputs + n);
	claim_set_measures(finding, n, inputs);
	return RIG_OK;
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
	const claim_test test = {.coach = coach,
		.bank = it->bank->bank,
		.habit = it->habit,
		.needs_wh = drawn_of(it).likely};
	return claim_judge_places(it->ground, it->claim, &test, finding);
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
		finding->reasons |= it->coach->n_arrays == 0 ? RIG_CLAIM_NO_ARRAY
							     : RIG_CLAIM_ARRAY_ELSEWHERE;
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
