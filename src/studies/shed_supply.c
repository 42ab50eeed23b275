/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What feeds the coach, and what the manager works by. */
#include <math.h>
#include <string.h>

#include "rigbudget/generator.h"
#include "studies/shed_coach.h"

enum { TWO_HOTS_CORD_A = 50 };
static const double HOT_V = 120.0, S_PER_MINUTE = 60.0;
/* Where the file says nothing (common practice, no source). */
static const double START_MINUTES = 2.0, RUN_MINUTES = 60.0;

double shed_end_of(rig_figure figure, int end, double absent)
{
	if (!rig_figure_given(figure))
		return absent;
	return end < 0 ? figure.low : end > 0 ? figure.high : figure.likely;
}

bool shed_in_order(rig_figure figure, double least, double most)
{
	return !rig_figure_given(figure) ||
	       (isfinite(figure.low) && isfinite(figure.high) && figure.low >= least &&
		       figure.low <= figure.likely && figure.likely <= figure.high &&
		       figure.high <= most);
}

static int hots_of_cord(const rig_coach *coach)
{
	return coach->cord_a <= 0 || coach->cord_a >= TWO_HOTS_CORD_A ? 2 : 1;
}

static const rig_supply *pedestal_of(const rig_coach *coach, const char *id)
{
	if (id)
		return rig_supply_find(id);
	for (size_t i = 0; i < rig_n_supplies(); i++)
		if (rig_supply_at(i)->breaker_a == coach->cord_a)
			return rig_supply_at(i);
	return coach->cord_a <= 0 ? rig_supply_at(0) : NULL;
}

/* Two outputs where the set and the coach have them; completion says it of every set. */
static int hots_of_generator(const rig_coach *coach)
{
	return coach->generator.two_hots == RIG_YES ? hots_of_cord(coach) : 1;
}

static rig_status find_left(rig_shed_findings *findings)
{
	static const double COLDEST_C = -40, LOWEST_M = -450, HIGHEST_M = 6000;
	const rig_figure height_m = findings->coach->site.elevation_m;
	const double warm_c = shed_climate_of(&findings->options).high_c;
	if (!shed_in_order(height_m, LOWEST_M, HIGHEST_M))
		return RIG_BAD_INPUT;
	/* no rule gives anything for cold */
	findings->left_frac = rig_generator_left_frac(
		RIG_DERATE_HEIGHT_HEAT, shed_end_of(height_m, 0, 0), fmax(warm_c, COLDEST_C));
	return RIG_OK;
}

static bool is_rated(rig_figure watts_w)
{
	return isfinite(watts_w.likely) && watts_w.likely > 0;
}

static rig_status find_generator(rig_shed_findings *findings)
{
	const rig_generator *generator = &findings->coach->generator;
	if (!generator->present || !rig_figure_given(generator->watts_w))
		return RIG_NOT_FOUND;
	if (!is_rated(generator->watts_w) || find_left(findings) != RIG_OK)
		return RIG_BAD_INPUT;
	findings->n_hots = hots_of_generator(findings->coach);
	findings->rating_a =
		findings->left_frac * generator->watts_w.likely / (HOT_V * findings->n_hots);
	return findings->rating_a > 0 ? RIG_OK : RIG_BAD_INPUT;
}

/* ---- the inverter ---- */

static rig_status find_auto_start(rig_shed_findings *findings)
{
	const rig_generator *generator = &findings->coach->generator;
	if (!generator->present || generator->auto_start != RIG_YES ||
		!rig_figure_given(generator->start_load_w) || !rig_figure_given(generator->watts_w))
		return RIG_OK;
	if (!is_rated(generator->watts_w) || !shed_in_order(generator->start_load_w, 1, 1e6) ||
		!shed_in_order(generator->start_load_minutes, 0, 1440) ||
		!shed_in_order(generator->minimum_run_minutes, 0, 1440) ||
		find_left(findings) != RIG_OK)
		return RIG_BAD_INPUT;
	findings->generator = (rig_shed_generator){.auto_start = true,
		.start_load_w = generator->start_load_w.likely,
		.start_load_s =
			shed_end_of(generator->start_load_minutes, 0, START_MINUTES) * S_PER_MINUTE,
		.minimum_run_s =
			shed_end_of(generator->minimum_run_minutes, 0, RUN_MINUTES) * S_PER_MINUTE,
		.limit_a = findings->left_frac * generator->watts_w.likely / HOT_V};
	if (generator->quiet_from_hour >= 0 && generator->quiet_to_hour >= 0 &&
		generator->quiet_from_hour != generator->quiet_to_hour)
		findings->notes |= RIG_SHED_QUIET_START;
	return RIG_OK;
}

static rig_status find_inverter(rig_shed_findings *findings)
{
	const rig_inverter *inverter = &findings->coach->inverter;
	if (!inverter->present || !rig_figure_given(inverter->watts_w))
		return RIG_NOT_FOUND;
	if (!is_rated(inverter->watts_w))
		return RIG_BAD_INPUT;
	findings->inverter = true;
	findings->n_hots = 1;
	findings->rating_a = inverter->watts_w.likely / HOT_V;
	return find_auto_start(findings);
}

