/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/voltage_feed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "rigbudget/conductor.h"

/* Copper of a cord that has carried its load for a while in summer (common practice, no source). */
static const double CORD_C = 30.0;
/* A short adapter, where the file says nothing of one (common practice, no source). */
static const double ADAPTER_M[RIG_N_ENDS] = {0.3, 0.45, 0.6};
/* Reactance of a pair for each metre of run, of which a conductor has half ([NFPA-70] ch. 9 table
 * 9, from memory, 10 %). */
static const double PAIR_OHM_PER_M = 0.00033;
static const double PAIR_SHARE = 0.5;

rig_feed_ends rig_feed_likely(void)
{
	return (rig_feed_ends){RIG_LIKELY, RIG_LIKELY, {RIG_LIKELY, RIG_LIKELY}, RIG_LIKELY, -1};
}

rig_feed_ends rig_feed_worst(int n_hots, int leg, int end)
{
	const int other = end == RIG_LOW ? RIG_HIGH : RIG_LOW;
	rig_feed_ends ends = {.open = end, .wires = other, .across = other};
	ends.leg[leg] = other;
	ends.leg[1 - leg] = n_hots == 2 ? end : other;
	ends.loose_leg = end == RIG_LOW ? leg : 1 - leg;
	return ends;
}

static double at_end(rig_figure figure, int end)
{
	return end == RIG_LOW ? figure.low : end == RIG_HIGH ? figure.high : figure.likely;
}

/* "4/0" is -3; what is not a gauge does not come out of a rig file. */
static int gauge_of(const char *awg)
{
	const char *slash = strchr(awg, '/');
	return (int)(slash ? 1 - strtol(awg, NULL, 10) : strtol(awg, NULL, 10));
}

static int usual_gauge(double limit_a)
{
	return limit_a >= 50 ? 6 : limit_a >= 30 ? 10 : limit_a >= 20 ? 12 : 14;
}

/* Loop of hot and neutral, ohm. */
static rig_figure loop_ohm(rig_figure length_m, int awg)
{
	const rig_run metre = {
		.length_m = 1.0, .area_mm2 = rig_awg_area_mm2(awg), .temp_c = CORD_C};
	return rig_figure_scale(length_m, rig_run_ohm(&metre) * RIG_STRANDED_FACTOR);
}

static rig_figure adapter_length_m(const rig_coach *coach, const rig_shore_supply *supply)
{
	const rig_figure none = {.from = RIG_FROM_NOTHING};
	if (rig_figure_given(coach->adapter_length_m))
		return coach->adapter_length_m;
	return supply->adapter ? rig_figure_range(ADAPTER_M[RIG_LOW], ADAPTER_M[RIG_LIKELY],
					 ADAPTER_M[RIG_HIGH], RIG_FROM_PROFILE)
			       : none;
}

static bool sound(rig_figure figure, double least, double most)
{
	return rig_figure_given(figure) && isfinite(figure.low) && isfinite(figure.high) &&
	       figure.low >= least && figure.low <= figure.likely && figure.likely <= figure.high &&
	       figure.high <= most;
}

bool rig_feed_is_sound(const rig_coach *coach)
{
	return sound(coach->pedestal_open_v, 1, 1000) && sound(coach->source_ohm, 0, 1000) &&
	       sound(coach->cord_length_m, 0, 10000) &&
	       (!rig_figure_given(coach->adapter_length_m) ||
		       sound(coach->adapter_length_m, 0, 10000));
}

rig_voltage_path rig_feed_path(const rig_coach *coach, const rig_shore_supply *supply)
{
	const rig_figure adapter_m = adapter_length_m(coach, supply);
	const int cord_awg =
		coach->cord_awg ? gauge_of(coach->cord_awg) : usual_gauge(coach->cord_a);
	const int adapter_awg =
		coach->adapter_awg ? gauge_of(coach->adapter_awg) : usual_gauge(supply->limit_a);
	rig_voltage_path path = {.open_v = coach->pedestal_open_v,
		.source_ohm = coach->source_ohm,
		.cord_ohm = loop_ohm(coach->cord_length_m, cord_awg)};
	path.total_ohm = rig_figure_add(path.source_ohm, path.cord_ohm);
	path.total_m = coach->cord_length_m;
	if (rig_figure_given(adapter_m)) {
		path.adapter_ohm = loop_ohm(adapter_m, adapter_awg);
		path.total_ohm = rig_figure_add(path.total_ohm, path.adapter_ohm);
		path.total_m = rig_figure_add(path.total_m, adapter_m);
	}
	path.drop_at_limit_v = rig_figure_scale(path.total_ohm, supply->limit_a);
	return path;
}

rig_feed rig_feed_of(
	const rig_voltage_path *path, const rig_shore_supply *supply, const rig_feed_ends *ends)
{
	const rig_impedance conductor = {at_end(path->total_ohm, ends->wires) / 2.0,
		at_end(path->total_m, ends->wires) * PAIR_OHM_PER_M * PAIR_SHARE};
	return (rig_feed){.kind = supply->n_hots == 2 ? RIG_FEED_SPLIT : RIG_FEED_ONE_HOT,
		.open_v = at_end(path->open_v, ends->open),
		.hot = {conductor, conductor},
		.neutral = conductor};
}

rig_voltage_response rig_feed_response(const rig_coach *coach, int load)
{
	if (load == RIG_SHORE_CHARGER)
		return RIG_HOLDS_POWER;
	switch (coach->loads[load].behaviour) {
	case RIG_RESISTIVE:
		return RIG_HOLDS_RESISTANCE;
	case RIG_MOTOR:
	case RIG_COMPRESSOR:
		return RIG_HOLDS_SHAFT;
	case RIG_ELECTRONIC:
	case RIG_BEHAVIOUR_UNSET:
		break;
	}
	return RIG_HOLDS_POWER;
}

rig_feed_load rig_feed_unit(
	const rig_shore_case *c, const rig_shore_unit *unit, const rig_feed_ends *ends, int leg)
{
	const int at = unit->leg >= 0 ? unit->leg : leg;
	const int end = unit->two_hots ? ends->across : ends->leg[at];
	return (rig_feed_load){
		.draw = unit->power[end],
		.rated_v = unit->rated_v,
		.response = rig_feed_response(c->coach, unit->load),
		.place = unit->two_hots ? RIG_ACROSS_LEGS
			 : at == 0      ? RIG_ON_LEG_1
					: RIG_ON_LEG_2,
	};
}
