/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_size.c: an upgrade off a parts list; or the rig file of one of its options. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "cli/commands.h"
#include "cli/hand_over.h"
#include "cli/session.h"

enum { MAX_WORD = 200, ALL_YEAR = 12 };

typedef struct {
	const char *ending;
	double si;
} unit;

/* Feet, inches and pounds by definition. */
static const unit LENGTHS[] = {
	{"mm", 0.001}, {"cm", 0.01}, {"m", 1}, {"ft", 0.3048}, {"in", 0.0254}, {NULL, 0}};
static const unit WEIGHTS[] = {{"kg", 1}, {"lb", 0.45359237}, {NULL, 0}};
static const unit AREAS[] = {{"m2", 1}, {"ft2", 0.09290304}, {NULL, 0}};
static const unit PLAIN[] = {{"", 1}, {NULL, 0}};

static bool complain(const char *option, const char *such_as, const char *word)
{
	fprintf(stderr,
		"rigbudget size: --%s takes a value such as %s, not: %s\n"
		"Try: rigbudget size --help\n",
		option, such_as, word);
	return false;
}

/* Reads a number with its unit at *at and moves past it; false: there is none. */
static bool take(const char **at, const unit units[], double *value)
{
	char *end;
	const double number = strtod(*at, &end);
	if (end == *at || !isfinite(number) || number < 0)
		return false;
	const unit *best = NULL;
	for (const unit *it = units; it->ending != NULL; it++)
		if (strncasecmp(end, it->ending, strlen(it->ending)) == 0 &&
			(best == NULL || strlen(it->ending) > strlen(best->ending)))
			best = it;
	if (best == NULL)
		return false;
	*value = number * best->si;
	*at = end + strlen(best->ending);
	return true;
}

/* Lengths parted by one of the marks, one mark after each but the last: "x" for 2 by 3. */
static bool take_lengths(const char *word, const char *marks, double value[])
{
	const char *at = word;
	for (size_t i = 0;; i++) {
		if (!take(&at, LENGTHS, &value[i]))
			return false;
		if (marks[i] == '\0')
			return *at == '\0';
		if (*at++ != marks[i])
			return false;
	}
}

static bool take_one(const char *option, const char *such_as, const unit units[], const char *word,
	double *value)
{
	const char *at = word;
	if (word == NULL || (take(&at, units, value) && *at == '\0' && *value > 0))
		return true;
	return complain(option, such_as, word);
}

/* ---- months ---- */

/* The next word of a list, up to one of the marks; false at its end. */
static bool next_word(const char **at, const char *marks, char word[MAX_WORD])
{
	const size_t length = strcspn(*at, marks);
	if (**at == '\0' || length >= MAX_WORD)
		return false;
	memcpy(word, *at, length);
	word[length] = '\0';
	*at += length;
	return true;
}

/* "nov-feb" */
static bool take_span(char *word, bool months[12])
{
	char *dash = strchr(word, '-');
	if (dash != NULL)
		*dash = '\0';
	const int first = month_of(word), last = dash != NULL ? month_of(dash + 1) : first;
	if (first < 0 || last < 0)
		return false;
	for (int month = first;; month = (month + 1) % ALL_YEAR) {
		months[month] = true;
		if (month == last)
			return true;
	}
}

static bool read_months(const char *text, bool months[12])
{
	char word[MAX_WORD];
	const char *at = text;
	if (text == NULL)
		return true;
	for (int month = 0; month < ALL_YEAR; month++)
		months[month] = strcasecmp(text, "all") == 0;
	if (months[0])
		return true;
	while (next_word(&at, ",", word)) {
		if (!take_span(word, months))
			return complain("months", "nov-feb, or jun,jul, or all", text);
		at += *at == ',';
	}
	return *at == '\0' ? true : complain("months", "nov-feb, or jun,jul, or all", text);
}

/* ---- what stays and what goes ---- */

static rig_size_stay *stay_named(const char *word, rig_size_options *size)
{
	if (strcmp(word, "panels") == 0)
		return &size->panels;
	if (strcmp(word, "bank") == 0)
		return &size->bank;
	return strcmp(word, "inverter") == 0 ? &size->inverter : NULL;
}

static bool read_stays(
	const char *option, const char *text, rig_size_stay stay, rig_size_options *size)
{
	char word[MAX_WORD];
	const char *at = text;
	while (text != NULL && *at != '\0') {
		rig_size_stay *of = next_word(&at, ",", word) ? stay_named(word, size) : NULL;
		if (of == NULL)
			return complain(option, "panels,bank", text);
		if (*of != RIG_SIZE_EITHER && *of != stay) {
			fprintf(stderr, "rigbudget size: --keep and --replace both name %s\n",
				word);
			return false;
		}
		*of = stay;
		at += *at == ',';
	}
	return true;
}

/* ---- loads ---- */

/* Index of a load by its id or name; -1. */
static int load_named(const rig_coach *coach, const char *word)
{
	for (int load = 0; load < (int)coach->n_loads; load++) {
		const rig_load *it = &coach->loads[load];
		if (strcmp(it->id, word) == 0 ||
			(it->name != NULL && strcasecmp(it->name, word) == 0))
			return load;
	}
	return -1;
}

