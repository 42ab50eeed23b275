/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/hand_over.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "base/file.h"
#include "cli/pdf_library.h"
#include "cli/session.h"
#include "rigbudget/folder.h"

int write_result(const cli_options *options, const char *text, size_t length)
{
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return exit_for(RIG_NO_MEMORY);
	const char *path = options->output != NULL ? options->output : "-";
	const rig_status status = rig_file_write(path, text, length, diags);
	if (status != RIG_OK)
		print_diags(strcmp(path, "-") == 0 ? "standard output" : path, NULL, 0, diags);
	rig_diags_free(diags);
	return exit_for(status);
}

static bool ends_in(const char *text, const char *ending)
{
	const size_t n = strlen(text), m = strlen(ending);
	return n > m && strcasecmp(text + n - m, ending) == 0;
}

static output_format format_of(const cli_options *options)
{
	if (options->format != FORMAT_UNSAID || options->output == NULL)
		return (output_format)options->format;
	if (ends_in(options->output, ".pdf"))
		return FORMAT_PDF;
	if (ends_in(options->output, ".html") || ends_in(options->output, ".htm"))
		return FORMAT_HTML;
	return ends_in(options->output, ".json") ? FORMAT_JSON : FORMAT_TEXT;
}

/* Bold headings only on a terminal that wants them. */
static bool wants_emphasis(const cli_options *options)
{
	const char *no_color = getenv("NO_COLOR"), *terminal = getenv("TERM");
	return options->output == NULL && isatty(STDOUT_FILENO) &&
	       (no_color == NULL || no_color[0] == '\0') &&
	       (terminal == NULL || strcmp(terminal, "dumb") != 0);
}

static bool is_terminal(const cli_options *options)
{
	return (options->output == NULL || strcmp(options->output, "-") == 0) &&
	       isatty(STDOUT_FILENO);
}

static int hand_over_pdf(const cli_options *options, const rig_document *document)
{
	if (is_terminal(options)) {
		fputs("rigbudget: a PDF is nothing for a terminal\n"
		      "    to mend: name a file with -o FILE.pdf\n",
			stderr);
		return EXIT_USAGE;
	}
	const rig_pdf_options paper = {
		(rig_paper)options->paper, options->inspector, options->date};
	char *bytes = NULL;
	size_t length = 0;
	int status = pdf_library_write(document, &paper, &bytes, &length);
	if (status == EXIT_FINE)
		status = write_result(options, bytes, length);
	free(bytes);
	return status;
}

static int complain_folder(void)
{
	fputs("rigbudget: tables and charts are many files: they go to a folder\n"
	      "    to mend: --format csv -o FOLDER for the tables, --format svg -o FOLDER for the "
	      "charts\n",
		stderr);
	return EXIT_USAGE;
}

/* Each file is whole or not there. */
static int write_files(const char *path, const rig_folder *folder)
{
	cli_options file = {0};
	int status = EXIT_FINE;
	for (size_t i = 0; i < rig_folder_n_files(folder) && status == EXIT_FINE; i++) {
		const rig_folder_file *made = rig_folder_file_at(folder, i);
		rig_buffer name = {0};
		rig_buffer_format(&name, "%s/%s", path, made->name);
		file.output = name.text;
		status = name.failed ? exit_for(RIG_NO_MEMORY)
				     : write_result(&file, made->text, made->length);
		rig_buffer_free(&name);
	}
	return status;
}

static int hand_over_folder(const cli_options *options, const rig_document *document)
{
	if (options->output == NULL || strcmp(options->output, "-") == 0)
		return complain_folder();
	rig_folder *folder = NULL;
	rig_diags *diags = rig_diags_new();
	rig_status made = diags == NULL ? RIG_NO_MEMORY : RIG_OK;
	if (made == RIG_OK)
		made = format_of(options) == FORMAT_SVG ? rig_document_svg(document, &folder)
							: rig_document_csv(document, &folder);
	if (made == RIG_OK) {
		made = rig_file_make_folder(options->output, diags);
		print_diags(options->output, NULL, 0, diags);
	}
	const int status = made == RIG_OK ? write_files(options->output, folder) : exit_for(made);
	rig_folder_free(folder);
	rig_diags_free(diags);
	return status;
}

static int hand_over_text(const cli_options *options, const rig_document *document)
{
	char *text = NULL;
	rig_status status = RIG_OK;
	switch (format_of(options)) {
	case FORMAT_HTML:
		status = rig_document_html(document, &text);
		break;
	case FORMAT_JSON:
		status = rig_document_json(document, &text);
		break;
	default:
		status = rig_document_text(document, wants_emphasis(options), &text);
		break;
	}
	if (status != RIG_OK)
		return exit_for(status);
	const int written = write_result(options, text, strlen(text));
	free(text);
	return written;
}

/* A name that asks for one file of tables or charts, of which there are many. */
static bool asks_for_one(const cli_options *options)
{
	return options->format == FORMAT_UNSAID && options->output != NULL &&
	       (ends_in(options->output, ".csv") || ends_in(options->output, ".svg"));
}

int hand_over(const cli_options *options, rig_document *document)
{
	int status = EXIT_INPUT;
	if (rig_document_status(document) == RIG_NO_MEMORY)
		status = exit_for(RIG_NO_MEMORY);
	else if (rig_document_status(document) != RIG_OK)
		fputs("rigbudget: a figure of the result is not a finite number; "
		      "nothing was written\n",
			stderr);
	else if (asks_for_one(options))
		status = complain_folder();
	else if (format_of(options) == FORMAT_PDF)
		status = hand_over_pdf(options, document);
	else if (format_of(options) == FORMAT_CSV || format_of(options) == FORMAT_SVG)
		status = hand_over_folder(options, document);
	else
		status = hand_over_text(options, document);
	rig_document_free(document);
	return status;
}
