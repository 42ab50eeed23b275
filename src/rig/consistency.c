/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What contradicts something else of the file. Each check looks only at what was read well, so that
 * one slip is said once. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rig/effective.h"
#include "rig/reader.h"

/* A fault at a key of a record, called by its first name. */
static void fault(rig_reader *reader, int record, const char *key, const rig_saying *saying)
{
	const rig_spot spot = {
		.record = record, .key = key == NULL ? NULL : rig_given_name(reader, record, key)};
	rig_say_fault(reader, &spot, saying);
}

/* Two keys that may not stand side by side, where both do. */
static void not_both(
	rig_reader *reader, int record, const char *one, const char *other, const char *why)
{
	if (rig_gives(reader, record, one) && rig_gives(reader, record, other))
		fault(reader, record, other,
			&(rig_saying){
				.what = rig_words_of(reader, "%s stands beside %s", other, one),
				.found = rig_words_of(reader, "%s and %s", one, other),
				.allowed = why,
				.mend = rig_words_of(reader, "take out %s or %s", one, other)});
}

/* A figure that may not be above another of the same object. */
static void not_above(rig_reader *reader, int record, const char *low_key, const char *high_key)
{
	const rig_entry *entry = &reader->records[record];
	const rig_object_keys *keys = rig_keys_of(entry->object);
	unsigned unit = 0;
	const rig_figure *low =
		rig_key_value(&keys->keys[rig_key_find(keys, low_key, &unit)], entry->into);
	const rig_figure *high =
		rig_key_value(&keys->keys[rig_key_find(keys, high_key, &unit)], entry->into);
	if (!rig_figure_given(*low) || !rig_figure_given(*high) || low->likely <= high->likely)
		return;
	fault(reader, record, low_key,
		&(rig_saying){.what = rig_words_of(reader, "%s is above %s", low_key, high_key),
			.found = rig_words_of(reader, "%s and %s",
				rig_number_text(reader, low->likely),
				rig_number_text(reader, high->likely)),
			.allowed = rig_words_of(reader, "%s <= %s", low_key, high_key),
			.mend = "check which is which"});
}

typedef struct {
	const char *from_key, *to_key;
	int from, to;
} window;

/* Gives whether the record has a window of use that can be used. */
static bool check_window(rig_reader *reader, int record, const window *of)
{
	const bool from = rig_gives(reader, record, of->from_key);
	const bool to = rig_gives(reader, record, of->to_key);
	if (from != to) {
		const char *missing = from ? of->to_key : of->from_key;
		fault(reader, record, from ? of->from_key : of->to_key,
			&(rig_saying){
				.what = rig_words_of(reader, "there is no %s beside it", missing),
				.allowed = "both or neither",
				.mend = rig_words_of(reader, "add \"%s\"", missing)});
		return false;
	}
	if (of->from < 0 || of->to < 0)
		return false;
	if (of->from != of->to % 24 || of->from + 24 == of->to)
		return true;
	fault(reader, record, of->to_key,
		&(rig_saying){.what = "the hours begin and end at once",
			.found = rig_words_of(reader, "%d to %d", of->from, of->to),
			.allowed = "two hours that differ; 0 to 24 is the whole day",
			.mend = "give the hour at which it ends"});
	return false;
}

static void check_use_window(rig_reader *reader, int record, int from, int to, rig_figure use)
{
	const window of = {"from_hour", "to_hour", from, to};
	if (!check_window(reader, record, &of) || !rig_figure_given(use))
		return;
	const int span = rig_window_h(from, to);
	if (use.likely > span)
		fault(reader, record, "daily_use_h",
			&(rig_saying){.what = "the hours of use are more than the window has",
				.found = rig_number_text(reader, use.likely),
				.allowed = rig_words_of(reader, "at most %d", span),
				.mend = "widen the window, or lower daily_use_h"});
}

/* How many house banks; *only is the last, an index of the coach's list. */
static bool bank_is_plain(const rig_reader *reader)
{
	/* Whether all banks were read well enough to count them. */
	const int first = reader->first[RIG_OBJECT_BANK];
	for (size_t i = 0; first >= 0 && i < reader->ids[RIG_TO_BANK].n; i++)
		if (!reader->records[first + (int)i].clean)
			return false;
	return reader->ids[RIG_TO_BANK].whole;
}

