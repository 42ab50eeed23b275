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

bool progress_tell(void *context, double done_frac)
{
	cli_progress *it = context;
	const double now = now_s();
	if (!it->on_terminal)
		return true;
	if (done_frac >= 1) {
		if (it->shown)
			fputs("\r                    \r", stderr);
		it->shown = false;
		return true;
	}
	if (now - it->begun_s < PATIENCE_S || now - it->told_s < STEP_S)
		return true;
	fprintf(stderr, "\rtrips: %3.0f %% done", 100 * done_frac);
	fflush(stderr);
	it->told_s = now;
	it->shown = true;
	return true;
}
