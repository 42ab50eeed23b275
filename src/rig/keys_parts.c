/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of a parts file. */
#include <assert.h>
#include <stddef.h>

#include "rig/key_rows.h"
#include "rigbudget/parts.h"

#define UNIT(word)                                                                                 \
	{                                                                                          \
		.unit = { {word, 0, 1, 1} }                                                        \
	}

static const rig_quantity VOLTS = UNIT("V"), AMPS = UNIT("A"), WATTS = UNIT("W"),
			  AMP_HOURS = UNIT("Ah"), BARE = UNIT("");
/* Foot, inch and avoirdupois pound by definition. */
static const rig_quantity SIZE = {
	.unit = {{"m", 0, 1, 1}, {"in", 0, 254, 10000}, {"mm", 0, 1, 1000}}};
static const rig_quantity WEIGHT = {.unit = {{"kg", 0, 1, 1}, {"lb", 0, 0.45359237, 1}}};
static const rig_quantity WEIGHT_BY_LENGTH = {
	.unit = {{"kg/m", 0, 1, 1}, {"lb/ft", 0, 0.45359237, 0.3048}}};
static const rig_quantity PRICE_BY_LENGTH = {
	.unit = {{"a metre", 0, 1, 1}, {"a foot", 0, 10000, 3048}}};

static const rig_word CONTROLLER_WORDS[] = {{"pwm", RIG_PWM}, {"mppt", RIG_MPPT}, {NULL, 0}};

#define SIZE_ROW(type, field, si, us, mm, doc, like)                                               \
	{                                                                                          \
		.name = {si, us, mm}, .kind = RIG_KEY_FIGURE, .offset = offsetof(type, field),     \
		.quantity = &SIZE, .low = 0.01, .high = 4, .what = (doc), .required = true,        \
		.example = (like)                                                                  \
	}
#define WEIGHT_ROW(type, most, like)                                                               \
	FIGURE_US(type, weight_kg, "weight_lb", WEIGHT, 0.001, most, "weight of one",              \
		.also = "weight mass", .required = true, .example = (like))
#define PRICE_ROW(type, like)                                                                      \
	FIGURE(type, price, BARE, 0, 100000, "price of one, in the file's currency",               \
		.also = "cost", .required = true, .example = (like))

static const rig_key PARTS[] = {
	{.name = {"$schema"},
		.kind = RIG_KEY_TEXT,
		.offset = offsetof(rig_parts, schema),
		.high = RIG_MAX_TEXT,
		.what = "address of the JSON Schema, for editors",
		.example = "\"rigbudget-parts-1.schema.json\""},
	{.name = {"format"},
		.also = "version",
		.kind = RIG_KEY_FORMAT,
		.required = true,
		.offset = offsetof(rig_parts, format),
		.high = RIG_MAX_TEXT,
		.what = "the format of the file and its version",
		.example = "\"" RIG_PARTS_FORMAT "\""},
	TEXT(rig_parts, name, "what people call the list", .required = true, .also = "title label",
		.example = "\"Workshop list, spring\""),
	NOTES(rig_parts),
	TEXT(rig_parts, currency, "the word beside a price", .also = "money", .example = "\"USD\""),
	YES_NO(rig_parts, invented, "its parts and prices are invented: reports say so",
		.also = "made_up example"),
	LIST(rig_parts, panels, RIG_OBJECT_PART_PANEL, 200, "solar panels", .also = "solar"),
	LIST(rig_parts, batteries, RIG_OBJECT_PART_BATTERY, 200, "batteries for the house bank",
		.also = "banks"),
	LIST(rig_parts, controllers, RIG_OBJECT_PART_CONTROLLER, 100, "charge controllers",
		.also = "charge_controllers"),
	LIST(rig_parts, inverters, RIG_OBJECT_PART_INVERTER, 100, "inverters and inverter/chargers",
		.also = "inverter_chargers"),
	LIST(rig_parts, alternator_chargers, RIG_OBJECT_PART_ALTERNATOR_CHARGER, 50,
		"chargers between the engine's alternator and the house bank",
		.also = "dc_chargers"),
	LIST(rig_parts, fuses, RIG_OBJECT_PART_FUSE, 200, "fuses with their holders",
		.also = "breakers"),
	LIST(rig_parts, conductors, RIG_OBJECT_PART_CONDUCTOR, 50, "copper conductors by length",
		.also = "wires cables"),
};

