/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trip_input.h: what a file leaves open, as draws of a trip. Neighbours of the trip study only. */
#ifndef STUDIES_TRIP_INPUT_H
#define STUDIES_TRIP_INPUT_H

#include "studies/trip_model.h"

/* What the house's trips draw: figures with a range, in the order of their draws. */
typedef struct {
	size_t n;
	rig_trip_input *list;
} trip_inputs;

/* Of the first n_house stores. RIG_NO_MEMORY. */
rig_status trip_inputs_find(const trip_model *model, size_t n_house, trip_inputs *inputs);

/* Ratios of an input for trips in a row: [lane]. Of the seed, the trip and what the input is alone,
 * so that two stays that differ in one thing draw alike what they share; the stride is not read. */
void trip_input_draw(const rig_trip_input *input, const rig_lanes *lanes, double ratio[]);
/* The uniform figures behind them, 0 to 1. */
void trip_input_uniform(const rig_trip_input *input, const rig_lanes *lanes, double uniform[]);

#endif
