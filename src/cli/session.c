/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/session.h"
#include "cli/hand_over.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "base/file.h"
#include "base/json.h"
#include "report/glyph.h"

/* An hourly year with a dozen columns is under 2 MB. */
enum { MAX_WEATHER_BYTES = 32 * 1024 * 1024, EXCERPT_CHARACTERS = 64 };
/* More help little with what a person waits for. */
enum { MOST_THREADS = 8 };

int exit_for(rig_status status)
{
	switch (status) {
	case RIG_OK:
		return EXIT_FINE;
	case RIG_IO:
	case RIG_NOT_SAVED_SURELY:
		return EXIT_FILES;
	case RIG_NO_MEMORY:
		fprintf(stderr, "rigbudget: %s\n", rig_status_text(status));
		return EXIT_FILES;
	default:
		return EXIT_INPUT;
	}
}

/* Prints a text so that nothing in it can steer a terminal. */
static void print_plainly(const char *text)
{
	rig_buffer shown = {0};
	rig_glyph_show(&shown, text);
	if (shown.text != NULL)
		fputs(shown.text, stderr);
	rig_buffer_free(&shown);
}

static bool starts_character(char byte)
{
	return ((unsigned char)byte & 0xC0) != 0x80;
}

/* Prints a stretch of a line and a mark below its n-th character. Tabs become blanks, and what
 * would steer a terminal is spelt out, which moves the mark along. */
static void print_line(const char *from, size_t length, size_t n)
{
	rig_buffer raw = {0}, shown = {0}, before = {0};
	size_t marked = 0;
	for (size_t seen = 0; marked < length; marked++)
		if (starts_character(from[marked]) && seen++ == n)
			break;
	for (size_t i = 0; i < length; i++)
		rig_buffer_add_bytes(&raw, from[i] == '\t' || from[i] == '\0' ? " " : from + i, 1);
	rig_glyph_show(&shown, raw.text != NULL ? raw.text : "");
	if (raw.text != NULL)
		raw.text[marked] = '\0';
	rig_glyph_show(&before, raw.text != NULL ? raw.text : "");
	if (shown.text != NULL)
		fprintf(stderr, "    %s\n    %*s^\n", shown.text,
			before.text != NULL ? (int)rig_glyph_text_columns(before.text) : 0, "");
	rig_buffer_free(&raw);
	rig_buffer_free(&shown);
	rig_buffer_free(&before);
}

/* The line of the text, up to the excerpt's length before and after the column, and a mark below.
 */
static void print_excerpt(const char *text, size_t length, size_t line, size_t column)
{
	const char *at = text, *end = text + length;
	for (size_t i = 1; i < line && at < end; i++) {
		const char *newline = memchr(at, '\n', (size_t)(end - at));
		at = newline != NULL ? newline + 1 : end;
	}
	size_t seen = 1;
	const size_t first = column > EXCERPT_CHARACTERS / 2 ? column - EXCERPT_CHARACTERS / 2 : 1;
	for (; at < end && *at != '\n' && seen < first; at++)
		if (at + 1 < end && starts_character(at[1]))
			seen++;
	const char *from = at;
	for (size_t shown = 0; at < end && *at != '\n' && *at != '\r'; at++)
		if (starts_character(*at) && ++shown > EXCERPT_CHARACTERS)
			break;
	print_line(from, (size_t)(at - from), column - first);
}

static void print_diag(const char *file, const char *text, size_t length, const rig_diag *diag)
{
	fprintf(stderr, "%s:", strcmp(file, "-") == 0 ? "standard input" : file);
	if (diag->where.line > 0)
		fprintf(stderr, "%zu:%zu:", diag->where.line, diag->where.column);
	fputs(diag->severity == RIG_FAULT ? " " : " note: ", stderr);
	if (diag->where.path != NULL && diag->where.path[0] != '\0') {
		print_plainly(diag->where.path);
		fputs(": ", stderr);
	}
	print_plainly(diag->what);
	fputc('\n', stderr);
	if (diag->where.line > 0 && text != NULL)
		print_excerpt(text, length, diag->where.line, diag->where.column);
	const struct {
		const char *label, *words;
	} more[] = {{"found", diag->found}, {"allowed", diag->allowed}, {"to mend", diag->mend}};
	for (size_t i = 0; i < sizeof more / sizeof more[0]; i++) {
		if (more[i].words[0] == '\0')
			continue;
		fprintf(stderr, "    %s: ", more[i].label);
		print_plainly(more[i].words);
		fputc('\n', stderr);
	}
}

void print_diags(const char *file, const char *text, size_t length, rig_diags *diags)
{
	const size_t n = rig_diags_count(diags);
	size_t faults = 0;
	for (size_t i = 0; i < n; i++) {
		print_diag(file, text, length, rig_diags_at(diags, i));
		faults += rig_diags_at(diags, i)->severity == RIG_FAULT;
	}
	if (rig_diags_faults(diags) > faults)
		fprintf(stderr, "... and %zu more\n", rig_diags_faults(diags) - faults);
}

