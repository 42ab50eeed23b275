/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "rig/complete.h"

/* Of hot and neutral together up to the receptacle, ohm: at 30 A a loss of 1 to 7.5 V. */
static const double SOURCE_OHM[3] = {0.03, 0.1, 0.25};

/* Copper that cords of a rating have (common practice, no source). */
static const char *cord_gauge(int cord_a)
{
	return cord_a >= 50 ? "6" : cord_a >= 30 ? "10" : cord_a >= 20 ? "12" : "14";
}

/* The resistance behind one reading under load. What a meter cannot tell from nothing is nothing,
 * never less. */
static rig_figure source_of_reading(const rig_coach *coach)
{
	const rig_figure drop_v = rig_figure_subtract(coach->pedestal_open_v, coach->loaded_v);
	const rig_figure positive_v = rig_figure_range(
		fmax(0, drop_v.low), drop_v.likely, drop_v.high, RIG_FROM_COMPUTED);
	return rig_figure_divide(positive_v, coach->loaded_a);
}

void rig_complete_shore(rig_coach *coach)
{
	if (rig_figure_given(coach->loaded_v) && rig_figure_given(coach->loaded_a)) {
		coach->source_ohm = source_of_reading(coach);
		coach->source_ohm.source = "pedestal_open_v less loaded_v, over loaded_a";
	}
	rig_fill_range(&coach->source_ohm, SOURCE_OHM[0], SOURCE_OHM[1], SOURCE_OHM[2],
		RIG_COMMON_PRACTICE);
	rig_fill_from_table(RIG_OBJECT_SHORE, coach);
	coach->cord_awg_usual = coach->cord_awg == NULL;
	if (coach->cord_awg_usual)
		coach->cord_awg = cord_gauge(coach->cord_a);
}