/* Of several house banks the file has to say which is meant. */
static void check_bank_named(rig_reader *reader, int record)
{
	if (rig_gives(reader, record, "bank") || !bank_is_plain(reader))
		return;
	const int n = rig_n_house_banks(reader->coach);
	if (n > 1)
		fault(reader, record, NULL,
			&(rig_saying){.what = "it is not said which bank is meant",
				.found = rig_words_of(reader, "%d house banks", n),
				.allowed = "the id of one of them",
				.mend = "add \"bank\""});
}

/* The record of a thing that a reference names, if that thing was read well; or -1. */
static int good_target(
	const rig_reader *reader, rig_target target, rig_object object, const char *id)
{
	const int index = id == NULL ? -1 : rig_ids_find(&reader->ids[target], id);
	if (index < 0 || !reader->records[reader->first[object] + index].clean)
		return -1;
	return reader->first[object] + index;
}

static const rig_circuit *good_circuit(const rig_reader *reader, const char *id)
{
	const int record = good_target(reader, RIG_TO_CIRCUIT, RIG_OBJECT_CIRCUIT, id);
	return record < 0 ? NULL : reader->records[record].into;
}

static void dc_only(rig_reader *reader, int record, const char *key, const char *what)
{
	if (rig_gives(reader, record, key))
		fault(reader, record, key,
			&(rig_saying){.what = rig_words_of(reader, "%s belongs to DC", key),
				.found = what,
				.allowed = "DC only",
				.mend = rig_words_of(
					reader, "take out %s, or write \"supply\": \"dc\"", key)});
}

static void ac_only(rig_reader *reader, int record, const char *key, const char *what)
{
	if (rig_gives(reader, record, key))
		fault(reader, record, key,
			&(rig_saying){.what = rig_words_of(reader, "%s belongs to AC", key),
				.found = what,
				.allowed = "AC only",
				.mend = rig_words_of(
					reader, "take out %s, or write \"supply\": \"ac\"", key)});
}

/* Something is said to be on the inverter: the file has one. */
static void check_inverter_there(rig_reader *reader, int record, rig_choice inverter)
{
	if (inverter == RIG_YES && !rig_gives(reader, 0, "inverter"))
		fault(reader, record, "inverter",
			&(rig_saying){.what = "the file has no inverter",
				.found = "true",
				.allowed = "false, or an inverter in the file",
				.mend = "add \"inverter\": {\"watts_w\": 2000}, or take this out"});
}

/* A key that means nothing without another. */
static void needs(rig_reader *reader, int record, const char *key, const char *other)
{
	if (!rig_gives(reader, record, key) || rig_gives(reader, record, other))
		return;
	fault(reader, record, key,
		&(rig_saying){.what = rig_words_of(reader, "there is no %s beside it", other),
			.allowed = rig_words_of(reader, "%s beside %s", key, other),
			.mend = rig_words_of(reader, "add \"%s\", or take out %s", other, key)});
}

static void check_shore(rig_reader *reader, int record)
{
	not_both(reader, record, "source_ohm", "loaded_v", "the resistance once");
	needs(reader, record, "loaded_v", "loaded_a");
	needs(reader, record, "loaded_a", "loaded_v");
	needs(reader, record, "loaded_v", "pedestal_open_v");
	needs(reader, record, "adapter_awg", "adapter_length_m");
	not_above(reader, record, "loaded_v", "pedestal_open_v");
}

static void check_circuit(rig_reader *reader, int record)
{
	const rig_circuit *circuit = reader->records[record].into;
	const int cord_a = reader->coach->cord_a;
	if (!reader->records[record].clean)
		return;
	if (rig_circuit_supply(circuit) == RIG_DC) {
		ac_only(reader, record, "leg", "a DC circuit");
		ac_only(reader, record, "inverter", "a DC circuit");
		check_bank_named(reader, record);
		return;
	}
	dc_only(reader, record, "bank", "an AC circuit");
	check_inverter_there(reader, record, circuit->inverter);
	if (circuit->leg == RIG_LEG_BOTH && cord_a > 0 && cord_a < 50)
		fault(reader, record, "leg",
			&(rig_saying){.what = "a cord of one hot has no 240 V circuit",
				.found = "\"both\"",
				.allowed = "L1",
				.mend = "write \"L1\", or check \"cord_a\""});
	if (circuit->leg == RIG_LEG_2 && cord_a > 0 && cord_a < 50) {
		const rig_spot spot = {.record = record, .key = "leg"};
		rig_say_remark(reader, &spot,
			&(rig_saying){
				.what = "a cord of one hot has no second leg; L2 counts as L1",
				.found = "\"L2\"",
				.allowed = "L1",
				.mend = "write \"L1\""});
	}
}

