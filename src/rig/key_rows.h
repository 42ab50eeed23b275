/* SPDX-License-Identifier: GPL-3.0-or-later */
/* key_rows.h: how rows of the key tables are written. For the tables only. */
#ifndef RIG_KEY_ROWS_H
#define RIG_KEY_ROWS_H

#include "rig/keys.h"

#define COUNT_OF(table) (sizeof(table) / sizeof((table)[0]))

/* Rows by kind. A row's first name is the field's, unless said. */
#define TEXT(type, field, doc, ...)                                                                \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_TEXT, .offset = offsetof(type, field),           \
		.what = (doc), .high = RIG_MAX_TEXT, __VA_ARGS__                                   \
	}
#define ID(type, doc)                                                                              \
	{                                                                                          \
		.name = {"id"}, .also = "key ref identifier", .kind = RIG_KEY_ID,                  \
		.required = true, .offset = offsetof(type, id), .what = (doc), .high = RIG_MAX_ID, \
		.example = "\"galley_1\""                                                          \
	}
#define NAME(type)                                                                                 \
	TEXT(type, name, "what people call it", .also = "label title", .example = "\"Galley\"")
#define NOTES(type)                                                                                \
	TEXT(type, notes, "anything worth keeping, for people only",                               \
		.also = "note comment comments remark remarks description // #",                   \
		.example = "\"Label behind the left door.\"")
#define REFERENCE(type, field, list, doc, ...)                                                     \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_REFERENCE, .offset = offsetof(type, field),      \
		.target = (list), .what = (doc), .high = RIG_MAX_TEXT, __VA_ARGS__                 \
	}
#define REFERENCES(type, field, list, doc, ...)                                                    \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_REFERENCES, .offset = offsetof(type, field),     \
		.count_offset = offsetof(type, n_##field), .target = (list), .what = doc,          \
		.high = 2000, __VA_ARGS__                                                          \
	}
#define YES_NO(type, field, doc, ...)                                                              \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_YES_NO, .offset = offsetof(type, field),         \
		.what = doc, .example = "true", __VA_ARGS__                                        \
	}
#define WHOLE(type, field, from, to, doc, ...)                                                     \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_WHOLE, .offset = offsetof(type, field),          \
		.low = (from), .high = (to), .what = doc, __VA_ARGS__                              \
	}
#define HOURS(type, from, to, doc_from, doc_to)                                                    \
	WHOLE(type, from, 0, 23, doc_from, .example = "18"),                                       \
		WHOLE(type, to, 0, 24, doc_to, .example = "22")
#define CHOICE(type, field, list, doc, ...)                                                        \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_CHOICE, .offset = offsetof(type, field),         \
		.words = (list), .what = doc, __VA_ARGS__                                          \
	}
#define FIGURE(type, field, unit_of, from, to, doc, ...)                                           \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_FIGURE, .offset = offsetof(type, field),         \
		.quantity = &(unit_of), .low = (from), .high = (to), .what = doc, __VA_ARGS__      \
	}
#define FIGURE_US(type, field, us, unit_of, from, to, doc, ...)                                    \
	{                                                                                          \
		.name = {#field, us}, .kind = RIG_KEY_FIGURE, .offset = offsetof(type, field),     \
		.quantity = &(unit_of), .low = (from), .high = (to), .what = doc, __VA_ARGS__      \
	}
#define OBJECT(type, field, thing, doc, ...)                                                       \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_OBJECT, .offset = offsetof(type, field),         \
		.object = (thing), .what = doc, __VA_ARGS__                                        \
	}
#define LIST(type, field, thing, most, doc, ...)                                                   \
	{                                                                                          \
		.name = {#field}, .kind = RIG_KEY_LIST, .offset = offsetof(type, field),           \
		.count_offset = offsetof(type, n_##field), .object = (thing), .high = (most),      \
		.what = doc, __VA_ARGS__                                                           \
	}
#define FILL(low, likely, high, words)                                                             \
	.filled = true, .fill = {low, likely, high}, .absent = (words)

#define UNIT(word)                                                                                 \
	{                                                                                          \
		.unit = { {word, 0, 1, 1} }                                                        \
	}

#endif
