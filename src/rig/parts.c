/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/parts.h"

#include <stdlib.h>
#include <string.h>

#include "rig/reader.h"

struct rig_parts_file {
	rig_arena *arena;
	rig_parts parts;
};

const rig_parts *rig_parts_list(const rig_parts_file *file)
{
	return &file->parts;
}

void rig_parts_free(rig_parts_file *file)
{
	if (file == NULL)
		return;
	rig_arena_free(file->arena);
	free(file);
}

/* ---- what single values cannot show ---- */

/* A list is worked with to the cent: what it says is one number. */
static void check_single(rig_reader *reader, int record, const char *name)
{
	unsigned unit = 0;
	const rig_entry *entry = &reader->records[record];
	const rig_object_keys *keys = rig_keys_of(entry->object);
	const int index = rig_key_find(keys, name, &unit);
	if (index < 0 || keys->keys[index].kind != RIG_KEY_FIGURE)
		return;
	const rig_figure *figure = rig_key_value(&keys->keys[index], entry->into);
	if (!rig_figure_given(*figure) || figure->low == figure->high)
		return;
	const rig_spot spot = {.record = record, .key = rig_given_name(reader, record, name)};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(reader, "%s is a range", spot.key),
			.allowed = "one number: a price list has no doubt",
			.mend = "write the label's number"});
}

static double likely_of(const rig_reader *reader, int record, const char *name)
{
	unsigned unit = 0;
	const rig_entry *entry = &reader->records[record];
	const rig_object_keys *keys = rig_keys_of(entry->object);
	const rig_key *key = &keys->keys[rig_key_find(keys, name, &unit)];
	return ((const rig_figure *)rig_key_value(key, entry->into))->likely;
}

/* Refuses what the first one cannot be beside the second. */
static void check_order(rig_reader *reader, int record, const char *least, const char *most)
{
	const double low = likely_of(reader, record, least), high = likely_of(reader, record, most);
	if (!rig_gives(reader, record, least) || !rig_gives(reader, record, most) || low <= high)
		return;
	const rig_spot spot = {.record = record, .key = rig_given_name(reader, record, least)};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(reader, "%s is more than %s", spot.key,
				      rig_given_name(reader, record, most)),
			.found = rig_words_of(reader, "%s beside %s", rig_number_text(reader, low),
				rig_number_text(reader, high)),
			.allowed = rig_words_of(reader, "at most %s", most),
			.mend = "look at the label again; the two may be swapped"});
}

/* The best cells on sale make about a quarter of 1,000 W/m2 into current (common practice, no
 * source). */
static const double MOST_WM2 = 260;

static void check_panel(rig_reader *reader, int record)
{
	const rig_part_panel *it = reader->records[record].into;
	check_order(reader, record, "vmp_v", "voc_v");
	check_order(reader, record, "imp_a", "isc_a");
	const double area_m2 = it->length_m.likely * it->width_m.likely;
	if (!rig_gives(reader, record, "watts_w") || !(area_m2 > 0) ||
		it->watts_w.likely <= MOST_WM2 * area_m2)
		return;
	const rig_spot spot = {.record = record, .key = "watts_w"};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = "no panel of this size gives so many watts",
			.found = rig_words_of(
				reader, "%.0f W from %.2f m2", it->watts_w.likely, area_m2),
			.allowed = rig_words_of(reader, "at most %.0f W for each m2", MOST_WM2),
			.mend = "check the size: inches in a key of metres?"});
}

static void check_battery(rig_reader *reader, int record)
{
	const bool cycles = rig_gives(reader, record, "cycles");
	if (cycles == rig_gives(reader, record, "cycles_depth_frac"))
		return;
	const rig_spot spot = {.record = record, .key = cycles ? "cycles" : "cycles_depth_frac"};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = "cycles say nothing without how deep they are",
			.allowed = "cycles and cycles_depth_frac, or neither",
			.mend = cycles ? "add \"cycles_depth_frac\": 0.8"
				       : "add \"cycles\": 3000"});
}

static void check_record(rig_reader *reader, int record)
{
	const rig_entry entry = reader->records[record];
	const rig_object_keys *keys = rig_keys_of(entry.object);
	if (!entry.clean)
		return;
	for (size_t i = 0; i < keys->n_keys; i++)
		check_single(reader, record, keys->keys[i].name[0]);
	if (entry.object == RIG_OBJECT_PART_PANEL)
		check_panel(reader, record);
	if (entry.object == RIG_OBJECT_PART_BATTERY)
		check_battery(reader, record);
	if (entry.object == RIG_OBJECT_PART_INVERTER) {
		check_order(reader, record, "watts_w", "surge_w");
		check_order(reader, record, "idle_w", "watts_w");
	}
}

/* ---- reading ---- */

static rig_status read_into(rig_parts_file *file, const rig_json *json, rig_diags *diags)
{
	rig_reader reader = {.arena = file->arena, .json = json, .diags = diags};
	const size_t before = rig_diags_faults(diags);
	const bool readable = rig_read_parts(&reader, &file->parts);
	for (int i = 0; readable && !reader.no_memory && i < reader.n_records; i++)
		check_record(&reader, i);
	const bool right = readable && rig_diags_faults(diags) == before;
	free(reader.records);
	if (reader.no_memory)
		return RIG_NO_MEMORY;
	return right ? RIG_OK : RIG_BAD_INPUT;
}

rig_status rig_parts_parse(const char *text, size_t length, rig_diags *diags, rig_parts_file **file)
{
	rig_json *json = NULL;
	rig_parts_file *made = NULL;
	rig_status status = rig_json_read(text, length, diags, &json);
	if (status != RIG_OK)
		return status;
	status = RIG_NO_MEMORY;
	made = calloc(1, sizeof *made);
	if (made != NULL && (made->arena = rig_arena_new()) != NULL)
		status = read_into(made, json, diags);
	if (status == RIG_OK) {
		*file = made;
		made = NULL;
	}
	rig_parts_free(made);
	rig_json_free(json);
	return status;
}
