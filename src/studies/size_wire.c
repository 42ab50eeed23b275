/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wires that an option asks for, by the wiring study's rules. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "studies/size_case.h"

/* Cable for batteries and panels as shops stock it, in a warm bay or under the roof; common
 * practice, no source. */
static const double INSULATION_C = 105, AMBIENT_C = 50;
enum { BUNDLE = 2 };
/* Largest share of the volts lost along each run; common practice, no source. */
static const double DROP_FRAC[RIG_SIZE_N_RUNS] = {0.03, 0.02, 0.02};

static int conductor_of(const size_case *it, int awg)
{
	for (size_t i = 0; i < it->parts->n_conductors; i++) {
		/* "2/0" is -1 */
		const char *text = it->parts->conductors[i].awg;
		const int number = (int)strtol(text, NULL, 10);
		if ((strchr(text, '/') != NULL ? 1 - number : number) == awg)
			return (int)i;
	}
	return -1;
}

int size_fuse_of(const size_case *it, double rating_a, double interrupt_a)
{
	int found = -1;
	for (size_t i = 0; i < it->parts->n_fuses; i++) {
		const rig_part_fuse *fuse = &it->parts->fuses[i];
		if (fuse->rating_a.likely != rating_a || fuse->interrupt_a.likely < interrupt_a)
			continue;
		if (found < 0 || fuse->price.likely < it->parts->fuses[found].price.likely)
			found = (int)i;
	}
	return found;
}

size_cost size_cost_of(rig_figure price, rig_figure weight_kg, int n)
{
	return (size_cost){
		n * llround(price.likely * 100), n * llround(weight_kg.likely * 1000), 0};
}

void size_cost_add(size_cost *sum, const size_cost *part)
{
	sum->price += part->price;
	sum->weight += part->weight;
	sum->area += part->area;
}

bool size_add_fuses(
	const size_case *it, const rig_size_run *run, double interrupt_a, size_cost *cost)
{
	if (!run->asked || !run->solved)
		return !run->asked;
	const int fuse = size_fuse_of(it, run->fuse_a, interrupt_a);
	if (fuse < 0)
		return false;
	const rig_part_fuse *part = &it->parts->fuses[fuse];
	const size_cost added = size_cost_of(part->price, part->weight_kg, run->n_alike);
	size_cost_add(cost, &added);
	return true;
}

/* Where no single conductor will do, two or three beside each other share the amps, each with a
 * fuse of its own, none thinner than 1/0 AWG: [NFPA-70] 310.10(G). */
static void choose(const size_run_asked *asked, rig_size_run *run)
{
	for (int n = 1; n <= 3 && !run->solved; n++) {
		run->job.amps_a = run->job.continuous_a = asked->amps_a / n;
		run->solved = rig_wire_choose(&run->job, &run->choice) == RIG_OK &&
			      (n == 1 || run->choice.wire.awg <= 0);
		run->n_alike = asked->n_alike * n;
	}
}

rig_size_run size_run_of(const size_case *it, const size_run_asked *asked, size_cost *cost)
{
	rig_size_run run = {.asked = true, .n_alike = asked->n_alike, .conductor = -1, .fuse = -1};
	run.job = (rig_wire_job){.supply = RIG_DC,
		.volts_v = asked->volts_v,
		.amps_a = asked->amps_a,
		.continuous_a = asked->amps_a,
		.power_factor = 1,
		.length_m = asked->length_m,
		.drop_frac = DROP_FRAC[asked->kind],
		.insulation_c = INSULATION_C,
		.ambient_c = AMBIENT_C,
		.bundle = BUNDLE};
	choose(asked, &run);
	if (!run.solved)
		return run;
	run.fuse_a = run.choice.fuse_a;
	run.conductor = conductor_of(it, run.choice.wire.awg);
	if (run.conductor < 0)
		return run;
	const rig_part_conductor *part = &it->parts->conductors[run.conductor];
	/* out and back */
	const double length_m = 2 * asked->length_m * run.n_alike;
	cost->price += llround(part->price_per_m.likely * length_m * 100);
	cost->weight += llround(part->weight_kg_m.likely * length_m * 1000);
	return run;
}
