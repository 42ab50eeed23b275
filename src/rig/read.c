/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "rig/reader.h"

/* Where the object of a record starts to be read. */
typedef struct {
	rig_object object;
	const cJSON *json;
	void *into;
	int up;
	const char *key;
	int index;
} task;

static int add_entry(rig_reader *reader, const task *of)
{
	if (reader->n_records == reader->room) {
		const int room = reader->room == 0 ? 64 : 2 * reader->room;
		rig_entry *records = realloc(reader->records, (size_t)room * sizeof *records);
		if (records == NULL) {
			reader->no_memory = true;
			return -1;
		}
		reader->records = records;
		reader->room = room;
	}
	if (reader->first[of->object] < 0)
		reader->first[of->object] = reader->n_records;
	reader->records[reader->n_records] = (rig_entry){.object = of->object,
		.json = of->json,
		.into = of->into,
		.up = of->up,
		.key = of->key,
		.index = of->index,
		.clean = true};
	return reader->n_records++;
}

static bool read_object(rig_reader *reader, const task *of);

static bool not_a(rig_reader *reader, const rig_value_place *place, const cJSON *value,
	const char *what, const char *mend)
{
	const rig_spot spot = {.record = place->record, .key = place->name};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(reader, "%s is not %s", place->name, what),
			.found = rig_found_text(reader, value),
			.allowed = what,
			.mend = mend});
	return false;
}

static bool read_inner(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!cJSON_IsObject(value))
		return not_a(reader, place, value, "an object",
			key->example == NULL ? "write { ... }"
					     : rig_words_of(reader, "write %s", key->example));
	void *into = rig_key_field(key, reader->records[place->record].into);
	return read_object(
		reader, &(task){key->object, value, into, place->record, key->name[0], -1});
}

static bool read_list(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value)
{
	if (!cJSON_IsArray(value))
		return not_a(reader, place, value, "a list", "put it in [ ]");
	const int n = cJSON_GetArraySize(value);
	if (n > key->high) {
		const rig_spot spot = {.record = place->record, .key = place->name};
		rig_say_fault(reader, &spot,
			&(rig_saying){
				.what = rig_words_of(reader, "%s has too many items", place->name),
				.found = rig_words_of(reader, "%d", n),
				.allowed = rig_words_of(reader, "at most %.0f", key->high),
				.mend = "put alike ones together with \"count\""});
		return false;
	}
	const size_t size = rig_keys_of(key->object)->size;
	char *items = rig_arena_take(reader->arena, (size_t)n, size);
	if (items == NULL) {
		reader->no_memory = true;
		return false;
	}
	void *into = reader->records[place->record].into;
	memcpy(rig_key_field(key, into), &items, sizeof items);
	*(size_t *)((char *)into + key->count_offset) = (size_t)n;
	bool right = true;
	int i = 0;
	for (const cJSON *item = value->child; item != NULL; item = item->next, i++) {
		rig_object_clear(key->object, items + (size_t)i * size);
		if (cJSON_IsObject(item)) {
			right &= read_object(
				reader, &(task){key->object, item, items + (size_t)i * size,
						place->record, key->name[0], i});
			continue;
		}
		right = false;
		const rig_spot spot = {.record = place->record, .key = place->name, .item = i + 1};
		rig_say_fault(reader, &spot,
			&(rig_saying){.what = rig_words_of(reader, "the item is not a %s",
					      rig_keys_of(key->object)->name),
				.found = rig_found_text(reader, item),
				.allowed = "an object",
				.mend = "write { ... }"});
	}
	return right;
}

/* "one of id, name and notes" */
static const char *keys_text(rig_reader *reader, const rig_object_keys *keys)
{
	const char *text = "one of ";
	for (size_t i = 0; i < keys->n_keys; i++)
		text = rig_words_of(reader, "%s%s%s", text,
			i == 0                 ? ""
			: i + 1 < keys->n_keys ? ", "
					       : " and ",
			keys->keys[i].name[0]);
	return text;
}

static void unknown_key(
	rig_reader *reader, int record, const rig_object_keys *keys, const cJSON *member)
{
	int meant = -1;
	const char *near = rig_key_suggest(keys, member->string, &meant);
	if (meant >= 0)
		reader->records[record].seen |= (uint64_t)1 << meant;
	const rig_spot spot = {.record = record, .key = member->string, .on_key = true};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(reader, "the %s has no such key", keys->name),
			.found = rig_words_of(reader, "\"%.60s\"", member->string),
			.allowed = near == NULL ? keys_text(reader, keys) : NULL,
			.mend = near == NULL ? "take it out, or put it in \"notes\""
					     : rig_mean_text(reader, near)});
}

