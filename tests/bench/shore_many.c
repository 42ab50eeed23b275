/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_many.c: how long the question `shore` takes on one core, with all that stands behind it and
 * with its answers only: of a coach, and of coaches of many loads, to see how work and size grow.
 * Arguments: COACH [ROUNDS] */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/file.h"
#include "rigbudget/answer.h"
#include "rigbudget/rigbudget.h"

enum { MOST_ROUNDS = 101, N_CIRCUITS = 20 };

static double now_ms(void)
{
	struct timespec at;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
	return (double)at.tv_sec * 1e3 + (double)at.tv_nsec / 1e6;
}

static int rising(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

/* Loads of 15 to 1,515 W, no two alike, of all priorities, on twenty circuits. */
static void write_coach(rig_buffer *text, int n_loads)
{
	rig_buffer_add(text, "{\"format\": \"rigbudget/1\", \"name\": \"Many\", \"shore\": "
			     "{\"cord_a\": 50}, \"circuits\": [");
	for (int i = 0; i < N_CIRCUITS; i++)
		rig_buffer_format(text,
			"%s{\"id\": \"c%d\", \"supply\": \"ac\", \"breaker_a\": 15, \"leg\": "
			"\"L%d\"}",
			i > 0 ? ", " : "", i, 1 + i % 2);
	rig_buffer_add(text, "], \"loads\": [");
	for (int i = 0; i < n_loads; i++)
		rig_buffer_format(text,
			"%s{\"id\": \"l%d\", \"running_w\": %d.%02d, \"priority\": %d, "
			"\"circuit\": \"c%d\"}",
			i > 0 ? ", " : "", i, 15 + i * 7919 % 1500, i % 100, 1 + i * 31 % 9,
			i % N_CIRCUITS);
	rig_buffer_add(text, "]}");
}

/* The bytes of the answer; 0 if there is none. */
static size_t answer(const rig_file *file, bool answers_only)
{
	rig_answer_options options = rig_answer_defaults();
	rig_document *document = NULL;
	char *text = NULL;
	size_t n = 0;
	options.answers_only = answers_only;
	if (rig_answer(file, "shore", &options, NULL, &document) == RIG_OK &&
		rig_document_json_line(document, !answers_only, &text) == RIG_OK)
		n = strlen(text);
	rig_document_free(document);
	free(text);
	return n;
}

static void measure(const char *name, const rig_file *file, bool answers_only, int rounds)
{
	double took_ms[MOST_ROUNDS];
	size_t n = 0;
	for (int i = 0; i < rounds; i++) {
		const double start_ms = now_ms();
		n = answer(file, answers_only);
		took_ms[i] = now_ms() - start_ms;
	}
	qsort(took_ms, (size_t)rounds, sizeof *took_ms, rising);
	printf("%-14s %-22s %9.2f ms %9.1f kB\n", name,
		answers_only ? "its answers only" : "and all behind them", took_ms[rounds / 2],
		(double)n / 1e3);
}

static void measure_text(const char *name, const rig_buffer *text, int rounds)
{
	rig_file *file = NULL;
	if (rig_file_parse(text->text, text->length, NULL, &file) != RIG_OK) {
		fprintf(stderr, "%s could not be read\n", name);
		return;
	}
	measure(name, file, true, rounds);
	measure(name, file, false, rounds);
	rig_file_free(file);
}

int main(int n_arguments, char **arguments)
{
	static const int N_LOADS[] = {100, 400, 2000};
	if (n_arguments < 2) {
		fprintf(stderr, "use: %s COACH [ROUNDS]\n", arguments[0]);
		return 2;
	}
	const long asked = n_arguments > 2 ? strtol(arguments[2], NULL, 10) : 3;
	const int rounds = asked < 1 ? 1 : asked > MOST_ROUNDS ? MOST_ROUNDS : (int)asked;
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	if (rig_file_read(arguments[1], 1 << 22, &text, diags) == RIG_OK)
		measure_text("the coach", &text, rounds);
	for (size_t i = 0; i < sizeof N_LOADS / sizeof N_LOADS[0]; i++) {
		char name[32];
		snprintf(name, sizeof name, "%d loads", N_LOADS[i]);
		text.length = 0;
		write_coach(&text, N_LOADS[i]);
		measure_text(name, &text, rounds);
	}
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return 0;
}