/* What the voltage may be on this supply and leg, if it is not so; else NULL. */
static const char *volts_allowed(rig_supply_kind supply, rig_leg leg, double volts)
{
	if (supply == RIG_DC)
		return volts > 60 ? "at most 60 V on DC" : NULL;
	if (leg == RIG_LEG_BOTH)
		return volts < 180 ? "180 to 250 V on both legs" : NULL;
	if (leg != RIG_LEG_UNSAID && volts > 150)
		return "90 to 150 V on one leg";
	return volts < 90 ? "90 to 250 V on AC" : NULL;
}

static void check_load_volts(
	rig_reader *reader, int record, rig_supply_kind supply, const rig_circuit *circuit)
{
	const rig_load *load = reader->records[record].into;
	const double volts = load->volts_v.likely;
	const rig_leg leg = circuit == NULL ? RIG_LEG_UNSAID : circuit->leg;
	const char *allowed = volts_allowed(supply, leg, volts);
	if (rig_figure_given(load->volts_v) && allowed != NULL)
		fault(reader, record, "volts_v",
			&(rig_saying){.what = "the voltage does not fit the supply",
				.found = rig_number_text(reader, volts),
				.allowed = allowed,
				.mend = "check the label, the supply and the circuit"});
}

static void check_dc_load(rig_reader *reader, int record)
{
	ac_only(reader, record, "power_factor", "a DC load");
	ac_only(reader, record, "inverter", "a DC load");
	ac_only(reader, record, "soft_starter", "a DC load");
	const int n_banks = rig_n_house_banks(reader->coach);
	if (!rig_gives(reader, record, "circuit") && bank_is_plain(reader) && n_banks > 1)
		fault(reader, record, NULL,
			&(rig_saying){.what = "it is not said which bank feeds the load",
				.found = rig_words_of(reader, "%d house banks", n_banks),
				.allowed = "a DC circuit of one of them",
				.mend = "add \"circuit\""});
}

static void check_ac_load(rig_reader *reader, int record, const rig_circuit *circuit)
{
	const rig_load *load = reader->records[record].into;
	check_inverter_there(reader, record, load->inverter);
	if (load->inverter == RIG_YES && circuit != NULL && circuit->inverter == RIG_NO)
		fault(reader, record, "inverter",
			&(rig_saying){.what = "its circuit is not fed by the inverter",
				.found = "true",
				.allowed = "false on this circuit",
				.mend = "mend it here or on the circuit"});
}

static const rig_appliance *appliance_of(const rig_load *load)
{
	return load->profile == NULL ? NULL : rig_appliance_find(load->profile);
}

static void check_load_supply(rig_reader *reader, int record)
{
	const rig_load *load = reader->records[record].into;
	const rig_appliance *appliance = appliance_of(load);
	const rig_circuit *circuit = good_circuit(reader, load->circuit);
	const rig_supply_kind supply = rig_load_supply(load, appliance, circuit);
	if (appliance != NULL && appliance->supply != supply)
		fault(reader, record, "supply",
			&(rig_saying){.what = "the profile is for another supply",
				.found = load->supply == RIG_AC ? "\"ac\"" : "\"dc\"",
				.allowed = appliance->supply == RIG_AC ? "ac" : "dc",
				.mend = "choose another profile, or give its own figures without "
					"one"});
	else if (circuit != NULL && rig_circuit_supply(circuit) != supply)
		fault(reader, record, "circuit",
			&(rig_saying){.what = supply == RIG_DC ? "a DC load is on an AC circuit"
							       : "an AC load is on a DC circuit",
				.found = rig_words_of(reader, "\"%s\"", load->circuit),
				.allowed = supply == RIG_DC ? "a DC circuit" : "an AC circuit",
				.mend = "name another circuit, or mend \"supply\""});
	else
		check_load_volts(reader, record, supply, circuit);
	if (supply == RIG_DC)
		check_dc_load(reader, record);
	else
		check_ac_load(reader, record, circuit);
}

