/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/commands.h"
#include "cli/session.h"

int run_shore(const cli_options *options)
{
	cli_session session = {0};
	rig_shore_findings *findings = NULL;
	rig_document *document = NULL;
	int status = session_open(&session, options);
	if (status != EXIT_FINE)
		goto out;
	rig_status result = rig_shore_study(session.coach, NULL, &findings);
	const rig_report_options words = report_options(options);
	if (result == RIG_OK)
		result = rig_write_shore(session.coach, findings, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for(result);
out:
	rig_shore_free(findings);
	session_close(&session);
	return status;
}
