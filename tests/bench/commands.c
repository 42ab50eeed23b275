/* SPDX-License-Identifier: GPL-3.0-or-later */
/* commands.c: how long whole commands take, from start to written result, against an empty program
 * started in the same loop. Prints medians and ratios; judges nothing.
 * Arguments: EMPTY PROGRAM COACH ROUNDS */
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

extern char **environ;

enum { MAX_ROUNDS = 1000, N_COMMANDS = 7 };

static double now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

/* Wall time of one run, ms; ends the benchmark when the run fails. */
static double run_ms(char *const arguments[])
{
	posix_spawn_file_actions_t quiet;
	posix_spawn_file_actions_init(&quiet);
	posix_spawn_file_actions_addopen(&quiet, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
	pid_t child;
	int status = 1;
	const double start = now_ms();
	if (posix_spawn(&child, arguments[0], &quiet, NULL, arguments, environ) != 0 ||
		waitpid(child, &status, 0) != child || status != 0) {
		fprintf(stderr, "%s failed\n", arguments[0]);
		exit(EXIT_FAILURE);
	}
	const double taken = now_ms() - start;
	posix_spawn_file_actions_destroy(&quiet);
	return taken;
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
	if (argc != 5) {
		fputs("usage: commands EMPTY PROGRAM COACH ROUNDS\n", stderr);
		return EXIT_FAILURE;
	}
	char *program = argv[2], *coach = argv[3];
	const long asked = strtol(argv[4], NULL, 10);
	if (asked < 1 || asked > MAX_ROUNDS) {
		fprintf(stderr, "ROUNDS is 1 to %d\n", MAX_ROUNDS);
		return EXIT_FAILURE;
	}
	const int rounds = (int)asked;
	char sheet[] = "/tmp/rigbudget-bench.html";
	char *const commands[N_COMMANDS][7] = {
		{argv[1], NULL},
		{program, "--version", NULL},
		{program, "shore", coach, NULL},
		{program, "solar", coach, NULL},
		{program, "trip", coach, NULL},
		{program, "claims", coach, NULL},
		{program, "report", coach, "-o", sheet, NULL},
	};
	static double taken[N_COMMANDS][MAX_ROUNDS];
	for (int round = 0; round < rounds; round++)
		for (int i = 0; i < N_COMMANDS; i++)
			taken[i][round] = run_ms(commands[i]);
	remove(sheet);
	printf("%-16s %9s %9s %9s  %s\n", "whole command", "median ms", "least", "most",
		"of empty");
	for (int i = 0; i < N_COMMANDS; i++) {
		qsort(taken[i], (size_t)rounds, sizeof(double), by_size);
		printf("%-16s %9.2f %9.2f %9.2f  %7.1fx\n",
			i == 0 ? "(empty program)" : commands[i][1], taken[i][rounds / 2],
			taken[i][0], taken[i][rounds - 1],
			taken[i][rounds / 2] / taken[0][rounds / 2]);
	}
	return EXIT_SUCCESS;
}
