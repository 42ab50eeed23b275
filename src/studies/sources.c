/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/sources.h"

#include <assert.h>
#include <math.h>

#include "studies/sources_case.h"

/* About a set beside a hot engine (common practice, no source). */
static const double SET_RISE_K = 5.0;
/* Where nobody says how warm it is (common practice, no source). */
static const double AIR_C[3] = {20.0, 30.0, 40.0};
/* What the rules of derating are given for. */
static const double LEAST_AIR_C = -40.0, MOST_AIR_C = 70.0;

/* What rig_sources_free() gets back: findings stands first. */
typedef struct {
	rig_sources_findings findings;
	rig_arena *arena;
} holder;

static rig_figure air_of(const rig_place *place)
{
	if (!place)
		return rig_figure_range(AIR_C[0], AIR_C[1], AIR_C[2], RIG_FROM_PROFILE);
	int hottest = 0;
	for (int month = 1; month < 12; month++)
		if (place->temp_max_c[month] > place->temp_max_c[hottest])
			hottest = month;
	const double high_c = place->temp_max_c[hottest];
	return rig_figure_range(fmin(place->temp_mean_c[hottest], high_c), high_c,
		high_c + SET_RISE_K, RIG_FROM_PROFILE);
}

static bool conditions_are_sound(const rig_sources_findings *findings)
{
	const rig_figure air_c = findings->air_c;
	const rig_figure height_m = findings->elevation_m;
	return isfinite(air_c.low) && isfinite(air_c.high) && air_c.low >= LEAST_AIR_C &&
	       air_c.high <= MOST_AIR_C && air_c.low <= air_c.likely &&
	       air_c.likely <= air_c.high &&
	       (!rig_figure_given(height_m) || (height_m.low >= -450 && height_m.high <= 6000 &&
						       height_m.low <= height_m.likely &&
						       height_m.likely <= height_m.high)) &&
	       findings->rule < RIG_N_DERATES;
}

static rig_status study(rig_sources_case *s)
{
	rig_status status = conditions_are_sound(s->findings) ? RIG_OK : RIG_BAD_INPUT;
	if (status == RIG_OK)
		status = rig_shore_units(&s->c);
	if (status == RIG_OK)
		status = rig_sources_list(s);
	if (status == RIG_OK)
		status = rig_starts_list(s);
	return status;
}

rig_status rig_sources_study(const rig_coach *completed, const rig_voltage_findings *volts,
	const rig_place *place, const rig_sources_options *options, rig_sources_findings **findings)
{
	rig_arena *arena = rig_arena_new();
	holder *held = arena ? rig_arena_take(arena, 1, sizeof *held) : NULL;
	rig_status status = RIG_NO_MEMORY;
	if (!held)
		goto out;
	*held = (holder){.arena = arena,
		.findings = {.coach = completed,
			.shore = volts->shore,
			.elevation_m = completed->site.elevation_m,
			.air_c = air_of(place),
			.rule = options ? options->rule : RIG_DERATE_UNSAID}};
	if (options && rig_figure_given(options->air_c))
		held->findings.air_c = options->air_c;
	rig_sources_case s = {.c = rig_shore_case_of(completed, arena),
		.volts = volts,
		.findings = &held->findings};
	status = study(&s);
out:
	if (status == RIG_OK)
		*findings = &held->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_sources_free(rig_sources_findings *findings)
{
	if (findings)
		rig_arena_free(((holder *)findings)->arena);
}

const char *rig_start_verdict_text(rig_start_verdict verdict)
{
	static const char *const TEXT[] = {
		[RIG_START_HOLDS] = "starts",
		[RIG_START_DEPENDS] = "may not start",
		[RIG_START_FAILS] = "is not likely to start",
	};
	assert(verdict <= RIG_START_FAILS);
	return TEXT[verdict];
}

const char *rig_source_kind_text(rig_source_kind kind)
{
	static const char *const TEXT[] = {
		[RIG_SOURCE_SHORE] = "shore power",
		[RIG_SOURCE_GENERATOR] = "generator",
		[RIG_SOURCE_INVERTER] = "inverter",
	};
	assert(kind <= RIG_SOURCE_INVERTER);
	return TEXT[kind];
}
