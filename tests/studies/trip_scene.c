/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "trip_scene.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "suites.h"

rig_file *trip_scene_coach(const char *format, ...)
{
	static char text[20000];
	va_list arguments;
	va_start(arguments, format);
	const int length = vsnprintf(text, sizeof text, format, arguments);
	va_end(arguments);
	ck_assert(length > 0 && (size_t)length < sizeof text);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	const rig_status status = rig_file_parse(text, (size_t)length, diags, &file);
	ck_assert_msg(status == RIG_OK, "%s: %s\n%s",
		rig_diags_count(diags) ? rig_diags_at(diags, 0)->where.path : "",
		rig_diags_count(diags) ? rig_diags_at(diags, 0)->what : "", text);
	rig_diags_free(diags);
	return file;
}

rig_place trip_scene_place(void)
{
	rig_place place;
	const long found = rig_place_find("Flagstaff");
	ck_assert(found >= 0);
	rig_place_at((size_t)found, &place);
	return place;
}

rig_trip_findings *trip_scene_study(
	const rig_file *file, const rig_place *place, const rig_trip_options *options)
{
	rig_trip_findings *findings = NULL;
	ck_assert_int_eq(
		rig_trip_study(rig_file_completed(file), place, options, &findings), RIG_OK);
	return findings;
}

rig_trip_options trip_scene_days(int month, int n_days)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = month;
	options.n_days = n_days;
	options.n_trips = 0;
	return options;
}

const rig_trip_load *trip_scene_load(const rig_trip_findings *findings, const char *id)
{
	for (size_t i = 0; i < findings->n_loads; i++)
		if (strcmp(findings->loads[i].id, id) == 0)
			return &findings->loads[i];
	ck_abort_msg("no load %s", id);
}

/* A bank on the edge in March: some trips run out, some do not. */
rig_file *trip_scene_edge(void)
{
	return trip_scene_coach(TRIP_HEAD
		"\"banks\": [" TRIP_IDEAL_BANK "], \"solar\": [" TRIP_IDEAL_ARRAY "], "
		"\"loads\": [{\"id\": \"all\", \"supply\": \"dc\", \"running_w\": "
		"34, \"duty_frac\": 1, \"daily_use_h\": 24}]}",
		1500.0, "house", 200.0, -0.004, 0.15);
}
