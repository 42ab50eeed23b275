/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_readings.c: readings of a table and of the command line, beside those of the file. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/file.h"
#include "cli/commands.h"
#include "cli/hand_over.h"
#include "cli/session.h"

/* Two thousand readings are far under this. */
enum { MAX_TABLE_BYTES = 1024 * 1024 };

typedef struct {
	size_t n_lists;
	rig_reading_list *lists[MAX_LOADS + 1];
	rig_reading *readings; /* of all lists, in order */
	size_t n;
} gathered;

static void free_gathered(gathered *all)
{
	for (size_t i = 0; i < all->n_lists; i++)
		rig_reading_list_free(all->lists[i]);
	free(all->readings);
}

static int gather_table(gathered *all, const char *path, const rig_coach *coach)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	rig_buffer text = {0};
	rig_reading_list *list = NULL;
	rig_status status = rig_file_read(path, MAX_TABLE_BYTES, &text, diags);
	if (status == RIG_OK)
		status = rig_reading_list_read(
			text.text != NULL ? text.text : "", text.length, coach, diags, &list);
	if (status == RIG_OK)
		all->lists[all->n_lists++] = list;
	else
		print_diags(path, text.text, text.length, diags);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return exit_for(status);
}

static int gather_words(gathered *all, const char *words, const rig_coach *coach)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	rig_reading_list *list = NULL;
	const rig_status status = rig_reading_list_words(words, coach, diags, &list);
	if (status == RIG_OK)
		all->lists[all->n_lists++] = list;
	else
		print_diags("--read", words, strlen(words), diags);
	rig_diags_free(diags);
	return status == RIG_BAD_INPUT ? EXIT_USAGE : exit_for(status);
}

static int join(gathered *all)
{
	size_t n = 0;
	for (size_t i = 0; i < all->n_lists; i++)
		n += rig_reading_list_count(all->lists[i]);
	all->readings = calloc(n + 1, sizeof *all->readings);
	if (all->readings == NULL)
		return exit_for(RIG_NO_MEMORY);
	for (size_t i = 0; i < all->n_lists; i++)
		for (size_t k = 0; k < rig_reading_list_count(all->lists[i]); k++)
			all->readings[all->n++] = *rig_reading_list_at(all->lists[i], k);
	return EXIT_FINE;
}

static int gather(gathered *all, const cli_options *options, const rig_coach *coach)
{
	int status = EXIT_FINE;
	if (options->table != NULL)
		status = gather_table(all, options->table, coach);
	for (size_t i = 0; i < options->n_reads && status == EXIT_FINE; i++)
		status = gather_words(all, options->reads[i], coach);
	return status == EXIT_FINE ? join(all) : status;
}

/* "2+0.2": per cent of the reading, and amps. */
static bool meter_of(const char *text, rig_answer_options *options)
{
	char *end;
	if (text == NULL)
		return true;
	const double percent = strtod(text, &end);
	const bool parted = end != text && (strncmp(end, "%+", 2) == 0 || *end == '+');
	const char *rest = parted ? strchr(end, '+') + 1 : "";
	const double amps = strtod(rest, &end);
	options->meter_frac = percent / 100.0;
	options->meter_a = amps;
	if (parted && end != rest && *end == '\0' && percent >= 0.0 && percent <= 50.0 &&
		amps > 0.0 && amps <= 50.0)
		return true;
	fprintf(stderr,
		"rigbudget readings: --meter takes PERCENT+AMPS such as 2+0.2, not: %s\n"
		"Try: rigbudget readings --help\n",
		text);
	return false;
}

/* The file with what the readings settled. */
static int write_accepted(
	const cli_options *options, const cli_session *session, const rig_answer_options *asked)
{
	rig_accepted accepted = {0};
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	const rig_status result = rig_answer_accept(session->file, asked, diags, &accepted);
	int status = exit_for_answer(options, result, diags);
	rig_diags_free(diags);
	if (status == EXIT_FINE)
		status = write_result(options, accepted.text, strlen(accepted.text));
	if (status == EXIT_FINE)
		fprintf(stderr,
			"%zu %s now measured; what stood there before is in the notes beside "
			"%s\n",
			accepted.n, accepted.n == 1 ? "figure is" : "figures are",
			accepted.n == 1 ? "it" : "them");
	free(accepted.text);
	return status;
}

int run_readings(const cli_options *options)
{
	cli_session session = {0};
	gathered all = {0};
	rig_answer_options asked = answer_options(&session, options);
	if (!meter_of(options->meter, &asked))
		return EXIT_USAGE;
	int status = session_open(&session, options);
	if (status == EXIT_FINE)
		status = gather(&all, options, session.coach);
	asked.n_readings = all.n;
	asked.readings = all.readings;
	if (status == EXIT_FINE)
		status = options->accept ? write_accepted(options, &session, &asked)
					 : session_answer(&session, options, "readings", &asked);
	free_gathered(&all);
	session_close(&session);
	return status;
}