static bool read_loads(const cli_options *options, const rig_coach *coach, rig_size_options *size)
{
	for (size_t i = 0; i < options->n_loads; i++) {
		const char *word = options->loads[i];
		const int found = load_named(coach, word);
		if (strcasecmp(word, "all") == 0) {
			size->all_loads = true;
			continue;
		}
		if (found < 0 || coach->loads[found].supply == RIG_DC) {
			fprintf(stderr,
				"rigbudget size: --load %s: %s; loads on direct current draw on "
				"the battery anyway\n",
				word, found < 0 ? "the file has no such load" : "it is no AC load");
			return false;
		}
		size->loads[size->n_loads++] = found;
	}
	return true;
}

/* ---- the roof and the room ---- */

static bool read_roof(const cli_options *options, rig_rectangle obstacles[], rig_size_options *size)
{
	double side_m[4];
	if (options->roof == NULL && options->n_obstacles == 0 && options->gap == NULL)
		return true;
	if (options->roof == NULL) {
		fputs("rigbudget size: --obstacle and --gap want --roof\n", stderr);
		return false;
	}
	if (!take_lengths(options->roof, "x", side_m))
		return complain("roof", "33ftx8ft or 10mx2.4m", options->roof);
	size->roof = (rig_floor){.length_m = side_m[0],
		.width_m = side_m[1],
		.n_obstacles = options->n_obstacles,
		.obstacles = obstacles};
	for (size_t i = 0; i < options->n_obstacles; i++) {
		if (!take_lengths(options->obstacles[i], ",,x", side_m))
			return complain("obstacle", "6ft,2ft,30inx30in", options->obstacles[i]);
		obstacles[i] = (rig_rectangle){side_m[0], side_m[1], side_m[2], side_m[3]};
	}
	if (!take_one("gap", "1in or 25mm", LENGTHS, options->gap, &size->roof.gap_m))
		return false;
	size->roof.edge_m = size->roof.gap_m;
	return true;
}

static bool read_room(const char *text, rig_size_options *size)
{
	double side_m[3];
	if (text == NULL)
		return true;
	if (!take_lengths(text, "xx", side_m))
		return complain("battery-room", "3ftx18inx12in or 90cmx45cmx30cm", text);
	size->battery_room = (rig_floor){.length_m = side_m[0], .width_m = side_m[1]};
	size->battery_room_height_m = side_m[2];
	return true;
}

static bool read_runs(const char *text, rig_size_options *size)
{
	double run_m[3];
	if (text == NULL)
		return true;
	if (!take_lengths(text, ",,", run_m) || !(run_m[0] > 0 && run_m[1] > 0 && run_m[2] > 0))
		return complain("runs", "20ft,6ft,5ft", text);
	size->array_run_m = run_m[0];
	size->controller_run_m = run_m[1];
	size->inverter_run_m = run_m[2];
	return true;
}

/* ---- the command ---- */

static bool read_limits(const cli_options *options, rig_size_options *size)
{
	if (options->most_panels >= 0)
		size->most_panels = (int)options->most_panels;
	if (options->most_batteries >= 0)
		size->most_batteries = (int)options->most_batteries;
	return take_one("max-price", "2500", PLAIN, options->price_max, &size->price_max) &&
	       take_one("max-weight", "500lb or 220kg", WEIGHTS, options->weight_max,
		       &size->weight_max_kg) &&
	       take_one("max-area", "80ft2 or 7.5m2", AREAS, options->area_max, &size->area_max_m2);
}

static bool read_compare(const char *text, rig_answer_options *asked)
{
	char word[MAX_WORD];
	const char *at = text;
	while (text != NULL && *at != '\0') {
		char *end = word;
		const long number = next_word(&at, ",", word) ? strtol(word, &end, 10) : 0;
		if (number < 1 || number > 1000000 || *end != '\0' ||
			asked->n_compare == RIG_MOST_COMPARED)
			return complain("compare", "1,3 (up to four)", text);
		asked->compare[asked->n_compare++] = (int)number - 1;
		at += *at == ',';
	}
	return true;
}

static bool read_all(const cli_options *options, const rig_coach *coach, rig_rectangle obstacles[],
	rig_size_options *size)
{
	if (options->months != NULL && options->month >= 0) {
		fputs("rigbudget size: --month and --months both say when\n", stderr);
		return false;
	}
	return read_months(options->months, size->months) &&
	       read_stays("keep", options->keep, RIG_SIZE_KEEP, size) &&
	       read_stays("replace", options->replace, RIG_SIZE_REPLACE, size) &&
	       read_loads(options, coach, size) && read_limits(options, size) &&
	       read_roof(options, obstacles, size) && read_room(options->battery_room, size) &&
	       read_runs(options->runs, size);
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
	rig_size_options size = rig_size_defaults();
	int status = session_open(&session, options);
	if (status == EXIT_FINE) {
		rig_rectangle obstacles[RIG_FLOOR_OBSTACLES];
		rig_answer_options asked = answer_options(&session, options);
		asked.size = &size;
		if (!read_all(options, session.coach, obstacles, &size) ||
			!read_compare(options->compare, &asked))
			status = EXIT_USAGE;
		else
			status = options->write_option > 0
					 ? write_option(&session, options, &asked)
					 : session_answer(&session, options, "size", &asked);
	}
	session_close(&session);
	return status;
}
