/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/suggest.h"
#include "rig/reader.h"
#include "rigbudget/place.h"

static const char *id_at(const void *context, size_t i)
{
	return ((const rig_ids *)context)->sorted[i].id;
}

/* One reference to a list of the file. */
static void check_id(rig_reader *reader, const rig_spot *spot, rig_target target, const char *id)
{
	const rig_ids *ids = &reader->ids[target];
	if (rig_ids_find(ids, id) >= 0 || !ids->whole)
		return;
	const char *word = rig_target_word(target);
	const char *near = rig_still_kept(reader) ? rig_suggest(id, ids->n, id_at, ids) : NULL;
	rig_say_fault(reader, spot,
		&(rig_saying){.what = rig_words_of(reader, "the file has no %s of that id", word),
			.found = rig_words_of(reader, "\"%.60s\"", id),
			.allowed = ids->n == 0 ? rig_words_of(reader, "the file has no %ss", word)
					       : rig_words_of(reader, "the id of a %s", word),
			.mend = near == NULL
					? rig_words_of(reader, "add the %s, or name another", word)
					: rig_mean_text(reader, near)});
}

/* A list of references: each is known, none stands there twice. */
static void check_ids(rig_reader *reader, int record, const rig_key *key, int *stamps)
{
	const void *into = reader->records[record].into;
	const char *const *list = *(const char *const *const *)rig_key_value(key, into);
	const size_t n = *(const size_t *)((const char *)into + key->count_offset);
	/* an object may have a list of loads and one of circuits */
	int *of_list = stamps + (key->target == RIG_TO_CIRCUIT ? reader->coach->n_loads : 0);
	for (size_t i = 0; i < n; i++) {
		const rig_spot spot = {.record = record, .key = key->name[0], .item = (int)i + 1};
		const int index = rig_ids_find(&reader->ids[key->target], list[i]);
		if (index < 0) {
			check_id(reader, &spot, key->target, list[i]);
			continue;
		}
		if (of_list[index] == record + 1)
			rig_say_fault(reader, &spot,
				&(rig_saying){.what = "the id stands in the list twice",
					.found = rig_words_of(reader, "\"%s\"", list[i]),
					.allowed = "each id once",
					.mend = "take one out; \"count\" of a load says how many"});
		of_list[index] = record + 1;
	}
}

static void check_record(rig_reader *reader, int record, int *stamps)
{
	const rig_entry *entry = &reader->records[record];
	const rig_object_keys *keys = rig_keys_of(entry->object);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const rig_key *key = &keys->keys[i];
		if (key->target != RIG_TO_CIRCUIT && key->target != RIG_TO_LOAD &&
			key->target != RIG_TO_BANK && key->target != RIG_TO_ARRAY)
			continue;
		if (key->kind == RIG_KEY_REFERENCES) {
			check_ids(reader, record, key, stamps);
			continue;
		}
		const char *id = *(const char *const *)rig_key_value(key, entry->into);
		const rig_spot spot = {.record = record, .key = key->name[0]};
		if (id != NULL)
			check_id(reader, &spot, key->target, id);
	}
}

/* Sets and habits are called by their names. At most 500 of each. */
static void check_names(rig_reader *reader, rig_object object)
{
	unsigned unit = 0;
	const rig_object_keys *keys = rig_keys_of(object);
	const rig_key *key = &keys->keys[rig_key_find(keys, "name", &unit)];
	for (int i = reader->first[object]; i >= 0 && i < reader->n_records; i++) {
		if (reader->records[i].object != object)
			continue;
		const char *name =
			*(const char *const *)rig_key_value(key, reader->records[i].into);
		for (int j = reader->first[object]; j < i && name != NULL; j++) {
			const rig_entry *other = &reader->records[j];
			if (other->object != object)
				continue;
			const char *taken = *(const char *const *)rig_key_value(key, other->into);
			if (taken == NULL || strcmp(name, taken) != 0)
				continue;
			const rig_spot spot = {.record = i, .key = "name"};
			rig_say_fault(reader, &spot,
				&(rig_saying){.what = rig_words_of(reader,
						      "the name is already that of %s[%d]",
						      other->key, other->index),
					.found = rig_words_of(reader, "\"%.60s\"", name),
					.allowed = "each name once",
					.mend = "give one of them another name"});
			break;
		}
	}
}

