/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A one-line diagram in words: an indented tree with the same ratings and sizes. */
#include "diagram.h"
#include "plain.h"

enum { INDENT = 2, MOST_DEPTH = 12 };

static int depth_of(const rig_diagram *diagram, size_t i)
{
	int depth = 0;
	for (int at = diagram->items[i].parent; at >= 0; at = diagram->items[at].parent)
		depth++;
	return depth < MOST_DEPTH ? depth : MOST_DEPTH;
}

const char *rig_diagram_item_words(rig_arena *arena, const rig_diagram *diagram, size_t i)
{
	const rig_diagram_item *item = &diagram->items[i];
	const char *line = rig_diagram_line_words(arena, item);
	const char *to = item->joins < 0 ? "" : diagram->items[item->joins].name;
	const char *words =
		rig_arena_format(arena, "%s%s%s%s%s%s%s%s", item->name, line[0] != '\0' ? " [" : "",
			line, line[0] != '\0' ? "]" : "", item->text[0] != '\0' ? ": " : "",
			item->text, item->joins < 0 ? "" : "; joined to: ", to);
	return words == NULL ? "" : words;
}

void rig_plain_diagram(rig_plain *plain, const rig_diagram *diagram)
{
	rig_plain_paragraph(plain, diagram->title, 0, "");
	rig_plain_paragraph(plain, diagram->note, 0, "");
	rig_buffer_add(&plain->out, "\n");
	for (size_t i = 0; i < diagram->n_items; i++) {
		const size_t indent = (size_t)depth_of(diagram, i) * INDENT;
		char first[MOST_DEPTH * INDENT + INDENT + 1];
		for (size_t j = 0; j < indent; j++)
			first[j] = ' ';
		first[indent] = '-';
		first[indent + 1] = ' ';
		first[indent + 2] = '\0';
		rig_plain_paragraph(plain, rig_diagram_item_words(plain->arena, diagram, i),
			indent + INDENT, first);
	}
}
