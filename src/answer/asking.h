/* SPDX-License-Identifier: GPL-3.0-or-later */
/* asking.h: a question in hand. Each function that studies adds its findings to those that are
 * there, with what the options say; where it fails it has said why in the asking's diags. */
#ifndef ANSWER_ASKING_H
#define ANSWER_ASKING_H

#include "rigbudget/answer.h"

typedef struct {
	const rig_file *file;
	const rig_coach *coach; /* completed */
	const rig_answer_options *options;
	rig_diags *diags;
	rig_place place;
	bool has_place;
	int habit;        /* index; -1 for none */
	const char *run;  /* id of the load that is to run; NULL for none */
	size_t n_compare; /* options of an upgrade to set side by side, from 0 */
	int compare[RIG_MOST_COMPARED];
	rig_rectangle obstacles[RIG_FLOOR_OBSTACLES]; /* on the roof of an upgrade */
	bool on_sheet; /* one of many: what takes long and is no first need is left out */
} rig_asking;

/* What the studies found; all NULL at first. */
typedef struct {
	rig_shore_findings *shore;
	rig_voltage_findings *voltage;
	rig_sources_findings *sources;
	rig_shed_findings *shed;
	rig_solar_findings *solar;
	rig_trip_findings *trip;
	rig_readings_findings *readings;
	rig_wiring_findings *wiring;
	rig_oneline_findings *oneline;
	rig_claim_findings *claims;
	rig_size_findings *size;
	rig_parts_file *parts; /* the example, where it was taken */
	rig_reading *joined;   /* the readings of the file and of the options */
} rig_found;

void rig_found_free(rig_found *found);

/* Finds what the options name: the place and the habit. */
rig_status rig_asking_begin(rig_asking *asking);
/* The document of what was found. */
rig_status rig_asking_write(
	const rig_asking *asking, const rig_found *found, rig_document **document);
/* The status, with words for it where a study said only that; n_before faults were there. */
rig_status rig_asking_said(const rig_asking *asking, size_t n_before, rig_status status);

/* Adds a fault about an option, or about the file where it is "", and returns the status. */
rig_status rig_asking_refuse(const rig_asking *asking, rig_status status, const rig_diag *why);
/* The same for a question of the sun without a place. */
rig_status rig_asking_needs_place(const rig_asking *asking);

rig_status rig_answer_claims(rig_asking *asking, rig_found *found);
rig_status rig_answer_shore(rig_asking *asking, rig_found *found);
rig_status rig_answer_shed(rig_asking *asking, rig_found *found);
rig_status rig_answer_solar(rig_asking *asking, rig_found *found);
rig_status rig_answer_trip(rig_asking *asking, rig_found *found);
rig_status rig_answer_size(rig_asking *asking, rig_found *found);
rig_status rig_answer_readings(rig_asking *asking, rig_found *found);
rig_status rig_answer_wiring(rig_asking *asking, rig_found *found);
rig_status rig_answer_oneline(rig_asking *asking, rig_found *found);
/* All of them but the drawing, as far as the file allows. */
rig_status rig_answer_sheet(rig_asking *asking, rig_found *found);

/* Index of the load that a word names, by id or name, case aside; -1 if none. */
int rig_load_named(const rig_coach *coach, const char *word);
/* The supply that a word names, "30A", "30a", "30" or "generator", as rig_shed_options wants it;
 * NULL if it is none. */
const char *rig_supply_named(const char *word);
/* What shedding is asked, by the options. RIG_NOT_FOUND after a sentence about the supply. */
rig_status rig_answer_shed_options(const rig_asking *asking, rig_shed_options *days);

#endif
