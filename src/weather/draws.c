/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/draws.h"

#include <math.h>

#include "rigbudget/weather.h"

/* Multipliers and key steps of Philox 4x32 [SALMON-2011] sec. 4. */
static const uint32_t MULTIPLIER[2] = {0xD2511F53u, 0xCD9E8D57u};
static const uint32_t KEY_STEP[2] = {0x9E3779B9u, 0xBB67AE85u};

static void philox_round(const uint32_t key[2], size_t n, draws_words *x)
{
	for (size_t i = 0; i < n; i++) {
		const uint64_t a = (uint64_t)MULTIPLIER[0] * x->word[0][i];
		const uint64_t b = (uint64_t)MULTIPLIER[1] * x->word[2][i];
		x->word[0][i] = (uint32_t)(b >> 32) ^ x->word[1][i] ^ key[0];
		x->word[2][i] = (uint32_t)(a >> 32) ^ x->word[3][i] ^ key[1];
		x->word[1][i] = (uint32_t)b;
		x->word[3][i] = (uint32_t)a;
	}
}

static void ten_rounds(const uint32_t key[2], size_t n, draws_words *words)
{
	uint32_t k[2] = {key[0], key[1]};
	for (int round = 0; round < 10; round++) {
		philox_round(k, n, words);
		k[0] += KEY_STEP[0];
		k[1] += KEY_STEP[1];
	}
}

void rig_philox(const uint32_t key[2], const uint32_t counter[4], uint32_t words[4])
{
	draws_words x;
	for (int i = 0; i < 4; i++)
		x.word[i][0] = counter[i];
	ten_rounds(key, 1, &x);
	for (int i = 0; i < 4; i++)
		words[i] = x.word[i][0];
}

void draws_block(const draws_trips *trips, uint32_t block, draws_kind kind, draws_words *words)
{
	const uint32_t key[2] = {(uint32_t)trips->seed, (uint32_t)(trips->seed >> 32)};
	for (size_t i = 0; i < trips->n; i++) {
		const uint64_t trip = trips->first_trip + i;
		words->word[0][i] = (uint32_t)trip;
		words->word[1][i] = (uint32_t)(trip >> 32);
		words->word[2][i] = block;
		words->word[3][i] = (uint32_t)kind;
	}
	ten_rounds(key, trips->n, words);
}

/* The cubic through the curve at both ends of a piece and at a third and two thirds of it. */
static void fit_piece(double low, double width, double c[4])
{
	double y[4];
	for (int i = 0; i < 4; i++)
		y[i] = rig_normal_quantile(ldexp(low + width * i / 3, -32));
	const double first = y[1] - y[0];
	const double second = y[2] - 2 * y[1] + y[0];
	const double third = y[3] - 3 * y[2] + 3 * y[1] - y[0];
	/* Newton's differences at 0, 1, 2, 3 of 3 t, gathered by powers of t */
	c[0] = y[0];
	c[1] = 3 * (first - second / 2 + third / 3);
	c[2] = 9 * (second / 2 - third / 2);
	c[3] = 27 * (third / 6);
}

void normal_table_fill(normal_table *table)
{
	for (int octave = 0; octave < NORMAL_OCTAVES; octave++) {
		const double low = ldexp(1, octave - 1);
		const double width = low / NORMAL_PIECES;
		for (int piece = 0; piece < NORMAL_PIECES; piece++)
			fit_piece(low + piece * width, width,
				table->cubic[octave * NORMAL_PIECES + piece]);
	}
}
