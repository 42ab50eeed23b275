/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/batch_line.h"

#include <stdlib.h>

#include "base/jsonout.h"

static void add_key(rig_buffer *line, const char *key)
{
	if (line->length > 0 && line->text[line->length - 1] != '{')
		rig_buffer_add(line, ",");
	rig_json_render_text(line, key);
	rig_buffer_add(line, ":");
}

static void add_text(rig_buffer *line, const char *key, const char *text)
{
	if (text[0] == '\0')
		return;
	add_key(line, key);
	rig_json_render_text(line, text);
}

static void add_count(rig_buffer *line, const char *key, size_t n)
{
	if (n == 0)
		return;
	add_key(line, key);
	rig_buffer_format(line, "%zu", n);
}

/* A line number means nothing where the whole text is one line. */
static void add_fault(rig_buffer *line, const rig_diag *diag, bool with_lines)
{
	rig_buffer_add(line, "{");
	if (with_lines)
		add_count(line, "line", diag->where.line);
	add_count(line, "column", diag->where.column);
	add_text(line, "path", diag->where.path);
	add_text(line, "what", diag->what);
	add_text(line, "found", diag->found);
	add_text(line, "allowed", diag->allowed);
	add_text(line, "mend", diag->mend);
	rig_buffer_add(line, "}");
}

static void add_faults(rig_buffer *line, rig_diags *diags, bool with_lines)
{
	bool any = false;
	add_key(line, "faults");
	rig_buffer_add(line, "[");
	for (size_t i = 0; i < rig_diags_count(diags); i++) {
		const rig_diag *diag = rig_diags_at(diags, i);
		if (diag->severity != RIG_FAULT)
			continue;
		if (any)
			rig_buffer_add(line, ",");
		add_fault(line, diag, with_lines);
		any = true;
	}
	rig_buffer_add(line, "]");
}

static rig_status add_document(rig_buffer *line, const rig_document *document, bool full)
{
	char *text = NULL;
	const rig_status status = rig_document_json_line(document, full, &text);
	if (status == RIG_OK)
		rig_buffer_add(line, text);
	free(text);
	return status;
}

/* Adds one question's answer, or why there is none. */
static rig_status add_answer(
	rig_buffer *line, const batch_wish *wish, const rig_file *file, const char *question)
{
	rig_document *document = NULL;
	rig_diags *diags = rig_diags_new();
	if (diags == NULL)
		return RIG_NO_MEMORY;
	rig_status status = rig_answer(file, question, &wish->options, diags, &document);
	add_key(line, question);
	if (status == RIG_OK)
		status = add_document(line, document, wish->full);
	if (status != RIG_OK && status != RIG_NO_MEMORY) {
		if (rig_diags_faults(diags) == 0)
			rig_diags_add(diags, &(rig_diag){.what = rig_status_text(status)});
		rig_buffer_add(line, "{");
		add_faults(line, diags, false);
		rig_buffer_add(line, "}");
		status = RIG_BAD_INPUT;
	}
	rig_document_free(document);
	rig_diags_free(diags);
	return status;
}

static rig_status add_answers(rig_buffer *line, const batch_wish *wish, const rig_file *file)
{
	rig_status worst = RIG_OK;
	const char *name = rig_file_coach(file)->name;
	add_text(line, "coach", name != NULL ? name : "");
	for (size_t i = 0; i < wish->n_questions && worst != RIG_NO_MEMORY; i++) {
		const rig_status status = add_answer(line, wish, file, wish->questions[i]);
		if (status != RIG_OK)
			worst = status;
	}
	return worst;
}

rig_status batch_line(const batch_wish *wish, const batch_record *record, rig_buffer *line)
{
	rig_file *file = NULL;
	rig_status status = record->status;
	const rig_buffer *text = &record->text;
	if (status == RIG_OK)
		status = rig_file_parse(
			text->text != NULL ? text->text : "", text->length, record->diags, &file);
	if (status == RIG_NO_MEMORY)
		return status;
	rig_buffer_add(line, "{");
	add_text(line, "file", record->file != NULL ? record->file : "");
	if (status == RIG_OK) {
		status = add_answers(line, wish, file);
	} else {
		add_faults(line, record->diags, record->file != NULL);
		status = RIG_BAD_INPUT;
	}
	rig_buffer_add(line, "}\n");
	rig_file_free(file);
	return line->failed ? RIG_NO_MEMORY : status;
}
