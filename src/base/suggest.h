/* SPDX-License-Identifier: GPL-3.0-or-later */
/* suggest.h: "did you mean". */
#ifndef BASE_SUGGEST_H
#define BASE_SUGGEST_H

#include <stddef.h>

/* The candidate nearest to word, if it is near enough to be a slip of the keyboard
 * (Damerau-Levenshtein distance at most max(1, length / 3), case ignored, one letter right); else
 * the first that goes on after the word, of at least four letters, with an underscore; else NULL.
 *   name_at   gives the i-th candidate of n; context is handed through */
const char *rig_suggest(const char *word, size_t n,
	const char *(*name_at)(const void *context, size_t i), const void *context);

#endif
