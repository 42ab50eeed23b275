/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stay.h"

#include <math.h>

bool stay_of(const rig_coach *coach, const rig_place *place, int month, stay *made)
{
	*made = (stay){.arena = rig_arena_new()};
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.n_days = STAY_DAYS;
	made->model = (trip_model){
		.coach = coach, .place = place, .options = options, .arena = made->arena};
	const trip_variant variant = {COURSE_LIKELY, false, -1};
	if (made->arena == NULL || coach->n_banks == 0 || trip_model_make(&made->model) != RIG_OK ||
		trip_plan(&made->model, &variant, &made->plan) != RIG_OK)
		return false;
	made->n_stores = made->model.n_stores;
	made->start = made->end = rig_plan_start(made->plan);
	rig_plan_trace(made->plan, NULL, STAY_HOURS, &made->end, made->hours);
	return true;
}

void stay_free(stay *made)
{
	rig_plan_free(made->plan);
	rig_arena_free(made->arena);
}

stay_sum stay_sum_of(const stay *made, size_t store)
{
	stay_sum sum = {0, INFINITY, STAY_HOURS};
	for (size_t hour = 0; hour < STAY_HOURS; hour++) {
		const rig_hour *now = &made->hours[hour * made->n_stores + store];
		sum.unserved_wh += now->short_frac * now->wanted_wh;
		sum.lowest_wh = fmin(sum.lowest_wh, now->left_wh);
		if (now->short_frac > 0 && sum.first_short == STAY_HOURS)
			sum.first_short = hour;
	}
	return sum;
}
