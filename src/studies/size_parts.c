/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the list, the limits and the room allow of panels, batteries and inverters, and all their
 * combinations in order. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/bank_store.h"
#include "studies/size_case.h"

enum { MOST_CANDIDATES = 4000000 };

/* Volts of a cold panel over those of its label: the table's coldest row, [NFPA-70] 690.7(A). */
static const double COLD_VOC_RATIO = 1.25;
/* Amps of a panel in more than full sun over its shorted amps: [NFPA-70] 690.8(A). */
static const double BRIGHT_RATIO = 1.25;
/* A tracker needs volts above the bank's; common practice, no source. */
static const double VMP_OVER_CHARGING = 1.15;
static const double VMP_OVER_VOC =
	0.82; /* where a label has no vmp_v; common practice, no source */
/* An inverter's amps: at its watts, 85 % of them out, and the bank's nominal volts; common
 * practice, no source. */
static const double INVERTER_FRAC = 0.85;
/* Nominal volts of a 12 V battery: 12 lead, 12.8 lithium. */
static const double LEAST_12_V = 11.5, MOST_12_V = 13.2;

static bool suits_bank(const size_case *it, double volts_v)
{
	const double each_v = volts_v / it->groups_of_12;
	return each_v >= LEAST_12_V && each_v <= MOST_12_V;
}

static bool over(double limit, double per, int64_t cost)
{
	return limit > 0 && (double)cost > floor(limit * per + 0.5);
}

static bool within(const size_case *it, const size_cost *cost)
{
	const rig_size_options *options = &it->options;
	const bool is_out = over(options->price_max, 100, cost->price) ||
			    over(options->weight_max_kg, 1000, cost->weight) ||
			    over(options->area_max_m2, 10000, cost->area);
	if (is_out)
		it->findings->notes |= RIG_SIZE_LIMITS_BIND;
	return !is_out;
}

/* ---- panels ---- */

/* Volts that wires and amps are worked out for: those of lead batteries, the lowest of a new bank.
 */
static double wire_v(const size_case *it)
{
	return 12.0 * it->groups_of_12;
}

static double charging_v(const size_case *it)
{
	return 13.2 * it->groups_of_12; /* as solar_charging_v() */
}

static double vmp_of(const rig_part_panel *panel)
{
	return rig_figure_given(panel->vmp_v) ? panel->vmp_v.likely
					      : VMP_OVER_VOC * panel->voc_v.likely;
}

/* The longest string that the controller bears, that stays below the volts that may be touched, and
 * that shares the panels out evenly; 0: none. A
 * series controller takes panels made for its bank: none in series beyond the 12 V batteries. */
static int string_of(const size_case *it, const rig_part_panel *panel,
	const rig_part_controller *controller, int n_each)
{
	const bool tracks = controller->controller == RIG_MPPT;
	for (int series = n_each; series >= 1; series--) {
		const double voc_v = series * panel->voc_v.likely * COLD_VOC_RATIO;
		const double vmp_v = series * vmp_of(panel);
		if (n_each % series != 0 || voc_v > controller->voc_limit_v.likely ||
			vmp_v < charging_v(it) * VMP_OVER_CHARGING || vmp_v > RIG_WIRE_AC_ABOVE_V)
			continue;
		if (tracks || series == 1 || series == it->groups_of_12)
			return series;
	}
	return 0;
}

/* Arrays whose harvest goes with their watts alone: the kind of panel behind a tracker; each panel
 * by itself behind a series controller. */
static int group_of(const size_case *it, int panel, const rig_part_controller *controller)
{
	const rig_part_panel *it_panel = &it->parts->panels[panel];
	if (controller->controller != RIG_MPPT)
		return 1000 + panel;
	const char *kind = it_panel->panel;
	for (int i = 0; i < (int)rig_n_panel_kinds(); i++)
		if (kind != NULL && strcmp(rig_panel_kind_at((size_t)i)->id, kind) == 0)
			return 1 + i + (rig_figure_given(controller->efficiency_frac) ? 0 : 500);
	return 400 + (rig_figure_given(controller->efficiency_frac) ? 0 : 500);
}

