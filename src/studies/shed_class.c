/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What appliances are, when people use them and for how long at a time: common practice, no source,
 * all of it. */
#include <string.h>

#include "studies/shed_coach.h"

/* Clock hours of a window, through midnight where it goes past 24. */
#define MEALS                                                                                      \
	{                                                                                          \
		{7, 9},                                                                            \
		{                                                                                  \
			17, 20                                                                     \
		}                                                                                  \
	}
#define MORNING                                                                                    \
	{                                                                                          \
		{6, 9},                                                                            \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}
#define DAYTIME                                                                                    \
	{                                                                                          \
		{9, 17},                                                                           \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}
#define WAKING                                                                                     \
	{                                                                                          \
		{8, 23},                                                                           \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}
#define EVENING                                                                                    \
	{                                                                                          \
		{18, 23},                                                                          \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}
#define NIGHT                                                                                      \
	{                                                                                          \
		{21, 30},                                                                          \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}
#define ALL_DAY                                                                                    \
	{                                                                                          \
		{0, 24},                                                                           \
		{                                                                                  \
			0, 0                                                                       \
		}                                                                                  \
	}

/* The first row whose words start the profile's id. */
static const shed_class CLASSES[] = {
	{"roof_ac_strip_heat", .heats = true},
	{"roof_ac_fan_only", .hot_only = true, .session_minutes = 120, .window_h = WAKING},
	{"roof_ac_", .cools = true},
	{"roof_heat_pump", .cools = true, .heats = true},
	{"water_heater_element", .water = true},
	{"space_heater", .heats = true},
	{"electric_fireplace", .heats = true},
	{"fridge_", .cabinet = true},
	{"converter_", .charges = true},
	{"inverter_charger", .charges = true},
	{"engine_block_heater", .cold_only = true, .session_minutes = 240, .window_h = {{3, 8}}},
	{"electric_blanket", .cold_only = true, .session_minutes = 240, .cycle_s = 600,
		.window_h = NIGHT},
	{"heating_pad", .cold_only = true, .session_minutes = 60, .cycle_s = 300,
		.window_h = EVENING},
	{"dehumidifier", .never_cold = true, .session_minutes = 240, .cycle_s = 1200,
		.window_h = ALL_DAY},
	{"box_fan", .hot_only = true, .session_minutes = 120, .window_h = ALL_DAY},
	{"microwave_convection", .session_minutes = 15, .cycle_s = 60, .window_h = MEALS},
	{"microwave", .session_minutes = 6, .cycle_s = 60, .window_h = MEALS},
	{"induction", .session_minutes = 20, .cycle_s = 60, .window_h = MEALS},
	{"coffee_maker", .session_minutes = 30, .window_h = MORNING},
	{"electric_kettle", .session_minutes = 4, .window_h = {{6, 9}, {15, 21}}},
	{"toaster_oven", .session_minutes = 20, .cycle_s = 60, .window_h = MEALS},
	{"toaster", .session_minutes = 3, .window_h = MORNING},
	{"electric_skillet", .session_minutes = 25, .cycle_s = 90, .window_h = {{17, 20}}},
	{"slow_cooker", .session_minutes = 360, .cycle_s = 300, .window_h = {{10, 18}}},
	{"blender", .session_minutes = 2, .window_h = MEALS},
	{"food_processor", .session_minutes = 2, .window_h = MEALS},
	{"clothes_washer", .session_minutes = 40, .cycle_s = 300, .window_h = DAYTIME},
	{"washer_dryer", .session_minutes = 90, .cycle_s = 600, .window_h = DAYTIME},
	{"dryer_vented", .session_minutes = 60, .cycle_s = 600, .window_h = DAYTIME},
	{"dishwasher", .session_minutes = 70, .cycle_s = 1200, .window_h = {{19, 22}}},
	{"central_vacuum", .session_minutes = 10, .window_h = DAYTIME},
	{"hair_dryer", .session_minutes = 8, .window_h = {{6.5, 9}, {20, 22}}},
	{"clothes_iron", .session_minutes = 20, .cycle_s = 60, .window_h = WAKING},
	{"ice_maker", .session_minutes = 180, .cycle_s = 600, .window_h = {{11, 20}}},
	{"tv_", .session_minutes = 120, .window_h = EVENING},
	{"laptop", .session_minutes = 90, .window_h = WAKING},
	{"desktop", .session_minutes = 90, .window_h = WAKING},
	{"stereo", .session_minutes = 60, .window_h = WAKING},
	{"satellite", .session_minutes = 240, .window_h = WAKING},
};
enum { N_CLASSES = sizeof CLASSES / sizeof CLASSES[0] };

static const shed_class OTHER = {.session_minutes = 60, .cycle_s = 600, .window_h = WAKING};

/* Without a profile: sealed motors of so many watts are roof units, smaller ones that are plugged
 * in day and night are refrigerators. */
static const double ROOF_UNIT_W = 700.0, PLUGGED_IN_H = 20.0;

static shed_class class_by_figures(const rig_load *load)
{
	shed_class class = OTHER;
	if (load->behaviour != RIG_COMPRESSOR)
		return class;
	if (load->running_w.likely >= ROOF_UNIT_W)
		class.cools = true;
	else if (load->daily_use_h.likely >= PLUGGED_IN_H)
		class.cabinet = true;
	return class;
}

shed_class shed_class_of(const rig_load *load)
{
	const char *profile = load->appliance ? load->appliance->id : NULL;
	if (!profile)
		return class_by_figures(load);
	for (size_t i = 0; i < N_CLASSES; i++)
		if (strncmp(profile, CLASSES[i].profile, strlen(CLASSES[i].profile)) == 0)
			return CLASSES[i];
	return OTHER;
}