/* How many of a key's names the record gives; *other is one of them that is not name. */
static int n_given(const rig_reader *reader, int record, const rig_key *key, const char *name,
	const char **other)
{
	int n = 0;
	for (unsigned u = 0; u < RIG_N_KEY_NAMES && key->name[u] != NULL; u++) {
		if (cJSON_GetObjectItemCaseSensitive(reader->records[record].json, key->name[u]) ==
			NULL)
			continue;
		n++;
		if (strcmp(key->name[u], name) != 0)
			*other = key->name[u];
	}
	return n;
}

static void both_names(rig_reader *reader, int record, const char *name, const char *other)
{
	const rig_spot spot = {.record = record, .key = name, .on_key = true};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = "the same figure is given twice",
			.found = rig_words_of(reader, "%s and %s", other, name),
			.allowed = "one of them",
			.mend = rig_words_of(reader, "take out %s", name)});
}

static bool read_member(
	rig_reader *reader, int record, const rig_object_keys *keys, const cJSON *member)
{
	unsigned unit = 0;
	const int index = rig_key_find(keys, member->string, &unit);
	if (index < 0) {
		unknown_key(reader, record, keys, member);
		return false;
	}
	const rig_key *key = &keys->keys[index];
	const uint64_t bit = (uint64_t)1 << index;
	const bool again = (reader->records[record].seen & bit) != 0;
	const char *other = "";
	reader->records[record].seen |= bit;
	if (again && n_given(reader, record, key, member->string, &other) > 1) {
		both_names(reader, record, member->string, other);
		return false;
	}
	const rig_value_place place = {record, key->name[unit], unit};
	if (key->kind == RIG_KEY_OBJECT)
		return read_inner(reader, &place, key, member);
	if (key->kind == RIG_KEY_LIST)
		return read_list(reader, &place, key, member);
	return rig_read_value(reader, &place, key, member);
}

static void missing_key(
	rig_reader *reader, int record, const rig_object_keys *keys, const rig_key *key)
{
	const rig_spot spot = {.record = record};
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(
				      reader, "the %s has no \"%s\"", keys->name, key->name[0]),
			.allowed = key->what,
			.mend = rig_words_of(
				reader, "add \"%s\": %s", key->name[0], key->example)});
}

static bool read_object(rig_reader *reader, const task *of)
{
	const rig_object_keys *keys = rig_keys_of(of->object);
	assert(keys->n_keys <= 64);
	const int record = add_entry(reader, of);
	if (record < 0)
		return false;
	if (keys->has_present)
		*(bool *)of->into = true;
	bool right = true;
	for (const cJSON *member = of->json->child; member != NULL; member = member->next)
		right &= read_member(reader, record, keys, member);
	for (size_t i = 0; i < keys->n_keys; i++) {
		const bool seen = (reader->records[record].seen >> i & 1) != 0;
		if (keys->keys[i].required && !seen) {
			missing_key(reader, record, keys, &keys->keys[i]);
			right = false;
		}
	}
	return right;
}

static int compare_named(const void *a, const void *b)
{
	const rig_named *x = a, *y = b;
	const int order = strcmp(x->id, y->id);
	return order != 0 ? order : (x->index > y->index) - (x->index < y->index);
}

