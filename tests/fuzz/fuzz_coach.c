/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Valid coaches whose every choice is drawn from the input, put to the question that its first byte
 * names: the answer is written in every form, no figure of it is missing or infinite, and the same
 * question gives the same words twice. */
#include <cjson/cJSON.h>
#include <string.h>

#include "fuzz.h"
#include "random_coach.h"
#include "rigbudget/answer.h"

/* A number that is none prints as nan or inf; as JSON it becomes null. */
static void check_numbers(const cJSON *node)
{
	MUST(!cJSON_IsNumber(node) || (node->valuedouble - node->valuedouble == 0));
	for (const cJSON *child = node->child; child != NULL; child = child->next)
		check_numbers(child);
}

static void check_document(const rig_document *document)
{
	char *text = NULL;
	char *html = NULL;
	char *json = NULL;
	MUST(rig_document_text(document, false, &text) == RIG_OK);
	MUST(rig_document_html(document, &html) == RIG_OK);
	MUST(rig_document_json(document, &json) == RIG_OK);
	MUST(strstr(text, " nan") == NULL && strstr(text, " inf ") == NULL);
	MUST(strstr(html, "=\"nan") == NULL && strstr(html, "=\"inf") == NULL &&
		strstr(html, "=\"-nan") == NULL);
	MUST(strstr(html, "<script") == NULL);
	cJSON *tree = cJSON_Parse(json);
	MUST(tree != NULL);
	check_numbers(tree);
	cJSON_Delete(tree);
	free(text);
	free(html);
	free(json);
}

static char *answer(const rig_file *file, const char *question)
{
	rig_answer_options options = rig_answer_defaults();
	rig_diags *diags = rig_diags_new();
	rig_document *document = NULL;
	char *text = NULL;
	MUST(diags != NULL);
	options.place = "Flagstaff";
	options.n_days = 2;
	options.n_trips = 8;
	options.n_side_trips = 0;
	const rig_status status = rig_answer(file, question, &options, diags, &document);
	if (status == RIG_OK) {
		check_document(document);
		MUST(rig_document_text(document, false, &text) == RIG_OK);
	} else {
		MUST(status == RIG_BAD_INPUT || status == RIG_NOT_FOUND);
		MUST(rig_diags_faults(diags) > 0);
	}
	rig_document_free(document);
	rig_diags_free(diags);
	return text;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
	if (size == 0)
		return 0;
	const char *question = rig_question_at(bytes[0] % rig_n_questions())->name;
	random_tape(bytes + 1, size - 1);
	rig_file *file = random_coach(size);
	random_tape(NULL, 0);
	char *first = answer(file, question);
	char *second = answer(file, question);
	MUST((first == NULL) == (second == NULL));
	MUST(first == NULL || strcmp(first, second) == 0);
	free(first);
	free(second);
	rig_file_free(file);
	return 0;
}
