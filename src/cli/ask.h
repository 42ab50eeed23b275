/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ask.h: questions on the terminal, one line each. Enter alone means that nobody knows, or no; the
 * end of the input answers all that is left in that way. A wrong answer is asked again. */
#ifndef CLI_ASK_H
#define CLI_ASK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { ASK_MAX_LINE = 200 };

typedef struct {
	FILE *in, *out;
	bool ended;
	char line[ASK_MAX_LINE + 2];
} cli_asker;

/* What was typed, blanks about it taken off; good until the next question. */
const char *ask_line(cli_asker *asker, const char *question);
bool ask_yes(cli_asker *asker, const char *question);
/* False: not known. */
bool ask_number(cli_asker *asker, const char *question, double low, double high, double *value);
/* 0 if not known. */
int ask_count(cli_asker *asker, const char *question, int most);

/* One of a few answers, by number or by its first letters. */
typedef struct {
	const char *question;
	size_t n;
	const char *const *answers; /* the first is taken for Enter */
} ask_choices;
size_t ask_choice(cli_asker *asker, const ask_choices *choices);

#endif
