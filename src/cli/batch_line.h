/* SPDX-License-Identifier: GPL-3.0-or-later */
/* batch_line.h: what one coach of many is answered, as one line of JSON. */
#ifndef CLI_BATCH_LINE_H
#define CLI_BATCH_LINE_H

#include "base/buffer.h"
#include "cli/batch_feed.h"
#include "rigbudget/answer.h"

enum { BATCH_MAX_QUESTIONS = 16 };

typedef struct {
	size_t n_questions;
	const char *questions[BATCH_MAX_QUESTIONS];
	bool full; /* with all findings, as the single command's JSON has them */
	rig_answer_options options;
} batch_wish;

/* Adds the line, with its newline. The result says whether every question was answered:
 * RIG_BAD_INPUT where one was not, and the line says why. RIG_NO_MEMORY: there is no whole line. */
rig_status batch_line(const batch_wish *wish, const batch_record *record, rig_buffer *line);

#endif
