/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/battery.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#include "outside.h"
#include "physics/close.h"

/* Constant loads on two wells: charge in A x hours, or A x minutes where the source has minutes;
 * the model's hour is whatever unit the rate is per. */
static const outside_series WELLS = {"batteries", "Two wells, minutes to empty at a constant load",
	"[JONGERDEN-2009]; from memory", "a unit of the last digit"};
static const outside_series INTERRUPTED = {"batteries",
	"Two wells, 5.5 A min, minutes to empty; jobs and rests of one minute",
	"[JONGERDEN-2009]; from memory", "a unit of the last digit"};
static const outside_series CELL_OF_2_AH = {"batteries",
	"Two wells, 2 Ah cell at 0.96 A, minutes to empty", "[CLOTH-2007] table 1; from memory",
	"half of the last digit"};
static const struct {
	const outside_series *series;
	rig_kinetic battery;
	double current, per_minute, minutes, tol;
} LIFETIME[] = {
	{&WELLS, {5.5, 0.166, 0.122}, 0.25, 1, 4.53, 0.01},
	{&WELLS, {5.5, 0.166, 0.122}, 0.50, 1, 2.02, 0.01},
	{&WELLS, {11.0, 0.166, 0.122}, 0.25, 1, 12.16, 0.01},
	/* its rate of 4.5e-5 a second multiplies the difference of heads: k = 4.5e-5 / (c (1 - c))
	 */
	{&CELL_OF_2_AH, {2.0, 0.625, 3600 * 4.5e-5 / (0.625 * 0.375)}, 0.96, 60, 91, 0.5},
};

START_TEST(constant_loads_last_as_published)
{
	double found;
	ck_assert_int_eq(
		rig_kinetic_hours(&LIFETIME[_i].battery, rig_wells_full(&LIFETIME[_i].battery),
			LIFETIME[_i].current, &found),
		RIG_OK);
	OUTSIDE(LIFETIME[_i].series, found * LIFETIME[_i].per_minute, LIFETIME[_i].minutes,
		LIFETIME[_i].tol, "%g charged, load %g A", LIFETIME[_i].battery.capacity,
		LIFETIME[_i].current);
}
END_TEST

/* Jobs of one minute with rests of whole minutes between, repeated. */
static const struct {
	const char *name;
	int n;
	double job_a[4];
	double minutes;
} DUTY[] = {
	{"0.25 A, one rest", 2, {0.25, 0}, 10.80},
	{"0.5 A, one rest", 2, {0.50, 0}, 4.30},
	{"0.5 and 0.25 A in turn", 2, {0.50, 0.25}, 2.58},
	{"0.5 and 0.25 A in turn, a rest between", 4, {0.50, 0, 0.25, 0}, 4.80},
	{"0.25 A, two rests", 3, {0.25, 0, 0}, 21.86},
	{"0.5 A, two rests", 3, {0.50, 0, 0}, 6.53},
};

/* Steps of one until a job empties the wells. */
static double lifetime_of_duty(const rig_kinetic *battery, const double *job, int n, double step_h)
{
	const rig_kinetic_step step = rig_kinetic_step_of(battery, step_h);
	rig_wells wells = rig_wells_full(battery);
	for (int i = 0;; i++) {
		if (job[i % n] > rig_wells_discharge_limit(&step, wells)) {
			double left;
			ck_assert_int_eq(
				rig_kinetic_hours(battery, wells, job[i % n], &left), RIG_OK);
			return i * step_h + left;
		}
		wells = rig_wells_after(&step, wells, job[i % n]);
	}
}

START_TEST(interrupted_loads_last_as_published)
{
	const rig_kinetic battery = {5.5, 0.166, 0.122};
	OUTSIDE(&INTERRUPTED, lifetime_of_duty(&battery, DUTY[_i].job_a, DUTY[_i].n, 1),
		DUTY[_i].minutes, 0.01, "%s", DUTY[_i].name);
}
END_TEST

START_TEST(a_square_wave_lasts_as_published)
{
	const rig_kinetic cell = {2.0, 0.625, 3600 * 4.5e-5 / (0.625 * 0.375)};
	const double job_a[2] = {0.96, 0};
	OUTSIDE(&CELL_OF_2_AH, 60 * lifetime_of_duty(&cell, job_a, 2, 0.5 / 3600), 203, 0.5,
		"half on, half off at 1 Hz");
}
END_TEST

