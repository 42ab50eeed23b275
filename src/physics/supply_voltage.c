/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/supply_voltage.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Exponents of a loaded induction motor's draw: 0.9^(n - 1) = 1.11 below its rated volts and
 * 1.1^(n - 1) = 0.93 above [MOTOR-VOLTS]. */
static const double SHAFT_BELOW = 0.009495970357934591;
static const double SHAFT_ABOVE = 0.23858403180200172;

enum { MAX_STEPS = 60, MAX_HALVINGS = 4, MAX_UNKNOWNS = 4 };
enum { LEAST_SUBSTITUTIONS = 60, MOST_SUBSTITUTIONS = 4096 };
/* A shortened step of Newton's method is taken if it brings this share of what it promises. */
static const double PROMISE_KEPT_FRAC = 0.1;
static const double RESIDUAL_RATIO = 1e-12;

/* Insulation, so that a leg with nothing on it and a broken neutral has volts at all. */
static const double LEAK_S = 1e-12;

/* Of volts, amps and ohms. Own arithmetic: the compiler's calls its library for each product. */
typedef struct {
	double re, im;
} number;

static number add(number a, number b)
{
	return (number){a.re + b.re, a.im + b.im};
}

static number subtract(number a, number b)
{
	return (number){a.re - b.re, a.im - b.im};
}