static void lay_runs(size_case *it, const rig_part_panel *panel,
	const rig_part_controller *controller, size_array *array)
{
	const int strings = array->n / array->n_controllers / array->in_series;
	const size_run_asked to_controller = {RIG_SIZE_RUN_ARRAY, array->in_series * vmp_of(panel),
		strings * panel->isc_a.likely * BRIGHT_RATIO, it->options.array_run_m,
		array->n_controllers};
	const size_run_asked to_bank = {RIG_SIZE_RUN_CONTROLLER, wire_v(it),
		controller->limit_a.likely, it->options.controller_run_m, array->n_controllers};
	array->panel_run = size_run_of(it, &to_controller, &array->cost);
	array->bank_run = size_run_of(it, &to_bank, &array->cost);
	array->is_whole = array->panel_run.conductor >= 0 && array->bank_run.conductor >= 0 &&
			  size_add_fuses(it, &array->panel_run, 0, &array->cost);
}

/* So many panels with the fewest controllers that take them; false: they do not go together. */
static bool make_array(size_case *it, int panel, int controller, int n, size_array *array)
{
	const rig_part_panel *one = &it->parts->panels[panel];
	const rig_part_controller *by = &it->parts->controllers[controller];
	const double watts_w = n * one->watts_w.likely;
	const double amps_a = watts_w / charging_v(it);
	const int n_controllers = (int)ceil(amps_a / by->limit_a.likely - 1e-9);
	if (n % n_controllers != 0)
		return false;
	const int series = string_of(it, one, by, n / n_controllers);
	if (series == 0)
		return false;
	*array = (size_array){.panel = panel,
		.n = n,
		.controller = controller,
		.n_controllers = n_controllers,
		.in_series = series,
		.group = group_of(it, panel, by),
		.watts_w = watts_w,
		.efficiency_frac =
			rig_figure_given(by->efficiency_frac) ? by->efficiency_frac.likely : 0,
		.controller_a = amps_a};
	array->cost = size_cost_of(one->price, one->weight_kg, n);
	array->cost.area = n * llround(one->length_m.likely * one->width_m.likely * 10000);
	const size_cost controllers = size_cost_of(by->price, by->weight_kg, n_controllers);
	size_cost_add(&array->cost, &controllers);
	lay_runs(it, one, by, array);
	return within(it, &array->cost);
}

static int most_of(const size_case *it, const rig_part_panel *panel)
{
	const int most = it->options.most_panels;
	return panel->most > 0 && panel->most < most ? panel->most : most;
}

/* How many fit on the roof. */
static rig_status fit_panels(size_case *it, const rig_part_panel *panel, int *n)
{
	const double side_m[2] = {panel->length_m.likely, panel->width_m.likely};
	rig_floor_fit fit = {(size_t)*n, true};
	const rig_status status = rig_floor_pack(&it->options.roof, side_m, (size_t)*n, NULL, &fit);
	*n = (int)fit.n;
	if (!fit.proved)
		it->findings->notes |= RIG_SIZE_PACKING_CUT;
	return status;
}

/* None is never a worse array of the same group whose fuses are priced apart from its own. */
static bool beats(const size_array *a, const size_array *b)
{
	return a->group == b->group && a->watts_w >= b->watts_w &&
	       a->efficiency_frac >= b->efficiency_frac && a->cost.price <= b->cost.price &&
	       a->cost.weight <= b->cost.weight && a->cost.area <= b->cost.area &&
	       a->bank_run.fuse_a == b->bank_run.fuse_a && a->n_controllers <= b->n_controllers &&
	       a->is_whole >= b->is_whole;
}

/* Puts an array into the list unless one there beats it; of two alike the earlier stays. */
static void keep_array(size_case *it, const size_array *array)
{
	for (size_t i = 0; i < it->n_arrays; i++)
		if (beats(&it->arrays[i], array))
			return;
	size_t n = 0;
	for (size_t i = 0; i < it->n_arrays; i++)
		if (!beats(array, &it->arrays[i]))
			it->arrays[n++] = it->arrays[i];
	it->n_arrays = n;
	it->arrays[it->n_arrays++] = *array;
}

