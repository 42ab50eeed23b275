/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/battery.h"

#include <assert.h>
#include <math.h>

#include "physics/root.h"

/* Current of the reserve test, [SAE-J537]. */
static const double RESERVE_A = 25.0;
static const double HOURS_PER_MONTH = 730.5;

rig_wells rig_wells_at_rest(const rig_kinetic *battery, double charge_frac)
{
	assert(charge_frac >= 0 && charge_frac <= 1);
	const double charge = charge_frac * battery->capacity;
	return (rig_wells){
		battery->available_frac * charge, (1.0 - battery->available_frac) * charge};
}

rig_wells rig_wells_full(const rig_kinetic *battery)
{
	return rig_wells_at_rest(battery, 1);
}

rig_kinetic_step rig_kinetic_step_of(const rig_kinetic *battery, double hours)
{
	assert(battery->capacity > 0 && hours > 0);
	assert(battery->available_frac > 0 && battery->available_frac <= 1);
	const double c = battery->available_frac;
	const rig_wells full = rig_wells_full(battery);
	if (c == 1)
		return (rig_kinetic_step){
			.hours = hours,
			.a11 = 1,
			.a12 = 1,
			.g1 = hours,
			.available_full = full.available,
		};
	assert(battery->rate_per_h > 0);
	const double k = battery->rate_per_h;
	const double levelled = -expm1(-k * hours); /* 1 - x of [MANWELL-1993] */
	const double a21 = (1.0 - c) * levelled, a12 = c * levelled;
	const double g2 = (1.0 - c) * (hours - levelled / k);
	return (rig_kinetic_step){
		.hours = hours,
		.a11 = 1.0 - a21,
		.a12 = a12,
		.g1 = hours - g2,
		.a21 = a21,
		.a22 = 1.0 - a12,
		.g2 = g2,
		.available_full = full.available,
		.bound_full = full.bound,
	};
}

rig_wells rig_wells_after(const rig_kinetic_step *step, rig_wells wells, double current)
{
	return (rig_wells){
		step->a11 * wells.available + step->a12 * wells.bound - step->g1 * current,
		step->a21 * wells.available + step->a22 * wells.bound - step->g2 * current,
	};
}

static double available_after_rest(const rig_kinetic_step *step, rig_wells wells)
{
	return step->a11 * wells.available + step->a12 * wells.bound;
}

double rig_wells_discharge_limit(const rig_kinetic_step *step, rig_wells wells)
{
	return fmax(0, available_after_rest(step, wells) / step->g1);
}

double rig_wells_charge_limit(const rig_kinetic_step *step, rig_wells wells)
{
	return fmax(0, (step->available_full - available_after_rest(step, wells)) / step->g1);
}

/* Charge given over so many hours from full, as a share of the capacity. */
static double share_given(double c, double k, double hours)
{
	const double levelled = -expm1(-k * hours);
	return k * c * hours / (levelled + c * (k * hours - levelled));
}

double rig_kinetic_capacity(const rig_kinetic *battery, double hours)
{
	assert(hours > 0);
	if (battery->available_frac == 1)
		return battery->capacity;
	return battery->capacity * share_given(battery->available_frac, battery->rate_per_h, hours);
}

typedef struct {
	const rig_kinetic *battery;
	rig_wells wells;
	double current;
} emptying;

static double available_at(double hours, const void *context)
{
	const emptying *e = context;
	if (hours <= 0)
		return e->wells.available;
	const rig_kinetic_step step = rig_kinetic_step_of(e->battery, hours);
	return rig_wells_after(&step, e->wells, e->current).available;
}

rig_status rig_kinetic_hours(
	const rig_kinetic *battery, rig_wells wells, double current, double *hours)
{
	assert(current > 0);
	if (wells.available <= 0)
		return RIG_NO_SOLUTION;
	/* Both wells together last this long; the factor keeps the end past the root by more than
	 * rounding. */
	const double longest_h = (wells.available + wells.bound) / current * (1.0 + 1e-12);
	const emptying e = {battery, wells, current};
	return rig_root(available_at, &e, 0, longest_h, hours);
}

/* The share c with which two ratings are met for a given k; linear in c once the capacity is
 * divided out. Positive only above some k. */
static double share_for(double k, rig_rating fast, rig_rating slow)
{
	const double ratio = fast.charge / slow.charge;
	const double fast_levelled = -expm1(-k * fast.hours);
	const double slow_levelled = -expm1(-k * slow.hours);
	return (fast.hours * slow_levelled - ratio * slow.hours * fast_levelled) /
	       (ratio * slow.hours * (k * fast.hours - fast_levelled) -
		       fast.hours * (k * slow.hours - slow_levelled));
}

