/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rig/keys.h"

#include <assert.h>
#include <ctype.h>
#include <stddef.h>
#include <string.h>

#include "base/suggest.h"
#include "rig/key_rows.h"
#include "rigbudget/coach.h"

static const rig_quantity VOLTS = UNIT("V"), AMPS = UNIT("A"), WATTS = UNIT("W"),
			  WATT_HOURS = UNIT("Wh"), AMP_HOURS = UNIT("Ah"), HOURS_SPAN = UNIT("h"),
			  DAYS_SPAN = UNIT("days"), MINUTES = UNIT("min"), SECONDS = UNIT("s"),
			  YEARS = UNIT("years"), OHMS = UNIT("ohm"), SHARE = UNIT(""),
			  BARE = UNIT(""), DEGREES = UNIT("degrees"), KELVIN = UNIT("K"),
			  PER_KELVIN = UNIT("1/K"), PER_HOUR = UNIT("1/h"),
			  WATTS_PER_KELVIN = UNIT("W/K");
/* Foot, inch and US gallon by definition; Fahrenheit by definition. */
static const rig_quantity LENGTH = {.unit = {{"m", 0, 1, 1}, {"ft", 0, 3048, 10000}}};
static const rig_quantity SIZE = {
	.unit = {{"m", 0, 1, 1}, {"in", 0, 254, 10000}, {"ft", 0, 3048, 10000}}};
static const rig_quantity TEMPERATURE = {.unit = {{"C", 0, 1, 1}, {"F", 32, 5, 9}}};
static const rig_quantity FUEL_RATE = {.unit = {{"L/h", 0, 1, 1}, {"gal/h", 0, 3.785411784, 1}}};
/* One figure under two trade names. */
static const rig_quantity RATING = {.unit = {{"A", 0, 1, 1}, {"A", 0, 1, 1}}};

static const rig_word SUPPLY_WORDS[] = {{"ac", RIG_AC}, {"dc", RIG_DC}, {NULL, 0}};
static const rig_word LEG_WORDS[] = {
	{"L1", RIG_LEG_1}, {"L2", RIG_LEG_2}, {"both", RIG_LEG_BOTH}, {NULL, 0}};
static const rig_word BEHAVIOUR_WORDS[] = {{"resistive", RIG_RESISTIVE},
	{"electronic", RIG_ELECTRONIC}, {"motor", RIG_MOTOR}, {"compressor", RIG_COMPRESSOR},
	{NULL, 0}};
static const rig_word ROLE_WORDS[] = {{"house", RIG_HOUSE}, {"chassis", RIG_CHASSIS}, {NULL, 0}};
static const rig_word CONTROLLER_WORDS[] = {
	{"pwm", RIG_PWM}, {"mppt", RIG_MPPT}, {"direct", RIG_DIRECT}, {NULL, 0}};
static const rig_word FEEDS_WORDS[] = {{"panel", RIG_FEEDS_PANEL}, {"inverter", RIG_FEEDS_INVERTER},
	{"charger", RIG_FEEDS_CHARGER}, {"dc_charger", RIG_FEEDS_DC_CHARGER},
	{"solar", RIG_FEEDS_SOLAR}, {NULL, 0}};
static const rig_word FUEL_WORDS[] = {
	{"gasoline", RIG_GASOLINE}, {"diesel", RIG_DIESEL}, {"propane", RIG_PROPANE}, {NULL, 0}};
static const rig_word CHARGING_WORDS[] = {{"charger", RIG_BY_CHARGER},
	{"alternator", RIG_BY_ALTERNATOR}, {"solar", RIG_BY_SOLAR}, {NULL, 0}};
static const rig_word SKY_WORDS[] = {
	{"clear", RIG_SKY_CLEAR}, {"hazy", RIG_SKY_HAZY}, {"cloudy", RIG_SKY_CLOUDY}, {NULL, 0}};
static const rig_word POWER_WORDS[] = {
	{"solar", RIG_POWER_SOLAR}, {"battery", RIG_POWER_BATTERY}, {NULL, 0}};
static const rig_word CLAIMED_WORDS[] = {{"50A", RIG_CLAIMED_50A}, {"30A", RIG_CLAIMED_30A},
	{"20A", RIG_CLAIMED_20A}, {"15A", RIG_CLAIMED_15A}, {"generator", RIG_CLAIMED_GENERATOR},
	{"inverter", RIG_CLAIMED_INVERTER}, {NULL, 0}};
static const rig_word CORD_WORDS[] = {{"15", 15}, {"20", 20}, {"30", 30}, {"50", 50}, {NULL, 0}};

const rig_word RIG_ORIGIN_WORDS[] = {{"measured", RIG_FROM_MEASURED},
	{"nameplate", RIG_FROM_NAMEPLATE}, {"profile", RIG_FROM_PROFILE},
	{"estimated", RIG_FROM_ESTIMATED}, {NULL, 0}};

const rig_figure_part RIG_FIGURE_PARTS[RIG_N_FIGURE_PARTS] = {{"low", "the least that it can be"},
	{"likely", "the best single number"}, {"high", "the most that it can be"},
	{"from", "where it comes from"}, {"note", "who says so, or how it was found"}};

/* Printed gauges, thickest first; the index is awg + 3. */
static const char *const GAUGES[] = {"4/0", "3/0", "2/0", "1/0", "1", "2", "3", "4", "5", "6", "7",
	"8", "9", "10", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22",
	"23", "24"};

static const rig_key COACH[] = {
	{.name = {"$schema"},
		.kind = RIG_KEY_TEXT,
		.offset = offsetof(rig_coach, schema),
		.high = RIG_MAX_TEXT,
		.what = "address of the JSON Schema, for editors",
		.example = "\"rigbudget-1.schema.json\""},
	{.name = {"format"},
		.also = "version",
		.kind = RIG_KEY_FORMAT,
		.required = true,
		.offset = offsetof(rig_coach, format),
		.high = RIG_MAX_TEXT,
		.what = "the format of the file and its version",
		.example = "\"" RIG_FORMAT "\""},
	TEXT(rig_coach, name, "what people call the coach", .required = true, .also = "title label",
		.example = "\"Blue Heron\""),
	NOTES(rig_coach),
	{.name = {"place"},
		.also = "site location where",
		.kind = RIG_KEY_OBJECT,
		.offset = offsetof(rig_coach, site),
		.object = RIG_OBJECT_PLACE,
		.what = "where the coach stands; the studies of the sun need it",
		.example = "{\"name\": \"Flagstaff\"}"},
	{.name = {"shore"},
		.also = "cord cord_a service",
		.kind = RIG_KEY_OBJECT,
		.required = true,
		.object = RIG_OBJECT_SHORE,
		.what = "the coach's shore-power cord",
		.example = "{\"cord_a\": 30}"},
	LIST(rig_coach, circuits, RIG_OBJECT_CIRCUIT, 500,
		"circuits of the AC panel and of the DC fuse panels", .also = "breakers fuses"),
	LIST(rig_coach, loads, RIG_OBJECT_LOAD, 2000, "what draws power",
		.also = "appliances devices"),
	LIST(rig_coach, banks, RIG_OBJECT_BANK, 500, "batteries", .also = "batteries battery bank"),
	{.name = {"solar"},
		.also = "arrays array panels panel pv",
		.kind = RIG_KEY_LIST,
		.offset = offsetof(rig_coach, arrays),
		.count_offset = offsetof(rig_coach, n_arrays),
		.object = RIG_OBJECT_ARRAY,
		.high = 500,
		.what = "solar panels, alike ones together"},
	OBJECT(rig_coach, inverter, RIG_OBJECT_INVERTER,
		"the inverter, which makes 120 V from a bank", .also = "inverters"),
	OBJECT(rig_coach, charger, RIG_OBJECT_CHARGER,
		"the converter or charger, which charges a bank from 120 V", .also = "converter"),
	OBJECT(rig_coach, dc_charger, RIG_OBJECT_DC_CHARGER,
		"the charger that the engine's alternator feeds", .also = "alternator"),
	OBJECT(rig_coach, generator, RIG_OBJECT_GENERATOR, "the generator", .also = "genset"),
	OBJECT(rig_coach, energy_management, RIG_OBJECT_ENERGY_MANAGEMENT,
		"the energy management, which drops loads to keep under a limit", .also = "ems"),
	OBJECT(rig_coach, body, RIG_OBJECT_BODY, "the coach as a box that is kept warm or cool",
		.also = "shell heating house"),
	LIST(rig_coach, together, RIG_OBJECT_TOGETHER, 500, "sets of loads that run at once",
		.also = "sets"),
	LIST(rig_coach, habits, RIG_OBJECT_HABIT, 500, "patterns of use", .also = "usage"),
	LIST(rig_coach, wires, RIG_OBJECT_WIRE, 500, "runs of wire", .also = "wiring cables"),
	LIST(rig_coach, readings, RIG_OBJECT_READING, 500,
		"what a meter said while some loads were on", .also = "measurements"),
	LIST(rig_coach, claims, RIG_OBJECT_CLAIM, 200,
		"what the seller, the brochure or the maker says of the coach, to be checked",
		.also = "claim brochure statements promises"),
};

