/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sources.h: the coach on its generator and on its inverter: which circuits each feeds and what
 * fits; and every motor's start on each source. When a generator starts by itself is a question of
 * energy: trip.h. */
#ifndef RIG_SOURCES_H
#define RIG_SOURCES_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/coach.h"
#include "rigbudget/figure.h"
#include "rigbudget/generator.h"
#include "rigbudget/place.h"
#include "rigbudget/shore.h"
#include "rigbudget/status.h"
#include "rigbudget/voltage.h"

typedef enum { RIG_SOURCE_SHORE, RIG_SOURCE_GENERATOR, RIG_SOURCE_INVERTER } rig_source_kind;

/* One of the shore findings' sets on a source. */
typedef struct {
	int set; /* index in the shore findings */
	size_t n_unfed;
	rig_shore_item *unfed; /* loads of the set that this source does not feed at all: not on its
				  circuits; on the inverter also the charger */
	rig_shore_budget budget; /* of the rest, with its best choice only. supply is -1. Limits are
				    the source's watts as amps; a source is rated for hours on end,
				    so loaded equals plain amps */
} rig_other_set;

typedef struct {
	rig_source_kind kind;    /* never RIG_SOURCE_SHORE in findings->sources */
	rig_figure rated_w;      /* label */
	rig_figure left_frac;    /* of it, by height and heat; 1 for the inverter */
	rig_figure available_w;  /* rated_w x left_frac, likely one decides what fits */
	rig_figure surge_w;      /* label, less the same share: for a start */
	rig_shore_supply supply; /* as a supply, with pedestal NULL */
	size_t n_circuits;
	int *circuits; /* AC circuits that it feeds, in the coach's order */
	size_t n_loads;
	int *loads; /* AC loads that it feeds; RIG_SHORE_CHARGER last if it does */
	size_t n_sets;
	rig_other_set *sets; /* one for each of the shore findings' */
} rig_other_source;

/* How a start goes, from light to grave. */
typedef enum {
	RIG_START_HOLDS,   /* at the worst end of every doubt */
	RIG_START_DEPENDS, /* at the likely figures, or at the best end only */
	RIG_START_FAILS    /* not even at the best end */
} rig_start_verdict;

/* One motor starting on one source with the rest of what always draws (the standing set) running.
 * On shore the rotor is a fixed impedance, so that its amps fall with the volts, and the question
 * is whether the volts stay in the window; on generator and inverter the question is whether their
 * surge covers it. */
typedef struct {
	rig_source_kind kind;
	int supply; /* index in the shore findings; -1 on generator and inverter */
	bool fed;   /* false: this source does not feed it, or it is dead; the rest is then empty */
	rig_start_verdict verdict;
	/* Shore. */
	rig_figure before_v, start_v; /* on the lower of its legs */
	rig_figure dip_v;             /* before less start */
	rig_figure start_a;           /* as drawn at start_v */
	rig_figure torque_frac;       /* of that at rated volts: (start_v / rated)^2 */
	rig_figure hot_a;             /* on its hot with the rest */
	bool in_trip_region;          /* as in shore.h, at these volts */
	/* Generator and inverter. */
	rig_figure asked_va; /* by the start and what runs beside it */
	rig_figure surge_w;
} rig_source_start;

typedef struct {
	int load;                  /* index in coach->loads */
	bool soft_starter;         /* fitted, as the file says */
	rig_figure locked_rotor_a; /* of one, without a soft starter */
	rig_figure soft_a;         /* with one: 0.3 to 0.5 of that (common practice, no source) */
	rig_figure running_a;
	size_t n_on;            /* shore supplies, then generator and inverter where present */
	rig_source_start *bare; /* without a soft starter */
	rig_source_start *soft; /* with one */
} rig_motor_start;

typedef struct {
	const rig_coach *coach;
	const rig_shore_findings *shore;
	rig_figure elevation_m; /* that the generator was derated for; absent: nobody says, sea
				   level */
	rig_figure air_c;
	rig_derate rule;
	size_t n_sources;
	rig_other_source *sources; /* the generator if there is one, then the inverter */
	size_t n_starts;
	rig_motor_start *starts; /* AC loads with start amps, the hardest first */
} rig_sources_findings;

typedef struct {
	rig_derate rule;  /* RIG_DERATE_UNSAID: HEIGHT_HEAT likely, the range over all three */
	rig_figure air_c; /* absent: the mean daily high of the place's hottest month, +5 K for the
			     heat about a set (common practice, no source) at its high; 30 C
			     without a place */
} rig_sources_options;

/* Lowest volts at which a roof unit's maker lets it run: 115 V less 10 % [ROOF-UNIT]. A start that
 * dips below is not sure to get going. */
#define RIG_START_FLOOR_V 103.5

/* A completed coach on its other sources, and its starts on all of them.
 *   volts     of the same shore findings
 *   place     where it stands, NULL if unknown
 *   options   NULL for the usual ones
 *   findings  out: to be freed with rig_sources_free(); untouched unless RIG_OK
 * The generator feeds all AC circuits. With two outputs (generator.two_hots) each gives half its
 * watts to one leg, else one output feeds both legs. The inverter feeds the loads that are used on
 * it (load.inverter), on one hot. A start asks a generator for 2 to 5 times its running
 * volt-amperes, likely 3.5 [GEN-2008], never more than its locked-rotor ones, which an inverter is
 * asked for in full; two outputs share the set's surge.
 * RIG_BAD_INPUT: a figure is not finite or not in order. RIG_NO_SOLUTION: a feed could not be
 * solved. RIG_NO_MEMORY. */
rig_status rig_sources_study(const rig_coach *completed, const rig_voltage_findings *volts,
	const rig_place *place, const rig_sources_options *options,
	rig_sources_findings **findings);
void rig_sources_free(rig_sources_findings *findings);

/* A few words, such as "may not start". Never NULL. */
const char *rig_start_verdict_text(rig_start_verdict verdict);
const char *rig_source_kind_text(rig_source_kind kind);

#endif
