/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_balance.h"

#include <math.h>

#include "studies/fits.h"

/* Nodes of the search for the best deal. */
enum { STEP_LIMIT = 400000 };
/* Moving a breaker is not worth less than this. */
static const double LEAST_GAIN_A = 0.5;

/* Circuits and loads without one, as items to be dealt: first all circuits of the coach (those
 * without AC draw nothing), then each unit of unknown circuit. */
typedef struct {
	rig_fits_item *items;
	rig_fits_leg *leg;
	bool *none_both;
	size_t n;
} deck;

static rig_fits_leg leg_now(const rig_circuit *circuit)
{
	switch (circuit->leg) {
	case RIG_LEG_1:
		return RIG_FITS_LEG_1;
	case RIG_LEG_2:
		return RIG_FITS_LEG_2;
	case RIG_LEG_BOTH:
	case RIG_LEG_UNSAID:
		break;
	}
	return RIG_FITS_EITHER;
}

static rig_fits_item blank(size_t key)
{
	return (rig_fits_item){
		.priority = 1, .leg = RIG_FITS_EITHER, .circuit = -1, .key = (int)key};
}

static void add(rig_fits_item *item, const rig_shore_unit *unit)
{
	const double factor = unit->continuous ? RIG_CONTINUOUS_FACTOR : 1.0;
	const rig_phasor hot = unit->hot[RIG_LIKELY];
	item->loaded = rig_phasor_add(item->loaded, rig_phasor_scale(hot, factor));
	item->plain = rig_phasor_add(item->plain, hot);
}

/* A 240 V load stands on both legs wherever its breaker is; one of 120 V on a breaker over both
 * hots may be moved alone, so it is a card of its own, as is one without a circuit. */
static bool is_card_of_circuit(const rig_shore_case *c, const rig_shore_unit *unit)
{
	return unit->circuit >= 0 && !unit->two_hots &&
	       c->coach->circuits[unit->circuit].leg != RIG_LEG_BOTH;
}

static rig_status stack(const rig_shore_case *c, deck *d)
{
	const size_t n_circuits = c->coach->n_circuits;
	d->items = rig_arena_take(c->arena, n_circuits + c->n_units, sizeof *d->items);
	d->leg = rig_arena_take(c->arena, n_circuits + c->n_units, sizeof *d->leg);
	if (!d->items || !d->leg)
		return RIG_NO_MEMORY;
	for (d->n = 0; d->n < n_circuits; d->n++)
		d->items[d->n] = blank(d->n);
	for (size_t i = 0; i < c->n_units; i++) {
		const rig_shore_unit *unit = &c->units[i];
		if (is_card_of_circuit(c, unit)) {
			add(&d->items[unit->circuit], unit);
			continue;
		}
		d->items[d->n] = blank(n_circuits + (size_t)unit->key);
		d->items[d->n].leg = unit->two_hots ? RIG_FITS_BOTH : RIG_FITS_EITHER;
		add(&d->items[d->n++], unit);
	}
	return RIG_OK;
}

static void reckon(const deck *d, double *fuller_a, double *neutral_a)
{
	rig_legs loaded = {0};
	rig_legs plain = {0};
	for (size_t i = 0; i < d->n; i++) {
		const rig_fits_item *item = &d->items[i];
		if (d->leg[i] != RIG_FITS_LEG_2) {
			loaded.leg1 = rig_phasor_add(loaded.leg1, item->loaded);
			plain.leg1 = rig_phasor_add(plain.leg1, item->plain);
		}
		if (d->leg[i] != RIG_FITS_LEG_1) {
			loaded.leg2 = rig_phasor_add(loaded.leg2, item->loaded);
			plain.leg2 = rig_phasor_add(plain.leg2, item->plain);
		}
	}
	*fuller_a =
		fmax(rig_phasor_a(loaded.leg1, RIG_HOT_V), rig_phasor_a(loaded.leg2, RIG_HOT_V));
	*neutral_a = rig_neutral_split_a(&plain, RIG_HOT_V);
}

static rig_status deal(deck *d, bool *proved)
{
	const rig_fits_problem problem = {
		.n_items = d->n, .items = d->items, .hot_limit_va = 1.0, .step_limit = STEP_LIMIT};
	rig_fits_proof proof = {0};
	const rig_status status = rig_fits_split(&problem, d->leg, &proof);
	*proved = proof.proved;
	return status;
}

/* Whether a circuit that draws would have to move to the other leg. */
static bool moves(const rig_shore_case *c, const deck *d, size_t circuit)
{
	const rig_fits_leg now = leg_now(&c->coach->circuits[circuit]);
	return now != RIG_FITS_EITHER && d->items[circuit].plain.active_w > 0 &&
	       d->leg[circuit] != now;
}

static size_t count_moves(const rig_shore_case *c, const deck *d)
{
	size_t n = 0;
	for (size_t i = 0; i < c->coach->n_circuits; i++)
		n += moves(c, d, i);
	return n;
}

/* The legs of a deal may trade names: of the two ways the one with fewer moves. */
static void mirror_if_less_work(const rig_shore_case *c, deck *d)
{
	const size_t n_moves = count_moves(c, d);
	for (int turn = 0; turn < 2; turn++) {
		for (size_t i = 0; i < d->n; i++)
			if (d->leg[i] != RIG_FITS_BOTH)
				d->leg[i] = d->leg[i] == RIG_FITS_LEG_1 ? RIG_FITS_LEG_2
									: RIG_FITS_LEG_1;
		if (count_moves(c, d) < n_moves)
			return;
	}
}

rig_status rig_shore_balance_legs(const rig_shore_case *c, rig_shore_balance *balance)
{
	const size_t n_circuits = c->coach->n_circuits;
	deck d = {0};
	if (!c->two_legs || n_circuits == 0)
		return RIG_OK;
	balance->moves = rig_arena_take(c->arena, n_circuits, sizeof *balance->moves);
	if (!balance->moves)
		return RIG_NO_MEMORY;
	rig_status status = stack(c, &d);
	if (status != RIG_OK)
		return status;
	for (size_t i = 0; i < n_circuits; i++)
		d.items[i].leg = leg_now(&c->coach->circuits[i]);
	status = deal(&d, &balance->proved);
	if (status != RIG_OK)
		return status;
	balance->given = true;
	reckon(&d, &balance->fuller_before_a, &balance->neutral_before_a);
	for (size_t i = 0; i < n_circuits; i++)
		d.items[i].leg = RIG_FITS_EITHER;
	status = deal(&d, &balance->proved);
	reckon(&d, &balance->fuller_after_a, &balance->neutral_after_a);
	if (balance->fuller_after_a > balance->fuller_before_a - LEAST_GAIN_A) {
		balance->fuller_after_a = balance->fuller_before_a;
		balance->neutral_after_a = balance->neutral_before_a;
		return status;
	}
	mirror_if_less_work(c, &d);
	for (size_t i = 0; i < n_circuits; i++)
		if (moves(c, &d, i))
			balance->moves[balance->n_moves++] = (int)i;
	return status;
}
