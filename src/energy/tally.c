/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <float.h>
#include <stdlib.h>

#include "energy/plan.h"

rig_status rig_tally_new(const rig_plan *plan, size_t n_hours, rig_tally **tally)
{
	assert(n_hours > 0);
	rig_status status = RIG_NO_MEMORY;
	rig_tally *made = calloc(1, sizeof *made);
	if (!made)
		goto out;
	made->n_hours = n_hours;
	made->n_stores = plan->n_stores;
	made->sums = calloc(plan->n_stores, sizeof *made->sums);
	made->short_sum = calloc(n_hours * plan->n_stores, sizeof *made->short_sum);
	made->ran_out = calloc(n_hours, sizeof *made->ran_out);
	if (!made->sums || !made->short_sum || !made->ran_out)
		goto out;
	for (size_t s = 0; s < plan->n_stores; s++)
		made->sums[s].lowest_left_wh = DBL_MAX;
	*tally = made;
	made = NULL;
	status = RIG_OK;
out:
	rig_tally_free(made);
	return status;
}

void rig_tally_free(rig_tally *tally)
{
	if (!tally)
		return;
	free(tally->sums);
	free(tally->short_sum);
	free(tally->ran_out);
	free(tally);
}
