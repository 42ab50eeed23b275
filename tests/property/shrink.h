/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shrink.h: the smallest file that still fails, for people who have to find out why. */
#ifndef SHRINK_H
#define SHRINK_H

#include <stdbool.h>

/* Whether the text shows the fault. A text that is no valid file does not. */
typedef bool (*shrink_fails)(const char *text, const void *context);

/* Leaves out list items and keys of a JSON text that fails, as long as it still fails, until no
 * single one can be left out any more. Free it with free(); NULL: no JSON, or it does not fail. */
char *shrink(const char *text, shrink_fails fails, const void *context);

#endif
