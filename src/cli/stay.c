/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/stay.h"

#include <stdio.h>
#include <string.h>

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

int stay_of(cli_session *session, const cli_options *options, rig_trip_options *stay)
{
	*stay = rig_trip_defaults();
	stay->habit = session->habit;
	stay->weather = session->weather;
	if (session->weather != NULL && (session->weather->located || !session->has_place))
		session->place = place_of(session->weather);
	else if (!session->has_place)
		return session_needs_place(options);
	if (options->month >= 0)
		stay->month = options->month;
	if (options->days > 0)
		stay->n_days = (int)options->days;
	/* A weather file without a month is run from end to end. */
	if (session->weather != NULL && options->month < 0) {
		if (options->days > 0) {
			fputs("rigbudget: --days with --weather needs --month: the day to start "
			      "on\n",
				stderr);
			return EXIT_USAGE;
		}
		stay->month = -1;
		stay->n_days = 365;
	}
	if (session->weather != NULL)
		stay->n_trips = 0; /* the chance needs a place's spread of days, not one year */
	else if (options->trips > 0)
		stay->n_trips = (size_t)options->trips;
	if (options->seed >= 0)
		stay->seed = (uint64_t)options->seed;
	return EXIT_FINE;
}
