/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sites.h: the places in the code that allocate, told apart by who called whom, and a failure at
 * each of them. What does the work must ask for the same pieces in the same order every time. */
#ifndef FAULTS_SITES_H
#define FAULTS_SITES_H

#include <stdbool.h>

typedef struct {
	long n_allocations, n_sites;
	long n_failed;    /* allocations that failed, each in a process of its own */
	long n_wrong;     /* of those, that did not end well */
	long first_wrong; /* the allocation, from 0 */
} site_count;

/* Does the work twice: to note the places; then, at the first and the last allocation of
 * every `every`-th of them, with a child that goes on without it, and for odd ones without any that
 * follows. work() says whether all is right, and whether pieces stay is seen here. */
bool sites_fail(
	bool (*work)(const void *context), const void *context, int every, site_count *count);

#endif
