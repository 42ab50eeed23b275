/* SPDX-License-Identifier: GPL-3.0-or-later */
/* claim_scene.h: a coach and what is claimed of it, for tests. */
#ifndef CLAIM_SCENE_H
#define CLAIM_SCENE_H

#include "rigbudget/claim.h"

#define HEATER(id, watts, more)                                                                    \
	"{\"id\": \"" id "\", \"supply\": \"ac\", \"behaviour\": \"resistive\", "                  \
	"\"running_w\": " watts more "}"
#define PANEL(words) "\"solar\": [{\"id\": \"roof\", \"bank\": \"house\", " words "}]"
#define BANK                                                                                       \
	"\"banks\": [{\"id\": \"house\", \"role\": \"house\", \"chemistry\": "                     \
	"\"lithium_iron_phosphate\", "                                                             \
	"\"nominal_v\": 12.8, \"capacity_ah\": 100, \"usable_frac\": 0.8, \"age_years\": 0, "      \
	"\"self_discharge_frac_month\": 0, \"temp_c\": 25}]"
#define CLAIM(words) ", \"claims\": [{\"text\": \"c\", " words "}]"

/* A coach, its claims, and what was found. */
typedef struct {
	rig_file *file;
	rig_claim_findings *findings;
} claim_answered;

rig_place claim_place_named(const char *name);
/* place: NULL for none. Fails the test where the study does not end well. */
claim_answered claim_answer_with(
	const char *shore, const char *rest, const char *place, const rig_claim_options *options);
/* Of that place alone, by 500 trips. */
claim_answered claim_answer(const char *shore, const char *rest, const char *place);
void claim_drop(claim_answered *it);

#endif