static const rig_key PLACE[] = {
	REFERENCE(rig_site, name, RIG_TO_PLACE,
		"name of a place in the table (`rigbudget list places`); with a latitude and "
		"longitude it is only a label",
		.also = "city town", .example = "\"Flagstaff\""),
	FIGURE(rig_site, latitude_deg, DEGREES, -90, 90, "latitude, north positive",
		.also = "lat latitude", .example = "35.2"),
	FIGURE(rig_site, longitude_deg, DEGREES, -180, 180, "longitude, east positive",
		.also = "lon long longitude", .example = "-111.65"),
	FIGURE_US(rig_site, elevation_m, "elevation_ft", LENGTH, -450, 6000, "height above the sea",
		.also = "altitude height", .example = "2130",
		.absent = "that of the table's place"),
	NOTES(rig_site),
};

static const rig_key SHORE[] = {
	{.name = {"cord_a"},
		.also = "cord amps service",
		.kind = RIG_KEY_NUMBER,
		.required = true,
		.offset = offsetof(rig_coach, cord_a),
		.words = CORD_WORDS,
		.example = "30",
		.what = "rating of the cord, A; 50 is 120/240 V with two hots, the others 120 V"},
	FIGURE_US(rig_coach, cord_length_m, "cord_length_ft", LENGTH, 0.1, 100,
		"length of the coach's cord", .also = "length", .example = "9",
		FILL(7.6, 9.1, 11, "7.6 to 11 m (25 to 36 ft), common practice, no source")),
	REFERENCE(rig_coach, cord_awg, RIG_TO_CONDUCTOR, "gauge of the cord's copper, as printed",
		.also = "gauge awg", .example = "\"10\"",
		.absent = "6 for 50 A, 10 for 30 A, 12 for 20 A, 14 for 15 A"),
	FIGURE_US(rig_coach, adapter_length_m, "adapter_length_ft", LENGTH, 0.1, 100,
		"length of an adapter or extension cord between receptacle and cord, on whatever "
		"supply",
		.also = "extension extension_length", .example = "7.6",
		.absent = "0.3 to 0.6 m where an adapter is needed, else none"),
	REFERENCE(rig_coach, adapter_awg, RIG_TO_CONDUCTOR, "gauge of its copper, as printed",
		.also = "extension_awg", .example = "\"10\"",
		.absent = "as a cord for the smaller of its two ends"),
	FIGURE(rig_coach, pedestal_open_v, VOLTS, 90, 140,
		"hot to neutral at the pedestal with nothing drawn", .also = "volts pedestal_v",
		.example = "121", FILL(114, 120, 126, "114 to 126, range A of [ANSI-C841]")),
	FIGURE(rig_coach, source_ohm, OHMS, 0, 5,
		"resistance of hot and neutral together, up to the receptacle",
		.also = "source_resistance resistance impedance", .example = "0.12",
		.absent = "from loaded_v and loaded_a, else 0.03 to 0.25 about 0.1, common "
			  "practice, no source"),
	FIGURE(rig_coach, loaded_v, VOLTS, 60, 140,
		"volts at the receptacle while loaded_a is drawn on that hot; instead of "
		"source_ohm",
		.also = "loaded", .example = "118.5"),
	FIGURE(rig_coach, loaded_a, AMPS, 1, 100,
		"amps of a heater or the like while loaded_v was "
		"read",
		.example = "12.5"),
	{.name = {"notes"},
		.also = "note comment comments // #",
		.kind = RIG_KEY_TEXT,
		.offset = offsetof(rig_coach, cord_notes),
		.high = RIG_MAX_TEXT,
		.what = "anything worth keeping, for people only",
		.example = "\"A 30 A adapter is in the bay.\""},
};

static const rig_key CIRCUIT[] = {
	ID(rig_circuit, "what loads call the circuit"),
	NAME(rig_circuit),
	CHOICE(rig_circuit, supply, SUPPLY_WORDS, "AC panel or DC fuse panel", .also = "kind type",
		.example = "\"ac\"", .absent = "dc if a bank is named, else ac"),
	CHOICE(rig_circuit, leg, LEG_WORDS,
		"leg of a 120/240 V panel; both is a 240 V circuit (AC only)", .also = "phase hot",
		.example = "\"L1\""),
	{.name = {"breaker_a", "fuse_a"},
		.also = "breaker fuse amps rating",
		.kind = RIG_KEY_FIGURE,
		.offset = offsetof(rig_circuit, breaker_a),
		.quantity = &RATING,
		.low = 0.1,
		.high = 1000,
		.what = "rating of the breaker or fuse",
		.example = "20"},
	REFERENCE(rig_circuit, bank, RIG_TO_BANK, "bank that feeds it (DC only)",
		.example = "\"house\"", .absent = "on DC the only house bank, if there is one"),
	REFERENCE(rig_circuit, awg, RIG_TO_CONDUCTOR, "gauge of its copper, as printed",
		.also = "gauge wire conductor", .example = "\"12\""),
	YES_NO(rig_circuit, inverter,
		"the inverter feeds it when there is no shore power (AC only)",
		.also = "on_inverter"),
	NOTES(rig_circuit),
};

