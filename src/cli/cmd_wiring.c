/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_wiring.c: the wires of a file, or one run from a few words. The words become a small rig
 * file, so that the reader turns units and explains what is wrong in them. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "cli/commands.h"
#include "cli/session.h"

enum { MAX_KIND = 80 };

/* Endings of a number, and the key that takes it as it stands. */
typedef struct {
	const char *ending, *key;
	double divide;
} unit_row;

typedef struct {
	const char *option;
	const char *such_as;
	unit_row units[4]; /* an empty ending where the unit need not be said */
} word_row;

static const word_row AMPS = {"--amps", "40", {{"", "amps_a", 1}, {"A", "amps_a", 1}}};
static const word_row RUN = {
	"--run", "12ft or 3.6m", {{"ft", "length_ft", 1}, {"m", "length_m", 1}}};
static const word_row DROP = {"--drop", "3%", {{"%", "drop_frac", 100}, {"", "drop_frac", 100}}};
static const word_row VOLTS = {"--volts", "12", {{"", "volts_v", 1}, {"V", "volts_v", 1}}};
static const word_row BANK_VOLTS = {"--volts", "12", {{"", "nominal_v", 1}, {"V", "nominal_v", 1}}};
static const word_row POWER_FACTOR = {"--power-factor", "0.9", {{"", "power_factor", 1}}};
static const word_row INSULATION = {
	"--insulation", "105C or 221F", {{"C", "insulation_c", 1}, {"F", "insulation_f", 1}}};
static const word_row TERMINAL = {
	"--terminal", "75C or 167F", {{"C", "terminal_c", 1}, {"F", "terminal_f", 1}}};
static const word_row AMBIENT = {
	"--ambient", "40C or 104F", {{"C", "ambient_c", 1}, {"F", "ambient_f", 1}}};
static const word_row FUSE = {"--fuse", "50", {{"", "fuse_a", 1}, {"A", "fuse_a", 1}}};
static const word_row INTERRUPT = {"--interrupt", "20000",
	{{"", "interrupt_a", 1}, {"A", "interrupt_a", 1}, {"kA", "interrupt_a", 0.001}}};
static const word_row DISTANCE = {"--fuse-distance", "7in or 0.18m",
	{{"in", "fuse_distance_in", 1}, {"ft", "fuse_distance_ft", 1},
		{"m", "fuse_distance_m", 1}}};
static const word_row AMP_HOURS = {
	"--bank", "200:agm", {{"", "capacity_ah", 1}, {"Ah", "capacity_ah", 1}}};

static const word_row GAUGE = {"--awg", "10 or 4/0", {{"", "awg", 1}}};

static bool complain(const char *option, const char *such_as, const char *word)
{
	fprintf(stderr,
		"rigbudget wiring: %s takes a value such as %s, not: %s\nTry: rigbudget wiring "
		"--help\n",
		option, such_as, word);
	return false;
}

/* Adds `,\n"key": number` for a word; nothing for none. */
static bool add_word(rig_buffer *text, const word_row *row, const char *word)
{
	if (word == NULL)
		return true;
	char *end;
	const double value = strtod(word, &end);
	if (end == word || !isfinite(value))
		return complain(row->option, row->such_as, word);
	for (size_t i = 0; i < sizeof row->units / sizeof row->units[0]; i++) {
		const unit_row *unit = &row->units[i];
		if (unit->key == NULL || strcmp(end, unit->ending) != 0)
			continue;
		rig_buffer_format(text, ",\n \"%s\": %.15g", unit->key, value / unit->divide);
		return true;
	}
	return complain(row->option, row->such_as, word);
}

/* A word that may hold anything as a JSON text; refuses what would need an escape. */
static bool add_plain(rig_buffer *text, const char *key, const word_row *row, const char *word)
{
	for (const char *at = word; *at != '\0'; at++)
		if ((unsigned char)*at < ' ' || *at == '"' || *at == '\\')
			return complain(row->option, row->such_as, word);
	rig_buffer_format(text, ",\n \"%s\": \"%s\"", key, word);
	return true;
}

