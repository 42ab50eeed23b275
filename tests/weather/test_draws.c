/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "weather/draws.h"

#include <math.h>

#include "rigbudget/weather.h"
#include "suites.h"

/* Figures of the four words of {trip, block 5, kind 0} under seed 20260904 + 7 2^32, bit by bit
 * from a second program in another language. */
static const struct {
	uint64_t trip;
	double figure[4];
} BITS[] = {
	{0, {0x1.87ef121fdb3d9p-1, -0x1.e220fba0d155fp-1, -0x1.bf1db4f38de38p-3,
		    -0x1.57127434ffb08p-1}},
	{1, {0x1.1ac22cea8e741p+0, 0x1.16d615037ea04p+0, 0x1.419563783c4ccp-6,
		    -0x1.fbda15b945c50p-1}},
	{123456789012, {0x1.ae1f8b07deb0bp-2, -0x1.f2861f9073a0cp-3, -0x1.178776be70829p-3,
			       -0x1.fcee83082fd94p-1}},
};

START_TEST(a_seed_gives_the_same_bits_everywhere)
{
	normal_table table;
	draws_words words;
	const draws_trips trip = {20260904 + (7ULL << 32), BITS[_i].trip, 1};
	normal_table_fill(&table);
	draws_block(&trip, 5, DRAWS_DAY, &words);
	for (int i = 0; i < 4; i++)
		ck_assert_double_eq(normal_of_word(&table, words.word[i][0]), BITS[_i].figure[i]);
}
END_TEST

START_TEST(trips_side_by_side_are_those_drawn_alone)
{
	const draws_trips trips = {99, 0xfffffff0u, 37}; /* over the end of 32 bits */
	draws_words words;
	draws_block(&trips, 3, DRAWS_MONTH, &words);
	for (size_t i = 0; i < trips.n; i++) {
		const uint64_t trip = trips.first_trip + i;
		uint32_t alone[4];
		rig_philox((uint32_t[]){99, 0},
			(uint32_t[]){(uint32_t)trip, (uint32_t)(trip >> 32), 3, DRAWS_MONTH},
			alone);
		for (int k = 0; k < 4; k++)
			ck_assert_uint_eq(words.word[k][i], alone[k]);
	}
}
END_TEST

static void check_word(const normal_table *table, uint32_t word)
{
	const double wanted = rig_normal_quantile(ldexp((double)(word & 0x7fffffffu) + 0.5, -32));
	const double found = normal_of_word(table, word);
	ck_assert_msg(fabs(found - (word >> 31 ? -wanted : wanted)) < 3e-7, "%08x: %.9g, %.9g",
		(unsigned)word, found, wanted);
}

START_TEST(the_cubics_are_the_normal_distribution)
{
	normal_table table;
	normal_table_fill(&table);
	for (uint32_t word = 0; word < 70000; word++)
		check_word(&table, word);
	for (uint64_t word = 0; word < 1ULL << 32; word += 9973)
		check_word(&table, (uint32_t)word);
	check_word(&table, 0x7fffffffu);
	check_word(&table, 0xffffffffu);
	check_word(&table, 0x80000000u);
}
END_TEST

/* A mean of n standard normal figures has a standard error of n^-1/2, their mean square one of
 * (2 / n)^1/2, their fourth power one of (96 / n)^1/2. Four of them each. */
START_TEST(a_million_figures_have_the_moments_of_the_normal_distribution)
{
	enum { N_BLOCKS = 4000 };
	const double n = 4.0 * DRAWS_LANES * N_BLOCKS;
	double sums[4] = {0};
	normal_table table;
	normal_table_fill(&table);
	for (uint32_t block = 0; block < N_BLOCKS; block++) {
		const draws_trips trips = {20260905, 0, DRAWS_LANES};
		draws_words words;
		draws_block(&trips, block, DRAWS_DAY, &words);
		for (int i = 0; i < 4 * DRAWS_LANES; i++) {
			const double figure = normal_of_word(
				&table, words.word[i / DRAWS_LANES][i % DRAWS_LANES]);
			const double square = figure * figure;
			sums[0] += figure / n;
			sums[1] += square / n;
			sums[2] += square * figure / n;
			sums[3] += square * square / n;
		}
	}
	ck_assert_double_eq_tol(sums[0], 0, 4 * sqrt(1 / n));
	ck_assert_double_eq_tol(sums[1], 1, 4 * sqrt(2 / n));
	ck_assert_double_eq_tol(sums[2], 0, 4 * sqrt(15 / n));
	ck_assert_double_eq_tol(sums[3], 3, 4 * sqrt(96 / n));
}
END_TEST

Suite *draws_suite(void);
Suite *draws_suite(void)
{
	Suite *suite = suite_create("draws");
	TCase *all = tcase_create("all");
	tcase_add_loop_test(all, a_seed_gives_the_same_bits_everywhere, 0, COUNT(BITS));
	tcase_add_test(all, trips_side_by_side_are_those_drawn_alone);
	tcase_add_test(all, the_cubics_are_the_normal_distribution);
	tcase_add_test(all, a_million_figures_have_the_moments_of_the_normal_distribution);
	tcase_set_timeout(all, 60);
	suite_add_tcase(suite, all);
	return suite;
}