static const rig_key LOAD[] = {
	ID(rig_load, "what the other parts of the file call the load"),
	TEXT(rig_load, name, "what people call it", .also = "label title",
		.example = "\"Galley microwave\"", .absent = "the profile's label"),
	REFERENCE(rig_load, profile, RIG_TO_APPLIANCE,
		"appliance that fills what is left out (`rigbudget list appliances`)",
		.also = "type kind appliance", .example = "\"coffee_maker\""),
	WHOLE(rig_load, count, 1, 1000, "how many alike run together",
		.also = "number quantity qty", .example = "2", FILL(1, 1, 1, "1")),
	REFERENCE(rig_load, circuit, RIG_TO_CIRCUIT, "circuit that it is on", .also = "breaker",
		.example = "\"galley_1\""),
	CHOICE(rig_load, supply, SUPPLY_WORDS, "AC or DC", .example = "\"ac\"",
		.absent = "from the profile, else the circuit's, else ac"),
	CHOICE(rig_load, behaviour, BEHAVIOUR_WORDS, "how its draw answers to the voltage",
		.also = "behavior", .example = "\"resistive\"",
		.absent = "from the profile, else electronic"),
	FIGURE(rig_load, volts_v, VOLTS, 5, 250, "voltage that its rating holds for",
		.also = "volts voltage v", .example = "120",
		.absent = "from the profile, else 120 (240 on both legs) on AC, the bank's on DC"),
	FIGURE(rig_load, running_w, WATTS, 0, 20000, "real watts of one while it runs",
		.also = "watts w power watts_w wattage", .example = "1500",
		.absent = "from running_a, else from the profile"),
	FIGURE(rig_load, running_a, AMPS, 0, 200, "amps of one while it runs; instead of running_w",
		.also = "amps a current amps_a", .example = "12.5"),
	FIGURE(rig_load, power_factor, BARE, 0.1, 1, "real watts over volt-amperes (AC only)",
		.also = "pf", .example = "0.95",
		.absent = "from the profile, else by behaviour; 1 on DC"),
	FIGURE(rig_load, start_a, AMPS, 0, 1000, "locked-rotor or inrush amps of one",
		.also = "lra surge_a", .example = "68",
		.absent = "from the profile; for another compressor 3 to 8 times its running amps"),
	YES_NO(rig_load, soft_starter,
		"a soft starter limits the amps of its start; start_a is without it (AC only)",
		.also = "soft_start", .absent = "false"),
	FIGURE(rig_load, duty_frac, SHARE, 0, 1, "share of the hours of use in which it draws",
		.also = "duty", .example = "0.4",
		.absent = "from the profile, else 1; for another compressor 0.3 to 1"),
	FIGURE(rig_load, daily_use_h, HOURS_SPAN, 0, 24, "hours of use a day",
		.also = "hours hours_per_day h use_h", .example = "3",
		.absent = "24 if always on; else from the profile, at most the window; else the "
			  "window; else 0 to 4 with a remark"),
	FIGURE(rig_load, heat_w, WATTS, -20000, 40000,
		"heat that one brings indoors while it runs, negative if it takes heat out; "
		"without "
		"duty_frac and daily_use_h it then runs as the weather asks",
		.also = "burner_w cooling_w", .example = "7900", .absent = "from the profile"),
	HOURS(rig_load, from_hour, to_hour, "hour of the day at which its use may begin",
		"hour of the day at which its use ends; before from_hour: through midnight"),
	WHOLE(rig_load, priority, 1, 9, "1 is kept longest, 9 is dropped first", .example = "3",
		.absent = "from the profile, else 5"),
	YES_NO(rig_load, continuous, "can run three hours or more at a stretch",
		.absent = "from the profile, else true from 3 h a day on"),
	YES_NO(rig_load, always_on, "draws day and night without anybody switching it on",
		.also = "standby phantom", .absent = "from the profile, else false"),
	YES_NO(rig_load, inverter, "used away from hookups, through the inverter (AC only)",
		.also = "on_inverter",
		.absent = "as its circuit says; else true if the inverter can carry it and energy "
			  "managers do not usually drop it"),
	NOTES(rig_load),
};

static const rig_key BANK[] = {
	ID(rig_bank, "what the other parts of the file call the bank"),
	NAME(rig_bank),
	CHOICE(rig_bank, role, ROLE_WORDS, "feeds the house or starts the engine",
		.example = "\"house\"", .absent = "chassis for the chemistry starting, else house"),
	REFERENCE(rig_bank, chemistry, RIG_TO_CHEMISTRY,
		"kind of battery (`rigbudget list batteries`)", .required = true,
		.also = "type kind", .example = "\"agm\""),
	FIGURE(rig_bank, nominal_v, VOLTS, 5, 60, "nominal voltage of the bank",
		.also = "volts volts_v voltage v", .example = "12",
		.absent = "that of a 12 V battery of its chemistry; needed with series"),
	FIGURE(rig_bank, capacity_ah, AMP_HOURS, 0.5, 5000,
		"rated capacity of one battery at rating_h and 25 C",
		.also = "ah amp_hours capacity", .example = "100"),
	FIGURE(rig_bank, capacity_wh, WATT_HOURS, 1, 500000,
		"capacity of the whole bank; instead of capacity_ah", .also = "wh",
		.example = "1280"),
	FIGURE(rig_bank, rating_h, HOURS_SPAN, 1, 200, "hours that the rating in Ah holds for",
		.example = "20", FILL(20, 20, 20, "20, common practice, no source")),
	FIGURE(rig_bank, reserve_minutes, MINUTES, 1, 2000,
		"reserve capacity of one battery at 25 A; instead of capacity_ah",
		.also = "reserve rc reserve_capacity", .example = "160"),
	WHOLE(rig_bank, series, 1, 100, "batteries in series in a string", .example = "2",
		FILL(1, 1, 1, "1")),
	WHOLE(rig_bank, parallel, 1, 100, "strings in parallel", .also = "count", .example = "2",
		FILL(1, 1, 1, "1")),
	FIGURE(rig_bank, age_years, YEARS, 0, 50, "age", .also = "age years", .example = "4",
		.absent = "unknown: down to 80 % of the rating may be left"),
	FIGURE(rig_bank, usable_frac, SHARE, 0.01, 1, "share of the capacity that is used",
		.also = "usable depth_of_discharge dod", .example = "0.5",
		.absent = "from the chemistry"),
	FIGURE(rig_bank, reconnect_soc_frac, SHARE, 0, 1,
		"charge at which its low-voltage switch lets loads on again", .also = "reconnect",
		.example = "0.4", .absent = "loads come back with the first energy"),
	FIGURE(rig_bank, charge_efficiency_frac, SHARE, 0.3, 1,
		"energy stored over energy at the terminals", .also = "efficiency",
		.example = "0.85", .absent = "from the chemistry"),
	FIGURE(rig_bank, self_discharge_frac_month, SHARE, 0, 1,
		"share of the capacity lost in a month at rest at 25 C", .also = "self_discharge",
		.example = "0.05", .absent = "from the chemistry"),
	FIGURE(rig_bank, cold_cranking_a, AMPS, 10, 5000,
		"cold-cranking amps on the label of one battery", .also = "cca cold_cranking",
		.example = "800"),
	FIGURE(rig_bank, short_circuit_a, AMPS, 10, 100000,
		"short-circuit current of one battery, from its maker", .also = "isc short_circuit",
		.example = "2400", .absent = "from the cold-cranking amps, else by kind and Ah"),
	FIGURE(rig_bank, charge_limit_a, AMPS, 0.1, 5000, "largest charging current of the bank",
		.example = "50", .absent = "from the chemistry and the capacity"),
	FIGURE(rig_bank, peukert_exponent, BARE, 1, 2, "Peukert's exponent", .also = "peukert",
		.example = "1.2", .absent = "from the chemistry"),
	FIGURE(rig_bank, kinetic_c_frac, SHARE, 0.01, 1,
		"two-well model: share of the available well", .example = "0.4",
		.absent = "from the chemistry"),
	FIGURE(rig_bank, kinetic_k_per_h, PER_HOUR, 0.0001, 1000, "two-well model: rate k'",
		.example = "1.2", .absent = "from the chemistry"),
	FIGURE_US(rig_bank, temp_c, "temp_f", TEMPERATURE, -40, 70, "temperature of the battery",
		.also = "temp temperature", .example = "15", .absent = "outdoor temperature"),
	NOTES(rig_bank),
};