/* How to read one file: by whom, and whether remarks are printed when it reads well. */
typedef struct {
	size_t limit;
	bool tell_remarks;
	rig_status (*read)(const char *, size_t, rig_diags *, void *into);
} text_reader;

/* Reads a file and hands its text to a reader; prints what the reader says. */
static int read_with(const char *path, const text_reader *reader, void *into)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	rig_buffer text = {0};
	rig_status status = rig_file_read(path, reader->limit, &text, diags);
	if (status == RIG_OK)
		status = reader->read(text.text != NULL ? text.text : "", text.length, diags, into);
	if (status != RIG_OK || reader->tell_remarks)
		print_diags(path, text.text, text.length, diags);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return exit_for(status);
}

static rig_status read_coach(const char *text, size_t length, rig_diags *diags, void *into)
{
	return rig_file_parse(text, length, diags, into);
}

static rig_status read_parts(const char *text, size_t length, rig_diags *diags, void *into)
{
	return rig_parts_parse(text, length, diags, into);
}

static rig_status read_weather(const char *text, size_t length, rig_diags *diags, void *into)
{
	return rig_hourly_year_read(text, length, diags, into);
}

int session_open(cli_session *session, const cli_options *options)
{
	const text_reader coach = {RIG_JSON_MAX_BYTES, session->tell_remarks, read_coach};
	const text_reader parts = {RIG_JSON_MAX_BYTES, false, read_parts};
	const text_reader weather = {MAX_WEATHER_BYTES, false, read_weather};
	int status = read_with(options->arguments[0], &coach, &session->file);
	if (status != EXIT_FINE)
		return status;
	session->coach = rig_file_completed(session->file);
	if (options->weather != NULL)
		status = read_with(options->weather, &weather, &session->weather);
	if (status == EXIT_FINE && options->parts != NULL)
		status = read_with(options->parts, &parts, &session->parts);
	return status;
}

void session_close(cli_session *session)
{
	rig_hourly_year_free(session->weather);
	rig_parts_free(session->parts);
	rig_file_free(session->file);
}

/* As many as there are processors, unless the options say. */
static size_t n_threads(const cli_options *options)
{
	if (options->threads > 0)
		return (size_t)options->threads;
	const long n = sysconf(_SC_NPROCESSORS_ONLN);
	return n < 1 ? 1 : n > MOST_THREADS ? MOST_THREADS : (size_t)n;
}

rig_answer_options answer_options(cli_session *session, const cli_options *options)
{
	rig_answer_options asked = rig_answer_defaults();
	session->progress = progress_begin();
	asked.units = (rig_units)options->units;
	asked.reader = (rig_reader)options->reader;
	asked.date = options->date;
	asked.inspector = options->inspector;
	asked.run = options->let_run;
	asked.supply = options->supply;
	asked.day = (rig_shed_weather)options->day;
	asked.place = options->place;
	asked.month = options->month;
	asked.n_days = options->days;
	asked.n_trips = options->trips > 0 ? options->trips : -1;
	asked.seed = options->seed;
	asked.wanted_out_frac = (double)options->wanted / 100;
	asked.drive_every_days = options->drive_every;
	asked.drawn_days = options->drawn;
	asked.habit = options->habit;
	asked.weather = session->weather;
	asked.parts = session->parts != NULL ? rig_parts_list(session->parts) : NULL;
	asked.copper = (rig_copper)options->copper;
	asked.next_size = options->next_size;
	asked.n_threads = n_threads(options);
	asked.progress = progress_tell;
	asked.context = &session->progress;
	return asked;
}

/* An entry about an option names it as it is typed. */
static void print_answer_diag(const char *file, const rig_diag *diag)
{
	char option[64];
	rig_diag shown = *diag;
	if (diag->where.path[0] == '\0') {
		print_diag(file, NULL, 0, diag);
		return;
	}
	snprintf(option, sizeof option, "--%s", diag->where.path);
	for (char *at = option; *at != '\0'; at++)
		if (*at == '_')
			*at = '-';
	shown.where.path = "";
	print_diag(option, NULL, 0, &shown);
}

int exit_for_answer(const cli_options *options, rig_status status, rig_diags *diags)
{
	const char *file = options->n_arguments > 0 ? options->arguments[0] : "the run as given";
	for (size_t i = 0; i < rig_diags_count(diags); i++)
		print_answer_diag(file, rig_diags_at(diags, i));
	return status == RIG_NOT_FOUND ? EXIT_USAGE : exit_for(status);
}

int session_answer(const cli_session *session, const cli_options *options, const char *question,
	const rig_answer_options *asked)
{
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	const rig_status result = rig_answer(session->file, question, asked, diags, &document);
	const int status = result == RIG_OK ? hand_over(options, document)
					    : exit_for_answer(options, result, diags);
	rig_diags_free(diags);
	return status;
}