static void check_load(rig_reader *reader, int record)
{
	const rig_load *load = reader->records[record].into;
	if (!rig_gives(reader, record, "profile") && !rig_gives(reader, record, "running_w") &&
		!rig_gives(reader, record, "running_a"))
		fault(reader, record, NULL,
			&(rig_saying){.what = "it is not said what the load draws",
				.allowed = "profile, running_w or running_a",
				.mend = "name a profile (`rigbudget list appliances`) or give "
					"running_w"});
	not_both(reader, record, "running_w", "running_a", "the draw once, in watts or in amps");
	check_use_window(reader, record, load->from_hour, load->to_hour, load->daily_use_h);
	if (load->always_on == RIG_YES) {
		if (rig_figure_given(load->daily_use_h) && load->daily_use_h.likely < 24)
			fault(reader, record, "daily_use_h",
				&(rig_saying){.what = "a load that is always on has fewer than 24 "
						      "h of use",
					.found = rig_number_text(reader, load->daily_use_h.likely),
					.allowed = "24, or always_on false",
					.mend = "use duty_frac for what it draws now and then"});
		not_both(reader, record, "always_on", "from_hour",
			"no hours of use for what is always on");
	}
	if (reader->records[record].clean)
		check_load_supply(reader, record);
}

static void check_bank_capacity(rig_reader *reader, int record)
{
	const rig_bank *bank = reader->records[record].into;
	if (!rig_gives(reader, record, "capacity_ah") &&
		!rig_gives(reader, record, "capacity_wh") &&
		!rig_gives(reader, record, "reserve_minutes"))
		fault(reader, record, NULL,
			&(rig_saying){.what = "the bank has no capacity",
				.allowed = "capacity_ah, capacity_wh or reserve_minutes",
				.mend = "read it off the battery, or estimate it as a range"});
	not_both(reader, record, "capacity_ah", "capacity_wh", "the capacity once, in Ah or in Wh");
	not_both(reader, record, "capacity_wh", "reserve_minutes", "the capacity once");
	if (!rig_figure_given(bank->capacity_ah) || !rig_figure_given(bank->reserve_minutes))
		return;
	/* At 25 A, above the rated current, a battery gives less than its rating. */
	const double hours = rig_figure_given(bank->rating_h) ? bank->rating_h.high : 20;
	const double least_ah = bank->reserve_minutes.low / 60 * 25;
	if (bank->capacity_ah.high / hours < 25 && least_ah > bank->capacity_ah.high)
		fault(reader, record, "reserve_minutes",
			&(rig_saying){
				.what = "the reserve minutes give more than the rated capacity",
				.found = rig_words_of(reader, "%.4g Ah at 25 A", least_ah),
				.allowed = rig_words_of(reader, "at most %.4g min",
					bank->capacity_ah.high / 25 * 60),
				.mend = "check both labels"});
}

static void check_bank(rig_reader *reader, int record)
{
	const rig_bank *bank = reader->records[record].into;
	check_bank_capacity(reader, record);
	if (bank->series > 1 && !rig_gives(reader, record, "nominal_v"))
		fault(reader, record, "series",
			&(rig_saying){.what = "the voltage of a bank in series is not said",
				.found = rig_words_of(reader, "%d in series", bank->series),
				.allowed = "nominal_v beside series",
				.mend = "add \"nominal_v\": two of 6 V make 12, two of 12 V make "
					"24"});
	if (rig_gives(reader, record, "kinetic_c_frac") !=
			rig_gives(reader, record, "kinetic_k_per_h") &&
		!(rig_figure_given(bank->kinetic_c_frac) && bank->kinetic_c_frac.low >= 1)) {
		const bool c = rig_gives(reader, record, "kinetic_c_frac");
		fault(reader, record, c ? "kinetic_c_frac" : "kinetic_k_per_h",
			&(rig_saying){.what = "the two-well model has only one of its two figures",
				.allowed = "kinetic_c_frac and kinetic_k_per_h, or neither",
				.mend = rig_words_of(reader, "add %s",
					c ? "kinetic_k_per_h" : "kinetic_c_frac")});
	}
}

static void check_array(rig_reader *reader, int record)
{
	const rig_array *array = reader->records[record].into;
	const bool length = rig_gives(reader, record, "length_m");
	const bool width = rig_gives(reader, record, "width_m");
	if (length != width)
		fault(reader, record, length ? "length_m" : "width_m",
			&(rig_saying){.what = rig_words_of(reader, "the panel has no %s",
					      length ? "width" : "length"),
				.allowed = "both or neither",
				.mend = "measure the other side"});
	else if (!length && !rig_gives(reader, record, "watts_w"))
		fault(reader, record, NULL,
			&(rig_saying){.what = "the panel has neither watts nor a size",
				.allowed = "watts_w, or the length and width of its frame",
				.mend = "measure the frame: length_in and width_in"});
	if (!rig_gives(reader, record, "bank") && reader->coach->n_banks > 1)
		fault(reader, record, NULL,
			&(rig_saying){.what = "it is not said which bank the panels charge",
				.found = rig_words_of(reader, "%zu banks", reader->coach->n_banks),
				.allowed = "the id of one of them",
				.mend = "follow the wire, and add \"bank\""});
	not_above(reader, record, "vmp_v", "voc_v");
	not_above(reader, record, "imp_a", "isc_a");
	if (rig_gives(reader, record, "controller_efficiency_frac") &&
		reader->records[record].clean && array->controller != RIG_MPPT)
		fault(reader, record, "controller_efficiency_frac",
			&(rig_saying){.what = "only a tracker has an efficiency",
				.found = "a controller that is not mppt",
				.allowed = "beside \"mppt\" only",
				.mend = "write \"controller\": \"mppt\", or take it out"});
}

