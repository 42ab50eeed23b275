/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/jsonout.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "base/json.h"

enum { INDENT = 2, LAST_COLUMN = 100 };

static cJSON *remember(rig_json_maker *maker, cJSON *item)
{
	if (item == NULL)
		maker->failed = true;
	return item;
}

cJSON *rig_json_new_object(rig_json_maker *maker)
{
	return remember(maker, cJSON_CreateObject());
}

cJSON *rig_json_new_array(rig_json_maker *maker)
{
	return remember(maker, cJSON_CreateArray());
}

/* The item, or NULL if it was deleted. */
static cJSON *attach(rig_json_maker *maker, cJSON *parent, const char *key, cJSON *item)
{
	bool added = false;
	if (parent != NULL && item != NULL) {
		assert((key != NULL) == (cJSON_IsObject(parent) != 0));
		added = key == NULL ? cJSON_AddItemToArray(parent, item)
				    : cJSON_AddItemToObject(parent, key, item);
	}
	if (added)
		return item;
	cJSON_Delete(item);
	maker->failed = true;
	return NULL;
}

cJSON *rig_json_add_object(rig_json_maker *maker, cJSON *parent, const char *key)
{
	return maker->unmade ? NULL : attach(maker, parent, key, cJSON_CreateObject());
}

cJSON *rig_json_add_array(rig_json_maker *maker, cJSON *parent, const char *key)
{
	return maker->unmade ? NULL : attach(maker, parent, key, cJSON_CreateArray());
}

void rig_json_add_number(rig_json_maker *maker, cJSON *parent, const char *key, double value)
{
	assert(isfinite(value));
	if (!maker->unmade)
		attach(maker, parent, key, cJSON_CreateNumber(value));
}

void rig_json_add_text(rig_json_maker *maker, cJSON *parent, const char *key, const char *text)
{
	if (!maker->unmade)
		attach(maker, parent, key,
			text == NULL ? cJSON_CreateNull() : cJSON_CreateString(text));
}

void rig_json_add_truth(rig_json_maker *maker, cJSON *parent, const char *key, bool truth)
{
	if (!maker->unmade)
		attach(maker, parent, key, cJSON_CreateBool(truth));
}

void rig_json_add_null(rig_json_maker *maker, cJSON *parent, const char *key)
{
	if (!maker->unmade)
		attach(maker, parent, key, cJSON_CreateNull());
}

void rig_json_add_numbers(
	rig_json_maker *maker, cJSON *parent, const char *key, size_t n, const double *values)
{
	cJSON *array = rig_json_add_array(maker, parent, key);
	for (size_t i = 0; i < n && array != NULL; i++)
		rig_json_add_number(maker, array, NULL, values[i]);
}

void rig_json_add_item(rig_json_maker *maker, cJSON *parent, const char *key, cJSON *item)
{
	attach(maker, parent, key, item);
}

/* The escape of a byte that cannot stand for itself, or NULL. */
static const char *escape(unsigned char byte, char room[8])
{
	static const char DIGIT[] = "0123456789abcdef";
	switch (byte) {
	case '"':
		return "\\\"";
	case '\\':
		return "\\\\";
	case '\n':
		return "\\n";
	case '\r':
		return "\\r";
	case '\t':
		return "\\t";
	default:
		break;
	}
	if (byte >= 0x20)
		return NULL;
	memcpy(room, "\\u00", 4);
	room[4] = DIGIT[byte >> 4];
	room[5] = DIGIT[byte & 15];
	room[6] = '\0';
	return room;
}

void rig_json_render_text(rig_buffer *buffer, const char *text)
{
	char room[8];
	rig_buffer_add_bytes(buffer, "\"", 1);
	const char *plain = text;
	for (; *text != '\0'; text++) {
		const char *instead = escape((unsigned char)*text, room);
		if (instead == NULL)
			continue;
		rig_buffer_add_bytes(buffer, plain, (size_t)(text - plain));
		rig_buffer_add(buffer, instead);
		plain = text + 1;
	}
	rig_buffer_add_bytes(buffer, plain, (size_t)(text - plain));
	rig_buffer_add_bytes(buffer, "\"", 1);
}

static bool is_plain(const cJSON *value)
{
	return !cJSON_IsArray(value) && !cJSON_IsObject(value);
}

static bool all_plain(const cJSON *parent)
{
	for (const cJSON *it = parent->child; it != NULL; it = it->next) {
		if (!is_plain(it))
			return false;
	}
	return true;
}

static void render_plain(const cJSON *value, rig_buffer *buffer)
{
	if (cJSON_IsString(value))
		rig_json_render_text(buffer, value->valuestring);
	else if (cJSON_IsRaw(value))
		rig_buffer_add(buffer, value->valuestring);
	else if (cJSON_IsNumber(value) && isfinite(value->valuedouble))
		rig_buffer_exact(buffer, value->valuedouble);
	else if (cJSON_IsBool(value))
		rig_buffer_add(buffer, cJSON_IsTrue(value) ? "true" : "false");
	else
		rig_buffer_add(buffer, "null");
}

static void render_key(const cJSON *member, rig_buffer *buffer)
{
	if (member->string == NULL)
		return;
	rig_json_render_text(buffer, member->string);
	rig_buffer_add(buffer, ": ");
}

static void new_line(rig_buffer *buffer, size_t depth)
{
	static const char BLANKS[] = "                                ";
	enum { N_BLANKS = sizeof BLANKS - 1 };
	rig_buffer_add_bytes(buffer, "\n", 1);
	for (size_t left = depth * INDENT, n; left > 0; left -= n) {
		n = left < N_BLANKS ? left : N_BLANKS;
		rig_buffer_add_bytes(buffer, BLANKS, n);
	}
}

