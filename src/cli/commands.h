/* SPDX-License-Identifier: GPL-3.0-or-later */
/* commands.h: one function a command, each in a file of its own; the result is the exit status. */
#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "cli/options.h"

int run_check(const cli_options *options);
int run_shore(const cli_options *options);
int run_shed(const cli_options *options);
int run_claims(const cli_options *options);
int run_solar(const cli_options *options);
int run_trip(const cli_options *options);
int run_readings(const cli_options *options);
int run_wiring(const cli_options *options);
int run_oneline(const cli_options *options);
int run_compare(const cli_options *options);
int run_batch(const cli_options *options);
int run_size(const cli_options *options);
int run_report(const cli_options *options);
int run_list(const cli_options *options);
int run_new(const cli_options *options);

#endif
