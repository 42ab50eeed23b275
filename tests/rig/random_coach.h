/* SPDX-License-Identifier: GPL-3.0-or-later */
/* random_coach.h: valid coaches from a seed, for tests of what must hold for any coach. */
#ifndef RANDOM_COACH_H
#define RANDOM_COACH_H

#include <stddef.h>
#include <stdint.h>

#include "rigbudget/coach.h"

/* A coach whose figures lie anywhere in their allowed ranges, with any keys left out that may be.
 * The same for the same seed everywhere. Never NULL; stops the test when memory is out. */
rig_file *random_coach(uint64_t seed);
/* Its text; free it with free(). */
char *random_coach_text(uint64_t seed);

/* The next of a stream of random bits: splitmix64; while a tape is set and lasts, its bytes first.
 */
uint64_t random_bits(uint64_t *state);
/* Sets the tape, which stays the caller's; NULL takes it away. For a fuzzer, which then chooses. */
void random_tape(const uint8_t *bytes, size_t n);
/* 0 to 1. */
double random_share(uint64_t *state);
/* 0 to n - 1; n > 0. */
int random_below(uint64_t *state, int n);

#endif
