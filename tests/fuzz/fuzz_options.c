/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of a command line, one a line of the input, against every option that any command
 * takes. */
#include <string.h>

#include "cli/options.h"
#include "fuzz.h"

enum { MAX_WORDS = 64 };

static const cli_command ALL = {
	.name = "all", .arguments = "FILE", .least = 0, .most = 2, .takes = ~0U};

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	char *words[MAX_WORDS];
	int n = 0;
	cli_options options = {0};
	char *text = strndup((const char *)bytes, size);
	MUST(text != NULL);
	for (char *word = strtok(text, "\n"); word != NULL && n < MAX_WORDS;
		word = strtok(NULL, "\n"))
		words[n++] = word;
	if (options_read(&ALL, n, words, &options)) {
		MUST(options.n_arguments <= ALL.most);
		MUST(options.n_loads <= MAX_LOADS && options.n_reads <= MAX_LOADS);
		MUST(options.month >= -1 && options.month < 12);
	}
	free(text);
	return 0;
}
