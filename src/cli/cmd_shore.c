/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <strings.h>

#include "base/suggest.h"
#include "cli/commands.h"
#include "cli/session.h"

static const char *id_at(const void *context, size_t i)
{
	return ((const rig_coach *)context)->loads[i].id;
}

/* The id of the load that a word names by id or by name. */
static int find_load(const cli_session *session, const cli_options *options, const char **id)
{
	const rig_coach *coach = session->coach;
	for (size_t i = 0; i < coach->n_loads; i++) {
		const rig_load *load = &coach->loads[i];
		if (strcasecmp(load->id, options->let_run) != 0 &&
			(load->name == NULL || strcasecmp(load->name, options->let_run) != 0))
			continue;
		*id = load->id;
		if (load->supply == RIG_AC)
			return EXIT_FINE;
		fprintf(stderr, "%s: load \"%s\" runs on a battery, not on shore power\n",
			options->arguments[0], load->id);
		return EXIT_INPUT;
	}
	const char *near = rig_suggest(options->let_run, coach->n_loads, id_at, coach);
	fprintf(stderr, "%s: there is no load \"%s\"%s%s%s\n", options->arguments[0],
		options->let_run, near != NULL ? "; did you mean " : "", near != NULL ? near : "",
		near != NULL ? "?" : "");
	return EXIT_INPUT;
}

int run_shore(const cli_options *options)
{
	cli_session session = {0};
	shore_findings found = {0};
	rig_document *document = NULL;
	rig_report_options words = report_options(options);
	int status = session_open(&session, options);
	if (status == EXIT_FINE && options->let_run != NULL)
		status = find_load(&session, options, &words.run);
	if (status != EXIT_FINE)
		goto out;
	rig_status result = study_shore(&session, &found);
	const rig_report_findings all = {
		.shore = found.shore, .voltage = found.voltage, .sources = found.sources};
	if (result == RIG_OK)
		result = rig_report(session.coach, &all, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for_study(options, result);
out:
	shore_free(&found);
	session_close(&session);
	return status;
}
