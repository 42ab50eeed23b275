/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_new.c: a rig file from a few words. Its text goes through the reader before it is written, so
 * that a wrong word is explained by the same sentences as a wrong file. */
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli/commands.h"
#include "cli/draft_ask.h"
#include "cli/hand_over.h"
#include "cli/session.h"

static bool complain(const char *what, const char *word)
{
	fprintf(stderr, "rigbudget new: %s: %s\nTry: rigbudget new --help\n", what, word);
	return false;
}

/* Splits "word:rest" at the first colon; rest is "" without one. */
static bool split(const char *text, char word[RIG_DRAFT_ID], const char **rest)
{
	const char *colon = strchr(text, ':');
	const size_t length = colon != NULL ? (size_t)(colon - text) : strlen(text);
	if (length == 0 || length >= RIG_DRAFT_ID)
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

/* What the words of the command line amount to, and where they are kept. */
typedef struct {
	rig_draft_words words;
	rig_draft_item items[MAX_LOADS];
	char profiles[MAX_LOADS][RIG_DRAFT_ID];
	char chemistry[RIG_DRAFT_ID];
} first_words;

static bool take_load(first_words *first, const char *word)
{
	const size_t i = first->words.n_loads;
	const char *rest;
	if (!split(word, first->profiles[i], &rest))
		return complain("--load takes ID or ID:COUNT, not", word);
	double count = 1.0;
	if (rest[0] != '\0' &&
		(!number_of(rest, &count) || count > 1000.0 || count != floor(count)))
		return complain("--load takes a whole number after the colon, not", word);
	first->items[i] = (rig_draft_item){first->profiles[i], (int)count};
	first->words.n_loads = i + 1;
	return true;
}

static bool take_bank(first_words *first, const char *word)
{
	char amp_hours[RIG_DRAFT_ID];
	const char *rest;
	if (!split(word, amp_hours, &rest) || !number_of(amp_hours, &first->words.bank_ah))
		return complain("--bank takes amp-hours, with :KIND if known, not", word);
	snprintf(first->chemistry, sizeof first->chemistry, "%s", rest);
	first->words.chemistry = rest[0] != '\0' ? first->chemistry : NULL;
	return true;
}

static bool take_panel(first_words *first, const char *word)
{
	char watts[RIG_DRAFT_ID];
	const char *rest;
	if (!split(word, watts, &rest) || !number_of(watts, &first->words.panel_w))
		return complain("--panel takes watts, with :house or :chassis, not", word);
	first->words.panel_on_chassis = strcmp(rest, "chassis") == 0;
	return rest[0] == '\0' || strcmp(rest, "house") == 0 || first->words.panel_on_chassis ||
	       complain("--panel feeds house or chassis, not", rest);
}

/* 0: none is given. */
static bool takes_cord(long amps)
{
	char word[24];
	snprintf(word, sizeof word, "%ld", amps);
	return amps == 0 || rig_draft_cord_fits((double)amps) ||
	       complain("--cord takes 15, 20, 30 or 50, not", word);
}

static bool fill(rig_draft *draft, const cli_options *options)
{
	first_words *first = calloc(1, sizeof *first);
	if (first == NULL)
		return complain("there is no memory for", "a coach");
	first->words = (rig_draft_words){.name = options->name,
		.place = options->place,
		.cord_a = (int)options->cord,
		.loads = first->items};
	bool right = takes_cord(options->cord);
	for (size_t i = 0; right && i < options->n_loads; i++)
		right = take_load(first, options->loads[i]);
	right = right && (options->bank == NULL || take_bank(first, options->bank)) &&
		(options->panel == NULL || take_panel(first, options->panel));
	if (right && !rig_draft_fill(draft, &first->words))
		right = complain("a word is too long, or there is no room for another load",
			options->name != NULL ? options->name : "");
	free(first);
	return right;
}

/* On a terminal, somebody who states nothing is asked. */
static bool wants_questions(const cli_options *options)
{
	const bool states = options->name != NULL || options->place != NULL || options->cord > 0 ||
			    options->n_loads > 0 || options->bank != NULL || options->panel != NULL;
	return options->ask || (!states && isatty(STDIN_FILENO));
}

/* Questions go to standard error, since the file may go to standard output. */
static bool make_draft(rig_draft *draft, const cli_options *options)
{
	rig_draft_clear(draft);
	if (!wants_questions(options))
		return fill(draft, options);
	cli_asker asker = {.in = stdin, .out = stderr};
	draft_ask(draft, &asker);
	return true;
}

int run_new(const cli_options *options)
{
	rig_draft *sketch = calloc(1, sizeof *sketch);
	rig_diags *diags = rig_diags_new();
	char *text = NULL;
	int status = EXIT_USAGE;
	if (sketch == NULL || diags == NULL) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	if (!make_draft(sketch, options))
		goto out;
	const rig_status read = rig_draft_text(sketch, diags, &text);
	if (read == RIG_OK) {
		status = write_result(options, text, strlen(text));
		goto out;
	}
	if (text != NULL)
		print_diags("the new file", text, strlen(text), diags);
	status = read == RIG_BAD_INPUT ? EXIT_USAGE : exit_for(read);
out:
	free(text);
	rig_diags_free(diags);
	free(sketch);
	return status;
}
