/* SPDX-License-Identifier: GPL-3.0-or-later */
/* close.h: comparisons and random numbers that several physics tests need. */
#ifndef CLOSE_H
#define CLOSE(found, expected, share)                                                              \
	ck_assert_double_eq_tol(found, (double)(expected), (share)*fabs((double)(expected)))

#include <math.h>
#include <stdint.h>

#include "suites.h"

#define DEG (3.14159265358979323846 / 180.0)

/* Relative to the expected value. */
#define CLOSE(found, expected, share)                                                              \
	ck_assert_double_eq_tol(found, (double)(expected), (share)*fabs((double)(expected)))

/* Uniform from low to high; splitmix64, its state stepped on. */
static inline double random_between(uint64_t *state, double low, double high)
{
	uint64_t z = (*state += 0x9e3779b97f4a7c15);
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9;
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb;
	return low + (high - low) * ((double)((z ^ (z >> 31)) >> 11) * 0x1p-53);
}

#endif
