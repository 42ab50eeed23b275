/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_new.c: a rig file from a few words. Its text goes through the reader before it is written, so
 * that a wrong word is explained by the same sentences as a wrong file. */
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/hand_over.h"
#include "cli/commands.h"
#include "cli/draft.h"
#include "cli/session.h"

static bool complain(const char *what, const char *word)
{
	fprintf(stderr, "rigbudget new: %s: %s\nTry: rigbudget new --help\n", what, word);
	return false;
}

/* Splits "word:rest" at the first colon; rest is "" without one. */
static bool split(const char *text, char word[DRAFT_ID], const char **rest)
{
	const char *colon = strchr(text, ':');
	const size_t length = colon != NULL ? (size_t)(colon - text) : strlen(text);
	if (length == 0 || length >= DRAFT_ID)
		return false;
	memcpy(word, text, length);
	word[length] = '\0';
	*rest = colon != NULL ? colon + 1 : "";
	return true;
}

static bool number_of(const char *word, double *value)
{
	char *end;
	*value = strtod(word, &end);
	return end != word && *end == '\0' && isfinite(*value) && *value > 0.0;
}

rig_load *draft_load(coach_draft *draft, const char *profile, int count)
{
	const size_t i = draft->coach.n_loads;
	if (i == MAX_LOADS || strlen(profile) >= DRAFT_ID)
		return NULL;
	size_t same = 0;
	for (size_t k = 0; k < i; k++)
		same += strcmp(draft->profiles[k], profile) == 0;
	snprintf(draft->profiles[i], DRAFT_ID, "%s", profile);
	snprintf(draft->load_ids[i], DRAFT_ID, "%s", profile);
	const size_t length = strlen(profile) < DRAFT_ID - 8 ? strlen(profile) : DRAFT_ID - 8;
	if (same > 0)
		snprintf(draft->load_ids[i] + length, DRAFT_ID - length, "-%zu", same + 1);
	rig_load *load = &draft->loads[i];
	*load = (rig_load){.id = draft->load_ids[i],
		.profile = draft->profiles[i],
		.count = count,
		.from_hour = -1,
		.to_hour = -1,
		.priority = -1};
	draft->coach.n_loads = i + 1;
	return load;
}

rig_bank *draft_bank(coach_draft *draft, const char *id, rig_bank_role role, const char *chemistry)
{
	rig_bank *bank = &draft->banks[draft->coach.n_banks++];
	*bank = (rig_bank){
		.id = id, .role = role, .chemistry = chemistry, .series = -1, .parallel = -1};
	/* of a starting battery nobody asks for more: one of about 800 cold-cranking amps */
	if (role == RIG_CHASSIS)
		bank->capacity_ah = rig_figure_range(55.0, 85.0, 135.0, RIG_FROM_ESTIMATED);
	return bank;
}

static bool add_load(coach_draft *draft, const char *word)
{
	char profile[DRAFT_ID];
	const char *rest;
	if (!split(word, profile, &rest))
		return complain("--load takes ID or ID:COUNT, not", word);
	double count = 1.0;
	if (rest[0] != '\0' &&
		(!number_of(rest, &count) || count > 1000.0 || count != floor(count)))
		return complain("--load takes a whole number after the colon, not", word);
	return draft_load(draft, profile, (int)count) != NULL ||
	       complain("there is no room for another load", word);
}

static bool add_bank(coach_draft *draft, const char *word)
{
	char amp_hours[DRAFT_ID];
	const char *rest;
	double ah;
	if (!split(word, amp_hours, &rest) || !number_of(amp_hours, &ah))
		return complain("--bank takes amp-hours, with :KIND if known, not", word);
	snprintf(draft->chemistry, sizeof draft->chemistry, "%s",
		rest[0] != '\0' ? rest : "flooded");
	draft_bank(draft, "house", RIG_HOUSE, draft->chemistry)->capacity_ah =
		rig_figure_of(ah, RIG_FROM_STATED);
	return true;
}

static bool add_panel(coach_draft *draft, const char *word)
{
	char watts[DRAFT_ID];
	const char *rest;
	double watts_w;
	if (!split(word, watts, &rest) || !number_of(watts, &watts_w))
		return complain("--panel takes watts, with :house or :chassis, not", word);
	const char *bank = rest[0] != '\0' ? rest : "house";
	if (strcmp(bank, "chassis") == 0)
		draft_bank(draft, "chassis", RIG_CHASSIS, "starting");
	else if (strcmp(bank, "house") != 0)
		return complain("--panel feeds house or chassis, not", bank);
	draft->array = (rig_array){.id = "roof",
		.bank = strcmp(bank, "chassis") == 0 ? "chassis" : "house",
		.count = -1,
		.watts_w = rig_figure_of(watts_w, RIG_FROM_STATED)};
	draft->coach.arrays = &draft->array;
	draft->coach.n_arrays = 1;
	return true;
}

static bool fill(coach_draft *draft, const cli_options *options)
{
	static const char *const USUAL[] = {"roof_ac_13k5", "microwave_800", "water_heater_element",
		"fridge_absorption_control", "led_light:6", "water_pump", "lp_detector"};
	enum { N_USUAL = sizeof USUAL / sizeof USUAL[0] };
	rig_coach *coach = &draft->coach;
	coach->name = options->name != NULL ? options->name : "Our coach";
	coach->site.name = options->place != NULL ? options->place : "Flagstaff";
	coach->cord_a = options->cord > 0 ? (int)options->cord : 30;
	const bool usual = options->n_loads == 0;
	for (size_t i = 0; i < (usual ? N_USUAL : options->n_loads); i++)
		if (!add_load(draft, usual ? USUAL[i] : options->loads[i]))
			return false;
	return add_bank(draft, options->bank != NULL ? options->bank : "80:flooded") &&
	       (options->panel == NULL || add_panel(draft, options->panel));
}

/* On a terminal, somebody who states nothing is asked. */
static bool wants_questions(const cli_options *options)
{
	const bool states = options->name != NULL || options->place != NULL || options->cord > 0 ||
			    options->n_loads > 0 || options->bank != NULL || options->panel != NULL;
	return options->ask || (!states && isatty(STDIN_FILENO));
}

/* Questions go to standard error, since the file may go to standard output. */
static bool make_draft(coach_draft *draft, const cli_options *options)
{
	draft->coach.format = "rigbudget/1";
	draft->coach.loads = draft->loads;
	draft->coach.banks = draft->banks;
	if (!wants_questions(options))
		return fill(draft, options);
	cli_asker asker = {.in = stdin, .out = stderr};
	draft_ask(draft, &asker);
	return true;
}

int run_new(const cli_options *options)
{
	coach_draft *sketch = calloc(1, sizeof *sketch);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	char *text = NULL;
	int status = EXIT_USAGE;
	if (sketch == NULL || diags == NULL) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	if (!make_draft(sketch, options))
		goto out;
	text = rig_coach_text(&sketch->coach);
	if (text == NULL) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	const rig_status read = rig_file_parse(text, strlen(text), diags, &file);
	if (read != RIG_OK) {
		print_diags("the new file", text, strlen(text), diags);
		status = read == RIG_BAD_INPUT ? EXIT_USAGE : exit_for(read);
		goto out;
	}
	status = write_result(options, text, strlen(text));
out:
	free(text);
	rig_file_free(file);
	rig_diags_free(diags);
	free(sketch);
	return status;
}
