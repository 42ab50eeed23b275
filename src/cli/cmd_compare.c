/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_compare.c: two files, and what their differences do to the answers. */
#include <stdio.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/hand_over.h"
#include "cli/session.h"

static int answer_both(const cli_session *before, cli_session *after, const cli_options *options)
{
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	const rig_answer_options asked = answer_options(after, options);
	const rig_status result =
		rig_answer_compare(before->file, after->file, &asked, diags, &document);
	const int status = result == RIG_OK ? hand_over(options, document)
					    : exit_for_answer(options, result, diags);
	rig_diags_free(diags);
	return status;
}

int run_compare(const cli_options *options)
{
	cli_session before = {0}, after = {0};
	cli_options second = *options;
	second.arguments = options->arguments + 1;
	if (strcmp(options->arguments[0], "-") == 0 && strcmp(options->arguments[1], "-") == 0) {
		fputs("rigbudget compare: only one of the two can be standard input\n", stderr);
		return EXIT_USAGE;
	}
	int status = session_open(&before, options);
	if (status == EXIT_FINE)
		status = session_open(&after, &second);
	if (status == EXIT_FINE)
		status = answer_both(&before, &after, options);
	session_close(&before);
	session_close(&after);
	return status;
}
