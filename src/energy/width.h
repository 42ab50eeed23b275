/* SPDX-License-Identifier: GPL-3.0-or-later */
/* width.h: code that is compiled once for each width of vectors, and the widest that this processor
 * has. */
#ifndef ENERGY_WIDTH_H
#define ENERGY_WIDTH_H

#include <stdbool.h>

#if defined(__x86_64__) && defined(__GNUC__)
#define WIDTH_CHOICE 1
#define WIDTH_256    __attribute__((target("avx2")))

/* gcc keeps to half of it unless told; clang 14 has no such word */
#ifdef __clang__
#define WIDTH_WHOLE ""
#else
#define WIDTH_WHOLE ",prefer-vector-width=512"
#endif
#define WIDTH_512 __attribute__((target("avx512f,avx512vl,avx512dq,avx512bw" WIDTH_WHOLE)))

static inline int width_bits(void)
{
	const bool whole = __builtin_cpu_supports("avx512f") &&
			   __builtin_cpu_supports("avx512vl") &&
			   __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512bw");
	return whole ? 512 : __builtin_cpu_supports("avx2") ? 256 : 128;
}
#else
#define WIDTH_CHOICE 0
#endif

#endif
