/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_model.h: readings as rows of equations for unknown draws, and their solution. For the
 * files of the readings study. */
#ifndef STUDIES_READINGS_MODEL_H
#define STUDIES_READINGS_MODEL_H

#include "base/arena.h"
#include "rigbudget/readings.h"
#include "rigbudget/supply_voltage.h"

/* What may draw: a load with all of its count, or the charger's AC side. */
typedef struct {
	int load; /* index in coach->loads, or RIG_READINGS_CHARGER */
	rig_supply_kind supply;
	rig_leg leg; /* AC: on a coach with one hot always leg 1 */
	int circuit, bank, count;
	bool standing; /* on in every reading of its side */
	double rated_v, power_factor;
	rig_voltage_response response;
	rig_figure label_a;
	rig_figure expected_a;
	double spread_a; /* how soft the label is, one standard deviation */
} reading_unknown;

/* One figure of one reading. */
typedef struct {
	int reading;
	rig_meter_place place;
	rig_row_use use;
	double read, sigma;
	double volts_v; /* hot to neutral, or the bank's; 0 if it was not read */
	bool *on;       /* by unknown */
} reading_row;

typedef struct {
	const rig_coach *coach;
	const rig_reading *readings;
	size_t n_readings;
	rig_readings_options options;
	rig_arena *arena;
	size_t n_unknowns, n_rows;
	reading_unknown *unknowns;
	reading_row *rows;
} reading_model;

/* The unknowns and rows of what was read. All arrays are in the arena. RIG_BAD_INPUT: an id that
 * the coach has not, a figure that is not finite. RIG_NO_MEMORY. */
rig_status reading_model_make(reading_model *model);

/* Index of a load, circuit, bank or array by its id; -1 for none. */
int reading_load(const rig_coach *coach, const char *id);
int reading_circuit(const rig_coach *coach, const char *id);
int reading_bank(const rig_coach *coach, const char *id);
int reading_array(const rig_coach *coach, const char *id);

/* Standard deviation of a reading: a fourth of the width of a range, else the meter's, whose fixed
 * part is meter_a times per_amp (1, or volts for watts). */
double reading_sigma(rig_figure figure, const rig_readings_options *options, double per_amp);

/* What the row's meter shows for one amp of each unknown at rated volts, about the draws x: amps by
 * volts, and for legs the part of the phasor that lies along the sum. coefficients: by unknown. */
void reading_coefficients(const reading_model *model, const reading_row *row, const double x[],
	double coefficients[]);

/* The solution. All by unknown, but for those by row. */
typedef struct {
	double *x;
	double *covariance; /* n x n, of the linear problem without bounds */
	double *design;     /* rows x n, as last linearised */
	double *predicted, *without, *studentized;
	bool *checked;
	double scatter;   /* of the rows, over the meter's stated error */
	double free_rows; /* rows less what the draws take of them */
} reading_fit;

/* Fits the rows whose use is RIG_ROW_USED, sets the worst outliers aside one by one, at most a
 * fifth of the rows. RIG_NO_MEMORY. */
rig_status reading_fit_make(reading_model *model, reading_fit *fit);

/* The loads that the rows do not tell apart: their group by unknown, from 0, or -1; and how many
 * groups. In units of each label's spread, directions of which the rows say less than the labels do
 * are put together; unknowns of more than a tenth in one such direction go into one group.
 * RIG_NO_MEMORY. */
rig_status reading_groups(
	const reading_model *model, const reading_fit *fit, int group[], size_t *n_groups);

/* How sure accusations are: standard errors for a chance of 0.05 over n of them, both sides. */
double reading_sureness_z(const reading_fit *fit, size_t n);
/* Standard errors below which a draw's error is by chance; the scatter is itself a guess from so
 * many rows. chance: 0 to 1. */
double reading_quantile(const reading_fit *fit, double chance);

/* The parts of the study that stand apart. */
rig_status reading_next(
	const reading_model *model, const reading_fit *fit, rig_readings_findings *findings);
rig_status reading_dc(const reading_model *model, rig_readings_findings *findings);
rig_status reading_panels(const reading_model *model, rig_readings_findings *findings);

/* What a figure that was read stands for: 95 % interval about it. */
rig_figure reading_interval(double value, double sigma);

/* Found against expected, both with their ranges: agrees, high, low or dead. */
rig_draw_verdict reading_verdict(rig_figure found, rig_figure expected);

#endif
