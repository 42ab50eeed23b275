/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decimal.h: a number in a person's word, whatever the locale. */
#ifndef BASE_DECIMAL_H
#define BASE_DECIMAL_H

/* Reads a sign, digits and at most one point, "-12.5" or ".5", up to fifteen digits, without an
 * exponent. Two points beside each other end it, so that "12..13" can be a range.
 *   value   out: exact to the last bit of a double; untouched where nothing is read
 * Gives where it ended; NULL where no digit is. */
const char *rig_decimal(const char *text, double *value);

#endif