static const rig_key ARRAY[] = {
	ID(rig_array, "what people call the panels"),
	NAME(rig_array),
	REFERENCE(rig_array, bank, RIG_TO_BANK, "bank that they charge", .also = "battery",
		.example = "\"house\"", .absent = "the only bank; with several it must be said"),
	WHOLE(rig_array, count, 1, 1000, "panels alike", .also = "number quantity panels",
		.example = "2", FILL(1, 1, 1, "1")),
	FIGURE(rig_array, watts_w, WATTS, 0, 2000, "nameplate watts of one panel",
		.also = "watts w power", .example = "100",
		.absent = "from the size and the kind of panel"),
	{.name = {"length_m", "length_in", "length_ft"},
		.also = "length",
		.kind = RIG_KEY_FIGURE,
		.offset = offsetof(rig_array, length_m),
		.quantity = &SIZE,
		.low = 0.02,
		.high = 4,
		.what = "length of one panel's frame, where no nameplate can be read",
		.example = "1.2"},
	{.name = {"width_m", "width_in", "width_ft"},
		.also = "width",
		.kind = RIG_KEY_FIGURE,
		.offset = offsetof(rig_array, width_m),
		.quantity = &SIZE,
		.low = 0.02,
		.high = 4,
		.what = "width of one panel's frame",
		.example = "0.54"},
	REFERENCE(rig_array, panel, RIG_TO_PANEL_KIND, "kind of panel (`rigbudget list panels`)",
		.also = "kind type", .example = "\"crystalline_new\"",
		.absent = "crystalline, of unknown age"),
	FIGURE(rig_array, tilt_deg, DEGREES, 0, 90, "tilt, 0 is flat on the roof", .also = "tilt",
		.example = "20", FILL(0, 0, 0, "0, common practice, no source")),
	FIGURE(rig_array, heading_deg, DEGREES, 0, 360,
		"where tilted panels face: 0 north, 90 east, 180 south", .also = "azimuth heading",
		.example = "180", FILL(180, 180, 180, "180, with a remark if tilted")),
	CHOICE(rig_array, controller, CONTROLLER_WORDS,
		"charge controller: plain (pwm), tracker (mppt), or none that loses anything "
		"(direct)",
		.example = "\"mppt\"", .absent = "pwm, the weaker one, with a remark"),
	FIGURE(rig_array, controller_limit_a, AMPS, 0.1, 500, "largest output of the controller",
		.example = "20"),
	FIGURE(rig_array, controller_efficiency_frac, SHARE, 0.5, 1,
		"output over input of a tracker", .example = "0.96",
		.absent = "0.93 to 0.98 for mppt, else none"),
	FIGURE(rig_array, vmp_v, VOLTS, 1, 200, "voltage of one panel at its best point",
		.also = "vmp", .example = "18",
		.absent = "from watts and imp_a, else a panel for the bank's voltage"),
	FIGURE(rig_array, voc_v, VOLTS, 1, 250, "open-circuit voltage of one panel", .also = "voc",
		.example = "22", .absent = "1.18 to 1.25 times vmp_v"),
	FIGURE(rig_array, imp_a, AMPS, 0, 50, "current of one panel at its best point",
		.also = "imp", .example = "5.6", .absent = "from watts and vmp_v"),
	FIGURE(rig_array, isc_a, AMPS, 0, 60, "short-circuit current of one panel", .also = "isc",
		.example = "6", .absent = "1.05 to 1.1 times imp_a"),
	FIGURE_US(rig_array, noct_c, "noct_f", TEMPERATURE, 20, 80,
		"cell temperature at 800 W/m2 and 20 C air", .also = "noct", .example = "45",
		.absent = "from the kind of panel"),
	FIGURE(rig_array, roof_rise_k, KELVIN, 0, 40, "added heat of cells flat on a roof",
		.example = "5", .absent = "from the kind of panel; 0 if tilted"),
	FIGURE(rig_array, temp_coefficient_per_k, PER_KELVIN, -0.02, 0,
		"change of power by kelvin of cell temperature", .example = "-0.004",
		.absent = "from the kind of panel"),
	FIGURE(rig_array, shade_frac, SHARE, 0, 1, "light lost to shade", .also = "shade",
		.example = "0.1", FILL(0, 0.05, 0.2, "0 to 0.2, common practice, no source")),
	FIGURE(rig_array, losses_frac, SHARE, 0, 1, "lost to dirt, wire and mismatch together",
		.also = "losses loss", .example = "0.1",
		FILL(0.04, 0.08, 0.15, "0.04 to 0.15, common practice, no source")),
	NOTES(rig_array),
};

static const rig_key INVERTER[] = {
	NAME(rig_inverter),
	REFERENCE(rig_inverter, bank, RIG_TO_BANK, "bank that feeds it", .also = "battery",
		.example = "\"house\"", .absent = "the only house bank, if there is one"),
	FIGURE(rig_inverter, watts_w, WATTS, 10, 50000, "rated output", .required = true,
		.also = "watts w power", .example = "2000"),
	FIGURE(rig_inverter, surge_w, WATTS, 10, 100000, "output for the start of a motor",
		.also = "surge peak_w", .example = "4000", .absent = "1.2 to 2 times watts_w"),
	FIGURE(rig_inverter, idle_w, WATTS, 0, 1000, "draw while on with nothing to feed",
		.also = "idle standby_w no_load_w", .example = "20",
		.absent = "0.005 to 0.02 of watts_w"),
	FIGURE(rig_inverter, loss_fixed_frac, SHARE, 0, 0.5,
		"loss polynomial k0, parts of watts_w; not beside idle_w", .example = "0.01",
		.absent = "idle_w over watts_w"),
	FIGURE(rig_inverter, loss_linear_frac, SHARE, 0, 0.5, "loss polynomial k1",
		.example = "0.025",
		FILL(0.01, 0.025, 0.04, "0.01 to 0.04 about [SCHMIDT-1996]'s 0.025")),
	FIGURE(rig_inverter, loss_square_frac, SHARE, 0, 0.5, "loss polynomial k2",
		.example = "0.05",
		FILL(0.03, 0.05, 0.08, "0.03 to 0.08 about [SCHMIDT-1996]'s 0.05")),
	YES_NO(rig_inverter, always_on, "stays on day and night, so that idle_w counts for 24 h",
		.absent = "true, with a remark"),
	NOTES(rig_inverter),
};

