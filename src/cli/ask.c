/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/ask.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Reads past what did not fit. */
static void skip_line(cli_asker *asker)
{
	int c;
	do
		c = getc(asker->in);
	while (c != '\n' && c != EOF);
}

static void trim(char *line)
{
	size_t n = strlen(line);
	while (n > 0 && isspace((unsigned char)line[n - 1]))
		line[--n] = '\0';
	const size_t blanks = strspn(line, " \t");
	memmove(line, line + blanks, n - blanks + 1);
}

const char *ask_line(cli_asker *asker, const char *question)
{
	for (;;) {
		asker->line[0] = '\0';
		if (asker->ended)
			return asker->line;
		fprintf(asker->out, "%s ", question);
		fflush(asker->out);
		if (fgets(asker->line, sizeof asker->line, asker->in) == NULL) {
			asker->ended = true;
			asker->line[0] = '\0';
			fputc('\n', asker->out);
			return asker->line;
		}
		const bool whole = strchr(asker->line, '\n') != NULL;
		if (whole || strlen(asker->line) <= ASK_MAX_LINE)
			break;
		skip_line(asker);
		fprintf(asker->out, "  That is too long; %d characters will do.\n", ASK_MAX_LINE);
	}
	trim(asker->line);
	return asker->line;
}

bool ask_yes(cli_asker *asker, const char *question)
{
	for (;;) {
		const char *line = ask_line(asker, question);
		const char first = (char)tolower((unsigned char)line[0]);
		if (first == 'y')
			return true;
		if (first == '\0' || first == 'n')
			return false;
		fputs("  Please answer y or n.\n", asker->out);
	}
}

bool ask_number(cli_asker *asker, const char *question, double low, double high, double *value)
{
	for (;;) {
		char *end;
		const char *line = ask_line(asker, question);
		if (line[0] == '\0')
			return false;
		const double number = strtod(line, &end);
		if (end != line && *end == '\0' && number >= low && number <= high) {
			*value = number;
			return true;
		}
		fprintf(asker->out,
			"  A number from %g to %g, without the unit; or Enter if nobody knows.\n",
			low, high);
	}
}

int ask_count(cli_asker *asker, const char *question, int most)
{
	double number = 0.0;
	while (ask_number(asker, question, 0, most, &number)) {
		if (number == floor(number))
			return (int)number;
		fputs("  A whole number, please.\n", asker->out);
	}
	return 0;
}

/* By number, or by the first letters; n for none. */
static size_t find_answer(const ask_choices *choices, const char *line)
{
	char *end;
	const long number = strtol(line, &end, 10);
	if (*end == '\0' && number >= 1 && (size_t)number <= choices->n)
		return (size_t)number - 1;
	size_t i = 0;
	while (i < choices->n && strncasecmp(line, choices->answers[i], strlen(line)) != 0)
		i++;
	return i;
}

size_t ask_choice(cli_asker *asker, const ask_choices *choices)
{
	for (;;) {
		fprintf(asker->out, "%s\n", choices->question);
		for (size_t i = 0; i < choices->n && !asker->ended; i++)
			fprintf(asker->out, "  %zu %s%s\n", i + 1, choices->answers[i],
				i == 0 ? " (Enter)" : "");
		const char *line = ask_line(asker, ">");
		const size_t found = line[0] == '\0' ? 0 : find_answer(choices, line);
		if (found < choices->n)
			return found;
		fputs("  One of the numbers, please.\n", asker->out);
	}
}
