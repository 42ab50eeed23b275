/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the stay would go with another habit of the coach. */
#include "studies/trip_findings.h"

static rig_status find_habit(
	const trip_model *model, const rig_trip_bank *bank, int habit, rig_trip_habit *made)
{
	trip_model other = *model;
	rig_plan *plan = NULL;
	const trip_variant variant = {.course = COURSE_LIKELY, .cut = -1};
	other.options.habit = habit;
	const rig_status status = trip_plan(&other, &variant, &plan);
	if (status != RIG_OK)
		return status;
	const size_t store = (size_t)trip_store_of(&other, bank->bank);
	*made = (rig_trip_habit){.habit = habit,
		.name = model->coach->habits[habit].name,
		.wanted_wh_day = trip_wanted_wh_day(&other, plan, store)};
	made->days = trip_days_until_short(&other, plan, store);
	made->days_gained = made->days - bank->days_with_panel.likely;
	rig_plan_free(plan);
	return RIG_OK;
}

rig_status trip_find_habits(trip_model *model, rig_trip_findings *findings)
{
	const rig_coach *coach = model->coach;
	rig_status status = RIG_OK;
	if (findings->main_bank < 0 || coach->n_habits == 0)
		return RIG_OK;
	findings->habits = rig_arena_take(model->arena, coach->n_habits, sizeof *findings->habits);
	if (!findings->habits)
		return RIG_NO_MEMORY;
	for (int habit = 0; status == RIG_OK && habit < (int)coach->n_habits; habit++)
		if (habit != model->options.habit)
			status = find_habit(model, &findings->banks[findings->main_bank], habit,
				&findings->habits[findings->n_habits++]);
	return status;
}
