/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The questions of the sun: what the panel is worth, and days without hookups. */
#include <stdio.h>

#include "answer/asking.h"

rig_status rig_answer_solar(rig_asking *asking, rig_found *found)
{
	if (!asking->has_place)
		return rig_asking_needs_place(asking);
	rig_solar_options solar = rig_solar_defaults();
	solar.month = asking->options->month;
	solar.habit = asking->habit;
	solar.skies = asking->options->skies;
	return rig_solar_study(asking->coach, &asking->place, &solar, &found->solar);
}

/* A place that is only a point: enough for the sun's course. */
static rig_place place_of(const rig_hourly_year *year)
{
	rig_place place = {.latitude_deg = year->latitude_deg,
		.longitude_deg = year->longitude_deg,
		.elevation_m = year->elevation_m,
		.utc_offset_h = year->utc_offset_h,
		.record = RIG_RECORD_LONG,
		.sun_low_ratio = 1.0,
		.sun_high_ratio = 1.0};
	snprintf(place.name, sizeof place.name, "the weather file's place");
	return place;
}

/* The stay that was asked: the month and days, or the whole year of a weather file. */
static rig_status stay_of(const rig_asking *asking, rig_trip_options *stay)
{
	const rig_answer_options *options = asking->options;
	*stay = rig_trip_defaults();
	stay->habit = asking->habit;
	stay->weather = options->weather;
	if (options->month >= 0)
		stay->month = options->month;
	if (options->n_days > 0)
		stay->n_days = (int)options->n_days;
	if (options->drawn_days && options->weather == NULL)
		return rig_asking_refuse(asking, RIG_NOT_FOUND,
			&(rig_diag){.where.path = "drawn",
				.what = "days can be drawn like a weather file's only with one",
				.mend = "give the weather file, or leave this out"});
	/* A weather file without a month is run from end to end. */
	if (options->weather != NULL && options->month < 0) {
		if (options->n_days > 0)
			return rig_asking_refuse(asking, RIG_NOT_FOUND,
				&(rig_diag){.where.path = "days",
					.what = "days of a weather file want a month to start in",
					.mend = "name the month, or leave the days out"});
		stay->month = -1;
		stay->n_days = 365;
	}
	/* One year shows little of how days spread, so its chance is only for whoever asks. */
	if (options->weather != NULL)
		stay->n_trips = 0;
	if (options->n_trips >= 0)
		stay->n_trips = (size_t)options->n_trips;
	if (options->n_side_trips >= 0)
		stay->n_side_trips = (size_t)options->n_side_trips;
	if (options->seed >= 0)
		stay->seed = (uint64_t)options->seed;
	if (options->wanted_out_frac > 0)
		stay->wanted_out_frac = options->wanted_out_frac;
	stay->drive_every_days = (int)options->drive_every_days;
	stay->drawn_days = options->drawn_days;
	stay->n_threads = options->n_threads;
	stay->progress = options->progress;
	stay->context = options->context;
	return RIG_OK;
}

/* The place is the file's or the option's, but a weather file that says where it is from comes
 * first. */
rig_status rig_answer_trip(rig_asking *asking, rig_found *found)
{
	const rig_hourly_year *weather = asking->options->weather;
	rig_place place = asking->place;
	if (weather != NULL && (weather->located || !asking->has_place))
		place = place_of(weather);
	else if (!asking->has_place)
		return rig_asking_needs_place(asking);
	rig_trip_options stay;
	const rig_status status = stay_of(asking, &stay);
	return status == RIG_OK ? rig_trip_study(asking->coach, &place, &stay, &found->trip)
				: status;
}
