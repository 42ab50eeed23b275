/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draft.h: a coach in the making for `rigbudget new`, from options or from answers. */
#ifndef CLI_DRAFT_H
#define CLI_DRAFT_H

#include "cli/ask.h"
#include "cli/options.h"
#include "rigbudget/coach.h"

enum { DRAFT_ID = 80 };

typedef struct {
	rig_coach coach;
	rig_load loads[MAX_LOADS];
	char load_ids[MAX_LOADS][DRAFT_ID];
	char profiles[MAX_LOADS][DRAFT_ID];
	rig_bank banks[2];
	rig_array array;
	char chemistry[DRAFT_ID];
	char name[ASK_MAX_LINE + 2];
	char place[ASK_MAX_LINE + 2];
} coach_draft;

/* Adds a load of a profile; its id is the profile's, numbered from the second one on. NULL: there
 * is no room. */
rig_load *draft_load(coach_draft *draft, const char *profile, int count);
/* Adds a bank that says nothing yet but this. */
rig_bank *draft_bank(coach_draft *draft, const char *id, rig_bank_role role, const char *chemistry);

/* Fills a draft by questions. */
void draft_ask(coach_draft *draft, cli_asker *asker);

#endif
