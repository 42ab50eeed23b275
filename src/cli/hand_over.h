/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand_over.h: a result goes where the options ask, in the format that they ask for. Each function
 * that fails has said why on standard error and returns the exit status. */
#ifndef CLI_HAND_OVER_H
#define CLI_HAND_OVER_H

#include "cli/options.h"
#include "rigbudget/document.h"

/* Renders and writes a document, then frees it. */
int hand_over(const cli_options *options, rig_document *document);

/* Writes a text to a file or standard output. */
int write_result(const cli_options *options, const char *text, size_t length);

#endif
