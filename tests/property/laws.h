/* SPDX-License-Identifier: GPL-3.0-or-later */
/* laws.h: what must hold of any coach whatever, asked of ten thousand random ones. Odd ones have
 * figures anywhere in their allowed ranges (random_coach.h), even ones are such as stand on a lot
 * (lot_coach.h). A coach that breaks a law is cut down to the smallest that does, and printed. */
#ifndef LAWS_H
#define LAWS_H

#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"
#include "rigbudget/shore.h"

/* What was worked out of a coach for one law and may be of use to the next. */
typedef struct {
	rig_shore_findings *shore;
} made_once;

/* A coach and what goes with its number, so that it stays with one that is cut down. */
typedef struct {
	const char *text;
	const rig_file *file;
	const rig_coach *coach; /* completed */
	uint64_t number;
	rig_place place; /* the file's, or any of the table; every other one as if it lay as far
			    south of the equator, its months half a year on */
	int month;       /* 0 to 11 */
	made_once *made;
} subject;

/* NULL: there are none. They belong to the subject. */
const rig_shore_findings *law_shore(const subject *it);

/* Says nothing of this coach. */
extern const char NOT_ASKED[];

/* NULL: it holds; NOT_ASKED; else what does not hold. */
typedef const char *(*law)(const subject *it);

typedef struct {
	const char *name;
	law holds;
	int least; /* coaches in a thousand of which it has to say something, so that no law holds
		      because nobody asks it */
} law_row;

enum { N_LAW_PARTS = 10 };

/* Holds a part of the coaches, 0 to N_LAW_PARTS - 1, to each law. Each that is broken is printed
 * once with the smallest coach, and fails the test at its end. With RIG_LAWS in the environment it
 * tells of how many coaches each law has said something. */
void laws_hold(const law_row laws[], size_t n, int part);

/* Within 1e-9 of each other, as shares or as figures near 0. */
bool law_close(double a, double b);
bool law_figures_close(rig_figure a, rig_figure b);
/* Not below by more than rounding. */
bool law_at_least(double a, double b);

#endif
