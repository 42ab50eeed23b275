/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/wire_rating.h"

/* What a limit asks of a wire, it asks of no thicker one: each limit is met by all gauges from some
 * thickness on, so that the first gauge to meet the last of them is the thinnest that meets all. */

/* [NFPA-70] table 310.16 starts at 14 AWG for branch circuits, 551.10(E)(1) at 18 AWG. */
enum { THINNEST_AC = 14, THINNEST_DC = 18 };

/* Whether a fuse may protect an ampacity. */
static bool may_protect(const rig_wire_job *job, double fuse_a, double ampacity_a)
{
	return rig_covers(
		job->next_size ? rig_rounded_a(job->supply, ampacity_a) : ampacity_a, fuse_a);
}

/* The terminals' and the table's own ampacity cover the load with a quarter of its continuous part
 * on top; the corrected one covers the load as it is: [NFPA-70] 210.19(A)(1). */
static bool passes(const rig_wire_job *job, const rig_wire_choice *choice,
	const rig_wire_rating *wire, rig_wire_limit limit)
{
	const bool allowed = wire->awg <= (job->supply == RIG_AC ? THINNEST_AC : THINNEST_DC);
	switch (limit) {
	case RIG_BY_THINNEST:
		return allowed;
	case RIG_BY_DROP:
		return wire->drop_frac <= job->drop_frac;
	case RIG_BY_AMPACITY:
		return rig_covers(wire->corrected_a, job->amps_a) &&
		       rig_covers(wire->table_a, choice->need_a) &&
		       may_protect(job, choice->fuse_a, wire->corrected_a);
	case RIG_BY_TERMINAL:
		return (allowed && wire->terminal_a <= 0.0) ||
		       (rig_covers(wire->terminal_a, choice->need_a) &&
			       may_protect(job, choice->fuse_a, wire->terminal_a));
	default:
		/* the rule has no line for what is not allowed at all */
		return allowed && (wire->small_a <= 0.0 || choice->fuse_a <= wire->small_a);
	}
}

/* Puts the limits to the gauge in choice->wire, which is thicker than those before it, and notes
 * those that it is the first to meet. Whether it meets all. */
static bool meets_all(const rig_wire_job *job, bool met[RIG_N_WIRE_LIMITS], rig_wire_choice *choice)
{
	bool all = true, any_new = false;
	for (int limit = 0; limit < RIG_N_WIRE_LIMITS; limit++) {
		if (met[limit])
			continue;
		met[limit] = passes(job, choice, &choice->wire, (rig_wire_limit)limit);
		all = all && met[limit];
		if (!met[limit])
			continue;
		choice->awg_by[limit] = choice->wire.awg;
		if (!any_new)
			choice->decided_by = (rig_wire_limit)limit;
		any_new = true;
	}
	return all;
}

rig_status rig_wire_choose(const rig_wire_job *job, rig_wire_choice *choice)
{
	rig_wire_choice found = {.need_a = rig_fuse_need_a(job->amps_a, job->continuous_a)};
	found.fuse_a =
		job->fuse_a > 0.0 ? job->fuse_a : rig_standard_from_a(job->supply, found.need_a);
	if (found.fuse_a <= 0.0 || !rig_covers(found.fuse_a, found.need_a))
		return RIG_NO_SOLUTION;
	bool met[RIG_N_WIRE_LIMITS] = {false};
	for (size_t i = 0; i < rig_n_conductor_sizes(); i++) {
		const rig_status status =
			rig_wire_rate(job, rig_conductor_size_at(i)->awg, &found.wire);
		if (status != RIG_OK)
			return status;
		if (meets_all(job, met, &found)) {
			*choice = found;
			return RIG_OK;
		}
	}
	return RIG_NO_SOLUTION;
}

const char *rig_wire_limit_text(rig_wire_limit limit)
{
	static const char *const TEXT[RIG_N_WIRE_LIMITS] = {"the thinnest wire that is allowed",
		"voltage drop", "ampacity", "terminal temperature", "the small-conductor rule"};
	return limit >= 0 && limit < RIG_N_WIRE_LIMITS ? TEXT[limit] : "nothing";
}
