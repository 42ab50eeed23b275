/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "rig/complete.h"
#include "rig/effective.h"

/* Real watts over volt-amperes by behaviour, common practice, no source. */
static const double POWER_FACTOR[][3] = {[RIG_BEHAVIOUR_UNSET] = {0.6, 0.9, 1},
	[RIG_RESISTIVE] = {1, 1, 1},
	[RIG_ELECTRONIC] = {0.6, 0.9, 1},
	[RIG_MOTOR] = {0.7, 0.85, 0.95},
	[RIG_COMPRESSOR] = {0.75, 0.85, 0.97}};
/* Locked-rotor amps over running amps of a compressor, common practice, no source. */
static const double START[3] = {3, 5, 8};
/* Share of the time that a thermostat keeps a compressor on, common practice, no source. */
static const double COMPRESSOR_DUTY[3] = {0.3, 0.6, 1};
/* Hours a day of something of which nothing is known, common practice, no source. */
static const double UNKNOWN_USE_H[3] = {0, 1, 4};
/* A continuous load runs three hours or more [NFPA-70]. */
static const double CONTINUOUS_H = 3;
static const int MIDDLE_PRIORITY = 5;

static const rig_circuit *circuit_of(rig_reader *reader, rig_coach *coach, rig_load *load)
{
	load->circuit_index = load->circuit == NULL
				      ? -1
				      : rig_ids_find(&reader->ids[RIG_TO_CIRCUIT], load->circuit);
	return load->circuit_index < 0 ? NULL : &coach->circuits[load->circuit_index];
}

static void fill_volts(const rig_coach *coach, rig_load *load, const rig_circuit *circuit)
{
	if (load->appliance != NULL)
		rig_fill(&load->volts_v, rig_figure_of(load->appliance->volts_v, RIG_FROM_PROFILE),
			load->appliance->source);
	if (load->supply == RIG_DC && load->bank_index >= 0)
		rig_fill(&load->volts_v, coach->banks[load->bank_index].nominal_v,
			"the bank that feeds it");
	const double volts = load->supply == RIG_DC                            ? 12
			     : circuit != NULL && circuit->leg == RIG_LEG_BOTH ? 240
									       : 120;
	rig_fill(&load->volts_v, rig_figure_of(volts, RIG_FROM_PROFILE), "nominal voltage");
}

static void fill_draw(rig_load *load)
{
	const rig_appliance *appliance = load->appliance;
	if (load->supply == RIG_DC)
		rig_fill(&load->power_factor, rig_figure_of(1, RIG_FROM_PROFILE), "direct current");
	if (appliance != NULL)
		rig_fill(&load->power_factor, appliance->power_factor, appliance->source);
	const double *factor = POWER_FACTOR[load->behaviour];
	rig_fill_range(&load->power_factor, factor[0], factor[1], factor[2], RIG_COMMON_PRACTICE);
	if (!rig_figure_given(load->running_w) && rig_figure_given(load->running_a)) {
		const rig_figure volt_amperes = rig_figure_multiply(load->running_a, load->volts_v);
		load->running_w = rig_figure_multiply(volt_amperes, load->power_factor);
		load->running_w.from = load->running_a.from;
		load->running_w.source = "amps x volts x power factor";
	}
	if (appliance != NULL)
		rig_fill(&load->running_w, appliance->running_w, appliance->source);
}

static void fill_start(rig_load *load)
{
	if (load->appliance != NULL) {
		rig_fill(&load->start_a, load->appliance->start_a, load->appliance->source);
		return;
	}
	if (load->behaviour != RIG_COMPRESSOR || load->supply != RIG_AC)
		return;
	const rig_figure volt_amperes = rig_figure_divide(load->running_w, load->power_factor);
	rig_fill_times(&load->start_a, rig_figure_divide(volt_amperes, load->volts_v), START,
		RIG_COMMON_PRACTICE);
}

/* The hours of use when the file does not give them. */
static void fill_hours(rig_reader *reader, rig_load *load, size_t i)
{
	const int span = load->from_hour < 0 ? 24 : rig_window_h(load->from_hour, load->to_hour);
	if (load->always_on == RIG_YES)
		rig_fill(&load->daily_use_h, rig_figure_of(24, RIG_FROM_PROFILE), "always on");
	if (load->appliance != NULL && rig_figure_given(load->appliance->daily_use_h)) {
		const rig_figure use = load->appliance->daily_use_h;
		rig_fill_range(&load->daily_use_h, fmin(use.low, span), fmin(use.likely, span),
			fmin(use.high, span), load->appliance->source);
	}
	if (load->from_hour >= 0)
		rig_fill(&load->daily_use_h, rig_figure_of(span, RIG_FROM_PROFILE),
			"the whole window of use");
	if (rig_figure_given(load->daily_use_h))
		return;
	rig_fill_range(&load->daily_use_h, UNKNOWN_USE_H[0], UNKNOWN_USE_H[1], UNKNOWN_USE_H[2],
		RIG_COMMON_PRACTICE);
	rig_remark_on(reader, RIG_OBJECT_LOAD, i,
		&(rig_saying){.what = rig_words_of(reader,
				      "%s has no hours of use; 0 to 4 h a day are taken", load->id),
			.mend = "add \"daily_use_h\""});
}

