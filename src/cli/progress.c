/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <stdio.h>
#include <time.h>
#include <unistd.h>

static const double PATIENCE_S = 1, STEP_S = 0.1;

static double now_s(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

cli_progress progress_begin(void)
{
	return (cli_progress){.on_terminal = isatty(STDERR_FILENO) == 1, .begun_s = now_s()};
}

void progress_end(cli_progress *it)
{
	if (it->shown)
		fputs("\r\033[K", stderr);
	it->shown = false;
}

/* Whether it is time for another line. */
static bool is_due(cli_progress *it)
{
	if (!it->on_terminal)
		return false;
	const double now = now_s();
	if (now - it->begun_s < PATIENCE_S || now - it->told_s < STEP_S)
		return false;
	it->told_s = now;
	it->shown = true;
	return true;
}

void progress_count(void *context, size_t n_done, size_t n_failed)
{
	cli_progress *it = context;
	if (!is_due(it))
		return;
	fprintf(stderr, "\r%zu %s, %zu with faults; %.0f a second\033[K", n_done,
		n_done == 1 ? "coach" : "coaches", n_failed,
		(double)n_done / (it->told_s - it->begun_s));
	fflush(stderr);
}

bool progress_tell(void *context, double done_frac)
{
	cli_progress *it = context;
	if (done_frac >= 1) {
		progress_end(it);
	} else if (is_due(it)) {
		fprintf(stderr, "\rtrips: %3.0f %% done", 100 * done_frac);
		fflush(stderr);
	}
	return true;
}
