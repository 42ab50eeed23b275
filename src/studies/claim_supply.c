/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_supply.c: "these run at once on that supply". */
#include <string.h>

#include "studies/claim_model.h"

/* The coach with the claim's loads as its only set. Alone: nothing else draws, the charger off. */
static rig_coach *coach_with_set(const claim_ground *ground, const rig_claim *claim, bool alone)
{
	const rig_coach *coach = ground->coach;
	rig_coach *made = rig_arena_take(ground->arena, 1, sizeof *made);
	rig_together *set = rig_arena_take(ground->arena, 1, sizeof *set);
	rig_load *loads = rig_arena_take(ground->arena, coach->n_loads, sizeof *loads);
	if (made == NULL || set == NULL || loads == NULL)
		return NULL;
	*made = *coach;
	*set = (rig_together){.name = "claim",
		.n_loads = claim->n_loads,
		.loads = claim->loads,
		.load_index = claim->load_index};
	made->together = set;
	made->n_together = claim->n_loads > 0 ? 1 : 0;
	if (!alone)
		return made;
	memcpy(loads, coach->loads, coach->n_loads * sizeof *loads);
	for (size_t i = 0; i < coach->n_loads; i++)
		loads[i].always_on = RIG_NO;
	made->loads = loads;
	made->charger.present = false;
	return made;
}

/* The claim's set among the findings: the first with loads named, else everything. */
static size_t set_of(const rig_shore_findings *shore, const rig_claim *claim)
{
	for (size_t i = 0; i < shore->n_sets; i++)
		if (claim->n_loads > 0 || shore->sets[i].kind == RIG_SHORE_SET_EVERYTHING)
			return i;
	return 0;
}

typedef struct {
	rig_shore_findings *shore;
	rig_voltage_findings *volts;
	rig_sources_findings *sources;
} supply_findings;

static rig_status study(const claim_ground *ground, const rig_coach *coach, supply_findings *found)
{
	rig_status status = rig_shore_study(coach, NULL, &found->shore);
	if (status == RIG_OK)
		status = rig_voltage_study(coach, found->shore, NULL, &found->volts);
	if (status == RIG_OK)
		status = rig_sources_study(
			coach, found->volts, ground->place, NULL, &found->sources);
	return status;
}

static void free_findings(supply_findings *found)
{
	rig_sources_free(found->sources);
	rig_voltage_free(found->volts);
	rig_shore_free(found->shore);
}

/* The name of a supply in the table; NULL for a source of the coach's own. */
static const char *id_of(rig_claim_supply supply)
{
	static const char *const ID[] = {[RIG_CLAIMED_50A] = "50A",
		[RIG_CLAIMED_30A] = "30A",
		[RIG_CLAIMED_20A] = "20A",
		[RIG_CLAIMED_15A] = "15A",
		[RIG_CLAIMED_INVERTER] = NULL};
	return ID[supply];
}

static int shore_index(const rig_shore_findings *shore, rig_claim_supply supply)
{
	const char *id = id_of(supply);
	for (size_t i = 0; i < shore->n_supplies && id != NULL; i++)
		if (strcmp(shore->supplies[i].pedestal->id, id) == 0)
			return (int)i;
	return -1;
}

static const rig_other_source *source_of(
	const rig_sources_findings *sources, rig_claim_supply supply)
{
	const rig_source_kind kind =
		supply == RIG_CLAIMED_GENERATOR ? RIG_SOURCE_GENERATOR : RIG_SOURCE_INVERTER;
	for (size_t i = 0; i < sources->n_sources; i++)
		if (sources->sources[i].kind == kind)
			return &sources->sources[i];
	return NULL;
}

/* The claim's set on the claim's supply; NULL if the coach has no such source. */
static const rig_shore_budget *budget_of(
	const supply_findings *found, const rig_claim *claim, const rig_other_set **other)
{
	const size_t set = set_of(found->shore, claim);
	const int index = shore_index(found->shore, claim->supply);
	*other = NULL;
	if (index >= 0)
		return &found->shore->sets[set].budgets[index];
	const rig_other_source *source = source_of(found->sources, claim->supply);
	if (source == NULL)
		return NULL;
	*other = &source->sets[set];
	return &source->sets[set].budget;
}

/* Loads that get nothing, of those that the claim names or of all. */
static rig_status note_dead(const claim_ground *ground, const rig_claim *claim,
	const rig_shore_budget *budget, const rig_other_set *other, rig_claim_finding *finding)
{
	const size_t n_unfed = other != NULL ? other->n_unfed : 0;
	finding->lacking =
		rig_arena_take(ground->arena, budget->n_dead + n_unfed, sizeof *finding->lacking);
	if (finding->lacking == NULL)
		return RIG_NO_MEMORY;
	for (size_t i = 0; i < budget->n_dead + n_unfed; i++) {
		const bool dead = i < budget->n_dead;
		const int load =
			dead ? budget->dead[i].load : other->unfed[i - budget->n_dead].load;
		bool named = claim->n_loads == 0 && load >= 0;
		for (size_t j = 0; j < claim->n_loads; j++)
			named = named || claim->load_index[j] == load;
		if (!named)
			continue;
		finding->lacking[finding->n_lacking++] = load;
		finding->reasons |= dead ? RIG_CLAIM_DEAD : RIG_CLAIM_NOT_FED;
	}
	return RIG_OK;
}