static const rig_key CHARGER[] = {
	NAME(rig_charger),
	REFERENCE(rig_charger, bank, RIG_TO_BANK, "bank that it charges", .also = "battery",
		.example = "\"house\"", .absent = "the only house bank, if there is one"),
	REFERENCE(rig_charger, circuit, RIG_TO_CIRCUIT, "AC circuit that it is on",
		.example = "\"converter\""),
	FIGURE(rig_charger, amps_a, AMPS, 0.1, 500, "rated DC output", .required = true,
		.also = "amps a output_a", .example = "55"),
	FIGURE(rig_charger, efficiency_frac, SHARE, 0.3, 1, "DC watts over AC watts",
		.also = "efficiency", .example = "0.85",
		FILL(0.75, 0.85, 0.92, "0.75 to 0.92, common practice, no source")),
	FIGURE(rig_charger, power_factor, BARE, 0.1, 1, "real watts over volt-amperes",
		.also = "pf", .example = "0.8",
		FILL(0.65, 0.8, 1, "0.65 to 1, common practice, no source")),
	NOTES(rig_charger),
};

static const rig_key DC_CHARGER[] = {
	NAME(rig_dc_charger),
	REFERENCE(rig_dc_charger, bank, RIG_TO_BANK, "bank that it charges", .also = "battery",
		.example = "\"house\"", .absent = "the only house bank, if there is one"),
	FIGURE(rig_dc_charger, amps_a, AMPS, 0.1, 500, "DC output", .required = true,
		.also = "amps a output_a", .example = "30"),
	FIGURE(rig_dc_charger, drive_h, HOURS_SPAN, 0, 24,
		"hours of driving on a day that one drives", .also = "drive hours", .example = "3",
		FILL(1, 3, 6, "1 to 6, common practice, no source")),
	NOTES(rig_dc_charger),
};

static const rig_key GENERATOR[] = {
	NAME(rig_generator),
	CHOICE(rig_generator, fuel, FUEL_WORDS, "what it burns", .example = "\"propane\"",
		.absent = "unknown; its use of fuel is then not worked out"),
	FIGURE(rig_generator, watts_w, WATTS, 100, 50000, "rated output at sea level",
		.required = true, .also = "watts w power", .example = "5500"),
	FIGURE(rig_generator, surge_w, WATTS, 100, 100000, "output for the start of a motor",
		.also = "surge peak_w", .example = "6500", .absent = "1 to 1.2 times watts_w"),
	YES_NO(rig_generator, two_hots,
		"two outputs, one for each leg, each of half its watts; else one output for all",
		.also = "split_phase", .absent = "true with a 50 A cord, else false"),
	YES_NO(rig_generator, auto_start, "starts by itself", .also = "autostart ags",
		.absent = "false"),
	FIGURE(rig_generator, start_soc_frac, SHARE, 0, 1,
		"starts when the house bank's charge falls to this", .example = "0.5",
		FILL(0.3, 0.4, 0.5,
			"0.3 to 0.5, common practice, no source; with auto_start only")),
	FIGURE(rig_generator, stop_soc_frac, SHARE, 0, 1, "stops when the charge is back at this",
		.example = "0.9",
		FILL(0.85, 0.9, 1, "0.85 to 1, common practice, no source; with auto_start only")),
	FIGURE(rig_generator, start_v, VOLTS, 5, 60, "starts when the house bank falls to this",
		.example = "12.1"),
	FIGURE(rig_generator, start_load_w, WATTS, 50, 50000,
		"starts when what runs on the inverter takes this, with auto_start",
		.also = "load_start_w", .example = "1500", .absent = "it does not start by load"),
	FIGURE(rig_generator, start_load_minutes, MINUTES, 0, 60,
		"for so long; it stops when less than start_load_w runs for so long",
		.also = "load_start_minutes", .example = "2",
		FILL(1, 2, 5, "1 to 5, common practice, no source")),
	FIGURE(rig_generator, minimum_run_minutes, MINUTES, 0, 1440, "shortest run",
		.example = "60", FILL(60, 60, 120, "60 to 120, common practice, no source")),
	HOURS(rig_generator, quiet_from_hour, quiet_to_hour,
		"hour of the day at which quiet hours begin",
		"hour of the day at which quiet hours end"),
	FIGURE_US(rig_generator, fuel_idle_l_h, "fuel_idle_gal_h", FUEL_RATE, 0, 50,
		"fuel without load", .example = "0.9", .absent = "by fuel and watts_w"),
	FIGURE_US(rig_generator, fuel_full_l_h, "fuel_full_gal_h", FUEL_RATE, 0, 100,
		"fuel at full load", .example = "3.5", .absent = "by fuel and watts_w"),
	NOTES(rig_generator),
};

static const rig_key ENERGY_MANAGEMENT[] = {
	NAME(rig_energy_management),
	FIGURE(rig_energy_management, limit_a, AMPS, 1, 200,
		"amps that it defends on one 120 V hot", .also = "limit amps", .example = "30",
		.absent = "the rating of the supply"),
	FIGURE(rig_energy_management, sensing_delay_s, SECONDS, 0, 600,
		"time over the limit before it drops a load", .example = "2",
		FILL(0.5, 2, 10, "0.5 to 10, common practice, no source")),
	FIGURE(rig_energy_management, restore_delay_s, SECONDS, 0, 3600,
		"time before it brings a load back", .example = "120",
		FILL(60, 120, 180, "60 to 180, common practice, no source")),
	FIGURE(rig_energy_management, minimum_off_s, SECONDS, 0, 3600,
		"shortest time off for a compressor", .example = "180",
		FILL(120, 180, 180, "120 to 180, common practice, no source")),
	FIGURE(rig_energy_management, most_drops, BARE, 1, 16,
		"a load that it has dropped so many times within reset_minutes stays off for the "
		"rest of them",
		.also = "drops maximum_drops", .example = "6",
		FILL(6, 6, 6, "6, common practice, no source")),
	FIGURE(rig_energy_management, reset_minutes, MINUTES, 1, 1440,
		"time over which drops are counted", .also = "reset lockout_minutes",
		.example = "60", FILL(60, 60, 60, "60, common practice, no source")),
	REFERENCES(rig_energy_management, order, RIG_TO_LOAD, "loads that it drops, first to last",
		.also = "shed", .example = "[\"water_heater\", \"roof_ac\"]",
		.absent = "by priority"),
	NOTES(rig_energy_management),
};

static const rig_key BODY[] = {
	FIGURE_US(rig_body, length_m, "length_ft", LENGTH, 2, 20,
		"length of the part that is lived in", .also = "length", .example = "9",
		FILL(6, 8, 11, "6 to 11 m, common practice, no source")),
	FIGURE(rig_body, loss_w_per_k, WATTS_PER_KELVIN, 20, 1000,
		"heat lost for each kelvin that it is warmer inside", .also = "ua_w_per_k ua",
		.example = "190", .absent = "by length_m, 0.6 to 1.4 times the usual"),
	FIGURE_US(rig_body, heat_to_c, "heat_to_f", TEMPERATURE, 0, 30, "thermostat of the furnace",
		.also = "heat_c heat_f", .example = "19",
		FILL(16, 19, 22, "16 to 22 C, common practice, no source")),
	FIGURE_US(rig_body, cool_to_c, "cool_to_f", TEMPERATURE, 15, 40,
		"thermostat of the air conditioner", .also = "cool_c cool_f", .example = "25",
		FILL(22, 25, 27, "22 to 27 C, common practice, no source")),
	FIGURE(rig_body, gains_w, WATTS, 0, 5000, "heat of people and appliances inside",
		.also = "gains", .example = "250",
		FILL(100, 250, 500, "100 to 500 W, common practice, no source")),
	NOTES(rig_body),
};

