/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/phasor.h"

#include <assert.h>
#include <math.h>

rig_phasor rig_phasor_of(double active_w, double power_factor)
{
	assert(active_w >= 0 && power_factor > 0 && power_factor <= 1);
	const double sine = sqrt((1.0 - power_factor) * (1.0 + power_factor));
	return (rig_phasor){active_w, active_w * sine / power_factor};
}

rig_phasor rig_phasor_add(rig_phasor a, rig_phasor b)
{
	return (rig_phasor){a.active_w + b.active_w, a.reactive_va + b.reactive_va};
}

rig_phasor rig_phasor_scale(rig_phasor a, double factor)
{
	return (rig_phasor){factor * a.active_w, factor * a.reactive_va};
}

double rig_phasor_va(rig_phasor a)
{
	return hypot(a.active_w, a.reactive_va);
}

double rig_phasor_a(rig_phasor a, double volts_v)
{
	assert(volts_v > 0);
	return rig_phasor_va(a) / volts_v;
}

double rig_phasor_power_factor(rig_phasor a)
{
	const double va = rig_phasor_va(a);
	return va > 0 ? a.active_w / va : 1.0;
}

double rig_neutral_split_a(const rig_legs *legs, double volts_v)
{
	return rig_phasor_a(rig_phasor_add(legs->leg1, rig_phasor_scale(legs->leg2, -1)), volts_v);
}

double rig_neutral_shared_a(const rig_legs *legs, double volts_v)
{
	return rig_phasor_a(rig_phasor_add(legs->leg1, legs->leg2), volts_v);
}
