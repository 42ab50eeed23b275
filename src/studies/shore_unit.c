/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studies/shore_unit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* More of one load than this go on and off together: rooms full of lamps, not air conditioners. */
enum { MOST_APART = 8 };

/* 50 A cords have two hots; smaller ones have one [NFPA-70] 551.46. */
enum { TWO_HOTS_CORD_A = 50 };

/* Share of a rating that continuous loads may take: 1 / 1.25. */
static const double CONTINUOUS_SHARE_FRAC = 0.8;

/* Loads rated above this are on both hots: half way between 120 and 240 V. */
static const double TWO_HOTS_ABOVE_V = 180.0;

/* Absorption volts of a 12 V bank, 14.4 V in three chargers' manuals (second-hand). */
static const double CHARGE_V_PER_12_V = 14.4;
/* Of a plain converter at rated output (common practice, no source). */
static const double CHARGER_EFFICIENCY_FRAC = 0.85;
static const double CHARGER_POWER_FACTOR = 0.8;
/* A pause in charging costs nobody anything while the bank is well (common practice, no source). */
enum { CHARGER_PRIORITY = 6, USUAL_PRIORITY = 5 };

static rig_figure or_usual(rig_figure figure, double usual)
{
	return rig_figure_given(figure) ? figure : rig_figure_of(usual, RIG_FROM_PROFILE);
}

static bool in_order(rig_figure figure, double least, double most)
{
	return !rig_figure_given(figure) ||
	       (isfinite(figure.low) && isfinite(figure.high) && figure.low >= least &&
		       figure.low <= figure.likely && figure.likely <= figure.high &&
		       figure.high <= most);
}

int rig_shore_circuit_of(const rig_coach *coach, int load)
{
	const int circuit = load == RIG_SHORE_CHARGER ? coach->charger.circuit_index
						      : coach->loads[load].circuit_index;
	if (circuit < 0 || circuit >= (int)coach->n_circuits)
		return -1;
	return coach->circuits[circuit].supply == RIG_DC ? -1 : circuit;
}

static int leg_of(const rig_shore_case *c, int circuit)
{
	if (!c->two_legs)
		return 0;
	const rig_leg leg = circuit >= 0 ? c->coach->circuits[circuit].leg : RIG_LEG_UNSAID;
	return leg == RIG_LEG_1 ? 0 : leg == RIG_LEG_2 ? 1 : -1;
}

static void fill_phasors(rig_shore_unit *unit, rig_figure watts_w, rig_figure pf, double volts_v)
{
	unit->power[RIG_LOW] = rig_phasor_of(watts_w.low, pf.high);
	unit->power[RIG_LIKELY] = rig_phasor_of(watts_w.likely, pf.likely);
	unit->power[RIG_HIGH] = rig_phasor_of(watts_w.high, pf.low);
	for (int end = 0; end < RIG_N_ENDS; end++)
		unit->hot[end] = rig_phasor_scale(unit->power[end], RIG_HOT_V / volts_v);
	unit->rated_v = volts_v;
	unit->two_hots = volts_v > TWO_HOTS_ABOVE_V;
}

static int count_of(const rig_load *load)
{
	return load->count > 0 ? load->count : 1;
}

/* Units that a load makes: as many as there are, or one for many. */
static int n_units_of(const rig_load *load)
{
	if (load->supply == RIG_DC)
		return 0;
	return count_of(load) <= MOST_APART ? count_of(load) : 1;
}

static bool load_is_sound(const rig_load *load)
{
	return in_order(load->running_w, 0.0, 1e9) && in_order(load->volts_v, 1.0, 1e6) &&
	       in_order(load->power_factor, 0.01, 1.0) && in_order(load->start_a, 0.0, 1e9);
}

static rig_status add_load(rig_shore_case *c, int index)
{
	const rig_load *load = &c->coach->loads[index];
	if (!load_is_sound(load))
		return RIG_BAD_INPUT;
	const int n_units = n_units_of(load);
	const int each = n_units > 0 ? count_of(load) / n_units : 0;
	const bool ranked = load->priority >= 1 && load->priority <= 9;
	const rig_figure soft = rig_figure_range(
		RIG_SOFT_FRAC[0], RIG_SOFT_FRAC[1], RIG_SOFT_FRAC[2], RIG_FROM_PROFILE);
	for (int i = 0; i < n_units; i++) {
		rig_shore_unit *unit = &c->units[c->n_units++];
		*unit = (rig_shore_unit){
			.load = index,
			.count = each,
			.priority = ranked ? load->priority : USUAL_PRIORITY,
			.continuous = load->continuous == RIG_YES,
			.circuit = rig_shore_circuit_of(c->coach, index),
			.start_a = load->soft_starter == RIG_YES
					   ? rig_figure_multiply(load->start_a, soft)
					   : load->start_a,
		};
		unit->leg = leg_of(c, unit->circuit);
		fill_phasors(unit, rig_figure_scale(or_usual(load->running_w, 0.0), each),
			or_usual(load->power_factor, 1.0), or_usual(load->volts_v, 120.0).likely);
	}
	return RIG_OK;
}

/* Volts of charging: those of a 12 V bank for each group of cells that has 12 or 12.8 V. */
static double charge_v(const rig_coach *coach)
{
	const int index = coach->charger.bank_index;
	if (index < 0 || index >= (int)coach->n_banks)
		return CHARGE_V_PER_12_V;
	const rig_bank *bank = &coach->banks[index];
	const double group_v = bank->kind ? bank->kind->cell_group_v : 12.0;
	const double bank_v = or_usual(bank->nominal_v, group_v).likely;
	return CHARGE_V_PER_12_V * fmax(1.0, round(bank_v / group_v));
}