static const rig_key TOGETHER[] = {
	TEXT(rig_together, name, "what people call the set", .required = true, .also = "id label",
		.example = "\"Supper\""),
	REFERENCES(rig_together, loads, RIG_TO_LOAD, "loads that run at once", .required = true,
		.low = 1, .example = "[\"microwave\", \"water_heater\"]"),
	NOTES(rig_together),
};

static const rig_key HABIT[] = {
	TEXT(rig_habit, name, "what people call the pattern", .required = true, .also = "id label",
		.example = "\"A quiet day\""),
	YES_NO(rig_habit, only, "loads that it does not name, and that are not always on, stay off",
		.absent = "false: they keep their own use"),
	LIST(rig_habit, use, RIG_OBJECT_USE, 2000, "use of single loads", .also = "loads uses"),
	NOTES(rig_habit),
};

static const rig_key USE[] = {
	REFERENCE(rig_use, load, RIG_TO_LOAD, "the load", .required = true, .also = "id",
		.example = "\"furnace\""),
	FIGURE(rig_use, daily_use_h, HOURS_SPAN, 0, 24, "hours of use a day",
		.also = "hours hours_per_day h", .example = "3", .absent = "the load's own"),
	HOURS(rig_use, from_hour, to_hour, "hour of the day at which its use may begin",
		"hour of the day at which its use ends; before from_hour: through midnight"),
	NOTES(rig_use),
};

static const rig_key WIRE[] = {
	ID(rig_wire, "what people call the run"),
	NAME(rig_wire),
	REFERENCE(rig_wire, circuit, RIG_TO_CIRCUIT, "circuit that it belongs to",
		.example = "\"galley_1\""),
	REFERENCE(rig_wire, bank, RIG_TO_BANK,
		"bank at whose terminal it starts (DC without a circuit only)",
		.example = "\"house\"", .absent = "it starts at a panel or at a load"),
	CHOICE(rig_wire, feeds, FEEDS_WORDS,
		"what it leads to from its bank: the fuse panel, or the part of the coach of that "
		"name; for the one-line diagram",
		.also = "to leads_to", .example = "\"inverter\"",
		.absent = "it is drawn with an open end"),
	REFERENCE(rig_wire, awg, RIG_TO_CONDUCTOR, "gauge of its copper, as printed",
		.also = "gauge", .example = "\"12\"",
		.absent = "its circuit's, else one is proposed"),
	FIGURE_US(rig_wire, length_m, "length_ft", LENGTH, 0.01, 200, "length, one way",
		.also = "length", .example = "6"),
	FIGURE(rig_wire, amps_a, AMPS, 0.01, 2000, "amps that it carries at most",
		.also = "amps a current load_a", .example = "40",
		.absent = "those of its circuit's loads, else the rating of its fuse"),
	YES_NO(rig_wire, continuous, "amps_a can flow for three hours or more",
		.absent = "false; the circuit's loads say it for themselves"),
	FIGURE(rig_wire, volts_v, VOLTS, 5, 250,
		"nominal volts (without a circuit or bank); above 60 it counts as AC",
		.also = "volts voltage v", .example = "12",
		.absent = "the circuit's or bank's, else 12"),
	FIGURE(rig_wire, power_factor, BARE, 0.1, 1, "real watts over volt-amperes of amps_a",
		.also = "pf", .example = "0.95", .absent = "1"),
	{.name = {"fuse_a", "breaker_a"},
		.also = "fuse breaker rating",
		.kind = RIG_KEY_FIGURE,
		.offset = offsetof(rig_wire, fuse_a),
		.quantity = &RATING,
		.low = 0.1,
		.high = 2000,
		.what = "rating of the fuse or breaker that protects it",
		.example = "60",
		.absent = "its circuit's, else one is proposed"},
	FIGURE(rig_wire, interrupt_a, AMPS, 10, 500000,
		"largest current that this fuse or breaker is made to break",
		.also = "interrupting_a aic interrupt_rating", .example = "20000"),
	{.name = {"fuse_distance_m", "fuse_distance_in", "fuse_distance_ft"},
		.also = "fuse_distance distance",
		.kind = RIG_KEY_FIGURE,
		.offset = offsetof(rig_wire, fuse_distance_m),
		.quantity = &SIZE,
		.low = 0,
		.high = 50,
		.what = "wire between the battery's terminal and this fuse (beside bank)",
		.example = "0.15"},
	FIGURE(rig_wire, drop_frac, SHARE, 0.001, 0.5,
		"largest share of the volts that may be lost along it", .also = "drop",
		.example = "0.03", .absent = "0.03"),
	FIGURE_US(rig_wire, insulation_c, "insulation_f", TEMPERATURE, 60, 200,
		"rated temperature of the insulation", .also = "insulation", .example = "75",
		.absent = "60, the lowest class"),
	FIGURE_US(rig_wire, terminal_c, "terminal_f", TEMPERATURE, 60, 200,
		"temperature that the terminals at its ends are marked for",
		.also = "terminal terminals", .example = "75",
		.absent = "on AC 60, above 100 A 75; on DC not looked at"),
	FIGURE_US(rig_wire, ambient_c, "ambient_f", TEMPERATURE, -40, 90,
		"temperature of the air around it", .also = "ambient", .example = "30",
		.absent = "30"),
	WHOLE(rig_wire, bundle, 1, 100, "current-carrying conductors together", .example = "3",
		.absent = "2, its own pair"),
	NOTES(rig_wire),
};

