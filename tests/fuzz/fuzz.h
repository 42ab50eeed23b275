/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz.h: what each target has: one input, whatever its bytes, must end well. Under clang with
 * RIG_FUZZ a fuzzer calls it with inputs that it makes up; else replay_files.c calls it with files.
 */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

/* Stops the run, with the place, when a claim about the input does not hold. */
#define MUST(claim)                                                                                \
	do {                                                                                       \
		if (!(claim)) {                                                                    \
			(void)fprintf(                                                             \
				stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #claim); \
			abort();                                                                   \
		}                                                                                  \
	} while (0)

#endif
