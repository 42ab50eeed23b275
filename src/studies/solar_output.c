/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/solar_output.h"

#include <assert.h>
#include <math.h>

/* Between panel and battery through a series controller and its wire, V (common practice, no
 * source). */
static const double DROP_V = 0.3;
/* One "12 V" panel has 36 cells in series (common practice, no source). */
static const int CELLS_OF_12_V = 36;
static const double CHARGING_OF_12_V = 13.2;
/* Of a tracker, where neither coach nor profile says (common practice, no source). */
static const double TRACKER_FRAC = 0.95;

static double end_of(rig_figure figure, solar_course course, double absent)
{
	if (!rig_figure_given(figure))
		return absent;
	return course == COURSE_POOR   ? figure.low
	       : course == COURSE_GOOD ? figure.high
				       : figure.likely;
}

/* For figures of which more is worse. */
static double other_end_of(rig_figure figure, solar_course course, double absent)
{
	const solar_course other = course == COURSE_POOR   ? COURSE_GOOD
				   : course == COURSE_GOOD ? COURSE_POOR
							   : COURSE_LIKELY;
	return end_of(figure, other, absent);
}

static double batteries_in_series(const rig_coach *coach, int bank)
{
	if (bank < 0)
		return 1.0;
	const double nominal_v = end_of(coach->banks[bank].nominal_v, COURSE_LIKELY, 12.0);
	return fmax(1.0, round(nominal_v / 12.0));
}

double solar_charging_v(const rig_coach *coach, int bank)
{
	return CHARGING_OF_12_V * batteries_in_series(coach, bank);
}

/* The label of one panel of so many watts: its volts as stated or as usual, its amps by its watts.
 * Higher volts at equal watts are fewer amps, which is worse behind a series controller. */
static rig_panel_label label_of(
	const rig_array *array, double watts_w, double in_series, solar_course losses)
{
	const rig_panel_label usual =
		rig_panel_label_of_watts(watts_w, (int)(CELLS_OF_12_V * in_series));
	if (!rig_figure_given(array->vmp_v) || array->vmp_v.low <= 0)
		return usual;
	const double vmp_v = other_end_of(array->vmp_v, losses, usual.vmp_v);
	rig_panel_label label = rig_panel_label_of_best(vmp_v, watts_w / vmp_v);
	if (rig_figure_given(array->voc_v))
		label.voc_v = vmp_v * array->voc_v.likely / array->vmp_v.likely;
	if (rig_figure_given(array->imp_a) && rig_figure_given(array->isc_a) &&
		array->imp_a.likely > 0)
		label.isc_a = label.imp_a * array->isc_a.likely / array->imp_a.likely;
	return label;
}

/* Open and shorted figures that no cell can have are put aside for the usual ones. */
static void set_pwm(
	solar_output *output, const rig_array *array, double in_series, solar_course losses)
{
	const double panel_w = output->nameplate_w / fmax(1.0, array->count);
	rig_panel_label label = label_of(array, panel_w, in_series, losses);
	if (rig_diode_of_label(&label, &output->pwm.panel) != RIG_OK) {
		label = rig_panel_label_of_best(label.vmp_v, label.imp_a);
		const rig_status fits = rig_diode_of_label(&label, &output->pwm.panel);
		assert(fits == RIG_OK);
		(void)fits;
	}
	output->pwm.isc_per_k_a = label.isc_per_k_a;
	output->pwm.drop_v = DROP_V;
	output->n_panels = output->nameplate_w / (label.vmp_v * label.imp_a);
}

solar_output solar_output_of(
	const rig_coach *coach, int array, solar_course watts, solar_course losses)
{
	const rig_array *it = &coach->arrays[array];
	assert(rig_figure_given(it->total_w) && rig_figure_given(it->noct_c));
	solar_output output = {
		.controller = it->controller,
		.nameplate_w = end_of(it->total_w, watts, 0.0),
		.coefficient_per_k = end_of(it->temp_coefficient_per_k, losses, 0.0),
		.noct_c = other_end_of(it->noct_c, losses, 45.0),
		.roof_rise_k = other_end_of(it->roof_rise_k, losses, 0.0),
		.unshaded_frac = 1.0 - other_end_of(it->shade_frac, losses, 0.0),
		.kept_frac = 1.0 - other_end_of(it->losses_frac, losses, 0.0),
		.efficiency_frac = end_of(it->controller_efficiency_frac, losses, TRACKER_FRAC),
		.battery_v = solar_charging_v(coach, it->bank_index),
		.limit_a = end_of(it->controller_limit_a, losses, INFINITY),
	};
	if (output.controller == RIG_PWM && output.nameplate_w > 0)
		set_pwm(&output, it, batteries_in_series(coach, it->bank_index), losses);
	return output;
}

double solar_output_cell_c(const solar_output *output, double light_wm2, double air_c)
{
	return rig_cell_c(
		air_c, light_wm2 * output->unshaded_frac, output->noct_c, output->roof_rise_k);
}

static double pwm_w(const solar_output *output, double light_wm2, double cell_c)
{
	rig_pwm pwm = output->pwm;
	pwm.limit_a = output->limit_a / output->n_panels;
	return output->n_panels *
	       rig_pwm_w(&pwm, output->battery_v, light_wm2 * output->kept_frac, cell_c);
}

double solar_output_w(const solar_output *output, double light_wm2, double air_c)
{
	if (output->nameplate_w <= 0 || light_wm2 <= 0)
		return 0.0;
	const double lit_wm2 = light_wm2 * output->unshaded_frac;
	const double cell_c = solar_output_cell_c(output, light_wm2, air_c);
	if (output->controller == RIG_PWM)
		return pwm_w(output, lit_wm2, cell_c);
	/* the straight line of heat ends where it meets nothing: no panel draws */
	const double made_w = fmax(
		0.0, rig_panel_w(output->nameplate_w, lit_wm2, cell_c, output->coefficient_per_k));
	const double panel_w = made_w * output->kept_frac;
	if (output->controller == RIG_DIRECT)
		return panel_w;
	return rig_mppt_w(panel_w, output->efficiency_frac, output->battery_v, output->limit_a);
}
