/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rigbudget/wiring.h"

#include <math.h>
#include <string.h>

#include "studies/wire_rating.h"
#include "studies/wiring_load.h"
#include "studies/wiring_verdict.h"

/* What a file leaves out: see rig_wiring_study(). */
static const double USUAL_INSULATION_C = 60.0, USUAL_AMBIENT_C = 30.0, USUAL_DROP_FRAC = 0.03;
static const double USUAL_DC_V = 12.0, USUAL_HOT_V = 120.0;
enum { USUAL_BUNDLE = 2 };
/* Larger banks of batteries in parallel have a fuse at each [ABYC-E11]. */
static const double FUSE_EACH_ABOVE_AH = 500.0;

/* What rig_wiring_free() gets back: findings stands first. */
typedef struct {
	rig_wiring_findings findings;
	rig_arena *arena;
} holder;

static rig_figure or_usual(rig_figure figure, double usual)
{
	return rig_figure_given(figure) ? figure : rig_figure_of(usual, RIG_FROM_PROFILE);
}

/* Index of a circuit or bank by its id, -1 for none. */
static int circuit_named(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; id != NULL && i < coach->n_circuits; i++)
		if (strcmp(coach->circuits[i].id, id) == 0)
			return (int)i;
	return -1;
}

static int bank_named(const rig_coach *coach, const char *id)
{
	for (size_t i = 0; id != NULL && i < coach->n_banks; i++)
		if (strcmp(coach->banks[i].id, id) == 0)
			return (int)i;
	return -1;
}

static double circuit_v(const rig_coach *coach, const rig_circuit *circuit, int bank)
{
	if (circuit->supply != RIG_DC)
		return circuit->leg == RIG_LEG_BOTH ? 2 * USUAL_HOT_V : USUAL_HOT_V;
	return bank < 0 ? USUAL_DC_V : or_usual(coach->banks[bank].nominal_v, USUAL_DC_V).likely;
}

static bool needs_fuse_each(const rig_bank *bank)
{
	return bank->parallel > 1 && bank->total_ah.high > FUSE_EACH_ABOVE_AH;
}

/* Where a run starts, and so its book of rules and its volts. */
static void place_run(const rig_coach *coach, const rig_wire *wire, rig_wiring_run *run)
{
	const rig_circuit *circuit = run->circuit < 0 ? NULL : &coach->circuits[run->circuit];
	run->bank = circuit == NULL ? bank_named(coach, wire->bank) : circuit->bank_index;
	run->at_battery = circuit == NULL && run->bank >= 0;
	if (circuit != NULL) {
		run->supply = circuit->supply == RIG_DC ? RIG_DC : RIG_AC;
		run->volts_v = circuit_v(coach, circuit, run->bank);
	} else {
		const double own_v = or_usual(wire->volts_v, USUAL_DC_V).likely;
		run->volts_v =
			run->bank < 0
				? own_v
				: or_usual(coach->banks[run->bank].nominal_v, USUAL_DC_V).likely;
		run->supply = run->volts_v > RIG_WIRE_AC_ABOVE_V ? RIG_AC : RIG_DC;
	}
	if (run->supply == RIG_DC && run->bank >= 0)
		run->short_circuit_a = rig_bank_short_circuit_a(&coach->banks[run->bank]);
	run->fuse_each = run->at_battery && needs_fuse_each(&coach->banks[run->bank]);
	run->interrupt_asked_a = rig_interrupt_asked_a(run->short_circuit_a);
}

/* Loads that together pass the breaker do not all run: the wire then carries what it lets by. */
static void cap_at_fuse(rig_wiring_run *run, rig_figure largest_need_a)
{
	const double fuse_a = run->fuse_a.likely;
	double *const amps[] = {&run->amps_a.low, &run->amps_a.likely, &run->amps_a.high};
	double *const hours[] = {
		&run->continuous_a.low, &run->continuous_a.likely, &run->continuous_a.high};
	const double alone[] = {largest_need_a.low, largest_need_a.likely, largest_need_a.high};
	for (size_t i = 0; i < 3; i++) {
		if (*amps[i] <= fuse_a || alone[i] > fuse_a)
			continue;
		*amps[i] = fuse_a;
		*hours[i] = 0.0;
	}
	/* an end that is not capped may have passed one that is */
	run->amps_a.likely = fmin(run->amps_a.likely, run->amps_a.high);
	run->amps_a.low = fmin(run->amps_a.low, run->amps_a.likely);
	/* the worst case asks for no less than the likely one */
	run->continuous_a.likely = fmin(run->continuous_a.likely, run->amps_a.likely);
	run->continuous_a.high = fmax(run->continuous_a.high, run->continuous_a.likely);
	run->continuous_a.low = fmin(run->continuous_a.low, run->continuous_a.likely);
}

