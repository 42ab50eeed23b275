/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/buffer.h"
#include "rig/reader.h"

enum { MAX_SAYINGS = 100, MAX_FOUND = 60, MAX_PATH = 512 };

bool rig_still_kept(const rig_reader *reader)
{
	return rig_diags_faults(reader->diags) < MAX_SAYINGS;
}

const char *rig_words_of(rig_reader *reader, const char *format, ...)
{
	va_list arguments, again;
	char *text = NULL;
	va_start(arguments, format);
	va_copy(again, arguments);
	const int length = rig_still_kept(reader) ? vsnprintf(NULL, 0, format, arguments) : -1;
	if (length >= 0) {
		text = rig_arena_take(reader->arena, (size_t)length + 1, 1);
		reader->no_memory |= text == NULL;
	}
	if (text != NULL)
		vsnprintf(text, (size_t)length + 1, format, again);
	va_end(again);
	va_end(arguments);
	return text == NULL ? "" : text;
}

const char *rig_number_text(rig_reader *reader, double value)
{
	rig_buffer buffer = {0};
	rig_buffer_exact(&buffer, value);
	const char *text = rig_words_of(reader, "%s", buffer.text == NULL ? "" : buffer.text);
	rig_buffer_free(&buffer);
	return text;
}

/* Bytes of the text's first characters, at most most bytes. */
static int cut(const char *text, size_t most)
{
	size_t length = strlen(text);
	if (length > most) {
		length = most;
		while (length > 0 && ((unsigned char)text[length] & 0xC0) == 0x80)
			length--;
	}
	return (int)length;
}

const char *rig_found_text(rig_reader *reader, const cJSON *value)
{
	if (cJSON_IsString(value)) {
		const char *text = value->valuestring;
		const int length = cut(text, MAX_FOUND);
		return rig_words_of(
			reader, "\"%.*s%s\"", length, text, text[length] == '\0' ? "" : "...");
	}
	if (cJSON_IsNumber(value))
		return rig_number_text(reader, value->valuedouble);
	if (cJSON_IsBool(value))
		return cJSON_IsTrue(value) ? "true" : "false";
	if (cJSON_IsArray(value))
		return "a list";
	return cJSON_IsObject(value) ? "an object" : "null";
}

/* A limit in the file's unit; six digits tell it well enough. */
static const char *limit_text(rig_reader *reader, double limit)
{
	char text[32];
	snprintf(text, sizeof text, "%.6g", limit);
	for (char *at = text; *at != '\0'; at++)
		if (*at == ',')
			*at = '.'; /* the locale's */
	return rig_words_of(reader, "%s", text);
}

const char *rig_range_text(rig_reader *reader, const rig_key *key, unsigned unit)
{
	const bool figure = key->kind == RIG_KEY_FIGURE;
	const char *word = rig_key_unit(key, unit);
	return rig_words_of(reader, "%s from %s to %s%s%s", figure ? "a number" : "a whole number",
		limit_text(reader, figure ? rig_key_from_si(key, unit, key->low) : key->low),
		limit_text(reader, figure ? rig_key_from_si(key, unit, key->high) : key->high),
		*word == '\0' ? "" : " ", word);
}

const char *rig_mean_text(rig_reader *reader, const char *name)
{
	return name == NULL ? NULL : rig_words_of(reader, "did you mean \"%s\"?", name);
}

const char *rig_choices_text(rig_reader *reader, rig_words words)
{
	const char *text = "";
	for (size_t i = 0; words[i].text != NULL; i++) {
		const char *between = i == 0 ? "" : words[i + 1].text == NULL ? " or " : ", ";
		text = rig_words_of(reader, "%s%s%s", text, between, words[i].text);
	}
	return text;
}

typedef struct {
	char text[MAX_PATH];
	size_t length;
} path;

static void path_add(path *to, const char *text)
{
	const size_t length = strlen(text);
	if (to->length + length < sizeof to->text) {
		memcpy(to->text + to->length, text, length + 1);
		to->length += length;
	}
}

