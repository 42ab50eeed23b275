/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_label.c: claims of a size: watts of the panels, watt-hours or amp-hours of a bank. */
#include "studies/claim_model.h"

/* At least so much, by the coach's own range: sure at its low, out of reach above its high. The
 * claim's own range counts by its likely value; a label is rounded to a hundredth. */
static const double ROUNDED_FRAC = 0.01;

static void judge_size(rig_figure claimed, rig_figure has, rig_claim_finding *finding)
{
	finding->has = has;
	finding->needs = claimed;
	if (!rig_figure_given(has)) {
		finding->answer = RIG_CLAIM_NOT_JUDGED;
		finding->reasons |= RIG_CLAIM_NO_FIGURE;
		return;
	}
	const double least = claimed.likely * (1.0 - ROUNDED_FRAC);
	finding->answer = has.low >= least    ? RIG_CLAIM_HOLDS
			  : has.high >= least ? RIG_CLAIM_OPEN
					      : RIG_CLAIM_FAILS;
}

/* Whether a figure stands on what somebody has read or measured. */
static bool is_label(rig_figure figure)
{
	return figure.from == RIG_FROM_NAMEPLATE || figure.from == RIG_FROM_STATED;
}

static bool is_meant(const rig_claim *claim, size_t array)
{
	return claim->array_index < 0 || claim->array_index == (int)array;
}

/* Sums over the arrays that are meant; the area is absent unless all have one. by_label: all watts
 * are those of labels. */
static size_t sum_arrays(const rig_coach *coach, const rig_claim *claim, rig_figure *watts_w,
	rig_figure *area_m2, bool *by_label)
{
	size_t n = 0;
	bool sized = true;
	*by_label = true;
	*watts_w = *area_m2 = (rig_figure){.from = RIG_FROM_NOTHING};
	for (size_t i = 0; i < coach->n_arrays; i++) {
		const rig_array *array = &coach->arrays[i];
		if (!is_meant(claim, i))
			continue;
		const rig_figure area = rig_figure_scale(
			rig_figure_multiply(array->length_m, array->width_m), array->count);
		sized = sized && rig_figure_given(area);
		*by_label = *by_label && is_label(array->watts_w);
		rig_figure total_w = array->total_w;
		total_w.from = array->watts_w.from;
		*watts_w = n == 0 ? total_w : rig_figure_add(*watts_w, array->total_w);
		*area_m2 = n == 0 ? area : rig_figure_add(*area_m2, area);
		n++;
	}
	if (!sized)
		*area_m2 = (rig_figure){.from = RIG_FROM_NOTHING};
	return n;
}

static rig_status set_measure(
	const claim_ground *ground, rig_measure_kind kind, int index, rig_claim_finding *finding)
{
	rig_measure *input = rig_arena_take(ground->arena, 1, sizeof *input);
	if (input == NULL)
		return RIG_NO_MEMORY;
	*input = (rig_measure){.kind = kind,
		.index = index,
		.outcome = {finding->has.low, finding->has.likely, finding->has.high},
		.decides = finding->answer == RIG_CLAIM_OPEN};
	claim_set_measures(finding, 1, input);
	return RIG_OK;
}

static rig_status judge_panel(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	rig_figure watts_w, area_m2;
	bool by_label;
	if (sum_arrays(ground->coach, claim, &watts_w, &area_m2, &by_label) == 0) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_ARRAY;
		finding->needs = claim->panel_w;
		finding->has = rig_figure_of(0.0, RIG_FROM_COMPUTED);
		return RIG_OK;
	}
	finding->array = claim->array_index;
	judge_size(claim->panel_w, watts_w, finding);
	if (by_label && finding->answer == RIG_CLAIM_HOLDS)
		finding->reasons |= RIG_CLAIM_BY_LABEL;
	if (rig_figure_given(area_m2) && area_m2.high > 0 &&
		claim->panel_w.likely / area_m2.high > RIG_SOLAR_DENSITY_MAX_WM2) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_OVER_GLASS;
	}
	return set_measure(ground, RIG_MEASURE_PANEL_W, claim->array_index, finding);
}

static rig_status judge_bank(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	const rig_coach *coach = ground->coach;
	const bool energy = claim->says == RIG_SAYS_USABLE_WH;
	const int bank = claim->bank_index >= 0 ? claim->bank_index : claim_house_bank(coach);
	const rig_figure claimed = energy ? claim->usable_wh : claim->capacity_ah;
	finding->bank = bank;
	if (bank < 0) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_BANK;
		finding->needs = claimed;
		finding->has = rig_figure_of(0.0, RIG_FROM_COMPUTED);
		return RIG_OK;
	}
	judge_size(claimed, energy ? coach->banks[bank].usable_wh : coach->banks[bank].total_ah,
		finding);
	if (!energy && is_label(coach->banks[bank].capacity_ah) &&
		finding->answer == RIG_CLAIM_HOLDS)
		finding->reasons |= RIG_CLAIM_BY_LABEL;
	return set_measure(ground, RIG_MEASURE_CAPACITY, bank, finding);
}

rig_status claim_judge_label(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	return claim->says == RIG_SAYS_PANEL_W ? judge_panel(ground, claim, finding)
					       : judge_bank(ground, claim, finding);
}