static void load_run(const rig_shore_case *c, const rig_wire *wire, rig_wiring_run *run,
	rig_figure *largest_need_a)
{
	run->power_factor = or_usual(wire->power_factor, 1.0).likely;
	if (rig_figure_given(wire->amps_a)) {
		const bool hours = wire->continuous == RIG_YES;
		run->amps_from = RIG_AMPS_STATED;
		run->amps_a = wire->amps_a;
		run->continuous_a = rig_figure_scale(wire->amps_a, hours ? 1.0 : 0.0);
		run->need_a = *largest_need_a =
			rig_figure_scale(wire->amps_a, hours ? RIG_CONTINUOUS_FACTOR : 1.0);
		return;
	}
	const rig_wiring_load load = run->circuit < 0
					     ? (rig_wiring_load){.power_factor = 1.0}
					     : rig_wiring_load_of(c, run->circuit, run->volts_v);
	if (load.n > 0) {
		run->amps_from = RIG_AMPS_OF_CIRCUIT;
		run->power_factor = load.power_factor;
		run->amps_a = load.amps_a;
		run->continuous_a = load.continuous_a;
		run->need_a = load.need_a;
		*largest_need_a = load.largest_need_a;
		if (rig_figure_given(run->fuse_a))
			cap_at_fuse(run, load.largest_need_a);
	} else if (rig_figure_given(run->fuse_a)) {
		run->amps_from = RIG_AMPS_OF_FUSE;
		run->amps_a = run->fuse_a;
		run->continuous_a = rig_figure_scale(run->fuse_a, 0.0);
	}
}

/* The gauge that the file gives; 99 for none. */
static int gauge_of(const rig_coach *coach, const rig_wire *wire, int circuit)
{
	const char *printed = wire->awg;
	if (printed == NULL && circuit >= 0)
		printed = coach->circuits[circuit].awg;
	return printed == NULL ? RIG_NO_GAUGE : rig_gauge_of(printed);
}

static rig_status study_wire(const rig_shore_case *c, const rig_wiring_findings *findings,
	const rig_wire *wire, rig_wiring_run *run)
{
	const rig_figure from_circuit =
		run->circuit < 0 ? (rig_figure){0} : c->coach->circuits[run->circuit].breaker_a;
	rig_figure largest_need_a = {0};
	place_run(c->coach, wire, run);
	run->fuse_a = rig_figure_given(wire->fuse_a) ? wire->fuse_a : from_circuit;
	load_run(c, wire, run, &largest_need_a);
	run->length_m = wire->length_m;
	run->insulation_c = or_usual(wire->insulation_c, USUAL_INSULATION_C);
	run->terminal_c = wire->terminal_c;
	run->ambient_c = or_usual(wire->ambient_c, USUAL_AMBIENT_C);
	run->bundle = wire->bundle > 0 ? wire->bundle : USUAL_BUNDLE;
	run->drop_limit_frac = or_usual(wire->drop_frac, USUAL_DROP_FRAC).likely;
	run->interrupt_a = wire->interrupt_a;
	run->fuse_distance_m = wire->fuse_distance_m;
	const rig_wiring_case of = {findings->copper, findings->next_size,
		gauge_of(c->coach, wire, run->circuit), largest_need_a};
	return rig_wiring_judge(&of, run);
}

static bool named_by_wire(const rig_coach *coach, size_t circuit)
{
	for (size_t i = 0; i < coach->n_wires; i++)
		if (circuit_named(coach, coach->wires[i].circuit) == (int)circuit)
			return true;
	return false;
}

