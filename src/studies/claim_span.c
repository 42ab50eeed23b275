/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_span.c: so many days without hookups, or so many hours on the battery alone. */
#include <math.h>

#include "rigbudget/trip.h"
#include "studies/claim_model.h"

static const double DAY_H = 24.0;

/* One claim in hand. */
typedef struct {
	const claim_ground *ground;
	const rig_claim *claim;
	const rig_coach *coach; /* as supposed */
	int habit;
	bool hours;
	double asked_days;
} span_case;

static rig_status study(const span_case *it, int month, rig_trip_findings **trip)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.habit = it->habit;
	options.n_days = (int)ceil(it->asked_days);
	options.n_trips = it->hours ? 0 : it->ground->options.n_trips;
	options.n_side_trips = 0;
	options.seed = it->ground->options.seed;
	return rig_trip_study(it->coach, it->ground->place, &options, trip);
}

static rig_figure as_asked(const span_case *it, rig_figure days)
{
	return it->hours ? rig_figure_scale(days, DAY_H) : days;
}

/* Days, with the panel if there is one: the study counts the same for both otherwise. */
static rig_carried by_ends(const span_case *it, rig_figure days)
{
	if (days.low >= it->asked_days)
		return RIG_CAN;
	return days.high >= it->asked_days ? RIG_MAY : RIG_CANNOT;
}

static rig_carried by_stays(double out_frac)
{
	if (out_frac <= RIG_CLAIM_OUT_FRAC)
		return RIG_CAN;
	return out_frac < 1.0 - RIG_CLAIM_OUT_FRAC ? RIG_MAY : RIG_CANNOT;
}

static void fill_month(const span_case *it, const rig_trip_findings *trip, rig_claim_month *month)
{
	const rig_trip_bank *bank = &trip->banks[trip->main_bank];
	month->judged = true;
	month->needs = it->hours ? it->claim->runs_h : it->claim->stay_days;
	month->has = as_asked(it, bank->days_with_panel);
	if (!rig_figure_given(bank->days_with_panel))
		month->has = as_asked(it, rig_figure_of(RIG_TRIP_DAYS_MAX, RIG_FROM_COMPUTED));
	if (trip->chance.n_trips == 0) {
		month->holds =
			by_ends(it, rig_figure_given(bank->days_with_panel)
					    ? bank->days_with_panel
					    : rig_figure_of(RIG_TRIP_DAYS_MAX, RIG_FROM_COMPUTED));
		return;
	}
	const rig_trip_chance *chance = &trip->chance;
	month->out_frac = rig_figure_range(1.0 - chance->never_out_high,
		1.0 - chance->never_out_frac, 1.0 - chance->never_out_low, RIG_FROM_COMPUTED);
	month->holds = by_stays(month->out_frac.likely);
}

/* ---- what to measure ---- */

static rig_status take_inputs(
	const span_case *it, const rig_trip_findings *trip, rig_claim_finding *finding)
{
	finding->measures =
		rig_arena_take(it->ground->arena, RIG_MEASURE_SHOWN, sizeof *finding->measures);
	if (finding->measures == NULL)
		return RIG_NO_MEMORY;
	finding->n_measures = rig_trip_measures(trip, finding->measures);
	for (size_t i = 0; i < trip->n_inputs; i++)
		if (trip->inputs[i].kind == RIG_INPUT_WEATHER)
			finding->weather_frac = trip->inputs[i].share_frac;
	return RIG_OK;
}

