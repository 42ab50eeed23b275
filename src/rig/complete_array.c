/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rig/complete.h"

static const char DEFAULT_PANEL[] = "crystalline";

/* Common practice, no source: trackers; a panel made for a 12 V battery; its other voltages and
 * currents by those at the best point. */
static const double TRACKER_EFFICIENCY[3] = {0.93, 0.96, 0.98};
static const double VMP_12_V[3] = {17, 18, 20};
static const double VOC_RATIO[3] = {1.18, 1.22, 1.25};
static const double ISC_RATIO[3] = {1.05, 1.07, 1.1};

static void fill_watts(rig_array *array)
{
	if (rig_figure_given(array->watts_w))
		return;
	const rig_figure area_m2 = rig_figure_multiply(array->length_m, array->width_m);
	array->watts_w = rig_figure_multiply(area_m2, array->kind->density_wm2);
	array->watts_w.from = RIG_FROM_ESTIMATED;
	array->watts_w.source = array->kind->source;
}

/* A figure over another, the likely over the likely, its doubt that of the first alone: volts and
 * amps of one panel go together. */
static rig_figure per(rig_figure of, rig_figure by)
{
	return rig_figure_scale(of, 1 / by.likely);
}

static void fill_electrics(const rig_coach *coach, rig_array *array)
{
	const double bank_v =
		array->bank_index < 0 ? 12 : coach->banks[array->bank_index].nominal_v.likely;
	const double groups = bank_v / 12 < 1.5 ? 1 : bank_v / 12;
	if (rig_figure_given(array->imp_a) && array->imp_a.likely > 0)
		rig_fill(&array->vmp_v, per(array->watts_w, array->imp_a), "watts over imp_a");
	rig_fill_range(&array->vmp_v, VMP_12_V[0] * groups, VMP_12_V[1] * groups,
		VMP_12_V[2] * groups, RIG_COMMON_PRACTICE);
	rig_fill(&array->imp_a, per(array->watts_w, array->vmp_v), "watts over vmp_v");
	rig_fill_times(&array->voc_v, array->vmp_v, VOC_RATIO, RIG_COMMON_PRACTICE);
	rig_fill_times(&array->isc_a, array->imp_a, ISC_RATIO, RIG_COMMON_PRACTICE);
}

static void fill_controller(rig_reader *reader, rig_array *array, size_t i)
{
	if (array->controller == RIG_CONTROLLER_UNSAID) {
		array->controller = RIG_PWM;
		rig_remark_on(reader, RIG_OBJECT_ARRAY, i,
			&(rig_saying){
				.what = rig_words_of(reader,
					"%s has no charge controller named; a plain one is taken",
					array->id),
				.mend = "add \"controller\": \"pwm\" or \"mppt\""});
	}
	if (array->controller == RIG_MPPT)
		rig_fill_range(&array->controller_efficiency_frac, TRACKER_EFFICIENCY[0],
			TRACKER_EFFICIENCY[1], TRACKER_EFFICIENCY[2], RIG_COMMON_PRACTICE);
}

static void fill_tilt(rig_reader *reader, rig_array *array, size_t i)
{
	const bool heading = rig_figure_given(array->heading_deg);
	rig_fill_from_table(RIG_OBJECT_ARRAY, array);
	if (array->tilt_deg.high > 0 && !heading)
		rig_remark_on(reader, RIG_OBJECT_ARRAY, i,
			&(rig_saying){.what = rig_words_of(reader,
					      "%s is tilted but has no heading; due south is taken",
					      array->id),
				.mend = "add \"heading_deg\""});
	if (array->tilt_deg.high > 0)
		rig_fill(&array->roof_rise_k, rig_figure_of(0, RIG_FROM_PROFILE), "air all around");
}

void rig_complete_array(rig_reader *reader, rig_coach *coach, size_t i)
{
	rig_array *array = &coach->arrays[i];
	array->kind = rig_panel_kind_find(array->panel == NULL ? DEFAULT_PANEL : array->panel);
	if (array->name == NULL)
		array->name = array->id;
	if (array->panel == NULL && !rig_figure_given(array->watts_w))
		rig_remark_on(reader, RIG_OBJECT_ARRAY, i,
			&(rig_saying){
				.what = rig_words_of(reader,
					"%s has no kind of panel; its watts by size range wide",
					array->id),
				.mend = "add \"panel\" (`rigbudget list panels`)"});
	fill_tilt(reader, array, i);
	fill_watts(array);
	fill_controller(reader, array, i);
	fill_electrics(coach, array);
	rig_fill(&array->noct_c, array->kind->noct_c, array->kind->source);
	rig_fill(&array->roof_rise_k, array->kind->roof_rise_k, array->kind->source);
	rig_fill(&array->temp_coefficient_per_k, array->kind->temp_coefficient_per_k,
		array->kind->source);
	array->total_w = rig_figure_scale(array->watts_w, array->count);
}
