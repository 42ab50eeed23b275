/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmd_list.c: the tables of the library, and the schemas. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "answer/list.h"
#include "base/suggest.h"
#include "cli/commands.h"
#include "cli/hand_over.h"
#include "cli/session.h"
#include "rigbudget/parts.h"

/* What is no table. */
static const char *const TEXTS[] = {"schema", "parts-schema", "parts-example"};
enum { N_TEXTS = sizeof TEXTS / sizeof TEXTS[0] };

static const char *list_name_at(const void *context, size_t i)
{
	(void)context;
	return i < rig_n_lists() ? rig_list_name(i) : TEXTS[i - rig_n_lists()];
}

static int list_rows(const cli_options *options, const rig_listing *listing)
{
	if (listing->n > 0)
		return hand_over(options, listing->document);
	rig_document_free(listing->document);
	fprintf(stderr, "rigbudget list %s: no row holds %s\n", options->arguments[0],
		options->arguments[1]);
	return EXIT_USAGE;
}

static int print_schema(const cli_options *options, char *schema)
{
	if (schema == NULL)
		return exit_for(RIG_NO_MEMORY);
	const int status = write_result(options, schema, strlen(schema));
	free(schema);
	return status;
}

static int complain_list(const char *what)
{
	const size_t n = rig_n_lists() + N_TEXTS;
	const char *near = rig_suggest(what, n, list_name_at, NULL);
	fprintf(stderr, "rigbudget list: there is no list %s; there are:", what);
	for (size_t i = 0; i < n; i++)
		fprintf(stderr, " %s", list_name_at(NULL, i));
	fprintf(stderr, "%s%s%s\n", near != NULL ? "\nDid you mean " : "", near != NULL ? near : "",
		near != NULL ? "?" : "");
	return EXIT_USAGE;
}

int run_list(const cli_options *options)
{
	const char *what = options->arguments[0];
	if (strcmp(what, "schema") == 0)
		return print_schema(options, rig_schema_text());
	if (strcmp(what, "parts-schema") == 0)
		return print_schema(options, rig_parts_schema_text());
	if (strcmp(what, "parts-example") == 0)
		return write_result(options, rig_parts_example, strlen(rig_parts_example));
	const rig_list_wish wish = {.word = options->n_arguments > 1 ? options->arguments[1] : ""};
	rig_listing listing = {0};
	const rig_status status = rig_list_write(what, &wish, &listing);
	if (status == RIG_NOT_FOUND)
		return complain_list(what);
	return status == RIG_OK ? list_rows(options, &listing) : exit_for(status);
}
