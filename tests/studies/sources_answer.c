/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sources_answer.h"

#include "suites.h"

sources_answer sources_ask(
	rig_file *file, const rig_place *place, const rig_sources_options *options)
{
	sources_answer a = {.file = file};
	const rig_coach *coach = rig_file_completed(file);
	ck_assert_int_eq(rig_shore_study(coach, NULL, &a.shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(coach, a.shore, NULL, &a.volts), RIG_OK);
	ck_assert_int_eq(rig_sources_study(coach, a.volts, place, options, &a.sources), RIG_OK);
	return a;
}

void sources_drop(sources_answer *a)
{
	rig_sources_free(a->sources);
	rig_voltage_free(a->volts);
	rig_shore_free(a->shore);
	rig_file_free(a->file);
}

const rig_other_source *sources_of(const sources_answer *a, rig_source_kind kind)
{
	for (size_t i = 0; i < a->sources->n_sources; i++)
		if (a->sources->sources[i].kind == kind)
			return &a->sources->sources[i];
	ck_abort_msg("no such source");
	return NULL;
}

int sources_everything(const sources_answer *a)
{
	for (size_t i = 0; i < a->shore->n_sets; i++)
		if (a->shore->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return (int)i;
	ck_abort_msg("there is no set of everything");
	return -1;
}

rig_status sources_status(
	const rig_coach *completed, const rig_place *place, const rig_sources_options *options)
{
	rig_shore_findings *shore = NULL;
	rig_voltage_findings *volts = NULL;
	rig_sources_findings *sources = NULL;
	ck_assert_int_eq(rig_shore_study(completed, NULL, &shore), RIG_OK);
	ck_assert_int_eq(rig_voltage_study(completed, shore, NULL, &volts), RIG_OK);
	const rig_status status = rig_sources_study(completed, volts, place, options, &sources);
	ck_assert((status == RIG_OK) == (sources != NULL));
	rig_sources_free(sources);
	rig_voltage_free(volts);
	rig_shore_free(shore);
	return status;
}
