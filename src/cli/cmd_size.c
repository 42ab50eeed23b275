/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_size.c: an upgrade off a parts list; or the rig file of one of its options. */
#include <stdlib.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/hand_over.h"
#include "cli/session.h"

static rig_size_words words(const cli_options *options)
{
	return (rig_size_words){.months = options->months,
		.keep = options->keep,
		.replace = options->replace,
		.loads = {options->n_loads, options->loads},
		.roof = options->roof,
		.obstacles = {options->n_obstacles, options->obstacles},
		.gap = options->gap,
		.battery_room = options->battery_room,
		.max_price = options->price_max,
		.max_weight = options->weight_max,
		.max_area = options->area_max,
		.max_panels = options->most_panels,
		.max_batteries = options->most_batteries,
		.runs = options->runs,
		.compare = options->compare};
}

static int write_option(
	const cli_session *session, const cli_options *options, const rig_answer_options *asked)
{
	rig_diags *diags = rig_diags_new();
	char *text = NULL;
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	const rig_status result = rig_answer_option(
		session->file, asked, (size_t)options->write_option - 1, diags, &text);
	const int status = result == RIG_OK ? write_result(options, text, strlen(text))
					    : exit_for_answer(options, result, diags);
	free(text);
	rig_diags_free(diags);
	return status;
}

int run_size(const cli_options *options)
{
	cli_session session = {0};
	int status = session_open(&session, options);
	if (status == EXIT_FINE) {
		rig_answer_options asked = answer_options(&session, options);
		asked.wish = words(options);
		status = options->write_option > 0
				 ? write_option(&session, options, &asked)
				 : session_answer(&session, options, "size", &asked);
	}
	session_close(&session);
	return status;
}
