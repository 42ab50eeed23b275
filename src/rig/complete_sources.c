/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inverter, the chargers, the generator and the energy management. */
#include "rig/complete.h"

/* Over rated watts; common practice, no source. */
static const double INVERTER_SURGE[3] = {1.2, 1.5, 2};
static const double INVERTER_IDLE[3] = {0.005, 0.01, 0.02};
static const double GENERATOR_SURGE[3] = {1, 1.1, 1.2};

/* Litres an hour by rated kilowatt, idle and full. Gasoline and propane from an article's figures
 * for 4 to 5.5 kW sets, drawn out to a line over the load; common practice, no source. */
static const struct {
	double idle[3], full[3];
} FUEL_L_PER_KWH[] = {
	[RIG_GASOLINE] = {{0.1, 0.22, 0.35}, {0.6, 0.72, 0.95}},
	[RIG_DIESEL] = {{0.08, 0.14, 0.2}, {0.33, 0.42, 0.5}},
	[RIG_PROPANE] = {{0.2, 0.3, 0.45}, {0.8, 1, 1.3}},
};

static void complete_inverter(rig_reader *reader, rig_inverter *inverter)
{
	if (inverter->name == NULL)
		inverter->name = "Inverter";
	rig_fill_from_table(RIG_OBJECT_INVERTER, inverter);
	rig_fill_times(&inverter->surge_w, inverter->watts_w, INVERTER_SURGE, RIG_COMMON_PRACTICE);
	if (rig_figure_given(inverter->loss_fixed_frac))
		rig_fill(&inverter->idle_w,
			rig_figure_multiply(inverter->watts_w, inverter->loss_fixed_frac),
			"loss_fixed_frac of watts_w");
	rig_fill_times(&inverter->idle_w, inverter->watts_w, INVERTER_IDLE, RIG_COMMON_PRACTICE);
	rig_fill(&inverter->loss_fixed_frac,
		rig_figure_scale(inverter->idle_w, 1 / inverter->watts_w.likely),
		"idle_w over watts_w");
	if (inverter->always_on == RIG_UNSAID) {
		inverter->always_on = RIG_YES;
		rig_remark_on(reader, RIG_OBJECT_INVERTER, 0,
			&(rig_saying){.what = "the inverter is taken to stay on day and night",
				.mend = "add \"always_on\": true or false"});
	}
	if (inverter->bank_index < 0)
		rig_remark_on(reader, RIG_OBJECT_INVERTER, 0,
			&(rig_saying){
				.what = "the file has no house bank, so nothing feeds the inverter",
				.mend = "add the bank"});
}

static void complete_generator(int cord_a, rig_generator *generator)
{
	if (generator->name == NULL)
		generator->name = "Generator";
	if (generator->two_hots == RIG_UNSAID)
		generator->two_hots = cord_a >= 50 ? RIG_YES : RIG_NO;
	if (generator->auto_start == RIG_UNSAID)
		generator->auto_start = RIG_NO;
	const rig_figure start = generator->start_soc_frac, stop = generator->stop_soc_frac;
	rig_fill_from_table(RIG_OBJECT_GENERATOR, generator);
	if (generator->auto_start == RIG_NO) {
		generator->start_soc_frac = start;
		generator->stop_soc_frac = stop;
	}
	rig_fill_times(
		&generator->surge_w, generator->watts_w, GENERATOR_SURGE, RIG_COMMON_PRACTICE);
	if (generator->fuel == RIG_FUEL_UNSAID)
		return;
	const rig_figure rated_kw = rig_figure_scale(generator->watts_w, 0.001);
	rig_fill_times(&generator->fuel_idle_l_h, rated_kw, FUEL_L_PER_KWH[generator->fuel].idle,
		RIG_COMMON_PRACTICE);
	rig_fill_times(&generator->fuel_full_l_h, rated_kw, FUEL_L_PER_KWH[generator->fuel].full,
		RIG_COMMON_PRACTICE);
}

void rig_complete_sources(rig_reader *reader, rig_coach *coach)
{
	if (coach->inverter.present)
		complete_inverter(reader, &coach->inverter);
	if (coach->charger.present) {
		rig_fill_from_table(RIG_OBJECT_CHARGER, &coach->charger);
		if (coach->charger.name == NULL)
			coach->charger.name = "Converter";
	}
	if (coach->dc_charger.present) {
		rig_fill_from_table(RIG_OBJECT_DC_CHARGER, &coach->dc_charger);
		if (coach->dc_charger.name == NULL)
			coach->dc_charger.name = "Alternator charger";
	}
	if (coach->generator.present)
		complete_generator(coach->cord_a, &coach->generator);
	/* also of a coach whose file does not speak of it */
	rig_fill_from_table(RIG_OBJECT_BODY, &coach->body);
	if (coach->energy_management.present) {
		rig_fill_from_table(RIG_OBJECT_ENERGY_MANAGEMENT, &coach->energy_management);
		if (coach->energy_management.name == NULL)
			coach->energy_management.name = "Energy management";
	}
}
