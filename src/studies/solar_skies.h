/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solar_skies.h: the drawn skies of a place, kept from one coach to the next. For neighbours. */
#ifndef STUDIES_SOLAR_SKIES_H
#define STUDIES_SOLAR_SKIES_H

#include "studies/solar_trips.h"

/* The trips of a month at a place as solar_trips_draw makes them, drawn if they are not kept yet.
 * They belong to the skies, until eight other places were asked for. RIG_NO_MEMORY. */
rig_status solar_skies_take(rig_solar_skies *skies, const rig_place *place, int month,
	const rig_solar_options *options, solar_trips *trips);

#endif
