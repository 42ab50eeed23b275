/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_volts.h: the volts at the coach in the course of a day. Neighbours of the shed study only.
 */
#ifndef STUDIES_SHED_VOLTS_H
#define STUDIES_SHED_VOLTS_H

#include "studies/shed_model.h"

/* The running loads added up by place and answer, at 120 V on a leg and 240 V across: loads that
 * answer alike to their volts are one load. Exact but for motors rated otherwise, which are
 * followed as they are below their rated volts: under 0.05 V. */
shed_sums shed_sums_of(const shed_model *model, const shed_state *state);

/* The leg volts of such sums on the model's feed. Steps of u = E - Z i(u) from no load until one
 * changes less than 1 mV, each at most half of the one before; where they do not (a feed near
 * collapse), the full solution. Within 2 mV of rig_feed_solve of the same sums, for a tenth of its
 * time.
 *   leg_v   out: the second alike on one hot
 * RIG_NO_SOLUTION as rig_feed_solve. */
rig_status shed_leg_volts(const shed_model *model, const shed_sums *sums, double leg_v[2]);

/* The full solution on any feed.
 * RIG_NO_SOLUTION. */
rig_status shed_solve_sums(const rig_feed *feed, const shed_sums *sums, double leg_v[2]);

/* Volts of this moment. */
void shed_refresh_volts(const shed_run *run, shed_state *state);
/* Books those that were, in the run's tally. */
void shed_book_volts(const shed_run *run, const shed_state *state, double seconds);

#endif
