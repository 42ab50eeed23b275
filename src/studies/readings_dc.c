/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_dc.c: the standing draw of a bank, its capacity, and what its chargers put out. */
#include <math.h>
#include <string.h>

#include "rigbudget/battery.h"
#include "studies/readings_model.h"

/* Two rest voltages of one battery, read with one meter, err less than one against a table made
 * for all: each 0.04 V (common practice, no source). */
static const double REST_V = 0.04;
/* Less than this share between them says little: the error of the share is a tenth. */
static const double SMALL_STEP_FRAC = 0.2;
/* Left of a label's capacity: a battery under 80 % of its rating is due for replacement (common
 * practice, no source); new ones may have a tenth more. */
static const double DUE_FRAC = 0.8, FRESH_FRAC = 1.1;
/* Above these volts of a 12 V battery it takes less than the charger offers; below the others
 * nothing charges it (common practice, no source). */
static const double TAPERING_V = 13.5, UNCHARGED_V = 12.9;
/* A charger's output may be so far from its label, and still agree. */
static const double OUTPUT_FRAC = 0.2;

static double in_series(const rig_coach *coach, int bank)
{
	const rig_figure nominal_v = coach->banks[bank].nominal_v;
	return rig_figure_given(nominal_v) ? fmax(1.0, round(nominal_v.likely / 12.0)) : 1.0;
}

/* ---- standing draw ---- */

static bool only_standing(const reading_model *model, const reading_row *row)
{
	if (row->place != RIG_METER_BANK || row->read < 0.0 ||
		(row->use != RIG_ROW_USED && row->use != RIG_ROW_OUTLIER &&
			row->use != RIG_ROW_NO_LOADS))
		return false;
	for (size_t j = 0; j < model->n_unknowns; j++)
		if (row->on[j] && !model->unknowns[j].standing)
			return false;
	return true;
}

/* Sum of labels, their doubts added as squares: labels err by themselves. */
static rig_figure expected_of(const reading_model *model, const reading_row *row)
{
	double likely = 0.0;
	double down = 0.0;
	double up = 0.0;
	for (size_t j = 0; j < model->n_unknowns; j++) {
		if (!row->on[j])
			continue;
		const rig_figure one = model->unknowns[j].expected_a;
		likely += one.likely;
		down += (one.likely - one.low) * (one.likely - one.low);
		up += (one.high - one.likely) * (one.high - one.likely);
	}
	return rig_figure_range(
		fmax(0.0, likely - sqrt(down)), likely, likely + sqrt(up), RIG_FROM_COMPUTED);
}

static void add_standing(
	const reading_model *model, const reading_row *row, rig_readings_findings *findings)
{
	const rig_figure read_a = reading_interval(row->read, row->sigma);
	const rig_figure expected_a = expected_of(model, row);
	findings->standing[findings->n_standing++] =
		(rig_readings_standing){.reading = row->reading,
			.bank = reading_bank(model->coach, model->readings[row->reading].bank),
			.read_a = read_a,
			.expected_a = expected_a,
			.verdict = reading_verdict(read_a, expected_a)};
}

/* ---- capacity ---- */

static bool is_lead(const rig_bank *bank)
{
	return bank->kind != NULL && strcmp(bank->kind->id, "ideal") != 0 &&
	       bank->kind->cell_group_v < 12.5;
}

/* Least, likely and most of a / b with both ends of their ranges against each other. */
static rig_figure over(rig_figure a, rig_figure b)
{
	return rig_figure_range(
		a.low / b.high, a.likely / b.likely, a.high / b.low, RIG_FROM_COMPUTED);
}

/* Share of the charge between two rest voltages, the errors of both as squares. False: no lead-acid
 * battery at rest has such volts. */
static bool share_between(double before_v, double after_v, rig_figure *share)
{
	double frac[2][3];
	const double volts[2] = {before_v, after_v};
	for (int i = 0; i < 2; i++) {
		if (rig_lead_rest_frac(volts[i], &frac[i][1]) != RIG_OK)
			return false;
		for (int side = 0; side < 3; side += 2)
			if (rig_lead_rest_frac(volts[i] + (side - 1) * REST_V, &frac[i][side]) !=
				RIG_OK)
				frac[i][side] = frac[i][1];
	}
	const double likely = frac[0][1] - frac[1][1];
	const double half = hypot(frac[0][2] - frac[0][0], frac[1][2] - frac[1][0]) / 2.0;
	*share = rig_figure_range(fmax(0.01, likely - half), fmax(0.01, likely),
		likely + half + 0.01, RIG_FROM_COMPUTED);
	return true;
}