void shed_plan_sources(const rig_shed_findings *findings, shed_model *model)
{
	static const double S_PER_H = 3600.0;
	const rig_generator *generator = &findings->coach->generator;
	const rig_shed_generator *plan = &findings->generator;
	const rig_figure own_a = findings->coach->energy_management.limit_a;
	model->sources = (shed_sources){.inverter = findings->inverter,
		.auto_start = plan->auto_start,
		.start_w = plan->start_load_w,
		.start_s = plan->start_load_s,
		.minimum_run_s = plan->minimum_run_s,
		.generator_limit_a = fmin(plan->limit_a, shed_end_of(own_a, 0, plan->limit_a))};
	if (findings->notes & RIG_SHED_QUIET_START) {
		model->sources.quiet_s[0] = S_PER_H * generator->quiet_from_hour;
		model->sources.quiet_s[1] = S_PER_H * generator->quiet_to_hour;
	}
	/* a generator's breaker is for its label */
	const bool labelled =
		findings->options.supply && !findings->pedestal && !findings->inverter;
	const double breaker_a =
		labelled ? findings->rating_a / findings->left_frac : findings->rating_a;
	for (int k = 0; k < RIG_N_BREAKERS; k++) {
		model->breaker[k] = rig_breaker_of(breaker_a, (rig_breaker_kind)k);
		if (plan->auto_start)
			model->sources.generator_breaker[k] = rig_breaker_of(
				plan->limit_a / findings->left_frac, (rig_breaker_kind)k);
	}
}

rig_status shed_find_supply(rig_shed_findings *findings)
{
	const rig_coach *coach = findings->coach;
	const char *id = findings->options.supply;
	findings->left_frac = 1;
	if (id && strcmp(id, "inverter") == 0)
		return find_inverter(findings);
	if (id && strcmp(id, "generator") == 0)
		return find_generator(findings);
	const rig_supply *pedestal = pedestal_of(coach, id);
	if (!pedestal)
		return RIG_NOT_FOUND;
	const double cord_a = coach->cord_a > 0 ? coach->cord_a : pedestal->breaker_a;
	const int hots = hots_of_cord(coach);
	findings->pedestal = pedestal;
	findings->n_hots = pedestal->n_hots < hots ? pedestal->n_hots : hots;
	findings->rating_a = fmin(pedestal->breaker_a, cord_a);
	if (cord_a < pedestal->breaker_a)
		findings->notes |= RIG_SHED_CORD_LIMITS;
	if (hots == 2 && findings->n_hots == 1)
		findings->notes |= RIG_SHED_SHARED_HOT;
	return RIG_OK;
}

/* ---- manager ---- */

/* Between drops, between loads that come back; and where the file says nothing (common practice, no
 * source). */
static const double DROP_INTERVAL_S = 1.0, RESTORE_INTERVAL_S = 10.0;
static const double SENSING_S = 2.0, RESTORE_S = 120.0, MINIMUM_OFF_S = 180.0;
static const double MOST_DROPS = 6.0, RESET_MINUTES = 60.0;

rig_status shed_find_manager(rig_shed_findings *findings)
{
	const rig_energy_management *em = &findings->coach->energy_management;
	const double asked_a = findings->options.limit_a;
	if (!shed_in_order(em->limit_a, 0.1, 1e6) || !shed_in_order(em->sensing_delay_s, 0, 1e6) ||
		!shed_in_order(em->restore_delay_s, 0, 1e6) ||
		!shed_in_order(em->minimum_off_s, 0, 1e6) ||
		!shed_in_order(em->most_drops, 1, SHED_MAX_DROPS) ||
		!shed_in_order(em->reset_minutes, 1, 1440) || asked_a > findings->rating_a)
		return RIG_BAD_INPUT;
	const double own_a = shed_end_of(em->limit_a, 0, findings->rating_a);
	findings->manager = (rig_shed_manager){
		.present = em->present,
		.own_order = em->present && em->n_order > 0,
		.limit_a = asked_a > 0 ? asked_a : fmin(own_a, findings->rating_a),
		.sensing_delay_s = shed_end_of(em->sensing_delay_s, 0, SENSING_S),
		.drop_interval_s = DROP_INTERVAL_S,
		.restore_delay_s = shed_end_of(em->restore_delay_s, 0, RESTORE_S),
		.restore_interval_s = RESTORE_INTERVAL_S,
		.minimum_off_s = shed_end_of(em->minimum_off_s, 0, MINIMUM_OFF_S),
		.most_drops = (int)round(shed_end_of(em->most_drops, 0, MOST_DROPS)),
		.reset_s = shed_end_of(em->reset_minutes, 0, RESET_MINUTES) * S_PER_MINUTE,
	};
	if (!em->present)
		findings->notes |= RIG_SHED_NO_MANAGER;
	else if (em->n_order == 0)
		findings->notes |= RIG_SHED_BY_PRIORITY;
	return RIG_OK;
}
