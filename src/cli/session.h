/* SPDX-License-Identifier: GPL-3.0-or-later */
/* session.h: what every command that answers a question does: read the coach, put the question, and
 * hand over the result. Each function that fails has said why on standard error and returns the
 * exit status. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include "cli/options.h"
#include "cli/progress.h"
#include "rigbudget/answer.h"

typedef struct {
	bool tell_remarks; /* print what the reader assumed */
	rig_file *file;
	const rig_coach *coach;   /* completed; belongs to file */
	rig_hourly_year *weather; /* NULL without --weather */
	rig_parts_file *parts;    /* NULL without --parts */
	cli_progress progress;    /* of the study in hand */
} cli_session;

/* Reads what the options name. Start from {0}, or with tell_remarks; session_close is due in any
 * case. */
int session_open(cli_session *session, const cli_options *options);
void session_close(cli_session *session);

/* What the options say to a question. Good as long as both live. */
rig_answer_options answer_options(cli_session *session, const cli_options *options);

/* Puts a question and hands over the answer. */
int session_answer(const cli_session *session, const cli_options *options, const char *question,
	const rig_answer_options *asked);

/* Prints why a question was not answered; the exit status for it. */
int exit_for_answer(const cli_options *options, rig_status status, rig_diags *diags);

/* Prints the diagnostics of a text on standard error, each with its line of the text. */
void print_diags(const char *file, const char *text, size_t length, rig_diags *diags);

/* Says what went wrong inside; the exit status for it. */
int exit_for(rig_status status);

#endif
