/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_rows.c: from the coach and its readings to unknown draws and rows of equations. */
#include <math.h>
#include <string.h>

#include "studies/readings_model.h"

/* What healthy appliances of one label differ by; heating elements are sold to within 5 to 10 %
 * (common practice, no source). */
static const double LABEL_FRAC = 0.10;
/* A label is a soft opinion: one standard deviation (common practice, no source). */
static const double SPREAD_FRAC = 0.30;
static const double LEAST_SPREAD_A = 0.05;
/* Above this the volts were read from hot to hot. */
static const double HOT_TO_HOT_V = 170.0;
/* A charger whose file says nothing: as in the shore study (common practice, no source). */
static const double CHARGER_V_OF_12 = 14.4, CHARGER_EFFICIENCY = 0.85, CHARGER_PF = 0.8;
enum { N_METERS = 6 };

int reading_load(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; i < coach->n_loads; i++)
		if (strcmp(coach->loads[i].id, id) == 0)
			return (int)i;
	return -1;
}

int reading_circuit(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; id != NULL && i < coach->n_circuits; i++)
		if (strcmp(coach->circuits[i].id, id) == 0)
			return (int)i;
	return -1;
}

int reading_bank(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; id != NULL && i < coach->n_banks; i++)
		if (strcmp(coach->banks[i].id, id) == 0)
			return (int)i;
	return -1;
}

int reading_array(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; id != NULL && i < coach->n_arrays; i++)
		if (strcmp(coach->arrays[i].id, id) == 0)
			return (int)i;
	return -1;
}

double reading_sigma(rig_figure figure, const rig_readings_options *options, double per_amp)
{
	if (figure.high > figure.low)
		return (figure.high - figure.low) / 4.0;
	return options->meter_frac * fabs(figure.likely) + options->meter_a * per_amp;
}

rig_figure reading_interval(double value, double sigma)
{
	return rig_figure_range(
		value - 1.96 * sigma, value, value + 1.96 * sigma, RIG_FROM_COMPUTED);
}

/* ---- unknowns ---- */

static double given_or(rig_figure figure, double absent)
{
	return rig_figure_given(figure) ? figure.likely : absent;
}

static void set_label(reading_unknown *unknown, rig_figure label_a)
{
	const double likely = label_a.likely;
	label_a.from = rig_figure_given(label_a) ? label_a.from : RIG_FROM_COMPUTED;
	unknown->label_a = label_a;
	unknown->expected_a = rig_figure_range(fmin(label_a.low, likely * (1.0 - LABEL_FRAC)),
		likely, fmax(label_a.high, likely * (1.0 + LABEL_FRAC)), RIG_FROM_COMPUTED);
	unknown->spread_a = fmax(
		fmax((label_a.high - label_a.low) / 2.0, SPREAD_FRAC * likely), LEAST_SPREAD_A);
}

static rig_voltage_response response_of(rig_behaviour behaviour)
{
	switch (behaviour) {
	case RIG_RESISTIVE:
		return RIG_HOLDS_RESISTANCE;
	case RIG_MOTOR:
	case RIG_COMPRESSOR:
		return RIG_HOLDS_SHAFT;
	default:
		return RIG_HOLDS_POWER;
	}
}

static rig_leg leg_of(const rig_coach *coach, int circuit)
{
	if (coach->cord_a < 50)
		return RIG_LEG_1;
	return circuit < 0 ? RIG_LEG_UNSAID : coach->circuits[circuit].leg;
}

static reading_unknown unknown_of_load(const rig_coach *coach, int load)
{
	const rig_load *it = &coach->loads[load];
	const bool ac = it->supply != RIG_DC;
	const bool across = ac && leg_of(coach, it->circuit_index) == RIG_LEG_BOTH;
	reading_unknown unknown = {.load = load,
		.supply = ac ? RIG_AC : RIG_DC,
		.leg = ac ? leg_of(coach, it->circuit_index) : RIG_LEG_UNSAID,
		.circuit = it->circuit_index,
		.bank = ac ? -1 : it->bank_index,
		.count = it->count < 1 ? 1 : it->count,
		.standing = it->always_on == RIG_YES,
		.rated_v = given_or(it->volts_v, across ? 240.0
						 : ac   ? 120.0
							: 12.0),
		.power_factor = ac ? given_or(it->power_factor, 1.0) : 1.0,
		.response = response_of(it->behaviour)};
	const double per_watt = unknown.count / (unknown.rated_v * unknown.power_factor);
	const rig_figure watts_w = it->running_w;
	set_label(&unknown, rig_figure_range(watts_w.low * per_watt, watts_w.likely * per_watt,
				    watts_w.high * per_watt, watts_w.from));
	return unknown;
}