static void find_twins(size_case *it)
{
	for (size_t i = 0; i < it->n_arrays; i++) {
		size_array *array = &it->arrays[i];
		array->twin = 0;
		while (it->arrays[array->twin].group != array->group ||
			it->arrays[array->twin].watts_w != array->watts_w ||
			it->arrays[array->twin].efficiency_frac != array->efficiency_frac)
			array->twin++;
	}
}

static void add_arrays(size_case *it, int panel, int n)
{
	for (int k = 0; k < (int)it->parts->n_controllers; k++) {
		size_array array;
		if (make_array(it, panel, k, n, &array))
			keep_array(it, &array);
	}
}

static rig_status list_arrays(size_case *it)
{
	const size_t most =
		(size_t)it->options.most_panels * it->parts->n_panels * it->parts->n_controllers +
		1;
	bool any_fits = false;
	it->arrays = rig_arena_take(it->arena, most, sizeof *it->arrays);
	if (it->arrays == NULL)
		return RIG_NO_MEMORY;
	it->arrays[it->n_arrays++] = (size_array){.panel = -1, .controller = -1, .is_whole = true};
	for (int panel = 0; panel < (int)it->parts->n_panels; panel++) {
		int n_fit = most_of(it, &it->parts->panels[panel]);
		const rig_status status =
			n_fit > 0 ? fit_panels(it, &it->parts->panels[panel], &n_fit) : RIG_OK;
		if (status != RIG_OK)
			return status;
		any_fits = any_fits || n_fit > 0;
		for (int n = 1; n <= n_fit; n++)
			add_arrays(it, panel, n);
	}
	if (!any_fits)
		it->findings->notes |= RIG_SIZE_NO_PANELS_FIT;
	find_twins(it);
	return RIG_OK;
}

/* ---- batteries ---- */

static double limit_of(const rig_part_battery *battery, const rig_chemistry *kind)
{
	if (rig_figure_given(battery->charge_limit_a))
		return battery->charge_limit_a.likely;
	return rig_figure_given(kind->bulk_limit_c_rate)
		       ? battery->capacity_ah.likely * kind->bulk_limit_c_rate.likely
		       : INFINITY;
}

static double interrupt_of(const rig_part_battery *battery, const rig_chemistry *kind, int parallel)
{
	const rig_bank bank = {.kind = kind,
		.parallel = parallel,
		.short_circuit_a = battery->short_circuit_a,
		.total_ah =
			rig_figure_of(parallel * battery->capacity_ah.likely, RIG_FROM_NAMEPLATE)};
	return rig_interrupt_asked_a(rig_bank_short_circuit_a(&bank));
}

static int chemistry_index(const char *id)
{
	int i = 0;
	while (strcmp(rig_chemistry_at((size_t)i)->id, id) != 0)
		i++;
	return i;
}

/* Whether so many stand in the room. */
static rig_status fits_room(size_case *it, const rig_part_battery *battery, int n, bool *fits)
{
	const double side_m[2] = {battery->length_m.likely, battery->width_m.likely};
	rig_floor_fit fit = {0, true};
	*fits = it->options.battery_room_height_m <= 0 ||
		battery->height_m.likely <= it->options.battery_room_height_m;
	if (!*fits)
		return RIG_OK;
	const rig_status status =
		rig_floor_pack(&it->options.battery_room, side_m, (size_t)n, NULL, &fit);
	*fits = fit.n >= (size_t)n;
	if (status == RIG_OK && !*fits && !fit.proved)
		it->findings->notes |= RIG_SIZE_PACKING_CUT;
	return status;
}

