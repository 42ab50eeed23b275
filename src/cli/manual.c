/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The manual page, in the macros of man(7). */
#include <stdio.h>
#include <string.h>

#include "cli/spell_out.h"

bool spell_out(const cli_commands *commands, const char *what, const char *date)
{
	if (strcmp(what, "manual") == 0)
		manual_write(commands, date);
	else if (strcmp(what, "bash") == 0)
		completion_write_bash(commands);
	else if (strcmp(what, "zsh") == 0)
		completion_write_zsh(commands);
	else if (strcmp(what, "fish") == 0)
		completion_write_fish(commands);
	else
		return false;
	return true;
}

/* A text in which nothing is taken for a request or an escape. */
static void print_text(const char *text)
{
	bool starts_line = true;
	for (; *text != '\0'; text++) {
		if (starts_line && (*text == '.' || *text == '\''))
			fputs("\\&", stdout);
		if (*text == '\\')
			fputs("\\e", stdout);
		else if (*text == '-')
			fputs("\\-", stdout);
		else
			putchar(*text);
		starts_line = *text == '\n';
	}
}

static void print_options(unsigned takes)
{
	cli_option_words option;
	for (size_t i = 0; (i = option_after(i, takes, &option)) != 0;) {
		fputs(".TP\n.B ", stdout);
		if (option.letter != 0)
			printf("\\-%c, ", option.letter);
		fputs("\\-\\-", stdout);
		print_text(option.name);
		if (option.value != NULL) {
			putchar(' ');
			print_text(option.value);
		}
		putchar('\n');
		print_text(option.help);
		fputs("\n", stdout);
	}
}

static void print_command(const cli_command *command)
{
	fputs(".SS rigbudget ", stdout);
	print_text(command->name);
	fputs("\n.B rigbudget ", stdout);
	print_text(command->name);
	fputs(" [OPTION ...]", stdout);
	if (command->arguments[0] != '\0') {
		putchar(' ');
		print_text(command->arguments);
	}
	fputs("\n.PP\n", stdout);
	print_text(command->about);
	putchar('\n');
	print_options(command->takes);
	fputs(".PP\nExample:\n.PP\n.nf\n", stdout);
	print_text(command->example);
	fputs("\n.fi\n", stdout);
}

void manual_write(const cli_commands *commands, const char *date)
{
	printf(".TH RIGBUDGET 1 \"%s\" \"rigbudget %s\" \"User Commands\"\n", date, RIG_VERSION);
	fputs(".SH NAME\n"
	      "rigbudget \\- electrical load budget for motorhomes and trailers\n"
	      ".SH SYNOPSIS\n.B rigbudget\nCOMMAND [OPTION ...] [FILE]\n"
	      ".SH DESCRIPTION\n"
	      "Adds up what a coach draws on shore power, runs its battery and panel through hours "
	      "and\nweather, and says what its solar panel is worth, out of one file that "
	      "describes the\ncoach. FILE may be \\- for standard input.\n"
	      ".SH COMMANDS\n",
		stdout);
	for (size_t i = 0; i < commands->n; i++)
		print_command(&commands->rows[i]);
	fputs(".SH EXIT STATUS\n"
	      ".TP\n.B 0\nAll is fine.\n"
	      ".TP\n.B 1\nA check found what does not hold.\n"
	      ".TP\n.B 2\nThe command line is wrong.\n"
	      ".TP\n.B 3\nThe input is wrong.\n"
	      ".TP\n.B 4\nA file could not be read or written.\n"
	      ".TP\n.B 130\nA batch was interrupted; its lines are whole.\n"
	      ".SH CAUTIONS\n"
	      "The figures tell where to look. They do not show that anything is sound. Work on "
	      "shore\npower, wires, fuses and batteries is for a licensed electrician or a "
	      "certified technician,\nby local codes and the makers\\(aq instructions.\n",
		stdout);
}