static const rig_key PANEL[] = {
	ID(rig_part_panel, "what the shop calls it in short"),
	NAME(rig_part_panel),
	FIGURE(rig_part_panel, watts_w, WATTS, 1, 2000, "nameplate watts", .also = "watts w power",
		.required = true, .example = "200"),
	SIZE_ROW(rig_part_panel, length_m, "length_m", "length_in", "length_mm",
		"length of its frame", "1.5"),
	SIZE_ROW(rig_part_panel, width_m, "width_m", "width_in", "width_mm", "width of its frame",
		"0.67"),
	WEIGHT_ROW(rig_part_panel, 100, "10.4"),
	PRICE_ROW(rig_part_panel, "180"),
	REFERENCE(rig_part_panel, panel, RIG_TO_PANEL_KIND,
		"kind of panel (`rigbudget list panels`)", .also = "kind type",
		.example = "\"crystalline_new\"", .absent = "crystalline, of unknown age"),
	FIGURE(rig_part_panel, vmp_v, VOLTS, 1, 200, "volts at the best point", .example = "20.4"),
	FIGURE(rig_part_panel, voc_v, VOLTS, 1, 200, "volts with nothing drawn", .required = true,
		.example = "24.3"),
	FIGURE(rig_part_panel, imp_a, AMPS, 0.1, 30, "amps at the best point", .example = "9.8"),
	FIGURE(rig_part_panel, isc_a, AMPS, 0.1, 30, "amps when shorted", .required = true,
		.example = "10.2"),
	WHOLE(rig_part_panel, most, 1, 100, "most of them that the shop would put on one coach",
		.example = "8"),
	NOTES(rig_part_panel),
};

static const rig_key BATTERY[] = {
	ID(rig_part_battery, "what the shop calls it in short"),
	NAME(rig_part_battery),
	REFERENCE(rig_part_battery, chemistry, RIG_TO_CHEMISTRY,
		"kind of battery (`rigbudget list batteries`)", .also = "kind type",
		.required = true, .example = "\"lithium_iron_phosphate\""),
	FIGURE(rig_part_battery, nominal_v, VOLTS, 2, 60, "nominal volts of one", .also = "volts_v",
		.required = true, .example = "12.8"),
	FIGURE(rig_part_battery, capacity_ah, AMP_HOURS, 1, 2000, "amp-hours of one, over 20 h",
		.also = "ah", .required = true, .example = "100"),
	SIZE_ROW(
		rig_part_battery, length_m, "length_m", "length_in", "length_mm", "length", "0.33"),
	SIZE_ROW(rig_part_battery, width_m, "width_m", "width_in", "width_mm", "width", "0.172"),
	SIZE_ROW(rig_part_battery, height_m, "height_m", "height_in", "height_mm",
		"height with its terminals", "0.22"),
	WEIGHT_ROW(rig_part_battery, 500, "11.5"),
	PRICE_ROW(rig_part_battery, "420"),
	FIGURE(rig_part_battery, charge_limit_a, AMPS, 0.5, 1000, "most amps that may charge one",
		.example = "50", .absent = "by its kind"),
	FIGURE(rig_part_battery, discharge_limit_a, AMPS, 0.5, 2000,
		"most amps that may be drawn from one", .example = "100"),
	FIGURE(rig_part_battery, short_circuit_a, AMPS, 10, 100000,
		"amps of one shorted at its terminals", .example = "4000"),
	FIGURE(rig_part_battery, cycles, BARE, 10, 100000, "cycles until it is worn out",
		.example = "3000"),
	FIGURE(rig_part_battery, cycles_depth_frac, BARE, 0.05, 1,
		"how deep each of those cycles is, as a share of the capacity", .example = "0.8"),
	WHOLE(rig_part_battery, most_series, 1, 32, "most in one string", .example = "4"),
	WHOLE(rig_part_battery, most_parallel, 1, 32, "most strings side by side", .example = "4"),
	NOTES(rig_part_battery),
};

static const rig_key CONTROLLER[] = {
	ID(rig_part_controller, "what the shop calls it in short"),
	NAME(rig_part_controller),
	CHOICE(rig_part_controller, controller, CONTROLLER_WORDS, "what it does with the volts",
		.also = "kind type", .required = true, .example = "\"mppt\""),
	FIGURE(rig_part_controller, limit_a, AMPS, 1, 300, "most amps into the bank",
		.also = "amps_a", .required = true, .example = "40"),
	FIGURE(rig_part_controller, voc_limit_v, VOLTS, 10, 1000,
		"most volts that the panels may give it, cold", .required = true, .example = "100"),
	FIGURE(rig_part_controller, efficiency_frac, BARE, 0.5, 1, "watts out over watts in",
		.example = "0.97"),
	WEIGHT_ROW(rig_part_controller, 50, "1.1"),
	PRICE_ROW(rig_part_controller, "240"),
	NOTES(rig_part_controller),
};

