/* SPDX-License-Identifier: GPL-3.0-or-later */
/* batch_window.h: lines that several threads make at once, written in the order of what they are
 * made of. Holds a bounded number of them. */
#ifndef CLI_BATCH_WINDOW_H
#define CLI_BATCH_WINDOW_H

#include "cli/batch_feed.h"
#include "cli/batch_line.h"

typedef struct {
	size_t n_lines, n_failed;
	int write_fault; /* errno of a line that could not be written; 0 */
	bool no_memory, no_lock;
} batch_count;

typedef struct {
	batch_feed *feed;
	const batch_wish *wish;
	size_t n_threads;
	int fd; /* where the lines go */
	/* Told after each stretch of lines, never twice at once; may be NULL. */
	void (*progress)(void *context, const batch_count *count);
	void *context;
} batch_work;

/* Makes and writes all lines, or up to the first that cannot be made or written. */
batch_count batch_run(const batch_work *work);

#endif