static const rig_key READING[] = {
	TEXT(rig_reading, name, "what people call the reading", .also = "id label",
		.example = "\"All off but the refrigerator\""),
	REFERENCES(rig_reading, on, RIG_TO_LOAD, "loads that were on; an empty list if none",
		.required = true, .also = "loads", .example = "[\"refrigerator\"]"),
	REFERENCES(rig_reading, breakers, RIG_TO_CIRCUIT,
		"circuits whose loads were all on, besides those of on", .also = "circuits",
		.example = "[\"galley_1\"]"),
	YES_NO(rig_reading, charger, "the coach's charger or converter was on",
		.absent = "true on shore power, if the coach has one"),
	FIGURE(rig_reading, leg1_a, AMPS, 0, 200, "amps of L1", .also = "amps l1_a amps_a",
		.example = "8.2"),
	FIGURE(rig_reading, leg2_a, AMPS, 0, 200, "amps of L2", .also = "l2_a", .example = "3.1"),
	FIGURE(rig_reading, volts_v, VOLTS, 5, 260, "volts while it was read",
		.also = "volts voltage", .example = "118"),
	FIGURE(rig_reading, watts_w, WATTS, 0, 30000, "watts of the whole supply",
		.also = "watts w", .example = "970"),
	REFERENCE(rig_reading, circuit, RIG_TO_CIRCUIT, "circuit of circuit_a", .also = "breaker",
		.example = "\"galley_1\""),
	FIGURE(rig_reading, circuit_a, AMPS, 0, 400, "amps of one circuit alone", .example = "9.8"),
	FIGURE(rig_reading, bank_a, AMPS, -1000, 1000,
		"amps at the bank, negative while it discharges", .example = "-4.5"),
	REFERENCE(rig_reading, bank, RIG_TO_BANK, "bank of bank_a", .example = "\"house\"",
		.absent = "the only house bank, if there is one"),
	CHOICE(rig_reading, charging, CHARGING_WORDS, "what charged the bank meanwhile",
		.also = "source", .example = "\"charger\"",
		.absent = "nothing: the bank was being emptied"),
	FIGURE(rig_reading, duration_h, HOURS_SPAN, 0.01, 1000,
		"length of a discharge whose mean is bank_a", .also = "hours duration",
		.example = "5"),
	FIGURE(rig_reading, rest_before_v, VOLTS, 5, 60,
		"volts of the bank at rest for four hours before that discharge",
		.example = "12.7"),
	FIGURE(rig_reading, rest_after_v, VOLTS, 5, 60,
		"volts of the bank at rest for four hours after it", .example = "12.3"),
	YES_NO(rig_reading, to_empty, "that discharge went from full to empty", .also = "empty",
		.absent = "false"),
	REFERENCE(rig_reading, array, RIG_TO_ARRAY, "solar array of array_a", .example = "\"roof\"",
		.absent = "the only one, if there is one"),
	FIGURE(rig_reading, array_a, AMPS, 0, 500,
		"amps out of the solar controller, into the bank", .also = "solar_a panel_a",
		.example = "6.4"),
	WHOLE(rig_reading, month, 1, 12, "month of the year, 1 is January", .example = "6"),
	WHOLE(rig_reading, day, 1, 31, "day of the month", .example = "21"),
	FIGURE(rig_reading, hour_h, HOURS_SPAN, 0, 24, "time by the clock, 13.5 is half past one",
		.also = "hour time", .example = "13.5"),
	YES_NO(rig_reading, daylight_saving, "that clock is an hour ahead of standard time",
		.also = "dst", .absent = "false, with a range of an hour from March to November"),
	CHOICE(rig_reading, sky, SKY_WORDS,
		"clear: the sun casts sharp shadows; hazy: faint ones; "
		"cloudy: none",
		.example = "\"clear\"", .absent = "anything from clear to cloudy"),
	NOTES(rig_reading),
};

static const rig_key CLAIM[] = {
	TEXT(rig_claim, text, "the words as they were said or printed", .required = true,
		.also = "words name claim says", .example = "\"Runs the refrigerator on solar\""),
	TEXT(rig_claim, who, "who says so", .also = "by from said_by",
		.example = "\"The brochure\""),
	CHOICE(rig_claim, source, POWER_WORDS,
		"what is said to carry it: solar, or the battery alone", .also = "power on",
		.example = "\"solar\"", .absent = "beside stay_days: all that is on board"),
	CHOICE(rig_claim, supply, CLAIMED_WORDS,
		"supply on which the loads are said to run at once", .also = "shore pedestal",
		.example = "\"30A\""),
	REFERENCES(rig_claim, loads, RIG_TO_LOAD, "loads that it is said of", .low = 1,
		.also = "appliances load", .example = "[\"refrigerator\"]",
		.absent =
			"beside supply everything on AC; beside stay_days and solar the daily use"),
	FIGURE(rig_claim, stay_days, DAYS_SPAN, 0.25, 60, "days without hookups", .also = "days",
		.example = "4"),
	FIGURE(rig_claim, runs_h, HOURS_SPAN, 0.1, 1000,
		"hours that the loads are said to run on the battery alone", .also = "hours",
		.example = "8"),
	FIGURE(rig_claim, panel_w, WATTS, 1, 20000, "nameplate watts of the solar panels",
		.also = "watts_w watts", .example = "400"),
	FIGURE(rig_claim, usable_wh, WATT_HOURS, 1, 1000000,
		"energy that may be taken out of the full bank", .also = "wh usable",
		.example = "2400"),
	FIGURE(rig_claim, capacity_ah, AMP_HOURS, 1, 20000, "amp-hours of the bank",
		.also = "ah amp_hours", .example = "400"),
	YES_NO(rig_claim, storage, "the solar keeps the battery charged in storage",
		.also = "maintains maintain"),
	REFERENCE(rig_claim, bank, RIG_TO_BANK, "bank that it is said of", .also = "battery",
		.example = "\"house\"",
		.absent = "the house bank; beside storage the bank that the "
			  "solar charges"),
	REFERENCE(rig_claim, array, RIG_TO_ARRAY, "solar array that it is said of",
		.also = "solar panel", .example = "\"roof\"", .absent = "all of them together"),
	WHOLE(rig_claim, from_month, 1, 12, "first month of which it is said, 1 is January",
		.example = "5", .absent = "all year"),
	WHOLE(rig_claim, to_month, 1, 12,
		"last month of which it is said; before from_month: through New Year",
		.example = "9", .absent = "all year"),
	NOTES(rig_claim),
};

#define KEYS(rows) COUNT_OF(rows), rows
static const rig_object_keys OBJECTS[RIG_N_OBJECTS] = {
	[RIG_OBJECT_COACH] = {"coach", "One coach: the whole file", sizeof(rig_coach), false,
		KEYS(COACH)},
	[RIG_OBJECT_PLACE] = {"place",
		"Where the coach stands: a name from the table, or a point on the map (the nearest "
		"place of the table then gives the weather)",
		sizeof(rig_site), false, KEYS(PLACE)},
	[RIG_OBJECT_SHORE] = {"shore", "The shore-power cord", sizeof(rig_coach), false,
		KEYS(SHORE)},
	[RIG_OBJECT_CIRCUIT] = {"circuit", "A breaker of the AC panel or a fuse of a DC panel",
		sizeof(rig_circuit), false, KEYS(CIRCUIT)},
	[RIG_OBJECT_LOAD] = {"load",
		"Something that draws power, by profile, by its own figures, or by both: what the "
		"file "
		"says wins over the profile",
		sizeof(rig_load), false, KEYS(LOAD)},
	[RIG_OBJECT_BANK] = {"bank", "A battery, or batteries wired as one", sizeof(rig_bank),
		false, KEYS(BANK)},
	[RIG_OBJECT_ARRAY] = {"array",
		"Solar panels alike on one controller, by nameplate or by the size of the frame",
		sizeof(rig_array), false, KEYS(ARRAY)},
	[RIG_OBJECT_INVERTER] = {"inverter", "The inverter", sizeof(rig_inverter), true,
		KEYS(INVERTER)},
	[RIG_OBJECT_CHARGER] = {"charger", "The converter or charger on 120 V", sizeof(rig_charger),
		true, KEYS(CHARGER)},
	[RIG_OBJECT_DC_CHARGER] = {"dc_charger", "The charger on the alternator",
		sizeof(rig_dc_charger), true, KEYS(DC_CHARGER)},
	[RIG_OBJECT_GENERATOR] = {"generator", "The generator", sizeof(rig_generator), true,
		KEYS(GENERATOR)},
	[RIG_OBJECT_ENERGY_MANAGEMENT] = {"energy_management", "The energy management",
		sizeof(rig_energy_management), true, KEYS(ENERGY_MANAGEMENT)},
	[RIG_OBJECT_BODY] = {"body", "The coach as a box that is kept warm or cool",
		sizeof(rig_body), true, KEYS(BODY)},
	[RIG_OBJECT_TOGETHER] = {"set", "Loads that run at once", sizeof(rig_together), false,
		KEYS(TOGETHER)},
	[RIG_OBJECT_HABIT] = {"habit",
		"A pattern of use; loads that it does not name keep their own use, unless only is "
		"true",
		sizeof(rig_habit), false, KEYS(HABIT)},
	[RIG_OBJECT_USE] = {"use", "The use of one load under a habit", sizeof(rig_use), false,
		KEYS(USE)},
	[RIG_OBJECT_WIRE] = {"wire", "A run of wire, out and back", sizeof(rig_wire), false,
		KEYS(WIRE)},
	[RIG_OBJECT_READING] = {"reading", "What a meter said while some loads were on",
		sizeof(rig_reading), false, KEYS(READING)},
	[RIG_OBJECT_CLAIM] = {"claim",
		"What is said of the coach: its words, and what they say in one of supply, source "
		"solar, stay_days, runs_h, panel_w, usable_wh, capacity_ah or storage",
		sizeof(rig_claim), false, KEYS(CLAIM)},
};

