/* SPDX-License-Identifier: GPL-3.0-or-later */
/* glyph.h: characters as people see them: how wide, and whether they hide something. */
#ifndef REPORT_GLYPH_H
#define REPORT_GLYPH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/buffer.h"

enum { RIG_GLYPH_WRONG = 0xfffd }; /* stands for bytes that are not UTF-8 */

/* The character at text, which must not be at its end; *text moves past it. */
uint32_t rig_glyph_next(const char **text);

/* Columns on a terminal: 0 for marks that sit on another character, 2 for wide ones, else 1.
 * General categories and East Asian widths of Unicode 14 [UNICODE-14]. */
int rig_glyph_columns(uint32_t character);

/* Steers the terminal or the direction of writing, or shows nothing at all: control characters,
 * direction marks, zero-width characters, line separators, tags, noncharacters. */
bool rig_glyph_is_hidden(uint32_t character);

/* Belongs to a script written from right to left. */
bool rig_glyph_is_rtl(uint32_t character);

/* Adds the text with hidden characters spelt out as <U+202E>, on one line. */
void rig_glyph_show(rig_buffer *buffer, const char *text);

/* Columns of a text that rig_glyph_show has made. */
size_t rig_glyph_text_columns(const char *text);

/* Adds the text for HTML or SVG content and quoted attributes: & < > " ' as references, hidden
 * characters spelt out. A left-to-right mark closes each stretch of right-to-left letters, so that
 * figures after a name stay where they belong. */
void rig_glyph_mark_up(rig_buffer *buffer, const char *text);

/* The same for a text that is set in type: no references, and the mark as it is. */
void rig_glyph_typeset(rig_buffer *buffer, const char *text);

/* Width of a text in a sans-serif face of 1 unit; never less than a common face takes: for ASCII
 * the wider of two free faces, measured; 1 for other narrow characters, 1.4 for wide ones. */
double rig_glyph_text_width(const char *text);

#endif
