/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/document.h"

#include <stdlib.h>
#include <string.h>

#include "glyph.h"
#include "plain.h"

enum { INDENT = 2, NAME_COLUMNS = 34, GAP = 2 };

/* A text in bold, if asked for, and underlined with a character if that is not 0. */
static void print_head(rig_plain *plain, const char *text, char underline)
{
	if (plain->emphasis)
		rig_buffer_add(&plain->out, "\x1b[1m");
	const size_t start = plain->out.length;
	rig_plain_paragraph(plain, text, 0, "");
	size_t widest = 0;
	const rig_lines lines = rig_plain_wrap(plain, text, RIG_PLAIN_COLUMNS);
	for (size_t i = 0; i < lines.n; i++) {
		const size_t columns = rig_glyph_text_columns(lines.line[i]);
		widest = columns > widest ? columns : widest;
	}
	if (plain->emphasis && plain->out.length > start) {
		/* end the emphasis before the line does */
		plain->out.text[--plain->out.length] = '\0';
		rig_buffer_add(&plain->out, "\x1b[0m\n");
	}
	for (size_t i = 0; underline != '\0' && i < widest; i++)
		rig_buffer_add_bytes(&plain->out, &underline, 1);
	if (underline != '\0')
		rig_buffer_add(&plain->out, "\n");
}

static void print_items(rig_plain *plain, const rig_block *block, const char *bullet)
{
	if (block->head[0] != '\0')
		print_head(plain, block->head, '\0');
	for (size_t i = 0; i < block->n_items; i++)
		rig_plain_paragraph(plain, block->items[i], strlen(bullet), bullet);
}

static size_t fact_name_columns(rig_plain *plain, const rig_block *block)
{
	size_t widest = 0;
	for (size_t i = 0; i < block->n_items; i++) {
		const rig_lines lines = rig_plain_wrap(plain, block->facts[i].name, NAME_COLUMNS);
		for (size_t j = 0; j < lines.n; j++) {
			const size_t columns = rig_glyph_text_columns(lines.line[j]);
			widest = columns > widest ? columns : widest;
		}
	}
	return widest;
}

static void print_fact(rig_plain *plain, const rig_fact *fact, size_t name_width)
{
	const size_t room = RIG_PLAIN_COLUMNS - name_width - GAP;
	const bool told = fact->origin[0] != '\0';
	const char *text = rig_arena_format(plain->arena, "%s%s%s%s", fact->value, told ? " (" : "",
		fact->origin, told ? ")" : "");
	if (text == NULL) {
		plain->failed = true;
		return;
	}
	const rig_lines name = rig_plain_wrap(plain, fact->name, name_width);
	const rig_lines value = rig_plain_wrap(plain, text, room);
	for (size_t row = 0; row < name.n || row < value.n; row++) {
		rig_plain_pad(plain, row < name.n ? name.line[row] : "", name_width + GAP,
			RIG_ALIGN_LEFT);
		rig_buffer_add(&plain->out, row < value.n ? value.line[row] : "");
		rig_buffer_add(&plain->out, "\n");
	}
}

static void print_facts(rig_plain *plain, const rig_block *block)
{
	const size_t name_width = fact_name_columns(plain, block);
	for (size_t i = 0; i < block->n_items; i++)
		print_fact(plain, &block->facts[i], name_width);
}

static void print_block(rig_plain *plain, const rig_block *block)
{
	if (block->kind != RIG_BLOCK_BREAK)
		rig_buffer_add(&plain->out, "\n");
	switch (block->kind) {
	case RIG_BLOCK_HEADING:
		print_head(plain, block->head, block->level == 2 ? '-' : '\0');
		break;
	case RIG_BLOCK_ANSWER:
		print_head(plain, block->head, '\0');
		rig_plain_paragraph(plain, block->verdict, INDENT, "");
		if (block->text[0] != '\0')
			rig_plain_paragraph(plain, block->text, INDENT, "");
		break;
	case RIG_BLOCK_PARAGRAPH:
		rig_plain_paragraph(plain, block->text, 0, "");
		break;
	case RIG_BLOCK_LIST:
		print_items(plain, block, "- ");
		break;
	case RIG_BLOCK_BREAK:
		break;
	case RIG_BLOCK_CAUTION:
		print_items(plain, block, "! ");
		break;
	case RIG_BLOCK_FACTS:
		print_facts(plain, block);
		break;
	case RIG_BLOCK_TABLE:
		rig_plain_table(plain, block->table);
		break;
	case RIG_BLOCK_CHART:
		rig_plain_chart(plain, block->chart);
		break;
	case RIG_BLOCK_DIAGRAM:
		rig_plain_diagram(plain, block->diagram);
		break;
	}
}

/* Spaces at the ends of lines, left by padding, are cut. */
static char *without_trailing_spaces(const char *text)
{
	char *copy = malloc(strlen(text) + 1);
	if (copy == NULL)
		return NULL;
	size_t length = 0;
	for (; *text != '\0'; text++) {
		while (*text == '\n' && length > 0 && copy[length - 1] == ' ')
			length--;
		copy[length++] = *text;
	}
	copy[length] = '\0';
	return copy;
}

rig_status rig_document_text(const rig_document *document, bool emphasis, char **text)
{
	if (rig_document_status(document) != RIG_OK)
		return rig_document_status(document);
	rig_plain plain = {.arena = rig_arena_new(), .emphasis = emphasis};
	char *copy = NULL;
	if (plain.arena == NULL)
		return RIG_NO_MEMORY;
	print_head(&plain, rig_document_title_text(document), '=');
	for (size_t i = 0; i < rig_document_n_subtitles(document); i++)
		rig_plain_paragraph(&plain, rig_document_subtitle_at(document, i), 0, "");
	for (size_t i = 0; i < rig_document_n_blocks(document); i++)
		print_block(&plain, rig_document_block_at(document, i));
	if (!plain.failed && !plain.out.failed && !rig_arena_failed(plain.arena))
		copy = without_trailing_spaces(plain.out.text);
	rig_buffer_free(&plain.out);
	rig_arena_free(plain.arena);
	if (copy == NULL)
		return RIG_NO_MEMORY;
	*text = copy;
	return RIG_OK;
}
