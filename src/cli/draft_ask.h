/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draft_ask.h: a coach in the making for `rigbudget new`, from answers. */
#ifndef CLI_DRAFT_ASK_H
#define CLI_DRAFT_ASK_H

#include "answer/draft.h"
#include "cli/ask.h"

/* Fills a clear draft by questions. */
void draft_ask(rig_draft *draft, cli_asker *asker);

#endif