/* A set like a lead-acid battery's: hours, charge. */
#define ON_PAPER "[MANWELL-1993] evaluated apart from this code"
static const outside_series GIVES = {"batteries",
	"Two wells of 120 Ah, c 0.30, k 0.60/h: Ah given by the hours it takes", ON_PAPER,
	"half of the last digit and a little"};
static const outside_series RESTED = {"batteries",
	"Those wells, Ah, after an hour at 20 A from full and then two hours of rest", ON_PAPER,
	"0.002 Ah, digits of its steps"};
static const rig_kinetic LEAD = {120, 0.30, 0.60};
static const rig_rating LEAD_GIVES[] = {{1, 43.56}, {5, 69.00}, {20, 100.46}, {100, 115.51}};

START_TEST(slower_discharges_give_more)
{
	OUTSIDE(&GIVES, rig_kinetic_capacity(&LEAD, LEAD_GIVES[_i].hours), LEAD_GIVES[_i].charge,
		0.006, "%g h", LEAD_GIVES[_i].hours);
	double hours;
	ck_assert_int_eq(
		rig_kinetic_hours(&LEAD, rig_wells_full(&LEAD),
			rig_kinetic_capacity(&LEAD, LEAD_GIVES[_i].hours) / LEAD_GIVES[_i].hours,
			&hours),
		RIG_OK);
	CLOSE(hours, LEAD_GIVES[_i].hours, 1e-10);
}
END_TEST

START_TEST(rest_lets_the_bound_charge_over)
{
	/* the same set: 20 A for an hour, then two hours of rest */
	const rig_kinetic_step hour = rig_kinetic_step_of(&LEAD, 1);
	rig_wells wells = rig_wells_after(&hour, rig_wells_full(&LEAD), 20);
	OUTSIDE(&RESTED, wells.available, 19.472, 0.002, "at hand after the hour");
	OUTSIDE(&RESTED, wells.bound, 80.528, 0.002, "bound after the hour");
	const rig_kinetic_step rest = rig_kinetic_step_of(&LEAD, 2);
	wells = rig_wells_after(&rest, wells, 0);
	OUTSIDE(&RESTED, wells.available, 26.829, 0.002, "at hand after the rest");
	OUTSIDE(&RESTED, wells.bound, 73.171, 0.002, "bound after the rest");
	/* and for ever: both at the same height */
	const rig_kinetic_step ever = rig_kinetic_step_of(&LEAD, 1000);
	wells = rig_wells_after(&ever, wells, 0);
	CLOSE(wells.available / 0.30, 100, 1e-12);
	CLOSE(wells.bound / 0.70, 100, 1e-12);
}
END_TEST

START_TEST(the_ends_of_the_rate_are_the_wells)
{
	CLOSE(rig_kinetic_capacity(&LEAD, 1e-7), 0.30 * 120, 1e-6);
	CLOSE(rig_kinetic_capacity(&LEAD, 1e7), 120, 1e-6);
	const rig_kinetic plain = {.capacity = 120, .available_frac = 1};
	ck_assert_double_eq(rig_kinetic_capacity(&plain, 1), 120);
}
END_TEST

typedef struct {
	rig_kinetic battery;
	double current;
} flow;

static int rates(double t, const double y[], double dydt[], void *params)
{
	(void)t;
	const flow *f = params;
	const double c = f->battery.available_frac, k = f->battery.rate_per_h;
	const double seeping = k * (c * y[1] - (1 - c) * y[0]);
	dydt[0] = seeping - f->current;
	dydt[1] = -seeping;
	return GSL_SUCCESS;
}

/* The model's own differential equations by Runge, Kutta, Prince and Dormand of order 8, [GSL]. */
static rig_wells integrated(flow *f, rig_wells wells, double hours)
{
	gsl_odeiv2_system system = {rates, NULL, 2, f};
	gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(
		&system, gsl_odeiv2_step_rk8pd, hours / 100, 1e-12, 1e-12);
	double t = 0, y[2] = {wells.available, wells.bound};
	ck_assert_int_eq(gsl_odeiv2_driver_apply(driver, &t, hours, y), GSL_SUCCESS);
	gsl_odeiv2_driver_free(driver);
	return (rig_wells){y[0], y[1]};
}

