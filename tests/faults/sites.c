/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sites.h"

#include <execinfo.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "failing.h"

enum { N_FRAMES = 12, N_ROOMS = 1 << 16, MOST_ALLOCATIONS = 1 << 22 };

/* One way through the code to an allocation. */
typedef struct {
	uint64_t stack; /* 0: none */
	long first, last;
} allocation_site;

/* Nothing of this is allocated: who allocates is asked here. */
static allocation_site sites[N_ROOMS]; /* by hash */
static unsigned char marks[MOST_ALLOCATIONS];
static site_count counted;
static long now; /* allocations so far */
static bool is_child;

static uint64_t stack_now(void)
{
	void *frames[N_FRAMES];
	const int n = backtrace(frames, N_FRAMES);
	uint64_t hash = 14695981039346656037U; /* FNV-1a */
	for (int i = 0; i < n; i++)
		hash = (hash ^ (uint64_t)(uintptr_t)frames[i]) * 1099511628211U;
	return hash | 1;
}

/* Asked at each allocation of the first time. */
static bool note(void)
{
	const uint64_t stack = stack_now();
	size_t at = stack / 2 % N_ROOMS;
	while (sites[at].stack != 0 && sites[at].stack != stack)
		at = (at + 1) % N_ROOMS;
	if (sites[at].stack == 0) {
		sites[at] = (allocation_site){.stack = stack, .first = now};
		counted.n_sites++;
	}
	sites[at].last = now;
	now++;
	if (now == MOST_ALLOCATIONS || counted.n_sites == N_ROOMS)
		abort();
	return false;
}

static void mark(int every)
{
	long n = 0;
	memset(marks, 0, sizeof marks);
	for (size_t i = 0; i < N_ROOMS; i++) {
		if (sites[i].stack == 0 || n++ % every != 0)
			continue;
		marks[sites[i].first] = 1;
		marks[sites[i].last] = 1;
	}
}

/* Asked at each allocation of the second time; true in a child only. */
static bool fail_if_marked(void)
{
	const long at = now++;
	if (at >= MOST_ALLOCATIONS || !marks[at])
		return false;
	const pid_t child = fork();
	if (child == 0) {
		is_child = true;
		failing_ask(NULL);
		if (at % 2 == 1)
			failing_after(0, true);
		return true;
	}
	int status = -1;
	counted.n_failed++;
	if (child < 0 || waitpid(child, &status, 0) != child || status != 0) {
		counted.first_wrong = counted.n_wrong == 0 ? at : counted.first_wrong;
		counted.n_wrong++;
	}
	return false;
}

bool sites_fail(
	bool (*work)(const void *context), const void *context, int every, site_count *count)
{
	memset(sites, 0, sizeof sites);
	counted = (site_count){0};
	(void)stack_now(); /* loads what it needs */
	now = 0;
	failing_ask(note);
	bool right = work(context);
	failing_ask(NULL);
	counted.n_allocations = now;
	mark(every);
	const long n_live = failing_n_live();
	now = 0;
	failing_ask(fail_if_marked);
	right = work(context) && right;
	failing_ask(NULL);
	if (is_child)
		_exit(right && failing_n_live() == n_live ? EXIT_SUCCESS : EXIT_FAILURE);
	*count = counted;
	return right && now == counted.n_allocations;
}
