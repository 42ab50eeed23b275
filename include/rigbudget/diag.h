/* SPDX-License-Identifier: GPL-3.0-or-later */
/* diag.h: what is wrong with an input, as data: the place, what was found, what is allowed, how to
 * mend it. The caller owns the list; the command line and the page add file names and colour. */
#ifndef RIG_DIAG_H
#define RIG_DIAG_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/status.h"

typedef enum { RIG_FAULT, RIG_REMARK } rig_severity;

/* Where in a text. line and column count from 1; the column counts characters (code points), a tab
 * as one. 0 means no place, as for a fault of the whole file. path is the JSON path of the value,
 * such as `loads[2].running_w`, or "" for the top. */
typedef struct {
	size_t line;
	size_t column;
	const char *path;
} rig_where;

/* One fault or remark. The strings are complete short phrases without a final stop; found, allowed
 * and mend may be "". In an entry that is added NULL means ""; one that is read has no NULL. */
typedef struct {
	rig_severity severity;
	rig_where where;
	const char *what;    /* what is wrong: "the breaker is not a number" */
	const char *found;   /* what stood there: "\"thirty\"" */
	const char *allowed; /* "a number from 1 to 400" */
	const char *mend;    /* "write the number without quotes" */
} rig_diag;

typedef struct rig_diags rig_diags; /* entries about one text, in the order found */

/* A new empty list; NULL when memory is out. Holds at most 100 entries and counts the rest; once it
 * is full, a fault takes the place of a remark. */
rig_diags *rig_diags_new(void);
void rig_diags_free(rig_diags *diags);

/* Copies an entry into the list; a list of NULL takes nothing. Out of memory: the entry is lost,
 * but counted as a fault. */
void rig_diags_add(rig_diags *diags, const rig_diag *entry);

/* Adds a fault made of a format and returns status, so that `return rig_fail(...)` reads well. */
rig_status rig_fail(rig_diags *diags, rig_status status, rig_where where, const char *format, ...)
	__attribute__((format(printf, 4, 5)));

size_t rig_diags_count(const rig_diags *diags);  /* entries kept, faults and remarks */
size_t rig_diags_faults(const rig_diags *diags); /* faults seen, also those past the limit */

/* The i-th entry in order of its place in the text, entries of one place as they came; belongs to
 * the list and is good until the next one is added. i < rig_diags_count. */
const rig_diag *rig_diags_at(rig_diags *diags, size_t i);

#endif
