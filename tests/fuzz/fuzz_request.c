/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options of a question as JSON, and a rig file, as the page hands them over: the input is the
 * options, a NUL, then the file. One of the questions, by the length of the options, is asked: the
 * answer is a document or a refusal with a reason. */
#include <string.h>

#include "fuzz.h"
#include "rigbudget/answer.h"

static void ask(const rig_file *file, rig_answer_request *request, const char *question)
{
	rig_answer_options *options = rig_answer_request_options(request);
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	MUST(diags != NULL);
	/* few of each, so that a run is short */
	options->n_trips = options->n_trips == 0 ? 0 : 4;
	options->n_side_trips = 0;
	options->n_days = options->n_days > 3 ? 3 : options->n_days;
	const rig_status status = rig_answer(file, question, options, diags, &document);
	if (status == RIG_OK)
		MUST(rig_document_status(document) == RIG_OK);
	else
		MUST(rig_diags_faults(diags) > 0);
	rig_document_free(document);
	rig_diags_free(diags);
}

static void ask_one(const rig_file *file, const char *options, size_t length)
{
	rig_diags *diags = rig_diags_new();
	rig_answer_request *request = NULL;
	MUST(diags != NULL);
	if (rig_answer_request_read(options, length, file, diags, &request) == RIG_OK)
		ask(file, request, rig_question_at(length % rig_n_questions())->name);
	else
		MUST(rig_diags_faults(diags) > 0);
	rig_answer_request_free(request);
	rig_diags_free(diags);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	const uint8_t *end = size > 0 ? memchr(bytes, 0, size) : NULL;
	if (end == NULL)
		return 0;
	const char *rig = (const char *)end + 1;
	const size_t length = (size_t)(end - bytes);
	rig_diags *diags = rig_diags_new();
	rig_file *file = NULL;
	MUST(diags != NULL);
	if (rig_file_parse(rig, size - length - 1, diags, &file) == RIG_OK)
		ask_one(file, (const char *)bytes, length);
	rig_file_free(file);
	rig_diags_free(diags);
	return 0;
}