static double middle_miss(double log_k, const void *context)
{
	const rig_rating *rating = context;
	const double k = exp(log_k), c = share_for(k, rating[0], rating[2]);
	return share_given(c, k, rating[1].hours) * rating[2].charge /
		       share_given(c, k, rating[2].hours) -
	       rating[1].charge;
}

static double share_sign(double log_k, const void *context)
{
	const rig_rating *rating = context;
	return share_for(exp(log_k), rating[0], rating[2]);
}

static int ratings_make_sense(const rig_rating rating[3])
{
	for (int i = 0; i < 2; i++) {
		const rig_rating fast = rating[i], slow = rating[i + 1];
		if (!(fast.hours > 0 && slow.hours > fast.hours && fast.charge > 0 &&
			    slow.charge > fast.charge &&
			    fast.charge / fast.hours > slow.charge / slow.hours))
			return 0;
	}
	return isfinite(rating[2].hours) && isfinite(rating[2].charge);
}

rig_status rig_kinetic_of_ratings(const rig_rating rating[3], rig_kinetic *battery)
{
	if (!ratings_make_sense(rating))
		return RIG_BAD_INPUT;
	/* Slower than once in a hundred of the longest rating, or faster than a hundred times in
	 * the shortest, the second well would not be seen by the ratings. */
	const double slowest = log(0.01 / rating[2].hours), fastest = log(100.0 / rating[0].hours);
	double lowest, log_k;
	if (rig_root(share_sign, rating, slowest, fastest, &lowest) != RIG_OK ||
		rig_root(middle_miss, rating, lowest + 1e-9, fastest, &log_k) != RIG_OK)
		return RIG_NO_SOLUTION;
	const double k = exp(log_k), c = share_for(k, rating[0], rating[2]);
	if (!(c > 0 && c < 1))
		return RIG_NO_SOLUTION;
	*battery = (rig_kinetic){
		.capacity = rating[2].charge / share_given(c, k, rating[2].hours),
		.available_frac = c,
		.rate_per_h = k,
	};
	return RIG_OK;
}

/* Largest exponent taken: worn-out flooded batteries reach 1.4 (common practice, no source). */
static const double LARGEST_EXPONENT = 1.5;

static int rating_is_usual(rig_rating rating)
{
	return rating.hours >= 5 && rating.hours <= 50 && rating.charge > 0 &&
	       isfinite(rating.charge);
}

/* The two wells on Peukert's law from fast_h to the rating. */
static rig_status fit_law(rig_rating rating, double exponent, double fast_h, rig_kinetic *battery)
{
	const double middle_h = sqrt(fast_h * rating.hours);
	const rig_rating ratings[3] = {
		{fast_h, rig_peukert_capacity(rating, exponent, fast_h)},
		{middle_h, rig_peukert_capacity(rating, exponent, middle_h)},
		rating,
	};
	return rig_kinetic_of_ratings(ratings, battery);
}

rig_status rig_kinetic_of_peukert(rig_rating rating, double exponent, rig_kinetic *battery)
{
	if (!(rating_is_usual(rating) && exponent >= 1 && exponent <= LARGEST_EXPONENT))
		return RIG_BAD_INPUT;
	if (exponent == 1) {
		*battery = (rig_kinetic){.capacity = rating.charge, .available_frac = 1};
		return RIG_OK;
	}
	return fit_law(rating, exponent, 2.0, battery);
}

rig_status rig_kinetic_of_reserve(rig_rating rating, double reserve_minutes, rig_kinetic *battery)
{
	if (!(rating_is_usual(rating) && reserve_minutes > 0))
		return RIG_BAD_INPUT;
	const rig_rating reserve = {reserve_minutes / 60.0, rig_reserve_ah(reserve_minutes)};
	if (!(reserve.hours < rating.hours && reserve.charge < rating.charge &&
		    RESERVE_A > rating.charge / rating.hours))
		return RIG_BAD_INPUT;
	const double exponent = rig_peukert_exponent(rating, reserve);
	if (!(exponent <= LARGEST_EXPONENT))
		return RIG_BAD_INPUT;
	return fit_law(rating, exponent, reserve.hours, battery);
}

double rig_peukert_hours(rig_rating rating, double exponent, double current)
{
	assert(current > 0 && exponent >= 1);
	return rating.hours * pow(rating.charge / (current * rating.hours), exponent);
}

