/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shore_scene.h: coaches made in place for the tests of shore power. */
#ifndef SHORE_SCENE_H
#define SHORE_SCENE_H

#include "exactly.h"
#include "rigbudget/shore.h"

/* The supplies, as the findings list them. */
enum { S50, S30, S20, S15, N_SUPPLIES };
enum { SHORE_MOST = 24 };

/* A coach made in place, with the indices that completion would set. Do not move it. */
typedef struct {
	rig_coach coach;
	rig_circuit circuit[SHORE_MOST];
	rig_load load[SHORE_MOST];
	rig_bank bank[1];
	rig_together together[2];
	const char *names[2][SHORE_MOST];
	int index[2][SHORE_MOST];
	char id[SHORE_MOST][8];
} shore_scene;

/* A coach with nothing in it. */
void shore_start(shore_scene *scene, int cord_a);
/* Its index. */
int shore_circuit(shore_scene *scene, rig_leg leg, double breaker_a);
/* A resistive load of 120 V AC and priority 5; circuit -1: none that is known. */
rig_load *shore_load(shore_scene *scene, int circuit, rig_figure watts_w, bool continuous);
/* The same by its amps at 120 V, not continuous. */
rig_load *shore_amps(shore_scene *scene, int circuit, double amps_a);
void shore_together(shore_scene *scene, const char *name, size_t n, const int index[]);

/* Ends the test unless the study answers; free with rig_shore_free(). */
rig_shore_findings *shore_ask(const shore_scene *scene);
const rig_shore_set *shore_everything(const rig_shore_findings *findings);
/* The budget of everything on a supply. */
const rig_shore_budget *shore_on(const rig_shore_findings *findings, int supply);
/* How many of a load are in a list. */
int shore_count(const rig_shore_item *items, size_t n, int load);

#endif
