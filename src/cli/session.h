/* SPDX-License-Identifier: GPL-3.0-or-later */
/* session.h: what every command that answers a question does: read the coach, find its place and
 * habit, and hand over the result. Each function that fails has said why on standard error and
 * returns the exit status. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include "cli/options.h"
#include "cli/progress.h"
#include "rigbudget/coach.h"
#include "rigbudget/report.h"
#include "rigbudget/weather.h"

typedef struct {
	bool tell_remarks; /* print what the reader assumed */
	rig_file *file;
	const rig_coach *coach; /* completed; belongs to file */
	rig_place place;
	bool has_place;
	int habit;                /* index; -1 for none */
	rig_hourly_year *weather; /* NULL without --weather */
	cli_progress progress;    /* of the study in hand */
} cli_session;

/* Reads what the options name. Start from {0}, or with tell_remarks; session_close is due in any
 * case. */
int session_open(cli_session *session, const cli_options *options);
void session_close(cli_session *session);

/* All that shore power is asked. */
typedef struct {
	rig_shore_findings *shore;
	rig_voltage_findings *voltage;
	rig_sources_findings *sources;
} shore_findings;

/* found starts as {0} and is to be freed with shore_free in any case. */
rig_status study_shore(const cli_session *session, shore_findings *found);
void shore_free(shore_findings *found);

/* Says that a question needs a place; returns EXIT_INPUT. */
int session_needs_place(const cli_options *options);

/* Prints the diagnostics of a text on standard error, each with its line of the text. */
void print_diags(const char *file, const char *text, size_t length, rig_diags *diags);

/* Says what went wrong inside; the exit status for it. */
int exit_for(rig_status status);

/* The same for a study or a writer of a coach that was read well. */
int exit_for_study(const cli_options *options, rig_status status);

/* Renders and writes a document as the options ask, then frees it. */
int hand_over(const cli_options *options, rig_document *document);

/* Writes a text where the options ask: a file or standard output. */
int write_result(const cli_options *options, const char *text, size_t length);

rig_report_options report_options(const cli_options *options);

#endif
