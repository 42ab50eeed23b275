/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "suites.h"

/* Standard error, kept in a file while something is said. */
static FILE *said;
static int kept;

static void listen(void)
{
	said = tmpfile();
	ck_assert_ptr_nonnull(said);
	fflush(stderr);
	kept = dup(STDERR_FILENO);
	dup2(fileno(said), STDERR_FILENO);
}

static void hear(char *text, size_t room)
{
	fflush(stderr);
	dup2(kept, STDERR_FILENO);
	close(kept);
	rewind(said);
	text[fread(text, 1, room - 1, said)] = '\0';
	fclose(said);
}

/* The monotonic clock is never so far behind. */
static const double LONG_AGO_S = -1000;
/* Nor so far ahead. */
static const double FAR_AHEAD_S = 1e18;

static cli_progress terminal(double begun_s)
{
	return (cli_progress){.on_terminal = true, .begun_s = begun_s, .told_s = LONG_AGO_S};
}

START_TEST(a_long_study_tells_its_share_and_wipes_the_line)
{
	char text[200];
	cli_progress progress = terminal(LONG_AGO_S);
	listen();
	const bool goes_on = progress_tell(&progress, 0.256);
	const bool ends_well = progress_tell(&progress, 1);
	hear(text, sizeof text);
	ck_assert(goes_on && ends_well);
	ck_assert_str_eq(text, "\rtrips:  26 % done\r\033[K");
	ck_assert(!progress.shown);
}
END_TEST

START_TEST(work_that_is_counted_tells_its_faults)
{
	char text[200];
	cli_progress progress = terminal(LONG_AGO_S);
	listen();
	progress_count(&progress, 1234, 5);
	progress_end(&progress);
	hear(text, sizeof text);
	ck_assert_msg(strncmp(text, "\r1234 coaches, 5 with faults; ", 30) == 0, "%s", text);
	ck_assert_ptr_nonnull(strstr(text, " a second\033[K\r\033[K"));
}
END_TEST

static const struct {
	const char *when;
	cli_progress progress;
} SILENT[] = {{"no terminal is there", {.on_terminal = false, .begun_s = -1000, .told_s = -1000}},
	{"the first second is not over", {.on_terminal = true, .begun_s = 1e18, .told_s = -1000}},
	{"it was told a moment ago", {.on_terminal = true, .begun_s = -1000, .told_s = 1e18}}};

START_TEST(nothing_is_said_too_soon)
{
	char text[200];
	cli_progress progress = SILENT[_i].progress;
	listen();
	progress_tell(&progress, 0.5);
	progress_count(&progress, 1, 0);
	progress_tell(&progress, 1);
	hear(text, sizeof text);
	ck_assert_msg(text[0] == '\0', "%s: %s", SILENT[_i].when, text);
}
END_TEST

START_TEST(it_begins_with_nothing_shown)
{
	const cli_progress progress = progress_begin();
	ck_assert(!progress.shown);
	ck_assert(progress.begun_s > LONG_AGO_S && progress.begun_s < FAR_AHEAD_S);
	ck_assert_int_eq(progress.on_terminal, isatty(STDERR_FILENO) == 1);
}
END_TEST

Suite *progress_suite(void);
Suite *progress_suite(void)
{
	Suite *suite = suite_create("progress");
	TCase *all = tcase_create("all");
	tcase_add_test(all, a_long_study_tells_its_share_and_wipes_the_line);
	tcase_add_test(all, work_that_is_counted_tells_its_faults);
	tcase_add_loop_test(all, nothing_is_said_too_soon, 0, COUNT(SILENT));
	tcase_add_test(all, it_begins_with_nothing_shown);
	suite_add_tcase(suite, all);
	return suite;
}
