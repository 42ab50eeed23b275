/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All questions that the file allows, on one sheet. */
#include "answer/asking.h"

/* Random days of shedding on the sheet: enough for its means; the question `shed` asks more. */
enum { SHEET_DAYS = 40, SHEET_MEASURE_DAYS = 10 };

/* Whether anything is switched off, or a breaker that trips early would. */
static bool is_eventful(const rig_shed_findings *findings)
{
	return findings->days_with_drops_frac > 0 ||
	       findings->breaker[RIG_BREAKER_EARLY].days_frac > 0;
}

/* A hot day on the coach's own cord, or, if nothing comes of that, on the next smaller supply. */
static rig_status study_shed(const rig_asking *asking, rig_shed_findings **shed)
{
	rig_shed_options days = rig_shed_defaults();
	days.habit = asking->habit;
	days.n_days = SHEET_DAYS;
	days.n_measure_days = SHEET_MEASURE_DAYS;
	const rig_status status = rig_shed_study(asking->coach, &days, shed);
	if (status != RIG_OK || is_eventful(*shed))
		return status;
	for (size_t i = 0; i < rig_n_supplies(); i++) {
		const rig_supply *smaller = rig_supply_at(i);
		if (smaller->breaker_a >= (*shed)->rating_a)
			continue;
		rig_shed_free(*shed);
		*shed = NULL;
		days.supply = smaller->id;
		return rig_shed_study(asking->coach, &days, shed);
	}
	return RIG_OK;
}

/* The sun's questions need a place, or a year that is from one; without, the sheet holds what is
 * left. */
static rig_status study_sun(rig_asking *asking, rig_found *found)
{
	rig_answer_options every_month = *asking->options;
	every_month.month = -1;
	rig_asking solar = *asking;
	solar.options = &every_month;
	rig_status status = asking->has_place ? rig_answer_solar(&solar, found) : RIG_OK;
	if (status == RIG_OK && (asking->has_place || asking->options->weather != NULL))
		status = rig_answer_trip(asking, found);
	return status;
}

static rig_status study_wiring(rig_asking *asking, rig_found *found)
{
	const rig_status status = rig_answer_wiring(asking, found);
	if (status != RIG_OK || found->wiring->n_runs > 0)
		return status;
	rig_wiring_free(found->wiring);
	found->wiring = NULL;
	return RIG_OK;
}

rig_status rig_answer_sheet(rig_asking *asking, rig_found *found)
{
	asking->on_sheet = true;
	rig_status status = rig_answer_shore(asking, found);
	if (status == RIG_OK)
		status = study_shed(asking, &found->shed);
	if (status == RIG_OK)
		status = study_sun(asking, found);
	if (status == RIG_OK && (asking->coach->n_readings > 0 || asking->options->n_readings > 0))
		status = rig_answer_readings(asking, found);
	if (status == RIG_OK && asking->coach->n_claims > 0)
		status = rig_answer_claims(asking, found);
	if (status == RIG_OK)
		status = study_wiring(asking, found);
	/* who works on it wants the drawing, too */
	if (status == RIG_OK && asking->options->reader == RIG_FOR_SHOP)
		status = rig_answer_oneline(asking, found);
	return status;
}
