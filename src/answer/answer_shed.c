/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <strings.h>

#include "answer/asking.h"

/* Days behind what to measure: enough to put draws in their order. */
enum { MEASURE_DAYS = 20 };

const char *rig_supply_named(const char *word)
{
	if (strcasecmp(word, "generator") == 0)
		return "generator";
	if (strcasecmp(word, "inverter") == 0)
		return "inverter";
	char *end;
	const double amps = strtod(word, &end);
	for (size_t i = 0; i < rig_n_supplies(); i++) {
		const rig_supply *supply = rig_supply_at(i);
		if (strcasecmp(word, supply->id) == 0 ||
			(*end == '\0' && amps == supply->breaker_a))
			return supply->id;
	}
	return NULL;
}

rig_status rig_answer_shed_options(const rig_asking *asking, rig_shed_options *days)
{
	const rig_answer_options *options = asking->options;
	*days = rig_shed_defaults();
	days->weather = options->day;
	days->habit = asking->habit;
	if (options->supply != NULL) {
		days->supply = rig_supply_named(options->supply);
		if (days->supply == NULL)
			return rig_asking_refuse(asking, RIG_NOT_FOUND,
				&(rig_diag){.where.path = "supply",
					.what = "there is no such supply",
					.found = options->supply,
					.allowed = "50A, 30A, 20A, 15A, generator and inverter",
					.mend = "choose one of them"});
	}
	if (options->n_days > 0)
		days->n_days = (size_t)options->n_days;
	if (days->n_order_days > days->n_days)
		days->n_order_days = days->n_days;
	days->n_measure_days = days->n_days < MEASURE_DAYS ? days->n_days : MEASURE_DAYS;
	if (options->seed >= 0)
		days->seed = (uint64_t)options->seed;
	return RIG_OK;
}

/* What the file has not. */
static const rig_diag *missing(const char *supply)
{
	static const rig_diag NO_CORD = {.what = "no supply fits the cord of the file",
		.mend = "name a supply: 50A, 30A, 20A, 15A, generator or inverter"};
	static const rig_diag NO_GENERATOR = {.what = "the file names no generator with its watts",
		.mend = "add \"generator\" with \"watts_w\" to the file, or name another supply"};
	static const rig_diag NO_INVERTER = {.what = "the file names no inverter with its watts",
		.mend = "add \"inverter\" with \"watts_w\" to the file, or name another supply"};
	if (supply == NULL)
		return &NO_CORD;
	return strcasecmp(supply, "inverter") == 0 ? &NO_INVERTER : &NO_GENERATOR;
}

rig_status rig_answer_shed(rig_asking *asking, rig_found *found)
{
	rig_shed_options days;
	rig_status status = rig_answer_shed_options(asking, &days);
	if (status == RIG_OK)
		status = rig_shed_study(asking->coach, &days, &found->shed);
	else
		return status;
	if (status != RIG_NOT_FOUND)
		return status;
	return rig_asking_refuse(asking, RIG_BAD_INPUT, missing(days.supply));
}