static bool add_bank(rig_buffer *text, const cli_options *options)
{
	char amp_hours[MAX_KIND];
	const char *colon = strchr(options->bank, ':');
	const size_t length =
		colon != NULL ? (size_t)(colon - options->bank) : strlen(options->bank);
	if (length == 0 || length >= sizeof amp_hours)
		return complain(AMP_HOURS.option, AMP_HOURS.such_as, options->bank);
	memcpy(amp_hours, options->bank, length);
	amp_hours[length] = '\0';
	rig_buffer_add(text, ",\n\"banks\": [{\"id\": \"bank\"");
	const bool read =
		add_word(text, &AMP_HOURS, amp_hours) &&
		add_plain(text, "chemistry", &AMP_HOURS, colon != NULL ? colon + 1 : "flooded") &&
		add_word(text, &BANK_VOLTS, options->volts);
	rig_buffer_add(text, "}]");
	return read;
}

static bool add_wire(rig_buffer *text, const cli_options *options)
{
	const struct {
		const word_row *row;
		const char *word;
	} words[] = {{&AMPS, options->amps}, {&RUN, options->run}, {&DROP, options->drop},
		{&VOLTS, options->bank == NULL ? options->volts : NULL},
		{&POWER_FACTOR, options->power_factor}, {&INSULATION, options->insulation},
		{&TERMINAL, options->terminal}, {&AMBIENT, options->ambient},
		{&FUSE, options->fuse}, {&INTERRUPT, options->interrupt},
		{&DISTANCE, options->fuse_distance}};
	rig_buffer_add(text, ",\n\"wires\": [{\"id\": \"run\", \"name\": \"the run\"");
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (!add_word(text, words[i].row, words[i].word))
			return false;
	if (options->continuous)
		rig_buffer_add(text, ",\n \"continuous\": true");
	if (options->bundle > 0)
		rig_buffer_format(text, ",\n \"bundle\": %ld", options->bundle);
	if (options->bank != NULL)
		rig_buffer_add(text, ",\n \"bank\": \"bank\"");
	if (options->awg != NULL && !add_plain(text, "awg", &GAUGE, options->awg))
		return false;
	rig_buffer_add(text, "}]}\n");
	return true;
}

/* Reads the words of the command line as a rig file. */
static int read_run(const cli_options *options, rig_file **file)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	int status = EXIT_USAGE;
	if (diags == NULL) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	rig_buffer_add(&text, "{\"format\": \"rigbudget/1\", \"name\": \"a run as given\", "
			      "\"shore\": {\"cord_a\": 30}");
	if ((options->bank != NULL && !add_bank(&text, options)) || !add_wire(&text, options))
		goto out;
	if (text.failed) {
		status = exit_for(RIG_NO_MEMORY);
		goto out;
	}
	const rig_status read = rig_file_parse(text.text, text.length, diags, file);
	if (read == RIG_OK)
		status = EXIT_FINE;
	else if (read == RIG_BAD_INPUT)
		print_diags("the run as given", text.text, text.length, diags);
	else
		status = exit_for(read);
out:
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return status;
}

static bool names_run(const cli_options *options)
{
	return options->amps != NULL || options->fuse != NULL || options->run != NULL ||
	       options->awg != NULL || options->bank != NULL;
}

static int open_wires(cli_session *session, const cli_options *options)
{
	const bool file = options->n_arguments > 0, run = names_run(options);
	if (file && !run)
		return session_open(session, options);
	if (!run || file) {
		fprintf(stderr, "rigbudget wiring: %s\nTry: rigbudget wiring --help\n",
			file ? "a file or a run, not both" : "a FILE is missing, or --amps");
		return EXIT_USAGE;
	}
	const int status = read_run(options, &session->file);
	if (status == EXIT_FINE)
		session->coach = rig_file_completed(session->file);
	return status;
}

int run_wiring(const cli_options *options)
{
	cli_session session = {0};
	int status = open_wires(&session, options);
	if (status == EXIT_FINE) {
		const rig_answer_options asked = answer_options(&session, options);
		status = session_answer(&session, options, "wiring", &asked);
	}
	session_close(&session);
	return status;
}
