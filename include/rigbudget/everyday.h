/* SPDX-License-Identifier: GPL-3.0-or-later */
/* everyday.h: watt-hours as things that everybody knows. For comparison only: no verdict rests on
 * it. */
#ifndef RIG_EVERYDAY_H
#define RIG_EVERYDAY_H

/* A household refrigerator of 18 to 20 cu ft, mean of day and night, W: 657 kWh a year, a figure of
 * the US Department of Energy, from memory. */
#define RIG_EVERYDAY_REFRIGERATOR_W 75.0
/* A cup of 8 US fluid ounces, L [NIST-SP811]. */
#define RIG_EVERYDAY_CUP_L          (8.0 * 0.0295735295625)
/* Water from the tap, and as it brews: common practice, no source. */
#define RIG_EVERYDAY_TAP_C          15.0
#define RIG_EVERYDAY_BREW_C         93.0
/* Of a coffee maker's heat into the water, without its warming plate: common practice, no source.
 */
#define RIG_EVERYDAY_BREWER_FRAC    0.85
/* One full charge of a phone, its charger's loss included, Wh: 4 Ah at 3.85 V over 0.8; common
 * practice, no source. */
#define RIG_EVERYDAY_PHONE_WH       (4.0 * 3.85 / 0.8)

typedef struct {
	double refrigerator_h, coffee_cups, phone_charges;
} rig_everyday;

/* What an energy would do, each alone: energy over what one takes. Losses of an inverter are left
 * out, which makes the first two about a tenth too many where there is one.
 *   energy_wh   >= 0 */
rig_everyday rig_everyday_of(double energy_wh);

/* Energy of one cup of coffee, Wh: m c dT over what the maker's heat does. */
double rig_everyday_cup_wh(void);

#endif
