/* SPDX-License-Identifier: GPL-3.0-or-later */
/* crew.h: work that several threads share. Where the C library has no threads, one does it all. */
#ifndef BASE_CREW_H
#define BASE_CREW_H

#include <stdbool.h>
#include <stddef.h>

/* Calls work(context, worker) once on each of n_workers threads, worker 0 on the caller's own, and
 * comes back when all are done. Where a thread is not to be had, fewer work: what is to be done
 * must not be dealt out by worker. */
void crew_run(size_t n_workers, void (*work)(void *context, size_t worker), void *context);

/* Jobs that do not hang on each other; whoever is free takes the next. */
typedef struct {
	size_t n_workers, n_jobs;
	void *context;
	/* False: no further job is begun. */
	bool (*job)(void *context, size_t worker, size_t job);
	/* Told how many are done, never twice at once; false: no further job is begun. May be NULL.
	 */
	bool (*progress)(void *context, size_t n_done);
} crew_jobs;

/* Does them; false when some were left out. */
bool crew_do(const crew_jobs *jobs);

#endif