const rig_object_keys *rig_keys_of(rig_object object)
{
	assert(object < RIG_N_ALL_OBJECTS);
	return object < RIG_N_OBJECTS ? &OBJECTS[object] : rig_keys_of_parts(object);
}

int rig_key_find(const rig_object_keys *keys, const char *name, unsigned *unit)
{
	for (size_t i = 0; i < keys->n_keys; i++) {
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL; u++) {
			if (strcmp(keys->keys[i].name[u], name) == 0) {
				*unit = u;
				return (int)i;
			}
		}
	}
	return -1;
}

double rig_key_to_si(const rig_key *key, unsigned unit, double value)
{
	const rig_unit *of = &key->quantity->unit[unit];
	if (unit == 0)
		return value;
	return (value - of->zero) * of->multiply / of->divide;
}

double rig_key_from_si(const rig_key *key, unsigned unit, double si)
{
	const rig_unit *of = &key->quantity->unit[unit];
	if (unit == 0)
		return si;
	return si * of->divide / of->multiply + of->zero;
}

const char *rig_key_unit(const rig_key *key, unsigned unit)
{
	return key->quantity == NULL ? "" : key->quantity->unit[unit].word;
}

/* Whether the list of words, separated by blanks, has this one; case ignored. */
static bool lists_word(const char *list, const char *word)
{
	const size_t length = strlen(word);
	for (const char *at = list; at != NULL && *at != '\0';) {
		const size_t span = strcspn(at, " ");
		size_t same = 0;
		while (same < span && same < length &&
			tolower((unsigned char)at[same]) == tolower((unsigned char)word[same]))
			same++;
		if (same == span && same == length)
			return true;
		at += span + strspn(at + span, " ");
	}
	return false;
}

/* Whether name is word and a unit, as running_w is of "running". */
static bool is_stem(const char *word, const char *name)
{
	const size_t length = strlen(word);
	return length >= 3 && strncmp(word, name, length) == 0 && name[length] == '_' &&
	       strchr(name + length + 1, '_') == NULL;
}

/* The key that the trade or the stem of the word points to, or -1. */
static int meant_by_word(const rig_object_keys *keys, const char *wrong)
{
	for (size_t i = 0; i < keys->n_keys; i++)
		if (lists_word(keys->keys[i].also, wrong) || is_stem(wrong, keys->keys[i].name[0]))
			return (int)i;
	return -1;
}

enum { MAX_NAMES = 64 * RIG_N_KEY_NAMES };

typedef struct {
	size_t n;
	const char *name[MAX_NAMES];
} name_list;

static const char *name_at(const void *context, size_t i)
{
	return ((const name_list *)context)->name[i];
}

/* The name that the keyboard may have slipped on, or NULL. */
static const char *meant_by_letters(const rig_object_keys *keys, const char *wrong)
{
	name_list list = {.n = 0};
	for (size_t i = 0; i < keys->n_keys; i++)
		for (unsigned u = 0; u < RIG_N_KEY_NAMES && keys->keys[i].name[u] != NULL; u++)
			list.name[list.n++] = keys->keys[i].name[u];
	return rig_suggest(wrong, list.n, name_at, &list);
}

const char *rig_key_suggest(const rig_object_keys *keys, const char *wrong, int *key)
{
	unsigned unit = 0;
	const char *name = NULL;
	int meant = meant_by_word(keys, wrong);
	if (meant >= 0) {
		name = keys->keys[meant].name[0];
	} else {
		name = meant_by_letters(keys, wrong);
		if (name == NULL)
			return NULL;
		meant = rig_key_find(keys, name, &unit);
	}
	*key = meant;
	return name;
}

static size_t n_gauges(void)
{
	return COUNT_OF(GAUGES);
}

static const char *gauge_at(size_t i)
{
	return GAUGES[i];
}

static const char *appliance_at(size_t i)
{
	return rig_appliance_at(i)->id;
}

static const char *chemistry_at(size_t i)
{
	return rig_chemistry_at(i)->id;
}

static const char *panel_kind_at(size_t i)
{
	return rig_panel_kind_at(i)->id;
}

static const struct {
	const char *word;
	size_t (*count)(void);
	const char *(*at)(size_t i);
	const char *list; /* of the command line */
} TARGETS[RIG_N_TARGETS] = {
	[RIG_TO_NOTHING] = {"", NULL, NULL, NULL},
	[RIG_TO_CIRCUIT] = {"circuit", NULL, NULL, NULL},
	[RIG_TO_LOAD] = {"load", NULL, NULL, NULL},
	[RIG_TO_BANK] = {"bank", NULL, NULL, NULL},
	[RIG_TO_ARRAY] = {"solar array", NULL, NULL, NULL},
	[RIG_TO_APPLIANCE] = {"appliance profile", rig_n_appliances, appliance_at, "appliances"},
	[RIG_TO_CHEMISTRY] = {"chemistry", rig_n_chemistries, chemistry_at, "batteries"},
	[RIG_TO_PANEL_KIND] = {"panel kind", rig_n_panel_kinds, panel_kind_at, "panels"},
	[RIG_TO_CONDUCTOR] = {"gauge", n_gauges, gauge_at, "conductors"},
	[RIG_TO_PLACE] = {"place", NULL, NULL, NULL},
};

bool rig_target_is_table(rig_target target)
{
	return TARGETS[target].count != NULL;
}

size_t rig_target_count(rig_target target)
{
	return TARGETS[target].count();
}

const char *rig_target_at(rig_target target, size_t i)
{
	return TARGETS[target].at(i);
}

const char *rig_target_word(rig_target target)
{
	return TARGETS[target].word;
}

const char *rig_target_list(rig_target target)
{
	return TARGETS[target].list;
}

long rig_target_find(rig_target target, const char *id)
{
	for (size_t i = 0; i < rig_target_count(target); i++)
		if (strcmp(rig_target_at(target, i), id) == 0)
			return (long)i;
	return -1;
}

void *rig_key_field(const rig_key *key, void *object)
{
	return (char *)object + key->offset;
}

const void *rig_key_value(const rig_key *key, const void *object)
{
	return (const char *)object + key->offset;
}

void rig_object_clear(rig_object object, void *into)
{
	const rig_object_keys *keys = rig_keys_of(object);
	if (object != RIG_OBJECT_SHORE) /* its fields are the coach's */
		memset(into, 0, keys->size);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		void *field = rig_key_field(key, into);
		if (key->kind == RIG_KEY_WHOLE || key->kind == RIG_KEY_NUMBER)
			*(int *)field = -1;
		else if (key->kind == RIG_KEY_OBJECT)
			rig_object_clear(key->object, field);
	}
}