static rig_status study_all(const rig_shore_case *c, rig_wiring_findings *findings)
{
	const rig_coach *coach = c->coach;
	rig_status status = RIG_OK;
	for (size_t i = 0; i < coach->n_wires && status == RIG_OK; i++) {
		rig_wiring_run *run = &findings->runs[findings->n_runs++];
		*run = (rig_wiring_run){
			.wire = (int)i, .circuit = circuit_named(coach, coach->wires[i].circuit)};
		status = study_wire(c, findings, &coach->wires[i], run);
	}
	rig_wire blank;
	rig_wire_clear(&blank);
	for (size_t i = 0; i < coach->n_circuits && status == RIG_OK; i++) {
		if (coach->circuits[i].awg == NULL || named_by_wire(coach, i))
			continue;
		rig_wiring_run *run = &findings->runs[findings->n_runs++];
		*run = (rig_wiring_run){.wire = -1, .circuit = (int)i};
		status = study_wire(c, findings, &blank, run);
	}
	for (size_t i = 0; i < findings->n_runs && status == RIG_OK; i++)
		findings->n_of[findings->runs[i].state[findings->runs[i].worst]]++;
	return status;
}

static bool in_order(rig_figure figure, double least)
{
	return !rig_figure_given(figure) ||
	       (isfinite(figure.low) && isfinite(figure.high) && figure.low >= least &&
		       figure.low <= figure.likely && figure.likely <= figure.high);
}

static bool wires_are_sound(const rig_coach *coach)
{
	bool all = true;
	for (size_t i = 0; i < coach->n_wires; i++) {
		const rig_wire *wire = &coach->wires[i];
		all &= in_order(wire->length_m, 0.0) && in_order(wire->amps_a, 1e-6) &&
		       in_order(wire->volts_v, 1.0) && in_order(wire->power_factor, 0.01) &&
		       in_order(wire->fuse_a, 1e-6) && in_order(wire->interrupt_a, 0.0) &&
		       in_order(wire->fuse_distance_m, 0.0) && in_order(wire->drop_frac, 1e-9) &&
		       in_order(wire->insulation_c, 60.0) && in_order(wire->terminal_c, 60.0) &&
		       in_order(wire->ambient_c, -273.0) &&
		       (!rig_figure_given(wire->power_factor) || wire->power_factor.high <= 1.0);
	}
	for (size_t i = 0; i < coach->n_loads; i++)
		all &= in_order(coach->loads[i].running_w, 0.0) &&
		       in_order(coach->loads[i].volts_v, 1.0);
	for (size_t i = 0; i < coach->n_circuits; i++)
		all &= in_order(coach->circuits[i].breaker_a, 1e-6);
	for (size_t i = 0; i < coach->n_banks; i++)
		all &= in_order(coach->banks[i].total_ah, 0.0) &&
		       in_order(coach->banks[i].nominal_v, 1.0) &&
		       in_order(coach->banks[i].cold_cranking_a, 0.0) &&
		       in_order(coach->banks[i].short_circuit_a, 0.0);
	return all;
}

rig_status rig_wiring_study(const rig_coach *completed, const rig_wiring_options *options,
	rig_wiring_findings **findings)
{
	if (!wires_are_sound(completed))
		return RIG_BAD_INPUT;
	rig_arena *arena = rig_arena_new();
	holder *held = arena == NULL ? NULL : rig_arena_take(arena, 1, sizeof *held);
	rig_shore_case c = {.coach = completed, .arena = arena};
	const size_t n = completed->n_wires + completed->n_circuits;
	rig_status status = RIG_NO_MEMORY;
	if (held == NULL)
		goto out;
	held->arena = arena;
	held->findings.coach = completed;
	held->findings.copper = options == NULL ? RIG_COPPER_AWG : options->copper;
	held->findings.next_size = options != NULL && options->next_size;
	held->findings.runs = rig_arena_take(arena, n, sizeof *held->findings.runs);
	if (held->findings.runs == NULL)
		goto out;
	status = rig_shore_units(&c);
	if (status == RIG_OK)
		status = study_all(&c, &held->findings);
out:
	if (status == RIG_OK)
		*findings = &held->findings;
	else
		rig_arena_free(arena);
	return status;
}

void rig_wiring_free(rig_wiring_findings *findings)
{
	if (findings != NULL)
		rig_arena_free(((holder *)findings)->arena);
}