/* A charger draws all or nothing of its rated amps: its label's range begins at nothing. */
static reading_unknown unknown_of_charger(const rig_coach *coach)
{
	const rig_charger *it = &coach->charger;
	const double bank_v =
		it->bank_index >= 0 ? given_or(coach->banks[it->bank_index].nominal_v, 12.0) : 12.0;
	const double charge_v = CHARGER_V_OF_12 * fmax(1.0, round(bank_v / 12.0));
	reading_unknown unknown = {.load = RIG_READINGS_CHARGER,
		.supply = RIG_AC,
		.leg = leg_of(coach, it->circuit_index),
		.circuit = it->circuit_index,
		.bank = -1,
		.count = 1,
		.standing = true,
		.rated_v = 120.0,
		.power_factor = given_or(it->power_factor, CHARGER_PF),
		.response = RIG_HOLDS_POWER};
	const double full_a = given_or(it->amps_a, 0.0) * charge_v /
			      given_or(it->efficiency_frac, CHARGER_EFFICIENCY) /
			      (unknown.rated_v * unknown.power_factor);
	set_label(&unknown, rig_figure_range(0.0, full_a / 2.0, full_a, RIG_FROM_COMPUTED));
	return unknown;
}

/* An inverter that stays on draws its idle watts day and night. */
static reading_unknown unknown_of_inverter(const rig_coach *coach)
{
	const rig_inverter *it = &coach->inverter;
	reading_unknown unknown = {.load = RIG_READINGS_INVERTER,
		.supply = RIG_DC,
		.circuit = -1,
		.bank = it->bank_index,
		.count = 1,
		.standing = true,
		.rated_v = given_or(coach->banks[it->bank_index].nominal_v, 12.0),
		.power_factor = 1.0,
		.response = RIG_HOLDS_POWER};
	const double per_watt = 1.0 / unknown.rated_v;
	set_label(
		&unknown, rig_figure_range(it->idle_w.low * per_watt, it->idle_w.likely * per_watt,
				  it->idle_w.high * per_watt, it->idle_w.from));
	return unknown;
}

/* ---- rows ---- */

static void mark(const reading_model *model, bool on[], int load, rig_supply_kind supply)
{
	for (size_t j = 0; j < model->n_unknowns; j++)
		if (model->unknowns[j].load == load && model->unknowns[j].supply == supply)
			on[j] = true;
}

static bool stands(const reading_unknown *unknown, const rig_reading *reading)
{
	if (unknown->load == RIG_READINGS_CHARGER)
		return reading->charger != RIG_NO;
	return unknown->standing;
}

/* What was on in a reading, on the side of its meter. */
static rig_status mark_on(const reading_model *model, const rig_reading *reading, bool on[])
{
	for (size_t j = 0; j < model->n_unknowns; j++)
		on[j] = stands(&model->unknowns[j], reading);
	for (size_t i = 0; i < reading->n_on; i++) {
		const int load = reading_load(model->coach, reading->on[i]);
		if (load < 0)
			return RIG_BAD_INPUT;
		mark(model, on, load, RIG_AC);
		mark(model, on, load, RIG_DC);
	}
	for (size_t i = 0; i < reading->n_breakers; i++) {
		const int circuit = reading_circuit(model->coach, reading->breakers[i]);
		if (circuit < 0)
			return RIG_BAD_INPUT;
		for (size_t j = 0; j < model->n_unknowns; j++)
			on[j] |= model->unknowns[j].circuit == circuit;
	}
	return RIG_OK;
}

static bool reaches(const reading_unknown *unknown, const reading_row *row, int target)
{
	switch (row->place) {
	case RIG_METER_LEG_1:
		return unknown->supply == RIG_AC &&
		       (unknown->leg == RIG_LEG_1 || unknown->leg == RIG_LEG_BOTH ||
			       unknown->leg == RIG_LEG_UNSAID);
	case RIG_METER_LEG_2:
		return unknown->supply == RIG_AC &&
		       (unknown->leg == RIG_LEG_2 || unknown->leg == RIG_LEG_BOTH ||
			       unknown->leg == RIG_LEG_UNSAID);
	case RIG_METER_CIRCUIT:
		return unknown->circuit == target;
	case RIG_METER_BANK:
		return unknown->supply == RIG_DC && unknown->bank == target;
	default:
		return unknown->supply == RIG_AC;
	}
}

