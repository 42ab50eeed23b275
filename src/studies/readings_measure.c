/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings_measure.c: which draw to clamp alone, of those that the readings leave in doubt. */
#include "rigbudget/readings.h"

/* Whether an end of what is expected lies within what was found. */
static bool straddles(const rig_readings_draw *draw)
{
	const double ends[] = {draw->expected_a.low, draw->expected_a.high};
	for (int i = 0; i < 2; i++)
		if (draw->found_a.low < ends[i] && ends[i] < draw->found_a.high)
			return true;
	return draw->verdict == RIG_DRAW_NOT_IDENTIFIED;
}

static rig_measure measure_of(const rig_readings_draw *draw)
{
	rig_measure made = {
		.kind = draw->supply == RIG_DC ? RIG_MEASURE_DC_LOAD : RIG_MEASURE_AC_LOAD,
		.index = draw->load,
		.outcome = {draw->found_a.low, draw->found_a.likely, draw->found_a.high},
		.decides = straddles(draw)};
	if (draw->load == RIG_READINGS_CHARGER)
		made.kind = RIG_MEASURE_CHARGER;
	if (draw->load == RIG_READINGS_INVERTER) {
		made.kind = RIG_MEASURE_INVERTER;
		made.index = -1;
	}
	return made;
}

size_t rig_readings_measures(
	const rig_readings_findings *findings, rig_measure measures[RIG_MEASURE_SHOWN])
{
	double all = 0;
	for (size_t i = 0; i < findings->n_draws; i++)
		all += findings->draws[i].se_a * findings->draws[i].se_a;
	/* the best seen so far, and beside them the next one */
	rig_measure seen[RIG_MEASURE_SHOWN + 1];
	size_t n = 0;
	for (size_t i = 0; i < findings->n_draws; i++) {
		const double se_a = findings->draws[i].se_a;
		seen[n] = measure_of(&findings->draws[i]);
		seen[n].share_frac = se_a * se_a / all;
		n = rig_measure_rank(n + 1, seen, RIG_MEASURE_SHOWN);
	}
	for (size_t i = 0; i < n; i++)
		measures[i] = seen[i];
	return n;
}