/* The weather decides how long such a load runs, unless the file does. */
static void fill_heat(rig_load *load)
{
	const bool by_clock =
		rig_figure_given(load->daily_use_h) || rig_figure_given(load->duty_frac);
	if (load->appliance != NULL && !by_clock)
		rig_fill(&load->heat_w, load->appliance->heat_w, load->appliance->source);
}

static void fill_always_on(rig_load *load)
{
	if (load->always_on != RIG_UNSAID)
		return;
	/* Hours of the file that leave gaps win over a profile that is always on. */
	const bool gaps = load->from_hour >= 0 ||
			  (rig_figure_given(load->daily_use_h) && load->daily_use_h.likely < 24);
	const bool always = load->appliance != NULL && load->appliance->always_on;
	load->always_on = always && !gaps ? RIG_YES : RIG_NO;
}

static void fill_duty(rig_load *load)
{
	const rig_appliance *appliance = load->appliance;
	if (appliance != NULL)
		rig_fill(&load->duty_frac, appliance->duty_frac, appliance->source);
	if (load->behaviour == RIG_COMPRESSOR)
		rig_fill_range(&load->duty_frac, COMPRESSOR_DUTY[0], COMPRESSOR_DUTY[1],
			COMPRESSOR_DUTY[2], RIG_COMMON_PRACTICE);
	rig_fill(&load->duty_frac, rig_figure_of(1, RIG_FROM_PROFILE),
		"draws all the time it is used");
}

static void fill_manner(rig_load *load)
{
	if (load->soft_starter == RIG_UNSAID)
		load->soft_starter = RIG_NO;
	const rig_appliance *appliance = load->appliance;
	if (load->continuous == RIG_UNSAID) {
		const bool long_use = appliance != NULL ? appliance->continuous
							: load->daily_use_h.likely >= CONTINUOUS_H;
		load->continuous = long_use ? RIG_YES : RIG_NO;
	}
	if (load->priority < 0)
		load->priority = appliance != NULL ? appliance->priority : MIDDLE_PRIORITY;
}

/* Whether the file says anywhere what the inverter feeds. */
static bool inverter_is_said(const rig_coach *coach)
{
	for (size_t i = 0; i < coach->n_circuits; i++)
		if (coach->circuits[i].inverter != RIG_UNSAID)
			return true;
	return false;
}

static void fill_inverter(rig_reader *reader, const rig_coach *coach, rig_load *load, size_t i)
{
	if (load->inverter != RIG_UNSAID)
		return;
	const rig_circuit *circuit =
		load->circuit_index < 0 ? NULL : &coach->circuits[load->circuit_index];
	load->inverter = RIG_NO;
	if (load->supply == RIG_DC || !coach->inverter.present)
		return;
	if (circuit != NULL && circuit->inverter != RIG_UNSAID) {
		load->inverter = circuit->inverter;
		return;
	}
	if (inverter_is_said(coach))
		return;
	const bool dropped = load->appliance != NULL && load->appliance->shed_first;
	const double watts = load->running_w.high * load->count;
	if (dropped || watts > coach->inverter.watts_w.likely)
		return;
	load->inverter = RIG_YES;
	rig_remark_on(reader, RIG_OBJECT_LOAD, i,
		&(rig_saying){.what = rig_words_of(reader,
				      "nothing says what the inverter feeds; %s is taken to be "
				      "used on it",
				      load->id),
			.mend = "add \"inverter\": true or false to it or to its circuit"});
}

void rig_complete_load(rig_reader *reader, rig_coach *coach, size_t i)
{
	rig_load *load = &coach->loads[i];
	load->appliance = load->profile == NULL ? NULL : rig_appliance_find(load->profile);
	const rig_circuit *circuit = circuit_of(reader, coach, load);
	load->supply = rig_load_supply(load, load->appliance, circuit);
	load->bank_index = load->supply != RIG_DC ? -1
			   : circuit != NULL      ? circuit->bank_index
						  : rig_only_house_bank(coach);
	if (load->behaviour == RIG_BEHAVIOUR_UNSET)
		load->behaviour =
			load->appliance != NULL ? load->appliance->behaviour : RIG_ELECTRONIC;
	if (load->name == NULL)
		load->name = load->appliance != NULL ? load->appliance->label : load->id;
	rig_fill_from_table(RIG_OBJECT_LOAD, load);
	fill_volts(coach, load, circuit);
	fill_draw(load);
	fill_start(load);
	fill_heat(load);
	fill_always_on(load);
	fill_hours(reader, load, i);
	fill_duty(load);
	fill_manner(load);
	fill_inverter(reader, coach, load, i);
}
