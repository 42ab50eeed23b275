/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solar_coach.h"

#include <assert.h>
#include <stddef.h>

#include "exactly.h"
#include "rigbudget/profile.h"

static rig_bank bank_of(const char *id, rig_bank_role role, const char *chemistry, double ah)
{
	const rig_chemistry *kind = rig_chemistry_find(chemistry);
	assert(kind != NULL);
	const rig_figure total_wh = exactly(ah * 12.0);
	return (rig_bank){
		.id = id,
		.role = role,
		.chemistry = chemistry,
		.nominal_v = exactly(12.0),
		.series = 1,
		.parallel = 1,
		.usable_frac = kind->usable_frac,
		.charge_efficiency_frac = kind->charge_efficiency_frac,
		.self_discharge_frac_month = kind->self_discharge_frac_month,
		.peukert_exponent = kind->peukert_exponent,
		.kinetic_c_frac = kind->kinetic_c_frac,
		.kinetic_k_per_h = kind->kinetic_k_per_h,
		.kind = kind,
		.total_wh = total_wh,
		.total_ah = exactly(ah),
		.usable_wh = rig_figure_multiply(total_wh, kind->usable_frac),
	};
}

static void set_banks(solar_coach *made)
{
	made->banks[HOUSE] = bank_of("house", RIG_HOUSE, "agm", 420.0);
	made->banks[CHASSIS] = bank_of("chassis", RIG_CHASSIS, "starting", 100.0);
	made->coach.n_banks = 2;
	made->coach.banks = made->banks;
}

static void set_array(solar_coach *made)
{
	const rig_panel_kind *kind = rig_panel_kind_find("crystalline_new");
	assert(kind != NULL);
	made->arrays[0] = (rig_array){
		.id = "roof",
		.count = 1,
		.tilt_deg = exactly(0.0),
		.heading_deg = exactly(180.0),
		.controller = RIG_PWM,
		.temp_coefficient_per_k = kind->temp_coefficient_per_k,
		.noct_c = kind->noct_c,
		.roof_rise_k = kind->roof_rise_k,
		.shade_frac = rig_figure_range(0.0, 0.05, 0.2, RIG_FROM_PROFILE),
		.losses_frac = rig_figure_range(0.04, 0.08, 0.15, RIG_FROM_PROFILE),
		.kind = kind,
		.bank_index = HOUSE,
	};
	made->coach.n_arrays = 1;
	made->coach.arrays = made->arrays;
	solar_coach_set_watts(made, 100.0);
}

static void set_inverter(solar_coach *made)
{
	made->coach.inverter = (rig_inverter){
		.present = true,
		.bank_index = HOUSE,
		.watts_w = exactly(2000.0),
		.idle_w = rig_figure_range(15.0, 20.0, 30.0, RIG_FROM_NAMEPLATE),
		.loss_fixed_frac = rig_figure_range(0.0075, 0.01, 0.015, RIG_FROM_NAMEPLATE),
		.loss_linear_frac = exactly(0.025),
		.loss_square_frac = exactly(0.05),
		.always_on = RIG_YES,
	};
}

void solar_coach_set_watts(solar_coach *made, double watts_w)
{
	made->arrays[0].watts_w = made->arrays[0].total_w =
		rig_figure_of(watts_w, RIG_FROM_NAMEPLATE);
}

void solar_coach_add(solar_coach *made, const char *profile, int count)
{
	const rig_appliance *it = rig_appliance_find(profile);
	assert(it != NULL && made->coach.n_loads < SOLAR_COACH_LOADS);
	made->coach.loads = made->loads;
	made->loads[made->coach.n_loads++] = (rig_load){
		.id = it->id,
		.name = it->label,
		.profile = it->id,
		.count = count,
		.supply = it->supply,
		.behaviour = it->behaviour,
		.volts_v = exactly(it->volts_v),
		.running_w = it->running_w,
		.power_factor = it->power_factor,
		.duty_frac = it->duty_frac,
		.daily_use_h = it->daily_use_h,
		.from_hour = -1,
		.to_hour = -1,
		.priority = it->priority,
		.always_on = it->always_on ? RIG_YES : RIG_NO,
		.inverter = it->supply == RIG_AC ? RIG_YES : RIG_NO,
		.appliance = it,
		.circuit_index = -1,
		.bank_index = it->supply == RIG_DC ? HOUSE : -1,
	};
}

static void begin(solar_coach *made)
{
	*made = (solar_coach){.coach = {.name = "test coach", .cord_a = 50}};
	set_banks(made);
	set_array(made);
	solar_coach_add(made, "lp_detector", 1);
	solar_coach_add(made, "co_alarm", 1);
	solar_coach_add(made, "thermostat_board", 1);
	solar_coach_add(made, "led_light", 3);
	solar_coach_add(made, "chassis_standby", 1);
	made->loads[made->coach.n_loads - 1].bank_index = CHASSIS;
}

void solar_coach_bare(solar_coach *made)
{
	begin(made);
}

void solar_coach_household(solar_coach *made)
{
	begin(made);
	set_inverter(made);
	solar_coach_add(made, "fridge_residential", 1);
	solar_coach_add(made, "tv_led_32", 1);
	solar_coach_add(made, "laptop", 1);
	solar_coach_add(made, "microwave_800", 1);
	solar_coach_add(made, "furnace_35k", 1);
	solar_coach_add(made, "water_pump", 1);
	solar_coach_add(made, "roof_vent_fan", 1);
}
