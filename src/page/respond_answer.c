/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Requests that put a question to a file. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "answer/request.h"
#include "page/exchange.h"

/* A question as it came, and what it is about. */
typedef struct {
	rig_file *file;
	rig_answer_request *request;
	rig_document *document;
} page_question;

static void free_question(page_question *question)
{
	rig_document_free(question->document);
	rig_answer_request_free(question->request);
	rig_file_free(question->file);
}

/* "units" may stand beside the options. */
static rig_status take_units(page_exchange *exchange, rig_answer_options *options)
{
	const char *units = page_text(exchange, "units", "");
	if (units == NULL)
		return RIG_BAD_INPUT;
	if (units[0] == '\0')
		return RIG_OK;
	options->units = strcmp(units, "si") == 0 ? RIG_UNITS_SI : RIG_UNITS_US;
	if (strcmp(units, "si") == 0 || strcmp(units, "us") == 0)
		return RIG_OK;
	return page_refuse(exchange, "units", "it is neither us nor si");
}

static rig_status read_options(page_exchange *exchange, page_question *question)
{
	const cJSON *given = page_member(exchange, "options");
	cJSON *none = given == NULL ? cJSON_CreateObject() : NULL;
	if (given == NULL && none == NULL)
		return RIG_NO_MEMORY;
	exchange->about = "options";
	const rig_status status = rig_answer_request_of(
		given != NULL ? given : none, question->file, exchange->others, &question->request);
	cJSON_Delete(none);
	if (status != RIG_OK)
		return status;
	rig_answer_options *options = rig_answer_request_options(question->request);
	options->progress = exchange->progress;
	return take_units(exchange, options);
}

/* Reads the file and the options. */
static rig_status read_question(page_exchange *exchange, page_question *question)
{
	rig_status status = page_read_file(exchange, &question->file);
	if (status == RIG_OK)
		status = read_options(exchange, question);
	return status;
}

static rig_status ask(page_exchange *exchange, page_question *question)
{
	const char *name = page_text(exchange, "question", NULL);
	if (name == NULL)
		return RIG_BAD_INPUT;
	rig_status status = read_question(exchange, question);
	if (status == RIG_OK)
		status = rig_answer(question->file, name,
			rig_answer_request_options(question->request), exchange->others,
			&question->document);
	return status;
}

static bool is_prefix(const char *text)
{
	for (; *text != '\0'; text++)
		if (!isalnum((unsigned char)*text) && *text != '-')
			return false;
	return true;
}

/* A list of the names of forms, if it is there. */
static rig_status check_forms(page_exchange *exchange)
{
	const cJSON *as = page_member(exchange, "as"), *item = NULL;
	if (as != NULL && !cJSON_IsArray(as))
		return page_refuse(exchange, "as", "it is not a list");
	cJSON_ArrayForEach(item, as)
	{
		const char *form = cJSON_IsString(item) ? item->valuestring : "";
		if (strcmp(form, "html") != 0 && strcmp(form, "text") != 0 &&
			strcmp(form, "data") != 0)
			return page_refuse(exchange, "as", "it is none of html, text and data");
	}
	return RIG_OK;
}

static bool wants(const page_exchange *exchange, const char *form, bool usual)
{
	const cJSON *as = page_member(exchange, "as"), *item = NULL;
	if (as == NULL)
		return usual;
	cJSON_ArrayForEach(item, as)
	{
		if (strcmp(item->valuestring, form) == 0)
			return true;
	}
	return false;
}

static void add_owned(page_exchange *exchange, const char *key, char *text)
{
	rig_json_add_text(&exchange->maker, exchange->response, key, text);
	free(text);
}

static void add_sayings(page_exchange *exchange, const rig_document *document)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *answers = rig_json_add_array(maker, exchange->response, "answers");
	cJSON *cautions = rig_json_add_array(maker, exchange->response, "cautions");
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind == RIG_BLOCK_ANSWER) {
			cJSON *answer = rig_json_add_object(maker, answers, NULL);
			rig_json_add_text(maker, answer, "question", block->head);
			rig_json_add_text(maker, answer, "verdict", block->verdict);
			rig_json_add_text(maker, answer, "more", block->text);
		}
		for (size_t k = 0; block->kind == RIG_BLOCK_CAUTION && k < block->n_items; k++)
			rig_json_add_text(maker, cautions, NULL, block->items[k]);
	}
}

