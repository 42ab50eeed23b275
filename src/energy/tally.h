/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally.h: tallies of parts of a run put together. */
#ifndef ENERGY_TALLY_H
#define ENERGY_TALLY_H

#include "rigbudget/energy.h"

/* rig_tally_new without room to run trips in. */
rig_status tally_new_plain(const rig_plan *plan, size_t n_hours, rig_tally **tally);
/* A tally of nothing but the counts of charge, which stay. */
void tally_clear(rig_tally *tally);
/* Adds all but the counts of charge. */
void tally_add(const rig_tally *part, rig_tally *sum);
void tally_add_charge(const rig_tally *part, rig_tally *sum);
/* Bytes that counting charge takes. */
size_t tally_charge_bytes(const rig_tally *tally);

#endif
