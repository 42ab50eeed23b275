/* SPDX-License-Identifier: GPL-3.0-or-later */
/* amount.h: numbers as an engineer says them, and units for people. */
#ifndef REPORT_AMOUNT_H
#define REPORT_AMOUNT_H

#include "base/arena.h"
#include "base/buffer.h"
#include "rigbudget/document.h"
#include "rigbudget/figure.h"
#include "rigbudget/report.h"

/* Adds a number rounded to so many significant digits (1 to 6; halves away from zero), zeros after
 * the point left out, thousands parted by commas, never "-0". |value| < 1e15, finite. */
void rig_amount_round(rig_buffer *buffer, double value, int digits);

/* Adds "35 to 40", or "38" where both ends round to the same. */
void rig_amount_span(rig_buffer *buffer, double low, double high, int digits);

/* Texts in an arena; "" when memory is out, and "not finite" for a number that is not. The unit
 * follows a space; "" leaves it out.
 * rig_amount_likely gives one number of three digits, rig_amount_range its ends at two digits. */
const char *rig_amount(rig_arena *arena, double value, int digits, const char *unit);
const char *rig_amount_range(rig_arena *arena, rig_figure figure, const char *unit);
const char *rig_amount_likely(rig_arena *arena, rig_figure figure, const char *unit);
/* "38 (35 to 40) W"; the likely value alone where there is no doubt. */
const char *rig_amount_full(rig_arena *arena, rig_figure figure, const char *unit);

/* A temperature, a length, a volume in the reader's units, with the unit. */
const char *rig_amount_temperature(rig_arena *arena, double temp_c, rig_units units);
const char *rig_amount_length(rig_arena *arena, double length_m, rig_units units);
const char *rig_amount_volume(rig_arena *arena, double litres, rig_units units);
/* "0.5 to 1.2 litres". */
const char *rig_amount_volume_range(rig_arena *arena, rig_figure litres, rig_units units);

#endif
