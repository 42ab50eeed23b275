/* SPDX-License-Identifier: GPL-3.0-or-later */
/* check_findings.h: what the findings of any answer must hold, whatever the coach. */
#ifndef CHECK_FINDINGS_H
#define CHECK_FINDINGS_H

#include <cjson/cJSON.h>

/* Stops the run at the first claim that does not hold: numbers are finite, ranges in order, shares
 * between 0 and 1, hours within their day; energy is neither lost nor made; banks hold no more than
 * they can; what is said to fit is within its limit; spreads and chances are in order. */
void check_findings(const cJSON *findings);

#endif