static number multiply(number a, number b)
{
	return (number){a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
}

static number scale(number a, double factor)
{
	return (number){a.re * factor, a.im * factor};
}

static double magnitude(number a)
{
	return hypot(a.re, a.im);
}

static number impedance(rig_impedance z)
{
	return (number){z.resistance_ohm, z.reactance_ohm};
}

/* Admittance of a load over that at its rated volts, and how it changes with volts / rated. */
typedef struct {
	double factor, slope;
} softness;

double rig_feed_exponent(rig_voltage_response response, double ratio)
{
	switch (response) {
	case RIG_HOLDS_RESISTANCE:
		return 2.0;
	case RIG_HOLDS_POWER:
		return 0.0;
	case RIG_HOLDS_SHAFT:
		break;
	}
	return ratio < 1.0 ? SHAFT_BELOW : SHAFT_ABOVE;
}

static softness soften(rig_voltage_response response, double ratio)
{
	const double n = rig_feed_exponent(response, ratio);
	if (ratio <= RIG_GIVES_UP_RATIO)
		return (softness){pow(RIG_GIVES_UP_RATIO, n - 2.0), 0.0};
	const double factor = response == RIG_HOLDS_SHAFT   ? pow(ratio, n - 2.0)
			      : response == RIG_HOLDS_POWER ? 1.0 / (ratio * ratio)
							    : 1.0;
	return (softness){factor, (n - 2.0) * factor / ratio};
}

double rig_feed_load_a(const rig_feed_load *load, double volts_v)
{
	assert(load->rated_v > 0 && volts_v >= 0);
	const double ratio = volts_v / load->rated_v;
	return rig_phasor_va(load->draw) / load->rated_v * ratio *
	       soften(load->response, ratio).factor;
}

/* What a group of loads draws at its volts, and the derivative of that by the two parts of the
 * volts: current by real part, current by imaginary part. */
typedef struct {
	number a, by_re, by_im;
} group;

static void add_load(group *to, const rig_feed_load *load, number u)
{
	const double volts = magnitude(u);
	const softness soft = soften(load->response, volts / load->rated_v);
	const double per_v2 = 1.0 / (load->rated_v * load->rated_v);
	const number rated = {load->draw.active_w * per_v2, -load->draw.reactive_va * per_v2};
	const number admittance = scale(rated, soft.factor);
	const number bend =
		multiply(scale(rated, volts > 0 ? soft.slope / (load->rated_v * volts) : 0.0), u);
	to->a = add(to->a, multiply(admittance, u));
	to->by_re = add(to->by_re, add(admittance, scale(bend, u.re)));
	to->by_im = add(to->by_im, add(multiply(admittance, (number){0, 1}), scale(bend, u.im)));
}

/* The derivative of a group whose loads keep their admittance. */
static void freeze(group *of, number u)
{
	const double v2 = u.re * u.re + u.im * u.im;
	const number conjugate = {u.re / v2, -u.im / v2};
	of->by_re = v2 > 0 ? multiply(of->a, conjugate) : of->by_re;
	of->by_im = multiply(of->by_re, (number){0, 1});
}

typedef struct {
	const rig_feed *feed;
	const rig_feed_load *loads;
	size_t n_loads;
	int n_unknowns; /* two for each leg's volts */
	double sign;    /* of leg 2's current in the neutral */
	double weight;  /* 1 / (1 + |Zn|), so that a broken neutral needs no case of its own */
	number neutral; /* Zn x weight */
} circuit;

/* Currents at some leg volts. */
typedef struct {
	group leg[2], across;
} currents;

static currents draw(const circuit *c, const number u[2])
{
	currents i;
	memset(&i, 0, sizeof i);
	for (int leg = 0; leg < 2 && !(c->weight > 0); leg++) {
		i.leg[leg].a = scale(u[leg], LEAK_S);
		i.leg[leg].by_re = (number){LEAK_S, 0};
		i.leg[leg].by_im = (number){0, LEAK_S};
	}
	for (size_t k = 0; k < c->n_loads; k++) {
		const rig_feed_load *load = &c->loads[k];
		if (load->place == RIG_ACROSS_LEGS) {
			if (c->feed->kind == RIG_FEED_SPLIT)
				add_load(&i.across, load, add(u[0], u[1]));
			continue;
		}
		const int leg = c->n_unknowns > 2 && load->place == RIG_ON_LEG_2;
		add_load(&i.leg[leg], load, u[leg]);
	}
	return i;
}

/* Open volts less leg volts less what is lost in the hot: what is left for the neutral. */
static number left_for_neutral(const circuit *c, const currents *i, const number u[2], int leg)
{
	const number hot_a = add(i->leg[leg].a, i->across.a);
	const number lost = multiply(impedance(c->feed->hot[leg]), hot_a);
	return subtract((number){c->feed->open_v, 0}, add(u[leg], lost));
}

/* The equations, 0 when solved: first the neutral's, then, with two hots, that both legs see the
 * same neutral. */
static void equations(
	const circuit *c, const currents *i, const number u[2], double residual[MAX_UNKNOWNS])
{
	const number left1 = left_for_neutral(c, i, u, 0);
	number neutral_a = i->leg[0].a;
	memset(residual, 0, MAX_UNKNOWNS * sizeof *residual);
	if (c->n_unknowns > 2) {
		const number left2 = left_for_neutral(c, i, u, 1);
		const number both = subtract(left1, scale(left2, c->sign));
		neutral_a = add(neutral_a, scale(i->leg[1].a, c->sign));
		residual[2] = both.re;
		residual[3] = both.im;
	}
	const number first = subtract(scale(left1, c->weight), multiply(c->neutral, neutral_a));
	residual[0] = first.re;
	residual[1] = first.im;
}

/* Change of left_for_neutral by one part of one leg's volts. */
static number change_of_left(const circuit *c, const group *by, number unit, int leg, bool own)
{
	const bool re = unit.re != 0;
	number hot = {0, 0};
	if (own)
		hot = re ? by[0].by_re : by[0].by_im;
	hot = add(hot, re ? by[1].by_re : by[1].by_im);
	const number lost = multiply(impedance(c->feed->hot[leg]), hot);
	return scale(own ? add(unit, lost) : lost, -1.0);
}

/* One column of the Jacobian: all equations by one part of one leg's volts. */
static void column(const circuit *c, const currents *i, int at, double jacobian[][MAX_UNKNOWNS])
{
	const int leg = at / 2;
	const number unit = {at % 2 == 0, at % 2 == 1};
	const group own[2] = {i->leg[leg], i->across};
	const number current = unit.re != 0 ? own[0].by_re : own[0].by_im;
	const number left1 = change_of_left(c, own, unit, 0, leg == 0);
	const number neutral_a = scale(current, leg == 0 ? 1.0 : c->sign);
	const number first = subtract(scale(left1, c->weight), multiply(c->neutral, neutral_a));
	jacobian[0][at] = first.re;
	jacobian[1][at] = first.im;
	if (c->n_unknowns == 2)
		return;
	const number left2 = change_of_left(c, own, unit, 1, leg == 1);
	const number both = subtract(left1, scale(left2, c->sign));
	jacobian[2][at] = both.re;
	jacobian[3][at] = both.im;
}

static void swap_rows(double a[][MAX_UNKNOWNS], double b[], int one, int other)
{
	for (int k = 0; k < MAX_UNKNOWNS; k++) {
		const double kept = a[one][k];
		a[one][k] = a[other][k];
		a[other][k] = kept;
	}
	const double kept = b[one];
	b[one] = b[other];
	b[other] = kept;
}

/* The largest number of a column at or below a row goes there. */
static void bring_pivot(int n, double a[][MAX_UNKNOWNS], double b[], int at)
{
	int pivot = at;
	for (int row = at + 1; row < n; row++)
		if (fabs(a[row][at]) > fabs(a[pivot][at]))
			pivot = row;
	swap_rows(a, b, at, pivot);
}

/* b becomes the x of a x = b: elimination by columns. */
static bool eliminate(int n, double a[][MAX_UNKNOWNS], double b[])
{
	for (int at = 0; at < n; at++) {
		bring_pivot(n, a, b, at);
		if (!(fabs(a[at][at]) > 0))
			return false;
		for (int row = 0; row < n; row++) {
			const double share = row == at ? 0.0 : a[row][at] / a[at][at];
			for (int k = at; k < n; k++)
				a[row][k] -= share * a[at][k];
			b[row] -= share * b[at];
		}
	}
	for (int at = 0; at < n; at++)
		b[at] /= a[at][at];
	return true;
}

static double norm(const double residual[MAX_UNKNOWNS])
{
	return hypot(hypot(residual[0], residual[1]), hypot(residual[2], residual[3]));
}

/* The full step of Newton's method; the currents' derivatives decide which method it is. */
static bool find_step(const circuit *c, const currents *i, const double residual[MAX_UNKNOWNS],
	double step[MAX_UNKNOWNS])
{
	double jacobian[MAX_UNKNOWNS][MAX_UNKNOWNS] = {{0}};
	for (int at = 0; at < c->n_unknowns; at++)
		column(c, i, at, jacobian);
	memcpy(step, residual, MAX_UNKNOWNS * sizeof *step);
	return eliminate(c->n_unknowns, jacobian, step);
}

/* Where the search stands. */
typedef struct {
	number u[2];
	currents i;
	double residual[MAX_UNKNOWNS];
} position;

static position look(
	const circuit *c, const number from[2], const double step[MAX_UNKNOWNS], double share)
{
	position at = {.u = {{from[0].re - share * step[0], from[0].im - share * step[1]},
			       {from[1].re - share * step[2], from[1].im - share * step[3]}}};
	at.i = draw(c, at.u);
	equations(c, &at.i, at.u, at.residual);
	return at;
}

/* One step of Newton's method, halved until it helps. False if it does not. */
static bool improve(const circuit *c, position *at)
{
	double step[MAX_UNKNOWNS];
	if (!find_step(c, &at->i, at->residual, step))
		return false;
	double share = 1.0;
	for (int k = 0; k < MAX_HALVINGS; k++) {
		const position trial = look(c, at->u, step, share);
		if (norm(trial.residual) <=
			(1.0 - PROMISE_KEPT_FRAC * share) * norm(at->residual)) {
			*at = trial;
			return true;
		}
		share *= 0.5;
	}
	return false;
}

/* All loads taken as the admittances that they are at these volts, and the linear circuit solved:
 * an admittance falls as the volts rise, so on one hot the volts fall from step to step down to the
 * highest answer, where Newton's method may stand at a bend. On two, a pair of answers that the
 * loads have just ruled out draws Newton's method to where it was; substitutions pass it, slowly.
 */
static bool substitute(const circuit *c, position *at)
{
	double step[MAX_UNKNOWNS];
	currents frozen = at->i;
	freeze(&frozen.leg[0], at->u[0]);
	freeze(&frozen.leg[1], at->u[1]);
	freeze(&frozen.across, add(at->u[0], at->u[1]));
	if (!find_step(c, &frozen, at->residual, step))
		return false;
	*at = look(c, at->u, step, 1.0);
	return true;
}

static bool any_gave_up(const circuit *c, const rig_feed_state *state)
{
	for (size_t k = 0; k < c->n_loads; k++) {
		const rig_feed_load *load = &c->loads[k];
		const bool across = load->place == RIG_ACROSS_LEGS;
		if (rig_phasor_va(load->draw) <= 0 || (across && c->feed->kind != RIG_FEED_SPLIT))
			continue;
		const double volts_v =
			across ? state->across_v : state->leg_v[load->place == RIG_ON_LEG_2];
		if (volts_v < RIG_GIVES_UP_RATIO * load->rated_v)
			return true;
	}
	return false;
}

static double heat_w(rig_impedance z, double amps_a)
{
	return isfinite(z.resistance_ohm) ? z.resistance_ohm * amps_a * amps_a : 0.0;
}

static rig_feed_state state_of(const circuit *c, const position *at, int n_steps)
{
	const number *u = at->u;
	const currents *i = &at->i;
	const bool two = c->n_unknowns > 2;
	rig_feed_state state = {.n_steps = n_steps};
	state.leg_v[0] = magnitude(u[0]);
	state.leg_v[1] = two ? magnitude(u[1]) : state.leg_v[0];
	if (c->feed->kind == RIG_FEED_SPLIT)
		state.across_v = magnitude(add(u[0], u[1]));
	for (int leg = 0; leg < (two ? 2 : 1); leg++) {
		state.hot_a[leg] = magnitude(add(i->leg[leg].a, i->across.a));
		state.lost_w += heat_w(c->feed->hot[leg], state.hot_a[leg]);
	}
	state.neutral_a =
		two ? magnitude(add(i->leg[0].a, scale(i->leg[1].a, c->sign))) : state.hot_a[0];
	state.lost_w += heat_w(c->feed->neutral, state.neutral_a);
	state.gave_up = any_gave_up(c, &state);
	return state;
}

rig_status rig_feed_solve(
	const rig_feed *feed, const rig_feed_load loads[], size_t n_loads, rig_feed_state *state)
{
	assert(feed->open_v > 0 && feed->neutral.resistance_ohm >= 0);
	const double neutral_ohm = magnitude(impedance(feed->neutral));
	circuit c = {
		.feed = feed,
		.loads = loads,
		.n_loads = n_loads,
		.n_unknowns = feed->kind == RIG_FEED_ONE_HOT ? 2 : 4,
		.sign = feed->kind == RIG_FEED_SPLIT ? -1.0 : 1.0,
		.weight = 1.0 / (1.0 + neutral_ohm),
		.neutral = {1.0, 0.0},
	};
	if (isfinite(neutral_ohm))
		c.neutral = scale(impedance(feed->neutral), c.weight);
	const number open[2] = {{feed->open_v, 0}, {feed->open_v, 0}};
	const double none[MAX_UNKNOWNS] = {0};
	position at = look(&c, open, none, 0.0);
	int n_steps = 0;
	int n_substitutions = LEAST_SUBSTITUTIONS;
	while (norm(at.residual) > RESIDUAL_RATIO * feed->open_v) {
		if (++n_steps > MAX_STEPS)
			return RIG_NO_SOLUTION;
		if (improve(&c, &at))
			continue;
		for (int k = 0; k < n_substitutions; k++)
			if (!substitute(&c, &at))
				return RIG_NO_SOLUTION;
		if (n_substitutions < MOST_SUBSTITUTIONS)
			n_substitutions *= 2;
	}
	*state = state_of(&c, &at, n_steps);
	return RIG_OK;
}

double rig_feed_reading_ohm(double open_v, double loaded_v, double amps_a)
{
	assert(loaded_v <= open_v && amps_a > 0);
	return (open_v - loaded_v) / amps_a;
}
