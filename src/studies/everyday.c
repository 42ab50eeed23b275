/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/everyday.h"

#include <assert.h>

#include "rigbudget/thermal.h"

static const double J_PER_WH = 3600.0;

double rig_everyday_cup_wh(void)
{
	return RIG_WATER_J_PER_L_K / J_PER_WH * RIG_EVERYDAY_CUP_L *
	       (RIG_EVERYDAY_BREW_C - RIG_EVERYDAY_TAP_C) / RIG_EVERYDAY_BREWER_FRAC;
}

rig_everyday rig_everyday_of(double energy_wh)
{
	assert(energy_wh >= 0);
	return (rig_everyday){.refrigerator_h = energy_wh / RIG_EVERYDAY_REFRIGERATOR_W,
		.coffee_cups = energy_wh / rig_everyday_cup_wh(),
		.phone_charges = energy_wh / RIG_EVERYDAY_PHONE_WH};
}