static rig_status add_battery(size_case *it, int battery, int series)
{
	const rig_part_battery *one = &it->parts->batteries[battery];
	const rig_chemistry *kind = rig_chemistry_find(one->chemistry);
	const int most_parallel = one->most_parallel > 0 ? one->most_parallel : 32;
	for (int parallel = 1;
		parallel <= most_parallel && parallel * series <= it->options.most_batteries;
		parallel++) {
		bool fits = false;
		const rig_status status = fits_room(it, one, parallel * series, &fits);
		if (status != RIG_OK || !fits)
			return status;
		const size_bank bank = {.battery = battery,
			.series = series,
			.parallel = parallel,
			.group = chemistry_index(one->chemistry),
			.volts_v = series * one->nominal_v.likely,
			.wh = series * parallel * one->nominal_v.likely * one->capacity_ah.likely,
			.limit_a = parallel * limit_of(one, kind),
			.discharge_limit_a =
				parallel * (rig_figure_given(one->discharge_limit_a)
							   ? one->discharge_limit_a.likely
							   : 0),
			.interrupt_a = interrupt_of(one, kind, parallel),
			.cost = size_cost_of(one->price, one->weight_kg, parallel * series)};
		if (within(it, &bank.cost))
			it->banks[it->n_banks++] = bank;
	}
	return RIG_OK;
}

static void add_present_bank(size_case *it)
{
	const rig_bank *bank = &it->coach->banks[it->bank];
	it->banks[it->n_banks++] = (size_bank){.battery = -1,
		.group = -1,
		.volts_v = it->bank_v,
		.wh = bank->total_wh.likely,
		.limit_a = INFINITY,
		.interrupt_a = rig_interrupt_asked_a(rig_bank_short_circuit_a(bank))};
}

static rig_status list_banks(size_case *it)
{
	const rig_size_stay stay = it->options.bank;
	const size_t most = 32 * it->parts->n_batteries + 1;
	rig_status status = RIG_OK;
	it->banks = rig_arena_take(it->arena, most, sizeof *it->banks);
	if (it->banks == NULL)
		return RIG_NO_MEMORY;
	if (it->bank >= 0 && stay != RIG_SIZE_REPLACE)
		add_present_bank(it);
	for (int i = 0;
		status == RIG_OK && stay != RIG_SIZE_KEEP && i < (int)it->parts->n_batteries; i++) {
		const rig_part_battery *one = &it->parts->batteries[i];
		const int series = (int)lround(12.4 * it->groups_of_12 / one->nominal_v.likely);
		if (series >= 1 && suits_bank(it, series * one->nominal_v.likely) &&
			(one->most_series < 0 || series <= one->most_series))
			status = add_battery(it, i, series);
		else
			it->findings->notes |= RIG_SIZE_WRONG_VOLTS;
	}
	return status;
}

/* ---- inverters ---- */

static void add_inverter(size_case *it, int inverter)
{
	const rig_part_inverter *one = &it->parts->inverters[inverter];
	const rig_size_findings *found = it->findings;
	if (!suits_bank(it, one->nominal_v.likely)) {
		it->findings->notes |= RIG_SIZE_WRONG_VOLTS;
		return;
	}
	if (one->watts_w.likely < found->asked_w || one->surge_w.likely < found->asked_surge_w) {
		it->findings->notes |= RIG_SIZE_INVERTER_SMALL;
		return;
	}
	size_inverter made = {.inverter = inverter,
		.present = true,
		.watts_w = one->watts_w.likely,
		.surge_w = one->surge_w.likely,
		.cost = size_cost_of(one->price, one->weight_kg, 1)};
	const size_run_asked asked = {RIG_SIZE_RUN_INVERTER, wire_v(it),
		one->watts_w.likely / INVERTER_FRAC / wire_v(it), it->options.inverter_run_m, 1};
	made.run = size_run_of(it, &asked, &made.cost);
	made.is_whole = made.run.conductor >= 0;
	if (within(it, &made.cost))
		it->inverters[it->n_inverters++] = made;
}

