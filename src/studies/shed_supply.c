/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What feeds the coach, and what the manager works by. */
#include <math.h>
#include <string.h>

#include "studies/shed_coach.h"

enum { TWO_HOTS_CORD_A = 50 };
static const double HOT_V = 120.0;

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

static rig_status find_generator(rig_shed_findings *findings)
{
	const rig_generator *generator = &findings->coach->generator;
	if (!generator->present || !rig_figure_given(generator->watts_w))
		return RIG_NOT_FOUND;
	findings->n_hots = hots_of_cord(findings->coach);
	findings->rating_a = generator->watts_w.likely / (HOT_V * findings->n_hots);
	return findings->rating_a > 0 && isfinite(findings->rating_a) ? RIG_OK : RIG_BAD_INPUT;
}

rig_status shed_find_supply(rig_shed_findings *findings)
{
	const rig_coach *coach = findings->coach;
	const char *id = findings->options.supply;
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

/* Between drops, between loads that come back, drops in an hour, a compressor's own least time off
 * (common practice, no source). */
static const double DROP_INTERVAL_S = 1.0, RESTORE_INTERVAL_S = 10.0;
enum { DROPS_PER_H = 6 };
static const double SENSING_S = 2.0, RESTORE_S = 120.0, MINIMUM_OFF_S = 180.0;

rig_status shed_find_manager(rig_shed_findings *findings)
{
	const rig_energy_management *em = &findings->coach->energy_management;
	const double asked_a = findings->options.limit_a;
	if (!shed_in_order(em->limit_a, 0.1, 1e6) || !shed_in_order(em->sensing_delay_s, 0, 1e6) ||
		!shed_in_order(em->restore_delay_s, 0, 1e6) ||
		!shed_in_order(em->minimum_off_s, 0, 1e6) || asked_a > findings->rating_a)
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
		.drops_per_h = DROPS_PER_H,
	};
	if (!em->present)
		findings->notes |= RIG_SHED_NO_MANAGER;
	else if (em->n_order == 0)
		findings->notes |= RIG_SHED_BY_PRIORITY;
	return RIG_OK;
}
