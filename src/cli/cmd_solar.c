/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/session.h"

int run_solar(const cli_options *options)
{
	cli_session session = {0};
	rig_solar_findings *findings = NULL;
	rig_document *document = NULL;
	int status = session_open(&session, options);
	if (status == EXIT_FINE && !session.has_place)
		status = session_needs_place(options);
	if (status != EXIT_FINE)
		goto out;
	rig_solar_options asked = rig_solar_defaults();
	asked.month = options->month;
	asked.habit = session.habit;
	rig_status result = rig_solar_study(session.coach, &session.place, &asked, &findings);
	const rig_report_options words = report_options(options);
	if (result == RIG_OK)
		result = rig_write_solar(session.coach, findings, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for(result);
out:
	rig_solar_free(findings);
	session_close(&session);
	return status;
}