static void check_inverter(rig_reader *reader, int record)
{
	not_above(reader, record, "watts_w", "surge_w");
	not_both(reader, record, "loss_fixed_frac", "idle_w", "the idle draw once");
	check_bank_named(reader, record);
}

static void check_charger(rig_reader *reader, int record)
{
	const rig_charger *charger = reader->records[record].into;
	const rig_circuit *circuit = good_circuit(reader, charger->circuit);
	check_bank_named(reader, record);
	if (circuit != NULL && rig_circuit_supply(circuit) == RIG_DC)
		fault(reader, record, "circuit",
			&(rig_saying){.what = "the charger is on a DC circuit",
				.found = rig_words_of(reader, "\"%s\"", charger->circuit),
				.allowed = "an AC circuit",
				.mend = "name the circuit of its plug"});
}

static void check_generator(rig_reader *reader, int record)
{
	const rig_generator *generator = reader->records[record].into;
	const window quiet = {"quiet_from_hour", "quiet_to_hour", generator->quiet_from_hour,
		generator->quiet_to_hour};
	check_window(reader, record, &quiet);
	not_above(reader, record, "watts_w", "surge_w");
	not_above(reader, record, "fuel_idle_l_h", "fuel_full_l_h");
	not_above(reader, record, "start_soc_frac", "stop_soc_frac");
}

/* What a wire leads to is a part that the file has. */
static void check_feeds(rig_reader *reader, int record)
{
	const rig_wire *wire = reader->records[record].into;
	const rig_coach *coach = reader->coach;
	const struct {
		bool there;
		const char *part;
	} parts[] = {[RIG_FEEDS_UNSAID] = {true, ""},
		[RIG_FEEDS_PANEL] = {true, ""},
		[RIG_FEEDS_INVERTER] = {coach->inverter.present, "inverter"},
		[RIG_FEEDS_CHARGER] = {coach->charger.present, "charger"},
		[RIG_FEEDS_DC_CHARGER] = {coach->dc_charger.present, "dc_charger"},
		[RIG_FEEDS_SOLAR] = {coach->n_arrays > 0, "solar"}};
	needs(reader, record, "feeds", "bank");
	if (rig_gives(reader, record, "feeds") && !parts[wire->feeds].there)
		fault(reader, record, "feeds",
			&(rig_saying){.what = "the file has no such part",
				.found = parts[wire->feeds].part,
				.allowed = "a part that the file describes, or panel",
				.mend = rig_words_of(reader, "describe \"%s\", or take out feeds",
					parts[wire->feeds].part)});
}

/* A run starts at a panel or at a battery, and has the volts of where it starts. */
static void check_wire(rig_reader *reader, int record)
{
	static const char *const FED[] = {"circuit", "bank"};
	not_both(reader, record, "circuit", "bank", "where the run starts once");
	for (size_t i = 0; i < sizeof FED / sizeof FED[0]; i++)
		not_both(reader, record, "volts_v", FED[i], "the volts once");
	needs(reader, record, "continuous", "amps_a");
	needs(reader, record, "power_factor", "amps_a");
	needs(reader, record, "fuse_distance_m", "bank");
	check_feeds(reader, record);
}

static void check_use(rig_reader *reader, int record)
{
	const rig_use *use = reader->records[record].into;
	check_use_window(reader, record, use->from_hour, use->to_hour, use->daily_use_h);
	if (reader->records[record].clean && !rig_figure_given(use->daily_use_h) &&
		use->from_hour < 0)
		fault(reader, record, NULL,
			&(rig_saying){.what = "the habit does not say how the load is used",
				.allowed = "daily_use_h, or from_hour and to_hour, or both",
				.mend = "add \"daily_use_h\""});
}

