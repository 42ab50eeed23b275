/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the AC loads that are to run ask of an inverter. */
#include <math.h>

#include "studies/size_case.h"

/* With a soft starter a motor takes 0.3 to 0.5 of its locked-rotor amps (common practice, no
 * source); the harder end counts. */
static const double SOFT_FRAC = 0.5;

static bool in_set(const rig_together *set, int load)
{
	for (size_t i = 0; i < set->n_loads; i++)
		if (set->load_index[i] == load)
			return true;
	return false;
}

static bool in_any_set(const rig_coach *coach, int load)
{
	for (size_t i = 0; i < coach->n_together; i++)
		if (in_set(&coach->together[i], load))
			return true;
	return false;
}

static double running_w(const rig_coach *coach, int load)
{
	return coach->loads[load].running_w.likely * coach->loads[load].count;
}

/* More watts for a moment when one of a load's count starts. */
static double start_more_w(const rig_coach *coach, int load)
{
	const rig_load *it = &coach->loads[load];
	if (!rig_figure_given(it->start_a) || !rig_figure_given(it->volts_v))
		return 0;
	const double soft = it->soft_starter == RIG_YES ? SOFT_FRAC : 1;
	return fmax(0, it->start_a.likely * soft * it->volts_v.likely - it->running_w.likely);
}

/* One set, with what stands in none; NULL: all that is wanted, at once. */
static void ask_for(size_case *it, const rig_together *set)
{
	double sum_w = 0, hardest_w = 0;
	for (int load = 0; load < (int)it->coach->n_loads; load++) {
		if (!it->wanted[load] || (set && in_any_set(it->coach, load) && !in_set(set, load)))
			continue;
		sum_w += running_w(it->coach, load);
		hardest_w = fmax(hardest_w, start_more_w(it->coach, load));
	}
	it->findings->asked_w = fmax(it->findings->asked_w, sum_w);
	it->findings->asked_surge_w = fmax(it->findings->asked_surge_w, sum_w + hardest_w);
}

static bool is_named(const rig_size_options *options, int load)
{
	for (size_t i = 0; i < options->n_loads; i++)
		if (options->loads[i] == load)
			return true;
	return false;
}

static bool runs_away(const rig_coach *coach, int load, int habit)
{
	const rig_away away = rig_load_away(coach, load, habit);
	return away == RIG_RUNS_ON_INVERTER || away == RIG_NEEDS_INVERTER ||
	       away == RIG_EXCEEDS_INVERTER;
}

static bool is_wanted(const size_case *it, int load)
{
	const rig_size_options *options = &it->options;
	if (it->coach->loads[load].supply == RIG_DC)
		return false;
	if (options->all_loads || options->n_loads > 0)
		return options->all_loads || is_named(options, load);
	return runs_away(it->coach, load, options->habit);
}

rig_status size_ask(size_case *it)
{
	int *list = rig_arena_take(it->arena, it->coach->n_loads, sizeof *list);
	bool any_set = false;
	if (list == NULL)
		return RIG_NO_MEMORY;
	for (int load = 0; load < (int)it->coach->n_loads; load++) {
		it->wanted[load] = is_wanted(it, load);
		if (!it->wanted[load])
			continue;
		any_set = any_set || in_any_set(it->coach, load);
		list[it->findings->n_wanted++] = load;
	}
	it->findings->wanted = list;
	for (size_t i = 0; any_set && i < it->coach->n_together; i++)
		ask_for(it, &it->coach->together[i]);
	if (!any_set)
		ask_for(it, NULL);
	return RIG_OK;
}