/* From the verdict with what always draws, and from that with nothing else on. */
static void judge_budget(
	const rig_shore_budget *with, const rig_shore_budget *alone, rig_claim_finding *finding)
{
	if (with->verdict == RIG_SHORE_FITS) {
		finding->answer = RIG_CLAIM_HOLDS;
		return;
	}
	/* where what always draws makes no difference, nothing hangs on it */
	if (alone->verdict < with->verdict || alone->sure != with->sure)
		finding->reasons |= RIG_CLAIM_ONLY_ALONE;
	if (alone->verdict == RIG_SHORE_FITS) {
		finding->answer = RIG_CLAIM_HOLDS_IF;
	} else if (alone->verdict == RIG_SHORE_DEPENDS || !alone->sure) {
		finding->answer = RIG_CLAIM_OPEN;
	} else if (alone->verdict == RIG_SHORE_OVER_CONTINUOUS) {
		finding->answer = RIG_CLAIM_HOLDS_IF;
		finding->reasons |= RIG_CLAIM_SHORT_RUNS;
	} else {
		finding->answer = RIG_CLAIM_FAILS;
	}
}

static bool starts_in_set(const rig_claim *claim, int load)
{
	for (size_t i = 0; i < claim->n_loads; i++)
		if (claim->load_index[i] == load)
			return true;
	return claim->n_loads == 0;
}

/* The gravest start of the claim's motors on its supply. */
static void judge_starts(
	const supply_findings *found, const rig_claim *claim, rig_claim_finding *finding)
{
	const int supply = shore_index(found->shore, claim->supply);
	const rig_source_kind kind = supply >= 0                              ? RIG_SOURCE_SHORE
				     : claim->supply == RIG_CLAIMED_GENERATOR ? RIG_SOURCE_GENERATOR
									      : RIG_SOURCE_INVERTER;
	rig_start_verdict gravest = RIG_START_HOLDS;
	for (size_t i = 0; i < found->sources->n_starts; i++) {
		const rig_motor_start *motor = &found->sources->starts[i];
		const rig_source_start *list = motor->soft_starter ? motor->soft : motor->bare;
		for (size_t j = 0; j < motor->n_on; j++) {
			if (list[j].kind != kind || list[j].supply != supply || !list[j].fed ||
				!starts_in_set(claim, motor->load) || list[j].verdict <= gravest)
				continue;
			gravest = list[j].verdict;
			finding->start_load = motor->load;
		}
	}
	if (gravest == RIG_START_DEPENDS)
		finding->reasons |= RIG_CLAIM_START_OPEN;
	if (gravest == RIG_START_FAILS)
		finding->reasons |= RIG_CLAIM_START_FAILS;
}

static void set_figures(const rig_shore_budget *budget, rig_claim_finding *finding)
{
	const rig_shore_flow *flow = &budget->limiting_flow;
	finding->set_element = (int)budget->limiting;
	finding->set_index = budget->limiting_index;
	if (budget->limiting == RIG_SHORE_NO_ELEMENT)
		return;
	finding->needs = flow->loaded_a;
	finding->has = rig_figure_of(flow->limit_a, RIG_FROM_COMPUTED);
}

static rig_status set_measures(
	const claim_ground *ground, const rig_shore_budget *budget, rig_claim_finding *finding)
{
	const size_t n = budget->n_measures;
	finding->measures = rig_arena_take(ground->arena, n, sizeof *finding->measures);
	if (finding->measures == NULL)
		return RIG_NO_MEMORY;
	if (n > 0)
		memcpy(finding->measures, budget->measures, n * sizeof *budget->measures);
	finding->n_measures = n;
	return RIG_OK;
}

static rig_status judge(const claim_ground *ground, const rig_claim *claim,
	const supply_findings *found[2], rig_claim_finding *finding)
{
	const rig_other_set *other, *other_alone;
	const rig_shore_budget *with = budget_of(found[0], claim, &other);
	const rig_shore_budget *alone = budget_of(found[1], claim, &other_alone);
	if (with == NULL || alone == NULL) {
		finding->answer = RIG_CLAIM_FAILS;
		finding->reasons |= RIG_CLAIM_NO_SOURCE;
		return RIG_OK;
	}
	rig_status status = note_dead(ground, claim, with, other, finding);
	if (status != RIG_OK)
		return status;
	judge_budget(with, alone, finding);
	const bool is_alone = (finding->reasons & RIG_CLAIM_ONLY_ALONE) != 0;
	set_figures(is_alone ? alone : with, finding);
	status = set_measures(ground, is_alone ? alone : with, finding);
	judge_starts(found[0], claim, finding);
	if (finding->n_lacking > 0 || (finding->reasons & RIG_CLAIM_START_FAILS))
		finding->answer = RIG_CLAIM_FAILS;
	finding->supply = shore_index(found[0]->shore, claim->supply);
	finding->smallest_supply = found[0]->shore->sets[set_of(found[0]->shore, claim)].smallest;
	return status;
}

rig_status claim_judge_supply(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding)
{
	supply_findings with = {0}, alone = {0};
	const rig_coach *coach = coach_with_set(ground, claim, false);
	const rig_coach *bare = coach_with_set(ground, claim, true);
	rig_status status =
		coach == NULL || bare == NULL ? RIG_NO_MEMORY : study(ground, coach, &with);
	if (status == RIG_OK)
		status = study(ground, bare, &alone);
	if (status == RIG_OK)
		status = judge(ground, claim, (const supply_findings *[]){&with, &alone}, finding);
	free_findings(&alone);
	free_findings(&with);
	return status;
}
