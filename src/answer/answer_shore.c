/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <strings.h>

#include "answer/asking.h"
#include "base/suggest.h"

enum { MAX_WORDS = 200 };

static const char *id_at(const void *context, size_t i)
{
	return ((const rig_coach *)context)->loads[i].id;
}

static rig_status refuse_load(const rig_asking *asking, const char *word)
{
	const rig_coach *coach = asking->coach;
	char mend[MAX_WORDS] = "name a load of the file by its id or its name";
	const char *near = rig_suggest(word, coach->n_loads, id_at, coach);
	if (near != NULL)
		snprintf(mend, sizeof mend, "did you mean %s?", near);
	return rig_asking_refuse(asking, RIG_BAD_INPUT,
		&(rig_diag){.where.path = "run",
			.what = "the file has no such load",
			.found = word,
			.mend = mend});
}

int rig_load_named(const rig_coach *coach, const char *word)
{
	for (int load = 0; load < (int)coach->n_loads; load++) {
		const rig_load *it = &coach->loads[load];
		if (strcasecmp(it->id, word) == 0 ||
			(it->name != NULL && strcasecmp(it->name, word) == 0))
			return load;
	}
	return -1;
}

/* The load that is to run. */
static rig_status find_load(rig_asking *asking)
{
	const char *word = asking->options->run;
	const rig_coach *coach = asking->coach;
	const int found = rig_load_named(coach, word);
	if (found < 0)
		return refuse_load(asking, word);
	asking->run = coach->loads[found].id;
	if (coach->loads[found].supply == RIG_AC)
		return RIG_OK;
	return rig_asking_refuse(asking, RIG_BAD_INPUT,
		&(rig_diag){.where.path = "run",
			.what = "this load runs on a battery, not on shore power",
			.found = asking->run,
			.mend = "name a load of 120 or 240 V"});
}

rig_status rig_answer_shore(rig_asking *asking, rig_found *found)
{
	const rig_answer_options *asked = asking->options;
	const bool brief = asked->answers_only && asked->run == NULL;
	const rig_voltage_options volts = {.verdicts_only = brief};
	rig_status status = asked->run != NULL ? find_load(asking) : RIG_OK;
	const rig_shore_options shore = {.verdicts_only = brief, .run = asking->run};
	if (status == RIG_OK)
		status = rig_shore_study(asking->coach, &shore, &found->shore);
	if (status == RIG_OK)
		status = rig_voltage_study(asking->coach, found->shore, &volts, &found->voltage);
	if (status == RIG_OK)
		status = rig_sources_study(asking->coach, found->voltage,
			asking->has_place ? &asking->place : NULL, NULL, &found->sources);
	return status;
}
