/* SPDX-License-Identifier: GPL-3.0-or-later */
/* outside.h: checks against figures from outside the project. Each asserts, and when the
 * environment names a folder in RIG_VALIDATION appends a row to the file of its test program there,
 * from which tests/validation makes docs/validation.md. */
#ifndef OUTSIDE_H
#define OUTSIDE_H

#include <check.h>
#include <math.h>
#include <stdio.h>

/* What several figures have in common. */
typedef struct {
	const char *section; /* of docs/validation.md, such as "sun" */
	const char *figure;  /* what is compared, and its unit */
	const char *source;  /* [KEY] and the place in it; "; from memory" if so */
	const char *reason;  /* of the tolerance */
} outside_series;

/* Ours against a given figure; the case in words as to printf. */
#define OUTSIDE(series, found, given, tol, ...)                                                    \
	do {                                                                                       \
		char name_[400];                                                                   \
		const double found_ = (found), given_ = (given), tol_ = (tol);                     \
		(void)snprintf(name_, sizeof name_, __VA_ARGS__);                                  \
		outside_record(series, name_, (const double[]){found_, given_, tol_});             \
		ck_assert_msg(fabs(found_ - given_) <= tol_, "%s: %.9g, given %.9g",               \
			(series)->figure, found_, given_);                                         \
	} while (0)

/* The tolerance is a share of the given figure. */
#define OUTSIDE_CLOSE(series, found, given, share, ...)                                            \
	OUTSIDE(series, found, given, (share)*fabs((double)(given)), __VA_ARGS__)

/* Ours within a given range. */
#define OUTSIDE_WITHIN(series, found, low, high, ...)                                              \
	do {                                                                                       \
		char name_[400];                                                                   \
		const double in_ = (found), low_ = (low), high_ = (high);                          \
		(void)snprintf(name_, sizeof name_, __VA_ARGS__);                                  \
		outside_record_range(series, name_, (const double[]){in_, low_, high_});           \
		ck_assert_msg(in_ >= low_ && in_ <= high_, "%s: %.9g, given %.9g to %.9g",         \
			(series)->figure, in_, low_, high_);                                       \
	} while (0)

/* The worst deviation of many figures from those of the source. */
#define OUTSIDE_WORST(series, worst, most, ...)                                                    \
	OUTSIDE_WITHIN(series, worst, -INFINITY, most, __VA_ARGS__)

/* Called once by main, before any test forks. */
void outside_start(const char *program);

/* The case in words; found, given, tolerance. */
void outside_record(const outside_series *series, const char *name, const double figures[3]);

/* The case in words; found, lowest, highest, a lowest of -INFINITY for none. */
void outside_record_range(const outside_series *series, const char *name, const double figures[3]);

#endif
