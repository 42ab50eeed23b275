/* SPDX-License-Identifier: GPL-3.0-or-later */
/* jsonscan.h: goes through a JSON text once, refuses what is wrong, and notes where each value and
 * key begins. For json.c only; the words for a fault are in jsonfault.c. */
#ifndef BASE_JSONSCAN_H
#define BASE_JSONSCAN_H

#include <stdint.h>

#include "base/json.h"

typedef struct {
	uint32_t line, column; /* from 1; 0 and 0 is no place */
} rig_json_place;

/* Places of all values in the order in which they begin: a parent before its members. */
typedef struct {
	struct rig_json_entry {
		rig_json_place value, key; /* key: members of objects only */
	} * entries;
	size_t n, room;
} rig_json_index;

/* RIG_BAD_INPUT: the first fault is in diags. RIG_NO_MEMORY. The index is to be freed in any case.
 * Numbers too large for a double are not found here. text has no byte order mark. */
rig_status rig_json_scan(const char *text, size_t length, rig_diags *diags, rig_json_index *index);

/* What the scanner waits for. */
typedef enum {
	RIG_JSON_WANT_VALUE,
	RIG_JSON_WANT_VALUE_OR_END, /* just after [ */
	RIG_JSON_WANT_KEY,
	RIG_JSON_WANT_KEY_OR_END, /* just after { */
	RIG_JSON_WANT_COLON,
	RIG_JSON_WANT_COMMA_OR_END /* after a value; at the top the end of the text */
} rig_json_want;

typedef struct {
	size_t at;
	rig_json_place place;
} rig_json_mark;

typedef struct {
	const char *text;
	size_t length, at;
	uint32_t line;
	size_t line_start; /* offset */
	size_t n_inner;    /* bytes since then that only continue a character */
	rig_json_want want;
	size_t depth;
	struct {
		char bracket;
		rig_json_mark mark;
	} open[RIG_JSON_MAX_DEPTH];
	rig_json_mark key;   /* the latest */
	rig_json_mark comma; /* the latest */
	bool after_number;   /* the latest value was one */
	rig_json_index *index;
	rig_diags *diags;
} rig_json_scanner;

rig_json_mark rig_json_here(const rig_json_scanner *scanner);

/* Length of the well-formed UTF-8 character at `at`, 1 to 4; 0 if it is malformed or cut off. */
size_t rig_json_character(const rig_json_scanner *scanner, size_t at);

/* The value of the four hexadecimal digits at `at`; -1 if they are not there. */
int rig_json_hex4(const rig_json_scanner *scanner, size_t at);

/* Each adds one fault and gives RIG_BAD_INPUT. */
rig_status rig_json_unexpected(const rig_json_scanner *scanner); /* at the scanner's place */
rig_status rig_json_unclosed(const rig_json_scanner *scanner);   /* the innermost bracket */
rig_status rig_json_bad_number(const rig_json_scanner *scanner, rig_json_mark start);
rig_status rig_json_bad_text(const rig_json_scanner *scanner, rig_json_mark start);
rig_status rig_json_bad_escape(const rig_json_scanner *scanner);
rig_status rig_json_over_limit(const rig_json_scanner *scanner, rig_json_mark mark,
	const char *what, int limit, const char *of);

#endif
