/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bank_store.h: a bank and the inverter of a completed coach as parts of a plan. For neighbours. */
#ifndef STUDIES_BANK_STORE_H
#define STUDIES_BANK_STORE_H

#include "rigbudget/coach.h"
#include "rigbudget/energy.h"
#include "studies/solar_output.h"

/* Full at the start, essential if it is a house bank. Its wells: share and rate
 * as stated, or fitted to stated reserve minutes or Peukert exponent, or of its chemistry; scaled
 * so that they give the rated Wh in the rating's hours. Their range is left out: it moves the
 * capacity at other rates by a few percent. Capacity, usable Wh, efficiency, self-discharge and
 * charge limit are taken at the course's end.
 *   temp_c   of the bank by hour of the plan; NULL: 25 C */
rig_store bank_store(const rig_coach *coach, int bank, solar_course course, const double *temp_c);

/* The inverter on a course; not present if the coach has none or no bank feeds it. */
rig_inverting bank_inverting(const rig_coach *coach, solar_course course);

/* The end of a figure that a course takes: for figures of which more is better, and worse. */
double bank_good_end(rig_figure figure, solar_course course, double absent);
double bank_bad_end(rig_figure figure, solar_course course, double absent);

#endif
