/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spell_out.h: the table of commands and options as a manual page and as completions of shells. */
#ifndef CLI_SPELL_OUT_H
#define CLI_SPELL_OUT_H

#include "cli/options.h"

typedef struct {
	size_t n;
	const cli_command *rows;
} cli_commands;

/* what: "manual", "bash", "zsh" or "fish"; false if it is none of them. To standard output. date:
 * of the manual, as it is to be printed. */
bool spell_out(const cli_commands *commands, const char *what, const char *date);

void manual_write(const cli_commands *commands, const char *date);
void completion_write_bash(const cli_commands *commands);
void completion_write_zsh(const cli_commands *commands);
void completion_write_fish(const cli_commands *commands);

#endif
