/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plain.h: lines of plain text: wrapping, padding, tables and charts within 80 columns. */
#ifndef REPORT_PLAIN_H
#define REPORT_PLAIN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "base/buffer.h"
#include "rigbudget/document.h"

enum { RIG_PLAIN_COLUMNS = 80 };

typedef struct {
	rig_arena *arena;
	rig_buffer out;
	bool emphasis;
	bool failed; /* memory was out */
} rig_plain;

/* A text cut into lines, hidden characters spelt out. At least one line, maybe empty. */
typedef struct {
	size_t n;
	const char **line;
} rig_lines;

/* Breaks at spaces, and inside a word only where the word alone is too wide. width >= 2. */
rig_lines rig_plain_wrap(rig_plain *plain, const char *text, size_t width);
/* Columns of the widest word of a text. */
size_t rig_plain_longest_word(rig_plain *plain, const char *text);
/* Adds the line and fills it with spaces to the width, on the side away from its alignment. */
void rig_plain_pad(rig_plain *plain, const char *line, size_t width, rig_align align);
void rig_plain_spaces(rig_plain *plain, size_t n);
/* Adds a wrapped text after an indent; first stands before its first line instead of as many spaces
 * of the indent ("- "), "" for nothing. */
void rig_plain_paragraph(rig_plain *plain, const char *text, size_t indent, const char *first);

void rig_plain_table(rig_plain *plain, const rig_table *table);
void rig_plain_chart(rig_plain *plain, const rig_chart *chart);
void rig_plain_diagram(rig_plain *plain, const rig_diagram *diagram);
/* A line of numbers under a plot: the columns from an indent on run from first to last, and the
 * numbers stand at the drawing's own ticks; those without room are left out. */
typedef struct {
	size_t indent, columns;
	double first, last;
} rig_plain_axis;
void rig_plain_ticks(rig_plain *plain, const rig_chart *chart, const rig_plain_axis *axis);
/* The lanes of a chart, with their key. */
void rig_plain_lanes(rig_plain *plain, const rig_chart *chart);

#endif
