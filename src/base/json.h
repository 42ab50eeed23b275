/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.h: strict JSON (RFC 8259, with unique keys, valid UTF-8, finite numbers) with the place of
 * every value. A scanner of ours refuses what is wrong; cJSON then builds the tree. */
#ifndef BASE_JSON_H
#define BASE_JSON_H

#include <cjson/cJSON.h>
#include <stddef.h>

#include "base/arena.h"
#include "rigbudget/diag.h"

enum {
	RIG_JSON_MAX_BYTES = 4 * 1024 * 1024,
	RIG_JSON_MAX_DEPTH = 64,
	RIG_JSON_MAX_VALUES = 400000,
	RIG_JSON_MAX_TEXT = 3 * 1024 * 1024 /* bytes of one string */
};

typedef struct rig_json rig_json;

/* Reads a text. One leading byte order mark is passed over.
 * RIG_BAD_INPUT: the first syntax fault, or every duplicate key, is in diags with its place.
 * RIG_NO_MEMORY. NULL into *json on failure. */
rig_status rig_json_read(const char *text, size_t length, rig_diags *diags, rig_json **json);
void rig_json_free(rig_json *json);

/* The tree; belongs to json. Do not change it. */
const cJSON *rig_json_root(const rig_json *json);
/* Place of a value (its first character), and of the key that names it (objects' members only).
 * path is given by the caller and only stored. */
rig_where rig_json_where(const rig_json *json, const cJSON *value, const char *path);
rig_where rig_json_where_key(const rig_json *json, const cJSON *member, const char *path);

#endif
