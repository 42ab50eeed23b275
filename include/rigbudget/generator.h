/* SPDX-License-Identifier: GPL-3.0-or-later */
/* generator.h: what an engine-driven set can still give up high and in the heat. */
#ifndef RIG_GENERATOR_H
#define RIG_GENERATOR_H

/* Rules of three makers' manuals, which differ; the set's own manual governs. Losses are shares of
 * the rated power, those of height and of heat added. A turbocharged engine loses less. */
typedef enum {
	RIG_DERATE_UNSAID,      /* nobody knows which */
	RIG_DERATE_HEIGHT,      /* 3 % for 1,000 ft above the sea; heat not counted [GEN-2004] */
	RIG_DERATE_HEIGHT_HEAT, /* 3.5 % for 1,000 ft above 1,000 ft, 2 % for 10 F above 85 F
				   [GEN-2008] */
	RIG_DERATE_SITE,        /* 3 % for 500 m above 1,000 m, 3 % for 5 C above 40 C [GEN-SITE] */
	RIG_N_DERATES
} rig_derate;

/* Power that is left over rated power, 0 to 1.
 *   rule         not RIG_DERATE_UNSAID
 *   elevation_m  -450 to 6000; below the rule's threshold nothing is gained
 *   air_c        at the set's intake, -40 to 70 */
double rig_generator_left_frac(rig_derate rule, double elevation_m, double air_c);

#endif