START_TEST(the_closed_form_solves_the_differential_equations)
{
	static const outside_series SOLVER = {"batteries",
		"Closed form of two wells off an ODE solver, of the capacity",
		"[GSL], Runge, Kutta, Prince and Dormand of order 8", "1e-8 asked"};
	enum { SEED = 1993 };
	uint64_t state = SEED;
	double worst = 0;
	for (int i = 0; i < 200; i++) {
		flow f = {{random_between(&state, 10, 1000), random_between(&state, 0.05, 0.95),
				  exp(random_between(&state, -4, 2))},
			0};
		f.current = f.battery.capacity * random_between(&state, -0.3, 0.3);
		const double hours = exp(random_between(&state, -5, 2));
		const rig_wells start = {
			f.battery.capacity * random_between(&state, 0, f.battery.available_frac),
			f.battery.capacity *
				random_between(&state, 0, 1 - f.battery.available_frac)};
		const rig_wells expected = integrated(&f, start, hours);
		const rig_kinetic_step step = rig_kinetic_step_of(&f.battery, hours);
		const rig_wells found = rig_wells_after(&step, start, f.current);
		const double off = fmax(fabs(found.available - expected.available),
			fabs(found.bound - expected.bound));
		worst = fmax(worst, off / f.battery.capacity);
	}
	OUTSIDE_WORST(&SOLVER, worst, 1e-8, "worst of 200 random cases, seed %d", SEED);
}
END_TEST

START_TEST(charge_is_kept_and_steps_join)
{
	enum { SEED = 7 };
	uint64_t state = SEED;
	for (int i = 0; i < 500; i++) {
		const rig_kinetic battery = {100, random_between(&state, 0.05, 0.95),
			exp(random_between(&state, -5, 4))};
		const double hours = exp(random_between(&state, -6, 3));
		const double current = random_between(&state, -10, 10);
		const rig_wells start = rig_wells_at_rest(&battery, random_between(&state, 0, 1));
		const rig_kinetic_step whole = rig_kinetic_step_of(&battery, hours);
		const rig_kinetic_step half = rig_kinetic_step_of(&battery, hours / 2);
		const rig_wells once = rig_wells_after(&whole, start, current);
		const rig_wells twice =
			rig_wells_after(&half, rig_wells_after(&half, start, current), current);
		const double scale = 100 + fabs(current) * hours;
		ck_assert_double_eq_tol(once.available + once.bound,
			start.available + start.bound - current * hours, 1e-13 * scale);
		ck_assert_double_eq_tol(once.available, twice.available, 1e-12 * scale);
		ck_assert_double_eq_tol(once.bound, twice.bound, 1e-12 * scale);
	}
}
END_TEST

/* Lowest and highest that the available well gets inside a step. */
static void watch(const rig_kinetic *battery, rig_wells wells, double current, double hours,
	double extreme[2])
{
	enum { N = 64 };
	const rig_kinetic_step slice = rig_kinetic_step_of(battery, hours / N);
	extreme[0] = extreme[1] = wells.available;
	for (int i = 0; i < N; i++) {
		wells = rig_wells_after(&slice, wells, current);
		extreme[0] = fmin(extreme[0], wells.available);
		extreme[1] = fmax(extreme[1], wells.available);
	}
}

START_TEST(limits_hold_throughout_the_step_and_are_reached)
{
	enum { SEED = 2718 };
	uint64_t state = SEED;
	for (int i = 0; i < 500; i++) {
		const double c = i % 10 == 0 ? 1 : random_between(&state, 0.05, 0.95);
		const rig_kinetic battery = {100, c, exp(random_between(&state, -4, 3))};
		const rig_wells start = {100 * c * random_between(&state, 0, 1),
			100 * (1 - c) * random_between(&state, 0, 1)};
		const double hours = exp(random_between(&state, -5, 2));
		const rig_kinetic_step step = rig_kinetic_step_of(&battery, hours);
		const double out = rig_wells_discharge_limit(&step, start);
		const double in = rig_wells_charge_limit(&step, start);
		double extreme[2];
		watch(&battery, start, out, hours, extreme);
		ck_assert_double_ge(extreme[0], -1e-9);
		ck_assert_double_eq_tol(rig_wells_after(&step, start, out).available, 0, 1e-10);
		watch(&battery, start, -in, hours, extreme);
		ck_assert_double_le(extreme[1], 100 * c + 1e-9);
		if (in > 0)
			ck_assert_double_eq_tol(
				rig_wells_after(&step, start, -in).available, 100 * c, 1e-10);
	}
}
END_TEST

