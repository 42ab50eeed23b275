/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lot_coach.h: random coaches such as stand on a lot: loads of the table and a few of their own on
 * breakers that suit them, banks, panels and sources of usual sizes, so that some budgets fit, some
 * banks last and some loads are shed. */
#ifndef LOT_COACH_H
#define LOT_COACH_H

#include <stdint.h>

/* Its text; free it with free(). The same for the same seed everywhere. Never NULL. */
char *lot_coach_text(uint64_t seed);

#endif
