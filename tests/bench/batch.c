/* SPDX-License-Identifier: GPL-3.0-or-later */
/* batch.c: what a coach costs among many, in processor time of all threads, with the whole lot in
 * hand before it starts: shore and solar each alone and both, in one loop. Prints medians; judges
 * nothing.
 * Arguments: PROGRAM ROUNDS COACH ... */
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;

enum { MAX_ROUNDS = 101, N_COACHES = 300, MAX_BYTES = 1 << 20 };

static void fail(const char *what)
{
	perror(what);
	exit(EXIT_FAILURE);
}

/* A file as one line. */
static void add_line(const char *name, FILE *to)
{
	static char text[MAX_BYTES];
	FILE *from = fopen(name, "rb");
	if (from == NULL)
		fail(name);
	const size_t n = fread(text, 1, sizeof text, from);
	fclose(from);
	for (size_t i = 0; i < n; i++)
		fputc(text[i] == '\n' || text[i] == '\t' ? ' ' : text[i], to);
	fputc('\n', to);
}

static void write_lines(const char *name, int n_files, char *const files[])
{
	FILE *lines = fopen(name, "wb");
	if (lines == NULL)
		fail(name);
	for (int i = 0; i < N_COACHES; i++)
		add_line(files[i % n_files], lines);
	if (fclose(lines) != 0)
		fail(name);
}

static double ms_of(struct timeval time)
{
	return (double)time.tv_sec * 1e3 + (double)time.tv_usec / 1e3;
}

/* Processor time of one run over the lines, ms a coach. */
static double run_ms(char *const arguments[], const char *lines)
{
	posix_spawn_file_actions_t actions;
	posix_spawn_file_actions_init(&actions);
	posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, lines, O_RDONLY, 0);
	posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
	pid_t child;
	int status = 1;
	struct rusage used;
	if (posix_spawn(&child, arguments[0], &actions, NULL, arguments, environ) != 0 ||
		wait4(child, &status, 0, &used) != child || !WIFEXITED(status) ||
		WEXITSTATUS(status) != 0)
		fail(arguments[0]);
	posix_spawn_file_actions_destroy(&actions);
	return (ms_of(used.ru_utime) + ms_of(used.ru_stime)) / N_COACHES;
}

static int by_size(const void *a, const void *b)
{
	const double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

int main(int argc, char **argv)
{
	enum { N_ROWS = 3 };
	if (argc < 4) {
		fputs("usage: batch PROGRAM ROUNDS COACH ...\n", stderr);
		return EXIT_FAILURE;
	}
	const long asked = strtol(argv[2], NULL, 10);
	const int rounds = asked < 1 ? 1 : asked > MAX_ROUNDS ? MAX_ROUNDS : (int)asked;
	char lines[] = "/tmp/rigbudget-bench-XXXXXX";
	const int made = mkstemp(lines);
	if (made < 0)
		fail(lines);
	close(made);
	write_lines(lines, argc - 3, argv + 3);
	static char *const ASK[N_ROWS] = {"shore", "solar", "shore,solar"};
	static double taken[N_ROWS][MAX_ROUNDS];
	for (int round = 0; round < rounds; round++)
		for (int i = 0; i < N_ROWS; i++)
			taken[i][round] =
				run_ms((char *[]){argv[1], "batch", "--ask", ASK[i], NULL}, lines);
	remove(lines);
	printf("%-16s %9s %9s %9s\n", "ms a coach", "median", "least", "most");
	for (int i = 0; i < N_ROWS; i++) {
		qsort(taken[i], (size_t)rounds, sizeof(double), by_size);
		printf("%-16s %9.2f %9.2f %9.2f\n", ASK[i], taken[i][rounds / 2], taken[i][0],
			taken[i][rounds - 1]);
	}
	return EXIT_SUCCESS;
}
