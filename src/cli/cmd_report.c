/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/stay.h"
#include "rigbudget/shed.h"

typedef struct {
	shore_findings shore;
	rig_shed_findings *shed;
	rig_solar_findings *solar;
	rig_trip_findings *trip;
	rig_readings_findings *readings;
	rig_wiring_findings *wiring;
} all_findings;

/* Random days of shedding on the sheet: enough for its means; `shed` asks more of them. */
enum { SHEET_DAYS = 40 };

/* Whether anything is switched off, or a breaker that trips early would. */
static bool is_eventful(const rig_shed_findings *findings)
{
	return findings->days_with_drops_frac > 0 ||
	       findings->breaker[RIG_BREAKER_EARLY].days_frac > 0;
}

/* A hot day on the coach's own cord, or, if nothing comes of that, on the next smaller supply. */
static rig_status study_shed(const cli_session *session, rig_shed_findings **shed)
{
	rig_shed_options days = rig_shed_defaults();
	days.habit = session->habit;
	days.n_days = SHEET_DAYS;
	const rig_status status = rig_shed_study(session->coach, &days, shed);
	if (status != RIG_OK || is_eventful(*shed))
		return status;
	for (size_t i = 0; i < rig_n_supplies(); i++) {
		const rig_supply *smaller = rig_supply_at(i);
		if (smaller->breaker_a >= (*shed)->rating_a)
			continue;
		rig_shed_free(*shed);
		*shed = NULL;
		days.supply = smaller->id;
		return rig_shed_study(session->coach, &days, shed);
	}
	return RIG_OK;
}

/* The sun's questions need a place; without one the sheet holds what is left. */
static rig_status study_sun(
	const cli_session *session, const rig_trip_options *stay, all_findings *found)
{
	rig_solar_options solar = rig_solar_defaults();
	solar.habit = session->habit;
	const rig_status status =
		rig_solar_study(session->coach, &session->place, &solar, &found->solar);
	return status == RIG_OK
		       ? rig_trip_study(session->coach, &session->place, stay, &found->trip)
		       : status;
}

static rig_status study_readings(const cli_session *session, all_findings *found)
{
	const rig_readings_options options = {.place = session->has_place ? &session->place : NULL};
	return rig_readings_study(session->coach, session->coach->readings,
		session->coach->n_readings, &options, &found->readings);
}

int run_report(const cli_options *options)
{
	cli_session session = {0};
	all_findings found = {0};
	rig_document *document = NULL;
	rig_trip_options stay;
	int status = session_open(&session, options);
	/* A weather file's place is no place of the table: it has no monthly figures. */
	const bool has_sun = session.has_place;
	const rig_place place = session.place;
	if (status == EXIT_FINE && has_sun)
		status = stay_of(&session, options, &stay);
	if (status != EXIT_FINE)
		goto out;
	session.place = place;
	rig_status result = study_shore(&session, &found.shore);
	if (result == RIG_OK)
		result = study_shed(&session, &found.shed);
	if (result == RIG_OK && has_sun)
		result = study_sun(&session, &stay, &found);
	if (result == RIG_OK && session.coach->n_readings > 0)
		result = study_readings(&session, &found);
	if (result == RIG_OK)
		result = rig_wiring_study(session.coach, NULL, &found.wiring);
	const bool wires = found.wiring != NULL && found.wiring->n_runs > 0;
	const rig_report_findings all = {.shore = found.shore.shore,
		.voltage = found.shore.voltage,
		.sources = found.shore.sources,
		.shed = found.shed,
		.solar = found.solar,
		.trip = found.trip,
		.readings = found.readings,
		.wiring = wires ? found.wiring : NULL};
	const rig_report_options words = report_options(options);
	if (result == RIG_OK)
		result = rig_report(session.coach, &all, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for_study(options, result);
out:
	shore_free(&found.shore);
	rig_shed_free(found.shed);
	rig_solar_free(found.solar);
	rig_trip_free(found.trip);
	rig_readings_free(found.readings);
	rig_wiring_free(found.wiring);
	session_close(&session);
	return status;
}