static rig_status list_inverters(size_case *it)
{
	const rig_inverter *now = &it->coach->inverter;
	const rig_size_stay stay = it->options.inverter;
	const bool none_wanted = it->findings->n_wanted == 0;
	it->inverters =
		rig_arena_take(it->arena, it->parts->n_inverters + 1, sizeof *it->inverters);
	if (it->inverters == NULL)
		return RIG_NO_MEMORY;
	const bool will_do = now->present && now->watts_w.likely >= it->findings->asked_w &&
			     now->surge_w.likely >= it->findings->asked_surge_w;
	if (stay != RIG_SIZE_REPLACE && (will_do || (none_wanted && !now->present)))
		it->inverters[it->n_inverters++] = (size_inverter){.inverter = -1,
			.present = now->present,
			.watts_w = now->present ? now->watts_w.likely : 0,
			.surge_w = now->present ? now->surge_w.likely : 0,
			.is_whole = true};
	else if (now->present && !will_do)
		it->findings->notes |= RIG_SIZE_INVERTER_SMALL;
	for (int i = 0; stay != RIG_SIZE_KEEP && i < (int)it->parts->n_inverters; i++)
		add_inverter(it, i);
	if (it->n_inverters == 0)
		it->findings->notes |= RIG_SIZE_NO_INVERTER;
	return RIG_OK;
}

rig_status size_list_parts(size_case *it)
{
	rig_status status = list_arrays(it);
	if (status == RIG_OK)
		status = list_banks(it);
	return status == RIG_OK ? list_inverters(it) : status;
}

/* ---- combinations ---- */

/* Amps drawn of the bank with all on that is on at once. */
static bool bank_bears(const size_case *it, const size_bank *bank, const size_inverter *inverter)
{
	const double amps_a = it->findings->asked_w / INVERTER_FRAC / wire_v(it);
	return !inverter->present || bank->discharge_limit_a <= 0 ||
	       amps_a <= bank->discharge_limit_a;
}

static size_candidate candidate_of(const size_case *it, size_t a, size_t b, size_t i)
{
	const size_array *array = &it->arrays[a];
	const size_bank *bank = &it->banks[b];
	const size_inverter *inverter = &it->inverters[i];
	size_candidate made = {.cost = array->cost,
		.array = (uint32_t)a,
		.bank = (uint32_t)b,
		.inverter = (uint32_t)i};
	size_cost_add(&made.cost, &bank->cost);
	size_cost_add(&made.cost, &inverter->cost);
	made.is_whole = array->is_whole && inverter->is_whole;
	made.is_whole &= size_add_fuses(it, &array->bank_run, bank->interrupt_a, &made.cost);
	made.is_whole &= size_add_fuses(it, &inverter->run, bank->interrupt_a, &made.cost);
	return made;
}

static int by_number(int64_t a, int64_t b)
{
	return (a > b) - (a < b);
}

static int by_cost(const void *x, const void *y)
{
	const size_candidate *a = x, *b = y;
	int order = by_number(a->cost.price, b->cost.price);
	if (order == 0)
		order = by_number(a->cost.weight, b->cost.weight);
	if (order == 0)
		order = by_number(a->cost.area, b->cost.area);
	if (order == 0)
		order = by_number(a->array, b->array);
	if (order == 0)
		order = by_number(a->bank, b->bank);
	return order != 0 ? order : by_number(a->inverter, b->inverter);
}

static void add_candidates(size_case *it, size_t a, size_t b)
{
	for (size_t i = 0; i < it->n_inverters; i++) {
		if (!bank_bears(it, &it->banks[b], &it->inverters[i]))
			continue;
		const size_candidate made = candidate_of(it, a, b, i);
		if (within(it, &made.cost))
			it->candidates[it->n_candidates++] = made;
	}
}

rig_status size_list_candidates(size_case *it)
{
	const size_t most = it->n_arrays * it->n_banks * it->n_inverters;
	if (most > MOST_CANDIDATES)
		return RIG_NO_SOLUTION;
	it->candidates = malloc((most + 1) * sizeof *it->candidates);
	if (it->candidates == NULL)
		return RIG_NO_MEMORY;
	for (size_t a = 0; a < it->n_arrays; a++)
		for (size_t b = 0; b < it->n_banks; b++)
			add_candidates(it, a, b);
	qsort(it->candidates, it->n_candidates, sizeof *it->candidates, by_cost);
	it->findings->n_candidates = it->n_candidates;
	return RIG_OK;
}