/* Leaves on only what the row's meter sees; says what is wrong with the row. */
static void see_only(const reading_model *model, reading_row *row, int target)
{
	bool any = false;
	bool unknown_leg = false;
	for (size_t j = 0; j < model->n_unknowns; j++) {
		const reading_unknown *unknown = &model->unknowns[j];
		row->on[j] = row->on[j] && reaches(unknown, row, target);
		any |= row->on[j];
		unknown_leg |= row->on[j] && unknown->leg == RIG_LEG_UNSAID;
	}
	const bool one_leg = row->place == RIG_METER_LEG_1 || row->place == RIG_METER_LEG_2;
	if (row->use == RIG_ROW_USED && !any)
		row->use = RIG_ROW_NO_LOADS;
	else if (row->use == RIG_ROW_USED && one_leg && unknown_leg)
		row->use = RIG_ROW_LEG_UNKNOWN;
}

/* A figure that was read, and where. */
typedef struct {
	rig_meter_place place;
	rig_figure figure;
	int target; /* circuit or bank; -1 for the supply */
} meter_figure;

static rig_row_use use_of(
	const reading_model *model, const rig_reading *reading, const meter_figure *meter)
{
	if (meter->place == RIG_METER_LEG_2 && model->coach->cord_a < 50)
		return RIG_ROW_DEAD_LEG;
	if (meter->place != RIG_METER_BANK)
		return RIG_ROW_USED;
	if (meter->target < 0)
		return RIG_ROW_NO_BANK;
	if (reading->charging != RIG_CHARGING_UNSAID)
		return RIG_ROW_CHARGING;
	if (rig_figure_given(reading->duration_h) && reading->n_on + reading->n_breakers == 0)
		return RIG_ROW_DISCHARGE;
	return meter->figure.likely > 0.0 ? RIG_ROW_NOT_SAID : RIG_ROW_USED;
}

static double volts_of(const rig_reading *reading, rig_meter_place place)
{
	const double volts_v = given_or(reading->volts_v, 0.0);
	if (place == RIG_METER_BANK)
		return volts_v < 65.0 ? volts_v : 0.0;
	return volts_v > HOT_TO_HOT_V ? volts_v / 2.0 : volts_v > 65.0 ? volts_v : 0.0;
}

static rig_status add_row(reading_model *model, int reading, const meter_figure *meter)
{
	const rig_reading *it = &model->readings[reading];
	if (!rig_figure_given(meter->figure))
		return RIG_OK;
	if (!isfinite(meter->figure.low) || !isfinite(meter->figure.high))
		return RIG_BAD_INPUT;
	reading_row *row = &model->rows[model->n_rows];
	const double per_amp = meter->place == RIG_METER_WATTS ? 120.0
			       : meter->place == RIG_METER_BOTH_LEGS
				       ? 1.41 /* two readings' fixed parts */
				       : 1.0;
	*row = (reading_row){.reading = reading,
		.place = meter->place,
		.use = use_of(model, it, meter),
		.read = meter->place == RIG_METER_BANK ? -meter->figure.likely
						       : meter->figure.likely,
		.sigma = reading_sigma(meter->figure, &model->options, per_amp),
		.volts_v = volts_of(it, meter->place),
		.on = rig_arena_take(model->arena, model->n_unknowns, sizeof *row->on)};
	if (row->on == NULL)
		return RIG_NO_MEMORY;
	const rig_status status = mark_on(model, it, row->on);
	see_only(model, row, meter->target);
	model->n_rows++;
	return status;
}

/* Both legs read while a load of unknown leg was on: their sum says what each does not. */
static rig_status sum_legs(reading_model *model, int reading, size_t first)
{
	const rig_reading *it = &model->readings[reading];
	bool unknown_leg = false;
	for (size_t i = first; i < model->n_rows; i++)
		unknown_leg |= model->rows[i].use == RIG_ROW_LEG_UNKNOWN;
	if (!unknown_leg || !rig_figure_given(it->leg1_a) || !rig_figure_given(it->leg2_a))
		return RIG_OK;
	for (size_t i = first; i < model->n_rows; i++)
		if (model->rows[i].place == RIG_METER_LEG_1 ||
			model->rows[i].place == RIG_METER_LEG_2)
			model->rows[i].use = RIG_ROW_LEG_UNKNOWN;
	const meter_figure both = {RIG_METER_BOTH_LEGS, rig_figure_add(it->leg1_a, it->leg2_a), -1};
	return add_row(model, reading, &both);
}

static rig_status add_rows(reading_model *model, int reading)
{
	const rig_reading *it = &model->readings[reading];
	const int circuit = reading_circuit(model->coach, it->circuit);
	const int bank = reading_bank(model->coach, it->bank);
	const meter_figure meters[] = {{RIG_METER_LEG_1, it->leg1_a, -1},
		{RIG_METER_LEG_2, it->leg2_a, -1}, {RIG_METER_WATTS, it->watts_w, -1},
		{RIG_METER_CIRCUIT, it->circuit_a, circuit}, {RIG_METER_BANK, it->bank_a, bank}};
	if ((it->circuit != NULL && circuit < 0) || (it->bank != NULL && bank < 0))
		return RIG_BAD_INPUT;
	const size_t first = model->n_rows;
	rig_status status = RIG_OK;
	for (size_t i = 0; i < sizeof meters / sizeof meters[0] && status == RIG_OK; i++)
		status = add_row(model, reading, &meters[i]);
	return status == RIG_OK ? sum_legs(model, reading, first) : status;
}