double rig_peukert_capacity(rig_rating rating, double exponent, double hours)
{
	assert(hours > 0 && exponent >= 1);
	return rating.charge * pow(hours / rating.hours, 1.0 - 1.0 / exponent);
}

double rig_peukert_exponent(rig_rating slow, rig_rating fast)
{
	assert(slow.hours > fast.hours && fast.hours > 0);
	const double slow_a = slow.charge / slow.hours, fast_a = fast.charge / fast.hours;
	assert(fast_a > slow_a);
	return log(slow.hours / fast.hours) / log(fast_a / slow_a);
}

double rig_reserve_ah(double reserve_minutes)
{
	assert(reserve_minutes >= 0);
	return RESERVE_A * reserve_minutes / 60.0;
}

double rig_reserve_rated_ah(double reserve_minutes, double exponent, double hours)
{
	const rig_rating reserve = {reserve_minutes / 60.0, rig_reserve_ah(reserve_minutes)};
	return rig_peukert_capacity(reserve, exponent, hours);
}

double rig_reserve_minutes(rig_rating rating, double exponent)
{
	return 60.0 * rig_peukert_hours(rating, exponent, RESERVE_A);
}

/* A straight line between the rows of a table whose x rises. */
typedef struct {
	double x, y;
} row;

static double between_rows(const row *rows, double x)
{
	while (x > rows[1].x)
		rows++;
	return rows[0].y + (x - rows[0].x) / (rows[1].x - rows[0].x) * (rows[1].y - rows[0].y);
}

rig_status rig_lead_size_factor(double acid_c, double *factor)
{
	/* [IEEE-485] table 1, against degrees Fahrenheit as printed; from memory. */
	static const row SIZE_FACTOR[] = {{25, 1.52}, {30, 1.43}, {35, 1.35}, {40, 1.30},
		{45, 1.25}, {50, 1.19}, {55, 1.15}, {60, 1.11}, {65, 1.08}, {70, 1.04}, {77, 1.00},
		{80, 0.98}, {90, 0.94}, {100, 0.91}, {110, 0.88}, {120, 0.86}};
	const double acid_f = 32.0 + 1.8 * acid_c;
	/* A little play for the rounding of the conversion and of 25 F to -3.9 C. */
	if (!(acid_f >= 24.95 && acid_f <= 120.05))
		return RIG_BAD_INPUT;
	*factor = between_rows(SIZE_FACTOR, fmin(acid_f, 120.0));
	return RIG_OK;
}

double rig_warmth_frac(double battery_c, double lost_per_k)
{
	assert(lost_per_k >= 0);
	return fmax(0, 1.0 - lost_per_k * fmax(0, 25.0 - battery_c));
}

double rig_self_discharge_per_h(double frac_month, double battery_c)
{
	assert(frac_month >= 0);
	return frac_month / HOURS_PER_MONTH * exp2((battery_c - 25.0) / 10.0);
}

double rig_acceptance_limit(double acceptance_per_h, double missing, double hours)
{
	assert(acceptance_per_h > 0 && missing >= 0 && hours > 0);
	return missing * -expm1(-acceptance_per_h * hours) / hours;
}

/* Rest volts and share of charge of a 12 V flooded battery at 27 C, [REST-VOLTS]. */
enum { N_REST = 5 };
static const row REST[N_REST] = {
	{11.89, 0.0}, {12.06, 0.25}, {12.24, 0.50}, {12.45, 0.75}, {12.65, 1.0}};
/* How far makers' tables differ. */
static const double REST_DOUBT_V = 0.08;

rig_status rig_lead_rest_frac(double rest_v, double *charge_frac)
{
	const double empty_v = REST[0].x, full_v = REST[N_REST - 1].x;
	if (!(rest_v >= empty_v - REST_DOUBT_V && rest_v <= full_v + REST_DOUBT_V))
		return RIG_BAD_INPUT;
	*charge_frac = between_rows(REST, fmin(fmax(rest_v, empty_v), full_v));
	return RIG_OK;
}

double rig_lead_rest_v(double charge_frac)
{
	assert(charge_frac >= 0 && charge_frac <= 1);
	row turned[N_REST];
	for (int i = 0; i < N_REST; i++)
		turned[i] = (row){REST[i].y, REST[i].x};
	return between_rows(turned, charge_frac);
}

double rig_lead_gravity_v(double gravity)
{
	assert(gravity >= 1.1 && gravity <= 1.3);
	return 6.0 * (gravity + 0.845);
}
