/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/bank_store.h"

#include <math.h>

double bank_good_end(rig_figure figure, solar_course course, double absent)
{
	if (!rig_figure_given(figure))
		return absent;
	if (course == COURSE_LIKELY)
		return figure.likely;
	return course == COURSE_POOR ? figure.low : figure.high;
}

double bank_bad_end(rig_figure figure, solar_course course, double absent)
{
	if (!rig_figure_given(figure))
		return absent;
	if (course == COURSE_LIKELY)
		return figure.likely;
	return course == COURSE_POOR ? figure.high : figure.low;
}

static bool is_said(rig_figure figure)
{
	return rig_figure_given(figure) && figure.from != RIG_FROM_PROFILE;
}

/* Share and rate of the wells: as the coach states them; else from what it states beside the rated
 * capacity, reserve minutes or Peukert's exponent; else of the chemistry. */
static rig_kinetic shape_of(const rig_bank *bank, double rating_h)
{
	rig_kinetic shape = {1, bank_good_end(bank->kinetic_c_frac, COURSE_LIKELY, 1),
		bank_good_end(bank->kinetic_k_per_h, COURSE_LIKELY, 0)};
	if (is_said(bank->kinetic_c_frac) || is_said(bank->kinetic_k_per_h))
		return shape;
	rig_kinetic fitted;
	rig_status status = RIG_NO_SOLUTION;
	if (rig_figure_given(bank->capacity_ah) && is_said(bank->reserve_minutes))
		status = rig_kinetic_of_reserve((rig_rating){rating_h, bank->capacity_ah.likely},
			bank->reserve_minutes.likely, &fitted);
	if (status != RIG_OK && is_said(bank->peukert_exponent))
		status = rig_kinetic_of_peukert(
			(rig_rating){rating_h, 1}, bank->peukert_exponent.likely, &fitted);
	return status == RIG_OK ? fitted : shape;
}

/* Wells that give so many Wh in the rating's hours. One well is scaled by nothing, to the last
 * bit. */
static rig_kinetic wells_of(const rig_bank *bank, double rated_wh)
{
	const double rating_h = bank_good_end(bank->rating_h, COURSE_LIKELY, 20);
	rig_kinetic wells = shape_of(bank, rating_h);
	if (wells.available_frac >= 1 || wells.rate_per_h <= 0)
		return (rig_kinetic){rated_wh, 1, 0};
	wells.capacity = 1;
	wells.capacity = rated_wh / rig_kinetic_capacity(&wells, rating_h);
	return wells;
}

static double limit_w(const rig_coach *coach, int bank, solar_course course)
{
	const double limit_a = bank_good_end(coach->banks[bank].charge_limit_a, course, INFINITY);
	return limit_a * solar_charging_v(coach, bank);
}

/* A level of charge, counted down from full by the rated charge, of what the wells hold. */
static double reconnect_frac(const rig_bank *bank, double rated_wh, const rig_kinetic *wells)
{
	const double level_frac = bank_good_end(bank->reconnect_soc_frac, COURSE_LIKELY, 0);
	return level_frac > 0 ? fmax(0, 1 - (1 - level_frac) * rated_wh / wells->capacity) : 0;
}

rig_store bank_store(const rig_coach *coach, int bank, solar_course course, const double *temp_c)
{
	const rig_bank *it = &coach->banks[bank];
	const double rated_wh = bank_good_end(it->total_wh, course, 0);
	const rig_kinetic wells = wells_of(it, rated_wh);
	const double usable_wh = bank_good_end(it->usable_wh, course, wells.capacity);
	return (rig_store){
		.kinetic = wells,
		/* usable and total are rounded apart */
		.usable_wh = fmin(usable_wh, wells.capacity),
		.start_frac = 1,
		.reconnect_frac = reconnect_frac(it, rated_wh, &wells),
		.efficiency_frac = bank_good_end(it->charge_efficiency_frac, course, 1),
		.self_discharge_frac_month = bank_bad_end(it->self_discharge_frac_month, course, 0),
		.charge_limit_w = limit_w(coach, bank, course),
		.charge_floor_c = it->kind ? it->kind->charge_floor_c : -273,
		.lost_per_k_frac = it->kind ? it->kind->capacity_per_k_frac : 0,
		.temp_c = temp_c,
		.essential = it->role != RIG_CHASSIS,
		.acceptance_per_h =
			it->kind ? bank_good_end(it->kind->acceptance_per_h, course, 0) : 0,
	};
}

rig_inverting bank_inverting(const rig_coach *coach, solar_course course)
{
	const rig_inverter *it = &coach->inverter;
	if (!it->present || it->bank_index < 0)
		return (rig_inverting){.present = false};
	return (rig_inverting){
		.present = true,
		.store = (size_t)it->bank_index,
		.curve = {.rated_w = it->watts_w.likely,
			.fixed_frac = bank_bad_end(it->loss_fixed_frac, course, 0),
			.linear_frac = bank_bad_end(it->loss_linear_frac, course, 0),
			.square_frac = bank_bad_end(it->loss_square_frac, course, 0)},
		.always_on = it->always_on == RIG_YES,
	};
}
