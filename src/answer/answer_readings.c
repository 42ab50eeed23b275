/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>

#include "answer/asking.h"

/* The readings of the file, then those of the options. */
static size_t join(const rig_asking *asking, rig_found *found)
{
	const rig_coach *coach = asking->coach;
	const rig_answer_options *options = asking->options;
	size_t n = 0;
	found->joined = calloc(coach->n_readings + options->n_readings + 1, sizeof *found->joined);
	if (found->joined == NULL)
		return 0;
	for (size_t i = 0; i < coach->n_readings; i++)
		found->joined[n++] = coach->readings[i];
	for (size_t i = 0; i < options->n_readings; i++)
		found->joined[n++] = options->readings[i];
	return n;
}

rig_status rig_answer_readings(rig_asking *asking, rig_found *found)
{
	const size_t n = join(asking, found);
	if (found->joined == NULL)
		return RIG_NO_MEMORY;
	const rig_readings_options options = {.meter_frac = asking->options->meter_frac,
		.meter_a = asking->options->meter_a,
		.place = asking->has_place ? &asking->place : NULL};
	return rig_readings_study(asking->coach, found->joined, n, &options, &found->readings);
}
