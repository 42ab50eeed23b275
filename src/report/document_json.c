/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/document.h"

#include <cjson/cJSON.h>

#include "base/jsonout.h"

/* The items of all lists of one kind. */
static void add_items(rig_json_maker *maker, cJSON *root, const rig_document *document,
	rig_block_kind kind, const char *key)
{
	cJSON *list = rig_json_add_array(maker, root, key);
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		for (size_t j = 0; block->kind == kind && j < block->n_items; j++)
			rig_json_add_text(maker, list, NULL, block->items[j]);
	}
}

static void add_answers(rig_json_maker *maker, cJSON *root, const rig_document *document)
{
	cJSON *list = rig_json_add_array(maker, root, "answers");
	for (size_t i = 0; i < rig_document_n_blocks(document); i++) {
		const rig_block *block = rig_document_block_at(document, i);
		if (block->kind != RIG_BLOCK_ANSWER)
			continue;
		cJSON *answer = rig_json_add_object(maker, list, NULL);
		rig_json_add_text(maker, answer, "question", block->head);
		rig_json_add_text(maker, answer, "verdict", block->verdict);
		rig_json_add_text(maker, answer, "more", block->text);
	}
}

/* All but the findings. */
static cJSON *words_of(rig_json_maker *maker, const rig_document *document)
{
	cJSON *root = rig_json_new_object(maker);
	rig_json_add_text(maker, root, "format", "rigbudget-report/1");
	rig_json_add_text(maker, root, "title", rig_document_title_text(document));
	cJSON *subtitles = rig_json_add_array(maker, root, "about");
	for (size_t i = 0; i < rig_document_n_subtitles(document); i++)
		rig_json_add_text(maker, subtitles, NULL, rig_document_subtitle_at(document, i));
	add_answers(maker, root, document);
	add_items(maker, root, document, RIG_BLOCK_CAUTION, "cautions");
	return root;
}

static rig_status render_document(const rig_document *document, bool findings,
	void (*render)(const cJSON *, rig_buffer *), char **text)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	rig_json_maker maker = {0};
	rig_buffer buffer = {0};
	cJSON *root = words_of(&maker, document);
	/* a reference: the members stay the document's */
	const cJSON *data = rig_document_data((rig_document *)document);
	if (findings)
		rig_json_add_item(
			&maker, root, "findings", cJSON_CreateObjectReference(data->child));
	if (!maker.failed)
		render(root, &buffer);
	cJSON_Delete(root);
	if (maker.failed || buffer.failed || buffer.text == NULL) {
		rig_buffer_free(&buffer);
		return RIG_NO_MEMORY;
	}
	*text = buffer.text;
	return RIG_OK;
}

rig_status rig_document_json(const rig_document *document, char **text)
{
	return render_document(document, true, rig_json_render_pairs, text);
}

rig_status rig_document_json_line(const rig_document *document, bool findings, char **text)
{
	return render_document(document, findings, rig_json_render_line, text);
}
