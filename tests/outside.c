/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outside.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

enum { MOST = 9, WORD = 40, LINE = 1200 };

/* Opened before the tests fork, so that all of them append to one file. */
static int rows = -1;

void outside_start(const char *program)
{
	char path[4000];
	const char *folder = getenv("RIG_VALIDATION");
	if (folder == NULL || folder[0] == '\0')
		return;
	(void)snprintf(path, sizeof path, "%s/%s.rows", folder, program);
	rows = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_APPEND, 0666);
	if (rows < 0) {
		perror(path);
		exit(EXIT_FAILURE);
	}
}

/* How a figure was printed: the fewest decimals that give it back, or MOST + 1. */
static int decimals_of(double given)
{
	char word[64];
	for (int n = 0; n <= MOST; n++) {
		(void)snprintf(word, sizeof word, "%.*f", n, given);
		if (strtod(word, NULL) == given)
			return n;
	}
	return MOST + 1;
}

/* Decimals of the first digit of a tolerance that says more than "arithmetic". */
static int decimals_of_tolerance(double tol)
{
	return tol > 1e-7 && tol < 1 ? (int)ceil(-log10(tol) - 1e-9) : 0;
}

/* The source's digits. A trailing zero is not known, so a whole figure has at least the digits of
 * its tolerance; a computed one has those and one more. */
static int digits_of(double given, double tol)
{
	const int printed = decimals_of(given), asked = decimals_of_tolerance(tol);
	if (printed > 7)
		return asked > 0 ? asked + 1 : 6;
	return printed == 0 ? asked : printed;
}

/* Off the middle between two printed figures, so that the last bit does not decide. */
static double nudged(double value)
{
	return value * (1 + 1e-9);
}

static void write_found(char word[WORD], double found, int digits)
{
	(void)snprintf(word, WORD, "%.*f", digits, nudged(found));
	if (strtod(word, NULL) == 0)
		(void)snprintf(word, WORD, "%.*f", digits, 0.0); /* no minus sign */
}

static void write_tolerance(char word[WORD], double tol)
{
	if (tol <= 1e-9)
		(void)snprintf(word, WORD, tol > 0 ? "rounding" : "exact");
	else
		(void)snprintf(word, WORD, "%.2g", nudged(tol));
}

/* Words: given, found, tolerance. */
static void write_row(const outside_series *series, const char *name, char words[3][WORD])
{
	char line[LINE];
	if (rows < 0)
		return;
	const int length = snprintf(line, sizeof line, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n",
		series->section, series->figure, series->source, series->reason, name, words[0],
		words[1], words[2]);
	if (length < 0 || length >= LINE || write(rows, line, (size_t)length) != length) {
		perror("row of docs/validation.md");
		abort();
	}
}

void outside_record(const outside_series *series, const char *name, const double figures[3])
{
	char words[3][WORD];
	const double given = figures[1], tol = figures[2];
	if (given != 0 && fabs(given) < 1e-4) {
		(void)snprintf(words[0], WORD, "%.4g", given);
		(void)snprintf(words[1], WORD, "%.4e", nudged(figures[0]));
	} else {
		const int digits = digits_of(given, tol);
		(void)snprintf(words[0], WORD, "%.*f", digits, given);
		write_found(words[1], figures[0], tol > 0 ? digits + 1 : digits);
	}
	write_tolerance(words[2], tol);
	write_row(series, name, words);
}

void outside_record_range(const outside_series *series, const char *name, const double figures[3])
{
	char words[3][WORD];
	const double low = figures[1], high = figures[2];
	if (low == -INFINITY)
		(void)snprintf(words[0], WORD, "at most %g", high);
	else
		(void)snprintf(words[0], WORD, "%g to %g", low, high);
	int digits = decimals_of(high);
	if (digits > 7)
		digits = decimals_of_tolerance(high);
	if (high > 0 && high < 1e-6)
		(void)snprintf(words[1], WORD, "less");
	else
		write_found(words[1], figures[0], digits + 1);
	(void)snprintf(words[2], WORD, "-");
	write_row(series, name, words);
}
