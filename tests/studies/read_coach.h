/* SPDX-License-Identifier: GPL-3.0-or-later */
/* read_coach.h: a coach from the text of a rig file, for tests. */
#ifndef READ_COACH_H
#define READ_COACH_H

#include "rigbudget/coach.h"

/* A whole file: its shore object and the rest of it, from "loads" on. Fails the test with what the
 * reader says. Free with rig_file_free(). */
rig_file *read_coach(const char *shore, const char *rest);
/* A file of the tree, such as "samples/x.rig.json". */
rig_file *read_coach_file(const char *path);

#endif
