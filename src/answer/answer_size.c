/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The question of an upgrade, and the coach of one of its options. */
#include <string.h>

#include "answer/asking.h"
#include "answer/size_words.h"

/* The list that comes with the program, where no other is named. */
static rig_status find_parts(rig_asking *asking, rig_found *found, const rig_parts **parts)
{
	*parts = asking->options->parts;
	if (*parts != NULL)
		return RIG_OK;
	rig_diags *diags = rig_diags_new();
	rig_status status = RIG_NO_MEMORY;
	if (diags != NULL)
		status = rig_parts_parse(
			rig_parts_example, strlen(rig_parts_example), diags, &found->parts);
	rig_diags_free(diags);
	if (status == RIG_OK)
		*parts = rig_parts_list(found->parts);
	return status;
}

static rig_size_options size_options(const rig_asking *asking)
{
	const rig_answer_options *options = asking->options;
	rig_size_options size = rig_size_defaults();
	if (options->month >= 0) {
		memset(size.months, 0, sizeof size.months);
		size.months[options->month] = true;
	}
	if (options->n_days > 0)
		size.n_days = (int)options->n_days;
	if (options->n_trips > 0)
		size.n_trips = (size_t)options->n_trips;
	if (options->seed >= 0)
		size.seed = (uint64_t)options->seed;
	if (options->wanted_out_frac > 0)
		size.wanted_frac = 1 - options->wanted_out_frac;
	size.habit = asking->habit;
	size.n_threads = options->n_threads;
	size.progress = options->progress;
	size.context = options->context;
	return size;
}

rig_status rig_answer_size(rig_asking *asking, rig_found *found)
{
	const rig_parts *parts = NULL;
	if (!asking->has_place)
		return rig_asking_needs_place(asking);
	rig_size_options options = size_options(asking);
	rig_status status = rig_size_words_read(asking, &options);
	if (status == RIG_OK)
		status = rig_size_compared(asking);
	if (status == RIG_OK)
		status = find_parts(asking, found, &parts);
	if (status != RIG_OK)
		return status;
	status = rig_size_study(asking->file, parts, &asking->place, &options, &found->size);
	if (status == RIG_NO_SOLUTION)
		return rig_asking_refuse(asking, RIG_BAD_INPUT,
			&(rig_diag){.where.path = "parts",
				.what = "the list makes more than four million combinations",
				.mend = "shorten it, or set tighter limits on panels and "
					"batteries"});
	if (status == RIG_BAD_INPUT)
		return rig_asking_refuse(asking, RIG_NOT_FOUND,
			&(rig_diag){.what = "a wish for the upgrade is out of its range",
				.mend = "days 1 to 365, a chance above 0 and below 100 percent, at "
					"least 100 trips and one month"});
	return status;
}
