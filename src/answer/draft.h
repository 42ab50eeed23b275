/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draft.h: a coach in the making, out of a few words or of answers. */
#ifndef ANSWER_DRAFT_H
#define ANSWER_DRAFT_H

#include <stdbool.h>

#include "rigbudget/coach.h"

enum { RIG_DRAFT_ID = 80, RIG_DRAFT_TEXT = 202, RIG_DRAFT_LOADS = 64 };

typedef struct {
	rig_coach coach;
	rig_load loads[RIG_DRAFT_LOADS];
	char load_ids[RIG_DRAFT_LOADS][RIG_DRAFT_ID];
	char profiles[RIG_DRAFT_LOADS][RIG_DRAFT_ID];
	rig_bank banks[2];
	rig_array array;
	char chemistry[RIG_DRAFT_ID];
	char name[RIG_DRAFT_TEXT];
	char place[RIG_DRAFT_TEXT];
} rig_draft;

/* Nothing in it yet. */
void rig_draft_clear(rig_draft *draft);
/* Adds a load of a profile; its id is the profile's, numbered from the second one on. NULL: there
 * is no room. */
rig_load *rig_draft_load(rig_draft *draft, const char *profile, int count);
/* Adds a bank that says nothing yet but this. Two fit. */
rig_bank *rig_draft_bank(
	rig_draft *draft, const char *id, rig_bank_role role, const char *chemistry);

typedef struct {
	const char *profile;
	int count;
} rig_draft_item;

/* The few words that make a first coach. What is NULL or 0 is filled with the usual. */
typedef struct {
	const char *name, *place;
	int cord_a;
	size_t n_loads;
	const rig_draft_item *loads;
	double bank_ah; /* of the house bank, at 12 V */
	const char *chemistry;
	double panel_w;
	bool panel_on_chassis; /* it feeds the chassis bank */
} rig_draft_words;

/* Whether there is a shore cord of so many amps. */
bool rig_draft_cord_fits(double cord_a);

/* Fills a clear draft. false: there is no room for another load, or a word is too long. */
bool rig_draft_fill(rig_draft *draft, const rig_draft_words *words);

/* The draft as a rig file. *text is what was written, to be freed with free(), also where reading
 * it back shows faults, so that they can be shown in it; NULL only without memory.
 * RIG_BAD_INPUT: such faults, in diags. RIG_NO_MEMORY. */
rig_status rig_draft_text(const rig_draft *draft, rig_diags *diags, char **text);

#endif
