/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shed_scene.h: coaches, models and days for the tests of shedding. */
#ifndef SHED_SCENE_H
#define SHED_SCENE_H

#include "base/arena.h"
#include "exactly.h"
#include "studies/shed_coach.h"
#include "studies/shed_model.h"

enum { SCENE_LOADS = 24 };

/* A coach of profiles, made in place as completion would make it. Do not move it. */
typedef struct {
	rig_coach coach;
	rig_load load[SCENE_LOADS];
	rig_circuit circuit[SCENE_LOADS];
	rig_bank bank[1];
	const char *order[SCENE_LOADS];
	char id[SCENE_LOADS][8];
} shed_scene;

/* An empty coach with an energy manager of 2 s, 120 s and 180 s. */
void scene_start(shed_scene *scene, int cord_a);
/* A load by its profile, with a circuit of its own; its index. */
int scene_add(shed_scene *scene, const char *profile, rig_leg leg);
/* The next load of the drop order. */
void scene_drops(shed_scene *scene, int load);
/* 4 to 12 loads of the table of AC appliances, legs and order drawn; without chargers. */
void scene_random(shed_scene *scene, uint64_t seed);
/* A house bank of 200 Ah and a charger of 60 A. */
void scene_charge(shed_scene *scene);

/* A coach of samples/, by its file name; *file is to be freed with rig_file_free(). */
const rig_coach *scene_sample(const char *name, rig_file **file);

/* 38 l that nothing heats, made up at 15 C; below 40 C is cold. Do not move it. */
typedef struct {
	int member;
	shed_unit unit;
	shed_body body;
	shed_model model;
} shed_tank;

void scene_tank(shed_tank *tank);

/* What running a day needs. */
typedef struct {
	rig_arena *arena;
	rig_shed_findings findings;
	shed_model model;
	shed_day *day;
	shed_state *state;
	shed_order order; /* the coach's own */
	int group[SHED_MAX_GROUPS];
} shed_stand;

/* Ends the test unless the coach makes a model. */
void stand_make(shed_stand *stand, const rig_coach *coach, const rig_shed_options *options);
/* The same for a single day of such weather. */
void stand_make_day(shed_stand *stand, const shed_scene *scene, rig_shed_weather weather);
/* From a model made by hand. */
void stand_of_model(shed_stand *stand, const shed_model *model);
/* A day of a tank that is so warm, of which 0.06 l/s are drawn for so long. */
void stand_of_tank(shed_stand *stand, const shed_tank *tank, double start_c, double drawn_s);
/* Runs a day with the own order; trace may be NULL. */
void stand_run(shed_stand *stand, size_t day, shed_trace *trace);
/* Runs the day as it stands. */
void stand_go(shed_stand *stand, const shed_order *order, shed_trace *trace);
void stand_free(shed_stand *stand);

/* Room in a trace, of the stand's arena. */
void stand_trace(shed_stand *stand, shed_trace *trace);

#endif