START_TEST(an_empty_well_gives_nothing_and_a_full_one_takes_nothing)
{
	const rig_kinetic_step step = rig_kinetic_step_of(&LEAD, 1);
	ck_assert_double_eq(rig_wells_discharge_limit(&step, (rig_wells){0, 0}), 0);
	ck_assert_double_eq_tol(rig_wells_charge_limit(&step, rig_wells_full(&LEAD)), 0, 1e-12);
	double hours = 99;
	ck_assert_int_eq(rig_kinetic_hours(&LEAD, (rig_wells){0, 20}, 5, &hours), RIG_NO_SOLUTION);
	ck_assert_double_eq(hours, 99);
}
END_TEST

START_TEST(a_plain_store_is_exact)
{
	const rig_kinetic plain = {.capacity = 1200, .available_frac = 1};
	const rig_kinetic_step step = rig_kinetic_step_of(&plain, 1);
	rig_wells wells = rig_wells_full(&plain);
	wells = rig_wells_after(&step, wells, 137.25);
	ck_assert_double_eq(wells.available, 1200 - 137.25);
	ck_assert_double_eq(wells.bound, 0);
	ck_assert_double_eq(rig_wells_charge_limit(&step, wells), 137.25);
	ck_assert_double_eq(rig_wells_discharge_limit(&step, wells), 1062.75);
	double hours;
	ck_assert_int_eq(rig_kinetic_hours(&plain, wells, 106.275, &hours), RIG_OK);
	CLOSE(hours, 10, 1e-12);
}
END_TEST

START_TEST(the_fit_finds_the_wells_that_made_the_ratings)
{
	enum { SEED = 55 };
	uint64_t state = SEED;
	for (int i = 0; i < 300; i++) {
		const rig_kinetic made = {random_between(&state, 20, 800),
			random_between(&state, 0.1, 0.8), exp(random_between(&state, -2.5, 1))};
		rig_rating rating[3] = {{1, 0}, {5, 0}, {20, 0}};
		for (int j = 0; j < 3; j++)
			rating[j].charge = rig_kinetic_capacity(&made, rating[j].hours);
		rig_kinetic found;
		ck_assert_msg(rig_kinetic_of_ratings(rating, &found) == RIG_OK, "seed %d, case %d",
			SEED, i);
		CLOSE(found.capacity, made.capacity, 1e-6);
		CLOSE(found.available_frac, made.available_frac, 1e-6);
		CLOSE(found.rate_per_h, made.rate_per_h, 1e-6);
	}
}
END_TEST

START_TEST(wells_from_a_peukert_exponent_meet_the_law)
{
	const rig_rating rating = {20, 100};
	double last_1h = INFINITY;
	for (int percent = 101; percent <= 150; percent++) {
		const double exponent = percent / 100.0;
		rig_kinetic battery;
		ck_assert_int_eq(rig_kinetic_of_peukert(rating, exponent, &battery), RIG_OK);
		CLOSE(rig_kinetic_capacity(&battery, 20), 100, 1e-9);
		CLOSE(rig_kinetic_capacity(&battery, 2), rig_peukert_capacity(rating, exponent, 2),
			1e-9);
		CLOSE(rig_kinetic_capacity(&battery, sqrt(40)),
			rig_peukert_capacity(rating, exponent, sqrt(40)), 1e-9);
		ck_assert_double_gt(battery.available_frac, 0);
		ck_assert_double_lt(battery.available_frac, 1);
		/* between its ends it stays near the law; beyond the rating it levels off */
		for (int halves = 4; halves <= 40; halves++) {
			const double hours = halves / 2.0;
			CLOSE(rig_kinetic_capacity(&battery, hours),
				rig_peukert_capacity(rating, exponent, hours), 0.03);
		}
		ck_assert_double_le(rig_kinetic_capacity(&battery, 100),
			rig_peukert_capacity(rating, exponent, 100));
		ck_assert_double_lt(rig_kinetic_capacity(&battery, 1), last_1h);
		last_1h = rig_kinetic_capacity(&battery, 1);
	}
	rig_kinetic plain;
	ck_assert_int_eq(rig_kinetic_of_peukert(rating, 1, &plain), RIG_OK);
	ck_assert_double_eq(plain.available_frac, 1);
	ck_assert_double_eq(plain.capacity, 100);
}
END_TEST

