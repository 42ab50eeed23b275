/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_new.c: a rig file from a few words. Its text goes through the reader before it is written, so
 * that a wrong word is explained by the same sentences as a wrong file. */
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/session.h"

enum { MAX_ID = 80 };

typedef struct {
	rig_coach coach;
	rig_load loads[MAX_LOADS];
	char load_ids[MAX_LOADS][MAX_ID];
	char profiles[MAX_LOADS][MAX_ID];
	rig_bank banks[2];
	rig_array array;
	char chemistry[MAX_ID];
} new_coach;

static bool complain(const char *what, const char *word)
{
	fprintf(stderr, "rigbudget new: %s: %s\nTry: rigbudget new --help\n", what, word);
	return false;
}

/* Splits "word:rest" at the first colon; rest is "" without one. */
static bool split(const char *text, char word[MAX_ID], const char **rest)
{
	const char *colon = strchr(text, ':');
	const size_t length = colon != NULL ? (size_t)(colon - text) : strlen(text);
	if (length == 0 || length >= MAX_ID)
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

static bool add_load(new_coach *draft, const char *word)
{
	const size_t i = draft->coach.n_loads;
	const char *rest;
	if (!split(word, draft->profiles[i], &rest))
		return complain("--load takes ID or ID:COUNT, not", word);
	double count = 1.0;
	if (rest[0] != '\0' &&
		(!number_of(rest, &count) || count > 1000.0 || count != floor(count)))
		return complain("--load takes a whole number after the colon, not", word);
	size_t same = 0;
	for (size_t k = 0; k < i; k++)
		same += strcmp(draft->profiles[k], draft->profiles[i]) == 0;
	char id[MAX_ID];
	memcpy(id, draft->profiles[i], sizeof id);
	const size_t length = strlen(id) < MAX_ID - 8 ? strlen(id) : MAX_ID - 8;
	if (same > 0)
		snprintf(id + length, sizeof id - length, "-%zu", same + 1);
	memcpy(draft->load_ids[i], id, sizeof id);
	draft->loads[i] = (rig_load){.id = draft->load_ids[i],
		.profile = draft->profiles[i],
		.count = (int)count,
		.from_hour = -1,
		.to_hour = -1,
		.priority = -1};
	draft->coach.n_loads = i + 1;
	return true;
}

static rig_bank empty_bank(const char *id, rig_bank_role role, const char *chemistry)
{
	return (rig_bank){
		.id = id, .role = role, .chemistry = chemistry, .series = -1, .parallel = -1};
}

static bool add_bank(new_coach *draft, const char *word)
{
	char amp_hours[MAX_ID];
	const char *rest;
	double ah;
	if (!split(word, amp_hours, &rest) || !number_of(amp_hours, &ah))
		return complain("--bank takes amp-hours, with :KIND if known, not", word);
	snprintf(draft->chemistry, sizeof draft->chemistry, "%s",
		rest[0] != '\0' ? rest : "flooded");
	rig_bank *bank = &draft->banks[draft->coach.n_banks++];
	*bank = empty_bank("house", RIG_HOUSE, draft->chemistry);
	bank->capacity_ah = rig_figure_of(ah, RIG_FROM_STATED);
	return true;
}

static bool add_panel(new_coach *draft, const char *word)
{
	char watts[MAX_ID];
	const char *rest;
	double watts_w;
	if (!split(word, watts, &rest) || !number_of(watts, &watts_w))
		return complain("--panel takes watts, with :house or :chassis, not", word);
	const char *bank = rest[0] != '\0' ? rest : "house";
	if (strcmp(bank, "chassis") == 0)
		draft->banks[draft->coach.n_banks++] =
			empty_bank("chassis", RIG_CHASSIS, "starting");
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

static bool fill(new_coach *draft, const cli_options *options)
{
	static const char *const USUAL[] = {"roof_ac_13k5", "microwave_800", "water_heater_element",
		"fridge_absorption_control", "led_light:6", "water_pump", "lp_detector"};
	enum { N_USUAL = sizeof USUAL / sizeof USUAL[0] };
	rig_coach *coach = &draft->coach;
	coach->format = "rigbudget/1";
	coach->name = options->name != NULL ? options->name : "Our coach";
	coach->site.name = options->place != NULL ? options->place : "Flagstaff";
	coach->cord_a = options->cord > 0 ? (int)options->cord : 30;
	coach->loads = draft->loads;
	coach->banks = draft->banks;
	const bool usual = options->n_loads == 0;
	for (size_t i = 0; i < (usual ? N_USUAL : options->n_loads); i++)
		if (!add_load(draft, usual ? USUAL[i] : options->loads[i]))
			return false;
	return add_bank(draft, options->bank != NULL ? options->bank : "80:flooded") &&
	       (options->panel == NULL || add_panel(draft, options->panel));
}

int run_new(const cli_options *options)
{
	new_coach *sketch = calloc(1, sizeof *sketch);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	char *text = NULL;
	int status = EXIT_USAGE;
	if (sketch == NULL || diags == NULL) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	if (!fill(sketch, options))
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
