/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/diag.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/arena.h"

enum { MAX_ENTRIES = 100 };

typedef struct {
	rig_diag diag;
	size_t arrival;
} entry;

struct rig_diags {
	rig_arena *arena;
	size_t n, n_faults, n_arrived;
	bool sorted;
	entry entries[MAX_ENTRIES];
};

rig_diags *rig_diags_new(void)
{
	rig_diags *diags = calloc(1, sizeof *diags);
	if (diags == NULL)
		return NULL;
	diags->arena = rig_arena_new();
	if (diags->arena == NULL) {
		free(diags);
		return NULL;
	}
	return diags;
}

void rig_diags_free(rig_diags *diags)
{
	if (diags == NULL)
		return;
	rig_arena_free(diags->arena);
	free(diags);
}

/* Where the next entry goes: the end, or in a full list the place of a remark if it is a fault, so
 * that remarks never hide one. NULL if it is only counted. */
static entry *seat(rig_diags *diags, rig_severity severity)
{
	if (diags->n < MAX_ENTRIES)
		return &diags->entries[diags->n];
	for (size_t i = MAX_ENTRIES; i-- > 0 && severity == RIG_FAULT;) {
		if (diags->entries[i].diag.severity == RIG_REMARK)
			return &diags->entries[i];
	}
	return NULL;
}

/* A copy in the arena; an absent text is an empty one. NULL when memory is out. */
static const char *keep(rig_diags *diags, const char *text)
{
	return text == NULL || *text == '\0' ? "" : rig_arena_text(diags->arena, text);
}

/* Takes texts that already live in the arena, or NULL where memory was out. */
static void sit(rig_diags *diags, entry *at, const rig_diag *diag)
{
	if (diag->where.path == NULL || diag->what == NULL || diag->found == NULL ||
		diag->allowed == NULL || diag->mend == NULL)
		return;
	if (at == &diags->entries[diags->n])
		diags->n++;
	at->diag = *diag;
	at->arrival = diags->n_arrived++;
	diags->sorted = false;
}

void rig_diags_add(rig_diags *diags, const rig_diag *given)
{
	if (diags == NULL)
		return;
	entry *at = seat(diags, given->severity);
	rig_diag copy = *given;
	if (at != NULL) {
		copy.where.path = keep(diags, given->where.path);
		copy.what = keep(diags, given->what);
		copy.found = keep(diags, given->found);
		copy.allowed = keep(diags, given->allowed);
		copy.mend = keep(diags, given->mend);
	}
	const size_t before = diags->n_arrived;
	if (at != NULL)
		sit(diags, at, &copy);
	const bool lost = at != NULL && diags->n_arrived == before;
	if (given->severity == RIG_FAULT || lost)
		diags->n_faults++;
}

rig_status rig_fail(rig_diags *diags, rig_status status, rig_where where, const char *format, ...)
{
	if (diags == NULL)
		return status;
	diags->n_faults++;
	entry *at = seat(diags, RIG_FAULT);
	if (at == NULL)
		return status;
	va_list arguments;
	va_start(arguments, format);
	const int length = vsnprintf(NULL, 0, format, arguments);
	va_end(arguments);
	char *what = length < 0 ? NULL : rig_arena_take(diags->arena, (size_t)length + 1, 1);
	if (what != NULL) {
		va_start(arguments, format);
		vsnprintf(what, (size_t)length + 1, format, arguments);
		va_end(arguments);
	}
	where.path = keep(diags, where.path);
	sit(diags, at, &(rig_diag){RIG_FAULT, where, what, "", "", ""});
	return status;
}

size_t rig_diags_count(const rig_diags *diags)
{
	return diags->n;
}

size_t rig_diags_faults(const rig_diags *diags)
{
	return diags->n_faults;
}

static int order(size_t a, size_t b)
{
	return (a > b) - (a < b);
}

static int by_place(const void *a, const void *b)
{
	const entry *x = a, *y = b;
	int way = order(x->diag.where.line, y->diag.where.line);
	if (way == 0)
		way = order(x->diag.where.column, y->diag.where.column);
	return way != 0 ? way : order(x->arrival, y->arrival);
}

const rig_diag *rig_diags_at(rig_diags *diags, size_t i)
{
	assert(i < diags->n);
	if (!diags->sorted) {
		qsort(diags->entries, diags->n, sizeof diags->entries[0], by_place);
		diags->sorted = true;
	}
	return &diags->entries[i].diag;
}
