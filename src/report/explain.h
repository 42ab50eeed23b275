/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.h: what stands behind each figure of a sheet: plain words, the formula, what goes into
 * it, where it is from, and how far it may be off. */
#ifndef REPORT_EXPLAIN_H
#define REPORT_EXPLAIN_H

#include <stdbool.h>
#include <stddef.h>

enum { RIG_MOST_INPUTS = 6 };

typedef struct {
	const char *id;
	const char *name;                    /* the quantity, with its unit */
	const char *what;                    /* whole sentences */
	const char *formula;                 /* in words and signs */
	const char *inputs[RIG_MOST_INPUTS]; /* NULL after the last */
	const char *sources; /* keys of docs/sources.md, or what stands in for one */
	const char *doubt;   /* whole sentences */
} rig_explanation;

size_t rig_n_explanations(void);
const rig_explanation *rig_explanation_at(size_t i);
/* NULL: there is none of that id. */
const rig_explanation *rig_explanation_find(const char *id);

/* What a document shows, by the words that it stands under. */
typedef enum {
	RIG_SHOWN_FACT,   /* words: the fact's name */
	RIG_SHOWN_COLUMN, /* words: the column's head; within: the table's caption */
	RIG_SHOWN_CHART,  /* words: the chart's title */
	RIG_SHOWN_ANSWER  /* words: the question */
} rig_shown_kind;

/* The id of the explanation of what is shown; NULL if it has none. */
const char *rig_explained_by(rig_shown_kind kind, const char *words, const char *within);

#endif
