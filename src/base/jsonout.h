/* SPDX-License-Identifier: GPL-3.0-or-later */
/* jsonout.h: building a cJSON tree and writing it as text. cJSON's own printer loses digits of one
 * double in six; this one loses none. Memory that is out is remembered in the maker, so that a
 * writer checks once, at the end; nothing leaks on the way. */
#ifndef BASE_JSONOUT_H
#define BASE_JSONOUT_H

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/buffer.h"

typedef struct {
	bool failed; /* memory was out at some point; the tree is then not complete */
	bool unmade; /* nothing is added: for a writer of whom only the figures' check is wanted */
} rig_json_maker;    /* start with {0} */

/* The top of a tree; free it with cJSON_Delete. NULL when memory is out. */
cJSON *rig_json_new_object(rig_json_maker *maker);
cJSON *rig_json_new_array(rig_json_maker *maker);

/* Each adds a value under a key of an object, or at the end of an array, where key is NULL. A
 * parent of NULL (one that memory was out for) adds nothing. Keys are copied. Keys that are there
 * already are not looked for: adding one twice makes a wrong text. value   finite text    UTF-8;
 * NULL adds null */
cJSON *rig_json_add_object(rig_json_maker *maker, cJSON *parent, const char *key);
cJSON *rig_json_add_array(rig_json_maker *maker, cJSON *parent, const char *key);
void rig_json_add_number(rig_json_maker *maker, cJSON *parent, const char *key, double value);
void rig_json_add_text(rig_json_maker *maker, cJSON *parent, const char *key, const char *text);
void rig_json_add_truth(rig_json_maker *maker, cJSON *parent, const char *key, bool truth);
void rig_json_add_null(rig_json_maker *maker, cJSON *parent, const char *key);
/* An array of numbers. */
void rig_json_add_numbers(
	rig_json_maker *maker, cJSON *parent, const char *key, size_t n, const double *values);
/* Any item, which then belongs to the parent; it is deleted if it cannot be added. NULL (memory was
 * out for it) is remembered. */
void rig_json_add_item(rig_json_maker *maker, cJSON *parent, const char *key, cJSON *item);

/* Appends a tree as text: two spaces an indent, a line for each member, exact numbers, a newline at
 * the end. On one line, where it fits in 100 columns: an array of plain values, and an object of
 * plain values that is named by a key. A longer array of plain values fills its lines. A number
 * that is not finite becomes null. Depth at most RIG_JSON_MAX_DEPTH of json.h. Memory that is out:
 * buffer->failed. */
void rig_json_render(const cJSON *tree, rig_buffer *buffer);

/* The same with every object of no more than two plain values on one line, where it fits: for long
 * lists of them. */
void rig_json_render_pairs(const cJSON *tree, rig_buffer *buffer);

/* The same in one line, without blanks or a newline. */
void rig_json_render_line(const cJSON *tree, rig_buffer *buffer);

/* Appends a text as a JSON string with its quotes. */
void rig_json_render_text(rig_buffer *buffer, const char *text);

#endif
