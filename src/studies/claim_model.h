/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_model.h: what the parts of the claim study share. For neighbours. */
#ifndef STUDIES_CLAIM_MODEL_H
#define STUDIES_CLAIM_MODEL_H

#include "base/arena.h"
#include "rigbudget/claim.h"

/* Claims to be looked at everywhere. */
typedef struct claim_around claim_around;

typedef struct {
	const rig_coach *coach;
	const rig_place *place; /* NULL if unknown */
	rig_claim_options options;
	rig_arena *arena;
	claim_around **around; /* the last one noted */
} claim_ground;

/* The coach as a claim supposes it. */
typedef struct {
	bool feed;    /* its AC loads on an inverter, a usual one if there is none */
	bool all_day; /* its loads are used for 24 hours */
	bool no_arrays;
	int arrays_on; /* bank that all arrays feed; -1: as they are */
} claim_changes;

/* Where the claim names loads, its habit 0 is: nothing but those. NULL when memory is out. */
rig_coach *claim_coach(
	const claim_ground *ground, const rig_claim *claim, const claim_changes *changes);
/* The habit to study such a coach with. */
int claim_habit(const claim_ground *ground, const rig_claim *claim);

/* The house bank that holds most; -1 if there is none. */
int claim_house_bank(const rig_coach *coach);
/* Notes the loads that do not run away from hookups. RIG_NO_MEMORY. */
rig_status claim_note_lacking(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding);

bool claim_judges_month(const rig_claim *claim, int month);
/* From the months judged: worst, best, has and needs, and the answer as far as the months go. */
void claim_conclude(rig_claim_finding *finding);
/* Keeps the inputs that are worth measuring; they are in the arena. */
void claim_set_measures(rig_claim_finding *finding, size_t n, rig_measure *inputs);

/* One each for what a claim can say. RIG_BAD_INPUT, RIG_NO_MEMORY. */
rig_status claim_judge_supply(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding);
rig_status claim_judge_sun(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding);
rig_status claim_judge_span(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding);
rig_status claim_judge_label(
	const claim_ground *ground, const rig_claim *claim, rig_claim_finding *finding);

/* What the coach of a claim must come to at each place of the table. */
typedef struct {
	const rig_claim *claim;
	const rig_coach *coach;
	int bank, habit;
	double needs_wh; /* sun: a day's harvest */
	double days;     /* or days from full, where above 0 */
} claim_test;
/* Notes that a claim is to be looked at everywhere, if places are asked about. RIG_NO_MEMORY. */
rig_status claim_note_places(
	const claim_ground *ground, const claim_test *test, rig_claim_finding *finding);
/* Looks at all that are noted, place by place. RIG_NO_MEMORY. */
rig_status claim_judge_places(const claim_ground *ground);

#endif