static rig_status add_charger(rig_shore_case *c)
{
	const rig_charger *charger = &c->coach->charger;
	if (!charger->present || !rig_figure_given(charger->amps_a))
		return RIG_OK;
	const rig_figure efficiency_frac =
		or_usual(charger->efficiency_frac, CHARGER_EFFICIENCY_FRAC);
	c->charger_pf = or_usual(charger->power_factor, CHARGER_POWER_FACTOR);
	if (!in_order(charger->amps_a, 0.0, 1e6) || !in_order(efficiency_frac, 0.01, 1.0) ||
		!in_order(c->charger_pf, 0.01, 1.0))
		return RIG_BAD_INPUT;
	const rig_figure output_w = rig_figure_scale(charger->amps_a, charge_v(c->coach));
	c->charger_w = rig_figure_divide(output_w, efficiency_frac);
	c->charger_w.low = 0; /* the bank is full */
	rig_shore_unit *unit = &c->units[c->n_units++];
	*unit = (rig_shore_unit){
		.load = RIG_SHORE_CHARGER,
		.count = 1,
		.priority = CHARGER_PRIORITY,
		.continuous = true,
		.circuit = rig_shore_circuit_of(c->coach, RIG_SHORE_CHARGER),
	};
	unit->leg = leg_of(c, unit->circuit);
	fill_phasors(unit, c->charger_w, c->charger_pf, RIG_HOT_V);
	return RIG_OK;
}

static const char *id_of(const rig_coach *coach, int load)
{
	const char *id = load == RIG_SHORE_CHARGER ? NULL : coach->loads[load].id;
	return id ? id : "";
}

/* A unit in line by its id. */
typedef struct {
	const char *id;
	size_t unit;
} by_id;

static int compare_ids(const void *left, const void *right)
{
	const by_id *a = left, *b = right;
	const int order = strcmp(a->id, b->id);
	return order != 0 ? order : (a->unit > b->unit) - (a->unit < b->unit);
}

/* Ids are distinct in a file, so that this rank does not know the file's order. */
static rig_status rank_units(rig_shore_case *c)
{
	by_id *order = rig_arena_take(c->arena, c->n_units, sizeof *order);
	if (!order)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < c->n_units; i++)
		order[i] = (by_id){id_of(c->coach, c->units[i].load), i};
	if (c->n_units > 0)
		qsort(order, c->n_units, sizeof *order, compare_ids);
	for (size_t i = 0; i < c->n_units; i++)
		c->units[order[i].unit].key = (int)i;
	return RIG_OK;
}

rig_status rig_shore_units(rig_shore_case *c)
{
	size_t n = 1;
	for (size_t i = 0; i < c->coach->n_loads; i++)
		n += (size_t)n_units_of(&c->coach->loads[i]);
	c->units = rig_arena_take(c->arena, n, sizeof *c->units);
	c->dealt = rig_arena_take(c->arena, 1, sizeof *c->dealt);
	if (!c->units || !c->dealt)
		return RIG_NO_MEMORY;
	c->dealt->on = rig_arena_take(c->arena, n, sizeof *c->dealt->on);
	c->dealt->leg = rig_arena_take(c->arena, n, sizeof *c->dealt->leg);
	if (!c->dealt->on || !c->dealt->leg)
		return RIG_NO_MEMORY;
	rig_status status = RIG_OK;
	for (size_t i = 0; i < c->coach->n_loads && status == RIG_OK; i++)
		status = add_load(c, (int)i);
	if (status == RIG_OK)
		status = add_charger(c);
	return status == RIG_OK ? rank_units(c) : status;
}

bool rig_shore_two_legs(const rig_coach *coach)
{
	return coach->cord_a <= 0 || coach->cord_a >= TWO_HOTS_CORD_A;
}

rig_shore_case rig_shore_case_of(const rig_coach *coach, rig_arena *arena)
{
	return (rig_shore_case){
		.coach = coach, .arena = arena, .two_legs = rig_shore_two_legs(coach)};
}

rig_shore_supply rig_shore_supply_of(const rig_coach *coach, const rig_supply *pedestal)
{
	const double cord_a = coach->cord_a > 0 ? coach->cord_a : pedestal->breaker_a;
	const int hots = rig_shore_two_legs(coach) ? 2 : 1;
	rig_shore_supply supply = {
		.pedestal = pedestal,
		.limit_a = fmin(pedestal->breaker_a, cord_a),
		.volts_v = pedestal->volts_v,
		.n_hots = pedestal->n_hots < hots ? pedestal->n_hots : hots,
		.cord_limits = cord_a < pedestal->breaker_a,
		.adapter = cord_a != pedestal->breaker_a,
	};
	supply.va = supply.limit_a * supply.volts_v * supply.n_hots;
	supply.continuous_va = supply.va * CONTINUOUS_SHARE_FRAC;
	supply.shared_hot = hots == 2 && supply.n_hots == 1;
	return supply;
}

/* Items stand in the order of the units, one for all of a load. */
void rig_shore_mark(const rig_shore_case *c, const rig_shore_set *set, bool *on)
{
	size_t k = 0;
	for (size_t i = 0; i < c->n_units; i++) {
		const bool passed = i > 0 && c->units[i].load != c->units[i - 1].load &&
				    k < set->n_items && set->items[k].load == c->units[i - 1].load;
		k += passed;
		on[i] = k < set->n_items && set->items[k].load == c->units[i].load;
	}
}
