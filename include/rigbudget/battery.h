/* SPDX-License-Identifier: GPL-3.0-or-later */
/* battery.h: how much charge a battery gives up, at what rate, how warm, how old its charge.
 * Knows one battery; knows nothing of what charges or empties it.
 * Charge is in any one unit (Ah or Wh) and currents are that unit per hour (A or W); a current is
 * positive when it empties the battery. */
#ifndef RIG_BATTERY_H
#define RIG_BATTERY_H

#include "rigbudget/status.h"

/* Two-well kinetic model [MANWELL-1993]: charge in an available well empties into the load, charge
 * in a bound well seeps over.
 *   dy1/dt = -I + k (c y2 - (1 - c) y1),  dy2/dt = -k (c y2 - (1 - c) y1)
 * k here multiplies (c y2 - (1 - c) y1). Where a source gives a K that multiplies
 * (y2 / (1 - c) - y1 / c), k = K / (c (1 - c)). */
typedef struct {
	double capacity;       /* both wells full, > 0 */
	double available_frac; /* c: share of the available well, 0 < c <= 1; 1 is a plain store */
	double rate_per_h;     /* k > 0; not read when c is 1 */
} rig_kinetic;

/* What the wells hold. */
typedef struct {
	double available, bound;
} rig_wells;

rig_wells rig_wells_full(const rig_kinetic *battery); /* of a battery that is full */
/* Wells at rest that hold a share of the capacity. charge_frac 0 to 1. */
rig_wells rig_wells_at_rest(const rig_kinetic *battery, double charge_frac);

/* One step of fixed length as plain multiplications, its exponentials taken once:
 *   available' = a11 available + a12 bound - g1 current
 *   bound'     = a21 available + a22 bound - g2 current
 * with a11 + a21 = a12 + a22 = 1 and g1 + g2 = hours, so that charge is kept to rounding. Exact for
 * a constant current. */
typedef struct {
	double hours;
	double a11, a12, g1;
	double a21, a22, g2;
	double available_full, bound_full; /* what the wells hold when full */
} rig_kinetic_step;

/* hours > 0 */
rig_kinetic_step rig_kinetic_step_of(const rig_kinetic *battery, double hours);

/* The wells after a step. Applies the equations as they are: keep the current within the limits. */
rig_wells rig_wells_after(const rig_kinetic_step *step, rig_wells wells, double current);

/* Largest constant current that does not draw the available well below empty during the step; 0
 * when it is empty already. Exact: under a constant current the well's height bends one way only,
 * so it cannot dip below empty inside the step and recover. */
double rig_wells_discharge_limit(const rig_kinetic_step *step, rig_wells wells);
/* Largest constant charging current, given as a positive number, that does not fill the available
 * well past full during the step; 0 when it is full. Exact in the same way. */
double rig_wells_charge_limit(const rig_kinetic_step *step, rig_wells wells);

/* Charge that a full battery gives at a constant current that empties it in so many hours > 0:
 * Q k c t / (1 - e^-kt + c (kt - 1 + e^-kt)). */
double rig_kinetic_capacity(const rig_kinetic *battery, double hours);

/* Hours until a constant current > 0 empties the available well.
 * RIG_NO_SOLUTION: it is empty already. */
rig_status rig_kinetic_hours(
	const rig_kinetic *battery, rig_wells wells, double current, double *hours);

/* Charge given at a constant current in so many hours. */
typedef struct {
	double hours, charge;
} rig_rating;

/* The two wells that meet three ratings exactly.
 *   rating   hours strictly rising, charge strictly rising, currents (charge / hours) falling
 * RIG_BAD_INPUT: the ratings are not so. RIG_NO_SOLUTION: no two wells meet them. */
rig_status rig_kinetic_of_ratings(const rig_rating rating[3], rig_kinetic *battery);

/* The two wells from one rating and a Peukert exponent: they meet Peukert's law at 2 hours, at the
 * rating's hours and halfway between on a scale of logarithms. Slower than the rating they level
 * off, as batteries do, where the law grows without bound: exponent 1.2 gives 10 % more at 100
 * hours than at 20 instead of 31 %.
 *   exponent   1 to 1.5; 1 gives a plain store
 * RIG_BAD_INPUT: the exponent, or the rating is not for 5 to 50 h.
 * RIG_NO_SOLUTION: no two wells. */