static const rig_key INVERTER[] = {
	ID(rig_part_inverter, "what the shop calls it in short"),
	NAME(rig_part_inverter),
	FIGURE(rig_part_inverter, nominal_v, VOLTS, 6, 60,
		"nominal volts of the bank it is made for", .also = "volts_v", .required = true,
		.example = "12"),
	FIGURE(rig_part_inverter, watts_w, WATTS, 50, 20000, "watts for hours on end",
		.also = "watts", .required = true, .example = "2000"),
	FIGURE(rig_part_inverter, surge_w, WATTS, 50, 60000, "watts for a start", .required = true,
		.example = "4000"),
	FIGURE(rig_part_inverter, idle_w, WATTS, 0.1, 200, "watts with nothing on it",
		.required = true, .example = "15"),
	FIGURE(rig_part_inverter, charger_a, AMPS, 1, 500,
		"amps of its charger on shore power; with it, it is an inverter/charger",
		.example = "80"),
	WEIGHT_ROW(rig_part_inverter, 200, "7.5"),
	PRICE_ROW(rig_part_inverter, "540"),
	NOTES(rig_part_inverter),
};

static const rig_key ALTERNATOR_CHARGER[] = {
	ID(rig_part_alternator_charger, "what the shop calls it in short"),
	NAME(rig_part_alternator_charger),
	FIGURE(rig_part_alternator_charger, nominal_v, VOLTS, 6, 60,
		"nominal volts of the bank it is made for", .also = "volts_v", .required = true,
		.example = "12"),
	FIGURE(rig_part_alternator_charger, amps_a, AMPS, 1, 300, "amps into the bank",
		.also = "amps", .required = true, .example = "40"),
	WEIGHT_ROW(rig_part_alternator_charger, 50, "1.2"),
	PRICE_ROW(rig_part_alternator_charger, "330"),
	NOTES(rig_part_alternator_charger),
};

static const rig_key FUSE[] = {
	ID(rig_part_fuse, "what the shop calls it in short"),
	NAME(rig_part_fuse),
	FIGURE(rig_part_fuse, rating_a, AMPS, 0.5, 1000, "its rating", .also = "amps_a",
		.required = true, .example = "200"),
	FIGURE(rig_part_fuse, interrupt_a, AMPS, 10, 300000, "largest current that it can break",
		.required = true, .example = "20000"),
	WEIGHT_ROW(rig_part_fuse, 10, "0.3"),
	PRICE_ROW(rig_part_fuse, "46"),
	NOTES(rig_part_fuse),
};

static const rig_key CONDUCTOR[] = {
	ID(rig_part_conductor, "what the shop calls it in short"),
	NAME(rig_part_conductor),
	REFERENCE(rig_part_conductor, awg, RIG_TO_CONDUCTOR, "gauge as printed", .also = "gauge",
		.required = true, .example = "\"2/0\""),
	FIGURE_US(rig_part_conductor, weight_kg_m, "weight_lb_ft", WEIGHT_BY_LENGTH, 0.001, 10,
		"weight of a length of one conductor", .required = true, .example = "0.68"),
	FIGURE_US(rig_part_conductor, price_per_m, "price_per_ft", PRICE_BY_LENGTH, 0, 1000,
		"price of a length of one conductor", .required = true, .example = "14"),
	NOTES(rig_part_conductor),
};

#define KEYS(table) COUNT_OF(table), table
static const rig_object_keys OBJECTS[] = {
	{"parts list", "A price list of what may go into a coach", sizeof(rig_parts), false,
		KEYS(PARTS)},
	{"panel", "A solar panel", sizeof(rig_part_panel), false, KEYS(PANEL)},
	{"battery", "A battery", sizeof(rig_part_battery), false, KEYS(BATTERY)},
	{"controller", "A charge controller", sizeof(rig_part_controller), false, KEYS(CONTROLLER)},
	{"inverter", "An inverter, or an inverter/charger", sizeof(rig_part_inverter), false,
		KEYS(INVERTER)},
	{"alternator_charger", "A charger fed by the engine's alternator",
		sizeof(rig_part_alternator_charger), false, KEYS(ALTERNATOR_CHARGER)},
	{"fuse", "A fuse with its holder", sizeof(rig_part_fuse), false, KEYS(FUSE)},
	{"conductor", "One copper conductor by length", sizeof(rig_part_conductor), false,
		KEYS(CONDUCTOR)},
};

const rig_object_keys *rig_keys_of_parts(rig_object object)
{
	assert(object >= RIG_OBJECT_PARTS && object < RIG_N_ALL_OBJECTS);
	return &OBJECTS[object - RIG_OBJECT_PARTS];
}

const char *rig_format_of(rig_object object)
{
	return object == RIG_OBJECT_PARTS ? RIG_PARTS_FORMAT : RIG_FORMAT;
}