static void add_head(page_exchange *exchange, const rig_document *document)
{
	rig_json_maker *maker = &exchange->maker;
	rig_json_add_text(maker, exchange->response, "title", rig_document_title_text(document));
	cJSON *about = rig_json_add_array(maker, exchange->response, "about");
	for (size_t i = 0; i < rig_document_n_subtitles(document); i++)
		rig_json_add_text(maker, about, NULL, rig_document_subtitle_at(document, i));
}

static rig_status add_forms(page_exchange *exchange, rig_document *document)
{
	char *text = NULL;
	rig_status status = RIG_OK;
	const char *prefix = page_text(exchange, "prefix", "");
	if (prefix == NULL || !is_prefix(prefix))
		return page_refuse(exchange, "prefix", "it is not letters and digits");
	if (wants(exchange, "html", true)) {
		status = rig_document_article(document, prefix, &text);
		if (status != RIG_OK)
			return status;
		add_owned(exchange, "html", text);
	}
	if (wants(exchange, "text", false)) {
		status = rig_document_text(document, false, &text);
		if (status != RIG_OK)
			return status;
		add_owned(exchange, "text", text);
	}
	/* the findings change hands, and stay good after the document */
	if (wants(exchange, "data", true))
		rig_json_add_item(&exchange->maker, exchange->response, "data",
			cJSON_Duplicate(rig_document_data(document), true));
	return status;
}

rig_status page_answer(page_exchange *exchange)
{
	page_question question = {0};
	rig_status status = check_forms(exchange);
	if (status == RIG_OK)
		status = ask(exchange, &question);
	if (status == RIG_OK) {
		add_head(exchange, question.document);
		add_sayings(exchange, question.document);
		status = add_forms(exchange, question.document);
	}
	free_question(&question);
	return status;
}

rig_status page_whole(page_exchange *exchange)
{
	page_question question = {0};
	char *text = NULL;
	const char *format = page_text(exchange, "format", "html");
	rig_status status = format == NULL ? RIG_BAD_INPUT : ask(exchange, &question);
	if (status != RIG_OK)
		goto out;
	if (strcmp(format, "html") == 0)
		status = rig_document_html(question.document, &text);
	else if (strcmp(format, "json") == 0)
		status = rig_document_json(question.document, &text);
	else if (strcmp(format, "text") == 0)
		status = rig_document_text(question.document, false, &text);
	else
		status = page_refuse(exchange, "format", "it is none of html, json and text");
	if (status == RIG_OK)
		add_owned(exchange, "text", text);
out:
	free_question(&question);
	return status;
}

rig_status page_accept(page_exchange *exchange)
{
	page_question question = {0};
	rig_accepted accepted = {0};
	rig_status status = read_question(exchange, &question);
	if (status == RIG_OK)
		status = rig_answer_accept(question.file,
			rig_answer_request_options(question.request), exchange->others, &accepted);
	if (status == RIG_OK) {
		rig_json_add_number(&exchange->maker, exchange->response, "n", (double)accepted.n);
		add_owned(exchange, "text", accepted.text);
	}
	free_question(&question);
	return status;
}

rig_status page_questions(page_exchange *exchange)
{
	rig_json_maker *maker = &exchange->maker;
	cJSON *list = rig_json_add_array(maker, exchange->response, "questions");
	for (size_t i = 0; i < rig_n_questions(); i++) {
		const rig_question *row = rig_question_at(i);
		cJSON *question = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, question, "name", row->name);
		rig_json_add_text(maker, question, "what", row->what);
		rig_json_add_truth(maker, question, "needs_place", row->needs_place);
		rig_json_add_truth(maker, question, "is_long", row->is_long);
	}
	return RIG_OK;
}
