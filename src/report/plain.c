/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plain.h"

#include <string.h>

#include "glyph.h"

/* The text with hidden characters spelt out; "" when memory is out. */
static const char *shown(rig_plain *plain, const char *text)
{
	rig_buffer buffer = {0};
	rig_glyph_show(&buffer, text);
	const char *copy = buffer.text == NULL ? "" : rig_arena_text(plain->arena, buffer.text);
	if (buffer.failed || copy == NULL)
		plain->failed = true;
	rig_buffer_free(&buffer);
	return copy == NULL ? "" : copy;
}

/* How many bytes of the text fill at most width columns; at least one character. */
static size_t bytes_within(const char *text, size_t width)
{
	const char *at = text;
	size_t columns = 0;
	while (*at != '\0') {
		const char *next = at;
		columns += (size_t)rig_glyph_columns(rig_glyph_next(&next));
		if (columns > width && at > text)
			break;
		at = next;
	}
	return (size_t)(at - text);
}

/* Bytes of the next line: up to the last space that fits, or a piece of a word that does not. */
static size_t line_bytes(const char *text, size_t width)
{
	const size_t most = bytes_within(text, width);
	if (text[most] == '\0' || text[most] == ' ')
		return most;
	for (size_t i = most; i > 0; i--) {
		if (text[i - 1] == ' ')
			return i - 1;
	}
	return most;
}

static void keep_line(rig_plain *plain, rig_lines *lines, const char *text, size_t length)
{
	while (length > 0 && text[length - 1] == ' ')
		length--;
	char *line = rig_arena_take(plain->arena, length + 1, 1);
	if (line == NULL) {
		plain->failed = true;
		return;
	}
	memcpy(line, text, length);
	lines->line[lines->n++] = line;
}

rig_lines rig_plain_wrap(rig_plain *plain, const char *text, size_t width)
{
	const char *rest = shown(plain, text);
	rig_lines lines = {0, rig_arena_take(plain->arena, strlen(rest) + 1, sizeof *lines.line)};
	if (lines.line == NULL) {
		plain->failed = true;
		return lines;
	}
	do {
		rest += strspn(rest, " ");
		const size_t length = line_bytes(rest, width);
		keep_line(plain, &lines, rest, length);
		rest += length;
	} while (rest[strspn(rest, " ")] != '\0');
	return lines;
}

size_t rig_plain_longest_word(rig_plain *plain, const char *text)
{
	const char *rest = shown(plain, text);
	size_t longest = 0;
	size_t columns = 0;
	while (*rest != '\0') {
		const char *next = rest;
		const int width = rig_glyph_columns(rig_glyph_next(&next));
		columns = *rest == ' ' ? 0 : columns + (size_t)width;
		longest = columns > longest ? columns : longest;
		rest = next;
	}
	return longest;
}

void rig_plain_spaces(rig_plain *plain, size_t n)
{
	for (size_t i = 0; i < n; i++)
		rig_buffer_add(&plain->out, " ");
}

void rig_plain_pad(rig_plain *plain, const char *line, size_t width, rig_align align)
{
	const size_t columns = rig_glyph_text_columns(line);
	const size_t gap = columns < width ? width - columns : 0;
	if (align == RIG_ALIGN_RIGHT)
		rig_plain_spaces(plain, gap);
	rig_buffer_add(&plain->out, line);
	if (align == RIG_ALIGN_LEFT)
		rig_plain_spaces(plain, gap);
}

void rig_plain_paragraph(rig_plain *plain, const char *text, size_t indent, const char *first)
{
	const rig_lines lines = rig_plain_wrap(plain, text, RIG_PLAIN_COLUMNS - indent);
	for (size_t i = 0; i < lines.n; i++) {
		const size_t used = i == 0 ? strlen(first) : 0;
		rig_plain_spaces(plain, indent - used);
		if (i == 0)
			rig_buffer_add(&plain->out, first);
		rig_buffer_add(&plain->out, lines.line[i]);
		rig_buffer_add(&plain->out, "\n");
	}
}
