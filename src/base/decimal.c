/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Written out since strtod follows the locale; fifteen digits over a power of ten are exact in a
 * double. */
#include "base/decimal.h"

#include <stdbool.h>
#include <stddef.h>

enum { MAX_DIGITS = 15 };

const char *rig_decimal(const char *text, double *value)
{
	double sum = 0.0;
	double unit = 1.0;
	int digits = 0;
	bool point = false;
	const char *at = text + (*text == '-' || *text == '+');
	for (;; at++) {
		if (*at == '.' && !point && at[1] != '.') {
			point = true;
		} else if (*at >= '0' && *at <= '9' && digits < MAX_DIGITS) {
			sum = sum * 10.0 + (*at - '0');
			unit *= point ? 10.0 : 1.0;
			digits++;
		} else {
			break;
		}
	}
	if (digits == 0)
		return NULL;
	*value = (*text == '-' ? -sum : sum) / unit;
	return at;
}
