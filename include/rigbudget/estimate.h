/* SPDX-License-Identifier: GPL-3.0-or-later */
/* estimate.h: figures from what can be seen where no label can be read: a tape, a count of cells, a
 * group size, a print on a wire. Each is a range (origin: estimated) that says in its source how it
 * came about. Knows trade sizes; knows nothing of coaches. */
#ifndef RIG_ESTIMATE_H
#define RIG_ESTIMATE_H

#include <stdbool.h>
#include <stddef.h>

#include "rigbudget/figure.h"
#include "rigbudget/profile.h"
#include "rigbudget/status.h"

/* Nameplate watts of one panel, W: watts by area of its kind times the area of its outer frame.
 *   length_m, width_m   0.02 to 4
 *   kind                NULL: crystalline, of unknown age */
rig_figure rig_estimate_panel_w(double length_m, double width_m, const rig_panel_kind *kind);

/* Volts of a crystalline panel by its cells in a row. */
typedef struct {
	double battery_v; /* "12 V" or "24 V" batteries that it charges without a tracker; 0: none
			   */
	rig_figure vmp_v, voc_v;
} rig_panel_volts;

/* 0.46 to 0.58 V a cell at the best point, 0.57 to 0.70 V open (common practice, no source; old
 * cells have less, the best new ones more). Panels of halved cells have twice as many as are in a
 * row: count one half of the panel.
 *   cells   in a row, 1 to 200
 * A panel of 33 to 44 cells suits a 12 V battery, one of 66 to 88 a 24 V one. */
rig_panel_volts rig_estimate_panel_volts(int cells);

/* Nominal volts of a battery by its cells in a row, V: 3.2 V for lithium iron phosphate, 2 V for
 * lead-acid, whose cells are counted by their filler caps. cells 1 to 48. */
double rig_estimate_battery_v(int cells, const rig_chemistry *kind);

/* A size of battery case as printed on it, and what deep-cycle lead-acid batteries of that size
 * hold. */
typedef struct {
	const char *group; /* "24", "GC2" */
	double volts_v;
	double low_ah, likely_ah, high_ah; /* at 20 h */
} rig_battery_group;

size_t rig_n_battery_groups(void);                       /* rows of the table */
const rig_battery_group *rig_battery_group_at(size_t i); /* i below that number */
/* The row of a printed size, case ignored; letters after a number are left out ("24M", "31T"); NULL
 * if there is none. */
const rig_battery_group *rig_battery_group_find(const char *printed);

/* Amp-hours at 20 h, Ah, of one battery by its group size; lithium ones of a size differ too much.
 */
rig_figure rig_estimate_ah_of_group(const rig_battery_group *group);
/* By its reserve minutes at 25 A: Peukert's law with an exponent of 1.05 to 1.3, likely 1.17.
 *   reserve_minutes   1 to 2000 */
rig_figure rig_estimate_ah_of_reserve(double reserve_minutes);
/* By its cranking amps: 0.07 to 0.17 Ah an amp, likely 0.11: thin plates crank, thick ones last,
 * and a label does not tell which (common practice, no source). cold   at -18 C; else marine
 * cranking amps at 0 C, which are 1.2 to 1.3 times as many amps   10 to 5000 */
rig_figure rig_estimate_ah_of_cranking(double amps, bool cold);

/* Gauges that a measured conductor may be; awg as in conductor.h. */
typedef struct {
	int thin_awg, likely_awg, thick_awg; /* take the thin one where it must not be too thin */
} rig_gauge_guess;

/* By the diameter of the bare copper, measured to 3 %. Stranded: copper fills 0.62 to 0.79 of the
 * circle about the strands, likely 0.76 (7 of 9 parts for seven strands; rope lays less).
 *   diameter_m   0.0005 to 0.03
 * RIG_NO_SOLUTION: thinner than 18 or thicker than 4/0 AWG beyond that doubt. */
rig_status rig_estimate_gauge(double diameter_m, bool stranded, rig_gauge_guess *guess);

/* The gauge that a print on the jacket says: "12 AWG", "AWG 10", "14/2" (gauge and number of
 * conductors), "4/0", "2.5 mm2" (the stocked gauge that is not thicker).
 * RIG_NOT_FOUND: nothing of the kind stands there, or no stocked gauge. */
rig_status rig_estimate_gauge_of_print(const char *print, int *awg);

/* Running watts of a household refrigerator from the kilowatt-hours a year of its label, W: mean
 * watts over the share of time that it runs, 0.33 to 0.65, likely 0.5; the label's test, closed in
 * a room of 32 C, is taken to be within 20 % of use (common practice, no source). Its defrost
 * heater and its start are not in it.
 *   kwh_a_year   50 to 3000 */
rig_figure rig_estimate_refrigerator_w(double kwh_a_year);

/* Watts that a generator's label leaves at a height and air, W: the least and the most of the
 * makers' rules of generator.h, the middle as the likely one.
 *   label_w      > 0
 *   elevation_m  -450 to 6000
 *   air_c        -40 to 70 */
rig_figure rig_estimate_generator_w(double label_w, double elevation_m, double air_c);

#endif
