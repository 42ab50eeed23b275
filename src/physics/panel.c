/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/panel.h"

#include <assert.h>
#include <float.h>
#include <math.h>

#include "physics/root.h"

static const double LABEL_WM2 = 1000.0;
static const double LABEL_C = 25.0;
static const double ZERO_C_IN_K = 273.15;
static const double BOLTZMANN_EV_PER_K = 8.617333262e-5;

/* Band gap of silicon at 25 C and its relative change per kelvin, [DESOTO-2006]. */
static const double GAP_EV = 1.121;
static const double GAP_PER_K = -0.0002677;

double rig_cell_c(double air_c, double light_wm2, double noct_c, double roof_rise_k)
{
	assert(light_wm2 >= 0);
	return air_c + (noct_c - 20.0) / 800.0 * light_wm2 + roof_rise_k / 1000.0 * light_wm2;
}

double rig_panel_w(double nameplate_w, double light_wm2, double cell_c, double coefficient_per_k)
{
	assert(nameplate_w >= 0 && light_wm2 >= 0);
	return nameplate_w * light_wm2 / LABEL_WM2 * (1.0 + coefficient_per_k * (cell_c - LABEL_C));
}

rig_panel_label rig_panel_label_of_best(double vmp_v, double imp_a)
{
	assert(vmp_v > 0 && imp_a > 0);
	/* Common practice, no source. */
	const double voc_v = 1.22 * vmp_v, isc_a = 1.07 * imp_a;
	return (rig_panel_label){vmp_v, imp_a, voc_v, isc_a, -0.0033 * voc_v, 0.0005 * isc_a};
}

rig_panel_label rig_panel_label_of_watts(double watts_w, int cells)
{
	assert(watts_w > 0 && cells >= 1);
	const double vmp_v = 0.50 * cells; /* common practice, no source */
	return rig_panel_label_of_best(vmp_v, watts_w / vmp_v);
}

static int label_makes_sense(const rig_panel_label *label)
{
	const double volts = label->vmp_v / label->voc_v, amps = label->imp_a / label->isc_a;
	return label->vmp_v > 0 && label->imp_a > 0 && volts >= 0.5 && volts < 1 && amps >= 0.5 &&
	       amps < 1 && (volts <= 0.97 || amps <= 0.97) && isfinite(label->voc_v) &&
	       isfinite(label->isc_a) && label->voc_per_k_v < 0 && isfinite(label->voc_per_k_v) &&
	       isfinite(label->isc_per_k_a);
}

double rig_mppt_w(double panel_w, double efficiency_frac, double battery_v, double limit_a)
{
	assert(panel_w >= 0 && efficiency_frac >= 0 && efficiency_frac <= 1);
	assert(battery_v > 0 && limit_a >= 0);
	return fmin(panel_w * efficiency_frac, limit_a * battery_v);
}

/* Everything about one diode follows from the voltage across its junction, u = V + I Rs, without
 * solving anything: the current falls as u rises, and V = u - I Rs. */
static double junction_current_a(const rig_diode *diode, double u)
{
	return diode->light_a - diode->saturation_a * expm1(u / diode->thermal_v) -
	       u / diode->shunt_ohm;
}

static double junction_slope(const rig_diode *diode, double u)
{
	return -diode->saturation_a / diode->thermal_v * exp(u / diode->thermal_v) -
	       1.0 / diode->shunt_ohm;
}

double rig_diode_current_a(const rig_diode *diode, double voltage_v)
{
	assert(voltage_v >= 0 && diode->series_ohm >= 0 && diode->shunt_ohm > 0);
	const double rs = diode->series_ohm;
	if (rs == 0)
		return junction_current_a(diode, voltage_v);
	/* u - Rs I(u) - V rises and bends upward; from any u past its root Newton's steps come down
	 * to the root without passing it. Two such u: no more current than IL + I0 flows, and no
	 * more than the loop could drive through the diode alone. */
	const double most_a = diode->light_a + diode->saturation_a;
	double u = fmin(voltage_v + rs * most_a,
		diode->thermal_v * log((voltage_v / rs + most_a) / diode->saturation_a));
	for (;;) {
		const double miss = u - rs * junction_current_a(diode, u) - voltage_v;
		const double next = u - miss / (1.0 - rs * junction_slope(diode, u));
		if (!(next < u - DBL_EPSILON * fabs(u)))
			break;
		u = next;
	}
	return junction_current_a(diode, u);
}