/* A load of a habit is named once. */
static void check_uses(rig_reader *reader, int *stamps)
{
	for (int i = reader->first[RIG_OBJECT_USE]; i >= 0 && i < reader->n_records; i++) {
		const rig_entry *entry = &reader->records[i];
		if (entry->object != RIG_OBJECT_USE)
			continue;
		const char *id = ((const rig_use *)entry->into)->load;
		const int load = id == NULL ? -1 : rig_ids_find(&reader->ids[RIG_TO_LOAD], id);
		if (load < 0)
			continue;
		if (stamps[load] == entry->up + 1) {
			const rig_spot spot = {.record = i, .key = "load"};
			rig_say_fault(reader, &spot,
				&(rig_saying){.what = "the habit names the load twice",
					.found = rig_words_of(reader, "\"%s\"", id),
					.allowed = "each load once in a habit",
					.mend = "take one out"});
		}
		stamps[load] = entry->up + 1;
	}
}

static void place_unknown(rig_reader *reader, int record, const char *name)
{
	size_t near[3];
	const size_t n = rig_still_kept(reader) ? rig_place_suggest(name, 3, near) : 0;
	const char *mend = "give latitude_deg and longitude_deg; the nearest place is then taken";
	if (n > 0) {
		const char *names = "";
		for (size_t i = 0; i < n; i++) {
			rig_place place;
			rig_place_at(near[i], &place);
			names = rig_words_of(
				reader, "%s%s\"%s\"", names, i == 0 ? "" : " or ", place.name);
		}
		mend = rig_words_of(reader, "did you mean %s?", names);
	}
	const rig_spot spot = {.record = record, .key = "name"};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = "the table of places has no such name, or several",
			.found = rig_words_of(reader, "\"%.60s\"", name),
			.allowed = "a name from `rigbudget list places`",
			.mend = mend});
}

static void check_place(rig_reader *reader)
{
	const int record = reader->first[RIG_OBJECT_PLACE];
	if (record < 0)
		return;
	const rig_site *site = reader->records[record].into;
	const bool latitude = rig_gives(reader, record, "latitude_deg");
	const bool longitude = rig_gives(reader, record, "longitude_deg");
	const rig_spot spot = {.record = record};
	if (latitude != longitude)
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = rig_words_of(reader, "the place has a %s but no %s",
					      latitude ? "latitude" : "longitude",
					      latitude ? "longitude" : "latitude"),
				.allowed = "both or neither",
				.mend = "add the other one"});
	else if (!latitude && !rig_gives(reader, record, "name"))
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = "the place has neither a name nor a point on the map",
				.allowed = "name, or latitude_deg and longitude_deg",
				.mend = "add \"name\": \"Flagstaff\", or the like"});
	else if (!latitude && site->name != NULL && rig_place_find(site->name) < 0)
		place_unknown(reader, record, site->name);
}

void rig_check_references(rig_reader *reader)
{
	const rig_coach *coach = reader->coach;
	const size_t most = coach->n_circuits + coach->n_loads + coach->n_banks;
	int *stamps = rig_arena_take(reader->arena, most, sizeof *stamps);
	int *uses = rig_arena_take(reader->arena, most, sizeof *uses);
	if (stamps == NULL || uses == NULL) {
		reader->no_memory = true;
		return;
	}
	for (int i = 0; i < reader->n_records; i++)
		check_record(reader, i, stamps);
	check_names(reader, RIG_OBJECT_TOGETHER);
	check_names(reader, RIG_OBJECT_HABIT);
	check_uses(reader, uses);
	check_place(reader);
}