/* Of several arrays the file has to say which is meant. */
static void check_array_named(rig_reader *reader, int record)
{
	if (!rig_gives(reader, record, "array_a")) {
		needs(reader, record, "array", "array_a");
		return;
	}
	needs(reader, record, "array_a", "month");
	needs(reader, record, "array_a", "day");
	needs(reader, record, "array_a", "hour_h");
	if (!rig_gives(reader, record, "array") && reader->coach->n_arrays != 1)
		fault(reader, record, "array_a",
			&(rig_saying){.what = "it is not said which solar array is meant",
				.found = rig_words_of(
					reader, "%zu solar arrays", reader->coach->n_arrays),
				.allowed = "the id of one of them",
				.mend = "add \"array\""});
}

static void check_reading_date(rig_reader *reader, int record)
{
	static const int DAYS[12] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	const rig_reading *reading = reader->records[record].into;
	needs(reader, record, "day", "month");
	needs(reader, record, "month", "day");
	if (reading->month > 0 && reading->day > DAYS[reading->month - 1])
		fault(reader, record, "day",
			&(rig_saying){.what = "the month has no such day",
				.found = rig_words_of(reader, "%d", reading->day),
				.allowed = rig_words_of(
					reader, "at most %d", DAYS[reading->month - 1]),
				.mend = "mend the date"});
}

static void check_discharge(rig_reader *reader, int record)
{
	static const char *const NEED[] = {
		"duration_h", "rest_before_v", "rest_after_v", "to_empty"};
	needs(reader, record, "duration_h", "bank_a");
	for (size_t i = 1; i < sizeof NEED / sizeof NEED[0]; i++)
		needs(reader, record, NEED[i], "duration_h");
	needs(reader, record, "rest_before_v", "rest_after_v");
	needs(reader, record, "rest_after_v", "rest_before_v");
	not_above(reader, record, "rest_after_v", "rest_before_v");
}

static void check_reading(rig_reader *reader, int record)
{
	static const char *const FIGURES[] = {
		"leg1_a", "leg2_a", "watts_w", "circuit_a", "bank_a", "array_a"};
	bool any = false;
	for (size_t i = 0; i < sizeof FIGURES / sizeof FIGURES[0]; i++)
		any |= rig_gives(reader, record, FIGURES[i]);
	if (!any)
		fault(reader, record, NULL,
			&(rig_saying){.what = "the reading says no amps and no watts",
				.allowed = "leg1_a, leg2_a, watts_w, circuit_a, bank_a or array_a",
				.mend = "write what the meter said"});
	if (rig_gives(reader, record, "bank_a"))
		check_bank_named(reader, record);
	else
		needs(reader, record, "bank", "bank_a");
	needs(reader, record, "charging", "bank_a");
	needs(reader, record, "circuit_a", "circuit");
	needs(reader, record, "circuit", "circuit_a");
	check_array_named(reader, record);
	check_reading_date(reader, record);
	check_discharge(reader, record);
	const int cord_a = reader->coach->cord_a;
	if (rig_gives(reader, record, "leg2_a") && cord_a > 0 && cord_a < 50)
		fault(reader, record, "leg2_a",
			&(rig_saying){.what = "a cord of one hot has no second leg",
				.found = "leg2_a",
				.allowed = "leg1_a",
				.mend = "take it out, or check \"cord_a\""});
}

void rig_check_consistency(rig_reader *reader)
{
	static void (*const CHECK[RIG_N_OBJECTS])(rig_reader *, int) = {
		[RIG_OBJECT_SHORE] = check_shore,
		[RIG_OBJECT_CIRCUIT] = check_circuit,
		[RIG_OBJECT_WIRE] = check_wire,
		[RIG_OBJECT_LOAD] = check_load,
		[RIG_OBJECT_BANK] = check_bank,
		[RIG_OBJECT_ARRAY] = check_array,
		[RIG_OBJECT_INVERTER] = check_inverter,
		[RIG_OBJECT_CHARGER] = check_charger,
		[RIG_OBJECT_DC_CHARGER] = check_bank_named,
		[RIG_OBJECT_GENERATOR] = check_generator,
		[RIG_OBJECT_USE] = check_use,
		[RIG_OBJECT_READING] = check_reading,
		[RIG_OBJECT_CLAIM] = rig_check_claim};
	for (int i = 0; i < reader->n_records; i++)
		if (CHECK[reader->records[i].object] != NULL)
			CHECK[reader->records[i].object](reader, i);
}