int rig_ids_find(const rig_ids *ids, const char *id)
{
	size_t low = 0, high = ids->n;
	while (low < high) {
		const size_t middle = low + (high - low) / 2;
		if (strcmp(ids->sorted[middle].id, id) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low < ids->n && strcmp(ids->sorted[low].id, id) == 0 ? ids->sorted[low].index : -1;
}

/* The list that a target names: its key in the coach. */
static const struct {
	rig_target target;
	rig_object object;
	const char *key;
} LISTS[] = {{RIG_TO_CIRCUIT, RIG_OBJECT_CIRCUIT, "circuits"},
	{RIG_TO_LOAD, RIG_OBJECT_LOAD, "loads"}, {RIG_TO_BANK, RIG_OBJECT_BANK, "banks"},
	{RIG_TO_ARRAY, RIG_OBJECT_ARRAY, "solar"}, {RIG_TO_NOTHING, RIG_OBJECT_WIRE, "wires"}};

static const char *id_of(const rig_entry *entry)
{
	unsigned unit = 0;
	const rig_object_keys *keys = rig_keys_of(entry->object);
	const rig_key *key = &keys->keys[rig_key_find(keys, "id", &unit)];
	return *(const char *const *)rig_key_value(key, entry->into);
}

static void say_twice(rig_reader *reader, int later, int earlier, const char *id)
{
	const rig_spot spot = {.record = later, .key = "id"};
	const rig_entry *first = &reader->records[earlier];
	rig_say_fault(reader, &spot,
		&(rig_saying){.what = rig_words_of(reader, "the id is already that of %s[%d]",
				      first->key, first->index),
			.found = rig_words_of(reader, "\"%s\"", id),
			.allowed = "each id once",
			.mend = "give one of them another id"});
}

/* How many records of a list there are, and whether these are all of its items. */
static int count_items(const rig_reader *reader, rig_object object, const char *key, bool *whole)
{
	int n = 0;
	const int first = reader->first[object];
	while (first >= 0 && first + n < reader->n_records &&
		reader->records[first + n].object == object)
		n++;
	const cJSON *list = cJSON_GetObjectItemCaseSensitive(reader->records[0].json, key);
	*whole = !rig_gives(reader, 0, key) ||
		 (cJSON_IsArray(list) && cJSON_GetArraySize(list) == n);
	return n;
}

/* Sorts the ids of one list, says which stand there twice. */
static void collect_ids(rig_reader *reader, rig_object object, const char *key, rig_ids *ids)
{
	const int n = count_items(reader, object, key, &ids->whole);
	const int first = reader->first[object];
	ids->sorted = rig_arena_take(reader->arena, (size_t)n, sizeof *ids->sorted);
	if (ids->sorted == NULL) {
		reader->no_memory = true;
		return;
	}
	for (int i = 0; i < n; i++) {
		const char *id = id_of(&reader->records[first + i]);
		if (id == NULL)
			ids->whole = false;
		else
			ids->sorted[ids->n++] = (rig_named){id, i};
	}
	if (ids->n > 1)
		qsort(ids->sorted, ids->n, sizeof *ids->sorted, compare_named);
	for (size_t i = 1; i < ids->n; i++) {
		const rig_named *named = &ids->sorted[i];
		if (strcmp(named->id, named[-1].id) == 0)
			say_twice(reader, first + named->index, first + named[-1].index, named->id);
	}
}

/* A file of another version has other keys: nothing but its format is looked at then. */
static bool other_format(const cJSON *root, rig_object top)
{
	const cJSON *format = cJSON_GetObjectItemCaseSensitive(root, "format");
	return cJSON_IsString(format) && strcmp(format->valuestring, rig_format_of(top)) != 0;
}

/* The whole of a file of the right kind. */
static bool read_top(rig_reader *reader, rig_object top, void *into)
{
	const cJSON *root = rig_json_root(reader->json);
	const task whole = {top, root, into, -1, NULL, -1};
	for (int i = 0; i < RIG_N_ALL_OBJECTS; i++)
		reader->first[i] = -1;
	rig_object_clear(top, into);
	if (!cJSON_IsObject(root) || other_format(root, top)) {
		const int record = add_entry(reader, &whole);
		const rig_spot spot = {.record = record};
		if (record >= 0 && cJSON_IsObject(root))
			read_member(reader, record, rig_keys_of(top),
				cJSON_GetObjectItemCaseSensitive(root, "format"));
		else if (record >= 0)
			rig_say_fault(reader, &spot,
				&(rig_saying){.what = "the file is not an object",
					.found = rig_found_text(reader, root),
					.allowed = "an object",
					.mend = rig_words_of(reader,
						"start with { \"format\": \"%s\", ...",
						rig_format_of(top))});
		return false;
	}
	read_object(reader, &whole);
	return true;
}

bool rig_read_coach(rig_reader *reader)
{
	if (!read_top(reader, RIG_OBJECT_COACH, reader->coach))
		return false;
	for (size_t i = 0; i < sizeof LISTS / sizeof LISTS[0] && !reader->no_memory; i++) {
		rig_ids *ids = &reader->ids[LISTS[i].target];
		*ids = (rig_ids){.n = 0}; /* nothing names panels and wires: theirs are not kept */
		collect_ids(reader, LISTS[i].object, LISTS[i].key, ids);
	}
	return !reader->no_memory;
}

bool rig_read_parts(rig_reader *reader, rig_parts *parts)
{
	static const struct {
		rig_object object;
		const char *key;
	} OF_PARTS[] = {{RIG_OBJECT_PART_PANEL, "panels"}, {RIG_OBJECT_PART_BATTERY, "batteries"},
		{RIG_OBJECT_PART_CONTROLLER, "controllers"},
		{RIG_OBJECT_PART_INVERTER, "inverters"},
		{RIG_OBJECT_PART_ALTERNATOR_CHARGER, "alternator_chargers"},
		{RIG_OBJECT_PART_FUSE, "fuses"}, {RIG_OBJECT_PART_CONDUCTOR, "conductors"}};
	if (!read_top(reader, RIG_OBJECT_PARTS, parts))
		return false;
	for (size_t i = 0; i < sizeof OF_PARTS / sizeof OF_PARTS[0] && !reader->no_memory; i++) {
		rig_ids ids = {.n = 0};
		collect_ids(reader, OF_PARTS[i].object, OF_PARTS[i].key, &ids);
	}
	return !reader->no_memory;
}