static double open_miss(double u, const void *context)
{
	return junction_current_a(context, u);
}

double rig_diode_open_v(const rig_diode *diode)
{
	const double most_v =
		diode->thermal_v * log1p(diode->light_a / diode->saturation_a) * (1.0 + 1e-12);
	double open_v = 0;
	const rig_status status = rig_root(open_miss, diode, 0, most_v, &open_v);
	assert(status == RIG_OK);
	(void)status;
	return open_v;
}

/* Change of power with u: zero at the best point, positive before it. */
static double power_slope(double u, const void *context)
{
	const rig_diode *diode = context;
	const double current_a = junction_current_a(diode, u), slope = junction_slope(diode, u);
	return slope * (u - current_a * diode->series_ohm) +
	       current_a * (1.0 - slope * diode->series_ohm);
}

rig_working_point rig_diode_best(const rig_diode *diode)
{
	double u = 0;
	if (diode->light_a > 0) {
		const rig_status status =
			rig_root(power_slope, diode, 0, rig_diode_open_v(diode), &u);
		assert(status == RIG_OK);
		(void)status;
	}
	const double current_a = junction_current_a(diode, u);
	return (rig_working_point){u - current_a * diode->series_ohm, current_a};
}

rig_diode rig_diode_at(
	const rig_diode *reference, double isc_per_k_a, double light_wm2, double cell_c)
{
	assert(light_wm2 >= 0 && cell_c > -ZERO_C_IN_K);
	const double suns = light_wm2 / LABEL_WM2, warmer_k = cell_c - LABEL_C;
	const double label_k = LABEL_C + ZERO_C_IN_K, cell_k = cell_c + ZERO_C_IN_K;
	const double ratio = cell_k / label_k;
	const double gap_ev = GAP_EV * (1.0 + GAP_PER_K * warmer_k);
	const double exponent = (GAP_EV / label_k - gap_ev / cell_k) / BOLTZMANN_EV_PER_K;
	return (rig_diode){
		.light_a = suns * (reference->light_a + isc_per_k_a * warmer_k),
		.saturation_a = reference->saturation_a * ratio * ratio * ratio * exp(exponent),
		.series_ohm = reference->series_ohm,
		.shunt_ohm = reference->shunt_ohm / suns,
		.thermal_v = reference->thermal_v * ratio,
	};
}

double rig_pwm_w(const rig_pwm *pwm, double battery_v, double light_wm2, double cell_c)
{
	assert(battery_v > 0 && pwm->drop_v >= 0 && pwm->limit_a >= 0);
	const rig_diode diode = rig_diode_at(&pwm->panel, pwm->isc_per_k_a, light_wm2, cell_c);
	const double current_a = rig_diode_current_a(&diode, battery_v + pwm->drop_v);
	return battery_v * fmin(fmax(0, current_a), pwm->limit_a);
}

/* The label's three points are linear in IL, 1/Rsh and J = I0 e^(voc / a) once a and Rs are given.
 */
