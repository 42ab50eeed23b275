/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shed_measure.h"

#include <string.h>

/* Figures that are tried, the widest first: each takes two more runs of the days. */
enum { MOST_TRIED = 6 };

typedef struct {
	int load;
	double width_w;
} candidate;

/* Puts a candidate in its place among the widest; the narrowest falls out at the end. */
static size_t insert(candidate widest[MOST_TRIED], size_t n, candidate made)
{
	size_t at = n;
	while (at > 0 && widest[at - 1].width_w < made.width_w) {
		if (at < MOST_TRIED)
			widest[at] = widest[at - 1];
		at--;
	}
	if (at < MOST_TRIED)
		widest[at] = made;
	return n < MOST_TRIED ? n + 1 : n;
}

/* The widest draws of those that run on this supply. */
static size_t list_widest(const rig_shed_findings *findings, candidate widest[MOST_TRIED])
{
	size_t n = 0;
	for (size_t i = 0; i < findings->n_loads; i++) {
		const rig_shed_load *row = &findings->loads[i];
		if (row->load < 0 || row->dead || row->behaviour == RIG_SHED_IDLE)
			continue;
		const rig_load *load = &findings->coach->loads[row->load];
		const candidate made = {
			row->load, (load->running_w.high - load->running_w.low) * load->count};
		if (made.width_w > 0)
			n = insert(widest, n, made);
	}
	return n;
}

/* What one run of the days came to. */
typedef struct {
	double lost_minutes;
	bool eventful; /* something was switched off, or a usual breaker tripped */
} outcome;

static rig_status run(const rig_shed_findings *of, const rig_coach *coach, outcome *found)
{
	rig_shed_options options = of->options;
	rig_shed_findings *trial = NULL;
	options.n_days = options.n_measure_days;
	options.n_order_days = options.n_measure_days = 0;
	const rig_status status = rig_shed_study(coach, &options, &trial);
	if (status != RIG_OK)
		return status;
	found->lost_minutes = trial->lost_minutes.mean;
	found->eventful =
		trial->days_with_drops_frac > 0 || trial->breaker[RIG_BREAKER_LIKELY].days_frac > 0;
	rig_shed_free(trial);
	return RIG_OK;
}

/* A coach whose load draws exactly that. */
static void set_draw(rig_coach *coach, int load, double watts_w)
{
	rig_figure *running_w = &coach->loads[load].running_w;
	running_w->low = running_w->likely = running_w->high = watts_w;
}

static rig_status try_load(
	const rig_shed_findings *of, rig_coach *coach, const outcome *likely, rig_measure *input)
{
	const rig_figure own = of->coach->loads[input->index].running_w;
	outcome at[2];
	for (int i = 0; i < 2; i++) {
		set_draw(coach, input->index, i == 0 ? own.low : own.high);
		const rig_status status = run(of, coach, &at[i]);
		if (status != RIG_OK)
			return status;
	}
	coach->loads[input->index].running_w = own;
	input->outcome[0] = at[0].lost_minutes;
	input->outcome[1] = likely->lost_minutes;
	input->outcome[2] = at[1].lost_minutes;
	input->decides = at[0].eventful != at[1].eventful;
	return RIG_OK;
}

rig_status shed_find_measures(rig_arena *arena, rig_shed_findings *findings)
{
	const rig_coach *own = findings->coach;
	candidate widest[MOST_TRIED];
	const size_t n = list_widest(findings, widest);
	rig_coach coach = *own;
	coach.loads = rig_arena_take(arena, own->n_loads, sizeof *coach.loads);
	rig_measure *inputs = rig_arena_take(arena, MOST_TRIED, sizeof *inputs);
	if (coach.loads == NULL || inputs == NULL)
		return RIG_NO_MEMORY;
	if (own->n_loads > 0)
		memcpy(coach.loads, own->loads, own->n_loads * sizeof *coach.loads);
	outcome likely;
	rig_status status = run(findings, own, &likely);
	for (size_t i = 0; i < n && status == RIG_OK; i++) {
		inputs[i] = (rig_measure){.kind = RIG_MEASURE_AC_LOAD, .index = widest[i].load};
		status = try_load(findings, &coach, &likely, &inputs[i]);
	}
	if (status != RIG_OK)
		return status;
	rig_measure_shares(n, inputs);
	findings->measures = inputs;
	findings->n_measures = rig_measure_rank(n, inputs, RIG_MEASURE_SHOWN);
	return RIG_OK;
}
