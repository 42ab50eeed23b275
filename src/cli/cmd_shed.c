/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "cli/commands.h"
#include "cli/session.h"
#include "rigbudget/shed.h"

/* "30A", "30a", "30" or "generator" as the study wants it; NULL if it is none of them. */
static const char *supply_of(const char *word)
{
	if (strcasecmp(word, "generator") == 0)
		return "generator";
	char *end;
	const double amps = strtod(word, &end);
	for (size_t i = 0; i < rig_n_supplies(); i++) {
		const rig_supply *supply = rig_supply_at(i);
		if (strcasecmp(word, supply->id) == 0 ||
			(*end == '\0' && amps == supply->breaker_a))
			return supply->id;
	}
	return NULL;
}

static int complain_supply(const char *word)
{
	fprintf(stderr,
		"rigbudget shed: there is no supply \"%s\"; there are 50A, 30A, 20A, 15A and "
		"generator\n",
		word);
	return EXIT_USAGE;
}

static int days_of(const cli_session *session, const cli_options *options, rig_shed_options *days)
{
	*days = rig_shed_defaults();
	days->weather = (rig_shed_weather)options->day;
	days->habit = session->habit;
	if (options->supply != NULL) {
		days->supply = supply_of(options->supply);
		if (days->supply == NULL)
			return complain_supply(options->supply);
	}
	if (options->days > 0)
		days->n_days = (size_t)options->days;
	if (days->n_order_days > days->n_days)
		days->n_order_days = days->n_days;
	if (options->seed >= 0)
		days->seed = (uint64_t)options->seed;
	return EXIT_FINE;
}

int run_shed(const cli_options *options)
{
	cli_session session = {0};
	rig_shed_options days;
	rig_shed_findings *findings = NULL;
	rig_document *document = NULL;
	int status = session_open(&session, options);
	if (status == EXIT_FINE)
		status = days_of(&session, options, &days);
	if (status != EXIT_FINE)
		goto out;
	rig_status result = rig_shed_study(session.coach, &days, &findings);
	if (result == RIG_NOT_FOUND) {
		fprintf(stderr, "%s: %s\n", options->arguments[0],
			options->supply != NULL
				? "the file names no generator with its watts"
				: "no supply fits the cord of the file; give --supply");
		status = EXIT_INPUT;
		goto out;
	}
	const rig_report_options words = report_options(options);
	if (result == RIG_OK)
		result = rig_write_shed(session.coach, findings, &words, &document);
	status = result == RIG_OK ? hand_over(options, document) : exit_for_study(options, result);
out:
	rig_shed_free(findings);
	session_close(&session);
	return status;
}
