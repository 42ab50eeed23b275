/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/stay.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* More help little with what a person waits for. */
enum { MOST_THREADS = 8 };

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

/* As many as there are processors, unless the options say. */
static size_t n_threads(const cli_options *options)
{
	if (options->threads > 0)
		return (size_t)options->threads;
	const long n = sysconf(_SC_NPROCESSORS_ONLN);
	return n < 1 ? 1 : n > MOST_THREADS ? MOST_THREADS : (size_t)n;
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
	/* One year shows little of how days spread, so its chance is only for whoever asks. */
	if (session->weather != NULL)
		stay->n_trips = 0;
	if (options->trips > 0 && stay->month >= 0)
		stay->n_trips = (size_t)options->trips;
	stay->n_threads = n_threads(options);
	session->progress = progress_begin();
	stay->progress = progress_tell;
	stay->context = &session->progress;
	if (options->seed >= 0)
		stay->seed = (uint64_t)options->seed;
	return EXIT_FINE;
}
