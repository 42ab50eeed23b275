/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_skies.h: the mean and the drawn skies of a place, kept from one coach to the next. For
 * neighbours. */
#ifndef STUDIES_SOLAR_SKIES_H
#define STUDIES_SOLAR_SKIES_H

#include "studies/solar_trips.h"

/* What is given belongs to the skies, until eight other places were asked for. */

/* The twelve months of solar_sky_of. NULL when memory is out. */
const solar_sky *solar_skies_months(
	rig_solar_skies *skies, const rig_place *place, const rig_solar_options *options);

/* The trips of a month as solar_trips_draw makes them, drawn if they are not kept yet. NULL when
 * memory is out. */
const solar_trips *solar_skies_trips(rig_solar_skies *skies, const rig_place *place, int month,
	const rig_solar_options *options);

#endif