rig_status rig_kinetic_of_peukert(rig_rating rating, double exponent, rig_kinetic *battery);

/* The two wells from one rating and reserve minutes at 25 A, in Ah: they meet both, and Peukert's
 * law through both halfway between on a scale of logarithms.
 * RIG_BAD_INPUT: the rating is not for 5 to 50 h or draws 25 A or more, or the reserve gives more
 * charge than the rating, lasts as long, or asks for an exponent above 1.5. RIG_NO_SOLUTION: no two
 * wells. */
rig_status rig_kinetic_of_reserve(rig_rating rating, double reserve_minutes, rig_kinetic *battery);

/* Peukert's law [PEUKERT-1897]: hours = H (C / (I H))^exponent, h. Constant current, near 25 C,
 * between C/100 and C/2. rating.charge = C over rating.hours = H; current > 0. */
double rig_peukert_hours(rig_rating rating, double exponent, double current);
/* Charge given over so many hours by the same law: C (t / H)^(1 - 1 / exponent). */
double rig_peukert_capacity(rig_rating rating, double exponent, double hours);
/* Exponent from two ratings with hours and currents unlike, dimensionless:
 * ln(t1 / t2) / ln(I2 / I1). */
double rig_peukert_exponent(rig_rating slow, rig_rating fast);

/* Charge given at 25 A in so many reserve minutes, Ah: minutes 25 / 60 [SAE-J537]. */
double rig_reserve_ah(double reserve_minutes);
/* Charge at another rate from reserve minutes, Ah, by Peukert's law. */
double rig_reserve_rated_ah(double reserve_minutes, double exponent, double hours);
/* Reserve minutes of a rated battery, minutes, by Peukert's law. rating.charge in Ah. */
double rig_reserve_minutes(rig_rating rating, double exponent);

/* Factor on the size of a lead-acid battery that a temperature of the acid asks for, dimensionless
 * [IEEE-485] table 1, straight lines between its rows; the charge that can be taken out is
 * 1 / factor of the rated.
 * RIG_BAD_INPUT: outside -3.9 to 48.9 C, where the table has no rows. */
rig_status rig_lead_size_factor(double acid_c, double *factor);

/* Share of the rated charge that can be taken out at a temperature, 0 to 1:
 * 1 - lost_per_k (25 - t) below 25 C, 1 above. Gives 0 where the line has fallen to nothing.
 *   lost_per_k   >= 0; 0.0115 fits [IEEE-485] within 0.02 from -4 to 25 C */
double rig_warmth_frac(double battery_c, double lost_per_k);

/* Share of the capacity lost in an hour at rest, 1/h: share a month at 25 C / 730.5, doubled for
 * each 10 K warmer, halved for each 10 K colder (common practice, no source). */
double rig_self_discharge_per_h(double frac_month, double battery_c);

/* Largest current that a filling battery takes over a step, from the share of its missing charge
 * that it can take in an hour: missing (1 - e^(-acceptance hours)) / hours [MANWELL-1993].
 *   acceptance_per_h   > 0; missing >= 0; hours > 0 */
double rig_acceptance_limit(double acceptance_per_h, double missing, double hours);

/* Share of charge of a 12 V lead-acid battery after 4 hours or more at rest, 0 to 1, from its
 * voltage at 27 C: a battery maker's table, straight lines between its rows. Good to 0.08 V, that
 * is 0.1 to 0.2 of the charge. Up to 0.08 V above its full row is full, below its empty row empty.
 * RIG_BAD_INPUT: a voltage farther out, which no such battery at rest has. */
rig_status rig_lead_rest_frac(double rest_v, double *charge_frac);
/* The table read the other way, V. charge_frac 0 to 1. */
double rig_lead_rest_v(double charge_frac);
/* Rest voltage of six cells from the acid's specific gravity, V: 6 (gravity + 0.845)
 * (common practice, no source); 0.1 V. gravity 1.10 to 1.30. */
double rig_lead_gravity_v(double gravity);

#endif
