/* SPDX-License-Identifier: GPL-3.0-or-later */
/* compare.h: two coaches, or one coach at two dates: what differs in the files, and what that does
 * to the main figures of each study. Knows what differs, not why. */
#ifndef RIG_COMPARE_H
#define RIG_COMPARE_H

#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/shore.h"
#include "rigbudget/solar.h"
#include "rigbudget/trip.h"
#include "rigbudget/voltage.h"

/* ---- the files ---- */

typedef enum { RIG_CHANGE_ADDED, RIG_CHANGE_TAKEN_OUT, RIG_CHANGE_OTHER } rig_change_kind;

/* What stood at a key. Of a figure text is NULL and the three numbers are in the change's unit. */
typedef struct {
	bool given;
	const char *text;
	rig_figure figure;
} rig_change_value;

/* One key that differs, or a whole thing that only one of the two has. */
typedef struct {
	rig_change_kind kind;
	const char
		*path; /* "loads[fridge].running_w": a thing of a list by its id, else its name */
	const char *thing; /* what the key belongs to: its name, else its id; "" for the coach */
	const char *key;  /* as the later file writes it; of a whole thing, of the list or object */
	const char *what; /* what the key says, one sentence without a stop */
	const char *unit; /* of the figures; "" for a plain number */
	bool note;        /* words for people: no figure of any study hangs on it */
	rig_change_value before, after; /* not given for a whole thing */
} rig_change;

typedef struct {
	size_t n;
	const rig_change *rows; /* in the order of the later file's keys */
} rig_changes;

/* What differs between two stated coaches. Things of a list are paired by id, else by name, or else
 * by their order. A figure differs if its value, its origin or its note does. The rows own their
 * texts; *changes is to be freed with rig_changes_free and untouched unless RIG_OK. RIG_NO_MEMORY.
 */
rig_status rig_coach_changes(
	const rig_coach *before, const rig_coach *after, rig_changes **changes);
void rig_changes_free(rig_changes *changes);

/* ---- the findings ---- */

/* A main figure of a study. */
typedef enum {
	RIG_EFFECT_LEG_AMPS, /* of a set on a supply: the fuller hot, continuous loads at 125 % */
	RIG_EFFECT_COACH_VOLTS, /* of a set on a supply: the lower leg at the coach */
	RIG_EFFECT_HARVEST,     /* of the main bank in its worst month, Wh a day */
	RIG_EFFECT_STANDING,    /* the standing draw of the main bank, Wh a day */
	RIG_EFFECT_USE,         /* the chosen daily use of the main bank, Wh a day */
	RIG_EFFECT_USABLE,      /* usable energy of the main bank, Wh */
	RIG_EFFECT_DAYS_WITH,   /* until the stay's first shortage, with the panel */
	RIG_EFFECT_DAYS_WITHOUT,
	RIG_N_EFFECTS
} rig_effect_kind;

typedef struct {
	rig_effect_kind kind;
	const char *set;    /* NULL: all AC loads together, or a study without sets */
	const char *supply; /* id in the table of supplies; NULL without one */
	const char *unit;
	int before_month, after_month; /* 0 to 11 of a harvest; -1 */
	bool has_verdicts;             /* of amps */
	rig_shore_verdict before_verdict, after_verdict;
	rig_figure before, after; /* absent where that coach has none */
} rig_effect;

/* Findings of one coach; NULL for a study that was not made. */
typedef struct {
	const rig_shore_findings *shore;
	const rig_voltage_findings *voltage;
	const rig_solar_findings *solar;
	const rig_trip_findings *trip;
} rig_compared;

typedef struct {
	size_t n;
	const rig_effect *rows;
} rig_effects;

/* The main figures of two coaches side by side, also those that are the same: sets that both files
 * name, and everything together, on each supply that both may use; the main bank. Nothing is
 * subtracted: most of the doubt of the two is one and the same, so that the difference is surer
 * than either. *effects is to be freed with rig_effects_free and untouched unless RIG_OK; its texts
 * are the findings'. RIG_NO_MEMORY. */
rig_status rig_findings_effects(
	const rig_compared *before, const rig_compared *after, rig_effects **effects);
void rig_effects_free(rig_effects *effects);

/* Whether anything of it differs. */
bool rig_effect_differs(const rig_effect *effect);

#endif
