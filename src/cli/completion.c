/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Completions of shells: commands, the options that each takes, and the words of a choice. */
#include <stdio.h>
#include <string.h>

#include "cli/spell_out.h"

static const char *const NEEDS_NO_COMMAND = "help --help --version";

static void print_choices(const char *const *choices, const char *between)
{
	for (size_t i = 0; choices[i] != NULL; i++)
		printf("%s%s", i > 0 ? between : "", choices[i]);
}

static void print_options(unsigned takes)
{
	cli_option_words option;
	for (size_t i = 0; (i = option_after(i, takes, &option)) != 0;) {
		printf(" --%s", option.name);
		if (option.letter != 0)
			printf(" -%c", option.letter);
	}
}

/* The words that stand for a first argument, such as "a|b|c [WORD]": a b c. */
static void print_words(const cli_command *command)
{
	const char *words = command->arguments;
	if (strchr(words, '|') == NULL)
		return;
	for (; *words != '\0' && *words != ' '; words++)
		putchar(*words == '|' ? ' ' : *words);
}

/* An apostrophe inside single quotes. */
static void print_quoted(const char *text, const char *apostrophe)
{
	putchar('\'');
	for (; *text != '\0'; text++) {
		if (*text == '\'')
			fputs(apostrophe, stdout);
		else
			putchar(*text);
	}
	putchar('\'');
}

/* ---- bash ---- */

static void bash_choices(const cli_command *command)
{
	cli_option_words option;
	for (size_t i = 0; (i = option_after(i, command->takes, &option)) != 0;) {
		if (option.choices == NULL)
			continue;
		printf("\t%s:--%s", command->name, option.name);
		if (option.letter != 0)
			printf("|%s:-%c", command->name, option.letter);
		fputs(") COMPREPLY=($(compgen -W '", stdout);
		print_choices(option.choices, " ");
		fputs("' -- \"$word\")); return ;;\n", stdout);
	}
}

void completion_write_bash(const cli_commands *commands)
{
	fputs("# rigbudget: completions for bash\n_rigbudget()\n{\n"
	      "\tlocal word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]} options= words=\n"
	      "\tCOMPREPLY=()\n\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n"
	      "\t\tCOMPREPLY=($(compgen -W '",
		stdout);
	for (size_t i = 0; i < commands->n; i++)
		printf("%s ", commands->rows[i].name);
	printf("%s' -- \"$word\"))\n\t\treturn\n\tfi\n", NEEDS_NO_COMMAND);
	fputs("\tcase $command:${COMP_WORDS[COMP_CWORD-1]} in\n", stdout);
	for (size_t i = 0; i < commands->n; i++)
		bash_choices(&commands->rows[i]);
	fputs("\tesac\n\tcase $command in\n", stdout);
	for (size_t i = 0; i < commands->n; i++) {
		printf("\t%s) options='", commands->rows[i].name);
		print_options(commands->rows[i].takes);
		fputs("' words='", stdout);
		print_words(&commands->rows[i]);
		fputs("' ;;\n", stdout);
	}
	fputs("\tesac\n\tcase $word in\n"
	      "\t-*) COMPREPLY=($(compgen -W \"$options\" -- \"$word\")) ;;\n"
	      "\t*) if [ -n \"$words\" ]; then COMPREPLY=($(compgen -W \"$words\" -- \"$word\")); "
	      "else COMPREPLY=($(compgen -f -- \"$word\")); fi ;;\n"
	      "\tesac\n}\ncomplete -o filenames -F _rigbudget rigbudget\n",
		stdout);
}

/* ---- zsh ---- */

static void zsh_options(const cli_command *command)
{
	cli_option_words option;
	for (size_t i = 0; (i = option_after(i, command->takes, &option)) != 0;) {
		printf("\t\t\t'--%s%s[", option.name, option.value != NULL ? "=" : "");
		for (const char *help = option.help; *help != '\0'; help++) {
			if (*help == '\'')
				fputs("'\\''", stdout);
			else if (strchr("[]:\\", *help) != NULL)
				printf("\\%c", *help);
			else
				putchar(*help);
		}
		putchar(']');
		if (option.value != NULL && option.choices != NULL) {
			fputs(":value:(", stdout);
			print_choices(option.choices, " ");
			putchar(')');
		} else if (option.value != NULL) {
			fputs(":value:_files", stdout);
		}
		fputs("' \\\n", stdout);
	}
}

void completion_write_zsh(const cli_commands *commands)
{
	fputs("#compdef rigbudget\n_rigbudget()\n{\n\tlocal -a commands\n\tcommands=(\n", stdout);
	for (size_t i = 0; i < commands->n; i++) {
		fputs("\t\t", stdout);
		char entry[400];
		snprintf(entry, sizeof entry, "%s:%s", commands->rows[i].name,
			commands->rows[i].summary);
		print_quoted(entry, "'\\''");
		putchar('\n');
	}
	fputs("\t)\n\tif ((CURRENT == 2)); then\n\t\t_describe command commands\n\t\treturn\n\tfi\n"
	      "\tlocal command=$words[2]\n\tshift words\n\t((CURRENT--))\n\tcase $command in\n",
		stdout);
	for (size_t i = 0; i < commands->n; i++) {
		const cli_command *command = &commands->rows[i];
		printf("\t%s)\n\t\t_arguments \\\n", command->name);
		zsh_options(command);
		if (strchr(command->arguments, '|') != NULL) {
			fputs("\t\t\t'*:word:(", stdout);
			print_words(command);
			fputs(")'\n", stdout);
		} else {
			fputs("\t\t\t'*:file:_files'\n", stdout);
		}
		fputs("\t\t;;\n", stdout);
	}
	fputs("\tesac\n}\n_rigbudget \"$@\"\n", stdout);
}

/* ---- fish ---- */

static void fish_option(const cli_command *command, const cli_option_words *option)
{
	printf("complete -c rigbudget -n '__fish_seen_subcommand_from %s' -l %s", command->name,
		option->name);
	if (option->letter != 0)
		printf(" -s %c", option->letter);
	if (option->choices != NULL) {
		fputs(" -x -a '", stdout);
		print_choices(option->choices, " ");
		putchar('\'');
	} else if (option->value != NULL) {
		fputs(" -r", stdout);
	}
	fputs(" -d ", stdout);
	print_quoted(option->help, "\\'");
	putchar('\n');
}

void completion_write_fish(const cli_commands *commands)
{
	fputs("# rigbudget: completions for fish\n", stdout);
	for (size_t i = 0; i < commands->n; i++) {
		const cli_command *command = &commands->rows[i];
		printf("complete -c rigbudget -n __fish_use_subcommand -f -a %s -d ",
			command->name);
		print_quoted(command->summary, "\\'");
		putchar('\n');
		if (strchr(command->arguments, '|') != NULL) {
			printf("complete -c rigbudget -n '__fish_seen_subcommand_from %s' -f -a '",
				command->name);
			print_words(command);
			fputs("'\n", stdout);
		}
		cli_option_words option;
		for (size_t k = 0; (k = option_after(k, command->takes, &option)) != 0;)
			fish_option(command, &option);
	}
}
