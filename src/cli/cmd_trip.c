/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/stay.h"

int run_trip(const cli_options *options)
{
	cli_session session = {0};
	rig_trip_findings *findings = NULL;
	rig_document *document = NULL;
	rig_trip_options stay;
	int status = session_open(&session, options);
	if (status == EXIT_FINE)
		status = stay_of(&session, options, &stay);
	if (status != EXIT_FINE)
		goto out;
	rig_status result = rig_trip_study(session.coach, &session.place, &stay, &findings);
	const rig_report_options words = report_options(options);
	if (result == RIG_OK)
		result = rig_write_trip(session.coach, findings, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for(result);
out:
	rig_trip_free(findings);
	session_close(&session);
	return status;
}
