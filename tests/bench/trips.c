/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trips.c: what the many trips of a coach take, the whole study with weather, draws and tallies,
 * on the processor's clock; and a year of hours. Prints medians of nine; judges nothing.
 * Arguments: COACH */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "base/file.h"
#include "rigbudget/rigbudget.h"

enum { ROUNDS = 9, TRIPS = 10000, MANY = 100000, DAYS = 14, NOVEMBER = 10 };

static double now_ms(clockid_t clock)
{
	struct timespec now;
	clock_gettime(clock, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static rig_file *read_coach(const char *path)
{
	rig_diags *diags = rig_diags_new();
	rig_buffer text = {0};
	rig_file *file = NULL;
	if (rig_file_read(path, 1 << 24, &text, diags) != RIG_OK ||
		rig_file_parse(text.text, text.length, diags, &file) != RIG_OK) {
		fprintf(stderr, "cannot read %s\n", path);
		exit(EXIT_FAILURE);
	}
	rig_buffer_free(&text);
	rig_diags_free(diags);
	return file;
}

static rig_trip_options stay(size_t n_threads, bool plain_code, size_t n_side_trips)
{
	rig_trip_options options = rig_trip_defaults();
	options.month = NOVEMBER;
	options.n_days = DAYS;
	options.n_trips = TRIPS;
	options.n_side_trips = n_side_trips;
	options.n_threads = n_threads;
	options.plain_code = plain_code;
	return options;
}

/* The median of nine studies, ms. */
static double median_ms(const rig_file *file, const rig_trip_options *options, clockid_t clock)
{
	double taken[ROUNDS];
	for (int round = 0; round < ROUNDS; round++) {
		rig_trip_findings *findings = NULL;
		const double start = now_ms(clock);
		if (rig_trip_study(rig_file_completed(file), rig_file_place(file, NULL), options,
			    &findings) != RIG_OK)
			exit(EXIT_FAILURE);
		taken[round] = now_ms(clock) - start;
		rig_trip_free(findings);
	}
	qsort(taken, ROUNDS, sizeof *taken, by_size);
	return taken[ROUNDS / 2];
}

static void print_row(const char *what, double ms, double trip_hours)
{
	printf("%-44s %9.2f", what, ms);
	if (trip_hours > 0)
		printf(" %9.2f", ms * 1e6 / trip_hours);
	printf("\n");
}

/* A year of hours of a bank with panels and loads, by trace. */
static double year_ms(void)
{
	enum { HOURS = 8760 };
	static double watts_w[HOURS], temp_c[HOURS];
	static rig_hour record[HOURS];
	for (int hour = 0; hour < HOURS; hour++) {
		watts_w[hour] = hour % 24 > 6 && hour % 24 < 18 ? 200 : 0;
		temp_c[hour] = 10 + hour % 24 / 2.0;
	}
	const rig_store store = {.kinetic = {5000, 0.6, 0.3},
		.usable_wh = 2500,
		.start_frac = 1,
		.efficiency_frac = 0.9,
		.self_discharge_frac_month = 0.02,
		.charge_limit_w = 1000,
		.charge_floor_c = -273,
		.lost_per_k_frac = 0.011,
		.outdoors = true,
		.acceptance_per_h = 0.9};
	rig_consumer consumers[2] = {{.watts_w = 60}, {.watts_w = 300, .through_inverter = true}};
	for (int hour = 0; hour < 24; hour++) {
		consumers[0].on_frac[hour] = 1;
		consumers[1].on_frac[hour] = hour > 17 ? 0.4 : 0;
	}
	const rig_source source = {0, watts_w};
	const rig_plan_parts parts = {.n_hours = HOURS,
		.n_knots = 1,
		.n_stores = 1,
		.n_sources = 1,
		.n_consumers = 2,
		.stores = &store,
		.sources = &source,
		.consumers = consumers,
		.inverter = {true, 0, {2000, 0.01, 0.025, 0.05}, true},
		.outdoor_c = temp_c};
	double taken[ROUNDS];
	for (int round = 0; round < ROUNDS; round++) {
		rig_plan *plan = NULL;
		const double start = now_ms(CLOCK_PROCESS_CPUTIME_ID);
		if (rig_plan_new(&parts, &plan) != RIG_OK)
			exit(EXIT_FAILURE);
		rig_standing standing = rig_plan_start(plan);
		rig_plan_trace(plan, NULL, HOURS, &standing, record);
		taken[round] = now_ms(CLOCK_PROCESS_CPUTIME_ID) - start;
		rig_plan_free(plan);
	}
	qsort(taken, ROUNDS, sizeof *taken, by_size);
	return taken[ROUNDS / 2];
}

static void print_threads(const rig_file *file, rig_trip_options one, rig_trip_options two)
{
	const double one_ms = median_ms(file, &one, CLOCK_MONOTONIC);
	const double two_ms = median_ms(file, &two, CLOCK_MONOTONIC);
	printf("%zu trips%s by the wall: %.2f ms on one thread, %.2f on two: %.2f times\n",
		one.n_trips, one.n_side_trips > 0 ? " and sides" : "", one_ms, two_ms,
		one_ms / two_ms);
}

int main(int argc, char **argv)
{
	if (argc != 2) {
		fputs("usage: trips COACH\n", stderr);
		return EXIT_FAILURE;
	}
	rig_file *file = read_coach(argv[1]);
	const double trip_hours = (double)TRIPS * DAYS * 24;
	printf("%d trips of %d days in November\n%-44s %9s %9s\n", TRIPS, DAYS, "", "ms",
		"ns/trip-h");
	rig_trip_options main_run = stay(1, false, 0), two = stay(2, false, 0);
	const rig_trip_options plain = stay(1, true, 0), all = stay(1, false, 256);
	const clockid_t cpu = CLOCK_PROCESS_CPUTIME_ID;
	print_row("study without side questions", median_ms(file, &main_run, cpu), trip_hours);
	print_row("the same with the plainest code", median_ms(file, &plain, cpu), trip_hours);
	print_row("the whole study", median_ms(file, &all, cpu), 0);
	print_threads(file, main_run, two);
	print_threads(file, all, stay(2, false, 256));
	main_run.n_trips = two.n_trips = MANY;
	print_threads(file, main_run, two);
	print_row("a year of 8,760 hours, one bank", year_ms(), 0);
	rig_file_free(file);
	return EXIT_SUCCESS;
}