static void path_index(path *to, int index)
{
	char text[16];
	snprintf(text, sizeof text, "[%d]", index);
	path_add(to, text);
}

static void path_key(path *to, const char *key)
{
	if (to->length > 0)
		path_add(to, ".");
	if (strlen(key) < 80) {
		path_add(to, key);
		return;
	}
	char start[84];
	const int length = cut(key, 76);
	snprintf(start, sizeof start, "%.*s...", length, key);
	path_add(to, start);
}

static void path_record(path *to, const rig_reader *reader, int record)
{
	/* The file's objects stand at most three deep: coach, habit, use. */
	int chain[4], n = 0;
	for (int at = record; at >= 0 && n < 4; at = reader->records[at].up)
		chain[n++] = at;
	while (n-- > 0) {
		const rig_entry *step = &reader->records[chain[n]];
		if (step->key != NULL)
			path_key(to, step->key);
		if (step->index >= 0)
			path_index(to, step->index);
	}
}

/* The member or item, or, where it is not there under that name, what should hold it: a key that is
 * misspelt counts as given. */
static const cJSON *held_by(const cJSON *holder, const cJSON *held, bool *there)
{
	*there = *there && held != NULL;
	return *there ? held : holder;
}

static rig_where where_of(const rig_reader *reader, const rig_spot *spot, path *at)
{
	*at = (path){.length = 0};
	const cJSON *value = reader->records[spot->record].json;
	bool there = true;
	path_record(at, reader, spot->record);
	if (spot->key != NULL) {
		value = held_by(value, cJSON_GetObjectItemCaseSensitive(value, spot->key), &there);
		path_key(at, spot->key);
	}
	if (spot->item > 0) {
		value = held_by(value, cJSON_GetArrayItem(value, spot->item - 1), &there);
		path_index(at, spot->item - 1);
	}
	if (spot->part != NULL) {
		value = held_by(value, cJSON_GetObjectItemCaseSensitive(value, spot->part), &there);
		path_key(at, spot->part);
	}
	return spot->on_key && there ? rig_json_where_key(reader->json, value, at->text)
				     : rig_json_where(reader->json, value, at->text);
}

static void say(
	rig_reader *reader, rig_severity severity, const rig_spot *spot, const rig_saying *saying)
{
	path at;
	rig_diags_add(
		reader->diags, &(rig_diag){severity, where_of(reader, spot, &at), saying->what,
				       saying->found, saying->allowed, saying->mend});
}

void rig_say_fault(rig_reader *reader, const rig_spot *spot, const rig_saying *saying)
{
	reader->records[spot->record].clean = false;
	if (rig_still_kept(reader))
		say(reader, RIG_FAULT, spot, saying);
	else
		rig_fail(reader->diags, RIG_BAD_INPUT, (rig_where){0, 0, ""}, "more faults");
}

void rig_say_remark(rig_reader *reader, const rig_spot *spot, const rig_saying *saying)
{
	say(reader, RIG_REMARK, spot, saying);
}

const char *rig_given_name(const rig_reader *reader, int record, const char *name)
{
	unsigned unit = 0;
	const rig_object_keys *keys = rig_keys_of(reader->records[record].object);
	const int key = rig_key_find(keys, name, &unit);
	for (unsigned u = 0; key >= 0 && u < RIG_N_KEY_NAMES; u++) {
		const char *other = keys->keys[key].name[u];
		if (other != NULL && cJSON_GetObjectItemCaseSensitive(
					     reader->records[record].json, other) != NULL)
			return other;
	}
	return name;
}

bool rig_gives(const rig_reader *reader, int record, const char *name)
{
	unsigned unit = 0;
	const rig_entry *of = &reader->records[record];
	const int key = rig_key_find(rig_keys_of(of->object), name, &unit);
	return key >= 0 && (of->seen >> key & 1) != 0;
}
