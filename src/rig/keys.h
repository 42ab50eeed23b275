/* SPDX-License-Identifier: GPL-3.0-or-later */
/* keys.h: the one description of the rig file. Reader, writer, completion, JSON Schema, manual and
 * "did you mean" all read these rows; a key is described here and nowhere else. */
#ifndef RIG_KEYS_H
#define RIG_KEYS_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/figure.h"

#define RIG_FORMAT "rigbudget/1"

enum {
	RIG_MAX_TEXT = 4096, /* bytes of one text of a rig file */
	RIG_MAX_ID = 64,     /* characters of an id */
	RIG_N_KEY_NAMES = 3  /* a key in SI and at most two in US units */
};

typedef enum {
	RIG_KEY_TEXT,       /* const char * */
	RIG_KEY_FORMAT,     /* const char *, the format of that kind of file and nothing else */
	RIG_KEY_ID,         /* const char *, unique in its list */
	RIG_KEY_REFERENCE,  /* const char *, an id of target */
	RIG_KEY_REFERENCES, /* const char **, ids of target, and a size_t at count_offset */
	RIG_KEY_YES_NO,     /* rig_choice */
	RIG_KEY_WHOLE,      /* int, -1 if absent */
	RIG_KEY_CHOICE,     /* an enum, 0 if absent */
	RIG_KEY_NUMBER,     /* int, one of the values of choices */
	RIG_KEY_FIGURE,     /* rig_figure */
	RIG_KEY_OBJECT,     /* a struct in the struct */
	RIG_KEY_LIST        /* a pointer to structs, and a size_t at count_offset */
} rig_key_kind;

/* What a reference names: a list of the same file, or a table of the library. */
typedef enum {
	RIG_TO_NOTHING,
	RIG_TO_CIRCUIT,
	RIG_TO_LOAD,
	RIG_TO_BANK,
	RIG_TO_ARRAY,
	RIG_TO_APPLIANCE,
	RIG_TO_CHEMISTRY,
	RIG_TO_PANEL_KIND,
	RIG_TO_CONDUCTOR,
	RIG_TO_PLACE,
	RIG_N_TARGETS
} rig_target;

/* One unit: SI value = (x - zero) * multiply / divide, in that order, so that whole feet and
 * degrees come out correctly rounded. */
typedef struct {
	const char *word; /* "ft"; "" for a bare number */
	double zero, multiply, divide;
} rig_unit;

typedef struct {
	rig_unit unit[RIG_N_KEY_NAMES]; /* in the order of the key's names */
} rig_quantity;

typedef struct {
	const char *text;
	int value;
} rig_word;

/* A few words of a choice; text is NULL after the last. */
typedef const rig_word *rig_words;

typedef enum {
	RIG_OBJECT_COACH,
	RIG_OBJECT_PLACE,
	RIG_OBJECT_SHORE,
	RIG_OBJECT_CIRCUIT,
	RIG_OBJECT_LOAD,
	RIG_OBJECT_BANK,
	RIG_OBJECT_ARRAY,
	RIG_OBJECT_INVERTER,
	RIG_OBJECT_CHARGER,
	RIG_OBJECT_DC_CHARGER,
	RIG_OBJECT_GENERATOR,
	RIG_OBJECT_ENERGY_MANAGEMENT,
	RIG_OBJECT_BODY,
	RIG_OBJECT_TOGETHER,
	RIG_OBJECT_HABIT,
	RIG_OBJECT_USE,
	RIG_OBJECT_WIRE,
	RIG_OBJECT_READING,
	RIG_OBJECT_CLAIM,
	RIG_N_OBJECTS, /* of a rig file */
	RIG_OBJECT_PARTS = RIG_N_OBJECTS,
	RIG_OBJECT_PART_PANEL,
	RIG_OBJECT_PART_BATTERY,
	RIG_OBJECT_PART_CONTROLLER,
	RIG_OBJECT_PART_INVERTER,
	RIG_OBJECT_PART_ALTERNATOR_CHARGER,
	RIG_OBJECT_PART_FUSE,
	RIG_OBJECT_PART_CONDUCTOR,
	RIG_N_ALL_OBJECTS
} rig_object;

typedef struct {
	const char *name[RIG_N_KEY_NAMES]; /* SI first; unused ones NULL */
	const char *also;                  /* wrong words that mean this key, separated by blanks */
	rig_key_kind kind;
	rig_target target;
	size_t offset;       /* in the object's struct */
	size_t count_offset; /* lists: of the size_t that counts the items */
	const rig_quantity *quantity;
	double low, high; /* allowed, SI; for lists the allowed number of items */
	rig_words words;
	const char *what;    /* one sentence without a stop */
	const char *example; /* JSON of the first name's value */
	const char *absent;  /* what completion puts in when the key is left out; NULL: nothing */
	double fill[3];      /* the figure (low, likely, high) or whole number it puts in, SI */
	rig_object object;   /* of RIG_KEY_OBJECT and of the items of RIG_KEY_LIST */
	bool filled;         /* fill holds */
	bool required;
} rig_key;

typedef struct {
	const char *name; /* "load" */
	const char *what; /* one sentence without a stop */
	size_t size;      /* of the struct */
	bool has_present; /* the struct starts with a bool that says whether the file has it */
	size_t n_keys;
	const rig_key *keys;
} rig_object_keys;

const rig_object_keys *rig_keys_of(rig_object object);
/* The same of the objects of a parts file, for rig_keys_of. */
const rig_object_keys *rig_keys_of_parts(rig_object object);
/* The one format that a file of this kind may state. object is the top one of a file. */
const char *rig_format_of(rig_object object);

/* Index of the key that has this name, or -1; *unit is which of its names it is. */
int rig_key_find(const rig_object_keys *keys, const char *name, unsigned *unit);
/* The name that a wrong one was probably meant to be, or NULL; *key is its index. */
const char *rig_key_suggest(const rig_object_keys *keys, const char *wrong, int *key);

double rig_key_to_si(const rig_key *key, unsigned unit, double value);
double rig_key_from_si(const rig_key *key, unsigned unit, double si);
/* The unit's word, such as "ft" or "". */
const char *rig_key_unit(const rig_key *key, unsigned unit);

/* The key's field in an object's struct. */
void *rig_key_field(const rig_key *key, void *object);
const void *rig_key_value(const rig_key *key, const void *object);

/* "circuit", "appliance profile", ... */
const char *rig_target_word(rig_target target);
/* The list of the command line that shows the table; the target is one. */
const char *rig_target_list(rig_target target);
/* Whether the target is a table of the library whose ids are these few; the places are too many,
 * and found by rig_place_find. */
bool rig_target_is_table(rig_target target);
size_t rig_target_count(rig_target target);
const char *rig_target_at(rig_target target, size_t i);
/* Index in the table, or -1. */
long rig_target_find(rig_target target, const char *id);

/* The words for the origin of a figure in a file; text is NULL after the last. */
extern const rig_word RIG_ORIGIN_WORDS[];

/* The keys of a figure that is written as an object: low, likely, high, from, note. */
enum { RIG_N_FIGURE_PARTS = 5 };
typedef struct {
	const char *text, *what;
} rig_figure_part;
extern const rig_figure_part RIG_FIGURE_PARTS[RIG_N_FIGURE_PARTS];

/* Makes all of an object's fields absent. */
void rig_object_clear(rig_object object, void *into);

#endif
