/* SPDX-License-Identifier: GPL-3.0-or-later */
/* size_list.c: how long it takes to size an upgrade over a whole list in every month, on one core,
 * and against the engine alone for as many options as were settled.
 * Arguments: COACH [ROUNDS] */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/file.h"
#include "rigbudget/rigbudget.h"

enum { MOST_ROUNDS = 101 };

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

static rig_file *read_file(const char *path)
{
	rig_buffer text = {0};
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	if (rig_file_read(path, 1 << 22, &text, diags) != RIG_OK ||
		rig_file_parse(text.text, text.length, diags, &file) != RIG_OK)
		fprintf(stderr, "%s could not be read\n", path);
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return file;
}

static void measure(const rig_file *file, const rig_parts *parts, double wanted_frac, int rounds)
{
	double took_ms[MOST_ROUNDS];
	rig_size_options options = rig_size_defaults();
	rig_size_findings *findings = NULL;
	for (int month = 0; month < 12; month++)
		options.months[month] = true;
	options.habit = rig_file_coach(file)->n_habits > 0 ? 0 : -1;
	options.wanted_frac = wanted_frac;
	for (int i = 0; i < rounds; i++) {
		rig_size_free(findings);
		findings = NULL;
		const double start_ms = now_ms();
		if (rig_size_study(file, parts, rig_file_place(file, NULL), &options, &findings) !=
			RIG_OK)
			return;
		took_ms[i] = now_ms() - start_ms;
	}
	qsort(took_ms, (size_t)rounds, sizeof *took_ms, rising);
	printf("%zu panels x %zu batteries x %zu inverters x 12 months, %zu stays each, %.0f %% "
	       "wanted\n",
		parts->n_panels, parts->n_batteries, parts->n_inverters, options.n_trips,
		100 * wanted_frac);
	printf("%-44s %9.0f\n", "milliseconds on one core, median", took_ms[rounds / 2]);
	printf("%-44s %9zu\n", "combinations settled", findings->n_candidates);
	printf("%-44s %9zu\n", "months run by the engine", findings->n_runs);
	printf("%-44s %9zu\n", "passes", findings->n_passes);
	printf("%-44s %9zu\n", "options that nothing beats", findings->n_options);
	rig_size_free(findings);
}

int main(int argc, char **argv)
{
	const long rounds = argc > 2 ? strtol(argv[2], NULL, 10) : 5;
	rig_diags *diags = rig_diags_new();
	rig_parts_file *parts = NULL;
	rig_init();
	rig_file *file = argc > 1 ? read_file(argv[1]) : NULL;
	const rig_status status =
		rig_parts_parse(rig_parts_example, strlen(rig_parts_example), diags, &parts);
	if (file == NULL || status != RIG_OK || rounds < 1 || rounds > MOST_ROUNDS)
		return EXIT_FAILURE;
	measure(file, rig_parts_list(parts), 0.95, (int)rounds);
	measure(file, rig_parts_list(parts), 0.5, (int)rounds);
	rig_parts_free(parts);
	rig_file_free(file);
	rig_diags_free(diags);
	return EXIT_SUCCESS;
}