/* Columns used on the last line, in characters. */
static size_t column(const rig_buffer *buffer)
{
	size_t n = 0;
	for (size_t i = buffer->length; i > 0 && buffer->text[i - 1] != '\n'; i--)
		n += ((unsigned char)buffer->text[i - 1] & 0xC0) != 0x80;
	return n;
}

/* All on one line, or nothing: takes itself back if it does not fit. */
static bool render_line(const cJSON *parent, rig_buffer *buffer)
{
	const bool object = cJSON_IsObject(parent);
	const size_t before = buffer->length;
	const size_t used = column(buffer);
	rig_buffer_add(buffer, object ? "{" : "[");
	for (const cJSON *it = parent->child; it != NULL; it = it->next) {
		render_key(it, buffer);
		render_plain(it, buffer);
		if (it->next != NULL)
			rig_buffer_add(buffer, ", ");
		if (buffer->length - before > 4 * (size_t)LAST_COLUMN)
			break;
	}
	rig_buffer_add(buffer, object ? "}" : "]");
	/* a comma may follow */
	const bool fits = used + 1 < LAST_COLUMN && column(buffer) < LAST_COLUMN;
	if (!fits && !buffer->failed) {
		buffer->length = before;
		buffer->text[before] = '\0';
	}
	return fits || buffer->failed;
}

/* Plain values that are too many for a line fill several. */
static void render_filled(const cJSON *array, size_t depth, rig_buffer *buffer)
{
	rig_buffer_add(buffer, "[");
	new_line(buffer, depth + 1);
	size_t line_used = (depth + 1) * INDENT;
	for (const cJSON *it = array->child; it != NULL && !buffer->failed; it = it->next) {
		const size_t before = buffer->length;
		if (it != array->child)
			rig_buffer_add(buffer, " ");
		render_plain(it, buffer);
		if (it->next != NULL)
			rig_buffer_add(buffer, ",");
		const size_t used = buffer->length - before;
		if (it == array->child || line_used + used <= LAST_COLUMN) {
			line_used += used;
			continue;
		}
		buffer->length = before;
		new_line(buffer, depth + 1);
		render_plain(it, buffer);
		if (it->next != NULL)
			rig_buffer_add(buffer, ",");
		line_used = (depth + 1) * INDENT + used - 1;
	}
	new_line(buffer, depth);
	rig_buffer_add(buffer, "]");
}

/* How a tree is laid out. */
typedef struct {
	rig_buffer *buffer;
	bool pairs; /* objects of no more than two plain values stand on one line anywhere */
} layout;

static void render(const layout *as, const cJSON *value, size_t depth);

static void render_members(const layout *as, const cJSON *parent, size_t depth)
{
	rig_buffer *buffer = as->buffer;
	const bool object = cJSON_IsObject(parent);
	rig_buffer_add(buffer, object ? "{" : "[");
	for (const cJSON *it = parent->child; it != NULL && !buffer->failed; it = it->next) {
		new_line(buffer, depth + 1);
		render_key(it, buffer);
		render(as, it, depth + 1);
		if (it->next != NULL)
			rig_buffer_add(buffer, ",");
	}
	new_line(buffer, depth);
	rig_buffer_add(buffer, object ? "}" : "]");
}

static bool is_pair(const cJSON *value)
{
	return value->child != NULL &&
	       (value->child->next == NULL || value->child->next->next == NULL);
}

static void render(const layout *as, const cJSON *value, size_t depth)
{
	assert(depth <= RIG_JSON_MAX_DEPTH);
	const bool may_be_line =
		value->child == NULL || cJSON_IsArray(value) ||
		(depth > 0 && (value->string != NULL || (as->pairs && is_pair(value))));
	if (is_plain(value))
		render_plain(value, as->buffer);
	else if (may_be_line && all_plain(value) && render_line(value, as->buffer))
		return;
	else if (cJSON_IsArray(value) && all_plain(value))
		render_filled(value, depth, as->buffer);
	else
		render_members(as, value, depth);
}

void rig_json_render(const cJSON *tree, rig_buffer *buffer)
{
	render(&(layout){buffer, false}, tree, 0);
	rig_buffer_add(buffer, "\n");
}

void rig_json_render_pairs(const cJSON *tree, rig_buffer *buffer)
{
	render(&(layout){buffer, true}, tree, 0);
	rig_buffer_add(buffer, "\n");
}

static void render_tight(const cJSON *value, size_t depth, rig_buffer *buffer)
{
	assert(depth <= RIG_JSON_MAX_DEPTH);
	if (is_plain(value)) {
		render_plain(value, buffer);
		return;
	}
	const bool object = cJSON_IsObject(value);
	rig_buffer_add_bytes(buffer, object ? "{" : "[", 1);
	for (const cJSON *it = value->child; it != NULL && !buffer->failed; it = it->next) {
		if (it->string != NULL && object) {
			rig_json_render_text(buffer, it->string);
			rig_buffer_add_bytes(buffer, ":", 1);
		}
		render_tight(it, depth + 1, buffer);
		if (it->next != NULL)
			rig_buffer_add_bytes(buffer, ",", 1);
	}
	rig_buffer_add_bytes(buffer, object ? "}" : "]", 1);
}

void rig_json_render_line(const cJSON *tree, rig_buffer *buffer)
{
	render_tight(tree, 0, buffer);
}
