/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/replay.h"

#include <assert.h>

#include "weather/draws.h"

/* A whole number from 0 to n - 1; each as likely to 1 in 10^8. */
static int draw_below(replay_walk *walk, int n)
{
	if (walk->n_words % 4 == 0) {
		const uint32_t key[2] = {
			(uint32_t)walk->stream.seed, (uint32_t)(walk->stream.seed >> 32)};
		const uint32_t counter[4] = {(uint32_t)walk->stream.trip,
			(uint32_t)(walk->stream.trip >> 32), walk->n_words / 4, DRAWS_RUN};
		rig_philox(key, counter, walk->words);
	}
	return (int)((uint64_t)walk->words[walk->n_words++ % 4] * (uint64_t)n >> 32);
}

void replay_begin(rig_stream stream, replay_walk *walk)
{
	*walk = (replay_walk){.stream = stream, .month = -1};
}

static void begin_run(replay_walk *walk, int month)
{
	const bool first = walk->month < 0;
	walk->left = first ? 1 + draw_below(walk, RIG_REPLAY_RUN_DAYS) : RIG_REPLAY_RUN_DAYS;
	walk->ahead = draw_below(walk, rig_month_n_days(month));
	walk->month = month;
}

int replay_next(replay_walk *walk, int day_of_year)
{
	const int month = rig_month_of_day(day_of_year);
	const int first_day = rig_month_first_day(month);
	if (walk->left == 0 || month != walk->month)
		begin_run(walk, month);
	walk->left--;
	return first_day + (day_of_year - first_day + walk->ahead) % rig_month_n_days(month);
}

void rig_replay_days(rig_stream stream, int first_day, size_t n_days, int source_day[])
{
	assert(first_day >= 0 && first_day < RIG_YEAR_DAYS);
	replay_walk walk;
	replay_begin(stream, &walk);
	for (size_t i = 0; i < n_days; i++)
		source_day[i] = replay_next(&walk, (int)(((size_t)first_day + i) % RIG_YEAR_DAYS));
}
