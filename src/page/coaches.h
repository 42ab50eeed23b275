/* SPDX-License-Identifier: GPL-3.0-or-later */
/* coaches.h: the demo coaches of samples/ and the list of sources, made into constants by the
 * build.
 */
#ifndef PAGE_COACHES_H
#define PAGE_COACHES_H

#include <stddef.h>

typedef struct {
	const char *id; /* the file's name without its ending */
	const char *text;
} page_coach;

enum { PAGE_N_COACHES = 3 };
extern const page_coach PAGE_COACHES[PAGE_N_COACHES];

/* docs/sources.md: a line a key, "[KEY] who, what, when". */
extern const char page_sources[];

#endif
