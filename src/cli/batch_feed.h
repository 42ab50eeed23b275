/* SPDX-License-Identifier: GPL-3.0-or-later */
/* batch_feed.h: coaches one after another, out of files that are named or of lines on standard
 * input. Holds one at a time. */
#ifndef CLI_BATCH_FEED_H
#define CLI_BATCH_FEED_H

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/buffer.h"
#include "rigbudget/diag.h"

/* One coach as it came. */
typedef struct {
	const char *file; /* NULL for a line */
	rig_buffer text;
	rig_status status; /* RIG_OK, or why there is no text; the words are in diags */
	rig_diags *diags;
} batch_record;

void batch_record_free(batch_record *record);

typedef struct batch_feed batch_feed;

/* n files, or with none the lines of a file descriptor. NULL when memory is out.
 *   ends   set by a signal: no further record is given */
batch_feed *batch_feed_new(char *const *files, size_t n, int fd, const volatile sig_atomic_t *ends);
void batch_feed_free(batch_feed *feed);

/* The next record, which then is the caller's; false at the end. Blank lines are passed over. A
 * line or a file that is too long, or a file that cannot be read, is a record with a fault. */
bool batch_feed_next(batch_feed *feed, batch_record *record);
/* Why lines ended before the end of the input, as errno; 0 if they did not. */
int batch_feed_fault(const batch_feed *feed);

#endif