/* At 25 C. */
static double warmth_of(const rig_bank *bank)
{
	const double lost = bank->kind == NULL ? 0.0 : bank->kind->capacity_per_k_frac;
	return rig_figure_given(bank->temp_c)
		       ? fmax(0.1, rig_warmth_frac(bank->temp_c.likely, lost))
		       : 1.0;
}

/* From full to empty at some amps: at its rating's hours by Peukert's law. */
static rig_figure at_rating(const rig_bank *bank, rig_figure drawn_ah, double hours)
{
	const double rating_h = rig_figure_given(bank->rating_h) ? bank->rating_h.likely : 20.0;
	const rig_figure exponent = rig_figure_given(bank->peukert_exponent)
					    ? bank->peukert_exponent
					    : rig_figure_range(1.0, 1.1, 1.3, RIG_FROM_ESTIMATED);
	const double share[2] = {
		rig_peukert_capacity((rig_rating){rating_h, 1.0}, exponent.low, hours),
		rig_peukert_capacity((rig_rating){rating_h, 1.0}, exponent.high, hours)};
	const double likely =
		rig_peukert_capacity((rig_rating){rating_h, 1.0}, exponent.likely, hours);
	return over(drawn_ah, rig_figure_range(fmin(share[0], share[1]), likely,
				      fmax(share[0], share[1]), RIG_FROM_COMPUTED));
}

static bool find_capacity(
	const rig_bank *bank, const rig_reading *reading, rig_readings_capacity *capacity)
{
	const double hours = reading->duration_h.likely;
	const double warmth = warmth_of(bank);
	if (reading->to_empty == RIG_YES) {
		capacity->way = RIG_CAPACITY_BY_DISCHARGE;
		capacity->found_ah = at_rating(bank, capacity->drawn_ah, hours);
	} else {
		const double cells = rig_figure_given(bank->nominal_v)
					     ? fmax(0.5, round(bank->nominal_v.likely / 6.0) / 2.0)
					     : 1.0;
		if (!rig_figure_given(reading->rest_before_v) || !is_lead(bank) ||
			!share_between(reading->rest_before_v.likely / cells,
				reading->rest_after_v.likely / cells, &capacity->share_frac))
			return false;
		capacity->way = RIG_CAPACITY_BY_REST;
		capacity->small_step = capacity->share_frac.likely < SMALL_STEP_FRAC;
		capacity->found_ah = over(capacity->drawn_ah, capacity->share_frac);
	}
	capacity->found_ah = rig_figure_scale(capacity->found_ah, 1.0 / warmth);
	return true;
}

/* What the label says of the whole bank, as new. */
static rig_figure label_of(const rig_bank *bank)
{
	if (!rig_figure_given(bank->capacity_ah))
		return bank->total_ah;
	return rig_figure_scale(bank->capacity_ah, bank->parallel < 1 ? 1.0 : bank->parallel);
}

static void add_capacity(const reading_model *model, int reading, rig_readings_findings *findings)
{
	const rig_reading *it = &model->readings[reading];
	const int bank = reading_bank(model->coach, it->bank);
	if (bank < 0 || !rig_figure_given(it->bank_a) || !rig_figure_given(it->duration_h) ||
		it->bank_a.likely >= 0.0 || it->charging != RIG_CHARGING_UNSAID)
		return;
	const rig_bank *of = &model->coach->banks[bank];
	const double sigma = reading_sigma(it->bank_a, &model->options, 1.0);
	const double drawn = -it->bank_a.likely * it->duration_h.likely;
	const double doubt = fmin(0.9 * drawn, 1.96 * sigma * it->duration_h.likely);
	rig_readings_capacity capacity = {.reading = reading,
		.bank = bank,
		.drawn_ah =
			rig_figure_range(drawn - doubt, drawn, drawn + doubt, RIG_FROM_COMPUTED),
		.label_ah = label_of(of)};
	if (!find_capacity(of, it, &capacity))
		return;
	capacity.verdict = RIG_DRAW_NOT_IDENTIFIED;
	const rig_figure label_ah = capacity.label_ah;
	if (rig_figure_given(label_ah) && label_ah.low > 0.0) {
		const rig_figure healthy = rig_figure_range(DUE_FRAC * label_ah.low,
			label_ah.likely, FRESH_FRAC * label_ah.high, RIG_FROM_COMPUTED);
		capacity.left_frac = over(capacity.found_ah, label_ah);
		if (!capacity.small_step)
			capacity.verdict = reading_verdict(capacity.found_ah, healthy);
	}
	findings->capacities[findings->n_capacities++] = capacity;
}

