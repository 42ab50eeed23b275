/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_question.c: the commands that put a question of answer.h to a file. */
#include "cli/commands.h"
#include "cli/session.h"

static int run_question(const cli_options *options, const char *question)
{
	cli_session session = {0};
	int status = session_open(&session, options);
	if (status == EXIT_FINE) {
		const rig_answer_options asked = answer_options(&session, options);
		status = session_answer(&session, options, question, &asked);
	}
	session_close(&session);
	return status;
}

int run_shore(const cli_options *options)
{
	return run_question(options, "shore");
}

int run_shed(const cli_options *options)
{
	return run_question(options, "shed");
}

int run_claims(const cli_options *options)
{
	return run_question(options, "claims");
}

int run_solar(const cli_options *options)
{
	return run_question(options, "solar");
}

int run_trip(const cli_options *options)
{
	return run_question(options, "trip");
}

int run_oneline(const cli_options *options)
{
	return run_question(options, "oneline");
}

int run_report(const cli_options *options)
{
	return run_question(options, "report");
}
