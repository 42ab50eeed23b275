/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pack.h: the parts of the tool that checks profiles/ and writes it as C. Runs on the building
 * machine only; no part of the library. */
#ifndef RIG_PACK_H
#define RIG_PACK_H

#include "base/buffer.h"
#include "base/json.h"

/* One profile file on its way into C. */
typedef struct {
	rig_json *json;
	rig_diags *diags;
	rig_buffer *out;
} pack;

/* Notes a fault at a value. */
#define PACK_FAULT(p, value, ...)                                                                  \
	((void)rig_fail(                                                                           \
		(p)->diags, RIG_BAD_INPUT, rig_json_where((p)->json, (value), ""), __VA_ARGS__))

/* The member of an object; a fault and NULL if it is missing. */
const cJSON *pack_member(const pack *p, const cJSON *object, const char *key);
/* Text of a member, at least one character; "" after a fault. */
const char *pack_text(const pack *p, const cJSON *object, const char *key);
/* A number, or low, likely and high in a list, in order and within the limits; false after a
 * fault. */
bool pack_figure(const pack *p, const cJSON *value, const double limits[2], double figure[3]);
/* Adds the text as a C string literal. */
void pack_quote(rig_buffer *out, const char *text);
/* Adds a rig_figure from a profile as a C initializer; source may be NULL. */
void pack_add_figure(rig_buffer *out, const double figure[3], const char *source);
/* Notes a fault for every member of an object that is not among the keys. */
void pack_refuse_others(
	const pack *p, const cJSON *object, const char *const keys[], size_t n_keys);

/* Checks all of a folder of profiles and writes profile_tables.c and place_tables.c into another.
 * False: each fault was said on standard error with its place. */
bool pack_all(const char *profiles_folder, const char *out_folder);

/* Checks places.json and adds its tables. */
void pack_places(const pack *p, const cJSON *root);

#endif
