/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wiring_load.h: what a circuit's loads ask of its wire, all of them on at once. */
#ifndef STUDIES_WIRING_LOAD_H
#define STUDIES_WIRING_LOAD_H

#include "studies/shore_unit.h"

typedef struct {
	size_t n;          /* loads on the circuit */
	rig_figure amps_a; /* absent without loads, as are the others */
	rig_figure continuous_a;
	rig_figure need_a;         /* with continuous loads at 125 % */
	rig_figure largest_need_a; /* of the single load that asks for most */
	double power_factor;       /* of all together */
} rig_wiring_load;

/* The loads of a circuit.
 *   c         its units filled
 *   circuit   index in the coach's circuits
 *   volts_v   of the circuit, for DC loads that state none */
rig_wiring_load rig_wiring_load_of(const rig_shore_case *c, int circuit, double volts_v);

#endif
