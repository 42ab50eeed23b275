/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reader.h: a parsed text -> the coach as stated, and for each object where it stood and what it
 * gave, so that later checks can point at it. */
#ifndef RIG_READER_H
#define RIG_READER_H

#include <stdbool.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/json.h"
#include "rig/keys.h"
#include "rigbudget/coach.h"
#include "rigbudget/parts.h"

/* One object of the file. */
typedef struct {
	rig_object object;
	const cJSON *json;
	void *into;      /* its struct */
	int up;          /* record it stands in; -1 for the coach */
	const char *key; /* its key there; NULL for the coach */
	int index;       /* its place in a list, or -1 */
	uint64_t seen;   /* bit i: the file gives, or clearly means, key i */
	bool clean;      /* nothing of its own is wrong */
} rig_entry;

typedef struct {
	const char *id;
	int index;
} rig_named;

/* The ids of one list, sorted. */
typedef struct {
	size_t n;
	rig_named *sorted;
	bool whole; /* every item has an id, so that an unknown id is the fault of who uses it */
} rig_ids;

typedef struct {
	rig_arena *arena;
	const rig_json *json;
	rig_diags *diags;
	rig_coach *coach;
	rig_entry *records; /* in order of reading; the caller frees it with free() */
	int n_records, room;
	int first[RIG_N_ALL_OBJECTS]; /* first record of each object, -1 if there is none; the items
				     of a list whose items hold no lists follow one another */
	rig_ids ids[RIG_N_TARGETS];   /* of the targets that are lists of the file */
	bool no_memory;
} rig_reader;

/* Fills reader->coach from the tree; faults go to the diags. The caller has set arena, json, diags
 * and coach, the rest to 0. False: nothing more can be checked. */
bool rig_read_coach(rig_reader *reader);
/* The same of a parts file; the caller sets no coach. */
bool rig_read_parts(rig_reader *reader, rig_parts *parts);

/* Checks what single values cannot show: ids that nothing has, things named twice; and then what
 * contradicts something else of the file. */
void rig_check_references(rig_reader *reader);
void rig_check_consistency(rig_reader *reader);
/* A claim says one thing, and all that belongs to it. */
void rig_check_claim(rig_reader *reader, int record);

/* Index of an id in its list, or -1. */
int rig_ids_find(const rig_ids *ids, const char *id);

/* Reads one value into its field. where: the record, the name that the file gives the key, which
 * unit that is. Gives whether it was right. */
typedef struct {
	int record;
	const char *name;
	unsigned unit;
} rig_value_place;

bool rig_read_value(
	rig_reader *reader, const rig_value_place *place, const rig_key *key, const cJSON *value);

/* Where a saying points. */
typedef struct {
	int record;
	const char *key;  /* as the file calls it; NULL: the whole object */
	const char *part; /* key of a figure's object; NULL: the whole value */
	int item;         /* item of the key's list, counted from 1; 0: the whole value */
	bool on_key;      /* at the key, not at the value */
} rig_spot;

/* What it says. NULL is "". */
typedef struct {
	const char *what, *found, *allowed, *mend;
} rig_saying;

/* Adds a fault, and marks the record as not clean. */
void rig_say_fault(rig_reader *reader, const rig_spot *spot, const rig_saying *saying);
void rig_say_remark(rig_reader *reader, const rig_spot *spot, const rig_saying *saying);

/* A text in the arena; "" when memory is out, which is then remembered, or when the list of sayings
 * is full. */
const char *rig_words_of(rig_reader *reader, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* What stands in the file, in a few words: `"thirty"`, `12.5`, `a list`. */
const char *rig_found_text(rig_reader *reader, const cJSON *value);
/* `a number from 0 to 24 h`. */
const char *rig_range_text(rig_reader *reader, const rig_key *key, unsigned unit);
const char *rig_number_text(rig_reader *reader, double value);
/* `did you mean "x"` or NULL. */
const char *rig_mean_text(rig_reader *reader, const char *name);
/* `ac or dc`. */
const char *rig_choices_text(rig_reader *reader, rig_words words);
/* Whether sayings are still kept; when not, no work should go into making them. */
bool rig_still_kept(const rig_reader *reader);

/* Name under which a record gives the key with this first name; the first name if it does not. */
const char *rig_given_name(const rig_reader *reader, int record, const char *name);
/* Whether the record gives, or clearly means, the key with this first name. */
bool rig_gives(const rig_reader *reader, int record, const char *name);

#endif