/* ---- sources ---- */

/* Amps of the DC loads of a bank that were on while it was charged. */
static rig_figure loads_on(const reading_model *model, const rig_reading *reading, int bank)
{
	const rig_coach *coach = model->coach;
	rig_figure sum = rig_figure_of(0.0, RIG_FROM_COMPUTED);
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		bool on = load->always_on == RIG_YES;
		for (size_t k = 0; k < reading->n_on; k++)
			on |= strcmp(reading->on[k], load->id) == 0;
		for (size_t k = 0; k < reading->n_breakers; k++)
			on |= load->circuit_index >= 0 &&
			      reading_circuit(coach, reading->breakers[k]) == load->circuit_index;
		if (!on || load->supply != RIG_DC || load->bank_index != bank)
			continue;
		const double volts_v =
			rig_figure_given(load->volts_v) ? load->volts_v.likely : 12.0;
		sum = rig_figure_add(
			sum, rig_figure_scale(load->running_w, fmax(1, load->count) / volts_v));
	}
	return sum;
}

static rig_draw_verdict source_verdict(const rig_readings_source *source, double volts_of_12_v)
{
	const double rated_a = source->rated_a.likely;
	if (source->output_a.high >= (1.0 - OUTPUT_FRAC) * rated_a)
		return source->output_a.low > (1.0 + OUTPUT_FRAC) * source->rated_a.high
			       ? RIG_DRAW_HIGH
			       : RIG_DRAW_AGREES;
	if (source->bank_full)
		return RIG_DRAW_NOT_IDENTIFIED;
	return source->output_a.high < 0.1 * rated_a && volts_of_12_v < UNCHARGED_V ? RIG_DRAW_DEAD
										    : RIG_DRAW_LOW;
}

static void add_source(const reading_model *model, int reading, rig_readings_findings *findings)
{
	const rig_coach *coach = model->coach;
	const rig_reading *it = &model->readings[reading];
	const int bank = reading_bank(coach, it->bank);
	const bool charger = it->charging == RIG_BY_CHARGER && coach->charger.present;
	const bool alternator = it->charging == RIG_BY_ALTERNATOR && coach->dc_charger.present;
	if (bank < 0 || !rig_figure_given(it->bank_a) || (!charger && !alternator))
		return;
	const double sigma = reading_sigma(it->bank_a, &model->options, 1.0);
	const double volts_of_12_v = it->volts_v.likely / in_series(coach, bank);
	rig_readings_source source = {.reading = reading,
		.bank = bank,
		.by = it->charging,
		.output_a = rig_figure_add(
			reading_interval(it->bank_a.likely, sigma), loads_on(model, it, bank)),
		.rated_a = charger ? coach->charger.amps_a : coach->dc_charger.amps_a,
		/* without volts nobody can say whether the bank takes all that it is offered */
		.bank_full = !rig_figure_given(it->volts_v) || volts_of_12_v >= TAPERING_V};
	source.verdict = source_verdict(&source, volts_of_12_v);
	findings->sources[findings->n_sources++] = source;
}

rig_status reading_dc(const reading_model *model, rig_readings_findings *findings)
{
	const size_t n = model->n_readings;
	findings->standing = rig_arena_take(model->arena, n, sizeof *findings->standing);
	findings->capacities = rig_arena_take(model->arena, n, sizeof *findings->capacities);
	findings->sources = rig_arena_take(model->arena, n, sizeof *findings->sources);
	if (findings->standing == NULL || findings->capacities == NULL || findings->sources == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < model->n_rows; i++)
		if (only_standing(model, &model->rows[i]))
			add_standing(model, &model->rows[i], findings);
	for (size_t i = 0; i < n; i++) {
		add_capacity(model, (int)i, findings);
		add_source(model, (int)i, findings);
	}
	return RIG_OK;
}