/* Whether a load was on in a row that counts. */
static bool was_seen(const reading_model *model, size_t unknown)
{
	for (size_t i = 0; i < model->n_rows; i++)
		if (model->rows[i].use == RIG_ROW_USED && model->rows[i].on[unknown])
			return true;
	return false;
}

/* Takes out the unknowns that no row that counts has seen. */
static void keep_seen(reading_model *model)
{
	size_t n = 0;
	for (size_t j = 0; j < model->n_unknowns; j++) {
		if (!was_seen(model, j))
			continue;
		model->unknowns[n] = model->unknowns[j];
		for (size_t i = 0; i < model->n_rows; i++)
			model->rows[i].on[n] = model->rows[i].on[j];
		n++;
	}
	model->n_unknowns = n;
}

rig_status reading_model_make(reading_model *model)
{
	const rig_coach *coach = model->coach;
	model->unknowns = rig_arena_take(model->arena, coach->n_loads + 2, sizeof *model->unknowns);
	model->rows =
		rig_arena_take(model->arena, model->n_readings * N_METERS, sizeof *model->rows);
	if (model->unknowns == NULL || model->rows == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < coach->n_loads; i++) {
		if (!isfinite(coach->loads[i].running_w.high))
			return RIG_BAD_INPUT;
		model->unknowns[model->n_unknowns++] = unknown_of_load(coach, (int)i);
	}
	if (coach->charger.present)
		model->unknowns[model->n_unknowns++] = unknown_of_charger(coach);
	const rig_inverter *inverter = &coach->inverter;
	if (inverter->present && inverter->bank_index >= 0 && inverter->always_on != RIG_NO)
		model->unknowns[model->n_unknowns++] = unknown_of_inverter(coach);
	for (size_t i = 0; i < model->n_readings; i++) {
		const rig_status status = add_rows(model, (int)i);
		if (status != RIG_OK)
			return status;
	}
	keep_seen(model);
	return RIG_OK;
}

/* ---- what a meter shows ---- */

/* Amps at the row's volts for one amp at rated volts. */
static double amps_ratio(const reading_unknown *unknown, const reading_row *row)
{
	if (row->volts_v <= 0.0)
		return 1.0;
	const double volts_v = unknown->supply == RIG_AC && unknown->rated_v > HOT_TO_HOT_V
				       ? 2.0 * row->volts_v
				       : row->volts_v;
	const rig_feed_load one = {.draw = {unknown->rated_v, 0.0},
		.rated_v = unknown->rated_v,
		.response = unknown->response};
	return rig_feed_load_a(&one, volts_v);
}

/* Real watts at the row's volts for one amp at rated volts. */
static double watts_of_amp(const reading_unknown *unknown, const reading_row *row)
{
	const double ratio = row->volts_v > 0.0 ? row->volts_v / 120.0 : 1.0;
	return unknown->rated_v * ratio * unknown->power_factor * amps_ratio(unknown, row);
}

static bool adds_as_phasors(rig_meter_place place)
{
	return place != RIG_METER_WATTS && place != RIG_METER_BANK;
}

void reading_coefficients(
	const reading_model *model, const reading_row *row, const double x[], double coefficients[])
{
	double active = 0.0;
	double reactive = 0.0;
	for (size_t j = 0; j < model->n_unknowns; j++) {
		const reading_unknown *unknown = &model->unknowns[j];
		coefficients[j] = 0.0;
		if (!row->on[j])
			continue;
		coefficients[j] = row->place == RIG_METER_WATTS ? watts_of_amp(unknown, row)
								: amps_ratio(unknown, row);
		if (row->place == RIG_METER_BOTH_LEGS && unknown->leg == RIG_LEG_BOTH)
			coefficients[j] *= 2.0;
		const double pf = unknown->power_factor;
		active += x[j] * coefficients[j] * pf;
		reactive += x[j] * coefficients[j] * sqrt(fmax(0.0, 1.0 - pf * pf));
	}
	if (!adds_as_phasors(row->place) || active <= 0.0)
		return;
	const double total = atan2(reactive, active);
	for (size_t j = 0; j < model->n_unknowns; j++)
		coefficients[j] *= cos(total - acos(model->unknowns[j].power_factor));
}