START_TEST(wells_from_reserve_minutes_meet_both_ratings)
{
	for (int minutes = 130; minutes <= 230; minutes += 10) {
		rig_kinetic battery;
		const rig_rating rating = {20, 100};
		ck_assert_int_eq(rig_kinetic_of_reserve(rating, minutes, &battery), RIG_OK);
		CLOSE(rig_kinetic_capacity(&battery, 20), 100, 1e-9);
		double hours;
		ck_assert_int_eq(
			rig_kinetic_hours(&battery, rig_wells_full(&battery), 25, &hours), RIG_OK);
		CLOSE(60 * hours, minutes, 1e-9);
	}
}
END_TEST

START_TEST(ratings_that_no_battery_has_are_refused)
{
	static const rig_rating WRONG[][3] = {
		{{2, 20}, {4, 60}, {20, 100}}, /* the slower takes more current */
		{{1, 40}, {5, 30}, {20, 100}}, /* less charge from a slower discharge */
		{{5, 40}, {1, 60}, {20, 100}}, /* not in order */
		{{1, 10}, {5, 60}, {20, 100}}, /* the slower takes more current */
		{{0, 40}, {5, 60}, {20, 100}},
		{{1, 40}, {5, 60}, {20, INFINITY}},
		{{1, NAN}, {5, 60}, {20, 100}},
	};
	rig_kinetic battery = {.capacity = 99};
	for (int i = 0; i < COUNT(WRONG); i++)
		ck_assert_int_eq(rig_kinetic_of_ratings(WRONG[i], &battery), RIG_BAD_INPUT);
	/* far too straight for two wells */
	static const rig_rating STRAIGHT[3] = {{1, 40}, {5, 99}, {20, 100}};
	ck_assert_int_eq(rig_kinetic_of_ratings(STRAIGHT, &battery), RIG_NO_SOLUTION);
	const rig_rating rating = {20, 100};
	ck_assert_int_eq(rig_kinetic_of_peukert(rating, 0.99, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_peukert(rating, 1.51, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(
		rig_kinetic_of_peukert((rig_rating){1, 100}, 1.2, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(
		rig_kinetic_of_peukert((rig_rating){60, 100}, 1.2, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_peukert((rig_rating){20, 0}, 1.2, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(
		rig_kinetic_of_peukert((rig_rating){20, INFINITY}, 1.2, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_reserve(rating, 60, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_reserve(rating, 250, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_reserve(rating, 0, &battery), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_kinetic_of_reserve(rating, NAN, &battery), RIG_BAD_INPUT);
	/* 600 Ah in 20 h are 30 A, more than the 25 A of the reserve: that is not the faster one */
	ck_assert_int_eq(
		rig_kinetic_of_reserve((rig_rating){20, 600}, 1100, &battery), RIG_BAD_INPUT);
	ck_assert_double_eq(battery.capacity, 99);
}
END_TEST

static const outside_series LAW = {"batteries", "Peukert's law, 100 Ah at 20 h, hours",
	"[PEUKERT-1897] evaluated apart from this code", "a unit of the last digit"};
static const struct {
	double exponent, current_a, hours;
} PEUKERT[] = {{1.2, 10, 8.71}, {1.1, 10, 9.33}, {1.3, 10, 8.12}, {1.2, 5, 20}, {1.4, 5, 20},
	{1.2, 20, 3.79}, {1, 10, 10}};

START_TEST(peukerts_law_gives_its_hours)
{
	const rig_rating rating = {20, 100};
	const double hours = rig_peukert_hours(rating, PEUKERT[_i].exponent, PEUKERT[_i].current_a);
	OUTSIDE(&LAW, hours, PEUKERT[_i].hours, 0.01, "exponent %g, %g A", PEUKERT[_i].exponent,
		PEUKERT[_i].current_a);
	CLOSE(rig_peukert_capacity(rating, PEUKERT[_i].exponent, hours),
		hours * PEUKERT[_i].current_a, 1e-12);
}
END_TEST

/* 25 A at 26.7 C to 10.5 V; exponent 1.2; EN 50342-1 for flooded batteries. */
static const outside_series RESERVES = {"batteries",
	"Ah at 20 h from reserve minutes, exponent 1.2",
	"[SAE-J537] and [PEUKERT-1897], evaluated apart from this code; from memory",
	"a unit of the last digit"};
static const outside_series AMP_HOURS = {"batteries", "Ah at 25 A from reserve minutes",
	"[SAE-J537], minutes x 25 / 60; from memory", "half of the last digit"};
static const outside_series EUROPEAN = {"batteries",
	"Ah at 20 h from reserve minutes, exponent 1.2",
	"[EN-50342], RC = 0.7732 C20^1.1828; from memory", "4 %, two rules of thumb"};
static const struct {
	double minutes, rated_ah, standard_ah;
} RESERVE[] = {{90, 57.7, 55.8}, {120, 73.4, NAN}, {160, 93.3, 90.8}, {180, 102.9, 100.3}};

START_TEST(reserve_minutes_become_amp_hours)
{
	const double minutes = RESERVE[_i].minutes;
	const double rated_ah = rig_reserve_rated_ah(minutes, 1.2, 20);
	OUTSIDE(&RESERVES, rated_ah, RESERVE[_i].rated_ah, 0.1, "%g minutes", minutes);
	CLOSE(rig_reserve_ah(minutes), minutes / 2.4, 1e-12);
	CLOSE(rig_reserve_minutes((rig_rating){20, rated_ah}, 1.2), minutes, 1e-12);
	if (!isnan(RESERVE[_i].standard_ah)) {
		/* the standard's own arithmetic, and agreement with it within 4 % */
		ck_assert_double_eq_tol(
			pow(minutes / 0.7732, 1 / 1.1828), RESERVE[_i].standard_ah, 0.1);
		OUTSIDE_CLOSE(
			&EUROPEAN, rated_ah, RESERVE[_i].standard_ah, 0.04, "%g minutes", minutes);
	}
}
END_TEST

START_TEST(two_tests_give_the_exponent)
{
	static const outside_series TWO_TESTS = {"batteries",
		"Exponent from 5 A for 20 h and 25 A for 160 minutes",
		"[PEUKERT-1897] evaluated apart from this code", "half of the last digit"};
	const rig_rating slow = {20, 100}, fast = {160 / 60.0, rig_reserve_ah(160)};
	OUTSIDE(&AMP_HOURS, fast.charge, 66.7, 0.05, "160 minutes");
	const double exponent = rig_peukert_exponent(slow, fast);
	OUTSIDE(&TWO_TESTS, exponent, 1.252, 0.0005, "exponent");
	CLOSE(rig_peukert_hours(slow, exponent, 25), 160 / 60.0, 1e-12);
}
END_TEST

/* Degrees Fahrenheit, factor. The cubic fit is y = -2.8117 x^3 + 4.1916 x^2 - 2.4941 x + 1.405, x
 * in hundreds of degrees C. */
#define COLDER "Size factor of a lead battery by the temperature of its acid"
static const outside_series TABLE_1 = {
	"batteries", COLDER, "[IEEE-485] table 1; from memory", "half of the last digit"};
static const outside_series CUBIC = {"batteries", COLDER ", off a cubic fit",
	"a cubic fit of that table, read in a program", "0.016: the fit is good to 0.015"};
static const struct {
	double acid_f, factor;
} SIZE[] = {{25, 1.520}, {30, 1.430}, {35, 1.350}, {40, 1.300}, {45, 1.250}, {50, 1.190},
	{55, 1.150}, {60, 1.110}, {65, 1.080}, {70, 1.040}, {77, 1.000}, {80, 0.980}, {90, 0.940},
	{100, 0.910}, {110, 0.880}, {120, 0.860}};

START_TEST(cold_batteries_must_be_larger)
{
	const double acid_c = (SIZE[_i].acid_f - 32) / 1.8, x = acid_c / 100;
	double factor;
	ck_assert_int_eq(rig_lead_size_factor(acid_c, &factor), RIG_OK);
	const double fit = -2.8117 * x * x * x + 4.1916 * x * x - 2.4941 * x + 1.405;
	OUTSIDE(&TABLE_1, factor, SIZE[_i].factor, 0.0005, "%g F", SIZE[_i].acid_f);
	OUTSIDE_WORST(&CUBIC, fabs(factor - fit), 0.016, "%g F", SIZE[_i].acid_f);
	/* the straight line that a kernel uses */
	if (acid_c <= 25)
		ck_assert_double_eq_tol(rig_warmth_frac(acid_c, 0.0115), 1 / factor, 0.02);
}
END_TEST

START_TEST(temperatures_without_a_row_are_refused)
{
	double factor = 99;
	ck_assert_int_eq(rig_lead_size_factor(-3.9, &factor), RIG_OK);
	factor = 99;
	ck_assert_int_eq(rig_lead_size_factor(48.91, &factor), RIG_OK);
	ck_assert_double_eq_tol(factor, 0.86, 1e-12);
	factor = 99;
	ck_assert_int_eq(rig_lead_size_factor(-5, &factor), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_size_factor(50, &factor), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_size_factor(NAN, &factor), RIG_BAD_INPUT);
	ck_assert_double_eq(factor, 99);
}
END_TEST

START_TEST(warmth_never_adds_and_cold_never_owes)
{
	ck_assert_double_eq(rig_warmth_frac(25, 0.01), 1);
	ck_assert_double_eq(rig_warmth_frac(45, 0.01), 1);
	ck_assert_double_eq_tol(rig_warmth_frac(5, 0.01), 0.8, 1e-15);
	ck_assert_double_eq(rig_warmth_frac(-200, 0.01), 0);
	ck_assert_double_eq(rig_warmth_frac(-20, 0), 1);
}
END_TEST

START_TEST(self_discharge_doubles_every_ten_kelvin)
{
	const double month_h = 365.25 * 24 / 12;
	CLOSE(rig_self_discharge_per_h(0.05, 25) * month_h, 0.05, 1e-12);
	CLOSE(rig_self_discharge_per_h(0.05, 35) * month_h, 0.10, 1e-12);
	CLOSE(rig_self_discharge_per_h(0.05, 5) * month_h, 0.0125, 1e-12);
	ck_assert_double_eq(rig_self_discharge_per_h(0, 40), 0);
}
END_TEST

START_TEST(acceptance_fades_as_the_battery_fills)
{
	/* one per hour: after an hour 63.2 % of what was missing is there */
	CLOSE(rig_acceptance_limit(1, 50, 1), 50 * (1 - exp(-1)), 1e-12);
	CLOSE(rig_acceptance_limit(1, 50, 1e-9), 50, 1e-8);
	ck_assert_double_eq(rig_acceptance_limit(1, 0, 1), 0);
	/* two half hours take what one hour takes */
	const double first = 0.5 * rig_acceptance_limit(2, 50, 0.5);
	CLOSE(first + 0.5 * rig_acceptance_limit(2, 50 - first, 0.5),
		rig_acceptance_limit(2, 50, 1), 1e-12);
}
END_TEST

static const outside_series REST_V = {"batteries", "Rest volts of a 12 V lead battery by charge",
	"[REST-VOLTS] table 6; read", "exact"};
static const outside_series OTHER_V = {"batteries", "Rest volts of a 12 V lead battery by charge",
	"[REST-VOLTS-2]; read", "0.095 V: sources of the trade differ by that"};
static const outside_series ACID_V = {"batteries", "Rest volts from the acid's gravity",
	"[REST-VOLTS] table 6; read", "0.1 V: a rule of thumb"};
static const outside_series GRAVITY = {"batteries", "Rest volts from the acid's gravity",
	"6 (gravity + 0.845), arithmetic; common practice, no source", "half of the last digit"};
static const struct {
	double charge_frac, rest_v, other_v, gravity;
} REST[] = {{1.00, 12.65, 12.66, 1.265}, {0.75, 12.45, 12.45, 1.225}, {0.50, 12.24, 12.30, 1.190},
	{0.25, 12.06, 12.15, 1.155}, {0.00, 11.89, NAN, 1.120}};

START_TEST(rest_voltage_tells_the_charge)
{
	double found;
	ck_assert_int_eq(rig_lead_rest_frac(REST[_i].rest_v, &found), RIG_OK);
	ck_assert_double_eq_tol(found, REST[_i].charge_frac, 1e-12);
	const double charge_frac = REST[_i].charge_frac;
	OUTSIDE(&REST_V, rig_lead_rest_v(charge_frac), REST[_i].rest_v, 1e-12, "%.2f", charge_frac);
	if (!isnan(REST[_i].other_v))
		OUTSIDE(&OTHER_V, rig_lead_rest_v(charge_frac), REST[_i].other_v, 0.095, "%.2f",
			charge_frac);
	OUTSIDE(&ACID_V, rig_lead_gravity_v(REST[_i].gravity), REST[_i].rest_v, 0.1, "%.3f",
		REST[_i].gravity);
}
END_TEST

START_TEST(gravity_gives_the_rules_volts)
{
	OUTSIDE(&GRAVITY, rig_lead_gravity_v(1.265), 12.66, 0.005, "1.265");
	OUTSIDE(&GRAVITY, rig_lead_gravity_v(1.225), 12.42, 0.005, "1.225");
	OUTSIDE(&GRAVITY, rig_lead_gravity_v(1.155), 12.00, 0.005, "1.155");
}
END_TEST

START_TEST(voltages_of_no_resting_battery_are_refused)
{
	double found = 99;
	ck_assert_int_eq(rig_lead_rest_frac(13.6, &found), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_rest_frac(11.0, &found), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_rest_frac(12.65 + 0.0805, &found), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_rest_frac(11.89 - 0.0805, &found), RIG_BAD_INPUT);
	ck_assert_int_eq(rig_lead_rest_frac(NAN, &found), RIG_BAD_INPUT);
	ck_assert_double_eq(found, 99);
	ck_assert_int_eq(rig_lead_rest_frac(12.65 + 0.0795, &found), RIG_OK);
	ck_assert_double_eq(found, 1);
	ck_assert_int_eq(rig_lead_rest_frac(11.89 - 0.0795, &found), RIG_OK);
	ck_assert_double_eq(found, 0);
	for (int percent = 0; percent <= 100; percent++) {
		const double frac = percent / 100.0;
		ck_assert_int_eq(rig_lead_rest_frac(rig_lead_rest_v(frac), &found), RIG_OK);
		ck_assert_double_eq_tol(found, frac, 1e-12);
	}
}
END_TEST

static void add_kinetic(Suite *suite)
{
	TCase *kinetic = tcase_create("two wells");
	tcase_add_loop_test(kinetic, constant_loads_last_as_published, 0, COUNT(LIFETIME));
	tcase_add_loop_test(kinetic, interrupted_loads_last_as_published, 0, COUNT(DUTY));
	tcase_add_test(kinetic, a_square_wave_lasts_as_published);
	tcase_add_loop_test(kinetic, slower_discharges_give_more, 0, COUNT(LEAD_GIVES));
	tcase_add_test(kinetic, rest_lets_the_bound_charge_over);
	tcase_add_test(kinetic, the_ends_of_the_rate_are_the_wells);
	tcase_add_test(kinetic, the_closed_form_solves_the_differential_equations);
	tcase_add_test(kinetic, charge_is_kept_and_steps_join);
	tcase_add_test(kinetic, limits_hold_throughout_the_step_and_are_reached);
	tcase_add_test(kinetic, an_empty_well_gives_nothing_and_a_full_one_takes_nothing);
	tcase_add_test(kinetic, a_plain_store_is_exact);
	tcase_add_test(kinetic, the_fit_finds_the_wells_that_made_the_ratings);
	tcase_add_test(kinetic, wells_from_a_peukert_exponent_meet_the_law);
	tcase_add_test(kinetic, wells_from_reserve_minutes_meet_both_ratings);
	tcase_add_test(kinetic, ratings_that_no_battery_has_are_refused);
	suite_add_tcase(suite, kinetic);
}

static void add_rules(Suite *suite)
{
	TCase *rules = tcase_create("rules");
	tcase_add_loop_test(rules, peukerts_law_gives_its_hours, 0, COUNT(PEUKERT));
	tcase_add_loop_test(rules, reserve_minutes_become_amp_hours, 0, COUNT(RESERVE));
	tcase_add_test(rules, two_tests_give_the_exponent);
	tcase_add_loop_test(rules, cold_batteries_must_be_larger, 0, COUNT(SIZE));
	tcase_add_test(rules, temperatures_without_a_row_are_refused);
	tcase_add_test(rules, warmth_never_adds_and_cold_never_owes);
	tcase_add_test(rules, self_discharge_doubles_every_ten_kelvin);
	tcase_add_test(rules, acceptance_fades_as_the_battery_fills);
	tcase_add_loop_test(rules, rest_voltage_tells_the_charge, 0, COUNT(REST));
	tcase_add_test(rules, gravity_gives_the_rules_volts);
	tcase_add_test(rules, voltages_of_no_resting_battery_are_refused);
	suite_add_tcase(suite, rules);
}

Suite *battery_suite(void);
Suite *battery_suite(void)
{
	Suite *suite = suite_create("battery");
	add_kinetic(suite);
	add_rules(suite);
	return suite;
}
