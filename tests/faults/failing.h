/* SPDX-License-Identifier: GPL-3.0-or-later */
/* failing.h: allocations of the library, of GSL and of the JSON library that fail when they are
 * told to. The program that links it wraps them (CMakeLists.txt). */
#ifndef FAULTS_FAILING_H
#define FAULTS_FAILING_H

#include <stdbool.h>

/* Before and after a test: the JSON library takes its memory here, too. */
void failing_set_up(void);
void failing_tear_down(void);
/* After n more allocations that succeed, one fails; or all that follow. */
void failing_after(long n, bool for_good);
/* No more failures, and nobody is asked; how many would still have succeeded. */
long failing_stop(void);
/* The same; whether the failure that was asked for has not happened. */
bool failing_never_did(void);
/* While it is set it is asked at each allocation whether that one fails; NULL: nobody is. */
void failing_ask(bool (*whether)(void));
/* Pieces taken and not given back. */
long failing_n_live(void);

#endif