/* Days from full over use at the bank: each by itself moves them in proportion. */
static rig_status take_ends(
	const span_case *it, const rig_trip_findings *trip, rig_claim_finding *finding)
{
	const rig_trip_bank *bank = &trip->banks[trip->main_bank];
	const rig_figure usable = bank->usable_wh, wanted = bank->wanted_wh_day;
	rig_measure *inputs =
		rig_arena_take(it->ground->arena, 1 + trip->n_carried, sizeof *inputs);
	if (inputs == NULL)
		return RIG_NO_MEMORY;
	const double hours = finding->has.likely;
	const double asked = it->claim->runs_h.likely;
	size_t n = 0;
	inputs[n++] = (rig_measure){.kind = RIG_MEASURE_CAPACITY,
		.index = bank->bank,
		.outcome = {hours * usable.low / usable.likely, hours,
			hours * usable.high / usable.likely}};
	for (size_t i = 0; i < trip->n_carried; i++) {
		const rig_trip_load *load = &trip->loads[i];
		const double own = load->wh_day.likely > 0 ? load->at_bank_wh_day : 0;
		if (load->bank != bank->bank || own <= 0 || wanted.likely <= 0)
			continue;
		const double low = own * load->wh_day.low / load->wh_day.likely - own;
		const double high = own * load->wh_day.high / load->wh_day.likely - own;
		inputs[n++] = (rig_measure){.kind = RIG_MEASURE_LOAD_DAY,
			.index = load->load,
			.outcome = {hours * wanted.likely / (wanted.likely + low), hours,
				hours * wanted.likely / (wanted.likely + high)}};
	}
	for (size_t i = 0; i < n; i++)
		inputs[i].decides =
			(inputs[i].outcome[0] < asked) != (inputs[i].outcome[2] < asked);
	claim_set_measures(finding, n, inputs);
	return RIG_OK;
}

static rig_status measures_of(const span_case *it, rig_claim_finding *finding)
{
	rig_trip_findings *trip = NULL;
	rig_status status = study(it, finding->worst_month, &trip);
	if (status == RIG_OK)
		status = it->hours ? take_ends(it, trip, finding) : take_inputs(it, trip, finding);
	rig_trip_free(trip);
	return status;
}

/* ---- the answer ---- */

static rig_status fill_months(const span_case *it, rig_claim_finding *finding)
{
	rig_status status = RIG_OK;
	for (int m = 0; m < RIG_CLAIM_MONTHS && status == RIG_OK; m++) {
		rig_trip_findings *trip = NULL;
		if (!claim_judges_month(it->claim, m))
			continue;
		status = study(it, m, &trip);
		if (status == RIG_OK)
			fill_month(it, trip, &finding->months[m]);
		rig_trip_free(trip);
	}
	return status;
}

static bool has_house_array(const rig_coach *coach, int bank)
{
	for (size_t i = 0; i < coach->n_arrays; i++)
		if (coach->arrays[i].bank_index == bank)
			return true;
	return false;
}

static const uint32_t IN_THE_WAY =
	RIG_CLAIM_NOT_FED | RIG_CLAIM_NO_INVERTER | RIG_CLAIM_INVERTER_SMALL | RIG_CLAIM_NO_BANK;

static rig_status judge(const span_case *it, rig_claim_finding *finding)
{
	rig_status status = fill_months(it, finding);
	if (status == RIG_OK) {
		claim_conclude(finding);
		status = measures_of(it, finding);
	}
	if (status == RIG_OK && !it->hours) {
		const claim_test test = {.claim = it->claim,
			.coach = it->coach,
			.bank = finding->bank,
			.habit = it->habit,
			.days = it->asked_days};
		status = claim_note_places(it->ground, &test, finding);
	}
	if (finding->reasons & IN_THE_WAY) {
		finding->supposed = true;
		finding->answer = RIG_CLAIM_FAILS;
	}
	return status;
}

rig_status claim_judge_span(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	span_case it = {.ground = ground, .claim = claim};
	it.hours = claim->says == RIG_SAYS_HOURS;
	it.asked_days = it.hours ? claim->runs_h.likely / DAY_H : claim->stay_days.likely;
	const claim_changes changes = {.feed = true,
		.all_day = it.hours,
		.no_arrays = it.hours || claim->source == RIG_POWER_BATTERY,
		.arrays_on = -1};
	it.coach = claim_coach(ground, claim, &changes);
	it.habit = claim_habit(ground, claim);
	finding->bank = claim_house_bank(ground->coach);
	if (it.coach == NULL)
		return RIG_NO_MEMORY;
	if (finding->bank < 0) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_BANK;
		return RIG_OK;
	}
	if (claim->source == RIG_POWER_SOLAR && !has_house_array(ground->coach, finding->bank))
		finding->reasons |= ground->coach->n_arrays == 0 ? RIG_CLAIM_NO_ARRAY
								 : RIG_CLAIM_ARRAY_ELSEWHERE;
	const rig_status status = claim_note_lacking(ground, claim, finding);
	return status == RIG_OK ? judge(&it, finding) : status;
}
