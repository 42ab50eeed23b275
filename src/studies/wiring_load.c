/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/wiring_load.h"

#include <math.h>

/* The ends of a figure, by index. */
typedef struct {
	double at[RIG_N_ENDS];
} ends;

static rig_figure figure_of(ends values)
{
	return rig_figure_range(
		values.at[RIG_LOW], values.at[RIG_LIKELY], values.at[RIG_HIGH], RIG_FROM_COMPUTED);
}

/* AC: magnitudes of the sums of phasors, as in the budget of the circuit's breaker. */
static rig_wiring_load ac_load(const rig_shore_case *c, int circuit)
{
	rig_wiring_load load = {.power_factor = 1.0};
	ends amps = {{0}}, continuous = {{0}}, need = {{0}}, largest = {{0}};
	for (int end = 0; end < RIG_N_ENDS; end++) {
		rig_phasor all = {0, 0}, hours = {0, 0}, loaded = {0, 0};
		load.n = 0;
		for (size_t i = 0; i < c->n_units; i++) {
			const rig_shore_unit *unit = &c->units[i];
			if (unit->circuit != circuit)
				continue;
			const rig_phasor more = rig_phasor_scale(
				unit->hot[end], unit->continuous ? RIG_CONTINUOUS_FACTOR : 1.0);
			load.n++;
			all = rig_phasor_add(all, unit->hot[end]);
			loaded = rig_phasor_add(loaded, more);
			if (unit->continuous)
				hours = rig_phasor_add(hours, unit->hot[end]);
			largest.at[end] = fmax(largest.at[end], rig_phasor_a(more, RIG_HOT_V));
		}
		amps.at[end] = rig_phasor_a(all, RIG_HOT_V);
		continuous.at[end] = fmin(rig_phasor_a(hours, RIG_HOT_V), amps.at[end]);
		need.at[end] = rig_phasor_a(loaded, RIG_HOT_V);
		if (end == RIG_LIKELY)
			load.power_factor = rig_phasor_power_factor(all);
	}
	load.amps_a = figure_of(amps);
	load.continuous_a = figure_of(continuous);
	load.need_a = figure_of(need);
	load.largest_need_a = figure_of(largest);
	return load;
}

/* The sums of a circuit as they grow. */
typedef struct {
	ends amps, continuous, need, largest;
} sums;

static void add_dc(const rig_load *load, double volts_v, sums *sum)
{
	const double own_v = rig_figure_given(load->volts_v) ? load->volts_v.likely : volts_v;
	const double each_w[RIG_N_ENDS] = {
		load->running_w.low, load->running_w.likely, load->running_w.high};
	const bool hours = load->continuous == RIG_YES;
	const double factor = hours ? RIG_CONTINUOUS_FACTOR : 1.0;
	for (int end = 0; end < RIG_N_ENDS; end++) {
		const double one_a = each_w[end] / own_v;
		const double all_a = one_a * (load->count > 0 ? load->count : 1);
		sum->amps.at[end] += all_a;
		sum->continuous.at[end] += hours ? all_a : 0.0;
		sum->need.at[end] += all_a * factor;
		sum->largest.at[end] = fmax(sum->largest.at[end], one_a * factor);
	}
}

static rig_wiring_load dc_load(const rig_coach *coach, int circuit, double volts_v)
{
	rig_wiring_load load = {.power_factor = 1.0};
	sums sum = {0};
	for (size_t i = 0; i < coach->n_loads; i++) {
		if (coach->loads[i].supply != RIG_DC || coach->loads[i].circuit_index != circuit)
			continue;
		load.n++;
		add_dc(&coach->loads[i], volts_v, &sum);
	}
	load.amps_a = figure_of(sum.amps);
	load.continuous_a = figure_of(sum.continuous);
	load.need_a = figure_of(sum.need);
	load.largest_need_a = figure_of(sum.largest);
	return load;
}

rig_wiring_load rig_wiring_load_of(const rig_shore_case *c, int circuit, double volts_v)
{
	const rig_wiring_load load = c->coach->circuits[circuit].supply == RIG_DC
					     ? dc_load(c->coach, circuit, volts_v)
					     : ac_load(c, circuit);
	if (load.n == 0 || load.amps_a.high <= 0.0)
		return (rig_wiring_load){.power_factor = 1.0};
	return load;
}
