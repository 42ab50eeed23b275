/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.h: the offsets of a trip's real days, one after the other. */
#ifndef WEATHER_REPLAY_H
#define WEATHER_REPLAY_H

#include "rigbudget/weather.h"

typedef struct {
	rig_stream stream;
	uint32_t n_words; /* drawn */
	uint32_t words[4];
	int left; /* days of this run */
	int offset;
} replay_walk;

void replay_begin(rig_stream stream, replay_walk *walk);
/* How many days after the calendar day the next real day is, -15 to 15. */
int replay_next(replay_walk *walk);

#endif
