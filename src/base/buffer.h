/* SPDX-License-Identifier: GPL-3.0-or-later */
/* buffer.h: a text that grows. A failed growth is remembered; the text stays valid and short. */
#ifndef BASE_BUFFER_H
#define BASE_BUFFER_H

#include <stdbool.h>
#include <stddef.h>

typedef struct {
	char *text; /* NUL-terminated once anything was added, else NULL */
	size_t length;
	size_t room;
	bool failed; /* memory was out at some point */
} rig_buffer;        /* start with {0} */

void rig_buffer_free(rig_buffer *buffer);
void rig_buffer_add(rig_buffer *buffer, const char *text);
void rig_buffer_add_bytes(rig_buffer *buffer, const char *bytes, size_t length);
void rig_buffer_format(rig_buffer *buffer, const char *format, ...)
	__attribute__((format(printf, 2, 3)));

/* A number in fixed decimals (0 to 9), never "-0", independent of the locale, rounded as printf
 * does (the exact binary value to the nearest, a tie to even). |value| < 1e15. */
void rig_buffer_fixed(rig_buffer *buffer, double value, int decimals);
/* The value rounded to the fewest digits, at most 17, that read back as the same double; the form
 * is that of JSON, independent of the locale. value finite. */
void rig_buffer_exact(rig_buffer *buffer, double value);

#endif