static rig_diode through_points(const rig_panel_label *label, double thermal_v, double series_ohm)
{
	const double at_short_v = label->isc_a * series_ohm;
	const double at_best_v = label->vmp_v + label->imp_a * series_ohm;
	const double a11 = -expm1((at_short_v - label->voc_v) / thermal_v);
	const double a21 = -expm1((at_best_v - label->voc_v) / thermal_v);
	const double a12 = label->voc_v - at_short_v, a22 = label->voc_v - at_best_v;
	const double determinant = a11 * a22 - a12 * a21;
	const double j = (label->isc_a * a22 - a12 * label->imp_a) / determinant;
	const double shunt_s = (a11 * label->imp_a - a21 * label->isc_a) / determinant;
	const double saturation_a = j * exp(-label->voc_v / thermal_v);
	return (rig_diode){
		.light_a = saturation_a * expm1(label->voc_v / thermal_v) + label->voc_v * shunt_s,
		.saturation_a = saturation_a,
		.series_ohm = series_ohm,
		.shunt_ohm = 1.0 / shunt_s,
		.thermal_v = thermal_v,
	};
}

typedef struct {
	const rig_panel_label *label;
	double thermal_v, series_ohm; /* held by whichever search looks for the other */
} fit;

/* Power is flat at the best point when dI/dV = -I/V there; rises with Rs and with a. */
static double flatness_miss(const fit *trial)
{
	const rig_panel_label *label = trial->label;
	const rig_diode diode = through_points(label, trial->thermal_v, trial->series_ohm);
	const double at_best_v = label->vmp_v + label->imp_a * trial->series_ohm;
	return -junction_slope(&diode, at_best_v) -
	       label->imp_a / (label->vmp_v - label->imp_a * trial->series_ohm);
}

static double miss_of_series(double series_ohm, const void *context)
{
	fit trial = *(const fit *)context;
	trial.series_ohm = series_ohm;
	return flatness_miss(&trial);
}

static double miss_of_thermal(double thermal_v, const void *context)
{
	fit trial = *(const fit *)context;
	trial.thermal_v = thermal_v;
	return flatness_miss(&trial);
}

/* The diode through the three points with flat power at the best one, for a given a. */
static rig_status flat_at_best(const rig_panel_label *label, double thermal_v, rig_diode *diode)
{
	const fit held = {label, thermal_v, 0};
	/* With more than this the junction at the best point would pass the open voltage. */
	const double most_ohm = 0.999 * fmin((label->voc_v - label->vmp_v) / label->imp_a,
						label->vmp_v / label->imp_a);
	double series_ohm;
	const rig_status status = rig_root(miss_of_series, &held, 0, most_ohm, &series_ohm);
	if (status == RIG_OK)
		*diode = through_points(label, thermal_v, series_ohm);
	return status;
}

/* Current left at the voltage that the label calls open when the cells are 2 K warmer. */
static double warm_miss(double thermal_v, const void *context)
{
	static const double WARMER_K = 2.0;
	const rig_panel_label *label = context;
	rig_diode diode;
	if (flat_at_best(label, thermal_v, &diode) != RIG_OK)
		return NAN;
	const rig_diode warm =
		rig_diode_at(&diode, label->isc_per_k_a, LABEL_WM2, LABEL_C + WARMER_K);
	return junction_current_a(&warm, label->voc_v + WARMER_K * label->voc_per_k_v);
}

rig_status rig_diode_of_label(const rig_panel_label *label, rig_diode *diode)
{
	if (!label_makes_sense(label))
		return RIG_BAD_INPUT;
	/* a is 0.026 V times the ideality of a cell, of about 0.6 V: these bounds are far out. */
	const double least_v = 0.02 * label->voc_v, most_v = 0.15 * label->voc_v;
	const fit no_series = {label, 0, 0};
	double steepest_v, thermal_v;
	rig_diode found;
	if (rig_root(miss_of_thermal, &no_series, least_v, most_v, &steepest_v) != RIG_OK ||
		rig_root(warm_miss, label, least_v, steepest_v * (1.0 - 1e-9), &thermal_v) !=
			RIG_OK ||
		flat_at_best(label, thermal_v, &found) != RIG_OK)
		return RIG_NO_SOLUTION;
	if (!(found.shunt_ohm > 0 && found.saturation_a > 0))
		return RIG_NO_SOLUTION;
	*diode = found;
	return RIG_OK;
}
