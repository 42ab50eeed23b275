/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.h: a trip's real days, one after the other. */
#ifndef WEATHER_REPLAY_H
#define WEATHER_REPLAY_H

#include "rigbudget/weather.h"

typedef struct {
	rig_stream stream;
	uint32_t n_words; /* drawn */
	uint32_t words[4];
	int month;
	int left;  /* days of this run */
	int ahead; /* of the calendar day, in days round the month */
} replay_walk;

void replay_begin(rig_stream stream, replay_walk *walk);
/* The day of the year that stands for the trip's next day, which is that day of the year. */
int replay_next(replay_walk *walk, int day_of_year);

#endif
