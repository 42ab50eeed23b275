/* SPDX-License-Identifier: GPL-3.0-or-later */
/* comma LOCALE FILE: reads a rig file under a locale, writes it anew and answers every question in
 * every form, all to standard output: which must not change with the locale. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/buffer.h"
#include "rigbudget/answer.h"
#include "rigbudget/folder.h"

static void must(bool holds, const char *what)
{
	if (holds)
		return;
	(void)fprintf(stderr, "comma: %s\n", what);
	exit(EXIT_FAILURE);
}

static rig_file *read_rig(const char *path)
{
	rig_buffer text = {0};
	char step[4096];
	FILE *in = fopen(path, "rb");
	must(in != NULL, "the file cannot be opened");
	for (size_t n; (n = fread(step, 1, sizeof step, in)) > 0;)
		rig_buffer_add_bytes(&text, step, n);
	(void)fclose(in);
	rig_file *file = NULL;
	rig_file_parse(text.text, text.length, NULL, &file);
	must(file != NULL, "the file is refused");
	rig_buffer_free(&text);
	return file;
}

static void print_document(const rig_document *document)
{
	char *text[3] = {NULL, NULL, NULL};
	rig_folder *folder[2] = {NULL, NULL};
	rig_document_text(document, false, &text[0]);
	rig_document_html(document, &text[1]);
	rig_document_json(document, &text[2]);
	rig_document_csv(document, &folder[0]);
	rig_document_svg(document, &folder[1]);
	for (int i = 0; i < 3; i++) {
		must(text[i] != NULL, "a form is missing");
		puts(text[i]);
		free(text[i]);
	}
	for (int i = 0; i < 2; i++) {
		must(folder[i] != NULL, "a folder is missing");
		for (size_t j = 0; j < rig_folder_n_files(folder[i]); j++)
			puts(rig_folder_file_at(folder[i], j)->text);
		rig_folder_free(folder[i]);
	}
}

int main(int argc, char **argv)
{
	must(argc == 3 && setlocale(LC_ALL, argv[1]) != NULL, "there is no such locale");
	(void)fprintf(stderr, "%.1f\n", 0.5);
	rig_file *file = read_rig(argv[2]);
	char *text = rig_file_text(file);
	must(text != NULL, "the file cannot be written");
	puts(text);
	free(text);
	for (size_t i = 0; i < rig_n_questions(); i++) {
		rig_answer_options options = rig_answer_defaults();
		rig_document *document = NULL;
		options.n_trips = 20;
		options.n_side_trips = 0;
		options.n_days = 2;
		const rig_status status =
			rig_answer(file, rig_question_at(i)->name, &options, NULL, &document);
		printf("%s %d\n", rig_question_at(i)->name, (int)status);
		if (document != NULL)
			print_document(document);
		rig_document_free(document);
	}
	rig_file_free(file);
	return EXIT_SUCCESS;
}
