/* SPDX-License-Identifier: GPL-3.0-or-later */
/* progress.h: a line on a terminal's standard error that says how far a long study is. */
#ifndef CLI_PROGRESS_H
#define CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
	bool on_terminal, shown;
	double begun_s, told_s;
} cli_progress;

cli_progress progress_begin(void);

/* For rig_trip_options: context is a cli_progress. Says nothing in the first second, then ten times
 * a second at most, and wipes its line at the end. Always true. */
bool progress_tell(void *context, double done_frac);

/* The same for work that is counted: coaches done, and those among them with faults. */
void progress_count(void *context, size_t n_done, size_t n_failed);
/* Wipes the line. */
void progress_end(cli_progress *progress);

#endif
