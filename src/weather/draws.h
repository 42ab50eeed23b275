/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draws.h: random figures of many trips side by side. IEEE 754 arithmetic alone, so that the same
 * seed gives the same bits on every platform. */
#ifndef WEATHER_DRAWS_H
#define WEATHER_DRAWS_H

#include <stddef.h>
#include <stdint.h>
#include <string.h>

/* Trips that are drawn together. */
enum { DRAWS_LANES = 64 };

/* What a draw is for; the last word of its counter. */
typedef enum { DRAWS_DAY, DRAWS_MONTH, DRAWS_RUN } draws_kind;

/* Trips first_trip to first_trip + n - 1 of a seed. */
typedef struct {
	uint64_t seed, first_trip;
	size_t n; /* at most DRAWS_LANES */
} draws_trips;

typedef struct {
	uint32_t word[4][DRAWS_LANES];
} draws_words;

/* rig_philox of each trip. */
void draws_block(const draws_trips *trips, uint32_t block, draws_kind kind, draws_words *words);

/* Normal figures of 31-bit probabilities by cubics, eight to each doubling of the probability. */
enum { NORMAL_OCTAVES = 32, NORMAL_PIECES = 8 };
typedef struct {
	double cubic[NORMAL_OCTAVES * NORMAL_PIECES][4];
} normal_table;

void normal_table_fill(normal_table *table);

/* The standard normal figure of a random word: its top bit is the sign, the others m stand for the
 * probability (m + 1/2) / 2^32 of the tail. Within 3e-7 of rig_normal_quantile; 6.3 at most. */
static inline double normal_of_word(const normal_table *table, uint32_t word)
{
	const double m = (double)(int32_t)(word & 0x7fffffffu) + 0.5;
	uint64_t bits;
	memcpy(&bits, &m, sizeof bits);
	/* sign, 11 bits of exponent, and the first 3 of the fraction are the piece's number */
	const size_t piece = (size_t)(bits >> 49) - (1022u << 3);
	const uint64_t rest = (bits << 3 & 0x000fffffffffffffu) | 0x3ff0000000000000u;
	double t;
	memcpy(&t, &rest, sizeof t);
	t -= 1;
	const double *c = table->cubic[piece];
	const double figure = c[0] + t * (c[1] + t * (c[2] + t * c[3]));
	return word >> 31 ? -figure : figure;
}

#endif
